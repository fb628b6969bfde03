/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * @file fit.h
 * @brief Sixth floor: what measured runs and noted events say about a resin.
 *
 * Threads: reentrant.
 *
 * Equation numbers are those of docs/theory.md.
 */
#ifndef RESINWRIGHT_FIT_H
#define RESINWRIGHT_FIT_H

#include <resinwright/base.h>
#include <resinwright/cloth.h>
#include <resinwright/cure.h>
#include <resinwright/history.h>
#include <resinwright/log.h>
#include <resinwright/num.h>

#ifdef __cplusplus
extern "C" {
#endif

/** @name Conversion runs
 * @{ */

/** Parameters of a rate law that measured runs can tell: X(name, key, unit). */
#define RW_FIT_PARAMETER_LIST(X)                                                                  \
  X(RW_FIT_K1, "ln k1", "ln(1/s)")                                                                \
  X(RW_FIT_E1, "E1", "J/mol")                                                                     \
  X(RW_FIT_K2, "ln k2", "ln(1/s)")                                                                \
  X(RW_FIT_E2, "E2", "J/mol")                                                                     \
  X(RW_FIT_K3, "ln k3", "ln(1/s)")                                                                \
  X(RW_FIT_E3, "E3", "J/mol")                                                                     \
  X(RW_FIT_M, "m", "")                                                                            \
  X(RW_FIT_N, "n", "")                                                                            \
  X(RW_FIT_LIMIT, "limit", "")                                                                    \
  X(RW_FIT_C, "C", "")                                                                            \
  X(RW_FIT_AC0, "ac0", "")                                                                        \
  X(RW_FIT_ACT, "acT", "1/K")                                                                     \
  X(RW_FIT_STIFFENING, "ln stiffening.k", "ln(1/s)")

/**
 * A parameter, see @ref RW_FIT_PARAMETER_LIST. Rate constants go by their natural logarithm, all
 * others by themselves; so does k2 of RW_LAW_TWO_STAGE, in 1/s, which may be negative.
 */
typedef enum rw_fit_parameter {
/** @cond expansion */
#define RW_X(name, key, unit) name,
  RW_FIT_PARAMETER_LIST(RW_X)
#undef RW_X
      RW_FIT_PARAMETERS
  /** @endcond */
} rw_fit_parameter;
/**
 * Key of a parameter: "ln k1".
 * @param q  parameter
 * @return constant text, NULL where there is none
 */
RW_API const char *rw_fit_parameter_key(rw_fit_parameter q);
/**
 * Unit of a parameter in a fit: "ln(1/s)".
 * @param q  parameter
 * @return constant text, NULL where there is none
 */
RW_API const char *rw_fit_parameter_unit(rw_fit_parameter q);

/** What a sample of mixed resin goes through. */
typedef struct rw_course {
  const rw_history *history; /**< temperature of the resin; NULL: steady at T */
  double T;                  /**< K, 200 to 500, where there is no history */
  double from;               /**< s, the moment of mixing */
  double start;              /**< degree of cure then, 0 to below 1 */
} rw_course;

/**
 * Degree of cure and how it moves with the law's parameters, by the variational equation along the
 * path, solved in closed form up to plain integrals. (93)
 * @param law        law
 * @param course     what the resin goes through
 * @param parameter  p parameters
 * @param p          how many, 0 to RW_FIT_PARAMETERS
 * @param time       s, n of them, each >= the one before and >= the course's `from`
 * @param n          how many, >= 1
 * @param tolerance  wanted error in the degree of cure, 1e-12 to 1e-4; 1e-9 is usual
 * @param cure       n degrees of cure
 * @param slope      n*p derivatives by rows, slope[i*p + j] = da(time[i])/dparameter[j]; or NULL
 * @param err        error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_ERR_RANGE; RW_ERR_ORDER; RW_ERR_COVERAGE;
 *         RW_ERR_ARGUMENT, also for a parameter that the law does not have; RW_ERR_MEMORY;
 *         RW_ERR_NUMERIC
 */
RW_API rw_status rw_fit_slopes(const rw_cure_law *law, const rw_course *course,
                               const rw_fit_parameter *parameter, size_t p, const double *time,
                               size_t n, double tolerance, double *cure, double *slope,
                               rw_error *err);

/** A run: degrees of cure measured along a course. */
typedef struct rw_run {
  rw_course course;     /**< what the sample went through */
  const double *time;   /**< n times in s, each >= the one before and >= course.from */
  const double *cure;   /**< n degrees of cure measured, -0.2 to 1.2 */
  const double *weight; /**< n weights >= 0, as 1/variance up to a factor; NULL: all 1 */
  size_t n;             /**< how many, >= 1 */
} rw_run;

/** Runs to be fitted with one law. */
typedef struct rw_runs {
  const rw_run *run;                 /**< runs */
  size_t n;                          /**< how many, 1 to 1000 */
  rw_cure_law law;                   /**< where to start, and the values of what is not free */
  const rw_fit_parameter *parameter; /**< the free ones */
  size_t p;                          /**< how many, 1 to RW_FIT_PARAMETERS */
  rw_robust robust;                  /**< all zero: least squares. Say which scale is meant */
  double tolerance;                  /**< error in the degree of cure, 1e-12 to 1e-4; 0: 1e-9 */
} rw_runs;

/** A law fitted to runs. Matrices are by rows of p numbers, in the units of the parameters. */
typedef struct rw_runs_fit {
  rw_cure_law law;                                           /**< the fitted law */
  size_t p;                                                  /**< free parameters */
  rw_fit_parameter parameter[RW_FIT_PARAMETERS];             /**< which */
  double x[RW_FIT_PARAMETERS];                               /**< their values */
  double sd[RW_FIT_PARAMETERS];                              /**< standard errors */
  double covariance[RW_FIT_PARAMETERS * RW_FIT_PARAMETERS];  /**< of the values */
  double correlation[RW_FIT_PARAMETERS * RW_FIT_PARAMETERS]; /**< likewise */
  double rss;                                                /**< weighted sum of squares */
  size_t points;                                             /**< points of weight above 0 */
  size_t freedom;                                            /**< points less parameters */
  double residual_sd; /**< sqrt(rss/freedom), or the robust scale: sd of a point of weight 1 */
  double condition;   /**< as in rw_least_squares_fit, for the logarithms and logits fitted in */
  int rounds;         /**< steps taken */
} rw_runs_fit;

/**
 * Fit a rate law to all runs at once. The search moves in ln k, in the logits of E, m, n, limit
 * and C between their bounds (rw_cure_law_check), and in the others as they are, so that every law
 * it tries is one; errors are then given for the parameters themselves. (94)
 *
 * Measured conversions are no better than their zero and their full heat; a systematic error in
 * either is not in the standard errors.
 * @param runs      runs, law and what is free
 * @param out       fit
 * @param residual  model less measured for all points, run after run; or NULL
 * @param err       error record, or NULL; argument names the parameter where the runs do not
 *                  determine one; for a conversion out of range line is the point and column the
 *                  run, from 1
 * @return RW_OK; RW_OUTSIDE_TESTED for an energy outside 30e3 to 200e3; RW_ERR_ARGUMENT;
 *         RW_ERR_RANGE; RW_ERR_ORDER; RW_ERR_COVERAGE; RW_ERR_MEMORY; RW_ERR_NUMERIC where
 *         nothing was found
 */
RW_API rw_status rw_fit_runs(const rw_runs *runs, rw_runs_fit *out, double *residual,
                             rw_error *err);
/**
 * Limits of a fitted parameter from the sum of squares, see rw_num_profile: to be trusted where
 * value +- t sd is not.
 * @param runs   the runs, least squares only
 * @param fit    their fit
 * @param j      which of its parameters, from 0
 * @param level  0.5 to 0.9999
 * @param low    lower limit
 * @param high   upper limit
 * @param err    error record, or NULL
 * @return RW_OK; RW_NOT_REACHED where a limit lies at the end of what a law may have; errors as
 *         rw_fit_runs and rw_num_profile
 */
RW_API rw_status rw_fit_limits(const rw_runs *runs, const rw_runs_fit *fit, size_t j, double level,
                               double *low, double *high, rw_error *err);
/**
 * Degree of cure of the fitted law with its standard error, from the full covariance. (95)
 * @param fit     fit
 * @param course  what the resin goes through
 * @param time    s, n of them, each >= the one before and >= the course's `from`
 * @param n       how many, >= 1
 * @param cure    n values
 * @param err     error record, or NULL
 * @return as rw_fit_slopes
 */
RW_API rw_status rw_fit_cure(const rw_runs_fit *fit, const rw_course *course, const double *time,
                             size_t n, rw_value *cure, rw_error *err);
/**
 * When the fitted law reaches a degree of cure, with its standard error. (95)
 * @param fit     fit
 * @param course  what the resin goes through
 * @param until   s, look as far as that
 * @param cure    degree of cure, above the course's start and below 1
 * @param time    s
 * @param err     error record, or NULL
 * @return as rw_fit_slopes; RW_NOT_REACHED (time untouched)
 */
RW_API rw_status rw_fit_when(const rw_runs_fit *fit, const rw_course *course, double until,
                             double cure, rw_value *time, rw_error *err);

/** @} */

/** @name Activation energies from a calorimeter and from times
 * A pointer other than err that is NULL, where not said otherwise, is RW_ERR_ARGUMENT.
 * @{ */

/** Greatest count of runs that one energy is found from. */
enum { RW_FIT_RUNS = 32 };

/** How an activation energy is read off runs at several heating rates; equations in
 * docs/theory.md. */
typedef enum rw_iso_method {
  RW_ISO_KISSINGER, /**< peaks: ln(b/T^2) against 1/T; A as of a first-order cure, (121) */
  RW_ISO_E698,      /**< peaks: ASTM E698, ln b against 1/T with its divisor 1 + 2RT/E, (122) */
  RW_ISO_OFW,       /**< Ozawa, Flynn and Wall: ln b against 1/T over 1.052, (123) */
  RW_ISO_KAS,       /**< Kissinger, Akahira and Sunose: ln(b/T^2) against 1/T, (124) */
  RW_ISO_STARINK,   /**< ln(b/T^1.92) against 1/T over 1.0008, (125) */
  RW_ISO_FRIEDMAN,  /**< ln of the rate against 1/T, (126); any course of temperature */
  RW_ISO_VYAZOVKIN  /**< integral, non-linear: the energy that makes the exact temperature
                         integrals agree, (127) */
} rw_iso_method;

/** One run of steady heating, seen at its peak or at one conversion. */
typedef struct rw_iso_point {
  double heating;     /**< K/s, 1e-6 to 1.7 (10 K/min is 0.1667); RW_ISO_FRIEDMAN leaves it */
  double temperature; /**< K, 200 to 700 */
  double rate;        /**< 1/s, d(conversion)/dt there; for RW_ISO_FRIEDMAN only */
  double start;       /**< K where the run began with nothing cured, below temperature; 0: from
                           absolute zero; for RW_ISO_VYAZOVKIN only, where leaving it away makes
                           the energy of low conversions too high */
} rw_iso_point;

/** An activation energy and how sure it is. What two runs cannot tell is NaN. */
typedef struct rw_fit_energy {
  double E;         /**< J/mol */
  double E_se;      /**< J/mol, standard error */
  double E_low;     /**< J/mol, lower end of the t-interval; may be below 0 */
  double E_high;    /**< J/mol, upper end */
  double T_mid;     /**< K, in the midst of the runs, where E and log_k vary independently:
                         1/mean(1/T), for RW_ISO_VYAZOVKIN with the means along the runs */
  double log_k;     /**< ln of a rate constant in 1/s at T_mid: k of a first-order cure
                         (Kissinger, E698), k f(a) (Friedman), k/g(a) (Vyazovkin), 1/time
                         (rw_fit_times of one material); NaN where the method gives none */
  double log_k_se;  /**< standard error of log_k */
  double log_A;     /**< log_k + E/(R T_mid), the same at infinite temperature; compare log_k, not
                         this */
  double scatter;   /**< standard deviation of the ordinates (logarithms) about the fit, as seen */
  double objective; /**< RW_ISO_VYAZOVKIN: the least sum of ratios, n(n-1) where all runs agree;
                         else NaN */
  size_t n;         /**< runs */
  size_t freedom;   /**< degrees of freedom of the interval; 0: none */
} rw_fit_energy;

/**
 * Temperature integral of a rate constant: int exp(-E/(R T)) dT, exact by exponential integrals
 * (120).
 * @param E     J/mol, 1000 to 500000
 * @param from  K, 0 to 1000; 0: from absolute zero
 * @param to    K, from + 1e-6 to 1000, at least 100
 * @param out   K
 * @param err   error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT; RW_ERR_RANGE
 */
RW_API rw_status rw_iso_integral(double E, double from, double to, double *out, rw_error *err);

/**
 * Activation energy from one point of each run: peaks, or places of equal conversion.
 *
 * The interval is that of a straight line, or for Vyazovkin of its linearisation, with Student's
 * t and n - 2 degrees of freedom; it holds the scatter of the runs and no error of the method or
 * the calorimeter. OFW, KAS, Starink lean by a few per cent, more the lower E/(RT).
 * @param method  method
 * @param run     n runs
 * @param n       2 to RW_FIT_RUNS; 3 or more for an interval
 * @param level   chance that the interval covers, 0.5 to 0.999
 * @param out     result
 * @param err     error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED for two runs (no interval; said in err); RW_ERR_ARGUMENT for
 *         fewer than two runs, more than RW_FIT_RUNS, all at one heating rate or temperature, or
 *         a method that is none; RW_ERR_RANGE; RW_ERR_NUMERIC where faster heating did not move
 *         the place up in temperature, so that no energy above 0 fits, or where none from 2 to
 *         500 kJ/mol does (Vyazovkin)
 */
RW_API rw_status rw_iso_energy(rw_iso_method method, const rw_iso_point *run, size_t n,
                               double level, rw_fit_energy *out, rw_error *err);

/** A run of a calorimeter at steady heating. */
typedef struct rw_iso_curve {
  double heating;            /**< K/s */
  double start;              /**< K, see rw_iso_point; 0 where not known */
  const double *temperature; /**< n values, K, 200 to 700, strictly rising */
  const double *conversion;  /**< n values, 0 to 1, never falling */
  const double *rate;        /**< n values, 1/s; NULL: the slope of the conversion */
  size_t n;                  /**< at least 5 */
} rw_iso_curve;

/**
 * The peak of a run: where its rate is greatest, on a spline through the readings.
 * @param curve  run
 * @param out    result, with the rate there
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT; RW_ERR_ORDER for a temperature that doesn't rise or a conversion
 *         that falls (line: the reading from 1); RW_ERR_RANGE; RW_ERR_COVERAGE where the rate is
 *         greatest at an end; RW_ERR_NUMERIC where the readings about the peak are too ragged;
 *         RW_ERR_MEMORY
 */
RW_API rw_status rw_iso_peak(const rw_iso_curve *curve, rw_iso_point *out, rw_error *err);
/**
 * Where a run passes a conversion, and the rate there, on splines through the readings.
 * @param curve       run
 * @param conversion  above 0, below 1
 * @param out         result
 * @param err         error record, or NULL
 * @return RW_OK; as rw_iso_peak; RW_ERR_COVERAGE where the run doesn't pass it
 */
RW_API rw_status rw_iso_pass(const rw_iso_curve *curve, double conversion, rw_iso_point *out,
                             rw_error *err);
/**
 * Activation energy at several conversions from whole runs: an energy that changes along the cure
 * tells that one rate law won't do.
 * @param method      RW_ISO_OFW to RW_ISO_VYAZOVKIN
 * @param curve       n runs
 * @param n           2 to RW_FIT_RUNS; 3 or more for intervals
 * @param conversion  m values above 0, below 1
 * @param m           1 to 1000
 * @param level       as rw_iso_energy
 * @param out         m results
 * @param err         error record, or NULL; a message about a run begins with its place
 * @return as rw_iso_energy and rw_iso_pass; RW_ERR_ARGUMENT for a method that takes peaks;
 *         RW_ERR_MEMORY
 */
RW_API rw_status rw_iso_scan(rw_iso_method method, const rw_iso_curve *curve, size_t n,
                             const double *conversion, size_t m, double level, rw_fit_energy *out,
                             rw_error *err);

/** How long a fixed change took at a steady temperature. */
typedef struct rw_fit_time {
  double temperature; /**< K, 200 to 700 */
  double time;        /**< s, above 0 */
  int material;       /**< runs of one material bear one number; the materials may differ in speed
                           and share the energy */
} rw_fit_time;
/**
 * Activation energy from the times of one and the same change at several temperatures: ln time
 * against 1/T (129), with Student's t-interval.
 *
 * Three or four runs may lie on a line by luck: what is known of the error of a time then keeps
 * the interval from claiming too much.
 * @param run     n runs
 * @param n       2 to RW_FIT_RUNS
 * @param timing  share by which a time may be off (standard error), 0 to 1; the runs are never
 *                taken to scatter less; 0 where nothing is known
 * @param level   as rw_iso_energy
 * @param out     result; log_k, log_k_se and log_A are NaN for more than one material
 * @param err     error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED where no run is left over for an interval (said in err);
 *         RW_ERR_ARGUMENT for fewer than two runs, more than RW_FIT_RUNS, or no material seen at
 *         two temperatures; RW_ERR_RANGE; RW_ERR_NUMERIC where warmth made it no faster
 */
RW_API rw_status rw_fit_times(const rw_fit_time *run, size_t n, double timing, double level,
                              rw_fit_energy *out, rw_error *err);
/**
 * Time from the first passing of one level to the first passing of a higher one, by straight
 * lines between the readings (130).
 * @param time      n moments, s, strictly rising
 * @param value     n readings of anything that rises
 * @param n         at least 2
 * @param from      level
 * @param to        level, above from
 * @param duration  s
 * @param err       error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT; RW_ERR_ORDER; RW_ERR_RANGE; RW_ERR_COVERAGE where the series
 *         doesn't begin below or reach a level
 */
RW_API rw_status rw_fit_change(const double *time, const double *value, size_t n, double from,
                               double to, double *duration, rw_error *err);

/** @} */

/** @name Test panels
 * @{ */

/** A test panel, weighed after each stage; NaN where it was not weighed. */
typedef struct rw_panel {
  double area;    /**< m2 of the face worked on, 1e-4 to 100 */
  double bare;    /**< kg, before any resin */
  double wet_out; /**< kg, cloth wetted out and cured */
  double filled;  /**< kg, weave filled and coated, cured; or NaN */
  double sanded;  /**< kg, after sanding, free of dust; or NaN */
} rw_panel;
/** A mean over panels; what one panel cannot tell is NaN, and all of it where none was weighed. */
typedef struct rw_panel_mean {
  double mean;   /**< kg/m2 */
  double sd;     /**< kg/m2, standard deviation from panel to panel */
  double low;    /**< kg/m2, lower end of the t-interval of the mean */
  double high;   /**< kg/m2, upper end */
  rw_value next; /**< kg/m2 for a hull, taken as one more panel: the mean, and the sd whose normal
                      95 % interval is as wide as Student's prediction interval, (131) */
  size_t n;      /**< panels */
} rw_panel_mean;
/** What panels tell. */
typedef struct rw_panel_terms {
  rw_panel_mean wet_out; /**< resin into wood and cloth at wet-out */
  rw_panel_mean filling; /**< resin of the fill coats, before sanding */
  rw_panel_mean sanding; /**< sanded off */
  rw_panel_mean left;    /**< resin that stays: panels weighed at all four stages only */
} rw_panel_terms;
/**
 * Resin uptake from test panels (131).
 * @param panel  n panels
 * @param n      1 to 1000; 3 or more for an interval worth the name
 * @param cloth  kg/m2 of dry cloth, all layers, 0 to 20; 0 where the bare panels were weighed with
 *               the dry cloth on them
 * @param level  chance that the interval of a mean covers, 0.5 to 0.999
 * @param out    result
 * @param err    error record, or NULL; line is the panel from 1
 * @return RW_OK; RW_OUTSIDE_TESTED where a term rests on one panel (no spread; said in err);
 *         RW_ERR_ARGUMENT; RW_ERR_RANGE; RW_ERR_ORDER where a panel gets lighter by resin or
 *         heavier by sanding
 */
RW_API rw_status rw_panel_uptake(const rw_panel *panel, size_t n, double cloth, double level,
                                 rw_panel_terms *out, rw_error *err);
/**
 * The terms as rw_plan_need takes them: a panel can't tell wood from cloth, so all resin of the
 * wet-out stands as that of the cloth and the soak is 0; their sum is what was measured.
 * @param terms  from rw_panel_uptake
 * @param waste  share of what is mixed, 0 to 0.9: panels don't show it
 * @param out    the four terms
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT where a term rests on fewer than two panels, so that no spread
 *         is known; RW_ERR_RANGE
 */
RW_API rw_status rw_panel_plan(const rw_panel_terms *terms, rw_value waste, rw_uptake *out,
                               rw_error *err);

/** @} */

/** @name Censored times
 * Accelerated failure times, (100): ln T = b0 + b1 x1 + ... + spread eps, from rows whose time is
 * known exactly, or only to lie before, after or between moments.
 * @{ */

/** Law of eps. */
typedef enum rw_aft_kind {
  RW_AFT_LOGNORMAL, /**< standard normal */
  RW_AFT_WEIBULL    /**< smallest extreme value: T is Weibull of shape 1/spread */
} rw_aft_kind;

/**
 * Logarithm of the probability that eps lies between two values, good out to a hundred standard
 * deviations. (101)
 * @param kind         law
 * @param low          lower value, -HUGE_VAL for none
 * @param high         upper value, HUGE_VAL for none
 * @param probability  its logarithm; -HUGE_VAL where high = low, or below the range of a double
 * @param err          error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT for a kind that is none or a value that is not a number;
 *         RW_ERR_RANGE for high < low
 */
RW_API rw_status rw_aft_log_probability(rw_aft_kind kind, double low, double high,
                                        double *probability, rw_error *err);

/** Rows of censored times. */
typedef struct rw_aft_data {
  size_t n;             /**< rows, at least 2 */
  size_t covariates;    /**< of each row, 0 to 64 */
  const double *lower;  /**< n times, not yet happened then; 0: not known */
  const double *upper;  /**< n times, already happened then; HUGE_VAL: never seen; the same as
                             lower: an exact time */
  const double *weight; /**< n weights >= 0, k counts as k such rows; NULL: 1 each */
  const double *x;      /**< n*covariates numbers, row after row; may be NULL for none */
} rw_aft_data;

/** Why a fit has no estimates, X(name, key, text). */
#define RW_AFT_TROUBLE_LIST(X)                                                                    \
  X(RW_AFT_FINE, "fine", "the estimates exist")                                                   \
  X(RW_AFT_ALL_AFTER, "all_after", "no row says that it ever happened, only that it had not yet") \
  X(RW_AFT_ALL_BEFORE, "all_before",                                                              \
    "every row says that it had happened already, none that it had not yet")                      \
  X(RW_AFT_CONSTANT, "constant",                                                                  \
    "a covariate is the same in all rows (one temperature only), so its effect cannot be told")   \
  X(RW_AFT_COLLINEAR, "collinear",                                                                \
    "covariates move together, so their effects cannot be told apart")                            \
  X(RW_AFT_THREADED, "threaded",                                                                  \
    "one line passes through every interval, so the spread shrinks to nothing")                   \
  X(RW_AFT_EXACT, "exact", "the exact times lie on one line, so the spread shrinks to nothing")   \
  X(RW_AFT_SEPARATED, "separated",                                                                \
    "a group of rows is open on one side only, so its effect runs away without end")              \
  X(RW_AFT_SPREADLESS, "spreadless",                                                              \
    "the rows do not come later with time at all, so the spread grows without end")               \
  X(RW_AFT_UNSETTLED, "unsettled", "the search did not settle")

/** Why a fit has no estimates, see @ref RW_AFT_TROUBLE_LIST. */
typedef enum rw_aft_trouble {
/** @cond expansion */
#define RW_X(name, key, text) name,
  RW_AFT_TROUBLE_LIST(RW_X)
#undef RW_X
      RW_AFT_TROUBLES
  /** @endcond */
} rw_aft_trouble;
/**
 * Key of a trouble: "all_after".
 * @param t  trouble
 * @return constant text, NULL where there is none
 */
RW_API const char *rw_aft_trouble_key(rw_aft_trouble t);
/**
 * A trouble in words.
 * @param t  trouble
 * @return constant text, NULL where there is none
 */
RW_API const char *rw_aft_trouble_text(rw_aft_trouble t);

/** A fit with the rows it came from. */
typedef struct rw_aft rw_aft;
/**
 * Fit by maximum likelihood: Newton in (b/spread, 1/spread), where the likelihood is concave
 * (Burridge 1981), on rows that are centred and scaled by a first straight line. (102)
 * @param data     rows; copied
 * @param kind     law
 * @param out      fit; free with rw_aft_destroy
 * @param trouble  why there are no estimates, or NULL; unlike other results it is written after
 *                 RW_ERR_NUMERIC too
 * @param err      error record, or NULL
 * @return RW_OK; RW_ERR_NUMERIC where no finite estimates exist or the search did not settle (the
 *         trouble says which, in words in err, argument its key); RW_ERR_ARGUMENT; RW_ERR_RANGE
 *         (line: the row from 1); RW_ERR_MEMORY
 */
RW_API rw_status rw_aft_fit(const rw_aft_data *data, rw_aft_kind kind, rw_aft **out,
                            rw_aft_trouble *trouble, rw_error *err);
/**
 * Free a fit.
 * @param f  fit, or NULL
 */
RW_API void rw_aft_destroy(rw_aft *f);

/** What a fit found, but for the coefficients. */
typedef struct rw_aft_summary {
  size_t covariates; /**< coefficients are one more */
  double spread;     /**< of ln T */
  double spread_se;  /**< its standard error */
  double exact;      /**< weight of rows with an exact time */
  double after;      /**< weight of rows known to come later */
  double before;     /**< weight of rows known to have come earlier */
  double between;    /**< weight of rows between two moments */
  double likelihood; /**< logarithm of the likelihood in time: exact rows count their density of
                          T */
  double log_likelihood; /**< the same in ln T: exact rows count their density of ln T */
  unsigned steps;        /**< Newton steps */
} rw_aft_summary;
/**
 * What a fit found, but for the coefficients.
 * @param f    fit
 * @param out  result
 */
RW_API void rw_aft_summarise(const rw_aft *f, rw_aft_summary *out);
/**
 * A coefficient.
 * @param f   fit
 * @param i   0: b0, 1 to covariates: b1 ..., covariates + 1: the logarithm of the spread
 * @return value and standard error; NaN beyond the last
 */
RW_API rw_value rw_aft_coefficient(const rw_aft *f, size_t i);
/**
 * Covariance of two coefficients, from the observed information.
 * @param f  fit
 * @param i  as in rw_aft_coefficient
 * @param j  likewise
 * @return covariance; NaN beyond the last
 */
RW_API double rw_aft_covariance(const rw_aft *f, size_t i, size_t j);
/**
 * A quantile of the time and its standard error to first order.
 * @param f      fit
 * @param x      covariates, as many as the fit has; or NULL for none
 * @param p      share of events that have happened, above 0, below 1
 * @param log_q  logarithm of the quantile; its limits belong on this scale
 * @param q      quantile of the time itself, or NULL
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT; RW_ERR_RANGE
 */
RW_API rw_status rw_aft_quantile(const rw_aft *f, const double *x, double p, rw_value *log_q,
                                 rw_value *q, rw_error *err);

/** What profile limits are wanted for. */
typedef struct rw_aft_target {
  size_t coefficient; /**< as in rw_aft_coefficient; not used where p > 0 */
  const double *x;    /**< covariates of a quantile; or NULL for none */
  double p;           /**< a quantile of ln T, above 0, below 1; 0: the coefficient instead */
} rw_aft_target;
/**
 * Profile-likelihood limits: where twice the loss of log-likelihood is that of chi-square with one
 * degree of freedom, all else fitted anew. (103) Unlike estimate and standard error they need no
 * symmetry.
 * @param f       fit
 * @param target  what for
 * @param level   chance that the limits cover, 0.5 to 0.9999
 * @param low     lower limit; -HUGE_VAL: there is none
 * @param high    upper limit; HUGE_VAL: there is none
 * @param err     error record, or NULL
 * @return RW_OK; RW_NOT_REACHED where a limit does not exist; RW_ERR_ARGUMENT; RW_ERR_RANGE;
 *         RW_ERR_NUMERIC; RW_ERR_MEMORY
 */
RW_API rw_status rw_aft_profile(const rw_aft *f, const rw_aft_target *target, double level,
                                double *low, double *high, rw_error *err);

/** @} */

/** @name Event notes
 * What hand and watch tell of films ("tacky at nine, hard in the morning"), all events tied to one
 * cure state: ln of the age at an event = ln tau of the milestone + offset of the observer +
 * scatter eps, (104). The age is the equivalent age of a law of one energy; where stiffening slows
 * the class's law in the cold, it slows the age alike. Notes are taken to scatter independently,
 * two of one batch too; rw_notes_summary.clumps tells whether they do.
 * @{ */

/** A batch: a film on the hull. */
typedef struct rw_notes_batch {
  const rw_history *hull; /**< temperature of the hull under it */
  double mixed;           /**< s, the moment of mixing, on the history's clock */
} rw_notes_batch;
/** One note. */
typedef struct rw_notes_row {
  size_t batch;       /**< which batch, from 0 */
  rw_milestone event; /**< which milestone */
  double not_yet;     /**< s, looked at then, and it had not yet happened; NaN: no such look */
  double already;     /**< s, it had happened then; NaN: never seen; the same as not_yet: the exact
                           moment */
  size_t observer;    /**< whose hand, from 0 */
  double weight;      /**< 0 to 100; 1 is usual, 0 leaves the note out */
} rw_notes_row;
/** A log of notes. */
typedef struct rw_notes_data {
  const rw_notes_batch *batch; /**< the batches */
  size_t batches;              /**< how many */
  const rw_notes_row *row;     /**< the notes */
  size_t rows;                 /**< how many, may be 0: the fit is then what was known before */
  size_t observers;            /**< how many hands, 1 to 20 */
} rw_notes_data;
/** What is known before a note is read. */
typedef struct rw_notes_prior {
  rw_resin resin;     /**< class, label or earlier fit with its spreads: of the rate, of the
                           activation energies, of the thresholds */
  double together;    /**< share of the thresholds' variance that they have in common, 0 to 0.99 */
  double scatter;     /**< of ln time from batch to batch and look to look, 0.01 to 1 */
  double scatter_sd;  /**< sd of the logarithm of `scatter`, 0.01 to 3 */
  double observer_sd; /**< sd of an observer's offset in ln time, 0 to 1 */
  double T_ref;       /**< K, temperature at which ages count, 250 to 350; NaN: the mean over the
                           notes */
} rw_notes_prior;
/**
 * The usual prior about a resin: together 0.5, scatter 0.15 within a factor of 1.65, observers
 * 0.1 apart (common practice, no source), T_ref from the notes.
 * @param resin  class, label or earlier fit
 * @param out    prior
 */
RW_API void rw_notes_prior_of(const rw_resin *resin, rw_notes_prior *out);

/** A fit of notes, with all that a forecast needs. */
typedef struct rw_notes rw_notes;
/**
 * Fit a log of notes: the most probable values by Newton with exact derivatives and the curvature
 * there (Laplace), with the scatter integrated. (105) Few notes leave the prior nearly as it was,
 * many overrule it.
 * @param prior  what is known before
 * @param data   the notes; not needed afterwards
 * @param out    fit; free with rw_notes_destroy
 * @param err    error record, or NULL; line is the note from 1
 * @return RW_OK; RW_OUTSIDE_TESTED as the resin; RW_ERR_RANGE; RW_ERR_ARGUMENT for a missing
 *         look, an unknown batch or observer, or an event that a resin of this class does not
 *         reach at T_ref; RW_ERR_ORDER where it had happened before it had not; RW_ERR_COVERAGE
 *         where a history does not reach a note; RW_ERR_NUMERIC where the search did not settle;
 *         RW_ERR_MEMORY
 */
RW_API rw_status rw_notes_fit(const rw_notes_prior *prior, const rw_notes_data *data,
                              rw_notes **out, rw_error *err);
/**
 * Free a fit.
 * @param f  fit, or NULL
 */
RW_API void rw_notes_destroy(rw_notes *f);

/** What the notes tell of one quantity, X(name, key, text). */
#define RW_TOLD_LIST(X)                                                                           \
  X(RW_TOLD_NOTHING, "nothing", "the notes do not determine it: it stands as it was before them") \
  X(RW_TOLD_OTHERS, "others", "no note tells of it; it follows the others")                       \
  X(RW_TOLD_EARLIEST, "earliest", "only noted as not yet there: it may be much later")            \
  X(RW_TOLD_LATEST, "latest", "only noted as already there: it may be much earlier")              \
  X(RW_TOLD_LITTLE, "little", "the notes narrow it, by less than half")                           \
  X(RW_TOLD_WELL, "well", "the notes narrow it to less than half")

/** What the notes tell of one quantity, see @ref RW_TOLD_LIST. */
typedef enum rw_told {
/** @cond expansion */
#define RW_X(name, key, text) name,
  RW_TOLD_LIST(RW_X)
#undef RW_X
      RW_TOLDS
  /** @endcond */
} rw_told;
/**
 * Key of a verdict: "nothing".
 * @param t  verdict
 * @return constant text, NULL where there is none
 */
RW_API const char *rw_told_key(rw_told t);
/**
 * A verdict in words.
 * @param t  verdict
 * @return constant text, NULL where there is none
 */
RW_API const char *rw_told_text(rw_told t);

/** A quantity before and after the notes. */
typedef struct rw_notes_value {
  double before;    /**< best value before */
  double before_sd; /**< its standard deviation */
  double after;     /**< most probable value after */
  double after_sd;  /**< its standard deviation */
  size_t not_yet;   /**< notes that give a "not yet" */
  size_t already;   /**< notes that give an "already" */
  rw_told told;     /**< verdict */
} rw_notes_value;
/** What a fit found. */
typedef struct rw_notes_summary {
  double T_ref;                      /**< K, where the ages count */
  rw_notes_value rate;               /**< ln of the rate over the prior's, at T_ref */
  rw_notes_value energy;             /**< J/mol, added to all activation energies of the law */
  rw_notes_value scatter;            /**< ln of the scatter */
  rw_notes_value age[RW_MILESTONES]; /**< ln of the age in s at T_ref; NaN where a resin of this
                                          class does not come there at T_ref */
  size_t rows;                       /**< notes that count */
  double log_likelihood;             /**< of the notes, exact ones by their density of ln time */
  double clumps;  /**< how much more alike notes of one batch are than chance has it, in
                       standard deviations; 0 where no batch has two notes. (108) */
  double chance;  /**< of more alike ones, if all notes scatter independently: below 0.01 batches
                       differ by more than the hand does, and spreads here are too small */
  unsigned steps; /**< Newton steps */
} rw_notes_summary;
/**
 * What a fit found.
 * @param f    fit
 * @param out  result
 */
RW_API void rw_notes_summarise(const rw_notes *f, rw_notes_summary *out);
/**
 * An observer's offset in ln time: above 0 calls later than the others.
 * @param f         fit
 * @param observer  from 0
 * @param out       result
 * @param err       error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_notes_observer(const rw_notes *f, size_t observer, rw_notes_value *out,
                                   rw_error *err);
/**
 * How many unknowns a fit has: 3 (ln rate at the law's T_ref, activation energy in kJ/mol, ln
 * scatter), one for each milestone that is reached (ln age against the prior's law, in the
 * milestones' order), one for each observer.
 * @param f  fit
 * @return count
 */
RW_API size_t rw_notes_unknowns(const rw_notes *f);
/**
 * Most probable values and covariance of all unknowns.
 * @param f           fit
 * @param value       rw_notes_unknowns values, or NULL
 * @param covariance  their square, by rows, or NULL
 */
RW_API void rw_notes_posterior(const rw_notes *f, double *value, double *covariance);

/** A quantity of a fit, see rw_notes_summary. */
typedef enum rw_notes_quantity {
  RW_NOTES_RATE,    /**< ln of the rate over the prior's, at T_ref */
  RW_NOTES_ENERGY,  /**< J/mol, added to all activation energies of the law */
  RW_NOTES_SCATTER, /**< ln of the scatter */
  RW_NOTES_AGE      /**< ln of the age in s at T_ref at a milestone */
} rw_notes_quantity;
/**
 * Profile limits of a quantity: where twice the loss of the joint log posterior, all else being
 * sought anew, is that of chi-square with one degree of freedom. Unlike a standard deviation they
 * need no symmetry: after notes that only tell "not yet" the upper one lies far off. (109)
 * @param f          fit
 * @param data       the same notes as were fitted
 * @param of         quantity
 * @param milestone  for RW_NOTES_AGE, one that the class reaches; else not looked at
 * @param level      chance that the limits cover, 0.5 to 0.9999
 * @param low        lower limit
 * @param high       upper limit
 * @param err        error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT for other notes than were fitted, no such quantity or milestone;
 *         RW_ERR_RANGE for the level; RW_ERR_NUMERIC where a limit is not found, as at the end of
 *         what an activation energy may be; RW_ERR_MEMORY
 */
RW_API rw_status rw_notes_limits(const rw_notes *f, const rw_notes_data *data,
                                 rw_notes_quantity of, rw_milestone milestone, double level,
                                 double *low, double *high, rw_error *err);

/** How a note agrees with the fit. */
typedef struct rw_notes_row_result {
  double low;    /**< chance that it happens before the "not yet"; 0 where there is none */
  double high;   /**< chance that it happens before the "already"; 1 where there is none */
  double chance; /**< of an event as early or as late as this note says */
  double
      influence;   /**< standard deviations by which it moves what it moves most, to first order */
  double age_low;  /**< s at T_ref, equivalent age at the "not yet", less the observer's offset; 0
                        where there is none */
  double age_high; /**< s at T_ref, of the "already"; HUGE_VAL where there is none */
} rw_notes_row_result;
/**
 * How a note agrees with the fit.
 * @param f    fit
 * @param row  which, from 0, as in the data
 * @param out  result
 * @param err  error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_notes_row_look(const rw_notes *f, size_t row, rw_notes_row_result *out,
                                   rw_error *err);

/** Whether a batch is unlike the others. */
typedef struct rw_notes_batch_result {
  size_t rows;       /**< its notes that count */
  double factor;     /**< its times over those of the others */
  double factor_sd;  /**< sd of the logarithm of that */
  double chance;     /**< of a batch as odd as this, if it is like the others; 1 without notes */
  double chance_any; /**< of one as odd among as many batches */
  int odd;           /**< 1 where chance_any is below 0.05 */
} rw_notes_batch_result;
/**
 * Test each batch for being unlike the others, by a fit anew with a factor of its own. (107)
 * @param f     fit
 * @param data  the same notes as were fitted
 * @param out   data->batches results
 * @param err   error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT for other counts than were fitted; RW_ERR_NUMERIC; RW_ERR_MEMORY
 */
RW_API rw_status rw_notes_batches(const rw_notes *f, const rw_notes_data *data,
                                  rw_notes_batch_result *out, rw_error *err);

/** Whether times grow or shrink from the first batch of a log to the last. */
typedef struct rw_notes_drift_result {
  double span;      /**< s, from the first batch with a note to the last */
  double factor;    /**< times at the end over those at the beginning, all else alike */
  double factor_sd; /**< sd of the logarithm of that; HUGE_VAL where nothing tells */
  double chance;    /**< of as much drift, if there is none; 1 where nothing tells */
} rw_notes_drift_result;
/**
 * Test whether the times drift over the log, as an old hardener or a thermometer that has moved
 * makes them, by a fit anew with a factor that grows with the day of mixing. (107)
 * @param f     fit
 * @param data  the same notes as were fitted
 * @param out   result
 * @param err   error record, or NULL
 * @return as rw_notes_batches
 */
RW_API rw_status rw_notes_drift(const rw_notes *f, const rw_notes_data *data,
                                rw_notes_drift_result *out, rw_error *err);

/** How well the notes are described, and how well they tell the unknowns apart. */
typedef struct rw_notes_fitness_result {
  size_t outside;     /**< notes with a chance (rw_notes_row_result) below a tenth */
  double chance;      /**< of as many or more, if the fit holds: at least that, since a note is an
                           interval. Below 0.01 the notes do not fit */
  double correlation; /**< of the two unknowns that go together most, -1 to 1 */
  size_t first;       /**< one of the two, see rw_notes_unknown_key */
  size_t second;      /**< the other */
  double condition;   /**< of the unknowns' correlations, greatest over least eigenvalue: 1 where
                           each is told by itself */
} rw_notes_fitness_result;
/**
 * How well the notes are described.
 * @param f    fit
 * @param out  result
 */
RW_API void rw_notes_fitness(const rw_notes *f, rw_notes_fitness_result *out);
/**
 * What an unknown of rw_notes_posterior is.
 * @param f  fit
 * @param i  from 0
 * @return "rate", "energy", "scatter", the key of a milestone or "observer"; NULL beyond the last
 */
RW_API const char *rw_notes_unknown_key(const rw_notes *f, size_t i);

/** Nobody in particular, for rw_notes_question.observer: an observer without offset. */
#define RW_NOTES_ANYONE ((size_t)-1)
/**
 * The fitted resin: rate, energies and thresholds moved, with spreads that rw_cure_forecast may
 * draw independently: its T_ref is where rate and energy do not vary together. (106)
 * @param f         fit
 * @param observer  whose hand, or RW_NOTES_ANYONE
 * @param out       resin
 * @param err       error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_notes_resin(const rw_notes *f, size_t observer, rw_resin *out, rw_error *err);
/**
 * Resins drawn with the full covariance of the fit; their spreads are 0.
 * @param f         fit
 * @param observer  whose hand, or RW_NOTES_ANYONE
 * @param scatter   1: the next batch, with its own scatter; 0: the resin itself
 * @param n         how many, 1 to 100000
 * @param seed      of the draws
 * @param out       n resins
 * @param err       error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_MEMORY
 */
RW_API rw_status rw_notes_draw(const rw_notes *f, size_t observer, int scatter, size_t n,
                               unsigned long seed, rw_resin *out, rw_error *err);

/** What is asked of a forecast. */
typedef struct rw_notes_question {
  const rw_history *hull; /**< temperature of the hull */
  double from;            /**< s, laid then */
  double to;              /**< s, look as far as that */
  double temperature_sd;  /**< K, how far off the hull's temperature may be, 0 to 20 */
  size_t observer;        /**< whose hand, or RW_NOTES_ANYONE */
  int scatter;            /**< 1: the next batch, with its own scatter; 0: the middle one */
  size_t draws;           /**< 0 to 100000 */
  unsigned long seed;     /**< of the draws */
} rw_notes_question;
/**
 * Forecast the milestones of a film by draws with the full covariance of the fit.
 * @param f    fit
 * @param q    what is asked
 * @param out  result, as of rw_cure_forecast
 * @param err  error record, or NULL
 * @return as rw_cure_forecast
 */
RW_API rw_status rw_notes_forecast(const rw_notes *f, const rw_notes_question *q, rw_forecast *out,
                                   rw_error *err);

/** @} */

/** @name Notes of a logbook
 * @{ */

/**
 * The milestone that a word of the log tells of. What counts as tacky begins as the film stops
 * flowing, and a film that no longer sticks is past most harm of damp air (common practice, no
 * source).
 * @param found  word
 * @return milestone, RW_MILESTONES where there is no such word
 */
RW_API rw_milestone rw_notes_event(rw_log_found found);

/** Which rows of a log are taken, and the temperature of the hull. */
typedef struct rw_notes_choice {
  double bridge;         /**< s, see rw_log_gaps; 0: RW_LOG_BRIDGE */
  double lag;            /**< s, time constant of the hull behind the air, 0 to 1e6, where the hull
                              itself was not read */
  int suspects;          /**< 1: batches whose ratio the log doubts are taken too */
  const size_t *without; /**< batches to leave out, as the log counts them; or NULL */
  size_t withouts;       /**< how many */
} rw_notes_choice;
/** An event of the log that tells the fit nothing, and why. */
typedef struct rw_notes_omitted {
  size_t event;   /**< index in the log */
  char text[320]; /**< one sentence */
  char hint[256]; /**< what to try; may be empty */
} rw_notes_omitted;
/** Notes taken from a log, with the temperatures that they need. */
typedef struct rw_notes_log rw_notes_log;
/**
 * Take the notes of a log. Left out, and listed, are events in a cup, which warms itself;
 * batches that are not wanted or whose ratio the log doubts; an event seen at the moment of
 * mixing; and looks for which there is no temperature. The hull's own readings come first, else
 * the air's with the lag of the hull behind it. What a batch goes through between mixing and
 * spreading counts as if it lay on the hull already.
 * @param log     log
 * @param choice  what to take, or NULL for all zero
 * @param out     notes; free with rw_notes_log_destroy
 * @param err     error record, or NULL
 * @return RW_OK; RW_ERR_RANGE for the bridge, the lag or a batch that is none; RW_ERR_MEMORY
 */
RW_API rw_status rw_notes_log_create(const rw_log *log, const rw_notes_choice *choice,
                                     rw_notes_log **out, rw_error *err);
/**
 * Free notes taken from a log.
 * @param n  notes, or NULL
 */
RW_API void rw_notes_log_destroy(rw_notes_log *n);
/**
 * The notes, ready for rw_notes_fit. Batches are those of the log that have a note; observers are
 * those of the log.
 * @param n  notes, owns the result
 * @return notes
 */
RW_API const rw_notes_data *rw_notes_log_data(const rw_notes_log *n);
/**
 * The batch of the log that a batch of the notes is.
 * @param n      notes
 * @param batch  index among the notes' batches
 * @return index in the log
 */
RW_API size_t rw_notes_log_batch(const rw_notes_log *n, size_t batch);
/**
 * The event of the log that a note is.
 * @param n    notes
 * @param row  index among the notes
 * @return index in the log
 */
RW_API size_t rw_notes_log_event(const rw_notes_log *n, size_t row);
/**
 * Events left out, in the order of the log.
 * @param n  notes
 * @return count
 */
RW_API size_t rw_notes_log_omitted(const rw_notes_log *n);
/**
 * An event left out.
 * @param n  notes, owns the result
 * @param i  from 0
 * @return event; NULL beyond the last
 */
RW_API const rw_notes_omitted *rw_notes_log_omitted_at(const rw_notes_log *n, size_t i);

/** @} */

#ifdef __cplusplus
}
#endif
#endif
