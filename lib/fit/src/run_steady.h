/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cure at steady temperatures and its derivatives after a law's parameters, for many runs with one
 * law. There time is an integral over the degree of cure, t = int da/f, and so are the slopes:
 * ordinary integrals, the powers in which are the same for every temperature. */
#ifndef RW_FIT_RUN_STEADY_H
#define RW_FIT_RUN_STEADY_H

#include <resinwright/fit.h>

/* Places along the cure with what a law makes of them, and room for them. */
typedef struct steady steady;

/* 1 where a law may be followed so; the answers are good to 1e-10. */
int steady_fits(const rw_cure_law *law, double tolerance);
/* NULL where there is not enough memory. */
steady *steady_create(void);
void steady_destroy(steady *s);
/* The law for what follows, which must fit and outlive it. */
void steady_law(steady *s, const rw_cure_law *law);
/* Degrees of cure at n times, checked, and where `slope` is not NULL their n*p derivatives. 0
 * where the law starts in a way this cannot follow. */
int steady_follow(steady *s, const rw_course *c, const double *time, size_t n,
                  const rw_fit_parameter *parameter, size_t p, double *cure, double *slope);

#endif
