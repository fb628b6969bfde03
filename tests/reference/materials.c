/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The materials shipped against the published rows: points in the unit they were printed in, and
 * spans of several tables. */
#include "check.h"

#include <math.h>
#include <string.h>

static const double psi = 0.45359237 * 9.80665 / (0.0254 * 0.0254);
static const double lb_ft3 = 0.45359237 / (0.3048 * 0.3048 * 0.3048);
static const double oz_yd2 = 0.45359237 / 16.0 / (0.9144 * 0.9144);

static double value_of(rw_material_kind kind, const char *name, const char *property)
{
  const rw_material *m = NULL;
  const rw_property *p = NULL;
  rw_error err = {0};
  assert_ok(rw_material_find(kind, name, &m, &err), &err);
  assert_ok(rw_material_property(m, property, &p, &err), &err);
  return p->value;
}

struct point {
  const char *id;
  rw_material_kind kind;
  const char *name;
  const char *property;
  double unit; /* of the printed value, SI */
};

static void printed_values(void **state)
{
  (void)state;
  const struct point points[] = {
      {"e-glass-E1", RW_FIBRE, "e-glass", "E1", 1e9},
      {"e-glass-density", RW_FIBRE, "e-glass", "density", 1.0},
      {"s-glass-E1", RW_FIBRE, "s-glass", "E1", 1e9},
      {"s-glass-strength", RW_FIBRE, "s-glass", "strength", 1e6},
      {"carbon-E2", RW_FIBRE, "carbon", "E2", 1e9},
      {"aramid-G12", RW_FIBRE, "aramid", "G12", 1e9},
      {"e-glass-expansion", RW_FIBRE, "e-glass", "expansion", 1e-6},
      {"s-glass-expansion", RW_FIBRE, "s-glass", "expansion", 1e-6},
      {"carbon-expansion", RW_FIBRE, "carbon", "expansion", 1e-6},
      {"carbon-expansion-across", RW_FIBRE, "carbon", "expansion_across", 1e-6},
      {"aramid-expansion", RW_FIBRE, "aramid", "expansion", 1e-6},
      {"aramid-expansion-across", RW_FIBRE, "aramid", "expansion_across", 1e-6},
      {"epoxy-density", RW_RESIN, "cured-epoxy", "density", 1.0},
      {"hand-share", RW_CLOTH, "glass-203-plain", "vf_hand", 0.01},
      {"bagged-share", RW_CLOTH, "glass-203-plain", "vf_bagged", 0.01},
      {"6oz-mass", RW_CLOTH, "glass-203-plain", "areal_mass", oz_yd2},
      {"5oz-aramid-mass", RW_CLOTH, "aramid-170-plain", "areal_mass", oz_yd2},
      {"satin-mass", RW_CLOTH, "glass-302-satin", "areal_mass", oz_yd2},
      {"78-thickness", RW_CLOTH, "glass-78-plain", "crown", 1e-3},
      {"white-cedar-MOE", RW_WOOD, "northern-white-cedar", "MOE", 1e6},
      {"white-cedar-MOR", RW_WOOD, "northern-white-cedar", "MOR", 1e3},
      {"white-cedar-ET", RW_WOOD, "northern-white-cedar", "ET_EL", 1.0},
      {"white-cedar-GLT", RW_WOOD, "northern-white-cedar", "GLT_EL", 1.0},
      {"white-cedar-nuLT", RW_WOOD, "northern-white-cedar", "nuLT", 1.0},
      {"white-cedar-tension", RW_WOOD, "northern-white-cedar", "tens_perp", 1e3},
      {"douglas-fir-MOR", RW_WOOD, "douglas-fir", "MOR", 1e3},
      {"douglas-fir-MOE", RW_WOOD, "douglas-fir", "MOE", 1e6},
      {"douglas-fir-density", RW_WOOD, "douglas-fir", "density", lb_ft3},
      {"douglas-fir-ET", RW_WOOD, "douglas-fir", "ET_EL", 1.0},
      {"douglas-fir-GLT", RW_WOOD, "douglas-fir", "GLT_EL", 1.0},
      {"douglas-fir-nuLT", RW_WOOD, "douglas-fir", "nuLT", 1.0},
      {"redcedar-density", RW_WOOD, "western-redcedar", "density", lb_ft3},
      {"redcedar-MOE", RW_WOOD, "western-redcedar", "MOE", 1e3 * psi},
      {"redcedar-MOR", RW_WOOD, "western-redcedar", "MOR", psi},
      {"redcedar-shrinkage", RW_WOOD, "western-redcedar", "shrink_tangential", 0.01},
      {"spruce-density", RW_WOOD, "sitka-spruce", "density", 1.0},
      {"yellow-cedar-MOE", RW_WOOD, "alaska-cedar", "MOE", 1e3 * psi},
      {"okoume-MOE", RW_WOOD, "okoume", "MOE", 1e3 * psi},
      {"okoume-crushing", RW_WOOD, "okoume", "comp_par", psi},
      {"okoume-density", RW_WOOD, "okoume", "density", lb_ft3},
      {"basswood-MOE", RW_WOOD, "basswood", "MOE", 1e6 * psi},
      {"basswood-crushing", RW_WOOD, "basswood", "comp_par", psi},
      {"basswood-shear", RW_WOOD, "basswood", "shear_par", psi},
      {"basswood-bearing", RW_WOOD, "basswood", "comp_perp", psi},
      {"white-pine-MOR", RW_WOOD, "eastern-white-pine", "MOR", psi},
      {"paulownia-MOE", RW_WOOD, "paulownia", "MOE", 1e6},
      {"paulownia-density", RW_WOOD, "paulownia", "density", 1e3},
      {"hexagonal", RW_CLOTH, "default-unidirectional", "limit", 1.0},
  };
  for (size_t i = 0; i < sizeof points / sizeof points[0]; i++)
    check_point("data", points[i].id,
                value_of(points[i].kind, points[i].name, points[i].property) / points[i].unit);
  check_all_points_used("data");
}

static double fibre_unit(const char *property)
{
  if (strcmp(property, "density") == 0)
    return 1e3;
  if (strcmp(property, "strength") == 0)
    return 1e6;
  if (strncmp(property, "expansion", strlen("expansion")) == 0)
    return 1e-6;
  return strcmp(property, "nu12") == 0 ? 1.0 : 1e9;
}

/* Glass has one modulus: what is printed as E1 and as E2 are values of it. */
static int is_about(const char *fibre, const char *printed, const char *property)
{
  if (strstr(fibre, "-glass") != NULL && printed[0] == 'E' && property[0] == 'E')
    return 1;
  return strcmp(printed, property) == 0;
}

/* Least and greatest printed value of one property of one fibre; count of rows. */
static size_t span(const rw_table *t, const char *fibre, const char *property, double *low,
                   double *high)
{
  size_t n = 0;
  *low = HUGE_VAL;
  *high = -HUGE_VAL;
  for (size_t r = 0; r < rw_table_rows(t); r++) {
    if (strcmp(check_text(t, r, "fibre"), fibre) != 0 ||
        !is_about(fibre, check_text(t, r, "property"), property))
      continue;
    *low = fmin(*low, check_cell(t, r, "low"));
    *high = fmax(*high, check_cell(t, r, "high"));
    n++;
  }
  return n;
}

static void fibres_lie_inside_what_was_read(void **state)
{
  (void)state;
  rw_table *t = check_table("table_fibres");
  size_t compared = 0;
  for (size_t r = 0; r < rw_table_rows(t); r++) {
    const char *fibre = check_text(t, r, "fibre"), *property = check_text(t, r, "property");
    double low, high, ours = value_of(RW_FIBRE, fibre, property) / fibre_unit(property);
    assert_true(span(t, fibre, property, &low, &high) > 0);
    if (!(ours >= low - 1e-12 * fabs(low) && ours <= high + 1e-12 * fabs(high))) {
      print_error("%s %s: %g is outside %g to %g\n", fibre, property, ours, low, high);
      fail();
    }
    compared++;
  }
  assert_true(compared > 80);
  rw_table_destroy(t);
}

/* The band shipped covers every row read of E1 and density of the glasses: nothing is hidden. */
static void glass_band_covers_what_was_read(void **state)
{
  (void)state;
  static const char *const fibres[] = {"e-glass", "s-glass"};
  static const char *const properties[] = {"density", "E1", "strength", "expansion"};
  rw_table *t = check_table("table_fibres");
  for (size_t i = 0; i < 2; i++) {
    for (size_t j = 0; j < sizeof properties / sizeof properties[0]; j++) {
      const rw_material *m = NULL;
      const rw_property *p = NULL;
      double low, high, unit = fibre_unit(properties[j]);
      assert_ok(rw_material_find(RW_FIBRE, fibres[i], &m, NULL), NULL);
      assert_ok(rw_material_property(m, properties[j], &p, NULL), NULL);
      assert_true(span(t, fibres[i], properties[j], &low, &high) > 0);
      assert_true(p->low <= low * unit * (1 + 1e-12) && p->high >= high * unit * (1 - 1e-12));
    }
  }
  rw_table_destroy(t);
}

static void matrix_lies_inside_what_was_read(void **state)
{
  (void)state;
  static const struct {
    const char *name;
    double unit;
  } properties[] = {{"density", 1.0},  {"E", 1e9},          {"nu", 1.0},
                    {"strength", 1e6}, {"shrinkage", 0.01}, {"expansion", 1e-6}};
  rw_table *t = check_table("table_matrix");
  for (size_t i = 0; i < sizeof properties / sizeof properties[0]; i++) {
    double low = HUGE_VAL, high = -HUGE_VAL;
    for (size_t r = 0; r < rw_table_rows(t); r++) {
      if (strcmp(check_text(t, r, "property"), properties[i].name) != 0)
        continue;
      low = fmin(low, check_cell(t, r, "value"));
      high = fmax(high, check_cell(t, r, "value"));
    }
    double ours = value_of(RW_RESIN, "cured-epoxy", properties[i].name) / properties[i].unit;
    assert_true(ours >= low * (1 - 1e-12) && ours <= high * (1 + 1e-12));
  }
  rw_table_destroy(t);
}

/* Across the grain the woods follow the handbook's lines over the oven-dry specific gravity,
 * worked out from density and shrinkage to the digits kept. */
static void woods_expand_by_their_density(void **state)
{
  (void)state;
  size_t woods = 0;
  const rw_material *m;
  for (; (m = rw_material_at(RW_WOOD, woods)) != NULL; woods++) {
    double t = value_of(RW_WOOD, m->name, "shrink_tangential");
    double r = value_of(RW_WOOD, m->name, "shrink_radial");
    double from_12 = (1 - 0.6 * t) * (1 - 0.6 * r) / ((1 - t) * (1 - r));
    double dry = value_of(RW_WOOD, m->name, "density") / 1120 * from_12;
    assert_true(dry > 0.1 && dry < 0.8);
    assert_close(value_of(RW_WOOD, m->name, "expand_tangential") / 1e-6, 32.4 * dry + 18.4, 0.051);
    assert_close(value_of(RW_WOOD, m->name, "expand_radial") / 1e-6, 32.4 * dry + 9.9, 0.051);
  }
  assert_int_equal(woods, 12);
}

/* Mass per area of straight yarns: counts per inch times mass per length, kg/m2. */
static double straight_yarns(const rw_table *t, size_t r)
{
  static const double pound_per_yard = 0.45359237 / 0.9144;
  double warp =
      check_cell(t, r, "warp") * check_cell(t, r, "warp_strands") / check_cell(t, r, "warp_yarn");
  double fill =
      check_cell(t, r, "fill") * check_cell(t, r, "fill_strands") / check_cell(t, r, "fill_yarn");
  return (warp + fill) * pound_per_yard / 0.0254;
}

/* Remembered styles: a loose band, and whether our cloths stand among them. */
static void cloths_stand_among_remembered_styles(void **state)
{
  (void)state;
  rw_table *t = check_table("table_fabrics");
  assert_true(rw_table_rows(t) == 10);
  for (size_t r = 0; r < rw_table_rows(t); r++) {
    double mass = check_cell(t, r, "mass") / 1000.0;
    double ratio = mass / straight_yarns(t, r);
    if (!(ratio > 1.0 && ratio < 1.07)) {
      print_error("style %s: %g\n", check_text(t, r, "style"), ratio);
      fail();
    }
    char name[64] = "default-";
    strncat(name, check_text(t, r, "weave"), sizeof name - sizeof "default-");
    const rw_material *m = NULL;
    const rw_property *p = NULL;
    assert_ok(rw_material_find(RW_CLOTH, name, &m, NULL), NULL);
    assert_ok(rw_material_property(m, "crown_per_mass", &p, NULL), NULL);
    double pressed = check_cell(t, r, "thickness") / 1000.0 / mass;
    assert_true(pressed > 0.99 * p->low && pressed < p->high);
    /* Style 7628 is the remembered cloth of 6 oz/yd2; 1581 and 7781 the satin of 8.9. */
    if (strcmp(check_text(t, r, "style"), "7628") == 0)
      assert_close_rel(value_of(RW_CLOTH, "glass-203-plain", "areal_mass"), mass, 0.02);
    if (strcmp(check_text(t, r, "style"), "1581") == 0)
      assert_close_rel(value_of(RW_CLOTH, "glass-302-satin", "areal_mass"), mass, 0.02);
  }
  rw_table_destroy(t);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(printed_values),
      cmocka_unit_test(fibres_lie_inside_what_was_read),
      cmocka_unit_test(glass_band_covers_what_was_read),
      cmocka_unit_test(matrix_lies_inside_what_was_read),
      cmocka_unit_test(woods_expand_by_their_density),
      cmocka_unit_test(cloths_stand_among_remembered_styles),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
