/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stacks of a set by number: mixed radix, the core fastest, then the outer face, then the
 * inner one; within a face those of fewer layers first, the layer next to the core fastest. */
#include "sweep.h"

static double tally_side(sweep_side *side)
{
  double ways = 1, sum = 0;
  for (size_t l = 0; l <= side->most; l++, ways *= (double)side->choice) {
    if (l < side->least)
      continue;
    sum += ways;
    if (sum <= 0x1p53)
      side->ways[l] = (uint64_t)ways;
  }
  side->count = sum <= 0x1p53 ? (uint64_t)sum : 0;
  return sum;
}

double rw_sweep_tally(rw_sweep *s)
{
  double count = (s->cores > 0 ? (double)s->cores : 1) * tally_side(&s->outer);
  if (!s->symmetric)
    count *= tally_side(&s->inner);
  if (count <= 0x1p53)
    s->count = (uint64_t)count;
  return count;
}

/* Takes the layers off the way to lay them; what is left of it is told by digits. */
static size_t layers(const sweep_side *side, uint64_t *way)
{
  size_t n = side->least;
  while (*way >= side->ways[n])
    *way -= side->ways[n++];
  return n;
}

/* Entries of n layers, the one next to the core first: upwards from `to`, or downwards. */
static void digits(const sweep_side *side, uint64_t way, size_t n, uint16_t *to, ptrdiff_t step)
{
  uint32_t first = (uint32_t)side->first, choice = (uint32_t)side->choice;
  for (; n > 0 && way > UINT32_MAX; n--, to += step, way /= choice)
    *to = (uint16_t)(first + way % choice);
  for (uint32_t rest = (uint32_t)way; n > 0; n--, to += step) { /* short ones divide faster */
    uint32_t left = rest / choice;
    *to = (uint16_t)(first + rest - left * choice);
    rest = left;
  }
}

size_t rw_sweep_entries(const rw_sweep *s, uint64_t number, uint16_t entry[RW_SWEEP_PLIES])
{
  size_t core = 0, all, n;
  if (s->cores > 1) {
    core = (size_t)(number % s->cores);
    number /= s->cores;
  }
  uint64_t inner = s->symmetric ? number : number / s->outer.count;
  uint64_t outer = s->symmetric ? number : number - inner * s->outer.count;
  all = n = layers(&s->outer, &outer);
  if (n > 0)
    digits(&s->outer, outer, n, entry + n - 1, -1);
  for (size_t i = 0; s->cores > 0 && i < s->core_plies[core]; i++)
    entry[all++] = (uint16_t)(s->core_first[core] + i);
  if (s->symmetric) {
    digits(&s->outer, outer, n, entry + all, 1);
    return all + n;
  }
  n = layers(&s->inner, &inner);
  digits(&s->inner, inner, n, entry + all, 1);
  return all + n;
}

uint64_t rw_sweep_count(const rw_sweep *s)
{
  return s != NULL ? s->count : 0;
}

rw_status rw_sweep_stack(const rw_sweep *s, uint64_t number, rw_ply *ply, size_t *n, rw_error *err)
{
  const char *me = "rw_sweep_stack";
  if (s == NULL || ply == NULL || n == NULL)
    return rw_laminate_missing(me, s == NULL ? "s" : ply == NULL ? "ply" : "n", err);
  if (number >= s->count)
    return rw_error_range(err, me, "number", (double)number, 0, (double)(s->count - 1), "",
                          "stacks are counted from 0");
  uint16_t entry[RW_SWEEP_PLIES];
  *n = rw_sweep_entries(s, number, entry);
  for (size_t i = 0; i < *n; i++) {
    const sweep_source *from = &s->source[entry[i]];
    ply[i] = (rw_ply){from->ply.material, from->ply.thickness, from->angle};
  }
  return RW_OK;
}
