/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Unit names, quantities, dimensions. main() takes over the locale of the environment; see
 * tests/unit/text.c. */
#include "check.h"

#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static rw_quantity quantity(const char *text)
{
  rw_quantity q = {NAN, {{0}}, 9};
  rw_error err;
  assert_ok(rw_quantity_read(text, strlen(text), &q, &err), &err);
  return q;
}

static double factor_of(const char *unit, double *offset, rw_dim *dim)
{
  double factor = NAN;
  rw_error err;
  assert_ok(rw_unit_read(unit, strlen(unit), &factor, offset, dim, &err), &err);
  return factor;
}

static void reads_units(void **state)
{
  static const struct {
    const char *text;
    double factor;
    const char *si;
  } rows[] = {{"g/m2", 1e-3, "kg/m2"},
              {" g / m2 ", 1e-3, "kg/m2"},
              {"g/m\xC2\xB2", 1e-3, "kg/m2"},
              {"g*m^-2", 1e-3, "kg/m2"},
              {"g m-2", 1e-3, "kg/m2"},
              {"gsm", 1e-3, "kg/m2"},
              {"kJ/mol", 1e3, "kg m2/(s2 mol)"},
              {"J/(kg K)", 1, "m2/(s2 K)"},
              {"J/kg/degC", 1, "m2/(s2 K)"},
              {"W/(m2 \xC2\xB0"
               "C)",
               1, "kg/(s3 K)"},
              {"W/m2/K", 1, "kg/(s3 K)"},
              {"lb/ft^3", 0.45359237 / (0.3048 * 0.3048 * 0.3048), "kg/m3"},
              {"%", 0.01, "1"},
              {"1", 1, "1"},
              {"1/min", 1.0 / 60, "1/s"},
              {"N\xC2\xB7m", 1, "kg m2/s2"},
              {"mPa s", 1e-3, "kg/(m s)"},
              {"m2/(m (s/kg))", 1, "m kg/s"},
              {"oz/yd2", 0.028349523125 / (0.9144 * 0.9144), "kg/m2"},
              {"oz/yd/yd", 0.028349523125 / (0.9144 * 0.9144), "kg/m2"},
              {"oz/feet2", 0.028349523125 / (0.3048 * 0.3048), "kg/m2"},
              {"\xC2\xB5m", 1e-6, "m"},
              {"money/m", 1, "money/m"},
              {"in^4", 0.0254 * 0.0254 * 0.0254 * 0.0254, "m4"}};
  (void)state;
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    double offset = NAN;
    rw_dim dim;
    assert_close_rel(factor_of(rows[i].text, &offset, &dim), rows[i].factor, 1e-15);
    assert_true(offset == 0);
    assert_true(rw_dim_same(dim, rw_dim_of(rows[i].si)));
  }
}

static void reads_temperature_scales(void **state)
{
  double offset = NAN;
  rw_dim dim;
  (void)state;
  assert_close(factor_of("degC", &offset, &dim), 1, 0);
  assert_close(offset, 273.15, 0);
  assert_close(factor_of("\xC2\xB0"
                         "F",
                         &offset, &dim),
               5.0 / 9, 1e-16);
  assert_close(offset, 459.67 * 5 / 9, 1e-12);
  factor_of("1/degF", &offset, &dim);
  assert_close(offset, 0, 0);
  factor_of("Fdeg", &offset, &dim);
  assert_close(offset, 0, 0);
}

static void refuses_units(void **state)
{
  static const struct {
    const char *text;
    const char *word;
    const char *hint;
    long column;
  } rows[] = {{"", "missing", "g/m2", 1},
              {"  ", "missing", "g/m2", 1},
              {"oz", "which ounce", "oz/yd2, chopped mat oz/ft2, a weight ozwt, a volume floz", 1},
              {"oz/m2", "which ounce", "oz/yd2", 1},
              {"oz/gal", "which ounce", "ozwt", 1},
              {"oz/yd", "which ounce", "ozwt", 1},
              {"oz yd2", "which ounce", "ozwt", 1},
              {"money/oz", "which ounce", "ozwt", 1},
              {"oz2/yd2", "which ounce", "ozwt", 1},
              {"ounces", "\"ounces\"", "ozwt", 1},
              {"fl oz", "\"fl\"", "floz", 1},
              {"C", "\"C\"", "degC", 1},
              {"kg/K F", "below the line", "J/(kg K)", 6},
              {"J/kg K", "below the line", "J/(kg K)", 6},
              {"m/s*kg", "below the line", "brackets", 4},
              {"KG", "\"KG\"", "\"kg\"", 1},
              {"mpa", "\"mpa\"", "\"mPa\" or \"MPa\"", 1},
              {"gallns", "\"gallns\"", "gallons", 1},
              {"g/zz", "\"zz\"", "join", 3},
              {"ton", "\"ton\"", "shortton", 1},
              {"g/", "missing", "g/m2", 3},
              {"/m", "missing", "g/m2", 1},
              {"g//m", "missing", "g/m2", 3},
              {"(g", "not closed", ")", 1},
              {"g)", "never opened", "open", 2},
              {"(g/m)2", "behind a bracket", "each name", 6},
              {"m2m", "behind a name", "join", 3},
              {"m0", "power", "m^3", 2},
              {"m^", "power", "m^3", 2},
              {"m^10", "power", "m^3", 2},
              {"ft6", "power", "5 ft 6 in", 3},
              {"km^9 m", "too high", "-9 to 9", 1},
              {"m^9 m", "too high", "-9 to 9", 5},
              {"10/s", "a number stands", "1/s", 1},
              {"1s", "behind a name", "join", 2},
              {"((((( m)))))", "too deeply", "fewer", 5},
              {"GPa^4/mPa^4*", "below the line", "brackets", 12}};
  (void)state;
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    double factor = 77, offset = 77;
    rw_dim dim = {{7}};
    rw_error err;
    assert_status(rw_unit_read(rows[i].text, strlen(rows[i].text), &factor, &offset, &dim, &err),
                  RW_ERR_UNIT, &err);
    assert_true(factor == 77 && offset == 77 && dim.power[0] == 7);
    check_explained(&err, rows[i].word);
    if (strstr(err.hint, rows[i].hint) == NULL)
      fail_msg("%s: hint \"%s\" lacks \"%s\"", rows[i].text, err.hint, rows[i].hint);
    if (err.column != rows[i].column)
      fail_msg("%s: column %ld", rows[i].text, err.column);
  }
}

static void a_byte_beyond_the_length_is_not_read(void **state)
{
  double factor = NAN, offset;
  rw_dim dim;
  (void)state;
  assert_int_equal(rw_unit_read("mmX", 2, &factor, &offset, &dim, NULL), RW_OK);
  assert_true(factor == 1e-3);
  assert_int_equal(rw_unit_read("m\0m", 3, &factor, &offset, &dim, NULL), RW_ERR_UNIT);
}

static void reads_quantities(void **state)
{
  static const struct {
    const char *text;
    double si;
    const char *unit;
    int point;
  } rows[] = {{"203 g/m2", 0.203, "kg/m2", 0},
              {"203g/m2", 0.203, "kg/m2", 0},
              {"  70 %  ", 0.7, "1", 0},
              {"70%", 0.7, "1", 0},
              {"4 h 30 min", 16200, "s", 0},
              {"4h 30min", 16200, "s", 0},
              {"4:30 h", 16200, "s", 0},
              {"4:30 hours", 16200, "s", 0},
              {"4h30", 16200, "s", 0},
              {"4h30min", 16200, "s", 0},
              {"-0:30 h", -1800, "s", 0},
              {"3 d 4 h", 273600, "s", 0},
              {"1 d 2 h 3 min 4.5 s", 93784.5, "s", 0},
              {"2.5 hours", 9000, "s", 0},
              {"5 ft 6 3/8 in", 66.375 * 0.0254, "m", 0},
              {"-5 ft 6 in", -66 * 0.0254, "m", 0},
              {"1 3/4 in", 1.75 * 0.0254, "m", 0},
              {"1-3/4 in", 1.75 * 0.0254, "m", 0},
              {"3/16 in", 0.1875 * 0.0254, "m", 0},
              {"7/4in", 1.75 * 0.0254, "m", 0},
              {"5 m 20 cm", 5.2, "m", 0},
              {"-5 degC", 268.15, "K", 1},
              {"\xE2\x88\x92"
               "5 degC",
               268.15, "K", 1},
              {"21\xC2\xB0"
               "C",
               294.15, "K", 1},
              {"59 degF", 288.15, "K", 1},
              {"-40 degF", 233.15, "K", 1},
              {"9 Fdeg", 5, "K", 0},
              {"5 K", 5, "K", 0},
              {"45 deg", 0.78539816339744831, "rad", 0},
              {"5 1/s", 5, "1/s", 0},
              {"5 1 / s", 5, "1/s", 0},
              {"1e3 1/min", 1000.0 / 60, "1/s", 0},
              {"6 oz/yd2", 6 * 0.028349523125 / (0.9144 * 0.9144), "kg/m2", 0},
              {"12 W/(m2 K)", 12, "kg/(s3 K)", 0},
              {"+2 lb 6 ozwt", 2.375 * 0.45359237, "kg", 0}};
  (void)state;
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    rw_quantity q = quantity(rows[i].text);
    check_close_rel(q.si, rows[i].si, 1e-14, rows[i].text, __FILE__, __LINE__);
    assert_true(rw_dim_same(q.dim, rw_dim_of(rows[i].unit)));
    assert_int_equal(q.point, rows[i].point);
  }
}

static void refuses_quantities(void **state)
{
  static const struct {
    const char *text;
    rw_status status;
    const char *word;
    const char *hint;
    long column;
  } rows[] = {{"", RW_ERR_SYNTAX, "number", "203 g/m2", 1},
              {"g/m2", RW_ERR_SYNTAX, "number", "203 g/m2", 1},
              {"-", RW_ERR_SYNTAX, "number", "203 g/m2", 2},
              {"- 5 m", RW_ERR_SYNTAX, "number", "203 g/m2", 2},
              {"--5 m", RW_ERR_SYNTAX, "number", "203 g/m2", 2},
              {".5 in", RW_ERR_SYNTAX, "number", "0.5 in", 1},
              {"5. in", RW_ERR_SYNTAX, "decimal mark", "point", 2},
              {"1.2.3 m", RW_ERR_SYNTAX, "decimal mark", "point", 4},
              {"0.5", RW_ERR_UNIT, "unit is missing", "plain number", 4},
              {"0.5 1", RW_ERR_UNIT, "without a unit", "every number", 5},
              {"5 ft 6", RW_ERR_UNIT, "unit is missing", "unit", 7},
              {"5 8 in", RW_ERR_UNIT, "without a unit", "every number", 3},
              {"20,5 degC", RW_ERR_SYNTAX, "comma", "\"20.5 degC\"", 3},
              {"1,000 g", RW_ERR_SYNTAX, "comma", "\"1.000 g\" or \"1000 g\"", 2},
              {"5 ft 6,5 in", RW_ERR_SYNTAX, "comma", "\"5 ft 6.5 in\"", 7},
              {"6 oz", RW_ERR_UNIT, "which ounce", "oz/yd2", 3},
              {"6 oz 2 g", RW_ERR_UNIT, "which ounce", "oz/yd2", 3},
              {"12 ounces", RW_ERR_UNIT, "ounces", "ozwt", 4},
              {"21 C", RW_ERR_UNIT, "\"C\"", "degC", 4},
              {"5'", RW_ERR_UNIT, "'", "5 ft 6 in", 2},
              {"5-8 h", RW_ERR_SYNTAX, "range", "one value", 2},
              {"1 5/4 in", RW_ERR_SYNTAX, "one or more", "1 3/4", 3},
              {"1.5 3/4 in", RW_ERR_SYNTAX, "follows a decimal", "1 3/4", 5},
              {"1/0 in", RW_ERR_SYNTAX, "divides by 0", "3/16", 3},
              {"1/1234567890123456 in", RW_ERR_SYNTAX, "digits", "decimal", 1},
              {"30 min 4 h", RW_ERR_SYNTAX, "not smaller", "larger unit first", 8},
              {"5 in 3 in", RW_ERR_SYNTAX, "not smaller", "larger unit first", 6},
              {"5 ft - 2 in", RW_ERR_UNIT, "missing", "g/m2", 6},
              {"5 ft 3 kg", RW_ERR_UNIT, "length and mass", "one quantity", 6},
              {"21 degC 3 degC", RW_ERR_UNIT, "scale", "21 degC", 9},
              {"21 K 3 degF", RW_ERR_UNIT, "scale", "21 degC", 6},
              {"4:30", RW_ERR_UNIT, "missing", "4:30 h", 5},
              {"4:3 h", RW_ERR_SYNTAX, "hours and minutes", "4:30 h", 2},
              {"4:30:20 h", RW_ERR_UNIT, "missing", "g/m2", 5},
              {"4:30 min", RW_ERR_SYNTAX, "hours and minutes", "4:30 h", 6},
              {"4:70 h", RW_ERR_SYNTAX, "59 minutes", "00 to 59", 3},
              {"4h3", RW_ERR_SYNTAX, "hours and minutes", "4h30", 2},
              {"4h30 s", RW_ERR_SYNTAX, "hours and minutes", "4h30", 5},
              {"12345678:30 h", RW_ERR_SYNTAX, "too many hours", "days", 1},
              {"5ft6in", RW_ERR_UNIT, "power", "5 ft 6 in", 4},
              {"1e400 m", RW_ERR_RANGE, "too large", "exponent", 1},
              {"1e308 km", RW_ERR_RANGE, "too large", "exponent", 1},
              {"nan m", RW_ERR_SYNTAX, "number", "203 g/m2", 1}};
  (void)state;
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    rw_quantity q = {77, {{7}}, 7};
    rw_error err;
    check_status(rw_quantity_read(rows[i].text, strlen(rows[i].text), &q, &err), rows[i].status,
                 &err, rows[i].text, __FILE__, __LINE__);
    assert_true(q.si == 77 && q.dim.power[0] == 7 && q.point == 7);
    check_explained(&err, rows[i].word);
    assert_string_equal(err.function, "rw_quantity_read");
    if (strstr(err.hint, rows[i].hint) == NULL)
      fail_msg("%s: hint \"%s\" lacks \"%s\"", rows[i].text, err.hint, rows[i].hint);
    if (err.column != rows[i].column)
      fail_msg("%s: column %ld", rows[i].text, err.column);
  }
}

static void a_text_is_read_as_its_number_and_unit(void **state)
{
  static const char *const units[] = {"mm", "%", "degC", "degF", "g/m2", "min", "1/h", "oz/yd2"};
  (void)state;
  for (size_t i = 0; i < sizeof units / sizeof units[0]; i++) {
    char text[32];
    rw_quantity made;
    rw_error err;
    snprintf(text, sizeof text, "70 %s", units[i]);
    rw_quantity read = quantity(text);
    assert_ok(rw_quantity_of(70, units[i], &made, &err), &err);
    assert_true(made.si == read.si && made.point == read.point);
    assert_true(rw_dim_same(made.dim, read.dim));
  }
  rw_quantity q = {77, {{7}}, 7};
  rw_error err;
  assert_status(rw_quantity_of(6, "oz", &q, &err), RW_ERR_UNIT, &err);
  assert_status(rw_quantity_of(6, NULL, &q, &err), RW_ERR_ARGUMENT, &err);
  assert_true(q.si == 77);
}

/* Decimal parts of an SI unit are rounded once only. */
static void decimal_parts_are_exact(void **state)
{
  (void)state;
  assert_true(quantity("70 %").si == 0.7);
  assert_true(quantity("0.3 mm").si == 0.0003);
  assert_true(quantity("203 g/m2").si == 0.203);
  for (int i = 1; i < 1000; i++) {
    char text[16];
    double back = NAN;
    snprintf(text, sizeof text, "%d mm", i);
    rw_quantity q = quantity(text);
    assert_int_equal(rw_quantity_in(&q, "mm", &back, NULL), RW_OK);
    assert_true(back == i);
  }
}

static double in(const char *text, const char *unit)
{
  rw_quantity q = quantity(text);
  rw_error err;
  double value = NAN;
  assert_ok(rw_quantity_in(&q, unit, &value, &err), &err);
  return value;
}

static void converts(void **state)
{
  (void)state;
  assert_close_rel(in("6 oz/yd2", "g/m2"), 203.4344848, 1e-9);
  assert_close(in("21 degC", "degF"), 69.8, 1e-12);
  assert_close(in("21 degC", "K"), 294.15, 0);
  assert_close(in("9 Fdeg", "Cdeg"), 5, 1e-15);
  assert_close(in("9 Fdeg", "K"), 5, 1e-15);
  assert_close(in("4:30 h", "min"), 270, 0);
  assert_close_rel(in("25 kJ/(mol K)", "J/(mol K)"), 25000, 1e-15);
  assert_close(in("70 %", "1"), 0.7, 0);
}

static void refuses_conversions(void **state)
{
  static const struct {
    const char *text;
    const char *unit;
    const char *word;
  } rows[] = {{"5 ft", "kg", "\"length\""},       {"5 ft", "kg", "\"mass\""},
              {"5 K", "degC", "difference"},      {"9 Fdeg", "degF", "difference"},
              {"21 degC", "Cdeg", "difference"},  {"21 degC", "Fdeg", "difference"},
              {"5 ft", "oz", "which ounce"},      {"5 ft", "", "missing"},
              {"203 g/m2", "g", "mass per area"}, {"5 m^7/s", "m", "m^7/s"}};
  (void)state;
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    rw_quantity q = quantity(rows[i].text);
    double value = 77;
    rw_error err;
    assert_status(rw_quantity_in(&q, rows[i].unit, &value, &err), RW_ERR_UNIT, &err);
    assert_true(value == 77);
    check_explained(&err, rows[i].word);
    assert_true(err.hint[0] != '\0');
    assert_string_equal(err.function, "rw_quantity_in");
  }
  double value;
  rw_error err;
  assert_status(rw_quantity_in(NULL, "m", &value, &err), RW_ERR_ARGUMENT, &err);
}

static void writes_for_a_reader(void **state)
{
  static const struct {
    const char *text;
    int digits;
    const char *metric;
    const char *us;
  } rows[] = {{"0.203 kg/m2", 3, "203 g/m2", "5.99 oz/yd2"},
              {"0.9999 kg/m2", 3, "1 kg/m2", "0.205 lb/ft2"},
              {"1.2 kg/m2", 3, "1.2 kg/m2", "0.246 lb/ft2"},
              {"0.65 kg/m2", 3, "650 g/m2", "19.2 oz/yd2"},
              {"0 g", 3, "0 kg", "0 lb"},
              {"4.5 h", 3, "4 h 30 min", "4 h 30 min"},
              {"2e303 d", 3, "2e303 d", "2e303 d"},
              {"86400.591476981 s", 6, "24 h 0.01 min", "24 h 0.01 min"},
              {"1500 s", 3, "25 min", "25 min"},
              {"76 h", 3, "3 d 4 h", "3 d 4 h"},
              {"59.97 min", 3, "1 h", "1 h"},
              {"59.6 s", 2, "1 min", "1 min"},
              {"47.99 h", 3, "2 d", "2 d"},
              {"0.0125 s", 3, "0.0125 s", "0.0125 s"},
              {"-4:30 h", 3, "-4 h 30 min", "-4 h 30 min"},
              {"1234 min", 3, "20 h 30 min", "20 h 30 min"},
              {"1234 min", 2, "21 h", "21 h"},
              {"4000 d", 3, "4000 d", "4000 d"},
              {"254.5 min", 4, "4 h 14.5 min", "4 h 14.5 min"},
              {"0 s", 3, "0 s", "0 s"},
              {"21 degC", 3, "21 degC", "69.8 degF"},
              {"5 K", 3, "5 K", "9 Fdeg"},
              {"5.2 m", 3, "5.2 m", "17.1 ft"},
              {"520 mm", 3, "520 mm", "1.71 ft"},
              {"6 mm", 3, "6 mm", "0.236 in"},
              {"30 um", 3, "30 um", "1.18 mil"},
              {"5.49 m2", 3, "5.49 m2", "59.1 ft2"},
              {"2.5 gal", 3, "9.46 L", "2.5 gal"},
              {"100 mL", 3, "100 mL", "3.38 floz"},
              {"412 g", 3, "412 g", "14.5 ozwt"},
              {"8.2 kg", 3, "8.2 kg", "18.1 lb"},
              {"1.1 g/cm3", 3, "1.1 g/cm3", "68.7 lb/ft3"},
              {"1.2 kg/m3", 3, "1.2 kg/m3", "0.0749 lb/ft3"},
              {"72 GPa", 3, "72 GPa", "10400 ksi"},
              {"60 MPa", 3, "60 MPa", "8700 psi"},
              {"900 cP", 3, "900 mPa s", "900 cP"},
              {"45 deg", 3, "45 deg", "45 deg"},
              {"70 %", 3, "0.7", "0.7"},
              {"6.1 money/m", 3, "6.1 money/m", "5.58 money/yd"},
              {"58 kJ/mol", 3, "58 kJ/mol", "58 kJ/mol"},
              {"0.045 m2/min", 3, "0.045 m2/min", "0.484 ft2/min"},
              {"3 kg^2 m/(s K)", 3, "3 m kg2/(s K)", "3 m kg2/(s K)"}};
  (void)state;
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    rw_quantity q = quantity(rows[i].text);
    char text[64];
    size_t n = rw_quantity_write(&q, RW_METRIC, rows[i].digits, text, sizeof text);
    assert_string_equal(text, rows[i].metric);
    assert_int_equal(n, strlen(text));
    rw_quantity_write(&q, RW_US, rows[i].digits, text, sizeof text);
    assert_string_equal(text, rows[i].us);
  }
}

static void writes_into_small_and_odd_places(void **state)
{
  rw_quantity q = quantity("203 g/m2");
  char text[8];
  (void)state;
  assert_int_equal(rw_quantity_write(&q, RW_METRIC, 3, NULL, 0), 8);
  assert_int_equal(rw_quantity_write(&q, RW_METRIC, 3, text, 4), 8);
  assert_string_equal(text, "203");
  assert_int_equal(rw_quantity_unit(&q, RW_US, text, 3), 6);
  assert_string_equal(text, "oz");
  char long_text[64];
  q.si = NAN;
  rw_quantity_write(&q, RW_METRIC, 3, long_text, sizeof long_text);
  assert_string_equal(long_text, "nan kg/m2");
  q = quantity("5 h");
  q.si = INFINITY;
  rw_quantity_write(&q, RW_METRIC, 3, long_text, sizeof long_text);
  assert_string_equal(long_text, "inf d");
  q = quantity("70 %");
  rw_quantity_unit(&q, RW_METRIC, long_text, sizeof long_text);
  assert_string_equal(long_text, "1");
}

static void names_dimensions(void **state)
{
  static const struct {
    const char *unit;
    const char *name;
  } rows[] = {{"m", "length"},       {"kg/m2", "mass per area"},
              {"K", "temperature"},  {"1", "plain number"},
              {"", "plain number"},  {"kg^2", "kg2"},
              {"m^7/s", "m^7/s"},    {"1/(m s K)", "1/(m s K)"},
              {"m/rad^2", "m/rad2"}, {"not one", "plain number"}};
  char text[64];
  (void)state;
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
    size_t n = rw_dim_name(rw_dim_of(rows[i].unit), text, sizeof text);
    assert_string_equal(text, rows[i].name);
    assert_int_equal(n, strlen(text));
  }
  assert_int_equal(rw_dim_name(rw_dim_of("kg/m2"), text, 5), 13);
  assert_string_equal(text, "mass");
  rw_dim steep = {{9, -9, 9, -9, 9, -9, 9}};
  assert_true(rw_dim_name(steep, text, sizeof text) < sizeof text);
  assert_true(rw_dim_same(rw_dim_of(text), steep));
  assert_false(rw_dim_same(rw_dim_of("m"), rw_dim_of("m2")));
}

static void every_name_is_usable(void **state)
{
  const char *name, *meaning;
  size_t n = 0;
  (void)state;
  for (; rw_unit_at(n, &name, &meaning); n++) {
    double factor = NAN, offset = NAN;
    rw_dim dim;
    rw_error err;
    assert_true(strlen(meaning) > 5);
    if (strcmp(name, "oz") == 0)
      continue;
    assert_ok(rw_unit_read(name, strlen(name), &factor, &offset, &dim, &err), &err);
    assert_true(factor > 0);
    for (size_t other = 0; other < n; other++) {
      const char *earlier;
      rw_unit_at(other, &earlier, NULL);
      assert_string_not_equal(name, earlier);
    }
  }
  assert_in_range(n, 75, 160);
}

static void asks_for_its_arguments(void **state)
{
  double x = 77;
  rw_dim dim;
  rw_quantity q;
  rw_error err;
  (void)state;
  assert_status(rw_unit_read(NULL, 0, &x, &x, &dim, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_unit_read("m", 1, &x, NULL, &dim, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_quantity_read(NULL, 0, &q, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_quantity_read("5 m", 3, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_true(x == 77);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(reads_units),
      cmocka_unit_test(reads_temperature_scales),
      cmocka_unit_test(refuses_units),
      cmocka_unit_test(a_byte_beyond_the_length_is_not_read),
      cmocka_unit_test(reads_quantities),
      cmocka_unit_test(refuses_quantities),
      cmocka_unit_test(a_text_is_read_as_its_number_and_unit),
      cmocka_unit_test(decimal_parts_are_exact),
      cmocka_unit_test(converts),
      cmocka_unit_test(refuses_conversions),
      cmocka_unit_test(writes_for_a_reader),
      cmocka_unit_test(writes_into_small_and_odd_places),
      cmocka_unit_test(names_dimensions),
      cmocka_unit_test(every_name_is_usable),
      cmocka_unit_test(asks_for_its_arguments),
  };
  if (strcmp(setlocale(LC_ALL, NULL), "C") == 0) /* else it was set before main() */
    setlocale(LC_ALL, "");
  return cmocka_run_group_tests_name("units", tests, NULL, NULL);
}
