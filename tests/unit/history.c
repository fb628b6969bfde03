/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"

#include <math.h>
#include <string.h>

static const double HOUR = 3600, DAY = 86400;

static rw_history *make(const double *t, const double *T, size_t n)
{
  rw_history *h = NULL;
  rw_error err;
  assert_ok(rw_history_create(t, T, NULL, n, &h, &err), &err);
  return h;
}

static double at(const rw_history *h, double time)
{
  double T = NAN;
  rw_error err;
  assert_ok(rw_history_temperature(h, time, &T, &err), &err);
  return T;
}

static void lines_and_steps(void **state)
{
  (void)state;
  static const double t[] = {0, 10, 10, 20}, T[] = {280, 290, 300, 300};
  rw_history *h = make(t, T, 4);
  assert_close(at(h, 5), 285, 1e-12);
  assert_close(at(h, 9.999999), 290, 1e-5);
  assert_close(at(h, 10), 300, 0);
  assert_close(at(h, 20), 300, 0);
  double low, high;
  rw_error err;
  assert_ok(rw_history_extremes(h, 2, 15, &low, &high, &err), &err);
  assert_close(low, 282, 1e-12);
  assert_close(high, 300, 0);
  double T20 = 7;
  assert_status(rw_history_temperature(h, 20.5, &T20, &err), RW_ERR_COVERAGE, &err);
  check_explained(&err, "reach from");
  assert_close(T20, 7, 0);
  rw_history_destroy(h);
}

static void bad_readings(void **state)
{
  (void)state;
  rw_history *h = NULL;
  rw_error err;
  static const double T[] = {280, 290, 300};
  assert_status(rw_history_create((double[]){0, 5, 4}, T, NULL, 3, &h, &err), RW_ERR_ORDER, &err);
  check_explained(&err, "time[3]");
  assert_status(
      rw_history_create((double[]){0, 5, 5}, (double[]){280, 290, 20}, NULL, 3, &h, &err),
      RW_ERR_RANGE, &err);
  check_explained(&err, "temperature[3]");
  assert_status(rw_history_create((double[]){5, 5, 5}, T, NULL, 3, &h, &err), RW_ERR_ORDER, &err);
  assert_status(rw_history_create((double[]){5}, T, NULL, 1, &h, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_history_create((double[]){0, NAN, 5}, T, NULL, 3, &h, &err), RW_ERR_ARGUMENT,
                &err);
  assert_status(rw_history_create((double[]){0, 1, 5}, T, (double[]){0.5, 55, 0.5}, 3, &h, &err),
                RW_ERR_RANGE, &err);
  check_explained(&err, "humidity[2]");
  assert_null(h);
  assert_status(
      rw_history_create((double[]){0, 1, 5}, (double[]){300, 410, 300}, NULL, 3, &h, &err),
      RW_OUTSIDE_TESTED, &err);
  rw_history_destroy(h);
}

/* A step of the air: the body follows 1 - exp(-t/tau), everywhere within the tolerance. */
static void lag_after_a_step(void **state)
{
  (void)state;
  static const double t[] = {0, 1000, 1000, 20000}, T[] = {280, 280, 300, 300};
  double tau = 2400;
  rw_history *air = make(t, T, 4), *body = NULL;
  rw_error err;
  assert_ok(rw_history_lag(air, tau, NAN, 0.01, &body, &err), &err);
  for (double x = 0; x <= 20000; x += 61) {
    double exact = x < 1000 ? 280 : 300 - 20 * exp(-(x - 1000) / tau);
    assert_close(at(body, x), exact, 0.0101);
  }
  rw_history_destroy(body);
  rw_history_destroy(air);
}

/* A sine stays within its tolerance and between its extremes, and one that is flat is flat. */
static void waves(void **state)
{
  (void)state;
  rw_error err;
  const rw_wave day = {.mean = 290, .amplitude = 6, .period = 86400, .warmest = 15 * 3600};
  for (double tolerance = 0.3; tolerance > 1e-7; tolerance /= 50) {
    rw_history *h = NULL;
    double worst = 0, T;
    assert_ok(rw_history_from_wave(&day, 1000, 3 * 86400.0, tolerance, &h, &err), &err);
    for (double t = 1000; t < 3 * 86400.0; t += 977) {
      assert_ok(rw_history_temperature(h, t, &T, &err), &err);
      worst = fmax(
          worst, fabs(T - (290 + 6 * cos(2 * 3.14159265358979323846 * (t - 15 * 3600) / 86400))));
    }
    assert_true(worst <= tolerance && worst > tolerance / 50);
    rw_history_destroy(h);
  }
  rw_wave flat = day;
  flat.amplitude = 0;
  rw_history *h = NULL;
  double low, high;
  assert_ok(rw_history_from_wave(&flat, 0, 86400, 1e-3, &h, &err), &err);
  assert_ok(rw_history_extremes(h, 0, 86400, &low, &high, &err), &err);
  assert_true(low == 290 && high == 290);
  rw_history_destroy(h);
}

static void waves_refuse(void **state)
{
  (void)state;
  const struct {
    double mean, amplitude, period, warmest, from, to, tolerance;
    const char *argument;
  } wrong[] = {
      {290, -1, 86400, 0, 0, 1e5, 0.1, "amplitude"},
      {290, NAN, 86400, 0, 0, 1e5, 0.1, "amplitude"},
      {290, 6, 1, 0, 0, 1e5, 0.1, "period"},
      {290, 6, 86400, NAN, 0, 1e5, 0.1, "warmest"},
      {290, 6, 86400, 0, 5, 5, 0.1, "to"},
      {290, 6, 86400, 0, 0, NAN, 0.1, "to"},
      {290, 6, 86400, 0, 0, 1e5, 0, "tolerance"},
      {290, 6, 60, 0, 0, 3e7, 1e-9, "pieces"},
      {-20, 6, 86400, 0, 0, 1e5, 0.1, "mean"},
      {NAN, 6, 86400, 0, 0, 1e5, 0.1, "mean"},
      {495, 6, 86400, 0, 0, 1e5, 0.1, "temperature[1]"},
  };
  for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
    rw_wave w = {wrong[i].mean, wrong[i].amplitude, wrong[i].period, wrong[i].warmest};
    rw_history *h = NULL;
    rw_error err;
    rw_status status =
        rw_history_from_wave(&w, wrong[i].from, wrong[i].to, wrong[i].tolerance, &h, &err);
    assert_true(status < 0);
    assert_null(h);
    assert_string_equal(err.argument, wrong[i].argument);
    assert_true(err.message[0] != '\0');
  }
}

/* A difference is told in kelvin however large, a temperature in degrees Celsius. */
static void differences_are_told_apart(void **state)
{
  (void)state;
  rw_wave w = {.mean = 290, .amplitude = 400, .period = 86400};
  rw_history *h = NULL;
  rw_error err;
  assert_int_equal(rw_history_from_wave(&w, 0, 86400, 0.1, &h, &err), RW_ERR_RANGE);
  assert_non_null(strstr(err.message, "found 400 K, allowed 0 K to 100 K"));
  w.mean = 673.15;
  assert_int_equal(rw_history_from_wave(&w, 0, 86400, 0.1, &h, &err), RW_ERR_RANGE);
  assert_string_equal(err.argument, "mean");
  assert_non_null(strstr(err.message, "found 400 degC, allowed -73.15 degC to 226.85 degC"));
  assert_null(h);
}

/* Behind a steady ramp the body lags by slope x tau in the end. */
static void lag_behind_a_ramp(void **state)
{
  (void)state;
  static const double t[] = {0, 1e5}, T[] = {280, 300};
  rw_history *air = make(t, T, 2), *body = NULL;
  rw_error err;
  assert_ok(rw_history_lag(air, 3000, NAN, 1e-4, &body, &err), &err);
  assert_close(at(body, 1e5), 300 - 3000 * 20 / 1e5, 1e-4);
  rw_history_destroy(body);
  assert_ok(rw_history_lag(air, 0, NAN, 1e-4, &body, &err), &err);
  assert_close(at(body, 3e4), at(air, 3e4), 0);
  rw_history_destroy(body);
  assert_status(rw_history_lag(air, -1, NAN, 1e-4, &body, &err), RW_ERR_RANGE, &err);
  rw_history_destroy(air);
}

static void going_on(void **state)
{
  (void)state;
  double t[25], T[25];
  for (int i = 0; i < 25; i++) {
    t[i] = i * HOUR;
    T[i] = 285 + 5 * sin(i * 0.3);
  }
  rw_history *h = make(t, T, 25), *longer = NULL;
  rw_error err;
  assert_ok(rw_history_extend(h, 5.5 * DAY, RW_REPEAT_DAY, &longer, &err), &err);
  for (int day = 1; day <= 4; day++)
    assert_close(at(longer, day * DAY + 7.3 * HOUR), at(h, 7.3 * HOUR), 1e-9);
  rw_history_destroy(longer);
  assert_ok(rw_history_extend(h, 3 * DAY, RW_HOLD, &longer, &err), &err);
  assert_close(at(longer, 3 * DAY), T[24], 0);
  rw_history_destroy(longer);
  assert_status(rw_history_extend(h, DAY / 2, RW_HOLD, &longer, &err), RW_ERR_RANGE, &err);
  rw_history *half = make(t, T, 12);
  assert_status(rw_history_extend(half, 3 * DAY, RW_REPEAT_DAY, &longer, &err), RW_ERR_COVERAGE,
                &err);
  check_explained(&err, "24 h");
  rw_history_destroy(half);
  rw_history_destroy(h);
}

static void lows_and_highs(void **state)
{
  (void)state;
  rw_day day[2] = {{0, 278, 292}, {DAY, 276, 290}};
  rw_history *h = NULL;
  rw_error err;
  assert_ok(rw_history_from_days(day, 2, &h, &err), &err);
  assert_close(at(h, 5.5 * HOUR), 278, 1e-9);
  assert_close(at(h, 15 * HOUR), 292, 1e-9);
  assert_close(at(h, DAY + 5.5 * HOUR), 276, 1e-9);
  double low, high;
  assert_ok(rw_history_extremes(h, 5.5 * HOUR, DAY + 15 * HOUR, &low, &high, &err), &err);
  assert_close(low, 276, 1e-9);
  assert_close(high, 292, 1e-9);
  rw_history_destroy(h);
  rw_day swapped = {0, 292, 278};
  assert_status(rw_history_from_days(&swapped, 1, &h, &err), RW_ERR_RANGE, &err);
  assert_status(rw_history_from_days(day, 0, &h, &err), RW_ERR_ARGUMENT, &err);
}

static void humidity_with_gaps(void **state)
{
  (void)state;
  static const double t[] = {0, 10, 20, 30, 40}, T[] = {280, 280, 280, 280, 280};
  static const double rh[] = {NAN, 0.4, NAN, 0.8, NAN};
  rw_history *h = NULL;
  rw_error err;
  assert_ok(rw_history_create(t, T, rh, 5, &h, &err), &err);
  double x = 0;
  assert_ok(rw_history_humidity(h, 20, &x, &err), &err);
  assert_close(x, 0.6, 1e-12);
  assert_ok(rw_history_humidity(h, 10, &x, &err), &err);
  assert_close(x, 0.4, 1e-12);
  assert_ok(rw_history_humidity(h, 25, &x, &err), &err);
  assert_close(x, 0.7, 1e-12);
  assert_ok(rw_history_humidity(h, 5, &x, &err), &err);
  assert_true(isnan(x));
  assert_ok(rw_history_humidity(h, 35, &x, &err), &err);
  assert_true(isnan(x));
  rw_history_destroy(h);
}

static void shifted(void **state)
{
  (void)state;
  static const double t[] = {0, 10}, T[] = {280, 290};
  rw_history *h = make(t, T, 2), *warm = NULL;
  rw_error err;
  assert_ok(rw_history_shift(h, 2.5, &warm, &err), &err);
  assert_close(at(warm, 5), 287.5, 1e-12);
  rw_history_destroy(warm);
  assert_status(rw_history_shift(h, 300, &warm, &err), RW_ERR_RANGE, &err);
  rw_history_destroy(h);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(waves),
      cmocka_unit_test(waves_refuse),
      cmocka_unit_test(differences_are_told_apart),
      cmocka_unit_test(lines_and_steps),
      cmocka_unit_test(bad_readings),
      cmocka_unit_test(lag_after_a_step),
      cmocka_unit_test(lag_behind_a_ramp),
      cmocka_unit_test(going_on),
      cmocka_unit_test(lows_and_highs),
      cmocka_unit_test(humidity_with_gaps),
      cmocka_unit_test(shifted),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
