/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Clock times: what is read is written as the same minute, and what is written reads back. */
#include "fuzz.h"

#include <math.h>

static void comes_back(double seconds)
{
  char text[20];
  double back = NAN;
  int offset = 7;
  size_t n = rw_text_clock_write(seconds, text);
  HOLDS(n == strlen(text));
  if (strcmp(text, "?") == 0)
    return;
  HOLDS(rw_text_clock(text, n, &back, &offset, NULL) == RW_OK);
  HOLDS(offset == 0 && fabs(back - seconds) <= 30);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
  char *text = exact_copy(data, size);
  double seconds = 77;
  int offset = 77;
  rw_error err;
  rw_status status = rw_text_clock(text, size, &seconds, &offset, &err);
  if (status == RW_OK) {
    char written[20];
    HOLDS(offset == 0 || offset == 1);
    HOLDS(seconds == floor(seconds));
    comes_back(seconds);
    if (offset == 0 && size == 16 && fmod(seconds, 60) == 0) {
      rw_text_clock_write(seconds, written);
      HOLDS(memcmp(written, text, 10) == 0 && memcmp(written + 11, text + 11, 5) == 0);
    }
  } else {
    explained(&err, status, "rw_text_clock");
    HOLDS(seconds == 77 && offset == 77);
  }
  free(text);
  double bits;
  if (size >= sizeof bits) {
    memcpy(&bits, data, sizeof bits);
    comes_back(bits);
    comes_back(fmod(bits, 3e11));
  }
  return 0;
}
