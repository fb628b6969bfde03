/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A rate law fitted to conversion runs, see fit_runs.c; fit_ahead.c holds its methods. */
#ifndef RWL_FIT_RUNS_H
#define RWL_FIT_RUNS_H

#include "fit_common.h"

#define RWL_RUNS_FIT "runs_fit"

/* All that the pointers lead to hangs on the object's first user value. */
typedef struct rwl_runs_fit {
  rw_runs runs;                /* as they were fitted */
  rw_run *run;                 /* the same, to look its histories up anew */
  const rwl_history **history; /* of each run, NULL where it was steady */
  double *residual;            /* of all points, run after run */
  rw_runs_fit fit;
  rwl_warning warning;
} rwl_runs_fit;

/* "ln k1|E1|..." behind a first bar. */
extern const char rwl_parameter_keys[];
/* Unit of the j-th parameter of a fit. */
const char *rwl_parameter_unit(const rw_runs_fit *fit, size_t j);

/* Fields of what a sample goes through. */
#define RWL_COURSE_FIELDS                                                                         \
  RWL_MAY("temperature", RWL_TEMPERATURE, "", NULL,                                               \
          "steady temperature of the resin; or a history"),                                       \
      RWL_MAY("history", RWL_OBJECT, RWL_HISTORY, NULL,                                           \
              "temperature of the resin over time, in place of a steady one"),                    \
      RWL_MAY("from", RWL_CLOCK, "", NULL, "moment of mixing, where a history is given"),         \
      RWL_MAY("start", RWL_NUMBER, "", "0", "degree of cure then, 0 to below 1")

/* Reads them; raises where they cannot be. prefix is "runs[2]." or "". */
rw_course rwl_get_course(lua_State *L, const char *prefix);
/* Raises what the library says of a course and its times. */
_Noreturn void rwl_throw_course(lua_State *L, rw_error *err, const char *prefix);

extern const rwl_function rwl_runs_fit_methods[];

#endif
