/* SPDX-License-Identifier: GPL-3.0-or-later */
/* W9: a resin fitted to the notes on 20 batches, three each, every batch with a log of its own,
 * and all milestones of the next one under a week's forecast by 2,000 draws. No peer does this
 * work. */
#include "bench.h"
#include "problem.h"

#include <resinwright/fit.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { BATCHES = 20, EACH = 3, NOTES = BATCHES * EACH, READINGS = 145, DRAWS = 2000, DAYS = 7 };
static const char WORK[] = "W9";

typedef struct problem {
  rw_history *hull[BATCHES], *week;
  rw_notes_batch batch[BATCHES];
  rw_notes_row row[NOTES];
  rw_notes_data data;
  rw_notes_prior prior;
  rw_notes *fit;
  rw_forecast forecast;
} problem;

static void need(rw_status status, const rw_error *e)
{
  if (status >= 0)
    return;
  fprintf(stderr, "%s\n", e->message);
  exit(2);
}

/* Twelve hours, read every five minutes. */
static rw_history *hull_make(double mean, dice *d)
{
  const double pi = 3.14159265358979323846;
  double time[READINGS], T[READINGS];
  rw_history *h = NULL;
  rw_error e;
  for (int i = 0; i < READINGS; i++) {
    time[i] = i * LOG_STEP;
    T[i] = mean + 3 * sin(2 * pi * time[i] / 86400) + 0.2 * dice_normal(d);
  }
  need(rw_history_create(time, T, NULL, READINGS, &h, &e), &e);
  return h;
}

/* When the resin passes a milestone on a hull. */
static double when(const rw_resin *r, const rw_history *h, rw_milestone m)
{
  rw_cure_path *path = NULL;
  rw_error e;
  double t = HUGE_VAL;
  need(rw_cure_run(&r->law, h, 0, (READINGS - 1) * LOG_STEP, 0, 1e-8, &path, &e), &e);
  if (rw_cure_when(path, r->threshold[m].value, &t, NULL) != RW_OK)
    t = HUGE_VAL;
  rw_cure_path_destroy(path);
  return t;
}

/* A look before and one after; where the log ends first, the last look alone. */
static rw_notes_row note_make(size_t batch, rw_milestone m, double t, dice *d)
{
  const double end = (READINGS - 1) * LOG_STEP;
  double looked = t * exp(0.1 * dice_normal(d)), every = 900 + 1800 * dice_uniform(d);
  double low = fmax(every * floor(looked / every), 600), high = low + every;
  rw_notes_row row = {.batch = batch, .event = m, .not_yet = low, .already = high, .weight = 1};
  if (!(high < end)) {
    row.not_yet = fmin(low, end);
    row.already = NAN;
  }
  return row;
}

static void problem_make(problem *p)
{
  static const rw_milestone noted[EACH] = {RW_GEL, RW_RECOAT_OPENS, RW_TRIM_OPENS};
  dice d = {9};
  rw_error e;
  rw_resin r;
  need(rw_resin_find("slow-polyetheramine", &r, &e), &e);
  rw_notes_prior_of(&r, &p->prior);
  rw_resin truth = r;
  truth.law = rw_cure_law_moved(&r.law, 0.25, 2e3);
  for (size_t i = 0; i < BATCHES; i++) {
    p->hull[i] = hull_make(288.15 + 0.5 * (double)i, &d);
    p->batch[i] = (rw_notes_batch){p->hull[i], 0};
    for (size_t j = 0; j < EACH; j++)
      p->row[i * EACH + j] = note_make(i, noted[j], when(&truth, p->hull[i], noted[j]), &d);
  }
  p->data = (rw_notes_data){p->batch, BATCHES, p->row, NOTES, 1};
  rw_wave w = {290.15, 5, 86400, 15 * 3600};
  need(rw_history_from_wave(&w, 0, DAYS * 86400, 0.1, &p->week, &e), &e);
}

static void fit(void *context)
{
  problem *p = context;
  rw_error e;
  rw_notes_destroy(p->fit);
  p->fit = NULL;
  need(rw_notes_fit(&p->prior, &p->data, &p->fit, &e), &e);
}

static void forecast(void *context)
{
  problem *p = context;
  rw_error e;
  rw_notes_question q = {.hull = p->week,
                         .from = 8 * 3600,
                         .to = DAYS * 86400,
                         .temperature_sd = 1,
                         .observer = RW_NOTES_ANYONE,
                         .scatter = 1,
                         .draws = DRAWS,
                         .seed = 9};
  need(rw_notes_forecast(p->fit, &q, &p->forecast, &e), &e);
}

static void both(void *context)
{
  fit(context);
  forecast(context);
}

/* The middle forecast against one of the fitted resin by itself. */
static void check(const problem *p)
{
  rw_resin r;
  rw_forecast alone;
  rw_error e;
  double most = 0;
  need(rw_notes_resin(p->fit, RW_NOTES_ANYONE, &r, &e), &e);
  need(rw_cure_forecast(&r, p->week, 8 * 3600, DAYS * 86400, 1, 0, 9, &alone, &e), &e);
  for (int i = 0; i < RW_MILESTONES; i++)
    if (alone.time[i] < HUGE_VAL || p->forecast.time[i] < HUGE_VAL)
      most = fmax(most, fabs(alone.time[i] - p->forecast.time[i]) / alone.time[i]);
  bench_note(WORK, "times, of the notes and of their resin", most, "");
  bench_check(WORK, "times", most, 1e-6);
}

static bench_entry *add(bench_table *t, const char *who, void (*work)(void *), problem *p)
{
  bench_entry *e = bench_add(t, who, 0, NAN);
  e->work = work;
  e->context = p;
  return e;
}

int main(int argc, char **argv)
{
  static problem p;
  bench_options o = bench_begin(argc, argv);
  bench_table t = {.name = WORK, .floor = BENCH_ENTRIES};
  problem_make(&p);
  both(&p);
  check(&p);
  rw_notes_summary s;
  rw_notes_summarise(p.fit, &s);
  char more[64];
  snprintf(more, sizeof more, "scatter %.3g, %u steps", exp(s.scatter.after), s.steps);
  bench_note(WORK, "60 notes, 12 h logs, a week ahead", NAN, more);
  const bench_entry *all = add(&t, "ours, notes and forecast", both, &p);
  add(&t, "ours, the notes", fit, &p);
  add(&t, "ours, the forecast", forecast, &p);
  bench_run(&o, &t);
  bench_target(WORK, all->time / 1000, "a millisecond", 100, true);
  rw_notes_destroy(p.fit);
  for (int i = 0; i < BATCHES; i++)
    rw_history_destroy(p.hull[i]);
  rw_history_destroy(p.week);
  return bench_end();
}
