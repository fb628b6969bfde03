/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is safe of a resin whose rate is not known exactly. */
#include "refuse.h"

#include <resinwright/heat.h>

#include <math.h>

static const double MOST = 1.645; /* 95 of 100 lie below so many standard deviations */

/* A mass whose greatest safe measure is sought. */
typedef struct sought {
  double surface, air;
  const rw_vessel *vessel; /* else NULL, a body of resin */
  rw_shape shape;
  double conductivity;
} sought;

/* Of the resin so much faster; HUGE_VAL where there is no limit. */
static rw_status greatest(const rw_resin *r, double log_rate, const sought *m, double *out,
                          rw_error *err)
{
  rw_resin hurried = *r;
  hurried.law = rw_cure_law_moved(&r->law, log_rate, 0);
  rw_status status =
      m->vessel != NULL
          ? rw_vessel_safe_mass(&hurried, m->vessel, m->surface, m->air, out, err)
          : rw_resin_safe_size(&hurried, m->shape, m->conductivity, m->surface, m->air, out, err);
  if (status == RW_NOT_REACHED)
    *out = HUGE_VAL;
  return status;
}

/* How far off the rate at a temperature may be, standard deviation of its logarithm. */
static double rate_sd(const rw_resin *r, double T)
{
  return hypot(r->rate_sd, r->energy_sd / RW_GAS_CONSTANT * (1 / r->law.T_ref - 1 / T));
}

/* The best estimate first: it checks what is given. */
static rw_status range_of(const rw_resin *r, const sought *m, rw_heat_range *out, rw_error *err)
{
  rw_heat_range found = {.because = RW_HEAT_RATE};
  rw_error cause = {0};
  double faster = 0;
  rw_status status = greatest(r, 0, m, &found.value, &cause);
  if (status >= 0) {
    faster = MOST * rate_sd(r, m->air);
    status = greatest(r, -faster, m, &found.high, &cause);
  }
  if (status < 0) {
    if (err != NULL)
      *err = cause;
    return status;
  }
  status = greatest(r, faster, m, &found.low, err);
  if (status >= 0 && status != RW_NOT_REACHED)
    *out = found;
  return status;
}

rw_status rw_resin_safe_size_range(const rw_resin *r, rw_shape shape, double conductivity,
                                   double surface, double air, rw_heat_range *size, rw_error *err)
{
  static const char function[] = "rw_resin_safe_size_range";
  rw_status status = heat_given(function, "r", r, err);
  if (status == RW_OK)
    status = heat_given(function, "size", size, err);
  const sought m = {surface, air, NULL, shape, conductivity};
  return status == RW_OK ? range_of(r, &m, size, err) : status;
}

rw_status rw_vessel_safe_mass_range(const rw_resin *r, const rw_vessel *v, double surface,
                                    double air, rw_heat_range *mass, rw_error *err)
{
  static const char function[] = "rw_vessel_safe_mass_range";
  rw_status status = heat_given(function, "r", r, err);
  if (status == RW_OK)
    status = heat_given(function, "v", v, err);
  if (status == RW_OK)
    status = heat_given(function, "mass", mass, err);
  const sought m = {.surface = surface, .air = air, .vessel = v};
  return status == RW_OK ? range_of(r, &m, mass, err) : status;
}
