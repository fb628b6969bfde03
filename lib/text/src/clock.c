/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <resinwright/text.h>

#include <math.h>
#include <string.h>

static const char function[] = "rw_text_clock";

enum { DAY = 86400, DAY_MINUTES = 1440, EPOCH_DAY = 719162, MOST_OFFSET = 14 * 60 };

static int is_leap(int year)
{
  return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
}

static int month_days(int year, int month)
{
  static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  return days[month - 1] + (month == 2 && is_leap(year));
}

/* Days from 0001-01-01 to the first of January of a year. */
static long year_start(int year)
{
  long past = year - 1;
  return 365 * past + past / 4 - past / 100 + past / 400;
}

/* Days from 1970-01-01. */
static long day_number(int year, int month, int day)
{
  long n = year_start(year) + day - 1;
  for (int m = 1; m < month; m++)
    n += month_days(year, m);
  return n - EPOCH_DAY;
}

struct reader {
  const char *text;
  size_t n;
  size_t at;
  rw_error *err;
};

static rw_status wrong_form(const struct reader *r)
{
  char found[RW_EXCERPT];
  rw_text_excerpt(r->text, r->n, found);
  rw_error_set(r->err, RW_ERR_SYNTAX, function, "text",
               "write it such as 2026-10-03 15:30, or 2026-10-03 15:30:20+02:00",
               "a date or clock time cannot be read: found \"%s\"", found);
  rw_error_place(r->err, 1, rw_text_column(r->text, r->at));
  return RW_ERR_SYNTAX;
}

static rw_status not_there(const struct reader *r, size_t start, const char *what, int value,
                           int low, int high)
{
  rw_error_range(r->err, function, what, value, low, high, "",
                 "check the date and the clock time");
  rw_error_place(r->err, 1, rw_text_column(r->text, start));
  return RW_ERR_RANGE;
}

static int take(struct reader *r, char mark)
{
  if (r->at >= r->n || r->text[r->at] != mark)
    return 0;
  r->at++;
  return 1;
}

/* Exactly `digits` digits, then a look at the bounds. */
static rw_status field(struct reader *r, int digits, const char *what, int low, int high,
                       int *value)
{
  size_t start = r->at;
  *value = 0;
  for (int i = 0; i < digits; i++, r->at++) {
    if (r->at >= r->n || r->text[r->at] < '0' || r->text[r->at] > '9')
      return wrong_form(r);
    *value = *value * 10 + (r->text[r->at] - '0');
  }
  if (*value < low || *value > high)
    return not_there(r, start, what, *value, low, high);
  return RW_OK;
}

static rw_status read_date(struct reader *r, double *seconds)
{
  int year, month, day;
  rw_status status = field(r, 4, "year", 1, 9999, &year);
  if (status == RW_OK && !take(r, '-'))
    status = wrong_form(r);
  if (status == RW_OK)
    status = field(r, 2, "month", 1, 12, &month);
  if (status == RW_OK && !take(r, '-'))
    status = wrong_form(r);
  if (status == RW_OK)
    status = field(r, 2, "day of the month", 1, month_days(year, month), &day);
  if (status == RW_OK)
    *seconds = (double)day_number(year, month, day) * DAY;
  return status;
}

static rw_status read_time(struct reader *r, double *seconds)
{
  int hour, minute, second = 0;
  rw_status status = field(r, 2, "hour", 0, 23, &hour);
  if (status == RW_OK && !take(r, ':'))
    status = wrong_form(r);
  if (status == RW_OK)
    status = field(r, 2, "minute", 0, 59, &minute);
  if (status == RW_OK && take(r, ':'))
    status = field(r, 2, "second", 0, 59, &second);
  if (status == RW_OK)
    *seconds += hour * 3600 + minute * 60 + second;
  return status;
}

static rw_status read_offset(struct reader *r, double *seconds)
{
  size_t start = r->at;
  int sign = r->text[r->at++] == '-' ? -1 : 1;
  int hour, minute;
  rw_status status = field(r, 2, "hours of the offset", 0, MOST_OFFSET / 60, &hour);
  if (status == RW_OK && !take(r, ':'))
    status = wrong_form(r);
  if (status == RW_OK)
    status = field(r, 2, "minutes of the offset", 0, 59, &minute);
  if (status != RW_OK)
    return status;
  int offset = hour * 60 + minute;
  if (offset > MOST_OFFSET)
    return not_there(r, start, "offset in minutes", offset, 0, MOST_OFFSET);
  *seconds -= sign * offset * 60;
  return RW_OK;
}

static int at_mark(const struct reader *r, const char *marks)
{
  return r->at < r->n && r->text[r->at] != '\0' && strchr(marks, r->text[r->at]) != NULL;
}

rw_status rw_text_clock(const char *text, size_t n, double *seconds, int *has_offset,
                        rw_error *err)
{
  if (text == NULL || seconds == NULL)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, text == NULL ? "text" : "seconds", NULL,
                        "a text to read and a place for the seconds are needed");
  struct reader r = {text, n, 0, err};
  double total = 0;
  int offset = 0;
  rw_status status = read_date(&r, &total);
  if (status == RW_OK && at_mark(&r, " T")) {
    r.at++;
    status = read_time(&r, &total);
  }
  if (status == RW_OK && at_mark(&r, "+-")) {
    offset = 1;
    status = read_offset(&r, &total);
  } else if (status == RW_OK && take(&r, 'Z')) {
    offset = 1;
  }
  if (status == RW_OK && r.at < n)
    status = wrong_form(&r);
  if (status != RW_OK)
    return status;
  *seconds = total;
  if (has_offset != NULL)
    *has_offset = offset;
  return RW_OK;
}

static char *put(char *to, int value, int digits, char mark)
{
  for (int i = digits - 1; i >= 0; i--, value /= 10)
    to[i] = (char)('0' + value % 10);
  to[digits] = mark;
  return to + digits + 1;
}

size_t rw_text_clock_write(double seconds, char buffer[20])
{
  double minutes = floor(seconds / 60 + 0.5);
  double first = -(double)EPOCH_DAY * DAY_MINUTES;
  double end = (double)(year_start(10000) - EPOCH_DAY) * DAY_MINUTES;
  if (!(minutes >= first && minutes < end)) {
    strcpy(buffer, "?");
    return 1;
  }
  long long past = (long long)(minutes - first);
  long days = (long)(past / DAY_MINUTES);
  int rest = (int)(past % DAY_MINUTES);
  int year = (int)(days / 366) + 1;
  while (year_start(year + 1) <= days)
    year++;
  int day = (int)(days - year_start(year));
  int month = 1;
  for (; day >= month_days(year, month); month++)
    day -= month_days(year, month);
  char *to = put(buffer, year, 4, '-');
  to = put(to, month, 2, '-');
  to = put(to, day + 1, 2, ' ');
  to = put(to, rest / 60, 2, ':');
  to = put(to, rest % 60, 2, '\0');
  return (size_t)(to - buffer) - 1;
}
