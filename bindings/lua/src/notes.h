/* SPDX-License-Identifier: GPL-3.0-or-later */
/* log:fit, declared with the logs and written in notes.c. */
#ifndef RWL_NOTES_H
#define RWL_NOTES_H

#include "objects.h"

extern const rwl_field rwl_log_fit_fields[];
int rwl_log_fit(lua_State *L);

#endif
