/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "march.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A kept step: its coefficients stand in the path's pool, those of a before those of T. */
typedef struct kept {
  double t;
  double h;
  size_t first;
  int order;
  int T_order;
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
  size_t na = (size_t)s->order + 1, nT = (size_t)s->T_order + 1;
  void *step = p->step, *pool = p->pool;
  int fine = ensure(&step, &p->step_room, p->steps + 1, sizeof *p->step);
  p->step = step;
  fine = fine && ensure(&pool, &p->pool_room, p->used + na + nT, sizeof *p->pool);
  p->pool = pool;
  if (!fine)
    return 0;
  p->step[p->steps++] = (kept){s->t, s->h, p->used, s->order, s->T_order};
  memcpy(p->pool + p->used, s->a, na * sizeof *s->a);
  memcpy(p->pool + p->used + na, s->T, nT * sizeof *s->T);
  p->used += na + nT;
  return 1;
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
  if (p == NULL)
    return rw_error_set(err, RW_ERR_MEMORY, function, NULL, NULL, "not enough memory for a path");
  p->origin = from;
  series_step step;
  int more;
  while ((more = march_next(&m, &step)) > 0)
    if (!keep(p, &step)) {
      rw_cure_path_destroy(p);
      return rw_error_set(err, RW_ERR_MEMORY, function, NULL, NULL,
                          "not enough memory for a path");
    }
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
  double value = series_value(a_of(p, i), s->order, tau, &slope);
  *a = fmin(fmax(value, 0), 1);
  if (rate != NULL)
    *rate = slope / s->h;
  if (T != NULL)
    *T = series_value(a_of(p, i) + s->order + 1, s->T_order, tau, NULL);
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
  series_step step = {.order = s->order};
  memcpy(step.a, a_of(p, low), ((size_t)s->order + 1) * sizeof *step.a);
  double tau = a <= step.a[0] ? 0 : step_when(&step, a);
  *time = p->origin + s->t + tau * s->h;
  return RW_OK;
}
