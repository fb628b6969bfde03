/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The method of a resin that runs many cures, see draws.c; resin.c lists it. */
#ifndef RWL_DRAWS_H
#define RWL_DRAWS_H

#include "rwl.h"

extern const rwl_field rwl_draws_fields[];

int rwl_run_draws(lua_State *L);

#endif
