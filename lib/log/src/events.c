/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows about events: what cannot be true is left out, rows about one event are joined. */
#include "log_inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

static const double LATEST = 400 * 86400.0;

/* A look: when, and the line that tells. */
typedef struct look {
  double time;
  long line;
} look;

/* All that one observer, or any, found on one spot of a batch. */
typedef struct group {
  const rw_log_event *sample;
  look not_yet[RW_FOUND_WORDS]; /* last */
  look already[RW_FOUND_WORDS]; /* first */
  look passing[RW_FOUND_WORDS]; /* last that found it */
  size_t event[RW_FOUND_WORDS]; /* index + 1; 0 is none */
} group;

/* Groups of one kind, and how they are told apart. */
typedef struct groups {
  group *list;
  size_t n;
  int any_observer;
  rwi_log_set set;
} groups;

typedef struct events {
  rwi_log_reader *r;
  rw_log_event *row; /* every row as it was read */
  size_t n;
  rwi_log_set observers;
  groups one, any;
} events;

static rwi_log_outcome read_word(rwi_log_reader *r, size_t row, rw_log_found *found)
{
  static const char *const keys[] = {
#define RW_X(name, key, stage, passing, text) key,
      RW_LOG_FOUND_LIST(RW_X)
#undef RW_X
  };
  const char *cell = rwi_log_cell(r->log, row, COL_FOUND);
  for (int i = 0; i < RW_FOUND_WORDS; i++)
    if (strcasecmp(cell, keys[i]) == 0) {
      *found = (rw_log_found)i;
      return GOOD;
    }
  char shown[RW_EXCERPT], hint[200];
  rw_text_excerpt(cell, strlen(cell), shown);
  rwi_log_nearest(cell, keys, RW_FOUND_WORDS,
                  "the words are thick, gelled, tacky, firm, tack_free, cuts_clean, cuts_hard, "
                  "thumbnail_none, hard, sands; what was not yet so goes under \"not_yet\"",
                  hint, sizeof hint);
  return rwi_log_fault(r, row, RW_ERR_NAME, hint, "\"%s\" is no word for what was found", shown);
}

static rwi_log_outcome read_cells(rwi_log_reader *r, size_t row, rw_log_event *e)
{
  rwi_log_outcome outcome = rwi_log_needed(r, row, COL_BATCH, "an event");
  if (outcome == GOOD)
    outcome = rwi_log_needed(r, row, COL_FOUND, "an event");
  if (outcome == GOOD)
    outcome = rwi_log_batch_of(r, row, &e->batch);
  if (outcome == GOOD)
    outcome = read_word(r, row, &e->found);
  if (outcome == GOOD)
    outcome = rwi_log_form(r, row, r->log->batch[e->batch].form, &e->form);
  if (outcome == GOOD)
    outcome = rwi_log_moment(r, row, COL_NOT_YET, &e->not_yet);
  if (outcome == GOOD)
    outcome = rwi_log_moment(r, row, COL_ALREADY, &e->already);
  if (outcome == GOOD && isnan(e->not_yet) && isnan(e->already))
    return rwi_log_fault(r, row, RW_ERR_SYNTAX,
                         "fill in the look that found it not yet, or already, or both",
                         "an event needs a time under \"not_yet\" or \"already\"");
  return outcome;
}

static rwi_log_outcome too_early(rwi_log_reader *r, size_t row, const char *column, double t,
                                 double mixed)
{
  char found[32], start[32];
  rwi_log_say(r->log, t, found);
  rwi_log_say(r->log, mixed, start);
  return rwi_log_fault(
      r, row, RW_ERR_ORDER, "look at the dates: after midnight it is the next day's",
      "%s under \"%s\" lies before its batch was mixed at %s", found, column, start);
}

static rwi_log_outcome check_times(rwi_log_reader *r, size_t row, const rw_log_event *e)
{
  double mixed = r->log->batch[e->batch].mixed;
  if (e->not_yet < mixed)
    return too_early(r, row, "not_yet", e->not_yet, mixed);
  if (e->already <= mixed)
    return too_early(r, row, "already", e->already, mixed);
  char not_yet[32], already[32];
  rwi_log_say(r->log, e->not_yet, not_yet);
  rwi_log_say(r->log, e->already, already);
  if (e->already < e->not_yet)
    return rwi_log_fault(
        r, row, RW_ERR_ORDER, "look at the dates: after midnight it is the next day's",
        "it was found already at %s, before it was found not yet at %s", already, not_yet);
  if (e->not_yet > mixed + LATEST || e->already > mixed + LATEST)
    return rwi_log_fault(r, row, RW_ERR_ORDER, "look at the year",
                         "it was looked at more than 400 days after its batch was mixed");
  return GOOD;
}

/* Two rows that cannot both be true. */
typedef struct conflict {
  rw_log_found a, b;
  const char *how_a, *how_b;
  double time;
  look other;
} conflict;

static void describe(const rw_log *l, const conflict *c, char *text, size_t size)
{
  char first[32], second[32];
  rwi_log_say(l, c->time, first);
  rwi_log_say(l, c->other.time, second);
  snprintf(text, size, "%s %s at %s, but %s %s at %s (line %ld)", c->how_a, rw_log_found_key(c->a),
           first, c->how_b, rw_log_found_key(c->b), second, c->other.line);
}

static int clash(conflict *c, conflict found)
{
  *c = found;
  return 1;
}

/* Whether a row contradicts what is known of a group, and how. */
static int contradicts(const group *g, const rw_log_event *e, conflict *c)
{
  rw_log_found a = e->found;
  int own = rw_log_found_stage(a);
  if (e->not_yet > g->already[a].time)
    return clash(c, (conflict){a, a, "not yet", "already", e->not_yet, g->already[a]});
  if (e->already < g->not_yet[a].time)
    return clash(c, (conflict){a, a, "already", "not yet", e->already, g->not_yet[a]});
  for (int i = 0; i < RW_FOUND_WORDS; i++) {
    rw_log_found b = (rw_log_found)i;
    int stage = rw_log_found_stage(b);
    if (own < stage && e->not_yet >= g->already[b].time)
      return clash(c, (conflict){a, b, "not yet", "already", e->not_yet, g->already[b]});
    if (own > stage && e->already <= g->not_yet[b].time)
      return clash(c, (conflict){a, b, "already", "not yet", e->already, g->not_yet[b]});
    if (rwi_log_passing(a) && stage >= own + 2 && e->already > g->already[b].time)
      return clash(c, (conflict){a, b, "still", "already", e->already, g->already[b]});
    if (rwi_log_passing(b) && own >= stage + 2 && e->already < g->passing[b].time)
      return clash(c, (conflict){a, b, "already", "still", e->already, g->passing[b]});
  }
  return 0;
}

static void keep_later(look *l, double time, long line)
{
  if (!isnan(time) && !(l->time >= time))
    *l = (look){time, line};
}

static void keep_earlier(look *l, double time, long line)
{
  if (!isnan(time) && !(l->time <= time))
    *l = (look){time, line};
}

static void learn(group *g, const rw_log_event *e)
{
  keep_later(&g->not_yet[e->found], e->not_yet, e->line);
  keep_earlier(&g->already[e->found], e->already, e->line);
  if (rwi_log_passing(e->found))
    keep_later(&g->passing[e->found], e->already, e->line);
}

static int same_group(const void *context, size_t a, size_t b)
{
  const groups *all = context;
  const rw_log_event *left = all->list[a].sample, *right = all->list[b].sample;
  return left->batch == right->batch && left->form == right->form &&
         strcasecmp(left->place, right->place) == 0 &&
         (all->any_observer || left->who == right->who);
}

static group *group_of(groups *all, const rw_log_event *e)
{
  uint64_t hash = rwi_log_hash((uint64_t)e->batch * 2 + (uint64_t)e->form, e->place);
  if (!all->any_observer)
    hash = rwi_log_hash(hash, e->observer);
  group *fresh = &all->list[all->n];
  *fresh = (group){.sample = e};
  size_t at = rwi_log_set_put(&all->set, hash, all->n, same_group, all);
  if (at < all->n)
    return &all->list[at];
  all->n++;
  for (int i = 0; i < RW_FOUND_WORDS; i++)
    fresh->not_yet[i].time = fresh->already[i].time = fresh->passing[i].time = NAN;
  return fresh;
}

static int same_observer(const void *context, size_t a, size_t b)
{
  const rw_log *l = context;
  return strcasecmp(l->observer[a], l->observer[b]) == 0;
}

static void find_observer(events *all, rw_log_event *e)
{
  rw_log *l = all->r->log;
  l->observer[l->observers] = e->observer;
  e->who = rwi_log_set_put(&all->observers, rwi_log_hash(0, e->observer), l->observers,
                           same_observer, l);
  l->observers += e->who == l->observers;
}

/* Into the event that other rows told of already, or as a new one. */
static void join(rw_log *l, group *g, const rw_log_event *e)
{
  if (g->event[e->found] == 0) {
    l->event[l->events++] = *e;
    g->event[e->found] = l->events;
  }
  rw_log_event *joined = &l->event[g->event[e->found] - 1];
  joined->not_yet = g->not_yet[e->found].time;
  joined->already = g->already[e->found].time;
  if (isnan(joined->not_yet))
    joined->known = RW_LOG_LEFT;
  else if (isnan(joined->already))
    joined->known = RW_LOG_RIGHT;
  else
    joined->known = joined->not_yet == joined->already ? RW_LOG_EXACT : RW_LOG_INTERVAL;
}

static rwi_log_outcome place_event(events *all, size_t row, rw_log_event *e)
{
  conflict found;
  char text[240];
  find_observer(all, e);
  group *own = group_of(&all->one, e);
  if (contradicts(own, e, &found)) {
    describe(all->r->log, &found, text, sizeof text);
    return rwi_log_fault(all->r, row, RW_ERR_ORDER,
                         "put one of the two rows right, or take it out; other spots and "
                         "observers have columns of their own",
                         "%s", text);
  }
  group *any = group_of(&all->any, e);
  rwi_log_outcome outcome = GOOD;
  if (contradicts(any, e, &found)) {
    describe(all->r->log, &found, text, sizeof text);
    outcome = rwi_log_remark(all->r, e->line, "two observers may mean different things by a word",
                             "observers disagree: %s", text);
  }
  learn(own, e);
  learn(any, e);
  join(all->r->log, own, e);
  return outcome;
}

static rwi_log_outcome read_event(events *all, size_t row)
{
  rwi_log_reader *r = all->r;
  rw_log_event *e = &all->row[all->n];
  *e = (rw_log_event){.place = rwi_log_cell(r->log, row, COL_PLACE),
                      .observer = rwi_log_cell(r->log, row, COL_OBSERVER),
                      .line = rwi_log_line(r->log, row)};
  rwi_log_outcome outcome = read_cells(r, row, e);
  if (outcome == GOOD)
    outcome = check_times(r, row, e);
  if (outcome != GOOD)
    return outcome;
  all->n++;
  return place_event(all, row, e);
}

static int open_groups(groups *all, size_t n)
{
  all->list = malloc((n + 1) * sizeof *all->list);
  return all->list != NULL && rwi_log_set_open(&all->set, n);
}

static void close_groups(groups *all)
{
  free(all->list);
  rwi_log_set_close(&all->set);
}

static int open_events(events *all, size_t n)
{
  rw_log *l = all->r->log;
  l->event = malloc((n + 1) * sizeof *l->event);
  l->observer = malloc((n + 1) * sizeof *l->observer);
  all->row = malloc((n + 1) * sizeof *all->row);
  return l->event != NULL && l->observer != NULL && all->row != NULL &&
         rwi_log_set_open(&all->observers, n) && open_groups(&all->one, n) &&
         open_groups(&all->any, n);
}

rwi_log_outcome rwi_log_read_events(rwi_log_reader *r)
{
  events all = {.r = r, .any = {.any_observer = 1}};
  rwi_log_outcome outcome = open_events(&all, rwi_log_rows_of(r, KIND_EVENT)) ? GOOD : NO_MEMORY;
  for (size_t row = 0; row < r->rows && outcome != NO_MEMORY; row++)
    if (r->kind[row] == KIND_EVENT)
      outcome = read_event(&all, row);
  free(all.row);
  rwi_log_set_close(&all.observers);
  close_groups(&all.one);
  close_groups(&all.any);
  return outcome;
}
