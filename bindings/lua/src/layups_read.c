/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading a declared set of layups: faces, cores, prices, strengths. */
#include "layups.h"

#include "reading.h"

/* A price, not below zero; `place` names it in a refusal. */
static double read_price(lua_State *L, const char *field, const char *place)
{
  double price = rwl_get_quantity(L, field, 0.0);
  if (price >= 0.0)
    return price;
  const rwl_refusal r = {.code = RW_ERR_RANGE,
                         .argument = place,
                         .message = lua_pushfstring(L, "%s is below zero", place),
                         .hint = "leave it away where it is not known"};
  return (double)rwl_refuse(L, &r);
}

/* Resin in a ply and what it costs. */
static rw_sweep_ply ply_of(const rwl_layups_reading *r, const rwl_laminate *l, size_t i)
{
  const rwl_layer *layer = &l->layer[i];
  rw_sweep_ply p = {.material = l->ply[i].material, .thickness = l->ply[i].thickness};
  if (layer->group == RWL_SKIN)
    p.resin = p.thickness * p.material.density - layer->cloth.areal_mass;
  p.cost = p.resin * r->resin_price;
  return p;
}

/* The laminate of an open record; it is kept in the table on the top of the stack. */
static const rwl_laminate *keep(lua_State *L, const char *name)
{
  const rwl_laminate *l = rwl_get_object(L, name);
  rwl_push_field(L, name);
  lua_rawseti(L, -2, (lua_Integer)lua_rawlen(L, -2) + 1);
  return l;
}

static _Noreturn void refuse_kind(lua_State *L, const char *face, size_t i, const char *what,
                                  const char *hint)
{
  const char *place = lua_pushfstring(L, "%s.kinds[%d].layer", face, (int)i + 1);
  const rwl_refusal r = {.code = RW_ERR_ARGUMENT,
                         .argument = place,
                         .message = lua_pushfstring(L, "%s %s", place, what),
                         .hint = hint};
  rwl_refuse(L, &r);
}

static void refuse_many(lua_State *L, const char *name, size_t n, size_t most)
{
  rw_error err;
  if (n <= most)
    return;
  rw_error_range(&err, "", name, (double)n, 1, (double)most, "", "compare fewer at a time");
  rwl_throw(L, &err);
}

static void read_kinds(lua_State *L, const rwl_layups_reading *r, const char *face,
                       const rwl_laminate **laminate, rw_sweep_ply *ply)
{
  size_t n = rwl_get_count(L, "kinds");
  refuse_many(L, lua_pushfstring(L, "%s.kinds", face), n, RWL_KINDS);
  lua_pop(L, 1);
  for (size_t i = 0; i < n; i++) {
    rwl_open(L, "kinds", i);
    const rwl_laminate *l = laminate[i] = keep(L, "layer");
    if (l->n != 1)
      refuse_kind(L, face, i, lua_pushfstring(L, "has %d plies, it must be one layer", (int)l->n),
                  "make a laminate of one ply: rw.laminate{plies = {{cloth = ...}}}");
    if (l->ply[0].angle != 0.0)
      refuse_kind(L, face, i, "is laid at an angle",
                  "make it without; the angles to choose from are those of the face");
    ply[i] = ply_of(r, l, 0);
    ply[i].cost +=
        read_price(L, "price", lua_pushfstring(L, "%s.kinds[%d].price", face, (int)i + 1));
    lua_pop(L, 1);
    rwl_close(L);
  }
}

static size_t read_layers(lua_State *L, const char *face, const char *field)
{
  enum { MOST_LAYERS = 16 };
  lua_Integer n = rwl_get_integer(L, field, 0);
  if (n < 0 || n > MOST_LAYERS) {
    rw_error err;
    rw_error_range(&err, "", lua_pushfstring(L, "%s.%s", face, field), (double)n, 0, MOST_LAYERS,
                   "", "layers of cloth on that face");
    rwl_throw(L, &err);
  }
  return (size_t)n;
}

static void read_face(lua_State *L, const rwl_layups_reading *r, const char *name,
                      rw_sweep_face *face, const rwl_laminate **laminate, rw_sweep_ply *ply)
{
  static const double straight[] = {0.0};
  if (!rwl_has(L, name))
    return;
  rwl_open(L, name, 0);
  read_kinds(L, r, name, laminate, ply);
  face->ply = ply;
  face->plies = rwl_get_count(L, "kinds");
  face->angle = straight;
  face->angles = 1;
  if (rwl_has(L, "angles"))
    face->angle = rwl_get_list(L, "angles", &face->angles);
  if (face->angles == 0) {
    const char *place = lua_pushfstring(L, "%s.angles", name);
    rwl_refuse(L, &(rwl_refusal){.code = RW_ERR_ARGUMENT,
                                 .argument = place,
                                 .message = lua_pushfstring(L, "%s is an empty list", place),
                                 .hint = "leave it away to lay all along the hull"});
  }
  face->least = read_layers(L, name, "least");
  face->most = read_layers(L, name, "most");
  rwl_close(L);
}

/* Below the table of laminates: blocks are put there. */
static void read_core(lua_State *L, rwl_layups_reading *r, const rwl_laminate *l, size_t at)
{
  rw_sweep_core *core = &r->core[at];
  rw_sweep_ply *ply = rwl_block(L, l->n, sizeof *ply);
  lua_insert(L, -2);
  double *angle = rwl_block(L, l->n, sizeof *angle);
  lua_insert(L, -2);
  for (size_t i = 0; i < l->n; i++) {
    ply[i] = ply_of(r, l, i);
    angle[i] = l->ply[i].angle;
  }
  ply[0].cost += read_price(L, "price", lua_pushfstring(L, "cores[%d].price", (int)at + 1));
  lua_pop(L, 1);
  *core = (rw_sweep_core){.ply = ply, .angle = angle, .plies = l->n};
  while (core->outer < l->n && l->layer[core->outer].group == RWL_SKIN)
    core->outer++;
  if (core->outer == l->n) /* no wood: all of it is the core */
    core->outer = 0;
  while (l->layer[l->n - 1 - core->inner].group == RWL_SKIN && core->inner + 1 < l->n)
    core->inner++;
  if (core->outer + core->inner >= l->n)
    core->outer = core->inner = 0;
}

static void read_cores(lua_State *L, rwl_layups_reading *r, rwl_layups *s)
{
  size_t n = rwl_get_count(L, "cores");
  refuse_many(L, "cores", n, RWL_CORES);
  luaL_checkstack(L, 2 * RWL_CORES + LUA_MINSTACK, NULL);
  for (size_t i = 0; i < n; i++) {
    rwl_open(L, "cores", i);
    s->core[i] = keep(L, "laminate");
    read_core(L, r, s->core[i], i);
    rwl_close(L);
  }
  r->set.core = r->core;
  r->set.cores = n;
}

static void read_strengths(lua_State *L, rw_sweep_set *set, rwl_layups *s)
{
  enum { HIT = RW_CASE_HIT * RWL_PLACES, HEEL = RW_CASE_HEEL * RWL_PLACES };
  static const int usual[] = {HIT, HEEL};
  static const unsigned among[RWL_PLACES] = {RW_AMONG_ALL, RW_AMONG_OUTER | RW_AMONG_INNER,
                                             RW_AMONG_OUTER, RW_AMONG_CORE, RW_AMONG_INNER};
  int told = rwl_has(L, "strengths");
  size_t n = told ? rwl_get_count(L, "strengths") : 2;
  refuse_many(L, "strengths", n, RW_SWEEP_LOADS);
  for (size_t i = 0; i < n; i++) {
    s->strength[i] = told ? rwl_get_choice_at(L, "strengths", i) : usual[i];
    set->among[i] = among[s->strength[i] % RWL_PLACES];
    rw_sweep_load((rw_sweep_case)(s->strength[i] / RWL_PLACES), set->load[i], NULL);
  }
  set->loads = s->loads = n;
}

void rwl_read_layups(lua_State *L, rwl_layups *s, rwl_layups_reading *r)
{
  r->resin_price = read_price(L, "resin_price", "resin_price");
  lua_newtable(L);
  read_face(L, r, "outside", &r->set.outer, s->outside, r->outside);
  read_face(L, r, "inside", &r->set.inner, s->inside, r->inside);
  read_cores(L, r, s);
  r->set.symmetric = rwl_get_boolean(L, "symmetric", 0);
  if (r->set.symmetric && rwl_has(L, "inside"))
    rwl_refuse(L, &(rwl_refusal){.code = RW_ERR_ARGUMENT,
                                 .argument = "symmetric",
                                 .message = "symmetric and inside are both given",
                                 .hint = "with symmetric the inside mirrors the outside: leave "
                                         "one of the two out"});
  read_strengths(L, &r->set, s);
}
