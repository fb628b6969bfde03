/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Functions of one side of a panel: sines, or polynomials whose second derivatives are Legendre
 * polynomials, which makes the matrices of the Ritz method narrow bands. */
#include "plate_common.h"

#include <resinwright/num.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double pi = 3.14159265358979323846;

rw_status rw_plate_no_memory(const char *function, rw_error *err)
{
  return rw_error_set(err, RW_ERR_MEMORY, function, NULL, NULL, "not enough memory for a panel");
}

/* The integral of c P_k from -1 on, k >= 1, or P_1 for k = 0, added to a row. */
static void add_integral(plate_row *r, size_t k, double c)
{
  if (k == 0) {
    r->c[1 - r->first] += c;
    return;
  }
  double each = c / (double)(2 * k + 1);
  r->c[k + 1 - r->first] += each;
  r->c[k - 1 - r->first] -= each;
}

/* f with f'' = norm P_k; it vanishes at both ends, and from k = 2 on its slope does, too. */
static void bending_rows(size_t k, double half, plate_row *f, plate_row *f1, plate_row *f2)
{
  double norm = sqrt((double)k + 0.5);
  size_t low = k >= 2 ? k - 2 : 0;
  *f2 = (plate_row){.first = low};
  f2->c[k - low] = norm;
  *f1 = *f = (plate_row){.first = low};
  if (k == 0) { /* x and (x^2 - 1)/2 */
    f1->c[1] = norm;
    f->c[0] = -norm / 3;
    f->c[2] = norm / 3;
  } else if (k == 1) { /* x^2/2 - 1/6 and (x^3 - x)/6 */
    f1->c[2] = norm / 3;
    f->first = 1;
    f->c[0] = -norm / 15;
    f->c[2] = norm / 15;
  } else {
    add_integral(f1, k, norm);
    for (size_t i = 1; i <= 3; i += 2)
      add_integral(f, low + i, f1->c[i]);
  }
  for (size_t i = 0; i < PLATE_ROW; i++) {
    f1->c[i] /= half;
    f2->c[i] /= half * half;
  }
}

/* p with p' = norm P_k, zero at both ends but for k = 0. */
static void turning_rows(size_t k, double half, plate_row *p, plate_row *p1)
{
  double norm = sqrt((double)k + 0.5);
  size_t low = k >= 1 ? k - 1 : 0;
  *p = *p1 = (plate_row){.first = low};
  add_integral(p, k, norm);
  p1->c[k - low] = norm / half;
}

rw_status rw_plate_side_make(double length, size_t n, plate_side *out, rw_error *err)
{
  plate_row *row = calloc(PLATE_TABLES * n, sizeof *row);
  if (row == NULL)
    return rw_plate_no_memory("rw_plate_bend", err);
  for (size_t k = 0; k < n; k++) {
    bending_rows(k, length / 2, &row[k], &row[PLATE_F1 * n + k], &row[PLATE_F2 * n + k]);
    if (k > 0)
      turning_rows(k - 1, length / 2, &row[PLATE_P * n + k], &row[PLATE_P1 * n + k]);
    else
      row[PLATE_P * n].c[0] = 1;
  }
  *out = (plate_side){length, n, row};
  return RW_OK;
}

/* Legendre polynomials 0 to n - 1. */
static void legendre(double x, size_t n, double *value)
{
  value[0] = 1;
  if (n > 1)
    value[1] = x;
  for (size_t k = 2; k < n; k++)
    value[k] =
        ((double)(2 * k - 1) * x * value[k - 1] - (double)(k - 1) * value[k - 2]) / (double)k;
}

static double row_value(const plate_row *r, const double *polynomial)
{
  double sum = 0;
  for (size_t i = 0; i < PLATE_ROW; i++)
    sum += r->c[i] * polynomial[r->first + i];
  return sum;
}

enum { MOST_POLYNOMIALS = 128 };

void rw_plate_side_values(const plate_side *s, double place, double *values)
{
  size_t n = s->n;
  if (s->row != NULL) {
    double polynomial[MOST_POLYNOMIALS];
    legendre(2 * place / s->length - 1, n + 10, polynomial);
    for (size_t i = 0; i < PLATE_TABLES * n; i++)
      values[i] = row_value(&s->row[i], polynomial);
    return;
  }
  /* Turned on from term to term, and set right every so many: sines are dear. */
  enum { STEPS = 16 };
  double sine = 0, cosine = 1, by_sine = sin(pi / s->length * place),
         by_cosine = cos(pi / s->length * place);
  for (size_t k = 0; k < n; k++) {
    double rate = (double)(k + 1) * pi / s->length;
    if (k % STEPS == 0) {
      sine = sin(rate * place);
      cosine = cos(rate * place);
    } else {
      double turned = cosine * by_cosine - sine * by_sine;
      sine = sine * by_cosine + cosine * by_sine;
      cosine = turned;
    }
    values[k] = sine;
    values[PLATE_F1 * n + k] = rate * cosine;
    values[PLATE_F2 * n + k] = -rate * rate * sine;
    values[PLATE_P * n + k] = cosine;
    values[PLATE_P1 * n + k] = -rate * sine;
  }
}

void rw_plate_side_integrals(const plate_side *s, double middle, double width, double *values)
{
  size_t n = s->n;
  if (s->row == NULL) {
    for (size_t k = 0; k < n; k++) {
      double rate = (double)(k + 1) * pi / s->length;
      values[k] = 2 * sin(rate * middle) * sin(rate * width / 2) / rate;
    }
    return;
  }
  double low[MOST_POLYNOMIALS], high[MOST_POLYNOMIALS], integral[MOST_POLYNOMIALS];
  double half = s->length / 2;
  legendre((middle - width / 2) / half - 1, n + 11, low);
  legendre((middle + width / 2) / half - 1, n + 11, high);
  integral[0] = width;
  for (size_t k = 1; k < n + 10; k++)
    integral[k] =
        half * (high[k + 1] - low[k + 1] - high[k - 1] + low[k - 1]) / (double)(2 * k + 1);
  for (size_t k = 0; k < n; k++)
    values[k] = row_value(&s->row[k], integral);
}

void rw_plate_side_wave(const plate_side *s, double *values)
{
  memset(values, 0, s->n * sizeof *values);
  if (s->row == NULL) {
    values[0] = s->length / 2;
    return;
  }
  double polynomial[MOST_POLYNOMIALS];
  size_t pieces = s->n + 4;
  for (size_t i = 0; i < pieces; i++) {
    for (int j = 0; j < RW_NUM_GAUSS5; j++) {
      double weight;
      double share = ((double)i + rw_num_gauss5(j, &weight)) / (double)pieces;
      double load = sin(pi * share) * weight * s->length / (double)pieces;
      legendre(2 * share - 1, s->n + 10, polynomial);
      for (size_t k = 0; k < s->n; k++)
        values[k] += load * row_value(&s->row[k], polynomial);
    }
  }
}

static void add_product(size_t nx, size_t ny, double size, const double *x, const double *y,
                        double *q)
{
  if (size == 0)
    return;
  for (size_t k = 0; k < nx; k++)
    for (size_t l = 0; l < ny; l++)
      q[k * ny + l] += size * x[k] * y[l];
}

rw_status rw_plate_project(const plate_sum *sum, const rw_plate_load *load, size_t loads,
                           double *q, rw_error *err)
{
  const plate_side *x = &sum->x, *y = &sum->y;
  double *of_x = malloc((x->n + y->n) * sizeof *of_x);
  if (of_x == NULL)
    return rw_plate_no_memory("rw_plate_bend", err);
  double *of_y = of_x + x->n;
  for (size_t i = 0; i < loads; i++) {
    const rw_plate_load *one = &load[i];
    rw_plate_side_integrals(x, x->length / 2, x->length, of_x);
    rw_plate_side_integrals(y, y->length / 2, y->length, of_y);
    add_product(x->n, y->n, one->pressure, of_x, of_y, q);
    if (one->wave != 0) {
      rw_plate_side_wave(x, of_x);
      rw_plate_side_wave(y, of_y);
      add_product(x->n, y->n, one->wave, of_x, of_y, q);
    }
    if (one->force != 0) {
      rw_plate_side_integrals(x, one->x, one->along, of_x);
      rw_plate_side_integrals(y, one->y, one->across, of_y);
      add_product(x->n, y->n, one->force / (one->along * one->across), of_x, of_y, q);
    }
  }
  free(of_x);
  return RW_OK;
}

rw_status rw_plate_get_terms(plate_sum *sum, const int wanted[PLATE_FIELDS], rw_error *err)
{
  for (size_t i = 0; i < PLATE_FIELDS; i++) {
    if (!wanted[i])
      continue;
    sum->c[i] = calloc(sum->x.n * sum->y.n, sizeof *sum->c[i]);
    if (sum->c[i] == NULL)
      return rw_plate_no_memory("rw_plate_bend", err);
  }
  return RW_OK;
}

void rw_plate_free_terms(plate_sum *sum)
{
  for (size_t i = 0; i < PLATE_FIELDS; i++)
    free(sum->c[i]);
  free(sum->x.row);
  free(sum->y.row);
  *sum = (plate_sum){.x = {0, 0, NULL}};
}

void rw_plate_free_all(rw_bent_plate *p)
{
  for (size_t i = 0; i < PLATE_SUMS; i++)
    rw_plate_free_terms(&p->sum[i]);
}
