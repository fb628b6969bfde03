/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "refuse.h"

#include <math.h>

rw_status plan_above_zero(const char *function, const char *argument, double value, double most,
                          const char *unit, const char *hint, rw_error *err)
{
  if (value > 0 && value <= most)
    return RW_OK;
  if (value != 0)
    return rw_error_range(err, function, argument, value, 0, most, unit, hint);
  rw_error_set(err, RW_ERR_RANGE, function, argument, hint, "%s is 0 and must be above 0",
               argument);
  if (err != NULL) {
    err->value = err->low = 0;
    err->high = most;
  }
  return RW_ERR_RANGE;
}

rw_status plan_amount(const char *function, const char *argument, rw_value v, double low,
                      double high, const char *unit, rw_error *err)
{
  if (!(v.value >= low && v.value <= high))
    return rw_error_range(err, function, argument, v.value, low, high, unit, NULL);
  if (!(v.sd >= 0 && v.sd <= high))
    return rw_error_range(err, function, argument, v.sd, 0, high, unit,
                          "A standard deviation cannot be negative.");
  return RW_OK;
}

rw_status plan_no_choice(const char *function, const char *argument, const char *message,
                         const char *hint, rw_error *err)
{
  return rw_error_set(err, RW_NO_SOLUTION, function, argument, hint, "%s", message);
}
