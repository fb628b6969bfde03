/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fibre share and air, read back from what was measured. */
#include "cloth_range.h"

#include <math.h>

static const double MOST_VOIDS = 0.5;
static const double SLACK = 1e-9; /* rounding of a thickness worked out from the resin */

static const char pressed[] =
    "no cloth of this weave can be pressed thinner; give metres, of one layer";

static rw_status above_zero(const char *function, const char *argument, rw_value value,
                            const char *unit, rw_error *err)
{
  rw_status status = cloth_amount(function, argument, value, unit, err);
  if (status == RW_OK && !(value.value > 0.0))
    status = rw_error_range(err, function, argument, value.value, 0.0, HUGE_VAL, unit,
                            "it must be above zero");
  return status;
}

static rw_status check(const char *function, const rw_cloth *c, const char *argument,
                       rw_value measured, const char *unit, const rw_value *volume_share,
                       rw_error *err)
{
  rw_status status = cloth_sound(function, c, err);
  if (status == RW_OK)
    status = cloth_given(function, "volume_share", volume_share, err);
  if (status == RW_OK)
    status = above_zero(function, argument, measured, unit, err);
  return status;
}

rw_status rw_cloth_share_by_thickness(const rw_cloth *c, rw_value thickness,
                                      rw_value *volume_share, rw_error *err)
{
  static const char *const me = "rw_cloth_share_by_thickness";
  rw_status status = check(me, c, "thickness", thickness, "m", volume_share, err);
  if (status != RW_OK)
    return status;
  double solid = c->areal_mass / c->fibre_density, least = solid / rw_weave_limit(c->weave);
  if (thickness.value < least)
    return rw_error_range(err, me, "thickness", thickness.value, least, HUGE_VAL, "m", pressed);
  volume_share->value = solid / thickness.value;
  volume_share->sd = volume_share->value / thickness.value * thickness.sd;
  return RW_OK;
}

rw_status rw_cloth_share_by_resin(const rw_cloth *c, rw_value resin, double resin_density,
                                  rw_value *volume_share, rw_error *err)
{
  static const char *const me = "rw_cloth_share_by_resin";
  rw_status status = check(me, c, "resin", resin, "kg/m2", volume_share, err);
  if (status == RW_OK)
    status = cloth_density(me, "resin_density", resin_density, err);
  if (status != RW_OK)
    return status;
  double solid = c->areal_mass / c->fibre_density;
  double least = solid * (1.0 / rw_weave_limit(c->weave) - 1.0) * resin_density;
  if (resin.value < least)
    return rw_error_range(err, me, "resin", resin.value, least, HUGE_VAL, "kg/m2",
                          "a cloth of this weave holds more even when pressed hard; was some left "
                          "dry?");
  double v = solid / (solid + resin.value / resin_density);
  volume_share->value = v;
  volume_share->sd = v * v / solid / resin_density * resin.sd;
  return RW_OK;
}

static rw_status check_porous(const char *function, const rw_cloth *c, rw_value thickness,
                              rw_value resin, double resin_density, const rw_porous *out,
                              rw_error *err)
{
  rw_status status = cloth_sound(function, c, err);
  if (status == RW_OK)
    status = cloth_given(function, "out", out, err);
  if (status == RW_OK)
    status = above_zero(function, "thickness", thickness, "m", err);
  if (status == RW_OK)
    status = above_zero(function, "resin", resin, "kg/m2", err);
  if (status == RW_OK)
    status = cloth_density(function, "resin_density", resin_density, err);
  return status;
}

rw_status rw_cloth_porous(const rw_cloth *c, rw_value thickness, rw_value resin,
                          double resin_density, rw_porous *out, rw_error *err)
{
  static const char *const me = "rw_cloth_porous";
  rw_status status = check_porous(me, c, thickness, resin, resin_density, out, err);
  if (status != RW_OK)
    return status;
  double t = thickness.value, solid = c->areal_mass / c->fibre_density;
  double filled = solid + resin.value / resin_density, most = filled / (1.0 - MOST_VOIDS);
  double solid_most = solid / rw_weave_limit(c->weave), least = fmax(filled, solid_most);
  if (t < least * (1.0 - SLACK))
    return rw_error_range(err, me, "thickness", t, least, fmax(most, least), "m",
                          solid_most > filled
                              ? pressed
                              : "fibre and resin fill more than that: measure both again, of this "
                                "layer alone, or give only one of the two");
  if (t > most)
    return rw_error_range(err, me, "thickness", t, fmin(least, most), most, "m",
                          "more than half of it would be air: were several layers measured, or "
                          "resin left out?");
  double air = fmax(0.0, 1.0 - filled / t);
  *out = (rw_porous){
      .volume_share = {solid / t, solid / t * thickness.sd / t},
      .voids = {air, hypot(filled / t * thickness.sd / t, resin.sd / resin_density / t)},
      .density = (c->areal_mass + resin.value) / t};
  return RW_OK;
}

rw_status rw_void_share(double density, double measured, double *voids, rw_error *err)
{
  static const char *const me = "rw_void_share";
  rw_status status = cloth_given(me, "voids", voids, err);
  if (status == RW_OK)
    status = cloth_density(me, "density", density, err);
  if (status == RW_OK)
    status = cloth_density(me, "measured", measured, err);
  if (status == RW_OK)
    status =
        cloth_between(me, "measured", measured, 0.0, density, "kg/m3",
                      "heavier than without voids cannot be: weigh again, and see whether the "
                      "fibre's share and density are right",
                      err);
  if (status == RW_OK)
    *voids = 1.0 - measured / density;
  return status;
}

rw_status rw_void_effect(double voids, double volume_share, double density, double *porous_share,
                         double *porous_density, rw_error *err)
{
  static const char *const me = "rw_void_effect";
  rw_status status = cloth_given(me, "porous_share", porous_share, err);
  if (status == RW_OK)
    status = cloth_given(me, "porous_density", porous_density, err);
  if (status == RW_OK)
    status = cloth_between(me, "voids", voids, 0.0, MOST_VOIDS, "",
                           "hand lay-up holds a few per cent of air: 3 % is 0.03", err);
  if (status == RW_OK)
    status = cloth_between(me, "volume_share", volume_share, 0.0, 1.0, "",
                           "a share runs from 0 to 1: 42 % is 0.42", err);
  if (status == RW_OK)
    status = cloth_density(me, "density", density, err);
  if (status != RW_OK)
    return status;
  *porous_share = (1.0 - voids) * volume_share;
  *porous_density = (1.0 - voids) * density;
  return RW_OK;
}
