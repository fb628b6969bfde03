/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * @file hull.h
 * @brief Fourth floor: stations with girths or offsets; area, bands, girth profile.
 *
 * Functions that return a status return RW_ERR_ARGUMENT where a pointer other than err is NULL;
 * the others take a hull that was made. Positions up to 1e-9 of the length beyond an end count as
 * the end, so that stations added up in binary do not miss it.
 *
 * Threads: a finished hull may be read by many threads.
 */
#ifndef RESINWRIGHT_HULL_H
#define RESINWRIGHT_HULL_H

#include <resinwright/base.h>

#ifdef __cplusplus
extern "C" {
#endif

/** A hull skin described by its stations. */
typedef struct rw_hull rw_hull;

/**
 * A hull from girths measured sheer to sheer.
 * Between stations the girth is a not-a-knot cubic spline, never below 0.
 * @param x      n station positions along the hull, m, rising by 1e-6 or more; -1000 to 1000
 * @param girth  n girths, m, > 0 (0 allowed at the two ends); at most 20
 * @param n      stations, >= 3
 * @param out    hull; free with rw_hull_destroy
 * @param err    error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED where two neighbouring girths differ by more than a factor of
 *         four away from the ends; RW_ERR_ARGUMENT for fewer than three stations or a value not
 *         finite; RW_ERR_ORDER; RW_ERR_RANGE; RW_ERR_MEMORY
 */
RW_API rw_status rw_hull_from_girths(const double *x, const double *girth, size_t n, rw_hull **out,
                                     rw_error *err);

/** A point of one half of a station, from the keel to the sheer. */
typedef struct rw_offset {
  double x;      /**< station position, m, -1000 to 1000; the same number for its points */
  double half;   /**< half-breadth, m, 0 to 20 */
  double height; /**< height, m, -1000 to 1000 */
  int knuckle;   /**< 1 where the skin has a chine here: not smoothed across; means nothing at
                      keel and sheer */
} rw_offset;

/**
 * A hull from offsets of one half. Points of a station stand together, keel first; stations in
 * rising x. Across, each station is a spline by chord length (split at knuckles); along, points
 * at equal share of girth between the same knuckles are joined by splines; the area is that of
 * this surface, both halves, and includes the slope along the hull that girths leave out. The
 * girth of a station is the arc length of its splines, both sides.
 *
 * Along, everything is splined over the mean distance the points of two stations lie apart, not
 * over x, so that a blunt end or a transom is smooth too; x never turns back in it. The area of
 * the surface is integrated with 5 by 5 Gauss points between neighbouring stations and rows of
 * points. For smooth shapes the error falls with the fourth power of the spacing of stations and
 * points; at a blunt end only where the stations crowd towards it (cosine spacing), with the
 * second power where they are evenly spaced. Where a station opens a part that others lack (a
 * deck, a skeg), add points or stations: shares of girth then no longer mark the same place on the
 * hull.
 * @param point  n points
 * @param n      how many
 * @param out    hull; free with rw_hull_destroy
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT for fewer than three stations, a station of one point (but for
 *         the two ends), a value not finite, or unequal counts of knuckles; RW_ERR_ORDER for
 *         stations that do not rise by 1e-6 m or neighbouring points of a station less than that
 *         apart; RW_ERR_RANGE; RW_ERR_MEMORY
 */
RW_API rw_status rw_hull_from_offsets(const rw_offset *point, size_t n, rw_hull **out,
                                      rw_error *err);
/**
 * Read a hull from a table file: columns "x [m]" and "girth [mm]" (any lengths), one row a
 * station; or "x [m]", "half [mm]", "height [mm]" and, where there are chines, "knuckle" (0 or
 * 1), one row a point.
 * @param path  file
 * @param out   hull
 * @param err   error record, or NULL, with file, line and column
 * @return as rw_table_read, rw_column_find, rw_hull_from_girths and rw_hull_from_offsets
 */
RW_API rw_status rw_hull_read(const char *path, rw_hull **out, rw_error *err);
/**
 * Free a hull.
 * @param h  hull, or NULL
 */
RW_API void rw_hull_destroy(rw_hull *h);
/**
 * Skin area between two positions, both sides.
 *
 * From girths the whole is Simpson's first rule where the stations are evenly spaced (to 1e-9)
 * and odd in count, else the integral of the spline through the girths. A part has the share of
 * the whole that the spline gives it, so that parts always add up to the whole. From offsets it is
 * the area of the surface.
 *
 * The sd holds, added as squares: a quarter of the difference between the integral of the girths
 * and the trapezoid rule over the same stations; 0.5 % for reading a tape (common practice, no
 * source); and, from girths, the whole of what the slope along the hull would add if the skin
 * leaned by a quarter of the girth's slope: the integral of g (sqrt(1 + (g'/4)^2) - 1).
 * @param h     hull
 * @param from  m, not before the first station
 * @param to    m, not after the last
 * @param area  m2 (value: from girths the plain integral, without the slope term)
 * @param err   error record, or NULL
 * @return RW_OK; RW_ERR_COVERAGE (also for a position not finite); RW_ERR_RANGE where to <= from
 */
RW_API rw_status rw_hull_area(const rw_hull *h, double from, double to, rw_value *area,
                              rw_error *err);
/**
 * Girth at a position, never below 0: the spline through the girths of the stations.
 * @param h      hull
 * @param x      m
 * @param girth  m
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_COVERAGE
 */
RW_API rw_status rw_hull_girth(const rw_hull *h, double x, double *girth, rw_error *err);
/**
 * Greatest girth and where it is.
 * @param h      hull
 * @param x      m, or NULL
 * @param girth  m, or NULL
 */
RW_API void rw_hull_widest(const rw_hull *h, double *x, double *girth);
/**
 * Length of hull where the girth is above a limit, as one stretch from first to last such place.
 * @param h      hull
 * @param limit  m
 * @param from   m, or NULL; NaN where nowhere
 * @param to     m, or NULL; NaN where nowhere
 * @return length, m; 0 where nowhere
 */
RW_API double rw_hull_wider_than(const rw_hull *h, double limit, double *from, double *to);
/**
 * First and last station.
 * @param h     hull
 * @param from  m, or NULL
 * @param to    m, or NULL
 */
RW_API void rw_hull_span(const rw_hull *h, double *from, double *to);
/**
 * The stations for reading.
 * @param h      hull
 * @param x      positions, owned by the hull; or NULL
 * @param girth  girths, likewise; or NULL
 * @return how many
 */
RW_API size_t rw_hull_stations(const rw_hull *h, const double **x, const double **girth);
/**
 * Cut the hull into bands of equal area, stern to bow or the other way as x runs.
 * @param h     hull
 * @param n     bands, 1 to 200
 * @param edge  n+1 positions, m, rising; the first and last are the ends of the hull
 * @param err   error record, or NULL
 * @return RW_OK; RW_ERR_RANGE; RW_ERR_NUMERIC
 */
RW_API rw_status rw_hull_bands(const rw_hull *h, size_t n, double *edge, rw_error *err);

#ifdef __cplusplus
}
#endif
#endif
