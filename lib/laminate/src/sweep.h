/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A set of stacks made ready, shared by the files that number, work out and compare them. */
#ifndef RW_LAMINATE_SWEEP_H
#define RW_LAMINATE_SWEEP_H

#include "laminate_common.h"

enum { SWEEP_KINDS = 64, SWEEP_LAYERS = 16, SWEEP_CORE = 32, SWEEP_CORES = 32 };

/* A kind of ply at one angle. */
typedef struct sweep_entry {
  double Q[6];              /* 11 12 22 16 26 66 in laminate axes, Pa */
  double R[6];              /* upper triangle by rows: |R e|^2 is Tsai-Wu's square part */
  double g[3];              /* g.e is its linear part, e the strain in laminate axes */
  double t;                 /* m */
  double mass, resin, cost; /* per area */
} sweep_entry;

/* Where a member stands in an entry, in doubles. */
enum { AT_Q = 0, AT_R = 6, AT_G = 12, AT_T = 15, AT_MASS, AT_RESIN, AT_COST };

/* What an entry is made from. */
typedef struct sweep_source {
  rw_sweep_ply ply;
  double angle;
  int of_core;    /* 1: one of a core's plies */
  unsigned group; /* core, from 0; SWEEP_CORES for cloth */
} sweep_source;

typedef struct sweep_side {
  size_t first;    /* its first entry; then kind by kind, angle by angle */
  uint64_t choice; /* entries */
  size_t angles;   /* of each kind */
  size_t least, most;
  uint64_t count;                  /* ways to lay it */
  uint64_t ways[SWEEP_LAYERS + 1]; /* with that many layers; 0 below least */
} sweep_side;

struct rw_sweep {
  size_t entries;       /* entry 0 is a ply of no thickness */
  sweep_source *source; /* both in the block of the struct */
  sweep_entry *entry;
  sweep_side outer, inner;
  size_t cores;
  size_t core_first[SWEEP_CORES], core_plies[SWEEP_CORES];
  size_t core_outer[SWEEP_CORES], core_inner[SWEEP_CORES]; /* of these, cloth of the faces */
  int symmetric;
  uint64_t count;
  double load[RW_SWEEP_LOADS][6]; /* each with 1 as its largest number */
  double size[RW_SWEEP_LOADS];    /* what that was */
  size_t loads;
  size_t alike[RW_SWEEP_LOADS];   /* the first load case with the same load */
  unsigned among[RW_SWEEP_LOADS]; /* RW_AMONG_OUTER and so on, never 0 */
};

/* Entries of a stack, outermost first. */
typedef struct sweep_plies {
  uint16_t entry[RW_SWEEP_PLIES];
  size_t n;
  size_t core, inner; /* where the plies of the core and of the inner face begin */
} sweep_plies;
void rw_sweep_entries(const rw_sweep *s, uint64_t number, sweep_plies *to);
/* Counts the ways to lay a side and the stacks of a set, as real numbers where they are many. */
double rw_sweep_tally(rw_sweep *s);
/* Fills an entry. */
void rw_sweep_prepare(const sweep_source *from, sweep_entry *to);

/* Stacks that are worked out together; value as in rw_sweep_run. */
typedef struct sweep_job {
  const rw_sweep *s;
  uint64_t first;
  const uint64_t *number;
  double *value[RW_MEASURES];
} sweep_job;

/* Stacks `first` up to below `end` of a job; 0 where one of them cannot be solved. */
int rw_sweep_lanes(const sweep_job *j, size_t first, size_t end);

/* Goals in the function's name; with `wish` their weights and scales, too. Values are looked at
 * where they are not NULL. */
rw_status rw_sweep_goals(const rw_goal *goal, size_t goals, const double *const *value, int wish,
                         const char *function, rw_error *err);
/* n numbers for goal g, the less the better; not finite as HUGE_VAL. */
double rw_sweep_key(const rw_goal *goal, const double *const *value, size_t i);
/* Largest differences of n stacks in place of the scales that are 0. */
void rw_sweep_scales(const rw_goal *goal, size_t goals, const double *const *value, size_t n,
                     double *scale);
/* How far each of n stacks falls behind the best. */
void rw_sweep_behind(const rw_goal *goal, size_t goals, const double *const *value, size_t n,
                     const double *scale, double *behind);
/* Sorts rows 0 to n - 1 of a table of n x width numbers, the first column first, equal rows in
 * their order; `spare` has room for n. */
void rw_sweep_sort(const double *key, size_t width, size_t n, size_t *order, size_t *spare);

#endif
