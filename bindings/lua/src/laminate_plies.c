/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Making a laminate: its plies, those of wood and of plywood; laminate_cloths.c and
 * laminate_cores.c read the others. */
#include "laminate.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reading.h"

const char rwl_laminate_resin[] = "cured-epoxy";

static const double usual_moisture = 0.12;

enum { MOST_VENEERS = 49 };

static int refuse(lua_State *L, const char *argument, const char *message, const char *hint)
{
  rwl_refusal r = {RW_ERR_ARGUMENT, argument, message, NULL, hint, 0, 0};
  return rwl_refuse(L, &r);
}

static const char *place_of(lua_State *L, size_t i, const char *field)
{
  return lua_pushfstring(L, "plies[%d].%s", (int)i + 1, field);
}

int rwl_refuse_ply(lua_State *L, size_t i, const char *field, const char *wrong, const char *hint)
{
  const char *place = place_of(L, i, field);
  return refuse(L, place, lua_pushfstring(L, "%s %s", place, wrong), hint);
}

void rwl_check_bounds(lua_State *L, size_t i, const rwl_bounds *b, double x)
{
  if (x >= b->low && x <= b->high)
    return;
  rw_error err;
  rw_error_range(&err, "", lua_pushfstring(L, "plies[%d].%s%s", (int)i + 1, b->record, b->field),
                 x, b->low, b->high, b->unit, b->hint);
  rwl_throw(L, &err);
}

double rwl_get_bounded(lua_State *L, size_t i, const rwl_bounds *b, double fallback)
{
  if (!rwl_has(L, b->field))
    return fallback;
  double x = rwl_get_quantity(L, b->field, fallback);
  rwl_check_bounds(L, i, b, x / b->scale);
  return x;
}

/* --- what fits together --------------------------------------------------------------------- */

static int kind_of_ply(lua_State *L, size_t i)
{
  static const char hint[] = "a ply is one of the five; list them from the outside to the inside";
  int kind = 0, given = 0;
  const char *first = NULL;
  static const struct {
    const char *name;
    int kind;
  } known[] = {{"cloth", RWL_PLY_CLOTH}, {"fibres", RWL_PLY_FIBRES}, {"warp", RWL_PLY_YARNS},
               {"weft", RWL_PLY_YARNS},  {"wood", RWL_PLY_WOOD},     {"core", RWL_PLY_CORE}};
  for (size_t k = 0; k < sizeof known / sizeof known[0]; k++)
    if (rwl_has(L, known[k].name) && known[k].kind != kind) {
      first = first != NULL ? first : known[k].name;
      kind = known[k].kind;
      given++;
    }
  if (given == 0)
    rwl_refuse_ply(L, i, "cloth", "or fibres or warp and weft or wood or core is missing", hint);
  if (given > 1)
    rwl_refuse_ply(L, i, first, "and another material are both given", hint);
  return kind;
}

static void check_fields(lua_State *L, size_t i, int kind)
{
  static const struct {
    const char *name;
    int kinds;
  } known[] = {{"weave", RWL_PLY_FIBRES | RWL_PLY_YARNS},
               {"layup", RWL_PLY_WOVEN},
               {"fibre_share", RWL_PLY_WOVEN},
               {"resin", RWL_PLY_WOVEN},
               {"resin_density", RWL_PLY_WOVEN},
               {"cut", RWL_PLY_WOOD},
               {"moisture", RWL_PLY_WOOD},
               {"modulus", RWL_PLY_WOOD},
               {"density", RWL_PLY_WOOD},
               {"veneers", RWL_PLY_WOOD},
               {"face", RWL_PLY_WOOD}};
  for (size_t k = 0; k < sizeof known / sizeof known[0]; k++)
    if (rwl_has(L, known[k].name) && (known[k].kinds & kind) == 0)
      rwl_refuse_ply(L, i, known[k].name,
                     kind == RWL_PLY_WOOD     ? "is given, but wood has none"
                     : kind == RWL_PLY_CORE   ? "is given, but a core has none beside its own"
                     : kind == RWL_PLY_CLOTH  ? "is given, but the cloth says it or has none"
                     : kind == RWL_PLY_FIBRES ? "is given, but fibres have none"
                                              : "is given, but warp and weft have none",
                     "leave it away");
}

static void check_share(lua_State *L, size_t i)
{
  static const char *const name[] = {"resin", "thickness"};
  for (size_t k = 0; k < sizeof name / sizeof name[0]; k++)
    if (rwl_has(L, "fibre_share") && rwl_has(L, name[k]))
      rwl_refuse_ply(L, i, name[k], "and fibre_share are both given",
                     "each of them says how much fibre there is; give one, or thickness and resin "
                     "together, which tell the air as well");
  if (rwl_has(L, "resin_density") && !rwl_has(L, "resin"))
    rwl_refuse_ply(L, i, "resin_density", "is given without resin",
                   "say how much resin stayed in the cloth, or leave it away");
}

static void check_weave(lua_State *L, size_t i, int kind)
{
  if (!rwl_has(L, "weave"))
    rwl_refuse_ply(L, i, "weave", "is missing",
                   "say how the yarns lie, such as weave = \"plain\"");
  int weave = rwl_get_choice(L, "weave", RW_PLAIN);
  if (kind != RWL_PLY_YARNS)
    return;
  if (!rwl_has(L, "warp") || !rwl_has(L, "weft"))
    rwl_refuse_ply(L, i, rwl_has(L, "warp") ? "weft" : "warp", "is missing",
                   "say both, such as warp = {fibre = \"carbon\", areal_mass = \"100 g/m2\"}");
  if (weave == RW_UNIDIRECTIONAL || weave == RW_MAT)
    rwl_refuse_ply(L, i, "weave",
                   weave == RW_MAT ? "is mat, which has no warp and weft"
                                   : "is unidirectional, which has no warp and weft",
                   "plain, twill, satin or biaxial; for yarns one way only give fibres");
}

static void check_wood(lua_State *L, size_t i, int kind)
{
  if (!rwl_has(L, "thickness"))
    rwl_refuse_ply(L, i, "thickness", "is missing",
                   kind == RWL_PLY_CORE
                       ? "say how thick the core is, such as thickness = \"10 mm\""
                       : "say how thick the wood is, such as thickness = \"6 mm\"");
  if (rwl_has(L, "face") && !rwl_has(L, "veneers"))
    rwl_refuse_ply(L, i, "face", "is given without veneers",
                   "only plywood has face veneers; say how many veneers there are");
}

static int check_ply(lua_State *L, size_t i)
{
  int kind = kind_of_ply(L, i);
  check_fields(L, i, kind);
  if (kind == RWL_PLY_WOOD || kind == RWL_PLY_CORE)
    check_wood(L, i, kind);
  else
    check_share(L, i);
  if (kind == RWL_PLY_FIBRES || kind == RWL_PLY_YARNS)
    check_weave(L, i, kind);
  return kind;
}

void rwl_throw_in_ply(lua_State *L, size_t i, rw_status status, rw_error *err)
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
  rwl_in_usual_units(L, err);
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
  const rwl_bounds density = {
      "", "density", "kg/m3", 1.0, 50.0, 1500.0, "weigh a piece and divide by its volume"};
  const rwl_bounds modulus = {"",
                              "modulus",
                              "GPa",
                              1e9,
                              0.2e-9 * m->E1,
                              5e-9 * m->E1,
                              "along the grain, as bending a strip tells it"};
  const rwl_bounds known = {"",
                            "modulus",
                            "%",
                            0.01,
                            0.0,
                            90.0,
                            "its standard deviation over its value; measure it again, or leave "
                            "it to the tables"};
  const rw_value table = {m->E1, *spread * m->E1};
  const rw_value E = rwl_get_value(L, "modulus", table);
  m->density = rwl_get_bounded(L, i, &density, m->density);
  rwl_check_bounds(L, i, &modulus, E.value / modulus.scale);
  *spread = E.sd / E.value;
  rwl_check_bounds(L, i, &known, *spread / known.scale);
  double *const moduli[] = {&m->E1, &m->E2, &m->G12, &m->G13, &m->G23, &m->E3};
  const double factor = E.value / m->E1;
  for (size_t k = 0; k < sizeof moduli / sizeof moduli[0]; k++)
    *moduli[k] *= factor;
}

static void read_wood(lua_State *L, size_t i, rwl_layer *layer, rw_ply *ply)
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
    status = rw_lamina_wood_strength_spread(name, &layer->strength, &err);
  rwl_throw_in_ply(L, i, status, &err);
  measured_wood(L, i, &ply->material, &s);
  layer->spread = s;
  ply->thickness = rwl_get_quantity(L, "thickness", NAN);
  rwl_copy_name(layer->name, m->name);
  if (n == 1)
    return;
  const rw_lamina veneer = ply->material;
  status = rw_plywood_make(&veneer, ply->thickness, rwl_get_quantity(L, "face", 0.0), n,
                           ply->angle, ply, &err);
  rwl_throw_in_ply(L, i, status, &err);
  for (size_t k = 0; k < n; k++) {
    layer[k] = layer[0];
    layer[k].veneer = k + 1;
  }
}

/* --- the stack ------------------------------------------------------------------------------ */

/* Layers that the listed plies make. */
static size_t count(lua_State *L)
{
  size_t n = 0;
  for (size_t i = 0; i < rwl_get_count(L, "plies"); i++) {
    rwl_open(L, "plies", i);
    n += check_ply(L, i) == RWL_PLY_WOOD ? veneers_of(L, i) : 1;
    rwl_close(L);
  }
  return n;
}

static void read_plies(lua_State *L, rwl_laminate *l)
{
  size_t at = 0;
  for (size_t i = 0; i < rwl_get_count(L, "plies"); i++) {
    rwl_open(L, "plies", i);
    int kind = check_ply(L, i);
    rwl_layer *layer = &l->layer[at];
    rw_ply *ply = &l->ply[at];
    layer->group = (kind & RWL_PLY_WOVEN) != 0 ? RWL_SKIN : RWL_WOOD;
    layer->listed = i;
    ply->angle = rwl_get_quantity(L, "angle", 0.0);
    if (kind == RWL_PLY_WOOD)
      read_wood(L, i, layer, ply);
    else if (kind == RWL_PLY_CORE)
      rwl_read_core(L, i, layer, ply);
    else
      rwl_read_cloth(L, i, kind, layer, ply, &l->warning);
    at += kind == RWL_PLY_WOOD ? veneers_of(L, i) : 1;
    rwl_close(L);
  }
}

void rwl_name_ply(const rwl_laminate *l, rw_error *err)
{
  char to[40];
  rwl_rename(err, "n", "plies");
  size_t k = rwl_index_in(err, l->n);
  if (strncmp(err->argument, "ply[", 4) != 0 || k >= l->n)
    return;
  snprintf(to, sizeof to, "plies[%zu]", l->layer[k].listed + 1);
  rwl_rename(err, "ply", to);
}

rwl_laminate *rwl_laminate_push(lua_State *L, size_t n)
{
  rwl_laminate *l =
      rwl_push_object(L, RWL_LAMINATE, sizeof *l + n * (sizeof l->ply[0] + sizeof l->layer[0]));
  l->n = n;
  l->layer = (rwl_layer *)(void *)(l->ply + n);
  return l;
}

/* The strengths that scatter most, one by one. */
static void widen(rw_strength_spread *all, const rw_strength_spread *one)
{
  *all =
      (rw_strength_spread){fmax(all->Xt, one->Xt), fmax(all->Xc, one->Xc), fmax(all->Yt, one->Yt),
                           fmax(all->Yc, one->Yc), fmax(all->S, one->S)};
}

void rwl_laminate_finish(lua_State *L, rwl_laminate *l)
{
  size_t *group = rwl_block(L, l->n, sizeof *group);
  l->strength[RWL_SKIN] = rw_lamina_cloth_strength_spread();
  for (size_t i = 0; i < l->n; i++) {
    const rwl_layer *layer = &l->layer[i];
    group[i] = layer->group;
    l->relative[layer->group] = fmax(l->relative[layer->group], layer->spread);
    if (layer->group == RWL_WOOD)
      widen(&l->strength[RWL_WOOD], &layer->strength);
  }
  rw_error err = {0};
  rw_status status = rw_stack_make(l->ply, l->n, &l->stack, &err);
  if (status >= 0)
    status = rw_stack_uncertain(l->ply, l->n, group, l->relative, RWL_GROUPS, &l->spread, &err);
  if (status >= 0)
    status = rw_stack_shear(l->ply, l->n, &l->stack, l->shear, &err);
  lua_pop(L, 1);
  rwl_name_ply(l, &err);
  if (strstr(err.argument, ".angle") != NULL)
    rwl_in_unit(&err, lua_pushfstring(L, "%s is", err.argument), "deg", "");
  rwl_check(L, status, &err);
}

int rwl_laminate_make(lua_State *L)
{
  rwl_laminate *l = rwl_laminate_push(L, count(L));
  read_plies(L, l);
  rwl_laminate_finish(L, l);
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
            "a layer of this cloth in epoxy; or fibres, or warp and weft, or wood, or core"),
    RWL_MAY_RECORDS(
        "fibres", fibre_fields,
        "a layer of a cloth by its fibres: 1 to 8 of them side by side in it (a hybrid)"),
    RWL_MAY_RECORD(
        "warp", fibre_fields,
        "a layer of a woven cloth whose warp and weft differ in fibre or mass: the yarns "
        "along the roll; give weft and weave, too"),
    RWL_MAY_RECORD("weft", fibre_fields, "its yarns across the roll"),
    RWL_MAY(
        "weave", RWL_CHOICE, "plain|twill|satin|unidirectional|biaxial|mat", NULL,
        "how the yarns of those fibres, or of warp and weft, lie; it tells the waviness (crimp) "
        "and, where nothing else does, the fibre share"),
    RWL_MAY("wood", RWL_STRING, "", NULL,
            "a layer of this wood, by its name in the tables, see rw.materials{kind = \"wood\"}"),
    RWL_MAY_RECORD("core", rwl_core_fields,
                   "a layer of foam, balsa or honeycomb by the numbers of its maker's data sheet: "
                   "there is no table of them"),
    RWL_MAY("thickness", RWL_QUANTITY, "m", NULL,
            "of the wood or the core; of a cloth in resin as measured, which tells its fibre "
            "share; with resin "
            "given as well, also the air in it (void_share of its entry in skins)"),
    RWL_MAY("angle", RWL_QUANTITY, "rad", "0 deg",
            "from along the hull to the grain or the warp, one turn at most; a cloth sold as +-45 "
            "is laid at \"45 deg\""),
    RWL_MAY("layup", RWL_CHOICE, "hand|bagged", NULL,
            "how a cloth is laid: by hand, also where left out, or under a bag"),
    RWL_MAY("fibre_share", RWL_SHARE, "", NULL,
            "fibre volume share of a cloth, in place of that of the lay-up"),
    RWL_MAY(
        "resin", RWL_VALUE, "kg/m2", NULL,
        "resin that stayed in the cloth per area, without what lies over its crowns: tells "
        "its fibre share; air told by resin and thickness together lowers fibre share and mass, "
        "what it takes from stiffness and strength beyond that is left out"),
    RWL_MAY("resin_density", RWL_QUANTITY, "kg/m3", NULL,
            "of that resin; left out, that of the tables"),
    RWL_MAY("cut", RWL_CHOICE, "flat|quarter", NULL,
            "flat: rings along the face, also where left out; quarter: rings on edge"),
    RWL_MAY("moisture", RWL_SHARE, "", NULL,
            "water in the wood over its dry mass; left out, 12 %"),
    RWL_MAY("modulus", RWL_VALUE, "Pa", NULL,
            "of the wood along its grain as measured, in place of the tables'; the others keep "
            "their ratio to it, strengths stay"),
    RWL_MAY("density", RWL_QUANTITY, "kg/m3", NULL, "of the wood as weighed, 50 to 1500 kg/m3"),
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
