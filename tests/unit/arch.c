/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shallow arches: textbook thrusts, limits, snapping through, refusals by name. */
#include "check.h"

#include <math.h>
#include <string.h>

/* One wood layer: thickness sets how far the arch is from one that can't shorten. */
static rw_stack plain(double h)
{
  rw_error err;
  rw_ply ply = {{.density = 350, .E1 = 8e9, .E2 = 0.5e9, .G12 = 0.6e9, .nu12 = 0.3}, h, 0};
  rw_stack s;
  assert_ok(rw_stack_make(&ply, 1, &s, &err), &err);
  return s;
}

static rw_arch_result bend(const rw_stack *s, rw_arch arch, double q, double P, rw_status wanted)
{
  rw_error err = {.code = RW_OK};
  rw_arch_result r;
  assert_status(rw_arch_bend(s, &arch, q, P, &r, &err), wanted, &err);
  return r;
}

static void textbook_thrusts(void **state)
{
  (void)state;
  rw_stack s = plain(0.5e-3);
  double L = 1, f = 0.1, q = 1e-3, P = 1e-3;
  rw_arch arch = {L, f, RW_ARCH_PINNED, 0};
  double nu = 15 * s.EIx / (8 * s.Ex * s.thickness * f * f);
  rw_arch_result r = bend(&s, arch, q, 0, RW_OK);
  assert_close_rel(r.thrust, q * L * L / (8 * f) / (1 + nu), 1e-12);
  /* A parabola under an even load has next to no moment, and next to no deflection. */
  assert_close_rel(r.crown_moment, q * L * L / 8 * nu / (1 + nu), 1e-6);
  assert_close_rel(r.deflection, r.flat * nu / (1 + nu), 1e-6);
  assert_close_rel(r.flat, 5 * q * pow(L, 4) / (384 * s.EIx), 1e-12);
  r = bend(&s, arch, 0, P, RW_OK);
  assert_close_rel(r.thrust, 25 * P * L / (128 * f) / (1 + nu), 1e-12);
  assert_close_rel(r.crown_moment, P * L / 4 - 25 * P * L / 128 / (1 + nu), 1e-9);
  assert_close_rel(r.moment, r.crown_moment, 1e-12);
  assert_close(r.end_moment, 0, 0);
  arch.ends = RW_ARCH_FIXED;
  nu = 45 * s.EIx / (4 * s.Ex * s.thickness * f * f);
  r = bend(&s, arch, q, 0, RW_OK);
  assert_close_rel(r.thrust, q * L * L / (8 * f) / (1 + nu), 1e-12);
  r = bend(&s, arch, 0, P, RW_OK);
  assert_close_rel(r.thrust, 15 * P * L / (64 * f) / (1 + nu), 1e-12);
  assert_close_rel(r.end_moment, P * L / 32, 2e-4);
  assert_close_rel(r.crown_moment, 3 * P * L / 64, 2e-4);
}

static void without_rise_a_strip(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina glass = {.density = 1700, .E1 = 18e9, .E2 = 9e9, .G12 = 3e9, .nu12 = 0.13};
  rw_lamina wood = {.density = 350, .E1 = 8e9, .E2 = 0.5e9, .G12 = 0.6e9, .nu12 = 0.3};
  rw_ply ply[] = {{glass, 0.5e-3, 0.4}, {wood, 6e-3, 0}};
  rw_stack s;
  assert_ok(rw_stack_make(ply, 2, &s, &err), &err);
  for (int i = 0; i < 4; i++) {
    rw_arch arch = {0.6, 0.6e-4, i & 1 ? RW_ARCH_FIXED : RW_ARCH_PINNED, i & 2};
    rw_strip strip = {
        .span = 0.6, .ends = i & 1 ? RW_STRIP_CLAMPED : RW_STRIP_SUPPORTED, .wide = i & 2};
    rw_strip_load load = {.pressure = 20, .force = 3, .x = 0.3};
    rw_arch_result r = bend(&s, arch, 20, 3, RW_OK);
    rw_strip_result of;
    assert_ok(rw_strip_bend(&s, &strip, &load, 1, &of, &err), &err);
    assert_close_rel(r.deflection, of.deflection, 1e-3);
    assert_close_rel(fabs(r.moment), fabs(of.moment), 1e-3);
    assert_close_rel(r.flat, of.deflection, 1e-12);
    assert_true(isinf(r.snap));
    assert_close_rel(r.strain[3], of.strain[3], 1e-3);
  }
}

/* The moment that the arch is bent by is taken about the height where a pull does not bend. */
static void strains_of_a_lopsided_arch(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina glass = {.density = 1700, .E1 = 18e9, .E2 = 9e9, .G12 = 3e9, .nu12 = 0.13};
  rw_lamina wood = {.density = 350, .E1 = 8e9, .E2 = 0.5e9, .G12 = 0.6e9, .nu12 = 0.3};
  rw_ply ply[] = {{glass, 0.5e-3, 0}, {wood, 6e-3, 0}};
  rw_stack s;
  assert_ok(rw_stack_make(ply, 2, &s, &err), &err);
  for (int is_wide = 0; is_wide < 2; is_wide++) {
    rw_arch arch = {0.6, 0.06, RW_ARCH_PINNED, is_wide};
    rw_arch_result r = bend(&s, arch, 0, 5, RW_OK);
    double EI = r.moment / r.strain[3];
    assert_close_rel(0.6 * 0.6 * 0.6 * 5 / 48 / EI, r.flat, 1e-9);
    if (is_wide)
      assert_close(r.strain[4], 0, 1e-9 * fabs(r.strain[3]));
    else
      assert_close(r.load[4], 0, 0);
    assert_close_rel(r.load[0], -r.thrust, 1e-12);
    assert_true(fabs(r.load[3] - r.moment) > 1e-3 * fabs(r.moment));
  }
}

/* Long and high arches go aside at q L^2/8f = 4 pi^2 EI/L^2 (pinned), 80.763 EI/L^2 (fixed); flat
 * ones don't snap. In between: the same sums written apart, to 5 digits. */
static void snapping(void **state)
{
  (void)state;
  const struct {
    double ratio; /* rise over sqrt(EI/EA) */
    rw_arch_ends ends;
    int crown;
    double wanted, tolerance; /* load L^4/(EI f), or L^3 */
  } row[] = {{400, RW_ARCH_PINNED, 0, 32 * 9.8696044, 1e-3},
             {400, RW_ARCH_FIXED, 0, 8 * 80.763, 1e-3},
             {8, RW_ARCH_PINNED, 0, 285.84, 1e-3},
             {8, RW_ARCH_PINNED, 1, 167.10, 1e-3},
             {2.5, RW_ARCH_PINNED, 0, 91.66, 1e-3},
             {8, RW_ARCH_FIXED, 0, 427.66, 1e-3},
             {8, RW_ARCH_FIXED, 1, 178.87, 1e-3},
             {40, RW_ARCH_FIXED, 1, 234.12, 1e-3},
             {1.5, RW_ARCH_PINNED, 0, HUGE_VAL, 0},
             {2.5, RW_ARCH_FIXED, 0, HUGE_VAL, 0}};
  for (size_t i = 0; i < sizeof row / sizeof row[0]; i++) {
    double L = 1, h = 2e-4, f = row[i].ratio * h / sqrt(12);
    rw_stack s = plain(h);
    rw_arch arch = {L, f, row[i].ends, 0};
    if (f < L / 10000) { /* too low for so thin a strip: a thicker one */
      s = plain(h * 4);
      arch.rise = f *= 4;
    }
    double unit = s.EIx * f; /* L = 1 */
    double load = unit;
    rw_arch_result r = bend(&s, arch, row[i].crown ? 0 : load, row[i].crown ? load : 0, RW_OK);
    if (isinf(row[i].wanted))
      assert_true(isinf(r.snap));
    else
      assert_close_rel(r.snap, row[i].wanted, row[i].tolerance);
    /* Pulled outwards it never snaps. */
    r = bend(&s, arch, row[i].crown ? 0 : -load, row[i].crown ? -load : 0, RW_OK);
    assert_true(isinf(r.snap));
    assert_true(r.thrust < 0);
  }
}

static void an_arch_is_stiffer(void **state)
{
  (void)state;
  rw_stack s = plain(6e-3);
  double last = HUGE_VAL;
  for (int i = 0; i < 8; i++) {
    rw_arch arch = {0.6, 0.6e-4 * pow(3, i), RW_ARCH_PINNED, 0};
    if (arch.rise > 0.075)
      break;
    rw_arch_result r = bend(&s, arch, 0, 1, RW_OK);
    assert_true(r.deflection > 0 && r.deflection < last && r.deflection < r.flat);
    last = r.deflection;
  }
}

/* Nearly flat, with a pressure that undoes the crown's moment: the greatest lies between. */
static void worst_between_end_and_crown(void **state)
{
  (void)state;
  rw_stack s = plain(6e-3);
  double L = 0.6;
  rw_arch arch = {L, L / 10000, RW_ARCH_PINNED, 0};
  rw_arch_result r = bend(&s, arch, -8, 4 * L, RW_OK);
  assert_close(r.moment_at, L / 4, 1e-3 * L);
  assert_close_rel(r.moment, -L * L / 4, 1e-2);
}

static void refused(rw_stack s, rw_arch arch, double q, double P, rw_status wanted,
                    const char *argument)
{
  rw_error err = {.code = RW_OK};
  rw_arch_result r, before;
  memset(&r, 7, sizeof r);
  before = r;
  assert_status(rw_arch_bend(&s, &arch, q, P, &r, &err), wanted, &err);
  assert_string_equal(err.argument, argument);
  assert_string_equal(err.function, "rw_arch_bend");
  assert_memory_equal(&r, &before, sizeof r);
}

static void bad_input(void **state)
{
  (void)state;
  rw_stack s = plain(6e-3);
  rw_arch arch = {0.6, 0.05, RW_ARCH_PINNED, 0};
  refused((rw_stack){.EIx = 0}, arch, 1, 0, RW_ERR_RANGE, "s.EIx");
  refused(s, (rw_arch){-1, 0.05, RW_ARCH_PINNED, 0}, 1, 0, RW_ERR_RANGE, "span");
  refused(s, (rw_arch){0.6, 0.08, RW_ARCH_PINNED, 0}, 1, 0, RW_ERR_RANGE, "rise");
  refused(s, (rw_arch){0.6, 0, RW_ARCH_PINNED, 0}, 1, 0, RW_ERR_RANGE, "rise");
  refused(s, (rw_arch){0.6, 0.05, (rw_arch_ends)4, 0}, 1, 0, RW_ERR_ARGUMENT, "ends");
  refused(s, arch, NAN, 0, RW_ERR_RANGE, "pressure");
  refused(s, arch, 0, INFINITY, RW_ERR_RANGE, "crown");
  refused(s, arch, 0, 0, RW_ERR_ARGUMENT, "pressure");
  rw_error err;
  rw_arch_result r;
  assert_status(rw_arch_bend(NULL, &arch, 1, 0, &r, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_arch_bend(&s, NULL, 1, 0, &r, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_arch_bend(&s, &arch, 1, 0, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "out");
}

static void warned(rw_stack s, rw_arch arch, double q, double P, const char *argument)
{
  rw_error err = {.code = RW_OK};
  rw_arch_result r;
  assert_status(rw_arch_bend(&s, &arch, q, P, &r, &err), RW_OUTSIDE_TESTED, &err);
  assert_string_equal(err.argument, argument);
  assert_true(isfinite(r.deflection));
}

static void warnings(void **state)
{
  (void)state;
  rw_stack s = plain(6e-3);
  rw_arch arch = {0.6, 0.05, RW_ARCH_PINNED, 0};
  double snap = bend(&s, arch, 1, 0, RW_OK).snap;
  warned(s, arch, 0.9 * snap, 0, "snap");
  warned(s, arch, 1.1 * snap, 0, "snap");
  warned(s, (rw_arch){0.1, 0.01, RW_ARCH_PINNED, 0}, 1, 0, "span");
  warned(s, arch, 0, -1e5, "deflection");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(textbook_thrusts),
      cmocka_unit_test(without_rise_a_strip),
      cmocka_unit_test(strains_of_a_lopsided_arch),
      cmocka_unit_test(snapping),
      cmocka_unit_test(an_arch_is_stiffer),
      cmocka_unit_test(bad_input),
      cmocka_unit_test(worst_between_end_and_crown),
      cmocka_unit_test(warnings),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
