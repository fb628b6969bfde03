/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wood's ways to give way, and the refusals of the strength of stacks. */
#include "check.h"

#include <math.h>

static const double quarter_turn = 3.14159265358979323846 / 2;

static rw_stack stack_of(const rw_ply *ply, size_t n)
{
  rw_error err;
  rw_stack s;
  assert_ok(rw_stack_make(ply, n, &s, &err), &err);
  return s;
}

static rw_lamina cedar(void)
{
  rw_error err;
  rw_lamina wood;
  assert_ok(rw_lamina_wood("western-redcedar", &wood, NULL, &err), &err);
  return wood;
}

/* Wood is crushed before it tears along the grain, and torn before it is crushed across it. */
static void wood_gives_way_in_its_own_ways(void **state)
{
  (void)state;
  rw_error err;
  rw_ply along = {cedar(), 6e-3, 0}, across = {cedar(), 6e-3, quarter_turn};
  rw_stack s = stack_of(&along, 1), t = stack_of(&across, 1);
  const double bend[6] = {0, 0, 0, 1};
  const rw_criterion all[] = {RW_MAX_STRESS, RW_TSAI_WU, RW_MAX_STRAIN, RW_TSAI_HILL};
  for (size_t c = 0; c < 4; c++) {
    rw_first_failure f;
    assert_ok(rw_stack_first_failure(&along, 1, &s, bend, all[c], &f, &err), &err);
    assert_int_equal(f.mode, RW_MODE_CRUSH_ALONG);
    assert_int_equal(f.face, -1);
    assert_close_rel(f.factor, along.material.Xc * 36e-6 / 6, 1e-9);
    assert_ok(rw_stack_first_failure(&across, 1, &t, bend, all[c], &f, &err), &err);
    assert_int_equal(f.mode, RW_MODE_TENSION_ACROSS);
    assert_int_equal(f.face, 1);
    assert_close_rel(f.factor, along.material.Yt * 36e-6 / 6, 1e-9);
  }
}

/* The middle veneer of plywood rolls: its cross-grain strength counts, not that along the grain.
 */
static void plywood_shears_by_rolling(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina wood = cedar();
  rw_ply ply[3];
  assert_ok(rw_plywood_make(&wood, 6e-3, 0, 3, 0, ply, &err), &err);
  rw_stack s = stack_of(ply, 3);
  const double force[2] = {1, 0};
  double middle[2];
  rw_first_failure f, solid;
  assert_ok(rw_stack_shear_failure(ply, 3, &s, force, &f, &err), &err);
  assert_int_equal(f.ply, 1);
  assert_int_equal(f.mode, RW_MODE_SHEAR_THROUGH);
  assert_int_equal(f.face, 0);
  assert_ok(rw_stack_shear_stress(ply, 3, &s, 1, 0, force, middle, NULL, &err), &err);
  assert_close_rel(f.factor, wood.S23 / middle[0], 1e-9);
  rw_ply plank = {wood, 6e-3, 0};
  s = stack_of(&plank, 1);
  assert_ok(rw_stack_shear_failure(&plank, 1, &s, force, &solid, &err), &err);
  assert_close_rel(solid.factor, wood.S * 6e-3 / 1.5, 1e-9);
}

static void locked_in_stress_alone_may_break_it(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina wood = cedar();
  rw_ply ply[3];
  assert_ok(rw_plywood_make(&wood, 6e-3, 0, 3, 0, ply, &err), &err);
  rw_stack s = stack_of(ply, 3);
  /* dried from wet: each veneer shrinks across and its neighbours hold it */
  double free[9];
  for (size_t i = 0; i < 3; i++)
    assert_ok(
        rw_lamina_wood_swelling("western-redcedar", RW_FLAT_SAWN, 0.3, 0.06, free + 3 * i, &err),
        &err);
  const double pull[6] = {1};
  rw_first_failure each[3];
  const rw_criterion all[] = {RW_MAX_STRESS, RW_TSAI_WU, RW_MAX_STRAIN, RW_TSAI_HILL};
  for (size_t c = 0; c < 4; c++) {
    assert_ok(rw_stack_failures(ply, 3, &s, pull, free, all[c], each, &err), &err);
    assert_true(each[1].factor == 0);
    assert_int_equal(each[1].mode, RW_MODE_TENSION_ACROSS);
  }
  ply[1].material.Xt = 0;
  assert_ok(rw_stack_failures(ply, 3, &s, pull, free, RW_MAX_STRESS, each, &err), &err);
  assert_true(isinf(each[1].factor));
  assert_int_equal(each[1].mode, RW_MODE_NONE);
}

/* Tsai-Hill's surface is open where it is stronger across than twice along. */
static void hill_needs_strength_along(void **state)
{
  (void)state;
  rw_error err;
  rw_ply ply = {cedar(), 6e-3, 0};
  ply.material.Yc = 1.99 * ply.material.Xc;
  rw_stack s = stack_of(&ply, 1);
  const double push[6] = {-1, -1};
  rw_first_failure f = {.ply = 7};
  rw_hit hit;
  assert_ok(rw_stack_first_failure(&ply, 1, &s, push, RW_TSAI_HILL, &f, &err), &err);
  f.ply = 7;
  ply.material.Yc = 2.01 * ply.material.Xc;
  assert_status(rw_stack_first_failure(&ply, 1, &s, push, RW_TSAI_HILL, &f, &err), RW_ERR_RANGE,
                &err);
  assert_string_equal(err.argument, "ply[1].Yc");
  assert_close_rel(err.high, 2 * ply.material.Xc, 1e-12);
  assert_status(rw_stack_hit(&ply, 1, &s, -1, RW_TSAI_HILL, &hit, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.function, "rw_stack_hit");
  assert_int_equal(f.ply, 7);
  assert_ok(rw_stack_first_failure(&ply, 1, &s, push, RW_TSAI_WU, &f, &err), &err);
}

static void failures_are_checked(void **state)
{
  (void)state;
  rw_error err;
  rw_ply ply = {cedar(), 6e-3, 0};
  rw_stack s = stack_of(&ply, 1);
  const double pull[6] = {1}, none[6] = {0}, wide[3] = {0, 3, 0};
  rw_first_failure each = {.ply = 7};
  assert_status(rw_stack_failures(&ply, 1, &s, none, NULL, RW_TSAI_WU, &each, &err),
                RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "load");
  assert_status(rw_stack_failures(&ply, 1, &s, pull, wide, RW_TSAI_WU, &each, &err), RW_ERR_RANGE,
                &err);
  assert_string_equal(err.argument, "free[1].e2");
  assert_string_equal(err.function, "rw_stack_failures");
  assert_status(rw_stack_failures(&ply, 1, &s, pull, NULL, (rw_criterion)4, &each, &err),
                RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "criterion");
  assert_status(rw_stack_failures(&ply, 0, &s, pull, NULL, RW_TSAI_WU, &each, &err),
                RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_failures(&ply, 1, NULL, pull, NULL, RW_TSAI_WU, &each, &err),
                RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_failures(&ply, 1, &s, NULL, NULL, RW_TSAI_WU, &each, &err),
                RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_failures(&ply, 1, &s, pull, NULL, RW_TSAI_WU, NULL, &err),
                RW_ERR_ARGUMENT, &err);
  assert_true(each.ply == 7);
}

static void wrinkling_is_checked(void **state)
{
  (void)state;
  rw_error err;
  rw_ply ply[] = {{cedar(), 1e-3, 0}, {cedar(), 6e-3, 0}};
  rw_stack s = stack_of(ply, 2);
  const double push[6] = {-1}, none[6] = {0}, odd[6] = {NAN};
  rw_wrinkling w = {.face = 7};
  assert_status(rw_stack_wrinkling(ply, 2, &s, 2, push, &w, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "core");
  assert_status(rw_stack_wrinkling(ply, 1, &s, 0, push, &w, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "skin");
  assert_status(rw_stack_wrinkling(ply, 2, &s, 1, none, &w, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "load");
  assert_status(rw_stack_wrinkling(ply, 2, &s, 1, odd, &w, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "load Nx");
  assert_status(rw_stack_wrinkling(ply, 0, &s, 1, push, &w, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_wrinkling(ply, 2, NULL, 1, push, &w, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_wrinkling(ply, 2, &s, 1, NULL, &w, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_wrinkling(ply, 2, &s, 1, push, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_true(w.face == 7);
  assert_ok(rw_stack_wrinkling(ply, 2, &s, 1, push, &w, &err), &err);
  assert_int_equal(w.face, -1); /* the only skin */
}

/* A skin of straight fibres counts with its modulus in the direction it is pushed. */
static void skin_counts_along_the_push(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina straight = {.density = 1600, .E1 = 40e9, .E2 = 5e9, .G12 = 4e9, .nu12 = 0.25};
  rw_lamina core = {
      .density = 100, .E1 = 1e3, .E2 = 1e3, .G12 = 1e3, .E3 = 80e6, .G13 = 30e6, .G23 = 30e6};
  for (int turn = 0; turn < 4; turn++) {
    double angle = 0.1 + 0.35 * turn, c = cos(angle), q = sin(angle);
    rw_ply ply[] = {{straight, 1e-3, angle}, {core, 2e-2, 0}, {straight, 1e-3, angle}};
    rw_stack s = stack_of(ply, 3);
    const double along[6] = {-c * c, -q * q, -c * q}, across[6] = {-q * q, -c * c, c * q};
    rw_wrinkling w;
    assert_ok(rw_stack_wrinkling(ply, 3, &s, 1, along, &w, &err), &err);
    assert_close_rel(w.stress, 0.5 * cbrt(40e9 * 80e6 * 30e6), 1e-5);
    assert_ok(rw_stack_wrinkling(ply, 3, &s, 1, across, &w, &err), &err);
    assert_close_rel(w.stress, 0.5 * cbrt(5e9 * 80e6 * 30e6), 1e-5);
  }
}

static void shear_failure_is_checked(void **state)
{
  (void)state;
  rw_error err;
  rw_ply ply = {cedar(), 6e-3, 0};
  rw_stack s = stack_of(&ply, 1);
  const double force[2] = {0, 1}, none[2] = {0, 0}, odd[2] = {HUGE_VAL, 0};
  rw_first_failure f = {.ply = 7};
  assert_status(rw_stack_shear_failure(&ply, 1, &s, none, &f, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "force");
  assert_status(rw_stack_shear_failure(&ply, 1, &s, odd, &f, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "force Qx");
  assert_string_equal(err.function, "rw_stack_shear_failure");
  assert_status(rw_stack_shear_failure(&ply, 0, &s, force, &f, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_shear_failure(&ply, 1, NULL, force, &f, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_shear_failure(&ply, 1, &s, NULL, &f, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_shear_failure(&ply, 1, &s, force, NULL, &err), RW_ERR_ARGUMENT, &err);
  ply.material.S = -1;
  assert_status(rw_stack_shear_failure(&ply, 1, &s, force, &f, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "ply[1].S");
  ply.material.S = 0;
  assert_status(rw_stack_shear_failure(&ply, 1, &s, force, &f, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "shear strength");
  assert_true(f.ply == 7);
}

static void hit_is_checked(void **state)
{
  (void)state;
  rw_error err;
  rw_ply ply = {cedar(), 6e-3, 0};
  rw_stack s = stack_of(&ply, 1);
  rw_hit hit = {.energy = 7};
  assert_status(rw_stack_hit(&ply, 1, &s, 0, RW_TSAI_WU, &hit, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "outer");
  check_explained(&err, "face");
  assert_status(rw_stack_hit(&ply, 1, &s, 1, (rw_criterion)-1, &hit, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "criterion");
  assert_status(rw_stack_hit(&ply, 0, &s, 1, RW_TSAI_WU, &hit, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_hit(&ply, 1, NULL, 1, RW_TSAI_WU, &hit, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_hit(&ply, 1, &s, 1, RW_TSAI_WU, NULL, &err), RW_ERR_ARGUMENT, &err);
  ply.material.Xt = 0;
  assert_status(rw_stack_hit(&ply, 1, &s, 1, RW_TSAI_WU, &hit, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "strength");
  assert_true(hit.energy == 7);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(wood_gives_way_in_its_own_ways),
      cmocka_unit_test(plywood_shears_by_rolling),
      cmocka_unit_test(locked_in_stress_alone_may_break_it),
      cmocka_unit_test(hill_needs_strength_along),
      cmocka_unit_test(failures_are_checked),
      cmocka_unit_test(wrinkling_is_checked),
      cmocka_unit_test(skin_counts_along_the_push),
      cmocka_unit_test(shear_failure_is_checked),
      cmocka_unit_test(hit_is_checked),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
