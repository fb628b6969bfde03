/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows appended to a logbook. */
#include "reading.h"

static const rwl_alias none[] = {{NULL, NULL}};

static double get(lua_State *L, const char *name)
{
  return rwl_get_quantity(L, name, NAN);
}

/* Raises, or answers with nothing. */
static int done(lua_State *L, rw_status status, rw_error *err)
{
  rwl_check_as(L, status, err, none);
  return 0;
}

static int add_batch(lua_State *L)
{
  const rw_log_batch b = {.name = rwl_get_string(L, "batch", "", NULL),
                          .mixed = get(L, "time"),
                          .on_hull = get(L, "on_hull"),
                          .mass = get(L, "mass"),
                          .resin = get(L, "resin"),
                          .hardener = get(L, "hardener"),
                          .applied = get(L, "applied"),
                          .form = (rw_log_form)rwl_get_choice(L, "form", RW_LOG_FILM),
                          .place = rwl_get_string(L, "place", "", NULL)};
  rw_error err = {0};
  return done(L,
              rw_log_add_batch(rwl_get_string(L, "path", "", NULL), &b,
                               rwl_get_boolean(L, "universal", 0), &err),
              &err);
}

static int add_event(lua_State *L)
{
  const rw_log_event e = {.found = (rw_log_found)rwl_get_choice(L, "found", 0),
                          .not_yet = get(L, "not_yet"),
                          .already = get(L, "already"),
                          .form = (rw_log_form)rwl_get_choice(L, "form", RW_LOG_FILM),
                          .place = rwl_get_string(L, "place", "", NULL),
                          .observer = rwl_get_string(L, "observer", "", NULL)};
  rw_error err = {0};
  return done(L,
              rw_log_add_event(rwl_get_string(L, "path", "", NULL),
                               rwl_get_string(L, "batch", "", NULL), &e,
                               rwl_get_boolean(L, "universal", 0), &err),
              &err);
}

static int add_reading(lua_State *L)
{
  const rw_log_reading r = {.time = get(L, "time"),
                            .air = get(L, "air"),
                            .hull = get(L, "hull"),
                            .humidity = get(L, "humidity"),
                            .low = get(L, "low"),
                            .high = get(L, "high")};
  rw_error err = {0};
  return done(L,
              rw_log_add_reading(rwl_get_string(L, "path", "", NULL), &r,
                                 rwl_get_boolean(L, "universal", 0), &err),
              &err);
}

/* "|thick|gelled..." from the one list of words. */
static const char found_keys[] =
#define RW_X(name, key, stage, passing, text) "|" key
    RW_LOG_FOUND_LIST(RW_X)
#undef RW_X
    ;

#define FILE_FIELDS                                                                               \
  RWL_NEED("path", RWL_STRING, "", "the logbook; made, with a header, where there is none"),      \
      RWL_MAY("universal", RWL_BOOLEAN, "", NULL,                                                 \
              "true: the times are universal time, and written with an offset")
#define FORM RWL_MAY("form", RWL_CHOICE, "film|cup", "film", "what is looked at")

static const rwl_field batch_fields[] = {
    FILE_FIELDS,
    RWL_NEED("batch", RWL_STRING, "", "name or number, not yet in the log"),
    RWL_NEED("time", RWL_CLOCK, "", "when mixing ended"),
    RWL_MAY("on_hull", RWL_CLOCK, "", NULL, "when it was spread"),
    RWL_MAY("mass", RWL_QUANTITY, "kg", NULL, "mass mixed"),
    RWL_MAY("resin", RWL_QUANTITY, "kg", NULL, "of it resin"),
    RWL_MAY("hardener", RWL_QUANTITY, "kg", NULL, "of it hardener"),
    RWL_MAY("applied", RWL_QUANTITY, "kg", NULL, "mass that stayed on the hull"),
    FORM,
    RWL_MAY("place", RWL_STRING, "", NULL, "where on the hull"),
    RWL_END_FIELDS,
};
static const rwl_field event_fields[] = {
    FILE_FIELDS,
    RWL_NEED("batch", RWL_STRING, "", "a batch of the log"),
    RWL_NEED("found", RWL_CHOICE, found_keys + 1, "what was found, see log_words"),
    RWL_MAY("not_yet", RWL_CLOCK, "", NULL, "a look that found it not yet so"),
    RWL_MAY("already", RWL_CLOCK, "", NULL, "a look that found it so; one of the two is needed"),
    FORM,
    RWL_MAY("place", RWL_STRING, "", NULL, "the spot looked at"),
    RWL_MAY("observer", RWL_STRING, "", NULL, "who looked"),
    RWL_END_FIELDS,
};
static const rwl_field reading_fields[] = {
    FILE_FIELDS,
    RWL_NEED("time", RWL_CLOCK, "", "when; with low and high the date alone"),
    RWL_MAY("air", RWL_TEMPERATURE, "", NULL, "temperature of the air"),
    RWL_MAY("hull", RWL_TEMPERATURE, "", NULL, "temperature of the hull"),
    RWL_MAY("humidity", RWL_SHARE, "", NULL, "relative humidity of the air"),
    RWL_MAY("low", RWL_TEMPERATURE, "", NULL, "the day's coldest air"),
    RWL_MAY("high", RWL_TEMPERATURE, "", NULL, "the day's warmest air"),
    RWL_END_FIELDS,
};

#define SAFELY                                                                                    \
  " Written to the end in one piece and flushed to the disk, in the columns and units that the "  \
  "file has; a row that would be left out on reading is refused, and nothing is written."

static const rwl_function functions[] = {
    {"log_add_batch", NULL, RWL_NAMED, batch_fields, "Appends a batch to a logbook." SAFELY,
     "nothing", add_batch},
    {"log_add_event", NULL, RWL_NAMED, event_fields,
     "Appends what was found on a batch to a logbook." SAFELY, "nothing", add_event},
    {"log_add_reading", NULL, RWL_NAMED, reading_fields,
     "Appends a reading, or a day's low and high, to a logbook." SAFELY, "nothing", add_reading},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_log_add_set = {functions, NULL};
