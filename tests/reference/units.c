/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Factors of the units against the printed ones of NIST SP 811, Appendix B.8. */
#include "check.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The SI unit's own factor must be one, and both must be of one dimension. */
static double factor_to(const char *unit, const char *si)
{
  double factor = NAN, offset = NAN, one = NAN;
  rw_dim dim, wanted;
  rw_error err;
  assert_ok(rw_unit_read(unit, strlen(unit), &factor, &offset, &dim, &err), &err);
  assert_true(offset == 0);
  assert_ok(rw_unit_read(si, strlen(si), &one, &offset, &wanted, &err), &err);
  assert_true(one == 1);
  assert_true(rw_dim_same(dim, wanted));
  return factor;
}

static double celsius(double fahrenheit)
{
  rw_quantity q;
  rw_error err;
  double value = NAN;
  assert_ok(rw_quantity_of(fahrenheit, "degF", &q, &err), &err);
  assert_ok(rw_quantity_in(&q, "degC", &value, &err), &err);
  return value;
}

static void factors_are_the_printed_ones(void **state)
{
  rw_table *t = check_table("points_units");
  (void)state;
  assert_int_equal(rw_table_rows(t), 50);
  for (size_t row = 0; row < rw_table_rows(t); row++) {
    const char *id = check_text(t, row, "id"), *unit = check_text(t, row, "unit");
    int reading = strcmp(unit, "degC") == 0;
    double actual = reading ? celsius(strtod(id + 5, NULL)) : factor_to(id, unit);
    check_point("units", id, actual);
  }
  rw_table_destroy(t);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(factors_are_the_printed_ones),
  };
  return cmocka_run_group_tests_name("reference_units", tests, NULL, NULL);
}
