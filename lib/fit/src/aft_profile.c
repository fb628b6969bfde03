/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "aft.h"

#include <resinwright/num.h>

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char PROFILE[] = "rw_aft_profile";

enum { MOST_STEPS = 40 }; /* outwards, each 1.6 times the last */

/* The likelihood with one quantity held: v'b + z spread = psi, which in (b/spread, 1/spread) is a
 * plane, so one coefficient is written by the others and what is left is as concave as before. */
typedef struct profile {
  const rw_aft *fit;
  const double *v; /* p + 1; NULL: the spread itself is held */
  size_t pivot;    /* the coefficient that is written by the others */
  double z;
  double cut;   /* loss of log-likelihood sought */
  double best;  /* psi of the estimate */
  aft_row *row; /* n */
  double *x;    /* n*p, or n*(p + 1) where the spread is held */
  aft_state *state;
  int lost;
} profile;

static void hold(profile *p, double psi)
{
  const rw_aft *f = p->fit;
  size_t q = f->p + 1;
  double vk = p->v[p->pivot];
  for (size_t i = 0; i < f->n; i++) {
    const double *from = f->x + i * q;
    double *to = p->x + i * f->p, part = from[p->pivot] / vk;
    p->row[i] = f->row[i];
    p->row[i].y -= part * psi;
    p->row[i].offset = part * p->z;
    for (size_t j = 0, k = 0; j < q; j++)
      if (j != p->pivot)
        to[k++] = from[j] - part * p->v[j];
  }
}

/* Start of the others from the fit's own estimates. */
static void start(const profile *p, size_t q, double d)
{
  const rw_aft *f = p->fit;
  size_t k = 0;
  for (size_t j = 0; j < f->p + 1; j++)
    if (p->v == NULL || j != p->pivot)
      p->state->at[k++] = f->b[j] * d;
  p->state->at[q] = d;
}

/* Root of twice the loss, signed by the side, less its wanted value. */
static double misfit(double psi, void *context)
{
  profile *p = context;
  const rw_aft *f = p->fit;
  aft_problem problem = {.kind = f->kind,
                         .n = f->n,
                         .q = p->v == NULL ? f->p + 1 : f->p,
                         .row = p->v == NULL ? f->row : p->row,
                         .x = p->v == NULL ? f->x : p->x,
                         .d = p->v == NULL ? fmax(exp(-psi), DBL_MIN) : 0,
                         .least_spread = f->least_spread};
  if (p->v != NULL)
    hold(p, psi);
  start(p, problem.q, p->v == NULL ? problem.d : 1 / f->b[f->p + 1]);
  aft_end end = aft_search(&problem, p->state);
  if (end == AFT_LOST)
    p->lost = 1;
  double loss = fmax(f->likelihood - p->state->likelihood, 0);
  return sqrt(2 * loss) - p->cut;
}

/* One limit, on the side of the sign of `step`, which is what the standard error says. */
static rw_status limit(profile *p, double step, double *out, rw_error *err)
{
  double inner = p->best, outer = p->best + step;
  int i = 0;
  for (; i < MOST_STEPS && misfit(outer, p) < 0 && !p->lost; i++) {
    inner = outer;
    outer += step;
    step *= 1.6;
  }
  if (p->lost)
    return rw_error_set(err, RW_ERR_NUMERIC, PROFILE, NULL, NULL,
                        "the search for a limit did not settle");
  if (i == MOST_STEPS) {
    *out = step > 0 ? HUGE_VAL : -HUGE_VAL;
    return RW_NOT_REACHED;
  }
  double low = fmin(inner, outer), high = fmax(inner, outer);
  rw_status status = rw_num_root(misfit, p, low, high, 1e-10 * fabs(step), out, err);
  return status == RW_OK && p->lost ? rw_error_set(err, RW_ERR_NUMERIC, PROFILE, NULL, NULL,
                                                   "the search for a limit did not settle")
                                    : status;
}

typedef struct aim {
  double *v;  /* p + 1 weights of the fit's columns */
  double z;   /* weight of the spread */
  int spread; /* the logarithm of the spread itself */
} aim;

static void aim_at(const rw_aft *f, const rw_aft_target *t, double *w, aim *a)
{
  memset(w, 0, (f->p + 1) * sizeof *w);
  a->spread = t->p == 0 && t->coefficient == f->p + 1;
  a->z = t->p > 0 ? tail_quantile(f->kind, t->p) : 0;
  if (t->p > 0) {
    w[0] = 1;
    for (size_t j = 0; j < f->p; j++)
      w[j + 1] = t->x[j];
  } else if (!a->spread) {
    w[t->coefficient] = 1;
  }
  aft_contrast(f, w, a->v);
}

static rw_status both(profile *p, double base, double unit, double se, double *low, double *high,
                      rw_error *err)
{
  double at_low, at_high;
  rw_status below = limit(p, -p->cut * se, &at_low, err);
  rw_status above = below < 0 ? below : limit(p, p->cut * se, &at_high, err);
  if (above < 0)
    return above;
  *low = base + unit * at_low;
  *high = base + unit * at_high;
  return below > above ? below : above;
}

static rw_status run(const rw_aft *f, const rw_aft_target *t, profile *p, double *w, double *v,
                     double *low, double *high, rw_error *err)
{
  aim a = {.v = v};
  aim_at(f, t, w, &a);
  size_t q = f->p + 1, m = q + 1;
  if (a.spread) {
    p->best = log(f->b[q]);
    return both(p, log(f->scale), 1, sqrt(f->cov[q * m + q]), low, high, err);
  }
  double line = 0, variance = 0;
  p->best = a.z * f->b[q];
  for (size_t i = 0; i < m; i++) {
    double vi = i < q ? v[i] : a.z * f->b[q];
    if (i < q) {
      line += v[i] * f->line[i];
      p->best += v[i] * f->b[i];
      if (fabs(v[i]) > fabs(v[p->pivot]))
        p->pivot = i;
    }
    for (size_t j = 0; j < m; j++)
      variance += vi * f->cov[i * m + j] * (j < q ? v[j] : a.z * f->b[q]);
  }
  p->v = v;
  p->z = a.z;
  return both(p, line, f->scale, sqrt(variance), low, high, err);
}

static rw_status check(const rw_aft *f, const rw_aft_target *t, double level, rw_error *err)
{
  if (!(level >= 0.5 && level <= 0.9999))
    return rw_error_range(err, PROFILE, "level", level, 0.5, 0.9999, "", NULL);
  if (t->p != 0)
    return aft_check_quantile(f, t->x, t->p, PROFILE, err);
  if (t->coefficient > f->p + 1)
    return rw_error_range(err, PROFILE, "coefficient", (double)t->coefficient, 0,
                          (double)(f->p + 1), "", NULL);
  return RW_OK;
}

rw_status rw_aft_profile(const rw_aft *f, const rw_aft_target *target, double level, double *low,
                         double *high, rw_error *err)
{
  rw_status status = check(f, target, level, err);
  if (status != RW_OK)
    return status;
  size_t q = f->p + 1;
  aft_state s = {0};
  profile p = {.fit = f, .cut = rw_num_normal_quantile(0.5 * (1 + level)), .state = &s};
  double *w = malloc((2 * q + f->n * f->p) * sizeof *w);
  p.row = malloc(f->n * sizeof *p.row);
  p.x = w == NULL ? NULL : w + 2 * q;
  if (w != NULL && p.row != NULL && aft_state_create(&s, q))
    status = run(f, target, &p, w, w + q, low, high, err);
  else
    status =
        rw_error_set(err, RW_ERR_MEMORY, PROFILE, NULL, NULL, "not enough memory for the rows");
  aft_state_destroy(&s);
  free(p.row);
  free(w);
  return status;
}
