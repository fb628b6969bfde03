/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Published pressures, dew points and wood moistures against the room air. */
#include "check.h"

#include <math.h>

static const double zero_c = 273.15;

static double pressure(double celsius)
{
  rw_error err;
  double p = NAN;
  assert_ok(rw_air_saturation(celsius + zero_c, &p, &err), &err);
  return p;
}

static void compare_pressure(const char *id, double celsius)
{
  check_point("air", id, pressure(celsius));
}

static void pressures(void **state)
{
  (void)state;
  compare_pressure("svp-A-0", 0);
  compare_pressure("svp-A-5", 5);
  compare_pressure("svp-A-10", 10);
  compare_pressure("svp-A-15", 15);
  compare_pressure("svp-A-20", 20);
  compare_pressure("svp-A-25", 25);
  compare_pressure("svp-A-30", 30);
  compare_pressure("svp-A-35", 35);
  compare_pressure("svp-A-40", 40);
  compare_pressure("svp-A-45", 45);
  compare_pressure("svp-A-50", 50);
  compare_pressure("svp-B-5", 5);
  compare_pressure("svp-B-25", 25);
  compare_pressure("svp-B-50", 50);
  compare_pressure("magnus-0", 0);
  compare_pressure("magnus-20", 20);
  compare_pressure("magnus-30", 30);
  compare_pressure("magnus-50", 50);
}

static void compare_dew(const char *id, double celsius, double percent)
{
  rw_error err;
  double dew = NAN;
  assert_ok(rw_air_dew_point(celsius + zero_c, percent / 100, &dew, &err), &err);
  check_point("air", id, dew - zero_c);
}

static void dew_points(void **state)
{
  (void)state;
  compare_dew("dew-20-50", 20, 50);
  compare_dew("dew-20-60", 20, 60);
  compare_dew("dew-20-70", 20, 70);
  compare_dew("dew-25-80", 25, 80);
  compare_dew("dew-15-85", 15, 85);
  compare_dew("dew-33-70", 33, 70);
  compare_dew("dew-guide-16-71", 16, 71);
  compare_dew("dew-guide-30-55", 30, 55);
  compare_dew("dew-guide-24-35", 24, 35);
}

static double moisture(double celsius, double percent)
{
  rw_error err;
  double m = NAN;
  assert_ok(rw_air_wood_moisture(celsius + zero_c, percent / 100, &m, &err), &err);
  return 100 * m;
}

static void wood(void **state)
{
  (void)state;
  check_point("air", "emc-1", moisture(20, 50));
  check_point("air", "emc-2", moisture(21.8, 36.8));
  check_point("air", "emc-3", moisture(21.7, 36.5));
  check_point("air", "emc-4", moisture(21.1111, 25));
  check_point("air", "emc-5", moisture(21.1111, 60));
  check_point("air", "emc-6", moisture(21.1111, 84));
  check_point("air", "emc-7", moisture(21.1111, 87));
  check_point("air", "emc-8", moisture(21.1111, 97));
  check_point("air", "emc-9", moisture(21.1111, 100));
  check_point("air", "emc-10", moisture(60, 55));
  rw_error err;
  double h = NAN;
  assert_ok(rw_air_wood_humidity(293.15, 0.12, &h, &err), &err);
  check_point("air", "emc-inverse", h);
}

static void wood_grid(void **state)
{
  (void)state;
  rw_table *t = check_table("table_wood_emc");
  assert_int_equal(rw_table_rows(t), 133);
  for (size_t row = 0; row < rw_table_rows(t); row++) {
    double m = moisture(check_cell(t, row, "temperature"), check_cell(t, row, "humidity"));
    assert_close(m, check_cell(t, row, "moisture"), 0.006); /* half of the last digit given */
  }
  rw_table_destroy(t);
}

static void every_row_was_used(void **state)
{
  (void)state;
  check_all_points_used("air");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(pressures), cmocka_unit_test(dew_points),         cmocka_unit_test(wood),
      cmocka_unit_test(wood_grid), cmocka_unit_test(every_row_was_used),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
