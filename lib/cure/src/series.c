/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "series.h"

#include <math.h>

enum { N = SERIES_ORDER };

/* Everything the recurrences carry; each array holds Taylor coefficients in tau. */
typedef struct terms {
  double u[N + 1];  /* 1/T */
  double k1[N + 1]; /* rate constants */
  double k2[N + 1];
  double p[N + 1]; /* a^m */
  double w[N + 1]; /* (1 - a)^n */
  double x[N + 1]; /* (limit - a)^p */
  double s[N + 1]; /* k1 + k2 p, and after it what a stiffening leaves of it */
  double v[N + 1]; /* s w */
  double y[N + 1]; /* s w x */
  double e[N + 1]; /* exp(C (a - ac)) */
  double d[N + 1]; /* 1/(1 + e) */
  /* A stiffening: share of the way from Tg0 to Tg_inf, (T - Tg)/(c2 + |T - Tg|), k_diff, s +
   * k_diff, and s k_diff/(s + k_diff). */
  double g[N + 1], z[N + 1], kd[N + 1], sum[N + 1], r[N + 1];
} terms;

static double product(const double *x, const double *y, int j)
{
  double sum = 0;
  for (int i = 0; i <= j; i++)
    sum += x[i] * y[j - i];
  return sum;
}

/* Coefficient j >= 1 of base^power from the lower ones; sign -1 turns a into base0 - a. */
static double power(const double *a, double base0, double sign, double exponent, const double *y,
                    int j)
{
  double sum = 0;
  for (int k = 1; k <= j; k++)
    sum += (exponent * k - (j - k)) * a[k] * y[j - k];
  return sign * sum / (j * base0);
}

/* Coefficient j >= 1 of exp(c x) from those of x. */
static double exponential(const double *x, double c, const double *y, int j)
{
  double sum = 0;
  for (int i = 1; i <= j; i++)
    sum += i * x[i] * y[j - i];
  return c * sum / j;
}

/* Sum of x_i y_{j-i} without its first term. */
static double rest(const double *x, const double *y, int j)
{
  double sum = 0;
  for (int i = 1; i <= j; i++)
    sum += x[i] * y[j - i];
  return sum;
}

static void start(const form *f, terms *q, const series_start *from)
{
  double a = from->a, T = from->T;
  q->u[0] = 1 / T;
  q->k1[0] = f->k1 > 0 ? form_constant(f->k1, f->c1, T, f->T_ref) : 0;
  q->k2[0] = f->k2 != 0 ? form_constant(f->k2, f->c2, T, f->T_ref) : 0;
  q->p[0] = f->k2 != 0 ? pow(a, f->m) : 0;
  q->w[0] = pow(1 - a, f->n);
  q->x[0] = f->p > 0 ? pow(f->limit - a, f->p) : 1;
  q->d[0] = form_diffusion(f, a, T);
  q->e[0] = 1 / q->d[0] - 1;
  if (f->stiff == NULL)
    return;
  const rw_stiffening *s = f->stiff;
  q->g[0] = a / (1 - (1 - s->glass.lambda) * a);
  double over = T - s->glass.Tg0 - (s->glass.Tg_inf - s->glass.Tg0) * s->glass.lambda * q->g[0];
  q->z[0] = over / (s->c2 + from->side * over);
  q->kd[0] = s->k * exp(s->c1 * q->z[0]);
}

static double power_of_a(const form *f, const double *a, const double *p, int j)
{
  if (f->m == 0)
    return 0;
  if (f->m == 1)
    return a[j];
  if (f->m == 2)
    return product(a, a, j);
  return power(a, a[0], 1, f->m, p, j);
}

static double diffusion_term(const form *f, const double *a, const double *T, const double *e,
                             int j)
{
  double sum = 0;
  for (int i = 1; i <= j; i++)
    sum += i * (a[i] - f->acT * T[i]) * e[j - i];
  return f->C * sum / j;
}

/* Coefficient j of k_diff. */
static void extend_stiffening(const rw_stiffening *s, terms *q, const double *a, const double *T,
                              int side, int j)
{
  double bend = 1 - s->glass.lambda;
  double range = (s->glass.Tg_inf - s->glass.Tg0) * s->glass.lambda;
  q->g[j] = (a[j] + bend * rest(a, q->g, j)) / (1 - bend * a[0]);
  double over = 0, sum = 0;
  for (int i = 0; i <= j; i++) {
    over = T[i] - range * q->g[i] - (i == 0 ? s->glass.Tg0 : 0);
    if (i > 0)
      sum += over * q->z[j - i];
  }
  double over0 = T[0] - s->glass.Tg0 - range * q->g[0];
  q->z[j] = (over - side * sum) / (s->c2 + side * over0);
  q->kd[j] = exponential(q->z, s->c1, q->kd, j);
}

/* Coefficients j >= 1 of all terms, those of a and T up to j being known. */
static void extend(const form *f, terms *q, const double *a, const double *T, int steady, int side,
                   int j)
{
  if (steady) {
    q->u[j] = q->k1[j] = q->k2[j] = 0;
  } else {
    q->u[j] = -rest(T, q->u, j) / T[0];
    q->k1[j] = q->k1[0] > 0 ? exponential(q->u, -f->c1, q->k1, j) : 0;
    q->k2[j] = f->k2 != 0 ? exponential(q->u, -f->c2, q->k2, j) : 0;
  }
  q->p[j] = f->k2 != 0 ? power_of_a(f, a, q->p, j) : 0;
  q->w[j] = f->n == 1 ? -a[j] : power(a, 1 - a[0], -1, f->n, q->w, j);
  if (f->p > 0)
    q->x[j] = f->p == 1 ? -a[j] : power(a, f->limit - a[0], -1, f->p, q->x, j);
  if (f->C > 0) {
    q->e[j] = diffusion_term(f, a, T, q->e, j);
    q->d[j] = -rest(q->e, q->d, j) * q->d[0];
  }
  if (f->stiff != NULL)
    extend_stiffening(f->stiff, q, a, T, side, j);
}

/* Coefficient j of da/dt. */
static double rate_term(const form *f, terms *q, int steady, int j)
{
  q->s[j] = q->k1[j];
  if (f->k2 != 0)
    q->s[j] += steady ? q->k2[0] * q->p[j] : product(q->k2, q->p, j);
  const double *k = q->s;
  if (f->stiff != NULL) {
    q->sum[j] = q->s[j] + q->kd[j];
    q->r[j] = (product(q->s, q->kd, j) - (j > 0 ? rest(q->sum, q->r, j) : 0)) / q->sum[0];
    k = q->r;
  }
  q->v[j] = product(k, q->w, j);
  const double *rate = q->v;
  if (f->p > 0) {
    q->y[j] = product(q->v, q->x, j);
    rate = q->y;
  }
  return f->C > 0 ? product(rate, q->d, j) : rate[j];
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
  shorten(s->a, s->order, share);
  shorten(s->T, s->T_order, share);
}

/* Where the temperature alone multiplies the rate many times over a step, small coefficients do
 * not tell that those after them are smaller: such a step is cut. */
static const double MOST_GROWTH = 1.5; /* of the logarithm of the rate */

static void cut_growth(series_step *s, double steepness)
{
  double growth = steepness * fabs(series_value(s->T, s->T_order, 1, NULL) - s->T[0]);
  if (growth > MOST_GROWTH)
    series_cut(s, MOST_GROWTH / growth);
}

int series_expand(const form *f, const series_heat *heat, const series_start *from, double h,
                  double tolerance, series_step *out)
{
  terms q;
  double T_tolerance = 100 * tolerance, steepness = form_steepness(f, from->T);
  int steady = heat == NULL && from->slope == 0;
  if (!steady && heat == NULL)
    h = fmin(h, MOST_GROWTH / (steepness * fabs(from->slope)));
  out->t = from->t;
  out->h = h;
  out->T_order = steady ? 0 : 1;
  out->a[0] = from->a;
  out->T[0] = from->T;
  out->T[1] = heat == NULL ? from->slope * h : 0;
  start(f, &q, from);
  for (int j = 0; j < N; j++) {
    if (j > 0) {
      if (heat == NULL && j > 1)
        out->T[j] = 0;
      extend(f, &q, out->a, out->T, steady, from->side, j);
    }
    out->a[j + 1] = h * rate_term(f, &q, steady, j) / (j + 1);
    if (heat != NULL)
      out->T[j + 1] = heat->gain * out->a[j + 1] -
                      h * heat->loss * (out->T[j] - (j == 0 ? heat->air : 0)) / (j + 1);
    if (!(fabs(out->a[j + 1]) < 1e100)) {
      if (j < 2)
        return 0;
      /* Far beyond convergence: go by the terms that are there. */
      double share = 0.5 * convergent_share(out->a, j, tolerance);
      return share > 1e-12 ? series_expand(f, heat, from, h * share, tolerance, out) : 0;
    }
    int small = j >= 2 && fabs(out->a[j + 1]) < tolerance && fabs(out->a[j]) < tolerance;
    if (small && heat != NULL)
      small = fabs(out->T[j + 1]) < T_tolerance && fabs(out->T[j]) < T_tolerance;
    if (small) {
      out->order = j + 1;
      if (heat == NULL)
        return 1;
      out->T_order = j + 1;
      cut_growth(out, steepness);
      return 1;
    }
  }
  double share = convergent_share(out->a, N, tolerance);
  if (heat != NULL)
    share = fmin(share, convergent_share(out->T, N, T_tolerance));
  out->order = N;
  if (heat != NULL)
    out->T_order = N;
  series_cut(out, 0.9 * share);
  if (heat != NULL)
    cut_growth(out, steepness);
  return out->h > 0;
}

double series_value(const double *c, int order, double tau, double *slope)
{
  double value = c[order], rise = 0;
  for (int j = order; j-- > 0;) {
    rise = rise * tau + value;
    value = value * tau + c[j];
  }
  if (slope != NULL)
    *slope = rise;
  return value;
}
