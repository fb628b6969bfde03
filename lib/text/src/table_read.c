/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading a table: one pass over one copy of the text, cells ended by NUL where they stand. */
#include "table.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_BYTES = 64 * 1024 * 1024 };

/* What ended a cell. */
enum ending { END_CELL, END_LINE, END_TEXT };

struct reader {
  rw_table *t;
  size_t n;
  size_t at;
  uint32_t line;
  uint32_t place;
  const char *function;
  rw_error *err;
};

static char fold(char c)
{
  return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

int rwi_text_compare(const char *a, const char *b)
{
  for (; *a != '\0' && fold(*a) == fold(*b); a++, b++)
    continue;
  return (unsigned char)fold(*a) - (unsigned char)fold(*b);
}

static rw_status no_memory(const struct reader *r)
{
  return rw_error_set(r->err, RW_ERR_MEMORY, r->function, r->t != NULL ? r->t->name : NULL,
                      "close other programs, or split the table",
                      "not enough memory to read the table");
}

static rw_status refuse(const struct reader *r, long line, long place, const char *hint,
                        const char *what)
{
  rw_error_set(r->err, RW_ERR_SYNTAX, r->function, r->t->name, hint, "%s, line %ld: %s",
               r->t->name, line, what);
  rw_error_place(r->err, line, place);
  return RW_ERR_SYNTAX;
}

static int is_line_end(char c)
{
  return c == '\n' || c == '\r';
}

static int is_blank(const struct reader *r, char c)
{
  return c == ' ' || (c == '\t' && r->t->separator != '\t');
}

static int here(const struct reader *r, char c)
{
  return r->at < r->n && r->t->bytes[r->at] == c;
}

/* One byte further; places count characters, not the bytes that continue one. */
static void step(struct reader *r)
{
  char c = r->t->bytes[r->at++];
  if (c == '\n' || (c == '\r' && !here(r, '\n'))) {
    r->line++;
    r->place = 1;
  } else if (((unsigned char)c & 0xC0) != 0x80) {
    r->place++;
  }
}

static void step_line_end(struct reader *r)
{
  int carriage = here(r, '\r');
  step(r);
  if (carriage && here(r, '\n'))
    step(r);
}

static void skip_blanks(struct reader *r)
{
  while (r->at < r->n && is_blank(r, r->t->bytes[r->at]))
    step(r);
}

static void skip_rest(struct reader *r)
{
  while (r->at < r->n && !is_line_end(r->t->bytes[r->at]))
    step(r);
  if (r->at < r->n)
    step_line_end(r);
}

/* To the first mark of the next row; 0 at the end of the text. */
static int find_row(struct reader *r)
{
  while (r->at < r->n) {
    struct reader start = *r;
    skip_blanks(r);
    if (r->at < r->n && !is_line_end(r->t->bytes[r->at]) && !here(r, '#')) {
      *r = start;
      return 1;
    }
    skip_rest(r);
  }
  return 0;
}

static rw_status push_cell(struct reader *r, struct rwi_cell cell)
{
  rw_table *t = r->t;
  if (t->cells == t->room) {
    size_t room = t->room * 2;
    struct rwi_cell *grown = realloc(t->cell, room * sizeof *grown);
    if (grown == NULL)
      return no_memory(r);
    t->cell = grown;
    t->room = room;
  }
  t->cell[t->cells++] = cell;
  return RW_OK;
}

/* Past the separator or line end that stands here. */
static enum ending pass_ending(struct reader *r)
{
  if (r->at >= r->n)
    return END_TEXT;
  if (here(r, r->t->separator)) {
    step(r);
    return END_CELL;
  }
  step_line_end(r);
  return END_LINE;
}

/* Contents move to the front where doubled quotes become one; `at` stands on the opening one. */
static rw_status read_quoted(struct reader *r, struct rwi_cell *cell, enum ending *ending)
{
  char *bytes = r->t->bytes;
  step(r);
  size_t to = r->at;
  cell->start = (uint32_t)to;
  for (;;) {
    if (r->at >= r->n)
      return refuse(r, cell->line, cell->place, "put a double quote where the cell ends",
                    "a double quote opens here and is never closed");
    char c = bytes[r->at];
    step(r);
    if (c == '"' && !here(r, '"'))
      break;
    if (c == '"')
      step(r);
    bytes[to++] = c;
  }
  skip_blanks(r);
  if (r->at < r->n && !is_line_end(bytes[r->at]) && !here(r, r->t->separator))
    return refuse(r, r->line, r->place, "inside a quoted cell write every double quote twice",
                  "something follows the closing double quote of a cell");
  *ending = pass_ending(r);
  bytes[to] = '\0';
  return RW_OK;
}

static void read_bare(struct reader *r, struct rwi_cell *cell, enum ending *ending)
{
  char *bytes = r->t->bytes;
  size_t end = r->at;
  cell->start = (uint32_t)r->at;
  while (r->at < r->n && !is_line_end(bytes[r->at]) && !here(r, r->t->separator)) {
    int blank = is_blank(r, bytes[r->at]);
    step(r);
    if (!blank)
      end = r->at;
  }
  *ending = pass_ending(r);
  bytes[end] = '\0';
}

static rw_status read_cell(struct reader *r, enum ending *ending)
{
  skip_blanks(r);
  struct rwi_cell cell = {(uint32_t)r->at, r->line, r->place};
  if (here(r, '"')) {
    rw_status status = read_quoted(r, &cell, ending);
    if (status != RW_OK)
      return status;
  } else {
    read_bare(r, &cell, ending);
  }
  return push_cell(r, cell);
}

static rw_status read_row(struct reader *r, size_t *count)
{
  enum ending ending = END_CELL;
  for (*count = 0; ending == END_CELL; ++*count) {
    rw_status status = read_cell(r, &ending);
    if (status != RW_OK)
      return status;
  }
  return RW_OK;
}

/* Past a quoted cell; `at` stands on the opening quote. */
static size_t pass_quoted(const char *bytes, size_t n, size_t at)
{
  for (at++; at < n; at++)
    if (bytes[at] == '"' && (at + 1 == n || bytes[++at] != '"'))
      break;
  return at;
}

/* The strongest separator of the header line; a quote opens a cell only where one begins. */
static char find_separator(const struct reader *r)
{
  const char *bytes = r->t->bytes;
  char found = ',';
  int first = 1;
  for (size_t at = r->at; at < r->n && !is_line_end(bytes[at]);) {
    char c = bytes[at];
    if (c == ';')
      return ';';
    if (c == '\t')
      found = '\t';
    at = c == '"' && first ? pass_quoted(bytes, r->n, at) : at + 1;
    first = c == ',' || c == '\t' || (first && c == ' ');
  }
  return found;
}

static const struct rwi_cell *header_cell(const rw_table *t, const char *name)
{
  const struct rwi_cell *c = t->cell;
  while (t->bytes + c->start != name)
    c++;
  return c;
}

static rw_status bad_header(const struct reader *r, const char *name)
{
  const struct rwi_cell *c = header_cell(r->t, name);
  if (name[0] == '\0')
    return refuse(r, c->line, c->place, "name every column in the first row",
                  "a column of the header has no name");
  char shown[RW_EXCERPT], what[RW_EXCERPT + 64];
  rw_text_excerpt(name, strlen(name), shown);
  snprintf(what, sizeof what, "two columns are named \"%s\"", shown);
  return refuse(r, c->line, c->place, "give every column a name of its own", what);
}

static int by_name(const void *a, const void *b)
{
  const char *left = *(const char *const *)a, *right = *(const char *const *)b;
  int order = rwi_text_compare(left, right);
  return order != 0 ? order : left < right ? -1 : 1;
}

static rw_status check_names(const struct reader *r)
{
  const rw_table *t = r->t;
  for (size_t i = 0; i < t->columns; i++)
    if (t->header[i][0] == '\0')
      return bad_header(r, t->header[i]);
  const char **sorted = malloc(t->columns * sizeof *sorted);
  if (sorted == NULL)
    return no_memory(r);
  memcpy(sorted, t->header, t->columns * sizeof *sorted);
  qsort(sorted, t->columns, sizeof *sorted, by_name);
  const char *repeated = NULL;
  for (size_t i = 1; i < t->columns && repeated == NULL; i++)
    if (rwi_text_compare(sorted[i - 1], sorted[i]) == 0)
      repeated = sorted[i];
  free(sorted);
  return repeated != NULL ? bad_header(r, repeated) : RW_OK;
}

static rw_status read_header(struct reader *r)
{
  rw_table *t = r->t;
  if (!find_row(r))
    return refuse(r, r->line, 0, "the first row that is no comment names the columns",
                  "the table is empty, it has no header");
  t->separator = find_separator(r);
  rw_status status = read_row(r, &t->columns);
  if (status != RW_OK)
    return status;
  t->header = malloc(t->columns * sizeof *t->header);
  if (t->header == NULL)
    return no_memory(r);
  for (size_t i = 0; i < t->columns; i++)
    t->header[i] = t->bytes + t->cell[i].start;
  return check_names(r);
}

static rw_status ragged(const struct reader *r, const struct rwi_cell *first, size_t count)
{
  const char *hint = "put an empty cell where something is missing";
  if (count > r->t->columns)
    hint = r->t->separator == ','
               ? "put a cell that holds a comma in double quotes; decimal commas need ; between "
                 "the cells"
               : "put a cell that holds the separator in double quotes";
  char what[96];
  snprintf(what, sizeof what, "the row has %zu cells, the header has %zu", count, r->t->columns);
  return refuse(r, first->line, first->place, hint, what);
}

static rw_status read_rows(struct reader *r)
{
  while (find_row(r)) {
    size_t count, before = r->t->cells;
    rw_status status = read_row(r, &count);
    if (status != RW_OK)
      return status;
    if (count != r->t->columns)
      return ragged(r, &r->t->cell[before], count);
  }
  return RW_OK;
}

static rw_status refuse_zero_bytes(struct reader *r)
{
  const char *zero = memchr(r->t->bytes, '\0', r->n);
  if (zero == NULL)
    return RW_OK;
  while (r->t->bytes + r->at < zero)
    step(r);
  return refuse(r, r->line, r->place, "export the sheet as CSV text in UTF-8",
                "this is no text: a zero byte stands here");
}

static void skip_byte_order_mark(struct reader *r)
{
  if (r->n >= 3 && memcmp(r->t->bytes, "\xEF\xBB\xBF", 3) == 0)
    r->at = 3;
}

static rw_status build(struct reader *r)
{
  r->t->room = 64;
  r->t->cell = malloc(r->t->room * sizeof *r->t->cell);
  if (r->t->cell == NULL)
    return no_memory(r);
  rw_status status = refuse_zero_bytes(r);
  if (status != RW_OK)
    return status;
  skip_byte_order_mark(r);
  status = read_header(r);
  return status == RW_OK ? read_rows(r) : status;
}

/* Takes over bytes, which have one more byte than n, also where it fails. */
static rw_status table_from(char *bytes, size_t n, const char *name, const char *function,
                            rw_table **out, rw_error *err)
{
  struct reader r = {NULL, n, 0, 1, 1, function, err};
  r.t = calloc(1, sizeof *r.t);
  if (r.t == NULL) {
    free(bytes);
    return no_memory(&r);
  }
  r.t->bytes = bytes;
  rwi_text_name(name, r.t->name);
  rw_status status = build(&r);
  if (status != RW_OK) {
    rw_table_destroy(r.t);
    return status;
  }
  *out = r.t;
  return RW_OK;
}

rw_status rw_table_parse(const char *bytes, size_t n, const char *name, rw_table **out,
                         rw_error *err)
{
  static const char function[] = "rw_table_parse";
  if ((bytes == NULL && n > 0) || out == NULL)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, out == NULL ? "out" : "bytes", NULL,
                        "a text to read and a place for the table are needed");
  if (name == NULL)
    name = "table";
  if (n > MOST_BYTES)
    return rw_error_set(err, RW_ERR_RANGE, function, name, "split the table",
                        "the table is too large: %zu bytes, allowed are at most %d", n,
                        (int)MOST_BYTES);
  char *copy = malloc(n + 1);
  if (copy == NULL)
    return rw_error_set(err, RW_ERR_MEMORY, function, name, "close other programs",
                        "not enough memory to read the table");
  if (n > 0)
    memcpy(copy, bytes, n);
  copy[n] = '\0';
  return table_from(copy, n, name, function, out, err);
}

rw_status rw_table_read(const char *path, rw_table **out, rw_error *err)
{
  static const char function[] = "rw_table_read";
  if (path == NULL || out == NULL)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, path == NULL ? "path" : "out", NULL,
                        "a file name and a place for the table are needed");
  char *bytes;
  size_t n;
  rw_status status = rwi_text_slurp(function, path, MOST_BYTES, &bytes, &n, err);
  return status == RW_OK ? table_from(bytes, n, path, function, out, err) : status;
}
