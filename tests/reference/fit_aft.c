/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Censored regression against fits in 50-digit arithmetic, and the rows that have none. */
#include "check.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_ROWS = 200 };

static const double R = 8.314462618; /* as in the reference computation */

/* A fit of the tables: which rows, which covariate. */
typedef struct plan {
  const char *fit, *table;
  const char *column; /* of the covariate, NULL: none */
  char form;          /* how x is made of it */
  double low, high;   /* rows kept: celsius within */
} plan;

static const plan plans[] = {
    {"bcos", "table_aft_bcos", "radchem", 'x', 0, 0},
    {"turbine", "table_aft_turbine", NULL, 'x', 0, 0},
    {"cracks", "table_aft_cracks", NULL, 'x', 0, 0},
    {"device_x=11605/(C+273.15)", "table_aft_device", "celsius", 'v', 0, 0},
    {"device_x=1/(R*K)", "table_aft_device", "celsius", 'r', 0, 0},
    {"cells_x=1/(8.617e-5*(C+273.16))", "table_aft_cells", "celsius", 'k', 0, 0},
    {"cells_cell85", "table_aft_cells", NULL, 'x', 85, 85},
    {"cells_cell105", "table_aft_cells", NULL, 'x', 105, 105},
    {"cells_cell125", "table_aft_cells", NULL, 'x', 125, 125},
    {"insulation_170up_x=1000/(C+273.2)", "table_aft_insulation", "celsius", 't', 170, 999},
    {"insulation_all_x=1000/(C+273.16)", "table_aft_insulation", "celsius", 'u', 0, 0},
    {"insulation_all_x=celsius", "table_aft_insulation", "celsius", 'x', 0, 0},
    {"logbook_x=1/(R*K)", "table_aft_logbook", "celsius", 'r', 0, 0},
    {"logbook_x=(1/K-1/293.15)/R", "table_aft_logbook", "celsius", 'c', 0, 0},
};
enum { PLANS = sizeof plans / sizeof *plans };

static double covariate(char form, double c)
{
  switch (form) {
  case 'v':
    return 11605 / (c + 273.15);
  case 'r':
    return 1 / (R * (c + 273.15));
  case 'k':
    return 1 / (8.617e-5 * (c + 273.16));
  case 't':
    return 1000 / (c + 273.2);
  case 'u':
    return 1000 / (c + 273.16);
  case 'c':
    return (1 / (c + 273.15) - 1 / 293.15) / R;
  default:
    return c;
  }
}

typedef struct rows {
  size_t n;
  double lower[MOST_ROWS], upper[MOST_ROWS], weight[MOST_ROWS], x[MOST_ROWS];
} rows;

static double bound(const rw_table *t, size_t row, const char *column, double open)
{
  return check_text(t, row, column)[0] == '\0' ? open : check_cell(t, row, column);
}

static void add(rows *r, const rw_table *t, size_t i, double x)
{
  assert_true(r->n < MOST_ROWS);
  r->lower[r->n] = bound(t, i, "lower", 0);
  r->upper[r->n] = bound(t, i, "upper", HUGE_VAL);
  r->weight[r->n] = check_cell(t, i, "weight");
  r->x[r->n++] = x;
}

static void load(const plan *p, rows *r)
{
  rw_table *t = check_table(p->table);
  r->n = 0;
  for (size_t i = 0; i < rw_table_rows(t); i++) {
    if (p->high > 0 &&
        !(check_cell(t, i, "celsius") >= p->low && check_cell(t, i, "celsius") <= p->high))
      continue;
    add(r, t, i, p->column == NULL ? 0 : covariate(p->form, check_cell(t, i, p->column)));
  }
  rw_table_destroy(t);
}

static rw_aft_data data_of(const rows *r, const plan *p)
{
  return (rw_aft_data){.n = r->n,
                       .covariates = p->column != NULL,
                       .lower = r->lower,
                       .upper = r->upper,
                       .weight = r->weight,
                       .x = r->x};
}

static const plan *plan_of(const char *fit)
{
  for (size_t i = 0; i < PLANS; i++)
    if (strcmp(plans[i].fit, fit) == 0)
      return &plans[i];
  print_error("no plan for the fit \"%s\"\n", fit);
  fail();
  return NULL;
}

static rw_aft_kind kind_of(const char *dist)
{
  return strcmp(dist, "weibull") == 0 ? RW_AFT_WEIBULL : RW_AFT_LOGNORMAL;
}

static rw_aft *fitted(const plan *p, rw_aft_kind kind)
{
  rows r;
  load(p, &r);
  rw_aft_data d = data_of(&r, p);
  rw_aft *f = NULL;
  rw_aft_trouble trouble = RW_AFT_UNSETTLED;
  rw_error err;
  assert_ok(rw_aft_fit(&d, kind, &f, &trouble, &err), &err);
  assert_int_equal(trouble, RW_AFT_FINE);
  return f;
}

/* Index of a coefficient by its name in the tables: beta0, beta1, log(sigma). */
static size_t index_of(const char *name, size_t covariates)
{
  if (strncmp(name, "beta0", 5) == 0)
    return 0;
  return strncmp(name, "beta1", 5) == 0 ? 1 : covariates + 1;
}

static void compare(const rw_aft *f, const char *quantity, double expected)
{
  rw_aft_summary s;
  rw_aft_summarise(f, &s);
  if (strcmp(quantity, "loglik_time") == 0)
    assert_close(s.likelihood, expected, 1e-8);
  else if (strcmp(quantity, "loglik_logtime") == 0)
    assert_close(s.log_likelihood, expected, 1e-8);
  else if (strcmp(quantity, "est_sigma") == 0)
    assert_close_rel(s.spread, expected, 1e-6);
  else if (strcmp(quantity, "se_sigma") == 0)
    assert_close_rel(s.spread_se, expected, 1e-5);
  else if (strncmp(quantity, "est_", 4) == 0)
    assert_close_rel(rw_aft_coefficient(f, index_of(quantity + 4, s.covariates)).value, expected,
                     1e-6);
  else if (strncmp(quantity, "se_", 3) == 0)
    assert_close_rel(rw_aft_coefficient(f, index_of(quantity + 3, s.covariates)).sd, expected,
                     1e-5);
  else if (strncmp(quantity, "cov_", 4) == 0)
    assert_close_rel(rw_aft_covariance(f, index_of(quantity + 4, s.covariates),
                                       index_of(strrchr(quantity, '_') + 1, s.covariates)),
                     expected, 1e-5);
  else
    fail();
}

static void estimates(void **state)
{
  (void)state;
  rw_table *t = check_table("table_aft_reference");
  rw_aft *f = NULL;
  char before[128] = "";
  size_t n = 0, fits = 0;
  for (size_t i = 0; i < rw_table_rows(t); i++) {
    char now[128];
    snprintf(now, sizeof now, "%s %s", check_text(t, i, "fit"), check_text(t, i, "dist"));
    if (strcmp(now, before) != 0) {
      rw_aft_destroy(f);
      f = fitted(plan_of(check_text(t, i, "fit")), kind_of(check_text(t, i, "dist")));
      strcpy(before, now);
      fits++;
    }
    compare(f, check_text(t, i, "quantity"), check_cell(t, i, "value"));
    n++;
  }
  rw_aft_destroy(f);
  rw_table_destroy(t);
  assert_int_equal(fits, 21);
  assert_true(n > 200);
}

static void quantiles(void **state)
{
  (void)state;
  rw_table *t = check_table("table_aft_quantiles");
  for (size_t i = 0; i < rw_table_rows(t); i++) {
    const plan *p = plan_of(check_text(t, i, "fit"));
    rw_aft *f = fitted(p, kind_of(check_text(t, i, "dist")));
    double x = covariate(p->form, check_cell(t, i, "celsius"));
    rw_value log_q, q;
    rw_error err;
    assert_ok(rw_aft_quantile(f, &x, check_cell(t, i, "p"), &log_q, &q, &err), &err);
    assert_close_rel(log_q.value, check_cell(t, i, "logq"), 1e-6);
    assert_close_rel(log_q.sd, check_cell(t, i, "se_logq"), 1e-6);
    assert_close_rel(q.value, check_cell(t, i, "q"), 1e-6);
    assert_close_rel(q.sd, check_cell(t, i, "se_q"), 1e-6);
    double z = 1.959963984540054;
    assert_close_rel(exp(log_q.value - z * log_q.sd), check_cell(t, i, "wald95_lo"), 1e-6);
    assert_close_rel(exp(log_q.value + z * log_q.sd), check_cell(t, i, "wald95_hi"), 1e-6);
    rw_aft_destroy(f);
  }
  assert_true(rw_table_rows(t) > 30);
  rw_table_destroy(t);
}

/* "beta1", "log(sigma)", "logq_0.5@10" (at 10 degC) or "logq_0.5_radchem1". */
static rw_aft_target target_of(const char *psi, const plan *p, double *x)
{
  rw_aft_target t = {.coefficient = index_of(psi, 1)};
  if (strncmp(psi, "logq_", 5) != 0)
    return t;
  size_t used;
  rw_error err;
  assert_ok(rw_text_number(psi + 5, strlen(psi + 5), '.', &t.p, &used, &err), &err);
  const char *end = psi + 5 + used;
  double celsius = 0;
  if (*end == '@')
    assert_ok(rw_text_number(end + 1, strlen(end + 1), '.', &celsius, NULL, &err), &err);
  *x = *end == '@' ? covariate(p->form, celsius) : 1;
  t.x = x;
  return t;
}

static void profiles(void **state)
{
  (void)state;
  rw_table *t = check_table("table_aft_profiles");
  for (size_t i = 0; i < rw_table_rows(t); i++) {
    const plan *p = plan_of(check_text(t, i, "fit"));
    rw_aft *f = fitted(p, kind_of(check_text(t, i, "dist")));
    double x, low, high;
    rw_aft_target target = target_of(check_text(t, i, "psi"), p, &x);
    rw_error err;
    assert_ok(rw_aft_profile(f, &target, check_cell(t, i, "level"), &low, &high, &err), &err);
    double from = check_cell(t, i, "profile_lo"), to = check_cell(t, i, "profile_hi");
    assert_close(low, from, 1e-6 * (to - from));
    assert_close(high, to, 1e-6 * (to - from));
    rw_aft_destroy(f);
  }
  assert_true(rw_table_rows(t) > 25);
  rw_table_destroy(t);
}

static void tails(void **state)
{
  (void)state;
  rw_table *t = check_table("table_aft_tails");
  for (size_t i = 0; i < rw_table_rows(t); i++) {
    double got;
    rw_error err;
    assert_ok(rw_aft_log_probability(kind_of(check_text(t, i, "dist")),
                                     bound(t, i, "z_lo", -HUGE_VAL), bound(t, i, "z_hi", HUGE_VAL),
                                     &got, &err),
              &err);
    double expected = check_cell(t, i, "log_prob");
    if (expected == 0)
      assert_close(got, 0, 1e-60); /* 60 digits hold 1 - P no finer */
    else
      assert_close_rel(got, expected, 1e-12);
  }
  assert_true(rw_table_rows(t) > 40);
  rw_table_destroy(t);
}

/* Each case of the table names the trouble it must end in. */
static void without_estimates(void **state)
{
  (void)state;
  rw_table *t = check_table("table_aft_degenerate");
  size_t cases = 0;
  for (size_t i = 0; i < rw_table_rows(t);) {
    char key[40];
    snprintf(key, sizeof key, "%s", check_text(t, i, "case"));
    rows r = {0};
    for (; i < rw_table_rows(t) && strcmp(check_text(t, i, "case"), key) == 0; i++)
      add(&r, t, i, covariate('r', check_cell(t, i, "celsius")));
    for (int kind = RW_AFT_LOGNORMAL; kind <= RW_AFT_WEIBULL; kind++) {
      rw_aft_data d = data_of(&r, &plans[0]);
      rw_aft *f = (rw_aft *)&r;
      rw_aft_trouble trouble = RW_AFT_FINE;
      rw_error err;
      assert_status(rw_aft_fit(&d, (rw_aft_kind)kind, &f, &trouble, &err), RW_ERR_NUMERIC, &err);
      assert_string_equal(rw_aft_trouble_key(trouble), key);
      assert_string_equal(err.argument, key);
      assert_non_null(strstr(err.message, rw_aft_trouble_text(trouble)));
      assert_true(strlen(err.hint) > 10);
      assert_ptr_equal(f, &r);
    }
    cases++;
  }
  assert_int_equal(cases, 5);
  rw_table_destroy(t);
}

static void same(const rw_aft *a, const rw_aft *b, double tolerance)
{
  rw_aft_summary s, u;
  rw_aft_summarise(a, &s);
  rw_aft_summarise(b, &u);
  assert_close(s.likelihood, u.likelihood, 1e-9);
  for (size_t i = 0; i < s.covariates + 2; i++) {
    assert_close_rel(rw_aft_coefficient(a, i).value, rw_aft_coefficient(b, i).value, tolerance);
    assert_close_rel(rw_aft_coefficient(a, i).sd, rw_aft_coefficient(b, i).sd, tolerance);
  }
}

static void a_weight_counts_as_rows(void **state)
{
  (void)state;
  static const char *const names[] = {"cracks", "device_x=1/(R*K)",
                                      "insulation_all_x=1000/(C+273.16)"};
  for (size_t k = 0; k < 3; k++) {
    const plan *p = plan_of(names[k]);
    rows r, each = {0};
    load(p, &r);
    for (size_t i = 0; i < r.n; i++)
      for (double w = 0; w < r.weight[i]; w++) {
        each.lower[each.n] = r.lower[i];
        each.upper[each.n] = r.upper[i];
        each.x[each.n++] = r.x[i];
      }
    assert_true(each.n > r.n);
    rw_aft_data d = data_of(&each, p);
    d.weight = NULL;
    rw_aft *f = fitted(p, RW_AFT_WEIBULL), *g = NULL;
    rw_error err;
    assert_ok(rw_aft_fit(&d, RW_AFT_WEIBULL, &g, NULL, &err), &err);
    same(f, g, 1e-10);
    rw_aft_destroy(f);
    rw_aft_destroy(g);
  }
}

/* Minutes for hours move beta0 by ln 60 and the likelihood in time by -n ln 60, nothing else. */
static void units_do_not_matter(void **state)
{
  (void)state;
  const plan *p = plan_of("logbook_x=(1/K-1/293.15)/R");
  rows r;
  load(p, &r);
  rw_aft *f = fitted(p, RW_AFT_LOGNORMAL), *g = NULL;
  for (size_t i = 0; i < r.n; i++) {
    r.lower[i] *= 60;
    r.upper[i] *= 60;
  }
  rw_aft_data d = data_of(&r, p);
  rw_error err;
  assert_ok(rw_aft_fit(&d, RW_AFT_LOGNORMAL, &g, NULL, &err), &err);
  rw_aft_summary s, u;
  rw_aft_summarise(f, &s);
  rw_aft_summarise(g, &u);
  assert_close(rw_aft_coefficient(g, 0).value - rw_aft_coefficient(f, 0).value, log(60), 1e-10);
  assert_close(u.likelihood - s.likelihood, -s.exact * log(60), 1e-9);
  assert_close(u.log_likelihood, s.log_likelihood, 1e-9);
  assert_close_rel(rw_aft_coefficient(g, 1).value, rw_aft_coefficient(f, 1).value, 1e-10);
  assert_close_rel(u.spread, s.spread, 1e-10);
  for (size_t i = 0; i < 3; i++)
    assert_close_rel(rw_aft_coefficient(g, i).sd, rw_aft_coefficient(f, i).sd, 1e-9);
  rw_aft_destroy(f);
  rw_aft_destroy(g);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(estimates),
      cmocka_unit_test(quantiles),
      cmocka_unit_test(profiles),
      cmocka_unit_test(tails),
      cmocka_unit_test(without_estimates),
      cmocka_unit_test(a_weight_counts_as_rows),
      cmocka_unit_test(units_do_not_matter),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
