/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Histories made from histories: lag, extension, shift. */
#include "points.h"

#include <math.h>

static const double DAY = 86400;

static double humidity_at(const rw_history *h, double time)
{
  double humidity = NAN;
  rw_history_humidity(h, time, &humidity, NULL);
  return humidity;
}

static rw_history *copy(const rw_history *h, double delta)
{
  rw_history *c = points_start(h->n);
  for (size_t i = 0; c != NULL && i < h->n; i++)
    if (!points_add(c, h->time[i], h->temperature[i] + delta, h->humidity[i]))
      return NULL;
  return c;
}

/* Over one straight piece of air, T = air - s tau + c exp(-t/tau) with s the slope of the air. A
 * straight line over a step of length d errs by at most |c exp(-t/tau)| d^2/(8 tau^2). Returns
 * the body's temperature at the end of the piece, or NaN without memory. */
static double follow(rw_history *body, const rw_history *air, size_t i, double tau, double start,
                     double tolerance)
{
  double t0 = air->time[i], width = air->time[i + 1] - t0;
  if (width == 0)
    return start;
  double slope = (air->temperature[i + 1] - air->temperature[i]) / width;
  double c = start - air->temperature[i] + slope * tau;
  double t = 0, T = start;
  while (t < width) {
    double bend = fabs(c) * exp(-t / tau);
    double step = bend > 0 ? tau * sqrt(8 * tolerance / bend) : width;
    t = t + 1.001 * step >= width || bend < tolerance ? width : t + step;
    T = air->temperature[i] + slope * (t - tau) + c * exp(-t / tau);
    double time = t == width ? air->time[i + 1] : t0 + t;
    if (!points_add(body, time, T, humidity_at(air, time)))
      return NAN;
  }
  return T;
}

rw_status rw_history_lag(const rw_history *air, double tau, double start, double tolerance,
                         rw_history **out, rw_error *err)
{
  const char *function = "rw_history_lag";
  if (!(tau >= 0 && tau <= 1e6))
    return rw_error_range(err, function, "tau", tau, 0, 1e6, "s",
                          "A plank's time constant is minutes to a few hours.");
  if (!(tolerance > 0))
    return rw_error_range(err, function, "tolerance", tolerance, 0, HUGE_VAL, "K apart", NULL);
  if (isnan(start))
    start = air->temperature[0];
  if (!(start >= 200 && start <= 500))
    return rw_error_range(err, function, "start", start, 200, 500, "K", NULL);
  rw_history *body = NULL;
  if (tau == 0) {
    body = copy(air, 0);
    if (body == NULL)
      return points_no_memory(function, err);
  } else {
    body = points_start(2 * air->n);
    if (body == NULL || !points_add(body, air->time[0], start, air->humidity[0]))
      return points_no_memory(function, err);
    for (size_t i = 0; i + 1 < air->n; i++) {
      start = follow(body, air, i, tau, start, tolerance);
      if (isnan(start))
        return points_no_memory(function, err);
    }
  }
  *out = body;
  return RW_OK;
}

/* Goes on by the last 24 h again and again; 0 without memory. */
static int repeat_day(rw_history *longer, const rw_history *h, double until)
{
  double end = h->time[h->n - 1], from = end - DAY;
  size_t first = points_piece(h, from);
  double share = (from - h->time[first]) / (h->time[first + 1] - h->time[first]);
  double T = h->temperature[first] + (h->temperature[first + 1] - h->temperature[first]) * share;
  for (double shift = DAY; end + shift - DAY < until; shift += DAY) {
    if (!points_add(longer, from + shift, T, humidity_at(h, from)))
      return 0;
    for (size_t i = first + 1; i < h->n; i++)
      if (h->time[i] > from &&
          !points_add(longer, h->time[i] + shift, h->temperature[i], h->humidity[i]))
        return 0;
  }
  return 1;
}

rw_status rw_history_extend(const rw_history *h, double until, rw_extend how, rw_history **out,
                            rw_error *err)
{
  const char *function = "rw_history_extend";
  double end = h->time[h->n - 1];
  if (!(until > end && until <= end + 400 * DAY))
    return rw_error_range(err, function, "until", until, end, end + 400 * DAY, "s",
                          "Ask for a time after the last reading, within 400 days.");
  if (how == RW_REPEAT_DAY && end - h->time[0] < DAY)
    return rw_error_set(err, RW_ERR_COVERAGE, function, "how",
                        "Add readings until a whole day is there, or hold the last one.",
                        "to repeat the last 24 h the readings must cover 24 h");
  rw_history *longer = copy(h, 0);
  if (longer == NULL)
    return points_no_memory(function, err);
  int fine = how == RW_REPEAT_DAY
                 ? repeat_day(longer, h, until)
                 : points_add(longer, until, h->temperature[h->n - 1], h->humidity[h->n - 1]);
  if (!fine)
    return points_no_memory(function, err);
  *out = longer;
  return RW_OK;
}

rw_status rw_history_shift(const rw_history *h, double delta, rw_history **out, rw_error *err)
{
  for (size_t i = 0; i < h->n; i++) {
    double T = h->temperature[i] + delta;
    if (!(T >= 200 && T <= 500))
      return rw_error_range(err, "rw_history_shift", "delta", T, 200, 500, "K",
                            "The shifted temperatures leave what is allowed.");
  }
  rw_history *shifted = copy(h, delta);
  if (shifted == NULL)
    return points_no_memory("rw_history_shift", err);
  *out = shifted;
  return RW_OK;
}
