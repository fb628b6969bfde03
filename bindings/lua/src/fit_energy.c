/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Activation energies from a calorimeter's heating runs and from times. */
#include "fit_common.h"

#include <string.h>

static const double USUAL_LEVEL = 0.9; /* of a range */

static void blame_unless_level(rw_error *err, const char *field)
{
  if (err->code != RW_ERR_MEMORY && strcmp(err->argument, "level") != 0)
    rwl_blame(err, field);
}

/* --- results -------------------------------------------------------------------------------- */

/* An energy at the level asked for and at that of a range. */
typedef struct found {
  rw_fit_energy asked, usual;
} found;

static void push_energy(lua_State *L, const found *f, double level, rw_status status,
                        const rw_error *err)
{
  const rw_fit_energy *e = &f->asked;
  lua_newtable(L);
  rwl_push_range(L, "J/mol", e->E, f->usual.E_low, f->usual.E_high, NULL);
  rwl_note(L, -1, status, err);
  lua_setfield(L, -2, "energy");
  rwl_set_known_quantity(L, "se", "J/mol", e->E_se);
  rwl_set_known_quantity(L, "low", "J/mol", e->E_low);
  rwl_set_known_quantity(L, "high", "J/mol", e->E_high);
  rwl_set_number(L, "level", level);
  rwl_set_temperature(L, "middle", e->T_mid);
  rwl_set_known_quantity(L, "rate", "1/s", exp(e->log_k));
  rwl_set_known(L, "log_rate", e->log_k);
  rwl_set_known(L, "log_rate_se", e->log_k_se);
  rwl_set_known(L, "log_factor", e->log_A);
  rwl_set_known(L, "scatter", e->scatter);
  rwl_set_known(L, "objective", e->objective);
  lua_pushinteger(L, (lua_Integer)e->n);
  lua_setfield(L, -2, "runs");
  lua_pushinteger(L, (lua_Integer)e->freedom);
  lua_setfield(L, -2, "freedom");
}

static void set_remark(lua_State *L, rw_status status, const rw_error *err)
{
  rwl_warning warning;
  rwl_keep(L, &warning, status, err);
  rwl_set_warnings(L, &warning);
}

/* --- points --------------------------------------------------------------------------------- */

static rw_iso_point read_point(lua_State *L, rw_iso_method method, size_t i)
{
  const char *wanted = method == RW_ISO_FRIEDMAN ? "rate" : "heating";
  rwl_open(L, "points", i);
  if (!rwl_has(L, wanted))
    rwl_refuse_absent(L, lua_pushfstring(L, "points[%d].%s", (int)i + 1, wanted),
                      method == RW_ISO_FRIEDMAN
                          ? "this method takes the rate at the point, such as \"0.001 1/s\""
                          : "this method takes the heating rate, such as \"10 K/min\"");
  rw_iso_point p = {.heating = rwl_get_quantity(L, "heating", 0.0),
                    .temperature = rwl_get_quantity(L, "temperature", 0.0),
                    .rate = rwl_get_quantity(L, "rate", 0.0),
                    .start = rwl_get_quantity(L, "start", 0.0)};
  rwl_close(L);
  return p;
}

static int activation_energy(lua_State *L)
{
  rw_iso_method method = (rw_iso_method)rwl_get_choice(L, "method", 0);
  double level = rwl_get_quantity(L, "level", 0.0);
  size_t n = rwl_get_count(L, "points");
  rw_iso_point *point = rwl_block(L, n, sizeof *point);
  for (size_t i = 0; i < n; i++)
    point[i] = read_point(L, method, i);
  found f;
  rw_error err = {0};
  rw_status status = rw_iso_energy(method, point, n, level, &f.asked, &err);
  if (status >= 0)
    status = rw_iso_energy(method, point, n, USUAL_LEVEL, &f.usual, &err);
  if (status < 0) {
    if (!rwl_place_element(L, &err, "points"))
      blame_unless_level(&err, "points");
    rwl_throw_usual(L, &err);
  }
  push_energy(L, &f, level, status, &err);
  set_remark(L, status, &err);
  return 1;
}

/* --- whole runs ----------------------------------------------------------------------------- */

static rw_iso_curve read_curve(lua_State *L, const char *prefix)
{
  size_t n = 0, unused;
  rw_iso_curve c = {.heating = rwl_get_quantity(L, "heating", 0.0),
                    .start = rwl_get_quantity(L, "start", 0.0),
                    .temperature = rwl_get_list(L, "temperature", &n)};
  rwl_same_length(L, prefix, "conversion", "temperature");
  if (rwl_has(L, "rate"))
    rwl_same_length(L, prefix, "rate", "temperature");
  c.conversion = rwl_get_list(L, "conversion", &unused);
  c.rate = rwl_get_list(L, "rate", &unused);
  c.n = n;
  return c;
}

/* Raises what is wrong with a run; `asked` is the field of the conversion looked for. */
static _Noreturn void refuse_curve(lua_State *L, rw_error *err, const rw_iso_curve *c,
                                   const char *prefix, const char *asked)
{
  int about_rate = strcmp(err->argument, "rate") == 0;
  if (rwl_place_reading(L, err, prefix) || err->code == RW_ERR_MEMORY)
    rwl_throw_usual(L, err);
  if (strcmp(err->argument, "heating") == 0)
    rwl_rename(err, "heating", lua_pushfstring(L, "%sheating", prefix));
  else if (about_rate)
    rwl_blame(err, lua_pushfstring(L, "%s%s", prefix, c->rate != NULL ? "rate" : "conversion"));
  else if (strcmp(err->argument, "n") == 0)
    rwl_blame(err, lua_pushfstring(L, "%stemperature", prefix));
  else if (asked != NULL)
    rwl_rename(err, "conversion", asked);
  rwl_throw_usual(L, err);
}

static int push_point(lua_State *L, const rw_iso_point *p)
{
  lua_newtable(L);
  rwl_set_quantity(L, "heating", "K/s", p->heating);
  rwl_set_temperature(L, "temperature", p->temperature);
  rwl_set_quantity(L, "rate", "1/s", p->rate);
  if (p->start > 0)
    rwl_set_temperature(L, "start", p->start);
  return 1;
}

static int heating_peak(lua_State *L)
{
  rw_iso_point peak;
  rw_error err = {0};
  rw_iso_curve c = read_curve(L, "");
  if (rw_iso_peak(&c, &peak, &err) < 0)
    refuse_curve(L, &err, &c, "", NULL);
  return push_point(L, &peak);
}

static int heating_pass(lua_State *L)
{
  rw_iso_point point;
  rw_error err = {0};
  rw_iso_curve c = read_curve(L, "");
  if (rw_iso_pass(&c, rwl_get_quantity(L, "at", 0.0), &point, &err) < 0)
    refuse_curve(L, &err, &c, "", "at");
  return push_point(L, &point);
}

/* The curves of a scan, the conversions asked for, and room for the answers. */
typedef struct scan {
  rw_iso_method method;
  rw_iso_curve *curve;
  const double *conversion;
  rw_fit_energy *asked, *usual;
  size_t n, m;
  double level;
} scan;

static scan read_scan(lua_State *L)
{
  scan s = {.method = (rw_iso_method)(RW_ISO_OFW + rwl_get_choice(L, "method", 0)),
            .n = rwl_get_count(L, "curves"),
            .level = rwl_get_quantity(L, "level", 0.0)};
  s.conversion = rwl_get_list(L, "conversions", &s.m);
  s.curve = rwl_block(L, s.n, sizeof *s.curve);
  s.asked = rwl_block(L, s.m, sizeof *s.asked);
  s.usual = rwl_block(L, s.m, sizeof *s.usual);
  for (size_t i = 0; i < s.n; i++) {
    const char *prefix = lua_pushfstring(L, "curves[%d].", (int)i + 1);
    rwl_open(L, "curves", i);
    s.curve[i] = read_curve(L, prefix);
    rwl_close(L);
    lua_pop(L, 1);
  }
  return s;
}

/* Raises what one curve alone has wrong, if one has. */
static void look_at_curves(lua_State *L, const scan *s)
{
  for (size_t i = 0; i < s->n; i++)
    for (size_t j = 0; j < s->m; j++) {
      rw_iso_point unused;
      rw_error err = {0};
      if (rw_iso_pass(&s->curve[i], s->conversion[j], &unused, &err) < 0)
        refuse_curve(L, &err, &s->curve[i], lua_pushfstring(L, "curves[%d].", (int)i + 1),
                     lua_pushfstring(L, "conversions[%d]", (int)j + 1));
    }
}

static int energy_scan(lua_State *L)
{
  scan s = read_scan(L);
  rw_error err = {0};
  rw_status status =
      rw_iso_scan(s.method, s.curve, s.n, s.conversion, s.m, s.level, s.asked, &err);
  if (status >= 0)
    status = rw_iso_scan(s.method, s.curve, s.n, s.conversion, s.m, USUAL_LEVEL, s.usual, &err);
  if (status < 0) {
    if (err.code != RW_ERR_MEMORY && strcmp(err.argument, "level") != 0 &&
        strcmp(err.argument, "m") != 0)
      look_at_curves(L, &s);
    blame_unless_level(&err, strcmp(err.argument, "m") == 0 ? "conversions" : "curves");
    rwl_throw_usual(L, &err);
  }
  lua_newtable(L);
  for (size_t j = 0; j < s.m; j++) {
    const found f = {s.asked[j], s.usual[j]};
    push_energy(L, &f, s.level, status, &err);
    rwl_set_number(L, "conversion", s.conversion[j]);
    lua_rawseti(L, -2, (lua_Integer)j + 1);
  }
  set_remark(L, status, &err);
  return 1;
}

/* --- times ---------------------------------------------------------------------------------- */

/* The first run of the same material stands for it. */
static int material_of(lua_State *L, const char *name, size_t i)
{
  for (size_t j = 0; j < i; j++) {
    rwl_open(L, "runs", j);
    const char *other = rwl_get_string(L, "material", "", NULL);
    rwl_close(L);
    if (strcmp(other, name) == 0)
      return (int)j;
  }
  return (int)i;
}

static rw_fit_time read_time(lua_State *L, size_t i)
{
  rwl_open(L, "runs", i);
  rw_fit_time t = {.temperature = rwl_get_quantity(L, "temperature", 0.0),
                   .time = rwl_get_quantity(L, "time", 0.0)};
  const char *name = rwl_get_string(L, "material", "", NULL);
  rwl_close(L);
  t.material = material_of(L, name, i);
  return t;
}

static int energy_of_times(lua_State *L)
{
  double level = rwl_get_quantity(L, "level", 0.0), timing = rwl_get_quantity(L, "timing", 0.0);
  size_t n = rwl_get_count(L, "runs");
  rw_fit_time *run = rwl_block(L, n, sizeof *run);
  for (size_t i = 0; i < n && n <= RW_FIT_RUNS; i++)
    run[i] = read_time(L, i);
  found f;
  rw_error err = {0};
  rw_status status = rw_fit_times(run, n, timing, level, &f.asked, &err);
  if (status >= 0)
    status = rw_fit_times(run, n, timing, USUAL_LEVEL, &f.usual, &err);
  if (status < 0) {
    if (!rwl_place_element(L, &err, "runs"))
      blame_unless_level(&err, "runs");
    rwl_throw_usual(L, &err);
  }
  push_energy(L, &f, level, status, &err);
  set_remark(L, status, &err);
  return 1;
}

static int time_of_change(lua_State *L)
{
  size_t n = 0, unused;
  const double *time = rwl_get_list(L, "time", &n), *value = rwl_get_list(L, "value", &unused);
  double duration = NAN;
  rw_error err = {0};
  rwl_same_length(L, "", "value", "time");
  rw_status status = rw_fit_change(time, value, n, rwl_get_quantity(L, "from", 0.0),
                                   rwl_get_quantity(L, "to", 0.0), &duration, &err);
  if (status < 0) {
    if (!rwl_place_reading(L, &err, "") && strcmp(err.argument, "n") == 0)
      rwl_blame(&err, "time");
    rwl_throw_usual(L, &err);
  }
  rwl_push_quantity(L, "s", duration);
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

#define HEATING(DECLARE, what)                                                                    \
  DECLARE("heating", RWL_QUANTITY, "K/s", what "heating rate, such as \"10 K/min\"")
#define START                                                                                     \
  RWL_MAY("start", RWL_TEMPERATURE, "", NULL,                                                     \
          "where the run began with nothing cured; without it vyazovkin is too high at low "      \
          "conversions")
#define LEFT(name, kind, detail, doc) RWL_MAY(name, kind, detail, NULL, doc)
#define CURVE_FIELDS                                                                              \
  HEATING(RWL_NEED, ""), START,                                                                   \
      RWL_NEED_LIST("temperature", RWL_TEMPERATURE, "",                                           \
                    "readings, rising, at least 5, such as {unit = \"degC\", 40, 42, ...}"),      \
      RWL_NEED_LIST("conversion", RWL_QUANTITY, "", "conversion at each, 0 to 1, never falling"), \
      RWL_MAY_LIST("rate", RWL_QUANTITY, "1/s",                                                   \
                   "rate at each; left out, the slope of the conversion")

static const rwl_field point_fields[] = {
    HEATING(LEFT, "for all methods but friedman: "),
    RWL_NEED("temperature", RWL_TEMPERATURE, "", "temperature of the peak or the conversion"),
    LEFT("rate", RWL_QUANTITY, "1/s", "for friedman: rate of the conversion there"),
    START,
    RWL_END_FIELDS,
};
static const rwl_field energy_fields[] = {
    RWL_NEED("method", RWL_CHOICE, "kissinger|e698|ofw|kas|starink|friedman|vyazovkin",
             "kissinger and e698 take peaks, the others places of equal conversion: ofw (Ozawa, "
             "Flynn, Wall), kas (Kissinger, Akahira, Sunose), starink, friedman (from rates, any "
             "course of temperature), vyazovkin (exact temperature integrals)"),
    RWL_NEED_RECORDS("points", point_fields, "one point of each run, 2 to 32; 3 for an interval"),
    RWL_LEVEL_FIELD("`low` to `high`"),
    RWL_END_FIELDS,
};
static const rwl_field peak_fields[] = {CURVE_FIELDS, RWL_END_FIELDS};
static const rwl_field pass_fields[] = {
    CURVE_FIELDS,
    RWL_NEED("at", RWL_SHARE, "", "the conversion asked for"),
    RWL_END_FIELDS,
};
static const rwl_field scan_fields[] = {
    RWL_NEED("method", RWL_CHOICE, "ofw|kas|starink|friedman|vyazovkin",
             "as in rw.activation_energy"),
    RWL_NEED_RECORDS("curves", peak_fields, "whole runs, 2 to 32; 3 for intervals"),
    RWL_NEED_LIST("conversions", RWL_SHARE, "", "conversions asked for, 1 to 1000"),
    RWL_LEVEL_FIELD("`low` to `high`"),
    RWL_END_FIELDS,
};
static const rwl_field time_fields[] = {
    RWL_NEED("temperature", RWL_TEMPERATURE, "", "steady temperature of the run"),
    RWL_NEED("time", RWL_QUANTITY, "s", "how long the change took"),
    LEFT("material", RWL_STRING, "",
         "which material, in any words; materials may differ in speed and share the energy"),
    RWL_END_FIELDS,
};
static const rwl_field times_fields[] = {
    RWL_NEED_RECORDS("runs", time_fields, "one and the same change, timed, 2 to 32 runs"),
    RWL_MAY("timing", RWL_SHARE, "", "0 %",
            "share by which a time may be off; keeps a lucky line from claiming too much"),
    RWL_LEVEL_FIELD("`low` to `high`"),
    RWL_END_FIELDS,
};
static const rwl_field change_fields[] = {
    RWL_NEED_LIST("time", RWL_QUANTITY, "s", "moments of the readings, rising"),
    RWL_NEED_LIST("value", RWL_NUMBER, "", "readings of anything that rises"),
    RWL_NEED("from", RWL_NUMBER, "", "level where the time begins"),
    RWL_NEED("to", RWL_NUMBER, "", "level where it ends, above `from`"),
    RWL_END_FIELDS,
};

#define ENERGY                                                                                    \
  "`energy`, a range; its standard error `se`, and `low` to `high` at `level`; `middle`, the "    \
  "temperature where energy and `rate` (a rate constant) vary independently, with `log_rate`, "   \
  "`log_rate_se` and `log_factor` as logarithms of 1/s; `scatter` of the points in logarithms; "  \
  "`objective` of vyazovkin, n(n-1) where all runs agree; `runs`, `freedom`; `warnings`. What "   \
  "is not known is nil."

static const rwl_function functions[] = {
    {"activation_energy", NULL, RWL_NAMED, energy_fields,
     "Activation energy from one point of each of several heating runs: " ENERGY
     "The interval holds the scatter of the runs, no error of method or calorimeter.",
     "table", activation_energy},
    {"heating_peak", NULL, RWL_NAMED, peak_fields,
     "The peak of a heating run, on a spline through its readings: `heating`, `temperature`, "
     "`rate`, `start`, as rw.activation_energy takes a point.",
     "table", heating_peak},
    {"heating_pass", NULL, RWL_NAMED, pass_fields,
     "Where a heating run passes a conversion, likewise.", "table", heating_pass},
    {"energy_scan", NULL, RWL_NAMED, scan_fields,
     "Activation energy at several conversions from whole runs: a list as of "
     "rw.activation_energy, each with its `conversion`; `warnings`. An energy that changes along "
     "the cure tells that one rate law won't do.",
     "table", energy_scan},
    {"energy_of_times", NULL, RWL_NAMED, times_fields,
     "Activation energy from how long one change took at several temperatures: " ENERGY, "table",
     energy_of_times},
    {"time_of_change", NULL, RWL_NAMED, change_fields,
     "Time from the first passing of a level to the first passing of a higher one, by straight "
     "lines between the readings.",
     "quantity", time_of_change},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_fit_energy_set = {functions, NULL};
