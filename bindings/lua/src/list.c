/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lists of values: {"520 mm", "905 mm"}, or {unit = "mm", 520, 905}. */
#include "core.h"

#include <string.h>

typedef struct list {
  size_t count;
  int has_unit;
  lua_Integer highest;
} list;

static int takes_unit(const rwl_field *f)
{
  return f->kind == RWL_QUANTITY || f->kind == RWL_TEMPERATURE || f->kind == RWL_DIFFERENCE ||
         f->kind == RWL_SHARE || f->kind == RWL_VALUE;
}

static int is_unit(lua_State *L, int key)
{
  return lua_type(L, key) == LUA_TSTRING && strcmp(lua_tostring(L, key), "unit") == 0;
}

static int refuse_key(lua_State *L, const rwl_field *f, const rwl_place *at, int key)
{
  const char *place = rwl_say_place(L, at);
  const char *message =
      lua_pushfstring(L, "%s is a list and has no field %s", place, rwl_say_value(L, key));
  const char *hint = takes_unit(f) ? "a list holds values one after the other, and unit = \"...\" "
                                     "where they are plain numbers"
                                   : "a list holds values one after the other, without names";
  rwl_refusal r = {RW_ERR_NAME, place, message, NULL, hint, 0, 0};
  return rwl_refuse(L, &r);
}

/* The key to complain of must not hang on the order of the table: numbers before texts, then the
 * lowest. */
static int comes_before(lua_State *L, int a, int b)
{
  if (lua_type(L, a) != lua_type(L, b))
    return lua_type(L, a) < lua_type(L, b);
  if (lua_type(L, a) == LUA_TSTRING)
    return strcmp(lua_tostring(L, a), lua_tostring(L, b)) < 0;
  return lua_type(L, a) == LUA_TNUMBER && lua_compare(L, a, b, LUA_OPLT);
}

static int is_place(lua_State *L, int key)
{
  return lua_isinteger(L, key) && lua_tointeger(L, key) >= 1;
}

static list look(lua_State *L, const rwl_field *f, int index, const rwl_place *at)
{
  list l = {0, 0, 0};
  lua_pushnil(L);
  int strange = lua_absindex(L, -1);
  lua_pushnil(L);
  while (lua_next(L, index) != 0) {
    lua_pop(L, 1);
    if (is_place(L, -1)) {
      l.count++;
      if (lua_tointeger(L, -1) > l.highest)
        l.highest = lua_tointeger(L, -1);
    } else if (is_unit(L, -1) && takes_unit(f)) {
      l.has_unit = 1;
    } else if (lua_isnil(L, strange) || comes_before(L, -1, strange)) {
      lua_pushvalue(L, -1);
      lua_replace(L, strange);
    }
  }
  if (!lua_isnil(L, strange))
    refuse_key(L, f, at, strange);
  lua_pop(L, 1);
  return l;
}

static int refuse_gap(lua_State *L, int index, const rwl_place *up)
{
  rwl_place at = {up, NULL, 1};
  while (lua_rawgeti(L, index, at.index) != LUA_TNIL) {
    lua_pop(L, 1);
    at.index++;
  }
  const char *place = rwl_say_place(L, &at);
  const char *message = lua_pushfstring(L, "%s is missing, though later ones are there", place);
  rwl_refusal r = {
      RW_ERR_ARGUMENT, place, message, NULL, "fill the gap or close the list up", 0, 0};
  return rwl_refuse(L, &r);
}

static int refuse_empty(lua_State *L, const rwl_place *at)
{
  const char *place = rwl_say_place(L, at);
  const char *message = lua_pushfstring(L, "%s is an empty list", place);
  rwl_refusal r = {RW_ERR_ARGUMENT, place, message, "at least one value", NULL, 0, 0};
  return rwl_refuse(L, &r);
}

static int refuse_single(lua_State *L, const rwl_field *f, int index, const rwl_place *at)
{
  const char *hint = lua_pushfstring(L, "write %s = {..., ...}", f->name);
  return rwl_wrong_kind(L, at, index, "a list", hint);
}

static rwl_scale scale_of(lua_State *L, const rwl_field *f, int index, const list *l,
                          const rwl_place *up)
{
  rwl_scale none = {0, 1.0, 0.0};
  if (!l->has_unit)
    return none;
  rwl_place at = {up, "unit", 0};
  lua_pushliteral(L, "unit");
  lua_rawget(L, index);
  rwl_scale scale = rwl_read_scale(L, f, lua_absindex(L, -1), &at);
  lua_pop(L, 1);
  return scale;
}

static void doubles(lua_State *L, const rwl_field *f, int index, size_t n, const rwl_place *up,
                    const rwl_scale *scale)
{
  double *x = lua_newuserdatauv(L, n * sizeof *x, 0);
  for (size_t i = 0; i < n; i++) {
    rwl_place at = {up, NULL, (lua_Integer)i + 1};
    lua_rawgeti(L, index, at.index);
    x[i] = rwl_read_number(L, f, lua_absindex(L, -1), &at, scale);
    lua_pop(L, 1);
  }
}

static void values(lua_State *L, const rwl_field *f, int index, size_t n, const rwl_place *up,
                   const rwl_scale *scale)
{
  rw_value *v = lua_newuserdatauv(L, n * sizeof *v, 0);
  for (size_t i = 0; i < n; i++) {
    rwl_place at = {up, NULL, (lua_Integer)i + 1};
    lua_rawgeti(L, index, at.index);
    v[i] = rwl_read_value(L, f, lua_absindex(L, -1), &at, scale);
    lua_pop(L, 1);
  }
}

static void others(lua_State *L, const rwl_field *f, int index, size_t n, const rwl_place *up)
{
  lua_newtable(L);
  for (size_t i = 0; i < n; i++) {
    rwl_place at = {up, NULL, (lua_Integer)i + 1};
    lua_rawgeti(L, index, at.index);
    rwl_convert(L, f, lua_absindex(L, -1), &at);
    lua_rawseti(L, -3, at.index);
    lua_pop(L, 1);
  }
}

static int is_double(rwl_kind kind)
{
  return kind == RWL_QUANTITY || kind == RWL_TEMPERATURE || kind == RWL_DIFFERENCE ||
         kind == RWL_SHARE || kind == RWL_NUMBER || kind == RWL_CLOCK;
}

void rwl_convert_list(lua_State *L, const rwl_field *f, int index, const rwl_place *at)
{
  luaL_checkstack(L, RWL_STACK, NULL);
  if (!lua_istable(L, index))
    refuse_single(L, f, index, at);
  list l = look(L, f, index, at);
  if ((lua_Integer)l.count != l.highest)
    refuse_gap(L, index, at);
  if (l.count == 0 && (f->flags & RWL_REQUIRED))
    refuse_empty(L, at);
  rwl_scale scale = scale_of(L, f, index, &l, at);
  if (is_double(f->kind))
    doubles(L, f, index, l.count, at, &scale);
  else if (f->kind == RWL_VALUE)
    values(L, f, index, l.count, at, &scale);
  else
    others(L, f, index, l.count, at);
}
