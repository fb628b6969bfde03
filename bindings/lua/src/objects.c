/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "objects.h"

#include <stdio.h>
#include <string.h>

static const void *open_or_refuse(lua_State *L, const char *type, const void *held)
{
  if (held != NULL)
    return held;
  rwl_refusal r = {RW_ERR_ARGUMENT,
                   type,
                   lua_pushfstring(L, "this %s was closed at the end of its block", type),
                   NULL,
                   "leave <close> away, or use it inside the block",
                   0,
                   0};
  rwl_refuse(L, &r);
  return NULL;
}

const rw_history *rwl_history_in(lua_State *L, const rwl_history *object)
{
  return object != NULL ? open_or_refuse(L, RWL_HISTORY, object->h) : NULL;
}

const rw_hull *rwl_hull_in(lua_State *L, const rwl_hull *object)
{
  return object != NULL ? open_or_refuse(L, RWL_HULL, object->hull) : NULL;
}

const rw_log *rwl_log_in(lua_State *L, const rwl_log *object)
{
  return object != NULL ? open_or_refuse(L, RWL_LOG, object->log) : NULL;
}

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

/* Puts `after` in place of each whole word `before`, or only of one that the text starts with. */
static void replace(char *text, size_t size, const char *before, const char *after, int only_first)
{
  char made[sizeof((rw_error *)0)->message] = "";
  size_t used = 0, n = strlen(before);
  for (const char *p = text; *p != '\0' && used + 1 < sizeof made;) {
    int starts = p == text || (p[-1] == ' ' && !only_first);
    if (starts && strncmp(p, before, n) == 0 && strchr(" :,.;=", p[n]) != NULL) {
      int wrote = snprintf(made + used, sizeof made - used, "%s", after);
      used += wrote > 0 ? (size_t)wrote : 0;
      p += n;
    } else {
      made[used++] = *p++;
      made[used] = '\0';
    }
  }
  snprintf(text, size, "%s", made);
}

/* "readings[].at", "[3]" and "" make "readings[3].at". */
static void name_in_lua(char *name, size_t size, const char *to, const char *index,
                        const char *rest)
{
  const char *brackets = strstr(to, "[]");
  int head = (int)(brackets != NULL ? (size_t)(brackets - to) : strlen(to));
  int has_index = brackets != NULL && index[0] != '\0';
  snprintf(name, size, "%.*s%s%s%s", head, to, has_index ? index : "",
           has_index ? brackets + 2 : "", rest);
}

void rwl_rename(rw_error *err, const char *from, const char *to)
{
  char before[sizeof err->argument], name[sizeof err->argument], index[24] = "";
  size_t n = strlen(from);
  if (strncmp(err->argument, from, n) != 0)
    return;
  const char *rest = err->argument + n;
  if (*rest == '[') {
    size_t length = strcspn(rest, "]") + 1;
    snprintf(index, sizeof index, "%.*s", (int)length, rest);
    rest += length <= strlen(rest) ? length : strlen(rest);
  }
  if (*rest != '\0' && *rest != '.')
    return;
  snprintf(before, sizeof before, "%s", err->argument);
  name_in_lua(name, sizeof name, to, index, rest);
  snprintf(err->argument, sizeof err->argument, "%s", name);
  /* "to" is a word between bounds, too */
  int range = err->code == RW_ERR_RANGE && strncmp(err->message, before, strlen(before)) == 0;
  replace(err->message, sizeof err->message, before, name, range);
}

void rwl_in_unit(rw_error *err, const char *what, const char *unit, const char *hint)
{
  double factor = 1.0, offset = 0.0;
  rw_dim dim;
  if (err->code != RW_ERR_RANGE || !isfinite(err->low) || !isfinite(err->high) ||
      rw_unit_read(unit, strlen(unit), &factor, &offset, &dim, NULL) != RW_OK)
    return;
  char found[40], low[40], high[40];
  rw_text_round((err->value - offset) / factor, 5, found);
  rw_text_round((err->low - offset) / factor, 5, low);
  rw_text_round((err->high - offset) / factor, 5, high);
  snprintf(err->message, sizeof err->message, "%s %s %s, allowed are %s to %s %s", what, found,
           unit, low, high, unit);
  err->low = err->high = NAN;
  if (hint != NULL)
    snprintf(err->hint, sizeof err->hint, "%s", hint);
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
