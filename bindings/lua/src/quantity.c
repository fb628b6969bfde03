/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quantities: rw.q(21, "degC"), rw.q "203 g/m2"; their methods, and the reader's unit system. */
#include "core.h"

#include <string.h>

enum { DIGITS = 4 };

static const char reader_key[] = "resinwright.reader";
static const char unit_text[] = "the name of a unit as text";
static const char *const systems[] = {"metric", "us", NULL};

rw_unit_system rwl_reader(lua_State *L)
{
  lua_getfield(L, LUA_REGISTRYINDEX, reader_key);
  rw_unit_system system = lua_toboolean(L, -1) ? RW_US : RW_METRIC;
  lua_pop(L, 1);
  return system;
}

rw_quantity *rwl_test_quantity(lua_State *L, int index)
{
  return rwl_test_object(L, index, "quantity");
}

/* A quantity without dimension becomes a plain number. */
void rwl_push(lua_State *L, rw_quantity q)
{
  if (rw_dim_same(q.dim, rw_dim_of("")))
    lua_pushnumber(L, q.si);
  else
    *(rw_quantity *)rwl_push_object(L, "quantity", sizeof q) = q;
}

void rwl_push_quantity(lua_State *L, const char *unit, double si)
{
  rwl_push(L, (rw_quantity){si, rw_dim_of(unit), 0});
}

void rwl_push_temperature(lua_State *L, double kelvin)
{
  rwl_push(L, (rw_quantity){kelvin, rw_dim_of("K"), 1});
}

static rw_quantity *self(lua_State *L, const char *method)
{
  rw_quantity *q = rwl_test_quantity(L, 1);
  if (q == NULL) {
    const char *message =
        lua_pushfstring(L, "%s is called on %s, not on a quantity", method, rwl_say_value(L, 1));
    rwl_refusal r = {
        RW_ERR_ARGUMENT, "quantity", message, NULL, "write a colon, as in width:si()", 1, 0};
    rwl_refuse(L, &r);
  }
  return q;
}

static const char *text_at(lua_State *L, int index, const char *name, const char *wanted,
                           const char *example, size_t *n)
{
  if (lua_type(L, index) != LUA_TSTRING) {
    const char *message =
        lua_pushfstring(L, "%s must be %s, found %s", name, wanted, rwl_say_value(L, index));
    rwl_refusal r = {RW_ERR_ARGUMENT, name, message, wanted, example, index, 0};
    rwl_refuse(L, &r);
  }
  return lua_tolstring(L, index, n);
}

static int from_text(lua_State *L)
{
  rw_quantity q;
  rw_error err;
  size_t n;
  const char *text = text_at(L, 1, "value", "a number with a unit, or a text with both",
                             "write rw.q(21, \"degC\") or rw.q \"21 degC\"", &n);
  rwl_check(L, rw_quantity_read(text, n, &q, &err), &err);
  *(rw_quantity *)rwl_push_object(L, "quantity", sizeof q) = q;
  return 1;
}

static double number_at(lua_State *L, int index)
{
  if (lua_type(L, index) != LUA_TNUMBER || !isfinite(lua_tonumber(L, index))) {
    const char *message =
        lua_pushfstring(L, "value must be a finite number where a unit is given apart, found %s",
                        rwl_say_value(L, index));
    rwl_refusal r = {
        RW_ERR_ARGUMENT, "value", message, "a finite number", "write rw.q(21, \"degC\")",
        index,           0};
    rwl_refuse(L, &r);
  }
  return lua_tonumber(L, index);
}

static int from_number(lua_State *L)
{
  rw_quantity q;
  rw_error err;
  size_t n;
  double x = number_at(L, 1);
  const char *unit = text_at(L, 2, "unit", unit_text, "write rw.q(21, \"degC\")", &n);
  rwl_check(L, rw_quantity_of(x, unit, &q, &err), &err);
  *(rw_quantity *)rwl_push_object(L, "quantity", sizeof q) = q;
  return 1;
}

static int refuse_number(lua_State *L)
{
  const char *number = rwl_say_value(L, 1);
  const char *message = lua_pushfstring(L, "value = %s has no unit", number);
  const char *hint =
      lua_pushfstring(L, "write rw.q(%s, \"mm\") or whatever unit it is in", number);
  rwl_refusal r = {RW_ERR_UNIT, "value", message, NULL, hint, 1, 0};
  return rwl_refuse(L, &r);
}

static int make(lua_State *L)
{
  lua_settop(L, 2);
  if (!lua_isnil(L, 2))
    return from_number(L);
  if (rwl_test_quantity(L, 1) != NULL) {
    lua_settop(L, 1);
    return 1;
  }
  return lua_type(L, 1) == LUA_TNUMBER ? refuse_number(L) : from_text(L);
}

static int reader(lua_State *L)
{
  if (lua_gettop(L) == 0) {
    lua_pushstring(L, systems[rwl_reader(L) == RW_US]);
    return 1;
  }
  const char *word = lua_type(L, 1) == LUA_TSTRING ? lua_tostring(L, 1) : "";
  int us = strcmp(word, "us") == 0;
  if (!us && strcmp(word, "metric") != 0) {
    const char *message =
        lua_pushfstring(L, "system must be \"metric\" or \"us\", found %s", rwl_say_value(L, 1));
    rwl_refusal r = {RW_ERR_NAME,
                     "system",
                     message,
                     "metric, us",
                     "write rw.reader \"metric\" or rw.reader \"us\"",
                     1,
                     0};
    rwl_refuse(L, &r);
  }
  lua_pushboolean(L, us);
  lua_setfield(L, LUA_REGISTRYINDEX, reader_key);
  return 0;
}

static int to(lua_State *L)
{
  const rw_quantity *q = self(L, "to");
  double x = 0.0;
  rw_error err;
  const char *unit = text_at(L, 2, "unit", unit_text, "write width:to \"mm\"", NULL);
  rwl_check(L, rw_quantity_in(q, unit, &x, &err), &err);
  lua_pushnumber(L, x);
  return 1;
}

static int si(lua_State *L)
{
  lua_pushnumber(L, self(L, "si")->si);
  return 1;
}

static int write(lua_State *L, const rw_quantity *q, int digits)
{
  char text[2 * RWL_WORD];
  rw_quantity_write(q, rwl_reader(L), digits, text, sizeof text);
  lua_pushstring(L, text);
  return 1;
}

static int text(lua_State *L)
{
  const rw_quantity *q = self(L, "text");
  lua_Integer digits = DIGITS;
  int whole = 1;
  if (!lua_isnoneornil(L, 2))
    digits = lua_tointegerx(L, 2, &whole);
  if (!whole || digits < 1 || digits > 17) {
    const char *message = lua_pushfstring(
        L, "digits must be a whole number from 1 to 17, found %s", rwl_say_value(L, 2));
    rwl_refusal r = {RW_ERR_RANGE, "digits", message, "1 to 17", NULL, 2, 0};
    rwl_refuse(L, &r);
  }
  return write(L, q, (int)digits);
}

static int unit(lua_State *L)
{
  char name[RWL_WORD];
  rw_quantity_unit(self(L, "unit"), rwl_reader(L), name, sizeof name);
  lua_pushstring(L, name);
  return 1;
}

static int dimension(lua_State *L)
{
  rwl_say_dim(L, self(L, "dimension")->dim);
  return 1;
}

int rwl_quantity_tostring(lua_State *L)
{
  return write(L, self(L, "tostring"), DIGITS);
}

int rwl_concat(lua_State *L)
{
  luaL_tolstring(L, 1, NULL);
  luaL_tolstring(L, 2, NULL);
  lua_concat(L, 2);
  return 1;
}

static const rwl_field make_fields[] = {
    RWL_NEED("value", RWL_QUANTITY, "any",
             "a number, or a text with its unit such as \"203 g/m2\""),
    RWL_MAY("unit", RWL_STRING, "", NULL, "the unit, where value is a number"),
    RWL_END_FIELDS,
};
static const rwl_field reader_fields[] = {
    RWL_MAY("system", RWL_CHOICE, "metric|us", NULL, "left out: the present one is returned"),
    RWL_END_FIELDS,
};
static const rwl_field to_fields[] = {
    RWL_NEED("unit", RWL_STRING, "", "the unit, such as \"g/m2\""),
    RWL_END_FIELDS,
};
static const rwl_field text_fields[] = {
    RWL_MAY("digits", RWL_INTEGER, "", "4", "significant digits, 1 to 17"),
    RWL_END_FIELDS,
};

static const rwl_function functions[] = {
    {"q", NULL, RWL_PLAIN, make_fields,
     "A quantity from a number and a unit, or from a text that holds both. Quantities add, "
     "subtract and compare within their dimension, multiply, divide, and take whole powers.",
     "quantity", make},
    {"reader", NULL, RWL_PLAIN, reader_fields,
     "Sets the unit system in which quantities are printed.", "string|nil", reader},
    RWL_END_FUNCTIONS,
};

static const rwl_function methods[] = {
    {"to", "quantity", RWL_PLAIN, to_fields, "The number in a unit.", "number", to},
    {"si", "quantity", RWL_PLAIN, NULL, "The number in SI units.", "number", si},
    {"text", "quantity", RWL_PLAIN, text_fields, "The quantity as text, in the reader's units.",
     "string", text},
    {"unit", "quantity", RWL_PLAIN, NULL, "The unit it is printed in.", "string", unit},
    {"dimension", "quantity", RWL_PLAIN, NULL, "The name of its dimension.", "string", dimension},
    RWL_END_FUNCTIONS,
};

static const rwl_type types[] = {
    {"quantity", "A number with its unit.", NULL, NULL, methods, rwl_quantity_events},
    RWL_END_TYPES,
};

const rwl_set rwl_quantity_set = {functions, types};
