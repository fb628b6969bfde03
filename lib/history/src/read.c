/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <resinwright/history.h>

#include <resinwright/text.h>
#include <resinwright/units.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

static const char FUNCTION[] = "rw_history_read";
static const double ZERO = 273.15;

/* Every row's time and up to two numbers, all in one block. */
typedef struct rows {
  size_t n;
  double *time;
  double *first;
  double *second;
} rows;

static rw_status no_memory(rw_error *err)
{
  return rw_error_set(err, RW_ERR_MEMORY, FUNCTION, NULL, NULL,
                      "not enough memory for a temperature log");
}

/* Says which file and line an error of another function is about. */
static rw_status placed(const rw_table *t, size_t row, const char *path, rw_status status,
                        rw_error *err)
{
  if (status >= 0 || err == NULL)
    return status;
  long line = 0, column = 0;
  if (row < rw_table_rows(t))
    rw_table_cell(t, row, 0, &line, &column);
  char said[sizeof err->message];
  memcpy(said, err->message, sizeof said);
  if (line > 0)
    snprintf(err->message, sizeof err->message, "%.100s, line %ld: %.180s", path, line, said);
  else
    snprintf(err->message, sizeof err->message, "%.100s: %.190s", path, said);
  err->line = line;
  return status;
}

static rw_status clock_column(const rw_table *t, const char *name, double *time, const char *path,
                              rw_error *err)
{
  size_t column;
  rw_status status = rw_table_find(t, name, &column, err);
  if (status != RW_OK)
    return status;
  int first_offset = -1;
  for (size_t i = 0; i < rw_table_rows(t); i++) {
    long place = 0;
    const char *cell = rw_table_cell(t, i, column, NULL, &place);
    int offset;
    status = rw_text_clock(cell, strlen(cell), &time[i], &offset, err);
    if (status == RW_OK && first_offset >= 0 && offset != first_offset)
      status = rw_error_set(err, RW_ERR_SYNTAX, FUNCTION, name,
                            "Write the offset with every time, or with none.",
                            "some times have an offset from universal time and some have none");
    if (status != RW_OK) {
      placed(t, i, path, status, err);
      rw_error_place(err, err != NULL ? err->line : 0, place);
      return status;
    }
    first_offset = offset;
  }
  return RW_OK;
}

static rw_status number_column(const rw_table *t, const rw_column *c, int may_be_empty,
                               double *values, rw_error *err)
{
  for (size_t i = 0; i < rw_table_rows(t); i++) {
    const char *cell = rw_table_cell(t, i, c->index, NULL, NULL);
    if (may_be_empty && cell[0] == '\0') {
      values[i] = NAN;
      continue;
    }
    rw_status status = rw_column_number(t, i, c, &values[i], err);
    if (status != RW_OK)
      return status;
  }
  return RW_OK;
}

/* A shop at 60 degC, or one where it freezes all the time, is likelier the other scale. */
static rw_status scale_is_likely(const rw_table *t, const rw_column *c, const double *T, size_t n,
                                 const char *path, rw_error *err)
{
  int fahrenheit = c->factor < 1;
  int all_freezing = 1;
  for (size_t i = 0; i < n; i++) {
    double celsius = T[i] - ZERO;
    all_freezing = all_freezing && celsius < 0;
    if (fahrenheit || celsius <= 45)
      continue;
    char found[40];
    rw_text_round(celsius, 4, found);
    rw_error_set(err, RW_ERR_RANGE, FUNCTION, rw_table_header(t, c->index),
                 "If it was read in Fahrenheit write [degF] in the header; if it was really that "
                 "hot say as_read.",
                 "%s degC looks like a reading in degF", found);
    return placed(t, i, path, RW_ERR_RANGE, err);
  }
  if (!fahrenheit || !all_freezing)
    return RW_OK;
  rw_error_set(err, RW_ERR_RANGE, FUNCTION, rw_table_header(t, c->index),
               "If it was read in Celsius write [degC] in the header; if it really froze all the "
               "time say as_read.",
               "all readings in degF lie below freezing, which looks like degC");
  return placed(t, n, path, RW_ERR_RANGE, err);
}

static rw_status temperature_column(const rw_table *t, const char *name, int as_read, double *T,
                                    const char *path, rw_error *err)
{
  rw_column c;
  rw_status status = rw_column_find(t, name, "K", &c, err);
  if (status != RW_OK)
    return placed(t, rw_table_rows(t), path, status, err);
  status = number_column(t, &c, 0, T, err);
  if (status == RW_OK && !as_read)
    status = scale_is_likely(t, &c, T, rw_table_rows(t), path, err);
  return status;
}

static int has_column(const rw_table *t, const char *name)
{
  for (size_t i = 0; i < rw_table_columns(t); i++)
    if (strncasecmp(rw_table_header(t, i), name, strlen(name)) == 0)
      return 1;
  return 0;
}

/* Row an error such as "time[7]" speaks of; n where it names none. */
static size_t row_named(const rw_error *err, size_t n)
{
  const char *bracket = err != NULL ? strchr(err->argument, '[') : NULL;
  long i = bracket != NULL ? strtol(bracket + 1, NULL, 10) : 0;
  return i >= 1 && (size_t)i <= n ? (size_t)i - 1 : n;
}

static rw_status from_readings(const rw_table *t, const rows *r, int as_read, const char *path,
                               rw_history **out, rw_error *err)
{
  rw_status status = clock_column(t, "time", r->time, path, err);
  if (status == RW_OK)
    status = temperature_column(t, "air", as_read, r->first, path, err);
  if (status != RW_OK)
    return status;
  for (size_t i = 0; i < r->n; i++)
    r->second[i] = NAN;
  if (has_column(t, "humidity")) {
    rw_column c;
    status = placed(t, r->n, path, rw_column_find(t, "humidity", "", &c, err), err);
    if (status == RW_OK)
      status = number_column(t, &c, 1, r->second, err);
    if (status != RW_OK)
      return status;
  }
  status = rw_history_create(r->time, r->first, r->second, r->n, out, err);
  return placed(t, status < 0 ? row_named(err, r->n) : r->n, path, status, err);
}

static rw_status from_days(const rw_table *t, const rows *r, int as_read, const char *path,
                           rw_history **out, rw_error *err)
{
  rw_status status = clock_column(t, "day", r->time, path, err);
  if (status == RW_OK)
    status = temperature_column(t, "low", as_read, r->first, path, err);
  if (status == RW_OK)
    status = temperature_column(t, "high", as_read, r->second, path, err);
  if (status != RW_OK)
    return status;
  rw_day *day = malloc((r->n + 1) * sizeof *day);
  if (day == NULL)
    return no_memory(err);
  for (size_t i = 0; i < r->n; i++)
    day[i] = (rw_day){r->time[i], r->first[i], r->second[i]};
  status = rw_history_from_days(day, r->n, out, err);
  free(day);
  return placed(t, status < 0 ? row_named(err, r->n) : r->n, path, status, err);
}

rw_status rw_history_read(const char *path, int as_read, rw_history **out, rw_error *err)
{
  rw_table *t = NULL;
  rw_status status = rw_table_read(path, &t, err);
  if (status != RW_OK)
    return status;
  size_t n = rw_table_rows(t);
  double *block = calloc(3 * n + 3, sizeof *block);
  if (block == NULL) {
    rw_table_destroy(t);
    return no_memory(err);
  }
  rows r = {.n = n, .time = block, .first = block + n, .second = block + 2 * n};
  status = has_column(t, "day") ? from_days(t, &r, as_read, path, out, err)
                                : from_readings(t, &r, as_read, path, out, err);
  free(block);
  rw_table_destroy(t);
  return status;
}
