/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small symmetric positive definite systems of any order. */
#ifndef RW_FIT_DENSE_H
#define RW_FIT_DENSE_H

#include <stddef.h>

/* Factor of the n*n matrix a by rows (Cholesky, the lower half of a is overwritten). Returns the
 * smallest pivot met; 0 or less, and no factor, where one is not above least. */
double dense_factor(size_t n, double *a, double least);
/* Solve with the factor, in place. */
void dense_solve(size_t n, const double *factor, double *b);
/* Inverse from the factor. */
void dense_inverse(size_t n, const double *factor, double *inverse);
/* The quadratic form v' a v of a full matrix. */
double dense_form(size_t n, const double *a, const double *v);

#endif
