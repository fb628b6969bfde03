/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the rows of a logbook to notes that can be fitted. */
#include <resinwright/fit.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char CREATE[] = "rw_notes_log_create";
static const double BEFORE = 6;       /* lags before mixing from which on the air still counts */
static const double TOLERANCE = 0.02; /* K, of a hull that lags */

struct rw_notes_log {
  rw_notes_data data;
  rw_notes_batch *batch; /* room for all batches of the log; the data's come first */
  size_t *batch_of;      /* batch of the log, by batch of the notes */
  rw_notes_row *row;     /* room for all events */
  size_t *event_of;
  rw_notes_omitted *omitted;
  size_t omissions;
};

rw_milestone rw_notes_event(rw_log_found found)
{
  static const rw_milestone tells[RW_FOUND_WORDS] = {
      [RW_FOUND_THICK] = RW_WORK_END,
      [RW_FOUND_GELLED] = RW_GEL,
      [RW_FOUND_TACKY] = RW_GEL,
      [RW_FOUND_FIRM] = RW_RECOAT_OPENS,
      [RW_FOUND_TACK_FREE] = RW_BLUSH_PAST,
      [RW_FOUND_CUTS_CLEAN] = RW_TRIM_OPENS,
      [RW_FOUND_CUTS_HARD] = RW_TRIM_CLOSES,
      [RW_FOUND_THUMBNAIL_NONE] = RW_RECOAT_CLOSES,
      [RW_FOUND_HARD] = RW_HANDLE,
      [RW_FOUND_SANDS] = RW_SAND,
  };
  return (unsigned)found < RW_FOUND_WORDS ? tells[found] : RW_MILESTONES;
}

static double last_look(const rw_log_event *e)
{
  return isnan(e->already) ? e->not_yet : e->already;
}

/* Why an event is not taken, as an error that does not stop; RW_OK where it is taken. */
static rw_status is_wanted(const rw_log *log, const rw_notes_choice *c, const rw_log_event *e,
                           rw_error *why)
{
  const rw_log_batch *b = rw_log_batch_at(log, e->batch);
  const char *word = rw_log_found_key(e->found);
  for (size_t i = 0; i < c->withouts; i++)
    if (c->without[i] == e->batch)
      return rw_error_set(why, RW_ERR_ARGUMENT, CREATE, "without", NULL,
                          "batch \"%s\" is left out as asked", b->name);
  if (e->form == RW_LOG_CUP)
    return rw_error_set(why, RW_ERR_ARGUMENT, CREATE, "form",
                        "Note what the film on the hull does as well.",
                        "batch \"%s\", \"%s\": seen in the cup, which warms itself, so it tells "
                        "nothing of a film",
                        b->name, word);
  if (b->suspect && !c->suspects)
    return rw_error_set(why, RW_ERR_ARGUMENT, CREATE, "suspects",
                        "Ask for suspect batches too, to test them against the others.",
                        "batch \"%s\", \"%s\": its mixing ratio is in doubt", b->name, word);
  if (last_look(e) <= b->mixed)
    return rw_error_set(why, RW_ERR_ARGUMENT, CREATE, "already", "Check the time of mixing.",
                        "batch \"%s\", \"%s\": the only look is at the moment of mixing", b->name,
                        word);
  return RW_OK;
}

static void omit(rw_notes_log *n, size_t event, const rw_error *why)
{
  rw_notes_omitted *o = &n->omitted[n->omissions++];
  o->event = event;
  snprintf(o->text, sizeof o->text, "%s", why->message);
  snprintf(o->hint, sizeof o->hint, "%s", why->hint);
}

/* The air's history from well before mixing where it reaches so far, as a lag remembers. */
static rw_status air_before(const rw_log *log, const rw_notes_choice *c, double mixed, double to,
                            rw_history **out, rw_error *err)
{
  rw_status status = RW_ERR_COVERAGE;
  if (c->lag > 0)
    status = rw_log_history(log, RW_LOG_AIR, mixed - BEFORE * c->lag, to, c->bridge, out, err);
  return status == RW_ERR_COVERAGE
             ? rw_log_history(log, RW_LOG_AIR, mixed, to, c->bridge, out, err)
             : status;
}

/* The hull from mixing to a look: RW_ERR_COVERAGE where no thermometer tells. */
static rw_status hull_until(const rw_log *log, const rw_notes_choice *c, double mixed, double to,
                            rw_history **out, rw_error *err)
{
  rw_error unused;
  rw_status status = rw_log_history(log, RW_LOG_HULL, mixed, to, c->bridge, out, &unused);
  if (status != RW_ERR_COVERAGE) {
    if (status < 0 && err != NULL)
      *err = unused;
    return status;
  }
  rw_history *air = NULL;
  status = air_before(log, c, mixed, to, &air, err);
  if (status < 0)
    return status;
  if (c->lag == 0) {
    *out = air;
    return status;
  }
  status = rw_history_lag(air, c->lag, NAN, TOLERANCE, out, err);
  rw_history_destroy(air);
  return status;
}

/* Latest look of a batch that lies before another time and is wanted; -HUGE_VAL: none. */
static double look_before(const rw_log *log, const rw_notes_choice *c, size_t batch, double before)
{
  double last = -HUGE_VAL;
  for (size_t i = 0; i < rw_log_events(log); i++) {
    const rw_log_event *e = rw_log_event_at(log, i);
    double look = last_look(e);
    if (e->batch == batch && look < before && look > last && is_wanted(log, c, e, NULL) == RW_OK)
      last = look;
  }
  return last;
}

/* The hull of a batch as far as it is known, for as many looks as that serves. */
static rw_status known_hull(const rw_log *log, const rw_notes_choice *c, size_t batch,
                            rw_history **out, double *until, rw_error *err)
{
  double mixed = rw_log_batch_at(log, batch)->mixed, to = HUGE_VAL;
  *out = NULL;
  for (;;) {
    to = look_before(log, c, batch, to);
    *until = to;
    if (to == -HUGE_VAL)
      return RW_OK;
    rw_status status = hull_until(log, c, mixed, to, out, err);
    if (status != RW_ERR_COVERAGE)
      return status;
  }
}

static rw_status add_event(rw_notes_log *n, const rw_log *log, const rw_notes_choice *c, size_t i,
                           double until, rw_error *err)
{
  const rw_log_event *e = rw_log_event_at(log, i);
  double look = last_look(e);
  rw_error why = {.code = RW_OK};
  rw_status status = is_wanted(log, c, e, &why);
  if (status == RW_OK && look > until) {
    rw_history *unused = NULL;
    status = hull_until(log, c, rw_log_batch_at(log, e->batch)->mixed, look, &unused, &why);
    rw_history_destroy(unused);
    if (status != RW_ERR_COVERAGE) {
      if (err != NULL)
        *err = why;
      return status;
    }
  }
  if (status != RW_OK) {
    omit(n, i, &why);
    return RW_OK;
  }
  n->event_of[n->data.rows] = i;
  n->row[n->data.rows++] = (rw_notes_row){.batch = n->data.batches,
                                          .event = rw_notes_event(e->found),
                                          .not_yet = e->not_yet,
                                          .already = e->already,
                                          .observer = e->who,
                                          .weight = 1};
  return RW_OK;
}

static rw_status add_batch(rw_notes_log *n, const rw_log *log, const rw_notes_choice *c, size_t b,
                           rw_error *err)
{
  rw_history *hull;
  double until;
  size_t before = n->data.rows;
  rw_status status = known_hull(log, c, b, &hull, &until, err);
  for (size_t i = 0; i < rw_log_events(log) && status >= 0; i++)
    if (rw_log_event_at(log, i)->batch == b)
      status = add_event(n, log, c, i, until, err);
  if (status < 0 || n->data.rows == before) {
    rw_history_destroy(hull);
    return status < 0 ? status : RW_OK;
  }
  n->batch_of[n->data.batches] = b;
  n->batch[n->data.batches++] = (rw_notes_batch){hull, rw_log_batch_at(log, b)->mixed};
  return RW_OK;
}

static int by_event(const void *a, const void *b)
{
  size_t x = ((const rw_notes_omitted *)a)->event, y = ((const rw_notes_omitted *)b)->event;
  return (x > y) - (x < y);
}

static rw_status check_choice(const rw_log *log, const rw_notes_choice *c, rw_error *err)
{
  if (!(c->bridge >= 60 && c->bridge <= 1e7))
    return rw_error_range(err, CREATE, "bridge", c->bridge, 60, 1e7, "s",
                          "It is the longest time between two readings that is no gap.");
  if (!(c->lag >= 0 && c->lag <= 1e6))
    return rw_error_range(err, CREATE, "lag", c->lag, 0, 1e6, "s",
                          "Planks of 6 mm lag half an hour or so behind the air.");
  for (size_t i = 0; i < c->withouts; i++)
    if (c->without[i] >= rw_log_batches(log))
      return rw_error_range(err, CREATE, "without", (double)c->without[i], 0,
                            (double)rw_log_batches(log) - 1, "", NULL);
  return RW_OK;
}

static int has_room(rw_notes_log *n, size_t batches, size_t events)
{
  n->batch = calloc(batches + 1, sizeof *n->batch);
  n->batch_of = calloc(batches + 1, sizeof *n->batch_of);
  n->row = calloc(events + 1, sizeof *n->row);
  n->event_of = calloc(events + 1, sizeof *n->event_of);
  n->omitted = calloc(events + 1, sizeof *n->omitted);
  return n->batch != NULL && n->batch_of != NULL && n->row != NULL && n->event_of != NULL &&
         n->omitted != NULL;
}

rw_status rw_notes_log_create(const rw_log *log, const rw_notes_choice *choice, rw_notes_log **out,
                              rw_error *err)
{
  rw_notes_choice c = {0};
  if (choice != NULL)
    c = *choice;
  if (c.bridge == 0)
    c.bridge = RW_LOG_BRIDGE;
  rw_status status = check_choice(log, &c, err);
  if (status != RW_OK)
    return status;
  size_t batches = rw_log_batches(log), events = rw_log_events(log);
  size_t observers = rw_log_observers(log);
  rw_notes_log *n = calloc(1, sizeof *n);
  if (n == NULL || !has_room(n, batches, events))
    status = rw_error_set(err, RW_ERR_MEMORY, CREATE, NULL, NULL,
                          "not enough memory for the notes of the log");
  for (size_t b = 0; b < batches && status >= 0; b++)
    status = add_batch(n, log, &c, b, err);
  if (status < 0) {
    rw_notes_log_destroy(n);
    return status;
  }
  qsort(n->omitted, n->omissions, sizeof *n->omitted, by_event);
  n->data.batch = n->batch;
  n->data.row = n->row;
  n->data.observers = observers > 0 ? observers : 1;
  *out = n;
  return RW_OK;
}

void rw_notes_log_destroy(rw_notes_log *n)
{
  if (n == NULL)
    return;
  for (size_t i = 0; i < n->data.batches; i++)
    rw_history_destroy((rw_history *)n->batch[i].hull);
  free(n->batch);
  free(n->batch_of);
  free(n->row);
  free(n->event_of);
  free(n->omitted);
  free(n);
}

const rw_notes_data *rw_notes_log_data(const rw_notes_log *n)
{
  return &n->data;
}

size_t rw_notes_log_batch(const rw_notes_log *n, size_t batch)
{
  return n->batch_of[batch];
}

size_t rw_notes_log_event(const rw_notes_log *n, size_t row)
{
  return n->event_of[row];
}

size_t rw_notes_log_omitted(const rw_notes_log *n)
{
  return n->omissions;
}

const rw_notes_omitted *rw_notes_log_omitted_at(const rw_notes_log *n, size_t i)
{
  return i < n->omissions ? &n->omitted[i] : NULL;
}
