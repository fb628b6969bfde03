/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of unit names. Sizes follow from exact definitions: inch 0.0254 m, pound
 * 0.45359237 kg, US gallon 231 cubic inches, imperial gallon 4.54609 L, standard gravity
 * 9.80665 m/s2, international table Btu 1055.05585262 J (NIST SP 811, Appendix B). */
#include "private.h"

#include <string.h>

#define INCH 0.0254
#define FOOT 0.3048
#define POUND 0.45359237
#define GRAVITY 9.80665
#define POUND_FORCE (POUND * GRAVITY)
#define GALLON 0.003785411784
#define IMPERIAL_GALLON 0.00454609
#define DEGREE 0.017453292519943295
#define MERCURY 13595.1 /* conventional density, kg/m3 */

/* Powers of m, kg, s, K, mol, rad, money. */
#define PLAIN                                                                                     \
  {                                                                                               \
    {                                                                                             \
      0, 0, 0, 0, 0, 0, 0                                                                         \
    }                                                                                             \
  }
#define LENGTH                                                                                    \
  {                                                                                               \
    {                                                                                             \
      1, 0, 0, 0, 0, 0, 0                                                                         \
    }                                                                                             \
  }
#define VOLUME                                                                                    \
  {                                                                                               \
    {                                                                                             \
      3, 0, 0, 0, 0, 0, 0                                                                         \
    }                                                                                             \
  }
#define MASS                                                                                      \
  {                                                                                               \
    {                                                                                             \
      0, 1, 0, 0, 0, 0, 0                                                                         \
    }                                                                                             \
  }
#define AREAL_MASS                                                                                \
  {                                                                                               \
    {                                                                                             \
      -2, 1, 0, 0, 0, 0, 0                                                                        \
    }                                                                                             \
  }
#define TIME                                                                                      \
  {                                                                                               \
    {                                                                                             \
      0, 0, 1, 0, 0, 0, 0                                                                         \
    }                                                                                             \
  }
#define TEMPERATURE                                                                               \
  {                                                                                               \
    {                                                                                             \
      0, 0, 0, 1, 0, 0, 0                                                                         \
    }                                                                                             \
  }
#define AMOUNT                                                                                    \
  {                                                                                               \
    {                                                                                             \
      0, 0, 0, 0, 1, 0, 0                                                                         \
    }                                                                                             \
  }
#define ANGLE                                                                                     \
  {                                                                                               \
    {                                                                                             \
      0, 0, 0, 0, 0, 1, 0                                                                         \
    }                                                                                             \
  }
#define MONEY                                                                                     \
  {                                                                                               \
    {                                                                                             \
      0, 0, 0, 0, 0, 0, 1                                                                         \
    }                                                                                             \
  }
#define PRESSURE                                                                                  \
  {                                                                                               \
    {                                                                                             \
      -1, 1, -2, 0, 0, 0, 0                                                                       \
    }                                                                                             \
  }
#define FORCE                                                                                     \
  {                                                                                               \
    {                                                                                             \
      1, 1, -2, 0, 0, 0, 0                                                                        \
    }                                                                                             \
  }
#define ENERGY                                                                                    \
  {                                                                                               \
    {                                                                                             \
      2, 1, -2, 0, 0, 0, 0                                                                        \
    }                                                                                             \
  }
#define POWER                                                                                     \
  {                                                                                               \
    {                                                                                             \
      2, 1, -3, 0, 0, 0, 0                                                                        \
    }                                                                                             \
  }
#define VISCOSITY                                                                                 \
  {                                                                                               \
    {                                                                                             \
      -1, 1, -1, 0, 0, 0, 0                                                                       \
    }                                                                                             \
  }
#define AREA_RATE                                                                                 \
  {                                                                                               \
    {                                                                                             \
      2, 0, -1, 0, 0, 0, 0                                                                        \
    }                                                                                             \
  }

#define UNIT(name, factor, dim, meaning)                                                          \
  {                                                                                               \
    name, factor, 0, dim, RWI_ANYWHERE, meaning                                                   \
  }
#define SCALE(name, factor, offset, meaning)                                                      \
  {                                                                                               \
    name, factor, offset, TEMPERATURE, RWI_SCALE, meaning                                         \
  }

static const char metre[] = "metre, 1 m";
static const char micrometre[] = "micrometre, 1e-6 m";
static const char inch[] = "inch, 0.0254 m";
static const char foot[] = "foot, 0.3048 m";
static const char yard[] = "yard, 0.9144 m";
static const char mil[] = "thousandth of an inch, 2.54e-5 m";
static const char litre[] = "litre, 0.001 m3";
static const char millilitre[] = "millilitre, 1e-6 m3";
static const char gallon[] = "US gallon, 0.003785411784 m3";
static const char quart[] = "US liquid quart, a quarter of a US gallon, 0.000946352946 m3";
static const char pint[] = "US liquid pint, an eighth of a US gallon, 0.000473176473 m3";
static const char cup[] = "US cup, 0.0002365882365 m3";
static const char kilogram[] = "kilogram, 1 kg";
static const char gram[] = "gram, 0.001 kg";
static const char tonne[] = "tonne, 1000 kg";
static const char pound[] = "pound, 0.45359237 kg";
static const char second[] = "second, 1 s";
static const char minute[] = "minute, 60 s";
static const char hour[] = "hour, 3600 s";
static const char day[] = "day, 86400 s";
static const char week[] = "week, 604800 s";
static const char celsius[] =
    "degree Celsius: alone a reading, t + 273.15 K; in a compound a difference, 1 K";
static const char fahrenheit[] =
    "degree Fahrenheit: alone a reading, (t + 459.67) 5/9 K; in a compound a difference, 5/9 K";
static const char percent[] = "percent, 0.01";

const struct rwi_name rwi_names[] = {
    UNIT("m", 1, LENGTH, metre),
    UNIT("mm", 1e-3, LENGTH, "millimetre, 0.001 m"),
    UNIT("cm", 1e-2, LENGTH, "centimetre, 0.01 m"),
    UNIT("um", 1e-6, LENGTH, micrometre),
    UNIT("km", 1e3, LENGTH, "kilometre, 1000 m"),
    UNIT("in", INCH, LENGTH, inch),
    UNIT("ft", FOOT, LENGTH, foot),
    UNIT("yd", 0.9144, LENGTH, yard),
    UNIT("mil", 2.54e-5, LENGTH, mil),
    UNIT("L", 1e-3, VOLUME, litre),
    UNIT("mL", 1e-6, VOLUME, millilitre),
    UNIT("cL", 1e-5, VOLUME, "centilitre, 1e-5 m3"),
    UNIT("gal", GALLON, VOLUME, gallon),
    UNIT("qt", GALLON / 4, VOLUME, quart),
    UNIT("pt", GALLON / 8, VOLUME, pint),
    UNIT("cup", GALLON / 16, VOLUME, cup),
    UNIT("floz", GALLON / 128, VOLUME, "US fluid ounce, a volume, 2.95735295625e-5 m3"),
    UNIT("tbsp", GALLON / 256, VOLUME, "US tablespoon, 1.478676478125e-5 m3"),
    UNIT("tsp", GALLON / 768, VOLUME, "US teaspoon, 4.92892159375e-6 m3"),
    UNIT("impgal", IMPERIAL_GALLON, VOLUME, "imperial gallon, 0.00454609 m3"),
    UNIT("impfloz", IMPERIAL_GALLON / 160, VOLUME,
         "imperial fluid ounce, a volume, 2.84130625e-5 m3"),
    UNIT("kg", 1, MASS, kilogram),
    UNIT("g", 1e-3, MASS, gram),
    UNIT("mg", 1e-6, MASS, "milligram, 1e-6 kg"),
    UNIT("t", 1e3, MASS, tonne),
    UNIT("lb", POUND, MASS, pound),
    UNIT("ozwt", POUND / 16, MASS, "ounce as a weight, a sixteenth of a pound, 0.028349523125 kg"),
    {"oz", POUND / 16, 0, MASS, RWI_OUNCE,
     "ounce of cloth or mat, only as oz/yd2, oz/ft2 or oz/in2; 0.028349523125 kg"},
    UNIT("shortton", 2000 * POUND, MASS, "short ton, 2000 lb, 907.18474 kg"),
    UNIT("longton", 2240 * POUND, MASS, "long ton, 2240 lb, 1016.0469088 kg"),
    UNIT("gsm", 1e-3, AREAL_MASS, "gram per square metre, 0.001 kg/m2"),
    UNIT("s", 1, TIME, second),
    UNIT("min", 60, TIME, minute),
    UNIT("h", 3600, TIME, hour),
    UNIT("d", 86400, TIME, day),
    UNIT("week", 604800, TIME, week),
    UNIT("K", 1, TEMPERATURE, "kelvin, 1 K; a difference, or counted from absolute zero"),
    SCALE("degC", 1, 273.15, celsius),
    SCALE("degF", 5.0 / 9, 459.67 * 5 / 9, fahrenheit),
    UNIT("Cdeg", 1, TEMPERATURE, "difference of one degree Celsius, 1 K"),
    UNIT("Fdeg", 5.0 / 9, TEMPERATURE, "difference of one degree Fahrenheit, 5/9 K"),
    UNIT("Pa", 1, PRESSURE, "pascal, 1 Pa"),
    UNIT("mPa", 1e-3, PRESSURE, "millipascal, 0.001 Pa"),
    UNIT("hPa", 1e2, PRESSURE, "hectopascal, 100 Pa"),
    UNIT("kPa", 1e3, PRESSURE, "kilopascal, 1000 Pa"),
    UNIT("MPa", 1e6, PRESSURE, "megapascal, 1e6 Pa"),
    UNIT("GPa", 1e9, PRESSURE, "gigapascal, 1e9 Pa"),
    UNIT("bar", 1e5, PRESSURE, "bar, 1e5 Pa"),
    UNIT("mbar", 1e2, PRESSURE, "millibar, 100 Pa"),
    UNIT("psi", POUND_FORCE / (INCH * INCH), PRESSURE,
         "pound-force per square inch, about 6894.757 Pa"),
    UNIT("ksi", 1e3 * POUND_FORCE / (INCH * INCH), PRESSURE,
         "1000 pounds-force per square inch, about 6.894757e6 Pa"),
    UNIT("psf", POUND_FORCE / (FOOT * FOOT), PRESSURE,
         "pound-force per square foot, about 47.88026 Pa"),
    UNIT("atm", 101325, PRESSURE, "standard atmosphere, 101325 Pa"),
    UNIT("torr", 101325.0 / 760, PRESSURE, "torr, 101325/760 Pa"),
    UNIT("inHg", MERCURY *GRAVITY *INCH, PRESSURE,
         "inch of mercury (conventional), about 3386.389 Pa"),
    UNIT("N", 1, FORCE, "newton, 1 N"),
    UNIT("mN", 1e-3, FORCE, "millinewton, 0.001 N"),
    UNIT("kN", 1e3, FORCE, "kilonewton, 1000 N"),
    UNIT("dyn", 1e-5, FORCE, "dyne, 1e-5 N"),
    UNIT("lbf", POUND_FORCE, FORCE, "pound-force, about 4.448222 N"),
    UNIT("J", 1, ENERGY, "joule, 1 J"),
    UNIT("kJ", 1e3, ENERGY, "kilojoule, 1000 J"),
    UNIT("MJ", 1e6, ENERGY, "megajoule, 1e6 J"),
    UNIT("cal", 4.184, ENERGY, "thermochemical calorie, 4.184 J"),
    UNIT("kcal", 4184, ENERGY, "thermochemical kilocalorie, 4184 J"),
    UNIT("calIT", 4.1868, ENERGY, "international table calorie, 4.1868 J"),
    UNIT("Btu", 1055.05585262, ENERGY, "British thermal unit (IT), 1055.05585262 J"),
    UNIT("W", 1, POWER, "watt, 1 W"),
    UNIT("kW", 1e3, POWER, "kilowatt, 1000 W"),
    UNIT("P", 0.1, VISCOSITY, "poise, 0.1 Pa s"),
    UNIT("cP", 1e-3, VISCOSITY, "centipoise, 0.001 Pa s"),
    UNIT("cSt", 1e-6, AREA_RATE, "centistokes, 1e-6 m2/s"),
    UNIT("mol", 1, AMOUNT, "mole, 1 mol"),
    UNIT("rad", 1, ANGLE, "radian, 1 rad"),
    UNIT("deg", DEGREE, ANGLE, "degree of angle, pi/180 rad"),
    UNIT("money", 1, MONEY, "one of the reader's own currency"),
    UNIT("%", 1e-2, PLAIN, percent),
    UNIT("ppm", 1e-6, PLAIN, "part per million, 1e-6"),
    UNIT("1", 1, PLAIN, "plain number, 1"),

    /* other spellings */
    UNIT("metre", 1, LENGTH, metre),
    UNIT("metres", 1, LENGTH, metre),
    UNIT("meter", 1, LENGTH, metre),
    UNIT("meters", 1, LENGTH, metre),
    UNIT("\xC2\xB5m", 1e-6, LENGTH, micrometre),
    UNIT("\xCE\xBCm", 1e-6, LENGTH, micrometre),
    UNIT("micron", 1e-6, LENGTH, micrometre),
    UNIT("microns", 1e-6, LENGTH, micrometre),
    UNIT("inch", INCH, LENGTH, inch),
    UNIT("inches", INCH, LENGTH, inch),
    UNIT("foot", FOOT, LENGTH, foot),
    UNIT("feet", FOOT, LENGTH, foot),
    UNIT("yard", 0.9144, LENGTH, yard),
    UNIT("yards", 0.9144, LENGTH, yard),
    UNIT("mils", 2.54e-5, LENGTH, mil),
    UNIT("thou", 2.54e-5, LENGTH, mil),
    UNIT("l", 1e-3, VOLUME, litre),
    UNIT("litre", 1e-3, VOLUME, litre),
    UNIT("litres", 1e-3, VOLUME, litre),
    UNIT("liter", 1e-3, VOLUME, litre),
    UNIT("liters", 1e-3, VOLUME, litre),
    UNIT("ml", 1e-6, VOLUME, millilitre),
    UNIT("gallon", GALLON, VOLUME, gallon),
    UNIT("gallons", GALLON, VOLUME, gallon),
    UNIT("quart", GALLON / 4, VOLUME, quart),
    UNIT("quarts", GALLON / 4, VOLUME, quart),
    UNIT("pint", GALLON / 8, VOLUME, pint),
    UNIT("pints", GALLON / 8, VOLUME, pint),
    UNIT("cups", GALLON / 16, VOLUME, cup),
    UNIT("kilogram", 1, MASS, kilogram),
    UNIT("kilograms", 1, MASS, kilogram),
    UNIT("gram", 1e-3, MASS, gram),
    UNIT("grams", 1e-3, MASS, gram),
    UNIT("tonne", 1e3, MASS, tonne),
    UNIT("tonnes", 1e3, MASS, tonne),
    UNIT("lbs", POUND, MASS, pound),
    UNIT("pound", POUND, MASS, pound),
    UNIT("pounds", POUND, MASS, pound),
    UNIT("sec", 1, TIME, second),
    UNIT("secs", 1, TIME, second),
    UNIT("second", 1, TIME, second),
    UNIT("seconds", 1, TIME, second),
    UNIT("mins", 60, TIME, minute),
    UNIT("minute", 60, TIME, minute),
    UNIT("minutes", 60, TIME, minute),
    UNIT("hr", 3600, TIME, hour),
    UNIT("hrs", 3600, TIME, hour),
    UNIT("hour", 3600, TIME, hour),
    UNIT("hours", 3600, TIME, hour),
    UNIT("day", 86400, TIME, day),
    UNIT("days", 86400, TIME, day),
    UNIT("weeks", 604800, TIME, week),
    SCALE("\xC2\xB0"
          "C",
          1, 273.15, celsius),
    SCALE("\xC2\xB0"
          "F",
          5.0 / 9, 459.67 * 5 / 9, fahrenheit),
    UNIT("percent", 1e-2, PLAIN, percent),
};

const size_t rwi_names_count = sizeof rwi_names / sizeof rwi_names[0];

const struct rwi_name *rwi_find_name(const char *name, size_t n)
{
  for (size_t i = 0; i < rwi_names_count; i++)
    if (strlen(rwi_names[i].name) == n && memcmp(rwi_names[i].name, name, n) == 0)
      return &rwi_names[i];
  return NULL;
}

int rw_unit_at(size_t index, const char **name, const char **meaning)
{
  if (index >= rwi_names_count)
    return 0;
  if (name != NULL)
    *name = rwi_names[index].name;
  if (meaning != NULL)
    *meaning = rwi_names[index].meaning;
  return 1;
}
