/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "notes.h"

#include <resinwright/num.h>

#include <math.h>

static const double MOST_RISE = 4; /* K on one part for Gauss */

/* What an age is made of: speeds at T over those at T_ref. */
typedef struct ageing {
  const notes_grid *grid;
  const double *speed;
  double shift, u_ref;
} ageing;

/* Integrals of f, -u f and u^2 f with f the speed at u = (1/T - 1/T_ref)/R. */
typedef struct moments {
  double zero, one, two;
} moments;

static double log_speed(const ageing *a, double u)
{
  double place = (u - a->grid->first) / a->grid->step;
  size_t i = place > 0 ? (size_t)fmin(place, (double)(a->grid->n - 2)) : 0;
  double share = place - (double)i;
  return a->speed[i] + share * (a->speed[i + 1] - a->speed[i]) - a->shift * u;
}

static void add_moments(double u, double f, void *sum)
{
  moments *m = sum;
  m->zero += f;
  m->one -= u * f;
  m->two += u * u * f;
}

/* 5-point Gauss over a straight piece from T0 to T1. */
static void add_piece(const ageing *a, double T0, double T1, double span,
                      void (*add)(double u, double f, void *sum), void *sum)
{
  double rise = T1 - T0, weight;
  int parts = (int)fmax(ceil(fabs(rise) / MOST_RISE), 1);
  for (int i = 0; i < parts; i++)
    for (int j = 0; j < RW_NUM_GAUSS5; j++) {
      double place = (i + rw_num_gauss5(j, &weight)) / parts;
      double u = (1 / (T0 + rise * place) - a->u_ref) / RW_GAS_CONSTANT;
      add(u, weight * exp(log_speed(a, u)) * span / parts, sum);
    }
}

/* The piece that holds a time: the last point at or before it, of n points. */
static size_t piece(const double *time, size_t n, double t)
{
  size_t low = 0, high = n - 1;
  while (high - low > 1) {
    size_t middle = low + (high - low) / 2;
    if (time[middle] <= t)
      low = middle;
    else
      high = middle;
  }
  return low;
}

/* A part of a history, piece by piece. */
typedef struct walk {
  const double *time, *T;
  size_t n, i;
  double t, to;
} walk;

static walk begin(const rw_history *h, double from, double to)
{
  walk w = {.t = from, .to = to};
  w.n = rw_history_points(h, &w.time, &w.T, NULL);
  w.i = piece(w.time, w.n, from);
  return w;
}

static double temperature(const walk *w, double t)
{
  double span = w->time[w->i + 1] - w->time[w->i];
  double share = span > 0 ? (t - w->time[w->i]) / span : 0;
  return w->T[w->i] + share * (w->T[w->i + 1] - w->T[w->i]);
}

/* Next straight piece with its ends' temperatures; its length, or -1 at the end. */
static double next(walk *w, double *T0, double *T1)
{
  while (w->t < w->to && w->i + 1 < w->n) {
    double from = w->t, end = fmin(w->time[w->i + 1], w->to);
    *T0 = temperature(w, from);
    *T1 = temperature(w, end);
    w->t = end;
    if (end < w->to)
      w->i++;
    if (end > from)
      return end - from;
  }
  return -1;
}

static notes_age age_of(const moments *m)
{
  double first = m->one / m->zero;
  return (notes_age){log(m->zero), 1e3 * first, 1e6 * (m->two / m->zero - first * first)};
}

notes_age notes_age_of(const rw_history *h, double from, double to, const notes_grid *grid,
                       const double *speed, double shift, double T_ref)
{
  ageing a = {grid, speed, shift, 1 / T_ref};
  walk w = begin(h, from, to);
  moments m = {0};
  double T0 = 0, T1 = 0, span;
  while ((span = next(&w, &T0, &T1)) > 0)
    add_piece(&a, T0, T1, span, add_moments, &m);
  return age_of(&m);
}

/* Integrals of f times Chebyshev's polynomials of u, which run over the u met. */
typedef struct chebyshev {
  double middle, half;
  double sum[NOTES_STAYS];
} chebyshev;

static void add_chebyshev(double u, double f, void *sum)
{
  chebyshev *c = sum;
  double x = c->half > 0 ? (u - c->middle) / c->half : 0, before = f, now = f * x;
  c->sum[0] += f;
  for (int k = 1; k < NOTES_STAYS; k++) {
    c->sum[k] += now;
    double after = 2 * x * now - before;
    before = now;
    now = after;
  }
}

static chebyshev range(walk w, double u_ref)
{
  double T0 = 0, T1 = 0, low = HUGE_VAL, high = 0;
  while (next(&w, &T0, &T1) > 0) {
    low = fmin(low, fmin(T0, T1));
    high = fmax(high, fmax(T0, T1));
  }
  double first = (1 / high - u_ref) / RW_GAS_CONSTANT, last = (1 / low - u_ref) / RW_GAS_CONSTANT;
  return (chebyshev){.middle = 0.5 * (first + last), .half = 0.5 * (last - first)};
}

void notes_stays_of(const rw_history *h, double from, double to, const notes_grid *grid,
                    const double *speed, double T_ref, notes_stays *out)
{
  const double pi = 3.14159265358979323846;
  ageing a = {grid, speed, 0, 1 / T_ref};
  walk w = begin(h, from, to);
  chebyshev c = range(w, a.u_ref);
  double T0 = 0, T1 = 0, span;
  while ((span = next(&w, &T0, &T1)) > 0)
    add_piece(&a, T0, T1, span, add_chebyshev, &c);
  for (int j = 0; j < NOTES_STAYS; j++) {
    double angle = pi * (j + 0.5) / NOTES_STAYS;
    out->u[j] = c.middle + c.half * cos(angle);
    out->span[j] = c.sum[0] / NOTES_STAYS;
    for (int k = 1; k < NOTES_STAYS; k++)
      out->span[j] += 2 * c.sum[k] * cos(k * angle) / NOTES_STAYS;
  }
}

notes_age notes_stays_age(const notes_stays *s, double shift)
{
  moments m = {0};
  for (int j = 0; j < NOTES_STAYS; j++)
    add_moments(s->u[j], s->span[j] * exp(-shift * s->u[j]), &m);
  return age_of(&m);
}

double notes_mean_temperature(const rw_history *h, double from, double to)
{
  walk w = begin(h, from, to);
  double T0 = 0, T1 = 0, span, sum = 0;
  while ((span = next(&w, &T0, &T1)) > 0)
    sum += 0.5 * (T0 + T1) * span;
  return sum / (to - from);
}
