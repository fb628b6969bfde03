/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The degree of cure over time as an object, and questions of chemistry that need no resin. */
#include "cure.h"

#include "reading.h"

#include <string.h>

static const double ZERO_C = 273.15;

typedef struct cure {
  rw_cure_path *path;
  rw_glass glass;
  rw_flow flow;
  rwl_warning warning;
} cure;

enum { HULL = 1 }; /* user value: the history it was run on */

static const rwl_alias cure_alias[] = {{"time", "at"}, {"a", "cure"}, {NULL, NULL}};

int rwl_make_cure(lua_State *L)
{
  rw_error err = {0};
  static const rwl_alias alias[] = {{"time", "hull"}, {NULL, NULL}};
  const rw_resin *r = rwl_self_resin(L);
  const rw_history *hull = rwl_history_in(L, rwl_get_object(L, "hull"));
  cure *c = rwl_push_object(L, RWL_CURE, sizeof *c);
  rw_status status = rw_cure_run(&r->law, hull, rwl_get_quantity(L, "from", 0.0),
                                 rwl_get_quantity(L, "to", 0.0), rwl_get_quantity(L, "start", 0.0),
                                 rwl_get_quantity(L, "tolerance", 1e-6), &c->path, &err);
  rwl_check_as(L, status, &err, alias);
  rwl_keep(L, &c->warning, status, &err);
  c->glass = r->glass;
  c->flow = r->flow;
  rwl_push_field(L, "hull");
  lua_setiuservalue(L, -2, HULL);
  return 1;
}

static int release(lua_State *L)
{
  cure *c = luaL_testudata(L, 1, "resinwright." RWL_CURE);
  if (c == NULL)
    return 0;
  rw_cure_path_destroy(c->path);
  c->path = NULL;
  return 0;
}

static int read_cure(lua_State *L)
{
  const cure *c = lua_touserdata(L, 1);
  rwl_push_warnings(L, &c->warning);
  return 1;
}

/* The cure a method was called on; refused once it is closed. */
static const cure *self_cure(lua_State *L)
{
  const cure *c = rwl_self(L);
  if (c->path == NULL) {
    rwl_refusal r = {RW_ERR_ARGUMENT,
                     RWL_CURE,
                     "this cure was closed and can no longer be asked",
                     NULL,
                     NULL,
                     0,
                     0};
    rwl_refuse(L, &r);
  }
  return c;
}

static double glass_at(lua_State *L, const rw_glass *glass, double a)
{
  double Tg = NAN;
  rw_error err = {0};
  rwl_check(L, rw_glass_temperature(glass, a, &Tg, &err), &err);
  return Tg;
}

static int cure_at(lua_State *L)
{
  const cure *c = self_cure(L);
  double a, rate, T;
  rw_error err = {0};
  rwl_check_as(L, rw_cure_at(c->path, rwl_get_quantity(L, "at", 0.0), &a, &rate, &T, &err), &err,
               cure_alias);
  lua_newtable(L);
  rwl_set_number(L, "cure", a);
  rwl_set_quantity(L, "rate", "1/s", rate);
  rwl_set_temperature(L, "temperature", T);
  rwl_set_temperature(L, "glass", glass_at(L, &c->glass, a));
  return 1;
}

static int refuse_events(lua_State *L, const char *argument, const char *message)
{
  rwl_refusal r = {RW_ERR_ARGUMENT,
                   argument,
                   message,
                   NULL,
                   "give one of cure = 0.6, glass_above = \"0 K\" or viscosity = \"8 Pa s\"",
                   0,
                   0};
  return rwl_refuse(L, &r);
}

/* The one event asked for. */
static rw_event read_event(lua_State *L, const cure *c, const char **name)
{
  static const char *const names[] = {[RW_EVENT_CURE] = "cure",
                                      [RW_EVENT_GLASS] = "glass_above",
                                      [RW_EVENT_VISCOSITY] = "viscosity"};
  rw_event e = {.glass = &c->glass, .flow = &c->flow};
  *name = NULL;
  for (int i = 0; i <= RW_EVENT_VISCOSITY; i++) {
    if (!rwl_has(L, names[i]))
      continue;
    if (*name != NULL)
      refuse_events(
          L, names[i],
          lua_pushfstring(L, "%s and %s are both given, one is looked for", names[i], *name));
    *name = names[i];
    e.kind = (rw_event_kind)i;
    e.level = rwl_get_quantity(L, names[i], NAN);
  }
  if (*name == NULL)
    refuse_events(L, "cure", "cure is missing, and so are glass_above and viscosity");
  return e;
}

static int cure_when(lua_State *L)
{
  double time;
  const char *name;
  const cure *c = self_cure(L);
  const rw_event e = read_event(L, c, &name);
  const rwl_alias alias[] = {{"level", name}, {"a", "cure"}, {NULL, NULL}};
  rw_error err = {0};
  rw_status status = rw_cure_event(c->path, &e, &time, &err);
  rwl_check_as(L, status, &err, alias);
  if (status == RW_NOT_REACHED)
    return 0;
  rwl_push_clock(L, time);
  return 1;
}

/* The history, for its kinks; NULL where it was closed meanwhile, they are then searched for. */
static const rw_history *kinks(lua_State *L)
{
  lua_getiuservalue(L, 2, HULL);
  const rwl_history *h = lua_touserdata(L, -1);
  lua_pop(L, 1);
  return h != NULL ? h->h : NULL;
}

static int refuse_order(lua_State *L)
{
  rwl_refusal r = {RW_ERR_ORDER,
                   "to",
                   "to does not lie after from",
                   NULL,
                   "the beginning is from, the end is to",
                   0,
                   0};
  return rwl_refuse(L, &r);
}

static int cure_fluidity(lua_State *L)
{
  const cure *c = self_cure(L);
  double from, to, fluidity;
  rw_error err = {0};
  rw_cure_path_span(c->path, &from, &to);
  rw_status status =
      rw_cure_fluidity(c->path, &c->flow, kinks(L), rwl_get_quantity(L, "from", from),
                       rwl_get_quantity(L, "to", HUGE_VAL), rwl_get_quantity(L, "tolerance", 1e-6),
                       &fluidity, &err);
  if (status == RW_ERR_RANGE && strcmp(err.argument, "to") == 0)
    refuse_order(L);
  rwl_check(L, status, &err);
  lua_newtable(L);
  rwl_set_quantity(L, "fluidity", "1/Pa", fluidity);
  lua_pushboolean(L, status != RW_NOT_REACHED);
  lua_setfield(L, -2, "complete");
  return 1;
}

static int cure_points(lua_State *L)
{
  const cure *c = self_cure(L);
  size_t n = rwl_get_size(L, "count", 2, 100000);
  double from, to;
  rw_error err = {0};
  rw_cure_path_span(c->path, &from, &to);
  double *x = lua_newuserdatauv(L, 4 * n * sizeof *x, 0);
  double *a = x + n, *T = a + n, *Tg = T + n;
  for (size_t i = 0; i < n; i++) {
    x[i] = i + 1 == n ? to : from + (to - from) * (double)i / (double)(n - 1);
    rwl_check(L, rw_cure_at(c->path, x[i], &a[i], NULL, &T[i], &err), &err);
    T[i] -= ZERO_C;
    Tg[i] = glass_at(L, &c->glass, a[i]) - ZERO_C;
  }
  lua_newtable(L);
  rwl_set_numbers(L, "seconds", x, n);
  rwl_set_numbers(L, "cure", a, n);
  rwl_set_numbers(L, "celsius", T, n);
  rwl_set_numbers(L, "glass_celsius", Tg, n);
  return 1;
}

static int gel_conversion(lua_State *L)
{
  static const rwl_alias alias[] = {
      {"r", "ratio"}, {"fe", "epoxide_groups"}, {"fa", "amine_hydrogens"}, {NULL, NULL}};
  double gel;
  rw_error err = {0};
  rw_status status = rw_gel_conversion(rwl_get_quantity(L, "ratio", 0.0),
                                       rwl_get_quantity(L, "epoxide_groups", 0.0),
                                       rwl_get_quantity(L, "amine_hydrogens", 0.0), &gel, &err);
  rwl_check_as(L, status, &err, alias);
  if (status == RW_NOT_REACHED)
    return 0;
  lua_pushnumber(L, gel);
  return 1;
}

static int hardener_needed(lua_State *L)
{
  static const rwl_alias alias[] = {
      {"eew", "epoxide_equivalent"}, {"ahew", "amine_equivalent"}, {NULL, NULL}};
  double ratio;
  rw_error err = {0};
  rw_status status =
      rw_hardener_needed(rwl_get_quantity(L, "epoxide_equivalent", 0.0),
                         rwl_get_quantity(L, "amine_equivalent", 0.0), &ratio, &err);
  rwl_check_as(L, status, &err, alias);
  lua_pushnumber(L, ratio);
  return 1;
}

static const rwl_alias age_alias[] = {
    {"E", "energy"}, {"T_ref", "reference"}, {"time", "history"}, {NULL, NULL}};

static int equivalent_age(lua_State *L)
{
  double age;
  rw_error err = {0};
  const rw_history *history = rwl_history_in(L, rwl_get_object(L, "history"));
  rw_status status = rw_equivalent_age(
      rwl_get_quantity(L, "energy", 0.0), rwl_get_quantity(L, "reference", 0.0), history,
      rwl_get_quantity(L, "from", 0.0), rwl_get_quantity(L, "to", 0.0), &age, &err);
  rwl_check_as(L, status, &err, age_alias);
  rwl_push_quantity(L, "s", age);
  return 1;
}

static int equivalent_age_when(lua_State *L)
{
  double time;
  rw_error err = {0};
  const rw_history *history = rwl_history_in(L, rwl_get_object(L, "history"));
  rw_status status = rw_equivalent_age_when(
      rwl_get_quantity(L, "energy", 0.0), rwl_get_quantity(L, "reference", 0.0), history,
      rwl_get_quantity(L, "from", 0.0), rwl_get_quantity(L, "age", 0.0), &time, &err);
  rwl_check_as(L, status, &err, age_alias);
  if (status == RW_NOT_REACHED)
    return 0;
  rwl_push_clock(L, time);
  return 1;
}

const rwl_field rwl_cure_fields[] = {
    RWL_NEED("hull", RWL_OBJECT, RWL_HISTORY, "temperature of the resin"),
    RWL_NEED("from", RWL_CLOCK, "", "when it was mixed"),
    RWL_NEED("to", RWL_CLOCK, "", "how far to follow it"),
    RWL_MAY("start", RWL_NUMBER, "", "0", "degree of cure it begins with"),
    RWL_MAY("tolerance", RWL_NUMBER, "", "1e-6", "error allowed in the degree of cure"),
    RWL_END_FIELDS,
};
static const rwl_field at_fields[] = {
    RWL_NEED("at", RWL_CLOCK, "", "the time asked for"),
    RWL_END_FIELDS,
};
static const rwl_field when_fields[] = {
    RWL_MAY("cure", RWL_NUMBER, "", NULL, "degree of cure, 0 liquid to 1 fully cured"),
    RWL_MAY("glass_above", RWL_DIFFERENCE, "", NULL,
            "how far its glass transition lies above its temperature; \"0 K\": it turns to glass"),
    RWL_MAY("viscosity", RWL_QUANTITY, "Pa s", NULL, "viscosity, such as \"8 Pa s\""),
    RWL_END_FIELDS,
};
static const rwl_field fluidity_fields[] = {
    RWL_MAY("from", RWL_CLOCK, "", NULL, "when it is laid; left out: when it was mixed"),
    RWL_MAY("to", RWL_CLOCK, "", NULL, "end; left out: until the gel"),
    RWL_MAY("tolerance", RWL_NUMBER, "", "1e-6", "error allowed, as a share of the fluidity"),
    RWL_END_FIELDS,
};
static const rwl_field points_fields[] = {
    RWL_MAY("count", RWL_INTEGER, "", "200", "how many points, 2 to 100000"),
    RWL_END_FIELDS,
};
static const rwl_field gel_fields[] = {
    RWL_NEED("ratio", RWL_NUMBER, "", "amine hydrogens per epoxide group; 1 is the right ratio"),
    RWL_MAY("epoxide_groups", RWL_NUMBER, "", "2", "epoxide groups of a resin molecule"),
    RWL_MAY("amine_hydrogens", RWL_NUMBER, "", "4", "amine hydrogens of a hardener molecule"),
    RWL_END_FIELDS,
};
static const rwl_field hardener_fields[] = {
    RWL_NEED("epoxide_equivalent", RWL_QUANTITY, "kg/mol",
             "epoxide equivalent weight of the resin, such as \"190 g/mol\""),
    RWL_NEED("amine_equivalent", RWL_QUANTITY, "kg/mol",
             "amine hydrogen equivalent weight of the hardener"),
    RWL_END_FIELDS,
};
static const rwl_field age_fields[] = {
    RWL_NEED("energy", RWL_QUANTITY, "J/mol", "activation energy, such as \"56 kJ/mol\""),
    RWL_NEED("reference", RWL_TEMPERATURE, "", "temperature at which age counts in full"),
    RWL_NEED("history", RWL_OBJECT, RWL_HISTORY, "temperature over time"),
    RWL_NEED("from", RWL_CLOCK, "", "beginning"),
    RWL_NEED("to", RWL_CLOCK, "", "end"),
    RWL_END_FIELDS,
};
static const rwl_field age_when_fields[] = {
    RWL_NEED("energy", RWL_QUANTITY, "J/mol", "activation energy, such as \"56 kJ/mol\""),
    RWL_NEED("reference", RWL_TEMPERATURE, "", "temperature at which age counts in full"),
    RWL_NEED("history", RWL_OBJECT, RWL_HISTORY, "temperature over time"),
    RWL_NEED("from", RWL_CLOCK, "", "beginning"),
    RWL_NEED("age", RWL_QUANTITY, "s", "time at the reference temperature, such as \"10 h\""),
    RWL_END_FIELDS,
};

static const rwl_function functions[] = {
    {"gel_conversion", NULL, RWL_NAMED, gel_fields,
     "Conversion of the scarcer group at gel; nil where the mix never gels.", "number|nil",
     gel_conversion},
    {"hardener_needed", NULL, RWL_NAMED, hardener_fields,
     "Mass of hardener per mass of resin at the right ratio.", "number", hardener_needed},
    {"equivalent_age", NULL, RWL_NAMED, age_fields,
     "Time at the reference temperature that ages the resin as much as the history did.",
     "quantity", equivalent_age},
    {"equivalent_age_when", NULL, RWL_NAMED, age_when_fields,
     "Clock time at which that age is reached; nil where it is not within the history.",
     "string|nil", equivalent_age_when},
    RWL_END_FUNCTIONS,
};

static const rwl_function cure_methods[] = {
    {"at", RWL_CURE, RWL_NAMED, at_fields,
     "State at a time: `cure`, `rate`, `temperature`, `glass` transition.", "table", cure_at},
    {"when", RWL_CURE, RWL_NAMED, when_fields,
     "Clock time at which one thing first comes: a degree of cure, a glass transition so far "
     "above "
     "the temperature, or a viscosity; nil where it does not come.",
     "string|nil", cure_when},
    {"fluidity", RWL_CURE, RWL_NAMED, fluidity_fields,
     "How much a coat can still flow, the time integral of 1/viscosity up to its gel: `fluidity`; "
     "`complete`, false where the cure was not followed to the gel, it then counts to the end.",
     "{fluidity: quantity, complete: boolean}", cure_fluidity},
    {"points", RWL_CURE, RWL_NAMED, points_fields,
     "Plain numbers for a chart: lists `seconds`, `cure`, `celsius`, `glass_celsius`.", "table",
     cure_points},
    RWL_END_FUNCTIONS,
};
static const rwl_property cure_properties[] = {
    {"warnings", "string[]", "what to know about it; empty where nothing"},
    RWL_END_PROPERTIES,
};
static const luaL_Reg cure_events[] = {{"__gc", release}, {"__close", release}, {NULL, NULL}};

static const rwl_type types[] = {
    {RWL_CURE, "Degree of cure over time.", cure_properties, read_cure, cure_methods, cure_events},
    RWL_END_TYPES,
};

const rwl_set rwl_cure_set = {functions, types};
