/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <resinwright/text.h>

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { MOST_DIGITS = 17 };

/* digit[0].digit[1]... times ten to the exponent. */
struct decimal {
  char digit[MOST_DIGITS + 1];
  int count;
  int exponent;
  int negative;
};

static void drop_zeros(struct decimal *d)
{
  while (d->count > 1 && d->digit[d->count - 1] == '0')
    d->count--;
}

/* printf rounds correctly; only its decimal mark hangs on the locale, and that is passed over. */
static void split(double value, int digits, struct decimal *d)
{
  char text[64];
  snprintf(text, sizeof text, "%.*e", digits - 1, fabs(value));
  d->negative = signbit(value) != 0;
  d->count = 0;
  const char *c = text;
  for (; *c != 'e'; c++)
    if (*c >= '0' && *c <= '9')
      d->digit[d->count++] = *c;
  int below = c[1] == '-';
  d->exponent = 0;
  for (c += 2; *c != '\0'; c++)
    d->exponent = d->exponent * 10 + (*c - '0');
  if (below)
    d->exponent = -d->exponent;
  drop_zeros(d);
}

static char *zeros(char *to, int count)
{
  while (count-- > 0)
    *to++ = '0';
  return to;
}

static char *plain(const struct decimal *d, char *to)
{
  if (d->exponent < 0) {
    *to++ = '0';
    *to++ = '.';
    to = zeros(to, -d->exponent - 1);
  }
  for (int i = 0; i < d->count; i++) {
    if (i == d->exponent + 1 && i > 0)
      *to++ = '.';
    *to++ = d->digit[i];
  }
  return zeros(to, d->exponent + 1 - d->count);
}

static char *scientific(const struct decimal *d, char *to)
{
  for (int i = 0; i < d->count; i++) {
    if (i == 1)
      *to++ = '.';
    *to++ = d->digit[i];
  }
  *to++ = 'e';
  return to + snprintf(to, 6, "%d", d->exponent % 1000);
}

/* Plain from 1e-5 to 1e(top), both included. */
static size_t lay_out(const struct decimal *d, int top, char *buffer)
{
  char *to = buffer;
  if (d->negative)
    *to++ = '-';
  int is_top = d->exponent == top && d->count == 1 && d->digit[0] == '1';
  int as_plain = d->exponent >= -5 && (d->exponent < top || is_top);
  to = as_plain ? plain(d, to) : scientific(d, to);
  *to = '\0';
  return (size_t)(to - buffer);
}

static int reads_as(const struct decimal *d, double value)
{
  char text[40];
  double back = NAN;
  size_t n = lay_out(d, -5, text);
  return rw_text_number(text, n, '.', &back, NULL, NULL) == RW_OK && back == value;
}

/* One more in the last of the digits. */
static void step_up(struct decimal *d, int digits)
{
  while (d->count < digits)
    d->digit[d->count++] = '0';
  int i = digits - 1;
  while (i >= 0 && d->digit[i] == '9')
    d->digit[i--] = '0';
  if (i >= 0) {
    d->digit[i]++;
  } else {
    d->digit[0] = '1';
    d->exponent++;
  }
  drop_zeros(d);
}

/* Every decimal of up to DBL_DIG digits survives the way through a normal double, so shorter
 * ones appear there with zeros behind. A power of two has a wider gap above than below it: the
 * nearest decimal may miss it where the next one up still hits. */
static void shortest(double value, struct decimal *d)
{
  int exponent;
  int wide_above = frexp(fabs(value), &exponent) == 0.5;
  for (int digits = fabs(value) < DBL_MIN ? 1 : DBL_DIG; digits < MOST_DIGITS; digits++) {
    split(value, digits, d);
    if (reads_as(d, value))
      return;
    if (wide_above) {
      step_up(d, digits);
      if (reads_as(d, value))
        return;
    }
  }
  split(value, MOST_DIGITS, d);
}

static size_t not_finite(double value, char *buffer)
{
  const char *word = isnan(value) ? "nan" : value < 0 ? "-inf" : "inf";
  strcpy(buffer, word);
  return strlen(word);
}

size_t rw_text_write(double value, char buffer[32])
{
  if (!isfinite(value))
    return not_finite(value, buffer);
  struct decimal d;
  shortest(value, &d);
  return lay_out(&d, 15, buffer);
}

size_t rw_text_round(double value, int digits, char buffer[40])
{
  if (!isfinite(value))
    return not_finite(value, buffer);
  if (digits < 1)
    digits = 1;
  if (digits > MOST_DIGITS)
    digits = MOST_DIGITS;
  struct decimal d;
  split(value == 0 ? 0.0 : value, digits, &d);
  return lay_out(&d, 9, buffer);
}
