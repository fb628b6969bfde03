/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * @file laminate.h
 * @brief Fifth floor: ply stacks; weight, thickness, A B D, stiffness, strains, first failure.
 *
 * Convention: z is measured from the mid-plane, positive towards the LAST ply listed; the first
 * ply listed is at z = -h/2. Shear strain is engineering shear. Angles in rad from the x axis
 * (along the hull) to the ply's fibre or grain.
 *
 * Strength is for comparison and shop planning only, not an approval: scantling rules, survey and
 * licensed practice decide.
 *
 * Threads: reentrant; nothing is allocated but by the functions that compare layups.
 */
#ifndef RESINWRIGHT_LAMINATE_H
#define RESINWRIGHT_LAMINATE_H

#include <resinwright/base.h>
#include <resinwright/cloth.h>

#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/** An orthotropic sheet material in its own axes, plane stress. */
typedef struct rw_lamina {
  double density; /**< kg/m3 */
  double E1;      /**< Pa, along the fibre, warp or grain */
  double E2;      /**< Pa, across */
  double G12;     /**< Pa */
  double nu12;    /**< strain across over strain along, for a pull along */
  double Xt;      /**< Pa, tension along; 0: not known */
  double Xc;      /**< Pa, compression along, > 0 */
  double Yt;      /**< Pa, tension across */
  double Yc;      /**< Pa, compression across, > 0 */
  double S;       /**< Pa, shear */
  double G13;     /**< Pa, shear of the thickness against 1; 0: not known, taken as G12 */
  double G23;     /**< Pa, shear of the thickness against 2; 0: not known, taken as G12 */
  double E3;      /**< Pa, through the thickness; 0: not known, taken as E2 */
  double S23;     /**< Pa, shear strength against G23 (rolling shear of wood); 0: taken as S */
} rw_lamina;

/** One ply of a stack. */
typedef struct rw_ply {
  rw_lamina material; /**< what it is made of */
  double thickness;   /**< m, > 0 */
  double angle;       /**< rad, -2 pi to 2 pi */
} rw_ply;

/** A laminate's stiffness and mass. */
typedef struct rw_stack {
  double thickness;  /**< m */
  double areal_mass; /**< kg/m2 */
  double A[9];       /**< N/m, by rows, order x y xy */
  double B[9];       /**< N */
  double D[9];       /**< N m */
  double abd[36];    /**< inverse of [A B; B D], by rows */
  double Ex;         /**< Pa, in-plane modulus along, free to bend */
  double Ey;         /**< Pa, across */
  double Gxy;        /**< Pa, in-plane shear */
  double nuxy;       /**< in-plane Poisson ratio */
  double EIx;        /**< N m, bending stiffness per width of a strip along x: 1/abd44 */
  double EIy;        /**< N m, of a strip across: 1/abd55 */
} rw_stack;

/**
 * Check a lamina: positive moduli and density, G13 and G23 positive or 0, nu12^2 < E1/E2.
 * Strengths are looked at where they are used, in rw_stack_first_failure.
 * @param m    lamina
 * @param err  error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT where m is NULL
 */
RW_API rw_status rw_lamina_check(const rw_lamina *m, rw_error *err);

/** Elastic constants of a fibre. */
typedef struct rw_fibre {
  double density;  /**< kg/m3 */
  double E1;       /**< Pa */
  double E2;       /**< Pa */
  double G12;      /**< Pa */
  double nu12;     /**< 1 */
  double strength; /**< Pa, tension along; 0: not known */
  double crush;    /**< Pa in the fibre at which it gives way itself, pressed along; 0: not known,
                      taken not to before the ply kinks */
} rw_fibre;

/** Elastic constants of a cured resin. */
typedef struct rw_matrix {
  double density;  /**< kg/m3 */
  double E;        /**< Pa */
  double nu;       /**< 1 */
  double strength; /**< Pa, tension; 0: not known */
} rw_matrix;

/**
 * A unidirectional ply by mixtures along and Halpin-Tsai across (18): xi 2 for E2 and 1 for G12
 * (Halpin & Kardos 1976), 1/(3 - 4 nu) for G23 (140). G13 is G12, E3 is E2.
 *
 * Strengths, with s the resin's tensile strength; all are 0 (not known) where the fibre's or the
 * resin's strength is 0. For comparison only: expect a factor of two, not ten per cent.
 * - Xt = V fibre strength + (1-V) what the resin bears at that stretch, s at most.
 * - S = s/sqrt(3), the resin yielding in shear (von Mises).
 * - Xc = S/(0.04 + S/G12), Xt at most: fibres 0.04 rad out of line kink as the resin beside them
 *   yields (Argon 1972, Budiansky 1983: memory; the angle: common practice, no source). A fibre
 *   that gives way itself (aramid) before that: V crush + (1-V) what the resin bears at that
 *   stretch, s at most, where that is less (186).
 * - Yt = s (1 - (sqrt V - V)(1 - E/E2 of the fibre)), stress crowding between fibres (memory).
 * - Yc = 2 s, crushing of cured epoxy against its tension (common practice, no source).
 * @param f             fibre
 * @param m             resin
 * @param volume_share  0 < V <= 0.907
 * @param out           ply
 * @param err           error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_lamina_unidirectional(const rw_fibre *f, const rw_matrix *m,
                                          double volume_share, rw_lamina *out, rw_error *err);
/**
 * A cloth ply: two crossed unidirectional halves, stiffness times (1 - crimp), strength likewise;
 * one half for unidirectional, the in-plane average for mat.
 *
 * Warp and weft are taken as equal; crimp is the cloth's own (not used for unidirectional and
 * mat). The model tends to come out below published moduli of woven plies; it is not tuned to
 * them, see rw_lamina_cloth_spread.
 *
 * Strength of crossed halves: the half that lies along the load bears it, Xt = half the
 * unidirectional one, but not beyond the stretch at which the resin breaks (its strength over its
 * modulus), where the crossing yarns crack. Xc: half. S: the resin's. Mat: 3/8 in place of a half
 * (Krenchel 1964: memory), S = Xt/sqrt(3). For comparison only.
 * @param c             cloth; its fibre density replaces that of f, so that mass agrees
 * @param f             its fibre
 * @param m             resin
 * @param volume_share  0 < V <= rw_weave_limit
 * @param out           ply in warp axes; for biaxial along one of its two yarns (a cloth sold as
 *                      +-45 is laid at 45 degrees)
 * @param err           error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_lamina_cloth(const rw_cloth *c, const rw_fibre *f, const rw_matrix *m,
                                 double volume_share, rw_lamina *out, rw_error *err);
/**
 * Two or more fibres in one cloth as one fibre (143), for rw_lamina_unidirectional and
 * rw_lamina_cloth: yarns of both kinds side by side in every layer.
 *
 * By volume: E1, nu12 and density are mixed, so that the ply's E1 is that of a mixture of all;
 * across, the Halpin-Tsai parts eta of the fibres are added. The strength is that at which the
 * fibre that stretches least breaks: the others then take over or not, which is left out. So is
 * crush that at which the first of those whose own is known gives way (186).
 * @param f     n fibres
 * @param mass  n areal masses, kg/m2 (or any other masses), above 0
 * @param n     1 to 8
 * @param m     the resin it will lie in
 * @param out   the fibre; its strength is 0 (not known) where that of one of them is
 * @param err   error record, or NULL; argument "f[i].FIELD" or "mass[i]", i from 1
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_fibre_blend(const rw_fibre *f, const double *mass, size_t n,
                                const rw_matrix *m, rw_fibre *out, rw_error *err);
/**
 * A cloth whose warp and weft differ (143): more yarn one way, or carbon along and aramid across.
 * Two unidirectional plies lie crossed and share their strains; strengths as in rw_lamina_cloth.
 * Halves of one kind give what rw_lamina_cloth gives.
 * @param warp        ply of the warp yarns alone, fibres along 1
 * @param weft        ply of the weft yarns alone, fibres along its own 1
 * @param warp_share  warp's part of the thickness, above 0 and below 1: areal mass over fibre
 * density over fibre share of the warp, against the same of both
 * @param crimp       share of stiffness and strength lost to the waviness, 0 to 0.5
 * @param crack       stretch at which the resin cracks, its strength over its modulus; 0: left out
 * @param out         ply in warp axes; without strengths where one of the two has none
 * @param err         error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_lamina_crossed(const rw_lamina *warp, const rw_lamina *weft, double warp_share,
                                   double crimp, double crack, rw_lamina *out, rw_error *err);
/** Warp and weft of a cloth, in this order. */
typedef struct rw_yarns {
  rw_fibre fibre[2]; /**< what each is made of */
  double mass[2];    /**< kg/m2 of each (or any other masses), above 0 */
} rw_yarns;
/**
 * A ply of a cloth whose warp and weft differ, from its yarns (143): rw_lamina_crossed of two
 * unidirectional plies of one fibre share, with the cloth's crimp and the resin's strength over
 * its modulus. Yarns alike give what rw_lamina_cloth gives.
 * @param c             cloth, not unidirectional and not mat; its fibre density, that of both
 *                      fibres together (rw_fibre_blend), says the ply's mass
 * @param y             its warp and weft
 * @param m             resin
 * @param volume_share  of all fibre, value and sd, 0 < V <= rw_weave_limit
 * @param out           ply in warp axes; without strengths where that of a fibre or the resin is 0
 * @param spread        relative standard deviation of its moduli as in rw_lamina_cloth_uncertain,
 *                      by the modulus that the fibre share moves more
 * @param err           error record, or NULL; argument "y.fibre[i].FIELD" or "y.mass[i]", i from
 *                      1, "c.weave", "volume_share", "volume_share.sd", or a field of c or m
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT for a NULL or a weave without warp and weft
 */
RW_API rw_status rw_lamina_yarns(const rw_cloth *c, const rw_yarns *y, const rw_matrix *m,
                                 rw_value volume_share, rw_lamina *out, double *spread,
                                 rw_error *err);
/**
 * A cloth ply as rw_lamina_cloth, and how far its stiffness is to be trusted: the model's spread
 * (rw_lamina_cloth_spread; 0.05 for unidirectional cloth, where three published moduli lie within
 * 8 per cent) together with what the spread of the fibre share does to E1.
 * @param c             cloth
 * @param f             its fibre
 * @param m             resin
 * @param volume_share  value and sd
 * @param out           ply
 * @param spread        relative standard deviation of its moduli, for rw_stack_uncertain
 * @param err           error record, or NULL
 * @return as rw_lamina_cloth
 */
RW_API rw_status rw_lamina_cloth_uncertain(const rw_cloth *c, const rw_fibre *f,
                                           const rw_matrix *m, rw_value volume_share,
                                           rw_lamina *out, double *spread, rw_error *err);
/**
 * How far rw_lamina_cloth's stiffness is to be trusted. In three comparisons with published moduli
 * of woven glass plies the crossed halves come out 10 to 30 per cent low before the loss by crimp:
 * a lean to one side, so the sd is set for its 90 % interval to reach that far.
 * @return relative standard deviation of the moduli, 0.20
 */
RW_API double rw_lamina_cloth_spread(void);
/** How far strengths scatter: relative standard deviations of the strengths of a ply, 0 to 0.9. */
typedef struct rw_strength_spread {
  double Xt; /**< tension along */
  double Xc; /**< compression along */
  double Yt; /**< tension across */
  double Yc; /**< compression across */
  double S;  /**< shear */
} rw_strength_spread;
/**
 * How far a wood's strengths scatter (179), from the tables: small clear pieces, from tree to tree
 * and within one. Knots and slope of grain, and that the weakest of many strips gives way first,
 * are left out.
 * @param name  wood name
 * @param out   its spreads
 * @param err   error record, or NULL
 * @return RW_OK; RW_ERR_NAME; RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_lamina_wood_strength_spread(const char *name, rw_strength_spread *out,
                                                rw_error *err);
/**
 * How far the strengths of cloth in resin are to be trusted (179): nine in ten lie between a half
 * and twice what rw_lamina_cloth says (common practice, no source), as a lognormal does whose
 * relative sd is 0.441.
 * @return the spreads, all alike
 */
RW_API rw_strength_spread rw_lamina_cloth_strength_spread(void);
/**
 * A fibre from the material tables.
 * @param name  fibre name
 * @param out   fibre
 * @param err   error record, or NULL
 * @return RW_OK; RW_ERR_NAME; RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_fibre_find(const char *name, rw_fibre *out, rw_error *err);
/**
 * How a fibre of the material tables grows when it is warmed, by length. For the resin take the
 * property "expansion" (rw_material_property).
 * @param name        fibre name
 * @param per_kelvin  1/K, along and across the fibre
 * @param err         error record, or NULL
 * @return RW_OK; RW_ERR_NAME, also for a fibre whose expansion is not in the tables (flax);
 *         RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_fibre_expansion(const char *name, double per_kelvin[2], rw_error *err);
/**
 * A cured resin from the material tables.
 * @param name  resin name, such as "cured-epoxy"
 * @param out   cured resin
 * @param err   error record, or NULL
 * @return RW_OK; RW_ERR_NAME, also for a resin whose cured stiffness is not in the tables;
 *         RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_matrix_find(const char *name, rw_matrix *out, rw_error *err);
/**
 * A wood as a sheet with its grain along 1 and the tangential direction across, from the tables,
 * at 12 % moisture: rw_lamina_wood_cut, flat-sawn, such as veneer peeled from the log.
 *
 * Xt is the bending strength of clear wood (tension along the grain is seldom measured; common
 * practice). Yc is where wood bruises across the grain, long before it breaks. Knots, slope of
 * grain and glue lines are left out. S23, rolling shear, is 0.18 of the shear strength along the
 * grain, the low end of what is remembered; G23 of a wood whose table row lacks it is 0.05 of the
 * shear modulus along the grain, the least of the others.
 * @param name    wood name
 * @param out     lamina
 * @param spread  relative standard deviation of its stiffness, or NULL
 * @param err     error record, or NULL
 * @return RW_OK; RW_ERR_NAME; RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_lamina_wood(const char *name, rw_lamina *out, double *spread, rw_error *err);

/** How a strip or veneer lies in the tree. */
typedef enum rw_cut {
  RW_FLAT_SAWN,   /**< rings along the face: tangential across, radial through the thickness */
  RW_QUARTER_SAWN /**< rings on edge: radial across, tangential through the thickness */
} rw_cut;

/**
 * A wood as a sheet, by cut and moisture (152).
 *
 * All moduli move as the modulus of elasticity does; those across the grain are said to move more
 * (memory), which is left out. Tension across the grain does not follow the equation and stays.
 * Density takes the water's mass, not the swelling. Ratios by species stand in the tables, the
 * mean of softwoods or hardwoods where the species' own were not read; expect 10 % of spread.
 * @param name      wood name
 * @param cut       cut
 * @param moisture  mass of water over mass of dry wood, 0 to 2; from the table's green moisture
 *                  (0.25 or so) up nothing changes but the weight
 * @param out       lamina
 * @param spread    relative standard deviation of its stiffness, or NULL
 * @param err       error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_NAME; RW_ERR_ARGUMENT for a NULL or an unknown cut
 */
RW_API rw_status rw_lamina_wood_cut(const char *name, rw_cut cut, double moisture, rw_lamina *out,
                                    double *spread, rw_error *err);
/**
 * A property of clear wood at another moisture (152), eq. 5-3 of the USDA Wood Handbook:
 * P12 (P12/Pg)^((12 % - M)/(Mg - 12 %)). Not for tension across the grain or for toughness.
 * @param at_12       value at 12 %, any unit, above 0
 * @param when_green  value when green, the same unit, above 0
 * @param moisture    M, mass of water over mass of dry wood, 0 to 2
 * @param green       Mg, where drying begins to tell, 0.15 to 0.4; 0.25 where not known
 * @param value       result; when_green from Mg up
 * @param err         error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_lamina_wood_property(double at_12, double when_green, double moisture,
                                         double green, double *value, rw_error *err);
/**
 * How wood swells or shrinks between two moistures, as free strain of its ply (144): in
 * proportion to moisture up to 30 %, by the shrinkage of the tables. Along the grain 0 (0.1 to
 * 0.2 % from green to dry, memory, is left out).
 * @param name    wood name
 * @param cut     cut
 * @param from    moisture before, mass of water over mass of dry wood, 0 to 2
 * @param to      moisture after
 * @param strain  e1 e2 g12 for rw_stack_free_load; below 0 where it dries
 * @param err     error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_NAME, also for a wood without shrinkage in the tables;
 *         RW_ERR_ARGUMENT for a NULL or an unknown cut
 */
RW_API rw_status rw_lamina_wood_swelling(const char *name, rw_cut cut, double from, double to,
                                         double strain[3], rw_error *err);
/**
 * How wood grows when it is warmed at a moisture that stays (156). Wet wood that is warmed dries
 * as well, and mostly shrinks by that more than it grows (the handbook's warning, memory): say how
 * its moisture moves with rw_lamina_wood_swelling and add both. Near fibre saturation it shrinks
 * at once (Kubler, Liang & Chang 1973). The lines of the Wood Handbook are for oven-dry wood
 * (memory); four species measured at 12 % lie between 5 % below and 80 % above them, so expect
 * 30 % of spread.
 * @param name        wood name
 * @param cut         cut
 * @param per_kelvin  1/K: e1 e2 g12 per kelvin; times the warming they are free strains for
 *                    rw_stack_free_load
 * @param err         error record, or NULL
 * @return RW_OK; RW_ERR_NAME; RW_ERR_ARGUMENT for a NULL or an unknown cut
 */
RW_API rw_status rw_lamina_wood_expansion(const char *name, rw_cut cut, double per_kelvin[3],
                                          rw_error *err);
/**
 * Plywood as its veneers (153): an odd number, each across its neighbours. Glue lines and the
 * checks of peeled veneer are left out.
 * @param veneer     the wood, from rw_lamina_wood
 * @param thickness  m of the whole sheet, > 0
 * @param face       m of each of the two outer veneers, which are often thinner; 0: all equal
 * @param n          3 to 49, odd
 * @param angle      rad, grain of the outer veneers
 * @param ply        n plies, ready to stand in a stack
 * @param err        error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_plywood_make(const rw_lamina *veneer, double thickness, double face, size_t n,
                                 double angle, rw_ply *ply, rw_error *err);

/**
 * Reduced stiffness of a lamina turned by an angle.
 * @param m      lamina
 * @param angle  rad, -2 pi to 2 pi
 * @param q      3x3 by rows, Pa
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_lamina_stiffness(const rw_lamina *m, double angle, double q[9], rw_error *err);
/**
 * Classical lamination theory for a stack.
 * @param ply  n plies, first at z = -h/2
 * @param n    1 to 200
 * @param out  result
 * @param err  error record, or NULL; argument "ply[i].FIELD", i from 1
 * @return RW_OK; RW_ERR_ARGUMENT for an empty stack; RW_ERR_RANGE; RW_ERR_NUMERIC where moduli
 *         or thicknesses lie too far apart to be inverted
 */
RW_API rw_status rw_stack_make(const rw_ply *ply, size_t n, rw_stack *out, rw_error *err);
/**
 * Mid-plane strains and curvatures under loads per width.
 * @param s       stack
 * @param load    Nx Ny Nxy (N/m), Mx My Mxy (N)
 * @param strain  ex0 ey0 gxy0 (1), kx ky kxy (1/m)
 */
RW_API void rw_stack_strain(const rw_stack *s, const double load[6], double strain[6]);
/** A laminate's engineering constants, free to bend while pulled and to stretch while bent. */
typedef struct rw_stack_moduli {
  double Ex;           /**< Pa, pulled along */
  double Ey;           /**< Pa, pulled across */
  double Gxy;          /**< Pa, sheared */
  double nuxy;         /**< strain across over strain along, pulled along, sign turned */
  double nuyx;         /**< likewise pulled across; nuyx/Ey = nuxy/Ex */
  double skew_x;       /**< shear strain over strain along, pulled along */
  double skew_y;       /**< shear strain over strain across, pulled across */
  double bending_Ex;   /**< Pa, of one material that bends as much along: 12 EIx/h^3 */
  double bending_Ey;   /**< Pa, across */
  double bending_Gxy;  /**< Pa, twisted */
  double bending_nuxy; /**< curvature across over that along, bent along, sign turned */
  double bending_nuyx; /**< likewise bent across */
} rw_stack_moduli;
/**
 * Engineering constants in plane and in bending (146), from the inverse of [A B; B D].
 * @param s    stack
 * @param out  constants
 * @param err  error record, or NULL
 * @return RW_OK; RW_ERR_RANGE for a stack that was not made; RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_stack_moduli_of(const rw_stack *s, rw_stack_moduli *out, rw_error *err);
/**
 * Strain a cloth ply takes when it is free (144), after Schapery 1968 (memory): along the fibres
 * by the equal strain of fibre and resin, across with their Poisson ratios; crossed halves and
 * mat take one strain in all directions.
 *
 * For warming by dT give coefficients times dT; for cure the fibre 0 and the resin its shrinkage
 * by length, below 0, from when it no longer flows (a third of that by volume; most of the whole
 * shrinkage comes before). Stress is taken as lasting: resin near its glass transition, and all
 * resin in time, lets it go, so what comes out is an upper bound.
 * @param c             cloth
 * @param f             its fibre
 * @param m             resin
 * @param volume_share  0 < V <= rw_weave_limit
 * @param fibre         the fibre's own strain along and across it, -0.5 to 0.5
 * @param resin         the resin's own strain
 * @param strain        e1 e2 g12 of the ply for rw_stack_free_load
 * @param err           error record, or NULL
 * @return as rw_lamina_cloth; RW_ERR_RANGE for a strain
 */
RW_API rw_status rw_lamina_cloth_expansion(const rw_cloth *c, const rw_fibre *f,
                                           const rw_matrix *m, double volume_share,
                                           const double fibre[2], double resin, double strain[3],
                                           rw_error *err);
/**
 * Own strain of several fibres in one cloth as that of the one fibre of rw_fibre_blend (155), so
 * that a ply of it takes the strain (144) of a ply with all of them.
 * @param f      n fibres
 * @param mass   n areal masses as in rw_fibre_blend
 * @param own    2 n strains (or coefficients): along and across each fibre, -0.5 to 0.5
 * @param n      1 to 8
 * @param one    along and across the one fibre
 * @param err    error record, or NULL; argument "f[i].FIELD", "mass[i]" or "own[i]", i from 1
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_fibre_blend_expansion(const rw_fibre *f, const double *mass, const double *own,
                                          size_t n, double one[2], rw_error *err);
/**
 * Strain that a ply of a cloth whose warp and weft differ takes when it is free (157): its two
 * halves share it. As rw_lamina_cloth_expansion otherwise.
 * @param c             cloth as in rw_lamina_yarns
 * @param y             its warp and weft
 * @param m             resin
 * @param volume_share  0 < V <= rw_weave_limit
 * @param own           own strain of the fibres: of the warp along and across itself, of the weft
 *                      likewise, -0.5 to 0.5
 * @param resin         the resin's own strain, -0.5 to 0.5
 * @param strain        e1 e2 g12 of the ply in warp axes
 * @param err           error record, or NULL; argument "own[i]", i from 1 to 4, "resin", or as in
 *                      rw_lamina_yarns
 * @return as rw_lamina_yarns; RW_ERR_RANGE for a strain
 */
RW_API rw_status rw_lamina_yarns_expansion(const rw_cloth *c, const rw_yarns *y,
                                           const rw_matrix *m, double volume_share,
                                           const double own[4], double resin, double strain[3],
                                           rw_error *err);
/**
 * Load that would force plies to their free strains (144): N = sum of Qbar e t, M = sum of
 * Qbar e t z. rw_stack_strain of it, together with any outer load, gives the strains and
 * curvatures the stack really takes.
 * @param ply   n plies
 * @param n     how many
 * @param free  3 n numbers: e1 e2 g12 of each ply in its own axes, -0.5 to 0.5
 * @param load  Nx Ny Nxy (N/m), Mx My Mxy (N)
 * @param err   error record, or NULL; argument "free[i].e1", i from 1
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT for an empty stack or a NULL
 */
RW_API rw_status rw_stack_free_load(const rw_ply *ply, size_t n, const double *free,
                                    double load[6], rw_error *err);
/**
 * Stress in a ply of a stack with free strains (144): Qbar (eps0 + z kappa - e).
 * @param ply     the plies
 * @param n       how many
 * @param index   which, from 0
 * @param place   -1 at its lower face to +1 at its upper face
 * @param strain  from rw_stack_strain of the outer load and rw_stack_free_load together
 * @param free    as in rw_stack_free_load
 * @param global  sx sy txy, Pa, or NULL
 * @param local   s1 s2 t12, Pa, or NULL
 * @param err     error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT for an empty stack or a NULL
 */
RW_API rw_status rw_stack_free_stress(const rw_ply *ply, size_t n, size_t index, double place,
                                      const double strain[6], const double *free, double global[3],
                                      double local[3], rw_error *err);

/**
 * Transverse shear stiffness (145): what the shear stresses of a unit shear force store in energy.
 *
 * A shear force is the rate of a bending moment. It makes the stresses along the plies change from
 * place to place, and what balances that change is the shear stress between the plies; of its
 * energy per area, Q'H^-1 Q/2, H is what is asked. The plate is held flat across meanwhile
 * (cylindrical bending). No correction factor has to be guessed: one material alone gives 5/6 G h,
 * thin faces on a soft core G d^2/c. Below a span of some ten thicknesses first-order shear theory
 * itself goes astray.
 * @param ply  the plies; a G13 or G23 of 0 is taken as G12, too stiff for wood and for a core
 * @param n    how many
 * @param s    their stack
 * @param h    N/m: xz, yz and their coupling, Qx = h[0] gxz + h[2] gyz, Qy = h[2] gxz + h[1] gyz;
 *             h[2] is 0 where every ply lies along x or y
 * @param err  error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_NUMERIC; RW_ERR_ARGUMENT for an empty stack or a NULL
 */
RW_API rw_status rw_stack_shear(const rw_ply *ply, size_t n, const rw_stack *s, double h[3],
                                rw_error *err);
/**
 * Shear stress between the plies (145) under a shear force. The stress does not jump from ply to
 * ply, so the faces of two neighbours agree; it is zero at both faces of the stack.
 * @param ply     the plies
 * @param n       how many
 * @param s       their stack
 * @param index   which, from 0
 * @param place   -1 at its lower face to +1 at its upper face
 * @param force   Qx Qy, N/m
 * @param global  txz tyz, Pa, or NULL
 * @param local   t13 t23 in ply axes, Pa, or NULL
 * @param err     error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT for an empty stack or a NULL
 */
RW_API rw_status rw_stack_shear_stress(const rw_ply *ply, size_t n, const rw_stack *s,
                                       size_t index, double place, const double force[2],
                                       double global[2], double local[2], rw_error *err);
/**
 * Deflection of a strip along x on two supports under a line load across its middle:
 * P L^3/(48 EIx).
 *
 * The strip is narrow (free to curl across), rests freely on both supports, and only bends: shear
 * is left out, which makes it too stiff where it is short. Tested from a span of 20 thicknesses up
 * (bending tests on wood laminates came within 6 per cent there); with a soft core shear counts
 * well above that. A deflection above a tenth of the span is beyond linear bending.
 * @param s               stack
 * @param span            m between supports, > 0
 * @param load_per_width  N per m of width, the line's whole load; of either sign
 * @param deflection      m at the middle, of the sign of the load
 * @param err             error record, or NULL; says why for RW_OUTSIDE_TESTED, too
 * @return RW_OK; RW_OUTSIDE_TESTED below a span of 20 thicknesses or above a deflection of a tenth
 *         of the span; RW_ERR_RANGE; RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_stack_strip(const rw_stack *s, double span, double load_per_width,
                                double *deflection, rw_error *err);
/** What fairing left of a stack's bending stiffness. */
typedef struct rw_faired {
  size_t worst;  /**< reading that leaves least, from 0; of equal ones the first */
  double along;  /**< EIx there over EIx before, see rw_stack */
  double across; /**< EIy there over EIy before */
  size_t below;  /**< readings below the limit along or across */
  double needed; /**< m, thickness at which the limit is just met; 0: the other plies meet it */
} rw_faired;
/** Wood that was faired, and what its thickness was found to be. */
typedef struct rw_fairing {
  size_t which;            /**< the first ply of the wood, from 0 */
  size_t many;             /**< its plies from there on: 1 a plank, more the veneers of plywood */
  int side;                /**< -1: sanded from the first ply's side, 1: from the last one's */
  const double *thickness; /**< m, one reading for each place of the map, > 0 */
  size_t readings;         /**< how many, at least 1 */
  double limit;            /**< least share of the planned stiffness, above 0 and below 1 */
} rw_fairing;
/**
 * Bending stiffness left where the wood was faired (154): each reading in its turn takes the place
 * of the wood's thickness. A reading is the thickness there of that wood alone, under its cloth or
 * before it. Of plywood the veneers on the sanded side go first, one after the other.
 * @param ply        the plies as planned
 * @param n          how many
 * @param fairing    which of them, and the readings
 * @param out        result
 * @param err        error record, or NULL; argument "which", "many", "side", "limit" or
 *                   "thickness[i]", i from 1
 * @return as rw_stack_make; RW_ERR_RANGE; RW_ERR_ARGUMENT without readings, for a side that is not
 *         known or a NULL
 */
RW_API rw_status rw_stack_faired(const rw_ply *ply, size_t n, const rw_fairing *fairing,
                                 rw_faired *out, rw_error *err);
/**
 * Stress in a ply at a height, in laminate and ply axes.
 * @param ply     the plies
 * @param n       how many
 * @param index   which, from 0
 * @param place   -1 at its lower face (towards the first ply) to +1 at its upper face
 * @param strain  from rw_stack_strain
 * @param global  sx sy txy, Pa, or NULL
 * @param local   s1 s2 t12, Pa, or NULL
 * @param err     error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT for an empty stack or a NULL
 */
RW_API rw_status rw_stack_stress(const rw_ply *ply, size_t n, size_t index, double place,
                                 const double strain[6], double global[3], double local[3],
                                 rw_error *err);

/** How a stack's stiffness spreads when its materials are not known exactly. */
typedef struct rw_stack_spread {
  rw_value EIx;     /**< N m, see rw_stack */
  rw_value EIy;     /**< N m */
  size_t because_x; /**< group that holds most of the spread of EIx */
  size_t because_y; /**< group that holds most of the spread of EIy */
} rw_stack_spread;
/**
 * First-order spread of the bending stiffness: the moduli of all plies of a group are wrong
 * together by the group's relative sd; groups are independent.
 * @param ply       the plies
 * @param n         how many
 * @param group     n group numbers, from 0 to below groups
 * @param relative  relative standard deviation of each group, 0 to 0.9
 * @param groups    1 to 16
 * @param out       result
 * @param err       error record, or NULL
 * @return as rw_stack_make; RW_ERR_RANGE for a group or an sd
 */
RW_API rw_status rw_stack_uncertain(const rw_ply *ply, size_t n, const size_t *group,
                                    const double *relative, size_t groups, rw_stack_spread *out,
                                    rw_error *err);

/** A failure criterion (19), (147), (148). */
typedef enum rw_criterion {
  RW_MAX_STRESS, /**< each stress against its own strength */
  RW_TSAI_WU,    /**< quadratic in stress, F12 = -sqrt(F11 F22)/2 */
  RW_MAX_STRAIN, /**< each strain against its strength over its modulus */
  RW_TSAI_HILL   /**< quadratic in stress, with the strength of the sign that acts; strengths
                      across must lie below twice those along */
} rw_criterion;

/** What gives way. */
typedef enum rw_mode {
  RW_MODE_NONE,
  RW_MODE_TENSION_ALONG,
  RW_MODE_CRUSH_ALONG,
  RW_MODE_TENSION_ACROSS, /**< in wood: pulled apart across the grain */
  RW_MODE_CRUSH_ACROSS,   /**< in wood: bruised across the grain */
  RW_MODE_SHEAR,
  RW_MODE_SHEAR_THROUGH /**< sheared through the thickness: core, rolling shear of wood */
} rw_mode;

/** First ply failure of a stack. */
typedef struct rw_first_failure {
  double factor; /**< multiply the load by it to reach failure; HUGE_VAL: never; 0: what is locked
                      in is enough */
  size_t ply;    /**< which, from 0 */
  int face;      /**< -1 lower, +1 upper face of that ply; 0 where nothing gives way, or within */
  rw_mode mode;  /**< what gives way (the largest stress-to-strength ratio) */
} rw_first_failure;

/**
 * Load factor at first ply failure; plies whose Xt is 0 are left out. Stress grows in proportion
 * to the load; stress locked in by cure, damp or cold is left out (see rw_stack_failures). Both
 * faces of each ply are looked at; of equal factors the first met from the first ply on is
 * reported.
 * @param ply        the plies
 * @param n          how many
 * @param s          their stack
 * @param load       Nx Ny Nxy Mx My Mxy
 * @param criterion  which
 * @param out        result
 * @param err        error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT where no ply has a strength or the load is zero, for an empty
 *         stack, an unknown criterion or a NULL; RW_ERR_RANGE for a strength that is not positive
 *         or that the criterion cannot work with, or a load that is not finite
 */
RW_API rw_status rw_stack_first_failure(const rw_ply *ply, size_t n, const rw_stack *s,
                                        const double load[6], rw_criterion criterion,
                                        rw_first_failure *out, rw_error *err);
/**
 * Load factor at which each ply gives way, as if the others held on, with the stress that free
 * strains lock in. The load grows, the locked-in stress stays.
 * @param ply        the plies
 * @param n          how many
 * @param s          their stack
 * @param load       Nx Ny Nxy Mx My Mxy
 * @param free       3 n free strains as in rw_stack_free_load, or NULL for none
 * @param criterion  which
 * @param each       n results; a ply whose Xt is 0 never gives way
 * @param err        error record, or NULL
 * @return as rw_stack_first_failure; RW_ERR_RANGE for a free strain
 */
RW_API rw_status rw_stack_failures(const rw_ply *ply, size_t n, const rw_stack *s,
                                   const double load[6], const double *free,
                                   rw_criterion criterion, rw_first_failure *each, rw_error *err);

/** A skin that wrinkles on its core. */
typedef struct rw_wrinkling {
  double factor;    /**< multiply the load by it; HUGE_VAL: no skin is pushed */
  int face;         /**< -1 the skin below the core, +1 the one above it; 0: none */
  double stress;    /**< Pa, mean stress of the skin at which it wrinkles */
  double direction; /**< rad from x, along which it is pushed */
} rw_wrinkling;
/**
 * Wrinkling of a skin on a core (149): mean pressure in the skin of 0.5 (Ef Ec Gc)^(1/3), the
 * usual shop value for real, slightly wavy skins (Hoff & Mautner 1945: memory; theory for flat
 * ones gives 0.8 to 0.9). Ef is the skin's modulus in the direction of its greatest pressure, Ec
 * the core's E3, Gc its shear modulus through the thickness in that direction. For a core thicker
 * than a few wavelengths, as foam and light wood under thin skins are.
 * @param ply   the plies
 * @param n     how many, at least 2
 * @param s     their stack
 * @param core  which ply is the core, from 0; all below and all above are its skins
 * @param load  Nx Ny Nxy Mx My Mxy
 * @param out   the skin that wrinkles first
 * @param err   error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT where the load is zero, there is no skin, or for a
 *         NULL
 */
RW_API rw_status rw_stack_wrinkling(const rw_ply *ply, size_t n, const rw_stack *s, size_t core,
                                    const double load[6], rw_wrinkling *out, rw_error *err);
/**
 * Shear failure through the thickness under a shear force (150): t13 against S and t23 against S23
 * in every ply, at its greatest in the ply. Plies whose S is 0 are left out, and so are the glue
 * lines between plies.
 * @param ply    the plies
 * @param n      how many
 * @param s      their stack
 * @param force  Qx Qy, N/m
 * @param out    result, mode RW_MODE_SHEAR_THROUGH
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT where no ply has an S or the force is zero, for an empty stack or
 *         a NULL; RW_ERR_RANGE
 */
RW_API rw_status rw_stack_shear_failure(const rw_ply *ply, size_t n, const rw_stack *s,
                                        const double force[2], rw_first_failure *out,
                                        rw_error *err);

/** What a hit from outside does to a stack; moments are the factors, in N. */
typedef struct rw_hit {
  rw_first_failure along;  /**< bent along x only, as between ribs */
  rw_first_failure across; /**< bent along y only, as between stringers */
  rw_first_failure both;   /**< bent alike both ways, as under a blow in the middle of a panel */
  double energy;           /**< J/m2 stored in bending alike both ways when the first ply gives
                                way: the local damage index, for comparison */
} rw_hit;
/**
 * The standard case of a hit from outside (151): unit bending moments that push the skin in, so
 * that the inner face is pulled. The damage index compares schedules under one blow; it promises
 * nothing about a rock: contact, speed, delamination and what comes after the first damage are
 * left out.
 * @param ply        the plies
 * @param n          how many
 * @param s          their stack
 * @param outer      -1 where the first ply lies outside, 1 where the last one does
 * @param criterion  which
 * @param out        result
 * @param err        error record, or NULL
 * @return as rw_stack_first_failure
 */
RW_API rw_status rw_stack_hit(const rw_ply *ply, size_t n, const rw_stack *s, int outer,
                              rw_criterion criterion, rw_hit *out, rw_error *err);

/*
 * Comparing layups: a declared set of stacks, counted and numbered without listing them, their
 * numbers, and what is best among them.
 */

/** A ply that may be laid: one layer of a cloth in its resin, or a plank or veneer of the core. */
typedef struct rw_sweep_ply {
  rw_lamina material; /**< what it is made of */
  double thickness;   /**< m, > 0 */
  double areal_mass;  /**< kg/m2 with its resin; 0: thickness times density */
  double resin;       /**< kg/m2 of resin in it, >= 0, below its areal mass */
  double cost;        /**< per m2 with its resin, in any currency, >= 0 */
} rw_sweep_ply;

/** What may be laid on one face of the core. Layers are counted from the core outwards. */
typedef struct rw_sweep_face {
  const rw_sweep_ply *ply; /**< kinds to choose from for each layer */
  size_t plies;            /**< how many, 0 to 64 */
  const double *angle;     /**< rad, to choose from for each layer */
  size_t angles;           /**< how many, 0 to 64 */
  size_t least;            /**< layers at least, 0 to most */
  size_t most;             /**< layers at most, 0 to 16 */
} rw_sweep_face;

/** One core: its plies from the outside in. */
typedef struct rw_sweep_core {
  const rw_sweep_ply *ply; /**< plies */
  const double *angle;     /**< rad, of each */
  size_t plies;            /**< how many, 1 to 32 */
  size_t outer;            /**< so many of the first are cloth of the outer face that stays as it
                                is: not asked with the core, their resin scatters */
  size_t inner;            /**< so many of the last are cloth of the inner face */
} rw_sweep_core;

/** Most load cases of a set. */
#define RW_SWEEP_LOADS 16

/** Plies of a stack in a set. */
enum {
  RW_AMONG_OUTER = 1, /**< layers of the outer face */
  RW_AMONG_CORE = 2,  /**< plies of the core */
  RW_AMONG_INNER = 4, /**< layers of the inner face */
  RW_AMONG_ALL = 7
};

/** A set of stacks. In each the outermost layer of the outer face comes first. */
typedef struct rw_sweep_set {
  const rw_sweep_core *core;      /**< cores to choose from */
  size_t cores;                   /**< how many, up to 32; 0: none, cloth alone */
  rw_sweep_face outer;            /**< outer face */
  rw_sweep_face inner;            /**< inner face; not looked at where the set is symmetric */
  int symmetric;                  /**< 1: the inner face is the mirror image of the outer one */
  double load[RW_SWEEP_LOADS][6]; /**< load cases: Nx Ny Nxy (N/m), Mx My Mxy (N) */
  size_t loads;                   /**< how many, 0 to RW_SWEEP_LOADS */
  unsigned among[RW_SWEEP_LOADS]; /**< plies that may give way in each: RW_AMONG_OUTER and so on,
                                       added together; 0: all */
} rw_sweep_set;

/** A usual load case for layups whose first ply lies outside. */
typedef enum rw_sweep_case {
  RW_CASE_HIT,            /**< a hit from outside: 1 N both ways, the inner skin is pulled */
  RW_CASE_BENDING_ALONG,  /**< Mx = 1 N, the inner skin is pulled */
  RW_CASE_BENDING_ACROSS, /**< My = 1 N, the inner skin is pulled */
  RW_CASE_TENSION_ALONG,  /**< Nx = 1 N/m */
  RW_CASE_TENSION_ACROSS, /**< Ny = 1 N/m */
  RW_CASE_HEEL            /**< pushed from inside: 1 N both ways, the outer skin is pulled */
} rw_sweep_case;

/** What is known of a stack, each with its own array of results. */
typedef enum rw_measure {
  RW_MEASURE_MASS,      /**< kg/m2 */
  RW_MEASURE_THICKNESS, /**< m */
  RW_MEASURE_EIX,       /**< N m, bending stiffness along, see rw_stack */
  RW_MEASURE_EIY,       /**< N m, across */
  RW_MEASURE_EAX,       /**< N/m, in-plane stiffness along, Ex times the thickness */
  RW_MEASURE_EAY,       /**< N/m, across */
  RW_MEASURE_RESIN,     /**< kg/m2 of resin */
  RW_MEASURE_COST,      /**< cost per m2 */
  RW_MEASURE_FACTOR     /**< load factor of first failure (Tsai-Wu) under the first load case; the
                             others follow, RW_MEASURE_FACTOR + 1 and so on */
} rw_measure;
/** How many measures there are. */
#define RW_MEASURES (8 + RW_SWEEP_LOADS)

/** A set of stacks made ready: its ply tables. */
typedef struct rw_sweep rw_sweep;

/**
 * The loads of a usual load case.
 * @param which  case
 * @param load   Nx Ny Nxy Mx My Mxy
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT for an unknown case or a NULL
 */
RW_API rw_status rw_sweep_load(rw_sweep_case which, double load[6], rw_error *err);
/**
 * Makes a set ready (180) to (182): every kind at every angle, turned once. Nothing of the set is
 * needed afterwards.
 * @param set  the set
 * @param out  to be freed by rw_sweep_destroy
 * @param err  error record, or NULL; argument such as "outer.ply[2].thickness", from 1, "count"
 *             where the stacks are more than 2^53
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT for a NULL, a stack without a ply or load cases
 *         where no ply has a strength; RW_ERR_MEMORY
 */
RW_API rw_status rw_sweep_create(const rw_sweep_set *set, rw_sweep **out, rw_error *err);
/**
 * Frees a set.
 * @param s  set, or NULL
 */
RW_API void rw_sweep_destroy(rw_sweep *s);
/**
 * How many stacks a set has (180).
 * @param s  set
 * @return 1 to 2^53
 */
RW_API uint64_t rw_sweep_count(const rw_sweep *s);
/** Most plies of a stack in a set. */
#define RW_SWEEP_PLIES 64
/** What a ply of a stack was chosen from. */
typedef struct rw_sweep_layer {
  unsigned place; /**< RW_AMONG_OUTER, RW_AMONG_CORE or RW_AMONG_INNER */
  int of_core;    /**< 1: it came with a core, also as cloth of a face */
  size_t ply;     /**< which of the face's kinds, or of the core's plies, from 0 */
  size_t choice;  /**< which of the face's angles, or which core, from 0 */
} rw_sweep_layer;
/**
 * The plies of one stack (180). Numbers count the core fastest, then the outer face, then the
 * inner one.
 * @param s       set
 * @param number  which, from 0 to below rw_sweep_count
 * @param ply     room for RW_SWEEP_PLIES plies, the outermost first
 * @param layer   the same room for what each was chosen from, or NULL
 * @param n       how many there are
 * @param err     error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_ARGUMENT for a NULL
 */
RW_API rw_status rw_sweep_stack(const rw_sweep *s, uint64_t number, rw_ply *ply,
                                rw_sweep_layer *layer, size_t *n, rw_error *err);

/** Which stacks are to be worked out. */
typedef struct rw_sweep_plan {
  uint64_t first;         /**< the first */
  size_t n;               /**< how many from there on, at least 1 */
  const uint64_t *number; /**< or these n, in any order; `first` is then not looked at */
  unsigned threads;       /**< 0 or 1: none but the caller's; at most 64 */
  rw_progress *progress;  /**< told after each thousand stacks or so, or NULL; called by one thread
                               at a time */
  void *context;          /**< handed to progress */
} rw_sweep_plan;
/**
 * The measures of many stacks (181), (182), several at a time in the lanes of vector registers:
 * what rw_stack_make and rw_stack_first_failure say of each, to rounding. Nothing is allocated for
 * a stack. The same bits with any number of threads and on every processor.
 *
 * A load factor is HUGE_VAL where no ply of the stack that may give way has a strength. It is for
 * comparison and shop planning only, not an approval.
 * @param s      set
 * @param plan   which stacks
 * @param value  for each measure n numbers, or NULL where it is not wanted
 * @param done   how many are written, the first ones of the plan; or NULL
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_STOPPED where progress said so; RW_ERR_RANGE; RW_ERR_ARGUMENT for a NULL;
 *         RW_ERR_NUMERIC where moduli or thicknesses of a stack lie too far apart: its numbers are
 *         NaN, all others are written
 */
RW_API rw_status rw_sweep_run(const rw_sweep *s, const rw_sweep_plan *plan,
                              double *const value[RW_MEASURES], size_t *done, rw_error *err);

/** One wish: a measure that is to be small or large. */
typedef struct rw_goal {
  int measure;   /**< an rw_measure */
  int large;     /**< 1: the larger the better; 0: the smaller */
  double weight; /**< of this wish among others, above 0; not looked at where a front is asked */
  double scale;  /**< difference in the measure that counts as much as the weight says, above 0;
                      0: from the best to the worst of the stacks */
} rw_goal;
/** Most goals at a time. */
#define RW_GOALS 8
/**
 * Ranks stacks by a wish (183): the weighted sum of how far each falls behind the best of all, in
 * scales. With one goal that is the order of its measure. A stack with a number that is not finite
 * comes last.
 * @param value  n numbers for each measure that is a goal, as from rw_sweep_run
 * @param n      at least 1
 * @param goal   goals
 * @param goals  1 to RW_GOALS
 * @param order  n stacks from the best on, from 0; of equal ones the first comes first
 * @param behind n sums, stack by stack, 0 for one that is best in all; or NULL
 * @param err    error record, or NULL; argument "goal[i].measure", i from 1
 * @return RW_OK; RW_ERR_RANGE for an unknown measure, a weight or a scale; RW_ERR_ARGUMENT for a
 *         NULL, also in place of a goal's numbers; RW_ERR_MEMORY
 */
RW_API rw_status rw_sweep_rank(const double *const value[RW_MEASURES], size_t n,
                               const rw_goal *goal, size_t goals, size_t *order, double *behind,
                               rw_error *err);
/**
 * The stacks that no other one beats (184): none is as good in every goal and better in one. Equal
 * ones are kept together. A stack with a number that is not finite is left out.
 * @param value  n numbers for each measure that is a goal
 * @param n      at least 1
 * @param goal   goals; weight and scale are not looked at
 * @param goals  1 to RW_GOALS
 * @param front  room for n stacks; from the best in the first goal on, from 0
 * @param count  how many there are
 * @param err    error record, or NULL
 * @return as rw_sweep_rank
 */
RW_API rw_status rw_sweep_front(const double *const value[RW_MEASURES], size_t n,
                                const rw_goal *goal, size_t goals, size_t *front, size_t *count,
                                rw_error *err);

/** How far wood and resin may be off. */
typedef struct rw_sweep_scatter {
  double wood;        /**< relative sd of the moduli of each core, 0 to 0.5 */
  double resin;       /**< relative sd of the resin in the cloth, 0 to 0.5; all layers alike */
  rw_matrix matrix;   /**< cured resin; strength is not looked at */
  size_t draws;       /**< 1 to 1e6; 500 is usual */
  unsigned long seed; /**< of the draws */
} rw_sweep_scatter;
/** How well a place in a ranking holds. */
typedef struct rw_sweep_place {
  double first; /**< share of the draws in which the stack comes first */
  double rank;  /**< mean rank among the stacks asked for, from 1 */
  double best;  /**< its least rank in any draw */
  double worst; /**< its greatest */
} rw_sweep_place;
/**
 * How well a ranking holds when wood and resin are not known exactly (185): every draw changes all
 * stacks alike, so that only their difference counts. Stacks that tie share their places.
 *
 * Moduli of a core's plies move together, each core by itself; their strength stays. More resin in
 * a cloth is a film of neat resin beside it: it adds thickness, mass and the resin's own
 * stiffness; what a layer bears per width stays. Costs stay.
 * @param s        set
 * @param number   the stacks, from rw_sweep_rank the first k
 * @param k        1 to 1000
 * @param goal     goals; a scale of 0 is that of the k stacks without scatter
 * @param goals    1 to RW_GOALS
 * @param scatter  how far they may be off
 * @param place    k results
 * @param err      error record, or NULL
 * @return as rw_sweep_rank; RW_ERR_RANGE where a stack's cloth cannot hold its resin;
 * RW_ERR_NUMERIC
 */
RW_API rw_status rw_sweep_stability(const rw_sweep *s, const uint64_t *number, size_t k,
                                    const rw_goal *goal, size_t goals,
                                    const rw_sweep_scatter *scatter, rw_sweep_place *place,
                                    rw_error *err);

#ifdef __cplusplus
}
#endif
#endif
