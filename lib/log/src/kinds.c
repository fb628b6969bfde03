/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What kind of row each is, rows that stand twice, and changes of the clock. */
#include "log_inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

static const char *const words[] = {"batch", "event", "reading", "clock"};
enum { WORDS = sizeof words / sizeof *words };

static int is_empty(const rw_log *l, size_t row)
{
  for (size_t c = 0; c < rw_table_columns(l->table); c++)
    if (rw_table_cell(l->table, row, c, NULL, NULL)[0] != '\0')
      return 0;
  return 1;
}

static rwi_log_outcome kind_of(rwi_log_reader *r, size_t row)
{
  const char *cell = rwi_log_cell(r->log, row, COL_ROW);
  for (int i = 0; i < WORDS; i++)
    if (strcasecmp(cell, words[i]) == 0)
      r->kind[row] = (unsigned char)(1 << i);
  if (r->kind[row] != KIND_NONE)
    return GOOD;
  char found[RW_EXCERPT], hint[96];
  rw_text_excerpt(cell, strlen(cell), found);
  rwi_log_nearest(cell, words, WORDS, "write batch, event, reading or clock under \"row\"", hint,
                  sizeof hint);
  if (cell[0] == '\0')
    return rwi_log_fault(r, row, RW_ERR_SYNTAX, hint, "the cell under \"row\" is empty");
  return rwi_log_fault(r, row, RW_ERR_NAME, hint, "\"%s\" is no kind of row", found);
}

static int same_cells(const void *context, size_t a, size_t b)
{
  const rw_log *l = context;
  for (size_t c = 0; c < rw_table_columns(l->table); c++)
    if (strcmp(rw_table_cell(l->table, a, c, NULL, NULL),
               rw_table_cell(l->table, b, c, NULL, NULL)) != 0)
      return 0;
  return 1;
}

static rwi_log_outcome not_doubled(rwi_log_reader *r, rwi_log_set *seen, size_t row)
{
  const rw_log *l = r->log;
  uint64_t hash = 0;
  for (size_t c = 0; c < rw_table_columns(l->table); c++)
    hash = rwi_log_hash(hash, rw_table_cell(l->table, row, c, NULL, NULL));
  size_t first = rwi_log_set_put(seen, hash, row, same_cells, l);
  if (first == row)
    return GOOD;
  return rwi_log_fault(r, row, RW_ERR_SYNTAX, "take one of them out",
                       "the row stands twice: it is the same as line %ld", rwi_log_line(l, first));
}

/* A cell that this kind of row does not use says so, once a row. */
static rwi_log_outcome unused_cell(rwi_log_reader *r, size_t row)
{
  static const unsigned char kinds[] = {
#define RW_X(name, key, header, unit, kinds) kinds,
      RWI_LOG_COLUMNS(RW_X)
#undef RW_X
  };
  for (int c = 0; c < COLS; c++)
    if ((kinds[c] & r->kind[row]) == 0 && rwi_log_cell(r->log, row, c)[0] != '\0')
      return rwi_log_remark(r, rwi_log_line(r->log, row),
                            "give what belongs to another kind of row a row of its own",
                            "what stands under \"%s\" is not used in this kind of row",
                            rwi_log_column_key(c));
  return GOOD;
}

static rwi_log_outcome look_at(rwi_log_reader *r, rwi_log_set *seen, size_t row)
{
  if (is_empty(r->log, row))
    return GOOD;
  rwi_log_outcome outcome = kind_of(r, row);
  if (outcome == GOOD)
    outcome = not_doubled(r, seen, row);
  return outcome == GOOD ? unused_cell(r, row) : outcome;
}

rwi_log_outcome rwi_log_kinds(rwi_log_reader *r)
{
  rwi_log_set seen;
  if (!rwi_log_set_open(&seen, r->rows))
    return NO_MEMORY;
  rwi_log_outcome outcome = GOOD;
  for (size_t row = 0; row < r->rows && outcome != NO_MEMORY; row++)
    outcome = look_at(r, &seen, row);
  rwi_log_set_close(&seen);
  return outcome;
}

size_t rwi_log_rows_of(const rwi_log_reader *r, int kind)
{
  size_t n = 0;
  for (size_t row = 0; row < r->rows; row++)
    n += r->kind[row] == kind;
  return n;
}

/* Most times of a log say for all whether they have an offset, so that one slip spoils one row;
 * the first one where they are even. */
void rwi_log_offset(rwi_log_reader *r)
{
  static const int columns[] = {COL_TIME, COL_ON_HULL, COL_NOT_YET, COL_ALREADY};
  size_t count[2] = {0, 0};
  int first = 0;
  for (size_t row = 0; row < r->rows; row++)
    for (size_t i = 0; r->kind[row] != KIND_NONE && i < 4; i++) {
      const char *cell = rwi_log_cell(r->log, row, columns[i]);
      double t;
      int offset;
      if (rw_text_clock(cell, strlen(cell), &t, &offset, NULL) != RW_OK)
        continue;
      if (count[0] + count[1] == 0)
        first = offset;
      count[offset]++;
    }
  r->log->offset = count[0] == count[1] ? first : count[1] > count[0];
}

enum { MOST_CHANGES = 32 };

static rwi_log_outcome check_change(rwi_log_reader *r, size_t row, double before, double after)
{
  const rw_log *l = r->log;
  if (l->offset == 1)
    return rwi_log_fault(r, row, RW_ERR_SYNTAX, "leave the row out",
                         "a row \"clock\" is not needed where times have an offset");
  double jump = fabs(before - after);
  if (!(jump > 0 && jump <= 3 * 3600))
    return rwi_log_fault(
        r, row, RW_ERR_RANGE,
        "\"time\" is what the clock showed before it was changed, \"set_to\" what "
        "it showed after",
        "a clock is changed by up to 3 h, and not by nothing");
  if (l->changes == MOST_CHANGES)
    return rwi_log_fault(r, row, RW_ERR_RANGE, "split the log",
                         "a log may have %d changes of the clock", (int)MOST_CHANGES);
  for (size_t i = 0; i < l->changes; i++)
    if (fabs(l->change[i].low - before) < 2 * 86400.0)
      return rwi_log_fault(r, row, RW_ERR_ORDER, "take one of them out",
                           "the clock was changed within two days of this already");
  return GOOD;
}

static int by_time(const void *a, const void *b)
{
  const rwi_log_change *left = a, *right = b;
  return (left->low > right->low) - (left->low < right->low);
}

static rwi_log_outcome read_change(rwi_log_reader *r, size_t row)
{
  double before, after;
  rwi_log_outcome outcome = rwi_log_needed(r, row, COL_TIME, "a change of the clock");
  if (outcome == GOOD)
    outcome = rwi_log_needed(r, row, COL_SET_TO, "a change of the clock");
  if (outcome == GOOD)
    outcome = rwi_log_raw_clock(r, row, COL_TIME, &before);
  if (outcome == GOOD)
    outcome = rwi_log_raw_clock(r, row, COL_SET_TO, &after);
  if (outcome == GOOD)
    outcome = check_change(r, row, before, after);
  if (outcome != GOOD)
    return outcome;
  rw_log *l = r->log;
  l->change[l->changes++] =
      (rwi_log_change){fmin(before, after), fmax(before, after), before - after};
  qsort(l->change, l->changes, sizeof *l->change, by_time);
  return GOOD;
}

rwi_log_outcome rwi_log_changes(rwi_log_reader *r)
{
  r->log->change = malloc(MOST_CHANGES * sizeof *r->log->change);
  if (r->log->change == NULL)
    return NO_MEMORY;
  rwi_log_outcome outcome = GOOD;
  for (size_t row = 0; row < r->rows && outcome != NO_MEMORY; row++)
    if (r->kind[row] == KIND_CLOCK)
      outcome = read_change(r, row);
  return outcome;
}
