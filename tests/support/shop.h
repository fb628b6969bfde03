/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A small invented set of stacks: a plank, two cloths outside, one or none inside. */
#ifndef RW_TEST_SHOP_H
#define RW_TEST_SHOP_H

#include "sweeps.h"

static const rw_lamina wood = {.density = 350,
                               .E1 = 8e9,
                               .E2 = 0.4e9,
                               .G12 = 0.6e9,
                               .nu12 = 0.35,
                               .Xt = 50e6,
                               .Xc = 30e6,
                               .Yt = 2e6,
                               .Yc = 4e6,
                               .S = 6e6};
static const rw_lamina glass = {.density = 1600,
                                .E1 = 15e9,
                                .E2 = 15e9,
                                .G12 = 3e9,
                                .nu12 = 0.12,
                                .Xt = 220e6,
                                .Xc = 180e6,
                                .Yt = 220e6,
                                .Yc = 180e6,
                                .S = 40e6};

typedef struct shop {
  rw_sweep_ply plank, cloth[2];
  double grain, angle[2];
  rw_sweep_core core;
  rw_sweep_set set;
} shop;

static inline void set_up(shop *s)
{
  *s = (shop){.plank = {wood, 6e-3, 0, 0, 20},
              .cloth = {{glass, 2e-4, 0, 0.12, 9}, {glass, 3e-4, 0, 0.2, 12}},
              .grain = 0,
              .angle = {0, pi / 4}};
  s->core = (rw_sweep_core){&s->plank, &s->grain, 1, 0, 0};
  s->set = (rw_sweep_set){.core = &s->core,
                          .cores = 1,
                          .outer = {s->cloth, 2, s->angle, 2, 1, 2},
                          .inner = {s->cloth, 1, s->angle, 1, 0, 1},
                          .loads = 1};
  rw_sweep_load(RW_CASE_HIT, s->set.load[0], NULL);
}

static inline rw_sweep *make(const shop *s)
{
  rw_error err;
  rw_sweep *out = NULL;
  assert_ok(rw_sweep_create(&s->set, &out, &err), &err);
  return out;
}

#endif
