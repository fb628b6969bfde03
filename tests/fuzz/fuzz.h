/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the fuzz programs: each is built with clang -fsanitize=fuzzer,address,undefined and
 * ends the process where something does not hold. */
#ifndef RW_TEST_FUZZ_H
#define RW_TEST_FUZZ_H

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <resinwright.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

#define HOLDS(condition)                                                                          \
  do {                                                                                            \
    if (!(condition)) {                                                                           \
      fprintf(stderr, "%s:%d: does not hold: %s\n", __FILE__, __LINE__, #condition);              \
      abort();                                                                                    \
    }                                                                                             \
  } while (0)

/* A refusal says what is wrong and where, in the name of the function asked. */
static inline void explained(const rw_error *err, rw_status status, const char *function)
{
  HOLDS(status < 0);
  HOLDS(err->code == status);
  HOLDS(strcmp(err->function, function) == 0);
  HOLDS(strlen(err->message) > 10);
  HOLDS(err->line >= 0 && err->column >= 0);
}

/* A copy that ends where the input ends, so that a read beyond it is seen. */
static inline char *exact_copy(const uint8_t *data, size_t size)
{
  char *text = malloc(size > 0 ? size : 1);
  HOLDS(text != NULL);
  if (size > 0)
    memcpy(text, data, size);
  return text;
}

#endif
