/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of a steady cure, a heated one and a map made to fail once. */
#include "check.h"
#include "failing.h"

#include <string.h>

enum { MOST = 2000, TEMPERATURES = 3 };

/* One call with its results in a block of bytes. */
typedef rw_status job(const rw_resin *r, void *out, rw_error *err);

static rw_status times(const rw_resin *r, void *out, rw_error *err)
{
  const rw_steady s = {293.15, 0, 1e6};
  const double cure[] = {0.2, 0.5};
  return rw_steady_times(&r->law, &s, cure, 2, out, err);
}

static rw_status states(const rw_resin *r, void *out, rw_error *err)
{
  const rw_steady s = {293.15, 0, 1e6};
  const double time = 3600;
  return rw_steady_states(r, &s, &time, 1, out, err);
}

static rw_status steady(const rw_resin *r, void *out, rw_error *err)
{
  const rw_steady s = {293.15, 0, 1e6};
  return rw_steady_find(&r->law, &s, out, err);
}

static rw_status heated(const rw_resin *r, void *out, rw_error *err)
{
  const rw_ramp ramp = {273.15, 373.15, 0.1, 0};
  const double T = 320;
  return rw_ramp_states(r, &ramp, &T, 1, out, err);
}

static rw_status peak(const rw_resin *r, void *out, rw_error *err)
{
  const rw_ramp ramp = {273.15, 393.15, 0.1, 0};
  return rw_ramp_find(&r->law, &ramp, out, err);
}

static rw_status map(const rw_resin *r, void *out, rw_error *err)
{
  const rw_map_plan plan = {1e6, 0.95};
  const double T[TEMPERATURES] = {280, 300, 350};
  return rw_cure_map(r, &plan, T, TEMPERATURES, out, err);
}

static rw_status marks(const rw_resin *r, void *out, rw_error *err)
{
  return rw_cure_map_find(r, 1e6, out, err);
}

static void each_fails_once(job *f)
{
  unsigned char out[sizeof(rw_map_row) * TEMPERATURES], before[sizeof out];
  rw_resin r;
  rw_error err;
  long n = 1;
  assert_ok(rw_resin_find("slow-polyetheramine", &r, &err), &err);
  memset(before, 7, sizeof before);
  for (; n < MOST; n++) {
    long live = failing_live();
    memset(out, 7, sizeof out);
    failing_arm(n);
    rw_status status = f(&r, out, &err);
    long asked = failing_count();
    failing_disarm();
    assert_int_equal(failing_live(), live);
    if (status >= 0) {
      assert_true(asked < n);
      break;
    }
    assert_int_equal(status, RW_ERR_MEMORY);
    assert_memory_equal(out, before, sizeof out);
    check_explained(&err, "memory");
  }
  assert_true(n > 1 && n < MOST);
}

#define FAILS(name)                                                                               \
  static void name##_fails(void **state)                                                          \
  {                                                                                               \
    (void)state;                                                                                  \
    if (!failing_works())                                                                         \
      skip();                                                                                     \
    each_fails_once(name);                                                                        \
  }
FAILS(times)
FAILS(states)
FAILS(steady)
FAILS(heated)
FAILS(peak)
FAILS(map)
FAILS(marks)

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(times_fails),  cmocka_unit_test(states_fails),
      cmocka_unit_test(steady_fails), cmocka_unit_test(heated_fails),
      cmocka_unit_test(peak_fails),   cmocka_unit_test(map_fails),
      cmocka_unit_test(marks_fails),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
