/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a resin's state passes a limit, shared by the pot and the forecast. */
#ifndef RW_CURE_RESIN_H
#define RW_CURE_RESIN_H

#include "series.h"

enum { CROSS_THICK, CROSS_HOT, CROSS_GEL };

/* First share of a step at which the resin is too thick to work, hotter than 60 degC, or gelled;
 * 2 where it is not. */
double resin_crossing(const rw_resin *r, const series_step *s, int which);

#endif
