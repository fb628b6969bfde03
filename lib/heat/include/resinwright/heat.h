/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * @file heat.h
 * @brief Fifth floor: when a mass of resin runs away, heat through a casting, fillet or film on
 * wood, softening of a cured hull, and the ramp of a post-cure.
 *
 * Heat can hurt: a thick mass of mixed resin can boil, smoke and burn, and a heated tent can
 * catch fire. What is computed here is an aid to judgement; the maker's data sheet, local rules
 * and a trained person's advice come first.
 *
 * Threads: reentrant.
 *
 * Equation numbers are those of docs/theory.md.
 */
#ifndef RESINWRIGHT_HEAT_H
#define RESINWRIGHT_HEAT_H

#include <resinwright/base.h>
#include <resinwright/cure.h>
#include <resinwright/history.h>

#ifdef __cplusplus
extern "C" {
#endif

/** Shapes of a body that warms itself. */
typedef enum rw_shape {
  RW_SHAPE_SLAB,     /**< wide slab; its size is half its thickness */
  RW_SHAPE_CYLINDER, /**< long cylinder; its size is its radius */
  RW_SHAPE_SPHERE    /**< sphere; its size is its radius */
} rw_shape;

/** The edge of runaway. */
typedef struct rw_critical {
  double delta; /**< greatest heating parameter with a steady state, (40) or (43) */
  double theta; /**< rise of the warmest place there, in units of R T^2/E */
} rw_critical;

/**
 * The edge of runaway of a body whose heat is not used up (Frank-Kamenetskii): the greatest delta
 * for which theta'' + (j/x) theta' = -delta exp(theta) (40) has a solution with
 * theta'(1) = -biot theta(1); by integration from the middle and a root in the distance.
 * @param shape  shape
 * @param biot   surface coefficient times size over conductivity, 1e-9 to HUGE_VAL; HUGE_VAL: the
 *               surface is held at the temperature of the air
 * @param out    result
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT; RW_ERR_RANGE; RW_ERR_NUMERIC
 */
RW_API rw_status rw_runaway_critical(rw_shape shape, double biot, rw_critical *out, rw_error *err);
/**
 * The edge of runaway of a body of one temperature that loses heat in proportion to its rise
 * (Semenov): the greatest psi for which theta = psi exp(theta) (43) has a solution.
 * @param out  psi (as delta) and theta
 * @param err  error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT; RW_ERR_NUMERIC
 */
RW_API rw_status rw_runaway_uniform(rw_critical *out, rw_error *err);

/** A body in which heat comes free at heat x A exp(-E/(R T)) per mass. */
typedef struct rw_body {
  rw_shape shape;      /**< shape */
  double size;         /**< m, half-thickness or radius, 1e-5 to 100 */
  double conductivity; /**< W/(m K), 1e-3 to 1e3 */
  double surface;      /**< W/(m2 K), 1e-3 up; HUGE_VAL: held at the temperature of the air */
  double density;      /**< kg/m3, 1 to 3e4 */
  double heat;         /**< J/kg, 1 to 1e10 */
  double A;            /**< 1/s, 1e-12 to 1e40 */
  double E;            /**< J/mol, 10e3 to 300e3 */
} rw_body;
/**
 * Heating parameter of a body in air, density heat A E size^2 exp(-E/(R T))/(conductivity R T^2).
 * (41)
 * @param body   body
 * @param T      K, 150 to 600
 * @param delta  result
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT; RW_ERR_RANGE
 */
RW_API rw_status rw_body_delta(const rw_body *body, double T, double *delta, rw_error *err);
/**
 * The air temperature at which a body is at the edge of runaway: above it the body warms without
 * end while its heat lasts.
 * @param body  body
 * @param T     K
 * @param err   error record, or NULL
 * @return RW_OK; RW_NOT_REACHED where the edge does not lie between 150 and 600 K (T untouched,
 *         err says on which side); RW_ERR_ARGUMENT; RW_ERR_RANGE; RW_ERR_NUMERIC
 */
RW_API rw_status rw_body_critical_air(const rw_body *body, double *T, rw_error *err);

/**
 * A bound on how fast a resin can warm itself: no mix of this resin, at any degree of cure, is
 * faster at a temperature T' >= T than rate exp(E/R (1/T - 1/T')). (42) The rate is the greatest
 * over the degree of cure with the slowing by stiffening left out and a negative k2 taken as
 * zero; E is the greatest of the law's energies in use.
 * @param law   law
 * @param T     K, 230 to 400
 * @param rate  1/s
 * @param E     J/mol
 * @param err   error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_ERR_ARGUMENT; RW_ERR_RANGE
 */
RW_API rw_status rw_cure_law_bound(const rw_cure_law *law, double T, double *rate, double *E,
                                   rw_error *err);
/**
 * The greatest size of a mass of resin that cannot run away in steady air, with the bound (42)
 * and the resin no warmer than the air when poured. The real limit lies higher, because the resin
 * is used up.
 *
 * A slab open to the air on both faces may be twice as thick as the result; a casting in a mould
 * or on wood just as thick, for wood counts as tight to heat.
 * @param r             resin
 * @param shape         shape
 * @param conductivity  W/(m K) of the resin, 0.02 to 10; 0.2 is usual for unfilled epoxy
 * @param surface       W/(m2 K), 0.1 up, HUGE_VAL: held at the temperature of the air; 8 to 10
 *                      in still air (common practice, no source)
 * @param air           K, 230 to 400
 * @param size          m, half-thickness or radius
 * @param err           error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_NOT_REACHED where 10 m are safe (size untouched);
 *         RW_ERR_ARGUMENT; RW_ERR_RANGE; RW_ERR_NUMERIC
 */
RW_API rw_status rw_resin_safe_size(const rw_resin *r, rw_shape shape, double conductivity,
                                    double surface, double air, double *size, rw_error *err);
/**
 * The greatest mass in a cup or tray that cannot run away in steady air, taken as of one
 * temperature (Semenov) with the bound (42). (44) Heat leaves by the open surface, the wetted side
 * and the bottom alike; the resin's own conduction is left out, so in a wide vessel look at
 * rw_resin_safe_size too.
 * @param r        resin
 * @param v        vessel
 * @param surface  W/(m2 K), mean over all surfaces, 0.1 to 1e4
 * @param air      K, 230 to 400
 * @param mass     kg
 * @param err      error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_NOT_REACHED where any depth is safe, its side losing
 *         enough (mass untouched); RW_ERR_ARGUMENT; RW_ERR_RANGE; RW_ERR_NUMERIC
 */
RW_API rw_status rw_vessel_safe_mass(const rw_resin *r, const rw_vessel *v, double surface,
                                     double air, double *mass, rw_error *err);

/** What a spread can come from. */
typedef enum rw_heat_unknown {
  RW_HEAT_RATE,        /**< rate of the resin */
  RW_HEAT_ENERGY,      /**< its activation energies, all together */
  RW_HEAT_TEMPERATURE, /**< temperature of the hull, as a whole */
  RW_HEAT_PLATEAU,     /**< ac0 of (3): how far a cold cure goes */
  RW_HEAT_GLASS,       /**< Tg_inf of (5) */
  RW_HEAT_UNKNOWNS     /**< how many there are */
} rw_heat_unknown;
/**
 * Name of an rw_heat_unknown.
 * @param because  index
 * @return constant text, "" where there is none
 */
RW_API const char *rw_heat_because(int because);
/** A result and where 90 of 100 lie. */
typedef struct rw_heat_range {
  double value; /**< best estimate */
  double low;   /**< 5 % quantile */
  double high;  /**< 95 % quantile */
  int because;  /**< the rw_heat_unknown it goes with most closely; -1: none, there is no spread */
} rw_heat_range;
/**
 * rw_resin_safe_size with its spread. How far off the rate at the air's temperature may be comes
 * from the resin's rate_sd and energy_sd; a faster resin has less that is safe, so each end comes
 * from a resin that is 1.645 standard deviations faster or slower.
 * @param r             resin
 * @param shape         shape
 * @param conductivity  W/(m K), as in rw_resin_safe_size
 * @param surface       W/(m2 K), likewise
 * @param air           K, 230 to 400
 * @param size          m; value or high HUGE_VAL where 10 m are safe
 * @param err           error record, or NULL
 * @return as rw_resin_safe_size; RW_NOT_REACHED where 10 m are safe of the faster resin too
 */
RW_API rw_status rw_resin_safe_size_range(const rw_resin *r, rw_shape shape, double conductivity,
                                          double surface, double air, rw_heat_range *size,
                                          rw_error *err);
/**
 * rw_vessel_safe_mass with its spread, as in rw_resin_safe_size_range.
 * @param r        resin
 * @param v        vessel
 * @param surface  W/(m2 K), 0.1 to 1e4
 * @param air      K, 230 to 400
 * @param mass     kg; value or high HUGE_VAL where any depth is safe
 * @param err      error record, or NULL
 * @return as rw_vessel_safe_mass; RW_NOT_REACHED where any depth is safe of the faster resin too
 */
RW_API rw_status rw_vessel_safe_mass_range(const rw_resin *r, const rw_vessel *v, double surface,
                                           double air, rw_heat_range *mass, rw_error *err);

/** Resin on wood, or a casting (wood 0), in air on both sides. */
typedef struct rw_slab {
  double wood;               /**< m, thickness of the wood, 0 (none) or 1e-4 to 1 */
  double wood_conductivity;  /**< W/(m K), 0.01 to 500; with no wood the wood's are not read */
  double wood_density;       /**< kg/m3, 20 to 1e4 */
  double wood_heat_capacity; /**< J/(kg K), 100 to 1e4 */
  double wood_start;         /**< K, 230 to 400 */
  double resin;              /**< m, thickness of the resin, 1e-5 to 1 */
  double resin_conductivity; /**< W/(m K), 0.01 to 10; 0.2 is usual for unfilled epoxy */
  double resin_start;        /**< K, 230 to 400 */
  double cure_start;         /**< degree of cure, 0 to 1 */
  double back;               /**< W/(m2 K) at the wood's outer side (the resin's underside with no
                                  wood), >= 0; 0: tight to heat, or the middle of a slab twice as
                                  thick; HUGE_VAL: held at the temperature of the air */
  double front;              /**< the same at the resin's open face */
  size_t wood_cells;         /**< 0 (24 are taken) or 2 to 2000 */
  size_t resin_cells;        /**< 0 (40 are taken) or 2 to 2000 */
  double tolerance;          /**< K, wanted error in temperature, 1e-8 to 1; 1e-3 is usual; the
                                  degree of cure is followed to tolerance/(200 K) */
} rw_slab;

/** What is to be noted at given times. */
typedef struct rw_slab_profile {
  const double *time;  /**< s, n of them, rising, from `from` to `to` */
  size_t n;            /**< how many, 1 to 10000 */
  double *temperature; /**< K, n rows of rw_slab_places numbers, wood's outer side first */
  double *cure;        /**< degree of cure, likewise (NaN in wood); or NULL */
} rw_slab_profile;

/** What happens in a slab. Times on the clock of the air's history, HUGE_VAL: not reached. */
typedef struct rw_slab_result {
  double peak;           /**< K, warmest place of the resin, at the middle of a cell */
  double peak_depth;     /**< m below the resin's open face */
  double peak_time;      /**< s */
  double work_end_first; /**< s, too thick to spread in the first place */
  double work_end_last;  /**< s, everywhere */
  double gel_first;      /**< s, gelled in the first place */
  double gel_last;       /**< s, gelled everywhere */
  double cure_least;     /**< degree of cure at the end, least over the thickness */
  double cure_greatest;  /**< greatest */
  double released;       /**< J/m2, heat of reaction */
  double stored;         /**< J/m2, in wood and resin, end less start */
  double lost;           /**< J/m2, to the air */
  double balance;        /**< (stored + lost - released) over the greatest of the three */
  size_t steps;          /**< steps taken */
} rw_slab_result;

/**
 * How many places a slab's profile has.
 * @param s  slab
 * @return cells of wood and resin together
 */
RW_API size_t rw_slab_places(const rw_slab *s);
/**
 * Where the places of a slab's profile lie.
 * @param s      slab
 * @param depth  m below the resin's open face, rw_slab_places numbers, wood's outer side first
 */
RW_API void rw_slab_depths(const rw_slab *s, double *depth);
/**
 * Heat and cure through wood and resin: rho c dT/dt = (k T')' + rho H da/dt (45), the surface
 * coefficients at both sides, the rate law in every cell of resin. Finite volumes that lose no
 * heat (46); an implicit method of fourth order with error control (47). Where the resin passes
 * 500 K its rate is that of 500 K, and the result is outside what was tested: real resin chars.
 * @param r        resin
 * @param s        slab
 * @param air      temperature of the air
 * @param from     s, the moment of pouring
 * @param to       s, > from, at most 400 days later
 * @param profile  what to note, or NULL
 * @param out      result
 * @param err      error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_ERR_ARGUMENT; RW_ERR_RANGE; RW_ERR_ORDER; RW_ERR_COVERAGE;
 *         RW_ERR_MEMORY; RW_ERR_NUMERIC
 */
RW_API rw_status rw_slab_run(const rw_resin *r, const rw_slab *s, const rw_history *air,
                             double from, double to, const rw_slab_profile *profile,
                             rw_slab_result *out, rw_error *err);

/** How near a hull came to softening. */
typedef struct rw_softening {
  double cure;       /**< degree of cure at the end */
  double Tg;         /**< K, glass transition at the end */
  double worst;      /**< K, greatest T - Tg: above 0 the resin was softer than a glass */
  double worst_time; /**< s, when */
  double soft;       /**< s, how long T was above Tg */
} rw_softening;
/**
 * Glass transition and softening along a history, (5) and (48). Fresh resin is above its glass
 * transition; to judge a hull that is cured already, begin with its degree of cure.
 * @param r      resin
 * @param hull   temperature of the hull
 * @param from   s
 * @param to     s, > from
 * @param start  degree of cure at `from`, 0 to below 1
 * @param out    result
 * @param err    error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_ERR_ARGUMENT; RW_ERR_RANGE; RW_ERR_COVERAGE;
 *         RW_ERR_MEMORY; RW_ERR_NUMERIC
 */
RW_API rw_status rw_softening_along(const rw_resin *r, const rw_history *hull, double from,
                                    double to, double start, rw_softening *out, rw_error *err);

/** What a hull goes through for a while. */
typedef struct rw_period {
  const rw_history *hull; /**< temperature of the hull */
  double from;            /**< s */
  double to;              /**< s, > from */
} rw_period;
/**
 * Degree of cure after periods one after the other; nothing happens between two of them. It is
 * held a billionth below 1, so that a cure can go on from it.
 * @param r       resin
 * @param period  n periods, none beginning before the one before has ended
 * @param n       how many, 0 up; 0: the start
 * @param start   degree of cure at the beginning of the first, 0 to below 1
 * @param cure    result
 * @param err     error record, or NULL; its argument names the period, "period[2].hull"
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_ERR_ARGUMENT; RW_ERR_RANGE; RW_ERR_ORDER; RW_ERR_COVERAGE;
 *         RW_ERR_MEMORY; RW_ERR_NUMERIC
 */
RW_API rw_status rw_cure_through(const rw_resin *r, const rw_period *period, size_t n,
                                 double start, double *cure, rw_error *err);
/** How far off the hull and its resin may be, standard deviations. Those of the rate and of the
 * activation energies stand in the resin. */
typedef struct rw_softening_spread {
  double temperature_sd; /**< K, of the hull's temperature as a whole, 0 to 20; 1 is usual */
  double plateau_sd;     /**< of the law's ac0, 0 to 1 */
  double glass_sd;       /**< K, of Tg_inf, 0 to 50 */
} rw_softening_spread;
/**
 * Spread of a resin class, from the material tables. Who has measured the glass transition of the
 * resin at hand puts the spread of that measurement in its place.
 * @param class_          name of the class
 * @param temperature_sd  K, taken over as it is
 * @param out             spread
 * @param err             error record, or NULL
 * @return RW_OK; RW_ERR_NAME; RW_ERR_ARGUMENT
 */
RW_API rw_status rw_softening_spread_of(const char *class_, double temperature_sd,
                                        rw_softening_spread *out, rw_error *err);
/** How near a hull comes to softening in the last of some periods, as rw_softening, with 90 %
 * ranges. */
typedef struct rw_softening_outlook {
  rw_heat_range cure;       /**< degree of cure at the end */
  rw_heat_range Tg;         /**< K, glass transition at the end */
  rw_heat_range worst;      /**< K, greatest T - Tg */
  rw_heat_range worst_time; /**< s, when */
  rw_heat_range soft;       /**< s, how long T was above Tg */
  double chance;            /**< that T was ever above Tg, 0 to 1; NaN without draws */
} rw_softening_outlook;
/**
 * Softening in the last of some periods, (48), with its spread: rate (lognormal), activation
 * energies, temperature of the hull, ac0 and Tg_inf (normal) are drawn together from a shifted
 * Sobol sequence, each draw goes through all periods, and 5 % and 95 % quantiles are given with
 * the unknown of the greatest squared correlation. A draw's Tg_inf stays 1 K above Tg0.
 * @param r       resin
 * @param period  n periods, none beginning before the one before has ended
 * @param n       how many, at least 1
 * @param start   degree of cure at the beginning of the first, 0 to below 1
 * @param spread  standard deviations
 * @param draws   0 (no ranges: low = high = value) to 100000; 256 is plenty
 * @param seed    of the draws
 * @param out     result
 * @param err     error record, or NULL; its argument names the period, "period[2].hull"
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_ERR_ARGUMENT; RW_ERR_RANGE, also where a draw takes the
 *         hull beyond 200 to 500 K; RW_ERR_ORDER; RW_ERR_COVERAGE; RW_ERR_MEMORY; RW_ERR_NUMERIC
 */
RW_API rw_status rw_softening_forecast(const rw_resin *r, const rw_period *period, size_t n,
                                       double start, const rw_softening_spread *spread,
                                       size_t draws, unsigned long seed, rw_softening_outlook *out,
                                       rw_error *err);

/** Usual margin of a post-cure, K: stay 5 K below the glass transition, since resin loses
 * stiffness some kelvin before it. Common practice, no source. */
#define RW_POSTCURE_MARGIN (-5.0)

/** A place that can heat a hull: a booth for a night, a black tent on sunny days. */
typedef struct rw_place {
  double most;     /**< K, warmest it gets, 250 to 393.15 */
  double span;     /**< s of heating and holding in a session, 600 to 60 days */
  size_t sessions; /**< how often it is to be had, 1 to 60 */
  double period;   /**< s from the start of a session to the start of the next, >= span; not read
                        where there is one session */
  double rest;     /**< K before, between and after, 250 to `most` */
  double heating;  /**< K/s, fastest rise, 1e-5 to 1; 10 K an hour is 0.00278 */
  double cooling;  /**< K/s, fastest fall, 1e-5 to 1 */
  double step;     /**< s, how often the setting is changed, 60 to span; 1800 is usual */
} rw_place;

/** A planned post-cure. Temperatures are those of the hull. */
typedef struct rw_postcure {
  double time;       /**< s, when the wanted glass transition is reached; HUGE_VAL: never here */
  double cure;       /**< degree of cure at the end */
  double Tg;         /**< K, glass transition at the end */
  double worst;      /**< K, greatest T - Tg along the ramp */
  double worst_time; /**< s, when */
  double soft_start; /**< s at the beginning, held at rest because T was above Tg + margin already;
                          the margin is kept from then on */
  double first_most; /**< s, when `most` is first reached; HUGE_VAL: never */
  double hold;       /**< s held at `most`, all sessions together */
  double unbroken;   /**< s from the start until the wanted glass transition where the place is to
                          be had without a break; HUGE_VAL where 30 days don't do */
  double month;      /**< K, glass transition after 30 days there without a break */
  double needed;     /**< K, least `most` that reaches it in the sessions there are; HUGE_VAL where
                          120 degC don't do */
} rw_postcure;
/**
 * Plan a post-cure: the warmest ramp of straight pieces that never rises while the hull is above
 * Tg(a) + margin (48), that keeps to the place's rates, and that ends when the wanted glass
 * transition is reached.
 * @param r       resin
 * @param place   place
 * @param cure    degree of cure now, 0 to below 1
 * @param margin  K, keep T <= Tg + margin, -60 to 30; RW_POSTCURE_MARGIN is usual
 * @param target  K, wanted glass transition, Tg0 to Tg_inf of the resin
 * @param from    s, start of the first session on any clock
 * @param out     plan
 * @param ramp    temperature over time, from `from` until the hull is back at rest; free with
 *                rw_history_destroy; its points are the settings, two of the same temperature a
 *                hold
 * @param err     error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_NO_SOLUTION where the target is not reached (plan and ramp
 *         are the nearest, err says what would do); RW_ERR_ARGUMENT; RW_ERR_RANGE; RW_ERR_MEMORY;
 *         RW_ERR_NUMERIC
 */
RW_API rw_status rw_postcure_plan(const rw_resin *r, const rw_place *place, double cure,
                                  double margin, double target, double from, rw_postcure *out,
                                  rw_history **ramp, rw_error *err);

#ifdef __cplusplus
}
#endif
#endif
