/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The list of rows left out and of remarks. */
#include "log_inside.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Cut between characters where it is too long. */
static void copy(char *to, size_t size, const char *from)
{
  size_t n = strlen(from);
  if (n >= size)
    for (n = size - 1; n > 0 && ((unsigned char)from[n] & 0xC0) == 0x80;)
      n--;
  memcpy(to, from, n);
  to[n] = '\0';
}

int rwi_log_note_add(rw_log *l, long line, rw_status code, const char *hint, const char *text)
{
  if (l->notes == l->notes_room) {
    size_t room = l->notes_room > 0 ? 2 * l->notes_room : 8;
    rw_log_note *grown = realloc(l->note, room * sizeof *grown);
    if (grown == NULL)
      return 0;
    l->note = grown;
    l->notes_room = room;
  }
  rw_log_note *note = &l->note[l->notes++];
  *note = (rw_log_note){.line = line, .left_out = code < 0, .code = code};
  copy(note->text, sizeof note->text, text);
  copy(note->hint, sizeof note->hint, hint != NULL ? hint : "");
  l->left_out += code < 0;
  return 1;
}

rwi_log_outcome rwi_log_fault(rwi_log_reader *r, size_t row, rw_status code, const char *hint,
                              const char *format, ...)
{
  char text[512];
  va_list values;
  va_start(values, format);
  vsnprintf(text, sizeof text, format, values);
  va_end(values);
  r->kind[row] = KIND_NONE;
  return rwi_log_note_add(r->log, rwi_log_line(r->log, row), code, hint, text) ? LEFT_OUT
                                                                               : NO_MEMORY;
}

rwi_log_outcome rwi_log_remark(rwi_log_reader *r, long line, const char *hint, const char *format,
                               ...)
{
  char text[512];
  va_list values;
  va_start(values, format);
  vsnprintf(text, sizeof text, format, values);
  va_end(values);
  return rwi_log_note_add(r->log, line, RW_OK, hint, text) ? GOOD : NO_MEMORY;
}

static int by_line(const void *a, const void *b)
{
  const rw_log_note *left = a, *right = b;
  if (left->line != right->line)
    return left->line < right->line ? -1 : 1;
  if (left->left_out != right->left_out)
    return right->left_out - left->left_out;
  return strcmp(left->text, right->text);
}

void rwi_log_notes_sort(rw_log *l)
{
  if (l->notes > 1)
    qsort(l->note, l->notes, sizeof *l->note, by_line);
}
