/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the C tests: cmocka, a double assertion that stays in double, and published values.
 *
 * Published values live in reference-data/checks:
 *   points_ROOM.csv  id,what,expected,unit,tolerance,mode,reason,source,standing
 *                    mode: rel or abs; source: an id of reference-data/SOURCES.csv
 *   table_NAME.csv   '#' lines "# source: ID", "# standing: ...", "# tolerance: ...",
 *                    "# reason: ...", "# units: ...", then plain columns
 */
#ifndef RW_TEST_CHECK_H
#define RW_TEST_CHECK_H

/* cmocka wants these four first. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <resinwright.h>

/* |actual - expected| <= tolerance, in double; NaN never passes. */
#define assert_close(actual, expected, tolerance)                                                 \
  check_close((actual), (expected), (tolerance), #actual, __FILE__, __LINE__)
/* |actual/expected - 1| <= tolerance. */
#define assert_close_rel(actual, expected, tolerance)                                             \
  check_close_rel((actual), (expected), (tolerance), #actual, __FILE__, __LINE__)
/* A status, with the error's message shown where it differs. */
#define assert_status(call, wanted, err)                                                          \
  check_status((call), (wanted), (err), #call, __FILE__, __LINE__)
#define assert_ok(call, err) assert_status((call), RW_OK, (err))

void check_close(double actual, double expected, double tolerance, const char *what,
                 const char *file, int line);
void check_close_rel(double actual, double expected, double tolerance, const char *what,
                     const char *file, int line);
void check_status(rw_status got, rw_status wanted, const rw_error *err, const char *what,
                  const char *file, int line);

/* Compare with row `id` of points_ROOM.csv at its own tolerance; notes both for the validation
 * table. Fails where there is no such row. */
void check_point(const char *room, const char *id, double actual);
/* Fails where a row of points_ROOM.csv was never compared in this program. */
void check_all_points_used(const char *room);
/* The number in a table_NAME.csv cell; fails the test where it is not there. */
rw_table *check_table(const char *name);
double check_cell(const rw_table *t, size_t row, const char *column);
const char *check_text(const rw_table *t, size_t row, const char *column);

/* The error has a message that names `word`, and a hint. */
void check_explained(const rw_error *err, const char *word);

#endif
