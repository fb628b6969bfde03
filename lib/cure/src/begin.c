/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "begin.h"

#include <resinwright/num.h>

#include <math.h>

enum { TERMS = 12, MOST_CUTS = 200 };
static const double NOTHING = 1e-18; /* an a that does not count */

/* Fall of the factors beside k1 + k2 a^m with a, at a = 0: -d ln/da. */
static double fall(const form *f, double T)
{
  double sum = f->n + f->C * (1 - form_diffusion(f, 0, T));
  return f->p > 0 ? sum + f->p / f->limit : sum;
}

/* What those factors are at a = 0. */
static double still(const form *f, double T)
{
  double value = form_diffusion(f, 0, T);
  return f->p > 0 ? value * pow(f->limit, f->p) : value;
}

/* With k1 > 0: a = x (B(q) + (s - c) x/2 + ...), x = K1 t, q = K2/K1 x^m, where B solves
 * d(x B)/dx = 1 + q B^m: b_j (1 + j m) is coefficient j - 1 of B^m. s holds the slope of ln K1 in
 * time, c the fall of the other factors. */
static void coefficients(double m, double b[TERMS + 1])
{
  double y[TERMS + 1] = {1}; /* B^m */
  b[0] = 1;
  for (int j = 1; j <= TERMS; j++) {
    b[j] = y[j - 1] / (1 + j * m);
    double sum = 0;
    for (int k = 1; k <= j; k++)
      sum += (m * k - (j - k)) * b[k] * y[j - k];
    y[j] = sum / j;
  }
}

static double rate_of(const form *f, double k, double c, double T)
{
  return form_constant(k, c, T, f->T_ref) * still(f, T);
}

/* A stiffening is not felt at a = 0 to first order of K/k_diff; it is taken in through x. */
static double slowed(const form *f, double k, double T)
{
  return f->stiff == NULL ? 1 : 1 / (1 + k / form_stiffness(f->stiff, 0, T));
}

static double with_k1_span(const begin *b)
{
  const form *f = b->law;
  double k1 = rate_of(f, f->k1, f->c1, b->T), k2 = rate_of(f, f->k2, f->c2, b->T);
  double c[TERMS + 1];
  coefficients(f->m, c);
  double bend = fabs(f->c1 / (b->T * b->T) * b->slope / k1) + fall(f, b->T) + 1;
  double x = b->most, q = k2 / k1 * pow(x, f->m), less = pow(0.7, f->m);
  for (int i = 0; i < MOST_CUTS && x > NOTHING; i++) {
    double q2 = q * q, q4 = q2 * q2, last = fabs(c[TERMS]) * q4 * q4 * q4;
    double stiff = 0;
    if (f->stiff != NULL) /* beyond the first order it is left out */
      stiff = (q + x) * form_constant(f->k1, f->c1, b->T, f->T_ref) /
              form_stiffness(f->stiff, 0, b->T);
    if (q < 0.5 && 0.05 * x * q <= b->shape &&
        x * (last + q * bend * x + bend * bend * x * x + stiff) < 0.1 * b->tolerance)
      break;
    x *= 0.7;
    q *= less;
  }
  return x / k1;
}

static double with_k1(const begin *b, double t)
{
  const form *f = b->law;
  double k = form_constant(f->k1, f->c1, b->T, f->T_ref), slow = slowed(f, k, b->T);
  double k1 = rate_of(f, f->k1, f->c1, b->T) * slow;
  double k2 = rate_of(f, f->k2, f->c2, b->T) * slow;
  double c[TERMS + 1], x = k1 * t, q = k2 / k1 * pow(x, f->m), sum = 0;
  if (q > 0.5) /* only where x is nothing */
    return x * (1 + q / (1 + f->m));
  coefficients(f->m, c);
  for (int j = TERMS; j >= 0; j--)
    sum = sum * q + c[j];
  double bend = f->c1 / (b->T * b->T) * b->slope / k1 - fall(f, b->T);
  return x * (sum + 0.5 * bend * x);
}

/* Integral of K2 over a time on a straight piece, 5-point Gauss on parts of at most 2 K. */
static double reaction(const begin *b, double h)
{
  const form *f = b->law;
  int parts = 1 + (int)(fabs(b->slope * h) / 2);
  double sum = 0, weight;
  for (int p = 0; p < parts; p++)
    for (int i = 0; i < RW_NUM_GAUSS5; i++) {
      double t = h * (p + rw_num_gauss5(i, &weight)) / parts;
      sum += weight * rate_of(f, f->k2, f->c2, b->T + b->slope * t);
    }
  return sum * h / parts;
}

/* With k1 = 0 and m < 1 the cure leaves zero by itself: the integral of K2 is
 * g(a) = a^(1-m)/(1-m) + c a^(2-m)/(2-m) + ..., solved by Newton from its first term. */
static double without_k1(const begin *b, double t)
{
  const form *f = b->law;
  double power = 1 - f->m, c = fall(f, b->T), g = reaction(b, t);
  double a = pow(power * g, 1 / power);
  for (int i = 0; i < 50 && a > 0; i++) {
    double value = pow(a, power) / power + c * pow(a, 1 + power) / (1 + power) - g;
    double next = a - value / (pow(a, -f->m) * (1 + c * a));
    if (!(next > 0) || fabs(next - a) <= 1e-16 * a)
      break;
    a = next;
  }
  return a;
}

/* The terms left out of g are of the order c^2 a^2 relative to the first; as the error grows with
 * the rate afterwards, it is held relative to a. */
static double without_k1_span(const begin *b, double h)
{
  const form *f = b->law;
  double c = fall(f, b->T) + 1;
  double a = fmin(b->most, sqrt(0.1 * b->tolerance) / c);
  if (f->stiff != NULL)
    a = fmin(a, 1e-3 * b->tolerance);
  double power = 1 - f->m, wanted = pow(a, power) / power;
  if (reaction(b, h) <= wanted)
    return h;
  double low = 0, high = h;
  for (int i = 0; i < 200 && high - low > 1e-6 * high; i++) {
    double mid = 0.5 * (low + high);
    if (reaction(b, mid) < wanted)
      low = mid;
    else
      high = mid;
  }
  return high;
}

double begin_span(const begin *b, double h)
{
  return b->law->k1 > 0 ? fmin(with_k1_span(b), h) : without_k1_span(b, h);
}

double begin_value(const begin *b, double t)
{
  return b->law->k1 > 0 ? with_k1(b, t) : without_k1(b, t);
}
