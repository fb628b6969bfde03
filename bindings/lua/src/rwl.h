/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a domain file of the Lua module needs: declare functions in tables, read checked arguments,
 * hand back quantities, ranges and objects.
 *
 * A declared function is called with one table of named fields. The driver (call.c) checks and
 * converts every field before the body runs, so a body only reads: stack index 1 holds the
 * converted arguments, index 2 the object a method was called on. Numbers arrive in SI.
 *
 * Lua errors leave a body by longjmp. What a body owns must therefore hang on the Lua stack
 * before anything can fail: rwl_push_object for objects, lua_newuserdatauv for scratch space.
 */
#ifndef RWL_H
#define RWL_H

#include <lauxlib.h>
#include <lua.h>
#include <math.h>
#include <resinwright.h>

/* Kinds of field: X(constant, name in the manual). */
#define RWL_KIND_LIST(X)                                                                          \
  X(RWL_QUANTITY, "quantity")                                                                     \
  X(RWL_TEMPERATURE, "temperature")                                                               \
  X(RWL_DIFFERENCE, "temperature difference")                                                     \
  X(RWL_SHARE, "share")                                                                           \
  X(RWL_NUMBER, "number")                                                                         \
  X(RWL_INTEGER, "integer")                                                                       \
  X(RWL_STRING, "string")                                                                         \
  X(RWL_BOOLEAN, "boolean")                                                                       \
  X(RWL_CHOICE, "choice")                                                                         \
  X(RWL_CLOCK, "clock time")                                                                      \
  X(RWL_OBJECT, "object")                                                                         \
  X(RWL_TABLE, "table")                                                                           \
  X(RWL_FUNCTION, "function")                                                                     \
  X(RWL_VALUE, "uncertain quantity")                                                              \
  X(RWL_RECORD, "record")

/*   kind              detail             taken from Lua                     kept for the body as
 *   RWL_QUANTITY      SI unit, "" pure   quantity or text (pure: number)    double, SI
 *   RWL_TEMPERATURE   ""                 scale reading or kelvin            double, K
 *   RWL_DIFFERENCE    ""                 kelvin only                        double, K
 *   RWL_SHARE         ""                 0 to 1, or "70 %"                  double, 0 to 1
 *   RWL_NUMBER        ""                 finite number                      double
 *   RWL_INTEGER       ""                 whole number                       lua_Integer
 *   RWL_STRING        ""                 text                               text
 *   RWL_BOOLEAN       ""                 true or false                      int
 *   RWL_CHOICE        "a|b|c"            one of the words                   its place from 0
 *   RWL_CLOCK         ""                 "2026-10-03 15:30"                 double, s since 1970
 *   RWL_OBJECT        type name          object of that type                the object
 *   RWL_TABLE         what it holds      any table                          the same table
 *   RWL_FUNCTION      how it is called   function                           the function
 *   RWL_VALUE         SI unit            quantity, range, {value, sd} or    rw_value, SI
 *                                        {low, high} (a 90 % interval)
 *   RWL_RECORD        ""                 table of the inner fields          see rwl_open
 */
typedef enum rwl_kind {
#define RWL_X(constant, name) constant,
  RWL_KIND_LIST(RWL_X)
#undef RWL_X
      RWL_KIND_COUNT
} rwl_kind;

/* RWL_SIGNED: an uncertain quantity that may lie below zero; others may not reach there. */
enum { RWL_OPTIONAL = 0, RWL_REQUIRED = 1, RWL_LIST = 2, RWL_SIGNED = 4 };

typedef struct rwl_field rwl_field;
struct rwl_field {
  const char *name;
  rwl_kind kind;
  const char *detail;
  unsigned flags;
  const char *fallback; /* what is taken where the field is left out, as text; or NULL */
  const char *doc;
  const rwl_field *inner; /* RWL_RECORD: its fields */
};

/* clang-format off */
#define RWL_NEED(name, kind, detail, doc) {name, kind, detail, RWL_REQUIRED, NULL, doc, NULL}
#define RWL_MAY(name, kind, detail, fallback, doc) \
  {name, kind, detail, RWL_OPTIONAL, fallback, doc, NULL}
#define RWL_NEED_LIST(name, kind, detail, doc) \
  {name, kind, detail, RWL_REQUIRED | RWL_LIST, NULL, doc, NULL}
#define RWL_MAY_LIST(name, kind, detail, doc) \
  {name, kind, detail, RWL_OPTIONAL | RWL_LIST, NULL, doc, NULL}
#define RWL_NEED_RECORD(name, inner, doc) {name, RWL_RECORD, "", RWL_REQUIRED, NULL, doc, inner}
#define RWL_MAY_RECORD(name, inner, doc) {name, RWL_RECORD, "", RWL_OPTIONAL, NULL, doc, inner}
#define RWL_NEED_RECORDS(name, inner, doc) \
  {name, RWL_RECORD, "", RWL_REQUIRED | RWL_LIST, NULL, doc, inner}
#define RWL_MAY_RECORDS(name, inner, doc) \
  {name, RWL_RECORD, "", RWL_OPTIONAL | RWL_LIST, NULL, doc, inner}
#define RWL_END_FIELDS {NULL, RWL_NUMBER, NULL, 0, NULL, NULL, NULL}
#define RWL_END_FUNCTIONS {NULL, NULL, RWL_NAMED, NULL, NULL, NULL, NULL}
#define RWL_END_TYPES {NULL, NULL, NULL, NULL, NULL, NULL}
#define RWL_END_PROPERTIES {NULL, NULL, NULL}
/* clang-format on */

typedef enum rwl_style {
  RWL_NAMED, /* one table of named fields, checked by the driver */
  RWL_PLAIN  /* arguments by position, checked by the body; fields are for the manual */
} rwl_style;

typedef struct rwl_function {
  const char *name;
  const char *self; /* type whose method it is, or NULL for a function of the module */
  rwl_style style;
  const rwl_field *fields; /* or NULL for none */
  const char *doc;
  const char *returns;
  lua_CFunction body;
} rwl_function;

typedef struct rwl_property {
  const char *name;
  const char *type;
  const char *doc;
} rwl_property;

typedef struct rwl_type {
  const char *name;
  const char *doc;
  const rwl_property *properties; /* or NULL */
  lua_CFunction read;             /* (object, name) -> the property; NULL without properties */
  const rwl_function *methods;    /* or NULL */
  const luaL_Reg *events;         /* __gc, __tostring and such; or NULL */
} rwl_type;

/* What a domain file hands to module.c. */
typedef struct rwl_set {
  const rwl_function *functions; /* or NULL */
  const rwl_type *types;         /* or NULL */
} rwl_set;

/* --- reading checked arguments; a field left out gives `fallback` -------------------------- */

int rwl_has(lua_State *L, const char *name);
/* Any kind kept as a double: quantity, temperature, difference, share, number, clock. */
double rwl_get_quantity(lua_State *L, const char *name, double fallback);
lua_Integer rwl_get_integer(lua_State *L, const char *name, lua_Integer fallback);
int rwl_get_boolean(lua_State *L, const char *name, int fallback);
int rwl_get_choice(lua_State *L, const char *name, int fallback);
/* The text stays valid while the body runs; length may be NULL. */
const char *rwl_get_string(lua_State *L, const char *name, const char *fallback, size_t *length);
/* One of the fields path and text, the other NULL; raises, with how to write it, where both or
 * none are given. */
void rwl_get_path_or_text(lua_State *L, const char *example, const char **path, const char **text,
                          size_t *length);
rw_value rwl_get_value(lua_State *L, const char *name, rw_value fallback);
void *rwl_get_object(lua_State *L, const char *name);
/* Pushes the field (nil where left out) and returns its Lua type: tables, functions. */
int rwl_push_field(lua_State *L, const char *name);

/* Lists: NULL and 0 where left out. Owned by Lua, valid while the body runs. */
size_t rwl_get_count(lua_State *L, const char *name);
const double *rwl_get_list(lua_State *L, const char *name, size_t *n);
const rw_value *rwl_get_values(lua_State *L, const char *name, size_t *n);
/* Elements of lists of objects, texts, integers and choices, i from 0. */
void *rwl_get_object_at(lua_State *L, const char *name, size_t i);
const char *rwl_get_string_at(lua_State *L, const char *name, size_t i);
lua_Integer rwl_get_integer_at(lua_State *L, const char *name, size_t i);
int rwl_get_choice_at(lua_State *L, const char *name, size_t i);

/* Between these two every getter reads record i (from 0) of a list of records, or the one record
 * (i 0). The field must be there: ask rwl_has or rwl_get_count first. */
void rwl_open(lua_State *L, const char *name, size_t i);
void rwl_close(lua_State *L);

/* The object a method was called on. */
void *rwl_self(lua_State *L);

/* --- results ------------------------------------------------------------------------------ */

/* Ends of a clock range that are not times. */
#define RWL_NOT_SEEN INFINITY /* not within the time looked at */
#define RWL_NEVER NAN         /* shown to be impossible */

void rwl_push_quantity(lua_State *L, const char *unit, double si);
void rwl_push_temperature(lua_State *L, double kelvin);
void rwl_push_clock(lua_State *L, double seconds);
/* A best value with its 90 % interval; because (or NULL) names the largest contributor. */
void rwl_push_range(lua_State *L, const char *unit, double value, double low, double high,
                    const char *because);
void rwl_push_temperature_range(lua_State *L, double value, double low, double high,
                                const char *because);
void rwl_push_clock_range(lua_State *L, double value, double low, double high,
                          const char *because);
/* From value and standard deviation. */
void rwl_push_value(lua_State *L, const char *unit, rw_value v, const char *because);
/* Adds a warning to the range at a stack index. */
void rwl_add_warning(lua_State *L, int range, const char *text);
/* Adds a warning for a positive status, none for RW_OK. */
void rwl_note(lua_State *L, int range, rw_status status, const rw_error *err);

/* A zeroed object of a registered type; its __gc runs even where what follows fails. */
void *rwl_push_object(lua_State *L, const char *type, size_t size);

/* A function in a field that is told how far long work has come. */
typedef struct rwl_listener {
  lua_State *L;
  int function; /* stack index, 0 where the field was left out */
  int failed;   /* 1: its error stands on the top of the stack, for lua_error */
} rwl_listener;

/* Pushes the field; it must stay on the stack while it is told. */
rwl_listener rwl_listen(lua_State *L, const char *name);
/* An rw_progress whose context is a listener: 1 to stop, where it answered false or failed. No Lua
 * error passes, and no memory of Lua's is taken outside of the protected call. */
int rwl_tell(size_t done, size_t total, void *listener);

/* --- errors ------------------------------------------------------------------------------- */

/* Raises the record as an error table. */
_Noreturn int rwl_throw(lua_State *L, const rw_error *err);
/* Raises where status is an error, else returns it. */
rw_status rwl_check(lua_State *L, rw_status status, const rw_error *err);

/* A refusal written in the binding itself. Texts may be NULL. */
typedef struct rwl_refusal {
  rw_status code;
  const char *argument;
  const char *message;
  const char *allowed;
  const char *hint;
  int found; /* stack index of the value found, 0 for none */
  long line;
} rwl_refusal;

_Noreturn int rwl_refuse(lua_State *L, const rwl_refusal *r);

#endif
