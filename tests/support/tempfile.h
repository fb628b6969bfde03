/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files that a test writes in the folder it runs in, and takes away again. */
#ifndef RW_TEST_TEMPFILE_H
#define RW_TEST_TEMPFILE_H

#include "check.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

typedef struct tempfile {
  char path[32];
} tempfile;

static inline tempfile tempfile_with(const char *text)
{
  tempfile f = {"table_XXXXXX"};
  int handle = mkstemp(f.path);
  assert_true(handle >= 0);
  FILE *file = fdopen(handle, "w");
  assert_non_null(file);
  assert_true(fputs(text, file) >= 0);
  assert_int_equal(fclose(file), 0);
  return f;
}

static inline void tempfile_remove(const tempfile *f)
{
  assert_int_equal(remove(f->path), 0);
}

#endif
