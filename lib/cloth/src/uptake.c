/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cloth_range.h"

#include <math.h>

static const double PROFILE_SPREAD = 0.25; /* of the weave volume: shape between the crowns */
static const double MOST_WASTE = 0.9;

static rw_status check_mixture(const char *function, const char *argument, double share,
                               double fibre_density, double resin_density, const void *result,
                               const char *result_name, rw_error *err)
{
  rw_status status = cloth_given(function, result_name, result, err);
  if (status == RW_OK)
    status = cloth_between(function, argument, share, 0.0, 1.0, "",
                           "a share runs from 0 to 1: 50 % is 0.5", err);
  if (status == RW_OK)
    status = cloth_density(function, "fibre_density", fibre_density, err);
  if (status == RW_OK)
    status = cloth_density(function, "resin_density", resin_density, err);
  return status;
}

rw_status rw_fibre_volume_share(double mass_share, double fibre_density, double resin_density,
                                double *volume_share, rw_error *err)
{
  rw_status status =
      check_mixture("rw_fibre_volume_share", "mass_share", mass_share, fibre_density,
                    resin_density, volume_share, "volume_share", err);
  if (status != RW_OK)
    return status;
  double fibre = mass_share / fibre_density;
  *volume_share = fibre / (fibre + (1.0 - mass_share) / resin_density);
  return RW_OK;
}

rw_status rw_fibre_mass_share(double volume_share, double fibre_density, double resin_density,
                              double *mass_share, rw_error *err)
{
  rw_status status = check_mixture("rw_fibre_mass_share", "volume_share", volume_share,
                                   fibre_density, resin_density, mass_share, "mass_share", err);
  if (status != RW_OK)
    return status;
  double fibre = volume_share * fibre_density;
  *mass_share = fibre / (fibre + (1.0 - volume_share) * resin_density);
  return RW_OK;
}

rw_status rw_laminate_density(double mass_share, double fibre_density, double resin_density,
                              double *density, rw_error *err)
{
  rw_status status = check_mixture("rw_laminate_density", "mass_share", mass_share, fibre_density,
                                   resin_density, density, "density", err);
  if (status != RW_OK)
    return status;
  *density = 1.0 / (mass_share / fibre_density + (1.0 - mass_share) / resin_density);
  return RW_OK;
}

static double thickness_of(const rw_cloth *c, double volume_share)
{
  return c->areal_mass / (c->fibre_density * volume_share);
}

rw_status rw_cloth_thickness(const rw_cloth *c, double volume_share, double *thickness,
                             rw_error *err)
{
  static const char *const me = "rw_cloth_thickness";
  rw_status status = cloth_sound(me, c, err);
  if (status == RW_OK)
    status = cloth_given(me, "thickness", thickness, err);
  if (status == RW_OK)
    status = cloth_share(me, "volume_share", volume_share, c->weave, err);
  if (status == RW_OK)
    *thickness = thickness_of(c, volume_share);
  return status;
}

static rw_status check_wet(const char *function, const rw_cloth *c, rw_value volume_share,
                           double resin_density, const void *resin, rw_error *err)
{
  rw_status status = cloth_sound(function, c, err);
  if (status == RW_OK)
    status = cloth_given(function, "resin", resin, err);
  if (status == RW_OK)
    status = cloth_share(function, "volume_share", volume_share.value, c->weave, err);
  if (status == RW_OK)
    status = cloth_amount(function, "volume_share", volume_share, "", err);
  if (status == RW_OK)
    status = cloth_density(function, "resin_density", resin_density, err);
  return status;
}

rw_status rw_cloth_resin(const rw_cloth *c, rw_value volume_share, double resin_density,
                         rw_value *resin, rw_error *err)
{
  rw_status status = check_wet("rw_cloth_resin", c, volume_share, resin_density, resin, err);
  if (status != RW_OK)
    return status;
  double v = volume_share.value;
  double thickness = thickness_of(c, v);
  resin->value = resin_density * thickness * (1.0 - v);
  resin->sd = resin_density * thickness / v * volume_share.sd;
  return RW_OK;
}

rw_status rw_cloth_fill(const rw_cloth *c, rw_value volume_share, double resin_density,
                        rw_value cover, rw_value *resin, rw_error *err)
{
  static const char *const me = "rw_cloth_fill";
  double crown = 0.0;
  rw_status status = check_wet(me, c, volume_share, resin_density, resin, err);
  if (status == RW_OK)
    status = cloth_amount(me, "cover", cover, "m", err);
  if (status == RW_OK)
    status = cloth_crown(c, &crown, err);
  if (status != RW_OK)
    return status;
  double v = volume_share.value;
  double wet = thickness_of(c, v);
  double weave = crown > wet ? crown - wet : 0.0;
  double by_share = weave > 0.0 ? wet / v * volume_share.sd : 0.0;
  resin->value = resin_density * (weave + cover.value);
  resin->sd = resin_density * hypot(cover.sd, hypot(PROFILE_SPREAD * weave, by_share));
  return RW_OK;
}

rw_status rw_uptake_mixed(const rw_uptake *u, rw_value *mixed, rw_error *err)
{
  static const char *const me = "rw_uptake_mixed";
  rw_status status = cloth_given(me, "u", u, err);
  if (status == RW_OK)
    status = cloth_given(me, "mixed", mixed, err);
  if (status == RW_OK)
    status = cloth_amount(me, "soak", u->soak, "kg/m2", err);
  if (status == RW_OK)
    status = cloth_amount(me, "cloth", u->cloth, "kg/m2", err);
  if (status == RW_OK)
    status = cloth_amount(me, "fill", u->fill, "kg/m2", err);
  if (status == RW_OK)
    status = cloth_between(me, "waste", u->waste.value, 0.0, MOST_WASTE, "",
                           "waste is a share of what is mixed: 15 % is 0.15", err);
  if (status == RW_OK)
    status = cloth_amount(me, "waste", u->waste, "", err);
  if (status != RW_OK)
    return status;
  double used = 1.0 - u->waste.value;
  double total = (u->soak.value + u->cloth.value + u->fill.value) / used;
  double on_hull = hypot(u->soak.sd, hypot(u->cloth.sd, u->fill.sd)) / used;
  mixed->value = total;
  mixed->sd = hypot(on_hull, total / used * u->waste.sd);
  return RW_OK;
}
