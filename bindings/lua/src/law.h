/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rate laws, see law.c, and what is known of a resin better than its class tells, see chemistry.c.
 */
#ifndef RWL_LAW_H
#define RWL_LAW_H

#include "objects.h"

extern const rwl_field rwl_glass_fields[];
extern const rwl_field rwl_flow_fields[];
extern const rwl_field rwl_threshold_fields[];

#define RWL_GLASS_FIELDS(MAY)                                                                     \
  MAY("uncured", RWL_TEMPERATURE, "", "glass transition of the fresh mix, Tg0"),                  \
      MAY("cured", RWL_TEMPERATURE, "", "glass transition fully cured"),                          \
      MAY("lambda", RWL_NUMBER, "", "bend of the curve between, above 0 to 1")

/* Fields of a resin, for rwl_get_chemistry: with a law of its own, and what goes with one. */
#define RWL_CHEMISTRY_FIELDS                                                                      \
  RWL_MAY("law", RWL_OBJECT, RWL_LAW, NULL, "rate law in place of the class's own, see rw.law"),  \
      RWL_BESIDE_LAW_FIELDS
#define RWL_BESIDE_LAW_FIELDS                                                                     \
  RWL_MAY_RECORD("glass", rwl_glass_fields, "glass transition in place of the class's own"),      \
      RWL_MAY_RECORD("flow", rwl_flow_fields, "viscosity and gel in place of the class's own"),   \
      RWL_MAY_RECORD("thresholds", rwl_threshold_fields,                                          \
                     "degrees of cure at the milestones in place of the class's own"),            \
      RWL_MAY("heat", RWL_QUANTITY, "J/kg", NULL, "of the full reaction, per mass of mix"),       \
      RWL_MAY("heat_capacity", RWL_QUANTITY, "J/(kg K)", NULL, "of the mix"),                     \
      RWL_MAY("density", RWL_QUANTITY, "kg/m3", NULL, "of the mix"),                              \
      RWL_MAY("hardener", RWL_QUANTITY, "", NULL, "mass of hardener per mass of resin"),          \
      RWL_MAY("rate_sd", RWL_NUMBER, "", NULL,                                                    \
              "standard deviation of the logarithm of the rate, 0 to 2"),                         \
      RWL_MAY("energy_sd", RWL_QUANTITY, "J/mol", NULL,                                           \
              "standard deviation of the activation energies together")

/* A number between bounds; raises else. `unit` is that of the bounds, `said` the one to tell. */
void rwl_within(lua_State *L, const char *argument, double value, double low, double high,
                const char *unit, const char *said, const char *hint);
/* Pushes what a law is made of, as rw.law takes it. */
void rwl_push_law_values(lua_State *L, const rw_cure_law *law);
/* Sets the field "glass" of the table on the top of the stack. */
void rwl_set_glass(lua_State *L, const rw_glass *g);

/* Body of resin:values. */
int rwl_resin_values(lua_State *L);
/* Puts what is given in place of the class's; raises where it cannot be. */
void rwl_get_chemistry(lua_State *L, rwl_resin *r);
/* rwl_keep with the words that fit a law. */
void rwl_keep_law(lua_State *L, rwl_warning *w, rw_status status, const rw_error *err);

#endif
