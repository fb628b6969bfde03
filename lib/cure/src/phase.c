/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "phase.h"

#include <math.h>

double step_when(const double *c, int order, double target)
{
  double low = 0, high = 1, end = series_value(c, order, 1, NULL);
  double x = end > c[0] ? (target - c[0]) / (end - c[0]) : 1;
  x = fmin(fmax(x, 0), 1);
  for (int i = 0; i < 100; i++) {
    double slope, value = series_value(c, order, x, &slope) - target;
    if (value < 0)
      low = x;
    else
      high = x;
    double newton = x - value / slope;
    double next = newton > low && newton < high ? newton : 0.5 * (low + high);
    if (fabs(newton - x) < 1e-14 || high - low < 1e-15)
      return fmin(fmax(newton, low), high);
    x = next;
  }
  return x;
}

static double over_glass(const rw_stiffening *s, const series_step *step, double tau)
{
  double a = series_value(step->a, step->order, tau, NULL);
  return series_value(step->T, step->T_order, tau, NULL) - glass_at(&s->glass, a);
}

/* Share of a step at which the stiffening turns at T = Tg, 2 where it does not. */
static double turn(const phase *p, const rw_stiffening *s, const series_step *step)
{
  enum { PARTS = 8 };
  double low = 0;
  for (int i = 1; i <= PARTS; i++) {
    double high = (double)i / PARTS;
    if (over_glass(s, step, high) * p->side >= 0) {
      low = high;
      continue;
    }
    for (;;) {
      double mid = 0.5 * (low + high);
      if (mid <= low || mid >= high)
        return high;
      if (over_glass(s, step, mid) * p->side >= 0)
        low = mid;
      else
        high = mid;
    }
  }
  return 2;
}

/* On which side of T = Tg a step begins; too near to tell, it is where it was. */
static void take_side(phase *p, const rw_stiffening *s, const series_start *from)
{
  series_step here = {.a = {from->a}, .T = {from->T}};
  double over = over_glass(s, &here, 0);
  if (fabs(over) > 1e-9 || p->side == 0)
    p->side = over >= 0 ? 1 : -1;
}

/* As series_expand, the step shortened until its polynomial meets the law at its end and does not
 * go back: what diffusion does may be too small to show in the first terms and grow later. The
 * slope at the end sums the terms by their order, hence what it may be off by. */
static int expand_surely(const form *f, const series_heat *heat, const series_start *from,
                         double h, double tolerance, series_step *out)
{
  enum { TRIES = 60, SLOPE = 30 };
  if (!series_expand(f, heat, from, h, tolerance, out))
    return 0;
  for (int i = 0; i < TRIES; i++) {
    double middle, end;
    series_value(out->a, out->order, 0.5, &middle);
    double a = series_value(out->a, out->order, 1, &end);
    double T = series_value(out->T, out->T_order, 1, NULL);
    double rate = form_rate(f, fmin(fmax(a, 0), 1), T);
    if (fabs(end - out->h * rate) <= SLOPE * tolerance && middle >= 0 && end >= 0) {
      out->end_rate = rate;
      break;
    }
    series_cut(out, 0.7);
  }
  return 1; /* cut sixty times there is next to nothing left that could be wrong */
}

static int expand_to_glass(const form *f, phase *p, const series_heat *heat, series_start *from,
                           double h, double tolerance, series_step *out)
{
  take_side(p, f->stiff, from);
  for (int tries = 0;; tries++) {
    from->side = p->side;
    if (!expand_surely(f, heat, from, h, tolerance, out))
      return 0;
    double share = turn(p, f->stiff, out);
    if (share > 1)
      return 1;
    if (share * out->h > 1e-6 || tries > 0) {
      p->side = -p->side;
      series_cut(out, share);
      return 1;
    }
    p->side = -p->side; /* the step begins at the kink and goes to the other side */
  }
}

int phase_expand(const forms *law, phase *p, const series_heat *heat, series_start *from, double h,
                 double tolerance, series_step *out)
{
  const form *f = &law->stage[p->stage];
  int fine = f->stiff != NULL ? expand_to_glass(f, p, heat, from, h, tolerance, out)
                              : expand_surely(f, heat, from, h, tolerance, out);
  if (!fine)
    return 0;
  if (p->stage == 0 && law->split < 2 && series_value(out->a, out->order, 1, NULL) >= law->split) {
    series_cut(out, step_when(out->a, out->order, law->split));
    *p = (phase){.stage = 1};
  }
  return 1;
}
