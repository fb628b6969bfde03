/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Isoconversional and peak methods against exact answers, Student's t against a printed table, and
 * the energies of measured series. */
#include "check.h"

#include <math.h>
#include <string.h>

enum { RUNS = 4, MOST = 600 };

static const double ZERO = 273.15, MINUTE = 60, EXACT = 1e-8;
static const double BETA[RUNS] = {2, 5, 10, 20};

static rw_fit_energy energy(rw_iso_method method, const rw_iso_point *run, size_t n)
{
  rw_fit_energy e = {.E = NAN};
  rw_error err;
  assert_ok(rw_iso_energy(method, run, n, 0.95, &e, &err), &err);
  return e;
}

/* The four runs of a law at a conversion; 0 stands for the peaks. */
static void runs_of(const rw_table *t, const char *law, double conversion, rw_iso_point *run)
{
  size_t n = 0;
  const char *T = conversion > 0 ? "T_K" : "Tp_K";
  const char *rate = conversion > 0 ? "dalpha_dt_per_s" : "rate_p_per_s";
  for (size_t row = 0; row < rw_table_rows(t); row++) {
    if (strcmp(check_text(t, row, "model"), law) != 0)
      continue;
    if (conversion > 0 && fabs(check_cell(t, row, "alpha") - conversion) > 1e-12)
      continue;
    assert_true(n < RUNS);
    assert_close(check_cell(t, row, "beta_K_per_min"), BETA[n], 0);
    run[n] = (rw_iso_point){.heating = BETA[n] / MINUTE,
                            .temperature = check_cell(t, row, T),
                            .rate = check_cell(t, row, rate),
                            .start = ZERO};
    n++;
  }
  assert_int_equal(n, RUNS);
}

static const struct {
  const char *name;
  rw_iso_method method;
  int at_peak;
} methods[] = {
    {"kissinger", RW_ISO_KISSINGER, 1},
    {"ozawa_peak", RW_ISO_OFW, 1},
    {"starink_peak", RW_ISO_STARINK, 1},
    {"friedman", RW_ISO_FRIEDMAN, 0},
    {"ofw", RW_ISO_OFW, 0},
    {"kas", RW_ISO_KAS, 0},
    {"starink", RW_ISO_STARINK, 0},
    {"vyazovkin", RW_ISO_VYAZOVKIN, 0},
    {"vyazovkin_from0", RW_ISO_VYAZOVKIN, 0},
};

/* What the column aux says of a method. */
static void check_aux(const char *name, double aux, const rw_fit_energy *e)
{
  if (strcmp(name, "kissinger") == 0 || strcmp(name, "friedman") == 0)
    assert_close_rel(e->log_A, aux, EXACT);
  else
    assert_close_rel(e->objective, aux, EXACT);
}

static void every_row_of_the_exact_answers(void **state)
{
  (void)state;
  rw_table *wanted = check_table("table_isoconv_expected");
  rw_table *places = check_table("table_isoconv_temperatures");
  rw_table *peaks = check_table("table_isoconv_peaks");
  size_t rows = rw_table_rows(wanted), done = 0;
  assert_true(rows > 400);
  for (size_t row = 0; row < rows; row++) {
    const char *name = check_text(wanted, row, "method");
    size_t k = 0;
    while (k < sizeof methods / sizeof *methods && strcmp(methods[k].name, name) != 0)
      k++;
    assert_true(k < sizeof methods / sizeof *methods);
    rw_iso_point run[RUNS];
    double conversion = methods[k].at_peak ? 0 : check_cell(wanted, row, "alpha");
    runs_of(methods[k].at_peak ? peaks : places, check_text(wanted, row, "model"), conversion,
            run);
    for (size_t i = 0; i < RUNS && strcmp(name, "vyazovkin_from0") == 0; i++)
      run[i].start = 0;
    rw_fit_energy e = energy(methods[k].method, run, RUNS);
    assert_close_rel(e.E, check_cell(wanted, row, "E_J_per_mol"), EXACT);
    if (check_text(wanted, row, "aux")[0] != '\0')
      check_aux(name, check_cell(wanted, row, "aux"), &e);
    done++;
  }
  assert_int_equal(done, rows);
  rw_table_destroy(wanted);
  rw_table_destroy(places);
  rw_table_destroy(peaks);
}

/* With the start known the integral method finds A too: g of a first-order cure is -ln(1-a). */
static void factor_of_the_integral_method(void **state)
{
  (void)state;
  rw_table *places = check_table("table_isoconv_temperatures");
  rw_iso_point run[RUNS];
  for (double a = 0.1; a < 0.95; a += 0.4) {
    runs_of(places, "F1", a, run);
    rw_fit_energy e = energy(RW_ISO_VYAZOVKIN, run, RUNS);
    assert_close(e.log_A + log(-log(1 - a)), log(2e5), 1e-7);
    assert_close(e.log_k + e.E / (RW_GAS_CONSTANT * e.T_mid), e.log_A, 1e-10);
    assert_true(e.T_mid > ZERO && e.T_mid < run[RUNS - 1].temperature);
  }
  rw_table_destroy(places);
}

typedef struct curve {
  double T[MOST], a[MOST], rate[MOST];
  rw_iso_curve c;
} curve;

static void curve_of(const rw_table *t, const char *law, double beta, int with_rate, curve *out)
{
  size_t n = 0;
  for (size_t row = 0; row < rw_table_rows(t); row++) {
    if (strcmp(check_text(t, row, "model"), law) != 0 ||
        fabs(check_cell(t, row, "beta_K_per_min") - beta) > 1e-12)
      continue;
    assert_true(n < MOST);
    out->T[n] = check_cell(t, row, "T_K");
    out->a[n] = check_cell(t, row, "alpha");
    out->rate[n++] = check_cell(t, row, "dalpha_dt_per_s");
  }
  out->c = (rw_iso_curve){.heating = beta / MINUTE,
                          .start = ZERO,
                          .temperature = out->T,
                          .conversion = out->a,
                          .rate = with_rate ? out->rate : NULL,
                          .n = n};
}

/* Read every 2 K, with and without the rates. */
static void whole_runs(void **state)
{
  (void)state;
  static const char *const laws[] = {"F1", "F1.5", "F2"};
  static const double conversion[] = {0.05, 0.2, 0.5, 0.8, 0.95};
  static const rw_iso_method two[] = {RW_ISO_FRIEDMAN, RW_ISO_VYAZOVKIN};
  static curve runs[RUNS];
  rw_table *t = check_table("table_isoconv_curves");
  for (size_t k = 0; k < 6; k++) {
    rw_iso_curve list[RUNS];
    for (size_t i = 0; i < RUNS; i++) {
      curve_of(t, laws[k / 2], BETA[i], k % 2 == 0, &runs[i]);
      list[i] = runs[i].c;
    }
    for (size_t m = 0; m < 2; m++) {
      rw_fit_energy e[5];
      rw_error err;
      assert_ok(rw_iso_scan(two[m], list, RUNS, conversion, 5, 0.95, e, &err), &err);
      for (size_t j = 0; j < 5; j++)
        assert_close_rel(e[j].E, 55000, 1e-3);
    }
  }
  rw_table_destroy(t);
}

static void peaks_of_whole_runs(void **state)
{
  (void)state;
  static const char *const laws[] = {"F1", "F1.5", "F2"};
  static curve one;
  rw_table *t = check_table("table_isoconv_curves");
  rw_table *peaks = check_table("table_isoconv_peaks");
  for (size_t k = 0; k < 6; k++) {
    rw_iso_point exact[RUNS], found[RUNS];
    runs_of(peaks, laws[k / 2], 0, exact);
    for (size_t i = 0; i < RUNS; i++) {
      rw_error err;
      curve_of(t, laws[k / 2], BETA[i], k % 2 == 0, &one);
      assert_ok(rw_iso_peak(&one.c, &found[i], &err), &err);
      /* a thousandth of the span of the peaks, 45 K */
      assert_close(found[i].temperature, exact[i].temperature, 0.045);
      assert_close_rel(found[i].rate, exact[i].rate, 1e-3);
      assert_close(found[i].heating, exact[i].heating, 0);
    }
    assert_close_rel(energy(RW_ISO_KISSINGER, found, RUNS).E,
                     energy(RW_ISO_KISSINGER, exact, RUNS).E, 1e-3);
  }
  rw_table_destroy(t);
  rw_table_destroy(peaks);
}

static void printed_peaks(void **state)
{
  (void)state;
  rw_table *t = check_table("table_kissinger_peaks");
  rw_iso_point run[RUNS];
  assert_int_equal(rw_table_rows(t), RUNS);
  for (size_t i = 0; i < RUNS; i++)
    run[i] = (rw_iso_point){.heating = check_cell(t, i, "beta_K_per_min") / MINUTE,
                            .temperature = check_cell(t, i, "Tp_C") + ZERO};
  rw_table_destroy(t);
  rw_fit_energy kissinger = energy(RW_ISO_KISSINGER, run, RUNS);
  check_point("fit_iso", "kissinger-E", kissinger.E / 1000);
  check_point("fit_iso", "kissinger-A", exp(kissinger.log_A));
  check_point("fit_iso", "ozawa-E", energy(RW_ISO_OFW, run, RUNS).E / 1000);
  check_point("fit_iso", "starink-E", energy(RW_ISO_STARINK, run, RUNS).E / 1000);
  rw_fit_energy e698 = energy(RW_ISO_E698, run, RUNS);
  check_point("fit_iso", "e698-E", e698.E / 1000);
  assert_close(e698.log_k, kissinger.log_k, 1e-3);
}

static double exact_divisor(double x)
{
  double T = 350, integral = NAN;
  rw_error err;
  assert_ok(rw_iso_integral(x * RW_GAS_CONSTANT * T, 0, T, &integral, &err), &err);
  return T * exp(-x) / (x * integral);
}

/* Two first-order peaks close about 350 K with that E/RT: the divisor is slope over energy. */
static double divisor_of_e698(double x)
{
  rw_iso_point run[2];
  for (int i = 0; i < 2; i++) {
    double T = 349 + 2 * i;
    run[i] = (rw_iso_point){.heating = 1e-3 * T * T / (350 * 350) * exp(x * (1 - 350 / T)),
                            .temperature = T};
  }
  rw_fit_energy straight, divided;
  rw_error err;
  assert_status(rw_iso_energy(RW_ISO_OFW, run, 2, 0.95, &straight, &err), RW_OUTSIDE_TESTED, &err);
  assert_status(rw_iso_energy(RW_ISO_E698, run, 2, 0.95, &divided, &err), RW_OUTSIDE_TESTED, &err);
  assert_close_rel(divided.E, x * RW_GAS_CONSTANT * 350, 1e-5);
  return 1.052 * straight.E / divided.E;
}

static void divisors(void **state)
{
  (void)state;
  check_point("fit_iso", "divisor-10", exact_divisor(10));
  check_point("fit_iso", "divisor-20", exact_divisor(20));
  check_point("fit_iso", "divisor-30", exact_divisor(30));
  check_point("fit_iso", "divisor-e698-10", divisor_of_e698(10));
  check_point("fit_iso", "divisor-e698-20", divisor_of_e698(20));
  check_point("fit_iso", "divisor-e698-30", divisor_of_e698(30));
}

static void scatter_of_a_line(void **state)
{
  (void)state;
  static const double T[RUNS] = {356.9, 372.1, 387.0, 400.6};
  rw_iso_point run[RUNS];
  for (size_t i = 0; i < RUNS; i++)
    run[i] = (rw_iso_point){.heating = BETA[i] / MINUTE, .temperature = T[i], .start = ZERO};
  rw_fit_energy e = energy(RW_ISO_KISSINGER, run, RUNS);
  check_point("fit_iso", "noisy-E", e.E);
  check_point("fit_iso", "noisy-se", e.E_se);
  check_point("fit_iso", "noisy-reach", e.E_high - e.E);
  check_point("fit_iso", "noisy-scatter", e.scatter);
  check_point("fit_iso", "noisy-lnA", e.log_A);
  assert_close_rel(e.E - e.E_low, e.E_high - e.E, 1e-9);
  assert_int_equal(e.freedom, 2);
  /* the integral method tells nearly the same scatter */
  rw_fit_energy v = energy(RW_ISO_VYAZOVKIN, run, RUNS);
  assert_close_rel(v.E_se, e.E_se, 0.02);
  assert_close_rel(v.scatter, e.scatter, 0.02);
}

static void student(void **state)
{
  (void)state;
  static const struct {
    const char *id;
    double tail;
    size_t freedom;
  } rows[] = {{"t-90-1", 0.1, 1},      {"t-95-1", 0.05, 1},     {"t-975-1", 0.025, 1},
              {"t-995-1", 0.005, 1},   {"t-999-1", 0.001, 1},   {"t-975-2", 0.025, 2},
              {"t-999-2", 0.001, 2},   {"t-975-3", 0.025, 3},   {"t-995-3", 0.005, 3},
              {"t-95-5", 0.05, 5},     {"t-975-5", 0.025, 5},   {"t-9975-10", 0.0025, 10},
              {"t-975-10", 0.025, 10}, {"t-999-15", 0.001, 15}, {"t-975-30", 0.025, 30},
              {"t-99-40", 0.01, 40}};
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    double t = rw_num_student_quantile(1 - rows[i].tail, rows[i].freedom);
    check_point("fit_iso", rows[i].id, t);
    assert_close(rw_num_student_quantile(rows[i].tail, rows[i].freedom), -t, 1e-9 * t);
  }
}

static rw_fit_time timed(const rw_table *t, const char *amine, double celsius, int material)
{
  double time[64], index[64], duration = NAN;
  size_t n = 0;
  for (size_t row = 0; row < rw_table_rows(t); row++) {
    if (strcmp(check_text(t, row, "amine"), amine) != 0 ||
        fabs(check_cell(t, row, "temp_C") - celsius) > 1e-9)
      continue;
    assert_true(n < 64);
    time[n] = check_cell(t, row, "time_min") * MINUTE;
    index[n++] = check_cell(t, row, "index");
  }
  rw_error err;
  assert_ok(rw_fit_change(time, index, n, 0.2, 0.8, &duration, &err), &err);
  return (rw_fit_time){.temperature = celsius + ZERO, .time = duration, .material = material};
}

static void check_band(const rw_fit_energy *e)
{
  assert_true(e->E > 45000 && e->E < 70000);
  assert_true(e->E_high - e->E > 10000 && e->E - e->E_low > 10000);
}

/* Three temperatures alone, and with the other amine, must not claim better than 10 kJ/mol. */
static void measured_series(void **state)
{
  (void)state;
  static const char *const ids[2][3] = {{"nmr-dab-25", "nmr-dab-33", "nmr-dab-40"},
                                        {"nmr-dap-25", "nmr-dap-33", "nmr-dap-40"}};
  static const char *const amine[2] = {"DAB", "DAP"}, *const two[2] = {"nmr-dab-two",
                                                                       "nmr-dap-two"};
  static const double celsius[3] = {25, 33, 40};
  rw_table *t = check_table("table_nmr_mobility");
  rw_fit_time run[6];
  rw_fit_energy e;
  rw_error err;
  double off = 0; /* each time is good for 0.2 min */
  for (int a = 0; a < 2; a++) {
    for (int i = 0; i < 3; i++) {
      run[3 * a + i] = timed(t, amine[a], celsius[i], a);
      check_point("fit_iso", ids[a][i], run[3 * a + i].time / MINUTE);
      off = fmax(off, 0.2 * MINUTE / run[3 * a + i].time);
    }
    rw_fit_time ends[2] = {run[3 * a], run[3 * a + 2]};
    assert_status(rw_fit_times(ends, 2, off, 0.95, &e, &err), RW_OUTSIDE_TESTED, &err);
    check_point("fit_iso", two[a], e.E / 1000);
    assert_true(isnan(e.E_low) && isnan(e.E_high));
    assert_ok(rw_fit_times(&run[3 * a], 3, off, 0.95, &e, &err), &err);
    check_band(&e);
  }
  assert_ok(rw_fit_times(run, 6, off, 0.95, &e, &err), &err);
  check_band(&e);
  check_point("fit_iso", "nmr-both-E", e.E / 1000);
  check_point("fit_iso", "nmr-both-se", e.E_se / 1000);
  check_point("fit_iso", "nmr-eda-25", timed(t, "EDA", 25, 0).time / MINUTE);
  rw_table_destroy(t);
}

static void every_point_was_compared(void **state)
{
  (void)state;
  check_all_points_used("fit_iso");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(every_row_of_the_exact_answers),
      cmocka_unit_test(factor_of_the_integral_method),
      cmocka_unit_test(whole_runs),
      cmocka_unit_test(peaks_of_whole_runs),
      cmocka_unit_test(printed_peaks),
      cmocka_unit_test(divisors),
      cmocka_unit_test(scatter_of_a_line),
      cmocka_unit_test(student),
      cmocka_unit_test(measured_series),
      cmocka_unit_test(every_point_was_compared),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
