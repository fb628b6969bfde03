/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * @file cure.h
 * @brief Fourth floor: rate laws, degree of cure over any history, glass transition, viscosity,
 * milestones, the pot, and a resin made from its label.
 *
 * Threads: reentrant; a finished path may be read by many threads.
 *
 * Equation numbers are those of docs/theory.md.
 */
#ifndef RESINWRIGHT_CURE_H
#define RESINWRIGHT_CURE_H

#include <resinwright/base.h>
#include <resinwright/data.h>
#include <resinwright/history.h>

#ifdef __cplusplus
extern "C" {
#endif

/** Molar gas constant, J/(mol K), exact in the SI of 2019. */
#define RW_GAS_CONSTANT 8.31446261815324

/** Kinds of rate law. */
typedef enum rw_law_kind {
  RW_LAW_NTH_ORDER, /**< k1 (1-a)^n */
  RW_LAW_KAMAL      /**< (k1 + k2 a^m)(1-a)^n, Kamal & Sourour 1973 */
} rw_law_kind;

/**
 * A rate law for the degree of cure a in [0, 1]:
 * da/dt = (k1 + k2 a^m)(1-a)^n / (1 + exp(C (a - ac))), (1)
 * k_i(T) = k_i exp(-E_i/R (1/T - 1/T_ref)), (2)
 * ac(T) = ac0 + acT (T - T_ref) (Chern & Poehlein 1987), (3)
 * so that a cold cure slows to a plateau that rises with temperature.
 */
typedef struct rw_cure_law {
  rw_law_kind kind; /**< kind; an n-th order law leaves k2, E2 and m unused */
  double k1;        /**< 1/s at T_ref, >= 0 */
  double E1;        /**< J/mol, 10e3 to 300e3 (tested 30e3 to 200e3) */
  double k2;        /**< 1/s at T_ref, >= 0 */
  double E2;        /**< J/mol */
  double m;         /**< 0 to 4 */
  double n;         /**< 0.2 to 4 */
  double T_ref;     /**< K, 200 to 500 */
  double C;         /**< steepness of the diffusion factor, 0 (none) to 200 */
  double ac0;       /**< conversion where diffusion halves the rate at T_ref */
  double acT;       /**< its slope, 1/K */
} rw_cure_law;

/**
 * Check a rate law.
 * @param law  law
 * @param err  error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED for an E outside 30e3 to 200e3; RW_ERR_RANGE; RW_ERR_ARGUMENT
 *         where it can never start (k1 = 0 and m >= 1 is allowed, but needs a start above 0)
 */
RW_API rw_status rw_cure_law_check(const rw_cure_law *law, rw_error *err);

/**
 * Centred rate constant from a published pair: k = A exp(-E/(R T_ref)).
 * @param A      1/s (divide a value per minute by 60)
 * @param E      J/mol
 * @param T_ref  K
 * @return 1/s
 */
RW_API double rw_rate_at(double A, double E, double T_ref);
/**
 * Published factor from a centred rate constant: A = k exp(E/(R T_ref)).
 * @param k      1/s at T_ref
 * @param E      J/mol
 * @param T_ref  K
 * @return 1/s
 */
RW_API double rw_rate_factor(double k, double E, double T_ref);

/**
 * Rate of cure, (1).
 * @param law   law
 * @param a     degree of cure, 0 to 1
 * @param T     K
 * @param rate  1/s
 * @param err   error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_ERR_RANGE
 */
RW_API rw_status rw_cure_rate(const rw_cure_law *law, double a, double T, double *rate,
                              rw_error *err);

/** Degree of cure over time: one polynomial per step, so that every time between is exact too. */
typedef struct rw_cure_path rw_cure_path;

/**
 * Integrate a rate law over a history, from kink to kink, by Taylor series with as many terms as
 * the tolerance asks. A start at a = 0 with a broken power m begins on the fractional power
 * series of the law, so it never sticks.
 * @param law        law
 * @param h          temperature of the resin (not needed after the call)
 * @param from       s, the moment of mixing
 * @param to         s, > from
 * @param start      degree of cure at `from`, 0 to below 1
 * @param tolerance  wanted error in a, 1e-12 to 1e-2; 1e-6 is usual
 * @param out        path; free with rw_cure_path_destroy
 * @param err        error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_ERR_RANGE; RW_ERR_COVERAGE where the history is too
 *         short; RW_ERR_ARGUMENT where the cure would never start; RW_ERR_MEMORY; RW_ERR_NUMERIC
 */
RW_API rw_status rw_cure_run(const rw_cure_law *law, const rw_history *h, double from, double to,
                             double start, double tolerance, rw_cure_path **out, rw_error *err);
/**
 * Degree of cure on a path.
 * @param p     path
 * @param time  s
 * @param a     degree of cure
 * @param rate  1/s, or NULL
 * @param T     temperature of the resin, K, or NULL
 * @param err   error record, or NULL
 * @return RW_OK; RW_ERR_COVERAGE
 */
RW_API rw_status rw_cure_at(const rw_cure_path *p, double time, double *a, double *rate, double *T,
                            rw_error *err);
/**
 * When a path reaches a degree of cure, found on the step's own polynomial.
 * @param p     path
 * @param a     0 to 1
 * @param time  s; the path's beginning where it starts above a
 * @param err   error record, or NULL
 * @return RW_OK; RW_NOT_REACHED (time untouched); RW_ERR_RANGE
 */
RW_API rw_status rw_cure_when(const rw_cure_path *p, double a, double *time, rw_error *err);
/**
 * First and last time of a path.
 * @param p     path
 * @param from  s, or NULL
 * @param to    s, or NULL
 */
RW_API void rw_cure_path_span(const rw_cure_path *p, double *from, double *to);
/**
 * Free a path.
 * @param p  path, or NULL
 */
RW_API void rw_cure_path_destroy(rw_cure_path *p);

/**
 * Equivalent age: integral of exp(-E/R (1/T - 1/T_ref)) dt (EN 1992-1-1 (B.10) has this form),
 * by 5-point Gauss on pieces of at most 4 K. (4)
 * @param E      J/mol, 0 to 300e3
 * @param T_ref  K, 200 to 500
 * @param h      history
 * @param from   s
 * @param to     s, >= from
 * @param age    s at T_ref
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_COVERAGE
 */
RW_API rw_status rw_equivalent_age(double E, double T_ref, const rw_history *h, double from,
                                   double to, double *age, rw_error *err);

/** Glass transition against degree of cure (DiBenedetto; Pascault & Williams 1990). */
typedef struct rw_glass {
  double Tg0;    /**< K, uncured */
  double Tg_inf; /**< K, fully cured, > Tg0 */
  double lambda; /**< 0 to 1 exclusive of 0 */
} rw_glass;
/**
 * Tg = Tg0 + (Tg_inf - Tg0) lambda a/(1 - (1 - lambda) a). (5)
 * @param g    glass parameters
 * @param a    0 to 1
 * @param Tg   K
 * @param err  error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_glass_temperature(const rw_glass *g, double a, double *Tg, rw_error *err);
/**
 * Degree of cure at which Tg has a value: the inverse of (5).
 * @param g    glass parameters
 * @param Tg   K, Tg0 to Tg_inf
 * @param a    0 to 1
 * @param err  error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_glass_conversion(const rw_glass *g, double Tg, double *a, rw_error *err);

/** Viscosity of the mixed resin (Castro & Macosko 1980). */
typedef struct rw_flow {
  double mu;    /**< Pa s at T_ref, uncured */
  double E;     /**< J/mol */
  double T_ref; /**< K */
  double a_gel; /**< degree of cure at gel */
  double C1;    /**< exponent */
  double C2;    /**< its slope in a */
} rw_flow;
/**
 * mu exp(E/R (1/T - 1/T_ref)) (a_gel/(a_gel - a))^(C1 + C2 a); infinite from gel on. (6)
 * @param f    flow parameters
 * @param a    0 to 1
 * @param T    K
 * @param mu   Pa s, HUGE_VAL from gel on
 * @param err  error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_viscosity(const rw_flow *f, double a, double T, double *mu, rw_error *err);

/**
 * Gel conversion of the minority group, [(fe - 1)(fa - 1) r_min]^(-1/2), r_min = min(r, 1/r)
 * (Flory 1953; Macosko & Miller 1976). (7)
 * @param r    amine hydrogens per epoxide group, > 0
 * @param fe   functionality of the resin, 2 to 10
 * @param fa   amine hydrogens per hardener molecule, 2 to 10
 * @param gel  conversion of the minority group
 * @param err  error record, or NULL
 * @return RW_OK; RW_NOT_REACHED where it never gels (gel untouched); RW_ERR_RANGE
 */
RW_API rw_status rw_gel_conversion(double r, double fe, double fa, double *gel, rw_error *err);
/**
 * Hardener needed per mass of resin: amine hydrogen equivalent over epoxide equivalent.
 * @param eew    epoxide equivalent weight, kg/mol
 * @param ahew   amine hydrogen equivalent weight, kg/mol
 * @param ratio  kg hardener per kg resin
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_hardener_needed(double eew, double ahew, double *ratio, rw_error *err);

/** Milestones of a film on the hull, in the order a builder meets them. */
#define RW_MILESTONE_LIST(X)                                                                      \
  X(RW_WORK_END, "work_end", "too thick to spread and wet out cloth")                             \
  X(RW_GEL, "gel", "gelled: no longer flows")                                                     \
  X(RW_RECOAT_OPENS, "recoat_opens", "firm: the next coat no longer shifts the cloth")            \
  X(RW_BLUSH_PAST, "blush_past", "past most of the harm that damp air does to the surface")       \
  X(RW_TRIM_OPENS, "trim_opens", "leathery: the cloth cuts clean without dragging")               \
  X(RW_TRIM_CLOSES, "trim_closes", "too hard to cut with a knife")                                \
  X(RW_RECOAT_CLOSES, "recoat_closes", "a thumbnail leaves no mark: from now on sand first")      \
  X(RW_HANDLE, "handle", "strong enough to turn the hull over")                                   \
  X(RW_SAND, "sand", "sands to powder")                                                           \
  X(RW_SERVICE, "service", "hard enough to varnish, load and launch")

/** A milestone, see @ref RW_MILESTONE_LIST. */
typedef enum rw_milestone {
/** @cond expansion */
#define RW_X(name, key, text) name,
  RW_MILESTONE_LIST(RW_X)
#undef RW_X
      RW_MILESTONES
  /** @endcond */
} rw_milestone;
/**
 * Key of a milestone: "recoat_opens".
 * @param m  milestone
 * @return constant text, NULL where there is none
 */
RW_API const char *rw_milestone_key(rw_milestone m);
/**
 * What a milestone means to the hand.
 * @param m  milestone
 * @return constant text, NULL where there is none
 */
RW_API const char *rw_milestone_text(rw_milestone m);

/** A mixed resin: everything the clock depends on. */
typedef struct rw_resin {
  rw_cure_law law;                   /**< rate law */
  rw_glass glass;                    /**< glass transition */
  rw_flow flow;                      /**< viscosity */
  double heat;                       /**< J/kg of mix, full reaction */
  double heat_capacity;              /**< J/(kg K) */
  double density;                    /**< kg/m3 of mix */
  double hardener;                   /**< kg hardener per kg resin */
  double work_viscosity;             /**< Pa s: work ends there, in the film and in the pot */
  rw_value threshold[RW_MILESTONES]; /**< degree of cure at each milestone; RW_WORK_END holds
                                          the share by which its viscosity is uncertain (sd of
                                          the logarithm), value unused */
  double rate_sd;                    /**< sd of the logarithm of the rate */
  double energy_sd;                  /**< sd of both activation energies together, J/mol */
} rw_resin;

/**
 * A resin class from the material tables.
 * @param name  class name, such as "slow-polyetheramine"
 * @param out   resin
 * @param err   error record, or NULL
 * @return RW_OK; RW_ERR_NAME
 */
RW_API rw_status rw_resin_find(const char *name, rw_resin *out, rw_error *err);
/**
 * Check a resin's numbers.
 * @param r    resin
 * @param err  error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_ERR_RANGE
 */
RW_API rw_status rw_resin_check(const rw_resin *r, rw_error *err);

/** A vessel that mixed resin stands in. */
typedef struct rw_vessel {
  double footprint; /**< m2, area of its bottom */
  double perimeter; /**< m, around the bottom */
  double wall;      /**< J/K, heat capacity of the wall that warms with the resin */
} rw_vessel;
/**
 * A round cup of plastic.
 * @param diameter  m, 0.02 to 0.5
 * @param out       vessel
 * @param err       error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_vessel_cup(double diameter, rw_vessel *out, rw_error *err);
/**
 * A flat tray of plastic.
 * @param length  m, 0.05 to 1
 * @param width   m, 0.05 to 1
 * @param out     vessel
 * @param err     error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_vessel_tray(double length, double width, rw_vessel *out, rw_error *err);

/** What happens in a pot. */
typedef struct rw_pot {
  double work_end;  /**< s after mixing when it is too thick to spread; HUGE_VAL: not in 24 h */
  double hot;       /**< s after mixing when it passes 60 degC; HUGE_VAL: never */
  double gel;       /**< s after mixing when it gels; HUGE_VAL: not in 24 h */
  double peak;      /**< K, warmest, in the first 24 h */
  double peak_time; /**< s after mixing */
  double balance;   /**< energy closure: (stored + lost - released)/released */
} rw_pot;
/**
 * Cure and heat of a mixed batch standing in a vessel, lumped: (m c + wall) dT/dt =
 * m H da/dt - UA (T - T_air), (8). UA from the wetted and the open area with surface
 * coefficients of 10 (open), 8 (side) and 4 W/(m2 K) (bottom on a bench) and the resin's own
 * conduction in series (0.2 W/(m K)); coefficients: common practice, no source.
 * @param r        resin
 * @param v        vessel
 * @param mass     kg, 0.001 to 50
 * @param start    K, temperature of the mixed resin
 * @param air      K
 * @param out      result
 * @param err      error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_ERR_RANGE; RW_ERR_NUMERIC
 */
RW_API rw_status rw_pot_run(const rw_resin *r, const rw_vessel *v, double mass, double start,
                            double air, rw_pot *out, rw_error *err);

/** What a label says. NaN where it says nothing. */
typedef struct rw_label {
  double pot_life;           /**< s until pot_mass is too thick or hot to use */
  double pot_mass;           /**< kg, 0.1 is usual */
  double pot_temperature;    /**< K, 298.15 is usual */
  double recoat_from;        /**< s after coating when the next coat may go on */
  double recoat_until;       /**< s after coating until which it bonds without sanding */
  double recoat_temperature; /**< K */
  double hardener;           /**< kg hardener per kg resin */
  double density;            /**< kg/m3 of the mix */
} rw_label;
/**
 * Make a resin from its label and a class for all that a label does not say.
 *
 * The rate is scaled so that the pot model (100 g in a 70 mm cup unless the label says another
 * mass) thickens at the label's pot life, and that the film opens and closes for recoating at the
 * label's hours with the class's thresholds; where the label gives both they are weighted by
 * their spreads (pot 0.25, opening 0.30, closing 0.30 in the logarithm: common practice, no
 * source). The two recoat thresholds are then set so that the label's hours are met exactly, the
 * thresholds between and beyond them moving along.
 * @param class_  the class
 * @param label   the label
 * @param out     resin
 * @param err     error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED where label and class disagree by more than a factor of two in
 *         time (message in err says which way); RW_ERR_ARGUMENT where the label holds no time, or
 *         a temperature is missing; RW_ERR_RANGE; RW_ERR_NUMERIC
 */
RW_API rw_status rw_resin_from_label(const rw_resin *class_, const rw_label *label, rw_resin *out,
                                     rw_error *err);

/** When milestones are reached, with 90 % intervals. Times in s; HUGE_VAL: not in the time
 * looked at. */
typedef struct rw_forecast {
  double time[RW_MILESTONES]; /**< best estimate */
  double low[RW_MILESTONES];  /**< 5 % quantile */
  double high[RW_MILESTONES]; /**< 95 % quantile */
  int because[RW_MILESTONES]; /**< largest contributor: 0 rate, 1 activation energy, 2
                                   temperature, 3 touch (the threshold) */
  double reached;             /**< degree of cure at the end, best estimate */
} rw_forecast;
/**
 * Name of a contributor of rw_forecast.because.
 * @param because  index
 * @return constant text, "" where there is none
 */
RW_API const char *rw_forecast_because(int because);
/**
 * Forecast the milestones of a film laid at a moment on a hull.
 * @param r              resin
 * @param hull           temperature of the hull
 * @param from           s, laid then (mixed then, to within minutes)
 * @param to             s, look as far as that
 * @param temperature_sd K, how far off the hull's temperature may be as a whole
 * @param draws          0 (no intervals: low = high = time) to 100000; 256 is plenty
 * @param seed           of the draws
 * @param out            result
 * @param err            error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_ERR_RANGE; RW_ERR_COVERAGE; RW_ERR_MEMORY;
 *         RW_ERR_NUMERIC
 */
RW_API rw_status rw_cure_forecast(const rw_resin *r, const rw_history *hull, double from,
                                  double to, double temperature_sd, size_t draws,
                                  unsigned long seed, rw_forecast *out, rw_error *err);

/**
 * Chance that each milestone has been reached by a time.
 * @param r               resin
 * @param hull            temperature of the hull
 * @param from            s, laid then
 * @param at              s, > from
 * @param temperature_sd  K
 * @param draws           1 to 100000
 * @param seed            of the draws
 * @param chance          one per milestone, 0 to 1
 * @param err             error record, or NULL
 * @return as rw_cure_forecast
 */
RW_API rw_status rw_cure_chances(const rw_resin *r, const rw_history *hull, double from, double at,
                                 double temperature_sd, size_t draws, unsigned long seed,
                                 double chance[RW_MILESTONES], rw_error *err);

/**
 * The least steady temperature at which a degree of cure is reached in a given time.
 * @param r     resin
 * @param a     degree of cure
 * @param span  s
 * @param T     K, between 263.15 and 393.15
 * @param err   error record, or NULL
 * @return RW_OK; RW_NOT_REACHED where 393.15 K do not do it; RW_ERR_RANGE; RW_ERR_NUMERIC
 */
RW_API rw_status rw_cure_warmth(const rw_resin *r, double a, double span, double *T,
                                rw_error *err);

#ifdef __cplusplus
}
#endif
#endif
