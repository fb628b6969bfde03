/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold for any fibre and resin: round trips, ends, directions. */
#include "check.h"

#include <math.h>

enum { TRIALS = 2000 };

/* Numbers from 0 to 1, the same in every run (a linear congruence modulo 2^64). */
static double uniform(uint64_t *seed)
{
  *seed = *seed * 6364136223846793005u + 1442695040888963407u;
  return (double)(*seed >> 11) / 9007199254740992.0;
}

static double between(uint64_t *seed, double low, double high)
{
  return low + (high - low) * uniform(seed);
}

static double volume(double g, double fibre, double resin)
{
  rw_error err;
  double v = NAN;
  assert_ok(rw_fibre_volume_share(g, fibre, resin, &v, &err), &err);
  return v;
}

static double mass(double v, double fibre, double resin)
{
  rw_error err;
  double g = NAN;
  assert_ok(rw_fibre_mass_share(v, fibre, resin, &g, &err), &err);
  return g;
}

static double density(double g, double fibre, double resin)
{
  rw_error err;
  double d = NAN;
  assert_ok(rw_laminate_density(g, fibre, resin, &d, &err), &err);
  return d;
}

static void shares_come_back(void **state)
{
  (void)state;
  uint64_t seed = 1;
  for (int k = 0; k < TRIALS; k++) {
    double fibre = between(&seed, 900, 8000), resin = between(&seed, 1000, 1400);
    double g = uniform(&seed);
    double v = volume(g, fibre, resin);
    assert_close(mass(v, fibre, resin), g, 1e-12);
    assert_close(volume(mass(g, fibre, resin), fibre, resin), g, 1e-12);
    /* By volume: density is the mean of both, weighted. */
    assert_close_rel(density(g, fibre, resin), v * fibre + (1 - v) * resin, 1e-12);
    assert_true(volume(fmin(g + 0.01, 1), fibre, resin) > v || g >= 1);
  }
}

static void ends_are_exact(void **state)
{
  (void)state;
  uint64_t seed = 2;
  for (int k = 0; k < TRIALS; k++) {
    double fibre = between(&seed, 900, 8000), resin = between(&seed, 1000, 1400);
    assert_close(volume(0, fibre, resin), 0, 0);
    assert_close(volume(1, fibre, resin), 1, 0);
    assert_close(mass(0, fibre, resin), 0, 0);
    assert_close(mass(1, fibre, resin), 1, 0);
    assert_close_rel(density(0, fibre, resin), resin, 1e-15);
    assert_close_rel(density(1, fibre, resin), fibre, 1e-15);
    double g = uniform(&seed);
    assert_close(volume(g, fibre, fibre), g, 1e-15);
  }
}

static rw_cloth random_cloth(uint64_t *seed)
{
  rw_weave weave = (rw_weave)(int)between(seed, RW_PLAIN, RW_MAT + 0.999);
  double limit = rw_weave_limit(weave), w = between(seed, 0.02, 1.2);
  double fibre = between(seed, 1200, 2700);
  return (rw_cloth){.areal_mass = w,
                    .fibre_density = fibre,
                    .weave = weave,
                    .crown = w / fibre * between(seed, 1.01, 4),
                    .hand = {limit * between(seed, 0.3, 0.7), 0.03},
                    .bagged = {limit * between(seed, 0.7, 1), 0.03}};
}

/* Fibre and resin fill the thickness; more fibre, thinner and drier. */
static void cloth_is_filled(void **state)
{
  (void)state;
  uint64_t seed = 3;
  for (int k = 0; k < TRIALS; k++) {
    rw_error err;
    rw_cloth c = random_cloth(&seed);
    double resin = between(&seed, 1000, 1400), thick, thin;
    rw_value wet, dry;
    assert_ok(rw_cloth_check(&c, &err), &err);
    assert_ok(rw_cloth_thickness(&c, c.hand.value, &thick, &err), &err);
    assert_ok(rw_cloth_thickness(&c, c.bagged.value, &thin, &err), &err);
    assert_ok(rw_cloth_resin(&c, c.hand, resin, &wet, &err), &err);
    assert_ok(rw_cloth_resin(&c, c.bagged, resin, &dry, &err), &err);
    assert_close_rel(c.areal_mass / c.fibre_density + wet.value / resin, thick, 1e-12);
    assert_true(thin <= thick && dry.value <= wet.value && dry.value > 0 && wet.sd > 0);
    double limit = rw_weave_limit(c.weave), t = -1;
    assert_ok(rw_cloth_thickness(&c, limit, &t, &err), &err);
    t = -1;
    assert_status(rw_cloth_thickness(&c, limit * (1 + 1e-9), &t, &err), RW_ERR_RANGE, &err);
    assert_close(t, -1, 0);
  }
}

/* Cloth and fill together hold the same resin however much the cloth took, while crowns show. */
static void fill_makes_up_for_the_cloth(void **state)
{
  (void)state;
  uint64_t seed = 4;
  for (int k = 0; k < TRIALS; k++) {
    rw_error err;
    rw_cloth c = random_cloth(&seed);
    double resin = between(&seed, 1000, 1400), t;
    rw_value in, on, cover = {between(&seed, 0, 2e-4), 1e-5};
    assert_ok(rw_cloth_resin(&c, c.hand, resin, &in, &err), &err);
    assert_ok(rw_cloth_fill(&c, c.hand, resin, cover, &on, &err), &err);
    assert_ok(rw_cloth_thickness(&c, c.hand.value, &t, &err), &err);
    double top = fmax(c.crown, t) + cover.value;
    assert_close_rel(in.value + on.value, resin * (top - c.areal_mass / c.fibre_density), 1e-12);
    assert_true(on.value >= resin * cover.value && on.sd >= resin * cover.sd * (1 - 1e-15));
  }
}

static void waste_only_adds(void **state)
{
  (void)state;
  uint64_t seed = 5;
  for (int k = 0; k < TRIALS; k++) {
    rw_error err;
    rw_uptake u = {.soak = {uniform(&seed), 0.1 * uniform(&seed)},
                   .cloth = {uniform(&seed), 0.1 * uniform(&seed)},
                   .fill = {uniform(&seed), 0.1 * uniform(&seed)},
                   .waste = {0, 0}};
    rw_value clean, mixed;
    assert_ok(rw_uptake_mixed(&u, &clean, &err), &err);
    assert_close_rel(clean.value, u.soak.value + u.cloth.value + u.fill.value, 1e-15);
    u.waste = (rw_value){between(&seed, 0.01, 0.9), 0.02};
    assert_ok(rw_uptake_mixed(&u, &mixed, &err), &err);
    assert_close_rel(mixed.value * (1 - u.waste.value), clean.value, 1e-13);
    assert_true(mixed.value > clean.value && mixed.sd > clean.sd);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(shares_come_back),
      cmocka_unit_test(ends_are_exact),
      cmocka_unit_test(cloth_is_filled),
      cmocka_unit_test(waste_only_adds),
      cmocka_unit_test(fill_makes_up_for_the_cloth),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
