/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tables: what is read can be written with any separator and reads back cell by cell. */
#include "fuzz.h"

struct text {
  char *bytes;
  size_t n;
};

static void add(struct text *to, const char *cell, char separator, int last)
{
  size_t n = rw_table_quote(cell, separator, NULL, 0);
  to->bytes = realloc(to->bytes, to->n + n + 4);
  HOLDS(to->bytes != NULL);
  /* an empty cell alone in its row would be an empty line */
  if (n == 0 && last && (to->n == 0 || to->bytes[to->n - 1] == '\n'))
    n = (size_t)sprintf(to->bytes + to->n, "\"\"");
  else
    HOLDS(rw_table_quote(cell, separator, to->bytes + to->n, n + 1) == n);
  to->n += n;
  to->bytes[to->n++] = last ? '\n' : separator;
}

static struct text write_table(const rw_table *t, char separator)
{
  struct text out = {NULL, 0};
  size_t columns = rw_table_columns(t);
  for (size_t c = 0; c < columns; c++)
    add(&out, rw_table_header(t, c), separator, c + 1 == columns);
  for (size_t r = 0; r < rw_table_rows(t); r++)
    for (size_t c = 0; c < columns; c++)
      add(&out, rw_table_cell(t, r, c, NULL, NULL), separator, c + 1 == columns);
  return out;
}

static void same_cells(const rw_table *a, const rw_table *b)
{
  HOLDS(rw_table_columns(a) == rw_table_columns(b));
  HOLDS(rw_table_rows(a) == rw_table_rows(b));
  for (size_t c = 0; c < rw_table_columns(a); c++) {
    HOLDS(strcmp(rw_table_header(a, c), rw_table_header(b, c)) == 0);
    for (size_t r = 0; r < rw_table_rows(a); r++)
      HOLDS(strcmp(rw_table_cell(a, r, c, NULL, NULL), rw_table_cell(b, r, c, NULL, NULL)) == 0);
  }
}

static void comes_back(const rw_table *t, char separator)
{
  /* one column has no separator in its header, so it reads as if it were ',' */
  if (rw_table_columns(t) == 1 && separator != ',')
    return;
  struct text out = write_table(t, separator);
  rw_table *back = NULL;
  HOLDS(rw_table_parse(out.bytes, out.n, NULL, &back, NULL) == RW_OK);
  same_cells(t, back);
  rw_table_destroy(back);
  free(out.bytes);
}

static void look_around(const rw_table *t, size_t size)
{
  HOLDS(rw_table_columns(t) > 0);
  for (size_t c = 0; c < rw_table_columns(t); c++) {
    size_t found = 99;
    long line = 0, place = 0, before = 0;
    HOLDS(rw_table_find(t, rw_table_header(t, c), &found, NULL) == RW_OK);
    HOLDS(found == c);
    for (size_t r = 0; r < rw_table_rows(t); r++) {
      double value = 77;
      rw_error err;
      HOLDS(rw_table_cell(t, r, c, &line, &place) != NULL);
      HOLDS(line > before && (size_t)line <= size && place > 0 && (size_t)place <= size + 1);
      before = line;
      rw_status status = rw_table_number(t, r, c, &value, &err);
      if (status != RW_OK) {
        explained(&err, status, "rw_table_number");
        HOLDS(value == 77 && err.line == line && err.column == place);
      }
    }
  }
  rw_error err;
  size_t found = 99;
  rw_status status = rw_table_find(t, "\n", &found, &err);
  if (status != RW_OK)
    explained(&err, status, "rw_table_find");
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
  char *text = exact_copy(data, size);
  rw_table *t = NULL;
  rw_error err;
  rw_status status = rw_table_parse(text, size, NULL, &t, &err);
  if (status == RW_OK) {
    look_around(t, size);
    comes_back(t, ',');
    comes_back(t, ';');
    comes_back(t, '\t');
    rw_table_destroy(t);
  } else {
    explained(&err, status, "rw_table_parse");
    HOLDS(t == NULL && status == RW_ERR_SYNTAX && err.line > 0);
  }
  free(text);
  return 0;
}
