/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A log from its text, and a look at what it holds. */
#include "log_inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

static const char ME[] = "rw_log_parse";
enum { MOST_BYTES = 64 * 1024 * 1024 };

static rw_status no_memory(const char *name, rw_error *err)
{
  return rw_error_set(err, RW_ERR_MEMORY, ME, name, "close other programs, or split the log",
                      "not enough memory to read the log");
}

static rw_status make_table(rw_log *l, const char *bytes, size_t n, const char *name,
                            rw_error *err)
{
  char *copy = malloc(n + 1);
  if (copy == NULL)
    return no_memory(name, err);
  if (n > 0)
    memcpy(copy, bytes, n);
  copy[n] = '\0';
  rw_error said = {.line = 0};
  rw_status status = rwi_log_lines(l, copy, n);
  if (status == RW_OK)
    status = rw_table_parse(copy, n, "log", &l->table, &said);
  free(copy);
  if (status == RW_OK)
    return status;
  if (status == RW_ERR_MEMORY)
    return no_memory(name, err);
  rw_error_set(err, status, ME, name, said.hint, "%.100s, line %ld: %.180s", name, said.line,
               rwi_log_said(&said));
  rw_error_place(err, said.line, said.column);
  return status;
}

static rwi_log_outcome last_looks(rw_log *l)
{
  l->until = malloc((l->batches + 1) * sizeof *l->until);
  if (l->until == NULL)
    return NO_MEMORY;
  for (size_t i = 0; i < l->batches; i++)
    l->until[i] = l->batch[i].mixed;
  for (size_t i = 0; i < l->events; i++) {
    const rw_log_event *e = &l->event[i];
    l->until[e->batch] = fmax(l->until[e->batch], fmax(e->not_yet, e->already));
  }
  return GOOD;
}

static rwi_log_outcome read_rows(rwi_log_reader *r)
{
  static rwi_log_outcome (*const step[])(rwi_log_reader *) = {
      rwi_log_changes, rwi_log_read_batches, rwi_log_read_events, rwi_log_read_readings};
  rwi_log_outcome outcome = rwi_log_kinds(r);
  rwi_log_offset(r);
  for (size_t i = 0; i < sizeof step / sizeof *step && outcome != NO_MEMORY; i++)
    outcome = step[i](r);
  if (outcome != NO_MEMORY)
    outcome = last_looks(r->log);
  return outcome != NO_MEMORY ? rwi_log_remarks(r) : outcome;
}

static rw_status read_all(rwi_log_reader *r, const char *name, rw_error *err)
{
  rw_status status = rwi_log_columns(r, name, err);
  if (status != RW_OK)
    return status;
  r->rows = rw_table_rows(r->log->table);
  r->kind = calloc(r->rows + 1, sizeof *r->kind);
  rwi_log_outcome outcome = r->kind != NULL ? read_rows(r) : NO_MEMORY;
  free(r->kind);
  rwi_log_set_close(&r->names);
  rwi_log_set_close(&r->lost);
  if (outcome == NO_MEMORY)
    return no_memory(name, err);
  rwi_log_notes_sort(r->log);
  return RW_OK;
}

/* The first row that cannot be right refuses the log. */
static rw_status refuse(const rw_log *l, const char *name, rw_error *err)
{
  const rw_log_note *first = l->note;
  while (!first->left_out)
    first++;
  char others[64] = "";
  if (l->left_out > 1)
    snprintf(others, sizeof others, "; %zu more such row%s", l->left_out - 1,
             l->left_out > 2 ? "s" : "");
  rw_error_set(err, first->code, ME, name, first->hint, "%.60s, line %ld: %s%s", name, first->line,
               first->text, others);
  rw_error_place(err, first->line, 0);
  return first->code;
}

static rw_status check_options(const rw_log_options *o, rw_error *err)
{
  if (o->ratio == 0 || (o->ratio >= 0.02 && o->ratio <= 5))
    return RW_OK;
  return rw_error_range(err, ME, "ratio", o->ratio, 0.02, 5, "",
                        "It is kilograms of hardener for each kilogram of resin: 100:44 is 0.44.");
}

rw_status rw_log_parse(const char *bytes, size_t n, const char *name,
                       const rw_log_options *options, rw_log **out, rw_error *err)
{
  if ((bytes == NULL && n > 0) || out == NULL)
    return rw_error_set(err, RW_ERR_ARGUMENT, ME, out == NULL ? "out" : "bytes", NULL,
                        "a text to read and a place for the log are needed");
  rwi_log_reader r = {.o = options != NULL ? *options : (rw_log_options){0}};
  rw_status status = check_options(&r.o, err);
  if (status != RW_OK)
    return status;
  if (name == NULL)
    name = "log";
  if (n > MOST_BYTES)
    return rw_error_set(err, RW_ERR_RANGE, ME, name, "split the log",
                        "the log is too large: %zu bytes, allowed are at most %d", n,
                        (int)MOST_BYTES);
  r.log = calloc(1, sizeof *r.log);
  if (r.log == NULL)
    return no_memory(name, err);
  status = make_table(r.log, bytes, n, name, err);
  if (status == RW_OK)
    status = read_all(&r, name, err);
  if (status == RW_OK && r.log->left_out > 0 && !r.o.keep_good)
    status = refuse(r.log, name, err);
  if (status != RW_OK) {
    rw_log_destroy(r.log);
    return status;
  }
  *out = r.log;
  return RW_OK;
}

rw_status rw_log_read(const char *path, const rw_log_options *options, rw_log **out, rw_error *err)
{
  if (path == NULL || out == NULL)
    return rw_error_set(err, RW_ERR_ARGUMENT, "rw_log_read", path == NULL ? "path" : "out", NULL,
                        "a file name and a place for the log are needed");
  char *bytes;
  size_t n;
  rw_status status = rw_text_slurp(path, MOST_BYTES, &bytes, &n, err);
  if (status != RW_OK)
    return status;
  status = rw_log_parse(bytes, n, path, options, out, err);
  free(bytes);
  return status;
}

void rw_log_destroy(rw_log *l)
{
  if (l == NULL)
    return;
  rw_table_destroy(l->table);
  free(l->change);
  free(l->batch);
  free(l->event);
  free(l->reading);
  free(l->observer);
  free(l->until);
  free(l->note);
  free(l);
}

int rw_log_universal(const rw_log *l)
{
  return l->offset;
}

size_t rw_log_batches(const rw_log *l)
{
  return l->batches;
}

const rw_log_batch *rw_log_batch_at(const rw_log *l, size_t i)
{
  return i < l->batches ? &l->batch[i] : NULL;
}

size_t rw_log_events(const rw_log *l)
{
  return l->events;
}

const rw_log_event *rw_log_event_at(const rw_log *l, size_t i)
{
  return i < l->events ? &l->event[i] : NULL;
}

size_t rw_log_observers(const rw_log *l)
{
  return l->observers;
}

const char *rw_log_observer_at(const rw_log *l, size_t i)
{
  return i < l->observers ? l->observer[i] : NULL;
}

size_t rw_log_readings(const rw_log *l)
{
  return l->readings;
}

const rw_log_reading *rw_log_reading_at(const rw_log *l, size_t i)
{
  return i < l->readings ? &l->reading[i] : NULL;
}

size_t rw_log_notes(const rw_log *l)
{
  return l->notes;
}

const rw_log_note *rw_log_note_at(const rw_log *l, size_t i)
{
  return i < l->notes ? &l->note[i] : NULL;
}

size_t rw_log_left_out(const rw_log *l)
{
  return l->left_out;
}

rw_status rw_log_find(const rw_log *l, const char *name, size_t *i, rw_error *err)
{
  for (size_t k = 0; k < l->batches; k++)
    if (strcasecmp(l->batch[k].name, name) == 0) {
      *i = k;
      return RW_OK;
    }
  char shown[RW_EXCERPT], hint[160];
  rw_text_excerpt(name, strlen(name), shown);
  rwi_log_nearest_batch(l, name, hint, sizeof hint);
  return rw_error_set(err, RW_ERR_NAME, "rw_log_find", "name", hint, "the log has no batch \"%s\"",
                      shown);
}

rw_status rw_log_span(const rw_log *l, size_t batch, double *from, double *to, rw_error *err)
{
  if (batch >= l->batches)
    return rw_error_range(err, "rw_log_span", "batch", (double)batch, 0, (double)l->batches - 1,
                          "", "Batches are counted from 0.");
  *from = l->batch[batch].mixed;
  *to = l->until[batch];
  return RW_OK;
}
