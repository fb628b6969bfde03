/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A hull from a table file. What the makers of hulls refuse is told with the line it stands in. */
#include "hull_inside.h"

#include <resinwright/text.h>
#include <resinwright/units.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const ME = "rw_hull_read";

typedef struct file {
  const char *path;
  rw_table *t;
  size_t n; /* rows */
} file;

/* Says which file and line (row f->n: none) an error of another function is about. */
static rw_status placed(const file *f, size_t row, rw_status status, rw_error *err)
{
  if (status >= 0 || err == NULL)
    return status;
  char said[sizeof err->message];
  memcpy(said, err->message, sizeof said);
  if (row < f->n) {
    rw_table_cell(f->t, row, 0, &err->line, NULL);
    snprintf(err->message, sizeof err->message, "%.100s, line %ld: %.180s", f->path, err->line,
             said);
  } else {
    snprintf(err->message, sizeof err->message, "%.100s: %.200s", f->path, said);
  }
  return status;
}

static int has(const file *f, const char *name)
{
  rw_column c;
  return rw_column_find(f->t, name, "m", &c, NULL) != RW_ERR_NAME;
}

static rw_status find(const file *f, const char *name, const char *unit, rw_column *c,
                      rw_error *err)
{
  return placed(f, f->n, rw_column_find(f->t, name, unit, c, err), err);
}

static rw_status lengths(const file *f, const char *name, double *to, rw_error *err)
{
  rw_column c;
  rw_status status = find(f, name, "m", &c, err);
  for (size_t i = 0; i < f->n && status == RW_OK; i++)
    status = rw_column_number(f->t, i, &c, &to[i], err);
  return status;
}

static int is_about(const rw_error *err, const char *argument)
{
  return strcmp(err->argument, argument) == 0;
}

/* Row of a value that was refused; the ends, where more is allowed, come last. */
static size_t row_of(const double *v, size_t n, double value)
{
  for (size_t i = 1; i + 1 < n; i++)
    if (v[i] == value)
      return i;
  if (n > 0 && v[0] == value)
    return 0;
  return n > 0 && v[n - 1] == value ? n - 1 : n;
}

/* First row that does not lie after the one before it, else the one that lies least far after. */
static size_t row_out_of_order(const double *x, size_t n)
{
  size_t least = n;
  for (size_t i = 1; i < n; i++) {
    if (x[i] <= x[i - 1])
      return i;
    if (least == n || x[i] - x[i - 1] < x[least] - x[least - 1])
      least = i;
  }
  return least;
}

static size_t girth_row(const double *x, const double *girth, size_t n, const rw_error *err)
{
  if (err == NULL)
    return n;
  if (err->code == RW_ERR_ORDER)
    return row_out_of_order(x, n);
  return row_of(is_about(err, "girth") ? girth : x, n, err->value);
}

static rw_status from_girths(const file *f, rw_hull **out, rw_error *err)
{
  double *x = calloc(2 * f->n + 1, sizeof *x);
  if (x == NULL)
    return hull_no_memory(ME, err);
  double *girth = x + f->n;
  rw_status status = lengths(f, "x", x, err);
  if (status == RW_OK)
    status = lengths(f, "girth", girth, err);
  if (status == RW_OK) {
    status = rw_hull_from_girths(x, girth, f->n, out, err);
    placed(f, girth_row(x, girth, f->n, err), status, err);
  }
  free(x);
  return status;
}

/* How far a point lies from the one before it: along the hull, or within a station. */
static double step(const rw_offset *p, int along)
{
  int new_station = p[0].x != p[-1].x;
  if (along != new_station)
    return HUGE_VAL;
  return along ? p[0].x - p[-1].x : hypot(p[0].half - p[-1].half, p[0].height - p[-1].height);
}

/* First point that is no step on, else the one at the end of the shortest step. */
static size_t point_out_of_order(const rw_offset *p, size_t n, int along)
{
  size_t least = n;
  double shortest = HUGE_VAL;
  for (size_t i = 1; i < n; i++) {
    double s = step(&p[i], along);
    if (s <= 0.0)
      return i;
    if (s < shortest) {
      shortest = s;
      least = i;
    }
  }
  return least;
}

static size_t offset_row(const rw_offset *p, size_t n, const rw_error *err)
{
  if (err == NULL)
    return n;
  if (err->code == RW_ERR_ORDER)
    return point_out_of_order(p, n, is_about(err, "point.x"));
  for (size_t i = 0; i < n; i++)
    if ((is_about(err, "point.x") && p[i].x == err->value) ||
        (is_about(err, "point.half") && p[i].half == err->value) ||
        (is_about(err, "point.height") && p[i].height == err->value))
      return i;
  return n;
}

static rw_status knuckle(const file *f, size_t row, const rw_column *c, int *to, rw_error *err)
{
  double mark = 0.0;
  rw_status status = rw_column_number(f->t, row, c, &mark, err);
  if (status != RW_OK)
    return status;
  if (mark != 0.0 && mark != 1.0)
    return placed(f, row,
                  rw_error_range(err, ME, "knuckle", mark, 0.0, 1.0, "",
                                 "write 1 where the skin has a chine, 0 everywhere else"),
                  err);
  *to = mark == 1.0;
  return RW_OK;
}

static rw_status knuckles(const file *f, rw_offset *p, rw_error *err)
{
  rw_column c;
  if (rw_column_find(f->t, "knuckle", "", &c, NULL) == RW_ERR_NAME)
    return RW_OK;
  rw_status status = find(f, "knuckle", "", &c, err);
  for (size_t i = 0; i < f->n && status == RW_OK; i++)
    status = knuckle(f, i, &c, &p[i].knuckle, err);
  return status;
}

static rw_status points(const file *f, rw_offset *p, rw_error *err)
{
  rw_column x, half, height;
  rw_status status = find(f, "x", "m", &x, err);
  if (status == RW_OK)
    status = find(f, "half", "m", &half, err);
  if (status == RW_OK)
    status = find(f, "height", "m", &height, err);
  for (size_t i = 0; i < f->n && status == RW_OK; i++) {
    status = rw_column_number(f->t, i, &x, &p[i].x, err);
    if (status == RW_OK)
      status = rw_column_number(f->t, i, &half, &p[i].half, err);
    if (status == RW_OK)
      status = rw_column_number(f->t, i, &height, &p[i].height, err);
  }
  return status == RW_OK ? knuckles(f, p, err) : status;
}

static rw_status from_offsets(const file *f, rw_hull **out, rw_error *err)
{
  rw_offset *p = calloc(f->n + 1, sizeof *p);
  if (p == NULL)
    return hull_no_memory(ME, err);
  rw_status status = points(f, p, err);
  if (status == RW_OK) {
    status = rw_hull_from_offsets(p, f->n, out, err);
    placed(f, offset_row(p, f->n, err), status, err);
  }
  free(p);
  return status;
}

static rw_status from_table(const file *f, rw_hull **out, rw_error *err)
{
  int girths = has(f, "girth"), offsets = has(f, "half");
  if (girths && offsets)
    return rw_error_set(err, RW_ERR_NAME, ME, "girth",
                        "keep girths and offsets in two files, and read one of them",
                        "%.100s has girths and offsets both: which of them is meant is not clear",
                        f->path);
  if (girths)
    return from_girths(f, out, err);
  if (offsets)
    return from_offsets(f, out, err);
  rw_column c;
  rw_status status = find(f, "girth", "m", &c, err);
  if (err != NULL)
    snprintf(err->hint, sizeof err->hint, "%s",
             "Name the columns \"x [m]\" and \"girth [mm]\", or \"x [m]\", \"half [mm]\" and "
             "\"height [mm]\".");
  return status;
}

rw_status rw_hull_read(const char *path, rw_hull **out, rw_error *err)
{
  if (path == NULL || out == NULL)
    return hull_missing(ME, path == NULL ? "path" : "out", err);
  file f = {.path = path};
  rw_status status = rw_table_read(path, &f.t, err);
  if (status != RW_OK)
    return status;
  f.n = rw_table_rows(f.t);
  status = from_table(&f, out, err);
  rw_table_destroy(f.t);
  return status;
}
