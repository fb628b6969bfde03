/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "iso_common.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* 1/T this close, 1/K, is one temperature: about a thousandth of a kelvin. */
static const double SAME = 1e-8;

rw_status iso_missing(const char *function, const char *argument, rw_error *err)
{
  return rw_error_set(err, RW_ERR_ARGUMENT, function, argument, "pass an address, not NULL",
                      "the argument %s is missing", argument);
}

rw_status iso_between(const char *function, const char *argument, double value, double low,
                      double high, const char *unit, const char *hint, rw_error *err)
{
  if (value >= low && value <= high)
    return RW_OK;
  return rw_error_range(err, function, argument, value, low, high, unit, hint);
}

rw_status iso_field(const char *function, const char *thing, size_t i, const char *field,
                    double value, double low, double high, const char *unit, const char *hint,
                    rw_error *err)
{
  if (value >= low && value <= high)
    return RW_OK;
  char argument[64];
  snprintf(argument, sizeof argument, "%.16s %zu: %.24s", thing, i + 1, field);
  return rw_error_range(err, function, argument, value, low, high, unit, hint);
}

rw_status iso_temperature(const char *function, const char *thing, size_t i, double temperature,
                          rw_error *err)
{
  return iso_field(function, thing, i, "temperature", temperature, ISO_COLDEST, ISO_WARMEST, "K",
                   "temperatures are in kelvin: 120 degC is 393.15", err);
}

rw_status iso_heating(const char *function, size_t i, double heating, rw_error *err)
{
  return iso_field(function, "run", i, "heating", heating, ISO_SLOWEST, ISO_FASTEST, "K/s",
                   "heating rates are in kelvin per second: 10 K/min is 0.1667", err);
}

rw_status iso_level(const char *function, double level, rw_error *err)
{
  return iso_between(function, "level", level, 0.5, 0.999, "",
                     "the chance that the interval covers: 95 % is 0.95", err);
}

rw_status iso_count(const char *function, size_t n, rw_error *err)
{
  if (n < 2)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "n",
                        "measure at two different settings at least; three or more tell how sure "
                        "the energy is",
                        "an activation energy needs two runs at least, and there %s",
                        n == 1 ? "is one" : "is none");
  if (n > RW_FIT_RUNS)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "n", "leave some runs out",
                        "there are %zu runs; at most %d can be used at once", n, (int)RW_FIT_RUNS);
  return RW_OK;
}

void iso_prefix(rw_error *err, const char *words)
{
  if (err == NULL)
    return;
  char said[sizeof err->message];
  memcpy(said, err->message, sizeof said);
  snprintf(err->message, sizeof err->message, "%.40s: %.270s", words, said);
}

static int same_group(const int *group, size_t i, size_t j)
{
  return group == NULL || group[i] == group[j];
}

static double mean_of_group(const double *x, const int *group, size_t n, size_t i)
{
  double sum = 0;
  size_t count = 0;
  for (size_t j = 0; j < n; j++)
    if (same_group(group, i, j)) {
      sum += x[j];
      count++;
    }
  return sum / (double)count;
}

static size_t count_groups(const int *group, size_t n)
{
  size_t groups = 0;
  for (size_t i = 0; i < n; i++) {
    size_t j = 0;
    while (j < i && !same_group(group, i, j))
      j++;
    groups += j == i;
  }
  return groups;
}

int iso_line_fit(const double *x, const double *y, const int *group, size_t n, iso_line *out)
{
  double dx[RW_FIT_RUNS], dy[RW_FIT_RUNS], xx = 0, xy = 0, rest = 0;
  for (size_t i = 0; i < n; i++) {
    dx[i] = x[i] - mean_of_group(x, group, n, i);
    dy[i] = y[i] - mean_of_group(y, group, n, i);
    xx += dx[i] * dx[i];
    xy += dx[i] * dy[i];
  }
  if (!(xx > SAME * SAME))
    return 0;
  out->slope = xy / xx;
  for (size_t i = 0; i < n; i++)
    rest += (dy[i] - out->slope * dx[i]) * (dy[i] - out->slope * dx[i]);
  out->x_mid = mean_of_group(x, NULL, n, 0);
  out->y_mid = mean_of_group(y, NULL, n, 0);
  out->groups = count_groups(group, n);
  out->freedom = n - out->groups - 1;
  out->scatter = out->freedom > 0 ? sqrt(rest / (double)out->freedom) : NAN;
  out->lever = sqrt(xx);
  out->slope_se = out->scatter / out->lever;
  return 1;
}

rw_status iso_interval(const char *function, double level, rw_fit_energy *e, rw_error *err)
{
  e->E_low = e->E_high = NAN;
  if (e->freedom == 0)
    return rw_error_set(
        err, RW_OUTSIDE_TESTED, function, "n", "add a run at another setting to see the scatter",
        "the energy fits the %zu runs exactly, so nothing is left to tell how sure "
        "it is: there is no interval",
        e->n);
  double reach = rw_num_student_quantile(0.5 + level / 2, e->freedom) * e->E_se;
  e->E_low = e->E - reach;
  e->E_high = e->E + reach;
  return RW_OK;
}
