/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rate laws fitted to measured conversions: reads the runs, fits them, shows the fit. */
#include "fit_runs.h"

#include "core.h"
#include "law.h"

#include <string.h>

const char rwl_parameter_keys[] =
#define RW_X(name, key, unit) "|" key
    RW_FIT_PARAMETER_LIST(RW_X)
#undef RW_X
    ;

/* --- courses -------------------------------------------------------------------------------- */

rw_course rwl_get_course(lua_State *L, const char *prefix)
{
  static const char hint[] = "give temperature = \"40 degC\", or a history and the clock time "
                             "`from` of the mixing";
  int steady = rwl_has(L, "temperature"), logged = rwl_has(L, "history"),
      from = rwl_has(L, "from");
  if (steady && logged)
    rwl_refuse_field(L, lua_pushfstring(L, "%shistory", prefix),
                     lua_pushfstring(L, "%stemperature and history are both given", prefix), hint);
  if (!steady && !logged)
    rwl_refuse_field(L, lua_pushfstring(L, "%stemperature", prefix),
                     lua_pushfstring(L, "%stemperature is missing, and so is history", prefix),
                     hint);
  if (logged && !from)
    rwl_refuse_absent(L, lua_pushfstring(L, "%sfrom", prefix), hint);
  if (steady && from)
    rwl_refuse_field(L, lua_pushfstring(L, "%sfrom", prefix),
                     lua_pushfstring(L,
                                     "%sfrom is given, but at a steady temperature times count "
                                     "from the mixing",
                                     prefix),
                     "leave it out, or give a history");
  return (rw_course){.history = rwl_history_in(L, rwl_get_object(L, "history")),
                     .T = rwl_get_quantity(L, "temperature", 0.0),
                     .from = rwl_get_quantity(L, "from", 0.0),
                     .start = rwl_get_quantity(L, "start", 0.0)};
}

_Noreturn void rwl_throw_course(lua_State *L, rw_error *err, const char *prefix)
{
  const char *name = strcmp(err->argument, "T") == 0 ? "temperature" : err->argument;
  if (err->code == RW_ERR_COVERAGE)
    name = "history";
  const char *field = lua_pushfstring(L, "%s%s", prefix, name);
  if (strcmp(err->argument, "time") == 0)
    rwl_blame(err, field);
  else
    rwl_rename(err, lua_pushstring(L, err->argument), field);
  rwl_throw_usual(L, err);
}

/* --- reading -------------------------------------------------------------------------------- */

static void check_weights(lua_State *L, const char *prefix, const double *weight, size_t n)
{
  for (size_t l = 0; l < n; l++) {
    if (weight[l] >= 0)
      continue;
    rw_error err;
    rw_error_range(&err, "", lua_pushfstring(L, "%sweight[%d]", prefix, (int)l + 1), weight[l], 0,
                   HUGE_VAL, "", "a weight goes as 1/variance; 0 leaves the point out");
    rwl_throw(L, &err);
  }
}

/* One run; its times are put into `time`, on the clock of its course. */
static void read_run(lua_State *L, rwl_runs_fit *f, size_t i, double *time)
{
  int top = lua_gettop(L);
  const char *prefix = lua_pushfstring(L, "runs[%d].", (int)i + 1);
  rwl_open(L, "runs", i);
  size_t n = 0, weights = 0;
  const double *since = rwl_get_list(L, "time", &n);
  rwl_same_length(L, prefix, "cure", "time");
  rw_run run = {.course = rwl_get_course(L, prefix), .time = time, .n = n};
  run.cure = rwl_get_list(L, "cure", &n);
  run.weight = rwl_get_list(L, "weight", &weights);
  if (run.weight != NULL) {
    rwl_same_length(L, prefix, "weight", "time");
    check_weights(L, prefix, run.weight, weights);
  }
  for (size_t l = 0; l < n; l++)
    time[l] = run.course.from + since[l];
  f->run[i] = run;
  f->history[i] = rwl_get_object(L, "history");
  rwl_close(L);
  lua_settop(L, top);
}

static size_t count_points(lua_State *L, size_t runs)
{
  size_t points = 0, n = 0;
  for (size_t i = 0; i < runs; i++) {
    rwl_open(L, "runs", i);
    rwl_get_list(L, "time", &n);
    rwl_close(L);
    points += n;
  }
  return points;
}

/* A block that lives as long as the arguments. */
static void *keep(lua_State *L, size_t n, size_t each)
{
  void *block = rwl_block(L, n, each);
  lua_rawseti(L, 1, (lua_Integer)lua_rawlen(L, 1) + 1);
  return block;
}

static void read_runs(lua_State *L, rwl_runs_fit *f)
{
  size_t n = rwl_get_count(L, "runs"), points = count_points(L, n), done = 0;
  f->run = keep(L, n, sizeof *f->run);
  f->history = keep(L, n, sizeof(rwl_history *));
  f->residual = keep(L, points, sizeof *f->residual);
  double *time = keep(L, points, sizeof *time);
  for (size_t i = 0; i < n; i++) {
    read_run(L, f, i, time + done);
    done += f->run[i].n;
  }
  f->runs.run = f->run;
  f->runs.n = n;
}

static void read_free(lua_State *L, rwl_runs_fit *f)
{
  size_t p = rwl_get_count(L, "free");
  rw_fit_parameter *parameter = keep(L, p, sizeof *parameter);
  for (size_t j = 0; j < p; j++)
    parameter[j] = (rw_fit_parameter)rwl_get_choice_at(L, "free", j);
  f->runs.parameter = parameter;
  f->runs.p = p;
}

static rw_robust read_robust(lua_State *L)
{
  rw_robust r = {.loss = RW_LOSS_SQUARES};
  if (!rwl_has(L, "robust"))
    return r;
  rwl_open(L, "robust", 0);
  r.loss = (rw_num_loss)(RW_LOSS_HUBER + rwl_get_choice(L, "loss", 0));
  r.scale = (rw_num_scale)rwl_get_choice(L, "scale", RW_SCALE_MEDIAN);
  r.tuning = rwl_get_quantity(L, "tuning", 0.0);
  r.sd = rwl_get_quantity(L, "sd", 0.0);
  if (r.scale == RW_SCALE_FIXED && !rwl_has(L, "sd"))
    rwl_refuse_absent(L, "robust.sd", "a fixed scale is the spread that the measurements have");
  if (r.scale != RW_SCALE_FIXED && rwl_has(L, "sd"))
    rwl_refuse_field(L, "robust.sd", "robust.sd is given, but its scale is not fixed",
                     "write scale = \"fixed\", or leave sd out");
  rwl_close(L);
  return r;
}

/* --- fitting -------------------------------------------------------------------------------- */

static int is_parameter(const char *word)
{
  for (int q = 0; q < RW_FIT_PARAMETERS; q++)
    if (strcmp(word, rw_fit_parameter_key((rw_fit_parameter)q)) == 0)
      return 1;
  return 0;
}

/* Raises what is wrong with the course or the times of a run, if one is. */
static void look_at_runs(lua_State *L, const rwl_runs_fit *f)
{
  double *cure = f->residual;
  for (size_t i = 0; i < f->runs.n; i++) {
    const rw_run *run = &f->run[i];
    rw_error err = {0};
    if (rw_fit_slopes(&f->runs.law, &run->course, NULL, 0, run->time, run->n, 1e-6, cure, NULL,
                      &err) < 0)
      rwl_throw_course(L, &err, lua_pushfstring(L, "runs[%d].", (int)i + 1));
  }
}

/* Points that count. */
static size_t weighted_points(const rwl_runs_fit *f)
{
  size_t points = 0;
  for (size_t i = 0; i < f->runs.n; i++)
    for (size_t l = 0; l < f->run[i].n; l++)
      points += f->run[i].weight == NULL || f->run[i].weight[l] > 0;
  return points;
}

/* The library's "n" is a count of runs or points, or the power n of the law. */
static int is_count(const rwl_runs_fit *f, const rw_error *err)
{
  if (strcmp(err->argument, "n") != 0)
    return 0;
  return err->code == RW_ERR_RANGE ? f->runs.n > 1000 : weighted_points(f) <= f->runs.p;
}

static void refuse_fit(lua_State *L, const rwl_runs_fit *f, rw_error *err)
{
  if (strcmp(err->argument, "cure") == 0 && err->line > 0)
    rwl_rename(err, "cure",
               lua_pushfstring(L, "runs[%d].cure[%d]", (int)err->column, (int)err->line));
  else if (is_count(f, err))
    rwl_blame(err, "runs");
  else if (is_parameter(err->argument))
    rwl_blame(err, "free");
  else if (strcmp(err->argument, "tuning") == 0)
    rwl_rename(err, "tuning", "robust.tuning");
  else if (strcmp(err->argument, "sd") == 0)
    rwl_rename(err, "sd", "robust.sd");
  else if (err->code != RW_ERR_MEMORY && strcmp(err->argument, "tolerance") != 0)
    look_at_runs(L, f);
  err->line = err->column = 0;
  rwl_throw_usual(L, err);
}

static int fit_runs(lua_State *L)
{
  rwl_runs_fit *f = rwl_push_object(L, RWL_RUNS_FIT, sizeof *f);
  lua_pushvalue(L, 1);
  lua_setiuservalue(L, -2, 1);
  f->runs.law = ((const rwl_law *)rwl_get_object(L, "law"))->law;
  f->runs.tolerance = rwl_get_quantity(L, "tolerance", 0.0);
  f->runs.robust = read_robust(L);
  read_free(L, f);
  read_runs(L, f);
  rw_error err = {0};
  rw_status status = rw_fit_runs(&f->runs, &f->fit, f->residual, &err);
  if (status < 0)
    refuse_fit(L, f, &err);
  rwl_keep_law(L, &f->warning, status, &err);
  return 1;
}

/* --- showing -------------------------------------------------------------------------------- */

static void push_law(lua_State *L, const rwl_runs_fit *f)
{
  rwl_law *l = rwl_push_object(L, RWL_LAW, sizeof *l);
  l->law = f->fit.law;
  l->warning = f->warning;
}

/* Of two stages the second constant stands for itself, it may be below zero. */
const char *rwl_parameter_unit(const rw_runs_fit *fit, size_t j)
{
  rw_fit_parameter q = fit->parameter[j];
  int plain = q == RW_FIT_K2 && fit->law.kind == RW_LAW_TWO_STAGE;
  return plain ? "1/s" : rw_fit_parameter_unit(q);
}

/* The parameter itself with its 90 % interval, k and not its logarithm. */
static void push_parameter_range(lua_State *L, const char *unit, rw_value x)
{
  if (strcmp(unit, "ln(1/s)") == 0)
    rwl_push_range(L, "1/s", exp(x.value), exp(x.value - RWL_90 * x.sd),
                   exp(x.value + RWL_90 * x.sd), NULL);
  else
    rwl_push_value(L, unit, x, NULL);
}

static void push_parameters(lua_State *L, const rw_runs_fit *fit)
{
  lua_newtable(L);
  for (size_t j = 0; j < fit->p; j++) {
    const char *unit = rwl_parameter_unit(fit, j);
    lua_newtable(L);
    rwl_set_text(L, "name", rw_fit_parameter_key(fit->parameter[j]));
    rwl_set_number(L, "value", fit->x[j]);
    rwl_set_number(L, "sd", fit->sd[j]);
    rwl_set_text(L, "unit", unit);
    push_parameter_range(L, unit, (rw_value){fit->x[j], fit->sd[j]});
    lua_setfield(L, -2, "range");
    lua_rawseti(L, -2, (lua_Integer)j + 1);
  }
}

static void push_residuals(lua_State *L, const rwl_runs_fit *f)
{
  size_t done = 0;
  lua_newtable(L);
  for (size_t i = 0; i < f->runs.n; i++) {
    lua_newtable(L);
    for (size_t l = 0; l < f->run[i].n; l++) {
      lua_pushnumber(L, f->residual[done++]);
      lua_rawseti(L, -2, (lua_Integer)l + 1);
    }
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
}

static int read_fit(lua_State *L)
{
  const rwl_runs_fit *f = lua_touserdata(L, 1);
  const char *name = lua_tostring(L, 2);
  const rw_runs_fit *fit = &f->fit;
  if (strcmp(name, "law") == 0)
    push_law(L, f);
  else if (strcmp(name, "parameters") == 0)
    push_parameters(L, fit);
  else if (strcmp(name, "correlation") == 0)
    rwl_push_matrix(L, fit->correlation, fit->p);
  else if (strcmp(name, "covariance") == 0)
    rwl_push_matrix(L, fit->covariance, fit->p);
  else if (strcmp(name, "residuals") == 0)
    push_residuals(L, f);
  else if (strcmp(name, "residual_sd") == 0)
    lua_pushnumber(L, fit->residual_sd);
  else if (strcmp(name, "sum_of_squares") == 0)
    lua_pushnumber(L, fit->rss);
  else if (strcmp(name, "points") == 0)
    lua_pushinteger(L, (lua_Integer)fit->points);
  else if (strcmp(name, "freedom") == 0)
    lua_pushinteger(L, (lua_Integer)fit->freedom);
  else if (strcmp(name, "condition") == 0)
    lua_pushnumber(L, fit->condition);
  else if (strcmp(name, "rounds") == 0)
    lua_pushinteger(L, fit->rounds);
  else
    rwl_push_warnings(L, &f->warning);
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

static const rwl_field run_fields[] = {
    RWL_COURSE_FIELDS,
    RWL_NEED_LIST("time", RWL_QUANTITY, "s", "times since the mixing, in their order"),
    RWL_NEED_LIST("cure", RWL_QUANTITY, "",
                  "degrees of cure measured then, -0.2 to 1.2, or {unit = \"%\", ...}"),
    RWL_MAY_LIST("weight", RWL_NUMBER, "",
                 "weights, as 1/variance up to a factor; left out, all alike"),
    RWL_END_FIELDS,
};
static const rwl_field robust_fields[] = {
    RWL_MAY("loss", RWL_CHOICE, "huber|bisquare", "huber",
            "huber: far points count less; bisquare: very far ones not at all"),
    RWL_MAY("scale", RWL_CHOICE, "median|proposal|leverage|fixed", "median",
            "where the spread of the points comes from: their median; the second proposal; the "
            "median with each point's leverage; or `sd`"),
    RWL_MAY("tuning", RWL_NUMBER, "", NULL,
            "how many spreads count in full, 0.1 to 100; left out, 1.345 or 4.685"),
    RWL_MAY("sd", RWL_NUMBER, "", NULL, "spread of a point of weight 1, for a fixed scale"),
    RWL_END_FIELDS,
};
static const rwl_field fit_fields[] = {
    RWL_NEED("law", RWL_OBJECT, RWL_LAW,
             "where to start, and the values of what is not free, see rw.law"),
    {"free", RWL_CHOICE, rwl_parameter_keys + 1, RWL_REQUIRED | RWL_LIST, NULL,
     "the parameters to be fitted, rate constants by their natural logarithm", NULL},
    RWL_NEED_RECORDS("runs", run_fields, "measured runs, each at its temperature, 1 to 1000"),
    RWL_MAY_RECORD("robust", robust_fields, "a fit that gross errors hardly move"),
    RWL_MAY("tolerance", RWL_NUMBER, "", "1e-9", "error allowed in a computed degree of cure"),
    RWL_END_FIELDS,
};

static const rwl_function functions[] = {
    {"fit_runs", NULL, RWL_NAMED, fit_fields,
     "Fits a rate law to all measured runs at once. The fitted `law` goes wherever a law goes. "
     "Errors of the calorimeter's zero or of the full heat are not in the spreads, nor is what "
     "another batch would show.",
     RWL_RUNS_FIT, fit_runs},
    RWL_END_FUNCTIONS,
};
static const rwl_property properties[] = {
    {"law", "law", "the fitted law"},
    {"parameters", "table[]",
     "what was fitted: `name`, `value` and `sd` as plain numbers in `unit`, and `range`, the "
     "constant or energy itself with its interval"},
    {"correlation", "number[][]",
     "of the parameters, in their order; near 1 or -1 two of them "
     "cannot be told apart"},
    {"covariance", "number[][]", "likewise, in the parameters' units"},
    {"residuals", "number[][]", "fitted less measured, run by run"},
    {"residual_sd", "number", "spread of a point of weight 1"},
    {"sum_of_squares", "number", "weighted sum of the squared residuals"},
    {"points", "integer", "points that count"},
    {"freedom", "integer", "points less parameters"},
    {"condition", "number",
     "how near the runs come to leaving a parameter open: 1 is best, from "
     "1e6 on hold one of them"},
    {"rounds", "integer", "steps taken"},
    {"warnings", "string[]", "what to know about it; empty where nothing"},
    RWL_END_PROPERTIES,
};
static const rwl_type types[] = {
    {RWL_RUNS_FIT, "A rate law fitted to measured runs.", properties, read_fit,
     rwl_runs_fit_methods, NULL},
    RWL_END_TYPES,
};

const rwl_set rwl_fit_runs_set = {functions, types};
