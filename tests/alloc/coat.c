/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of a coat's forecast made to fail once: a clear refusal, no leak. */
#include "check.h"
#include "failing.h"

#include <string.h>

enum { MOST = 500 };

static const double HOUR = 3600;

typedef struct scene {
  rw_resin resin;
  rw_history *hull;
} scene;

static void set_up(scene *s)
{
  double t[] = {0, 10 * HOUR, 20 * HOUR, 48 * HOUR}, T[] = {293, 288, 295, 291};
  rw_error err;
  s->hull = NULL;
  assert_ok(rw_resin_find("slow-polyetheramine", &s->resin, &err), &err);
  assert_ok(rw_history_create(t, T, NULL, 4, &s->hull, &err), &err);
}

static rw_status forecast(const scene *s, rw_error *err)
{
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

static void each_fails_once(void **state)
{
  (void)state;
  if (!failing_works())
    skip();
  scene s;
  set_up(&s);
  rw_error err;
  long n = 1;
  for (; n < MOST; n++) {
    long live = failing_live();
    failing_arm(n);
    rw_status status = forecast(&s, &err);
    failing_disarm();
    assert_int_equal(failing_live(), live);
    if (status == RW_OK)
      break;
    assert_status(status, RW_ERR_MEMORY, &err);
    check_explained(&err, "memory");
    failing_arm(n);
    status = forecast(&s, NULL);
    failing_disarm();
    assert_int_equal(status, RW_ERR_MEMORY);
    assert_int_equal(failing_live(), live);
  }
  assert_true(n > 10 && n < MOST);
  rw_history_destroy(s.hull);
}

int main(void)
{
  const struct CMUnitTest tests[] = {cmocka_unit_test(each_fails_once)};
  return cmocka_run_group_tests(tests, NULL, NULL);
}
