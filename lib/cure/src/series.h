/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One step of the cure as a Taylor series in the share of the step that has gone by. */
#ifndef RW_CURE_SERIES_H
#define RW_CURE_SERIES_H

#include "form.h"

enum { SERIES_ORDER = 16 };

/* A step [t, t + h]; its polynomials run in tau = (time - t)/h from 0 to 1. */
typedef struct series_step {
  double t;
  double h;
  double end_rate; /* 1/s, of the law at its end; 0 where it was not asked */
  int order;       /* last coefficient of a */
  int T_order;     /* last coefficient of T */
  double a[SERIES_ORDER + 1];
  double T[SERIES_ORDER + 1];
} series_step;

/* What makes the temperature of a pot its own: dT/dt = gain da/dt - loss (T - air). */
typedef struct series_heat {
  double gain; /* K */
  double loss; /* 1/s */
  double air;  /* K */
} series_heat;

/* What a step starts from. */
typedef struct series_start {
  double t;
  double a;
  double T;
  double slope; /* K/s, where the temperature is given */
  int side;     /* for a stiffening: 1 where T >= Tg(a), -1 below */
} series_start;

/* Expands a form over a step of at most h, which is cut where the series would not meet
 * `tolerance`. The temperature is T + slope (time - t), or follows `heat` where given. Needs a > 0
 * where the form has a broken power m. Returns 0 where no step can be found. */
int series_expand(const form *f, const series_heat *heat, const series_start *from, double h,
                  double tolerance, series_step *out);

/* Cuts a step at a share of itself. */
void series_cut(series_step *s, double share);

/* The polynomial's value and, where wanted, its slope in tau. */
double series_value(const double *c, int order, double tau, double *slope);

#endif
