/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "notes.h"

#include <resinwright/num.h>

#include <math.h>
#include <stdlib.h>

static const double NEVER = 1e11; /* s, and no longer is looked */
static const double EVERY = 2;    /* K from place to place of the speeds */
static const double NEAR = 1;     /* K that they reach beyond what is met */
static const double LONGER = 100; /* how far the law is followed beyond its last milestone */
static const double LEAST_SD = 1e-6;

typedef struct thick {
  const rw_resin *resin;
  double T;
} thick;

/* Logarithm of the viscosity over that at which work ends. */
static double thickness(double a, void *context)
{
  const thick *t = context;
  double mu = NAN;
  if (rw_viscosity(&t->resin->flow, a, t->T, &mu, NULL) < 0)
    return NAN;
  return log(mu / t->resin->work_viscosity);
}

/* Degree of cure at which work ends at T; 0 where it is too thick from the beginning. */
static double work_end(const rw_resin *r, double T)
{
  thick t = {r, T};
  double a = 0;
  if (!(thickness(0, &t) < 0))
    return 0;
  if (rw_num_root(thickness, &t, 0, r->flow.a_gel * (1 - 1e-9), 1e-12, &a, NULL) != RW_OK)
    return 0;
  return a;
}

double notes_thickening(const rw_flow *f, double a)
{
  return f->C2 * log(f->a_gel / (f->a_gel - a)) + (f->C1 + f->C2 * a) / (f->a_gel - a);
}

static void cures(const rw_resin *r, double T, double a[RW_MILESTONES])
{
  for (int i = 0; i < RW_MILESTONES; i++)
    a[i] = i == RW_WORK_END ? work_end(r, T) : r->threshold[i].value;
}

static rw_status times(const rw_resin *r, double T, double time[RW_MILESTONES], rw_error *err)
{
  double a[RW_MILESTONES];
  rw_steady s = {T, 0, NEVER};
  cures(r, T, a);
  return rw_steady_times(&r->law, &s, a, RW_MILESTONES, time, err);
}

static int reached(double time)
{
  return time > 0 && time < HUGE_VAL;
}

static rw_status mark_of(const rw_resin *r, rw_milestone m, double T_ref, double time,
                         notes_mark *out, rw_error *err)
{
  double a[RW_MILESTONES], rate;
  *out = (notes_mark){.place = -1};
  if (!reached(time))
    return RW_OK;
  cures(r, T_ref, a);
  rw_status status = rw_cure_rate(&r->law, a[m], T_ref, &rate, err);
  if (status < 0)
    return status;
  double sd = r->threshold[m].sd, slope = rate * time;
  if (m == RW_WORK_END)
    sd /= notes_thickening(&r->flow, a[m]);
  *out = (notes_mark){.place = 0,
                      .cure = a[m],
                      .log_age = log(time),
                      .sd = fmax(sd / slope, LEAST_SD),
                      .slope = slope};
  return RW_OK;
}

/* Speeds of all marks from place to place; what is never reached is as slow as can be told. */
static rw_status speeds(rw_notes *f, double coldest, double warmest, rw_error *err)
{
  notes_grid *g = &f->grid;
  double u_ref = 1 / f->T_ref, low = fmin(coldest, f->T_ref) - NEAR,
         high = fmax(warmest, f->T_ref) + NEAR;
  g->n = (size_t)ceil((high - low) / EVERY) + 1;
  g->first = (1 / high - u_ref) / RW_GAS_CONSTANT;
  g->step = (1 / low - 1 / high) / RW_GAS_CONSTANT / (double)(g->n - 1);
  g->room = malloc(g->n * RW_MILESTONES * sizeof *g->room);
  if (g->room == NULL)
    return rw_error_set(err, RW_ERR_MEMORY, "rw_notes_fit", NULL, NULL,
                        "not enough memory for the speeds of the milestones");
  for (size_t i = 0; i < RW_MILESTONES; i++)
    f->mark[i].speed = g->room + i * g->n;
  rw_status status = RW_OK;
  for (size_t k = 0; k < g->n && status >= 0; k++) {
    double time[RW_MILESTONES];
    double T = 1 / (u_ref + (g->first + (double)k * g->step) * RW_GAS_CONSTANT);
    status = times(&f->prior.resin, T, time, err);
    for (size_t i = 0; i < RW_MILESTONES && status >= 0; i++)
      f->mark[i].speed[k] = f->mark[i].log_age - log(fmin(fmax(time[i], 1e-3), NEVER));
  }
  return status;
}

static rw_status steady_path(const rw_cure_law *law, double T, double span, rw_cure_path **path,
                             rw_error *err)
{
  double time[] = {0, span}, temperature[] = {T, T};
  rw_history *h = NULL;
  rw_status status = rw_history_create(time, temperature, NULL, 2, &h, err);
  if (status >= 0)
    status = rw_cure_run(law, h, 0, span, 0, 1e-9, path, err);
  rw_history_destroy(h);
  return status;
}

rw_status notes_marks(rw_notes *f, double coldest, double warmest, rw_error *err)
{
  const rw_resin *r = &f->prior.resin;
  double time[RW_MILESTONES], last = 86400;
  rw_status status = times(r, f->T_ref, time, err);
  int place = NOTES_FIRST;
  for (int i = 0; i < RW_MILESTONES && status >= 0; i++) {
    status = mark_of(r, (rw_milestone)i, f->T_ref, time[i], &f->mark[i], err);
    if (status >= 0 && f->mark[i].place >= 0) {
      f->mark[i].place = place++;
      last = fmax(last, time[i]);
    }
  }
  if (status >= 0)
    status = speeds(f, coldest, warmest, err);
  return status < 0 ? status
                    : steady_path(&r->law, f->T_ref, fmin(LONGER * last, NEVER), &f->path, err);
}

double notes_cure_at(const rw_notes *f, rw_milestone m, double moved)
{
  double last, a = 0, time = exp(f->mark[m].log_age + moved);
  rw_cure_path_span(f->path, NULL, &last);
  rw_cure_at(f->path, fmin(time, last), &a, NULL, NULL, NULL);
  return a;
}

void notes_resin_at(const rw_notes *f, const double *at, double later, rw_resin *out)
{
  rw_resin r = f->prior.resin;
  r.law = rw_cure_law_moved(&r.law, at[NOTES_RATE], 1e3 * at[NOTES_ENERGY]);
  for (int i = 0; i < RW_MILESTONES; i++) {
    double moved = f->mark[i].place < 0 ? 0 : at[f->mark[i].place] + later, mu;
    if (moved == 0)
      continue;
    double a = notes_cure_at(f, (rw_milestone)i, moved);
    if (i != RW_WORK_END)
      r.threshold[i].value = a;
    else if (rw_viscosity(&r.flow, fmin(a, r.flow.a_gel * (1 - 1e-6)), f->T_ref, &mu, NULL) >= 0)
      r.work_viscosity = mu;
  }
  *out = r;
}
