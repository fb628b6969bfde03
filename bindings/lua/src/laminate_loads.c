/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Methods of a laminate under loads: failure, wrinkling, a hit, what fairing left. */
#include "laminate.h"

#include <string.h>

#include "reading.h"

/* --- shared --------------------------------------------------------------------------------- */

void rwl_get_load(lua_State *L, double load[6])
{
  static const char *const name[] = {"Nx", "Ny", "Nxy", "Mx", "My", "Mxy"};
  for (size_t i = 0; i < 6; i++)
    load[i] = rwl_get_quantity(L, name[i], 0.0);
}

void rwl_set_whole(lua_State *L, const char *name, size_t n)
{
  lua_pushinteger(L, (lua_Integer)n);
  lua_setfield(L, -2, name);
}

void rwl_set_three(lua_State *L, const char *name, const char *const of[3], const char *unit,
                   const double x[3])
{
  lua_createtable(L, 0, 3);
  for (size_t i = 0; i < 3; i++)
    rwl_set_quantity(L, of[i], unit, x[i]);
  lua_setfield(L, -2, name);
}

const char *rwl_criterion_name(rw_criterion criterion)
{
  static const char *const name[] = {"max_stress", "tsai_wu", "max_strain", "tsai_hill"};
  return name[criterion];
}

/* The ways of a layer: grain, warp and weft, or fibre. */
static const char *way_of(const rwl_layer *layer, int across)
{
  if (layer->group == RWL_WOOD)
    return across ? "across its grain" : "along its grain";
  if (layer->cloth.weave == RW_PLAIN || layer->cloth.weave == RW_TWILL ||
      layer->cloth.weave == RW_SATIN)
    return across ? "along its weft" : "along its warp";
  return across ? "across its fibre" : "along its fibre";
}

static void set_mode(lua_State *L, const rwl_layer *layer, rw_mode mode)
{
  const int across = mode == RW_MODE_TENSION_ACROSS || mode == RW_MODE_CRUSH_ACROSS;
  const int pulled = mode == RW_MODE_TENSION_ALONG || mode == RW_MODE_TENSION_ACROSS;
  if (mode == RW_MODE_NONE)
    lua_pushliteral(L, "nothing gives way");
  else if (mode == RW_MODE_SHEAR)
    lua_pushliteral(L, "sheared");
  else if (mode == RW_MODE_SHEAR_THROUGH)
    lua_pushliteral(L, "sheared through its thickness");
  else
    lua_pushfstring(L, "%s %s", pulled ? "pulled apart" : "crushed", way_of(layer, across));
  lua_setfield(L, -2, "mode");
}

static void set_face(lua_State *L, int face)
{
  if (face != 0)
    rwl_set_text(L, "face", face < 0 ? "outer" : "inner");
}

void rwl_set_layer(lua_State *L, const rwl_laminate *l, const rw_first_failure *f)
{
  const rwl_layer *layer = &l->layer[f->ply];
  set_mode(L, layer, f->mode);
  if (f->mode == RW_MODE_NONE)
    return;
  rwl_set_whole(L, "ply", layer->listed + 1);
  if (layer->veneer > 0)
    rwl_set_whole(L, "veneer", layer->veneer);
  rwl_set_text(L, "name", layer->name);
  set_face(L, f->face);
}

void rwl_set_failure(lua_State *L, const rwl_laminate *l, const rw_first_failure *f)
{
  rwl_set_number(L, "factor", f->factor);
  rwl_set_layer(L, l, f);
}

/* --- failure -------------------------------------------------------------------------------- */

#define AMONG "all|wood|cloth|outside|inside"

/* Whether ply i is one of those asked; outside and inside: cloth before and after all wood and
 * cores. */
static int is_among(const rwl_laminate *l, size_t i, int which)
{
  enum { WOOD = 1, CLOTH, OUTSIDE };
  if (which <= CLOTH)
    return (l->layer[i].group == RWL_WOOD) == (which == WOOD);
  size_t first = 0, end = l->n;
  while (first < l->n && l->layer[first].group != RWL_WOOD)
    first++;
  while (end > first && l->layer[end - 1].group != RWL_WOOD)
    end--;
  return which == OUTSIDE ? i < first : i >= end;
}

/* The plies, with those out of the question made to have no strength that is known. */
static const rw_ply *among(lua_State *L, const rwl_laminate *l)
{
  enum { ALL };
  int which = rwl_get_choice(L, "among", ALL);
  if (which == ALL)
    return l->ply;
  rw_ply *ply = rwl_block(L, l->n, sizeof *ply);
  memcpy(ply, l->ply, l->n * sizeof *ply);
  for (size_t i = 0; i < l->n; i++)
    if (!is_among(l, i, which))
      ply[i].material.Xt = 0.0;
  return ply;
}

int rwl_first_failure(lua_State *L)
{
  const rwl_laminate *l = rwl_self(L);
  double load[6];
  rw_first_failure f = {0};
  rw_error err = {0};
  rwl_get_load(L, load);
  rw_status status = rw_stack_first_failure(
      among(L, l), l->n, &l->stack, load,
      (rw_criterion)rwl_get_choice(L, "criterion", RW_MAX_STRESS), &f, &err);
  rwl_name_ply(l, &err);
  rwl_check(L, status, &err);
  lua_createtable(L, 0, 6);
  rwl_set_failure(L, l, &f);
  return 1;
}

int rwl_shear_failure(lua_State *L)
{
  const rwl_laminate *l = rwl_self(L);
  rwl_need_core_strengths(L, l);
  const double force[2] = {rwl_get_quantity(L, "Qx", 0.0), rwl_get_quantity(L, "Qy", 0.0)};
  rw_first_failure f = {0};
  rw_error err = {0};
  rw_status status = rw_stack_shear_failure(l->ply, l->n, &l->stack, force, &f, &err);
  rwl_name_ply(l, &err);
  rwl_check(L, status, &err);
  lua_createtable(L, 0, 6);
  rwl_set_failure(L, l, &f);
  return 1;
}

/* The place in the list, from 0, of the ply that a field names from 1 on. */
static size_t listed_ply(lua_State *L, const rwl_laminate *l, const char *field)
{
  lua_Integer ply = rwl_get_integer(L, field, 0),
              most = (lua_Integer)l->layer[l->n - 1].listed + 1;
  if (ply < 1 || ply > most) {
    rw_error err;
    rw_error_range(&err, "", field, (double)ply, 1, (double)most, "",
                   "plies count from the outside, from 1 on");
    rwl_throw(L, &err);
  }
  return (size_t)ply - 1;
}

/* The first layer of a listed ply. */
static size_t first_of(const rwl_laminate *l, size_t listed)
{
  size_t i = 0;
  while (l->layer[i].listed != listed)
    i++;
  return i;
}

/* The one layer that a listed ply is. */
static size_t layer_of(lua_State *L, const rwl_laminate *l, const char *field)
{
  size_t i = first_of(l, listed_ply(L, l, field));
  if (l->layer[i].veneer == 0)
    return i;
  const rwl_refusal r = {.code = RW_ERR_ARGUMENT,
                         .argument = field,
                         .message =
                             lua_pushfstring(L, "%s is plywood, which is many layers", field),
                         .hint = "list the veneers as plies of their own"};
  return (size_t)rwl_refuse(L, &r);
}

/* The layer that skins lie on. */
static size_t core_of(lua_State *L, const rwl_laminate *l)
{
  size_t i = layer_of(L, l, "core");
  const char *wrong = i == 0 || i + 1 == l->n         ? "core lies outside: it has no skin there"
                      : l->layer[i].group == RWL_SKIN ? "core is a ply of cloth"
                                                      : NULL;
  if (wrong == NULL)
    return i;
  const rwl_refusal r = {.code = RW_ERR_ARGUMENT,
                         .argument = "core",
                         .message = wrong,
                         .hint = "a core is a ply of wood, foam or the like between two skins"};
  return (size_t)rwl_refuse(L, &r);
}

int rwl_wrinkling(lua_State *L)
{
  const rwl_laminate *l = rwl_self(L);
  double load[6];
  rw_wrinkling w = {0};
  rw_error err = {0};
  rwl_get_load(L, load);
  rw_status status = rw_stack_wrinkling(l->ply, l->n, &l->stack, core_of(L, l), load, &w, &err);
  rwl_name_ply(l, &err);
  rwl_check(L, status, &err);
  lua_createtable(L, 0, 4);
  rwl_set_number(L, "factor", w.factor);
  if (w.face == 0)
    return 1;
  set_face(L, w.face);
  rwl_set_quantity(L, "stress", "Pa", w.stress);
  rwl_set_quantity(L, "direction", "rad", w.direction);
  return 1;
}

static void set_hit(lua_State *L, const rwl_laminate *l, const char *name,
                    const rw_first_failure *f)
{
  lua_createtable(L, 0, 6);
  rwl_set_quantity(L, "moment", "N", f->factor);
  rwl_set_layer(L, l, f);
  lua_setfield(L, -2, name);
}

int rwl_hit(lua_State *L)
{
  const rwl_laminate *l = rwl_self(L);
  enum { OUTER = -1 }; /* the first ply lies outside */
  rw_hit hit;
  rw_error err = {0};
  rw_status status =
      rw_stack_hit(l->ply, l->n, &l->stack, OUTER,
                   (rw_criterion)rwl_get_choice(L, "criterion", RW_MAX_STRESS), &hit, &err);
  rwl_name_ply(l, &err);
  rwl_check(L, status, &err);
  lua_createtable(L, 0, 4);
  set_hit(L, l, "along", &hit.along);
  set_hit(L, l, "across", &hit.across);
  set_hit(L, l, "both", &hit.both);
  rwl_set_quantity(L, "index", "J/m2", hit.energy);
  return 1;
}

/* --- fairing -------------------------------------------------------------------------------- */

int rwl_faired(lua_State *L)
{
  static const rwl_alias alias[] = {{NULL, NULL}};
  enum { OUTER };
  const rwl_laminate *l = rwl_self(L);
  rw_fairing fairing = {.side = rwl_get_choice(L, "face", OUTER) == OUTER ? -1 : 1,
                        .limit = rwl_get_quantity(L, "limit", NAN)};
  fairing.thickness = rwl_get_list(L, "thickness", &fairing.readings);
  const size_t listed = listed_ply(L, l, "ply");
  fairing.which = first_of(l, listed);
  while (fairing.which + fairing.many < l->n &&
         l->layer[fairing.which + fairing.many].listed == listed)
    fairing.many++;
  rw_faired f;
  rw_error err = {0};
  rw_status status = rw_stack_faired(l->ply, l->n, &fairing, &f, &err);
  rwl_check_as(L, status, &err, alias);
  lua_createtable(L, 0, 5);
  rwl_set_whole(L, "worst", f.worst + 1);
  rwl_set_number(L, "along", f.along);
  rwl_set_number(L, "across", f.across);
  rwl_set_whole(L, "below", f.below);
  if (f.needed > 0.0)
    rwl_set_quantity(L, "needed", "m", f.needed);
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

#define CRITERION                                                                                 \
  RWL_MAY("criterion", RWL_CHOICE, RWL_CRITERIA, "max_stress",                                    \
          "max_stress: each stress against its own strength; tsai_wu: quadratic in all of them; " \
          "max_strain: each strain; tsai_hill: quadratic, with the strength of the sign that "    \
          "acts")

const rwl_field rwl_load_fields[] = {RWL_LOAD_FIELDS, RWL_END_FIELDS};
const rwl_field rwl_first_failure_fields[] = {
    RWL_LOAD_FIELDS,
    RWL_MAY("among", RWL_CHOICE, AMONG, "all",
            "which plies are asked; outside and inside: the cloth before and after all wood "
            "and cores"),
    CRITERION,
    RWL_END_FIELDS,
};
const rwl_field rwl_shear_failure_fields[] = {
    RWL_MAY("Qx", RWL_QUANTITY, "N/m", "0 N/m", "shear force along, per metre of width"),
    RWL_MAY("Qy", RWL_QUANTITY, "N/m", "0 N/m", "shear force across, per metre of length"),
    RWL_END_FIELDS,
};
const rwl_field rwl_wrinkling_fields[] = {
    RWL_NEED("core", RWL_INTEGER, "",
             "which ply is the core, counted from the outside: wood or a core, between two skins"),
    RWL_LOAD_FIELDS,
    RWL_END_FIELDS,
};
const rwl_field rwl_hit_fields[] = {CRITERION, RWL_END_FIELDS};
const rwl_field rwl_faired_fields[] = {
    RWL_NEED("ply", RWL_INTEGER, "", "which ply was faired, counted from the outside"),
    RWL_NEED_LIST("thickness", RWL_QUANTITY, "m",
                  "readings of that ply's thickness alone, one for each place"),
    RWL_MAY("face", RWL_CHOICE, "outer|inner", "outer",
            "from which face it was sanded: plywood's veneers go from there"),
    RWL_MAY("limit", RWL_SHARE, "", "80 %", "least share of the planned stiffness to keep"),
    RWL_END_FIELDS,
};
