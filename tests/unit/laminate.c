/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statuses, messages and untouched outputs of the room laminate. */
#include "check.h"

#include <math.h>
#include <string.h>

static const double quarter_turn = 3.14159265358979323846 / 2;

/* Invented for these tests; near a glass/epoxy ply. */
static rw_lamina ply_material(void)
{
  return (rw_lamina){.density = 1900,
                     .E1 = 38e9,
                     .E2 = 9e9,
                     .G12 = 3.4e9,
                     .nu12 = 0.28,
                     .Xt = 900e6,
                     .Xc = 600e6,
                     .Yt = 40e6,
                     .Yc = 120e6,
                     .S = 50e6};
}

static rw_fibre fibre(void)
{
  return (rw_fibre){
      .density = 2540, .E1 = 72e9, .E2 = 72e9, .G12 = 30e9, .nu12 = 0.22, .strength = 3.4e9};
}

static rw_matrix matrix(void)
{
  return (rw_matrix){.density = 1150, .E = 3e9, .nu = 0.33, .strength = 60e6};
}

static rw_cloth cloth(rw_weave weave)
{
  double share = weave == RW_MAT ? 0.2 : 0.42;
  return (rw_cloth){.areal_mass = 0.2,
                    .fibre_density = 2540,
                    .weave = weave,
                    .crown = 0,
                    .hand = {share, 0.02},
                    .bagged = {share, 0.02}};
}

static rw_stack stack_of(const rw_ply *ply, size_t n)
{
  rw_error err;
  rw_stack s;
  assert_ok(rw_stack_make(ply, n, &s, &err), &err);
  return s;
}

static void lamina_is_checked(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina good = ply_material();
  assert_ok(rw_lamina_check(&good, &err), &err);
  const double bad[] = {0, -1, NAN, HUGE_VAL};
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    rw_lamina m = good;
    m.density = bad[i];
    assert_status(rw_lamina_check(&m, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "density");
    m = good;
    m.E1 = bad[i];
    assert_status(rw_lamina_check(&m, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "E1");
    m = good;
    m.E2 = bad[i];
    assert_status(rw_lamina_check(&m, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "E2");
    m = good;
    m.G12 = bad[i];
    assert_status(rw_lamina_check(&m, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "G12");
  }
  assert_status(rw_lamina_check(NULL, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "missing");
  assert_status(rw_lamina_check(NULL, NULL), RW_ERR_ARGUMENT, NULL);
}

static void indefinite_poisson_is_refused(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = ply_material();
  m.E1 = 4;
  m.E2 = 1; /* the limit of nu12 is 2 */
  m.nu12 = 1.99;
  assert_ok(rw_lamina_check(&m, &err), &err);
  m.nu12 = -1.99;
  assert_ok(rw_lamina_check(&m, &err), &err);
  const double bad[] = {2, -2, 3, NAN};
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    m.nu12 = bad[i];
    assert_status(rw_lamina_check(&m, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "nu12");
    assert_string_equal(err.function, "rw_lamina_check");
    assert_close(err.high, 2, 1e-15);
  }
}

static void stiffness_takes_radians(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = ply_material();
  double q[9] = {7};
  assert_status(rw_lamina_stiffness(&m, 45, q, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "angle");
  assert_non_null(strstr(err.hint, "radians"));
  assert_status(rw_lamina_stiffness(&m, NAN, q, &err), RW_ERR_RANGE, &err);
  m.E2 = 0;
  assert_status(rw_lamina_stiffness(&m, 0, q, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.function, "rw_lamina_stiffness");
  assert_status(rw_lamina_stiffness(NULL, 0, q, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_lamina_stiffness(&m, 0, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_true(q[0] == 7);
}

static void fibre_share_has_limits(void **state)
{
  (void)state;
  rw_error err;
  rw_fibre f = fibre();
  rw_matrix m = matrix();
  rw_lamina ply = {.density = 7};
  const double bad[] = {0, -0.1, 0.908, 1, NAN};
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    assert_status(rw_lamina_unidirectional(&f, &m, bad[i], &ply, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "volume_share");
  }
  assert_true(ply.density == 7);
  assert_ok(rw_lamina_unidirectional(&f, &m, 0.907, &ply, &err), &err);
  assert_ok(rw_lamina_unidirectional(&f, &m, 1e-6, &ply, &err), &err);
  assert_close_rel(ply.E2, m.E, 1e-5);
}

static void constituents_are_checked(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina ply = {.density = 7};
  rw_fibre f = fibre();
  rw_matrix m = matrix();
  f.E2 = -1;
  assert_status(rw_lamina_unidirectional(&f, &m, 0.4, &ply, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "f.E2");
  f = fibre();
  f.strength = -1;
  assert_status(rw_lamina_unidirectional(&f, &m, 0.4, &ply, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "f.strength");
  f = fibre();
  m.E = 0;
  assert_status(rw_lamina_unidirectional(&f, &m, 0.4, &ply, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "m.E");
  m = matrix();
  m.nu = 0.5;
  assert_status(rw_lamina_unidirectional(&f, &m, 0.4, &ply, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "m.nu");
  m = matrix();
  m.strength = NAN;
  assert_status(rw_lamina_unidirectional(&f, &m, 0.4, &ply, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "m.strength");
  assert_status(rw_lamina_unidirectional(NULL, &m, 0.4, &ply, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_lamina_unidirectional(&f, NULL, 0.4, &ply, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_lamina_unidirectional(&f, &m, 0.4, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_true(ply.density == 7);
}

static void strengths_follow_the_description(void **state)
{
  (void)state;
  rw_error err;
  rw_fibre f = fibre();
  rw_matrix m = matrix();
  rw_lamina ply;
  assert_ok(rw_lamina_unidirectional(&f, &m, 0.5, &ply, &err), &err);
  /* at the fibre's stretch the resin would bear 142 MPa: its own 60 MPa count */
  assert_close_rel(ply.Xt, 0.5 * 3.4e9 + 0.5 * 60e6, 1e-12);
  m.strength = 200e6;
  assert_ok(rw_lamina_unidirectional(&f, &m, 0.5, &ply, &err), &err);
  assert_close_rel(ply.Xt, 0.5 * 3.4e9 + 0.5 * 3e9 * 3.4 / 72, 1e-12);
  double shear = 200e6 / sqrt(3);
  assert_close_rel(ply.S, shear, 1e-12);
  assert_close_rel(ply.Xc, shear / (0.04 + shear / ply.G12), 1e-12);
  assert_close_rel(ply.Yt, 200e6 * (1 - (sqrt(0.5) - 0.5) * (1 - 3.0 / 72)), 1e-12);
  assert_close_rel(ply.Yc, 400e6, 1e-12);
  f.strength = 0.1e9; /* weaker than its support against kinking */
  assert_ok(rw_lamina_unidirectional(&f, &m, 0.5, &ply, &err), &err);
  assert_true(ply.Xc == ply.Xt);
  m.strength = 0;
  assert_ok(rw_lamina_unidirectional(&f, &m, 0.5, &ply, &err), &err);
  assert_true(ply.Xt == 0 && ply.Xc == 0 && ply.Yt == 0 && ply.Yc == 0 && ply.S == 0);
}

static rw_lamina cloth_ply(rw_weave weave, double share)
{
  rw_error err;
  rw_cloth c = cloth(weave);
  c.crimp = weave == RW_PLAIN ? 0.10 : weave == RW_TWILL ? 0.07 : weave == RW_SATIN ? 0.05 : 0.02;
  rw_fibre f = fibre();
  rw_matrix m = matrix();
  rw_lamina ply;
  assert_ok(rw_lamina_cloth(&c, &f, &m, share, &ply, &err), &err);
  assert_ok(rw_lamina_check(&ply, &err), &err);
  return ply;
}

static void crimp_lowers_woven_stiffness(void **state)
{
  (void)state;
  rw_lamina plain = cloth_ply(RW_PLAIN, 0.42), twill = cloth_ply(RW_TWILL, 0.42);
  rw_lamina satin = cloth_ply(RW_SATIN, 0.42), biaxial = cloth_ply(RW_BIAXIAL, 0.42);
  assert_close_rel(plain.E1 / 0.90, biaxial.E1 / 0.98, 1e-12);
  assert_close_rel(twill.E1 / 0.93, biaxial.E1 / 0.98, 1e-12);
  assert_close_rel(satin.E1 / 0.95, biaxial.E1 / 0.98, 1e-12);
  assert_close_rel(plain.nu12, satin.nu12, 1e-12);
  assert_true(plain.E1 == plain.E2 && plain.Xt == plain.Yt && plain.Xc == plain.Yc);
  /* three published comparisons lie 10 to 30 per cent above the crossed halves */
  assert_close(rw_lamina_cloth_spread(), 0.20, 1e-15);
}

/* Glass stretches further than its resin: cracking rules. A fibre of a tenth the strength breaks
 * first. */
static void cloth_strength_follows_the_description(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina along = cloth_ply(RW_UNIDIRECTIONAL, 0.42), plain = cloth_ply(RW_PLAIN, 0.42);
  assert_close_rel(plain.Xt, plain.E1 * 60e6 / 3e9, 1e-12);
  assert_close_rel(plain.Xc, 0.9 * along.Xc / 2, 1e-12);
  assert_close_rel(plain.S, 0.9 * along.S, 1e-12);
  rw_cloth woven = cloth(RW_PLAIN), chopped = cloth(RW_MAT);
  woven.crimp = 0.10;
  rw_fibre weak = fibre();
  weak.strength = 0.34e9;
  rw_matrix m = matrix();
  rw_lamina one, ply;
  assert_ok(rw_lamina_unidirectional(&weak, &m, 0.2, &one, &err), &err);
  assert_ok(rw_lamina_cloth(&woven, &weak, &m, 0.2, &ply, &err), &err);
  assert_close_rel(ply.Xt, 0.9 * one.Xt / 2, 1e-12);
  assert_ok(rw_lamina_cloth(&chopped, &weak, &m, 0.2, &ply, &err), &err);
  assert_close_rel(ply.Xt, 3 * one.Xt / 8, 1e-12);
  assert_close_rel(ply.Xc, 3 * one.Xc / 8, 1e-12);
  assert_close_rel(ply.S, ply.Xt / sqrt(3), 1e-12);
  m.strength = 0;
  assert_ok(rw_lamina_cloth(&chopped, &weak, &m, 0.2, &ply, &err), &err);
  assert_true(ply.Xt == 0 && ply.Xc == 0 && ply.Yt == 0 && ply.Yc == 0 && ply.S == 0);
}

static void cloth_is_two_crossed_halves(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina along = cloth_ply(RW_UNIDIRECTIONAL, 0.42), woven = cloth_ply(RW_BIAXIAL, 0.42);
  rw_ply half[] = {{along, 1e-4, 0}, {along, 1e-4, quarter_turn}};
  rw_stack s = stack_of(half, 2);
  double q[9];
  assert_ok(rw_lamina_stiffness(&woven, 0, q, &err), &err);
  for (size_t i = 0; i < 9; i++)
    assert_close(q[i] / 1e9, 0.98 * s.A[i] / 2e-4 / 1e9, 1e-9);
  assert_true(along.E1 > woven.E1 && woven.E1 > along.E2);
}

static void unidirectional_cloth_is_one_half(void **state)
{
  (void)state;
  rw_error err;
  rw_fibre f = fibre();
  rw_matrix m = matrix();
  rw_lamina direct, cloths = cloth_ply(RW_UNIDIRECTIONAL, 0.5);
  assert_ok(rw_lamina_unidirectional(&f, &m, 0.5, &direct, &err), &err);
  assert_memory_equal(&direct, &cloths, sizeof direct);
}

static void mat_is_the_same_every_way(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina mat = cloth_ply(RW_MAT, 0.2);
  assert_close_rel(mat.G12, mat.E1 / (2 * (1 + mat.nu12)), 1e-12);
  /* the mean of the turned ply over all angles */
  rw_lamina along = cloth_ply(RW_UNIDIRECTIONAL, 0.2);
  double mean[9] = {0}, q[9];
  for (int i = 0; i < 8; i++) {
    assert_ok(rw_lamina_stiffness(&along, i * quarter_turn / 4, q, &err), &err);
    for (size_t k = 0; k < 9; k++)
      mean[k] += q[k] / 8;
  }
  assert_ok(rw_lamina_stiffness(&mat, 0.3, q, &err), &err);
  for (size_t k = 0; k < 9; k++)
    assert_close(q[k] / 1e9, mean[k] / 1e9, 1e-9);
}

static void cloth_mass_stays(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth c = cloth(RW_PLAIN);
  c.fibre_density = 2600;
  rw_fibre f = fibre();
  rw_matrix m = matrix();
  rw_lamina ply;
  double thickness;
  assert_ok(rw_lamina_cloth(&c, &f, &m, 0.42, &ply, &err), &err);
  assert_ok(rw_cloth_thickness(&c, 0.42, &thickness, &err), &err);
  double resin = thickness * (1 - 0.42) * m.density;
  assert_close_rel(thickness * ply.density, c.areal_mass + resin, 1e-12);
}

static void cloth_is_checked(void **state)
{
  (void)state;
  rw_error err;
  rw_cloth c = cloth(RW_PLAIN);
  rw_fibre f = fibre();
  rw_matrix m = matrix();
  rw_lamina ply = {.density = 7};
  const double bad[] = {0, -0.2, NAN, rw_weave_limit(RW_PLAIN) + 0.01};
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    assert_status(rw_lamina_cloth(&c, &f, &m, bad[i], &ply, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "volume_share");
  }
  c.areal_mass = -1;
  assert_status(rw_lamina_cloth(&c, &f, &m, 0.4, &ply, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.function, "rw_lamina_cloth");
  c = cloth(RW_PLAIN);
  f.E1 = NAN;
  assert_status(rw_lamina_cloth(&c, &f, &m, 0.4, &ply, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "f.E1");
  f = fibre();
  m.density = 0;
  assert_status(rw_lamina_cloth(&c, &f, &m, 0.4, &ply, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "m.density");
  assert_status(rw_lamina_cloth(NULL, &f, &m, 0.4, &ply, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_lamina_cloth(&c, NULL, &m, 0.4, &ply, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_lamina_cloth(&c, &f, NULL, 0.4, &ply, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_lamina_cloth(&c, &f, &m, 0.4, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_true(ply.density == 7);
}

static void materials_are_found(void **state)
{
  (void)state;
  rw_error err;
  rw_fibre f;
  rw_matrix m;
  rw_lamina wood, ply;
  double spread = -1;
  assert_ok(rw_fibre_find("e-glass", &f, &err), &err);
  assert_true(f.density >= 2400 && f.density <= 2600 && f.E1 >= 70e9 && f.E1 <= 76e9);
  assert_true(f.strength >= 2e9 && f.strength <= 3.5e9);
  assert_ok(rw_matrix_find("cured-epoxy", &m, &err), &err);
  assert_true(m.density >= 1150 && m.density <= 1300 && m.E >= 2.5e9 && m.E <= 4e9);
  assert_ok(rw_lamina_unidirectional(&f, &m, 0.45, &ply, &err), &err);
  assert_ok(rw_lamina_wood("western-redcedar", &wood, &spread, &err), &err);
  assert_ok(rw_lamina_check(&wood, &err), &err);
  assert_true(spread > 0 && spread < 0.5);
  assert_true(wood.E2 < wood.E1 / 5 && wood.Xt > 0 && wood.Xc > 0 && wood.Yc > 0);
  assert_ok(rw_lamina_wood("western-redcedar", &wood, NULL, &err), &err);
}

static double property(rw_material_kind kind, const char *name, const char *field)
{
  rw_error err;
  const rw_material *m;
  const rw_property *p;
  assert_ok(rw_material_find(kind, name, &m, &err), &err);
  assert_ok(rw_material_property(m, field, &p, &err), &err);
  return p->value;
}

static void each_field_comes_from_its_property(void **state)
{
  (void)state;
  rw_error err;
  rw_fibre f;
  rw_matrix m;
  rw_lamina w;
  assert_ok(rw_fibre_find("carbon", &f, &err), &err);
  assert_true(f.density == property(RW_FIBRE, "carbon", "density"));
  assert_true(f.E1 == property(RW_FIBRE, "carbon", "E1"));
  assert_true(f.E2 == property(RW_FIBRE, "carbon", "E2"));
  assert_true(f.G12 == property(RW_FIBRE, "carbon", "G12"));
  assert_true(f.nu12 == property(RW_FIBRE, "carbon", "nu12"));
  assert_true(f.strength == property(RW_FIBRE, "carbon", "strength"));
  assert_true(f.crush == 0); /* the tables have none */
  assert_ok(rw_fibre_find("aramid", &f, &err), &err);
  assert_true(f.crush == property(RW_FIBRE, "aramid", "crush"));
  assert_ok(rw_matrix_find("cured-epoxy", &m, &err), &err);
  assert_true(m.density == property(RW_RESIN, "cured-epoxy", "density"));
  assert_true(m.E == property(RW_RESIN, "cured-epoxy", "E"));
  assert_true(m.nu == property(RW_RESIN, "cured-epoxy", "nu"));
  assert_true(m.strength == property(RW_RESIN, "cured-epoxy", "strength"));
  const char *cedar = "western-redcedar";
  assert_ok(rw_lamina_wood(cedar, &w, NULL, &err), &err);
  assert_true(w.density == property(RW_WOOD, cedar, "density"));
  assert_true(w.E1 == property(RW_WOOD, cedar, "EL"));
  assert_true(w.E2 == w.E1 * property(RW_WOOD, cedar, "ET_EL"));
  assert_true(w.G12 == w.E1 * property(RW_WOOD, cedar, "GLT_EL"));
  assert_true(w.nu12 == property(RW_WOOD, cedar, "nuLT"));
  assert_true(w.Xt == property(RW_WOOD, cedar, "MOR"));
  assert_true(w.Xc == property(RW_WOOD, cedar, "comp_par"));
  assert_true(w.Yt == property(RW_WOOD, cedar, "tens_perp"));
  assert_true(w.Yc == property(RW_WOOD, cedar, "comp_perp"));
  assert_true(w.S == property(RW_WOOD, cedar, "shear_par"));
}

static void every_fibre_and_wood_is_usable(void **state)
{
  (void)state;
  rw_error err;
  rw_matrix m;
  assert_ok(rw_matrix_find("cured-epoxy", &m, &err), &err);
  const rw_material *at;
  for (size_t i = 0; (at = rw_material_at(RW_FIBRE, i)) != NULL; i++) {
    rw_fibre f;
    rw_lamina ply;
    assert_ok(rw_fibre_find(at->name, &f, &err), &err);
    assert_ok(rw_lamina_unidirectional(&f, &m, 0.4, &ply, &err), &err);
    assert_ok(rw_lamina_check(&ply, &err), &err);
  }
  for (size_t i = 0; (at = rw_material_at(RW_WOOD, i)) != NULL; i++) {
    rw_lamina wood;
    assert_ok(rw_lamina_wood(at->name, &wood, NULL, &err), &err);
    assert_ok(rw_lamina_check(&wood, &err), &err);
    rw_ply ply = {wood, 6e-3, 0};
    rw_stack s = stack_of(&ply, 1);
    double pull[6] = {1};
    rw_first_failure f;
    assert_ok(rw_stack_first_failure(&ply, 1, &s, pull, RW_TSAI_WU, &f, &err), &err);
  }
}

static void unknown_names_are_refused(void **state)
{
  (void)state;
  rw_error err;
  rw_fibre f = {.density = 7};
  rw_matrix m = {.density = 7};
  rw_lamina wood = {.density = 7};
  assert_status(rw_fibre_find("e-glas", &f, &err), RW_ERR_NAME, &err);
  check_explained(&err, "e-glas");
  assert_string_equal(err.function, "rw_fibre_find");
  assert_status(rw_matrix_find("concrete", &m, &err), RW_ERR_NAME, &err);
  check_explained(&err, "concrete");
  assert_string_equal(err.function, "rw_matrix_find");
  assert_status(rw_lamina_wood("balloon", &wood, NULL, &err), RW_ERR_NAME, &err);
  check_explained(&err, "balloon");
  assert_string_equal(err.function, "rw_lamina_wood");
  assert_true(f.density == 7 && m.density == 7 && wood.density == 7);
  assert_status(rw_fibre_find(NULL, &f, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_fibre_find("e-glass", NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_matrix_find(NULL, &m, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_lamina_wood(NULL, &wood, NULL, &err), RW_ERR_ARGUMENT, &err);
}

static void resin_class_has_no_cured_stiffness(void **state)
{
  (void)state;
  rw_error err;
  rw_matrix m = {.density = 7};
  assert_status(rw_matrix_find("slow-polyetheramine", &m, &err), RW_ERR_NAME, &err);
  check_explained(&err, "slow-polyetheramine");
  assert_true(m.density == 7);
}

static void bad_stacks_are_refused(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = ply_material();
  rw_ply ply[201];
  for (size_t i = 0; i < 201; i++)
    ply[i] = (rw_ply){m, 1e-4, 0};
  rw_stack s = {.thickness = 7};
  assert_status(rw_stack_make(ply, 0, &s, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "empty");
  assert_status(rw_stack_make(NULL, 3, &s, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_make(ply, 201, &s, &err), RW_ERR_RANGE, &err);
  assert_status(rw_stack_make(ply, 3, NULL, &err), RW_ERR_ARGUMENT, &err);
  const double bad[] = {0, -1e-4, NAN, HUGE_VAL};
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    ply[1].thickness = bad[i];
    assert_status(rw_stack_make(ply, 3, &s, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "ply[2].thickness");
    assert_string_equal(err.argument, "ply[2].thickness");
    assert_string_equal(err.function, "rw_stack_make");
  }
  ply[1].thickness = 1e-4;
  ply[2].angle = 90;
  assert_status(rw_stack_make(ply, 3, &s, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "ply[3].angle");
  ply[2].angle = 0;
  ply[0].material.nu12 = 5;
  assert_status(rw_stack_make(ply, 3, &s, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "ply[1].nu12");
  assert_true(s.thickness == 7);
  ply[0].material.nu12 = 0.28;
  assert_ok(rw_stack_make(ply, 200, &s, &err), &err);
  assert_close_rel(s.thickness, 0.02, 1e-12);
  assert_close_rel(s.areal_mass, 0.02 * 1900, 1e-12);
}

static void hopeless_numbers_are_refused(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = ply_material();
  rw_ply ply = {m, 1e-200, 0};
  rw_stack s = {.thickness = 7};
  assert_status(rw_stack_make(&ply, 1, &s, &err), RW_ERR_NUMERIC, &err);
  check_explained(&err, "inverted");
  assert_true(s.thickness == 7);
}

static void stress_place_is_checked(void **state)
{
  (void)state;
  rw_error err;
  rw_ply ply[] = {{ply_material(), 1e-3, 0}, {ply_material(), 1e-3, quarter_turn}};
  double strain[6] = {1e-3}, global[3] = {7}, local[3] = {7};
  assert_status(rw_stack_stress(ply, 2, 2, 0, strain, global, local, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "index");
  assert_status(rw_stack_stress(ply, 2, 0, 1.1, strain, global, local, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "place");
  assert_status(rw_stack_stress(ply, 2, 0, NAN, strain, global, local, &err), RW_ERR_RANGE, &err);
  assert_status(rw_stack_stress(ply, 0, 0, 0, strain, global, local, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_stress(ply, 2, 0, 0, NULL, global, local, &err), RW_ERR_ARGUMENT, &err);
  assert_true(global[0] == 7 && local[0] == 7);
  assert_ok(rw_stack_stress(ply, 2, 0, 0, strain, NULL, NULL, &err), &err);
  assert_ok(rw_stack_stress(ply, 2, 0, 0, strain, global, NULL, &err), &err);
  assert_ok(rw_stack_stress(ply, 2, 0, 0, strain, NULL, local, &err), &err);
  assert_memory_equal(global, local, sizeof global);
}

static void strip_says_its_limits(void **state)
{
  (void)state;
  rw_error err;
  rw_ply ply = {ply_material(), 5e-3, 0};
  rw_stack s = stack_of(&ply, 1);
  double w = 7;
  const double bad[] = {0, -1, NAN, HUGE_VAL};
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    assert_status(rw_stack_strip(&s, bad[i], 100, &w, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "span");
  }
  assert_status(rw_stack_strip(&s, 1, NAN, &w, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "load_per_width");
  assert_status(rw_stack_strip(NULL, 1, 1, &w, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_stack_strip(&s, 1, 1, NULL, &err), RW_ERR_ARGUMENT, &err);
  rw_stack empty = {0};
  assert_status(rw_stack_strip(&empty, 1, 1, &w, &err), RW_ERR_RANGE, &err);
  assert_true(w == 7);
  assert_ok(rw_stack_strip(&s, 0.1, 100, &w, &err), &err);
  assert_close_rel(w, 100 * 1e-3 / (48 * 38e9 * 125e-9 / 12), 1e-12);
  assert_ok(rw_stack_strip(&s, 0.1, -100, &w, &err), &err);
  assert_true(w < 0);
  w = 7;
  assert_status(rw_stack_strip(&s, 0.099, 100, &w, &err), RW_OUTSIDE_TESTED, &err);
  check_explained(&err, "shear");
  assert_true(w > 0 && w < 1);
  double least = 0.101 * 48 * s.EIx, most = 0.099 * 48 * s.EIx; /* over a span of 1 m */
  assert_ok(rw_stack_strip(&s, 1, most, &w, &err), &err);
  assert_status(rw_stack_strip(&s, 1, -least, &w, &err), RW_OUTSIDE_TESTED, &err);
  assert_true(w < 0);
  assert_status(rw_stack_strip(&s, 1, least, &w, &err), RW_OUTSIDE_TESTED, &err);
  check_explained(&err, "tenth");
  assert_true(w > 0.1);
  assert_status(rw_stack_strip(&s, 0.099, 100, &w, NULL), RW_OUTSIDE_TESTED, NULL);
}

static void failure_needs_strength_and_load(void **state)
{
  (void)state;
  rw_error err;
  rw_ply ply[] = {{ply_material(), 1e-3, 0}, {ply_material(), 1e-3, quarter_turn}};
  rw_stack s = stack_of(ply, 2);
  double load[6] = {1}, none[6] = {0}, odd[6] = {1, 0, 0, NAN};
  rw_first_failure f = {.ply = 7};
  assert_status(rw_stack_first_failure(ply, 2, &s, none, RW_TSAI_WU, &f, &err), RW_ERR_ARGUMENT,
                &err);
  check_explained(&err, "load");
  assert_status(rw_stack_first_failure(ply, 2, &s, odd, RW_TSAI_WU, &f, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "load Mx");
  assert_status(rw_stack_first_failure(ply, 2, &s, load, (rw_criterion)9, &f, &err),
                RW_ERR_ARGUMENT, &err);
  check_explained(&err, "criterion");
  assert_status(rw_stack_first_failure(ply, 0, &s, load, RW_TSAI_WU, &f, &err), RW_ERR_ARGUMENT,
                &err);
  assert_status(rw_stack_first_failure(ply, 2, NULL, load, RW_TSAI_WU, &f, &err), RW_ERR_ARGUMENT,
                &err);
  assert_status(rw_stack_first_failure(ply, 2, &s, NULL, RW_TSAI_WU, &f, &err), RW_ERR_ARGUMENT,
                &err);
  assert_status(rw_stack_first_failure(ply, 2, &s, load, RW_TSAI_WU, NULL, &err), RW_ERR_ARGUMENT,
                &err);
  ply[1].material.Yc = -1;
  assert_status(rw_stack_first_failure(ply, 2, &s, load, RW_TSAI_WU, &f, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "ply[2].Yc");
  ply[1].material.Xt = ply[0].material.Xt = 0;
  assert_status(rw_stack_first_failure(ply, 2, &s, load, RW_TSAI_WU, &f, &err), RW_ERR_ARGUMENT,
                &err);
  check_explained(&err, "strength");
  ply[0].material.Xt = NAN;
  assert_status(rw_stack_first_failure(ply, 2, &s, load, RW_TSAI_WU, &f, &err), RW_ERR_RANGE,
                &err);
  assert_true(f.ply == 7);
}

/* One direction at a time, both criteria give the strength itself. */
static void single_stress_reaches_its_strength(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = ply_material();
  rw_ply ply = {m, 2e-3, 0};
  rw_stack s = stack_of(&ply, 1);
  const struct {
    double load[6];
    double strength;
    rw_mode mode;
  } pull[] = {{{1}, m.Xt, RW_MODE_TENSION_ALONG},     {{-1}, m.Xc, RW_MODE_CRUSH_ALONG},
              {{0, 1}, m.Yt, RW_MODE_TENSION_ACROSS}, {{0, -1}, m.Yc, RW_MODE_CRUSH_ACROSS},
              {{0, 0, 1}, m.S, RW_MODE_SHEAR},        {{0, 0, -1}, m.S, RW_MODE_SHEAR}};
  for (size_t i = 0; i < sizeof pull / sizeof pull[0]; i++) {
    for (int criterion = RW_MAX_STRESS; criterion <= RW_TSAI_WU; criterion++) {
      rw_first_failure f;
      assert_ok(
          rw_stack_first_failure(&ply, 1, &s, pull[i].load, (rw_criterion)criterion, &f, &err),
          &err);
      assert_close_rel(f.factor, pull[i].strength * 2e-3, 1e-9);
      assert_int_equal(f.mode, pull[i].mode);
      assert_int_equal(f.ply, 0);
      assert_int_equal(f.face, -1);
    }
  }
}

static void bending_names_the_face(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = ply_material();
  rw_ply ply[] = {{m, 1e-3, 0}, {m, 1e-3, 0}};
  rw_stack s = stack_of(ply, 2);
  double up[6] = {0, 0, 0, 1}, down[6] = {0, 0, 0, -1};
  rw_first_failure f;
  assert_ok(rw_stack_first_failure(ply, 2, &s, up, RW_MAX_STRESS, &f, &err), &err);
  assert_int_equal(f.ply, 0); /* crushing is the weaker way of this material */
  assert_int_equal(f.face, -1);
  assert_int_equal(f.mode, RW_MODE_CRUSH_ALONG);
  assert_close_rel(f.factor, m.Xc * 4e-6 / 6, 1e-9);
  assert_ok(rw_stack_first_failure(ply, 2, &s, down, RW_MAX_STRESS, &f, &err), &err);
  assert_int_equal(f.ply, 1);
  assert_int_equal(f.face, 1);
}

static void unstressed_ply_never_fails(void **state)
{
  (void)state;
  rw_error err;
  rw_ply ply[] = {{ply_material(), 1e-3, 0}, {ply_material(), 1e-3, 0}};
  ply[0].material.Xt = 0;
  rw_stack s = {.thickness = 2e-3}; /* a compliance of zeros: nothing strains */
  double load[6] = {1};
  rw_first_failure f;
  assert_ok(rw_stack_first_failure(ply, 2, &s, load, RW_TSAI_WU, &f, &err), &err);
  assert_true(isinf(f.factor) && f.factor > 0);
  assert_int_equal(f.mode, RW_MODE_NONE);
  assert_int_equal(f.face, 0);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(lamina_is_checked),
      cmocka_unit_test(indefinite_poisson_is_refused),
      cmocka_unit_test(stiffness_takes_radians),
      cmocka_unit_test(fibre_share_has_limits),
      cmocka_unit_test(constituents_are_checked),
      cmocka_unit_test(strengths_follow_the_description),
      cmocka_unit_test(crimp_lowers_woven_stiffness),
      cmocka_unit_test(cloth_strength_follows_the_description),
      cmocka_unit_test(cloth_is_two_crossed_halves),
      cmocka_unit_test(unidirectional_cloth_is_one_half),
      cmocka_unit_test(mat_is_the_same_every_way),
      cmocka_unit_test(cloth_mass_stays),
      cmocka_unit_test(cloth_is_checked),
      cmocka_unit_test(materials_are_found),
      cmocka_unit_test(each_field_comes_from_its_property),
      cmocka_unit_test(every_fibre_and_wood_is_usable),
      cmocka_unit_test(unknown_names_are_refused),
      cmocka_unit_test(resin_class_has_no_cured_stiffness),
      cmocka_unit_test(bad_stacks_are_refused),
      cmocka_unit_test(hopeless_numbers_are_refused),
      cmocka_unit_test(stress_place_is_checked),
      cmocka_unit_test(strip_says_its_limits),
      cmocka_unit_test(failure_needs_strength_and_load),
      cmocka_unit_test(single_stress_reaches_its_strength),
      cmocka_unit_test(bending_names_the_face),
      cmocka_unit_test(unstressed_ply_never_fails),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
