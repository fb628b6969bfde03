/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "hull_inside.h"

#include <resinwright/num.h>

#include <math.h>

/* (1 +- sqrt(5 +- 2 sqrt(10/7))/3)/2 and half of (322 +- 13 sqrt 70)/900. */
const double hull_gauss_point[HULL_GAUSS] = {0.046910077030668004, 0.23076534494715845, 0.5,
                                             0.76923465505284155, 0.95308992296933200};
const double hull_gauss_weight[HULL_GAUSS] = {0.11846344252809454, 0.23931433524968324,
                                              0.28444444444444444, 0.23931433524968324,
                                              0.11846344252809454};

hull_cubic hull_hermite(double span, double y0, double y1, double slope0, double slope1)
{
  double secant = (y1 - y0) / span;
  return (hull_cubic){{y0, slope0, (3.0 * secant - 2.0 * slope0 - slope1) / span,
                       (slope0 + slope1 - 2.0 * secant) / (span * span)},
                      span};
}

hull_cubic hull_piece(const double *u, const double *y, const double *d, size_t i)
{
  return hull_hermite(u[i + 1] - u[i], y[i], y[i + 1], d[i], d[i + 1]);
}

double hull_value(const hull_cubic *p, double t)
{
  return p->c[0] + t * (p->c[1] + t * (p->c[2] + t * p->c[3]));
}

double hull_slope(const hull_cubic *p, double t)
{
  return p->c[1] + t * (2.0 * p->c[2] + t * 3.0 * p->c[3]);
}

static double integral(const hull_cubic *p, double t)
{
  return t * (p->c[0] + t * (p->c[1] / 2.0 + t * (p->c[2] / 3.0 + t * p->c[3] / 4.0)));
}

/* Places where the slope is 0, smaller first; beyond the piece or NaN where there are none. */
static void level_places(const hull_cubic *p, double place[2])
{
  double a = 3.0 * p->c[3], b = 2.0 * p->c[2], c = p->c[1];
  double inner = b * b - 4.0 * a * c;
  place[0] = place[1] = NAN;
  if (!(inner > 0.0))
    return;
  double q = -(b + copysign(sqrt(inner), b)) / 2.0;
  double first = a != 0.0 ? q / a : NAN, second = c / q;
  place[0] = fmin(first, second);
  place[1] = isnan(first) ? NAN : fmax(first, second);
}

size_t hull_cuts(const hull_cubic *p, double a, double b, double cut[4])
{
  double place[2];
  size_t n = 0;
  level_places(p, place);
  cut[n++] = a;
  for (int k = 0; k < 2; k++)
    if (place[k] > a && place[k] < b)
      cut[n++] = place[k];
  cut[n++] = b;
  return n;
}

double hull_cross(const hull_cubic *p, double a, double b, double level)
{
  enum { HALVINGS = 60 };
  int rising = hull_value(p, b) > hull_value(p, a);
  for (int k = 0; k < HALVINGS; k++) {
    double mid = a + (b - a) / 2.0;
    if ((hull_value(p, mid) > level) == rising)
      b = mid;
    else
      a = mid;
  }
  return a + (b - a) / 2.0;
}

double hull_positive(const hull_cubic *p, double t)
{
  double cut[4], sum = 0.0;
  size_t n = hull_cuts(p, 0.0, t, cut);
  for (size_t k = 0; k + 1 < n; k++) {
    double a = cut[k], b = cut[k + 1];
    double at_a = hull_value(p, a), at_b = hull_value(p, b);
    if (at_a <= 0.0 && at_b <= 0.0)
      continue;
    if (at_a < 0.0)
      a = hull_cross(p, a, b, 0.0);
    else if (at_b < 0.0)
      b = hull_cross(p, a, b, 0.0);
    sum += integral(p, b) - integral(p, a);
  }
  return sum;
}

rw_status hull_slopes(const double *u, const double *y, size_t n, double *slope, rw_error *err)
{
  rw_spline *s = NULL;
  rw_status status = rw_spline_create(u, y, n, RW_SPLINE_NOT_A_KNOT, &s, err);
  if (status != RW_OK)
    return status;
  for (size_t i = 0; i < n; i++)
    rw_spline_value(s, u[i], &slope[i]);
  rw_spline_destroy(s);
  return RW_OK;
}
