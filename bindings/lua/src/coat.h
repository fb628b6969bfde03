/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The method of a resin that tells what becomes of a coat, see coat.c; resin.c lists it. */
#ifndef RWL_COAT_H
#define RWL_COAT_H

#include "rwl.h"

extern const rwl_field rwl_coat_fields[];

int rwl_coat(lua_State *L);

#endif
