/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The walk of a group, for one kind of processor: to be included with QUICK(name) naming its
 * functions, WIDTH numbers in a register, and LANES_TARGET the processor they are for. */
#define QUICK_FUNCTION LANES_TARGET __attribute__((always_inline)) static inline
enum { QUICK(PARTS) = LANES / WIDTH };
typedef double QUICK(many) __attribute__((vector_size(8 * WIDTH)));
typedef unsigned long long QUICK(bits) __attribute__((vector_size(8 * WIDTH)));

/* Whether any lane of a mask is set. */
QUICK_FUNCTION int QUICK(any)(QUICK(bits) mask)
{
  unsigned long long sum = 0;
  for (int i = 0; i < WIDTH; i++)
    sum |= mask[i];
  return sum != 0;
}

#include "quick.h"

/* The laws that share a register. The parts of a group take the same steps; that they are
 * independent lets the processor work on all of them at a time. */
typedef struct QUICK(part) {
  QUICK(law) law;
  QUICK(state) y, end;
  QUICK(demand) demand;
  LANE shift;
  LANE top;
  LANE live; /* 0 where a lane is complete, else 1 */
  LANE next; /* level waited for, 2 where none */
  /* Viscosity: ln mu - ln limit = mu + warm/T + (c1 + c2 a) ln(gel/(gel - a)); thick is 1 where
   * it is waited for. */
  LANE mu, warm, c1, c2, gel, thick;
  LANE c[6]; /* of the step in hand */
} QUICK(part);

typedef struct QUICK(walk) {
  QUICK(part) part[QUICK(PARTS)];
  double t, T;      /* where the last step ended; a history may jump */
  double steepness; /* 1/K, of the rate with temperature, the greatest of all lanes */
  int age;          /* steps since the powers were computed afresh */
} QUICK(walk);

/* Lanes that a step brought beyond their top, below where they were, or so far that the power of
 * a has no good series over it. */
QUICK_FUNCTION int QUICK(astray)(const QUICK(part) * w)
{
  LANE end = w->end.a;
  BITS bad = LESS(w->top, end) | LESS(end, w->y.a - 1e-15) | ~LESS(end, 2 + 0 * end);
  if (w->law.powered)
    bad |= LESS(0.2 * w->y.a, w->c[1]);
  return ANY(bad & LESS(0.5 + 0 * end, w->live));
}

/* Tries a step on one part; the order that was enough, 0 where none was. */
QUICK_FUNCTION int QUICK(try)(QUICK(part) * w, double T, double slope, double h)
{
  QUICK(constants) constants;
  LANE warming = slope * h + 0 * w->shift;
  QUICK(ahead)(&w->law, h * w->live, T + w->shift, warming, &constants);
  int order = QUICK(step)(&w->law, &constants, &w->y, &w->demand, h, warming, w->c, &w->end);
  return order > 0 && !QUICK(astray)(w) ? order : 0;
}

/* Where the viscosity is at its limit or above, with a at temperature T. */
QUICK_FUNCTION BITS QUICK(thickened)(const QUICK(part) * w, LANE a, LANE T)
{
  LANE zero = 0 * a, left = w->gel - a;
  BITS liquid = LESS(zero, left);
  left = CHOOSE(liquid, left, w->gel);
  LANE mu = w->mu + w->warm / T + (w->c1 + w->c2 * a) * QUICK(log)(w->gel / left);
  return ~(liquid & LESS(mu, zero)) & LESS(zero + 0.5, w->thick);
}

/* Notes what a step brought; the scalar work is left to the rare lanes that ask for it. */
QUICK_FUNCTION void QUICK(events)(QUICK(walk) * walk, const lane_group *g, lane_state *s, int p,
                                  double T, double warming, double h)
{
  QUICK(part) *w = &walk->part[p];
  BITS hit = ~LESS(w->end.a, w->next), thick = 0 * hit;
  if (s->thick_waiting) {
    const LANE *c = w->c;
    LANE half = c[0] + 0.5 * (c[1] + 0.5 * (c[2] + 0.5 * (c[3] + 0.5 * (c[4] + 0.5 * c[5]))));
    thick = QUICK(thickened)(w, w->end.a, T + w->shift + warming) |
            QUICK(thickened)(w, half, T + w->shift + 0.5 * warming);
  }
  if (!ANY(hit | thick))
    return;
  for (int i = 0; i < WIDTH; i++) {
    if (!hit[i] && !thick[i])
      continue;
    double a[6];
    for (int j = 0; j < 6; j++)
      a[j] = w->c[j][i];
    const double there[2] = {T + w->shift[i], warming};
    if (hit[i])
      w->next[i] = lane_level(g, s, p * WIDTH + i, a, w->end.a[i], walk->t, h);
    if (thick[i] && lane_thick(g, s, p * WIDTH + i, a, there, walk->t, h))
      w->thick[i] = 0;
  }
}

/* Takes over the end of a step; a lane at its top stays just below it, and still. Answers whether
 * the powers are to be computed afresh. */
QUICK_FUNCTION int QUICK(accept)(QUICK(part) * w, double warming)
{
  LANE zero = 0 * w->y.a;
  BITS done = LESS(w->top - 1e-12, w->end.a);
  int strained = QUICK(strained)(&w->law, &w->y, &w->end, w->c, 0 * w->shift + warming);
  w->y = w->end;
  w->y.a = SMALLER(w->end.a, w->top - 1e-13);
  w->live = CHOOSE(done, zero, w->live);
  return strained;
}

/* Loads what a lane needs. */
LANES_TARGET static void QUICK(load)(QUICK(part) * w, const lane_group *g, int lane, int i,
                                     double T, double a, double next)
{
  forms f;
  forms_of(&g->draw[lane]->law, &f);
  const form *l = &f.stage[0];
  const rw_flow *flow = g->draw[lane]->flow;
  w->law.k1[i] = l->k1;
  w->law.c1[i] = l->c1;
  w->law.k2[i] = l->k2;
  w->law.c2[i] = l->c2;
  w->law.m[i] = l->m;
  w->law.n[i] = l->n;
  w->law.limit[i] = l->limit;
  w->law.p[i] = l->p;
  w->law.T_ref[i] = l->T_ref;
  w->law.C[i] = l->C;
  w->law.ac0[i] = l->ac0;
  w->law.acT[i] = l->acT;
  w->law.damped[i] = l->C > 0;
  w->law.powered |= l->k2 != 0;
  w->law.limited |= l->p > 0;
  w->law.diffuse |= l->C > 0;
  w->shift[i] = g->draw[lane]->shift;
  w->top[i] = f.top;
  w->demand.tolerance = g->tolerance;
  w->demand.care[i] = march_care(&f, T + g->draw[lane]->shift);
  w->live[i] = 1;
  w->y.a[i] = a;
  w->next[i] = next;
  w->gel[i] = 1;
  if (flow == NULL || g->thick[lane] == NULL || *g->thick[lane] < HUGE_VAL)
    return;
  w->warm[i] = flow->E / RW_GAS_CONSTANT;
  w->mu[i] = log(flow->mu / g->draw[lane]->viscosity) - w->warm[i] / flow->T_ref;
  w->c1[i] = flow->C1;
  w->c2[i] = flow->C2;
  w->gel[i] = flow->a_gel;
  w->thick[i] = 1;
}

/* One step of all parts, at most h long; its length, 0 where there is none. `order` is the highest
 * that was needed. */
QUICK_FUNCTION double QUICK(together)(QUICK(walk) * w, double T, double slope, double h,
                                      int *order)
{
  for (;;) {
    int least = 1, most = 0;
    for (int p = 0; p < QUICK(PARTS); p++) {
      int needed = QUICK(try)(&w->part[p], T, slope, h);
      least = needed < least ? needed : least;
      most = needed > most ? needed : most;
    }
    *order = most;
    if (least > 0)
      return h;
    h *= 0.5;
    if (!(h > 1e-14 * w->t && h > 1e-9))
      return 0;
  }
}

LANES_TARGET static int QUICK(run)(const lane_group *g)
{
  QUICK(walk) w = {.age = LANES_FRESH};
  lane_state s;
  track k = g->track;
  double slope, T = track_temperature(&k, 0, &slope);
  w.t = lane_begin(g, &s, T, slope);
  if (!(w.t >= 0))
    return 0;
  for (int i = 0; i < LANES; i++)
    QUICK(load)
  (&w.part[i / WIDTH], g, i, i % WIDTH, T, s.a[i], lane_next(g, &s, i));
  for (int p = 0; p < QUICK(PARTS); p++)
    QUICK(prepare)(&w.part[p].law);
  w.steepness = lane_steepness(g);
  double length = HUGE_VAL; /* what the last step suggests */
  while (w.t < g->span && lane_waiting(g, &s)) {
    track_seek(&k, w.t);
    T = track_temperature(&k, w.t, &slope);
    double stop = fmin(track_stop(&k), g->span), whole = stop - w.t;
    if (w.age >= LANES_FRESH || fabs(T - w.T) > 1e-9) {
      for (int p = 0; p < QUICK(PARTS); p++)
        QUICK(refresh)(&w.part[p].law, T + w.part[p].shift, &w.part[p].y);
      w.age = 0;
    }
    int order;
    double h = fmin(fmin(whole, length), 1 / (w.steepness * fabs(slope)));
    h = QUICK(together)(&w, T, slope, h, &order);
    if (!(h > 0))
      return 0;
    length = order < QUICK(LAST) ? 2 * h : h;
    for (int p = 0; p < QUICK(PARTS); p++) {
      QUICK(events)(&w, g, &s, p, T, slope * h, h);
      if (QUICK(accept)(&w.part[p], slope * h))
        w.age = LANES_FRESH;
    }
    w.age++;
    w.T = T + slope * h;
    w.t = h == whole ? stop : w.t + h;
  }
  for (int i = 0; i < LANES; i++)
    if (g->reached[i] != NULL) {
      const QUICK(part) *p = &w.part[i / WIDTH];
      double a = p->y.a[i % WIDTH], top = p->top[i % WIDTH];
      *g->reached[i] = a >= top - 1e-12 ? top : a;
    }
  return 1;
}

/* The constants of LANES pieces of one law, the last piece repeated where there are no more. */
LANES_TARGET static void QUICK(pieces)(const one_law *law, const track *k, size_t first,
                                       lanes_constants *out)
{
  LANE zero = {0};
  QUICK(law)
  l = {.k1 = zero + law->k1,
       .c1 = zero + law->c1,
       .k2 = zero + law->k2,
       .c2 = zero + law->c2,
       .T_ref = zero + law->T_ref,
       .powered = law->powered};
  for (size_t p = 0; p < QUICK(PARTS); p++) {
    LANE h = zero, T0 = zero, warming = zero;
    for (size_t i = 0; i < WIDTH; i++) {
      size_t at = first + p * WIDTH + i;
      at = at + 1 < k->points ? at : k->points - 2;
      h[i] = k->time[at + 1] - k->time[at];
      T0[i] = k->temperature[at] + k->shift;
      warming[i] = k->temperature[at + 1] - k->temperature[at];
    }
    QUICK(constants) constants;
    QUICK(ahead)(&l, h, T0, warming, &constants);
    for (int j = 0; j < 5; j++) {
      memcpy(out->K1[j] + p * WIDTH, &constants.K1[j], sizeof zero);
      memcpy(out->K2[j] + p * WIDTH, &constants.K2[j], sizeof zero);
    }
  }
}

/* h times the first derivative less h^3/60 times the third, h/12 of which corrects an end. */
QUICK_FUNCTION LANE QUICK(bend)(double c, LANE u, LANE rate, LANE rise)
{
  LANE s = rise * u, z = c * s * u;
  return rate * z * (1 - (1.0 / 60) * (z * z - 6 * s * z + 6 * s * s));
}

LANES_TARGET static void QUICK(ages)(double c, double u_ref, double steepest, const double *time,
                                     const double *temperature, double *age)
{
  double inverse[AGE_BUNDLE + WIDTH], rate[AGE_BUNDLE + WIDTH];
  LANE t0, t1, T0, T1, u0, u1, r0, r1;
  for (size_t p = 0; p <= AGE_BUNDLE; p += WIDTH) {
    memcpy(&T0, temperature + p, sizeof T0);
    u0 = 1 / T0;
    r0 = QUICK(exp)(c * (u_ref - u0));
    memcpy(inverse + p, &u0, sizeof u0);
    memcpy(rate + p, &r0, sizeof r0);
  }
  for (size_t p = 0; p < AGE_BUNDLE; p += WIDTH) {
    memcpy(&t0, time + p, sizeof t0);
    memcpy(&t1, time + p + 1, sizeof t1);
    memcpy(&T0, temperature + p, sizeof T0);
    memcpy(&T1, temperature + p + 1, sizeof T1);
    memcpy(&u0, inverse + p, sizeof u0);
    memcpy(&u1, inverse + p + 1, sizeof u1);
    memcpy(&r0, rate + p, sizeof r0);
    memcpy(&r1, rate + p + 1, sizeof r1);
    LANE rise = T1 - T0, zero = 0 * rise;
    LANE bend = QUICK(bend)(c, u0, r0, rise) - QUICK(bend)(c, u1, r1, rise);
    LANE value = (t1 - t0) * (0.5 * (r0 + r1) + (1.0 / 12) * bend);
    LANE steep = GREATER(c * rise, -c * rise) * u0 * u1;
    value = CHOOSE(LESS(zero + steepest, steep), zero - 1, value);
    memcpy(age + p, &value, sizeof value);
  }
}

#undef QUICK_FUNCTION
