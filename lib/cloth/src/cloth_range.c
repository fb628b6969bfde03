/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cloth_range.h"

#include <math.h>
#include <stdio.h>

static const double LIGHTEST = 100.0, HEAVIEST = 25000.0; /* kg/m3: foam to the densest metal */
static const double THINNEST_CLOTH = 0.01, THICKEST_CLOTH = 2.0; /* kg/m2 */
static const double HIGHEST_CROWN = 0.02;                        /* m */

rw_status cloth_between(const char *function, const char *argument, double value, double low,
                        double high, const char *unit, const char *hint, rw_error *err)
{
  if (value >= low && value <= high)
    return RW_OK;
  return rw_error_range(err, function, argument, value, low, high, unit, hint);
}

rw_status cloth_given(const char *function, const char *argument, const void *pointer,
                      rw_error *err)
{
  if (pointer != NULL)
    return RW_OK;
  return rw_error_set(err, RW_ERR_ARGUMENT, function, argument, "pass an address, not NULL",
                      "the argument %s is missing", argument);
}

static rw_status amount(const char *function, const char *argument, double value, const char *unit,
                        rw_error *err)
{
  if (value >= 0.0 && value < HUGE_VAL)
    return RW_OK;
  return rw_error_range(err, function, argument, value, 0.0, HUGE_VAL, unit, NULL);
}

rw_status cloth_amount(const char *function, const char *argument, rw_value value,
                       const char *unit, rw_error *err)
{
  char spread[64];
  snprintf(spread, sizeof spread, "%s.sd", argument);
  rw_status status = amount(function, argument, value.value, unit, err);
  return status == RW_OK ? amount(function, spread, value.sd, unit, err) : status;
}

rw_status cloth_density(const char *function, const char *argument, double density, rw_error *err)
{
  return cloth_between(function, argument, density, LIGHTEST, HEAVIEST, "kg/m3",
                       "densities are in kg/m3: 2.54 g/cm3 is 2540", err);
}

rw_status cloth_areal_mass(const char *function, double areal_mass, rw_error *err)
{
  return cloth_between(function, "areal_mass", areal_mass, THINNEST_CLOTH, THICKEST_CLOTH, "kg/m2",
                       "200 g/m2 is 0.2 kg/m2; 6 oz/yd2 is 0.203 kg/m2", err);
}

rw_status cloth_weave(const char *function, rw_weave weave, rw_error *err)
{
  return cloth_between(function, "weave", (double)weave, RW_PLAIN, RW_MAT, "",
                       "use one of the weaves the library names", err);
}

rw_status cloth_share(const char *function, const char *argument, double share, rw_weave weave,
                      rw_error *err)
{
  rw_status status = cloth_weave(function, weave, err);
  if (status != RW_OK)
    return status;
  double limit = rw_weave_limit(weave);
  if (share > 0.0 && share <= limit)
    return RW_OK;
  char hint[200];
  snprintf(hint, sizeof hint,
           "no %s cloth holds more fibre than that by volume; 0.35 to 0.45 by hand is usual; a "
           "mass share has to be turned into a volume share first",
           cloth_weave_name(weave));
  return rw_error_range(err, function, argument, share, 0.0, limit, "", hint);
}

static rw_status check_share(const char *function, const char *argument, rw_value share,
                             rw_weave weave, rw_error *err)
{
  rw_status status = cloth_share(function, argument, share.value, weave, err);
  return status == RW_OK ? cloth_amount(function, argument, share, "", err) : status;
}

/* A crown of 0 is to be estimated; any other is at least the thickness of the bare fibre. */
static rw_status check_crown(const char *function, const rw_cloth *c, rw_error *err)
{
  if (c->crown == 0.0)
    return RW_OK;
  return cloth_between(
      function, "crown", c->crown, c->areal_mass / c->fibre_density, HIGHEST_CROWN, "m",
      "the dry cloth cannot be thinner than its fibre pressed solid; give metres, "
      "or 0 to have it estimated",
      err);
}

rw_status cloth_sound(const char *function, const rw_cloth *c, rw_error *err)
{
  rw_status status = cloth_given(function, "c", c, err);
  if (status == RW_OK)
    status = cloth_areal_mass(function, c->areal_mass, err);
  if (status == RW_OK)
    status = cloth_density(function, "fibre_density", c->fibre_density, err);
  if (status == RW_OK)
    status = cloth_weave(function, c->weave, err);
  if (status == RW_OK)
    status = check_crown(function, c, err);
  if (status == RW_OK)
    status = cloth_between(function, "crimp", c->crimp, 0.0, 0.5, "",
                           "a woven cloth loses a few per cent to the waviness of its yarns", err);
  if (status == RW_OK)
    status = check_share(function, "hand", c->hand, c->weave, err);
  if (status == RW_OK)
    status = check_share(function, "bagged", c->bagged, c->weave, err);
  return status;
}

rw_status rw_cloth_check(const rw_cloth *c, rw_error *err)
{
  return cloth_sound("rw_cloth_check", c, err);
}
