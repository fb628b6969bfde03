/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared by the files about panels. A solved panel is a sum of products of functions of x and y;
 * strains are read off it through a list of operators, the same for sines and polynomials. */
#ifndef RW_PLATE_COMMON_H
#define RW_PLATE_COMMON_H

#include "laminate_common.h"

#include <resinwright/panel.h>

/* Tables of functions: f for deflections, p for rotations, and their derivatives. With sines f is
 * sin, p is cos. */
enum { PLATE_F, PLATE_F1, PLATE_F2, PLATE_P, PLATE_P1, PLATE_TABLES };
/* What the sums are for: deflection, rotations, mid-plane displacements. */
enum { PLATE_W, PLATE_TURN_X, PLATE_TURN_Y, PLATE_U, PLATE_V, PLATE_FIELDS };
/* What is read off: w, kx ky kxy, gxz gyz, ex ey gxy. */
enum { PLATE_KX = 1, PLATE_GX = 4, PLATE_EX = 6, PLATE_OUTPUTS = 9 };
enum { PLATE_MOST_TERMS = 1024, PLATE_ROW = 5, PLATE_LOADS = 32 };

typedef struct plate_operator {
  int output, field, x_table, y_table;
  double factor;
} plate_operator;

/* A polynomial: Legendre coefficients from index `first` on. */
typedef struct plate_row {
  size_t first;
  double c[PLATE_ROW];
} plate_row;

/* The functions of one side. */
typedef struct plate_side {
  double length;
  size_t n;
  plate_row *row; /* PLATE_TABLES times n; NULL: sines */
} plate_side;

/* A sum of products of functions. */
typedef struct plate_sum {
  plate_side x, y;
  double *c[PLATE_FIELDS]; /* x.n times y.n each, or NULL */
} plate_sum;

enum { PLATE_SINES, PLATE_POLYNOMIALS, PLATE_SUMS };

struct rw_bent_plate {
  rw_stack stack;
  rw_plate plate;
  double bend[9];            /* D, or D - B A^-1 B */
  int sheared, straight;     /* straight: no D16, D26, no coupling of both shears */
  int coarse;                /* few sines, for comparing panels with one another */
  plate_sum sum[PLATE_SUMS]; /* what is solved is their sum; one without terms has x.n 0 */
  double patch_x[PLATE_LOADS], patch_y[PLATE_LOADS]; /* middles of the patches */
  size_t patches;
  rw_plate_load load[PLATE_LOADS];
  size_t loads;
  rw_plate_result result;
};

/* The operators of a panel; their number is returned. */
size_t rw_plate_operators(int sheared, int plane, plate_operator list[16]);

/* Polynomials for a side that rests; from the third on, f has no slope and p no value at the
 * ends. */
rw_status rw_plate_side_make(double length, size_t n, plate_side *out, rw_error *err);
/* Values of all tables at a place, PLATE_TABLES times n. */
void rw_plate_side_values(const plate_side *s, double place, double *values);
/* Integrals of f over [middle - width/2, middle + width/2]. */
void rw_plate_side_integrals(const plate_side *s, double middle, double width, double *values);
/* Integrals of f sin(pi x/length). */
void rw_plate_side_wave(const plate_side *s, double *values);

/* Projects the loads on w's functions: x.n times y.n numbers are added to q. */
rw_status rw_plate_project(const plate_sum *sum, const rw_plate_load *load, size_t loads,
                           double *q, rw_error *err);

/* Sums of x.n times y.n terms for the fields wanted. */
rw_status rw_plate_get_terms(plate_sum *sum, const int wanted[PLATE_FIELDS], rw_error *err);
void rw_plate_free_terms(plate_sum *sum);

/* A function meets those at most this far away along a side. */
enum { PLATE_REACH = 4, PLATE_NEAR = 2 * PLATE_REACH + 1, PLATE_STRAINS = 5 };

/* Integrals of products of two functions of one side: table, table, distance + PLATE_REACH. */
typedef double plate_products[PLATE_TABLES][PLATE_TABLES][PLATE_NEAR];

/* A symmetric band; unknowns are numbered fields fastest, then y, then x. */
typedef struct plate_matrix {
  size_t n, fields;      /* functions of either side, sums */
  size_t size, width;    /* rows, and entries left of the diagonal */
  double *entry;         /* size times (width + 1), the diagonal last */
  plate_products *x, *y; /* n each */
} plate_matrix;

/* Energy of the outputs from `first` on, of fields from `field` on. */
typedef struct plate_energy {
  const plate_operator *of;
  size_t many;
  int first, field;
  double C[PLATE_STRAINS][PLATE_STRAINS];
} plate_energy;

/* Free a matrix after make, even one that failed. Solving destroys it; x holds loads, then the
 * solution. */
rw_status rw_plate_matrix_make(const plate_side *x, const plate_side *y, size_t fields,
                               plate_matrix *out, rw_error *err);
void rw_plate_matrix_fill(plate_matrix *m, const plate_energy *energy);
rw_status rw_plate_matrix_solve(plate_matrix *m, double *x, rw_error *err);
void rw_plate_matrix_free(plate_matrix *m);

/* A panel solved from arguments that were checked, without its gist. */
rw_status rw_plate_make(const rw_stack *s, const rw_plate *plate, const rw_plate_load *load,
                        size_t loads, int coarse, rw_bent_plate **out, rw_error *err);
/* The two methods fill sums, terms and errors (absolute ones here). The series takes the panel as
 * one that rests and has no D16, D26; the polynomials are what is missing to the panel asked for.
 */
rw_status rw_plate_series(rw_bent_plate *p, const rw_plate_load *load, size_t loads,
                          rw_error *err);
rw_status rw_plate_ritz(rw_bent_plate *p, const rw_plate_load *load, size_t loads, rw_error *err);
/* Deflection and surface strain in the middle of panel, sides and patches. */
enum { PLATE_PROBES = 5 + PLATE_LOADS };
size_t rw_plate_probe(const rw_bent_plate *p, double w[PLATE_PROBES], double strain[PLATE_PROBES]);

/* A number that a search makes as great as it can; negative infinity is never chosen. */
typedef double rw_plate_measure(const rw_plate_point *point, void *context);
/* The greatest measure over the panel. */
rw_status rw_plate_search(const rw_bent_plate *p, rw_plate_measure *measure, void *context,
                          const char *function, rw_plate_point *best, rw_error *err);
/* From a place uphill to the greatest nearby. */
void rw_plate_climb(const rw_bent_plate *p, rw_plate_measure *measure, void *context,
                    rw_plate_point *best);
void rw_plate_point_at(const rw_bent_plate *p, double x, double y, rw_plate_point *out);
/* w, its slopes along x and along y at n places of a line. */
void rw_plate_slopes(const rw_bent_plate *p, const double *x, size_t n, double y,
                     double (*out)[3]);
/* What part of the linear deflection is left where the edges can't slide in (174). */
rw_status rw_plate_hold(const rw_bent_plate *p, const rw_plate_load *load, size_t loads,
                        double *factor, rw_error *err);
/* The principal strain of greatest size, of its sign: of ex ey gxy, and of either face. */
double rw_plate_principal(const double e[3]);
double rw_plate_surface(const rw_plate_point *point);

/* RW_OK where the plies make the panel's stack. */
rw_status rw_plate_same_stack(const rw_bent_plate *p, const rw_ply *ply, size_t n,
                              const char *function, rw_error *err);
rw_status rw_plate_no_memory(const char *function, rw_error *err);
void rw_plate_free_all(rw_bent_plate *p);

#endif
