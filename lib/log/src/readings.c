/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows about temperature and humidity. */
#include "log_inside.h"

#include <math.h>
#include <stdlib.h>

static const double FREEZES = 273.15;

/* What a reading may be the only one to tell at its time. */
enum { AIR, HULL, DAY, KINDS };

/* Whether a Fahrenheit column stays below freezing throughout, which looks like Celsius. */
static int all_freezing(const rwi_log_reader *r, int column)
{
  const rw_column *c = &r->log->col[column];
  int any = 0;
  if (r->o.as_read || !r->log->has[column] || c->offset == 0 || c->factor == 1)
    return 0;
  for (size_t row = 0; row < r->rows; row++) {
    double T;
    if (r->kind[row] != KIND_READING || rwi_log_cell(r->log, row, column)[0] == '\0' ||
        rw_column_number(r->log->table, row, c, &T, NULL) != RW_OK)
      continue;
    if (T >= FREEZES)
      return 0;
    any = 1;
  }
  return any;
}

static rwi_log_outcome temperature(rwi_log_reader *r, size_t row, int column, int freezing,
                                   double *T)
{
  rwi_log_outcome outcome = rwi_log_temperature(r, row, column, T);
  if (outcome != GOOD || isnan(*T) || !freezing)
    return outcome;
  return rwi_log_fault(r, row, RW_ERR_RANGE,
                       "write the header in degC; if it really froze all the time, ask to take "
                       "the log as read",
                       "all readings under \"%s\" lie below freezing in degF, which looks like "
                       "degC",
                       rwi_log_column_key(column));
}

static rwi_log_outcome check_day(rwi_log_reader *r, size_t row, rw_log_reading *a)
{
  if (isnan(a->low) || isnan(a->high))
    return rwi_log_fault(r, row, RW_ERR_SYNTAX, "fill in both, or leave the row out",
                         "a day's low and high belong together, one is empty");
  if (!isnan(a->air) || !isnan(a->hull) || !isnan(a->humidity))
    return rwi_log_fault(r, row, RW_ERR_SYNTAX, "give each a row of its own",
                         "a day's low and high stand in one row with a reading of one moment");
  if (a->low > a->high)
    return rwi_log_fault(r, row, RW_ERR_RANGE, "are they swapped?",
                         "the low of the day is above its high");
  return rwi_log_day(r, row, &a->time);
}

static rwi_log_outcome check_moment(rwi_log_reader *r, size_t row, rw_log_reading *a)
{
  if (isnan(a->air) && isnan(a->hull) && isnan(a->humidity))
    return rwi_log_fault(r, row, RW_ERR_SYNTAX,
                         "write what was read under \"air\" or \"hull\", or the day's \"low\" and "
                         "\"high\"",
                         "the reading has no temperature");
  if (isnan(a->air) && !isnan(a->humidity))
    return rwi_log_fault(r, row, RW_ERR_SYNTAX, "write the air's temperature into the same row",
                         "a humidity says nothing without the air's temperature");
  return rwi_log_moment(r, row, COL_TIME, &a->time);
}

static int same_reading(const void *context, size_t a, size_t b)
{
  const rw_log_reading *list = context;
  return a % KINDS == b % KINDS && list[a / KINDS].time == list[b / KINDS].time;
}

/* The reading that tells the same at the same time; i itself where there is none. */
static size_t told(const rw_log *l, rwi_log_set *seen, size_t i)
{
  const rw_log_reading *a = &l->reading[i];
  const int tells[KINDS] = {!isnan(a->air), !isnan(a->hull), !isnan(a->low)};
  for (size_t k = 0; k < KINDS; k++) {
    if (!tells[k])
      continue;
    size_t key = i * KINDS + k;
    size_t first =
        rwi_log_set_put(seen, rwi_log_hash_number(k, a->time), key, same_reading, l->reading);
    if (first != key)
      return first / KINDS;
  }
  return i;
}

static rwi_log_outcome only_one(rwi_log_reader *r, rwi_log_set *seen, size_t row)
{
  rw_log *l = r->log;
  size_t first = told(l, seen, l->readings);
  if (first == l->readings)
    return GOOD;
  return rwi_log_fault(r, row, RW_ERR_ORDER,
                       "take one of them out; if the clock was put back, write offsets with all "
                       "times or a row \"clock\"",
                       "line %ld has a reading of the same time already", l->reading[first].line);
}

static rwi_log_outcome read_reading(rwi_log_reader *r, rwi_log_set *seen, size_t row,
                                    const int freezing[COLS])
{
  rw_log *l = r->log;
  rw_log_reading *a = &l->reading[l->readings];
  *a = (rw_log_reading){.line = rwi_log_line(l, row)};
  rwi_log_outcome outcome = rwi_log_needed(r, row, COL_TIME, "a reading");
  if (outcome == GOOD)
    outcome = temperature(r, row, COL_AIR, freezing[COL_AIR], &a->air);
  if (outcome == GOOD)
    outcome = temperature(r, row, COL_HULL, freezing[COL_HULL], &a->hull);
  if (outcome == GOOD)
    outcome = temperature(r, row, COL_LOW, freezing[COL_LOW], &a->low);
  if (outcome == GOOD)
    outcome = temperature(r, row, COL_HIGH, freezing[COL_HIGH], &a->high);
  if (outcome == GOOD)
    outcome = rwi_log_humidity(r, row, &a->humidity);
  if (outcome == GOOD)
    outcome = isnan(a->low) && isnan(a->high) ? check_moment(r, row, a) : check_day(r, row, a);
  if (outcome == GOOD)
    outcome = only_one(r, seen, row);
  if (outcome == GOOD)
    l->readings++;
  return outcome;
}

static int by_time(const void *a, const void *b)
{
  const rw_log_reading *left = a, *right = b;
  if (left->time != right->time)
    return left->time < right->time ? -1 : 1;
  return (left->line > right->line) - (left->line < right->line);
}

/* Days that begin within half a day of each other, which offsets from universal time can do. */
static rwi_log_outcome drop_close_days(rw_log *l)
{
  double last = -HUGE_VAL;
  size_t kept = 0;
  for (size_t i = 0; i < l->readings; i++) {
    rw_log_reading a = l->reading[i];
    int close = !isnan(a.low) && a.time < last + 43200;
    if (close && !rwi_log_note_add(l, a.line, RW_ERR_ORDER,
                                   "give each day one row, all with the "
                                   "offset of one place",
                                   "another day with a low and a high begins within 12 h of it"))
      return NO_MEMORY;
    if (close)
      continue;
    if (!isnan(a.low))
      last = a.time;
    l->reading[kept++] = a;
  }
  l->readings = kept;
  return GOOD;
}

rwi_log_outcome rwi_log_read_readings(rwi_log_reader *r)
{
  rw_log *l = r->log;
  size_t n = rwi_log_rows_of(r, KIND_READING);
  rwi_log_set seen;
  l->reading = malloc((n + 1) * sizeof *l->reading);
  if (l->reading == NULL || !rwi_log_set_open(&seen, KINDS * n))
    return NO_MEMORY;
  int freezing[COLS] = {0};
  for (int c = COL_AIR; c <= COL_HIGH; c++)
    freezing[c] = all_freezing(r, c);
  rwi_log_outcome outcome = GOOD;
  for (size_t row = 0; row < r->rows && outcome != NO_MEMORY; row++)
    if (r->kind[row] == KIND_READING)
      outcome = read_reading(r, &seen, row, freezing);
  rwi_log_set_close(&seen);
  qsort(l->reading, l->readings, sizeof *l->reading, by_time);
  return outcome == NO_MEMORY ? outcome : drop_close_days(l);
}
