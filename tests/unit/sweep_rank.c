/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rankings that can be done in the head, and how they hold. */
#include "shop.h"

/* Five boards: mass to be small, stiffness large. Two are alike, one is beaten, one unknown. */
static void small_front(void **state)
{
  (void)state;
  rw_error err;
  double mass[] = {3, 1, 2, 2, 1.5, 0.1}, EIx[] = {10, 4, 8, 8, 3, NAN};
  const double *value[RW_MEASURES] = {[RW_MEASURE_MASS] = mass, [RW_MEASURE_EIX] = EIx};
  const rw_goal goal[2] = {{RW_MEASURE_MASS, 0, 1, 0}, {RW_MEASURE_EIX, 1, 1, 0}};
  size_t front[6], count;
  assert_ok(rw_sweep_front(value, 6, goal, 2, front, &count, &err), &err);
  const size_t expected[] = {1, 2, 3, 0};
  assert_int_equal(count, 4);
  assert_memory_equal(front, expected, sizeof expected);
  assert_ok(rw_sweep_front(value, 6, goal + 1, 1, front, &count, &err), &err);
  assert_true(count == 1 && front[0] == 0);
  const double zero[2] = {0.0, -0.0}; /* are equal */
  value[RW_MEASURE_EIX] = zero;
  value[RW_MEASURE_MASS] = mass + 2;
  assert_ok(rw_sweep_front(value, 2, goal, 2, front, &count, &err), &err);
  assert_int_equal(count, 2);
  value[RW_MEASURE_EIX] = EIx;
  value[RW_MEASURE_MASS] = mass;
  mass[0] = mass[1] = mass[2] = mass[3] = mass[4] = mass[5] = NAN;
  assert_ok(rw_sweep_front(value, 6, goal, 2, front, &count, &err), &err);
  assert_int_equal(count, 0);
}

static void small_ranking(void **state)
{
  (void)state;
  rw_error err;
  double mass[] = {3, 1, 2, 2, NAN}, EIx[] = {10, 4, 8, 8, 99};
  const double *value[RW_MEASURES] = {[RW_MEASURE_MASS] = mass, [RW_MEASURE_EIX] = EIx};
  rw_goal goal[2] = {{RW_MEASURE_MASS, 0, 1, 0}, {RW_MEASURE_EIX, 1, 3, 10}};
  size_t order[5];
  double behind[5];
  EIx[4] = 10;
  assert_ok(rw_sweep_rank(value, 5, goal, 2, order, behind, &err), &err);
  const double sums[] = {1, 3 * 0.6, 0.5 + 3 * 0.2, 0.5 + 3 * 0.2};
  for (size_t i = 0; i < 4; i++)
    assert_close(behind[i], sums[i], 1e-15);
  const size_t expected[] = {0, 2, 3, 1, 4};
  assert_memory_equal(order, expected, sizeof expected);
  assert_true(behind[4] == HUGE_VAL);
}

static void wrong_goals(void **state)
{
  (void)state;
  rw_error err;
  double mass[] = {3, 1};
  const double *value[RW_MEASURES] = {[RW_MEASURE_MASS] = mass};
  size_t order[2] = {7, 7}, count = 7;
  const struct {
    rw_goal goal;
    rw_status status;
    const char *argument;
  } wrong[] = {{{-1, 0, 1, 0}, RW_ERR_RANGE, "goal[2].measure"},
               {{RW_MEASURES, 0, 1, 0}, RW_ERR_RANGE, "goal[2].measure"},
               {{RW_MEASURE_COST, 0, 1, 0}, RW_ERR_ARGUMENT, "value"},
               {{RW_MEASURE_MASS, 0, 0, 0}, RW_ERR_RANGE, "goal[2].weight"},
               {{RW_MEASURE_MASS, 0, 1, -1}, RW_ERR_RANGE, "goal[2].scale"}};
  for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
    const rw_goal goal[2] = {{RW_MEASURE_MASS, 0, 1, 0}, wrong[i].goal};
    assert_status(rw_sweep_rank(value, 2, goal, 2, order, NULL, &err), wrong[i].status, &err);
    assert_string_equal(err.argument, wrong[i].argument);
    if (i < 3)
      assert_status(rw_sweep_front(value, 2, goal, 2, order, &count, &err), wrong[i].status, &err);
  }
  rw_goal fine = {RW_MEASURE_MASS, 0, 1, 0};
  assert_status(rw_sweep_rank(value, 0, &fine, 1, order, NULL, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "n");
  assert_status(rw_sweep_front(value, 0, &fine, 1, order, &count, &err), RW_ERR_RANGE, &err);
  assert_status(rw_sweep_front(value, 2, &fine, 9, order, &count, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "goals");
  assert_status(rw_sweep_front(value, 2, NULL, 1, order, &count, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "goal");
  assert_status(rw_sweep_front(value, 2, &fine, 1, NULL, &count, &err), RW_ERR_ARGUMENT, &err);
  assert_true(order[0] == 7 && count == 7);
}

static const rw_matrix resin = {1150, 3e9, 0.35, 60e6};

/* Without scatter every draw is the ranking itself. */
static void places_without_scatter(void **state)
{
  (void)state;
  shop s;
  rw_error err;
  set_up(&s);
  rw_sweep *w = make(&s);
  const uint64_t number[3] = {39, 0, 20};
  const rw_goal light = {RW_MEASURE_MASS, 0, 1, 0};
  const rw_sweep_scatter none = {0, 0, resin, 10, 1};
  rw_sweep_place place[3];
  assert_ok(rw_sweep_stability(w, number, 3, &light, 1, &none, place, &err), &err);
  assert_true(place[0].rank == 3 && place[1].rank == 1 && place[2].rank == 2);
  assert_true(place[1].first == 1 && place[1].best == 1 && place[1].worst == 1);
  assert_true(place[2].first == 0);
  rw_sweep_destroy(w);
}

/* Two cores nearly alike in stiffness: which of them is stiffer is anyone's guess once their wood
 * is, and certain while only the resin is, for both have the same cloth. */
static void places_with_scatter(void **state)
{
  (void)state;
  shop s;
  rw_error err;
  set_up(&s);
  rw_sweep_ply other = s.plank;
  other.material.E1 *= 1.001;
  const rw_sweep_core cores[2] = {{&s.plank, &s.grain, 1, 0, 0}, {&other, &s.grain, 1, 0, 0}};
  s.set.core = cores;
  s.set.cores = 2;
  rw_sweep *w = make(&s);
  const uint64_t number[2] = {0, 1};
  const rw_goal stiff = {RW_MEASURE_EIX, 1, 1, 0};
  const rw_sweep_scatter doubt = {0.2, 0, resin, 4096, 3}, sure = {0, 0.3, resin, 100, 3};
  rw_sweep_place place[2];
  assert_ok(rw_sweep_stability(w, number, 2, &stiff, 1, &doubt, place, &err), &err);
  assert_close(place[0].first, 0.5, 0.03);
  assert_ok(rw_sweep_stability(w, number, 2, &stiff, 1, &sure, place, &err), &err);
  assert_true(place[0].first == 0 && place[1].first == 1);
  rw_sweep_destroy(w);
}

/* A heavy light cloth against wood alone: with enough doubt about the resin the lighter one may
 * change, and the chance is that of the normal distribution behind the lognormal factor. */
static void resin_moves_the_mass(void **state)
{
  (void)state;
  shop s;
  rw_error err;
  set_up(&s);
  s.cloth[1].areal_mass = 0.46; /* 0.26 of fibre and 0.20 of resin against 0.20 and 0.25 */
  s.cloth[0].areal_mass = 0.45;
  s.cloth[0].resin = 0.25;
  s.cloth[0].thickness = 3e-4;
  rw_sweep *w = make(&s);
  const uint64_t number[2] = {0, 2};
  const rw_goal light = {RW_MEASURE_MASS, 0, 1, 0};
  const rw_sweep_scatter c = {0, 0.25, resin, 8192, 5};
  rw_sweep_place place[2];
  rw_ply ply[RW_SWEEP_PLIES];
  size_t n;
  assert_ok(rw_sweep_stack(w, number[1], ply, NULL, &n, &err), &err);
  assert_true(n == 2 && ply[0].angle == 0);
  assert_ok(rw_sweep_stability(w, number, 2, &light, 1, &c, place, &err), &err);
  /* Alike where 0.20 + 0.25 q = 0.26 + 0.20 q, q = 1.2. */
  double v = log1p(c.resin * c.resin), z = (log(1.2) + v / 2) / sqrt(v);
  assert_close(place[0].first, rw_num_normal_cdf(z), 0.005);
  rw_sweep_destroy(w);
}

static void wrong_scatter(void **state)
{
  (void)state;
  shop s;
  rw_error err;
  set_up(&s);
  rw_sweep *w = make(&s);
  const uint64_t number[2] = {0, 40};
  const rw_goal light = {RW_MEASURE_MASS, 0, 1, 0}, none = {RW_MEASURE_FACTOR + 1, 1, 1, 0};
  const rw_sweep_scatter fine = {0.2, 0.1, resin, 10, 1};
  rw_sweep_place place[2] = {{.rank = 7}};
  const struct {
    rw_sweep_scatter scatter;
    const char *argument;
  } wrong[] = {{{0.6, 0.1, resin, 10, 1}, "wood"},
               {{0.2, NAN, resin, 10, 1}, "resin"},
               {{0.2, 0.1, resin, 0, 1}, "draws"},
               {{0.2, 0.1, {0, 3e9, 0.35, 0}, 10, 1}, "m.density"},
               {{0.2, 0.1, {400, 3e9, 0.35, 0}, 10, 1}, "resin of a ply"},
               {{0.2, 0.1, {1150, 30e9, 0.35, 0}, 10, 1}, "resin of a ply"}};
  for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
    assert_status(rw_sweep_stability(w, number, 1, &light, 1, &wrong[i].scatter, place, &err),
                  RW_ERR_RANGE, &err);
    assert_string_equal(err.argument, wrong[i].argument);
  }
  assert_status(rw_sweep_stability(w, number, 2, &light, 1, &fine, place, &err), RW_ERR_RANGE,
                &err);
  assert_string_equal(err.argument, "number");
  assert_status(rw_sweep_stability(w, number, 0, &light, 1, &fine, place, &err), RW_ERR_RANGE,
                &err);
  assert_string_equal(err.argument, "k");
  assert_status(rw_sweep_stability(w, number, 1, &none, 1, &fine, place, &err), RW_ERR_ARGUMENT,
                &err);
  assert_string_equal(err.argument, "goal");
  assert_status(rw_sweep_stability(w, number, 1, &light, 1, NULL, place, &err), RW_ERR_ARGUMENT,
                &err);
  assert_string_equal(err.argument, "scatter");
  assert_true(place[0].rank == 7);
  rw_sweep_destroy(w);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(small_front),         cmocka_unit_test(small_ranking),
      cmocka_unit_test(wrong_goals),         cmocka_unit_test(places_without_scatter),
      cmocka_unit_test(places_with_scatter), cmocka_unit_test(resin_moves_the_mass),
      cmocka_unit_test(wrong_scatter),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
