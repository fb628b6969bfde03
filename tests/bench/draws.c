/* SPDX-License-Identifier: GPL-3.0-or-later */
/* W3: 10,000 cures over one log by scattered laws, four crossing times each. */
#include "bench.h"
#include "peers.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { DRAWS = 10000, PEER_DRAWS = 200, QUICK_CHECKED = 40 };
static const double WANTED = 1e-6;
static const char WORK[] = "W3";

/* Answers to some of the draws. */
typedef struct answers {
  double time[PEER_DRAWS][LEVELS], reached[PEER_DRAWS];
} answers;

typedef struct problem {
  temperature_log log;
  rw_history *history;
  rw_cure_draw draw[DRAWS];
  double level[DRAWS][LEVELS], time[DRAWS][LEVELS], reached[DRAWS];
  rate_law plain[PEER_DRAWS];
  answers exact, got;
  int checked;
} problem;

typedef struct our_context {
  problem *p;
  unsigned threads;
  bool to_end;
} our_context;

typedef struct peer_context {
  problem *p;
  bool to_end;
  gsl_peer *peer;
} peer_context;

static void need(rw_status status, const rw_error *e)
{
  if (status >= 0)
    return;
  fprintf(stderr, "%s\n", e->message);
  exit(2);
}

static void ours(void *context)
{
  const our_context *c = context;
  problem *p = c->p;
  rw_error e;
  rw_draw_plan plan = {.from = 0,
                       .to = p->log.time[LOG_POINTS - 1],
                       .tolerance = WANTED,
                       .levels = LEVELS,
                       .threads = c->threads};
  need(rw_cure_draws(&plan, p->draw, DRAWS, p->history, &p->level[0][0], &p->time[0][0], NULL,
                     c->to_end ? p->reached : NULL, &e),
       &e);
}

static void peer_draws(gsl_peer *peer, problem *p, bool to_end, int n)
{
  static trajectory one;
  for (int i = 0; i < n; i++) {
    if (!gsl_peer_solve(peer, &p->plain[i], &p->log, to_end, &one)) {
      p->got.reached[i] = NAN;
      continue;
    }
    memcpy(p->got.time[i], one.when, sizeof one.when);
    p->got.reached[i] = one.a[LOG_POINTS - 1];
  }
}

static void peer_work(void *context)
{
  const peer_context *c = context;
  peer_draws(c->peer, c->p, c->to_end, PEER_DRAWS);
}

/* Largest error of all draws checked. */
static trajectory_error worst(const problem *p, const answers *got, bool to_end)
{
  trajectory_error most = {0};
  for (int i = 0; i < p->checked; i++) {
    trajectory_error e = times_differ(&p->draw[i].law, &p->log, p->exact.time[i], got->time[i]);
    most.seconds = fmax(most.seconds, e.seconds);
    most.event = fmax(most.event, e.event);
    double off = to_end ? fabs(got->reached[i] - p->exact.reached[i]) : 0;
    if (!(off <= most.a))
      most.a = isnan(off) ? HUGE_VAL : off;
  }
  return most;
}

static double peer_error(double tolerance, void *context)
{
  const peer_context *c = context;
  gsl_peer *peer = gsl_peer_create(gsl_odeiv2_step_rkck, tolerance);
  peer_draws(peer, c->p, true, c->p->checked);
  gsl_peer_destroy(peer);
  trajectory_error e = worst(c->p, &c->p->got, true);
  return fmax(e.a, e.event);
}

static void problem_make(const bench_options *o, problem *p)
{
  static trajectory one;
  rw_error e;
  log_make(293.15, 0.25, 577, &p->log);
  need(rw_history_create(p->log.time, p->log.T, NULL, LOG_POINTS, &p->history, &e), &e);
  p->checked = o->quick ? QUICK_CHECKED : PEER_DRAWS;
  for (int i = 0; i < DRAWS; i++) {
    p->draw[i].law = problem_draw((uint64_t)i);
    memcpy(p->level[i], problem_level, sizeof problem_level);
  }
  for (int i = 0; i < PEER_DRAWS; i++)
    p->plain[i] = rate_law_of(&p->draw[i].law);
  for (int i = 0; i < p->checked; i++) {
    exact_trajectory(&p->draw[i].law, &p->log, false, &one);
    memcpy(p->exact.time[i], one.when, sizeof one.when);
    p->exact.reached[i] = one.a[LOG_POINTS - 1];
  }
}

static double check_ours(problem *p, bool to_end)
{
  static double before[DRAWS][LEVELS];
  our_context c = {p, 2, to_end};
  ours(&c);
  memcpy(before, p->time, sizeof before);
  c.threads = 1;
  ours(&c);
  bench_check(WORK, "the same bits by one thread and by two",
              memcmp(before, p->time, sizeof before) == 0 ? 0 : 1, 0);
  memcpy(p->got.time, p->time, sizeof p->got.time);
  memcpy(p->got.reached, p->reached, sizeof p->got.reached);
  trajectory_error e = worst(p, &p->got, to_end);
  char what[64], more[64];
  snprintf(what, sizeof what, "ours, worst of %d draws, %s", p->checked,
           to_end ? "to the end of the log" : "times alone");
  snprintf(more, sizeof more, "times off by %.2g s, that is %.2g in a", e.seconds, e.event);
  bench_note(WORK, what, e.a, more);
  bench_check(WORK, what, fmax(e.a, e.event), WANTED);
  return fmax(e.a, e.event);
}

static bench_entry *add_ours(bench_table *t, const char *who, our_context *c, double error)
{
  bench_entry *e = bench_add(t, who, WANTED, error);
  e->work = ours;
  e->context = c;
  e->wall = c->threads > 1;
  return e;
}

static bench_entry *add_peer(bench_table *t, peer_context *c)
{
  double tolerance = bench_loosest(peer_error, c, WANTED), error = peer_error(tolerance, c);
  bench_check(WORK, "GSL rkck", error, WANTED);
  c->peer = gsl_peer_create(gsl_odeiv2_step_rkck, tolerance);
  bench_entry *e = bench_add(t, "GSL rkck, 200 draws times 50", tolerance, error);
  e->work = peer_work;
  e->context = c;
  e->share = (double)DRAWS / PEER_DRAWS;
  return e;
}

static void compare(const bench_options *o, problem *p, bool to_end)
{
  const char *name = to_end ? "W3 to the end" : "W3 times alone";
  bench_table t = {.name = name, .floor = BENCH_ENTRIES};
  our_context one = {p, 1, to_end}, two = {p, 2, to_end};
  peer_context rkck = {.p = p, .to_end = to_end};
  double error = check_ours(p, to_end);
  add_ours(&t, "ours", &one, error);
  add_ours(&t, "ours, two threads, on the wall", &two, error);
  bench_entry *peer = add_peer(&t, &rkck);
  bench_run(o, &t);
  if (to_end)
    bench_target(name, peer->ratio, "GSL rkck", 15, false);
  gsl_peer_destroy(rkck.peer);
}

int main(int argc, char **argv)
{
  static problem p;
  bench_options o = bench_begin(argc, argv);
  gsl_set_error_handler_off();
  problem_make(&o, &p);
  compare(&o, &p, true);
  compare(&o, &p, false);
  rw_history_destroy(p.history);
  return bench_end();
}
