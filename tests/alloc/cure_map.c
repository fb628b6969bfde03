/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of a steady cure, a heated one and a map made to fail once. */
#include "each_fails.h"

#include <string.h>

enum { TEMPERATURES = 3 };

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

typedef struct scene {
  rw_resin resin;
  job *call;
} scene;

/* The call, which writes nothing where it fails. */
static rw_status untouched(void *given, rw_error *err)
{
  const scene *s = given;
  unsigned char out[sizeof(rw_map_row) * TEMPERATURES], before[sizeof out];
  memset(out, 7, sizeof out);
  memcpy(before, out, sizeof out);
  rw_status status = s->call(&s->resin, out, err);
  if (status < 0)
    assert_memory_equal(out, before, sizeof out);
  return status;
}

static void fails(job *call)
{
  needs_failing();
  scene s = {.call = call};
  rw_error err;
  assert_ok(rw_resin_find("slow-polyetheramine", &s.resin, &err), &err);
  each_fails_once(untouched, &s, 1);
}

#define FAILS(name)                                                                               \
  static void name##_fails(void **state)                                                          \
  {                                                                                               \
    (void)state;                                                                                  \
    fails(name);                                                                                  \
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
