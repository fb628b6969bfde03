/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sixteen cures side by side in the lanes of vector registers. */
#ifndef RW_CURE_LANES_H
#define RW_CURE_LANES_H

#include "one.h"
#include "track.h"

#include <resinwright/cure.h>

enum { LANES = 16 };

/* h k1 and h k2 of LANES pieces of a history, as series over each: member j of piece i. */
typedef struct lanes_constants {
  double K1[5][LANES], K2[5][LANES];
} lanes_constants;

/* The constants of the pieces from `first` on. */
void lanes_ahead(const one_law *law, const track *k, size_t first, lanes_constants *out);

enum { AGE_BUNDLE = 64 };

/* Equivalent ages of AGE_BUNDLE pieces from `first` on, the last one repeated: integrals of
 * exp(c (u_ref - 1/T)), each by the trapezoid corrected with the first and third derivatives at
 * its ends; -1 where the exponent rises by more than `steepest`. */
void lanes_age_pieces(double c, double u_ref, double steepest, const double *time,
                      const double *temperature, size_t points, size_t first, double *age);

/* One group. Members that point to arrays of doubles have a row for each lane. */
typedef struct lane_group {
  const rw_cure_draw *draw[LANES];
  track track;
  double span;
  double start;
  double tolerance; /* for one step */
  size_t levels;
  const double *level[LANES];
  double *time[LANES];    /* s since the origin */
  double *thick[LANES];   /* NULL: not wanted */
  double *reached[LANES]; /* NULL: not wanted */
} lane_group;

/* 1 where a draw can go in a lane: one form, no stiffening, no end in a finite time. */
int lane_fits(const rw_cure_law *law);

/* Runs a group; 0 where a step cannot be found. Picks the widest registers the processor has. */
int lanes_run(const lane_group *g);

#endif
