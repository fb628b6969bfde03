/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of a bent panel made to fail once: a clear refusal, no leak. */
#include "each_fails.h"

#include <string.h>

static rw_ply plank(void)
{
  rw_lamina m = {.density = 400,
                 .E1 = 8e9,
                 .E2 = 0.5e9,
                 .G12 = 0.6e9,
                 .nu12 = 0.3,
                 .Xt = 50e6,
                 .Xc = 30e6,
                 .Yt = 2e6,
                 .Yc = 4e6,
                 .S = 6e6};
  return (rw_ply){m, 8e-3, 0};
}

typedef struct scene {
  rw_stack s;
  rw_plate plate;
  rw_bent_plate *bent;
} scene;

static rw_status bend(void *given, rw_error *err)
{
  const scene *c = given;
  rw_plate_load load = {.pressure = 10};
  rw_bent_plate *p = NULL;
  rw_status status = rw_plate_bend(&c->s, &c->plate, &load, 1, &p, err);
  if (status < 0)
    assert_null(p);
  else
    rw_bent_plate_destroy(p);
  return status;
}

static rw_status fail_first(void *given, rw_error *err)
{
  const scene *c = given;
  rw_ply ply = plank();
  rw_plate_failure f, before;
  memset(&f, 7, sizeof f);
  before = f;
  rw_status status = rw_bent_plate_failure(c->bent, &ply, 1, RW_MAX_STRESS, &f, err);
  if (status < 0)
    assert_memory_equal(&f, &before, sizeof f);
  return status;
}

static rw_scatter some_scatter(void)
{
  static const size_t group[] = {0};
  static const double relative[] = {0.1};
  static const rw_strength_spread strength[] = {{0.2, 0.2, 0.2, 0.2, 0.2}};
  return (rw_scatter){group, relative, strength, 1, 0.9, 100, 1};
}

static rw_status spread(void *given, rw_error *err)
{
  const scene *c = given;
  rw_ply ply = plank();
  rw_scatter scatter = some_scatter();
  rw_plate_spread s, before;
  memset(&s, 7, sizeof s);
  before = s;
  rw_status status = rw_bent_plate_spread(c->bent, &ply, 1, &scatter, RW_MAX_STRESS, &s, err);
  if (status < 0)
    assert_memory_equal(&s, &before, sizeof s);
  return status;
}

static rw_status spread_strip(void *given, rw_error *err)
{
  (void)given;
  rw_ply ply = plank();
  rw_scatter scatter = some_scatter();
  rw_strip strip = {.span = 0.5};
  rw_strip_load load = {.pressure = 10};
  rw_strip_spread s, before;
  memset(&s, 7, sizeof s);
  before = s;
  rw_status status =
      rw_strip_bend_spread(&ply, 1, &strip, &load, 1, &scatter, RW_MAX_STRESS, &s, err);
  if (status < 0)
    assert_memory_equal(&s, &before, sizeof s);
  return status;
}

static scene of(rw_plate_edge edge, double shear)
{
  rw_error err;
  rw_ply ply = plank();
  scene c = {.plate = {.a = 0.6, .b = 0.4, .edge_x = edge, .shear = {shear, shear, 0}}};
  needs_failing();
  assert_ok(rw_stack_make(&ply, 1, &c.s, &err), &err);
  return c;
}

static void thin_and_clamped(void **state)
{
  (void)state;
  scene c = of(RW_EDGE_CLAMPED, 0);
  each_fails_once(bend, &c, 20);
}

static void sheared(void **state)
{
  (void)state;
  scene c = of(RW_EDGE_CLAMPED, 5e6);
  each_fails_once(bend, &c, 20);
}

static void failure(void **state)
{
  (void)state;
  scene c = of(RW_EDGE_SUPPORTED, 0);
  rw_plate_load load = {.pressure = 10};
  rw_error err;
  assert_ok(rw_plate_bend(&c.s, &c.plate, &load, 1, &c.bent, &err), &err);
  each_fails_once(fail_first, &c, 3);
  rw_bent_plate_destroy(c.bent);
}

static void how_well_known(void **state)
{
  (void)state;
  rw_plate_load load = {.pressure = 10};
  rw_error err;
  scene c = of(RW_EDGE_SUPPORTED, 0);
  assert_ok(rw_plate_bend(&c.s, &c.plate, &load, 1, &c.bent, &err), &err);
  each_fails_once(spread, &c, 30);
  rw_bent_plate_destroy(c.bent);
  each_fails_once(spread_strip, NULL, 3);
}

int main(void)
{
  const struct CMUnitTest tests[] = {cmocka_unit_test(thin_and_clamped), cmocka_unit_test(sheared),
                                     cmocka_unit_test(failure), cmocka_unit_test(how_well_known)};
  return cmocka_run_group_tests(tests, NULL, NULL);
}
