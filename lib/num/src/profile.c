/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "search.h"

#include <math.h>
#include <string.h>

/* The least sum of squares with one parameter held, as a distance from the fit. */
typedef struct profile {
  search s;
  const rw_least_squares_fit *fit;
  size_t j;
  double side;     /* -1 or 1 */
  double variance; /* of a residual */
  double want;     /* t */
  double z;        /* root of the rise in residual variances, at the last distance */
  double slope;    /* dz/d(distance) there */
  double kept[RW_NUM_PARAMETERS];  /* parameters there */
  double at;                       /* that distance */
  double along[RW_NUM_PARAMETERS]; /* how the parameters go with the distance */
} profile;

static void start_side(profile *q, double side)
{
  const rw_least_squares_fit *f = q->fit;
  q->side = side;
  q->at = q->z = 0;
  q->slope = 1 / f->sd[q->j];
  memcpy(q->kept, f->x, f->p * sizeof *f->x);
  for (size_t k = 0; k < f->p; k++)
    q->along[k] = side * f->unscaled[k * f->p + q->j] / f->unscaled[q->j * f->p + q->j];
}

/* Goes to a distance: 1 there, 0 the others could not be fitted, -1 a better fit than the best. */
static int go(profile *q, double distance)
{
  const rw_least_squares_fit *f = q->fit;
  double *x = q->s.here.x;
  for (size_t k = 0; k < f->p; k++)
    x[k] = q->kept[k] + (distance - q->at) * q->along[k];
  x[q->j] = f->x[q->j] + q->side * distance;
  if (search_run(&q->s) != SEARCH_FOUND)
    return 0;
  double rise = q->s.here.ss - f->rss;
  if (rise < -1e-7 * f->rss)
    return -1;
  double slope = 0;
  for (size_t i = 0; i < q->s.n; i++)
    if (q->s.root[i] > 0)
      slope += q->s.root[i] * q->s.root[i] * q->s.here.r[i] * q->s.here.J[i * f->p + q->j];
  q->z = sqrt(fmax(rise, 0) / q->variance);
  q->slope = q->side * slope / (q->variance * fmax(q->z, 1e-12));
  for (size_t k = 0; k < f->p; k++) {
    q->along[k] = (x[k] - q->kept[k]) / (distance - q->at);
    q->kept[k] = x[k];
  }
  q->at = distance;
  return 1;
}

/* Outwards until the rise is enough; `low` is the last distance where it was not. 1, 0 where the
 * curve could not be followed, -1 as go, 2 where it never rises so far. */
static int outwards(profile *q, double *low)
{
  enum { STEPS = 400 };
  double unit = q->want * q->fit->sd[q->j], most = unit;
  *low = 0;
  for (int i = 0; i < STEPS && q->at < 1e8 * unit; i++) {
    double newton = q->slope > 0 ? (q->want - q->z) / q->slope * 1.01 : HUGE_VAL;
    double stride = fmin(newton, most);
    if (!(q->at + stride > q->at))
      return 0;
    *low = q->at;
    int went = go(q, q->at + stride);
    if (went < 0)
      return -1;
    if (went == 0)
      most = stride / 4;
    else if (q->z >= q->want)
      return 1;
    else
      most = fmax(most, stride) * 2;
  }
  return q->at >= 1e8 * unit ? 2 : 0;
}

/* Between a distance that is too short and the one reached, by Newton steps kept inside. */
static int inwards(profile *q, double low, double *limit)
{
  enum { STEPS = 200 };
  double high = q->at;
  for (int i = 0; i < STEPS; i++) {
    double next = q->at + (q->want - q->z) / q->slope;
    if (fabs(q->want - q->z) <= 1e-11 * q->want || high - low <= 1e-13 * high) {
      *limit = q->fit->x[q->j] + q->side * (next > low && next < high ? next : q->at);
      return 1;
    }
    if (!(next > low && next < high))
      next = 0.5 * (low + high);
    int went = next == q->at ? 0 : go(q, next);
    if (went <= 0)
      return went;
    if (q->z < q->want)
      low = q->at;
    else
      high = q->at;
  }
  return 0;
}

static rw_status refuse(const profile *q, int went, rw_error *err)
{
  if (went < 0) {
    if (q->s.problem->reached != NULL)
      memcpy(q->s.problem->reached, q->s.here.x, q->s.p * sizeof *q->s.here.x);
    return rw_error_set(err, RW_ERR_NUMERIC, "rw_num_profile", "fit", "Fit again from there.",
                        "a better fit turned up on the way to the limit of parameter %d",
                        (int)q->j + 1);
  }
  return rw_error_set(err, RW_ERR_NUMERIC, "rw_num_profile", "j",
                      "Take the standard deviation, and do not trust it far.",
                      "the sum of squares could not be followed to the limit of parameter %d",
                      (int)q->j + 1);
}

static rw_status one_side(profile *q, double side, double *limit, rw_error *err)
{
  double low;
  start_side(q, side);
  int went = outwards(q, &low);
  if (went == 2) {
    *limit = side * HUGE_VAL;
    return RW_NOT_REACHED;
  }
  if (went == 1)
    went = inwards(q, low, limit);
  return went == 1 ? RW_OK : refuse(q, went, err);
}

static rw_status check(const rw_least_squares *problem, const rw_least_squares_fit *fit, size_t j,
                       double level, rw_error *err)
{
  const char *function = "rw_num_profile";
  if (fit->p != problem->p)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "fit", NULL,
                        "the fit is not one of this problem");
  if (j >= problem->p)
    return rw_error_range(err, function, "j", (double)j, 0, (double)problem->p - 1, "", NULL);
  if (!(level >= 0.5 && level <= 0.9999))
    return rw_error_range(err, function, "level", level, 0.5, 0.9999, "", "0.95 is usual.");
  if (!(fit->sd[j] > 0 && fit->freedom > 0 && fit->rss > 0))
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "fit", NULL,
                        "parameter %d was held, or the points lie exactly on the curve",
                        (int)j + 1);
  return RW_OK;
}

rw_status rw_num_profile(const rw_least_squares *problem, const rw_least_squares_fit *fit,
                         size_t j, double level, double *low, double *high, rw_error *err)
{
  rw_status status = check(problem, fit, j, level, err);
  if (status != RW_OK)
    return status;
  int held[RW_NUM_PARAMETERS];
  for (size_t k = 0; k < problem->p; k++)
    held[k] = k == j || (problem->held != NULL && problem->held[k]);
  rw_least_squares rest = *problem;
  rest.held = held;
  profile q = {.fit = fit, .j = j};
  status = search_open(&q.s, "rw_num_profile", &rest, fit->x, err);
  if (status != RW_OK)
    return status;
  q.variance = fit->rss / (double)fit->freedom;
  q.want = rw_num_student_quantile(0.5 + level / 2, fit->freedom);
  double limit[2];
  status = one_side(&q, -1, &limit[0], err);
  if (status >= 0) {
    rw_status other = one_side(&q, 1, &limit[1], err);
    status = other < 0 || other > status ? other : status;
  }
  if (status >= 0) {
    *low = limit[0];
    *high = limit[1];
  }
  search_close(&q.s);
  return status;
}
