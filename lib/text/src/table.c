/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looking at a table that has been read. */
#include "table.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void rw_table_destroy(rw_table *t)
{
  if (t == NULL)
    return;
  free(t->header);
  free(t->cell);
  free(t->bytes);
  free(t);
}

size_t rw_table_rows(const rw_table *t)
{
  return t != NULL ? t->cells / t->columns - 1 : 0;
}

size_t rw_table_columns(const rw_table *t)
{
  return t != NULL ? t->columns : 0;
}

const char *rw_table_header(const rw_table *t, size_t column)
{
  return t != NULL && column < t->columns ? t->header[column] : NULL;
}

/* "a, b, c" as far as it fits. */
static void list_headers(const rw_table *t, char *to, size_t size)
{
  size_t at = 0;
  for (size_t i = 0; i < t->columns; i++) {
    char name[RW_EXCERPT];
    rw_text_excerpt(t->header[i], strlen(t->header[i]), name);
    if (at + strlen(name) + 8 > size) {
      snprintf(to + at, size - at, ", ...");
      return;
    }
    at += (size_t)snprintf(to + at, size - at, "%s%s", i > 0 ? ", " : "", name);
  }
}

static rw_status no_column(const rw_table *t, const char *header, rw_error *err)
{
  if (err == NULL)
    return RW_ERR_NAME;
  char there[140], asked[RW_EXCERPT], hint[96] = "check the first line of the table";
  list_headers(t, there, sizeof there);
  rw_text_excerpt(header, strlen(header), asked);
  int near = rw_nearest_name(header, t->header, t->columns);
  if (near >= 0) {
    char name[RW_EXCERPT];
    rw_text_excerpt(t->header[near], strlen(t->header[near]), name);
    snprintf(hint, sizeof hint, "did you mean \"%s\"?", name);
  }
  rw_error_set(err, RW_ERR_NAME, "rw_table_find", t->name, hint,
               "%s has no column \"%s\"; it has %s", t->name, asked, there);
  rw_error_place(err, (long)t->cell[0].line, 0);
  return RW_ERR_NAME;
}

rw_status rw_table_find(const rw_table *t, const char *header, size_t *column, rw_error *err)
{
  if (t == NULL || header == NULL || column == NULL)
    return rw_error_set(err, RW_ERR_ARGUMENT, "rw_table_find", t == NULL ? "t" : "header", NULL,
                        "a table, a column name and a place for the result are needed");
  for (size_t i = 0; i < t->columns; i++)
    if (rwi_text_compare(t->header[i], header) == 0) {
      *column = i;
      return RW_OK;
    }
  return no_column(t, header, err);
}

static const struct rwi_cell *cell_at(const rw_table *t, size_t row, size_t column)
{
  if (t == NULL || column >= t->columns || row >= rw_table_rows(t))
    return NULL;
  return &t->cell[(row + 1) * t->columns + column];
}

const char *rw_table_cell(const rw_table *t, size_t row, size_t column, long *line, long *place)
{
  const struct rwi_cell *c = cell_at(t, row, column);
  if (c == NULL)
    return NULL;
  if (line != NULL)
    *line = (long)c->line;
  if (place != NULL)
    *place = (long)c->place;
  return t->bytes + c->start;
}

static rw_status bad_number(const rw_table *t, const struct rwi_cell *c, size_t column,
                            rw_error *err)
{
  if (err == NULL)
    return RW_ERR_SYNTAX;
  const char *text = t->bytes + c->start;
  const char *hint = "write digits only; the unit belongs in the column's name";
  if (strchr(text, ',') != NULL)
    hint = t->separator == ',' ? "a decimal comma needs ; between the cells; or write 20.5"
                               : "leave out thousands marks: write 1234,5 or 1234.5";
  char found[RW_EXCERPT], name[RW_EXCERPT];
  rw_text_excerpt(text, strlen(text), found);
  rw_text_excerpt(t->header[column], strlen(t->header[column]), name);
  if (text[0] == '\0')
    rw_error_set(err, RW_ERR_SYNTAX, "rw_table_number", t->name,
                 "fill the cell in or leave the row out",
                 "%s, line %ld: the cell under \"%s\" is empty, a number is needed", t->name,
                 (long)c->line, name);
  else
    rw_error_set(err, RW_ERR_SYNTAX, "rw_table_number", t->name, hint,
                 "%s, line %ld: under \"%s\" a number is needed, found \"%s\"", t->name,
                 (long)c->line, name, found);
  rw_error_place(err, (long)c->line, (long)c->place);
  return RW_ERR_SYNTAX;
}

rw_status rw_table_number(const rw_table *t, size_t row, size_t column, double *value,
                          rw_error *err)
{
  const struct rwi_cell *c = cell_at(t, row, column);
  if (c == NULL || value == NULL)
    return rw_error_set(err, RW_ERR_ARGUMENT, "rw_table_number", c == NULL ? "row" : "value", NULL,
                        "row %zu, column %zu: the table has %zu rows and %zu columns", row, column,
                        rw_table_rows(t), rw_table_columns(t));
  const char *text = t->bytes + c->start;
  size_t n = strlen(text);
  char point = t->separator != ',' && memchr(text, ',', n) != NULL ? ',' : '.';
  rw_status status = rw_text_number(text, n, point, value, NULL, NULL);
  if (status == RW_OK)
    return RW_OK;
  bad_number(t, c, column, err);
  return RW_ERR_SYNTAX;
}

/* ';' in a header wins over tab, and tab over ','. */
static const char *rivals(char separator)
{
  return separator == ';' ? ";" : separator == '\t' ? "\t;" : ",\t;";
}

static int is_blank(char c)
{
  return c == ' ' || c == '\t';
}

static int needs_quotes(const char *text, char separator)
{
  size_t n = strlen(text);
  if (n == 0)
    return 0;
  return is_blank(text[0]) || is_blank(text[n - 1]) || text[0] == '#' ||
         strpbrk(text, "\"\r\n") != NULL || strpbrk(text, rivals(separator)) != NULL ||
         strncmp(text, "\xEF\xBB\xBF", 3) == 0;
}

static void put(char *buffer, size_t size, size_t at, char c)
{
  if (at + 1 < size)
    buffer[at] = c;
}

size_t rw_table_quote(const char *text, char separator, char *buffer, size_t size)
{
  int quoted = needs_quotes(text, separator);
  size_t at = 0;
  if (quoted)
    put(buffer, size, at++, '"');
  for (; *text != '\0'; text++) {
    if (*text == '"')
      put(buffer, size, at++, '"');
    put(buffer, size, at++, *text);
  }
  if (quoted)
    put(buffer, size, at++, '"');
  if (size > 0)
    buffer[at < size ? at : size - 1] = '\0';
  return at;
}
