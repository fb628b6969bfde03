/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Spread of a stack's bending stiffness when its materials are not known exactly. */
#include "check.h"

#include <math.h>

static rw_ply wood(double thickness)
{
  rw_ply p = {.thickness = thickness};
  rw_error err;
  assert_ok(rw_lamina_wood("western-redcedar", &p.material, NULL, &err), &err);
  return p;
}

static rw_ply skin(double thickness)
{
  return (rw_ply){.material = {.density = 1700, .E1 = 18e9, .E2 = 18e9, .G12 = 4e9, .nu12 = 0.15},
                  .thickness = thickness};
}

/* One material: the stiffness is as uncertain as it. */
static void one_material(void **state)
{
  (void)state;
  rw_ply ply = wood(6e-3);
  size_t group = 0;
  double relative = 0.15;
  rw_stack_spread s;
  rw_stack exact;
  rw_error err;
  assert_ok(rw_stack_uncertain(&ply, 1, &group, &relative, 1, &s, &err), &err);
  assert_ok(rw_stack_make(&ply, 1, &exact, &err), &err);
  assert_close_rel(s.EIx.value, exact.EIx, 1e-14);
  assert_close_rel(s.EIx.sd, 0.15 * exact.EIx, 1e-9);
  assert_close_rel(s.EIy.sd, 0.15 * exact.EIy, 1e-9);
}

/* Wood along carries itself; across, the skins do. */
static void largest_contributor(void **state)
{
  (void)state;
  rw_ply ply[] = {skin(0.2e-3), wood(6e-3), skin(0.2e-3)};
  size_t group[] = {1, 0, 1};
  double relative[] = {0.15, 0.20};
  rw_stack_spread s, halved;
  rw_error err;
  assert_ok(rw_stack_uncertain(ply, 3, group, relative, 2, &s, &err), &err);
  assert_int_equal(s.because_y, 1);
  assert_true(s.EIx.sd > 0 && s.EIx.sd < 0.2 * s.EIx.value);
  double half[] = {0.075, 0.10};
  assert_ok(rw_stack_uncertain(ply, 3, group, half, 2, &halved, &err), &err);
  assert_close_rel(halved.EIx.sd, s.EIx.sd / 2, 0.02); /* first order */
  ply[0].thickness = ply[2].thickness = 1e-6;
  assert_ok(rw_stack_uncertain(ply, 3, group, relative, 2, &s, &err), &err);
  assert_int_equal(s.because_x, 0);
}

static void refusals(void **state)
{
  (void)state;
  rw_ply ply[] = {skin(0.2e-3), wood(6e-3)};
  rw_stack_spread s;
  rw_error err;
  double relative[] = {0.15, 0.2};
  assert_status(rw_stack_uncertain(ply, 2, (size_t[]){0, 2}, relative, 2, &s, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "group[2]");
  relative[1] = -0.1;
  assert_status(rw_stack_uncertain(ply, 2, (size_t[]){0, 1}, relative, 2, &s, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "relative[2]");
  assert_status(rw_stack_uncertain(ply, 0, (size_t[]){0, 1}, relative, 2, &s, &err), RW_ERR_RANGE,
                &err);
  relative[1] = 0.2;
  ply[1].thickness = 0;
  assert_status(rw_stack_uncertain(ply, 2, (size_t[]){0, 1}, relative, 2, &s, &err), RW_ERR_RANGE,
                &err);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(one_material),
      cmocka_unit_test(largest_contributor),
      cmocka_unit_test(refusals),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
