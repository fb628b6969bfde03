/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * @file num.h
 * @brief First floor: general numerics. The only room that names GSL.
 *
 * Nothing here lets a GSL error reach GSL's abort handler: arguments are checked first, and only
 * those GSL calls are used that work on memory owned here.
 *
 * Threads: reentrant; an rw_spline may be read by many threads, an rw_draws by one.
 */
#ifndef RESINWRIGHT_NUM_H
#define RESINWRIGHT_NUM_H

#include <resinwright/base.h>

#ifdef __cplusplus
extern "C" {
#endif

/** A real function of one number; context is passed through. */
typedef double rw_num_function(double x, void *context);

/**
 * Root of a function in a bracket (Brent's method, GSL's gsl_root_fsolver_brent).
 * @param f        function, finite on [low, high]
 * @param context  passed to f
 * @param low      lower end
 * @param high     upper end, > low
 * @param xtol     wanted absolute tolerance in x, > 0
 * @param x        result
 * @param err      error record, or NULL
 * @return RW_OK; RW_ERR_RANGE where high <= low or xtol <= 0; RW_ERR_NUMERIC where f has the same
 *         sign at both ends or is not finite
 */
RW_API rw_status rw_num_root(rw_num_function *f, void *context, double low, double high,
                             double xtol, double *x, rw_error *err);

/**
 * Solve a small dense system A x = b by LU with partial pivoting (GSL).
 * @param n    order, 1 to 16
 * @param a    n*n matrix by rows, not changed
 * @param b    n right-hand sides
 * @param x    n results
 * @param err  error record, or NULL
 * @return RW_OK; RW_ERR_RANGE for n; RW_ERR_NUMERIC where A is singular to working precision
 */
RW_API rw_status rw_num_solve(size_t n, const double *a, const double *b, double *x,
                              rw_error *err);

/**
 * Inverse of a small dense matrix by LU with partial pivoting (GSL).
 * @param n        order, 1 to 16
 * @param a        n*n matrix by rows, not changed
 * @param inverse  n*n result by rows
 * @param err      error record, or NULL
 * @return as rw_num_solve
 */
RW_API rw_status rw_num_inverse(size_t n, const double *a, double *inverse, rw_error *err);

/** A cubic spline through points. */
typedef struct rw_spline rw_spline;

/** What a spline does at its two ends. */
typedef enum rw_spline_end {
  RW_SPLINE_NATURAL,   /**< second derivative zero */
  RW_SPLINE_NOT_A_KNOT /**< third derivative continuous at the second and last but one point */
} rw_spline_end;

/**
 * Make a cubic spline.
 * @param x    n abscissae, strictly rising
 * @param y    n ordinates
 * @param n    how many, >= 2 (two: a line; three with not-a-knot: a parabola)
 * @param end  end condition
 * @param out  the spline; free with rw_spline_destroy
 * @param err  error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT for n < 2 or a value not finite; RW_ERR_ORDER; RW_ERR_MEMORY
 */
RW_API rw_status rw_spline_create(const double *x, const double *y, size_t n, rw_spline_end end,
                                  rw_spline **out, rw_error *err);
/**
 * Value of a spline and, where wanted, its slope; beyond the ends the end cubic goes on.
 * @param s      spline
 * @param x      where
 * @param slope  first derivative, or NULL
 * @return value
 */
RW_API double rw_spline_value(const rw_spline *s, double x, double *slope);
/**
 * Integral of a spline.
 * @param s  spline
 * @param a  from
 * @param b  to (may be below a)
 * @return the exact integral of the cubics
 */
RW_API double rw_spline_integral(const rw_spline *s, double a, double b);
/**
 * Free a spline.
 * @param s  spline, or NULL
 */
RW_API void rw_spline_destroy(rw_spline *s);

/** Evenly spread points in many dimensions (Sobol, GSL), turned into standard normal draws. */
typedef struct rw_draws rw_draws;
/**
 * Start a stream of quasi-random standard normal vectors; the same seed gives the same bits.
 * @param dimension  numbers in each vector, 1 to 40
 * @param seed       shifts the whole point set (random shift modulo 1)
 * @param out        stream; free with rw_draws_destroy
 * @param err        error record, or NULL
 * @return RW_OK; RW_ERR_RANGE for dimension; RW_ERR_MEMORY
 */
RW_API rw_status rw_draws_create(unsigned dimension, unsigned long seed, rw_draws **out,
                                 rw_error *err);
/**
 * Next vector.
 * @param d  stream
 * @param z  dimension results, each standard normal
 */
RW_API void rw_draws_next(rw_draws *d, double *z);
/**
 * Free a stream.
 * @param d  stream, or NULL
 */
RW_API void rw_draws_destroy(rw_draws *d);

/**
 * Quantile of the standard normal distribution.
 * @param p  probability, 0 < p < 1
 * @return z with P(Z <= z) = p
 */
RW_API double rw_num_normal_quantile(double p);
/**
 * Distribution function of the standard normal.
 * @param z  any number
 * @return P(Z <= z)
 */
RW_API double rw_num_normal_cdf(double z);
/**
 * Sort numbers, smallest first.
 * @param x  n numbers, sorted in place; NaN must not occur, infinities may
 * @param n  how many
 */
RW_API void rw_num_sort(double *x, size_t n);
/**
 * Quantile of sorted numbers by linear interpolation at (n-1) p; infinities are kept as such.
 * @param sorted  n sorted numbers, n >= 1
 * @param n       how many
 * @param p       0 to 1
 * @return the quantile
 */
RW_API double rw_num_quantile(const double *sorted, size_t n, double p);

#ifdef __cplusplus
}
#endif
#endif
