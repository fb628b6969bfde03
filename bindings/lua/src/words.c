/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pieces of error sentences. Each pushes one text and returns it. */
#include "core.h"

#include <string.h>

enum { LONGEST_QUOTE = 48 };

/* On one line, cut between characters where it is longer than `most`; returns 1 where cut. */
static int add_line(luaL_Buffer *b, const char *text, size_t n, size_t most)
{
  size_t shown = n;
  if (n > most) {
    shown = most;
    while (shown > 0 && ((unsigned char)text[shown] & 0xC0) == 0x80)
      shown--;
  }
  for (size_t i = 0; i < shown; i++) {
    unsigned char c = (unsigned char)text[i];
    luaL_addchar(b, c < 32 || c == 127 ? ' ' : text[i]);
  }
  return shown < n;
}

const char *rwl_say_line(lua_State *L, const char *text, size_t most)
{
  luaL_Buffer b;
  luaL_buffinit(L, &b);
  if (add_line(&b, text, strlen(text), most))
    luaL_addstring(&b, "...");
  luaL_pushresult(&b);
  return lua_tostring(L, -1);
}

static void add_place(luaL_Buffer *b, const rwl_place *at)
{
  if (at->up != NULL)
    add_place(b, at->up);
  if (at->name != NULL) {
    luaL_addstring(b, at->up != NULL ? "." : "");
    add_line(b, at->name, strlen(at->name), LONGEST_QUOTE);
  } else {
    char text[RWL_WORD];
    snprintf(text, sizeof text, "[%lld]", (long long)at->index);
    luaL_addstring(b, text);
  }
}

const char *rwl_say_place(lua_State *L, const rwl_place *at)
{
  luaL_Buffer b;
  luaL_buffinit(L, &b);
  add_place(&b, at);
  luaL_pushresult(&b);
  return lua_tostring(L, -1);
}

const char *rwl_say_text(lua_State *L, const char *text, size_t n)
{
  luaL_Buffer b;
  luaL_buffinit(L, &b);
  luaL_addchar(&b, '"');
  luaL_addstring(&b, add_line(&b, text, n, LONGEST_QUOTE) ? "...\"" : "\"");
  luaL_pushresult(&b);
  return lua_tostring(L, -1);
}

const char *rwl_say_number(lua_State *L, double x, int digits)
{
  char text[40];
  rw_text_round(x, digits, text);
  return lua_pushstring(L, text);
}

static const char *say_object(lua_State *L, int index)
{
  if (rwl_test_quantity(L, index) != NULL)
    return luaL_tolstring(L, index, NULL);
  if (luaL_getmetafield(L, index, "__name") != LUA_TSTRING)
    return lua_pushliteral(L, "an object");
  const char *name = lua_tostring(L, -1);
  const char *dot = strrchr(name, '.');
  return lua_pushfstring(L, "a %s", dot != NULL ? dot + 1 : name);
}

const char *rwl_say_value(lua_State *L, int index)
{
  size_t n;
  const char *text;
  switch (lua_type(L, index)) {
  case LUA_TSTRING:
    text = lua_tolstring(L, index, &n);
    return rwl_say_text(L, text, n);
  case LUA_TNUMBER:
    if (lua_isinteger(L, index))
      return lua_pushfstring(L, "%I", (LUAI_UACINT)lua_tointeger(L, index));
    return rwl_say_number(L, lua_tonumber(L, index), 15);
  case LUA_TBOOLEAN:
    return lua_pushstring(L, lua_toboolean(L, index) ? "true" : "false");
  case LUA_TUSERDATA:
    return say_object(L, index);
  default:
    return lua_pushfstring(L, lua_isnoneornil(L, index) ? "%s" : "a %s", luaL_typename(L, index));
  }
}

const char *rwl_say_names(lua_State *L, const char *const *name, size_t n)
{
  luaL_Buffer b;
  luaL_buffinit(L, &b);
  for (size_t i = 0; i < n; i++) {
    luaL_addstring(&b, i > 0 ? ", " : "");
    luaL_addstring(&b, name[i]);
  }
  luaL_pushresult(&b);
  return lua_tostring(L, -1);
}

const char *rwl_say_nearest(lua_State *L, const char *word, const char *const *name, size_t n)
{
  int near = rw_nearest_name(word, name, n);
  if (near >= 0)
    return lua_pushfstring(L, "did you mean %s?", name[near]);
  if (n == 0)
    return lua_pushliteral(L, "it takes none");
  return lua_pushfstring(L, "it knows: %s", rwl_say_names(L, name, n));
}

const char *rwl_say_dim(lua_State *L, rw_dim dim)
{
  char text[RWL_WORD];
  rw_dim_name(dim, text, sizeof text);
  return lua_pushstring(L, text);
}

/* Units people write numbers of about that size in. */
static const struct {
  const char *si;
  double above;
  const char *unit;
} usual[] = {
    {"m", 20, "mm"},        {"m", 0, "m"},         {"m2", 0, "m2"},  {"kg/m2", 20, "g/m2"},
    {"kg/m2", 1, "oz/yd2"}, {"kg/m2", 0, "kg/m2"}, {"kg", 20, "g"},  {"kg", 0, "kg"},
    {"s", 0, "min"},        {"K", 0, "degC"},      {"m3", 20, "mL"}, {"m3", 0, "L"},
    {"kg/m3", 0, "kg/m3"},  {"Pa", 0, "GPa"},      {"N", 0, "N"},    {"rad", 0, "deg"},
    {"J/mol", 0, "kJ/mol"},
};

const char *rwl_say_example(lua_State *L, rw_dim dim, double number)
{
  const char *shown = rwl_say_number(L, number, 15);
  for (size_t i = 0; i < sizeof usual / sizeof usual[0]; i++)
    if (rw_dim_same(dim, rw_dim_of(usual[i].si)) && fabs(number) >= usual[i].above)
      return lua_pushfstring(L, "\"%s %s\"", shown, usual[i].unit);
  char unit[RWL_WORD];
  rw_quantity q = {1.0, dim, 0};
  rw_quantity_unit(&q, RW_METRIC, unit, sizeof unit);
  return lua_pushfstring(L, "\"%s %s\"", shown, unit);
}

const char *rwl_say_function(lua_State *L, const rwl_function *f)
{
  if (f->self != NULL)
    return lua_pushfstring(L, "%s:%s", f->self, f->name);
  return lua_pushfstring(L, "rw.%s", f->name);
}
