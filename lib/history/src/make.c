/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "points.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const double COLDEST_HOUR = 5.5 * 3600, WARMEST_HOUR = 15 * 3600;
static const double LEAST = 200, MOST = 500, TESTED = 400;
static const double PI = 3.14159265358979323846;

static void name(char *buffer, size_t size, const char *list, size_t i)
{
  snprintf(buffer, size, "%s[%zu]", list, i + 1);
}

static rw_status check_temperature(const char *function, const char *argument, double value,
                                   rw_error *err)
{
  if (value >= LEAST && value <= MOST)
    return RW_OK;
  return rw_error_range(err, function, argument, value, LEAST, MOST, "K",
                        "Temperatures are absolute: 20 degC is 293.15 K.");
}

static rw_status check_point(size_t i, const double *time, double temperature, double humidity,
                             rw_error *err)
{
  const char *function = "rw_history_create";
  char argument[40];
  name(argument, sizeof argument, "time", i);
  if (!isfinite(time[i]))
    return rw_error_set(err, RW_ERR_ARGUMENT, function, argument, NULL,
                        "%s is not a finite number", argument);
  if (i > 0 && time[i] < time[i - 1])
    return rw_error_set(err, RW_ERR_ORDER, function, argument,
                        "Sort the readings by time; look for a date missed at midnight.",
                        "%s goes back: it lies before the reading above it", argument);
  if (i > 1 && time[i] == time[i - 2])
    return rw_error_set(err, RW_ERR_ORDER, function, argument,
                        "A time may stand twice, for a step from one temperature to another.",
                        "%s stands three times", argument);
  name(argument, sizeof argument, "temperature", i);
  rw_status status = check_temperature(function, argument, temperature, err);
  if (status != RW_OK)
    return status;
  if (isnan(humidity) || (humidity >= 0 && humidity <= 1))
    return RW_OK;
  name(argument, sizeof argument, "humidity", i);
  return rw_error_range(err, function, argument, humidity, 0, 1, "",
                        "Relative humidity is a share: 70 % is 0.7.");
}

rw_status rw_history_create(const double *time, const double *temperature, const double *humidity,
                            size_t n, rw_history **out, rw_error *err)
{
  if (n < 2)
    return rw_error_set(err, RW_ERR_ARGUMENT, "rw_history_create", "n",
                        "For a steady shop give the same temperature at two times.",
                        "a history needs two readings or more, found %zu", n);
  rw_status result = RW_OK;
  for (size_t i = 0; i < n; i++) {
    double h = humidity != NULL ? humidity[i] : NAN;
    rw_status status = check_point(i, time, temperature[i], h, err);
    if (status != RW_OK)
      return status;
    if (temperature[i] > TESTED)
      result = RW_OUTSIDE_TESTED;
  }
  if (!(time[n - 1] > time[0]))
    return rw_error_set(err, RW_ERR_ORDER, "rw_history_create", "time", NULL,
                        "the readings all stand at one time");
  rw_history *h = points_start(n);
  if (h == NULL)
    return points_no_memory("rw_history_create", err);
  for (size_t i = 0; i < n; i++)
    if (!points_add(h, time[i], temperature[i], humidity != NULL ? humidity[i] : NAN))
      return points_no_memory("rw_history_create", err);
  *out = h;
  return result;
}

/* Half a cosine wave from one reading to the next in straight pieces, the first point left out. */
static int half_wave(rw_history *h, double t0, double T0, double t1, double T1)
{
  enum { PIECES = 16 };
  for (int i = 1; i <= PIECES; i++) {
    double share = (double)i / PIECES;
    double T = T0 + (T1 - T0) * 0.5 * (1 - cos(PI * share));
    if (!points_add(h, t0 + (t1 - t0) * share, T, NAN))
      return 0;
  }
  return 1;
}

static rw_status check_day(const rw_day *day, size_t i, rw_error *err)
{
  const char *function = "rw_history_from_days";
  char argument[40];
  name(argument, sizeof argument, "day", i);
  if (!isfinite(day[i].midnight))
    return rw_error_set(err, RW_ERR_ARGUMENT, function, argument, NULL,
                        "the midnight of %s is not a finite number", argument);
  if (i > 0 && day[i].midnight < day[i - 1].midnight + 43200)
    return rw_error_set(err, RW_ERR_ORDER, function, argument, "Sort the days by date.",
                        "%s does not lie after the day before it", argument);
  rw_status status = check_temperature(function, argument, day[i].low, err);
  if (status == RW_OK)
    status = check_temperature(function, argument, day[i].high, err);
  if (status != RW_OK)
    return status;
  if (day[i].low > day[i].high)
    return rw_error_range(err, function, argument, day[i].low, LEAST, day[i].high, "K",
                          "The low of a day may not be above its high; are they swapped?");
  return RW_OK;
}

rw_status rw_history_from_days(const rw_day *day, size_t n, rw_history **out, rw_error *err)
{
  if (n < 1)
    return rw_error_set(err, RW_ERR_ARGUMENT, "rw_history_from_days", "n", NULL,
                        "a history from lows and highs needs one day or more, found none");
  for (size_t i = 0; i < n; i++) {
    rw_status status = check_day(day, i, err);
    if (status != RW_OK)
      return status;
  }
  rw_history *h = points_start(32 * n);
  if (h == NULL)
    return points_no_memory("rw_history_from_days", err);
  double t = day[0].midnight + COLDEST_HOUR, T = day[0].low;
  int fine = points_add(h, t, T, NAN);
  for (size_t i = 0; fine && i < n; i++) {
    double cold = day[i].midnight + COLDEST_HOUR, warm = day[i].midnight + WARMEST_HOUR;
    if (i > 0)
      fine = half_wave(h, t, T, cold, day[i].low);
    if (fine)
      fine = half_wave(h, cold, day[i].low, warm, day[i].high);
    t = warm;
    T = day[i].high;
  }
  if (!fine)
    return points_no_memory("rw_history_from_days", err);
  *out = h;
  return RW_OK;
}

static rw_status check_wave(const rw_wave *w, double from, double to, double tolerance,
                            rw_error *err)
{
  static const char function[] = "rw_history_from_wave";
  static const double YEAR = 366 * 86400.0;
  rw_status status = check_temperature(function, "mean", w->mean, err);
  if (status != RW_OK)
    return status;
  if (!(w->amplitude >= 0 && w->amplitude <= 100))
    return rw_error_range(err, function, "amplitude", w->amplitude, 0, 100, "K apart",
                          "It is half of what lies between coldest and warmest.");
  if (!(w->period >= 60 && w->period <= YEAR))
    return rw_error_range(err, function, "period", w->period, 60, YEAR, "s", NULL);
  if (!isfinite(w->warmest))
    return rw_error_range(err, function, "warmest", w->warmest, -HUGE_VAL, HUGE_VAL, "s", NULL);
  if (!(isfinite(from) && to > from && to < HUGE_VAL))
    return rw_error_range(err, function, "to", to, from, HUGE_VAL, "s",
                          "The end must lie after the beginning.");
  if (!(tolerance >= 1e-9 && tolerance <= 1))
    return rw_error_range(err, function, "tolerance", tolerance, 1e-9, 1, "K apart", NULL);
  return RW_OK;
}

rw_status rw_history_from_wave(const rw_wave *wave, double from, double to, double tolerance,
                               rw_history **out, rw_error *err)
{
  static const double PIECES_AT_MOST = 1e6;
  rw_status status = check_wave(wave, from, to, tolerance, err);
  if (status != RW_OK)
    return status;
  /* Between two points d apart a sine rises above the straight line by amplitude (w d)^2/8. */
  double w = 2 * PI / wave->period, d = sqrt(8 * tolerance / fmax(wave->amplitude, 1e-12)) / w;
  double pieces = fmax(1, ceil((to - from) / fmin(d, wave->period / 8)));
  if (!(pieces <= PIECES_AT_MOST))
    return rw_error_range(err, "rw_history_from_wave", "pieces", pieces, 1, PIECES_AT_MOST, "",
                          "Ask for a shorter time, or a wider tolerance.");
  size_t n = (size_t)pieces + 1;
  double *time = malloc(2 * n * sizeof *time);
  if (time == NULL)
    return points_no_memory("rw_history_from_wave", err);
  double *temperature = time + n;
  for (size_t i = 0; i < n; i++) {
    time[i] = i + 1 == n ? to : from + (to - from) * (double)i / pieces;
    temperature[i] = wave->mean + wave->amplitude * cos(w * (time[i] - wave->warmest));
  }
  status = rw_history_create(time, temperature, NULL, n, out, err);
  free(time);
  return status;
}
