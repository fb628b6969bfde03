/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Degree of cure along a course and its derivatives after a law's parameters. */
#ifndef RW_FIT_RUN_SLOPES_H
#define RW_FIT_RUN_SLOPES_H

#include <resinwright/fit.h>

/* Checks a course and n times; `own` is a history to destroy where the course has none. */
rw_status run_course_open(const char *function, const rw_course *c, const double *time, size_t n,
                          rw_history **own, rw_error *err);
/* RW_ERR_ARGUMENT for a parameter that the law does not have, or one named twice. */
rw_status run_parameters_check(const char *function, const rw_cure_law *law,
                               const rw_fit_parameter *parameter, size_t p, rw_error *err);
/* Degrees of cure at checked times, and the path to destroy; none where no time goes by. */
rw_status run_cure_along(const rw_cure_law *law, const rw_history *h, const rw_course *c,
                         const double *time, size_t n, double tolerance, double *cure,
                         rw_cure_path **path, rw_error *err);
/* n*p derivatives along a path; all arguments have been checked. */
void run_slopes_along(const rw_cure_law *law, const rw_history *h, const rw_cure_path *path,
                      const rw_fit_parameter *parameter, size_t p, const double *time, size_t n,
                      double *slope);

#endif
