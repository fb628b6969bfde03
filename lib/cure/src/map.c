/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The map of time, temperature and transformation. */
#include "even.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double NOSE_WIDTH = 1e-3; /* K */
enum { PARTS = 64 };

/* When a path at a steady temperature turns to glass. */
static double glass_time(const rw_glass *g, double T, const even_cure *c)
{
  double cure = 0;
  if (T <= g->Tg0)
    return 0;
  return rw_glass_conversion(g, T, &cure, NULL) == RW_OK ? even_when(c, cure) : HUGE_VAL;
}

static rw_status map_row(const rw_resin *r, const rw_map_plan *plan, double T, rw_map_row *row,
                         rw_error *err)
{
  even_cure c;
  rw_status status = even_run(&r->law, T, 0, plan->span, 0, &c, err);
  if (status < 0)
    return status;
  rw_cure_state end = even_state(r, &c, plan->span, T);
  double full = even_when(&c, plan->share * end.cure);
  *row = (rw_map_row){.T = T,
                      .gel = even_when(&c, r->flow.a_gel),
                      .glass = glass_time(&r->glass, T, &c),
                      .full = full <= 0.5 * plan->span ? full : HUGE_VAL,
                      .plateau = end.cure,
                      .plateau_Tg = end.Tg};
  rw_cure_path_destroy(c.path);
  return status;
}

static rw_status check_map(const rw_resin *r, const rw_map_plan *plan, const double *T, size_t n,
                           rw_error *err)
{
  const char *function = "rw_cure_map";
  rw_status resin = rw_resin_check(r, err);
  rw_status status = resin < 0 ? resin : even_span(function, plan->span, err);
  if (status >= 0)
    status = even_bounds(function, "share", plan->share, 0.5, 0.999, "", err);
  for (size_t i = 0; status >= 0 && i < n; i++)
    status = even_bounds(function, "T", T[i], EVEN_COLDEST, EVEN_WARMEST, "K", err);
  return rw_status_graver(status, resin);
}

rw_status rw_cure_map(const rw_resin *r, const rw_map_plan *plan, const double *T, size_t n,
                      rw_map_row *row, rw_error *err)
{
  rw_status status = check_map(r, plan, T, n, err);
  if (status < 0 || n == 0)
    return status;
  rw_map_row *made = n > (size_t)-1 / sizeof *made ? NULL : malloc(n * sizeof *made);
  if (made == NULL)
    return rw_error_set(err, RW_ERR_MEMORY, "rw_cure_map", NULL, NULL,
                        "not enough memory for a map");
  for (size_t i = 0; status >= 0 && i < n; i++)
    status = rw_status_graver(map_row(r, plan, T[i], &made[i], err), status);
  if (status >= 0)
    memcpy(row, made, n * sizeof *made);
  free(made);
  return status;
}

typedef struct nose {
  const rw_resin *resin;
  double span;
  rw_status *status; /* the gravest so far */
  rw_error *err;
} nose;

/* Rises the sooner it turns to glass. */
static double soonness(double T, const void *context)
{
  const nose *n = context;
  even_cure c;
  if (*n->status < 0)
    return 0;
  rw_status status = even_run(&n->resin->law, T, 0, n->span, 0, &c, n->err);
  *n->status = rw_status_graver(status, *n->status);
  if (status < 0)
    return 0;
  double time = glass_time(&n->resin->glass, T, &c);
  rw_cure_path_destroy(c.path);
  return -log(time);
}

/* From the hottest down to the first place that is sooner than both its neighbours. */
static double find_nose(const nose *n, double low, double high)
{
  double hotter = soonness(high, n), here = soonness(high - (high - low) / PARTS, n);
  for (int i = PARTS - 1; i > 0; i--) {
    double T = low + (high - low) * i / PARTS, step = (high - low) / PARTS;
    double colder = soonness(T - step, n);
    if (here > -HUGE_VAL && here >= hotter && here > colder)
      return even_summit(soonness, n, T - step, fmin(T + step, high), NOSE_WIDTH);
    hotter = here;
    here = colder;
  }
  return HUGE_VAL;
}

rw_status rw_cure_map_find(const rw_resin *r, double span, rw_map_marks *marks, rw_error *err)
{
  rw_status status = rw_resin_check(r, err);
  if (status >= 0)
    status = rw_status_graver(even_span("rw_cure_map_find", span, err), status);
  if (status < 0)
    return status;
  rw_map_marks m = {.Tg0 = r->glass.Tg0, .nose_T = HUGE_VAL, .nose_time = HUGE_VAL};
  rw_glass_temperature(&r->glass, r->flow.a_gel, &m.gel_Tg, NULL);
  rw_glass_temperature(&r->glass, rw_cure_law_top(&r->law), &m.Tg_inf, NULL);
  nose n = {r, span, &status, err};
  double low = fmax(m.Tg0, EVEN_COLDEST), high = fmin(m.Tg_inf, EVEN_WARMEST);
  if (low < high)
    m.nose_T = find_nose(&n, low, high);
  if (status >= 0 && m.nose_T < HUGE_VAL)
    m.nose_time = exp(-soonness(m.nose_T, &n));
  if (status >= 0)
    *marks = m;
  return status;
}
