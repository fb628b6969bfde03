/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A published laminate that cooled, and how plies and wood grow when warmed; sources, digits and
 * tolerances stand in points_laminate_free.csv. The laminate gives no density: 1 kg/m3 is put in.
 */
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

/* A unidirectional ply of the tables' fibre and resin, 60 % of fibre. */
static void typical(const char *fibre, double *along, double *across)
{
  rw_error err;
  rw_fibre f;
  rw_matrix m;
  rw_cloth c;
  double own[2], strain[3];
  const rw_material *epoxy;
  const rw_property *p;
  assert_ok(rw_fibre_find(fibre, &f, &err), &err);
  assert_ok(rw_fibre_expansion(fibre, own, &err), &err);
  assert_ok(rw_matrix_find("cured-epoxy", &m, &err), &err);
  assert_ok(rw_material_find(RW_RESIN, "cured-epoxy", &epoxy, &err), &err);
  assert_ok(rw_material_property(epoxy, "expansion", &p, &err), &err);
  assert_ok(rw_cloth_make(fibre, 0.3, RW_UNIDIRECTIONAL, &c, &err), &err);
  assert_ok(rw_lamina_cloth_expansion(&c, &f, &m, 0.60, own, p->value, strain, &err), &err);
  *along = strain[0] / 1e-6;
  *across = strain[1] / 1e-6;
}

static void typical_plies_expand(void **state)
{
  (void)state;
  double along, across;
  typical("e-glass", &along, &across);
  check_point(room, "typical-glass-along", along);
  check_point(room, "typical-glass-across", across);
  typical("carbon-high-modulus", &along, &across);
  check_point(room, "typical-carbon-across", across);
  typical("aramid", &along, &across);
  check_point(room, "typical-aramid-across", across);
}

static void douglas_fir_expands(void **state)
{
  (void)state;
  rw_error err;
  double flat[3], quarter[3];
  assert_ok(rw_lamina_wood_expansion("douglas-fir", RW_FLAT_SAWN, flat, &err), &err);
  assert_ok(rw_lamina_wood_expansion("douglas-fir", RW_QUARTER_SAWN, quarter, &err), &err);
  check_point(room, "fir-along", flat[0] / 1e-6);
  check_point(room, "fir-across", (flat[1] + quarter[1]) / 2e-6);
  check_point(room, "fir-tangential", flat[1] / 1e-6);
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
      cmocka_unit_test(typical_plies_expand),
      cmocka_unit_test(douglas_fir_expands),
      cmocka_unit_test(every_row_was_used),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
