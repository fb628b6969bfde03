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

/** Points of rw_num_gauss5. */
#define RW_NUM_GAUSS5 5
/**
 * Points and weights of the 5-point rule of Gauss and Legendre on [0, 1], which is exact for
 * polynomials of degree 9: the integral of f over [a, b] is (b - a) times the sum of
 * weight_i f(a + (b - a) place_i).
 * @param i       0 to 4
 * @param weight  of the point; they add up to 1
 * @return place of the point, rising with i
 */
RW_API double rw_num_gauss5(int i, double *weight);

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
/**
 * Condition number of a symmetric matrix: greatest over least absolute eigenvalue.
 * @param n  order, 1 to 64
 * @param a  n*n values by rows; the lower half is read
 * @return 1 or more; HUGE_VAL where it is singular; NaN for another order or a value that is not
 *         finite
 */
RW_API double rw_num_condition(size_t n, const double *a);

/**
 * Factor of a symmetric positive definite matrix of any order, by Cholesky.
 * @param n      order
 * @param a      n*n matrix by rows, of which the lower half is read and overwritten by the factor
 * @param least  a pivot must be above it, 0 or more
 * @return the smallest pivot; 0 where one is not above `least`, or not finite: there is no factor
 */
RW_API double rw_num_cholesky(size_t n, double *a, double least);
/**
 * Solve with a factor.
 * @param n       order
 * @param factor  from rw_num_cholesky
 * @param b       n right-hand sides, which become the results
 */
RW_API void rw_num_cholesky_solve(size_t n, const double *factor, double *b);
/**
 * Inverse from a factor.
 * @param n        order
 * @param factor   from rw_num_cholesky
 * @param inverse  n*n result by rows
 */
RW_API void rw_num_cholesky_inverse(size_t n, const double *factor, double *inverse);
/**
 * Quadratic form v'a v.
 * @param n  order
 * @param a  n*n matrix by rows, all of it
 * @param v  n numbers
 * @return the sum of v_i a_ij v_j
 */
RW_API double rw_num_quadratic(size_t n, const double *a, const double *v);

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
 * Quantile of Student's t distribution.
 * @param p        probability, 1e-6 to 1 - 1e-6
 * @param freedom  degrees of freedom, >= 1
 * @return t with P(T <= t) = p; NaN for anything else
 */
RW_API double rw_num_student_quantile(double p, size_t freedom);
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
/**
 * The unknown that a result goes with most closely, by the greatest squared correlation.
 * @param n      draws
 * @param x      n rows of `k` unknowns
 * @param k      how many
 * @param y      n results; those that are not finite are left out
 * @return index from 0; -1 where the result is all the same
 */
RW_API int rw_num_closest(size_t n, const double *x, size_t k, const double *y);

/** Most parameters of a least-squares fit. */
#define RW_NUM_PARAMETERS 16

/**
 * What a least-squares fit makes small.
 * @param x        p parameters
 * @param r        n residuals, model less measured, not weighted
 * @param J        n*p derivatives by rows, J[i*p + j] = dr[i]/dx[j]; NULL: not wanted
 * @param context  the caller's own
 * @return 0; anything else where there is no value at x, whereupon a shorter step is tried
 */
typedef int rw_num_residuals(const double *x, double *r, double *J, void *context);

/** A least-squares problem. */
typedef struct rw_least_squares {
  rw_num_residuals *f;  /**< residuals and their derivatives */
  void *context;        /**< passed to f */
  size_t n;             /**< residuals, 1 to 1e6, at least as many as free parameters */
  size_t p;             /**< parameters, 1 to RW_NUM_PARAMETERS */
  const double *weight; /**< n weights >= 0, as 1/variance up to a factor; NULL: all 1. A point
                             of weight 0 does not count */
  const int *held;      /**< p flags, 1: stays at its start; NULL: all are free */
  double tolerance;     /**< 1e-13 to 1e-2, see rw_num_least_squares; 0: 1e-10 */
  int rounds;           /**< most steps, 1 to 100000; 0: 1000 */
  double *reached;      /**< p parameters, NULL or where the search stood when it gave up: not a
                             result, but worth a look; untouched after success */
} rw_least_squares;

/** A fit. Arrays are by rows of p numbers; held parameters have zeros. */
typedef struct rw_least_squares_fit {
  size_t p;                     /**< parameters */
  double x[RW_NUM_PARAMETERS];  /**< their values */
  double sd[RW_NUM_PARAMETERS]; /**< roots of the covariance's diagonal */
  /** (J'WJ)^-1 */
  double unscaled[RW_NUM_PARAMETERS * RW_NUM_PARAMETERS];
  /** residual variance times `unscaled`; NaN without degrees of freedom */
  double covariance[RW_NUM_PARAMETERS * RW_NUM_PARAMETERS];
  /** `unscaled` with a diagonal of 1 */
  double correlation[RW_NUM_PARAMETERS * RW_NUM_PARAMETERS];
  double rss;         /**< weighted sum of squares */
  size_t freedom;     /**< points of weight above 0, less free parameters */
  double residual_sd; /**< sqrt(rss/freedom); NaN without degrees of freedom */
  double condition;   /**< of the weighted J with columns scaled to length 1; above 1e6 hardly
                           determined */
  double offset;      /**< what is left of the slope, see rw_num_least_squares */
  int rounds;         /**< steps taken */
} rw_least_squares_fit;

/**
 * Nonlinear least squares: the least weighted sum of squares near a start, by Levenberg-Marquardt
 * steps in a trust region with geodesic acceleration. Scaling a parameter changes nothing. (90)
 *
 * It counts as found only where J has full rank to working precision and one of these holds: the
 * part of the residual along J's columns, per parameter, is `tolerance` times the part across
 * them, per degree of freedom (a full step would then move no parameter by more than about
 * `tolerance` of its standard deviation); or a full step would move no parameter by `tolerance`
 * of itself; or the residuals are no larger than rounding in the model makes them. Where rounding
 * or noise in the model keeps the last digits moving, 1000 times `tolerance` is taken.
 * Flat far regions, where a sum of squares also stops falling, meet none of them.
 *
 * A least value near the start need not be the least of all: try several starts.
 * @param problem  the problem
 * @param start    p parameters
 * @param out      fit
 * @param err      error record, or NULL; after RW_ERR_NUMERIC its value is the sum of squares
 *                 reached, and its argument names the parameter that is not determined, if one is
 * @return RW_OK; RW_ERR_ARGUMENT; RW_ERR_RANGE; RW_ERR_MEMORY; RW_ERR_NUMERIC where nothing was
 *         found
 */
RW_API rw_status rw_num_least_squares(const rw_least_squares *problem, const double *start,
                                      rw_least_squares_fit *out, rw_error *err);

/** How a residual u, in standard deviations, counts. */
typedef enum rw_num_loss {
  RW_LOSS_SQUARES, /**< u^2/2: least squares */
  RW_LOSS_HUBER,   /**< u^2/2 up to the tuning constant, beyond it a straight line; weight
                        min(1, c/|u|); usual c 1.345 */
  RW_LOSS_BISQUARE /**< Tukey: weight (1 - (u/c)^2)^2 up to c, beyond it 0; usual c 4.685 */
} rw_num_loss;
/** Where the standard deviation of a residual comes from. */
typedef enum rw_num_scale {
  RW_SCALE_MEDIAN,   /**< median of |r| over 0.6745, anew each round */
  RW_SCALE_PROPOSAL, /**< Huber's second proposal, sum of min(u^2, c^2) s^2 = (n - p) s^2 E with E
                          the expectation of min(u^2, c^2) of a normal u; c = 1.345 whatever the
                          loss */
  RW_SCALE_LEVERAGE, /**< residuals are first divided by sqrt(1 - h), h the leverage at the
                          least-squares fit; then the median of |r| without the p - 1 smallest,
                          over 0.6745 */
  RW_SCALE_FIXED     /**< as given */
} rw_num_scale;
/** A fit that gross errors hardly move. */
typedef struct rw_robust {
  rw_num_loss loss;   /**< loss */
  rw_num_scale scale; /**< scale */
  double tuning;      /**< c, 0.1 to 100; 0: the usual one */
  double sd;          /**< of a residual of weight 1, for RW_SCALE_FIXED, > 0 */
} rw_robust;
/**
 * Robust nonlinear regression by iteratively reweighted least squares, from the least-squares fit
 * on; a bisquare fit goes on from the Huber fit, as it may have several ends. (91)
 *
 * Given weights multiply the squares of the residuals, so that sqrt(weight) r is what the loss
 * sees. Covariance after Huber: the unscaled matrix of all points with their given weights, times
 * K^2 sum((w u)^2) s^2/((n - p) mean(psi')^2), K = 1 + p var(psi')/(n mean(psi')^2), psi = w u.
 * `rss` and `freedom` are those of all points with their given weights.
 * @param problem  the problem
 * @param how      loss and scale
 * @param start    p parameters
 * @param out      fit
 * @param scale    standard deviation of a residual of weight 1, or NULL
 * @param factor   n weights w that the loss has given, 0 to 1, or NULL
 * @param err      error record, or NULL
 * @return as rw_num_least_squares; RW_ERR_NUMERIC also where the scale falls to nothing (more
 *         than half of the points lie on the curve) or too few points keep a weight
 */
RW_API rw_status rw_num_robust(const rw_least_squares *problem, const rw_robust *how,
                               const double *start, rw_least_squares_fit *out, double *scale,
                               double *factor, rw_error *err);

/**
 * Limits of a parameter from the sum of squares itself: where, with the others free, it has risen
 * by t^2 residual variances, t the two-sided quantile of Student's distribution. (92) Where the
 * curve bends, these are to be trusted, not estimate +- t sd.
 * @param problem  the problem
 * @param fit      its fit from rw_num_least_squares
 * @param j        which parameter, free
 * @param level    0.5 to 0.9999; 0.95 is usual
 * @param low      lower limit; -HUGE_VAL where the sum of squares never rises that far
 * @param high     upper limit; HUGE_VAL likewise
 * @param err      error record, or NULL
 * @return RW_OK; RW_NOT_REACHED where a limit is infinite; RW_ERR_RANGE; RW_ERR_ARGUMENT;
 *         RW_ERR_MEMORY; RW_ERR_NUMERIC where the curve could not be followed, or where a better
 *         fit turned up on the way: fit again from `reached`
 */
RW_API rw_status rw_num_profile(const rw_least_squares *problem, const rw_least_squares_fit *fit,
                                size_t j, double level, double *low, double *high, rw_error *err);

/** Keeps a parameter within bounds: the fit moves in u, the model sees x. */
typedef struct rw_num_bound {
  double low;  /**< -HUGE_VAL: none */
  double high; /**< HUGE_VAL: none; > low */
} rw_num_bound;
/**
 * u of x: x itself, ln(x - low), -ln(high - x), or ln((x - low)/(high - x)).
 * @param b  bounds
 * @param x  strictly within them
 * @return u; NaN for an x not within the bounds
 */
RW_API double rw_num_bound_in(rw_num_bound b, double x);
/**
 * x of u.
 * @param b      bounds
 * @param u      any number
 * @param slope  dx/du, or NULL
 * @return x; at a bound only where rounding puts it there
 */
RW_API double rw_num_bound_out(rw_num_bound b, double u, double *slope);

#ifdef __cplusplus
}
#endif
#endif
