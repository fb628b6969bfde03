/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * @file text.h
 * @brief First floor: numbers, clock times and delimited tables, the same in every locale.
 *
 * Threads: reentrant; an rw_table may be read by many threads.
 */
#ifndef RESINWRIGHT_TEXT_H
#define RESINWRIGHT_TEXT_H

#include <resinwright/base.h>

#ifdef __cplusplus
extern "C" {
#endif

/**
 * Read a decimal number from the start of a text: [+-] digits [. digits] [e [+-] digits].
 * No hexadecimal, no "inf" or "nan", no thousands marks; rounding is correct in every locale.
 * @param text   characters, need not end in NUL
 * @param n      how many may be read
 * @param point  '.' or ',' as the decimal mark
 * @param value  result
 * @param used   characters read, or NULL to require that all n are used
 * @param err    error record, or NULL; column is set
 * @return RW_OK; RW_ERR_SYNTAX where no number stands there (or more follows it and used is
 *         NULL); RW_ERR_RANGE where it is too large for a double
 */
RW_API rw_status rw_text_number(const char *text, size_t n, char point, double *value,
                                size_t *used, rw_error *err);

/**
 * Write a number so that it reads back to the same bits, in as few digits as do that.
 * @param value   finite, or infinite ("inf", "-inf") or NaN ("nan")
 * @param buffer  at least 32 characters
 * @return length written, without the closing NUL
 */
RW_API size_t rw_text_write(double value, char buffer[32]);

/**
 * Write a number rounded to a count of significant digits, without exponent where its size
 * allows (1e-5 to 1e9), trailing zeros of the fraction dropped.
 * @param value   any
 * @param digits  1 to 17
 * @param buffer  at least 40 characters
 * @return length written, without the closing NUL
 */
RW_API size_t rw_text_round(double value, int digits, char buffer[40]);

/**
 * Read a clock time: "2026-10-03 15:30", "2026-10-03T15:30:20", "2026-10-03", optionally
 * followed by "Z" or an offset such as "+02:00".
 * @param text        the text
 * @param n           its length
 * @param seconds     seconds since 1970-01-01 00:00 on the clock named (an offset is subtracted)
 * @param has_offset  1 where an offset or Z was given, else 0; or NULL
 * @param err         error record, or NULL; column is set
 * @return RW_OK; RW_ERR_SYNTAX for any other form, RW_ERR_RANGE for 30 February, 25:00 and such
 */
RW_API rw_status rw_text_clock(const char *text, size_t n, double *seconds, int *has_offset,
                               rw_error *err);
/**
 * Write a clock time to the minute: "2026-10-03 15:30".
 * @param seconds  seconds since 1970-01-01 00:00, years 0001 to 9999; rounded to the minute
 * @param buffer   at least 20 characters; "?" where out of range
 * @return length written
 */
RW_API size_t rw_text_clock_write(double seconds, char buffer[20]);

/** Room for a text shown in a message, the closing NUL counted. */
#define RW_EXCERPT 48

/**
 * Make a text of unknown length fit for a message: its first part, cut between characters and
 * followed by "..." where it is too long, control characters turned into spaces.
 * @param text    characters (UTF-8), need not end in NUL
 * @param n       how many
 * @param buffer  result
 * @return length written, without the closing NUL
 */
RW_API size_t rw_text_excerpt(const char *text, size_t n, char buffer[RW_EXCERPT]);

/**
 * The column a byte of a one-line text stands in; bytes that continue a UTF-8 character are not
 * counted.
 * @param text    characters (UTF-8), at least offset of them
 * @param offset  bytes before the one asked for
 * @return column from 1
 */
RW_API long rw_text_column(const char *text, size_t offset);

/** A delimited table, every cell with its line and column. */
typedef struct rw_table rw_table;

/**
 * Read a delimited table from memory.
 *
 * Accepted: a byte order mark, LF or CRLF or CR line ends, empty lines, lines whose first mark is
 * '#', cells in double quotes (a doubled quote stands for one; line ends inside are kept). The
 * separator is found from the header line, outside quotes: ';' where there is one, else tab, else
 * ','. With ';' and tab a comma in a number is a decimal mark. The first row that is not a comment
 * is the header. A double quote inside a cell that does not begin with one is kept as it is.
 * @param bytes  the text, UTF-8
 * @param n      its length, at most 64 MiB
 * @param name   file name for messages, or NULL
 * @param out    table; free with rw_table_destroy
 * @param err    error record, or NULL; argument is the name, line and column are set
 * @return RW_OK; RW_ERR_SYNTAX for an empty text, a NUL byte, an open quote, a header with an
 *         empty or repeated name, a row with more or fewer cells than the header (said with its
 *         line); RW_ERR_RANGE where too large; RW_ERR_MEMORY
 */
RW_API rw_status rw_table_parse(const char *bytes, size_t n, const char *name, rw_table **out,
                                rw_error *err);
/**
 * Read a delimited table from a file; see rw_table_parse.
 * @param path  file name
 * @param out   table; free with rw_table_destroy
 * @param err   error record, or NULL
 * @return as rw_table_parse; RW_ERR_FILE where it is missing, a directory or not readable
 */
RW_API rw_status rw_table_read(const char *path, rw_table **out, rw_error *err);
/**
 * Free a table.
 * @param t  table, or NULL
 */
RW_API void rw_table_destroy(rw_table *t);
/**
 * Rows below the header.
 * @param t  table
 * @return count
 */
RW_API size_t rw_table_rows(const rw_table *t);
/**
 * Columns.
 * @param t  table
 * @return count
 */
RW_API size_t rw_table_columns(const rw_table *t);
/**
 * Name of a column, spaces around it taken off.
 * @param t       table
 * @param column  from 0
 * @return text owned by the table; NULL beyond the last
 */
RW_API const char *rw_table_header(const rw_table *t, size_t column);
/**
 * Find a column by name; letter case is not counted.
 * @param t       table
 * @param header  name
 * @param column  result, from 0
 * @param err     error record, or NULL; the message lists the columns that are there
 * @return RW_OK; RW_ERR_NAME
 */
RW_API rw_status rw_table_find(const rw_table *t, const char *header, size_t *column,
                               rw_error *err);
/**
 * Text of a cell, spaces around it taken off (inside quotes they stay).
 * @param t       table
 * @param row     from 0
 * @param column  from 0
 * @param line    line in the file from 1, or NULL
 * @param place   column in that line from 1, or NULL
 * @return text owned by the table; NULL beyond the table
 */
RW_API const char *rw_table_cell(const rw_table *t, size_t row, size_t column, long *line,
                                 long *place);
/**
 * Number in a cell.
 * @param t       table
 * @param row     from 0
 * @param column  from 0
 * @param value   result
 * @param err     error record, or NULL: file, line, column, the text found
 * @return RW_OK; RW_ERR_ARGUMENT beyond the table; RW_ERR_SYNTAX for an empty cell or a text
 */
RW_API rw_status rw_table_number(const rw_table *t, size_t row, size_t column, double *value,
                                 rw_error *err);
/**
 * Write one cell so that it reads back: quoted where it holds the separator (or one that would win
 * over it in a header), a quote or a line end, where it begins with '#' or spaces stand around it.
 * An empty text is written as nothing, so a row of one empty cell would read as an empty line.
 * @param text       cell text
 * @param separator  ',' ';' or tab
 * @param buffer     result
 * @param size       its size
 * @return length needed without the closing NUL (as snprintf)
 */
RW_API size_t rw_table_quote(const char *text, char separator, char *buffer, size_t size);

/**
 * Read a whole file into memory.
 * @param path   file name
 * @param limit  most bytes accepted
 * @param bytes  contents with a NUL added; free with free()
 * @param n      length without that NUL
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_FILE for a missing file, a directory, one that cannot be read;
 *         RW_ERR_RANGE where larger than limit; RW_ERR_MEMORY
 */
RW_API rw_status rw_text_slurp(const char *path, size_t limit, char **bytes, size_t *n,
                               rw_error *err);

#ifdef __cplusplus
}
#endif
#endif
