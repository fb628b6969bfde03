/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers, clock times and tables.
 *
 * main() takes over the locale of the environment: run with LC_ALL naming one with a decimal
 * comma (de_DE.UTF-8, fr_FR.UTF-8, where installed) to see that nothing hangs on it. */
#include "check.h"

#include <float.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static double number(const char *text, char point)
{
  double value = NAN;
  rw_error err;
  assert_ok(rw_text_number(text, strlen(text), point, &value, NULL, &err), &err);
  return value;
}

static void reads_plain_numbers(void **state)
{
  (void)state;
  assert_true(number("0", '.') == 0);
  assert_true(number("21", '.') == 21);
  assert_true(number("+20.5", '.') == 20.5);
  assert_true(number("-0.125", '.') == -0.125);
  assert_true(number("0007.50", '.') == 7.5);
  assert_true(number("1e3", '.') == 1000);
  assert_true(number("1.5E-2", '.') == 0.015);
  assert_true(number("20,5", ',') == 20.5);
  assert_true(number("1e0000000000000000000000000002", '.') == 100);
  assert_true(signbit(number("-0.0e5", '.')));
}

static void reads_part_of_a_text(void **state)
{
  static const struct {
    const char *text;
    double value;
    size_t used;
  } rows[] = {{"203 g/m2", 203, 3}, {"5ft", 5, 1},     {"1e", 1, 1},     {"1e+x", 1, 1},
              {"2.", 2, 1},         {"2.e3", 2, 1},    {"1,5", 1, 1},    {"0x10", 0, 1},
              {"3/16", 3, 1},       {"1.2.3", 1.2, 3}, {"7e2e2", 700, 3}};
  (void)state;
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    double value = NAN;
    size_t used = 99;
    rw_error err;
    assert_ok(rw_text_number(rows[i].text, strlen(rows[i].text), '.', &value, &used, &err), &err);
    assert_true(value == rows[i].value);
    assert_int_equal(used, rows[i].used);
  }
}

static void stops_at_the_length_given(void **state)
{
  double value = NAN;
  (void)state;
  assert_int_equal(rw_text_number("12345", 2, '.', &value, NULL, NULL), RW_OK);
  assert_true(value == 12);
  assert_int_equal(rw_text_number("1e5", 2, '.', &value, NULL, NULL), RW_ERR_SYNTAX);
}

static void refuses_what_is_no_number(void **state)
{
  static const struct {
    const char *text;
    long column;
  } rows[] = {{"", 1},       {"-", 2},   {"abc", 1}, {"nan", 1},  {"inf", 1},   {"-inf", 2},
              {".5", 1},     {" 5", 1},  {"5 ", 2},  {"0x10", 2}, {"1,000", 2}, {"1.000.000", 6},
              {"12'000", 3}, {"--5", 2}, {"1e", 2},  {"5.", 2},   {"1_0", 2}};
  (void)state;
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    double value = 77;
    rw_error err;
    assert_status(rw_text_number(rows[i].text, strlen(rows[i].text), '.', &value, NULL, &err),
                  RW_ERR_SYNTAX, &err);
    assert_true(value == 77);
    assert_int_equal(err.column, rows[i].column);
    check_explained(&err, "number");
    assert_true(err.hint[0] != '\0');
  }
}

static void refuses_too_large_and_missing(void **state)
{
  double value = 77;
  rw_error err;
  (void)state;
  assert_status(rw_text_number("1e309", 5, '.', &value, NULL, &err), RW_ERR_RANGE, &err);
  assert_status(rw_text_number("1e99999999999999999999", 22, '.', &value, NULL, &err),
                RW_ERR_RANGE, &err);
  assert_status(rw_text_number(NULL, 0, '.', &value, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_text_number("1", 1, ';', &value, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_text_number("1", 1, '.', NULL, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_true(value == 77);
}

/* 2^53 + 1 lies halfway between two doubles; the even one is taken unless anything follows. */
static void rounds_correctly(void **state)
{
  char text[4096];
  (void)state;
  assert_true(number("9007199254740993", '.') == 9007199254740992.0);
  snprintf(text, sizeof text, "9007199254740993.%02000d1", 0);
  assert_true(number(text, '.') == 9007199254740994.0);
  snprintf(text, sizeof text, "9007199254740993.%02000d", 0);
  assert_true(number(text, '.') == 9007199254740992.0);
  assert_true(number("2.4703282292062327e-324", '.') == 0);
  assert_true(number("2.4703282292062328e-324", '.') == DBL_TRUE_MIN);
  assert_true(number("1.7976931348623157e308", '.') == DBL_MAX);
  assert_true(number("1e-99999999999999999999", '.') == 0);
}

static void reads_very_long_numbers(void **state)
{
  char text[4096];
  (void)state;
  snprintf(text, sizeof text, "0.%02000d1e2001", 0);
  assert_true(number(text, '.') == 1);
  snprintf(text, sizeof text, "1%02000de-2000", 0);
  assert_true(number(text, '.') == 1);
  memset(text, '9', 3000);
  strcpy(text + 3000, "e-3000");
  assert_true(number(text, '.') == 1);
}

static void writes_shortest(void **state)
{
  static const struct {
    double value;
    const char *text;
  } rows[] = {{0, "0"},
              {-0.0, "-0"},
              {0.1, "0.1"},
              {-1.5, "-1.5"},
              {100, "100"},
              {0.30000000000000004, "0.30000000000000004"},
              {1.0 / 3, "0.3333333333333333"},
              {1e-5, "0.00001"},
              {9.5e-6, "9.5e-6"},
              {1e15, "1000000000000000"},
              {1.5e15, "1.5e15"},
              {123456789012345.6, "123456789012345.6"},
              {5e-324, "5e-324"},
              {DBL_MIN, "2.2250738585072014e-308"},
              {DBL_MAX, "1.7976931348623157e308"},
              {9007199254740993.0, "9.007199254740992e15"},
              {0x1p-44, "5.684341886080802e-14"},
              {INFINITY, "inf"},
              {-INFINITY, "-inf"},
              {NAN, "nan"}};
  char text[32];
  (void)state;
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    size_t n = rw_text_write(rows[i].value, text);
    assert_string_equal(text, rows[i].text);
    assert_int_equal(n, strlen(text));
  }
}

static void what_is_written_reads_back(void **state)
{
  char text[32];
  uint64_t seed = 20261003;
  (void)state;
  for (int i = 0; i < 100000; i++) {
    seed = seed * 6364136223846793005u + 1442695040888963407u;
    uint64_t bits = seed ^ (seed >> 29);
    double value;
    memcpy(&value, &bits, sizeof value);
    if (!isfinite(value))
      continue;
    rw_text_write(value, text);
    assert_true(number(text, '.') == value);
  }
  for (int e = -1074; e < 1024; e++) {
    rw_text_write(ldexp(1, e), text);
    assert_true(number(text, '.') == ldexp(1, e));
  }
}

static void rounds_to_digits(void **state)
{
  static const struct {
    double value;
    int digits;
    const char *text;
  } rows[] = {{203.4344848, 3, "203"}, {5.98765, 3, "5.99"},
              {0.5, 3, "0.5"},         {1234567, 3, "1230000"},
              {999.96, 4, "1000"},     {1e9, 3, "1000000000"},
              {1.5e9, 3, "1.5e9"},     {1e-5, 3, "0.00001"},
              {1.25e-6, 3, "1.25e-6"}, {-0.0, 3, "0"},
              {-2.5, 17, "-2.5"},      {0.1, 17, "0.10000000000000001"},
              {2.345, 0, "2"},         {0.1, 99, "0.10000000000000001"},
              {1e300, 5, "1e300"},     {NAN, 3, "nan"},
              {-INFINITY, 3, "-inf"}};
  char text[40];
  (void)state;
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    size_t n = rw_text_round(rows[i].value, rows[i].digits, text);
    assert_string_equal(text, rows[i].text);
    assert_int_equal(n, strlen(text));
  }
}

static double clock_seconds(const char *text, int *offset)
{
  double seconds = NAN;
  rw_error err;
  assert_ok(rw_text_clock(text, strlen(text), &seconds, offset, &err), &err);
  return seconds;
}

static void reads_clock_times(void **state)
{
  int offset = 7;
  (void)state;
  assert_true(clock_seconds("1970-01-01", &offset) == 0);
  assert_int_equal(offset, 0);
  assert_true(clock_seconds("1970-01-02 01:02", NULL) == 90120);
  assert_true(clock_seconds("1970-01-01T00:00:20Z", &offset) == 20);
  assert_int_equal(offset, 1);
  assert_true(clock_seconds("1970-01-01 02:00+02:00", &offset) == 0);
  assert_true(clock_seconds("1970-01-01 02:00-03:30", NULL) == 5.5 * 3600);
  assert_true(clock_seconds("1969-12-31 23:59:59", NULL) == -1);
  assert_true(clock_seconds("2000-02-29", NULL) == 11016 * 86400.0);
  assert_true(clock_seconds("2000-03-01", NULL) - clock_seconds("2000-02-28", NULL) == 2 * 86400);
  assert_true(clock_seconds("1900-03-01", NULL) - clock_seconds("1900-02-28", NULL) == 86400);
  assert_true(clock_seconds("0001-01-01", NULL) == -719162 * 86400.0);
}

static void refuses_wrong_clock_times(void **state)
{
  static const struct {
    const char *text;
    rw_status status;
    long column;
  } rows[] = {{"", RW_ERR_SYNTAX, 1},
              {"3.10.2026", RW_ERR_SYNTAX, 2},
              {"2026-1-3", RW_ERR_SYNTAX, 7},
              {"2026-10-03 15", RW_ERR_SYNTAX, 14},
              {"2026-10-03  15:30", RW_ERR_SYNTAX, 12},
              {"2026-10-03 15:30:20.5", RW_ERR_SYNTAX, 20},
              {"2026-10-03 15:30 ", RW_ERR_SYNTAX, 17},
              {"2026-10-03 15:30+2", RW_ERR_SYNTAX, 19},
              {"2026-02-30", RW_ERR_RANGE, 9},
              {"2025-02-29", RW_ERR_RANGE, 9},
              {"2026-13-01", RW_ERR_RANGE, 6},
              {"0000-01-01", RW_ERR_RANGE, 1},
              {"2026-10-03 25:00", RW_ERR_RANGE, 12},
              {"2026-10-03 24:00", RW_ERR_RANGE, 12},
              {"2026-10-03 15:60", RW_ERR_RANGE, 15},
              {"2026-10-03 15:30:60", RW_ERR_RANGE, 18},
              {"2026-10-03 15:30+14:30", RW_ERR_RANGE, 17}};
  (void)state;
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    double seconds = 77;
    int offset = 77;
    rw_error err;
    assert_status(rw_text_clock(rows[i].text, strlen(rows[i].text), &seconds, &offset, &err),
                  rows[i].status, &err);
    assert_true(seconds == 77 && offset == 77);
    assert_int_equal(err.column, rows[i].column);
    assert_true(err.message[0] != '\0' && err.hint[0] != '\0');
  }
}

static void writes_clock_times(void **state)
{
  char text[20];
  (void)state;
  assert_int_equal(rw_text_clock_write(0, text), 16);
  assert_string_equal(text, "1970-01-01 00:00");
  rw_text_clock_write(29.9, text);
  assert_string_equal(text, "1970-01-01 00:00");
  rw_text_clock_write(-30.5, text);
  assert_string_equal(text, "1969-12-31 23:59");
  rw_text_clock_write(-719162 * 86400.0, text);
  assert_string_equal(text, "0001-01-01 00:00");
  rw_text_clock_write(253402300799.0 - 60, text);
  assert_string_equal(text, "9999-12-31 23:59");
  assert_int_equal(rw_text_clock_write(253402300799.0, text), 1);
  assert_string_equal(text, "?");
  rw_text_clock_write(NAN, text);
  assert_string_equal(text, "?");
}

static void every_day_reads_back(void **state)
{
  char text[20];
  (void)state;
  for (long day = -719162; day < 2932897; day += 13) {
    double seconds = (double)day * 86400 + 60.0 * (double)((day + 719162) % 1440);
    rw_text_clock_write(seconds, text);
    assert_true(clock_seconds(text, NULL) == seconds);
  }
}

static void cuts_excerpts_between_characters(void **state)
{
  char text[RW_EXCERPT];
  (void)state;
  assert_int_equal(rw_text_excerpt("a\tb", 3, text), 3);
  assert_string_equal(text, "a b");
  char degrees[61];
  for (int i = 0; i < 60; i += 2)
    memcpy(degrees + i, "\xC2\xB0", 3);
  size_t n = rw_text_excerpt(degrees + 1, 59, text);
  assert_int_equal(n, strlen(text));
  assert_string_equal(text + n - 3, "...");
  assert_int_equal((unsigned char)text[n - 4], 0xB0);
  assert_int_equal(rw_text_column("21 \xC2\xB0"
                                  "C",
                                  5),
                   5);
}

static rw_table *parse(const char *text)
{
  rw_table *t = NULL;
  rw_error err;
  assert_ok(rw_table_parse(text, strlen(text), "sheet.csv", &t, &err), &err);
  return t;
}

static void assert_cell(const rw_table *t, size_t row, size_t column, const char *text, long line,
                        long place)
{
  long l = 0, p = 0;
  const char *found = rw_table_cell(t, row, column, &l, &p);
  assert_non_null(found);
  assert_string_equal(found, text);
  assert_int_equal(l, line);
  assert_int_equal(p, place);
}

static void reads_a_table(void **state)
{
  rw_table *t = parse("\xEF\xBB\xBF# made up\n"
                      "\n"
                      " time , temp \r\n"
                      "  # aside, with, commas\r"
                      "08:00, 19.5\r"
                      "09:00,\n"
                      "   \n"
                      "\"a \"\"b\"\"\r\nc , \", \xC2\xB0 x\n"
                      "5 ft 6\", 3");
  (void)state;
  assert_int_equal(rw_table_columns(t), 2);
  assert_int_equal(rw_table_rows(t), 4);
  assert_string_equal(rw_table_header(t, 0), "time");
  assert_string_equal(rw_table_header(t, 1), "temp");
  assert_null(rw_table_header(t, 2));
  assert_cell(t, 0, 0, "08:00", 5, 1);
  assert_cell(t, 0, 1, "19.5", 5, 8);
  assert_cell(t, 1, 1, "", 6, 7);
  assert_cell(t, 2, 0, "a \"b\"\r\nc , ", 8, 1);
  assert_cell(t, 2, 1, "\xC2\xB0 x", 9, 8);
  assert_cell(t, 3, 0, "5 ft 6\"", 10, 1);
  assert_null(rw_table_cell(t, 4, 0, NULL, NULL));
  assert_null(rw_table_cell(t, 0, 2, NULL, NULL));
  size_t column = 9;
  rw_error err;
  assert_ok(rw_table_find(t, "TEMP", &column, &err), &err);
  assert_int_equal(column, 1);
  assert_status(rw_table_find(t, "tempe", &column, &err), RW_ERR_NAME, &err);
  check_explained(&err, "time, temp");
  assert_non_null(strstr(err.hint, "\"temp\""));
  assert_int_equal(column, 1);
  rw_table_destroy(t);
  rw_table_destroy(NULL);
}

static double cell_number(const char *table, size_t row)
{
  double value = NAN;
  rw_error err;
  rw_table *t = parse(table);
  rw_status status = rw_table_number(t, row, 1, &value, &err);
  rw_table_destroy(t);
  assert_status(status, RW_OK, &err);
  return value;
}

static void finds_the_separator(void **state)
{
  (void)state;
  assert_true(cell_number("a,b\n1,2.5\n", 0) == 2.5);
  assert_true(cell_number("a;b, with comma\n1;2,5\n", 0) == 2.5);
  assert_true(cell_number("a;b\n1;2.5\n", 0) == 2.5);
  assert_true(cell_number("a\tb\n1\t-2,5e1\n", 0) == -25);
  assert_true(cell_number("\"a;x\",b\n1,2.5\n", 0) == 2.5);
  assert_true(cell_number("\"a;\"\"x\",b\n1,2.5\n", 0) == 2.5);
  assert_true(cell_number("a 5\"\" ,\"b;\"\n1,2.5\n", 0) == 2.5);
  rw_table *t = parse("a\tb\tc\n\t\t\n\t7\t\n");
  assert_int_equal(rw_table_rows(t), 2);
  assert_cell(t, 1, 1, "7", 3, 2);
  rw_table_destroy(t);
  t = parse("alone\r\nx y\r\n");
  assert_int_equal(rw_table_columns(t), 1);
  assert_cell(t, 0, 0, "x y", 2, 1);
  rw_table_destroy(t);
}

static void refuses_bad_tables(void **state)
{
  static const struct {
    const char *text;
    const char *word;
    long line;
    long column;
  } rows[] = {{"", "empty", 1, 0},
              {"# only a comment\n\n", "empty", 3, 0},
              {"a,b\n1\n", "1 cells", 2, 1},
              {"a,b\n1,2\n\n 1,2,3", "3 cells", 4, 2},
              {"a,b\n1,\"x\n", "never closed", 2, 3},
              {"a,b\n1,\"x\" y\n", "follows", 2, 7},
              {"a,,b\n", "no name", 1, 3},
              {"a,b,\n", "no name", 1, 5},
              {"a, b,A\n", "named \"A\"", 1, 6}};
  (void)state;
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    rw_table *t = NULL;
    rw_error err;
    assert_status(rw_table_parse(rows[i].text, strlen(rows[i].text), "sheet.csv", &t, &err),
                  RW_ERR_SYNTAX, &err);
    assert_null(t);
    check_explained(&err, rows[i].word);
    check_explained(&err, "sheet.csv");
    assert_true(err.hint[0] != '\0');
    assert_string_equal(err.argument, "sheet.csv");
    assert_int_equal(err.line, rows[i].line);
    assert_int_equal(err.column, rows[i].column);
  }
}

static void refuses_zero_bytes_and_size(void **state)
{
  rw_table *t = NULL;
  rw_error err;
  (void)state;
  assert_status(rw_table_parse("a,b\n1,\0002\n", 9, NULL, &t, &err), RW_ERR_SYNTAX, &err);
  check_explained(&err, "zero byte");
  assert_int_equal(err.line, 2);
  assert_int_equal(err.column, 3);
  assert_status(rw_table_parse("a", (size_t)64 * 1024 * 1024 + 1, NULL, &t, &err), RW_ERR_RANGE,
                &err);
  assert_status(rw_table_parse(NULL, 1, NULL, &t, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_table_parse("a", 1, NULL, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_null(t);
}

static void explains_bad_numbers(void **state)
{
  static const struct {
    const char *text;
    const char *word;
    const char *hint;
  } rows[] = {{"a,b\n1,\n", "empty", "fill"},
              {"a,b\n1,warm\n", "\"warm\"", "digits"},
              {"a,b\n1,\"20,5\"\n", "\"20,5\"", "20.5"},
              {"a;b\n1;1.234,5\n", "\"1.234,5\"", "thousands"},
              {"a,b\n1,1e999\n", "\"1e999\"", "digits"}};
  (void)state;
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    double value = 77;
    rw_error err;
    rw_table *t = parse(rows[i].text);
    assert_status(rw_table_number(t, 0, 1, &value, &err), RW_ERR_SYNTAX, &err);
    assert_true(value == 77);
    check_explained(&err, rows[i].word);
    assert_non_null(strstr(err.hint, rows[i].hint));
    assert_int_equal(err.line, 2);
    assert_int_equal(err.column, 3);
    assert_status(rw_table_number(t, 1, 1, &value, &err), RW_ERR_ARGUMENT, &err);
    rw_table_destroy(t);
  }
}

static void many_columns_stay_quick(void **state)
{
  enum { COLUMNS = 200000 };
  char *text = malloc((size_t)COLUMNS * 16);
  rw_table *t = NULL;
  rw_error err;
  size_t n = 0;
  (void)state;
  assert_non_null(text);
  for (int i = 0; i < COLUMNS; i++)
    n += (size_t)sprintf(text + n, "c%d%c", i, i + 1 < COLUMNS ? ',' : '\n');
  assert_ok(rw_table_parse(text, n, NULL, &t, &err), &err);
  free(text);
  assert_int_equal(rw_table_columns(t), COLUMNS);
  size_t column;
  assert_status(rw_table_find(t, "none of these", &column, &err), RW_ERR_NAME, &err);
  rw_table_destroy(t);
}

static void quoted_cells_read_back(void **state)
{
  static const char *const cells[] = {"plain", " x",  "a,b", "a;b",   "say \"x\"", "\"",
                                      "a\nb",  "\r",  "#1",  "tab\t", "",          "\xEF\xBB\xBFz",
                                      "5\"",   "a\tb"};
  static const char separators[] = ",;\t";
  (void)state;
  for (size_t i = 0; i < sizeof cells / sizeof cells[0]; i++)
    for (const char *s = separators; *s != '\0'; s++) {
      char quoted[64], text[160];
      size_t n = rw_table_quote(cells[i], *s, quoted, sizeof quoted);
      assert_int_equal(n, strlen(quoted));
      assert_int_equal(rw_table_quote(cells[i], *s, NULL, 0), n);
      snprintf(text, sizeof text, "%s%clast\n%s%c1\n", i == 10 ? "x" : quoted, *s, quoted, *s);
      rw_table *t = parse(text);
      assert_int_equal(rw_table_columns(t), 2);
      assert_string_equal(rw_table_cell(t, 0, 0, NULL, NULL), cells[i]);
      if (i != 10)
        assert_string_equal(rw_table_header(t, 0), cells[i]);
      rw_table_destroy(t);
    }
  char cut[4];
  assert_int_equal(rw_table_quote("a,bcdef", ',', cut, sizeof cut), 9);
  assert_string_equal(cut, "\"a,");
}

static const char scratch[] = "text_scratch.csv";

static void write_scratch(const char *text)
{
  FILE *f = fopen(scratch, "wb");
  assert_non_null(f);
  fputs(text, f);
  fclose(f);
}

static void reads_files(void **state)
{
  rw_table *t = NULL;
  rw_error err;
  char *bytes = NULL;
  size_t n = 0;
  (void)state;
  write_scratch("a,b\n1,2\n");
  assert_ok(rw_table_read(scratch, &t, &err), &err);
  assert_int_equal(rw_table_rows(t), 1);
  rw_table_destroy(t);
  assert_ok(rw_text_slurp(scratch, 8, &bytes, &n, &err), &err);
  assert_int_equal(n, 8);
  assert_string_equal(bytes, "a,b\n1,2\n");
  free(bytes);
  bytes = NULL;
  assert_status(rw_text_slurp(scratch, 7, &bytes, &n, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "too large");
  assert_null(bytes);
  write_scratch("");
  assert_status(rw_table_read(scratch, &t, &err), RW_ERR_SYNTAX, &err);
  check_explained(&err, "empty");
  assert_string_equal(err.function, "rw_table_read");
  assert_ok(rw_text_slurp(scratch, 0, &bytes, &n, &err), &err);
  assert_int_equal(n, 0);
  free(bytes);
  remove(scratch);
}

static void explains_bad_files(void **state)
{
  rw_table *t = NULL;
  rw_error err;
  char *bytes = NULL, path[300];
  size_t n = 77;
  (void)state;
  assert_status(rw_table_read("no_such_file.csv", &t, &err), RW_ERR_FILE, &err);
  check_explained(&err, "there is no file \"no_such_file.csv\"");
  assert_status(rw_text_slurp(".", 100, &bytes, &n, &err), RW_ERR_FILE, &err);
  check_explained(&err, "folder");
  write_scratch("a,b\n");
  snprintf(path, sizeof path, "%s/x.csv", scratch);
  assert_status(rw_text_slurp(path, 100, &bytes, &n, &err), RW_ERR_FILE, &err);
  chmod(scratch, 0);
  if (geteuid() != 0) {
    assert_status(rw_text_slurp(scratch, 100, &bytes, &n, &err), RW_ERR_FILE, &err);
    check_explained(&err, "may not be read");
  }
  remove(scratch);
  memset(path, 'x', sizeof path);
  path[sizeof path - 1] = '\0';
  assert_status(rw_text_slurp(path, 100, &bytes, &n, &err), RW_ERR_FILE, &err);
  assert_status(rw_text_slurp(NULL, 100, &bytes, &n, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_table_read(NULL, &t, &err), RW_ERR_ARGUMENT, &err);
  assert_true(bytes == NULL && n == 77 && t == NULL);
}

/* A pipe has no size to ask for, and what it holds may pass any first guess. */
static rw_status slurp_pipe(size_t sent, size_t limit, char **bytes, size_t *n, rw_error *err)
{
  static char text[30000];
  int ends[2];
  char path[64];
  memset(text, 'z', sizeof text);
  assert_int_equal(pipe(ends), 0);
  assert_int_equal(write(ends[1], text, sent), sent);
  close(ends[1]);
  snprintf(path, sizeof path, "/dev/fd/%d", ends[0]);
  rw_status status = rw_text_slurp(path, limit, bytes, n, err);
  close(ends[0]);
  return status;
}

static void reads_from_a_pipe(void **state)
{
  static const size_t limits[] = {30000, 30001, 40000, 1000000};
  char *bytes = NULL;
  size_t n = 0;
  rw_error err;
  (void)state;
  if (access("/dev/fd", R_OK) != 0)
    skip();
  for (size_t i = 0; i < sizeof limits / sizeof limits[0]; i++) {
    assert_ok(slurp_pipe(30000, limits[i], &bytes, &n, &err), &err);
    assert_int_equal(n, 30000);
    assert_int_equal(strspn(bytes, "z"), 30000);
    free(bytes);
    bytes = NULL;
  }
  assert_status(slurp_pipe(30000, 29999, &bytes, &n, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "29999 bytes");
  assert_status(slurp_pipe(1, 0, &bytes, &n, &err), RW_ERR_RANGE, &err);
  assert_null(bytes);
}

static void a_comma_locale_changes_nothing(void **state)
{
  static const char *const names[] = {"de_DE.UTF-8", "fr_FR.UTF-8", "nl_NL.UTF-8"};
  char before[128], text[40];
  const char *set = NULL;
  (void)state;
  snprintf(before, sizeof before, "%s", setlocale(LC_ALL, NULL));
  for (size_t i = 0; i < sizeof names / sizeof names[0] && set == NULL; i++)
    set = setlocale(LC_ALL, names[i]);
  if (set == NULL) {
    print_message("no locale with a decimal comma is installed\n");
    skip();
  }
  double value = number("20.5", '.');
  rw_text_write(20.5, text);
  setlocale(LC_ALL, before);
  assert_true(value == 20.5);
  assert_string_equal(text, "20.5");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(reads_plain_numbers),
      cmocka_unit_test(reads_part_of_a_text),
      cmocka_unit_test(stops_at_the_length_given),
      cmocka_unit_test(refuses_what_is_no_number),
      cmocka_unit_test(refuses_too_large_and_missing),
      cmocka_unit_test(rounds_correctly),
      cmocka_unit_test(reads_very_long_numbers),
      cmocka_unit_test(writes_shortest),
      cmocka_unit_test(what_is_written_reads_back),
      cmocka_unit_test(rounds_to_digits),
      cmocka_unit_test(reads_clock_times),
      cmocka_unit_test(refuses_wrong_clock_times),
      cmocka_unit_test(writes_clock_times),
      cmocka_unit_test(every_day_reads_back),
      cmocka_unit_test(cuts_excerpts_between_characters),
      cmocka_unit_test(reads_a_table),
      cmocka_unit_test(finds_the_separator),
      cmocka_unit_test(refuses_bad_tables),
      cmocka_unit_test(refuses_zero_bytes_and_size),
      cmocka_unit_test(explains_bad_numbers),
      cmocka_unit_test(many_columns_stay_quick),
      cmocka_unit_test(quoted_cells_read_back),
      cmocka_unit_test(reads_files),
      cmocka_unit_test(explains_bad_files),
      cmocka_unit_test(reads_from_a_pipe),
      cmocka_unit_test(a_comma_locale_changes_nothing),
  };
  if (strcmp(setlocale(LC_ALL, NULL), "C") == 0) /* else it was set before main() */
    setlocale(LC_ALL, "");
  return cmocka_run_group_tests_name("text", tests, NULL, NULL);
}
