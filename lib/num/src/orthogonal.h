/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Dense factors for least squares. */
#ifndef RW_NUM_ORTHOGONAL_H
#define RW_NUM_ORTHOGONAL_H

#include <resinwright/num.h>

enum { MOST_COLUMNS = RW_NUM_PARAMETERS };

/* Singular values of a square matrix, R = U S V'; U and V by columns. */
typedef struct singular {
  size_t p;
  double s[MOST_COLUMNS]; /* greatest first */
  double u[MOST_COLUMNS * MOST_COLUMNS];
  double v[MOST_COLUMNS * MOST_COLUMNS];
} singular;

/* Length of a vector without overflow. */
double orthogonal_length(const double *x, size_t n);
/* Householder: A, n*p by columns, n >= p, becomes Q's reflections with R above. */
void orthogonal_factor(double *a, size_t n, size_t p, double *tau);
/* b becomes Q'b. */
void orthogonal_turn(const double *a, const double *tau, size_t n, size_t p, double *b);
/* R, p*p by columns, with its columns scaled by `scale`. */
void orthogonal_upper(const double *a, size_t n, size_t p, const double *scale, double *r);
void orthogonal_values(const double *r, size_t p, singular *out);

#endif
