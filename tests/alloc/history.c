/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of a temperature history made to fail once: a clear refusal, no leak. */
#include "each_fails.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { POINTS = 40 };

static const char scratch[] = "alloc_history.csv";

static rw_history *made(void)
{
  double t[POINTS], T[POINTS], humid[POINTS];
  rw_history *h = NULL;
  rw_error err;
  for (int i = 0; i < POINTS; i++) {
    t[i] = i * 3600.0;
    T[i] = 288 + 8 * sin(0.26 * i);
    humid[i] = 0.6;
  }
  assert_ok(rw_history_create(t, T, humid, POINTS, &h, &err), &err);
  return h;
}

typedef rw_status job(const rw_history *from, rw_history **out, rw_error *err);

static rw_status create(const rw_history *from, rw_history **out, rw_error *err)
{
  const double *t, *T, *humid;
  size_t n = rw_history_points(from, &t, &T, &humid);
  return rw_history_create(t, T, humid, n, out, err);
}

/* A tight tolerance, so that the list of points has to grow. */
static rw_status lag(const rw_history *from, rw_history **out, rw_error *err)
{
  return rw_history_lag(from, 2400, NAN, 1e-4, out, err);
}

static rw_status lag_none(const rw_history *from, rw_history **out, rw_error *err)
{
  return rw_history_lag(from, 0, NAN, 0.02, out, err);
}

static rw_status hold(const rw_history *from, rw_history **out, rw_error *err)
{
  return rw_history_extend(from, 1e6, RW_HOLD, out, err);
}

static rw_status repeat_day(const rw_history *from, rw_history **out, rw_error *err)
{
  return rw_history_extend(from, 10 * 86400.0, RW_REPEAT_DAY, out, err);
}

static rw_status shift(const rw_history *from, rw_history **out, rw_error *err)
{
  return rw_history_shift(from, 2, out, err);
}

static rw_status from_days(const rw_history *from, rw_history **out, rw_error *err)
{
  (void)from;
  static const rw_day day[] = {{0, 280, 290}, {86400, 282, 291}, {172800, 279, 288}};
  return rw_history_from_days(day, 3, out, err);
}

static rw_status read(const rw_history *from, rw_history **out, rw_error *err)
{
  (void)from;
  return rw_history_read(scratch, 0, out, err);
}

typedef struct scene {
  rw_history *from;
  job *call;
} scene;

static rw_status made_or_not(void *given, rw_error *err)
{
  const scene *s = given;
  rw_history *out = NULL;
  rw_status status = s->call(s->from, &out, err);
  assert_true((status == RW_OK) == (out != NULL));
  rw_history_destroy(out);
  return status;
}

static void fails(job *call, long least)
{
  needs_failing();
  scene s = {made(), call};
  each_fails_once(made_or_not, &s, least);
  rw_history_destroy(s.from);
}

static void history_create(void **state)
{
  (void)state;
  fails(create, 2);
}

static void history_lag(void **state)
{
  (void)state;
  fails(lag, 3);
  fails(lag_none, 2);
}

static void history_extend(void **state)
{
  (void)state;
  fails(hold, 2);
  fails(repeat_day, 3);
}

static void history_shift(void **state)
{
  (void)state;
  fails(shift, 2);
}

static void history_from_days(void **state)
{
  (void)state;
  fails(from_days, 2);
}

static void write_file(const char *text)
{
  FILE *f = fopen(scratch, "w");
  assert_non_null(f);
  assert_true(fputs(text, f) >= 0);
  assert_int_equal(fclose(f), 0);
}

/* A file in the C library's own buffer, a table, a block of numbers, a history. */
static void history_read(void **state)
{
  (void)state;
  write_file("time,air [degC],humidity [%]\n2026-10-03 15:30,19,60\n2026-10-03 18:00,18.5,\n"
             "2026-10-03 21:00,11,70\n");
  fails(read, 4);
  write_file("day,low [degC],high [degC]\n2026-10-03,5,14\n2026-10-04,6,13\n");
  fails(read, 5);
  remove(scratch);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(history_create), cmocka_unit_test(history_lag),
      cmocka_unit_test(history_extend), cmocka_unit_test(history_shift),
      cmocka_unit_test(history_read),   cmocka_unit_test(history_from_days),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
