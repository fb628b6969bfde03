/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of the text readers made to fail once: a clear refusal, no leak. */
#include "each_fails.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char scratch[] = "alloc_scratch.csv";

/* Enough rows that the list of cells has to grow. */
static size_t sample(char *text, size_t size)
{
  size_t n = (size_t)snprintf(text, size, "time,temp,\"note\"\n");
  for (int i = 0; i < 100; i++)
    n += (size_t)snprintf(text + n, size - n, "%d,20.5,\"a \"\"b\"\"\"\n", i);
  return n;
}

static rw_status parse(void *given, rw_error *err)
{
  (void)given;
  static char text[4096];
  rw_table *t = NULL;
  rw_status status = rw_table_parse(text, sample(text, sizeof text), "sheet.csv", &t, err);
  assert_true((status == RW_OK) == (t != NULL));
  rw_table_destroy(t);
  return status;
}

static rw_status parse_refused(void *given, rw_error *err)
{
  (void)given;
  static const char text[] = "a,b\n1,2\n3\n";
  rw_table *t = NULL;
  rw_status status = rw_table_parse(text, sizeof text - 1, "sheet.csv", &t, err);
  assert_null(t);
  return status == RW_ERR_SYNTAX ? RW_OK : status;
}

static rw_status read_file(void *given, rw_error *err)
{
  (void)given;
  rw_table *t = NULL;
  rw_status status = rw_table_read(scratch, &t, err);
  assert_true((status == RW_OK) == (t != NULL));
  rw_table_destroy(t);
  return status;
}

static rw_status slurp(const char *path, rw_error *err)
{
  char *bytes = NULL;
  size_t n = 77;
  rw_status status = rw_text_slurp(path, 1 << 20, &bytes, &n, err);
  assert_true((status == RW_OK) == (bytes != NULL));
  assert_true(status == RW_OK || n == 77);
  free(bytes);
  return status;
}

static rw_status slurp_file(void *given, rw_error *err)
{
  (void)given;
  return slurp(scratch, err);
}

/* Without a size to ask for, the buffer grows while it is read. */
static rw_status slurp_stream(void *given, rw_error *err)
{
  (void)given;
  return slurp("/proc/self/maps", err);
}

static void rw_table_parse_fails_cleanly(void **state)
{
  (void)state;
  each_fails_once(parse, NULL, 6);
}

static void rw_table_parse_refuses_cleanly(void **state)
{
  (void)state;
  each_fails_once(parse_refused, NULL, 5);
}

static void rw_table_read_fails_cleanly(void **state)
{
  (void)state;
  each_fails_once(read_file, NULL, 6);
}

static void rw_text_slurp_fails_cleanly(void **state)
{
  (void)state;
  each_fails_once(slurp_file, NULL, 1);
}

static void rw_text_slurp_grows_cleanly(void **state)
{
  FILE *f = fopen("/proc/self/maps", "rb");
  (void)state;
  if (f == NULL)
    skip();
  fclose(f);
  each_fails_once(slurp_stream, NULL, 1);
}

static int write_scratch(void **state)
{
  static char text[4096];
  FILE *f = fopen(scratch, "wb");
  (void)state;
  if (f == NULL)
    return -1;
  fwrite(text, 1, sample(text, sizeof text), f);
  return fclose(f);
}

static int remove_scratch(void **state)
{
  (void)state;
  return remove(scratch);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(rw_table_parse_fails_cleanly),
      cmocka_unit_test(rw_table_parse_refuses_cleanly),
      cmocka_unit_test(rw_table_read_fails_cleanly),
      cmocka_unit_test(rw_text_slurp_fails_cleanly),
      cmocka_unit_test(rw_text_slurp_grows_cleanly),
  };
  return cmocka_run_group_tests_name("alloc_text", tests, write_scratch, remove_scratch);
}
