/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Activation energies from one point of each run. */
#include "iso_common.h"

#include <math.h>

static const double LEAST_STEP = 1.01; /* fastest over slowest heating */

/* ln(heating/T^power) against 1/T has the slope -factor E/R. */
typedef struct line_form {
  double power, factor;
} line_form;

static line_form form_of(rw_iso_method method)
{
  switch (method) {
  case RW_ISO_OFW:
    return (line_form){0, 1.052};
  case RW_ISO_STARINK:
    return (line_form){1.92, 1.0008};
  case RW_ISO_KISSINGER:
  case RW_ISO_KAS:
    return (line_form){2, 1};
  default:
    return (line_form){0, 1};
  }
}

static rw_status check_run(const char *function, rw_iso_method method, const rw_iso_point *run,
                           size_t i, rw_error *err)
{
  rw_status status = iso_temperature(function, "run", i, run->temperature, err);
  if (status == RW_OK && method != RW_ISO_FRIEDMAN)
    status = iso_heating(function, i, run->heating, err);
  if (status == RW_OK && method == RW_ISO_FRIEDMAN)
    status = iso_field(function, "run", i, "rate", run->rate, 1e-12, 1e3, "1/s",
                       "the rate is the slope of the conversion with time, above 0", err);
  if (status == RW_OK && method == RW_ISO_VYAZOVKIN)
    status =
        iso_field(function, "run", i, "start", run->start, 0, run->temperature - 0.1, "K",
                  "where the run began, below the temperature looked at; 0 where not known", err);
  return status;
}

static rw_status check_rates_differ(const char *function, const rw_iso_point *run, size_t n,
                                    rw_error *err)
{
  double slowest = HUGE_VAL, fastest = 0;
  for (size_t i = 0; i < n; i++) {
    slowest = fmin(slowest, run[i].heating);
    fastest = fmax(fastest, run[i].heating);
  }
  if (fastest >= LEAST_STEP * slowest)
    return RW_OK;
  return rw_error_set(err, RW_ERR_ARGUMENT, function, "heating",
                      "heat one run several times as fast as another, best ten times",
                      "all %zu runs were heated at one rate; the energy shows only between "
                      "different rates",
                      n);
}

static rw_status check_runs(const char *function, rw_iso_method method, const rw_iso_point *run,
                            size_t n, double level, rw_error *err)
{
  if (!((int)method >= RW_ISO_KISSINGER && (int)method <= RW_ISO_VYAZOVKIN))
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "method",
                        "take one of the methods of rw_iso_method", "there is no method %d",
                        (int)method);
  rw_status status = iso_count(function, n, err);
  if (status == RW_OK)
    status = iso_level(function, level, err);
  for (size_t i = 0; status == RW_OK && i < n; i++)
    status = check_run(function, method, &run[i], i, err);
  if (status == RW_OK && method != RW_ISO_FRIEDMAN)
    status = check_rates_differ(function, run, n, err);
  return status;
}

static void ordinates(rw_iso_method method, const rw_iso_point *run, size_t n, double *x,
                      double *y)
{
  line_form form = form_of(method);
  for (size_t i = 0; i < n; i++) {
    x[i] = 1 / run[i].temperature;
    y[i] = method == RW_ISO_FRIEDMAN ? log(run[i].rate)
                                     : log(run[i].heating) - form.power * log(run[i].temperature);
  }
}

/* Rate constant at the middle: of the condition of a first-order peak, or the line's own. */
static void rate_constant(rw_iso_method method, const rw_iso_point *run, const iso_line *line,
                          rw_fit_energy *e)
{
  double n = (double)e->n, sum = 0;
  e->log_k = e->log_k_se = e->log_A = NAN;
  if (method == RW_ISO_FRIEDMAN) {
    e->log_k = line->y_mid;
    e->log_k_se = e->scatter / sqrt(n);
  } else if (method == RW_ISO_KISSINGER || method == RW_ISO_E698) {
    for (size_t i = 0; i < e->n; i++)
      sum += log(run[i].heating) - 2 * log(run[i].temperature);
    e->log_k = sum / n + log(e->E / RW_GAS_CONSTANT);
    e->log_k_se = hypot(e->scatter / sqrt(n), e->E_se / e->E);
  }
  e->log_A = e->log_k + e->E / (RW_GAS_CONSTANT * e->T_mid);
}

static rw_status by_line(const char *function, rw_iso_method method, const rw_iso_point *run,
                         size_t n, rw_fit_energy *out, rw_error *err)
{
  double x[RW_FIT_RUNS], y[RW_FIT_RUNS];
  iso_line line;
  ordinates(method, run, n, x, y);
  if (!iso_line_fit(x, y, NULL, n, &line))
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "temperature",
                        "look whether one run was entered twice",
                        "all %zu runs stand at one temperature, so they show no energy", n);
  double per_slope = RW_GAS_CONSTANT / form_of(method).factor;
  rw_fit_energy e = {.E = -per_slope * line.slope,
                     .E_se = per_slope * line.slope_se,
                     .T_mid = 1 / line.x_mid,
                     .scatter = line.scatter,
                     .objective = NAN,
                     .n = n,
                     .freedom = line.freedom};
  if (method == RW_ISO_E698)
    e.E -= 2 * RW_GAS_CONSTANT * e.T_mid;
  if (!(e.E > 0))
    return rw_error_set(err, RW_ERR_NUMERIC, function, "run",
                        "look whether columns or units are mixed up",
                        "these runs give no activation energy above 0: faster runs must stand at "
                        "higher temperatures");
  rate_constant(method, run, &line, &e);
  *out = e;
  return RW_OK;
}

rw_status iso_energy(const char *function, rw_iso_method method, const rw_iso_point *run, size_t n,
                     double level, rw_fit_energy *out, rw_error *err)
{
  rw_fit_energy found;
  rw_status status = check_runs(function, method, run, n, level, err);
  if (status != RW_OK)
    return status;
  status = method == RW_ISO_VYAZOVKIN ? iso_vyazovkin(function, run, n, &found, err)
                                      : by_line(function, method, run, n, &found, err);
  if (status != RW_OK)
    return status;
  status = iso_interval(function, level, &found, err);
  *out = found;
  return status;
}

rw_status rw_iso_energy(rw_iso_method method, const rw_iso_point *run, size_t n, double level,
                        rw_fit_energy *out, rw_error *err)
{
  static const char *const me = "rw_iso_energy";
  if (run == NULL && n > 0)
    return iso_missing(me, "run", err);
  if (out == NULL)
    return iso_missing(me, "out", err);
  return iso_energy(me, method, run, n, level, out, err);
}
