/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run_steady.h"

#include <math.h>
#include <stdlib.h>

/* In x = ln(a/(1 - a)) a power of a or of 1 - a is smooth however near it is to an end, so panels
 * of equal width with Gauss's rule serve from the first trace to the last. With NODES points a
 * panel of width 1 is good to about 1e-12 where neither m nor n - 1 is above STEEP; steeper powers
 * get narrower panels. */
enum { NODES = 10, FIRST = -25, LAST = 25, MOST_PARTS = 4, PANELS = (LAST - FIRST) * MOST_PARTS };
static const double STEEP = 1.1;

/* At the places of a panel. */
typedef struct panel {
  int parts;                         /* its logarithms stand for that many in a unit; 0: not yet */
  unsigned long law;                 /* its powers do for the law of that number */
  double log_a[NODES], log_b[NODES]; /* of a and 1 - a */
  double power[NODES];               /* a^m */
  double slow[NODES];                /* (1 - a)^-n da/ds, s from -1 to 1 over the panel */
} panel;

/* What is integrated over time: 1, and d ln f/dq for q = ln k1, m and n. */
enum { TIME, BY_K1, BY_M, BY_N, KINDS };

struct steady {
  const rw_cure_law *law;
  unsigned long number;          /* of the law */
  int parts;                     /* panels in a unit of x */
  double place[NODES];           /* of the rule on [-1, 1] */
  double weight[NODES];          /* of the rule */
  double integral[NODES][NODES]; /* coefficient of s^(i+1) in the integral, by the value at j */
  double half[NODES];            /* the integral from -1 to 0, likewise */
  panel panel[PANELS];
};

int steady_fits(const rw_cure_law *law, double tolerance)
{
  int plain = law->kind == RW_LAW_KAMAL || law->kind == RW_LAW_NTH_ORDER;
  return plain && law->k1 > 0 && law->C == 0 && law->stiffening.k == 0 && tolerance >= 1e-10;
}

/* Legendre's polynomials up to order NODES. */
static void legendre(double s, double p[NODES + 1])
{
  p[0] = 1;
  p[1] = s;
  for (int l = 1; l < NODES; l++)
    p[l + 1] = ((2 * l + 1) * s * p[l] - l * p[l - 1]) / (l + 1);
}

/* Places and weights of Gauss's rule: roots of the last polynomial. */
static void make_rule(steady *s)
{
  const double pi = 3.14159265358979323846;
  for (int j = 0; j < NODES; j++) {
    double at = -cos(pi * (j + 0.75) / (NODES + 0.5)), p[NODES + 1], slope = 1;
    for (int i = 0; i < 6; i++) {
      legendre(at, p);
      slope = NODES * (at * p[NODES] - p[NODES - 1]) / (at * at - 1);
      at -= p[NODES] / slope;
    }
    s->place[j] = at;
    s->weight[j] = 2 / ((1 - at * at) * slope * slope);
  }
}

/* The integral from -1 of the polynomial through values at the places: Legendre's l-th has the
 * integral (P(l+1) - P(l-1))/(2l+1). */
static void make_integral(steady *s)
{
  double c[NODES + 1][NODES + 1] = {{1}, {0, 1}}; /* the polynomials' own coefficients */
  for (int l = 1; l < NODES; l++)
    for (int i = 0; i <= l + 1; i++)
      c[l + 1][i] = ((i > 0 ? (2 * l + 1) * c[l][i - 1] : 0) - l * c[l - 1][i]) / (l + 1);
  for (int j = 0; j < NODES; j++) {
    double p[NODES + 1], sum[NODES + 1] = {0};
    legendre(s->place[j], p);
    sum[0] = sum[1] = 0.5 * s->weight[j];
    for (int l = 1; l < NODES; l++)
      for (int i = 0; i <= l + 1; i++)
        sum[i] += 0.5 * s->weight[j] * p[l] * (c[l + 1][i] - c[l - 1][i]);
    s->half[j] = sum[0];
    for (int i = 0; i < NODES; i++)
      s->integral[j][i] = sum[i + 1];
  }
}

steady *steady_create(void)
{
  steady *s = malloc(sizeof *s);
  if (s == NULL)
    return NULL;
  s->law = NULL;
  s->number = 0;
  for (int i = 0; i < PANELS; i++)
    s->panel[i].parts = 0;
  make_rule(s);
  make_integral(s);
  return s;
}

void steady_destroy(steady *s)
{
  free(s);
}

void steady_law(steady *s, const rw_cure_law *law)
{
  double steep = fmax(law->kind == RW_LAW_KAMAL ? law->m : 0, law->n - 1);
  int parts = 1;
  while (parts < MOST_PARTS && steep > STEEP * parts)
    parts *= 2;
  s->parts = parts;
  s->law = law;
  s->number++;
}

static double middle(const steady *s, int i)
{
  return FIRST + (i + 0.5) / s->parts;
}

static void place(const steady *s, int i, panel *p)
{
  for (int j = 0; j < NODES; j++) {
    double x = middle(s, i) + 0.5 / s->parts * s->place[j];
    p->log_b[j] = x > 0 ? -x - log1p(exp(-x)) : -log1p(exp(x));
    p->log_a[j] = x + p->log_b[j];
  }
  p->parts = s->parts;
  p->law = 0;
}

/* A panel with the law's powers. */
static const panel *panel_of(steady *s, int i)
{
  panel *p = &s->panel[i];
  double half = 0.5 / s->parts, m = s->law->m, n = s->law->n;
  if (p->parts != s->parts)
    place(s, i, p);
  if (p->law == s->number)
    return p;
  for (int j = 0; j < NODES; j++) {
    p->power[j] = s->law->kind == RW_LAW_KAMAL ? exp(m * p->log_a[j]) : 0;
    p->slow[j] = half * exp(p->log_a[j] + (1 - n) * p->log_b[j]);
  }
  p->law = s->number;
  return p;
}

/* A walk along one run: what has gathered up to a panel, and the panel's own. */
typedef struct walk {
  double k1, k2, u; /* u: (1/T - 1/T_ref)/R, mol/J */
  double sum[KINDS];
  double value[KINDS][NODES];
  double c[KINDS][NODES + 1];
} walk;

static void enter(steady *s, int i, walk *w)
{
  const panel *p = panel_of(s, i);
  for (int j = 0; j < NODES; j++) {
    double k = 1 / (w->k1 + w->k2 * p->power[j]), time = p->slow[j] * k;
    double first = time * w->k1 * k;
    w->value[TIME][j] = time;
    w->value[BY_K1][j] = first;
    w->value[BY_M][j] = (time - first) * p->log_a[j];
    w->value[BY_N][j] = time * p->log_b[j];
  }
}

/* The first so many kinds as polynomials of the place. */
static void expand(const steady *s, int kinds, walk *w)
{
  for (int q = 0; q < kinds; q++) {
    double c[NODES] = {0}, half = 0;
    for (int j = 0; j < NODES; j++) {
      double value = w->value[q][j];
      half += s->half[j] * value;
      for (int i = 0; i < NODES; i++)
        c[i] += s->integral[j][i] * value;
    }
    w->c[q][0] = half;
    for (int i = 0; i < NODES; i++)
      w->c[q][i + 1] = c[i];
  }
}

static double total(const steady *s, const double *value)
{
  double sum = 0;
  for (int j = 0; j < NODES; j++)
    sum += s->weight[j] * value[j];
  return sum;
}

static double polynomial(const double *c, double at)
{
  double value = c[NODES];
  for (int i = NODES; i-- > 0;)
    value = value * at + c[i];
  return value;
}

/* Places in a panel, several side by side, with the time since its beginning and the derivatives
 * there: in pairs, which fit every processor's registers. */
enum { LOT = 6, PAIRS = LOT / 2 };
typedef double pair __attribute__((vector_size(16)));
typedef struct lot {
  pair at[PAIRS], time[PAIRS], rise[PAIRS], bend[PAIRS];
} lot;

static void look(const double *c, lot *x)
{
  pair time[PAIRS], rise[PAIRS], bend[PAIRS];
  for (int l = 0; l < PAIRS; l++) {
    bend[l] = rise[l] = (pair){0};
    time[l] = rise[l] + c[NODES];
  }
  for (int i = NODES; i-- > 0;)
    for (int l = 0; l < PAIRS; l++) {
      bend[l] = bend[l] * x->at[l] + rise[l];
      rise[l] = rise[l] * x->at[l] + time[l];
      time[l] = time[l] * x->at[l] + c[i];
    }
  for (int l = 0; l < PAIRS; l++) {
    x->bend[l] = bend[l];
    x->rise[l] = rise[l];
    x->time[l] = time[l];
  }
}

static void values(const double *c, const pair *at, pair *value)
{
  pair sum[PAIRS];
  for (int l = 0; l < PAIRS; l++)
    sum[l] = at[l] * c[NODES] + c[NODES - 1];
  for (int i = NODES - 1; i-- > 0;)
    for (int l = 0; l < PAIRS; l++)
      sum[l] = sum[l] * at[l] + c[i];
  for (int l = 0; l < PAIRS; l++)
    value[l] = sum[l];
}

static double inside(double at)
{
  at = at >= -1 ? at : -1;
  return at <= 1 ? at : 1;
}

/* One step of third order towards a time; the longest of them. */
static double step(const double *c, const pair *time, lot *x)
{
  double most = 0;
  look(c, x);
  for (int l = 0; l < PAIRS; l++) {
    pair ahead = (time[l] - x->time[l]) / x->rise[l];
    pair next = x->at[l] + ahead / (1 + ahead * x->bend[l] / x->rise[l]);
    for (int k = 0; k < 2; k++) {
      double to = inside(next[k]), moved = fabs(to - x->at[l][k]);
      most = moved > most ? moved : most;
      x->at[l][k] = to;
    }
  }
  return most;
}

/* Where a panel is at times since its beginning: from the cubic through its ends. A last step of
 * first order goes the square of what the step before it left. */
static void seek(const walk *w, double all, const pair *time, lot *x)
{
  const double *c = w->c[TIME];
  double first = 0, last = 0;
  for (int i = NODES; i > 0; i--) {
    first = i * c[i] - first;
    last += i * c[i];
  }
  first = all / first;
  last = all / last;
  for (int l = 0; l < PAIRS; l++) {
    pair u = time[l] / all;
    x->at[l] = u * (first + u * (6 - 2 * first - last + u * (first + last - 4))) - 1;
  }
  for (int i = 0; i < 30 && step(c, time, x) > 0.02; i++)
    ;
  look(c, x);
  for (int l = 0; l < PAIRS; l++)
    x->at[l] += (time[l] - x->time[l]) / x->rise[l];
}

/* A row of slopes: the rate times what has gathered. */
static void slopes_of(const walk *w, double rate, const double *sum,
                      const rw_fit_parameter *parameter, size_t p, double *slope)
{
  double by_k1 = rate * sum[BY_K1], by_k2 = rate * (sum[TIME] - sum[BY_K1]);
  for (size_t q = 0; q < p; q++)
    switch (parameter[q]) {
    case RW_FIT_K1:
      slope[q] = by_k1;
      break;
    case RW_FIT_E1:
      slope[q] = -w->u * by_k1;
      break;
    case RW_FIT_K2:
      slope[q] = by_k2;
      break;
    case RW_FIT_E2:
      slope[q] = -w->u * by_k2;
      break;
    case RW_FIT_M:
      slope[q] = rate * sum[BY_M];
      break;
    case RW_FIT_N:
      slope[q] = rate * sum[BY_N];
      break;
    default:
      slope[q] = 0;
    }
}

/* From a = 0 to where the panels begin, a0: with z = (k2/k1) a^m the integrals run in powers of z,
 * and no more than a0 of 1 - a is felt. Returns the panel, -1 where there is none. */
static int begin(steady *s, walk *w)
{
  double m = s->law->m, more = w->k2 / w->k1;
  double x = 0.5 * log(1e-12 / (1 + more));
  if (more > 0)
    x = fmin(x, fmin(log(0.5 / more) / m, log(1e-11 / more) / (1 + m)));
  int i = (int)floor((x - FIRST) * s->parts);
  if (!(x >= FIRST))
    return -1;
  double log_a = FIRST + (double)i / s->parts, a = exp(log_a), z = more * exp(m * log_a);
  double term = 1;
  w->sum[TIME] = 0.5 * s->law->n * a;
  for (int j = 0; j < 64 && fabs(term) > 1e-16; j++, term *= -z) {
    double next = 1 + (j + 1) * m;
    w->sum[TIME] += term / (1 + j * m);
    w->sum[BY_K1] += (j + 1) * term / (1 + j * m);
    w->sum[BY_M] += (j + 1) * term * z / next * (log_a - 1 / next);
  }
  for (int q = 0; q < KINDS; q++)
    w->sum[q] *= a / w->k1;
  return i;
}

/* From a degree of cure inside a panel. */
static int begin_at(steady *s, double start, walk *w)
{
  double x = log(start / (1 - start)), inside = (x - FIRST) * s->parts;
  if (!(inside >= 0 && inside < (LAST - FIRST) * s->parts))
    return -1;
  int i = (int)inside;
  enter(s, i, w);
  expand(s, KINDS, w);
  for (int q = 0; q < KINDS; q++)
    w->sum[q] = -polynomial(w->c[q], 2 * (inside - i) - 1);
  return i;
}

/* A run's points one after another. */
typedef struct points {
  const double *time;
  double from;
  size_t n, next;
  const rw_fit_parameter *parameter;
  size_t p;
  double *cure, *slope;
} points;

static double age_of(const points *k)
{
  return k->next < k->n ? k->time[k->next] - k->from : HUGE_VAL;
}

static void put(points *k, const walk *w, double a, double rate, const double *sum)
{
  k->cure[k->next] = a;
  if (k->slope != NULL)
    slopes_of(w, rate, sum, k->parameter, k->p, k->slope + k->next * k->p);
  k->next++;
}

/* The next points up to an age, no more than a lot. */
static void read_lot(const steady *s, int i, const walk *w, double end, points *k)
{
  const double half = 0.5 / s->parts, all = end - w->sum[TIME];
  double age[LOT];
  pair time[PAIRS], value[KINDS][PAIRS];
  lot x;
  int n = 0;
  for (size_t l = 0; l < LOT; l++) { /* a short lot repeats its first point */
    double next = k->next + l < k->n ? k->time[k->next + l] - k->from : HUGE_VAL;
    age[l] = next <= end ? next : age_of(k);
    n += next <= end;
  }
  for (int l = 0; l < PAIRS; l++)
    time[l] = (pair){age[2 * l], age[2 * l + 1]} - w->sum[TIME];
  seek(w, all, time, &x);
  for (int q = BY_K1; k->slope != NULL && q < KINDS; q++)
    values(w->c[q], x.at, value[q]);
  for (int l = 0; l < n; l++) {
    double a = 1 / (1 + exp(-(middle(s, i) + half * x.at[l / 2][l % 2]))), sum[KINDS];
    sum[TIME] = age[l];
    for (int q = BY_K1; k->slope != NULL && q < KINDS; q++)
      sum[q] = w->sum[q] + value[q][l / 2][l % 2];
    put(k, w, a, a * (1 - a) * half / x.rise[l / 2][l % 2], sum);
  }
}

int steady_follow(steady *s, const rw_course *c, const double *time, size_t n,
                  const rw_fit_parameter *parameter, size_t p, double *cure, double *slope)
{
  const rw_cure_law *law = s->law;
  const double nothing[KINDS] = {0};
  walk w = {.u = (1 / c->T - 1 / law->T_ref) / RW_GAS_CONSTANT};
  points k = {time, c->from, n, 0, parameter, p, cure, slope};
  w.k1 = law->k1 * exp(-law->E1 * w.u);
  w.k2 = law->kind == RW_LAW_KAMAL ? law->k2 * exp(-law->E2 * w.u) : 0;
  int i = c->start > 0 ? begin_at(s, c->start, &w) : begin(s, &w);
  if (i < 0)
    return 0;
  while (age_of(&k) <= 0)
    put(&k, &w, c->start, 0, nothing);
  double a0 = 1 / (1 + exp(-(FIRST + (double)i / s->parts)));
  for (double age = age_of(&k); age <= w.sum[TIME]; age = age_of(&k))
    put(&k, &w, a0 * age / w.sum[TIME], a0 * age / (w.sum[TIME] * w.sum[TIME]), w.sum);
  for (; k.next < n && i < (LAST - FIRST) * s->parts; i++) {
    enter(s, i, &w);
    double end = w.sum[TIME] + total(s, w.value[TIME]);
    if (age_of(&k) <= end)
      expand(s, slope != NULL ? KINDS : BY_K1, &w);
    while (age_of(&k) <= end)
      read_lot(s, i, &w, end, &k);
    for (int q = 0; q < KINDS; q++)
      w.sum[q] += total(s, w.value[q]);
  }
  while (k.next < n)
    put(&k, &w, 1, 0, nothing);
  return 1;
}
