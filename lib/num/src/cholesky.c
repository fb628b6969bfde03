/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <resinwright/num.h>

#include <math.h>

double rw_num_cholesky(size_t n, double *a, double least)
{
  double smallest = HUGE_VAL;
  for (size_t j = 0; j < n; j++) {
    double pivot = a[j * n + j];
    for (size_t k = 0; k < j; k++)
      pivot -= a[j * n + k] * a[j * n + k];
    if (!(pivot > least && pivot < HUGE_VAL))
      return 0;
    smallest = fmin(smallest, pivot);
    double root = sqrt(pivot);
    a[j * n + j] = root;
    for (size_t i = j + 1; i < n; i++) {
      double sum = a[i * n + j];
      for (size_t k = 0; k < j; k++)
        sum -= a[i * n + k] * a[j * n + k];
      a[i * n + j] = sum / root;
    }
  }
  return smallest;
}

void rw_num_cholesky_solve(size_t n, const double *factor, double *b)
{
  for (size_t i = 0; i < n; i++) {
    for (size_t k = 0; k < i; k++)
      b[i] -= factor[i * n + k] * b[k];
    b[i] /= factor[i * n + i];
  }
  for (size_t i = n; i-- > 0;) {
    for (size_t k = i + 1; k < n; k++)
      b[i] -= factor[k * n + i] * b[k];
    b[i] /= factor[i * n + i];
  }
}

void rw_num_cholesky_inverse(size_t n, const double *factor, double *inverse)
{
  for (size_t j = 0; j < n; j++) {
    double *row = inverse + j * n;
    for (size_t i = 0; i < n; i++)
      row[i] = i == j;
    rw_num_cholesky_solve(n, factor, row);
  }
}

double rw_num_quadratic(size_t n, const double *a, const double *v)
{
  double sum = 0;
  for (size_t i = 0; i < n; i++)
    for (size_t j = 0; j < n; j++)
      sum += v[i] * a[i * n + j] * v[j];
  return sum;
}
