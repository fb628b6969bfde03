/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logbooks: what a builder wrote down, row by row, and the temperatures in it. */
#include "log.h"

#include "notes.h"
#include "reading.h"

#include <string.h>

static int release(lua_State *L)
{
  rwl_log *l = luaL_testudata(L, 1, "resinwright." RWL_LOG);
  if (l == NULL)
    return 0;
  rw_log_destroy(l->log);
  l->log = NULL;
  return 0;
}

static const rw_log *self(lua_State *L)
{
  return rwl_log_in(L, rwl_self(L));
}

static rw_log_options read_options(lua_State *L)
{
  return (rw_log_options){.keep_good = rwl_get_boolean(L, "keep_good", 0),
                          .as_read = rwl_get_boolean(L, "as_read", 0),
                          .ratio = rwl_get_quantity(L, "ratio", 0.0)};
}

static int make_log(lua_State *L)
{
  rw_log_options options = read_options(L);
  const char *path, *text;
  size_t n = 0;
  rwl_get_path_or_text(L, "rw.log{path = \"logbook.csv\"}", &path, &text, &n);
  rwl_log *l = rwl_push_object(L, RWL_LOG, sizeof *l);
  rw_error err = {0};
  rw_status status = text != NULL ? rw_log_parse(text, n, rwl_get_string(L, "name", "log", NULL),
                                                 &options, &l->log, &err)
                                  : rw_log_read(path, &options, &l->log, &err);
  rwl_check(L, status, &err);
  return 1;
}

/* --- rows ----------------------------------------------------------------------------------- */

/* A clock time as text, and as plain seconds under NAME_seconds; neither where it is NaN. */
static void set_clock(lua_State *L, const char *name, double seconds)
{
  if (isnan(seconds))
    return;
  rwl_push_clock(L, seconds);
  lua_setfield(L, -2, name);
  const char *plain = lua_pushfstring(L, "%s_seconds", name);
  lua_pushnumber(L, seconds);
  lua_setfield(L, -3, plain);
  lua_pop(L, 1);
}

static void set_quantity(lua_State *L, const char *name, const char *unit, double si)
{
  if (!isnan(si))
    rwl_set_quantity(L, name, unit, si);
}

static void set_temperature(lua_State *L, const char *name, double kelvin)
{
  if (!isnan(kelvin))
    rwl_set_temperature(L, name, kelvin);
}

static void set_flag(lua_State *L, const char *name, int yes)
{
  lua_pushboolean(L, yes);
  lua_setfield(L, -2, name);
}

static const char *form_of(rw_log_form form)
{
  return form == RW_LOG_CUP ? "cup" : "film";
}

static void push_batch(lua_State *L, const rw_log *log, size_t i)
{
  const rw_log_batch *b = rw_log_batch_at(log, i);
  lua_newtable(L);
  rwl_set_text(L, "name", b->name);
  set_clock(L, "mixed", b->mixed);
  set_clock(L, "on_hull", b->on_hull);
  set_quantity(L, "mass", "kg", b->mass);
  set_quantity(L, "resin", "kg", b->resin);
  set_quantity(L, "hardener", "kg", b->hardener);
  set_quantity(L, "applied", "kg", b->applied);
  rwl_set_text(L, "form", form_of(b->form));
  rwl_set_text(L, "place", b->place);
  set_flag(L, "suspect", b->suspect);
  rwl_set_number(L, "line", (double)b->line);
}

void rwl_push_log_event(lua_State *L, const rw_log *log, size_t i)
{
  static const char *const known[] = {"left", "right", "interval", "exact"};
  const rw_log_event *e = rw_log_event_at(log, i);
  lua_newtable(L);
  rwl_set_text(L, "batch", rw_log_batch_at(log, e->batch)->name);
  rwl_set_text(L, "found", rw_log_found_key(e->found));
  rwl_set_text(L, "meaning", rw_log_found_text(e->found));
  rwl_set_text(L, "milestone", rw_milestone_key(rw_notes_event(e->found)));
  rwl_set_text(L, "known", known[e->known]);
  set_clock(L, "not_yet", e->not_yet);
  set_clock(L, "already", e->already);
  rwl_set_text(L, "form", form_of(e->form));
  rwl_set_text(L, "place", e->place);
  rwl_set_text(L, "observer", e->observer);
  rwl_set_number(L, "line", (double)e->line);
}

static void push_reading(lua_State *L, const rw_log *log, size_t i)
{
  const rw_log_reading *r = rw_log_reading_at(log, i);
  lua_newtable(L);
  set_clock(L, "time", r->time);
  set_temperature(L, "air", r->air);
  set_temperature(L, "hull", r->hull);
  set_temperature(L, "low", r->low);
  set_temperature(L, "high", r->high);
  if (!isnan(r->humidity))
    rwl_set_number(L, "humidity", r->humidity);
  rwl_set_number(L, "line", (double)r->line);
}

static void push_observer(lua_State *L, const rw_log *log, size_t i)
{
  lua_pushstring(L, rw_log_observer_at(log, i));
}

static void push_note(lua_State *L, const rw_log *log, size_t i)
{
  const rw_log_note *n = rw_log_note_at(log, i);
  lua_newtable(L);
  rwl_set_number(L, "line", (double)n->line);
  set_flag(L, "left_out", n->left_out);
  rwl_set_text(L, "text", n->text);
  if (n->hint[0] != '\0')
    rwl_set_text(L, "hint", n->hint);
}

/* The lists of a log: how many of each there are, and what pushes one. */
static const struct {
  const char *name;
  size_t (*count)(const rw_log *log);
  void (*push)(lua_State *L, const rw_log *log, size_t i);
} lists[] = {
    {"batches", rw_log_batches, push_batch},     {"events", rw_log_events, rwl_push_log_event},
    {"readings", rw_log_readings, push_reading}, {"observers", rw_log_observers, push_observer},
    {"remarks", rw_log_notes, push_note},
};

static int read_log(lua_State *L)
{
  const rw_log *log = rwl_log_in(L, lua_touserdata(L, 1));
  const char *name = lua_tostring(L, 2);
  if (strcmp(name, "universal") == 0) {
    lua_pushboolean(L, rw_log_universal(log));
    return 1;
  }
  if (strcmp(name, "left_out") == 0) {
    lua_pushinteger(L, (lua_Integer)rw_log_left_out(log));
    return 1;
  }
  size_t k = 0;
  while (strcmp(name, lists[k].name) != 0)
    k++;
  size_t n = lists[k].count(log);
  lua_createtable(L, (int)n, 0);
  for (size_t i = 0; i < n; i++) {
    lists[k].push(L, log, i);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}

/* --- temperatures --------------------------------------------------------------------------- */

static const rwl_alias bridge_alias[] = {{NULL, NULL}};

static int history(lua_State *L)
{
  const rw_log *log = self(L);
  rwl_history *made = rwl_push_object(L, RWL_HISTORY, sizeof *made);
  rw_error err = {0};
  rw_status status =
      rw_log_history(log, (rw_log_sensor)rwl_get_choice(L, "of", 0),
                     rwl_get_quantity(L, "from", 0.0), rwl_get_quantity(L, "to", 0.0),
                     rwl_get_quantity(L, "bridge", RW_LOG_BRIDGE), &made->h, &err);
  rwl_check_as(L, status, &err, bridge_alias);
  rwl_keep(L, &made->warning, status, &err);
  return 1;
}

static int gaps(lua_State *L)
{
  enum { MOST = 1000 };
  rw_log_gap *gap = rwl_block(L, MOST, sizeof *gap);
  size_t n = 0;
  rw_error err = {0};
  rw_status status =
      rw_log_gaps(self(L), (rw_log_sensor)rwl_get_choice(L, "of", 0),
                  rwl_get_quantity(L, "from", 0.0), rwl_get_quantity(L, "to", 0.0),
                  rwl_get_quantity(L, "bridge", RW_LOG_BRIDGE), gap, MOST, &n, &err);
  rwl_check_as(L, status, &err, bridge_alias);
  lua_newtable(L);
  for (size_t i = 0; i < n && i < MOST; i++) {
    lua_newtable(L);
    set_clock(L, "from", gap[i].from);
    set_clock(L, "to", gap[i].to);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}

static int span(lua_State *L)
{
  static const rwl_alias alias[] = {{"name", "batch"}, {NULL, NULL}};
  const rw_log *log = self(L);
  size_t batch;
  double from, to;
  rw_error err = {0};
  rw_status status = rw_log_find(log, rwl_get_string(L, "batch", "", NULL), &batch, &err);
  rwl_check_as(L, status, &err, alias);
  rwl_check(L, rw_log_span(log, batch, &from, &to, &err), &err);
  lua_newtable(L);
  set_clock(L, "from", from);
  set_clock(L, "to", to);
  return 1;
}

static int words(lua_State *L)
{
  lua_newtable(L);
  for (int i = 0; i < RW_FOUND_WORDS; i++) {
    rw_log_found found = (rw_log_found)i;
    lua_newtable(L);
    rwl_set_text(L, "found", rw_log_found_key(found));
    rwl_set_text(L, "meaning", rw_log_found_text(found));
    rwl_set_text(L, "milestone", rw_milestone_key(rw_notes_event(found)));
    rwl_set_number(L, "stage", rw_log_found_stage(found));
    lua_rawseti(L, -2, i + 1);
  }
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

#define BRIDGE                                                                                    \
  RWL_MAY("bridge", RWL_QUANTITY, "s", "12 h",                                                    \
          "longest time between two readings that a straight line joins, 1 min to 115 d")
#define SENSOR RWL_MAY("of", RWL_CHOICE, "air|hull", "air", "which thermometer")

static const rwl_field log_fields[] = {
    RWL_MAY("path", RWL_STRING, "", NULL, "the file to read"),
    RWL_MAY("text", RWL_STRING, "", NULL, "its text, where it is not read from a file"),
    RWL_MAY("name", RWL_STRING, "", NULL, "what to call a text in messages"),
    RWL_MAY("keep_good", RWL_BOOLEAN, "", NULL,
            "true: leave out the rows that cannot be right, list them in `remarks`, and keep the "
            "others; else the first such row refuses the log"),
    RWL_MAY("as_read", RWL_BOOLEAN, "", NULL,
            "true: take temperatures as they stand, also above 45 degC"),
    RWL_MAY("ratio", RWL_QUANTITY, "", NULL,
            "mass of hardener per mass of resin on the label, 0.02 to 5; left out, batches are "
            "compared among themselves"),
    RWL_END_FIELDS,
};
static const rwl_field history_fields[] = {
    SENSOR,
    RWL_NEED("from", RWL_CLOCK, "", "beginning"),
    RWL_NEED("to", RWL_CLOCK, "", "end, after the beginning"),
    BRIDGE,
    RWL_END_FIELDS,
};
static const rwl_field span_fields[] = {
    RWL_NEED("batch", RWL_STRING, "", "name of the batch"),
    RWL_END_FIELDS,
};

static const rwl_function functions[] = {
    {"log", NULL, RWL_NAMED, log_fields,
     "A logbook from a table file; docs/logbook.md describes its columns. Times are those of the "
     "log: universal time where it gives offsets, else the clock on the wall as it ran when the "
     "log began.",
     "log", make_log},
    {"log_words", NULL, RWL_NAMED, NULL,
     "The words for what was found, with what each means to the hand, the milestone it tells of, "
     "and its stage: a later stage cannot come before an earlier one.",
     "{found: string, meaning: string, milestone: string, stage: number}[]", words},
    RWL_END_FUNCTIONS,
};
static const rwl_function methods[] = {
    {"history", RWL_LOG, RWL_NAMED, history_fields,
     "The temperatures of the log between two times, or beyond; hours without a reading refuse it "
     "by name.",
     "history", history},
    {"gaps", RWL_LOG, RWL_NAMED, history_fields,
     "The hours without a temperature, a list of { from, to }.", "table", gaps},
    {"span", RWL_LOG, RWL_NAMED, span_fields,
     "The hours for which a batch needs temperatures: { from, to }, mixing to the last look.",
     "table", span},
    {"fit", RWL_LOG, RWL_NAMED, rwl_log_fit_fields,
     "What the notes of the log tell of a resin: its rate, its energies and when each milestone "
     "comes, with all spreads, starting from what its class or label says. Few notes leave that "
     "nearly as it was, many overrule it.",
     "fit", rwl_log_fit},
    RWL_END_FUNCTIONS,
};
static const rwl_property properties[] = {
    {"batches", "table",
     "list of { name, mixed, on_hull, mass, resin, hardener, applied, form, place, suspect, line "
     "}"},
    {"events", "table",
     "list of { batch, found, meaning, milestone, known, not_yet, already, form, place, observer, "
     "line }; known is left, right, interval or exact"},
    {"readings", "table", "list of { time, air, hull, low, high, humidity, line }, by time"},
    {"observers", "string[]", "who looked; one who is not named is \"\""},
    {"remarks", "table", "rows left out and remarks: list of { line, left_out, text, hint }"},
    {"left_out", "integer", "count of the rows left out"},
    {"universal", "boolean", "true where the times are universal time"},
    RWL_END_PROPERTIES,
};
static const luaL_Reg events[] = {{"__gc", release}, {"__close", release}, {NULL, NULL}};
static const rwl_type types[] = {
    {RWL_LOG, "A logbook: batches, what was found on them, temperatures.", properties, read_log,
     methods, events},
    RWL_END_TYPES,
};

const rwl_set rwl_log_set = {functions, types};
