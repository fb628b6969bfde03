/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"

#include <math.h>
#include <string.h>

static const double HOUR = 3600, T_REF = 298.15;

enum { TIMES = 8, RUNS = 3 };

static const double TIME[TIMES] = {0,        1800,      5400,      4 * 3600,
                                   9 * 3600, 16 * 3600, 30 * 3600, 60 * 3600};

static rw_cure_law kamal(void)
{
  return (rw_cure_law){.kind = RW_LAW_KAMAL,
                       .k1 = 0.02 / HOUR,
                       .E1 = 48e3,
                       .k2 = 0.15 / HOUR,
                       .E2 = 56e3,
                       .m = 0.8,
                       .n = 1.6,
                       .T_ref = T_REF};
}

/* A laid hull: warm, a cold night, a step into an oven and out again. */
static rw_history *shop(void)
{
  static const double hour[] = {0, 3, 9, 9, 14, 20, 20, 26, 40, 61};
  static const double C[] = {22, 19, 12, 31, 36, 33, 16, 14, 20, 17};
  double t[10], T[10];
  rw_history *h = NULL;
  rw_error err;
  for (int i = 0; i < 10; i++) {
    t[i] = hour[i] * HOUR;
    T[i] = C[i] + 273.15;
  }
  assert_ok(rw_history_create(t, T, NULL, 10, &h, &err), &err);
  return h;
}

static double *member(rw_cure_law *l, rw_fit_parameter q)
{
  double *const all[RW_FIT_PARAMETERS] = {[RW_FIT_K1] = &l->k1,
                                          [RW_FIT_E1] = &l->E1,
                                          [RW_FIT_K2] = &l->k2,
                                          [RW_FIT_E2] = &l->E2,
                                          [RW_FIT_K3] = &l->k3,
                                          [RW_FIT_E3] = &l->E3,
                                          [RW_FIT_M] = &l->m,
                                          [RW_FIT_N] = &l->n,
                                          [RW_FIT_LIMIT] = &l->limit,
                                          [RW_FIT_C] = &l->C,
                                          [RW_FIT_AC0] = &l->ac0,
                                          [RW_FIT_ACT] = &l->acT,
                                          [RW_FIT_STIFFENING] = &l->stiffening.k};
  return all[q];
}

/* The degrees of cure with one parameter moved by d. */
static void moved(rw_cure_law law, const rw_course *c, rw_fit_parameter q, int logarithm, double d,
                  double *cure)
{
  double *x = member(&law, q);
  rw_error err;
  *x = logarithm ? *x * exp(d) : *x + d;
  assert_true(rw_fit_slopes(&law, c, NULL, 0, TIME, TIMES, 1e-12, cure, NULL, &err) >= 0);
}

/* Every slope against a central difference with its h^2 part taken out. */
static void check_slopes(rw_cure_law law, const rw_course *c, const rw_fit_parameter *q, size_t p)
{
  double cure[TIMES], slope[TIMES * RW_FIT_PARAMETERS];
  rw_error err;
  assert_true(rw_fit_slopes(&law, c, q, p, TIME, TIMES, 1e-12, cure, slope, &err) >= 0);
  for (size_t j = 0; j < p; j++) {
    int logarithm = q[j] == RW_FIT_K1 || q[j] == RW_FIT_K3 || q[j] == RW_FIT_STIFFENING ||
                    (q[j] == RW_FIT_K2 && law.kind != RW_LAW_TWO_STAGE);
    double size = logarithm ? 1 : fabs(*member(&law, q[j])), h = 4e-4 * size, at[4][TIMES];
    double most = 0;
    for (int i = 0; i < 4; i++)
      moved(law, c, q[j], logarithm, (i == 0 ? -2 : i == 1 ? -1 : i == 2 ? 1 : 2) * h, at[i]);
    for (size_t i = 0; i < TIMES; i++)
      most = fmax(most, fabs(slope[i * p + j]) * size);
    assert_true(most > 1e-5);
    for (size_t i = 0; i < TIMES; i++) {
      double difference = (8 * (at[2][i] - at[1][i]) - (at[3][i] - at[0][i])) / (12 * h);
      check_close(slope[i * p + j] * size, difference * size, 1e-6 * fmax(most, 0.01),
                  rw_fit_parameter_key(q[j]), __FILE__, (int)i);
    }
  }
}

static void check_both(rw_cure_law law, double start, const rw_fit_parameter *q, size_t p)
{
  rw_history *h = shop();
  const rw_course along = {.history = h, .start = start};
  const rw_course steady = {.T = 301, .start = start};
  check_slopes(law, &steady, q, p);
  check_slopes(law, &along, q, p);
  rw_history_destroy(h);
}

static void slopes_of_kamal(void **state)
{
  (void)state;
  static const rw_fit_parameter q[] = {RW_FIT_K1, RW_FIT_E1, RW_FIT_K2,  RW_FIT_E2, RW_FIT_M,
                                       RW_FIT_N,  RW_FIT_C,  RW_FIT_AC0, RW_FIT_ACT};
  rw_cure_law law = kamal();
  check_both(law, 0, q, 6);
  law.k1 = 4e-5 / HOUR; /* k1 counts in the first traces only */
  law.m = 0.5;
  check_both(law, 0, q, 6);
  law = kamal();
  law.m = 1;
  check_both(law, 0.1, q, 6);
  law.m = 2.5;
  law.n = 0.7;
  check_both(law, 0.02, q, 6);
  law = kamal();
  law.C = 30;
  law.ac0 = 0.7;
  law.acT = 0.004;
  check_both(law, 0, q, 9);
}

static void slopes_of_other_laws(void **state)
{
  (void)state;
  static const rw_fit_parameter nth[] = {RW_FIT_K1, RW_FIT_E1, RW_FIT_N};
  static const rw_fit_parameter auto_only[] = {RW_FIT_K1, RW_FIT_E1, RW_FIT_M, RW_FIT_N};
  static const rw_fit_parameter plateau[] = {RW_FIT_K1, RW_FIT_E1, RW_FIT_K2,   RW_FIT_E2,
                                             RW_FIT_M,  RW_FIT_N,  RW_FIT_LIMIT};
  rw_cure_law law = kamal();
  law.kind = RW_LAW_NTH_ORDER;
  law.k1 = 0.12 / HOUR;
  check_both(law, 0, nth, 3);
  law.kind = RW_LAW_SESTAK_BERGGREN;
  law.m = 0.5;
  check_both(law, 0.001, auto_only, 4);
  law = kamal();
  law.kind = RW_LAW_PLATEAU;
  law.limit = 0.8;
  check_both(law, 0, plateau, 7);
  law.limit = 1.3;
  check_both(law, 0, plateau, 7);
}

static void slopes_of_two_stages(void **state)
{
  (void)state;
  static const rw_fit_parameter q[] = {RW_FIT_K1, RW_FIT_E1, RW_FIT_K2,   RW_FIT_E2,
                                       RW_FIT_K3, RW_FIT_E3, RW_FIT_LIMIT};
  rw_cure_law law = {.kind = RW_LAW_TWO_STAGE,
                     .k1 = 0.25 / HOUR,
                     .E1 = 60e3,
                     .k2 = -0.2 / HOUR,
                     .E2 = 55e3,
                     .k3 = 0.04 / HOUR,
                     .E3 = 50e3,
                     .limit = 0.9,
                     .split = 0.4,
                     .T_ref = T_REF};
  check_both(law, 0, q, 7);
}

static void slopes_of_a_stiffening(void **state)
{
  (void)state;
  static const rw_fit_parameter q[] = {RW_FIT_K1, RW_FIT_E1, RW_FIT_K2,        RW_FIT_E2,
                                       RW_FIT_M,  RW_FIT_N,  RW_FIT_STIFFENING};
  rw_cure_law law = kamal();
  law.stiffening = (rw_stiffening){.k = 0.3 / HOUR,
                                   .c1 = 40.2,
                                   .c2 = 51.6,
                                   .glass = {.Tg0 = 230, .Tg_inf = 350, .lambda = 0.4}};
  check_both(law, 0, q, 7);
}

/* A start at nothing with a broken power: the slope after m begins like t ln t. */
static void slopes_from_nothing(void **state)
{
  (void)state;
  static const rw_fit_parameter q[] = {RW_FIT_K1, RW_FIT_M};
  rw_cure_law law = {.kind = RW_LAW_SESTAK_BERGGREN,
                     .k1 = 0.1 / HOUR,
                     .E1 = 50e3,
                     .m = 0.5,
                     .n = 1,
                     .T_ref = T_REF};
  const rw_course c = {.T = T_REF};
  double cure[TIMES], slope[2 * TIMES];
  rw_error err;
  assert_ok(rw_fit_slopes(&law, &c, q, 2, TIME, TIMES, 1e-12, cure, slope, &err), &err);
  for (size_t i = 1; i < TIMES; i++) {
    /* a = tanh^2(k t/2) */
    double x = law.k1 * TIME[i] / 2, th = tanh(x);
    assert_close(cure[i], th * th, 1e-10);
    assert_close(slope[2 * i], 2 * th * (1 - th * th) * x, 1e-9);
  }
  double at[4][TIMES], h = 1e-4;
  for (int i = 0; i < 4; i++)
    moved(law, &c, RW_FIT_M, 0, (i == 0 ? -2 : i == 1 ? -1 : i == 2 ? 1 : 2) * h, at[i]);
  for (size_t i = 0; i < TIMES; i++)
    assert_close(slope[2 * i + 1], (8 * (at[2][i] - at[1][i]) - (at[3][i] - at[0][i])) / (12 * h),
                 1e-6);
}

/* Runs that the law itself has made: steady, heated evenly and along a shop's readings. */
typedef struct sample {
  rw_history *heated, *shop;
  double cure[RUNS][TIMES];
  rw_run run[RUNS];
} sample;

static void make(sample *s, const rw_cure_law *law)
{
  const double t[2] = {0, 61 * HOUR}, T[2] = {285, 320};
  rw_error err;
  s->shop = shop();
  assert_ok(rw_history_create(t, T, NULL, 2, &s->heated, &err), &err);
  const rw_course course[RUNS] = {{.T = 303}, {.history = s->heated}, {.history = s->shop}};
  for (int i = 0; i < RUNS; i++) {
    assert_ok(rw_fit_slopes(law, &course[i], NULL, 0, TIME, TIMES, 1e-11, s->cure[i], NULL, &err),
              &err);
    s->run[i] = (rw_run){.course = course[i], .time = TIME, .cure = s->cure[i], .n = TIMES};
  }
}

static void done(sample *s)
{
  rw_history_destroy(s->heated);
  rw_history_destroy(s->shop);
}

static const rw_fit_parameter SIX[] = {RW_FIT_K1, RW_FIT_E1, RW_FIT_K2,
                                       RW_FIT_E2, RW_FIT_M,  RW_FIT_N};

static rw_runs six_of(const sample *s)
{
  rw_runs runs = {.run = s->run, .n = RUNS, .law = kamal(), .parameter = SIX, .p = 6};
  runs.law.k1 *= 1.7;
  runs.law.E1 = 55e3;
  runs.law.k2 *= 0.6;
  runs.law.E2 = 50e3;
  runs.law.m = 1.1;
  runs.law.n = 1.3;
  return runs;
}

static void finds_the_law_that_made_the_runs(void **state)
{
  (void)state;
  sample s;
  rw_cure_law law = kamal();
  rw_runs_fit fit;
  rw_error err;
  double residual[RUNS * TIMES];
  make(&s, &law);
  rw_runs runs = six_of(&s);
  assert_ok(rw_fit_runs(&runs, &fit, residual, &err), &err);
  for (size_t j = 0; j < 6; j++)
    assert_close_rel(*member(&fit.law, SIX[j]), *member(&law, SIX[j]), 1e-5);
  for (size_t i = 0; i < RUNS * TIMES; i++)
    assert_close(residual[i], 0, 1e-8);
  assert_close(fit.x[0], log(fit.law.k1), 1e-14);
  assert_close(fit.x[1], fit.law.E1, 0);
  assert_int_equal(fit.points, RUNS * TIMES);
  assert_int_equal(fit.freedom, RUNS * TIMES - 6);
  done(&s);
}

/* Noise that a generator of this file makes, the same each time. */
static void disturb(sample *s, double sd)
{
  unsigned long x = 1;
  for (int i = 0; i < RUNS; i++)
    for (int l = 1; l < TIMES; l++) {
      x = (x * 1103515245UL + 12345UL) & 0x7fffffffUL;
      s->cure[i][l] += sd * rw_num_normal_quantile(((double)x + 0.5) / 0x80000000UL);
    }
}

/* A weight of 4 is four points, a weight of 0 none. */
static void weights_count_points(void **state)
{
  (void)state;
  sample s;
  rw_cure_law law = kamal();
  rw_runs_fit once, twice;
  rw_error err;
  double weight[TIMES];
  rw_run run[RUNS + 3];
  make(&s, &law);
  disturb(&s, 0.01);
  for (int l = 0; l < TIMES; l++)
    weight[l] = 4;
  rw_runs runs = six_of(&s);
  runs.p = 4;
  runs.law.m = law.m;
  runs.law.n = law.n;
  memcpy(run, s.run, sizeof s.run);
  for (int i = RUNS; i < RUNS + 3; i++)
    run[i] = s.run[1];
  runs.run = run;
  runs.n = RUNS + 3;
  assert_ok(rw_fit_runs(&runs, &twice, NULL, &err), &err);
  run[1].weight = weight;
  runs.n = RUNS;
  assert_ok(rw_fit_runs(&runs, &once, NULL, &err), &err);
  assert_close_rel(once.rss, twice.rss, 1e-10);
  for (size_t j = 0; j < 4; j++)
    assert_close_rel(once.x[j], twice.x[j], 1e-6);
  for (int l = 0; l < TIMES; l++)
    weight[l] = 0;
  s.cure[1][3] = 0.9;
  assert_ok(rw_fit_runs(&runs, &once, NULL, &err), &err);
  assert_int_equal(once.points, (RUNS - 1) * TIMES);
  done(&s);
}

/* Robust: one wild reading hardly moves the law. */
static void a_wild_reading(void **state)
{
  (void)state;
  sample s;
  rw_cure_law law = kamal();
  rw_runs_fit plain, robust;
  rw_error err;
  make(&s, &law);
  disturb(&s, 0.004);
  s.cure[0][4] += 0.3;
  rw_runs runs = six_of(&s);
  runs.p = 4;
  runs.law.m = law.m;
  runs.law.n = law.n;
  assert_ok(rw_fit_runs(&runs, &plain, NULL, &err), &err);
  runs.robust = (rw_robust){.loss = RW_LOSS_BISQUARE, .scale = RW_SCALE_MEDIAN};
  assert_ok(rw_fit_runs(&runs, &robust, NULL, &err), &err);
  assert_true(fabs(robust.x[2] - log(law.k2)) < 0.25 * fabs(plain.x[2] - log(law.k2)));
  assert_true(robust.residual_sd < 0.01 && plain.residual_sd > 0.03);
  assert_status(rw_fit_limits(&runs, &robust, 0, 0.95, &(double){0}, &(double){0}, &err),
                RW_ERR_ARGUMENT, &err);
  done(&s);
}

/* Standard errors of what follows, against fits moved along each parameter. */
static void looks_ahead(void **state)
{
  (void)state;
  sample s;
  rw_cure_law law = kamal();
  rw_runs_fit fit;
  rw_error err;
  make(&s, &law);
  disturb(&s, 0.01);
  rw_runs runs = six_of(&s);
  assert_ok(rw_fit_runs(&runs, &fit, NULL, &err), &err);
  const rw_course cold = {.T = 285};
  rw_value cure, when;
  double at = 20 * HOUR;
  assert_ok(rw_fit_when(&fit, &cold, 400 * HOUR, 0.5, &when, &err), &err);
  assert_ok(rw_fit_cure(&fit, &cold, &when.value, 1, &cure, &err), &err);
  assert_close(cure.value, 0.5, 1e-8);
  double rate;
  assert_ok(rw_cure_rate(&fit.law, 0.5, 285, &rate, &err), &err);
  assert_close_rel(when.sd, cure.sd / rate, 1e-6);

  double slope[6], a, variance = 0;
  assert_ok(rw_fit_slopes(&fit.law, &cold, SIX, 6, &at, 1, 1e-10, &a, slope, &err), &err);
  assert_ok(rw_fit_cure(&fit, &cold, &at, 1, &cure, &err), &err);
  for (int i = 0; i < 6; i++)
    for (int j = 0; j < 6; j++)
      variance += slope[i] * slope[j] * fit.correlation[6 * i + j] * fit.sd[i] * fit.sd[j];
  assert_close_rel(cure.sd, sqrt(variance), 1e-5);
  when.value = 7;
  assert_status(rw_fit_when(&fit, &cold, HOUR, 0.5, &when, &err), RW_NOT_REACHED, &err);
  assert_close(when.value, 7, 0);
  assert_status(rw_fit_when(&fit, &cold, HOUR, 1.5, &when, &err), RW_ERR_RANGE, &err);
  done(&s);
}

/* Limits from the sum of squares: refits with the parameter held there rise by t^2 variances. */
static void limits_rise_as_they_should(void **state)
{
  (void)state;
  sample s;
  rw_cure_law law = kamal();
  rw_runs_fit fit, held;
  rw_error err;
  double low, high;
  make(&s, &law);
  disturb(&s, 0.01);
  rw_runs runs = six_of(&s);
  assert_ok(rw_fit_runs(&runs, &fit, NULL, &err), &err);
  assert_ok(rw_fit_limits(&runs, &fit, 5, 0.95, &low, &high, &err), &err);
  double t = rw_num_student_quantile(0.975, fit.freedom);
  double want = fit.rss + t * t * fit.rss / (double)fit.freedom;
  for (int i = 0; i < 2; i++) {
    rw_runs five = runs;
    five.law = fit.law;
    five.law.n = i == 0 ? low : high;
    five.p = 5;
    assert_ok(rw_fit_runs(&five, &held, NULL, &err), &err);
    assert_close_rel(held.rss, want, 1e-6);
  }
  assert_true(low < fit.x[5] && fit.x[5] < high);
  done(&s);
}

static void says_what_the_runs_do_not_tell(void **state)
{
  (void)state;
  sample s;
  rw_cure_law law = kamal();
  rw_runs_fit fit = {.p = 77};
  rw_error err;
  make(&s, &law);
  disturb(&s, 0.01);
  rw_runs runs = six_of(&s);
  runs.n = 1; /* one temperature: no energies */
  assert_status(rw_fit_runs(&runs, &fit, NULL, &err), RW_ERR_NUMERIC, &err);
  check_explained(&err, "do not determine");
  assert_int_equal(fit.p, 77);
  done(&s);
}

static void refuses(void **state)
{
  (void)state;
  sample s;
  rw_cure_law law = kamal();
  rw_runs_fit fit = {.p = 77};
  rw_error err;
  make(&s, &law);
  rw_runs good = six_of(&s), runs = good;
  static const rw_fit_parameter twice[] = {RW_FIT_K1, RW_FIT_K1}, strange[] = {RW_FIT_K3};
  runs.parameter = twice;
  runs.p = 2;
  assert_status(rw_fit_runs(&runs, &fit, NULL, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "twice");
  runs.parameter = strange;
  runs.p = 1;
  assert_status(rw_fit_runs(&runs, &fit, NULL, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "ln k3");
  runs = good;
  runs.p = 0;
  assert_status(rw_fit_runs(&runs, &fit, NULL, &err), RW_ERR_RANGE, &err);
  runs = good;
  runs.n = 0;
  assert_status(rw_fit_runs(&runs, &fit, NULL, &err), RW_ERR_RANGE, &err);
  runs = good;
  runs.tolerance = 1;
  assert_status(rw_fit_runs(&runs, &fit, NULL, &err), RW_ERR_RANGE, &err);
  runs = good;
  runs.law.m = 0;
  assert_status(rw_fit_runs(&runs, &fit, NULL, &err), RW_ERR_RANGE, &err);
  s.cure[2][3] = 45;
  assert_status(rw_fit_runs(&good, &fit, NULL, &err), RW_ERR_RANGE, &err);
  assert_non_null(strstr(err.hint, "per cent"));
  assert_int_equal(err.line, 4);
  s.cure[2][3] = 0.4;
  static const double back[TIMES] = {0, 10, 5, 20, 30, 40, 50, 60}, far[1] = {1e9};
  s.run[0].time = back;
  assert_status(rw_fit_runs(&good, &fit, NULL, &err), RW_ERR_ORDER, &err);
  s.run[0].time = TIME;
  s.run[1].time = far;
  s.run[1].n = 1;
  assert_status(rw_fit_runs(&good, &fit, NULL, &err), RW_ERR_COVERAGE, &err);
  s.run[1].n = 0;
  assert_status(rw_fit_runs(&good, &fit, NULL, &err), RW_ERR_RANGE, &err);
  assert_int_equal(fit.p, 77);
  assert_null(rw_fit_parameter_key(RW_FIT_PARAMETERS));
  assert_string_equal(rw_fit_parameter_key(RW_FIT_K1), "ln k1");
  assert_string_equal(rw_fit_parameter_unit(RW_FIT_E1), "J/mol");
  done(&s);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(slopes_of_kamal),
      cmocka_unit_test(slopes_of_other_laws),
      cmocka_unit_test(slopes_of_two_stages),
      cmocka_unit_test(slopes_of_a_stiffening),
      cmocka_unit_test(slopes_from_nothing),
      cmocka_unit_test(finds_the_law_that_made_the_runs),
      cmocka_unit_test(weights_count_points),
      cmocka_unit_test(a_wild_reading),
      cmocka_unit_test(looks_ahead),
      cmocka_unit_test(limits_rise_as_they_should),
      cmocka_unit_test(says_what_the_runs_do_not_tell),
      cmocka_unit_test(refuses),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
