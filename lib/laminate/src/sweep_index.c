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

void rw_sweep_entries(const rw_sweep *s, uint64_t number, sweep_plies *to)
{
  size_t core = 0, n;
  if (s->cores > 1) {
    core = (size_t)(number % s->cores);
    number /= s->cores;
  }
  uint64_t inner = s->symmetric ? number : number / s->outer.count;
  uint64_t outer = s->symmetric ? number : number - inner * s->outer.count;
  to->n = to->core = n = layers(&s->outer, &outer);
  if (n > 0)
    digits(&s->outer, outer, n, to->entry + n - 1, -1);
  for (size_t i = 0; s->cores > 0 && i < s->core_plies[core]; i++)
    to->entry[to->n++] = (uint16_t)(s->core_first[core] + i);
  to->inner = to->n;
  if (s->cores > 0) {
    to->core += s->core_outer[core];
    to->inner -= s->core_inner[core];
  }
  if (s->symmetric) {
    digits(&s->outer, outer, n, to->entry + to->n, 1);
  } else {
    n = layers(&s->inner, &inner);
    digits(&s->inner, inner, n, to->entry + to->n, 1);
  }
  to->n += n;
}

uint64_t rw_sweep_count(const rw_sweep *s)
{
  return s != NULL ? s->count : 0;
}

/* Where ply i of a stack comes from. */
static rw_sweep_layer layer_of(const rw_sweep *s, uint64_t number, const sweep_plies *p, size_t i)
{
  unsigned place = i < p->core ? RW_AMONG_OUTER : i < p->inner ? RW_AMONG_CORE : RW_AMONG_INNER;
  if (s->source[p->entry[i]].of_core) {
    size_t core = (size_t)(number % s->cores);
    return (rw_sweep_layer){place, 1, p->entry[i] - s->core_first[core], core};
  }
  const sweep_side *side = place == RW_AMONG_OUTER || s->symmetric ? &s->outer : &s->inner;
  size_t choice = p->entry[i] - side->first;
  return (rw_sweep_layer){place, 0, choice / side->angles, choice % side->angles};
}

rw_status rw_sweep_stack(const rw_sweep *s, uint64_t number, rw_ply *ply, rw_sweep_layer *layer,
                         size_t *n, rw_error *err)
{
  const char *me = "rw_sweep_stack";
  if (s == NULL || ply == NULL || n == NULL)
    return rw_laminate_missing(me, s == NULL ? "s" : ply == NULL ? "ply" : "n", err);
  if (number >= s->count)
    return rw_error_range(err, me, "number", (double)number, 0, (double)(s->count - 1), "",
                          "stacks are counted from 0");
  sweep_plies p;
  rw_sweep_entries(s, number, &p);
  for (size_t i = 0; i < p.n; i++) {
    const sweep_source *from = &s->source[p.entry[i]];
    ply[i] = (rw_ply){from->ply.material, from->ply.thickness, from->angle};
    if (layer != NULL)
      layer[i] = layer_of(s, number, &p, i);
  }
  *n = p.n;
  return RW_OK;
}
