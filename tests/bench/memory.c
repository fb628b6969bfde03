/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How often memory is asked for: not once a step, not once a draw or a stack. */
#include "bench.h"
#include "problem.h"

#include <resinwright/laminate.h>

#include "failing.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { FEW = 100, MANY = 10000, LONGER = 10 };
static const char WORK[] = "memory";
static const double TOLERANCE = 1e-6;

static void need(rw_status status, const rw_error *e)
{
  if (status >= 0)
    return;
  fprintf(stderr, "%s\n", e->message);
  exit(2);
}

/* The log, once with all readings and once with straight pieces cut in `parts`. */
static rw_history *history(int parts)
{
  static temperature_log log;
  static double time[LOG_POINTS * LONGER], T[LOG_POINTS * LONGER];
  rw_history *h = NULL;
  rw_error e;
  size_t n = 0;
  log_make(293.15, 0.25, 577, &log);
  for (int i = 0; i + 1 < LOG_POINTS; i++)
    for (int k = 0; k < parts; k++) {
      double share = (double)k / parts;
      time[n] = log.time[i] + share * LOG_STEP;
      T[n++] = log.T[i] + share * (log.T[i + 1] - log.T[i]);
    }
  time[n] = log.time[LOG_POINTS - 1];
  T[n++] = log.T[LOG_POINTS - 1];
  need(rw_history_create(time, T, NULL, n, &h, &e), &e);
  return h;
}

static long run_count(const rw_history *h, double tolerance)
{
  rw_cure_law law = problem_law();
  rw_cure_path *path = NULL;
  rw_error e;
  double to;
  rw_history_span(h, NULL, &to);
  long live = failing_live();
  failing_arm(0);
  need(rw_cure_run(&law, h, 0, to, 0, tolerance, &path, &e), &e);
  rw_cure_path_destroy(path);
  bench_check(WORK, "blocks kept by a cure", (double)(failing_live() - live), 0);
  return failing_count();
}

static long draws_count(const rw_history *h, size_t n, unsigned threads)
{
  static rw_cure_draw draw[MANY];
  static double level[MANY][LEVELS], time[MANY][LEVELS];
  rw_error e;
  rw_draw_plan plan = {.tolerance = TOLERANCE, .levels = LEVELS, .threads = threads};
  rw_history_span(h, &plan.from, &plan.to);
  for (size_t i = 0; i < n; i++) {
    draw[i].law = problem_draw(i);
    for (int k = 0; k < LEVELS; k++)
      level[i][k] = problem_level[k];
  }
  long live = failing_live();
  failing_arm(0);
  need(rw_cure_draws(&plan, draw, n, h, &level[0][0], &time[0][0], NULL, NULL, &e), &e);
  /* The C library keeps what a thread stood on for the next. */
  bench_check(WORK, "blocks kept by draws", (double)(failing_live() - live), threads - 1);
  return failing_count();
}

/* n of the 3^10 stacks of three kinds. */
static long sweep_count(size_t n, unsigned threads)
{
  static double factor[MANY];
  static const double angle = 0;
  rw_sweep_ply kind[3];
  rw_sweep_face face = {kind, 3, &angle, 1, 5, 5};
  rw_sweep_set set = {.outer = face, .inner = face, .loads = 1};
  rw_sweep *s = NULL;
  rw_error e;
  for (int i = 0; i < 3; i++)
    kind[i] = (rw_sweep_ply){{.density = 1700,
                              .E1 = 18e9,
                              .E2 = 18e9,
                              .nu12 = 0.13,
                              .G12 = 3.5e9,
                              .Xt = 3e8,
                              .Xc = 3e8,
                              .Yt = 3e8,
                              .Yc = 3e8,
                              .S = 5e7},
                             .thickness = 3e-4 * (i + 1)};
  need(rw_sweep_load(RW_CASE_HIT, set.load[0], &e), &e);
  long live = failing_live();
  failing_arm(0);
  need(rw_sweep_create(&set, &s, &e), &e);
  double *value[RW_MEASURES] = {0};
  value[RW_MEASURE_FACTOR] = factor;
  rw_sweep_plan plan = {.n = n, .threads = threads};
  need(rw_sweep_run(s, &plan, value, NULL, &e), &e);
  rw_sweep_destroy(s);
  bench_check(WORK, "blocks kept by stacks", (double)(failing_live() - live), threads - 1);
  return failing_count();
}

static void compare(const char *what, long few, long many)
{
  char more[64];
  snprintf(more, sizeof more, "%ld and %ld times", few, many);
  bench_note(WORK, what, NAN, more);
  bench_check(WORK, what, (double)(many - few), 8);
}

int main(int argc, char **argv)
{
  bench_begin(argc, argv);
  if (!failing_works())
    return 0;
  rw_history *h = history(1), *longer = history(LONGER);
  long run = run_count(h, TOLERANCE);
  compare("one cure, 577 readings and 5761", run, run_count(longer, TOLERANCE));
  compare("one cure, asked for 1e-6 and 1e-11", run, run_count(h, 1e-11));
  bench_check(WORK, "times that one cure asks", (double)run, 20);
  for (unsigned threads = 1; threads <= 2; threads++) {
    long few = draws_count(h, FEW, threads), many = draws_count(h, MANY, threads);
    compare(threads == 1 ? "100 draws and 10,000" : "100 draws and 10,000, two threads", few,
            many);
  }
  compare("100 stacks and 10,000", sweep_count(FEW, 1), sweep_count(MANY, 1));
  compare("100 stacks and 10,000, two threads", sweep_count(FEW, 2), sweep_count(MANY, 2));
  rw_history_destroy(longer);
  rw_history_destroy(h);
  return bench_end();
}
