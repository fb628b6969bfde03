/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of reading a hull or a history from a file made to fail once. */
#include "each_fails.h"
#include "tempfile.h"

typedef rw_status job(void *path, rw_error *err);

static rw_status hull(void *path, rw_error *err)
{
  rw_hull *h = NULL;
  rw_status status = rw_hull_read(path, &h, err);
  assert_true((status == RW_OK) == (h != NULL));
  rw_hull_destroy(h);
  return status;
}

static rw_status history(void *path, rw_error *err)
{
  rw_history *h = NULL;
  rw_status status = rw_history_read(path, 0, &h, err);
  assert_true((status == RW_OK) == (h != NULL));
  rw_history_destroy(h);
  return status;
}

static void fails(job *read, const char *text)
{
  needs_failing();
  tempfile file = tempfile_with(text);
  each_fails_once(read, file.path, 4);
  tempfile_remove(&file);
}

static void girths(void **state)
{
  (void)state;
  fails(hull, "x [m],girth [mm]\n0,500\n1,900\n2,800\n3,400\n");
}

static void offsets(void **state)
{
  (void)state;
  fails(hull, "x [m],half [m],height [m],knuckle\n0,0,0,0\n1,0,0,0\n1,0.3,0,1\n"
              "1,0.4,0.3,0\n2,0,0,0\n2,0.4,0,1\n2,0.5,0.3,0\n3,0,0,0\n3,0.3,0,1\n"
              "3,0.4,0.3,0\n");
}

static void readings(void **state)
{
  (void)state;
  fails(history, "time,air [degC],humidity [%]\n2026-10-03 15:30,19,60\n"
                 "2026-10-03 21:00,11,\n2026-10-04 06:00,5,80\n");
}

static void days(void **state)
{
  (void)state;
  fails(history, "day,low [degC],high [degC]\n2026-10-03,5,15\n2026-10-04,6,15\n");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(girths),
      cmocka_unit_test(offsets),
      cmocka_unit_test(readings),
      cmocka_unit_test(days),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
