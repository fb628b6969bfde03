/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One value of a declared kind: checks it and pushes what the body will read. */
#include "core.h"

#include <string.h>

enum { MOST_CHOICES = 48, MOST_SAID = 16 };

int rwl_wrong_kind(lua_State *L, const rwl_place *at, int index, const char *allowed,
                   const char *hint)
{
  const char *place = rwl_say_place(L, at);
  const char *message =
      lua_pushfstring(L, "%s must be %s, found %s", place, allowed, rwl_say_value(L, index));
  rwl_refusal r = {RW_ERR_ARGUMENT, place, message, allowed, hint, index, 0};
  return rwl_refuse(L, &r);
}

static void integer(lua_State *L, int index, const rwl_place *at)
{
  int whole = 0;
  lua_Integer n = lua_tointegerx(L, index, &whole);
  if (lua_type(L, index) != LUA_TNUMBER || !whole)
    rwl_wrong_kind(L, at, index, "a whole number", NULL);
  lua_pushinteger(L, n);
}

static void of_type(lua_State *L, int index, const rwl_place *at, int type, const char *allowed,
                    const char *hint)
{
  if (lua_type(L, index) != type)
    rwl_wrong_kind(L, at, index, allowed, hint);
  lua_pushvalue(L, index);
}

/* Pushes the pieces of "a|b|c" and returns how many. */
static size_t split(lua_State *L, const char *detail, const char **choice)
{
  size_t n = 0;
  for (const char *p = detail; n < MOST_CHOICES; n++) {
    size_t length = strcspn(p, "|");
    choice[n] = lua_pushlstring(L, p, length);
    if (p[length] == '\0')
      return n + 1;
    p += length + 1;
  }
  return n;
}

static int refuse_choice(lua_State *L, int index, const rwl_place *at, const char *const *choice,
                         size_t n)
{
  const char *allowed =
      n <= MOST_SAID ? lua_pushfstring(L, "one of: %s", rwl_say_names(L, choice, n))
                     : lua_pushfstring(L, "one of: %s and %d more words of the manual",
                                       rwl_say_names(L, choice, MOST_SAID), (int)n - MOST_SAID);
  if (lua_type(L, index) != LUA_TSTRING)
    return rwl_wrong_kind(L, at, index, allowed, "write the word in quotes");
  int near = rw_nearest_name(lua_tostring(L, index), choice, n);
  const char *hint = near >= 0 ? lua_pushfstring(L, "did you mean \"%s\"?", choice[near]) : NULL;
  return rwl_wrong_kind(L, at, index, allowed, hint);
}

static void one_of(lua_State *L, const rwl_field *f, int index, const rwl_place *at)
{
  const char *choice[MOST_CHOICES];
  luaL_checkstack(L, MOST_CHOICES + RWL_STACK, NULL);
  int top = lua_gettop(L);
  size_t n = split(L, f->detail, choice);
  for (size_t i = 0; i < n; i++)
    if (lua_rawequal(L, index, top + 1 + (int)i)) {
      lua_settop(L, top);
      lua_pushinteger(L, (lua_Integer)i);
      return;
    }
  refuse_choice(L, index, at, choice, n);
}

static void object(lua_State *L, const rwl_field *f, int index, const rwl_place *at)
{
  if (rwl_test_object(L, index, f->detail) == NULL)
    rwl_wrong_kind(
        L, at, index, lua_pushfstring(L, "a %s", f->detail),
        lua_pushfstring(L, "make one first with resinwright (see %s in the manual)", f->detail));
  lua_pushvalue(L, index);
}

static void record(lua_State *L, const rwl_field *f, int index, const rwl_place *at)
{
  if (!lua_istable(L, index))
    rwl_wrong_kind(L, at, index, "a table of named fields", NULL);
  rwl_convert_record(L, f->inner, index, at);
}

static void value(lua_State *L, const rwl_field *f, int index, const rwl_place *at)
{
  rw_value v = rwl_read_value(L, f, index, at, NULL);
  *(rw_value *)lua_newuserdatauv(L, sizeof v, 0) = v;
}

void rwl_convert(lua_State *L, const rwl_field *f, int index, const rwl_place *at)
{
  luaL_checkstack(L, RWL_STACK, NULL);
  switch (f->kind) {
  case RWL_INTEGER:
    integer(L, index, at);
    return;
  case RWL_STRING:
    of_type(L, index, at, LUA_TSTRING, "a text", "write it in quotes");
    return;
  case RWL_BOOLEAN:
    of_type(L, index, at, LUA_TBOOLEAN, "true or false", "write it without quotes");
    return;
  case RWL_CHOICE:
    one_of(L, f, index, at);
    return;
  case RWL_OBJECT:
    object(L, f, index, at);
    return;
  case RWL_TABLE:
    of_type(L, index, at, LUA_TTABLE, "a table", NULL);
    return;
  case RWL_FUNCTION:
    of_type(L, index, at, LUA_TFUNCTION, "a function", NULL);
    return;
  case RWL_VALUE:
    value(L, f, index, at);
    return;
  case RWL_RECORD:
    record(L, f, index, at);
    return;
  default:
    lua_pushnumber(L, rwl_read_number(L, f, index, at, NULL));
  }
}
