/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The skin of a hull: from girths, from offsets, from a file; area, girths and bands. */
#include "objects.h"

#include <string.h>

enum { MOST_BANDS = 200 };

static const char area_because[] = "reading the girths and the shape between the stations";

static int release(lua_State *L)
{
  rwl_hull *h = luaL_testudata(L, 1, "resinwright." RWL_HULL);
  if (h == NULL)
    return 0;
  rw_hull_destroy(h->hull);
  h->hull = NULL;
  return 0;
}

static rwl_hull *push(lua_State *L)
{
  return rwl_push_object(L, RWL_HULL, sizeof(rwl_hull));
}

static int refuse(lua_State *L, rw_status code, const char *argument, const char *message,
                  const char *hint)
{
  rwl_refusal r = {code, argument, message, NULL, hint, 0, 0};
  return rwl_refuse(L, &r);
}

/* --- making -------------------------------------------------------------------------------- */

static void need_positive(lua_State *L, const char *name)
{
  if (rwl_get_quantity(L, name, 0.0) <= 0.0)
    refuse(L, RW_ERR_RANGE, name, lua_pushfstring(L, "%s must be above zero", name),
           "measure along the hull, from the first station on");
}

static void need_one_way(lua_State *L)
{
  static const char hint[] =
      "write length = \"5.20 m\" for evenly spaced stations over all of it, spacing = \"65 cm\" "
      "from one to the next, or x = {...} with the position of each";
  int given = rwl_has(L, "x") + rwl_has(L, "length") + rwl_has(L, "spacing");
  if (given == 0)
    refuse(L, RW_ERR_ARGUMENT, "length",
           "where the stations stand is missing: length, spacing or x", hint);
  if (given > 1)
    refuse(L, RW_ERR_ARGUMENT, rwl_has(L, "x") ? "x" : "spacing",
           "where the stations stand is said twice: give one of length, spacing and x", hint);
}

/* Positions of n stations: as listed, or evenly spaced from 0. */
static const double *positions(lua_State *L, size_t n)
{
  size_t count = 0;
  const double *x = rwl_get_list(L, "x", &count);
  if (x != NULL && count != n)
    refuse(L, RW_ERR_ARGUMENT, "x",
           lua_pushfstring(L, "x has %d positions and girth has %d girths", (int)count, (int)n),
           "each girth has its own position");
  if (x != NULL)
    return x;
  const char *way = rwl_has(L, "length") ? "length" : "spacing";
  need_positive(L, way);
  double step = rwl_get_quantity(L, way, NAN);
  double share = strcmp(way, "length") == 0 ? 1.0 / (double)(n > 1 ? n - 1 : 1) : 1.0;
  double *even = lua_newuserdatauv(L, n * sizeof *even, 0);
  for (size_t i = 0; i < n; i++)
    even[i] = step * ((double)i * share);
  return even;
}

static int hull(lua_State *L)
{
  need_one_way(L);
  size_t n = 0;
  const double *girth = rwl_get_list(L, "girth", &n);
  const double *x = positions(L, n);
  rwl_hull *made = push(L);
  rw_error err = {0};
  rw_status status = rw_hull_from_girths(x, girth, n, &made->hull, &err);
  rwl_rename(&err, "n", "girth");
  rwl_keep(L, &made->warning, status, &err);
  return 1;
}

static int hull_file(lua_State *L)
{
  rwl_hull *made = push(L);
  rw_error err = {0};
  rw_status status = rw_hull_read(rwl_get_string(L, "path", "", NULL), &made->hull, &err);
  rwl_keep(L, &made->warning, status, &err);
  return 1;
}

static int hull_offsets(lua_State *L)
{
  size_t n = rwl_get_count(L, "points");
  rw_offset *point = lua_newuserdatauv(L, n * sizeof *point, 0);
  for (size_t i = 0; i < n; i++) {
    rwl_open(L, "points", i);
    point[i] = (rw_offset){rwl_get_quantity(L, "x", NAN), rwl_get_quantity(L, "half", NAN),
                           rwl_get_quantity(L, "height", NAN), rwl_get_boolean(L, "knuckle", 0)};
    rwl_close(L);
  }
  rwl_hull *made = push(L);
  rw_error err = {0};
  rw_status status = rw_hull_from_offsets(point, n, &made->hull, &err);
  rwl_rename(&err, "point", "points");
  rwl_rename(&err, "n", "points");
  rwl_keep(L, &made->warning, status, &err);
  return 1;
}

/* --- methods -------------------------------------------------------------------------------- */

static const rw_hull *self(lua_State *L)
{
  return rwl_hull_in(L, rwl_self(L));
}

static void push_area(lua_State *L, double from, double to)
{
  rw_value a = {NAN, NAN};
  rw_error err = {0};
  rw_status status = rw_hull_area(self(L), from, to, &a, &err);
  rwl_check(L, status, &err);
  rwl_push_value(L, "m2", a, area_because);
  rwl_note(L, -1, status, &err);
}

static int area(lua_State *L)
{
  double from, to;
  rw_hull_span(self(L), &from, &to);
  push_area(L, rwl_get_quantity(L, "from", from), rwl_get_quantity(L, "to", to));
  return 1;
}

static int girth(lua_State *L)
{
  double g = NAN;
  rw_error err = {0};
  rw_status status = rw_hull_girth(self(L), rwl_get_quantity(L, "at", NAN), &g, &err);
  rwl_rename(&err, "x", "at");
  rwl_check(L, status, &err);
  rwl_push_quantity(L, "m", g);
  return 1;
}

static int widest(lua_State *L)
{
  double x, g;
  rw_hull_widest(self(L), &x, &g);
  lua_createtable(L, 0, 2);
  rwl_set_quantity(L, "at", "m", x);
  rwl_set_quantity(L, "girth", "m", g);
  return 1;
}

static int length(lua_State *L)
{
  double from, to;
  rw_hull_span(self(L), &from, &to);
  rwl_push_quantity(L, "m", to - from);
  return 1;
}

static int wider_than(lua_State *L)
{
  double from, to;
  double wide = rw_hull_wider_than(self(L), rwl_get_quantity(L, "girth", NAN), &from, &to);
  lua_createtable(L, 0, 3);
  rwl_set_quantity(L, "length", "m", wide);
  if (isnan(from))
    return 1;
  rwl_set_quantity(L, "from", "m", from);
  rwl_set_quantity(L, "to", "m", to);
  return 1;
}

static int bands(lua_State *L)
{
  lua_Integer n = rwl_get_integer(L, "count", 1);
  double edge[MOST_BANDS + 1];
  if (n < 1 || n > MOST_BANDS)
    refuse(L, RW_ERR_RANGE, "count",
           lua_pushfstring(L, "count must be from 1 to %d bands, found %I", MOST_BANDS,
                           (LUAI_UACINT)n),
           NULL);
  rw_error err = {0};
  rwl_check(L, rw_hull_bands(self(L), (size_t)n, edge, &err), &err);
  lua_createtable(L, (int)n, 0);
  for (lua_Integer i = 0; i < n; i++) {
    lua_createtable(L, 0, 3);
    rwl_set_quantity(L, "from", "m", edge[i]);
    rwl_set_quantity(L, "to", "m", edge[i + 1]);
    push_area(L, edge[i], edge[i + 1]);
    lua_setfield(L, -2, "area");
    lua_rawseti(L, -2, i + 1);
  }
  return 1;
}

static int stations(lua_State *L)
{
  const double *x, *g;
  size_t n = rw_hull_stations(self(L), &x, &g);
  lua_createtable(L, 0, 2);
  rwl_set_numbers(L, "x", x, n);
  rwl_set_numbers(L, "girth", g, n);
  return 1;
}

static int read(lua_State *L)
{
  const rwl_hull *h = lua_touserdata(L, 1);
  rwl_push_warnings(L, &h->warning);
  return 1;
}

static int say(lua_State *L)
{
  const rw_hull *h = rwl_hull_in(L, luaL_checkudata(L, 1, "resinwright." RWL_HULL));
  double from, to;
  rw_hull_span(h, &from, &to);
  rwl_push_quantity(L, "m", to - from);
  lua_pushfstring(L, "hull of %s with %d stations", luaL_tolstring(L, -1, NULL),
                  (int)rw_hull_stations(h, NULL, NULL));
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

static const rwl_field hull_fields[] = {
    RWL_NEED_LIST("girth", RWL_QUANTITY, "m",
                  "three girths or more, sheer to sheer around the outside, from one end to the "
                  "other; only the first and the last may be 0"),
    RWL_MAY("length", RWL_QUANTITY, "m", NULL,
            "from the first station to the last, where they are evenly spaced; or spacing, or x"),
    RWL_MAY("spacing", RWL_QUANTITY, "m", NULL,
            "from each station to the next, where they are evenly spaced; or length, or x"),
    RWL_MAY_LIST("x", RWL_QUANTITY, "m",
                 "position of each girth along the hull, rising; or length, or spacing"),
    RWL_END_FIELDS,
};
static const rwl_field file_fields[] = {
    RWL_NEED("path", RWL_STRING, "",
             "a table file with the columns \"x [m]\" and \"girth [mm]\"; or \"x [m]\", \"half "
             "[mm]\", \"height [mm]\" and, where there are chines, \"knuckle\" (0 or 1)"),
    RWL_END_FIELDS,
};
static const rwl_field point_fields[] = {
    RWL_NEED("x", RWL_QUANTITY, "m", "position of the station, the same for all its points"),
    RWL_NEED("half", RWL_QUANTITY, "m", "half-breadth: from the middle plane to the skin"),
    RWL_NEED("height", RWL_QUANTITY, "m", "height over the base line, or over any level"),
    RWL_MAY("knuckle", RWL_BOOLEAN, "", "false",
            "true where the skin has a chine here, so that it is not smoothed across"),
    RWL_END_FIELDS,
};
static const rwl_field offsets_fields[] = {
    RWL_NEED_RECORDS("points", point_fields,
                     "points of one half, keel to sheer, station after station in rising x; as "
                     "many knuckles at every station"),
    RWL_END_FIELDS,
};
static const rwl_field area_fields[] = {
    RWL_MAY("from", RWL_QUANTITY, "m", NULL, "position; left out: the first station"),
    RWL_MAY("to", RWL_QUANTITY, "m", NULL, "position; left out: the last station"),
    RWL_END_FIELDS,
};
static const rwl_field girth_fields[] = {
    RWL_NEED("at", RWL_QUANTITY, "m", "position along the hull"),
    RWL_END_FIELDS,
};
static const rwl_field wider_fields[] = {
    RWL_NEED("girth", RWL_QUANTITY, "m", "the girth to compare with, such as what a roll covers"),
    RWL_END_FIELDS,
};
static const rwl_field bands_fields[] = {
    RWL_NEED("count", RWL_INTEGER, "", "how many bands, 1 to 200"),
    RWL_END_FIELDS,
};

static const rwl_function methods[] = {
    {"area", "hull", RWL_NAMED, area_fields,
     "Area of the skin between two positions, both sides. From girths, evenly spaced and odd in "
     "number, Simpson's rule; the interval holds the reading of the tape, the shape between the "
     "stations and the slope along the hull.",
     "range", area},
    {"girth", "hull", RWL_NAMED, girth_fields, "Girth at a position.", "quantity", girth},
    {"widest", "hull", RWL_NAMED, NULL, "The greatest girth and where it is.",
     "{at: quantity, girth: quantity}", widest},
    {"length", "hull", RWL_NAMED, NULL, "From the first station to the last.", "quantity", length},
    {"wider_than", "hull", RWL_NAMED, wider_fields,
     "How much of the hull's length has a greater girth, as one stretch from the first such place "
     "to the last; from and to are nil where nowhere.",
     "{length: quantity, from: quantity|nil, to: quantity|nil}", wider_than},
    {"bands", "hull", RWL_NAMED, bands_fields,
     "The hull cut across into bands of equal area, in the order of the stations.",
     "{from: quantity, to: quantity, area: range}[]", bands},
    {"stations", "hull", RWL_NAMED, NULL,
     "Positions and girths as plain numbers in m, for charts.", "{x: number[], girth: number[]}",
     stations},
    RWL_END_FUNCTIONS,
};

static const rwl_property properties[] = {
    {"warnings", "string[]", "what to know about it; empty where nothing"},
    RWL_END_PROPERTIES,
};

static const luaL_Reg events[] = {
    {"__gc", release}, {"__close", release}, {"__tostring", say}, {NULL, NULL}};

static const rwl_type types[] = {
    {RWL_HULL, "The skin of a hull.", properties, read, methods, events},
    RWL_END_TYPES,
};

static const rwl_function functions[] = {
    {"hull", NULL, RWL_NAMED, hull_fields,
     "A hull from girths and where they were measured: one of length, spacing and x.", "hull",
     hull},
    {"hull_file", NULL, RWL_NAMED, file_fields, "A hull from a table file of girths or offsets.",
     "hull", hull_file},
    {"hull_offsets", NULL, RWL_NAMED, offsets_fields,
     "A hull from the offsets of one half. The area is that of the surface through the points and "
     "includes the slope along the hull that girths leave out.",
     "hull", hull_offsets},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_hull_set = {functions, types};
