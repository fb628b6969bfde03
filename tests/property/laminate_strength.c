/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold for the strength of every stack, tried on invented random ones. */
#include "stacks.h"

enum { ROUNDS = 300 };
static const rw_criterion all[] = {RW_MAX_STRESS, RW_TSAI_WU, RW_MAX_STRAIN, RW_TSAI_HILL};
enum { CRITERIA = sizeof all / sizeof all[0] };

/* Strengths of which Tsai-Hill is a closed surface, too. */
static size_t some_strong_plies(stream *r, rw_ply ply[MOST])
{
  size_t n = some_plies(r, ply);
  for (size_t i = 0; i < n; i++) {
    rw_lamina *m = &ply[i].material;
    m->Yt = between_log(r, 0.05, 1.9) * fmin(m->Xt, m->Xc);
    m->Yc = between_log(r, 0.05, 1.9) * fmin(m->Xt, m->Xc);
  }
  return n;
}

static double largest(const rw_lamina *m, const double s[3])
{
  return fmax(fmax(fmax(s[0] / m->Xt, -s[0] / m->Xc), fmax(s[1] / m->Yt, -s[1] / m->Yc)),
              fabs(s[2]) / m->S);
}

/* 1 at failure; the criteria written out again. */
static double exhaustion(const rw_lamina *m, const double s[3], rw_criterion criterion)
{
  double X = s[0] > 0 ? m->Xt : m->Xc, Y = s[1] > 0 ? m->Yt : m->Yc;
  double f11 = 1 / (m->Xt * m->Xc), f22 = 1 / (m->Yt * m->Yc), shear = s[2] / m->S;
  double e1 = (s[0] - m->nu12 * s[1]) / m->E1, e2 = s[1] / m->E2 - m->nu12 / m->E1 * s[0];
  switch (criterion) {
  case RW_MAX_STRESS:
    return largest(m, s);
  case RW_MAX_STRAIN:
    return largest(m, (double[3]){m->E1 * e1, m->E2 * e2, s[2]});
  case RW_TSAI_HILL:
    return (s[0] * s[0] - s[0] * s[1]) / (X * X) + s[1] * s[1] / (Y * Y) + shear * shear;
  default:
    return f11 * s[0] * s[0] + f22 * s[1] * s[1] + shear * shear - sqrt(f11 * f22) * s[0] * s[1] +
           (1 / m->Xt - 1 / m->Xc) * s[0] + (1 / m->Yt - 1 / m->Yc) * s[1];
  }
}

/* The worse face of a ply under the load times a factor. */
static double used(const rw_ply *ply, size_t n, const rw_stack *s, size_t index,
                   const double load[6], double factor, const double *free, rw_criterion criterion)
{
  rw_error err;
  double whole[6], strain[6], worst = -HUGE_VAL, local[3];
  assert_ok(rw_stack_free_load(ply, n, free, whole, &err), &err);
  for (size_t k = 0; k < 6; k++)
    whole[k] += factor * load[k];
  rw_stack_strain(s, whole, strain);
  for (int face = -1; face <= 1; face += 2) {
    assert_ok(rw_stack_free_stress(ply, n, index, face, strain, free, NULL, local, &err), &err);
    worst = fmax(worst, exhaustion(&ply[index].material, local, criterion));
  }
  return worst;
}

static void each_ply_reaches_its_limit(void **state)
{
  (void)state;
  stream r = {81};
  rw_error err;
  size_t broken = 0, whole = 0;
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_strong_plies(&r, ply);
    rw_stack s = stack_of(ply, n);
    double load[6], free[3 * MOST] = {0}, size = round % 3 == 0 ? 0 : 1e-3;
    some_load(&r, s.thickness, load);
    for (size_t i = 0; i < 3 * n; i++)
      free[i] = size > 0 ? between(&r, -size, size) : 0;
    for (size_t c = 0; c < CRITERIA; c++) {
      rw_first_failure each[MOST];
      assert_ok(rw_stack_failures(ply, n, &s, load, free, all[c], each, &err), &err);
      for (size_t i = 0; i < n; i++) {
        double before = used(ply, n, &s, i, load, 0, free, all[c]);
        assert_int_equal(each[i].ply, i);
        if (before >= 1) {
          assert_true(each[i].factor == 0);
          broken++;
          continue;
        }
        whole++;
        assert_close(used(ply, n, &s, i, load, each[i].factor, free, all[c]), 1, 1e-7);
        assert_true(used(ply, n, &s, i, load, 0.97 * each[i].factor, free, all[c]) < 1);
        assert_true(each[i].mode != RW_MODE_NONE && each[i].face != 0);
      }
    }
  }
  assert_true(broken > 100 && whole > 1000);
}

static void first_failure_is_the_least_of_each(void **state)
{
  (void)state;
  stream r = {82};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_strong_plies(&r, ply);
    rw_stack s = stack_of(ply, n);
    double load[6];
    some_load(&r, s.thickness, load);
    for (size_t c = 0; c < CRITERIA; c++) {
      rw_first_failure each[MOST], first;
      assert_ok(rw_stack_failures(ply, n, &s, load, NULL, all[c], each, &err), &err);
      assert_ok(rw_stack_first_failure(ply, n, &s, load, all[c], &first, &err), &err);
      size_t least = 0;
      for (size_t i = 1; i < n; i++)
        if (each[i].factor < each[least].factor)
          least = i;
      assert_true(each[least].factor == first.factor && least == first.ply);
      assert_int_equal(each[least].face, first.face);
      assert_int_equal(each[least].mode, first.mode);
    }
  }
}

static void no_free_strain_is_none(void **state)
{
  (void)state;
  stream r = {83};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST];
    size_t n = some_strong_plies(&r, ply);
    rw_stack s = stack_of(ply, n);
    double load[6], free[3 * MOST] = {0};
    some_load(&r, s.thickness, load);
    rw_first_failure with[MOST], without[MOST];
    for (size_t c = 0; c < CRITERIA; c++) {
      assert_ok(rw_stack_failures(ply, n, &s, load, free, all[c], with, &err), &err);
      assert_ok(rw_stack_failures(ply, n, &s, load, NULL, all[c], without, &err), &err);
      for (size_t i = 0; i < n; i++)
        assert_close_rel(with[i].factor, without[i].factor, 1e-12);
    }
  }
}

/* Skins of one material, pushed at any angle: the limit by hand. */
static void skins_wrinkle_as_the_formula_says(void **state)
{
  (void)state;
  stream r = {84};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    double E = between_log(&r, 1e9, 1e11), t = between_log(&r, 2e-4, 3e-3), nu = 0.3;
    rw_lamina skin = {.density = 1800, .E1 = E, .E2 = E, .G12 = E / 2.6, .nu12 = nu};
    rw_lamina core = {.density = 100,
                      .E1 = E * 1e-9,
                      .E2 = E * 1e-9,
                      .G12 = E * 1e-9,
                      .E3 = between_log(&r, 1e7, 1e9),
                      .G13 = between_log(&r, 1e6, 1e8),
                      .G23 = between_log(&r, 1e6, 1e8)};
    rw_ply ply[] = {{skin, t, 0}, {core, 2e-2, between(&r, -pi, pi)}, {skin, t, 0}};
    rw_stack s = stack_of(ply, 3);
    double push = between(&r, 1, 1e5), angle = between(&r, -pi / 2, pi / 2);
    double c = cos(angle), q = sin(angle);
    double load[6] = {-push * c * c, -push * q * q, -push * c * q};
    rw_wrinkling w;
    assert_ok(rw_stack_wrinkling(ply, 3, &s, 1, load, &w, &err), &err);
    double off = angle - ply[1].angle;
    double G = core.G13 * cos(off) * cos(off) + core.G23 * sin(off) * sin(off);
    double limit = 0.5 * pow(E * core.E3 * G, 1.0 / 3);
    assert_close_rel(w.stress, limit, 1e-6);
    assert_close_rel(w.factor, limit * 2 * t / push, 1e-6);
    assert_close(fabs(sin(w.direction - angle)), 0, 1e-6);
    for (size_t k = 0; k < 3; k++)
      load[k] = -load[k];
    assert_ok(rw_stack_wrinkling(ply, 3, &s, 1, load, &w, &err), &err);
    assert_true(isinf(w.factor) && w.face == 0); /* pulled */
    double bend[6] = {0, 0, 0, push};
    assert_ok(rw_stack_wrinkling(ply, 3, &s, 1, bend, &w, &err), &err);
    assert_int_equal(w.face, -1); /* bent so that the first ply is pushed */
    bend[3] = -push;
    assert_ok(rw_stack_wrinkling(ply, 3, &s, 1, bend, &w, &err), &err);
    assert_int_equal(w.face, 1);
  }
}

/* No place in the stack is beyond its strength at the factor, and the one that is named reaches
 * it; looked for on a grid. */
static void shear_failure_is_where_the_stress_says(void **state)
{
  (void)state;
  stream r = {85};
  rw_error err;
  for (int round = 0; round < ROUNDS / 3; round++) {
    rw_ply ply[MOST];
    size_t n = some_strong_plies(&r, ply);
    for (size_t i = 0; i < n; i++)
      ply[i].material.S23 = ply[i].material.S * between(&r, 0.1, 1);
    rw_stack s = stack_of(ply, n);
    double force[2] = {between(&r, -1, 1), between(&r, -1, 1)}, worst = 0, named = 0;
    rw_first_failure f;
    assert_ok(rw_stack_shear_failure(ply, n, &s, force, &f, &err), &err);
    for (size_t i = 0; i < n; i++) {
      for (int k = -40; k <= 40; k++) {
        double local[2];
        assert_ok(rw_stack_shear_stress(ply, n, &s, i, k / 40.0, force, NULL, local, &err), &err);
        double part = f.factor * fmax(fabs(local[0]) / ply[i].material.S,
                                      fabs(local[1]) / ply[i].material.S23);
        worst = fmax(worst, part);
        if (i == f.ply)
          named = fmax(named, part);
      }
    }
    assert_true(worst <= 1 + 1e-9 && named > 0.998);
  }
}

/* The face pulled by a hit is the inner one, whichever way the stack is listed. */
static void hit_does_not_care_for_the_listing(void **state)
{
  (void)state;
  stream r = {86};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    rw_ply ply[MOST], back[MOST];
    size_t n = some_strong_plies(&r, ply);
    for (size_t i = 0; i < n; i++)
      back[i] = ply[n - 1 - i];
    rw_stack s = stack_of(ply, n), t = stack_of(back, n);
    for (size_t c = 0; c < CRITERIA; c++) {
      rw_hit a, b;
      assert_ok(rw_stack_hit(ply, n, &s, -1, all[c], &a, &err), &err);
      assert_ok(rw_stack_hit(back, n, &t, 1, all[c], &b, &err), &err);
      assert_close_rel(a.along.factor, b.along.factor, 1e-8);
      assert_close_rel(a.across.factor, b.across.factor, 1e-8);
      assert_close_rel(a.both.factor, b.both.factor, 1e-8);
      assert_close_rel(a.energy, b.energy, 1e-8);
      assert_true(a.energy > 0);
    }
  }
}

/* One isotropic sheet, weak in tension: S h^2/6 each way, and the energy of even bending. */
static void hit_on_one_sheet_has_its_closed_form(void **state)
{
  (void)state;
  stream r = {87};
  rw_error err;
  for (int round = 0; round < ROUNDS; round++) {
    double E = between_log(&r, 1e9, 1e11), X = between_log(&r, 1e6, 1e9), nu = 0.3;
    double h = between_log(&r, 1e-3, 1e-1);
    rw_ply ply = {{.density = 1,
                   .E1 = E,
                   .E2 = E,
                   .G12 = E / 2.6,
                   .nu12 = nu,
                   .Xt = X,
                   .Xc = 3 * X,
                   .Yt = X,
                   .Yc = 3 * X,
                   .S = X},
                  h,
                  0};
    rw_stack s = stack_of(&ply, 1);
    rw_hit hit;
    assert_ok(rw_stack_hit(&ply, 1, &s, -1, RW_MAX_STRESS, &hit, &err), &err);
    assert_close_rel(hit.both.factor, X * h * h / 6, 1e-9);
    assert_int_equal(hit.both.face, 1);
    assert_int_equal(hit.along.mode, RW_MODE_TENSION_ALONG);
    assert_int_equal(hit.across.mode, RW_MODE_TENSION_ACROSS);
    double moment = X * h * h / 6;
    assert_close_rel(hit.energy, moment * moment * 12 * (1 - nu) / (E * h * h * h), 1e-9);
    assert_ok(rw_stack_hit(&ply, 1, &s, 1, RW_MAX_STRESS, &hit, &err), &err);
    assert_int_equal(hit.both.face, -1);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(each_ply_reaches_its_limit),
      cmocka_unit_test(first_failure_is_the_least_of_each),
      cmocka_unit_test(no_free_strain_is_none),
      cmocka_unit_test(skins_wrinkle_as_the_formula_says),
      cmocka_unit_test(shear_failure_is_where_the_stress_says),
      cmocka_unit_test(hit_does_not_care_for_the_listing),
      cmocka_unit_test(hit_on_one_sheet_has_its_closed_form),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
