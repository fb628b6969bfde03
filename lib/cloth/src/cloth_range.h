/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Checks shared by the files of this room. */
#ifndef RW_CLOTH_RANGE_H
#define RW_CLOTH_RANGE_H

#include <resinwright/cloth.h>

/* RW_OK, or RW_ERR_RANGE where the value is not within low to high. */
rw_status cloth_between(const char *function, const char *argument, double value, double low,
                        double high, const char *unit, const char *hint, rw_error *err);
/* RW_OK, or RW_ERR_ARGUMENT where a pointer is missing. */
rw_status cloth_given(const char *function, const char *argument, const void *pointer,
                      rw_error *err);
/* RW_OK, or RW_ERR_RANGE where value or standard deviation is below 0 or not finite. */
rw_status cloth_amount(const char *function, const char *argument, rw_value value,
                       const char *unit, rw_error *err);
/* RW_OK, or RW_ERR_RANGE for a density no fibre or resin has. */
rw_status cloth_density(const char *function, const char *argument, double density, rw_error *err);
/* RW_OK, or RW_ERR_RANGE for an areal mass no cloth has. */
rw_status cloth_areal_mass(const char *function, double areal_mass, rw_error *err);
/* RW_OK, or RW_ERR_RANGE for a number that is no weave. */
rw_status cloth_weave(const char *function, rw_weave weave, rw_error *err);
/* RW_OK, or RW_ERR_RANGE for a fibre volume share not above 0 or above the weave's limit. */
rw_status cloth_share(const char *function, const char *argument, double share, rw_weave weave,
                      rw_error *err);
/* rw_cloth_check in the name of another function. */
rw_status cloth_sound(const char *function, const rw_cloth *c, rw_error *err);
/* Name of a weave; NULL for a number that is none. */
const char *cloth_weave_name(rw_weave weave);
/* Dry thickness over the crowns: the cloth's own, or the tables' estimate where that is 0. */
rw_status cloth_crown(const rw_cloth *c, double *crown, rw_error *err);

#endif
