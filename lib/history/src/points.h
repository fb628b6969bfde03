/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A growing list of points, turned into a history at the end. */
#ifndef RW_HISTORY_POINTS_H
#define RW_HISTORY_POINTS_H

#include <resinwright/history.h>

struct rw_history {
  size_t n;
  size_t room;
  double *time;
  double *temperature;
  double *humidity;
};

/* An empty history with room for some points; NULL where memory is short. */
rw_history *points_start(size_t room);
/* Adds a point; on lack of memory frees the list and returns 0. */
int points_add(rw_history *h, double time, double temperature, double humidity);
/* RW_ERR_MEMORY, said for a function. */
rw_status points_no_memory(const char *function, rw_error *err);
/* The piece [i, i+1] a time lies in; at a step the later one. */
size_t points_piece(const rw_history *h, double time);

#endif
