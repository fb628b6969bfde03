/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "private.h"

#include <string.h>

static int continues(char c)
{
  return ((unsigned char)c & 0xC0) == 0x80;
}

size_t rw_text_excerpt(const char *text, size_t n, char buffer[RW_EXCERPT])
{
  static const char dots[] = "...";
  size_t most = RW_EXCERPT - sizeof dots;
  size_t length = n;
  if (n > most)
    for (length = most; length > 0 && continues(text[length]);)
      length--;
  for (size_t i = 0; i < length; i++) {
    unsigned char c = (unsigned char)text[i];
    buffer[i] = c < 0x20 || c == 0x7F ? ' ' : text[i];
  }
  buffer[length] = '\0';
  if (length == n)
    return n;
  memcpy(buffer + length, dots, sizeof dots);
  return length + sizeof dots - 1;
}

long rw_text_column(const char *text, size_t offset)
{
  long column = 1;
  for (size_t i = 0; i < offset; i++)
    column += !continues(text[i]);
  return column;
}

void rwi_text_name(const char *path, char name[RWI_NAME])
{
  size_t n = strlen(path);
  if (n < RWI_NAME) {
    memcpy(name, path, n + 1);
    return;
  }
  const char *tail = path + n - (RWI_NAME - 4);
  while (continues(*tail))
    tail++;
  memcpy(name, "...", 3);
  memcpy(name + 3, tail, strlen(tail) + 1);
}
