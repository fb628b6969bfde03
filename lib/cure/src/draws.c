/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "crossing.h"
#include "lanes.h"
#include "march.h"
#include "share.h"

#include <math.h>

static const char FUNCTION[] = "rw_cure_draws";
static const double COLDEST = 200, WARMEST = 500; /* K, of any history */
enum { BLOCK = 256, MOST_LEVELS = 64 };

/* The whole job. */
typedef struct job {
  const rw_draw_plan *plan;
  const rw_cure_draw *draw;
  size_t n;
  track track;
  const double *level;
  double *time, *thick, *reached;
} job;

static void clear(const job *j, size_t i)
{
  for (size_t l = 0; l < j->plan->levels; l++)
    j->time[i * j->plan->levels + l] = HUGE_VAL;
  if (j->thick != NULL)
    j->thick[i] = HUGE_VAL;
}

/* One draw by itself. */
static int follow(const job *j, size_t i)
{
  const rw_draw_plan *p = j->plan;
  const rw_cure_draw *d = &j->draw[i];
  march m;
  track k = j->track;
  k.shift = d->shift;
  march_on_track(&m, &d->law, &k, p->to - p->from, p->start, p->tolerance);
  const double *level = j->level + i * p->levels;
  double *time = j->time + i * p->levels;
  int thick = j->thick != NULL && d->flow != NULL, more = 0;
  thick_limit limit = {d->flow, thick ? log(d->viscosity) : 0};
  size_t passed = 0;
  series_step s;
  while ((passed < p->levels || thick || j->reached != NULL) && (more = march_next(&m, &s)) > 0) {
    for (; passed < p->levels && level[passed] <= m.a; passed++)
      time[passed] =
          s.t + s.h * (level[passed] <= s.a[0] ? 0 : step_when(s.a, s.order, level[passed]));
    curve c = {s.a, s.order, s.T, s.T_order};
    double tau = thick ? crossing_share(thick_enough, &limit, &c, s.order > 5 ? 16 : 4) : 2;
    if (tau <= 1) {
      j->thick[i] = s.t + tau * s.h;
      thick = 0;
    }
  }
  if (j->reached != NULL)
    j->reached[i] = m.a;
  return more >= 0;
}

static int group(const job *j, size_t first)
{
  const rw_draw_plan *p = j->plan;
  size_t count = j->n - first < LANES ? j->n - first : LANES;
  double spare[MOST_LEVELS];
  int fits = 1;
  lane_group g = {.track = j->track,
                  .span = p->to - p->from,
                  .start = p->start,
                  .tolerance = p->tolerance * LANES_SHARE,
                  .levels = p->levels};
  for (size_t i = 0; i < LANES; i++) {
    size_t d = first + (i < count ? i : count - 1); /* a short group repeats its last draw */
    g.draw[i] = &j->draw[d];
    g.level[i] = j->level + d * p->levels;
    g.time[i] = i < count ? j->time + d * p->levels : spare;
    g.thick[i] = i < count && j->thick != NULL ? j->thick + d : NULL;
    g.reached[i] = i < count && j->reached != NULL ? j->reached + d : NULL;
    fits = fits && lane_fits(&j->draw[d].law);
  }
  if (fits && lanes_run(&g))
    return 1;
  int fine = 1;
  for (size_t i = 0; i < count; i++) {
    clear(j, first + i);
    fine = follow(j, first + i) && fine;
  }
  return fine;
}

static void to_clock(const job *j, size_t first, size_t end)
{
  size_t levels = j->plan->levels;
  for (size_t i = first * levels; i < end * levels; i++)
    j->time[i] += j->plan->from;
  for (size_t i = first; j->thick != NULL && i < end; i++)
    j->thick[i] += j->plan->from;
}

static int work(size_t first, size_t end, void *context)
{
  const job *j = context;
  int fine = 1;
  for (size_t i = first; i < end; i++)
    clear(j, i);
  for (size_t i = first; i < end; i += LANES)
    fine = group(j, i) && fine;
  to_clock(j, first, end);
  return fine;
}

static rw_status wrong_draw(size_t i, rw_status status, rw_error *err)
{
  rw_error cause = {0};
  if (err != NULL)
    cause = *err;
  rw_error_set(err, status, FUNCTION, cause.argument, cause.hint, "draw %zu: %s", i + 1,
               cause.message);
  return status;
}

static rw_status check_levels(const rw_draw_plan *p, const double *level, rw_error *err)
{
  for (size_t l = 0; l < p->levels; l++) {
    double least = l == 0 ? 0 : level[l - 1];
    if (!(level[l] >= least && level[l] <= 1))
      return rw_error_range(err, FUNCTION, "level", level[l], least, 1, "",
                            "Levels are degrees of cure between 0 and 1, rising.");
  }
  return RW_OK;
}

/* Coldest and warmest of the history, which a shift must keep within the temperatures known. */
typedef struct range {
  double low, high;
} range;

static rw_status check_draw(const rw_draw_plan *p, const rw_cure_draw *d, const range *T,
                            const double *level, rw_error *err)
{
  double least = fmax(-100, COLDEST - T->low), most = fmin(100, WARMEST - T->high);
  rw_status law = rw_cure_law_check(&d->law, err);
  rw_status status = law < 0 ? law : march_can_start(FUNCTION, &d->law, p->start, err);
  if (status == RW_OK && !(d->shift >= least && d->shift <= most))
    status = rw_error_range(err, FUNCTION, "shift", d->shift, least, most, "K apart",
                            "Shifted, the history must stay within -73 and 227 degC.");
  if (status == RW_OK && d->flow != NULL) {
    double unused;
    status = rw_viscosity(d->flow, 0, 298.15, &unused, err);
    if (status >= 0 && !(d->viscosity > 0 && d->viscosity <= 1e9))
      status = rw_error_range(err, FUNCTION, "viscosity", d->viscosity, 0, 1e9, "Pa s", NULL);
  }
  if (status >= 0)
    status = check_levels(p, level, err);
  return status < 0 ? status : law;
}

static rw_status check(const rw_draw_plan *p, const rw_cure_draw *draw, size_t n, const range *T,
                       const double *level, rw_error *err)
{
  rw_status worst = RW_OK;
  if (n < 1)
    return rw_error_range(err, FUNCTION, "n", 0, 1, HUGE_VAL, "", NULL);
  if (p->levels > MOST_LEVELS)
    return rw_error_range(err, FUNCTION, "levels", (double)p->levels, 0, MOST_LEVELS, "", NULL);
  if (p->threads > RW_SHARE_THREADS)
    return rw_error_range(err, FUNCTION, "threads", p->threads, 0, RW_SHARE_THREADS, "", NULL);
  if (!(p->tolerance >= 1e-10))
    return rw_error_range(err, FUNCTION, "tolerance", p->tolerance, 1e-10, 1e-2, "", NULL);
  for (size_t i = 0; i < n; i++) {
    rw_status status = check_draw(p, &draw[i], T, level + i * p->levels, err);
    if (status < 0)
      return wrong_draw(i, status, err);
    worst = status > worst ? status : worst;
  }
  return worst;
}

rw_status rw_cure_draws(const rw_draw_plan *plan, const rw_cure_draw *draw, size_t n,
                        const rw_history *h, const double *level, double *time, double *thick,
                        double *reached, rw_error *err)
{
  job j = {.plan = plan,
           .draw = draw,
           .n = n,
           .level = level,
           .time = time,
           .thick = thick,
           .reached = reached};
  range T;
  rw_status status =
      track_start(&j.track, FUNCTION, h, plan->from, plan->to, plan->start, plan->tolerance, err);
  if (status == RW_OK)
    status = rw_history_extremes(h, plan->from, plan->to, &T.low, &T.high, err);
  if (status != RW_OK)
    return status;
  rw_status checked = check(plan, draw, n, &T, level, err);
  if (checked < 0)
    return checked;
  const rw_share how = {n, BLOCK, plan->threads, plan->progress, plan->context};
  rw_shared end = rw_share_out(&how, work, &j);
  if (end.stopped)
    return rw_error_set(err, RW_ERR_STOPPED, FUNCTION, NULL, NULL,
                        "stopped when asked to, after %zu of %zu draws", end.done, n);
  if (end.failed)
    return rw_error_set(err, RW_ERR_NUMERIC, FUNCTION, NULL, NULL,
                        "a cure could not be followed to the end");
  return checked;
}
