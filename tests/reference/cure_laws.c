/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every kind of rate law against times and rates computed elsewhere from published constants. */
#include "check.h"

#include <math.h>

static const double MINUTE = 60, HOUR = 3600, ZERO = 273.15;

static rw_cure_path *steady(const rw_cure_law *law, double celsius, double until, double tolerance)
{
  double t[2] = {0, until}, T[2] = {celsius + ZERO, celsius + ZERO};
  rw_history *h = NULL;
  rw_cure_path *path = NULL;
  rw_error err;
  assert_true(rw_history_create(t, T, NULL, 2, &h, &err) >= 0); /* above 400 K: a remark */
  assert_ok(rw_cure_run(law, h, 0, until, 0, tolerance, &path, &err), &err);
  rw_history_destroy(h);
  return path;
}

static double when(const rw_cure_path *path, double a)
{
  double time = NAN;
  rw_error err;
  assert_ok(rw_cure_when(path, a, &time, &err), &err);
  return time;
}

static double end_of(const rw_cure_path *path)
{
  double to, a = NAN;
  rw_error err;
  rw_cure_path_span(path, NULL, &to);
  assert_ok(rw_cure_at(path, to, &a, NULL, NULL, &err), &err);
  return a;
}

static double rate(const rw_cure_law *law, double a, double T)
{
  double r = NAN;
  rw_error err;
  assert_ok(rw_cure_rate(law, a, T, &r, &err), &err);
  return r;
}

/* Published per minute; A2 is negative. */
static rw_cure_law two_stages(double T_ref)
{
  rw_cure_law law = {.kind = RW_LAW_TWO_STAGE,
                     .E1 = 8.07e4,
                     .E2 = 7.78e4,
                     .T_ref = T_ref,
                     .limit = 0.47,
                     .E3 = 5.66e4,
                     .split = 0.3};
  law.k1 = rw_rate_at(2.101e9 / MINUTE, law.E1, T_ref);
  law.k2 = rw_rate_at(-2.014e9 / MINUTE, law.E2, T_ref);
  law.k3 = rw_rate_at(1.960e5 / MINUTE, law.E3, T_ref);
  return law;
}

/* The reference temperature is a matter of writing, not of the answer. */
static void two_stages_by_time(void **state)
{
  (void)state;
  static const double degrees[] = {0.3, 0.5, 0.9};
  static const struct {
    double celsius;
    const char *id[3];
  } rows[] = {{100, {"lls-100-t30", "lls-100-t50", "lls-100-t90"}},
              {120, {"lls-120-t30", "lls-120-t50", "lls-120-t90"}},
              {150, {"lls-150-t30", "lls-150-t50", "lls-150-t90"}},
              {177, {"lls-177-t30", "lls-177-t50", "lls-177-t90"}}};
  rw_cure_law law = two_stages(400), other = two_stages(298.15);
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    double until = 1100 * MINUTE;
    rw_cure_path *path = steady(&law, rows[i].celsius, until, 1e-9);
    rw_cure_path *again = steady(&other, rows[i].celsius, until, 1e-9);
    for (int k = 0; k < 3; k++) {
      double time = when(path, degrees[k]);
      check_point("cure_laws", rows[i].id[k], time / MINUTE);
      assert_close_rel(when(again, degrees[k]), time, 1e-8);
    }
    rw_cure_path_destroy(path);
    rw_cure_path_destroy(again);
  }
}

/* The rate jumps at the split: up below some 170 degC, down above. */
static void two_stages_by_rate(void **state)
{
  (void)state;
  rw_cure_law law = two_stages(400);
  double below = rate(&law, nextafter(0.3, 0), 373.15);
  double above = rate(&law, nextafter(0.3, 1), 373.15);
  check_point("cure_laws", "lls-100-rate-below", below * MINUTE);
  check_point("cure_laws", "lls-100-rate-above", above * MINUTE);
  assert_true(rate(&law, 0.29999999, 450) > rate(&law, 0.30000001, 450));
  assert_close(rate(&law, 1, 373.15), 0, 0);
  assert_close(rw_cure_law_top(&law), 1, 0);
}

/* Without k1 and with m < 1 an explicit step from zero would stay there for ever. The power law
 * and a Kamal law without k1 are the same. */
static void polyester(void **state)
{
  (void)state;
  static const struct {
    const char *id;
    double celsius, a;
  } rows[] = {
      {"polyester-80-t50", 80, 0.5},   {"polyester-80-t90", 80, 0.9},
      {"polyester-100-t50", 100, 0.5}, {"polyester-100-t90", 100, 0.9},
      {"polyester-120-t50", 120, 0.5}, {"polyester-120-t90", 120, 0.9},
  };
  rw_cure_law law = {
      .kind = RW_LAW_SESTAK_BERGGREN, .E1 = 1.674e5, .m = 0.524, .n = 1.476, .T_ref = 373.15};
  law.k1 = rw_rate_at(6.167e20, law.E1, law.T_ref);
  rw_cure_law kamal = law;
  kamal.kind = RW_LAW_KAMAL;
  kamal.k2 = law.k1;
  kamal.E2 = law.E1;
  kamal.k1 = 0;
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    rw_cure_path *path = steady(&law, rows[i].celsius, 1e5, 1e-9);
    rw_cure_path *same = steady(&kamal, rows[i].celsius, 1e5, 1e-9);
    double time = when(path, rows[i].a);
    check_point("cure_laws", rows[i].id, time / MINUTE);
    assert_close_rel(when(same, rows[i].a), time, 1e-9);
    rw_cure_path_destroy(path);
    rw_cure_path_destroy(same);
  }
}

/* Pairs (A, E) differ by a factor of 3.6 in A and by 13 % in the rate they stand for. */
static void third_order(void **state)
{
  (void)state;
  static const struct {
    const char *id;
    double A, E;
  } pairs[] = {{"third-order-k-isothermal", 1.2e9, 8.93e4},
               {"third-order-k-kissinger", 3.35e8, 8.532e4},
               {"third-order-k-ozawa", 7.4e8, 8.802e4}};
  for (size_t i = 0; i < 3; i++) {
    rw_cure_law law = {.kind = RW_LAW_NTH_ORDER, .E1 = pairs[i].E, .n = 3, .T_ref = 298.15};
    law.k1 = rw_rate_at(pairs[i].A, law.E1, law.T_ref);
    double k = rate(&law, 0, 140 + ZERO);
    check_point("cure_laws", pairs[i].id, k);
    assert_close_rel(rw_rate_factor(law.k1, law.E1, law.T_ref), pairs[i].A, 1e-13);
    if (i > 0)
      continue;
    rw_cure_path *path = steady(&law, 140, HOUR, 1e-9);
    check_point("cure_laws", "third-order-t50", when(path, 0.5) / MINUTE);
    assert_close_rel(when(path, 0.5), 1.5 / k, 1e-8); /* (1 - a)^-2 = 1 + 2 k t */
    rw_cure_path_destroy(path);
  }
}

static const rw_cure_law mix = {.kind = RW_LAW_KAMAL,
                                .k1 = 4e-6,
                                .E1 = 55e3,
                                .k2 = 1.2e-4,
                                .E2 = 52e3,
                                .m = 0.9,
                                .n = 1.7,
                                .T_ref = 298.15,
                                .C = 30,
                                .ac0 = 0.8,
                                .acT = 0.004};

/* At the right ratio the law off its ratio is the law it was made from. */
static void right_ratio(void **state)
{
  (void)state;
  rw_cure_law right = mix, made;
  rw_error err;
  assert_ok(rw_cure_law_off_ratio(&right, 1, &made, &err), &err);
  assert_int_equal(made.kind, RW_LAW_PLATEAU);
  assert_close(rw_cure_law_top(&made), 1, 0);
  for (int i = 0; i <= 1000; i++)
    for (double T = 275; T < 360; T += 20)
      assert_close_rel(rate(&made, i / 1000.0, T), rate(&right, i / 1000.0, T), 2e-15);
  rw_cure_path *a = steady(&right, 22, 48 * HOUR, 1e-12), *b = steady(&made, 22, 48 * HOUR, 1e-12);
  for (double t = 0; t <= 48 * HOUR; t += 1000) {
    double one = NAN, two = NAN;
    assert_ok(rw_cure_at(a, t, &one, NULL, NULL, &err), &err);
    assert_ok(rw_cure_at(b, t, &two, NULL, NULL, &err), &err);
    assert_close(one, two, 2e-12);
  }
  rw_cure_path_destroy(a);
  rw_cure_path_destroy(b);
}

/* Off the ratio the epoxide stops at min(1, r), and for a second-order law without k2 it gets
 * there as (r - a)/(1 - a) = r exp((r - 1) k t) for r < 1, and so on for r > 1. */
static void off_ratio(void **state)
{
  (void)state;
  static const double ratios[] = {0.3, 0.55, 0.8, 0.95, 1.05, 1.3, 2};
  rw_cure_law right = {.kind = RW_LAW_NTH_ORDER, .k1 = 2e-4, .E1 = 55e3, .n = 2, .T_ref = 298.15};
  for (size_t i = 0; i < sizeof ratios / sizeof *ratios; i++) {
    double r = ratios[i];
    rw_cure_law made;
    rw_error err;
    assert_ok(rw_cure_law_off_ratio(&right, r, &made, &err), &err);
    assert_close(rw_cure_law_top(&made), fmin(1, r), 0);
    rw_cure_path *path = steady(&made, 25, 240 * HOUR, 1e-10);
    for (double t = 100; t < 240 * HOUR; t *= 1.7) {
      double a = NAN, x = r * exp((1 - r) * -right.k1 * t);
      if (r > 1)
        x = exp((1 - r) * right.k1 * t) / r; /* (1 - a)/(r - a) */
      assert_ok(rw_cure_at(path, t, &a, NULL, NULL, &err), &err);
      assert_close(a, r < 1 ? (r - x) / (1 - x) : (1 - r * x) / (1 - x), 1e-9);
    }
    assert_close(end_of(path), fmin(1, r), 1e-4);
    rw_cure_path_destroy(path);
    rw_cure_law slow = mix;
    assert_ok(rw_cure_law_off_ratio(&slow, r, &made, &err), &err);
    path = steady(&made, 40, 1000 * HOUR, 1e-6);
    assert_true(end_of(path) <= fmin(1, r));
    rw_cure_path_destroy(path);
  }
}

static const double measured_at[] = {25, 50, 60, 80};
enum { MEASURED = 4 };

static void plateaus(double ac0, double acT, double *a)
{
  rw_cure_law law = mix;
  law.ac0 = ac0;
  law.acT = acT;
  for (int i = 0; i < MEASURED; i++) {
    rw_cure_path *path = steady(&law, measured_at[i], 24 * HOUR, 1e-8);
    a[i] = end_of(path);
    rw_cure_path_destroy(path);
  }
}

/* A cold cure stalls at a plateau that rises with temperature: the two constants of (3) fitted by
 * least squares (Gauss-Newton) to four measured plateaus, rates invented, held for a day. */
static void plateau_rises(void **state)
{
  (void)state;
  static const char *const ids[] = {"plateau-25", "plateau-50", "plateau-60", "plateau-80"};
  static const double wanted[MEASURED] = {0.607, 0.830, 0.900, 0.929};
  double ac0 = 0.6, acT = 0.004, a[MEASURED], b[MEASURED], c[MEASURED];
  for (int pass = 0; pass < 30; pass++) {
    plateaus(ac0, acT, a);
    plateaus(ac0 + 1e-4, acT, b);
    plateaus(ac0, acT + 1e-5, c);
    double uu = 0, uv = 0, vv = 0, ur = 0, vr = 0;
    for (int i = 0; i < MEASURED; i++) {
      double u = (b[i] - a[i]) / 1e-4, v = (c[i] - a[i]) / 1e-5, r = wanted[i] - a[i];
      uu += u * u;
      uv += u * v;
      vv += v * v;
      ur += u * r;
      vr += v * r;
    }
    double d = uu * vv - uv * uv;
    ac0 += (ur * vv - vr * uv) / d;
    acT += (vr * uu - ur * uv) / d;
  }
  plateaus(ac0, acT, a);
  for (int i = 0; i < MEASURED; i++) {
    check_point("cure_laws", ids[i], a[i]);
    assert_true(i == 0 || a[i] > a[i - 1] + 0.01);
  }
  assert_true(a[0] < 0.75 && acT > 0);
}

static void all_used(void **state)
{
  (void)state;
  check_all_points_used("cure_laws");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(two_stages_by_time), cmocka_unit_test(two_stages_by_rate),
      cmocka_unit_test(polyester),          cmocka_unit_test(third_order),
      cmocka_unit_test(right_ratio),        cmocka_unit_test(off_ratio),
      cmocka_unit_test(plateau_rises),      cmocka_unit_test(all_used),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
