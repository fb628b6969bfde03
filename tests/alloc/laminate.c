/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rooms cloth and laminate say that they allocate nothing: not one block is asked for. */
#include "each_fails.h"

static void materials(rw_lamina *skin, rw_lamina *wood, double strain[3], rw_error *err)
{
  rw_cloth c;
  rw_fibre f[2], both;
  rw_matrix m;
  rw_value share = {0.42, 0.04};
  double spread, mass[2] = {0.1, 0.1}, none[2] = {0, 0};
  assert_ok(rw_cloth_make("e-glass", 0.2, RW_PLAIN, &c, err), err);
  assert_ok(rw_fibre_find("e-glass", &f[0], err), err);
  assert_ok(rw_fibre_find("carbon", &f[1], err), err);
  assert_ok(rw_matrix_find("cured-epoxy", &m, err), err);
  assert_ok(rw_fibre_blend(f, mass, 2, &m, &both, err), err);
  const rw_yarns y = {{f[0], f[1]}, {0.1, 0.1}};
  const double own[4] = {0, 0, 0, 0};
  double one[2];
  rw_porous porous;
  assert_ok(rw_fibre_expansion("carbon", one, err), err);
  assert_ok(rw_fibre_blend_expansion(f, mass, own, 2, one, err), err);
  assert_ok(rw_lamina_yarns(&c, &y, &m, share, skin, &spread, err), err);
  assert_ok(rw_lamina_yarns_expansion(&c, &y, &m, 0.42, own, -5e-3, strain, err), err);
  assert_ok(rw_lamina_wood_expansion("okoume", RW_FLAT_SAWN, strain, err), err);
  assert_ok(rw_cloth_porous(&c, (rw_value){2e-4, 0}, (rw_value){0.12, 0}, 1150, &porous, err),
            err);
  assert_ok(rw_lamina_cloth_uncertain(&c, &f[0], &m, share, skin, &spread, err), err);
  assert_ok(rw_lamina_cloth_expansion(&c, &f[0], &m, 0.42, none, -5e-3, strain, err), err);
  assert_ok(rw_lamina_wood_cut("okoume", RW_FLAT_SAWN, 0.15, wood, NULL, err), err);
}

static void nothing_is_allocated(void **state)
{
  (void)state;
  if (!failing_works())
    skip();
  rw_error err;
  rw_lamina skin, wood;
  rw_ply ply[7];
  rw_stack s;
  rw_stack_spread spread;
  rw_stack_moduli moduli;
  rw_first_failure each[7], first;
  rw_wrinkling wrinkles;
  rw_faired faired;
  rw_hit hit;
  const double load[6] = {-1, 0, 0, 1}, force[2] = {1, 0}, map[] = {1.9e-3, 1.6e-3};
  const size_t group[7] = {0, 1, 1, 1, 1, 1, 0};
  const double relative[2] = {0.2, 0.15};
  double free[21] = {0}, forced[6], strain[6], h[3];
  failing_arm(1);
  materials(&skin, &wood, free, &err);
  ply[0] = ply[6] = (rw_ply){skin, 0.2e-3, 0};
  assert_ok(rw_plywood_make(&wood, 6e-3, 0.8e-3, 5, 0, ply + 1, &err), &err);
  assert_ok(rw_stack_make(ply, 7, &s, &err), &err);
  assert_ok(rw_stack_uncertain(ply, 7, group, relative, 2, &spread, &err), &err);
  assert_ok(rw_stack_moduli_of(&s, &moduli, &err), &err);
  assert_ok(rw_stack_shear(ply, 7, &s, h, &err), &err);
  assert_ok(rw_stack_free_load(ply, 7, free, forced, &err), &err);
  rw_stack_strain(&s, forced, strain);
  assert_ok(rw_stack_failures(ply, 7, &s, load, free, RW_TSAI_HILL, each, &err), &err);
  assert_ok(rw_stack_wrinkling(ply, 7, &s, 3, load, &wrinkles, &err), &err);
  assert_ok(rw_stack_shear_failure(ply, 7, &s, force, &first, &err), &err);
  assert_ok(rw_stack_hit(ply, 7, &s, -1, RW_TSAI_WU, &hit, &err), &err);
  assert_ok(rw_stack_faired(ply, 7, &(rw_fairing){3, 1, -1, map, 2, 0.9}, &faired, &err), &err);
  long asked = failing_count();
  failing_disarm();
  assert_int_equal(asked, 0);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(nothing_is_allocated),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
