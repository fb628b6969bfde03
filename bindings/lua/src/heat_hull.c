/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether a hull softens along what it goes through, and the ramp of a post-cure that does not
 * soften it, each with the spread of its class. */
#include "heat.h"

#include "reading.h"

#include <stdio.h>

static const double JUST_BELOW_FULL = 1.0 - 1e-9;

/* What a hull goes through. */
typedef struct period {
  const rw_history *hull;
  double from, to;
} period;

/* --- what it goes through ------------------------------------------------------------------- */

/* Name of a field of period i of the n in `earlier`, or of the one in the arguments themselves. */
static const char *place_of(lua_State *L, size_t i, size_t n, const char *name)
{
  return i < n ? lua_pushfstring(L, "earlier[%d].%s", (int)i + 1, name) : lua_pushstring(L, name);
}

static int refuse(lua_State *L, rw_status code, const char *argument, const char *message,
                  const char *hint)
{
  rwl_refusal r = {code, argument, message, NULL, hint, 0, 0};
  return rwl_refuse(L, &r);
}

/* Hours left out are those of the history. */
static period read_period(lua_State *L)
{
  double first, last;
  period p = {.hull = rwl_history_in(L, rwl_get_object(L, "hull"))};
  rw_history_span(p.hull, &first, &last);
  p.from = rwl_get_quantity(L, "from", first);
  p.to = rwl_get_quantity(L, "to", last);
  return p;
}

static void check_begin(lua_State *L, const period *p, size_t i, size_t n)
{
  if (i == 0 || p[i].from >= p[i - 1].to)
    return;
  const char *place = place_of(L, i, n, "from");
  refuse(L, RW_ERR_ORDER, place,
         lua_pushfstring(L, "%s lies before the end of what went before", place),
         "write the periods in order, none beginning before the last one ended");
}

static void check_end(lua_State *L, const period *p, size_t i, size_t n)
{
  if (p[i].to > p[i].from)
    return;
  const char *place = place_of(L, i, n, "to");
  refuse(L, RW_ERR_ORDER, place, lua_pushfstring(L, "%s does not lie after from", place),
         "the beginning is from, the end is to");
}

/* The earlier periods, with room for one more. */
static period *read_earlier(lua_State *L, size_t *n)
{
  *n = rwl_get_count(L, "earlier");
  period *p = lua_newuserdatauv(L, (*n + 1) * sizeof *p, 0);
  for (size_t i = 0; i < *n; i++) {
    rwl_open(L, "earlier", i);
    p[i] = read_period(L);
    rwl_close(L);
    check_begin(L, p, i, *n);
    check_end(L, p, i, *n);
  }
  return p;
}

/* --- draws ---------------------------------------------------------------------------------- */

/* What is drawn, the first three as in a forecast. */
enum { RATE, ENERGY, TEMPERATURE, PLATEAU, GLASS, UNKNOWNS };

static const char *name_of(int unknown)
{
  return unknown == PLATEAU ? "how far a cold cure goes"
         : unknown == GLASS ? "the glass transition of the fully cured resin"
                            : rw_forecast_because(unknown);
}

/* What comes of a draw, each a column of its own. */
enum { CURE, TG, WORST, SOFT, RESULTS };

typedef struct asked {
  const rwl_resin *resin;
  double start;
  const period *period;
  size_t periods;
  rwl_draws draws;
  rwl_history *shifted; /* keeps a shifted history where Lua frees it */
} asked;

/* Standard deviation in the material tables of the class, 0 where they do not say. */
static double class_sd(const rwl_resin *r, const char *name)
{
  const rw_material *m;
  const rw_property *p;
  if (rw_material_find(RW_RESIN, r->name, &m, NULL) != RW_OK ||
      rw_material_property(m, name, &p, NULL) != RW_OK)
    return 0.0;
  return p->sd;
}

static double allowed_energy(double E)
{
  return fmin(fmax(E, 10e3), 300e3);
}

static rw_resin drawn(const asked *q, const double z[UNKNOWNS])
{
  rw_resin r = q->resin->resin;
  double rate = exp(z[RATE] * r.rate_sd), more = z[ENERGY] * r.energy_sd;
  r.law.k1 *= rate;
  r.law.k2 *= rate;
  r.law.k3 *= rate;
  r.law.E1 = allowed_energy(r.law.E1 + more);
  r.law.E2 = allowed_energy(r.law.E2 + more);
  r.law.E3 = allowed_energy(r.law.E3 + more);
  r.law.ac0 += z[PLATEAU] * class_sd(q->resin, "diffusion_conversion");
  double warmer = z[GLASS] * class_sd(q->resin, "Tg_inf");
  r.glass.Tg_inf = fmax(r.glass.Tg_inf + warmer, r.glass.Tg0 + 1.0);
  return r;
}

/* Degree of cure at the end of a period, as rw_softening_along finds it. */
static rw_status cure_after(const rw_resin *r, const rw_history *hull, const period *p,
                            double start, rw_softening *out, rw_error *err)
{
  const double tolerance = 1e-9;
  rw_cure_path *path = NULL;
  rw_status status = rw_cure_run(&r->law, hull, p->from, p->to, start, tolerance, &path, err);
  if (status < 0)
    return status;
  status = rw_cure_at(path, p->to, &out->cure, NULL, NULL, err);
  rw_cure_path_destroy(path);
  return status;
}

/* Softening in the last period after all others, the hull warmer by `shift` throughout; `at` is
 * the period it came to. */
static rw_status go_through(const asked *q, const rw_resin *r, double shift, rw_softening *out,
                            size_t *at, rw_error *err)
{
  double start = q->start;
  rw_status status = RW_OK;
  for (size_t i = 0; status >= 0 && i < q->periods; i++) {
    const period *p = &q->period[i];
    const rw_history *hull = p->hull;
    *at = i;
    if (shift != 0.0) {
      status = rw_history_shift(p->hull, shift, &q->shifted->h, err);
      if (status < 0)
        return status;
      hull = q->shifted->h;
    }
    status = i + 1 < q->periods ? cure_after(r, hull, p, start, out, err)
                                : rw_softening_along(r, hull, p->from, p->to, start, out, err);
    rw_history_destroy(q->shifted->h);
    q->shifted->h = NULL;
    start = fmin(out->cure, JUST_BELOW_FULL);
  }
  return status;
}

static rw_status check_went(lua_State *L, rw_status status, rw_error *err, size_t i, size_t n)
{
  if (status >= 0)
    return status;
  const char *hull = place_of(L, i, n, "hull");
  if (status == RW_ERR_COVERAGE) {
    const char *message = lua_pushfstring(L, "%s: %s", hull, err->message);
    snprintf(err->message, sizeof err->message, "%s", message);
  }
  const rwl_alias alias[] = {{"time", hull},
                             {"to", place_of(L, i, n, "to")},
                             {"from", place_of(L, i, n, "from")},
                             {"delta", "temperature_sd"},
                             {NULL, NULL}};
  return rwl_check_as(L, status, err, alias);
}

/* All vectors of the stream, which is gone again before anything is raised. */
static void fill_draws(lua_State *L, const rwl_draws *d, double *z)
{
  rw_error err = {0};
  rw_draws *stream = NULL;
  rw_status status = rw_draws_create(UNKNOWNS, d->seed, &stream, &err);
  for (size_t i = 0; status >= 0 && i < d->count; i++)
    rw_draws_next(stream, z + i * UNKNOWNS);
  rw_draws_destroy(stream);
  rwl_check(L, status, &err);
}

/* The unknown that goes most closely with a column; NULL where the column is all the same. */
static const char *largest(const double *z, const double *x, size_t n)
{
  double best = 0.0;
  const char *because = NULL;
  for (int k = 0; k < UNKNOWNS; k++) {
    double sz = 0, sx = 0, szz = 0, szx = 0, sxx = 0, count = (double)n;
    for (size_t i = 0; i < n; i++) {
      double a = z[i * UNKNOWNS + (size_t)k], b = x[i] - x[0];
      sz += a;
      sx += b;
      szz += a * a;
      szx += a * b;
      sxx += b * b;
    }
    double cov = szx * count - sz * sx;
    double share = cov * cov / ((szz * count - sz * sz) * (sxx * count - sx * sx));
    if (share > best) {
      best = share;
      because = name_of(k);
    }
  }
  return because;
}

/* An interval of a result. */
typedef struct spread {
  double low, high;
  const char *because;
} spread;

/* Sorts the column. */
static spread spread_of(const double *z, double *x, size_t n)
{
  spread s = {.because = largest(z, x, n)};
  rw_num_sort(x, n);
  s.low = rw_num_quantile(x, n, 0.05);
  s.high = rw_num_quantile(x, n, 0.95);
  return s;
}

static double share_above_zero(const double *x, size_t n)
{
  size_t above = 0;
  for (size_t i = 0; i < n; i++)
    above += x[i] > 0.0;
  return (double)above / (double)n;
}

static void run_draws(lua_State *L, const asked *q, const double *z, double *x, size_t earlier)
{
  size_t n = q->draws.count, at = 0;
  for (size_t i = 0; i < n; i++) {
    rw_error err = {0};
    rw_softening s = {0};
    const double *here = z + i * UNKNOWNS;
    rw_resin r = drawn(q, here);
    check_went(L, go_through(q, &r, here[TEMPERATURE] * q->draws.temperature_sd, &s, &at, &err),
               &err, at, earlier);
    x[CURE * n + i] = s.cure;
    x[TG * n + i] = s.Tg;
    x[WORST * n + i] = s.worst;
    x[SOFT * n + i] = s.soft;
  }
}

/* Sets the results in the table on the top of the stack; `earlier` periods come from there. */
static void set_softening(lua_State *L, const asked *q, const rw_softening *best, size_t earlier)
{
  size_t n = q->draws.count;
  int table = lua_gettop(L);
  const double value[RESULTS] = {best->cure, best->Tg, best->worst, best->soft};
  spread s[RESULTS];
  for (int k = 0; k < RESULTS; k++)
    s[k] = (spread){value[k], value[k], NULL};
  if (n > 0) {
    double *z = lua_newuserdatauv(L, n * (UNKNOWNS + RESULTS) * sizeof *z, 0),
           *x = z + n * UNKNOWNS;
    fill_draws(L, &q->draws, z);
    run_draws(L, q, z, x, earlier);
    lua_settop(L, table + 1); /* keeps the room */
    lua_pushvalue(L, table);
    rwl_set_number(L, "chance", share_above_zero(x + WORST * n, n));
    for (int k = 0; k < RESULTS; k++)
      s[k] = spread_of(z, x + (size_t)k * n, n);
    lua_settop(L, table);
  }
  rwl_push_range(L, "", value[CURE], s[CURE].low, s[CURE].high, s[CURE].because);
  lua_setfield(L, table, "cure");
  rwl_push_temperature_range(L, value[TG], s[TG].low, s[TG].high, s[TG].because);
  lua_setfield(L, table, "glass");
  rwl_push_range(L, "K", value[WORST], s[WORST].low, s[WORST].high, s[WORST].because);
  lua_setfield(L, table, "worst");
  rwl_push_range(L, "s", value[SOFT], s[SOFT].low, s[SOFT].high, s[SOFT].because);
  lua_setfield(L, table, "soft_for");
  rwl_set_clock(L, "worst_at", best->worst_time);
}

static rwl_draws read_draws(lua_State *L)
{
  rwl_draws d = rwl_get_draws(L);
  if (d.temperature_sd >= 0.0 && d.temperature_sd <= 20.0)
    return d;
  rw_error err;
  rw_error_range(&err, "", "temperature_sd", d.temperature_sd, 0.0, 20.0, "K",
                 "The readings of a shop are seldom off by more than 2 K.");
  rwl_throw(L, &err);
}

/* --- softening ------------------------------------------------------------------------------ */

int rwl_softening(lua_State *L)
{
  rw_error err = {0};
  rwl_warning warning;
  rw_softening best = {0};
  size_t earlier, at = 0;
  period *p = read_earlier(L, &earlier);
  p[earlier] = read_period(L);
  check_begin(L, p, earlier, earlier);
  check_end(L, p, earlier, earlier);
  asked q = {.resin = rwl_self(L),
             .start = rwl_get_quantity(L, "start", 0.0),
             .period = p,
             .periods = earlier + 1,
             .draws = read_draws(L),
             .shifted = rwl_push_object(L, RWL_HISTORY, sizeof *q.shifted)};
  rw_status status = go_through(&q, &q.resin->resin, 0.0, &best, &at, &err);
  check_went(L, status, &err, at, earlier);
  rwl_keep(L, &warning, status, &err);
  lua_newtable(L);
  set_softening(L, &q, &best, earlier);
  rwl_set_warnings(L, &warning);
  return 1;
}

/* --- post-cure ------------------------------------------------------------------------------ */

static const rwl_told plan_told[] = {
    {"most", "place.most", "degC", "Epoxy on wood is seldom warmed above 80 degC."},
    {"rest", "place.rest", "degC", "The place is at least as warm as the hull at rest."},
    {"span", "place.span", "h", "It is how long a session lasts, such as \"8 h\"."},
    {"sessions", "place.sessions", NULL, NULL},
    {"period", "place.period", "h", "A session ends before the next one starts."},
    {"heating", "place.heating", "K/h", "10 K/h is slow enough for most hulls."},
    {"cooling", "place.cooling", "K/h", "10 K/h is slow enough for most hulls."},
    {"step", "place.step", "h", "It is how often the setting is changed, such as \"30 min\"."},
    {"cure", "start", NULL, NULL},
    {"target", "target", "degC",
     "No cure takes a resin beyond its own greatest glass transition."},
    {NULL, NULL, NULL, NULL}};

static rw_place read_place(lua_State *L)
{
  rwl_open(L, "place", 0);
  lua_Integer sessions = rwl_get_integer(L, "sessions", 1);
  rw_place place = {.most = rwl_get_quantity(L, "most", 0.0),
                    .span = rwl_get_quantity(L, "span", 0.0),
                    .sessions = sessions > 0 ? (size_t)sessions : 0,
                    .period = rwl_get_quantity(L, "period", 0.0),
                    .rest = rwl_get_quantity(L, "rest", 0.0),
                    .heating = rwl_get_quantity(L, "heating", 0.0),
                    .cooling = rwl_get_quantity(L, "cooling", 0.0),
                    .step = rwl_get_quantity(L, "step", 0.0)};
  rwl_close(L);
  return place;
}

static double read_below(lua_State *L)
{
  const double least = -30.0, most = 60.0;
  double below = rwl_get_quantity(L, "below", -RW_POSTCURE_MARGIN);
  if (below >= least && below <= most)
    return below;
  rw_error err;
  rw_error_range(&err, "", "below", below, least, most, "K",
                 "It is how far the hull stays below its glass transition; 5 K is usual.");
  rwl_throw(L, &err);
}

/* How far the hull is cured after the earlier periods. */
static double cure_now(lua_State *L, const asked *q)
{
  rw_error err = {0};
  rw_softening now = {.cure = q->start};
  size_t at = 0;
  check_went(L, go_through(q, &q->resin->resin, 0.0, &now, &at, &err), &err, at, q->periods);
  return q->periods > 0 ? fmin(now.cure, JUST_BELOW_FULL) : q->start;
}

static void check_known(lua_State *L)
{
  if (!rwl_has(L, "start") && rwl_get_count(L, "earlier") == 0)
    refuse(L, RW_ERR_ARGUMENT, "earlier",
           "earlier is missing, and start too: it is not known how far the hull is cured",
           "earlier: what it went through since it was laid; or start: its degree of cure");
}

static void set_ramp(lua_State *L, const rw_history *ramp)
{
  const double *time, *temperature;
  size_t n = rw_history_points(ramp, &time, &temperature, NULL);
  lua_createtable(L, (int)n, 0);
  for (size_t i = 0; i < n; i++) {
    lua_newtable(L);
    rwl_set_clock(L, "at", time[i]);
    rwl_set_temperature(L, "temperature", temperature[i]);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_setfield(L, -2, "ramp");
}

static void set_plan(lua_State *L, const rw_postcure *p)
{
  rwl_set_clock(L, "reached_at", p->time);
  rwl_set_clock(L, "most_at", p->first_most);
  rwl_set_quantity(L, "soft_start", "s", p->soft_start);
  rwl_set_quantity(L, "hold", "s", p->hold);
  rwl_set_time(L, "unbroken", p->unbroken);
  rwl_set_temperature(L, "month", p->month);
  if (isfinite(p->needed))
    rwl_set_temperature(L, "needed", p->needed);
}

static void set_why(lua_State *L, const rw_error *err)
{
  lua_pushfstring(L, "%s. %s", err->message, err->hint);
  lua_setfield(L, -2, "why");
}

int rwl_post_cure(lua_State *L)
{
  rw_error err = {0};
  rwl_warning warning = {""};
  rw_postcure plan;
  size_t earlier;
  check_known(L);
  period *p = read_earlier(L, &earlier);
  const rw_place place = read_place(L);
  double below = read_below(L), from = rwl_get_quantity(L, "from", 0.0),
         target = rwl_get_quantity(L, "target", 0.0);
  p[earlier] = (period){.from = from};
  check_begin(L, p, earlier, earlier);
  asked q = {.resin = rwl_self(L),
             .start = rwl_get_quantity(L, "start", 0.0),
             .period = p,
             .periods = earlier,
             .draws = read_draws(L),
             .shifted = rwl_push_object(L, RWL_HISTORY, sizeof *q.shifted)};
  double now = cure_now(L, &q);
  rwl_history *ramp = rwl_push_object(L, RWL_HISTORY, sizeof *ramp);
  int ramp_index = lua_gettop(L);
  rw_status status =
      rw_postcure_plan(&q.resin->resin, &place, now, -below, target, from, &plan, &ramp->h, &err);
  rwl_check_told(L, status, &err, plan_told);
  p[earlier].hull = ramp->h;
  rw_history_span(ramp->h, NULL, &p[earlier].to);
  q.periods = earlier + 1;
  if (status == RW_OUTSIDE_TESTED)
    rwl_keep(L, &warning, status, &err);
  rw_softening along = {0};
  rw_error unused = {0};
  size_t at = 0;
  check_went(L, go_through(&q, &q.resin->resin, 0.0, &along, &at, &unused), &unused, at, earlier);
  lua_newtable(L);
  set_softening(L, &q, &along, earlier);
  set_plan(L, &plan);
  set_ramp(L, ramp->h);
  lua_pushvalue(L, ramp_index);
  lua_setfield(L, -2, "history");
  if (status == RW_NO_SOLUTION)
    set_why(L, &err);
  rwl_set_warnings(L, &warning);
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

#define PERIOD_FIELDS                                                                             \
  RWL_NEED("hull", RWL_OBJECT, RWL_HISTORY, "temperature of the hull"),                           \
      RWL_MAY("from", RWL_CLOCK, "", NULL, "beginning; left out, the first reading"),             \
      RWL_MAY("to", RWL_CLOCK, "", NULL, "end; left out, the last reading")

static const rwl_field period_fields[] = {
    PERIOD_FIELDS,
    RWL_END_FIELDS,
};

#define EARLIER_FIELDS                                                                            \
  RWL_MAY_RECORDS("earlier", period_fields,                                                       \
                  "what the hull went through before, in order, from the laying of the resin "    \
                  "on; what lies between two periods is left out"),                               \
      RWL_MAY("start", RWL_NUMBER, "", NULL,                                                      \
              "degree of cure at the very beginning; left out, 0, fresh resin")

const rwl_field rwl_softening_fields[] = {
    PERIOD_FIELDS,
    EARLIER_FIELDS,
    RWL_DRAW_FIELDS("256"),
    RWL_END_FIELDS,
};

static const rwl_field place_fields[] = {
    RWL_NEED("most", RWL_TEMPERATURE, "", "warmest the hull gets there"),
    RWL_NEED("span", RWL_QUANTITY, "s", "heating and holding in a session, such as \"8 h\""),
    RWL_NEED("rest", RWL_TEMPERATURE, "", "temperature before, between and after"),
    RWL_MAY("sessions", RWL_INTEGER, "", "1", "how often it is to be had, 1 to 60"),
    RWL_MAY("period", RWL_QUANTITY, "s", "1 d", "from the start of a session to the next one's"),
    RWL_MAY("heating", RWL_QUANTITY, "K/s", "10 K/h",
            "fastest rise; slow, so that thick parts keep up (common practice, no source)"),
    RWL_MAY("cooling", RWL_QUANTITY, "K/s", "10 K/h", "fastest fall"),
    RWL_MAY("step", RWL_QUANTITY, "s", "30 min", "how often the setting is changed"),
    RWL_END_FIELDS,
};
const rwl_field rwl_post_cure_fields[] = {
    RWL_NEED("target", RWL_TEMPERATURE, "", "glass transition that is wanted"),
    RWL_NEED("from", RWL_CLOCK, "", "start of the first session"),
    RWL_NEED_RECORD("place", place_fields, "what heats the hull"),
    EARLIER_FIELDS,
    RWL_MAY("below", RWL_DIFFERENCE, "", "5 K",
            "how far the hull stays below its glass transition, for it gives some kelvin before "
            "(common practice, no source)"),
    RWL_DRAW_FIELDS("256"),
    RWL_END_FIELDS,
};
