/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "orthogonal.h"

#include <float.h>
#include <math.h>
#include <string.h>

/* In four sums, which need not wait for each other. */
static double product(const double *x, const double *y, size_t n)
{
  double sum[4] = {0};
  size_t i = 0;
  for (; i + 3 < n; i += 4)
    for (size_t k = 0; k < 4; k++)
      sum[k] += x[i + k] * y[i + k];
  for (; i < n; i++)
    sum[0] += x[i] * y[i];
  return (sum[0] + sum[1]) + (sum[2] + sum[3]);
}

double orthogonal_length(const double *x, size_t n)
{
  double most = 0, sum = product(x, x, n);
  if (sum > 1e-280 && sum < 1e280)
    return sqrt(sum);
  for (size_t i = 0; i < n; i++)
    most = fmax(most, fabs(x[i]));
  if (!(most > 0) || !isfinite(most))
    return most;
  sum = 0;
  for (size_t i = 0; i < n; i++)
    sum += (x[i] / most) * (x[i] / most);
  return most * sqrt(sum);
}

static void reflect(const double *v, double tau, size_t n, double *b)
{
  double sum = tau * (b[0] + product(v + 1, b + 1, n - 1));
  b[0] -= sum;
  for (size_t i = 1; i < n; i++)
    b[i] -= sum * v[i];
}

void orthogonal_factor(double *a, size_t n, size_t p, double *tau)
{
  for (size_t k = 0; k < p; k++) {
    double *v = a + k * n + k;
    double length = orthogonal_length(v, n - k);
    tau[k] = 0;
    if (length == 0 || (k + 1 == n))
      continue;
    double beta = v[0] > 0 ? -length : length;
    tau[k] = (beta - v[0]) / beta;
    double under = 1 / (v[0] - beta);
    for (size_t i = 1; i < n - k; i++)
      v[i] *= under;
    for (size_t j = k + 1; j < p; j++)
      reflect(v, tau[k], n - k, a + j * n + k);
    v[0] = beta;
  }
}

void orthogonal_turn(const double *a, const double *tau, size_t n, size_t p, double *b)
{
  for (size_t k = 0; k < p; k++)
    if (tau[k] != 0)
      reflect(a + k * n + k, tau[k], n - k, b + k);
}

void orthogonal_upper(const double *a, size_t n, size_t p, const double *scale, double *r)
{
  for (size_t j = 0; j < p; j++)
    for (size_t i = 0; i < p; i++)
      r[j * p + i] = i <= j ? a[j * n + i] * scale[j] : 0;
}

static void turn_pair(double *x, double *y, size_t p, double c, double s)
{
  for (size_t i = 0; i < p; i++) {
    double a = x[i], b = y[i];
    x[i] = c * a - s * b;
    y[i] = s * a + c * b;
  }
}

/* Makes two columns of W = R V orthogonal (one-sided Jacobi); 0 where they are. */
static int separate(double *w, double *v, size_t p, size_t i, size_t j)
{
  double *x = w + i * p, *y = w + j * p;
  double xx = product(x, x, p), yy = product(y, y, p), xy = product(x, y, p);
  if (fabs(xy) <= DBL_EPSILON * sqrt(xx) * sqrt(yy) && xx >= yy)
    return 0;
  double c = 0, s = 1; /* a swap */
  if (fabs(xy) > DBL_EPSILON * sqrt(xx) * sqrt(yy)) {
    double zeta = (yy - xx) / (2 * xy);
    double t = (zeta >= 0 ? 1 : -1) / (fabs(zeta) + sqrt(1 + zeta * zeta));
    c = 1 / sqrt(1 + t * t);
    s = c * t;
  }
  turn_pair(x, y, p, c, s);
  turn_pair(v + i * p, v + j * p, p, c, s);
  return 1;
}

void orthogonal_values(const double *r, size_t p, singular *out)
{
  enum { SWEEPS = 60 };
  double w[MOST_COLUMNS * MOST_COLUMNS];
  memcpy(w, r, p * p * sizeof *w);
  *out = (singular){.p = p};
  for (size_t i = 0; i < p; i++)
    out->v[i * p + i] = 1;
  int moved = 1;
  for (int sweep = 0; moved && sweep < SWEEPS; sweep++) {
    moved = 0;
    for (size_t i = 0; i + 1 < p; i++)
      for (size_t j = i + 1; j < p; j++)
        moved |= separate(w, out->v, p, i, j);
  }
  for (size_t j = 0; j < p; j++) {
    double s = out->s[j] = orthogonal_length(w + j * p, p);
    for (size_t i = 0; i < p; i++)
      out->u[j * p + i] = s > 0 ? w[j * p + i] / s : 0;
  }
}
