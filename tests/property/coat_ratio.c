/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold for any coat and any ratio: inverses, directions, symmetries. */
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

static double spread(uint64_t *seed, double low, double high)
{
  return low * pow(high / low, uniform(seed));
}

static void sag_inverts(void **state)
{
  (void)state;
  uint64_t seed = 1;
  for (int k = 0; k < TRIALS; k++) {
    rw_error err;
    double density = between(&seed, 900, 1300), slope = between(&seed, 0.01, 1.57);
    double h = spread(&seed, 1e-5, 2e-3), F = spread(&seed, 1, 1e5), run, back, steep;
    assert_ok(rw_sag_run(density, slope, h, F, &run, &err), &err);
    if (run < 1e-6 || run > 10)
      continue;
    assert_ok(rw_sag_thickness(density, slope, run, F, &back, &err), &err);
    assert_close_rel(back, h, 1e-12);
    if (2 * run < 10 && run > 1e-4) {
      assert_ok(rw_sag_held(density, slope, 2 * run, F, &back, &err), &err);
      assert_close_rel(back, h, 1e-12);
    }
    assert_ok(rw_sag_slope(density, h, run, F, &steep, &err), &err);
    /* Near upright the arc sine is flat. */
    assert_close(sin(steep), sin(slope), 1e-12);
  }
}

/* A run is the surface speed times the time while the viscosity stays. */
static void run_is_speed_times_time(void **state)
{
  (void)state;
  uint64_t seed = 2;
  for (int k = 0; k < TRIALS; k++) {
    rw_error err;
    double density = between(&seed, 900, 1300), slope = between(&seed, 0, 1.57);
    double h = spread(&seed, 1e-5, 2e-3), mu = spread(&seed, 0.1, 100), run, left, time, rise, v;
    double span = spread(&seed, 1, 1e5);
    rw_film_flow f;
    assert_true(rw_film_flow_of(density, mu, h, slope, &f, &err) >= 0);
    assert_ok(rw_sag_run(density, slope, h, span / mu, &run, &err), &err);
    assert_close_rel(run, f.surface * span, 1e-12);
    double L = h * between(&seed, 10, 100);
    assert_ok(rw_levelling_left(L, 0.035, h, span / mu, &left, &err), &err);
    if (left > 1e-9 && left < 0.999) {
      double longest;
      assert_ok(rw_levelling_time(mu, L, 0.035, h, left, &time, &err), &err);
      assert_close_rel(time, span, 1e-9);
      assert_ok(rw_levelling_wavelength(0.035, h, span / mu, left, &longest, &err), &err);
      assert_close_rel(longest, L, 1e-9);
    }
    rw_bubble_surface s = k % 2 ? RW_BUBBLE_CLEAN : RW_BUBBLE_RIGID;
    double r = spread(&seed, 1e-6, 1e-3), least;
    assert_true(rw_bubble_speed(density, mu, r, s, &v, &err) >= 0);
    assert_ok(rw_bubble_rise(density, slope, r, s, span / mu, &rise, &err), &err);
    assert_close(rise, v * span * cos(slope), 1e-12 * v * span);
    if (rise > 1e-6 && rise < 0.1) {
      assert_ok(rw_bubble_radius(density, slope, rise, s, span / mu, &least, &err), &err);
      assert_close_rel(least, r, 1e-9);
    }
  }
}

static void amounts_come_back(void **state)
{
  (void)state;
  uint64_t seed = 3;
  for (int k = 0; k < TRIALS; k++) {
    rw_error err;
    double density = between(&seed, 900, 1300), A = spread(&seed, 0.01, 100);
    double h = spread(&seed, 1e-5, 1e-2), mass, x;
    assert_ok(rw_coat_mass(A, h, density, &mass, &err), &err);
    assert_ok(rw_coat_thickness(mass, A, density, &x, &err), &err);
    assert_close_rel(x, h, 1e-14);
    assert_ok(rw_coat_area(mass, h, density, &x, &err), &err);
    assert_close_rel(x, A, 1e-14);
  }
}

/* Too little and too much are mirror images; nearer to the ratio is never worse. */
static void ratios_mirror(void **state)
{
  (void)state;
  uint64_t seed = 4;
  static const char *const classes[] = {"slow-polyetheramine", "medium-cycloaliphatic",
                                        "fast-polyamine"};
  for (int k = 0; k < TRIALS; k++) {
    rw_error err;
    rw_resin resin;
    assert_ok(rw_resin_find(classes[k % 3], &resin, &err), &err);
    double r = between(&seed, 0.21, 0.94), fa = 4 + k % 3;
    double need = between(&seed, resin.glass.Tg0, resin.glass.Tg_inf);
    rw_value little = {r, r * between(&seed, 0, 0.2)}, much = {1 / r, little.sd / (r * r)};
    rw_ratio_state a, b, nearer;
    assert_ok(rw_ratio_judge(&resin, little, 2, fa, need, &a, &err), &err);
    assert_ok(rw_ratio_judge(&resin, much, 2, fa, need, &b, &err), &err);
    assert_int_equal(a.verdict, b.verdict);
    assert_close_rel(a.Tg.value, b.Tg.value, 1e-12);
    assert_close_rel(a.epoxide, b.amine, 1e-12);
    double sum = 0;
    for (int i = 0; i < RW_RATIO_VERDICTS; i++) {
      assert_true(a.chance[i] >= 0 && a.chance[i] <= 1);
      sum += a.chance[i];
    }
    assert_close(sum, 1, 1e-12);
    little.value += 0.05;
    assert_ok(rw_ratio_judge(&resin, little, 2, fa, need, &nearer, &err), &err);
    assert_true(nearer.Tg.value > a.Tg.value && nearer.verdict <= a.verdict);
    for (int i = 0; i < RW_MILESTONES; i++)
      assert_true(nearer.reach[i] >= a.reach[i]);
    assert_true(a.Tg.low <= a.Tg.value && a.Tg.value <= a.Tg.high);
  }
}

/* The glass transition of the right mix comes out at r = 1, and rises with the conversion. */
static void glass_off_ratio(void **state)
{
  (void)state;
  uint64_t seed = 5;
  rw_glass g = {251, 361, 0.35};
  for (int k = 0; k < TRIALS; k++) {
    rw_error err;
    double a = uniform(&seed), r = between(&seed, 0.2, 4), plain, one, low, high;
    assert_ok(rw_glass_temperature(&g, a, &plain, &err), &err);
    assert_ok(rw_ratio_glass(&g, 1, a, &one, &err), &err);
    assert_close_rel(one, plain, 1e-15);
    a *= fmin(1, r);
    assert_ok(rw_ratio_glass(&g, r, a, &high, &err), &err);
    assert_ok(rw_ratio_glass(&g, r, 0.9 * a, &low, &err), &err);
    assert_true(low <= high && high <= g.Tg_inf);
  }
}

/* Ledgers made by a story are told as that story, or as not to be told: a wrong story is called
 * sure in no more cases than its 5 % allow. */
static void ledgers_are_honest(void **state)
{
  (void)state;
  uint64_t seed = 6;
  enum { N = 10, LEDGERS = 200 };
  int wrong = 0, sure = 0;
  for (int k = 0; k < LEDGERS; k++) {
    rw_batch_note note[N];
    rw_ledger_story truth = (rw_ledger_story)(k % RW_LEDGER_STORIES);
    size_t turn = 1 + (size_t)between(&seed, 0, N - 1.001);
    double x = between(&seed, 0.3, 0.7), resin = 0, hardener = 0;
    for (size_t i = 0; i < N; i++) {
      int off = truth == RW_LEDGER_START || (truth == RW_LEDGER_TURNED && i >= turn) ||
                (truth == RW_LEDGER_MENDED && i < turn);
      double mass = between(&seed, 0.25, 0.35), r = off ? x : 1;
      resin += mass;
      hardener += 0.44 * mass * r * between(&seed, 0.95, 1.05);
      note[i] = (rw_batch_note){mass, i % 3 == 0 ? r * between(&seed, 0.9, 1.1) : NAN, 0};
    }
    rw_ledger l = {.batch = note,
                   .n = N,
                   .resin = {resin + between(&seed, -0.03, 0.03), 0.02},
                   .hardener = {hardener + between(&seed, -0.03, 0.03), 0.02},
                   .needed = {0.44, 0},
                   .mass_sd = 0.02,
                   .ratio_sd = 0.03,
                   .note_sd = 0.06};
    rw_ledger_result o;
    rw_error err;
    double off[N];
    assert_ok(rw_ledger_compare(&l, &o, off, &err), &err);
    for (int i = 0; i < N; i++)
      assert_true(off[i] >= 0 && off[i] <= 1);
    sure += o.told;
    wrong += o.told && o.best != truth;
  }
  assert_true(sure > LEDGERS / 2);
  assert_true(wrong <= LEDGERS / 20);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(sag_inverts),       cmocka_unit_test(run_is_speed_times_time),
      cmocka_unit_test(amounts_come_back), cmocka_unit_test(ratios_mirror),
      cmocka_unit_test(glass_off_ratio),   cmocka_unit_test(ledgers_are_honest),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
