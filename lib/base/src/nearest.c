/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <resinwright/base.h>

#include <ctype.h>
#include <string.h>

enum { LONGEST = 63 };

static int lower(char c)
{
  return tolower((unsigned char)c);
}

/* Levenshtein distance over one row of the table; words longer than LONGEST are cut. */
static size_t distance(const char *a, const char *b)
{
  size_t na = strnlen(a, LONGEST), nb = strnlen(b, LONGEST);
  size_t row[LONGEST + 1];
  for (size_t j = 0; j <= nb; j++)
    row[j] = j;
  for (size_t i = 1; i <= na; i++) {
    size_t diagonal = row[0];
    row[0] = i;
    for (size_t j = 1; j <= nb; j++) {
      size_t best = diagonal + (lower(a[i - 1]) != lower(b[j - 1]));
      diagonal = row[j];
      if (row[j] + 1 < best)
        best = row[j] + 1;
      if (row[j - 1] + 1 < best)
        best = row[j - 1] + 1;
      row[j] = best;
    }
  }
  return row[nb];
}

int rw_nearest_name(const char *word, const char *const *known, size_t n)
{
  int found = -1;
  size_t best = (size_t)-1;
  for (size_t i = 0; i < n; i++) {
    size_t d = distance(word, known[i]);
    size_t longer = strlen(word) > strlen(known[i]) ? strlen(word) : strlen(known[i]);
    size_t allowed = longer / 3 > 1 ? longer / 3 : 1;
    if (d <= allowed && d < best) {
      best = d;
      found = (int)i;
    }
  }
  return found;
}
