/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The hull itself: making it empty, looking along it, freeing it. */
#include "hull_inside.h"

#include <math.h>
#include <stdlib.h>

rw_status hull_no_memory(const char *function, rw_error *err)
{
  return rw_error_set(err, RW_ERR_MEMORY, function, NULL, "close other programs and try again",
                      "there is not enough memory for the hull");
}

rw_status hull_missing(const char *function, const char *argument, rw_error *err)
{
  return rw_error_set(err, RW_ERR_ARGUMENT, function, argument, "pass an address, not NULL",
                      "the argument %s is missing", argument);
}

int hull_reaches(const rw_hull *h, double x)
{
  static const double forgiven = 1e-9; /* of the length: stations added up in binary */
  double first = h->x[0], last = h->x[h->n - 1];
  double slack = forgiven * (last - first);
  return x >= first - slack && x <= last + slack;
}

rw_status hull_beyond(const rw_hull *h, const char *function, const char *argument, double x,
                      rw_error *err)
{
  rw_error_range(err, function, argument, x, h->x[0], h->x[h->n - 1], "m",
                 "positions are measured as the stations are, from the same mark");
  if (err != NULL)
    err->code = RW_ERR_COVERAGE;
  return RW_ERR_COVERAGE;
}

rw_hull *hull_new(size_t n)
{
  enum { ARRAYS = 6 };
  rw_hull *h = calloc(1, sizeof *h);
  double *room = calloc(n, ARRAYS * sizeof *room);
  if (h == NULL || room == NULL) {
    free(h);
    free(room);
    return NULL;
  }
  *h = (rw_hull){.n = n,
                 .x = room,
                 .girth = room + n,
                 .u = room + 2 * n,
                 .xu = room + 3 * n,
                 .gu = room + 4 * n,
                 .sum = room + 5 * n,
                 .scale = 1.0};
  return h;
}

void rw_hull_destroy(rw_hull *h)
{
  if (h == NULL)
    return;
  hull_skin_destroy(h->skin);
  free(h->x);
  free(h);
}

static size_t piece_of(const rw_hull *h, double x)
{
  size_t low = 0, high = h->n - 1;
  while (high - low > 1) {
    size_t mid = low + (high - low) / 2;
    if (x < h->x[mid])
      high = mid;
    else
      low = mid;
  }
  return low;
}

size_t hull_place(const rw_hull *h, double x, double *t)
{
  size_t i = piece_of(h, x);
  double span = h->u[i + 1] - h->u[i];
  if (x <= h->x[i]) {
    *t = 0.0;
  } else if (x >= h->x[i + 1]) {
    *t = span;
  } else if (h->skin == NULL) {
    *t = x - h->x[i];
  } else {
    hull_cubic p = hull_piece(h->u, h->x, h->xu, i);
    *t = hull_cross(&p, 0.0, span, x);
  }
  return i;
}

double hull_x_at(const rw_hull *h, size_t i, double t)
{
  hull_cubic p = hull_piece(h->u, h->x, h->xu, i);
  if (t >= p.span)
    return h->x[i + 1];
  return hull_value(&p, t);
}

double hull_girth_at(const rw_hull *h, size_t i, double t)
{
  hull_cubic p = hull_piece(h->u, h->girth, h->gu, i);
  if (t >= p.span)
    return h->girth[i + 1];
  return fmax(hull_value(&p, t), 0.0);
}

rw_status rw_hull_girth(const rw_hull *h, double x, double *girth, rw_error *err)
{
  static const char *const me = "rw_hull_girth";
  if (h == NULL || girth == NULL)
    return hull_missing(me, h == NULL ? "h" : "girth", err);
  if (!hull_reaches(h, x))
    return hull_beyond(h, me, "x", x, err);
  double t = 0.0;
  size_t i = hull_place(h, x, &t);
  *girth = hull_girth_at(h, i, t);
  return RW_OK;
}

void rw_hull_widest(const rw_hull *h, double *x, double *girth)
{
  double best = h->girth[0], where = h->x[0];
  for (size_t i = 0; i + 1 < h->n; i++) {
    hull_cubic p = hull_piece(h->u, h->girth, h->gu, i);
    double cut[4];
    size_t n = hull_cuts(&p, 0.0, p.span, cut);
    for (size_t k = 1; k < n; k++) {
      double g = hull_girth_at(h, i, cut[k]);
      if (g > best) {
        best = g;
        where = hull_x_at(h, i, cut[k]);
      }
    }
  }
  if (x != NULL)
    *x = where;
  if (girth != NULL)
    *girth = best;
}

/* First place above the limit; NaN where nowhere. */
static double first_above(const rw_hull *h, double limit)
{
  if (h->girth[0] > limit)
    return h->x[0];
  for (size_t i = 0; i + 1 < h->n; i++) {
    hull_cubic p = hull_piece(h->u, h->girth, h->gu, i);
    double cut[4];
    size_t n = hull_cuts(&p, 0.0, p.span, cut);
    for (size_t k = 1; k < n; k++)
      if (hull_girth_at(h, i, cut[k]) > limit)
        return hull_x_at(h, i, hull_cross(&p, cut[k - 1], cut[k], limit));
  }
  return NAN;
}

/* Last place above the limit; there is one. */
static double last_above(const rw_hull *h, double limit)
{
  if (h->girth[h->n - 1] > limit)
    return h->x[h->n - 1];
  for (size_t i = h->n - 1; i-- > 0;) {
    hull_cubic p = hull_piece(h->u, h->girth, h->gu, i);
    double cut[4];
    size_t n = hull_cuts(&p, 0.0, p.span, cut);
    for (size_t k = n - 1; k-- > 0;)
      if (hull_girth_at(h, i, cut[k]) > limit)
        return hull_x_at(h, i, hull_cross(&p, cut[k], cut[k + 1], limit));
  }
  return h->x[0];
}

double rw_hull_wider_than(const rw_hull *h, double limit, double *from, double *to)
{
  double first = limit < 0.0 ? h->x[0] : first_above(h, limit);
  double last = limit < 0.0 ? h->x[h->n - 1] : NAN;
  if (isnan(last) && !isnan(first))
    last = last_above(h, limit);
  if (from != NULL)
    *from = first;
  if (to != NULL)
    *to = last;
  return isnan(first) ? 0.0 : last - first;
}

void rw_hull_span(const rw_hull *h, double *from, double *to)
{
  if (from != NULL)
    *from = h->x[0];
  if (to != NULL)
    *to = h->x[h->n - 1];
}

size_t rw_hull_stations(const rw_hull *h, const double **x, const double **girth)
{
  if (x != NULL)
    *x = h->x;
  if (girth != NULL)
    *girth = h->girth;
  return h->n;
}
