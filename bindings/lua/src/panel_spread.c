/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How well the answers of panels, strips and arches are known. */
#include "laminate.h"

#include "reading.h"

static const char *const stiffness_of[RWL_GROUP_WORDS] = {
    "stiffness of the wood", "stiffness of the cloth", "stiffness of the core",
    "stiffness of wood and core"};
static const char *const strength_of[RWL_GROUPS] = {"strength of the wood",
                                                    "strength of the cloth"};

/* The groups lie on the Lua stack. */
static rw_scatter scatter_of(lua_State *L, const rwl_laminate *l)
{
  enum { DRAWS = 1000 };
  size_t *group = rwl_block(L, l->n, sizeof *group);
  for (size_t i = 0; i < l->n; i++)
    group[i] = l->layer[i].group;
  return (rw_scatter){group, l->relative, l->strength, RWL_GROUPS, 0.9, DRAWS, 1};
}

static void check(lua_State *L, const rwl_laminate *l, rw_status status, rw_error *err)
{
  rwl_name_ply(l, err);
  rwl_check(L, status, err);
}

static void set_range(lua_State *L, const rwl_laminate *l, const char *name, const char *unit,
                      const rw_panel_range *r)
{
  const char *because =
      r->strength ? strength_of[r->because] : stiffness_of[rwl_group_word(l, r->because)];
  rwl_push_range(L, unit, r->value, r->low, r->high, r->log_sd > 0.0 ? because : NULL);
  lua_setfield(L, -2, name);
}

static void set_failure(lua_State *L, const rwl_laminate *l, const rw_failure_spread *f)
{
  set_range(L, l, "factor", "", &f->factor);
  if (f->next.mode == RW_MODE_NONE)
    return;
  lua_createtable(L, 0, 6);
  rwl_set_number(L, "share", f->other);
  rwl_set_layer(L, l, &f->next);
  lua_setfield(L, -2, "other");
}

int rwl_panel_spread(lua_State *L)
{
  const rwl_bent *p = rwl_self(L);
  const rw_scatter scatter = scatter_of(L, p->of);
  rw_plate_spread s;
  rw_error err = {0};
  check(L, p->of,
        rw_bent_plate_spread(p->bent, p->of->ply, p->of->n, &scatter, p->criterion, &s, &err),
        &err);
  lua_createtable(L, 0, 6);
  set_range(L, p->of, "deflection", "m", &s.deflection);
  set_range(L, p->of, "held", "m", &s.held);
  set_range(L, p->of, "outer_strain", "", &s.lower);
  set_range(L, p->of, "inner_strain", "", &s.upper);
  set_failure(L, p->of, &s.failure);
  return 1;
}

static void set_strip(lua_State *L, const rwl_laminate *l, const rw_strip_spread *s)
{
  lua_createtable(L, 0, 4);
  set_range(L, l, "deflection", "m", &s->deflection);
  set_range(L, l, "strain", "", &s->surface_strain);
  set_failure(L, l, &s->failure);
  lua_setfield(L, -2, "spread");
}

void rwl_set_strip_spread(lua_State *L, const rwl_laminate *l, const rw_strip *strip,
                          const rw_strip_load *load, rw_criterion criterion)
{
  const rw_scatter scatter = scatter_of(L, l);
  rw_strip_spread s;
  rw_error err = {0};
  check(L, l, rw_strip_bend_spread(l->ply, l->n, strip, load, 1, &scatter, criterion, &s, &err),
        &err);
  lua_pop(L, 1);
  set_strip(L, l, &s);
}

void rwl_set_arch_spread(lua_State *L, const rwl_laminate *l, const rw_arch *arch, double pressure,
                         double crown, rw_criterion criterion)
{
  const rw_scatter scatter = scatter_of(L, l);
  rw_strip_spread s;
  rw_error err = {0};
  check(L, l,
        rw_arch_bend_spread(l->ply, l->n, arch, pressure, crown, &scatter, criterion, &s, &err),
        &err);
  lua_pop(L, 1);
  set_strip(L, l, &s);
}
