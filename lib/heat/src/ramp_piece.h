/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cure along one straight piece of a ramp. */
#ifndef RW_HEAT_RAMP_PIECE_H
#define RW_HEAT_RAMP_PIECE_H

#include "rate.h"

/* What happens on a piece. */
typedef struct ramp_end {
  double a;       /* degree of cure at its end */
  double excess;  /* K, greatest T - Tg */
  double reached; /* s from its beginning until Tg is at the target, HUGE_VAL: not on it */
} ramp_end;

/* Cure from degree a while the temperature goes straight from T0 to T1. 0 where it could not be
 * followed. */
int ramp_piece(const rw_resin *r, const heat_law *law, double a, double T0, double T1, double span,
               double target, ramp_end *out);
/* Tg of any degree of cure. */
double ramp_glass(const rw_resin *r, double a);

#endif
