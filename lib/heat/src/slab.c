/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Heat and cure through wood and resin, from the pouring to the end. */
#include "refuse.h"
#include "slab_step.h"

#include <resinwright/heat.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { WOOD_CELLS = 24, RESIN_CELLS = 40, MOST_CELLS = 2000, MOST_PROFILES = 10000 };
enum { MOST_STEPS = 2000000 };
static const char FUNCTION[] = "rw_slab_run";
static const double LONGEST = 400 * 86400.0;

/* A run on its way. Times count from the pouring. */
typedef struct run {
  const rw_resin *resin;
  const rw_slab *slab;
  slab_cells cells;
  double from, t, wish; /* s; wish: length of the next step */
  double *thick, *gel;  /* s, per cell of resin, HUGE_VAL: not yet */
  double *start_T;      /* K, cells at the start */
  double start_a;
  double *noted_T, *noted_a;
  const rw_slab_profile *profile;
  size_t noted; /* profiles so far */
  int too_hot;
  rw_slab_result result;
} run;

static size_t wood_cells(const rw_slab *s)
{
  if (s->wood == 0)
    return 0;
  return s->wood_cells > 0 ? s->wood_cells : WOOD_CELLS;
}

static size_t resin_cells(const rw_slab *s)
{
  return s->resin_cells > 0 ? s->resin_cells : RESIN_CELLS;
}

size_t rw_slab_places(const rw_slab *s)
{
  return wood_cells(s) + resin_cells(s);
}

static double depth_of(const rw_slab *s, size_t i)
{
  size_t wood = wood_cells(s), resin = resin_cells(s);
  if (i < wood)
    return s->resin + s->wood * (1 - ((double)i + 0.5) / (double)wood);
  return s->resin * (1 - ((double)(i - wood) + 0.5) / (double)resin);
}

void rw_slab_depths(const rw_slab *s, double *depth)
{
  for (size_t i = 0; i < rw_slab_places(s); i++)
    depth[i] = depth_of(s, i);
}

static rw_status check_cells(const char *argument, size_t cells, rw_error *err)
{
  if (cells == 0)
    return RW_OK;
  return heat_between(FUNCTION, argument, (double)cells, 2, MOST_CELLS, "",
                      "Give 0 to have a usual number taken.", err);
}

static rw_status check_slab(const rw_slab *s, rw_error *err)
{
  static const char KELVIN[] = "Temperatures are absolute: 20 degC is 293.15 K.";
  const heat_bound wood[] = {
      {"wood", s->wood, 1e-4, 1, "m", "Thickness is in metres; 0 means no wood."},
      {"wood_conductivity", s->wood_conductivity, 0.01, 500, "W/(m K)",
       "Softwood across the grain has about 0.12."},
      {"wood_density", s->wood_density, 20, 1e4, "kg/m3", NULL},
      {"wood_heat_capacity", s->wood_heat_capacity, 100, 1e4, "J/(kg K)", NULL},
      {"wood_start", s->wood_start, 230, 400, "K", KELVIN},
  };
  const heat_bound resin[] = {
      {"resin", s->resin, 1e-5, 1, "m", "Thickness is in metres: 12 mm is 0.012."},
      {"resin_conductivity", s->resin_conductivity, 0.01, 10, "W/(m K)",
       "Unfilled epoxy has about 0.2."},
      {"resin_start", s->resin_start, 230, 400, "K", KELVIN},
      {"cure_start", s->cure_start, 0, 1, "", "0 is freshly mixed."},
      {"back", s->back, 0, HUGE_VAL, "W/(m2 K)", "Still air takes about 10; 0 is tight to heat."},
      {"front", s->front, 0, HUGE_VAL, "W/(m2 K)",
       "Still air takes about 10; 0 is tight to heat."},
      {"tolerance", s->tolerance, 1e-8, 1, "K apart", "0.001 K is usual."},
  };
  rw_status status = RW_OK;
  if (s->wood != 0)
    status = heat_bounds(FUNCTION, wood, sizeof wood / sizeof *wood, err);
  if (status == RW_OK)
    status = heat_bounds(FUNCTION, resin, sizeof resin / sizeof *resin, err);
  if (status == RW_OK)
    status = check_cells("wood_cells", s->wood_cells, err);
  if (status == RW_OK)
    status = check_cells("resin_cells", s->resin_cells, err);
  return status;
}

static rw_status check_profile(const rw_slab_profile *p, double from, double to, rw_error *err)
{
  if (p == NULL)
    return RW_OK;
  rw_status status = heat_between(FUNCTION, "profile.n", (double)p->n, 1, MOST_PROFILES, "",
                                  "Give the times at which to note the profile.", err);
  if (status == RW_OK)
    status = heat_given(FUNCTION, "profile.time", p->time, err);
  if (status == RW_OK)
    status = heat_given(FUNCTION, "profile.temperature", p->temperature, err);
  for (size_t i = 0; status == RW_OK && i < p->n; i++) {
    status = heat_between(FUNCTION, "profile.time", p->time[i], from, to, "s",
                          "Times lie between the pouring and the end.", err);
    if (status == RW_OK && i > 0 && !(p->time[i] > p->time[i - 1]))
      status = rw_error_set(err, RW_ERR_ORDER, FUNCTION, "profile.time",
                            "Sort the times and leave out repeated ones.",
                            "the times of the profile do not rise");
  }
  return status;
}

static rw_status check_times(const rw_history *air, double from, double to, rw_error *err)
{
  if (!isfinite(from))
    return rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, "from", NULL,
                        "from is not a finite number");
  if (!(to > from && to <= from + LONGEST))
    return rw_error_range(err, FUNCTION, "to", to, from, from + LONGEST, "s",
                          "The end comes after the pouring, at most 400 days.");
  return rw_history_extremes(air, from, to, NULL, NULL, err);
}

static double in_series(double surface, double half)
{
  return surface == 0 ? 0 : 1 / (1 / surface + half);
}

/* Stores and conductances (46). */
static void fill_cells(run *w)
{
  const rw_slab *s = w->slab;
  slab_cells *c = &w->cells;
  size_t wood = c->first, resin = c->n - wood;
  double resin_width = s->resin / (double)resin;
  double resin_half = resin_width / (2 * s->resin_conductivity), wood_half = 0, wood_width = 0;
  if (wood > 0) {
    wood_width = s->wood / (double)wood;
    wood_half = wood_width / (2 * s->wood_conductivity);
  }
  for (size_t i = 0; i < c->n; i++) {
    int is_wood = i < wood;
    c->store[i] = is_wood ? wood_width * s->wood_density * s->wood_heat_capacity
                          : resin_width * w->resin->density * w->resin->heat_capacity;
    c->now.T[i] = w->start_T[i] = is_wood ? s->wood_start : s->resin_start;
    c->now.a[i] = is_wood ? 0 : w->start_a;
    double half = is_wood ? wood_half : resin_half;
    c->pass[i] =
        i == 0 ? in_series(s->back, half) : 1 / (half + (i - 1 < wood ? wood_half : resin_half));
  }
  c->pass[c->n] = in_series(s->front, resin_half);
}

static double viscosity_over(const rw_resin *r, double a, double T)
{
  double mu = 0;
  rw_status status =
      rw_viscosity(&r->flow, fmin(fmax(a, 0), 1), fmin(fmax(T, 200), HEAT_HOTTEST), &mu, NULL);
  return status == RW_OK ? mu - r->work_viscosity : -1;
}

/* How far cell i is past an event, share of the step done. */
typedef double past(const run *w, size_t i, double h, double share);

static double place_of(const double *y0, const double *d0, const double *y1, const double *d1,
                       size_t i, double h, double share)
{
  return heat_hermite(y0[i], d0[i], y1[i], d1[i], h, share);
}

static double cure_at(const run *w, size_t i, double h, double share)
{
  const slab_state *now = &w->cells.now, *then = &w->cells.then;
  return place_of(now->a, now->da, then->a, then->da, i, h, share);
}

static double temperature_at(const run *w, size_t i, double h, double share)
{
  const slab_state *now = &w->cells.now, *then = &w->cells.then;
  return place_of(now->T, now->dT, then->T, then->dT, i, h, share);
}

static double past_work(const run *w, size_t i, double h, double share)
{
  return viscosity_over(w->resin, cure_at(w, i, h, share), temperature_at(w, i, h, share));
}

static double past_gel(const run *w, size_t i, double h, double share)
{
  return cure_at(w, i, h, share) - w->resin->flow.a_gel;
}

static void note_event(const run *w, double *when, past *f, size_t i, double h)
{
  if (*when < HUGE_VAL || f(w, i, h, 1) < 0)
    return;
  double low = 0, high = f(w, i, h, 0) >= 0 ? 0 : 1;
  while (high - low > 1e-10) {
    double mid = 0.5 * (low + high);
    if (f(w, i, h, mid) < 0)
      low = mid;
    else
      high = mid;
  }
  *when = w->t + high * h;
}

/* The warmest moment of a cell within a step lies at its end, or inside where it turns. */
static void note_peak(run *w, size_t i, double h)
{
  const slab_state *now = &w->cells.now, *then = &w->cells.then;
  double share = 1;
  if (now->dT[i] > 0 && then->dT[i] < 0) {
    const double golden = 0.61803398874989485;
    double low = 0, high = 1;
    while (high - low > 1e-6) {
      double left = high - golden * (high - low), right = low + golden * (high - low);
      if (temperature_at(w, i, h, left) > temperature_at(w, i, h, right))
        high = right;
      else
        low = left;
    }
    share = 0.5 * (low + high);
  }
  double T = temperature_at(w, i, h, share);
  if (!(T > w->result.peak))
    return;
  w->result.peak = T;
  w->result.peak_time = w->t + share * h;
  w->result.peak_depth = depth_of(w->slab, i);
}

static void look_at_step(run *w, double h)
{
  const slab_cells *c = &w->cells;
  for (size_t i = c->first; i < c->n; i++) {
    note_event(w, &w->thick[i - c->first], past_work, i, h);
    note_event(w, &w->gel[i - c->first], past_gel, i, h);
    note_peak(w, i, h);
    w->too_hot |= c->then.T[i] > HEAT_HOTTEST;
  }
}

static void note_profile(run *w)
{
  const slab_cells *c = &w->cells;
  const rw_slab_profile *p = w->profile;
  while (p != NULL && w->noted < p->n && p->time[w->noted] - w->from <= w->t) {
    double *T = w->noted_T + w->noted * c->n, *a = w->noted_a + w->noted * c->n;
    for (size_t i = 0; i < c->n; i++) {
      T[i] = c->now.T[i];
      a[i] = i < c->first ? NAN : fmin(fmax(c->now.a[i], 0), 1);
    }
    w->noted++;
  }
}

static rw_status stuck(rw_error *err)
{
  return rw_error_set(err, RW_ERR_NUMERIC, FUNCTION, NULL,
                      "Try a coarser tolerance; look at the rate constants.",
                      "the heat of the slab could not be followed to the end");
}

/* On to a time, the air going straight from `air` by slope. */
static rw_status go_on(run *w, double until, double air, double slope, rw_error *err)
{
  slab_cells *c = &w->cells;
  double began = w->t;
  slab_slopes(c, air);
  while (w->t < until) {
    double left = until - w->t, h = w->wish < 0.5 * left ? w->wish : 0.5 * left, error;
    if (w->wish >= left)
      h = left;
    double at = air + slope * (w->t - began);
    if (w->result.steps >= MOST_STEPS || !(h > 1e-13 * fmax(until, 1)))
      return stuck(err);
    if (!slab_step(c, h, at, slope, &error)) {
      w->wish = 0.25 * h;
      continue;
    }
    if (error > 1) {
      w->wish = sdirk_next(h, error);
      continue;
    }
    w->result.steps++;
    w->result.lost += c->lost;
    look_at_step(w, h);
    if (h == w->wish || sdirk_next(h, error) > w->wish)
      w->wish = sdirk_next(h, error);
    w->t = h == left ? until : w->t + h;
    slab_accept(c);
  }
  return RW_OK;
}

/* Along one straight piece of air, stopping at the times of the profile. */
static rw_status along_piece(run *w, double end, double air, double slope, rw_error *err)
{
  rw_status status = RW_OK;
  double began = w->t;
  while (status == RW_OK && w->t < end) {
    const rw_slab_profile *p = w->profile;
    double until = end;
    if (p != NULL && w->noted < p->n && p->time[w->noted] - w->from < end)
      until = p->time[w->noted] - w->from;
    status = go_on(w, until, air + slope * (w->t - began), slope, err);
    note_profile(w);
  }
  return status;
}

static rw_status march(run *w, const rw_history *air, double to, rw_error *err)
{
  const double *time, *temperature;
  size_t n = rw_history_points(air, &time, &temperature, NULL);
  rw_status status = RW_OK;
  note_profile(w);
  for (size_t i = 0; status == RW_OK && i + 1 < n; i++) {
    double t0 = fmax(time[i], w->from), t1 = fmin(time[i + 1], to);
    if (!(t1 > t0))
      continue;
    double slope = (temperature[i + 1] - temperature[i]) / (time[i + 1] - time[i]);
    status = along_piece(w, t1 - w->from, temperature[i] + slope * (t0 - time[i]), slope, err);
  }
  return status;
}

static void first_and_last(const double *time, size_t n, double from, double *first, double *last)
{
  *first = HUGE_VAL;
  *last = -HUGE_VAL;
  for (size_t i = 0; i < n; i++) {
    *first = fmin(*first, time[i] + from);
    *last = fmax(*last, time[i] + from);
  }
}

static void sum_up(run *w)
{
  const slab_cells *c = &w->cells;
  rw_slab_result *r = &w->result;
  size_t resin = c->n - c->first;
  first_and_last(w->thick, resin, w->from, &r->work_end_first, &r->work_end_last);
  first_and_last(w->gel, resin, w->from, &r->gel_first, &r->gel_last);
  r->cure_least = 1;
  r->cure_greatest = 0;
  for (size_t i = 0; i < c->n; i++) {
    r->stored += c->store[i] * (c->now.T[i] - w->start_T[i]);
    if (i < c->first)
      continue;
    double a = fmin(fmax(c->now.a[i], 0), 1);
    r->cure_least = fmin(r->cure_least, a);
    r->cure_greatest = fmax(r->cure_greatest, a);
    r->released += c->store[i] * c->gain * (c->now.a[i] - w->start_a);
  }
  double scale = fmax(fmax(fabs(r->released), fabs(r->stored)), fabs(r->lost));
  r->balance = scale > 0 ? (r->stored + r->lost - r->released) / scale : 0;
  r->peak_time += w->from;
}

static void begin(run *w)
{
  const slab_cells *c = &w->cells;
  for (size_t i = 0; i < c->n - c->first; i++) {
    w->thick[i] = viscosity_over(w->resin, w->start_a, w->slab->resin_start) >= 0 ? 0 : HUGE_VAL;
    w->gel[i] = w->start_a >= w->resin->flow.a_gel ? 0 : HUGE_VAL;
  }
  w->result.peak = w->slab->resin_start;
  w->result.peak_depth = depth_of(w->slab, c->n - 1);
  w->wish = 1;
}

static rw_status run_all(run *w, const rw_history *air, double to, double *memory, rw_error *err)
{
  slab_cells *c = &w->cells;
  size_t rows = w->profile != NULL ? w->profile->n : 0;
  w->start_T = memory;
  w->thick = w->start_T + c->n;
  w->gel = w->thick + c->n;
  w->noted_T = w->gel + c->n;
  w->noted_a = w->noted_T + rows * c->n;
  c->gain = w->resin->heat / w->resin->heat_capacity;
  c->tolerance = w->slab->tolerance;
  fill_cells(w);
  begin(w);
  rw_status status = march(w, air, to, err);
  if (status != RW_OK)
    return status;
  sum_up(w);
  if (rows == 0)
    return RW_OK;
  memcpy(w->profile->temperature, w->noted_T, rows * c->n * sizeof *w->noted_T);
  if (w->profile->cure != NULL)
    memcpy(w->profile->cure, w->noted_a, rows * c->n * sizeof *w->noted_a);
  return RW_OK;
}

static rw_status check_all(const rw_resin *r, const rw_slab *s, const rw_history *air, double from,
                           double to, const rw_slab_profile *p, const rw_slab_result *out,
                           heat_law *law, rw_error *err)
{
  rw_status status = heat_given(FUNCTION, "r", r, err);
  if (status == RW_OK)
    status = heat_given(FUNCTION, "s", s, err);
  if (status == RW_OK)
    status = heat_given(FUNCTION, "air", air, err);
  if (status == RW_OK)
    status = heat_given(FUNCTION, "out", out, err);
  if (status != RW_OK)
    return status;
  rw_status checked = rw_resin_check(r, err);
  if (checked < 0)
    return checked;
  status = check_slab(s, err);
  if (status == RW_OK)
    status = check_times(air, from, to, err);
  if (status == RW_OK)
    status = check_profile(p, from, to, err);
  if (status == RW_OK)
    status = heat_law_make(FUNCTION, &r->law, s->cure_start, law, err);
  return status == RW_OK ? checked : status;
}

rw_status rw_slab_run(const rw_resin *r, const rw_slab *s, const rw_history *air, double from,
                      double to, const rw_slab_profile *profile, rw_slab_result *out,
                      rw_error *err)
{
  heat_law law = {0};
  rw_status checked = check_all(r, s, air, from, to, profile, out, &law, err);
  if (checked < 0)
    return checked;
  run w = {.resin = r, .slab = s, .from = from, .profile = profile, .start_a = s->cure_start};
  size_t rows = profile != NULL ? profile->n : 0;
  if (!slab_cells_make(&w.cells, wood_cells(s), resin_cells(s)))
    return heat_no_memory(FUNCTION, err);
  w.cells.law = law;
  double *memory = malloc((3 + 2 * rows) * w.cells.n * sizeof *memory);
  rw_status status =
      memory != NULL ? run_all(&w, air, to, memory, err) : heat_no_memory(FUNCTION, err);
  free(memory);
  slab_cells_free(&w.cells);
  if (status != RW_OK)
    return status;
  *out = w.result;
  return w.too_hot ? RW_OUTSIDE_TESTED : checked;
}
