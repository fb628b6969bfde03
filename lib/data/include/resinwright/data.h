/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * @file data.h
 * @brief Third floor: materials with spread, plausible range, source and standing.
 *
 * The tables are made from reference-data/materials/ at build time and are constant.
 *
 * Threads: reentrant.
 */
#ifndef RESINWRIGHT_DATA_H
#define RESINWRIGHT_DATA_H

#include <resinwright/base.h>

#ifdef __cplusplus
extern "C" {
#endif

/** Kinds of material. */
typedef enum rw_material_kind {
  RW_FIBRE, /**< "e-glass", "carbon", ...: density, moduli, strength */
  RW_CLOTH, /**< "glass-203-plain", ...: areal mass, weave, fibre, fibre share by hand lay-up */
  RW_WOOD,  /**< "western-redcedar", ...: density, moduli and their ratios, strengths */
  RW_RESIN  /**< resin classes such as "slow-polyetheramine": cure, glass and flow parameters */
} rw_material_kind;

/** One property of a material. */
typedef struct rw_property {
  const char *name;     /**< "density", "E1", ...; the list is in the handbook */
  const char *unit;     /**< SI unit as text; "" for a plain number */
  double value;         /**< best value, SI */
  double sd;            /**< standard deviation, SI */
  double low;           /**< least plausible value, SI */
  double high;          /**< greatest plausible value, SI */
  const char *standing; /**< "read", "second-hand", "derived", "memory", "common practice" */
  const char *source;   /**< ids of reference-data/SOURCES.csv, with "; " between them */
} rw_property;

/** A material: a name and its properties, all constant. */
typedef struct rw_material {
  rw_material_kind kind;       /**< its kind */
  const char *name;            /**< its name */
  const char *title;           /**< what it is, in words */
  const char *weave;           /**< cloth: "plain", "twill", "satin", "unidirectional",
                                    "biaxial", "mat"; else "" */
  const char *fibre;           /**< cloth: its fibre's name; else "" */
  size_t count;                /**< number of properties */
  const rw_property *property; /**< the properties */
} rw_material;

/**
 * Find a material by name.
 * @param kind  kind
 * @param name  name; letter case is not counted
 * @param out   the material, constant
 * @param err   error record, or NULL: nearest name, or the list of names
 * @return RW_OK; RW_ERR_NAME; RW_ERR_ARGUMENT for a kind that is not one, or no name
 */
RW_API rw_status rw_material_find(rw_material_kind kind, const char *name, const rw_material **out,
                                  rw_error *err);
/**
 * Walk the materials of a kind.
 * @param kind   kind
 * @param index  from 0
 * @return material, or NULL beyond the last
 */
RW_API const rw_material *rw_material_at(rw_material_kind kind, size_t index);
/**
 * A property of a material.
 * @param m     material
 * @param name  property name; letter case is not counted
 * @param out   the property, constant
 * @param err   error record, or NULL: nearest name, or the list of names
 * @return RW_OK; RW_ERR_NAME where the material has no such property; RW_ERR_ARGUMENT where the
 *         material or the name is missing
 */
RW_API rw_status rw_material_property(const rw_material *m, const char *name,
                                      const rw_property **out, rw_error *err);

#ifdef __cplusplus
}
#endif
#endif
