/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cloth: from the tables or from what its roll says; thickness and resin in it; shares. */
#include "objects.h"

#include <stdio.h>
#include <string.h>

#define WEAVES "plain|twill|satin|unidirectional|biaxial|mat"
#define LAYUPS "hand|bagged"

static const char *const weave_names[] = {"plain",          "twill",   "satin",
                                          "unidirectional", "biaxial", "mat"};
static const char share_because[] = "how much resin stays in the cloth";

static int refuse(lua_State *L, const char *argument, const char *message, const char *hint)
{
  rwl_refusal r = {RW_ERR_ARGUMENT, argument, message, NULL, hint, 0, 0};
  return rwl_refuse(L, &r);
}

/* --- making -------------------------------------------------------------------------------- */

static const char *const roll[] = {"fibre", "areal_mass", "weave"};
enum { ROLL = sizeof roll / sizeof roll[0] };

/* Either a name, or all that the roll says. */
static int is_by_name(lua_State *L)
{
  static const char hint[] =
      "write rw.cloth{name = \"glass-203-plain\"} for a cloth of the tables "
      "(rw.materials lists them), or rw.cloth{fibre = \"e-glass\", "
      "areal_mass = \"203 g/m2\", weave = \"plain\"}";
  size_t given = 0;
  const char *absent = NULL, *there = NULL;
  for (size_t i = ROLL; i-- > 0;) {
    if (rwl_has(L, roll[i])) {
      given++;
      there = roll[i];
    } else {
      absent = roll[i];
    }
  }
  int named = rwl_has(L, "name");
  if (named && given > 0)
    refuse(L, there, lua_pushfstring(L, "name and %s are given both", there), hint);
  if (!named && given == 0)
    refuse(L, "name",
           "which cloth it is, is missing: its name, or its fibre, areal_mass and weave", hint);
  if (!named && absent != NULL)
    refuse(L, absent, lua_pushfstring(L, "%s is missing", absent), hint);
  return named;
}

static void find(lua_State *L, rwl_cloth *c)
{
  const char *name = rwl_get_string(L, "name", "", NULL);
  const rw_material *m = NULL;
  rw_error err = {0};
  rwl_keep(L, &c->warning, rw_cloth_find(name, &c->cloth, &err), &err);
  rwl_check(L, rw_material_find(RW_CLOTH, name, &m, &err), &err);
  rwl_copy_name(c->name, m->name);
  rwl_copy_name(c->fibre, m->fibre);
}

/* Named by what the roll says: "e-glass plain 203 g/m2". */
static void describe(rwl_cloth *c)
{
  char mass[32];
  rw_quantity q = {c->cloth.areal_mass, rw_dim_of("kg/m2"), 0};
  rw_quantity_write(&q, RW_METRIC, 4, mass, sizeof mass);
  snprintf(c->name, sizeof c->name, "%.20s %s %s", c->fibre, weave_names[c->cloth.weave], mass);
}

static void make(lua_State *L, rwl_cloth *c)
{
  const char *fibre = rwl_get_string(L, "fibre", "", NULL);
  const rw_material *m = NULL;
  rw_error err = {0};
  rw_status status =
      rw_cloth_make(fibre, rwl_get_quantity(L, "areal_mass", NAN),
                    (rw_weave)rwl_get_choice(L, "weave", RW_PLAIN), &c->cloth, &err);
  rwl_rename(&err, "name", "fibre");
  rwl_keep(L, &c->warning, status, &err);
  rwl_check(L, rw_material_find(RW_FIBRE, fibre, &m, &err), &err);
  rwl_copy_name(c->fibre, m->name);
  describe(c);
}

static int cloth(lua_State *L)
{
  int named = is_by_name(L);
  rwl_cloth *c = rwl_push_object(L, RWL_CLOTH, sizeof *c);
  if (named)
    find(L, c);
  else
    make(L, c);
  c->cloth.hand = rwl_get_value(L, "hand", c->cloth.hand);
  c->cloth.bagged = rwl_get_value(L, "bagged", c->cloth.bagged);
  c->cloth.crown = rwl_get_quantity(L, "crown", c->cloth.crown);
  rw_error err = {0};
  rw_status status = rw_cloth_check(&c->cloth, &err);
  if (strcmp(err.argument, "crown") == 0)
    rwl_in_unit(&err, "crown is", "mm",
                "the dry cloth cannot be thinner than its fibre pressed solid; leave crown away "
                "to have it estimated");
  rwl_check(L, status, &err);
  return 1;
}

/* --- methods -------------------------------------------------------------------------------- */

static rw_value share_of(lua_State *L, const rw_cloth *c)
{
  return rwl_get_choice(L, "layup", RW_BY_HAND) == RW_BAGGED ? c->bagged : c->hand;
}

static int thickness(lua_State *L)
{
  const rwl_cloth *c = rwl_self(L);
  double t = NAN;
  rw_error err = {0};
  rw_status status = rw_cloth_thickness(
      &c->cloth, rwl_get_quantity(L, "fibre_share", share_of(L, &c->cloth).value), &t, &err);
  rwl_rename(&err, "volume_share", "fibre_share");
  rwl_check(L, status, &err);
  rwl_push_quantity(L, "m", t);
  return 1;
}

static int resin(lua_State *L)
{
  const rwl_cloth *c = rwl_self(L);
  rw_value r = {NAN, NAN};
  rw_error err = {0};
  rw_status status = rw_cloth_resin(&c->cloth, share_of(L, &c->cloth),
                                    rwl_get_quantity(L, "resin_density", NAN), &r, &err);
  rwl_check(L, status, &err);
  rwl_push_value(L, "kg/m2", r, share_because);
  rwl_note(L, -1, status, &err);
  return 1;
}

static void push_share(lua_State *L, rw_value share)
{
  rwl_push_value(L, "", share, share_because);
}

static int read(lua_State *L)
{
  const rwl_cloth *c = lua_touserdata(L, 1);
  const char *name = lua_tostring(L, 2);
  if (strcmp(name, "name") == 0)
    lua_pushstring(L, c->name);
  else if (strcmp(name, "fibre") == 0)
    lua_pushstring(L, c->fibre);
  else if (strcmp(name, "weave") == 0)
    lua_pushstring(L, weave_names[c->cloth.weave]);
  else if (strcmp(name, "areal_mass") == 0)
    rwl_push_quantity(L, "kg/m2", c->cloth.areal_mass);
  else if (strcmp(name, "fibre_density") == 0)
    rwl_push_quantity(L, "kg/m3", c->cloth.fibre_density);
  else if (strcmp(name, "hand") == 0)
    push_share(L, c->cloth.hand);
  else if (strcmp(name, "bagged") == 0)
    push_share(L, c->cloth.bagged);
  else if (strcmp(name, "warnings") == 0)
    rwl_push_warnings(L, &c->warning);
  else if (c->cloth.crown > 0.0)
    rwl_push_quantity(L, "m", c->cloth.crown);
  else
    lua_pushnil(L);
  return 1;
}

static int say(lua_State *L)
{
  const rwl_cloth *c = luaL_checkudata(L, 1, "resinwright." RWL_CLOTH);
  lua_pushfstring(L, "cloth %s", c->name);
  return 1;
}

/* --- shares of fibre and resin -------------------------------------------------------------- */

static int fibre_share(lua_State *L)
{
  double share = NAN;
  rw_error err = {0};
  rwl_check(L,
            rw_fibre_volume_share(rwl_get_quantity(L, "mass_share", NAN),
                                  rwl_get_quantity(L, "fibre_density", NAN),
                                  rwl_get_quantity(L, "resin_density", NAN), &share, &err),
            &err);
  lua_pushnumber(L, share);
  return 1;
}

static int mass_share(lua_State *L)
{
  double share = NAN;
  rw_error err = {0};
  rwl_check(L,
            rw_fibre_mass_share(rwl_get_quantity(L, "volume_share", NAN),
                                rwl_get_quantity(L, "fibre_density", NAN),
                                rwl_get_quantity(L, "resin_density", NAN), &share, &err),
            &err);
  lua_pushnumber(L, share);
  return 1;
}

static int laminate_density(lua_State *L)
{
  double density = NAN;
  rw_error err = {0};
  rwl_check(L,
            rw_laminate_density(rwl_get_quantity(L, "mass_share", NAN),
                                rwl_get_quantity(L, "fibre_density", NAN),
                                rwl_get_quantity(L, "resin_density", NAN), &density, &err),
            &err);
  rwl_push_quantity(L, "kg/m3", density);
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

#define LAYUP                                                                                     \
  RWL_MAY("layup", RWL_CHOICE, LAYUPS, "hand",                                                    \
          "hand: brush, roller and squeegee; bagged: the same under a vacuum bag")
#define FIBRE_DENSITY                                                                             \
  RWL_NEED("fibre_density", RWL_QUANTITY, "kg/m3",                                                \
           "density of the fibre itself, such as \"2.54 g/cm3\" for E-glass")
#define RESIN_DENSITY                                                                             \
  RWL_NEED("resin_density", RWL_QUANTITY, "kg/m3", "density of the resin, such as \"1.1 g/cm3\"")
#define MASS_SHARE                                                                                \
  RWL_NEED("mass_share", RWL_SHARE, "", "mass of fibre over mass of fibre and resin")

static const rwl_field cloth_fields[] = {
    RWL_MAY("name", RWL_STRING, "", NULL,
            "name in the tables, see rw.materials{kind = \"cloth\"}; alone, or the three below"),
    RWL_MAY("fibre", RWL_STRING, "", NULL,
            "name of the fibre in the tables, see rw.materials{kind = \"fibre\"}"),
    RWL_MAY("areal_mass", RWL_QUANTITY, "kg/m2", NULL,
            "mass of the dry cloth per area, 0.01 to 2 kg/m2: \"203 g/m2\", \"6 oz/yd2\""),
    RWL_MAY("weave", RWL_CHOICE, WEAVES, NULL, "how the yarns lie"),
    RWL_MAY("hand", RWL_VALUE, "", NULL,
            "fibre volume share laid by hand, in place of the tables'; a plain number is taken as "
            "exact, {low = ..., high = ...} as a 90 % interval"),
    RWL_MAY("bagged", RWL_VALUE, "", NULL, "fibre volume share under a bag, likewise"),
    RWL_MAY("crown", RWL_QUANTITY, "m", NULL,
            "thickness of the dry cloth over its crowns, unpressed, in place of the tables'"),
    RWL_END_FIELDS,
};
static const rwl_field thickness_fields[] = {
    LAYUP,
    RWL_MAY("fibre_share", RWL_SHARE, "", NULL,
            "fibre volume share, in place of that of the lay-up"),
    RWL_END_FIELDS,
};
static const rwl_field resin_fields[] = {
    LAYUP,
    RWL_MAY("resin_density", RWL_QUANTITY, "kg/m3", "1.1 g/cm3", "density of the mixed resin"),
    RWL_END_FIELDS,
};
static const rwl_field mass_fields[] = {MASS_SHARE, FIBRE_DENSITY, RESIN_DENSITY, RWL_END_FIELDS};
static const rwl_field volume_fields[] = {
    RWL_NEED("volume_share", RWL_SHARE, "", "volume of fibre over volume of fibre and resin"),
    FIBRE_DENSITY,
    RESIN_DENSITY,
    RWL_END_FIELDS,
};

static const rwl_function methods[] = {
    {"thickness", "cloth", RWL_NAMED, thickness_fields,
     "Thickness of one layer in resin: areal mass over fibre density and fibre volume share.",
     "quantity", thickness},
    {"resin", "cloth", RWL_NAMED, resin_fields,
     "Resin inside one layer per area. What fills the weave on top is apart, see rw.amounts.",
     "range", resin},
    RWL_END_FUNCTIONS,
};

static const rwl_property properties[] = {
    {"name", "string", "name in the tables, or what the roll says in words"},
    {"fibre", "string", "name of its fibre"},
    {"weave", "string", "how the yarns lie"},
    {"areal_mass", "quantity", "mass of the dry cloth per area"},
    {"crown", "quantity|nil",
     "thickness of the dry cloth over its crowns; nil: estimated from mass and weave where "
     "needed"},
    {"hand", "range", "fibre volume share laid by hand"},
    {"bagged", "range", "fibre volume share under a bag"},
    {"fibre_density", "quantity", "density of the fibre itself"},
    {"warnings", "string[]", "what to know about it; empty where nothing"},
    RWL_END_PROPERTIES,
};

static const luaL_Reg events[] = {{"__tostring", say}, {NULL, NULL}};

static const rwl_type types[] = {
    {RWL_CLOTH, "A dry cloth.", properties, read, methods, events},
    RWL_END_TYPES,
};

static const rwl_function functions[] = {
    {"cloth", NULL, RWL_NAMED, cloth_fields,
     "A cloth of the tables by its name, or one made from what its roll says: fibre, areal mass "
     "and weave.",
     "cloth", cloth},
    {"fibre_share", NULL, RWL_NAMED, mass_fields,
     "Fibre volume share from fibre mass share, without air.", "number", fibre_share},
    {"mass_share", NULL, RWL_NAMED, volume_fields,
     "Fibre mass share from fibre volume share, without air.", "number", mass_share},
    {"laminate_density", NULL, RWL_NAMED, mass_fields, "Density of a laminate without air in it.",
     "quantity", laminate_density},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_cloth_set = {functions, types};
