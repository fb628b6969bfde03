/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One step of the cure as a Taylor series in the share of the step that has gone by. */
#ifndef RW_CURE_SERIES_H
#define RW_CURE_SERIES_H

#include <resinwright/cure.h>

enum { SERIES_ORDER = 24 };

/* A step [t, t + h]; its polynomials run in tau = (time - t)/h from 0 to 1. */
typedef struct series_step {
  double t;
  double h;
  int order;   /* last coefficient of a */
  int T_order; /* last coefficient of T */
  double a[SERIES_ORDER + 1];
  double T[SERIES_ORDER + 1];
} series_step;

/* What makes the temperature of a pot its own: dT/dt = gain da/dt - loss (T - air). */
typedef struct series_heat {
  double gain; /* K */
  double loss; /* 1/s */
  double air;  /* K */
} series_heat;

/* Expands the law at (t, a, T) over a step of at most h, which is cut where the series would not
 * meet `tolerance`. The temperature is T + slope (time - t), or follows `heat` where given.
 * Needs a > 0 where the law has a broken power m. Returns 0 where no step can be found. */
int series_expand(const rw_cure_law *law, const series_heat *heat, double t, double h, double a,
                  double T, double slope, double tolerance, series_step *out);

/* The polynomial's value and, where wanted, its slope in tau. */
double series_value(const double *c, int order, double tau, double *slope);

/* Rate constants and diffusion factor of a law. */
double law_constant(double k, double E, double T, double T_ref);
double law_diffusion(const rw_cure_law *law, double a, double T);
/* 1 where a^m is a plain polynomial of a or does not occur. */
int law_is_smooth(const rw_cure_law *law);

#endif
