/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "reading.h"

#include <stdio.h>
#include <string.h>

static const double USUAL_CUP = 0.07; /* m */

const rwl_field rwl_tray_fields[] = {
    RWL_NEED("length", RWL_QUANTITY, "m", "inside length of the tray"),
    RWL_NEED("width", RWL_QUANTITY, "m", "inside width of the tray"),
    RWL_END_FIELDS,
};

rw_status rwl_check_as(lua_State *L, rw_status status, rw_error *err, const rwl_alias *alias)
{
  for (; status < 0 && alias->c != NULL; alias++) {
    char before[sizeof err->argument];
    snprintf(before, sizeof before, "%s", err->argument);
    rwl_rename(err, alias->c, alias->lua);
    if (strcmp(before, err->argument) != 0)
      break;
  }
  return rwl_check(L, status, err);
}

static rw_vessel tray(lua_State *L)
{
  static const rwl_alias alias[] = {
      {"length", "tray.length"}, {"width", "tray.width"}, {NULL, NULL}};
  rw_vessel vessel = {0};
  rw_error err;
  rwl_open(L, "tray", 0);
  double length = rwl_get_quantity(L, "length", 0.0), width = rwl_get_quantity(L, "width", 0.0);
  rwl_close(L);
  rwl_check_as(L, rw_vessel_tray(length, width, &vessel, &err), &err, alias);
  return vessel;
}

rw_vessel rwl_get_vessel(lua_State *L)
{
  static const rwl_alias alias[] = {{"diameter", "cup"}, {NULL, NULL}};
  if (rwl_has(L, "tray") && rwl_has(L, "cup")) {
    rwl_refusal r = {RW_ERR_ARGUMENT,
                     "tray",
                     "cup and tray are both given, resin stands in one of them",
                     NULL,
                     "leave one of the two out",
                     0,
                     0};
    rwl_refuse(L, &r);
  }
  if (rwl_has(L, "tray"))
    return tray(L);
  rw_vessel vessel = {0};
  rw_error err;
  double cup = rwl_get_quantity(L, "cup", USUAL_CUP);
  rwl_check_as(L, rw_vessel_cup(cup, &vessel, &err), &err, alias);
  return vessel;
}

size_t rwl_get_size(lua_State *L, const char *name, lua_Integer low, lua_Integer high)
{
  lua_Integer n = rwl_get_integer(L, name, low);
  if (n < low || n > high) {
    rw_error err;
    rw_error_range(&err, "", name, (double)n, (double)low, (double)high, "", NULL);
    rwl_throw(L, &err);
  }
  return (size_t)n;
}

rwl_draws rwl_get_draws(lua_State *L)
{
  return (rwl_draws){.temperature_sd = rwl_get_quantity(L, "temperature_sd", 0.0),
                     .count = rwl_get_size(L, "draws", 0, 100000),
                     .seed = (unsigned long)rwl_get_integer(L, "seed", 1)};
}

int rwl_push_reason(lua_State *L, const rw_error *err)
{
  int hint = err->hint[0] != '\0';
  lua_pushnil(L);
  lua_pushfstring(L, "%s%s%s", err->message, hint ? "; " : "", hint ? err->hint : "");
  return 2;
}

void rwl_set_time(lua_State *L, const char *name, double seconds)
{
  if (isfinite(seconds))
    rwl_set_quantity(L, name, "s", seconds);
}

void rwl_set_clock(lua_State *L, const char *name, double seconds)
{
  if (!isfinite(seconds))
    return;
  rwl_push_clock(L, seconds);
  lua_setfield(L, -2, name);
}
