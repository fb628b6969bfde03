/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A published laminate that cooled; sources, digits and tolerances stand in
 * points_laminate_free.csv. It gives no density: 1 kg/m3 is put in. */
#include "check.h"

static const char *room = "laminate_free";

static void k45_cross_ply_cooled(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = {.density = 1, .E1 = 181e9, .E2 = 10.3e9, .G12 = 7.17e9, .nu12 = 0.28};
  rw_ply ply[] = {{m, 5e-3, 0}, {m, 5e-3, 3.14159265358979323846 / 2}};
  const double along = 0.02e-6 * -75, across = 22.5e-6 * -75;
  const double free[] = {along, across, 0, along, across, 0};
  double load[6], strain[6], stress[3];
  rw_stack s;
  assert_ok(rw_stack_make(ply, 2, &s, &err), &err);
  assert_ok(rw_stack_free_load(ply, 2, free, load, &err), &err);
  check_point(room, "K45-N", load[0]);
  check_point(room, "K45-M", load[3]);
  rw_stack_strain(&s, load, strain);
  check_point(room, "K45-eps", strain[0]);
  check_point(room, "K45-kappa", strain[3]);
  assert_ok(rw_stack_free_stress(ply, 2, 0, -1, strain, free, stress, NULL, &err), &err);
  check_point(room, "K45-sigma-x", stress[0]);
  check_point(room, "K45-sigma-y", stress[1]);
}

static void every_row_was_used(void **state)
{
  (void)state;
  check_all_points_used(room);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(k45_cross_ply_cooled),
      cmocka_unit_test(every_row_was_used),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
