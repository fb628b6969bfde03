/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "ramp_piece.h"

#include <math.h>

enum { MOST_ROUNDS = 12, MOST_STEPS = 100000, LOOKS = 8 };
static const double TOLERANCE = 1e-9;

double ramp_glass(const rw_resin *r, double a)
{
  double Tg = NAN;
  rw_glass_temperature(&r->glass, fmin(fmax(a, 0), 1), &Tg, NULL);
  return Tg;
}

/* One stage: y = base + g rate(y). */
static int stage(const heat_law *law, double base, double g, double T, double left, double *y)
{
  double before = HUGE_VAL;
  for (int round = 0; round < MOST_ROUNDS; round++) {
    double change = (base + g * heat_rate(law, *y, T) - *y) / left;
    *y += change;
    if (fabs(change) <= 1e-3 * TOLERANCE)
      return 1;
    if (!(fabs(change) < 0.5 * before))
      return 0;
    before = fabs(change);
  }
  return 0;
}

/* One step; slope1: rate at its end. */
static int step(const heat_law *law, double a, double slope0, double T, double rise, double h,
                double *a1, double *slope1, double *error)
{
  double by_a, by_T, k[SDIRK_STAGES], g = h * SDIRK_DIAGONAL, y = a;
  heat_rate_slopes(law, a, T, slope0, &by_a, &by_T);
  double left = 1 - g * by_a, off = 0;
  if (!(left > 0.3))
    return 0;
  for (int s = 0; s < SDIRK_STAGES; s++) {
    double base = a;
    for (int j = 0; j < s; j++)
      base += h * sdirk_weight[s][j] * k[j];
    if (!stage(law, base, g, T + rise * h * sdirk_time[s], left, &y))
      return 0;
    k[s] = (y - base) / g;
    off += h * sdirk_error[s] * k[s];
  }
  *a1 = y;
  *slope1 = heat_rate(law, y, T + rise * h);
  *error = fabs(off / left) / TOLERANCE;
  return isfinite(*error);
}

/* When Tg reaches the target within a step, s from its beginning. */
static double when(const rw_resin *r, double a0, double slope0, double a1, double slope1, double h,
                   double target)
{
  double low = 0, high = 1;
  while (high - low > 1e-9) {
    double mid = 0.5 * (low + high);
    if (ramp_glass(r, heat_hermite(a0, slope0, a1, slope1, h, mid)) < target)
      low = mid;
    else
      high = mid;
  }
  return high * h;
}

static void look(const rw_resin *r, double T0, double rise, double t, double a0, double slope0,
                 double a1, double slope1, double h, ramp_end *out)
{
  for (int i = 1; i <= 4; i++) {
    double share = i / 4.0;
    double T = T0 + rise * (t + share * h);
    double over = T - ramp_glass(r, heat_hermite(a0, slope0, a1, slope1, h, share));
    out->excess = fmax(out->excess, over);
  }
}

int ramp_piece(const rw_resin *r, const heat_law *law, double a, double T0, double T1, double span,
               double target, ramp_end *out)
{
  double t = 0, rise = (T1 - T0) / span, most = rise > 0 ? span / LOOKS : span;
  double wish = fmin(most, 60), slope = heat_rate(law, a, T0);
  *out = (ramp_end){.a = a, .excess = T0 - ramp_glass(r, a), .reached = HUGE_VAL};
  for (int steps = 0; t < span; steps++) {
    double h = fmin(wish, most), left = span - t, a1, slope1, error;
    if (h > left * (1 - 1e-9))
      h = left;
    if (steps > MOST_STEPS || !(h > span * 1e-12))
      return 0;
    if (!step(law, a, slope, T0 + rise * t, rise, h, &a1, &slope1, &error)) {
      wish = 0.25 * h;
      continue;
    }
    wish = sdirk_next(h, error);
    if (error > 1)
      continue;
    look(r, T0, rise, t, a, slope, a1, slope1, h, out);
    if (out->reached == HUGE_VAL && ramp_glass(r, a1) >= target)
      out->reached = t + when(r, a, slope, a1, slope1, h, target);
    t = h == left ? span : t + h;
    a = a1;
    slope = slope1;
  }
  out->a = fmin(a, 1);
  return 1;
}
