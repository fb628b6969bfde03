/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Temperature and humidity over time: readings, files, days, a steady shop; the wood behind the
 * air; and clock times as numbers. */
#include "reading.h"

#include <stdio.h>
#include <string.h>

static const double LAG_TOLERANCE = 0.02; /* K */
static const double DAY = 86400.0;
static const double HOTTEST_SHOP = 318.15; /* K; the same for a file, see rw_history_read */

static int release(lua_State *L)
{
  rwl_history *h = luaL_testudata(L, 1, "resinwright." RWL_HISTORY);
  if (h == NULL)
    return 0;
  rw_history_destroy(h->h);
  h->h = NULL;
  return 0;
}

static rwl_history *push(lua_State *L)
{
  return rwl_push_object(L, RWL_HISTORY, sizeof(rwl_history));
}

/* Says a time in an error as a date, not as seconds. */
static void in_clock_words(rw_error *err, const char *what)
{
  char found[20], low[20], high[20];
  rw_text_clock_write(err->value, found);
  rw_text_clock_write(err->low, low);
  rw_text_clock_write(err->high, high);
  int has_high = isfinite(err->high);
  snprintf(err->message, sizeof err->message, "%s is %s; it must lie after %s%s%s", what, found,
           low, has_high ? " and before " : "", has_high ? high : "");
  err->low = err->high = NAN;
}

static void in_celsius(lua_State *L, rw_error *err, const char *hint)
{
  rwl_in_unit(err, lua_pushfstring(L, "%s is", err->argument), "degC", hint);
  lua_pop(L, 1);
}

static int refuse(lua_State *L, rw_status code, const char *argument, const char *message,
                  const char *hint)
{
  rwl_refusal r = {code, argument, message, NULL, hint, 0, 0};
  return rwl_refuse(L, &r);
}

/* --- making -------------------------------------------------------------------------------- */

static int refuse_hot(lua_State *L, size_t i, double kelvin)
{
  const char *place = lua_pushfstring(L, "readings[%d].air", (int)i + 1);
  char celsius[40];
  rw_text_round(kelvin - 273.15, 4, celsius);
  return refuse(
      L, RW_ERR_RANGE, place,
      lua_pushfstring(L, "%s is %s degC, which looks like a reading in degF", place, celsius),
      "write \"72 degF\" if it was read in Fahrenheit; if it was really that hot say "
      "as_read = true");
}

static int history(lua_State *L)
{
  size_t n = rwl_get_count(L, "readings");
  int as_read = rwl_get_boolean(L, "as_read", 0);
  double *time = lua_newuserdatauv(L, 3 * n * sizeof *time, 0);
  double *air = time + n, *humidity = air + n;
  for (size_t i = 0; i < n; i++) {
    rwl_open(L, "readings", i);
    time[i] = rwl_get_quantity(L, "at", NAN);
    air[i] = rwl_get_quantity(L, "air", NAN);
    humidity[i] = rwl_get_quantity(L, "humidity", NAN);
    rwl_close(L);
    if (!as_read && air[i] > HOTTEST_SHOP)
      refuse_hot(L, i, air[i]);
  }
  rwl_history *made = push(L);
  rw_error err = {0};
  rw_status status = rw_history_create(time, air, humidity, n, &made->h, &err);
  rwl_rename(&err, "time", "readings[].at");
  rwl_rename(&err, "temperature", "readings[].air");
  rwl_rename(&err, "humidity", "readings[].humidity");
  in_celsius(L, &err, "");
  rwl_rename(&err, "n", "readings");
  rwl_keep(L, &made->warning, status, &err);
  return 1;
}

static int history_file(lua_State *L)
{
  rwl_history *made = push(L);
  rw_error err = {0};
  rw_status status = rw_history_read(rwl_get_string(L, "path", "", NULL),
                                     rwl_get_boolean(L, "as_read", 0), &made->h, &err);
  rwl_keep(L, &made->warning, status, &err);
  return 1;
}

static int steady(lua_State *L)
{
  double air = rwl_get_quantity(L, "air", NAN), humidity = rwl_get_quantity(L, "humidity", NAN);
  double time[] = {rwl_get_quantity(L, "from", NAN), rwl_get_quantity(L, "to", NAN)};
  if (!(time[1] > time[0]))
    refuse(L, RW_ERR_ORDER, "to", "to does not lie after from",
           "the beginning is from, the end is to");
  rwl_history *made = push(L);
  rw_error err = {0};
  rw_status status = rw_history_create(time, (double[]){air, air}, (double[]){humidity, humidity},
                                       2, &made->h, &err);
  rwl_rename(&err, "temperature", "air");
  rwl_in_unit(&err, "air is", "degC", "");
  rwl_keep(L, &made->warning, status, &err);
  return 1;
}

static rw_day read_day(lua_State *L, size_t i)
{
  rwl_open(L, "days", i);
  rw_day day = {rwl_get_quantity(L, "day", NAN), rwl_get_quantity(L, "low", NAN),
                rwl_get_quantity(L, "high", NAN)};
  rwl_close(L);
  if (fmod(day.midnight, DAY) != 0.0) {
    const char *place = lua_pushfstring(L, "days[%d].day", (int)i + 1);
    refuse(L, RW_ERR_ARGUMENT, place,
           lua_pushfstring(L, "%s is a time within a day, a whole day is wanted", place),
           "write the date alone, such as \"2026-10-03\"");
  }
  return day;
}

static int days(lua_State *L)
{
  size_t n = rwl_get_count(L, "days");
  rw_day *day = lua_newuserdatauv(L, n * sizeof *day, 0);
  for (size_t i = 0; i < n; i++)
    day[i] = read_day(L, i);
  rwl_history *made = push(L);
  rw_error err = {0};
  rw_status status = rw_history_from_days(day, n, &made->h, &err);
  rwl_rename(&err, "day", "days[]");
  in_celsius(L, &err, NULL);
  rwl_keep(L, &made->warning, status, &err);
  return 1;
}

/* --- methods -------------------------------------------------------------------------------- */

static const rw_history *self(lua_State *L)
{
  return rwl_history_in(L, rwl_self(L));
}

static int at(lua_State *L)
{
  double time = rwl_get_quantity(L, "at", NAN), air = NAN, humidity = NAN;
  rw_error err = {0};
  rw_status status = rw_history_temperature(self(L), time, &air, &err);
  if (status >= 0)
    status = rw_history_humidity(self(L), time, &humidity, &err);
  rwl_rename(&err, "time", "at");
  rwl_check(L, status, &err);
  lua_createtable(L, 0, 2);
  rwl_set_temperature(L, "air", air);
  if (!isnan(humidity))
    rwl_set_number(L, "humidity", humidity);
  return 1;
}

static int lag(lua_State *L)
{
  rwl_history *made = push(L);
  rw_error err = {0};
  rw_status status =
      rw_history_lag(self(L), rwl_get_quantity(L, "time_constant", NAN),
                     rwl_get_quantity(L, "start", NAN), LAG_TOLERANCE, &made->h, &err);
  rwl_rename(&err, "tau", "time_constant");
  if (status < 0)
    rwl_in_usual_units(L, &err);
  rwl_keep(L, &made->warning, status, &err);
  return 1;
}

static int extend(lua_State *L)
{
  rwl_history *made = push(L);
  rw_error err = {0};
  rw_status status =
      rw_history_extend(self(L), rwl_get_quantity(L, "to", NAN),
                        (rw_extend)rwl_get_choice(L, "how", RW_HOLD), &made->h, &err);
  rwl_rename(&err, "until", "to");
  if (status == RW_ERR_RANGE)
    in_clock_words(&err, "to");
  rwl_keep(L, &made->warning, status, &err);
  return 1;
}

static int warmer(lua_State *L)
{
  rwl_history *made = push(L);
  rw_error err = {0};
  rw_status status = rw_history_shift(self(L), rwl_get_quantity(L, "by", NAN), &made->h, &err);
  rwl_rename(&err, "delta", "by");
  rwl_in_unit(&err, "by makes a temperature of", "degC", "give a difference, such as \"3 K\"");
  rwl_keep(L, &made->warning, status, &err);
  return 1;
}

static int extremes(lua_State *L)
{
  double from, to, low = NAN, high = NAN;
  rw_history_span(self(L), &from, &to);
  from = rwl_get_quantity(L, "from", from);
  to = rwl_get_quantity(L, "to", to);
  rw_error err = {0};
  rw_status status = rw_history_extremes(self(L), from, to, &low, &high, &err);
  rwl_rename(&err, "time", err.value == from ? "from" : "to");
  if (status == RW_ERR_RANGE)
    in_clock_words(&err, "to");
  rwl_check(L, status, &err);
  lua_createtable(L, 0, 2);
  rwl_set_temperature(L, "low", low);
  rwl_set_temperature(L, "high", high);
  return 1;
}

static void set_clock(lua_State *L, const char *name, double seconds)
{
  rwl_push_clock(L, seconds);
  lua_setfield(L, -2, name);
}

static int span(lua_State *L)
{
  double from, to;
  rw_history_span(self(L), &from, &to);
  lua_createtable(L, 0, 4);
  set_clock(L, "from", from);
  set_clock(L, "to", to);
  rwl_set_number(L, "seconds_from", from);
  rwl_set_number(L, "seconds_to", to);
  return 1;
}

static void set_celsius(lua_State *L, const double *kelvin, size_t n)
{
  lua_createtable(L, (int)n, 0);
  for (size_t i = 0; i < n; i++) {
    lua_pushnumber(L, kelvin[i] - 273.15);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_setfield(L, -2, "celsius");
}

static int points(lua_State *L)
{
  const double *time, *temperature, *humidity;
  size_t n = rw_history_points(self(L), &time, &temperature, &humidity);
  lua_createtable(L, 0, 3);
  rwl_set_numbers(L, "seconds", time, n);
  set_celsius(L, temperature, n);
  rwl_set_numbers(L, "humidity", humidity, n);
  return 1;
}

static int read(lua_State *L)
{
  const rwl_history *h = lua_touserdata(L, 1);
  rwl_push_warnings(L, &h->warning);
  return 1;
}

static int say(lua_State *L)
{
  const rwl_history *h = luaL_checkudata(L, 1, "resinwright." RWL_HISTORY);
  double from, to;
  rw_history_span(rwl_history_in(L, h), &from, &to);
  rwl_push_clock(L, from);
  rwl_push_clock(L, to);
  lua_pushfstring(L, "temperatures from %s to %s", lua_tostring(L, -2), lua_tostring(L, -1));
  return 1;
}

/* --- clock ---------------------------------------------------------------------------------- */

static int clock_number(lua_State *L)
{
  lua_pushnumber(L, rwl_get_quantity(L, "at", NAN));
  return 1;
}

static int clock_text(lua_State *L)
{
  rwl_push_clock(L, rwl_get_quantity(L, "seconds", NAN));
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

#define AS_READ                                                                                   \
  RWL_MAY("as_read", RWL_BOOLEAN, "", "false",                                                    \
          "true: take the readings as they stand, also above 45 degC, where a reading is else "   \
          "taken for Fahrenheit and refused")
#define CLOCK_FORM "such as \"2026-10-03 15:30\""

static const rwl_field reading_fields[] = {
    RWL_NEED("at", RWL_CLOCK, "", "when it was read, " CLOCK_FORM),
    RWL_NEED("air", RWL_TEMPERATURE, "", "temperature of the air, with its unit"),
    RWL_MAY("humidity", RWL_SHARE, "", NULL,
            "relative humidity, 0 to 1 or in per cent; left out: not read"),
    RWL_END_FIELDS,
};
static const rwl_field history_fields[] = {
    RWL_NEED_RECORDS("readings", reading_fields,
                     "two readings or more in order of time; the same time may stand twice, for a "
                     "step from one temperature to another"),
    AS_READ,
    RWL_END_FIELDS,
};
static const rwl_field file_fields[] = {
    RWL_NEED("path", RWL_STRING, "",
             "a table file with the columns \"time\", \"air [degC]\" or \"air [degF]\" and, where "
             "known, \"humidity [%]\"; or \"day\", \"low [degC]\", \"high [degC]\""),
    AS_READ,
    RWL_END_FIELDS,
};
static int wave(lua_State *L)
{
  rw_wave w = {.mean = rwl_get_quantity(L, "mean", NAN),
               .amplitude = rwl_get_quantity(L, "swing", NAN),
               .period = rwl_get_quantity(L, "period", 86400),
               .warmest = rwl_get_quantity(L, "warmest", NAN)};
  rwl_history *made = push(L);
  rw_error err = {0};
  rw_status status =
      rw_history_from_wave(&w, rwl_get_quantity(L, "from", NAN), rwl_get_quantity(L, "to", NAN),
                           rwl_get_quantity(L, "tolerance", 0.01), &made->h, &err);
  rwl_rename(&err, "amplitude", "swing");
  if (strncmp(err.argument, "temperature", 11) == 0) {
    rwl_rename(&err, "temperature", "swing");
    rwl_in_unit(&err, "swing makes a temperature of", "degC",
                "give a smaller one, such as \"4 K\"");
  } else if (strcmp(err.argument, "mean") == 0) {
    rwl_in_unit(&err, "mean is", "degC", "");
  } else if (status < 0) {
    rwl_in_usual_units(L, &err);
  }
  rwl_keep(L, &made->warning, status, &err);
  return 1;
}

static const rwl_field steady_fields[] = {
    RWL_NEED("air", RWL_TEMPERATURE, "", "temperature of the air all the time"),
    RWL_MAY("humidity", RWL_SHARE, "", NULL, "relative humidity; left out: not known"),
    RWL_NEED("from", RWL_CLOCK, "", "beginning, " CLOCK_FORM),
    RWL_NEED("to", RWL_CLOCK, "", "end, after the beginning"),
    RWL_END_FIELDS,
};
static const rwl_field day_fields[] = {
    RWL_NEED("day", RWL_CLOCK, "", "the date alone, such as \"2026-10-03\""),
    RWL_NEED("low", RWL_TEMPERATURE, "", "coldest of the day"),
    RWL_NEED("high", RWL_TEMPERATURE, "", "warmest of the day"),
    RWL_END_FIELDS,
};
static const rwl_field days_fields[] = {
    RWL_NEED_RECORDS("days", day_fields, "one day or more, in order"),
    RWL_END_FIELDS,
};
static const rwl_field at_fields[] = {
    RWL_NEED("at", RWL_CLOCK, "", "when, " CLOCK_FORM),
    RWL_END_FIELDS,
};
static const rwl_field lag_fields[] = {
    RWL_NEED("time_constant", RWL_QUANTITY, "s",
             "the time after a step of the air in which the body has gone 63 % of the way; about "
             "\"40 min\" for 8 mm strips (common practice, no source)"),
    RWL_MAY("start", RWL_TEMPERATURE, "", NULL,
            "temperature of the body at the beginning; left out: that of the air"),
    RWL_END_FIELDS,
};
static const rwl_field extend_fields[] = {
    RWL_NEED("to", RWL_CLOCK, "", "how far, at most 400 days after the last reading"),
    RWL_NEED("how", RWL_CHOICE, "hold|repeat_day",
             "hold: keep the last reading; repeat_day: the last 24 h again and again"),
    RWL_END_FIELDS,
};
static const rwl_field warmer_fields[] = {
    RWL_NEED("by", RWL_DIFFERENCE, "", "how much warmer, such as \"3 K\"; colder: \"-3 K\""),
    RWL_END_FIELDS,
};
static const rwl_field extremes_fields[] = {
    RWL_MAY("from", RWL_CLOCK, "", NULL, "beginning; left out: the first reading"),
    RWL_MAY("to", RWL_CLOCK, "", NULL, "end; left out: the last reading"),
    RWL_END_FIELDS,
};
static const rwl_field clock_fields[] = {
    RWL_NEED("at", RWL_CLOCK, "", "a clock time, " CLOCK_FORM),
    RWL_END_FIELDS,
};
static const rwl_field clock_text_fields[] = {
    RWL_NEED("seconds", RWL_NUMBER, "", "seconds since 1970-01-01 00:00"),
    RWL_END_FIELDS,
};

static const rwl_function methods[] = {
    {"at", "history", RWL_NAMED, at_fields,
     "Temperature at a time, and humidity where it was read on both sides.",
     "{air: quantity, humidity: number|nil}", at},
    {"lag", "history", RWL_NAMED, lag_fields,
     "The temperature of a body that follows the air with a delay: wood, hull, resin. Kept within "
     "0.02 K of the exact solution.",
     "history", lag},
    {"extend", "history", RWL_NAMED, extend_fields,
     "The same history, carried on after its last reading.", "history", extend},
    {"warmer", "history", RWL_NAMED, warmer_fields,
     "The same history, warmer or colder throughout.", "history", warmer},
    {"extremes", "history", RWL_NAMED, extremes_fields, "Coldest and warmest between two times.",
     "{low: quantity, high: quantity}", extremes},
    {"span", "history", RWL_NAMED, NULL,
     "First and last time, as texts and in seconds since 1970.",
     "{from: string, to: string, seconds_from: number, seconds_to: number}", span},
    {"points", "history", RWL_NAMED, NULL,
     "The points as plain numbers, for charts: seconds since 1970, degC, relative humidity (false "
     "where it was not read). Between them the temperature is a straight line.",
     "{seconds: number[], celsius: number[], humidity: (number|false)[]}", points},
    RWL_END_FUNCTIONS,
};

static const rwl_property properties[] = {
    {"warnings", "string[]", "what to know about it; empty where nothing"},
    RWL_END_PROPERTIES,
};

static const luaL_Reg events[] = {
    {"__gc", release}, {"__close", release}, {"__tostring", say}, {NULL, NULL}};

static const rwl_type types[] = {
    {RWL_HISTORY, "Temperature, and humidity where it was read, over time.", properties, read,
     methods, events},
    RWL_END_TYPES,
};

static const rwl_field wave_fields[] = {
    RWL_NEED("mean", RWL_TEMPERATURE, "", "temperature in the middle"),
    RWL_NEED("swing", RWL_QUANTITY, "K", "half of what lies between coldest and warmest, \"4 K\""),
    RWL_MAY("period", RWL_QUANTITY, "s", "24 h", "time from one warmest moment to the next"),
    RWL_NEED("warmest", RWL_CLOCK, "", "a moment at which it is warmest"),
    RWL_NEED("from", RWL_CLOCK, "", "beginning, " CLOCK_FORM),
    RWL_NEED("to", RWL_CLOCK, "", "end, after the beginning"),
    RWL_MAY("tolerance", RWL_QUANTITY, "K", "0.01 K", "how far a straight piece may lie off"),
    RWL_END_FIELDS,
};

static const rwl_function functions[] = {
    {"history", NULL, RWL_NAMED, history_fields, "A history from readings.", "history", history},
    {"history_file", NULL, RWL_NAMED, file_fields, "A history from a table file.", "history",
     history_file},
    {"steady", NULL, RWL_NAMED, steady_fields, "A history of one temperature.", "history", steady},
    {"wave", NULL, RWL_NAMED, wave_fields, "A history that swings as a sine.", "history", wave},
    {"days", NULL, RWL_NAMED, days_fields,
     "A history from daily lows and highs: coldest at 05:30, warmest at 15:00, half a cosine wave "
     "between them (hours: common practice, no source; within two hours for most shops).",
     "history", days},
    {"clock", NULL, RWL_NAMED, clock_fields, "A clock time in seconds since 1970-01-01 00:00.",
     "number", clock_number},
    {"clock_text", NULL, RWL_NAMED, clock_text_fields,
     "The clock time that goes with seconds since 1970-01-01 00:00, to the minute.", "string",
     clock_text},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_history_set = {functions, types};
