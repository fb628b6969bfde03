/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "aft.h"

#include <resinwright/num.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_STEPS = 200, MOST_HALVINGS = 60 };

int aft_state_create(aft_state *s, size_t q)
{
  size_t m = q + 1;
  double *room = calloc(4 * m + 2 * m * m, sizeof *room);
  *s = (aft_state){.at = room};
  if (room == NULL)
    return 0;
  s->slope = room + m;
  s->step = s->slope + m;
  s->from = s->step + m;
  s->minus = s->from + m;
  s->factor = s->minus + m * m;
  return 1;
}

void aft_state_destroy(aft_state *s)
{
  free(s->at);
}

static double middle(const aft_problem *p, size_t i, const double *at, double d)
{
  const double *x = p->x + i * p->q;
  double z = d * p->row[i].y + p->row[i].offset;
  for (size_t j = 0; j < p->q; j++)
    z -= x[j] * at[j];
  return z;
}

static tail row_tail(const aft_problem *p, size_t i, const double *at, double d)
{
  double z = middle(p, i, at, d);
  switch (p->row[i].form) {
  case AFT_EXACT:
    return tail_exact(p->kind, z);
  case AFT_AFTER:
    return tail_after(p->kind, z);
  case AFT_BEFORE:
    return tail_before(p->kind, z);
  case AFT_BETWEEN:
    break;
  }
  return tail_between(p->kind, z, d * p->row[i].width);
}

static double d_of(const aft_problem *p, const double *at)
{
  return p->d > 0 ? p->d : at[p->q];
}

/* Adds a row's slopes and second derivatives: the middle moves by (-x, y), the width by
 * (0, width). */
static void add_row(const aft_problem *p, size_t i, double d, aft_state *s)
{
  size_t q = p->q, m = q + 1;
  const aft_row *r = &p->row[i];
  const double *x = p->x + i * q;
  tail t = row_tail(p, i, s->at, d);
  double w = r->weight, log_d = r->form == AFT_EXACT ? log(d) : 0;
  s->likelihood += w * (t.log_p + log_d);
  for (size_t j = 0; j < q; j++) {
    s->slope[j] -= w * t.m * x[j];
    for (size_t k = 0; k <= j; k++)
      s->minus[j * m + k] -= w * t.mm * x[j] * x[k];
    s->minus[q * m + j] += w * (t.mm * r->y + t.mw * r->width) * x[j];
  }
  double bend = t.mm * r->y * r->y + 2 * t.mw * r->y * r->width + t.ww * r->width * r->width;
  double exact = r->form == AFT_EXACT ? 1 / d : 0;
  s->slope[q] += w * (t.m * r->y + t.w * r->width + exact);
  s->minus[q * m + q] -= w * (bend - exact * exact);
}

static void look(const aft_problem *p, aft_state *s)
{
  size_t m = p->q + 1;
  s->likelihood = 0;
  memset(s->slope, 0, m * sizeof *s->slope);
  memset(s->minus, 0, m * m * sizeof *s->minus);
  for (size_t i = 0; i < p->n; i++)
    add_row(p, i, d_of(p, s->at), s);
  if (p->d > 0) {
    s->slope[p->q] = 0;
    for (size_t j = 0; j < p->q; j++)
      s->minus[p->q * m + j] = 0;
    s->minus[p->q * m + p->q] = 1;
  }
  for (size_t j = 0; j < m; j++)
    for (size_t k = j + 1; k < m; k++)
      s->minus[j * m + k] = s->minus[k * m + j];
}

/* The Newton step; a direction in which nothing bends gets a little bend of its own, and 1 is
 * returned. */
static int newton(size_t m, double bend, aft_state *s)
{
  int weak = 0;
  memcpy(s->factor, s->minus, m * m * sizeof *s->factor);
  for (double more = 1e-10 * bend; !(rw_num_cholesky(m, s->factor, 1e-11 * bend) > 0);
       more *= 10) {
    weak = 1;
    memcpy(s->factor, s->minus, m * m * sizeof *s->factor);
    for (size_t j = 0; j < m; j++)
      s->factor[j * m + j] += more;
    if (!(more < HUGE_VAL))
      break;
  }
  memcpy(s->step, s->slope, m * sizeof *s->step);
  rw_num_cholesky_solve(m, s->factor, s->step);
  return weak;
}

/* Goes along the step as far as the likelihood rises as it should; `gain` is what the slope
 * promises. 0 where it does not rise. */
static int advance(const aft_problem *p, aft_state *s, double gain)
{
  size_t m = p->q + 1;
  double before = s->likelihood, most = 1;
  memcpy(s->from, s->at, m * sizeof *s->at);
  if (p->d == 0 && s->from[p->q] + s->step[p->q] <= 0.1 * s->from[p->q])
    most = -0.9 * s->from[p->q] / s->step[p->q];
  int near = gain < 1e-8 * (1 + fabs(before));
  double share = most;
  for (int i = 0; i < MOST_HALVINGS; i++, share *= 0.5) {
    for (size_t j = 0; j < m; j++)
      s->at[j] = s->from[j] + share * s->step[j];
    look(p, s);
    if (isfinite(s->likelihood) && (near || s->likelihood >= before + 1e-4 * share * gain))
      return 1;
  }
  return 0;
}

/* Weights of all rows together, and the least of one; exact rows counted. */
typedef struct weights {
  double sum, least;
  int exact;
} weights;

static weights weigh(const aft_problem *p)
{
  weights w = {.least = HUGE_VAL};
  for (size_t i = 0; i < p->n; i++) {
    w.sum += p->row[i].weight;
    w.least = fmin(w.least, p->row[i].weight);
    w.exact += p->row[i].form == AFT_EXACT;
  }
  return w;
}

static int ended(const aft_problem *p, const weights *w, const aft_state *s, aft_end *end)
{
  double d = d_of(p, s->at);
  if (p->d == 0 && 1 / d < p->least_spread)
    *end = AFT_POINT;
  else if (p->d == 0 && d < 1e-8)
    *end = AFT_WIDE;
  else if (w->exact == 0 && s->likelihood >= -1e-9 * w->least)
    *end = AFT_CERTAIN;
  else
    return 0;
  return 1;
}

aft_end aft_search(const aft_problem *p, aft_state *s)
{
  weights w = weigh(p);
  size_t m = p->q + 1;
  aft_end end = AFT_LOST;
  int flat = 0;
  look(p, s);
  if (!isfinite(s->likelihood))
    return AFT_LOST;
  for (s->steps = 0; s->steps < MOST_STEPS; s->steps++) {
    if (ended(p, &w, s, &end))
      return end;
    int weak = newton(m, w.sum, s);
    double gain = 0;
    for (size_t j = 0; j < m; j++)
      gain += s->slope[j] * s->step[j];
    if (!weak && gain <= 1e-22 * w.sum)
      return AFT_FOUND;
    if (weak && gain <= 1e-12 * w.sum && flat++ > 3)
      return AFT_FLAT;
    if (!advance(p, s, gain))
      return weak ? AFT_FLAT : AFT_LOST;
  }
  return AFT_LOST;
}
