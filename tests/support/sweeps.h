/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Invented random sets of stacks, the same in every run. */
#ifndef RW_TEST_SWEEPS_H
#define RW_TEST_SWEEPS_H

#include "stacks.h"

#include <stdlib.h>

enum { KINDS = 4, CORES = 3, CORE_PLIES = 3 };

/* A set and what it points to. */
typedef struct scene {
  rw_sweep_set set;
  rw_sweep_ply outer[KINDS], inner[KINDS], wood[CORES][CORE_PLIES];
  double outer_angle[KINDS], inner_angle[KINDS], grain[CORES][CORE_PLIES];
  rw_sweep_core core[CORES];
} scene;

static inline size_t some_number(stream *r, size_t low, size_t high)
{
  return low + (size_t)(draw(r) * (double)(high - low + 1));
}

static inline rw_sweep_ply some_kind(stream *r)
{
  rw_sweep_ply p = {.material = some_lamina(r), .thickness = between_log(r, 5e-5, 5e-3)};
  if (draw(r) < 0.2)
    p.material.Xt = 0;
  double mass = p.thickness * p.material.density;
  if (draw(r) < 0.5)
    p.areal_mass = mass *= between(r, 0.8, 1.2);
  p.resin = mass * between(r, 0, 0.6);
  p.cost = between(r, 0, 50);
  return p;
}

static inline rw_sweep_face some_face(stream *r, rw_sweep_ply *ply, double *angle)
{
  rw_sweep_face f = {ply, some_number(r, 1, KINDS), angle, some_number(r, 1, KINDS), 0, 0};
  f.least = some_number(r, 0, 2);
  f.most = some_number(r, f.least, 4);
  for (size_t i = 0; i < f.plies; i++)
    ply[i] = some_kind(r);
  for (size_t i = 0; i < f.angles; i++)
    angle[i] = between(r, -pi, pi);
  return f;
}

/* All usual load cases and two others; the wood of each core has its strengths. */
static inline void some_set(stream *r, scene *s)
{
  memset(s, 0, sizeof *s);
  s->set.outer = some_face(r, s->outer, s->outer_angle);
  s->set.inner = some_face(r, s->inner, s->inner_angle);
  s->set.symmetric = draw(r) < 0.3;
  s->set.core = s->core;
  s->set.cores = some_number(r, 1, CORES);
  for (size_t c = 0; c < s->set.cores; c++) {
    rw_sweep_core *core = &s->core[c];
    *core = (rw_sweep_core){.ply = s->wood[c], .angle = s->grain[c]};
    core->plies = some_number(r, 1, CORE_PLIES);
    core->outer = some_number(r, 0, core->plies);
    core->inner = some_number(r, 0, core->plies - core->outer);
    for (size_t i = 0; i < s->core[c].plies; i++) {
      s->wood[c][i] = some_kind(r);
      s->wood[c][i].thickness = between_log(r, 5e-4, 2e-2);
      s->wood[c][i].areal_mass = 0;
      s->wood[c][i].resin = 0;
      s->wood[c][i].material.Xt = 90e6;
      s->grain[c][i] = between(r, -pi, pi);
    }
  }
  s->set.loads = RW_SWEEP_LOADS;
  for (size_t c = 0; c < s->set.loads; c++)
    if (c <= RW_CASE_HEEL)
      rw_sweep_load((rw_sweep_case)c, s->set.load[c], NULL);
    else
      some_load(r, 0.01, s->set.load[c]);
}

static inline rw_sweep *sweep_of(const scene *s)
{
  rw_error err;
  rw_sweep *out = NULL;
  assert_ok(rw_sweep_create(&s->set, &out, &err), &err);
  return out;
}

/* Room for n numbers of each measure. */
static inline void make_room(double *value[RW_MEASURES], size_t n)
{
  for (size_t m = 0; m < RW_MEASURES; m++) {
    value[m] = malloc(n * sizeof(double));
    assert_non_null(value[m]);
    for (size_t i = 0; i < n; i++)
      value[m][i] = -7;
  }
}

static inline void free_room(double *value[RW_MEASURES])
{
  for (size_t m = 0; m < RW_MEASURES; m++)
    free(value[m]);
}

#endif
