/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Histories from table files; all files are invented. */
#include "tempfile.h"

#include <math.h>

static const double HOUR = 3600, ZERO = 273.15;

static rw_history *history_of(const char *text, int as_read)
{
  tempfile f = tempfile_with(text);
  rw_history *h = NULL;
  rw_error err;
  assert_ok(rw_history_read(f.path, as_read, &h, &err), &err);
  assert_non_null(h);
  tempfile_remove(&f);
  return h;
}

static rw_error refused(const char *text, rw_status wanted, long line, const char *words)
{
  tempfile f = tempfile_with(text);
  rw_history *h = NULL;
  rw_error err;
  assert_status(rw_history_read(f.path, 0, &h, &err), wanted, &err);
  check_explained(&err, words);
  assert_non_null(strstr(err.message, f.path));
  assert_int_equal(err.line, line);
  if (line > 1) {
    char place[32];
    snprintf(place, sizeof place, "line %ld", line);
    assert_non_null(strstr(err.message, place));
  }
  assert_status(rw_history_read(f.path, 0, &h, NULL), wanted, NULL);
  assert_null(h);
  tempfile_remove(&f);
  return err;
}

static double clock_of(const char *text)
{
  double t = NAN;
  rw_error err;
  assert_ok(rw_text_clock(text, strlen(text), &t, NULL, &err), &err);
  return t;
}

static double celsius(const rw_history *h, const char *time)
{
  double T = NAN;
  rw_error err;
  assert_ok(rw_history_temperature(h, clock_of(time), &T, &err), &err);
  return T - ZERO;
}

static void readings(void **state)
{
  (void)state;
  static const char *const texts[] = {
      "time,air [degC],humidity [%]\n2026-10-03 15:30,19,60\n2026-10-03 21:00,11.5,\n"
      "2026-10-04 06:00,5,80\n",
      "# shop\n\nhumidity [1];Time;AIR [degF];note\n0,6;2026-10-03T15:30;66,2;heater on\n"
      ";2026-10-03 21:00;52,7;\n0,8;2026-10-04 06:00;41;frost\n",
  };
  for (size_t i = 0; i < 2; i++) {
    rw_history *h = history_of(texts[i], 0);
    const double *time, *T, *humidity;
    assert_int_equal(rw_history_points(h, &time, &T, &humidity), 3);
    assert_close(time[1] - time[0], 5.5 * HOUR, 0);
    assert_close(T[0] - ZERO, 19, 1e-9);
    assert_close(T[1] - ZERO, 11.5, 1e-9);
    assert_close(humidity[0], 0.6, 1e-12);
    assert_true(isnan(humidity[1]));
    assert_close(humidity[2], 0.8, 1e-12);
    rw_history_destroy(h);
  }
}

static void readings_without_humidity(void **state)
{
  (void)state;
  rw_history *h = history_of("time\tair [K]\n2026-10-03 15:30\t292.15\n"
                             "2026-10-03 15:30\t290\n2026-10-03 21:00\t285\n",
                             0);
  double humidity = 0;
  rw_error err;
  assert_ok(rw_history_humidity(h, clock_of("2026-10-03 18:00"), &humidity, &err), &err);
  assert_true(isnan(humidity));
  assert_close(celsius(h, "2026-10-03 15:30"), 290 - ZERO, 1e-9);
  rw_history_destroy(h);
}

/* An offset with every time: one clock, that of universal time. */
static void offsets_from_universal_time(void **state)
{
  (void)state;
  rw_history *h = history_of("time,air [degC]\n2026-10-25 02:30+02:00,9\n"
                             "2026-10-25 02:30+01:00,8\n",
                             0);
  double from, to;
  rw_history_span(h, &from, &to);
  assert_close(from, clock_of("2026-10-25 00:30"), 0);
  assert_close(to - from, HOUR, 0);
  rw_history_destroy(h);
  refused("time,air [degC]\n2026-10-25 02:30+02:00,9\n2026-10-25 02:30,8\n", RW_ERR_SYNTAX, 3,
          "offset");
  refused("time,air [degC]\n2026-10-25 02:30,9\n2026-10-25 02:30Z,8\n", RW_ERR_SYNTAX, 3,
          "offset");
}

static void days(void **state)
{
  (void)state;
  rw_history *h =
      history_of("day;low [degC];high [degF]\n2026-10-03;5;59\n2026-10-04;6,5;59\n", 0);
  assert_close(celsius(h, "2026-10-03 05:30"), 5, 1e-9);
  assert_close(celsius(h, "2026-10-03 15:00"), 15, 1e-9);
  assert_close(celsius(h, "2026-10-04 05:30"), 6.5, 1e-9);
  rw_history_destroy(h);
}

static void days_that_cannot_be(void **state)
{
  (void)state;
  refused("day,low [degC],high [degC]\n2026-10-03,5,15\n2026-10-04,16,9\n", RW_ERR_RANGE, 3,
          "day[2]");
  refused("day,low [degC],high [degC]\n2026-10-03,5,15\n2026-10-02,5,9\n", RW_ERR_ORDER, 3,
          "day before");
  refused("day,low [degC],high [degC]\n2026-10-03,41,59\n", RW_ERR_RANGE, 2, "59 degC");
  refused("day,low [degC]\n2026-10-03,5\n", RW_ERR_NAME, 0, "high");
  refused("day,low [degC],high\n2026-10-03,5,15\n", RW_ERR_UNIT, 0, "does not say its unit");
}

/* A shop at 72 degC is likelier one at 72 degF, and one that freezes all day the other way. */
static void the_other_scale(void **state)
{
  (void)state;
  static const char hot[] =
      "time,air [degC]\n2026-10-03 08:00,20\n\n2026-10-03 09:00,72\n2026-10-03 10:00,73\n";
  static const char cold[] = "time,air [degF]\n2026-10-03 08:00,19\n2026-10-03 09:00,22\n";
  rw_error err = refused(hot, RW_ERR_RANGE, 4, "72 degC");
  assert_non_null(strstr(err.hint, "as_read"));
  err = refused(cold, RW_ERR_RANGE, 0, "degF");
  assert_non_null(strstr(err.hint, "degC"));
  rw_history *h = history_of(hot, 1);
  assert_close(celsius(h, "2026-10-03 09:00"), 72, 1e-9);
  rw_history_destroy(h);
  h = history_of(cold, 1);
  assert_close(celsius(h, "2026-10-03 08:00"), (19 - 32) / 1.8, 1e-9);
  rw_history_destroy(h);
}

/* The edges of that rule: 45 degC is a hot shop, one reading above freezing is a cold one. */
static void the_edges_of_the_other_scale(void **state)
{
  (void)state;
  rw_history *h = history_of("time,air [degC]\n2026-10-03 08:00,45\n2026-10-03 09:00,-20\n", 0);
  rw_history_destroy(h);
  h = history_of("time,air [degF]\n2026-10-03 08:00,19\n2026-10-03 09:00,33\n", 0);
  rw_history_destroy(h);
  refused("time,air [degC]\n2026-10-03 08:00,45.1\n2026-10-03 09:00,20\n", RW_ERR_RANGE, 2,
          "45.1 degC");
}

static void times(void **state)
{
  (void)state;
#define HEADER "# log\ntime,air [degC]\n"
  refused(HEADER "2026-10-03 08:00,20\n2026-10-03 07:00,21\n2026-10-03 10:00,21\n", RW_ERR_ORDER,
          4, "goes back");
  refused(HEADER "2026-10-03 08:00,20\n2026-10-03 08:00,21\n\n2026-10-03 08:00,22\n", RW_ERR_ORDER,
          6, "three times");
  refused(HEADER "2026-10-03 08:00,20\nyesterday,21\n", RW_ERR_SYNTAX, 4, "yesterday");
  rw_error err =
      refused("air [degC],time\n20,2026-10-03 08:00\n21,2026-13-03\n", RW_ERR_RANGE, 3, "13");
  assert_int_equal(err.column, 4);
  refused(HEADER "2026-10-03 08:00,20\n2026-02-30 08:00,21\n", RW_ERR_RANGE, 4, "30");
  refused(HEADER "2026-10-03 08:00,20\n,21\n", RW_ERR_SYNTAX, 4, "time");
  refused(HEADER "2026-10-03 08:00,20\n", RW_ERR_ARGUMENT, 0, "two readings");
  refused(HEADER, RW_ERR_ARGUMENT, 0, "two readings");
#undef HEADER
}

static void cells(void **state)
{
  (void)state;
  refused("time,air [degC]\n2026-10-03 08:00,20\n2026-10-03 09:00,cold\n", RW_ERR_SYNTAX, 3,
          "cold");
  refused("time,air [degC]\n2026-10-03 08:00,20\n2026-10-03 09:00,\n", RW_ERR_SYNTAX, 3, "empty");
  refused("time,air [degC]\n2026-10-03 08:00,-300\n2026-10-03 09:00,20\n", RW_ERR_RANGE, 2,
          "temperature[1]");
  refused("time,air [degC],humidity [%]\n2026-10-03 08:00,20,50\n2026-10-03 09:00,21,150\n",
          RW_ERR_RANGE, 3, "humidity[2]");
  refused("time,air [degC],humidity [%]\n2026-10-03 08:00,20,dry\n2026-10-03 09:00,21,50\n",
          RW_ERR_SYNTAX, 2, "dry");
}

static void headers(void **state)
{
  (void)state;
  refused("time,air\n2026-10-03 08:00,20\n", RW_ERR_UNIT, 0, "does not say its unit");
  refused("time,air [mm]\n2026-10-03 08:00,20\n", RW_ERR_UNIT, 0, "length");
  refused("time,temp [degC]\n2026-10-03 08:00,20\n", RW_ERR_NAME, 0, "temp [degC]");
  rw_error err = refused("clock,temp [degC]\n2026-10-03 08:00,20\n", RW_ERR_NAME, 1, "time");
  assert_non_null(strstr(err.message, "clock"));
  refused("time,air [degC],humidity [degC]\n2026-10-03 08:00,20,50\n2026-10-03 09:00,20,50\n",
          RW_ERR_UNIT, 0, "humidity");
}

static void files(void **state)
{
  (void)state;
  rw_history *h = NULL;
  rw_error err;
  assert_status(rw_history_read("no/such/file.csv", 0, &h, &err), RW_ERR_FILE, &err);
  check_explained(&err, "no/such/file.csv");
  assert_status(rw_history_read(".", 0, &h, &err), RW_ERR_FILE, &err);
  tempfile f = tempfile_with("");
  assert_status(rw_history_read(f.path, 0, &h, &err), RW_ERR_SYNTAX, &err);
  check_explained(&err, "empty");
  assert_null(h);
  tempfile_remove(&f);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(readings),
      cmocka_unit_test(readings_without_humidity),
      cmocka_unit_test(offsets_from_universal_time),
      cmocka_unit_test(days),
      cmocka_unit_test(days_that_cannot_be),
      cmocka_unit_test(the_other_scale),
      cmocka_unit_test(the_edges_of_the_other_scale),
      cmocka_unit_test(times),
      cmocka_unit_test(cells),
      cmocka_unit_test(headers),
      cmocka_unit_test(files),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
