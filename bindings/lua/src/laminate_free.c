/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What warmth, cure and damp lock into a laminate, and failure with it. */
#include "laminate.h"

#include <stdio.h>
#include <string.h>

#include "reading.h"

/* --- free strains --------------------------------------------------------------------------- */

/* Coefficients per kelvin. */
typedef struct expansion {
  double fibre[2]; /* along and across */
  double resin;
  double wood[2]; /* along and across the grain */
} expansion;

static double resin_expansion(lua_State *L)
{
  const rw_material *m;
  const rw_property *p;
  rw_error err = {0};
  rwl_check(L, rw_material_find(RW_RESIN, rwl_laminate_resin, &m, &err), &err);
  rwl_check(L, rw_material_property(m, "expansion", &p, &err), &err);
  return p->value;
}

/* Reads it from the field of that name; NaN stands for what the tables say of each layer. */
static expansion read_expansion(lua_State *L)
{
  expansion e = {{NAN, NAN}, resin_expansion(L), {NAN, NAN}};
  if (!rwl_has(L, "expansion"))
    return e;
  rwl_open(L, "expansion", 0);
  e.fibre[0] = rwl_get_quantity(L, "fibre", NAN);
  e.fibre[1] = rwl_get_quantity(L, "fibre_across", e.fibre[0]);
  e.resin = rwl_get_quantity(L, "resin", e.resin);
  e.wood[0] = rwl_get_quantity(L, "wood", NAN);
  e.wood[1] = rwl_get_quantity(L, "wood_across", NAN);
  rwl_close(L);
  return e;
}

static _Noreturn int refuse_fibre(lua_State *L, const char *prefix, const char *fibre)
{
  const char *place = lua_pushfstring(L, "%sexpansion.fibre", prefix);
  const rwl_refusal r = {
      .code = RW_ERR_ARGUMENT,
      .argument = place,
      .message =
          lua_pushfstring(L, "%s is missing, and the tables don't tell that of %s", place, fibre),
      .hint = "write such as \"5e-6 1/K\", from the maker's data or a "
              "handbook"};
  rwl_refuse(L, &r);
}

/* What happened to it. */
typedef struct conditions {
  double warming;
  double cure;
  double moisture; /* of the wood now; NaN: as it was */
  expansion e;
  const char *prefix; /* place of their fields, "" or "locked_in." */
} conditions;

static conditions read_conditions(lua_State *L, const char *prefix)
{
  if (!rwl_has(L, "warming") && !rwl_has(L, "cure_shrinkage") && !rwl_has(L, "moisture")) {
    const char *place = lua_pushfstring(L, "%swarming", prefix);
    const rwl_refusal r = {
        .code = RW_ERR_ARGUMENT,
        .argument = place,
        .message = lua_pushfstring(L, "%s or cure_shrinkage or moisture is missing", place),
        .hint = "say what happened to it, such as moisture = \"18 %\""};
    rwl_refuse(L, &r);
  }
  return (conditions){.warming = rwl_get_quantity(L, "warming", 0.0),
                      .cure = rwl_get_quantity(L, "cure_shrinkage", 0.0),
                      .moisture = rwl_get_quantity(L, "moisture", NAN),
                      .e = read_expansion(L),
                      .prefix = prefix};
}

/* A strain that cannot be, told as what came to it. */
static _Noreturn void throw_strain(lua_State *L, const conditions *c, rw_error *err)
{
  int cure = strcmp(err->argument, "resin") == 0 && fabs(c->cure) > fabs(c->e.resin * c->warming);
  char found[40];
  rw_text_round(err->value, 3, found);
  snprintf(err->argument, sizeof err->argument, "%s%s", c->prefix,
           cure ? "cure_shrinkage" : "warming");
  snprintf(err->message, sizeof err->message,
           "%s comes to a strain of %s, allowed are -0.5 to 0.5", err->argument, found);
  snprintf(err->hint, sizeof err->hint, "%s",
           cure ? "by length, a third of that by volume, such as \"0.5 %\""
                : "a warming such as \"20 K\", expansions such as \"5e-6 1/K\"");
  rwl_throw(L, err);
}

/* Own strain of the fibres along and across, of the weft after that of the warp. */
static void free_of_fibres(lua_State *L, const rwl_layer *layer, const conditions *c,
                           double fibre[4])
{
  for (size_t k = 0; k < 4; k++) {
    double given = c->e.fibre[k % 2];
    double per_kelvin = isnan(given) ? layer->own[k] : given;
    if (c->warming != 0.0 && isnan(per_kelvin) && (k < 2 || layer->crossed))
      refuse_fibre(L, c->prefix, layer->unknown);
    fibre[k] = c->warming != 0.0 ? per_kelvin * c->warming : 0.0;
  }
}

static void free_of_skin(lua_State *L, const rwl_layer *layer, const rw_matrix *resin,
                         const conditions *c, double own[3])
{
  double fibre[4], resins = c->e.resin * c->warming - c->cure;
  free_of_fibres(L, layer, c, fibre);
  rw_error err = {0};
  rw_status status = layer->crossed
                         ? rw_lamina_yarns_expansion(&layer->cloth, &layer->yarns, resin,
                                                     layer->share, fibre, resins, own, &err)
                         : rw_lamina_cloth_expansion(&layer->cloth, &layer->fibre, resin,
                                                     layer->share, fibre, resins, own, &err);
  if (status < 0)
    throw_strain(L, c, &err);
}

static void free_of_wood(lua_State *L, const rwl_layer *layer, const conditions *c, double own[3])
{
  rw_error err = {0};
  if (!isnan(c->moisture) && rw_lamina_wood_swelling(layer->name, layer->cut, layer->moisture,
                                                     c->moisture, own, &err) < 0) {
    rwl_rename(&err, "to", lua_pushfstring(L, "%smoisture", c->prefix));
    rwl_throw(L, &err);
  }
  double per_kelvin[3];
  rwl_check(L, rw_lamina_wood_expansion(layer->name, layer->cut, per_kelvin, &err), &err);
  for (size_t k = 0; k < 2; k++)
    own[k] += (isnan(c->e.wood[k]) ? per_kelvin[k] : c->e.wood[k]) * c->warming;
}

/* Free strains of all layers; the conditions stand in the arguments. */
static const double *read_free(lua_State *L, const rwl_laminate *l, const char *prefix)
{
  const conditions c = read_conditions(L, prefix);
  double *own = rwl_block(L, 3 * l->n, sizeof *own);
  rw_matrix resin;
  rw_error err = {0};
  memset(own, 0, 3 * l->n * sizeof *own);
  rwl_check(L, rw_matrix_find(rwl_laminate_resin, &resin, &err), &err);
  for (size_t i = 0; i < l->n; i++)
    if (l->layer[i].group == RWL_SKIN)
      free_of_skin(L, &l->layer[i], &resin, &c, own + 3 * i);
    else if (!l->layer[i].core)
      free_of_wood(L, &l->layer[i], &c, own + 3 * i);
  double load[6];
  if (rw_stack_free_load(l->ply, l->n, own, load, &err) < 0)
    throw_strain(L, &c, &err);
  return own;
}

/* --- alone ---------------------------------------------------------------------------------- */

static void set_stress(lua_State *L, const rwl_laminate *l, size_t i, int face,
                       const double strain[6], const double *freed)
{
  static const char *const name[3] = {"along", "across", "shear"};
  double local[3];
  rw_error err = {0};
  rwl_check(L, rw_stack_free_stress(l->ply, l->n, i, face, strain, freed, NULL, local, &err),
            &err);
  rwl_set_three(L, face < 0 ? "outer" : "inner", name, "Pa", local);
}

/* Wood that is warmed dries; the conditions stand in the arguments. */
static void set_drying(lua_State *L, const rwl_laminate *l)
{
  rwl_warning w = {""};
  int wood = 0;
  for (size_t i = 0; i < l->n; i++)
    wood = wood || (l->layer[i].group == RWL_WOOD && !l->layer[i].core);
  if (wood && rwl_get_quantity(L, "warming", 0.0) > 0.0 && !rwl_has(L, "moisture"))
    snprintf(w.text, sizeof w.text,
             "the wood's moisture is taken to stay; damp wood that is warmed also dries and "
             "shrinks, mostly more than it grows: give moisture as well");
  rwl_set_warnings(L, &w);
}

int rwl_locked_in(lua_State *L)
{
  static const char *const axis[3] = {"x", "y", "xy"};
  const rwl_laminate *l = rwl_self(L);
  const double *freed = read_free(L, l, "");
  double load[6], strain[6];
  rw_error err = {0};
  rw_status status = rw_stack_free_load(l->ply, l->n, freed, load, &err);
  rwl_check(L, status, &err);
  rw_stack_strain(&l->stack, load, strain);
  lua_createtable(L, 0, 4);
  rwl_set_three(L, "curvature", axis, "1/m", strain + 3);
  lua_createtable(L, 0, 3);
  for (size_t i = 0; i < 3; i++)
    rwl_set_number(L, axis[i], strain[i]);
  lua_setfield(L, -2, "strain");
  lua_createtable(L, (int)l->n, 0);
  for (size_t i = 0; i < l->n; i++) {
    const rwl_layer *layer = &l->layer[i];
    lua_createtable(L, 0, 5);
    rwl_set_text(L, "name", layer->name);
    rwl_set_whole(L, "ply", layer->listed + 1);
    if (layer->veneer > 0)
      rwl_set_whole(L, "veneer", layer->veneer);
    set_stress(L, l, i, -1, strain, freed);
    set_stress(L, l, i, 1, strain, freed);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_setfield(L, -2, "plies");
  set_drying(L, l);
  return 1;
}

/* --- failure with it ------------------------------------------------------------------------ */

static rw_first_failure first_of(const rw_first_failure *each, size_t n)
{
  rw_first_failure first = each[0];
  for (size_t i = 1; i < n; i++)
    if (each[i].factor < first.factor)
      first = each[i];
  return first;
}

static void push_plies(lua_State *L, const rwl_laminate *l, const rw_first_failure *each)
{
  lua_createtable(L, (int)l->n, 0);
  for (size_t i = 0; i < l->n; i++) {
    lua_createtable(L, 0, 6);
    rwl_set_failure(L, l, &each[i]);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
}

static void push_answer(lua_State *L, const rwl_laminate *l, const double load[6],
                        const double *freed, rw_criterion criterion, rw_first_failure *each)
{
  rw_error err = {0};
  rw_status status =
      rw_stack_failures(l->ply, l->n, &l->stack, load, freed, criterion, each, &err);
  rwl_name_ply(l, &err);
  rwl_check(L, status, &err);
  const rw_first_failure first = first_of(each, l->n);
  lua_createtable(L, 0, 8);
  rwl_set_text(L, "criterion", rwl_criterion_name(criterion));
  rwl_set_failure(L, l, &first);
  push_plies(L, l, each);
  lua_setfield(L, -2, "plies");
}

int rwl_failure(lua_State *L)
{
  enum { ALL, CRITERIA = 4 };
  const rwl_laminate *l = rwl_self(L);
  const double *freed = NULL;
  double load[6];
  if (rwl_has(L, "locked_in")) {
    rwl_open(L, "locked_in", 0);
    freed = read_free(L, l, "locked_in.");
    rwl_close(L);
  }
  rwl_open(L, "load", 0);
  rwl_get_load(L, load);
  rwl_close(L);
  int which = rwl_get_choice(L, "criterion", ALL);
  rw_first_failure *each = rwl_block(L, l->n, sizeof *each);
  lua_newtable(L);
  for (int c = 0; c < CRITERIA; c++)
    if (which == ALL || which == c + 1) {
      push_answer(L, l, load, freed, (rw_criterion)c, each);
      lua_rawseti(L, -2, (lua_Integer)lua_rawlen(L, -2) + 1);
    }
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

static const rwl_field expansion_fields[] = {
    RWL_MAY("fibre", RWL_QUANTITY, "1/K", NULL,
            "of the cloth's fibres along themselves, of all plies; left out, by the tables "
            "(expansion), which have none for flax"),
    RWL_MAY("fibre_across", RWL_QUANTITY, "1/K", NULL,
            "across themselves; left out, as along where that is given, else by the tables"),
    RWL_MAY("resin", RWL_QUANTITY, "1/K", NULL, "of the resin; left out, that of the tables"),
    RWL_MAY("wood", RWL_QUANTITY, "1/K", NULL,
            "of the wood along its grain; left out, by the tables (expand_along)"),
    RWL_MAY("wood_across", RWL_QUANTITY, "1/K", NULL,
            "of the wood across its grain; left out, by the tables (expand_tangential where "
            "flat-sawn, else expand_radial), good to 30 %"),
    RWL_END_FIELDS,
};

#define CONDITIONS                                                                                \
  RWL_MAY("warming", RWL_DIFFERENCE, "", NULL,                                                    \
          "how much warmer than when the resin went hard; below 0 cooler"),                       \
      RWL_MAY_RECORD("expansion", expansion_fields,                                               \
                     "by length, per kelvin, in place of those of the tables"),                   \
      RWL_MAY("cure_shrinkage", RWL_SHARE, "", NULL,                                              \
              "of the resin by length from when it no longer flows; a third of that by volume"),  \
      RWL_MAY("moisture", RWL_SHARE, "", NULL, "of all the wood now, over its dry mass")

const rwl_field rwl_locked_in_fields[] = {CONDITIONS, RWL_END_FIELDS};

const rwl_field rwl_failure_fields[] = {
    RWL_NEED_RECORD("load", rwl_load_fields, "load per width"),
    RWL_MAY("criterion", RWL_CHOICE, "all|" RWL_CRITERIA, "all", "which to ask"),
    RWL_MAY_RECORD("locked_in", rwl_locked_in_fields,
                   "what is locked in: the load grows and this stays"),
    RWL_END_FIELDS,
};
