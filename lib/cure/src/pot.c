/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "resin.h"
#include "series.h"

#include <math.h>

static const double OPEN = 10, SIDE = 8, BOTTOM = 4; /* W/(m2 K) */
static const double CONDUCTION = 0.2;                /* W/(m K) */
static const double HOT = 333.15, DAY = 86400;
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

/* First share of a step at which a function of the state passes zero upwards; 2 where none. */
typedef double state_function(const rw_resin *r, double a, double T);

static double too_thick(const rw_resin *r, double a, double T)
{
  double mu;
  if (rw_viscosity(&r->flow, fmin(fmax(a, 0), 1), fmin(fmax(T, 200), 500), &mu, NULL) != RW_OK)
    return -1;
  return mu >= HUGE_VAL ? 1e9 : mu - r->work_viscosity;
}

static double too_hot(const rw_resin *r, double a, double T)
{
  (void)r;
  (void)a;
  return T - HOT;
}

static double gelled(const rw_resin *r, double a, double T)
{
  (void)T;
  return a - r->flow.a_gel;
}

static double state(const rw_resin *r, const series_step *s, state_function *f, double tau)
{
  return f(r, series_value(s->a, s->order, tau, NULL), series_value(s->T, s->T_order, tau, NULL));
}

double resin_crossing(const rw_resin *r, const series_step *s, int which)
{
  static state_function *const functions[] = {
      [CROSS_THICK] = too_thick, [CROSS_HOT] = too_hot, [CROSS_GEL] = gelled};
  enum { PARTS = 16 };
  state_function *f = functions[which];
  double low = 0;
  if (state(r, s, f, 0) >= 0)
    return 0;
  for (int i = 1; i <= PARTS; i++) {
    double high = (double)i / PARTS;
    if (state(r, s, f, high) < 0) {
      low = high;
      continue;
    }
    while (high - low > 1e-12) {
      double mid = 0.5 * (low + high);
      if (state(r, s, f, mid) < 0)
        low = mid;
      else
        high = mid;
    }
    return high;
  }
  return 2;
}

static void note_first(double *when, const rw_resin *r, const series_step *s, int which)
{
  if (*when < HUGE_VAL)
    return;
  double tau = resin_crossing(r, s, which);
  if (tau <= 1)
    *when = s->t + tau * s->h;
}

/* The peak of a step lies at an end or where dT/dtau passes zero; parts are fine enough for a
 * curve with one hump. */
static void note_peak(rw_pot *pot, const series_step *s)
{
  enum { PARTS = 32 };
  for (int i = 0; i <= PARTS; i++) {
    double tau = (double)i / PARTS, T = series_value(s->T, s->T_order, tau, NULL);
    if (T > pot->peak) {
      pot->peak = T;
      pot->peak_time = s->t + tau * s->h;
    }
  }
}

/* Heat lost over a step: loss times the integral of T - air. */
static double lost(const series_step *s, double UA, double air)
{
  double sum = 0;
  for (int j = 0; j <= s->T_order; j++)
    sum += s->T[j] / (j + 1);
  return UA * s->h * (sum - air);
}

/* A Kamal law with a broken power cannot be expanded at zero: begin at a degree of cure that a
 * steady start would reach at once. */
static double head_start(const rw_resin *r)
{
  return law_is_smooth(&r->law) ? 0 : 1e-9;
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

  double store = mass * r->heat_capacity + v->wall;
  double UA = loss(v, mass / r->density);
  series_heat heat = {.gain = mass * r->heat / store, .loss = UA / store, .air = air};
  rw_pot pot = {.work_end = HUGE_VAL, .hot = HUGE_VAL, .gel = HUGE_VAL, .peak = start};
  double t = 0, a0 = head_start(r), a = a0, T = start, gone = 0;
  while (t < DAY && 1 - a > 1e-12) {
    series_step s;
    if (!series_expand(&r->law, &heat, t, fmin(DAY - t, 4 * 3600), a, T, 0, 1e-10, &s) ||
        !(s.h > 1e-9))
      return rw_error_set(err, RW_ERR_NUMERIC, function, NULL, NULL,
                          "the heat of the pot could not be followed");
    note_first(&pot.work_end, r, &s, CROSS_THICK);
    note_first(&pot.hot, r, &s, CROSS_HOT);
    note_first(&pot.gel, r, &s, CROSS_GEL);
    note_peak(&pot, &s);
    gone += lost(&s, UA, air);
    a = fmin(series_value(s.a, s.order, 1, NULL), 1);
    T = series_value(s.T, s.T_order, 1, NULL);
    t += s.h;
  }
  double released = mass * r->heat * (a - a0);
  pot.balance = (store * (T - start) + gone - released) / released;
  *out = pot;
  return status;
}
