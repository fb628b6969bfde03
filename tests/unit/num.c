/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"

#include <math.h>
#include <string.h>

static double cube_less_two(double x, void *context)
{
  (void)context;
  return x * x * x - 2;
}

static double breaks_inside(double x, void *context)
{
  (void)context;
  return x < 0.1 ? -1 : x > 0.9 ? 1 : NAN;
}

static void root(void **state)
{
  (void)state;
  double x = 0;
  rw_error err;
  assert_ok(rw_num_root(cube_less_two, NULL, 0, 2, 1e-14, &x, &err), &err);
  assert_close(x, cbrt(2.0), 1e-13);
  x = 7;
  assert_status(rw_num_root(cube_less_two, NULL, 2, 3, 1e-9, &x, &err), RW_ERR_NUMERIC, &err);
  check_explained(&err, "same sign");
  assert_status(rw_num_root(cube_less_two, NULL, 3, 2, 1e-9, &x, &err), RW_ERR_RANGE, &err);
  assert_status(rw_num_root(breaks_inside, NULL, 0, 1, 1e-9, &x, &err), RW_ERR_NUMERIC, &err);
  assert_close(x, 7, 0);
}

static void linear(void **state)
{
  (void)state;
  static const double a[9] = {4, -2, 1, -2, 4, -2, 1, -2, 4}, b[3] = {11, -16, 17};
  double x[3], inverse[9];
  rw_error err;
  assert_ok(rw_num_solve(3, a, b, x, &err), &err);
  assert_close(x[0], 1, 1e-14);
  assert_close(x[1], -2, 1e-14);
  assert_close(x[2], 3, 1e-14);
  assert_ok(rw_num_inverse(3, a, inverse, &err), &err);
  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++) {
      double sum = 0;
      for (int k = 0; k < 3; k++)
        sum += a[3 * i + k] * inverse[3 * k + j];
      assert_close(sum, i == j, 1e-14);
    }
  static const double flat[4] = {1, 2, 2, 4};
  static const double two[4] = {2, 1, 1, 2}, wrong[4] = {1, NAN, NAN, 1};
  assert_close_rel(rw_num_condition(2, two), 3, 1e-14);
  /* Its eigenvalues are 3 and (9 +- sqrt(33))/2. */
  assert_close_rel(rw_num_condition(3, a), (9 + sqrt(33)) / (9 - sqrt(33)), 1e-13);
  assert_true(rw_num_condition(2, flat) > 1e15);
  assert_true(isnan(rw_num_condition(0, two)) && isnan(rw_num_condition(65, two)) &&
              isnan(rw_num_condition(2, wrong)));
  assert_status(rw_num_inverse(2, flat, inverse, &err), RW_ERR_NUMERIC, &err);
  assert_status(rw_num_inverse(17, flat, inverse, &err), RW_ERR_RANGE, &err);
}

/* The unknown that makes most of a result; those that never come do not count. */
static void closest(void **state)
{
  (void)state;
  enum { N = 64, K = 3 };
  double x[N * K], y[N], never[N], same[N];
  rw_draws *d = NULL;
  rw_error err;
  assert_ok(rw_draws_create(K, 3, &d, &err), &err);
  for (size_t i = 0; i < N; i++) {
    rw_draws_next(d, x + i * K);
    y[i] = 1e9 + 0.5 * x[i * K] - 2 * x[i * K + 1] + 0.1 * x[i * K + 2];
    never[i] = x[i * K + 1] > 0 ? HUGE_VAL : x[i * K + 2];
    same[i] = 7;
  }
  rw_draws_destroy(d);
  assert_int_equal(rw_num_closest(N, x, K, y), 1);
  assert_int_equal(rw_num_closest(N, x, K, never), 2);
  assert_int_equal(rw_num_closest(N, x, K, same), -1);
  assert_int_equal(rw_num_closest(0, x, K, y), -1);
}

static void cholesky(void **state)
{
  (void)state;
  static const double a[9] = {4, -2, 1, -2, 5, -2, 1, -2, 6}, b[3] = {3, -2, 15};
  double factor[9], x[3], inverse[9];
  memcpy(factor, a, sizeof a);
  memcpy(x, b, sizeof b);
  assert_close(rw_num_cholesky(3, factor, 0), 4, 1e-15);
  assert_close(factor[0], 2, 0);
  rw_num_cholesky_solve(3, factor, x);
  rw_num_cholesky_inverse(3, factor, inverse);
  for (int i = 0; i < 3; i++) {
    double row = 0;
    for (int j = 0; j < 3; j++) {
      double sum = 0;
      row += a[3 * i + j] * x[j];
      for (int k = 0; k < 3; k++)
        sum += a[3 * i + k] * inverse[3 * k + j];
      assert_close(sum, i == j, 1e-14);
    }
    assert_close(row, b[i], 1e-14);
  }
  assert_close(rw_num_quadratic(3, a, b), 1640, 1e-12);
  memcpy(factor, a, sizeof a);
  assert_true(rw_num_cholesky(3, factor, 4) == 0); /* no pivot is above that */
  double flat[4] = {1, 2, 2, 4}, broken[1] = {NAN};
  assert_true(rw_num_cholesky(2, flat, 0) == 0);
  assert_true(rw_num_cholesky(1, broken, 0) == 0);
}

/* A not-a-knot spline is exact for cubics, value, slope and integral. */
static void spline_is_exact_for_cubics(void **state)
{
  (void)state;
  static const double x[] = {-1, 0, 0.5, 2, 3, 3.5};
  double y[6];
  for (int i = 0; i < 6; i++)
    y[i] = 2 + x[i] * (1 - x[i] * (3 - 0.5 * x[i]));
  rw_spline *s = NULL;
  rw_error err;
  assert_ok(rw_spline_create(x, y, 6, RW_SPLINE_NOT_A_KNOT, &s, &err), &err);
  for (double t = -1.5; t < 4; t += 0.37) {
    double slope;
    assert_close(rw_spline_value(s, t, &slope), 2 + t * (1 - t * (3 - 0.5 * t)), 1e-12);
    assert_close(slope, 1 - 6 * t + 1.5 * t * t, 1e-11);
  }
  double whole = (2 * 3 + 9.0 / 2 - 27 + 81.0 / 8);
  assert_close(rw_spline_integral(s, 0, 3), whole, 1e-12);
  assert_close(rw_spline_integral(s, 3, 0), -whole, 1e-12);
  rw_spline_destroy(s);
}

static void spline_shapes(void **state)
{
  (void)state;
  static const double x[] = {0, 1, 2, 4}, y[] = {0, 1, 0, 3};
  rw_spline *s = NULL;
  rw_error err;
  assert_ok(rw_spline_create(x, y, 2, RW_SPLINE_NATURAL, &s, &err), &err);
  assert_close(rw_spline_value(s, 0.25, NULL), 0.25, 1e-15);
  rw_spline_destroy(s);
  assert_ok(rw_spline_create(x, y, 3, RW_SPLINE_NOT_A_KNOT, &s, &err), &err);
  assert_close(rw_spline_value(s, 0.5, NULL), 0.75, 1e-15); /* the parabola 2t - t^2 */
  rw_spline_destroy(s);
  assert_ok(rw_spline_create(x, y, 4, RW_SPLINE_NATURAL, &s, &err), &err);
  double left, right;
  rw_spline_value(s, 1 - 1e-9, &left);
  rw_spline_value(s, 1 + 1e-9, &right);
  assert_close(left, right, 1e-7);
  for (int i = 0; i < 4; i++)
    assert_close(rw_spline_value(s, x[i], NULL), y[i], 1e-14);
  rw_spline_destroy(s);
  static const double back[] = {0, 2, 1};
  assert_status(rw_spline_create(back, y, 3, RW_SPLINE_NATURAL, &s, &err), RW_ERR_ORDER, &err);
  assert_status(rw_spline_create(x, y, 1, RW_SPLINE_NATURAL, &s, &err), RW_ERR_ARGUMENT, &err);
}

static void draws_are_standard_normal_and_repeat(void **state)
{
  (void)state;
  enum { N = 4096, D = 5 };
  rw_draws *a = NULL, *b = NULL;
  rw_error err;
  assert_ok(rw_draws_create(D, 7, &a, &err), &err);
  assert_ok(rw_draws_create(D, 7, &b, &err), &err);
  double sum[D] = {0}, square[D] = {0}, cross = 0;
  for (int i = 0; i < N; i++) {
    double z[D], again[D];
    rw_draws_next(a, z);
    rw_draws_next(b, again);
    for (int k = 0; k < D; k++) {
      assert_true(z[k] == again[k]);
      sum[k] += z[k];
      square[k] += z[k] * z[k];
    }
    cross += z[0] * z[3];
  }
  for (int k = 0; k < D; k++) {
    assert_close(sum[k] / N, 0, 0.005);
    assert_close(square[k] / N, 1, 0.01);
  }
  assert_close(cross / N, 0, 0.02);
  rw_draws_destroy(a);
  rw_draws_destroy(b);
  assert_status(rw_draws_create(41, 1, &a, &err), RW_ERR_RANGE, &err);
}

static void quantiles(void **state)
{
  (void)state;
  assert_close(rw_num_normal_quantile(0.975), 1.959963984540054, 1e-13);
  assert_close(rw_num_normal_cdf(1.959963984540054), 0.975, 1e-14);
  double x[] = {4, HUGE_VAL, 1, 3, 2};
  rw_num_sort(x, 5);
  assert_close(rw_num_quantile(x, 5, 0), 1, 0);
  assert_close(rw_num_quantile(x, 5, 0.5), 3, 0);
  assert_close(rw_num_quantile(x, 5, 0.375), 2.5, 0);
  assert_true(isinf(rw_num_quantile(x, 5, 0.9)));
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(root),
      cmocka_unit_test(linear),
      cmocka_unit_test(closest),
      cmocka_unit_test(cholesky),
      cmocka_unit_test(spline_is_exact_for_cubics),
      cmocka_unit_test(spline_shapes),
      cmocka_unit_test(draws_are_standard_normal_and_repeat),
      cmocka_unit_test(quantiles),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
