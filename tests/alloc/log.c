/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of reading a log, of its temperatures and of appending made to fail once. */
#include "failing.h"
#include "tempfile.h"

#include <math.h>

enum { MOST = 2000 };

/* Good rows, and enough bad ones that the list of notes has to grow. */
static const char text[] =
    "row,batch,time,resin [g],hardener [g],found,not_yet,already,observer,air [degC],low [degC],"
    "high [degC],set_to\n"
    "batch,1,2026-10-03 14:00,286,126,,,,,,,,\n"
    "batch,2,2026-10-03 15:00,286,126,,,,,,,,\n"
    "batch,3,2026-10-03 16:00,286,126,,,,,,,,\n"
    "event,1,,,,gelled,,2026-10-03 16:00,Ann,,,,\n"
    "event,1,,,,hard,2026-10-03 16:00,2026-10-04 08:00,Bob,,,,\n"
    "reading,,2026-10-03 14:00,,,,,,,19,,,\n"
    "reading,,2026-10-03 20:00,,,,,,,14,,,\n"
    "reading,,2026-10-04,,,,,,,,5,14,\n"
    "clock,,2026-10-25 03:00,,,,,,,,,,2026-10-25 02:00\n"
    "1\n2\n3\n4\n5\n6\n7\n8\n9\n10\n";

static rw_log *made(void)
{
  rw_log_options keep = {.keep_good = 1};
  rw_log *l = NULL;
  rw_error err;
  assert_ok(rw_log_parse(text, strlen(text), NULL, &keep, &l, &err), &err);
  assert_int_equal(rw_log_left_out(l), 10);
  return l;
}

typedef rw_status job(const rw_log *l, const char *path, rw_error *err);

/* 7 where something was made in spite of an error. */
static rw_status parse(const rw_log *l, const char *path, rw_error *err)
{
  (void)l;
  (void)path;
  rw_log_options keep = {.keep_good = 1};
  rw_log *out = NULL;
  rw_status status = rw_log_parse(text, strlen(text), NULL, &keep, &out, err);
  if (status < 0 && out != NULL)
    return (rw_status)7;
  rw_log_destroy(out);
  return status;
}

static rw_status read_file(const rw_log *l, const char *path, rw_error *err)
{
  (void)l;
  rw_log_options keep = {.keep_good = 1};
  rw_log *out = NULL;
  rw_status status = rw_log_read(path, &keep, &out, err);
  if (status < 0 && out != NULL)
    return (rw_status)7;
  rw_log_destroy(out);
  return status;
}

static rw_status unknown_column(const rw_log *l, const char *path, rw_error *err)
{
  (void)l;
  (void)path;
  static const char with[] = "row,batch,time,rain\nbatch,1,2026-10-03 14:00,1\n";
  rw_log_options keep = {.keep_good = 1};
  rw_log *out = NULL;
  rw_status status = rw_log_parse(with, strlen(with), NULL, &keep, &out, err);
  rw_log_destroy(out);
  return status;
}

static rw_status history(const rw_log *l, const char *path, rw_error *err)
{
  (void)path;
  rw_history *h = NULL;
  double from, to;
  rw_status status = rw_log_span(l, 0, &from, &to, err);
  if (status == RW_OK)
    status = rw_log_history(l, RW_LOG_AIR, from, to, RW_LOG_BRIDGE, &h, err);
  if (status < 0 && h != NULL)
    return (rw_status)7;
  rw_history_destroy(h);
  return status;
}

static rw_status gaps(const rw_log *l, const char *path, rw_error *err)
{
  (void)path;
  size_t n = 0;
  double from, to;
  rw_status status = rw_log_span(l, 0, &from, &to, err);
  return status == RW_OK ? rw_log_gaps(l, RW_LOG_AIR, from, to, RW_LOG_BRIDGE, NULL, 0, &n, err)
                         : status;
}

static rw_status add(const rw_log *l, const char *path, rw_error *err)
{
  rw_log_reading a = *rw_log_reading_at(l, 0);
  a.time += 1800;
  return rw_log_add_reading(path, &a, 0, err);
}

static rw_status begin(const rw_log *l, const char *path, rw_error *err)
{
  remove(path);
  rw_status status = rw_log_add_batch(path, rw_log_batch_at(l, 0), 0, err);
  int is_there = access(path, F_OK) == 0;
  return is_there == (status == RW_OK) ? status : (rw_status)7;
}

static void each_fails_once(job *f, long least)
{
  if (!failing_works())
    skip();
  rw_log *l = made();
  rw_error err;
  long n = 1;
  for (; n < MOST; n++) {
    tempfile file = tempfile_with(text);
    long live = failing_live();
    failing_arm(n);
    rw_status status = f(l, file.path, &err);
    failing_disarm();
    assert_int_equal(failing_live(), live);
    remove(file.path);
    if (status == RW_OK)
      break;
    assert_status(status, RW_ERR_MEMORY, &err);
    check_explained(&err, "memory");
  }
  assert_true(n > least && n < MOST);
  rw_log_destroy(l);
}

static void reading(void **state)
{
  (void)state;
  each_fails_once(parse, 25);
  each_fails_once(read_file, 26);
  each_fails_once(unknown_column, 20);
}

static void temperatures(void **state)
{
  (void)state;
  each_fails_once(history, 6);
  each_fails_once(gaps, 5);
}

static void appending(void **state)
{
  (void)state;
  each_fails_once(add, 50);
  each_fails_once(begin, 50);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(reading),
      cmocka_unit_test(temperatures),
      cmocka_unit_test(appending),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
