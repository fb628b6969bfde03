/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cloth whose warp and weft differ, expansion of the tables' fibres and woods: refusals, untouched
 * outputs, and agreement with what stands below them. */
#include "check.h"

#include <math.h>

/* Invented. */
static const rw_matrix matrix = {.density = 1150, .E = 3e9, .nu = 0.33, .strength = 60e6};
static const rw_fibre stiff = {
    .density = 1770, .E1 = 230e9, .E2 = 14e9, .G12 = 14e9, .nu12 = 0.2, .strength = 3600e6};
static const rw_fibre tough = {
    .density = 1450, .E1 = 130e9, .E2 = 4.2e9, .G12 = 2.9e9, .nu12 = 0.35, .strength = 3600e6};

static rw_cloth cloth(double density)
{
  return (rw_cloth){.areal_mass = 0.2,
                    .fibre_density = density,
                    .weave = RW_TWILL,
                    .crimp = 0.07,
                    .hand = {0.45, 0},
                    .bagged = {0.45, 0}};
}

static void yarns_alike_are_the_cloth(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth c = cloth(stiff.density);
  const rw_yarns y = {{stiff, stiff}, {0.1, 0.1}};
  const rw_value v = {0.45, 0.04};
  rw_lamina one, two;
  double spread_one, spread_two;
  assert_ok(rw_lamina_cloth_uncertain(&c, &stiff, &matrix, v, &one, &spread_one, &err), &err);
  assert_ok(rw_lamina_yarns(&c, &y, &matrix, v, &two, &spread_two, &err), &err);
  const double a[] = {one.density, one.E1, one.E2, one.G12, one.nu12, one.Xt,
                      one.Xc,      one.Yt, one.Yc, one.S,   one.G13,  one.E3};
  const double b[] = {two.density, two.E1, two.E2, two.G12, two.nu12, two.Xt,
                      two.Xc,      two.Yt, two.Yc, two.S,   two.G13,  two.E3};
  for (size_t k = 0; k < sizeof a / sizeof a[0]; k++)
    assert_close_rel(b[k], a[k], 1e-12);
  assert_close_rel(spread_two, spread_one, 1e-9);
}

/* Twice the volume of warp: two thirds of the thickness, whatever each weighs. */
static void warp_and_weft_share_the_thickness_by_volume(void **state)
{
  (void)state;
  rw_error err;
  const double w[] = {2 * 5e-5 * 1770, 5e-5 * 1450}, v = 0.4;
  const rw_yarns y = {{stiff, tough}, {w[0], w[1]}}, turned = {{tough, stiff}, {w[1], w[0]}};
  rw_cloth c = cloth((w[0] + w[1]) / 1.5e-4);
  rw_lamina warp, weft, crossed, out, other;
  double spread;
  assert_ok(rw_lamina_unidirectional(&stiff, &matrix, v, &warp, &err), &err);
  assert_ok(rw_lamina_unidirectional(&tough, &matrix, v, &weft, &err), &err);
  assert_ok(rw_lamina_crossed(&warp, &weft, 2.0 / 3, 0.07, 0.02, &crossed, &err), &err);
  assert_ok(rw_lamina_yarns(&c, &y, &matrix, (rw_value){v, 0}, &out, &spread, &err), &err);
  assert_close_rel(out.E1, crossed.E1, 1e-12);
  assert_close_rel(out.E2, crossed.E2, 1e-12);
  assert_close_rel(out.Xt, crossed.Xt, 1e-12);
  assert_close_rel(out.Yt, crossed.Yt, 1e-12);
  assert_close_rel(out.S, crossed.S, 1e-12);
  assert_close_rel(out.density, crossed.density, 1e-12);
  assert_true(out.E1 > 2 * out.E2);
  assert_close_rel(spread, rw_lamina_cloth_spread(), 1e-12);
  assert_ok(rw_lamina_yarns(&c, &turned, &matrix, (rw_value){v, 0}, &other, &spread, &err), &err);
  assert_close_rel(other.E1, out.E2, 1e-12);
  assert_close_rel(other.Yt, out.Xt, 1e-12);
}

/* Only the yarns that give way themselves bear less. */
static void crush_stays_with_its_yarns(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth c = cloth(1600);
  rw_yarns y = {{stiff, tough}, {0.1, 0.1}};
  rw_lamina sound, out;
  double spread;
  assert_ok(rw_lamina_yarns(&c, &y, &matrix, (rw_value){0.4, 0}, &sound, &spread, &err), &err);
  y.fibre[1].crush = 300e6;
  assert_ok(rw_lamina_yarns(&c, &y, &matrix, (rw_value){0.4, 0}, &out, &spread, &err), &err);
  assert_true(out.Xc == sound.Xc && out.Yt == sound.Yt);
  double weft = (0.1 / 1450) / (0.1 / 1450 + 0.1 / 1770);
  assert_close_rel(out.Yc, 0.93 * weft * (0.4 * 300e6 + 0.6 * 3e9 * 300.0 / 130e3), 1e-12);
}

static void yarns_are_checked(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth c = cloth(1600);
  rw_yarns y = {{stiff, tough}, {0.1, 0}};
  const rw_value v = {0.4, 0.02};
  const double own[4] = {0, 0, 0, 0};
  rw_lamina out = {.density = 7};
  double spread = 7, strain[3] = {7};
  assert_status(rw_lamina_yarns(&c, &y, &matrix, v, &out, &spread, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "y.mass[2]");
  check_explained(&err, "y.mass[2]");
  assert_status(rw_lamina_yarns_expansion(&c, &y, &matrix, 0.4, own, 0, strain, &err),
                RW_ERR_RANGE, &err);
  assert_string_equal(err.function, "rw_lamina_yarns_expansion");
  y.mass[1] = 0.1;
  y.fibre[0].E2 = NAN;
  assert_status(rw_lamina_yarns(&c, &y, &matrix, v, &out, &spread, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "y.fibre[1].E2");
  y.fibre[0] = stiff;
  const rw_value bad[] = {{0.4, -1}, {0.4, NAN}, {0.8, 0}, {0, 0}};
  const char *const named[] = {"volume_share.sd", "volume_share.sd", "volume_share",
                               "volume_share"};
  for (size_t i = 0; i < 4; i++) {
    assert_status(rw_lamina_yarns(&c, &y, &matrix, bad[i], &out, &spread, &err), RW_ERR_RANGE,
                  &err);
    assert_string_equal(err.argument, named[i]);
    assert_string_equal(err.function, "rw_lamina_yarns");
  }
  c.weave = RW_UNIDIRECTIONAL;
  assert_status(rw_lamina_yarns(&c, &y, &matrix, v, &out, &spread, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "c.weave");
  check_explained(&err, "warp");
  c.weave = RW_TWILL;
  assert_status(rw_lamina_yarns(NULL, &y, &matrix, v, &out, &spread, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_lamina_yarns(&c, NULL, &matrix, v, &out, &spread, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_lamina_yarns(&c, &y, NULL, v, &out, &spread, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_lamina_yarns(&c, &y, &matrix, v, NULL, &spread, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_lamina_yarns(&c, &y, &matrix, v, &out, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_true(out.density == 7 && spread == 7 && strain[0] == 7);
}

static void yarns_expansion_is_checked(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth c = cloth(1600);
  const rw_yarns y = {{stiff, tough}, {0.1, 0.1}};
  double own[4] = {0, 0, 0, 0}, strain[3] = {7};
  assert_status(rw_lamina_yarns_expansion(&c, &y, &matrix, 0.4, own, 2, strain, &err),
                RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "resin");
  own[2] = 60;
  assert_status(rw_lamina_yarns_expansion(&c, &y, &matrix, 0.4, own, 0, strain, &err),
                RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "own[3]");
  assert_status(rw_lamina_yarns_expansion(&c, &y, &matrix, 0.4, NULL, 0, strain, &err),
                RW_ERR_ARGUMENT, &err);
  assert_status(rw_lamina_yarns_expansion(&c, &y, &matrix, 0.4, own, 0, NULL, &err),
                RW_ERR_ARGUMENT, &err);
  assert_status(rw_lamina_yarns_expansion(&c, NULL, &matrix, 0.4, own, 0, strain, &err),
                RW_ERR_ARGUMENT, &err);
  assert_true(strain[0] == 7);
}

static void blended_expansion_is_checked(void **state)
{
  (void)state;
  rw_error err;
  rw_fibre f[] = {stiff, tough};
  double mass[] = {0.1, 0.1}, own[] = {0, 0, 0, NAN}, one[2] = {7, 7};
  assert_status(rw_fibre_blend_expansion(f, mass, own, 2, one, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "own[4]");
  mass[0] = -1;
  assert_status(rw_fibre_blend_expansion(f, mass, own, 2, one, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "mass[1]");
  f[0].E1 = 0;
  assert_status(rw_fibre_blend_expansion(f, mass, own, 2, one, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "f[1].E1");
  assert_status(rw_fibre_blend_expansion(f, mass, own, 0, one, &err), RW_ERR_RANGE, &err);
  assert_status(rw_fibre_blend_expansion(f, mass, own, 9, one, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "n");
  assert_status(rw_fibre_blend_expansion(NULL, mass, own, 2, one, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_fibre_blend_expansion(f, NULL, own, 2, one, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_fibre_blend_expansion(f, mass, NULL, 2, one, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_fibre_blend_expansion(f, mass, own, 2, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_true(one[0] == 7 && one[1] == 7);
}

static void tables_tell_how_fibres_expand(void **state)
{
  (void)state;
  rw_error err;
  double carbon[2], own[2] = {7, 7};
  assert_ok(rw_fibre_expansion("carbon", carbon, &err), &err);
  assert_true(carbon[0] < 0 && carbon[1] > 5e-6 && carbon[1] < 2e-5);
  assert_status(rw_fibre_expansion("flax", own, &err), RW_ERR_NAME, &err);
  assert_string_equal(err.function, "rw_fibre_expansion");
  check_explained(&err, "expansion");
  assert_status(rw_fibre_expansion("carbn", own, &err), RW_ERR_NAME, &err);
  assert_status(rw_fibre_expansion(NULL, own, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_fibre_expansion("carbon", NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_true(own[0] == 7 && own[1] == 7);
}

static void wood_expands_by_its_cut(void **state)
{
  (void)state;
  rw_error err;
  double flat[3], quarter[3], none[3] = {7};
  assert_ok(rw_lamina_wood_expansion("okoume", RW_FLAT_SAWN, flat, &err), &err);
  assert_ok(rw_lamina_wood_expansion("okoume", RW_QUARTER_SAWN, quarter, &err), &err);
  assert_true(flat[0] == quarter[0] && flat[2] == 0 && quarter[2] == 0);
  assert_close(1e6 * (flat[1] - quarter[1]), 18.4 - 9.9, 0.101);
  assert_true(flat[0] > 3e-6 && flat[1] > 6 * flat[0]);
  assert_status(rw_lamina_wood_expansion("okume", RW_FLAT_SAWN, none, &err), RW_ERR_NAME, &err);
  assert_string_equal(err.function, "rw_lamina_wood_expansion");
  assert_status(rw_lamina_wood_expansion("okoume", (rw_cut)7, none, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "cut");
  assert_status(rw_lamina_wood_expansion(NULL, RW_FLAT_SAWN, none, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_lamina_wood_expansion("okoume", RW_FLAT_SAWN, NULL, &err), RW_ERR_ARGUMENT,
                &err);
  assert_true(none[0] == 7);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(yarns_alike_are_the_cloth),
      cmocka_unit_test(warp_and_weft_share_the_thickness_by_volume),
      cmocka_unit_test(crush_stays_with_its_yarns),
      cmocka_unit_test(yarns_are_checked),
      cmocka_unit_test(yarns_expansion_is_checked),
      cmocka_unit_test(blended_expansion_is_checked),
      cmocka_unit_test(tables_tell_how_fibres_expand),
      cmocka_unit_test(wood_expands_by_its_cut),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
