/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "points.h"

#include <resinwright/text.h>

#include <math.h>

/* Says a time as a date where it looks like one, else as seconds. */
static void say_time(double t, char buffer[40])
{
  if (t > 86400.0 * 365)
    rw_text_clock_write(t, buffer);
  else
    rw_text_round(t, 10, buffer);
}

static rw_status covers(const char *function, const rw_history *h, double time, rw_error *err)
{
  if (time >= h->time[0] && time <= h->time[h->n - 1])
    return RW_OK;
  if (err == NULL)
    return RW_ERR_COVERAGE;
  char asked[40], first[40], last[40];
  say_time(time, asked);
  say_time(h->time[0], first);
  say_time(h->time[h->n - 1], last);
  rw_error_set(err, RW_ERR_COVERAGE, function, "time",
               "Add readings or a forecast, or say how to go on after the last one.",
               "the temperatures reach from %s to %s, asked was %s", first, last, asked);
  err->value = time;
  err->low = h->time[0];
  err->high = h->time[h->n - 1];
  return RW_ERR_COVERAGE;
}

static double between(const rw_history *h, const double *y, size_t i, double time)
{
  double width = h->time[i + 1] - h->time[i];
  if (width == 0)
    return y[i + 1];
  double share = (time - h->time[i]) / width;
  return y[i] + (y[i + 1] - y[i]) * share;
}

rw_status rw_history_temperature(const rw_history *h, double time, double *temperature,
                                 rw_error *err)
{
  rw_status status = covers("rw_history_temperature", h, time, err);
  if (status == RW_OK)
    *temperature = between(h, h->temperature, points_piece(h, time), time);
  return status;
}

rw_status rw_history_humidity(const rw_history *h, double time, double *humidity, rw_error *err)
{
  rw_status status = covers("rw_history_humidity", h, time, err);
  if (status != RW_OK)
    return status;
  size_t below = points_piece(h, time), above = below + 1;
  if (time == h->time[above])
    below = above;
  while (below > 0 && isnan(h->humidity[below]))
    below--;
  while (above + 1 < h->n && isnan(h->humidity[above]))
    above++;
  double low = h->humidity[below], high = h->humidity[above];
  double width = h->time[above] - h->time[below];
  *humidity = width > 0 ? low + (high - low) * (time - h->time[below]) / width : high;
  if (h->time[below] == time && !isnan(low))
    *humidity = low;
  return RW_OK;
}

rw_status rw_history_extremes(const rw_history *h, double from, double to, double *low,
                              double *high, rw_error *err)
{
  rw_status status = covers("rw_history_extremes", h, from, err);
  if (status == RW_OK)
    status = covers("rw_history_extremes", h, to, err);
  if (status != RW_OK)
    return status;
  if (to < from)
    return rw_error_range(err, "rw_history_extremes", "to", to, from, HUGE_VAL, "s",
                          "The end must not lie before the beginning.");
  if (low == NULL && high == NULL)
    return RW_OK;
  double first = between(h, h->temperature, points_piece(h, from), from);
  double last = between(h, h->temperature, points_piece(h, to), to);
  double least = fmin(first, last), most = fmax(first, last);
  for (size_t i = points_piece(h, from) + 1; i < h->n && h->time[i] < to; i++) {
    least = fmin(least, h->temperature[i]);
    most = fmax(most, h->temperature[i]);
  }
  if (low != NULL)
    *low = least;
  if (high != NULL)
    *high = most;
  return RW_OK;
}

void rw_history_span(const rw_history *h, double *from, double *to)
{
  if (from != NULL)
    *from = h->time[0];
  if (to != NULL)
    *to = h->time[h->n - 1];
}

size_t rw_history_points(const rw_history *h, const double **time, const double **temperature,
                         const double **humidity)
{
  if (time != NULL)
    *time = h->time;
  if (temperature != NULL)
    *temperature = h->temperature;
  if (humidity != NULL)
    *humidity = h->humidity;
  return h->n;
}
