/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of a cure made to fail once: a clear refusal, outputs untouched, no leak. */
#include "each_fails.h"

#include <math.h>
#include <string.h>

enum { POINTS = 60 };

static const double HOUR = 3600;

typedef struct scene {
  rw_resin resin;
  rw_history *hull;
  rw_label label;
} scene;

/* A restless shop, so that the path has to grow. */
static void set_up(scene *s)
{
  needs_failing();
  double t[POINTS], T[POINTS];
  rw_error err;
  for (int i = 0; i < POINTS; i++) {
    t[i] = i * HOUR;
    T[i] = 291 + 4 * sin(0.26 * i) + (i % 2);
  }
  s->hull = NULL;
  assert_ok(rw_resin_find("slow-polyetheramine", &s->resin, &err), &err);
  assert_ok(rw_history_create(t, T, NULL, POINTS, &s->hull, &err), &err);
  s->label = (rw_label){.pot_life = 2700,
                        .pot_mass = 0.1,
                        .pot_temperature = 298.15,
                        .recoat_from = 6 * HOUR,
                        .recoat_until = 14 * HOUR,
                        .recoat_temperature = 294.15,
                        .hardener = NAN,
                        .density = NAN};
}

/* One call; frees what it made. */
typedef rw_status job(void *given, rw_error *err);

static rw_status run(void *given, rw_error *err)
{
  const scene *s = given;
  rw_cure_path *path = NULL;
  rw_status status =
      rw_cure_run(&s->resin.law, s->hull, 0, (POINTS - 1) * HOUR, 0, 1e-9, &path, err);
  assert_true((status == RW_OK) == (path != NULL));
  rw_cure_path_destroy(path);
  return status;
}

static rw_status forecast(void *given, rw_error *err)
{
  const scene *s = given;
  rw_forecast f, before;
  memset(&f, 7, sizeof f);
  before = f;
  rw_status status =
      rw_cure_forecast(&s->resin, s->hull, 0, (POINTS - 1) * HOUR, 1, 16, 1, &f, err);
  if (status < 0)
    assert_memory_equal(&f, &before, sizeof f);
  return status;
}

static rw_status chances(void *given, rw_error *err)
{
  const scene *s = given;
  double chance[RW_MILESTONES];
  chance[0] = 7;
  rw_status status = rw_cure_chances(&s->resin, s->hull, 0, 20 * HOUR, 1, 16, 1, chance, err);
  assert_true(status == RW_OK || chance[0] >= 7);
  return status;
}

static rw_status spline(void *given, rw_error *err)
{
  (void)given;
  static const double x[] = {0, 1, 2, 4}, y[] = {1, 3, 2, 5};
  rw_spline *made = NULL;
  rw_status status = rw_spline_create(x, y, 4, RW_SPLINE_NOT_A_KNOT, &made, err);
  assert_true((status == RW_OK) == (made != NULL));
  rw_spline_destroy(made);
  return status;
}

static rw_status draws(void *given, rw_error *err)
{
  (void)given;
  rw_draws *made = NULL;
  rw_status status = rw_draws_create(40, 1, &made, err);
  assert_true((status == RW_OK) == (made != NULL));
  rw_draws_destroy(made);
  return status;
}

static void in_a_shop(job *f, long least)
{
  scene s;
  set_up(&s);
  each_fails_once(f, &s, least);
  rw_history_destroy(s.hull);
}

/* The path itself, its steps and its pool. */
static void cure_run(void **state)
{
  (void)state;
  in_a_shop(run, 3);
}

static void cure_forecast(void **state)
{
  (void)state;
  in_a_shop(forecast, 4);
}

static void cure_chances(void **state)
{
  (void)state;
  in_a_shop(chances, 2);
}

static void spline_create(void **state)
{
  (void)state;
  in_a_shop(spline, 2);
}

static void draws_create(void **state)
{
  (void)state;
  in_a_shop(draws, 2);
}

/* Roots are sought without memory of their own or refused for want of it; asking a finished path
 * needs none. */
static void asking_allocates_nothing(void **state)
{
  (void)state;
  scene s;
  set_up(&s);
  rw_error err;
  rw_cure_path *path = NULL;
  rw_vessel cup;
  rw_pot pot;
  double a, time, Tg, mu, age;
  assert_ok(rw_cure_run(&s.resin.law, s.hull, 0, 40 * HOUR, 0, 1e-6, &path, &err), &err);
  failing_arm(1);
  rw_status at = rw_cure_at(path, 7 * HOUR, &a, NULL, NULL, &err);
  rw_status when = rw_cure_when(path, 0.3, &time, &err);
  rw_status glass = rw_glass_temperature(&s.resin.glass, 0.3, &Tg, &err);
  rw_status flow = rw_viscosity(&s.resin.flow, 0.3, 293, &mu, &err);
  rw_status vessel = rw_vessel_cup(0.07, &cup, &err);
  rw_status heat = rw_pot_run(&s.resin, &cup, 0.1, 293, 293, &pot, &err);
  rw_status aged = rw_equivalent_age(5e4, 293, s.hull, 0, 40 * HOUR, &age, &err);
  rw_forecast f;
  rw_status plain = rw_cure_forecast(&s.resin, s.hull, 0, 40 * HOUR, 0, 0, 1, &f, &err);
  long asked = failing_count();
  failing_disarm();
  assert_int_equal(at, RW_OK);
  assert_int_equal(when, RW_OK);
  assert_int_equal(glass, RW_OK);
  assert_int_equal(flow, RW_OK);
  assert_int_equal(vessel, RW_OK);
  assert_int_equal(heat, RW_OK);
  assert_int_equal(aged, RW_OK);
  assert_int_equal(plain, RW_OK);
  assert_int_equal(asked, 0);
  rw_cure_path_destroy(path);
  rw_history_destroy(s.hull);
}

/* A resin from its label and the warmth it needs, however the root finder gets its memory. */
static rw_status from_label(void *given, rw_error *err)
{
  const scene *s = given;
  rw_resin r;
  return rw_resin_from_label(&s->resin, &s->label, &r, err);
}

static rw_status warmth(void *given, rw_error *err)
{
  const scene *s = given;
  double T;
  return rw_cure_warmth(&s->resin, 0.8, 48 * HOUR, &T, err);
}

static void nothing_stays_behind(job *f)
{
  scene s;
  set_up(&s);
  rw_error err;
  for (long n = 1; n < 10; n++) {
    long live = failing_live();
    failing_arm(n);
    rw_status status = f(&s, &err);
    long asked = failing_count();
    failing_disarm();
    assert_int_equal(failing_live(), live);
    assert_true(status == RW_OK || asked >= n);
    if (status != RW_OK)
      check_explained(&err, "");
  }
  rw_history_destroy(s.hull);
}

static void roots(void **state)
{
  (void)state;
  nothing_stays_behind(from_label);
  nothing_stays_behind(warmth);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(cure_run),     cmocka_unit_test(cure_forecast),
      cmocka_unit_test(cure_chances), cmocka_unit_test(spline_create),
      cmocka_unit_test(draws_create), cmocka_unit_test(asking_allocates_nothing),
      cmocka_unit_test(roots),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
