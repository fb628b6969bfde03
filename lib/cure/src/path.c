/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "crossing.h"
#include "march.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A kept step; its coefficients stand in the path's pool. */
typedef struct kept {
  double t;
  double h;
  double T;       /* K at its beginning */
  double warming; /* K over it */
  size_t first;
  int order;
} kept;

struct rw_cure_path {
  double origin;
  kept *step;
  size_t steps, step_room;
  double *pool;
  size_t used, pool_room;
};

static int ensure(void **block, size_t *room, size_t wanted, size_t size)
{
  if (wanted <= *room)
    return 1;
  size_t more = *room * 2 > wanted ? *room * 2 : wanted + 64;
  void *larger = more > (size_t)-1 / size ? NULL : realloc(*block, more * size);
  if (larger == NULL)
    return 0;
  *block = larger;
  *room = more;
  return 1;
}

static int keep(rw_cure_path *p, const series_step *s)
{
  size_t n = (size_t)s->order + 1;
  void *step = p->step, *pool = p->pool;
  int fine = ensure(&step, &p->step_room, p->steps + 1, sizeof *p->step);
  p->step = step;
  fine = fine && ensure(&pool, &p->pool_room, p->used + n, sizeof *p->pool);
  p->pool = pool;
  if (!fine)
    return 0;
  double warming = s->T_order > 0 ? s->T[1] : 0;
  p->step[p->steps++] = (kept){s->t, s->h, s->T[0], warming, p->used, s->order};
  memcpy(p->pool + p->used, s->a, n * sizeof *s->a);
  p->used += n;
  return 1;
}

/* Room for a usual walk at once: a step of order 5 for each piece, and some longer ones. */
static int prepare(rw_cure_path *p, const track *k, double to)
{
  size_t pieces = 0;
  while (k->piece + pieces + 1 < k->points && k->time[k->piece + pieces] < to)
    pieces++;
  void *step = NULL, *pool = NULL;
  int fine = ensure(&step, &p->step_room, pieces + 64, sizeof *p->step);
  p->step = step;
  fine = fine && ensure(&pool, &p->pool_room, 6 * pieces + 800, sizeof *p->pool);
  p->pool = pool;
  return fine;
}

static rw_status no_memory(rw_cure_path *p, rw_error *err)
{
  rw_cure_path_destroy(p);
  return rw_error_set(err, RW_ERR_MEMORY, "rw_cure_run", NULL, NULL,
                      "not enough memory for a path");
}

rw_status rw_cure_run(const rw_cure_law *law, const rw_history *h, double from, double to,
                      double start, double tolerance, rw_cure_path **out, rw_error *err)
{
  const char *function = "rw_cure_run";
  rw_status status = rw_cure_law_check(law, err);
  march m;
  if (status >= 0) {
    rw_status started = march_start(&m, function, law, h, from, to, start, tolerance, err);
    status = started < 0 ? started : status;
  }
  if (status < 0)
    return status;
  rw_cure_path *p = calloc(1, sizeof *p);
  if (p == NULL || !prepare(p, &m.track, to))
    return no_memory(p, err);
  p->origin = from;
  series_step step;
  int more;
  while ((more = march_next(&m, &step)) > 0)
    if (!keep(p, &step))
      return no_memory(p, err);
  if (more < 0) {
    rw_cure_path_destroy(p);
    return rw_error_set(err, RW_ERR_NUMERIC, function, NULL, NULL,
                        "the cure could not be followed to the end");
  }
  *out = p;
  return status;
}

void rw_cure_path_destroy(rw_cure_path *p)
{
  if (p == NULL)
    return;
  free(p->step);
  free(p->pool);
  free(p);
}

static double end_of(const rw_cure_path *p)
{
  return p->step[p->steps - 1].t + p->step[p->steps - 1].h;
}

void rw_cure_path_span(const rw_cure_path *p, double *from, double *to)
{
  if (from != NULL)
    *from = p->origin;
  if (to != NULL)
    *to = p->origin + end_of(p);
}

/* Last step that begins at or before a time since the origin. */
static size_t step_at(const rw_cure_path *p, double t)
{
  size_t low = 0, high = p->steps;
  while (high - low > 1) {
    size_t mid = (low + high) / 2;
    if (t < p->step[mid].t)
      high = mid;
    else
      low = mid;
  }
  return low;
}

static const double *a_of(const rw_cure_path *p, size_t i)
{
  return p->pool + p->step[i].first;
}

rw_status rw_cure_at(const rw_cure_path *p, double time, double *a, double *rate, double *T,
                     rw_error *err)
{
  double t = time - p->origin, end = end_of(p);
  double slack = 1e-12 * fmax(fabs(p->origin), end); /* a clock's last digit */
  if (!(t >= -slack && t <= end + slack)) {
    rw_error_set(err, RW_ERR_COVERAGE, "rw_cure_at", "time",
                 "Run the cure further, or ask for an earlier time.",
                 "the cure was not followed to the time asked for");
    if (err != NULL) {
      err->value = time;
      err->low = p->origin;
      err->high = p->origin + end;
    }
    return RW_ERR_COVERAGE;
  }
  t = fmin(fmax(t, 0), end);
  size_t i = step_at(p, t);
  const kept *s = &p->step[i];
  double tau = (t - s->t) / s->h, slope;
  const double *c = a_of(p, i);
  double value = series_value(c, s->order, tau, &slope);
  /* To the last digits a polynomial need not rise; the cure does. */
  double most = series_value(c, s->order, 1, NULL);
  if (i + 1 < p->steps)
    most = fmin(most, a_of(p, i + 1)[0]);
  *a = fmin(fmax(fmin(value, most), c[0]), 1);
  if (rate != NULL)
    *rate = slope / s->h;
  if (T != NULL)
    *T = s->T + s->warming * tau;
  return RW_OK;
}

rw_status rw_cure_when(const rw_cure_path *p, double a, double *time, rw_error *err)
{
  if (!(a >= 0 && a <= 1))
    return rw_error_range(err, "rw_cure_when", "a", a, 0, 1, "",
                          "A degree of cure is a share: 0 is liquid, 1 fully cured.");
  size_t low = 0, high = p->steps; /* first step that ends at or above a */
  while (low < high) {
    size_t mid = (low + high) / 2;
    if (series_value(a_of(p, mid), p->step[mid].order, 1, NULL) < a)
      low = mid + 1;
    else
      high = mid;
  }
  if (low == p->steps)
    return RW_NOT_REACHED;
  const kept *s = &p->step[low];
  const double *c = a_of(p, low);
  double tau = a <= c[0] ? 0 : step_when(c, s->order, a);
  *time = p->origin + s->t + tau * s->h;
  return RW_OK;
}

static rw_status first_crossing(const rw_cure_path *p, crossing_function *f, const void *context,
                                double *time)
{
  for (size_t i = 0; i < p->steps; i++) {
    const kept *s = &p->step[i];
    double T[2] = {s->T, s->warming};
    curve c = {.a = a_of(p, i), .order = s->order, .T = T, .T_order = 1};
    double tau = crossing_share(f, context, &c, s->order > 5 ? 16 : 4);
    if (tau > 1)
      continue;
    *time = p->origin + s->t + tau * s->h;
    return RW_OK;
  }
  return RW_NOT_REACHED;
}

static rw_status needs(const char *what, rw_error *err)
{
  return rw_error_set(err, RW_ERR_ARGUMENT, "rw_cure_event", what, NULL,
                      "the event needs a %s to be told from the degree of cure", what);
}

rw_status rw_cure_event(const rw_cure_path *p, const rw_event *e, double *time, rw_error *err)
{
  double unused;
  rw_status status;
  switch (e->kind) {
  case RW_EVENT_CURE:
    return rw_cure_when(p, e->level, time, err);
  case RW_EVENT_GLASS:
    if (e->glass == NULL)
      return needs("glass", err);
    if (!(fabs(e->level) <= 300))
      return rw_error_range(err, "rw_cure_event", "level", e->level, -300, 300, "K apart", NULL);
    status = rw_glass_temperature(e->glass, 0, &unused, err);
    if (status < 0)
      return status;
    return first_crossing(p, glassy_enough, &(glass_limit){e->glass, e->level}, time);
  case RW_EVENT_VISCOSITY:
    if (e->flow == NULL)
      return needs("flow", err);
    if (!(e->level > 0 && e->level <= 1e9))
      return rw_error_range(err, "rw_cure_event", "level", e->level, 0, 1e9, "Pa s", NULL);
    status = rw_viscosity(e->flow, 0, 298.15, &unused, err);
    if (status < 0)
      return status;
    return first_crossing(p, thick_enough, &(thick_limit){e->flow, log(e->level)}, time);
  }
  return rw_error_set(err, RW_ERR_ARGUMENT, "rw_cure_event", "kind", NULL,
                      "the kind of event is not known");
}
