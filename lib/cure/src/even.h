/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cures under a temperature that stays or changes evenly, shared by steady.c, ramp.c and map.c. */
#ifndef RW_CURE_EVEN_H
#define RW_CURE_EVEN_H

#include <resinwright/cure.h>

static const double EVEN_COLDEST = 200, EVEN_WARMEST = 500; /* K */

/* RW_ERR_RANGE in the name of a public function unless low <= value <= high. */
rw_status even_bounds(const char *function, const char *argument, double value, double low,
                      double high, const char *unit, rw_error *err);
/* RW_ERR_RANGE unless it is a time to look as far as. */
rw_status even_span(const char *function, double span, rw_error *err);
/* A cure followed until it is complete (a billionth below the law's top) or its span ends. */
typedef struct even_cure {
  rw_cure_path *path; /* free with rw_cure_path_destroy */
  double end;         /* s, where the path ends */
  double top;         /* degree of cure there */
} even_cure;
/* The cure of a law at T0 + heating t up to a span; the outcome is untouched after an error. */
rw_status even_run(const rw_cure_law *law, double T0, double heating, double span, double start,
                   even_cure *out, rw_error *err);
/* When a degree of cure is reached; HUGE_VAL where it is not, or lies above `top`. */
double even_when(const even_cure *c, double cure);
/* Degree of cure at a time within the span. */
double even_at(const even_cure *c, double time);
/* The law's own rate, 0 at its top and beyond. */
double even_rate(const rw_cure_law *law, double cure, double T);
/* The state at a time within the span; the resin has been checked. */
rw_cure_state even_state(const rw_resin *r, const even_cure *c, double time, double T);

typedef double even_function(double x, const void *context);
/* Where a function with one summit between low and high is greatest, to a width; an end where it
 * is not lower there. */
double even_summit(even_function *f, const void *context, double low, double high, double width);

#endif
