/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the bindings of the room fit share: the places of errors, lists of one length. */
#ifndef RWL_FIT_COMMON_H
#define RWL_FIT_COMMON_H

#include "reading.h"

#define RWL_LEVEL_FIELD(what)                                                                     \
  RWL_MAY("level", RWL_SHARE, "", "95 %", "how often " what " is meant to hold the truth")

/* Refuses a field: the message is a sentence that names it; hint may be NULL. */
_Noreturn void rwl_refuse_field(lua_State *L, const char *field, const char *message,
                                const char *hint);
/* Refuses a field that is not there, as the driver does. */
_Noreturn void rwl_refuse_absent(lua_State *L, const char *field, const char *hint);
/* Raises unless the list `name` is as long as another; prefix is "runs[2]." or "". */
void rwl_same_length(lua_State *L, const char *prefix, const char *name, const char *other);

/* Says which field an error is about; its sentence stays. */
void rwl_blame(rw_error *err, const char *field);
/* The library's "run 3: time" is runs[3].time here, where `list` is "runs"; 0 where the error is
 * about no element. */
int rwl_place_element(lua_State *L, rw_error *err, const char *list);
/* The library's "reading 3: time", or an error about `time` with a line, is time[3] here. */
int rwl_place_reading(lua_State *L, rw_error *err, const char *prefix);
/* Raises an error, its number in usual units. */
_Noreturn void rwl_throw_usual(lua_State *L, rw_error *err);

/* Each sets a field of the table on the top of the stack; nothing where it is not a number. */
void rwl_set_known(lua_State *L, const char *name, double x);
void rwl_set_known_quantity(lua_State *L, const char *name, const char *unit, double si);
/* A list of lists: p rows of p numbers. */
void rwl_push_matrix(lua_State *L, const double *x, size_t p);

#endif
