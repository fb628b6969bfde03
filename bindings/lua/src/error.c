/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Errors are tables: code, func, argument, value, allowed, line, column, message, hint, where. */
#include "core.h"

static const char error_type[] = "resinwright.error";

static const char *field(lua_State *L, const char *name)
{
  lua_getfield(L, 1, name);
  return lua_tostring(L, -1);
}

/* "boat.lua:3: rw.area: girth[1] is 520 without a unit; write "520 mm"" */
static int error_tostring(lua_State *L)
{
  luaL_checktype(L, 1, LUA_TTABLE);
  const char *where = field(L, "where");
  const char *func = field(L, "func");
  const char *message = field(L, "message");
  const char *hint = field(L, "hint");
  lua_pushfstring(L, "%s%s%s%s%s%s", where != NULL ? where : "", func != NULL ? func : "",
                  func != NULL ? ": " : "", message != NULL ? message : "no message",
                  hint != NULL ? "; " : "", hint != NULL ? hint : "");
  return 1;
}

void rwl_register_error(lua_State *L)
{
  luaL_newmetatable(L, error_type);
  lua_pushcfunction(L, error_tostring);
  lua_setfield(L, -2, "__tostring");
  lua_pushcfunction(L, rwl_concat);
  lua_setfield(L, -2, "__concat");
  lua_pop(L, 1);
}

static void set_text(lua_State *L, const char *name, const char *text)
{
  if (text == NULL || text[0] == '\0')
    return;
  lua_pushstring(L, text);
  lua_setfield(L, -2, name);
}

static void set_line(lua_State *L, const char *name, long line)
{
  if (line <= 0)
    return;
  lua_pushinteger(L, (lua_Integer)line);
  lua_setfield(L, -2, name);
}

/* Pushes the table with what every error has. */
static void start(lua_State *L, rw_status code, const char *func)
{
  luaL_checkstack(L, RWL_STACK, NULL);
  luaL_where(L, 1);
  const char *where = lua_tostring(L, -1);
  const rwl_function *f = rwl_current(L);
  if (f != NULL)
    func = rwl_say_function(L, f);
  lua_createtable(L, 0, 10);
  set_text(L, "code", rw_status_name(code));
  set_text(L, "func", func);
  set_text(L, "where", where);
}

static _Noreturn void raise(lua_State *L)
{
  luaL_setmetatable(L, error_type);
  for (;;)
    lua_error(L);
}

static const char *say_bounds(lua_State *L, double low, double high)
{
  if (isfinite(low) && isfinite(high))
    return lua_pushfstring(L, "%s to %s", rwl_say_number(L, low, 6), rwl_say_number(L, high, 6));
  if (isfinite(low))
    return lua_pushfstring(L, "%s or more", rwl_say_number(L, low, 6));
  if (isfinite(high))
    return lua_pushfstring(L, "at most %s", rwl_say_number(L, high, 6));
  return lua_pushliteral(L, "");
}

_Noreturn int rwl_throw(lua_State *L, const rw_error *err)
{
  luaL_checkstack(L, RWL_STACK, NULL);
  const char *allowed = say_bounds(L, err->low, err->high);
  start(L, err->code, err->function);
  set_text(L, "argument", err->argument);
  set_text(L, "message", err->message[0] != '\0' ? err->message : rw_status_text(err->code));
  set_text(L, "hint", err->hint);
  set_text(L, "allowed", allowed);
  set_line(L, "line", err->line);
  set_line(L, "column", err->column);
  if (!isnan(err->value)) {
    lua_pushnumber(L, err->value);
    lua_setfield(L, -2, "value");
  }
  raise(L);
}

rw_status rwl_check(lua_State *L, rw_status status, const rw_error *err)
{
  if (status < 0)
    rwl_throw(L, err);
  return status;
}

_Noreturn int rwl_refuse(lua_State *L, const rwl_refusal *r)
{
  int found = r->found != 0 ? lua_absindex(L, r->found) : 0;
  start(L, r->code, NULL);
  set_text(L, "argument", r->argument);
  set_text(L, "message", r->message);
  set_text(L, "allowed", r->allowed);
  set_text(L, "hint", r->hint);
  set_line(L, "line", r->line);
  if (found != 0 && !lua_isnone(L, found)) {
    lua_pushvalue(L, found);
    lua_setfield(L, -2, "value");
  }
  raise(L);
}
