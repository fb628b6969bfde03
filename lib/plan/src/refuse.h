/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Refusals that several files of the room share. */
#ifndef RW_PLAN_REFUSE_H
#define RW_PLAN_REFUSE_H

#include <resinwright/base.h>

/* RW_OK where 0 < value <= most, else RW_ERR_RANGE that says so. */
rw_status plan_above_zero(const char *function, const char *argument, double value, double most,
                          const char *unit, const char *hint, rw_error *err);

/* Best value in [low, high], standard deviation not negative. */
rw_status plan_amount(const char *function, const char *argument, rw_value v, double low,
                      double high, const char *unit, rw_error *err);

/* RW_NO_SOLUTION with its sentence. */
rw_status plan_no_choice(const char *function, const char *argument, const char *message,
                         const char *hint, rw_error *err);

#endif
