/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "begin.h"
#include "crossing.h"
#include "march.h"

#include <math.h>

static const double OPEN = 10, SIDE = 8, BOTTOM = 4; /* W/(m2 K) */
static const double CONDUCTION = 0.2;                /* W/(m K) */
static const double HOT = 333.15, DAY = 86400;
static const double TOLERANCE = 1e-9;    /* in a, for one step; heat makes early errors grow */
static const double PLASTIC_HEAT = 1900; /* J/(kg K) */
static const double WALL_MASS = 0.6;     /* kg/m2 of wall, about 0.6 mm */

static rw_status check_size(const char *function, const char *argument, double value, double low,
                            double high, rw_error *err)
{
  if (value >= low && value <= high)
    return RW_OK;
  return rw_error_range(err, function, argument, value, low, high, "m", NULL);
}

rw_status rw_vessel_cup(double diameter, rw_vessel *out, rw_error *err)
{
  rw_status status = check_size("rw_vessel_cup", "diameter", diameter, 0.02, 0.5, err);
  if (status != RW_OK)
    return status;
  const double pi = 3.14159265358979323846;
  double bottom = pi * diameter * diameter / 4, side = pi * diameter * diameter / 2;
  *out = (rw_vessel){.footprint = bottom,
                     .perimeter = pi * diameter,
                     .wall = (bottom + side) * WALL_MASS * PLASTIC_HEAT};
  return RW_OK;
}

rw_status rw_vessel_tray(double length, double width, rw_vessel *out, rw_error *err)
{
  rw_status status = check_size("rw_vessel_tray", "length", length, 0.05, 1, err);
  if (status == RW_OK)
    status = check_size("rw_vessel_tray", "width", width, 0.05, 1, err);
  if (status != RW_OK)
    return status;
  double bottom = length * width;
  *out = (rw_vessel){.footprint = bottom,
                     .perimeter = 2 * (length + width),
                     .wall = bottom * WALL_MASS * PLASTIC_HEAT};
  return RW_OK;
}

/* Surface coefficient with the resin's conduction over a depth in series. */
static double series_coefficient(double surface, double depth)
{
  return 1 / (1 / surface + depth / CONDUCTION);
}

/* Heat lost per kelvin. In a warm mass the mean lies a third of a half-depth from the surface. */
static double loss(const rw_vessel *v, double volume)
{
  double depth = volume / v->footprint;
  double across = 2 * v->footprint / v->perimeter; /* half-width of the wetted body */
  return v->footprint *
             (series_coefficient(OPEN, depth / 6) + series_coefficient(BOTTOM, depth / 6)) +
         v->perimeter * depth * series_coefficient(SIDE, across / 3);
}

/* A pot on its way. */
typedef struct cooking {
  const rw_resin *resin;
  forms law;
  phase phase;
  series_heat heat;
  thick_limit thick;
  double t, a, T;
  double rate; /* 1/s, there; 0 where the step before did not tell */
  double care; /* s, see march_care */
  double last; /* length of the last step */
  double grow; /* how much longer the next one may be */
  double gone; /* integral of T - air, K s */
  rw_pot pot;
} cooking;

static double hot_enough(const void *unused, double a, double T)
{
  (void)unused;
  (void)a;
  return T - HOT;
}

static double gel_enough(const void *context, double a, double T)
{
  (void)T;
  return a - *(const double *)context;
}

/* The three limits of a pot, in the order of their members in rw_pot. */
typedef struct limit {
  double *when;
  crossing_function *passed;
  const void *context;
} limit;

/* Notes what is first passed on a step; the places looked at are shared, and only a step on which
 * something happens is looked at more closely. */
static void note_limits(const limit limits[3], const series_step *s)
{
  enum { PARTS = 4 };
  curve c = {s->a, s->order, s->T, s->T_order};
  int waiting = 0;
  for (int i = 0; i < 3; i++)
    waiting += *limits[i].when == HUGE_VAL;
  for (int part = 1; waiting > 0 && part <= PARTS; part++) {
    double tau = (double)part / PARTS;
    double a = series_value(s->a, s->order, tau, NULL);
    double T = series_value(s->T, s->T_order, tau, NULL);
    for (int i = 0; i < 3; i++) {
      if (*limits[i].when < HUGE_VAL || limits[i].passed(limits[i].context, a, T) < 0)
        continue;
      *limits[i].when =
          s->t + s->h * fmin(crossing_share(limits[i].passed, limits[i].context, &c, PARTS), 1);
      waiting--;
    }
  }
}

/* A step's warmest moment: an end, or where dT/dtau turns from rise to fall. */
static void note_peak(rw_pot *pot, const series_step *s)
{
  double rise0, rise1, low = 0, high = 1;
  series_value(s->T, s->T_order, 0, &rise0);
  double T = series_value(s->T, s->T_order, 1, &rise1);
  if (rise0 > 0 && rise1 < 0) {
    while (high - low > 1e-9) {
      double mid = 0.5 * (low + high), rise;
      series_value(s->T, s->T_order, mid, &rise);
      if (rise > 0)
        low = mid;
      else
        high = mid;
    }
    T = series_value(s->T, s->T_order, high, NULL);
  }
  if (T > pot->peak) {
    pot->peak = T;
    pot->peak_time = s->t + high * s->h;
  }
}

static void note(cooking *c, const series_step *s)
{
  const limit limits[3] = {{&c->pot.work_end, thick_enough, &c->thick},
                           {&c->pot.hot, hot_enough, NULL},
                           {&c->pot.gel, gel_enough, &c->resin->flow.a_gel}};
  note_limits(limits, s);
  note_peak(&c->pot, s);
  double sum = 0;
  for (int j = 0; j <= s->T_order; j++)
    sum += s->T[j] / (j + 1);
  c->gone += s->h * (sum - c->heat.air);
  c->last = s->h;
  c->grow = s->order < 8 ? 8 : s->order < 12 ? 3 : 1.5;
}

/* The first moments, where a^m has no Taylor series. */
static int broken_start(const cooking *c, series_step *s)
{
  const form *f = &c->law.stage[0];
  double cooling = c->heat.loss * (c->heat.air - c->T);
  begin b = {.law = f,
             .T = c->T,
             .slope = cooling + c->heat.gain * form_rate(f, 0, c->T),
             .tolerance = 1e-4 * TOLERANCE,
             .most = 1e-3,
             .shape = 1};
  double t = begin_span(&b, fmin(60, 1e-3 / c->heat.loss)); /* T falls along a line */
  if (!(t > 0))
    return 0;
  double a = begin_value(&b, t);
  *s = (series_step){
      .h = t, .order = 1, .T_order = 1, .a = {0, a}, .T = {c->T, c->heat.gain * a + cooling * t}};
  return 1;
}

static int complete(const cooking *c)
{
  double left = c->law.top - c->a;
  const form *f = &c->law.stage[c->phase.stage];
  return left <= 1e-12 || (form_order_at_top(f) < 1 && left <= 0.1 * TOLERANCE);
}

/* A completed pot only cools, as exp(-loss t). */
static int cooling_step(const cooking *c, double h, series_step *s)
{
  *s = (series_step){.t = c->t, .h = fmin(h, 0.5 / c->heat.loss), .T_order = 12};
  s->a[0] = c->a;
  double term = c->T - c->heat.air;
  s->T[0] = c->T;
  for (int j = 1; j <= s->T_order; j++)
    s->T[j] = term *= -c->heat.loss * s->h / j;
  return 1;
}

/* Nothing more can happen: all is passed that can be, and the heat still to come cannot make a
 * warmer moment than there was. */
static int over(const cooking *c)
{
  double most = fmax(c->T, c->heat.air) + (c->law.top - c->a) * c->heat.gain;
  return c->pot.work_end < HUGE_VAL && c->pot.gel < HUGE_VAL &&
         (c->pot.hot < HUGE_VAL || most < HOT) && most < c->pot.peak;
}

/* Just before a law of low order is complete its series means nothing beyond that moment. */
static double most(const cooking *c)
{
  const form *f = &c->law.stage[c->phase.stage];
  double h = c->last > 0 ? c->grow * c->last : 60, order = form_order_at_top(f);
  double rate = order < 1 ? form_rate(f, c->a, c->T) : 0;
  return rate > 0 ? fmin(h, 0.9 * (c->law.top - c->a) / ((1 - order) * rate)) : h;
}

/* A mass that goes off faster than a millionth of a second: its heat stays in it, so T rises with
 * a alone, up to where the cure is slow again. */
static int flash(const cooking *c, series_step *s)
{
  enum { PLACES = 1000 };
  static const double SWIFT = 1e-6; /* s for a thousandth of the cure */
  const form *f = &c->law.stage[c->phase.stage];
  double end = fmin(c->law.top, c->phase.stage == 0 ? c->law.split : c->law.top), a = c->a;
  for (int i = 1; i <= PLACES; i++) {
    double next = c->a + (end - c->a) * i / PLACES;
    double rate = form_rate(f, a, c->T + c->heat.gain * (a - c->a));
    if (!(rate * SWIFT > (end - c->a) / PLACES))
      break;
    a = next;
  }
  if (!(a > c->a))
    return 0;
  *s = (series_step){.t = c->t,
                     .h = SWIFT,
                     .order = 1,
                     .T_order = 1,
                     .a = {c->a, a - c->a},
                     .T = {c->T, c->heat.gain * (a - c->a)}};
  return 1;
}

/* What a step may be wrong by: an error made while the rate is tiny grows with it. */
static double allowed(const cooking *c, double rate)
{
  return fmax(TOLERANCE * fmin(1, 30 * rate * c->care), 1e-16 * c->a);
}

static int next_step(cooking *c, series_step *s)
{
  double left = DAY - c->t;
  const form *f = &c->law.stage[c->phase.stage];
  double rate = c->rate > 0 ? c->rate : form_rate(f, c->a, c->T);
  if (complete(c))
    return cooling_step(c, left, s);
  if (form_stalled(f, c->a, c->T) || (c->a > 0 && !(rate > 0)))
    return cooling_step(c, fmin(left, 0.02 / c->heat.loss), s); /* until it is colder */
  if (c->a == 0 && !form_is_smooth(&c->law.stage[0]))
    return broken_start(c, s);
  series_start from = {.t = c->t, .a = c->a, .T = c->T};
  phase before = c->phase;
  if (phase_expand(&c->law, &c->phase, &c->heat, &from, fmin(left, most(c)), allowed(c, rate),
                   s) &&
      s->h > 1e-12 * c->t)
    return 1;
  c->phase = before;
  return flash(c, s);
}

static int cook(cooking *c)
{
  enum { STEPS = 100000 };
  series_step s;
  for (int i = 0; c->t < DAY && !over(c); i++) {
    int stage = c->phase.stage;
    if (i >= STEPS || !next_step(c, &s))
      return 0;
    note(c, &s);
    double a = series_value(s.a, s.order, 1, NULL);
    c->a = c->phase.stage != stage ? c->law.split : fmin(fmax(a, c->a), c->law.top);
    if (c->a >= c->law.split)
      c->phase.stage = 1;
    c->rate = c->phase.stage == stage && c->a == a ? s.end_rate : 0;
    c->T = series_value(s.T, s.T_order, 1, NULL);
    c->t += s.h;
  }
  return isfinite(c->T);
}

static rw_status check_vessel(const rw_vessel *v, rw_error *err)
{
  const char *function = "rw_pot_run";
  if (!(v->footprint >= 1e-6 && v->footprint <= 10))
    return rw_error_range(err, function, "footprint", v->footprint, 1e-6, 10, "m2", NULL);
  if (!(v->perimeter > 0 && v->perimeter <= 1e3))
    return rw_error_range(err, function, "perimeter", v->perimeter, 0, 1e3, "m", NULL);
  if (!(v->wall >= 0 && v->wall <= 1e6))
    return rw_error_range(err, function, "wall", v->wall, 0, 1e6, "J/K", NULL);
  return RW_OK;
}

rw_status rw_pot_run(const rw_resin *r, const rw_vessel *v, double mass, double start, double air,
                     rw_pot *out, rw_error *err)
{
  const char *function = "rw_pot_run";
  rw_status status = rw_resin_check(r, err);
  if (status < 0)
    return status;
  if (!(mass >= 1e-3 && mass <= 50))
    return rw_error_range(err, function, "mass", mass, 1e-3, 50, "kg", NULL);
  if (!(start >= 250 && start <= 360))
    return rw_error_range(err, function, "start", start, 250, 360, "K", NULL);
  if (!(air >= 250 && air <= 360))
    return rw_error_range(err, function, "air", air, 250, 360, "K", NULL);
  rw_status started = check_vessel(v, err);
  if (started == RW_OK)
    started = march_can_start(function, &r->law, 0, err);
  if (started != RW_OK)
    return started;

  double store = mass * r->heat_capacity + v->wall;
  double UA = loss(v, mass / r->density);
  cooking c = {.resin = r,
               .heat = {.gain = mass * r->heat / store, .loss = UA / store, .air = air},
               .thick = {&r->flow, log(r->work_viscosity)},
               .T = start,
               .pot = {.work_end = HUGE_VAL, .hot = HUGE_VAL, .gel = HUGE_VAL, .peak = start}};
  forms_of(&r->law, &c.law);
  c.care = march_care(&c.law, start);
  if (!cook(&c))
    return rw_error_set(err, RW_ERR_NUMERIC, function, NULL, NULL,
                        "the heat of the pot could not be followed");
  double released = mass * r->heat * c.a, stored = store * (c.T - start), lost = UA * c.gone;
  double largest = fmax(released, fmax(fabs(stored), fabs(lost)));
  c.pot.balance = largest > 0 ? (stored + lost - released) / largest : 0;
  *out = c.pot;
  return status;
}
