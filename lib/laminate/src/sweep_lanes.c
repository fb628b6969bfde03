/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Several stacks side by side, with every width of register. */
#include "sweep.h"

#include <math.h>
#include <string.h>

/* A stack whose equations have no answer; always 0. */
static int unsolved(const sweep_job *j, size_t at)
{
  for (size_t m = RW_MEASURE_EIX; m < RW_MEASURES; m++)
    if (j->value[m] != NULL && m != RW_MEASURE_RESIN && m != RW_MEASURE_COST)
      j->value[m][at] = NAN;
  return 0;
}

#include "wide.h"

#include "sweep_kernel.h"
#ifdef WIDE_MORE
#include "wide.h"

#include "sweep_kernel.h"
#include "wide.h"

#include "sweep_kernel.h"
#endif

int rw_sweep_lanes(const sweep_job *j, size_t first, size_t end)
{
  return PICK(stacks(j, first, end));
}
