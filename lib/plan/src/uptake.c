/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "refuse.h"

#include <resinwright/plan.h>

#include <stdio.h>
#include <string.h>

static const char FUNCTION[] = "rw_plan_uptake";

static rw_status check(const rw_cloth *layer, size_t n, rw_layup layup, double resin_density,
                       rw_value cover, rw_error *err)
{
  if (layer == NULL && n > 0)
    return rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, "layer", NULL, "layer is missing");
  if (layup != RW_BY_HAND && layup != RW_BAGGED)
    return rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, "layup", "Lay by hand or under a bag.",
                        "layup is neither by hand nor bagged");
  if (!(resin_density >= 100 && resin_density <= 25000))
    return rw_error_range(err, FUNCTION, "resin_density", resin_density, 100, 25000, "kg/m3",
                          "Mixed epoxy weighs about 1.1 g/cm3.");
  return plan_amount(FUNCTION, "cover", cover, 0, 0.1, "m", err);
}

/* Says which layer an error of the cloth is about. */
static rw_status of_layer(size_t i, rw_status status, rw_error *err)
{
  if (status >= 0 || err == NULL)
    return status;
  char said[sizeof err->message];
  memcpy(said, err->message, sizeof said);
  snprintf(err->message, sizeof err->message, "layer %zu: %.280s", i + 1, said);
  return status;
}

static rw_value share_of(const rw_cloth *c, rw_layup layup)
{
  return layup == RW_BAGGED ? c->bagged : c->hand;
}

rw_status rw_plan_uptake(const rw_cloth *layer, size_t n, rw_layup layup, double resin_density,
                         rw_value soak, rw_value cover, rw_value waste, rw_uptake *out,
                         rw_error *err)
{
  rw_status status = check(layer, n, layup, resin_density, cover, err);
  rw_uptake u = {.soak = soak, .waste = waste};
  for (size_t i = 0; status == RW_OK && i < n; i++) {
    rw_value resin = {0, 0};
    status = of_layer(
        i, rw_cloth_resin(&layer[i], share_of(&layer[i], layup), resin_density, &resin, err), err);
    u.cloth.value += resin.value;
    u.cloth.sd += resin.sd;
  }
  if (status == RW_OK && n > 0)
    status = of_layer(
        0,
        rw_cloth_fill(&layer[0], share_of(&layer[0], layup), resin_density, cover, &u.fill, err),
        err);
  else
    u.fill = (rw_value){resin_density * cover.value, resin_density * cover.sd};
  rw_value mixed;
  if (status == RW_OK)
    status = rw_uptake_mixed(&u, &mixed, err);
  if (status >= 0)
    *out = u;
  return status;
}
