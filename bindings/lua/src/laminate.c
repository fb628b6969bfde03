/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A laminate's properties, stiffness and strains; its methods are listed here. */
#include "laminate.h"

#include <string.h>

static const char *const group_names[RWL_GROUP_WORDS] = {"wood", "cloth", "core", "wood and core"};

static int matrices(lua_State *L)
{
  const rwl_laminate *l = rwl_self(L);
  lua_createtable(L, 0, 3);
  rwl_set_numbers(L, "A", l->stack.A, 9);
  rwl_set_numbers(L, "B", l->stack.B, 9);
  rwl_set_numbers(L, "D", l->stack.D, 9);
  return 1;
}

static int strain(lua_State *L)
{
  static const char *const name[] = {"ex", "ey", "gxy", "kx", "ky", "kxy"};
  const rwl_laminate *l = rwl_self(L);
  double load[6], e[6];
  rwl_get_load(L, load);
  rw_stack_strain(&l->stack, load, e);
  lua_createtable(L, 0, 6);
  for (size_t i = 0; i < 6; i++)
    rwl_set_number(L, name[i], e[i]);
  return 1;
}

static void set_pressures(lua_State *L, const char *const *name, const double *pa, size_t n)
{
  for (size_t i = 0; i < n; i++)
    rwl_set_quantity(L, name[i], "Pa", pa[i]);
}

static int constants(lua_State *L)
{
  static const char *const plane[] = {"Ex", "Ey", "Gxy"}, *const bending[] = {"bending_Ex",
                                                                              "bending_Ey",
                                                                              "bending_Gxy"};
  const rwl_laminate *l = rwl_self(L);
  rw_stack_moduli m;
  rw_error err = {0};
  rwl_check(L, rw_stack_moduli_of(&l->stack, &m, &err), &err);
  lua_createtable(L, 0, 15);
  set_pressures(L, plane, (const double[]){m.Ex, m.Ey, m.Gxy}, 3);
  set_pressures(L, bending, (const double[]){m.bending_Ex, m.bending_Ey, m.bending_Gxy}, 3);
  rwl_set_number(L, "nuxy", m.nuxy);
  rwl_set_number(L, "nuyx", m.nuyx);
  rwl_set_number(L, "skew_x", m.skew_x);
  rwl_set_number(L, "skew_y", m.skew_y);
  rwl_set_number(L, "bending_nuxy", m.bending_nuxy);
  rwl_set_number(L, "bending_nuyx", m.bending_nuyx);
  rwl_set_quantity(L, "shear_xz", "N/m", l->shear[0]);
  rwl_set_quantity(L, "shear_yz", "N/m", l->shear[1]);
  rwl_set_quantity(L, "shear_both", "N/m", l->shear[2]);
  return 1;
}

static void push_stiffness(lua_State *L, const rwl_laminate *l, rw_value v, size_t because)
{
  rwl_push_value(L, "N m", v, v.sd > 0.0 ? group_names[rwl_group_word(l, because)] : NULL);
}

static void push_skins(lua_State *L, const rwl_laminate *l)
{
  lua_createtable(L, (int)l->n, 0);
  for (size_t i = 0; i < l->n; i++) {
    const rw_ply *p = &l->ply[i];
    const rwl_layer *layer = &l->layer[i];
    lua_createtable(L, 0, 8);
    rwl_set_text(L, "name", layer->name);
    rwl_set_whole(L, "ply", layer->listed + 1);
    if (layer->veneer > 0)
      rwl_set_whole(L, "veneer", layer->veneer);
    rwl_set_quantity(L, "thickness", "m", p->thickness);
    rwl_set_quantity(L, "areal_mass", "kg/m2", p->material.density * p->thickness);
    rwl_set_quantity(L, "angle", "rad", p->angle);
    if (layer->group == RWL_SKIN)
      rwl_set_number(L, "fibre_share", layer->share);
    if (layer->group == RWL_SKIN && !isnan(layer->voids))
      rwl_set_number(L, "void_share", layer->voids);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
}

static int read(lua_State *L)
{
  const rwl_laminate *l = lua_touserdata(L, 1);
  const rw_stack *s = &l->stack;
  const struct {
    const char *name, *unit;
    double value;
  } plain[] = {
      {"thickness", "m", s->thickness},
      {"areal_mass", "kg/m2", s->areal_mass},
      {"Ex", "Pa", s->Ex},
      {"Ey", "Pa", s->Ey},
      {"Gxy", "Pa", s->Gxy},
      {"nuxy", "", s->nuxy},
  };
  const char *name = lua_tostring(L, 2);
  for (size_t i = 0; i < sizeof plain / sizeof plain[0]; i++)
    if (strcmp(name, plain[i].name) == 0) {
      rwl_push_quantity(L, plain[i].unit, plain[i].value);
      return 1;
    }
  if (strcmp(name, "bend_along") == 0)
    push_stiffness(L, l, l->spread.EIx, l->spread.because_x);
  else if (strcmp(name, "bend_across") == 0)
    push_stiffness(L, l, l->spread.EIy, l->spread.because_y);
  else if (strcmp(name, "skins") == 0)
    push_skins(L, l);
  else
    rwl_push_warnings(L, &l->warning);
  return 1;
}

static int say(lua_State *L)
{
  const rwl_laminate *l = luaL_checkudata(L, 1, "resinwright." RWL_LAMINATE);
  rwl_push_quantity(L, "m", l->stack.thickness);
  const char *thick = luaL_tolstring(L, -1, NULL);
  rwl_push_quantity(L, "kg/m2", l->stack.areal_mass);
  const char *heavy = luaL_tolstring(L, -1, NULL);
  lua_pushfstring(L, "laminate of %d plies, %s, %s", (int)l->n, thick, heavy);
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

#define WHY RWL_WHY_NOT_APPROVAL
#define FAILURE_OF                                                                                \
  "{factor: number, ply: integer|nil, veneer: integer|nil, face: \"outer\"|\"inner\"|nil, name: " \
  "string|nil, mode: string"
#define STRAINS "{x: number, y: number, xy: number}"
#define HIT "{moment: quantity, ply: integer, face: string, name: string, mode: string}"
#define STRESS "{along: quantity, across: quantity, shear: quantity}"

static const rwl_function methods[] = {
    {"matrices", "laminate", RWL_NAMED, NULL,
     "The matrices A (N/m), B (N) and D (N m) of lamination theory, by rows in the order x, y, "
     "xy; "
     "x runs along the hull, z from the middle towards the inside.",
     "{A: number[], B: number[], D: number[]}", matrices},
    {"strain", "laminate", RWL_NAMED, rwl_load_fields,
     "Strains of the middle plane (plain numbers) and curvatures (1/m) under loads per width.",
     "{ex: number, ey: number, gxy: number, kx: number, ky: number, kxy: number}", strain},
    {"constants", "laminate", RWL_NAMED, NULL,
     "Engineering constants pulled in the plane and bent (those of one material that bends as "
     "much), and the stiffness against shear through the thickness, per width (N/m): shear_xz "
     "along, shear_yz across, shear_both the coupling of the two. skew_x: shear strain over "
     "strain along, pulled along.",
     "{Ex: quantity, Ey: quantity, Gxy: quantity, nuxy: number, nuyx: number, skew_x: number, "
     "skew_y: number, bending_Ex: quantity, bending_Ey: quantity, bending_Gxy: quantity, "
     "bending_nuxy: number, bending_nuyx: number, shear_xz: quantity, shear_yz: quantity, "
     "shear_both: quantity}",
     constants},
    {"first_failure", "laminate", RWL_NAMED, rwl_first_failure_fields,
     "What gives way first, and by what the load must be multiplied for it (math.huge: never; "
     "ply, face and name are nil then). Stress locked in is left out, see failure." WHY,
     FAILURE_OF "}", rwl_first_failure},
    {"failure", "laminate", RWL_NAMED, rwl_failure_fields,
     "What gives way first by each criterion asked for, with what is locked in by warmth, cure "
     "and damp (see locked_in), and when each layer would, as if the others held on (plies, from "
     "the outside "
     "to the inside)." WHY,
     FAILURE_OF ", criterion: string, plies: " FAILURE_OF "}[]}[]", rwl_failure},
    {"shear_failure", "laminate", RWL_NAMED, rwl_shear_failure_fields,
     "Which layer gives way to shear through the thickness: a core, rolling shear of wood; glue "
     "lines are left out." WHY,
     FAILURE_OF "}", rwl_shear_failure},
    {"wrinkling", "laminate", RWL_NAMED, rwl_wrinkling_fields,
     "When the skin on one side of a core wrinkles: the factor of the load (math.huge: never, "
     "the rest is nil then), the face, the skin's mean stress and the direction in which it is "
     "pushed, from along the hull." WHY,
     "{factor: number, face: \"outer\"|\"inner\"|nil, stress: quantity|nil, direction: "
     "quantity|nil}",
     rwl_wrinkling},
    {"hit", "laminate", RWL_NAMED, rwl_hit_fields,
     "The standard case of a hit from outside: moments per width at which something gives way "
     "bent along (as between ribs), across, and alike both ways (as in the middle of a panel), "
     "and the energy stored per area in the last of them: a damage index, for comparing "
     "schedules only; it promises nothing about a rock." WHY,
     "{along: " HIT ", across: " HIT ", both: " HIT ", index: quantity}", rwl_hit},
    {"faired", "laminate", RWL_NAMED, rwl_faired_fields,
     "Bending stiffness left where one ply was faired, from its thickness at places of a map: "
     "worst, the place that keeps least, how much is left there along and across, how many "
     "places are below the limit, and the thickness at which it is just met (nil: the other "
     "plies meet it).",
     "{worst: integer, along: number, across: number, below: integer, needed: quantity|nil}",
     rwl_faired},
    {"locked_in", "laminate", RWL_NAMED, rwl_locked_in_fields,
     "What warming or cooling, cure and damp do to a free, flat laminate: curvature (1/m, above "
     "0 it bulges to the inside), strain of the middle plane, and the stress in each layer at its "
     "outer "
     "and inner face, along and across its fibre or grain. Elastic: resin and wood let go of "
     "part of it in time, so it is an upper bound. Warming takes the expansions of the tables "
     "unless others are given, and the wood's moisture as it was unless moisture is given: damp "
     "wood dries when it is warmed, and shrinks by that, mostly more than it grows. Swelling of "
     "resin and fibre by damp is left out, and so is what a core by its data sheet does.",
     "{curvature: {x: quantity, y: quantity, xy: quantity}, strain: {x: number, y: number, xy: "
     "number}, plies: {name: string, ply: integer, veneer: integer|nil, outer: " STRESS
     ", inner: " STRESS "}[], warnings: string[]}",
     rwl_locked_in},
    {"panel", "laminate", RWL_NAMED, rwl_panel_fields,
     "A flat panel of it, held all round, under a load from outside. The side named first runs "
     "along x. Small deflections; edges don't give.",
     "panel", rwl_panel},
    {"strip", "laminate", RWL_NAMED, rwl_strip_fields,
     "A strip along the hull between two supports. Shear is left out unless asked for: a short "
     "strip bends more, as a warning says. The moment is per width (N), above 0 it stretches "
     "the inside; outer and inner are the strains of the faces where it is greatest; places: "
     "deflection and moment at each place asked for." WHY,
     "{deflection: quantity, at: quantity, shear_share: number, moment: quantity, moment_at: "
     "quantity, surface_strain: number, outer: " STRAINS ", inner: " STRAINS
     ", first_reaction: quantity, second_reaction: quantity, failure: " FAILURE_OF
     "}, places: {x: quantity, deflection: quantity, moment: quantity}[]|nil, "
     "spread: " RWL_STRIP_SPREAD "|nil, warnings: string[]}",
     rwl_strip},
    {"arch", "laminate", RWL_NAMED, rwl_arch_fields,
     "A strip of a curved side, as a shallow arch that bulges to the outside: deflection of the "
     "crown, thrust along it (below 0 a pull), moments, what the same strip without rise would "
     "deflect (flat), and by what the load must be multiplied until the arch snaps through "
     "(math.huge: it does not). Every give of the ends takes from it." WHY,
     "{deflection: quantity, flat: quantity, thrust: quantity, moment: quantity, moment_at: "
     "quantity, crown_moment: quantity, end_moment: quantity, surface_strain: number, "
     "outer: " STRAINS ", inner: " STRAINS ", snap: number, failure: " FAILURE_OF
     "}, spread: " RWL_STRIP_SPREAD "|nil, warnings: string[]}",
     rwl_arch},
    RWL_END_FUNCTIONS,
};

static const rwl_property properties[] = {
    {"thickness", "quantity", "of all plies together"},
    {"areal_mass", "quantity", "mass per area, cured, without fill coats"},
    {"bend_along", "range",
     "bending stiffness of a strip along the hull, per width (N m); the spread is that of the "
     "wood's and of the cloth model's moduli"},
    {"bend_across", "range", "of a strip across, likewise"},
    {"Ex", "quantity", "modulus in the plane along the hull, free to bend"},
    {"Ey", "quantity", "modulus in the plane across"},
    {"Gxy", "quantity", "shear modulus in the plane"},
    {"nuxy", "number", "Poisson ratio in the plane: strain across over strain along"},
    {"skins",
     "{name: string, ply: integer, veneer: integer|nil, thickness: quantity, areal_mass: "
     "quantity, "
     "angle: quantity, fibre_share: number|nil, void_share: number|nil}[]",
     "the layers, from the outside to the inside; ply: which of those listed; fibre_share: by "
     "volume, with air counted where it is known; void_share: air by volume, where thickness and "
     "resin of the ply were both given. It lowers fibre share and mass; what it takes from "
     "stiffness and strength beyond that is left out"},
    {"warnings", "string[]", "what to know about it; empty where nothing"},
    RWL_END_PROPERTIES,
};

static const luaL_Reg events[] = {{"__tostring", say}, {NULL, NULL}};

static const rwl_type types[] = {
    {RWL_LAMINATE, "A stack of plies of wood and of cloth in epoxy.", properties, read, methods,
     events},
    RWL_END_TYPES,
};

static const rwl_function functions[] = {
    {"laminate", NULL, RWL_NAMED, rwl_laminate_fields,
     "A laminate from its plies, listed from the outside to the inside. All wood is taken to be "
     "wrong together, by the largest spread of the woods in it and of its cores with them, and "
     "all cloth together.",
     "laminate", rwl_laminate_make},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_laminate_set = {functions, types};
