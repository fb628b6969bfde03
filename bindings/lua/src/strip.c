/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strips and shallow arches made of a laminate. */
#include "laminate.h"

#include <math.h>

#include "reading.h"

/* Strains of both faces, from those of the middle plane. */
static void set_faces(lua_State *L, const rw_stack *s, const double strain[6])
{
  double lower[3], upper[3], half = 0.5 * s->thickness;
  for (size_t i = 0; i < 3; i++) {
    lower[i] = strain[i] - half * strain[i + 3];
    upper[i] = strain[i] + half * strain[i + 3];
  }
  rwl_set_strains(L, "outer", lower);
  rwl_set_strains(L, "inner", upper);
}

static rw_criterion criterion_of(lua_State *L)
{
  return (rw_criterion)rwl_get_choice(L, "criterion", RW_MAX_STRESS);
}

/* Sets `failure`: what gives way first where a strip or an arch is bent most. */
static void set_first(lua_State *L, const rwl_laminate *l, const double load[6])
{
  rw_first_failure f = {0};
  rw_error err = {0};
  rw_status status =
      rw_stack_first_failure(l->ply, l->n, &l->stack, load, criterion_of(L), &f, &err);
  rwl_name_ply(l, &err);
  rwl_check(L, status, &err);
  lua_createtable(L, 0, 6);
  rwl_set_failure(L, l, &f);
  lua_setfield(L, -2, "failure");
}

/* --- strips --------------------------------------------------------------------------------- */

static const rwl_alias strip_alias[] = {
    {"load[1].pressure", "pressure"}, {"load[1].force", "load"}, {"load[1].x", "x"},
    {"load[1].along", "patch"},       {"strip.span", "span"},    {NULL, NULL}};

/* Sets `places`: deflection and moment where they were asked for. */
static void set_places(lua_State *L, const rwl_laminate *l, const rw_strip *strip,
                       const rw_strip_load *load)
{
  static const rwl_alias alias[] = {{NULL, NULL}};
  size_t n;
  const double *x = rwl_get_list(L, "places", &n);
  if (x == NULL)
    return;
  lua_createtable(L, (int)n, 0);
  for (size_t i = 0; i < n; i++) {
    double deflection, moment;
    rw_error err = {0};
    rw_status status = rw_strip_at(&l->stack, strip, load, 1, x[i], &deflection, &moment, &err);
    rwl_rename(&err, "x", lua_pushfstring(L, "places[%d]", (int)i + 1));
    rwl_check_as(L, status, &err, alias);
    lua_pop(L, 1);
    lua_createtable(L, 0, 3);
    rwl_set_quantity(L, "x", "m", x[i]);
    rwl_set_quantity(L, "deflection", "m", deflection);
    rwl_set_quantity(L, "moment", "N", moment);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_setfield(L, -2, "places");
}

int rwl_strip(lua_State *L)
{
  const rwl_laminate *l = rwl_self(L);
  const rw_strip strip = {.span = rwl_get_quantity(L, "span", NAN),
                          .ends = (rw_strip_ends)rwl_get_choice(L, "ends", RW_STRIP_SUPPORTED),
                          .wide = rwl_get_boolean(L, "wide", 0),
                          .shear = rwl_get_boolean(L, "shear", 0) ? l->shear[0] : 0.0};
  const rw_strip_load load = {
      .pressure = rwl_get_quantity(L, "pressure", 0.0),
      .force = rwl_get_quantity(L, "load", 0.0),
      .x = rwl_get_quantity(L, "x",
                            strip.ends == RW_STRIP_CANTILEVER ? strip.span : 0.5 * strip.span),
      .along = rwl_get_quantity(L, "patch", 0.0)};
  rw_strip_result r = {0};
  rw_error err = {0};
  rwl_warning warning;
  rw_status status = rw_strip_bend(&l->stack, &strip, &load, 1, &r, &err);
  rwl_check_as(L, status, &err, strip_alias);
  rwl_keep(L, &warning, status, &err);
  lua_createtable(L, 0, 14);
  rwl_set_quantity(L, "deflection", "m", r.deflection);
  rwl_set_quantity(L, "at", "m", r.at);
  rwl_set_number(L, "shear_share", r.shear_share);
  rwl_set_quantity(L, "moment", "N", r.moment);
  rwl_set_quantity(L, "moment_at", "m", r.moment_at);
  rwl_set_number(L, "surface_strain", r.surface_strain);
  set_faces(L, &l->stack, r.strain);
  rwl_set_quantity(L, "first_reaction", "N/m", r.reaction[0]);
  rwl_set_quantity(L, "second_reaction", "N/m", r.reaction[1]);
  set_first(L, l, r.load);
  set_places(L, l, &strip, &load);
  if (rwl_get_boolean(L, "spread", 0))
    rwl_set_strip_spread(L, l, &strip, &load, criterion_of(L));
  rwl_set_warnings(L, &warning);
  return 1;
}

/* --- arches --------------------------------------------------------------------------------- */

int rwl_arch(lua_State *L)
{
  static const rwl_alias alias[] = {{"arch.span", "span"}, {"arch.rise", "rise"}, {NULL, NULL}};
  const rwl_laminate *l = rwl_self(L);
  const rw_arch arch = {.span = rwl_get_quantity(L, "span", NAN),
                        .rise = rwl_get_quantity(L, "rise", NAN),
                        .ends = (rw_arch_ends)rwl_get_choice(L, "ends", RW_ARCH_PINNED),
                        .wide = rwl_get_boolean(L, "wide", 1)};
  rw_arch_result r = {0};
  rw_error err = {0};
  rwl_warning warning;
  double pressure = rwl_get_quantity(L, "pressure", 0.0),
         crown = rwl_get_quantity(L, "crown", 0.0);
  rw_status status = rw_arch_bend(&l->stack, &arch, pressure, crown, &r, &err);
  rwl_check_as(L, status, &err, alias);
  rwl_keep(L, &warning, status, &err);
  lua_createtable(L, 0, 13);
  rwl_set_quantity(L, "deflection", "m", r.deflection);
  rwl_set_quantity(L, "flat", "m", r.flat);
  rwl_set_quantity(L, "thrust", "N/m", r.thrust);
  rwl_set_quantity(L, "moment", "N", r.moment);
  rwl_set_quantity(L, "moment_at", "m", r.moment_at);
  rwl_set_quantity(L, "crown_moment", "N", r.crown_moment);
  rwl_set_quantity(L, "end_moment", "N", r.end_moment);
  rwl_set_number(L, "surface_strain", r.surface_strain);
  set_faces(L, &l->stack, r.strain);
  rwl_set_number(L, "snap", r.snap);
  set_first(L, l, r.load);
  if (rwl_get_boolean(L, "spread", 0))
    rwl_set_arch_spread(L, l, &arch, pressure, crown, criterion_of(L));
  rwl_set_warnings(L, &warning);
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

#define SPREAD                                                                                    \
  RWL_MAY("spread", RWL_BOOLEAN, "", "false",                                                     \
          "true: also how well deflection, strain and first failure are known")
#define CRITERION RWL_MAY("criterion", RWL_CHOICE, RWL_CRITERIA, "max_stress", "of first failure")

const rwl_field rwl_strip_fields[] = {
    RWL_NEED("span", RWL_QUANTITY, "m", "between the two supports; free length of a cantilever"),
    RWL_MAY("load", RWL_QUANTITY, "N/m", "0 N/m",
            "newtons per metre of the strip's width, across its middle (a cantilever's end)"),
    RWL_MAY("x", RWL_QUANTITY, "m", NULL, "where that load is, from the first support"),
    RWL_MAY("patch", RWL_QUANTITY, "m", "0 m", "length it is spread over; 0: a line"),
    RWL_MAY("pressure", RWL_QUANTITY, "Pa", "0 Pa", "even load over the whole span, beside it"),
    RWL_MAY("ends", RWL_CHOICE, "resting|clamped|cantilever", "resting",
            "how it is held; a cantilever at its first end only"),
    RWL_MAY("wide", RWL_BOOLEAN, "", "false",
            "true: much wider than its span, so that it cannot curl across"),
    RWL_MAY("shear", RWL_BOOLEAN, "", "false", "true: with shear through the thickness"),
    RWL_MAY_LIST(
        "places", RWL_QUANTITY, "m",
        "where else to tell deflection and moment, from the first support, 0 to the span"),
    CRITERION,
    SPREAD,
    RWL_END_FIELDS,
};
const rwl_field rwl_arch_fields[] = {
    RWL_NEED("span", RWL_QUANTITY, "m", "along the chord"),
    RWL_NEED("rise", RWL_QUANTITY, "m", "of the crown above it, an eighth of the span at most"),
    RWL_MAY("ends", RWL_CHOICE, "pinned|fixed", "pinned", "free to turn, or clamped; held apart"),
    RWL_MAY("wide", RWL_BOOLEAN, "", "true", "false: a narrow strip, free to curl across"),
    RWL_MAY("pressure", RWL_QUANTITY, "Pa", "0 Pa", "from outside, over the whole span"),
    RWL_MAY("crown", RWL_QUANTITY, "N/m", "0 N/m", "line load at the crown, per metre of width"),
    CRITERION,
    SPREAD,
    RWL_END_FIELDS,
};
