/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is not wrong, but good to know before a log is trusted. */
#include "log_inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Hardener per resin by weight: common practice, no source. */
static const double LEAST_RATIO = 0.08, MOST_RATIO = 1.3, FROM_OTHERS = 0.1;

static int by_size(const void *a, const void *b)
{
  double left = *(const double *)a, right = *(const double *)b;
  return (left > right) - (left < right);
}

/* The middle one, the lower of two; NaN of none. Sorts. */
static double middle(double *list, size_t n)
{
  if (n == 0)
    return NAN;
  qsort(list, n, sizeof *list, by_size);
  return list[(n - 1) / 2];
}

static double ratio_of(const rw_log_batch *b)
{
  return b->hardener / b->resin;
}

static rwi_log_outcome usual_ratio(const rw_log *l, double *usual)
{
  double *list = malloc((l->batches + 1) * sizeof *list);
  if (list == NULL)
    return NO_MEMORY;
  size_t n = 0;
  for (size_t i = 0; i < l->batches; i++)
    if (!isnan(ratio_of(&l->batch[i])))
      list[n++] = ratio_of(&l->batch[i]);
  *usual = n >= 3 ? middle(list, n) : NAN;
  free(list);
  return GOOD;
}

static rwi_log_outcome doubt_ratio(rwi_log_reader *r, rw_log_batch *b, double usual)
{
  double ratio = ratio_of(b);
  char found[40], wanted[40], name[RW_EXCERPT];
  int implausible = ratio < LEAST_RATIO || ratio > MOST_RATIO;
  if (!implausible && !(fabs(ratio / usual - 1) > FROM_OTHERS))
    return GOOD;
  b->suspect = 1;
  rw_text_round(100 * ratio, 3, found);
  rw_text_round(100 * usual, 3, wanted);
  rw_text_excerpt(b->name, strlen(b->name), name);
  if (implausible)
    return rwi_log_remark(r, b->line, "are resin and hardener swapped, or one of them short?",
                          "batch %s: 100:%s by weight is no usual mixing ratio", name, found);
  return rwi_log_remark(r, b->line, "look at this batch on the hull before you trust it",
                        "batch %s: 100:%s by weight, %s 100:%s", name, found,
                        r->o.ratio > 0 ? "the label says" : "most batches have", wanted);
}

static rwi_log_outcome ratios(rwi_log_reader *r)
{
  rw_log *l = r->log;
  double usual = r->o.ratio;
  rwi_log_outcome outcome = usual > 0 ? GOOD : usual_ratio(l, &usual);
  for (size_t i = 0; i < l->batches && outcome == GOOD; i++)
    if (!isnan(ratio_of(&l->batch[i])))
      outcome = doubt_ratio(r, &l->batch[i], usual);
  return outcome;
}

static rwi_log_outcome one_word(rwi_log_reader *r)
{
  const rw_log *l = r->log;
  for (size_t i = 1; i < l->events; i++)
    if (l->event[i].found != l->event[0].found)
      return GOOD;
  if (l->events < 2)
    return GOOD;
  return rwi_log_remark(r, 0, "a second word ties the resin's clock to its state",
                        "the log has one kind of event only: %s",
                        rw_log_found_key(l->event[0].found));
}

static rwi_log_outcome lonely_observers(rwi_log_reader *r)
{
  const rw_log *l = r->log;
  size_t *count = calloc(2 * l->observers + 2, sizeof *count);
  if (count == NULL)
    return NO_MEMORY;
  size_t *last = count + l->observers + 1;
  for (size_t i = 0; i < l->events; i++) {
    count[l->event[i].who]++;
    last[l->event[i].who] = i;
  }
  rwi_log_outcome outcome = GOOD;
  for (size_t i = 0; i < l->observers && outcome == GOOD && l->observers > 1; i++) {
    char name[RW_EXCERPT];
    rw_text_excerpt(l->observer[i], strlen(l->observer[i]), name);
    if (count[i] == 1)
      outcome = rwi_log_remark(r, l->event[last[i]].line,
                               "what one means by a word shows after several notes",
                               "observer \"%s\" has one note only", name);
  }
  free(count);
  return outcome;
}

/* Readings far from the middle of the log that would come near to it as Fahrenheit. */
static rwi_log_outcome odd_readings(rwi_log_reader *r)
{
  const rw_log *l = r->log;
  const rw_column *c = &l->col[COL_AIR];
  if (!l->has[COL_AIR] || r->o.as_read || c->factor != 1 || c->offset == 0)
    return GOOD;
  double *list = malloc((l->readings + 1) * sizeof *list);
  if (list == NULL)
    return NO_MEMORY;
  size_t n = 0;
  for (size_t i = 0; i < l->readings; i++)
    if (!isnan(l->reading[i].air))
      list[n++] = l->reading[i].air - c->offset;
  double usual = middle(list, n);
  free(list);
  rwi_log_outcome outcome = GOOD;
  for (size_t i = 0; i < l->readings && outcome == GOOD && n >= 4; i++) {
    double found = l->reading[i].air - c->offset, other = (found - 32) / 1.8;
    if (!(found - usual > 15 && fabs(other - usual) < (found - usual) / 2))
      continue;
    char text[40];
    rw_text_round(found, 4, text);
    outcome = rwi_log_remark(r, l->reading[i].line, "look at the thermometer's scale",
                             "%s degC stands far above the other readings; as degF it would fit "
                             "better",
                             text);
  }
  return outcome;
}

static rwi_log_outcome cold_hours(rwi_log_reader *r, const rwi_log_anchors *a, size_t i)
{
  const rw_log_batch *b = &r->log->batch[i];
  rw_log_gap gap;
  double from, to;
  rw_log_span(r->log, i, &from, &to, NULL);
  size_t n = from < to ? rwi_log_anchor_gaps(a, from, to, RW_LOG_BRIDGE, &gap, 1) : 0;
  if (n == 0)
    return GOOD;
  char start[32], end[32], name[RW_EXCERPT];
  rwi_log_say(r->log, gap.from, start);
  rwi_log_say(r->log, gap.to, end);
  rw_text_excerpt(b->name, strlen(b->name), name);
  const char *hint = "the low and high of each day will do: a row \"reading\" with the date, low "
                     "and high";
  if (gap.from == from && gap.to == to)
    return rwi_log_remark(r, b->line, hint,
                          "batch %s has no temperature at all, it needs one from %s to %s", name,
                          start, end);
  return rwi_log_remark(r, b->line, hint, "batch %s has no temperature from %s to %s%s", name,
                        start, end, n > 1 ? ", nor in other hours" : "");
}

static rwi_log_outcome cold_batches(rwi_log_reader *r)
{
  rwi_log_anchors a;
  if (rwi_log_anchors_of(r->log, RW_LOG_AIR, "rw_log_parse", &a, NULL) != RW_OK)
    return NO_MEMORY;
  rwi_log_outcome outcome = GOOD;
  for (size_t i = 0; i < r->log->batches && outcome == GOOD; i++)
    outcome = cold_hours(r, &a, i);
  rwi_log_anchors_free(&a);
  return outcome;
}

rwi_log_outcome rwi_log_remarks(rwi_log_reader *r)
{
  const rw_log *l = r->log;
  rwi_log_outcome outcome = GOOD;
  if (l->batches + l->events + l->readings + l->left_out == 0)
    outcome = rwi_log_remark(r, 0, "begin with a row \"batch\"", "the log has no row yet");
  if (outcome == GOOD)
    outcome = ratios(r);
  if (outcome == GOOD)
    outcome = one_word(r);
  if (outcome == GOOD)
    outcome = lonely_observers(r);
  if (outcome == GOOD)
    outcome = odd_readings(r);
  return outcome == GOOD ? cold_batches(r) : outcome;
}
