/* SPDX-License-Identifier: GPL-3.0-or-later */
/* W2: equivalent age at 577 readings to 1e-8, and when it passes 24 h. */
#include "bench.h"
#include "problem.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const double WANTED = 1e-8, E_AGE = 55e3, T_REF = 293.15, DAY = 86400;
static const char WORK[] = "W2";

typedef struct ages {
  double age[LOG_POINTS], day; /* day: when 24 h are passed */
} ages;

typedef struct piece {
  double c, t, T, slope;
} piece;

/* Age gained between two times. */
typedef double rule(piece *q, double from, double to);

typedef struct problem {
  temperature_log log;
  rw_history *history;
  ages exact, got;
  rule *rule; /* of a peer */
  double sink;
} problem;

static gsl_integration_glfixed_table *three_points;
static gsl_integration_workspace *workspace;

static double speed(double t, void *context)
{
  const piece *q = context;
  return exp(q->c * (1 / T_REF - 1 / (q->T + q->slope * (t - q->t))));
}

static piece piece_of(const problem *p, int i)
{
  const temperature_log *log = &p->log;
  return (piece){E_AGE / RW_GAS_CONSTANT, log->time[i], log->T[i],
                 (log->T[i + 1] - log->T[i]) / LOG_STEP};
}

static void need(rw_status status, const rw_error *e)
{
  if (status >= 0)
    return;
  fprintf(stderr, "%s\n", e->message);
  exit(2);
}

static void ours(void *context)
{
  problem *p = context;
  rw_error e;
  need(rw_equivalent_ages(E_AGE, T_REF, p->history, 0, p->log.time, LOG_POINTS, WANTED, p->got.age,
                          &e),
       &e);
  rw_status status = rw_equivalent_age_when(E_AGE, T_REF, p->history, 0, DAY, &p->got.day, &e);
  need(status, &e);
  if (status == RW_NOT_REACHED)
    p->got.day = HUGE_VAL;
}

static void ours_ages(void *context)
{
  problem *p = context;
  rw_equivalent_ages(E_AGE, T_REF, p->history, 0, p->log.time, LOG_POINTS, WANTED, p->got.age,
                     NULL);
}

/* Gauss with 3 points: nodes 0 and +-sqrt(3/5), weights 8/9 and 5/9. */
static double gauss(piece *q, double from, double to)
{
  const double node = 0.7745966692414834;
  double half = 0.5 * (to - from), middle = 0.5 * (from + to), sum = 0;
  sum += 5 * (speed(middle - half * node, q) + speed(middle + half * node, q));
  sum += 8 * speed(middle, q);
  return half * sum / 9;
}

static double glfixed(piece *q, double from, double to)
{
  gsl_function f = {speed, q};
  return gsl_integration_glfixed(&f, from, to, three_points);
}

static double qags(piece *q, double from, double to)
{
  gsl_function f = {speed, q};
  double value = NAN, error;
  gsl_integration_qags(&f, from, to, 0, WANTED, 100, workspace, &value, &error);
  return value;
}

static double newton(const problem *p, int i)
{
  piece q = piece_of(p, i);
  double t = q.t, age = p->got.age[i];
  for (int k = 0; k < 20; k++) {
    double step = (DAY - age) / speed(t, &q);
    t += step;
    age = p->got.age[i] + p->rule(&q, q.t, t);
    if (fabs(step) < 1e-6)
      break;
  }
  return t;
}

static void peer(void *context)
{
  problem *p = context;
  int passed = -1;
  p->got.age[0] = 0;
  for (int i = 0; i + 1 < LOG_POINTS; i++) {
    piece q = piece_of(p, i);
    p->got.age[i + 1] = p->got.age[i] + p->rule(&q, q.t, p->log.time[i + 1]);
    if (passed < 0 && p->got.age[i + 1] >= DAY)
      passed = i;
  }
  p->got.day = passed < 0 ? HUGE_VAL : newton(p, passed);
}

static void floor_exp(void *context)
{
  problem *p = context;
  double sum = 0, c = E_AGE / RW_GAS_CONSTANT;
  for (int i = 0; i < LOG_POINTS; i++)
    sum += exp(c * (1 / T_REF - 1 / p->log.T[i]));
  p->sink = sum;
}

static void exact_speed(long double t, const long double *y, long double *f, const void *context)
{
  const piece *q = context;
  long double T = q->T + (long double)q->slope * (t - q->t);
  long double c = (long double)E_AGE / (long double)RW_GAS_CONSTANT;
  (void)y;
  f[0] = expl(c * (1 / (long double)T_REF - 1 / T));
}

static long double day_past(long double t, const long double *y, const void *context)
{
  (void)t;
  (void)context;
  return y[0] - DAY;
}

static void exact(const problem *p, ages *out)
{
  exact_state at = {.h = 10};
  out->age[0] = 0;
  out->day = HUGE_VAL;
  for (int i = 0; i + 1 < LOG_POINTS; i++) {
    piece q = piece_of(p, i);
    exact_system s = {exact_speed, 1, &q};
    exact_state begin = at;
    exact_advance(&s, &at, p->log.time[i + 1]);
    out->age[i + 1] = (double)at.y[0];
    if (!(out->day < HUGE_VAL) && at.y[0] >= DAY)
      out->day = (double)exact_when(&s, &begin, p->log.time[i + 1], day_past, NULL);
  }
}

/* How far off the time of 24 h is, s. */
static double day_off(const problem *p)
{
  bool neither = p->got.day == HUGE_VAL && p->exact.day == HUGE_VAL;
  return neither ? 0 : fabs(p->got.day - p->exact.day);
}

/* Largest relative error, that of the time of 24 h among them. */
static double difference(const problem *p)
{
  double most = day_off(p) / DAY;
  for (int i = 1; i < LOG_POINTS; i++) {
    double off = fabs(p->got.age[i] / p->exact.age[i] - 1);
    if (!(off <= most))
      most = off;
  }
  return most;
}

static void problem_make(double mean, double noise, uint64_t seed, problem *p)
{
  log_make(mean, noise, seed, &p->log);
  rw_error e;
  need(rw_history_create(p->log.time, p->log.T, NULL, LOG_POINTS, &p->history, &e), &e);
  exact(p, &p->exact);
}

static double error_of(problem *p, void (*work)(void *))
{
  p->got = (ages){.day = NAN};
  work(p);
  return difference(p);
}

static void check_exact(problem *p)
{
  p->rule = qags;
  double error = error_of(p, peer);
  bench_note(WORK, "the exact answer against GSL QAGS", error, "");
  bench_check(WORK, "the exact answer", error, 1e-12);
}

static void check_other_logs(void)
{
  static problem p;
  for (int celsius = 0; celsius <= 80; celsius += 20) {
    char what[64], more[64];
    problem_make(273.15 + celsius, 1, 100 + (uint64_t)celsius, &p);
    double error = error_of(&p, ours);
    snprintf(what, sizeof what, "ours, log about %d degC with 1 K of noise", celsius);
    snprintf(more, sizeof more, "24 h off by %.2g s", day_off(&p));
    bench_note(WORK, what, error, more);
    bench_check(WORK, what, error, WANTED);
    rw_history_destroy(p.history);
  }
}

static bench_entry *add_peer(bench_table *t, const char *who, problem *p, rule *by)
{
  p->rule = by;
  double error = error_of(p, peer);
  bench_check(WORK, who, error, WANTED);
  bench_entry *e = bench_add(t, who, 0, error);
  e->work = peer;
  e->context = p;
  return e;
}

int main(int argc, char **argv)
{
  static problem mine, loop, fixed, adaptive;
  bench_options o = bench_begin(argc, argv);
  bench_table t = {.name = WORK};
  gsl_set_error_handler_off();
  three_points = gsl_integration_glfixed_table_alloc(3);
  workspace = gsl_integration_workspace_alloc(100);
  problem_make(293.15, 0.25, 577, &mine);
  loop = fixed = adaptive = mine;
  check_exact(&adaptive);

  double error = error_of(&mine, ours);
  char more[64];
  snprintf(more, sizeof more, "24 h off by %.2g s", day_off(&mine));
  bench_note(WORK, "ours, log about 20 degC with 0.25 K of noise", error, more);
  bench_check(WORK, "ours", error, WANTED);
  bench_entry *e = bench_add(&t, "ours", WANTED, error);
  e->work = ours_ages;
  e->context = &mine;
  e = bench_add(&t, "ours, and when 24 h are passed", WANTED, error);
  e->work = ours;
  e->context = &mine;
  bench_entry *plain = add_peer(&t, "Gauss, 3 points, plain loop", &loop, gauss);
  add_peer(&t, "GSL glfixed, 3 points", &fixed, glfixed);
  add_peer(&t, "GSL QAGS", &adaptive, qags);
  t.floor = t.n;
  e = bench_add(&t, "floor: 577 exp", 0, NAN);
  e->work = floor_exp;
  e->context = &mine;

  bench_run(&o, &t);
  bench_target(WORK, plain->ratio, "3-point Gauss", 3, false);
  check_other_logs();
  rw_history_destroy(mine.history);
  gsl_integration_workspace_free(workspace);
  gsl_integration_glfixed_table_free(three_points);
  return bench_end();
}
