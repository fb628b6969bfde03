/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "slab_step.h"

#include <math.h>
#include <stdlib.h>

static const double SPAN = 200; /* K: the degree of cure is followed to the tolerance over this */

enum { COLUMNS = 8 + 2 * SDIRK_STAGES + 10, MOST_ROUNDS = 10 };

int slab_cells_make(slab_cells *c, size_t wood, size_t resin)
{
  size_t n = wood + resin;
  *c = (slab_cells){.n = n, .first = wood};
  c->block = calloc(COLUMNS * (n + 1), sizeof *c->block);
  if (c->block == NULL)
    return 0;
  double **column[COLUMNS] = {&c->now.T,  &c->now.a,   &c->now.dT,  &c->now.da, &c->then.T,
                              &c->then.a, &c->then.dT, &c->then.da, &c->store,  &c->pass,
                              &c->baseT,  &c->basea,   &c->by_a,    &c->by_T,   &c->pivot,
                              &c->upper,  &c->change,  &c->change_a};
  size_t used = COLUMNS - 2 * SDIRK_STAGES;
  for (int s = 0; s < SDIRK_STAGES; s++) {
    column[used++] = &c->KT[s];
    column[used++] = &c->Ka[s];
  }
  for (size_t i = 0; i < COLUMNS; i++)
    *column[i] = c->block + i * (n + 1);
  return 1;
}

void slab_cells_free(slab_cells *c)
{
  free(c->block);
  c->block = NULL;
}

/* Heat conducted into cell i, W/m2. */
static double inflow(const slab_cells *c, const double *T, size_t i, double air)
{
  double before = i > 0 ? T[i - 1] : air, after = i + 1 < c->n ? T[i + 1] : air;
  return c->pass[i] * (before - T[i]) + c->pass[i + 1] * (after - T[i]);
}

static void slopes(const slab_cells *c, slab_state *s, double air)
{
  for (size_t i = 0; i < c->n; i++) {
    s->da[i] = i >= c->first ? heat_rate(&c->law, s->a[i], s->T[i]) : 0;
    s->dT[i] = inflow(c, s->T, i, air) / c->store[i] + c->gain * s->da[i];
  }
}

void slab_slopes(slab_cells *c, double air)
{
  slopes(c, &c->now, air);
}

/* Matrix of the stages, with the cure eliminated in every cell, as its LU factors. */
static int factor(slab_cells *c, double g)
{
  const double most = 0.7; /* keeps the diagonal the largest */
  double carried = 0;
  for (size_t i = 0; i < c->n; i++) {
    double source = 0;
    if (i >= c->first) {
      heat_rate_slopes(&c->law, c->now.a[i], c->now.T[i], c->now.da[i], &c->by_a[i], &c->by_T[i]);
      double left = 1 - g * c->by_a[i];
      source = g * c->gain * c->by_T[i] / left;
      if (!(left > 1 - most && source < most))
        return 0;
    }
    double lower = -g * c->pass[i] / c->store[i], higher = -g * c->pass[i + 1] / c->store[i];
    c->pivot[i] = 1 - lower - higher - source - (i > 0 ? lower * carried : 0);
    c->upper[i] = carried = higher / c->pivot[i];
  }
  return 1;
}

/* Turns remainders of both equations into changes of T and a. */
static void solve(slab_cells *c, double g, double *T, double *a)
{
  for (size_t i = 0; i < c->n; i++) {
    if (i >= c->first)
      T[i] += g * c->gain * c->by_a[i] * a[i] / (1 - g * c->by_a[i]);
    if (i > 0)
      T[i] += g * c->pass[i] / c->store[i] * T[i - 1];
    T[i] /= c->pivot[i];
  }
  for (size_t i = c->n; i-- > 0;) {
    if (i + 1 < c->n)
      T[i] -= c->upper[i] * T[i + 1];
    if (i >= c->first)
      a[i] = (a[i] + g * c->by_T[i] * T[i]) / (1 - g * c->by_a[i]);
  }
}

/* Weight of an error in the degree of cure: a law without a rate at zero makes early ones grow. */
static double weight(const slab_cells *c, double a)
{
  const double early = 0.05;
  if (c->law.floor == 0 || a > early)
    return SPAN;
  return SPAN * early / fmax(a, c->law.floor);
}

/* Largest of all cells over the tolerances. */
static double largest(const slab_cells *c, const double *T, const double *a)
{
  double most = 0;
  for (size_t i = 0; i < c->n; i++) {
    double size = fmax(fabs(T[i]), i >= c->first ? fabs(a[i]) * weight(c, c->now.a[i]) : 0);
    if (!(size <= most))
      most = size;
  }
  return most / c->tolerance;
}

/* One round of Newton's method for a stage; `then` holds the guess and takes the better one. */
static double improve(slab_cells *c, double g, double air)
{
  slab_state *y = &c->then;
  for (size_t i = 0; i < c->n; i++) {
    double rate = i >= c->first ? heat_rate(&c->law, y->a[i], y->T[i]) : 0;
    double slope = inflow(c, y->T, i, air) / c->store[i] + c->gain * rate;
    c->change[i] = c->baseT[i] + g * slope - y->T[i];
    c->change_a[i] = c->basea[i] + g * rate - y->a[i];
  }
  solve(c, g, c->change, c->change_a);
  for (size_t i = 0; i < c->n; i++) {
    y->T[i] += c->change[i];
    if (i >= c->first)
      y->a[i] += c->change_a[i];
  }
  return largest(c, c->change, c->change_a);
}

static int stage(slab_cells *c, int s, double h, double air)
{
  const double enough = 1e-3, slow = 0.5;
  double g = h * SDIRK_DIAGONAL;
  for (size_t i = 0; i < c->n; i++) {
    c->baseT[i] = c->now.T[i];
    c->basea[i] = c->now.a[i];
    for (int j = 0; j < s; j++) {
      c->baseT[i] += h * sdirk_weight[s][j] * c->KT[j][i];
      c->basea[i] += h * sdirk_weight[s][j] * c->Ka[j][i];
    }
  }
  double before = HUGE_VAL;
  for (int round = 0;; round++) {
    double size = improve(c, g, air);
    if (size <= enough)
      break;
    if (!(size <= slow * before || round == 0) || round == MOST_ROUNDS)
      return 0;
    before = size;
  }
  double outflow = c->pass[0] * (c->then.T[0] - air);
  outflow += c->pass[c->n] * (c->then.T[c->n - 1] - air);
  c->lost += h * sdirk_weight[SDIRK_STAGES - 1][s] * outflow;
  for (size_t i = 0; i < c->n; i++) {
    c->KT[s][i] = (c->then.T[i] - c->baseT[i]) / g;
    c->Ka[s][i] = (c->then.a[i] - c->basea[i]) / g;
  }
  return 1;
}

int slab_step(slab_cells *c, double h, double air0, double slope, double *error)
{
  double g = h * SDIRK_DIAGONAL;
  if (!factor(c, g))
    return 0;
  for (size_t i = 0; i < c->n; i++) {
    c->then.T[i] = c->now.T[i];
    c->then.a[i] = c->now.a[i];
  }
  c->lost = 0;
  for (int s = 0; s < SDIRK_STAGES; s++)
    if (!stage(c, s, h, air0 + slope * h * sdirk_time[s]))
      return 0;
  for (size_t i = 0; i < c->n; i++) {
    c->change[i] = c->change_a[i] = 0;
    for (int s = 0; s < SDIRK_STAGES; s++) {
      c->change[i] += h * sdirk_error[s] * c->KT[s][i];
      c->change_a[i] += h * sdirk_error[s] * c->Ka[s][i];
    }
  }
  solve(c, g, c->change, c->change_a);
  slopes(c, &c->then, air0 + slope * h);
  *error = largest(c, c->change, c->change_a);
  return isfinite(*error);
}

void slab_accept(slab_cells *c)
{
  slab_state before = c->now;
  c->now = c->then;
  c->then = before;
}
