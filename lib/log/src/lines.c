/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One line is one row. A line that does not fit the header is left out and blanked, so that a row
 * cut off by a power failure cannot swallow those below it; the rest becomes a table. */
#include "log_inside.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int is_line_end(char c)
{
  return c == '\n' || c == '\r';
}

/* End of the line that begins at `at`. */
static size_t line_end(const char *bytes, size_t n, size_t at)
{
  while (at < n && !is_line_end(bytes[at]))
    at++;
  return at;
}

/* Past the line end at `at`. */
static size_t next_line(const char *bytes, size_t n, size_t at)
{
  if (at + 1 < n && bytes[at] == '\r' && bytes[at + 1] == '\n')
    return at + 2;
  return at < n ? at + 1 : n;
}

static int holds_row(const char *line, size_t n)
{
  size_t at = 0;
  while (at < n && (line[at] == ' ' || line[at] == '\t'))
    at++;
  return at < n && line[at] != '#';
}

/* Past a quoted cell, `at` stands on the opening quote; 0 where it is never closed. */
static size_t pass_quoted(const char *line, size_t n, size_t at)
{
  for (at++; at < n; at++) {
    if (line[at] != '"')
      continue;
    if (at + 1 == n || line[at + 1] != '"')
      return at + 1;
    at++;
  }
  return 0;
}

static size_t skip_blanks(const char *line, size_t n, size_t at, char separator)
{
  while (at < n && (line[at] == ' ' || (line[at] == '\t' && separator != '\t')))
    at++;
  return at;
}

/* Cells of a line; 0 where its quotes are wrong. */
static size_t count_cells(const char *line, size_t n, char separator)
{
  size_t at = 0;
  for (size_t count = 1;; count++) {
    at = skip_blanks(line, n, at, separator);
    if (at < n && line[at] == '"') {
      at = pass_quoted(line, n, at);
      if (at == 0)
        return 0;
      at = skip_blanks(line, n, at, separator);
      if (at < n && line[at] != separator)
        return 0;
    }
    while (at < n && line[at] != separator)
      at++;
    if (at >= n)
      return count;
    at++;
  }
}

/* As the room text finds it: ';' outside quotes wins over tab, tab over ','. */
static char find_separator(const char *line, size_t n)
{
  char found = ',';
  int first = 1;
  for (size_t at = 0; at < n;) {
    char c = line[at];
    if (c == ';')
      return ';';
    if (c == '\t')
      found = '\t';
    size_t past = c == '"' && first ? pass_quoted(line, n, at) : at + 1;
    at = past > 0 ? past : n;
    first = c == ',' || c == '\t' || (first && c == ' ');
  }
  return found;
}

static int left_out(rw_log *l, long line, size_t cells, size_t wanted, int unended)
{
  char text[160];
  const char *hint = "put an empty cell where something is missing";
  if (unended) {
    snprintf(text, sizeof text,
             "the last row is cut off: it is still being written, or writing "
             "was interrupted");
    hint = "read the log again, or write the row anew";
  } else if (cells == 0) {
    snprintf(text, sizeof text,
             "a double quote opens a cell and is not closed on this line, or "
             "something follows it, or a zero byte stands here");
    hint = "one line is one row; inside a quoted cell write every double quote twice";
  } else {
    snprintf(text, sizeof text, "the row has %zu cells, the header has %zu", cells, wanted);
    if (cells > wanted)
      hint = l->separator == ','
                 ? "decimal commas need ; between the cells; or write 20.5; a text "
                   "that holds a comma needs double quotes"
                 : "put a text that holds the separator in double quotes";
  }
  return rwi_log_note_add(l, line, RW_ERR_SYNTAX, hint, text);
}

static int remark_unended(rw_log *l, long line)
{
  return rwi_log_note_add(l, line, RW_OK, "end the last row with a line end",
                          "the last row has no line end: if it is still being written, its last "
                          "cell may be cut off");
}

/* Looks at one line below the header; 0 where memory is short. */
static int look(rw_log *l, char *line, size_t n, long number, size_t wanted, int unended)
{
  if (!holds_row(line, n))
    return 1;
  size_t cells = memchr(line, '\0', n) != NULL ? 0 : count_cells(line, n, l->separator);
  if (cells == wanted)
    return unended ? remark_unended(l, number) : 1;
  memset(line, ' ', n);
  return left_out(l, number, cells, wanted, unended && cells < wanted);
}

static int look_at_all(rw_log *l, char *bytes, size_t n)
{
  size_t at = n >= 3 && memcmp(bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
  size_t wanted = 0;
  for (long number = 1; at < n; number++) {
    size_t end = line_end(bytes, n, at);
    if (wanted > 0) {
      if (!look(l, bytes + at, end - at, number, wanted, end == n))
        return 0;
    } else if (holds_row(bytes + at, end - at)) {
      l->separator = find_separator(bytes + at, end - at);
      l->carriage = end + 1 < n && bytes[end] == '\r' && bytes[end + 1] == '\n';
      wanted = count_cells(bytes + at, end - at, l->separator);
      if (wanted == 0)
        return 1;
    }
    at = next_line(bytes, n, end);
  }
  return 1;
}

rw_status rwi_log_lines(rw_log *l, char *bytes, size_t n)
{
  return look_at_all(l, bytes, n) ? RW_OK : RW_ERR_MEMORY;
}

long rwi_log_line_count(const char *bytes, size_t n)
{
  long count = 0;
  for (size_t at = 0; at < n; count++)
    at = next_line(bytes, n, line_end(bytes, n, at));
  return count;
}
