/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold for the shear stiffness of every stack, tried on invented random ones. */
#include "stacks.h"

enum { ROUNDS = 300 };

static size_t some_shear_plies(stream *r, rw_ply ply[MOST])
{
  size_t n = some_plies(r, ply);
  for (size_t i = 0; i < n; i++) {
    ply[i].material.G13 = ply[i].material.G12 * between_log(r, 0.1, 2);
    ply[i].material.G23 = ply[i].material.G12 * between_log(r, 0.1, 2);
  }
  return n;
}

static void shear_of(const rw_ply *ply, size_t n, double h[3])
{
  rw_error err;
  rw_stack s = stack_of(ply, n);
  assert_ok(rw_stack_shear(ply, n, &s, h, &err), &err);
}

static void one_material_has_five_sixths(void **state)
{
  (void)state;
  stream r = {31};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    some_shear_plies(&r, ply);
    size_t n = 1 + (size_t)(draw(&r) * MOST);
    double whole = 0, h[3];
    for (size_t i = 0; i < n; i++) {
      ply[i].material = ply[0].material;
      ply[i].angle = 0;
      ply[i].thickness = between_log(&r, 1e-4, 1e-2);
      whole += ply[i].thickness;
    }
    shear_of(ply, n, h);
    assert_close_rel(h[0], ply[0].material.G13 * whole * 5 / 6, 1e-11);
    assert_close_rel(h[1], ply[0].material.G23 * whole * 5 / 6, 1e-11);
    assert_close(h[2] / h[0], 0, 1e-15);
  }
}

static void unknown_is_taken_as_in_plane(void **state)
{
  (void)state;
  stream r = {32};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_plies(&r, ply);
    double unknown[3], same[3];
    shear_of(ply, n, unknown);
    for (size_t i = 0; i < n; i++)
      ply[i].material.G13 = ply[i].material.G23 = ply[i].material.G12;
    shear_of(ply, n, same);
    assert_memory_equal(unknown, same, sizeof same);
  }
}

static void shear_is_positive_definite(void **state)
{
  (void)state;
  stream r = {33};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    double h[3];
    shear_of(ply, some_shear_plies(&r, ply), h);
    assert_true(h[0] > 0 && h[1] > 0 && h[0] * h[1] > h[2] * h[2]);
  }
}

/* No stress with the same resultant stores less than an even strain. */
static void shear_stays_below_the_even_strain(void **state)
{
  (void)state;
  stream r = {34};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_shear_plies(&r, ply);
    double h[3], x = 0, y = 0;
    for (size_t i = 0; i < n; i++) {
      int across = draw(&r) < 0.5;
      ply[i].angle = across ? pi / 2 : 0;
      x += ply[i].thickness * (across ? ply[i].material.G23 : ply[i].material.G13);
      y += ply[i].thickness * (across ? ply[i].material.G13 : ply[i].material.G23);
    }
    shear_of(ply, n, h);
    assert_true(h[0] < x && h[1] < y);
    assert_close(h[2] / sqrt(h[0] * h[1]), 0, 1e-9);
  }
}

static void reversing_the_stack_keeps_shear(void **state)
{
  (void)state;
  stream r = {35};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST], back[MOST];
    size_t n = some_shear_plies(&r, ply);
    for (size_t i = 0; i < n; i++)
      back[i] = ply[n - 1 - i];
    double h[3], other[3];
    shear_of(ply, n, h);
    shear_of(back, n, other);
    for (size_t k = 0; k < 3; k++)
      assert_close(other[k] / sqrt(h[0] * h[1]), h[k] / sqrt(h[0] * h[1]), 1e-9);
  }
}

static void quarter_turn_swaps_the_sides(void **state)
{
  (void)state;
  stream r = {36};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_shear_plies(&r, ply);
    double h[3], turned[3];
    shear_of(ply, n, h);
    for (size_t i = 0; i < n; i++)
      ply[i].angle += ply[i].angle > 0 ? -pi / 2 : pi / 2;
    shear_of(ply, n, turned);
    assert_close_rel(turned[0], h[1], 1e-9);
    assert_close_rel(turned[1], h[0], 1e-9);
    assert_close(turned[2] / sqrt(h[0] * h[1]), -h[2] / sqrt(h[0] * h[1]), 1e-9);
  }
}

static void shear_follows_the_units(void **state)
{
  (void)state;
  stream r = {37};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_shear_plies(&r, ply);
    double h[3], other[3], stress = between_log(&r, 1e-6, 1e3),
                           length = between_log(&r, 1e-6, 1e3);
    shear_of(ply, n, h);
    for (size_t i = 0; i < n; i++) {
      ply[i].material.E1 *= stress;
      ply[i].material.E2 *= stress;
      ply[i].material.G12 *= stress;
      ply[i].material.G13 *= stress;
      ply[i].material.G23 *= stress;
      ply[i].thickness *= length;
    }
    shear_of(ply, n, other);
    for (size_t k = 0; k < 3; k++)
      assert_close(other[k] / (stress * length) / sqrt(h[0] * h[1]), h[k] / sqrt(h[0] * h[1]),
                   1e-8);
  }
}

static void splitting_a_ply_keeps_shear(void **state)
{
  (void)state;
  stream r = {38};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST], split[3 * MOST];
    size_t n = some_shear_plies(&r, ply);
    for (size_t i = 0; i < 3 * n; i++) {
      split[i] = ply[i / 3];
      split[i].thickness /= 3;
    }
    double h[3], other[3];
    shear_of(ply, n, h);
    shear_of(split, 3 * n, other);
    for (size_t k = 0; k < 3; k++)
      assert_close(other[k] / sqrt(h[0] * h[1]), h[k] / sqrt(h[0] * h[1]), 1e-8);
  }
}

/* Faces stiff in shear on a core that bears nothing along itself: the core's stress is even. */
static void soft_core_has_its_closed_form(void **state)
{
  (void)state;
  stream r = {39};
  for (int round = 0; round < ROUNDS; round++) {
    double t = between_log(&r, 1e-4, 5e-3), c = between_log(&r, 1e-3, 5e-2), d = c + t, h[3];
    double Ef = between_log(&r, 1e9, 1e11), G = between_log(&r, 1e6, 1e8);
    rw_lamina face = {.density = 1900,
                      .E1 = Ef,
                      .E2 = Ef,
                      .G12 = Ef / 2.5,
                      .nu12 = 0.25,
                      .G13 = G * 1e9,
                      .G23 = G * 1e9};
    rw_lamina core = {.density = 100,
                      .E1 = Ef * 1e-8,
                      .E2 = Ef * 1e-8,
                      .G12 = Ef * 1e-8,
                      .G13 = G,
                      .G23 = 2 * G};
    rw_ply ply[] = {{face, t, 0}, {core, c, 0}, {face, t, 0}};
    shear_of(ply, 3, h);
    double arm = d + t * t / (3 * d);
    assert_close_rel(h[0], G * arm * arm / c, 1e-5);
    assert_close_rel(h[1], 2 * G * arm * arm / c, 1e-5);
  }
}

/* The stresses are quadratic in each ply and their energy quartic, so both sums are exact. */
static void stresses_bear_the_force_and_hold_the_energy(void **state)
{
  (void)state;
  stream r = {40};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_shear_plies(&r, ply);
    rw_stack s = stack_of(ply, n);
    double force[2] = {between(&r, -1, 1), between(&r, -1, 1)}, sum[2] = {0}, energy = 0, h[3];
    for (size_t i = 0; i < n; i++) {
      for (int k = 0; k < RW_NUM_GAUSS5; k++) {
        double weight, global[2], local[2], place = 2 * rw_num_gauss5(k, &weight) - 1;
        assert_ok(rw_stack_shear_stress(ply, n, &s, i, place, force, global, local, &err), &err);
        assert_close_rel(hypot(local[0], local[1]), hypot(global[0], global[1]), 1e-12);
        weight *= ply[i].thickness;
        sum[0] += weight * global[0];
        sum[1] += weight * global[1];
        energy += weight * (local[0] * local[0] / ply[i].material.G13 +
                            local[1] * local[1] / ply[i].material.G23);
      }
    }
    assert_close(sum[0], force[0], 1e-8);
    assert_close(sum[1], force[1], 1e-8);
    assert_ok(rw_stack_shear(ply, n, &s, h, &err), &err);
    double det = h[0] * h[1] - h[2] * h[2];
    double whole = (h[1] * force[0] * force[0] + h[0] * force[1] * force[1] -
                    2 * h[2] * force[0] * force[1]) /
                   det;
    assert_close_rel(energy, whole, 1e-8);
  }
}

static void stress_does_not_jump_and_ends_at_the_faces(void **state)
{
  (void)state;
  stream r = {41};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_shear_plies(&r, ply);
    rw_stack s = stack_of(ply, n);
    double force[2] = {between(&r, -1, 1), between(&r, -1, 1)}, below[2], above[2];
    double size = 1 / s.thickness;
    assert_ok(rw_stack_shear_stress(ply, n, &s, 0, -1, force, below, NULL, &err), &err);
    assert_ok(rw_stack_shear_stress(ply, n, &s, n - 1, 1, force, above, NULL, &err), &err);
    assert_true(below[0] == 0 && below[1] == 0 && above[0] == 0 && above[1] == 0);
    for (size_t i = 0; i + 1 < n; i++) {
      assert_ok(rw_stack_shear_stress(ply, n, &s, i, 1, force, below, NULL, &err), &err);
      assert_ok(rw_stack_shear_stress(ply, n, &s, i + 1, -1, force, above, NULL, &err), &err);
      assert_close(below[0] / size, above[0] / size, 1e-8);
      assert_close(below[1] / size, above[1] / size, 1e-8);
    }
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(one_material_has_five_sixths),
      cmocka_unit_test(unknown_is_taken_as_in_plane),
      cmocka_unit_test(shear_is_positive_definite),
      cmocka_unit_test(shear_stays_below_the_even_strain),
      cmocka_unit_test(reversing_the_stack_keeps_shear),
      cmocka_unit_test(quarter_turn_swaps_the_sides),
      cmocka_unit_test(shear_follows_the_units),
      cmocka_unit_test(splitting_a_ply_keeps_shear),
      cmocka_unit_test(soft_core_has_its_closed_form),
      cmocka_unit_test(stresses_bear_the_force_and_hold_the_energy),
      cmocka_unit_test(stress_does_not_jump_and_ends_at_the_faces),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
