/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a law fitted to runs says: limits of its parameters, cures and times ahead with their
 * spread, and the resin that has it. */
#include "fit_runs.h"

#include "core.h"
#include "law.h"
#include "resin.h"

#include <string.h>

static const double USUAL_SPAN = 28 * 86400.0;

/* Histories may have been closed since the fit. */
static rwl_runs_fit *self_fit(lua_State *L)
{
  rwl_runs_fit *f = rwl_self(L);
  for (size_t i = 0; i < f->runs.n; i++)
    f->run[i].course.history = rwl_history_in(L, f->history[i]);
  return f;
}

static size_t find_parameter(lua_State *L, const rw_runs_fit *fit, rw_fit_parameter q)
{
  for (size_t j = 0; j < fit->p; j++)
    if (fit->parameter[j] == q)
      return j;
  rwl_refuse_field(
      L, "parameter",
      lua_pushfstring(L, "parameter %s was not fitted here, it was held", rw_fit_parameter_key(q)),
      "name one of those in `free`");
}

static int limits(lua_State *L)
{
  rwl_runs_fit *f = self_fit(L);
  rw_fit_parameter q = (rw_fit_parameter)rwl_get_choice(L, "parameter", 0);
  size_t j = find_parameter(L, &f->fit, q);
  double level = rwl_get_quantity(L, "level", 0.0), low = NAN, high = NAN;
  rw_error err = {0};
  rwl_warning warning = {""};
  rw_status status = rw_fit_limits(&f->runs, &f->fit, j, level, &low, &high, &err);
  if (status == RW_ERR_NUMERIC)
    rwl_blame(&err, "parameter");
  rwl_check(L, status, &err);
  if (status == RW_NOT_REACHED)
    err = (rw_error){.code = RW_NOT_REACHED,
                     .message = "the runs do not bound this parameter: a limit lies at the end of "
                                "what a law may have"};
  rwl_keep(L, &warning, status, &err);
  lua_newtable(L);
  rwl_set_number(L, "value", f->fit.x[j]);
  if (isfinite(low))
    rwl_set_number(L, "low", low);
  if (isfinite(high))
    rwl_set_number(L, "high", high);
  rwl_set_text(L, "unit", rwl_parameter_unit(&f->fit, j));
  rwl_set_number(L, "level", level);
  rwl_set_warnings(L, &warning);
  return 1;
}

static int cure_ahead(lua_State *L)
{
  const rwl_runs_fit *f = rwl_self(L);
  rw_course course = rwl_get_course(L, "");
  size_t n;
  const double *since = rwl_get_list(L, "time", &n);
  double *time = rwl_block(L, n, sizeof *time);
  for (size_t i = 0; i < n; i++)
    time[i] = course.from + since[i];
  rw_value *cure = rwl_block(L, n, sizeof *cure);
  rw_error err = {0};
  rwl_warning warning;
  rw_status status = rw_fit_cure(&f->fit, &course, time, n, cure, &err);
  if (status < 0)
    rwl_throw_course(L, &err, "");
  rwl_keep_law(L, &warning, status, &err);
  lua_newtable(L);
  for (size_t i = 0; i < n; i++) {
    lua_newtable(L);
    rwl_set_quantity(L, "time", "s", since[i]);
    rwl_push_value(L, "", cure[i], NULL);
    lua_setfield(L, -2, "cure");
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  rwl_set_warnings(L, &warning);
  return 1;
}

/* How far to look: as asked, or to the end of the history, or the usual span. */
static double read_until(lua_State *L, const rw_course *course)
{
  double to = course->from + USUAL_SPAN;
  if (rwl_has(L, "within"))
    return course->from + rwl_get_quantity(L, "within", 0.0);
  if (course->history != NULL)
    rw_history_span(course->history, NULL, &to);
  return to;
}

static int when(lua_State *L)
{
  const rwl_runs_fit *f = rwl_self(L);
  rw_course course = rwl_get_course(L, "");
  double until = read_until(L, &course);
  rw_value time = {NAN, NAN};
  rw_error err = {0};
  rw_status status =
      rw_fit_when(&f->fit, &course, until, rwl_get_quantity(L, "cure", 0.0), &time, &err);
  if (status < 0 && strcmp(err.argument, "until") == 0)
    rwl_refuse_field(L, rwl_has(L, "within") ? "within" : "from",
                     "the mixing does not lie before the end of what is looked at",
                     "give a longer span or a history that goes on");
  if (status < 0)
    rwl_throw_course(L, &err, "");
  if (status == RW_NOT_REACHED)
    return 0;
  if (course.history != NULL)
    rwl_push_clock_range(L, time.value, time.value - RWL_90 * time.sd,
                         time.value + RWL_90 * time.sd, NULL);
  else
    rwl_push_value(L, "s", time, NULL);
  if (status > 0)
    rwl_add_warning(L, -1, f->warning.text);
  return 1;
}

/* The converted arguments take the fitted law among them. */
static int make_resin(lua_State *L)
{
  const rwl_runs_fit *f = rwl_self(L);
  rwl_law *l = rwl_push_object(L, RWL_LAW, sizeof *l);
  l->law = f->fit.law;
  l->warning = f->warning;
  lua_setfield(L, 1, "law");
  return rwl_make_resin(L);
}

static const rwl_field limits_fields[] = {
    RWL_NEED("parameter", RWL_CHOICE, rwl_parameter_keys + 1, "one of those that were free"),
    RWL_LEVEL_FIELD("the interval"),
    RWL_END_FIELDS,
};
static const rwl_field cure_fields[] = {
    RWL_COURSE_FIELDS,
    RWL_NEED_LIST("time", RWL_QUANTITY, "s", "times since the mixing, in their order"),
    RWL_END_FIELDS,
};
static const rwl_field when_fields[] = {
    RWL_COURSE_FIELDS,
    RWL_NEED("cure", RWL_NUMBER, "", "degree of cure asked for, above `start` and below 1"),
    RWL_MAY("within", RWL_QUANTITY, "s", NULL,
            "how far to look; left out, to the end of the history, or 28 days"),
    RWL_END_FIELDS,
};
static const rwl_field resin_fields[] = {
    RWL_CLASS_FIELDS,
    RWL_BESIDE_LAW_FIELDS,
    RWL_END_FIELDS,
};

const rwl_function rwl_runs_fit_methods[] = {
    {"limits", RWL_RUNS_FIT, RWL_NAMED, limits_fields,
     "Limits of a parameter from the sum of squares itself, to be trusted where the spread is "
     "not: `value`, `low`, `high` in the parameter's unit, an end that is none is nil; `unit`; "
     "`level`; "
     "`warnings`.",
     "table", limits},
    {"cure", RWL_RUNS_FIT, RWL_NAMED, cure_fields,
     "Degree of cure of the fitted law at times since the mixing, with the spread that the runs "
     "leave: a list of { time, cure: a range }; `warnings`.",
     "table", cure_ahead},
    {"when", RWL_RUNS_FIT, RWL_NAMED, when_fields,
     "When the fitted law reaches a degree of cure: a time since the mixing at a steady "
     "temperature, a clock range along a history; nil where it does not come.",
     "range|nil", when},
    {"resin", RWL_RUNS_FIT, RWL_NAMED, resin_fields,
     "A resin of a class with the fitted law in place of the class's own. Its spread stays that "
     "of the class unless `rate_sd` and `energy_sd` are given: runs of one batch do not tell how "
     "batches differ.",
     "resin", make_resin},
    RWL_END_FUNCTIONS,
};
