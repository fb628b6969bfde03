/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The methods of a resin about a wrong ratio, see ratio.c; resin.c lists them. */
#ifndef RWL_RATIO_H
#define RWL_RATIO_H

#include "rwl.h"

extern const rwl_field rwl_judge_ratio_fields[];
extern const rwl_field rwl_off_ratio_fields[];
extern const rwl_field rwl_ratio_glass_fields[];
extern const rwl_field rwl_ratio_forecast_fields[];

int rwl_judge_ratio(lua_State *L);
int rwl_off_ratio(lua_State *L);
int rwl_ratio_glass(lua_State *L);
int rwl_ratio_forecast(lua_State *L);

#endif
