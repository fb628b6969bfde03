/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Resins made from a class and a label: when they firm up on the hull, and how they fare in a
 * pot. */
#include "resin.h"
#include "coat.h"
#include "cure.h"
#include "cure_map.h"
#include "draws.h"
#include "forecast.h"
#include "heat.h"
#include "law.h"
#include "ratio.h"
#include "reading.h"

#include <string.h>

static const rw_history *hull_history(lua_State *L)
{
  return rwl_history_in(L, rwl_get_object(L, "hull"));
}

static rw_label read_label(lua_State *L)
{
  rwl_open(L, "label", 0);
  rw_label label = {.pot_life = rwl_get_quantity(L, "pot_life", NAN),
                    .pot_mass = rwl_get_quantity(L, "pot_mass", NAN),
                    .pot_temperature = rwl_get_quantity(L, "pot_temperature", NAN),
                    .recoat_from = rwl_get_quantity(L, "recoat_from", NAN),
                    .recoat_until = rwl_get_quantity(L, "recoat_to", NAN),
                    .recoat_temperature = rwl_get_quantity(L, "recoat_temperature", NAN),
                    .hardener = rwl_get_quantity(L, "hardener", NAN),
                    .density = rwl_get_quantity(L, "density", NAN)};
  rwl_close(L);
  return label;
}

int rwl_make_resin(lua_State *L)
{
  static const rwl_alias find_alias[] = {{"name", "class"}, {NULL, NULL}};
  static const rwl_alias label_alias[] = {{"pot_life", "label.pot_life"},
                                          {"pot_mass", "label.pot_mass"},
                                          {"pot_temperature", "label.pot_temperature"},
                                          {"recoat_from", "label.recoat_from"},
                                          {"recoat_until", "label.recoat_to"},
                                          {"recoat_temperature", "label.recoat_temperature"},
                                          {"hardener", "label.hardener"},
                                          {"density", "label.density"},
                                          {NULL, NULL}};
  rw_error err = {0};
  rwl_resin *r = rwl_push_object(L, RWL_RESIN, sizeof *r);
  const char *name = rwl_get_string(L, "class", "", NULL);
  rwl_copy_name(r->name, name);
  rwl_check_as(L, rw_resin_find(name, &r->resin, &err), &err, find_alias);
  rwl_get_chemistry(L, r);
  if (!rwl_has(L, "label"))
    return 1;
  rw_resin class_ = r->resin;
  rw_label label = read_label(L);
  rw_status status = rw_resin_from_label(&class_, &label, &r->resin, &err);
  rwl_check_as(L, status, &err, label_alias);
  rwl_keep(L, &r->warning, status, &err);
  return 1;
}

static void push_thresholds(lua_State *L, const rw_resin *r)
{
  lua_newtable(L);
  for (int i = 0; i < RW_MILESTONES; i++)
    if (i != RW_WORK_END)
      rwl_set_number(L, rw_milestone_key((rw_milestone)i), r->threshold[i].value);
}

static int read_resin(lua_State *L)
{
  const rwl_resin *r = lua_touserdata(L, 1);
  const char *name = lua_tostring(L, 2);
  if (strcmp(name, "class") == 0)
    lua_pushstring(L, r->name);
  else if (strcmp(name, "hardener") == 0)
    lua_pushnumber(L, r->resin.hardener);
  else if (strcmp(name, "density") == 0)
    rwl_push_quantity(L, "kg/m3", r->resin.density);
  else if (strcmp(name, "rate_sd") == 0)
    lua_pushnumber(L, r->resin.rate_sd);
  else if (strcmp(name, "thresholds") == 0)
    push_thresholds(L, &r->resin);
  else
    rwl_push_warnings(L, &r->warning);
  return 1;
}

/* Keys in the order of milestones, and what they mean. */
static void set_milestones(lua_State *L)
{
  lua_newtable(L);
  for (int i = 0; i < RW_MILESTONES; i++) {
    lua_pushstring(L, rw_milestone_key((rw_milestone)i));
    lua_rawseti(L, -2, i + 1);
  }
  lua_setfield(L, -2, "order");
  lua_newtable(L);
  for (int i = 0; i < RW_MILESTONES; i++)
    rwl_set_text(L, rw_milestone_key((rw_milestone)i), rw_milestone_text((rw_milestone)i));
  lua_setfield(L, -2, "meaning");
}

void rwl_push_forecast(lua_State *L, const rw_forecast *f, int spread)
{
  lua_newtable(L);
  for (int i = 0; i < RW_MILESTONES; i++) {
    rwl_push_clock_range(L, f->time[i], f->low[i], f->high[i],
                         spread ? rw_forecast_because(f->because[i]) : NULL);
    lua_setfield(L, -2, rw_milestone_key((rw_milestone)i));
  }
  lua_newtable(L);
  for (int i = 0; i < RW_MILESTONES && spread; i++) {
    rwl_push_clock_range(L, f->time[i], f->half_low[i], f->half_high[i], NULL);
    lua_setfield(L, -2, rw_milestone_key((rw_milestone)i));
  }
  lua_setfield(L, -2, "half");
  rwl_set_number(L, "reached", f->reached);
  set_milestones(L);
}

/* What the milestones that are not reached want: sets `never`, keys of those that a year does not
 * bring, and `needs`, the warmth that does it in the time looked at. */
static void set_wanting(lua_State *L, const rw_history *hull, double from, double to,
                        const rw_forecast *f)
{
  const rw_resin *r = rwl_self_resin(L);
  lua_newtable(L);
  lua_newtable(L);
  for (int i = RW_WORK_END + 1; i < RW_MILESTONES; i++) {
    rw_wanting w;
    rw_error err = {0};
    if (f->time[i] < HUGE_VAL || to - from > 365 * 86400.0)
      continue;
    rwl_check(L, rw_cure_wanting(r, hull, from, to, (rw_milestone)i, &w, &err), &err);
    const char *key = rw_milestone_key((rw_milestone)i);
    if (w.warmth < HUGE_VAL)
      rwl_set_temperature(L, key, w.warmth);
    if (!w.never)
      continue;
    lua_pushstring(L, key);
    lua_rawseti(L, -3, (lua_Integer)lua_rawlen(L, -3) + 1);
  }
  lua_setfield(L, -3, "needs");
  lua_setfield(L, -2, "never");
}

static int forecast(lua_State *L)
{
  static const rwl_alias alias[] = {{"time", "hull"}, {NULL, NULL}};
  rw_forecast f;
  rw_error err = {0};
  rwl_warning warning;
  rwl_draws draws = rwl_get_draws(L);
  const rw_history *hull = hull_history(L);
  double laid = rwl_get_quantity(L, "laid", 0.0), to = rwl_get_quantity(L, "to", 0.0);
  rw_status status = rw_cure_forecast(rwl_self_resin(L), hull, laid, to, draws.temperature_sd,
                                      draws.count, draws.seed, &f, &err);
  rwl_check_as(L, status, &err, alias);
  rwl_keep(L, &warning, status, &err);
  rwl_push_forecast(L, &f, draws.count > 0);
  set_wanting(L, hull, laid, to, &f);
  rwl_set_warnings(L, &warning);
  return 1;
}

static int chances(lua_State *L)
{
  static const rwl_alias alias[] = {{"time", "hull"}, {"to", "at"}, {NULL, NULL}};
  double chance[RW_MILESTONES];
  rw_error err = {0};
  rwl_warning warning;
  rwl_draws draws = rwl_get_draws(L);
  rw_status status = rw_cure_chances(
      rwl_self_resin(L), hull_history(L), rwl_get_quantity(L, "laid", 0.0),
      rwl_get_quantity(L, "at", 0.0), draws.temperature_sd, draws.count, draws.seed, chance, &err);
  rwl_check_as(L, status, &err, alias);
  rwl_keep(L, &warning, status, &err);
  lua_newtable(L);
  for (int i = 0; i < RW_MILESTONES; i++)
    rwl_set_number(L, rw_milestone_key((rw_milestone)i), chance[i]);
  rwl_set_warnings(L, &warning);
  return 1;
}

static int run_pot(lua_State *L)
{
  static const rwl_alias alias[] = {{"start", "air"}, {NULL, NULL}};
  rw_pot pot;
  rw_error err = {0};
  rwl_warning warning;
  rw_vessel vessel = rwl_get_vessel(L);
  double air = rwl_get_quantity(L, "air", 0.0);
  rw_status status = rw_pot_run(rwl_self_resin(L), &vessel, rwl_get_quantity(L, "mass", 0.0),
                                rwl_get_quantity(L, "start", air), air, &pot, &err);
  if (!rwl_has(L, "start"))
    rwl_check_as(L, status, &err, alias);
  rwl_keep(L, &warning, status, &err);
  lua_newtable(L);
  rwl_set_time(L, "work_end", pot.work_end);
  rwl_set_time(L, "hot", pot.hot);
  rwl_set_time(L, "gel", pot.gel);
  rwl_set_time(L, "usable", fmin(pot.work_end, pot.hot));
  rwl_set_temperature(L, "peak", pot.peak);
  rwl_set_time(L, "peak_time", pot.peak_time);
  rwl_set_number(L, "balance", pot.balance);
  rwl_set_warnings(L, &warning);
  return 1;
}

static const rwl_alias cure_alias[] = {{"a", "cure"}, {"T", "temperature"}, {NULL, NULL}};

static int glass(lua_State *L)
{
  double Tg;
  rw_error err = {0};
  rw_status status =
      rw_glass_temperature(&rwl_self_resin(L)->glass, rwl_get_quantity(L, "cure", 0.0), &Tg, &err);
  rwl_check_as(L, status, &err, cure_alias);
  rwl_push_temperature(L, Tg);
  return 1;
}

static int viscosity(lua_State *L)
{
  double mu;
  rw_error err = {0};
  rw_status status = rw_viscosity(&rwl_self_resin(L)->flow, rwl_get_quantity(L, "cure", 0.0),
                                  rwl_get_quantity(L, "temperature", 0.0), &mu, &err);
  rwl_check_as(L, status, &err, cure_alias);
  if (!isfinite(mu))
    return 0;
  rwl_push_quantity(L, "Pa s", mu);
  return 1;
}

static int warmth(lua_State *L)
{
  static const rwl_alias alias[] = {{"span", "within"}, {"a", "milestone"}, {NULL, NULL}};
  double T;
  rw_error err = {0};
  const rw_resin *r = rwl_self_resin(L);
  int milestone = rwl_get_choice(L, "milestone", 0);
  if (milestone == RW_WORK_END) {
    rwl_refusal refusal = {RW_ERR_ARGUMENT,
                           "milestone",
                           "milestone work_end hangs on how thick the resin is, not on a degree "
                           "of cure, so no warmth belongs to it",
                           NULL,
                           "ask for gel or a later milestone; the forecast tells when work ends",
                           0,
                           0};
    rwl_refuse(L, &refusal);
  }
  rw_status status = rw_cure_warmth(r, r->threshold[milestone].value,
                                    rwl_get_quantity(L, "within", 0.0), &T, &err);
  rwl_check_as(L, status, &err, alias);
  if (status == RW_NOT_REACHED)
    return 0;
  rwl_push_temperature(L, T);
  return 1;
}

/* "work_end|gel|..." from the one list of milestones, behind a first bar. */
static const char milestone_keys[] =
#define RW_X(name, key, text) "|" key
    RW_MILESTONE_LIST(RW_X)
#undef RW_X
    ;

const rwl_field rwl_label_fields[] = {
    RWL_MAY("pot_life", RWL_QUANTITY, "s", NULL, "pot life, such as \"45 min\""),
    RWL_MAY("pot_mass", RWL_QUANTITY, "kg", "100 g", "mass that the pot life is given for"),
    RWL_MAY("pot_temperature", RWL_TEMPERATURE, "", "25 degC",
            "temperature that the pot life is given for"),
    RWL_MAY("recoat_from", RWL_QUANTITY, "s", NULL,
            "time after coating from which the next coat may go on"),
    RWL_MAY("recoat_to", RWL_QUANTITY, "s", NULL,
            "time after coating until which it bonds without sanding"),
    RWL_MAY("recoat_temperature", RWL_TEMPERATURE, "", NULL,
            "temperature that the recoat times are given for; needed with them"),
    RWL_MAY("hardener", RWL_QUANTITY, "", NULL,
            "mass of hardener per mass of resin: 100:44 by weight is 0.44"),
    RWL_MAY("density", RWL_QUANTITY, "kg/m3", NULL, "density of the mix"),
    RWL_END_FIELDS,
};
static const rwl_field resin_fields[] = {
    RWL_CLASS_FIELDS,
    RWL_CHEMISTRY_FIELDS,
    RWL_END_FIELDS,
};
static const rwl_field forecast_fields[] = {
    RWL_NEED("hull", RWL_OBJECT, RWL_HISTORY, "temperature of the hull"),
    RWL_NEED("laid", RWL_CLOCK, "", "when the film is laid"),
    RWL_NEED("to", RWL_CLOCK, "", "how far to look"),
    RWL_DRAW_FIELDS("256"),
    RWL_END_FIELDS,
};
static const rwl_field chances_fields[] = {
    RWL_NEED("hull", RWL_OBJECT, RWL_HISTORY, "temperature of the hull"),
    RWL_NEED("laid", RWL_CLOCK, "", "when the film is laid"),
    RWL_NEED("at", RWL_CLOCK, "", "the time asked for"),
    RWL_DRAW_FIELDS("512"),
    RWL_END_FIELDS,
};
static const rwl_field cure_share_fields[] = {
    RWL_NEED("cure", RWL_NUMBER, "", "degree of cure, 0 liquid to 1 fully cured"),
    RWL_END_FIELDS,
};
static const rwl_field pot_fields[] = {
    RWL_NEED("mass", RWL_QUANTITY, "kg", "mass mixed"),
    RWL_VESSEL_FIELDS,
    RWL_NEED("air", RWL_TEMPERATURE, "", "temperature of the shop"),
    RWL_MAY("start", RWL_TEMPERATURE, "", NULL,
            "temperature of the resin when mixed; left out, that of the shop"),
    RWL_END_FIELDS,
};
static const rwl_field viscosity_fields[] = {
    RWL_NEED("cure", RWL_NUMBER, "", "degree of cure, 0 liquid to 1 fully cured"),
    RWL_NEED("temperature", RWL_TEMPERATURE, "", "temperature of the resin"),
    RWL_END_FIELDS,
};
static const rwl_field warmth_fields[] = {
    RWL_NEED("milestone", RWL_CHOICE, milestone_keys + 1, "what is to be reached"),
    RWL_NEED("within", RWL_QUANTITY, "s", "time allowed"),
    RWL_END_FIELDS,
};
static const rwl_function functions[] = {
    {"resin", NULL, RWL_NAMED, resin_fields,
     "A mixed resin from its class and, where there is one, its label. The label sets the rate "
     "and the recoat hours; the maker's data sheet overrules both. A chemist may put a rate law, "
     "a glass transition and a viscosity in place of the class's own; the milestones stay the "
     "class's.",
     "resin", rwl_make_resin},
    RWL_END_FUNCTIONS,
};

static const rwl_function resin_methods[] = {
    {"forecast", RWL_RESIN, RWL_NAMED, forecast_fields,
     "When a film reaches each milestone: clock ranges by the milestone's key, the ends 5 and 95 "
     "of "
     "100; `half` has the same with the ends 25 and 75 of 100; `order` lists the "
     "keys, `meaning` says what each is to the hand, `reached` is the degree of cure at the end. "
     "Of what is not reached, `needs` tells the steady warmth that does it in that time, and "
     "`never` lists what a year at the hull's warmest would not bring.",
     "table", forecast},
    {"chances", RWL_RESIN, RWL_NAMED, chances_fields,
     "Chance that a film has reached each milestone by a time, 0 to 1, by its key.", "table",
     chances},
    {"cure", RWL_RESIN, RWL_NAMED, rwl_cure_fields, "Degree of cure over time.", "cure",
     rwl_make_cure},
    {"pot", RWL_RESIN, RWL_NAMED, pot_fields,
     "What a mixed batch does in its cup or tray: `work_end` too thick to spread, `hot` past 60 "
     "degC, `gel`, `usable` the sooner of the first two, each a time after mixing or nil where "
     "it does not come within 24 h; `peak` and `peak_time`; `balance`, how well the heat closes. "
     "A hot pot burns and smokes: set it outside on the ground.",
     "table", run_pot},
    {"glass", RWL_RESIN, RWL_NAMED, cure_share_fields, "Glass transition at a degree of cure.",
     "quantity", glass},
    {"viscosity", RWL_RESIN, RWL_NAMED, viscosity_fields, "Viscosity of the mix; nil from gel on.",
     "quantity|nil", viscosity},
    {"warmth", RWL_RESIN, RWL_NAMED, warmth_fields,
     "Least steady temperature at which a milestone is reached in time; nil where 120 degC would "
     "not do.",
     "quantity|nil", warmth},
    {"steady", RWL_RESIN, RWL_NAMED, rwl_steady_fields,
     "Cure at a steady temperature: `cures`, a list of { cure, time }, time nil where it is never "
     "reached; `states`, a list of { time, cure, rate, glass, viscosity }, viscosity nil from gel "
     "on; the greatest rate `peak_rate` with `peak_cure` and `peak_time`; `half_time`; `reached`, "
     "the degree of cure at the end.",
     "table", rwl_steady},
    {"ramp", RWL_RESIN, RWL_NAMED, rwl_ramp_fields,
     "Cure under a steady heating: `peak`, the greatest rate, with `temperature`, `cure`, `rate`, "
     "`time`, nil where the rate is greatest at an end; plain numbers for a chart in lists "
     "`celsius`, `seconds`, `cure`, `rate` (1/s), `glass_celsius`.",
     "table", rwl_ramp},
    {"map", RWL_RESIN, RWL_NAMED, rwl_map_fields,
     "Map of time, temperature and transformation, one steady cure per temperature: lists of "
     "plain numbers `celsius`, `gel_seconds`, `glass_seconds`, `full_seconds` (math.huge: never), "
     "`plateau`, `plateau_glass_celsius`; the temperatures `glass_uncured`, `glass_at_gel`, "
     "`glass_cured`; `nose`, { temperature, time }, where glass comes sooner than just above or "
     "below, or nil. The heat of the reaction is left out.",
     "table", rwl_map},
    {"fastest", RWL_RESIN, RWL_NAMED, rwl_fastest_fields,
     "A bound on how fast the resin can warm itself: no mix of it, at any degree of cure, is "
     "faster at a temperature than `rate`, nor gains faster above it than with `energy`.",
     "table", rwl_fastest},
    {"safe_thickness", RWL_RESIN, RWL_NAMED, rwl_safe_thickness_fields,
     "The greatest thickness that cannot run away in steady air, from a bound: the real limit "
     "lies higher, since resin is used up. Keep to the low end. Nil and why where anything is "
     "safe.",
     "range|nil, string|nil", rwl_safe_thickness},
    {"safe_mass", RWL_RESIN, RWL_NAMED, rwl_safe_mass_fields,
     "The greatest mass in a cup or tray that cannot run away in steady air, from the same bound. "
     "More may be mixed where it is spread in time, see pot. Nil and why where any depth is "
     "safe.",
     "range|nil, string|nil", rwl_safe_mass},
    {"casting", RWL_RESIN, RWL_NAMED, rwl_casting_fields,
     "Heat and cure through a casting, fillet or film: `peak`, `peak_depth` below the open face, "
     "`peak_at`; `work_end_first`, `work_end_last`, `gel_first`, `gel_last`, clock times, nil "
     "where they do not come; `cure_least`, `cure_greatest` at the end; heat per area `released`, "
     "`stored`, `lost`, and `balance`, how well they close; `millimetres` below the open face of "
     "each place, wood's outer side first, and `profile`, a list of { at, celsius, cure } over "
     "them, cure false in wood.",
     "table", rwl_casting},
    {"softening", RWL_RESIN, RWL_NAMED, rwl_softening_fields,
     "How near a hull comes to softening in a period: ranges `cure` and `glass` at its end, "
     "`worst`, the most that the hull is warmer than its glass transition (above 0: soft), and "
     "`soft_for`, how long; `worst_at`; `chance` that it softened. How far a cold cure goes and "
     "the glass transition of the class are drawn too; a measured glass transition overrules "
     "them.",
     "table", rwl_softening},
    {"post_cure", RWL_RESIN, RWL_NAMED, rwl_post_cure_fields,
     "The warmest ramp that keeps a hull below its glass transition and ends when the wanted one "
     "is reached: `ramp`, a list of { at, temperature }, the same as a `history`; `reached_at`, "
     "nil where it is not, then `why` says what would do; `most_at` and `hold` at the place's "
     "most; `soft_start`, time held at rest because the hull was too soft to warm; `unbroken` "
     "time there that would do; `month`, glass transition after 30 days there; `needed`, least "
     "warmth that would do. `cure`, `glass`, `worst`, `worst_at`, `soft_for` and `chance` along "
     "the ramp as in softening. Never with flame or heat gun.",
     "table", rwl_post_cure},
    {"coat", RWL_RESIN, RWL_NAMED, rwl_coat_fields,
     "What becomes of a coat until it gels, as ranges: `fluidity`; `run`, how far it runs; "
     "greatest wet film `thickness` for the run allowed, and `spread`, the same per area; `held`, "
     "what the face holds of it; `slope`, the steepest for the run allowed; `marks_left`, share "
     "of the brush marks' height; `bubble`, radius of the smallest that escapes. What has no end "
     "is "
     "nil: thickness on the level, bubble upright. `gel`, when; `warnings`.",
     "table", rwl_coat},
    {"judge_ratio", RWL_RESIN, RWL_NAMED, rwl_judge_ratio_fields,
     "What a mix of some ratio can become: `verdict` and its `meaning`; `chances` of each verdict "
     "by its key; `gels`, and `gel`, the conversion of epoxide there; `glass`, the highest glass "
     "transition it can ever have, a range; `need`; `warming_helps`; `reaches`, by milestone; "
     "highest conversions `epoxide` and `amine`; the ratios `gels_between`, `doubtful_between` "
     "and `usable_between`, each { from, to }; `ratio`; `warnings`. Keep gloves on when scraping "
     "and sanding, uncured resin and hardener harm the skin.",
     "table", rwl_judge_ratio},
    {"off_ratio", RWL_RESIN, RWL_NAMED, rwl_off_ratio_fields,
     "The resin that a mix off its ratio makes: for cures, forecasts, pots and coats of it. Its "
     "glass transition is that of the right mix: ask ratio_glass.",
     "resin", rwl_off_ratio},
    {"ratio_glass", RWL_RESIN, RWL_NAMED, rwl_ratio_glass_fields,
     "Glass transition of a mix off its ratio at a conversion of its epoxide.", "quantity",
     rwl_ratio_glass},
    {"ratio_forecast", RWL_RESIN, RWL_NAMED, rwl_ratio_forecast_fields,
     "As forecast, for a film mixed off its ratio; milestones that it never reaches stay out of "
     "sight.",
     "table", rwl_ratio_forecast},
    {"values", RWL_RESIN, RWL_NAMED, NULL,
     "All that the resin is made of: rw.resin makes the same again from it, once rw.law has made "
     "its `law`.",
     "table", rwl_resin_values},
    {"draws", RWL_RESIN, RWL_NAMED, rwl_draws_fields,
     "Many cures, as the resin's rate and energies, the hull's temperature and the viscosity are "
     "not known exactly: `levels`, a list of { cure, time: a clock range, chance that it is "
     "reached, seconds: the quantiles asked for, math.huge: not in the time looked at }; `thick`, "
     "the same for the viscosity; `reached`, a range; `warnings`. Stopped by its progress "
     "function: nil and why.",
     "table|nil, string|nil", rwl_run_draws},
    RWL_END_FUNCTIONS,
};
static const rwl_property resin_properties[] = {
    {"class", "string", "name of the class it was made from"},
    {"hardener", "number", "mass of hardener per mass of resin"},
    {"density", "quantity", "density of the mix"},
    {"thresholds", "table",
     "degree of cure at each milestone, by its key; work_end, which hangs "
     "on viscosity, left out"},
    {"rate_sd", "number", "standard deviation of the logarithm of the rate"},
    {"warnings", "string[]", "what to know about it; empty where nothing"},
    RWL_END_PROPERTIES,
};

static const rwl_type types[] = {
    {RWL_RESIN, "A mixed resin: its rate, its thresholds and their spread.", resin_properties,
     read_resin, resin_methods, NULL},
    RWL_END_TYPES,
};

const rwl_set rwl_resin_set = {functions, types};
