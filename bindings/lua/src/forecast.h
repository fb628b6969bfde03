/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A forecast as a table, see resin.c. */
#ifndef RWL_FORECAST_H
#define RWL_FORECAST_H

#include "reading.h"

/* Pushes the milestones as clock ranges, their order and meaning, and the cure reached. */
void rwl_push_forecast(lua_State *L, const rw_forecast *f, int spread);

#endif
