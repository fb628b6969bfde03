/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statuses, ranges, inverses and the carried uncertainty of the room air. */
#include "check.h"

#include <math.h>
#include <string.h>

static const double untouched = -77.0;

static void saturation_has_a_range(void **state)
{
  (void)state;
  rw_error err;
  double p = untouched;
  assert_ok(rw_air_saturation(273.15, &p, &err), &err);
  assert_close_rel(p, 611.2, 1e-14);
  assert_ok(rw_air_saturation(323.15, &p, NULL), NULL);
  assert_status(rw_air_saturation(273.0, &p, &err), RW_OUTSIDE_TESTED, &err);
  assert_true(p < 611.2);
  assert_status(rw_air_saturation(323.2, &p, &err), RW_OUTSIDE_TESTED, &err);
  assert_ok(rw_air_saturation(300.0, &p, &err), &err);
  static const double bad[] = {227.9, 363.1, 20.0, NAN, HUGE_VAL, -HUGE_VAL};
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    p = untouched;
    assert_status(rw_air_saturation(bad[i], &p, &err), RW_ERR_RANGE, &err);
    assert_close(p, untouched, 0.0);
    check_explained(&err, "temperature");
    assert_string_equal(err.function, "rw_air_saturation");
    assert_non_null(strstr(err.hint, "kelvin"));
    assert_status(rw_air_saturation(bad[i], &p, NULL), RW_ERR_RANGE, &err);
  }
}

static void saturated_air_is_at_its_dew_point(void **state)
{
  (void)state;
  rw_error err;
  for (double t = 274.0; t <= 323.0; t += 0.5) {
    double dew = untouched;
    assert_ok(rw_air_dew_point(t, 1.0, &dew, &err), &err);
    assert_close(dew, t, 1e-9);
  }
}

static void dew_point_undoes_saturation(void **state)
{
  (void)state;
  rw_error err;
  for (double t = 283.0; t <= 318.0; t += 5.0) {
    double least = 0.0;
    for (double h = 0.35; h < 1.0; h += 0.07) {
      double dew, at_dew, at_air;
      assert_true(rw_air_dew_point(t, h, &dew, &err) >= 0);
      assert_true(rw_air_saturation(dew, &at_dew, &err) >= 0);
      assert_ok(rw_air_saturation(t, &at_air, &err), &err);
      assert_close_rel(at_dew, h * at_air, 1e-12);
      assert_true(dew > least);
      least = dew;
    }
  }
}

static void dew_point_has_a_range(void **state)
{
  (void)state;
  rw_error err;
  double dew = untouched;
  assert_status(rw_air_dew_point(293.15, 0.1, &dew, &err), RW_OUTSIDE_TESTED, &err);
  assert_true(dew < 273.15);
  assert_status(rw_air_dew_point(228.0, 0.001, &dew, &err), RW_OUTSIDE_TESTED, &err);
  assert_true(isfinite(dew) && dew > 0.0 && dew < 228.0);
  static const double humid[] = {0.0, 0.0009, 1.0001, 65.0, -0.1, NAN};
  for (size_t i = 0; i < sizeof humid / sizeof humid[0]; i++) {
    dew = untouched;
    assert_status(rw_air_dew_point(293.15, humid[i], &dew, &err), RW_ERR_RANGE, &err);
    assert_close(dew, untouched, 0.0);
    check_explained(&err, "humidity");
    assert_non_null(strstr(err.hint, "0.65"));
  }
  assert_status(rw_air_dew_point(21.0, 0.5, &dew, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "temperature");
}

static double margin_at(double air, double humidity, double surface)
{
  rw_error err;
  double dew = NAN;
  assert_ok(rw_air_dew_point(air, humidity, &dew, &err), &err);
  return surface - dew;
}

/* The analytic spread against central differences of the dew point. */
static void margin_carries_each_reading(void **state)
{
  (void)state;
  static const double step = 1e-5;
  rw_error err;
  for (double t = 281.0; t < 312.0; t += 3.0) {
    double h = 0.72, s = t - 2.0;
    double by_air = (margin_at(t + step, h, s) - margin_at(t - step, h, s)) / (2 * step);
    double by_humidity = (margin_at(t, h + step, s) - margin_at(t, h - step, s)) / (2 * step);
    rw_value m;
    rw_value air = {t, 0.5}, humid = {h, 0.05}, surface = {s, 0.3};
    assert_ok(rw_air_dew_margin(air, humid, surface, &m, &err), &err);
    assert_close(m.value, margin_at(t, h, s), 1e-12);
    double expected = sqrt(0.09 + by_air * by_air * 0.25 + by_humidity * by_humidity * 0.0025);
    assert_close_rel(m.sd, expected, 1e-7); /* truncation of the differences */
    rw_value exact_air = {t, 0}, exact_humid = {h, 0}, exact_surface = {s, 0};
    assert_ok(rw_air_dew_margin(exact_air, exact_humid, exact_surface, &m, &err), &err);
    assert_close(m.sd, 0.0, 0.0);
  }
}

static void margin_checks_its_readings(void **state)
{
  (void)state;
  rw_error err;
  const rw_value air = {293, 0.5}, humid = {0.6, 0.05}, surface = {290, 0.5};
  static const double bad_sd[] = {-0.1, NAN, HUGE_VAL};
  rw_value m = {untouched, untouched};
  for (size_t i = 0; i < sizeof bad_sd / sizeof bad_sd[0]; i++) {
    rw_value worse = {293, bad_sd[i]}, damper = {0.6, bad_sd[i]};
    assert_status(rw_air_dew_margin(worse, humid, surface, &m, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "air.sd");
    assert_status(rw_air_dew_margin(air, damper, surface, &m, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "humidity.sd");
    assert_status(rw_air_dew_margin(air, humid, worse, &m, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "surface.sd");
  }
  assert_status(rw_air_dew_margin((rw_value){20, 0}, humid, surface, &m, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "air");
  assert_status(rw_air_dew_margin(air, (rw_value){60, 0}, surface, &m, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "humidity");
  assert_status(rw_air_dew_margin(air, humid, (rw_value){20, 0}, &m, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "surface");
  assert_close(m.value, untouched, 0.0);
  assert_close(m.sd, untouched, 0.0);
  assert_status(rw_air_dew_margin(air, (rw_value){0.1, 0.05}, surface, &m, &err),
                RW_OUTSIDE_TESTED, &err);
}

static void wood_is_dry_in_dry_air_and_wetter_in_damp(void **state)
{
  (void)state;
  rw_error err;
  for (double t = 240.0; t <= 380.0; t += 5.0) {
    double before = untouched, here;
    rw_status wanted = t < 272.0 || t > 345.0 ? RW_OUTSIDE_TESTED : RW_OK;
    assert_status(rw_air_wood_moisture(t, 0.0, &here, &err), wanted, &err);
    assert_close(here, 0.0, 0.0);
    for (double h = 0.0; h <= 1.0; h += 0.05) {
      assert_status(rw_air_wood_moisture(t, h, &here, &err), wanted, &err);
      assert_true(here > before);
      before = here;
    }
  }
}

static void wood_humidity_undoes_wood_moisture(void **state)
{
  (void)state;
  rw_error err;
  for (double t = 273.0; t <= 345.0; t += 9.0) {
    for (double h = 0.0; h <= 1.0; h += 0.1) {
      double m, back = untouched;
      assert_ok(rw_air_wood_moisture(t, h, &m, &err), &err);
      assert_ok(rw_air_wood_humidity(t, m, &back, &err), &err);
      assert_close(back, h, 1e-13);
    }
    double wettest, back;
    assert_ok(rw_air_wood_moisture(t, 1.0, &wettest, &err), &err);
    assert_ok(rw_air_wood_humidity(t, wettest, &back, &err), &err);
    assert_close(back, 1.0, 0.0);
    back = untouched;
    assert_status(rw_air_wood_humidity(t, wettest * 1.001, &back, &err), RW_ERR_RANGE, &err);
    assert_close(back, untouched, 0.0);
    check_explained(&err, "moisture");
    assert_close(err.high, wettest, 1e-15);
  }
}

static void wood_checks_its_arguments(void **state)
{
  (void)state;
  rw_error err;
  double x = untouched;
  static const double cold[] = {239.9, 380.1, 20.0, NAN};
  for (size_t i = 0; i < sizeof cold / sizeof cold[0]; i++) {
    assert_status(rw_air_wood_moisture(cold[i], 0.5, &x, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "temperature");
    assert_status(rw_air_wood_humidity(cold[i], 0.1, &x, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "temperature");
  }
  static const double humid[] = {-0.01, 1.01, 65.0, NAN};
  for (size_t i = 0; i < sizeof humid / sizeof humid[0]; i++) {
    assert_status(rw_air_wood_moisture(293.0, humid[i], &x, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "humidity");
  }
  static const double wet[] = {-0.01, 12.0, NAN};
  for (size_t i = 0; i < sizeof wet / sizeof wet[0]; i++) {
    assert_status(rw_air_wood_humidity(293.0, wet[i], &x, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "moisture");
  }
  assert_close(x, untouched, 0.0);
  assert_status(rw_air_wood_humidity(350.0, 0.05, &x, &err), RW_OUTSIDE_TESTED, &err);
  assert_true(x > 0.0 && x < 1.0);
}

static void a_missing_result_is_said(void **state)
{
  (void)state;
  rw_error err;
  const rw_value one = {293, 0}, half = {0.5, 0};
  assert_status(rw_air_saturation(293, NULL, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "pressure");
  assert_status(rw_air_dew_point(293, 0.5, NULL, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "dew_point");
  assert_status(rw_air_dew_margin(one, half, one, NULL, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "margin");
  assert_status(rw_air_wood_moisture(293, 0.5, NULL, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "moisture");
  assert_status(rw_air_wood_humidity(293, 0.1, NULL, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "humidity");
  assert_status(rw_air_wood_humidity(293, 0.1, NULL, NULL), RW_ERR_ARGUMENT, NULL);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(saturation_has_a_range),
      cmocka_unit_test(saturated_air_is_at_its_dew_point),
      cmocka_unit_test(dew_point_undoes_saturation),
      cmocka_unit_test(dew_point_has_a_range),
      cmocka_unit_test(margin_carries_each_reading),
      cmocka_unit_test(margin_checks_its_readings),
      cmocka_unit_test(wood_is_dry_in_dry_air_and_wetter_in_damp),
      cmocka_unit_test(wood_humidity_undoes_wood_moisture),
      cmocka_unit_test(wood_checks_its_arguments),
      cmocka_unit_test(a_missing_result_is_said),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
