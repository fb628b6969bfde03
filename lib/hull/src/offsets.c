/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "hull_inside.h"

#include <math.h>
#include <stdlib.h>

static const char *const ME = "rw_hull_from_offsets";
static const double FARTHEST = 1000.0; /* m, for x and height */
static const double BROADEST = 20.0;   /* m */
static const double NEAREST = 1e-6;    /* m between stations and between points */

static rw_status check_point(const rw_offset *p, size_t i, rw_error *err)
{
  if (!isfinite(p->x) || !isfinite(p->half) || !isfinite(p->height))
    return rw_error_set(err, RW_ERR_ARGUMENT, ME, "point",
                        "leave a point out rather than give it no number",
                        "point %zu is not usable: one of its three numbers is not finite", i + 1);
  if (fabs(p->x) > FARTHEST)
    return rw_error_range(err, ME, "point.x", p->x, -FARTHEST, FARTHEST, "m",
                          "positions are in metres: 5200 mm is 5.2");
  if (fabs(p->height) > FARTHEST)
    return rw_error_range(err, ME, "point.height", p->height, -FARTHEST, FARTHEST, "m",
                          "heights are in metres: 300 mm is 0.3");
  if (p->half < 0.0 || p->half > BROADEST)
    return rw_error_range(err, ME, "point.half", p->half, 0.0, BROADEST, "m",
                          "half-breadths of one side are wanted, in metres: 380 mm is 0.38");
  return RW_OK;
}

/* Counts stations; checks every point and that stations and points go forward. */
static rw_status check_points(const rw_offset *point, size_t n, size_t *stations, rw_error *err)
{
  *stations = 0;
  for (size_t i = 0; i < n; i++) {
    rw_status status = check_point(&point[i], i, err);
    if (status != RW_OK)
      return status;
    if (i == 0 || point[i].x != point[i - 1].x) {
      if (i > 0 && !(point[i].x - point[i - 1].x >= NEAREST))
        return rw_error_set(err, RW_ERR_ORDER, ME, "point.x",
                            "keep the points of a station together, stations from one end to the "
                            "other",
                            "point %zu does not lie after the station before it: positions must "
                            "rise from station to station",
                            i + 1);
      ++*stations;
    } else if (hypot(point[i].half - point[i - 1].half, point[i].height - point[i - 1].height) <
               NEAREST) {
      return rw_error_set(err, RW_ERR_ORDER, ME, "point",
                          "give each point of a station once, from keel to sheer",
                          "points %zu and %zu of the offsets are in the same place", i, i + 1);
    }
  }
  return RW_OK;
}

static void gather(const rw_offset *point, size_t n, hull_station *station)
{
  size_t k = 0;
  for (size_t i = 0; i < n; i++) {
    if (i > 0 && point[i].x == point[i - 1].x) {
      station[k - 1].count++;
      continue;
    }
    station[k++] = (hull_station){i, 1};
  }
}

/* Knuckles between the first and the last point of a station. */
static size_t knuckles(const rw_offset *point, hull_station s)
{
  size_t n = 0;
  for (size_t i = 1; i + 1 < s.count; i++)
    n += point[s.first + i].knuckle != 0;
  return n;
}

static rw_status check_stations(const rw_offset *point, const hull_station *station, size_t n,
                                size_t *lines, rw_error *err)
{
  for (size_t i = 1; i + 1 < n; i++)
    if (station[i].count == 1)
      return rw_error_set(err, RW_ERR_ARGUMENT, ME, "point",
                          "give the keel and the sheer at least",
                          "station %zu has one point: only the two ends may", i + 1);
  *lines = knuckles(point, station[1]);
  for (size_t i = 0; i < n; i++)
    if (station[i].count > 1 && knuckles(point, station[i]) != *lines)
      return rw_error_set(err, RW_ERR_ARGUMENT, ME, "point.knuckle",
                          "mark each chine at every station, also where it is faint",
                          "station %zu has %zu knuckles, station 2 has %zu: chines must run from "
                          "end to end",
                          i + 1, knuckles(point, station[i]), *lines);
  return RW_OK;
}

static rw_status build(const rw_offset *point, const hull_station *station, size_t stations,
                       rw_hull **out, rw_error *err)
{
  size_t lines = 0;
  rw_status status = check_stations(point, station, stations, &lines, err);
  if (status != RW_OK)
    return status;
  rw_hull *h = hull_new(stations);
  if (h == NULL)
    return hull_no_memory(ME, err);
  for (size_t i = 0; i < stations; i++)
    h->x[i] = point[station[i].first].x;
  status = hull_skin_build(h, point, station, lines, err);
  if (status != RW_OK) {
    rw_hull_destroy(h);
    return status == RW_ERR_MEMORY ? hull_no_memory(ME, err) : status;
  }
  hull_sum_up(h);
  *out = h;
  return RW_OK;
}

rw_status rw_hull_from_offsets(const rw_offset *point, size_t n, rw_hull **out, rw_error *err)
{
  if (point == NULL || out == NULL)
    return hull_missing(ME, point == NULL ? "point" : "out", err);
  size_t stations = 0;
  rw_status status = check_points(point, n, &stations, err);
  if (status != RW_OK)
    return status;
  if (stations < 3)
    return rw_error_set(err, RW_ERR_ARGUMENT, ME, "n", "take offsets at more stations",
                        "a hull needs three stations or more, found %zu", stations);
  hull_station *station = calloc(stations, sizeof *station);
  if (station == NULL)
    return hull_no_memory(ME, err);
  gather(point, n, station);
  status = build(point, station, stations, out, err);
  free(station);
  return status;
}
