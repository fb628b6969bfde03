/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table as its builder and its readers see it; inside the room text. */
#ifndef RW_TEXT_TABLE_H
#define RW_TEXT_TABLE_H

#include "private.h"

#include <stdint.h>

/* Where the text of a cell begins in rw_table.bytes, and where it stood in the file. */
struct rwi_cell {
  uint32_t start;
  uint32_t line;
  uint32_t place;
};

struct rw_table {
  char *bytes;           /* own copy; every cell in it ends in NUL */
  struct rwi_cell *cell; /* row by row, the header first */
  size_t cells;
  size_t room;
  const char **header; /* names, into bytes */
  size_t columns;
  char separator;
  char name[RWI_NAME]; /* for messages */
};

/* Order of two names, letter case not counted, alike in every locale. */
int rwi_text_compare(const char *a, const char *b);

#endif
