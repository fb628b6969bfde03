/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The function that makes a resin, see resin.c. */
#ifndef RWL_RESIN_H
#define RWL_RESIN_H

#include "rwl.h"

extern const rwl_field rwl_label_fields[];

#define RWL_CLASS_FIELDS                                                                          \
  RWL_NEED("class", RWL_STRING, "",                                                               \
           "name of the resin class in the material tables, such as \"slow-polyetheramine\""),    \
      RWL_MAY_RECORD("label", rwl_label_fields,                                                   \
                     "what the label says; left out, the class stands for itself")

int rwl_make_resin(lua_State *L);

#endif
