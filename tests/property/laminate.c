/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold for every stack, tried on invented random ones (fixed seed). */
#include "stacks.h"

enum { ROUNDS = 400 };

/* [A B; B D]. */
static void stiffness(const rw_stack *s, double full[36])
{
  for (size_t i = 0; i < 3; i++) {
    for (size_t j = 0; j < 3; j++) {
      full[6 * i + j] = s->A[3 * i + j];
      full[6 * i + j + 3] = full[6 * (i + 3) + j] = s->B[3 * i + j];
      full[6 * (i + 3) + j + 3] = s->D[3 * i + j];
    }
  }
}

static void compliance_undoes_stiffness(void **state)
{
  (void)state;
  stream r = {1};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    rw_stack s = stack_of(ply, some_plies(&r, ply));
    double full[36];
    stiffness(&s, full);
    for (size_t i = 0; i < 6; i++) {
      for (size_t j = 0; j < 6; j++) {
        double sum = 0;
        for (size_t k = 0; k < 6; k++)
          sum += s.abd[6 * i + k] * full[6 * k + j];
        sum *= (i < 3 ? 1 : s.thickness) / (j < 3 ? 1 : s.thickness);
        assert_close(sum, i == j, 1e-10);
      }
    }
  }
}

static void matrices_are_symmetric_to_the_bit(void **state)
{
  (void)state;
  stream r = {2};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    rw_stack s = stack_of(ply, some_plies(&r, ply));
    for (size_t i = 0; i < 3; i++)
      for (size_t j = 0; j < i; j++)
        assert_true(s.A[3 * i + j] == s.A[3 * j + i] && s.B[3 * i + j] == s.B[3 * j + i] &&
                    s.D[3 * i + j] == s.D[3 * j + i]);
    for (size_t i = 0; i < 6; i++)
      for (size_t j = 0; j < i; j++)
        assert_true(s.abd[6 * i + j] == s.abd[6 * j + i]);
  }
}

/* Cholesky's pivots, in units of the diagonal. */
static double least_pivot(const rw_stack *s)
{
  double full[36], l[36] = {0}, least = HUGE_VAL;
  stiffness(s, full);
  for (size_t i = 0; i < 6; i++) {
    for (size_t j = 0; j <= i; j++) {
      double sum = full[6 * i + j] / sqrt(full[7 * i]) / sqrt(full[7 * j]);
      for (size_t k = 0; k < j; k++)
        sum -= l[6 * i + k] * l[6 * j + k];
      if (i == j)
        least = fmin(least, sum);
      l[6 * i + j] = i == j ? sqrt(sum) : sum / l[7 * j];
    }
  }
  return least;
}

static void stiffness_is_positive_definite(void **state)
{
  (void)state;
  stream r = {3};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    rw_stack s = stack_of(ply, some_plies(&r, ply));
    assert_true(least_pivot(&s) > 1e-6);
  }
}

static void turning_keeps_the_invariants(void **state)
{
  (void)state;
  stream r = {4};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_lamina m = some_lamina(&r);
    double flat[9], turned[9], half[9], angle = between(&r, -pi, pi);
    assert_ok(rw_lamina_stiffness(&m, 0, flat, &err), &err);
    assert_ok(rw_lamina_stiffness(&m, angle, turned, &err), &err);
    double size = flat[0] + flat[4] + flat[8];
    assert_close((turned[0] + turned[4] + 2 * turned[1]) / size,
                 (flat[0] + flat[4] + 2 * flat[1]) / size, 1e-14);
    assert_close((turned[8] - turned[1]) / size, (flat[8] - flat[1]) / size, 1e-14);
    assert_ok(rw_lamina_stiffness(&m, angle + pi, half, &err), &err);
    for (size_t k = 0; k < 9; k++)
      assert_close(half[k] / size, turned[k] / size, 1e-14);
    assert_ok(rw_lamina_stiffness(&m, -angle, half, &err), &err);
    for (size_t k = 0; k < 9; k++) {
      int shear = k == 2 || k == 5 || k == 6 || k == 7;
      assert_true(half[k] == (shear ? -turned[k] : turned[k]));
    }
    assert_ok(rw_lamina_stiffness(&m, pi / 2, half, &err), &err);
    assert_close_rel(half[0], flat[4], 1e-12);
    assert_close_rel(half[4], flat[0], 1e-12);
  }
}

static double energy(const rw_stack *s, const double load[6])
{
  double strain[6], sum = 0;
  rw_stack_strain(s, load, strain);
  for (size_t i = 0; i < 6; i++)
    sum += load[i] * strain[i];
  return sum;
}

/* Stress-like components in axes turned by the angle. */
static void turn(const double v[3], double angle, double out[3])
{
  double c = cos(angle), s = sin(angle);
  out[0] = v[0] * c * c + v[1] * s * s + 2 * v[2] * c * s;
  out[1] = v[0] * s * s + v[1] * c * c - 2 * v[2] * c * s;
  out[2] = (v[1] - v[0]) * c * s + v[2] * (c * c - s * s);
}

static void energy_does_not_depend_on_axes(void **state)
{
  (void)state;
  stream r = {5};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_plies(&r, ply);
    rw_stack s = stack_of(ply, n);
    double load[6], turned[6], angle = between(&r, -pi / 2, pi / 2);
    some_load(&r, s.thickness, load);
    turn(load, angle, turned);
    turn(load + 3, angle, turned + 3);
    double before = energy(&s, load);
    for (size_t i = 0; i < n; i++)
      ply[i].angle -= angle;
    s = stack_of(ply, n);
    assert_close_rel(energy(&s, turned), before, 1e-9);
    assert_true(before > 0);
  }
}

static void poisson_ratios_are_reciprocal(void **state)
{
  (void)state;
  stream r = {6};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_plies(&r, ply);
    rw_stack s = stack_of(ply, n);
    double nuxy = s.nuxy, Ex = s.Ex, Ey = s.Ey;
    for (size_t i = 0; i < n; i++)
      ply[i].angle += ply[i].angle > 0 ? -pi / 2 : pi / 2;
    rw_stack turned = stack_of(ply, n); /* its x is the other's y */
    assert_close_rel(turned.Ex, Ey, 1e-9);
    assert_close_rel(turned.EIx, s.EIy, 1e-9);
    assert_close(turned.nuxy / Ey * Ex, nuxy, 1e-9);
  }
}

static void single_ply_gives_back_its_constants(void **state)
{
  (void)state;
  stream r = {7};
  for (int round = 0; round < ROUNDS; round++) {
    rw_lamina m = some_lamina(&r);
    double h = between_log(&r, 1e-9, 1);
    rw_ply ply = {m, h, 0};
    rw_stack s = stack_of(&ply, 1);
    assert_close_rel(s.Ex, m.E1, 1e-12);
    assert_close_rel(s.Ey, m.E2, 1e-12);
    assert_close_rel(s.Gxy, m.G12, 1e-12);
    assert_close(s.nuxy / sqrt(m.E1 / m.E2), m.nu12 / sqrt(m.E1 / m.E2), 1e-12);
    assert_close_rel(s.EIx, m.E1 * h * h * h / 12, 1e-12);
    assert_close_rel(s.EIy, m.E2 * h * h * h / 12, 1e-12);
    assert_close_rel(s.areal_mass, m.density * h, 1e-15);
    for (size_t i = 0; i < 9; i++)
      assert_true(s.B[i] == 0);
  }
}

/* A narrow strip bends with E h^3/12 whatever Poisson's ratio; a plate held flat across does not.
 */
static void isotropic_strip_is_free_to_curl(void **state)
{
  (void)state;
  stream r = {8};
  for (int round = 0; round < ROUNDS; round++) {
    double E = between_log(&r, 1e6, 1e12), nu = between(&r, -0.9, 0.49), h = 3e-3;
    rw_ply ply = {{.density = 1000, .E1 = E, .E2 = E, .G12 = E / (2 * (1 + nu)), .nu12 = nu},
                  h,
                  between(&r, -pi, pi)};
    rw_stack s = stack_of(&ply, 1);
    assert_close_rel(s.EIx, E * h * h * h / 12, 1e-12);
    assert_close_rel(s.D[0], E * h * h * h / 12 / (1 - nu * nu), 1e-12);
  }
}

static void reversing_the_stack_turns_only_b(void **state)
{
  (void)state;
  stream r = {9};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST], back[MOST];
    size_t n = some_plies(&r, ply);
    for (size_t i = 0; i < n; i++)
      back[i] = ply[n - 1 - i];
    rw_stack s = stack_of(ply, n), t = stack_of(back, n);
    for (size_t k = 0; k < 9; k++)
      assert_true(t.A[k] == s.A[k] && t.B[k] == -s.B[k] && t.D[k] == s.D[k]);
    assert_close_rel(t.Ex, s.Ex, 1e-10);
    assert_close_rel(t.EIy, s.EIy, 1e-10);
  }
}

static void mirrored_stack_does_not_couple(void **state)
{
  (void)state;
  stream r = {10};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[2 * MOST];
    size_t n = some_plies(&r, ply);
    for (size_t i = 0; i < n; i++)
      ply[2 * n - 1 - i] = ply[i];
    rw_stack s = stack_of(ply, 2 * n);
    for (size_t k = 0; k < 9; k++)
      assert_true(s.B[k] == 0);
  }
}

static void scales_follow_the_units(void **state)
{
  (void)state;
  stream r = {11};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_plies(&r, ply);
    rw_stack s = stack_of(ply, n);
    double stress = between_log(&r, 1e-6, 1e3), length = between_log(&r, 1e-3, 1e3);
    for (size_t i = 0; i < n; i++) {
      ply[i].material.E1 *= stress;
      ply[i].material.E2 *= stress;
      ply[i].material.G12 *= stress;
      ply[i].thickness *= length;
    }
    rw_stack t = stack_of(ply, n);
    double a = s.A[0] + s.A[4] + s.A[8], h = s.thickness;
    for (size_t k = 0; k < 9; k++) {
      assert_close(t.A[k] / (stress * length) / a, s.A[k] / a, 1e-12);
      assert_close(t.B[k] / (stress * length * length) / (a * h), s.B[k] / (a * h), 1e-12);
      assert_close_rel(t.D[k], s.D[k] * stress * length * length * length, 1e-9);
    }
    assert_close_rel(t.Ex, s.Ex * stress, 1e-9);
    assert_close_rel(t.EIx, s.EIx * stress * length * length * length, 1e-9);
    assert_close_rel(t.areal_mass, s.areal_mass * length, 1e-12);
  }
}

static void sandwich_has_its_closed_form(void **state)
{
  (void)state;
  stream r = {12};
  for (int round = 0; round < ROUNDS; round++) {
    double Ef = between_log(&r, 1e9, 1e11), Ec = Ef * between_log(&r, 1e-4, 1);
    double t = between_log(&r, 1e-4, 5e-3), c = between_log(&r, 1e-3, 5e-2), d = c + t;
    rw_lamina face = {.density = 1900, .E1 = Ef, .E2 = Ef, .G12 = Ef / 2};
    rw_lamina core = {.density = 100, .E1 = Ec, .E2 = Ec, .G12 = Ec / 2};
    rw_ply ply[] = {{face, t, 0}, {core, c, 0}, {face, t, 0}};
    rw_stack s = stack_of(ply, 3);
    double closed = Ef * t * d * d / 2 + Ef * t * t * t / 6 + Ec * c * c * c / 12;
    assert_close_rel(s.D[0], closed, 1e-12);
    assert_close_rel(s.EIx, closed, 1e-12);
    assert_close_rel(s.areal_mass, 2 * t * 1900 + c * 100, 1e-14);
  }
}

static void vanishing_ply_changes_nothing(void **state)
{
  (void)state;
  stream r = {13};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST + 1];
    size_t n = some_plies(&r, ply);
    rw_stack s = stack_of(ply, n);
    ply[n] = (rw_ply){some_lamina(&r), s.thickness * 1e-14, between(&r, -pi, pi)};
    rw_stack t = stack_of(ply, n + 1);
    assert_close_rel(t.Ex, s.Ex, 1e-8);
    assert_close_rel(t.EIx, s.EIx, 1e-8);
    assert_close_rel(t.EIy, s.EIy, 1e-8);
  }
}

static void splitting_a_ply_changes_nothing(void **state)
{
  (void)state;
  stream r = {14};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST], split[4 * MOST];
    size_t n = some_plies(&r, ply);
    for (size_t i = 0; i < 4 * n; i++) {
      split[i] = ply[i / 4];
      split[i].thickness /= 4;
    }
    rw_stack s = stack_of(ply, n), t = stack_of(split, 4 * n);
    double a = s.A[0] + s.A[4] + s.A[8], h = s.thickness;
    for (size_t k = 0; k < 9; k++) {
      assert_close(t.A[k] / a, s.A[k] / a, 1e-12);
      assert_close(t.B[k] / (a * h), s.B[k] / (a * h), 1e-12);
      assert_close(t.D[k] / (a * h * h), s.D[k] / (a * h * h), 1e-12);
    }
  }
}

/* Stress is linear in each ply: Simpson's rule sums it and its moment without error. */
static void stresses_balance_the_load(void **state)
{
  (void)state;
  stream r = {15};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_plies(&r, ply);
    rw_stack s = stack_of(ply, n);
    double load[6], strain[6], sum[6] = {0}, bottom = -s.thickness / 2;
    some_load(&r, s.thickness, load);
    rw_stack_strain(&s, load, strain);
    for (size_t i = 0; i < n; i++) {
      for (int place = -1; place <= 1; place++) {
        double global[3], weight = ply[i].thickness / 6 * (place == 0 ? 4 : 1);
        double z = bottom + (1 + place) * ply[i].thickness / 2;
        assert_ok(rw_stack_stress(ply, n, i, place, strain, global, NULL, &err), &err);
        for (size_t k = 0; k < 3; k++) {
          sum[k] += weight * global[k];
          sum[k + 3] += weight * global[k] * z;
        }
      }
      bottom += ply[i].thickness;
    }
    for (size_t k = 0; k < 6; k++)
      assert_close(sum[k] / (k < 3 ? 1e4 : 1e4 * s.thickness),
                   load[k] / (k < 3 ? 1e4 : 1e4 * s.thickness), 1e-9);
  }
}

static void ply_axes_only_turn_the_stress(void **state)
{
  (void)state;
  stream r = {16};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_plies(&r, ply), index = (size_t)(draw(&r) * (double)n);
    double strain[6], global[3], local[3], turned[3];
    for (size_t i = 0; i < 6; i++)
      strain[i] = between(&r, -1e-3, 1e-3);
    assert_ok(rw_stack_stress(ply, n, index, between(&r, -1, 1), strain, global, local, &err),
              &err);
    turn(global, ply[index].angle, turned);
    double size = fabs(global[0]) + fabs(global[1]) + fabs(global[2]);
    for (size_t k = 0; k < 3; k++)
      assert_close(local[k] / size, turned[k] / size, 1e-13);
  }
}

/* 1 at failure; the criteria written out again. */
static double exhaustion(const rw_lamina *m, const double s[3], rw_criterion criterion)
{
  if (criterion == RW_MAX_STRESS)
    return fmax(fmax(fmax(s[0] / m->Xt, -s[0] / m->Xc), fmax(s[1] / m->Yt, -s[1] / m->Yc)),
                fabs(s[2]) / m->S);
  double f11 = 1 / (m->Xt * m->Xc), f22 = 1 / (m->Yt * m->Yc);
  return f11 * s[0] * s[0] + f22 * s[1] * s[1] + s[2] * s[2] / (m->S * m->S) -
         sqrt(f11 * f22) * s[0] * s[1] + (1 / m->Xt - 1 / m->Xc) * s[0] +
         (1 / m->Yt - 1 / m->Yc) * s[1];
}

static void check_failure(const rw_ply *ply, size_t n, const rw_stack *s, const double load[6],
                          rw_criterion criterion)
{
  rw_error err;
  rw_first_failure f;
  assert_ok(rw_stack_first_failure(ply, n, s, load, criterion, &f, &err), &err);
  double at_failure[6], strain[6], worst = -HUGE_VAL, named = NAN;
  for (size_t i = 0; i < 6; i++)
    at_failure[i] = f.factor * load[i];
  rw_stack_strain(s, at_failure, strain);
  for (size_t i = 0; i < n; i++) {
    for (int face = -1; face <= 1; face += 2) {
      double local[3];
      assert_ok(rw_stack_stress(ply, n, i, face, strain, NULL, local, &err), &err);
      double part = exhaustion(&ply[i].material, local, criterion);
      worst = fmax(worst, part);
      if (i == f.ply && face == f.face)
        named = part;
    }
  }
  assert_close(worst, 1, 1e-9);
  assert_close(named, 1, 1e-9);
  for (size_t i = 0; i < 6; i++)
    at_failure[i] = 8 * load[i];
  rw_first_failure eight;
  assert_ok(rw_stack_first_failure(ply, n, s, at_failure, criterion, &eight, &err), &err);
  assert_close_rel(eight.factor, f.factor / 8, 1e-12);
  assert_int_equal(eight.ply, f.ply);
  assert_int_equal(eight.face, f.face);
  assert_int_equal(eight.mode, f.mode);
}

static void first_failure_is_where_the_criterion_says(void **state)
{
  (void)state;
  stream r = {17};
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_plies(&r, ply);
    rw_stack s = stack_of(ply, n);
    double load[6];
    some_load(&r, s.thickness, load);
    check_failure(ply, n, &s, load, RW_MAX_STRESS);
    check_failure(ply, n, &s, load, RW_TSAI_WU);
  }
}

static rw_fibre some_fibre(stream *r, rw_matrix *m)
{
  m->density = between(r, 1000, 1400);
  m->E = between_log(r, 1e9, 5e9);
  m->nu = between(r, 0.2, 0.45);
  m->strength = between(r, 30e6, 90e6);
  rw_fibre f = {.density = between(r, 1300, 2800),
                .E1 = between_log(r, 20e9, 400e9),
                .strength = between_log(r, 3e8, 5e9)};
  f.E2 = fmax(m->E, f.E1 * between_log(r, 0.02, 1));
  f.G12 = fmax(m->E / 2, f.E1 * between_log(r, 0.02, 0.4));
  f.nu12 = between(r, 0.15, 0.4);
  return f;
}

static void mixtures_stay_between_their_bounds(void **state)
{
  (void)state;
  stream r = {18};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_matrix m;
    rw_fibre f = some_fibre(&r, &m);
    double v = between(&r, 0.01, 0.9), Gm = m.E / (2 * (1 + m.nu));
    rw_lamina ply, richer;
    assert_ok(rw_lamina_unidirectional(&f, &m, v, &ply, &err), &err);
    assert_ok(rw_lamina_check(&ply, &err), &err);
    const double slack = 1 + 1e-12;
    assert_true(ply.E2 * slack >= 1 / (v / f.E2 + (1 - v) / m.E));
    assert_true(ply.E2 <= slack * (v * f.E2 + (1 - v) * m.E));
    assert_true(ply.G12 * slack >= 1 / (v / f.G12 + (1 - v) / Gm));
    assert_true(ply.G12 <= slack * (v * f.G12 + (1 - v) * Gm));
    assert_true(ply.Xt > 0 && ply.Xc > 0 && ply.Xc <= ply.Xt && ply.Yt > 0 && ply.Yc > 0);
    assert_ok(rw_lamina_unidirectional(&f, &m, v + 0.005, &richer, &err), &err);
    assert_true(richer.E1 > ply.E1 && richer.E2 >= ply.E2 && richer.G12 >= ply.G12);
  }
}

static void every_cloth_ply_can_be_stacked(void **state)
{
  (void)state;
  stream r = {19};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_matrix m;
    rw_fibre f = some_fibre(&r, &m);
    rw_weave weave = (rw_weave)(round % 6);
    double v = rw_weave_limit(weave) * between(&r, 0.05, 1);
    rw_cloth c = {.areal_mass = between(&r, 0.02, 1),
                  .fibre_density = f.density,
                  .weave = weave,
                  .hand = {v, 0.02},
                  .bagged = {v, 0.02}};
    rw_lamina ply, along;
    assert_ok(rw_lamina_cloth(&c, &f, &m, v, &ply, &err), &err);
    assert_ok(rw_lamina_check(&ply, &err), &err);
    assert_ok(rw_lamina_unidirectional(&f, &m, v, &along, &err), &err);
    assert_true(ply.E1 <= along.E1 * (1 + 1e-12) && ply.Xt <= along.Xt && ply.Xc <= along.Xc);
    assert_true(ply.Xt > 0 && ply.Xc > 0 && ply.Yt > 0 && ply.Yc > 0 && ply.S > 0);
    if (weave != RW_UNIDIRECTIONAL)
      assert_true(ply.E1 == ply.E2);
  }
}

static void strip_goes_with_the_cube_of_its_span(void **state)
{
  (void)state;
  stream r = {20};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    rw_stack s = stack_of(ply, some_plies(&r, ply));
    double span = s.thickness * between(&r, 20, 60), load = s.EIx / (span * span) * draw(&r);
    double one, two;
    assert_ok(rw_stack_strip(&s, span, load, &one, &err), &err);
    assert_ok(rw_stack_strip(&s, 2 * span, load / 2, &two, &err), &err);
    assert_close(two / span, 4 * one / span, 1e-12);
  }
}

static void same_input_gives_the_same_bits(void **state)
{
  (void)state;
  stream r = {21};
  for (int round = 0; round < 50; round++) {
    rw_ply ply[MOST];
    size_t n = some_plies(&r, ply);
    rw_stack s = stack_of(ply, n), t = stack_of(ply, n);
    assert_memory_equal(&s, &t, sizeof s);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(compliance_undoes_stiffness),
      cmocka_unit_test(matrices_are_symmetric_to_the_bit),
      cmocka_unit_test(stiffness_is_positive_definite),
      cmocka_unit_test(turning_keeps_the_invariants),
      cmocka_unit_test(energy_does_not_depend_on_axes),
      cmocka_unit_test(poisson_ratios_are_reciprocal),
      cmocka_unit_test(single_ply_gives_back_its_constants),
      cmocka_unit_test(isotropic_strip_is_free_to_curl),
      cmocka_unit_test(reversing_the_stack_turns_only_b),
      cmocka_unit_test(mirrored_stack_does_not_couple),
      cmocka_unit_test(scales_follow_the_units),
      cmocka_unit_test(sandwich_has_its_closed_form),
      cmocka_unit_test(vanishing_ply_changes_nothing),
      cmocka_unit_test(splitting_a_ply_changes_nothing),
      cmocka_unit_test(stresses_balance_the_load),
      cmocka_unit_test(ply_axes_only_turn_the_stress),
      cmocka_unit_test(first_failure_is_where_the_criterion_says),
      cmocka_unit_test(mixtures_stay_between_their_bounds),
      cmocka_unit_test(every_cloth_ply_can_be_stacked),
      cmocka_unit_test(strip_goes_with_the_cube_of_its_span),
      cmocka_unit_test(same_input_gives_the_same_bits),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
