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
  double s[N + 1]; /* k1 + k2 p */
  double v[N + 1]; /* s w */
  double e[N + 1]; /* exp(C (a - ac)) */
  double d[N + 1]; /* 1/(1 + e) */
} terms;

double law_constant(double k, double E, double T, double T_ref)
{
  return k * exp(-E / RW_GAS_CONSTANT * (1 / T - 1 / T_ref));
}

static double diffusion_exponent(const rw_cure_law *law, double a, double T)
{
  return fmin(law->C * (a - law->ac0 - law->acT * (T - law->T_ref)), 600);
}

double law_diffusion(const rw_cure_law *law, double a, double T)
{
  return law->C > 0 ? 1 / (1 + exp(diffusion_exponent(law, a, T))) : 1;
}

int law_is_smooth(const rw_cure_law *law)
{
  return law->kind == RW_LAW_NTH_ORDER || law->k2 == 0 || law->m == 0 || law->m == 1 ||
         law->m == 2;
}

static double product(const double *x, const double *y, int j)
{
  double sum = 0;
  for (int i = 0; i <= j; i++)
    sum += x[i] * y[j - i];
  return sum;
}

/* Coefficient j >= 1 of base^power from the lower ones; sign -1 turns a into 1 - a. */
static double power(const double *a, double base0, double sign, double exponent, const double *y,
                    int j)
{
  double sum = 0;
  for (int k = 1; k <= j; k++)
    sum += (exponent * k - (j - k)) * sign * a[k] * y[j - k];
  return sum / (j * base0);
}

/* Coefficient j >= 1 of exp(c x) from those of x. */
static double exponential(const double *x, double c, const double *y, int j)
{
  double sum = 0;
  for (int i = 1; i <= j; i++)
    sum += i * x[i] * y[j - i];
  return c * sum / j;
}

/* Coefficient j >= 1 of numerator/x where x0 is the leading one: -(sum x_i y_{j-i})/x0. */
static double quotient(const double *x, double x0, const double *y, int j)
{
  double sum = 0;
  for (int i = 1; i <= j; i++)
    sum += x[i] * y[j - i];
  return -sum / x0;
}

static void start(const rw_cure_law *law, terms *q, double a, double T)
{
  int kamal = law->kind == RW_LAW_KAMAL;
  q->u[0] = 1 / T;
  q->k1[0] = law_constant(law->k1, law->E1, T, law->T_ref);
  q->k2[0] = kamal ? law_constant(law->k2, law->E2, T, law->T_ref) : 0;
  q->p[0] = kamal ? pow(a, law->m) : 0;
  q->w[0] = pow(1 - a, law->n);
  q->e[0] = law->C > 0 ? exp(diffusion_exponent(law, a, T)) : 0;
  q->d[0] = 1 / (1 + q->e[0]);
}

static double power_of_a(const rw_cure_law *law, const double *a, const double *p, int j)
{
  if (law->m == 0)
    return 0;
  if (law->m == 1)
    return a[j];
  if (law->m == 2)
    return product(a, a, j);
  return power(a, a[0], 1, law->m, p, j);
}

static double diffusion_term(const rw_cure_law *law, const double *a, const double *T,
                             const double *e, int j)
{
  double sum = 0;
  for (int i = 1; i <= j; i++)
    sum += i * law->C * (a[i] - law->acT * T[i]) * e[j - i];
  return sum / j;
}

/* Coefficients j >= 1 of all terms, those of a and T up to j being known. */
static void extend(const rw_cure_law *law, terms *q, const double *a, const double *T, int steady,
                   int j)
{
  int kamal = law->kind == RW_LAW_KAMAL && law->k2 > 0;
  if (steady) {
    q->u[j] = q->k1[j] = q->k2[j] = 0;
  } else {
    q->u[j] = quotient(T, T[0], q->u, j);
    q->k1[j] = exponential(q->u, -law->E1 / RW_GAS_CONSTANT, q->k1, j);
    q->k2[j] = kamal ? exponential(q->u, -law->E2 / RW_GAS_CONSTANT, q->k2, j) : 0;
  }
  q->p[j] = kamal ? power_of_a(law, a, q->p, j) : 0;
  q->w[j] = law->n == 1 ? -a[j] : power(a, 1 - a[0], -1, law->n, q->w, j);
  if (law->C > 0) {
    q->e[j] = diffusion_term(law, a, T, q->e, j);
    q->d[j] = quotient(q->e, 1 + q->e[0], q->d, j);
  }
}

/* Coefficient j of da/dt. */
static double rate_term(const rw_cure_law *law, terms *q, int steady, int j)
{
  int kamal = law->kind == RW_LAW_KAMAL && law->k2 > 0;
  q->s[j] = q->k1[j];
  if (kamal)
    q->s[j] += steady ? q->k2[0] * q->p[j] : product(q->k2, q->p, j);
  q->v[j] = product(q->s, q->w, j);
  return law->C > 0 ? product(q->v, q->d, j) : q->v[j];
}

/* The share of the step at which the last two terms of a series meet the tolerance. */
static double convergent_share(const double *c, double tolerance)
{
  double share = 1;
  for (int j = N - 1; j <= N; j++)
    if (fabs(c[j]) > tolerance)
      share = fmin(share, pow(tolerance / fabs(c[j]), 1.0 / j));
  return share;
}

static void shorten(double *c, double share)
{
  double factor = 1;
  for (int j = 1; j <= N; j++) {
    factor *= share;
    c[j] *= factor;
  }
}

int series_expand(const rw_cure_law *law, const series_heat *heat, double t, double h, double a,
                  double T, double slope, double tolerance, series_step *out)
{
  terms q;
  double T_tolerance = 100 * tolerance;
  int steady = heat == NULL && slope == 0;
  *out = (series_step){.t = t, .h = h, .T_order = steady ? 0 : 1};
  out->a[0] = a;
  out->T[0] = T;
  out->T[1] = heat == NULL ? slope * h : 0;
  start(law, &q, a, T);
  for (int j = 0; j < N; j++) {
    if (j > 0)
      extend(law, &q, out->a, out->T, steady, j);
    out->a[j + 1] = h * rate_term(law, &q, steady, j) / (j + 1);
    if (heat != NULL)
      out->T[j + 1] = heat->gain * out->a[j + 1] -
                      h * heat->loss * (out->T[j] - (j == 0 ? heat->air : 0)) / (j + 1);
    if (!isfinite(out->a[j + 1]))
      return 0;
    int small = j >= 2 && fabs(out->a[j + 1]) < tolerance && fabs(out->a[j]) < tolerance;
    if (small && heat != NULL)
      small = fabs(out->T[j + 1]) < T_tolerance && fabs(out->T[j]) < T_tolerance;
    if (small) {
      out->order = j + 1;
      if (heat != NULL)
        out->T_order = j + 1;
      return 1;
    }
  }
  double share = convergent_share(out->a, tolerance);
  if (heat != NULL)
    share = fmin(share, convergent_share(out->T, T_tolerance));
  share *= 0.9;
  out->order = N;
  if (heat != NULL)
    out->T_order = N;
  out->h = h * share;
  shorten(out->a, share);
  shorten(out->T, share);
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
