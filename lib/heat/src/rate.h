/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A rate law as the steppers of this room need it. */
#ifndef RW_HEAT_RATE_H
#define RW_HEAT_RATE_H

#include <resinwright/cure.h>

/* Beyond it the rate is taken at it. */
#define HEAT_HOTTEST 500.0

/* A rate law made fit for steps. One that has no rate at zero but leaves it all the same, as a^m
 * does with m below 1, goes through the first degrees of cure at the steady rate that takes just
 * as long. */
typedef struct heat_law {
  const rw_cure_law *law;
  double floor; /* steady below it; 0 where the law has a rate at zero */
  double share; /* of the rate at the floor */
} heat_law;

/* RW_ERR_ARGUMENT where a law cannot leave this degree of cure. */
rw_status heat_law_make(const char *function, const rw_cure_law *law, double a, heat_law *out,
                        rw_error *err);
/* Rate at any a and T; outside 0 to 1 and 200 to 500 K it is that of the limit. */
double heat_rate(const heat_law *law, double a, double T);
/* Its slopes. */
void heat_rate_slopes(const heat_law *law, double a, double T, double rate, double *by_a,
                      double *by_T);

/* Implicit Runge-Kutta method with one diagonal, order 4, with an embedded one of order 3 (Hairer
 * & Wanner). */
enum { SDIRK_STAGES = 5 };
#define SDIRK_DIAGONAL 0.25
extern const double sdirk_time[SDIRK_STAGES];
extern const double sdirk_weight[SDIRK_STAGES][SDIRK_STAGES]; /* last row: the result */
extern const double sdirk_error[SDIRK_STAGES];                /* result less embedded result */

/* Next step from a step h and its error over the tolerance. */
double sdirk_next(double h, double error);

/* Cubic through both ends of a step with both slopes; share from 0 to 1. */
double heat_hermite(double y0, double slope0, double y1, double slope1, double h, double share);

#endif
