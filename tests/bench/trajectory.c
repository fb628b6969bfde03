/* SPDX-License-Identifier: GPL-3.0-or-later */
/* W1: one cure over a log of 577 readings, and when it passes four degrees of cure. */
#include "bench.h"
#include "peers.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const double WANTED = 1e-6;
static const char WORK[] = "W1", PROBLEM_FILE[] = "trajectory.txt";

typedef struct problem {
  rw_cure_law law;
  rate_law plain;
  temperature_log log;
  rw_history *history;
  trajectory exact, got;
  const bench_options *options;
  bool all; /* look up the degree of cure at every reading */
  double sink;
} problem;

static void need(rw_status status, const rw_error *e)
{
  if (status >= 0)
    return;
  fprintf(stderr, "%s\n", e->message);
  exit(2);
}

static void problem_make(double mean, double noise, uint64_t seed, problem *p)
{
  rw_error e;
  p->law = problem_law();
  p->plain = rate_law_of(&p->law);
  log_make(mean, noise, seed, &p->log);
  need(rw_history_create(p->log.time, p->log.T, NULL, LOG_POINTS, &p->history, &e), &e);
  exact_trajectory(&p->law, &p->log, true, &p->exact);
}

static rw_cure_path *run(const problem *p)
{
  rw_error e;
  rw_cure_path *path = NULL;
  need(rw_cure_run(&p->law, p->history, 0, p->log.time[LOG_POINTS - 1], 0, WANTED, &path, &e), &e);
  return path;
}

static void find_levels(const rw_cure_path *path, double *when)
{
  for (int i = 0; i < LEVELS; i++)
    if (rw_cure_when(path, problem_level[i], &when[i], NULL) != RW_OK)
      when[i] = HUGE_VAL;
}

static void ours(void *context)
{
  problem *p = context;
  rw_cure_path *path = run(p);
  find_levels(path, p->got.when);
  for (int i = 0; p->all && i < LOG_POINTS; i++)
    rw_cure_at(path, p->log.time[i], &p->got.a[i], NULL, NULL, NULL);
  rw_cure_path_destroy(path);
}

static void ours_and_all(void *context)
{
  problem *p = context;
  p->all = true;
  ours(p);
  p->all = false;
}

static trajectory_error our_error(problem *p)
{
  rw_cure_path *path = run(p);
  find_levels(path, p->got.when);
  for (int i = 0; i < LOG_POINTS; i++) {
    rw_cure_at(path, p->log.time[i], &p->got.a[i], NULL, NULL, NULL);
    if (i + 1 < LOG_POINTS)
      rw_cure_at(path, p->log.time[i] + LOG_STEP / 2, &p->got.middle[i], NULL, NULL, NULL);
  }
  rw_cure_path_destroy(path);
  return trajectory_differ(&p->law, &p->log, &p->exact, &p->got, true);
}

/* GSL */

typedef struct gsl_peer_context {
  problem *p;
  const gsl_odeiv2_step_type *type;
  gsl_peer *peer;
} gsl_peer_context;

static void gsl_peer_work(void *context)
{
  gsl_peer_context *c = context;
  gsl_peer_solve(c->peer, &c->p->plain, &c->p->log, true, &c->p->got);
}

static double gsl_peer_error(double tolerance, void *context)
{
  gsl_peer_context *c = context;
  gsl_peer *peer = gsl_peer_create(c->type, tolerance);
  bool done = gsl_peer_solve(peer, &c->p->plain, &c->p->log, true, &c->p->got);
  gsl_peer_destroy(peer);
  if (!done)
    return HUGE_VAL;
  trajectory_error e = trajectory_differ(&c->p->law, &c->p->log, &c->p->exact, &c->p->got, false);
  return fmax(e.a, e.event);
}

/* CVODE */

typedef struct cvode_context {
  problem *p;
  bool stiff;
  cvode_system system;
  cvode_peer *peer;
} cvode_context;

static void cvode_rate(double t, const double *y, double *f, void *context)
{
  const problem *p = context;
  int i = (int)(t / LOG_STEP);
  if (i > LOG_POINTS - 2)
    i = LOG_POINTS - 2;
  double slope = (p->log.T[i + 1] - p->log.T[i]) / LOG_STEP;
  f[0] = rate_at(&p->plain, y[0], p->log.T[i] + slope * (t - p->log.time[i]));
}

static void cvode_level(double t, const double *y, double *g, void *context)
{
  (void)t;
  (void)context;
  for (int i = 0; i < LEVELS; i++)
    g[i] = y[0] - problem_level[i];
}

static bool cvode_solve(cvode_peer *peer, problem *p)
{
  double start = 0, where[LEVELS];
  p->got.a[0] = 0;
  return cvode_peer_solve(peer, &start, p->log.time + 1, LOG_POINTS - 1, p->got.a + 1, p->got.when,
                          where);
}

static void cvode_work(void *context)
{
  cvode_context *c = context;
  cvode_solve(c->peer, c->p);
}

static double cvode_error(double tolerance, void *context)
{
  cvode_context *c = context;
  cvode_peer *peer = cvode_peer_create(&c->system, c->stiff, tolerance);
  if (peer == NULL)
    return HUGE_VAL;
  bool done = cvode_solve(peer, c->p);
  cvode_peer_destroy(peer);
  if (!done)
    return HUGE_VAL;
  trajectory_error e = trajectory_differ(&c->p->law, &c->p->log, &c->p->exact, &c->p->got, false);
  return fmax(e.a, e.event);
}

/* SciPy: a program of its own that reads the problem from a file. */

static void scipy_write(const problem *p)
{
  FILE *f = fopen(PROBLEM_FILE, "w");
  if (f == NULL)
    return;
  const rate_law *l = &p->plain;
  fprintf(f, "%.17g %.17g %.17g %.17g %.17g %.17g\n", l->A1, l->c1, l->A2, l->c2, l->m, l->n);
  for (int i = 0; i < LEVELS; i++)
    fprintf(f, "%.17g %.17g\n", problem_level[i], p->exact.when[i]);
  for (int i = 0; i < LOG_POINTS; i++)
    fprintf(f, "%.17g %.17g %.17g\n", p->log.time[i], p->log.T[i], p->exact.a[i]);
  fclose(f);
}

typedef struct scipy_context {
  const char *python;
  double tolerance, error;
} scipy_context;

/* Asks for a tolerance, or with 0 lets the program find it; microseconds, or NaN. */
static double scipy_work(void *context)
{
  scipy_context *c = context;
  char command[512];
  double took = NAN, tolerance = 0, error = NAN;
  snprintf(command, sizeof command, "%s %s/odeint.py %s %.6g", c->python, BENCH_SOURCE,
           PROBLEM_FILE, c->tolerance);
  FILE *f = popen(command, "r");
  if (f == NULL)
    return NAN;
  if (fscanf(f, "%lf %lf %lf", &tolerance, &took, &error) != 3)
    took = NAN;
  pclose(f);
  c->tolerance = tolerance;
  c->error = error;
  return took;
}

/* Floors: two exp and two pow for each reading. */

static void floor_apart(void *context)
{
  problem *p = context;
  double sum = 0;
  for (int i = 0; i < LOG_POINTS; i++)
    sum += rate_at(&p->plain, p->exact.a[i], p->log.T[i]);
  p->sink = sum;
}

static void floor_chained(void *context)
{
  problem *p = context;
  double a = 0;
  for (int i = 0; i < LOG_POINTS; i++)
    a += LOG_STEP * rate_at(&p->plain, a, p->log.T[i]);
  p->sink = a;
}

static void check_other_logs(void)
{
  static problem p;
  for (int celsius = 0; celsius <= 80; celsius += 10) {
    char what[64], more[64];
    problem_make(273.15 + celsius, 1, 100 + (uint64_t)celsius, &p);
    trajectory_error e = our_error(&p);
    snprintf(what, sizeof what, "ours, log about %d degC with 1 K of noise", celsius);
    snprintf(more, sizeof more, "times off by %.2g s, that is %.2g in a", e.seconds, e.event);
    bench_note(WORK, what, e.a, more);
    bench_check(WORK, what, fmax(e.a, e.event), WANTED);
    rw_history_destroy(p.history);
  }
}

static void check_exact(problem *p)
{
  gsl_peer *judge = gsl_peer_create(gsl_odeiv2_step_rk8pd, 1e-12);
  gsl_peer_solve(judge, &p->plain, &p->log, true, &p->got);
  gsl_peer_destroy(judge);
  trajectory_error e = trajectory_differ(&p->law, &p->log, &p->exact, &p->got, false);
  bench_note(WORK, "the exact answer against GSL rk8pd at 1e-12", e.a, "");
  bench_check(WORK, "the exact answer", e.a, 1e-10);
  bench_check(WORK, "the exact times, against a cubic", e.event, 1e-7);
}

static void add_ours(bench_table *t, problem *p)
{
  char more[64];
  trajectory_error e = our_error(p);
  double error = fmax(e.a, e.event);
  snprintf(more, sizeof more, "times off by %.2g s, that is %.2g in a", e.seconds, e.event);
  bench_note(WORK, "ours, log about 20 degC with 0.25 K of noise", e.a, more);
  bench_check(WORK, "ours", error, WANTED);
  bench_entry *entry = bench_add(t, "ours", WANTED, error);
  entry->work = ours;
  entry->context = p;
  entry = bench_add(t, "ours, and read at all points", WANTED, error);
  entry->work = ours_and_all;
  entry->context = p;
}

static bench_entry *add_gsl(bench_table *t, const char *who, gsl_peer_context *c)
{
  double tolerance = bench_loosest(gsl_peer_error, c, WANTED);
  bench_check(WORK, who, gsl_peer_error(tolerance, c), WANTED);
  c->peer = gsl_peer_create(c->type, tolerance);
  bench_entry *entry = bench_add(t, who, tolerance, gsl_peer_error(tolerance, c));
  entry->work = gsl_peer_work;
  entry->context = c;
  return entry;
}

static bench_entry *add_cvode(bench_table *t, const char *who, cvode_context *c)
{
  static const double scale = 1;
  c->system = (cvode_system){1, LEVELS, cvode_rate, cvode_level, &scale, c->p};
  double tolerance = bench_loosest(cvode_error, c, WANTED);
  if (!(tolerance > 0))
    return NULL;
  c->peer = cvode_peer_create(&c->system, c->stiff, tolerance);
  bench_entry *entry = bench_add(t, who, tolerance, cvode_error(tolerance, c));
  entry->work = cvode_work;
  entry->context = c;
  return entry;
}

static void add_scipy(bench_table *t, const problem *p, scipy_context *c)
{
  scipy_write(p);
  if (isnan(scipy_work(c)) || !(c->tolerance > 0))
    return;
  bench_entry *entry = bench_add(t, "SciPy odeint", c->tolerance, c->error);
  entry->measure = scipy_work;
  entry->context = c;
}

static void add_floors(bench_table *t, problem *p)
{
  t->floor = t->n;
  bench_entry *apart = bench_add(t, "floor: 2 exp and 2 pow, apart", 0, NAN);
  apart->work = floor_apart;
  apart->context = p;
  bench_entry *chained = bench_add(t, "floor: the same in a chain", 0, NAN);
  chained->work = floor_chained;
  chained->context = p;
}

int main(int argc, char **argv)
{
  static problem p;
  bench_options o = bench_begin(argc, argv);
  bench_table t = {.name = WORK};
  gsl_set_error_handler_off();
  problem_make(293.15, 0.25, 577, &p);
  check_exact(&p);

  add_ours(&t, &p);
  gsl_peer_context gsl[] = {{.p = &p, .type = gsl_odeiv2_step_rkck},
                            {.p = &p, .type = gsl_odeiv2_step_rk8pd}};
  cvode_context cvode[] = {{.p = &p}, {.p = &p, .stiff = true}};
  scipy_context scipy = {.python = o.python};
  bench_entry *rkck = add_gsl(&t, "GSL rkck", &gsl[0]);
  add_gsl(&t, "GSL rk8pd", &gsl[1]);
  bench_entry *adams = add_cvode(&t, "CVODE Adams", &cvode[0]);
  bench_entry *bdf = add_cvode(&t, "CVODE BDF", &cvode[1]);
  if (o.python != NULL)
    add_scipy(&t, &p, &scipy);
  add_floors(&t, &p);

  bench_run(&o, &t);
  bench_target(WORK, rkck->ratio, rkck->who, 4, false);
  if (adams != NULL && bdf != NULL)
    bench_target(WORK, fmin(adams->ratio, bdf->ratio), "CVODE", 50, false);
  bench_target(WORK, t.entry[0].floor, "the floor", 2.2, true);

  check_other_logs();
  for (size_t i = 0; i < 2; i++) {
    gsl_peer_destroy(gsl[i].peer);
    cvode_peer_destroy(cvode[i].peer);
  }
  rw_history_destroy(p.history);
  return bench_end();
}
