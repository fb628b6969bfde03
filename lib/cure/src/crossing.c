/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "crossing.h"

#include <math.h>

double thick_enough(const void *context, double a, double T)
{
  const thick_limit *l = context;
  const rw_flow *f = l->flow;
  if (a >= f->a_gel)
    return 1e3;
  return log(f->mu) + f->E / RW_GAS_CONSTANT * (1 / T - 1 / f->T_ref) +
         (f->C1 + f->C2 * a) * log(f->a_gel / (f->a_gel - a)) - l->log_limit;
}

double glassy_enough(const void *context, double a, double T)
{
  const glass_limit *l = context;
  return glass_at(l->glass, a) - T - l->margin;
}

typedef struct asked {
  crossing_function *f;
  const void *context;
  const curve *c;
} asked;

static double value(const asked *q, double tau)
{
  double a = series_value(q->c->a, q->c->order, tau, NULL);
  return q->f(q->context, fmin(fmax(a, 0), 1), series_value(q->c->T, q->c->T_order, tau, NULL));
}

/* Zero between `low`, where f < 0, and `high`, where it is not. */
static double bisect(const asked *q, double low, double high)
{
  while (high - low > 1e-13) {
    double mid = 0.5 * (low + high);
    if (value(q, mid) < 0)
      low = mid;
    else
      high = mid;
  }
  return high;
}

/* Highest place of a summit between low and high by golden section. */
static double summit(const asked *q, double low, double high)
{
  const double share = 0.6180339887498949;
  double x = high - share * (high - low), y = low + share * (high - low);
  double fx = value(q, x), fy = value(q, y);
  for (int i = 0; i < 40 && fx < 0 && fy < 0; i++) {
    if (fx > fy) {
      high = y;
      y = x;
      fy = fx;
      x = high - share * (high - low);
      fx = value(q, x);
    } else {
      low = x;
      x = y;
      fx = fy;
      y = low + share * (high - low);
      fy = value(q, y);
    }
  }
  return fx >= fy ? x : y;
}

double crossing_share(crossing_function *f, const void *context, const curve *c, int parts)
{
  asked q = {f, context, c};
  double here = value(&q, 0), place = 0, d = 1e-5;
  if (here >= 0)
    return 0;
  for (int i = 1; i <= parts; i++) {
    double next = (double)i / parts, there = value(&q, next);
    if (there >= 0)
      return bisect(&q, place, next);
    if (value(&q, place + d) > here && value(&q, next - d) > there) {
      double top = summit(&q, place, next);
      if (value(&q, top) >= 0)
        return bisect(&q, place, top);
    }
    place = next;
    here = there;
  }
  return 2;
}
