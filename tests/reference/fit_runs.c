/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A fit of a cure law to three runs against one done elsewhere. */
#include "check.h"

#include <math.h>
#include <stdio.h>

static const double HOUR = 3600, ZERO = 273.15;

enum { MOST = 40, RUNS = 3 };

typedef struct measured {
  double time[MOST], cure[MOST];
  rw_run run[RUNS];
} measured;

static void read_runs(measured *m)
{
  rw_table *t = check_table("table_kamal_runs");
  size_t run = 0;
  *m = (measured){0};
  for (size_t i = 0; i < rw_table_rows(t); i++) {
    double T = check_cell(t, i, "T_C") + ZERO;
    m->time[i] = check_cell(t, i, "t_h") * HOUR;
    m->cure[i] = check_cell(t, i, "alpha");
    if (i > 0 && m->run[run].course.T != T)
      run++;
    assert_true(run < RUNS);
    rw_run *r = &m->run[run];
    if (r->n++ == 0) {
      r->course.T = T;
      r->time = m->time + i;
      r->cure = m->cure + i;
    }
  }
  rw_table_destroy(t);
  assert_int_equal(run, RUNS - 1);
}

static void point(const char *fit, const char *what, double actual)
{
  static char id[64][80];
  static size_t used;
  assert_true(used < 64);
  snprintf(id[used], sizeof id[used], "%s-%s", fit, what);
  check_point("fit_runs", id[used++], actual);
}

/* The table's units: ln(1/h) and kJ/mol. */
static const char *const names[] = {"ln-k1-25C", "E1-kJ", "ln-k2-25C", "E2-kJ", "m", "n"};
static const double unit[] = {1, 1e3, 1, 1e3, 1, 1};
static const rw_fit_parameter all[] = {RW_FIT_K1, RW_FIT_E1, RW_FIT_K2,
                                       RW_FIT_E2, RW_FIT_M,  RW_FIT_N};

static void one_fit(const char *name, size_t p, double m, double n)
{
  measured data;
  read_runs(&data);
  const rw_runs runs = {.run = data.run,
                        .n = RUNS,
                        .law = {.kind = RW_LAW_KAMAL,
                                .k1 = exp(-3.50655789732) / HOUR,
                                .E1 = 40e3,
                                .k2 = exp(-2.30258509299) / HOUR,
                                .E2 = 50e3,
                                .m = m,
                                .n = n,
                                .T_ref = 298.15},
                        .parameter = all,
                        .p = p,
                        .tolerance = 1e-11};
  rw_runs_fit fit;
  rw_error err;
  char what[48];
  assert_ok(rw_fit_runs(&runs, &fit, NULL, &err), &err);
  assert_int_equal(fit.freedom, 30 - p);
  point(name, "rss", fit.rss);
  point(name, "resid-sd", fit.residual_sd);
  for (size_t i = 0; i < p; i++) {
    int rate = all[i] == RW_FIT_K1 || all[i] == RW_FIT_K2;
    snprintf(what, sizeof what, "est-%s", names[i]);
    point(name, what, fit.x[i] / unit[i] + (rate ? log(HOUR) : 0));
    snprintf(what, sizeof what, "se-%s", names[i]);
    point(name, what, fit.sd[i] / unit[i]);
    for (size_t j = 0; j < i; j++) {
      snprintf(what, sizeof what, "cov-%s-%s", names[i], names[j]);
      point(name, what, fit.covariance[i * p + j] / (unit[i] * unit[j]));
    }
  }
  const rw_course ahead = {.T = 20 + ZERO};
  double day = 24 * HOUR;
  rw_value cure;
  assert_ok(rw_fit_cure(&fit, &ahead, &day, 1, &cure, &err), &err);
  point(name, "pred-alpha-20C-24h", cure.value);
  point(name, "pred-se", cure.sd);
}

static void four_parameters(void **state)
{
  (void)state;
  one_fit("fit4", 4, 0.8, 1.6);
}

static void six_parameters(void **state)
{
  (void)state;
  one_fit("fit6", 6, 1, 1.5);
}

static void every_point_used(void **state)
{
  (void)state;
  check_all_points_used("fit_runs");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(four_parameters),
      cmocka_unit_test(six_parameters),
      cmocka_unit_test(every_point_used),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
