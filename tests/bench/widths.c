/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "widths.h"

/* The library has a function of this name. */
#define rw_sweep_lanes bench_sweep_lanes
#include "../../lib/laminate/src/sweep_lanes.c"

bool width_there(int width)
{
#ifdef WIDE_MORE
  if (width == 8)
    return __builtin_cpu_supports("avx512dq");
  if (width == 4)
    return __builtin_cpu_supports("avx2");
#endif
  return width == 2;
}

void width_run(int width, const rw_sweep *s, const uint64_t *number, size_t n, double *factor)
{
  sweep_job j = {.s = s, .number = number};
  j.value[RW_MEASURE_FACTOR] = factor;
#ifdef WIDE_MORE
  if (width == 8)
    avx512_stacks(&j, 0, n);
  else if (width == 4)
    avx2_stacks(&j, 0, n);
  else
#endif
    plain_stacks(&j, 0, n);
}
