/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold for plies made from constituents, for plywood and for faired stacks. */
#include "stacks.h"

enum { ROUNDS = 300 };

static rw_matrix some_matrix(stream *r)
{
  return (rw_matrix){.density = between(r, 1000, 1400),
                     .E = between_log(r, 1e9, 5e9),
                     .nu = between(r, 0.1, 0.45),
                     .strength = between(r, 30e6, 90e6)};
}

static rw_fibre some_fibre(stream *r, const rw_matrix *m)
{
  rw_fibre f = {.density = between(r, 1300, 2800),
                .E1 = between_log(r, 20e9, 400e9),
                .nu12 = between(r, 0.15, 0.4),
                .strength = between_log(r, 3e8, 5e9)};
  f.E2 = fmax(1.1 * m->E, f.E1 * between_log(r, 0.02, 1));
  f.G12 = fmax(m->E, f.E1 * between_log(r, 0.02, 0.4));
  return f;
}

static void blend_of_one_kind_is_that_kind(void **state)
{
  (void)state;
  stream r = {51};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_matrix m = some_matrix(&r);
    rw_fibre one = some_fibre(&r, &m), f[] = {one, one, one}, out;
    double mass[] = {between(&r, 0.01, 1), between(&r, 0.01, 1), between(&r, 0.01, 1)};
    assert_ok(rw_fibre_blend(f, mass, 3, &m, &out, &err), &err);
    assert_close_rel(out.density, one.density, 1e-12);
    assert_close_rel(out.E1, one.E1, 1e-12);
    assert_close_rel(out.E2, one.E2, 1e-9);
    assert_close_rel(out.G12, one.G12, 1e-9);
    assert_close_rel(out.nu12, one.nu12, 1e-12);
    assert_close_rel(out.strength, one.strength, 1e-12);
  }
}

static void blend_lies_between_and_forgets_the_order(void **state)
{
  (void)state;
  stream r = {52};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_matrix m = some_matrix(&r);
    rw_fibre f[] = {some_fibre(&r, &m), some_fibre(&r, &m)}, back[] = {f[1], f[0]}, out, other;
    double mass[] = {between(&r, 0.01, 1), between(&r, 0.01, 1)}, turned[] = {mass[1], mass[0]};
    assert_ok(rw_fibre_blend(f, mass, 2, &m, &out, &err), &err);
    assert_ok(rw_fibre_blend(back, turned, 2, &m, &other, &err), &err);
    assert_close_rel(out.E2, other.E2, 1e-12);
    assert_close_rel(out.E1, other.E1, 1e-12);
    const double slack = 1e-9;
    assert_true(out.E2 >= fmin(f[0].E2, f[1].E2) * (1 - slack));
    assert_true(out.E2 <= fmax(f[0].E2, f[1].E2) * (1 + slack));
    assert_true(out.G12 >= fmin(f[0].G12, f[1].G12) * (1 - slack));
    assert_true(out.G12 <= fmax(f[0].G12, f[1].G12) * (1 + slack));
    assert_true(out.strength / out.E1 <= f[0].strength / f[0].E1 * (1 + slack));
    double v = between(&r, 0.05, 0.8), a = mass[0] / f[0].density, b = mass[1] / f[1].density;
    rw_lamina ply;
    assert_ok(rw_lamina_unidirectional(&out, &m, v, &ply, &err), &err);
    double mixed = v * (a * f[0].E1 + b * f[1].E1) / (a + b) + (1 - v) * m.E;
    assert_close_rel(ply.E1, mixed, 1e-12);
  }
}

/* Halpin-Tsai with 1/(3 - 4 nu) is the lower bound of Hill and Hashin for fibres stiffer than the
 * resin, written here in its own form with the plane-strain bulk modulus G/(1 - 2 nu). */
static void shear_across_is_the_lower_bound(void **state)
{
  (void)state;
  stream r = {53};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_matrix m = some_matrix(&r);
    rw_fibre f = some_fibre(&r, &m);
    double v = between(&r, 0.01, 0.9), Gf = f.E2 / (2 * (1 + f.nu12));
    double Gm = m.E / (2 * (1 + m.nu)), k = Gm / (1 - 2 * m.nu);
    rw_lamina ply;
    assert_ok(rw_lamina_unidirectional(&f, &m, v, &ply, &err), &err);
    double bound = Gm + v / (1 / (Gf - Gm) + (1 - v) * (k + 2 * Gm) / (2 * Gm * (k + Gm)));
    assert_close_rel(ply.G23, bound, 1e-9);
    assert_true(ply.G13 == ply.G12 && ply.E3 == ply.E2);
  }
}

static void every_weave_has_its_thickness_constants(void **state)
{
  (void)state;
  stream r = {54};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_matrix m = some_matrix(&r);
    rw_fibre f = some_fibre(&r, &m);
    rw_weave weave = (rw_weave)(round % 6);
    double v = rw_weave_limit(weave) * between(&r, 0.05, 1);
    rw_cloth c = {.areal_mass = 0.2,
                  .fibre_density = f.density,
                  .weave = weave,
                  .crimp = between(&r, 0, 0.3),
                  .hand = {v, 0.02},
                  .bagged = {v, 0.02}};
    rw_lamina ply, straight;
    assert_ok(rw_lamina_cloth(&c, &f, &m, v, &ply, &err), &err);
    assert_ok(rw_lamina_unidirectional(&f, &m, v, &straight, &err), &err);
    double low = fmin(straight.G13, straight.G23), high = fmax(straight.G13, straight.G23);
    double kept = weave == RW_UNIDIRECTIONAL || weave == RW_MAT ? 1 : 1 - c.crimp;
    assert_true(ply.G13 >= kept * low * (1 - 1e-12) && ply.G13 <= kept * high * (1 + 1e-12));
    assert_true(ply.E3 == straight.E2);
    if (weave != RW_UNIDIRECTIONAL)
      assert_true(ply.G13 == ply.G23);
  }
}

/* Equal veneers: stiffness along and across follow from sums of cubes. */
static void plywood_has_its_closed_form(void **state)
{
  (void)state;
  stream r = {55};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_lamina veneer = {.density = 450, .E1 = between_log(&r, 5e9, 15e9)};
    veneer.E2 = veneer.E1 * between_log(&r, 0.02, 0.2);
    veneer.G12 = veneer.E1 * 0.06;
    size_t n = 3 + 2 * (size_t)(draw(&r) * 5);
    double h = between_log(&r, 2e-3, 3e-2), cubes = 0;
    rw_ply ply[13];
    rw_stack s;
    assert_ok(rw_plywood_make(&veneer, h, 0, n, 0, ply, &err), &err);
    assert_ok(rw_stack_make(ply, n, &s, &err), &err);
    for (size_t i = 0; i < n; i += 2) {
      double z = ((double)i + 0.5) / (double)n - 0.5, t = 1.0 / (double)n;
      cubes += 12 * t * z * z + t * t * t;
    }
    double along = h * h * h / 12 * (veneer.E1 * cubes + veneer.E2 * (1 - cubes));
    double across = h * h * h / 12 * (veneer.E2 * cubes + veneer.E1 * (1 - cubes));
    assert_close_rel(s.EIx, along, 1e-11);
    assert_close_rel(s.EIy, across, 1e-11);
    assert_close_rel(s.thickness, h, 1e-12);
    for (size_t k = 0; k < 9; k++)
      assert_close(s.B[k] / (s.A[0] * h), 0, 1e-15);
  }
}

/* At the thickness that is asked for the limit is met; a map of the plan loses nothing. */
static void faired_stack_meets_its_limit_where_said(void **state)
{
  (void)state;
  stream r = {56};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_plies(&r, ply), which = (size_t)(draw(&r) * (double)n);
    double limit = between(&r, 0.05, 0.95);
    rw_faired f, g;
    const rw_fairing planned = {which, 1, -1, &ply[which].thickness, 1, limit};
    assert_ok(rw_stack_faired(ply, n, &planned, &f, &err), &err);
    assert_close_rel(f.along, 1, 1e-12);
    assert_close_rel(f.across, 1, 1e-12);
    assert_int_equal(f.below, 0);
    if (f.needed == 0)
      continue;
    const rw_fairing just = {which, 1, 1, &f.needed, 1, limit};
    assert_ok(rw_stack_faired(ply, n, &just, &g, &err), &err);
    assert_close(fmin(g.along, g.across), limit, 1e-6);
  }
}

static void wood_property_is_exact_at_its_ends(void **state)
{
  (void)state;
  stream r = {57};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    double dry = between_log(&r, 1, 1e9), wet = dry / between(&r, 1, 3);
    double green = between(&r, 0.2, 0.3), at, soaked, half;
    assert_ok(rw_lamina_wood_property(dry, wet, 0.12, green, &at, &err), &err);
    assert_close_rel(at, dry, 1e-12);
    assert_ok(rw_lamina_wood_property(dry, wet, green, green, &at, &err), &err);
    assert_close_rel(at, wet, 1e-12);
    assert_ok(rw_lamina_wood_property(dry, wet, 1.5, green, &soaked, &err), &err);
    assert_true(soaked == at);
    assert_ok(rw_lamina_wood_property(dry, wet, (0.12 + green) / 2, green, &half, &err), &err);
    assert_close_rel(half, sqrt(dry) * sqrt(wet), 1e-12);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(blend_of_one_kind_is_that_kind),
      cmocka_unit_test(blend_lies_between_and_forgets_the_order),
      cmocka_unit_test(shear_across_is_the_lower_bound),
      cmocka_unit_test(every_weave_has_its_thickness_constants),
      cmocka_unit_test(plywood_has_its_closed_form),
      cmocka_unit_test(faired_stack_meets_its_limit_where_said),
      cmocka_unit_test(wood_property_is_exact_at_its_ends),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
