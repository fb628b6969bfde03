/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wet coats: how thick they are, how they run, level and let bubbles go. */
#include "coat.h"

#include "reading.h"

#include <stdio.h>
#include <string.h>

static const double PI = 3.14159265358979323846;

/* The unit that an argument is thought in. */
static const char *unit_of(const char *argument)
{
  static const struct {
    const char *argument, *unit;
  } usual[] = {{"thickness", "mm"}, {"radius", "mm"}, {"brush_marks", "mm"}, {"run", "mm"},
               {"below", "m"},      {"slope", "deg"}, {"viscosity", "Pa s"}};
  for (size_t i = 0; i < sizeof usual / sizeof *usual; i++)
    if (strcmp(usual[i].argument, argument) == 0)
      return usual[i].unit;
  return NULL;
}

/* Raises an error with the argument called, and its number said, as in Lua. */
static rw_status checked(lua_State *L, rw_status status, rw_error *err)
{
  static const rwl_alias alias[] = {
      {"wavelength", "brush_marks"}, {"distance", "below"}, {NULL, NULL}};
  for (const rwl_alias *a = alias; status < 0 && a->c != NULL; a++)
    rwl_rename(err, a->c, a->lua);
  const char *unit = status < 0 ? unit_of(err->argument) : NULL;
  if (unit != NULL)
    rwl_in_unit(err, lua_pushfstring(L, "%s is", err->argument), unit, NULL);
  if (strcmp(err->argument, "fluidity") == 0)
    snprintf(err->hint, sizeof err->hint, "it comes from cure:fluidity, or from resin:coat");
  return rwl_check(L, status, err);
}

static double get(lua_State *L, const char *name)
{
  return rwl_get_quantity(L, name, NAN);
}

/* A quantity, or nil where it has no end. */
static int give(lua_State *L, const char *unit, double si)
{
  if (isfinite(si))
    rwl_push_quantity(L, unit, si);
  else
    lua_pushnil(L);
  return 1;
}

/* The quantity that stands on the stack, and what to know about it or nil. */
static int with_word(lua_State *L, rw_status status, const char *word)
{
  lua_pushstring(L, status == RW_OK ? NULL : word);
  return 2;
}

static const char RIPPLES[] = "a film that runs so fast ripples, and goes otherwise than this";
static const char THICK_FOR_MARKS[] =
    "the film is thicker than a sixth of the distance from mark to mark: it levels more slowly";
static const char FAST_BUBBLE[] = "a bubble so large or a resin so thin: it rises more slowly";

/* --- amounts -------------------------------------------------------------------------------- */

static int coat_thickness(lua_State *L)
{
  double h = 0.0;
  rw_error err = {0};
  checked(L, rw_coat_thickness(get(L, "mass"), get(L, "area"), get(L, "density"), &h, &err), &err);
  return give(L, "m", h);
}

static int coat_mass(lua_State *L)
{
  double m = 0.0;
  rw_error err = {0};
  checked(L, rw_coat_mass(get(L, "area"), get(L, "thickness"), get(L, "density"), &m, &err), &err);
  return give(L, "kg", m);
}

static int coat_area(lua_State *L)
{
  double a = 0.0;
  rw_error err = {0};
  checked(L, rw_coat_area(get(L, "mass"), get(L, "thickness"), get(L, "density"), &a, &err), &err);
  return give(L, "m2", a);
}

/* --- running -------------------------------------------------------------------------------- */

static int film_flow(lua_State *L)
{
  rw_film_flow f;
  rw_error err = {0};
  rw_status status = checked(L,
                             rw_film_flow_of(get(L, "density"), get(L, "viscosity"),
                                             get(L, "thickness"), get(L, "slope"), &f, &err),
                             &err);
  rwl_warning warning = {""};
  if (status != RW_OK)
    snprintf(warning.text, sizeof warning.text, "%s", RIPPLES);
  lua_newtable(L);
  rwl_set_quantity(L, "surface", "m/s", f.surface);
  rwl_set_quantity(L, "mean", "m/s", f.mean);
  rwl_set_quantity(L, "flux", "kg/(m s)", f.flux);
  rwl_set_number(L, "reynolds", f.reynolds);
  rwl_set_warnings(L, &warning);
  return 1;
}

static int film_thickness(lua_State *L)
{
  double h = 0.0;
  rw_error err = {0};
  rw_status status = checked(L,
                             rw_film_thickness(get(L, "density"), get(L, "viscosity"),
                                               get(L, "slope"), get(L, "flux"), &h, &err),
                             &err);
  give(L, "m", h);
  return with_word(L, status, RIPPLES);
}

static int sag_run(lua_State *L)
{
  double run = 0.0;
  rw_error err = {0};
  checked(L,
          rw_sag_run(get(L, "density"), get(L, "slope"), get(L, "thickness"), get(L, "fluidity"),
                     &run, &err),
          &err);
  return give(L, "m", run);
}

static int sag_thickness(lua_State *L)
{
  double h = 0.0;
  rw_error err = {0};
  checked(L,
          rw_sag_thickness(get(L, "density"), get(L, "slope"), get(L, "run"), get(L, "fluidity"),
                           &h, &err),
          &err);
  return give(L, "m", h);
}

static int sag_slope(lua_State *L)
{
  double slope = 0.0;
  rw_error err = {0};
  checked(L,
          rw_sag_slope(get(L, "density"), get(L, "thickness"), get(L, "run"), get(L, "fluidity"),
                       &slope, &err),
          &err);
  return give(L, "rad", slope);
}

static int sag_held(lua_State *L)
{
  double h = 0.0;
  rw_error err = {0};
  checked(L,
          rw_sag_held(get(L, "density"), get(L, "slope"), get(L, "below"), get(L, "fluidity"), &h,
                      &err),
          &err);
  return give(L, "m", h);
}

/* --- levelling ------------------------------------------------------------------------------ */

static int levelling_time(lua_State *L)
{
  double time = 0.0;
  rw_error err = {0};
  rw_status status =
      rw_levelling_time(get(L, "viscosity"), get(L, "brush_marks"), get(L, "tension"),
                        get(L, "thickness"), get(L, "share"), &time, &err);
  checked(L, status, &err);
  give(L, "s", time);
  return with_word(L, status, THICK_FOR_MARKS);
}

static int levelling_left(lua_State *L)
{
  double share = 0.0;
  rw_error err = {0};
  rw_status status = rw_levelling_left(get(L, "brush_marks"), get(L, "tension"),
                                       get(L, "thickness"), get(L, "fluidity"), &share, &err);
  checked(L, status, &err);
  lua_pushnumber(L, share);
  return with_word(L, status, THICK_FOR_MARKS);
}

static int levelling_marks(lua_State *L)
{
  double marks = 0.0;
  rw_error err = {0};
  rw_status status = rw_levelling_wavelength(get(L, "tension"), get(L, "thickness"),
                                             get(L, "fluidity"), get(L, "share"), &marks, &err);
  checked(L, status, &err);
  give(L, "m", marks);
  return with_word(L, status, THICK_FOR_MARKS);
}

/* --- bubbles -------------------------------------------------------------------------------- */

static rw_bubble_surface surface(lua_State *L)
{
  return (rw_bubble_surface)rwl_get_choice(L, "surface", RW_BUBBLE_RIGID);
}

static int bubble_speed(lua_State *L)
{
  double speed = 0.0;
  rw_error err = {0};
  rw_status status = rw_bubble_speed(get(L, "density"), get(L, "viscosity"), get(L, "radius"),
                                     surface(L), &speed, &err);
  checked(L, status, &err);
  give(L, "m/s", speed);
  return with_word(L, status, FAST_BUBBLE);
}

static int bubble_rise(lua_State *L)
{
  double rise = 0.0;
  rw_error err = {0};
  checked(L,
          rw_bubble_rise(get(L, "density"), get(L, "slope"), get(L, "radius"), surface(L),
                         get(L, "fluidity"), &rise, &err),
          &err);
  return give(L, "m", rise);
}

static int bubble_radius(lua_State *L)
{
  double radius = 0.0;
  rw_error err = {0};
  checked(L,
          rw_bubble_radius(get(L, "density"), get(L, "slope"), get(L, "thickness"), surface(L),
                           get(L, "fluidity"), &radius, &err),
          &err);
  return give(L, "m", radius);
}

/* --- a whole coat --------------------------------------------------------------------------- */

static int refuse_amount(lua_State *L, const char *argument, const char *message)
{
  rwl_refusal r = {RW_ERR_ARGUMENT,
                   argument,
                   message,
                   NULL,
                   "give the wet film as thickness = \"0.2 mm\", or as spread = \"220 g/m2\"",
                   0,
                   0};
  return rwl_refuse(L, &r);
}

static double read_thickness(lua_State *L, double density)
{
  int thickness = rwl_has(L, "thickness"), spread = rwl_has(L, "spread");
  if (!thickness && !spread)
    refuse_amount(L, "thickness", "thickness is missing, and so is spread");
  if (thickness && spread)
    refuse_amount(L, "spread", "spread and thickness are both given, one follows from the other");
  if (thickness)
    return get(L, "thickness");
  double h = 0.0;
  static const rwl_alias alias[] = {{"mass", "spread"}, {NULL, NULL}};
  rw_error err = {0};
  rwl_check_as(L, rw_coat_thickness(get(L, "spread"), 1, density, &h, &err), &err, alias);
  return h;
}

static void set_interval(lua_State *L, const char *name, const char *unit, rw_interval v,
                         const char *because)
{
  if (!isfinite(v.value))
    return;
  rwl_push_range(L, unit, v.value, v.low, v.high, because);
  lua_setfield(L, -2, name);
}

static void set_coat_warnings(lua_State *L, const rw_coat *coat, const rw_coat_outcome *o)
{
  lua_Integer n = 0;
  lua_newtable(L);
  if (!isfinite(o->gel)) {
    lua_pushliteral(L, "it has not gelled at the end looked at: all counts to there only");
    lua_rawseti(L, -2, ++n);
  }
  if (2 * PI * coat->thickness > coat->mark) {
    lua_pushstring(L, THICK_FOR_MARKS);
    lua_rawseti(L, -2, ++n);
  }
  lua_setfield(L, -2, "warnings");
}

int rwl_coat(lua_State *L)
{
  static const rwl_alias alias[] = {{"time", "hull"}, {"from", "laid"}, {NULL, NULL}};
  const rw_resin *r = rwl_self_resin(L);
  const rw_history *hull = rwl_history_in(L, rwl_get_object(L, "hull"));
  double laid = get(L, "laid");
  const rw_coat_times when = {.mixed = rwl_get_quantity(L, "mixed", laid),
                              .laid = laid,
                              .until = get(L, "to"),
                              .temperature_sd = rwl_get_temperature_sd(L)};
  const rw_coat coat = {.thickness = read_thickness(L, r->density),
                        .slope = get(L, "slope"),
                        .run = get(L, "run"),
                        .below = get(L, "below"),
                        .mark = get(L, "brush_marks"),
                        .tension = get(L, "tension"),
                        .surface = surface(L)};
  if (!(when.mixed <= when.laid && when.laid < when.until)) {
    rwl_refusal refusal = {RW_ERR_ORDER,
                           "laid",
                           "laid does not lie after mixed and before to",
                           NULL,
                           "first it is mixed, then laid, then watched up to the time in to",
                           0,
                           0};
    rwl_refuse(L, &refusal);
  }
  rw_coat_outcome o;
  rw_error err = {0};
  rw_status status = rw_coat_forecast(r, hull, &when, &coat, &o, &err);
  for (const rwl_alias *a = alias; status < 0 && a->c != NULL; a++)
    rwl_rename(&err, a->c, a->lua);
  checked(L, status, &err);
  const char *because = rw_coat_because(o.because);
  lua_newtable(L);
  set_interval(L, "fluidity", "1/Pa", o.fluidity, because);
  set_interval(L, "run", "m", o.run, because);
  set_interval(L, "thickness", "m", o.thickness, because);
  set_interval(L, "spread", "kg/m2", o.mass, because);
  set_interval(L, "held", "m", o.held, because);
  set_interval(L, "slope", "rad", o.slope, because);
  set_interval(L, "marks_left", "", o.left, because);
  set_interval(L, "bubble", "m", o.bubble, because);
  rwl_set_clock(L, "gel", o.gel);
  set_coat_warnings(L, &coat, &o);
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

#define DENSITY RWL_NEED("density", RWL_QUANTITY, "kg/m3", "density of the mixed resin")
#define VISCOSITY RWL_NEED("viscosity", RWL_QUANTITY, "Pa s", "viscosity, such as \"900 mPa s\"")
#define THICKNESS RWL_NEED("thickness", RWL_QUANTITY, "m", "thickness of the wet film")
#define SLOPE RWL_NEED("slope", RWL_QUANTITY, "rad", "slope from level: \"90 deg\" is upright")
#define FLUIDITY                                                                                  \
  RWL_NEED("fluidity", RWL_QUANTITY, "1/Pa", "from cure:fluidity: how much it can still flow")
#define RUN RWL_NEED("run", RWL_QUANTITY, "m", "how far its surface may creep down")
#define SHARE                                                                                     \
  RWL_NEED("share", RWL_SHARE, "", "share of the height of the marks that is left, above 0")
#define MARKS RWL_NEED("brush_marks", RWL_QUANTITY, "m", "distance from brush mark to brush mark")
#define TENSION                                                                                   \
  RWL_MAY("tension", RWL_QUANTITY, "N/m", "0.035 N/m",                                            \
          "surface tension of the resin (the usual value is from memory)")
#define RADIUS RWL_NEED("radius", RWL_QUANTITY, "m", "radius of the bubble")
#define SURFACE                                                                                   \
  RWL_MAY("surface", RWL_CHOICE, "rigid|clean", "rigid",                                          \
          "surface of the bubble: rigid is the slower, and the cautious choice")

static const rwl_field thickness_fields[] = {
    RWL_NEED("mass", RWL_QUANTITY, "kg", "mass spread"),
    RWL_NEED("area", RWL_QUANTITY, "m2", "area it was spread over"), DENSITY, RWL_END_FIELDS};
static const rwl_field mass_fields[] = {RWL_NEED("area", RWL_QUANTITY, "m2", "area to coat"),
                                        THICKNESS, DENSITY, RWL_END_FIELDS};
static const rwl_field area_fields[] = {RWL_NEED("mass", RWL_QUANTITY, "kg", "mass at hand"),
                                        THICKNESS, DENSITY, RWL_END_FIELDS};
static const rwl_field flow_fields[] = {DENSITY, VISCOSITY, THICKNESS, SLOPE, RWL_END_FIELDS};
static const rwl_field poured_fields[] = {
    DENSITY, VISCOSITY, SLOPE,
    RWL_NEED("flux", RWL_QUANTITY, "kg/(m s)",
             "mass that passes each metre of width in a second, such as \"2 g/(m s)\""),
    RWL_END_FIELDS};
static const rwl_field run_fields[] = {DENSITY, SLOPE, THICKNESS, FLUIDITY, RWL_END_FIELDS};
static const rwl_field sag_thickness_fields[] = {DENSITY, SLOPE, RUN, FLUIDITY, RWL_END_FIELDS};
static const rwl_field sag_slope_fields[] = {DENSITY, THICKNESS, RUN, FLUIDITY, RWL_END_FIELDS};
static const rwl_field held_fields[] = {
    DENSITY, SLOPE,
    RWL_NEED("below", RWL_QUANTITY, "m", "distance down the face from the coat's upper edge"),
    FLUIDITY, RWL_END_FIELDS};
static const rwl_field levelling_fields[] = {VISCOSITY, MARKS, TENSION,
                                             THICKNESS, SHARE, RWL_END_FIELDS};
static const rwl_field left_fields[] = {MARKS, TENSION, THICKNESS, FLUIDITY, RWL_END_FIELDS};
static const rwl_field marks_fields[] = {TENSION, THICKNESS, FLUIDITY, SHARE, RWL_END_FIELDS};
static const rwl_field speed_fields[] = {DENSITY, VISCOSITY, RADIUS, SURFACE, RWL_END_FIELDS};
static const rwl_field rise_fields[] = {DENSITY, SLOPE, RADIUS, SURFACE, FLUIDITY, RWL_END_FIELDS};
static const rwl_field radius_fields[] = {DENSITY, SLOPE,    THICKNESS,
                                          SURFACE, FLUIDITY, RWL_END_FIELDS};

const rwl_field rwl_coat_fields[] = {
    RWL_NEED("hull", RWL_OBJECT, RWL_HISTORY, "temperature of the hull"),
    RWL_MAY("mixed", RWL_CLOCK, "", NULL, "when the resin was mixed; left out, when it is laid"),
    RWL_NEED("laid", RWL_CLOCK, "", "when the coat is laid"),
    RWL_NEED("to", RWL_CLOCK, "", "how far to look, past the gel"),
    RWL_MAY("thickness", RWL_QUANTITY, "m", NULL, "clear wet film; this or `spread` is needed"),
    RWL_MAY("spread", RWL_QUANTITY, "kg/m2", NULL, "the same as mass per area"),
    SLOPE,
    RWL_MAY("run", RWL_QUANTITY, "m", "50 mm",
            "how far its surface may creep down before the gel (common practice, no source)"),
    RWL_MAY("below", RWL_QUANTITY, "m", "0.3 m",
            "distance down from the coat's upper edge, where `held` is told (common practice, no "
            "source)"),
    RWL_MAY(
        "brush_marks", RWL_QUANTITY, "m", "3 mm",
        "distance from brush mark to brush mark; a brush leaves 1 to 5 mm (common practice, no "
        "source)"),
    TENSION,
    SURFACE,
    RWL_MAY("temperature_sd", RWL_DIFFERENCE, "", "1 K",
            "how far off the hull's temperature may be as a whole (standard deviation)"),
    RWL_END_FIELDS,
};

#define SECOND " A second result says what to know about it, or is nil."

static const rwl_function functions[] = {
    {"coat_thickness", NULL, RWL_NAMED, thickness_fields,
     "Thickness of a wet film from what was spread.", "quantity", coat_thickness},
    {"coat_mass", NULL, RWL_NAMED, mass_fields, "Mass of a wet film.", "quantity", coat_mass},
    {"coat_area", NULL, RWL_NAMED, area_fields, "Area that a mass covers.", "quantity", coat_area},
    {"film_flow", NULL, RWL_NAMED, flow_fields,
     "How a film of even thickness runs down a slope: speed of its `surface` and `mean` speed, "
     "`flux`, mass per time and width (take it out with :to \"g/(m s)\"), `reynolds` number; "
     "`warnings`. Only resin above the crowns of the cloth "
     "runs so.",
     "table", film_flow},
    {"film_thickness", NULL, RWL_NAMED, poured_fields,
     "Thickness of a poured film that carries a flux." SECOND, "quantity, string|nil",
     film_thickness},
    {"sag_run", NULL, RWL_NAMED, run_fields,
     "How far the surface of a coat runs before it gels, at most.", "quantity", sag_run},
    {"sag_thickness", NULL, RWL_NAMED, sag_thickness_fields,
     "Greatest wet film that runs no further than allowed; nil on the level.", "quantity|nil",
     sag_thickness},
    {"sag_slope", NULL, RWL_NAMED, sag_slope_fields,
     "Steepest slope on which a film runs no further than allowed; \"90 deg\" where it holds "
     "upright.",
     "quantity", sag_slope},
    {"sag_held", NULL, RWL_NAMED, held_fields,
     "What a face still holds at the gel, however much was laid on it; nil on the level.",
     "quantity|nil", sag_held},
    {"levelling_time", NULL, RWL_NAMED, levelling_fields,
     "Time in which brush marks sink to a share of their height at a steady viscosity." SECOND,
     "quantity, string|nil", levelling_time},
    {"levelling_left", NULL, RWL_NAMED, left_fields,
     "Share of the height of brush marks that is left at the gel, 0 to 1." SECOND,
     "number, string|nil", levelling_left},
    {"levelling_marks", NULL, RWL_NAMED, marks_fields,
     "Widest brush marks that sink to a share of their height before the gel." SECOND,
     "quantity, string|nil", levelling_marks},
    {"bubble_speed", NULL, RWL_NAMED, speed_fields,
     "Speed of a rising bubble, far from walls and cloth." SECOND, "quantity, string|nil",
     bubble_speed},
    {"bubble_rise", NULL, RWL_NAMED, rise_fields,
     "How far a bubble rises across the film before the gel.", "quantity", bubble_rise},
    {"bubble_radius", NULL, RWL_NAMED, radius_fields,
     "Radius of the smallest bubble that escapes from the bottom of the film before the gel; nil "
     "on an upright face, where bubbles drift along the film.",
     "quantity|nil", bubble_radius},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_coat_set = {functions, NULL};
