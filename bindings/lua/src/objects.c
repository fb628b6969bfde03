/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "objects.h"

#include <stdio.h>

void rwl_keep(lua_State *L, rwl_warning *w, rw_status status, const rw_error *err)
{
  rwl_check(L, status, err);
  w->text[0] = '\0';
  if (status == RW_OK)
    return;
  int told = err != NULL && err->code == status && err->message[0] != '\0';
  snprintf(w->text, sizeof w->text, "%s", told ? err->message : rw_status_text(status));
}

void rwl_push_warnings(lua_State *L, const rwl_warning *w)
{
  lua_newtable(L);
  if (w->text[0] == '\0')
    return;
  lua_pushstring(L, w->text);
  lua_rawseti(L, -2, 1);
}

void rwl_copy_name(char to[RWL_NAME], const char *text)
{
  snprintf(to, RWL_NAME, "%s", text);
}

void rwl_set_number(lua_State *L, const char *name, double x)
{
  lua_pushnumber(L, x);
  lua_setfield(L, -2, name);
}

void rwl_set_text(lua_State *L, const char *name, const char *text)
{
  lua_pushstring(L, text);
  lua_setfield(L, -2, name);
}

void rwl_set_quantity(lua_State *L, const char *name, const char *unit, double si)
{
  rwl_push_quantity(L, unit, si);
  lua_setfield(L, -2, name);
}

void rwl_set_temperature(lua_State *L, const char *name, double kelvin)
{
  rwl_push_temperature(L, kelvin);
  lua_setfield(L, -2, name);
}

void rwl_set_warnings(lua_State *L, const rwl_warning *w)
{
  rwl_push_warnings(L, w);
  lua_setfield(L, -2, "warnings");
}

void rwl_set_numbers(lua_State *L, const char *name, const double *x, size_t n)
{
  lua_newtable(L);
  for (size_t i = 0; i < n; i++) {
    if (isnan(x[i]))
      lua_pushboolean(L, 0);
    else
      lua_pushnumber(L, x[i]);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_setfield(L, -2, name);
}
