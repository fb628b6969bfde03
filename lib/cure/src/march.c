/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "march.h"

#include <math.h>

enum { FRESH_EVERY = 16 };
static const double FINEST = 1e-16; /* of a: no step is asked to be better than this */

rw_status march_can_start(const char *function, const rw_cure_law *law, double start,
                          rw_error *err)
{
  forms f;
  forms_of(law, &f);
  if (start > f.top)
    return rw_error_range(err, function, "start", start, 0, f.top, "",
                          "The law ends at its plateau: a mix off its ratio gets no further.");
  if (start > 0 || f.stage[0].k1 > 0 || f.stage[0].m <= 0.99)
    return RW_OK;
  return rw_error_set(err, RW_ERR_ARGUMENT, function, "start",
                      "Give a small degree of cure to start from, or a k1 above zero.",
                      "with k1 = 0 and m above 0.99 the cure never starts from zero, or hardly");
}

double march_care(const forms *law, double T)
{
  double most = form_greatest(&law->stage[0], T);
  if (law->split < law->top)
    most = fmax(most, form_greatest(&law->stage[1], T));
  return most > 0 ? fmin(1 / most, 1e5) : 1e5;
}

static one_law one_of(const form *f)
{
  one_law l = {.k1 = f->k1,
               .c1 = f->c1,
               .k2 = f->k2,
               .c2 = f->c2,
               .m = f->m,
               .n = f->n,
               .limit = f->limit,
               .p = f->p,
               .T_ref = f->T_ref,
               .C = f->C,
               .ac0 = f->ac0,
               .acT = f->acT,
               .damped = f->C > 0,
               .powered = f->k2 != 0,
               .limited = f->p > 0,
               .diffuse = f->C > 0};
  one_prepare(&l);
  return l;
}

void march_on_track(march *m, const rw_cure_law *law, const track *k, double span, double a,
                    double tolerance)
{
  double slope;
  *m = (march){.track = *k,
               .end = span,
               .a = a,
               .tolerance = tolerance,
               .age = -1,
               .ahead_first = k->points};
  forms_of(law, &m->law);
  m->quick = m->law.split >= 2 && m->law.stage[0].stiff == NULL;
  if (m->quick)
    m->one = one_of(&m->law.stage[0]);
  m->phase.stage = a >= m->law.split;
  double T = track_temperature(&m->track, 0, &slope);
  m->care = march_care(&m->law, T);
  m->steepness = form_steepness(&m->law.stage[0], fmin(T, 250));
}

rw_status march_start(march *m, const char *function, const rw_cure_law *law, const rw_history *h,
                      double from, double to, double a, double tolerance, rw_error *err)
{
  track k;
  rw_status status = track_start(&k, function, h, from, to, a, tolerance, err);
  if (status == RW_OK)
    status = march_can_start(function, law, a, err);
  if (status == RW_OK)
    march_on_track(m, law, &k, to - from, a, tolerance);
  return status;
}

void march_steady(march *m, const rw_cure_law *law, double T, double span, double tolerance,
                  double store[4])
{
  store[0] = 0;
  store[1] = span;
  store[2] = store[3] = T;
  track k = {.time = store, .temperature = store + 2, .points = 2};
  march_on_track(m, law, &k, span, 0, tolerance);
}

/* A step as the walk sees it before it is found. */
typedef struct ahead {
  const form *law;
  double T;
  double slope;
  double h; /* to the kink */
} ahead;

static void straight_step(const march *m, const ahead *s, double h, double a, series_step *step)
{
  step->t = m->t;
  step->h = h;
  step->order = step->T_order = 1;
  step->a[0] = m->a;
  step->a[1] = a - m->a;
  step->T[0] = s->T;
  step->T[1] = s->slope * h;
}

/* What a long step may be wrong by, at a rate. */
static inline double allowed(const march *m, double rate)
{
  double share = rate * m->care, wrong = LONG_SHARE * m->tolerance * (share < 1 ? share : 1);
  return wrong > FINEST * m->a ? wrong : FINEST * m->a;
}

/* A start from zero that a plain series cannot make, as a cubic with the values and slopes of its
 * ends. Where it leaves zero too steeply for that it goes no further than the tolerance, straight.
 */
static int broken_start(const march *m, const ahead *s, series_step *step)
{
  const form *f = s->law;
  double rate = form_rate(f, 0, s->T), wanted = m->tolerance;
  int steep = f->k1 == 0 && f->m > 0.5;
  begin b = {.law = f,
             .T = s->T,
             .slope = s->slope,
             .tolerance = rate > 0 ? allowed(m, rate) : LONG_SHARE * wanted,
             .most = fmin(1e-3, steep       ? 0.1 * wanted
                                : f->k1 > 0 ? 1
                                            : 10 * wanted),
             .shape = 0.1 * wanted};
  double t = begin_span(&b, s->h);
  if (!(t > 0))
    return 0;
  double a = begin_value(&b, t);
  straight_step(m, s, t, a, step);
  if (steep)
    return 1;
  double rise0 = t * rate, rise1 = t * form_rate(f, a, s->T + s->slope * t);
  step->order = 3;
  step->a[1] = rise0;
  step->a[2] = 3 * a - 2 * rise0 - rise1;
  step->a[3] = rise0 + rise1 - 2 * a;
  return 1;
}

/* A whole piece in one step of low order; 0 where that is not good enough. */
static int quick_step(march *m, series_step *step)
{
  const track *k = &m->track;
  size_t i = k->piece;
  double start = k->time[i] - k->origin, stop = k->time[i + 1] - k->origin;
  if (!m->quick || start != m->t || stop > m->end || m->a < 1e-4 || m->law.top - m->a < 1e-6)
    return 0;
  double h = stop - start, T = k->temperature[i] + k->shift;
  double warming = k->temperature[i + 1] - k->temperature[i];
  if (fabs(warming) * m->steepness > 1)
    return 0;
  if (i - m->ahead_first >= LANES) {
    lanes_ahead(&m->one, k, i, &m->ahead);
    m->ahead_first = i;
  }
  one_state y = m->carried, next;
  int age = m->age;
  if (age < 0 || age >= FRESH_EVERY || fabs(T - m->T) > 1e-9) {
    y.a = m->a;
    one_refresh(&m->one, T, &y);
    age = 0;
  }
  one_constants constants;
  for (int j = 0; j < 5; j++) {
    constants.K1[j] = m->ahead.K1[j][i - m->ahead_first];
    constants.K2[j] = m->ahead.K2[j][i - m->ahead_first];
  }
  one_demand demand = {QUICK_SHARE * m->tolerance, m->care};
  int order = one_step(&m->one, &constants, &y, &demand, h, warming, step->a, &next);
  if (order == 0 || !(step->a[1] <= 0.3 * m->a && next.a >= m->a && next.a < m->law.top))
    return 0;
  step->t = m->t;
  step->h = h;
  step->order = order;
  step->T_order = 1;
  step->T[0] = T;
  step->T[1] = warming;
  m->carried = next;
  m->T = T + warming;
  m->age = one_strained(&m->one, &y, &next, step->a, warming) ? -1 : age + 1;
  m->a = next.a;
  m->t = stop;
  m->last = h;
  return 1;
}

/* A law whose power of the distance to its top is below one is there in a finite time, beyond
 * which its series means nothing: go at most half of the way. */
static double before_completion(const march *m, const ahead *s, double rate)
{
  double order = form_order_at_top(s->law);
  return order < 1 && rate > 0 ? 0.5 * (m->law.top - m->a) / ((1 - order) * rate) : HUGE_VAL;
}

static int complete(const march *m, const ahead *s)
{
  double left = m->law.top - m->a;
  return left <= 1e-15 || (left <= LONG_SHARE * m->tolerance && form_order_at_top(s->law) < 1);
}

static int long_step(march *m, const ahead *s, series_step *step)
{
  double rate = form_rate(s->law, m->a, s->T), h = fmin(s->h, before_completion(m, s, rate));
  if ((rate <= 0 && m->a > 0) || form_stalled(s->law, m->a, s->T)) {
    straight_step(m, s, s->h, m->a, step);
    return 1;
  }
  if (m->last > 0)
    h = fmin(h, 1e3 * m->last);
  series_start from = {m->t, m->a, s->T, s->slope, m->phase.side};
  m->age = -1;
  return phase_expand(&m->law, &m->phase, NULL, &from, h, allowed(m, rate), step);
}

int march_next(march *m, series_step *step)
{
  if (m->t >= m->end)
    return 0;
  track_seek(&m->track, m->t);
  if (quick_step(m, step))
    return 1;
  ahead s = {.law = &m->law.stage[m->phase.stage]};
  s.T = track_temperature(&m->track, m->t, &s.slope);
  double stop = fmin(track_stop(&m->track), m->end);
  s.h = stop - m->t;
  int stage = m->phase.stage, fine = 1;
  if (complete(m, &s)) {
    m->a = m->law.top;
    straight_step(m, &s, s.h, m->a, step);
  } else if (m->a == 0 && !form_is_smooth(s.law))
    fine = broken_start(m, &s, step);
  else
    fine = long_step(m, &s, step);
  if (!fine || !(step->h > 1e-14 * m->t || step->h == s.h))
    return -1;
  double a = series_value(step->a, step->order, 1, NULL);
  m->a = m->phase.stage != stage ? m->law.split : fmin(fmax(a, m->a), m->law.top);
  m->t = step->h == s.h ? stop : m->t + step->h;
  m->last = step->h;
  return 1;
}

double march_steady_cure(const rw_cure_law *law, double T, double span)
{
  march m;
  series_step step;
  double store[4];
  int more;
  march_steady(&m, law, T, span, 1e-8, store);
  while ((more = march_next(&m, &step)) > 0)
    ;
  return more == 0 ? m.a : -1;
}
