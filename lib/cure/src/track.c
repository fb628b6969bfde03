/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "track.h"

#include <math.h>

size_t track_piece(const double *time, size_t points, double clock)
{
  size_t low = 0, high = points - 1;
  while (high - low > 1) {
    size_t mid = (low + high) / 2;
    if (clock < time[mid])
      high = mid;
    else
      low = mid;
  }
  return low;
}

rw_status track_start(track *k, const char *function, const rw_history *h, double from, double to,
                      double start, double tolerance, rw_error *err)
{
  if (!isfinite(from))
    return rw_error_range(err, function, "from", from, -HUGE_VAL, HUGE_VAL, "s", NULL);
  if (!(to > from && isfinite(to)))
    return rw_error_range(err, function, "to", to, from, HUGE_VAL, "s",
                          "The end must lie after the beginning, and not without end.");
  if (!(start >= 0 && start < 1))
    return rw_error_range(err, function, "start", start, 0, 1, "",
                          "A degree of cure is a share: 0 is liquid, 1 fully cured, where nothing "
                          "is left to follow.");
  if (!(tolerance >= 1e-12 && tolerance <= 1e-2))
    return rw_error_range(err, function, "tolerance", tolerance, 1e-12, 1e-2, "", NULL);
  rw_status status = rw_history_extremes(h, from, to, NULL, NULL, err);
  if (status != RW_OK)
    return status;
  const double *time, *temperature;
  size_t n = rw_history_points(h, &time, &temperature, NULL);
  *k = (track){.time = time,
               .temperature = temperature,
               .points = n,
               .piece = track_piece(time, n, from),
               .origin = from};
  return RW_OK;
}
