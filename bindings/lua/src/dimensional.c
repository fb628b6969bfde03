/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers with units: quantities, temperatures, differences, shares, clock times. */
#include "core.h"

#include <string.h>

static const char clock_example[] = "write a date and a time, such as \"2026-10-03 15:30\"";

rw_dim rwl_field_dim(const rwl_field *f)
{
  if (f->kind == RWL_TEMPERATURE || f->kind == RWL_DIFFERENCE)
    return rw_dim_of("K");
  if (f->kind == RWL_SHARE)
    return rw_dim_of("");
  return rw_dim_of(f->detail);
}

static int is_pure(rw_dim dim)
{
  return rw_dim_same(dim, rw_dim_of(""));
}

static int wants_scale(const rwl_field *f)
{
  return f->kind == RWL_TEMPERATURE;
}

static int wants_difference(const rwl_field *f)
{
  return f->kind == RWL_DIFFERENCE ||
         (f->kind == RWL_QUANTITY && rw_dim_same(rwl_field_dim(f), rw_dim_of("K")));
}

static const char *say_allowed(lua_State *L, const rwl_field *f)
{
  if (wants_difference(f))
    return lua_pushliteral(L, "temperature difference (such as \"5 K\")");
  if (f->kind == RWL_SHARE)
    return lua_pushliteral(L, "a share from 0 to 1 (such as 0.7 or \"70 %\")");
  rw_dim dim = rwl_field_dim(f);
  if (is_pure(dim))
    return lua_pushliteral(L, "a plain number");
  return lua_pushfstring(L, "%s (such as %s)", rwl_say_dim(L, dim), rwl_say_example(L, dim, 20));
}

/* How the number would be written; one of a length is told in both usual units. */
static const char *write_it(lua_State *L, const rwl_field *f, const char *number, double x)
{
  rw_dim dim = rwl_field_dim(f);
  if (wants_difference(f))
    return lua_pushfstring(L, "\"%s K\"", number);
  const char *example = rwl_say_example(L, dim, x);
  const char *small = lua_pushfstring(L, "\"%s mm\"", number);
  if (rw_dim_same(dim, rw_dim_of("m")) && strcmp(example, small) != 0)
    return lua_pushfstring(L, "%s or %s", small, example);
  return example;
}

/* A share or another number without unit, given as a text. */
static const char *write_pure(lua_State *L, const rwl_field *f, const char *number, double x)
{
  if (f->kind == RWL_SHARE && !(x <= 1.0))
    return lua_pushfstring(L, "write \"%s %%\" if percent is meant", number);
  return lua_pushfstring(L, "write %s without quotes, or \"%s %%\" if percent is meant", number,
                         number);
}

static int refuse_bare(lua_State *L, const rwl_field *f, int index, const rwl_place *at, double x)
{
  const char *place = rwl_say_place(L, at);
  const char *number = rwl_say_number(L, x, 15);
  const char *allowed = say_allowed(L, f);
  const char *message =
      lua_pushfstring(L, "%s = %s has no unit, it must be %s", place, number, allowed);
  const char *example = write_it(L, f, number, x);
  const char *hint =
      is_pure(rwl_field_dim(f)) ? write_pure(L, f, number, x)
      : at->name == NULL
          ? lua_pushfstring(L, "write %s, or unit = \"...\" once in the list", example)
          : lua_pushfstring(L, "write %s if that is what it is", example);
  rwl_refusal r = {RW_ERR_UNIT, place, message, allowed, hint, index, 0};
  return rwl_refuse(L, &r);
}

static int ends_in_bare_ounce(const char *text, size_t n)
{
  while (n > 0 && text[n - 1] == ' ')
    n--;
  return n > 2 && strncmp(text + n - 2, "oz", 2) == 0 && strchr(" 0123456789", text[n - 3]);
}

static int refuse_text(lua_State *L, const rwl_field *f, int index, const rwl_place *at,
                       const rw_error *err)
{
  size_t n;
  const char *text = lua_tolstring(L, index, &n);
  double x;
  if (rw_text_number(text, n, '.', &x, NULL, NULL) == RW_OK)
    return refuse_bare(L, f, index, at, x);
  const char *place = rwl_say_place(L, at);
  const char *message =
      lua_pushfstring(L, "%s = %s: %s", place, rwl_say_text(L, text, n), err->message);
  const char *hint = err->hint;
  if (rw_dim_same(rwl_field_dim(f), rw_dim_of("kg/m2")) && ends_in_bare_ounce(text, n))
    hint = "is it oz/yd2 (woven cloth) or oz/ft2 (mat)?";
  rwl_refusal r = {err->code, place, message, say_allowed(L, f), hint, index, 0};
  return rwl_refuse(L, &r);
}

static int refuse_other(lua_State *L, const rwl_field *f, int index, const rwl_place *at)
{
  const char *hint = NULL;
  if (rwl_test_range(L, index) != NULL)
    hint = "a result with an interval is not one number: take its .value, .low or .high";
  else if (lua_istable(L, index))
    hint = "it is one value, not a table";
  return rwl_wrong_kind(L, at, index, say_allowed(L, f), hint);
}

static int refuse_dim(lua_State *L, const rwl_field *f, int index, const rwl_place *at,
                      rw_dim found)
{
  const char *place = rwl_say_place(L, at);
  const char *allowed = say_allowed(L, f);
  const char *message = lua_pushfstring(L, "%s must be %s, found %s (%s)", place, allowed,
                                        is_pure(found) ? "a plain number" : rwl_say_dim(L, found),
                                        rwl_say_value(L, index));
  rwl_refusal r = {RW_ERR_UNIT, place, message, allowed, NULL, index, 0};
  return rwl_refuse(L, &r);
}

static int refuse_point(lua_State *L, const rwl_field *f, int index, const rwl_place *at)
{
  const char *place = rwl_say_place(L, at);
  const char *message =
      lua_pushfstring(L, "%s = %s is a reading on a scale, a temperature difference is wanted",
                      place, rwl_say_value(L, index));
  const char *hint = "write a difference as \"5 K\", \"5 Cdeg\" or \"9 Fdeg\"";
  rwl_refusal r = {RW_ERR_UNIT, place, message, say_allowed(L, f), hint, index, 0};
  return rwl_refuse(L, &r);
}

static int refuse_infinite(lua_State *L, const rwl_field *f, int index, const rwl_place *at)
{
  const char *place = rwl_say_place(L, at);
  const char *message = lua_pushfstring(L, "%s is not a finite number", place);
  rwl_refusal r = {RW_ERR_RANGE, place, message, say_allowed(L, f), NULL, index, 0};
  return rwl_refuse(L, &r);
}

static rw_quantity from_number(lua_State *L, const rwl_field *f, int index, const rwl_place *at,
                               const rwl_scale *scale)
{
  rw_quantity q = {lua_tonumber(L, index), rwl_field_dim(f), wants_scale(f)};
  if (scale != NULL && scale->given)
    q.si = q.si * scale->factor + scale->offset;
  else if (!is_pure(q.dim))
    refuse_bare(L, f, index, at, q.si);
  return q;
}

static rw_quantity from_text(lua_State *L, const rwl_field *f, int index, const rwl_place *at)
{
  rw_quantity q = {0};
  rw_error err;
  size_t n;
  const char *text = lua_tolstring(L, index, &n);
  if (rw_quantity_read(text, n, &q, &err) != RW_OK)
    refuse_text(L, f, index, at, &err);
  return q;
}

static rw_quantity read_any(lua_State *L, const rwl_field *f, int index, const rwl_place *at,
                            const rwl_scale *scale)
{
  if (lua_type(L, index) == LUA_TNUMBER)
    return from_number(L, f, index, at, scale);
  if (lua_type(L, index) == LUA_TSTRING)
    return from_text(L, f, index, at);
  const rw_quantity *q = rwl_test_quantity(L, index);
  if (q == NULL)
    refuse_other(L, f, index, at);
  return *q;
}

static double quantity(lua_State *L, const rwl_field *f, int index, const rwl_place *at,
                       const rwl_scale *scale)
{
  rw_quantity q = read_any(L, f, index, at, scale);
  if (!rw_dim_same(q.dim, rwl_field_dim(f)))
    refuse_dim(L, f, index, at, q.dim);
  if (q.point && wants_difference(f))
    refuse_point(L, f, index, at);
  if (!isfinite(q.si))
    refuse_infinite(L, f, index, at);
  return q.si;
}

static double share(lua_State *L, const rwl_field *f, int index, const rwl_place *at,
                    const rwl_scale *scale)
{
  double x = quantity(L, f, index, at, scale);
  if (x >= 0.0 && x <= 1.0)
    return x;
  const char *place = rwl_say_place(L, at);
  const char *message = lua_pushfstring(L, "%s must be %s, found %s", place, say_allowed(L, f),
                                        rwl_say_value(L, index));
  const char *hint =
      x > 1.0 && x <= 100.0
          ? lua_pushfstring(L, "write \"%s %%\" if percent is meant", rwl_say_number(L, x, 6))
          : NULL;
  rwl_refusal r = {RW_ERR_RANGE, place, message, "0 to 1", hint, index, 0};
  rwl_refuse(L, &r);
  return x;
}

static double number(lua_State *L, const rwl_field *f, int index, const rwl_place *at)
{
  if (lua_type(L, index) != LUA_TNUMBER)
    rwl_wrong_kind(L, at, index, "a plain number", "write it without quotes and without a unit");
  if (!isfinite(lua_tonumber(L, index)))
    refuse_infinite(L, f, index, at);
  return lua_tonumber(L, index);
}

static double clock_time(lua_State *L, int index, const rwl_place *at)
{
  if (lua_type(L, index) != LUA_TSTRING)
    rwl_wrong_kind(L, at, index, "a clock time", clock_example);
  double seconds = 0.0;
  rw_error err;
  size_t n;
  const char *text = lua_tolstring(L, index, &n);
  if (rw_text_clock(text, n, &seconds, NULL, &err) == RW_OK)
    return seconds;
  const char *place = rwl_say_place(L, at);
  const char *message =
      lua_pushfstring(L, "%s = %s: %s", place, rwl_say_text(L, text, n), err.message);
  rwl_refusal r = {err.code, place, message, "a clock time", clock_example, index, 0};
  rwl_refuse(L, &r);
  return seconds;
}

double rwl_read_number(lua_State *L, const rwl_field *f, int index, const rwl_place *at,
                       const rwl_scale *scale)
{
  switch (f->kind) {
  case RWL_SHARE:
    return share(L, f, index, at, scale);
  case RWL_NUMBER:
    return number(L, f, index, at);
  case RWL_CLOCK:
    return clock_time(L, index, at);
  default:
    return quantity(L, f, index, at, scale);
  }
}

/* The unit of a list of plain numbers. */
rwl_scale rwl_read_scale(lua_State *L, const rwl_field *f, int index, const rwl_place *at)
{
  if (lua_type(L, index) != LUA_TSTRING)
    rwl_wrong_kind(L, at, index, "the name of a unit", "write it in quotes, such as \"mm\"");
  rwl_scale scale = {1, 1.0, 0.0};
  rw_dim dim;
  rw_error err;
  size_t n;
  const char *text = lua_tolstring(L, index, &n);
  if (rw_unit_read(text, n, &scale.factor, &scale.offset, &dim, &err) != RW_OK) {
    const char *place = rwl_say_place(L, at);
    const char *message =
        lua_pushfstring(L, "%s = %s: %s", place, rwl_say_text(L, text, n), err.message);
    rwl_refusal r = {err.code, place, message, NULL, err.hint, index, 0};
    rwl_refuse(L, &r);
  }
  if (!rw_dim_same(dim, rwl_field_dim(f)))
    refuse_dim(L, f, index, at, dim);
  if (scale.offset != 0.0 && wants_difference(f))
    refuse_point(L, f, index, at);
  return scale;
}
