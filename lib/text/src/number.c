/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <resinwright/text.h>

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A halfway case between two doubles has at most 767 significant digits, so what follows KEPT
 * digits can only say "a little more", and one digit more says that. */
enum { KEPT = 780, EXPONENT_END = 9999 };
#define SATURATED 1000000000000000000LL

static const char function[] = "rw_text_number";

/* digit[0..count) times ten to the shift; more: nonzero digits were left out after them. */
struct mantissa {
  char digit[KEPT + 1];
  size_t count;
  long long shift;
  int more;
};

static int is_digit(char c)
{
  return c >= '0' && c <= '9';
}

static void push(struct mantissa *m, char c)
{
  if (m->count == 0 && c == '0')
    return;
  if (m->count < KEPT) {
    m->digit[m->count++] = c;
    return;
  }
  m->more |= c != '0';
  m->shift++;
}

static size_t read_mantissa(const char *text, size_t n, size_t at, char point, struct mantissa *m)
{
  while (at < n && is_digit(text[at]))
    push(m, text[at++]);
  if (at + 1 >= n || text[at] != point || !is_digit(text[at + 1]))
    return at;
  for (at++; at < n && is_digit(text[at]); at++) {
    push(m, text[at]);
    m->shift--;
  }
  return at;
}

static size_t read_exponent(const char *text, size_t n, size_t at, long long *exponent)
{
  *exponent = 0;
  if (at >= n || (text[at] != 'e' && text[at] != 'E'))
    return at;
  size_t next = at + 1;
  int negative = next < n && text[next] == '-';
  if (next < n && (text[next] == '-' || text[next] == '+'))
    next++;
  if (next >= n || !is_digit(text[next]))
    return at;
  for (; next < n && is_digit(text[next]); next++)
    if (*exponent < SATURATED / 10)
      *exponent = *exponent * 10 + (text[next] - '0');
  if (negative)
    *exponent = -*exponent;
  return next;
}

/* An integer with an exponent holds no decimal mark, so strtod reads it alike in every locale. */
static double value_of(struct mantissa *m, long long exponent)
{
  if (m->count == 0)
    return 0.0;
  if (m->more) {
    m->digit[m->count++] = '1';
    m->shift--;
  }
  long long shift = m->shift + exponent;
  if (shift > EXPONENT_END)
    shift = EXPONENT_END;
  if (shift < -EXPONENT_END)
    shift = -EXPONENT_END;
  char text[KEPT + 32];
  snprintf(text, sizeof text, "%.*se%lld", (int)m->count, m->digit, shift);
  int kept = errno;
  double value = strtod(text, NULL);
  errno = kept;
  return value;
}

static rw_status refuse(rw_error *err, rw_status code, const char *hint, const char *what,
                        const char *text, size_t n, size_t at)
{
  char found[RW_EXCERPT];
  rw_text_excerpt(text + at, n - at, found);
  if (at < n)
    rw_error_set(err, code, function, "text", hint, "%s: found \"%s\"", what, found);
  else
    rw_error_set(err, code, function, "text", hint, "%s: found nothing", what);
  rw_error_place(err, 1, (long)at + 1);
  return code;
}

static rw_status no_number(const char *text, size_t n, size_t at, char point, rw_error *err)
{
  const char *hint =
      point == ',' ? "write digits, such as 21 or 20,5" : "write digits, such as 21 or 20.5";
  if (at < n && (text[at] == '.' || text[at] == ','))
    hint = point == ',' ? "write a zero before the decimal mark, such as 0,5"
                        : "write a zero before the decimal mark, such as 0.5";
  return refuse(err, RW_ERR_SYNTAX, hint, "a number is missing", text, n, at);
}

static rw_status more_follows(const char *text, size_t n, size_t at, char point, rw_error *err)
{
  const char *hint = "let only the number stand there";
  if (text[at] == '.' || text[at] == ',')
    hint = point == ','
               ? "the decimal mark here is a comma, digits on both sides, no thousands marks"
               : "the decimal mark here is a point, digits on both sides, no thousands marks";
  return refuse(err, RW_ERR_SYNTAX, hint, "something follows the number", text, n, at);
}

rw_status rw_text_number(const char *text, size_t n, char point, double *value, size_t *used,
                         rw_error *err)
{
  if (text == NULL || value == NULL)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, text == NULL ? "text" : "value", NULL,
                        "a text to read and a place for the number are needed");
  if (point != '.' && point != ',')
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "point", NULL,
                        "the decimal mark must be a point or a comma");
  size_t start = n > 0 && (text[0] == '-' || text[0] == '+') ? 1 : 0;
  if (start >= n || !is_digit(text[start]))
    return no_number(text, n, start, point, err);
  struct mantissa m = {.count = 0};
  long long exponent;
  size_t at = read_mantissa(text, n, start, point, &m);
  at = read_exponent(text, n, at, &exponent);
  if (used == NULL && at < n)
    return more_follows(text, n, at, point, err);
  double size = value_of(&m, exponent);
  if (isinf(size))
    return refuse(err, RW_ERR_RANGE, "the largest number is about 1.8e308",
                  "the number is too large to compute with", text, at, 0);
  *value = text[0] == '-' ? -size : size;
  if (used != NULL)
    *used = at;
  return RW_OK;
}
