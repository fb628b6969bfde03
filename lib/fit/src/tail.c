/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tail.h"

#include <resinwright/num.h>

#include <math.h>

static const double HALF_LN_2PI = 0.91893853320467274178;
static const double ROOT_HALF = 0.70710678118654752440;
static const double FAR = 12; /* from here on the normal tail is a short asymptotic series */

static double log_density(rw_aft_kind kind, double z)
{
  return kind == RW_AFT_WEIBULL ? z - exp(z) : -0.5 * z * z - HALF_LN_2PI;
}

/* Derivative of the log density. */
static double score(rw_aft_kind kind, double z)
{
  return kind == RW_AFT_WEIBULL ? 1 - exp(z) : -z;
}

static double score_slope(rw_aft_kind kind, double z)
{
  return kind == RW_AFT_WEIBULL ? -exp(z) : -1;
}

/* One minus z times the Mills ratio of the normal: 1/z^2 - 3/z^4 + 15/z^6 ... */
static double mills_rest(double z)
{
  double u = 1 / (z * z), term = u, sum = 0;
  for (int i = 1; i < 24; i++) {
    sum += term;
    term *= -(2 * i + 1) * u;
  }
  return sum;
}

/* One tail: ln of its probability, the density over it, and the score plus that quotient with the
 * sign of the upper tail, which would cancel far out. */
typedef struct side {
  double log_p, hazard, rest;
} side;

static side normal_upper(double z)
{
  if (z > FAR) {
    double rest = mills_rest(z), hazard = z / (1 - rest);
    return (side){-0.5 * z * z - HALF_LN_2PI - log(hazard), hazard, hazard * rest};
  }
  double log_p = z < 0 ? log1p(-0.5 * erfc(-z * ROOT_HALF)) : log(0.5 * erfc(z * ROOT_HALF));
  double hazard = exp(log_density(RW_AFT_LOGNORMAL, z) - log_p);
  return (side){log_p, hazard, hazard - z};
}

static side upper(rw_aft_kind kind, double z)
{
  if (kind == RW_AFT_LOGNORMAL)
    return normal_upper(z);
  double x = exp(z);
  return (side){-x, x, 1};
}

/* ln(1 - exp(-x)) where ln x is known too. */
static double log_rise(double x, double log_x)
{
  if (x > 1)
    return log1p(-exp(-x));
  return x > 1e-5 ? log(-expm1(-x)) : log_x - 0.5 * x + x * x / 24;
}

static side lower(rw_aft_kind kind, double z)
{
  if (kind == RW_AFT_LOGNORMAL) {
    side s = normal_upper(-z);
    return (side){s.log_p, s.hazard, -s.rest};
  }
  double log_p = log_rise(exp(z), z), hazard = exp(log_density(kind, z) - log_p);
  return (side){log_p, hazard, score(kind, z) - hazard};
}

tail tail_exact(rw_aft_kind kind, double z)
{
  return (tail){.log_p = log_density(kind, z), .m = score(kind, z), .mm = score_slope(kind, z)};
}

tail tail_after(rw_aft_kind kind, double z)
{
  side s = upper(kind, z);
  return (tail){.log_p = s.log_p, .m = -s.hazard, .mm = -s.hazard * s.rest};
}

tail tail_before(rw_aft_kind kind, double z)
{
  side s = lower(kind, z);
  return (tail){.log_p = s.log_p, .m = s.hazard, .mm = s.hazard * s.rest};
}

/* ln(exp(larger) - exp(smaller)). */
static double log_difference(double larger, double smaller)
{
  double d = larger - smaller;
  return d > 0 ? larger + log_rise(d, log(d)) : -HUGE_VAL;
}

/* The same between two bounds in the upper tail of the normal, which are not close. */
static double log_upper_between(double a, double b)
{
  if (a > FAR)
    return log_difference(normal_upper(a).log_p, normal_upper(b).log_p);
  return log(0.5 * (erfc(a * ROOT_HALF) - erfc(b * ROOT_HALF)));
}

static double log_between(rw_aft_kind kind, double a, double b)
{
  if (kind == RW_AFT_WEIBULL) {
    double rise = expm1(b - a), x = exp(a) * rise;
    return -exp(a) + log_rise(x, a + log(rise));
  }
  if (a > 0)
    return log_upper_between(a, b);
  if (b < 0)
    return log_upper_between(-b, -a);
  return log1p(-0.5 * (erfc(-a * ROOT_HALF) + erfc(b * ROOT_HALF)));
}

/* A narrow interval by 7-point Gauss: a mean of densities, nothing to cancel. */
static tail narrow(rw_aft_kind kind, double m, double w)
{
  static const double x[] = {0, 0.40584515137739716691, 0.74153118559939443986,
                             0.94910791234275852453};
  static const double c[] = {0.41795918367346938776, 0.38183005050511894495,
                             0.27970539148927666790, 0.12948496616886969327};
  double middle = log_density(kind, m), sum = 0, s = 0, xs = 0, q = 0, xq = 0, xxq = 0;
  for (int i = -3; i <= 3; i++) {
    double place = 0.5 * (i < 0 ? -x[-i] : x[i]), z = m + place * w;
    double p = 0.5 * c[i < 0 ? -i : i] * exp(log_density(kind, z) - middle);
    double first = score(kind, z), second = score_slope(kind, z) + first * first;
    sum += p;
    s += p * first;
    xs += p * place * first;
    q += p * second;
    xq += p * place * second;
    xxq += p * place * place * second;
  }
  s /= sum;
  xs /= sum;
  return (tail){.log_p = middle + log(w) + log(sum),
                .m = s,
                .w = 1 / w + xs,
                .mm = q / sum - s * s,
                .mw = xq / sum - s * xs,
                .ww = -1 / (w * w) + xxq / sum - xs * xs};
}

tail tail_between(rw_aft_kind kind, double m, double w)
{
  if (w * fmax(1, fabs(score(kind, m))) <= 1)
    return narrow(kind, m, w);
  double a = m - 0.5 * w, b = m + 0.5 * w, log_p = log_between(kind, a, b);
  double at_a = exp(log_density(kind, a) - log_p), at_b = exp(log_density(kind, b) - log_p);
  double aa = -at_a * ((at_a > 0 ? score(kind, a) : 0) + at_a);
  double bb = at_b * ((at_b > 0 ? score(kind, b) : 0) - at_b), ab = at_a * at_b;
  return (tail){.log_p = log_p,
                .m = at_b - at_a,
                .w = 0.5 * (at_a + at_b),
                .mm = aa + 2 * ab + bb,
                .mw = 0.5 * (bb - aa),
                .ww = 0.25 * (aa - 2 * ab + bb)};
}

double tail_quantile(rw_aft_kind kind, double p)
{
  return kind == RW_AFT_WEIBULL ? log(-log1p(-p)) : rw_num_normal_quantile(p);
}
