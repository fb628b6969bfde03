/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Damp: dew point, how far a surface stays above it, moisture of wood. */
#include "objects.h"

#include <stdio.h>
#include <string.h>

/* Temperatures out of range are told in degC. */
static void in_celsius(rw_error *err)
{
  static const char *const names[] = {"air", "surface", "temperature"};
  char what[RWL_NAME];
  for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
    if (strcmp(err->argument, names[i]) == 0) {
      snprintf(what, sizeof what, "%s is", names[i]);
      rwl_in_unit(err, what, "degC", "");
    }
}

static int dew_point(lua_State *L)
{
  rw_error err = {0};
  double dew = NAN;
  rw_status status = rw_air_dew_point(rwl_get_quantity(L, "air", NAN),
                                      rwl_get_quantity(L, "humidity", NAN), &dew, &err);
  rwl_rename(&err, "temperature", "air");
  in_celsius(&err);
  rwl_check(L, status, &err);
  rwl_push_temperature(L, dew);
  return 1;
}

static rw_value reading(lua_State *L, const char *name, const char *sd)
{
  return (rw_value){rwl_get_quantity(L, name, NAN), rwl_get_quantity(L, sd, NAN)};
}

static int dew_margin(lua_State *L)
{
  rw_error err = {0};
  rw_value margin = {NAN, NAN};
  rw_status status =
      rw_air_dew_margin(reading(L, "air", "air_sd"), reading(L, "humidity", "humidity_sd"),
                        reading(L, "surface", "surface_sd"), &margin, &err);
  rwl_rename(&err, "air.sd", "air_sd");
  rwl_rename(&err, "humidity.sd", "humidity_sd");
  rwl_rename(&err, "surface.sd", "surface_sd");
  in_celsius(&err);
  rwl_check(L, status, &err);
  rwl_push_value(L, "K", margin, "the three readings");
  rwl_note(L, -1, status, &err);
  return 1;
}

static int wood_moisture(lua_State *L)
{
  rw_error err = {0};
  double moisture = NAN;
  rw_status status = rw_air_wood_moisture(rwl_get_quantity(L, "temperature", NAN),
                                          rwl_get_quantity(L, "humidity", NAN), &moisture, &err);
  in_celsius(&err);
  rwl_check(L, status, &err);
  lua_pushnumber(L, moisture);
  return 1;
}

static int wood_humidity(lua_State *L)
{
  rw_error err = {0};
  double humidity = NAN;
  rw_status status = rw_air_wood_humidity(rwl_get_quantity(L, "temperature", NAN),
                                          rwl_get_quantity(L, "moisture", NAN), &humidity, &err);
  in_celsius(&err);
  rwl_check(L, status, &err);
  lua_pushnumber(L, humidity);
  return 1;
}

#define AIR                                                                                       \
  RWL_NEED("air", RWL_TEMPERATURE, "", "temperature of the air, -45 to 90 degC (228 to 363 K)")
#define HUMIDITY RWL_NEED("humidity", RWL_SHARE, "", "relative humidity of the air, above 0")
#define WOOD                                                                                      \
  RWL_NEED("temperature", RWL_TEMPERATURE, "",                                                    \
           "of the wood, -33 to 107 degC (240 to "                                                \
           "380 K)")

static const rwl_field dew_point_fields[] = {AIR, HUMIDITY, RWL_END_FIELDS};
static const rwl_field dew_margin_fields[] = {
    AIR,
    HUMIDITY,
    RWL_NEED("surface", RWL_TEMPERATURE, "",
             "temperature of the wood or the film, not of the air beside it"),
    RWL_MAY("air_sd", RWL_DIFFERENCE, "", "0.5 K", "standard deviation of the thermometer"),
    RWL_MAY("humidity_sd", RWL_SHARE, "", "5 %",
            "standard deviation of the hygrometer, as a share: 5 % is five points of humidity"),
    RWL_MAY("surface_sd", RWL_DIFFERENCE, "", "1 K",
            "standard deviation of the surface temperature"),
    RWL_END_FIELDS,
};
static const rwl_field moisture_fields[] = {
    WOOD,
    RWL_NEED("humidity", RWL_SHARE, "", "relative humidity of the air the wood has stood in"),
    RWL_END_FIELDS,
};
static const rwl_field humidity_fields[] = {
    WOOD,
    RWL_NEED("moisture", RWL_SHARE, "", "mass of water over mass of dry wood, as a share"),
    RWL_END_FIELDS,
};

static const rwl_function functions[] = {
    {"dew_point", NULL, RWL_NAMED, dew_point_fields,
     "The temperature below which water settles on a surface. Tested from 0 to 50 degC, air and "
     "dew point both.",
     "quantity", dew_point},
    {"dew_margin", NULL, RWL_NAMED, dew_margin_fields,
     "How far a surface stays above the dew point, in kelvin, with what the instruments may be "
     "off "
     "by. Below 0 water settles; readings are taken as independent.",
     "range", dew_margin},
    {"wood_moisture", NULL, RWL_NAMED, moisture_fields,
     "The moisture content wood comes to in time: mass of water over mass of dry wood. Tested "
     "from "
     "-1 to 72 degC.",
     "number", wood_moisture},
    {"wood_humidity", NULL, RWL_NAMED, humidity_fields,
     "The relative humidity, 0 to 1, in which wood keeps a moisture content: the inverse of "
     "rw.wood_moisture.",
     "number", wood_humidity},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_air_set = {functions, NULL};
