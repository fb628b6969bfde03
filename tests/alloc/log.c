/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of reading a log, of its temperatures and of appending made to fail once. */
#include "each_fails.h"
#include "tempfile.h"

#include <sys/stat.h>

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

typedef struct scene {
  rw_log *log;
  tempfile file;
} scene;

typedef rw_status job(void *given, rw_error *err);

static rw_status parse(void *given, rw_error *err)
{
  (void)given;
  rw_log_options keep = {.keep_good = 1};
  rw_log *out = NULL;
  rw_status status = rw_log_parse(text, strlen(text), NULL, &keep, &out, err);
  assert_true((status == RW_OK) == (out != NULL));
  rw_log_destroy(out);
  return status;
}

static rw_status read_file(void *given, rw_error *err)
{
  const scene *s = given;
  rw_log_options keep = {.keep_good = 1};
  rw_log *out = NULL;
  rw_status status = rw_log_read(s->file.path, &keep, &out, err);
  assert_true((status == RW_OK) == (out != NULL));
  rw_log_destroy(out);
  return status;
}

static rw_status unknown_column(void *given, rw_error *err)
{
  (void)given;
  static const char with[] = "row,batch,time,rain\nbatch,1,2026-10-03 14:00,1\n";
  rw_log_options keep = {.keep_good = 1};
  rw_log *out = NULL;
  rw_status status = rw_log_parse(with, strlen(with), NULL, &keep, &out, err);
  assert_true((status == RW_OK) == (out != NULL));
  rw_log_destroy(out);
  return status;
}

static rw_status history(void *given, rw_error *err)
{
  const scene *s = given;
  rw_history *h = NULL;
  double from, to;
  rw_status status = rw_log_span(s->log, 0, &from, &to, err);
  if (status == RW_OK)
    status = rw_log_history(s->log, RW_LOG_AIR, from, to, RW_LOG_BRIDGE, &h, err);
  assert_true((status == RW_OK) == (h != NULL));
  rw_history_destroy(h);
  return status;
}

static rw_status gaps(void *given, rw_error *err)
{
  const scene *s = given;
  size_t n = 0;
  double from, to;
  rw_status status = rw_log_span(s->log, 0, &from, &to, err);
  return status == RW_OK
             ? rw_log_gaps(s->log, RW_LOG_AIR, from, to, RW_LOG_BRIDGE, NULL, 0, &n, err)
             : status;
}

static rw_status add(void *given, rw_error *err)
{
  const scene *s = given;
  rw_log_reading a = *rw_log_reading_at(s->log, 0);
  a.time += 1800;
  rw_status status = rw_log_add_reading(s->file.path, &a, 0, err);
  struct stat after;
  assert_int_equal(stat(s->file.path, &after), 0);
  assert_int_equal(after.st_size != (off_t)strlen(text), status == RW_OK);
  return status;
}

static rw_status begin(void *given, rw_error *err)
{
  const scene *s = given;
  remove(s->file.path);
  rw_status status = rw_log_add_batch(s->file.path, rw_log_batch_at(s->log, 0), 0, err);
  int is_there = access(s->file.path, F_OK) == 0;
  assert_int_equal(is_there, status == RW_OK);
  return status;
}

static void fails(job *call, long least)
{
  needs_failing();
  scene s = {made(), tempfile_with(text)};
  each_fails_once(call, &s, least);
  tempfile_remove(&s.file);
  rw_log_destroy(s.log);
}

static void reading(void **state)
{
  (void)state;
  fails(parse, 25);
  fails(read_file, 26);
  fails(unknown_column, 20);
}

static void temperatures(void **state)
{
  (void)state;
  fails(history, 6);
  fails(gaps, 5);
}

static void appending(void **state)
{
  (void)state;
  fails(add, 50);
  fails(begin, 50);
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
