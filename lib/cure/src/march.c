/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "march.h"

#include <math.h>

static size_t piece_of(const double *time, size_t n, double t)
{
  size_t low = 0, high = n - 1;
  while (high - low > 1) {
    size_t mid = (low + high) / 2;
    if (t < time[mid])
      high = mid;
    else
      low = mid;
  }
  return low;
}

rw_status march_start(march *m, const char *function, const rw_cure_law *law, const rw_history *h,
                      double from, double to, double a, double tolerance, rw_error *err)
{
  if (!(to > from))
    return rw_error_range(err, function, "to", to, from, HUGE_VAL, "s",
                          "The end must lie after the beginning.");
  if (!(a >= 0 && a < 1))
    return rw_error_range(err, function, "start", a, 0, 1, "",
                          "A degree of cure is a share: 0 is liquid, 1 fully cured.");
  if (!(tolerance >= 1e-12 && tolerance <= 1e-2))
    return rw_error_range(err, function, "tolerance", tolerance, 1e-12, 1e-2, "", NULL);
  rw_status status = rw_history_extremes(h, from, to, NULL, NULL, err);
  if (status != RW_OK)
    return status;
  if (a == 0 && law->k1 == 0 && law->m >= 1)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "start",
                        "Give a small degree of cure to start from, or a k1 above zero.",
                        "with k1 = 0 and m of 1 or more the cure never starts from zero");
  const double *time, *temperature;
  size_t n = rw_history_points(h, &time, &temperature, NULL);
  *m = (march){.law = law,
               .time = time,
               .temperature = temperature,
               .piece = piece_of(time, n, from),
               .origin = from,
               .end = to - from,
               .a = a,
               /* Hundreds of steps may add up; a hundredth each leaves room for that. */
               .tolerance = tolerance * 0.01};
  return RW_OK;
}

void march_steady(march *m, const rw_cure_law *law, double T, double span, double tolerance,
                  double store[4])
{
  store[0] = 0;
  store[1] = span;
  store[2] = store[3] = T;
  *m = (march){.law = law,
               .time = store,
               .temperature = store + 2,
               .end = span,
               .tolerance = tolerance * 0.01};
}

/* Temperature and slope on the piece in hand. */
static double temperature(const march *m, double t, double *slope)
{
  size_t i = m->piece;
  *slope = (m->temperature[i + 1] - m->temperature[i]) / (m->time[i + 1] - m->time[i]);
  return m->temperature[i] + *slope * (t - (m->time[i] - m->origin)) + m->shift;
}

static void straight_step(const march *m, double h, double a, double T, double slope,
                          series_step *step)
{
  *step = (series_step){.t = m->t, .h = h, .order = 1, .T_order = 1};
  step->a[0] = m->a;
  step->a[1] = a - m->a;
  step->T[0] = T;
  step->T[1] = slope * h;
}

/* First step from a = 0 with k1 > 0 and a broken power: the fractional-power series
 *   a = x (1 + q/(1+m) + m q^2/((1+m)(1+2m)) + (s - c) x/2), x = K1 t, q = K2/K1 x^m,
 * taken at an x so small that its neglected terms, and the straight line below it, do not count.
 * s holds the slope of ln K1 in time, c the falling powers of 1 - a and of the diffusion factor.
 */
static double first_step(const march *m, double T, double slope, double *t)
{
  const rw_cure_law *law = m->law;
  double d = law_diffusion(law, 0, T);
  double k1 = law_constant(law->k1, law->E1, T, law->T_ref) * d;
  double k2 = law_constant(law->k2, law->E2, T, law->T_ref) * d;
  double x = fmin(1e-3, m->tolerance), q;
  for (;;) {
    q = k2 / k1 * pow(x, law->m);
    double neglected = x * (q * q * q + q * x + x * x);
    if (neglected < 0.1 * m->tolerance || x < 1e-280)
      break;
    x *= 0.5;
  }
  double bend = law->E1 / (RW_GAS_CONSTANT * T * T) * slope / k1 - law->n - law->C * (1 - d);
  double d1 = 1 / (1 + law->m), d2 = law->m * d1 / (1 + 2 * law->m);
  *t = x / k1;
  return x * (1 + q * (d1 + d2 * q) + 0.5 * bend * x);
}

/* Integral of K2 over a time on a straight piece, 5-point Gauss. */
static double reaction(const march *m, double T, double slope, double h)
{
  static const double x[] = {0.0, 0.53846931010568309104, 0.90617984593866399280};
  static const double w[] = {0.56888888888888888889, 0.47862867049936646804,
                             0.23692688505618908751};
  const rw_cure_law *law = m->law;
  double sum = w[0] * law_constant(law->k2, law->E2, T + slope * h / 2, law->T_ref);
  for (int i = 1; i < 3; i++)
    for (int side = -1; side <= 1; side += 2)
      sum +=
          w[i] * law_constant(law->k2, law->E2, T + slope * h / 2 * (1 + side * x[i]), law->T_ref);
  return sum * h / 2;
}

/* With k1 = 0 and m < 1 the cure leaves zero by itself: the integral of K2 reaches
 * g = a^(1-m)/(1-m) + (n + C(1-d)) a^(2-m)/(2-m) at a. Gives the time at which the small a is
 * there, at most h; returns the a reached then. */
static double first_step_without_k1(const march *m, double T, double slope, double h, double *t)
{
  const rw_cure_law *law = m->law;
  double d = law_diffusion(law, 0, T), power = 1 - law->m;
  double a = 0.1 * m->tolerance;
  double wanted =
      pow(a, power) / power + (law->n + law->C * (1 - d)) * pow(a, 1 + power) / (1 + power);
  if (d * reaction(m, T, slope, h) < wanted) {
    *t = h;
    return pow(power * d * reaction(m, T, slope, h), 1 / power);
  }
  double low = 0, high = h;
  for (int i = 0; i < 200 && high - low > 1e-15 * h; i++) {
    double mid = 0.5 * (low + high);
    if (d * reaction(m, T, slope, mid) < wanted)
      low = mid;
    else
      high = mid;
  }
  *t = high;
  return a;
}

/* A start from zero that a plain series cannot make. */
static int broken_start(const march *m, double T, double slope, double h, series_step *step)
{
  double t, a;
  if (m->law->k1 > 0)
    a = first_step(m, T, slope, &t);
  else
    a = first_step_without_k1(m, T, slope, h, &t);
  if (!(t > 0))
    return 0;
  if (t > h) {
    a *= h / t;
    t = h;
  }
  straight_step(m, t, a, T, slope, step);
  return 1;
}

/* A law of order below one reaches a = 1 in a finite time, beyond which its series means nothing:
 * go at most nine tenths of the way there. */
static double before_completion(const march *m, double T)
{
  if (m->law->n >= 1)
    return HUGE_VAL;
  double rate;
  if (rw_cure_rate(m->law, m->a, T, &rate, NULL) < 0 || !(rate > 0))
    return HUGE_VAL;
  return 0.9 * (1 - m->a) / ((1 - m->law->n) * rate);
}

static int complete(const march *m)
{
  return 1 - m->a <= (m->law->n < 1 ? fmax(m->tolerance, 1e-15) : 1e-15);
}

int march_next(march *m, series_step *step)
{
  if (m->t >= m->end)
    return 0;
  while (m->time[m->piece + 1] - m->origin <= m->t)
    m->piece++;
  double slope, T = temperature(m, m->t, &slope);
  double stop = fmin(m->time[m->piece + 1] - m->origin, m->end);
  double whole = stop - m->t, h = whole;
  if (m->last > 0)
    h = fmin(h, 1e3 * m->last);
  int fine = 1;
  if (complete(m))
    straight_step(m, whole, m->a, T, slope, step);
  else if (m->a == 0 && !law_is_smooth(m->law))
    fine = broken_start(m, T, slope, h, step);
  else
    fine = series_expand(m->law, NULL, m->t, fmin(h, before_completion(m, T)), m->a, T, slope,
                         m->tolerance, step);
  if (!fine || !(step->h > 1e-14 * m->t || step->h == whole))
    return -1;
  double a = series_value(step->a, step->order, 1, NULL);
  m->a = fmin(fmax(a, m->a), 1);
  m->t = step->h == whole ? stop : m->t + step->h;
  m->last = step->h;
  return 1;
}

double step_when(const series_step *step, double target)
{
  double low = 0, high = 1, x = 0.5;
  for (int i = 0; i < 100; i++) {
    double slope, value = series_value(step->a, step->order, x, &slope) - target;
    if (value < 0)
      low = x;
    else
      high = x;
    double newton = x - value / slope;
    double next = newton > low && newton < high ? newton : 0.5 * (low + high);
    if (fabs(next - x) < 1e-15 || high - low < 1e-15)
      return next;
    x = next;
  }
  return x;
}
