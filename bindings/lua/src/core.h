/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the core files of the binding only. */
#ifndef RWL_CORE_H
#define RWL_CORE_H

#include "rwl.h"

/* A value's place in the arguments, for messages: "ply[2].angle". */
typedef struct rwl_place {
  const struct rwl_place *up;
  const char *name;  /* field name, or NULL for a list element */
  lua_Integer index; /* list element, from 1 */
} rwl_place;

enum { RWL_MOST_FIELDS = 64, RWL_STACK = 40, RWL_WORD = 96 };

/* Half width of a 90 % interval of a normal distribution, in standard deviations. */
#define RWL_90 1.645

/* words.c: each pushes one text and returns it. */
const char *rwl_say_place(lua_State *L, const rwl_place *at);
const char *rwl_say_value(lua_State *L, int index);
const char *rwl_say_line(lua_State *L, const char *text, size_t most);
const char *rwl_say_text(lua_State *L, const char *text, size_t n);
const char *rwl_say_number(lua_State *L, double x, int digits);
const char *rwl_say_names(lua_State *L, const char *const *name, size_t n);
const char *rwl_say_nearest(lua_State *L, const char *word, const char *const *name, size_t n);
const char *rwl_say_dim(lua_State *L, rw_dim dim);
const char *rwl_say_example(lua_State *L, rw_dim dim, double number);
const char *rwl_say_function(lua_State *L, const rwl_function *f);

/* call.c */
int rwl_call(lua_State *L);
const rwl_function *rwl_current(lua_State *L);
void rwl_convert_record(lua_State *L, const rwl_field *fields, int index, const rwl_place *up);

/* list.c and convert.c: each pushes the converted value. */
void rwl_convert_list(lua_State *L, const rwl_field *f, int index, const rwl_place *at);
void rwl_convert(lua_State *L, const rwl_field *f, int index, const rwl_place *at);

/* dimensional.c: numbers with units. A scale gives bare numbers of a list their unit. */
typedef struct rwl_scale {
  int given;
  double factor;
  double offset;
} rwl_scale;

double rwl_read_number(lua_State *L, const rwl_field *f, int index, const rwl_place *at,
                       const rwl_scale *scale);
rw_value rwl_read_value(lua_State *L, const rwl_field *f, int index, const rwl_place *at,
                        const rwl_scale *scale);
rwl_scale rwl_read_scale(lua_State *L, const rwl_field *f, int index, const rwl_place *at);
rw_dim rwl_field_dim(const rwl_field *f);
int rwl_wrong_kind(lua_State *L, const rwl_place *at, int index, const char *allowed,
                   const char *hint);

/* quantity.c, range.c */
rw_quantity *rwl_test_quantity(lua_State *L, int index);
void rwl_push(lua_State *L, rw_quantity q);
rw_unit_system rwl_reader(lua_State *L);
int rwl_quantity_tostring(lua_State *L);
int rwl_concat(lua_State *L);
extern const luaL_Reg rwl_quantity_events[];

typedef struct rwl_range {
  int clock;
  rw_quantity shape; /* dimension and whether it is a scale reading */
  double value;
  double low;
  double high;
} rwl_range;

rwl_range *rwl_test_range(lua_State *L, int index);
void rwl_say_range(lua_State *L, const rwl_range *r, const char *because);
const char *rwl_say_clock(lua_State *L, double seconds);

/* object.c */
void rwl_register_type(lua_State *L, const rwl_type *t);
void *rwl_test_object(lua_State *L, int index, const char *type);
int rwl_kind_of(lua_State *L);

/* error.c */
void rwl_register_error(lua_State *L);

/* module.c: pushes a table with the functions of the sets, and registers their types. */
void rwl_push_module(lua_State *L, const rwl_set *const *set, size_t n);

/* describe.c: pushes the description of the sets. */
void rwl_describe(lua_State *L, const rwl_set *const *set, size_t n);

#endif
