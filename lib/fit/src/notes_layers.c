/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The most probable scatter lies too low where few notes carry many unknowns: each unknown takes a
 * share of it. So the scatter is stepped through, all else integrated at each step. */
#include "notes.h"

#include <resinwright/num.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double FALL = 4.5;        /* of ln weight, where the steps end */
static const double WIDEST_STEP = 0.5; /* of ln scatter */

/* All else at one value of the scatter, from where s stands; ln of its weight, NaN where it does
 * not settle. */
static double settle(const notes_problem *p, double scatter, notes_state *s)
{
  notes_problem held = *p;
  held.held = 1;
  s->at[NOTES_SCATTER] = scatter;
  if (!notes_search(&held, s))
    return NAN;
  double log_root = 0;
  for (size_t i = 0; i < p->m; i++)
    log_root += log(s->factor[i * p->m + i]);
  return s->posterior - log_root;
}

static void keep(const notes_problem *p, const notes_state *s, double log_weight, notes_layer *l)
{
  l->weight = log_weight;
  memcpy(l->at, s->at, p->m * sizeof *l->at);
  rw_num_cholesky_inverse(p->m, s->factor, l->covariance);
  l->covariance[NOTES_SCATTER * p->m + NOTES_SCATTER] = 0;
}

/* Steps to one side until the weight has fallen; 0 where the search does not settle. */
static int walk(rw_notes *f, const notes_problem *p, notes_state *s, double step, double *best)
{
  const notes_layer *start = &f->layer[0];
  memcpy(s->at, start->at, p->m * sizeof *s->at);
  double scatter = start->at[NOTES_SCATTER];
  size_t room = step < 0 ? NOTES_LAYERS / 2 : NOTES_LAYERS;
  while (f->layers < room) {
    scatter += step;
    double weight = settle(p, scatter, s);
    if (isnan(weight))
      return 0;
    keep(p, s, weight, &f->layer[f->layers++]);
    *best = fmax(*best, weight);
    if (weight < *best - FALL)
      break;
  }
  return 1;
}

/* Turns ln weights into weights. */
static void even_out(rw_notes *f, double best)
{
  double sum = 0;
  for (size_t i = 0; i < f->layers; i++)
    sum += f->layer[i].weight = exp(f->layer[i].weight - best);
  for (size_t i = 0; i < f->layers; i++)
    f->layer[i].weight /= sum;
}

/* Mean of ln scatter, and covariance of all. */
static double gather(rw_notes *f)
{
  size_t m = f->m;
  double mean[NOTES_MOST] = {0};
  memset(f->after, 0, m * m * sizeof *f->after);
  for (size_t k = 0; k < f->layers; k++)
    for (size_t i = 0; i < m; i++)
      mean[i] += f->layer[k].weight * f->layer[k].at[i];
  for (size_t k = 0; k < f->layers; k++) {
    const notes_layer *l = &f->layer[k];
    for (size_t i = 0; i < m; i++)
      for (size_t j = 0; j < m; j++)
        f->after[i * m + j] +=
            l->weight * (l->covariance[i * m + j] + (l->at[i] - mean[i]) * (l->at[j] - mean[j]));
  }
  return mean[NOTES_SCATTER];
}

static rw_status lost(rw_error *err)
{
  return rw_error_set(err, RW_ERR_NUMERIC, "rw_notes_fit", NULL,
                      "Look for a note far from all others, and for times that were mixed up.",
                      "the search for the most probable scatter did not settle");
}

rw_status notes_integrate(rw_notes *f, const notes_problem *p, notes_state *s, rw_error *err)
{
  double unit[NOTES_MOST] = {[NOTES_SCATTER] = 1};
  rw_num_cholesky_solve(p->m, s->factor, unit);
  double step = fmin(sqrt(unit[NOTES_SCATTER]), WIDEST_STEP);
  f->layer = malloc(NOTES_LAYERS * sizeof *f->layer);
  if (f->layer == NULL)
    return rw_error_set(err, RW_ERR_MEMORY, "rw_notes_fit", NULL, NULL,
                        "not enough memory for the notes");
  double best = settle(p, s->at[NOTES_SCATTER], s);
  if (isnan(best))
    return lost(err);
  keep(p, s, best, &f->layer[f->layers++]);
  if (!walk(f, p, s, -step, &best) || !walk(f, p, s, step, &best))
    return lost(err);
  even_out(f, best);
  double scatter = gather(f);
  memcpy(s->at, f->joint, p->m * sizeof *s->at);
  return isnan(settle(p, scatter, s)) ? lost(err) : RW_OK;
}
