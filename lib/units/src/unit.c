/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading a unit text. */
#include "private.h"

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

enum { MOST_TERMS = 16, MOST_DEPTH = 4, MOST_POWER = 9, BARE_POWER = 4 };

/* A name with the sum of its powers. */
struct term {
  const struct rwi_name *name;
  int power;
};

struct parser {
  const char *function;
  const char *text;
  size_t from;
  size_t to;
  size_t at;
  rw_error *err;
  struct term term[MOST_TERMS];
  size_t terms;
  int depth;
};

static rw_status product(struct parser *p, int sign);

static rw_status refuse(const struct parser *p, size_t at, const char *hint, const char *what)
{
  char whole[RW_EXCERPT];
  rw_text_excerpt(p->text + p->from, p->to - p->from, whole);
  rw_error_set(p->err, RW_ERR_UNIT, p->function, "unit", hint, "in the unit \"%s\": %s", whole,
               what);
  rw_error_place(p->err, 1, rw_text_column(p->text, at));
  return RW_ERR_UNIT;
}

static int ahead(const struct parser *p, const char *mark)
{
  size_t n = strlen(mark);
  return p->to - p->at >= n && memcmp(p->text + p->at, mark, n) == 0;
}

static int take(struct parser *p, const char *mark)
{
  if (!ahead(p, mark))
    return 0;
  p->at += strlen(mark);
  return 1;
}

static int is_digit(char c)
{
  return c >= '0' && c <= '9';
}

static int digit_at(const struct parser *p, size_t at)
{
  return at < p->to && is_digit(p->text[at]);
}

static int skip_spaces(struct parser *p)
{
  size_t start = p->at;
  while (p->at < p->to && (p->text[p->at] == ' ' || p->text[p->at] == '\t'))
    p->at++;
  return p->at > start;
}

static int ends_name(const struct parser *p)
{
  char c = p->text[p->at];
  return is_digit(c) || (c != '\0' && strchr(" \t*/^()+-.,:;", c) != NULL) ||
         ahead(p, "\xC2\xB7") || ahead(p, "\xC2\xB2") || ahead(p, "\xC2\xB3");
}

static rw_status unknown(const struct parser *p, size_t start)
{
  char shown[RW_EXCERPT], what[RW_EXCERPT + 32], hint[128];
  rw_text_excerpt(p->text + start, p->at - start, shown);
  snprintf(what, sizeof what, "the name \"%s\" is not known", shown);
  rwi_hint(p->text + start, p->at - start, hint, sizeof hint);
  return refuse(p, start, hint, what);
}

static rw_status bad_power(const struct parser *p, size_t start)
{
  return refuse(p, start, "write g/m2 or m^3; parts of a sum stand apart, such as 5 ft 6 in",
                "a power cannot be read: it must be a whole number, 1 to 4 behind the name or up "
                "to 9 behind ^");
}

/* "2", "-2", "^2", "^-2" or a raised 2 or 3 behind a name; 1 where there is none. */
static rw_status power(struct parser *p, int *value)
{
  size_t start = p->at;
  *value = 1;
  if (take(p, "\xC2\xB2"))
    *value = 2;
  else if (take(p, "\xC2\xB3"))
    *value = 3;
  if (p->at > start)
    return RW_OK;
  int hat = take(p, "^");
  int minus = (hat || digit_at(p, p->at + 1)) && take(p, "-");
  if (!hat && !minus && !digit_at(p, p->at))
    return RW_OK;
  if (!digit_at(p, p->at) || digit_at(p, p->at + 1))
    return bad_power(p, start);
  int digit = p->text[p->at++] - '0';
  if (digit == 0 || (!hat && digit > BARE_POWER))
    return bad_power(p, start);
  *value = minus ? -digit : digit;
  return RW_OK;
}

static rw_status add_term(struct parser *p, const struct rwi_name *name, int exponent,
                          size_t start)
{
  size_t i = 0;
  while (i < p->terms && p->term[i].name != name)
    i++;
  if (i == MOST_TERMS)
    return refuse(p, start, "shorten it", "too many names are joined");
  if (i == p->terms)
    p->term[p->terms++] = (struct term){name, 0};
  p->term[i].power += exponent;
  if (p->term[i].power < -MOST_POWER || p->term[i].power > MOST_POWER)
    return refuse(p, start, "powers reach from -9 to 9", "a power is too high");
  return RW_OK;
}

static rw_status group(struct parser *p, int sign)
{
  size_t start = p->at++;
  if (++p->depth > MOST_DEPTH)
    return refuse(p, start, "write it with fewer brackets", "brackets are nested too deeply");
  rw_status status = product(p, sign);
  if (status != RW_OK)
    return status;
  p->depth--;
  if (!take(p, ")"))
    return refuse(p, start, "close it with )", "a bracket is not closed");
  if (ahead(p, "^") || ahead(p, "\xC2\xB2") || ahead(p, "\xC2\xB3") || digit_at(p, p->at))
    return refuse(p, p->at, "put the power behind each name", "a power stands behind a bracket");
  return RW_OK;
}

static rw_status plain_one(struct parser *p, int sign)
{
  size_t start = p->at++;
  if (digit_at(p, p->at))
    return refuse(p, start, "write the number before the unit; only 1 may stand in it, as in 1/s",
                  "a number stands where a name is needed");
  return add_term(p, rwi_find_name("1", 1), sign, start);
}

static rw_status named(struct parser *p, int sign)
{
  size_t start = p->at;
  while (p->at < p->to && !ends_name(p))
    p->at++;
  if (p->at == start)
    return refuse(p, start, "write it such as g/m2, oz/yd2, J/(kg K) or 1/s",
                  p->at == p->to ? "a name is missing at the end" : "a name is missing");
  const struct rwi_name *name = rwi_find_name(p->text + start, p->at - start);
  if (name == NULL)
    return unknown(p, start);
  int exponent;
  rw_status status = power(p, &exponent);
  return status == RW_OK ? add_term(p, name, sign * exponent, start) : status;
}

static rw_status factor(struct parser *p, int sign)
{
  skip_spaces(p);
  if (ahead(p, "("))
    return group(p, sign);
  return ahead(p, "1") ? plain_one(p, sign) : named(p, sign);
}

/* What follows a '/' by a mere space could stand above or below the line: no guess is made. */
static rw_status joint(struct parser *p, int spaced, int divided)
{
  size_t start = p->at;
  int joined = take(p, "*") || take(p, "\xC2\xB7") || spaced || ahead(p, "(");
  if (!joined)
    return refuse(p, start, "join names by a space, * or /, such as N m or g/m2",
                  "something stands behind a name that does not belong there");
  if (divided)
    return refuse(p, start, "put all that is divided by in brackets: J/(kg K)",
                  "it is not clear what stands below the line");
  return RW_OK;
}

static rw_status product(struct parser *p, int sign)
{
  int divided = 0;
  rw_status status = factor(p, sign);
  while (status == RW_OK) {
    int spaced = skip_spaces(p);
    if (p->at == p->to || ahead(p, ")"))
      return RW_OK;
    int slash = take(p, "/");
    if (!slash)
      status = joint(p, spaced, divided);
    if (status == RW_OK)
      status = factor(p, slash ? -sign : sign);
    divided |= slash;
  }
  return status;
}

static int is_alone(const struct parser *p)
{
  return p->terms == 1 && p->term[0].power == 1;
}

static int is_yard_foot_inch(const struct rwi_name *name)
{
  return name->meaning == rwi_find_name("yd", 2)->meaning ||
         name->meaning == rwi_find_name("ft", 2)->meaning ||
         name->meaning == rwi_find_name("in", 2)->meaning;
}

static rw_status check_ounces(const struct parser *p)
{
  size_t i = 0;
  while (i < p->terms && p->term[i].name->kind != RWI_OUNCE)
    i++;
  if (i == p->terms)
    return RW_OK;
  const struct term *other = &p->term[i == 0 ? 1 : 0];
  if (p->terms == 2 && p->term[i].power == 1 && other->power == -2 &&
      is_yard_foot_inch(other->name))
    return RW_OK;
  return refuse(p, p->from, rwi_ounce_hint, "\"oz\" does not say which ounce is meant");
}

static double raised(double x, int times)
{
  double result = 1;
  while (times-- > 0)
    result *= x;
  return result;
}

static rw_status gather(const struct parser *p, struct rwi_unit *out)
{
  double scale = 1;
  int total[RW_DIM_COUNT] = {0};
  for (size_t i = 0; i < p->terms; i++) {
    const struct term *t = &p->term[i];
    for (int k = 0; k < RW_DIM_COUNT; k++)
      total[k] += t->power * t->name->dim.power[k];
    if (t->power >= 0)
      scale *= raised(t->name->factor, t->power);
    else
      scale /= raised(t->name->factor, -t->power);
  }
  rw_dim dim = {{0}};
  for (int k = 0; k < RW_DIM_COUNT; k++) {
    if (total[k] < -MOST_POWER || total[k] > MOST_POWER)
      return refuse(p, p->from, "powers reach from -9 to 9", "the powers add up too high");
    dim.power[k] = (signed char)total[k];
  }
  if (!(scale >= DBL_MIN && scale <= DBL_MAX))
    return refuse(p, p->from, "shorten it", "the size is too large or too small to compute with");
  int alone = is_alone(p);
  *out = (struct rwi_unit){scale, 0, dim, alone ? p->term[0].name : NULL};
  if (alone && p->term[0].name->kind == RWI_SCALE)
    out->offset = p->term[0].name->offset;
  return RW_OK;
}

rw_status rwi_unit_parse(const char *function, const char *text, size_t from, size_t to,
                         struct rwi_unit *out, rw_error *err)
{
  struct parser p = {
      .function = function, .text = text, .from = from, .to = to, .at = from, .err = err};
  skip_spaces(&p);
  if (p.at == to) {
    rw_error_set(err, RW_ERR_UNIT, function, "unit",
                 "write one, such as g/m2; 1 is a plain number", "a unit is missing");
    rw_error_place(err, 1, rw_text_column(text, from));
    return RW_ERR_UNIT;
  }
  rw_status status = product(&p, 1);
  if (status == RW_OK && p.at < to)
    status =
        refuse(&p, p.at, "take it away or open it first", "a bracket closes that never opened");
  if (status == RW_OK)
    status = check_ounces(&p);
  return status == RW_OK ? gather(&p, out) : status;
}

/* Names such as mm or % are an exact part of the SI unit, which their factor 0.001 or 0.01 is not:
 * dividing by 1000 or 100 rounds once instead of twice. */
static double parts_in_one(double scale)
{
  double parts = scale < 1 ? nearbyint(1 / scale) : 0;
  return parts > 0 && parts < 1e15 && 1 / parts == scale ? parts : 0;
}

double rwi_to_si(double value, const struct rwi_unit *u)
{
  double parts = parts_in_one(u->factor);
  return (parts > 0 ? value / parts : value * u->factor) + u->offset;
}

double rwi_from_si(double si, const struct rwi_unit *u)
{
  double parts = parts_in_one(u->factor), value = si - u->offset;
  return parts > 0 ? value * parts : value / u->factor;
}

rw_status rw_unit_read(const char *text, size_t n, double *scale, double *offset, rw_dim *dim,
                       rw_error *err)
{
  static const char function[] = "rw_unit_read";
  if (text == NULL || scale == NULL || offset == NULL || dim == NULL)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, text == NULL ? "text" : "factor", NULL,
                        "a text to read and places for factor, offset and dimension are needed");
  struct rwi_unit unit;
  rw_status status = rwi_unit_parse(function, text, 0, n, &unit, err);
  if (status != RW_OK)
    return status;
  *scale = unit.factor;
  *offset = unit.offset;
  *dim = unit.dim;
  return RW_OK;
}
