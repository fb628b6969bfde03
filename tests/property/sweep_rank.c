/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rankings, fronts and how they hold, against doing it by hand. */
#include "sweeps.h"

enum { ROUNDS = 300, LARGE = 3000 };

/* Goals on different measures. */
static size_t some_goals(stream *r, rw_goal goal[RW_GOALS], size_t most)
{
  size_t n = some_number(r, 1, most), first = some_number(r, 0, RW_MEASURES - 1);
  for (size_t g = 0; g < n; g++)
    goal[g] = (rw_goal){(int)((first + 3 * g) % RW_MEASURES), draw(r) < 0.5, between(r, 0.1, 5),
                        draw(r) < 0.5 ? 0 : between_log(r, 0.01, 100)};
  return n;
}

/* Numbers, with `steps` above 0 of few different values, and some that are none; in every other
 * round the measures are against one another, so that the front is long. */
static void some_values(stream *r, double *value[RW_MEASURES], size_t n, int steps, int against)
{
  for (size_t i = 0; i < n; i++) {
    double whole = between(r, 0, 1);
    for (size_t m = 0; m < RW_MEASURES; m++) {
      double v = against ? (m % 2 ? 1 - whole : whole) + between(r, 0, 0.1) : between(r, -1, 1);
      value[m][i] = steps > 0 ? floor(steps * v) : v;
      if (draw(r) < 0.002)
        value[m][i] = draw(r) < 0.5 ? HUGE_VAL : NAN;
    }
  }
}

static int known(double *const value[RW_MEASURES], const rw_goal *goal, size_t goals, size_t i)
{
  for (size_t g = 0; g < goals; g++)
    if (!isfinite(value[goal[g].measure][i]))
      return 0;
  return 1;
}

/* Whether i is at least as good as j in every goal and better in one. */
static int beats(double *const value[RW_MEASURES], const rw_goal *goal, size_t goals, size_t i,
                 size_t j)
{
  int better = 0;
  for (size_t g = 0; g < goals; g++) {
    double x = value[goal[g].measure][i], y = value[goal[g].measure][j];
    if (goal[g].large ? x < y : x > y)
      return 0;
    better |= x != y;
  }
  return better;
}

static void compare_front(double *value[RW_MEASURES], size_t n, const rw_goal *goal, size_t goals)
{
  size_t *front = malloc(n * sizeof *front), count = 0, expected = 0;
  char *in = calloc(n, 1);
  rw_error err;
  assert_true(front != NULL && in != NULL);
  assert_ok(rw_sweep_front((const double *const *)value, n, goal, goals, front, &count, &err),
            &err);
  for (size_t k = 0; k < count; k++) {
    assert_true(front[k] < n);
    assert_int_equal(in[front[k]]++, 0);
    double x = value[goal[0].measure][front[k]];
    double last = k > 0 ? value[goal[0].measure][front[k - 1]] : x;
    assert_true(goal[0].large ? x <= last : x >= last);
  }
  for (size_t j = 0; j < n; j++) {
    int stands = known(value, goal, goals, j);
    for (size_t i = 0; i < n && stands; i++)
      stands = !(known(value, goal, goals, i) && beats(value, goal, goals, i, j));
    assert_int_equal(in[j], stands);
    expected += (size_t)stands;
  }
  assert_int_equal(count, expected);
  free(front);
  free(in);
}

static void front_by_pairs(void **state)
{
  (void)state;
  stream r = {101};
  double *value[RW_MEASURES];
  make_room(value, LARGE);
  for (int round = 0; round < ROUNDS; round++) {
    rw_goal goal[RW_GOALS];
    size_t goals = some_goals(&r, goal, RW_GOALS), n = some_number(&r, 1, 150);
    some_values(&r, value, n, round % 3 == 0 ? 4 : 0, round % 2);
    compare_front(value, n, goal, goals);
  }
  for (int round = 0; round < 14; round++) {
    rw_goal goal[RW_GOALS];
    size_t goals = 1 + (size_t)round % 7;
    for (size_t g = 0; g < goals; g++)
      goal[g] = (rw_goal){(int)g, g % 2 == 1, 1, 0};
    some_values(&r, value, LARGE, round % 3 == 0 ? 9 : 0, round >= 7);
    compare_front(value, LARGE, goal, goals);
  }
  free_room(value);
}

/* The sums written out again, stack by stack. */
static double behind_of(double *const value[RW_MEASURES], size_t n, const rw_goal *goal,
                        size_t goals, size_t i)
{
  double sum = 0;
  for (size_t g = 0; g < goals; g++) {
    const double *v = value[goal[g].measure];
    double low = HUGE_VAL, high = -HUGE_VAL;
    for (size_t k = 0; k < n; k++)
      if (isfinite(v[k])) {
        low = fmin(low, v[k]);
        high = fmax(high, v[k]);
      }
    double scale = goal[g].scale > 0 ? goal[g].scale : high - low;
    if (!isfinite(v[i]))
      return HUGE_VAL;
    if (high > low)
      sum += goal[g].weight * (goal[g].large ? high - v[i] : v[i] - low) / scale;
  }
  return sum;
}

static void ranking_by_sums(void **state)
{
  (void)state;
  stream r = {103};
  double *value[RW_MEASURES];
  make_room(value, 400);
  for (int round = 0; round < ROUNDS; round++) {
    rw_goal goal[RW_GOALS];
    size_t goals = some_goals(&r, goal, RW_GOALS), n = some_number(&r, 1, 400), order[400];
    double behind[400];
    rw_error err;
    char seen[400] = {0};
    some_values(&r, value, n, round % 3 == 0 ? 3 : 0, round % 2);
    assert_ok(rw_sweep_rank((const double *const *)value, n, goal, goals, order, behind, &err),
              &err);
    for (size_t i = 0; i < n; i++) {
      double sum = behind_of(value, n, goal, goals, i);
      if (sum < HUGE_VAL)
        assert_close(behind[i], sum, 1e-12 * (1 + sum));
      else
        assert_true(behind[i] == HUGE_VAL);
      assert_int_equal(seen[order[i]]++, 0);
      if (i > 0)
        assert_true(behind[order[i]] > behind[order[i - 1]] ||
                    (behind[order[i]] == behind[order[i - 1]] && order[i] > order[i - 1]) ||
                    goals == 1);
    }
  }
  free_room(value);
}

/* With one goal nothing is lost to rounding, even far from the best. */
static void one_goal_to_the_bit(void **state)
{
  (void)state;
  double *value[RW_MEASURES];
  size_t order[4];
  rw_error err;
  make_room(value, 4);
  const double v[4] = {nextafter(1, 2), 1e30, 1, -1e30};
  memcpy(value[RW_MEASURE_COST], v, sizeof v);
  rw_goal goal = {RW_MEASURE_COST, 0, 1, 0};
  assert_ok(rw_sweep_rank((const double *const *)value, 4, &goal, 1, order, NULL, &err), &err);
  const size_t rising[4] = {3, 2, 0, 1}, falling[4] = {1, 0, 2, 3};
  assert_memory_equal(order, rising, sizeof rising);
  goal.large = 1;
  assert_ok(rw_sweep_rank((const double *const *)value, 4, &goal, 1, order, NULL, &err), &err);
  assert_memory_equal(order, falling, sizeof falling);
  free_room(value);
}

/* Places share out what there is, and draws are the same for the same seed. */
static void places_add_up(void **state)
{
  (void)state;
  stream r = {107};
  for (int round = 0; round < 25; round++) {
    enum { K = 12 };
    scene c;
    rw_error err;
    uint64_t number[K];
    rw_sweep_place place[K], again[K];
    some_set(&r, &c);
    rw_sweep *s = sweep_of(&c);
    for (size_t i = 0; i < K; i++)
      number[i] = (uint64_t)(draw(&r) * (double)rw_sweep_count(s));
    number[1] = number[0]; /* a tie */
    rw_goal goal[RW_GOALS];
    size_t goals = some_goals(&r, goal, 3);
    rw_sweep_scatter scatter = {0.2, 0, {1150, 3e9, 0.35, 0}, 64, (unsigned long)round};
    assert_ok(rw_sweep_stability(s, number, K, goal, goals, &scatter, place, &err), &err);
    assert_ok(rw_sweep_stability(s, number, K, goal, goals, &scatter, again, &err), &err);
    assert_memory_equal(place, again, sizeof place);
    double first = 0, rank = 0;
    for (size_t i = 0; i < K; i++) {
      first += place[i].first;
      rank += place[i].rank;
      assert_true(place[i].best <= place[i].rank && place[i].rank <= place[i].worst);
      assert_true(place[i].best >= 1 && place[i].worst <= K);
    }
    assert_close(first, 1, 1e-12);
    assert_close(rank, K * (K + 1) / 2.0, 1e-9);
    assert_memory_equal(&place[0], &place[1], sizeof place[0]);
    rw_sweep_destroy(s);
  }
}

/* Without scatter the places are those of the ranking, whatever the scales. */
static void places_are_the_ranking(void **state)
{
  (void)state;
  enum { K = 15 };
  stream r = {109};
  for (int round = 0; round < 40; round++) {
    scene c;
    rw_error err;
    uint64_t number[K];
    rw_sweep_place place[K];
    double *value[RW_MEASURES], behind[K];
    size_t order[K];
    some_set(&r, &c);
    rw_sweep *s = sweep_of(&c);
    for (size_t i = 0; i < K; i++)
      number[i] = (uint64_t)(draw(&r) * (double)rw_sweep_count(s));
    rw_goal goal[RW_GOALS];
    size_t goals = some_goals(&r, goal, 4);
    rw_sweep_plan p = {.n = K, .number = number};
    rw_sweep_scatter none = {0, 0, {1150, 3e9, 0.35, 0}, 2, 1};
    make_room(value, K);
    assert_ok(rw_sweep_run(s, &p, value, NULL, &err), &err);
    assert_ok(rw_sweep_rank((const double *const *)value, K, goal, goals, order, behind, &err),
              &err);
    assert_ok(rw_sweep_stability(s, number, K, goal, goals, &none, place, &err), &err);
    for (size_t i = 0; i < K; i++) {
      size_t better = 0, equal = 0;
      for (size_t j = 0; j < K; j++) {
        better += behind[j] < behind[i];
        equal += behind[j] == behind[i];
      }
      assert_close(place[i].rank, (double)better + ((double)equal + 1) / 2, 1e-12);
    }
    free_room(value);
    rw_sweep_destroy(s);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(front_by_pairs),         cmocka_unit_test(ranking_by_sums),
      cmocka_unit_test(one_goal_to_the_bit),    cmocka_unit_test(places_add_up),
      cmocka_unit_test(places_are_the_ranking),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
