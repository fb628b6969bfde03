/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sets of layups: layups.c makes them from what layups_read.c reads and tells one by one,
 * layups_rank.c holds the methods that
 * compare them, which layups.c lists. */
#ifndef RWL_LAYUPS_FILE_H
#define RWL_LAYUPS_FILE_H

#include "laminate.h"

#define RWL_LAYUPS "layups"

/* Load cases and the plies that are asked: "hit_inside". */
#define RWL_AMONG(load) load "|" load "_skins|" load "_outside|" load "_core|" load "_inside"
#define RWL_STRENGTHS                                                                             \
  RWL_AMONG("hit")                                                                                \
  "|" RWL_AMONG("bending_along") "|" RWL_AMONG("bending_across") "|" RWL_AMONG(                   \
      "tension_along") "|" RWL_AMONG("tension_across") "|" RWL_AMONG("heel")
#define RWL_MEASURED                                                                              \
  "mass|thickness|bend_along|bend_across|pull_along|pull_across|resin|cost|" RWL_STRENGTHS

enum { RWL_PLACES = 5, RWL_KINDS = 64, RWL_CORES = 32 };

typedef struct rwl_layups {
  rw_sweep *set;
  size_t count;
  size_t loads;
  int strength[RW_SWEEP_LOADS]; /* of each load case, its place in RWL_STRENGTHS */
  double *value[RW_MEASURES];   /* count numbers each, in user value RWL_NUMBERS */
  /* Laminates of one layer, and cores; a table in user value RWL_LAMINATES holds them. */
  const rwl_laminate *outside[RWL_KINDS], *inside[RWL_KINDS], *core[RWL_CORES];
} rwl_layups;

/* Everything a set is read into; it hangs on the Lua stack. */
typedef struct rwl_layups_reading {
  rw_sweep_set set;
  double resin_price;
  rw_sweep_ply outside[RWL_KINDS], inside[RWL_KINDS];
  rw_sweep_core core[RWL_CORES];
} rwl_layups_reading;

/* Reads the arguments of rw.layups; pushes a table of the laminates they name, which must be kept,
 * and below it what the set points to. */
void rwl_read_layups(lua_State *L, rwl_layups *s, rwl_layups_reading *r);

/* The measure of a place in RWL_MEASURED; -1 for a strength that the set was not asked for. */
int rwl_layups_measure(const rwl_layups *s, int choice);

/* Methods, in layups_rank.c. */
extern const rwl_field rwl_rank_fields[];
extern const rwl_field rwl_front_fields[];
extern const rwl_field rwl_stability_fields[];
int rwl_rank(lua_State *L);
int rwl_front(lua_State *L);
int rwl_stability(lua_State *L);

#endif
