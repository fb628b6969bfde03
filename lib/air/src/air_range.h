/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Checks shared by the files of this room. */
#ifndef RW_AIR_RANGE_H
#define RW_AIR_RANGE_H

#include <resinwright/air.h>

#define AIR_KELVIN_HINT                                                                           \
  "temperatures are in kelvin here: 20 degrees Celsius is 293.15 K, 68 Fahrenheit is the same"
#define AIR_HUMIDITY_HINT "relative humidity is a share here: 65 % is 0.65"

/* RW_OK, or RW_ERR_RANGE where the value is not within low to high. */
rw_status air_between(const char *function, const char *argument, double value, double low,
                      double high, const char *unit, const char *hint, rw_error *err);
/* RW_OK, or RW_ERR_ARGUMENT where there is nowhere to put a result. */
rw_status air_result(const char *function, const char *argument, const void *result,
                     rw_error *err);

#endif
