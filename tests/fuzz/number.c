/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers: agree with strtod on what both read, and come back from their shortest text. */
#include "fuzz.h"

#include <float.h>
#include <math.h>

/* What was read holds no hexadecimal mark and no name, so strtod reads it too (C locale). */
static void agrees_with_strtod(const char *text, size_t used, char point, double value)
{
  char *copy = malloc(used + 1);
  HOLDS(copy != NULL);
  memcpy(copy, text, used);
  copy[used] = '\0';
  char *comma = strchr(copy, ',');
  HOLDS(point == ',' || comma == NULL);
  if (comma != NULL)
    *comma = '.';
  char *end;
  double theirs = strtod(copy, &end);
  HOLDS(*end == '\0');
  HOLDS(theirs == value && signbit(theirs) == signbit(value));
  free(copy);
}

static void comes_back(double value)
{
  char text[32], rounded[40];
  double back = NAN;
  size_t n = rw_text_write(value, text);
  HOLDS(n == strlen(text) && n < sizeof text);
  HOLDS(rw_text_number(text, n, '.', &back, NULL, NULL) == RW_OK);
  HOLDS(back == value && signbit(back) == signbit(value));
  for (int digits = 1; digits <= 17; digits += 4) {
    n = rw_text_round(value, digits, rounded);
    HOLDS(n == strlen(rounded) && n < sizeof rounded);
    rw_status status = rw_text_number(rounded, n, '.', &back, NULL, NULL);
    HOLDS(status == RW_OK || (status == RW_ERR_RANGE && fabs(value) > DBL_MAX / 2));
    /* Half a last place, and the half spacing of doubles by which `back` misses its text. */
    double lost = 0.500001 * pow(10, 1 - digits) + DBL_EPSILON;
    if (status == RW_OK && fabs(value) > DBL_MIN)
      HOLDS(fabs(back - value) <= lost * fabs(value));
  }
}

static void read_with(const char *text, size_t size, char point)
{
  double value = 77, all = 77;
  size_t used = 99;
  rw_error err;
  rw_status status = rw_text_number(text, size, point, &value, &used, &err);
  if (status != RW_OK) {
    explained(&err, status, "rw_text_number");
    HOLDS(value == 77 && used == 99);
    return;
  }
  HOLDS(used > 0 && used <= size && isfinite(value));
  agrees_with_strtod(text, used, point, value);
  comes_back(value);
  status = rw_text_number(text, size, point, &all, NULL, &err);
  HOLDS((status == RW_OK) == (used == size));
  HOLDS(status != RW_OK || all == value);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
  char *text = exact_copy(data, size);
  read_with(text, size, '.');
  read_with(text, size, ',');
  free(text);
  double bits;
  if (size >= sizeof bits) {
    memcpy(&bits, data, sizeof bits);
    if (isfinite(bits))
      comes_back(bits);
  }
  return 0;
}
