/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "reading.h"

#include "core.h"

#include <stdio.h>
#include <string.h>

static const double USUAL_CUP = 0.07; /* m */

enum { USUAL = 48 }; /* room for a number with its usual unit */

const rwl_field rwl_tray_fields[] = {
    RWL_NEED("length", RWL_QUANTITY, "m", "inside length of the tray"),
    RWL_NEED("width", RWL_QUANTITY, "m", "inside width of the tray"),
    RWL_END_FIELDS,
};

const rw_resin *rwl_self_resin(lua_State *L)
{
  return &((const rwl_resin *)rwl_self(L))->resin;
}

void *rwl_block(lua_State *L, size_t n, size_t each)
{
  return lua_newuserdatauv(L, (n > 0 ? n : 1) * each, 0);
}

/* The field at a place such as "label.pot_life" or "times[3]"; NULL where there is none. */
static const rwl_field *find_field(const rwl_field *f, const char *place)
{
  size_t n = strcspn(place, ".[");
  const char *inner = strchr(place, '.');
  for (; f != NULL && f->name != NULL; f++)
    if (strlen(f->name) == n && strncmp(f->name, place, n) == 0)
      return inner != NULL ? find_field(f->inner, inner + 1) : f;
  return NULL;
}

/* Only a clock time is told without its unit, as a moment. */
static void say_usual(const rwl_field *f, double si, char *to, size_t size)
{
  rw_quantity q = {.si = si, .dim = rwl_field_dim(f), .point = f->kind == RWL_TEMPERATURE};
  if (f->kind == RWL_CLOCK)
    rw_text_clock_write(si, to);
  else
    rw_quantity_write(&q, RW_METRIC, 5, to, size);
}

static int has_usual_units(const rwl_field *f)
{
  return f->kind == RWL_TEMPERATURE || f->kind == RWL_CLOCK ||
         (f->kind == RWL_QUANTITY && f->detail[0] != '\0');
}

/* "1 s to 14 d", "0 s or more"; an end that is not finite is none. */
static void say_allowed(const rwl_field *f, double low, double high, char *to, size_t size)
{
  char least[USUAL], most[USUAL];
  say_usual(f, low, least, sizeof least);
  say_usual(f, high, most, sizeof most);
  if (isfinite(low) && isfinite(high))
    snprintf(to, size, "%s to %s", least, most);
  else if (isfinite(low))
    snprintf(to, size, "%s or %s", least, f->kind == RWL_CLOCK ? "later" : "more");
  else
    snprintf(to, size, "%s %s", f->kind == RWL_CLOCK ? "until" : "at most", most);
}

/* The library has words of its own for some numbers; those stay. */
static int is_plain_range(const rw_error *err)
{
  return err->code == RW_ERR_RANGE && isfinite(err->value) &&
         (isfinite(err->low) || isfinite(err->high)) &&
         strstr(err->message, " is out of range: found ") != NULL;
}

void rwl_in_usual_units(lua_State *L, rw_error *err)
{
  const rwl_function *called = rwl_current(L);
  const rwl_field *f = called != NULL ? find_field(called->fields, err->argument) : NULL;
  if (!is_plain_range(err) || f == NULL || !has_usual_units(f))
    return;
  char found[USUAL], allowed[3 * USUAL];
  say_usual(f, err->value, found, sizeof found);
  say_allowed(f, err->low, err->high, allowed, sizeof allowed);
  snprintf(err->message, sizeof err->message, "%s is out of range: found %s, allowed %s",
           err->argument, found, allowed);
  err->low = err->high = NAN;
}

rw_status rwl_check_as(lua_State *L, rw_status status, rw_error *err, const rwl_alias *alias)
{
  for (; status < 0 && alias->c != NULL; alias++) {
    char before[sizeof err->argument];
    snprintf(before, sizeof before, "%s", err->argument);
    rwl_rename(err, alias->c, alias->lua);
    if (strcmp(before, err->argument) != 0)
      break;
  }
  if (status < 0)
    rwl_in_usual_units(L, err);
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

double rwl_get_temperature_sd(lua_State *L)
{
  double sd = rwl_get_quantity(L, "temperature_sd", 0.0);
  if (!(sd >= 0.0 && sd <= 20.0)) {
    rw_error err;
    rw_error_range(&err, "", "temperature_sd", sd, 0.0, 20.0, "K apart",
                   "A hull is known to 1 or 2 K (common practice, no source).");
    rwl_throw(L, &err);
  }
  return sd;
}

rwl_draws rwl_get_draws(lua_State *L)
{
  return (rwl_draws){.temperature_sd = rwl_get_temperature_sd(L),
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
