/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Is a batch unlike the others, do the times drift over the log, do the notes hang together? Each
 * of the first two by a search anew with one unknown more. */
#include "notes.h"

#include <resinwright/num.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double EXTRA_SD = 3; /* of ln of the factor that is looked for */
static const double ODD = 0.05;   /* chance from which on a batch is called odd */

/* Room for the search anew. */
typedef struct anew {
  double mean[NOTES_MOST];
  double precision[NOTES_MOST * NOTES_MOST];
  notes_state state;
  notes_taken taken;
  double *extra; /* by batch */
} anew;

/* A factor on some times, and whether it is needed. */
typedef struct factor {
  double log, sd, chance;
} factor;

static void anew_destroy(anew *a)
{
  if (a == NULL)
    return;
  notes_taken_free(&a->taken);
  free(a->extra);
  free(a);
}

/* The fit's prior with one unknown more, and its notes. */
static rw_status anew_create(const char *function, const rw_notes *f, const rw_notes_data *d,
                             anew **out, rw_error *err)
{
  size_t m = f->m, w = m + 1;
  anew *a = calloc(1, sizeof *a);
  if (a != NULL)
    a->extra = calloc(d->batches + 1, sizeof *a->extra);
  rw_status status = a == NULL || a->extra == NULL
                         ? notes_no_memory(function, err)
                         : notes_take_again(function, f, d, &a->taken, err);
  if (status != RW_OK) {
    anew_destroy(a);
    return status;
  }
  memcpy(a->mean, f->mean, m * sizeof *a->mean);
  for (size_t i = 0; i < m; i++)
    memcpy(a->precision + i * w, f->precision + i * m, m * sizeof *a->precision);
  a->precision[m * w + m] = 1 / (EXTRA_SD * EXTRA_SD);
  *out = a;
  return RW_OK;
}

/* With the levers in a->extra. */
static rw_status search(const char *function, const rw_notes *f, anew *a, factor *out,
                        rw_error *err)
{
  notes_problem p = notes_problem_of(f, &a->taken);
  notes_state *s = &a->state;
  p.extra = a->extra;
  p.m = f->m + 1;
  p.mean = a->mean;
  p.prior = a->precision;
  memcpy(s->at, f->joint, f->m * sizeof *s->at);
  s->at[f->m] = 0;
  if (!notes_search(&p, s))
    return notes_unsettled(function, err);
  double shift = s->at[f->m], unit[NOTES_MOST] = {0}, away = shift / EXTRA_SD;
  unit[f->m] = 1;
  rw_num_cholesky_solve(p.m, s->factor, unit);
  double gain = s->posterior + 0.5 * away * away - f->posterior;
  *out = (factor){shift, sqrt(unit[f->m]), erfc(sqrt(fmax(gain, 0)))};
  return RW_OK;
}

static rw_status test_batches(const rw_notes *f, anew *a, rw_notes_batch_result *result,
                              rw_error *err)
{
  static const char function[] = "rw_notes_batches";
  size_t tested = 0;
  for (size_t i = 0; i < f->batches; i++) {
    result[i] =
        (rw_notes_batch_result){.factor = 1, .factor_sd = HUGE_VAL, .chance = 1, .chance_any = 1};
    for (size_t j = 0; j < f->rows; j++)
      result[i].rows += a->taken.row[j].batch == i;
    tested += result[i].rows > 0;
  }
  for (size_t i = 0; i < f->batches; i++) {
    factor found;
    if (result[i].rows == 0)
      continue;
    a->extra[i] = 1;
    rw_status status = search(function, f, a, &found, err);
    a->extra[i] = 0;
    if (status != RW_OK)
      return status;
    result[i].factor = exp(found.log);
    result[i].factor_sd = found.sd;
    result[i].chance = found.chance;
    result[i].chance_any = -expm1((double)tested * log1p(-found.chance));
    result[i].odd = result[i].chance_any < ODD;
  }
  return RW_OK;
}

rw_status rw_notes_batches(const rw_notes *f, const rw_notes_data *data,
                           rw_notes_batch_result *out, rw_error *err)
{
  anew *a = NULL;
  rw_status status = anew_create("rw_notes_batches", f, data, &a, err);
  if (status != RW_OK)
    return status;
  rw_notes_batch_result *result = malloc((f->batches + 1) * sizeof *result);
  if (result == NULL)
    status = notes_no_memory("rw_notes_batches", err);
  else
    status = test_batches(f, a, result, err);
  if (status == RW_OK && f->batches > 0)
    memcpy(out, result, f->batches * sizeof *out);
  free(result);
  anew_destroy(a);
  return status;
}

/* Levers from -1/2 at the first batch with a note to 1/2 at the last; returns the time between. */
static double levers(const rw_notes *f, const rw_notes_data *d, const notes_row *row,
                     double *extra)
{
  double first = HUGE_VAL, last = -HUGE_VAL;
  for (size_t i = 0; i < f->rows; i++) {
    first = fmin(first, row[i].mixed);
    last = fmax(last, row[i].mixed);
  }
  for (size_t i = 0; i < d->batches && last > first; i++)
    extra[i] = (d->batch[i].mixed - first) / (last - first) - 0.5;
  return last - first;
}

rw_status rw_notes_drift(const rw_notes *f, const rw_notes_data *data, rw_notes_drift_result *out,
                         rw_error *err)
{
  static const char function[] = "rw_notes_drift";
  anew *a = NULL;
  rw_status status = anew_create(function, f, data, &a, err);
  if (status != RW_OK)
    return status;
  rw_notes_drift_result drift = {.factor = 1, .factor_sd = HUGE_VAL, .chance = 1};
  double span = levers(f, data, a->taken.row, a->extra);
  if (span > 0) {
    factor found = {0};
    status = search(function, f, a, &found, err);
    drift = (rw_notes_drift_result){span, exp(found.log), found.sd, found.chance};
  }
  if (status == RW_OK)
    *out = drift;
  anew_destroy(a);
  return status;
}

/* The chance of k or more successes among n with chance p each. */
static double as_many(size_t k, size_t n, double p)
{
  double sum = 0;
  for (size_t i = k; i <= n; i++) {
    double choices = lgamma((double)n + 1) - lgamma((double)i + 1) - lgamma((double)(n - i) + 1);
    sum += exp(choices + (double)i * log(p) + (double)(n - i) * log1p(-p));
  }
  return fmin(sum, 1);
}

void rw_notes_fitness(const rw_notes *f, rw_notes_fitness_result *out)
{
  static const double RARE = 0.1;
  rw_notes_fitness_result r = {0};
  for (size_t i = 0; i < f->data_rows; i++)
    r.outside += f->result[i].chance < RARE;
  r.chance = as_many(r.outside, f->rows, RARE);
  double correlation[NOTES_MOST * NOTES_MOST];
  for (size_t i = 0; i < f->m; i++)
    for (size_t j = 0; j < f->m; j++) {
      double c = f->after[i * f->m + j] / sqrt(f->after[i * f->m + i] * f->after[j * f->m + j]);
      correlation[i * f->m + j] = c;
      if (j < i && fabs(c) > fabs(r.correlation)) {
        r.correlation = c;
        r.first = j;
        r.second = i;
      }
    }
  r.condition = rw_num_condition(f->m, correlation);
  *out = r;
}

const char *rw_notes_unknown_key(const rw_notes *f, size_t i)
{
  static const char *const keys[] = {"rate", "energy", "scatter"};
  if (i < NOTES_FIRST)
    return keys[i];
  for (int m = 0; m < RW_MILESTONES; m++)
    if (f->mark[m].place == (int)i)
      return rw_milestone_key((rw_milestone)m);
  return i < f->m ? "observer" : NULL;
}
