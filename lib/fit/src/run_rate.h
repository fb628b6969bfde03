/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A law's rate with the derivatives of its logarithm. */
#ifndef RW_FIT_RUN_RATE_H
#define RW_FIT_RUN_RATE_H

#include <resinwright/fit.h>

typedef struct run_rate {
  double k;                    /* 1/s, of the rate k exp(rest) */
  double rest;                 /* -HUGE_VAL where nothing is left */
  double T;                    /* d ln f/dT, 1/K */
  double log_kd;               /* logarithm of the constant of diffusion, 0 without one */
  double d[RW_FIT_PARAMETERS]; /* d ln f/dparameter */
} run_rate;

/* A law with the rate constants of the last temperature asked for. */
typedef struct run_law {
  const rw_cure_law *law;
  double T;
  double k1, k2, k3;
  double grow2; /* k2 over its value at T_ref */
} run_law;

/* 1 where a law has a parameter. */
int run_law_has(const rw_cure_law *law, rw_fit_parameter q);
/* Rate, 1/s. */
double run_rate_value(const run_rate *r);
/* `stage` is 1 beyond the split of a law of two stages, else 0. */
void run_rate_at(run_law *l, double a, double T, int stage, run_rate *out);

#endif
