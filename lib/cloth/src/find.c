/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cloth_range.h"

#include <stdio.h>

static const double TESTED_LIGHT = 0.02, TESTED_HEAVY = 1.2; /* kg/m2 */

static rw_status number(const rw_material *m, const char *name, rw_value *out, rw_error *err)
{
  const rw_property *p = NULL;
  rw_status status = rw_material_property(m, name, &p, err);
  if (status == RW_OK)
    *out = (rw_value){p->value, p->sd};
  return status;
}

static rw_status fibre_density(const char *fibre, double *density, rw_error *err)
{
  const rw_material *m = NULL;
  rw_value found = {0.0, 0.0};
  rw_status status = rw_material_find(RW_FIBRE, fibre, &m, err);
  if (status == RW_OK)
    status = number(m, "density", &found, err);
  if (status == RW_OK)
    *density = found.value;
  return status;
}

static rw_status shares(const rw_material *m, rw_cloth *c, rw_error *err)
{
  rw_value crimp = {0.0, 0.0};
  rw_status status = number(m, "vf_hand", &c->hand, err);
  if (status == RW_OK)
    status = number(m, "vf_bagged", &c->bagged, err);
  if (status == RW_OK)
    status = number(m, "crimp", &crimp, err);
  c->crimp = crimp.value;
  return status;
}

static rw_status defaults_of(rw_weave weave, const rw_material **out, rw_error *err)
{
  char name[40];
  snprintf(name, sizeof name, "default-%s", cloth_weave_name(weave));
  return rw_material_find(RW_CLOTH, name, out, err);
}

/* The tables give the crown per mass of glass; a lighter fibre stands higher for its mass. */
static rw_status estimate(const rw_material *defaults, double areal_mass, double density,
                          double *crown, rw_error *err)
{
  rw_value per_mass = {0.0, 0.0};
  double glass = 0.0;
  rw_status status = number(defaults, "crown_per_mass", &per_mass, err);
  if (status == RW_OK)
    status = fibre_density("e-glass", &glass, err);
  if (status == RW_OK)
    *crown = per_mass.value * areal_mass * glass / density;
  return status;
}

rw_status cloth_crown(const rw_cloth *c, double *crown, rw_error *err)
{
  if (c->crown > 0.0) {
    *crown = c->crown;
    return RW_OK;
  }
  const rw_material *m = NULL;
  rw_status status = defaults_of(c->weave, &m, err);
  if (status == RW_OK)
    status = estimate(m, c->areal_mass, c->fibre_density, crown, err);
  return status;
}

rw_status rw_cloth_find(const char *name, rw_cloth *out, rw_error *err)
{
  static const char *const me = "rw_cloth_find";
  const rw_material *m = NULL;
  rw_cloth c = {.crown = 0.0};
  rw_value mass = {0.0, 0.0}, crown = {0.0, 0.0};
  rw_status status = cloth_given(me, "name", name, err);
  if (status == RW_OK)
    status = cloth_given(me, "out", out, err);
  if (status == RW_OK)
    status = rw_material_find(RW_CLOTH, name, &m, err);
  if (status == RW_OK)
    status = number(m, "areal_mass", &mass, err);
  if (status == RW_OK)
    status = rw_weave_find(m->weave, &c.weave, err);
  if (status == RW_OK)
    status = fibre_density(m->fibre, &c.fibre_density, err);
  if (status == RW_OK)
    status = shares(m, &c, err);
  if (status == RW_OK && number(m, "crown", &crown, NULL) == RW_OK)
    c.crown = crown.value;
  if (status != RW_OK)
    return status;
  c.areal_mass = mass.value;
  *out = c;
  return RW_OK;
}

rw_status rw_cloth_make(const char *fibre, double areal_mass, rw_weave weave, rw_cloth *out,
                        rw_error *err)
{
  static const char *const me = "rw_cloth_make";
  rw_status status = cloth_given(me, "fibre", fibre, err);
  if (status == RW_OK)
    status = cloth_given(me, "out", out, err);
  if (status == RW_OK)
    status = cloth_areal_mass(me, areal_mass, err);
  if (status == RW_OK)
    status = cloth_weave(me, weave, err);
  rw_cloth c = {.areal_mass = areal_mass, .weave = weave};
  const rw_material *m = NULL;
  if (status == RW_OK)
    status = fibre_density(fibre, &c.fibre_density, err);
  if (status == RW_OK)
    status = defaults_of(weave, &m, err);
  if (status == RW_OK)
    status = estimate(m, areal_mass, c.fibre_density, &c.crown, err);
  if (status == RW_OK)
    status = shares(m, &c, err);
  if (status != RW_OK)
    return status;
  *out = c;
  return areal_mass >= TESTED_LIGHT && areal_mass <= TESTED_HEAVY ? RW_OK : RW_OUTSIDE_TESTED;
}
