/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef RWL_BOATFILE_H
#define RWL_BOATFILE_H

#include "core.h"
#include "sandbox.h"

/* Raises one sentence on why the chunk failed. */
_Noreturn void rwl_boatfile_explain(lua_State *L, rwl_sandbox *s, int status, const char *name);
/* Raises "name, line n: text"; line 0 for none. */
_Noreturn void rwl_boatfile_refuse(lua_State *L, const char *name, rw_status code, long line,
                                   const char *text, const char *hint);
/* Pushes a copy of the one table the chunk returned. */
void rwl_boatfile_copy(lua_State *L, lua_State *from, const char *name);

#endif
