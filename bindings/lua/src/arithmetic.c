/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arithmetic and comparison of quantities. A reading on a temperature scale (a point) may be
 * moved by a difference and subtracted from another point, and nothing else. */
#include "core.h"

static int refuse(lua_State *L, const char *message, const char *hint)
{
  rwl_refusal r = {RW_ERR_UNIT, NULL, message, NULL, hint, 0, 0};
  return rwl_refuse(L, &r);
}

static rw_quantity operand(lua_State *L, int index)
{
  rw_quantity q = {0};
  const rw_quantity *object = rwl_test_quantity(L, index);
  if (object != NULL)
    return *object;
  if (lua_type(L, index) == LUA_TNUMBER) {
    q.si = lua_tonumber(L, index);
    return q;
  }
  if (lua_type(L, index) == LUA_TSTRING) {
    size_t n;
    rw_error err;
    const char *text = lua_tolstring(L, index, &n);
    rwl_check(L, rw_quantity_read(text, n, &q, &err), &err);
    return q;
  }
  refuse(L,
         lua_pushfstring(L, "a quantity cannot be reckoned together with %s",
                         rwl_say_value(L, index)),
         rwl_test_range(L, index) != NULL ? "take the .value of a result with an interval" : NULL);
  return q;
}

static const char *say_kind(lua_State *L, rw_quantity q)
{
  if (rw_dim_same(q.dim, rw_dim_of("")))
    return lua_pushliteral(L, "a plain number");
  if (q.point)
    return lua_pushliteral(L, "temperature on a scale");
  if (rw_dim_same(q.dim, rw_dim_of("K")))
    return lua_pushliteral(L, "temperature difference");
  return rwl_say_dim(L, q.dim);
}

static int refuse_pair(lua_State *L, const char *verb, rw_quantity a, rw_quantity b)
{
  const char *message =
      lua_pushfstring(L, "%s (%s) and %s (%s) cannot be %s", say_kind(L, a), rwl_say_value(L, 1),
                      say_kind(L, b), rwl_say_value(L, 2), verb);
  const char *hint = a.point && b.point ? "the difference of two temperatures is a - b" : NULL;
  if (a.point != b.point && rw_dim_same(a.dim, b.dim))
    hint = "a difference is written \"5 K\", \"5 Cdeg\" or \"9 Fdeg\"";
  return refuse(L, message, hint);
}

static int give(lua_State *L, rw_quantity q)
{
  if (!isfinite(q.si))
    return refuse(L, "the result is not a finite number", "is something divided by zero?");
  rwl_push(L, q);
  return 1;
}

static int add(lua_State *L)
{
  rw_quantity a = operand(L, 1), b = operand(L, 2);
  if (!rw_dim_same(a.dim, b.dim) || (a.point && b.point))
    return refuse_pair(L, "added", a, b);
  return give(L, (rw_quantity){a.si + b.si, a.dim, a.point || b.point});
}

static int subtract(lua_State *L)
{
  rw_quantity a = operand(L, 1), b = operand(L, 2);
  if (!rw_dim_same(a.dim, b.dim) || (b.point && !a.point))
    return refuse_pair(L, "subtracted", a, b);
  return give(L, (rw_quantity){a.si - b.si, a.dim, a.point && !b.point});
}

static int refuse_scale(lua_State *L)
{
  return refuse(L, "a temperature on a scale cannot be multiplied, divided or negated",
                "take a difference first, such as t - \"0 degC\"");
}

/* Dimension of a times b to the power k. */
static rw_dim combine(lua_State *L, rw_dim a, rw_dim b, lua_Integer k)
{
  rw_dim sum = a;
  for (int i = 0; i < RW_DIM_COUNT; i++) {
    lua_Integer p = a.power[i] + k * b.power[i];
    if (p < -9 || p > 9)
      refuse(L, "the power of a unit goes beyond 9", NULL);
    sum.power[i] = (signed char)p;
  }
  return sum;
}

static int multiply(lua_State *L)
{
  rw_quantity a = operand(L, 1), b = operand(L, 2);
  if (a.point || b.point)
    return refuse_scale(L);
  return give(L, (rw_quantity){a.si * b.si, combine(L, a.dim, b.dim, 1), 0});
}

static int divide(lua_State *L)
{
  rw_quantity a = operand(L, 1), b = operand(L, 2);
  if (a.point || b.point)
    return refuse_scale(L);
  return give(L, (rw_quantity){a.si / b.si, combine(L, a.dim, b.dim, -1), 0});
}

static int negate(lua_State *L)
{
  rw_quantity a = operand(L, 1);
  if (a.point)
    return refuse_scale(L);
  return give(L, (rw_quantity){-a.si, a.dim, 0});
}

static int power(lua_State *L)
{
  rw_quantity a = operand(L, 1);
  int whole = 0;
  lua_Integer n = lua_tointegerx(L, 2, &whole);
  if (lua_type(L, 2) != LUA_TNUMBER || !whole || n < -9 || n > 9)
    return refuse(L,
                  lua_pushfstring(L,
                                  "the power of a quantity must be a whole number from -9 to 9, "
                                  "found %s",
                                  rwl_say_value(L, 2)),
                  NULL);
  if (a.point)
    return refuse_scale(L);
  return give(L, (rw_quantity){pow(a.si, (double)n), combine(L, rw_dim_of(""), a.dim, n), 0});
}

static void comparable(lua_State *L, rw_quantity a, rw_quantity b)
{
  if (!rw_dim_same(a.dim, b.dim) || a.point != b.point)
    refuse_pair(L, "compared", a, b);
}

static int equal(lua_State *L)
{
  rw_quantity a = operand(L, 1), b = operand(L, 2);
  comparable(L, a, b);
  lua_pushboolean(L, a.si == b.si);
  return 1;
}

static int less(lua_State *L)
{
  rw_quantity a = operand(L, 1), b = operand(L, 2);
  comparable(L, a, b);
  lua_pushboolean(L, a.si < b.si);
  return 1;
}

static int less_or_equal(lua_State *L)
{
  rw_quantity a = operand(L, 1), b = operand(L, 2);
  comparable(L, a, b);
  lua_pushboolean(L, a.si <= b.si);
  return 1;
}

const luaL_Reg rwl_quantity_events[] = {
    {"__add", add},           {"__sub", subtract},
    {"__mul", multiply},      {"__div", divide},
    {"__unm", negate},        {"__pow", power},
    {"__eq", equal},          {"__lt", less},
    {"__le", less_or_equal},  {"__tostring", rwl_quantity_tostring},
    {"__concat", rwl_concat}, {NULL, NULL},
};
