/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steady and heated cures against values computed elsewhere and against closed forms. */
#include "check.h"

#include <math.h>
#include <stdio.h>

static const double ZERO = 273.15, T_REF = 298.15, MINUTE = 60;
static const double E = 85320, A = 3.35e8;
enum { RATES = 4 };
static const double per_minute[RATES] = {2.5, 5, 10, 20};

static rw_cure_law order_law(double n)
{
  return (rw_cure_law){
      .kind = RW_LAW_NTH_ORDER, .k1 = rw_rate_at(A, E, T_REF), .E1 = E, .n = n, .T_ref = T_REF};
}

static rw_rate_peak peak_of(double n, double heating)
{
  rw_cure_law law = order_law(n);
  rw_ramp ramp = {.from = 25 + ZERO, .to = 225 + ZERO, .heating = heating};
  rw_rate_peak peak = {0};
  rw_error err;
  /* The end of the heating lies above the temperatures the engine was tested at. */
  assert_status(rw_ramp_find(&law, &ramp, &peak, &err), RW_OUTSIDE_TESTED, &err);
  return peak;
}

static void heated_peaks(void **state)
{
  (void)state;
  static const char *const peaks[2][RATES] = {
      {"peak-1-2.5", "peak-1-5", "peak-1-10", "peak-1-20"},
      {"peak-3-2.5", "peak-3-5", "peak-3-10", "peak-3-20"}};
  static const char *const cures[2][RATES] = {
      {"cure-1-2.5", "cure-1-5", "cure-1-10", "cure-1-20"},
      {"cure-3-2.5", "cure-3-5", "cure-3-10", "cure-3-20"}};
  for (int k = 0; k < 2; k++)
    for (int i = 0; i < RATES; i++) {
      rw_rate_peak p = peak_of(k == 0 ? 1 : 3, per_minute[i] / MINUTE);
      check_point("cure_map", peaks[k][i], p.T - ZERO);
      check_point("cure_map", cures[k][i], p.cure);
      assert_close(p.time, (p.T - 25 - ZERO) / per_minute[i] * MINUTE, 1e-6);
    }
}

/* The rate is greatest where E b/(R T^2) = n (1 - a)^(n - 1) k(T): exact for any order. */
static double misfit(double n, double heating)
{
  rw_rate_peak p = peak_of(n, heating);
  double rise = E * heating / (RW_GAS_CONSTANT * p.T * p.T);
  return rise / (n * pow(1 - p.cure, n - 1) * A * exp(-E / (RW_GAS_CONSTANT * p.T))) - 1;
}

static void peak_condition(void **state)
{
  (void)state;
  check_point("cure_map", "kissinger-3-2.5", misfit(3, 2.5 / MINUTE));
  check_point("cure_map", "kissinger-3-20", misfit(3, 20 / MINUTE));
  static const double n[] = {1, 1.5, 2};
  for (size_t i = 0; i < sizeof n / sizeof *n; i++)
    for (int k = 0; k < RATES; k++)
      assert_close(misfit(n[i], per_minute[k] / MINUTE), 0, 1e-5);
}

/* An order below 1 is complete in a finite time, in the middle of the heating. */
static void peak_condition_of_half_an_order(void **state)
{
  (void)state;
  for (int k = 0; k < RATES; k++)
    assert_close(misfit(0.5, per_minute[k] / MINUTE), 0, 1e-5);
}

/* ln(b/T^2) = ln(A R/E) - E/(R T): a line through the peaks gives back what went in. */
static void kissinger_line(void **state)
{
  (void)state;
  double sx = 0, sy = 0, sxx = 0, sxy = 0;
  for (int i = 0; i < RATES; i++) {
    double b = per_minute[i] / MINUTE, T = peak_of(1, b).T, x = 1 / T, y = log(b / (T * T));
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
  }
  double slope = (RATES * sxy - sx * sy) / (RATES * sxx - sx * sx);
  double energy = -slope * RW_GAS_CONSTANT, level = (sy - slope * sx) / RATES;
  check_point("cure_map", "kissinger-E", energy / 1e3);
  check_point("cure_map", "kissinger-A", exp(level) * energy / RW_GAS_CONSTANT);
}

/* -ln(1 - a) = k t, and ((1 - a)^(1 - n) - 1)/(n - 1) = k t. */
static double closed_time(double n, double k, double a)
{
  return (n == 1 ? -log1p(-a) : (pow(1 - a, 1 - n) - 1) / (n - 1)) / k;
}

static void steady_orders(void **state)
{
  (void)state;
  static const double n[] = {0.5, 1, 2, 3}, a[] = {0.99, 0.1, 0.5, 0.9, 0};
  enum { CURES = sizeof a / sizeof *a };
  for (size_t i = 0; i < sizeof n / sizeof *n; i++)
    for (double celsius = 20; celsius < 121; celsius += 50) {
      rw_cure_law law = order_law(n[i]);
      rw_steady s = {.T = celsius + ZERO, .span = 1e11};
      double k = A * exp(-E / (RW_GAS_CONSTANT * s.T)), time[CURES];
      rw_steady_marks m;
      rw_error err;
      assert_ok(rw_steady_times(&law, &s, a, CURES, time, &err), &err);
      for (int c = 0; c < CURES; c++)
        assert_close_rel(time[c], closed_time(n[i], k, a[c]), 1e-6);
      assert_ok(rw_steady_find(&law, &s, &m, &err), &err);
      assert_close_rel(m.peak.rate, k, 1e-9);
      assert_close(m.peak.cure, 0, 0);
      assert_close(m.peak.time, 0, 0);
      assert_close_rel(m.half_time, closed_time(n[i], k, 0.5), 1e-6);
    }
}

/* da/dt = k a (1 - a): greatest at a half, and a/(1 - a) grows as exp(k t). */
static void steady_logistic(void **state)
{
  (void)state;
  rw_cure_law law = {
      .kind = RW_LAW_KAMAL, .k2 = 1e-4, .E1 = 60e3, .E2 = 60e3, .m = 1, .n = 1, .T_ref = T_REF};
  rw_steady s = {.T = T_REF, .start = 0.01, .span = 1e6};
  rw_steady_marks m;
  rw_error err;
  assert_ok(rw_steady_find(&law, &s, &m, &err), &err);
  assert_close_rel(m.peak.rate, 1e-4 / 4, 1e-12);
  assert_close(m.peak.cure, 0.5, 1e-5);
  assert_close_rel(m.peak.time, log(99) / 1e-4, 1e-4);
  assert_close_rel(m.half_time, log(99) / 1e-4, 1e-7);
  rw_resin r;
  assert_ok(rw_resin_find("slow-polyetheramine", &r, &err), &err);
  r.law = law;
  double time = 5e4;
  rw_cure_state there;
  assert_ok(rw_steady_states(&r, &s, &time, 1, &there, &err), &err);
  assert_close(there.cure, 1 / (1 + 99 * exp(-5)), 1e-9);
  assert_close_rel(there.rate, 1e-4 * there.cure * (1 - there.cure), 1e-12);
}

static rw_cure_law fit_law(const rw_table *t, size_t row)
{
  return (rw_cure_law){.kind = RW_LAW_PLATEAU,
                       .k1 = pow(10, check_cell(t, row, "log10_k1")),
                       .E1 = 60e3,
                       .k2 = pow(10, check_cell(t, row, "log10_k2")),
                       .E2 = 60e3,
                       .m = check_cell(t, row, "m"),
                       .n = check_cell(t, row, "n"),
                       .T_ref = check_cell(t, row, "temp_C") + ZERO,
                       .limit = check_cell(t, row, "r")};
}

/* Eighteen steady cures with broken powers of the degree of cure and a plateau of their own. */
static void calorimeter_runs(void **state)
{
  (void)state;
  static const char *const columns[] = {"t10_min", "t30_min", "t50_min", "thalf_min"};
  rw_table *fits = check_table("table_dsc_isothermal_fits");
  rw_table *times = check_table("table_dsc_isothermal_times");
  assert_int_equal(rw_table_rows(fits), 18);
  assert_int_equal(rw_table_rows(times), 18);
  int compared = 0;
  for (size_t row = 0; row < 18; row++) {
    assert_string_equal(check_text(fits, row, "amine"), check_text(times, row, "amine"));
    assert_close(check_cell(fits, row, "temp_C"), check_cell(times, row, "temp_C"), 0);
    rw_cure_law law = fit_law(fits, row);
    rw_steady s = {.T = law.T_ref, .span = 1e8};
    double cure[] = {0.1, 0.3, 0.5, 0.5 * law.limit}, time[4];
    rw_steady_marks m;
    rw_error err;
    assert_ok(rw_steady_times(&law, &s, cure, 4, time, &err), &err);
    for (int c = 0; c < 4; c++) {
      if (check_text(times, row, columns[c])[0] == '\0')
        continue;
      assert_close_rel(time[c], check_cell(times, row, columns[c]) * MINUTE, 1e-3);
      compared++;
    }
    assert_ok(rw_steady_find(&law, &s, &m, &err), &err);
    assert_close_rel(m.peak.rate, check_cell(times, row, "peak_rate_per_s"), 1e-3);
    assert_close(m.peak.cure, check_cell(times, row, "alpha_peak"), 0.005);
    if (law.limit <= 1)
      assert_close_rel(m.half_time, check_cell(times, row, "thalf_min") * MINUTE, 1e-3);
    /* What lies above the plateau is never reached. */
    double above = 0.5 * (1 + fmin(law.limit, 1));
    if (law.limit < 1) {
      assert_ok(rw_steady_times(&law, &s, &above, 1, time, &err), &err);
      assert_true(time[0] == HUGE_VAL);
    }
  }
  assert_int_equal(compared, 18 * 4 - 6);
  rw_table_destroy(fits);
  rw_table_destroy(times);
}

/* First order: t(a) = -ln(1 - a)/k(T), so the nose is where d ln t/dT = 0, found on the closed
 * form by sections of its own. */
static double glass_log(double T, const rw_glass *g)
{
  double a = NAN;
  rw_error err;
  assert_ok(rw_glass_conversion(g, T, &a, &err), &err);
  return log(-log1p(-a)) + E / (RW_GAS_CONSTANT * T);
}

static void nose(void **state)
{
  (void)state;
  rw_resin r;
  rw_error err;
  rw_map_marks m;
  assert_ok(rw_resin_find("medium-cycloaliphatic", &r, &err), &err);
  r.law = order_law(1);
  r.glass = (rw_glass){ZERO - 20, ZERO + 120, 0.4};
  assert_ok(rw_cure_map_find(&r, 1e11, &m, &err), &err);
  double low = ZERO + 80, high = ZERO + 119.9;
  while (high - low > 1e-5) {
    double third = (high - low) / 3;
    if (glass_log(low + third, &r.glass) < glass_log(high - third, &r.glass))
      high -= third;
    else
      low += third;
  }
  assert_close(m.nose_T, low, 0.01);
  assert_close_rel(m.nose_time, exp(glass_log(low, &r.glass)) / A, 1e-6);
  assert_close(m.Tg0, ZERO - 20, 1e-12);
  assert_close(m.Tg_inf, ZERO + 120, 1e-9);
  /* (5) by hand at the gel. */
  double a = r.flow.a_gel;
  assert_close(m.gel_Tg, ZERO - 20 + 140 * 0.4 * a / (1 - 0.6 * a), 1e-9);
}

/* Every curve of a first-order map has a closed form. */
static void map_rows(void **state)
{
  (void)state;
  rw_resin r;
  rw_error err;
  assert_ok(rw_resin_find("medium-cycloaliphatic", &r, &err), &err);
  r.law = order_law(1);
  r.glass = (rw_glass){ZERO - 20, ZERO + 120, 0.4};
  const rw_map_plan plan = {1e11, 0.95};
  enum { N = 5 };
  const double T[N] = {ZERO - 10, ZERO + 20, ZERO + 60, ZERO + 110, ZERO + 126};
  rw_map_row row[N];
  assert_ok(rw_cure_map(&r, &plan, T, N, row, &err), &err);
  for (int i = 0; i < N; i++) {
    double k = A * exp(-E / (RW_GAS_CONSTANT * T[i]));
    assert_close(row[i].T, T[i], 0);
    assert_close_rel(row[i].gel, closed_time(1, k, r.flow.a_gel), 1e-6);
    assert_close_rel(row[i].full, closed_time(1, k, 0.95), 1e-6);
    assert_close(row[i].plateau, 1, 1e-9);
    assert_close(row[i].plateau_Tg, ZERO + 120, 1e-6);
    if (i == N - 1)
      assert_true(row[i].glass == HUGE_VAL);
    else
      assert_close_rel(row[i].glass, exp(glass_log(T[i], &r.glass)) / A, 1e-6);
  }
}

static void all_used(void **state)
{
  (void)state;
  check_all_points_used("cure_map");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(heated_peaks),
      cmocka_unit_test(peak_condition),
      cmocka_unit_test(peak_condition_of_half_an_order),
      cmocka_unit_test(kissinger_line),
      cmocka_unit_test(steady_orders),
      cmocka_unit_test(steady_logistic),
      cmocka_unit_test(calorimeter_runs),
      cmocka_unit_test(nose),
      cmocka_unit_test(map_rows),
      cmocka_unit_test(all_used),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
