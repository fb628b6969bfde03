/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "air_range.h"

#include <math.h>

/* Magnus form over water: Sonntag 1990, as in the WMO CIMO guide 2008. */
static const double MAGNUS_A = 611.2; /* Pa */
static const double MAGNUS_B = 17.62;
static const double MAGNUS_C = 243.12; /* degC */
static const double ZERO_C = 273.15;

static const double COLDEST = 228.0, WARMEST = 363.0;
static const double TESTED_LOW = 273.15, TESTED_HIGH = 323.15;
static const double DRIEST = 0.001;

static int tested(double temperature)
{
  return temperature >= TESTED_LOW && temperature <= TESTED_HIGH;
}

static rw_status check_temperature(const char *function, const char *argument, double t,
                                   rw_error *err)
{
  return air_between(function, argument, t, COLDEST, WARMEST, "K", AIR_KELVIN_HINT, err);
}

static rw_status check_humidity(const char *function, double h, rw_error *err)
{
  return air_between(function, "humidity", h, DRIEST, 1.0, "", AIR_HUMIDITY_HINT, err);
}

static rw_status check_sd(const char *function, const char *argument, double sd, const char *unit,
                          rw_error *err)
{
  if (sd >= 0.0 && sd < HUGE_VAL)
    return RW_OK;
  return rw_error_range(err, function, argument, sd, 0.0, HUGE_VAL, unit,
                        "give the standard deviation of the reading, 0 if it is exact");
}

rw_status rw_air_saturation(double temperature, double *pressure, rw_error *err)
{
  static const char *const me = "rw_air_saturation";
  rw_status status = air_result(me, "pressure", pressure, err);
  if (status == RW_OK)
    status = check_temperature(me, "temperature", temperature, err);
  if (status != RW_OK)
    return status;
  double t = temperature - ZERO_C;
  *pressure = MAGNUS_A * exp(MAGNUS_B * t / (MAGNUS_C + t));
  return tested(temperature) ? RW_OK : RW_OUTSIDE_TESTED;
}

/* ln(e/a): the number that air temperature and humidity meet in. */
static double vapour_log(double temperature, double humidity)
{
  double t = temperature - ZERO_C;
  return log(humidity) + MAGNUS_B * t / (MAGNUS_C + t);
}

static double dew_point_of(double vapour)
{
  return ZERO_C + MAGNUS_C * vapour / (MAGNUS_B - vapour);
}

rw_status rw_air_dew_point(double temperature, double humidity, double *dew_point, rw_error *err)
{
  static const char *const me = "rw_air_dew_point";
  rw_status status = air_result(me, "dew_point", dew_point, err);
  if (status == RW_OK)
    status = check_temperature(me, "temperature", temperature, err);
  if (status == RW_OK)
    status = check_humidity(me, humidity, err);
  if (status != RW_OK)
    return status;
  double dew = dew_point_of(vapour_log(temperature, humidity));
  *dew_point = dew;
  return tested(temperature) && tested(dew) ? RW_OK : RW_OUTSIDE_TESTED;
}

static rw_status check_margin(const char *me, rw_value air, rw_value humidity, rw_value surface,
                              rw_error *err)
{
  rw_status status = check_temperature(me, "air", air.value, err);
  if (status == RW_OK)
    status = check_sd(me, "air.sd", air.sd, "K apart", err);
  if (status == RW_OK)
    status = check_humidity(me, humidity.value, err);
  if (status == RW_OK)
    status = check_sd(me, "humidity.sd", humidity.sd, "", err);
  if (status == RW_OK)
    status = check_temperature(me, "surface", surface.value, err);
  if (status == RW_OK)
    status = check_sd(me, "surface.sd", surface.sd, "K apart", err);
  return status;
}

rw_status rw_air_dew_margin(rw_value air, rw_value humidity, rw_value surface, rw_value *margin,
                            rw_error *err)
{
  static const char *const me = "rw_air_dew_margin";
  rw_status status = air_result(me, "margin", margin, err);
  if (status == RW_OK)
    status = check_margin(me, air, humidity, surface, err);
  if (status != RW_OK)
    return status;
  double vapour = vapour_log(air.value, humidity.value);
  double dew = dew_point_of(vapour);
  double left = MAGNUS_B - vapour;
  double by_vapour = MAGNUS_B * MAGNUS_C / (left * left);
  double reach = MAGNUS_C + air.value - ZERO_C;
  double by_air = by_vapour * MAGNUS_B * MAGNUS_C / (reach * reach);
  double by_humidity = by_vapour / humidity.value;
  margin->value = surface.value - dew;
  margin->sd = hypot(surface.sd, hypot(by_air * air.sd, by_humidity * humidity.sd));
  return tested(air.value) && tested(dew) ? RW_OK : RW_OUTSIDE_TESTED;
}
