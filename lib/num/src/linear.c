/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <resinwright/num.h>

#include <float.h>
#include <gsl/gsl_blas.h>
#include <gsl/gsl_eigen.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

enum { MOST = 16, CONDITION_MOST = 64 };

/* LU factors of a matrix held by the caller's stack frame. */
typedef struct factors {
  double lu[MOST * MOST];
  size_t pivot[MOST];
  gsl_matrix_view matrix;
  gsl_permutation permutation;
} factors;

static rw_status factor(const char *function, size_t n, const double *a, factors *f, rw_error *err)
{
  if (n < 1 || n > MOST)
    return rw_error_range(err, function, "n", (double)n, 1, MOST, "", NULL);
  double largest = 0;
  for (size_t i = 0; i < n * n; i++) {
    if (!isfinite(a[i]))
      return rw_error_set(err, RW_ERR_NUMERIC, function, "a", NULL,
                          "the matrix holds a value that is not finite");
    largest = fmax(largest, fabs(a[i]));
  }
  memcpy(f->lu, a, n * n * sizeof *a);
  f->matrix = gsl_matrix_view_array(f->lu, n, n);
  f->permutation = (gsl_permutation){.size = n, .data = f->pivot};
  gsl_permutation_init(&f->permutation);
  int sign = 0;
  gsl_linalg_LU_decomp(&f->matrix.matrix, &f->permutation, &sign);
  for (size_t i = 0; i < n; i++)
    if (!(fabs(f->lu[i * n + i]) > (double)n * DBL_EPSILON * largest))
      return rw_error_set(err, RW_ERR_NUMERIC, function, "a", NULL,
                          "the matrix is singular to working precision");
  return RW_OK;
}

static void solve(size_t n, factors *f, const double *b, double *x)
{
  gsl_vector_const_view right = gsl_vector_const_view_array(b, n);
  gsl_vector_view left = gsl_vector_view_array(x, n);
  gsl_linalg_LU_solve(&f->matrix.matrix, &f->permutation, &right.vector, &left.vector);
}

rw_status rw_num_solve(size_t n, const double *a, const double *b, double *x, rw_error *err)
{
  factors f;
  rw_status status = factor("rw_num_solve", n, a, &f, err);
  if (status == RW_OK)
    solve(n, &f, b, x);
  return status;
}

rw_status rw_num_inverse(size_t n, const double *a, double *inverse, rw_error *err)
{
  factors f;
  rw_status status = factor("rw_num_inverse", n, a, &f, err);
  if (status != RW_OK)
    return status;
  for (size_t j = 0; j < n; j++) {
    double unit[MOST] = {0}, column[MOST];
    unit[j] = 1;
    solve(n, &f, unit, column);
    for (size_t i = 0; i < n; i++)
      inverse[i * n + j] = column[i];
  }
  return RW_OK;
}

double rw_num_condition(size_t n, const double *a)
{
  double copy[CONDITION_MOST * CONDITION_MOST], value[CONDITION_MOST], work[2 * CONDITION_MOST];
  if (n < 1 || n > CONDITION_MOST)
    return NAN;
  for (size_t i = 0; i < n * n; i++)
    if (!isfinite(a[i]))
      return NAN;
  memcpy(copy, a, n * n * sizeof *copy);
  gsl_matrix_view m = gsl_matrix_view_array(copy, n, n);
  gsl_vector_view v = gsl_vector_view_array(value, n);
  gsl_eigen_symm_workspace w = {.size = n, .d = work, .sd = work + CONDITION_MOST};
  gsl_eigen_symm(&m.matrix, &v.vector, &w);
  double least = HUGE_VAL, greatest = 0;
  for (size_t i = 0; i < n; i++) {
    least = fmin(least, fabs(value[i]));
    greatest = fmax(greatest, fabs(value[i]));
  }
  return least > 0 ? greatest / least : HUGE_VAL;
}
