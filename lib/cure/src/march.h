/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Walks a rate law along a history, one series step at a time, from kink to kink. */
#ifndef RW_CURE_MARCH_H
#define RW_CURE_MARCH_H

#include "series.h"

typedef struct march {
  const rw_cure_law *law;
  const double *time;
  const double *temperature;
  size_t piece; /* the straight piece `t` lies in */
  double shift; /* K added to the history */
  double
      origin; /* s; all times below count from here, so that a clock since 1970 costs no digits */
  double t;
  double end;
  double a;
  double tolerance; /* for one step */
  double last;      /* length of the last step, 0 before the first */
} march;

/* Prepares a walk; the law must have been checked. RW_ERR_COVERAGE, RW_ERR_RANGE,
 * RW_ERR_ARGUMENT with the name of the public function that asks. */
rw_status march_start(march *m, const char *function, const rw_cure_law *law, const rw_history *h,
                      double from, double to, double a, double tolerance, rw_error *err);
/* Prepares a walk at a steady temperature from a = 0; `store` keeps the two points. */
void march_steady(march *m, const rw_cure_law *law, double T, double span, double tolerance,
                  double store[4]);
/* Next step: 1 a step, 0 the end is reached, -1 no step can be found. */
int march_next(march *m, series_step *step);

/* First share of the step at which a >= target; the step must end at or above it. */
double step_when(const series_step *step, double target);

#endif
