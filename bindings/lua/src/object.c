/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Types of objects: their metatables, methods and properties. */
#include "core.h"

#include <string.h>

static void type_key(char key[RWL_WORD], const char *type)
{
  snprintf(key, RWL_WORD, "resinwright.%s", type);
}

void *rwl_test_object(lua_State *L, int index, const char *type)
{
  char key[RWL_WORD];
  type_key(key, type);
  return luaL_testudata(L, index, key);
}

void *rwl_push_object(lua_State *L, const char *type, size_t size)
{
  char key[RWL_WORD];
  type_key(key, type);
  void *object = lua_newuserdatauv(L, size, 2);
  memset(object, 0, size);
  luaL_setmetatable(L, key);
  return object;
}

static size_t members(const rwl_type *t, const char **name)
{
  size_t n = 0;
  for (const rwl_function *f = t->methods; f != NULL && f->name != NULL; f++)
    if (n < RWL_MOST_FIELDS)
      name[n++] = f->name;
  for (const rwl_property *p = t->properties; p != NULL && p->name != NULL; p++)
    if (n < RWL_MOST_FIELDS)
      name[n++] = p->name;
  return n;
}

static int refuse_member(lua_State *L, const rwl_type *t)
{
  const char *name[RWL_MOST_FIELDS];
  size_t n = members(t, name);
  const char *word = rwl_say_value(L, 2);
  const char *message = lua_pushfstring(L, "a %s has nothing called %s", t->name, word);
  const char *hint =
      lua_type(L, 2) == LUA_TSTRING ? rwl_say_nearest(L, lua_tostring(L, 2), name, n) : NULL;
  rwl_refusal r = {RW_ERR_NAME, t->name, message, NULL, hint, 2, 0};
  return rwl_refuse(L, &r);
}

static int is_property(const rwl_type *t, const char *name)
{
  for (const rwl_property *p = t->properties; p != NULL && p->name != NULL; p++)
    if (strcmp(p->name, name) == 0)
      return 1;
  return 0;
}

/* Upvalues: the type, its methods. */
static int index_member(lua_State *L)
{
  const rwl_type *t = lua_touserdata(L, lua_upvalueindex(2));
  lua_settop(L, 2);
  lua_pushvalue(L, 2);
  if (lua_rawget(L, lua_upvalueindex(1)) != LUA_TNIL)
    return 1;
  lua_settop(L, 2);
  if (rwl_test_object(L, 1, t->name) == NULL || lua_type(L, 2) != LUA_TSTRING ||
      !is_property(t, lua_tostring(L, 2)))
    return refuse_member(L, t);
  return t->read(L);
}

static int refuse_change(lua_State *L)
{
  const char *message =
      lua_pushfstring(L, "%s cannot be changed after it is made", rwl_say_value(L, 1));
  rwl_refusal r = {RW_ERR_ARGUMENT, NULL, message, NULL, "make a new one", 0, 0};
  return rwl_refuse(L, &r);
}

void rwl_register_type(lua_State *L, const rwl_type *t)
{
  char key[RWL_WORD];
  type_key(key, t->name);
  luaL_newmetatable(L, key);
  lua_newtable(L);
  for (const rwl_function *f = t->methods; f != NULL && f->name != NULL; f++) {
    lua_pushlightuserdata(L, (void *)f);
    lua_pushcclosure(L, rwl_call, 1);
    lua_setfield(L, -2, f->name);
  }
  lua_pushlightuserdata(L, (void *)t);
  lua_pushcclosure(L, index_member, 2);
  lua_setfield(L, -2, "__index");
  lua_pushcfunction(L, refuse_change);
  lua_setfield(L, -2, "__newindex");
  lua_pushstring(L, key);
  lua_setfield(L, -2, "__metatable");
  if (t->events != NULL)
    luaL_setfuncs(L, t->events, 0);
  lua_pop(L, 1);
}

/* rw.kind(x): the name of the type of an object of this module, or nil. */
int rwl_kind_of(lua_State *L)
{
  static const char prefix[] = "resinwright.";
  lua_settop(L, 1);
  if (luaL_getmetafield(L, 1, "__name") != LUA_TSTRING)
    return 0;
  const char *name = lua_tostring(L, -1);
  if (strncmp(name, prefix, sizeof prefix - 1) != 0)
    return 0;
  lua_pushstring(L, name + sizeof prefix - 1);
  return 1;
}
