/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Censored regression: rows without estimates beyond those of the tables, limits that do not
 * exist, covariates by the handful, refusals. All rows are invented. */
#include "check.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = 64 };

typedef struct rows {
  size_t n, p;
  double lower[MOST], upper[MOST], weight[MOST], x[3 * MOST];
} rows;

static void add(rows *r, double lower, double upper, double weight, double x)
{
  r->lower[r->n] = lower;
  r->upper[r->n] = upper;
  r->weight[r->n] = weight;
  r->x[r->n++] = x;
}

static rw_aft_data data_of(const rows *r)
{
  return (rw_aft_data){r->n, r->p, r->lower, r->upper, r->weight, r->x};
}

static void ends_in(const rows *r, rw_aft_trouble wanted)
{
  for (int kind = RW_AFT_LOGNORMAL; kind <= RW_AFT_WEIBULL; kind++) {
    rw_aft_data d = data_of(r);
    rw_aft *f = NULL;
    rw_aft_trouble trouble = RW_AFT_FINE;
    rw_error err;
    assert_status(rw_aft_fit(&d, (rw_aft_kind)kind, &f, &trouble, &err), RW_ERR_NUMERIC, &err);
    assert_string_equal(rw_aft_trouble_key(trouble), rw_aft_trouble_key(wanted));
    assert_null(f);
    assert_int_equal(rw_aft_fit(&d, (rw_aft_kind)kind, &f, NULL, NULL), RW_ERR_NUMERIC);
  }
}

/* One group has happened, the other is all "not yet": its effect is anything large. */
static void a_group_open_on_one_side(void **state)
{
  (void)state;
  rows r = {.p = 1};
  add(&r, 5, 5, 1, 0);
  add(&r, 7, 7, 1, 0);
  add(&r, 6, 8, 1, 0);
  add(&r, 9, HUGE_VAL, 1, 1);
  add(&r, 12, HUGE_VAL, 2, 1);
  ends_in(&r, RW_AFT_SEPARATED);
}

/* Fewer have happened later than sooner. */
static void later_is_not_more(void **state)
{
  (void)state;
  rows r = {.p = 0};
  add(&r, 0, 1, 3, 0);
  add(&r, 1, HUGE_VAL, 1, 0);
  add(&r, 0, 10, 1, 0);
  add(&r, 10, HUGE_VAL, 3, 0);
  ends_in(&r, RW_AFT_SPREADLESS);
}

static void one_row_that_counts(void **state)
{
  (void)state;
  rows r = {.p = 0};
  add(&r, 4, 6, 1, 0);
  add(&r, 5, 7, 0, 0);
  add(&r, 0, HUGE_VAL, 1, 0);
  ends_in(&r, RW_AFT_UNSETTLED);
}

static void collinear(void **state)
{
  (void)state;
  rows r = {.p = 2};
  for (int i = 0; i < 8; i++)
    add(&r, 3 + i % 3, 4 + i % 3, 1, 0);
  for (int i = 0; i < 8; i++) {
    r.x[2 * i] = i;
    r.x[2 * i + 1] = 3 - 2.0 * i;
  }
  ends_in(&r, RW_AFT_COLLINEAR);
}

/* A third by 1 h, two thirds by 10 h, six looks: the spread may be anything above some value. */
static void a_limit_that_does_not_exist(void **state)
{
  (void)state;
  rows r = {.p = 0};
  add(&r, 0, 1, 1, 0);
  add(&r, 1, HUGE_VAL, 2, 0);
  add(&r, 0, 10, 2, 0);
  add(&r, 10, HUGE_VAL, 1, 0);
  rw_aft_data d = data_of(&r);
  rw_aft *f = NULL;
  rw_error err;
  assert_ok(rw_aft_fit(&d, RW_AFT_LOGNORMAL, &f, NULL, &err), &err);
  rw_aft_summary s;
  rw_aft_summarise(f, &s);
  /* By hand: F(1) = 1/3 and F(10) = 2/3 exactly. */
  double z = rw_num_normal_quantile(2.0 / 3);
  assert_close_rel(s.spread, log(10) / (2 * z), 1e-9);
  assert_close_rel(rw_aft_coefficient(f, 0).value, log(10) / 2, 1e-9);
  assert_close(s.likelihood, 4 * log(2.0 / 3) + 2 * log(1.0 / 3), 1e-10);
  rw_aft_target spread = {.coefficient = 1};
  double low, high;
  assert_status(rw_aft_profile(f, &spread, 0.95, &low, &high, &err), RW_NOT_REACHED, &err);
  assert_true(high == HUGE_VAL && low > -3 && low < log(s.spread));
  rw_aft_destroy(f);
}

/* Exact rows without censoring are ordinary least squares, the spread by n. */
static void exact_rows_are_least_squares(void **state)
{
  (void)state;
  rows r = {.p = 2};
  double y[12];
  for (int i = 0; i < 12; i++) {
    y[i] = 2 + 0.3 * i - 0.5 * (i % 3) + 0.1 * sin(7.0 * i);
    add(&r, exp(y[i]), exp(y[i]), 1, 0);
  }
  for (int i = 0; i < 12; i++) {
    r.x[2 * i] = i;
    r.x[2 * i + 1] = i % 3;
  }
  double a[9] = {0}, b[3] = {0}, want[3], rest = 0;
  for (int i = 0; i < 12; i++) {
    double row[] = {1, i, i % 3};
    for (int j = 0; j < 3; j++) {
      b[j] += row[j] * y[i];
      for (int k = 0; k < 3; k++)
        a[3 * j + k] += row[j] * row[k];
    }
  }
  rw_error err;
  assert_ok(rw_num_solve(3, a, b, want, &err), &err);
  rw_aft_data d = data_of(&r);
  rw_aft *f = NULL;
  assert_ok(rw_aft_fit(&d, RW_AFT_LOGNORMAL, &f, NULL, &err), &err);
  for (size_t j = 0; j < 3; j++)
    assert_close(rw_aft_coefficient(f, j).value, want[j], 1e-10);
  for (int i = 0; i < 12; i++)
    rest += pow(y[i] - want[0] - want[1] * i - want[2] * (i % 3), 2);
  rw_aft_summary s;
  rw_aft_summarise(f, &s);
  assert_close_rel(s.spread, sqrt(rest / 12), 1e-9);
  assert_true(s.exact == 12 && s.after == 0 && s.before == 0 && s.between == 0);
  assert_true(isnan(rw_aft_coefficient(f, 4).value) && isnan(rw_aft_covariance(f, 0, 4)));
  rw_aft_destroy(f);
}

static void refused(const rw_aft_data *d, rw_status wanted, const char *word, long line)
{
  rw_aft *f = NULL;
  rw_error err = {.line = 0};
  assert_status(rw_aft_fit(d, RW_AFT_LOGNORMAL, &f, NULL, &err), wanted, &err);
  check_explained(&err, word);
  assert_int_equal(err.line, line);
  assert_null(f);
}

static void wrong_rows_are_refused(void **state)
{
  (void)state;
  rows r = {.p = 1}, bad;
  for (int i = 0; i < 5; i++)
    add(&r, 3 + i % 2, 5 + i % 3, 1, i);
  rw_aft_data d;
  bad = r;
  d = data_of(&bad);
  bad.lower[2] = -1;
  refused(&d, RW_ERR_RANGE, "lower", 3);
  bad.lower[2] = NAN;
  refused(&d, RW_ERR_RANGE, "lower", 3);
  bad.lower[2] = 9;
  refused(&d, RW_ERR_RANGE, "upper", 3);
  bad = r;
  bad.lower[1] = bad.upper[1] = 0;
  refused(&d, RW_ERR_RANGE, "upper", 2);
  bad = r;
  bad.weight[4] = -1;
  refused(&d, RW_ERR_RANGE, "weight", 5);
  bad = r;
  bad.x[0] = HUGE_VAL;
  refused(&d, RW_ERR_ARGUMENT, "covariate", 1);
  bad = r;
  d.n = 1;
  refused(&d, RW_ERR_RANGE, "n", 0);
  d.n = 5;
  d.covariates = 65;
  refused(&d, RW_ERR_RANGE, "covariates", 0);
  d.covariates = 1;
  d.x = NULL;
  refused(&d, RW_ERR_ARGUMENT, "column", 0);
  d.x = bad.x;
  rw_aft *f = NULL;
  rw_error err;
  assert_status(rw_aft_fit(&d, (rw_aft_kind)7, &f, NULL, &err), RW_ERR_ARGUMENT, &err);
}

static void wrong_questions_are_refused(void **state)
{
  (void)state;
  rows r = {.p = 1};
  for (int i = 0; i < 12; i++)
    add(&r, 2 + i % 5, 3 + i % 5, 1, i % 4);
  rw_aft_data d = data_of(&r);
  rw_aft *f = NULL;
  rw_error err;
  assert_ok(rw_aft_fit(&d, RW_AFT_WEIBULL, &f, NULL, &err), &err);
  double x = 1, bad = NAN, low = 3, high = 4;
  rw_value q = {1, 2};
  assert_status(rw_aft_quantile(f, NULL, 0.5, &q, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_aft_quantile(f, &bad, 0.5, &q, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_aft_quantile(f, &x, 1, &q, NULL, &err), RW_ERR_RANGE, &err);
  assert_true(q.value == 1 && q.sd == 2);
  rw_aft_target t = {.coefficient = 3};
  assert_status(rw_aft_profile(f, &t, 0.9, &low, &high, &err), RW_ERR_RANGE, &err);
  t.coefficient = 1;
  assert_status(rw_aft_profile(f, &t, 1, &low, &high, &err), RW_ERR_RANGE, &err);
  t.p = 0.5;
  assert_status(rw_aft_profile(f, &t, 0.9, &low, &high, &err), RW_ERR_ARGUMENT, &err);
  assert_true(low == 3 && high == 4);
  rw_aft_destroy(f);
  double p = 5;
  assert_status(rw_aft_log_probability((rw_aft_kind)9, 0, 1, &p, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_aft_log_probability(RW_AFT_WEIBULL, 1, 0, &p, &err), RW_ERR_RANGE, &err);
  assert_status(rw_aft_log_probability(RW_AFT_WEIBULL, NAN, 0, &p, &err), RW_ERR_ARGUMENT, &err);
  assert_true(p == 5);
  assert_ok(rw_aft_log_probability(RW_AFT_WEIBULL, 2, 2, &p, &err), &err);
  assert_true(p == -HUGE_VAL);
  assert_ok(rw_aft_log_probability(RW_AFT_WEIBULL, -HUGE_VAL, HUGE_VAL, &p, &err), &err);
  assert_true(p == 0);
}

static void words(void **state)
{
  (void)state;
  for (int i = 0; i < RW_AFT_TROUBLES; i++) {
    assert_true(strlen(rw_aft_trouble_key((rw_aft_trouble)i)) > 3);
    assert_true(strlen(rw_aft_trouble_text((rw_aft_trouble)i)) > 10);
  }
  assert_null(rw_aft_trouble_key(RW_AFT_TROUBLES));
  assert_null(rw_aft_trouble_text(RW_AFT_TROUBLES));
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a_group_open_on_one_side),
      cmocka_unit_test(later_is_not_more),
      cmocka_unit_test(one_row_that_counts),
      cmocka_unit_test(collinear),
      cmocka_unit_test(a_limit_that_does_not_exist),
      cmocka_unit_test(exact_rows_are_least_squares),
      cmocka_unit_test(wrong_rows_are_refused),
      cmocka_unit_test(wrong_questions_are_refused),
      cmocka_unit_test(words),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
