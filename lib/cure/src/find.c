/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A resin class out of the material tables, and its check. */
#include <resinwright/cure.h>

#include <math.h>
#include <stddef.h>

/* Where each property of a class goes. */
typedef struct place {
  const char *name;
  size_t offset;
} place;

#define AT(name, member)                                                                          \
  {                                                                                               \
    name, offsetof(rw_resin, member)                                                              \
  }
static const place places[] = {
    AT("k1", law.k1),
    AT("E1", law.E1),
    AT("k2", law.k2),
    AT("E2", law.E2),
    AT("m", law.m),
    AT("n", law.n),
    AT("T_ref", law.T_ref),
    AT("diffusion_steepness", law.C),
    AT("diffusion_conversion", law.ac0),
    AT("diffusion_slope", law.acT),
    AT("Tg0", glass.Tg0),
    AT("Tg_inf", glass.Tg_inf),
    AT("lambda", glass.lambda),
    AT("viscosity", flow.mu),
    AT("viscosity_energy", flow.E),
    AT("T_ref", flow.T_ref),
    AT("gel_conversion", flow.a_gel),
    AT("C1", flow.C1),
    AT("C2", flow.C2),
    AT("heat", heat),
    AT("heat_capacity", heat_capacity),
    AT("density", density),
    AT("hardener", hardener),
    AT("work_viscosity", work_viscosity),
};

rw_status rw_resin_find(const char *name, rw_resin *out, rw_error *err)
{
  const rw_material *m;
  rw_status status = rw_material_find(RW_RESIN, name, &m, err);
  if (status != RW_OK)
    return status;
  rw_resin r = {.law.kind = RW_LAW_KAMAL};
  const rw_property *p;
  for (size_t i = 0; i < sizeof places / sizeof *places; i++) {
    status = rw_material_property(m, places[i].name, &p, err);
    if (status != RW_OK)
      return status;
    *(double *)((char *)&r + places[i].offset) = p->value;
  }
  for (int i = 0; i < RW_MILESTONES; i++) {
    const char *key = i == RW_GEL ? "gel_conversion" : rw_milestone_key((rw_milestone)i);
    status = rw_material_property(m, key, &p, err);
    if (status != RW_OK)
      return status;
    r.threshold[i] = (rw_value){p->value, p->sd};
  }
  status = rw_material_property(m, "rate_spread", &p, err);
  if (status != RW_OK)
    return status;
  r.rate_sd = p->value;
  status = rw_material_property(m, "E2", &p, err);
  if (status != RW_OK)
    return status;
  r.energy_sd = p->sd;
  *out = r;
  return RW_OK;
}

static rw_status check_positive(const char *argument, double value, const char *unit,
                                rw_error *err)
{
  if (value > 0 && isfinite(value))
    return RW_OK;
  return rw_error_range(err, "rw_resin_check", argument, value, 0, HUGE_VAL, unit, NULL);
}

static rw_status check_spread(const char *argument, double sd, double most, const char *unit,
                              rw_error *err)
{
  if (sd >= 0 && sd <= most)
    return RW_OK;
  return rw_error_range(err, "rw_resin_check", argument, sd, 0, most, unit,
                        "A spread is a standard deviation: 0 or more.");
}

rw_status rw_resin_check(const rw_resin *r, rw_error *err)
{
  rw_status law = rw_cure_law_check(&r->law, err);
  if (law < 0)
    return law;
  double unused;
  rw_status status = rw_glass_temperature(&r->glass, 0, &unused, err);
  if (status == RW_OK)
    status = rw_viscosity(&r->flow, 0, 298.15, &unused, err);
  if (status == RW_OK)
    status = check_positive("heat", r->heat, "J/kg", err);
  if (status == RW_OK)
    status = check_positive("heat_capacity", r->heat_capacity, "J/(kg K)", err);
  if (status == RW_OK)
    status = check_positive("density", r->density, "kg/m3", err);
  if (status == RW_OK)
    status = check_positive("work_viscosity", r->work_viscosity, "Pa s", err);
  if (status == RW_OK)
    status = check_spread("rate_sd", r->rate_sd, 10, "", err);
  if (status == RW_OK)
    status = check_spread("energy_sd", r->energy_sd, 300e3, "J/mol", err);
  for (int i = 0; status == RW_OK && i < RW_MILESTONES; i++)
    status = check_spread(rw_milestone_key((rw_milestone)i), r->threshold[i].sd, 10, "", err);
  for (int i = 0; status == RW_OK && i < RW_MILESTONES; i++) {
    if (i == RW_WORK_END || (r->threshold[i].value >= 0 && r->threshold[i].value <= 1))
      continue;
    status = rw_error_range(err, "rw_resin_check", rw_milestone_key((rw_milestone)i),
                            r->threshold[i].value, 0, 1, "",
                            "A threshold is a degree of cure between 0 and 1.");
  }
  return status == RW_OK ? law : status;
}
