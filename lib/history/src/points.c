/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "points.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static int grow(rw_history *h, size_t room)
{
  if (room > SIZE_MAX / (3 * sizeof(double)))
    return 0;
  double *block = malloc(3 * room * sizeof *block);
  if (block == NULL)
    return 0;
  if (h->n > 0) {
    memcpy(block, h->time, h->n * sizeof *block);
    memcpy(block + room, h->temperature, h->n * sizeof *block);
    memcpy(block + 2 * room, h->humidity, h->n * sizeof *block);
  }
  free(h->time);
  h->time = block;
  h->temperature = block + room;
  h->humidity = block + 2 * room;
  h->room = room;
  return 1;
}

rw_history *points_start(size_t room)
{
  rw_history *h = calloc(1, sizeof *h);
  if (h == NULL || !grow(h, room > 4 ? room : 4)) {
    free(h);
    return NULL;
  }
  return h;
}

int points_add(rw_history *h, double time, double temperature, double humidity)
{
  if (h->n == h->room && !grow(h, 2 * h->room)) {
    rw_history_destroy(h);
    return 0;
  }
  h->time[h->n] = time;
  h->temperature[h->n] = temperature;
  h->humidity[h->n] = humidity;
  h->n++;
  return 1;
}

rw_status points_no_memory(const char *function, rw_error *err)
{
  return rw_error_set(err, RW_ERR_MEMORY, function, NULL, NULL,
                      "not enough memory for a temperature history");
}

size_t points_piece(const rw_history *h, double time)
{
  size_t low = 0, high = h->n - 1;
  while (high - low > 1) {
    size_t mid = (low + high) / 2;
    if (time < h->time[mid])
      high = mid;
    else
      low = mid;
  }
  return low;
}

void rw_history_destroy(rw_history *h)
{
  if (h == NULL)
    return;
  free(h->time);
  free(h);
}
