/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Laps, scarfs, layers of a repair, doublings: closed forms, limits, refusals by name. */
#include "check.h"

#include <math.h>
#include <string.h>

static const rw_bond bond = {.force = 60e3,
                             .EA1 = 18e9 * 0.25e-3,
                             .EA2 = 18e9 * 0.5e-3,
                             .G = 1e9,
                             .thickness = 0.2e-3,
                             .strength = 15e6};

static rw_lap lap_at(const rw_bond *b, double length)
{
  rw_error err;
  rw_lap lap;
  assert_ok(rw_lap_at(b, length, &lap, &err), &err);
  return lap;
}

/* Equal skins: peak over average is (kL/2) coth(kL/2). */
static void equal_skins(void **state)
{
  (void)state;
  rw_bond b = bond;
  b.EA2 = b.EA1;
  double k = sqrt(b.G / b.thickness * 2 / b.EA1);
  for (int i = 1; i < 7; i++) {
    double L = 2e-3 * pow(2, i);
    rw_lap lap = lap_at(&b, L);
    assert_close_rel(lap.end[0], lap.end[1], 1e-12);
    assert_close_rel(lap.peak / lap.average, k * L / 2 / tanh(k * L / 2), 1e-12);
  }
}

/* The shear adds up to the force: integrated from its differential equation, apart from the
 * closed form, tau and its slope starting as the end says. */
static void balance(void **state)
{
  (void)state;
  double L = 3e-3;
  rw_lap lap = lap_at(&bond, L);
  enum { STEPS = 20000 };
  double h = L / STEPS, force = bond.force, other = 0, tau = lap.end[0], sum = 0;
  for (int i = 0; i < STEPS; i++) {
    double slope = bond.G / bond.thickness * (other / bond.EA2 - force / bond.EA1);
    double middle = tau + slope * h / 2;
    sum += middle * h;
    force -= middle * h;
    other += middle * h;
    double after = bond.G / bond.thickness * (other / bond.EA2 - force / bond.EA1);
    tau += (slope + after) * h / 2;
  }
  assert_close_rel(sum, bond.force, 1e-4);
  assert_close_rel(tau, lap.end[1], 1e-3);
  assert_true(lap.end[0] > lap.end[1]); /* the softer skin's end */
  rw_lap brief = lap_at(&bond, 1e-6), endless = lap_at(&bond, 10);
  assert_close_rel(brief.peak, brief.average, 1e-3);
  double k = sqrt(bond.G / bond.thickness * (1 / bond.EA1 + 1 / bond.EA2));
  assert_close_rel(endless.peak, bond.force * bond.G / bond.thickness / k / bond.EA1, 1e-12);
}

static void lap_lengths(void **state)
{
  (void)state;
  rw_error err = {.code = RW_OK};
  rw_lap average, peak;
  rw_bond b = bond;
  b.force = 6e3;
  double factor = 1.0;
  double endless = lap_at(&b, 10).peak;
  b.strength = 1.2 * endless;
  assert_ok(rw_lap_for(&b, factor, &average, &peak, &err), &err);
  assert_close_rel(average.average, b.strength, 1e-12);
  assert_close_rel(peak.peak, b.strength, 1e-6);
  assert_true(peak.length > average.length);
  assert_ok(rw_lap_for(&b, 1.1, &average, &peak, &err), &err);
  assert_close_rel(average.average, b.strength / 1.1, 1e-12);
  assert_close_rel(peak.peak, b.strength / 1.1, 1e-6);
  b.strength = 0.9 * endless;
  assert_status(rw_lap_for(&b, 1, &average, &peak, &err), RW_NO_SOLUTION, &err);
  assert_string_equal(err.argument, "strength");
  assert_close_rel(peak.peak, endless, 1e-2);
  assert_close_rel(average.average, b.strength, 1e-12);
}

static void scarfs(void **state)
{
  (void)state;
  rw_error err;
  double n, length;
  assert_ok(rw_scarf_for(80e6, 10e6, 6e-3, 1, &n, &length, &err), &err);
  assert_close_rel(80e6 * n / (1 + n * n), 10e6, 1e-12);
  assert_true(n > 7 && n < 8);
  assert_close_rel(length, n * 6e-3, 1e-12);
  assert_ok(rw_scarf_for(10e6, 10e6, 6e-3, 1, &n, &length, &err), &err);
  assert_close(n, 1, 0);
  assert_ok(rw_scarf_for(15e6, 10e6, 6e-3, 1, &n, &length, &err), &err);
  assert_close(n, 1, 0);
  const struct {
    double stress, strength, thickness, factor;
    const char *name;
  } row[] = {{0, 1e7, 1e-3, 1, "stress"},
             {1e7, -1, 1e-3, 1, "strength"},
             {1e7, 1e7, NAN, 1, "thickness"},
             {1e7, 1e7, 1e-3, 0.5, "factor"}};
  for (size_t i = 0; i < 4; i++) {
    double was = n;
    assert_status(rw_scarf_for(row[i].stress, row[i].strength, row[i].thickness, row[i].factor, &n,
                               &length, &err),
                  RW_ERR_RANGE, &err);
    assert_string_equal(err.argument, row[i].name);
    assert_close(n, was, 0);
  }
  assert_status(rw_scarf_for(1e7, 1e7, 1e-3, 1, NULL, &length, &err), RW_ERR_ARGUMENT, &err);
}

static void bad_bonds(void **state)
{
  (void)state;
  const char *name[] = {"force", "EA1", "EA2", "G", "thickness", "strength"};
  for (size_t i = 0; i < 6; i++) {
    rw_bond b = bond;
    double *field[] = {&b.force, &b.EA1, &b.EA2, &b.G, &b.thickness, &b.strength};
    *field[i] = i % 2 ? 0 : NAN;
    rw_error err;
    rw_lap lap, other;
    assert_status(rw_lap_at(&b, 0.05, &lap, &err), RW_ERR_RANGE, &err);
    assert_string_equal(err.argument, name[i]);
    assert_status(rw_lap_for(&b, 2, &lap, &other, &err), RW_ERR_RANGE, &err);
    assert_string_equal(err.argument, name[i]);
    assert_string_equal(err.function, "rw_lap_for");
  }
  rw_error err;
  rw_lap lap, other;
  assert_status(rw_lap_at(&bond, 0, &lap, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "length");
  assert_status(rw_lap_for(&bond, 0, &lap, &other, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "factor");
  assert_status(rw_lap_at(NULL, 1, &lap, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_lap_for(&bond, 1, NULL, &other, &err), RW_ERR_ARGUMENT, &err);
}

static const rw_lamina glass = {.density = 1700,
                                .E1 = 18e9,
                                .E2 = 18e9,
                                .G12 = 3e9,
                                .nu12 = 0.13,
                                .Xt = 300e6,
                                .Xc = 250e6,
                                .Yt = 300e6,
                                .Yc = 250e6,
                                .S = 40e6};
static const rw_lamina wood = {.density = 350,
                               .E1 = 8e9,
                               .E2 = 0.5e9,
                               .G12 = 0.6e9,
                               .nu12 = 0.3,
                               .Xt = 50e6,
                               .Xc = 30e6,
                               .Yt = 2e6,
                               .Yc = 4e6,
                               .S = 6e6};

/* The outer cloth is torn away; a layer of the same brings everything back. */
static void same_layer_again(void **state)
{
  (void)state;
  rw_ply sound[] = {{glass, 0.25e-3, 0}, {wood, 6e-3, 0}, {glass, 0.25e-3, 0}};
  rw_damage d = {.sound = sound,
                 .sound_n = 3,
                 .left = sound + 1,
                 .left_n = 2,
                 .layer = &sound[0],
                 .face = -1,
                 .share = 1,
                 .criterion = RW_MAX_STRESS,
                 .most = 5};
  rw_error err = {.code = RW_OK};
  rw_repair r;
  assert_ok(rw_repair_layers(&d, &r, &err), &err);
  assert_int_equal(r.for_stiffness, 1);
  assert_int_equal(r.for_strength, 1);
  assert_close_rel(r.added_mass, 1700 * 0.25e-3, 1e-12);
  for (size_t k = 0; k < RW_REPAIR_MEASURES; k++) {
    assert_close_rel(r.mended[k], 1, 1e-12);
    assert_true(r.damaged[k] > 0 && r.damaged[k] < 1);
  }
  /* Nothing is gone: no layer. */
  d.left = sound;
  d.left_n = 3;
  assert_ok(rw_repair_layers(&d, &r, &err), &err);
  assert_int_equal(r.for_stiffness + r.for_strength, 0);
  assert_close(r.added_mass, 0, 0);
  /* A thinner layer: twice. */
  rw_ply half = {glass, 0.125e-3, 0};
  d.left = sound + 1;
  d.left_n = 2;
  d.layer = &half;
  assert_ok(rw_repair_layers(&d, &r, &err), &err);
  assert_int_equal(r.for_stiffness, 2);
  /* What cannot be had is said, with how far it comes. */
  d.most = 1;
  assert_status(rw_repair_layers(&d, &r, &err), RW_NO_SOLUTION, &err);
  assert_string_equal(err.argument, "most");
  assert_int_equal(r.for_stiffness, 2);
  assert_true(r.mended[RW_REPAIR_BEND_Y] > r.damaged[RW_REPAIR_BEND_Y] &&
              r.mended[RW_REPAIR_BEND_Y] < 1);
}

/* Strength is that of the weaker way to bend, whichever face the damage is on. */
static void weaker_way(void **state)
{
  (void)state;
  rw_ply sound[] = {{glass, 0.25e-3, 0}, {wood, 6e-3, 0}, {glass, 0.25e-3, 0}};
  rw_damage d = {sound, 3, sound + 1, 2, &sound[0], -1, 1, RW_MAX_STRESS, 5};
  rw_error err = {.code = RW_OK};
  rw_repair r;
  assert_ok(rw_repair_layers(&d, &r, &err), &err);
  rw_stack was, now;
  rw_first_failure f;
  double whole = HUGE_VAL, rest = HUGE_VAL, each[2];
  assert_ok(rw_stack_make(sound, 3, &was, &err), &err);
  assert_ok(rw_stack_make(sound + 1, 2, &now, &err), &err);
  for (int sign = -1; sign <= 1; sign += 2) {
    double load[6] = {0, 0, 0, sign};
    assert_ok(rw_stack_first_failure(sound, 3, &was, load, RW_MAX_STRESS, &f, &err), &err);
    whole = fmin(whole, f.factor);
    assert_ok(rw_stack_first_failure(sound + 1, 2, &now, load, RW_MAX_STRESS, &f, &err), &err);
    rest = fmin(rest, f.factor);
    each[sign > 0] = f.factor;
  }
  assert_true(each[1] > 1.01 * each[0] || each[0] > 1.01 * each[1]);
  assert_close_rel(r.damaged[RW_REPAIR_MOMENT_X], rest / whole, 1e-12);
  /* The other face: the mirror image. */
  rw_damage other = d;
  rw_repair mirror;
  other.left = sound;
  other.face = 1;
  assert_ok(rw_repair_layers(&other, &mirror, &err), &err);
  for (size_t k = 0; k < RW_REPAIR_MEASURES; k++)
    assert_close_rel(mirror.damaged[k], r.damaged[k], 1e-12);
}

/* The pull that stretches a flat orthotropic stack by a unit along x. */
static double pull_at(const rw_stack *s)
{
  return s->A[0] - s->A[1] * s->A[1] / s->A[4];
}

/* Of one material: held flat, a pull is borne by the thickness alone, wherever it lies, and
 * bending by its square. */
static void pulled_flat(void **state)
{
  (void)state;
  rw_ply sound[] = {{wood, 8e-3, 0}}, left[] = {{wood, 4e-3, 0}}, layer[] = {{wood, 1e-3, 0}};
  rw_damage d = {sound, 1, left, 1, layer, -1, 0.7, RW_MAX_STRESS, 8};
  rw_error err = {.code = RW_OK};
  rw_repair r;
  assert_ok(rw_repair_layers(&d, &r, &err), &err);
  const size_t strength = 3, stiffness = 4; /* 6.69 and 7.1 mm are needed */
  assert_int_equal(r.for_strength, strength);
  assert_int_equal(r.for_stiffness, stiffness);
  for (size_t k = 0; k < RW_REPAIR_MEASURES; k++) {
    int power = k < RW_REPAIR_MOMENT_X ? 3 : k < RW_REPAIR_PULL_X ? 2 : 1;
    assert_close_rel(r.damaged[k], pow(0.5, power), 1e-12);
    assert_close_rel(r.mended[k], pow(1, power), 1e-12);
  }
  /* Lopsided and of two materials: the strain is the same all through, the weakest ply decides. */
  rw_ply mixed[] = {{wood, 5e-3, 0}, {glass, 1e-3, 0}};
  d = (rw_damage){mixed, 2, mixed, 2, &mixed[1], 1, 1, RW_MAX_STRAIN, 1};
  assert_ok(rw_repair_layers(&d, &r, &err), &err);
  assert_int_equal(r.for_strength, 0);
  rw_ply twice[] = {{wood, 5e-3, 0}, {glass, 2e-3, 0}};
  rw_damage more = {mixed, 2, twice, 2, &mixed[1], 1, 1, RW_MAX_STRAIN, 1};
  assert_ok(rw_repair_layers(&more, &r, &err), &err);
  rw_stack one, two;
  assert_ok(rw_stack_make(mixed, 2, &one, &err), &err);
  assert_ok(rw_stack_make(twice, 2, &two, &err), &err);
  assert_close_rel(r.damaged[RW_REPAIR_PULL_X], pull_at(&two) / pull_at(&one), 1e-9);
}

static void refused(rw_damage d, rw_status wanted, const char *argument)
{
  rw_error err = {.code = RW_OK};
  rw_repair r, before;
  memset(&r, 7, sizeof r);
  before = r;
  assert_status(rw_repair_layers(&d, &r, &err), wanted, &err);
  assert_string_equal(err.argument, argument);
  assert_string_equal(err.function, "rw_repair_layers");
  assert_memory_equal(&r, &before, sizeof r);
}

static void bad_damage(void **state)
{
  (void)state;
  rw_ply sound[] = {{glass, 0.25e-3, 0}, {wood, 6e-3, 0}};
  rw_ply nothing = {glass, 0, 0};
  rw_damage good = {sound, 2, sound + 1, 1, sound, -1, 1, RW_MAX_STRESS, 5}, d = good;
  d.sound_n = 0;
  refused(d, RW_ERR_ARGUMENT, "sound");
  d = good;
  d.sound = &nothing;
  d.sound_n = 1;
  refused(d, RW_ERR_RANGE, "sound[1].thickness");
  d = good;
  d.left_n = 0;
  refused(d, RW_ERR_ARGUMENT, "left");
  d = good;
  d.left = &nothing;
  refused(d, RW_ERR_RANGE, "left[1].thickness");
  d = good;
  d.layer = NULL;
  refused(d, RW_ERR_ARGUMENT, "layer");
  d.layer = &nothing;
  refused(d, RW_ERR_RANGE, "layer[1].thickness");
  d = good;
  d.face = 0;
  refused(d, RW_ERR_ARGUMENT, "face");
  d = good;
  d.share = 100;
  refused(d, RW_ERR_RANGE, "share");
  d = good;
  d.most = 0;
  refused(d, RW_ERR_RANGE, "most");
  d = good;
  d.criterion = (rw_criterion)99;
  refused(d, RW_ERR_ARGUMENT, "criterion");
  rw_error err;
  rw_repair r;
  assert_status(rw_repair_layers(NULL, &r, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_repair_layers(&good, NULL, &err), RW_ERR_ARGUMENT, &err);
}

static void doublings(void **state)
{
  (void)state;
  rw_ply ply[] = {{glass, 0.25e-3, 0}, {wood, 6e-3, 0}, {glass, 0.25e-3, 0}};
  rw_ply extra[] = {{glass, 0.25e-3, 0}, {glass, 0.3e-3, 0.5}};
  rw_error err = {.code = RW_OK};
  rw_doubling r;
  /* A pull: the doubling takes force, and what is left below it strains less on its side. */
  double bending[6] = {0, 0, 0, 20};
  assert_ok(rw_stack_double(ply, 3, extra, 2, 1, bending, &bond, &r, &err), &err);
  assert_true(r.stiffer_x > 1 && r.stiffer_y > r.stiffer_x);
  assert_close_rel(r.added_mass, 1700 * 0.55e-3, 1e-12);
  assert_close_rel(r.outside[1], -r.outside[0], 1e-12);
  assert_true(r.outside[1] > 0 && r.jump[1] > 1 && r.force > 0 && r.shear > 0);
  /* The other face: the mirror image. */
  rw_doubling m;
  double other[6] = {0, 0, 0, -20};
  assert_ok(rw_stack_double(ply, 3, extra, 2, -1, other, &bond, &m, &err), &err);
  assert_close_rel(m.outside[0], r.outside[1], 1e-12);
  assert_close_rel(m.inside[0], r.inside[1], 1e-12);
  assert_close_rel(m.inside[1], r.inside[0], 1e-12);
  assert_close_rel(m.force, r.force, 1e-12);
  assert_close_rel(m.stiffer_x, r.stiffer_x, 1e-12);
  /* One material doubled by as much of itself: eight times as stiff, a quarter of the strain at
   * its outer face; under a pull through the old middle half the force, with a bend. */
  rw_ply board = {wood, 3e-3, 0};
  assert_ok(rw_stack_double(&board, 1, &board, 1, 1, bending, &bond, &r, &err), &err);
  assert_close_rel(r.stiffer_x, 8, 1e-12);
  assert_close_rel(r.jump[0], 4, 1e-9);
  double k = sqrt(bond.G / bond.thickness * 2 / (8e9 * 3e-3));
  assert_close_rel(r.reach, 3 / k, 1e-12);
  assert_close_rel(r.shear, r.force * k, 1e-12);
  /* Under a moment of M the upper half carries 3/4 M/h. */
  assert_close_rel(r.force, 20 * 0.75 / 3e-3, 1e-9);
  double pull[6] = {1e4};
  assert_ok(rw_stack_double(&board, 1, &board, 1, 1, pull, &bond, &r, &err), &err);
  /* N/2 of the pull, less 3/4 N (h/2)/h of its lever. */
  assert_close_rel(r.force, 1e4 * (0.5 - 0.75 / 2), 1e-9);
}

static void bad_doublings(void **state)
{
  (void)state;
  rw_ply ply = {wood, 6e-3, 0}, extra = {glass, 0.25e-3, 0}, bad = {glass, -1, 0};
  double load[6] = {1e3}, none[6] = {0};
  rw_bond glue = bond;
  rw_error err;
  rw_doubling r;
  assert_status(rw_stack_double(&ply, 0, &extra, 1, 1, load, &glue, &r, &err), RW_ERR_ARGUMENT,
                &err);
  assert_string_equal(err.argument, "ply");
  assert_status(rw_stack_double(&ply, 1, &extra, 0, 1, load, &glue, &r, &err), RW_ERR_ARGUMENT,
                &err);
  assert_string_equal(err.argument, "extra");
  assert_status(rw_stack_double(&ply, 1, &bad, 1, 1, load, &glue, &r, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "extra[1].thickness");
  assert_status(rw_stack_double(&ply, 1, &extra, 1, 0, load, &glue, &r, &err), RW_ERR_ARGUMENT,
                &err);
  assert_string_equal(err.argument, "face");
  assert_status(rw_stack_double(&ply, 1, &extra, 1, 1, none, &glue, &r, &err), RW_ERR_ARGUMENT,
                &err);
  assert_string_equal(err.argument, "load");
  glue.G = 0;
  assert_status(rw_stack_double(&ply, 1, &extra, 1, 1, load, &glue, &r, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "glue.G");
  assert_string_equal(err.function, "rw_stack_double");
  assert_status(rw_stack_double(&ply, 1, &extra, 1, 1, load, NULL, &r, &err), RW_ERR_ARGUMENT,
                &err);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(equal_skins),   cmocka_unit_test(balance),
      cmocka_unit_test(lap_lengths),   cmocka_unit_test(scarfs),
      cmocka_unit_test(bad_bonds),     cmocka_unit_test(same_layer_again),
      cmocka_unit_test(weaker_way),    cmocka_unit_test(pulled_flat),
      cmocka_unit_test(bad_damage),    cmocka_unit_test(doublings),
      cmocka_unit_test(bad_doublings),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
