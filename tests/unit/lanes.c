/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lanes' own arithmetic: exponential and logarithm beside those of the C library, and the
 * same answers with every width of register the processor has. */
#include "check.h"

#include "../../lib/cure/src/lanes.c"

enum { POINTS = 97, COUNT = 40000 };

static double spacing(double x)
{
  return nextafter(fabs(x), HUGE_VAL) - fabs(x);
}

static void exponentials(void **state)
{
  (void)state;
  double worst = 0;
  for (int i = 0; i <= COUNT; i++) {
    double x = -690 + 1380.0 * i / COUNT, y = exp(x);
    worst = fmax(worst, fabs(one_exp(x) - y) / spacing(y));
    x *= 1e-3;
    y = exp(x);
    worst = fmax(worst, fabs(one_exp(x) - y) / spacing(y));
  }
  assert_true(worst <= 1.5);
  assert_true(one_exp(0) == 1);
}

static void logarithms(void **state)
{
  (void)state;
  double worst = 0;
  for (int i = 0; i <= COUNT; i++) {
    double x = exp(-690 + 1380.0 * i / COUNT), y = log(x);
    if (y != 0)
      worst = fmax(worst, fabs(one_log(x) - y) / spacing(y));
    x = 0.5 + 1.5 * i / COUNT;
    y = log(x);
    if (y != 0)
      worst = fmax(worst, fabs(one_log(x) - y) / spacing(y));
  }
  assert_true(worst <= 1.5);
  assert_true(one_log(1) == 0);
}

/* A power is an exponential of a logarithm: that is off by up to 1.5 spacings, its product with
 * the exponent by half a one more, and both count as often as the exponent of e is large. */
static void powers(void **state)
{
  (void)state;
  for (int i = 1; i < COUNT; i++) {
    double x = (double)i / COUNT;
    for (double s = 0.25; s < 4; s += 0.75) {
      double y = pow(x, s);
      assert_true(fabs(one_pow(x, s) - y) <= (2 + 2 * fabs(s * log(x))) * spacing(y));
    }
  }
}

typedef struct scene {
  double time[POINTS], temperature[POINTS];
  rw_cure_draw draw[LANES];
  rw_flow flow;
} scene;

static void set_up(scene *s)
{
  s->flow = (rw_flow){1, 4e4, 298.15, 0.6, 1.5, 1};
  for (int i = 0; i < POINTS; i++) {
    s->time[i] = 900.0 * i;
    s->temperature[i] = 291 + 6 * sin(0.07 * i) + (i * 7919 % 13) * 0.1;
  }
  for (int i = 0; i < LANES; i++)
    s->draw[i] = (rw_cure_draw){.law = {.kind = i % 4 == 3 ? RW_LAW_PLATEAU : RW_LAW_KAMAL,
                                        .k1 = 2e-5 * (1 + 0.1 * i),
                                        .E1 = 6e4,
                                        .k2 = 2e-4,
                                        .E2 = 5.5e4 + 300 * i,
                                        .m = 0.6 + 0.05 * i,
                                        .n = 2.1,
                                        .T_ref = 298.15,
                                        .C = i % 3 == 0 ? 0 : 25,
                                        .ac0 = 0.75,
                                        .acT = 0.005,
                                        .limit = 0.8},
                                .shift = 0.3 * i - 2,
                                .flow = i % 2 ? &s->flow : NULL,
                                .viscosity = 8};
}

typedef struct answer {
  double time[LANES][3], thick[LANES], reached[LANES];
} answer;

static answer run(const scene *s, int (*f)(const lane_group *))
{
  static const double level[3] = {0.2, 0.5, 0.7};
  answer a;
  lane_group g = {.track = {.time = s->time, .temperature = s->temperature, .points = POINTS},
                  .span = s->time[POINTS - 1],
                  .tolerance = 1e-7,
                  .levels = 3};
  memset(&a, 0, sizeof a);
  for (int i = 0; i < LANES; i++) {
    for (int l = 0; l < 3; l++)
      a.time[i][l] = HUGE_VAL;
    a.thick[i] = HUGE_VAL;
    g.draw[i] = &s->draw[i];
    g.level[i] = level;
    g.time[i] = a.time[i];
    g.thick[i] = &a.thick[i];
    g.reached[i] = &a.reached[i];
  }
  assert_int_equal(f(&g), 1);
  return a;
}

static void ages(const scene *s, double age[AGE_BUNDLE],
                 void (*f)(double, double, double, const double *, const double *, double *))
{
  f(6600, 1 / 293.15, 0.2, s->time, s->temperature, age);
}

static void assert_near(const answer *a, const answer *b)
{
  for (int i = 0; i < LANES; i++) {
    for (int l = 0; l < 3; l++)
      if (a->time[i][l] < HUGE_VAL || b->time[i][l] < HUGE_VAL)
        assert_close(a->time[i][l], b->time[i][l], 0.01);
    if (a->thick[i] < HUGE_VAL || b->thick[i] < HUGE_VAL)
      assert_close(a->thick[i], b->thick[i], 0.01);
    assert_close(a->reached[i], b->reached[i], 1e-7);
  }
}

/* How many lanes share a register decides with whom a lane shares the order of its series, hence
 * draws agree to their tolerance; ages have the same bits. */
static void any_width(void **state)
{
  (void)state;
  scene s;
  set_up(&s);
  answer plain = run(&s, plain_run);
  double whole[AGE_BUNDLE];
  ages(&s, whole, plain_ages);
  for (int i = 0; i < LANES; i++)
    assert_true(plain.reached[i] > 0.3 && plain.reached[i] < 1 && plain.time[i][0] > 600);
  assert_true(plain.thick[1] < HUGE_VAL && plain.thick[0] == HUGE_VAL && whole[0] > 0);
#if defined __x86_64__
  double other[AGE_BUNDLE];
  if (__builtin_cpu_supports("avx2")) {
    answer wide = run(&s, avx2_run);
    assert_near(&plain, &wide);
    ages(&s, other, avx2_ages);
    assert_memory_equal(whole, other, sizeof whole);
  }
  if (__builtin_cpu_supports("avx512dq")) {
    answer wide = run(&s, avx512_run);
    assert_near(&plain, &wide);
    ages(&s, other, avx512_ages);
    assert_memory_equal(whole, other, sizeof whole);
  }
#endif
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(exponentials),
      cmocka_unit_test(logarithms),
      cmocka_unit_test(powers),
      cmocka_unit_test(any_width),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
