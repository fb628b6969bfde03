/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copies plain data from the state of a boat file to the caller's. */
#include "boatfile.h"

enum { DEEPEST = 12, MOST_ENTRIES = 20000, MOST_BYTES = 16 << 20 };

typedef struct copy {
  lua_State *from;
  lua_State *to;
  const char *name;
  size_t entries;
  size_t bytes; /* of texts */
  int depth;
  const void *open[DEEPEST]; /* tables being copied, outermost first */
} copy;

static _Noreturn void refuse(const copy *c, const rwl_place *at, const char *what,
                             const char *hint)
{
  const char *place = at != NULL ? rwl_say_place(c->to, at) : "the table";
  rwl_boatfile_refuse(c->to, c->name, RW_ERR_SYNTAX, 0,
                      lua_pushfstring(c->to, "%s %s", place, what), hint);
}

static void push_text(copy *c, int index, const rwl_place *at)
{
  size_t n;
  const char *text = lua_tolstring(c->from, index, &n);
  c->bytes += n;
  if (c->bytes > MOST_BYTES)
    refuse(c, at, "brings the texts to more than 16 MiB", NULL);
  lua_pushlstring(c->to, text, n);
}

static void push_number(copy *c, int index)
{
  if (lua_isinteger(c->from, index))
    lua_pushinteger(c->to, lua_tointeger(c->from, index));
  else
    lua_pushnumber(c->to, lua_tonumber(c->from, index));
}

static void push_table(copy *c, const rwl_place *at);

/* Pushes a copy of what is on top of the source. */
static void push_value(copy *c, const rwl_place *at)
{
  switch (lua_type(c->from, -1)) {
  case LUA_TSTRING:
    push_text(c, -1, at);
    return;
  case LUA_TNUMBER:
    push_number(c, -1);
    return;
  case LUA_TBOOLEAN:
    lua_pushboolean(c->to, lua_toboolean(c->from, -1));
    return;
  case LUA_TTABLE:
    push_table(c, at);
    return;
  default:
    refuse(c, at, "is a function", "a boat file holds texts, numbers, true, false and tables");
  }
}

/* Pushes a copy of the key below the top of the source and says where its value stands. */
static rwl_place push_key(copy *c, const rwl_place *up)
{
  rwl_place at = {up, NULL, 0};
  if (lua_type(c->from, -2) == LUA_TSTRING) {
    at.name = lua_tostring(c->from, -2);
    push_text(c, -2, &at);
  } else if (lua_isinteger(c->from, -2)) {
    at.index = lua_tointeger(c->from, -2);
    push_number(c, -2);
  } else {
    refuse(c, up, "has a key that is neither a text nor a whole number", NULL);
  }
  return at;
}

static void enter(copy *c, const rwl_place *at)
{
  const void *table = lua_topointer(c->from, -1);
  for (int i = 0; i < c->depth; i++)
    if (c->open[i] == table)
      refuse(c, at, "holds itself, in a circle", "write out what it holds");
  if (c->depth == DEEPEST)
    refuse(c, at, "is nested more than 12 tables deep", NULL);
  c->open[c->depth++] = table;
  luaL_checkstack(c->to, RWL_STACK, NULL);
  if (!lua_checkstack(c->from, RWL_STACK))
    refuse(c, at, "needs more memory than there is", NULL);
}

static void push_table(copy *c, const rwl_place *at)
{
  enter(c, at);
  lua_newtable(c->to);
  lua_pushnil(c->from);
  while (lua_next(c->from, -2) != 0) {
    if (++c->entries > MOST_ENTRIES)
      refuse(c, at, "brings the data to more than 20000 entries", NULL);
    rwl_place inner = push_key(c, at);
    push_value(c, &inner);
    lua_rawset(c->to, -3);
    lua_pop(c->from, 1);
  }
  c->depth--;
}

void rwl_boatfile_copy(lua_State *L, lua_State *from, const char *name)
{
  copy c = {.from = from, .to = L, .name = name};
  int results = lua_gettop(from);
  if (results == 0)
    rwl_boatfile_refuse(L, name, RW_ERR_SYNTAX, 0, "it returns nothing",
                        "start the table with: return {");
  if (results > 1)
    rwl_boatfile_refuse(L, name, RW_ERR_SYNTAX, 0,
                        lua_pushfstring(L, "it returns %d values, one table is wanted", results),
                        NULL);
  if (!lua_istable(from, 1))
    rwl_boatfile_refuse(
        L, name, RW_ERR_SYNTAX, 0,
        lua_pushfstring(L, "it returns a %s, a table is wanted", luaL_typename(from, 1)),
        "start the table with: return {");
  push_table(&c, NULL);
}
