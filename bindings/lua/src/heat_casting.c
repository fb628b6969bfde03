/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Heat and cure through a casting, a fillet or a film, with wood behind it or without. */
#include "heat.h"

#include "reading.h"

#include <stdio.h>
#include <string.h>

static const double ZERO_C = 273.15, CHARS = 500.0; /* K */
static const double TOLERANCE = 1e-3;               /* K */
static const double LONGEST = 400 * 86400.0;        /* s */

static const rwl_told told[] = {{"resin", "thickness", "mm", ""},
                                {"resin_conductivity", "conductivity", NULL, NULL},
                                {"resin_start", "start", "degC", ""},
                                {"cure_start", "cure", NULL, NULL},
                                {"wood", "wood.thickness", "mm", ""},
                                {"wood_conductivity", "wood.conductivity", NULL, NULL},
                                {"wood_density", "wood.density", NULL, NULL},
                                {"wood_heat_capacity", "wood.heat_capacity", NULL, NULL},
                                {"wood_start", "wood.start", "degC", ""},
                                {"time", "air", NULL, NULL},
                                {NULL, NULL, NULL, NULL}};

static int refuse(lua_State *L, const char *argument, const char *message, const char *hint)
{
  rwl_refusal r = {RW_ERR_ORDER, argument, message, NULL, hint, 0, 0};
  return rwl_refuse(L, &r);
}

/* A casting on its way: the arguments, and what is noted at the times asked for. */
typedef struct casting {
  rw_slab slab;
  const rw_history *air;
  double poured, to;
  rw_slab_profile profile;
  size_t places;
  double *depth;
} casting;

/* `now` is the temperature of the air when poured. */
static void read_wood(lua_State *L, double now, rw_slab *s)
{
  rwl_open(L, "wood", 0);
  s->wood = rwl_get_quantity(L, "thickness", 0.0);
  s->wood_conductivity = rwl_get_quantity(L, "conductivity", 0.0);
  s->wood_density = rwl_get_quantity(L, "density", 0.0);
  s->wood_heat_capacity = rwl_get_quantity(L, "heat_capacity", 0.0);
  s->wood_start = rwl_get_quantity(L, "start", now);
  rwl_close(L);
  if (s->wood > 0.0)
    return;
  rw_error err;
  rw_error_range(&err, "", "wood.thickness", s->wood, 1e-4, 1.0, "m", NULL);
  rwl_in_unit(&err, "wood.thickness is", "mm", "Leave wood out where there is none.");
  rwl_throw(L, &err);
}

static void read_times(lua_State *L, casting *c)
{
  c->profile.time = rwl_get_list(L, "times", &c->profile.n);
  for (size_t i = 0; i < c->profile.n; i++) {
    const char *place = lua_pushfstring(L, "times[%d]", (int)i + 1);
    double t = c->profile.time[i];
    if (!(t >= c->poured && t <= c->to))
      refuse(L, place,
             lua_pushfstring(L, "%s does not lie between the pouring and the end", place),
             "ask for times from poured to to");
    if (i > 0 && !(t > c->profile.time[i - 1]))
      refuse(L, place, lua_pushfstring(L, "%s does not lie after the time before it", place),
             "write the times in order, each once");
    lua_pop(L, 1);
  }
}

static void make_room(lua_State *L, casting *c)
{
  c->places = rw_slab_places(&c->slab);
  size_t n = c->profile.n * c->places;
  c->depth = lua_newuserdatauv(L, (c->places + 2 * n) * sizeof(double), 0);
  c->profile.temperature = c->depth + c->places;
  c->profile.cure = c->profile.temperature + n;
}

static casting read_casting(lua_State *L)
{
  rw_error err = {0};
  casting c = {.air = rwl_history_in(L, rwl_get_object(L, "air")),
               .poured = rwl_get_quantity(L, "poured", 0.0),
               .to = rwl_get_quantity(L, "to", 0.0)};
  double now;
  if (!(c.to > c.poured))
    refuse(L, "to", "to does not lie after poured", "to is how far to look");
  if (c.to > c.poured + LONGEST)
    refuse(L, "to", "to lies more than 400 days after poured", "look a few days further");
  rwl_check_told(L, rw_history_temperature(c.air, c.poured, &now, &err), &err, told);
  c.slab = (rw_slab){.resin = rwl_get_quantity(L, "thickness", 0.0),
                     .resin_conductivity = rwl_get_quantity(L, "conductivity", 0.0),
                     .resin_start = rwl_get_quantity(L, "start", now),
                     .cure_start = rwl_get_quantity(L, "cure", 0.0),
                     .back = rwl_get_quantity(L, "back", 0.0),
                     .front = rwl_get_quantity(L, "front", 0.0),
                     .tolerance = TOLERANCE};
  if (rwl_has(L, "wood"))
    read_wood(L, now, &c.slab);
  read_times(L, &c);
  make_room(L, &c);
  return c;
}

static void set_profile(lua_State *L, casting *c)
{
  rw_slab_depths(&c->slab, c->depth);
  for (size_t i = 0; i < c->places; i++)
    c->depth[i] *= 1e3;
  rwl_set_numbers(L, "millimetres", c->depth, c->places);
  lua_newtable(L);
  for (size_t k = 0; k < c->profile.n; k++) {
    double *T = c->profile.temperature + k * c->places;
    for (size_t i = 0; i < c->places; i++)
      T[i] -= ZERO_C;
    lua_newtable(L);
    rwl_set_clock(L, "at", c->profile.time[k]);
    rwl_set_numbers(L, "celsius", T, c->places);
    rwl_set_numbers(L, "cure", c->profile.cure + k * c->places, c->places);
    lua_rawseti(L, -2, (lua_Integer)k + 1);
  }
  lua_setfield(L, -2, "profile");
}

static void set_result(lua_State *L, const rw_slab_result *r)
{
  rwl_set_temperature(L, "peak", r->peak);
  rwl_set_quantity(L, "peak_depth", "m", r->peak_depth);
  rwl_set_clock(L, "peak_at", r->peak_time);
  rwl_set_clock(L, "work_end_first", r->work_end_first);
  rwl_set_clock(L, "work_end_last", r->work_end_last);
  rwl_set_clock(L, "gel_first", r->gel_first);
  rwl_set_clock(L, "gel_last", r->gel_last);
  rwl_set_number(L, "cure_least", r->cure_least);
  rwl_set_number(L, "cure_greatest", r->cure_greatest);
  rwl_set_quantity(L, "released", "J/m2", r->released);
  rwl_set_quantity(L, "stored", "J/m2", r->stored);
  rwl_set_quantity(L, "lost", "J/m2", r->lost);
  rwl_set_number(L, "balance", r->balance);
}

int rwl_casting(lua_State *L)
{
  const rw_resin *r = &((const rwl_resin *)rwl_self(L))->resin;
  rw_error err = {0};
  rwl_warning warning;
  rw_slab_result result;
  casting c = read_casting(L);
  rw_status status = rw_slab_run(r, &c.slab, c.air, c.poured, c.to,
                                 c.profile.n > 0 ? &c.profile : NULL, &result, &err);
  rwl_check_told(L, status, &err, told);
  rwl_keep(L, &warning, status, &err);
  if (result.peak > CHARS)
    snprintf(warning.text, sizeof warning.text, "%s",
             "the resin passes 227 degC somewhere, where it smokes and chars; from then on the "
             "numbers mean nothing but danger");
  lua_newtable(L);
  set_result(L, &result);
  set_profile(L, &c);
  rwl_set_warnings(L, &warning);
  return 1;
}

static const rwl_field wood_fields[] = {
    RWL_NEED("thickness", RWL_QUANTITY, "m", "thickness of the wood"),
    RWL_NEED("density", RWL_QUANTITY, "kg/m3", "density of the wood"),
    RWL_MAY("conductivity", RWL_QUANTITY, "W/(m K)", "0.12 W/(m K)",
            "conductivity across the grain; 0.12 for softwood is common practice, no source"),
    RWL_MAY("heat_capacity", RWL_QUANTITY, "J/(kg K)", "1.6 kJ/(kg K)",
            "heat capacity of wood as dry as in a shop (from memory)"),
    RWL_MAY("start", RWL_TEMPERATURE, "", NULL,
            "temperature of the wood when poured; left out, that of the air"),
    RWL_END_FIELDS,
};
const rwl_field rwl_casting_fields[] = {
    RWL_NEED("thickness", RWL_QUANTITY, "m",
             "thickness of the resin; of a fillet, from its face to the corner"),
    RWL_NEED("air", RWL_OBJECT, RWL_HISTORY, "temperature of the air on both sides"),
    RWL_NEED("poured", RWL_CLOCK, "", "when it is poured or spread"),
    RWL_NEED("to", RWL_CLOCK, "", "how far to look"),
    RWL_MAY_RECORD("wood", wood_fields, "the wood behind it; left out: none"),
    RWL_MAY("start", RWL_TEMPERATURE, "", NULL,
            "temperature of the resin when poured; left out, that of the air"),
    RWL_MAY("cure", RWL_NUMBER, "", "0", "degree of cure when poured"),
    RWL_MAY("conductivity", RWL_QUANTITY, "W/(m K)", "0.2 W/(m K)",
            "conductivity of the resin; 0.2 is usual without filler"),
    RWL_MAY("front", RWL_QUANTITY, "W/(m2 K)", "10 W/(m2 K)",
            "heat that the air takes off the open face; 10 where it stands still (common "
            "practice, no source)"),
    RWL_MAY("back", RWL_QUANTITY, "W/(m2 K)", "10 W/(m2 K)",
            "the same behind the wood, or under the resin where there is none; 0: tight to heat, "
            "or the middle of a piece twice as thick"),
    RWL_MAY_LIST("times", RWL_CLOCK, "", "when to note the profile, in order"),
    RWL_END_FIELDS,
};
