/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Published shear stresses between plies; sources, digits and tolerances stand in
 * points_laminate_shear.csv. None of them gives a density: 1 kg/m3 is put in. */
#include "check.h"

static const double quarter_turn = 3.14159265358979323846 / 2;
static const char *room = "laminate_shear";

static void point(const char *id, double actual)
{
  check_point(room, id, actual);
}

static rw_stack stack_of(const rw_ply *ply, size_t n)
{
  rw_error err;
  rw_stack s;
  assert_ok(rw_stack_make(ply, n, &s, &err), &err);
  return s;
}

static double shear(const rw_ply *ply, size_t n, size_t index, double place, double Qx, double Qy)
{
  rw_error err;
  rw_stack s = stack_of(ply, n);
  double force[2] = {Qx, Qy}, stress[2];
  assert_ok(rw_stack_shear_stress(ply, n, &s, index, place, force, stress, NULL, &err), &err);
  return stress[Qx == 0] / 1e6;
}

static void a121_unit_shear(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = {
      .density = 1, .E1 = 25e6, .E2 = 1e6, .G12 = 0.5e6, .nu12 = 0.25, .G13 = 0.5e6, .G23 = 0.2e6};
  rw_ply ply[] = {{m, 0.25e-3, 0}, {m, 0.5e-3, quarter_turn}, {m, 0.25e-3, 0}};
  point("A121-Qx-inner", shear(ply, 3, 0, 1, 1e3, 0)); /* 1 N/mm */
  point("A121-Qx-middle", shear(ply, 3, 1, 0, 1e3, 0));
  point("A121-Qy-inner", shear(ply, 3, 0, 1, 0, 1e3));
  point("A121-Qy-middle", shear(ply, 3, 1, 0, 0, 1e3));
  rw_stack s = stack_of(ply, 3);
  double h[3];
  assert_ok(rw_stack_shear(ply, 3, &s, h, &err), &err);
  point("A121-share-x", h[0] / (0.5e6 * 0.5e-3 + 0.2e6 * 0.5e-3));
  point("A121-share-y", h[1] / (0.2e6 * 0.5e-3 + 0.5e6 * 0.5e-3));
}

static void n31a_strip(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = {
      .density = 1, .E1 = 100e9, .E2 = 5e9, .G12 = 3e9, .nu12 = 0.4, .G13 = 2e9, .G23 = 2e9};
  rw_ply ply[7];
  for (size_t i = 0; i < 7; i++)
    ply[i] = (rw_ply){m, i == 3 ? 0.4e-3 : 0.1e-3, i % 2 == 0 ? 0 : quarter_turn};
  const double span = 30e-3, line = 10e3;
  point("N31a-interlaminar", shear(ply, 7, 0, 1, line / 2, 0));
  rw_stack s = stack_of(ply, 7);
  double h[3], bending;
  assert_ok(rw_stack_shear(ply, 7, &s, h, &err), &err);
  assert_ok(rw_stack_strip(&s, span, line, &bending, &err), &err);
  point("N31a-whole", (bending + line * span / 4 / h[0]) * 1e3);
}

static void every_row_was_used(void **state)
{
  (void)state;
  check_all_points_used(room);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a121_unit_shear),
      cmocka_unit_test(n31a_strip),
      cmocka_unit_test(every_row_was_used),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
