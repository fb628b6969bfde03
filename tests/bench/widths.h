/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The kernel of the stacks with a width of register that is chosen, not found. */
#ifndef RW_BENCH_WIDTHS_H
#define RW_BENCH_WIDTHS_H

#include <resinwright/laminate.h>

#include <stdbool.h>

/* Whether this processor has registers of 2, 4 or 8 numbers for it. */
bool width_there(int width);
/* Load factors of n stacks of a set under its first load. */
void width_run(int width, const rw_sweep *s, const uint64_t *number, size_t n, double *factor);

#endif
