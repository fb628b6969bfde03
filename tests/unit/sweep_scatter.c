/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What more or less resin makes of a ply, against the model of a ply by its fibre share. */
#include "sweeps.h"

#include "../../lib/laminate/src/sweep_stability.c"

static const rw_fibre glass = {2550, 72e9, 72e9, 30e9, 0.2, 2000e6, 0};
static const rw_matrix epoxy = {1150, 3e9, 0.35, 60e6};

/* 0.3 kg/m2 of fibre at a volume share. */
static rw_sweep_ply laid(double share)
{
  rw_sweep_ply p = {.cost = 7};
  rw_error err;
  assert_ok(rw_lamina_unidirectional(&glass, &epoxy, share, &p.material, &err), &err);
  p.thickness = 0.3 / (glass.density * share);
  p.resin = p.thickness * (1 - share) * epoxy.density;
  return p;
}

static void as_another_fibre_share(void **state)
{
  (void)state;
  for (int i = 0; i <= 20; i++) {
    double other = 0.3 + 0.02 * i;
    rw_sweep_ply p = laid(0.5), q = laid(other);
    soak(&p, &epoxy, q.resin / p.resin);
    assert_close_rel(p.thickness, q.thickness, 1e-12);
    assert_close_rel(p.resin, q.resin, 1e-12);
    assert_close_rel(p.areal_mass, q.thickness * q.material.density, 1e-12);
    assert_close_rel(p.areal_mass - p.resin, 0.3, 1e-12);
    assert_close_rel(p.material.E1, q.material.E1, 1e-12);
    if (other < 0.5) /* a film beside the ply is a bound from above */
      assert_true(p.material.E2 > q.material.E2 && p.material.G12 > q.material.G12);
    assert_close_rel(p.material.Yc * p.thickness, laid(0.5).material.Yc * laid(0.5).thickness,
                     1e-12);
    assert_true(p.cost == 7);
  }
}

/* Mean 1 and the sd asked for, by the draws themselves. */
static void factors(void **state)
{
  (void)state;
  enum { N = 1 << 14 };
  rw_draws *d = NULL;
  rw_error err;
  assert_ok(rw_draws_create(1, 9, &d, &err), &err);
  double sum = 0, square = 0, sd = 0.3;
  for (int i = 0; i < N; i++) {
    double z;
    rw_draws_next(d, &z);
    double f = factor_of(sd, z);
    assert_true(f > 0);
    sum += f / N;
    square += f * f / N;
  }
  rw_draws_destroy(d);
  assert_close(sum, 1, 1e-3);
  assert_close(sqrt(square - sum * sum), sd, 2e-3);
  assert_true(factor_of(0, 2) == 1);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(as_another_fibre_share),
      cmocka_unit_test(factors),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
