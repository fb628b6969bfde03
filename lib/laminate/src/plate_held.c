/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A panel whose edges can't slide in: it stretches as it deflects, and carries as a membrane. */
#include "plate_common.h"

#include <resinwright/num.h>

#include <math.h>
#include <stdlib.h>

/* Gauss points along a side, and functions of the displacements in the plane. */
enum { PIECES = 10, POINTS = PIECES * RW_NUM_GAUSS5, SHAPES = 14 };

static void gauss(double length, double place[POINTS], double weight[POINTS])
{
  for (size_t i = 0; i < POINTS; i++) {
    size_t piece = i / RW_NUM_GAUSS5;
    double share = rw_num_gauss5((int)(i % RW_NUM_GAUSS5), &weight[i]);
    place[i] = length * ((double)piece + share) / PIECES;
    weight[i] *= length / PIECES;
  }
}

/* Twice the energy of bending: what the loads do on the linear deflection. */
static double work(const rw_bent_plate *p, const rw_plate_load *load, size_t loads)
{
  double sum = 0;
  for (size_t i = 0; i < loads; i++) {
    const rw_plate_load *one = &load[i];
    if (one->force == 0)
      continue;
    for (size_t k = 0; k < RW_NUM_GAUSS5 * RW_NUM_GAUSS5; k++) {
      double u, v, w[3];
      double x = rw_num_gauss5((int)(k / RW_NUM_GAUSS5), &u) - 0.5;
      double y = rw_num_gauss5((int)(k % RW_NUM_GAUSS5), &v) - 0.5;
      x = one->x + x * one->along;
      rw_plate_slopes(p, &x, 1, one->y + y * one->across, &w);
      sum += u * v * one->force * w[0];
    }
  }
  return sum;
}

/* What stretching needs: the energy of slopes alone, and what they do on u and v. */
typedef struct stretching {
  double work, energy, *load; /* load: SHAPES^2 times 2 */
} stretching;

static void add_line(const rw_bent_plate *p, const plate_side side[2], const double *x,
                     const double *x_weight, double y, double y_weight, double pressure,
                     double wave, stretching *s)
{
  static const double pi = 3.14159265358979323846;
  double slope[POINTS][3], of_x[PLATE_TABLES * SHAPES], of_y[PLATE_TABLES * SHAPES];
  const double *A = p->stack.A;
  rw_plate_slopes(p, x, POINTS, y, slope);
  rw_plate_side_values(&side[1], y, of_y);
  for (size_t i = 0; i < POINTS; i++) {
    double size = x_weight[i] * y_weight;
    const double *w = slope[i];
    double e[3] = {w[1] * w[1] / 2, w[2] * w[2] / 2, w[1] * w[2]}, n[3];
    for (size_t k = 0; k < 3; k++) {
      n[k] = A[3 * k] * e[0] + A[3 * k + 1] * e[1] + A[3 * k + 2] * e[2];
      s->energy += size * n[k] * e[k] / 2;
    }
    s->work +=
        size * w[0] * (pressure + wave * sin(pi * x[i] / p->plate.a) * sin(pi * y / p->plate.b));
    rw_plate_side_values(&side[0], x[i], of_x);
    for (size_t k = 0; k < SHAPES; k++) {
      double f = of_x[k] * size, f1 = of_x[PLATE_F1 * SHAPES + k] * size;
      for (size_t l = 0; l < SHAPES; l++) {
        double g = of_y[l], g1 = of_y[PLATE_F1 * SHAPES + l];
        double *load = s->load + 2 * (k * SHAPES + l);
        load[0] -= n[0] * f1 * g + n[2] * f * g1;
        load[1] -= n[1] * f * g1 + n[2] * f1 * g;
      }
    }
  }
}

/* The least energy of stretching for the linear shape, and the work of the loads on it. */
static rw_status stretch(const rw_bent_plate *p, const rw_plate_load *load, size_t loads,
                         plate_side side[2], stretching *s, rw_error *err)
{
  double x[POINTS], y[POINTS], u[POINTS], v[POINTS], pressure = 0, wave = 0;
  gauss(p->plate.a, x, u);
  gauss(p->plate.b, y, v);
  for (size_t i = 0; i < loads; i++) {
    pressure += load[i].pressure;
    wave += load[i].wave;
  }
  for (size_t j = 0; j < POINTS; j++)
    add_line(p, side, x, u, y[j], v[j], pressure, wave, s);
  s->work += work(p, load, loads);
  static const plate_operator list[] = {{PLATE_EX, PLATE_U, PLATE_F1, PLATE_F, 1},
                                        {PLATE_EX + 1, PLATE_V, PLATE_F, PLATE_F1, 1},
                                        {PLATE_EX + 2, PLATE_U, PLATE_F, PLATE_F1, 1},
                                        {PLATE_EX + 2, PLATE_V, PLATE_F1, PLATE_F, 1}};
  plate_energy energy = {.of = list, .many = 4, .first = PLATE_EX, .field = PLATE_U};
  for (size_t i = 0; i < 9; i++)
    energy.C[i / 3][i % 3] = p->stack.A[i];
  plate_matrix K = {.entry = NULL};
  double *c = malloc(2 * SHAPES * SHAPES * sizeof *c);
  rw_status status = c == NULL ? rw_plate_no_memory("rw_plate_bend", err)
                               : rw_plate_matrix_make(&side[0], &side[1], 2, &K, err);
  if (status == RW_OK) {
    for (size_t i = 0; i < 2 * SHAPES * SHAPES; i++)
      c[i] = s->load[i];
    rw_plate_matrix_fill(&K, &energy);
    status = rw_plate_matrix_solve(&K, c, err);
  }
  for (size_t i = 0; i < 2 * SHAPES * SHAPES && status == RW_OK; i++)
    s->energy -= s->load[i] * c[i] / 2;
  rw_plate_matrix_free(&K);
  free(c);
  return status;
}

rw_status rw_plate_hold(const rw_bent_plate *p, const rw_plate_load *load, size_t loads,
                        double *factor, rw_error *err)
{
  plate_side side[2] = {{0, 0, NULL}, {0, 0, NULL}};
  stretching s = {.load = calloc(2 * SHAPES * SHAPES, sizeof(double))};
  rw_status status = s.load == NULL ? rw_plate_no_memory("rw_plate_bend", err) : RW_OK;
  if (status == RW_OK)
    status = rw_plate_side_make(p->plate.a, SHAPES, &side[0], err);
  if (status == RW_OK)
    status = rw_plate_side_make(p->plate.b, SHAPES, &side[1], err);
  if (status == RW_OK)
    status = stretch(p, load, loads, side, &s, err);
  if (status == RW_OK) {
    /* factor + c factor^3 = 1; Newton's steps only fall. */
    double c = 4 * s.energy / s.work, f = 1;
    for (int i = 0; i < 60; i++)
      f -= (f + c * f * f * f - 1) / (1 + 3 * c * f * f);
    *factor = f;
  }
  free(side[0].row);
  free(side[1].row);
  free(s.load);
  return status;
}
