/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wishes, and stacks in the order of a wish. */
#include "sweep.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static rw_status check_goal(const rw_goal *g, size_t number, int wish, const char *function,
                            rw_error *err)
{
  char name[40];
  snprintf(name, sizeof name, "goal[%zu].measure", number);
  if (g->measure < 0 || g->measure >= RW_MEASURES)
    return rw_error_range(err, function, name, g->measure, 0, RW_MEASURES - 1, "",
                          "take one of RW_MEASURE_MASS and so on");
  if (!wish)
    return RW_OK;
  snprintf(name, sizeof name, "goal[%zu].weight", number);
  rw_status status = rw_laminate_positive(g->weight, function, name, "",
                                          "leave out a goal that does not count", err);
  snprintf(name, sizeof name, "goal[%zu].scale", number);
  if (status == RW_OK && g->scale != 0)
    status = rw_laminate_positive(g->scale, function, name, "",
                                  "give 0 for the spread of the stacks", err);
  return status;
}

rw_status rw_sweep_goals(const rw_goal *goal, size_t goals, const double *const *value, int wish,
                         const char *function, rw_error *err)
{
  if (goal == NULL)
    return rw_laminate_missing(function, "goal", err);
  if (goals < 1 || goals > RW_GOALS)
    return rw_error_range(err, function, "goals", (double)goals, 1, RW_GOALS, "",
                          "give at least one goal");
  for (size_t g = 0; g < goals; g++) {
    rw_status status = check_goal(&goal[g], g + 1, wish, function, err);
    if (status != RW_OK)
      return status;
    if (value != NULL && value[goal[g].measure] == NULL)
      return rw_error_set(err, RW_ERR_ARGUMENT, function, "value",
                          "give numbers for each measure that is a goal",
                          "the numbers of goal %zu are missing", g + 1);
  }
  return RW_OK;
}

double rw_sweep_key(const rw_goal *goal, const double *const *value, size_t i)
{
  double v = value[goal->measure][i];
  return !isfinite(v) ? HUGE_VAL : goal->large ? -v : v;
}

/* Best and worst of the numbers that are finite; 0 where none is. */
static int extremes(const rw_goal *goal, const double *const *value, size_t n, double *best,
                    double *worst)
{
  *best = HUGE_VAL;
  *worst = -HUGE_VAL;
  for (size_t i = 0; i < n; i++) {
    double key = rw_sweep_key(goal, value, i);
    *best = fmin(*best, key);
    if (key < HUGE_VAL)
      *worst = fmax(*worst, key);
  }
  return *best < HUGE_VAL;
}

void rw_sweep_scales(const rw_goal *goal, size_t goals, const double *const *value, size_t n,
                     double *scale)
{
  for (size_t g = 0; g < goals; g++) {
    double best, worst;
    scale[g] = goal[g].scale;
    if (scale[g] == 0 && extremes(&goal[g], value, n, &best, &worst))
      scale[g] = worst - best;
    if (scale[g] == 0)
      scale[g] = 1; /* all are equal, hence none is behind */
  }
}

void rw_sweep_behind(const rw_goal *goal, size_t goals, const double *const *value, size_t n,
                     const double *scale, double *behind)
{
  for (size_t i = 0; i < n; i++)
    behind[i] = 0;
  for (size_t g = 0; g < goals; g++) {
    double best, worst, weight = goal[g].weight / scale[g];
    extremes(&goal[g], value, n, &best, &worst);
    for (size_t i = 0; i < n; i++) {
      double key = rw_sweep_key(&goal[g], value, i);
      behind[i] += key < HUGE_VAL ? weight * (key - best) : HUGE_VAL;
    }
  }
}

static int before(const double *key, size_t width, size_t a, size_t b)
{
  const double *x = key + a * width, *y = key + b * width;
  for (size_t k = 0; k < width; k++)
    if (x[k] != y[k])
      return x[k] < y[k];
  return a < b;
}

static void merge(const double *key, size_t width, const size_t *from, size_t middle, size_t end,
                  size_t *to)
{
  size_t i = 0, j = middle, n = 0;
  while (i < middle && j < end)
    to[n++] = before(key, width, from[j], from[i]) ? from[j++] : from[i++];
  while (i < middle)
    to[n++] = from[i++];
  while (j < end)
    to[n++] = from[j++];
}

void rw_sweep_sort(const double *key, size_t width, size_t n, size_t *order, size_t *spare)
{
  for (size_t i = 0; i < n; i++)
    order[i] = i;
  size_t *from = order, *to = spare;
  for (size_t run = 1; run < n; run *= 2) {
    for (size_t i = 0; i < n; i += 2 * run) {
      size_t left = n - i, middle = left < run ? left : run, end = left < 2 * run ? left : 2 * run;
      merge(key, width, from + i, middle, end, to + i);
    }
    size_t *swap = from;
    from = to;
    to = swap;
  }
  if (from != order)
    memcpy(order, from, n * sizeof *order);
}

rw_status rw_sweep_rank(const double *const value[RW_MEASURES], size_t n, const rw_goal *goal,
                        size_t goals, size_t *order, double *behind, rw_error *err)
{
  const char *me = "rw_sweep_rank";
  if (value == NULL || order == NULL)
    return rw_laminate_missing(me, value == NULL ? "value" : "order", err);
  if (n < 1)
    return rw_error_range(err, me, "n", 0, 1, HUGE_VAL, "", "rank at least one stack");
  rw_status status = rw_sweep_goals(goal, goals, value, 1, me, err);
  if (status != RW_OK)
    return status;
  double *sum = malloc(n * sizeof *sum);
  size_t *spare = malloc(n * sizeof *spare);
  if (sum == NULL || spare == NULL) {
    free(sum);
    free(spare);
    return rw_error_set(err, RW_ERR_MEMORY, me, NULL, NULL, "not enough memory to rank %zu stacks",
                        n);
  }
  double scale[RW_GOALS];
  rw_sweep_scales(goal, goals, value, n, scale);
  rw_sweep_behind(goal, goals, value, n, scale, sum);
  if (behind != NULL)
    memcpy(behind, sum, n * sizeof *sum);
  if (goals == 1) /* no difference must be lost by rounding */
    for (size_t i = 0; i < n; i++)
      sum[i] = rw_sweep_key(goal, value, i);
  rw_sweep_sort(sum, 1, n, order, spare);
  free(sum);
  free(spare);
  return RW_OK;
}
