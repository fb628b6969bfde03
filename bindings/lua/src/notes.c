/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A resin fitted to the notes of a logbook. */
#include "notes.h"

#include "core.h"
#include "forecast.h"
#include "log.h"
#include "reading.h"

#include <string.h>

#define RWL_FIT "fit"

enum { LOG = 1 }; /* user value: the log */

typedef struct fit {
  rw_notes *notes;
  rw_notes_log *taken;
  const rwl_log *log; /* kept by the user value */
  rw_resin prior;
  char name[RWL_NAME];
  rwl_warning warning;
} fit;

static int release(lua_State *L)
{
  fit *f = luaL_testudata(L, 1, "resinwright." RWL_FIT);
  if (f == NULL)
    return 0;
  rw_notes_destroy(f->notes);
  rw_notes_log_destroy(f->taken);
  f->notes = NULL;
  f->taken = NULL;
  return 0;
}

static int is_closed(lua_State *L)
{
  rwl_refusal r = {RW_ERR_ARGUMENT,
                   RWL_FIT,
                   "this fit was closed at the end of its block",
                   NULL,
                   "leave <close> away, or use it inside the block",
                   0,
                   0};
  return rwl_refuse(L, &r);
}

static const fit *opened(lua_State *L, const fit *f)
{
  if (f->notes == NULL)
    is_closed(L);
  return f;
}

/* --- fitting -------------------------------------------------------------------------------- */

/* Indices of the batches to leave out, by their names. */
static const size_t *batches_by_name(lua_State *L, const rw_log *log, size_t *n)
{
  static const rwl_alias alias[] = {{"name", "without"}, {NULL, NULL}};
  *n = rwl_get_count(L, "without");
  size_t *index = rwl_block(L, *n, sizeof *index);
  for (size_t i = 0; i < *n; i++) {
    rw_error err = {0};
    rw_status status = rw_log_find(log, rwl_get_string_at(L, "without", i), &index[i], &err);
    rwl_check_as(L, status, &err, alias);
  }
  return index;
}

static rw_notes_prior read_prior(lua_State *L, const rw_resin *resin)
{
  rw_notes_prior p;
  rw_notes_prior_of(resin, &p);
  p.together = rwl_get_quantity(L, "together", p.together);
  p.scatter = rwl_get_quantity(L, "scatter", p.scatter);
  p.scatter_sd = rwl_get_quantity(L, "scatter_sd", p.scatter_sd);
  p.observer_sd = rwl_get_quantity(L, "observer_sd", p.observer_sd);
  p.T_ref = rwl_get_quantity(L, "reference", NAN);
  return p;
}

/* An error about a note is about the line of the log that it came from. */
static void place_in_log(const fit *f, const rw_log *log, rw_error *err)
{
  const rw_notes_data *d = rw_notes_log_data(f->taken);
  if (err->line >= 1 && (size_t)err->line <= d->rows)
    err->line = rw_log_event_at(log, rw_notes_log_event(f->taken, (size_t)err->line - 1))->line;
}

int rwl_log_fit(lua_State *L)
{
  static const rwl_alias alias[] = {{"T_ref", "reference"}, {NULL, NULL}};
  const rwl_log *from = rwl_self(L);
  const rw_log *log = rwl_log_in(L, from);
  const rwl_resin *resin = rwl_get_object(L, "resin");
  rw_notes_choice choice = {.bridge = rwl_get_quantity(L, "bridge", RW_LOG_BRIDGE),
                            .lag = rwl_get_quantity(L, "lag", 0.0),
                            .suspects = rwl_get_boolean(L, "suspects", 0)};
  choice.without = batches_by_name(L, log, &choice.withouts);
  rw_notes_prior prior = read_prior(L, &resin->resin);
  fit *f = rwl_push_object(L, RWL_FIT, sizeof *f);
  lua_pushvalue(L, 2);
  lua_setiuservalue(L, -2, LOG);
  f->log = from;
  f->prior = resin->resin;
  rwl_copy_name(f->name, resin->name);
  rw_error err = {0};
  rwl_check_as(L, rw_notes_log_create(log, &choice, &f->taken, &err), &err, alias);
  rw_status status = rw_notes_fit(&prior, rw_notes_log_data(f->taken), &f->notes, &err);
  if (status < 0)
    place_in_log(f, log, &err);
  rwl_check_as(L, status, &err, alias);
  rwl_keep(L, &f->warning, status, &err);
  return 1;
}

/* --- what was found ------------------------------------------------------------------------- */

static double same(double x)
{
  return x;
}

/* A value with its 90 of 100, after it went through f and was shifted. */
static void set_spread(lua_State *L, const char *name, const char *unit, double (*f)(double),
                       double shift, double best, double sd)
{
  double away = RWL_90 * sd;
  rwl_push_range(L, unit, f(best) + shift, f(best - away) + shift, f(best + away) + shift, NULL);
  lua_setfield(L, -2, name);
}

/* Before and after the notes, and what the notes tell. */
static void push_told(lua_State *L, const rw_notes_value *v, const char *unit, double (*f)(double),
                      double shift)
{
  lua_newtable(L);
  set_spread(L, "value", unit, f, shift, v->after, v->after_sd);
  set_spread(L, "before", unit, f, shift, v->before, v->before_sd);
  rwl_set_text(L, "told", rw_told_key(v->told));
  rwl_set_text(L, "meaning", rw_told_text(v->told));
  rwl_set_number(L, "not_yet", (double)v->not_yet);
  rwl_set_number(L, "already", (double)v->already);
}

static void push_rate(lua_State *L, const fit *f, const rw_notes_summary *s)
{
  (void)f;
  push_told(L, &s->rate, "", exp, 0);
}

/* The activation energy that goes with most of the cure. */
static double main_energy(const rw_cure_law *law)
{
  return law->kind == RW_LAW_KAMAL || law->kind == RW_LAW_PLATEAU ? law->E2 : law->E1;
}

static void push_energy(lua_State *L, const fit *f, const rw_notes_summary *s)
{
  push_told(L, &s->energy, "J/mol", same, main_energy(&f->prior.law));
}

static void push_scatter(lua_State *L, const fit *f, const rw_notes_summary *s)
{
  (void)f;
  push_told(L, &s->scatter, "", exp, 0);
}

static void push_ages(lua_State *L, const fit *f, const rw_notes_summary *s)
{
  (void)f;
  lua_newtable(L);
  for (int i = 0; i < RW_MILESTONES; i++) {
    if (isnan(s->age[i].after))
      continue;
    push_told(L, &s->age[i], "s", exp, 0);
    lua_setfield(L, -2, rw_milestone_key((rw_milestone)i));
  }
}

static void push_observers(lua_State *L, const fit *f, const rw_notes_summary *s)
{
  (void)s;
  const rw_log *book = rwl_log_in(L, f->log);
  lua_newtable(L);
  for (size_t i = 0; i < rw_log_observers(book); i++) {
    rw_notes_value v;
    rw_error err = {0};
    rwl_check(L, rw_notes_observer(f->notes, i, &v, &err), &err);
    push_told(L, &v, "", exp, 0);
    rwl_set_text(L, "name", rw_log_observer_at(book, i));
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
}

static void set_seconds(lua_State *L, const char *name, double seconds)
{
  if (seconds > 0 && seconds < HUGE_VAL)
    rwl_set_number(L, name, seconds);
}

static void push_notes(lua_State *L, const fit *f, const rw_notes_summary *s)
{
  (void)s;
  const rw_log *book = rwl_log_in(L, f->log);
  const rw_notes_data *d = rw_notes_log_data(f->taken);
  lua_newtable(L);
  for (size_t i = 0; i < d->rows; i++) {
    rw_notes_row_result r;
    rw_error err = {0};
    rwl_check(L, rw_notes_row_look(f->notes, i, &r, &err), &err);
    rwl_push_log_event(L, book, rw_notes_log_event(f->taken, i));
    rwl_set_number(L, "low", r.low);
    rwl_set_number(L, "high", r.high);
    rwl_set_number(L, "chance", r.chance);
    rwl_set_number(L, "influence", r.influence);
    set_seconds(L, "age_low", r.age_low);
    set_seconds(L, "age_high", r.age_high);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
}

static void push_batches(lua_State *L, const fit *f, const rw_notes_summary *s)
{
  (void)s;
  const rw_log *book = rwl_log_in(L, f->log);
  const rw_notes_data *d = rw_notes_log_data(f->taken);
  rw_notes_batch_result *r = rwl_block(L, d->batches, sizeof *r);
  rw_error err = {0};
  rwl_check(L, rw_notes_batches(f->notes, d, r, &err), &err);
  lua_newtable(L);
  for (size_t i = 0; i < d->batches; i++) {
    const rw_log_batch *b = rw_log_batch_at(book, rw_notes_log_batch(f->taken, i));
    lua_newtable(L);
    rwl_set_text(L, "name", b->name);
    set_spread(L, "factor", "", exp, 0, log(r[i].factor), r[i].factor_sd);
    rwl_set_number(L, "notes", (double)r[i].rows);
    rwl_set_number(L, "chance", r[i].chance);
    rwl_set_number(L, "chance_any", r[i].chance_any);
    lua_pushboolean(L, r[i].odd);
    lua_setfield(L, -2, "odd");
    lua_pushboolean(L, b->suspect);
    lua_setfield(L, -2, "suspect");
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
}

static void push_drift(lua_State *L, const fit *f, const rw_notes_summary *s)
{
  (void)s;
  rw_notes_drift_result d;
  rw_error err = {0};
  rwl_check(L, rw_notes_drift(f->notes, rw_notes_log_data(f->taken), &d, &err), &err);
  if (!isfinite(d.factor_sd)) {
    lua_pushnil(L);
    return;
  }
  lua_newtable(L);
  set_spread(L, "factor", "", exp, 0, log(d.factor), d.factor_sd);
  rwl_set_quantity(L, "span", "s", d.span);
  rwl_set_number(L, "chance", d.chance);
}

static void push_omitted(lua_State *L, const fit *f, const rw_notes_summary *s)
{
  (void)s;
  const rw_log *book = rwl_log_in(L, f->log);
  lua_newtable(L);
  for (size_t i = 0; i < rw_notes_log_omitted(f->taken); i++) {
    const rw_notes_omitted *o = rw_notes_log_omitted_at(f->taken, i);
    rwl_push_log_event(L, book, o->event);
    rwl_set_text(L, "text", o->text);
    if (o->hint[0] != '\0')
      rwl_set_text(L, "hint", o->hint);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
}

static void push_fitness(lua_State *L, const fit *f, const rw_notes_summary *s)
{
  rw_notes_fitness_result r;
  rw_notes_fitness(f->notes, &r);
  lua_newtable(L);
  rwl_set_number(L, "notes", (double)s->rows);
  rwl_set_number(L, "outside", (double)r.outside);
  rwl_set_number(L, "chance", r.chance);
  rwl_set_number(L, "clumps", s->clumps);
  rwl_set_number(L, "clumps_chance", s->chance);
  rwl_set_number(L, "correlation", r.correlation);
  rwl_set_text(L, "first", rw_notes_unknown_key(f->notes, r.first));
  rwl_set_text(L, "second", rw_notes_unknown_key(f->notes, r.second));
  rwl_set_number(L, "condition", r.condition);
  rwl_set_number(L, "log_likelihood", s->log_likelihood);
  rwl_set_number(L, "steps", s->steps);
}

static void push_reference(lua_State *L, const fit *f, const rw_notes_summary *s)
{
  (void)f;
  rwl_push_temperature(L, s->T_ref);
}

static void push_class(lua_State *L, const fit *f, const rw_notes_summary *s)
{
  (void)s;
  lua_pushstring(L, f->name);
}

static void push_fit_warnings(lua_State *L, const fit *f, const rw_notes_summary *s)
{
  (void)s;
  rwl_push_warnings(L, &f->warning);
}

static const struct {
  const char *name;
  void (*push)(lua_State *L, const fit *f, const rw_notes_summary *s);
} parts[] = {
    {"reference", push_reference},   {"rate", push_rate},       {"energy", push_energy},
    {"scatter", push_scatter},       {"ages", push_ages},       {"observers", push_observers},
    {"notes", push_notes},           {"batches", push_batches}, {"drift", push_drift},
    {"omitted", push_omitted},       {"fitness", push_fitness}, {"class", push_class},
    {"warnings", push_fit_warnings},
};

static int read_fit(lua_State *L)
{
  const fit *f = opened(L, lua_touserdata(L, 1));
  const char *name = lua_tostring(L, 2);
  rw_notes_summary s;
  rw_notes_summarise(f->notes, &s);
  size_t i = 0;
  while (strcmp(name, parts[i].name) != 0)
    i++;
  parts[i].push(L, f, &s);
  return 1;
}

/* --- using it ------------------------------------------------------------------------------- */

/* Index of the observer asked for; anyone where none is. */
static size_t read_observer(lua_State *L, const fit *f)
{
  const rw_log *book = rwl_log_in(L, f->log);
  const char *name = rwl_get_string(L, "observer", NULL, NULL);
  if (name == NULL)
    return RW_NOTES_ANYONE;
  size_t n = rw_log_observers(book);
  for (size_t i = 0; i < n; i++)
    if (strcmp(rw_log_observer_at(book, i), name) == 0)
      return i;
  const char **known = rwl_block(L, n, sizeof *known);
  for (size_t i = 0; i < n; i++)
    known[i] = rw_log_observer_at(book, i);
  int near = rw_nearest_name(name, known, n);
  rwl_refusal r = {RW_ERR_NAME,
                   "observer",
                   lua_pushfstring(L, "no observer of the log is called \"%s\"", name),
                   NULL,
                   near >= 0 ? lua_pushfstring(L, "did you mean \"%s\"?", known[near])
                             : "the log's `observers` lists them",
                   0,
                   0};
  rwl_refuse(L, &r);
  return 0;
}

static int fitted_resin(lua_State *L)
{
  const fit *f = opened(L, rwl_self(L));
  size_t observer = read_observer(L, f);
  rwl_resin *r = rwl_push_object(L, RWL_RESIN, sizeof *r);
  rw_error err = {0};
  rwl_check(L, rw_notes_resin(f->notes, observer, &r->resin, &err), &err);
  rwl_copy_name(r->name, f->name);
  r->warning = f->warning;
  return 1;
}

static int forecast(lua_State *L)
{
  static const rwl_alias alias[] = {{"time", "hull"}, {"from", "laid"}, {NULL, NULL}};
  const fit *f = opened(L, rwl_self(L));
  rwl_draws draws = rwl_get_draws(L);
  const rw_notes_question q = {.hull = rwl_history_in(L, rwl_get_object(L, "hull")),
                               .from = rwl_get_quantity(L, "laid", 0.0),
                               .to = rwl_get_quantity(L, "to", 0.0),
                               .temperature_sd = draws.temperature_sd,
                               .observer = read_observer(L, f),
                               .scatter = rwl_get_boolean(L, "next_batch", 1),
                               .draws = draws.count,
                               .seed = draws.seed};
  rw_forecast found;
  rw_error err = {0};
  rwl_warning warning;
  rw_status status = rw_notes_forecast(f->notes, &q, &found, &err);
  rwl_check_as(L, status, &err, alias);
  rwl_keep(L, &warning, status, &err);
  rwl_push_forecast(L, &found, draws.count > 0);
  rwl_set_warnings(L, &warning);
  return 1;
}

static int limits(lua_State *L)
{
  const fit *f = opened(L, rwl_self(L));
  rw_notes_quantity of = (rw_notes_quantity)rwl_get_choice(L, "of", 0);
  rw_milestone milestone = (rw_milestone)rwl_get_choice(L, "milestone", RW_RECOAT_OPENS);
  double low, high;
  rw_error err = {0};
  rw_status status = rw_notes_limits(f->notes, rw_notes_log_data(f->taken), of, milestone,
                                     rwl_get_quantity(L, "level", 0.9), &low, &high, &err);
  rwl_check(L, status, &err);
  const char *unit = of == RW_NOTES_ENERGY ? "J/mol" : of == RW_NOTES_AGE ? "s" : "";
  double shift = of == RW_NOTES_ENERGY ? main_energy(&f->prior.law) : 0;
  int is_log = of != RW_NOTES_ENERGY;
  lua_newtable(L);
  rwl_set_quantity(L, "low", unit, shift + (is_log ? exp(low) : low));
  rwl_set_quantity(L, "high", unit, shift + (is_log ? exp(high) : high));
  return 1;
}

/* "work_end|gel|..." behind a first bar. */
static const char milestone_keys[] =
#define RW_X(name, key, text) "|" key
    RW_MILESTONE_LIST(RW_X)
#undef RW_X
    ;

/* --- declarations --------------------------------------------------------------------------- */

#define OBSERVER                                                                                  \
  RWL_MAY("observer", RWL_STRING, "", NULL, "whose hand judges; left out, nobody in particular")

const rwl_field rwl_log_fit_fields[] = {
    RWL_NEED("resin", RWL_OBJECT, RWL_RESIN, "what is known before: a class, a label, a fit"),
    RWL_MAY("lag", RWL_QUANTITY, "s", "0 s",
            "how far the hull stays behind the air, where the hull itself was not read"),
    RWL_MAY("bridge", RWL_QUANTITY, "s", "12 h",
            "longest time between two readings that a straight line joins"),
    RWL_MAY("suspects", RWL_BOOLEAN, "", NULL,
            "true: take the batches whose ratio the log doubts, to test them against the others"),
    RWL_MAY_LIST("without", RWL_STRING, "", "names of batches to leave out"),
    RWL_MAY("together", RWL_NUMBER, "", "0.5",
            "share of the milestones' spread that they have in common, 0 to 0.99"),
    RWL_MAY("scatter", RWL_NUMBER, "", "0.15",
            "how far a time scatters from batch to batch and look to look, as a share"),
    RWL_MAY("scatter_sd", RWL_NUMBER, "", "0.5", "how unsure that is, of its logarithm"),
    RWL_MAY("observer_sd", RWL_NUMBER, "", "0.1", "how far observers differ, as a share"),
    RWL_MAY("reference", RWL_TEMPERATURE, "", NULL,
            "temperature at which ages count; left out, the mean over the notes"),
    RWL_END_FIELDS,
};
static const rwl_field resin_fields[] = {OBSERVER, RWL_END_FIELDS};
static const rwl_field forecast_fields[] = {
    RWL_NEED("hull", RWL_OBJECT, RWL_HISTORY, "temperature of the hull"),
    RWL_NEED("laid", RWL_CLOCK, "", "when the film is laid"),
    RWL_NEED("to", RWL_CLOCK, "", "how far to look"),
    RWL_DRAW_FIELDS("512"),
    OBSERVER,
    RWL_MAY("next_batch", RWL_BOOLEAN, "", NULL,
            "false: the resin itself, without the scatter of the next batch"),
    RWL_END_FIELDS,
};

static const rwl_field limits_fields[] = {
    RWL_NEED("of", RWL_CHOICE, "rate|energy|scatter|age", "which quantity, as the properties"),
    RWL_MAY("milestone", RWL_CHOICE, milestone_keys + 1, NULL,
            "of an age; left out, recoat_opens"),
    RWL_MAY("level", RWL_SHARE, "", "90 %", "chance that the limits cover, 50 to 99.99 %"),
    RWL_END_FIELDS,
};

static const rwl_function methods[] = {
    {"limits", RWL_FIT, RWL_NAMED, limits_fields,
     "Profile limits { low, high } of a quantity, all else sought anew: to be trusted where notes "
     "tell of one side only and the ranges of the properties mislead.",
     "table", limits},
    {"resin", RWL_FIT, RWL_NAMED, resin_fields,
     "The fitted resin, for everything that takes one; its spreads are those of the fit.", "resin",
     fitted_resin},
    {"forecast", RWL_FIT, RWL_NAMED, forecast_fields,
     "When the next film reaches each milestone, as resin:forecast, with the full spread of the "
     "fit: what the notes tell of one milestone together with another is kept.",
     "table", forecast},
    RWL_END_FUNCTIONS,
};
static const rwl_property properties[] = {
    {"class", "string", "class of the resin before"},
    {"reference", "quantity", "temperature at which the ages count"},
    {"rate", "table",
     "factor on the rate of the resin before, at the reference: { value, before, told, meaning, "
     "not_yet, already }; told is nothing, others, earliest, latest, little or well"},
    {"energy", "table", "activation energy, likewise"},
    {"scatter", "table", "scatter of a time, as a share, likewise"},
    {"ages", "table",
     "age at each milestone at the reference, likewise, by its key; what a resin of this class "
     "does not reach there is left out"},
    {"observers", "table",
     "list, likewise, with the name: factor on the times that this hand calls"},
    {"notes", "table",
     "the notes taken: as the log's events, with low and high, the chances that it happens before "
     "the two looks; chance, of an event as early or late as the note says; influence, standard "
     "deviations by which it moves what it moves most; age_low, age_high, seconds at the "
     "reference"},
    {"batches", "table",
     "list of { name, factor, notes, chance, chance_any, odd, suspect }: a batch's times over "
     "those of the others, and the chance of one as odd, itself and among as many"},
    {"drift", "table|nil",
     "{ factor, span, chance }: times at the end of the log over those at the beginning, and the "
     "chance of as much if there is no drift"},
    {"omitted", "table", "events not taken: as the log's events, with text and hint"},
    {"fitness", "table",
     "{ notes, outside, chance, clumps, clumps_chance, correlation, first, second, condition, "
     "log_likelihood, steps }: how many notes lie where one in ten should, the chance of as many; "
     "how much more alike notes of one batch are than chance has it; the two unknowns that are "
     "told apart least"},
    {"warnings", "string[]", "what to know about it; empty where nothing"},
    RWL_END_PROPERTIES,
};
static const luaL_Reg events[] = {{"__gc", release}, {"__close", release}, {NULL, NULL}};
static const rwl_type types[] = {
    {RWL_FIT, "A resin fitted to the notes of a logbook.", properties, read_fit, methods, events},
    RWL_END_TYPES,
};

const rwl_set rwl_notes_set = {NULL, types};
