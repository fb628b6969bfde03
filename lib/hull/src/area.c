/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "hull_inside.h"

#include <resinwright/num.h>

#include <math.h>
#include <string.h>

static const double TAPE = 0.005;     /* share: reading a tape along a girth */
static const double RULE_SHARE = 4.0; /* part of the difference between two rules */
static const double SIDES = 4.0;      /* slope of the skin is a quarter of the girth's */
enum { MOST_BANDS = 200 };

static double part(const rw_hull *h, size_t i, double t)
{
  if (h->skin != NULL)
    return hull_skin_area(h, i, t);
  hull_cubic p = hull_piece(h->u, h->girth, h->gu, i);
  return hull_positive(&p, t);
}

void hull_sum_up(rw_hull *h)
{
  h->sum[0] = 0.0;
  for (size_t i = 0; i + 1 < h->n; i++)
    h->sum[i + 1] = h->sum[i] + part(h, i, h->u[i + 1] - h->u[i]);
}

/* Area from the first station to x. */
static double area_up_to(const rw_hull *h, double x)
{
  double t = 0.0;
  size_t i = hull_place(h, x, &t);
  if (t >= h->u[i + 1] - h->u[i])
    return h->scale * h->sum[i + 1];
  return h->scale * (t > 0.0 ? h->sum[i] + part(h, i, t) : h->sum[i]);
}

/* Sums along the hull for the uncertainty. */
struct strips {
  double plain;     /* integral of girth over x */
  double slope;     /* what the slope along the hull adds to it */
  double trapezoid; /* the same integral by the trapezoid rule */
};

static void add_strip(const rw_hull *h, size_t i, double t0, double t1, struct strips *s)
{
  hull_cubic x = hull_piece(h->u, h->x, h->xu, i);
  hull_cubic g = hull_piece(h->u, h->girth, h->gu, i);
  for (int k = 0; k < HULL_GAUSS; k++) {
    double t = t0 + (t1 - t0) * hull_gauss_point[k];
    double along = hull_slope(&x, t);
    double strip = fmax(hull_value(&g, t), 0.0) * along * (t1 - t0) * hull_gauss_weight[k];
    s->plain += strip;
    if (h->skin == NULL)
      s->slope += strip * (hypot(1.0, hull_slope(&g, t) / SIDES) - 1.0);
  }
  s->trapezoid += (hull_girth_at(h, i, t0) + hull_girth_at(h, i, t1)) / 2.0 *
                  (hull_x_at(h, i, t1) - hull_x_at(h, i, t0));
}

static struct strips strips_between(const rw_hull *h, double from, double to)
{
  struct strips s = {0.0, 0.0, 0.0};
  double first_t = 0.0, last_t = 0.0;
  size_t first = hull_place(h, from, &first_t), last = hull_place(h, to, &last_t);
  for (size_t i = first; i <= last; i++) {
    double t0 = i == first ? first_t : 0.0;
    double t1 = i == last ? last_t : h->u[i + 1] - h->u[i];
    add_strip(h, i, t0, t1, &s);
  }
  return s;
}

rw_status rw_hull_area(const rw_hull *h, double from, double to, rw_value *area, rw_error *err)
{
  static const char *const me = "rw_hull_area";
  if (h == NULL || area == NULL)
    return hull_missing(me, h == NULL ? "h" : "area", err);
  if (!hull_reaches(h, from))
    return hull_beyond(h, me, "from", from, err);
  if (!hull_reaches(h, to))
    return hull_beyond(h, me, "to", to, err);
  if (to <= from)
    return rw_error_range(err, me, "to", to, from, h->x[h->n - 1], "m",
                          "give the position nearer the first station first");
  struct strips s = strips_between(h, from, to);
  double value = area_up_to(h, to) - area_up_to(h, from);
  double rule = ((h->skin == NULL ? value : s.plain) - s.trapezoid) / RULE_SHARE;
  area->value = value;
  area->sd = hypot(rule, hypot(TAPE * value, s.slope));
  return RW_OK;
}

struct share {
  const rw_hull *hull;
  double area;
};

static double too_much(double x, void *context)
{
  const struct share *s = context;
  return area_up_to(s->hull, x) - s->area;
}

rw_status rw_hull_bands(const rw_hull *h, size_t n, double *edge, rw_error *err)
{
  static const char *const me = "rw_hull_bands";
  if (h == NULL || edge == NULL)
    return hull_missing(me, h == NULL ? "h" : "edge", err);
  if (n < 1 || n > MOST_BANDS)
    return rw_error_range(err, me, "n", (double)n, 1.0, MOST_BANDS, "", NULL);
  double cut[MOST_BANDS + 1];
  double first = h->x[0], last = h->x[h->n - 1];
  cut[0] = first;
  cut[n] = last;
  for (size_t k = 1; k < n; k++) {
    struct share s = {h, area_up_to(h, last) * (double)k / (double)n};
    rw_status status =
        rw_num_root(too_much, &s, cut[k - 1], last, 1e-13 * (last - first), &cut[k], err);
    if (status != RW_OK)
      return status;
  }
  memcpy(edge, cut, (n + 1) * sizeof *edge);
  return RW_OK;
}
