/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The matrix of a least energy over products of polynomials. With second derivatives that are
 * Legendre polynomials a function meets only those at most 4 away along each side, so the matrix
 * is a band, solved directly. */
#include "plate_common.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { REACH = PLATE_REACH, NEAR = PLATE_NEAR, MOST_PAIRINGS = 100 };

static double product(const plate_row *r, const plate_row *s, double length)
{
  double sum = 0;
  for (size_t i = 0; i < PLATE_ROW; i++) {
    size_t k = r->first + i;
    if (k >= s->first && k < s->first + PLATE_ROW)
      sum += r->c[i] * s->c[k - s->first] / (double)(2 * k + 1);
  }
  return sum * length;
}

static void fill_products(const plate_side *s, plate_products *of)
{
  size_t n = s->n;
  for (size_t k = 0; k < n; k++) {
    for (size_t t = 0; t < PLATE_TABLES; t++) {
      for (size_t u = 0; u < PLATE_TABLES; u++) {
        for (size_t d = 0; d < NEAR; d++) {
          size_t other = k + d;
          of[k][t][u][d] =
              other >= REACH && other - REACH < n
                  ? product(&s->row[t * n + k], &s->row[u * n + other - REACH], s->length)
                  : 0;
        }
      }
    }
  }
}

/* A pair of operators that store energy together. */
typedef struct pairing {
  size_t row, column;
  int xt, xu, yt, yu;
  double factor;
} pairing;

static size_t pairings(const plate_energy *energy, pairing list[MOST_PAIRINGS])
{
  size_t n = 0;
  for (size_t i = 0; i < energy->many; i++) {
    for (size_t j = 0; j < energy->many; j++) {
      const plate_operator *u = &energy->of[i], *v = &energy->of[j];
      int row = u->output - energy->first, column = v->output - energy->first;
      if (row < 0 || column < 0)
        continue;
      double c = energy->C[row][column];
      if (c != 0)
        list[n++] = (pairing){(size_t)(u->field - energy->field),
                              (size_t)(v->field - energy->field),
                              u->x_table,
                              v->x_table,
                              u->y_table,
                              v->y_table,
                              c * u->factor * v->factor};
    }
  }
  return n;
}

/* The block of shapes (k, l) and (k + d - REACH, l + e - REACH). */
static void add_block(plate_matrix *of, size_t k, size_t l, size_t d, size_t e,
                      const pairing *list, size_t pairs)
{
  size_t row = (k * of->n + l) * of->fields;
  size_t column = ((k + d - REACH) * of->n + l + e - REACH) * of->fields;
  for (size_t i = 0; i < pairs; i++) {
    const pairing *one = &list[i];
    size_t r = row + one->row, c = column + one->column;
    if (c <= r)
      of->entry[r * (of->width + 1) + of->width - (r - c)] +=
          one->factor * of->x[k][one->xt][one->xu][d] * of->y[l][one->yt][one->yu][e];
  }
}

void rw_plate_matrix_fill(plate_matrix *of, const plate_energy *energy)
{
  size_t n = of->n;
  pairing list[MOST_PAIRINGS];
  size_t pairs = pairings(energy, list);
  memset(of->entry, 0, of->size * (of->width + 1) * sizeof *of->entry);
  for (size_t k = 0; k < n; k++)
    for (size_t l = 0; l < n; l++)
      for (size_t d = k < REACH ? REACH - k : 0; d <= REACH; d++)
        for (size_t e = l < REACH ? REACH - l : 0; e < NEAR && l + e - REACH < n; e++)
          add_block(of, k, l, d, e, list, pairs);
}

/* Sum of u[i] v[i], in four parts that a processor can work on side by side. */
static double dot(const double *u, const double *v, size_t n)
{
  double sum[4] = {0};
  size_t i = 0;
  for (; i + 4 <= n; i += 4)
    for (size_t j = 0; j < 4; j++)
      sum[j] += u[i + j] * v[i + j];
  for (; i < n; i++)
    sum[0] += u[i] * v[i];
  return (sum[0] + sum[1]) + (sum[2] + sum[3]);
}

/* K = L L', in place. */
static int factor(plate_matrix *K)
{
  size_t width = K->width;
  for (size_t i = 0; i < K->size; i++) {
    double *row = K->entry + i * (width + 1);
    size_t low = i > width ? i - width : 0;
    double diagonal = row[width], left = diagonal;
    for (size_t j = low; j < i; j++) {
      const double *other = K->entry + j * (width + 1);
      size_t from = j > width && j - width > low ? j - width : low;
      double sum =
          row[j + width - i] - dot(row + from + width - i, other + from + width - j, j - from);
      sum /= other[width];
      row[j + width - i] = sum;
      left -= sum * sum;
    }
    if (!(left > 1e-15 * diagonal))
      return 0;
    row[width] = sqrt(left);
  }
  return 1;
}

static void substitute(const plate_matrix *K, double *x)
{
  size_t width = K->width;
  for (size_t i = 0; i < K->size; i++) {
    const double *row = K->entry + i * (width + 1);
    for (size_t j = i > width ? i - width : 0; j < i; j++)
      x[i] -= row[j + width - i] * x[j];
    x[i] /= row[width];
  }
  for (size_t i = K->size; i-- > 0;) {
    const double *row = K->entry + i * (width + 1);
    x[i] /= row[width];
    for (size_t j = i > width ? i - width : 0; j < i; j++)
      x[j] -= row[j + width - i] * x[i];
  }
}

/* Scales the matrix to a diagonal of ones around the solution. */
rw_status rw_plate_matrix_solve(plate_matrix *K, double *x, rw_error *err)
{
  double *scale = malloc(K->size * sizeof *scale);
  if (scale == NULL)
    return rw_plate_no_memory("rw_plate_bend", err);
  size_t width = K->width;
  for (size_t i = 0; i < K->size; i++)
    scale[i] = 1 / sqrt(K->entry[i * (width + 1) + width]);
  for (size_t i = 0; i < K->size; i++) {
    for (size_t j = i > width ? i - width : 0; j <= i; j++)
      K->entry[i * (width + 1) + j + width - i] *= scale[i] * scale[j];
    x[i] *= scale[i];
  }
  int done = factor(K);
  if (done)
    substitute(K, x);
  for (size_t i = 0; i < K->size; i++)
    x[i] *= scale[i];
  free(scale);
  return done ? RW_OK
              : rw_error_set(err, RW_ERR_NUMERIC, "rw_plate_bend", "s",
                             "moduli, thicknesses or sides may lie too far apart",
                             "the panel's stiffness matrix cannot be solved to working precision");
}

rw_status rw_plate_matrix_make(const plate_side *x, const plate_side *y, size_t fields,
                               plate_matrix *out, rw_error *err)
{
  size_t n = x->n;
  *out = (plate_matrix){.n = n, .fields = fields, .size = n * n * fields};
  out->width = fields * (REACH * n + REACH) + fields - 1;
  if (out->width >= out->size)
    out->width = out->size - 1;
  out->entry = malloc(out->size * (out->width + 1) * sizeof *out->entry);
  out->x = malloc(2 * n * sizeof *out->x);
  if (out->entry == NULL || out->x == NULL)
    return rw_plate_no_memory("rw_plate_bend", err);
  out->y = out->x + n;
  fill_products(x, out->x);
  fill_products(y, out->y);
  return RW_OK;
}

void rw_plate_matrix_free(plate_matrix *m)
{
  free(m->entry);
  free(m->x);
}
