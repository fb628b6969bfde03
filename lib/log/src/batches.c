/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows about batches. */
#include "log_inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* Three readings of a kitchen scale that shows whole grams, or 2 %: common practice, no source. */
static const double SCALE = 0.003, SHARE = 0.02;
static const double SPREADS =
    12 * 3600.0; /* s, no mix spreads longer: common practice, no source */

static int same_name(const void *context, size_t a, size_t b)
{
  const rw_log *l = context;
  return strcasecmp(l->batch[a].name, l->batch[b].name) == 0;
}

static int same_cell(const void *context, size_t a, size_t b)
{
  const rw_log *l = context;
  return strcasecmp(rwi_log_cell(l, a, COL_BATCH), rwi_log_cell(l, b, COL_BATCH)) == 0;
}

static rwi_log_outcome read_cells(rwi_log_reader *r, size_t row, rw_log_batch *b)
{
  rwi_log_outcome outcome = rwi_log_needed(r, row, COL_BATCH, "a batch");
  if (outcome == GOOD)
    outcome = rwi_log_needed(r, row, COL_TIME, "a batch");
  if (outcome == GOOD)
    outcome = rwi_log_moment(r, row, COL_TIME, &b->mixed);
  if (outcome == GOOD)
    outcome = rwi_log_moment(r, row, COL_ON_HULL, &b->on_hull);
  if (outcome == GOOD)
    outcome = rwi_log_mass(r, row, COL_MASS, &b->mass);
  if (outcome == GOOD)
    outcome = rwi_log_mass(r, row, COL_RESIN, &b->resin);
  if (outcome == GOOD)
    outcome = rwi_log_mass(r, row, COL_HARDENER, &b->hardener);
  if (outcome == GOOD)
    outcome = rwi_log_mass(r, row, COL_APPLIED, &b->applied);
  if (outcome == GOOD)
    outcome = rwi_log_form(r, row, RW_LOG_FILM, &b->form);
  return outcome;
}

static rwi_log_outcome check_times(rwi_log_reader *r, size_t row, const rw_log_batch *b)
{
  char mixed[32], on[32];
  rwi_log_say(r->log, b->mixed, mixed);
  rwi_log_say(r->log, b->on_hull, on);
  if (b->on_hull < b->mixed)
    return rwi_log_fault(r, row, RW_ERR_ORDER,
                         "look at the dates: after midnight it is the next day's",
                         "it came on the hull at %s, before it was mixed at %s", on, mixed);
  if (b->on_hull > b->mixed + SPREADS)
    return rwi_log_fault(r, row, RW_ERR_ORDER, "look at the dates of both times",
                         "it came on the hull at %s, more than 12 h after it was mixed at %s", on,
                         mixed);
  return GOOD;
}

static double allowed(double mass)
{
  return fmax(SCALE, SHARE * mass);
}

static rwi_log_outcome more(rwi_log_reader *r, size_t row, double part, double mass,
                            const char *what)
{
  char found[40], whole[40];
  rw_text_round(1000 * part, 5, found);
  rw_text_round(1000 * mass, 5, whole);
  return rwi_log_fault(r, row, RW_ERR_RANGE,
                       "look at the masses: was the cup weighed with it, or another batch?",
                       "%s: %s g, but %s g were mixed", what, found, whole);
}

static rwi_log_outcome check_masses(rwi_log_reader *r, size_t row, rw_log_batch *b)
{
  double sum = b->resin + b->hardener;
  if (isnan(b->mass))
    b->mass = sum;
  double top = b->mass + allowed(b->mass);
  if (fabs(sum - b->mass) > allowed(b->mass))
    return more(r, row, sum, b->mass, "resin and hardener do not add up to the mixed mass");
  if (b->resin > top)
    return more(r, row, b->resin, b->mass, "more resin than mixed");
  if (b->hardener > top)
    return more(r, row, b->hardener, b->mass, "more hardener than mixed");
  if (b->applied > top)
    return more(r, row, b->applied, b->mass, "more was applied than mixed");
  return GOOD;
}

static rwi_log_outcome only_one(rwi_log_reader *r, size_t row)
{
  rw_log *l = r->log;
  uint64_t hash = rwi_log_hash(0, l->batch[l->batches].name);
  size_t first = rwi_log_set_find(&r->names, hash, l->batches, same_name, l);
  if (first == l->batches)
    return GOOD;
  return rwi_log_fault(r, row, RW_ERR_NAME, "give every batch a name or number of its own",
                       "a batch of this name stands in line %ld already", l->batch[first].line);
}

static rwi_log_outcome read_batch(rwi_log_reader *r, size_t row)
{
  rw_log *l = r->log;
  rw_log_batch *b = &l->batch[l->batches];
  *b = (rw_log_batch){.name = rwi_log_cell(l, row, COL_BATCH),
                      .place = rwi_log_cell(l, row, COL_PLACE),
                      .line = rwi_log_line(l, row)};
  rwi_log_outcome outcome = read_cells(r, row, b);
  if (outcome == GOOD)
    outcome = check_times(r, row, b);
  if (outcome == GOOD)
    outcome = check_masses(r, row, b);
  if (outcome == GOOD)
    outcome = only_one(r, row);
  if (outcome == GOOD) {
    rwi_log_set_put(&r->names, rwi_log_hash(0, b->name), l->batches, same_name, l);
    l->batches++;
  } else if (outcome == LEFT_OUT) {
    rwi_log_set_put(&r->lost, rwi_log_hash(0, b->name), row, same_cell, l);
  }
  return outcome;
}

rwi_log_outcome rwi_log_read_batches(rwi_log_reader *r)
{
  size_t n = rwi_log_rows_of(r, KIND_BATCH);
  r->log->batch = malloc((n + 1) * sizeof *r->log->batch);
  if (r->log->batch == NULL || !rwi_log_set_open(&r->names, n) || !rwi_log_set_open(&r->lost, n))
    return NO_MEMORY;
  rwi_log_outcome outcome = GOOD;
  for (size_t row = 0; row < r->rows && outcome != NO_MEMORY; row++)
    if (r->kind[row] == KIND_BATCH)
      outcome = read_batch(r, row);
  return outcome;
}

/* The batch whose name comes nearest, among so many that it does not take long. */
void rwi_log_nearest_batch(const rw_log *l, const char *name, char *hint, size_t size)
{
  enum { LOOKED_AT = 200 };
  const char *known[LOOKED_AT];
  size_t n = l->batches < LOOKED_AT ? l->batches : LOOKED_AT;
  for (size_t i = 0; i < n; i++)
    known[i] = l->batch[l->batches - 1 - i].name;
  int near = rw_nearest_name(name, known, n);
  char shown[RW_EXCERPT] = "";
  if (near >= 0)
    rw_text_excerpt(known[near], strlen(known[near]), shown);
  if (near >= 0)
    snprintf(hint, size, "did you mean \"%s\"?", shown);
  else
    snprintf(hint, size, "write a row \"batch\" for it, with the time it was mixed");
}

rwi_log_outcome rwi_log_batch_of(rwi_log_reader *r, size_t row, size_t *batch)
{
  rw_log *l = r->log;
  const char *name = rwi_log_cell(l, row, COL_BATCH);
  uint64_t hash = rwi_log_hash(0, name);
  l->batch[l->batches].name = name;
  *batch = rwi_log_set_find(&r->names, hash, l->batches, same_name, l);
  if (*batch < l->batches)
    return GOOD;
  char shown[RW_EXCERPT], hint[160];
  rw_text_excerpt(name, strlen(name), shown);
  size_t lost = rwi_log_set_find(&r->lost, hash, row, same_cell, l);
  if (lost != row)
    return rwi_log_fault(r, row, RW_ERR_NAME, "put that row right first",
                         "its batch \"%s\" in line %ld was left out", shown,
                         rwi_log_line(l, lost));
  rwi_log_nearest_batch(l, name, hint, sizeof hint);
  return rwi_log_fault(r, row, RW_ERR_NAME, hint, "there is no batch \"%s\"", shown);
}
