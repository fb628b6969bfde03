/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Panels that rest on all four edges: double sine series, term by term. */
#include "plate_common.h"

#include <math.h>
#include <stdlib.h>

static const double pi = 3.14159265358979323846;

typedef struct term {
  double w, turn[2], plane[2];
} term;

/* What shape (m, n) does under a unit of pressure in that shape: rotations and mid-plane
 * displacements are those of least energy for a deflection of 1, w follows from the energy. */
static term unit_term(const rw_bent_plate *p, double x, double y)
{
  const double *D = p->bend, *A = p->stack.A, *B = p->stack.B;
  double k11 = D[0] * x * x + D[8] * y * y, k22 = D[4] * y * y + D[8] * x * x;
  double k12 = (D[1] + D[8]) * x * y;
  /* How u and v follow the rotations: -A^-1 B. */
  double follow[2][2] = {{0, 0}, {0, 0}};
  if (p->result.coupling == RW_COUPLING_ANGLE) {
    double a11 = A[0] * x * x + A[8] * y * y, a22 = A[4] * y * y + A[8] * x * x;
    double a12 = (A[1] + A[8]) * x * y, det = a11 * a22 - a12 * a12;
    double b11 = 2 * x * y * B[2], b12 = x * x * B[2] + y * y * B[5], b22 = 2 * x * y * B[5];
    follow[0][0] = -(a22 * b11 - a12 * b12) / det;
    follow[0][1] = -(a22 * b12 - a12 * b22) / det;
    follow[1][0] = -(a11 * b12 - a12 * b11) / det;
    follow[1][1] = -(a11 * b22 - a12 * b12) / det;
    k11 += b11 * follow[0][0] + b12 * follow[1][0];
    k12 += b11 * follow[0][1] + b12 * follow[1][1];
    k22 += b12 * follow[0][1] + b22 * follow[1][1];
  }
  double turn[2] = {x, y}, slip[2] = {0, 0}, stiffness;
  if (p->sheared) {
    double sx = p->plate.shear[0], sy = p->plate.shear[1];
    double c11 = k11 + sx, c22 = k22 + sy, det = c11 * c22 - k12 * k12;
    double r1 = k11 * x + k12 * y, r2 = k12 * x + k22 * y;
    slip[0] = (c22 * r1 - k12 * r2) / det;
    slip[1] = (c11 * r2 - k12 * r1) / det;
    turn[0] = (c22 * sx * x - k12 * sy * y) / det;
    turn[1] = (c11 * sy * y - k12 * sx * x) / det;
    stiffness = sx * slip[0] * slip[0] + sy * slip[1] * slip[1];
  } else {
    stiffness = 0;
  }
  stiffness += k11 * turn[0] * turn[0] + 2 * k12 * turn[0] * turn[1] + k22 * turn[1] * turn[1];
  term t = {.w = 1 / stiffness};
  for (size_t i = 0; i < 2; i++) {
    t.turn[i] = -turn[i] * t.w;
    t.plane[i] = follow[i][0] * t.turn[0] + follow[i][1] * t.turn[1];
  }
  return t;
}

/* Turns projected loads into coefficients. */
static void solve_terms(rw_bent_plate *p, const double *q)
{
  plate_sum *sum = &p->sum[PLATE_SINES];
  size_t nx = sum->x.n, ny = sum->y.n;
  double a = p->plate.a, b = p->plate.b;
  for (size_t k = 0; k < nx; k++) {
    for (size_t l = 0; l < ny; l++) {
      size_t i = k * ny + l;
      double size = q[i] * 4 / (a * b);
      term t = unit_term(p, (double)(k + 1) * pi / a, (double)(l + 1) * pi / b);
      sum->c[PLATE_W][i] = size * t.w;
      for (size_t j = 0; j < 2; j++) {
        if (sum->c[PLATE_TURN_X + j] != NULL)
          sum->c[PLATE_TURN_X + j][i] = size * t.turn[j];
        if (sum->c[PLATE_U + j] != NULL)
          sum->c[PLATE_U + j][i] = size * t.plane[j];
      }
    }
  }
}

static rw_status sum_to(rw_bent_plate *p, const rw_plate_load *load, size_t loads, size_t nx,
                        size_t ny, rw_error *err)
{
  plate_sum *sum = &p->sum[PLATE_SINES];
  rw_plate_free_terms(sum);
  sum->x = (plate_side){p->plate.a, nx, NULL};
  sum->y = (plate_side){p->plate.b, ny, NULL};
  int plane = p->result.coupling == RW_COUPLING_ANGLE;
  const int wanted[PLATE_FIELDS] = {1, p->sheared, p->sheared, plane, plane};
  rw_status status = rw_plate_get_terms(sum, wanted, err);
  if (status != RW_OK)
    return status;
  double *q = calloc(nx * ny, sizeof *q);
  if (q == NULL)
    return rw_plate_no_memory("rw_plate_bend", err);
  status = rw_plate_project(sum, load, loads, q, err);
  if (status == RW_OK)
    solve_terms(p, q);
  free(q);
  return status;
}

enum { MOST_EDGES = 400, FAR_TERM = 100000 };

/* Cuts the terms 1 to FAR_TERM into blocks edge[i] + 1 to edge[i + 1], with a cut at n. */
static size_t cut(size_t n, double edge[MOST_EDGES])
{
  size_t count = 1, at = 0;
  edge[0] = 0;
  while (at < FAR_TERM) {
    size_t next = at + 1 + at / 12;
    if (at < n && next > n)
      next = n;
    at = next;
    edge[count++] = (double)at;
  }
  return count - 1;
}

/* The most that a unit of pressure has in shape (m, n), for all loads. */
static double most_load(const rw_bent_plate *p, const rw_plate_load *load, size_t loads, double m,
                        double n)
{
  double x = m * pi / p->plate.a, y = n * pi / p->plate.b, sum = 0;
  for (size_t i = 0; i < loads; i++) {
    sum += fabs(load[i].pressure) * 2 / x * 2 / y / 4; /* every second one vanishes */
    if (load[i].force != 0)
      sum += fabs(load[i].force) * fmin(1, 2 / (x * load[i].along)) *
             fmin(1, 2 / (y * load[i].across));
  }
  return sum * 4 / (p->plate.a * p->plate.b);
}

/* What a block of terms can add to w, and to a curvature. */
static void block(const rw_bent_plate *p, double m0, double m1, double n0, double n1, double size,
                  double bound[2])
{
  double x[2] = {(m0 + 1) * pi / p->plate.a, m1 * pi / p->plate.a};
  double y[2] = {(n0 + 1) * pi / p->plate.b, n1 * pi / p->plate.b};
  double turn[2] = {0, 0}, w = 0;
  for (size_t i = 0; i < 4; i++) {
    term t = unit_term(p, x[i / 2], y[i % 2]);
    w = fmax(w, t.w);
    turn[0] = fmax(turn[0], fabs(t.turn[0]));
    turn[1] = fmax(turn[1], fabs(t.turn[1]));
  }
  double many = (m1 - m0) * (n1 - n0) * size;
  bound[0] += many * w;
  bound[1] += many * fmax(turn[0] * x[1], turn[1] * y[1]);
}

/* Bounds on what the left out terms can add to the deflection and to a surface strain: they are
 * summed in blocks, in each of which every term counts like its largest. */
static void bounds(const rw_bent_plate *p, const rw_plate_load *load, size_t loads,
                   double bound[2])
{
  double m[MOST_EDGES], n[MOST_EDGES];
  const plate_sum *sum = &p->sum[PLATE_SINES];
  size_t across = cut(sum->x.n, m), along = cut(sum->y.n, n);
  bound[0] = bound[1] = 0;
  for (size_t i = 0; i < across; i++) {
    for (size_t j = 0; j < along; j++) {
      if (m[i + 1] <= (double)sum->x.n && n[j + 1] <= (double)sum->y.n)
        continue;
      block(p, m[i], m[i + 1], n[j], n[j + 1], most_load(p, load, loads, m[i] + 1, n[j] + 1),
            bound);
    }
  }
  bound[1] *= p->stack.thickness / 2;
}

enum { MOST_WAVES = 512 };

/* Terms of a coarse panel: four half waves to the smallest patch. */
static size_t enough(const rw_bent_plate *p, const rw_plate_load *load, size_t loads, double shape)
{
  double n = 128;
  for (size_t i = 0; i < loads; i++)
    if (load[i].force != 0)
      n = fmax(n,
               4 * fmax(p->plate.a / load[i].along / shape, p->plate.b / load[i].across * shape));
  return (size_t)fmin(n, MOST_WAVES);
}

rw_status rw_plate_series(rw_bent_plate *p, const rw_plate_load *load, size_t loads, rw_error *err)
{
  /* As many as makes the shortest waves along both sides alike stiff. */
  double shape = sqrt(p->plate.a / p->plate.b * pow(p->bend[4] / p->bend[0], 0.25));
  size_t n = p->coarse ? enough(p, load, loads, shape) : 64;
  for (; n <= MOST_WAVES; n *= 2) {
    size_t nx = (size_t)fmin(fmax((double)n * shape, 16), PLATE_MOST_TERMS);
    size_t ny = (size_t)fmin(fmax((double)n / shape, 16), PLATE_MOST_TERMS);
    rw_status status = sum_to(p, load, loads, nx, ny, err);
    if (status != RW_OK || p->coarse)
      return status;
    double bound[2], w[PLATE_PROBES], strain[PLATE_PROBES], deflection = 0, surface = 0;
    bounds(p, load, loads, bound);
    p->result.error = bound[0];
    p->result.strain_error = bound[1];
    p->result.terms = nx > ny ? nx : ny;
    size_t probes = rw_plate_probe(p, w, strain);
    for (size_t i = 0; i < probes; i++) {
      deflection = fmax(deflection, fabs(w[i]));
      surface = fmax(surface, fabs(strain[i]));
    }
    if (bound[0] < 1e-4 * deflection && bound[1] < 5e-3 * surface)
      break;
  }
  return RW_OK;
}
