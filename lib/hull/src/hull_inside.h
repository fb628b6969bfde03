/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the files of this room share.
 *
 * Along the hull everything is a piecewise cubic in a parameter u. From girths u is x itself; from
 * offsets u is the mean chord of the rows of points, so that blunt ends are smooth in it. */
#ifndef RW_HULL_INSIDE_H
#define RW_HULL_INSIDE_H

#include <resinwright/hull.h>

/* c[0] + c[1] t + c[2] t^2 + c[3] t^3 for t from 0 to span. */
typedef struct hull_cubic {
  double c[4];
  double span;
} hull_cubic;

hull_cubic hull_hermite(double span, double y0, double y1, double slope0, double slope1);
/* Piece i of the cubics with values y and slopes d at knots u. */
hull_cubic hull_piece(const double *u, const double *y, const double *d, size_t i);
double hull_value(const hull_cubic *p, double t);
double hull_slope(const hull_cubic *p, double t);
/* Ends of the monotone stretches of p between a and b, in rising order; returns 2 to 4. */
size_t hull_cuts(const hull_cubic *p, double a, double b, double cut[4]);
/* Where p crosses a level in a monotone stretch a to b that holds it. */
double hull_cross(const hull_cubic *p, double a, double b, double level);
/* Integral of the larger of p and 0 from 0 to t. */
double hull_positive(const hull_cubic *p, double t);
/* Slopes at the knots of the not-a-knot spline through n points. */
rw_status hull_slopes(const double *u, const double *y, size_t n, double *slope, rw_error *err);

enum { HULL_GAUSS = 5 };
/* Gauss-Legendre points and weights for 0 to 1. */
extern const double hull_gauss_point[HULL_GAUSS];
extern const double hull_gauss_weight[HULL_GAUSS];

/* Skin between two lines of knuckles: y (half-breadth) and z (height) on rows of points at equal
 * shares of girth. Node of row j at station i is [j * stations + i]. u: slope along; v: slope
 * across for one step between rows. */
typedef struct hull_panel {
  size_t rows;
  double *y, *z, *yv, *zv, *yu, *zu, *yuv, *zuv;
} hull_panel;

typedef struct hull_skin {
  size_t panels;
  hull_panel panel[];
} hull_skin;

struct rw_hull {
  size_t n;
  double *x, *girth; /* stations */
  double *u;         /* parameter along */
  double *xu, *gu;   /* slopes of x and girth in u */
  double *sum;       /* area up to each station, before scale */
  double scale;      /* makes the whole come to Simpson's rule where that holds */
  hull_skin *skin;   /* NULL from girths */
};

/* A station of given offsets: its first point and how many. */
typedef struct hull_station {
  size_t first, count;
} hull_station;

/* Whether x lies on the hull, a rounding error beyond the ends forgiven. */
int hull_reaches(const rw_hull *h, double x);
rw_status hull_beyond(const rw_hull *h, const char *function, const char *argument, double x,
                      rw_error *err);
rw_status hull_missing(const char *function, const char *argument, rw_error *err);
rw_status hull_no_memory(const char *function, rw_error *err);
/* An empty hull of n stations, all zero. */
rw_hull *hull_new(size_t n);
/* Fill h->sum once stations, slopes and skin stand. */
void hull_sum_up(rw_hull *h);
/* Piece that holds x, and t in it. */
size_t hull_place(const rw_hull *h, double x, double *t);
/* Position and girth, not below 0, at t in piece i. */
double hull_x_at(const rw_hull *h, size_t i, double t);
double hull_girth_at(const rw_hull *h, size_t i, double t);
/* Area of both halves of the skin from the start of piece i to t. */
double hull_skin_area(const rw_hull *h, size_t i, double t);
/* Build h->skin, h->u and h->girth from offsets; lines: knuckle lines of each station. */
rw_status hull_skin_build(rw_hull *h, const rw_offset *point, const hull_station *station,
                          size_t lines, rw_error *err);
/* Free a skin, or NULL. */
void hull_skin_destroy(hull_skin *s);

#endif
