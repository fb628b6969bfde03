/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Invented random ply stacks, the same in every run. */
#ifndef RW_TEST_STACKS_H
#define RW_TEST_STACKS_H

#include "check.h"

#include <math.h>
#include <string.h>

enum { MOST = 12 };
static const double pi = 3.14159265358979323846;

typedef struct stream {
  uint64_t state;
} stream;

/* xorshift64*, to [0, 1). */
static inline double draw(stream *r)
{
  r->state ^= r->state >> 12;
  r->state ^= r->state << 25;
  r->state ^= r->state >> 27;
  return (double)((r->state * 2685821657736338717ull) >> 11) / 9007199254740992.0;
}

static inline double between(stream *r, double low, double high)
{
  return low + (high - low) * draw(r);
}

static inline double between_log(stream *r, double low, double high)
{
  return low * pow(high / low, draw(r));
}

static inline rw_lamina some_lamina(stream *r)
{
  rw_lamina m = {.density = between_log(r, 100, 3000), .E1 = between_log(r, 1e9, 200e9)};
  m.E2 = m.E1 * between_log(r, 0.02, 3);
  m.G12 = m.E1 * between_log(r, 0.02, 1);
  m.nu12 = between(r, -0.3, 0.95) * sqrt(m.E1 / m.E2);
  m.Xt = between_log(r, 20e6, 2e9);
  m.Xc = between_log(r, 20e6, 2e9);
  m.Yt = between_log(r, 1e6, 100e6);
  m.Yc = between_log(r, 1e6, 300e6);
  m.S = between_log(r, 2e6, 100e6);
  return m;
}

static inline size_t some_plies(stream *r, rw_ply ply[MOST])
{
  size_t n = 1 + (size_t)(draw(r) * MOST);
  for (size_t i = 0; i < n; i++)
    ply[i] = (rw_ply){some_lamina(r), between_log(r, 5e-5, 2e-2), between(r, -pi, pi)};
  return n;
}

static inline void some_load(stream *r, double h, double load[6])
{
  for (size_t i = 0; i < 6; i++)
    load[i] = between(r, -1e4, 1e4) * (i < 3 ? 1 : h);
}

static inline rw_stack stack_of(const rw_ply *ply, size_t n)
{
  rw_error err;
  rw_stack s;
  assert_ok(rw_stack_make(ply, n, &s, &err), &err);
  return s;
}

#endif
