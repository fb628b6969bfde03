/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Censored times: rows that are known exactly, or only to lie before, after or between moments. */
#include "fit_common.h"

#include "core.h"

#include <string.h>

#define RWL_INTERVALS_FIT "intervals_fit"

typedef struct intervals {
  rw_aft *fit;
  size_t covariates;
} intervals;

enum { NAMES = 1 }; /* user value: the coefficients' names, a list */

/* --- reading -------------------------------------------------------------------------------- */

static const char *row_field(lua_State *L, size_t i, const char *name)
{
  return lua_pushfstring(L, "rows[%d].%s", (int)i + 1, name);
}

/* The columns of all rows, on the Lua stack. */
typedef struct columns {
  double *lower, *upper, *weight, *x;
  size_t covariates;
} columns;

static void read_moments(lua_State *L, size_t i, double *lower, double *upper)
{
  int exact = rwl_has(L, "exact"), before = rwl_has(L, "not_yet"), after = rwl_has(L, "already");
  if (exact && (before || after))
    rwl_refuse_field(
        L, row_field(L, i, "exact"),
        lua_pushfstring(L, "rows[%d].exact is given beside not_yet or already", (int)i + 1),
        "give the moment itself, or the looks before and after it");
  if (!exact && !before && !after)
    rwl_refuse_field(
        L, row_field(L, i, "exact"),
        lua_pushfstring(L, "rows[%d].exact is missing, and so are not_yet and already",
                        (int)i + 1),
        "give the moment itself, or a look when it had not yet or had already happened");
  *lower = rwl_get_quantity(L, exact ? "exact" : "not_yet", 0.0);
  *upper = rwl_get_quantity(L, exact ? "exact" : "already", HUGE_VAL);
  if (*upper > 0)
    return;
  const char *field = row_field(L, i, exact ? "exact" : "already");
  rwl_refuse_field(L, field, lua_pushfstring(L, "%s does not lie after the beginning", field),
                   "times count from the beginning, such as \"3 h\" after the mixing");
}

static void read_covariates(lua_State *L, size_t i, double *x, size_t wanted)
{
  size_t n = 0;
  const double *given = rwl_get_list(L, "x", &n);
  if (n != wanted)
    rwl_refuse_field(L, row_field(L, i, "x"),
                     lua_pushfstring(L,
                                     "rows[%d].x and the covariates are not of one number: %d "
                                     "and %d",
                                     (int)i + 1, (int)n, (int)wanted),
                     "every row has one number for each covariate");
  for (size_t j = 0; j < n; j++)
    x[j] = given[j];
}

/* As many as are named, or as the first row has. */
static size_t count_covariates(lua_State *L)
{
  size_t n = rwl_get_count(L, "covariates");
  if (rwl_has(L, "covariates"))
    return n;
  rwl_open(L, "rows", 0);
  rwl_get_list(L, "x", &n);
  rwl_close(L);
  return n;
}

static columns read_rows(lua_State *L, size_t n)
{
  size_t p = count_covariates(L);
  columns c = {.covariates = p};
  c.lower = rwl_block(L, n, sizeof(double));
  c.upper = rwl_block(L, n, sizeof(double));
  c.weight = rwl_block(L, n, sizeof(double));
  c.x = rwl_block(L, n * p, sizeof(double));
  for (size_t i = 0; i < n; i++) {
    rwl_open(L, "rows", i);
    read_moments(L, i, &c.lower[i], &c.upper[i]);
    read_covariates(L, i, c.x + i * p, p);
    c.weight[i] = rwl_get_quantity(L, "weight", 1.0);
    rwl_close(L);
  }
  return c;
}

/* The names of the coefficients, for the object at an index. */
static void keep_names(lua_State *L, int object, size_t covariates)
{
  size_t named = rwl_get_count(L, "covariates");
  lua_newtable(L);
  lua_pushliteral(L, "constant");
  lua_rawseti(L, -2, 1);
  for (size_t j = 0; j < covariates; j++) {
    if (named > 0)
      lua_pushstring(L, rwl_get_string_at(L, "covariates", j));
    else
      lua_pushfstring(L, "x%d", (int)j + 1);
    lua_rawseti(L, -2, (lua_Integer)j + 2);
  }
  lua_pushliteral(L, "ln spread");
  lua_rawseti(L, -2, (lua_Integer)covariates + 2);
  lua_setiuservalue(L, object, NAMES);
}

static const char *bound_of(lua_State *L, size_t row, const char *column)
{
  rwl_open(L, "rows", row);
  int exact = rwl_has(L, "exact");
  rwl_close(L);
  return exact ? "exact" : strcmp(column, "lower") == 0 ? "not_yet" : "already";
}

static void refuse_rows(lua_State *L, rw_error *err)
{
  if (err->line > 0) {
    size_t row = (size_t)err->line - 1;
    int bound = strcmp(err->argument, "lower") == 0 || strcmp(err->argument, "upper") == 0;
    const char *name = bound ? bound_of(L, row, err->argument) : err->argument;
    rwl_rename(err, lua_pushstring(L, err->argument), row_field(L, row, name));
  } else if (strcmp(err->argument, "n") == 0) {
    rwl_rename(err, "n", "rows");
  }
  err->line = 0;
  rwl_in_usual_units(L, err);
  rwl_throw(L, err);
}

static int fit_intervals(lua_State *L)
{
  intervals *f = rwl_push_object(L, RWL_INTERVALS_FIT, sizeof *f);
  int object = lua_gettop(L);
  size_t n = rwl_get_count(L, "rows");
  columns c = read_rows(L, n);
  keep_names(L, object, c.covariates);
  const rw_aft_data data = {.n = n,
                            .covariates = c.covariates,
                            .lower = c.lower,
                            .upper = c.upper,
                            .weight = c.weight,
                            .x = c.x};
  rw_aft_trouble trouble = RW_AFT_FINE;
  rw_error err = {0};
  rw_status status =
      rw_aft_fit(&data, (rw_aft_kind)rwl_get_choice(L, "scatter", 0), &f->fit, &trouble, &err);
  if (status == RW_ERR_NUMERIC) {
    rwl_push_reason(L, &err);
    lua_pushstring(L, rw_aft_trouble_key(trouble));
    return 3;
  }
  if (status < 0)
    refuse_rows(L, &err);
  f->covariates = c.covariates;
  lua_settop(L, object);
  return 1;
}

static int release(lua_State *L)
{
  intervals *f = luaL_testudata(L, 1, "resinwright." RWL_INTERVALS_FIT);
  if (f == NULL)
    return 0;
  rw_aft_destroy(f->fit);
  f->fit = NULL;
  return 0;
}

/* Refused once it is closed. */
static const rw_aft *open_fit(lua_State *L, const intervals *f)
{
  if (f->fit == NULL)
    rwl_refuse_field(L, RWL_INTERVALS_FIT, "this fit was closed and can no longer be asked",
                     "leave <close> away, or use it inside the block");
  return f->fit;
}

/* --- showing -------------------------------------------------------------------------------- */

static void push_coefficients(lua_State *L, const rw_aft *fit, size_t covariates)
{
  lua_getiuservalue(L, 1, NAMES);
  lua_newtable(L);
  for (size_t i = 0; i < covariates + 2; i++) {
    rw_value v = rw_aft_coefficient(fit, i);
    lua_newtable(L);
    lua_rawgeti(L, -3, (lua_Integer)i + 1);
    lua_setfield(L, -2, "name");
    rwl_set_number(L, "value", v.value);
    rwl_set_number(L, "se", v.sd);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
}

static void push_covariance(lua_State *L, const rw_aft *fit, size_t covariates)
{
  size_t m = covariates + 2;
  double *x = rwl_block(L, m * m, sizeof *x);
  for (size_t i = 0; i < m; i++)
    for (size_t j = 0; j < m; j++)
      x[i * m + j] = rw_aft_covariance(fit, i, j);
  rwl_push_matrix(L, x, m);
}

static void push_counts(lua_State *L, const rw_aft_summary *s)
{
  lua_newtable(L);
  rwl_set_number(L, "exact", s->exact);
  rwl_set_number(L, "after", s->after);
  rwl_set_number(L, "before", s->before);
  rwl_set_number(L, "between", s->between);
}

static int read_fit(lua_State *L)
{
  const intervals *f = lua_touserdata(L, 1);
  const char *name = lua_tostring(L, 2);
  const rw_aft *fit = open_fit(L, f);
  rw_aft_summary s;
  rw_aft_summarise(fit, &s);
  if (strcmp(name, "coefficients") == 0)
    push_coefficients(L, fit, f->covariates);
  else if (strcmp(name, "covariance") == 0)
    push_covariance(L, fit, f->covariates);
  else if (strcmp(name, "spread") == 0)
    lua_pushnumber(L, s.spread);
  else if (strcmp(name, "spread_se") == 0)
    lua_pushnumber(L, s.spread_se);
  else if (strcmp(name, "counts") == 0)
    push_counts(L, &s);
  else if (strcmp(name, "log_likelihood") == 0)
    lua_pushnumber(L, s.log_likelihood);
  else if (strcmp(name, "log_likelihood_of_time") == 0)
    lua_pushnumber(L, s.likelihood);
  else
    lua_pushinteger(L, (lua_Integer)s.steps);
  return 1;
}

/* --- asking --------------------------------------------------------------------------------- */

/* The covariates asked about, as many as the fit has. */
static const double *asked_covariates(lua_State *L, const intervals *f)
{
  size_t n = 0;
  const double *x = rwl_get_list(L, "x", &n);
  if (n != f->covariates)
    rwl_refuse_field(L, "x",
                     lua_pushfstring(L, "x and the covariates are not of one number: %d and %d",
                                     (int)n, (int)f->covariates),
                     "give one number for each covariate, as in the rows");
  return n > 0 ? x : NULL;
}

static const rwl_alias share_alias[] = {{"p", "share"}, {NULL, NULL}};

static int quantile(lua_State *L)
{
  const intervals *f = rwl_self(L);
  const rw_aft *fit = open_fit(L, f);
  const double *x = asked_covariates(L, f);
  rw_value log_q = {NAN, NAN};
  rw_error err = {0};
  rw_status status =
      rw_aft_quantile(fit, x, rwl_get_quantity(L, "share", 0.0), &log_q, NULL, &err);
  rwl_check_as(L, status, &err, share_alias);
  lua_newtable(L);
  rwl_push_range(L, "s", exp(log_q.value), exp(log_q.value - RWL_90 * log_q.sd),
                 exp(log_q.value + RWL_90 * log_q.sd), NULL);
  lua_setfield(L, -2, "time");
  rwl_set_number(L, "log_seconds", log_q.value);
  rwl_set_number(L, "log_se", log_q.sd);
  return 1;
}

/* The place of a coefficient by its name. */
static size_t find_coefficient(lua_State *L, size_t covariates)
{
  size_t n = covariates + 2;
  const char **name = rwl_block(L, n, sizeof *name);
  const char *word = rwl_get_string(L, "coefficient", "", NULL);
  lua_getiuservalue(L, 2, NAMES);
  for (size_t i = 0; i < n; i++) {
    lua_rawgeti(L, -1, (lua_Integer)i + 1);
    name[i] = lua_tostring(L, -1); /* the list holds it */
    lua_pop(L, 1);
    if (strcmp(name[i], word) == 0)
      return i;
  }
  rwl_refusal r = {RW_ERR_NAME,
                   "coefficient",
                   lua_pushfstring(L, "coefficient: the fit has none called %s",
                                   rwl_say_text(L, word, strlen(word))),
                   NULL,
                   rwl_say_nearest(L, word, name, n),
                   0,
                   0};
  rwl_refuse(L, &r);
}

/* Whether a limit is one; as a time it must be a number of seconds. */
static int has_end(double x, int of_time)
{
  return isfinite(x) && (!of_time || (isfinite(exp(x)) && exp(x) > 0));
}

/* Ends of a coefficient as numbers, of a time as quantities; what has no end is left out. */
static void set_end(lua_State *L, const char *name, double x, int of_time)
{
  if (!has_end(x, of_time))
    return;
  if (of_time)
    rwl_set_quantity(L, name, "s", exp(x));
  else
    rwl_set_number(L, name, x);
}

static rw_aft_target read_target(lua_State *L, const intervals *f)
{
  int of_time = rwl_has(L, "share"), named = rwl_has(L, "coefficient");
  rw_aft_target target = {.p = rwl_get_quantity(L, "share", 0.0)};
  if (of_time == named)
    rwl_refuse_field(L, "coefficient",
                     named ? "coefficient and share are both given"
                           : "coefficient is missing, and so is share",
                     "name a coefficient, or give share = \"50 %\" for the limits of a time");
  if (named)
    target.coefficient = find_coefficient(L, f->covariates);
  else
    target.x = asked_covariates(L, f);
  if (of_time && !(target.p > 0)) {
    rw_error err;
    rw_error_range(&err, "", "share", target.p, 0, 1, "", "half have happened at \"50 %\"");
    rwl_throw(L, &err);
  }
  return target;
}

static int limits(lua_State *L)
{
  const intervals *f = rwl_self(L);
  const rw_aft *fit = open_fit(L, f);
  const rw_aft_target target = read_target(L, f);
  int of_time = target.p > 0;
  double level = rwl_get_quantity(L, "level", 0.0), low = NAN, high = NAN;
  rw_error err = {0};
  rwl_warning warning;
  rw_status status = rw_aft_profile(fit, &target, level, &low, &high, &err);
  rwl_check_as(L, status, &err, share_alias);
  if (!has_end(low, of_time) || !has_end(high, of_time)) {
    status = RW_NOT_REACHED;
    err = (rw_error){.code = RW_NOT_REACHED, .message = "the rows do not bound it on both sides"};
  }
  rwl_keep(L, &warning, status, &err);
  lua_newtable(L);
  set_end(L, "low", low, of_time);
  set_end(L, "high", high, of_time);
  rwl_set_number(L, "level", level);
  rwl_set_warnings(L, &warning);
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

static const rwl_field row_fields[] = {
    RWL_MAY("exact", RWL_QUANTITY, "s", NULL, "when it happened, where that was seen"),
    RWL_MAY("not_yet", RWL_QUANTITY, "s", NULL, "looked at then, and it had not yet happened"),
    RWL_MAY("already", RWL_QUANTITY, "s", NULL, "it had happened then"),
    RWL_MAY_LIST("x", RWL_NUMBER, "", "covariates, one number for each"),
    RWL_MAY("weight", RWL_NUMBER, "", "1", "counts as so many such rows; 0 leaves it out"),
    RWL_END_FIELDS,
};
static const rwl_field fit_fields[] = {
    RWL_NEED_RECORDS("rows", row_fields, "what was seen, at least 2 rows"),
    RWL_MAY("scatter", RWL_CHOICE, "lognormal|weibull", "lognormal",
            "how ln time scatters: normal, or as a smallest extreme value"),
    RWL_MAY_LIST("covariates", RWL_STRING, "",
                 "names of the covariates; left out, x1, x2 and so on"),
    RWL_END_FIELDS,
};
static const rwl_field quantile_fields[] = {
    RWL_NEED("share", RWL_SHARE, "", "share of the events that have happened by then"),
    RWL_MAY_LIST("x", RWL_NUMBER, "", "covariates, as many as the fit has"),
    RWL_END_FIELDS,
};
static const rwl_field limits_fields[] = {
    RWL_MAY("coefficient", RWL_STRING, "", NULL, "name of a coefficient"),
    RWL_MAY("share", RWL_SHARE, "", NULL, "or of a time: the share that has happened by then"),
    RWL_MAY_LIST("x", RWL_NUMBER, "", "for a time: covariates, as many as the fit has"),
    RWL_LEVEL_FIELD("the interval"),
    RWL_END_FIELDS,
};

static const rwl_function functions[] = {
    {"fit_intervals", NULL, RWL_NAMED, fit_fields,
     "Fits times that are known exactly, or only to lie before, after or between looks: ln time "
     "= constant + covariates + spread. Where the rows allow no estimate: nil, why, and the key "
     "of the trouble (all_after, all_before, constant, collinear, threaded, exact, separated, "
     "spreadless, unsettled).",
     RWL_INTERVALS_FIT "|nil, string|nil, string|nil", fit_intervals},
    RWL_END_FUNCTIONS,
};
static const rwl_function methods[] = {
    {"quantile", RWL_INTERVALS_FIT, RWL_NAMED, quantile_fields,
     "When a share of the events has happened: `time`, a range made on the logarithm, where the "
     "spread is nearer to even; `log_seconds` and its standard error `log_se`.",
     "table", quantile},
    {"limits", RWL_INTERVALS_FIT, RWL_NAMED, limits_fields,
     "Limits from the likelihood itself, which need no even spread: `low` and `high` of a "
     "coefficient as numbers, of a time as quantities, nil where there is none; `level`; "
     "`warnings`.",
     "table", limits},
    RWL_END_FUNCTIONS,
};
static const rwl_property properties[] = {
    {"coefficients", "{name: string, value: number, se: number}[]",
     "`constant`, those of the covariates, and `ln spread`; time in seconds"},
    {"covariance", "number[][]", "of the coefficients, in their order"},
    {"spread", "number", "of ln time"},
    {"spread_se", "number", "its standard error"},
    {"counts", "table", "weight of the rows `exact`, known to come `after`, `before`, `between`"},
    {"log_likelihood", "number", "in ln time"},
    {"log_likelihood_of_time", "number", "in time, per second for exact rows"},
    {"steps", "integer", "steps taken"},
    RWL_END_PROPERTIES,
};
static const luaL_Reg events[] = {{"__gc", release}, {"__close", release}, {NULL, NULL}};
static const rwl_type types[] = {
    {RWL_INTERVALS_FIT, "A fit of times known within intervals.", properties, read_fit, methods,
     events},
    RWL_END_TYPES,
};

const rwl_set rwl_fit_intervals_set = {functions, types};
