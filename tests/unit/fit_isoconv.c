/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Activation energies: what is refused and in which words, intervals, integrals, properties. */
#include "check.h"

#include <math.h>
#include <string.h>

enum { READINGS = 9 };

/* First-order peaks of E = 60 kJ/mol fulfil this for any T. */
static rw_iso_point peak_of(double E, double T)
{
  return (rw_iso_point){.heating =
                            2e6 * T * T * RW_GAS_CONSTANT / E * exp(-E / (RW_GAS_CONSTANT * T)),
                        .temperature = T,
                        .rate = 2e6 * exp(-E / (RW_GAS_CONSTANT * T)),
                        .start = 280};
}

static void three_peaks(rw_iso_point run[3])
{
  for (int i = 0; i < 3; i++)
    run[i] = peak_of(60000, 370 + 12 * i);
}

/* The call is refused, says the word, and leaves the result alone. */
static void refused(rw_iso_method method, const rw_iso_point *run, size_t n, double level,
                    rw_status wanted, const char *word)
{
  rw_fit_energy e, before;
  memset(&e, 7, sizeof e);
  before = e;
  rw_error err;
  assert_status(rw_iso_energy(method, run, n, level, &e, &err), wanted, &err);
  check_explained(&err, word);
  assert_true(strlen(err.hint) > 0);
  assert_memory_equal(&e, &before, sizeof e);
  assert_status(rw_iso_energy(method, run, n, level, &e, NULL), wanted, NULL);
}

static void too_few_or_alike(void **state)
{
  (void)state;
  rw_iso_point run[RW_FIT_RUNS + 1], same[3];
  for (int i = 0; i <= RW_FIT_RUNS; i++)
    run[i] = peak_of(60000, 350 + i);
  refused(RW_ISO_KISSINGER, run, 0, 0.95, RW_ERR_ARGUMENT, "two runs");
  refused(RW_ISO_KISSINGER, NULL, 0, 0.95, RW_ERR_ARGUMENT, "two runs");
  refused(RW_ISO_KISSINGER, run, 1, 0.95, RW_ERR_ARGUMENT, "is one");
  refused(RW_ISO_KISSINGER, run, RW_FIT_RUNS + 1, 0.95, RW_ERR_ARGUMENT, "32");
  refused((rw_iso_method)7, run, 3, 0.95, RW_ERR_ARGUMENT, "method");
  refused(RW_ISO_KISSINGER, run, 3, 95, RW_ERR_RANGE, "level");
  for (int i = 0; i < 3; i++)
    same[i] = run[0];
  refused(RW_ISO_OFW, same, 3, 0.95, RW_ERR_ARGUMENT, "one rate");
  refused(RW_ISO_FRIEDMAN, same, 3, 0.95, RW_ERR_ARGUMENT, "one temperature");
  same[1].heating *= 2;
  refused(RW_ISO_OFW, same, 3, 0.95, RW_ERR_ARGUMENT, "one temperature");
  refused(RW_ISO_VYAZOVKIN, same, 3, 0.95, RW_ERR_NUMERIC, "500 kJ/mol");
  rw_fit_energy e;
  rw_error err;
  assert_ok(rw_iso_energy(RW_ISO_KISSINGER, run, RW_FIT_RUNS, 0.95, &e, &err), &err);
  assert_status(rw_iso_energy(RW_ISO_KAS, NULL, 3, 0.95, &e, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_iso_energy(RW_ISO_KAS, run, 3, 0.95, NULL, &err), RW_ERR_ARGUMENT, &err);
}

static void units_mixed_up(void **state)
{
  (void)state;
  rw_iso_point run[3];
  three_peaks(run);
  run[1].heating = 10; /* K/min */
  refused(RW_ISO_KAS, run, 3, 0.95, RW_ERR_RANGE, "run 2: heating");
  three_peaks(run);
  run[2].temperature = 121; /* degC */
  refused(RW_ISO_STARINK, run, 3, 0.95, RW_ERR_RANGE, "run 3: temperature");
  run[2].temperature = NAN;
  refused(RW_ISO_E698, run, 3, 0.95, RW_ERR_RANGE, "not a number");
  three_peaks(run);
  run[0].rate = 0;
  refused(RW_ISO_FRIEDMAN, run, 3, 0.95, RW_ERR_RANGE, "run 1: rate");
  three_peaks(run);
  run[1].start = 390;
  refused(RW_ISO_VYAZOVKIN, run, 3, 0.95, RW_ERR_RANGE, "run 2: start");
  for (int i = 0; i < 3; i++)
    run[i] = peak_of(60000, 370 - 12 * i);
  double slow = run[2].heating;
  run[2].heating = run[0].heating;
  run[0].heating = slow;
  refused(RW_ISO_KISSINGER, run, 3, 0.95, RW_ERR_NUMERIC, "higher temperatures");
  refused(RW_ISO_VYAZOVKIN, run, 3, 0.95, RW_ERR_NUMERIC, "500 kJ/mol");
}

static void two_runs_have_no_interval(void **state)
{
  (void)state;
  rw_iso_point run[3];
  three_peaks(run);
  for (int m = RW_ISO_KISSINGER; m <= RW_ISO_VYAZOVKIN; m++) {
    rw_fit_energy e;
    rw_error err;
    assert_status(rw_iso_energy((rw_iso_method)m, run, 2, 0.95, &e, &err), RW_OUTSIDE_TESTED,
                  &err);
    check_explained(&err, "no interval");
    assert_close(e.E, 60000, 3000);
    assert_true(isnan(e.E_se) && isnan(e.E_low) && isnan(e.E_high) && isnan(e.scatter));
    assert_int_equal(e.freedom, 0);
  }
}

/* Kissinger is exact for first-order peaks, Friedman wherever the rate is that of one step. */
static void exact_lines(void **state)
{
  (void)state;
  rw_iso_point run[3];
  three_peaks(run);
  rw_fit_energy e;
  rw_error err;
  assert_ok(rw_iso_energy(RW_ISO_KISSINGER, run, 3, 0.95, &e, &err), &err);
  assert_close_rel(e.E, 60000, 1e-10);
  assert_close(e.log_A, log(2e6), 1e-8);
  assert_close(e.log_k, log(2e6) - e.E / (RW_GAS_CONSTANT * e.T_mid), 1e-8);
  assert_true(e.E_low <= e.E && e.E <= e.E_high && e.E_high - e.E_low < 1e-3);
  for (int i = 0; i < 3; i++)
    run[i].heating = NAN; /* not used */
  assert_ok(rw_iso_energy(RW_ISO_FRIEDMAN, run, 3, 0.95, &e, &err), &err);
  assert_close_rel(e.E, 60000, 1e-10);
  assert_close(e.log_A, log(2e6), 1e-8);
}

/* The middle of the integral method is where the mean logarithm of the integrals turns with E as
 * -1/(R T). */
static void middle_of_the_integrals(void **state)
{
  (void)state;
  rw_iso_point run[3];
  three_peaks(run);
  rw_fit_energy e;
  rw_error err;
  assert_ok(rw_iso_energy(RW_ISO_VYAZOVKIN, run, 3, 0.95, &e, &err), &err);
  double turn = 0;
  for (int i = 0; i < 3; i++) {
    double less = NAN, more = NAN;
    assert_ok(rw_iso_integral(e.E - 50, 280, run[i].temperature, &less, &err), &err);
    assert_ok(rw_iso_integral(e.E + 50, 280, run[i].temperature, &more, &err), &err);
    turn += log(more / less) / 100 / 3;
  }
  assert_close_rel(e.T_mid, -1 / (RW_GAS_CONSTANT * turn), 1e-7);
}

/* The order of the runs doesn't matter, nor does a common factor of the heating rates. */
static void invariances(void **state)
{
  (void)state;
  rw_iso_point run[3], turned[3];
  three_peaks(run);
  run[1].temperature += 1.5;
  for (int i = 0; i < 3; i++) {
    turned[i] = run[2 - i];
    turned[i].heating /= 60;
  }
  for (int m = RW_ISO_KISSINGER; m <= RW_ISO_VYAZOVKIN; m++) {
    rw_fit_energy a, b;
    rw_error err;
    assert_ok(rw_iso_energy((rw_iso_method)m, run, 3, 0.95, &a, &err), &err);
    assert_ok(rw_iso_energy((rw_iso_method)m, turned, 3, 0.95, &b, &err), &err);
    assert_close_rel(a.E, b.E, 1e-9);
    assert_close_rel(a.E_se, b.E_se, 1e-8);
    assert_ok(rw_iso_energy((rw_iso_method)m, run, 3, 0.99, &b, &err), &err);
    assert_true(b.E_low < a.E_low && b.E_high > a.E_high);
  }
}

/* Peaks that scatter by a normal error: nineteen of twenty 95 % intervals hold the truth, and the
 * rate constant is off by its standard error. */
static void coverage(void **state)
{
  (void)state;
  enum { LOGS = 2000 };
  static const rw_iso_method some[] = {RW_ISO_KISSINGER, RW_ISO_VYAZOVKIN};
  for (int m = 0; m < 2; m++) {
    rw_draws *draws = NULL;
    rw_error err;
    int held = 0;
    double off = 0, told = 0;
    assert_ok(rw_draws_create(4, 3, &draws, &err), &err);
    for (int log_ = 0; log_ < LOGS; log_++) {
      rw_iso_point run[4];
      double z[4];
      rw_draws_next(draws, z);
      for (int i = 0; i < 4; i++) {
        run[i] = peak_of(60000, 360 + 13 * i);
        run[i].start = 0;
        if (some[m] == RW_ISO_VYAZOVKIN) { /* heat such that the integrals agree */
          double whole = NAN;
          assert_ok(rw_iso_integral(60000, 0, run[i].temperature, &whole, &err), &err);
          run[i].heating = 2e6 * whole;
        }
        run[i].heating *= exp(0.05 * z[i]);
      }
      rw_fit_energy e;
      assert_ok(rw_iso_energy(some[m], run, 4, 0.95, &e, &err), &err);
      held += e.E_low <= 60000 && 60000 <= e.E_high;
      off += pow(e.log_k - log(2e6) + 60000 / (RW_GAS_CONSTANT * e.T_mid), 2);
      told += e.log_k_se * e.log_k_se;
    }
    rw_draws_destroy(draws);
    /* four standard deviations of a count of 2000 */
    assert_close(held, 0.95 * LOGS, 4 * sqrt(LOGS * 0.95 * 0.05));
    /* four standard deviations of a ratio of two such mean squares */
    assert_close_rel(off, told, 4 * sqrt(2.0 / LOGS + 1.0 / LOGS));
  }
}

/* The integral adds up, and is the sum of its own small pieces. */
static void integral(void **state)
{
  (void)state;
  static const double energies[] = {1000, 5000, 55000, 200000, 500000};
  rw_error err;
  for (int k = 0; k < 5; k++) {
    double E = energies[k], whole = NAN, low = NAN, high = NAN, sum = 0;
    assert_ok(rw_iso_integral(E, 250, 400, &whole, &err), &err);
    assert_ok(rw_iso_integral(E, 0, 250, &low, &err), &err);
    assert_ok(rw_iso_integral(E, 0, 400, &high, &err), &err);
    assert_close_rel(high - low, whole, 1e-13);
    /* Simpson's rule, 20000 steps: its error is below 1e-13 of the steepest of these */
    for (int i = 0; i <= 20000; i++) {
      double T = 250 + 150 * i / 20000.0;
      double weight = i == 0 || i == 20000 ? 1 : i % 2 == 1 ? 4 : 2;
      sum += weight * exp(-E / (RW_GAS_CONSTANT * T));
    }
    assert_close_rel(whole, sum * 150 / 20000 / 3, 1e-11);
  }
  double x = 7;
  assert_status(rw_iso_integral(55, 0, 300, &x, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "E");
  assert_status(rw_iso_integral(55000, 300, 300, &x, &err), RW_ERR_RANGE, &err);
  assert_status(rw_iso_integral(55000, -1, 300, &x, &err), RW_ERR_RANGE, &err);
  assert_status(rw_iso_integral(55000, 0, 300, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_close(x, 7, 0);
}

typedef struct sample {
  double T[READINGS], a[READINGS], rate[READINGS];
  rw_iso_curve c;
} sample;

static void bell(sample *s)
{
  for (int i = 0; i < READINGS; i++) {
    double z = (i - 4.2) / 2.5;
    s->T[i] = 340 + 10 * i;
    s->a[i] = 0.5 + 0.5 * tanh(z);
    s->rate[i] = 1e-3 * exp(-z * z);
  }
  s->c = (rw_iso_curve){
      .heating = 0.1, .temperature = s->T, .conversion = s->a, .rate = s->rate, .n = READINGS};
}

static void curve_refused(const sample *s, rw_status wanted, const char *word, long line)
{
  rw_iso_point p = {.temperature = 7};
  rw_error err;
  assert_status(rw_iso_pass(&s->c, 0.5, &p, &err), wanted, &err);
  check_explained(&err, word);
  assert_true(strlen(err.hint) > 0);
  assert_int_equal(err.line, line);
  assert_status(rw_iso_peak(&s->c, &p, NULL), wanted, NULL);
  assert_close(p.temperature, 7, 0);
}

static void curves_that_cannot_be(void **state)
{
  (void)state;
  sample s;
  bell(&s);
  s.a[5] = s.a[4] - 0.01;
  curve_refused(&s, RW_ERR_ORDER, "conversion falls", 6);
  bell(&s);
  s.T[3] = s.T[2];
  curve_refused(&s, RW_ERR_ORDER, "does not rise", 4);
  bell(&s);
  for (int i = 0; i < READINGS; i++)
    s.a[i] *= 100; /* per cent */
  curve_refused(&s, RW_ERR_RANGE, "conversion", 1);
  bell(&s);
  s.rate[2] = NAN;
  curve_refused(&s, RW_ERR_RANGE, "rate", 3);
  bell(&s);
  s.T[0] = 67; /* degC */
  curve_refused(&s, RW_ERR_RANGE, "temperature", 1);
  bell(&s);
  s.c.heating = 6; /* K/min */
  curve_refused(&s, RW_ERR_RANGE, "heating", 0);
  bell(&s);
  s.c.n = 4;
  curve_refused(&s, RW_ERR_ARGUMENT, "5 readings", 0);
  bell(&s);
  s.c.conversion = NULL;
  curve_refused(&s, RW_ERR_ARGUMENT, "conversion", 0);
  s.c.temperature = NULL;
  curve_refused(&s, RW_ERR_ARGUMENT, "temperature", 0);
}

static void places_on_a_curve(void **state)
{
  (void)state;
  sample s;
  bell(&s);
  rw_iso_point p = {.temperature = 7};
  rw_error err;
  assert_ok(rw_iso_pass(&s.c, s.a[3], &p, &err), &err);
  assert_close(p.temperature, s.T[3], 1e-6);
  assert_close(p.rate, s.rate[3], 1e-10);
  assert_close(p.heating, 0.1, 0);
  assert_ok(rw_iso_pass(&s.c, s.a[READINGS - 1] - 1e-12, &p, &err), &err);
  assert_ok(rw_iso_peak(&s.c, &p, &err), &err);
  assert_close(p.temperature, 382, 0.2); /* the middle of the bell, to a fiftieth of a step */
  p.temperature = 7;
  assert_status(rw_iso_pass(&s.c, 0.001, &p, &err), RW_ERR_COVERAGE, &err);
  check_explained(&err, "0.001");
  assert_status(rw_iso_pass(&s.c, 0.9999, &p, &err), RW_ERR_COVERAGE, &err);
  assert_status(rw_iso_pass(&s.c, 50, &p, &err), RW_ERR_RANGE, &err);
  assert_status(rw_iso_pass(NULL, 0.5, &p, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_iso_pass(&s.c, 0.5, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_iso_peak(NULL, &p, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_iso_peak(&s.c, NULL, &err), RW_ERR_ARGUMENT, &err);
  s.c.n = 5; /* the peak lies in the last of these */
  assert_status(rw_iso_peak(&s.c, &p, &err), RW_ERR_COVERAGE, &err);
  check_explained(&err, "last");
}

/* A dip beside the greatest reading: where the peak lies cannot be told. */
static void ragged_peak(void **state)
{
  (void)state;
  static const double jumps[READINGS] = {0, 0, 0.999, 0, 1, 0.9, 0.3, 0.1, 0};
  sample s;
  bell(&s);
  rw_iso_point p = {.temperature = 7};
  rw_error err;
  for (int i = 0; i < READINGS; i++)
    s.rate[i] = 1e-3 * jumps[i];
  assert_status(rw_iso_peak(&s.c, &p, &err), RW_ERR_NUMERIC, &err);
  check_explained(&err, "reading 5");
  assert_close(p.temperature, 7, 0);
}

static void scans(void **state)
{
  (void)state;
  sample s[3];
  rw_iso_curve list[3];
  static const double at[] = {0.2, 0.5, 0.8};
  for (int k = 0; k < 3; k++) {
    bell(&s[k]);
    for (int i = 0; i < READINGS; i++)
      s[k].T[i] += 15 * k;
    s[k].c.heating = 0.02 * pow(3, k);
    list[k] = s[k].c;
  }
  rw_fit_energy e[3], before[3];
  rw_error err;
  assert_ok(rw_iso_scan(RW_ISO_KAS, list, 3, at, 3, 0.95, e, &err), &err);
  for (int j = 0; j < 3; j++) {
    rw_iso_point p[3];
    rw_fit_energy one;
    for (int k = 0; k < 3; k++)
      assert_ok(rw_iso_pass(&list[k], at[j], &p[k], &err), &err);
    assert_ok(rw_iso_energy(RW_ISO_KAS, p, 3, 0.95, &one, &err), &err);
    assert_close(e[j].E, one.E, 0);
    assert_close(e[j].E_se, one.E_se, 0);
  }
  assert_status(rw_iso_scan(RW_ISO_KAS, list, 2, at, 3, 0.95, e, &err), RW_OUTSIDE_TESTED, &err);
  memset(e, 7, sizeof e);
  memcpy(before, e, sizeof e);
  static const double too_far[] = {0.5, 0.9999};
  assert_status(rw_iso_scan(RW_ISO_KAS, list, 3, too_far, 2, 0.95, e, &err), RW_ERR_COVERAGE,
                &err);
  check_explained(&err, "run 1: ");
  s[1].a[4] = 0;
  assert_status(rw_iso_scan(RW_ISO_KAS, list, 3, at, 3, 0.95, e, &err), RW_ERR_ORDER, &err);
  check_explained(&err, "run 2: reading 5");
  assert_int_equal(err.line, 5);
  bell(&s[1]);
  list[1].heating = list[2].heating = list[0].heating;
  assert_status(rw_iso_scan(RW_ISO_KAS, list, 3, at, 3, 0.95, e, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "at conversion 0.2: ");
  assert_status(rw_iso_scan(RW_ISO_E698, list, 3, at, 3, 0.95, e, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "peaks");
  assert_status(rw_iso_scan(RW_ISO_KAS, list, 3, at, 0, 0.95, e, &err), RW_ERR_RANGE, &err);
  assert_status(rw_iso_scan(RW_ISO_KAS, list, 1, at, 3, 0.95, e, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_iso_scan(RW_ISO_KAS, NULL, 3, at, 3, 0.95, e, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_iso_scan(RW_ISO_KAS, list, 3, NULL, 3, 0.95, e, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_iso_scan(RW_ISO_KAS, list, 3, at, 3, 0.95, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_memory_equal(e, before, sizeof e);
}

/* 50 kJ/mol exactly, two materials of different speed. */
static void times(void **state)
{
  (void)state;
  rw_fit_time run[5];
  static const double celsius[5] = {15, 25, 35, 18, 30};
  for (int i = 0; i < 5; i++) {
    double T = celsius[i] + 273.15;
    run[i] = (rw_fit_time){.temperature = T,
                           .time = (i < 3 ? 3600 : 900) *
                                   exp(50000 / RW_GAS_CONSTANT * (1 / T - 1 / 298.15)),
                           .material = i < 3 ? 1 : 2};
  }
  rw_fit_energy e;
  rw_error err;
  assert_ok(rw_fit_times(run, 5, 0, 0.95, &e, &err), &err);
  assert_close_rel(e.E, 50000, 1e-10);
  assert_true(isnan(e.log_k) && isnan(e.log_A) && e.freedom == 2 && e.E_high - e.E < 1e-3);
  assert_ok(rw_fit_times(run, 3, 0, 0.95, &e, &err), &err);
  assert_close(e.log_k, -log(3600) - 50000 / RW_GAS_CONSTANT * (1 / e.T_mid - 1 / 298.15), 1e-9);
  /* runs on a line by luck claim no more than their times allow */
  assert_ok(rw_fit_times(run, 3, 0.05, 0.95, &e, &err), &err);
  double lever = 0;
  for (int i = 0; i < 3; i++)
    lever += pow(1 / run[i].temperature - 1 / e.T_mid, 2);
  assert_close_rel(e.E_se, 0.05 * RW_GAS_CONSTANT / sqrt(lever), 1e-9);
  assert_true(e.scatter < 1e-9);
  assert_status(rw_fit_times(run, 2, 0, 0.95, &e, &err), RW_OUTSIDE_TESTED, &err);
  assert_true(isnan(e.E_se) && isnan(e.E_low));
  assert_close_rel(e.E, 50000, 1e-10);
}

static void times_refused(void **state)
{
  (void)state;
  rw_fit_time run[3] = {{298.15, 3600, 0}, {308.15, 1800, 0}, {318.15, 900, 0}};
  rw_fit_energy e = {.E = 7};
  rw_error err;
  assert_status(rw_fit_times(run, 1, 0, 0.95, &e, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "is one");
  assert_status(rw_fit_times(run, 3, 5, 0.95, &e, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "timing");
  assert_status(rw_fit_times(run, 3, NAN, 0.95, &e, &err), RW_ERR_RANGE, &err);
  assert_status(rw_fit_times(run, 3, 0, 1, &e, &err), RW_ERR_RANGE, &err);
  assert_status(rw_fit_times(NULL, 3, 0, 0.95, &e, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_fit_times(run, 3, 0, 0.95, NULL, &err), RW_ERR_ARGUMENT, &err);
  run[1].temperature = 35;
  assert_status(rw_fit_times(run, 3, 0, 0.95, &e, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "run 2: temperature");
  run[1] = (rw_fit_time){308.15, -4, 0};
  assert_status(rw_fit_times(run, 3, 0, 0.95, &e, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "run 2: time");
  run[1] = (rw_fit_time){308.15, 7200, 0};
  assert_status(rw_fit_times(run, 2, 0, 0.95, &e, &err), RW_ERR_NUMERIC, &err);
  check_explained(&err, "no faster");
  run[1].material = 4;
  assert_status(rw_fit_times(run, 2, 0, 0.95, &e, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "two different temperatures");
  assert_close(e.E, 7, 0);
}

static void changes(void **state)
{
  (void)state;
  static const double t[] = {0, 10, 20, 40}, v[] = {0.1, 0.3, 0.3, 0.9};
  double d = 7;
  rw_error err;
  assert_ok(rw_fit_change(t, v, 4, 0.2, 0.6, &d, &err), &err);
  assert_close(d, 25, 1e-12);
  assert_ok(rw_fit_change(t, v, 4, 0.1, 0.9, &d, &err), &err);
  assert_close(d, 40, 1e-12);
  d = 7;
  assert_status(rw_fit_change(t, v, 4, 0.05, 0.6, &d, &err), RW_ERR_COVERAGE, &err);
  check_explained(&err, "begins above 0.05");
  assert_status(rw_fit_change(t, v, 4, 0.2, 0.95, &d, &err), RW_ERR_COVERAGE, &err);
  check_explained(&err, "never reaches 0.95");
  assert_status(rw_fit_change(t, v, 4, 0.6, 0.2, &d, &err), RW_ERR_RANGE, &err);
  assert_status(rw_fit_change(t, v, 4, NAN, 0.2, &d, &err), RW_ERR_RANGE, &err);
  assert_status(rw_fit_change(t, v, 1, 0.2, 0.6, &d, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_fit_change(v, t, 4, 0.2, 0.6, &d, &err), RW_ERR_ORDER, &err);
  check_explained(&err, "reading 3");
  assert_int_equal(err.line, 3);
  assert_status(rw_fit_change(NULL, v, 4, 0.2, 0.6, &d, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_fit_change(t, NULL, 4, 0.2, 0.6, &d, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_fit_change(t, v, 4, 0.2, 0.6, NULL, &err), RW_ERR_ARGUMENT, &err);
  static const double broken[] = {0.1, NAN, 0.3, 0.9};
  assert_status(rw_fit_change(t, broken, 4, 0.2, 0.6, &d, &err), RW_ERR_RANGE, &err);
  assert_close(d, 7, 0);
}

/* Closed forms: 1 degree tan(pi (p - 1/2)), 2 degrees (2p - 1)/sqrt(2 p (1 - p)). */
static void student(void **state)
{
  (void)state;
  static const double pi = 3.14159265358979323846;
  for (double p = 0.001; p < 1; p += 0.0371) {
    assert_close_rel(rw_num_student_quantile(p, 1), tan(pi * (p - 0.5)), 1e-11);
    assert_close_rel(rw_num_student_quantile(p, 2), (2 * p - 1) / sqrt(2 * p * (1 - p)), 1e-12);
    assert_close_rel(rw_num_student_quantile(p, 100000000), rw_num_normal_quantile(p), 1e-6);
    /* the sum and the expansion meet */
    assert_close_rel(rw_num_student_quantile(p, 19999), rw_num_student_quantile(p, 20001), 2e-8);
  }
  for (size_t n = 1; n < 60; n++)
    assert_true(rw_num_student_quantile(0.975, n) > rw_num_student_quantile(0.975, n + 1));
  assert_close(rw_num_student_quantile(0.5, 7), 0, 0);
  assert_true(isnan(rw_num_student_quantile(0, 3)) && isnan(rw_num_student_quantile(1, 3)));
  assert_true(isnan(rw_num_student_quantile(0.9, 0)) && isnan(rw_num_student_quantile(NAN, 3)));
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(too_few_or_alike),
      cmocka_unit_test(units_mixed_up),
      cmocka_unit_test(two_runs_have_no_interval),
      cmocka_unit_test(exact_lines),
      cmocka_unit_test(middle_of_the_integrals),
      cmocka_unit_test(invariances),
      cmocka_unit_test(coverage),
      cmocka_unit_test(integral),
      cmocka_unit_test(curves_that_cannot_be),
      cmocka_unit_test(places_on_a_curve),
      cmocka_unit_test(ragged_peak),
      cmocka_unit_test(scans),
      cmocka_unit_test(times),
      cmocka_unit_test(times_refused),
      cmocka_unit_test(changes),
      cmocka_unit_test(student),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
