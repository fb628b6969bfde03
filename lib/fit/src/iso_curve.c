/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Peaks and places of equal conversion in whole runs. */
#include "iso_common.h"

#include <resinwright/text.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { LEAST_READINGS = 5, MOST_CONVERSIONS = 1000 };

/* A run with what is drawn through its readings. */
typedef struct drawn {
  const rw_iso_curve *curve;
  rw_spline *conversion;
  rw_spline *rate;
} drawn;

static void put_away(drawn *d)
{
  rw_spline_destroy(d->conversion);
  rw_spline_destroy(d->rate);
}

static rw_status no_memory(const char *function, rw_error *err)
{
  return rw_error_set(err, RW_ERR_MEMORY, function, NULL, "work on fewer readings at once",
                      "not enough memory for the readings of a run");
}

static rw_status out_of_order(const char *function, const char *argument, const char *what,
                              const char *hint, size_t i, rw_error *err)
{
  rw_status status =
      rw_error_set(err, RW_ERR_ORDER, function, argument, hint, "reading %zu: %s", i + 1, what);
  rw_error_place(err, (long)i + 1, 0);
  return status;
}

static rw_status check_reading(const char *function, const rw_iso_curve *c, size_t i,
                               rw_error *err)
{
  rw_status status = iso_temperature(function, "reading", i, c->temperature[i], err);
  if (status == RW_OK)
    status = iso_field(function, "reading", i, "conversion", c->conversion[i], 0, 1, "",
                       "a conversion is a share: 35 % is 0.35", err);
  if (status == RW_OK && c->rate != NULL)
    status = iso_field(function, "reading", i, "rate", c->rate[i], -1e3, 1e3, "1/s",
                       "leave out readings without a rate, or leave all rates out", err);
  if (status != RW_OK) {
    rw_error_place(err, (long)i + 1, 0);
    return status;
  }
  if (i > 0 && !(c->temperature[i] > c->temperature[i - 1]))
    return out_of_order(function, "temperature", "the temperature does not rise",
                        "leave out what was recorded before and after the steady heating", i, err);
  if (i > 0 && c->conversion[i] < c->conversion[i - 1])
    return out_of_order(function, "conversion", "the conversion falls",
                        "correct the baseline or smooth the run first: a cure does not go back", i,
                        err);
  return RW_OK;
}

static rw_status check_curve(const char *function, const rw_iso_curve *c, rw_error *err)
{
  if (c->temperature == NULL)
    return iso_missing(function, "temperature", err);
  if (c->conversion == NULL)
    return iso_missing(function, "conversion", err);
  if (c->n < LEAST_READINGS)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "n", "read the run at more moments",
                        "a run needs %d readings at least, and there are %zu", (int)LEAST_READINGS,
                        c->n);
  rw_status status =
      iso_between(function, "heating", c->heating, ISO_SLOWEST, ISO_FASTEST, "K/s",
                  "heating rates are in kelvin per second: 10 K/min is 0.1667", err);
  for (size_t i = 0; status == RW_OK && i < c->n; i++)
    status = check_reading(function, c, i, err);
  return status;
}

/* The rates at the readings, NULL without memory; to be freed. */
static double *rates_of(const drawn *d)
{
  const rw_iso_curve *c = d->curve;
  double *rate = malloc(c->n * sizeof *rate);
  for (size_t i = 0; rate != NULL && i < c->n; i++) {
    if (c->rate != NULL) {
      rate[i] = c->rate[i];
      continue;
    }
    double slope;
    rw_spline_value(d->conversion, c->temperature[i], &slope);
    rate[i] = slope * c->heating;
  }
  return rate;
}

static rw_status draw(const char *function, const rw_iso_curve *c, drawn *out, rw_error *err)
{
  drawn d = {.curve = c};
  rw_status status = check_curve(function, c, err);
  if (status == RW_OK)
    status = rw_spline_create(c->temperature, c->conversion, c->n, RW_SPLINE_NOT_A_KNOT,
                              &d.conversion, err);
  if (status != RW_OK)
    return status;
  double *rate = rates_of(&d);
  status = rate == NULL
               ? no_memory(function, err)
               : rw_spline_create(c->temperature, rate, c->n, RW_SPLINE_NOT_A_KNOT, &d.rate, err);
  free(rate);
  if (status != RW_OK) {
    put_away(&d);
    return status;
  }
  *out = d;
  return RW_OK;
}

static rw_iso_point point_at(const drawn *d, double temperature)
{
  return (rw_iso_point){.heating = d->curve->heating,
                        .temperature = temperature,
                        .rate = rw_spline_value(d->rate, temperature, NULL),
                        .start = d->curve->start};
}

/* The conversion between two readings, less the one looked for. */
typedef struct passing {
  const drawn *d;
  size_t i;
  double conversion;
} passing;

static double above(double T, void *context)
{
  const passing *p = context;
  const rw_iso_curve *c = p->d->curve;
  if (T <= c->temperature[p->i])
    return c->conversion[p->i] - p->conversion;
  if (T >= c->temperature[p->i + 1])
    return c->conversion[p->i + 1] - p->conversion;
  return rw_spline_value(p->d->conversion, T, NULL) - p->conversion;
}

static rw_status not_covered(const char *function, double conversion, const rw_iso_curve *c,
                             rw_error *err)
{
  char wanted[40], first[40], last[40];
  rw_text_round(conversion, 4, wanted);
  rw_text_round(c->conversion[0], 4, first);
  rw_text_round(c->conversion[c->n - 1], 4, last);
  return rw_error_set(
      err, RW_ERR_COVERAGE, function, "conversion", "ask for a conversion that every run passes",
      "the run covers conversions from %s to %s and doesn't pass %s", first, last, wanted);
}

static rw_status pass(const char *function, const drawn *d, double conversion, rw_iso_point *out,
                      rw_error *err)
{
  const rw_iso_curve *c = d->curve;
  passing p = {.d = d, .conversion = conversion};
  if (!(c->conversion[0] < conversion && c->conversion[c->n - 1] >= conversion))
    return not_covered(function, conversion, c, err);
  while (c->conversion[p.i + 1] < conversion)
    p.i++;
  double T;
  rw_status status =
      rw_num_root(above, &p, c->temperature[p.i], c->temperature[p.i + 1], 1e-9, &T, err);
  if (status == RW_OK)
    *out = point_at(d, T);
  return status;
}

static rw_status check_conversion(const char *function, double conversion, rw_error *err)
{
  return iso_between(function, "conversion", conversion, 1e-6, 1 - 1e-6, "",
                     "a conversion is a share: 35 % is 0.35", err);
}

rw_status rw_iso_pass(const rw_iso_curve *curve, double conversion, rw_iso_point *out,
                      rw_error *err)
{
  static const char *const me = "rw_iso_pass";
  if (curve == NULL)
    return iso_missing(me, "curve", err);
  if (out == NULL)
    return iso_missing(me, "out", err);
  drawn d;
  rw_status status = check_conversion(me, conversion, err);
  if (status == RW_OK)
    status = draw(me, curve, &d, err);
  if (status != RW_OK)
    return status;
  status = pass(me, &d, conversion, out, err);
  put_away(&d);
  return status;
}

static double rate_slope(double T, void *context)
{
  const drawn *d = context;
  double slope;
  rw_spline_value(d->rate, T, &slope);
  return slope;
}

static rw_status summit(const char *function, drawn *d, rw_iso_point *out, rw_error *err)
{
  const rw_iso_curve *c = d->curve;
  size_t top = 0;
  double greatest = -HUGE_VAL, T;
  for (size_t i = 0; i < c->n; i++) {
    double rate = rw_spline_value(d->rate, c->temperature[i], NULL);
    if (rate > greatest) {
      greatest = rate;
      top = i;
    }
  }
  if (top == 0 || top + 1 == c->n)
    return rw_error_set(err, RW_ERR_COVERAGE, function, "rate",
                        "record the run until its peak lies well behind",
                        "the run shows no peak: its rate is greatest at the %s reading",
                        top == 0 ? "first" : "last");
  double low = c->temperature[top - 1], high = c->temperature[top + 1];
  if (!(rate_slope(low, d) > 0 && rate_slope(high, d) < 0))
    return rw_error_set(
        err, RW_ERR_NUMERIC, function, "rate", "smooth the run, or read it at wider steps",
        "the rate about its peak, reading %zu, is too ragged to place the peak", top + 1);
  rw_status status = rw_num_root(rate_slope, d, low, high, 1e-9, &T, err);
  if (status == RW_OK)
    *out = point_at(d, T);
  return status;
}

rw_status rw_iso_peak(const rw_iso_curve *curve, rw_iso_point *out, rw_error *err)
{
  static const char *const me = "rw_iso_peak";
  if (curve == NULL)
    return iso_missing(me, "curve", err);
  if (out == NULL)
    return iso_missing(me, "out", err);
  drawn d;
  rw_status status = draw(me, curve, &d, err);
  if (status != RW_OK)
    return status;
  status = summit(me, &d, out, err);
  put_away(&d);
  return status;
}

static rw_status check_scan(const char *function, rw_iso_method method, size_t n,
                            const double *conversion, size_t m, rw_error *err)
{
  if (method == RW_ISO_KISSINGER || method == RW_ISO_E698)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "method",
                        "find the peaks with rw_iso_peak and pass them to rw_iso_energy",
                        "this method is made for peaks, not for places of equal conversion");
  rw_status status = iso_count(function, n, err);
  if (status == RW_OK && (m < 1 || m > MOST_CONVERSIONS))
    return rw_error_range(err, function, "m", (double)m, 1, MOST_CONVERSIONS, "", NULL);
  for (size_t j = 0; status == RW_OK && j < m; j++)
    status = check_conversion(function, conversion[j], err);
  return status;
}

/* The points of all runs, n to a conversion. */
static rw_status gather(const char *function, const rw_iso_curve *curve, size_t n,
                        const double *conversion, size_t m, rw_iso_point *point, rw_error *err)
{
  rw_status status = RW_OK;
  for (size_t i = 0; status == RW_OK && i < n; i++) {
    drawn d = {.curve = NULL};
    status = draw(function, &curve[i], &d, err);
    for (size_t j = 0; status == RW_OK && j < m; j++)
      status = pass(function, &d, conversion[j], &point[j * n + i], err);
    put_away(&d);
    if (status != RW_OK) {
      char place[32];
      snprintf(place, sizeof place, "run %zu", i + 1);
      iso_prefix(err, place);
    }
  }
  return status;
}

static rw_status scan(rw_iso_method method, const rw_iso_point *point, size_t n,
                      const double *conversion, size_t m, double level, rw_fit_energy *energy,
                      rw_error *err)
{
  rw_status remark = RW_OK;
  for (size_t j = 0; j < m; j++) {
    rw_status status = iso_energy("rw_iso_scan", method, &point[j * n], n, level, &energy[j], err);
    if (status < 0) {
      char number[40], place[64];
      rw_text_round(conversion[j], 4, number);
      snprintf(place, sizeof place, "at conversion %s", number);
      iso_prefix(err, place);
      return status;
    }
    if (status > 0)
      remark = status;
  }
  return remark;
}

rw_status rw_iso_scan(rw_iso_method method, const rw_iso_curve *curve, size_t n,
                      const double *conversion, size_t m, double level, rw_fit_energy *out,
                      rw_error *err)
{
  static const char *const me = "rw_iso_scan";
  if (curve == NULL && n > 0)
    return iso_missing(me, "curve", err);
  if (conversion == NULL)
    return iso_missing(me, "conversion", err);
  if (out == NULL)
    return iso_missing(me, "out", err);
  rw_status status = check_scan(me, method, n, conversion, m, err);
  if (status != RW_OK)
    return status;
  rw_iso_point *point = malloc(m * n * sizeof *point);
  rw_fit_energy *energy = malloc(m * sizeof *energy);
  status = point == NULL || energy == NULL ? no_memory(me, err)
                                           : gather(me, curve, n, conversion, m, point, err);
  if (status == RW_OK)
    status = scan(method, point, n, conversion, m, level, energy, err);
  for (size_t j = 0; status >= 0 && j < m; j++)
    out[j] = energy[j];
  free(point);
  free(energy);
  return status;
}
