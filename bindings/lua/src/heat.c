/* SPDX-License-Identifier: GPL-3.0-or-later */
/* When a body that warms itself runs away, and how thick or how much of a resin cannot. */
#include "heat.h"

#include "reading.h"

#include <stdio.h>
#include <string.h>

rw_status rwl_check_told(lua_State *L, rw_status status, rw_error *err, const rwl_told *told)
{
  if (status >= 0)
    return status;
  while (told->c != NULL && strcmp(told->c, err->argument) != 0)
    told++;
  if (told->c == NULL)
    return rwl_check(L, status, err);
  char what[RWL_NAME];
  snprintf(what, sizeof what, "%s is", told->lua);
  if (told->unit != NULL)
    rwl_in_unit(err, what, told->unit, told->hint);
  rwl_rename(err, told->c, told->lua);
  return rwl_check(L, status, err);
}

static const rwl_told body_told[] = {{"A", "factor", NULL, NULL},
                                     {"E", "energy", "kJ/mol", NULL},
                                     {"T", "air", "degC", ""},
                                     {NULL, NULL, NULL, NULL}};

/* Shapes in the order of rw_shape, then the body of one temperature. */
#define SHAPES "slab|cylinder|sphere"
enum { STIRRED = RW_SHAPE_SPHERE + 1 };

static int runaway_edge(lua_State *L)
{
  rw_error err = {0};
  rw_critical edge;
  int shape = rwl_get_choice(L, "shape", RW_SHAPE_SLAB);
  if (shape == STIRRED && rwl_has(L, "biot")) {
    rwl_refusal r = {RW_ERR_ARGUMENT,
                     "biot",
                     "biot is given for a stirred body, which has one temperature throughout",
                     NULL,
                     "leave biot out, or take slab, cylinder or sphere",
                     0,
                     0};
    rwl_refuse(L, &r);
  }
  rw_status status = shape == STIRRED
                         ? rw_runaway_uniform(&edge, &err)
                         : rw_runaway_critical((rw_shape)shape,
                                               rwl_get_quantity(L, "biot", HUGE_VAL), &edge, &err);
  rwl_check_told(L, status, &err, body_told);
  lua_newtable(L);
  rwl_set_number(L, "delta", edge.delta);
  rwl_set_number(L, "theta", edge.theta);
  return 1;
}

static rw_body read_body(lua_State *L)
{
  return (rw_body){.shape = (rw_shape)rwl_get_choice(L, "shape", RW_SHAPE_SLAB),
                   .size = rwl_get_quantity(L, "size", 0.0),
                   .conductivity = rwl_get_quantity(L, "conductivity", 0.0),
                   .surface = rwl_get_quantity(L, "surface", HUGE_VAL),
                   .density = rwl_get_quantity(L, "density", 0.0),
                   .heat = rwl_get_quantity(L, "heat", 0.0),
                   .A = rwl_get_quantity(L, "factor", 0.0),
                   .E = rwl_get_quantity(L, "energy", 0.0)};
}

static int runaway_air(lua_State *L)
{
  rw_error err = {0};
  double T;
  const rw_body body = read_body(L);
  rw_status status = rwl_check_told(L, rw_body_critical_air(&body, &T, &err), &err, body_told);
  if (status == RW_NOT_REACHED)
    return rwl_push_reason(L, &err);
  rwl_push_temperature(L, T);
  return 1;
}

static int runaway_delta(lua_State *L)
{
  rw_error err = {0};
  double delta;
  const rw_body body = read_body(L);
  rwl_check_told(L, rw_body_delta(&body, rwl_get_quantity(L, "air", 0.0), &delta, &err), &err,
                 body_told);
  lua_pushnumber(L, delta);
  return 1;
}

int rwl_fastest(lua_State *L)
{
  static const rwl_told told[] = {{"T", "temperature", "degC", ""}, {NULL, NULL, NULL, NULL}};
  rw_error err = {0};
  rwl_warning warning;
  double rate, energy;
  rw_status status = rw_cure_law_bound(
      &rwl_self_resin(L)->law, rwl_get_quantity(L, "temperature", 0.0), &rate, &energy, &err);
  rwl_check_told(L, status, &err, told);
  rwl_keep(L, &warning, status, &err);
  lua_newtable(L);
  rwl_set_quantity(L, "rate", "1/s", rate);
  rwl_set_quantity(L, "energy", "J/mol", energy);
  rwl_set_warnings(L, &warning);
  return 1;
}

/* Nil and why where there is no limit. */
static int push_safe(lua_State *L, rw_status status, rw_error *err, const rw_heat_range *r,
                     const char *unit, double times)
{
  static const rwl_told told[] = {{"air", "air", "degC", ""}, {NULL, NULL, NULL, NULL}};
  if (rwl_check_told(L, status, err, told) == RW_NOT_REACHED)
    return rwl_push_reason(L, err);
  rwl_push_range(L, unit, times * r->value, times * r->low, times * r->high,
                 rw_heat_because(r->because));
  if (status == RW_OUTSIDE_TESTED)
    rwl_note(L, -1, status, err);
  return 1;
}

int rwl_safe_thickness(lua_State *L)
{
  static const struct form {
    rw_shape shape;
    double times; /* what a builder measures over what the model calls size */
  } forms[] = {
      {RW_SHAPE_SLAB, 1}, {RW_SHAPE_SLAB, 2}, {RW_SHAPE_CYLINDER, 2}, {RW_SHAPE_SPHERE, 2}};
  const struct form *form = &forms[rwl_get_choice(L, "form", 0)];
  rw_error err = {0};
  rw_heat_range size;
  rw_status status = rw_resin_safe_size_range(
      rwl_self_resin(L), form->shape, rwl_get_quantity(L, "conductivity", 0.0),
      rwl_get_quantity(L, "surface", 0.0), rwl_get_quantity(L, "air", 0.0), &size, &err);
  return push_safe(L, status, &err, &size, "m", form->times);
}

int rwl_safe_mass(lua_State *L)
{
  rw_error err = {0};
  rw_heat_range mass;
  const rw_vessel vessel = rwl_get_vessel(L);
  rw_status status =
      rw_vessel_safe_mass_range(rwl_self_resin(L), &vessel, rwl_get_quantity(L, "surface", 0.0),
                                rwl_get_quantity(L, "air", 0.0), &mass, &err);
  return push_safe(L, status, &err, &mass, "kg", 1.0);
}

#define CONDUCTIVITY                                                                              \
  RWL_MAY("conductivity", RWL_QUANTITY, "W/(m K)", "0.2 W/(m K)",                                 \
          "conductivity of the resin; 0.2 is usual without filler")
#define SURFACE(fallback)                                                                         \
  RWL_MAY("surface", RWL_QUANTITY, "W/(m2 K)", fallback,                                          \
          "heat that the air takes off; 8 to 10 W/(m2 K) where it stands still (common "          \
          "practice, no source)")

const rwl_field rwl_fastest_fields[] = {
    RWL_NEED("temperature", RWL_TEMPERATURE, "", "temperature of the resin"),
    RWL_END_FIELDS,
};
const rwl_field rwl_safe_thickness_fields[] = {
    RWL_NEED("air", RWL_TEMPERATURE, "", "temperature of the shop, and of the resin when poured"),
    RWL_MAY("form", RWL_CHOICE, "on_wood|plate|rod|ball", "on_wood",
            "on_wood: open to the air on one face, on wood or in a mould, fillets too, by their "
            "thickness; plate: open on both faces; rod, ball: by their diameter"),
    CONDUCTIVITY,
    SURFACE("8 W/(m2 K)"),
    RWL_END_FIELDS,
};
const rwl_field rwl_safe_mass_fields[] = {
    RWL_NEED("air", RWL_TEMPERATURE, "", "temperature of the shop, and of the resin when mixed"),
    RWL_VESSEL_FIELDS,
    SURFACE("8 W/(m2 K)"),
    RWL_END_FIELDS,
};

static const rwl_field edge_fields[] = {
    RWL_NEED("shape", RWL_CHOICE, SHAPES "|stirred",
             "slab, cylinder or sphere that conducts its heat outwards; stirred: of one "
             "temperature throughout"),
    RWL_MAY("biot", RWL_NUMBER, "", NULL,
            "surface coefficient times half thickness or radius over conductivity; left out: the "
            "surface is as cold as the air"),
    RWL_END_FIELDS,
};
#define BODY_FIELDS                                                                               \
  RWL_NEED("shape", RWL_CHOICE, SHAPES, "shape of the body"),                                     \
      RWL_NEED("size", RWL_QUANTITY, "m", "half the thickness of a slab, else the radius"),       \
      RWL_NEED("conductivity", RWL_QUANTITY, "W/(m K)", "conductivity of the body"),              \
      RWL_MAY("surface", RWL_QUANTITY, "W/(m2 K)", NULL,                                          \
              "heat that the air takes off; left out: the surface is as cold as the air"),        \
      RWL_NEED("density", RWL_QUANTITY, "kg/m3", "density of the body"),                          \
      RWL_NEED("heat", RWL_QUANTITY, "J/kg", "heat of the full reaction"),                        \
      RWL_NEED("factor", RWL_QUANTITY, "1/s", "frequency factor A of A exp(-E/(R T))"),           \
      RWL_NEED("energy", RWL_QUANTITY, "J/mol", "its activation energy E")
static const rwl_field body_fields[] = {
    BODY_FIELDS,
    RWL_END_FIELDS,
};
static const rwl_field delta_fields[] = {
    BODY_FIELDS,
    RWL_NEED("air", RWL_TEMPERATURE, "", "temperature of the air"),
    RWL_END_FIELDS,
};

static const rwl_function functions[] = {
    {"runaway_edge", NULL, RWL_NAMED, edge_fields,
     "The edge of runaway of a body whose heat is not used up: `delta`, the greatest heating "
     "parameter that still leaves a steady state, and `theta`, the rise of the warmest place "
     "there in units of R T^2/E.",
     "{delta: number, theta: number}", runaway_edge},
    {"runaway_air", NULL, RWL_NAMED, body_fields,
     "The air temperature above which a body warms without end while its heat lasts; nil and why "
     "where that does not lie between -123 and 327 degC.",
     "quantity|nil, string|nil", runaway_air},
    {"runaway_delta", NULL, RWL_NAMED, delta_fields,
     "Heating parameter of a body in air; it runs away where this lies above that of "
     "runaway_edge.",
     "number", runaway_delta},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_heat_set = {functions, NULL};
