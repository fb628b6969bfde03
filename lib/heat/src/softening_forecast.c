/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Softening of a hull after all it went through, with its spread. */
#include "refuse.h"

#include <resinwright/heat.h>
#include <resinwright/num.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { MOST_DRAWS = 100000 };
static const double JUST_BELOW_FULL = 1 - 1e-9;
static const char FORECAST[] = "rw_softening_forecast", THROUGH[] = "rw_cure_through";

/* What comes of a draw, each a column of its own. */
enum { CURE, TG, WORST, WORST_TIME, SOFT, RESULTS };

const char *rw_heat_because(int because)
{
  switch (because) {
  case RW_HEAT_PLATEAU:
    return "how far a cold cure goes";
  case RW_HEAT_GLASS:
    return "the glass transition of the fully cured resin";
  default:
    return because <= RW_HEAT_TEMPERATURE ? rw_forecast_because(because) : "";
  }
}

rw_status rw_softening_spread_of(const char *class_, double temperature_sd,
                                 rw_softening_spread *out, rw_error *err)
{
  const rw_material *m;
  const rw_property *plateau, *glass;
  rw_status status = heat_given("rw_softening_spread_of", "out", out, err);
  if (status == RW_OK)
    status = rw_material_find(RW_RESIN, class_, &m, err);
  if (status == RW_OK)
    status = rw_material_property(m, "diffusion_conversion", &plateau, err);
  if (status == RW_OK)
    status = rw_material_property(m, "Tg_inf", &glass, err);
  if (status == RW_OK)
    *out = (rw_softening_spread){temperature_sd, plateau->sd, glass->sd};
  return status;
}

/* --- periods -------------------------------------------------------------------------------- */

/* All periods, gone through in order. */
typedef struct journey {
  const char *function;
  const rw_period *period;
  size_t n;
  double start;
} journey;

/* "period[2].hull" */
static void name_of(size_t i, const char *member, char *to, size_t size)
{
  snprintf(to, size, "period[%zu].%s", i + 1, member);
}

static rw_status out_of_order(const journey *j, size_t i, const char *member, const char *what,
                              const char *hint, rw_error *err)
{
  char name[64];
  name_of(i, member, name, sizeof name);
  return rw_error_set(err, RW_ERR_ORDER, j->function, name, hint, "%s %s", name, what);
}

static rw_status check_period(const journey *j, size_t i, rw_error *err)
{
  const rw_period *p = &j->period[i];
  char name[64];
  name_of(i, "hull", name, sizeof name);
  rw_status status = heat_given(j->function, name, p->hull, err);
  if (status != RW_OK)
    return status;
  if (i > 0 && !(p->from >= p[-1].to))
    return out_of_order(j, i, "from", "lies before the end of what went before",
                        "Write the periods in order, none beginning before the last one ended.",
                        err);
  if (!(p->to > p->from))
    return out_of_order(j, i, "to", "does not lie after from",
                        "The beginning is from, the end is to.", err);
  return RW_OK;
}

static rw_status check_journey(const journey *j, const rw_resin *r, rw_error *err)
{
  rw_status status = heat_given(j->function, "r", r, err);
  if (status == RW_OK && j->n > 0)
    status = heat_given(j->function, "period", j->period, err);
  if (status == RW_OK && !(j->start >= 0 && j->start < 1))
    status =
        rw_error_range(err, j->function, "start", j->start, 0, 1, "",
                       "A degree of cure is a share: 0 is liquid, 1 fully cured, where nothing is "
                       "left to follow.");
  for (size_t i = 0; status == RW_OK && i < j->n; i++)
    status = check_period(j, i, err);
  return status == RW_OK ? rw_resin_check(r, err) : status;
}

/* Says which period a refusal is about. */
static rw_status in_period(const journey *j, size_t i, rw_status status, rw_error *err)
{
  if (err == NULL || status != RW_ERR_COVERAGE)
    return status;
  char name[64];
  rw_error cause = *err;
  name_of(i, "hull", name, sizeof name);
  rw_error_set(err, status, j->function, name, cause.hint, "%s: %s", name, cause.message);
  err->value = cause.value;
  err->low = cause.low;
  err->high = cause.high;
  return status;
}

/* Degree of cure at the end of a period, as rw_softening_along finds it. */
static rw_status cure_after(const rw_resin *r, const rw_history *hull, const rw_period *p,
                            double start, double *cure, rw_error *err)
{
  const double tolerance = 1e-9;
  rw_cure_path *path = NULL;
  rw_status status = rw_cure_run(&r->law, hull, p->from, p->to, start, tolerance, &path, err);
  if (status < 0)
    return status;
  status = rw_cure_at(path, p->to, cure, NULL, NULL, err);
  rw_cure_path_destroy(path);
  return status;
}

static rw_status too_far(const journey *j, rw_error *err)
{
  return rw_error_set(err, RW_ERR_RANGE, j->function, "spread.temperature_sd",
                      "Take a smaller one, or look at the temperatures of the hull.",
                      "spread.temperature_sd takes a draw of the hull beyond -73 to 227 degC");
}

/* Through one period, the hull warmer by `shift` throughout; NULL for `soft`: the cure alone. */
static rw_status go_through(const journey *j, size_t i, const rw_resin *r, double shift,
                            double *cure, rw_softening *soft, rw_error *err)
{
  const rw_period *p = &j->period[i];
  rw_history *shifted = NULL;
  rw_status status = shift != 0 ? rw_history_shift(p->hull, shift, &shifted, err) : RW_OK;
  if (status == RW_ERR_RANGE)
    return too_far(j, err);
  const rw_history *hull = shift != 0 ? shifted : p->hull;
  if (status >= 0 && soft == NULL)
    status = cure_after(r, hull, p, *cure, cure, err);
  else if (status >= 0)
    status = rw_softening_along(r, hull, p->from, p->to, *cure, soft, err);
  rw_history_destroy(shifted);
  return in_period(j, i, status, err);
}

/* Through the first n periods. */
static rw_status cure_through(const journey *j, size_t n, const rw_resin *r, double shift,
                              double *cure, rw_error *err)
{
  rw_status status = RW_OK;
  *cure = j->start;
  for (size_t i = 0; status >= 0 && i < n; i++) {
    status = go_through(j, i, r, shift, cure, NULL, err);
    *cure = fmin(*cure, JUST_BELOW_FULL);
  }
  return status;
}

/* Softening in the last period after all others. */
static rw_status soften(const journey *j, const rw_resin *r, double shift, rw_softening *out,
                        rw_error *err)
{
  double cure;
  rw_status status = cure_through(j, j->n - 1, r, shift, &cure, err);
  return status < 0 ? status : go_through(j, j->n - 1, r, shift, &cure, out, err);
}

rw_status rw_cure_through(const rw_resin *r, const rw_period *period, size_t n, double start,
                          double *cure, rw_error *err)
{
  const journey j = {THROUGH, period, n, start};
  rw_status checked = heat_given(THROUGH, "cure", cure, err);
  if (checked == RW_OK)
    checked = check_journey(&j, r, err);
  if (checked < 0)
    return checked;
  double found;
  rw_status status = cure_through(&j, n, r, 0, &found, err);
  if (status < 0)
    return status;
  *cure = found;
  return checked;
}

/* --- draws ---------------------------------------------------------------------------------- */

/* The resin as one draw has it. */
static rw_resin drawn(const rw_resin *r, const rw_softening_spread *s, const double *z)
{
  rw_resin d = *r;
  d.law =
      rw_cure_law_moved(&r->law, z[RW_HEAT_RATE] * r->rate_sd, z[RW_HEAT_ENERGY] * r->energy_sd);
  d.law.ac0 += z[RW_HEAT_PLATEAU] * s->plateau_sd;
  d.glass.Tg_inf = fmax(d.glass.Tg_inf + z[RW_HEAT_GLASS] * s->glass_sd, d.glass.Tg0 + 1);
  return d;
}

/* The results of n draws, column after column, and what was drawn, row after row. */
static rw_status draw_all(const journey *j, const rw_resin *r, const rw_softening_spread *spread,
                          size_t n, unsigned long seed, double *z, double *column, rw_error *err)
{
  rw_draws *stream = NULL;
  rw_status status = rw_draws_create(RW_HEAT_UNKNOWNS, seed, &stream, err);
  for (size_t i = 0; status >= 0 && i < n; i++) {
    double *here = z + i * RW_HEAT_UNKNOWNS;
    rw_softening s = {0};
    rw_draws_next(stream, here);
    const rw_resin one = drawn(r, spread, here);
    status = soften(j, &one, here[RW_HEAT_TEMPERATURE] * spread->temperature_sd, &s, err);
    column[CURE * n + i] = s.cure;
    column[TG * n + i] = s.Tg;
    column[WORST * n + i] = s.worst;
    column[WORST_TIME * n + i] = s.worst_time;
    column[SOFT * n + i] = s.soft;
  }
  rw_draws_destroy(stream);
  return status;
}

/* Sorts the column. */
static void set_range(rw_heat_range *range, const double *z, double *column, size_t n)
{
  range->because = rw_num_closest(n, z, RW_HEAT_UNKNOWNS, column);
  rw_num_sort(column, n);
  range->low = rw_num_quantile(column, n, 0.05);
  range->high = rw_num_quantile(column, n, 0.95);
}

static double share_above_zero(const double *x, size_t n)
{
  size_t above = 0;
  for (size_t i = 0; i < n; i++)
    above += x[i] > 0;
  return (double)above / (double)n;
}

static rw_heat_range no_spread(double value)
{
  return (rw_heat_range){value, value, value, -1};
}

static rw_status spread_out(const journey *j, const rw_resin *r, const rw_softening_spread *spread,
                            size_t n, unsigned long seed, rw_softening_outlook *out, rw_error *err)
{
  double *z = malloc(n * (RW_HEAT_UNKNOWNS + RESULTS) * sizeof *z);
  if (z == NULL)
    return heat_no_memory(FORECAST, err);
  double *column = z + n * RW_HEAT_UNKNOWNS;
  rw_status status = draw_all(j, r, spread, n, seed, z, column, err);
  if (status >= 0) {
    out->chance = share_above_zero(column + WORST * n, n);
    set_range(&out->cure, z, column + CURE * n, n);
    set_range(&out->Tg, z, column + TG * n, n);
    set_range(&out->worst, z, column + WORST * n, n);
    set_range(&out->worst_time, z, column + WORST_TIME * n, n);
    set_range(&out->soft, z, column + SOFT * n, n);
  }
  free(z);
  return status;
}

static rw_status check_forecast(const journey *j, const rw_resin *r,
                                const rw_softening_spread *spread, size_t draws,
                                const rw_softening_outlook *out, rw_error *err)
{
  rw_status status = heat_given(FORECAST, "spread", spread, err);
  if (status == RW_OK)
    status = heat_given(FORECAST, "out", out, err);
  if (status != RW_OK)
    return status;
  const heat_bound bounds[] = {
      {"n", (double)j->n, 1, HUGE_VAL, "", "Give at least one period."},
      {"spread.temperature_sd", spread->temperature_sd, 0, 20, "K apart",
       "A hull is known to 1 or 2 K (common practice, no source)."},
      {"spread.plateau_sd", spread->plateau_sd, 0, 1, "", NULL},
      {"spread.glass_sd", spread->glass_sd, 0, 50, "K apart", NULL},
      {"draws", (double)draws, 0, MOST_DRAWS, "", "256 is plenty."},
  };
  status = heat_bounds(FORECAST, bounds, sizeof bounds / sizeof *bounds, err);
  return status == RW_OK ? check_journey(j, r, err) : status;
}

rw_status rw_softening_forecast(const rw_resin *r, const rw_period *period, size_t n, double start,
                                const rw_softening_spread *spread, size_t draws,
                                unsigned long seed, rw_softening_outlook *out, rw_error *err)
{
  const journey j = {FORECAST, period, n, start};
  rw_status checked = check_forecast(&j, r, spread, draws, out, err);
  if (checked < 0)
    return checked;
  rw_softening best = {0};
  rw_status status = soften(&j, r, 0, &best, err);
  rw_softening_outlook found = {.cure = no_spread(best.cure),
                                .Tg = no_spread(best.Tg),
                                .worst = no_spread(best.worst),
                                .worst_time = no_spread(best.worst_time),
                                .soft = no_spread(best.soft),
                                .chance = NAN};
  if (status >= 0 && draws > 0)
    status = spread_out(&j, r, spread, draws, seed, &found, err);
  if (status < 0)
    return status;
  *out = found;
  return checked;
}
