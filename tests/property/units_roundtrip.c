/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is written reads back: every unit, every usual dimension, both systems, many sizes. */
#include "check.h"

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

/* A linear congruential step: the same numbers in every run. */
static double uniform(uint64_t *seed)
{
  *seed = *seed * 6364136223846793005u + 1442695040888963407u;
  return (double)(*seed >> 11) * 0x1p-53;
}

/* Sizes from 1e-12 to 1e12, evenly in their logarithm, of both signs. */
static double any_size(uint64_t *seed)
{
  double size = pow(10, 24 * uniform(seed) - 12);
  return uniform(seed) < 0.5 ? -size : size;
}

static int stands_alone(const char *name)
{
  return strcmp(name, "oz") != 0 && strcmp(name, "1") != 0;
}

/* number unit -> text -> quantity -> number in that unit */
static void number_and_unit_read_back(void **state)
{
  const char *name;
  uint64_t seed = 1;
  (void)state;
  for (size_t i = 0; rw_unit_at(i, &name, NULL); i++) {
    if (!stands_alone(name))
      continue;
    for (int k = 0; k < 200; k++) {
      char number[32], text[96];
      rw_quantity q, made;
      rw_error err;
      double value = any_size(&seed), back = NAN;
      rw_text_write(value, number);
      snprintf(text, sizeof text, "%s %s", number, name);
      assert_ok(rw_quantity_read(text, strlen(text), &q, &err), &err);
      assert_ok(rw_quantity_of(value, name, &made, &err), &err);
      assert_true(q.si == made.si && q.point == made.point && rw_dim_same(q.dim, made.dim));
      assert_ok(rw_quantity_in(&q, name, &back, &err), &err);
      /* a reading loses what its offset swallows: some hundred kelvin */
      double tolerance = 4 * DBL_EPSILON * fabs(value) + (q.point ? 500 * DBL_EPSILON : 0);
      check_close(back, value, tolerance, text, __FILE__, __LINE__);
    }
  }
}

/* Two factors and two scales are one and the same, whichever way a factor is asked for. */
static void factors_agree_with_quantities(void **state)
{
  const char *name;
  (void)state;
  for (size_t i = 0; rw_unit_at(i, &name, NULL); i++) {
    char per[64];
    double factor, offset;
    rw_dim dim;
    rw_quantity q;
    rw_error err;
    if (!stands_alone(name))
      continue;
    assert_ok(rw_unit_read(name, strlen(name), &factor, &offset, &dim, &err), &err);
    assert_ok(rw_quantity_of(7, name, &q, &err), &err);
    assert_close_rel(q.si, 7 * factor + offset, 2 * DBL_EPSILON);
    double inverse;
    snprintf(per, sizeof per, "1/%s", name);
    assert_ok(rw_unit_read(per, strlen(per), &inverse, &offset, &dim, &err), &err);
    assert_close_rel(inverse * factor, 1, 2 * DBL_EPSILON);
    assert_true(offset == 0);
  }
}

static void assert_reads_back(const rw_quantity *q, const char *text)
{
  rw_quantity back;
  rw_error err;
  assert_ok(rw_quantity_read(text, strlen(text), &back, &err), &err);
  assert_true(rw_dim_same(back.dim, q->dim));
  assert_int_equal(back.point, q->point);
  /* the digits, a factor twice, and up to two parts of a sum */
  double tolerance = 16 * DBL_EPSILON * fabs(q->si) + (q->point ? 500 * DBL_EPSILON : 0);
  check_close(back.si, q->si, tolerance, text, __FILE__, __LINE__);
}

static void assert_unit_serves(const rw_quantity *q, rw_unit_system system, const char *written)
{
  char unit[64];
  double value;
  rw_error err;
  rw_quantity_unit(q, system, unit, sizeof unit);
  assert_ok(rw_quantity_in(q, unit, &value, &err), &err);
  if (strcmp(unit, "1") != 0 && strstr(written, unit) == NULL) {
    print_error("\"%s\" is not written in \"%s\"\n", written, unit);
    fail();
  }
}

static void written_at_full_length(const rw_quantity *q)
{
  static const rw_unit_system systems[] = {RW_METRIC, RW_US};
  for (size_t k = 0; k < 2; k++) {
    char text[96];
    size_t n = rw_quantity_write(q, systems[k], 17, text, sizeof text);
    assert_int_equal(n, strlen(text));
    assert_unit_serves(q, systems[k], text);
    if (!rw_dim_same(q->dim, rw_dim_of("1")))
      assert_reads_back(q, text);
  }
}

static void what_is_written_reads_back(void **state)
{
  const char *name;
  uint64_t seed = 2;
  (void)state;
  for (size_t i = 0; rw_unit_at(i, &name, NULL); i++)
    for (int k = 0; k < 200 && stands_alone(name); k++) {
      rw_quantity q;
      rw_error err;
      assert_ok(rw_quantity_of(any_size(&seed), name, &q, &err), &err);
      written_at_full_length(&q);
    }
}

/* Every dimension with powers from -2 to 2: those that have a name and those that have none. */
static void any_dimension_reads_back(void **state)
{
  uint64_t seed = 3;
  (void)state;
  for (int code = 0; code < 78125; code += 7) {
    rw_quantity q = {any_size(&seed), {{0}}, 0};
    for (int i = 0, rest = code; i < RW_DIM_COUNT; i++, rest /= 5)
      q.dim.power[i] = (signed char)(rest % 5 - 2);
    written_at_full_length(&q);
  }
}

/* Fewer digits: what is read back is near the truth by half of the last digit. */
static void rounded_texts_stay_near(void **state)
{
  static const char *const units[] = {"s",  "m",    "kg", "g/m2", "kg/m3", "m2",    "m3",
                                      "Pa", "Pa s", "W",  "1/s",  "m2/s",  "K/min", "money/m"};
  uint64_t seed = 4;
  (void)state;
  for (size_t i = 0; i < sizeof units / sizeof units[0]; i++)
    for (int k = 0; k < 2000; k++) {
      rw_quantity q, back;
      rw_error err;
      char text[96];
      int digits = 3 + k % 5;
      assert_ok(rw_quantity_of(any_size(&seed), units[i], &q, &err), &err);
      rw_quantity_write(&q, k % 2 ? RW_US : RW_METRIC, digits, text, sizeof text);
      assert_ok(rw_quantity_read(text, strlen(text), &back, &err), &err);
      check_close_rel(back.si, q.si, 0.5000001 * pow(10, 1 - digits), text, __FILE__, __LINE__);
    }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(number_and_unit_read_back),
      cmocka_unit_test(factors_agree_with_quantities),
      cmocka_unit_test(what_is_written_reads_back),
      cmocka_unit_test(any_dimension_reads_back),
      cmocka_unit_test(rounded_texts_stay_near),
  };
  return cmocka_run_group_tests_name("units_roundtrip", tests, NULL, NULL);
}
