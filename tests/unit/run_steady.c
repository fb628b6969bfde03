/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cures at steady temperatures by integrals over the degree of cure, beside those that the general
 * engine follows in time. */
#include "check.h"

#include "../../lib/fit/src/run_steady.h"

#include <math.h>
#include <string.h>

enum { TIMES = 24, FREE = 6 };
static const rw_fit_parameter all[FREE] = {RW_FIT_K1, RW_FIT_E1, RW_FIT_K2,
                                           RW_FIT_E2, RW_FIT_M,  RW_FIT_N};

static rw_cure_law kamal(double k1, double m, double n)
{
  return (rw_cure_law){.kind = RW_LAW_KAMAL,
                       .k1 = k1,
                       .E1 = 58e3,
                       .k2 = 2e-4,
                       .E2 = 51e3,
                       .m = m,
                       .n = n,
                       .T_ref = 298.15};
}

/* From the mixing and the first traces to long after. */
static void times_of(const rw_course *c, double *time)
{
  time[0] = time[1] = c->from;
  for (int i = 2; i < TIMES; i++)
    time[i] = c->from + 1e7 * pow(10, -8 + 8.0 * i / (TIMES - 1));
}

static void engine(const rw_cure_law *law, const rw_course *c, const double *time, double *cure)
{
  rw_error err;
  assert_true(rw_fit_slopes(law, c, NULL, 0, time, TIMES, 1e-12, cure, NULL, &err) >= 0);
}

static void move(rw_cure_law *law, rw_fit_parameter q, double by)
{
  double *const member[RW_FIT_PARAMETERS] = {
      [RW_FIT_E1] = &law->E1, [RW_FIT_E2] = &law->E2, [RW_FIT_M] = &law->m, [RW_FIT_N] = &law->n};
  if (q == RW_FIT_K1)
    law->k1 *= exp(by);
  else if (q == RW_FIT_K2)
    law->k2 *= exp(by);
  else
    *member[q] += by;
}

/* Slopes beside differences of the engine's answers, their square taken out. */
static void check_slopes(const rw_cure_law *law, const rw_course *c, const double *time,
                         const double *slope)
{
  for (size_t j = 0; j < FREE; j++) {
    double at[4][TIMES], most = 0, h = j == 1 || j == 3 ? 10 : 5e-4;
    for (int i = 0; i < 4; i++) {
      rw_cure_law moved = *law;
      move(&moved, all[j], (i < 2 ? i - 2 : i - 1) * h);
      engine(&moved, c, time, at[i]);
    }
    for (size_t i = 0; i < TIMES; i++)
      most = fmax(most, fabs(slope[i * FREE + j]));
    assert_true(most > 0);
    for (size_t i = 0; i < TIMES; i++) {
      double difference = (8 * (at[2][i] - at[1][i]) - (at[3][i] - at[0][i])) / (12 * h);
      check_close(slope[i * FREE + j] / most, difference / most, 1e-7,
                  rw_fit_parameter_key(all[j]), __FILE__, (int)i);
    }
  }
}

static void check_law(steady *s, rw_cure_law law, double start, double T)
{
  double time[TIMES], cure[TIMES], exact[TIMES], slope[TIMES * FREE];
  rw_course c = {.T = T, .from = 5000, .start = start};
  times_of(&c, time);
  assert_true(steady_fits(&law, 1e-9));
  steady_law(s, &law);
  assert_true(steady_follow(s, &c, time, TIMES, all, FREE, cure, slope));
  engine(&law, &c, time, exact);
  for (int i = 0; i < TIMES; i++)
    check_close(cure[i], exact[i], 1e-10, "cure", __FILE__, i);
  check_slopes(&law, &c, time, slope);
}

static void as_the_engine(void **state)
{
  (void)state;
  static const double m[] = {0.4, 0.85, 1, 1.7, 3.9}, n[] = {0.3, 1, 1.5, 2.2, 3.9};
  steady *s = steady_create();
  assert_non_null(s);
  for (size_t i = 0; i < 5; i++)
    for (size_t j = 0; j < 5; j++) {
      check_law(s, kamal(1e-5, m[i], n[j]), 0, 293.15);
      check_law(s, kamal(i == 0 ? 1e-6 : 1e-7, m[i], n[j]), 0, 318.15);
      check_law(s, kamal(1e-5, m[i], n[j]), i == 0 ? 1e-6 : 0.12 * (double)(i + j), 303.15);
    }
  steady_destroy(s);
}

static void of_order_n(void **state)
{
  (void)state;
  const rw_fit_parameter q[] = {RW_FIT_N, RW_FIT_K1};
  rw_cure_law law = kamal(4e-5, 0, 1.4);
  law.kind = RW_LAW_NTH_ORDER;
  law.k2 = law.m = 0;
  law.T_ref = 300;
  steady *s = steady_create();
  assert_non_null(s);
  steady_law(s, &law);
  double time[3] = {0, 3600, 2e5}, cure[3], slope[6];
  assert_true(steady_follow(s, &(rw_course){.T = 300}, time, 3, q, 2, cure, slope));
  for (int i = 0; i < 3; i++) { /* (1-a)^(1-n) = 1 + (n-1) k t */
    double x = 1 + 0.4 * 4e-5 * time[i], left = pow(x, -2.5), rate = 4e-5 * pow(left, 1.4);
    check_close(cure[i], 1 - left, 1e-12, "cure", __FILE__, i);
    check_close(slope[2 * i + 1], rate * time[i], 1e-10, "ln k1", __FILE__, i);
    double by_n = -left * (log(x) / 0.16 - 4e-5 * time[i] / (0.4 * x));
    check_close(slope[2 * i], by_n, 1e-10, "n", __FILE__, i);
  }
  steady_destroy(s);
}

static void what_it_leaves_to_the_engine(void **state)
{
  (void)state;
  rw_cure_law law = kamal(1e-5, 0.8, 1.5);
  assert_true(steady_fits(&law, 1e-10));
  assert_false(steady_fits(&law, 9e-11));
  law.C = 30;
  assert_false(steady_fits(&law, 1e-9));
  law.C = 0;
  law.stiffening.k = 1;
  assert_false(steady_fits(&law, 1e-9));
  law.stiffening.k = 0;
  law.k1 = 0;
  assert_false(steady_fits(&law, 1e-9));
  law = kamal(1e-5, 0.8, 1.5);
  law.kind = RW_LAW_PLATEAU;
  assert_false(steady_fits(&law, 1e-9));
  double time = 1000, cure;
  steady *s = steady_create();
  assert_non_null(s);
  law = kamal(1e-9, 0.05, 1.5); /* k2 counts from the first molecule on */
  steady_law(s, &law);
  assert_false(steady_follow(s, &(rw_course){.T = 300}, &time, 1, NULL, 0, &cure, NULL));
  steady_destroy(s);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(as_the_engine),
      cmocka_unit_test(of_order_n),
      cmocka_unit_test(what_it_leaves_to_the_engine),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
