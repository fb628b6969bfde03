/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lanes.h"

#include <resinwright/num.h>

#include <math.h>

static const double MOST_RISE = 4; /* K on one part for Gauss */
static const char AGES[] = "rw_equivalent_ages", WHEN[] = "rw_equivalent_age_when";

/* A walk along the pieces of a history; the ages of whole pieces are computed a bundle at a time.
 */
typedef struct ager {
  double c; /* E/R, K */
  double u_ref;
  double steepest; /* rise of the exponent up to which the trapezoid is good enough */
  const double *time, *temperature;
  size_t n;
  size_t first; /* piece the bundle begins with, n before there is one */
  double whole[AGE_BUNDLE];
} ager;

static double ageing(const ager *g, double u)
{
  return exp(g->c * (g->u_ref - u));
}

/* 5-point Gauss over a straight piece from T0 to T1. */
static double gauss(const ager *g, double T0, double T1, double span)
{
  double rise = T1 - T0, sum = 0, weight;
  int parts = (int)fmax(ceil(fabs(rise) / MOST_RISE), 1);
  for (int i = 0; i < parts; i++)
    for (int j = 0; j < RW_NUM_GAUSS5; j++) {
      double place = (i + rw_num_gauss5(j, &weight)) / parts;
      sum += weight * ageing(g, 1 / (T0 + rise * place));
    }
  return sum * span / parts;
}

/* The trapezoid corrected with the first and third derivatives at its ends is off by h^7/30240 of
 * the sixth, which with z the rise of the exponent and s that of ln T over the piece is at most
 * (z + 6 s)^6 e^z of the rate; s/z is T/c, here at its largest. */
static double steepest(double c, double tolerance)
{
  double z = pow(30240 * tolerance, 1.0 / 6) / (1 + 6 * 400 / fmax(c, 400));
  return z * exp(-z / 6);
}

static double temperature(const ager *g, size_t i, double t)
{
  double slope = (g->temperature[i + 1] - g->temperature[i]) / (g->time[i + 1] - g->time[i]);
  return g->temperature[i] + slope * (t - g->time[i]);
}

/* Where a walk is: time t on piece i. */
typedef struct place {
  size_t i;
  double t;
} place;

static place begin_at(ager *g, double E, double T_ref, const rw_history *h, double from,
                      double tolerance)
{
  *g = (ager){.c = E / RW_GAS_CONSTANT,
              .u_ref = 1 / T_ref,
              .steepest = steepest(E / RW_GAS_CONSTANT, tolerance)};
  g->n = rw_history_points(h, &g->time, &g->temperature, NULL);
  g->first = g->n;
  return (place){track_piece(g->time, g->n, from), from};
}

/* Age on a part of piece i. */
static double between(const ager *g, size_t i, double t0, double t1)
{
  return gauss(g, temperature(g, i, t0), temperature(g, i, t1), t1 - t0);
}

static void next_bundle(ager *g, size_t i)
{
  lanes_age_pieces(g->c, g->u_ref, g->steepest, g->time, g->temperature, g->n, i, g->whole);
  g->first = i;
}

static inline double whole_piece(ager *g, size_t i)
{
  if (i - g->first >= AGE_BUNDLE)
    next_bundle(g, i);
  double age = g->whole[i - g->first];
  return age >= 0 ? age : between(g, i, g->time[i], g->time[i + 1]);
}

/* Ages up to the end of the piece in hand, or to t if that comes first. */
static inline double go_to(ager *g, place *p, double t)
{
  size_t i = p->i;
  double begin = g->time[i], stop = g->time[i + 1], from = p->t;
  if (stop <= t) {
    *p = (place){i + 2 < g->n ? i + 1 : i, stop};
    return from == begin ? (stop > from ? whole_piece(g, i) : 0)
                         : (stop > from ? between(g, i, from, stop) : 0);
  }
  p->t = t;
  return between(g, i, from, t);
}

static rw_status check(const char *function, double E, double T_ref, rw_error *err)
{
  if (!(E >= 0 && E <= 300e3))
    return rw_error_range(err, function, "E", E, 0, 300e3, "J/mol", NULL);
  if (!(T_ref >= 200 && T_ref <= 500))
    return rw_error_range(err, function, "T_ref", T_ref, 200, 500, "K", NULL);
  return RW_OK;
}

rw_status rw_equivalent_ages(double E, double T_ref, const rw_history *h, double from,
                             const double *time, size_t n, double tolerance, double *age,
                             rw_error *err)
{
  rw_status status = check(AGES, E, T_ref, err);
  if (status != RW_OK)
    return status;
  if (n < 1)
    return rw_error_range(err, AGES, "n", 0, 1, HUGE_VAL, "", NULL);
  if (!(tolerance >= 1e-14 && tolerance <= 1e-3))
    return rw_error_range(err, AGES, "tolerance", tolerance, 1e-14, 1e-3, "", NULL);
  for (size_t i = 0; i < n; i++)
    if (!(time[i] >= (i == 0 ? from : time[i - 1])))
      return rw_error_range(err, AGES, "time", time[i], i == 0 ? from : time[i - 1], HUGE_VAL, "s",
                            "The times must not fall.");
  status = rw_history_extremes(h, from, time[n - 1], NULL, NULL, err);
  if (status != RW_OK)
    return status;
  ager g;
  place p = begin_at(&g, E, T_ref, h, from, tolerance);
  double sum = 0;
  for (size_t i = 0; i < n; i++) {
    while (p.t < time[i])
      sum += go_to(&g, &p, time[i]);
    age[i] = sum;
  }
  return RW_OK;
}

rw_status rw_equivalent_age(double E, double T_ref, const rw_history *h, double from, double to,
                            double *age, rw_error *err)
{
  return rw_equivalent_ages(E, T_ref, h, from, &to, 1, 1e-12, age, err);
}

/* Time on the piece in hand at which its age is reached: Newton on the age, whose slope is the
 * rate. */
static double within(const ager *g, const place *p, double age, double whole)
{
  double low = p->t, high = g->time[p->i + 1], t = low + (high - low) * (age / whole);
  for (int i = 0; i < 100; i++) {
    double over = between(g, p->i, p->t, t) - age;
    if (over < 0)
      low = t;
    else
      high = t;
    double newton = t - over / ageing(g, 1 / temperature(g, p->i, t));
    double next = newton >= low && newton <= high ? newton : 0.5 * (low + high);
    /* The next one would be far nearer still. */
    if (fabs(next - t) <= 1e-6 || high - low <= 1e-9)
      return next;
    t = next;
  }
  return t;
}

rw_status rw_equivalent_age_when(double E, double T_ref, const rw_history *h, double from,
                                 double age, double *time, rw_error *err)
{
  rw_status status = check(WHEN, E, T_ref, err);
  if (status != RW_OK)
    return status;
  if (!(age >= 0 && isfinite(age)))
    return rw_error_range(err, WHEN, "age", age, 0, HUGE_VAL, "s", NULL);
  double last;
  rw_history_span(h, NULL, &last);
  status = rw_history_extremes(h, from, fmax(from, last), NULL, NULL, err);
  if (status != RW_OK)
    return status;
  ager g;
  place p = begin_at(&g, E, T_ref, h, from, 1e-9);
  double sum = 0;
  while (p.t < last) {
    place before = p;
    double more = go_to(&g, &p, last);
    if (sum + more >= age) {
      *time = within(&g, &before, age - sum, more);
      return RW_OK;
    }
    sum += more;
  }
  return RW_NOT_REACHED;
}
