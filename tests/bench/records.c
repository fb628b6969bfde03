/* SPDX-License-Identifier: GPL-3.0-or-later */
/* W5: ln t = b0 + b1 x1 + b2 x2 + s e from 60 records that say only between which looks it
 * happened, or that it had not happened by the last one; e is normal. */
#include "bench.h"
#include "problem.h"

#include <resinwright/fit.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_multimin.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { RECORDS = 60, PARAMETERS = 4 }; /* b0, b1, b2, ln s */
static const double AGREE = 1e-5, ROOT_HALF = 0.70710678118654752440;
static const char WORK[] = "W5";

typedef struct problem {
  double low[RECORDS], high[RECORDS], x[RECORDS][2]; /* hours */
  double log_low[RECORDS], log_high[RECORDS];
  double start[PARAMETERS];
  double got[PARAMETERS], likelihood, best[PARAMETERS], most;
  int steps, calls; /* of the likelihood, by the peer */
  double sink;
} problem;

static void problem_make(problem *p)
{
  dice d = {60};
  for (int i = 0; i < RECORDS; i++) {
    double T = 285.15 + 16 * dice_uniform(&d), slow = dice_uniform(&d) < 0.4;
    double x = 1000 * (1 / T - 1 / 293.15);
    double t = exp(1.9 + 6.5 * x + 0.7 * slow + 0.2 * dice_normal(&d));
    double every = 0.5 + 2.5 * dice_uniform(&d);
    p->x[i][0] = x;
    p->x[i][1] = slow;
    p->low[i] = every * floor(t / every);
    p->high[i] = p->low[i] + every;
    if (dice_uniform(&d) < 0.1) { /* nobody looked again */
      p->low[i] = t * (0.5 + 0.4 * dice_uniform(&d));
      p->high[i] = HUGE_VAL;
    }
    p->log_low[i] = log(p->low[i]);
    p->log_high[i] = log(p->high[i]);
  }
  double sum = 0, square = 0;
  for (int i = 0; i < RECORDS; i++) {
    double t = log(p->high[i] < HUGE_VAL ? 0.5 * (p->low[i] + p->high[i]) : p->low[i]);
    sum += t / RECORDS;
    square += t * t / RECORDS;
  }
  p->start[0] = sum;
  p->start[3] = 0.5 * log(square - sum * sum);
}

/* Ours */

static void ours(void *context)
{
  problem *p = context;
  rw_error e;
  rw_aft *fit = NULL;
  rw_aft_data data = {
      .n = RECORDS, .covariates = 2, .lower = p->low, .upper = p->high, .x = &p->x[0][0]};
  if (rw_aft_fit(&data, RW_AFT_LOGNORMAL, &fit, NULL, &e) < 0) {
    fprintf(stderr, "%s\n", e.message);
    exit(2);
  }
  rw_aft_summary s;
  rw_aft_summarise(fit, &s);
  for (size_t i = 0; i < PARAMETERS; i++)
    p->got[i] = rw_aft_coefficient(fit, i).value;
  p->likelihood = s.log_likelihood;
  p->steps = (int)s.steps;
  rw_aft_destroy(fit);
}

/* GSL */

/* Share of the normal distribution between two bounds; from the tail that does not cancel. */
static double between(double low, double high)
{
  double sign = low > 0 ? -1 : 1;
  return 0.5 * sign * (erfc(-sign * high * ROOT_HALF) - erfc(-sign * low * ROOT_HALF));
}

static double density(double z)
{
  return z < HUGE_VAL ? 0.39894228040143267794 * exp(-0.5 * z * z) : 0;
}

/* Minus the logarithm of the likelihood, and its slopes where they are wanted. */
static void peer_both(const gsl_vector *at, void *context, double *value, gsl_vector *slope)
{
  problem *p = context;
  p->calls++;
  const double *b = at->data;
  double per = exp(-b[3]), g[PARAMETERS] = {0}, sum = 0;
  for (int i = 0; i < RECORDS; i++) {
    double line = b[0] + b[1] * p->x[i][0] + b[2] * p->x[i][1];
    double low = (p->log_low[i] - line) * per, high = (p->log_high[i] - line) * per;
    double share = between(low, high);
    sum -= log(share);
    if (slope == NULL)
      continue;
    double at_low = density(low) / share, at_high = density(high) / share;
    double d = (at_high - at_low) * per;
    g[0] += d;
    g[1] += d * p->x[i][0];
    g[2] += d * p->x[i][1];
    g[3] += (at_high > 0 ? at_high * high : 0) - (at_low > 0 ? at_low * low : 0);
  }
  if (value != NULL)
    *value = sum;
  for (size_t j = 0; slope != NULL && j < PARAMETERS; j++)
    gsl_vector_set(slope, j, g[j]);
}

static double peer_value(const gsl_vector *at, void *context)
{
  double value;
  peer_both(at, context, &value, NULL);
  return value;
}

static void peer_slope(const gsl_vector *at, void *context, gsl_vector *slope)
{
  peer_both(at, context, NULL, slope);
}

typedef struct peer {
  problem *p;
  double step, line; /* the first step; how closely each line is searched */
  double stop;       /* length of the slope at which it ends */
} peer;

static void peer_fit(void *context)
{
  const peer *k = context;
  problem *p = k->p;
  gsl_multimin_function_fdf f = {peer_value, peer_slope, peer_both, PARAMETERS, p};
  gsl_multimin_fdfminimizer *m =
      gsl_multimin_fdfminimizer_alloc(gsl_multimin_fdfminimizer_vector_bfgs2, PARAMETERS);
  gsl_vector_const_view start = gsl_vector_const_view_array(p->start, PARAMETERS);
  gsl_multimin_fdfminimizer_set(m, &f, &start.vector, k->step, k->line);
  for (p->steps = 0; p->steps < 500; p->steps++)
    if (gsl_multimin_fdfminimizer_iterate(m) != GSL_SUCCESS ||
        gsl_multimin_test_gradient(m->gradient, k->stop) == GSL_SUCCESS)
      break;
  memcpy(p->got, m->x->data, sizeof p->got);
  p->likelihood = -m->f;
  gsl_multimin_fdfminimizer_free(m);
}

static double farthest(const problem *p)
{
  double most = 0;
  for (int i = 0; i < PARAMETERS; i++) {
    double off = fabs(p->got[i] - p->best[i]);
    if (!(off <= most))
      most = isnan(off) ? HUGE_VAL : off;
  }
  return most;
}

static double peer_error(double stop, void *context)
{
  peer *k = context;
  k->stop = stop;
  peer_fit(k);
  return farthest(k->p);
}

/* The settings that agree with the fewest calls. */
static void tune(peer *best)
{
  static const double step[] = {0.01, 0.1, 1}, line[] = {0.01, 0.1, 0.3, 0.6};
  int fewest = 0;
  for (int i = 0; i < 12; i++) {
    peer k = {.p = best->p, .step = step[i / 4], .line = line[i % 4]};
    k.stop = bench_loosest(peer_error, &k, AGREE);
    k.p->calls = 0;
    if (!(peer_error(k.stop, &k) <= AGREE) || (fewest > 0 && k.p->calls >= fewest))
      continue;
    fewest = k.p->calls;
    *best = k;
  }
}

/* Ours is the best where the peer's likelihood has no slope left. */
static void check_best(problem *p)
{
  double slope[PARAMETERS], value, most = 0;
  ours(p);
  memcpy(p->best, p->got, sizeof p->best);
  gsl_vector_const_view at = gsl_vector_const_view_array(p->best, PARAMETERS);
  gsl_vector_view g = gsl_vector_view_array(slope, PARAMETERS);
  peer_both(&at.vector, p, &value, &g.vector);
  p->most = -value;
  for (int i = 0; i < PARAMETERS; i++)
    most = fmax(most, fabs(slope[i]));
  bench_note(WORK, "ours, slope of the likelihood there", most, "");
  bench_check(WORK, "ours, slope of the likelihood", most, 1e-8);
  bench_check(WORK, "ours, the likelihood", fabs(p->likelihood - p->most), 1e-9);
}

static void once(void *context)
{
  problem *p = context;
  double slope[PARAMETERS];
  gsl_vector_const_view at = gsl_vector_const_view_array(p->best, PARAMETERS);
  gsl_vector_view g = gsl_vector_view_array(slope, PARAMETERS);
  peer_both(&at.vector, p, &p->sink, &g.vector);
}

static void note(const problem *p, const char *who)
{
  char more[64];
  snprintf(more, sizeof more, "%d steps, ln likelihood off by %.2g", p->steps,
           p->likelihood - p->most);
  bench_note(WORK, who, farthest(p), more);
  bench_check(WORK, who, farthest(p), AGREE);
}

int main(int argc, char **argv)
{
  static problem p;
  bench_options o = bench_begin(argc, argv);
  bench_table t = {.name = WORK};
  gsl_set_error_handler_off();
  problem_make(&p);
  check_best(&p);
  note(&p, "ours");
  bench_entry *e = bench_add(&t, "ours, with errors", 0, 0);
  e->work = ours;
  e->context = &p;
  peer k = {.p = &p};
  tune(&k);
  peer_fit(&k);
  note(&p, "GSL BFGS, exact slopes");
  bench_entry *bfgs = bench_add(&t, "GSL BFGS, exact slopes", 0, farthest(&p));
  snprintf(bfgs->setting, sizeof bfgs->setting, "%.2g, %.2g, stop %.0e", k.step, k.line, k.stop);
  bfgs->work = peer_fit;
  bfgs->context = &k;
  t.floor = t.n;
  e = bench_add(&t, "floor: one likelihood with slopes", 0, NAN);
  e->work = once;
  e->context = &p;
  bench_run(&o, &t);
  bench_target(WORK, bfgs->ratio, bfgs->who, 5, false);
  return bench_end();
}
