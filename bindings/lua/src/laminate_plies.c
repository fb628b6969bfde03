/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Making a laminate: plies of cloth, of several fibres, of wood and of plywood. */
#include "laminate.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reading.h"

const char rwl_laminate_resin[] = "cured-epoxy";

static const double usual_moisture = 0.12;

enum { MOST_VENEERS = 49, MOST_FIBRES = 8 };

/* What a ply is made of. */
enum { CLOTH = 1, FIBRES = 2, WOOD = 4 };

static int refuse(lua_State *L, const char *argument, const char *message, const char *hint)
{
  rwl_refusal r = {RW_ERR_ARGUMENT, argument, message, NULL, hint, 0, 0};
  return rwl_refuse(L, &r);
}

static const char *place_of(lua_State *L, size_t i, const char *field)
{
  return lua_pushfstring(L, "plies[%d].%s", (int)i + 1, field);
}

static int refuse_field(lua_State *L, size_t i, const char *field, const char *wrong,
                        const char *hint)
{
  const char *place = place_of(L, i, field);
  return refuse(L, place, lua_pushfstring(L, "%s %s", place, wrong), hint);
}

/* --- what fits together --------------------------------------------------------------------- */

static int kind_of_ply(lua_State *L, size_t i)
{
  static const char hint[] = "a ply is one of the three; list them from the outside to the inside";
  int kind = 0, given = 0;
  static const struct {
    const char *name;
    int kind;
  } known[] = {{"cloth", CLOTH}, {"fibres", FIBRES}, {"wood", WOOD}};
  for (size_t k = 0; k < sizeof known / sizeof known[0]; k++)
    if (rwl_has(L, known[k].name)) {
      kind = known[k].kind;
      given++;
    }
  if (given == 0)
    refuse_field(L, i, "cloth", "or fibres or wood is missing", hint);
  if (given > 1)
    refuse_field(L, i, rwl_has(L, "cloth") ? "cloth" : "fibres",
                 "and another material are both given", hint);
  return kind;
}

static void check_fields(lua_State *L, size_t i, int kind)
{
  static const struct {
    const char *name;
    int kinds;
  } known[] = {{"weave", FIBRES},
               {"layup", CLOTH | FIBRES},
               {"fibre_share", CLOTH | FIBRES},
               {"resin", CLOTH | FIBRES},
               {"resin_density", CLOTH | FIBRES},
               {"cut", WOOD},
               {"moisture", WOOD},
               {"modulus", WOOD},
               {"density", WOOD},
               {"veneers", WOOD},
               {"face", WOOD}};
  for (size_t k = 0; k < sizeof known / sizeof known[0]; k++)
    if (rwl_has(L, known[k].name) && (known[k].kinds & kind) == 0)
      refuse_field(L, i, known[k].name,
                   kind == WOOD    ? "is given, but wood has none"
                   : kind == CLOTH ? "is given, but the cloth says it or has none"
                                   : "is given, but fibres have none",
                   "leave it away");
}

static void check_share(lua_State *L, size_t i)
{
  static const char *const name[] = {"fibre_share", "resin", "thickness"};
  const char *first = NULL;
  for (size_t k = 0; k < sizeof name / sizeof name[0]; k++) {
    if (!rwl_has(L, name[k]))
      continue;
    if (first != NULL)
      refuse_field(L, i, name[k], lua_pushfstring(L, "and %s are both given", first),
                   "each of them says how much fibre there is; give one");
    first = name[k];
  }
  if (rwl_has(L, "resin_density") && !rwl_has(L, "resin"))
    refuse_field(L, i, "resin_density", "is given without resin",
                 "say how much resin stayed in the cloth, or leave it away");
}

static void check_wood(lua_State *L, size_t i)
{
  if (!rwl_has(L, "thickness"))
    refuse_field(L, i, "thickness", "is missing",
                 "say how thick the wood is, such as thickness = \"6 mm\"");
  if (rwl_has(L, "face") && !rwl_has(L, "veneers"))
    refuse_field(L, i, "face", "is given without veneers",
                 "only plywood has face veneers; say how many veneers there are");
}

static int check_ply(lua_State *L, size_t i)
{
  int kind = kind_of_ply(L, i);
  check_fields(L, i, kind);
  if (kind == WOOD)
    check_wood(L, i);
  else
    check_share(L, i);
  if (kind == FIBRES && !rwl_has(L, "weave"))
    refuse_field(L, i, "weave", "is missing", "say how the yarns lie, such as weave = \"plain\"");
  return kind;
}

static void throw_in_ply(lua_State *L, size_t i, rw_status status, rw_error *err)
{
  static const rwl_alias alias[] = {{"name", "wood"},
                                    {"volume_share", "fibre_share"},
                                    {"c", "cloth"},
                                    {"n", "veneers"},
                                    {NULL, NULL}};
  if (status >= 0)
    return;
  const rwl_alias *a = alias;
  while (a->c != NULL && strcmp(err->argument, a->c) != 0)
    a++;
  const char *field = a->c != NULL ? a->lua : err->argument;
  const char *place = place_of(L, i, field);
  rwl_rename(err, lua_pushstring(L, a->c != NULL ? a->c : field), place);
  rwl_throw(L, err);
}

/* --- wood ----------------------------------------------------------------------------------- */

static size_t veneers_of(lua_State *L, size_t i)
{
  lua_Integer n = rwl_get_integer(L, "veneers", 1);
  if (rwl_has(L, "veneers") && (n < 3 || n > MOST_VENEERS)) {
    rw_error err;
    rw_error_range(&err, "", place_of(L, i, "veneers"), (double)n, 3, MOST_VENEERS, "",
                   "an odd number; leave it away for plain wood");
    rwl_throw(L, &err);
  }
  return (size_t)n;
}

/* What the builder measured, in place of the tables'; the other moduli keep their ratios. */
static void measured_wood(lua_State *L, size_t i, rw_lamina *m, double *spread)
{
  const rw_value table = {m->E1, *spread * m->E1};
  const rw_value E = rwl_get_value(L, "modulus", table);
  m->density = rwl_get_quantity(L, "density", m->density);
  *spread = E.sd / E.value;
  double factor = E.value / m->E1;
  if (!(factor >= 0.2 && factor <= 5.0)) {
    rw_error err;
    rw_error_range(&err, "", place_of(L, i, "modulus"), E.value * 1e-9, 0.2e-9 * m->E1,
                   5e-9 * m->E1, "GPa", "along the grain, as bending a strip tells it");
    rwl_throw(L, &err);
  }
  double *const modulus[] = {&m->E1, &m->E2, &m->G12, &m->G13, &m->G23, &m->E3};
  for (size_t k = 0; k < sizeof modulus / sizeof modulus[0]; k++)
    *modulus[k] *= factor;
}

/* The wood that scatters most, strength by strength. */
static rw_status widen(rw_strength_spread *all, const char *name, rw_error *err)
{
  rw_strength_spread one;
  rw_status status = rw_lamina_wood_strength_spread(name, &one, err);
  if (status < 0)
    return status;
  *all = (rw_strength_spread){fmax(all->Xt, one.Xt), fmax(all->Xc, one.Xc), fmax(all->Yt, one.Yt),
                              fmax(all->Yc, one.Yc), fmax(all->S, one.S)};
  return status;
}

static void read_wood(lua_State *L, size_t i, rwl_layer *layer, rw_ply *ply, double *spread,
                      rw_strength_spread *strength)
{
  const char *name = rwl_get_string(L, "wood", "", NULL);
  const rw_material *m = NULL;
  double s = 0.0;
  size_t n = veneers_of(L, i);
  rw_error err = {0};
  layer->cut = (rw_cut)rwl_get_choice(L, "cut", RW_FLAT_SAWN);
  layer->moisture = rwl_get_quantity(L, "moisture", usual_moisture);
  rw_status status =
      rw_lamina_wood_cut(name, layer->cut, layer->moisture, &ply->material, &s, &err);
  if (status >= 0)
    status = rw_material_find(RW_WOOD, name, &m, &err);
  if (status >= 0)
    status = widen(strength, name, &err);
  throw_in_ply(L, i, status, &err);
  measured_wood(L, i, &ply->material, &s);
  ply->thickness = rwl_get_quantity(L, "thickness", NAN);
  *spread = fmax(*spread, s);
  rwl_copy_name(layer->name, m->name);
  if (n == 1)
    return;
  const rw_lamina veneer = ply->material;
  status = rw_plywood_make(&veneer, ply->thickness, rwl_get_quantity(L, "face", 0.0), n,
                           ply->angle, ply, &err);
  throw_in_ply(L, i, status, &err);
  for (size_t k = 0; k < n; k++) {
    layer[k] = layer[0];
    layer[k].veneer = k + 1;
  }
}

/* --- cloth ---------------------------------------------------------------------------------- */

static _Noreturn void throw_in_fibre(lua_State *L, size_t i, size_t k, const char *field,
                                     rw_error *err)
{
  const char *before = lua_pushstring(L, err->argument);
  rwl_rename(err, before,
             lua_pushfstring(L, "plies[%d].fibres[%d].%s", (int)i + 1, (int)k + 1, field));
  rwl_throw(L, err);
}

/* From 0, of an argument such as "mass[2]"; `else_` where there is none. */
static size_t index_in(const rw_error *err, size_t else_)
{
  const char *bracket = strchr(err->argument, '[');
  unsigned long k = bracket != NULL ? strtoul(bracket + 1, NULL, 10) : 0;
  return k > 0 ? k - 1 : else_;
}

/* Several fibres as one, and the cloth that they make. */
static void blend(lua_State *L, size_t i, const rw_matrix *resin, rwl_layer *layer,
                  rwl_warning *warning)
{
  rw_fibre fibre[MOST_FIBRES];
  double mass[MOST_FIBRES], sum = 0.0;
  size_t n = rwl_get_count(L, "fibres"), used = 0;
  char said[RWL_NAME] = "";
  rw_error err = {0};
  if (n > MOST_FIBRES)
    refuse_field(L, i, "fibres", lua_pushfstring(L, "are %d, 8 at most are mixed", (int)n), NULL);
  const char *first = NULL;
  for (size_t k = 0; k < n; k++) {
    rwl_open(L, "fibres", k);
    const char *name = rwl_get_string(L, "fibre", "", NULL);
    mass[k] = rwl_get_quantity(L, "areal_mass", NAN);
    if (rw_fibre_find(name, &fibre[k], &err) < 0)
      throw_in_fibre(L, i, k, "fibre", &err);
    first = first != NULL ? first : name;
    if (used < sizeof said)
      used += (size_t)snprintf(said + used, sizeof said - used, "%s%s", k > 0 ? " + " : "", name);
    sum += mass[k];
    rwl_close(L);
  }
  if (rw_fibre_blend(fibre, mass, n, resin, &layer->fibre, &err) < 0)
    throw_in_fibre(L, i, index_in(&err, 0), "areal_mass", &err);
  rw_status status = rw_cloth_make(first, sum, (rw_weave)rwl_get_choice(L, "weave", RW_PLAIN),
                                   &layer->cloth, &err);
  if (status < 0)
    throw_in_fibre(L, i, 0, "areal_mass", &err);
  if (warning->text[0] == '\0')
    rwl_keep(L, warning, status, &err);
  layer->cloth.fibre_density = layer->fibre.density;
  rwl_copy_name(layer->name, said);
}

static rw_value share_of(lua_State *L, size_t i, const rw_cloth *c, const rw_matrix *resin)
{
  rw_value share = rwl_get_choice(L, "layup", RW_BY_HAND) == RW_BAGGED ? c->bagged : c->hand;
  rw_error err = {0};
  rw_status status = RW_OK;
  if (rwl_has(L, "fibre_share"))
    share = (rw_value){rwl_get_quantity(L, "fibre_share", NAN), 0.0};
  else if (rwl_has(L, "thickness"))
    status = rw_cloth_share_by_thickness(c, (rw_value){rwl_get_quantity(L, "thickness", NAN), 0.0},
                                         &share, &err);
  else if (rwl_has(L, "resin"))
    status = rw_cloth_share_by_resin(c, rwl_get_value(L, "resin", (rw_value){NAN, NAN}),
                                     rwl_get_quantity(L, "resin_density", resin->density), &share,
                                     &err);
  throw_in_ply(L, i, status, &err);
  return share;
}

static void read_cloth(lua_State *L, size_t i, int kind, rwl_layer *layer, rw_ply *ply,
                       double *spread, rwl_warning *warning)
{
  rw_matrix resin;
  double s = 0.0;
  rw_error err = {0};
  rw_status status = rw_matrix_find(rwl_laminate_resin, &resin, &err);
  throw_in_ply(L, i, status, &err);
  if (kind == FIBRES) {
    blend(L, i, &resin, layer, warning);
  } else {
    const rwl_cloth *c = rwl_get_object(L, "cloth");
    layer->cloth = c->cloth;
    rwl_copy_name(layer->name, c->name);
    throw_in_ply(L, i, rw_fibre_find(c->fibre, &layer->fibre, &err), &err);
    if (warning->text[0] == '\0')
      *warning = c->warning;
  }
  rw_value share = share_of(L, i, &layer->cloth, &resin);
  layer->share = share.value;
  status = rw_cloth_thickness(&layer->cloth, share.value, &ply->thickness, &err);
  if (status >= 0)
    status = rw_lamina_cloth_uncertain(&layer->cloth, &layer->fibre, &resin, share, &ply->material,
                                       &s, &err);
  throw_in_ply(L, i, status, &err);
  *spread = fmax(*spread, s);
}

/* --- the stack ------------------------------------------------------------------------------ */

/* Layers that the listed plies make. */
static size_t count(lua_State *L)
{
  size_t n = 0;
  for (size_t i = 0; i < rwl_get_count(L, "plies"); i++) {
    rwl_open(L, "plies", i);
    n += check_ply(L, i) == WOOD ? veneers_of(L, i) : 1;
    rwl_close(L);
  }
  return n;
}

static void read_plies(lua_State *L, rwl_laminate *l)
{
  size_t at = 0;
  double *relative = l->relative;
  l->strength[RWL_SKIN] = rw_lamina_cloth_strength_spread();
  for (size_t i = 0; i < rwl_get_count(L, "plies"); i++) {
    rwl_open(L, "plies", i);
    int kind = check_ply(L, i);
    rwl_layer *layer = &l->layer[at];
    rw_ply *ply = &l->ply[at];
    layer->group = kind == WOOD ? RWL_WOOD : RWL_SKIN;
    layer->listed = i;
    ply->angle = rwl_get_quantity(L, "angle", 0.0);
    if (kind == WOOD)
      read_wood(L, i, layer, ply, &relative[RWL_WOOD], &l->strength[RWL_WOOD]);
    else
      read_cloth(L, i, kind, layer, ply, &relative[RWL_SKIN], &l->warning);
    at += kind == WOOD ? veneers_of(L, i) : 1;
    rwl_close(L);
  }
}

void rwl_name_ply(const rwl_laminate *l, rw_error *err)
{
  char to[40];
  rwl_rename(err, "n", "plies");
  size_t k = index_in(err, l->n);
  if (strncmp(err->argument, "ply[", 4) != 0 || k >= l->n)
    return;
  snprintf(to, sizeof to, "plies[%zu]", l->layer[k].listed + 1);
  rwl_rename(err, "ply", to);
}

int rwl_laminate_make(lua_State *L)
{
  size_t n = count(L);
  rwl_laminate *l =
      rwl_push_object(L, RWL_LAMINATE, sizeof *l + n * (sizeof l->ply[0] + sizeof l->layer[0]));
  l->n = n;
  l->layer = (rwl_layer *)(void *)(l->ply + n);
  read_plies(L, l);
  size_t *group = rwl_block(L, n, sizeof *group);
  for (size_t i = 0; i < n; i++)
    group[i] = l->layer[i].group;
  rw_error err = {0};
  rw_status status = rw_stack_make(l->ply, n, &l->stack, &err);
  if (status >= 0)
    status = rw_stack_uncertain(l->ply, n, group, l->relative, RWL_GROUPS, &l->spread, &err);
  if (status >= 0)
    status = rw_stack_shear(l->ply, n, &l->stack, l->shear, &err);
  lua_pop(L, 1);
  rwl_name_ply(l, &err);
  if (strstr(err.argument, ".angle") != NULL)
    rwl_in_unit(&err, lua_pushfstring(L, "%s is", err.argument), "deg", "");
  rwl_check(L, status, &err);
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

static const rwl_field fibre_fields[] = {
    RWL_NEED("fibre", RWL_STRING, "",
             "its name in the tables, see rw.materials{kind = \"fibre\"}"),
    RWL_NEED("areal_mass", RWL_QUANTITY, "kg/m2", "its mass in the cloth per area"),
    RWL_END_FIELDS,
};
static const rwl_field ply_fields[] = {
    RWL_MAY("cloth", RWL_OBJECT, RWL_CLOTH, NULL,
            "a layer of this cloth in epoxy; or fibres, or wood"),
    RWL_MAY_RECORDS("fibres", fibre_fields,
                    "a layer of a cloth with 2 to 8 fibres side by side in it (a hybrid)"),
    RWL_MAY("weave", RWL_CHOICE, "plain|twill|satin|unidirectional|biaxial|mat", NULL,
            "how the yarns of those fibres lie"),
    RWL_MAY("wood", RWL_STRING, "", NULL,
            "a layer of this wood, by its name in the tables, see rw.materials{kind = \"wood\"}"),
    RWL_MAY("thickness", RWL_QUANTITY, "m", NULL,
            "of the wood; of a cloth in resin as measured, which tells its fibre share"),
    RWL_MAY("angle", RWL_QUANTITY, "rad", "0 deg",
            "from along the hull to the grain or the warp, one turn at most; a cloth sold as +-45 "
            "is laid at \"45 deg\""),
    RWL_MAY("layup", RWL_CHOICE, "hand|bagged", NULL,
            "how a cloth is laid: by hand, also where left out, or under a bag"),
    RWL_MAY("fibre_share", RWL_SHARE, "", NULL,
            "fibre volume share of a cloth, in place of that of the lay-up"),
    RWL_MAY("resin", RWL_VALUE, "kg/m2", NULL,
            "resin that stayed in the cloth per area, without what lies over its crowns: tells "
            "its fibre share"),
    RWL_MAY("resin_density", RWL_QUANTITY, "kg/m3", NULL,
            "of that resin; left out, that of the tables"),
    RWL_MAY("cut", RWL_CHOICE, "flat|quarter", NULL,
            "flat: rings along the face, also where left out; quarter: rings on edge"),
    RWL_MAY("moisture", RWL_SHARE, "", NULL,
            "water in the wood over its dry mass; left out, 12 %"),
    RWL_MAY("modulus", RWL_VALUE, "Pa", NULL,
            "of the wood along its grain as measured, in place of the tables'; the others keep "
            "their ratio to it, strengths stay"),
    RWL_MAY("density", RWL_QUANTITY, "kg/m3", NULL, "of the wood as weighed"),
    RWL_MAY("veneers", RWL_INTEGER, "", NULL,
            "plywood of so many veneers of this wood, 3 to 49, odd, each across its neighbours"),
    RWL_MAY("face", RWL_QUANTITY, "m", NULL,
            "thickness of each of plywood's outer veneers; left out, all are alike"),
    RWL_END_FIELDS,
};
const rwl_field rwl_laminate_fields[] = {
    RWL_NEED_RECORDS("plies", ply_fields, "1 to 200 plies from the outside to the inside"),
    RWL_END_FIELDS,
};
