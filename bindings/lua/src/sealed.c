/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rw.sealed_plank: how a stack sealed on one face curls when the air turns damp or dry. */
#include "laminate.h"

#include <string.h>

#include "reading.h"

static int face_of(int choice)
{
  return choice == 0 ? -1 : 1;
}

/* Relative spread of a wood's shrinkage. */
static double shrinkage_spread(lua_State *L, const rwl_layer *layer)
{
  const rw_material *m;
  const rw_property *p;
  rw_error err = {0};
  rwl_check(L, rw_material_find(RW_WOOD, layer->name, &m, &err), &err);
  rwl_check(L,
            rw_material_property(
                m, layer->cut == RW_FLAT_SAWN ? "shrink_tangential" : "shrink_radial", &p, &err),
            &err);
  return p->sd / p->value;
}

/* Free strain per change of moisture, over the change that is looked at, which is that of `side`.
 */
static rw_value swelling_of(lua_State *L, const rwl_layer *layer, double change, const char *side)
{
  double strain[3], now = layer->moisture;
  rw_error err = {0};
  rw_status status =
      rw_lamina_wood_swelling(layer->name, layer->cut, now, now + change, strain, &err);
  if (status < 0 && strcmp(err.argument, "to") == 0)
    rw_error_range(&err, "", side, change, -now, 2.0 - now, "",
                   "a change of the share of water in the wood: from 12 to 18 % is 0.06");
  rwl_rename(&err, "name", "laminate");
  rwl_check(L, status, &err);
  double across = strain[1] / change;
  return (rw_value){across, across * shrinkage_spread(L, layer)};
}

static const rw_swelling *swellings(lua_State *L, const rwl_laminate *l, const rw_damp *damp)
{
  const char *side = damp->open.value != 0.0 ? "open" : "sealed";
  double change = damp->open.value != 0.0     ? damp->open.value
                  : damp->sealed.value != 0.0 ? damp->sealed.value
                                              : 0.01;
  rw_swelling *swelling = rwl_block(L, l->n, sizeof *swelling);
  memset(swelling, 0, l->n * sizeof *swelling);
  for (size_t i = 0; i < l->n; i++)
    if (l->layer[i].group == RWL_WOOD && !l->layer[i].core)
      swelling[i].across = swelling_of(L, &l->layer[i], change, side);
  return swelling;
}

static void set_range(lua_State *L, const char *name, const char *unit, double value, double low,
                      double high)
{
  rwl_push_range(L, unit, value, low, high, NULL);
  lua_setfield(L, -2, name);
}

static int sealed_plank(lua_State *L)
{
  static const char *const axis[3] = {"x", "y", "xy"};
  const rw_value none = {0.0, 0.0};
  const rwl_laminate *l = rwl_get_object(L, "laminate");
  const rw_damp damp = {.open_face = face_of(rwl_get_choice(L, "open_face", 1)),
                        .open = rwl_get_value(L, "open", none),
                        .sealed = rwl_get_value(L, "sealed", none),
                        .profile = rwl_get_quantity(L, "profile", 2.0),
                        .girth = rwl_get_quantity(L, "girth", NAN),
                        .radius = rwl_get_quantity(L, "radius", 0.0),
                        .bulge = face_of(rwl_get_choice(L, "bulge", 0)),
                        .level = 0.9};
  const rw_swelling *swelling = swellings(L, l, &damp);
  rw_damp_result r = {0};
  rw_error err = {0};
  rwl_warning warning;
  static const rwl_alias alias[] = {{"swelling", "laminate"}, {NULL, NULL}};
  rw_status status = rw_stack_damp(l->ply, swelling, l->n, &damp, &r, &err);
  rwl_name_ply(l, &err);
  rwl_check_as(L, status, &err, alias);
  rwl_keep(L, &warning, status, &err);
  lua_createtable(L, 0, 4);
  lua_createtable(L, 0, 3);
  for (size_t i = 0; i < 3; i++)
    set_range(L, axis[i], "1/m", r.curvature[i].value, r.low[i], r.high[i]);
  lua_setfield(L, -2, "curvature");
  set_range(L, "bow", "m", r.bow, r.bow_low, r.bow_high);
  set_range(L, "opens", "m", r.spread, r.spread_low, r.spread_high);
  rwl_set_warnings(L, &warning);
  return 1;
}

static const rwl_field sealed_fields[] = {
    RWL_NEED("laminate", RWL_OBJECT, RWL_LAMINATE, "plank or cored skin; its wood swells"),
    {"open", RWL_VALUE, "", RWL_REQUIRED | RWL_SIGNED, NULL,
     "change of the wood's moisture at its open side, as a share: 0.06 from 12 to 18 %; below 0 "
     "it dries; rw.wood_moisture tells what it comes to",
     NULL},
    {"sealed", RWL_VALUE, "", RWL_SIGNED, NULL,
     "the same at its sealed side; left out, 0: the seal keeps up", NULL},
    RWL_MAY("open_face", RWL_CHOICE, "outer|inner", "inner", "which face is not sealed"),
    RWL_MAY("profile", RWL_NUMBER, "", "2",
            "how the change falls off with depth: 1 a straight gradient, 2 steady soaking, more "
            "soon after"),
    RWL_NEED("girth", RWL_QUANTITY, "m", "over the skin, sheer to sheer or plank edge to edge"),
    RWL_MAY("radius", RWL_QUANTITY, "m", "0 m", "of the section as an arc; 0: flat"),
    RWL_MAY("bulge", RWL_CHOICE, "outer|inner", "outer", "to which side the section bulges"),
    RWL_END_FIELDS,
};

static const rwl_function functions[] = {
    {"sealed_plank", NULL, RWL_NAMED, sealed_fields,
     "How a stack sealed on one face curls and opens when the air turns damp or dry: curvature "
     "(above 0 it bulges to the inside), how much a straight line across grows out of flat (bow) "
     "and how far the edges move apart (opens; below 0 together), with 90 % intervals from the "
     "spread of the wood's shrinkage and of the moistures. Moulds, frames and thwarts are left "
     "out, and so is what creeps over weeks: real curls are rather smaller.",
     "{curvature: {x: range, y: range, xy: range}, bow: range, opens: range, warnings: string[]}",
     sealed_plank},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_sealed_set = {functions, NULL};
