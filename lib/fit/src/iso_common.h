/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by iso*.c and panel.c. */
#ifndef RW_FIT_ISO_COMMON_H
#define RW_FIT_ISO_COMMON_H

#include <resinwright/fit.h>

/* What holds for every run that is looked at. */
static const double ISO_COLDEST = 200, ISO_WARMEST = 700;         /* K */
static const double ISO_SLOWEST = 1e-6, ISO_FASTEST = 102.0 / 60; /* K/s */

rw_status iso_missing(const char *function, const char *argument, rw_error *err);
/* RW_ERR_RANGE unless low <= value <= high. */
rw_status iso_between(const char *function, const char *argument, double value, double low,
                      double high, const char *unit, const char *hint, rw_error *err);
/* The same of a field of the i-th of a row of things, i from 0. */
rw_status iso_field(const char *function, const char *thing, size_t i, const char *field,
                    double value, double low, double high, const char *unit, const char *hint,
                    rw_error *err);
rw_status iso_temperature(const char *function, const char *thing, size_t i, double temperature,
                          rw_error *err);
rw_status iso_heating(const char *function, size_t i, double heating, rw_error *err);
rw_status iso_level(const char *function, double level, rw_error *err);
rw_status iso_count(const char *function, size_t n, rw_error *err);
/* Puts words before the message of a filled record. */
void iso_prefix(rw_error *err, const char *words);

/* A straight line whose groups share the slope. */
typedef struct iso_line {
  double x_mid, y_mid; /* means of all */
  double slope;
  double lever;    /* root of the sum of squares of x about the groups' means */
  double slope_se; /* NaN without freedom */
  double scatter;  /* NaN without freedom */
  size_t freedom;
  size_t groups;
} iso_line;
/* 1, or 0 where x doesn't vary within any group; group NULL: one. */
int iso_line_fit(const double *x, const double *y, const int *group, size_t n, iso_line *out);

/* Adds the interval to E and E_se; without freedom it is NaN, and err tells. */
rw_status iso_interval(const char *function, double level, rw_fit_energy *e, rw_error *err);

/* The integral method; the points have been checked. */
rw_status iso_vyazovkin(const char *function, const rw_iso_point *run, size_t n,
                        rw_fit_energy *out, rw_error *err);
/* rw_iso_energy in another function's name. */
rw_status iso_energy(const char *function, rw_iso_method method, const rw_iso_point *run, size_t n,
                     double level, rw_fit_energy *out, rw_error *err);

#endif
