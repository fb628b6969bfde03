/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What to try instead of a unit name that is not known. */
#include "private.h"

#include <stdio.h>
#include <string.h>

enum { MOST_NAMES = 192, LONGEST = 24 };

const char rwi_ounce_hint[] = "cloth is oz/yd2, chopped mat oz/ft2, a weight ozwt, a volume floz "
                              "(US) or impfloz (imperial)";

static const char temperature[] =
    "write degC or degF for a reading, Cdeg or Fdeg for a difference";
static const char square[] = "write ft2, yd2 or m2";
static const char humidity[] = "write a relative humidity as 70 %";
static const char feet[] = "write feet and inches as 5 ft 6 in";
static const char currency[] = "write money for your own currency, such as money/m";
static const char tons[] = "t is 1000 kg, shortton 2000 lb, longton 2240 lb";
static const char degrees[] = "write deg for an angle, degC or degF for a temperature";

/* Words that are no units here, with what their writer most likely means. */
static const struct {
  const char *word;
  const char *hint;
} known[] = {
    {"ounce", rwi_ounce_hint},
    {"ounces", rwi_ounce_hint},
    {"ozs", rwi_ounce_hint},
    {"fl", "write floz (US) or impfloz (imperial) in one word"},
    {"C", temperature},
    {"F", temperature},
    {"c", temperature},
    {"f", temperature},
    {"\xC2\xB0", degrees},
    {"degree", degrees},
    {"degrees", degrees},
    {"ton", tons},
    {"tons", tons},
    {"cc", "write mL or cm3"},
    {"cps", "write cP"},
    {"RH", humidity},
    {"%RH", humidity},
    {"%rh", humidity},
    {"sq", square},
    {"sqft", square},
    {"sqyd", square},
    {"sqm", square},
    {"'", feet},
    {"\"", feet},
    {"\xE2\x80\xB2", feet},
    {"\xE2\x80\xB3", feet},
    {"$", currency},
    {"\xC2\xA3", currency},
    {"\xE2\x82\xAC", currency},
};

static char fold(char c)
{
  return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static int same_but_case(const char *name, const char *word)
{
  for (; *name != '\0' && fold(*name) == fold(*word); name++, word++)
    continue;
  return *name == '\0' && *word == '\0';
}

/* Names that differ in letter case only; spellings of one unit count once. */
static int by_case(const char *word, char *hint, size_t size)
{
  const char *match[4];
  size_t found = 0;
  for (size_t i = 0; i < rwi_names_count && found < 4; i++) {
    const struct rwi_name *row = &rwi_names[i];
    int repeated = found > 0 && row->meaning == rwi_find_name(match[0], strlen(match[0]))->meaning;
    if (same_but_case(row->name, word) && !repeated)
      match[found++] = row->name;
  }
  if (found == 1)
    snprintf(hint, size, "did you mean \"%s\"? letter case counts", match[0]);
  if (found > 1)
    snprintf(hint, size, "letter case counts: \"%s\" or \"%s\"?", match[0], match[1]);
  return found > 0;
}

static int by_spelling(const char *word, char *hint, size_t size)
{
  const char *names[MOST_NAMES];
  size_t n = 0;
  for (; n < rwi_names_count && n < MOST_NAMES; n++)
    names[n] = rwi_names[n].name;
  int near = strlen(word) > 2 ? rw_nearest_name(word, names, n) : -1;
  if (near >= 0)
    snprintf(hint, size, "did you mean \"%s\"?", names[near]);
  return near >= 0;
}

void rwi_hint(const char *name, size_t n, char *hint, size_t size)
{
  char word[LONGEST + 1];
  snprintf(hint, size,
           "join names by a space, * or /, with powers as digits: N m, g/m2, J/(kg K)");
  if (n > LONGEST)
    return;
  memcpy(word, name, n);
  word[n] = '\0';
  for (size_t i = 0; i < sizeof known / sizeof known[0]; i++)
    if (strcmp(known[i].word, word) == 0) {
      snprintf(hint, size, "%s", known[i].hint);
      return;
    }
  if (!by_case(word, hint, size))
    by_spelling(word, hint, size);
}
