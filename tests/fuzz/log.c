/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Logs: with the good rows kept, what is read is in order, every row left out is explained, and a
 * log without those rows reads the same; as it stands it reads or is refused with a line. */
#include "fuzz.h"

#include <math.h>

static void in_order(const rw_log *l)
{
  for (size_t i = 0; i < rw_log_batches(l); i++) {
    const rw_log_batch *b = rw_log_batch_at(l, i);
    size_t found = i + 1;
    HOLDS(strlen(b->name) > 0 && isfinite(b->mixed) && !(b->on_hull < b->mixed));
    HOLDS(!(b->mass <= 0) && !(b->resin <= 0) && !(b->hardener <= 0) && !(b->applied <= 0));
    HOLDS(rw_log_find(l, b->name, &found, NULL) == RW_OK && found == i);
  }
  for (size_t i = 0; i < rw_log_events(l); i++) {
    const rw_log_event *e = rw_log_event_at(l, i);
    HOLDS(e->batch < rw_log_batches(l) && e->who < rw_log_observers(l));
    HOLDS(e->found < RW_FOUND_WORDS && !(e->already < e->not_yet));
    HOLDS(!isnan(e->not_yet) || !isnan(e->already));
    HOLDS(!(e->not_yet < rw_log_batch_at(l, e->batch)->mixed));
    HOLDS((e->known == RW_LOG_LEFT) == isnan(e->not_yet));
    HOLDS((e->known == RW_LOG_RIGHT) == isnan(e->already));
  }
  double before = -HUGE_VAL;
  for (size_t i = 0; i < rw_log_readings(l); i++) {
    const rw_log_reading *a = rw_log_reading_at(l, i);
    HOLDS(a->time >= before && !(a->low > a->high));
    HOLDS(!(a->humidity < 0) && !(a->humidity > 1));
    before = a->time;
  }
}

static void has_temperatures(const rw_log *l)
{
  for (size_t i = 0; i < rw_log_batches(l) && i < 4; i++) {
    double from, to;
    size_t n = 99;
    rw_log_gap gap[2];
    rw_history *h = NULL;
    rw_error err;
    HOLDS(rw_log_span(l, i, &from, &to, NULL) == RW_OK && from <= to);
    HOLDS(rw_log_gaps(l, RW_LOG_AIR, from, to, RW_LOG_BRIDGE, gap, 2, &n, NULL) == RW_OK);
    rw_status status = rw_log_history(l, RW_LOG_AIR, from, to, RW_LOG_BRIDGE, &h, &err);
    if (status < 0) {
      explained(&err, status, "rw_log_history");
      HOLDS(n > 0 || from == to);
    } else {
      double first, last;
      rw_history_span(h, &first, &last);
      HOLDS(n == 0 && first <= from && last >= to);
      rw_history_destroy(h);
    }
  }
}

static size_t notes_explained(const rw_log *l, size_t size)
{
  size_t out = 0;
  for (size_t i = 0; i < rw_log_notes(l); i++) {
    const rw_log_note *note = rw_log_note_at(l, i);
    HOLDS(strlen(note->text) > 10 && note->line >= 0 && (size_t)note->line <= size);
    HOLDS(note->left_out == (note->code < 0) && (!note->left_out || note->line > 0));
    out += note->left_out != 0;
  }
  HOLDS(out == rw_log_left_out(l));
  return out;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
  char *bytes = exact_copy(data, size);
  rw_error err;
  rw_log *strict = NULL, *kept = NULL;
  rw_log_options keep = {.keep_good = 1};
  rw_status one = rw_log_parse(bytes, size, NULL, NULL, &strict, &err);
  if (one != RW_OK) {
    explained(&err, one, "rw_log_parse");
    HOLDS(strict == NULL);
  }
  rw_status two = rw_log_parse(bytes, size, NULL, &keep, &kept, &err);
  free(bytes);
  if (two == RW_OK) {
    in_order(kept);
    has_temperatures(kept);
    size_t out = notes_explained(kept, size);
    HOLDS(one == RW_OK || out > 0 || one == RW_ERR_NAME);
    HOLDS(one != RW_OK || (out == 0 && rw_log_events(strict) == rw_log_events(kept)));
  } else {
    explained(&err, two, "rw_log_parse");
    /* A column that is not known is refused before what is wrong with others. */
    HOLDS(kept == NULL && (one == two || one == RW_ERR_NAME));
  }
  rw_log_destroy(strict);
  rw_log_destroy(kept);
  return 0;
}
