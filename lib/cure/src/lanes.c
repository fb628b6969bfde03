/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "lanes.h"

#include "crossing.h"
#include "march.h"

#include <math.h>
#include <string.h>

enum { LANES_FRESH = 16 };

/* What a group's walk keeps beside its vectors. */
typedef struct lane_state {
  double a[LANES];      /* at the end of the start */
  size_t passed[LANES]; /* levels reached */
  int thick_waiting;    /* lanes whose viscosity is still waited for */
} lane_state;

int lane_fits(const rw_cure_law *law)
{
  forms f;
  forms_of(law, &f);
  const form *l = &f.stage[0];
  return l->stiff == NULL && f.split >= 2 && form_order_at_top(l) >= 1 &&
         (l->k2 == 0 || l->m > 0) && l->k2 >= 0;
}

/* Notes the levels up to `end` on a step; the level waited for next, 2 where none. */
static double lane_level(const lane_group *g, lane_state *s, int i, const double a[6], double end,
                         double t, double h)
{
  size_t *n = &s->passed[i];
  while (*n < g->levels && g->level[i][*n] <= end) {
    double level = g->level[i][*n];
    g->time[i][(*n)++] = t + h * (level <= a[0] ? 0 : step_when(a, 5, level));
  }
  return *n < g->levels ? g->level[i][*n] : 2;
}

static double lane_next(const lane_group *g, const lane_state *s, int i)
{
  return s->passed[i] < g->levels ? g->level[i][s->passed[i]] : 2;
}

static int lane_thick(const lane_group *g, lane_state *s, int i, const double a[6],
                      const double T[2], double t, double h)
{
  curve c = {.a = a, .order = 5, .T = T, .T_order = 1};
  thick_limit limit = {g->draw[i]->flow, log(g->draw[i]->viscosity)};
  double tau = crossing_share(thick_enough, &limit, &c, 4);
  if (tau > 1)
    return 0;
  *g->thick[i] = t + tau * h;
  s->thick_waiting--;
  return 1;
}

static int lane_waiting(const lane_group *g, const lane_state *s)
{
  if (s->thick_waiting > 0)
    return 1;
  for (int i = 0; i < LANES; i++)
    if (g->reached[i] != NULL || s->passed[i] < g->levels)
      return 1;
  return 0;
}

static double lane_steepness(const lane_group *g)
{
  double most = 0;
  for (int i = 0; i < LANES; i++) {
    forms f;
    forms_of(&g->draw[i]->law, &f);
    most = fmax(most, form_steepness(&f.stage[0], 250));
  }
  return most;
}

/* From a = 0 to a moment at which every lane's start is still good; that moment, negative where
 * there is none. */
static double lane_begin(const lane_group *g, lane_state *s, double T, double slope)
{
  double t = fmin(track_stop(&g->track), g->span);
  forms f[LANES];
  *s = (lane_state){0};
  for (int i = 0; i < LANES; i++) {
    forms_of(&g->draw[i]->law, &f[i]);
    double warm = T + g->draw[i]->shift, rate = form_rate(&f[i].stage[0], 0, warm);
    double share = rate > 0 ? fmin(1, rate * march_care(&f[i], warm)) : 1;
    begin b = {&f[i].stage[0], warm, slope, g->tolerance * share, 1e-3, 1};
    t = g->start > 0 ? 0 : begin_span(&b, t);
  }
  for (int i = 0; i < LANES; i++) {
    begin b = {&f[i].stage[0], T + g->draw[i]->shift, slope, 0, 0, 0};
    s->a[i] = g->start > 0 ? g->start : begin_value(&b, t);
    if (!(t >= 0 && s->a[i] > 0 && s->a[i] < 1))
      return -1;
    const double line[6] = {g->start, s->a[i] - g->start}, temperature[2] = {b.T, slope * t};
    lane_level(g, s, i, line, s->a[i], 0, t);
    if (g->thick[i] == NULL || g->draw[i]->flow == NULL)
      continue;
    s->thick_waiting++;
    lane_thick(g, s, i, line, temperature, 0, t);
  }
  return t;
}

#include "wide.h"

#include "lanes_kernel.h"
#ifdef WIDE_MORE
#include "wide.h"

#include "lanes_kernel.h"
#include "wide.h"

#include "lanes_kernel.h"
#endif

int lanes_run(const lane_group *g)
{
  return PICK(run(g));
}

void lanes_ahead(const one_law *law, const track *k, size_t first, lanes_constants *out)
{
  PICK(pieces(law, k, first, out));
}

void lanes_age_pieces(double c, double u_ref, double steepest, const double *time,
                      const double *temperature, size_t points, size_t first, double *age)
{
  enum { ROOM = AGE_BUNDLE + 8 };
  double t[ROOM], T[ROOM];
  if (first + ROOM <= points) {
    PICK(ages(c, u_ref, steepest, time + first, temperature + first, age));
    return;
  }
  for (size_t i = 0; i < ROOM; i++) {
    size_t at = first + i < points ? first + i : points - 1;
    t[i] = time[at];
    T[i] = temperature[at];
  }
  PICK(ages(c, u_ref, steepest, t, T, age));
}
