/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The surface between stations: rows of points at equal shares of girth, splined along. */
#include "section.h"

#include <math.h>
#include <stdlib.h>

static const char *const ME = "rw_hull_from_offsets";
enum { FEWEST_ROWS = 17, MOST_ROWS = 257, ROWS_PER_POINT = 4 };

void hull_skin_destroy(hull_skin *s)
{
  if (s == NULL)
    return;
  for (size_t k = 0; k < s->panels; k++)
    free(s->panel[k].y);
  free(s);
}

/* Index, within the station, of the point where panel k begins: the keel or the k-th knuckle. */
static size_t start_of(const rw_offset *point, hull_station s, size_t k)
{
  size_t i = 0;
  while (k > 0) {
    i++;
    k -= point[s.first + i].knuckle != 0;
  }
  return i;
}

/* Index of the point where panel k of `panels` ends. */
static size_t end_of(const rw_offset *point, hull_station s, size_t k, size_t panels)
{
  return k + 1 < panels ? start_of(point, s, k + 1) : s.count - 1;
}

static size_t rows_of(const rw_hull *h, const rw_offset *point, const hull_station *station,
                      size_t k)
{
  size_t steps = 1;
  for (size_t i = 0; i < h->n; i++) {
    if (station[i].count == 1)
      continue;
    size_t here = end_of(point, station[i], k, h->skin->panels) - start_of(point, station[i], k);
    steps = here > steps ? here : steps;
  }
  if (steps > MOST_ROWS / ROWS_PER_POINT)
    return MOST_ROWS;
  size_t rows = ROWS_PER_POINT * steps + 1;
  return rows > FEWEST_ROWS ? rows : FEWEST_ROWS;
}

static int new_panel(hull_panel *p, size_t rows, size_t stations)
{
  enum { ARRAYS = 8 };
  double *room = calloc(stations, rows * ARRAYS * sizeof *room);
  if (room == NULL)
    return 0;
  size_t step = rows * stations;
  *p = (hull_panel){.rows = rows,
                    .y = room,
                    .z = room + step,
                    .yv = room + 2 * step,
                    .zv = room + 3 * step,
                    .yu = room + 4 * step,
                    .zu = room + 5 * step,
                    .yuv = room + 6 * step,
                    .zuv = room + 7 * step};
  return 1;
}

static int new_skin(rw_hull *h, const rw_offset *point, const hull_station *station, size_t lines)
{
  size_t panels = lines + 1;
  h->skin = calloc(1, sizeof *h->skin + panels * sizeof h->skin->panel[0]);
  if (h->skin == NULL)
    return 0;
  h->skin->panels = panels;
  for (size_t k = 0; k < panels; k++)
    if (!new_panel(&h->skin->panel[k], rows_of(h, point, station, k), h->n))
      return 0;
  return 1;
}

/* A station that is one point: every row ends there. */
static void fill_point(hull_panel *p, size_t stations, size_t i, const rw_offset *point)
{
  for (size_t j = 0; j < p->rows; j++) {
    p->y[j * stations + i] = point->half;
    p->z[j * stations + i] = point->height;
  }
}

static void fill_curve(hull_panel *p, size_t stations, size_t i, const hull_section *s)
{
  double length = hull_section_length(s);
  double step = length / (double)(p->rows - 1);
  size_t hint = 0;
  for (size_t j = 0; j < p->rows; j++) {
    double at = j + 1 < p->rows ? step * (double)j : length;
    hull_section_point q = hull_section_at(s, at, &hint);
    size_t node = j * stations + i;
    p->y[node] = q.y;
    p->z[node] = q.z;
    p->yv[node] = q.along_y * step;
    p->zv[node] = q.along_z * step;
  }
}

static rw_status fill_station(rw_hull *h, const rw_offset *point, hull_station station, size_t i,
                              hull_section *s, rw_error *err)
{
  for (size_t k = 0; k < h->skin->panels; k++) {
    hull_panel *p = &h->skin->panel[k];
    if (station.count == 1) {
      fill_point(p, h->n, i, &point[station.first]);
      continue;
    }
    size_t first = start_of(point, station, k);
    size_t last = end_of(point, station, k, h->skin->panels);
    rw_status status = hull_section_set(s, &point[station.first + first], last - first + 1, err);
    if (status != RW_OK)
      return status;
    fill_curve(p, h->n, i, s);
    h->girth[i] += 2.0 * hull_section_length(s);
  }
  return RW_OK;
}

static rw_status fill(rw_hull *h, const rw_offset *point, const hull_station *station,
                      rw_error *err)
{
  size_t most = 2;
  for (size_t i = 0; i < h->n; i++)
    most = station[i].count > most ? station[i].count : most;
  hull_section s = hull_section_new(most);
  if (s.t == NULL)
    return hull_no_memory(ME, err);
  rw_status status = RW_OK;
  for (size_t i = 0; i < h->n && status == RW_OK; i++)
    status = fill_station(h, point, station[i], i, &s, err);
  free(s.t);
  return status;
}

/* u: mean chord of all rows from station to station. */
static void measure_along(rw_hull *h)
{
  for (size_t i = 1; i < h->n; i++) {
    double dx = h->x[i] - h->x[i - 1], sum = 0.0;
    size_t rows = 0;
    for (size_t k = 0; k < h->skin->panels; k++) {
      const hull_panel *p = &h->skin->panel[k];
      for (size_t j = 0; j < p->rows; j++) {
        size_t node = j * h->n + i;
        sum += hypot(dx, hypot(p->y[node] - p->y[node - 1], p->z[node] - p->z[node - 1]));
      }
      rows += p->rows;
    }
    h->u[i] = h->u[i - 1] + sum / (double)rows;
  }
}

static double secant(const rw_hull *h, size_t i)
{
  return (h->x[i + 1] - h->x[i]) / (h->u[i + 1] - h->u[i]);
}

/* Hold the slopes of x within 0 and three times the lesser secant: then x never turns back
 * (the sufficient condition of Fritsch & Carlson 1980). */
static void keep_rising(rw_hull *h)
{
  for (size_t i = 0; i < h->n; i++) {
    double before = i > 0 ? secant(h, i - 1) : HUGE_VAL;
    double after = i + 1 < h->n ? secant(h, i) : HUGE_VAL;
    h->xu[i] = fmax(0.0, fmin(h->xu[i], 3.0 * fmin(before, after)));
  }
}

static rw_status spline_rows(const rw_hull *h, hull_panel *p, rw_error *err)
{
  const double *value[] = {p->y, p->z, p->yv, p->zv};
  double *slope[] = {p->yu, p->zu, p->yuv, p->zuv};
  for (size_t a = 0; a < 4; a++)
    for (size_t j = 0; j < p->rows; j++) {
      rw_status status = hull_slopes(h->u, value[a] + j * h->n, h->n, slope[a] + j * h->n, err);
      if (status != RW_OK)
        return status;
    }
  return RW_OK;
}

rw_status hull_skin_build(rw_hull *h, const rw_offset *point, const hull_station *station,
                          size_t lines, rw_error *err)
{
  if (!new_skin(h, point, station, lines))
    return hull_no_memory(ME, err);
  rw_status status = fill(h, point, station, err);
  if (status != RW_OK)
    return status;
  measure_along(h);
  status = hull_slopes(h->u, h->x, h->n, h->xu, err);
  if (status == RW_OK)
    status = hull_slopes(h->u, h->girth, h->n, h->gu, err);
  for (size_t k = 0; k < h->skin->panels && status == RW_OK; k++)
    status = spline_rows(h, &h->skin->panel[k], err);
  if (status == RW_OK)
    keep_rising(h);
  return status;
}

/* A row where a line across the hull meets it: position, and slopes along, across and both. */
struct node {
  double y, z, yu, zu, yv, zv, yuv, zuv;
};

static struct node node_at(const rw_hull *h, const hull_panel *p, size_t row, size_t i, double t)
{
  size_t at = row * h->n;
  hull_cubic y = hull_piece(h->u, p->y + at, p->yu + at, i);
  hull_cubic z = hull_piece(h->u, p->z + at, p->zu + at, i);
  hull_cubic yv = hull_piece(h->u, p->yv + at, p->yuv + at, i);
  hull_cubic zv = hull_piece(h->u, p->zv + at, p->zuv + at, i);
  return (struct node){hull_value(&y, t),  hull_value(&z, t),  hull_slope(&y, t),
                       hull_slope(&z, t),  hull_value(&yv, t), hull_value(&zv, t),
                       hull_slope(&yv, t), hull_slope(&zv, t)};
}

/* Integral of |r_u x r_v| across from one row to the next; r_u = (xu, yu, zu), r_v = (0, yv, zv).
 */
static double across(const struct node *a, const struct node *b, double xu)
{
  hull_cubic y = hull_hermite(1.0, a->y, b->y, a->yv, b->yv);
  hull_cubic z = hull_hermite(1.0, a->z, b->z, a->zv, b->zv);
  hull_cubic yu = hull_hermite(1.0, a->yu, b->yu, a->yuv, b->yuv);
  hull_cubic zu = hull_hermite(1.0, a->zu, b->zu, a->zuv, b->zuv);
  double sum = 0.0;
  for (int k = 0; k < HULL_GAUSS; k++) {
    double v = hull_gauss_point[k];
    double yv = hull_slope(&y, v), zv = hull_slope(&z, v);
    double flat = hull_value(&yu, v) * zv - hull_value(&zu, v) * yv;
    sum += hull_gauss_weight[k] * sqrt(flat * flat + xu * xu * (yv * yv + zv * zv));
  }
  return sum;
}

static double panel_across(const rw_hull *h, const hull_panel *p, size_t i, double t, double xu)
{
  double sum = 0.0;
  struct node a = node_at(h, p, 0, i, t);
  for (size_t j = 1; j < p->rows; j++) {
    struct node b = node_at(h, p, j, i, t);
    sum += across(&a, &b, xu);
    a = b;
  }
  return sum;
}

double hull_skin_area(const rw_hull *h, size_t i, double t)
{
  hull_cubic x = hull_piece(h->u, h->x, h->xu, i);
  double sum = 0.0;
  for (int k = 0; k < HULL_GAUSS; k++) {
    double at = t * hull_gauss_point[k];
    double xu = hull_slope(&x, at), line = 0.0;
    for (size_t j = 0; j < h->skin->panels; j++)
      line += panel_across(h, &h->skin->panel[j], i, at, xu);
    sum += hull_gauss_weight[k] * line;
  }
  return 2.0 * sum * t;
}
