/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stacks in lanes: the same bits with every width of register the processor has, however many of
 * them stand together. */
#include "sweeps.h"

#include "../../lib/laminate/src/sweep_lanes.c"

enum { STACKS = 203 };

typedef int kernel(const sweep_job *j, size_t first, size_t end);

static void run(const rw_sweep *s, const uint64_t *number, double *value[RW_MEASURES], kernel *f,
                size_t step)
{
  sweep_job j = {.s = s, .number = number};
  memcpy(j.value, value, sizeof j.value);
  for (size_t i = 0; i < STACKS; i += step)
    assert_int_equal(f(&j, i, i + step < STACKS ? i + step : STACKS), 1);
}

static void assert_same(double *a[RW_MEASURES], double *b[RW_MEASURES])
{
  for (size_t m = 0; m < RW_MEASURES; m++)
    assert_memory_equal(a[m], b[m], STACKS * sizeof(double));
}

static void any_width(void **state)
{
  (void)state;
  stream r = {91};
  for (int round = 0; round < 40; round++) {
    scene c;
    uint64_t number[STACKS];
    double *plain[RW_MEASURES], *other[RW_MEASURES];
    some_set(&r, &c);
    rw_sweep *s = sweep_of(&c);
    for (size_t i = 0; i < STACKS; i++)
      number[i] = (uint64_t)(draw(&r) * (double)rw_sweep_count(s));
    make_room(plain, STACKS);
    make_room(other, STACKS);
    run(s, number, plain, plain_stacks, STACKS);
    run(s, number, other, plain_stacks, 1);
    assert_same(plain, other);
    for (size_t i = 0; i < STACKS; i++)
      assert_true(plain[RW_MEASURE_EIX][i] > 0 && plain[RW_MEASURE_FACTOR][i] > 0);
#ifdef WIDE_MORE
    static const size_t step[] = {1, 3, 8, 13, STACKS};
    for (size_t k = 0; k < sizeof step / sizeof step[0]; k++) {
      if (__builtin_cpu_supports("avx2")) {
        run(s, number, other, avx2_stacks, step[k]);
        assert_same(plain, other);
      }
      if (__builtin_cpu_supports("avx512dq")) {
        run(s, number, other, avx512_stacks, step[k]);
        assert_same(plain, other);
      }
    }
#endif
    free_room(plain);
    free_room(other);
    rw_sweep_destroy(s);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {cmocka_unit_test(any_width)};
  return cmocka_run_group_tests(tests, NULL, NULL);
}
