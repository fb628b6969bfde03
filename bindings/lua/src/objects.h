/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Objects that several domain files read, and small steps of filling a table of results. */
#ifndef RWL_OBJECTS_H
#define RWL_OBJECTS_H

#include "rwl.h"

/* Type names, for rwl_push_object and the detail of an RWL_OBJECT field. */
#define RWL_HISTORY "history"
#define RWL_HULL "hull"
#define RWL_CLOTH "cloth"
#define RWL_RESIN "resin"
#define RWL_CURE "cure"
#define RWL_LAW "law"
#define RWL_LAMINATE "laminate"
#define RWL_PANEL "panel"
#define RWL_LOG "log"

enum { RWL_NAME = 64, RWL_WARNING = 320 };

/* What a call with a positive status had to say; empty where nothing. */
typedef struct rwl_warning {
  char text[RWL_WARNING];
} rwl_warning;

typedef struct rwl_history {
  rw_history *h;
  rwl_warning warning;
} rwl_history;

typedef struct rwl_hull {
  rw_hull *hull;
  rwl_warning warning;
} rwl_hull;

typedef struct rwl_cloth {
  rw_cloth cloth;
  char name[RWL_NAME]; /* in the material tables, or as the roll says; may be empty */
  char fibre[RWL_NAME];
  rwl_warning warning;
} rwl_cloth;

typedef struct rwl_law {
  rw_cure_law law;
  rwl_warning warning;
} rwl_law;

typedef struct rwl_resin {
  rw_resin resin;
  char name[RWL_NAME];
  rwl_warning warning;
} rwl_resin;

typedef struct rwl_log {
  rw_log *log;
} rwl_log;

/* What an object holds; raises where it was closed. NULL gives NULL, for a field left out. */
const rw_history *rwl_history_in(lua_State *L, const rwl_history *object);
const rw_hull *rwl_hull_in(lua_State *L, const rwl_hull *object);
const rw_log *rwl_log_in(lua_State *L, const rwl_log *object);

/* Raises where status is an error; keeps what a positive one has to say, else makes it empty. */
void rwl_keep(lua_State *L, rwl_warning *w, rw_status status, const rw_error *err);
/* Pushes the list of warnings: one or none. */
void rwl_push_warnings(lua_State *L, const rwl_warning *w);

/* Gives what an error is about the name it has in Lua: the argument `from`, with or without an
 * index
 * ("time[3]"), becomes `to`, in which "[]" stands for that index ("readings[].at"); what follows
 * the index stays. Where there is no index, `to` ends before its "[]". */
void rwl_rename(rw_error *err, const char *from, const char *to);

/* Tells a number out of range in the unit it is thought in: "air is 133 degC, allowed are -45.15
 * to 89.85 degC". `what` stands before the number ("air is"); hint NULL keeps the hint. Does
 * nothing for any other error. */
void rwl_in_unit(rw_error *err, const char *what, const char *unit, const char *hint);

/* The text cut to fit, ended with NUL. */
void rwl_copy_name(char to[RWL_NAME], const char *text);

/* Each sets a field of the table on the top of the stack. */
void rwl_set_number(lua_State *L, const char *name, double x);
void rwl_set_text(lua_State *L, const char *name, const char *text);
void rwl_set_quantity(lua_State *L, const char *name, const char *unit, double si);
void rwl_set_temperature(lua_State *L, const char *name, double kelvin);
void rwl_set_warnings(lua_State *L, const rwl_warning *w);
/* A list of plain numbers; NaN becomes false. */
void rwl_set_numbers(lua_State *L, const char *name, const double *x, size_t n);

#endif
