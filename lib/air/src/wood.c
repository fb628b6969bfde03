/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "air_range.h"

#include <resinwright/num.h>

static const double ZERO_C = 273.15;
static const double COLDEST = 240.0, WARMEST = 380.0;
static const double TESTED_LOW = 272.0, TESTED_HIGH = 345.0;

/* The four temperature-dependent numbers of the two-hydrate equation. */
struct hydrates {
  double w, k, k1, k2;
};

/* Simpson 1998, FPL-RN-0268; Wood Handbook FPL-GTR-190 eq. 4-5: coefficients for degC. */
static struct hydrates hydrates_at(double temperature)
{
  double t = temperature - ZERO_C;
  return (struct hydrates){.w = 349.0 + t * (1.29 + t * 0.0135),
                           .k = 0.805 + t * (0.000736 - t * 0.00000273),
                           .k1 = 6.27 + t * (-0.00938 - t * 0.000303),
                           .k2 = 1.91 + t * (0.0407 - t * 0.000293)};
}

static double moisture_at(const struct hydrates *p, double humidity)
{
  double kh = p->k * humidity;
  double one = p->k1 * kh, two = p->k1 * p->k2 * kh * kh;
  return 18.0 / p->w * (kh / (1.0 - kh) + (one + 2.0 * two) / (1.0 + one + two));
}

static rw_status check_temperature(const char *function, double temperature, rw_error *err)
{
  return air_between(function, "temperature", temperature, COLDEST, WARMEST, "K", AIR_KELVIN_HINT,
                     err);
}

static rw_status tested(double temperature)
{
  return temperature >= TESTED_LOW && temperature <= TESTED_HIGH ? RW_OK : RW_OUTSIDE_TESTED;
}

rw_status rw_air_wood_moisture(double temperature, double humidity, double *moisture,
                               rw_error *err)
{
  static const char *const me = "rw_air_wood_moisture";
  rw_status status = air_result(me, "moisture", moisture, err);
  if (status == RW_OK)
    status = check_temperature(me, temperature, err);
  if (status == RW_OK)
    status = air_between(me, "humidity", humidity, 0.0, 1.0, "", AIR_HUMIDITY_HINT, err);
  if (status != RW_OK)
    return status;
  struct hydrates p = hydrates_at(temperature);
  *moisture = moisture_at(&p, humidity);
  return tested(temperature);
}

struct wanted {
  struct hydrates p;
  double moisture;
};

static double surplus(double humidity, void *context)
{
  const struct wanted *w = context;
  return moisture_at(&w->p, humidity) - w->moisture;
}

rw_status rw_air_wood_humidity(double temperature, double moisture, double *humidity,
                               rw_error *err)
{
  static const char *const me = "rw_air_wood_humidity";
  rw_status status = air_result(me, "humidity", humidity, err);
  if (status == RW_OK)
    status = check_temperature(me, temperature, err);
  if (status != RW_OK)
    return status;
  struct wanted w = {hydrates_at(temperature), moisture};
  double wettest = moisture_at(&w.p, 1.0);
  status = air_between(me, "moisture", moisture, 0.0, wettest, "",
                       "moisture is a share of the dry mass: 12 % is 0.12; wood with more than "
                       "the upper bound holds free water and says nothing about the air",
                       err);
  if (status != RW_OK)
    return status;
  double found = moisture > 0.0 ? 1.0 : 0.0;
  if (moisture > 0.0 && moisture < wettest)
    status = rw_num_root(surplus, &w, 0.0, 1.0, 1e-14, &found, err);
  if (status != RW_OK)
    return status;
  *humidity = found;
  return tested(temperature);
}
