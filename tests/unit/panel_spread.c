/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How well the answers of panels, strips and arches are known: what follows by hand, and refusals.
 * Materials are invented. */
#include "check.h"

#include <math.h>
#include <string.h>

static const double pi = 3.14159265358979323846;

static rw_ply plank(void)
{
  rw_lamina m = {.density = 400,
                 .E1 = 8e9,
                 .E2 = 0.5e9,
                 .G12 = 0.6e9,
                 .nu12 = 0.3,
                 .Xt = 50e6,
                 .Xc = 30e6,
                 .Yt = 2e6,
                 .Yc = 4e6,
                 .S = 6e6,
                 .G13 = 0.5e9,
                 .G23 = 0.05e9};
  return (rw_ply){m, 8e-3, 0};
}

static rw_ply skin(double thickness)
{
  rw_lamina m = {.density = 1700,
                 .E1 = 18e9,
                 .E2 = 18e9,
                 .G12 = 3e9,
                 .nu12 = 0.15,
                 .Xt = 250e6,
                 .Xc = 200e6,
                 .Yt = 250e6,
                 .Yc = 200e6,
                 .S = 40e6};
  return (rw_ply){m, thickness, 0};
}

/* Plies, their panel, and how far they may be off. */
typedef struct scene {
  rw_ply ply[3];
  size_t n, group[3];
  double relative[2];
  rw_strength_spread strength[2];
  rw_scatter scatter;
  rw_plate plate;
  rw_bent_plate *bent;
} scene;

static void bend(scene *c)
{
  rw_error err;
  rw_stack s;
  rw_plate_load load = {.pressure = 100};
  assert_ok(rw_stack_make(c->ply, c->n, &s, &err), &err);
  assert_true(rw_plate_bend(&s, &c->plate, &load, 1, &c->bent, &err) >= 0);
}

static void one_ply(scene *c)
{
  *c = (scene){.ply = {plank()}, .n = 1, .relative = {0.15}, .plate = {.a = 0.6, .b = 0.4}};
  c->strength[0] = (rw_strength_spread){0.16, 0.18, 0.25, 0.28, 0.14};
  c->scatter = (rw_scatter){c->group, c->relative, c->strength, 1, 0.9, 200, 1};
}

static void three_plies(scene *c, double thickness)
{
  one_ply(c);
  c->ply[0] = c->ply[2] = skin(thickness);
  c->ply[1] = plank();
  c->n = 3;
  c->group[0] = c->group[2] = 1;
  c->relative[1] = 0.2;
  c->strength[1] = (rw_strength_spread){0.44, 0.44, 0.44, 0.44, 0.44};
  c->scatter.groups = 2;
}

static rw_plate_spread spread_of(const scene *c)
{
  rw_error err;
  rw_plate_spread out;
  assert_ok(rw_bent_plate_spread(c->bent, c->ply, c->n, &c->scatter, RW_MAX_STRESS, &out, &err),
            &err);
  return out;
}

/* Values are the panel's own. */
static void values(void **state)
{
  (void)state;
  rw_error err;
  scene c;
  three_plies(&c, 0.2e-3);
  bend(&c);
  rw_plate_spread s = spread_of(&c);
  rw_plate_result r = rw_bent_plate_result(c.bent);
  rw_plate_failure f;
  assert_ok(rw_bent_plate_failure(c.bent, c.ply, 3, RW_MAX_STRESS, &f, &err), &err);
  assert_close_rel(s.deflection.value, r.deepest.deflection, 1e-12);
  assert_close_rel(s.held.value, r.held, 1e-12);
  assert_close_rel(fabs(s.upper.value), fabs(r.surface_strain), 1e-6);
  assert_close_rel(s.lower.value, -s.upper.value, 1e-6); /* pushed in: the last face is pulled */
  assert_true(s.upper.value > 0);
  assert_close_rel(s.failure.factor.value, f.failure.factor, 1e-9);
  assert_int_equal(s.failure.first.ply, f.failure.ply);
  assert_int_equal(s.failure.first.mode, f.failure.mode);
  const rw_panel_range all[] = {s.deflection, s.held, s.lower, s.upper, s.failure.factor};
  for (size_t i = 0; i < sizeof all / sizeof all[0]; i++) {
    assert_true(all[i].low < all[i].value && all[i].value < all[i].high);
    assert_true(all[i].low * all[i].high > 0);
  }
  /* Held edges leave less of the spread: part of the load hangs on the stretched panel. */
  assert_true(s.held.log_sd < s.deflection.log_sd);
  rw_bent_plate_destroy(c.bent);
}

/* Thick skins hold the panel, thin ones do not; wood gives way first by its own strength. */
static void because(void **state)
{
  (void)state;
  scene c;
  three_plies(&c, 1e-3);
  bend(&c);
  rw_plate_spread s = spread_of(&c);
  assert_int_equal(s.deflection.because, 1);
  assert_int_equal(s.upper.because, 1);
  rw_bent_plate_destroy(c.bent);
  three_plies(&c, 1e-5);
  bend(&c);
  s = spread_of(&c);
  assert_int_equal(s.deflection.because, 0);
  assert_int_equal(s.failure.factor.because, 0);
  assert_int_equal(s.failure.factor.strength, 1);
  assert_int_equal(s.failure.first.ply, 1);
  c.scatter.strength = NULL; /* moduli are left: stiffer skins take moment off the wood */
  s = spread_of(&c);
  assert_int_equal(s.failure.factor.strength, 0);
  rw_bent_plate_destroy(c.bent);
}

/* Two plies that bear the same: now one gives way first, now the other. */
static void another_ply_first(void **state)
{
  (void)state;
  scene c;
  one_ply(&c);
  c.ply[0].thickness = 4e-3;
  c.ply[1] = c.ply[0];
  c.n = 2;
  for (size_t i = 0; i < 2; i++) {
    rw_lamina *m = &c.ply[i].material;
    m->Xt = m->Xc = m->Yt = m->Yc = m->S = 2e6;
    c.strength[i] = (rw_strength_spread){0.2, 0.2, 0.2, 0.2, 0.2};
    c.group[i] = i;
    c.relative[i] = 0;
  }
  c.scatter.groups = 2;
  bend(&c);
  rw_plate_spread s = spread_of(&c);
  assert_close(s.failure.other, 0.5, 0.03);
  assert_close(s.failure.next_share, s.failure.other, 1e-12);
  assert_int_equal(s.failure.next.ply, 1 - s.failure.first.ply);
  assert_true(s.deflection.log_sd == 0);
  /* The lesser of two alike: its median lies below what each has for its own. */
  double median = sqrt(s.failure.factor.low * s.failure.factor.high);
  assert_true(median < 0.95 * s.failure.factor.value);
  rw_bent_plate_destroy(c.bent);
}

static void without_draws(void **state)
{
  (void)state;
  scene c;
  one_ply(&c);
  c.ply[0].material.Xt = 0; /* strengths are not needed then */
  c.scatter.draws = 0;
  bend(&c);
  rw_plate_spread s = spread_of(&c);
  assert_true(s.failure.factor.value == 0 && s.failure.factor.high == 0);
  assert_int_equal(s.failure.first.mode, RW_MODE_NONE);
  assert_true(s.deflection.high > s.deflection.value);
  rw_bent_plate_destroy(c.bent);
}

/* One material: a strip and an arch are as uncertain as it, a narrow strip's factor not at all. */
static void strip_and_arch(void **state)
{
  (void)state;
  rw_error err;
  scene c;
  one_ply(&c);
  double sd = sqrt(log1p(0.15 * 0.15));
  rw_strip strip = {.span = 0.5, .shear = 1};
  rw_strip_load load = {.force = -100, .x = 0.25};
  rw_strip_spread s;
  c.scatter.strength = NULL;
  assert_ok(rw_strip_bend_spread(c.ply, 1, &strip, &load, 1, &c.scatter, RW_MAX_STRESS, &s, &err),
            &err);
  assert_close_rel(s.deflection.log_sd, sd, 1e-9);
  assert_close_rel(s.surface_strain.log_sd, sd, 1e-9);
  assert_true(s.deflection.value < 0 && s.deflection.low < s.deflection.value);
  assert_true(s.deflection.high < 0 && s.failure.factor.log_sd < 1e-7);
  double moment = 100 * 0.5 / 4, stress = 6 * moment / (8e-3 * 8e-3);
  assert_close_rel(s.failure.factor.value, 30e6 / stress, 1e-9);
  rw_arch arch = {.span = 0.5, .rise = 0.03};
  assert_ok(rw_arch_bend_spread(c.ply, 1, &arch, 300, 0, &c.scatter, RW_MAX_STRESS, &s, &err),
            &err);
  assert_close_rel(s.deflection.log_sd, sd, 1e-6);
  assert_true(s.failure.factor.log_sd < 1e-7);
}

static void strengths_of_the_tables(void **state)
{
  (void)state;
  rw_error err;
  rw_strength_spread s, before;
  memset(&s, 7, sizeof s);
  before = s;
  assert_status(rw_lamina_wood_strength_spread("oakum", &s, &err), RW_ERR_NAME, &err);
  assert_string_equal(err.function, "rw_lamina_wood_strength_spread");
  assert_memory_equal(&s, &before, sizeof s);
  assert_status(rw_lamina_wood_strength_spread(NULL, &s, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "name");
  assert_status(rw_lamina_wood_strength_spread("okoume", NULL, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "out");
  for (size_t i = 0; rw_material_at(RW_WOOD, i) != NULL; i++) {
    const char *name = rw_material_at(RW_WOOD, i)->name;
    assert_ok(rw_lamina_wood_strength_spread(name, &s, &err), &err);
    const double sd[] = {s.Xt, s.Xc, s.Yt, s.Yc, s.S};
    for (size_t k = 0; k < 5; k++)
      assert_true(sd[k] > 0.1 && sd[k] < 0.4);
    assert_true(s.Yc > s.Xc && s.Xc > s.Xt); /* as all clear wood scatters */
  }
  s = rw_lamina_cloth_strength_spread();
  assert_close(s.Xt, 0.441, 5e-4);
  assert_true(s.Xt == s.Xc && s.Xc == s.Yt && s.Yt == s.Yc && s.Yc == s.S);
}

static void refused(const scene *c, rw_status wanted, const char *argument)
{
  rw_error err;
  rw_plate_spread out, before;
  rw_strip_spread strip, strip_before;
  rw_strip along = {.span = 0.5};
  rw_strip_load load = {.force = 100, .x = 0.25};
  memset(&out, 7, sizeof out);
  memset(&strip, 7, sizeof strip);
  before = out;
  strip_before = strip;
  assert_status(
      rw_bent_plate_spread(c->bent, c->ply, c->n, &c->scatter, RW_MAX_STRESS, &out, &err), wanted,
      &err);
  assert_string_equal(err.argument, argument);
  assert_string_equal(err.function, "rw_bent_plate_spread");
  assert_memory_equal(&out, &before, sizeof out);
  assert_status(rw_strip_bend_spread(c->ply, c->n, &along, &load, 1, &c->scatter, RW_MAX_STRESS,
                                     &strip, &err),
                wanted, &err);
  assert_string_equal(err.argument, argument);
  assert_string_equal(err.function, "rw_strip_bend_spread");
  assert_memory_equal(&strip, &strip_before, sizeof strip);
}

static void refusals(void **state)
{
  (void)state;
  scene good, c;
  three_plies(&good, 0.2e-3);
  bend(&good);
  const scene fresh = good;
#define TRY(change, status, argument)                                                             \
  do {                                                                                            \
    c = fresh;                                                                                    \
    c.scatter.group = c.group;                                                                    \
    c.scatter.relative = c.relative;                                                              \
    c.scatter.strength = c.strength;                                                              \
    change;                                                                                       \
    refused(&c, status, argument);                                                                \
  } while (0)
  TRY(c.scatter.group = NULL, RW_ERR_ARGUMENT, "group");
  TRY(c.scatter.relative = NULL, RW_ERR_ARGUMENT, "relative");
  TRY(c.group[2] = 2, RW_ERR_RANGE, "group[3]");
  TRY(c.relative[1] = -0.1, RW_ERR_RANGE, "relative[2]");
  TRY(c.relative[0] = NAN, RW_ERR_RANGE, "relative[1]");
  TRY(c.strength[1].Yt = 1, RW_ERR_RANGE, "strength[2].Yt");
  TRY(c.strength[0].S = NAN, RW_ERR_RANGE, "strength[1].S");
  TRY(c.scatter.groups = 0, RW_ERR_RANGE, "groups");
  TRY(c.scatter.groups = 17, RW_ERR_RANGE, "groups");
  TRY(c.scatter.level = 1, RW_ERR_RANGE, "level");
  TRY(c.scatter.level = NAN, RW_ERR_RANGE, "level");
  TRY(c.scatter.draws = 99, RW_ERR_RANGE, "draws");
  TRY(c.scatter.draws = 100001, RW_ERR_RANGE, "draws");
  TRY(c.ply[0].thickness = 0, RW_ERR_RANGE, "ply[1].thickness");
  TRY(c.ply[1].material.Yt = 0, RW_ERR_RANGE, "ply[2].Yt");
  TRY(c.n = 0, RW_ERR_ARGUMENT, "ply");
#undef TRY
  rw_bent_plate_destroy(good.bent);
}

static void other_refusals(void **state)
{
  (void)state;
  rw_error err;
  scene c;
  three_plies(&c, 0.2e-3);
  bend(&c);
  rw_plate_spread out;
  rw_strip_spread strip;
  assert_status(rw_bent_plate_spread(NULL, c.ply, 3, &c.scatter, RW_MAX_STRESS, &out, &err),
                RW_ERR_ARGUMENT, &err);
  assert_status(rw_bent_plate_spread(c.bent, c.ply, 3, NULL, RW_MAX_STRESS, &out, &err),
                RW_ERR_ARGUMENT, &err);
  check_explained(&err, "scatter");
  assert_status(rw_bent_plate_spread(c.bent, c.ply, 3, &c.scatter, (rw_criterion)9, &out, &err),
                RW_ERR_ARGUMENT, &err);
  check_explained(&err, "criterion");
  assert_status(rw_bent_plate_spread(c.bent, c.ply, 2, &c.scatter, RW_MAX_STRESS, &out, &err),
                RW_ERR_ARGUMENT, &err);
  check_explained(&err, "stack");
  assert_status(
      rw_strip_bend_spread(c.ply, 3, NULL, NULL, 1, &c.scatter, RW_MAX_STRESS, &strip, &err),
      RW_ERR_ARGUMENT, &err);
  assert_status(rw_arch_bend_spread(c.ply, 3, NULL, 1, 0, &c.scatter, RW_MAX_STRESS, &strip, &err),
                RW_ERR_ARGUMENT, &err);
  rw_arch steep = {.span = 0.5, .rise = 0.2};
  assert_status(
      rw_arch_bend_spread(c.ply, 3, &steep, 1, 0, &c.scatter, RW_MAX_STRESS, &strip, &err),
      RW_ERR_RANGE, &err);
  assert_string_equal(err.function, "rw_arch_bend_spread");
  rw_bent_plate_destroy(c.bent);
  /* An antisymmetric stack that is none when one of its plies alone is stiffer. */
  one_ply(&c);
  c.ply[1] = c.ply[0];
  c.ply[0].angle = pi / 4;
  c.ply[1].angle = -pi / 4;
  c.n = 2;
  c.group[1] = 1;
  c.relative[1] = 0.1;
  c.scatter.groups = 2;
  bend(&c);
  assert_int_equal(rw_bent_plate_result(c.bent).coupling, RW_COUPLING_ANGLE);
  assert_status(rw_bent_plate_spread(c.bent, c.ply, 2, &c.scatter, RW_MAX_STRESS, &out, &err),
                RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "group");
  c.group[1] = 0;
  spread_of(&c);
  rw_bent_plate_destroy(c.bent);
}

int main(void)
{
  const struct CMUnitTest tests[] = {cmocka_unit_test(values),
                                     cmocka_unit_test(because),
                                     cmocka_unit_test(another_ply_first),
                                     cmocka_unit_test(without_draws),
                                     cmocka_unit_test(strip_and_arch),
                                     cmocka_unit_test(refusals),
                                     cmocka_unit_test(strengths_of_the_tables),
                                     cmocka_unit_test(other_refusals)};
  return cmocka_run_group_tests(tests, NULL, NULL);
}
