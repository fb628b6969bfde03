/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How near a hull comes to its glass transition along a history. */
#include "refuse.h"

#include <resinwright/heat.h>

#include <math.h>

enum { PARTS = 32 };
static const char FUNCTION[] = "rw_softening_along";

typedef struct walk {
  const rw_glass *glass;
  const rw_cure_path *path;
  double worst, worst_time, soft;
} walk;

/* T - Tg at a time on the path. */
static double excess(const walk *w, double time)
{
  double a = 0, T = 0, Tg = 0;
  if (rw_cure_at(w->path, time, &a, NULL, &T, NULL) != RW_OK ||
      rw_glass_temperature(w->glass, a, &Tg, NULL) != RW_OK)
    return NAN;
  return T - Tg;
}

static void note(walk *w, double time, double value)
{
  if (value > w->worst) {
    w->worst = value;
    w->worst_time = time;
  }
}

/* The greatest excess near a time where it turns, by golden section. */
static void refine(walk *w, double low, double high)
{
  const double golden = 0.61803398874989485;
  for (int i = 0; i < 40; i++) {
    double left = high - golden * (high - low), right = low + golden * (high - low);
    if (excess(w, left) > excess(w, right))
      high = right;
    else
      low = left;
  }
  note(w, 0.5 * (low + high), excess(w, 0.5 * (low + high)));
}

/* How long the excess is above zero between two times. */
static double above(const walk *w, double t0, double at0, double t1, double at1)
{
  if (at0 > 0 && at1 > 0)
    return t1 - t0;
  if (at0 <= 0 && at1 <= 0)
    return 0;
  double low = t0, high = t1;
  for (int i = 0; i < 40; i++) {
    double mid = 0.5 * (low + high);
    if ((excess(w, mid) > 0) == (at0 > 0))
      low = mid;
    else
      high = mid;
  }
  return at0 > 0 ? low - t0 : t1 - high;
}

/* Along a straight piece; its beginning counts after a step in temperature too. */
static void along_piece(walk *w, double t0, double t1, double T0)
{
  double a = 0, Tg = 0;
  rw_cure_at(w->path, t0, &a, NULL, NULL, NULL);
  rw_glass_temperature(w->glass, a, &Tg, NULL);
  double time[PARTS + 1], value[PARTS + 1];
  for (int i = 0; i <= PARTS; i++) {
    time[i] = i == PARTS ? t1 : t0 + (t1 - t0) * i / PARTS;
    value[i] = i == 0 ? T0 - Tg : excess(w, time[i]);
  }
  /* At the end of a piece the path may show the far side of a step. */
  value[PARTS] = excess(w, t1 - (t1 - t0) * 1e-9);
  for (int i = 0; i <= PARTS; i++) {
    note(w, time[i], value[i]);
    if (i > 0)
      w->soft += above(w, time[i - 1], value[i - 1], time[i], value[i]);
    if (i > 0 && i < PARTS && value[i] >= value[i - 1] && value[i] > value[i + 1])
      refine(w, time[i - 1], time[i + 1]);
  }
}

static void along(walk *w, const rw_history *hull, double from, double to)
{
  const double *time, *temperature;
  size_t n = rw_history_points(hull, &time, &temperature, NULL);
  for (size_t i = 0; i + 1 < n; i++) {
    double t0 = fmax(time[i], from), t1 = fmin(time[i + 1], to);
    if (!(t1 > t0))
      continue;
    double slope = (temperature[i + 1] - temperature[i]) / (time[i + 1] - time[i]);
    along_piece(w, t0, t1, temperature[i] + slope * (t0 - time[i]));
  }
}

rw_status rw_softening_along(const rw_resin *r, const rw_history *hull, double from, double to,
                             double start, rw_softening *out, rw_error *err)
{
  rw_status status = heat_given(FUNCTION, "r", r, err);
  if (status == RW_OK)
    status = heat_given(FUNCTION, "hull", hull, err);
  if (status == RW_OK)
    status = heat_given(FUNCTION, "out", out, err);
  if (status != RW_OK)
    return status;
  rw_status checked = rw_resin_check(r, err);
  if (checked < 0)
    return checked;
  rw_cure_path *path = NULL;
  status = rw_cure_run(&r->law, hull, from, to, start, 1e-9, &path, err);
  if (status < 0)
    return status;
  walk w = {.glass = &r->glass, .path = path, .worst = -HUGE_VAL, .worst_time = from};
  rw_softening found = {0};
  along(&w, hull, from, to);
  status = rw_cure_at(path, to, &found.cure, NULL, NULL, err);
  rw_cure_path_destroy(path);
  if (status == RW_OK)
    status = rw_glass_temperature(&r->glass, found.cure, &found.Tg, err);
  if (status != RW_OK)
    return status;
  found.worst = w.worst;
  found.worst_time = w.worst_time;
  found.soft = w.soft;
  *out = found;
  return checked;
}
