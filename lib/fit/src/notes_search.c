/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "notes.h"

#include <resinwright/num.h>

#include <math.h>
#include <string.h>

enum { MOST_STEPS = 200, MOST_HALVINGS = 50 };

/* Places that one row touches: rate, energy, scatter, milestone, observer, batch. */
enum { TOUCHED = 6 };
enum { MILESTONE = 3, OBSERVER, EXTRA };

/* A row at a state: its middle and width in standard units, and how they move. */
typedef struct seen {
  size_t place[TOUCHED], n;
  double middle, width;
  double m1[TOUCHED], w1[TOUCHED]; /* first derivatives */
  double m_energy, w_energy;       /* second derivatives by the energy */
  double w_mixed;                  /* of the width by energy and scatter */
} seen;

/* 1 where the form of a row asks for its bounds. */
static int has_low(const notes_row *r)
{
  return r->form != NOTES_BEFORE;
}

static int has_high(const notes_row *r)
{
  return r->form == NOTES_BEFORE || r->form == NOTES_BETWEEN;
}

void notes_gather_stays(const notes_problem *p, notes_stays *out)
{
  for (size_t i = 0; i < p->rows; i++) {
    const notes_row *r = &p->row[i];
    const double *speed = p->mark[r->event].speed;
    if (has_low(r))
      notes_stays_of(r->hull, r->mixed, r->low, p->grid, speed, p->T_ref, &out[2 * i]);
    if (has_high(r))
      notes_stays_of(r->hull, r->mixed, r->high, p->grid, speed, p->T_ref, &out[2 * i + 1]);
  }
}

/* The age until a row's low bound, or its high one, by a shift in kJ/mol. */
static notes_age age_until(const notes_problem *p, const notes_row *r, int high, double shift)
{
  if (p->stays != NULL)
    return notes_stays_age(&p->stays[2 * (r - p->row) + high], 1e3 * shift);
  return notes_age_of(r->hull, r->mixed, high ? r->high : r->low, p->grid, p->mark[r->event].speed,
                      1e3 * shift, p->T_ref);
}

/* The age in the middle and the width, both with derivatives by the energy. */
static void ages(const notes_problem *p, const notes_row *r, double shift, notes_age *middle,
                 notes_age *width)
{
  notes_age a = {0}, b = {0};
  if (has_low(r))
    a = age_until(p, r, 0, shift);
  if (has_high(r))
    b = age_until(p, r, 1, shift);
  *width = (notes_age){b.y - a.y, b.first - a.first, b.second - a.second};
  if (r->form == NOTES_BETWEEN)
    *middle =
        (notes_age){0.5 * (a.y + b.y), 0.5 * (a.first + b.first), 0.5 * (a.second + b.second)};
  else
    *middle = r->form == NOTES_BEFORE ? b : a;
}

static void look_at(const notes_problem *p, const notes_row *r, const double *at, seen *s)
{
  notes_age middle, width;
  const notes_mark *mark = &p->mark[r->event];
  size_t own = (size_t)mark->place, observer = p->m - p->observers + r->observer;
  observer -= p->extra != NULL ? 1 : 0;
  ages(p, r, at[NOTES_ENERGY], &middle, &width);
  double e = exp(-at[NOTES_SCATTER]);
  double u = middle.y - mark->log_age + at[NOTES_RATE] - p->lever * at[NOTES_ENERGY] - at[own] -
             at[observer];
  *s = (seen){.place = {NOTES_RATE, NOTES_ENERGY, NOTES_SCATTER, own, observer, p->m - 1}, .n = 5};
  if (p->extra != NULL && p->extra[r->batch] != 0) {
    u -= p->extra[r->batch] * at[p->m - 1];
    s->n = TOUCHED;
    s->m1[EXTRA] = -e * p->extra[r->batch];
  }
  s->middle = u * e;
  s->m1[NOTES_RATE] = e;
  s->m1[NOTES_ENERGY] = e * (middle.first - p->lever);
  s->m1[NOTES_SCATTER] = -s->middle;
  s->m1[MILESTONE] = s->m1[OBSERVER] = -e;
  s->m_energy = e * middle.second;
  if (r->form != NOTES_BETWEEN)
    return;
  s->width = width.y * e;
  s->w1[NOTES_ENERGY] = e * width.first;
  s->w1[NOTES_SCATTER] = -s->width;
  s->w_energy = e * width.second;
  s->w_mixed = -e * width.first;
}

static tail tail_of(notes_form form, const seen *s)
{
  switch (form) {
  case NOTES_EXACT:
    return tail_exact(RW_AFT_LOGNORMAL, s->middle);
  case NOTES_AFTER:
    return tail_after(RW_AFT_LOGNORMAL, s->middle);
  case NOTES_BEFORE:
    return tail_before(RW_AFT_LOGNORMAL, s->middle);
  case NOTES_BETWEEN:
    break;
  }
  return tail_between(RW_AFT_LOGNORMAL, s->middle, s->width);
}

void notes_bounds(const notes_problem *p, const notes_row *r, const double *at, double *low,
                  double *high)
{
  seen s;
  look_at(p, r, at, &s);
  *low = r->form == NOTES_BEFORE ? -HUGE_VAL : s.middle - 0.5 * s.width;
  *high = r->form == NOTES_AFTER ? HUGE_VAL : s.middle + 0.5 * s.width;
}

double notes_pull(const notes_problem *p, const notes_row *r, const double *at, double *bend)
{
  seen s;
  look_at(p, r, at, &s);
  tail t = tail_of(r->form, &s);
  *bend = -r->weight * t.mm;
  return r->weight * t.m;
}

/* Second derivative of the row by two of its unknowns, straight from the chain rule. */
static double bend(const tail *t, const seen *s, size_t j, size_t k)
{
  double sum = t->mm * s->m1[j] * s->m1[k] + t->ww * s->w1[j] * s->w1[k] +
               t->mw * (s->m1[j] * s->w1[k] + s->w1[j] * s->m1[k]);
  if (j == NOTES_SCATTER && k == NOTES_SCATTER)
    return sum + t->m * s->middle + t->w * s->width;
  if (j == NOTES_SCATTER || k == NOTES_SCATTER) {
    size_t other = j == NOTES_SCATTER ? k : j;
    return sum - t->m * s->m1[other] + (other == NOTES_ENERGY ? t->w * s->w_mixed : 0);
  }
  return j == NOTES_ENERGY && k == NOTES_ENERGY ? sum + t->m * s->m_energy + t->w * s->w_energy
                                                : sum;
}

double notes_add(const notes_problem *p, const notes_row *r, const double *at, double *slope,
                 double *minus)
{
  seen s;
  look_at(p, r, at, &s);
  tail t = tail_of(r->form, &s);
  double w = r->weight;
  for (size_t j = 0; j < s.n; j++) {
    slope[s.place[j]] += w * (t.m * s.m1[j] + t.w * s.w1[j]);
    for (size_t k = 0; k < s.n && minus != NULL; k++)
      minus[s.place[j] * p->m + s.place[k]] -= w * bend(&t, &s, j, k);
  }
  if (r->form != NOTES_EXACT)
    return w * t.log_p;
  slope[NOTES_SCATTER] -= w;
  return w * (t.log_p - at[NOTES_SCATTER]);
}

static void add_spring(const notes_problem *p, notes_state *s)
{
  double off = -p->to;
  for (size_t i = 0; i < p->m; i++)
    off += p->sum[i] * s->at[i];
  s->posterior -= 0.5 * p->spring * off * off;
  for (size_t i = 0; i < p->m; i++) {
    s->slope[i] -= p->spring * off * p->sum[i];
    for (size_t j = 0; j < p->m; j++)
      s->minus[i * p->m + j] += p->spring * p->sum[i] * p->sum[j];
  }
}

static void look(const notes_problem *p, notes_state *s)
{
  size_t m = p->m;
  double *minus = s->minus, sum = 0;
  s->likelihood = s->posterior = -HUGE_VAL;
  if (!(s->at[NOTES_ENERGY] > p->energy[0] && s->at[NOTES_ENERGY] < p->energy[1]))
    return;
  memcpy(minus, p->prior, m * m * sizeof *minus);
  for (size_t i = 0; i < m; i++) {
    s->slope[i] = 0;
    for (size_t j = 0; j < m; j++)
      s->slope[i] -= p->prior[i * m + j] * (s->at[j] - p->mean[j]);
    sum += 0.5 * s->slope[i] * (s->at[i] - p->mean[i]);
  }
  s->likelihood = 0;
  for (size_t i = 0; i < p->rows; i++)
    s->likelihood += notes_add(p, &p->row[i], s->at, s->slope, minus);
  s->posterior = s->likelihood + sum;
  if (p->sum != NULL)
    add_spring(p, s);
  if (!p->held)
    return;
  s->slope[NOTES_SCATTER] = 0;
  for (size_t j = 0; j < m; j++)
    minus[NOTES_SCATTER * m + j] = minus[j * m + NOTES_SCATTER] = j == NOTES_SCATTER;
}

/* The Newton step, with more bend where the posterior does not bend down; 1 where none was
 * needed. Unknowns are scaled by what the prior and the notes say of each alone. */
static int newton(const notes_problem *p, notes_state *s, double *step)
{
  size_t m = p->m;
  double scale[NOTES_MOST], more = 0;
  for (size_t i = 0; i < m; i++)
    scale[i] = 1 / sqrt(fmax(fabs(s->minus[i * m + i]), p->prior[i * m + i]));
  for (int k = 0; k < 60; k++) {
    for (size_t i = 0; i < m; i++)
      for (size_t j = 0; j < m; j++)
        s->factor[i * m + j] = s->minus[i * m + j] * scale[i] * scale[j] + (i == j ? more : 0);
    if (rw_num_cholesky(m, s->factor, 1e-13) > 0)
      break;
    more = more == 0 ? 1e-6 : 4 * more;
  }
  for (size_t i = 0; i < m; i++)
    for (size_t j = 0; j <= i; j++)
      s->factor[i * m + j] /= scale[i];
  memcpy(step, s->slope, m * sizeof *step);
  rw_num_cholesky_solve(m, s->factor, step);
  return more == 0;
}

static int advance(const notes_problem *p, notes_state *s, const double *step, double gain)
{
  double from[NOTES_MOST], before = s->posterior, share = 1;
  int near = gain < 1e-9 * (1 + fabs(before));
  memcpy(from, s->at, p->m * sizeof *from);
  for (int i = 0; i < MOST_HALVINGS; i++, share *= 0.5) {
    for (size_t j = 0; j < p->m; j++)
      s->at[j] = from[j] + share * step[j];
    look(p, s);
    if (isfinite(s->posterior) && (near || s->posterior >= before + 1e-4 * share * gain))
      return 1;
  }
  return 0;
}

int notes_search(const notes_problem *p, notes_state *s)
{
  double step[NOTES_MOST];
  look(p, s);
  for (s->steps = 0; s->steps < MOST_STEPS && isfinite(s->posterior); s->steps++) {
    int sure = newton(p, s, step);
    double gain = 0;
    for (size_t j = 0; j < p->m; j++)
      gain += s->slope[j] * step[j];
    if (sure && gain <= 1e-18)
      return 1;
    if (!(gain > 0) || !advance(p, s, step, gain))
      return 0;
  }
  return 0;
}
