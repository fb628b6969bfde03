/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One step of heat and cure through the cells of a slab. */
#ifndef RW_HEAT_SLAB_STEP_H
#define RW_HEAT_SLAB_STEP_H

#include "rate.h"

/* Temperature and degree of cure of all cells with their slopes in time. */
typedef struct slab_state {
  double *T, *a, *dT, *da;
} slab_state;

/* All that a step needs, in one block of memory. Cells from wood's outer side to the resin's open
 * face; `first` is the first cell of resin. */
typedef struct slab_cells {
  size_t n, first;
  heat_law law;
  double gain;      /* K, adiabatic rise of the full reaction */
  double tolerance; /* K */
  double *store;    /* J/(m2 K), n of them */
  double *pass;     /* W/(m2 K), n + 1 of them: through the faces, to the air at both ends */
  slab_state now;   /* at the start of the step */
  slab_state then;  /* at its end */
  double lost;      /* J/m2, to the air on both sides over the step, by the method's own weights */
  double *KT[SDIRK_STAGES], *Ka[SDIRK_STAGES];
  double *baseT, *basea, *by_a, *by_T, *pivot, *upper, *change, *change_a;
  double *block;
} slab_cells;

/* 1; 0 where there is no memory. */
int slab_cells_make(slab_cells *c, size_t wood, size_t resin);
void slab_cells_free(slab_cells *c);
/* Slopes of `now`. */
void slab_slopes(slab_cells *c, double air);
/* A step from `now` to `then` with the air going from air0 by slope; error: over the tolerance.
 * 0 where the equations of a stage could not be solved with this step. */
int slab_step(slab_cells *c, double h, double air0, double slope, double *error);
/* Make `then` the new `now`. */
void slab_accept(slab_cells *c);

#endif
