/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a chemist reads off a resin: cures at a steady temperature, cures under a steady heating,
 * and the map of time, temperature and transformation. */
#include "cure_map.h"

#include "reading.h"

#include <string.h>

static const double ZERO_C = 273.15, USUAL_SPAN = 28 * 86400.0;

static const rwl_alias steady_alias[] = {{"T", "temperature"}, {"span", "within"},
                                         {"cure", "cures[]"},  {"time", "times[]"},
                                         {"to", "within"},     {NULL, NULL}};

static rw_status set_cures(lua_State *L, const rw_resin *r, const rw_steady *s, int table,
                           rw_error *err)
{
  size_t n;
  const double *cure = rwl_get_list(L, "cures", &n);
  double *time = rwl_block(L, n, sizeof(double));
  rw_status status = rw_steady_times(&r->law, s, cure, n, time, err);
  rwl_check_as(L, status, err, steady_alias);
  lua_newtable(L);
  for (size_t i = 0; i < n; i++) {
    lua_newtable(L);
    rwl_set_number(L, "cure", cure[i]);
    rwl_set_time(L, "time", time[i]);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_setfield(L, table, "cures");
  return status;
}

static void set_states(lua_State *L, const rw_resin *r, const rw_steady *s, int table,
                       rw_error *err)
{
  size_t n;
  const double *time = rwl_get_list(L, "times", &n);
  rw_cure_state *state = rwl_block(L, n, sizeof *state);
  rw_status status = rw_steady_states(r, s, time, n, state, err);
  if (strcmp(err->argument, "time") == 0)
    rwl_in_unit(err, "one of the times is", "h", "Look further with within, such as \"60 d\".");
  rwl_check_as(L, status, err, steady_alias);
  lua_newtable(L);
  for (size_t i = 0; i < n; i++) {
    lua_newtable(L);
    rwl_set_quantity(L, "time", "s", state[i].time);
    rwl_set_number(L, "cure", state[i].cure);
    rwl_set_quantity(L, "rate", "1/s", state[i].rate);
    rwl_set_temperature(L, "glass", state[i].Tg);
    if (isfinite(state[i].viscosity))
      rwl_set_quantity(L, "viscosity", "Pa s", state[i].viscosity);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_setfield(L, table, "states");
}

int rwl_steady(lua_State *L)
{
  const rw_resin *r = rwl_self_resin(L);
  rw_error err = {0};
  rwl_warning warning;
  rw_steady_marks m;
  const rw_steady s = {.T = rwl_get_quantity(L, "temperature", 0.0),
                       .start = rwl_get_quantity(L, "start", 0.0),
                       .span = rwl_get_quantity(L, "within", USUAL_SPAN)};
  lua_newtable(L);
  int table = lua_gettop(L);
  set_states(L, r, &s, table, &err);
  rw_status status = set_cures(L, r, &s, table, &err);
  rwl_check_as(L, rw_steady_find(&r->law, &s, &m, &err), &err, steady_alias);
  rwl_keep(L, &warning, status, &err);
  lua_settop(L, table);
  rwl_set_quantity(L, "peak_rate", "1/s", m.peak.rate);
  rwl_set_number(L, "peak_cure", m.peak.cure);
  rwl_set_time(L, "peak_time", m.peak.time);
  rwl_set_time(L, "half_time", m.half_time);
  rwl_set_number(L, "reached", m.reached);
  rwl_set_warnings(L, &warning);
  return 1;
}

static void set_peak(lua_State *L, const rw_rate_peak *peak)
{
  lua_newtable(L);
  rwl_set_temperature(L, "temperature", peak->T);
  rwl_set_number(L, "cure", peak->cure);
  rwl_set_quantity(L, "rate", "1/s", peak->rate);
  rwl_set_quantity(L, "time", "s", peak->time);
  lua_setfield(L, -2, "peak");
}

/* n temperatures evenly from one to another. */
static void spread(double from, double to, size_t n, double *T)
{
  for (size_t i = 0; i < n; i++)
    T[i] = i + 1 == n ? to : from + (to - from) * (double)i / (double)(n - 1);
}

static void set_ramp_lists(lua_State *L, const rw_cure_state *state, size_t n)
{
  double *x = rwl_block(L, 5 * n, sizeof(double));
  for (size_t i = 0; i < n; i++) {
    x[i] = state[i].T - ZERO_C;
    x[n + i] = state[i].time;
    x[2 * n + i] = state[i].cure;
    x[3 * n + i] = state[i].rate;
    x[4 * n + i] = state[i].Tg - ZERO_C;
  }
  lua_newtable(L);
  rwl_set_numbers(L, "celsius", x, n);
  rwl_set_numbers(L, "seconds", x + n, n);
  rwl_set_numbers(L, "cure", x + 2 * n, n);
  rwl_set_numbers(L, "rate", x + 3 * n, n);
  rwl_set_numbers(L, "glass_celsius", x + 4 * n, n);
}

int rwl_ramp(lua_State *L)
{
  static const rwl_alias alias[] = {{"T", "to"}, {NULL, NULL}};
  const rw_resin *r = rwl_self_resin(L);
  rw_error err = {0};
  rwl_warning warning;
  rw_rate_peak peak;
  const rw_ramp ramp = {.from = rwl_get_quantity(L, "from", 0.0),
                        .to = rwl_get_quantity(L, "to", 0.0),
                        .heating = rwl_get_quantity(L, "heating", 0.0),
                        .start = rwl_get_quantity(L, "start", 0.0)};
  size_t n = rwl_get_size(L, "count", 2, 100000);
  rw_cure_state *state = rwl_block(L, n, sizeof *state);
  double *T = rwl_block(L, n, sizeof(double));
  spread(ramp.from, ramp.to, n, T);
  rw_status seen = rwl_check_as(L, rw_ramp_find(&r->law, &ramp, &peak, &err), &err, alias);
  rw_status status = rwl_check_as(L, rw_ramp_states(r, &ramp, T, n, state, &err), &err, alias);
  rwl_keep(L, &warning, status, &err);
  set_ramp_lists(L, state, n);
  if (seen != RW_NOT_REACHED)
    set_peak(L, &peak);
  rwl_set_warnings(L, &warning);
  return 1;
}

static void set_map_lists(lua_State *L, const rw_map_row *row, size_t n)
{
  double *x = rwl_block(L, 6 * n, sizeof(double));
  for (size_t i = 0; i < n; i++) {
    x[i] = row[i].T - ZERO_C;
    x[n + i] = row[i].gel;
    x[2 * n + i] = row[i].glass;
    x[3 * n + i] = row[i].full;
    x[4 * n + i] = row[i].plateau;
    x[5 * n + i] = row[i].plateau_Tg - ZERO_C;
  }
  lua_newtable(L);
  rwl_set_numbers(L, "celsius", x, n);
  rwl_set_numbers(L, "gel_seconds", x + n, n);
  rwl_set_numbers(L, "glass_seconds", x + 2 * n, n);
  rwl_set_numbers(L, "full_seconds", x + 3 * n, n);
  rwl_set_numbers(L, "plateau", x + 4 * n, n);
  rwl_set_numbers(L, "plateau_glass_celsius", x + 5 * n, n);
}

static void set_map_marks(lua_State *L, const rw_map_marks *m)
{
  rwl_set_temperature(L, "glass_uncured", m->Tg0);
  rwl_set_temperature(L, "glass_at_gel", m->gel_Tg);
  rwl_set_temperature(L, "glass_cured", m->Tg_inf);
  if (!isfinite(m->nose_T))
    return;
  lua_newtable(L);
  rwl_set_temperature(L, "temperature", m->nose_T);
  rwl_set_quantity(L, "time", "s", m->nose_time);
  lua_setfield(L, -2, "nose");
}

int rwl_map(lua_State *L)
{
  static const rwl_alias alias[] = {{"span", "within"}, {NULL, NULL}};
  const rw_resin *r = rwl_self_resin(L);
  rw_error err = {0};
  rwl_warning warning;
  rw_map_marks m;
  const rw_map_plan plan = {.span = rwl_get_quantity(L, "within", USUAL_SPAN),
                            .share = rwl_get_quantity(L, "share", 0.95)};
  size_t n = rwl_get_size(L, "count", 2, 2000);
  rw_map_row *row = rwl_block(L, n, sizeof *row);
  double *T = rwl_block(L, n, sizeof(double));
  rwl_check_as(L, rw_cure_map_find(r, plan.span, &m, &err), &err, alias);
  double from = rwl_get_quantity(L, "from", m.Tg0 - 10),
         to = rwl_get_quantity(L, "to", m.Tg_inf + 20);
  if (!(to > from)) {
    rw_error_range(&err, "", "to", to, from, 500, "K", "The map ends warmer than it begins.");
    rwl_in_usual_units(L, &err);
    rwl_throw(L, &err);
  }
  spread(from, to, n, T);
  static const rwl_alias first[] = {{"T", "from"}, {NULL, NULL}};
  static const rwl_alias last[] = {{"T", "to"}, {NULL, NULL}};
  rwl_check_as(L, rw_cure_map(r, &plan, &from, 1, row, &err), &err, first);
  rwl_check_as(L, rw_cure_map(r, &plan, &to, 1, row, &err), &err, last);
  rw_status status = rwl_check_as(L, rw_cure_map(r, &plan, T, n, row, &err), &err, alias);
  rwl_keep(L, &warning, status, &err);
  set_map_lists(L, row, n);
  set_map_marks(L, &m);
  rwl_set_warnings(L, &warning);
  return 1;
}

const rwl_field rwl_steady_fields[] = {
    RWL_NEED("temperature", RWL_TEMPERATURE, "", "temperature of the resin all the time"),
    RWL_MAY_LIST("cures", RWL_NUMBER, "", "degrees of cure whose times are wanted"),
    RWL_MAY_LIST("times", RWL_QUANTITY, "s", "times whose states are wanted, each up to `within`"),
    RWL_MAY("within", RWL_QUANTITY, "s", "28 d", "how far to look; what comes later is never"),
    RWL_MAY("start", RWL_NUMBER, "", "0", "degree of cure it begins with"),
    RWL_END_FIELDS,
};
const rwl_field rwl_ramp_fields[] = {
    RWL_NEED("from", RWL_TEMPERATURE, "", "temperature it begins with"),
    RWL_NEED("to", RWL_TEMPERATURE, "", "temperature it ends with, above `from`"),
    RWL_NEED("heating", RWL_QUANTITY, "K/s", "heating rate, such as \"10 K/min\""),
    RWL_MAY("start", RWL_NUMBER, "", "0", "degree of cure it begins with"),
    RWL_MAY("count", RWL_INTEGER, "", "200", "how many points, 2 to 100000"),
    RWL_END_FIELDS,
};
const rwl_field rwl_map_fields[] = {
    RWL_MAY("from", RWL_TEMPERATURE, "", NULL,
            "coldest; left out, 10 K below the glass transition of the uncured mix"),
    RWL_MAY("to", RWL_TEMPERATURE, "", NULL,
            "hottest; left out, 20 K above the glass transition of the cured resin"),
    RWL_MAY("count", RWL_INTEGER, "", "60", "how many temperatures, 2 to 2000"),
    RWL_MAY("within", RWL_QUANTITY, "s", "28 d", "how far to look; what comes later is never"),
    RWL_MAY("share", RWL_SHARE, "", "95 %",
            "share of the cure at the end of that time that counts as full, where it comes in the "
            "first half of it"),
    RWL_END_FIELDS,
};
