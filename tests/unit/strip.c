/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strips on supports: textbook cases, refusals by name, warnings. */
#include "check.h"

#include <math.h>
#include <string.h>

static rw_stack lopsided(void)
{
  rw_error err;
  rw_lamina glass = {.density = 1700, .E1 = 18e9, .E2 = 18e9, .G12 = 3e9, .nu12 = 0.13};
  rw_lamina wood = {.density = 350, .E1 = 8e9, .E2 = 0.5e9, .G12 = 0.6e9, .nu12 = 0.3};
  rw_ply ply[] = {{glass, 0.25e-3, 0}, {wood, 6e-3, 0.2}};
  rw_stack s;
  assert_ok(rw_stack_make(ply, 2, &s, &err), &err);
  return s;
}

static rw_strip_result bend(const rw_stack *s, rw_strip strip, rw_strip_load load)
{
  rw_error err = {.code = RW_OK};
  rw_strip_result r;
  assert_ok(rw_strip_bend(s, &strip, &load, 1, &r, &err), &err);
  return r;
}

static void textbook_cases(void **state)
{
  (void)state;
  rw_stack s = lopsided();
  double L = 0.5, EI = s.EIx, S = 2e6, q = 30, P = 12;
  rw_strip_load even = {.pressure = q}, middle = {.force = P, .x = L / 2};
  rw_strip_load tip = {.force = P, .x = L};
  for (int k = 0; k < 2; k++) {
    double shear = k == 0 ? 0 : S, soft = k == 0 ? 0 : 1 / S;
    rw_strip_result r = bend(&s, (rw_strip){L, RW_STRIP_SUPPORTED, 0, shear}, even);
    assert_close_rel(r.deflection, 5 * q * pow(L, 4) / (384 * EI) + q * L * L / 8 * soft, 1e-12);
    assert_close(r.at, L / 2, 1e-6);
    assert_close_rel(r.moment, q * L * L / 8, 1e-12);
    assert_close_rel(r.reaction[0], q * L / 2, 1e-12);
    assert_close_rel(r.shear_share, q * L * L / 8 * soft / r.deflection, 1e-9);
    r = bend(&s, (rw_strip){L, RW_STRIP_SUPPORTED, 0, shear}, middle);
    assert_close_rel(r.deflection, P * pow(L, 3) / (48 * EI) + P * L / 4 * soft, 1e-12);
    assert_close_rel(r.moment, P * L / 4, 1e-9);
    r = bend(&s, (rw_strip){L, RW_STRIP_CLAMPED, 0, shear}, even);
    assert_close_rel(r.deflection, q * pow(L, 4) / (384 * EI) + q * L * L / 8 * soft, 1e-12);
    assert_close_rel(r.moment, -q * L * L / 12, 1e-12);
    r = bend(&s, (rw_strip){L, RW_STRIP_CLAMPED, 0, shear}, middle);
    assert_close_rel(r.deflection, P * pow(L, 3) / (192 * EI) + P * L / 4 * soft, 1e-12);
    assert_close_rel(fabs(r.moment), P * L / 8, 1e-9);
    r = bend(&s, (rw_strip){L, RW_STRIP_CANTILEVER, 0, shear}, tip);
    assert_close_rel(r.deflection, P * pow(L, 3) / (3 * EI) + P * L * soft, 1e-12);
    assert_close_rel(r.moment, -P * L, 1e-12);
    assert_close(r.moment_at, 0, 1e-12);
    assert_close(r.reaction[1], 0, 1e-12);
    r = bend(&s, (rw_strip){L, RW_STRIP_CANTILEVER, 0, shear}, even);
    assert_close_rel(r.deflection, q * pow(L, 4) / (8 * EI) + q * L * L / 2 * soft, 1e-12);
  }
}

/* The narrow resting strip is the one that was there before, to the bit but for rounding. */
static void agrees_with_rw_stack_strip(void **state)
{
  (void)state;
  rw_stack s = lopsided();
  rw_error err;
  double w;
  assert_ok(rw_stack_strip(&s, 0.7, -25, &w, &err), &err);
  rw_strip_result r = bend(&s, (rw_strip){.span = 0.7}, (rw_strip_load){.force = -25, .x = 0.35});
  assert_close_rel(r.deflection, w, 1e-14);
  assert_true(r.moment < 0);
}

static void strains_follow_the_moment(void **state)
{
  (void)state;
  rw_stack s = lopsided();
  rw_strip_load load = {.pressure = 20};
  rw_strip_result narrow = bend(&s, (rw_strip){.span = 0.5}, load);
  assert_close_rel(narrow.strain[3], narrow.moment / s.EIx, 1e-12);
  assert_close(narrow.load[4], 0, 0);
  rw_strip_result wide = bend(&s, (rw_strip){.span = 0.5, .wide = 1}, load);
  assert_close(wide.strain[4], 0, 1e-9 * wide.strain[3]);
  assert_close(wide.strain[5], 0, 1e-9 * wide.strain[3]);
  assert_true(wide.load[4] > 0 && wide.deflection < narrow.deflection);
  assert_close_rel(wide.surface_strain, wide.strain[0] + 3.125e-3 * wide.strain[3], 1e-12);
}

static void patches(void **state)
{
  (void)state;
  rw_stack s = lopsided();
  /* Two halves make the whole; a short patch is nearly a line. */
  rw_strip clamped = {.span = 0.6, .ends = RW_STRIP_CLAMPED, .shear = 1e6};
  rw_strip_load halves[] = {{.force = 9, .x = 0.15, .along = 0.3},
                            {.force = 9, .x = 0.45, .along = 0.3}};
  rw_error err;
  rw_strip_result both;
  assert_ok(rw_strip_bend(&s, &clamped, halves, 2, &both, &err), &err);
  rw_strip_result even = bend(&s, clamped, (rw_strip_load){.pressure = 30});
  assert_close_rel(both.deflection, even.deflection, 1e-12);
  rw_strip_result line = bend(&s, clamped, (rw_strip_load){.force = 9, .x = 0.2});
  rw_strip_result shortest =
      bend(&s, clamped, (rw_strip_load){.force = 9, .x = 0.2, .along = 1e-4});
  assert_close_rel(line.deflection, shortest.deflection, 1e-6);
  /* Reciprocity. */
  rw_strip_load here = {.force = 1, .x = 0.1}, there = {.force = 1, .x = 0.43};
  double u, v, moment;
  assert_ok(rw_strip_at(&s, &clamped, &here, 1, 0.43, &u, NULL, &err), &err);
  assert_ok(rw_strip_at(&s, &clamped, &there, 1, 0.1, &v, &moment, &err), &err);
  assert_close_rel(u, v, 1e-12);
  assert_ok(rw_strip_at(&s, &clamped, &here, 1, 0.6, &u, NULL, &err), &err);
  assert_close(u, 0, 1e-15);
}

static void refused(rw_stack s, rw_strip strip, rw_strip_load load, rw_status wanted,
                    const char *argument)
{
  rw_error err = {.code = RW_OK};
  rw_strip_result r, before;
  memset(&r, 7, sizeof r);
  before = r;
  assert_status(rw_strip_bend(&s, &strip, &load, 1, &r, &err), wanted, &err);
  assert_string_equal(err.argument, argument);
  assert_string_equal(err.function, "rw_strip_bend");
  assert_memory_equal(&r, &before, sizeof r);
  assert_status(rw_strip_bend(&s, &strip, &load, 1, &r, NULL), wanted, NULL);
}

static void bad_input(void **state)
{
  (void)state;
  rw_stack s = lopsided();
  rw_strip strip = {.span = 0.5};
  rw_strip_load load = {.pressure = 1};
  refused((rw_stack){.EIx = 0}, strip, load, RW_ERR_RANGE, "s.EIx");
  refused(s, (rw_strip){.span = 0}, load, RW_ERR_RANGE, "span");
  refused(s, (rw_strip){.span = 0.5, .shear = -1}, load, RW_ERR_RANGE, "shear");
  refused(s, (rw_strip){.span = 0.5, .ends = (rw_strip_ends)5}, load, RW_ERR_ARGUMENT, "ends");
  refused(s, strip, (rw_strip_load){.x = 0.1}, RW_ERR_ARGUMENT, "load");
  refused(s, strip, (rw_strip_load){.pressure = NAN}, RW_ERR_RANGE, "load[1].pressure");
  refused(s, strip, (rw_strip_load){.force = INFINITY}, RW_ERR_RANGE, "load[1].force");
  refused(s, strip, (rw_strip_load){.force = 1, .x = 0.6}, RW_ERR_RANGE, "load[1].x");
  refused(s, strip, (rw_strip_load){.force = 1, .x = 0.05, .along = 0.2}, RW_ERR_RANGE,
          "load[1].x");
  refused(s, strip, (rw_strip_load){.force = 1, .x = 0.25, .along = -0.2}, RW_ERR_RANGE,
          "load[1].along");
  rw_error err;
  rw_strip_result r;
  double w;
  assert_status(rw_strip_bend(&s, &strip, &load, 0, &r, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "loads");
  assert_status(rw_strip_bend(NULL, &strip, &load, 1, &r, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_strip_bend(&s, &strip, &load, 1, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_strip_at(&s, &strip, &load, 1, 0.6, &w, NULL, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "x");
  assert_status(rw_strip_at(&s, &strip, &load, 1, 0.1, NULL, NULL, &err), RW_ERR_ARGUMENT, &err);
}

/* Exactly: no rounding of sums shows as a deflection of a support. */
static void supports_stay(void **state)
{
  (void)state;
  rw_error err;
  rw_stack s = lopsided();
  const rw_strip_load load = {.pressure = 37, .force = 11, .x = 0.17, .along = 0.05};
  const rw_strip_ends ends[] = {RW_STRIP_SUPPORTED, RW_STRIP_CLAMPED, RW_STRIP_CANTILEVER};
  for (size_t i = 0; i < 3; i++) {
    rw_strip strip = {.span = 0.53, .ends = ends[i], .shear = 2e5};
    double first, second;
    assert_ok(rw_strip_at(&s, &strip, &load, 1, 0, &first, NULL, &err), &err);
    assert_ok(rw_strip_at(&s, &strip, &load, 1, 0.53, &second, NULL, &err), &err);
    assert_true(first == 0);
    assert_true(ends[i] == RW_STRIP_CANTILEVER ? second > 1e-4 : second == 0);
  }
}

static void warned(rw_strip strip, rw_strip_load load, const char *argument)
{
  rw_stack s = lopsided();
  rw_error err = {.code = RW_OK};
  rw_strip_result r;
  assert_status(rw_strip_bend(&s, &strip, &load, 1, &r, &err), RW_OUTSIDE_TESTED, &err);
  assert_string_equal(err.argument, argument);
  assert_true(isfinite(r.deflection));
}

static void warnings(void **state)
{
  (void)state;
  rw_strip_load load = {.pressure = 10};
  warned((rw_strip){.span = 0.12}, load, "shear");
  warned((rw_strip){.span = 0.06, .ends = RW_STRIP_CANTILEVER}, load, "shear");
  warned((rw_strip){.span = 0.3, .shear = 2e4}, load, "shear");
  warned((rw_strip){.span = 0.5}, (rw_strip_load){.pressure = 2e4}, "deflection");
  warned((rw_strip){.span = 0.5, .ends = RW_STRIP_CLAMPED}, (rw_strip_load){.pressure = 4e3},
         "deflection");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(textbook_cases),
      cmocka_unit_test(agrees_with_rw_stack_strip),
      cmocka_unit_test(strains_follow_the_moment),
      cmocka_unit_test(patches),
      cmocka_unit_test(bad_input),
      cmocka_unit_test(supports_stay),
      cmocka_unit_test(warnings),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
