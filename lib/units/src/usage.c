/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Dimensions that have a name, and the units they are usually seen in. The bounds between units
 * are choices for easy reading: common practice, no source. */
#include "private.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define END HUGE_VAL
#define INCH 0.0254
#define FOOT 0.3048
#define PSI 6894.757293168361
#define MINUTE 60.0
#define HOUR 3600.0

/* Powers of m, kg, s, K, mol, rad, money. */
static const struct rwi_usage usages[] = {
    {{{0, 0, 0, 0, 0, 0, 0}}, "plain number", {{END, "1"}}, {{0, NULL}}},
    {{{1, 0, 0, 0, 0, 0, 0}},
     "length",
     {{1e-4, "um"}, {1, "mm"}, {1000, "m"}, {END, "km"}},
     {{INCH / 50, "mil"}, {FOOT, "in"}, {END, "ft"}}},
    {{{2, 0, 0, 0, 0, 0, 0}},
     "area",
     {{1e-4, "mm2"}, {1e-2, "cm2"}, {END, "m2"}},
     {{FOOT * FOOT, "in2"}, {END, "ft2"}}},
    {{{3, 0, 0, 0, 0, 0, 0}},
     "volume",
     {{1e-3, "mL"}, {1, "L"}, {END, "m3"}},
     {{0.003785411784 / 4, "floz"}, {END, "gal"}}},
    {{{4, 0, 0, 0, 0, 0, 0}},
     "second moment of area",
     {{1e-6, "mm4"}, {END, "m4"}},
     {{END, "in4"}}},
    {{{0, 1, 0, 0, 0, 0, 0}},
     "mass",
     {{1e-3, "mg"}, {1, "g"}, {1000, "kg"}, {END, "t"}},
     {{0.45359237, "ozwt"}, {END, "lb"}}},
    {{{0, 0, 1, 0, 0, 0, 0}},
     "time",
     {{MINUTE, "s"}, {HOUR, "min"}, {48 * HOUR, "h"}, {END, "d"}},
     {{0, NULL}}},
    {{{0, 0, 0, 1, 0, 0, 0}}, "temperature", {{END, "K"}}, {{END, "Fdeg"}}},
    {{{0, 0, 0, 0, 1, 0, 0}}, "amount of substance", {{END, "mol"}}, {{0, NULL}}},
    {{{0, 0, 0, 0, 0, 1, 0}}, "angle", {{END, "deg"}}, {{0, NULL}}},
    {{{0, 0, 0, 0, 0, 0, 1}}, "money", {{END, "money"}}, {{0, NULL}}},
    {{{-2, 1, 0, 0, 0, 0, 0}},
     "mass per area",
     {{1, "g/m2"}, {END, "kg/m2"}},
     {{0.7, "oz/yd2"}, {END, "lb/ft2"}}},
    {{{-3, 1, 0, 0, 0, 0, 0}}, "density", {{100, "kg/m3"}, {END, "g/cm3"}}, {{END, "lb/ft3"}}},
    {{{-1, 1, 0, 0, 0, 0, 0}}, "mass per length", {{1, "g/m"}, {END, "kg/m"}}, {{END, "lb/ft"}}},
    {{{3, -1, 0, 0, 0, 0, 0}}, "volume per mass", {{END, "L/kg"}}, {{END, "floz/lb"}}},
    {{{2, -1, 0, 0, 0, 0, 0}}, "area per mass", {{END, "m2/kg"}}, {{END, "ft2/lb"}}},
    {{{-1, 1, -2, 0, 0, 0, 0}},
     "pressure",
     {{1e3, "Pa"}, {1e6, "kPa"}, {1e9, "MPa"}, {END, "GPa"}},
     {{PSI / 2, "psf"}, {1e4 * PSI, "psi"}, {END, "ksi"}}},
    {{{1, 1, -2, 0, 0, 0, 0}}, "force", {{1e3, "N"}, {END, "kN"}}, {{END, "lbf"}}},
    {{{0, 1, -2, 0, 0, 0, 0}},
     "force per length",
     {{1, "mN/m"}, {1e3, "N/m"}, {END, "kN/m"}},
     {{END, "lbf/in"}}},
    {{{2, 1, -2, 0, 0, 0, 0}}, "moment or energy", {{END, "N m"}}, {{END, "lbf in"}}},
    {{{2, 1, -3, 0, 0, 0, 0}}, "power", {{1e3, "W"}, {END, "kW"}}, {{0, NULL}}},
    {{{-1, 1, -1, 0, 0, 0, 0}},
     "viscosity",
     {{10, "mPa s"}, {END, "Pa s"}},
     {{100, "cP"}, {END, "P"}}},
    {{{2, 0, -1, 0, 0, 0, 0}},
     "area per time",
     {{1e-4, "mm2/s"}, {END, "m2/min"}},
     {{1e-4, "cSt"}, {END, "ft2/min"}}},
    {{{1, 0, -1, 0, 0, 0, 0}},
     "speed",
     {{1e-4, "um/s"}, {1, "mm/s"}, {END, "m/s"}},
     {{FOOT / MINUTE, "in/min"}, {FOOT, "in/s"}, {END, "ft/s"}}},
    {{{1, 0, -2, 0, 0, 0, 0}}, "acceleration", {{END, "m/s2"}}, {{END, "ft/s2"}}},
    {{{3, 0, -1, 0, 0, 0, 0}},
     "volume per time",
     {{1e-3 / MINUTE, "mL/min"}, {END, "L/min"}},
     {{0.003785411784 / 4 / MINUTE, "floz/min"}, {END, "gal/min"}}},
    {{{0, 1, -1, 0, 0, 0, 0}},
     "mass per time",
     {{1 / MINUTE, "g/min"}, {END, "kg/min"}},
     {{END, "lb/min"}}},
    {{{-2, 1, -1, 0, 0, 0, 0}},
     "mass per area and time",
     {{1 / HOUR, "g/(m2 h)"}, {END, "kg/(m2 h)"}},
     {{END, "lb/(ft2 h)"}}},
    {{{0, 0, -1, 0, 0, 0, 0}},
     "rate",
     {{1 / MINUTE, "1/h"}, {1, "1/min"}, {END, "1/s"}},
     {{0, NULL}}},
    {{{0, 0, -1, 1, 0, 0, 0}},
     "temperature per time",
     {{1 / MINUTE, "K/h"}, {END, "K/min"}},
     {{1 / MINUTE, "Fdeg/h"}, {END, "Fdeg/min"}}},
    {{{-1, 0, 0, 1, 0, 0, 0}}, "temperature per length", {{END, "K/m"}}, {{END, "Fdeg/ft"}}},
    {{{2, 0, -2, 0, 0, 0, 0}},
     "energy per mass",
     {{1e3, "J/kg"}, {END, "kJ/kg"}},
     {{END, "Btu/lb"}}},
    {{{2, 1, -2, 0, -1, 0, 0}},
     "energy per amount",
     {{1e3, "J/mol"}, {END, "kJ/mol"}},
     {{0, NULL}}},
    {{{0, 1, 0, 0, -1, 0, 0}}, "molar mass", {{END, "g/mol"}}, {{0, NULL}}},
    {{{0, -1, 0, 0, 1, 0, 0}}, "amount per mass", {{END, "mol/kg"}}, {{0, NULL}}},
    {{{2, 1, -2, -1, -1, 0, 0}},
     "energy per amount and degree",
     {{END, "J/(mol K)"}},
     {{0, NULL}}},
    {{{2, 0, -2, -1, 0, 0, 0}},
     "heat capacity per mass",
     {{1e3, "J/(kg K)"}, {END, "kJ/(kg K)"}},
     {{END, "Btu/(lb degF)"}}},
    {{{1, 1, -3, -1, 0, 0, 0}},
     "thermal conductivity",
     {{END, "W/(m K)"}},
     {{END, "Btu/(h ft degF)"}}},
    {{{0, 1, -3, -1, 0, 0, 0}},
     "heat transfer coefficient",
     {{END, "W/(m2 K)"}},
     {{END, "Btu/(h ft2 degF)"}}},
    {{{0, -1, 3, 1, 0, 0, 0}},
     "thermal resistance times area",
     {{END, "m2 K/W"}},
     {{END, "h ft2 degF/Btu"}}},
    {{{0, 1, -3, 0, 0, 0, 0}},
     "power per area",
     {{1e3, "W/m2"}, {END, "kW/m2"}},
     {{END, "Btu/(h ft2)"}}},
    {{{-1, 1, -3, 0, 0, 0, 0}},
     "power per volume",
     {{1e3, "W/m3"}, {END, "kW/m3"}},
     {{END, "Btu/(h ft3)"}}},
    {{{-1, 0, 0, 0, 0, 0, 0}}, "per length", {{END, "1/m"}}, {{END, "1/ft"}}},
    {{{-2, 0, 0, 0, 0, 0, 0}}, "per area", {{END, "1/m2"}}, {{END, "1/ft2"}}},
    {{{0, 0, 0, -1, 0, 0, 0}}, "per degree", {{END, "1/K"}}, {{END, "1/Fdeg"}}},
    {{{-1, 0, 0, 0, 0, 1, 0}}, "angle per length", {{END, "deg/m"}}, {{END, "deg/ft"}}},
    {{{-1, 0, 0, 0, 0, 0, 1}}, "money per length", {{END, "money/m"}}, {{END, "money/yd"}}},
    {{{-2, 0, 0, 0, 0, 0, 1}}, "money per area", {{END, "money/m2"}}, {{END, "money/ft2"}}},
    {{{-3, 0, 0, 0, 0, 0, 1}}, "money per volume", {{END, "money/L"}}, {{END, "money/gal"}}},
    {{{0, -1, 0, 0, 0, 0, 1}}, "money per mass", {{END, "money/kg"}}, {{END, "money/lb"}}},
    {{{0, 0, -1, 0, 0, 0, 1}}, "money per time", {{END, "money/h"}}, {{0, NULL}}},
};

int rw_dim_same(rw_dim a, rw_dim b)
{
  return memcmp(a.power, b.power, sizeof a.power) == 0;
}

const struct rwi_usage *rwi_find_usage(rw_dim dim)
{
  for (size_t i = 0; i < sizeof usages / sizeof usages[0]; i++)
    if (rw_dim_same(usages[i].dim, dim))
      return &usages[i];
  return NULL;
}

rw_dim rw_dim_of(const char *unit)
{
  static const rw_dim plain = {{0}};
  struct rwi_unit read;
  if (unit == NULL || rwi_unit_parse("rw_dim_of", unit, 0, strlen(unit), &read, NULL) != RW_OK)
    return plain;
  return read.dim;
}

static size_t add(char *text, size_t size, size_t at, const char *more)
{
  int n = snprintf(at < size ? text + at : NULL, at < size ? size - at : 0, "%s", more);
  return at + (size_t)n;
}

/* The names whose power has this sign, joined by spaces. */
static size_t add_side(rw_dim dim, int sign, char *text, size_t size, size_t at)
{
  static const char *const base[RW_DIM_COUNT] = {"m", "kg", "s", "K", "mol", "rad", "money"};
  const char *space = "";
  for (int i = 0; i < RW_DIM_COUNT; i++) {
    int power = sign * dim.power[i];
    if (power <= 0)
      continue;
    char digits[8] = "";
    if (power > 1)
      snprintf(digits, sizeof digits, power > 4 ? "^%d" : "%d", power % 1000);
    at = add(text, size, at, space);
    at = add(text, size, at, base[i]);
    at = add(text, size, at, digits);
    space = " ";
  }
  return at;
}

size_t rwi_si_unit(rw_dim dim, char *buffer, size_t size)
{
  int above = 0, below = 0;
  for (int i = 0; i < RW_DIM_COUNT; i++) {
    above += dim.power[i] > 0;
    below += dim.power[i] < 0;
  }
  size_t at = above > 0 ? add_side(dim, 1, buffer, size, 0) : add(buffer, size, 0, "1");
  if (below > 0)
    at = add(buffer, size, at, below > 1 ? "/(" : "/");
  at = add_side(dim, -1, buffer, size, at);
  return below > 1 ? add(buffer, size, at, ")") : at;
}

size_t rw_dim_name(rw_dim dim, char *buffer, size_t size)
{
  const struct rwi_usage *usage = rwi_find_usage(dim);
  return usage != NULL ? add(buffer, size, 0, usage->name) : rwi_si_unit(dim, buffer, size);
}
