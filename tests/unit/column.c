/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Columns whose header names their unit. */
#include "check.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double untouched = -77.0;

static rw_table *parsed(const char *text)
{
  rw_table *t = NULL;
  rw_error err;
  assert_ok(rw_table_parse(text, strlen(text), "shed.csv", &t, &err), &err);
  return t;
}

static double number(const rw_table *t, size_t row, const rw_column *c)
{
  double x = NAN;
  rw_error err;
  assert_ok(rw_column_number(t, row, c, &x, &err), &err);
  return x;
}

static void found_by_name_before_the_bracket(void **state)
{
  (void)state;
  rw_table *t = parsed("note,Girth[mm],x [m],  height  [ in ]\na,520,0.65,1\n");
  rw_column c;
  rw_error err;
  assert_ok(rw_column_find(t, "girth", "m", &c, &err), &err);
  assert_int_equal(c.index, 1);
  assert_string_equal(c.unit, "mm");
  assert_close(number(t, 0, &c), 0.52, 1e-15);
  assert_ok(rw_column_find(t, "X", "m", &c, &err), &err);
  assert_int_equal(c.index, 2);
  assert_close(number(t, 0, &c), 0.65, 0);
  assert_ok(rw_column_find(t, "height", "m", &c, &err), &err);
  assert_close(number(t, 0, &c), 0.0254, 1e-15);
  rw_table_destroy(t);
}

static void a_name_is_not_found_by_its_beginning(void **state)
{
  (void)state;
  rw_table *t = parsed("girths [mm],gi [mm]\n520,1\n");
  rw_column c = {.index = 9};
  rw_error err;
  assert_status(rw_column_find(t, "girth", "m", &c, &err), RW_ERR_NAME, &err);
  check_explained(&err, "girths [mm]");
  assert_non_null(strstr(err.message, "gi [mm]"));
  assert_non_null(strstr(err.hint, "girth [m]"));
  assert_int_equal(c.index, 9);
  assert_status(rw_column_find(t, "girth", "m", &c, NULL), RW_ERR_NAME, NULL);
  rw_table_destroy(t);
}

static void scales_have_an_offset(void **state)
{
  (void)state;
  rw_table *t = parsed("air [degF],wood [degC],rise [K]\n68,20,5\n");
  rw_column c;
  rw_error err;
  assert_ok(rw_column_find(t, "air", "K", &c, &err), &err);
  assert_close(number(t, 0, &c), 293.15, 1e-10);
  assert_ok(rw_column_find(t, "wood", "K", &c, &err), &err);
  assert_close(number(t, 0, &c), 293.15, 1e-10);
  assert_ok(rw_column_find(t, "rise", "K", &c, &err), &err);
  assert_close(number(t, 0, &c), 5, 0);
  rw_table_destroy(t);
}

static void plain_numbers_need_no_unit(void **state)
{
  (void)state;
  rw_table *t = parsed("knuckle,humidity [%],share [1]\n1,55,0.5\n");
  rw_column c;
  rw_error err;
  assert_ok(rw_column_find(t, "knuckle", "", &c, &err), &err);
  assert_close(number(t, 0, &c), 1, 0);
  assert_ok(rw_column_find(t, "humidity", "", &c, &err), &err);
  assert_close(number(t, 0, &c), 0.55, 1e-15);
  assert_ok(rw_column_find(t, "share", "", &c, &err), &err);
  assert_close(number(t, 0, &c), 0.5, 0);
  rw_table_destroy(t);
}

/* Each refused header says which column, and what to write. */
static void refused_units(void **state)
{
  (void)state;
  static const struct {
    const char *header, *name, *unit, *said, *hint;
  } cases[] = {
      {"girth", "girth", "m", "does not say its unit", "girth [m]"},
      {"girth []", "girth", "m", "does not say its unit", "girth [m]"},
      {"girth [", "girth", "m", "does not say its unit", "girth [m]"},
      {"air", "air", "K", "does not say its unit", "air [degC]"},
      {"girth [kg]", "girth", "m", "mass", "girth [m]"},
      {"girth [m2]", "girth", "m", "area", "girth [m]"},
      {"air [mm]", "air", "K", "length", "air [degC]"},
      {"knuckle [m]", "knuckle", "", "length", "\"knuckle\" or \"knuckle [%]\""},
      {"girth [mmm]", "girth", "m", "girth [mmm]", "mm"},
      {"mass [oz]", "mass", "kg", "mass [oz]", "oz"},
  };
  for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
    char text[80];
    snprintf(text, sizeof text, "%s\n5\n", cases[i].header);
    rw_table *t = parsed(text);
    rw_column c = {.factor = untouched};
    rw_error err;
    assert_status(rw_column_find(t, cases[i].name, cases[i].unit, &c, &err), RW_ERR_UNIT, &err);
    check_explained(&err, cases[i].said);
    assert_string_equal(err.argument, cases[i].name);
    assert_non_null(strstr(err.hint, cases[i].hint));
    assert_close(c.factor, untouched, 0);
    assert_status(rw_column_find(t, cases[i].name, cases[i].unit, &c, NULL), RW_ERR_UNIT, NULL);
    rw_table_destroy(t);
  }
}

static void cells_are_told_with_their_place(void **state)
{
  (void)state;
  rw_table *t = parsed("x [m];girth [mm]\n0;520,5\n\n1;wide\n2;\n");
  rw_column c;
  rw_error err;
  assert_ok(rw_column_find(t, "girth", "m", &c, &err), &err);
  assert_close(number(t, 0, &c), 0.5205, 1e-15);
  double x = untouched;
  assert_status(rw_column_number(t, 1, &c, &x, &err), RW_ERR_SYNTAX, &err);
  check_explained(&err, "wide");
  assert_non_null(strstr(err.message, "shed.csv"));
  assert_int_equal(err.line, 4);
  assert_int_equal(err.column, 3);
  assert_status(rw_column_number(t, 2, &c, &x, &err), RW_ERR_SYNTAX, &err);
  check_explained(&err, "empty");
  assert_int_equal(err.line, 5);
  assert_status(rw_column_number(t, 3, &c, &x, &err), RW_ERR_ARGUMENT, &err);
  assert_close(x, untouched, 0);
  rw_table_destroy(t);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(found_by_name_before_the_bracket),
      cmocka_unit_test(a_name_is_not_found_by_its_beginning),
      cmocka_unit_test(scales_have_an_offset),
      cmocka_unit_test(plain_numbers_need_no_unit),
      cmocka_unit_test(refused_units),
      cmocka_unit_test(cells_are_told_with_their_place),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
