/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is known of a resin better than its class tells: read, and given back so that it reads
 * again. */
#include "law.h"

#include "reading.h"

static void read_glass(lua_State *L, rw_glass *g)
{
  if (!rwl_has(L, "glass"))
    return;
  rwl_open(L, "glass", 0);
  g->Tg0 = rwl_get_quantity(L, "uncured", g->Tg0);
  g->Tg_inf = rwl_get_quantity(L, "cured", g->Tg_inf);
  g->lambda = rwl_get_quantity(L, "lambda", g->lambda);
  rwl_close(L);
}

static void read_flow(lua_State *L, rw_resin *r)
{
  if (!rwl_has(L, "flow"))
    return;
  rw_flow *f = &r->flow;
  rwl_open(L, "flow", 0);
  f->mu = rwl_get_quantity(L, "viscosity", f->mu);
  f->E = rwl_get_quantity(L, "energy", f->E);
  f->T_ref = rwl_get_quantity(L, "reference", f->T_ref);
  f->a_gel = rwl_get_quantity(L, "gel", f->a_gel);
  f->C1 = rwl_get_quantity(L, "C1", f->C1);
  f->C2 = rwl_get_quantity(L, "C2", f->C2);
  r->work_viscosity = rwl_get_quantity(L, "work_viscosity", r->work_viscosity);
  r->threshold[RW_WORK_END].sd = rwl_get_quantity(L, "work_sd", r->threshold[RW_WORK_END].sd);
  rwl_close(L);
  r->threshold[RW_GEL].value = f->a_gel;
  rwl_within(L, "flow.energy", f->E, 0, 200e3, "J/mol", "kJ/mol", NULL);
  rwl_within(L, "flow.reference", f->T_ref, 200, 500, "K", "degC", NULL);
  rwl_within(L, "flow.gel", f->a_gel, 1e-3, 1, "", NULL,
             "A degree of cure is a share: 0.58 is usual.");
  rwl_within(L, "flow.C1", f->C1, 0, 50, "", NULL, NULL);
  rwl_within(L, "flow.C2", f->C2, -f->C1 / f->a_gel, 50, "", NULL,
             "The viscosity must not fall as the resin nears its gel.");
}

static void read_thresholds(lua_State *L, rw_resin *r)
{
  if (!rwl_has(L, "thresholds"))
    return;
  rwl_open(L, "thresholds", 0);
  for (int i = RW_WORK_END + 1; i < RW_MILESTONES; i++)
    r->threshold[i] = rwl_get_value(L, rw_milestone_key((rw_milestone)i), r->threshold[i]);
  rwl_close(L);
}

static void check_starts(lua_State *L, const rw_resin *r)
{
  const rw_cure_law *law = &r->law;
  int only = law->kind == RW_LAW_SESTAK_BERGGREN;
  int power = only || law->kind == RW_LAW_KAMAL || law->kind == RW_LAW_PLATEAU;
  if ((law->k1 > 0 && !only) || (power && law->m < 1))
    return;
  rwl_refusal refusal = {RW_ERR_ARGUMENT,
                         "law",
                         "the law cannot leave a degree of cure of zero, so a resin of it never "
                         "cures",
                         NULL,
                         "give k1, which starts the cure, or a power m below 1",
                         0,
                         0};
  rwl_refuse(L, &refusal);
}

void rwl_get_chemistry(lua_State *L, rwl_resin *r)
{
  static const rwl_alias alias[] = {{"Tg0", "glass.uncured"},
                                    {"Tg_inf", "glass.cured"},
                                    {"lambda", "glass.lambda"},
                                    {"mu", "flow.viscosity"},
                                    {"work_viscosity", "flow.work_viscosity"},
                                    {"work_end", "flow.work_sd"},
#define RW_X(name, key, text) {key, "thresholds." key},
                                    RW_MILESTONE_LIST(RW_X)
#undef RW_X
                                        {NULL, NULL}};
  const rwl_law *law = rwl_get_object(L, "law");
  if (law != NULL)
    r->resin.law = law->law;
  read_glass(L, &r->resin.glass);
  read_flow(L, &r->resin);
  read_thresholds(L, &r->resin);
  r->resin.heat = rwl_get_quantity(L, "heat", r->resin.heat);
  r->resin.heat_capacity = rwl_get_quantity(L, "heat_capacity", r->resin.heat_capacity);
  r->resin.density = rwl_get_quantity(L, "density", r->resin.density);
  r->resin.hardener = rwl_get_quantity(L, "hardener", r->resin.hardener);
  r->resin.rate_sd = rwl_get_quantity(L, "rate_sd", r->resin.rate_sd);
  r->resin.energy_sd = rwl_get_quantity(L, "energy_sd", r->resin.energy_sd);
  rwl_within(L, "hardener", r->resin.hardener, 0.02, 5, "", NULL, "100:44 by weight is 0.44.");
  rwl_within(L, "rate_sd", r->resin.rate_sd, 0, 2, "", NULL,
             "0.4 is a class, 0.1 a resin well known.");
  rwl_within(L, "energy_sd", r->resin.energy_sd, 0, 50e3, "J/mol", "kJ/mol", NULL);
  if (law != NULL)
    check_starts(L, &r->resin);
  rw_error err = {0};
  rw_status status = rw_resin_check(&r->resin, &err);
  rwl_check_as(L, status, &err, alias);
  if (law != NULL)
    r->warning = law->warning;
}

void rwl_set_glass(lua_State *L, const rw_glass *g)
{
  lua_newtable(L);
  rwl_set_temperature(L, "uncured", g->Tg0);
  rwl_set_temperature(L, "cured", g->Tg_inf);
  rwl_set_number(L, "lambda", g->lambda);
  lua_setfield(L, -2, "glass");
}

static void set_flow(lua_State *L, const rw_resin *r)
{
  const rw_flow *f = &r->flow;
  lua_newtable(L);
  rwl_set_quantity(L, "viscosity", "Pa s", f->mu);
  rwl_set_quantity(L, "energy", "J/mol", f->E);
  rwl_set_temperature(L, "reference", f->T_ref);
  rwl_set_number(L, "gel", f->a_gel);
  rwl_set_number(L, "C1", f->C1);
  rwl_set_number(L, "C2", f->C2);
  rwl_set_quantity(L, "work_viscosity", "Pa s", r->work_viscosity);
  rwl_set_number(L, "work_sd", r->threshold[RW_WORK_END].sd);
  lua_setfield(L, -2, "flow");
}

static void set_thresholds(lua_State *L, const rw_resin *r)
{
  lua_newtable(L);
  for (int i = RW_WORK_END + 1; i < RW_MILESTONES; i++) {
    lua_newtable(L);
    rwl_set_number(L, "value", r->threshold[i].value);
    rwl_set_number(L, "sd", r->threshold[i].sd);
    lua_setfield(L, -2, rw_milestone_key((rw_milestone)i));
  }
  lua_setfield(L, -2, "thresholds");
}

int rwl_resin_values(lua_State *L)
{
  const rw_resin *r = rwl_self_resin(L);
  lua_newtable(L);
  rwl_set_text(L, "class", ((const rwl_resin *)rwl_self(L))->name);
  rwl_push_law_values(L, &r->law);
  lua_setfield(L, -2, "law");
  rwl_set_glass(L, &r->glass);
  set_flow(L, r);
  set_thresholds(L, r);
  rwl_set_quantity(L, "heat", "J/kg", r->heat);
  rwl_set_quantity(L, "heat_capacity", "J/(kg K)", r->heat_capacity);
  rwl_set_quantity(L, "density", "kg/m3", r->density);
  rwl_set_number(L, "hardener", r->hardener);
  rwl_set_number(L, "rate_sd", r->rate_sd);
  rwl_set_quantity(L, "energy_sd", "J/mol", r->energy_sd);
  return 1;
}

#define LEFT(name, kind, detail, doc) RWL_MAY(name, kind, detail, NULL, doc)

const rwl_field rwl_glass_fields[] = {RWL_GLASS_FIELDS(LEFT), RWL_END_FIELDS};
const rwl_field rwl_flow_fields[] = {
    LEFT("viscosity", RWL_QUANTITY, "Pa s", "of the fresh mix at the reference temperature"),
    LEFT("energy", RWL_QUANTITY, "J/mol", "how much warmth thins it, such as \"48 kJ/mol\""),
    LEFT("reference", RWL_TEMPERATURE, "", "temperature that the viscosity is given for"),
    LEFT("gel", RWL_NUMBER, "", "degree of cure at gel"),
    LEFT("C1", RWL_NUMBER, "", "exponent of the rise towards the gel"),
    LEFT("C2", RWL_NUMBER, "", "how the exponent grows with the degree of cure"),
    LEFT("work_viscosity", RWL_QUANTITY, "Pa s", "too thick to spread from there on"),
    LEFT("work_sd", RWL_NUMBER, "", "standard deviation of the logarithm of that, 0 to 3"),
    RWL_END_FIELDS,
};
#define RW_X(name, key, text) LEFT(key, RWL_VALUE, "", "degree of cure when it is " text),
const rwl_field rwl_threshold_fields[] = {RW_MILESTONE_LIST(RW_X) RWL_END_FIELDS};
#undef RW_X
