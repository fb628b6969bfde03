/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Many stacks of a set worked out. */
#include "sweep.h"

#include "share.h"

#include <math.h>
#include <string.h>

enum { BLOCK = 1024 };
static const char FUNCTION[] = "rw_sweep_run";

static int work(size_t first, size_t end, void *context)
{
  return rw_sweep_lanes(context, first, end);
}

static rw_status check(const rw_sweep *s, const rw_sweep_plan *p, double *const *value,
                       rw_error *err)
{
  if (s == NULL || p == NULL || value == NULL)
    return rw_laminate_missing(FUNCTION, s == NULL ? "s" : p == NULL ? "plan" : "value", err);
  if (p->n < 1 || (double)p->n > 0x1p53)
    return rw_error_range(err, FUNCTION, "n", (double)p->n, 1, 0x1p53, "",
                          "ask for at least one stack");
  if (p->threads > RW_SHARE_THREADS)
    return rw_error_range(err, FUNCTION, "threads", p->threads, 0, RW_SHARE_THREADS, "", NULL);
  for (size_t m = RW_MEASURE_FACTOR + s->loads; m < RW_MEASURES; m++)
    if (value[m] != NULL)
      return rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, "value",
                          "give the set one more load case", "load case %zu is not in the set",
                          m - RW_MEASURE_FACTOR + 1);
  double most = (double)(s->count - 1);
  for (size_t i = 0; p->number != NULL && i < p->n; i++)
    if (p->number[i] >= s->count)
      return rw_error_range(err, FUNCTION, "number", (double)p->number[i], 0, most, "",
                            "stacks are counted from 0");
  if (p->number != NULL)
    return RW_OK;
  if (p->first >= s->count)
    return rw_error_range(err, FUNCTION, "first", (double)p->first, 0, most, "",
                          "stacks are counted from 0");
  if (p->n > s->count - p->first)
    return rw_error_range(err, FUNCTION, "n", (double)p->n, 1, (double)(s->count - p->first), "",
                          "that many are left from the first one on");
  return RW_OK;
}

/* The first stack of those done that has no answer. */
static rw_status unsolved(const sweep_job *j, size_t done, rw_error *err)
{
  const double *any = NULL;
  for (size_t m = RW_MEASURE_EIX; m < RW_MEASURES; m++)
    if (m != RW_MEASURE_RESIN && m != RW_MEASURE_COST && j->value[m] != NULL)
      any = j->value[m];
  size_t i = 0;
  while (any != NULL && i < done && !isnan(any[i]))
    i++;
  if (any == NULL || i == done)
    return RW_OK; /* nothing was asked that needs the answer */
  unsigned long long number = j->number != NULL ? j->number[i] : j->first + i;
  rw_error_set(err, RW_ERR_NUMERIC, FUNCTION, "number",
               "look at the moduli and thicknesses of its plies",
               "the plies of stack %llu lie too far apart to be worked out", number);
  if (err != NULL)
    err->value = (double)number;
  return RW_ERR_NUMERIC;
}

rw_status rw_sweep_run(const rw_sweep *s, const rw_sweep_plan *plan,
                       double *const value[RW_MEASURES], size_t *done, rw_error *err)
{
  rw_status status = check(s, plan, value, err);
  if (status != RW_OK)
    return status;
  sweep_job j = {.s = s, .first = plan->first, .number = plan->number};
  memcpy(j.value, value, sizeof j.value);
  const rw_share how = {plan->n, BLOCK, plan->threads, plan->progress, plan->context};
  rw_shared end = rw_share_out(&how, work, &j);
  if (done != NULL)
    *done = end.done;
  if (end.stopped)
    return rw_error_set(err, RW_ERR_STOPPED, FUNCTION, NULL, NULL,
                        "stopped when asked to, after %zu of %zu stacks", end.done, plan->n);
  return end.failed ? unsolved(&j, end.done, err) : RW_OK;
}
