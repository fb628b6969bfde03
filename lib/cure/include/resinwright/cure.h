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
  RW_LAW_NTH_ORDER,       /**< k1 (1-a)^n */
  RW_LAW_KAMAL,           /**< (k1 + k2 a^m)(1-a)^n, Kamal & Sourour 1973 */
  RW_LAW_PLATEAU,         /**< (k1 + k2 a^m)(1-a)^(n/2)(limit-a)^(n/2): ends at the limit, or at 1;
                               with the ratio of amine hydrogens to epoxide groups as its limit it
                               is the law of a mix off its ratio */
  RW_LAW_SESTAK_BERGGREN, /**< k1 a^m (1-a)^n, truncated form */
  RW_LAW_TWO_STAGE        /**< (k1 + k2 a)(1-a)(limit-a) up to a = split, k3 (1-a) beyond; k2 may
                               be negative (Lee, Loos & Springer 1982) */
} rw_law_kind;

/** Glass transition against degree of cure (DiBenedetto; Pascault & Williams 1990). */
typedef struct rw_glass {
  double Tg0;    /**< K, uncured */
  double Tg_inf; /**< K, fully cured, > Tg0 */
  double lambda; /**< 0 to 1 exclusive of 0 */
} rw_glass;

/**
 * How a stiffening resin slows its own cure, second form: the rate constant is k_chem k_diff/
 * (k_chem + k_diff), k_chem = k1 + k2 a^m, with
 * k_diff = k exp(c1 (T - Tg(a))/(c2 + |T - Tg(a)|)) (24)
 * (form of Simon & Gillham 1993, from memory; c1 = 40.2 and c2 = 51.6 K are the usual constants
 * of Williams, Landel & Ferry in the natural logarithm).
 */
typedef struct rw_stiffening {
  double k;       /**< 1/s at T = Tg, 0: none */
  double c1;      /**< 0 to 100 */
  double c2;      /**< K, 5 to 500 */
  rw_glass glass; /**< Tg(a) */
} rw_stiffening;

/**
 * A rate law for the degree of cure a in [0, 1]. An n-th order or Kamal law, which most resins
 * have, reads
 * da/dt = (k1 + k2 a^m)(1-a)^n / (1 + exp(C (a - ac))), (1)
 * k_i(T) = k_i exp(-E_i/R (1/T - 1/T_ref)), (2)
 * ac(T) = ac0 + acT (T - T_ref) (Chern & Poehlein 1987), (3)
 * so that a cold cure slows to a plateau that rises with temperature. Members that a kind does
 * not name are left alone.
 */
typedef struct rw_cure_law {
  rw_law_kind kind;         /**< kind */
  double k1;                /**< 1/s at T_ref, >= 0 */
  double E1;                /**< J/mol, 10e3 to 300e3 (tested 30e3 to 200e3) */
  double k2;                /**< 1/s at T_ref, >= 0 */
  double E2;                /**< J/mol */
  double m;                 /**< 0 to 4 */
  double n;                 /**< 0.2 to 4 */
  double T_ref;             /**< K, 200 to 500 */
  double C;                 /**< steepness of the diffusion factor, 0 (none) to 200 */
  double ac0;               /**< conversion where diffusion halves the rate at T_ref */
  double acT;               /**< its slope, 1/K */
  double limit;             /**< plateau of RW_LAW_PLATEAU and RW_LAW_TWO_STAGE, 0.05 to 5 */
  double k3;                /**< 1/s at T_ref, RW_LAW_TWO_STAGE */
  double E3;                /**< J/mol */
  double split;             /**< degree of cure at which RW_LAW_TWO_STAGE turns, 0 to limit */
  rw_stiffening stiffening; /**< second form of diffusion control, all zero for none */
} rw_cure_law;

/**
 * Check a rate law.
 * @param law  law
 * @param err  error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED for an E outside 30e3 to 200e3; RW_ERR_RANGE; RW_ERR_ARGUMENT
 *         where it has no rate at all (one that cannot leave zero, having k1 = 0 and m > 0.99, is
 *         allowed but needs a start above 0)
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
 * The law of a mix off its ratio: the Kamal or n-th order law of the right mix with (1-a)^n split
 * into (1-a)^(n/2)(r-a)^(n/2), so that the epoxide stops at min(1, r).
 * @param law    law of the right mix, kind RW_LAW_KAMAL or RW_LAW_NTH_ORDER
 * @param r      amine hydrogens per epoxide group, 0.05 to 5
 * @param out    law
 * @param err    error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_ERR_RANGE; RW_ERR_ARGUMENT for another kind
 */
RW_API rw_status rw_cure_law_off_ratio(const rw_cure_law *law, double r, rw_cure_law *out,
                                       rw_error *err);
/**
 * The same law, faster or slower and with other activation energies: every rate constant times
 * exp(log_rate), every energy plus dE, held within 10e3 and 300e3 J/mol.
 * @param law       law
 * @param log_rate  logarithm of the factor
 * @param dE        J/mol
 * @return law
 */
RW_API rw_cure_law rw_cure_law_moved(const rw_cure_law *law, double log_rate, double dE);
/**
 * Highest degree of cure a law can reach: 1, or its plateau.
 * @param law  law, checked
 * @return degree of cure
 */
RW_API double rw_cure_law_top(const rw_cure_law *law);

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
 * @param start      degree of cure at `from`, 0 to below 1, at most the law's top
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
/** Viscosity of the mixed resin (Castro & Macosko 1980). */
typedef struct rw_flow {
  double mu;    /**< Pa s at T_ref, uncured */
  double E;     /**< J/mol */
  double T_ref; /**< K */
  double a_gel; /**< degree of cure at gel */
  double C1;    /**< exponent */
  double C2;    /**< its slope in a */
} rw_flow;

/** What rw_cure_event looks for. */
typedef enum rw_event_kind {
  RW_EVENT_CURE,     /**< a reaches the level */
  RW_EVENT_GLASS,    /**< Tg(a) - T reaches the level, K: 0 is vitrification */
  RW_EVENT_VISCOSITY /**< the viscosity reaches the level, Pa s */
} rw_event_kind;
/** One event. */
typedef struct rw_event {
  rw_event_kind kind;    /**< kind */
  double level;          /**< level reached from below */
  const rw_glass *glass; /**< for RW_EVENT_GLASS */
  const rw_flow *flow;   /**< for RW_EVENT_VISCOSITY */
} rw_event;
/**
 * When an event first happens on a path, found on the step's own polynomials.
 * @param p     path
 * @param e     event
 * @param time  s; the path's beginning where the level is passed already
 * @param err   error record, or NULL
 * @return RW_OK; RW_NOT_REACHED (time untouched); RW_ERR_RANGE; RW_ERR_ARGUMENT
 */
RW_API rw_status rw_cure_event(const rw_cure_path *p, const rw_event *e, double *time,
                               rw_error *err);
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
 * Equivalent age: integral of exp(-E/R (1/T - 1/T_ref)) dt (EN 1992-1-1 (B.10) has this form). (4)
 * On each straight piece by the trapezoid corrected with the derivatives at its ends where that is
 * good to `tolerance`, else by 5-point Gauss on parts of at most 4 K.
 * @param E          J/mol, 0 to 300e3
 * @param T_ref      K, 200 to 500
 * @param h          history
 * @param from       s
 * @param time       s, n of them, each >= the one before and >= from
 * @param n          number of times, >= 1
 * @param tolerance  relative, 1e-14 to 1e-3; below 1e-10 always by Gauss
 * @param age        s at T_ref, one for each time
 * @param err        error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_COVERAGE
 */
RW_API rw_status rw_equivalent_ages(double E, double T_ref, const rw_history *h, double from,
                                    const double *time, size_t n, double tolerance, double *age,
                                    rw_error *err);
/**
 * Equivalent age at one time, to 1e-12: rw_equivalent_ages for n = 1.
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
/**
 * When an equivalent age is reached.
 * @param E      J/mol, 0 to 300e3
 * @param T_ref  K, 200 to 500
 * @param h      history
 * @param from   s
 * @param age    s at T_ref, >= 0
 * @param time   s
 * @param err    error record, or NULL
 * @return RW_OK; RW_NOT_REACHED within the history; RW_ERR_RANGE; RW_ERR_COVERAGE
 */
RW_API rw_status rw_equivalent_age_when(double E, double T_ref, const rw_history *h, double from,
                                        double age, double *time, rw_error *err);

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

/** Milestones of a film on the hull, about in the order a builder meets them. */
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
  double energy_sd; /**< sd of both activation energies together, J/mol, 0 to 3e5 */
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
  double footprint; /**< m2, area of its bottom, 1e-6 to 10 */
  double perimeter; /**< m, around the bottom, above 0 to 1e3 */
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
  double balance;   /**< energy closure: (stored + lost - released)/the largest of them */
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

/** One of many cures over one history. */
typedef struct rw_cure_draw {
  rw_cure_law law;     /**< law of this draw */
  double shift;        /**< K added to the history */
  const rw_flow *flow; /**< viscosity of this draw, or NULL */
  double viscosity;    /**< Pa s, the limit to note where there is a flow */
} rw_cure_draw;
/** How many draws are to be run. */
typedef struct rw_draw_plan {
  double from;           /**< s, the moment of mixing */
  double to;             /**< s, > from */
  double start;          /**< degree of cure at `from` */
  double tolerance;      /**< wanted error in a, 1e-10 to 1e-2; 1e-6 is usual */
  size_t levels;         /**< degrees of cure to be timed per draw, 0 to 64 */
  unsigned threads;      /**< 0 or 1: none but the caller's; at most 64 */
  rw_progress *progress; /**< told after every few hundred draws, or NULL; called by one thread at
                              a time */
  void *context;         /**< handed to progress */
} rw_draw_plan;
/**
 * Many cures over one history, sixteen at a time in the lanes of vector registers, each group
 * with the step of its most demanding lane. The same bits with any number of threads; on a
 * processor with registers of another width the same to the tolerance. Laws of kind
 * RW_LAW_TWO_STAGE, those with a stiffening and those that are complete in a finite time are
 * followed one by one.
 * @param plan     what is wanted of all
 * @param draw     n draws
 * @param n        number of draws
 * @param h        history
 * @param level    plan->levels degrees of cure of each draw, rising, draw after draw
 * @param time     s, as many as levels: when each is reached; HUGE_VAL where it is not
 * @param thick    s, n of them: when the viscosity reaches its limit, HUGE_VAL where it does not
 *                 or where there is no flow; or NULL
 * @param reached  degree of cure of each at `to`, n of them, or NULL: a draw is then followed no
 *                 further than its last level
 * @param err      error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_ERR_STOPPED where progress said so (results are partly
 *         written); RW_ERR_RANGE; RW_ERR_ARGUMENT; RW_ERR_COVERAGE; RW_ERR_MEMORY; RW_ERR_NUMERIC
 */
RW_API rw_status rw_cure_draws(const rw_draw_plan *plan, const rw_cure_draw *draw, size_t n,
                               const rw_history *h, const double *level, double *time,
                               double *thick, double *reached, rw_error *err);

/** When milestones are reached, with 50 % and 90 % intervals. Times in s; HUGE_VAL: not in the
 * time looked at. */
typedef struct rw_forecast {
  double time[RW_MILESTONES];      /**< best estimate */
  double low[RW_MILESTONES];       /**< 5 % quantile */
  double high[RW_MILESTONES];      /**< 95 % quantile */
  double half_low[RW_MILESTONES];  /**< 25 % quantile */
  double half_high[RW_MILESTONES]; /**< 75 % quantile */
  int because[RW_MILESTONES];      /**< largest contributor: 0 rate, 1 activation energy, 2
                                        temperature, 3 touch (the threshold) */
  double reached;                  /**< degree of cure at the end, best estimate */
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
 * @param T     K, between 263.15 (also where less would do) and 393.15
 * @param err   error record, or NULL
 * @return RW_OK; RW_NOT_REACHED where 393.15 K do not do it; RW_ERR_RANGE; RW_ERR_NUMERIC
 */
RW_API rw_status rw_cure_warmth(const rw_resin *r, double a, double span, double *T,
                                rw_error *err);

/** What a milestone wants that a cure does not reach. */
typedef struct rw_wanting {
  int never; /**< 1 where a year at the hull's warmest does not do: the cure stops short of it */
  double warmth; /**< K, the least steady temperature that reaches it in the time looked at;
                      HUGE_VAL where 393.15 K do not */
} rw_wanting;
/**
 * What a milestone wants.
 * @param r          resin
 * @param hull       temperature of the hull
 * @param from       s, laid then
 * @param to         s, looked as far as that, at most a year
 * @param milestone  any but RW_WORK_END
 * @param out        result
 * @param err        error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT; RW_ERR_RANGE; RW_ERR_COVERAGE; RW_ERR_NUMERIC
 */
RW_API rw_status rw_cure_wanting(const rw_resin *r, const rw_history *hull, double from, double to,
                                 rw_milestone milestone, rw_wanting *out, rw_error *err);

/** A cure at a steady temperature. */
typedef struct rw_steady {
  double T;     /**< K, 200 to 500 */
  double start; /**< degree of cure it begins with, 0 to below 1 */
  double span;  /**< s, how far to look, 1 to 1e11; what comes later is "never" */
} rw_steady;
/** A cure under a steady heating rate. */
typedef struct rw_ramp {
  double from;    /**< K, 200 to 500 */
  double to;      /**< K, > from, to 500 */
  double heating; /**< K/s, 1e-9 to 1e3 */
  double start;   /**< degree of cure it begins with, 0 to below 1 */
} rw_ramp;
/** State of a resin at a moment of a cure. */
typedef struct rw_cure_state {
  double time;      /**< s from the beginning */
  double T;         /**< K */
  double cure;      /**< degree of cure */
  double rate;      /**< 1/s */
  double Tg;        /**< K, (5) */
  double viscosity; /**< Pa s, (6); HUGE_VAL from gel on */
} rw_cure_state;
/** Where the rate of cure is greatest. */
typedef struct rw_rate_peak {
  double rate; /**< 1/s */
  double cure; /**< degree of cure there */
  double time; /**< s from the beginning; HUGE_VAL: not within the span */
  double T;    /**< K */
} rw_rate_peak;
/** What is read off a cure at a steady temperature. */
typedef struct rw_steady_marks {
  rw_rate_peak peak; /**< greatest rate between the start and the law's top */
  double half_time;  /**< s until half of the law's top (rw_cure_law_top); HUGE_VAL: never */
  double reached;    /**< degree of cure at the end of the span */
} rw_steady_marks;

/**
 * When degrees of cure are reached at a steady temperature, (80). A cure is followed until it is
 * a billionth below the law's top; what lies above is never reached.
 * @param law   law
 * @param s     the cure
 * @param cure  n degrees of cure, 0 to 1, in any order
 * @param n     how many
 * @param time  s, n of them; 0 where it starts above, HUGE_VAL where it is never reached
 * @param err   error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED above 400 K or for an untested law; RW_ERR_RANGE;
 *         RW_ERR_ARGUMENT where the cure would never start; RW_ERR_MEMORY; RW_ERR_NUMERIC
 */
RW_API rw_status rw_steady_times(const rw_cure_law *law, const rw_steady *s, const double *cure,
                                 size_t n, double *time, rw_error *err);
/**
 * State of a resin at times of a cure at a steady temperature.
 * @param r      resin; its law, glass transition and viscosity are used
 * @param s      the cure
 * @param time   n times in s, 0 to s->span, in any order
 * @param n      how many
 * @param state  n of them
 * @param err    error record, or NULL
 * @return as rw_steady_times
 */
RW_API rw_status rw_steady_states(const rw_resin *r, const rw_steady *s, const double *time,
                                  size_t n, rw_cure_state *state, rw_error *err);
/**
 * Greatest rate, half-time and end of a cure at a steady temperature. The rate is a function of
 * the degree of cure alone there, (81); its greatest value is searched on the law itself. A flat
 * summit fixes the rate to 1e-12 of itself and the degree of cure to 1e-5.
 * @param law    law
 * @param s      the cure
 * @param marks  result
 * @param err    error record, or NULL
 * @return as rw_steady_times
 */
RW_API rw_status rw_steady_find(const rw_cure_law *law, const rw_steady *s, rw_steady_marks *marks,
                                rw_error *err);

/**
 * State of a resin at temperatures of a steady heating, (82).
 * @param r      resin; its law, glass transition and viscosity are used
 * @param ramp   the heating
 * @param T      n temperatures in K, ramp->from to ramp->to, in any order
 * @param n      how many
 * @param state  n of them
 * @param err    error record, or NULL
 * @return as rw_steady_times
 */
RW_API rw_status rw_ramp_states(const rw_resin *r, const rw_ramp *ramp, const double *T, size_t n,
                                rw_cure_state *state, rw_error *err);
/**
 * Where the rate is greatest under a steady heating, to 1e-3 K: the peak of a scanning
 * calorimeter, (83).
 * @param law   law
 * @param ramp  the heating
 * @param peak  result
 * @param err   error record, or NULL
 * @return as rw_steady_times; RW_NOT_REACHED where the rate is greatest at an end of the ramp, so
 *         that no peak was seen (peak untouched): begin colder or go on further
 */
RW_API rw_status rw_ramp_find(const rw_cure_law *law, const rw_ramp *ramp, rw_rate_peak *peak,
                              rw_error *err);

/** One temperature of a time-temperature-transformation map; times in s, HUGE_VAL: never. */
typedef struct rw_map_row {
  double T;       /**< K */
  double gel;     /**< until gel */
  double glass;   /**< until it turns to glass, Tg = T, (84); 0 up to the uncured Tg */
  double full;    /**< until the wanted share of `plateau`, where that comes in the first half of
                       the time looked at, so that the cure had settled, (85) */
  double plateau; /**< degree of cure at the end of the time looked at */
  double plateau_Tg; /**< K, glass transition there */
} rw_map_row;
/** How a map is drawn. */
typedef struct rw_map_plan {
  double span;  /**< s, how far to look, 1 to 1e11; a year (3.2e7) is usual */
  double share; /**< of the plateau that counts as full cure, 0.5 to 0.999; 0.95 is usual */
} rw_map_plan;
/**
 * Time-temperature-transformation map: one steady cure from zero at each temperature. Heat of the
 * reaction, evaporation and charring are left out.
 * @param r     resin; its law, glass transition and gel conversion (flow.a_gel) are used
 * @param plan  how far to look
 * @param T     n temperatures, K, 200 to 500
 * @param n     how many
 * @param row   n of them
 * @param err   error record, or NULL
 * @return as rw_steady_times
 */
RW_API rw_status rw_cure_map(const rw_resin *r, const rw_map_plan *plan, const double *T, size_t n,
                             rw_map_row *row, rw_error *err);
/** Temperatures that stand out on a map. */
typedef struct rw_map_marks {
  double Tg0;       /**< K: below it the uncured mix is glass */
  double gel_Tg;    /**< K: gel and glass come at once, (86); below, it turns to glass ungelled and
                         may be warmed again */
  double Tg_inf;    /**< K: glass transition at the law's top; above, it never turns to glass */
  double nose_T;    /**< K: the nose, where glass comes sooner than just above or just below,
                         (87); HUGE_VAL: none within the span */
  double nose_time; /**< s, at the nose; HUGE_VAL likewise */
} rw_map_marks;
/**
 * Temperatures that stand out on a map; the nose to 0.01 K.
 * @param r      resin; its law, glass transition and gel conversion are used
 * @param span   s, how far to look, 1 to 1e11
 * @param marks  result
 * @param err    error record, or NULL
 * @return as rw_steady_times
 */
RW_API rw_status rw_cure_map_find(const rw_resin *r, double span, rw_map_marks *marks,
                                  rw_error *err);

/** Standard acceleration of free fall, m/s2. */
#define RW_GRAVITY 9.80665

/** A value between its 5 % and 95 % bounds. */
typedef struct rw_interval {
  double value; /**< best value */
  double low;   /**< 5 % */
  double high;  /**< 95 % */
} rw_interval;

/**
 * Fluidity of a coat: the integral of 1/viscosity, on which running, levelling and the rise of
 * bubbles all depend, in closed form. (60)
 * By 5-point Gauss on halved pieces, cut at the kinks of the history and at the gel, from which
 * on nothing flows.
 * @param p          path of the cure
 * @param flow       viscosity
 * @param h          the history the path was run on, for its kinks; NULL: found by halving
 * @param from       s, the coat is laid
 * @param to         s, > from; HUGE_VAL: until the gel
 * @param tolerance  relative, 1e-12 to 1e-2; no better than the path itself
 * @param fluidity   1/Pa
 * @param err        error record, or NULL
 * @return RW_OK; RW_NOT_REACHED where `to` is HUGE_VAL and the path ends before the gel: the
 *         fluidity then counts to its end; RW_ERR_RANGE; RW_ERR_COVERAGE; RW_ERR_NUMERIC
 */
RW_API rw_status rw_cure_fluidity(const rw_cure_path *p, const rw_flow *flow, const rw_history *h,
                                  double from, double to, double tolerance, double *fluidity,
                                  rw_error *err);

/**
 * Thickness of a coat from what was spread: mass/(area density).
 * @param mass       kg; with an area of 1 m2 the areal mass
 * @param area       m2
 * @param density    kg/m3, 500 to 3000
 * @param thickness  m
 * @param err        error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_coat_thickness(double mass, double area, double density, double *thickness,
                                   rw_error *err);
/**
 * Mass of a coat.
 * @param area       m2
 * @param thickness  m, 1e-6 to 0.1
 * @param density    kg/m3, 500 to 3000
 * @param mass       kg
 * @param err        error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_coat_mass(double area, double thickness, double density, double *mass,
                              rw_error *err);
/**
 * Area a mass covers at a thickness.
 * @param mass       kg
 * @param thickness  m, 1e-6 to 0.1
 * @param density    kg/m3, 500 to 3000
 * @param area       m2
 * @param err        error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_coat_area(double mass, double thickness, double density, double *area,
                              rw_error *err);

/** How a film runs down a slope. */
typedef struct rw_film_flow {
  double surface;  /**< m/s, speed of its surface, the fastest part */
  double mean;     /**< m/s, mean speed through its thickness */
  double flux;     /**< kg/(m s), mass that passes each metre of width */
  double reynolds; /**< 4 flux/viscosity */
} rw_film_flow;
/**
 * A film of even thickness on a slope: surface speed rho g sin(slope) h^2/(2 mu), two thirds of
 * it on average, flux rho^2 g sin(slope) h^3/(3 mu) (Bird, Stewart & Lightfoot, section 2.2). (61)
 * Only resin above the crowns of the cloth runs so.
 * @param density    kg/m3, 500 to 3000
 * @param viscosity  Pa s, 1e-5 to 1e9
 * @param thickness  m, 1e-6 to 0.1
 * @param slope      rad from level, 0 to pi/2
 * @param out        result
 * @param err        error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED for a Reynolds number above 20, where films ripple (memory);
 *         RW_ERR_RANGE
 */
RW_API rw_status rw_film_flow_of(double density, double viscosity, double thickness, double slope,
                                 rw_film_flow *out, rw_error *err);
/**
 * Thickness of a poured film that carries a flux: the inverse of (61).
 * @param density    kg/m3, 500 to 3000
 * @param viscosity  Pa s, 1e-5 to 1e9
 * @param slope      rad from level, above 0 to pi/2
 * @param flux       kg/(m s)
 * @param thickness  m
 * @param err        error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED as rw_film_flow_of; RW_ERR_RANGE
 */
RW_API rw_status rw_film_thickness(double density, double viscosity, double slope, double flux,
                                   double *thickness, rw_error *err);

/**
 * How far the surface of a coat runs before it gels: rho g sin(slope) h^2/2 times the
 * fluidity. (62) The film is taken to keep its thickness, which it does only far below its upper
 * edge: an upper bound. An even film that creeps is not seen; what shows is where it ends.
 * @param density    kg/m3, 500 to 3000
 * @param slope      rad from level, 0 to pi/2
 * @param thickness  m, 1e-6 to 0.1
 * @param fluidity   1/Pa, see rw_cure_fluidity
 * @param run        m
 * @param err        error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_sag_run(double density, double slope, double thickness, double fluidity,
                            double *run, rw_error *err);
/**
 * Greatest wet film that runs no further than allowed: (62) for h.
 * @param density    kg/m3, 500 to 3000
 * @param slope      rad from level, 0 to pi/2
 * @param run        m, allowed, 1e-6 to 10
 * @param fluidity   1/Pa
 * @param thickness  m; HUGE_VAL on the level
 * @param err        error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_sag_thickness(double density, double slope, double run, double fluidity,
                                  double *thickness, rw_error *err);
/**
 * Steepest slope on which a coat runs no further than allowed: (62) for the slope.
 * @param density    kg/m3, 500 to 3000
 * @param thickness  m, 1e-6 to 0.1
 * @param run        m, allowed, 1e-6 to 10
 * @param fluidity   1/Pa
 * @param slope      rad from level; pi/2 where it holds upright
 * @param err        error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_sag_slope(double density, double thickness, double run, double fluidity,
                              double *slope, rw_error *err);

/**
 * What a face still holds at the gel, some way below the upper edge of the coat, however much was
 * laid there: sqrt(distance/(rho g sin(slope) fluidity)). (72) From (61) and the mass kept
 * (Jeffreys 1930, memory): the edge thins first, and a film of thickness h is untouched from
 * twice the run of (62) on.
 * @param density    kg/m3, 500 to 3000
 * @param slope      rad from level, 0 to pi/2
 * @param distance   m down the slope from the upper edge, 1e-4 to 10
 * @param fluidity   1/Pa
 * @param thickness  m; HUGE_VAL on the level
 * @param err        error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_sag_held(double density, double slope, double distance, double fluidity,
                             double *thickness, rw_error *err);

/**
 * Time in which brush marks sink to a share of their height at a steady viscosity:
 * 3 mu (L/(2 pi))^4/(sigma h^3) ln(1/share) (Orchard 1962). (63) A share of 1/2 gives the
 * half-life. Gravity is left out: it helps marks longer than about 10 mm.
 * @param viscosity   Pa s, 1e-5 to 1e9
 * @param wavelength  m from crest to crest, 1e-5 to 1
 * @param tension     surface tension, N/m, 0.005 to 0.1
 * @param thickness   mean thickness of the film, m, 1e-6 to 0.1
 * @param share       of the height that is left, 1e-9 to 1
 * @param time        s
 * @param err         error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED where the film is thicker than wavelength/(2 pi): it levels
 *         slower than the law says; RW_ERR_RANGE
 */
RW_API rw_status rw_levelling_time(double viscosity, double wavelength, double tension,
                                   double thickness, double share, double *time, rw_error *err);
/**
 * Share of the height of brush marks that is left at the gel, the viscosity rising all the while:
 * exp(-sigma h^3 (2 pi/L)^4/3 times the fluidity). (64)
 * @param wavelength  m from crest to crest, 1e-5 to 1
 * @param tension     N/m, 0.005 to 0.1
 * @param thickness   m, 1e-6 to 0.1
 * @param fluidity    1/Pa
 * @param share       0 to 1
 * @param err         error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED as rw_levelling_time; RW_ERR_RANGE
 */
RW_API rw_status rw_levelling_left(double wavelength, double tension, double thickness,
                                   double fluidity, double *share, rw_error *err);
/**
 * Longest marks that sink to a share of their height before the gel: (64) for L.
 * @param tension     N/m, 0.005 to 0.1
 * @param thickness   m, 1e-6 to 0.1
 * @param fluidity    1/Pa
 * @param share       1e-9 to below 1
 * @param wavelength  m from crest to crest
 * @param err         error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED as rw_levelling_time; RW_ERR_RANGE
 */
RW_API rw_status rw_levelling_wavelength(double tension, double thickness, double fluidity,
                                         double share, double *wavelength, rw_error *err);

/** Surface of a bubble. */
typedef enum rw_bubble_surface {
  RW_BUBBLE_RIGID, /**< held still by what gathers on it: Stokes, the slower */
  RW_BUBBLE_CLEAN  /**< moving freely: half as fast again (Hadamard & Rybczynski, memory) */
} rw_bubble_surface;
/**
 * Speed of a rising bubble: 2 r^2 rho g/(9 mu), times 1.5 for a clean surface. (65) The walls are
 * taken to be far away: near them, and in cloth, it is slower.
 * @param density    kg/m3 of the resin, 500 to 3000
 * @param viscosity  Pa s, 1e-5 to 1e9
 * @param radius     m, 1e-7 to 0.01
 * @param surface    surface
 * @param speed      m/s
 * @param err        error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED for a Reynolds number above 1; RW_ERR_RANGE; RW_ERR_ARGUMENT
 */
RW_API rw_status rw_bubble_speed(double density, double viscosity, double radius,
                                 rw_bubble_surface surface, double *speed, rw_error *err);
/**
 * How far a bubble rises across the film before the gel: (65) with the fluidity for 1/mu, times
 * cos(slope). On an upright face it drifts along the film instead.
 * @param density   kg/m3, 500 to 3000
 * @param slope     rad from level, 0 to pi/2
 * @param radius    m, 1e-7 to 0.01
 * @param surface   surface
 * @param fluidity  1/Pa
 * @param rise      m
 * @param err       error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT
 */
RW_API rw_status rw_bubble_rise(double density, double slope, double radius,
                                rw_bubble_surface surface, double fluidity, double *rise,
                                rw_error *err);
/**
 * Smallest bubble that still escapes from the bottom of a film before the gel. (66)
 * @param density    kg/m3, 500 to 3000
 * @param slope      rad from level, 0 to pi/2
 * @param thickness  m, 1e-6 to 0.1
 * @param surface    surface
 * @param fluidity   1/Pa
 * @param radius     m; above thickness/2 it reaches through the film anyway; HUGE_VAL upright
 * @param err        error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT
 */
RW_API rw_status rw_bubble_radius(double density, double slope, double thickness,
                                  rw_bubble_surface surface, double fluidity, double *radius,
                                  rw_error *err);

/** A coat as it is laid. */
typedef struct rw_coat {
  double thickness;          /**< m of clear wet film (areal mass/density) */
  double slope;              /**< rad from level, 0 to pi/2 */
  double run;                /**< m its surface may creep down before the gel */
  double below;              /**< m down from the upper edge of the coat, where `held` is told */
  double mark;               /**< m from brush mark to brush mark */
  double tension;            /**< N/m, near 0.035 */
  rw_bubble_surface surface; /**< RW_BUBBLE_RIGID is the cautious choice */
} rw_coat;
/** When a coat is laid. */
typedef struct rw_coat_times {
  double mixed;          /**< s; it cures at the hull's temperature from then on */
  double laid;           /**< s, >= mixed */
  double until;          /**< s, look as far as that */
  double temperature_sd; /**< K, how far off the hull's temperature may be, 0 to 20 */
} rw_coat_times;
/** What becomes of a coat until it gels, with 90 % intervals. */
typedef struct rw_coat_outcome {
  rw_interval fluidity;  /**< 1/Pa */
  rw_interval run;       /**< m, how far it runs */
  rw_interval thickness; /**< m, greatest wet film for the allowed run; HUGE_VAL on the level */
  rw_interval mass;      /**< kg/m2, the same as areal mass */
  rw_interval held;      /**< m, what the face holds of it, see rw_sag_held */
  rw_interval slope;     /**< rad, steepest slope for the allowed run at its own thickness */
  rw_interval left;      /**< share of the brush marks' height that is left */
  rw_interval bubble;    /**< m, smallest radius that escapes; HUGE_VAL upright */
  double gel;            /**< s; HUGE_VAL: not until the end looked at */
  int because;           /**< largest contributor to the spread, see rw_coat_because */
} rw_coat_outcome;
/**
 * Name of a contributor of rw_coat_outcome.because.
 * @param because  index
 * @return constant text, "" where there is none
 */
RW_API const char *rw_coat_because(int because);
/**
 * Whether a coat runs, levels and lets its bubbles go. The spread of ln(fluidity) is the root sum
 * of squares of its halves of differences for one standard deviation up and down of the rate, the
 * activation energies and the hull's temperature, and of the viscosity's own. (67)
 * @param r     resin; threshold[RW_WORK_END].sd is the spread of its viscosity
 * @param hull  temperature of the hull
 * @param when  when it is laid
 * @param coat  coat
 * @param out   result
 * @param err   error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_NOT_REACHED where it has not gelled at the end looked at:
 *         all counts to there; RW_ERR_RANGE; RW_ERR_ARGUMENT where it has gelled before it is
 *         laid; RW_ERR_COVERAGE; RW_ERR_MEMORY; RW_ERR_NUMERIC
 */
RW_API rw_status rw_coat_forecast(const rw_resin *r, const rw_history *hull,
                                  const rw_coat_times *when, const rw_coat *coat,
                                  rw_coat_outcome *out, rw_error *err);

/**
 * Hardener needed per mass of resin from a ratio by volume.
 * @param resin             parts of resin by volume, above 0 to 1000
 * @param hardener          parts of hardener by volume, above 0 to 1000
 * @param resin_density     kg/m3, 500 to 3000
 * @param hardener_density  kg/m3, 500 to 3000
 * @param needed            kg hardener per kg resin; from a ratio by weight simply their quotient
 * @param err               error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_needed_by_volume(double resin, double hardener, double resin_density,
                                     double hardener_density, double *needed, rw_error *err);

/** A pair of pumps. */
typedef struct rw_pumps {
  double resin_stroke;    /**< m3 per stroke, 1e-8 to 1e-2 */
  double hardener_stroke; /**< m3 per stroke; pumps sold as a pair often meter the ratio already */
  double resin_density;   /**< kg/m3, 500 to 3000 */
  double hardener_density; /**< kg/m3, 500 to 3000 */
} rw_pumps;
/**
 * Ratio that pump strokes give.
 * @param p         pumps
 * @param resin     strokes of resin, above 0 to 10000
 * @param hardener  strokes of hardener, 0 to 10000
 * @param needed    kg hardener per kg resin at the right ratio, 0.01 to 10
 * @param r         hardener given over hardener needed: 1 is right
 * @param err       error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_ratio_pumped(const rw_pumps *p, double resin, double hardener, double needed,
                                 double *r, rw_error *err);
/**
 * What has left a tin: the difference of two weighings, their errors added in squares.
 * @param before  kg, with the scale's sd
 * @param after   kg, at most before
 * @param loss    kg
 * @param err     error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_tin_loss(rw_value before, rw_value after, rw_value *loss, rw_error *err);
/**
 * Ratio used, as the tins tell it: hardener/(resin needed). (68) Spills and drips from one tin
 * alone are not known to it.
 * @param resin     kg gone from the resin tin
 * @param hardener  kg gone from the hardener tin
 * @param needed    kg hardener per kg resin at the right ratio
 * @param r         hardener used over hardener needed, sd to first order
 * @param err       error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED where the relative sd is above 0.3; RW_ERR_RANGE
 */
RW_API rw_status rw_ratio_used(rw_value resin, rw_value hardener, rw_value needed, rw_value *r,
                               rw_error *err);

/** Verdicts on a mix off its ratio, X(name, key, text). */
#define RW_RATIO_VERDICT_LIST(X)                                                                  \
  X(RW_RATIO_RIGHT, "right", "at its ratio: cures as the label says")                             \
  X(RW_RATIO_USABLE, "usable", "off its ratio but usable: hard enough in the end, warmth helps")  \
  X(RW_RATIO_DOUBTFUL, "doubtful",                                                                \
    "doubtful: it may stay too soft; cure a scrap warm and test it")                              \
  X(RW_RATIO_SOFT, "soft",                                                                        \
    "soft for good: it sets, but neither waiting nor warmth makes it hard")                       \
  X(RW_RATIO_LIQUID, "never_gels", "never gels: sticky whatever the wait or warmth; scrape it off")

/** A verdict, see @ref RW_RATIO_VERDICT_LIST. */
typedef enum rw_ratio_verdict {
/** @cond expansion */
#define RW_X(name, key, text) name,
  RW_RATIO_VERDICT_LIST(RW_X)
#undef RW_X
      RW_RATIO_VERDICTS
  /** @endcond */
} rw_ratio_verdict;
/**
 * Key of a verdict: "soft".
 * @param v  verdict
 * @return constant text, NULL where there is none
 */
RW_API const char *rw_ratio_verdict_key(rw_ratio_verdict v);
/**
 * A verdict in words.
 * @param v  verdict
 * @return constant text, NULL where there is none
 */
RW_API const char *rw_ratio_verdict_text(rw_ratio_verdict v);

/**
 * Glass transition of a mix off its ratio at a conversion of its epoxide: (5) at the cure of the
 * right mix that is equally branched, a/sqrt(r), as both have the product of the conversions of
 * epoxide and amine in common. (69) Model assumption, no source; only that Tg is highest near
 * r = 1 is published.
 * @param g    glass transition of the right mix
 * @param r    amine hydrogens per epoxide group, 0.05 to 5
 * @param a    conversion of epoxide, 0 to min(1, r)
 * @param Tg   K
 * @param err  error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_ratio_glass(const rw_glass *g, double r, double a, double *Tg, rw_error *err);

/** What a mix of some ratio can become. */
typedef struct rw_ratio_state {
  rw_interval r;    /**< amine hydrogens per epoxide group, the share of the hardener needed */
  double epoxide;   /**< highest conversion of epoxide, min(1, r) */
  double amine;     /**< highest conversion of amine hydrogen, min(1, 1/r) */
  double gel;       /**< conversion of epoxide at the gel, sqrt(r/((fe-1)(fa-1))); NaN: never */
  double gels_from; /**< least r that gels */
  double gels_to;   /**< greatest r that gels */
  double doubtful_from; /**< least r that may reach the Tg needed, by (69) */
  double doubtful_to;   /**< greatest r that may */
  double usable_from;   /**< least r that reaches it even if conversion alone counted */
  double usable_to;     /**< greatest r that does */
  double need;          /**< K, the Tg needed */
  rw_interval Tg;       /**< K, highest it can ever reach; low: as if conversion alone counted */
  int warming_helps;    /**< 0: warming will not mend it, soft or liquid for good */
  rw_ratio_verdict verdict;         /**< for the best value of r */
  double chance[RW_RATIO_VERDICTS]; /**< of each verdict, from the interval of r alone */
  int reach[RW_MILESTONES];         /**< 1 where the milestone is ever reached, by (69) */
} rw_ratio_state;
/**
 * Judge a mix by its ratio. Within 0.05 of 1 it counts as right (common practice, no source). It
 * is usable where the Tg needed is reached both by (69) and by (5) at the conversion min(r, 1/r),
 * soft where neither reaches it, doubtful between.
 * Uncured resin and hardener harm the skin: keep gloves on when scraping and sanding, and follow
 * the maker's sheet.
 * @param resin  the right mix: glass transition and thresholds
 * @param r      amine hydrogens per epoxide group, 0.05 to 5, with sd
 * @param fe     functionality of the resin, 2 to 10; 2 is usual
 * @param fa     amine hydrogens per hardener molecule, 2 to 10; 4 is usual
 * @param need   K, Tg that service needs; NaN: that of the resin's own service threshold
 * @param out    result
 * @param err    error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED for a relative sd of r above 0.3; RW_ERR_RANGE
 */
RW_API rw_status rw_ratio_judge(const rw_resin *resin, rw_value r, double fe, double fa,
                                double need, rw_ratio_state *out, rw_error *err);
/**
 * The resin that a mix off its ratio makes: its law ends at min(1, r) (rw_cure_law_off_ratio),
 * and gel, milestones and the onset of stiffening move from a to a sqrt(r) (69), so that paths
 * and viscosity of it are right; heat goes with the epoxide in it. Its glass transition is left
 * alone: ask rw_ratio_glass.
 * @param right  the right mix, law n-th order or Kamal without rw_stiffening
 * @param r      amine hydrogens per epoxide group, 0.05 to 5
 * @param out    resin; a threshold out of reach is 1 where r > 1, see rw_ratio_state.reach
 * @param err    error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED; RW_ERR_RANGE; RW_ERR_ARGUMENT
 */
RW_API rw_status rw_ratio_resin(const rw_resin *right, double r, rw_resin *out, rw_error *err);
/**
 * Forecast the milestones of a film mixed off its ratio: rw_cure_forecast of rw_ratio_resin, with
 * HUGE_VAL for milestones that it never reaches.
 * @param right           the right mix
 * @param r               amine hydrogens per epoxide group, 0.05 to 5
 * @param hull            temperature of the hull
 * @param from            s, laid then
 * @param to              s, look as far as that
 * @param temperature_sd  K
 * @param draws           0 to 100000
 * @param seed            of the draws
 * @param out             result
 * @param err             error record, or NULL
 * @return as rw_cure_forecast and rw_ratio_resin
 */
RW_API rw_status rw_ratio_forecast(const rw_resin *right, double r, const rw_history *hull,
                                   double from, double to, double temperature_sd, size_t draws,
                                   unsigned long seed, rw_forecast *out, rw_error *err);

/** What the batch sheet says of one batch. */
typedef struct rw_batch_note {
  double resin; /**< kg of resin in it; NaN: not noted, taken as the mean of those noted */
  double r;     /**< its ratio as noted, from rw_ratio_pumped; NaN: not noted or pumps unknown */
  int alike;    /**< batches with the same number above 0 were noted to be mixed alike */
} rw_batch_note;
/** Tins and batch sheet together. */
typedef struct rw_ledger {
  const rw_batch_note *batch; /**< in the order they were mixed */
  size_t n;                   /**< number of batches, 1 to 200 */
  rw_value resin;             /**< kg gone from the resin tin */
  rw_value hardener;          /**< kg gone from the hardener tin */
  rw_value needed;            /**< kg hardener per kg resin */
  double mass_sd;             /**< sd of the logarithm of a batch's mass, 0 to 1; 0.2 where no
                                   masses were noted */
  double ratio_sd;            /**< sd of the logarithm of the ratio from batch to batch, 0 to 1;
                                   0.05 with pumps */
  double note_sd;             /**< sd of the logarithm of a noted ratio, 0.02 to 1; 0.1 says that
                                   strokes were counted and pumps checked */
} rw_ledger;
/** How the tins agree with a guess of each batch's ratio. */
typedef struct rw_ledger_fit {
  rw_value hardener;     /**< kg, expected to be gone for the resin that is gone */
  double z;              /**< standard deviations by which the tin differs */
  double chance;         /**< of a difference this large or larger, if the guess is right */
  double log_likelihood; /**< of the tin */
} rw_ledger_fit;
/**
 * Test a guess of each batch's ratio against the tins. (70)
 * @param l    ledger; its notes are not used
 * @param r    n ratios, 0 to 5
 * @param out  result
 * @param err  error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT
 */
RW_API rw_status rw_ledger_test(const rw_ledger *l, const double *r, rw_ledger_fit *out,
                                rw_error *err);

/** Stories of a ledger, X(name, key, text). */
#define RW_LEDGER_STORY_LIST(X)                                                                   \
  X(RW_LEDGER_RIGHT, "right", "every batch at the right ratio")                                   \
  X(RW_LEDGER_START, "from_start", "off from the start, all batches alike")                       \
  X(RW_LEDGER_TURNED, "part_way", "right at first, off from some batch on")                       \
  X(RW_LEDGER_MENDED, "put_right", "off at first, put right from some batch on")

/** A story, see @ref RW_LEDGER_STORY_LIST. */
typedef enum rw_ledger_story {
/** @cond expansion */
#define RW_X(name, key, text) name,
  RW_LEDGER_STORY_LIST(RW_X)
#undef RW_X
      RW_LEDGER_STORIES
  /** @endcond */
} rw_ledger_story;
/**
 * Key of a story: "from_start".
 * @param s  story
 * @return constant text, NULL where there is none
 */
RW_API const char *rw_ledger_story_key(rw_ledger_story s);
/**
 * A story in words.
 * @param s  story
 * @return constant text, NULL where there is none
 */
RW_API const char *rw_ledger_story_text(rw_ledger_story s);
/** What tins and notes say for each story. */
typedef struct rw_ledger_result {
  rw_value r;                               /**< of all batches together, from the tins */
  double log_likelihood[RW_LEDGER_STORIES]; /**< averaged over the unknown ratio (ln r even from
                                                 0.05 to 5) and batch; -HUGE_VAL: impossible */
  double weight[RW_LEDGER_STORIES];         /**< chance of each story, all alike beforehand */
  size_t turn[RW_LEDGER_STORIES];           /**< likeliest count of batches before the change */
  double off[RW_LEDGER_STORIES];            /**< likeliest ratio of the batches that are off */
  rw_ledger_story best;                     /**< of greatest weight */
  int told;                                 /**< 1 where its weight is 0.95 or more; 0: tins and
                                                 notes alone cannot tell */
} rw_ledger_result;
/**
 * Was it off from the start, or part way? Compares the stories by the likelihood of what is gone
 * from the tins and of the noted ratios; batches noted alike stay on one side of a change, and
 * count as one note. (71)
 * @param l    ledger
 * @param out  result
 * @param off  n chances that the batch was off, all stories weighed; or NULL
 * @param err  error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED where the tins' relative sd is above 0.3; RW_ERR_RANGE;
 *         RW_ERR_ARGUMENT
 */
RW_API rw_status rw_ledger_compare(const rw_ledger *l, rw_ledger_result *out, double *off,
                                   rw_error *err);

#ifdef __cplusplus
}
#endif
#endif
