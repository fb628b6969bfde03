/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <resinwright/base.h>

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static void copy(char *to, size_t size, const char *from)
{
  snprintf(to, size, "%s", from != NULL ? from : "");
}

static void clear(rw_error *err, rw_status code, const char *function, const char *argument,
                  const char *hint)
{
  memset(err, 0, sizeof *err);
  err->code = code;
  err->value = err->low = err->high = NAN;
  copy(err->function, sizeof err->function, function);
  copy(err->argument, sizeof err->argument, argument);
  copy(err->hint, sizeof err->hint, hint);
}

rw_status rw_error_set(rw_error *err, rw_status code, const char *function, const char *argument,
                       const char *hint, const char *format, ...)
{
  if (err == NULL)
    return code;
  clear(err, code, function, argument, hint);
  va_list values;
  va_start(values, format);
  vsnprintf(err->message, sizeof err->message, format, values);
  va_end(values);
  return code;
}

/* Six digits with a point in every locale; the library's own writer stands a floor above. */
static void digits(double x, char *to, size_t size)
{
  snprintf(to, size, "%.6g", x);
  char *comma = strchr(to, ',');
  if (comma != NULL)
    *comma = '.';
}

/* A temperature is read in degrees Celsius, unless it is one that a caller forgot to turn into
 * kelvin; a difference ("K apart") stays one. */
static void with_unit(double x, const char *unit, char *to, size_t size)
{
  char number[32];
  if (strcmp(unit, "K apart") == 0) {
    unit = "K";
  } else if (strcmp(unit, "K") == 0 && x >= 150 && x <= 1000) {
    x -= 273.15;
    unit = "degC";
  }
  digits(x, number, sizeof number);
  snprintf(to, size, "%s%s%s", number, unit[0] != '\0' ? " " : "", unit);
}

rw_status rw_error_range(rw_error *err, const char *function, const char *argument, double value,
                         double low, double high, const char *unit, const char *hint)
{
  if (err == NULL)
    return RW_ERR_RANGE;
  char found[64], least[64], most[64];
  with_unit(value, unit, found, sizeof found);
  with_unit(low, unit, least, sizeof least);
  with_unit(high, unit, most, sizeof most);
  clear(err, RW_ERR_RANGE, function, argument, hint);
  err->value = value;
  err->low = low;
  err->high = high;
  int has_low = isfinite(low), has_high = isfinite(high);
  const char *verb = isnan(value) ? "is not a number" : "is out of range";
  if (has_low && has_high)
    snprintf(err->message, sizeof err->message, "%s %s: found %s, allowed %s to %s", argument,
             verb, found, least, most);
  else if (has_low)
    snprintf(err->message, sizeof err->message, "%s %s: found %s, allowed %s or more", argument,
             verb, found, least);
  else
    snprintf(err->message, sizeof err->message, "%s %s: found %s, allowed at most %s", argument,
             verb, found, most);
  return RW_ERR_RANGE;
}

void rw_error_place(rw_error *err, long line, long column)
{
  if (err == NULL)
    return;
  err->line = line;
  err->column = column;
}
