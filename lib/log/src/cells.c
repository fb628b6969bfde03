/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One cell of a row: a time, a mass, a temperature, a word. */
#include "log_inside.h"

#include <math.h>
#include <stdio.h>
#include <string.h>
#include <strings.h>

/* A shop warmer than this was read in Fahrenheit; the coldest frost; what a history takes. */
static const double WARMEST = 45 + 273.15, COLDEST = 273.15 - 45, LEAST = 200, MOST = 500;
static const double LARGEST_BATCH = 50; /* kg by hand: common practice, no source */

double rwi_log_on_wall(const rw_log *l, double t)
{
  double shift = 0;
  for (size_t i = 0; i < l->changes; i++) {
    const rwi_log_change *c = &l->change[i];
    if (t - shift >= (c->shift > 0 ? c->high : c->low))
      shift += c->shift;
  }
  return t - shift;
}

void rwi_log_clock(double t, const char *after, char text[32])
{
  char minute[20];
  double start = floor(t / 60) * 60;
  rw_text_clock_write(start, minute);
  int second = (int)fmin(59, floor(t - start + 0.5));
  if (second > 0)
    snprintf(text, 32, "%s:%02d%s", minute, second, after);
  else
    snprintf(text, 32, "%s%s", minute, after);
}

void rwi_log_say(const rw_log *l, double t, char text[32])
{
  rwi_log_clock(rwi_log_on_wall(l, t), l->offset ? "Z" : "", text);
}

rwi_log_outcome rwi_log_needed(rwi_log_reader *r, size_t row, int column, const char *kind)
{
  if (rwi_log_cell(r->log, row, column)[0] != '\0')
    return GOOD;
  char hint[96];
  snprintf(hint, sizeof hint, "fill in \"%s\" or leave the row out", rwi_log_column_key(column));
  return rwi_log_fault(r, row, RW_ERR_SYNTAX, hint, "%s needs \"%s\", which is empty", kind,
                       rwi_log_column_key(column));
}

static rwi_log_outcome bad_clock(rwi_log_reader *r, size_t row, int column, rw_status status,
                                 const rw_error *err)
{
  const char *cell = rwi_log_cell(r->log, row, column);
  char found[RW_EXCERPT];
  rw_text_excerpt(cell, strlen(cell), found);
  if (strchr(cell, ':') != NULL && strchr(cell, '-') == NULL)
    return rwi_log_fault(r, row, RW_ERR_SYNTAX,
                         "write the date too, such as 2026-10-03 23:30; after midnight it is the "
                         "next day's",
                         "the time \"%s\" under \"%s\" has no date", found,
                         rwi_log_column_key(column));
  return rwi_log_fault(r, row, status, err->hint, "under \"%s\": \"%s\" cannot be a time: %.140s",
                       rwi_log_column_key(column), found, err->message);
}

static rwi_log_outcome same_offset(rwi_log_reader *r, size_t row, int column, int offset)
{
  if (r->log->offset == offset)
    return GOOD;
  return rwi_log_fault(r, row, RW_ERR_SYNTAX,
                       "write the offset, such as +02:00, with every time of the log or with none",
                       offset ? "the time under \"%s\" has an offset from universal time, most "
                                "times of the log have none"
                              : "the time under \"%s\" has no offset from universal time, most "
                                "times of the log have one",
                       rwi_log_column_key(column));
}

static rwi_log_outcome any_clock(rwi_log_reader *r, size_t row, int column, double *t)
{
  const char *cell = rwi_log_cell(r->log, row, column);
  rw_error err;
  int offset;
  rw_status status = rw_text_clock(cell, strlen(cell), t, &offset, &err);
  return status != RW_OK ? bad_clock(r, row, column, status, &err)
                         : same_offset(r, row, column, offset);
}

static int has_hour(const char *cell)
{
  return strlen(cell) > 10 && (cell[10] == ' ' || cell[10] == 'T');
}

rwi_log_outcome rwi_log_raw_clock(rwi_log_reader *r, size_t row, int column, double *t)
{
  rwi_log_outcome outcome = any_clock(r, row, column, t);
  if (outcome == GOOD && !has_hour(rwi_log_cell(r->log, row, column)))
    return rwi_log_fault(r, row, RW_ERR_SYNTAX, "write the hour too, such as 2026-10-03 15:30",
                         "under \"%s\" stands a date without the time of day",
                         rwi_log_column_key(column));
  return outcome;
}

/* Onto the clock as it ran when the log began. */
static rwi_log_outcome unchanged_clock(rwi_log_reader *r, size_t row, int column, double *t)
{
  double shift = 0;
  for (size_t i = 0; i < r->log->changes; i++) {
    const rwi_log_change *c = &r->log->change[i];
    if (*t >= c->high) {
      shift += c->shift;
    } else if (*t >= c->low) {
      char found[32];
      rwi_log_clock(*t, "", found);
      return rwi_log_fault(
          r, row, RW_ERR_RANGE,
          c->shift > 0 ? "leave the row out, or write offsets with all times of the log"
                       : "read the clock again: this time was jumped over",
          c->shift > 0 ? "%s under \"%s\" came twice, since the clock was put back"
                       : "%s under \"%s\" never came, since the clock was put forward",
          found, rwi_log_column_key(column));
    }
  }
  *t += shift;
  return GOOD;
}

rwi_log_outcome rwi_log_moment(rwi_log_reader *r, size_t row, int column, double *t)
{
  *t = NAN;
  if (rwi_log_cell(r->log, row, column)[0] == '\0')
    return GOOD;
  rwi_log_outcome outcome = rwi_log_raw_clock(r, row, column, t);
  return outcome == GOOD ? unchanged_clock(r, row, column, t) : outcome;
}

rwi_log_outcome rwi_log_day(rwi_log_reader *r, size_t row, double *t)
{
  rwi_log_outcome outcome = any_clock(r, row, COL_TIME, t);
  if (outcome != GOOD)
    return outcome;
  if (has_hour(rwi_log_cell(r->log, row, COL_TIME)))
    return rwi_log_fault(r, row, RW_ERR_SYNTAX,
                         "write the date alone; a reading of one moment stands under \"air\"",
                         "a low and a high belong to a whole day, here stands a time of day");
  for (size_t i = 0; i < r->log->changes; i++)
    if (*t >= r->log->change[i].high)
      *t += r->log->change[i].shift;
  return GOOD;
}

/* A number in SI; NaN where the cell is empty. */
static rwi_log_outcome number(rwi_log_reader *r, size_t row, int column, double *value)
{
  *value = NAN;
  if (rwi_log_cell(r->log, row, column)[0] == '\0')
    return GOOD;
  rw_error err;
  rw_status status = rw_column_number(r->log->table, row, &r->log->col[column], value, &err);
  return status == RW_OK ? GOOD
                         : rwi_log_fault(r, row, status, err.hint, "%s", rwi_log_said(&err));
}

rwi_log_outcome rwi_log_mass(rwi_log_reader *r, size_t row, int column, double *kg)
{
  rwi_log_outcome outcome = number(r, row, column, kg);
  if (outcome != GOOD || isnan(*kg) || (*kg > 0 && *kg <= LARGEST_BATCH))
    return outcome;
  char found[40];
  rw_text_round(*kg, 4, found);
  return rwi_log_fault(r, row, RW_ERR_RANGE,
                       "look whether the unit in the header is the one that was weighed in",
                       "under \"%s\" stand %s kg; above 0 and up to 50 kg are allowed",
                       rwi_log_column_key(column), found);
}

static rwi_log_outcome bad_temperature(rwi_log_reader *r, size_t row, int column, double T)
{
  const rw_column *c = &r->log->col[column];
  int celsius = c->offset != 0 && c->factor == 1;
  char found[40];
  rw_text_round((T - c->offset) / c->factor, 4, found);
  if (T > WARMEST && celsius && !r->o.as_read)
    return rwi_log_fault(r, row, RW_ERR_RANGE,
                         "write it in Celsius; if it was really that hot, ask to take the log as "
                         "read",
                         "%s %s under \"%s\" looks like a reading in degF", found, c->unit,
                         rwi_log_column_key(column));
  return rwi_log_fault(r, row, RW_ERR_RANGE,
                       "look whether the unit in the header is the thermometer's",
                       "%s %s under \"%s\" is no temperature of a shop", found, c->unit,
                       rwi_log_column_key(column));
}

rwi_log_outcome rwi_log_temperature(rwi_log_reader *r, size_t row, int column, double *T)
{
  rwi_log_outcome outcome = number(r, row, column, T);
  double least = r->o.as_read ? LEAST : COLDEST, most = r->o.as_read ? MOST : WARMEST;
  if (outcome != GOOD || isnan(*T) || (*T >= least && *T <= most))
    return outcome;
  return bad_temperature(r, row, column, *T);
}

rwi_log_outcome rwi_log_humidity(rwi_log_reader *r, size_t row, double *humidity)
{
  rwi_log_outcome outcome = number(r, row, COL_HUMIDITY, humidity);
  if (outcome != GOOD || isnan(*humidity) || (*humidity >= 0 && *humidity <= 1))
    return outcome;
  char found[40];
  rw_text_round(100 * *humidity, 4, found);
  return rwi_log_fault(r, row, RW_ERR_RANGE,
                       "for readings such as 65 the header must say humidity [%]",
                       "the humidity is %s %%; 0 to 100 %% are allowed", found);
}

rwi_log_outcome rwi_log_form(rwi_log_reader *r, size_t row, rw_log_form unless, rw_log_form *form)
{
  const char *cell = rwi_log_cell(r->log, row, COL_FORM);
  *form = unless;
  if (cell[0] == '\0')
    return GOOD;
  if (strcasecmp(cell, "film") == 0 || strcasecmp(cell, "cup") == 0) {
    *form = strcasecmp(cell, "cup") == 0 ? RW_LOG_CUP : RW_LOG_FILM;
    return GOOD;
  }
  char found[RW_EXCERPT];
  rw_text_excerpt(cell, strlen(cell), found);
  return rwi_log_fault(r, row, RW_ERR_NAME, "write film, or cup for what stayed in the cup",
                       "under \"form\" stands \"%s\"", found);
}
