/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "fit_common.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

_Noreturn void rwl_refuse_field(lua_State *L, const char *field, const char *message,
                                const char *hint)
{
  rwl_refusal r = {RW_ERR_ARGUMENT, field, message, NULL, hint, 0, 0};
  rwl_refuse(L, &r);
}

_Noreturn void rwl_refuse_absent(lua_State *L, const char *field, const char *hint)
{
  rwl_refuse_field(L, field, lua_pushfstring(L, "%s is missing", field), hint);
}

/* Lists of doubles are blocks, all others tables. */
static size_t length_of(lua_State *L, const char *name)
{
  size_t n = 0;
  if (rwl_get_list(L, name, &n) == NULL)
    n = rwl_get_count(L, name);
  return n;
}

void rwl_same_length(lua_State *L, const char *prefix, const char *name, const char *other)
{
  size_t n = length_of(L, name), wanted = length_of(L, other);
  if (n == wanted)
    return;
  const char *field = lua_pushfstring(L, "%s%s", prefix, name);
  rwl_refuse_field(L, field,
                   lua_pushfstring(L, "%s and %s are not of one length: %d and %d values", field,
                                   other, (int)n, (int)wanted),
                   "the two lists belong together, value by value");
}

void rwl_blame(rw_error *err, const char *field)
{
  snprintf(err->argument, sizeof err->argument, "%s", field);
}

/* Takes "run 3: time" apart; 0 where the argument is no such. */
static int split(const rw_error *err, int *place, const char **field)
{
  const char *blank = strchr(err->argument, ' ');
  char *end = NULL;
  if (blank == NULL)
    return 0;
  *place = (int)strtol(blank + 1, &end, 10);
  if (*place < 1 || end[0] != ':' || end[1] != ' ')
    return 0;
  *field = end + 2;
  return 1;
}

int rwl_place_element(lua_State *L, rw_error *err, const char *list)
{
  int place = 0;
  const char *field = NULL;
  if (!split(err, &place, &field))
    return 0;
  const char *name = lua_pushfstring(L, "%s[%d].%s", list, place, field);
  rwl_rename(err, lua_pushstring(L, err->argument), name);
  return 1;
}

int rwl_place_reading(lua_State *L, rw_error *err, const char *prefix)
{
  int place = 0;
  const char *field = NULL;
  if (split(err, &place, &field)) {
    const char *name = lua_pushfstring(L, "%s%s[%d]", prefix, field, place);
    rwl_rename(err, lua_pushstring(L, err->argument), name);
    return 1;
  }
  if (err->line <= 0)
    return 0;
  rwl_blame(err, lua_pushfstring(L, "%s%s[%d]", prefix, err->argument, (int)err->line));
  return 1;
}

/* The library reminds of SI units, which Lua's quantities carry themselves. */
_Noreturn void rwl_throw_usual(lua_State *L, rw_error *err)
{
  char before[sizeof err->message];
  snprintf(before, sizeof before, "%s", err->message);
  rwl_in_usual_units(L, err);
  if (strcmp(before, err->message) != 0)
    snprintf(err->hint, sizeof err->hint, "%s", "is its unit right?");
  for (;;)
    rwl_throw(L, err);
}

void rwl_set_known(lua_State *L, const char *name, double x)
{
  if (!isnan(x))
    rwl_set_number(L, name, x);
}

void rwl_set_known_quantity(lua_State *L, const char *name, const char *unit, double si)
{
  if (!isnan(si))
    rwl_set_quantity(L, name, unit, si);
}

void rwl_push_matrix(lua_State *L, const double *x, size_t p)
{
  lua_newtable(L);
  for (size_t i = 0; i < p; i++) {
    lua_newtable(L);
    for (size_t j = 0; j < p; j++) {
      lua_pushnumber(L, x[i * p + j]);
      lua_rawseti(L, -2, (lua_Integer)j + 1);
    }
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
}
