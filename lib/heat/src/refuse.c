/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "refuse.h"

rw_status heat_between(const char *function, const char *argument, double value, double low,
                       double high, const char *unit, const char *hint, rw_error *err)
{
  if (value >= low && value <= high)
    return RW_OK;
  return rw_error_range(err, function, argument, value, low, high, unit, hint);
}

rw_status heat_bounds(const char *function, const heat_bound *bound, size_t n, rw_error *err)
{
  for (size_t i = 0; i < n; i++) {
    const heat_bound *b = &bound[i];
    rw_status status =
        heat_between(function, b->name, b->value, b->low, b->high, b->unit, b->hint, err);
    if (status != RW_OK)
      return status;
  }
  return RW_OK;
}

rw_status heat_given(const char *function, const char *argument, const void *pointer,
                     rw_error *err)
{
  if (pointer != NULL)
    return RW_OK;
  return rw_error_set(err, RW_ERR_ARGUMENT, function, argument, "Give every argument.",
                      "%s is missing", argument);
}

rw_status heat_no_memory(const char *function, rw_error *err)
{
  return rw_error_set(err, RW_ERR_MEMORY, function, NULL, "Close other programs and try again.",
                      "there is not enough memory for this computation");
}
