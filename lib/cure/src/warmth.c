/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The warmth that brings a cure where it does not get by itself. */
#include "march.h"

#include <resinwright/num.h>

#include <math.h>

static const double YEAR = 365 * 86400.0;

typedef struct warmth_problem {
  const rw_resin *resin;
  double a;
  double span;
} warmth_problem;

static double warmth_misfit(double T, void *context)
{
  const warmth_problem *p = context;
  return march_steady_cure(&p->resin->law, T, p->span) - p->a;
}

rw_status rw_cure_warmth(const rw_resin *r, double a, double span, double *T, rw_error *err)
{
  static const double COLDEST = 263.15, WARMEST = 393.15;
  rw_status status = rw_resin_check(r, err);
  if (status < 0)
    return status;
  if (!(a > 0 && a < 1))
    return rw_error_range(err, "rw_cure_warmth", "a", a, 0, 1, "", NULL);
  if (!(span > 0 && span <= YEAR))
    return rw_error_range(err, "rw_cure_warmth", "span", span, 0, YEAR, "s", NULL);
  warmth_problem p = {.resin = r, .a = a, .span = span};
  if (warmth_misfit(WARMEST, &p) < 0)
    return RW_NOT_REACHED;
  if (warmth_misfit(COLDEST, &p) >= 0) {
    *T = COLDEST;
    return RW_OK;
  }
  return rw_num_root(warmth_misfit, &p, COLDEST, WARMEST, 1e-4, T, err);
}

rw_status rw_cure_wanting(const rw_resin *r, const rw_history *hull, double from, double to,
                          rw_milestone milestone, rw_wanting *out, rw_error *err)
{
  const char *function = "rw_cure_wanting";
  if ((unsigned)milestone >= RW_MILESTONES || milestone == RW_WORK_END)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "milestone", NULL,
                        "no warmth belongs to this milestone");
  if (!(to > from && to - from <= YEAR))
    return rw_error_range(err, function, "to", to, from, from + YEAR, "s", NULL);
  double warmest, a = r->threshold[milestone].value;
  rw_status status = rw_history_extremes(hull, from, to, NULL, &warmest, err);
  if (status != RW_OK)
    return status;
  /* What a mix off its ratio cannot reach is never reached, however warm. */
  rw_wanting w = {.never = 1, .warmth = HUGE_VAL};
  if (a >= rw_cure_law_top(&r->law)) {
    *out = w;
    return rw_resin_check(r, err);
  }
  status = rw_cure_warmth(r, fmax(a, 1e-9), to - from, &w.warmth, err);
  if (status < 0)
    return status;
  double reached = march_steady_cure(&r->law, warmest, YEAR);
  if (reached < 0)
    return rw_error_set(err, RW_ERR_NUMERIC, function, NULL, NULL,
                        "the cure could not be followed for a year");
  w.never = reached < a;
  *out = w;
  return status == RW_NOT_REACHED ? RW_OK : status;
}
