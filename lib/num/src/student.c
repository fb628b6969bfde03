/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <resinwright/num.h>

#include <math.h>

static const double HALF_PI = 1.57079632679489661923;
static const double EXTREME = 1e-6;
static const size_t MANY = 20000; /* from here on the expansion about the normal is exact enough */

/* P(|T| <= tan(angle) sqrt(freedom)), a finite sum (Abramowitz & Stegun 1964, 26.7.3 and 26.7.4).
 */
static double within(double angle, size_t freedom)
{
  double c2 = cos(angle) * cos(angle);
  double term = freedom % 2 == 0 ? 1 : cos(angle), sum = 0;
  for (size_t k = freedom % 2; k + 2 <= freedom; k += 2) {
    sum += term;
    term *= c2 * (double)(k + 1) / (double)(k + 2);
  }
  if (freedom % 2 == 0)
    return sin(angle) * sum;
  return (angle + sin(angle) * sum) / HALF_PI;
}

/* Two terms of the expansion in 1/freedom (26.7.5). */
static double nearly_normal(double p, double freedom)
{
  double z = rw_num_normal_quantile(p), z2 = z * z;
  double first = z * (z2 + 1) / 4, second = z * (3 + z2 * (16 + 5 * z2)) / 96;
  return z + (first + second / freedom) / freedom;
}

double rw_num_student_quantile(double p, size_t freedom)
{
  if (!(p >= EXTREME && p <= 1 - EXTREME) || freedom < 1)
    return NAN;
  if (p == 0.5)
    return 0;
  if (freedom >= MANY)
    return nearly_normal(p, (double)freedom);
  double wanted = fabs(2 * p - 1), low = 0, high = HALF_PI;
  for (;;) {
    double middle = low + (high - low) / 2;
    if (middle <= low || middle >= high)
      break;
    if (within(middle, freedom) < wanted)
      low = middle;
    else
      high = middle;
  }
  return copysign(tan(high) * sqrt((double)freedom), p - 0.5);
}
