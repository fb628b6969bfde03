/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of reading a hull or a history from a file made to fail once. */
#include "failing.h"
#include "tempfile.h"

enum { MOST = 5000 };

typedef rw_status reader(const char *path, rw_error *err);

/* Reads and frees; 7 where something was made in spite of an error. */
static rw_status hull(const char *path, rw_error *err)
{
  rw_hull *h = NULL;
  rw_status status = rw_hull_read(path, &h, err);
  if (status < 0 && h != NULL)
    return (rw_status)7;
  rw_hull_destroy(h);
  return status;
}

static rw_status history(const char *path, rw_error *err)
{
  rw_history *h = NULL;
  rw_status status = rw_history_read(path, 0, &h, err);
  if (status < 0 && h != NULL)
    return (rw_status)7;
  rw_history_destroy(h);
  return status;
}

static void each_fails_once(reader *f, const char *text)
{
  if (!failing_works())
    skip();
  tempfile file = tempfile_with(text);
  rw_error err;
  long n = 1;
  for (; n < MOST; n++) {
    long before = failing_live();
    failing_arm(n);
    rw_status status = f(file.path, &err);
    failing_disarm();
    assert_int_equal(failing_live(), before);
    if (status == RW_OK)
      break;
    assert_status(status, RW_ERR_MEMORY, &err);
    check_explained(&err, "memory");
    failing_arm(n);
    status = f(file.path, NULL);
    failing_disarm();
    assert_int_equal(status, RW_ERR_MEMORY);
    assert_int_equal(failing_live(), before);
  }
  assert_true(n > 4 && n < MOST);
  tempfile_remove(&file);
}

static void girths(void **state)
{
  (void)state;
  each_fails_once(hull, "x [m],girth [mm]\n0,500\n1,900\n2,800\n3,400\n");
}

static void offsets(void **state)
{
  (void)state;
  each_fails_once(hull, "x [m],half [m],height [m],knuckle\n0,0,0,0\n1,0,0,0\n1,0.3,0,1\n"
                        "1,0.4,0.3,0\n2,0,0,0\n2,0.4,0,1\n2,0.5,0.3,0\n3,0,0,0\n3,0.3,0,1\n"
                        "3,0.4,0.3,0\n");
}

static void readings(void **state)
{
  (void)state;
  each_fails_once(history, "time,air [degC],humidity [%]\n2026-10-03 15:30,19,60\n"
                           "2026-10-03 21:00,11,\n2026-10-04 06:00,5,80\n");
}

static void days(void **state)
{
  (void)state;
  each_fails_once(history, "day,low [degC],high [degC]\n2026-10-03,5,15\n2026-10-04,6,15\n");
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
