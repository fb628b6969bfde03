/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * @file base.h
 * @brief Ground floor: status list, error record, uncertain value, version, export macro.
 *
 * Threads: everything here is reentrant; no function keeps state between calls.
 */
#ifndef RESINWRIGHT_BASE_H
#define RESINWRIGHT_BASE_H

#include <stddef.h>

#if defined(__GNUC__)
/** Marks what the shared library shows to the outside. */
#define RW_API __attribute__((visibility("default")))
/** Lets the compiler check a printf-like call: format is argument f, values start at a. */
#define RW_PRINTF(f, a) __attribute__((format(printf, f, a)))
#else
#define RW_API
#define RW_PRINTF(f, a)
#endif

#ifdef __cplusplus
extern "C" {
#endif

/** Version of the headers: major. */
#define RW_VERSION_MAJOR 0
/** Version of the headers: minor. */
#define RW_VERSION_MINOR 1
/** Version of the headers: patch. */
#define RW_VERSION_PATCH 0

/**
 * The one list of outcomes: X(name, number, text).
 *
 * Negative: an error, outputs untouched. Zero: fine. Positive: computed, with something to know.
 * The enum, the texts, the manual and the Lua module are all expanded from it.
 */
#define RW_STATUS_LIST(X)                                                                         \
  X(RW_OK, 0, "fine")                                                                             \
  X(RW_OUTSIDE_TESTED, 1, "computed, but outside the range the model was tested in")              \
  X(RW_NOT_REACHED, 2, "the state asked for is not reached in the time looked at")                \
  X(RW_NO_SOLUTION, 3, "no choice meets every condition; the nearest one is given")               \
  X(RW_ERR_ARGUMENT, -1, "an argument is missing or not usable")                                  \
  X(RW_ERR_RANGE, -2, "a value is outside what is allowed")                                       \
  X(RW_ERR_MEMORY, -3, "not enough memory")                                                       \
  X(RW_ERR_SYNTAX, -4, "a text cannot be read")                                                   \
  X(RW_ERR_UNIT, -5, "a unit is missing, unknown or of the wrong kind")                           \
  X(RW_ERR_NAME, -6, "a name is not known")                                                       \
  X(RW_ERR_FILE, -7, "a file cannot be read or written")                                          \
  X(RW_ERR_ORDER, -8, "values that must rise do not")                                             \
  X(RW_ERR_COVERAGE, -9, "the data does not reach as far as was asked")                           \
  X(RW_ERR_NUMERIC, -10, "the computation did not come to a result")                              \
  X(RW_ERR_STOPPED, -11, "stopped when asked to")

/** Outcome of a call, see @ref RW_STATUS_LIST. */
typedef enum rw_status {
/** @cond expansion */
#define RW_X(name, number, text) name = (number),
  RW_STATUS_LIST(RW_X)
#undef RW_X
  /** @endcond */
} rw_status;

/**
 * What went wrong, in words and in fields. Owned by the caller, fixed size, never allocated.
 *
 * `value`, `low` and `high` are NaN, `line` and `column` 0, where they do not apply.
 */
typedef struct rw_error {
  rw_status code;    /**< the status the call returned */
  char function[40]; /**< public name of the function that refused */
  char argument[64]; /**< argument, field or file it is about */
  double value;      /**< the value found, SI */
  double low;        /**< least value allowed, SI */
  double high;       /**< greatest value allowed, SI */
  long line;         /**< line in a file or text, from 1 */
  long column;       /**< column in that line, from 1 */
  char message[320]; /**< one sentence: what, where, what was found, what is allowed */
  char hint[256];    /**< one sentence: what to try; may be empty */
} rw_error;

/**
 * A number that is not known exactly: best value and standard deviation, both in the same SI unit.
 */
typedef struct rw_value {
  double value; /**< best value */
  double sd;    /**< standard deviation, >= 0 */
} rw_value;

/**
 * Text of a status.
 * @param status  any status
 * @return a constant sentence without full stop; "unknown status" for a number not in the list
 */
RW_API const char *rw_status_text(rw_status status);

/**
 * Name of a status.
 * @param status  any status
 * @return the constant's name, such as "RW_ERR_RANGE"; "?" for a number not in the list
 */
RW_API const char *rw_status_name(rw_status status);

/**
 * Version of the library that is linked.
 * @return "major.minor.patch"
 */
RW_API const char *rw_version(void);

/**
 * Fill an error record; does nothing but return the code where there is no record.
 * @param err       record to fill, or NULL
 * @param code      status to record
 * @param function  public name of the function that refuses
 * @param argument  name of the argument or field, or NULL
 * @param hint      what to try, or NULL
 * @param format    printf format of the message (numbers through it follow the C locale only
 *                  where they are integers or text; use rw_error_range for reals)
 * @return code
 */
RW_API rw_status rw_error_set(rw_error *err, rw_status code, const char *function,
                              const char *argument, const char *hint, const char *format, ...)
    RW_PRINTF(6, 7);

/**
 * Fill an error record for a number outside its bounds: RW_ERR_RANGE.
 * @param err       record to fill, or NULL
 * @param function  public name of the function that refuses
 * @param argument  name of the argument or field
 * @param value     the value found, SI
 * @param low       least allowed, SI; -HUGE_VAL for none
 * @param high      greatest allowed, SI; HUGE_VAL for none
 * @param unit      SI unit as text, such as "m" or "kg/m2"; "" for a plain number; temperatures
 *                  in K are said in degC, their differences, given in "K apart", in K
 * @param hint      what to try, or NULL
 * @return RW_ERR_RANGE
 */
RW_API rw_status rw_error_range(rw_error *err, const char *function, const char *argument,
                                double value, double low, double high, const char *unit,
                                const char *hint);

/**
 * Add a place in a text to a filled error record.
 * @param err     record, or NULL
 * @param line    line from 1, 0 for none
 * @param column  column from 1, 0 for none
 */
RW_API void rw_error_place(rw_error *err, long line, long column);

/**
 * The known word nearest to a misspelt one.
 * @param word   what was written
 * @param known  n known words
 * @param n      how many
 * @return index of the word at the least edit distance (at most a third of the longer word's
 *         letters, at least 1); -1 where none is that near. Letter case is not counted.
 */
RW_API int rw_nearest_name(const char *word, const char *const *known, size_t n);

/**
 * The graver of two statuses: an error before a remark, a remark before RW_OK; of two errors the
 * first.
 * @param a  status
 * @param b  status
 * @return one of the two
 */
RW_API rw_status rw_status_graver(rw_status a, rw_status b);

/**
 * Told how far long work has come.
 * @param done     pieces of work done, 0 to total
 * @param total    pieces of work
 * @param context  the caller's own
 * @return 0 to go on, anything else to stop
 */
typedef int rw_progress(size_t done, size_t total, void *context);

#ifdef __cplusplus
}
#endif
#endif
