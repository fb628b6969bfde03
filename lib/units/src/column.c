/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <resinwright/units.h>

#include <stdio.h>
#include <string.h>
#include <strings.h>

static const char FUNCTION[] = "rw_column_find";

/* Length of a header's name: what stands before the bracket, without the space between. */
static size_t name_length(const char *header)
{
  const char *bracket = strchr(header, '[');
  size_t n = bracket != NULL ? (size_t)(bracket - header) : strlen(header);
  while (n > 0 && header[n - 1] == ' ')
    n--;
  return n;
}

/* A header that would do. */
static void say_example(const char *name, const char *unit, char *to, size_t size)
{
  if (unit[0] == '\0')
    snprintf(to, size, "\"%s\" or \"%s [%%]\"", name, name);
  else
    snprintf(to, size, "\"%s [%s]\"", name, strcmp(unit, "K") == 0 ? "degC" : unit);
}

static rw_status unknown(const rw_table *t, const char *name, const char *unit, rw_error *err)
{
  char there[200] = "";
  for (size_t i = 0; i < rw_table_columns(t); i++) {
    size_t used = strlen(there);
    snprintf(there + used, sizeof there - used, "%s\"%s\"", i > 0 ? ", " : "",
             rw_table_header(t, i));
  }
  char example[80], hint[160];
  say_example(name, unit, example, sizeof example);
  snprintf(hint, sizeof hint, "Name a column %s in the table's first row.", example);
  return rw_error_set(err, RW_ERR_NAME, FUNCTION, name, hint,
                      "there is no column \"%s\"; the columns are %s", name, there);
}

/* Says which column the unit stands over that another function refused. */
static rw_status in_header(const char *header, const char *name, rw_status status, rw_error *err)
{
  if (err == NULL)
    return status;
  rw_error said = *err;
  return rw_error_set(err, status, FUNCTION, name, said.hint, "the column \"%.60s\": %.220s",
                      header, said.message);
}

static rw_status read_unit(const char *header, const char *name, const char *unit,
                           rw_column *column, rw_error *err)
{
  const char *open = strchr(header, '['), *close = strrchr(header, ']');
  char example[80], hint[160];
  say_example(name, unit, example, sizeof example);
  snprintf(hint, sizeof hint, "Write the unit in the header: %s.", example);
  if (open == NULL || close == NULL || close <= open + 1) {
    if (unit[0] == '\0') {
      *column = (rw_column){.factor = 1};
      return RW_OK;
    }
    return rw_error_set(err, RW_ERR_UNIT, FUNCTION, name, hint,
                        "the column \"%s\" does not say its unit", header);
  }
  size_t n = (size_t)(close - open - 1);
  rw_dim dim;
  rw_column c = {0};
  if (n >= sizeof c.unit)
    n = sizeof c.unit - 1;
  memcpy(c.unit, open + 1, n);
  rw_status status = rw_unit_read(c.unit, n, &c.factor, &c.offset, &dim, err);
  if (status != RW_OK)
    return in_header(header, name, status, err);
  if (!rw_dim_same(dim, rw_dim_of(unit))) {
    char found[64], wanted[64];
    rw_dim_name(dim, found, sizeof found);
    rw_dim_name(rw_dim_of(unit), wanted, sizeof wanted);
    return rw_error_set(err, RW_ERR_UNIT, FUNCTION, name, hint,
                        "the column \"%s\" is in %s, a %s; it must be a %s", header, c.unit, found,
                        wanted);
  }
  *column = c;
  return RW_OK;
}

rw_status rw_column_find(const rw_table *t, const char *name, const char *unit, rw_column *column,
                         rw_error *err)
{
  for (size_t i = 0; i < rw_table_columns(t); i++) {
    const char *header = rw_table_header(t, i);
    size_t n = name_length(header);
    if (n != strlen(name) || strncasecmp(header, name, n) != 0)
      continue;
    rw_column c;
    rw_status status = read_unit(header, name, unit, &c, err);
    if (status != RW_OK)
      return status;
    c.index = i;
    *column = c;
    return RW_OK;
  }
  return unknown(t, name, unit, err);
}

rw_status rw_column_number(const rw_table *t, size_t row, const rw_column *column, double *value,
                           rw_error *err)
{
  double number;
  rw_status status = rw_table_number(t, row, column->index, &number, err);
  rw_quantity q = {.si = number};
  if (status == RW_OK && column->unit[0] != '\0')
    status = rw_quantity_of(number, column->unit, &q, err);
  if (status == RW_OK)
    *value = q.si;
  return status;
}
