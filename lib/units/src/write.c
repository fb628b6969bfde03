/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writing a quantity for a reader. */
#include "private.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { FULL_DIGITS = 17 };

/* Spans of time: up to `below` seconds in `unit`, split into it and the next smaller one. */
struct span {
  double below;
  double unit;
  double part;
  const char *name;
  const char *part_name;
};

static const struct span spans[] = {
    {60, 1, 1, "s", NULL},
    {3600, 60, 60, "min", NULL},
    {48 * 3600, 3600, 60, "h", "min"},
    {HUGE_VAL, 86400, 3600, "d", "h"},
};

static size_t give(char *buffer, size_t size, const char *text)
{
  return (size_t)snprintf(buffer, size, "%s", text);
}

static int usable_digits(int digits)
{
  return digits < 1 ? 1 : digits > FULL_DIGITS ? FULL_DIGITS : digits;
}

static double rounded(double value, int digits)
{
  char text[40];
  double back = value;
  size_t n = rw_text_round(value, digits, text);
  rw_text_number(text, n, '.', &back, NULL, NULL);
  return back;
}

static int is_time(rw_dim dim)
{
  return rw_dim_same(dim, rw_dim_of("s"));
}

/* The size counts as it will be written, so that no 1000 g stands where 1 kg should. Nothing at
 * all is written in the unit that 1 in SI would be. */
static const char *choose(const struct rwi_choice *choice, double size, int digits)
{
  if (size == 0)
    size = 1;
  for (;; choice++) {
    struct rwi_unit u;
    if (isinf(choice->below))
      return choice->unit;
    if (rwi_unit_parse("", choice->unit, 0, strlen(choice->unit), &u, NULL) == RW_OK &&
        rwi_to_si(rounded(rwi_from_si(size, &u), digits), &u) < choice->below)
      return choice->unit;
  }
}

static void unit_for(const rw_quantity *q, rw_unit_system system, int digits, char *text,
                     size_t size)
{
  if (q->point) {
    give(text, size, system == RW_US ? "degF" : "degC");
    return;
  }
  const struct rwi_usage *usage = rwi_find_usage(q->dim);
  if (usage == NULL) {
    rwi_si_unit(q->dim, text, size);
    return;
  }
  int us = system == RW_US && usage->us[0].unit != NULL;
  give(text, size, choose(us ? usage->us : usage->metric, fabs(q->si), digits));
}

static int digits_before_point(double x)
{
  return x < 1 ? 0 : (int)floor(log10(x)) + 1;
}

/* A number and a unit, the number rounded behind the point. */
static size_t write_rest(double rest, int decimals, const char *name, char *text, size_t size)
{
  char number[40];
  /* In whole last places first: a rest of 0.01 may stand in binary as a little less. */
  double scale = pow(10, decimals), places = floor(rest * scale + 0.5);
  if (places < 1)
    return give(text, size, "");
  rw_text_round(places / scale, (int)floor(log10(places)) + 1, number);
  return (size_t)snprintf(text, size, " %s %s", number, name);
}

static size_t write_time(double si, int digits, char *text, size_t size)
{
  const struct span *s = spans;
  double span = fabs(si), total = rounded(span / s->part, digits);
  while (isfinite(s->below) && total * s->part >= s->below) {
    span = fmax(span, s->below); /* 59.6 s that round to 60 s are a minute */
    s++;
    total = rounded(span / s->part, digits);
  }
  const char *minus = si < 0 ? "-" : "";
  char number[40];
  int before = digits_before_point(total);
  if (s->part_name == NULL || before > digits + 1) {
    rw_text_round(span / s->unit, digits, number);
    return (size_t)snprintf(text, size, "%s%s %s", minus, number, s->name);
  }
  double ratio = s->unit / s->part, whole = floor(total / ratio);
  char rest[64];
  rw_text_round(whole, FULL_DIGITS, number);
  write_rest(total - whole * ratio, digits > before ? digits - before : 0, s->part_name, rest,
             sizeof rest);
  return (size_t)snprintf(text, size, "%s%s %s%s", minus, number, s->name, rest);
}

size_t rw_quantity_write(const rw_quantity *q, rw_unit_system system, int digits, char *buffer,
                         size_t size)
{
  char unit[96], number[40], text[160];
  digits = usable_digits(digits);
  if (is_time(q->dim) && isfinite(q->si)) {
    write_time(q->si, digits, text, sizeof text);
    return give(buffer, size, text);
  }
  unit_for(q, system, digits, unit, sizeof unit);
  struct rwi_unit u;
  if (rwi_unit_parse("rw_quantity_write", unit, 0, strlen(unit), &u, NULL) != RW_OK)
    return give(buffer, size, "?");
  rw_text_round(rwi_from_si(q->si, &u), digits, number);
  int plain = strcmp(unit, "1") == 0;
  snprintf(text, sizeof text, "%s%s%s", number, plain ? "" : " ", plain ? "" : unit);
  return give(buffer, size, text);
}

size_t rw_quantity_unit(const rw_quantity *q, rw_unit_system system, char *buffer, size_t size)
{
  char unit[96];
  unit_for(q, system, FULL_DIGITS, unit, sizeof unit);
  return give(buffer, size, unit);
}
