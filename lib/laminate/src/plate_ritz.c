/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What clamped edges, D16 and D26 add to the series of a panel that rests: least energy over
 * products of polynomials. What edges add is smooth even where a patch is small, so that few
 * polynomials do. */
#include "plate_common.h"

#include <resinwright/num.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char FUNCTION[] = "rw_plate_bend";
enum { MOST_FUNCTIONS = 64 };

typedef struct problem {
  const rw_bent_plate *p;
  size_t n, fields;
  plate_matrix K;
} problem;

/* Energy of strains kx ky kxy gxz gyz; straight: without D16, D26 and shear coupling. */
static void stiffness(const rw_bent_plate *p, int straight, double C[PLATE_STRAINS][PLATE_STRAINS])
{
  memset(C, 0, PLATE_STRAINS * sizeof *C);
  for (size_t i = 0; i < 3; i++)
    for (size_t j = 0; j < 3; j++)
      C[i][j] = p->bend[3 * i + j];
  C[3][3] = p->plate.shear[0];
  C[4][4] = p->plate.shear[1];
  C[3][4] = C[4][3] = p->plate.shear[2];
  if (straight)
    C[0][2] = C[2][0] = C[1][2] = C[2][1] = C[3][4] = C[4][3] = 0;
}

/* Whether a clamped edge decides an unknown: the turning of w itself where it is thin, else the
 * rotations. */
static int is_held(const problem *of, size_t i)
{
  const rw_plate *plate = &of->p->plate;
  size_t field = i % of->fields, l = i / of->fields % of->n, k = i / of->fields / of->n;
  int x = plate->edge_x == RW_EDGE_CLAMPED && k < 2;
  int y = plate->edge_y == RW_EDGE_CLAMPED && l < 2;
  if (of->fields == 1)
    return x || y;
  return (field == PLATE_TURN_X && x) || (field == PLATE_TURN_Y && y);
}

/* Gives held unknowns their value: what they do to the others becomes load. */
static void hold(problem *of, const double *held, double *load)
{
  plate_matrix *K = &of->K;
  size_t width = K->width;
  for (size_t i = 0; i < K->size; i++) {
    int is = is_held(of, i);
    double *row = K->entry + i * (width + 1) + width - i;
    for (size_t j = i > width ? i - width : 0; j < i; j++) {
      int other = is_held(of, j);
      if (is && !other)
        load[j] -= row[j] * held[i];
      if (other && !is)
        load[i] -= row[j] * held[j];
      if (is || other)
        row[j] = 0;
    }
    if (is)
      row[i] = 1;
  }
  for (size_t i = 0; i < K->size; i++)
    if (is_held(of, i))
      load[i] = held[i];
}

/* Turning of the series at one end of a side, as coefficients of sines along the edge. */
static void turning(const rw_bent_plate *p, int of_y, int far, double *terms)
{
  const plate_sum *sum = &p->sum[PLATE_SINES];
  const plate_side *across = of_y ? &sum->y : &sum->x, *edge = of_y ? &sum->x : &sum->y;
  size_t table = p->sheared ? PLATE_P : PLATE_F1;
  const double *c = sum->c[!p->sheared ? PLATE_W : of_y ? PLATE_TURN_Y : PLATE_TURN_X];
  double values[PLATE_TABLES * PLATE_MOST_TERMS];
  rw_plate_side_values(across, far ? across->length : 0, values);
  const double *first = values + table * across->n;
  for (size_t l = 0; l < edge->n; l++) {
    terms[l] = 0;
    for (size_t k = 0; k < across->n; k++)
      terms[l] += first[k] * (of_y ? c[l * across->n + k] : c[k * edge->n + l]);
  }
}

/* Coefficients of a sine series, zero at both ends, in the polynomials f of the same side: the f''
 * are orthogonal, so each is one integral. */
static void expand(const plate_side *sines, const double *terms, const plate_side *edge, double *c)
{
  double values[PLATE_TABLES * PLATE_MOST_TERMS], of[PLATE_TABLES * MOST_FUNCTIONS];
  size_t n = edge->n, pieces = 2 * n;
  double half = edge->length / 2;
  memset(c, 0, n * sizeof *c);
  for (size_t i = 0; i < pieces * RW_NUM_GAUSS5; i++) {
    size_t piece = i / RW_NUM_GAUSS5;
    double weight, bend = 0;
    double share = rw_num_gauss5((int)(i % RW_NUM_GAUSS5), &weight);
    double place = edge->length * ((double)piece + share) / (double)pieces;
    rw_plate_side_values(sines, place, values);
    rw_plate_side_values(edge, place, of);
    for (size_t l = 0; l < sines->n; l++)
      bend += terms[l] * values[PLATE_F2 * sines->n + l];
    bend *= weight * edge->length / (double)pieces * half * half * half;
    for (size_t l = 0; l < n; l++)
      c[l] += bend * of[PLATE_F2 * n + l];
  }
}

/* Held unknowns of one pair of clamped edges: the two functions that turn there undo the turning
 * of the series. Where all edges are clamped the corners belong to the first pair. */
static void undo_turning(const problem *of, int of_y, double *held)
{
  const rw_bent_plate *p = of->p;
  const plate_sum *sum = &p->sum[PLATE_POLYNOMIALS];
  const plate_side *across = of_y ? &sum->y : &sum->x, *edge = of_y ? &sum->x : &sum->y;
  const plate_side *sines = of_y ? &p->sum[PLATE_SINES].x : &p->sum[PLATE_SINES].y;
  size_t n = of->n, table = p->sheared ? PLATE_P : PLATE_F1;
  size_t field = !p->sheared ? PLATE_W : of_y ? PLATE_TURN_Y : PLATE_TURN_X;
  double terms[PLATE_MOST_TERMS], end[2][MOST_FUNCTIONS], tip[2][PLATE_TABLES * MOST_FUNCTIONS];
  for (int far = 0; far < 2; far++) {
    turning(p, of_y, far, terms);
    expand(sines, terms, edge, end[far]);
    rw_plate_side_values(across, far ? across->length : 0, tip[far]);
  }
  const double *u = tip[0] + table * n, *v = tip[1] + table * n;
  double det = u[0] * v[1] - u[1] * v[0];
  int corners = of_y && !p->sheared && p->plate.edge_x == RW_EDGE_CLAMPED;
  for (size_t l = corners ? 2 : 0; l < n; l++) {
    double c[2] = {(end[1][l] * u[1] - end[0][l] * v[1]) / det,
                   (end[0][l] * v[0] - end[1][l] * u[0]) / det};
    for (size_t k = 0; k < 2; k++)
      held[(of_y ? l * n + k : k * n + l) * of->fields + field] = c[k];
  }
}

static rw_status start(rw_bent_plate *p, size_t n, problem *of, rw_error *err)
{
  plate_sum *sum = &p->sum[PLATE_POLYNOMIALS];
  rw_plate_free_terms(sum);
  rw_status status = rw_plate_side_make(p->plate.a, n, &sum->x, err);
  if (status == RW_OK)
    status = rw_plate_side_make(p->plate.b, n, &sum->y, err);
  const int wanted[PLATE_FIELDS] = {1, p->sheared, p->sheared, 0, 0};
  if (status == RW_OK)
    status = rw_plate_get_terms(sum, wanted, err);
  if (status != RW_OK)
    return status;
  size_t fields = p->sheared ? 3 : 1;
  *of = (problem){.p = p, .n = n, .fields = fields};
  return rw_plate_matrix_make(&sum->x, &sum->y, fields, &of->K, err);
}

/* Adds a solution to the sum. */
static rw_status add_solution(problem *of, int straight, const double *held, double sign,
                              double *x, plate_sum *sum, rw_error *err)
{
  plate_operator list[16];
  plate_energy energy = {.of = list, .first = PLATE_KX};
  energy.many = rw_plate_operators(of->p->sheared, 0, list);
  stiffness(of->p, straight, energy.C);
  rw_plate_matrix_fill(&of->K, &energy);
  hold(of, held, x);
  rw_status status = rw_plate_matrix_solve(&of->K, x, err);
  for (size_t i = 0; i < of->K.size && status == RW_OK; i++)
    sum->c[i % of->fields][i / of->fields] += sign * x[i];
  return status;
}

/* What clamped edges add to a panel without D16 and D26, then what those two do, both by the same
 * polynomials: near a small patch they err alike, and the difference cancels that. */
static rw_status correct(rw_bent_plate *p, problem *of, const rw_plate_load *load, size_t loads,
                         double *x, double *held, double *q, rw_error *err)
{
  plate_sum *sum = &p->sum[PLATE_POLYNOMIALS];
  size_t size = of->K.size;
  int clamped_x = p->plate.edge_x == RW_EDGE_CLAMPED,
      clamped_y = p->plate.edge_y == RW_EDGE_CLAMPED;
  rw_status status = rw_plate_project(sum, load, loads, q, err);
  memset(held, 0, size * sizeof *held);
  for (int straight = 0; straight < 2 && status == RW_OK && !p->straight; straight++) {
    memset(x, 0, size * sizeof *x);
    for (size_t i = 0; i < size / of->fields; i++)
      x[i * of->fields] = q[i];
    status = add_solution(of, straight, held, straight ? -1 : 1, x, sum, err);
  }
  if (status != RW_OK || !(clamped_x || clamped_y))
    return status;
  if (clamped_x)
    undo_turning(of, 0, held);
  if (clamped_y)
    undo_turning(of, 1, held);
  memset(x, 0, size * sizeof *x);
  return add_solution(of, 1, held, 1, x, sum, err);
}

static rw_status solve_with(rw_bent_plate *p, const rw_plate_load *load, size_t loads, size_t n,
                            rw_error *err)
{
  problem of = {.p = p};
  rw_status status = start(p, n, &of, err);
  double *room = status == RW_OK ? calloc(3 * of.K.size, sizeof *room) : NULL;
  if (status == RW_OK && room == NULL)
    status = rw_plate_no_memory(FUNCTION, err);
  if (status == RW_OK)
    status = correct(p, &of, load, loads, room, room + of.K.size, room + 2 * of.K.size, err);
  free(room);
  rw_plate_matrix_free(&of.K);
  return status;
}

/* Greatest change, and what it is measured by. */
static double change(const double *before, const double *now, size_t n, double *greatest)
{
  double most = 0;
  *greatest = 0;
  for (size_t i = 0; i < n; i++) {
    most = fmax(most, fabs(now[i] - before[i]));
    *greatest = fmax(*greatest, fabs(now[i]));
  }
  return most;
}

rw_status rw_plate_ritz(rw_bent_plate *p, const rw_plate_load *load, size_t loads, rw_error *err)
{
  static const size_t steps[] = {10, 14, 20, 28, 40, 56};
  size_t many = p->sheared ? 5 : 6;
  double w[2][PLATE_PROBES], strain[2][PLATE_PROBES];
  double error = p->result.error, strain_error = p->result.strain_error;
  for (size_t i = 0; i < many; i++) {
    rw_status status = solve_with(p, load, loads, steps[i], err);
    if (status != RW_OK)
      return status;
    size_t now = i % 2, n = rw_plate_probe(p, w[now], strain[now]);
    p->result.terms = steps[i];
    if (i == 0)
      continue;
    double deflection, surface;
    double last = change(w[1 - now], w[now], n, &deflection);
    double last_strain = change(strain[1 - now], strain[now], n, &surface);
    p->result.error = error + last;
    p->result.strain_error = strain_error + last_strain;
    if (last < 1e-4 * deflection && last_strain < 2e-3 * surface)
      break;
  }
  return RW_OK;
}
