/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Refusals and untouched outputs of free strains and engineering constants. */
#include "check.h"

#include <math.h>
#include <string.h>

static const rw_lamina material = {
    .density = 1900, .E1 = 38e9, .E2 = 9e9, .G12 = 3.4e9, .nu12 = 0.28}; /* invented */

static void free_strains_are_checked(void **state)
{
  (void)state;
  rw_error err;
  rw_ply ply[] = {{material, 1e-3, 0}, {material, 1e-3, 0.3}};
  double free[6] = {0, 0, 0, 0, 2, 0}, load[6] = {7}, strain[6] = {0}, stress[3] = {7};
  assert_status(rw_stack_free_load(ply, 2, free, load, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "free[2].e2");
  check_explained(&err, "free[2].e2");
  assert_status(rw_stack_free_stress(ply, 2, 0, 0, strain, free, stress, NULL, &err), RW_ERR_RANGE,
                &err);
  assert_string_equal(err.argument, "free[2].e2");
  assert_string_equal(err.function, "rw_stack_free_stress");
  free[4] = NAN;
  assert_status(rw_stack_free_load(ply, 2, free, load, &err), RW_ERR_RANGE, &err);
  free[4] = 0;
  assert_status(rw_stack_free_load(ply, 0, free, load, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_free_load(ply, 2, NULL, load, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_free_load(ply, 2, free, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_free_stress(ply, 2, 2, 0, strain, free, stress, NULL, &err), RW_ERR_RANGE,
                &err);
  assert_string_equal(err.argument, "index");
  assert_status(rw_stack_free_stress(ply, 2, 0, -2, strain, free, stress, NULL, &err),
                RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "place");
  assert_status(rw_stack_free_stress(ply, 2, 0, 0, NULL, free, stress, NULL, &err),
                RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_free_stress(NULL, 2, 0, 0, strain, free, stress, NULL, &err),
                RW_ERR_ARGUMENT, &err);
  ply[0].angle = 45;
  assert_status(rw_stack_free_load(ply, 2, free, load, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "ply[1].angle");
  assert_true(load[0] == 7 && stress[0] == 7);
}

static void expansion_is_checked(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth c = {.areal_mass = 0.2,
                .fibre_density = 2540,
                .weave = RW_PLAIN,
                .hand = {0.4, 0},
                .bagged = {0.4, 0}};
  rw_fibre f = {.density = 2540, .E1 = 72e9, .E2 = 72e9, .G12 = 30e9, .nu12 = 0.22};
  rw_matrix m = {.density = 1150, .E = 3e9, .nu = 0.33};
  double fibre[2] = {0, 0}, strain[3] = {7};
  assert_status(rw_lamina_cloth_expansion(&c, &f, &m, 0.4, fibre, -2, strain, &err), RW_ERR_RANGE,
                &err);
  assert_string_equal(err.argument, "resin");
  fibre[1] = 5;
  assert_status(rw_lamina_cloth_expansion(&c, &f, &m, 0.4, fibre, 0, strain, &err), RW_ERR_RANGE,
                &err);
  assert_string_equal(err.argument, "fibre[2]");
  fibre[0] = NAN;
  assert_status(rw_lamina_cloth_expansion(&c, &f, &m, 0.4, fibre, 0, strain, &err), RW_ERR_RANGE,
                &err);
  assert_string_equal(err.argument, "fibre[1]");
  assert_status(rw_lamina_cloth_expansion(&c, &f, &m, 0.8, fibre, 0, strain, &err), RW_ERR_RANGE,
                &err);
  assert_string_equal(err.argument, "volume_share");
  assert_string_equal(err.function, "rw_lamina_cloth_expansion");
  assert_status(rw_lamina_cloth_expansion(NULL, &f, &m, 0.4, fibre, 0, strain, &err),
                RW_ERR_ARGUMENT, &err);
  assert_status(rw_lamina_cloth_expansion(&c, &f, &m, 0.4, NULL, 0, strain, &err), RW_ERR_ARGUMENT,
                &err);
  assert_status(rw_lamina_cloth_expansion(&c, &f, &m, 0.4, fibre, 0, NULL, &err), RW_ERR_ARGUMENT,
                &err);
  assert_true(strain[0] == 7);
}

/* Invented: a fibre that shortens along itself and swells across, as carbon does when warmed. */
static void unidirectional_expansion_is_schaperys(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth c = {.areal_mass = 0.2,
                .fibre_density = 1770,
                .weave = RW_UNIDIRECTIONAL,
                .hand = {0.4, 0},
                .bagged = {0.4, 0}};
  rw_fibre f = {.density = 1770, .E1 = 230e9, .E2 = 14e9, .G12 = 14e9, .nu12 = 0.2};
  rw_matrix m = {.density = 1150, .E = 3e9, .nu = 0.33};
  const double fibre[2] = {-2e-5, 3e-4}, resin = 2.5e-3, v = 0.4;
  double strain[3];
  assert_ok(rw_lamina_cloth_expansion(&c, &f, &m, v, fibre, resin, strain, &err), &err);
  double along = (v * 230e9 * -2e-5 + 0.6 * 3e9 * 2.5e-3) / (v * 230e9 + 0.6 * 3e9);
  double across = v * 3e-4 + v * 0.2 * -2e-5 + 0.6 * 2.5e-3 + 0.6 * 0.33 * 2.5e-3 -
                  (v * 0.2 + 0.6 * 0.33) * along;
  assert_close_rel(strain[0], along, 1e-12);
  assert_close_rel(strain[1], across, 1e-12);
  assert_true(strain[2] == 0);
}

static void moduli_need_a_stack(void **state)
{
  (void)state;
  rw_error err;
  rw_stack none = {0}, half = {.thickness = 1e-3};
  rw_stack_moduli k = {.Ex = 7};
  assert_status(rw_stack_moduli_of(&none, &k, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "s.thickness");
  assert_status(rw_stack_moduli_of(&half, &k, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "s.EIx");
  assert_status(rw_stack_moduli_of(NULL, &k, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_moduli_of(&none, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_true(k.Ex == 7);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(free_strains_are_checked),
      cmocka_unit_test(expansion_is_checked),
      cmocka_unit_test(unidirectional_expansion_is_schaperys),
      cmocka_unit_test(moduli_need_a_stack),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
