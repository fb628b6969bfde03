/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * @file cloth.h
 * @brief Fourth floor: cloth, fibre share, thickness, and the resin it takes in four terms.
 *
 * Every function returns RW_ERR_ARGUMENT where a pointer other than err is NULL. A standard
 * deviation below 0 and a density outside 100 to 25000 kg/m3 are RW_ERR_RANGE. Shares are of
 * fibre and resin alone: air left in the laminate (voids) is counted where a function says so.
 *
 * Threads: reentrant.
 */
#ifndef RESINWRIGHT_CLOTH_H
#define RESINWRIGHT_CLOTH_H

#include <resinwright/base.h>
#include <resinwright/data.h>

#ifdef __cplusplus
extern "C" {
#endif

/** How the yarns lie. */
typedef enum rw_weave {
  RW_PLAIN,
  RW_TWILL,
  RW_SATIN,
  RW_UNIDIRECTIONAL,
  RW_BIAXIAL,
  RW_MAT
} rw_weave;

/** How the resin is brought in. */
typedef enum rw_layup {
  RW_BY_HAND, /**< brush, roller, squeegee */
  RW_BAGGED   /**< hand lay-up under a vacuum bag */
} rw_layup;

/** A dry cloth. */
typedef struct rw_cloth {
  double areal_mass;    /**< kg/m2, 0.01 to 2 */
  double fibre_density; /**< kg/m3, 100 to 25000 */
  rw_weave weave;       /**< weave */
  double crown;         /**< m, thickness of the dry cloth over its crowns; 0: estimated where
                             needed from areal mass and weave (tables, "default-WEAVE") */
  double crimp;         /**< share of stiffness and strength lost by the waviness of its yarns,
                             0 to 0.5 */
  rw_value hand;        /**< fibre volume share laid by hand, 0 to 1 */
  rw_value bagged;      /**< fibre volume share under a bag, 0 to 1 */
} rw_cloth;

/**
 * Weave by name.
 * @param name   "plain", "twill", "satin", "unidirectional", "biaxial", "mat", in small letters
 * @param weave  result
 * @param err    error record, or NULL, with the nearest name
 * @return RW_OK; RW_ERR_NAME
 */
RW_API rw_status rw_weave_find(const char *name, rw_weave *weave, rw_error *err);
/**
 * Greatest fibre volume share a weave can be pressed to: hexagonal packing pi/(2 sqrt 3) = 0.907
 * for parallel fibres (geometry); plain 0.70, twill 0.72, satin 0.75, biaxial 0.78, mat 0.50
 * (common practice, no source; the tables' property "limit" holds the same with its spread).
 * @param weave  weave
 * @return share; 0 for a number that is no weave
 */
RW_API double rw_weave_limit(rw_weave weave);
/**
 * A cloth from the material tables: its areal_mass, vf_hand, vf_bagged and, where it has one,
 * crown; density from its fibre. The rows of defaults by weave are not cloths.
 * @param name  cloth name
 * @param out   the cloth
 * @param err   error record, or NULL
 * @return RW_OK; RW_ERR_NAME where no such cloth is there or a property is missing
 */
RW_API rw_status rw_cloth_find(const char *name, rw_cloth *out, rw_error *err);
/**
 * A cloth from what its roll says: fibre, areal mass, weave; fibre shares and crown from the row
 * "default-WEAVE" of the cloth tables (crown = crown_per_mass areal mass, times the density of
 * E-glass over that of the fibre: the same bulk of yarn).
 * @param fibre       fibre name in the material tables
 * @param areal_mass  kg/m2, 0.01 to 2
 * @param weave       weave
 * @param out         the cloth
 * @param err         error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED below 0.02 or above 1.2; RW_ERR_NAME; RW_ERR_RANGE
 */
RW_API rw_status rw_cloth_make(const char *fibre, double areal_mass, rw_weave weave, rw_cloth *out,
                               rw_error *err);
/**
 * Check a cloth's numbers.
 * @param c    cloth
 * @param err  error record, or NULL
 * @return RW_OK; RW_ERR_RANGE for a mass, density or fibre share that cannot be (a share above
 *         rw_weave_limit is said so), or a crown below the fibre pressed solid or above 20 mm
 */
RW_API rw_status rw_cloth_check(const rw_cloth *c, rw_error *err);

/**
 * Fibre volume share from fibre mass share: V = (G/rf)/(G/rf + (1-G)/rr).
 * @param mass_share     G, 0 to 1
 * @param fibre_density  rf, kg/m3
 * @param resin_density  rr, kg/m3
 * @param volume_share   V
 * @param err            error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_fibre_volume_share(double mass_share, double fibre_density,
                                       double resin_density, double *volume_share, rw_error *err);
/**
 * Fibre mass share from fibre volume share, the inverse.
 * @param volume_share   V, 0 to 1
 * @param fibre_density  kg/m3
 * @param resin_density  kg/m3
 * @param mass_share     G
 * @param err            error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_fibre_mass_share(double volume_share, double fibre_density,
                                     double resin_density, double *mass_share, rw_error *err);
/**
 * Density of a laminate without voids: 1/(G/rf + (1-G)/rr).
 * @param mass_share     G, 0 to 1
 * @param fibre_density  kg/m3
 * @param resin_density  kg/m3
 * @param density        kg/m3
 * @param err            error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_laminate_density(double mass_share, double fibre_density, double resin_density,
                                     double *density, rw_error *err);
/**
 * Thickness of one cloth in resin: w/(rf V).
 * @param c             cloth
 * @param volume_share  V, above 0, at most rw_weave_limit
 * @param thickness     m
 * @param err           error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_cloth_thickness(const rw_cloth *c, double volume_share, double *thickness,
                                    rw_error *err);
/**
 * Resin inside one cloth per area: w (1-G)/G with G from the fibre volume share, that is
 * rr (1-V) w/(rf V).
 * @param c              cloth
 * @param volume_share   V, above 0, at most rw_weave_limit (value and sd)
 * @param resin_density  kg/m3
 * @param resin          kg/m2, first-order sd
 * @param err            error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_cloth_resin(const rw_cloth *c, rw_value volume_share, double resin_density,
                                rw_value *resin, rw_error *err);
/**
 * Resin that brings the surface of the outermost cloth up to its crowns and then covers them:
 * rr (crown - w/(rf V)) + rr cover, at least rr cover. A crown of 0 is estimated from the tables.
 * @param c              cloth
 * @param volume_share   V after wet-out, as rw_cloth_resin
 * @param resin_density  kg/m3
 * @param cover          m of clear resin over the crowns (value and sd), >= 0
 * @param resin          kg/m2; the sd carries cover, V where the crowns stand out, and 25 % of the
 *                       weave volume for the unknown profile (common practice, no source)
 * @param err            error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_NAME where a crown of 0 finds no table row
 */
RW_API rw_status rw_cloth_fill(const rw_cloth *c, rw_value volume_share, double resin_density,
                               rw_value cover, rw_value *resin, rw_error *err);

/**
 * Fibre volume share from a measured thickness: V = w/(rf t) (141). Air in the laminate counts as
 * resin here.
 * @param c             cloth
 * @param thickness     m of this cloth alone (value and sd): for k equal layers, the whole over k
 * @param volume_share  V with first-order sd
 * @param err           error record, or NULL
 * @return RW_OK; RW_ERR_RANGE, also for a thickness at which V would be above rw_weave_limit
 */
RW_API rw_status rw_cloth_share_by_thickness(const rw_cloth *c, rw_value thickness,
                                             rw_value *volume_share, rw_error *err);
/**
 * Fibre volume share from the resin that stayed in a cloth: V = (w/rf)/(w/rf + resin/rr) (141).
 * @param c              cloth
 * @param resin          kg/m2 in this cloth (value and sd), without what lies over its crowns
 * @param resin_density  rr, kg/m3
 * @param volume_share   V with first-order sd
 * @param err            error record, or NULL
 * @return RW_OK; RW_ERR_RANGE, also for so little resin that V would be above rw_weave_limit
 */
RW_API rw_status rw_cloth_share_by_resin(const rw_cloth *c, rw_value resin, double resin_density,
                                         rw_value *volume_share, rw_error *err);
/**
 * Share of air in a laminate from its density (142): 1 - measured/density, the definition of ASTM
 * D2734 (formula from memory).
 * @param density   kg/m3 without voids, from rw_laminate_density
 * @param measured  kg/m3, weighed; at most density
 * @param voids     share by volume, 0 to below 1; a weighing good to 1 % tells 0.01
 * @param err       error record, or NULL
 * @return RW_OK; RW_ERR_RANGE, also for a measured density above that without voids
 */
RW_API rw_status rw_void_share(double density, double measured, double *voids, rw_error *err);
/**
 * What air does to a laminate's fibre volume share and density (142): both times (1 - voids), and
 * the thickness grows by 1/(1 - voids). What air takes from stiffness and strength beyond the
 * lower fibre share is left out: no source for it was read.
 * @param voids            share by volume, 0 to 0.5
 * @param volume_share     of the laminate without voids, 0 to 1
 * @param density          kg/m3 without voids
 * @param porous_share     fibre volume share with the air counted
 * @param porous_density   kg/m3
 * @param err              error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_void_effect(double voids, double volume_share, double density,
                                double *porous_share, double *porous_density, rw_error *err);

/** One cloth in resin with air in it. */
typedef struct rw_porous {
  rw_value volume_share; /**< of fibre, with the air counted */
  rw_value voids;        /**< share of air by volume */
  double density;        /**< kg/m3, with the air */
} rw_porous;
/**
 * Fibre share and air of one cloth from its thickness and the resin that stayed in it (158). What
 * fibre and resin do not fill is air. It is a difference of two measured lengths: thickness and
 * resin good to 3 % tell no void share below 0.03.
 * @param c              cloth
 * @param thickness      m of this cloth alone (value and sd)
 * @param resin          kg/m2 in it (value and sd), above 0, without what lies over its crowns
 * @param resin_density  kg/m3
 * @param out            result with first-order sd, thickness and resin independent; voids 0
 *                       to 0.5
 * @param err            error record, or NULL
 * @return RW_OK; RW_ERR_RANGE, also for a thickness below what fibre and resin fill, below what
 *         the weave can be pressed to, or so large that more than half of it would be air
 */
RW_API rw_status rw_cloth_porous(const rw_cloth *c, rw_value thickness, rw_value resin,
                                 double resin_density, rw_porous *out, rw_error *err);

/** Resin mixed for a skin, in four terms, each with its standard deviation. */
typedef struct rw_uptake {
  rw_value soak;  /**< into the wood, kg/m2 */
  rw_value cloth; /**< into the cloth, kg/m2 */
  rw_value fill;  /**< weave and fill coats, kg/m2 as applied, before sanding */
  rw_value waste; /**< left in pots and tools, squeegeed off and thrown: share of what is mixed */
} rw_uptake;

/**
 * Resin to mix per area: (soak + cloth + fill)/(1 - waste), first-order sd, the four terms taken
 * as independent.
 * @param u      the four terms, each >= 0; waste 0 to 0.9
 * @param mixed  kg/m2
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_uptake_mixed(const rw_uptake *u, rw_value *mixed, rw_error *err);

#ifdef __cplusplus
}
#endif
#endif
