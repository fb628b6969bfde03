/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "search.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double HUBER = 1.345, BISQUARE = 4.685, MEDIAN = 0.6745;
/* Change of the residuals, of themselves, at which reweighting ends. */
static const double STILL = 1e-11;

typedef struct robust {
  search s;
  const rw_robust *how;
  const char *function;
  double sd;
  double *u;      /* n residuals with their given weights, divided by sqrt(1 - h) where asked */
  double *sorted; /* n */
  double *factor; /* n */
  double *last;   /* n residuals of the round before */
  double *lift;   /* n, 1/sqrt(1 - h), or 1 */
  double *block;
} robust;

static double given(const robust *q, size_t i)
{
  const double *w = q->s.problem->weight;
  return w != NULL ? w[i] : 1;
}

static double weight_of(rw_num_loss loss, double c, double u)
{
  double v = fabs(u) / c;
  if (loss == RW_LOSS_HUBER)
    return v <= 1 ? 1 : 1 / v;
  return v < 1 ? (1 - v * v) * (1 - v * v) : 0;
}

/* Slope of psi = w u. */
static double slope_of(rw_num_loss loss, double c, double u)
{
  double v = fabs(u) / c;
  if (loss == RW_LOSS_HUBER)
    return v <= 1;
  return v < 1 ? (1 - v * v) * (1 - 5 * v * v) : 0;
}

/* Median of the absolute residuals that count, without the `skip` smallest. */
static double median(robust *q, size_t skip)
{
  size_t n = 0;
  for (size_t i = 0; i < q->s.n; i++)
    if (given(q, i) > 0)
      q->sorted[n++] = fabs(q->u[i]);
  rw_num_sort(q->sorted, n);
  skip = skip < n ? skip : n - 1;
  return rw_num_quantile(q->sorted + skip, n - skip, 0.5) / MEDIAN;
}

static double proposal(const robust *q, double freedom)
{
  double density = exp(-HUBER * HUBER / 2) / sqrt(2 * acos(-1.0));
  double within = 2 * rw_num_normal_cdf(HUBER) - 1;
  double expected = within + HUBER * HUBER * (1 - within) - 2 * HUBER * density;
  double sum = 0, most = HUBER * q->sd;
  for (size_t i = 0; i < q->s.n; i++)
    sum += fmin(q->u[i] * q->u[i], most * most);
  return sqrt(sum / (freedom * expected));
}

static void scale_now(robust *q, double freedom)
{
  switch (q->how->scale) {
  case RW_SCALE_MEDIAN:
    q->sd = median(q, 0);
    break;
  case RW_SCALE_PROPOSAL:
    q->sd = proposal(q, freedom);
    break;
  case RW_SCALE_LEVERAGE:
    q->sd = median(q, q->s.free - 1);
    break;
  case RW_SCALE_FIXED:
    q->sd = q->how->sd;
    break;
  }
}

static void residuals_now(robust *q)
{
  for (size_t i = 0; i < q->s.n; i++)
    q->u[i] = given(q, i) > 0 ? sqrt(given(q, i)) * q->s.here.r[i] * q->lift[i] : 0;
}

/* 1/sqrt(1 - h) from the least-squares fit. */
static void lift(robust *q, const rw_least_squares_fit *fit)
{
  size_t p = q->s.p;
  for (size_t i = 0; i < q->s.n; i++) {
    const double *J = q->s.here.J + i * p;
    double h = 0;
    for (size_t j = 0; given(q, i) > 0 && j < p; j++)
      for (size_t k = 0; k < p; k++)
        if (fit->unscaled[j * p + k] != 0)
          h += given(q, i) * J[j] * J[k] * fit->unscaled[j * p + k];
    q->lift[i] = 1 / sqrt(fmax(1 - h, 1e-10));
  }
}

static double change(const robust *q)
{
  double sum = 0, all = 0;
  for (size_t i = 0; i < q->s.n; i++) {
    sum += (q->u[i] - q->last[i]) * (q->u[i] - q->last[i]);
    all += q->last[i] * q->last[i];
  }
  return all > 0 ? sqrt(sum / all) : 0;
}

static rw_status no_scale(const robust *q, rw_error *err)
{
  return rw_error_set(err, RW_ERR_NUMERIC, q->function, "scale",
                      "Give the spread of the measurements yourself.",
                      "more than half of the points lie exactly on the curve, so their spread "
                      "cannot be told");
}

/* Reweights until the residuals stay. */
static rw_status reweigh(robust *q, rw_num_loss loss, double c, double freedom, rw_error *err)
{
  enum { ROUNDS = 2000 };
  size_t n = q->s.n;
  for (int round = 0; round < ROUNDS; round++) {
    scale_now(q, freedom);
    if (!(q->sd > 0))
      return no_scale(q, err);
    for (size_t i = 0; i < n; i++)
      q->factor[i] = weight_of(loss, c, q->u[i] / q->sd);
    search_weigh(&q->s, q->factor);
    search_end end = search_run(&q->s);
    if (end != SEARCH_FOUND)
      return search_refuse(&q->s, q->function, end, err);
    memcpy(q->last, q->u, n * sizeof *q->u);
    residuals_now(q);
    if (change(q) <= STILL)
      return RW_OK;
  }
  return search_refuse(&q->s, q->function, SEARCH_LOST, err);
}

/* Factor from the unscaled matrix to the covariance. */
static double spread(const robust *q, rw_num_loss loss, double c, double freedom)
{
  double psi = 0, mean = 0, square = 0, counted = 0;
  for (size_t i = 0; i < q->s.n; i++) {
    if (given(q, i) == 0)
      continue;
    double u = q->u[i] / q->sd, slope = slope_of(loss, c, u);
    psi += q->factor[i] * q->factor[i] * u * u;
    mean += slope;
    square += slope * slope;
    counted++;
  }
  mean /= counted;
  double variance = (square - counted * mean * mean) / (counted - 1);
  double K = 1 + (double)q->s.free * variance / (counted * mean * mean);
  return K * K * psi * q->sd * q->sd / (freedom * mean * mean);
}

static void report(robust *q, rw_num_loss loss, double c, rw_least_squares_fit *out)
{
  double offset = q->s.offset;
  int rounds = q->s.rounds;
  search_weigh(&q->s, NULL);
  search_settle(&q->s);
  q->s.offset = offset;
  q->s.rounds = rounds;
  search_report(&q->s, out);
  double share = spread(q, loss, c, (double)out->freedom);
  size_t p = out->p;
  for (size_t i = 0; i < p * p; i++)
    out->covariance[i] = out->unscaled[i] == 0 ? 0 : share * out->unscaled[i];
  for (size_t i = 0; i < p; i++)
    out->sd[i] = sqrt(out->covariance[i * p + i]);
}

static rw_status check(const char *function, const rw_robust *how, rw_error *err)
{
  if ((unsigned)how->loss > RW_LOSS_BISQUARE)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "loss", NULL,
                        "the kind of loss is not known");
  if ((unsigned)how->scale > RW_SCALE_FIXED)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "scale", NULL,
                        "the kind of scale is not known");
  if (how->tuning != 0 && !(how->tuning >= 0.1 && how->tuning <= 100))
    return rw_error_range(err, function, "tuning", how->tuning, 0.1, 100, "", NULL);
  if (how->scale == RW_SCALE_FIXED && !(how->sd > 0 && isfinite(how->sd)))
    return rw_error_range(err, function, "sd", how->sd, 0, HUGE_VAL, "",
                          "Give the spread that the measurements usually have.");
  return RW_OK;
}

static rw_status take_memory(robust *q, rw_error *err)
{
  size_t n = q->s.n;
  q->block = calloc(5 * n, sizeof *q->block);
  if (q->block == NULL)
    return rw_error_set(err, RW_ERR_MEMORY, q->function, NULL, NULL,
                        "not enough memory for a fit");
  q->u = q->block;
  q->sorted = q->u + n;
  q->factor = q->sorted + n;
  q->last = q->factor + n;
  q->lift = q->last + n;
  for (size_t i = 0; i < n; i++)
    q->factor[i] = q->lift[i] = 1;
  return RW_OK;
}

/* From least squares by way of Huber to the loss asked for. */
static rw_status robust_run(robust *q, rw_least_squares_fit *out, rw_error *err)
{
  search_end end = search_run(&q->s);
  if (end != SEARCH_FOUND)
    return search_refuse(&q->s, q->function, end, err);
  rw_least_squares_fit fit;
  search_report(&q->s, &fit);
  if (fit.freedom == 0)
    return rw_error_set(err, RW_ERR_ARGUMENT, q->function, "n", "Give more points.",
                        "a robust fit needs more points than parameters");
  double freedom = (double)fit.freedom, usual = HUBER;
  rw_num_loss loss = q->how->loss;
  if (q->how->scale == RW_SCALE_LEVERAGE)
    lift(q, &fit);
  residuals_now(q);
  q->sd = fit.residual_sd;
  rw_status status = RW_OK;
  if (loss == RW_LOSS_SQUARES) {
    scale_now(q, freedom);
    *out = fit;
    return status;
  }
  if (loss == RW_LOSS_BISQUARE) {
    status = reweigh(q, RW_LOSS_HUBER, HUBER, freedom, err);
    usual = BISQUARE;
  }
  double c = q->how->tuning > 0 ? q->how->tuning : usual;
  if (status == RW_OK)
    status = reweigh(q, loss, c, freedom, err);
  if (status == RW_OK)
    report(q, loss, c, out);
  return status;
}

rw_status rw_num_robust(const rw_least_squares *problem, const rw_robust *how, const double *start,
                        rw_least_squares_fit *out, double *scale, double *factor, rw_error *err)
{
  robust q = {.how = how, .function = "rw_num_robust"};
  rw_status status = check(q.function, how, err);
  if (status == RW_OK)
    status = search_begin(&q.s, q.function, problem, start, err);
  if (status != RW_OK)
    return status;
  status = take_memory(&q, err);
  if (status == RW_OK)
    status = robust_run(&q, out, err);
  if (status == RW_OK && scale != NULL)
    *scale = q.sd;
  if (status == RW_OK && factor != NULL)
    memcpy(factor, q.factor, q.s.n * sizeof *factor);
  free(q.block);
  search_close(&q.s);
  return status;
}
