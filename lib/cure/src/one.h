/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The quick step for one law at a time. */
#ifndef RW_CURE_ONE_H
#define RW_CURE_ONE_H

#include <string.h>

static inline unsigned long long one_bits(double x)
{
  unsigned long long bits;
  memcpy(&bits, &x, sizeof bits);
  return bits;
}

static inline double one_number(unsigned long long bits)
{
  double x;
  memcpy(&x, &bits, sizeof x);
  return x;
}

#define LANE double
#define BITS unsigned long long
#define AS_BITS one_bits
#define AS_LANE one_number
#define LESS(a, b) (-(BITS)((a) < (b)))
#define ANY(mask) ((mask) != 0)
#define SMALLER(a, b) ((a) < (b) ? (a) : (b))
#define GREATER(a, b) ((a) > (b) ? (a) : (b))
#define QUICK(name) one_##name
#define QUICK_FUNCTION __attribute__((always_inline)) static inline
#include "quick.h"
#undef LANE
#undef BITS
#undef AS_BITS
#undef AS_LANE
#undef LESS
#undef ANY
#undef SMALLER
#undef GREATER
#undef QUICK
#undef QUICK_FUNCTION

#endif
