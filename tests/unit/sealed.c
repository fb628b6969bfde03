/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Planks sealed on one face: curls with a closed form, intervals, refusals by name. */
#include "check.h"

#include <math.h>
#include <string.h>

static const rw_lamina even = {
    .density = 500, .E1 = 6e9, .E2 = 6e9, .G12 = 6e9 / 2.6, .nu12 = 0.3};
static const rw_lamina cedar = {.density = 350, .E1 = 8e9, .E2 = 0.5e9, .G12 = 0.6e9, .nu12 = 0.3};
static const rw_lamina glass = {.density = 1700, .E1 = 18e9, .E2 = 18e9, .G12 = 3e9, .nu12 = 0.13};

static rw_damp inside_wetter(void)
{
  return (rw_damp){.open_face = 1, .open = {0.05, 0.01}, .profile = 1, .girth = 0.3, .level = 0.9};
}

static rw_damp_result curl(const rw_ply *ply, const rw_swelling *w, size_t n, rw_damp d)
{
  rw_error err = {.code = RW_OK};
  rw_damp_result r;
  assert_ok(rw_stack_damp(ply, w, n, &d, &r, &err), &err);
  return r;
}

/* A plank alone bends freely after a straight gradient, and after a parabola just as much; after
 * s^3 it is 0.9 of that. */
static void one_plank(void **state)
{
  (void)state;
  rw_ply ply = {cedar, 10e-3, 0};
  rw_swelling w = {{0, 0}, {0.25, 0}};
  rw_damp d = inside_wetter();
  double whole = 0.25 * 0.05 / 10e-3;
  const double share[] = {1, 1, 0.9};
  for (size_t p = 1; p <= 3; p++) {
    d.profile = (double)p;
    rw_damp_result r = curl(&ply, &w, 1, (rw_damp)d);
    assert_close_rel(r.curvature[1].value, share[p - 1] * whole, 1e-12);
    assert_close(r.curvature[0].value, 0, 1e-12);
    assert_close_rel(r.strain[1], 0.25 * 0.05 / (double)(p + 1), 1e-12);
    assert_close_rel(r.bow, r.curvature[1].value * 0.3 * 0.3 / 8, 1e-12);
  }
  /* The other face, and drying: the same with the other sign. */
  d.profile = 1;
  d.open_face = -1;
  assert_close_rel(curl(&ply, &w, 1, d).curvature[1].value, -whole, 1e-12);
  d.open_face = 1;
  d.open.value = -0.05;
  assert_close_rel(curl(&ply, &w, 1, d).curvature[1].value, -whole, 1e-12);
  /* Alike on both faces: no curl. */
  d.sealed.value = -0.05;
  assert_close(curl(&ply, &w, 1, d).curvature[1].value, 0, 1e-12);
}

/* Two layers, one swells evenly: the formula of a bimetal strip. */
static void two_layers(void **state)
{
  (void)state;
  rw_lamina stiff = even;
  stiff.E1 = stiff.E2 = 18e9;
  stiff.G12 = 18e9 / 2.6;
  rw_ply ply[] = {{stiff, 2e-3, 0}, {even, 6e-3, 0}};
  rw_swelling w[] = {{{0, 0}, {0, 0}}, {{0.2, 0}, {0.2, 0}}};
  rw_damp d = inside_wetter();
  d.sealed.value = 0.05;
  d.girth = 0.1;
  rw_damp_result r = curl(ply, w, 2, d);
  double m = 2.0 / 6, k = 18.0 / 6, h = 8e-3, e = 0.2 * 0.05;
  double bimetal = 6 * e * (1 + m) * (1 + m) /
                   (h * (3 * (1 + m) * (1 + m) + (1 + m * k) * (m * m + 1 / (m * k))));
  assert_close_rel(r.curvature[0].value, bimetal, 1e-10);
  assert_close_rel(r.curvature[1].value, bimetal, 1e-10);
}

/* Wood cut into many sublayers, each with its own even swelling, by the free strains of a stack.
 */
static void against_sublayers(void **state)
{
  (void)state;
  enum { SLICES = 100 };
  rw_ply coarse[] = {{glass, 0.3e-3, 0}, {cedar, 6e-3, 0.4}};
  rw_swelling w[] = {{{0, 0}, {0, 0}}, {{0.01, 0}, {0.25, 0}}};
  rw_damp d = inside_wetter();
  d.profile = 2.5;
  d.sealed.value = 0.01;
  rw_damp_result r = curl(coarse, w, 2, d);
  rw_ply fine[SLICES + 1] = {coarse[0]};
  double free[3 * (SLICES + 1)] = {0}, load[6], strain[6];
  for (size_t i = 0; i < SLICES; i++) {
    fine[i + 1] = (rw_ply){cedar, 6e-3 / SLICES, 0.4};
    double s = pow(((double)i + 0.5) / SLICES, 2.5), m = 0.01 + (0.05 - 0.01) * s;
    free[3 * (i + 1)] = 0.01 * m;
    free[3 * (i + 1) + 1] = 0.25 * m;
  }
  rw_error err;
  rw_stack s;
  assert_ok(rw_stack_make(fine, SLICES + 1, &s, &err), &err);
  assert_ok(rw_stack_free_load(fine, SLICES + 1, free, load, &err), &err);
  rw_stack_strain(&s, load, strain);
  for (size_t k = 0; k < 3; k++)
    assert_close(r.curvature[k].value, strain[k + 3], 2e-4 * fabs(strain[4]));
}

static void intervals(void **state)
{
  (void)state;
  rw_ply ply = {cedar, 10e-3, 0};
  rw_swelling w = {{0, 0}, {0.25, 0.05}};
  rw_damp d = inside_wetter();
  rw_damp_result r = curl(&ply, &w, 1, d);
  /* A product of two: relative spreads of 0.2 each. */
  assert_close_rel(r.curvature[1].sd, r.curvature[1].value * sqrt(0.08), 1e-12);
  assert_close_rel(r.high[1] - r.low[1], 2 * 1.6448536269514722 * r.curvature[1].sd, 1e-9);
  assert_true(r.low[1] < r.curvature[1].value && r.bow_low < r.bow && r.bow < r.bow_high);
  w.across.sd = d.open.sd = 0;
  r = curl(&ply, &w, 1, d);
  assert_close(r.curvature[1].sd, 0, 0);
  /* Along and across are wrong apart: at 45 degrees each has half of the curl. */
  ply.angle = 3.14159265358979323846 / 4;
  rw_swelling two = {{0.1, 0.03}, {0.25, 0.04}};
  r = curl(&ply, &two, 1, d);
  assert_close_rel(r.curvature[1].value, 0.05 * (0.1 + 0.25) / 2 / 10e-3, 1e-9);
  assert_close_rel(r.curvature[1].sd, 0.05 * 0.05 / 2 / 10e-3, 1e-9);
  ply.angle = 0;
  /* Both faces uncertain. */
  d.open.sd = 0.003;
  d.sealed.sd = 0.004;
  r = curl(&ply, &w, 1, d);
  assert_close_rel(r.curvature[1].sd, 0.25 / 10e-3 * 0.005, 1e-12);
}

static void hull_opens(void **state)
{
  (void)state;
  /* Glass outside (first), wood open inside: it swells inside, so the section opens. */
  rw_ply ply[] = {{glass, 0.25e-3, 0}, {cedar, 6e-3, 0}};
  rw_swelling w[] = {{{0, 0}, {0, 0}}, {{0, 0}, {0.25, 0.04}}};
  rw_damp d = inside_wetter();
  d.open.value = 0.02;
  d.open.sd = 0.004;
  d.girth = 1;
  d.radius = 0.4;
  d.bulge = -1;
  rw_error err = {.code = RW_OK};
  rw_damp_result r;
  assert_true(rw_stack_damp(ply, w, 2, &d, &r, &err) >= 0);
  assert_true(r.curvature[1].value > 0 && r.spread > 0);
  double now = -1 / 0.4 + r.curvature[1].value;
  assert_close_rel(r.spread, 2 * sin(now / 2) / now - 2 * sin(-1.25) / -2.5, 1e-12);
  assert_true(r.spread_low < r.spread && r.spread < r.spread_high);
  /* Seen from the other side it closes. */
  d.bulge = 1;
  assert_true(rw_stack_damp(ply, w, 2, &d, &r, &err) >= 0);
  assert_true(r.spread < 0);
  /* Flat is widest. */
  d.radius = 0;
  d.girth = 0.2;
  r = curl(ply, w, 2, d);
  assert_true(r.spread < 0 && r.spread_high <= 0);
  d.open = (rw_value){0.002, 0.01};
  r = curl(ply, w, 2, d);
  assert_close(r.spread_high, 0, 0);
  assert_true(r.bow_low < 0 && r.bow_high > 0);
}

static void refused(rw_swelling one, rw_damp d, rw_status wanted, const char *argument)
{
  rw_ply ply[] = {{glass, 0.25e-3, 0}, {cedar, 6e-3, 0}};
  rw_swelling w[] = {{{0, 0}, {0, 0}}, one};
  rw_error err = {.code = RW_OK};
  rw_damp_result r, before;
  memset(&r, 7, sizeof r);
  before = r;
  assert_status(rw_stack_damp(ply, w, 2, &d, &r, &err), wanted, &err);
  assert_string_equal(err.argument, argument);
  assert_string_equal(err.function, "rw_stack_damp");
  assert_memory_equal(&r, &before, sizeof r);
}

static void bad_input(void **state)
{
  (void)state;
  rw_swelling w = {{0, 0}, {0.25, 0}};
  rw_damp d = inside_wetter();
  refused((rw_swelling){{0, 0}, {0, 0}}, d, RW_ERR_ARGUMENT, "swelling");
  refused((rw_swelling){{-0.1, 0}, {0.25, 0}}, d, RW_ERR_RANGE, "swelling[2].along");
  refused((rw_swelling){{0, 0}, {25, 0}}, d, RW_ERR_RANGE, "swelling[2].across");
  refused((rw_swelling){{0, 0}, {0.25, NAN}}, d, RW_ERR_RANGE, "swelling[2].across");
  d.open_face = 0;
  refused(w, d, RW_ERR_ARGUMENT, "open_face");
  d = inside_wetter();
  d.open.value = 5;
  refused(w, d, RW_ERR_RANGE, "open");
  d = inside_wetter();
  d.sealed.sd = -1;
  refused(w, d, RW_ERR_RANGE, "sealed");
  d = inside_wetter();
  d.open.value = 0;
  refused(w, d, RW_ERR_ARGUMENT, "open");
  d = inside_wetter();
  d.profile = 0.5;
  refused(w, d, RW_ERR_RANGE, "profile");
  d = inside_wetter();
  d.girth = 0;
  refused(w, d, RW_ERR_RANGE, "girth");
  d = inside_wetter();
  d.radius = 0.05;
  refused(w, d, RW_ERR_RANGE, "radius");
  d.radius = 0.2;
  refused(w, d, RW_ERR_ARGUMENT, "bulge");
  d = inside_wetter();
  d.level = 90;
  refused(w, d, RW_ERR_RANGE, "level");
  rw_error err;
  rw_ply ply = {cedar, 6e-3, 0};
  rw_damp_result r;
  d = inside_wetter();
  assert_status(rw_stack_damp(&ply, &w, 0, &d, &r, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "ply");
  assert_string_equal(err.function, "rw_stack_damp");
  assert_status(rw_stack_damp(&ply, NULL, 1, &d, &r, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "swelling");
  assert_status(rw_stack_damp(&ply, &w, 1, NULL, &r, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_damp(&ply, &w, 1, &d, NULL, &err), RW_ERR_ARGUMENT, &err);
  d.girth = 1;
  assert_status(rw_stack_damp(&ply, &w, 1, &d, &r, &err), RW_OUTSIDE_TESTED, &err);
  assert_string_equal(err.argument, "girth");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(one_plank),         cmocka_unit_test(two_layers),
      cmocka_unit_test(against_sublayers), cmocka_unit_test(intervals),
      cmocka_unit_test(hull_opens),        cmocka_unit_test(bad_input),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
