/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the state on a step first passes a limit. */
#ifndef RW_CURE_CROSSING_H
#define RW_CURE_CROSSING_H

#include "series.h"

/* Below zero before the limit, zero or above from it on. */
typedef double crossing_function(const void *context, double a, double T);

/* A viscosity and its limit. */
typedef struct thick_limit {
  const rw_flow *flow;
  double log_limit; /* ln(Pa s) */
} thick_limit;
crossing_function thick_enough; /* context: thick_limit */

/* A glass transition and how far it is to stand above the temperature. */
typedef struct glass_limit {
  const rw_glass *glass;
  double margin; /* K */
} glass_limit;
crossing_function glassy_enough; /* context: glass_limit */

/* A step's polynomials. */
typedef struct curve {
  const double *a;
  int order;
  const double *T;
  int T_order;
} curve;

/* First share of the step at which f is zero or above, 2 where it is not; `parts` places are
 * looked at, and the summits between them. */
double crossing_share(crossing_function *f, const void *context, const curve *c, int parts);

#endif
