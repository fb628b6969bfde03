/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * @file units.h
 * @brief Second floor: dimensions, unit names, reading and writing quantities.
 *
 * Threads: reentrant; the table is constant.
 */
#ifndef RESINWRIGHT_UNITS_H
#define RESINWRIGHT_UNITS_H

#include <resinwright/base.h>
#include <resinwright/text.h>

#ifdef __cplusplus
extern "C" {
#endif

/** Base dimensions, in the order of rw_dim.power. */
enum {
  RW_DIM_LENGTH,
  RW_DIM_MASS,
  RW_DIM_TIME,
  RW_DIM_TEMPERATURE,
  RW_DIM_AMOUNT,
  RW_DIM_ANGLE,
  RW_DIM_MONEY,
  RW_DIM_COUNT
};

/** A dimension: powers of m, kg, s, K, mol, rad and the reader's own money. */
typedef struct rw_dim {
  signed char power[RW_DIM_COUNT]; /**< exponents, -9 to 9 */
} rw_dim;

/** A number with its dimension. */
typedef struct rw_quantity {
  double si;  /**< value in SI units */
  rw_dim dim; /**< dimension */
  int point;  /**< 1 for a reading on a temperature scale (21 degC), 0 for all else (5 K) */
} rw_quantity;

/**
 * Read a unit: names joined by '*', space, '/' and powers: "g/m2", "oz/yd2", "kJ/mol",
 * "J/(kg K)", "W/m2/K", "lb/ft^3", "m-3", "%", "1". Raised 2 and 3, the raised dot and the signs
 * for micro and degree (um, degC) are read as they stand in data sheets.
 *
 * A bare "oz" is refused (cloth is oz/yd2, mat oz/ft2, a weight ozwt, a volume floz), and so is
 * "J/kg K", which does not say whether K stands above or below the line. Names count letter case,
 * but a wrong case that has one reading is offered in the hint. A temperature scale inside a
 * compound, as in "W/(m2 degC)", is a difference.
 * @param text    the unit
 * @param n       its length
 * @param factor  multiply by it, then add offset, to get SI
 * @param offset  0 but for degC and degF standing alone
 * @param dim     dimension
 * @param err     error record, or NULL; column is set
 * @return RW_OK; RW_ERR_UNIT with the nearest known name
 */
RW_API rw_status rw_unit_read(const char *text, size_t n, double *factor, double *offset,
                              rw_dim *dim, rw_error *err);

/**
 * Read a quantity: number and unit ("203 g/m2"), sums of parts ("4 h 30 min", "5 ft 6 3/8 in"),
 * mixed fractions ("1 3/4 in", "3/16 in"), clock spans ("4:30 h", "4h30"). A bare number is
 * refused. Decimal mark '.'; a decimal comma is refused with the way to write it. Parts of a sum
 * go from the larger unit to the smaller; a sign stands in front and counts for all of them.
 * @param text  the text
 * @param n     its length
 * @param out   result
 * @param err   error record, or NULL; column is set
 * @return RW_OK; RW_ERR_SYNTAX; RW_ERR_UNIT; RW_ERR_RANGE where it is too large for a double
 */
RW_API rw_status rw_quantity_read(const char *text, size_t n, rw_quantity *out, rw_error *err);

/**
 * A quantity from a number and a unit: 21 and "degC", 0.5 and "1". Same bits as rw_quantity_read
 * gives for the two written as a text.
 * @param value  number
 * @param unit   unit text
 * @param out    result
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_UNIT
 */
RW_API rw_status rw_quantity_of(double value, const char *unit, rw_quantity *out, rw_error *err);

/**
 * A quantity's number in a given unit.
 * @param q      quantity
 * @param unit   unit text
 * @param value  result
 * @param err    error record, or NULL: names both dimensions
 * @return RW_OK; RW_ERR_UNIT where unknown, of another dimension, or where a difference is asked
 *         in a scale (degC, degF) or a scale reading in a difference unit other than K
 */
RW_API rw_status rw_quantity_in(const rw_quantity *q, const char *unit, double *value,
                                rw_error *err);

/** Which units a reader wants to see. */
typedef enum rw_unit_system {
  RW_METRIC, /**< metres, grams, degrees Celsius */
  RW_US      /**< feet, inches, pounds, ounces, degrees Fahrenheit */
} rw_unit_system;

/**
 * Write a quantity for a reader, in the unit usual for its dimension and size: 0.203 kg/m2 is
 * "203 g/m2" or "5.99 oz/yd2"; times come as "4 h 30 min". A plain number comes without a unit, a
 * dimension without usual units in SI.
 * @param q        quantity
 * @param system   metric or US
 * @param digits   significant digits, 1 to 17
 * @param buffer   result
 * @param size     its size, 64 is enough
 * @return length needed without the closing NUL (as snprintf)
 */
RW_API size_t rw_quantity_write(const rw_quantity *q, rw_unit_system system, int digits,
                                char *buffer, size_t size);

/**
 * The unit rw_quantity_write would use where nothing is rounded; the larger of the two for a time
 * in two parts, "1" for a plain number.
 * @param q       quantity (its size and dimension count)
 * @param system  metric or US
 * @param buffer  unit text that rw_unit_read accepts
 * @param size    its size, 48 is enough
 * @return length needed without the closing NUL (as snprintf)
 */
RW_API size_t rw_quantity_unit(const rw_quantity *q, rw_unit_system system, char *buffer,
                               size_t size);

/**
 * Name of a dimension: "length", "mass per area", "temperature", or its SI unit where it has no
 * name here.
 * @param dim     dimension
 * @param buffer  result
 * @param size    its size, 64 is enough
 * @return length needed without the closing NUL (as snprintf)
 */
RW_API size_t rw_dim_name(rw_dim dim, char *buffer, size_t size);

/**
 * Dimension of an SI unit text, for code that declares what it takes.
 * @param unit  such as "kg/m2"; "" is a plain number
 * @return its dimension (all zero for an unknown text)
 */
RW_API rw_dim rw_dim_of(const char *unit);

/**
 * Whether two dimensions are the same.
 * @param a  one
 * @param b  other
 * @return 1 or 0
 */
RW_API int rw_dim_same(rw_dim a, rw_dim b);

/** A table column whose header names its unit in square brackets: "girth [mm]". */
typedef struct rw_column {
  size_t index;  /**< column from 0 */
  double factor; /**< to SI: multiply, */
  double offset; /**< then add */
  char unit[32]; /**< the unit as written */
} rw_column;
/**
 * Find a column by name and read its unit.
 * @param t       table
 * @param name    name before the bracket, such as "girth"; letter case is not counted
 * @param unit    SI unit text of the dimension it must have; "" for a plain number
 * @param column  result
 * @param err     error record, or NULL
 * @return RW_OK; RW_ERR_NAME where there is no such column (message lists those there are);
 *         RW_ERR_UNIT where the header has no unit, an unknown one or one of another dimension
 */
RW_API rw_status rw_column_find(const rw_table *t, const char *name, const char *unit,
                                rw_column *column, rw_error *err);
/**
 * A cell of such a column in SI.
 * @param t       table
 * @param row     from 0
 * @param column  from rw_column_find
 * @param value   SI
 * @param err     error record, or NULL: file, line, column, the text found
 * @return RW_OK; as rw_table_number
 */
RW_API rw_status rw_column_number(const rw_table *t, size_t row, const rw_column *column,
                                  double *value, rw_error *err);

/**
 * Walk the table of unit names.
 * @param index    from 0
 * @param name     name
 * @param meaning  one line: what it is, and its size in SI
 * @return 1, or 0 beyond the last
 */
RW_API int rw_unit_at(size_t index, const char **name, const char **meaning);

#ifdef __cplusplus
}
#endif
#endif
