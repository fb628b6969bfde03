/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * @file history.h
 * @brief Third floor: temperature and humidity over time.
 *
 * A history is piecewise linear in temperature: exact at its points, straight between them, with
 * kinks (and, at a repeated time, one step). Times are seconds on any clock; rw_text_clock gives
 * seconds since 1970.
 *
 * Threads: a finished history may be read by many threads.
 */
#ifndef RESINWRIGHT_HISTORY_H
#define RESINWRIGHT_HISTORY_H

#include <resinwright/base.h>

#ifdef __cplusplus
extern "C" {
#endif

/** Temperature, and humidity where known, over time. */
typedef struct rw_history rw_history;

/**
 * Make a history from readings.
 * @param time         n times in s, rising; the same time may stand twice (a step)
 * @param temperature  n temperatures in K, 200 to 500
 * @param humidity     n relative humidities 0 to 1, NaN where not read; or NULL
 * @param n            how many, >= 2
 * @param out          history; free with rw_history_destroy
 * @param err          error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED above 400 K; RW_ERR_ARGUMENT for n < 2 or a value not finite;
 *         RW_ERR_ORDER where a time goes back or stands three times (argument "time[i]", i from
 *         1); RW_ERR_RANGE for a temperature or humidity; RW_ERR_MEMORY
 */
RW_API rw_status rw_history_create(const double *time, const double *temperature,
                                   const double *humidity, size_t n, rw_history **out,
                                   rw_error *err);

/**
 * Read a history from a table file: columns "time" (2026-10-03 15:30), "air [degC]" or
 * "air [degF]", and where known "humidity [%]" (an empty cell: not read); or columns "day",
 * "low [degC]", "high [degC]".
 *
 * A column in degC with a reading above 45, or one in degF with all below 32, is taken for the
 * other scale and refused, unless as_read is given.
 * @param path     file
 * @param as_read  1: take the readings as they stand
 * @param out      history
 * @param err      error record, or NULL, with file, line and column
 * @return as rw_table_read, rw_column_find and rw_history_create; RW_ERR_RANGE for a suspected
 *         scale, a humidity above 100 %
 */
RW_API rw_status rw_history_read(const char *path, int as_read, rw_history **out, rw_error *err);

/** A temperature that swings as a sine. */
typedef struct rw_wave {
  double mean;      /**< K */
  double amplitude; /**< K, half from coldest to warmest, 0 to 100 */
  double period;    /**< s, 60 to 366 days */
  double warmest;   /**< s, a moment at which it is warmest */
} rw_wave;
/**
 * Make a history from a sine, in straight pieces of one length.
 * @param wave       the sine
 * @param from       s
 * @param to         s, > from
 * @param tolerance  K, how far a straight piece may lie from the sine, 1e-9 to 1
 * @param out        history
 * @param err        error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_ERR_RANGE, also where more than a million pieces would be
 *         needed; RW_ERR_MEMORY
 */
RW_API rw_status rw_history_from_wave(const rw_wave *wave, double from, double to,
                                      double tolerance, rw_history **out, rw_error *err);

/** A day's coldest and warmest reading. */
typedef struct rw_day {
  double midnight; /**< s, start of the day */
  double low;      /**< K, coldest */
  double high;     /**< K, warmest */
} rw_day;

/**
 * Make a history from daily lows and highs: coldest at 05:30, warmest at 15:00, half a cosine
 * wave between them in 16 straight pieces (hours: common practice, no source; within 2 h for
 * most shops).
 * @param day  n days, rising
 * @param n    how many, >= 1
 * @param out  history from the first day's 05:30 to the last day's 15:00
 * @param err  error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT; RW_ERR_ORDER; RW_ERR_RANGE where low > high; RW_ERR_MEMORY
 */
RW_API rw_status rw_history_from_days(const rw_day *day, size_t n, rw_history **out,
                                      rw_error *err);

/**
 * The temperature of a body that lags behind the air: dT/dt = (T_air - T)/tau, solved exactly
 * for straight pieces and sampled so that straight lines between the samples stay within
 * tolerance.
 * @param air        air history
 * @param tau        time constant in s, 0 to 1e6; 0 gives a copy
 * @param start      temperature of the body at the first time, K; NaN: as the air
 * @param tolerance  K, > 0; 0.02 is plenty
 * @param out        history of the body, humidity taken over from the air
 * @param err        error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_MEMORY
 */
RW_API rw_status rw_history_lag(const rw_history *air, double tau, double start, double tolerance,
                                rw_history **out, rw_error *err);

/** How to go on after the last reading. */
typedef enum rw_extend {
  RW_HOLD,      /**< keep the last reading */
  RW_REPEAT_DAY /**< repeat the last 24 h (the history must cover 24 h) */
} rw_extend;

/**
 * A history that goes on after its last reading.
 * @param h      history
 * @param until  s, after its end
 * @param how    hold or repeat
 * @param out    longer history
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_RANGE where until is not after the end or more than 400 days after it;
 *         RW_ERR_COVERAGE where 24 h are to be repeated and fewer are there; RW_ERR_MEMORY
 */
RW_API rw_status rw_history_extend(const rw_history *h, double until, rw_extend how,
                                   rw_history **out, rw_error *err);

/**
 * A history shifted in temperature.
 * @param h      history
 * @param delta  K to add
 * @param out    shifted history
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_RANGE where the result leaves 200 to 500 K; RW_ERR_MEMORY
 */
RW_API rw_status rw_history_shift(const rw_history *h, double delta, rw_history **out,
                                  rw_error *err);

/**
 * Temperature at a time (at a step: the later side).
 * @param h            history
 * @param time         s
 * @param temperature  K
 * @param err          error record, or NULL: says from when to when it reaches
 * @return RW_OK; RW_ERR_COVERAGE
 */
RW_API rw_status rw_history_temperature(const rw_history *h, double time, double *temperature,
                                        rw_error *err);
/**
 * Relative humidity at a time, interpolated in vapour terms as straight lines between readings.
 * @param h         history
 * @param time      s
 * @param humidity  0 to 1; NaN where no reading lies on both sides
 * @param err       error record, or NULL
 * @return RW_OK; RW_ERR_COVERAGE
 */
RW_API rw_status rw_history_humidity(const rw_history *h, double time, double *humidity,
                                     rw_error *err);
/**
 * Coldest and warmest between two times.
 * @param h     history
 * @param from  s
 * @param to    s, >= from
 * @param low   K, or NULL
 * @param high  K, or NULL
 * @param err   error record, or NULL
 * @return RW_OK; RW_ERR_COVERAGE; RW_ERR_RANGE where to < from
 */
RW_API rw_status rw_history_extremes(const rw_history *h, double from, double to, double *low,
                                     double *high, rw_error *err);
/**
 * First and last time.
 * @param h     history
 * @param from  s, or NULL
 * @param to    s, or NULL
 */
RW_API void rw_history_span(const rw_history *h, double *from, double *to);
/**
 * The points themselves, for reading.
 * @param h            history
 * @param time         the times, owned by the history; or NULL
 * @param temperature  the temperatures, likewise; or NULL
 * @param humidity     the humidities, likewise; or NULL
 * @return how many
 */
RW_API size_t rw_history_points(const rw_history *h, const double **time,
                                const double **temperature, const double **humidity);
/**
 * Free a history.
 * @param h  history, or NULL
 */
RW_API void rw_history_destroy(rw_history *h);

#ifdef __cplusplus
}
#endif
#endif
