/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sandbox.h"

#include <lauxlib.h>
#include <stdlib.h>

enum { STEP = 16, LONGEST_TEXT = 1 << 20 };

static const size_t memory_limit = (size_t)RWL_SANDBOX_MIB << 20;

/* For a new object `before` is its type, not a size. */
static int is_too_much(const rwl_sandbox *s, const void *block, size_t before, size_t after)
{
  if (block == NULL && before == LUA_TSTRING && after > LONGEST_TEXT + 64)
    return 1;
  size_t held = block != NULL ? before : 0;
  return after > held && s->used - held + after > memory_limit;
}

static void *allocate(void *user, void *block, size_t before, size_t after)
{
  rwl_sandbox *s = user;
  size_t held = block != NULL ? before : 0;
  if (after == 0) {
    free(block);
    s->used -= held;
    return NULL;
  }
  if (is_too_much(s, block, before, after))
    return NULL;
  void *moved = realloc(block, after);
  if (moved != NULL)
    s->used = s->used - held + after;
  return moved;
}

static int is_over(const rwl_sandbox *s)
{
  return s->steps > RWL_SANDBOX_STEPS ||
         clock() - s->started > (clock_t)RWL_SANDBOX_SECONDS * CLOCKS_PER_SEC;
}

static void watch(lua_State *L, lua_Debug *event)
{
  void *user = NULL;
  lua_getallocf(L, &user);
  rwl_sandbox *s = user;
  if (event->event == LUA_HOOKLINE) {
    s->line = event->currentline;
    return;
  }
  s->steps += STEP;
  if (!is_over(s))
    return;
  s->stopped = 1;
  lua_pushnil(L);
  lua_error(L);
}

int rwl_sandbox_open(rwl_sandbox *s)
{
  *s = (rwl_sandbox){0};
  s->state = lua_newstate(allocate, s);
  return s->state != NULL;
}

static int no_value(lua_State *L)
{
  return luaL_error(L, "no value (global '%s')", luaL_tolstring(L, 2, NULL));
}

/* A name without a value would read as nil and a word without quotes as nothing: stop at it. */
static int guard_names(lua_State *L)
{
  lua_pushglobaltable(L);
  lua_createtable(L, 0, 1);
  lua_pushcfunction(L, no_value);
  lua_setfield(L, -2, "__index");
  lua_setmetatable(L, -2);
  return 0;
}

int rwl_sandbox_run(rwl_sandbox *s, const char *text, size_t n)
{
  lua_pushcfunction(s->state, guard_names);
  int status = lua_pcall(s->state, 0, 0, 0);
  if (status == LUA_OK)
    status = luaL_loadbufferx(s->state, text, n, "=f", "t");
  if (status != LUA_OK)
    return status;
  s->started = clock();
  lua_sethook(s->state, watch, LUA_MASKCOUNT | LUA_MASKLINE, STEP);
  status = lua_pcall(s->state, 0, LUA_MULTRET, 0);
  lua_sethook(s->state, NULL, 0, 0);
  return status;
}

void rwl_sandbox_close(rwl_sandbox *s)
{
  if (s->state != NULL)
    lua_close(s->state);
  s->state = NULL;
}
