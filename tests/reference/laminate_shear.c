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

/* Middle of a freely supported plate a by b under an even load, cross-ply and alike above and
 * below: deflection and the moments Mx and My, by the double series of first-order shear theory.
 */
typedef struct middle {
  double w, Mx, My;
} middle;

static middle plate(const rw_stack *s, const double h[3], double a, double b, double load)
{
  const double *D = s->D;
  middle sum = {0, 0, 0};
  for (int i = 1; i < 300; i += 2) {
    for (int j = 1; j < 300; j += 2) {
      double p = 2 * quarter_turn * i / a, q = 2 * quarter_turn * j / b;
      double k11 = D[0] * p * p + D[8] * q * q + h[0], k12 = (D[1] + D[8]) * p * q;
      double k22 = D[8] * p * p + D[4] * q * q + h[1], k13 = h[0] * p, k23 = h[1] * q;
      double det = k11 * k22 - k12 * k12;
      double x = (k22 * k13 - k12 * k23) / det, y = (k11 * k23 - k12 * k13) / det;
      double part = 4 * load / (quarter_turn * quarter_turn * i * j);
      double w = part / (h[0] * p * p + h[1] * q * q - k13 * x - k23 * y);
      w *= (i / 2 + j / 2) % 2 == 0 ? 1 : -1;
      sum.w += w;
      sum.Mx += w * (D[0] * p * x + D[1] * q * y);
      sum.My += w * (D[1] * p * x + D[4] * q * y);
    }
  }
  return sum;
}

static void n31c_sandwich(void **state)
{
  (void)state;
  rw_error err;
  const double inch = 0.0254, psi = 0.45359237 * 9.80665 / (inch * inch);
  rw_lamina face = {
      .density = 1, .E1 = 1e7 * psi, .E2 = 4e6 * psi, .G12 = 1.875e6 * psi, .nu12 = 0.3};
  rw_lamina core = {.density = 1,
                    .E1 = 10 * psi,
                    .E2 = 10 * psi,
                    .G12 = 10 * psi,
                    .G13 = 3e4 * psi,
                    .G23 = 1.2e4 * psi};
  rw_ply ply[] = {{face, 0.028 * inch, 0}, {core, 0.75 * inch, 0}, {face, 0.028 * inch, 0}};
  rw_stack s = stack_of(ply, 3);
  double h[3], strain[6], stress[3];
  assert_ok(rw_stack_shear(ply, 3, &s, h, &err), &err);
  middle m = plate(&s, h, 10 * inch, 10 * inch, 100 * psi);
  point("N31c-deflection", m.w / inch);
  const double load[6] = {0, 0, 0, m.Mx, m.My};
  rw_stack_strain(&s, load, strain);
  assert_ok(rw_stack_stress(ply, 3, 2, 0, strain, stress, NULL, &err), &err);
  point("N31c-face", stress[0] / psi);
}

static void z07_cross_ply(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = {
      .density = 1, .E1 = 25, .E2 = 1, .G12 = 0.5, .nu12 = 0.25, .G13 = 0.5, .G23 = 0.2};
  rw_ply ply[] = {{m, 1.0 / 3, 0}, {m, 1.0 / 3, quarter_turn}, {m, 1.0 / 3, 0}};
  rw_stack s = stack_of(ply, 3);
  double h[3];
  assert_ok(rw_stack_shear(ply, 3, &s, h, &err), &err);
  point("Z07-100", 100 * plate(&s, h, 100, 300, 1).w / 1e8);
  point("Z07-50", 100 * plate(&s, h, 50, 150, 1).w / 6.25e6);
}

static void every_row_was_used(void **state)
{
  (void)state;
  check_all_points_used(room);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(a121_unit_shear),    cmocka_unit_test(n31a_strip),
      cmocka_unit_test(n31c_sandwich),      cmocka_unit_test(z07_cross_ply),
      cmocka_unit_test(every_row_was_used),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
