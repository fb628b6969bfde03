/* SPDX-License-Identifier: GPL-3.0-or-later */
/* When to mix, to coat and to start. */
#include "reading.h"

enum { MOST_BATCHES = 200, MOST_HOURS = 500 };

static const rw_resin *resin_of(lua_State *L)
{
  return &((const rwl_resin *)rwl_get_object(L, "resin"))->resin;
}

static const rw_history *history_of(lua_State *L, const char *name)
{
  return rwl_history_in(L, rwl_get_object(L, name));
}

static const rwl_alias hull_alias[] = {{"time", "hull"}, {NULL, NULL}};

static rw_wetout read_wetout(lua_State *L)
{
  const rw_value none = {0, 0};
  return (rw_wetout){.resin = resin_of(L),
                     .hull = history_of(L, "hull"),
                     .vessel = rwl_get_vessel(L),
                     .start = rwl_get_quantity(L, "start", 0.0),
                     .chilled = rwl_get_quantity(L, "chilled", NAN),
                     .area = rwl_get_quantity(L, "area", 0.0),
                     .resin_per_area = rwl_get_quantity(L, "resin_per_area", 0.0),
                     .rate = rwl_get_value(L, "rate", none),
                     .mixing = rwl_get_quantity(L, "mixing", 0.0),
                     .share = rwl_get_quantity(L, "share", 0.0),
                     .most = rwl_get_quantity(L, "most", HUGE_VAL)};
}

static void push_batch(lua_State *L, const rw_batch *b)
{
  lua_newtable(L);
  rwl_set_quantity(L, "mass", "kg", b->mass);
  rwl_set_clock(L, "mixed", b->mixed);
  rwl_set_clock(L, "spread", b->spread);
  rwl_set_clock(L, "latest", b->latest);
  rwl_set_number(L, "seconds_mixed", b->mixed);
  rwl_set_number(L, "seconds_spread", b->spread);
  rwl_set_number(L, "seconds_latest", b->latest);
  rwl_set_quantity(L, "from", "m2", b->from);
  rwl_set_quantity(L, "to", "m2", b->to);
  rwl_set_temperature(L, "temperature", b->temperature);
  rwl_set_number(L, "lost", b->lost);
}

static int batches(lua_State *L)
{
  rw_wetout w = read_wetout(L);
  rw_batch batch[MOST_BATCHES];
  size_t n = 0;
  rw_error err = {0};
  rwl_warning warning;
  rw_status status = rw_plan_batches(&w, batch, MOST_BATCHES, &n, &err);
  rwl_check_as(L, status, &err, hull_alias);
  if (status == RW_NO_SOLUTION)
    return rwl_push_reason(L, &err);
  rwl_keep(L, &warning, status, &err);
  lua_newtable(L);
  for (size_t i = 0; i < n; i++) {
    push_batch(L, &batch[i]);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  rwl_set_warnings(L, &warning);
  return 1;
}

static int window(lua_State *L)
{
  rw_window w;
  rw_error err = {0};
  rwl_warning warning;
  rwl_draws draws = rwl_get_draws(L);
  rw_status status =
      rw_plan_window(resin_of(L), history_of(L, "hull"), rwl_get_quantity(L, "first", 0.0),
                     rwl_get_quantity(L, "last", 0.0), rwl_get_quantity(L, "to", 0.0),
                     draws.temperature_sd, draws.count, draws.seed, &w, &err);
  rwl_check_as(L, status, &err, hull_alias);
  rwl_keep(L, &warning, status, &err);
  lua_newtable(L);
  int spread = draws.count > 0;
  rwl_push_clock_range(L, w.open, w.open_low, w.open_high,
                       spread ? rw_forecast_because(w.because_open) : NULL);
  lua_setfield(L, -2, "open");
  rwl_push_clock_range(L, w.close, w.close_low, w.close_high,
                       spread ? rw_forecast_because(w.because_close) : NULL);
  lua_setfield(L, -2, "close");
  lua_pushboolean(L, status == RW_NO_SOLUTION);
  lua_setfield(L, -2, "empty");
  rwl_set_warnings(L, &warning);
  return 1;
}

static int window_chance(lua_State *L)
{
  static const rwl_alias alias[] = {{"time", "hull"}, {"to", "at"}, {NULL, NULL}};
  double chance = 0.0;
  rw_error err = {0};
  rwl_draws draws = rwl_get_draws(L);
  rw_status status =
      rw_plan_window_chance(resin_of(L), history_of(L, "hull"), rwl_get_quantity(L, "first", 0.0),
                            rwl_get_quantity(L, "last", 0.0), rwl_get_quantity(L, "at", 0.0),
                            draws.temperature_sd, draws.count, draws.seed, &chance, &err);
  rwl_check_as(L, status, &err, alias);
  lua_pushnumber(L, chance);
  return 1;
}

static void set_difference(lua_State *L, const char *name, double kelvin)
{
  if (!isnan(kelvin))
    rwl_set_quantity(L, name, "K", kelvin);
}

static void push_hour(lua_State *L, const rw_start *s)
{
  lua_newtable(L);
  rwl_set_clock(L, "at", s->time);
  rwl_set_number(L, "seconds", s->time);
  rwl_set_clock(L, "gel", s->gel);
  rwl_set_clock(L, "safe", s->safe);
  set_difference(L, "rise", s->rise);
  set_difference(L, "margin", s->margin);
  if (!isnan(s->coldest))
    rwl_set_temperature(L, "coldest", s->coldest);
  lua_pushboolean(L, s->fine);
  lua_setfield(L, -2, "fine");
}

/* Adds to the list `warnings` of the table on the top of the stack. */
static void warn(lua_State *L, const char *text)
{
  lua_getfield(L, -1, "warnings");
  lua_pushstring(L, text);
  lua_rawseti(L, -2, (lua_Integer)lua_rawlen(L, -2) + 1);
  lua_pop(L, 1);
}

static int dew_unknown(const rw_start *hour, size_t n)
{
  for (size_t i = 0; i < n; i++)
    if (!isnan(hour[i].rise) && isnan(hour[i].margin))
      return 1;
  return 0;
}

static int start_hours(lua_State *L)
{
  static const rwl_alias alias[] = {{"n", "count"}, {"time", "hull"}, {NULL, NULL}};
  rw_start hour[MOST_HOURS];
  size_t n = rwl_get_size(L, "count", 1, MOST_HOURS), best = 0;
  rw_error err = {0};
  rwl_warning warning;
  rw_status status =
      rw_plan_start(resin_of(L), history_of(L, "air"), history_of(L, "hull"),
                    rwl_get_quantity(L, "from", 0.0), rwl_get_quantity(L, "step", 0.0), n,
                    rwl_get_quantity(L, "duration", 0.0), rwl_get_quantity(L, "most_rise", 0.0),
                    rwl_get_quantity(L, "least_margin", 0.0), hour, &best, &err);
  rwl_check_as(L, status, &err, alias);
  rwl_keep(L, &warning, status, &err);
  lua_newtable(L);
  lua_pushinteger(L, (lua_Integer)best + 1);
  lua_setfield(L, -2, "best");
  lua_pushboolean(L, hour[best].fine);
  lua_setfield(L, -2, "fine");
  rwl_set_warnings(L, &warning);
  if (dew_unknown(hour, n))
    warn(L, "where the humidity is not known an hour is judged by the warming alone");
  lua_newtable(L);
  for (size_t i = 0; i < n; i++) {
    push_hour(L, &hour[i]);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_setfield(L, -2, "hours");
  return 1;
}

static const rwl_field batches_fields[] = {
    RWL_NEED("resin", RWL_OBJECT, RWL_RESIN, "the resin"),
    RWL_NEED("hull", RWL_OBJECT, RWL_HISTORY, "temperature of the hull and of the shop"),
    RWL_NEED("start", RWL_CLOCK, "", "when the first batch is mixed"),
    RWL_NEED("area", RWL_QUANTITY, "m2", "area to wet out"),
    RWL_NEED("resin_per_area", RWL_QUANTITY, "kg/m2", "resin mixed per area"),
    RWL_NEED("rate", RWL_VALUE, "m2/s",
             "area wetted per time, all hands together, such as \"0.045 m2/min\""),
    RWL_VESSEL_FIELDS,
    RWL_MAY("chilled", RWL_TEMPERATURE, "", NULL,
            "temperature of the resin when mixed; left out, that of the shop"),
    RWL_MAY("mixing", RWL_QUANTITY, "s", "3 min",
            "time from pouring together to the first on the hull"),
    RWL_MAY("share", RWL_SHARE, "", "70 %", "share of the working time to plan with"),
    RWL_MAY("most", RWL_QUANTITY, "kg", NULL, "no batch larger than that"),
    RWL_END_FIELDS,
};
static const rwl_field window_fields[] = {
    RWL_NEED("resin", RWL_OBJECT, RWL_RESIN, "the resin"),
    RWL_NEED("hull", RWL_OBJECT, RWL_HISTORY, "temperature of the hull"),
    RWL_NEED("first", RWL_CLOCK, "", "when the first section is laid"),
    RWL_NEED("last", RWL_CLOCK, "", "when the last section is laid"),
    RWL_NEED("to", RWL_CLOCK, "", "how far to look"),
    RWL_DRAW_FIELDS("256"),
    RWL_END_FIELDS,
};
static const rwl_field chance_fields[] = {
    RWL_NEED("resin", RWL_OBJECT, RWL_RESIN, "the resin"),
    RWL_NEED("hull", RWL_OBJECT, RWL_HISTORY, "temperature of the hull"),
    RWL_NEED("first", RWL_CLOCK, "", "when the first section is laid"),
    RWL_NEED("last", RWL_CLOCK, "", "when the last section is laid"),
    RWL_NEED("at", RWL_CLOCK, "", "the time asked for"),
    RWL_DRAW_FIELDS("512"),
    RWL_END_FIELDS,
};
static const rwl_field start_fields[] = {
    RWL_NEED("resin", RWL_OBJECT, RWL_RESIN, "the resin"),
    RWL_NEED("air", RWL_OBJECT, RWL_HISTORY, "the air, with its humidity where known"),
    RWL_NEED("hull", RWL_OBJECT, RWL_HISTORY, "temperature of the hull, lagging behind the air"),
    RWL_NEED("from", RWL_CLOCK, "", "first hour to try"),
    RWL_MAY("step", RWL_QUANTITY, "s", "1 h", "time between the hours tried"),
    RWL_MAY("count", RWL_INTEGER, "", "24", "how many hours to try, 1 to 500"),
    RWL_NEED("duration", RWL_QUANTITY, "s", "time the wet-out takes"),
    RWL_MAY("most_rise", RWL_DIFFERENCE, "", "1 K",
            "most that the wood may warm until the resin gels: warming wood blows bubbles"),
    RWL_MAY("least_margin", RWL_DIFFERENCE, "", "3 K",
            "least height of the hull above the dew point until the film is past blushing"),
    RWL_END_FIELDS,
};

static const rwl_function functions[] = {
    {"batches", NULL, RWL_NAMED, batches_fields,
     "Batches of a wet-out: a list with `mass`, clock times `mixed`, `spread` and `latest` (too "
     "thick or too hot), the same as `seconds_mixed` and so on, area wetted `from` and `to`, "
     "`temperature` of the shop, `lost` the chance that it thickens first; and `warnings`. Where "
     "none can be planned: nil and why.",
     "table|nil, string|nil", batches},
    {"window", NULL, RWL_NAMED, window_fields,
     "Recoat window of a whole skin: `open` once the last section is firm, `close` once the first "
     "is hard, both clock ranges; `empty` where it closes before it opens; `warnings`.",
     "table", window},
    {"window_chance", NULL, RWL_NAMED, chance_fields,
     "Chance, 0 to 1, that the whole skin's window is open at a time.", "number", window_chance},
    {"start_hours", NULL, RWL_NAMED, start_fields,
     "Hours to begin a wet-out: `hours`, a list with `at`, `seconds`, `gel` and `safe` (past "
     "blushing) of the last section, `rise`, `margin`, `coldest` and `fine` each, nil where the "
     "forecast ends before; `best` is the place in it of the earliest fine hour, or of the least "
     "bad; `fine`; `warnings`.",
     "table", start_hours},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_plan_set = {functions, NULL};
