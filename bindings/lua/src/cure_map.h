/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The methods of a resin that a chemist asks for, see cure_map.c; resin.c lists them. */
#ifndef RWL_CURE_MAP_H
#define RWL_CURE_MAP_H

#include "rwl.h"

extern const rwl_field rwl_steady_fields[];
extern const rwl_field rwl_ramp_fields[];
extern const rwl_field rwl_map_fields[];

int rwl_steady(lua_State *L);
int rwl_ramp(lua_State *L);
int rwl_map(lua_State *L);

#endif
