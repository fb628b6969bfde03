/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The driver every declared function is called through: takes one table of named fields, refuses
 * what is missing, unknown or of the wrong kind, and runs the body on converted values. */
#include "core.h"

#include <string.h>

/* The declared function that is running, or NULL outside of one. Only the driver's closures carry
 * a light userdata. */
const rwl_function *rwl_current(lua_State *L)
{
  int up = lua_upvalueindex(1);
  return lua_islightuserdata(L, up) ? (const rwl_function *)lua_touserdata(L, up) : NULL;
}

static size_t names_of(const rwl_field *fields, const char **name)
{
  size_t n = 0;
  for (; fields != NULL && fields[n].name != NULL && n < RWL_MOST_FIELDS; n++)
    name[n] = fields[n].name;
  return n;
}

static int is_field(lua_State *L, int key, const char *const *name, size_t n)
{
  size_t length;
  const char *text = lua_tolstring(L, key, &length);
  for (size_t i = 0; i < n; i++)
    if (strlen(name[i]) == length && memcmp(name[i], text, length) == 0)
      return 1;
  return 0;
}

static int refuse_unnamed(lua_State *L, const rwl_place *up, const char *const *name, size_t n)
{
  const char *place = up != NULL ? rwl_say_place(L, up) : "the argument table";
  const char *hint =
      lua_pushfstring(L, "write name = value; it knows: %s", rwl_say_names(L, name, n));
  const char *message = lua_pushfstring(L, "%s holds a value without a name", place);
  rwl_refusal r = {RW_ERR_ARGUMENT, up != NULL ? place : NULL, message, NULL, hint, 0, 0};
  return rwl_refuse(L, &r);
}

static int refuse_unknown(lua_State *L, const char *word, const rwl_place *up,
                          const char *const *name, size_t n)
{
  rwl_place at = {up, word, 0};
  const char *place = rwl_say_place(L, &at);
  const char *message = lua_pushfstring(L, "%s is not known here", place);
  const char *hint = rwl_say_nearest(L, word, name, n);
  rwl_refusal r = {RW_ERR_NAME, place, message, NULL, hint, 0, 0};
  return rwl_refuse(L, &r);
}

/* The unknown name first in the alphabet, so that the same call gives the same message. */
static void check_names(lua_State *L, const rwl_field *fields, int index, const rwl_place *up)
{
  const char *name[RWL_MOST_FIELDS];
  size_t n = names_of(fields, name);
  const char *unknown = NULL;
  lua_pushnil(L);
  while (lua_next(L, index) != 0) {
    lua_pop(L, 1);
    if (lua_type(L, -1) != LUA_TSTRING)
      refuse_unnamed(L, up, name, n);
    if (is_field(L, -1, name, n))
      continue;
    const char *word = lua_tostring(L, -1);
    if (unknown == NULL || strcmp(word, unknown) < 0)
      unknown = word;
  }
  if (unknown != NULL)
    refuse_unknown(L, unknown, up, name, n);
}

static void convert_given(lua_State *L, const rwl_field *f, int value, const rwl_place *at)
{
  if (f->flags & RWL_LIST)
    rwl_convert_list(L, f, value, at);
  else
    rwl_convert(L, f, value, at);
}

static void push_fallback(lua_State *L, const rwl_field *f)
{
  if (f->kind == RWL_NUMBER || f->kind == RWL_INTEGER) {
    double x = 0.0;
    rw_text_number(f->fallback, strlen(f->fallback), '.', &x, NULL, NULL);
    lua_pushnumber(L, x);
  } else if (f->kind == RWL_BOOLEAN) {
    lua_pushboolean(L, strcmp(f->fallback, "true") == 0);
  } else {
    lua_pushstring(L, f->fallback);
  }
}

static int refuse_missing(lua_State *L, const rwl_field *f, const rwl_place *at)
{
  const char *place = rwl_say_place(L, at);
  const char *message = lua_pushfstring(L, "%s is missing", place);
  const char *hint = lua_pushfstring(L, "%s: %s", f->name, f->doc);
  rwl_refusal r = {RW_ERR_ARGUMENT, place, message, NULL, hint, 0, 0};
  return rwl_refuse(L, &r);
}

/* Pushes the converted value, or nil. */
static void convert_absent(lua_State *L, const rwl_field *f, const rwl_place *at)
{
  if (f->flags & RWL_REQUIRED)
    refuse_missing(L, f, at);
  if (f->fallback == NULL) {
    lua_pushnil(L);
    return;
  }
  push_fallback(L, f);
  rwl_convert(L, f, lua_absindex(L, -1), at);
  lua_remove(L, -2);
}

static void convert_field(lua_State *L, const rwl_field *f, int raw, int made, const rwl_place *up,
                          int present)
{
  rwl_place at = {up, f->name, 0};
  lua_pushstring(L, f->name);
  lua_rawget(L, raw);
  if (lua_isnil(L, -1) != present) {
    if (present)
      convert_given(L, f, lua_absindex(L, -1), &at);
    else
      convert_absent(L, f, &at);
    lua_setfield(L, made, f->name);
  }
  lua_settop(L, made);
}

/* What is there is checked before what is not, so that a wrong value is told first. */
void rwl_convert_record(lua_State *L, const rwl_field *fields, int index, const rwl_place *up)
{
  luaL_checkstack(L, RWL_STACK, NULL);
  check_names(L, fields, index, up);
  lua_newtable(L);
  int made = lua_absindex(L, -1);
  for (const rwl_field *f = fields; f != NULL && f->name != NULL; f++)
    convert_field(L, f, index, made, up, 1);
  for (const rwl_field *f = fields; f != NULL && f->name != NULL; f++)
    convert_field(L, f, index, made, up, 0);
}

static int refuse_shape(lua_State *L, const rwl_function *f, const char *found)
{
  const char *name[RWL_MOST_FIELDS];
  size_t n = names_of(f->fields, name);
  const char *call = rwl_say_function(L, f);
  const char *message = lua_pushfstring(L, "it takes one table of named fields, found %s", found);
  const char *hint = n > 0 ? lua_pushfstring(L, "write %s{%s = ...}; it knows: %s", call, name[0],
                                             rwl_say_names(L, name, n))
                           : lua_pushfstring(L, "write %s()", call);
  rwl_refusal r = {RW_ERR_ARGUMENT, NULL, message, NULL, hint, 0, 0};
  return rwl_refuse(L, &r);
}

static int refuse_self(lua_State *L, const rwl_function *f)
{
  const char *message = lua_pushfstring(L, "%s is called on something that is no %s, found %s",
                                        f->name, f->self, rwl_say_value(L, 1));
  const char *hint = lua_pushfstring(L, "write a colon: my_%s:%s{...}", f->self, f->name);
  rwl_refusal r = {RW_ERR_ARGUMENT, f->self, message, NULL, hint, 0, 0};
  return rwl_refuse(L, &r);
}

/* Leaves the raw argument table at 1 and the object at 2. */
static void arrange(lua_State *L, const rwl_function *f)
{
  if (f->self != NULL) {
    if (rwl_test_object(L, 1, f->self) == NULL)
      refuse_self(L, f);
    lua_pushvalue(L, 1);
    lua_remove(L, 1);
  }
  int given = lua_gettop(L) - (f->self != NULL);
  if (given == 0) {
    lua_newtable(L);
    lua_insert(L, 1);
  } else if (given > 1) {
    refuse_shape(L, f, "more");
  } else if (!lua_istable(L, 1)) {
    refuse_shape(L, f, rwl_say_value(L, 1));
  }
}

int rwl_call(lua_State *L)
{
  const rwl_function *f = rwl_current(L);
  luaL_checkstack(L, RWL_STACK, NULL);
  if (f->style == RWL_NAMED) {
    arrange(L, f);
    rwl_convert_record(L, f->fields, 1, NULL);
    lua_replace(L, 1);
  }
  return f->body(L);
}
