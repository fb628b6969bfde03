/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of a comparison of layups made to fail once; none for each stack. */
#include "each_fails.h"
#include "sweeps.h"

enum { N = 500, MANY = 4000 };

typedef struct bench {
  scene scene;
  rw_sweep *sweep;
  double *value[RW_MEASURES];
  uint64_t number[4];
} bench;

static const rw_goal goal[3] = {
    {RW_MEASURE_MASS, 0, 1, 0}, {RW_MEASURE_EIX, 1, 1, 0}, {RW_MEASURE_COST, 0, 2, 0}};

static void set_up(bench *b)
{
  needs_failing();
  stream r = {211};
  rw_error err;
  do
    some_set(&r, &b->scene);
  while (b->scene.set.outer.most < 3 || b->scene.set.outer.plies * b->scene.set.outer.angles < 12);
  b->sweep = sweep_of(&b->scene);
  make_room(b->value, MANY);
  rw_sweep_plan p = {.n = N};
  assert_ok(rw_sweep_run(b->sweep, &p, b->value, NULL, &err), &err);
  for (size_t i = 0; i < 4; i++)
    b->number[i] = 3 * i;
}

static void tear_down(bench *b)
{
  rw_sweep_destroy(b->sweep);
  free_room(b->value);
}

static rw_status create(void *given, rw_error *err)
{
  const bench *b = given;
  rw_sweep *s = NULL;
  rw_status status = rw_sweep_create(&b->scene.set, &s, err);
  assert_true((status == RW_OK) == (s != NULL));
  rw_sweep_destroy(s);
  return status;
}

static rw_status rank(void *given, rw_error *err)
{
  const bench *b = given;
  size_t order[N] = {7};
  double behind[N] = {-7};
  rw_status status =
      rw_sweep_rank((const double *const *)b->value, N, goal, 3, order, behind, err);
  assert_true(status == RW_OK ? behind[0] >= 0 : behind[0] == -7 && order[0] == 7);
  return status;
}

static rw_status front(void *given, rw_error *err)
{
  const bench *b = given;
  size_t stacks[N] = {N}, count = 0;
  rw_status status =
      rw_sweep_front((const double *const *)b->value, N, goal, 3, stacks, &count, err);
  assert_true(status == RW_OK ? count > 0 && stacks[0] < N : count == 0 && stacks[0] == N);
  return status;
}

static rw_status stability(void *given, rw_error *err)
{
  const bench *b = given;
  const rw_sweep_scatter scatter = {0.2, 0, {1150, 3e9, 0.35, 0}, 8, 1};
  rw_sweep_place place[4] = {{.rank = -7}};
  rw_status status = rw_sweep_stability(b->sweep, b->number, 4, goal, 3, &scatter, place, err);
  assert_true((status == RW_OK) == (place[0].rank != -7));
  return status;
}

static void each_fails(void **state)
{
  (void)state;
  bench b;
  set_up(&b);
  each_fails_once(create, &b, 1);
  each_fails_once(rank, &b, 2);
  each_fails_once(front, &b, 3);
  each_fails_once(stability, &b, 3);
  tear_down(&b);
}

static void none_for_a_stack(void **state)
{
  (void)state;
  bench b;
  rw_error err;
  set_up(&b);
  assert_true(rw_sweep_count(b.sweep) >= MANY);
  rw_sweep_plan p = {.n = MANY};
  failing_arm(0);
  assert_ok(rw_sweep_run(b.sweep, &p, b.value, NULL, &err), &err);
  assert_int_equal(failing_count(), 0);
  failing_disarm();
  tear_down(&b);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(each_fails),
      cmocka_unit_test(none_for_a_stack),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
