/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * @file air.h
 * @brief Fourth floor: dew point, humidity at a surface, wood moisture.
 *
 * Every function returns RW_ERR_ARGUMENT where the place for its result is NULL.
 *
 * Threads: reentrant.
 */
#ifndef RESINWRIGHT_AIR_H
#define RESINWRIGHT_AIR_H

#include <resinwright/base.h>

#ifdef __cplusplus
extern "C" {
#endif

/**
 * Saturation vapour pressure over liquid water, Magnus form
 * e = 611.2 Pa exp(17.62 t/(243.12 + t)), t in degC (Sonntag 1990, as recommended by the WMO
 * CIMO guide 2008). Within 0.35 % of printed steam tables from 0 to 50 degC.
 * @param temperature  K, 228 to 363
 * @param pressure     Pa
 * @param err          error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED outside 273.15 to 323.15 K; RW_ERR_RANGE
 */
RW_API rw_status rw_air_saturation(double temperature, double *pressure, rw_error *err);
/**
 * Dew point, the inverse of rw_air_saturation at e = humidity e_s. Over water: below 0 degC hoar
 * frost forms a little sooner (not included).
 * @param temperature  air, K, 228 to 363
 * @param humidity     relative, 0.001 to 1
 * @param dew_point    K
 * @param err          error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED where air or dew point is outside 273.15 to 323.15 K;
 *         RW_ERR_RANGE
 */
RW_API rw_status rw_air_dew_point(double temperature, double humidity, double *dew_point,
                                  rw_error *err);
/**
 * How far a surface stays above the dew point, with the hygrometer's uncertainty carried. The
 * three readings are taken as independent.
 * @param air       air temperature, K, 228 to 363 (sd: thermometer)
 * @param humidity  relative 0.001 to 1 (sd: hygrometer, 0.05 is usual: common practice)
 * @param surface   surface temperature, K, 228 to 363
 * @param margin    surface minus dew point, K, first-order standard deviation
 * @param err       error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED as rw_air_dew_point; RW_ERR_RANGE, also for an sd below 0
 */
RW_API rw_status rw_air_dew_margin(rw_value air, rw_value humidity, rw_value surface,
                                   rw_value *margin, rw_error *err);
/**
 * Equilibrium moisture content of wood, Hailwood-Horrobin two-hydrate equation with the USDA
 * coefficients (Simpson 1998, FPL-RN-0268; Wood Handbook FPL-GTR-190 eq. 4-5).
 * @param temperature  K, 240 to 380
 * @param humidity     relative, 0 to 1
 * @param moisture     mass of water / mass of dry wood
 * @param err          error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED outside 272 to 345 K; RW_ERR_RANGE
 */
RW_API rw_status rw_air_wood_moisture(double temperature, double humidity, double *moisture,
                                      rw_error *err);
/**
 * Humidity at which wood keeps a given moisture content: the inverse of rw_air_wood_moisture.
 * @param temperature  K, 240 to 380
 * @param moisture     mass of water / mass of dry wood, 0 to the content at humidity 1
 * @param humidity     relative, 0 to 1, within 1e-13
 * @param err          error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED outside 272 to 345 K; RW_ERR_RANGE; RW_ERR_NUMERIC
 */
RW_API rw_status rw_air_wood_humidity(double temperature, double moisture, double *humidity,
                                      rw_error *err);

#ifdef __cplusplus
}
#endif
#endif
