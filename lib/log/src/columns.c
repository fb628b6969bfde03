/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The header: every column known, those with numbers with their unit. */
#include "log_inside.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

static const char *const keys[] = {
#define RW_X(name, key, header, unit, kinds) key,
    RWI_LOG_COLUMNS(RW_X)
#undef RW_X
};

const char *rwi_log_column_key(int column)
{
  return keys[column];
}

const char *rwi_log_column_header(int column)
{
  static const char *const headers[] = {
#define RW_X(name, key, header, unit, kinds) header,
      RWI_LOG_COLUMNS(RW_X)
#undef RW_X
  };
  return headers[column];
}

const char *rwi_log_column_unit(int column)
{
  static const char *const units[] = {
#define RW_X(name, key, header, unit, kinds) unit,
      RWI_LOG_COLUMNS(RW_X)
#undef RW_X
  };
  return units[column];
}

const char *rwi_log_said(const rw_error *err)
{
  const char *end =
      strncmp(err->message, "log, line ", 10) == 0 ? strstr(err->message, ": ") : NULL;
  return end != NULL ? end + 2 : err->message;
}

void rwi_log_nearest(const char *word, const char *const *known, size_t n, const char *otherwise,
                     char *hint, size_t size)
{
  int near = rw_nearest_name(word, known, n);
  if (near >= 0)
    snprintf(hint, size, "did you mean \"%s\"?", known[near]);
  else
    snprintf(hint, size, "%s", otherwise);
}

/* What stands before the bracket. */
static void bare_name(const char *header, char name[64])
{
  size_t n = strcspn(header, "[");
  while (n > 0 && header[n - 1] == ' ')
    n--;
  snprintf(name, 64, "%.*s", n < 63 ? (int)n : 63, header);
}

static int column_of(const char *name)
{
  for (int i = 0; i < COLS; i++)
    if (strcasecmp(name, keys[i]) == 0)
      return i;
  return -1;
}

static rw_status in_file(const char *name, rw_status status, rw_error *err)
{
  if (err == NULL)
    return status;
  rw_error said = *err;
  return rw_error_set(err, status, "rw_log_parse", name, said.hint, "%.100s: %.200s", name,
                      said.message);
}

static rw_status unknown(rwi_log_reader *r, const char *header, const char *name, rw_error *err)
{
  char shown[RW_EXCERPT], hint[160], text[160];
  rw_text_excerpt(header, strlen(header), shown);
  char bare[64];
  bare_name(header, bare);
  rwi_log_nearest(bare, keys, COLS, "words of your own go under \"note\"", hint, sizeof hint);
  if (!r->o.keep_good)
    return rw_error_set(err, RW_ERR_NAME, "rw_log_parse", name, hint,
                        "%.100s: a log has no column \"%s\"", name, shown);
  snprintf(text, sizeof text, "the column \"%s\" is not known and was not read", shown);
  return rwi_log_note_add(r->log, 0, RW_OK, hint, text)
             ? RW_OK
             : rw_error_set(err, RW_ERR_MEMORY, "rw_log_parse", name, NULL,
                            "not enough memory to read the log");
}

static rw_status take(rwi_log_reader *r, size_t index, int column, const char *name, rw_error *err)
{
  rw_log *l = r->log;
  rw_column c = {.index = index, .factor = 1};
  if (l->has[column])
    return rw_error_set(err, RW_ERR_NAME, "rw_log_parse", name,
                        "give every column a name of its own",
                        "%.100s: two columns are named \"%s\"", name, keys[column]);
  if (rwi_log_column_unit(column) != NULL) {
    rw_status status =
        rw_column_find(l->table, keys[column], rwi_log_column_unit(column), &c, err);
    if (status != RW_OK)
      return in_file(name, status, err);
  }
  c.index = index;
  l->has[column] = 1;
  l->col[column] = c;
  return RW_OK;
}

rw_status rwi_log_columns(rwi_log_reader *r, const char *name, rw_error *err)
{
  rw_log *l = r->log;
  for (size_t i = 0; i < rw_table_columns(l->table); i++) {
    const char *header = rw_table_header(l->table, i);
    char bare[64];
    bare_name(header, bare);
    int column = column_of(bare);
    rw_status status = column < 0 ? unknown(r, header, name, err) : take(r, i, column, name, err);
    if (status != RW_OK)
      return status;
  }
  if (l->has[COL_ROW])
    return RW_OK;
  return rw_error_set(err, RW_ERR_NAME, "rw_log_parse", name,
                      "name one column \"row\"; it says batch, event, reading or clock",
                      "%.100s: the log has no column \"row\"", name);
}

const char *rwi_log_cell(const rw_log *l, size_t row, int column)
{
  return l->has[column] ? rw_table_cell(l->table, row, l->col[column].index, NULL, NULL) : "";
}

long rwi_log_line(const rw_log *l, size_t row)
{
  long line = 0;
  rw_table_cell(l->table, row, 0, &line, NULL);
  return line;
}
