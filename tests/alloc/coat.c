/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of a coat's forecast made to fail once: a clear refusal, no leak. */
#include "each_fails.h"

#include <string.h>

static const double HOUR = 3600;

typedef struct scene {
  rw_resin resin;
  rw_history *hull;
} scene;

static void set_up(scene *s)
{
  needs_failing();
  double t[] = {0, 10 * HOUR, 20 * HOUR, 48 * HOUR}, T[] = {293, 288, 295, 291};
  rw_error err;
  s->hull = NULL;
  assert_ok(rw_resin_find("slow-polyetheramine", &s->resin, &err), &err);
  assert_ok(rw_history_create(t, T, NULL, 4, &s->hull, &err), &err);
}

static rw_status forecast(void *given, rw_error *err)
{
  const scene *s = given;
  rw_coat coat = {3e-4, 1.3, 0.05, 0.3, 3e-3, 0.035, RW_BUBBLE_RIGID};
  rw_coat_times when = {0, 600, 48 * HOUR, 1};
  rw_coat_outcome o, before;
  memset(&o, 7, sizeof o);
  before = o;
  rw_status status = rw_coat_forecast(&s->resin, s->hull, &when, &coat, &o, err);
  if (status < 0)
    assert_memory_equal(&o, &before, sizeof o);
  return status;
}

static void coat_forecast(void **state)
{
  (void)state;
  scene s;
  set_up(&s);
  each_fails_once(forecast, &s, 10);
  rw_history_destroy(s.hull);
}

int main(void)
{
  const struct CMUnitTest tests[] = {cmocka_unit_test(coat_forecast)};
  return cmocka_run_group_tests(tests, NULL, NULL);
}
