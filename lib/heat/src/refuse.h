/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Refusals all files of this room share. */
#ifndef RW_HEAT_REFUSE_H
#define RW_HEAT_REFUSE_H

#include <resinwright/base.h>

/* A number that must lie between two others. */
typedef struct heat_bound {
  const char *name;
  double value, low, high;
  const char *unit, *hint;
} heat_bound;

rw_status heat_bounds(const char *function, const heat_bound *bound, size_t n, rw_error *err);
rw_status heat_between(const char *function, const char *argument, double value, double low,
                       double high, const char *unit, const char *hint, rw_error *err);
rw_status heat_given(const char *function, const char *argument, const void *pointer,
                     rw_error *err);
rw_status heat_no_memory(const char *function, rw_error *err);

#endif
