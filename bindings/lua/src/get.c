/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading of converted arguments, which stand at index 1; see rwl.h. A value read stays anchored
 * in that table after it is popped. */
#include "core.h"

enum { ARGUMENTS = 1, OBJECT = 2, PARENT = 0 };

int rwl_push_field(lua_State *L, const char *name)
{
  lua_pushstring(L, name);
  return lua_rawget(L, ARGUMENTS);
}

int rwl_has(lua_State *L, const char *name)
{
  int there = rwl_push_field(L, name) != LUA_TNIL;
  lua_pop(L, 1);
  return there;
}

double rwl_get_quantity(lua_State *L, const char *name, double fallback)
{
  double x = rwl_push_field(L, name) == LUA_TNUMBER ? lua_tonumber(L, -1) : fallback;
  lua_pop(L, 1);
  return x;
}

lua_Integer rwl_get_integer(lua_State *L, const char *name, lua_Integer fallback)
{
  lua_Integer n = rwl_push_field(L, name) == LUA_TNUMBER ? lua_tointeger(L, -1) : fallback;
  lua_pop(L, 1);
  return n;
}

int rwl_get_boolean(lua_State *L, const char *name, int fallback)
{
  int yes = rwl_push_field(L, name) == LUA_TBOOLEAN ? lua_toboolean(L, -1) : fallback;
  lua_pop(L, 1);
  return yes;
}

int rwl_get_choice(lua_State *L, const char *name, int fallback)
{
  return (int)rwl_get_integer(L, name, fallback);
}

const char *rwl_get_string(lua_State *L, const char *name, const char *fallback, size_t *length)
{
  size_t n = 0;
  const char *text = fallback;
  if (rwl_push_field(L, name) == LUA_TSTRING)
    text = lua_tolstring(L, -1, &n);
  else
    for (const char *p = fallback; p != NULL && *p != '\0'; p++)
      n++;
  lua_pop(L, 1);
  if (length != NULL)
    *length = n;
  return text;
}

void rwl_get_path_or_text(lua_State *L, const char *example, const char **path, const char **text,
                          size_t *length)
{
  *text = rwl_get_string(L, "text", NULL, length);
  *path = rwl_get_string(L, "path", NULL, NULL);
  if ((*text == NULL) != (*path == NULL))
    return;
  rwl_refusal r = {RW_ERR_ARGUMENT,
                   "path",
                   "either path or text must be given, and not both",
                   NULL,
                   lua_pushfstring(L, "write %s", example),
                   0,
                   0};
  rwl_refuse(L, &r);
}

rw_value rwl_get_value(lua_State *L, const char *name, rw_value fallback)
{
  rwl_push_field(L, name);
  const rw_value *v = lua_touserdata(L, -1);
  lua_pop(L, 1);
  return v != NULL ? *v : fallback;
}

void *rwl_get_object(lua_State *L, const char *name)
{
  rwl_push_field(L, name);
  void *object = lua_touserdata(L, -1);
  lua_pop(L, 1);
  return object;
}

size_t rwl_get_count(lua_State *L, const char *name)
{
  size_t n = rwl_push_field(L, name) == LUA_TTABLE ? (size_t)lua_rawlen(L, -1) : 0;
  lua_pop(L, 1);
  return n;
}

static const void *array(lua_State *L, const char *name, size_t each, size_t *n)
{
  rwl_push_field(L, name);
  const void *x = lua_touserdata(L, -1);
  *n = x != NULL ? (size_t)lua_rawlen(L, -1) / each : 0;
  lua_pop(L, 1);
  return x;
}

const double *rwl_get_list(lua_State *L, const char *name, size_t *n)
{
  return array(L, name, sizeof(double), n);
}

const rw_value *rwl_get_values(lua_State *L, const char *name, size_t *n)
{
  return array(L, name, sizeof(rw_value), n);
}

/* Pushes the element alone. */
static void push_element(lua_State *L, const char *name, size_t i)
{
  if (rwl_push_field(L, name) == LUA_TTABLE) {
    lua_rawgeti(L, -1, (lua_Integer)i + 1);
    lua_remove(L, -2);
  }
}

void *rwl_get_object_at(lua_State *L, const char *name, size_t i)
{
  push_element(L, name, i);
  void *object = lua_touserdata(L, -1);
  lua_pop(L, 1);
  return object;
}

const char *rwl_get_string_at(lua_State *L, const char *name, size_t i)
{
  push_element(L, name, i);
  const char *text = lua_tostring(L, -1);
  lua_pop(L, 1);
  return text;
}

lua_Integer rwl_get_integer_at(lua_State *L, const char *name, size_t i)
{
  push_element(L, name, i);
  lua_Integer n = lua_tointeger(L, -1);
  lua_pop(L, 1);
  return n;
}

int rwl_get_choice_at(lua_State *L, const char *name, size_t i)
{
  return (int)rwl_get_integer_at(L, name, i);
}

/* The record takes the place of the arguments and remembers them at key 0. */
void rwl_open(lua_State *L, const char *name, size_t i)
{
  if (rwl_push_field(L, name) == LUA_TTABLE &&
      lua_rawgeti(L, -1, (lua_Integer)i + 1) == LUA_TTABLE)
    lua_remove(L, -2);
  else
    lua_settop(L, -2);
  lua_pushvalue(L, ARGUMENTS);
  lua_rawseti(L, -2, PARENT);
  lua_replace(L, ARGUMENTS);
}

void rwl_close(lua_State *L)
{
  lua_rawgeti(L, ARGUMENTS, PARENT);
  lua_replace(L, ARGUMENTS);
}

void *rwl_self(lua_State *L)
{
  return lua_touserdata(L, OBJECT);
}

rwl_listener rwl_listen(lua_State *L, const char *name)
{
  int listens = rwl_push_field(L, name) == LUA_TFUNCTION;
  luaL_checkstack(L, 3 + LUA_MINSTACK, NULL);
  return (rwl_listener){L, listens ? lua_gettop(L) : 0, 0};
}

int rwl_tell(size_t done, size_t total, void *listener)
{
  rwl_listener *l = listener;
  lua_State *L = l->L;
  if (l->function == 0)
    return 0;
  lua_pushvalue(L, l->function);
  lua_pushinteger(L, (lua_Integer)done);
  lua_pushinteger(L, (lua_Integer)total);
  if (lua_pcall(L, 2, 1, 0) != LUA_OK) {
    l->failed = 1;
    return 1;
  }
  int stop = lua_isboolean(L, -1) && !lua_toboolean(L, -1);
  lua_pop(L, 1);
  return stop;
}
