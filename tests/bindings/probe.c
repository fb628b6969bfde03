/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A module with one function for each kind of field, to test the core of the binding without any
 * room's own functions: what is read comes back as it was understood. */
#include "core.h"

#include <stdlib.h>

RW_API int luaopen_rw_probe(lua_State *L);

extern const rwl_set rwl_quantity_set;
extern const rwl_set rwl_range_set;

/* A type that owns memory. */
typedef struct crate {
  double *x;
} crate;

static int release(lua_State *L)
{
  crate *c = rwl_test_object(L, 1, "crate");
  if (c == NULL)
    return 0;
  free(c->x);
  c->x = NULL;
  return 0;
}

static int make_crate(lua_State *L)
{
  crate *c = rwl_push_object(L, "crate", sizeof *c);
  c->x = malloc(1000 * sizeof *c->x);
  if (c->x == NULL)
    return luaL_error(L, "not enough memory");
  c->x[0] = rwl_get_quantity(L, "weight", 0.0);
  if (rwl_get_boolean(L, "fail", 0)) {
    rw_error err;
    rw_error_range(&err, "rw_crate", "weight", c->x[0], 0.0, 1.0, "kg", "take a smaller crate");
    rwl_throw(L, &err);
  }
  return 1;
}

static int weigh(lua_State *L)
{
  const crate *c = rwl_self(L);
  rwl_push_quantity(L, "kg", c->x[0] * rwl_get_quantity(L, "times", 1.0));
  return 1;
}

static int read_crate(lua_State *L)
{
  const crate *c = lua_touserdata(L, 1);
  rwl_push_quantity(L, "kg", c->x[0]);
  return 1;
}

static void set_number(lua_State *L, const char *name, double x)
{
  lua_pushnumber(L, x);
  lua_setfield(L, -2, name);
}

static void set_stopped(lua_State *L)
{
  rwl_listener l = rwl_listen(L, "progress");
  int stopped = rwl_tell(1, 2, &l);
  if (l.failed)
    lua_error(L);
  lua_pop(L, 1);
  lua_pushboolean(L, stopped);
  lua_setfield(L, -2, "stopped");
}

/* Each kind read with its getter, into one table. */
static int echo(lua_State *L)
{
  static const char *const numbers[] = {"length", "warmth", "rise", "share", "count", "start"};
  lua_newtable(L);
  for (size_t i = 0; i < sizeof numbers / sizeof numbers[0]; i++)
    if (rwl_has(L, numbers[i]))
      set_number(L, numbers[i], rwl_get_quantity(L, numbers[i], NAN));
  lua_pushinteger(L, rwl_get_integer(L, "plies", -1));
  lua_setfield(L, -2, "plies");
  lua_pushstring(L, rwl_get_string(L, "title", "none", NULL));
  lua_setfield(L, -2, "title");
  lua_pushboolean(L, rwl_get_boolean(L, "wet", 0));
  lua_setfield(L, -2, "wet");
  lua_pushinteger(L, rwl_get_choice(L, "weave", -1));
  lua_setfield(L, -2, "weave");
  rw_value v = rwl_get_value(L, "area", (rw_value){-1.0, -1.0});
  set_number(L, "value", v.value);
  set_number(L, "sd", v.sd);
  set_number(L, "heat", rwl_get_value(L, "heat", (rw_value){-1.0, -1.0}).value);
  rwl_push_field(L, "extra");
  lua_setfield(L, -2, "extra");
  set_stopped(L);
  const crate *c = rwl_get_object(L, "crate");
  set_number(L, "crate", c != NULL ? c->x[0] : -1.0);
  return 1;
}

static void push_doubles(lua_State *L, const char *name)
{
  size_t n;
  const double *x = rwl_get_list(L, name, &n);
  lua_newtable(L);
  for (size_t i = 0; i < n; i++) {
    lua_pushnumber(L, x[i]);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_setfield(L, -2, name);
}

static int echo_lists(lua_State *L)
{
  lua_newtable(L);
  push_doubles(L, "girth");
  push_doubles(L, "warmth");
  push_doubles(L, "rise");
  push_doubles(L, "share");
  push_doubles(L, "start");
  size_t n;
  const rw_value *v = rwl_get_values(L, "area", &n);
  double sum = 0.0, sd = 0.0;
  for (size_t i = 0; i < n; i++) {
    sum += v[i].value;
    sd += v[i].sd;
  }
  set_number(L, "sum", sum);
  set_number(L, "sd", sd);
  double weight = 0.0;
  for (size_t i = 0; i < rwl_get_count(L, "crates"); i++)
    weight += ((const crate *)rwl_get_object_at(L, "crates", i))->x[0];
  set_number(L, "weight", weight);
  size_t names = rwl_get_count(L, "names");
  lua_pushstring(L, names > 0 ? rwl_get_string_at(L, "names", names - 1) : "none");
  lua_setfield(L, -2, "last");
  size_t weaves = rwl_get_count(L, "weaves");
  lua_pushinteger(L, weaves > 0 ? rwl_get_choice_at(L, "weaves", weaves - 1) : -1);
  lua_setfield(L, -2, "weave");
  return 1;
}

/* Sums the plies' thickness times their layers; leaves through the inner records. */
static int stack(lua_State *L)
{
  double sum = 0.0;
  for (size_t i = 0; i < rwl_get_count(L, "ply"); i++) {
    rwl_open(L, "ply", i);
    sum += rwl_get_quantity(L, "thickness", 0.0) * (double)rwl_get_integer(L, "layers", 0);
    rwl_close(L);
  }
  if (rwl_has(L, "core")) {
    rwl_open(L, "core", 0);
    sum += rwl_get_quantity(L, "thickness", 0.0);
    rwl_close(L);
  }
  rwl_push_value(L, "m", (rw_value){sum, sum / 100.0}, "thickness of the cloth");
  if (rwl_has(L, "core"))
    rwl_note(L, -1, RW_OUTSIDE_TESTED, NULL);
  return 1;
}

static int make_range(lua_State *L)
{
  double value = rwl_get_quantity(L, "value", 0.0), low = rwl_get_quantity(L, "low", 0.0),
         high = rwl_get_quantity(L, "high", 0.0);
  const char *because = rwl_get_string(L, "because", NULL, NULL);
  int kind = rwl_get_choice(L, "kind", 0);
  static const char *const units[] = {"m2", "s", "", "m"};
  if (kind == 4)
    rwl_push_temperature_range(L, value, low, high, because);
  else if (kind == 5)
    rwl_push_clock_range(L, value, low, high, because);
  else
    rwl_push_range(L, units[kind], value, low, high, because);
  return 1;
}

static int make_open_range(lua_State *L)
{
  rwl_push_clock_range(L, rwl_get_quantity(L, "value", RWL_NOT_SEEN),
                       rwl_get_quantity(L, "low", RWL_NEVER),
                       rwl_get_quantity(L, "high", RWL_NOT_SEEN), NULL);
  return 1;
}

static int make_unbounded(lua_State *L)
{
  rwl_push_range(L, "m2", 1.0, 0.0, INFINITY, NULL);
  return 1;
}

static int refuse_in_room(lua_State *L)
{
  rw_quantity q;
  rw_error err;
  rwl_check(L, rw_quantity_read("5 nonsense", 10, &q, &err), &err);
  return 0;
}

static const rwl_field crate_fields[] = {
    RWL_NEED("weight", RWL_QUANTITY, "kg", "what it weighs"),
    RWL_MAY("fail", RWL_BOOLEAN, "", "false", "refuse after the memory is taken"),
    RWL_END_FIELDS,
};
static const rwl_field weigh_fields[] = {
    RWL_MAY("times", RWL_NUMBER, "", "1", "how many of them"),
    RWL_END_FIELDS,
};
static const rwl_field echo_fields[] = {
    RWL_NEED("length", RWL_QUANTITY, "m", "a length"),
    RWL_MAY("warmth", RWL_TEMPERATURE, "", "21 degC", "a temperature"),
    RWL_MAY("rise", RWL_DIFFERENCE, "", NULL, "a temperature difference"),
    RWL_MAY("share", RWL_SHARE, "", NULL, "a share"),
    RWL_MAY("count", RWL_NUMBER, "", "2.5", "a number"),
    RWL_MAY("plies", RWL_INTEGER, "", "3", "a whole number"),
    RWL_MAY("title", RWL_STRING, "", NULL, "a text"),
    RWL_MAY("wet", RWL_BOOLEAN, "", "true", "a yes or no"),
    RWL_MAY("weave", RWL_CHOICE, "plain|twill|satin", "twill", "a word"),
    RWL_MAY("start", RWL_CLOCK, "", NULL, "a clock time"),
    RWL_MAY("crate", RWL_OBJECT, "crate", NULL, "an object"),
    RWL_MAY("extra", RWL_TABLE, "", NULL, "a table"),
    RWL_MAY("progress", RWL_FUNCTION, "", NULL, "a function"),
    RWL_MAY("area", RWL_VALUE, "m2", NULL, "an uncertain area"),
    RWL_MAY("heat", RWL_VALUE, "K", NULL, "an uncertain temperature"),
    RWL_MAY("cloth", RWL_QUANTITY, "kg/m2", NULL, "a mass per area"),
    RWL_MAY("pure", RWL_QUANTITY, "", NULL, "a number"),
    RWL_END_FIELDS,
};
static const rwl_field list_fields[] = {
    RWL_NEED_LIST("girth", RWL_QUANTITY, "m", "lengths"),
    RWL_MAY_LIST("warmth", RWL_TEMPERATURE, "", "temperatures"),
    RWL_MAY_LIST("rise", RWL_DIFFERENCE, "", "temperature differences"),
    RWL_MAY_LIST("share", RWL_SHARE, "", "shares"),
    RWL_MAY_LIST("start", RWL_CLOCK, "", "clock times"),
    RWL_MAY_LIST("area", RWL_VALUE, "m2", "uncertain areas"),
    RWL_MAY_LIST("crates", RWL_OBJECT, "crate", "objects"),
    RWL_MAY_LIST("names", RWL_STRING, "", "texts"),
    RWL_MAY_LIST("weaves", RWL_CHOICE, "plain|twill|satin", "words"),
    RWL_END_FIELDS,
};
static const rwl_field ply_fields[] = {
    RWL_NEED("thickness", RWL_QUANTITY, "m", "thickness of one layer"),
    RWL_MAY("layers", RWL_INTEGER, "", "1", "how many layers"),
    RWL_END_FIELDS,
};
static const rwl_field stack_fields[] = {
    RWL_NEED_RECORDS("ply", ply_fields, "the plies"),
    RWL_MAY_RECORD("core", ply_fields, "the core"),
    RWL_END_FIELDS,
};
static const rwl_field range_fields[] = {
    RWL_NEED("value", RWL_NUMBER, "", "best value, SI"),
    RWL_NEED("low", RWL_NUMBER, "", "lower end, SI"),
    RWL_NEED("high", RWL_NUMBER, "", "upper end, SI"),
    RWL_MAY("kind", RWL_CHOICE, "area|time|number|length|temperature|clock", "area", "of what"),
    RWL_MAY("because", RWL_STRING, "", NULL, "what most of the spread comes from"),
    RWL_END_FIELDS,
};
static const rwl_field open_fields[] = {
    RWL_MAY("value", RWL_CLOCK, "", NULL, "best value"),
    RWL_MAY("low", RWL_CLOCK, "", NULL, "lower end"),
    RWL_MAY("high", RWL_CLOCK, "", NULL, "upper end"),
    RWL_END_FIELDS,
};

static const rwl_function crate_methods[] = {
    {"weigh", "crate", RWL_NAMED, weigh_fields, "Its weight.", "quantity", weigh},
    RWL_END_FUNCTIONS,
};
static const rwl_property crate_properties[] = {
    {"weight", "quantity", "what it weighs"},
    RWL_END_PROPERTIES,
};
static const luaL_Reg crate_events[] = {{"__gc", release}, {"__close", release}, {NULL, NULL}};
static const rwl_type types[] = {
    {"crate", "A crate.", crate_properties, read_crate, crate_methods, crate_events},
    RWL_END_TYPES,
};

static int describe(lua_State *L);

static const rwl_function functions[] = {
    {"crate", NULL, RWL_NAMED, crate_fields, "A crate.", "crate", make_crate},
    {"echo", NULL, RWL_NAMED, echo_fields, "What was understood.", "table", echo},
    {"echo_lists", NULL, RWL_NAMED, list_fields, "What was understood.", "table", echo_lists},
    {"stack", NULL, RWL_NAMED, stack_fields, "Thickness of a stack.", "range", stack},
    {"range", NULL, RWL_NAMED, range_fields, "A range.", "range", make_range},
    {"open_range", NULL, RWL_NAMED, open_fields, "A range without ends.", "range",
     make_open_range},
    {"unbounded", NULL, RWL_NAMED, NULL, "A range without upper end.", "range", make_unbounded},
    {"refuse", NULL, RWL_NAMED, NULL, "Refuses.", "nil", refuse_in_room},
    {"kind", NULL, RWL_PLAIN, NULL, "Kind of an object.", "string|nil", rwl_kind_of},
    {"describe", NULL, RWL_NAMED, NULL, "All this.", "table", describe},
    RWL_END_FUNCTIONS,
};

static const rwl_set probe_set = {functions, types};
static const rwl_set *const sets[] = {&rwl_quantity_set, &rwl_range_set, &probe_set};
enum { SETS = sizeof sets / sizeof sets[0] };

static int describe(lua_State *L)
{
  rwl_describe(L, sets, SETS);
  return 1;
}

int luaopen_rw_probe(lua_State *L)
{
  rwl_push_module(L, sets, SETS);
  return 1;
}
