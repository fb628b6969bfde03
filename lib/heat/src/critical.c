/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Edges of runaway, found by integrating outwards from the warmest place. */
#include "refuse.h"

#include <resinwright/heat.h>
#include <resinwright/num.h>

#include <math.h>

enum { TERMS = 32, MOST_PIECES = 200, HALVINGS = 80 };
static const double PIECE = 0.25;

/* With theta = theta_max + phi and y = x sqrt(delta exp(theta_max)) equation (40) loses both
 * numbers: phi'' + (j/y) phi' = -exp(phi), phi = phi' = 0 at y = 0. One piece of phi as a power
 * series in y - y0. */
typedef struct piece {
  int j;
  double y0, phi[TERMS + 1];
} piece;

static void expand(piece *p, double phi, double slope)
{
  double e[TERMS + 1]; /* exp(phi) */
  double *c = p->phi, y0 = p->y0;
  c[0] = phi;
  c[1] = slope;
  e[0] = exp(phi);
  for (int k = 0; k + 2 <= TERMS; k++) {
    double before = k > 0 ? e[k - 1] : 0;
    if (y0 == 0)
      c[k + 2] = -e[k] / ((k + 2) * (k + 1 + p->j));
    else
      c[k + 2] =
          -(y0 * e[k] + before + (k + 1) * (k + p->j) * c[k + 1]) / (y0 * (k + 2) * (k + 1));
    double sum = 0;
    for (int i = 1; i <= k + 1; i++)
      sum += i * c[i] * e[k + 1 - i];
    e[k + 1] = sum / (k + 1);
  }
}

static void values(const piece *p, double y, double *phi, double *slope)
{
  double tau = y - p->y0, sum = 0, rise = 0;
  for (int k = TERMS; k >= 0; k--) {
    rise = rise * tau + sum;
    sum = sum * tau + p->phi[k];
  }
  *phi = sum;
  *slope = rise;
}

/* y d(ln delta)/dy along the solutions, zero where delta is greatest. */
static double turn(const piece *p, double biot, double y)
{
  double phi, slope;
  values(p, y, &phi, &slope);
  double first = y * slope, second = -p->j * first - y * y * exp(phi);
  return 2 + first + (first + second) / biot;
}

rw_status rw_runaway_critical(rw_shape shape, double biot, rw_critical *out, rw_error *err)
{
  static const char function[] = "rw_runaway_critical";
  rw_status status = heat_given(function, "out", out, err);
  if (status == RW_OK && (unsigned)shape > RW_SHAPE_SPHERE)
    status = rw_error_set(err, RW_ERR_ARGUMENT, function, "shape",
                          "Take slab, cylinder or sphere, whichever is nearest.",
                          "the shape is not known");
  if (status == RW_OK)
    status =
        heat_between(function, "biot", biot, 1e-9, HUGE_VAL, "",
                     "It is the surface coefficient times the size over the conductivity.", err);
  if (status != RW_OK)
    return status;
  piece p = {.j = (int)shape};
  double phi = 0, slope = 0;
  expand(&p, phi, slope);
  int pieces = 0;
  while (turn(&p, biot, p.y0 + PIECE) > 0) {
    if (++pieces > MOST_PIECES)
      return rw_error_set(err, RW_ERR_NUMERIC, function, NULL, NULL,
                          "the edge of runaway was not found");
    values(&p, p.y0 + PIECE, &phi, &slope);
    p.y0 += PIECE;
    expand(&p, phi, slope);
  }
  double low = p.y0, high = p.y0 + PIECE;
  for (int i = 0; i < HALVINGS; i++) {
    double mid = 0.5 * (low + high);
    if (turn(&p, biot, mid) > 0)
      low = mid;
    else
      high = mid;
  }
  values(&p, high, &phi, &slope);
  double theta = -phi - high * slope / biot;
  *out = (rw_critical){.delta = high * high * exp(-theta), .theta = theta};
  return RW_OK;
}

/* d(ln psi)/d(theta) of theta = psi exp(theta). */
static double uniform_turn(double theta, void *context)
{
  (void)context;
  return 1 / theta - 1;
}

rw_status rw_runaway_uniform(rw_critical *out, rw_error *err)
{
  rw_status status = heat_given("rw_runaway_uniform", "out", out, err);
  if (status != RW_OK)
    return status;
  double theta;
  status = rw_num_root(uniform_turn, NULL, 0.1, 10, 1e-14, &theta, err);
  if (status == RW_OK)
    *out = (rw_critical){.delta = theta * exp(-theta), .theta = theta};
  return status;
}
