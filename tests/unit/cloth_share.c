/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fibre share and air read back from measurements: round trips and refusals. */
#include "check.h"

#include <math.h>
#include <stdio.h>

/* Invented; near a plain E-glass cloth. */
static rw_cloth glass(void)
{
  return (rw_cloth){.areal_mass = 0.2,
                    .fibre_density = 2540,
                    .weave = RW_PLAIN,
                    .hand = {0.42, 0.04},
                    .bagged = {0.55, 0.04}};
}

static void thickness_gives_the_share_back(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth c = glass();
  for (int i = 1; i <= 70; i++) {
    double v = i / 100.0, t;
    rw_value share;
    assert_ok(rw_cloth_thickness(&c, v, &t, &err), &err);
    rw_value thickness = {t * (1 + 1e-15), 0.05 * t};
    assert_ok(rw_cloth_share_by_thickness(&c, thickness, &share, &err), &err);
    assert_close_rel(share.value, v, 1e-12);
    assert_close_rel(share.sd, 0.05 * v, 1e-12);
  }
}

static void resin_gives_the_share_back(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth c = glass();
  for (int i = 1; i <= 69; i++) {
    rw_value v = {i / 100.0, 0.02}, resin, share;
    assert_ok(rw_cloth_resin(&c, v, 1150, &resin, &err), &err);
    assert_ok(rw_cloth_share_by_resin(&c, resin, 1150, &share, &err), &err);
    assert_close_rel(share.value, v.value, 1e-12);
    assert_close_rel(share.sd, v.sd,
                     1e-12); /* to first order the spreads are each other's inverse */
  }
}

static void impossible_measurements_are_refused(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth c = glass();
  rw_value share = {7, 7};
  const rw_value bad[] = {{0, 0}, {-1e-4, 0}, {NAN, 0}, {1e-4, 0}, {2e-4, -1e-5}};
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
    assert_status(rw_cloth_share_by_thickness(&c, bad[i], &share, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "thickness.sd");
  assert_status(rw_cloth_share_by_thickness(&c, bad[3], &share, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "thickness");
  assert_close_rel(err.low, 0.2 / 2540 / 0.70, 1e-12);
  check_explained(&err, "thickness");
  const rw_value resin = {0.03, 0};
  assert_status(rw_cloth_share_by_resin(&c, resin, 1150, &share, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "resin");
  assert_close_rel(err.low, 0.2 / 2540 * 1150 * 3 / 7, 1e-12);
  assert_status(rw_cloth_share_by_resin(&c, bad[0], 1150, &share, &err), RW_ERR_RANGE, &err);
  assert_status(rw_cloth_share_by_resin(&c, resin, 1.15, &share, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "resin_density");
  assert_status(rw_cloth_share_by_resin(NULL, resin, 1150, &share, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_cloth_share_by_resin(&c, resin, 1150, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_cloth_share_by_thickness(NULL, resin, &share, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_cloth_share_by_thickness(&c, resin, NULL, &err), RW_ERR_ARGUMENT, &err);
  c.areal_mass = -1;
  assert_status(rw_cloth_share_by_thickness(&c, resin, &share, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.function, "rw_cloth_share_by_thickness");
  assert_true(share.value == 7 && share.sd == 7);
}

static void air_is_what_the_weight_lacks(void **state)
{
  (void)state;
  rw_error err;
  double voids = 7, share, density;
  assert_ok(rw_void_share(1800, 1764, &voids, &err), &err);
  assert_close_rel(voids, 0.02, 1e-12);
  assert_ok(rw_void_effect(voids, 0.42, 1800, &share, &density, &err), &err);
  assert_close_rel(share, 0.42 * 0.98, 1e-12);
  assert_close_rel(density, 1764, 1e-12);
  assert_ok(rw_void_share(1800, 1800, &voids, &err), &err);
  assert_true(voids == 0);
  assert_ok(rw_void_effect(0, 0.42, 1800, &share, &density, &err), &err);
  assert_true(share == 0.42 && density == 1800);
}

static void impossible_air_is_refused(void **state)
{
  (void)state;
  rw_error err;
  double voids = 7, share = 7, density = 7;
  assert_status(rw_void_share(1800, 1801, &voids, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "measured");
  check_explained(&err, "measured");
  assert_status(rw_void_share(1.8, 1.7, &voids, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "density");
  assert_status(rw_void_share(1800, NAN, &voids, &err), RW_ERR_RANGE, &err);
  assert_status(rw_void_share(1800, 1700, NULL, &err), RW_ERR_ARGUMENT, &err);
  const double bad[] = {-0.01, 0.51, NAN};
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    assert_status(rw_void_effect(bad[i], 0.4, 1800, &share, &density, &err), RW_ERR_RANGE, &err);
    assert_string_equal(err.argument, "voids");
  }
  assert_status(rw_void_effect(0.02, 42, 1800, &share, &density, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "volume_share");
  assert_status(rw_void_effect(0.02, 0.4, 0, &share, &density, &err), RW_ERR_RANGE, &err);
  assert_status(rw_void_effect(0.02, 0.4, 1800, NULL, &density, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_void_effect(0.02, 0.4, 1800, &share, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_true(voids == 7 && share == 7 && density == 7);
}

static void thickness_and_resin_tell_the_air(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth c = glass();
  rw_porous p;
  const double solid = 0.2 / 2540, resin = 0.12, filled = solid + resin / 1150;
  const double t = filled / 0.97;
  assert_ok(rw_cloth_porous(&c, (rw_value){t, 3e-6}, (rw_value){resin, 0.004}, 1150, &p, &err),
            &err);
  assert_close_rel(p.voids.value, 0.03, 1e-12);
  assert_close_rel(p.volume_share.value, solid / t, 1e-12);
  assert_close_rel(p.density, 0.32 / t, 1e-12);
  assert_close_rel(p.volume_share.sd, solid / t / t * 3e-6, 1e-12);
  assert_close_rel(p.voids.sd, hypot(0.97 / t * 3e-6, 0.004 / 1150 / t), 1e-12);
  /* What the density says, by its own way. */
  double voids, mass_share, full;
  rw_value share;
  assert_ok(rw_cloth_share_by_resin(&c, (rw_value){resin, 0}, 1150, &share, &err), &err);
  assert_ok(rw_fibre_mass_share(share.value, 2540, 1150, &mass_share, &err), &err);
  assert_ok(rw_laminate_density(mass_share, 2540, 1150, &full, &err), &err);
  assert_ok(rw_void_share(full, p.density, &voids, &err), &err);
  assert_close(voids, p.voids.value, 1e-12);
  /* Without air it is what the resin alone says. */
  assert_ok(rw_cloth_porous(&c, (rw_value){filled, 0}, (rw_value){resin, 0}, 1150, &p, &err),
            &err);
  assert_close(p.voids.value, 0, 1e-12);
  assert_close_rel(p.volume_share.value, share.value, 1e-12);
}

static void impossible_pairs_are_refused(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth c = glass();
  rw_porous p = {.density = 7};
  const rw_value resin = {0.12, 0}, t = {2e-4, 0};
  const double filled = 0.2 / 2540 + 0.12 / 1150;
  assert_status(rw_cloth_porous(&c, (rw_value){1.8e-4, 0}, resin, 1150, &p, &err), RW_ERR_RANGE,
                &err);
  assert_string_equal(err.argument, "thickness");
  assert_close_rel(err.low, filled, 1e-12);
  check_explained(&err, "thickness");
  assert_status(rw_cloth_porous(&c, (rw_value){4e-4, 0}, resin, 1150, &p, &err), RW_ERR_RANGE,
                &err);
  assert_string_equal(err.argument, "thickness");
  assert_close_rel(err.high, 2 * filled, 1e-12);
  /* Little resin: the weave still keeps its own thickness. */
  assert_status(rw_cloth_porous(&c, (rw_value){1e-4, 0}, (rw_value){0.01, 0}, 1150, &p, &err),
                RW_ERR_RANGE, &err);
  assert_close_rel(err.low, 0.2 / 2540 / 0.70, 1e-12);
  char pressed[sizeof err.hint];
  snprintf(pressed, sizeof pressed, "%s", err.hint); /* not that fibre and resin fill more */
  rw_value share;
  assert_status(rw_cloth_share_by_thickness(&c, (rw_value){1e-4, 0}, &share, &err), RW_ERR_RANGE,
                &err);
  assert_string_equal(err.hint, pressed);
  /* The openest weave: bounds stay in order. */
  rw_cloth mat = c;
  mat.weave = RW_MAT;
  mat.hand = mat.bagged = (rw_value){0.2, 0};
  for (int k = 0; k < 2; k++) {
    rw_value thick = {k == 0 ? 1e-5 : 1e-3, 0};
    assert_status(rw_cloth_porous(&mat, thick, (rw_value){1e-6, 0}, 1150, &p, &err), RW_ERR_RANGE,
                  &err);
    assert_string_equal(err.argument, "thickness");
    assert_true(err.low <= err.high);
  }
  assert_status(rw_cloth_porous(&c, t, (rw_value){0, 0}, 1150, &p, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "resin");
  assert_status(rw_cloth_porous(&c, (rw_value){NAN, 0}, resin, 1150, &p, &err), RW_ERR_RANGE,
                &err);
  assert_string_equal(err.argument, "thickness");
  assert_status(rw_cloth_porous(&c, t, resin, 1.15, &p, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "resin_density");
  assert_status(rw_cloth_porous(NULL, t, resin, 1150, &p, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_cloth_porous(&c, t, resin, 1150, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_true(p.density == 7);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(thickness_gives_the_share_back),
      cmocka_unit_test(resin_gives_the_share_back),
      cmocka_unit_test(impossible_measurements_are_refused),
      cmocka_unit_test(air_is_what_the_weight_lacks),
      cmocka_unit_test(thickness_and_resin_tell_the_air),
      cmocka_unit_test(impossible_pairs_are_refused),
      cmocka_unit_test(impossible_air_is_refused),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
