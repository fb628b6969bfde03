/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "series.h"

#include <math.h>
#include <string.h>

enum { N = SERIES_ORDER };

/* Coefficients of one series, and the same from the last place backwards: down[N - i] = up[i], so
 * that both factors of a convolution run upwards. */
typedef struct row {
  double up[N + 1], down[N + 1];
} row;

/* Everything the recurrences carry, as Taylor coefficients in tau. */
typedef struct terms {
  double a[N + 1], da[N + 1]; /* a_i, and i a_i */
  double T[N + 1];
  double per_T, per_a, per_b, per_x; /* 1/T, 1/a, 1/(a - 1), 1/(a - limit) at the beginning */
  row u;                             /* 1/T */
  double du[N + 1];                  /* i u_i */
  row k1, k2;                        /* rate constants */
  row p;                             /* a^m */
  row w;                             /* (1 - a)^n */
  row x;                             /* (limit - a)^p */
  double s[N + 1];                   /* k1 + k2 p */
  double v[N + 1];                   /* what a stiffening leaves of it, times w */
  double y[N + 1];                   /* v x */
  row e;                             /* exp(C (a - ac)) */
  double de[N + 1];                  /* i times the coefficients of its exponent over C */
  row d;                             /* 1/(1 + e) */
  /* A stiffening: share of the way from Tg0 to Tg_inf, (T - Tg)/(c2 + |T - Tg|), k_diff, s +
   * k_diff, and s k_diff/(s + k_diff). */
  row g, z, kd;
  double over[N + 1], dz[N + 1], sum[N + 1];
  row r;
} terms;

/* 1/j. */
static const double per[N + 1] = {0,        1.0,      1.0 / 2,  1.0 / 3,  1.0 / 4,  1.0 / 5,
                                  1.0 / 6,  1.0 / 7,  1.0 / 8,  1.0 / 9,  1.0 / 10, 1.0 / 11,
                                  1.0 / 12, 1.0 / 13, 1.0 / 14, 1.0 / 15, 1.0 / 16};

typedef double pair __attribute__((vector_size(16)));

static inline void put(row *r, int i, double value)
{
  r->up[i] = value;
  r->down[N - i] = value;
}

static inline pair load(const double *x)
{
  pair p;
  memcpy(&p, x, sizeof p);
  return p;
}

/* Sum of x_i y_{j-i} for i from `first` to j. */
static inline double convolution(const double *x, const row *y, int first, int j)
{
  const double *back = y->down + (N - j);
  pair even = {0}, odd = {0};
  int i = first;
  for (; i + 3 <= j; i += 4) {
    even += load(x + i) * load(back + i);
    odd += load(x + i + 2) * load(back + i + 2);
  }
  even += odd;
  double sum = even[0] + even[1];
  for (; i <= j; i++)
    sum += x[i] * back[i];
  return sum;
}

/* Sum of x_i y_{j-i} without its first term. */
static inline double rest(const double *x, const row *y, int j)
{
  return convolution(x, y, 1, j);
}

/* Coefficient j >= 1 of base^power from the lower ones: the sum of ((power + 1) k - j) a_k y_{j-k}
 * over j base0; per_base is 1/a, or 1/(a - b) for the base b - a. */
static inline double power(const terms *q, double per_base, double exponent, const row *y, int j)
{
  const double *back = y->down + (N - j);
  double scale = exponent + 1;
  pair even = {0}, odd = {0};
  int k = 1;
  for (; k + 3 <= j; k += 4) {
    even += (scale * load(q->da + k) - j * load(q->a + k)) * load(back + k);
    odd += (scale * load(q->da + k + 2) - j * load(q->a + k + 2)) * load(back + k + 2);
  }
  even += odd;
  double sum = even[0] + even[1];
  for (; k <= j; k++)
    sum += (scale * q->da[k] - j * q->a[k]) * back[k];
  return sum * per_base * per[j];
}

/* Coefficient j >= 1 of exp(c x) from those of x, dx holding i x_i. */
static double exponential(const double *dx, double c, const row *y, int j)
{
  return c * rest(dx, y, j) * per[j];
}

static void start(const form *f, terms *q, const series_start *from)
{
  double a = from->a, T = from->T, d = form_diffusion(f, a, T);
  q->a[0] = a;
  q->T[0] = T;
  q->per_T = 1 / T;
  q->per_a = a > 0 ? 1 / a : 0; /* with a = 0 no power of a is asked for */
  q->per_b = 1 / (a - 1);
  q->per_x = f->p > 0 ? 1 / (a - f->limit) : 0;
  put(&q->u, 0, q->per_T);
  put(&q->k1, 0, f->k1 > 0 ? form_constant(f->k1, f->c1, T, f->T_ref) : 0);
  put(&q->k2, 0, f->k2 != 0 ? form_constant(f->k2, f->c2, T, f->T_ref) : 0);
  put(&q->p, 0, f->k2 != 0 ? pow(a, f->m) : 0);
  put(&q->w, 0, pow(1 - a, f->n));
  put(&q->x, 0, f->p > 0 ? pow(f->limit - a, f->p) : 1);
  put(&q->d, 0, d);
  put(&q->e, 0, 1 / d - 1);
  if (f->stiff == NULL)
    return;
  const rw_stiffening *s = f->stiff;
  put(&q->g, 0, a / (1 - (1 - s->glass.lambda) * a));
  double over = T - s->glass.Tg0 - (s->glass.Tg_inf - s->glass.Tg0) * s->glass.lambda * q->g.up[0];
  q->over[0] = over;
  put(&q->z, 0, over / (s->c2 + from->side * over));
  put(&q->kd, 0, s->k * exp(s->c1 * q->z.up[0]));
}

static double power_of_a(const form *f, const terms *q, int j)
{
  if (f->m == 0)
    return 0;
  if (f->m == 1)
    return q->a[j];
  if (f->m != 2)
    return power(q, q->per_a, f->m, &q->p, j);
  double sum = 0;
  for (int i = 0; i <= j; i++)
    sum += q->a[i] * q->a[j - i];
  return sum;
}

/* Coefficient j of k_diff. */
static void extend_stiffening(const rw_stiffening *s, terms *q, int side, int j)
{
  double bend = 1 - s->glass.lambda;
  double range = (s->glass.Tg_inf - s->glass.Tg0) * s->glass.lambda;
  put(&q->g, j, (q->a[j] + bend * rest(q->a, &q->g, j)) / (1 - bend * q->a[0]));
  q->over[j] = q->T[j] - range * q->g.up[j];
  double z = (q->over[j] - side * rest(q->over, &q->z, j)) / (s->c2 + side * q->over[0]);
  put(&q->z, j, z);
  q->dz[j] = j * z;
  put(&q->kd, j, exponential(q->dz, s->c1, &q->kd, j));
}

/* Coefficients j >= 1 of all terms, those of a and T up to j being known. */
static void extend(const form *f, terms *q, int steady, int side, int j)
{
  q->da[j] = j * q->a[j];
  if (!steady) {
    put(&q->u, j, -rest(q->T, &q->u, j) * q->per_T);
    q->du[j] = j * q->u.up[j];
  }
  put(&q->k1, j, steady || f->k1 == 0 ? 0 : exponential(q->du, -f->c1, &q->k1, j));
  put(&q->k2, j, steady || f->k2 == 0 ? 0 : exponential(q->du, -f->c2, &q->k2, j));
  if (f->k2 != 0)
    put(&q->p, j, power_of_a(f, q, j));
  put(&q->w, j, f->n == 1 ? -q->a[j] : power(q, q->per_b, f->n, &q->w, j));
  if (f->p > 0)
    put(&q->x, j, f->p == 1 ? -q->a[j] : power(q, q->per_x, f->p, &q->x, j));
  if (f->C > 0) {
    q->de[j] = q->da[j] - f->acT * j * q->T[j];
    put(&q->e, j, exponential(q->de, f->C, &q->e, j));
    put(&q->d, j, -rest(q->e.up, &q->d, j) * q->d.up[0]);
  }
  if (f->stiff != NULL)
    extend_stiffening(f->stiff, q, side, j);
}

/* Coefficient j of da/dt. */
static double rate_term(const form *f, terms *q, int steady, int j)
{
  q->s[j] = q->k1.up[j];
  if (f->k2 != 0)
    q->s[j] += steady ? q->k2.up[0] * q->p.up[j] : convolution(q->k2.up, &q->p, 0, j);
  const double *k = q->s;
  if (f->stiff != NULL) {
    q->sum[j] = q->s[j] + q->kd.up[j];
    double less = j > 0 ? rest(q->sum, &q->r, j) : 0;
    put(&q->r, j, (convolution(q->s, &q->kd, 0, j) - less) / q->sum[0]);
    k = q->r.up;
  }
  q->v[j] = convolution(k, &q->w, 0, j);
  const double *rate = q->v;
  if (f->p > 0) {
    q->y[j] = convolution(q->v, &q->x, 0, j);
    rate = q->y;
  }
  return f->C > 0 ? convolution(rate, &q->d, 0, j) : rate[j];
}

/* The share of the step at which the last two terms of a series meet the tolerance. */
static double convergent_share(const double *c, int last, double tolerance)
{
  double share = 1;
  for (int j = last - 1; j <= last; j++)
    if (fabs(c[j]) > tolerance)
      share = fmin(share, exp(log(tolerance / fabs(c[j])) / j));
  return share;
}

static void shorten(double *c, int order, double share)
{
  double factor = 1;
  for (int j = 1; j <= order; j++) {
    factor *= share;
    c[j] *= factor;
  }
}

void series_cut(series_step *s, double share)
{
  s->h *= share;
  s->end_rate = 0;
  shorten(s->a, s->order, share);
  shorten(s->T, s->T_order, share);
}

/* Where the temperature alone multiplies the rate many times over a step, small coefficients do
 * not tell that those after them are smaller, unless there are more of them than powers of e: such
 * a step is cut. */
static const double MOST_GROWTH = 1.5; /* of the logarithm of the rate */

static void cut_growth(series_step *s, double steepness)
{
  double growth = steepness * fabs(series_value(s->T, s->T_order, 1, NULL) - s->T[0]);
  double most = fmax(MOST_GROWTH, 0.7 * s->order);
  if (growth > most)
    series_cut(s, most / growth);
}

/* Coefficient j + 1 of a, and of T where it follows `heat`. */
static void advance(const form *f, const series_heat *heat, terms *q, double h, int steady, int j)
{
  q->a[j + 1] = h * rate_term(f, q, steady, j) * per[j + 1];
  if (heat != NULL)
    q->T[j + 1] = heat->gain * q->a[j + 1] -
                  h * heat->loss * (q->T[j] - (j == 0 ? heat->air : 0)) * per[j + 1];
  else if (j > 0)
    q->T[j + 1] = 0;
}

static int is_small(const double *c, int j, double tolerance)
{
  return fabs(c[j]) < tolerance && fabs(c[j - 1]) < tolerance;
}

static void give(const terms *q, int order, int T_order, series_step *out)
{
  out->order = order;
  out->T_order = T_order;
  memcpy(out->a, q->a, (size_t)(order + 1) * sizeof *out->a);
  memcpy(out->T, q->T, (size_t)(T_order + 1) * sizeof *out->T);
}

int series_expand(const form *f, const series_heat *heat, const series_start *from, double h,
                  double tolerance, series_step *out)
{
  terms q;
  double T_tolerance = fmax(100 * tolerance, 1e-9), steepness = form_steepness(f, from->T);
  int steady = heat == NULL && from->slope == 0;
  if (!steady && heat == NULL)
    h = fmin(h, MOST_GROWTH / (steepness * fabs(from->slope)));
  out->t = from->t;
  out->h = h;
  out->end_rate = 0;
  start(f, &q, from);
  q.T[1] = heat == NULL ? from->slope * h : 0;
  for (int j = 0; j < N; j++) {
    if (j > 0)
      extend(f, &q, steady, from->side, j);
    advance(f, heat, &q, h, steady, j);
    if (!(fabs(q.a[j + 1]) < 1e100)) {
      if (j < 2)
        return 0;
      /* Far beyond convergence: go by the terms that are there. */
      double share = 0.5 * convergent_share(q.a, j, tolerance);
      return share > 1e-12 ? series_expand(f, heat, from, h * share, tolerance, out) : 0;
    }
    if (j >= 2 && is_small(q.a, j + 1, tolerance) &&
        (heat == NULL || is_small(q.T, j + 1, T_tolerance))) {
      give(&q, j + 1, heat != NULL ? j + 1 : !steady, out);
      if (heat != NULL)
        cut_growth(out, steepness);
      return 1;
    }
  }
  double share = convergent_share(q.a, N, tolerance);
  if (heat != NULL)
    share = fmin(share, convergent_share(q.T, N, T_tolerance));
  give(&q, N, heat != NULL ? N : !steady, out);
  series_cut(out, 0.9 * share);
  if (heat != NULL)
    cut_growth(out, steepness);
  return out->h > 0;
}

/* Even and odd terms apart: each waits for half as many others. */
static double value_at(const double *c, int order, double tau)
{
  double square = tau * tau, last = c[order], before = order > 0 ? c[order - 1] : 0;
  int j = order - 2;
  for (; j >= 1; j -= 2) {
    last = last * square + c[j];
    before = before * square + c[j - 1];
  }
  if (j == 0)
    return (last * square + c[0]) + before * tau;
  return order > 0 ? last * tau + before : last;
}

double series_value(const double *c, int order, double tau, double *slope)
{
  if (slope == NULL)
    return value_at(c, order, tau);
  double value = c[order], rise = 0;
  for (int j = order; j-- > 0;) {
    rise = rise * tau + value;
    value = value * tau + c[j];
  }
  *slope = rise;
  return value;
}
