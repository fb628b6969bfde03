/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Refusals and untouched outputs of the shear through a stack. */
#include "check.h"

#include <math.h>

/* Invented for these tests. */
static rw_lamina ply_material(void)
{
  return (rw_lamina){.density = 1900, .E1 = 38e9, .E2 = 9e9, .G12 = 3.4e9, .nu12 = 0.28};
}

static void shear_moduli_are_checked(void **state)
{
  (void)state;
  rw_error err;
  const double bad[] = {-1, NAN, HUGE_VAL};
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    rw_lamina m = ply_material();
    m.G13 = bad[i];
    assert_status(rw_lamina_check(&m, &err), RW_ERR_RANGE, &err);
    assert_string_equal(err.argument, "G13");
    m.G13 = 0;
    m.G23 = bad[i];
    assert_status(rw_lamina_check(&m, &err), RW_ERR_RANGE, &err);
    assert_string_equal(err.argument, "G23");
  }
}

static void shear_stiffness_is_checked(void **state)
{
  (void)state;
  rw_error err;
  rw_ply ply[] = {{ply_material(), 1e-3, 0}, {ply_material(), 1e-3, 0.3}};
  rw_stack s, foreign = {.thickness = 2e-3};
  double h[3] = {7, 7, 7};
  assert_ok(rw_stack_make(ply, 2, &s, &err), &err);
  assert_status(rw_stack_shear(ply, 0, &s, h, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "ply");
  assert_status(rw_stack_shear(ply, 2, NULL, h, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "s");
  assert_status(rw_stack_shear(ply, 2, &s, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "h");
  assert_status(rw_stack_shear(ply, 2, &foreign, h, &err), RW_ERR_NUMERIC, &err);
  check_explained(&err, "stack");
  ply[1].thickness = -1;
  assert_status(rw_stack_shear(ply, 2, &s, h, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "ply[2].thickness");
  assert_string_equal(err.function, "rw_stack_shear");
  assert_true(h[0] == 7 && h[1] == 7 && h[2] == 7);
}

static void shear_stress_is_checked(void **state)
{
  (void)state;
  rw_error err;
  rw_ply ply[] = {{ply_material(), 1e-3, 0}, {ply_material(), 1e-3, 0}};
  rw_stack s;
  double force[2] = {1, 0}, odd[2] = {0, NAN}, stress[2] = {7, 7}, local[2];
  assert_ok(rw_stack_make(ply, 2, &s, &err), &err);
  assert_status(rw_stack_shear_stress(ply, 2, &s, 2, 0, force, stress, NULL, &err), RW_ERR_RANGE,
                &err);
  assert_string_equal(err.argument, "index");
  assert_status(rw_stack_shear_stress(ply, 2, &s, 0, 1.5, force, stress, NULL, &err), RW_ERR_RANGE,
                &err);
  assert_string_equal(err.argument, "place");
  assert_status(rw_stack_shear_stress(ply, 2, &s, 0, 0, odd, stress, NULL, &err), RW_ERR_RANGE,
                &err);
  assert_string_equal(err.argument, "force Qy");
  assert_status(rw_stack_shear_stress(ply, 2, &s, 0, 0, NULL, stress, NULL, &err), RW_ERR_ARGUMENT,
                &err);
  assert_status(rw_stack_shear_stress(ply, 2, NULL, 0, 0, force, stress, NULL, &err),
                RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_shear_stress(NULL, 2, &s, 0, 0, force, stress, NULL, &err),
                RW_ERR_ARGUMENT, &err);
  assert_true(stress[0] == 7);
  assert_ok(rw_stack_shear_stress(ply, 2, &s, 0, 1, force, stress, local, &err), &err);
  assert_close_rel(stress[0], 1.5 / 2e-3, 1e-12); /* 3/2 of the mean in the middle */
  assert_close_rel(local[0], stress[0], 1e-12);
  assert_true(stress[1] == 0 && local[1] == 0);
  assert_ok(rw_stack_shear_stress(ply, 2, &s, 0, 1, force, NULL, NULL, &err), &err);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(shear_moduli_are_checked),
      cmocka_unit_test(shear_stiffness_is_checked),
      cmocka_unit_test(shear_stress_is_checked),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
