/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings of a log as one history, and the hours that it does not know. */
#include "log_inside.h"

#include <math.h>
#include <stdlib.h>

/* A low or high fills in where no reading stands this near, s. */
static const double NEAR = 3 * 3600.0;
/* Days further apart than this do not follow each other, s: two changes of the clock are let pass.
 */
static const double NEXT_DAY = 26 * 3600.0;

void rwi_log_anchors_free(rwi_log_anchors *a)
{
  free(a->time);
  *a = (rwi_log_anchors){0};
}

static int open_anchors(rwi_log_anchors *a, size_t room)
{
  *a = (rwi_log_anchors){0};
  a->time = malloc(3 * (room + 2) * sizeof *a->time);
  if (a->time == NULL)
    return 0;
  a->temperature = a->time + room + 2;
  a->humidity = a->temperature + room + 2;
  return 1;
}

static void add(rwi_log_anchors *a, double time, double temperature, double humidity)
{
  a->time[a->n] = time;
  a->temperature[a->n] = temperature;
  a->humidity[a->n++] = humidity;
}

static rw_status no_memory(const char *function, rw_error *err)
{
  return rw_error_set(err, RW_ERR_MEMORY, function, NULL, "close other programs",
                      "not enough memory for the temperatures of a log");
}

static void add_readings(const rw_log *l, rw_log_sensor sensor, rwi_log_anchors *a)
{
  for (size_t i = 0; i < l->readings; i++) {
    const rw_log_reading *r = &l->reading[i];
    double T = sensor == RW_LOG_AIR ? r->air : r->hull;
    if (!isnan(T))
      add(a, r->time, T, sensor == RW_LOG_AIR ? r->humidity : NAN);
  }
}

/* Points of one run of days. */
static rw_status add_run(const rw_day *day, size_t n, const char *function, rwi_log_anchors *a,
                         rw_error *err)
{
  rw_history *h = NULL;
  const double *time, *T;
  rw_status status = rw_history_from_days(day, n, &h, err);
  if (status < 0)
    return status == RW_ERR_MEMORY ? no_memory(function, err) : status;
  size_t points = rw_history_points(h, &time, &T, NULL);
  for (size_t i = 0; i < points; i++)
    add(a, time[i], T[i], NAN);
  rw_history_destroy(h);
  return RW_OK;
}

/* Points of every run of days that follow each other; 33 a day at most. */
static rw_status add_days(const rw_day *day, size_t n, const char *function, rwi_log_anchors *a,
                          rw_error *err)
{
  for (size_t first = 0; first < n;) {
    size_t end = first + 1;
    while (end < n && day[end].midnight - day[end - 1].midnight <= NEXT_DAY)
      end++;
    rw_status status = add_run(day + first, end - first, function, a, err);
    if (status != RW_OK)
      return status;
    first = end;
  }
  return RW_OK;
}

/* Both by time; what the days say is taken where no reading is near. */
static void merge(const rwi_log_anchors *readings, const rwi_log_anchors *days, rwi_log_anchors *a)
{
  size_t i = 0;
  for (size_t k = 0; k < days->n; k++) {
    double t = days->time[k];
    for (; i < readings->n && readings->time[i] <= t; i++)
      add(a, readings->time[i], readings->temperature[i], readings->humidity[i]);
    int near_before = i > 0 && t - readings->time[i - 1] <= NEAR;
    int near_after = i < readings->n && readings->time[i] - t <= NEAR;
    if (!near_before && !near_after)
      add(a, t, days->temperature[k], NAN);
  }
  for (; i < readings->n; i++)
    add(a, readings->time[i], readings->temperature[i], readings->humidity[i]);
}

static size_t days_of(const rw_log *l, rw_day *day)
{
  size_t n = 0;
  for (size_t i = 0; i < l->readings; i++)
    if (!isnan(l->reading[i].low))
      day[n++] = (rw_day){l->reading[i].time, l->reading[i].low, l->reading[i].high};
  return n;
}

static rw_status with_days(const rw_log *l, const char *function, rwi_log_anchors *readings,
                           rwi_log_anchors *days, rwi_log_anchors *a, rw_error *err)
{
  enum { POINTS_A_DAY = 33 };
  rw_day *day = malloc((l->readings + 1) * sizeof *day);
  if (day == NULL)
    return no_memory(function, err);
  size_t n = days_of(l, day);
  rw_status status = RW_OK;
  if (!open_anchors(days, POINTS_A_DAY * n) || !open_anchors(a, readings->n + POINTS_A_DAY * n))
    status = no_memory(function, err);
  if (status == RW_OK)
    status = add_days(day, n, function, days, err);
  if (status == RW_OK)
    merge(readings, days, a);
  free(day);
  return status;
}

rw_status rwi_log_anchors_of(const rw_log *l, rw_log_sensor sensor, const char *function,
                             rwi_log_anchors *a, rw_error *err)
{
  rwi_log_anchors readings, days = {0};
  *a = (rwi_log_anchors){0};
  if (!open_anchors(&readings, l->readings))
    return no_memory(function, err);
  add_readings(l, sensor, &readings);
  if (sensor != RW_LOG_AIR) {
    *a = readings;
    return RW_OK;
  }
  rw_status status = with_days(l, function, &readings, &days, a, err);
  rwi_log_anchors_free(&readings);
  rwi_log_anchors_free(&days);
  if (status != RW_OK)
    rwi_log_anchors_free(a);
  return status;
}

/* First anchor at or after a time. */
static size_t first_from(const rwi_log_anchors *a, double t)
{
  size_t low = 0, high = a->n;
  while (low < high) {
    size_t middle = low + (high - low) / 2;
    if (a->time[middle] < t)
      low = middle + 1;
    else
      high = middle;
  }
  return low;
}

size_t rwi_log_anchor_gaps(const rwi_log_anchors *a, double from, double to, double bridge,
                           rw_log_gap *gap, size_t room)
{
  size_t found = 0, i = first_from(a, from);
  for (int more = 1; more; i++) {
    int begins = i == 0, ends = i == a->n;
    double left = begins ? -HUGE_VAL : a->time[i - 1] + (ends ? bridge / 2 : 0);
    double right = ends ? HUGE_VAL : a->time[i] - (begins ? bridge / 2 : 0);
    more = !ends && a->time[i] < to;
    if (!begins && !ends && right - left <= bridge)
      continue;
    double start = fmax(left, from), end = fmin(right, to);
    if (!(end > start || (start == end && from == to && left < from && right > from)))
      continue;
    if (found < room)
      gap[found] = (rw_log_gap){start, end};
    found++;
  }
  return found;
}

static rw_status check_bridge(const char *function, double bridge, rw_error *err)
{
  if (bridge >= 60 && bridge <= 1e7)
    return RW_OK;
  return rw_error_range(err, function, "bridge", bridge, 60, 1e7, "s",
                        "It is the longest time between two readings that is no gap.");
}

static rw_status check_span(const char *function, double from, double to, rw_error *err)
{
  if (isfinite(from) && isfinite(to) && to >= from)
    return RW_OK;
  return rw_error_range(err, function, "to", to, from, HUGE_VAL, "s",
                        "The end must lie after the beginning.");
}

rw_status rw_log_gaps(const rw_log *l, rw_log_sensor sensor, double from, double to, double bridge,
                      rw_log_gap *gap, size_t room, size_t *n, rw_error *err)
{
  static const char function[] = "rw_log_gaps";
  rw_status status = check_span(function, from, to, err);
  if (status == RW_OK)
    status = check_bridge(function, bridge, err);
  rwi_log_anchors a;
  if (status == RW_OK)
    status = rwi_log_anchors_of(l, sensor, function, &a, err);
  if (status != RW_OK)
    return status;
  *n = rwi_log_anchor_gaps(&a, from, to, bridge, gap, room);
  rwi_log_anchors_free(&a);
  return RW_OK;
}

static rw_status missing(const rw_log *l, rw_log_gap gap, size_t n, rw_log_sensor sensor,
                         rw_error *err)
{
  char from[32], to[32];
  rwi_log_say(l, gap.from, from);
  rwi_log_say(l, gap.to, to);
  return rw_error_set(err, RW_ERR_COVERAGE, "rw_log_history", "log",
                      sensor == RW_LOG_AIR ? "the low and high of each day will do: a row "
                                             "\"reading\" with the date, low and high"
                                           : "use the air, with the lag of the hull behind it",
                      "the log has no temperature of the %s from %s to %s%s",
                      sensor == RW_LOG_AIR ? "air" : "hull", from, to,
                      n > 1 ? ", nor in other hours" : "");
}

/* A reading holds on beyond the first and the last. */
static void hold(rwi_log_anchors *a, double from, double to)
{
  if (from < a->time[0]) {
    for (size_t i = a->n++; i > 0; i--) {
      a->time[i] = a->time[i - 1];
      a->temperature[i] = a->temperature[i - 1];
      a->humidity[i] = a->humidity[i - 1];
    }
    a->time[0] = from;
  }
  if (to > a->time[a->n - 1])
    add(a, to, a->temperature[a->n - 1], a->humidity[a->n - 1]);
}

rw_status rw_log_history(const rw_log *l, rw_log_sensor sensor, double from, double to,
                         double bridge, rw_history **out, rw_error *err)
{
  static const char function[] = "rw_log_history";
  rw_status status = check_span(function, from, to, err);
  if (status == RW_OK && from == to)
    status = rw_error_range(err, function, "to", to, from, HUGE_VAL, "s",
                            "The end must lie after the beginning.");
  if (status == RW_OK)
    status = check_bridge(function, bridge, err);
  rwi_log_anchors a;
  if (status == RW_OK)
    status = rwi_log_anchors_of(l, sensor, function, &a, err);
  if (status != RW_OK)
    return status;
  rw_log_gap gap;
  size_t n = rwi_log_anchor_gaps(&a, from, to, bridge, &gap, 1);
  if (n > 0) {
    status = missing(l, gap, n, sensor, err);
  } else {
    hold(&a, from, to);
    status = rw_history_create(a.time, a.temperature, a.humidity, a.n, out, err);
  }
  rwi_log_anchors_free(&a);
  return status;
}
