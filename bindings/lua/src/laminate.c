/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stacks of plies: mass, stiffness, strains, first failure. */
#include "objects.h"

#include <string.h>

#define LAYUPS "hand|bagged"

static const char matrix_name[] = "cured-epoxy";

enum { WOOD, CLOTH, GROUPS };
enum { NAMES = 1 }; /* user value: list of the plies' names */

static const char *const group_names[] = {"wood", "cloth"};

typedef struct laminate {
  rw_stack stack;
  rw_stack_spread spread;
  rwl_warning warning;
  size_t n;
  size_t *group; /* of each ply: WOOD or CLOTH; stands behind the plies */
  rw_ply ply[];
} laminate;

static int refuse(lua_State *L, const char *argument, const char *message, const char *hint)
{
  rwl_refusal r = {RW_ERR_ARGUMENT, argument, message, NULL, hint, 0, 0};
  return rwl_refuse(L, &r);
}

static const char *place_of(lua_State *L, size_t i, const char *field)
{
  return lua_pushfstring(L, "plies[%d].%s", (int)i + 1, field);
}

/* --- making -------------------------------------------------------------------------------- */

/* What is wrong with the fields of ply i taken together. */
static void check_ply(lua_State *L, size_t i)
{
  int cloth = rwl_has(L, "cloth"), wood = rwl_has(L, "wood");
  const char *field = NULL, *wrong = NULL, *hint = NULL;
  if (cloth == wood) {
    field = "cloth";
    wrong = cloth ? "and wood are given both" : "or wood is missing";
    hint = "a ply is one of the two; list them from the outside to the inside";
  } else if (wood && !rwl_has(L, "thickness")) {
    field = "thickness";
    wrong = "is missing";
    hint = "say how thick the wood is, such as thickness = \"6 mm\"";
  } else if (cloth && rwl_has(L, "thickness")) {
    field = "thickness";
    wrong = "is given, but a cloth's thickness follows from its fibre share";
    hint = "give fibre_share in its place";
  } else if (wood && rwl_has(L, "fibre_share")) {
    field = "fibre_share";
    wrong = "is given, but wood has none";
    hint = "leave it away";
  }
  if (field == NULL)
    return;
  const char *place = place_of(L, i, field);
  refuse(L, place, lua_pushfstring(L, "%s %s", place, wrong), hint);
}

static void throw_in_ply(lua_State *L, size_t i, rw_status status, rw_error *err)
{
  if (status >= 0)
    return;
  rwl_rename(err, "name", place_of(L, i, "wood"));
  rwl_rename(err, "volume_share", place_of(L, i, "fibre_share"));
  rwl_rename(err, "c", place_of(L, i, "cloth"));
  rwl_throw(L, err);
}

static const char *read_wood(lua_State *L, size_t i, rw_ply *ply, double *spread)
{
  const char *name = rwl_get_string(L, "wood", "", NULL);
  const rw_material *m = NULL;
  double s = 0.0;
  rw_error err = {0};
  rw_status status = rw_lamina_wood(name, &ply->material, &s, &err);
  if (status >= 0)
    status = rw_material_find(RW_WOOD, name, &m, &err);
  throw_in_ply(L, i, status, &err);
  ply->thickness = rwl_get_quantity(L, "thickness", NAN);
  *spread = fmax(*spread, s);
  return m->name;
}

static const char *read_cloth(lua_State *L, size_t i, rw_ply *ply, rwl_warning *warning)
{
  const rwl_cloth *c = rwl_get_object(L, "cloth");
  rw_value usual =
      rwl_get_choice(L, "layup", RW_BY_HAND) == RW_BAGGED ? c->cloth.bagged : c->cloth.hand;
  double share = rwl_get_quantity(L, "fibre_share", usual.value);
  rw_fibre fibre;
  rw_matrix matrix;
  rw_error err = {0};
  rw_status status = rw_fibre_find(c->fibre, &fibre, &err);
  if (status >= 0)
    status = rw_matrix_find(matrix_name, &matrix, &err);
  if (status >= 0)
    status = rw_cloth_thickness(&c->cloth, share, &ply->thickness, &err);
  if (status >= 0)
    status = rw_lamina_cloth(&c->cloth, &fibre, &matrix, share, &ply->material, &err);
  throw_in_ply(L, i, status, &err);
  if (warning->text[0] == '\0')
    *warning = c->warning;
  return c->name;
}

/* Reads every ply; its name goes into the table at the stack index `names`. */
static void read_plies(lua_State *L, laminate *l, int names, double *relative)
{
  for (size_t i = 0; i < l->n; i++) {
    rwl_open(L, "plies", i);
    check_ply(L, i);
    l->group[i] = rwl_has(L, "wood") ? WOOD : CLOTH;
    l->ply[i].angle = rwl_get_quantity(L, "angle", 0.0);
    const char *name = l->group[i] == WOOD ? read_wood(L, i, &l->ply[i], &relative[WOOD])
                                           : read_cloth(L, i, &l->ply[i], &l->warning);
    lua_pushstring(L, name);
    lua_rawseti(L, names, (lua_Integer)i + 1);
    rwl_close(L);
  }
}

static int make(lua_State *L)
{
  size_t n = rwl_get_count(L, "plies");
  double relative[GROUPS] = {0.0, rw_lamina_cloth_spread()};
  laminate *l =
      rwl_push_object(L, RWL_LAMINATE, sizeof *l + n * (sizeof l->ply[0] + sizeof l->group[0]));
  l->n = n;
  l->group = (size_t *)(l->ply + n);
  lua_createtable(L, (int)n, 0);
  read_plies(L, l, lua_absindex(L, -1), relative);
  lua_setiuservalue(L, -2, NAMES);
  rw_error err = {0};
  rw_status status = rw_stack_make(l->ply, n, &l->stack, &err);
  if (status >= 0)
    status = rw_stack_uncertain(l->ply, n, l->group, relative, GROUPS, &l->spread, &err);
  rwl_rename(&err, "ply", "plies[]");
  rwl_rename(&err, "n", "plies");
  if (strstr(err.argument, ".angle") != NULL)
    rwl_in_unit(&err, lua_pushfstring(L, "%s is", err.argument), "deg", "");
  rwl_check(L, status, &err);
  return 1;
}

/* --- methods -------------------------------------------------------------------------------- */

static void read_load(lua_State *L, double load[6])
{
  static const char *const name[] = {"Nx", "Ny", "Nxy", "Mx", "My", "Mxy"};
  for (size_t i = 0; i < 6; i++)
    load[i] = rwl_get_quantity(L, name[i], 0.0);
}

static int matrices(lua_State *L)
{
  const laminate *l = rwl_self(L);
  lua_createtable(L, 0, 3);
  rwl_set_numbers(L, "A", l->stack.A, 9);
  rwl_set_numbers(L, "B", l->stack.B, 9);
  rwl_set_numbers(L, "D", l->stack.D, 9);
  return 1;
}

static int strain(lua_State *L)
{
  static const char *const name[] = {"ex", "ey", "gxy", "kx", "ky", "kxy"};
  const laminate *l = rwl_self(L);
  double load[6], e[6];
  read_load(L, load);
  rw_stack_strain(&l->stack, load, e);
  lua_createtable(L, 0, 6);
  for (size_t i = 0; i < 6; i++)
    rwl_set_number(L, name[i], e[i]);
  return 1;
}

static void set_name(lua_State *L, size_t ply)
{
  lua_getiuservalue(L, 2, NAMES);
  lua_rawgeti(L, -1, (lua_Integer)ply + 1);
  lua_remove(L, -2);
  lua_setfield(L, -2, "name");
}

/* The plies, with those out of the question made to have no strength that is known. */
static const rw_ply *among(lua_State *L, const laminate *l)
{
  enum { ALL };
  int which = rwl_get_choice(L, "among", ALL);
  if (which == ALL)
    return l->ply;
  rw_ply *ply = lua_newuserdatauv(L, l->n * sizeof *ply, 0);
  memcpy(ply, l->ply, l->n * sizeof *ply);
  for (size_t i = 0; i < l->n; i++)
    if (l->group[i] + 1 != (size_t)which)
      ply[i].material.Xt = 0.0;
  return ply;
}

static int first_failure(lua_State *L)
{
  static const char *const mode[] = {
      [RW_MODE_NONE] = "nothing gives way",
      [RW_MODE_TENSION_ALONG] = "pulled apart along its fibre or grain",
      [RW_MODE_CRUSH_ALONG] = "crushed along its fibre or grain",
      [RW_MODE_TENSION_ACROSS] = "pulled apart across its fibre or grain",
      [RW_MODE_CRUSH_ACROSS] = "crushed across its fibre or grain",
      [RW_MODE_SHEAR] = "sheared"};
  const laminate *l = rwl_self(L);
  double load[6];
  read_load(L, load);
  rw_first_failure f;
  rw_error err = {0};
  rw_status status = rw_stack_first_failure(
      among(L, l), l->n, &l->stack, load,
      (rw_criterion)rwl_get_choice(L, "criterion", RW_MAX_STRESS), &f, &err);
  rwl_rename(&err, "ply", "plies[]");
  rwl_check(L, status, &err);
  lua_createtable(L, 0, 5);
  rwl_set_number(L, "factor", f.factor);
  rwl_set_text(L, "mode", mode[f.mode]);
  if (f.face == 0)
    return 1;
  lua_pushinteger(L, (lua_Integer)f.ply + 1);
  lua_setfield(L, -2, "ply");
  rwl_set_text(L, "face", f.face < 0 ? "outer" : "inner");
  set_name(L, f.ply);
  return 1;
}

static int strip(lua_State *L)
{
  const laminate *l = rwl_self(L);
  double deflection = NAN;
  rwl_warning warning;
  rw_error err = {0};
  rw_status status = rw_stack_strip(&l->stack, rwl_get_quantity(L, "span", NAN),
                                    rwl_get_quantity(L, "load", NAN), &deflection, &err);
  rwl_rename(&err, "load_per_width", "load");
  rwl_keep(L, &warning, status, &err);
  lua_createtable(L, 0, 2);
  rwl_set_quantity(L, "deflection", "m", deflection);
  rwl_set_warnings(L, &warning);
  return 1;
}

static void push_stiffness(lua_State *L, rw_value v, size_t because)
{
  rwl_push_value(L, "N m", v, v.sd > 0.0 ? group_names[because] : NULL);
}

static void push_skins(lua_State *L, const laminate *l)
{
  lua_getiuservalue(L, 1, NAMES);
  lua_createtable(L, (int)l->n, 0);
  for (size_t i = 0; i < l->n; i++) {
    const rw_ply *p = &l->ply[i];
    lua_createtable(L, 0, 3);
    lua_rawgeti(L, -3, (lua_Integer)i + 1);
    lua_setfield(L, -2, "name");
    rwl_set_quantity(L, "thickness", "m", p->thickness);
    rwl_set_quantity(L, "areal_mass", "kg/m2", p->material.density * p->thickness);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
}

static int read(lua_State *L)
{
  const laminate *l = lua_touserdata(L, 1);
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
    push_stiffness(L, l->spread.EIx, l->spread.because_x);
  else if (strcmp(name, "bend_across") == 0)
    push_stiffness(L, l->spread.EIy, l->spread.because_y);
  else if (strcmp(name, "skins") == 0)
    push_skins(L, l);
  else
    rwl_push_warnings(L, &l->warning);
  return 1;
}

static int say(lua_State *L)
{
  const laminate *l = luaL_checkudata(L, 1, "resinwright." RWL_LAMINATE);
  rwl_push_quantity(L, "m", l->stack.thickness);
  const char *thick = luaL_tolstring(L, -1, NULL);
  rwl_push_quantity(L, "kg/m2", l->stack.areal_mass);
  const char *heavy = luaL_tolstring(L, -1, NULL);
  lua_pushfstring(L, "laminate of %d plies, %s, %s", (int)l->n, thick, heavy);
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

static const rwl_field ply_fields[] = {
    RWL_MAY("cloth", RWL_OBJECT, RWL_CLOTH, NULL, "a layer of this cloth in epoxy; or wood"),
    RWL_MAY("wood", RWL_STRING, "", NULL,
            "a layer of this wood, by its name in the tables, see rw.materials{kind = \"wood\"}; "
            "or cloth"),
    RWL_MAY("thickness", RWL_QUANTITY, "m", NULL,
            "of the wood; a cloth's follows from its fibre share"),
    RWL_MAY("angle", RWL_QUANTITY, "rad", "0 deg",
            "from along the hull to the grain or the warp, one turn at most; a cloth sold as +-45 "
            "is laid at \"45 deg\""),
    RWL_MAY("layup", RWL_CHOICE, LAYUPS, "hand", "how a cloth is laid: by hand or under a bag"),
    RWL_MAY("fibre_share", RWL_SHARE, "", NULL,
            "fibre volume share of a cloth, in place of that of the lay-up"),
    RWL_END_FIELDS,
};
static const rwl_field make_fields[] = {
    RWL_NEED_RECORDS("plies", ply_fields, "1 to 200 plies from the outside to the inside"),
    RWL_END_FIELDS,
};

#define LOADS                                                                                     \
  RWL_MAY("Nx", RWL_QUANTITY, "N/m", "0 N/m", "pull along, per metre of width"),                  \
      RWL_MAY("Ny", RWL_QUANTITY, "N/m", "0 N/m", "pull across, per metre of length"),            \
      RWL_MAY("Nxy", RWL_QUANTITY, "N/m", "0 N/m", "shear in the plane, per metre"),              \
      RWL_MAY("Mx", RWL_QUANTITY, "N", "0 N",                                                     \
              "moment per metre of width (N m/m) that bends along; above 0 it stretches the "     \
              "inside"),                                                                          \
      RWL_MAY("My", RWL_QUANTITY, "N", "0 N", "moment that bends across, likewise"),              \
      RWL_MAY("Mxy", RWL_QUANTITY, "N", "0 N", "twisting moment, per metre")

static const rwl_field load_fields[] = {LOADS, RWL_END_FIELDS};
static const rwl_field failure_fields[] = {
    LOADS,
    RWL_MAY("among", RWL_CHOICE, "all|wood|cloth", "all", "which plies are asked"),
    RWL_MAY("criterion", RWL_CHOICE, "max_stress|tsai_wu", "max_stress",
            "max_stress: each stress against its own strength; tsai_wu: quadratic in all of them"),
    RWL_END_FIELDS,
};
static const rwl_field strip_fields[] = {
    RWL_NEED("span", RWL_QUANTITY, "m", "between the two supports"),
    RWL_NEED("load", RWL_QUANTITY, "N/m",
             "line load across the middle: newtons per metre of the strip's width"),
    RWL_END_FIELDS,
};

static const rwl_function methods[] = {
    {"matrices", "laminate", RWL_NAMED, NULL,
     "The matrices A (N/m), B (N) and D (N m) of lamination theory, by rows in the order x, y, "
     "xy; "
     "x runs along the hull, z from the middle towards the inside.",
     "{A: number[], B: number[], D: number[]}", matrices},
    {"strain", "laminate", RWL_NAMED, load_fields,
     "Strains of the middle plane (plain numbers) and curvatures (1/m) under loads per width.",
     "{ex: number, ey: number, gxy: number, kx: number, ky: number, kxy: number}", strain},
    {"first_failure", "laminate", RWL_NAMED, failure_fields,
     "What gives way first, and by what the load must be multiplied for it (math.huge: never; "
     "ply, "
     "face and name are nil then). For comparing stacks only: strengths are good to a factor of "
     "two, and scantling rules, survey and licensed practice decide.",
     "{factor: number, ply: integer|nil, face: \"outer\"|\"inner\"|nil, name: string|nil, mode: "
     "string}",
     first_failure},
    {"strip", "laminate", RWL_NAMED, strip_fields,
     "How far a narrow strip along the hull bends between two supports under a line load across "
     "its middle. Shear is left out: a short strip bends more than this, as a warning says.",
     "{deflection: quantity, warnings: string[]}", strip},
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
    {"skins", "{name: string, thickness: quantity, areal_mass: quantity}[]",
     "the plies, from the outside to the inside"},
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
    {"laminate", NULL, RWL_NAMED, make_fields,
     "A laminate from its plies, listed from the outside to the inside. All wood is taken to be "
     "wrong together, by the largest spread of the woods in it, and all cloth together.",
     "laminate", make},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_laminate_set = {functions, types};
