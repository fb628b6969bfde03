/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logarithms of probabilities that hold out to a hundred standard deviations, with derivatives. */
#ifndef RW_FIT_TAIL_H
#define RW_FIT_TAIL_H

#include <resinwright/fit.h>

/* What one row says of ln P: the value and its derivatives by the middle m and the width w of its
 * interval in standard units (one-sided and exact rows have a middle only). */
typedef struct tail {
  double log_p;
  double m, w;
  double mm, mw, ww;
} tail;

/* An exact event at z: ln of the density. */
tail tail_exact(rw_aft_kind kind, double z);
/* The event comes after z. */
tail tail_after(rw_aft_kind kind, double z);
/* The event came before z. */
tail tail_before(rw_aft_kind kind, double z);
/* The event lies between m - w/2 and m + w/2, w > 0. */
tail tail_between(rw_aft_kind kind, double m, double w);
/* Quantile in standard units, 0 < p < 1. */
double tail_quantile(rw_aft_kind kind, double p);

#endif
