/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The straight pieces of a history; times count from `origin`, so that a clock since 1970 costs
 * no digits. */
#ifndef RW_CURE_TRACK_H
#define RW_CURE_TRACK_H

#include <resinwright/base.h>
#include <resinwright/history.h>

typedef struct track {
  const double *time;
  const double *temperature;
  size_t points;
  size_t piece; /* the piece in hand */
  double origin;
  double shift; /* K added to the history */
} track;

/* Checks what every walk is asked with and finds the piece to begin on. RW_ERR_COVERAGE,
 * RW_ERR_RANGE with the name of the public function that asks. */
rw_status track_start(track *k, const char *function, const rw_history *h, double from, double to,
                      double start, double tolerance, rw_error *err);

/* The last piece that begins at or before a time of the clock. */
size_t track_piece(const double *time, size_t points, double clock);

/* Finds the piece that holds t, which must not fall from call to call. */
static inline void track_seek(track *k, double t)
{
  while (k->piece + 2 < k->points && k->time[k->piece + 1] - k->origin <= t)
    k->piece++;
}

/* End of the piece in hand. */
static inline double track_stop(const track *k)
{
  return k->time[k->piece + 1] - k->origin;
}

/* Temperature on the piece in hand, and its slope in K/s. */
static inline double track_temperature(const track *k, double t, double *slope)
{
  size_t i = k->piece;
  *slope = (k->temperature[i + 1] - k->temperature[i]) / (k->time[i + 1] - k->time[i]);
  return k->temperature[i] + *slope * (t - (k->time[i] - k->origin)) + k->shift;
}

#endif
