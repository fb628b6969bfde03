/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statuses, tables and the carried uncertainty of the room cloth. */
#include "check.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double untouched = -77.0;
static const char *const weave_names[] = {"plain",          "twill",   "satin",
                                          "unidirectional", "biaxial", "mat"};
enum { WEAVES = sizeof weave_names / sizeof weave_names[0] };

/* Invented; near a plain E-glass cloth. */
static rw_cloth glass(void)
{
  return (rw_cloth){.areal_mass = 0.2,
                    .fibre_density = 2540,
                    .weave = RW_PLAIN,
                    .crown = 0.25e-3,
                    .hand = {0.42, 0.04},
                    .bagged = {0.55, 0.04}};
}

static void weaves_are_found(void **state)
{
  (void)state;
  rw_error err;
  rw_weave w = RW_SATIN;
  for (int i = 0; i < WEAVES; i++) {
    assert_ok(rw_weave_find(weave_names[i], &w, &err), &err);
    assert_int_equal(w, i);
  }
  w = RW_SATIN;
  assert_status(rw_weave_find("twil", &w, &err), RW_ERR_NAME, &err);
  check_explained(&err, "twil");
  assert_non_null(strstr(err.hint, "twill"));
  assert_status(rw_weave_find("Plain", &w, &err), RW_ERR_NAME, &err);
  assert_non_null(strstr(err.hint, "plain"));
  assert_status(rw_weave_find("hessian sacking", &w, &err), RW_ERR_NAME, &err);
  assert_string_equal(err.hint, "");
  assert_non_null(strstr(err.message, "biaxial"));
  assert_status(rw_weave_find("", &w, &err), RW_ERR_NAME, &err);
  assert_status(rw_weave_find("twil", &w, NULL), RW_ERR_NAME, NULL);
  assert_status(rw_weave_find(NULL, &w, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_weave_find("plain", NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_int_equal(w, RW_SATIN);
}

static void limits_agree_with_the_tables(void **state)
{
  (void)state;
  rw_error err;
  for (int i = 0; i < WEAVES; i++) {
    char name[40];
    snprintf(name, sizeof name, "default-%s", weave_names[i]);
    const rw_material *m = NULL;
    const rw_property *p = NULL;
    assert_ok(rw_material_find(RW_CLOTH, name, &m, &err), &err);
    assert_ok(rw_material_property(m, "limit", &p, &err), &err);
    assert_close(rw_weave_limit((rw_weave)i), p->value, 1e-15);
  }
  assert_close(rw_weave_limit(RW_UNIDIRECTIONAL), 3.14159265358979323846 / (2 * sqrt(3)), 1e-15);
  assert_close(rw_weave_limit((rw_weave)WEAVES), 0, 0);
  assert_close(rw_weave_limit((rw_weave)1000), 0, 0);
}

/* Every cloth of the tables is one: found, sound, with the numbers the tables hold. */
static void every_cloth_is_usable(void **state)
{
  (void)state;
  rw_error err;
  size_t cloths = 0;
  const rw_material *m;
  for (size_t i = 0; (m = rw_material_at(RW_CLOTH, i)) != NULL; i++) {
    rw_cloth c;
    if (strncmp(m->name, "default-", 8) == 0) {
      assert_status(rw_cloth_find(m->name, &c, &err), RW_ERR_NAME, &err);
      continue;
    }
    const rw_property *p = NULL;
    const rw_material *fibre = NULL;
    assert_ok(rw_cloth_find(m->name, &c, &err), &err);
    assert_ok(rw_cloth_check(&c, &err), &err);
    assert_ok(rw_material_property(m, "areal_mass", &p, &err), &err);
    assert_close(c.areal_mass, p->value, 0);
    assert_ok(rw_material_property(m, "vf_hand", &p, &err), &err);
    assert_close(c.hand.value, p->value, 0);
    assert_close(c.hand.sd, p->sd, 0);
    assert_ok(rw_material_property(m, "vf_bagged", &p, &err), &err);
    assert_close(c.bagged.value, p->value, 0);
    assert_ok(rw_material_find(RW_FIBRE, m->fibre, &fibre, &err), &err);
    assert_ok(rw_material_property(fibre, "density", &p, &err), &err);
    assert_close(c.fibre_density, p->value, 0);
    if (rw_material_property(m, "crown", &p, NULL) == RW_OK)
      assert_close(c.crown, p->value, 0);
    assert_string_equal(m->weave, weave_names[c.weave]);
    cloths++;
  }
  assert_true(cloths > 10);
}

static void unknown_cloths_are_refused(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth c, before;
  memset(&c, 7, sizeof c);
  before = c;
  assert_status(rw_cloth_find("glass-200-plane", &c, &err), RW_ERR_NAME, &err);
  check_explained(&err, "glass-200-plane");
  assert_status(rw_cloth_find("glass-200-plane", &c, NULL), RW_ERR_NAME, NULL);
  assert_status(rw_cloth_find(NULL, &c, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_cloth_find("glass-200-plain", NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_cloth_make("e-gloss", 0.2, RW_PLAIN, &c, &err), RW_ERR_NAME, &err);
  check_explained(&err, "e-gloss");
  assert_status(rw_cloth_make(NULL, 0.2, RW_PLAIN, &c, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_cloth_make("e-glass", 0.2, RW_PLAIN, NULL, &err), RW_ERR_ARGUMENT, &err);
  static const double mass[] = {0.0099, 2.01, 200, 0, -0.2, NAN};
  for (size_t i = 0; i < sizeof mass / sizeof mass[0]; i++) {
    assert_status(rw_cloth_make("e-glass", mass[i], RW_PLAIN, &c, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "areal_mass");
    assert_non_null(strstr(err.hint, "0.2 kg/m2"));
  }
  assert_status(rw_cloth_make("e-glass", 0.2, (rw_weave)WEAVES, &c, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "weave");
  assert_memory_equal(&c, &before, sizeof c);
}

static double table_value(rw_material_kind kind, const char *name, const char *property)
{
  rw_error err;
  const rw_material *m = NULL;
  const rw_property *p = NULL;
  assert_ok(rw_material_find(kind, name, &m, &err), &err);
  assert_ok(rw_material_property(m, property, &p, &err), &err);
  return p->value;
}

static void cloths_are_made(void **state)
{
  (void)state;
  rw_error err;
  for (int i = 0; i < WEAVES; i++) {
    char name[40];
    snprintf(name, sizeof name, "default-%s", weave_names[i]);
    rw_cloth c, light;
    assert_ok(rw_cloth_make("e-glass", 0.3, (rw_weave)i, &c, &err), &err);
    assert_ok(rw_cloth_check(&c, &err), &err);
    assert_close(c.areal_mass, 0.3, 0);
    assert_int_equal(c.weave, i);
    assert_close(c.hand.value, table_value(RW_CLOTH, name, "vf_hand"), 0);
    assert_close(c.bagged.value, table_value(RW_CLOTH, name, "vf_bagged"), 0);
    assert_close_rel(c.crown, 0.3 * table_value(RW_CLOTH, name, "crown_per_mass"), 1e-14);
    /* The same bulk of a lighter fibre: the same mass stands higher. */
    assert_ok(rw_cloth_make("carbon", 0.3, (rw_weave)i, &light, &err), &err);
    assert_close_rel(light.crown * light.fibre_density, c.crown * c.fibre_density, 1e-14);
  }
  rw_cloth c;
  assert_status(rw_cloth_make("e-glass", 0.019, RW_PLAIN, &c, &err), RW_OUTSIDE_TESTED, &err);
  assert_status(rw_cloth_make("e-glass", 1.21, RW_PLAIN, &c, &err), RW_OUTSIDE_TESTED, &err);
  assert_close(c.areal_mass, 1.21, 0);
  assert_ok(rw_cloth_make("E-Glass", 0.02, RW_PLAIN, &c, &err), &err);
  assert_ok(rw_cloth_make("e-glass", 1.2, RW_PLAIN, &c, &err), &err);
}

static void refuse(rw_cloth c, const char *word)
{
  rw_error err;
  double x = untouched;
  rw_value v = {untouched, untouched};
  assert_status(rw_cloth_check(&c, &err), RW_ERR_RANGE, &err);
  check_explained(&err, word);
  assert_string_equal(err.function, "rw_cloth_check");
  assert_status(rw_cloth_check(&c, NULL), RW_ERR_RANGE, NULL);
  assert_status(rw_cloth_thickness(&c, 0.4, &x, &err), RW_ERR_RANGE, &err);
  assert_status(rw_cloth_resin(&c, (rw_value){0.4, 0}, 1150, &v, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.function, "rw_cloth_resin");
  assert_status(rw_cloth_fill(&c, (rw_value){0.4, 0}, 1150, (rw_value){0, 0}, &v, &err),
                RW_ERR_RANGE, &err);
  assert_close(x, untouched, 0);
  assert_close(v.value, untouched, 0);
  assert_close(v.sd, untouched, 0);
}

static void cloth_numbers_are_checked(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth c = glass();
  assert_ok(rw_cloth_check(&c, &err), &err);
  assert_status(rw_cloth_check(NULL, &err), RW_ERR_ARGUMENT, &err);
  static const double mass[] = {0, -0.2, 0.009, 2.1, 200, NAN};
  for (size_t i = 0; i < sizeof mass / sizeof mass[0]; i++) {
    c = glass();
    c.areal_mass = mass[i];
    refuse(c, "areal_mass");
  }
  static const double density[] = {0, 2.54, -1, 99, 25001, NAN};
  for (size_t i = 0; i < sizeof density / sizeof density[0]; i++) {
    c = glass();
    c.fibre_density = density[i];
    refuse(c, "fibre_density");
  }
  static const double crown[] = {-1e-4, 0.07e-3, 0.25, NAN};
  for (size_t i = 0; i < sizeof crown / sizeof crown[0]; i++) {
    c = glass();
    c.crown = crown[i];
    refuse(c, "crown");
  }
  static const double share[] = {0, -0.1, 0.71, 42, NAN};
  for (size_t i = 0; i < sizeof share / sizeof share[0]; i++) {
    c = glass();
    c.hand.value = share[i];
    refuse(c, "hand");
    c = glass();
    c.bagged.value = share[i];
    refuse(c, "bagged");
  }
  static const double sd[] = {-0.01, NAN, HUGE_VAL};
  for (size_t i = 0; i < sizeof sd / sizeof sd[0]; i++) {
    c = glass();
    c.hand.sd = sd[i];
    refuse(c, "hand.sd");
    c = glass();
    c.bagged.sd = sd[i];
    refuse(c, "bagged.sd");
  }
  c = glass();
  c.weave = (rw_weave)WEAVES;
  refuse(c, "weave");
}

static void share_above_the_limit_is_said(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth c = glass();
  double t = untouched;
  assert_ok(rw_cloth_thickness(&c, 0.70, &t, &err), &err);
  t = untouched;
  assert_status(rw_cloth_thickness(&c, 0.71, &t, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "volume_share");
  assert_close(err.high, 0.70, 0);
  assert_non_null(strstr(err.hint, "plain"));
  assert_close(t, untouched, 0);
  c.weave = RW_MAT;
  c.hand.value = c.bagged.value = 0.2;
  assert_status(rw_cloth_thickness(&c, 0.55, &t, &err), RW_ERR_RANGE, &err);
  assert_close(err.high, rw_weave_limit(RW_MAT), 0);
  c.weave = RW_UNIDIRECTIONAL;
  assert_ok(rw_cloth_thickness(&c, 0.9, &t, &err), &err);
}

typedef rw_status mixture(double, double, double, double *, rw_error *);

static void mixtures_check_their_numbers(void **state)
{
  (void)state;
  static mixture *const f[] = {rw_fibre_volume_share, rw_fibre_mass_share, rw_laminate_density};
  static const char *const name[] = {"mass_share", "volume_share", "mass_share"};
  static const double share[] = {-0.01, 1.01, 50, NAN}, density[] = {0, 2.54, -1200, 3e4, NAN};
  rw_error err;
  for (size_t k = 0; k < 3; k++) {
    double x = untouched;
    for (size_t i = 0; i < 4; i++) {
      assert_status(f[k](share[i], 2540, 1150, &x, &err), RW_ERR_RANGE, &err);
      check_explained(&err, name[k]);
    }
    for (size_t i = 0; i < 5; i++) {
      assert_status(f[k](0.5, density[i], 1150, &x, &err), RW_ERR_RANGE, &err);
      check_explained(&err, "fibre_density");
      assert_status(f[k](0.5, 2540, density[i], &x, &err), RW_ERR_RANGE, &err);
      check_explained(&err, "resin_density");
    }
    assert_close(x, untouched, 0);
    assert_status(f[k](0.5, 2540, 1150, NULL, &err), RW_ERR_ARGUMENT, &err);
    assert_status(f[k](0.5, 2540, 0, &x, NULL), RW_ERR_RANGE, NULL);
  }
}

/* Resin from the shares by mass, and its spread against differences. */
static void resin_in_the_cloth(void **state)
{
  (void)state;
  static const double step = 1e-6, resin = 1150;
  rw_error err;
  rw_cloth c = glass();
  for (double v = 0.1; v <= 0.7; v += 0.1) {
    double g;
    rw_value got, up, down;
    assert_ok(rw_fibre_mass_share(v, c.fibre_density, resin, &g, &err), &err);
    assert_ok(rw_cloth_resin(&c, (rw_value){v, 0.03}, resin, &got, &err), &err);
    assert_close_rel(got.value, c.areal_mass * (1 - g) / g, 1e-13);
    if (v + step > 0.7)
      continue;
    assert_ok(rw_cloth_resin(&c, (rw_value){v + step, 0}, resin, &up, &err), &err);
    assert_ok(rw_cloth_resin(&c, (rw_value){v - step, 0}, resin, &down, &err), &err);
    assert_close_rel(got.sd, 0.03 * (down.value - up.value) / (2 * step), 1e-7);
    assert_close(up.sd, 0, 0);
  }
}

static void resin_checks_its_numbers(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth c = glass();
  rw_value r = {untouched, untouched};
  const rw_value v = {0.42, 0.04}, none = {0, 0};
  assert_status(rw_cloth_resin(&c, (rw_value){0, 0.1}, 1150, &r, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "volume_share");
  assert_status(rw_cloth_resin(&c, (rw_value){0.42, -0.1}, 1150, &r, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "volume_share.sd");
  assert_status(rw_cloth_resin(&c, v, 1.15, &r, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "resin_density");
  assert_status(rw_cloth_resin(NULL, v, 1150, &r, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_cloth_resin(&c, v, 1150, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_cloth_fill(&c, (rw_value){0.8, 0}, 1150, none, &r, &err), RW_ERR_RANGE, &err);
  assert_status(rw_cloth_fill(&c, v, 0, none, &r, &err), RW_ERR_RANGE, &err);
  assert_status(rw_cloth_fill(&c, v, 1150, (rw_value){-1e-4, 0}, &r, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "cover");
  assert_status(rw_cloth_fill(&c, v, 1150, (rw_value){1e-4, NAN}, &r, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "cover.sd");
  assert_status(rw_cloth_fill(&c, v, 1150, none, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_close(r.value, untouched, 0);
  assert_close(r.sd, untouched, 0);
}

/* Crowns 0.25 mm, wet cloth 0.2/(2540*0.5) m: weave volume, cover and the three spreads. */
static void fill_reaches_the_crowns_and_covers(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth c = glass();
  rw_value r;
  double wet = 0.2 / (2540 * 0.5), weave = 0.25e-3 - wet;
  assert_ok(rw_cloth_fill(&c, (rw_value){0.5, 0.02}, 1100, (rw_value){5e-5, 1e-5}, &r, &err),
            &err);
  assert_close_rel(r.value, 1100 * (weave + 5e-5), 1e-13);
  double by_share = wet / 0.5 * 0.02;
  double sd = 1100 * sqrt(pow(0.25 * weave, 2) + 1e-10 + by_share * by_share);
  assert_close_rel(r.sd, sd, 1e-12);
  c.crown = 0.09e-3; /* below the wet cloth: only the cover is left */
  assert_ok(rw_cloth_fill(&c, (rw_value){0.5, 0.02}, 1100, (rw_value){5e-5, 1e-5}, &r, &err),
            &err);
  assert_close_rel(r.value, 1100 * 5e-5, 1e-14);
  assert_close_rel(r.sd, 1100 * 1e-5, 1e-14);
}

static void a_crown_of_zero_is_estimated(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth made, bare;
  assert_ok(rw_cloth_make("carbon", 0.2, RW_TWILL, &made, &err), &err);
  bare = made;
  bare.crown = 0;
  rw_value a, b, v = {0.5, 0.03}, cover = {1e-4, 2e-5};
  assert_ok(rw_cloth_fill(&made, v, 1150, cover, &a, &err), &err);
  assert_ok(rw_cloth_fill(&bare, v, 1150, cover, &b, &err), &err);
  assert_close_rel(b.value, a.value, 1e-14);
  assert_close_rel(b.sd, a.sd, 1e-14);
  assert_true(a.value > 1150 * 1e-4);
}

static void mixed_resin(void **state)
{
  (void)state;
  rw_error err;
  rw_uptake u = {
      .soak = {0.05, 0.02}, .cloth = {0.13, 0.01}, .fill = {0.3, 0.06}, .waste = {0.2, 0.05}};
  rw_value m;
  assert_ok(rw_uptake_mixed(&u, &m, &err), &err);
  assert_close_rel(m.value, 0.48 / 0.8, 1e-14);
  double on_hull = sqrt(0.0004 + 0.0001 + 0.0036) / 0.8, by_waste = 0.48 / 0.64 * 0.05;
  assert_close_rel(m.sd, sqrt(on_hull * on_hull + by_waste * by_waste), 1e-13);
  u.waste = (rw_value){0.9, 0};
  assert_ok(rw_uptake_mixed(&u, &m, &err), &err);
  assert_close_rel(m.value, 4.8, 1e-13);
  m = (rw_value){untouched, untouched};
  static const double waste[] = {0.91, -0.1, 15, NAN};
  for (size_t i = 0; i < 4; i++) {
    u.waste.value = waste[i];
    assert_status(rw_uptake_mixed(&u, &m, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "waste");
  }
  u.waste = (rw_value){0.1, -0.1};
  assert_status(rw_uptake_mixed(&u, &m, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "waste.sd");
  u.waste.sd = 0;
  rw_value *term[] = {&u.soak, &u.cloth, &u.fill};
  static const char *const name[] = {"soak", "cloth", "fill"};
  static const double bad[] = {-0.01, NAN, HUGE_VAL};
  for (size_t k = 0; k < 3; k++)
    for (size_t i = 0; i < 3; i++) {
      rw_value good = *term[k];
      term[k]->value = bad[i];
      assert_status(rw_uptake_mixed(&u, &m, &err), RW_ERR_RANGE, &err);
      check_explained(&err, name[k]);
      *term[k] = (rw_value){good.value, bad[i]};
      assert_status(rw_uptake_mixed(&u, &m, &err), RW_ERR_RANGE, &err);
      check_explained(&err, name[k]);
      *term[k] = good;
    }
  assert_status(rw_uptake_mixed(NULL, &m, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_uptake_mixed(&u, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_close(m.value, untouched, 0);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(weaves_are_found),
      cmocka_unit_test(limits_agree_with_the_tables),
      cmocka_unit_test(every_cloth_is_usable),
      cmocka_unit_test(unknown_cloths_are_refused),
      cmocka_unit_test(cloths_are_made),
      cmocka_unit_test(cloth_numbers_are_checked),
      cmocka_unit_test(share_above_the_limit_is_said),
      cmocka_unit_test(mixtures_check_their_numbers),
      cmocka_unit_test(resin_in_the_cloth),
      cmocka_unit_test(resin_checks_its_numbers),
      cmocka_unit_test(fill_reaches_the_crowns_and_covers),
      cmocka_unit_test(a_crown_of_zero_is_estimated),
      cmocka_unit_test(mixed_resin),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
