/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Loaded before a test program: puts it into a locale with a decimal comma, or ends it. */
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>

__attribute__((constructor)) static void speak_with_comma(void)
{
  char text[16];
  if (setlocale(LC_ALL, "de_DE.UTF-8") == NULL || snprintf(text, sizeof text, "%.1f", 1.5) != 3 ||
      text[1] != ',') {
    fputs("no locale with a decimal comma\n", stderr);
    abort();
  }
}
