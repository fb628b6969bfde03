/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cure engine against values computed elsewhere. */
#include "check.h"

#include <math.h>
#include <string.h>

static const double HOUR = 3600, ZERO = 273.15, T_REF = 298.15;

/* The two invented sets of the reference tables, published as (A per hour, E). */
static rw_cure_law table_law(const char *set)
{
  rw_cure_law law = {.kind = RW_LAW_KAMAL, .T_ref = T_REF};
  if (strcmp(set, "KS1") == 0) {
    law.k1 = rw_rate_at(2.0e6 / HOUR, law.E1 = 45000, T_REF);
    law.k2 = rw_rate_at(8.0e8 / HOUR, law.E2 = 55000, T_REF);
    law.m = 0.8;
    law.n = 1.6;
  } else {
    law.k1 = rw_rate_at(1.5e7 / HOUR, law.E1 = 50000, T_REF);
    law.k2 = rw_rate_at(6.0e8 / HOUR, law.E2 = 54000, T_REF);
    law.m = 1;
    law.n = 1;
  }
  return law;
}

static double cure_at(const rw_cure_law *law, const rw_history *h, double from, double until,
                      double time, double *rate)
{
  rw_cure_path *path = NULL;
  rw_error err;
  double a = NAN;
  assert_ok(rw_cure_run(law, h, from, until, 0, 1e-9, &path, &err), &err);
  assert_ok(rw_cure_at(path, time, &a, rate, NULL, &err), &err);
  rw_cure_path_destroy(path);
  return a;
}

static rw_history *straight(double t0, double T0, double t1, double T1)
{
  double t[2] = {t0, t1}, T[2] = {T0, T1};
  rw_history *h = NULL;
  rw_error err;
  assert_true(rw_history_create(t, T, NULL, 2, &h, &err) >= 0);
  return h;
}

static void isothermal(void **state)
{
  (void)state;
  rw_table *t = check_table("table_ode_kamal_isothermal");
  assert_true(rw_table_rows(t) > 80);
  for (size_t i = 0; i < rw_table_rows(t); i++) {
    rw_cure_law law = table_law(check_text(t, i, "set"));
    double T = check_cell(t, i, "T_C") + ZERO, time = check_cell(t, i, "t_h") * HOUR, rate;
    rw_history *h = straight(0, T, time, T);
    assert_close(cure_at(&law, h, 0, time, time, &rate), check_cell(t, i, "alpha"), 1e-9);
    assert_close(rate * HOUR, check_cell(t, i, "rate_per_h"), 1e-8);
    rw_history_destroy(h);
  }
  rw_table_destroy(t);
}

static void logged(void **state)
{
  (void)state;
  static const double hours[] = {0, 3, 9, 12, 20, 24, 30, 33, 41, 42, 72};
  static const double celsius[] = {15, 22, 24, 14, 8, 12, 21, 35, 35, 20, 18};
  enum { N = 11 };
  /* On a clock since 1970, so that lost digits would show. */
  double origin = 1.79e9, time[N], T[N];
  for (int i = 0; i < N; i++) {
    time[i] = origin + hours[i] * HOUR;
    T[i] = celsius[i] + ZERO;
  }
  rw_history *h = NULL;
  rw_error err;
  assert_ok(rw_history_create(time, T, NULL, N, &h, &err), &err);
  rw_table *t = check_table("table_ode_kamal_logged");
  for (size_t i = 0; i < rw_table_rows(t); i++) {
    rw_cure_law law = table_law(check_text(t, i, "set"));
    double a = cure_at(&law, h, origin, origin + 72 * HOUR,
                       origin + check_cell(t, i, "t_h") * HOUR, NULL);
    assert_close(a, check_cell(t, i, "alpha"), 1e-9);
  }
  rw_table_destroy(t);
  rw_history_destroy(h);
}

/* A sine is not a piecewise line: pieces of two seconds keep within 2e-8 K of it. */
static void sinusoid(void **state)
{
  (void)state;
  enum { N = 168 * 1800 + 1 };
  static double time[N], T[N];
  for (int i = 0; i < N; i++) {
    time[i] = i * 2.0;
    T[i] = 291.15 + 7 * sin(2 * 3.14159265358979323846 * (time[i] - 3 * HOUR) / (24 * HOUR));
  }
  rw_history *h = NULL;
  rw_error err;
  assert_ok(rw_history_create(time, T, NULL, N, &h, &err), &err);
  rw_table *t = check_table("table_ode_kamal_sinusoid");
  rw_cure_path *path[2] = {NULL, NULL};
  static const char *const sets[] = {"KS1", "KS2"};
  for (int s = 0; s < 2; s++) {
    rw_cure_law law = table_law(sets[s]);
    assert_ok(rw_cure_run(&law, h, 0, 168 * HOUR, 0, 1e-9, &path[s], &err), &err);
  }
  for (size_t i = 0; i < rw_table_rows(t); i++) {
    double a;
    int s = strcmp(check_text(t, i, "set"), "KS2") == 0;
    assert_ok(rw_cure_at(path[s], check_cell(t, i, "t_h") * HOUR, &a, NULL, NULL, &err), &err);
    assert_close(a, check_cell(t, i, "alpha"), 1e-9);
  }
  rw_cure_path_destroy(path[0]);
  rw_cure_path_destroy(path[1]);
  rw_table_destroy(t);
  rw_history_destroy(h);
}

static void ramp(void **state)
{
  (void)state;
  rw_cure_law law = {.kind = RW_LAW_NTH_ORDER, .T_ref = T_REF, .E1 = 45000, .n = 1.7};
  law.k1 = rw_rate_at(2.0e6 / HOUR, law.E1, T_REF);
  rw_table *t = check_table("table_ode_nth_ramp");
  for (size_t i = 0; i < rw_table_rows(t); i++) {
    double time = check_cell(t, i, "t_h") * HOUR;
    rw_history *h = straight(0, 288.15, time, check_cell(t, i, "T_K"));
    assert_close(cure_at(&law, h, 0, time, time, NULL), check_cell(t, i, "alpha"), 1e-9);
    rw_history_destroy(h);
  }
  rw_table_destroy(t);
}

/* exp(13.65 - 4000/(273 + t)) is the Arrhenius form with E/R = 4000 K and T_ref = 4000/13.65. */
static double code_age(const double *celsius, const double *days, size_t n)
{
  double time[32], T[32];
  size_t k = 0;
  double now = 0;
  for (size_t i = 0; i < n; i++) {
    time[k] = now;
    T[k++] = celsius[i] + 273;
    now += days[i] * 86400;
    time[k] = now;
    T[k++] = celsius[i] + 273;
  }
  rw_history *h = NULL;
  rw_error err;
  double age = NAN;
  assert_ok(rw_history_create(time, T, NULL, k, &h, &err), &err);
  assert_ok(rw_equivalent_age(4000 * RW_GAS_CONSTANT, 4000 / 13.65, h, 0, now, &age, &err), &err);
  rw_history_destroy(h);
  return age / 86400;
}

static void maturity(void **state)
{
  (void)state;
  check_point(
      "cure", "maturity-en1992",
      code_age((const double[]){19, 20, 20, 21, 22, 23}, (const double[]){1, 2, 1, 1, 1, 2}, 6));
  check_point("cure", "maturity-mc2010",
              code_age((const double[]){20, 25}, (const double[]){7, 7}, 2));
}

static void gel(void **state)
{
  (void)state;
  rw_error err;
  static const char *const ids[] = {"gel-4", "gel-5", "gel-6"};
  for (int i = 0; i < 3; i++) {
    double a = NAN;
    assert_ok(rw_gel_conversion(1, 2, 4 + i, &a, &err), &err);
    check_point("cure", ids[i], a);
  }
  double low = 0.1, high = 1;
  while (high - low > 1e-12) {
    double mid = 0.5 * (low + high), a;
    if (rw_gel_conversion(mid, 2, 4, &a, &err) == RW_OK)
      high = mid;
    else
      low = mid;
  }
  check_point("cure", "gel-limit", high);
}

static void glass(void **state)
{
  (void)state;
  rw_glass g = {-20 + ZERO, 220 + ZERO, 0.5};
  static const struct {
    const char *id;
    double a;
  } rows[] = {{"tg-0.2", 0.2}, {"tg-0.5", 0.5}, {"tg-0.8", 0.8}, {"tg-0.9", 0.9}};
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    double Tg = NAN, back = NAN;
    rw_error err;
    assert_ok(rw_glass_temperature(&g, rows[i].a, &Tg, &err), &err);
    check_point("cure", rows[i].id, Tg - ZERO);
    assert_ok(rw_glass_conversion(&g, Tg, &back, &err), &err);
    assert_close(back, rows[i].a, 1e-14);
  }
}

static void stoichiometry(void **state)
{
  (void)state;
  double ratio = NAN;
  rw_error err;
  assert_ok(rw_hardener_needed(0.190, 0.02437, &ratio, &err), &err);
  check_point("cure", "teta-phr", 100 * ratio);
  check_point("cure", "teta-phr-read", 100 * ratio);
}

static void all_used(void **state)
{
  (void)state;
  check_all_points_used("cure");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(isothermal), cmocka_unit_test(logged),        cmocka_unit_test(sinusoid),
      cmocka_unit_test(ramp),       cmocka_unit_test(maturity),      cmocka_unit_test(gel),
      cmocka_unit_test(glass),      cmocka_unit_test(stoichiometry), cmocka_unit_test(all_used),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
