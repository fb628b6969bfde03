/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a chemist knows of a resin better than its class, see law.c. */
#ifndef RWL_LAW_H
#define RWL_LAW_H

#include "objects.h"

extern const rwl_field rwl_glass_fields[];
extern const rwl_field rwl_flow_fields[];

/* Fields of a resin, for rwl_get_chemistry: with a law of its own, and what goes with one. */
#define RWL_CHEMISTRY_FIELDS                                                                      \
  RWL_MAY("law", RWL_OBJECT, RWL_LAW, NULL, "rate law in place of the class's own, see rw.law"),  \
      RWL_BESIDE_LAW_FIELDS
#define RWL_BESIDE_LAW_FIELDS                                                                     \
  RWL_MAY_RECORD("glass", rwl_glass_fields, "glass transition in place of the class's own"),      \
      RWL_MAY_RECORD("flow", rwl_flow_fields, "viscosity and gel in place of the class's own"),   \
      RWL_MAY("rate_sd", RWL_NUMBER, "", NULL,                                                    \
              "standard deviation of the logarithm of the rate, 0 to 2"),                         \
      RWL_MAY("energy_sd", RWL_QUANTITY, "J/mol", NULL,                                           \
              "standard deviation of the activation energies together")

/* Puts what is given in place of the class's; raises where it cannot be. */
void rwl_get_chemistry(lua_State *L, rwl_resin *r);
/* rwl_keep with the words that fit a law. */
void rwl_keep_law(lua_State *L, rwl_warning *w, rw_status status, const rw_error *err);

#endif
