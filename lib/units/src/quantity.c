/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading a quantity. */
#include "private.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const char function[] = "rw_quantity_read";

enum { WHOLE_DIGITS = 15, HOUR_DIGITS = 6 };

struct reader {
  const char *text;
  size_t n;
  size_t at;
  rw_error *err;
};

/* What the parts read so far come to. */
struct sum {
  double amount; /* of the first part */
  double total;  /* SI, all parts; without sense where the first unit has an offset */
  struct rwi_unit first;
  double smallest; /* factor of the last part's unit */
  int parts;
};

static rw_status refuse(const struct reader *r, rw_status code, size_t at, const char *hint,
                        const char *what)
{
  char whole[RW_EXCERPT];
  rw_text_excerpt(r->text, r->n, whole);
  rw_error_set(r->err, code, function, "text", hint, "in \"%s\": %s", whole, what);
  rw_error_place(r->err, 1, rw_text_column(r->text, at));
  return code;
}

static int is_digit(char c)
{
  return c >= '0' && c <= '9';
}

static int is_space(char c)
{
  return c == ' ' || c == '\t';
}

static int digit_at(const struct reader *r, size_t at)
{
  return at < r->n && is_digit(r->text[at]);
}

static int mark_at(const struct reader *r, size_t at, char mark)
{
  return at < r->n && r->text[at] == mark;
}

static size_t past_digits(const struct reader *r, size_t at)
{
  while (digit_at(r, at))
    at++;
  return at;
}

static size_t past_spaces(const struct reader *r, size_t at)
{
  while (at < r->n && is_space(r->text[at]))
    at++;
  return at;
}

static int take(struct reader *r, const char *mark)
{
  size_t n = strlen(mark);
  if (r->n - r->at < n || memcmp(r->text + r->at, mark, n) != 0)
    return 0;
  r->at += n;
  return 1;
}

/* A whole number where the digits before `end` are known to be few. */
static double whole(const struct reader *r, size_t start, size_t end)
{
  double value = 0;
  for (size_t i = start; i < end; i++)
    value = value * 10 + (r->text[i] - '0');
  return value;
}

static rw_status decimal_comma(const struct reader *r, size_t comma)
{
  char text[RW_EXCERPT], joined[RW_EXCERPT], hint[160];
  size_t end = past_digits(r, comma + 1), at = comma;
  rw_text_excerpt(r->text, r->n, text);
  if (r->n > RW_EXCERPT - sizeof "...") {
    snprintf(hint, sizeof hint, "write the decimal mark as a point and leave out thousands marks");
  } else {
    text[at] = '.';
    snprintf(joined, sizeof joined, "%.*s%s", (int)at, text, text + at + 1);
    if (end - comma == 4)
      snprintf(hint, sizeof hint, "write \"%s\" or \"%s\"", text, joined);
    else
      snprintf(hint, sizeof hint, "write \"%s\"", text);
  }
  return refuse(r, RW_ERR_SYNTAX, comma, hint, "a comma stands in the number");
}

/* The 3/16 or the 3/4 of a mixed number: the numerator starts at r->at. */
static rw_status fraction(struct reader *r, int mixed, double *value)
{
  size_t start = r->at, slash = past_digits(r, start), end = past_digits(r, slash + 1);
  if (slash - start > WHOLE_DIGITS || end - slash - 1 > WHOLE_DIGITS)
    return refuse(r, RW_ERR_SYNTAX, start, "write it as a decimal number",
                  "a fraction has too many digits");
  double above = whole(r, start, slash), below = whole(r, slash + 1, end);
  if (below == 0)
    return refuse(r, RW_ERR_SYNTAX, slash + 1, "write it such as 3/16", "a fraction divides by 0");
  if (mixed && above >= below)
    return refuse(r, RW_ERR_SYNTAX, start, "behind a whole number write less than one, as 1 3/4",
                  "the fraction behind the whole number is one or more");
  r->at = end;
  *value = above / below;
  return RW_OK;
}

/* Digits, a slash and a digit from here: a fraction. */
static int is_fraction(const struct reader *r, size_t at)
{
  size_t slash = past_digits(r, at);
  return slash > at && mark_at(r, slash, '/') && digit_at(r, slash + 1);
}

static rw_status no_number(const struct reader *r)
{
  const char *hint = "write it such as 203 g/m2, 21 degC or 4 h 30 min";
  if (mark_at(r, r->at, '.') || mark_at(r, r->at, ','))
    hint = "write a zero before the decimal mark, such as 0.5 in";
  return refuse(r, RW_ERR_SYNTAX, r->at, hint, "a number is missing");
}

static rw_status decimal(struct reader *r, double *value)
{
  size_t used = 0;
  rw_status status = digit_at(r, r->at)
                         ? rw_text_number(r->text + r->at, r->n - r->at, '.', value, &used, NULL)
                         : RW_ERR_SYNTAX;
  if (status == RW_ERR_RANGE)
    return refuse(r, status, r->at, "check the exponent", "the number is too large");
  if (status != RW_OK)
    return no_number(r);
  r->at += used;
  if (mark_at(r, r->at, ',') && digit_at(r, r->at + 1))
    return decimal_comma(r, r->at);
  if (mark_at(r, r->at, '.') || mark_at(r, r->at, ','))
    return refuse(r, RW_ERR_SYNTAX, r->at, "write one point, digits on both sides of it",
                  "a decimal mark stands where none belongs");
  return RW_OK;
}

static rw_status range_of_values(const struct reader *r)
{
  return refuse(r, RW_ERR_SYNTAX, r->at, "write one value; a mixed number is 1 3/4 or 1-3/4",
                "a second number follows, as in a range");
}

/* "20.5", "3/16", "1 3/4" or "1-3/4". */
static rw_status amount(struct reader *r, double *value)
{
  size_t start = r->at, end = past_digits(r, start);
  if (is_fraction(r, start))
    return fraction(r, 0, value);
  rw_status status = decimal(r, value);
  if (status != RW_OK)
    return status;
  int spaced = r->at < r->n && is_space(r->text[r->at]);
  size_t next = spaced ? past_spaces(r, r->at) : r->at + 1;
  int dash = mark_at(r, r->at, '-');
  if (dash && digit_at(r, next) && !is_fraction(r, next))
    return range_of_values(r);
  if (!(spaced || dash) || !is_fraction(r, next))
    return RW_OK;
  if (r->at != end)
    return refuse(r, RW_ERR_SYNTAX, next, "write a whole number and a fraction, as 1 3/4",
                  "a fraction follows a decimal number");
  double part;
  r->at = next;
  status = fraction(r, 1, &part);
  if (status == RW_OK)
    *value += part;
  return status;
}

/* The unit ends where, behind a space and outside brackets, the next number begins. */
static size_t unit_end(const struct reader *r)
{
  int depth = 0;
  size_t at = r->at;
  for (; at < r->n; at++) {
    depth += r->text[at] == '(';
    depth -= r->text[at] == ')';
    size_t next = past_spaces(r, at);
    if (depth <= 0 && next > at && digit_at(r, next))
      return at;
    if (next > at)
      at = next - 1;
  }
  return r->n;
}

static rw_status bare_number(const struct reader *r)
{
  if (r->at < r->n)
    return refuse(r, RW_ERR_UNIT, r->at, "write a unit behind every number, such as 4 h 30 min",
                  "two numbers follow each other without a unit");
  return refuse(r, RW_ERR_UNIT, r->at,
                "write a unit behind it, such as 203 g/m2; a plain number is given as a number, "
                "not as a text",
                "a unit is missing behind the number");
}

static rw_status unit(struct reader *r, struct rwi_unit *out)
{
  r->at = past_spaces(r, r->at);
  size_t after_one = past_spaces(r, r->at + 1);
  int one_over =
      mark_at(r, r->at, '1') && mark_at(r, after_one, '/') && !digit_at(r, after_one + 1);
  if (r->at == r->n || (digit_at(r, r->at) && !one_over))
    return bare_number(r);
  size_t start = r->at, end = unit_end(r);
  r->at = end;
  return rwi_unit_parse(function, r->text, start, end, out, r->err);
}

static rw_status add_part(const struct reader *r, size_t start, double value,
                          const struct rwi_unit *u, struct sum *s)
{
  if (s->parts > 0 && !rw_dim_same(u->dim, s->first.dim)) {
    char one[64], other[64], what[192];
    rw_dim_name(s->first.dim, one, sizeof one);
    rw_dim_name(u->dim, other, sizeof other);
    snprintf(what, sizeof what, "parts of different kinds are added: %s and %s", one, other);
    return refuse(r, RW_ERR_UNIT, start, "write one quantity at a time", what);
  }
  if (s->parts > 0 && (u->offset != 0 || s->first.offset != 0))
    return refuse(r, RW_ERR_UNIT, start, "write one reading, such as 21 degC",
                  "readings of a temperature scale are added");
  if (s->parts > 0 && u->factor >= s->smallest)
    return refuse(r, RW_ERR_SYNTAX, start, "write the larger unit first, such as 5 ft 6 in",
                  "a part is not smaller in unit than the one before it");
  if (s->parts == 0) {
    s->first = *u;
    s->amount = value;
  }
  s->total += rwi_to_si(value, u);
  s->smallest = u->factor;
  s->parts++;
  return RW_OK;
}

static rw_status read_parts(struct reader *r, struct sum *s)
{
  do {
    double value = 0;
    struct rwi_unit u;
    size_t start = r->at;
    rw_status status = amount(r, &value);
    if (status == RW_OK)
      status = unit(r, &u);
    if (status == RW_OK)
      status = add_part(r, start, value, &u, s);
    if (status != RW_OK)
      return status;
    r->at = past_spaces(r, r->at);
  } while (r->at < r->n);
  return RW_OK;
}

/* Hours before `mark`, two digits of minutes behind it. */
static rw_status clock_span(struct reader *r, size_t mark, struct sum *s)
{
  if (mark - r->at > HOUR_DIGITS)
    return refuse(r, RW_ERR_SYNTAX, r->at, "write it in days", "too many hours to read");
  double minutes = whole(r, mark + 1, mark + 3);
  if (minutes > 59)
    return refuse(r, RW_ERR_SYNTAX, mark + 1, "write 00 to 59 minutes behind the hours",
                  "more than 59 minutes follow the hours");
  s->first = (struct rwi_unit){.factor = 60, .dim = rw_dim_of("s")};
  s->amount = whole(r, r->at, mark) * 60 + minutes;
  s->total = s->amount * 60;
  s->parts = 1;
  r->at = mark + 3;
  return RW_OK;
}

static rw_status bad_span(const struct reader *r, size_t at)
{
  return refuse(r, RW_ERR_SYNTAX, at, "write hours and minutes as 4:30 h, 4h30 or 4 h 30 min",
                "a span of hours and minutes cannot be read");
}

/* "4:30 h" */
static rw_status colon_span(struct reader *r, size_t colon, struct sum *s)
{
  if (past_digits(r, colon + 1) != colon + 3)
    return bad_span(r, colon);
  size_t start = past_spaces(r, colon + 3);
  if (start == r->n)
    return refuse(r, RW_ERR_UNIT, start, "write 4:30 h, 4h30 or 4 h 30 min for a span of time",
                  "a unit is missing behind the hours and minutes");
  struct rwi_unit u;
  rw_status status = rwi_unit_parse(function, r->text, start, r->n, &u, r->err);
  if (status != RW_OK)
    return status;
  if (u.alone == NULL || u.alone->meaning != rwi_find_name("h", 1)->meaning)
    return bad_span(r, start);
  status = clock_span(r, colon, s);
  r->at = r->n;
  return status;
}

/* "4h30" and "4h30min" */
static rw_status letter_span(struct reader *r, size_t letter, struct sum *s)
{
  if (past_digits(r, letter + 1) != letter + 3)
    return bad_span(r, letter);
  rw_status status = clock_span(r, letter, s);
  if (status != RW_OK)
    return status;
  take(r, "min");
  return r->at == r->n ? RW_OK : bad_span(r, r->at);
}

static rw_status read_sum(struct reader *r, struct sum *s)
{
  size_t mark = past_digits(r, r->at);
  if (mark > r->at && mark_at(r, mark, ':'))
    return colon_span(r, mark, s);
  if (mark > r->at && mark_at(r, mark, 'h') && digit_at(r, mark + 1))
    return letter_span(r, mark, s);
  return read_parts(r, s);
}

static int sign(struct reader *r)
{
  int negative = take(r, "-") || take(r, "\xE2\x88\x92");
  if (!negative)
    take(r, "+");
  return negative ? -1 : 1;
}

rw_status rw_quantity_read(const char *text, size_t n, rw_quantity *out, rw_error *err)
{
  if (text == NULL || out == NULL)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, text == NULL ? "text" : "out", NULL,
                        "a text to read and a place for the quantity are needed");
  struct reader r = {text, n, 0, err};
  while (r.n > 0 && is_space(text[r.n - 1]))
    r.n--;
  r.at = past_spaces(&r, 0);
  int direction = sign(&r);
  struct sum s = {.parts = 0};
  rw_status status = read_sum(&r, &s);
  if (status != RW_OK)
    return status;
  double si =
      s.first.offset != 0 ? rwi_to_si(direction * s.amount, &s.first) : direction * s.total;
  if (!isfinite(si))
    return refuse(&r, RW_ERR_RANGE, 0, "check the exponent", "the quantity is too large");
  *out = (rw_quantity){si, s.first.dim, s.first.offset != 0};
  return RW_OK;
}

rw_status rw_quantity_of(double value, const char *name, rw_quantity *out, rw_error *err)
{
  static const char self[] = "rw_quantity_of";
  if (name == NULL || out == NULL)
    return rw_error_set(err, RW_ERR_ARGUMENT, self, name == NULL ? "unit" : "out", NULL,
                        "a unit and a place for the quantity are needed");
  struct rwi_unit u;
  rw_status status = rwi_unit_parse(self, name, 0, strlen(name), &u, err);
  if (status != RW_OK)
    return status;
  *out = (rw_quantity){rwi_to_si(value, &u), u.dim, u.offset != 0};
  return RW_OK;
}

static rw_status other_kind(const rw_quantity *q, const char *asked, rw_dim dim, rw_error *err)
{
  char have[64], want[64], shown[RW_EXCERPT];
  rw_dim_name(q->dim, have, sizeof have);
  rw_dim_name(dim, want, sizeof want);
  rw_text_excerpt(asked, strlen(asked), shown);
  return rw_error_set(
      err, RW_ERR_UNIT, "rw_quantity_in", "unit", "ask for a unit of the same kind",
      "a quantity of the kind \"%s\" cannot be given in \"%s\", which is for \"%s\"", have, shown,
      want);
}

rw_status rw_quantity_in(const rw_quantity *q, const char *asked, double *value, rw_error *err)
{
  static const char self[] = "rw_quantity_in";
  if (q == NULL || asked == NULL || value == NULL)
    return rw_error_set(err, RW_ERR_ARGUMENT, self, q == NULL ? "q" : "unit", NULL,
                        "a quantity, a unit and a place for the number are needed");
  struct rwi_unit u;
  rw_status status = rwi_unit_parse(self, asked, 0, strlen(asked), &u, err);
  if (status != RW_OK)
    return status;
  if (!rw_dim_same(q->dim, u.dim))
    return other_kind(q, asked, u.dim, err);
  if (!q->point && u.offset != 0)
    return rw_error_set(err, RW_ERR_UNIT, self, "unit", "ask for it in K, Cdeg or Fdeg",
                        "a difference of temperature has no place on the scale \"%s\"",
                        u.alone->name);
  int kelvin = u.alone != NULL && u.alone == rwi_find_name("K", 1);
  if (q->point && u.offset == 0 && !kelvin)
    return rw_error_set(err, RW_ERR_UNIT, self, "unit", "ask for it in degC, degF or K",
                        "a reading of a temperature scale cannot be given as a difference");
  *value = rwi_from_si(q->si, &u);
  return RW_OK;
}
