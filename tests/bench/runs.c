/* SPDX-License-Identifier: GPL-3.0-or-later */
/* W4: six parameters of a law from 300 degrees of cure, measured in five runs at steady
 * temperatures. */
#include "bench.h"
#include "problem.h"

#include <resinwright/fit.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_multifit_nlinear.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { RUNS = 5, EACH = 60, POINTS = RUNS * EACH, PARAMETERS = 6, SLOPES = 4 };
static const double ENERGY = 1e4; /* J/mol, unit of the energies in what follows */
static const double AGREE = 1e-4; /* of each of ln k1, E1, ln k2, E2, m, n */
static const char WORK[] = "W4";

static const rw_fit_parameter free_ones[PARAMETERS] = {RW_FIT_K1, RW_FIT_E1, RW_FIT_K2,
                                                       RW_FIT_E2, RW_FIT_M,  RW_FIT_N};

/* Fitted parameters and their sum of squares. */
typedef struct found {
  double x[PARAMETERS], rss;
  int rounds;
} found;

typedef struct problem {
  double T[RUNS], time[RUNS][EACH], cure[RUNS][EACH];
  rw_run run[RUNS];
  rw_runs runs;
  found best, got;
} problem;

/* A law at a steady temperature. */
typedef struct steady {
  const rw_cure_law *law;
  double T;
} steady;

static void steady_rate(long double t, const long double *y, long double *f, const void *context)
{
  const steady *s = context;
  (void)t;
  f[0] = exact_rate(s->law, y[0], s->T);
}

static void problem_make(problem *p)
{
  static const double celsius[RUNS] = {15, 20, 25, 30, 40}, hours[RUNS] = {36, 26, 20, 15, 9};
  const double noise = 0.005;
  dice d = {300};
  rw_cure_law law = problem_law();
  for (int i = 0; i < RUNS; i++) {
    p->T[i] = 273.15 + celsius[i];
    steady s = {&law, p->T[i]};
    exact_system system = {steady_rate, 1, &s};
    exact_state at = {.h = 1};
    for (int j = 0; j < EACH; j++) {
      p->time[i][j] = hours[i] * 3600 * (j + 1) / EACH;
      exact_advance(&system, &at, p->time[i][j]);
      p->cure[i][j] = (double)at.y[0] + noise * dice_normal(&d);
    }
    p->run[i] =
        (rw_run){.course = {.T = p->T[i]}, .time = p->time[i], .cure = p->cure[i], .n = EACH};
  }
  law.k1 *= 2.2;
  law.E1 = 50e3;
  law.k2 *= 1.6;
  law.E2 = 56e3;
  law.m = 1;
  law.n = 1.3;
  p->runs =
      (rw_runs){.run = p->run, .n = RUNS, .law = law, .parameter = free_ones, .p = PARAMETERS};
}

static double farthest(const found *a, const found *b)
{
  double most = 0;
  for (int i = 0; i < PARAMETERS; i++) {
    double off = fabs(a->x[i] - b->x[i]);
    if (!(off <= most))
      most = isnan(off) ? HUGE_VAL : off;
  }
  return most;
}

/* Ours */

static void ours(void *context)
{
  problem *p = context;
  rw_runs_fit fit;
  rw_error e;
  if (rw_fit_runs(&p->runs, &fit, NULL, &e) < 0) {
    fprintf(stderr, "%s\n", e.message);
    exit(2);
  }
  for (int i = 0; i < PARAMETERS; i++)
    p->got.x[i] = fit.x[i] / (i == 1 || i == 3 ? ENERGY : 1);
  p->got.rss = fit.rss;
  p->got.rounds = fit.rounds;
}

/* GSL: its fit round its solver, with finite differences or with the variational equations of k1,
 * k2, m and n; the slopes after the energies follow from those after the constants. */

typedef struct peer {
  problem *p;
  const gsl_odeiv2_step_type *type;
  bool slopes;
  double stop; /* relative step at which the search ends */
  double tolerance;
  gsl_odeiv2_system system;
  gsl_odeiv2_driver *driver;
  double k1, k2, m, n; /* of the run it is in */
} peer;

static int peer_rate(double t, const double *y, double *f, void *context)
{
  const peer *k = context;
  (void)t;
  double a = fmax(y[0], 0), left = fmax(1 - y[0], 0);
  f[0] = (k->k1 + k->k2 * pow(a, k->m)) * pow(left, k->n);
  return GSL_SUCCESS;
}

static int peer_slopes(double t, const double *y, double *f, void *context)
{
  const peer *k = context;
  (void)t;
  double a = fmax(y[0], 1e-30), left = fmax(1 - y[0], 1e-30), gone = log(a), rest = log(left);
  double power = exp(k->m * gone), w = exp(k->n * rest), sum = k->k1 + k->k2 * power;
  double bend = y[0] > 0 ? (k->m * k->k2 * power / a - k->n * sum / left) * w : 0;
  f[0] = sum * w;
  f[1] = bend * y[1] + k->k1 * w;
  f[2] = bend * y[2] + k->k2 * power * w;
  f[3] = bend * y[3] + k->k2 * power * gone * w;
  f[4] = bend * y[4] + sum * rest * w;
  return GSL_SUCCESS;
}

/* Residuals, and where the solver follows them their slopes. */
static int peer_model(peer *k, const gsl_vector *x, gsl_vector *r, gsl_matrix *J)
{
  const problem *p = k->p;
  const double *v = x->data;
  k->m = v[4];
  k->n = v[5];
  for (size_t i = 0; i < RUNS; i++) {
    double u = (1 / p->T[i] - 1 / p->runs.law.T_ref) / RW_GAS_CONSTANT * ENERGY;
    double t = 0, y[1 + SLOPES] = {0};
    k->k1 = exp(v[0] - v[1] * u);
    k->k2 = exp(v[2] - v[3] * u);
    gsl_odeiv2_driver_reset_hstart(k->driver, 100);
    for (size_t j = 0; j < EACH; j++) {
      size_t at = i * EACH + j;
      int status = gsl_odeiv2_driver_apply(k->driver, &t, p->time[i][j], y);
      if (status != GSL_SUCCESS)
        return status;
      if (r != NULL)
        gsl_vector_set(r, at, y[0] - p->cure[i][j]);
      const double row[PARAMETERS] = {y[1], -u * y[1], y[2], -u * y[2], y[3], y[4]};
      for (size_t q = 0; J != NULL && q < PARAMETERS; q++)
        gsl_matrix_set(J, at, q, row[q]);
    }
  }
  return GSL_SUCCESS;
}

static int peer_residuals(const gsl_vector *x, void *context, gsl_vector *r)
{
  return peer_model(context, x, r, NULL);
}

static int peer_jacobian(const gsl_vector *x, void *context, gsl_matrix *J)
{
  return peer_model(context, x, NULL, J);
}

static void peer_fit(void *context)
{
  peer *k = context;
  const rw_cure_law *law = &k->p->runs.law;
  const double start[PARAMETERS] = {log(law->k1),     law->E1 / ENERGY, log(law->k2),
                                    law->E2 / ENERGY, law->m,           law->n};
  gsl_multifit_nlinear_parameters how = gsl_multifit_nlinear_default_parameters();
  how.h_df = 1e-5; /* well above the error of the solver */
  gsl_multifit_nlinear_fdf f = {.f = peer_residuals,
                                .df = k->slopes ? peer_jacobian : NULL,
                                .n = POINTS,
                                .p = PARAMETERS,
                                .params = k};
  k->system = (gsl_odeiv2_system){k->slopes ? peer_slopes : peer_rate, NULL,
                                  k->slopes ? 1 + SLOPES : 1, k};
  k->driver = gsl_odeiv2_driver_alloc_y_new(&k->system, k->type, 100, k->tolerance, k->tolerance);
  gsl_multifit_nlinear_workspace *w =
      gsl_multifit_nlinear_alloc(gsl_multifit_nlinear_trust, &how, POINTS, PARAMETERS);
  gsl_vector_const_view at = gsl_vector_const_view_array(start, PARAMETERS);
  int why;
  gsl_multifit_nlinear_init(&at.vector, &f, w);
  gsl_multifit_nlinear_driver(200, k->stop, 1e-10, 0, NULL, NULL, &why, w);
  k->p->got.rss = 0;
  for (size_t i = 0; i < POINTS; i++)
    k->p->got.rss += gsl_vector_get(w->f, i) * gsl_vector_get(w->f, i);
  for (size_t i = 0; i < PARAMETERS; i++)
    k->p->got.x[i] = gsl_vector_get(w->x, i);
  k->p->got.rounds = (int)gsl_multifit_nlinear_niter(w);
  gsl_multifit_nlinear_free(w);
  gsl_odeiv2_driver_free(k->driver);
}

static double peer_error(double tolerance, void *context)
{
  peer *k = context;
  k->tolerance = tolerance;
  peer_fit(k);
  return farthest(&k->p->got, &k->p->best);
}

static double stop_error(double stop, void *context)
{
  peer *k = context;
  k->stop = stop;
  return peer_error(1e-8, k);
}

/* The loosest stop of the search, and then the loosest tolerance of the solver. */
static void tune(peer *k)
{
  k->stop = bench_loosest(stop_error, k, AGREE / 2);
  k->tolerance = bench_loosest(peer_error, k, AGREE);
}

static void find_best(problem *p)
{
  peer judge = {
      .p = p, .type = gsl_odeiv2_step_rk8pd, .slopes = true, .stop = 1e-11, .tolerance = 1e-11};
  peer_fit(&judge);
  p->best = p->got;
}

/* What was found last, beside the best. */
static bench_entry *add(bench_table *t, const char *who, double tolerance, const problem *p)
{
  char more[64];
  double error = farthest(&p->got, &p->best), above = p->got.rss / p->best.rss - 1;
  snprintf(more, sizeof more, "%d steps, sum of squares off by %.2g", p->got.rounds, above);
  bench_note(WORK, who, error, more);
  bench_check(WORK, who, error, AGREE);
  bench_check(WORK, "least sum of squares", above, 1e-5);
  return bench_add(t, who, tolerance, error);
}

static bench_entry *add_ours(bench_table *t, problem *p)
{
  ours(p);
  bench_check(WORK, "ours, closely", farthest(&p->got, &p->best), 1e-6);
  bench_entry *entry = add(t, "ours", 1e-9, p);
  entry->work = ours;
  entry->context = p;
  return entry;
}

static bench_entry *add_peer(bench_table *t, const char *who, peer *k)
{
  tune(k);
  peer_fit(k);
  bench_entry *entry = add(t, who, k->tolerance, k->p);
  snprintf(entry->setting, sizeof entry->setting, "%.0e, stop %.0e", k->tolerance, k->stop);
  entry->work = peer_fit;
  entry->context = k;
  return entry;
}

int main(int argc, char **argv)
{
  static problem p;
  bench_options o = bench_begin(argc, argv);
  bench_table t = {.name = WORK, .floor = BENCH_ENTRIES};
  gsl_set_error_handler_off();
  problem_make(&p);
  find_best(&p);
  peer differences = {.p = &p, .type = gsl_odeiv2_step_rkck};
  peer slopes = {.p = &p, .type = gsl_odeiv2_step_rkck, .slopes = true};
  peer high = {.p = &p, .type = gsl_odeiv2_step_rk8pd, .slopes = true};
  const bench_entry *our = add_ours(&t, &p);
  const bench_entry *peers[] = {
      add_peer(&t, "GSL fit, rkck, differences", &differences),
      add_peer(&t, "GSL fit, rkck, its slopes", &slopes),
      add_peer(&t, "GSL fit, rk8pd, its slopes", &high),
  };
  bench_run(&o, &t);
  double best = HUGE_VAL;
  for (size_t i = 0; i < sizeof peers / sizeof *peers; i++)
    best = fmin(best, peers[i]->ratio);
  bench_target(WORK, best, "the best GSL fit", 5, false);
  bench_target(WORK, our->time / 1000, "a millisecond", 1, true);
  return bench_end();
}
