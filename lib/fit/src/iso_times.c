/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Activation energy from how long one change took at several temperatures. */
#include "iso_common.h"

#include <resinwright/text.h>

#include <math.h>

static rw_status check_runs(const char *function, const rw_fit_time *run, size_t n, double timing,
                            double level, rw_error *err)
{
  rw_status status = iso_count(function, n, err);
  if (status == RW_OK)
    status = iso_level(function, level, err);
  if (status == RW_OK)
    status = iso_between(function, "timing", timing, 0, 1, "",
                         "the share by which a time may be off: 5 % is 0.05", err);
  for (size_t i = 0; status == RW_OK && i < n; i++) {
    status = iso_temperature(function, "run", i, run[i].temperature, err);
    if (status == RW_OK)
      status = iso_field(function, "run", i, "time", run[i].time, 1e-3, 1e10, "s",
                         "how long the change took, in seconds", err);
  }
  return status;
}

rw_status rw_fit_times(const rw_fit_time *run, size_t n, double timing, double level,
                       rw_fit_energy *out, rw_error *err)
{
  static const char *const me = "rw_fit_times";
  if (run == NULL && n > 0)
    return iso_missing(me, "run", err);
  if (out == NULL)
    return iso_missing(me, "out", err);
  rw_status status = check_runs(me, run, n, timing, level, err);
  if (status != RW_OK)
    return status;
  double x[RW_FIT_RUNS], y[RW_FIT_RUNS];
  int material[RW_FIT_RUNS];
  for (size_t i = 0; i < n; i++) {
    x[i] = 1 / run[i].temperature;
    y[i] = log(run[i].time);
    material[i] = run[i].material;
  }
  iso_line line;
  if (!iso_line_fit(x, y, material, n, &line))
    return rw_error_set(err, RW_ERR_ARGUMENT, me, "temperature",
                        "time the same change of the same material at a second temperature, best "
                        "15 degC away",
                        "no material was timed at two different temperatures");
  if (!(line.slope > 0))
    return rw_error_set(err, RW_ERR_NUMERIC, me, "time",
                        "look whether columns or units are mixed up",
                        "warmer runs were no faster, so these times give no activation energy");
  double taken = fmax(line.scatter, timing > 0 ? timing : NAN); /* NaN: nothing is known */
  int alone = line.groups == 1;
  rw_fit_energy e = {.E = RW_GAS_CONSTANT * line.slope,
                     .E_se = RW_GAS_CONSTANT * taken / line.lever,
                     .T_mid = 1 / line.x_mid,
                     .log_k = alone ? -line.y_mid : NAN,
                     .log_k_se = alone ? taken / sqrt((double)n) : NAN,
                     .scatter = line.scatter,
                     .objective = NAN,
                     .n = n,
                     .freedom = line.freedom};
  e.log_A = e.log_k + e.E / (RW_GAS_CONSTANT * e.T_mid);
  status = iso_interval(me, level, &e, err);
  *out = e;
  return status;
}

static rw_status check_series(const char *function, const double *time, const double *value,
                              size_t n, rw_error *err)
{
  if (n < 2)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "n", "read at more moments",
                        "a change needs two readings at least");
  for (size_t i = 0; i < n; i++) {
    rw_status status =
        iso_field(function, "reading", i, "time", time[i], -1e12, 1e12, "s", NULL, err);
    if (status == RW_OK)
      status = iso_field(function, "reading", i, "value", value[i], -1e12, 1e12, "", NULL, err);
    if (status == RW_OK && i > 0 && !(time[i] > time[i - 1]))
      status = rw_error_set(err, RW_ERR_ORDER, function, "time",
                            "look for a clock set back or rows mixed up",
                            "reading %zu is not later than the one before", i + 1);
    if (status != RW_OK) {
      rw_error_place(err, (long)i + 1, 0);
      return status;
    }
  }
  return RW_OK;
}

static rw_status when(const char *function, const double *time, const double *value, size_t n,
                      double level, double *out, rw_error *err)
{
  size_t i = 0;
  while (i < n && value[i] < level)
    i++;
  if (i < n && (i > 0 || value[0] == level)) {
    *out = value[i] == level ? time[i]
                             : time[i - 1] + (time[i] - time[i - 1]) * (level - value[i - 1]) /
                                                 (value[i] - value[i - 1]);
    return RW_OK;
  }
  char number[40];
  rw_text_round(level, 4, number);
  return rw_error_set(err, RW_ERR_COVERAGE, function, "value",
                      "take two levels that the whole series passes", "the series %s %s",
                      i == n ? "never reaches" : "begins above", number);
}

rw_status rw_fit_change(const double *time, const double *value, size_t n, double from, double to,
                        double *duration, rw_error *err)
{
  static const char *const me = "rw_fit_change";
  if (time == NULL)
    return iso_missing(me, "time", err);
  if (value == NULL)
    return iso_missing(me, "value", err);
  if (duration == NULL)
    return iso_missing(me, "duration", err);
  rw_status status = check_series(me, time, value, n, err);
  if (status == RW_OK)
    status = iso_between(me, "from", from, -1e12, 1e12, "", NULL, err);
  if (status == RW_OK && !(to > from))
    status = rw_error_range(err, me, "to", to, from, HUGE_VAL, "",
                            "the second level stands above the first");
  double first = 0, second = 0;
  if (status == RW_OK)
    status = when(me, time, value, n, from, &first, err);
  if (status == RW_OK)
    status = when(me, time, value, n, to, &second, err);
  if (status == RW_OK)
    *duration = second - first;
  return status;
}
