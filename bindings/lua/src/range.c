/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Results with an interval: r.value, r.low, r.high, r.because, r.warnings. */
#include "core.h"

#include <string.h>

enum { BECAUSE = 1, WARNINGS = 2 };

rwl_range *rwl_test_range(lua_State *L, int index)
{
  return rwl_test_object(L, index, "range");
}

static void push(lua_State *L, const rwl_range *r, const char *because)
{
  luaL_checkstack(L, RWL_STACK, NULL);
  *(rwl_range *)rwl_push_object(L, "range", sizeof *r) = *r;
  lua_pushstring(L, because);
  lua_setiuservalue(L, -2, BECAUSE);
  lua_newtable(L);
  lua_setiuservalue(L, -2, WARNINGS);
}

void rwl_push_range(lua_State *L, const char *unit, double value, double low, double high,
                    const char *because)
{
  push(L, &(rwl_range){0, {0.0, rw_dim_of(unit), 0}, value, low, high}, because);
}

void rwl_push_temperature_range(lua_State *L, double value, double low, double high,
                                const char *because)
{
  push(L, &(rwl_range){0, {0.0, rw_dim_of("K"), 1}, value, low, high}, because);
}

void rwl_push_clock_range(lua_State *L, double value, double low, double high, const char *because)
{
  push(L, &(rwl_range){1, {0.0, rw_dim_of("s"), 0}, value, low, high}, because);
}

void rwl_push_value(lua_State *L, const char *unit, rw_value v, const char *because)
{
  rwl_push_range(L, unit, v.value, v.value - RWL_90 * v.sd, v.value + RWL_90 * v.sd, because);
}

void rwl_push_clock(lua_State *L, double seconds)
{
  rwl_say_clock(L, seconds);
}

void rwl_add_warning(lua_State *L, int range, const char *text)
{
  lua_getiuservalue(L, range, WARNINGS);
  lua_pushstring(L, text);
  lua_rawseti(L, -2, (lua_Integer)lua_rawlen(L, -2) + 1);
  lua_pop(L, 1);
}

void rwl_note(lua_State *L, int range, rw_status status, const rw_error *err)
{
  if (status <= 0)
    return;
  int told = err != NULL && err->code == status && err->message[0] != '\0';
  rwl_add_warning(L, range, told ? err->message : rw_status_text(status));
}

static void push_end(lua_State *L, const rwl_range *r, double x)
{
  rw_quantity q = r->shape;
  q.si = x;
  if (r->clock)
    rwl_say_clock(L, x);
  else
    rwl_push(L, q);
}

static int is(const char *name, const char *wanted)
{
  return strcmp(name, wanted) == 0;
}

static void push_seconds(lua_State *L, const rwl_range *r, double x)
{
  if (r->clock)
    lua_pushnumber(L, x);
  else
    lua_pushnil(L);
}

static void push_sd(lua_State *L, const rwl_range *r)
{
  rw_quantity q = r->shape;
  q.si = (r->high - r->low) / (2.0 * RWL_90);
  q.point = 0;
  rwl_push(L, q);
}

static int read(lua_State *L)
{
  const rwl_range *r = rwl_test_range(L, 1);
  const char *name = lua_tostring(L, 2);
  if (is(name, "value"))
    push_end(L, r, r->value);
  else if (is(name, "low"))
    push_end(L, r, r->low);
  else if (is(name, "high"))
    push_end(L, r, r->high);
  else if (is(name, "sd"))
    push_sd(L, r);
  else if (is(name, "because"))
    lua_getiuservalue(L, 1, BECAUSE);
  else if (is(name, "warnings"))
    lua_getiuservalue(L, 1, WARNINGS);
  else if (is(name, "seconds"))
    push_seconds(L, r, r->value);
  else if (is(name, "low_seconds"))
    push_seconds(L, r, r->low);
  else if (is(name, "high_seconds"))
    push_seconds(L, r, r->high);
  else if (is(name, "clock"))
    lua_pushboolean(L, r->clock);
  else
    lua_pushnumber(L, 0.9);
  return 1;
}

static int range_tostring(lua_State *L)
{
  const rwl_range *r = rwl_test_range(L, 1);
  if (r == NULL)
    return 0;
  lua_getiuservalue(L, 1, BECAUSE);
  rwl_say_range(L, r, lua_tostring(L, -1));
  return 1;
}

/* -range: the same seen from the other side. */
static int turned(lua_State *L)
{
  const rwl_range *r = rwl_test_range(L, 1);
  if (r == NULL || r->clock || r->shape.point)
    return rwl_refuse(
        L, &(rwl_refusal){.code = RW_ERR_ARGUMENT,
                          .message = "clock times and temperatures on a scale cannot be negated",
                          .hint = "take a difference first, such as t - \"0 degC\""});
  rwl_range other = *r;
  other.value = -r->value;
  other.low = -r->high;
  other.high = -r->low;
  luaL_checkstack(L, RWL_STACK, NULL);
  lua_settop(L, 1);
  *(rwl_range *)rwl_push_object(L, "range", sizeof other) = other;
  for (int k = BECAUSE; k <= WARNINGS; k++) {
    lua_getiuservalue(L, 1, k);
    lua_setiuservalue(L, -2, k);
  }
  return 1;
}

static const rwl_property properties[] = {
    {"value", "quantity|number|string", "best value; of a clock range the time as text"},
    {"low", "quantity|number|string", "lower end"},
    {"high", "quantity|number|string", "upper end"},
    {"sd", "quantity|number", "standard deviation that goes with the interval"},
    {"level", "number", "how often the interval is meant to hold the truth: 0.9"},
    {"because", "string|nil", "what most of the spread comes from"},
    {"warnings", "string[]", "what to know about the result; empty where nothing"},
    {"clock", "boolean", "true where it holds clock times"},
    {"seconds", "number|nil", "clock range: value in seconds since 1970-01-01 00:00"},
    {"low_seconds", "number|nil", "clock range: lower end, likewise"},
    {"high_seconds", "number|nil", "clock range: upper end, likewise"},
    RWL_END_PROPERTIES,
};

static const luaL_Reg events[] = {
    {"__tostring", range_tostring}, {"__concat", rwl_concat}, {"__unm", turned}, {NULL, NULL}};

static const rwl_type types[] = {
    {"range", "A result with its interval, and what most of the spread comes from.", properties,
     read, NULL, events},
    RWL_END_TYPES,
};

const rwl_set rwl_range_set = {NULL, types};
