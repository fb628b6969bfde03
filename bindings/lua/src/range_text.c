/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a result with its interval is printed:
 * "5.49 m2 (5.40 to 5.58; most of the spread: tape reading)". */
#include "core.h"

#include <string.h>

enum { SHOWN = 4, DATE = 10 };

const char *rwl_say_clock(lua_State *L, double seconds)
{
  if (isnan(seconds))
    return lua_pushliteral(L, "never");
  if (isinf(seconds))
    return lua_pushstring(L, seconds > 0 ? "not within the time looked at"
                                         : "before the time looked at");
  char text[20];
  rw_text_clock_write(seconds, text);
  return lua_pushstring(L, text);
}

/* The date is left out where it is the same as that of the best value. */
static const char *say_end(lua_State *L, double seconds, const char *value)
{
  const char *text = rwl_say_clock(L, seconds);
  if (isfinite(seconds) && strncmp(text, value, DATE) == 0)
    return lua_pushstring(L, text + DATE + 1);
  return text;
}

static void add_because(lua_State *L, const char *because)
{
  if (because != NULL && because[0] != '\0')
    lua_pushfstring(L, "; most of the spread: %s)", because);
  else
    lua_pushliteral(L, ")");
  lua_concat(L, 2);
}

static void say_clock_range(lua_State *L, const rwl_range *r, const char *because)
{
  const char *value = rwl_say_clock(L, r->value);
  const char *low = say_end(L, r->low, value), *high = say_end(L, r->high, value);
  if (isinf(r->low) && r->low > 0)
    lua_pushfstring(L, "%s (nor likely to be", value);
  else if (isinf(r->high) && r->high > 0)
    lua_pushfstring(L, "%s (%s or later than looked at", value, low);
  else
    lua_pushfstring(L, "%s (%s to %s", value, low, high);
  add_because(L, because);
}

/* Decimals that show two digits of the spread; -1 where there is no spread to go by. */
static int decimals_for(double spread)
{
  if (!isfinite(spread) || spread <= 0.0)
    return -1;
  double decimals = 1.0 - floor(log10(spread));
  return decimals < 0.0 ? 0 : decimals > 12.0 ? 12 : (int)decimals;
}

static int digits_for(double x, int decimals)
{
  if (decimals < 0)
    return SHOWN;
  double whole = x != 0.0 ? floor(log10(fabs(x))) + 1.0 : 1.0;
  double digits = whole + decimals;
  return digits < 1.0 ? 1 : digits > 15.0 ? 15 : (int)digits;
}

/* "5.4" with two decimals is "5.40". */
static const char *pad(lua_State *L, const char *text, int decimals)
{
  const char *point = strchr(text, '.');
  int present = point != NULL ? (int)strlen(point + 1) : 0;
  luaL_Buffer b;
  luaL_buffinit(L, &b);
  luaL_addstring(&b, text);
  if (strchr(text, 'e') == NULL && decimals > present) {
    luaL_addstring(&b, point != NULL ? "" : ".");
    for (int i = present; i < decimals; i++)
      luaL_addchar(&b, '0');
  }
  luaL_pushresult(&b);
  return lua_tostring(L, -1);
}

static const char *say_fixed(lua_State *L, double x, int decimals)
{
  if (!isfinite(x))
    return lua_pushstring(L, x > 0 ? "no upper limit" : x < 0 ? "no lower limit" : "unknown");
  if (decimals >= 0 && fabs(x) < 0.5 * pow(10.0, -decimals))
    x = 0.0;
  return pad(L, rwl_say_number(L, x, digits_for(x, decimals)), decimals);
}

static double in_unit(const rw_quantity *shape, double si, const char *unit)
{
  rw_quantity q = *shape;
  double x = si;
  q.si = si;
  if (isfinite(si))
    rw_quantity_in(&q, unit, &x, NULL);
  return x;
}

static double reference(const rwl_range *r)
{
  return isfinite(r->value) ? r->value : isfinite(r->low) ? r->low : r->high;
}

static void say_plain_range(lua_State *L, const rwl_range *r, const char *because)
{
  char unit[RWL_WORD] = "";
  rw_quantity q = r->shape;
  q.si = reference(r);
  if (isfinite(q.si) && !rw_dim_same(q.dim, rw_dim_of("")))
    rw_quantity_unit(&q, rwl_reader(L), unit, sizeof unit);
  double value = in_unit(&q, r->value, unit), low = in_unit(&q, r->low, unit),
         high = in_unit(&q, r->high, unit);
  int decimals = decimals_for(high - low);
  lua_pushfstring(L, "%s%s%s (%s to %s", say_fixed(L, value, decimals), unit[0] != '\0' ? " " : "",
                  unit, say_fixed(L, low, decimals), say_fixed(L, high, decimals));
  add_because(L, because);
}

static const char *say_span(lua_State *L, const rwl_range *r, double seconds)
{
  if (!isfinite(seconds))
    return rwl_say_clock(L, seconds);
  char text[RWL_WORD];
  rw_quantity q = r->shape;
  q.si = seconds;
  rw_quantity_write(&q, rwl_reader(L), 3, text, sizeof text);
  return lua_pushstring(L, text);
}

/* Spans of time read best each in its own hours and minutes. */
static void say_span_range(lua_State *L, const rwl_range *r, const char *because)
{
  lua_pushfstring(L, "%s (%s to %s", say_span(L, r, r->value), say_span(L, r, r->low),
                  say_span(L, r, r->high));
  add_because(L, because);
}

void rwl_say_range(lua_State *L, const rwl_range *r, const char *because)
{
  luaL_checkstack(L, RWL_STACK, NULL);
  if (r->clock)
    say_clock_range(L, r, because);
  else if (rw_dim_same(r->shape.dim, rw_dim_of("s")))
    say_span_range(L, r, because);
  else
    say_plain_range(L, r, because);
}
