/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Uncertain quantities: a plain one, a result with its interval, {value = , sd = } or
 * {low = , high = }, which is taken as a 90 % interval. */
#include "core.h"

#include <string.h>

static const char *const parts[] = {"value", "sd", "low", "high"};
static const char ways[] = "write {value = ..., sd = ...} or {low = ..., high = ...}";

/* The field that reads the best value or a bound, or the spread. */
static rwl_field part_of(const rwl_field *f, int spread)
{
  rwl_field part = *f;
  part.kind = RWL_QUANTITY;
  if (!spread && rw_dim_same(rw_dim_of(f->detail), rw_dim_of("K")))
    part.kind = RWL_TEMPERATURE;
  return part;
}

static double read_part(lua_State *L, const rwl_field *f, int index, const rwl_place *up,
                        const char *name)
{
  rwl_field part = part_of(f, strcmp(name, "sd") == 0);
  rwl_place at = {up, name, 0};
  lua_pushstring(L, name);
  lua_rawget(L, index);
  double x = rwl_read_number(L, &part, lua_absindex(L, -1), &at, NULL);
  lua_pop(L, 1);
  return x;
}

static int refuse_parts(lua_State *L, const rwl_place *at, const char *what, const char *name)
{
  rwl_place inner = {at, name, 0};
  const char *place = rwl_say_place(L, name != NULL ? &inner : at);
  const char *message = lua_pushfstring(L, "%s %s", place, what);
  rwl_refusal r = {RW_ERR_ARGUMENT, place, message, NULL, ways, 0, 0};
  return rwl_refuse(L, &r);
}

/* Which of the four parts are there, as bits. */
static unsigned parts_given(lua_State *L, int index, const rwl_place *at)
{
  unsigned given = 0, seen = 0;
  for (unsigned i = 0; i < 4; i++) {
    lua_pushstring(L, parts[i]);
    if (lua_rawget(L, index) != LUA_TNIL) {
      given |= 1u << i;
      seen++;
    }
    lua_pop(L, 1);
  }
  unsigned entries = 0;
  lua_pushnil(L);
  while (lua_next(L, index) != 0) {
    lua_pop(L, 1);
    entries++;
  }
  if (entries != seen)
    refuse_parts(L, at, "holds more than value and sd, or low and high", NULL);
  return given;
}

static rw_value from_table(lua_State *L, const rwl_field *f, int index, const rwl_place *at)
{
  enum { VALUE = 1, SD = 2, LOW = 4, HIGH = 8 };
  unsigned given = parts_given(L, index, at);
  rw_value v = {0.0, 0.0};
  if (given == (VALUE | SD)) {
    v.value = read_part(L, f, index, at, "value");
    v.sd = read_part(L, f, index, at, "sd");
    if (v.sd < 0.0)
      refuse_parts(L, at, "must not be negative", "sd");
  } else if (given == (LOW | HIGH)) {
    double low = read_part(L, f, index, at, "low"), high = read_part(L, f, index, at, "high");
    if (low > high)
      refuse_parts(L, at, "is above high", "low");
    if (low < 0.0 && (f->flags & RWL_SIGNED) == 0)
      refuse_parts(L, at, "must not lie below zero", "low");
    if (high > 1.0 && rw_dim_same(rw_dim_of(f->detail), rw_dim_of("")))
      refuse_parts(L, at, "is a share and cannot be above 100 %", "high");
    v.value = low + (high - low) / 2.0;
    v.sd = (high - low) / (2.0 * RWL_90);
  } else {
    refuse_parts(L, at, "needs value and sd, or low and high", NULL);
  }
  return v;
}

static rw_value from_range(lua_State *L, const rwl_field *f, int index, const rwl_place *at,
                           const rwl_range *range)
{
  if (range->clock || !rw_dim_same(range->shape.dim, rwl_field_dim(f)))
    rwl_wrong_kind(L, at, index, rwl_say_dim(L, rwl_field_dim(f)), NULL);
  if (!isfinite(range->value) || !isfinite(range->low) || !isfinite(range->high))
    rwl_wrong_kind(L, at, index, "a result with finite ends", NULL);
  return (rw_value){range->value, (range->high - range->low) / (2.0 * RWL_90)};
}

rw_value rwl_read_value(lua_State *L, const rwl_field *f, int index, const rwl_place *at,
                        const rwl_scale *scale)
{
  const rwl_range *range = rwl_test_range(L, index);
  if (range != NULL)
    return from_range(L, f, index, at, range);
  if (lua_istable(L, index))
    return from_table(L, f, index, at);
  rwl_field part = part_of(f, 0);
  return (rw_value){rwl_read_number(L, &part, index, at, scale), 0.0};
}
