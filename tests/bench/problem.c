/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "problem.h"

#include <math.h>
#include <string.h>

const double problem_level[LEVELS] = {0.3, 0.58, 0.8, 0.95};

/* A linear congruential generator; multiplier and increment: Knuth, memory. */
double dice_uniform(dice *d)
{
  d->state = d->state * 6364136223846793005u + 1442695040888963407u;
  return ((double)(d->state >> 12) + 0.5) * 0x1p-52;
}

double dice_normal(dice *d)
{
  double sum = -6;
  for (int i = 0; i < 12; i++)
    sum += dice_uniform(d);
  return sum;
}

void log_make(double mean, double noise, uint64_t seed, temperature_log *out)
{
  const double pi = 3.14159265358979323846, day = 86400, warmest = 6 * 3600;
  dice d = {seed};
  for (int i = 0; i < LOG_POINTS; i++) {
    double t = i * LOG_STEP;
    double celsius =
        mean - 273.15 + 4 * cos(2 * pi * (t - warmest) / day) + noise * dice_normal(&d);
    out->time[i] = t;
    out->T[i] = 273.15 + round(10 * celsius) / 10;
  }
}

rw_cure_law problem_law(void)
{
  return (rw_cure_law){.kind = RW_LAW_KAMAL,
                       .k1 = 7.5e-6,
                       .E1 = 60e3,
                       .k2 = 1.25e-4,
                       .E2 = 52e3,
                       .m = 0.85,
                       .n = 1.55,
                       .T_ref = 293.15};
}

rw_cure_law problem_draw(uint64_t number)
{
  dice d = {7919 * (number + 1)};
  dice_uniform(&d);
  rw_cure_law law = problem_law();
  law.k1 *= exp(0.15 * dice_normal(&d));
  law.E1 += 1500 * dice_normal(&d);
  law.k2 *= exp(0.1 * dice_normal(&d));
  law.E2 += 1000 * dice_normal(&d);
  law.m += 0.04 * dice_normal(&d);
  law.n += 0.06 * dice_normal(&d);
  return law;
}

rate_law rate_law_of(const rw_cure_law *law)
{
  double c1 = law->E1 / RW_GAS_CONSTANT, c2 = law->E2 / RW_GAS_CONSTANT;
  return (rate_law){.A1 = law->k1 * exp(c1 / law->T_ref),
                    .c1 = c1,
                    .A2 = law->k2 * exp(c2 / law->T_ref),
                    .c2 = c2,
                    .m = law->m,
                    .n = law->n,
                    .C = law->C,
                    .ac0 = law->ac0,
                    .acT = law->acT,
                    .T_ref = law->T_ref};
}

double rate_at(const rate_law *law, double a, double T)
{
  double done = a > 0 ? a : 0, left = a < 1 ? 1 - a : 0;
  double k = law->A1 * exp(-law->c1 / T) + law->A2 * exp(-law->c2 / T) * pow(done, law->m);
  double rate = k * pow(left, law->n);
  if (law->C > 0)
    rate /= 1 + exp(law->C * (a - law->ac0 - law->acT * (T - law->T_ref)));
  return rate;
}

long double exact_rate(const rw_cure_law *law, long double a, long double T)
{
  long double done = a > 0 ? a : 0, left = a < 1 ? 1 - a : 0;
  long double x = (1 / (long double)law->T_ref - 1 / T) / (long double)RW_GAS_CONSTANT;
  long double k = law->k1 * expl(law->E1 * x) + law->k2 * expl(law->E2 * x) * powl(done, law->m);
  long double rate = k * powl(left, law->n);
  if (law->C > 0)
    rate /= 1 + expl(law->C * (a - law->ac0 - law->acT * (T - law->T_ref)));
  return rate;
}

/* The midpoint rule in 2, 4, 6, ... parts has an error in even powers of their length, so
 * polynomials in its square lead to no length at all (Gragg 1965, memory). The number of rows
 * until two agree; 0 where they do not. */
enum { ROWS = 11 };

static void midpoint(const exact_system *s, const exact_state *at, const long double *f0,
                     long double step, int parts, long double *out)
{
  long double before[EXACT_DIM], f[EXACT_DIM], d = step / parts;
  for (int i = 0; i < s->dim; i++) {
    before[i] = at->y[i];
    out[i] = at->y[i] + d * f0[i];
  }
  for (int part = 1; part < parts; part++) {
    s->rhs(at->t + part * d, out, f, s->context);
    for (int i = 0; i < s->dim; i++) {
      long double next = before[i] + 2 * d * f[i];
      before[i] = out[i];
      out[i] = next;
    }
  }
}

static int extrapolate(const exact_system *s, const exact_state *at, long double step,
                       long double *out)
{
  long double table[ROWS][ROWS][EXACT_DIM], f0[EXACT_DIM];
  s->rhs(at->t, at->y, f0, s->context);
  for (int row = 0; row < ROWS; row++) {
    midpoint(s, at, f0, step, 2 * (row + 1), table[row][0]);
    bool agree = row > 0;
    for (int i = 0; i < s->dim; i++) {
      for (int k = 1; k <= row; k++) {
        long double q = (long double)(row + 1) / (row + 1 - k);
        table[row][k][i] =
            table[row][k - 1][i] + (table[row][k - 1][i] - table[row - 1][k - 1][i]) / (q * q - 1);
      }
      out[i] = table[row][row][i];
      agree = agree && fabsl(out[i] - table[row - 1][row - 1][i]) < 1e-17L * (1 + fabsl(out[i]));
    }
    if (agree)
      return row + 1;
  }
  return 0;
}

void exact_advance(const exact_system *s, exact_state *at, long double to)
{
  while (at->t < to) {
    bool last = at->h >= to - at->t;
    long double step = last ? to - at->t : at->h, y[EXACT_DIM];
    int rows = extrapolate(s, at, step, y);
    if (rows == 0) {
      at->h = step / 2;
      continue;
    }
    memcpy(at->y, y, sizeof y[0] * (size_t)s->dim);
    at->t = last ? to : at->t + step;
    if (rows <= 7 && !last)
      at->h *= 2;
  }
}

long double exact_when(const exact_system *s, const exact_state *from, long double to,
                       exact_event *event, const void *context)
{
  long double low = from->t, high = to;
  for (int i = 0; i < 56; i++) {
    exact_state at = *from;
    long double middle = 0.5L * (low + high);
    exact_advance(s, &at, middle);
    if (event(middle, at.y, context) < 0)
      low = middle;
    else
      high = middle;
  }
  return high;
}

typedef struct segment {
  const rw_cure_law *law;
  long double t, T, slope;
} segment;

static void segment_rhs(long double t, const long double *y, long double *f, const void *context)
{
  const segment *s = context;
  f[0] = exact_rate(s->law, y[0], s->T + s->slope * (t - s->t));
}

static long double above(long double t, const long double *y, const void *context)
{
  (void)t;
  return y[0] - *(const double *)context;
}

void exact_trajectory(const rw_cure_law *law, const temperature_log *log, bool middles,
                      trajectory *out)
{
  exact_state at = {.h = 1};
  int next = 0;
  out->a[0] = 0;
  for (int i = 0; i < LEVELS; i++)
    out->when[i] = HUGE_VAL;
  for (int i = 0; i + 1 < LOG_POINTS; i++) {
    segment part = {law, log->time[i], log->T[i],
                    ((long double)log->T[i + 1] - log->T[i]) / (log->time[i + 1] - log->time[i])};
    exact_system s = {segment_rhs, 1, &part};
    exact_state begin = at;
    if (middles) {
      exact_advance(&s, &at, log->time[i] + LOG_STEP / 2);
      out->middle[i] = (double)at.y[0];
    }
    exact_advance(&s, &at, log->time[i + 1]);
    out->a[i + 1] = (double)at.y[0];
    for (; next < LEVELS && at.y[0] >= problem_level[next]; next++)
      out->when[next] =
          (double)exact_when(&s, &begin, log->time[i + 1], above, &problem_level[next]);
  }
}

static double temperature(const temperature_log *log, double time)
{
  int i = (int)fmin(time / LOG_STEP, LOG_POINTS - 2);
  return log->T[i] + (log->T[i + 1] - log->T[i]) * (time - log->time[i]) / LOG_STEP;
}

trajectory_error times_differ(const rw_cure_law *law, const temperature_log *log,
                              const double *exact, const double *got)
{
  trajectory_error e = {0};
  rate_law plain = rate_law_of(law);
  for (int i = 0; i < LEVELS; i++) {
    if (!(exact[i] < HUGE_VAL) && !(got[i] < HUGE_VAL))
      continue;
    double off = isnan(got[i]) ? HUGE_VAL : fabs(exact[i] - got[i]);
    double rate =
        off < HUGE_VAL ? rate_at(&plain, problem_level[i], temperature(log, exact[i])) : 1;
    e.seconds = fmax(e.seconds, off);
    e.event = fmax(e.event, off * rate);
  }
  return e;
}

static double farthest(const double *a, const double *b, int n)
{
  double most = 0;
  for (int i = 0; i < n; i++) {
    double off = fabs(a[i] - b[i]);
    if (!(off <= most))
      most = off;
  }
  return most;
}

trajectory_error trajectory_differ(const rw_cure_law *law, const temperature_log *log,
                                   const trajectory *exact, const trajectory *got, bool middles)
{
  trajectory_error e = times_differ(law, log, exact->when, got->when);
  e.a = farthest(exact->a, got->a, LOG_POINTS);
  if (middles)
    e.a = fmax(e.a, farthest(exact->middle, got->middle, LOG_POINTS - 1));
  return e;
}
