/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The built-in materials hang together, and a wrong name is answered with the right one. */
#include "check.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const rw_material_kind kinds[] = {RW_FIBRE, RW_CLOTH, RW_WOOD, RW_RESIN};
enum { KINDS = sizeof kinds / sizeof kinds[0] };

static double value_of(const rw_material *m, const char *name)
{
  const rw_property *p = NULL;
  rw_error err = {0};
  assert_ok(rw_material_property(m, name, &p, &err), &err);
  return p->value;
}

static const rw_material *material(rw_material_kind kind, const char *name)
{
  const rw_material *m = NULL;
  rw_error err = {0};
  assert_ok(rw_material_find(kind, name, &m, &err), &err);
  return m;
}

static int has(const rw_material *m, const char *name)
{
  const rw_property *p = NULL;
  return rw_material_property(m, name, &p, NULL) == RW_OK;
}

static void need(const rw_material *m, const char *const *names, size_t n)
{
  for (size_t i = 0; i < n; i++) {
    if (!has(m, names[i])) {
      print_error("%s has no %s\n", m->name, names[i]);
      fail();
    }
  }
}

static int is_default(const rw_material *m)
{
  return strncmp(m->name, "default-", 8) == 0;
}

static void check_property(const rw_material *m, const rw_property *p)
{
  static const char *const standings[] = {"read", "second-hand", "derived", "memory",
                                          "common practice"};
  assert_true(p->name[0] != '\0' && p->source[0] != '\0');
  size_t s = 0;
  while (s < sizeof standings / sizeof standings[0] && strcmp(standings[s], p->standing) != 0)
    s++;
  assert_true(s < sizeof standings / sizeof standings[0]);
  if (!(isfinite(p->low) && isfinite(p->high) && p->sd >= 0.0 && p->low <= p->value &&
        p->value <= p->high)) {
    print_error("%s %s: value or band not usable\n", m->name, p->name);
    fail();
  }
}

/* The unit text is one the library itself reads, and it is the SI one. */
static void check_unit(const rw_property *p)
{
  if (p->unit[0] == '\0')
    return;
  double factor = 0.0, offset = 0.0;
  rw_dim dim;
  rw_error err = {0};
  assert_ok(rw_unit_read(p->unit, strlen(p->unit), &factor, &offset, &dim, &err), &err);
  assert_close(factor, 1.0, 0.0);
  assert_close(offset, 0.0, 0.0);
}

static void every_row_is_whole(void **state)
{
  (void)state;
  for (size_t k = 0; k < KINDS; k++) {
    size_t n = 0;
    for (const rw_material *m; (m = rw_material_at(kinds[k], n)) != NULL; n++) {
      assert_int_equal(m->kind, kinds[k]);
      assert_true(m->name[0] != '\0' && m->title[0] != '\0' && m->count > 0);
      assert_ptr_equal(material(kinds[k], m->name), m);
      for (size_t i = 0; i < m->count; i++) {
        check_property(m, &m->property[i]);
        check_unit(&m->property[i]);
      }
    }
    assert_true(n > 0);
    assert_null(rw_material_at(kinds[k], n));
    assert_null(rw_material_at(kinds[k], (size_t)-1));
  }
}

static void letter_case_is_not_counted(void **state)
{
  (void)state;
  assert_ptr_equal(material(RW_FIBRE, "E-Glass"), material(RW_FIBRE, "e-glass"));
  assert_ptr_equal(material(RW_WOOD, "WESTERN-REDCEDAR"), material(RW_WOOD, "western-redcedar"));
  const rw_material *m = material(RW_FIBRE, "carbon");
  assert_close(value_of(m, "e1"), value_of(m, "E1"), 0.0);
  assert_close(value_of(m, "Density"), value_of(m, "density"), 0.0);
}

static void fibres_are_possible(void **state)
{
  (void)state;
  static const char *const names[] = {"density", "E1", "E2", "nu12", "G12", "strength"};
  const rw_material *m;
  for (size_t i = 0; (m = rw_material_at(RW_FIBRE, i)) != NULL; i++) {
    need(m, names, sizeof names / sizeof names[0]);
    double E1 = value_of(m, "E1"), E2 = value_of(m, "E2"), nu = value_of(m, "nu12");
    assert_true(nu * nu < E1 / E2);
    if (E1 == E2)
      assert_close_rel(value_of(m, "G12"), E1 / (2.0 * (1.0 + nu)), 0.02);
    assert_string_equal(m->weave, "");
    assert_string_equal(m->fibre, "");
  }
}

static void matrix_is_possible(void **state)
{
  (void)state;
  static const char *const names[] = {"density", "E", "nu", "strength", "shrinkage"};
  const rw_material *m = material(RW_RESIN, "cured-epoxy");
  need(m, names, sizeof names / sizeof names[0]);
  assert_true(value_of(m, "nu") > 0.0 && value_of(m, "nu") < 0.5);
}

static const rw_material *default_of(const rw_material *cloth)
{
  char name[64];
  snprintf(name, sizeof name, "default-%s", cloth->weave);
  return material(RW_CLOTH, name);
}

/* "glass-203-plain" weighs 203 g/m2. */
static void check_mass_in_name(const rw_material *m)
{
  const char *at = m->name;
  while (*at != '\0' && !isdigit((unsigned char)*at))
    at++;
  assert_close_rel(value_of(m, "areal_mass"), strtod(at, NULL) / 1000.0, 1e-15);
}

static void check_cloth(const rw_material *m)
{
  static const char *const names[] = {"areal_mass", "crown", "vf_hand", "vf_bagged", "crimp"};
  need(m, names, sizeof names / sizeof names[0]);
  check_mass_in_name(m);
  const rw_material *weave = default_of(m);
  double density = value_of(material(RW_FIBRE, m->fibre), "density");
  double mass = value_of(m, "areal_mass"), hand = value_of(m, "vf_hand");
  assert_true(hand < value_of(m, "vf_bagged"));
  assert_true(value_of(m, "vf_bagged") < value_of(weave, "limit"));
  assert_true(value_of(m, "crimp") >= 0.0 && value_of(m, "crimp") < 0.3);
  /* The crowns of a cloth laid by hand are not under the resin. */
  assert_true(value_of(m, "crown") > 0.99 * mass / (density * hand));
  const rw_property *k = NULL;
  assert_ok(rw_material_property(weave, "crown_per_mass", &k, NULL), NULL);
  if (strcmp(m->fibre, "e-glass") == 0)
    assert_true(value_of(m, "crown") > k->low * mass && value_of(m, "crown") < k->high * mass);
}

static void cloths_hang_together(void **state)
{
  (void)state;
  size_t named = 0;
  const rw_material *m;
  for (size_t i = 0; (m = rw_material_at(RW_CLOTH, i)) != NULL; i++) {
    rw_weave weave;
    rw_error err = {0};
    assert_ok(rw_weave_find(m->weave, &weave, &err), &err);
    assert_ptr_equal(material(RW_FIBRE, m->fibre)->kind, RW_FIBRE);
    int pinned = weave != RW_MAT && weave != RW_UNIDIRECTIONAL;
    assert_int_equal(has(m, "locking_angle"), pinned);
    if (is_default(m))
      continue;
    check_cloth(m);
    named++;
  }
  assert_in_range(named, 15, 60);
}

static void every_weave_has_defaults(void **state)
{
  (void)state;
  static const char *const weaves[] = {"plain",          "twill",   "satin",
                                       "unidirectional", "biaxial", "mat"};
  static const char *const names[] = {"vf_hand", "vf_bagged", "crown_per_mass", "crimp", "limit"};
  for (size_t i = 0; i < sizeof weaves / sizeof weaves[0]; i++) {
    char name[64];
    snprintf(name, sizeof name, "default-%s", weaves[i]);
    const rw_material *m = material(RW_CLOTH, name);
    assert_string_equal(m->weave, weaves[i]);
    need(m, names, sizeof names / sizeof names[0]);
    rw_weave weave;
    assert_ok(rw_weave_find(weaves[i], &weave, NULL), NULL);
    assert_close_rel(value_of(m, "limit"), rw_weave_limit(weave), 1e-15);
  }
}

/* Compliance over 1/EL in the directions L, R, T; the matrix is symmetric by reciprocity. */
static void check_compliance(const rw_material *m)
{
  double er = value_of(m, "ER_EL"), et = value_of(m, "ET_EL");
  double lr = -value_of(m, "nuLR"), lt = -value_of(m, "nuLT"), rt = -value_of(m, "nuRT") / er;
  double two = 1.0 / er - lr * lr;
  double three = 1.0 / (er * et) + 2.0 * lr * rt * lt - rt * rt - lr * lr / et - lt * lt / er;
  if (!(two > 0.0 && three > 0.0 && 1.0 / et - lt * lt > 0.0)) {
    print_error("%s: its elastic constants would give energy away\n", m->name);
    fail();
  }
  /* nuTL = nuLT ET/EL, so that both give the same coupling. */
  double EL = value_of(m, "EL"), tl = value_of(m, "nuLT") * et;
  assert_close_rel(tl / (et * EL), value_of(m, "nuLT") / EL, 1e-14);
  assert_true(tl < value_of(m, "nuLT"));
}

static void woods_are_possible(void **state)
{
  (void)state;
  static const char *const names[] = {
      "density", "MOE",  "EL",       "ET_EL",     "ER_EL",     "GLT_EL",    "GLR_EL", "nuLT",
      "nuLR",    "nuRT", "comp_par", "comp_perp", "shear_par", "tens_perp", "MOR",    "soak"};
  const rw_material *m;
  for (size_t i = 0; (m = rw_material_at(RW_WOOD, i)) != NULL; i++) {
    need(m, names, sizeof names / sizeof names[0]);
    check_compliance(m);
    assert_close_rel(value_of(m, "EL"), 1.1 * value_of(m, "MOE"), 5e-4);
    assert_true(value_of(m, "tens_perp") < value_of(m, "shear_par"));
    assert_true(value_of(m, "comp_par") < value_of(m, "MOR"));
    if (has(m, "shrink_radial"))
      assert_true(value_of(m, "shrink_radial") < value_of(m, "shrink_tangential"));
  }
}

/* What is not written down carries a wider band than what is. */
static void memory_is_less_certain(void **state)
{
  (void)state;
  const rw_property *own = NULL, *borrowed = NULL;
  assert_ok(rw_material_property(material(RW_WOOD, "western-redcedar"), "ET_EL", &own, NULL),
            NULL);
  assert_ok(rw_material_property(material(RW_WOOD, "alaska-cedar"), "ET_EL", &borrowed, NULL),
            NULL);
  assert_close(own->value, borrowed->value, 0.0);
  assert_true(borrowed->sd > 1.4 * own->sd);
  assert_string_equal(borrowed->standing, "memory");
}

static void units_are_si(void **state)
{
  (void)state;
  const rw_property *p = NULL;
  assert_ok(rw_material_property(material(RW_FIBRE, "e-glass"), "density", &p, NULL), NULL);
  assert_string_equal(p->unit, "kg/m3");
  assert_close(p->value, 2540.0, 0.0);
  const rw_material *m = material(RW_CLOTH, "glass-203-plain");
  assert_close(value_of(m, "areal_mass"), 0.203, 0.0);
  assert_ok(rw_material_property(m, "locking_angle", &p, NULL), NULL);
  assert_string_equal(p->unit, "rad");
  assert_close_rel(p->value, 38.0 * 3.14159265358979323846 / 180.0, 1e-15);
  assert_ok(rw_material_property(material(RW_CLOTH, "default-plain"), "crown_per_mass", &p, NULL),
            NULL);
  assert_string_equal(p->unit, "m3/kg");
  assert_close_rel(p->value, 1.05e-3, 1e-15);
  assert_close(value_of(material(RW_WOOD, "western-redcedar"), "shrink_tangential"), 0.05, 0.0);
}

static const rw_material *const untouched = (const rw_material *)&kinds;

static void refuse_material(rw_material_kind kind, const char *name, rw_status wanted,
                            rw_error *err)
{
  const rw_material *m = untouched;
  assert_status(rw_material_find(kind, name, &m, err), wanted, err);
  assert_ptr_equal(m, untouched);
  assert_int_equal(err->code, wanted);
  assert_string_equal(err->function, "rw_material_find");
}

static void a_wrong_name_is_answered(void **state)
{
  (void)state;
  rw_error err = {0};
  refuse_material(RW_FIBRE, "e-glas", RW_ERR_NAME, &err);
  check_explained(&err, "e-glas");
  assert_non_null(strstr(err.hint, "perhaps \"e-glass\""));
  assert_non_null(strstr(err.hint, "there are: e-glass, s-glass"));
  refuse_material(RW_CLOTH, "glass-203-plane", RW_ERR_NAME, &err);
  assert_non_null(strstr(err.hint, "perhaps \"glass-203-plain\""));
  refuse_material(RW_WOOD, "x", RW_ERR_NAME, &err);
  check_explained(&err, "no wood");
  assert_null(strstr(err.hint, "perhaps"));
  assert_non_null(strstr(err.hint, "paulownia"));
  refuse_material(RW_CLOTH, "", RW_ERR_NAME, &err);
  assert_non_null(strstr(err.hint, "list of materials"));
  /* A fibre is no wood. */
  refuse_material(RW_WOOD, "e-glass", RW_ERR_NAME, &err);
  char longest[600];
  memset(longest, 'q', sizeof longest - 1);
  longest[sizeof longest - 1] = '\0';
  refuse_material(RW_RESIN, longest, RW_ERR_NAME, &err);
}

static void a_missing_argument_is_answered(void **state)
{
  (void)state;
  rw_error err = {0};
  refuse_material(RW_FIBRE, NULL, RW_ERR_ARGUMENT, &err);
  check_explained(&err, "name");
  refuse_material((rw_material_kind)4, "e-glass", RW_ERR_ARGUMENT, &err);
  check_explained(&err, "4");
  refuse_material((rw_material_kind)-1, "e-glass", RW_ERR_ARGUMENT, &err);
  assert_status(rw_material_find(RW_FIBRE, "e-glass", NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_null(rw_material_at((rw_material_kind)4, 0));
  assert_null(rw_material_at((rw_material_kind)-1, 0));
  const rw_material *m = untouched;
  assert_status(rw_material_find(RW_FIBRE, "no such", &m, NULL), RW_ERR_NAME, NULL);
  assert_status(rw_material_find((rw_material_kind)9, "e-glass", &m, NULL), RW_ERR_ARGUMENT, NULL);
}

static void a_wrong_property_is_answered(void **state)
{
  (void)state;
  const rw_material *wood = material(RW_WOOD, "okoume");
  const rw_property *const none = (const rw_property *)&kinds;
  const rw_property *p = none;
  rw_error err = {0};
  assert_status(rw_material_property(wood, "densty", &p, &err), RW_ERR_NAME, &err);
  assert_ptr_equal(p, none);
  check_explained(&err, "okoume");
  check_explained(&err, "densty");
  assert_non_null(strstr(err.hint, "perhaps \"density\""));
  /* A short list is written out whole. */
  assert_status(rw_material_property(material(RW_FIBRE, "carbon"), "densty", &p, &err),
                RW_ERR_NAME, &err);
  assert_non_null(strstr(err.hint, "perhaps \"density\""));
  assert_non_null(strstr(err.hint, "strength"));
  assert_status(rw_material_property(wood, "areal_mass", &p, NULL), RW_ERR_NAME, NULL);
  assert_status(rw_material_property(NULL, "density", &p, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "m");
  assert_status(rw_material_property(wood, NULL, &p, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "name");
  assert_status(rw_material_property(wood, "density", NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "out");
  assert_ptr_equal(p, none);
  const rw_material bare = {RW_WOOD, "bare", "made up", "", "", 0, NULL};
  assert_status(rw_material_property(&bare, "density", &p, &err), RW_ERR_NAME, &err);
  assert_string_equal(err.hint, "it has none");
  char longest[400];
  memset(longest, 'q', sizeof longest - 1);
  longest[sizeof longest - 1] = '\0';
  const rw_property odd = {longest, "", 1.0, 0.0, 1.0, 1.0, "memory", "memory"};
  const rw_material strange = {RW_WOOD, "strange", "made up", "", "", 1, &odd};
  assert_status(rw_material_property(&strange, longest + 1, &p, &err), RW_ERR_NAME, &err);
  assert_true(strlen(err.hint) < sizeof err.hint - 1);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(every_row_is_whole),
      cmocka_unit_test(letter_case_is_not_counted),
      cmocka_unit_test(fibres_are_possible),
      cmocka_unit_test(matrix_is_possible),
      cmocka_unit_test(cloths_hang_together),
      cmocka_unit_test(every_weave_has_defaults),
      cmocka_unit_test(woods_are_possible),
      cmocka_unit_test(memory_is_less_certain),
      cmocka_unit_test(units_are_si),
      cmocka_unit_test(a_wrong_name_is_answered),
      cmocka_unit_test(a_missing_argument_is_answered),
      cmocka_unit_test(a_wrong_property_is_answered),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
