/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the answers of a problem move when groups of plies are stiffer or softer, and what gives way
 * first when their strengths are off as well. */
#ifndef RW_LAMINATE_VARY_H
#define RW_LAMINATE_VARY_H

#include "laminate_common.h"

#include <resinwright/panel.h>

/* Places: of each group and each of five strengths, and one more. */
enum { VARY_ANSWERS = 4, VARY_PLACES = 5 * RW_LAMINATE_GROUPS + 1 };

/* The answers, none of them 0, and the loads Nx to Mxy at the places, for other plies. Only their
 * changes are used, so what a rough solution gets wrong in all alike does not matter. */
typedef rw_status vary_solve(const rw_ply *ply, size_t n, const rw_stack *s, double *answer,
                             double (*load)[6], void *context, rw_error *err);

typedef struct vary {
  const char *function;
  const rw_ply *ply;
  size_t n;
  const rw_scatter *scatter;
  rw_criterion criterion;
  vary_solve *solve;
  void *context;
  size_t answers;
  double answer[VARY_ANSWERS]; /* with the plies as they are given */
  size_t places;               /* where something may give way first */
  double load[VARY_PLACES][6]; /* there, likewise */
} vary;

/* The plies, the scatter and, where there are draws, strengths. */
rw_status rw_vary_check(const rw_ply *ply, size_t n, const rw_scatter *scatter,
                        rw_criterion criterion, const char *function, rw_error *err);
/* Ranges of all answers and the failure; v was checked. */
rw_status rw_vary(const vary *v, rw_panel_range *range, rw_failure_spread *failure, rw_error *err);

#endif
