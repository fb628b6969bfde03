/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Methods of a resin about heat, see heat.c, heat_casting.c and heat_hull.c; resin.c lists them.
 */
#ifndef RWL_HEAT_H
#define RWL_HEAT_H

#include "rwl.h"

extern const rwl_field rwl_fastest_fields[];
extern const rwl_field rwl_safe_thickness_fields[];
extern const rwl_field rwl_safe_mass_fields[];
extern const rwl_field rwl_casting_fields[];
extern const rwl_field rwl_softening_fields[];
extern const rwl_field rwl_post_cure_fields[];

/* How an argument of the library is told: its field in Lua, and where a number is out of range the
 * unit it is thought in (NULL: as the library says it) and what to try. The list ends with NULL.
 */
typedef struct rwl_told {
  const char *c;
  const char *lua;
  const char *unit;
  const char *hint;
} rwl_told;

rw_status rwl_check_told(lua_State *L, rw_status status, rw_error *err, const rwl_told *told);

int rwl_fastest(lua_State *L);
int rwl_safe_thickness(lua_State *L);
int rwl_safe_mass(lua_State *L);
int rwl_casting(lua_State *L);
int rwl_softening(lua_State *L);
int rwl_post_cure(lua_State *L);

#endif
