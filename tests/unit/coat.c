/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"

#include <math.h>
#include <string.h>

static const double HOUR = 3600, ZERO = 273.15, UPRIGHT = 1.57079632679489661923;

static rw_history *shop(size_t n, const double *t, const double *celsius)
{
  double T[16];
  rw_history *h = NULL;
  rw_error err;
  for (size_t i = 0; i < n; i++)
    T[i] = celsius[i] + ZERO;
  assert_ok(rw_history_create(t, T, NULL, n, &h, &err), &err);
  return h;
}

static rw_history *steady(double celsius, double span)
{
  return shop(2, (double[]){0, span}, (double[]){celsius, celsius});
}

static rw_resin resin(void)
{
  rw_resin r;
  rw_error err;
  assert_ok(rw_resin_find("slow-polyetheramine", &r, &err), &err);
  return r;
}

static rw_cure_path *cure(const rw_cure_law *law, const rw_history *h, double to)
{
  rw_cure_path *p = NULL;
  rw_error err;
  assert_ok(rw_cure_run(law, h, 0, to, 0, 1e-10, &p, &err), &err);
  return p;
}

/* First-order cure with C1 = 2: the integral of (1 - a/a_gel)^2 is known in closed form. */
static void fluidity_in_closed_form(void **state)
{
  (void)state;
  rw_error err;
  double k = 1e-4, g = 0.6;
  rw_cure_law law = {.kind = RW_LAW_NTH_ORDER, .k1 = k, .E1 = 55e3, .n = 1, .T_ref = 298.15};
  rw_flow flow = {.mu = 0.8, .E = 0, .T_ref = 298.15, .a_gel = g, .C1 = 2, .C2 = 0};
  rw_history *h = steady(25, 10 * HOUR);
  rw_cure_path *p = cure(&law, h, 10 * HOUR);
  double gel = -log(1 - g) / k, F = NAN;
  /* 1 - a/g = 1 - 1/g + e/g with e = exp(-k t) */
  double c = 1 - 1 / g, e = 1 - g;
  double exact = (c * c * gel + 2 * c / g * (1 - e) / k + (1 - e * e) / (2 * k * g * g)) / 0.8;
  assert_ok(rw_cure_fluidity(p, &flow, h, 0, HUGE_VAL, 1e-9, &F, &err), &err);
  assert_close_rel(F, exact, 2e-9);
  double none = NAN;
  assert_ok(rw_cure_fluidity(p, &flow, NULL, 0, HUGE_VAL, 1e-9, &none, &err), &err);
  assert_close_rel(none, exact, 2e-9);
  double part = NAN, rest = NAN;
  assert_ok(rw_cure_fluidity(p, &flow, h, 0, 1234, 1e-9, &part, &err), &err);
  assert_ok(rw_cure_fluidity(p, &flow, h, 1234, 9 * HOUR, 1e-9, &rest, &err), &err);
  assert_close_rel(part + rest, exact, 3e-9);
  assert_ok(rw_cure_fluidity(p, &flow, h, 5 * HOUR, HUGE_VAL, 1e-9, &F, &err), &err);
  assert_close(F, 0, 0);
  rw_cure_path_destroy(p);
  rw_history_destroy(h);
}

/* Kinks and a step in the shop's temperature against a plain sum of a million parts. */
static void fluidity_over_kinks(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin();
  double t[] = {0, 1800, 1800, 2 * HOUR, 5 * HOUR, 30 * HOUR};
  rw_history *h = shop(6, t, (double[]){22, 22, 12, 27, 8, 20});
  rw_cure_path *p = cure(&r.law, h, 30 * HOUR);
  double F = NAN, gel = NAN, sum = 0;
  assert_ok(rw_cure_when(p, r.flow.a_gel, &gel, &err), &err);
  assert_true(gel > 3 * HOUR && gel < 30 * HOUR);
  assert_ok(rw_cure_fluidity(p, &r.flow, h, 600, HUGE_VAL, 1e-9, &F, &err), &err);
  enum { PARTS = 1000000 };
  for (int i = 0; i < PARTS; i++) {
    double a, T, mu, time = 600 + (gel - 600) * (i + 0.5) / PARTS;
    assert_int_equal(rw_cure_at(p, time, &a, NULL, &T, NULL), RW_OK);
    assert_int_equal(rw_viscosity(&r.flow, a, T, &mu, NULL), RW_OK);
    sum += 1 / mu;
  }
  assert_close_rel(F, sum * (gel - 600) / PARTS, 3e-6);
  double blind = NAN;
  assert_ok(rw_cure_fluidity(p, &r.flow, NULL, 600, HUGE_VAL, 1e-9, &blind, &err), &err);
  assert_close_rel(blind, F, 1e-8);
  rw_cure_path_destroy(p);
  rw_history_destroy(h);
}

static void fluidity_refuses(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin();
  rw_history *h = steady(20, 2 * HOUR);
  rw_cure_path *p = cure(&r.law, h, HOUR);
  double F = 7;
  rw_flow bad = r.flow;
  assert_status(rw_cure_fluidity(p, &r.flow, h, 0, 2 * HOUR, 1e-6, &F, &err), RW_ERR_COVERAGE,
                &err);
  check_explained(&err, "followed");
  assert_status(rw_cure_fluidity(p, &r.flow, h, -1, HOUR, 1e-6, &F, &err), RW_ERR_COVERAGE, &err);
  assert_status(rw_cure_fluidity(p, &r.flow, h, 10, 10, 1e-6, &F, &err), RW_ERR_RANGE, &err);
  assert_status(rw_cure_fluidity(p, &r.flow, h, 0, NAN, 1e-6, &F, &err), RW_ERR_COVERAGE, &err);
  assert_status(rw_cure_fluidity(p, &r.flow, h, 0, HOUR, 0, &F, &err), RW_ERR_RANGE, &err);
  bad.C1 = -1;
  assert_status(rw_cure_fluidity(p, &bad, h, 0, HOUR, 1e-6, &F, &err), RW_ERR_RANGE, &err);
  bad = r.flow;
  bad.C2 = -10;
  assert_status(rw_cure_fluidity(p, &bad, h, 0, HOUR, 1e-6, &F, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "C2");
  bad = r.flow;
  bad.E = 48;
  bad.T_ref = 25;
  assert_status(rw_cure_fluidity(p, &bad, h, 0, HOUR, 1e-6, &F, &err), RW_ERR_RANGE, &err);
  bad = r.flow;
  bad.mu = 0;
  assert_status(rw_cure_fluidity(p, &bad, h, 0, HOUR, 1e-6, &F, &err), RW_ERR_RANGE, &err);
  assert_close(F, 7, 0);
  /* An hour is too short to gel: what flowed so far is given. */
  double until = NAN;
  assert_status(rw_cure_fluidity(p, &r.flow, h, 0, HUGE_VAL, 1e-6, &F, &err), RW_NOT_REACHED,
                &err);
  assert_ok(rw_cure_fluidity(p, &r.flow, h, 0, HOUR, 1e-6, &until, &err), &err);
  assert_close(F, until, 0);
  rw_cure_path_destroy(p);
  rw_history_destroy(h);
}

static void films_refuse(void **state)
{
  (void)state;
  rw_error err;
  rw_film_flow f = {7, 7, 7, 7};
  double x = 7;
  assert_status(rw_film_flow_of(1.1, 1, 1e-4, 1, &f, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "density");
  assert_status(rw_film_flow_of(1100, 0, 1e-4, 1, &f, &err), RW_ERR_RANGE, &err);
  assert_status(rw_film_flow_of(1100, 1, 0.3, 1, &f, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "thickness");
  assert_status(rw_film_flow_of(1100, 1, 1e-4, 90, &f, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "slope");
  assert_close(f.surface, 7, 0);
  assert_status(rw_film_thickness(1100, 1, 0, 0.01, &x, &err), RW_ERR_RANGE, &err);
  assert_status(rw_sag_run(1100, 1, NAN, 100, &x, &err), RW_ERR_RANGE, &err);
  assert_status(rw_sag_run(1100, 1, 1e-4, -1, &x, &err), RW_ERR_RANGE, &err);
  assert_status(rw_sag_thickness(1100, 1, 0, 100, &x, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "run");
  assert_status(rw_sag_held(1100, 1, 30, 100, &x, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "distance");
  assert_status(rw_sag_slope(1100, 1e-4, 0, 100, &x, &err), RW_ERR_RANGE, &err);
  assert_status(rw_levelling_time(1, 2e-3, 35, 1e-4, 0.5, &x, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "tension");
  assert_status(rw_levelling_time(1, 2e-3, 0.035, 1e-4, 0, &x, &err), RW_ERR_RANGE, &err);
  assert_status(rw_levelling_left(2, 0.035, 1e-4, 100, &x, &err), RW_ERR_RANGE, &err);
  assert_status(rw_levelling_wavelength(0.035, 1e-4, 100, 1, &x, &err), RW_ERR_RANGE, &err);
  assert_status(rw_bubble_speed(1100, 1, 1, RW_BUBBLE_RIGID, &x, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "radius");
  assert_status(rw_bubble_speed(1100, 1, 1e-4, (rw_bubble_surface)5, &x, &err), RW_ERR_ARGUMENT,
                &err);
  assert_status(rw_bubble_radius(1100, 2, 1e-4, RW_BUBBLE_RIGID, 100, &x, &err), RW_ERR_RANGE,
                &err);
  assert_status(rw_coat_thickness(0, 1, 1100, &x, &err), RW_ERR_RANGE, &err);
  assert_status(rw_coat_mass(1, 1e-4, NAN, &x, NULL), RW_ERR_RANGE, NULL);
  assert_status(rw_coat_area(1, 0, 1100, &x, &err), RW_ERR_RANGE, &err);
  assert_close(x, 7, 0);
}

/* Where the laws leave their ground they say so. */
static void films_warn(void **state)
{
  (void)state;
  rw_error err;
  rw_film_flow f;
  double x;
  assert_status(rw_film_flow_of(1000, 1e-3, 1e-3, UPRIGHT, &f, &err), RW_OUTSIDE_TESTED, &err);
  assert_true(f.reynolds > 20);
  assert_status(rw_film_thickness(1000, 1e-3, UPRIGHT, f.flux, &x, &err), RW_OUTSIDE_TESTED, &err);
  assert_close_rel(x, 1e-3, 1e-12);
  assert_status(rw_levelling_time(1, 1e-3, 0.035, 2e-4, 0.5, &x, &err), RW_OUTSIDE_TESTED, &err);
  assert_status(rw_bubble_speed(1000, 1e-3, 1e-3, RW_BUBBLE_CLEAN, &x, &err), RW_OUTSIDE_TESTED,
                &err);
}

static void ends_of_a_slope(void **state)
{
  (void)state;
  rw_error err;
  double x = NAN;
  assert_ok(rw_sag_run(1100, 0, 1e-3, 5000, &x, &err), &err);
  assert_close(x, 0, 0);
  assert_ok(rw_sag_thickness(1100, 0, 5e-3, 5000, &x, &err), &err);
  assert_true(x == HUGE_VAL);
  assert_ok(rw_sag_held(1100, 0, 0.3, 5000, &x, &err), &err);
  assert_true(x == HUGE_VAL);
  assert_ok(rw_sag_slope(1100, 1e-5, 5e-3, 100, &x, &err), &err);
  assert_close(x, UPRIGHT, 1e-15);
  assert_ok(rw_bubble_radius(1100, UPRIGHT, 3e-4, RW_BUBBLE_RIGID, 5000, &x, &err), &err);
  assert_true(x == HUGE_VAL);
  assert_ok(rw_bubble_rise(1100, UPRIGHT, 1e-4, RW_BUBBLE_RIGID, 5000, &x, &err), &err);
  assert_close(x, 0, 1e-12);
}

/* A film let go on a face, by small cells down the slope: what is left follows the closed form
 * and far below it is untouched. */
static void draining_by_cells(void **state)
{
  (void)state;
  enum { CELLS = 2000 };
  rw_error err;
  double density = 1100, slope = 1.2, F = 300, h0 = 2e-4, dx = 5e-4;
  double h[CELLS], k = density * RW_GRAVITY * sin(slope) / 3;
  for (int i = 0; i < CELLS; i++)
    h[i] = h0;
  int steps = (int)ceil(2 * F * 3 * k * h0 * h0 / dx);
  for (int s = 0; s < steps; s++) {
    double in = 0;
    for (int i = 0; i < CELLS; i++) {
      double out = k * h[i] * h[i] * h[i];
      h[i] += (in - out) * F / steps / dx;
      in = out;
    }
  }
  double run = NAN, held = NAN;
  assert_ok(rw_sag_run(density, slope, h0, F, &run, &err), &err);
  int edge = (int)(2 * run / dx);
  assert_true(edge > 100 && edge < CELLS - 200);
  for (int i = 50; i < edge * 9 / 10; i++) {
    assert_ok(rw_sag_held(density, slope, (i + 1) * dx, F, &held, &err), &err);
    assert_close_rel(h[i], held, 0.01);
  }
  assert_close_rel(h[CELLS - 1], h0, 1e-9);
}

static const rw_coat side = {.thickness = 3e-4,
                             .slope = 1.3,
                             .run = 0.05,
                             .below = 0.3,
                             .mark = 3e-3,
                             .tension = 0.035,
                             .surface = RW_BUBBLE_RIGID};

static void inside(const rw_interval *i)
{
  assert_true(i->low < i->value && i->value < i->high);
}

static void forecast_of_a_side(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin();
  rw_history *h = steady(19, 48 * HOUR);
  rw_coat_times when = {0, 900, 48 * HOUR, 1};
  rw_coat_outcome o, again;
  assert_ok(rw_coat_forecast(&r, h, &when, &side, &o, &err), &err);
  inside(&o.fluidity);
  inside(&o.run);
  inside(&o.thickness);
  inside(&o.mass);
  inside(&o.bubble);
  inside(&o.held);
  assert_true(o.held.high <= side.thickness);
  assert_true(o.gel > HOUR && o.gel < 24 * HOUR);
  assert_true(strlen(rw_coat_because(o.because)) > 0 && rw_coat_because(99)[0] == '\0');
  assert_close_rel(o.mass.value, o.thickness.value * r.density, 1e-14);
  /* The greatest film of the answer runs just as far as allowed. */
  rw_coat thin = side;
  thin.thickness = o.thickness.value;
  assert_ok(rw_coat_forecast(&r, h, &when, &thin, &again, &err), &err);
  assert_close_rel(again.run.value, side.run, 1e-9);
  assert_close_rel(again.fluidity.value, o.fluidity.value, 0);
  /* At a steady warmth a rate twice as high halves the fluidity: the spread must know it. */
  rw_resin sure = r;
  rw_coat_outcome calm;
  sure.energy_sd = 0;
  sure.threshold[RW_WORK_END].sd = 0;
  when = (rw_coat_times){0, 0, 48 * HOUR, 0};
  assert_ok(rw_coat_forecast(&sure, h, &when, &side, &calm, &err), &err);
  double spread = log(calm.fluidity.high / calm.fluidity.value) / 1.6448536269514722;
  assert_close_rel(spread, r.rate_sd, 1e-4);
  assert_string_equal(rw_coat_because(calm.because), "how fast this resin really is");
  rw_history_destroy(h);
}

static void forecast_refuses(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin();
  rw_history *h = steady(19, 48 * HOUR);
  rw_coat_outcome o;
  memset(&o, 7, sizeof o);
  rw_coat_outcome before = o;
  rw_coat_times when = {0, 40 * HOUR, 48 * HOUR, 1};
  assert_status(rw_coat_forecast(&r, h, &when, &side, &o, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "gelled before");
  when = (rw_coat_times){900, 0, 48 * HOUR, 1};
  assert_status(rw_coat_forecast(&r, h, &when, &side, &o, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "laid");
  when = (rw_coat_times){0, 0, 49 * HOUR, 1};
  assert_status(rw_coat_forecast(&r, h, &when, &side, &o, &err), RW_ERR_COVERAGE, &err);
  when = (rw_coat_times){0, 0, 48 * HOUR, -1};
  assert_status(rw_coat_forecast(&r, h, &when, &side, &o, &err), RW_ERR_RANGE, &err);
  when.temperature_sd = 0;
  rw_coat bad = side;
  bad.slope = 75;
  assert_status(rw_coat_forecast(&r, h, &when, &bad, &o, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "slope");
  bad = side;
  bad.below = 0;
  assert_status(rw_coat_forecast(&r, h, &when, &bad, &o, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "distance");
  bad = side;
  bad.mark = 3;
  assert_status(rw_coat_forecast(&r, h, &when, &bad, &o, &err), RW_ERR_RANGE, &err);
  assert_memory_equal(&o, &before, sizeof o);
  when.until = HOUR;
  assert_status(rw_coat_forecast(&r, h, &when, &side, &o, &err), RW_NOT_REACHED, &err);
  assert_true(o.gel == HUGE_VAL && o.run.value > 0);
  rw_history_destroy(h);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(fluidity_in_closed_form),
      cmocka_unit_test(fluidity_over_kinks),
      cmocka_unit_test(fluidity_refuses),
      cmocka_unit_test(films_refuse),
      cmocka_unit_test(films_warn),
      cmocka_unit_test(ends_of_a_slope),
      cmocka_unit_test(draining_by_cells),
      cmocka_unit_test(forecast_of_a_side),
      cmocka_unit_test(forecast_refuses),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
