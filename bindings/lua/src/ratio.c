/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A mix off its ratio: what was used, since when, and what becomes of it. */
#include "ratio.h"

#include "forecast.h"

#include <stdio.h>
#include <string.h>

static const rw_value none = {NAN, 0};

static double get(lua_State *L, const char *name)
{
  return rwl_get_quantity(L, name, NAN);
}

static const char WIDE[] = "the spread is so wide that the ratio is hardly known: weigh again";

/* What a positive status of a ratio means. */
static rwl_warning warning_of(rw_status status)
{
  rwl_warning w = {""};
  if (status > 0)
    snprintf(w.text, sizeof w.text, "%s", WIDE);
  return w;
}

/* --- strokes, parts and tins ---------------------------------------------------------------- */

static int needed_by_volume(lua_State *L)
{
  double needed = 0.0;
  rw_error err = {0};
  rwl_check(L,
            rw_needed_by_volume(get(L, "resin"), get(L, "hardener"), get(L, "resin_density"),
                                get(L, "hardener_density"), &needed, &err),
            &err);
  lua_pushnumber(L, needed);
  return 1;
}

static int ratio_pumped(lua_State *L)
{
  static const rwl_alias alias[] = {
      {"resin", "resin_strokes"}, {"hardener", "hardener_strokes"}, {NULL, NULL}};
  const rw_pumps pumps = {.resin_stroke = get(L, "resin_stroke"),
                          .hardener_stroke = get(L, "hardener_stroke"),
                          .resin_density = get(L, "resin_density"),
                          .hardener_density = get(L, "hardener_density")};
  double r = 0.0;
  rw_error err = {0};
  rw_status status = rw_ratio_pumped(&pumps, get(L, "resin_strokes"), get(L, "hardener_strokes"),
                                     get(L, "needed"), &r, &err);
  if (strstr(err.argument, "_stroke") != NULL)
    rwl_in_unit(&err, lua_pushfstring(L, "%s is", err.argument), "mL", NULL);
  rwl_check_as(L, status, &err, alias);
  lua_pushnumber(L, r);
  return 1;
}

static int tin_loss(lua_State *L)
{
  rw_value loss = none;
  rw_error err = {0};
  rwl_check(
      L,
      rw_tin_loss(rwl_get_value(L, "before", none), rwl_get_value(L, "after", none), &loss, &err),
      &err);
  rwl_push_value(L, "kg", loss, NULL);
  return 1;
}

static double share_of(rw_value v)
{
  return v.sd / v.value;
}

/* What most of the spread of a ratio comes from. */
static const char *because(rw_value resin, rw_value hardener, rw_value needed)
{
  double r = share_of(resin), h = share_of(hardener), n = share_of(needed);
  if (!(r > 0 || h > 0 || n > 0))
    return NULL;
  if (h >= r && h >= n)
    return "the hardener tin";
  return r >= n ? "the resin tin" : "the ratio needed";
}

static int ratio_used(lua_State *L)
{
  rw_value resin = rwl_get_value(L, "resin", none), hardener = rwl_get_value(L, "hardener", none);
  rw_value needed = rwl_get_value(L, "needed", none), r = none;
  rw_error err = {0};
  rw_status status = rwl_check(L, rw_ratio_used(resin, hardener, needed, &r, &err), &err);
  rwl_push_value(L, "", r, because(resin, hardener, needed));
  if (status > 0)
    rwl_add_warning(L, lua_gettop(L), WIDE);
  return 1;
}

/* --- what a mix can become ------------------------------------------------------------------ */

static const rwl_alias ratio_alias[] = {
    {"r", "ratio"}, {"fe", "epoxide_groups"}, {"fa", "amine_hydrogens"},
    {"a", "cure"},  {"time", "hull"},         {"law.stiffening", "law"},
    {NULL, NULL}};

static void set_flags(lua_State *L, const char *name, const int flag[RW_MILESTONES])
{
  lua_newtable(L);
  for (int i = 0; i < RW_MILESTONES; i++) {
    lua_pushboolean(L, flag[i]);
    lua_setfield(L, -2, rw_milestone_key((rw_milestone)i));
  }
  lua_setfield(L, -2, name);
}

static void set_chances(lua_State *L, const double chance[RW_RATIO_VERDICTS])
{
  lua_newtable(L);
  for (int i = 0; i < RW_RATIO_VERDICTS; i++)
    rwl_set_number(L, rw_ratio_verdict_key((rw_ratio_verdict)i), chance[i]);
  lua_setfield(L, -2, "chances");
}

static void set_bounds(lua_State *L, const char *name, double from, double to)
{
  lua_newtable(L);
  rwl_set_number(L, "from", from);
  rwl_set_number(L, "to", to);
  lua_setfield(L, -2, name);
}

int rwl_judge_ratio(lua_State *L)
{
  rw_ratio_state s;
  rw_error err = {0};
  rw_status status =
      rw_ratio_judge(rwl_self_resin(L), rwl_get_value(L, "ratio", none), get(L, "epoxide_groups"),
                     get(L, "amine_hydrogens"), get(L, "need"), &s, &err);
  if (strcmp(err.argument, "need") == 0)
    rwl_in_unit(&err, "need is", "degC", NULL);
  rwl_check_as(L, status, &err, ratio_alias);
  rwl_warning warning = warning_of(status);
  lua_newtable(L);
  rwl_push_range(L, "", s.r.value, s.r.low, s.r.high, NULL);
  lua_setfield(L, -2, "ratio");
  rwl_set_number(L, "epoxide", s.epoxide);
  rwl_set_number(L, "amine", s.amine);
  lua_pushboolean(L, !isnan(s.gel));
  lua_setfield(L, -2, "gels");
  if (!isnan(s.gel))
    rwl_set_number(L, "gel", s.gel);
  set_bounds(L, "gels_between", s.gels_from, s.gels_to);
  set_bounds(L, "doubtful_between", s.doubtful_from, s.doubtful_to);
  set_bounds(L, "usable_between", s.usable_from, s.usable_to);
  rwl_set_temperature(L, "need", s.need);
  rwl_push_temperature_range(L, s.Tg.value, s.Tg.low, s.Tg.high, NULL);
  lua_setfield(L, -2, "glass");
  lua_pushboolean(L, s.warming_helps);
  lua_setfield(L, -2, "warming_helps");
  rwl_set_text(L, "verdict", rw_ratio_verdict_key(s.verdict));
  rwl_set_text(L, "meaning", rw_ratio_verdict_text(s.verdict));
  set_chances(L, s.chance);
  set_flags(L, "reaches", s.reach);
  rwl_set_warnings(L, &warning);
  return 1;
}

int rwl_off_ratio(lua_State *L)
{
  const rwl_resin *right = rwl_self(L);
  rwl_resin *off = rwl_push_object(L, RWL_RESIN, sizeof *off);
  rw_error err = {0};
  memcpy(off->name, right->name, sizeof off->name);
  rw_status status = rw_ratio_resin(&right->resin, get(L, "ratio"), &off->resin, &err);
  rwl_check_as(L, status, &err, ratio_alias);
  rwl_keep(L, &off->warning, status, &err);
  return 1;
}

int rwl_ratio_glass(lua_State *L)
{
  double Tg = 0.0;
  rw_error err = {0};
  rw_status status =
      rw_ratio_glass(&rwl_self_resin(L)->glass, get(L, "ratio"), get(L, "cure"), &Tg, &err);
  rwl_check_as(L, status, &err, ratio_alias);
  rwl_push_temperature(L, Tg);
  return 1;
}

int rwl_ratio_forecast(lua_State *L)
{
  rw_forecast f;
  rw_error err = {0};
  rwl_warning warning;
  rwl_draws draws = rwl_get_draws(L);
  const rw_history *hull = rwl_history_in(L, rwl_get_object(L, "hull"));
  rw_status status =
      rw_ratio_forecast(rwl_self_resin(L), get(L, "ratio"), hull, get(L, "laid"), get(L, "to"),
                        draws.temperature_sd, draws.count, draws.seed, &f, &err);
  rwl_check_as(L, status, &err, ratio_alias);
  rwl_keep(L, &warning, status, &err);
  rwl_push_forecast(L, &f, draws.count > 0);
  rwl_set_warnings(L, &warning);
  return 1;
}

/* --- tins and batch sheet ------------------------------------------------------------------- */

/* The batches one after the other, on the Lua stack. */
static rw_batch_note *read_batches(lua_State *L, size_t n)
{
  rw_batch_note *note = rwl_block(L, n, sizeof *note);
  for (size_t i = 0; i < n; i++) {
    rwl_open(L, "batches", i);
    lua_Integer alike = rwl_get_integer(L, "alike", 0);
    note[i] = (rw_batch_note){.resin = get(L, "resin"), .r = get(L, "ratio")};
    rwl_close(L);
    if (alike < 0 || alike > 1000000) {
      const char *place = lua_pushfstring(L, "batches[%d].alike", (int)i + 1);
      rw_error err;
      rw_error_range(&err, "", place, (double)alike, 0, 1000000, "",
                     "Batches that were mixed alike share a number.");
      rwl_throw(L, &err);
    }
    note[i].alike = (int)alike;
  }
  return note;
}

static rw_ledger read_ledger(lua_State *L)
{
  size_t n = rwl_get_count(L, "batches");
  return (rw_ledger){.batch = read_batches(L, n),
                     .n = n,
                     .resin = rwl_get_value(L, "resin", none),
                     .hardener = rwl_get_value(L, "hardener", none),
                     .needed = rwl_get_value(L, "needed", none),
                     .mass_sd = get(L, "mass_sd"),
                     .ratio_sd = get(L, "ratio_sd"),
                     .note_sd = get(L, "note_sd")};
}

/* A batch is told by its place, which the record has as a line. */
static rw_status ledger_checked(lua_State *L, rw_status status, rw_error *err)
{
  static const rwl_alias alias[] = {{"resin of a batch", "batches[%d].resin"},
                                    {"ratio of a batch", "batches[%d].ratio"},
                                    {"guessed ratio of a batch", "guess[%d]"},
                                    {NULL, NULL}};
  for (const rwl_alias *a = alias; status < 0 && a->c != NULL; a++)
    if (strcmp(err->argument, a->c) == 0) {
      rwl_rename(err, a->c, lua_pushfstring(L, a->lua, (int)err->line));
      err->line = 0;
      if (strncmp(err->argument, "guess", 5) == 0)
        snprintf(err->hint, sizeof err->hint, "1 is right, 0.5 is half the hardener needed");
    }
  rwl_rename(err, "n", "batches");
  return rwl_check(L, status, err);
}

static void push_story(lua_State *L, const rw_ledger_result *r, rw_ledger_story s)
{
  lua_newtable(L);
  rwl_set_text(L, "key", rw_ledger_story_key(s));
  rwl_set_text(L, "meaning", rw_ledger_story_text(s));
  rwl_set_number(L, "weight", r->weight[s]);
  rwl_set_number(L, "log_likelihood", r->log_likelihood[s]);
  if (s != RW_LEDGER_RIGHT && !isnan(r->off[s]))
    rwl_set_number(L, "ratio", r->off[s]);
  if (r->turn[s] == 0)
    return;
  lua_pushinteger(L, (lua_Integer)r->turn[s]);
  lua_setfield(L, -2, "turn");
}

static int ledger(lua_State *L)
{
  rw_ledger l = read_ledger(L);
  rw_ledger_result r = {.turn = {0}};
  rw_error err = {0};
  double *off = rwl_block(L, l.n, sizeof *off);
  rw_status status = ledger_checked(L, rw_ledger_compare(&l, &r, off, &err), &err);
  rwl_warning warning = warning_of(status);
  lua_newtable(L);
  rwl_push_value(L, "", r.r, because(l.resin, l.hardener, l.needed));
  lua_setfield(L, -2, "ratio");
  lua_newtable(L);
  for (int s = 0; s < RW_LEDGER_STORIES; s++) {
    push_story(L, &r, (rw_ledger_story)s);
    lua_rawseti(L, -2, s + 1);
  }
  lua_setfield(L, -2, "stories");
  rwl_set_text(L, "best", rw_ledger_story_key(r.best));
  rwl_set_text(L, "meaning", rw_ledger_story_text(r.best));
  lua_pushboolean(L, r.told);
  lua_setfield(L, -2, "told");
  rwl_set_numbers(L, "off", off, l.n);
  rwl_set_warnings(L, &warning);
  return 1;
}

static const double *read_guess(lua_State *L, size_t n)
{
  size_t given;
  const double *guess = rwl_get_list(L, "guess", &given);
  if (given == n)
    return guess;
  rwl_refusal r = {RW_ERR_ARGUMENT,
                   "guess",
                   lua_pushfstring(L, "guess holds %d ratios for %d batches", (int)given, (int)n),
                   NULL,
                   "give one ratio for each batch, in the order they were mixed",
                   0,
                   0};
  rwl_refuse(L, &r);
  return NULL;
}

static int ledger_test(lua_State *L)
{
  rw_ledger l = read_ledger(L);
  rw_ledger_fit fit;
  rw_error err = {0};
  const double *guess = read_guess(L, l.n);
  rw_status status = ledger_checked(L, rw_ledger_test(&l, guess, &fit, &err), &err);
  rwl_warning warning = warning_of(status);
  lua_newtable(L);
  rwl_push_value(L, "kg", fit.hardener, NULL);
  lua_setfield(L, -2, "hardener");
  rwl_set_number(L, "z", fit.z);
  rwl_set_number(L, "chance", fit.chance);
  rwl_set_number(L, "log_likelihood", fit.log_likelihood);
  rwl_set_warnings(L, &warning);
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

#define DENSITIES                                                                                 \
  RWL_NEED("resin_density", RWL_QUANTITY, "kg/m3", "density of the resin alone"),                 \
      RWL_NEED("hardener_density", RWL_QUANTITY, "kg/m3", "density of the hardener alone")
#define NEEDED_DOC "kilograms of hardener per kilogram of resin at the right ratio: 100:44 is 0.44"
#define RATIO_DOC "hardener used over hardener needed: 1 is right, 0.5 is half"

static const rwl_field volume_fields[] = {
    RWL_NEED("resin", RWL_NUMBER, "", "parts of resin by volume, such as 2"),
    RWL_NEED("hardener", RWL_NUMBER, "", "parts of hardener by volume, such as 1"),
    DENSITIES,
    RWL_END_FIELDS,
};
static const rwl_field pumped_fields[] = {
    RWL_NEED("resin_strokes", RWL_NUMBER, "", "strokes of the resin pump"),
    RWL_NEED("hardener_strokes", RWL_NUMBER, "", "strokes of the hardener pump"),
    RWL_NEED("resin_stroke", RWL_QUANTITY, "m3",
             "what one stroke of resin gives, such as \"20 mL\": pump ten into a cup and weigh"),
    RWL_NEED("hardener_stroke", RWL_QUANTITY, "m3",
             "what one stroke of hardener gives; pumps sold as a pair often meter the ratio "
             "already, one stroke to one"),
    DENSITIES,
    RWL_NEED("needed", RWL_NUMBER, "", NEEDED_DOC),
    RWL_END_FIELDS,
};
static const rwl_field tin_fields[] = {
    RWL_NEED("before", RWL_VALUE, "kg",
             "the tin when it was first weighed, with the scale's error"),
    RWL_NEED("after", RWL_VALUE, "kg", "the same tin later"),
    RWL_END_FIELDS,
};
static const rwl_field used_fields[] = {
    RWL_NEED("resin", RWL_VALUE, "kg", "gone from the resin tin"),
    RWL_NEED("hardener", RWL_VALUE, "kg", "gone from the hardener tin"),
    RWL_NEED("needed", RWL_VALUE, "", NEEDED_DOC),
    RWL_END_FIELDS,
};
static const rwl_field batch_fields[] = {
    RWL_MAY("resin", RWL_QUANTITY, "kg", NULL,
            "resin in it; left out: not noted, taken as the mean of those noted"),
    RWL_MAY("ratio", RWL_NUMBER, "", NULL,
            "its ratio as noted, see rw.ratio_pumped; left out: not noted, or pumps unknown"),
    RWL_MAY("alike", RWL_INTEGER, "", "0",
            "batches with the same number above 0 were noted to be mixed alike"),
    RWL_END_FIELDS,
};

#define LEDGER_FIELDS                                                                             \
  RWL_NEED_RECORDS(                                                                               \
      "batches", batch_fields,                                                                    \
      "the batch sheet in the order of mixing, 1 to 200; {} where nothing is noted"),             \
      RWL_NEED("resin", RWL_VALUE, "kg", "gone from the resin tin"),                              \
      RWL_NEED("hardener", RWL_VALUE, "kg", "gone from the hardener tin"),                        \
      RWL_NEED("needed", RWL_VALUE, "", NEEDED_DOC),                                              \
      RWL_MAY("mass_sd", RWL_SHARE, "", "20 %",                                                   \
              "how much one batch's mass differs from another (common practice, no source)"),     \
      RWL_MAY("ratio_sd", RWL_SHARE, "", "5 %",                                                   \
              "how much the ratio wanders from batch to batch; 5 % with pumps (common practice, " \
              "no source)"),                                                                      \
      RWL_MAY("note_sd", RWL_SHARE, "", "10 %",                                                   \
              "how far off a noted ratio may be; 10 % where strokes were counted and the pumps "  \
              "checked (common practice, no source)")

static const rwl_field ledger_fields[] = {LEDGER_FIELDS, RWL_END_FIELDS};
static const rwl_field ledger_test_fields[] = {
    LEDGER_FIELDS,
    RWL_NEED_LIST("guess", RWL_NUMBER, "", "the ratio you think each batch had, 0 to 5"),
    RWL_END_FIELDS,
};

const rwl_field rwl_judge_ratio_fields[] = {
    RWL_NEED("ratio", RWL_VALUE, "", RATIO_DOC ", as rw.ratio_used gives it"),
    RWL_MAY("epoxide_groups", RWL_NUMBER, "", "2", "epoxide groups of a resin molecule"),
    RWL_MAY("amine_hydrogens", RWL_NUMBER, "", "4", "amine hydrogens of a hardener molecule"),
    RWL_MAY(
        "need", RWL_TEMPERATURE, "", NULL,
        "glass transition that service needs; left out, that of the resin's service milestone"),
    RWL_END_FIELDS,
};
const rwl_field rwl_off_ratio_fields[] = {
    RWL_NEED("ratio", RWL_NUMBER, "", RATIO_DOC ", 0.05 to 5"),
    RWL_END_FIELDS,
};
const rwl_field rwl_ratio_glass_fields[] = {
    RWL_NEED("ratio", RWL_NUMBER, "", RATIO_DOC ", 0.05 to 5"),
    RWL_NEED("cure", RWL_NUMBER, "", "conversion of the epoxide, 0 to the ratio or to 1"),
    RWL_END_FIELDS,
};
const rwl_field rwl_ratio_forecast_fields[] = {
    RWL_NEED("ratio", RWL_NUMBER, "", RATIO_DOC ", 0.05 to 5"),
    RWL_NEED("hull", RWL_OBJECT, RWL_HISTORY, "temperature of the hull"),
    RWL_NEED("laid", RWL_CLOCK, "", "when the film is laid"),
    RWL_NEED("to", RWL_CLOCK, "", "how far to look"),
    RWL_DRAW_FIELDS("256"),
    RWL_END_FIELDS,
};

static const rwl_function functions[] = {
    {"needed_by_volume", NULL, RWL_NAMED, volume_fields,
     "Mass of hardener per mass of resin from a ratio by volume. A ratio by weight is simply its "
     "quotient.",
     "number", needed_by_volume},
    {"ratio_pumped", NULL, RWL_NAMED, pumped_fields,
     "Ratio that pump strokes give: hardener given over hardener needed.", "number", ratio_pumped},
    {"tin_loss", NULL, RWL_NAMED, tin_fields,
     "What has left a tin: the difference of two weighings, their errors added in squares.",
     "range", tin_loss},
    {"ratio_used", NULL, RWL_NAMED, used_fields,
     "Ratio used, as the tins tell it: hardener used over hardener needed. Spills and drips from "
     "one tin alone are not known to it.",
     "range", ratio_used},
    {"ledger", NULL, RWL_NAMED, ledger_fields,
     "Was it off from the start, or part way? `ratio` of all batches together; `stories`, a list "
     "of { key, meaning, weight, log_likelihood, ratio of the batches that are off, turn: batches "
     "before the change }; the `best` story with its `meaning`; `told`, false where tins and "
     "notes alone cannot tell; `off`, the chance that each batch was off; `warnings`.",
     "table", ledger},
    {"ledger_test", NULL, RWL_NAMED, ledger_test_fields,
     "Test a guess of each batch's ratio against the tins: `hardener` that would be gone, `z` the "
     "standard deviations between, the `chance` of a difference this large if the guess is right, "
     "`log_likelihood`; `warnings`.",
     "table", ledger_test},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_ratio_set = {functions, NULL};
