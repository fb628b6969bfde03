/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Profile limits of what notes tell. A spring pulls a sum of the unknowns away from its most
 * probable value; where the search settles, the posterior is the greatest for the sum found there,
 * so each pull gives one exact place of the profile. */
#include "notes.h"

#include <resinwright/num.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char LIMITS[] = "rw_notes_limits";
enum { MOST_PULLS = 60 };

typedef struct profile {
  const rw_notes *fit;
  notes_problem problem;
  notes_state *state;
  double sum[NOTES_MOST];
  double sd;    /* of the sum */
  double most;  /* the posterior at its best */
  double loss;  /* of it, at a limit */
  double found; /* the sum where the last search settled */
} profile;

static double sum_at(const profile *p, const double *at)
{
  double sum = 0;
  for (size_t i = 0; i < p->fit->m; i++)
    sum += p->sum[i] * at[i];
  return sum;
}

/* Loss of the posterior beyond that of a limit for a pull; NaN where the search does not settle.
 */
static double beyond(double pull, void *context)
{
  profile *p = context;
  notes_state *s = p->state;
  p->problem.to = pull;
  memcpy(s->at, p->fit->joint, p->fit->m * sizeof *s->at);
  if (!notes_search(&p->problem, s))
    return NAN;
  p->found = sum_at(p, s->at);
  double off = p->found - pull;
  return p->most - (s->posterior + 0.5 * p->problem.spring * off * off) - p->loss;
}

/* One limit, below (side -1) or above (1) the most probable value. */
static rw_status limit(profile *p, double side, double *out, rw_error *err)
{
  double best = sum_at(p, p->fit->joint), near = best, far = best, step = p->sd, pull;
  double excess = -p->loss;
  for (int i = 0; i < MOST_PULLS && excess < 0; i++, step *= 1.5) {
    near = far;
    far += side * step;
    excess = beyond(far, p);
  }
  rw_error unused;
  rw_status status = excess >= 0 ? rw_num_root(beyond, p, fmin(near, far), fmax(near, far),
                                               1e-10 * p->sd, &pull, &unused)
                                 : RW_ERR_NUMERIC;
  if (status == RW_OK && isnan(beyond(pull, p)))
    status = RW_ERR_NUMERIC;
  if (status != RW_OK)
    return rw_error_set(err, RW_ERR_NUMERIC, LIMITS, side < 0 ? "low" : "high",
                        "The notes leave it open on that side; take a lower level.",
                        "the %s limit was not found", side < 0 ? "lower" : "upper");
  *out = p->found;
  return RW_OK;
}

/* The quantity as base + factor times a sum of unknowns; 0 where there is none. */
static int quantity(const rw_notes *f, rw_notes_quantity of, rw_milestone milestone, double *base,
                    double *factor, double sum[NOTES_MOST])
{
  *base = 0;
  *factor = 1;
  switch (of) {
  case RW_NOTES_RATE:
    sum[NOTES_RATE] = 1;
    sum[NOTES_ENERGY] = -f->lever;
    return 1;
  case RW_NOTES_ENERGY:
    sum[NOTES_ENERGY] = 1;
    *factor = 1e3;
    return 1;
  case RW_NOTES_SCATTER:
    sum[NOTES_SCATTER] = 1;
    return 1;
  case RW_NOTES_AGE:
    if ((unsigned)milestone >= RW_MILESTONES || f->mark[milestone].place < 0)
      return 0;
    sum[NOTES_RATE] = -1;
    sum[NOTES_ENERGY] = f->lever;
    sum[f->mark[milestone].place] = 1;
    *base = f->mark[milestone].log_age;
    return 1;
  }
  return 0;
}

static rw_status both(profile *p, const notes_taken *taken, double *low, double *high,
                      rw_error *err)
{
  p->problem = notes_problem_of(p->fit, taken);
  p->problem.sum = p->sum;
  p->sd = sqrt(rw_num_quadratic(p->fit->m, p->fit->after, p->sum));
  p->problem.spring = 10 / (p->sd * p->sd);
  p->most = p->fit->posterior;
  rw_status status = limit(p, -1, low, err);
  return status == RW_OK ? limit(p, 1, high, err) : status;
}

rw_status rw_notes_limits(const rw_notes *f, const rw_notes_data *data, rw_notes_quantity of,
                          rw_milestone milestone, double level, double *low, double *high,
                          rw_error *err)
{
  profile p = {.fit = f};
  double base, factor, least, greatest;
  if (!quantity(f, of, milestone, &base, &factor, p.sum))
    return rw_error_set(err, RW_ERR_ARGUMENT, LIMITS, of == RW_NOTES_AGE ? "milestone" : "of",
                        "Ask for one that the class reaches at the temperature of the ages.",
                        "the fit has no such quantity");
  if (!(level >= 0.5 && level <= 0.9999))
    return rw_error_range(err, LIMITS, "level", level, 0.5, 0.9999, "", NULL);
  double z = rw_num_normal_quantile(0.5 + 0.5 * level);
  p.loss = 0.5 * z * z;
  notes_taken taken = {0};
  rw_status status = notes_take_again(LIMITS, f, data, &taken, err);
  if (status != RW_OK)
    return status;
  p.state = malloc(sizeof *p.state);
  status =
      p.state == NULL ? notes_no_memory(LIMITS, err) : both(&p, &taken, &least, &greatest, err);
  if (status == RW_OK) {
    *low = base + factor * least;
    *high = base + factor * greatest;
  }
  free(p.state);
  notes_taken_free(&taken);
  return status;
}
