/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "air_range.h"

rw_status air_between(const char *function, const char *argument, double value, double low,
                      double high, const char *unit, const char *hint, rw_error *err)
{
  if (value >= low && value <= high)
    return RW_OK;
  return rw_error_range(err, function, argument, value, low, high, unit, hint);
}

rw_status air_result(const char *function, const char *argument, const void *result, rw_error *err)
{
  if (result != NULL)
    return RW_OK;
  return rw_error_set(err, RW_ERR_ARGUMENT, function, argument,
                      "pass the address of a variable for the result",
                      "there is nowhere to put the result: %s is missing", argument);
}
