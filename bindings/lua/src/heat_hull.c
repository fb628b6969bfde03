/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether a hull softens along what it goes through, and the ramp of a post-cure that does not
 * soften it, each with the spread of its class. */
#include "heat.h"

#include "reading.h"

#include <stdio.h>

/* --- what it goes through ------------------------------------------------------------------- */

/* Hours left out are those of the history. */
static rw_period read_period(lua_State *L)
{
  double first, last;
  rw_period p = {.hull = rwl_history_in(L, rwl_get_object(L, "hull"))};
  rw_history_span(p.hull, &first, &last);
  p.from = rwl_get_quantity(L, "from", first);
  p.to = rwl_get_quantity(L, "to", last);
  return p;
}

/* The earlier periods, with room for one more. */
static rw_period *read_earlier(lua_State *L, size_t *n)
{
  *n = rwl_get_count(L, "earlier");
  rw_period *p = rwl_block(L, *n + 1, sizeof *p);
  for (size_t i = 0; i < *n; i++) {
    rwl_open(L, "earlier", i);
    p[i] = read_period(L);
    rwl_close(L);
  }
  return p;
}

/* Raises where going through the periods failed; the one after `earlier` others stands in the
 * arguments themselves. */
static rw_status check_went(lua_State *L, rw_status status, rw_error *err, size_t earlier)
{
  char last[40];
  snprintf(last, sizeof last, "period[%zu]", earlier + 1);
  const rwl_alias alias[] = {
      {lua_pushfstring(L, "%s.hull", last), "hull"}, {lua_pushfstring(L, "%s.from", last), "from"},
      {lua_pushfstring(L, "%s.to", last), "to"},     {"period", "earlier[]"},
      {"spread.temperature_sd", "temperature_sd"},   {NULL, NULL}};
  rwl_check_as(L, status, err, alias);
  lua_pop(L, 3);
  return status;
}

/* --- softening ------------------------------------------------------------------------------ */

static const char *because_of(const rw_heat_range *r)
{
  return r->because >= 0 ? rw_heat_because(r->because) : NULL;
}

static void set_range(lua_State *L, const char *name, const char *unit, const rw_heat_range *r)
{
  rwl_push_range(L, unit, r->value, r->low, r->high, because_of(r));
  lua_setfield(L, -2, name);
}

/* Softening in the last of the periods, `earlier` and one more, into the table on the top. */
static rw_status set_softening(lua_State *L, const rw_period *p, size_t earlier, rw_error *err)
{
  const rwl_resin *r = rwl_self(L);
  const rwl_draws draws = rwl_get_draws(L);
  rw_softening_spread spread;
  rw_softening_outlook o;
  rwl_check(L, rw_softening_spread_of(r->name, draws.temperature_sd, &spread, err), err);
  rw_status status =
      rw_softening_forecast(&r->resin, p, earlier + 1, rwl_get_quantity(L, "start", 0.0), &spread,
                            draws.count, draws.seed, &o, err);
  check_went(L, status, err, earlier);
  set_range(L, "cure", "", &o.cure);
  rwl_push_temperature_range(L, o.Tg.value, o.Tg.low, o.Tg.high, because_of(&o.Tg));
  lua_setfield(L, -2, "glass");
  set_range(L, "worst", "K", &o.worst);
  set_range(L, "soft_for", "s", &o.soft);
  rwl_set_clock(L, "worst_at", o.worst_time.value);
  if (draws.count > 0)
    rwl_set_number(L, "chance", o.chance);
  return status;
}

int rwl_softening(lua_State *L)
{
  rw_error err = {0};
  rwl_warning warning;
  size_t earlier;
  rw_period *p = read_earlier(L, &earlier);
  p[earlier] = read_period(L);
  lua_newtable(L);
  rw_status status = set_softening(L, p, earlier, &err);
  rwl_keep(L, &warning, status, &err);
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
static double cure_now(lua_State *L, const rw_period *p, size_t earlier)
{
  rw_error err = {0};
  double cure;
  rw_status status = rw_cure_through(rwl_self_resin(L), p, earlier,
                                     rwl_get_quantity(L, "start", 0.0), &cure, &err);
  check_went(L, status, &err, earlier);
  return cure;
}

static void check_known(lua_State *L)
{
  if (rwl_has(L, "start") || rwl_get_count(L, "earlier") > 0)
    return;
  const rwl_refusal r = {
      .code = RW_ERR_ARGUMENT,
      .argument = "earlier",
      .message = "earlier is missing, and start too: it is not known how far the hull is cured",
      .hint = "earlier: what it went through since it was laid; or start: its degree of cure"};
  rwl_refuse(L, &r);
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
  rw_period *p = read_earlier(L, &earlier);
  const rw_place place = read_place(L);
  double below = read_below(L), from = rwl_get_quantity(L, "from", 0.0),
         target = rwl_get_quantity(L, "target", 0.0), now = cure_now(L, p, earlier);
  rwl_history *ramp = rwl_push_object(L, RWL_HISTORY, sizeof *ramp);
  int ramp_index = lua_gettop(L);
  rw_status status = rw_postcure_plan(rwl_self_resin(L), &place, now, -below, target, from, &plan,
                                      &ramp->h, &err);
  rwl_check_told(L, status, &err, plan_told);
  if (status == RW_OUTSIDE_TESTED)
    rwl_keep(L, &warning, status, &err);
  p[earlier] = (rw_period){.hull = ramp->h, .from = from};
  rw_history_span(ramp->h, NULL, &p[earlier].to);
  rw_error along = {0};
  lua_newtable(L);
  set_softening(L, p, earlier, &along);
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
