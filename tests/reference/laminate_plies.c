/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plies from their constituents and woods at other moistures against what was printed; sources,
 * digits and tolerances stand in points_laminate_plies.csv. */
#include "check.h"

#include <math.h>

static const char *room = "laminate_plies";

static void point(const char *id, double actual)
{
  check_point(room, id, actual);
}

static rw_fibre invented(double density, double E)
{
  return (rw_fibre){.density = density, .E1 = E, .E2 = E, .G12 = E / 2.4, .nu12 = 0.2};
}

static void two_fibres_in_one_cloth(void **state)
{
  (void)state;
  rw_error err;
  rw_matrix m = {.density = 1200, .E = 4.0e9, .nu = 0.3};
  rw_fibre f[] = {invented(1450, 131e9), invented(2540, 72.5e9)}, both;
  double mass[] = {0.25 * 1450, 0.35 * 2540};
  rw_lamina ply;
  assert_ok(rw_fibre_blend(f, mass, 2, &m, &both, &err), &err);
  assert_ok(rw_lamina_unidirectional(&both, &m, 0.60, &ply, &err), &err);
  point("M3-blend", ply.E1 / 1e9);
}

static rw_matrix epoxy(void)
{
  rw_error err;
  rw_matrix m;
  assert_ok(rw_matrix_find("cured-epoxy", &m, &err), &err);
  return m;
}

static double along(const char *fibre, double share)
{
  rw_error err;
  rw_fibre f;
  rw_matrix m = epoxy();
  rw_lamina ply;
  assert_ok(rw_fibre_find(fibre, &f, &err), &err);
  assert_ok(rw_lamina_unidirectional(&f, &m, share, &ply, &err), &err);
  return ply.E1 / 1e9;
}

static void typical_unidirectional_plies(void **state)
{
  (void)state;
  point("typical-s-glass-E1", along("s-glass", 0.50));
  point("typical-aramid-E1", along("aramid", 0.60));
  point("typical-carbon-E1", along("carbon", 0.63));
}

static double woven(double share)
{
  rw_error err;
  rw_fibre f;
  rw_cloth c;
  rw_matrix m = epoxy();
  rw_lamina ply;
  assert_ok(rw_fibre_find("e-glass", &f, &err), &err);
  assert_ok(rw_cloth_make("e-glass", 0.2, RW_PLAIN, &c, &err), &err);
  c.crimp = 0;
  assert_ok(rw_lamina_cloth(&c, &f, &m, share, &ply, &err), &err);
  return ply.E1 / 1e9;
}

static void crossed_halves_lean_low(void **state)
{
  (void)state;
  rw_error err;
  double share;
  point("typical-woven-E1", woven(0.45));
  assert_true(woven(0.45) < 0.9 * 29.7);
  assert_ok(rw_fibre_volume_share(0.67, 2540, epoxy().density, &share, &err), &err);
  point("flexure-33", woven(share));
  assert_true(woven(share) <= 0.92 * 26);
}

static rw_lamina cedar(double moisture)
{
  rw_error err;
  rw_lamina wood;
  assert_ok(rw_lamina_wood_cut("northern-white-cedar", RW_FLAT_SAWN, moisture, &wood, NULL, &err),
            &err);
  return wood;
}

static void wood_at_other_moistures(void **state)
{
  (void)state;
  rw_error err;
  double ash;
  assert_ok(rw_lamina_wood_property(103e3, 66e3, 0.08, 0.24, &ash, &err), &err);
  point("ash-8", ash);
  point("cedar-green-MOR", cedar(0.5).Xt / cedar(0.12).Xt);
  point("cedar-green-MOE", cedar(0.5).E1 / cedar(0.12).E1);
}

/* Bending stiffness against bare wood, faces of a hundredth of a thousandth of the thickness. */
static double gain(double ratio, int faces)
{
  rw_error err;
  const double t = 1e-5, n = ratio / t;
  rw_lamina wood = {.density = 500, .E1 = 10e9, .E2 = 1e9, .G12 = 1e9};
  rw_lamina skin = {.density = 1500, .E1 = n * 10e9, .E2 = 1e9, .G12 = 1e9};
  rw_ply ply[] = {{skin, t * 0.02, 0}, {wood, 0.02, 0}, {skin, t * 0.02, 0}};
  rw_stack bare, clad;
  assert_ok(rw_stack_make(ply + 1, 1, &bare, &err), &err);
  assert_ok(rw_stack_make(ply, faces == 2 ? 3 : 2, &clad, &err), &err);
  return clad.EIx / bare.EIx - 1;
}

static void carbon_on_veneer_lumber(void **state)
{
  (void)state;
  double ratio = 0.67 / 6;
  assert_close_rel(gain(ratio, 2), 0.67, 1e-4);
  point("veneer-both", ratio);
  double one = 100 * gain(ratio, 1);
  assert_close(one, 30.1, 0.1);
  assert_true(one > 25 && one < 45);
  point("veneer-one", one);
}

static void every_row_was_used(void **state)
{
  (void)state;
  check_all_points_used(room);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(two_fibres_in_one_cloth), cmocka_unit_test(typical_unidirectional_plies),
      cmocka_unit_test(crossed_halves_lean_low), cmocka_unit_test(wood_at_other_moistures),
      cmocka_unit_test(carbon_on_veneer_lumber), cmocka_unit_test(every_row_was_used),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
