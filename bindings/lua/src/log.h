/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What log.c gives to the files beside it. */
#ifndef RWL_LOG_H
#define RWL_LOG_H

#include "objects.h"

/* Pushes a table with all that a log says of an event. */
void rwl_push_log_event(lua_State *L, const rw_log *log, size_t i);

#endif
