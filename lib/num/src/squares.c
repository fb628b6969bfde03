/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "search.h"

#include <math.h>

rw_status rw_num_least_squares(const rw_least_squares *problem, const double *start,
                               rw_least_squares_fit *out, rw_error *err)
{
  const char *function = "rw_num_least_squares";
  search s;
  rw_status status = search_begin(&s, function, problem, start, err);
  if (status != RW_OK)
    return status;
  search_end end = search_run(&s);
  if (end == SEARCH_FOUND)
    search_report(&s, out);
  else
    status = search_refuse(&s, function, end, err);
  search_close(&s);
  return status;
}

double rw_num_bound_in(rw_num_bound b, double x)
{
  int low = b.low > -HUGE_VAL, high = b.high < HUGE_VAL;
  if (!(x > b.low && x < b.high))
    return NAN;
  if (low && high)
    return log((x - b.low) / (b.high - x));
  if (low)
    return log(x - b.low);
  return high ? -log(b.high - x) : x;
}

double rw_num_bound_out(rw_num_bound b, double u, double *slope)
{
  int low = b.low > -HUGE_VAL, high = b.high < HUGE_VAL;
  double x = u, dx = 1;
  if (low && high) {
    double e = exp(-fabs(u)), part = e / (1 + e), width = b.high - b.low;
    x = u < 0 ? b.low + width * part : b.high - width * part;
    dx = width * part / (1 + e);
  } else if (low) {
    x = b.low + (dx = exp(u));
  } else if (high) {
    x = b.high - (dx = exp(-u));
  }
  if (slope != NULL)
    *slope = dx;
  return x;
}
