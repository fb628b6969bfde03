/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Arguments that the resin and the plan read alike. */
#ifndef RWL_READING_H
#define RWL_READING_H

#include "objects.h"

extern const rwl_field rwl_tray_fields[];

/* Fields of a vessel, and of a forecast's draws. */
#define RWL_VESSEL_FIELDS                                                                         \
  RWL_MAY("cup", RWL_QUANTITY, "m", NULL,                                                         \
          "diameter of the mixing cup; 70 mm where neither cup nor tray is given"),               \
      RWL_MAY_RECORD("tray", rwl_tray_fields, "the roller tray it is poured into at once")
#define RWL_DRAW_FIELDS(count)                                                                    \
  RWL_MAY("temperature_sd", RWL_DIFFERENCE, "", "1 K",                                            \
          "how far off the hull's temperature may be as a whole (standard deviation)"),           \
      RWL_MAY("draws", RWL_INTEGER, "", count,                                                    \
              "random trials behind the spread, up to 100000; 0: no interval"),                   \
      RWL_MAY("seed", RWL_INTEGER, "", "1", "another number draws other trials")

typedef struct rwl_draws {
  double temperature_sd;
  size_t count;
  unsigned long seed;
} rwl_draws;

/* The resin that a method was called on. */
const rw_resin *rwl_self_resin(lua_State *L);
/* Scratch space for n elements, one at least, on the Lua stack. */
void *rwl_block(lua_State *L, size_t n, size_t each);

/* Raise where they cannot be. */
rw_vessel rwl_get_vessel(lua_State *L);
double rwl_get_temperature_sd(lua_State *L);
rwl_draws rwl_get_draws(lua_State *L);
/* A whole number from `low` to `high`. */
size_t rwl_get_size(lua_State *L, const char *name, lua_Integer low, lua_Integer high);

/* Name of a field in C and in Lua. */
typedef struct rwl_alias {
  const char *c;
  const char *lua;
} rwl_alias;

/* Says the number of a field that is out of range as a builder would: in usual units, degrees
 * Celsius and clock times. Does nothing where the argument is no field of the function called. */
void rwl_in_usual_units(lua_State *L, rw_error *err);
/* rwl_check with the argument called as the Lua field is and its number in usual units; the list
 * ends with NULL. */
rw_status rwl_check_as(lua_State *L, rw_status status, rw_error *err, const rwl_alias *alias);

/* Pushes nil and why, from an RW_NO_SOLUTION, and returns 2 for the body to return. */
int rwl_push_reason(lua_State *L, const rw_error *err);

/* Each sets a field of the table on the top of the stack; nothing where it is not finite. */
void rwl_set_time(lua_State *L, const char *name, double seconds);
void rwl_set_clock(lua_State *L, const char *name, double seconds);

#endif
