/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold for free strains and engineering constants, tried on invented random stacks. */
#include "stacks.h"

enum { ROUNDS = 300 };

static void some_free(stream *r, size_t n, double free[3 * MOST])
{
  for (size_t i = 0; i < 3 * n; i++)
    free[i] = between(r, -5e-3, 5e-3);
}

static void take(const rw_ply *ply, size_t n, const double *free, const double *outer,
                 double strain[6])
{
  rw_error err;
  rw_stack s = stack_of(ply, n);
  double load[6];
  assert_ok(rw_stack_free_load(ply, n, free, load, &err), &err);
  for (size_t k = 0; outer != NULL && k < 6; k++)
    load[k] += outer[k];
  rw_stack_strain(&s, load, strain);
}

/* Without an outer load the stresses bear nothing; with one they bear it. */
static void residual_stress_balances(void **state)
{
  (void)state;
  stream r = {71};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_plies(&r, ply);
    rw_stack s = stack_of(ply, n);
    double free[3 * MOST], outer[6], strain[6], sum[6] = {0};
    some_free(&r, n, free);
    some_load(&r, s.thickness, outer);
    if (round % 2 == 0)
      memset(outer, 0, sizeof outer);
    take(ply, n, free, outer, strain);
    double bottom = -s.thickness / 2, size = 0;
    for (size_t i = 0; i < n; i++) {
      for (int place = -1; place <= 1; place++) {
        double global[3], weight = ply[i].thickness / 6 * (place == 0 ? 4 : 1);
        double z = bottom + (1 + place) * ply[i].thickness / 2;
        assert_ok(rw_stack_free_stress(ply, n, i, place, strain, free, global, NULL, &err), &err);
        for (size_t k = 0; k < 3; k++) {
          sum[k] += weight * global[k];
          sum[k + 3] += weight * global[k] * z;
          size += weight * fabs(global[k]);
        }
      }
      bottom += ply[i].thickness;
    }
    size += 1;
    for (size_t k = 0; k < 6; k++)
      assert_close(sum[k] / (k < 3 ? size : size * s.thickness),
                   outer[k] / (k < 3 ? size : size * s.thickness), 1e-9);
  }
}

static void one_even_strain_holds_no_stress(void **state)
{
  (void)state;
  stream r = {72};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_plies(&r, ply);
    double free[3 * MOST], strain[6], local[3], e = between(&r, -5e-3, 5e-3);
    double h = stack_of(ply, n).thickness;
    for (size_t i = 0; i < n; i++) {
      free[3 * i] = free[3 * i + 1] = e;
      free[3 * i + 2] = 0;
    }
    take(ply, n, free, NULL, strain);
    assert_close(strain[0], e, 1e-11);
    assert_close(strain[1], e, 1e-11);
    for (size_t k = 2; k < 6; k++)
      assert_close(strain[k] * (k < 3 ? 1 : h), 0, 1e-11);
    assert_ok(rw_stack_free_stress(ply, n, 0, 1, strain, free, NULL, local, &err), &err);
    assert_close(local[0] / ply[0].material.E1, 0, 1e-10);
  }
}

/* One ply takes its own strain, turned as a tensor: its trace stays. */
static void single_ply_takes_its_own_strain(void **state)
{
  (void)state;
  stream r = {73};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply = {some_lamina(&r), between_log(&r, 1e-6, 1e-1), between(&r, -pi, pi)};
    double free[3] = {between(&r, -1e-2, 1e-2), between(&r, -1e-2, 1e-2),
                      between(&r, -1e-2, 1e-2)};
    double strain[6];
    take(&ply, 1, free, NULL, strain);
    assert_close(strain[0] + strain[1], free[0] + free[1], 1e-12);
    double a = (strain[0] - strain[1]) / 2, b = strain[2] / 2;
    double c = (free[0] - free[1]) / 2, d = free[2] / 2;
    assert_close(a * a + b * b, c * c + d * d, 1e-14);
    double turn = 2 * ply.angle;
    assert_close(a, c * cos(turn) - d * sin(turn), 1e-12);
    assert_close(b, c * sin(turn) + d * cos(turn), 1e-12);
    for (size_t k = 3; k < 6; k++)
      assert_close(strain[k] * ply.thickness, 0, 1e-12);
  }
}

static void mirrored_strains_do_not_bend(void **state)
{
  (void)state;
  stream r = {74};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[2 * MOST];
    size_t n = some_plies(&r, ply);
    double free[6 * MOST], load[6];
    some_free(&r, n, free);
    for (size_t i = 0; i < n; i++) {
      ply[2 * n - 1 - i] = ply[i];
      memcpy(free + 3 * (2 * n - 1 - i), free + 3 * i, 3 * sizeof *free);
    }
    assert_ok(rw_stack_free_load(ply, 2 * n, free, load, &err), &err);
    assert_true(load[3] == 0 && load[4] == 0 && load[5] == 0);
  }
}

static void reversing_turns_only_the_moments(void **state)
{
  (void)state;
  stream r = {75};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST], back[MOST];
    size_t n = some_plies(&r, ply);
    double free[3 * MOST], turned[3 * MOST], load[6], other[6];
    some_free(&r, n, free);
    for (size_t i = 0; i < n; i++) {
      back[i] = ply[n - 1 - i];
      memcpy(turned + 3 * i, free + 3 * (n - 1 - i), 3 * sizeof *free);
    }
    assert_ok(rw_stack_free_load(ply, n, free, load, &err), &err);
    assert_ok(rw_stack_free_load(back, n, turned, other, &err), &err);
    for (size_t k = 0; k < 3; k++)
      assert_true(other[k] == load[k] && other[k + 3] == -load[k + 3]);
  }
}

/* Timoshenko 1925: two strips joined, one of which would be longer by the strain e. */
static void two_metals_curl_as_they_should(void **state)
{
  (void)state;
  stream r = {76};
  for (int round = 0; round < ROUNDS; round++) {
    double E1 = between_log(&r, 1e9, 2e11), E2 = between_log(&r, 1e9, 2e11);
    double t1 = between_log(&r, 1e-4, 1e-2), t2 = between_log(&r, 1e-4, 1e-2);
    double e = between(&r, -5e-3, 5e-3), h = t1 + t2, m = t1 / t2, n = E1 / E2, strain[6];
    rw_ply ply[] = {{{.density = 1, .E1 = E1, .E2 = E1, .G12 = E1 / 2}, t1, 0},
                    {{.density = 1, .E1 = E2, .E2 = E2, .G12 = E2 / 2}, t2, 0}};
    const double free[] = {0, 0, 0, e, 0, 0};
    take(ply, 2, free, NULL, strain);
    double curl = 6 * e * (1 + m) * (1 + m) /
                  (h * (3 * (1 + m) * (1 + m) + (1 + m * n) * (m * m + 1 / (m * n))));
    assert_close_rel(strain[3], curl, 1e-10);
  }
}

static void expansion_has_its_limits(void **state)
{
  (void)state;
  stream r = {77};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_matrix m = {.density = 1200, .E = between_log(&r, 1e9, 5e9), .nu = between(&r, 0.1, 0.4)};
    rw_fibre f = {.density = 1800,
                  .E1 = between_log(&r, 2e10, 4e11),
                  .E2 = between_log(&r, 5e9, 2e10),
                  .G12 = 1e10,
                  .nu12 = 0.25};
    rw_cloth c = {.areal_mass = 0.2,
                  .fibre_density = 1800,
                  .weave = (rw_weave)(round % 6),
                  .crimp = 0.05,
                  .hand = {0.2, 0.02},
                  .bagged = {0.2, 0.02}};
    double v = between(&r, 0.05, 0.5), resin = between(&r, -0.01, 0.01), strain[3];
    double none[2] = {0, 0};
    assert_ok(rw_lamina_cloth_expansion(&c, &f, &m, v, none, resin, strain, &err), &err);
    assert_true(fabs(strain[0]) < fabs(resin) && strain[0] * resin >= 0 && strain[2] == 0);
    if (c.weave == RW_UNIDIRECTIONAL)
      assert_close_rel(strain[0], (1 - v) * m.E * resin / (v * f.E1 + (1 - v) * m.E), 1e-12);
    else
      assert_true(strain[0] == strain[1]);
    /* a fibre that is resin leaves resin */
    f.E1 = f.E2 = m.E;
    f.nu12 = m.nu;
    f.G12 = m.E / (2 * (1 + m.nu));
    double same[2] = {resin, resin};
    assert_ok(rw_lamina_cloth_expansion(&c, &f, &m, v, same, resin, strain, &err), &err);
    assert_close(strain[0], resin, 1e-14);
    assert_close(strain[1], resin, 1e-14);
  }
}

/* A crossed cloth ply moves as two real halves that hold each other. */
static void crossed_expansion_is_that_of_a_stack(void **state)
{
  (void)state;
  stream r = {78};
  rw_error err;
  rw_fibre f;
  rw_matrix m;
  assert_ok(rw_fibre_find("carbon", &f, &err), &err);
  assert_ok(rw_matrix_find("cured-epoxy", &m, &err), &err);
  for (int round = 0; round < ROUNDS; round++) {
    rw_cloth c = {.areal_mass = 0.2,
                  .fibre_density = f.density,
                  .weave = RW_TWILL,
                  .hand = {0.4, 0.02},
                  .bagged = {0.4, 0.02}};
    double v = between(&r, 0.2, 0.6), fibre[2] = {-1e-5, 3e-4}, resin = 2e-3, woven[3];
    assert_ok(rw_lamina_cloth_expansion(&c, &f, &m, v, fibre, resin, woven, &err), &err);
    c.weave = RW_UNIDIRECTIONAL;
    double half[3];
    assert_ok(rw_lamina_cloth_expansion(&c, &f, &m, v, fibre, resin, half, &err), &err);
    rw_lamina one;
    assert_ok(rw_lamina_unidirectional(&f, &m, v, &one, &err), &err);
    rw_ply ply[] = {{one, 1e-4, 0}, {one, 2e-4, pi / 2}, {one, 1e-4, 0}};
    double free[9], strain[6];
    for (size_t i = 0; i < 3; i++)
      memcpy(free + 3 * i, half, sizeof half);
    take(ply, 3, free, NULL, strain);
    assert_close(strain[0] / resin, woven[0] / resin, 1e-12);
    assert_close(strain[1] / resin, woven[1] / resin, 1e-12);
  }
}

/* Schapery's sums written out for two fibres side by side are those of their blend. */
static void blended_fibres_expand_as_both(void **state)
{
  (void)state;
  stream r = {80};
  rw_error err;
  rw_fibre f[2], one;
  rw_matrix m;
  rw_cloth c;
  assert_ok(rw_fibre_find("carbon", &f[0], &err), &err);
  assert_ok(rw_fibre_find("aramid", &f[1], &err), &err);
  assert_ok(rw_matrix_find("cured-epoxy", &m, &err), &err);
  assert_ok(rw_cloth_make("carbon", 0.3, RW_UNIDIRECTIONAL, &c, &err), &err);
  for (int round = 0; round < ROUNDS; round++) {
    double mass[] = {between(&r, 0.05, 1), between(&r, 0.05, 1)}, own[4], blend[2], strain[3];
    double v = between(&r, 0.2, 0.6), resin = between(&r, -5e-3, 5e-3), e1 = 0, e2 = 0, nu = 0;
    for (size_t i = 0; i < 4; i++)
      own[i] = between(&r, -1e-3, 1e-3);
    assert_ok(rw_fibre_blend(f, mass, 2, &m, &one, &err), &err);
    assert_ok(rw_fibre_blend_expansion(f, mass, own, 2, blend, &err), &err);
    assert_ok(rw_lamina_cloth_expansion(&c, &one, &m, v, blend, resin, strain, &err), &err);
    double volume = mass[0] / f[0].density + mass[1] / f[1].density, stiff = (1 - v) * m.E;
    e1 = (1 - v) * m.E * resin;
    for (size_t i = 0; i < 2; i++) {
      double part = v * mass[i] / f[i].density / volume;
      stiff += part * f[i].E1;
      e1 += part * f[i].E1 * own[2 * i];
      e2 += part * (own[2 * i + 1] + f[i].nu12 * own[2 * i]);
      nu += part * f[i].nu12;
    }
    e1 /= stiff;
    e2 += (1 - v) * (1 + m.nu) * resin - (nu + (1 - v) * m.nu) * e1;
    assert_close(strain[0] / 1e-3, e1 / 1e-3, 1e-12);
    assert_close(strain[1] / 1e-3, e2 / 1e-3, 1e-12);
  }
}

/* Warp and weft that differ move as two plies of a mirrored stack; alike, as the cloth of them. */
static void yarns_expand_as_a_stack(void **state)
{
  (void)state;
  stream r = {81};
  rw_error err;
  rw_yarns y;
  rw_matrix m;
  rw_cloth c;
  assert_ok(rw_fibre_find("carbon", &y.fibre[0], &err), &err);
  assert_ok(rw_fibre_find("e-glass", &y.fibre[1], &err), &err);
  assert_ok(rw_matrix_find("cured-epoxy", &m, &err), &err);
  assert_ok(rw_cloth_make("carbon", 0.3, RW_TWILL, &c, &err), &err);
  for (int round = 0; round < ROUNDS; round++) {
    double v = between(&r, 0.2, 0.6), own[4], resin = 2e-3, both[3], free[9], strain[6];
    for (size_t i = 0; i < 4; i++)
      own[i] = between(&r, -1e-3, 1e-3);
    y.mass[0] = between(&r, 0.05, 1);
    y.mass[1] = between(&r, 0.05, 1);
    c.weave = RW_TWILL;
    assert_ok(rw_lamina_yarns_expansion(&c, &y, &m, v, own, resin, both, &err), &err);
    rw_lamina ply[2];
    double t[2];
    c.weave = RW_UNIDIRECTIONAL;
    for (size_t i = 0; i < 2; i++) {
      assert_ok(rw_lamina_unidirectional(&y.fibre[i], &m, v, &ply[i], &err), &err);
      assert_ok(rw_lamina_cloth_expansion(&c, &y.fibre[i], &m, v, own + 2 * i, resin, free + 3 * i,
                                          &err),
                &err);
      t[i] = y.mass[i] / y.fibre[i].density / v;
    }
    memcpy(free + 6, free, 3 * sizeof free[0]);
    const rw_ply stack[] = {{ply[0], t[0] / 2, 0}, {ply[1], t[1], pi / 2}, {ply[0], t[0] / 2, 0}};
    take(stack, 3, free, NULL, strain);
    assert_close(both[0] / 1e-3, strain[0] / 1e-3, 1e-11);
    assert_close(both[1] / 1e-3, strain[1] / 1e-3, 1e-11);
    assert_true(both[2] == 0);
    const rw_yarns alike = {{y.fibre[0], y.fibre[0]}, {0.1, 0.1}};
    memcpy(own + 2, own, 2 * sizeof own[0]);
    c.weave = RW_TWILL;
    assert_ok(rw_lamina_yarns_expansion(&c, &alike, &m, v, own, resin, both, &err), &err);
    assert_ok(rw_lamina_cloth_expansion(&c, &y.fibre[0], &m, v, own, resin, strain, &err), &err);
    assert_close(both[0] / 1e-3, strain[0] / 1e-3, 1e-11);
    assert_close(both[1] / 1e-3, strain[1] / 1e-3, 1e-11);
  }
}

static void moduli_are_reciprocal_and_those_of_one_ply(void **state)
{
  (void)state;
  stream r = {79};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_plies(&r, ply);
    rw_stack s = stack_of(ply, n);
    rw_stack_moduli k;
    assert_ok(rw_stack_moduli_of(&s, &k, &err), &err);
    assert_close(k.nuyx / k.Ey * k.Ex, k.nuxy, 1e-12);
    assert_close(k.bending_nuyx / k.bending_Ey * k.bending_Ex, k.bending_nuxy, 1e-12);
    assert_close_rel(k.bending_Ex * pow(s.thickness, 3) / 12, s.EIx, 1e-12);
    assert_close_rel(k.bending_Ey * pow(s.thickness, 3) / 12, s.EIy, 1e-12);
    rw_lamina m = ply[0].material;
    double limit = sqrt(m.E1 / m.E2);
    rw_ply one = {m, ply[0].thickness, 0};
    s = stack_of(&one, 1);
    assert_ok(rw_stack_moduli_of(&s, &k, &err), &err);
    assert_close_rel(k.bending_Ex, m.E1, 1e-11);
    assert_close_rel(k.bending_Ey, m.E2, 1e-11);
    assert_close_rel(k.bending_Gxy, m.G12, 1e-11);
    assert_close(k.bending_nuxy / limit, m.nu12 / limit, 1e-11);
    assert_true(k.skew_x == 0 && k.skew_y == 0);
    double load[6] = {1}, strain[6];
    one.angle = between(&r, -pi, pi);
    s = stack_of(&one, 1);
    assert_ok(rw_stack_moduli_of(&s, &k, &err), &err);
    rw_stack_strain(&s, load, strain);
    assert_close_rel(k.Ex, 1 / (strain[0] * one.thickness), 1e-12);
    assert_close(k.skew_x, strain[2] / strain[0], 1e-12);
    load[0] = 0;
    load[1] = 1;
    rw_stack_strain(&s, load, strain);
    assert_close(k.skew_y, strain[2] / strain[1], 1e-12);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(residual_stress_balances),
      cmocka_unit_test(one_even_strain_holds_no_stress),
      cmocka_unit_test(single_ply_takes_its_own_strain),
      cmocka_unit_test(mirrored_strains_do_not_bend),
      cmocka_unit_test(reversing_turns_only_the_moments),
      cmocka_unit_test(two_metals_curl_as_they_should),
      cmocka_unit_test(expansion_has_its_limits),
      cmocka_unit_test(crossed_expansion_is_that_of_a_stack),
      cmocka_unit_test(blended_fibres_expand_as_both),
      cmocka_unit_test(yarns_expand_as_a_stack),
      cmocka_unit_test(moduli_are_reciprocal_and_those_of_one_ply),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
