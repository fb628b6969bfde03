/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plies of cloth, of several fibres, of warp and weft that differ. */
#include "laminate.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "reading.h"

enum { MOST_FIBRES = 8 };

/* Above it a warning says what is left out; hand lay-up holds less (common practice, no source).
 */
static const double usual_voids = 0.05;

/* Below it a measured fibre share is rather a layer measured badly (common practice, no source).
 */
static const double least_share = 0.15;

/* What lies in a cloth: fibres, their masses and expansions. */
typedef struct yarns {
  size_t n;
  rw_fibre fibre[MOST_FIBRES];
  double mass[MOST_FIBRES];
  double own[2 * MOST_FIBRES]; /* NaN: not in the tables */
  double sum;                  /* of the masses */
  const char *first;           /* name of the first */
  char said[RWL_NAME];         /* all names */
} yarns;

size_t rwl_index_in(const rw_error *err, size_t none)
{
  const char *bracket = strchr(err->argument, '[');
  unsigned long k = bracket != NULL ? strtoul(bracket + 1, NULL, 10) : 0;
  return k > 0 ? k - 1 : none;
}

/* Where a yarn was told: "fibres[2]", "warp" or "weft". */
static const char *told_at(lua_State *L, int kind, size_t k)
{
  return kind == RWL_PLY_FIBRES ? lua_pushfstring(L, "fibres[%d]", (int)k + 1)
         : k == 0               ? "warp"
                                : "weft";
}

static _Noreturn void throw_in_yarn(lua_State *L, size_t i, int kind, size_t k, const char *field,
                                    rw_error *err)
{
  const char *before = lua_pushstring(L, err->argument);
  rwl_rename(err, before,
             lua_pushfstring(L, "plies[%d].%s.%s", (int)i + 1, told_at(L, kind, k), field));
  rwl_in_usual_units(L, err);
  rwl_throw(L, err);
}

/* Expansion by the tables, or NaN and the name of the fibre that has none. */
static void look_up_expansion(const char *name, rwl_layer *layer, double own[2])
{
  if (rw_fibre_expansion(name, own, NULL) >= 0)
    return;
  own[0] = own[1] = NAN;
  rwl_copy_name(layer->unknown, name);
}

/* The yarn whose fields are open. */
static void read_yarn(lua_State *L, size_t i, int kind, size_t k, rwl_layer *layer, yarns *y)
{
  rw_error err = {0};
  const char *name = rwl_get_string(L, "fibre", "", NULL);
  size_t used = strlen(y->said);
  y->mass[k] = rwl_get_quantity(L, "areal_mass", NAN);
  if (rw_fibre_find(name, &y->fibre[k], &err) < 0)
    throw_in_yarn(L, i, kind, k, "fibre", &err);
  look_up_expansion(name, layer, y->own + 2 * k);
  snprintf(y->said + used, sizeof y->said - used, "%s%s", k > 0 ? " + " : "", name);
  y->first = y->first != NULL ? y->first : name;
  y->sum += y->mass[k];
}

static void read_yarns(lua_State *L, size_t i, int kind, rwl_layer *layer, yarns *y)
{
  y->n = kind == RWL_PLY_FIBRES ? rwl_get_count(L, "fibres") : 2;
  if (y->n > MOST_FIBRES)
    rwl_refuse_ply(L, i, "fibres", lua_pushfstring(L, "are %d, 8 at most are mixed", (int)y->n),
                   NULL);
  for (size_t k = 0; k < y->n; k++) {
    if (kind == RWL_PLY_FIBRES)
      rwl_open(L, "fibres", k);
    else
      rwl_open(L, told_at(L, kind, k), 0);
    read_yarn(L, i, kind, k, layer, y);
    rwl_close(L);
  }
}

/* A cloth that cannot be by its mass, told where its heaviest yarn is. */
static _Noreturn void throw_mass(lua_State *L, size_t i, int kind, const yarns *y, rw_error *err)
{
  size_t heavy = 0;
  for (size_t k = 1; k < y->n; k++)
    heavy = y->mass[k] > y->mass[heavy] ? k : heavy;
  if (y->n > 1)
    snprintf(err->hint, sizeof err->hint, "that is the mass of all its yarns together");
  throw_in_yarn(L, i, kind, heavy, "areal_mass", err);
}

/* The cloth that they make, and all of them as one fibre. */
static void weave(lua_State *L, size_t i, int kind, const rw_matrix *resin, rwl_layer *layer,
                  rwl_warning *warning)
{
  yarns y = {.n = 0};
  rw_error err = {0};
  read_yarns(L, i, kind, layer, &y);
  if (rw_fibre_blend(y.fibre, y.mass, y.n, resin, &layer->fibre, &err) < 0)
    throw_in_yarn(L, i, kind, rwl_index_in(&err, 0), "areal_mass", &err);
  rw_status status = rw_cloth_make(y.first, y.sum, (rw_weave)rwl_get_choice(L, "weave", RW_PLAIN),
                                   &layer->cloth, &err);
  if (status < 0)
    throw_mass(L, i, kind, &y, &err);
  if (warning->text[0] == '\0')
    rwl_keep(L, warning, status, &err);
  layer->cloth.fibre_density = layer->fibre.density;
  rwl_copy_name(layer->name, y.said);
  layer->crossed = kind == RWL_PLY_YARNS;
  if (layer->crossed) {
    layer->yarns = (rw_yarns){{y.fibre[0], y.fibre[1]}, {y.mass[0], y.mass[1]}};
    memcpy(layer->own, y.own, sizeof layer->own);
  } else if (layer->unknown[0] != '\0') {
    layer->own[0] = layer->own[1] = NAN;
  } else {
    rwl_check(L, rw_fibre_blend_expansion(y.fibre, y.mass, y.own, y.n, layer->own, &err), &err);
  }
}

static void take_cloth(lua_State *L, size_t i, rwl_layer *layer, rwl_warning *warning)
{
  const rwl_cloth *c = rwl_get_object(L, "cloth");
  rw_error err = {0};
  layer->cloth = c->cloth;
  rwl_copy_name(layer->name, c->name);
  rwl_throw_in_ply(L, i, rw_fibre_find(c->fibre, &layer->fibre, &err), &err);
  look_up_expansion(c->fibre, layer, layer->own);
  if (warning->text[0] == '\0')
    *warning = c->warning;
}

/* Says it after what was said before, or in its place where both are too long. */
static void warn(rwl_warning *warning, const rwl_warning *more)
{
  size_t used = strlen(warning->text), wanted = strlen(more->text);
  if (used == 0 || used + 2 + wanted >= sizeof warning->text) {
    *warning = *more;
    return;
  }
  memcpy(warning->text + used, "; ", 2);
  memcpy(warning->text + used + 2, more->text, wanted + 1);
}

static void warn_of_air(size_t i, double voids, rwl_warning *warning)
{
  char share[40];
  rwl_warning more;
  if (!(voids > usual_voids))
    return;
  rw_text_round(100.0 * voids, 2, share);
  snprintf(more.text, sizeof more.text,
           "plies[%zu] holds %s %% of air by its thickness and resin; what air takes from "
           "stiffness and strength is left out: measure again, or mistrust the strengths",
           i + 1, share);
  warn(warning, &more);
}

static void warn_of_resin(lua_State *L, size_t i, double share, rwl_warning *warning)
{
  char said[40];
  rwl_warning more;
  if (!(share < least_share) || !(rwl_has(L, "thickness") || rwl_has(L, "resin")))
    return;
  rw_text_round(100.0 * share, 2, said);
  snprintf(more.text, sizeof more.text,
           "plies[%zu] holds only %s %% of fibre by its %s: measure over many layers and divide, "
           "without what lies over the weave",
           i + 1, said, rwl_has(L, "thickness") ? "thickness" : "resin");
  warn(warning, &more);
}

/* A fibre share so badly known that nothing can be said of the ply. */
static void check_known(lua_State *L, size_t i, int kind, rw_status status, double spread,
                        const rw_error *err)
{
  static const double most = 0.9;
  if (status < 0 ? strcmp(err->argument, "volume_share.sd") != 0 : spread <= most)
    return;
  rwl_refuse_ply(L, i,
                 rwl_has(L, "resin")     ? "resin"
                 : kind == RWL_PLY_CLOTH ? "cloth"
                                         : "weave",
                 "tells the fibre share with a spread too wide to say how stiff the ply is",
                 "give a narrower spread, or fibre_share");
}

/* Fibre share with the air counted; sets the layer's voids where thickness and resin tell them,
 * and the density then. */
static rw_value share_of(lua_State *L, size_t i, double resin_density, rwl_layer *layer,
                         double *density)
{
  const rw_cloth *c = &layer->cloth;
  rw_value share = rwl_get_choice(L, "layup", RW_BY_HAND) == RW_BAGGED ? c->bagged : c->hand;
  const rw_value thickness = {rwl_get_quantity(L, "thickness", NAN), 0.0};
  const rw_value resin = rwl_get_value(L, "resin", (rw_value){NAN, NAN});
  rw_error err = {0};
  rw_porous porous;
  rw_status status = RW_OK;
  layer->voids = NAN;
  if (rwl_has(L, "fibre_share")) {
    share = (rw_value){rwl_get_quantity(L, "fibre_share", NAN), 0.0};
  } else if (rwl_has(L, "thickness") && rwl_has(L, "resin")) {
    status = rw_cloth_porous(c, thickness, resin, resin_density, &porous, &err);
    rwl_throw_in_ply(L, i, status, &err);
    share = porous.volume_share;
    layer->voids = porous.voids.value;
    *density = porous.density;
  } else if (rwl_has(L, "thickness")) {
    status = rw_cloth_share_by_thickness(c, thickness, &share, &err);
  } else if (rwl_has(L, "resin")) {
    status = rw_cloth_share_by_resin(c, resin, resin_density, &share, &err);
  }
  rwl_throw_in_ply(L, i, status, &err);
  return share;
}

void rwl_read_cloth(lua_State *L, size_t i, int kind, rwl_layer *layer, rw_ply *ply,
                    rwl_warning *warning)
{
  rw_matrix resin;
  double density = NAN;
  rw_error err = {0};
  rw_status status = rw_matrix_find(rwl_laminate_resin, &resin, &err);
  rwl_throw_in_ply(L, i, status, &err);
  resin.density = rwl_get_quantity(L, "resin_density", resin.density);
  if (kind == RWL_PLY_CLOTH)
    take_cloth(L, i, layer, warning);
  else
    weave(L, i, kind, &resin, layer, warning);
  rw_value share = share_of(L, i, resin.density, layer, &density);
  layer->share = share.value;
  warn_of_resin(L, i, share.value, warning);
  status = rw_cloth_thickness(&layer->cloth, share.value, &ply->thickness, &err);
  if (status >= 0)
    status = layer->crossed
                 ? rw_lamina_yarns(&layer->cloth, &layer->yarns, &resin, share, &ply->material,
                                   &layer->spread, &err)
                 : rw_lamina_cloth_uncertain(&layer->cloth, &layer->fibre, &resin, share,
                                             &ply->material, &layer->spread, &err);
  check_known(L, i, kind, status, layer->spread, &err);
  rwl_throw_in_ply(L, i, status, &err);
  if (!isnan(layer->voids)) {
    ply->material.density = density;
    warn_of_air(i, layer->voids, warning);
  }
}
