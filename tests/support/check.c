/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { MAX_USED = 512 };
static const char *used_id[MAX_USED]; /* ids compared so far, room/id */
static size_t used;

void check_close(double actual, double expected, double tolerance, const char *what,
                 const char *file, int line)
{
  if (!(fabs(actual - expected) <= tolerance)) {
    print_error("%s: %.17g, expected %.17g within %.3g (off by %.3g)\n", what, actual, expected,
                tolerance, actual - expected);
    _fail(file, line);
  }
}

void check_close_rel(double actual, double expected, double tolerance, const char *what,
                     const char *file, int line)
{
  check_close(actual, expected, tolerance * fabs(expected), what, file, line);
}

void check_status(rw_status got, rw_status wanted, const rw_error *err, const char *what,
                  const char *file, int line)
{
  if (got != wanted) {
    print_error("%s: %s, expected %s; %s\n", what, rw_status_name(got), rw_status_name(wanted),
                err != NULL && got < 0 ? err->message : "");
    _fail(file, line);
  }
}

rw_table *check_table(const char *name)
{
  char path[512];
  snprintf(path, sizeof path, "%s/%s.csv", RW_CHECKS, name);
  rw_table *t = NULL;
  rw_error err;
  if (rw_table_read(path, &t, &err) != RW_OK) {
    print_error("%s\n", err.message);
    fail();
  }
  return t;
}

const char *check_text(const rw_table *t, size_t row, const char *column)
{
  size_t c = 0;
  rw_error err;
  if (rw_table_find(t, column, &c, &err) != RW_OK) {
    print_error("%s\n", err.message);
    fail();
  }
  return rw_table_cell(t, row, c, NULL, NULL);
}

double check_cell(const rw_table *t, size_t row, const char *column)
{
  size_t c = 0;
  double value = NAN;
  rw_error err;
  if (rw_table_find(t, column, &c, &err) != RW_OK ||
      rw_table_number(t, row, c, &value, &err) != RW_OK) {
    print_error("%s\n", err.message);
    fail();
  }
  return value;
}

static void note(const char *room, const rw_table *t, size_t row, double actual)
{
  char path[512];
  snprintf(path, sizeof path, "%s/%s.csv", RW_VALIDATION, room);
  FILE *f = fopen(path, used == 0 ? "w" : "a");
  if (f == NULL)
    return;
  char ours[40], quoted[512];
  rw_text_round(actual, 10, ours);
  rw_table_quote(check_text(t, row, "what"), ',', quoted, sizeof quoted);
  fprintf(f, "%s,%s,%s,%s,%s,%s,%s,%s\n", check_text(t, row, "id"), quoted,
          check_text(t, row, "expected"), ours, check_text(t, row, "unit"),
          check_text(t, row, "tolerance"), check_text(t, row, "mode"),
          check_text(t, row, "source"));
  fclose(f);
}

void check_point(const char *room, const char *id, double actual)
{
  char name[64];
  snprintf(name, sizeof name, "points_%s", room);
  rw_table *t = check_table(name);
  for (size_t row = 0; row < rw_table_rows(t); row++) {
    if (strcmp(check_text(t, row, "id"), id) != 0)
      continue;
    double expected = check_cell(t, row, "expected");
    double tolerance = check_cell(t, row, "tolerance");
    int relative = strcmp(check_text(t, row, "mode"), "rel") == 0;
    note(room, t, row, actual);
    if (used < MAX_USED)
      used_id[used++] = id;
    rw_table_destroy(t);
    check_close(actual, expected, relative ? tolerance * fabs(expected) : tolerance, id, name, 0);
    return;
  }
  rw_table_destroy(t);
  print_error("%s has no row \"%s\"\n", name, id);
  fail();
}

void check_all_points_used(const char *room)
{
  char name[64];
  snprintf(name, sizeof name, "points_%s", room);
  rw_table *t = check_table(name);
  size_t missing = 0;
  for (size_t row = 0; row < rw_table_rows(t); row++) {
    const char *id = check_text(t, row, "id");
    size_t i = 0;
    while (i < used && strcmp(used_id[i], id) != 0)
      i++;
    if (i == used) {
      print_error("%s: row \"%s\" was never compared\n", name, id);
      missing++;
    }
  }
  rw_table_destroy(t);
  assert_int_equal(missing, 0);
}

void check_explained(const rw_error *err, const char *word)
{
  if (strlen(err->message) < 10 || strstr(err->message, word) == NULL ||
      err->function[0] == '\0') {
    print_error("message \"%s\" of \"%s\" does not name \"%s\"\n", err->message, err->function,
                word);
    fail();
  }
}
