/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A wet coat: running, levelling, and what bubbles do in it. Closed forms in the fluidity. */
#include <resinwright/cure.h>

#include <math.h>

static const double PI = 3.14159265358979323846;

/* One value with its bounds, checked in a row until one is refused. */
typedef struct check {
  const char *function;
  rw_error *err;
  rw_status status;
} check;

static void within(check *c, const char *argument, double value, double low, double high,
                   const char *unit, const char *hint)
{
  if (c->status == RW_OK && !(value >= low && value <= high))
    c->status = rw_error_range(c->err, c->function, argument, value, low, high, unit, hint);
}

static void density_in(check *c, double density)
{
  within(c, "density", density, 500, 3000, "kg/m3",
         "Mixed epoxy weighs about 1100 kg per cubic metre (1.1 g per mL).");
}

static void viscosity_in(check *c, double viscosity)
{
  within(c, "viscosity", viscosity, 1e-5, 1e9, "Pa s",
         "Fresh mixed epoxy is near 1 Pa s (1000 mPa s).");
}

static void thickness_in(check *c, double thickness)
{
  within(c, "thickness", thickness, 1e-6, 0.1, "m",
         "A brushed coat is 0.1 to 0.4 mm thick (common practice, no source).");
}

static void slope_in(check *c, double slope)
{
  within(c, "slope", slope, 0, PI / 2, "rad",
         "Measure the slope from level: 0 is flat, 90 degrees stands upright.");
}

static void fluidity_in(check *c, double fluidity)
{
  within(c, "fluidity", fluidity, 0, 1e12, "1/Pa",
         "It is the time integral of 1/viscosity, from rw_cure_fluidity.");
}

static void tension_in(check *c, double tension)
{
  within(c, "tension", tension, 0.005, 0.1, "N/m",
         "The surface tension of liquid epoxy is near 0.035 N/m.");
}

static void wavelength_in(check *c, double wavelength)
{
  within(c, "wavelength", wavelength, 1e-5, 1, "m",
         "Measure from crest to crest: brush marks stand 1 to 5 mm apart (common practice, no "
         "source).");
}

static void share_in(check *c, const char *argument, double share)
{
  within(c, argument, share, 1e-9, 1, "",
         "Give the share of the marks' height that is left: 0.1 is a tenth.");
}

static void radius_in(check *c, double radius)
{
  within(c, "radius", radius, 1e-7, 0.01, "m",
         "A bubble just seen has a radius of 0.05 mm (memory).");
}

static void surface_in(check *c, rw_bubble_surface surface)
{
  if (c->status == RW_OK && surface != RW_BUBBLE_RIGID && surface != RW_BUBBLE_CLEAN)
    c->status = rw_error_set(c->err, RW_ERR_ARGUMENT, c->function, "surface", NULL,
                             "the kind of bubble surface is not known");
}

/* Mass, area, thickness and density of a coat: mass = area thickness density. */

static void amounts_in(check *c, const char *argument, double value, const char *unit)
{
  within(c, argument, value, 1e-9, 1e9, unit, NULL);
}

rw_status rw_coat_thickness(double mass, double area, double density, double *thickness,
                            rw_error *err)
{
  check c = {"rw_coat_thickness", err, RW_OK};
  amounts_in(&c, "mass", mass, "kg");
  amounts_in(&c, "area", area, "m2");
  density_in(&c, density);
  if (c.status == RW_OK)
    *thickness = mass / (area * density);
  return c.status;
}

rw_status rw_coat_mass(double area, double thickness, double density, double *mass, rw_error *err)
{
  check c = {"rw_coat_mass", err, RW_OK};
  amounts_in(&c, "area", area, "m2");
  thickness_in(&c, thickness);
  density_in(&c, density);
  if (c.status == RW_OK)
    *mass = area * thickness * density;
  return c.status;
}

rw_status rw_coat_area(double mass, double thickness, double density, double *area, rw_error *err)
{
  check c = {"rw_coat_area", err, RW_OK};
  amounts_in(&c, "mass", mass, "kg");
  thickness_in(&c, thickness);
  density_in(&c, density);
  if (c.status == RW_OK)
    *area = mass / (thickness * density);
  return c.status;
}

rw_status rw_film_flow_of(double density, double viscosity, double thickness, double slope,
                          rw_film_flow *out, rw_error *err)
{
  check c = {"rw_film_flow_of", err, RW_OK};
  density_in(&c, density);
  viscosity_in(&c, viscosity);
  thickness_in(&c, thickness);
  slope_in(&c, slope);
  if (c.status != RW_OK)
    return c.status;
  double pull = density * RW_GRAVITY * sin(slope) * thickness * thickness / viscosity;
  rw_film_flow f = {.surface = pull / 2, .mean = pull / 3};
  f.flux = density * f.mean * thickness;
  f.reynolds = 4 * f.flux / viscosity;
  *out = f;
  return f.reynolds > 20 ? RW_OUTSIDE_TESTED : RW_OK;
}

rw_status rw_film_thickness(double density, double viscosity, double slope, double flux,
                            double *thickness, rw_error *err)
{
  check c = {"rw_film_thickness", err, RW_OK};
  density_in(&c, density);
  viscosity_in(&c, viscosity);
  slope_in(&c, slope);
  within(&c, "flux", flux, 1e-12, 1e3, "kg/(m s)", NULL);
  within(&c, "slope", slope, 1e-6, PI / 2, "rad", "On a level surface nothing runs off.");
  if (c.status != RW_OK)
    return c.status;
  double pull = density * density * RW_GRAVITY * sin(slope);
  *thickness = cbrt(3 * viscosity * flux / pull);
  return 4 * flux / viscosity > 20 ? RW_OUTSIDE_TESTED : RW_OK;
}

rw_status rw_sag_run(double density, double slope, double thickness, double fluidity, double *run,
                     rw_error *err)
{
  check c = {"rw_sag_run", err, RW_OK};
  density_in(&c, density);
  slope_in(&c, slope);
  thickness_in(&c, thickness);
  fluidity_in(&c, fluidity);
  if (c.status == RW_OK)
    *run = density * RW_GRAVITY * sin(slope) * thickness * thickness * fluidity / 2;
  return c.status;
}

static void run_in(check *c, double run)
{
  within(c, "run", run, 1e-6, 10, "m",
         "Give how far the surface may creep down before the gel, such as 50 mm.");
}

rw_status rw_sag_thickness(double density, double slope, double run, double fluidity,
                           double *thickness, rw_error *err)
{
  check c = {"rw_sag_thickness", err, RW_OK};
  density_in(&c, density);
  slope_in(&c, slope);
  run_in(&c, run);
  fluidity_in(&c, fluidity);
  if (c.status != RW_OK)
    return c.status;
  double pull = density * RW_GRAVITY * sin(slope) * fluidity;
  *thickness = pull > 0 ? sqrt(2 * run / pull) : HUGE_VAL;
  return RW_OK;
}

rw_status rw_sag_slope(double density, double thickness, double run, double fluidity,
                       double *slope, rw_error *err)
{
  check c = {"rw_sag_slope", err, RW_OK};
  density_in(&c, density);
  thickness_in(&c, thickness);
  run_in(&c, run);
  fluidity_in(&c, fluidity);
  if (c.status != RW_OK)
    return c.status;
  double upright = density * RW_GRAVITY * thickness * thickness * fluidity / 2;
  *slope = run >= upright ? PI / 2 : asin(run / upright);
  return RW_OK;
}

rw_status rw_sag_held(double density, double slope, double distance, double fluidity,
                      double *thickness, rw_error *err)
{
  check c = {"rw_sag_held", err, RW_OK};
  density_in(&c, density);
  slope_in(&c, slope);
  within(&c, "distance", distance, 1e-4, 10, "m",
         "Measure down the face from the upper edge of the coat, such as 300 mm.");
  fluidity_in(&c, fluidity);
  if (c.status != RW_OK)
    return c.status;
  double pull = density * RW_GRAVITY * sin(slope) * fluidity;
  *thickness = pull > 0 ? sqrt(distance / pull) : HUGE_VAL;
  return RW_OK;
}

/* sigma h^3 (2 pi/L)^4/3: how fast marks go, times viscosity. */
static double levelling_pull(double wavelength, double tension, double thickness)
{
  double k = 2 * PI / wavelength;
  return tension * pow(thickness, 3) * pow(k, 4) / 3;
}

/* The law holds for marks that are long against the film. */
static rw_status thin_enough(double wavelength, double thickness)
{
  return 2 * PI * thickness > wavelength ? RW_OUTSIDE_TESTED : RW_OK;
}

rw_status rw_levelling_time(double viscosity, double wavelength, double tension, double thickness,
                            double share, double *time, rw_error *err)
{
  check c = {"rw_levelling_time", err, RW_OK};
  viscosity_in(&c, viscosity);
  wavelength_in(&c, wavelength);
  tension_in(&c, tension);
  thickness_in(&c, thickness);
  share_in(&c, "share", share);
  if (c.status != RW_OK)
    return c.status;
  *time = -log(share) * viscosity / levelling_pull(wavelength, tension, thickness);
  return thin_enough(wavelength, thickness);
}

rw_status rw_levelling_left(double wavelength, double tension, double thickness, double fluidity,
                            double *share, rw_error *err)
{
  check c = {"rw_levelling_left", err, RW_OK};
  wavelength_in(&c, wavelength);
  tension_in(&c, tension);
  thickness_in(&c, thickness);
  fluidity_in(&c, fluidity);
  if (c.status != RW_OK)
    return c.status;
  *share = exp(-levelling_pull(wavelength, tension, thickness) * fluidity);
  return thin_enough(wavelength, thickness);
}

rw_status rw_levelling_wavelength(double tension, double thickness, double fluidity, double share,
                                  double *wavelength, rw_error *err)
{
  check c = {"rw_levelling_wavelength", err, RW_OK};
  tension_in(&c, tension);
  thickness_in(&c, thickness);
  fluidity_in(&c, fluidity);
  share_in(&c, "share", share);
  if (c.status == RW_OK && share == 1)
    c.status = rw_error_range(err, c.function, "share", share, 1e-9, 0.999, "",
                              "Ask for less of the marks to be left than all of them.");
  if (c.status != RW_OK)
    return c.status;
  *wavelength = 2 * PI * pow(tension * pow(thickness, 3) * fluidity / (-3 * log(share)), 0.25);
  return thin_enough(*wavelength, thickness);
}

/* Speed times viscosity over radius squared. */
static double bubble_pull(double density, rw_bubble_surface surface)
{
  double rigid = 2 * density * RW_GRAVITY / 9;
  return surface == RW_BUBBLE_CLEAN ? 1.5 * rigid : rigid;
}

rw_status rw_bubble_speed(double density, double viscosity, double radius,
                          rw_bubble_surface surface, double *speed, rw_error *err)
{
  check c = {"rw_bubble_speed", err, RW_OK};
  density_in(&c, density);
  viscosity_in(&c, viscosity);
  radius_in(&c, radius);
  surface_in(&c, surface);
  if (c.status != RW_OK)
    return c.status;
  double v = bubble_pull(density, surface) * radius * radius / viscosity;
  *speed = v;
  return 2 * radius * v * density / viscosity > 1 ? RW_OUTSIDE_TESTED : RW_OK;
}

rw_status rw_bubble_rise(double density, double slope, double radius, rw_bubble_surface surface,
                         double fluidity, double *rise, rw_error *err)
{
  check c = {"rw_bubble_rise", err, RW_OK};
  density_in(&c, density);
  slope_in(&c, slope);
  radius_in(&c, radius);
  surface_in(&c, surface);
  fluidity_in(&c, fluidity);
  if (c.status == RW_OK)
    *rise = fmax(cos(slope), 0) * bubble_pull(density, surface) * radius * radius * fluidity;
  return c.status;
}

rw_status rw_bubble_radius(double density, double slope, double thickness,
                           rw_bubble_surface surface, double fluidity, double *radius,
                           rw_error *err)
{
  check c = {"rw_bubble_radius", err, RW_OK};
  density_in(&c, density);
  slope_in(&c, slope);
  thickness_in(&c, thickness);
  surface_in(&c, surface);
  fluidity_in(&c, fluidity);
  if (c.status != RW_OK)
    return c.status;
  double pull = slope < PI / 2 ? cos(slope) * bubble_pull(density, surface) * fluidity : 0;
  *radius = pull > 0 ? sqrt(thickness / pull) : HUGE_VAL;
  return RW_OK;
}
