/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps that end where a law itself has a kink: at its split, and at T = Tg of a stiffening. */
#ifndef RW_CURE_PHASE_H
#define RW_CURE_PHASE_H

#include "series.h"

typedef struct phase {
  int stage; /* form in force */
  int side;  /* of T = Tg: 1 above, -1 below, 0 not known yet */
} phase;

/* As series_expand, cut at the first kink of the law, `p` being what holds after the step. The
 * degree of cure at the end of a step that changes the stage is the split, exactly. */
int phase_expand(const forms *law, phase *p, const series_heat *heat, series_start *from, double h,
                 double tolerance, series_step *out);

/* First share of the step at which a >= target; the step must end at or above it. */
double step_when(const double *c, int order, double target);

#endif
