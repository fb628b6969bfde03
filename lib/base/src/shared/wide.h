/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The same kernel for every width of register. Include this, then the kernel; where WIDE_MORE is
 * defined, twice more so; each time it names the next kind of processor:
 *   QUICK(name)   the name of one of its functions,
 *   WIDTH         numbers in a register,
 *   LANES_TARGET  the attribute of its functions,
 *   ROOT(x)       square root, lane by lane.
 * PICK(call) then calls the widest one that the processor has.
 *
 * Only + - * / and the square root are rounded alike in every width: a kernel of those gives the
 * same bits on every processor. */
#ifndef WIDE_PLAIN
#define WIDE_PLAIN

/* Vectors are passed between inlined functions only; how a call would pass them does not matter.
 */
#pragma GCC diagnostic ignored "-Wpsabi"

#define LANE QUICK(many)
#define BITS QUICK(bits)
#define AS_BITS(x) ((BITS)(x))
#define AS_LANE(x) ((LANE)(x))
#define LESS(a, b) ((BITS)((a) < (b)))
#define CHOOSE(mask, yes, no) AS_LANE((AS_BITS(yes) & (mask)) | (AS_BITS(no) & ~(mask)))
#define SMALLER(a, b) CHOOSE(LESS(a, b), a, b)
#define GREATER(a, b) CHOOSE(LESS(b, a), a, b)
#define ANY(mask) QUICK(any)(mask)

#define QUICK(name) plain_##name
#define WIDTH 2
#define LANES_TARGET

#if defined __x86_64__
#include <immintrin.h>
#define ROOT(x) ((LANE)_mm_sqrt_pd((__m128d)(x)))
#define WIDE_MORE
#define PICK(call)                                                                                \
  (__builtin_cpu_supports("avx512dq") ? avx512_##call                                             \
   : __builtin_cpu_supports("avx2")   ? avx2_##call                                               \
                                      : plain_##call)
#else
#define ROOT(x) ((LANE){sqrt((x)[0]), sqrt((x)[1])})
#define PICK(call) plain_##call
#endif

#elif !defined WIDE_AVX2
#define WIDE_AVX2
#undef QUICK
#undef WIDTH
#undef LANES_TARGET
#undef ROOT
#define QUICK(name) avx2_##name
#define WIDTH 4
#define LANES_TARGET __attribute__((target("avx2")))
#define ROOT(x) ((LANE)_mm256_sqrt_pd((__m256d)(x)))

#else
#undef QUICK
#undef WIDTH
#undef LANES_TARGET
#undef ROOT
#define QUICK(name) avx512_##name
#define WIDTH 8
#define LANES_TARGET __attribute__((target("avx512f,avx512dq")))
#define ROOT(x) ((LANE)_mm512_sqrt_pd((__m512d)(x)))
#endif
