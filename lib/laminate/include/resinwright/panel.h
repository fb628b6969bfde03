/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * @file panel.h
 * @brief Fifth floor, second header of the room laminate: panels, strips, shallow arches, planks
 * sealed on one face, repairs.
 *
 * Convention: that of laminate.h. A panel lies with a corner at x = y = 0, its side a along x, its
 * side b along y; a load above zero pushes towards the LAST ply listed, and a deflection above
 * zero goes there. Equations (160) to (179) of the theory.
 *
 * Strength is for comparison and shop planning only, not an approval: scantling rules, survey and
 * licensed practice decide.
 *
 * Threads: reentrant; an rw_bent_plate may be read by many threads.
 */
#ifndef RESINWRIGHT_PANEL_H
#define RESINWRIGHT_PANEL_H

#include <resinwright/laminate.h>

#ifdef __cplusplus
extern "C" {
#endif

/** @name Panels */
/** @{ */

/** How a pair of opposite edges is held. */
typedef enum rw_plate_edge {
  RW_EDGE_SUPPORTED, /**< rests there: no deflection, free to turn */
  RW_EDGE_CLAMPED    /**< no deflection, no turning: bonded into something stiff */
} rw_plate_edge;

/** A flat rectangular panel, held all round. */
typedef struct rw_plate {
  double a;             /**< m along x, > 0 */
  double b;             /**< m along y, a/10 to 10 a */
  rw_plate_edge edge_x; /**< the edges x = 0 and x = a */
  rw_plate_edge edge_y; /**< the edges y = 0 and y = b */
  double shear[3]; /**< N/m, transverse shear stiffness of the stack from rw_stack_shear; all 0:
                      shear is left out (thin plate) */
} rw_plate;

/** What pushes on a panel: the three parts add up. */
typedef struct rw_plate_load {
  double pressure; /**< Pa, even, over the whole panel */
  double wave;     /**< Pa at the middle, a half wave of sine along both sides: what tables of
                        plates are made for */
  double force;    /**< N, spread evenly over the patch; 0: no patch */
  double x;        /**< m, middle of the patch */
  double y;        /**< m */
  double along;    /**< m, length of the patch along x, from 1/100 of the panel's short side to a;
                        a round one of diameter d acts nearly as a square of side 0.886 d, which
                        has its area */
  double across;   /**< m, along y, likewise */
} rw_plate_load;

/** A panel under load, solved; free with rw_bent_plate_destroy. */
typedef struct rw_bent_plate rw_bent_plate;

/** A place of a panel. */
typedef struct rw_plate_point {
  double x;          /**< m */
  double y;          /**< m */
  double deflection; /**< m */
  double strain[6];  /**< mid-plane strains ex ey gxy (1) and curvatures kx ky kxy (1/m), as
                          rw_stack_strain gives and rw_stack_stress takes them */
  double load[6];    /**< Nx Ny Nxy (N/m), Mx My Mxy (N) */
  double force[2];   /**< shear forces Qx Qy, N/m, as rw_stack_shear_failure takes them; 0 where
                        shear is left out */
  double lower[3];   /**< ex ey gxy at the face of the first ply */
  double upper[3];   /**< the same at the face of the last ply */
} rw_plate_point;

/** How a panel was solved. */
typedef enum rw_plate_method {
  RW_PLATE_SERIES, /**< double sine series (160) */
  RW_PLATE_RITZ    /**< polynomials and least energy (162) */
} rw_plate_method;

/** What becomes of B, the coupling of stretching and bending. */
typedef enum rw_plate_coupling {
  RW_COUPLING_NONE,    /**< the stack has none */
  RW_COUPLING_REDUCED, /**< edges free to slide: bending stiffness D - B A^-1 B (161) */
  RW_COUPLING_ANGLE    /**< antisymmetric angle-ply stack, exact; edges held against sliding
                            straight out, free to slide along themselves */
} rw_plate_coupling;

/** The gist of a bent panel. */
typedef struct rw_plate_result {
  rw_plate_point deepest;   /**< where it deflects most */
  rw_plate_point stretched; /**< where a face is strained most (greatest principal strain, of
                               either sign) */
  double surface_strain;    /**< that strain, of its sign */
  double shear_share; /**< part of the greatest deflection that is due to shear; 0 where shear
                           is left out */
  double slenderness; /**< short side over thickness */
  double depth;       /**< greatest deflection over thickness */
  double held;  /**< m, estimate of the greatest deflection where the edges can't slide in (174):
                   the truth of a real panel lies between it and the linear one; B is left out,
                   and strains and first failure stay those of the linear shape */
  double error; /**< relative error of the greatest deflection: series, a bound (with
                     shear an estimate); Ritz, the change by the last terms added */
  double strain_error;        /**< the same of the surface strain */
  size_t terms;               /**< functions along each side */
  rw_plate_method method;     /**< how it was solved */
  rw_plate_coupling coupling; /**< what became of B */
} rw_plate_result;

/** Where a panel gives way first. */
typedef struct rw_plate_failure {
  rw_first_failure failure; /**< load factor, ply, face, mode */
  double x;                 /**< m */
  double y;                 /**< m */
} rw_plate_failure;

/**
 * Bend a panel (160) to (163), (174).
 *
 * Panels that rest on all four edges and have no D16, D26 or shear coupling take the double sine
 * series; in all others polynomials of least energy (Ritz) add to it what clamped edges, D16 and
 * D26 do, without leaving anything of these out. Small deflections; edges
 * don't give; a strip-planked bottom is held less firmly than clamped and more than resting, so
 * solve both. Where two resting edges meet and the stack has D16 or D26, the strains of a plate
 * grow without limit towards the corner: the search for the greatest strain and the first failure
 * leaves out such corners by a twentieth of the short side.
 * @param s      stack, from rw_stack_make
 * @param plate  panel
 * @param load   loads, of which at least one is not zero
 * @param loads  how many, 1 to 32
 * @param out    result; free with rw_bent_plate_destroy
 * @param err    error record, or NULL; says why for RW_OUTSIDE_TESTED, too
 * @return RW_OK; RW_OUTSIDE_TESTED where the short side is below 20 thicknesses and shear is left
 *         out, where shear makes more than a fifth of the deflection (first-order shear was off
 *         exact elasticity by 1 to 11 per cent there with the stiffness of rw_stack_shear, by 13
 *         to 17 with a factor of 5/6), where the deflection exceeds half the thickness (the panel
 *         then carries part of the load as a membrane, and linear theory overestimates), or where
 *         deflection or strain is not known to 2 per cent; RW_ERR_RANGE for sides, their ratio
 *         (beyond 10 it is a strip: rw_strip_bend), a patch that leaves the panel or is too small;
 *         RW_ERR_ARGUMENT for no load or a NULL; RW_ERR_NUMERIC; RW_ERR_MEMORY
 */
RW_API rw_status rw_plate_bend(const rw_stack *s, const rw_plate *plate, const rw_plate_load *load,
                               size_t loads, rw_bent_plate **out, rw_error *err);
/**
 * The gist of it.
 * @param p  bent panel
 * @return greatest deflection and strain, where, and how well they are known
 */
RW_API rw_plate_result rw_bent_plate_result(const rw_bent_plate *p);
/**
 * One place of a bent panel.
 * @param p    bent panel
 * @param x    m, 0 to a
 * @param y    m, 0 to b
 * @param out  result
 * @param err  error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_bent_plate_at(const rw_bent_plate *p, double x, double y, rw_plate_point *out,
                                  rw_error *err);
/**
 * Load factor at first ply failure anywhere in a bent panel, with rw_stack_first_failure on a
 * network of places, refined at the worst. Shear through the thickness, what crushes under a heel
 * and what the edges do are not looked at.
 * @param p          bent panel
 * @param ply        the plies of its stack
 * @param n          how many
 * @param criterion  which
 * @param out        result
 * @param err        error record, or NULL
 * @return as rw_stack_first_failure; RW_ERR_ARGUMENT also where the plies don't make the panel's
 *         stack; RW_ERR_MEMORY
 */
RW_API rw_status rw_bent_plate_failure(const rw_bent_plate *p, const rw_ply *ply, size_t n,
                                       rw_criterion criterion, rw_plate_failure *out,
                                       rw_error *err);
/**
 * Free a bent panel.
 * @param p  bent panel, or NULL
 */
RW_API void rw_bent_plate_destroy(rw_bent_plate *p);

/** @} */

/** @name Strips */
/** @{ */

/** How the ends of a strip are held. */
typedef enum rw_strip_ends {
  RW_STRIP_SUPPORTED, /**< both rest */
  RW_STRIP_CLAMPED,   /**< both clamped */
  RW_STRIP_CANTILEVER /**< clamped at x = 0, free at the other end */
} rw_strip_ends;

/** A strip along x. */
typedef struct rw_strip {
  double span;        /**< m between the supports, or free length of a cantilever, > 0 */
  rw_strip_ends ends; /**< how it is held */
  int wide;           /**< 0: narrow, free to curl across, stiffness EIx; else a panel much longer
                           across than its span, which cannot curl: D - B A^-1 B */
  double shear;       /**< N/m, transverse shear stiffness Qx/gxz of the stack, shear[0] of
                           rw_stack_shear; 0: left out */
} rw_strip;

/** What pushes on a strip, per metre of its width; both parts add up. */
typedef struct rw_strip_load {
  double pressure; /**< Pa, even, over the whole span */
  double force;    /**< N per m of width on the patch; 0: no patch */
  double x;        /**< m from the first support, middle of the patch */
  double along;    /**< m, length of the patch; 0: a line load */
} rw_strip_load;

/** A bent strip. */
typedef struct rw_strip_result {
  double deflection;  /**< m, greatest (by size), of its sign */
  double at;          /**< m from the first support */
  double shear_share; /**< part of it that is due to shear */
  double moment;      /**< N, greatest by size: N m per m of width; above 0 pulls the face of the
                           last ply */
  double moment_at;   /**< m */
  double load[6];     /**< Nx Ny Nxy Mx My Mxy at that place, for rw_stack_first_failure */
  double strain[6];   /**< there, as rw_stack_strain; rw_stack_stress takes it */
  double surface_strain; /**< along x at the more strained face there, of its sign */
  double reaction[2];    /**< N per m of width that the supports bear */
} rw_strip_result;

/**
 * Bend a strip (164): beam theory with shear (Timoshenko), exact for it. With shear left out and a
 * line load in the middle of a narrow resting strip the deflection is that of rw_stack_strip.
 * @param s      stack, from rw_stack_make
 * @param strip  strip
 * @param load   loads, one of them not zero
 * @param loads  how many, 1 to 32
 * @param out    result
 * @param err    error record, or NULL; says why for RW_OUTSIDE_TESTED, too
 * @return RW_OK; RW_OUTSIDE_TESTED where the span is below 20 thicknesses (a cantilever: 10) and
 *         shear is left out, where shear makes more than a fifth of the deflection, or where the
 *         deflection exceeds a tenth of the span or, for a clamped strip, half the thickness (its
 *         ends hold it and it carries as a rope, too); RW_ERR_RANGE for the span, the shear
 *         stiffness, a load or a patch that leaves the strip; RW_ERR_ARGUMENT for ends that are
 *         not known, no load or a NULL
 */
RW_API rw_status rw_strip_bend(const rw_stack *s, const rw_strip *strip, const rw_strip_load *load,
                               size_t loads, rw_strip_result *out, rw_error *err);
/**
 * Deflection and moment of a strip at a place (164).
 * @param s           stack
 * @param strip       strip
 * @param load        loads
 * @param loads       how many
 * @param x           m, 0 to the span
 * @param deflection  m
 * @param moment      N, or NULL
 * @param err         error record, or NULL
 * @return RW_OK; errors as rw_strip_bend, and RW_ERR_RANGE for x; no warnings
 */
RW_API rw_status rw_strip_at(const rw_stack *s, const rw_strip *strip, const rw_strip_load *load,
                             size_t loads, double x, double *deflection, double *moment,
                             rw_error *err);

/** @} */

/** @name Shallow arches */
/** @{ */

/** How an arch stands at its ends, which don't spread. */
typedef enum rw_arch_ends {
  RW_ARCH_PINNED, /**< free to turn */
  RW_ARCH_FIXED   /**< clamped */
} rw_arch_ends;

/** A strip of a curved hull side, a shallow parabola along x; the FIRST ply lies on the bulging
 * side, so a load above zero pushes the bulge in. */
typedef struct rw_arch {
  double span;       /**< m along the chord, > 0 */
  double rise;       /**< m of the crown above the chord, span/10000 to span/8 */
  rw_arch_ends ends; /**< how it stands */
  int wide;          /**< 0: a narrow strip, free to curl across; else a long panel that can't */
} rw_arch;

/** A bent arch, per metre of its width. */
typedef struct rw_arch_result {
  double deflection;     /**< m at the crown, towards the chord above 0 */
  double thrust;         /**< N/m, pressure along the arch; below 0 a pull */
  double moment;         /**< N, greatest by size; above 0 pulls the face of the last ply */
  double moment_at;      /**< m along the chord (of two alike the one nearer to x = 0) */
  double crown_moment;   /**< N */
  double end_moment;     /**< N, 0 where the ends are pinned */
  double load[6];        /**< Nx to Mxy where the moment is greatest, for rw_stack_first_failure */
  double strain[6];      /**< there */
  double surface_strain; /**< along x at the more strained face there, of its sign */
  double flat;           /**< m, what the same strip without rise would deflect */
  double snap;           /**< multiply the load by it and the arch snaps through; HUGE_VAL: it
                              does not snap under this load */
} rw_arch_result;

/**
 * Bend a shallow arch (165) to (167): thrust by the force method with the arch's own shortening,
 * linear deflection, and the load at which it snaps through, by a sine series with the large
 * displacements of shallow arches. Shear is left out. A hull's frames and sheers give way a
 * little, and every give of the ends takes more from an arch than from a flat panel.
 * @param s         stack, from rw_stack_make
 * @param arch      arch
 * @param pressure  Pa, even over the span
 * @param crown     N per m of width, a line load at the crown
 * @param out       result
 * @param err       error record, or NULL; says why for RW_OUTSIDE_TESTED, too
 * @return RW_OK; RW_OUTSIDE_TESTED where the load exceeds a third of the one that snaps the arch
 *         (the linear deflection is then 2 to 20 per cent low, and more beyond), where the arch is
 *         shorter than 20 thicknesses, or where it deflects more than a tenth of its span;
 *         RW_ERR_RANGE for span, a rise beyond 1/8 of the span (an arch that steep is not shallow:
 *         its thrust is no longer that of a parabola) or below 1/10000 of it (a strip:
 *         rw_strip_bend), or a load; RW_ERR_ARGUMENT for ends that are not known, no load or a
 * NULL
 */
RW_API rw_status rw_arch_bend(const rw_stack *s, const rw_arch *arch, double pressure,
                              double crown, rw_arch_result *out, rw_error *err);

/** @} */

/** @name How well such results are known */
/** @{ */

/** How far plies may be off. The moduli of all plies of a group are wrong together, and so are
 * their strengths; groups, and moduli and strengths, are independent. All are lognormal about the
 * value of the ply; Poisson ratios, thicknesses and loads are taken as known. */
typedef struct rw_scatter {
  const size_t *group;                /**< of each ply, 0 to below groups */
  const double *relative;             /**< of each group: relative sd of its moduli, 0 to 0.9 */
  const rw_strength_spread *strength; /**< of each group; NULL: strengths are known */
  size_t groups;                      /**< 1 to 16 */
  double level;                       /**< of the intervals, 0.5 to 0.999; 0.9 is usual */
  size_t draws;       /**< behind the load factor, 100 to 100000; 500 is usual; 0: left out */
  unsigned long seed; /**< of the draws */
} rw_scatter;

/** A result that is not known exactly; its interval never crosses zero. */
typedef struct rw_panel_range {
  double value;   /**< with the plies as they are given */
  double low;     /**< lower limit */
  double high;    /**< upper limit */
  double log_sd;  /**< standard deviation of its natural logarithm */
  size_t because; /**< group that holds most of the spread */
  int strength;   /**< 1: by its strength; 0: by its moduli */
} rw_panel_range;

/** What gives way first, and how sure that is. */
typedef struct rw_failure_spread {
  rw_panel_range factor;  /**< load factor; where several groups are about as near to giving way,
                               `value` lies in the upper part of its interval */
  rw_first_failure first; /**< with the plies as they are given */
  double other;           /**< share of the draws in which something else gives way first */
  rw_first_failure next;  /**< what that is most often, its factor left 0; mode
                               RW_MODE_NONE: nothing else ever */
  double next_share;      /**< share of the draws in which it does */
} rw_failure_spread;

/** How well the answers of a bent panel are known. */
typedef struct rw_plate_spread {
  rw_panel_range deflection; /**< m, greatest */
  rw_panel_range held;       /**< m, where the edges can't slide in */
  rw_panel_range lower; /**< greatest principal strain at the face of the first ply, of its sign */
  rw_panel_range upper; /**< of the last ply */
  rw_failure_spread failure; /**< all 0 where draws is 0 */
} rw_plate_spread;
/**
 * How well deflection, strains and load factor of a bent panel are known (175) to (179).
 *
 * The panel is solved again with each group stiffer and softer by its spread, twice for every
 * group whose relative sd is not 0; a transverse shear stiffness is then that of rw_stack_shear.
 * The load factor comes from draws of moduli and strengths, with the moments following the
 * moduli: which ply gives way first may change from draw to draw.
 * @param p          bent panel
 * @param ply        the plies of its stack
 * @param n          how many
 * @param scatter    how far they may be off
 * @param criterion  of first failure; not looked at where draws is 0
 * @param out        result
 * @param err        error record, or NULL; argument "group[i]", "relative[i]", "strength[i].Xt",
 *                   i from 1
 * @return RW_OK; as rw_bent_plate_failure; RW_ERR_RANGE for the scatter; RW_ERR_ARGUMENT for a
 *         NULL, or where an antisymmetric angle-ply stack has its two angles in two groups;
 *         RW_ERR_NUMERIC; RW_ERR_MEMORY
 */
RW_API rw_status rw_bent_plate_spread(const rw_bent_plate *p, const rw_ply *ply, size_t n,
                                      const rw_scatter *scatter, rw_criterion criterion,
                                      rw_plate_spread *out, rw_error *err);

/** How well the answers of a strip or an arch are known. */
typedef struct rw_strip_spread {
  rw_panel_range deflection;     /**< m */
  rw_panel_range surface_strain; /**< at the more strained face where the moment is greatest */
  rw_failure_spread failure;     /**< there; all 0 where draws is 0 */
} rw_strip_spread;
/**
 * The same of a strip; a shear stiffness above 0 is that of rw_stack_shear, shear[0].
 * @param ply        the plies
 * @param n          how many
 * @param strip      strip
 * @param load       loads
 * @param loads      how many
 * @param scatter    how far the plies may be off
 * @param criterion  of first failure
 * @param out        result
 * @param err        error record, or NULL
 * @return RW_OK, without the warnings of rw_strip_bend; errors of it, of rw_stack_make and of
 *         rw_bent_plate_spread
 */
RW_API rw_status rw_strip_bend_spread(const rw_ply *ply, size_t n, const rw_strip *strip,
                                      const rw_strip_load *load, size_t loads,
                                      const rw_scatter *scatter, rw_criterion criterion,
                                      rw_strip_spread *out, rw_error *err);
/**
 * The same of a shallow arch.
 * @param ply        the plies
 * @param n          how many
 * @param arch       arch
 * @param pressure   Pa
 * @param crown      N per m of width
 * @param scatter    how far the plies may be off
 * @param criterion  of first failure
 * @param out        result
 * @param err        error record, or NULL
 * @return RW_OK, without the warnings of rw_arch_bend; errors of it, of rw_stack_make and of
 *         rw_bent_plate_spread
 */
RW_API rw_status rw_arch_bend_spread(const rw_ply *ply, size_t n, const rw_arch *arch,
                                     double pressure, double crown, const rw_scatter *scatter,
                                     rw_criterion criterion, rw_strip_spread *out, rw_error *err);

/** @} */

/** @name Planks sealed on one face */
/** @{ */

/** How a ply swells: free strain per change of its moisture (mass of water over mass of dry wood),
 * such as rw_lamina_wood_swelling's over the change it was asked for; 0 for cloth and resin. */
typedef struct rw_swelling {
  rw_value along;  /**< 1, along the ply's grain, 0 to 1 */
  rw_value across; /**< 1, across it, 0 to 1 */
} rw_swelling;

/** A change of moisture through a plank or a cored skin that is sealed on one face. */
typedef struct rw_damp {
  int open_face;   /**< -1: the face of the first ply is open, 1: that of the last one */
  rw_value open;   /**< change of moisture at the open side of the wood, -0.3 to 0.3; above 0
                        wetter; in the end the difference of two rw_air_wood_moisture */
  rw_value sealed; /**< the same at the sealed side; 0 as long as the seal keeps up */
  double profile;  /**< p: the change falls off as depth^p from the open side on, 1 to 8; 1 a
                        straight gradient, 2 a parabola (steady soaking), more soon after */
  double girth;    /**< m across the boat, sheer to sheer or plank edge to edge, > 0 */
  double radius;   /**< m, of the section as an arc; 0: flat. girth/radius at most 4.7 */
  int bulge;    /**< -1: the section bulges towards the first ply, 1: the last; any where flat */
  double level; /**< of the intervals, 0.5 to 0.999; 0.9 is usual */
} rw_damp;

/** What it does. */
typedef struct rw_damp_result {
  rw_value curvature[3]; /**< kx ky kxy, 1/m; above 0 the stack bulges towards the last ply */
  double low[3];         /**< limits of each at the level wanted */
  double high[3];        /**< upper ones */
  double strain[6];      /**< mid-plane strains and curvatures, as rw_stack_strain gives */
  double bow;            /**< m, height that a straight line across grows by: ky girth^2/8 */
  double bow_low;        /**< limits of it */
  double bow_high;       /**< upper one */
  double spread;         /**< m, edges move apart across the boat (above 0 the section opens) */
  double spread_low;     /**< limits of it */
  double spread_high;    /**< upper one */
} rw_damp_result;

/**
 * How a stack sealed on one face curls and opens when the air turns damp or dry (168), (169).
 *
 * The wood's free strain follows the gradient of moisture, the glued stack evens it out; forces
 * from outside, such as moulds, frames and thwarts, are left out: a hull still on its moulds keeps
 * its shape and springs when it comes off. Elastic: what creeps over weeks is left out, too, so
 * real curls are rather smaller. Intervals are first order, from the spreads of swelling (those
 * of all plies wrong together, along and across apart) and of both moistures.
 * @param ply       the plies
 * @param swelling  how each swells
 * @param n         how many
 * @param damp      the change
 * @param out       result
 * @param err       error record, or NULL; says why for RW_OUTSIDE_TESTED, too
 * @return RW_OK; RW_OUTSIDE_TESTED where the curl turns edge against edge by more than half a
 * radian: wood creeps and cracks before it gets there; RW_ERR_RANGE; RW_ERR_ARGUMENT for an empty
 *         stack, one in which nothing swells, no change, or a NULL; RW_ERR_NUMERIC as
 *         rw_stack_make
 */
RW_API rw_status rw_stack_damp(const rw_ply *ply, const rw_swelling *swelling, size_t n,
                               const rw_damp *damp, rw_damp_result *out, rw_error *err);

/** @} */

/** @name Repairs and doublings */
/** @{ */

/** Two skins glued over a lap, pulled apart along it; per metre of width. */
typedef struct rw_bond {
  double force;     /**< N/m that the lap carries, > 0; at most what the weaker skin bears */
  double EA1;       /**< N/m, stiffness of one skin against a pull (E times thickness), > 0 */
  double EA2;       /**< N/m, of the other */
  double G;         /**< Pa, shear modulus of the glue, > 0 */
  double thickness; /**< m, of the glue line, > 0 */
  double strength;  /**< Pa, its shear strength, > 0 */
} rw_bond;

/** Shear in a lap. */
typedef struct rw_lap {
  double length;  /**< m */
  double average; /**< Pa, force over length */
  double end[2];  /**< Pa, at the end where skin 1 comes in and where skin 2 does (Volkersen) */
  double peak;    /**< Pa, the greater of both */
} rw_lap;

/**
 * Shear stress along a lap (170): the skins stretch, so the glue at the ends does most.
 *
 * The skins don't bend here. A single lap without support does, and peels at its ends: a lap over
 * sound skin on a hull is held by the wood below it.
 * @param bond    lap
 * @param length  m, > 0
 * @param out     result
 * @param err     error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_lap_at(const rw_bond *bond, double length, rw_lap *out, rw_error *err);
/**
 * Length of a lap (170), by the average shear stress and by its peak.
 *
 * The first takes the glue as yielding evenly before it breaks, which cured epoxy does in part;
 * the second lets no place of it beyond its strength and is the safe one. No length brings the
 * peak below that of an endless lap: where this is too much, thinner glue does not help and
 * stepping or tapering the patch does.
 * @param bond     lap
 * @param factor   of safety, 1 to 20
 * @param average  the shortest lap whose average stress times factor is the strength
 * @param peak     the shortest whose peak is; where there is none the endless one, as near as
 *                 matters (5/lambda)
 * @param err      error record, or NULL
 * @return RW_OK; RW_NO_SOLUTION where no length keeps the peak down; RW_ERR_RANGE;
 *         RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_lap_for(const rw_bond *bond, double factor, rw_lap *average, rw_lap *peak,
                            rw_error *err);
/**
 * Slope of a scarf (171) for one material on both sides: shear along the glue line, stress n/(1 +
 * n^2), times factor at most its strength.
 * @param stress     Pa that the joined part shall bear (its tensile strength for a full joint), >
 * 0
 * @param strength   Pa, shear strength of the glue, > 0
 * @param thickness  m, of what is joined, > 0
 * @param factor     of safety, 1 to 20
 * @param slope      n of 1 in n, 1 at least
 * @param length     m, n times thickness
 * @param err        error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_scarf_for(double stress, double strength, double thickness, double factor,
                              double *slope, double *length, rw_error *err);

/** What a repair is measured by. */
typedef enum rw_repair_measure {
  RW_REPAIR_BEND_X,   /**< stiffness EIx */
  RW_REPAIR_BEND_Y,   /**< EIy */
  RW_REPAIR_MOMENT_X, /**< moment Mx at first failure, the lesser of both signs */
  RW_REPAIR_MOMENT_Y, /**< My */
  RW_REPAIR_PULL_X,   /**< pull Nx at first failure, held flat */
  RW_REPAIR_PULL_Y,   /**< Ny */
  RW_REPAIR_MEASURES  /**< how many there are */
} rw_repair_measure;

/** A damaged place and what it is patched with. */
typedef struct rw_damage {
  const rw_ply *sound;    /**< the plies as they were */
  size_t sound_n;         /**< how many */
  const rw_ply *left;     /**< what is left of them there, in the same order */
  size_t left_n;          /**< how many */
  const rw_ply *layer;    /**< one layer of the patch */
  int face;               /**< -1: laid on the first ply's face, 1: on the last one's */
  double share;           /**< of the sound stack that is wanted back, 0.1 to 2; 1 is usual */
  rw_criterion criterion; /**< for strength */
  size_t most;            /**< layers to try, 1 to 30 */
} rw_damage;

/** A repair. Shares are of the sound stack. */
typedef struct rw_repair {
  size_t for_stiffness;               /**< layers after which EIx and EIy are back */
  size_t for_strength;                /**< layers after which all four strengths are */
  double damaged[RW_REPAIR_MEASURES]; /**< shares without a patch */
  double mended[RW_REPAIR_MEASURES];  /**< shares with the greater number of layers */
  double added_mass;                  /**< kg/m2 of these layers */
} rw_repair;

/**
 * Layers that bring a damaged place back (172); shares above 1 are those of a stack whose weakest
 * ply is gone, or less strained. The lap is another matter: rw_lap_for. What is
 * left is taken as sound; cracks in the wood, wet wood and a weak bond are not looked at. For
 * comparison and shop planning only, not an approval.
 * @param damage  place and patch
 * @param out     result; where `most` layers don't do, for_... is `most` + 1 and mended that of
 *                `most`
 * @param err     error record, or NULL; argument "sound", "left" or "layer" in front
 * @return RW_OK; RW_NO_SOLUTION where `most` layers don't do; RW_ERR_RANGE; RW_ERR_ARGUMENT;
 *         RW_ERR_NUMERIC as rw_stack_make and rw_stack_first_failure
 */
RW_API rw_status rw_repair_layers(const rw_damage *damage, rw_repair *out, rw_error *err);

/** A skin doubled in one place, such as a bottom patch, and the edge of that place. */
typedef struct rw_doubling {
  double stiffer_x;  /**< EIx over that of the plain stack */
  double stiffer_y;  /**< EIy over that of the plain stack */
  double added_mass; /**< kg/m2 */
  double outside[2]; /**< strain along x of the plain stack's faces beside the edge: the first
                          ply's, the last one's */
  double inside[2];  /**< of the same two faces under the doubling */
  double jump[2];    /**< outside over inside */
  double force;      /**< N/m, along x, that the doubling takes over */
  double reach;      /**< m inwards of the edge over which it takes 95 per cent of it, 3/lambda:
                          step or taper the edge at least that far */
  double shear;      /**< Pa, in the glue at a blunt edge, of its sign */
} rw_doubling;

/**
 * What a doubling does, and how the strain jumps at an edge across x (173). Forces and moments
 * beside the edge are taken to go through unchanged, as they do for a small patch; the strain
 * outside is then what the skin has beside a hard spot, and cracks begin there.
 * @param ply       the plain plies
 * @param n         how many
 * @param extra     the plies laid on, from the plain stack outwards
 * @param extra_n   how many
 * @param face      -1: on the first ply's face, 1: on the last one's
 * @param load      Nx Ny Nxy (N/m), Mx My Mxy (N) about the plain stack's middle
 * @param glue      G and thickness of the glue line below the doubling; the rest is not read
 * @param out       result
 * @param err       error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT; RW_ERR_NUMERIC as rw_stack_make
 */
RW_API rw_status rw_stack_double(const rw_ply *ply, size_t n, const rw_ply *extra, size_t extra_n,
                                 int face, const double load[6], const rw_bond *glue,
                                 rw_doubling *out, rw_error *err);

/** @} */

#ifdef __cplusplus
}
#endif
#endif
