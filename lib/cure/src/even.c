/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "even.h"

#include <math.h>

static const double TOLERANCE = 1e-10, COMPLETE = 1e-9, LEAST_SPAN = 1, MOST_SPAN = 1e11;

rw_status even_bounds(const char *function, const char *argument, double value, double low,
                      double high, const char *unit, rw_error *err)
{
  if (value >= low && value <= high)
    return RW_OK;
  return rw_error_range(err, function, argument, value, low, high, unit, NULL);
}

rw_status even_span(const char *function, double span, rw_error *err)
{
  return even_bounds(function, "span", span, LEAST_SPAN, MOST_SPAN, "s", err);
}

/* Follows the cure for a while. */
static rw_status follow(const rw_cure_law *law, const double T[2], double span, double start,
                        even_cure *out, rw_error *err)
{
  double time[2] = {0, span};
  rw_history *h = NULL;
  rw_status made = rw_history_create(time, T, NULL, 2, &h, err);
  if (made < 0)
    return made;
  out->path = NULL;
  out->end = span;
  rw_status status = rw_cure_run(law, h, 0, span, start, TOLERANCE, &out->path, err);
  rw_history_destroy(h);
  if (status < 0)
    return status;
  rw_cure_at(out->path, span, &out->top, NULL, NULL, NULL);
  if (status == RW_OK && made == RW_OUTSIDE_TESTED)
    status = rw_error_set(err, RW_OUTSIDE_TESTED, "rw_history_create", "temperature", NULL,
                          "cures above 126 degC are computed, but were not tested");
  return status;
}

/* A while in which something happens: the reaction at its fastest, or 5 K of heating. */
static double first_while(const rw_cure_law *law, double T0, double heating, double start)
{
  enum { PLACES = 16 };
  double fastest = 0, top = rw_cure_law_top(law);
  if (heating > 0)
    return 5 / heating;
  for (int i = 0; i < PLACES; i++)
    fastest = fmax(fastest, even_rate(law, start + (top - start) * i / PLACES, T0));
  return fastest > 0 ? 4 / fastest : HUGE_VAL;
}

/* A complete cure costs as many steps per time as one under way, so a long span is not followed
 * to its end but in whiles that grow. */
rw_status even_run(const rw_cure_law *law, double T0, double heating, double span, double start,
                   even_cure *out, rw_error *err)
{
  rw_status status = rw_cure_law_check(law, err);
  if (status >= 0 && !(start >= 0 && start < 1))
    status = rw_error_range(err, "rw_cure_run", "start", start, 0, 1, "",
                            "A degree of cure is a share: 0 is liquid, 1 fully cured.");
  if (status < 0)
    return status;
  double growth = heating > 0 ? 1.3 : 8, top = rw_cure_law_top(law);
  double length = first_while(law, T0, heating, start);
  for (;; length *= growth) {
    int last = !(length < span);
    double part = last ? span : length;
    double T[2] = {T0, fmin(T0 + heating * part, EVEN_WARMEST)};
    even_cure c;
    status = follow(law, T, part, start, &c, err);
    if (status < 0)
      return status;
    int complete = rw_cure_when(c.path, top - COMPLETE, &c.end, NULL) == RW_OK;
    if (complete)
      c.top = fmax(top - COMPLETE, start);
    if (last || complete) {
      *out = c;
      return status;
    }
    rw_cure_path_destroy(c.path);
  }
}

double even_when(const even_cure *c, double cure)
{
  double time = HUGE_VAL;
  if (cure <= c->top)
    rw_cure_when(c->path, cure, &time, NULL);
  return time;
}

double even_at(const even_cure *c, double time)
{
  double cure = c->top;
  if (time < c->end)
    rw_cure_at(c->path, time, &cure, NULL, NULL, NULL);
  return cure;
}

double even_rate(const rw_cure_law *law, double cure, double T)
{
  double rate = 0;
  if (cure < rw_cure_law_top(law))
    rw_cure_rate(law, cure, T, &rate, NULL);
  return rate;
}

rw_cure_state even_state(const rw_resin *r, const even_cure *c, double time, double T)
{
  rw_cure_state s = {.time = time, .T = T, .cure = even_at(c, time)};
  s.rate = even_rate(&r->law, s.cure, T);
  rw_glass_temperature(&r->glass, s.cure, &s.Tg, NULL);
  rw_viscosity(&r->flow, s.cure, T, &s.viscosity, NULL);
  return s;
}

/* Golden section. */
double even_summit(even_function *f, const void *context, double low, double high, double width)
{
  const double share = 0.61803398874989485;
  double a = low, b = high, x = b - share * (b - a), y = a + share * (b - a);
  double fx = f(x, context), fy = f(y, context);
  while (b - a > width && x > a && y < b && x < y) {
    if (fx >= fy) {
      b = y;
      y = x;
      fy = fx;
      x = b - share * (b - a);
      fx = f(x, context);
    } else {
      a = x;
      x = y;
      fx = fy;
      y = a + share * (b - a);
      fy = f(y, context);
    }
  }
  double best = fx >= fy ? x : y, value = fmax(fx, fy);
  if (f(low, context) >= value)
    return low;
  return f(high, context) >= value ? high : best;
}
