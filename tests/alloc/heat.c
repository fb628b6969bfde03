/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of the heat room made to fail once: a clear refusal, outputs untouched, no
 * leak. */
#include "each_fails.h"

#include <math.h>
#include <string.h>

static const double HOUR = 3600;

typedef struct scene {
  rw_resin resin;
  rw_history *air;
} scene;

static void set_up(scene *s)
{
  needs_failing();
  double t[12], T[12];
  rw_error err;
  for (int i = 0; i < 12; i++) {
    t[i] = i * HOUR;
    T[i] = 293 + 3 * sin(i);
  }
  s->air = NULL;
  assert_ok(rw_resin_find("medium-cycloaliphatic", &s->resin, &err), &err);
  assert_ok(rw_history_create(t, T, NULL, 12, &s->air, &err), &err);
}

typedef rw_status job(void *given, rw_error *err);

static rw_status slab(void *given, rw_error *err)
{
  const scene *s = given;
  rw_slab body = {.resin = 0.005,
                  .resin_conductivity = 0.2,
                  .resin_start = 293,
                  .back = 1,
                  .front = 10,
                  .resin_cells = 8,
                  .tolerance = 1e-2};
  double time[2] = {0, 5 * HOUR}, T[16] = {7}, a[16] = {7};
  rw_slab_profile p = {.time = time, .n = 2, .temperature = T, .cure = a};
  rw_slab_result out, before;
  memset(&out, 7, sizeof out);
  before = out;
  rw_status status = rw_slab_run(&s->resin, &body, s->air, 0, 10 * HOUR, &p, &out, err);
  if (status < 0) {
    assert_memory_equal(&out, &before, sizeof out);
    assert_true(T[0] == 7 && a[0] == 7);
  }
  return status;
}

static rw_status softening(void *given, rw_error *err)
{
  const scene *s = given;
  rw_softening out = {.Tg = 7};
  rw_status status = rw_softening_along(&s->resin, s->air, 0, 10 * HOUR, 0.3, &out, err);
  assert_true((status < 0) == (out.Tg == 7));
  return status;
}

/* The place does not get warm enough, which is an answer too. */
static rw_status postcure(void *given, rw_error *err)
{
  const scene *s = given;
  rw_place place = {.most = 320,
                    .span = 6 * HOUR,
                    .sessions = 2,
                    .period = 24 * HOUR,
                    .rest = 290,
                    .heating = 0.003,
                    .cooling = 0.003,
                    .step = HOUR};
  rw_postcure out = {.Tg = 7};
  rw_history *ramp = NULL;
  rw_status status = rw_postcure_plan(&s->resin, &place, 0.7, -5, 360, 0, &out, &ramp, err);
  assert_true((status < 0) == (ramp == NULL));
  assert_true((status < 0) == (out.Tg == 7));
  rw_history_destroy(ramp);
  return status == RW_NO_SOLUTION ? RW_OK : status;
}

static void in_a_shop(job *f, long least)
{
  scene s;
  set_up(&s);
  each_fails_once(f, &s, least);
  rw_history_destroy(s.air);
}

static void slab_run(void **state)
{
  (void)state;
  in_a_shop(slab, 2);
}

static void softening_along(void **state)
{
  (void)state;
  in_a_shop(softening, 2);
}

static void postcure_plan(void **state)
{
  (void)state;
  in_a_shop(postcure, 4);
}

/* Edges of runaway and safe sizes need no memory. */
static void edges_allocate_nothing(void **state)
{
  (void)state;
  scene s;
  set_up(&s);
  rw_error err;
  rw_critical edge;
  rw_vessel cup;
  double size, mass, rate, E, T;
  rw_body body = {RW_SHAPE_SLAB, 0.1, 0.15, HUGE_VAL, 900, 1.5e6, 5e11, 110e3};
  assert_ok(rw_vessel_cup(0.07, &cup, &err), &err);
  failing_arm(1);
  rw_status status[] = {
      rw_runaway_critical(RW_SHAPE_SPHERE, 3, &edge, &err),
      rw_runaway_uniform(&edge, &err),
      rw_body_critical_air(&body, &T, &err),
      rw_cure_law_bound(&s.resin.law, 293, &rate, &E, &err),
      rw_resin_safe_size(&s.resin, RW_SHAPE_SLAB, 0.2, 10, 293, &size, &err),
      rw_vessel_safe_mass(&s.resin, &cup, 8, 293, &mass, &err),
  };
  long asked = failing_count();
  failing_disarm();
  for (size_t i = 0; i < sizeof status / sizeof *status; i++)
    assert_int_equal(status[i], RW_OK);
  assert_int_equal(asked, 0);
  rw_history_destroy(s.air);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(slab_run),
      cmocka_unit_test(softening_along),
      cmocka_unit_test(postcure_plan),
      cmocka_unit_test(edges_allocate_nothing),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
