/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The method of a resin that makes a cure, see cure.c. */
#ifndef RWL_CURE_H
#define RWL_CURE_H

#include "rwl.h"

extern const rwl_field rwl_cure_fields[];

int rwl_make_cure(lua_State *L);

#endif
