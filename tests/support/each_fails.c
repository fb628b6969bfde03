/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "each_fails.h"

enum { MOST = 5000 };

typedef rw_status job_type(void *scene, rw_error *err);

void needs_failing(void)
{
  if (failing_works())
    return;
  print_message("allocations cannot be made to fail here: another allocator is in use\n");
  skip();
}

/* One run whose n-th allocation fails; 0 where it asked for fewer. */
static int fails_cleanly(job_type *job, void *scene, long n, rw_error *err)
{
  long live = failing_live();
  failing_arm(n);
  rw_status status = job(scene, err);
  int failed = failing_count() >= n;
  failing_disarm();
  assert_int_equal(failing_live(), live);
  assert_status(status, failed ? RW_ERR_MEMORY : RW_OK, err);
  return failed;
}

void each_fails_once(job_type *job, void *scene, long least)
{
  needs_failing();
  long n = 1;
  for (; n < MOST; n++) {
    rw_error err = {.code = RW_OK};
    if (!fails_cleanly(job, scene, n, &err))
      break;
    check_explained(&err, "memory");
    assert_true(fails_cleanly(job, scene, n, NULL));
  }
  assert_in_range(n, least + 1, MOST - 1);
}
