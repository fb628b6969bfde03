/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The warmest ramp that does not soften a hull. */
#include "ramp_piece.h"
#include "rate.h"
#include "refuse.h"

#include <resinwright/heat.h>
#include <resinwright/text.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const char FUNCTION[] = "rw_postcure_plan";
static const double DAY = 86400, HOTTEST = 393.15;
static const double GUARD = 0.005;         /* K, kept below the limit between two looks */
static const double FINE = 0.01;           /* K, how finely a setting is sought */
static const double MOST_SETTINGS = 50000; /* of all sessions together */

/* A plan being made; times from the start of the first session. */
typedef struct plan {
  const rw_resin *resin;
  heat_law law;
  rw_place place;
  double limit, target; /* K: keep T - Tg below limit */
  int stop;             /* end when the target is reached */
  double t, T, a;
  double reached, soft_start, first_most, hold;
  double *time, *temperature; /* settings, NULL: not kept */
  size_t n;
} plan;

/* Adds a setting; a straight line needs its ends only. */
static void keep(plan *p)
{
  if (p->time == NULL)
    return;
  size_t n = p->n;
  if (n >= 2) {
    double rise =
        (p->temperature[n - 1] - p->temperature[n - 2]) / (p->time[n - 1] - p->time[n - 2]);
    if (fabs(p->temperature[n - 1] + rise * (p->t - p->time[n - 1]) - p->T) < 1e-9)
      n--;
  }
  p->time[n] = p->t;
  p->temperature[n] = p->T;
  p->n = n + 1;
}

/* Goes straight to T1 in a span; where the target comes first and the plan ends there, only so
 * far. */
static int go(plan *p, double T1, double span)
{
  ramp_end end;
  if (!ramp_piece(p->resin, &p->law, p->a, p->T, T1, span, p->target, &end))
    return 0;
  int ends = end.reached < HUGE_VAL && p->reached == HUGE_VAL;
  if (ends) {
    p->reached = p->t + end.reached;
    /* A reading shorter than a second cannot be set. */
    double part = fmax(end.reached, fmin(1, span));
    if (p->stop && T1 >= p->T && part < span) {
      T1 = p->T + (T1 - p->T) * part / span;
      span = part;
      if (!ramp_piece(p->resin, &p->law, p->a, p->T, T1, span, p->target, &end))
        return 0;
    }
  }
  if (p->T == p->place.most && T1 == p->place.most)
    p->hold += span;
  p->t += span;
  p->T = T1;
  p->a = end.a;
  if (T1 == p->place.most && p->first_most == HUGE_VAL)
    p->first_most = p->t;
  keep(p);
  return 1;
}

static int is_safe(const plan *p, double T1, double span, int *failed)
{
  ramp_end end;
  if (!ramp_piece(p->resin, &p->law, p->a, p->T, T1, span, p->target, &end)) {
    *failed = 1;
    return 0;
  }
  return end.excess <= p->limit;
}

/* Warmest setting that is safe after a span; the present one where none is warmer. */
static double warmest(const plan *p, double span, int *failed)
{
  double low = p->T, high = fmin(p->place.most, p->T + p->place.heating * span);
  if (is_safe(p, high, span, failed))
    return high;
  while (!*failed && high - low > FINE) {
    double mid = 0.5 * (low + high);
    if (is_safe(p, mid, span, failed))
      low = mid;
    else
      high = mid;
  }
  return low;
}

static int session(plan *p, double end)
{
  const rw_place *place = &p->place;
  while (p->t < end && !(p->stop && p->reached < HUGE_VAL)) {
    int failed = 0;
    double left = end - p->t, next = fmin(place->step, left), to_most = place->most - p->T;
    if (to_most <= 0) {
      if (!go(p, place->most, left))
        return 0;
      continue;
    }
    double straight = to_most / place->heating;
    if (p->T - ramp_glass(p->resin, p->a) > p->limit) {
      p->soft_start += next;
      if (!go(p, p->T, next))
        return 0;
      continue;
    }
    double T1 = place->most;
    if (straight < next && is_safe(p, place->most, straight, &failed))
      next = straight;
    else if (!failed)
      T1 = warmest(p, next, &failed);
    if (failed || !go(p, T1, next))
      return 0;
  }
  return 1;
}

/* Falls to the rest, but not beyond a time. */
static int cool(plan *p, double end)
{
  double fall = p->T - p->place.rest, span = fall / p->place.cooling;
  if (!(fall > 0))
    return 1;
  if (p->t + span <= end)
    return go(p, p->place.rest, span);
  span = end - p->t;
  return span > 0 ? go(p, p->T - p->place.cooling * span, span) : 1;
}

static int done(const plan *p)
{
  return p->stop && p->reached < HUGE_VAL;
}

/* Runs all sessions. 0 where the cure could not be followed. */
static int run(plan *p, double a)
{
  p->t = 0;
  p->T = p->place.rest;
  p->a = a;
  p->reached = p->first_most = HUGE_VAL;
  if (ramp_glass(p->resin, p->a) >= p->target)
    p->reached = 0;
  keep(p);
  for (size_t i = 0; i < p->place.sessions && !done(p); i++) {
    double begin = p->place.period * (double)i, last = begin + p->place.period;
    if (!session(p, begin + p->place.span))
      return 0;
    if (done(p) || i + 1 == p->place.sessions)
      break;
    if (!cool(p, last) || (p->t < last && !done(p) && !go(p, p->T, last - p->t)))
      return 0;
  }
  if (!cool(p, HUGE_VAL))
    return 0;
  if (p->t == 0 && !go(p, p->T, 60))
    return 0;
  return 1;
}

static plan dry(const plan *p)
{
  plan copy = *p;
  copy.time = copy.temperature = NULL;
  copy.n = 0;
  copy.soft_start = copy.hold = 0;
  return copy;
}

static int reaches(const plan *p, double a, double most, int *failed)
{
  plan trial = dry(p);
  trial.place.most = most;
  if (!run(&trial, a)) {
    *failed = 1;
    return 0;
  }
  return trial.reached < HUGE_VAL;
}

/* Least warmth of the place that reaches the target. */
static int least_most(const plan *p, double a, double *needed)
{
  int failed = 0;
  double low = p->place.rest, high = p->reached < HUGE_VAL ? p->place.most : HOTTEST;
  *needed = HUGE_VAL;
  if (!(p->reached < HUGE_VAL)) {
    low = p->place.most;
    if (!reaches(p, a, high, &failed))
      return !failed;
  }
  while (high - low > 0.05) {
    double mid = 0.5 * (low + high);
    int enough = reaches(p, a, mid, &failed);
    if (failed)
      return 0;
    if (enough)
      high = mid;
    else
      low = mid;
  }
  *needed = high;
  return 1;
}

/* The same place without a break. */
static int without_break(const plan *p, double a, rw_postcure *out)
{
  plan trial = dry(p);
  trial.stop = 0;
  trial.place.sessions = 1;
  trial.place.span = trial.place.period = 30 * DAY;
  trial.t = 0;
  trial.T = trial.place.rest;
  trial.a = a;
  trial.reached = ramp_glass(p->resin, trial.a) >= p->target ? 0 : HUGE_VAL;
  if (!session(&trial, 30 * DAY))
    return 0;
  out->unbroken = trial.reached;
  out->month = ramp_glass(p->resin, trial.a);
  return 1;
}

static rw_status check_place(const rw_place *p, rw_error *err)
{
  static const char KELVIN[] = "Temperatures are absolute: 50 degC is 323.15 K.";
  const heat_bound bounds[] = {
      {"most", p->most, 250, HOTTEST, "K", KELVIN},
      {"rest", p->rest, 250, p->most, "K", "The place is at least as warm as the hull at rest."},
      {"span", p->span, 600, 60 * DAY, "s", "Times are in seconds: 8 h is 28800."},
      {"sessions", (double)p->sessions, 1, 60, "", NULL},
      {"heating", p->heating, 1e-5, 1, "K/s", "10 K an hour is 0.0028 K/s."},
      {"cooling", p->cooling, 1e-5, 1, "K/s", "10 K an hour is 0.0028 K/s."},
      {"step", p->step, 60, p->span, "s", "Half an hour is 1800."},
  };
  rw_status status = heat_bounds(FUNCTION, bounds, sizeof bounds / sizeof *bounds, err);
  if (status == RW_OK && p->sessions > 1)
    status = heat_between(FUNCTION, "period", p->period, p->span, 60 * DAY, "s",
                          "A session ends before the next one starts.", err);
  if (status == RW_OK)
    status = heat_between(FUNCTION, "step", p->step, p->span * (double)p->sessions / MOST_SETTINGS,
                          p->span, "s", "Change the setting less often.", err);
  return status;
}

static rw_status check_all(const rw_resin *r, const rw_place *place, double cure, double margin,
                           double target, double from, const rw_postcure *out,
                           rw_history *const *ramp, heat_law *law, rw_error *err)
{
  rw_status status = heat_given(FUNCTION, "r", r, err);
  if (status == RW_OK)
    status = heat_given(FUNCTION, "place", place, err);
  if (status == RW_OK)
    status = heat_given(FUNCTION, "out", out, err);
  if (status == RW_OK)
    status = heat_given(FUNCTION, "ramp", ramp, err);
  if (status != RW_OK)
    return status;
  rw_status checked = rw_resin_check(r, err);
  if (checked < 0)
    return checked;
  status = check_place(place, err);
  if (status != RW_OK)
    return status;
  const heat_bound bounds[] = {
      {"cure", cure, 0, 1 - 1e-9, "", "A degree of cure is a share: 0 is liquid."},
      {"margin", margin, -60, 30, "K apart", "5 K below the glass transition is -5."},
      {"target", target, r->glass.Tg0, r->glass.Tg_inf, "K",
       "No cure takes a resin beyond its own greatest glass transition."},
      {"from", from, -1e12, 1e12, "s", NULL},
  };
  status = heat_bounds(FUNCTION, bounds, sizeof bounds / sizeof *bounds, err);
  if (status == RW_OK)
    status = heat_law_make(FUNCTION, &r->law, cure, law, err);
  return status == RW_OK ? checked : status;
}

static rw_status not_reached(const plan *p, const rw_postcure *out, rw_error *err)
{
  char got[40], wanted[40], warm[40], days[40], hint[256];
  rw_text_round(out->Tg - 273.15, 3, got);
  rw_text_round(p->target - 273.15, 3, wanted);
  rw_text_round(out->needed - 273.15, 3, warm);
  rw_text_round(out->unbroken / DAY, 2, days);
  if (out->needed < HUGE_VAL && out->unbroken < HUGE_VAL)
    snprintf(hint, sizeof hint,
             "It takes a place of %s degC, or this one for %s days without a break.", warm, days);
  else if (out->needed < HUGE_VAL)
    snprintf(hint, sizeof hint, "It takes a place of %s degC; time alone does not do it.", warm);
  else if (out->unbroken < HUGE_VAL)
    snprintf(hint, sizeof hint, "It takes this place for %s days without a break.", days);
  else
    snprintf(hint, sizeof hint, "Not even a place of 120 degC does it: be content with less.");
  return rw_error_set(err, RW_NO_SOLUTION, FUNCTION, "target", hint,
                      "the glass transition gets to %s degC, wanted were %s degC", got, wanted);
}

static rw_status stuck(rw_error *err)
{
  return rw_error_set(err, RW_ERR_NUMERIC, FUNCTION, NULL, "Look at the rate constants.",
                      "the cure could not be followed along the ramp");
}

/* The plan with its settings kept in p->time and p->temperature. */
static rw_status make(plan *p, double cure, double from, rw_postcure *out, rw_history **ramp,
                      rw_error *err)
{
  rw_postcure made = {0};
  if (!run(p, cure) || !least_most(p, cure, &made.needed) || !without_break(p, cure, &made))
    return stuck(err);
  for (size_t i = 0; i < p->n; i++)
    p->time[i] += from;
  rw_history *h = NULL;
  rw_status status = rw_history_create(p->time, p->temperature, NULL, p->n, &h, err);
  rw_softening soft;
  if (status >= 0)
    status = rw_softening_along(p->resin, h, from, p->time[p->n - 1], cure, &soft, err);
  if (status < 0) {
    rw_history_destroy(h);
    return status;
  }
  made.time = p->reached + from;
  made.cure = soft.cure;
  made.Tg = soft.Tg;
  made.worst = soft.worst;
  made.worst_time = soft.worst_time;
  made.soft_start = p->soft_start;
  made.first_most = p->first_most + from;
  made.hold = p->hold;
  *out = made;
  *ramp = h;
  return p->reached < HUGE_VAL ? RW_OK : not_reached(p, &made, err);
}

rw_status rw_postcure_plan(const rw_resin *r, const rw_place *place, double cure, double margin,
                           double target, double from, rw_postcure *out, rw_history **ramp,
                           rw_error *err)
{
  heat_law law = {0};
  rw_status checked = check_all(r, place, cure, margin, target, from, out, ramp, &law, err);
  if (checked < 0)
    return checked;
  plan p = {.law = law,
            .resin = r,
            .place = *place,
            .limit = margin - GUARD,
            .target = target,
            .stop = 1};
  if (p.place.sessions == 1)
    p.place.period = p.place.span;
  size_t each = (size_t)(place->span / place->step) + 8, most = place->sessions * each + 8;
  double *memory = malloc(2 * most * sizeof *memory);
  if (memory == NULL)
    return heat_no_memory(FUNCTION, err);
  p.time = memory;
  p.temperature = memory + most;
  rw_status status = make(&p, cure, from, out, ramp, err);
  free(memory);
  return status == RW_OK ? checked : status;
}
