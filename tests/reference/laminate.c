/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Published laminates; sources, digits and tolerances stand in points_laminate.csv. None of them
 * gives a density: 1 kg/m3 is put in. */
#include "check.h"

#include <math.h>

static const double degree = 3.14159265358979323846 / 180;
static const char *room = "laminate";

static void point(const char *id, double actual)
{
  check_point(room, id, actual);
}

static rw_lamina sheet(double E1, double E2, double G12, double nu12)
{
  return (rw_lamina){.density = 1, .E1 = E1, .E2 = E2, .G12 = G12, .nu12 = nu12};
}

/* The graphite/epoxy ply of K24, K27, K42, K43, TH and of the failure rows. */
static rw_lamina graphite(void)
{
  rw_lamina m = sheet(181e9, 10.3e9, 7.17e9, 0.28);
  m.Xt = m.Xc = 1500e6;
  m.Yt = 40e6;
  m.Yc = 246e6;
  m.S = 68e6;
  return m;
}

static rw_stack stack_of(const rw_ply *ply, size_t n)
{
  rw_error err;
  rw_stack s;
  assert_ok(rw_stack_make(ply, n, &s, &err), &err);
  return s;
}

static void k24_k27_reduced_stiffness(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = graphite();
  double q[9];
  assert_ok(rw_lamina_stiffness(&m, 0, q, &err), &err);
  point("K24-Q11", q[0] / 1e9);
  point("K24-Q12", q[1] / 1e9);
  point("K24-Q22", q[4] / 1e9);
  point("K24-Q66", q[8] / 1e9);
  assert_ok(rw_lamina_stiffness(&m, 60 * degree, q, &err), &err);
  point("K27-Qbar11", q[0] / 1e9);
  point("K27-Qbar12", q[1] / 1e9);
  point("K27-Qbar22", q[4] / 1e9);
  point("K27-Qbar16", q[2] / 1e9);
  point("K27-Qbar26", q[5] / 1e9);
  point("K27-Qbar66", q[8] / 1e9);
}

static void k42_unsymmetric_stack(void **state)
{
  (void)state;
  rw_lamina m = graphite();
  rw_ply ply[] = {{m, 5e-3, 0}, {m, 5e-3, 30 * degree}, {m, 5e-3, -45 * degree}};
  rw_stack s = stack_of(ply, 3);
  point("K42-A11", s.A[0]);
  point("K42-A12", s.A[1]);
  point("K42-A16", s.A[2]);
  point("K42-A22", s.A[4]);
  point("K42-A26", s.A[5]);
  point("K42-A66", s.A[8]);
  point("K42-B11", s.B[0]);
  point("K42-B12", s.B[1]);
  point("K42-B16", s.B[2]);
  point("K42-B22", s.B[4]);
  point("K42-B26", s.B[5]);
  point("K42-B66", s.B[8]);
  point("K42-D11", s.D[0]);
  point("K42-D12", s.D[1]);
  point("K42-D16", s.D[2]);
  point("K42-D22", s.D[4]);
  point("K42-D26", s.D[5]);
  point("K42-D66", s.D[8]);
}

static void k43_strains_and_stresses(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = graphite();
  rw_ply ply[] = {{m, 5e-3, 0}, {m, 5e-3, 30 * degree}, {m, 5e-3, -45 * degree}};
  rw_stack s = stack_of(ply, 3);
  double load[6] = {1000, 1000}, strain[6], global[3], local[3];
  rw_stack_strain(&s, load, strain);
  point("K43-eps-x0", strain[0]);
  point("K43-eps-y0", strain[1]);
  point("K43-gamma-xy0", strain[2]);
  point("K43-kappa-x", strain[3]);
  point("K43-kappa-y", strain[4]);
  point("K43-kappa-xy", strain[5]);
  assert_ok(rw_stack_stress(ply, 3, 1, -1, strain, global, local, &err), &err);
  point("K43-sigma-x", global[0]);
  point("K43-sigma-y", global[1]);
  point("K43-tau-xy", global[2]);
  point("K43-sigma-1", local[0]);
  point("K43-sigma-2", local[1]);
  point("K43-tau-12", local[2]);
}

static void a304_off_axis_pull(void **state)
{
  (void)state;
  rw_error err;
  rw_ply ply = {sheet(40e9, 10e9, 4.5e9, 0.30), 1, 30 * degree};
  rw_stack s = stack_of(&ply, 1);
  double load[6] = {1e4}, strain[6], local[3];
  rw_stack_strain(&s, load, strain);
  assert_ok(rw_stack_stress(&ply, 1, 0, 0, strain, NULL, local, &err), &err);
  point("A304-eps-x", strain[0]);
  point("A304-eps-y", strain[1]);
  point("A304-gamma-xy", strain[2]);
  point("A304-sigma-LL", local[0]);
  point("A304-sigma-TT", local[1]);
  point("A304-tau", fabs(local[2]));
}

static void b51_antisymmetric_stack(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = sheet(19.981e9, 11.389e9, 3.789e9, 0.274);
  double q[9];
  assert_ok(rw_lamina_stiffness(&m, 0, q, &err), &err);
  point("B51-Q11", q[0] / 1e9);
  point("B51-Q12", q[1] / 1e9);
  point("B51-Q22", q[4] / 1e9);
  assert_ok(rw_lamina_stiffness(&m, -55 * degree, q, &err), &err);
  point("B51-Qbar11", q[0] / 1e9);
  point("B51-Qbar12", q[1] / 1e9);
  point("B51-Qbar16", q[2] / 1e9);
  point("B51-Qbar22", q[4] / 1e9);
  point("B51-Qbar26", q[5] / 1e9);
  point("B51-Qbar66", q[8] / 1e9);
  rw_ply ply[] = {{m, 0.635e-3, 55 * degree}, {m, 0.635e-3, -55 * degree}};
  rw_stack s = stack_of(ply, 2);
  point("B51-A11", s.A[0] / 1e6);
  point("B51-A12", s.A[1] / 1e6);
  point("B51-A22", s.A[4] / 1e6);
  point("B51-A66", s.A[8] / 1e6);
  point("B51-B16", s.B[2] / 1e3);
  point("B51-B26", s.B[5] / 1e3);
  point("B51-D11", s.D[0]);
  point("B51-D12", s.D[1]);
  point("B51-D22", s.D[4]);
  point("B51-D66", s.D[8]);
  const double zero[] = {s.A[2] / 1e6, s.A[5] / 1e6, s.B[0] / 1e3, s.B[1] / 1e3,
                         s.B[4] / 1e3, s.B[8] / 1e3, s.D[2],       s.D[5]};
  double largest = 0;
  for (size_t i = 0; i < sizeof zero / sizeof zero[0]; i++)
    largest = fmax(largest, fabs(zero[i]));
  point("B51-zeros", largest);
}

static void b57_ply(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = sheet(67192e6, 12139e6, 7638e6, 0.365);
  double q[9];
  assert_ok(rw_lamina_stiffness(&m, 0, q, &err), &err);
  point("B57-Q11", q[0] / 1e6);
  point("B57-Q12", q[1] / 1e6);
  point("B57-Q22", q[4] / 1e6);
  assert_ok(rw_lamina_stiffness(&m, 45 * degree, q, &err), &err);
  point("B57-Qbar11", q[0] / 1e6);
  point("B57-Qbar12", q[1] / 1e6);
  point("B57-Qbar16", q[2] / 1e6);
  point("B57-Qbar66", q[8] / 1e6);
  assert_close_rel(q[4], q[0], 1e-14);
  assert_close_rel(q[5], q[2], 1e-14);
}

static rw_stack cross_plies(size_t pairs)
{
  rw_lamina m = sheet(133860e6, 7706e6, 4306e6, 0.301);
  rw_ply ply[40];
  for (size_t i = 0; i < 2 * pairs; i++)
    ply[i] = (rw_ply){m, 10e-3 / (2 * (double)pairs), i % 2 == 0 ? 0 : 90 * degree};
  return stack_of(ply, 2 * pairs);
}

static void b31_cross_ply_coupling(void **state)
{
  (void)state;
  rw_stack s = cross_plies(1);
  point("B31-B11-n1", s.B[0]);
  point("B31-B22-n1", s.B[4]);
  s = cross_plies(5);
  point("B31-B11-n5", s.B[0]);
  s = cross_plies(20);
  point("B31-B11-n20", s.B[0]);
}

static void b33_extension(void **state)
{
  (void)state;
  rw_lamina m = sheet(37.88e9, 9.407e9, 3.405e9, 0.299);
  const double angle[] = {45, -45, 0, 0, -45, 45};
  rw_ply ply[6];
  for (size_t i = 0; i < 6; i++)
    ply[i] = (rw_ply){m, 1e-3, angle[i] * degree};
  rw_stack s = stack_of(ply, 6);
  double load[6] = {200e3}, strain[6];
  rw_stack_strain(&s, load, strain);
  double moved = strain[0] * 1.0; /* over half the side of 2 m */
  point("B33-book", moved * 1e3);
  point("B33-exact", moved * 1e3);
}

static void a121_unit_moments(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = sheet(25e6, 1e6, 0.5e6, 0.25);
  rw_ply ply[] = {{m, 0.25e-3, 0}, {m, 0.5e-3, 90 * degree}, {m, 0.25e-3, 0}};
  rw_stack s = stack_of(ply, 3);
  double along[6] = {0, 0, 0, 1}, across[6] = {0, 0, 0, 0, 1}, strain[6], stress[3];
  rw_stack_strain(&s, along, strain);
  assert_ok(rw_stack_stress(ply, 3, 0, -1, strain, stress, NULL, &err), &err);
  point("A121-Mxx-xx-face", stress[0] / 1e6);
  assert_ok(rw_stack_stress(ply, 3, 1, -1, strain, stress, NULL, &err), &err);
  point("A121-Mxx-xx-inner", stress[0] / 1e6);
  rw_stack_strain(&s, across, strain);
  assert_ok(rw_stack_stress(ply, 3, 0, -1, strain, stress, NULL, &err), &err);
  point("A121-Myy-yy-face", stress[1] / 1e6);
  assert_ok(rw_stack_stress(ply, 3, 1, -1, strain, stress, NULL, &err), &err);
  point("A121-Myy-yy-inner", stress[1] / 1e6);
}

static void n31a_strip(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = sheet(100e9, 5e9, 3e9, 0.4);
  rw_ply ply[7];
  for (size_t i = 0; i < 7; i++)
    ply[i] = (rw_ply){m, i == 3 ? 0.4e-3 : 0.1e-3, i % 2 == 0 ? 0 : 90 * degree};
  rw_stack s = stack_of(ply, 7);
  const double span = 30e-3, line = 10e3, shear_modulus = 2e9;
  double bending, strain[6], stress[3];
  assert_ok(rw_stack_strip(&s, span, line, &bending, &err), &err);
  point("N31a-bending", bending * 1e3);
  double shear = line * span / 4 / (5.0 / 6 * shear_modulus * s.thickness);
  point("N31a-whole", (bending + shear) * 1e3);
  double load[6] = {0, 0, 0, line * span / 4};
  rw_stack_strain(&s, load, strain);
  assert_ok(rw_stack_stress(ply, 7, 6, 1, strain, stress, NULL, &err), &err);
  point("N31a-stress", stress[0] / 1e6);
}

static rw_lamina mix(rw_fibre f, rw_matrix m, double share)
{
  rw_error err;
  rw_lamina ply;
  assert_ok(rw_lamina_unidirectional(&f, &m, share, &ply, &err), &err);
  return ply;
}

static rw_fibre isotropic_fibre(double density, double E, double nu)
{
  return (rw_fibre){.density = density, .E1 = E, .E2 = E, .G12 = E / (2 * (1 + nu)), .nu12 = nu};
}

static void mixtures(void **state)
{
  (void)state;
  rw_matrix soft = {.density = 1200, .E = 3e9, .nu = 0.3};
  point("M1-E1", mix(isotropic_fibre(2540, 70e9, 0.2), soft, 0.6).E1 / 1e9);
  soft.E = 3.1e9;
  point("M2-E1", mix(isotropic_fibre(2540, 72.4e9, 0.2), soft, 0.6).E1 / 1e9);
  soft.E = 4.0e9; /* two mixtures share one resin */
  double first = mix(isotropic_fibre(1450, 131e9, 0.2), soft, 0.25).E1;
  double second = mix(isotropic_fibre(2540, 72.5e9, 0.2), soft, 0.35).E1;
  point("M3-E1", (first + second - soft.E) / 1e9);
}

static void k3_halpin_tsai(void **state)
{
  (void)state;
  rw_matrix m = {.density = 1200, .E = 3.4e9, .nu = 0.3};
  rw_lamina ply = mix(isotropic_fibre(2500, 85e9, 0.2), m, 0.70);
  point("K3-density", ply.density);
  point("K3-E1", ply.E1 / 1e9);
  point("K3-nu12", ply.nu12);
  point("K3-E2", ply.E2 / 1e9);
  point("K3-G12", ply.G12 / 1e9);
}

static void th_invariants(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = graphite();
  double q[9];
  assert_ok(rw_lamina_stiffness(&m, 0, q, &err), &err);
  point("TH-U1", (3 * q[0] + 3 * q[4] + 2 * q[1] + 4 * q[8]) / 8e9);
  point("TH-U2", (q[0] - q[4]) / 2e9);
  point("TH-U3", (q[0] + q[4] - 2 * q[1] - 4 * q[8]) / 8e9);
  point("TH-U4", (q[0] + q[4] + 6 * q[1] - 4 * q[8]) / 8e9);
  point("TH-U5", (q[0] + q[4] - 2 * q[1] + 4 * q[8]) / 8e9);
  const double angle[] = {0, 45, -45, 90, 90, -45, 45, 0};
  rw_ply ply[8];
  for (size_t i = 0; i < 8; i++)
    ply[i] = (rw_ply){m, 0.125e-3, angle[i] * degree};
  rw_stack s = stack_of(ply, 8);
  point("TH-E", s.Ex / 1e9);
  point("TH-G", s.Gxy / 1e9);
  point("TH-nu", s.nuxy);
  assert_close_rel(s.Ey, s.Ex, 1e-12);
  assert_close_rel(s.Gxy, s.Ex / (2 * (1 + s.nuxy)), 1e-12);
}

static void ply_under_combined_stress(void **state)
{
  (void)state;
  rw_error err;
  rw_ply ply = {graphite(), 1, 60 * degree};
  rw_stack s = stack_of(&ply, 1);
  double load[6] = {2, -3, 4};
  rw_first_failure f;
  assert_ok(rw_stack_first_failure(&ply, 1, &s, load, RW_TSAI_WU, &f, &err), &err);
  point("T1-tsai-wu", f.factor / 1e6);
  point("K2-tsai-wu", f.factor / 1e6);
  assert_int_equal(f.mode, RW_MODE_SHEAR);
  assert_ok(rw_stack_first_failure(&ply, 1, &s, load, RW_MAX_STRESS, &f, &err), &err);
  point("K2-max-stress", f.factor / 1e6);
  assert_int_equal(f.mode, RW_MODE_SHEAR);
  assert_ok(rw_stack_first_failure(&ply, 1, &s, load, RW_TSAI_HILL, &f, &err), &err);
  point("K2-hill-signed", f.factor / 1e6);
  ply.material.Yc = ply.material.Yt;
  assert_ok(rw_stack_first_failure(&ply, 1, &s, load, RW_TSAI_HILL, &f, &err), &err);
  point("K2-hill-tension", f.factor / 1e6);
}

static void first_ply_failure(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = graphite(), unknown = graphite();
  unknown.Xt = 0;
  rw_ply ply[] = {{m, 5e-3, 0}, {m, 5e-3, 90 * degree}, {m, 5e-3, 0}};
  rw_stack s = stack_of(ply, 3);
  double load[6] = {1};
  rw_first_failure f;
  assert_ok(rw_stack_first_failure(ply, 3, &s, load, RW_TSAI_WU, &f, &err), &err);
  point("K53-first", f.factor);
  point("K53-mean", f.factor / s.thickness / 1e6);
  assert_int_equal(f.ply, 1);
  assert_int_equal(f.mode, RW_MODE_TENSION_ACROSS);
  assert_ok(rw_stack_first_failure(ply, 3, &s, load, RW_MAX_STRESS, &f, &err), &err);
  point("K53-max-stress", f.factor);
  assert_int_equal(f.ply, 1);
  ply[1].material = unknown;
  assert_ok(rw_stack_first_failure(ply, 3, &s, load, RW_TSAI_WU, &f, &err), &err);
  point("K53-outer", f.factor);
  assert_int_not_equal(f.ply, 1);
}

static void every_row_was_used(void **state)
{
  (void)state;
  check_all_points_used(room);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(k24_k27_reduced_stiffness),
      cmocka_unit_test(k42_unsymmetric_stack),
      cmocka_unit_test(k43_strains_and_stresses),
      cmocka_unit_test(a304_off_axis_pull),
      cmocka_unit_test(b51_antisymmetric_stack),
      cmocka_unit_test(b57_ply),
      cmocka_unit_test(b31_cross_ply_coupling),
      cmocka_unit_test(b33_extension),
      cmocka_unit_test(a121_unit_moments),
      cmocka_unit_test(n31a_strip),
      cmocka_unit_test(mixtures),
      cmocka_unit_test(k3_halpin_tsai),
      cmocka_unit_test(th_invariants),
      cmocka_unit_test(ply_under_combined_stress),
      cmocka_unit_test(first_ply_failure),
      cmocka_unit_test(every_row_was_used),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
