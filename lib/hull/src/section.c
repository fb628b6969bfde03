/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "section.h"

#include <math.h>
#include <stdlib.h>

hull_section hull_section_new(size_t n)
{
  enum { ARRAYS = 6 };
  double *room = calloc(n, ARRAYS * sizeof *room);
  if (room == NULL)
    return (hull_section){.t = NULL};
  return (hull_section){.t = room,
                        .y = room + n,
                        .z = room + 2 * n,
                        .yt = room + 3 * n,
                        .zt = room + 4 * n,
                        .arc = room + 5 * n};
}

/* The two cubics of a piece. */
struct curve {
  hull_cubic y, z;
};

static struct curve curve_of(const hull_section *s, size_t i)
{
  return (struct curve){hull_piece(s->t, s->y, s->yt, i), hull_piece(s->t, s->z, s->zt, i)};
}

static double speed(const struct curve *c, double t)
{
  return hypot(hull_slope(&c->y, t), hull_slope(&c->z, t));
}

static double arc_to(const struct curve *c, double t)
{
  double sum = 0.0;
  for (int k = 0; k < HULL_GAUSS; k++)
    sum += hull_gauss_weight[k] * speed(c, t * hull_gauss_point[k]);
  return sum * t;
}

rw_status hull_section_set(hull_section *s, const rw_offset *point, size_t n, rw_error *err)
{
  s->n = n;
  for (size_t i = 0; i < n; i++) {
    s->y[i] = point[i].half;
    s->z[i] = point[i].height;
    s->t[i] = i == 0 ? 0.0 : s->t[i - 1] + hypot(s->y[i] - s->y[i - 1], s->z[i] - s->z[i - 1]);
  }
  rw_status status = hull_slopes(s->t, s->y, n, s->yt, err);
  if (status == RW_OK)
    status = hull_slopes(s->t, s->z, n, s->zt, err);
  if (status != RW_OK)
    return status;
  s->arc[0] = 0.0;
  for (size_t i = 0; i + 1 < n; i++) {
    struct curve c = curve_of(s, i);
    s->arc[i + 1] = s->arc[i] + arc_to(&c, c.y.span);
  }
  return RW_OK;
}

double hull_section_length(const hull_section *s)
{
  return s->arc[s->n - 1];
}

/* Place in a piece with a given arc length from its start: Newton, halved where it leaves. */
static double place_at(const struct curve *c, double length)
{
  enum { STEPS = 60 };
  double low = 0.0, high = c->y.span, t = length < high ? length : high / 2.0;
  for (int k = 0; k < STEPS; k++) {
    double off = arc_to(c, t) - length;
    if (off > 0.0)
      high = t;
    else
      low = t;
    double next = t - off / speed(c, t);
    if (!(next > low && next < high))
      next = low + (high - low) / 2.0;
    if (fabs(next - t) <= 1e-15 * c->y.span)
      break;
    t = next;
  }
  return t;
}

hull_section_point hull_section_at(const hull_section *s, double length, size_t *hint)
{
  size_t i = *hint;
  while (i + 2 < s->n && length > s->arc[i + 1])
    i++;
  *hint = i;
  struct curve c = curve_of(s, i);
  double within = length - s->arc[i], whole = s->arc[i + 1] - s->arc[i], t;
  if (within <= 0.0)
    t = 0.0;
  else if (within >= whole)
    t = c.y.span;
  else
    t = place_at(&c, within);
  double fast = speed(&c, t);
  double unit = fast > 0.0 ? 1.0 / fast : 0.0;
  return (hull_section_point){hull_value(&c.y, t), hull_value(&c.z, t), hull_slope(&c.y, t) * unit,
                              hull_slope(&c.z, t) * unit};
}
