/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "aft.h"

#include <resinwright/num.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char FIT[] = "rw_aft_fit";
static const double SAME = 1e-12; /* rounding of a covariate that does not vary */

const char *rw_aft_trouble_key(rw_aft_trouble t)
{
  static const char *const keys[] = {
#define RW_X(name, key, text) key,
      RW_AFT_TROUBLE_LIST(RW_X)
#undef RW_X
  };
  return (unsigned)t < RW_AFT_TROUBLES ? keys[t] : NULL;
}

const char *rw_aft_trouble_text(rw_aft_trouble t)
{
  static const char *const texts[] = {
#define RW_X(name, key, text) text,
      RW_AFT_TROUBLE_LIST(RW_X)
#undef RW_X
  };
  return (unsigned)t < RW_AFT_TROUBLES ? texts[t] : NULL;
}

rw_status rw_aft_log_probability(rw_aft_kind kind, double low, double high, double *probability,
                                 rw_error *err)
{
  const char *function = "rw_aft_log_probability";
  if ((unsigned)kind > RW_AFT_WEIBULL)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "kind", NULL,
                        "the law of the scatter is not known");
  if (isnan(low) || isnan(high))
    return rw_error_set(err, RW_ERR_ARGUMENT, function, isnan(low) ? "low" : "high", NULL,
                        "a bound is not a number");
  if (high < low)
    return rw_error_range(err, function, "high", high, low, HUGE_VAL, "", NULL);
  if (high == low || high == -HUGE_VAL || low == HUGE_VAL)
    *probability = -HUGE_VAL;
  else if (low == -HUGE_VAL)
    *probability = high == HUGE_VAL ? 0 : tail_before(kind, high).log_p;
  else if (high == HUGE_VAL)
    *probability = tail_after(kind, low).log_p;
  else
    *probability = tail_between(kind, 0.5 * (low + high), high - low).log_p;
  return RW_OK;
}

/* Says a row, from 1, where the record is about one. */
static rw_status at_row(rw_status status, size_t i, rw_error *err)
{
  rw_error_place(err, (long)i + 1, 0);
  return status;
}

static rw_status check_row(const rw_aft_data *d, size_t i, rw_error *err)
{
  double low = d->lower[i], high = d->upper[i];
  if (!(low >= 0 && low < HUGE_VAL))
    return rw_error_range(err, FIT, "lower", low, 0, HUGE_VAL, "",
                          "0 says that it is not known when it had not yet happened.");
  if (!(high > 0 && high >= low))
    return rw_error_range(err, FIT, "upper", high, low, HUGE_VAL, "",
                          "It cannot have happened before it had not yet happened.");
  if (d->weight != NULL && !(d->weight[i] >= 0 && d->weight[i] < HUGE_VAL))
    return rw_error_range(err, FIT, "weight", d->weight[i], 0, HUGE_VAL, "", NULL);
  for (size_t j = 0; j < d->covariates; j++)
    if (!isfinite(d->x[i * d->covariates + j]))
      return rw_error_set(err, RW_ERR_ARGUMENT, FIT, "x", NULL,
                          "covariate %zu of row %zu is not a number", j + 1, i + 1);
  return RW_OK;
}

static rw_status check(const rw_aft_data *d, rw_aft_kind kind, rw_error *err)
{
  if ((unsigned)kind > RW_AFT_WEIBULL)
    return rw_error_set(err, RW_ERR_ARGUMENT, FIT, "kind", NULL,
                        "the law of the scatter is not known");
  if (d->n < 2)
    return rw_error_range(err, FIT, "n", (double)d->n, 2, HUGE_VAL, "",
                          "A spread needs two rows or more.");
  if (d->covariates > 64)
    return rw_error_range(err, FIT, "covariates", (double)d->covariates, 0, 64, "", NULL);
  if (d->lower == NULL || d->upper == NULL || (d->x == NULL && d->covariates > 0))
    return rw_error_set(err, RW_ERR_ARGUMENT, FIT,
                        d->lower == NULL   ? "lower"
                        : d->upper == NULL ? "upper"
                                           : "x",
                        NULL, "a column is missing");
  for (size_t i = 0; i < d->n; i++) {
    rw_status status = check_row(d, i, err);
    if (status != RW_OK)
      return at_row(status, i, err);
  }
  return RW_OK;
}

static rw_aft *create(size_t n, size_t p)
{
  rw_aft *f = calloc(1, sizeof *f);
  if (f == NULL)
    return NULL;
  f->row = calloc(n, sizeof *f->row);
  f->x = calloc(n * (p + 1) + 2 * p + (p + 1) + (p + 2) + (p + 2) * (p + 2), sizeof *f->x);
  if (f->row == NULL || f->x == NULL) {
    rw_aft_destroy(f);
    return NULL;
  }
  f->p = p;
  f->centre = f->x + n * (p + 1);
  f->width = f->centre + p;
  f->line = f->width + p;
  f->b = f->line + p + 1;
  f->cov = f->b + p + 2;
  return f;
}

void rw_aft_destroy(rw_aft *f)
{
  if (f == NULL)
    return;
  free(f->row);
  free(f->x);
  free(f);
}

static aft_row row_of(double low, double high, double weight)
{
  aft_row r = {.weight = weight};
  if (low == high) {
    r.form = AFT_EXACT;
    r.y = log(low);
  } else if (high == HUGE_VAL) {
    r.form = AFT_AFTER;
    r.y = log(low);
  } else if (low == 0) {
    r.form = AFT_BEFORE;
    r.y = log(high);
  } else {
    r.form = AFT_BETWEEN;
    r.y = 0.5 * (log(low) + log(high));
    r.width = log1p((high - low) / low);
  }
  return r;
}

/* Rows that say something, in ln T, with their covariates as given. */
static void take(const rw_aft_data *d, rw_aft *f)
{
  for (size_t i = 0; i < d->n; i++) {
    double w = d->weight == NULL ? 1 : d->weight[i];
    if (w == 0 || (d->lower[i] == 0 && d->upper[i] == HUGE_VAL))
      continue;
    aft_row r = row_of(d->lower[i], d->upper[i], w);
    f->weight[r.form] += w;
    if (r.form == AFT_EXACT)
      f->sum_log += w * r.y;
    double *x = f->x + f->n * (f->p + 1);
    x[0] = 1;
    if (f->p > 0)
      memcpy(x + 1, d->x + i * f->p, f->p * sizeof *x);
    f->row[f->n++] = r;
  }
}

/* Centres and scales each covariate. */
static rw_aft_trouble even(rw_aft *f)
{
  size_t m = f->p + 1;
  for (size_t j = 0; j < f->p; j++) {
    double sum = 0, all = 0, square = 0, largest = 0;
    for (size_t i = 0; i < f->n; i++) {
      all += f->row[i].weight;
      sum += f->row[i].weight * f->x[i * m + j + 1];
      largest = fmax(largest, fabs(f->x[i * m + j + 1]));
    }
    f->centre[j] = sum / all;
    for (size_t i = 0; i < f->n; i++) {
      double off = f->x[i * m + j + 1] - f->centre[j];
      square += f->row[i].weight * off * off;
    }
    f->width[j] = sqrt(square / all);
    if (!(f->width[j] > SAME * largest))
      return RW_AFT_CONSTANT;
    for (size_t i = 0; i < f->n; i++)
      f->x[i * m + j + 1] = (f->x[i * m + j + 1] - f->centre[j]) / f->width[j];
  }
  return RW_AFT_FINE;
}

/* A first line through the times and bounds as they stand; s gives the room. */
static rw_aft_trouble first_line(rw_aft *f, aft_state *s)
{
  size_t m = f->p + 1;
  double all = 0, rest = 0, largest = 0;
  memset(s->minus, 0, m * m * sizeof *s->minus);
  memset(f->line, 0, m * sizeof *f->line);
  for (size_t i = 0; i < f->n; i++) {
    const double *x = f->x + i * m;
    double w = f->row[i].weight;
    all += w;
    largest = fmax(largest, fabs(f->row[i].y));
    for (size_t j = 0; j < m; j++) {
      f->line[j] += w * x[j] * f->row[i].y;
      for (size_t k = 0; k <= j; k++)
        s->minus[j * m + k] += w * x[j] * x[k];
    }
  }
  if (!(rw_num_cholesky(m, s->minus, 1e-10 * all) > 0))
    return RW_AFT_COLLINEAR;
  rw_num_cholesky_solve(m, s->minus, f->line);
  for (size_t i = 0; i < f->n; i++) {
    for (size_t j = 0; j < m; j++)
      f->row[i].y -= f->x[i * m + j] * f->line[j];
    rest += f->row[i].weight * f->row[i].y * f->row[i].y;
  }
  f->scale = fmax(sqrt(rest / all), 1e-9 * (1 + largest));
  f->least_spread = 1e-12 * (1 + largest) / f->scale;
  for (size_t i = 0; i < f->n; i++) {
    f->row[i].y /= f->scale;
    f->row[i].width /= f->scale;
  }
  return RW_AFT_FINE;
}

static rw_aft_trouble one_sided(const rw_aft *f)
{
  double closed = f->weight[AFT_EXACT] + f->weight[AFT_BETWEEN];
  if (closed == 0 && f->weight[AFT_BEFORE] == 0)
    return RW_AFT_ALL_AFTER;
  return closed == 0 && f->weight[AFT_AFTER] == 0 ? RW_AFT_ALL_BEFORE : RW_AFT_FINE;
}

static rw_aft_trouble trouble_of(aft_end end)
{
  switch (end) {
  case AFT_FOUND:
    return RW_AFT_FINE;
  case AFT_FLAT:
    return RW_AFT_SEPARATED;
  case AFT_CERTAIN:
    return RW_AFT_THREADED;
  case AFT_POINT:
    return RW_AFT_EXACT;
  case AFT_WIDE:
    return RW_AFT_SPREADLESS;
  case AFT_LOST:
    break;
  }
  return RW_AFT_UNSETTLED;
}

/* From (b/spread, 1/spread) to (b, ln spread). */
static void keep(rw_aft *f, aft_state *s)
{
  size_t q = f->p + 1, m = q + 1;
  double spread = 1 / s->at[q];
  for (size_t j = 0; j < q; j++)
    f->b[j] = s->at[j] * spread;
  f->b[q] = spread;
  f->likelihood = s->likelihood;
  f->steps = s->steps;
  /* Rows of the Jacobian: (I, -b)/d and (0, -1)/d. */
  double *raw = s->minus;
  rw_num_cholesky_inverse(m, s->factor, raw);
  for (size_t i = 0; i < m; i++)
    for (size_t j = 0; j < m; j++) {
      double bi = i < q ? f->b[i] : 1, bj = j < q ? f->b[j] : 1;
      double sum = bi * bj * raw[q * m + q];
      sum += i < q ? raw[i * m + j] * (j < q) - bj * raw[i * m + q] : 0;
      sum -= j < q ? bi * raw[q * m + j] : 0;
      f->cov[i * m + j] = sum * spread * spread;
    }
}

static rw_aft_trouble settle(rw_aft *f, aft_state *s)
{
  rw_aft_trouble t = f->n < 2 ? RW_AFT_UNSETTLED : one_sided(f);
  if (t == RW_AFT_FINE)
    t = even(f);
  if (t == RW_AFT_FINE)
    t = first_line(f, s);
  if (t != RW_AFT_FINE)
    return t;
  aft_problem p = {.kind = f->kind,
                   .n = f->n,
                   .q = f->p + 1,
                   .row = f->row,
                   .x = f->x,
                   .least_spread = f->least_spread};
  s->at[p.q] = 1;
  t = trouble_of(aft_search(&p, s));
  if (t == RW_AFT_FINE)
    keep(f, s);
  return t;
}

static const char *advice(rw_aft_trouble t)
{
  switch (t) {
  case RW_AFT_ALL_AFTER:
    return "Look again later, and note when it had happened.";
  case RW_AFT_ALL_BEFORE:
    return "Look sooner, and note when it had not yet happened.";
  case RW_AFT_CONSTANT:
  case RW_AFT_COLLINEAR:
    return "Leave that covariate out, or note batches at other temperatures.";
  case RW_AFT_THREADED:
  case RW_AFT_EXACT:
    return "More batches, looked at more often, show the spread.";
  case RW_AFT_SEPARATED:
    return "Leave that group out, or look at it until both sides are known.";
  default:
    return "Check the rows for times that were mixed up.";
  }
}

static rw_status no_memory(const char *function, rw_error *err)
{
  return rw_error_set(err, RW_ERR_MEMORY, function, NULL, NULL, "not enough memory for the rows");
}

rw_status rw_aft_fit(const rw_aft_data *data, rw_aft_kind kind, rw_aft **out,
                     rw_aft_trouble *trouble, rw_error *err)
{
  rw_status status = check(data, kind, err);
  if (status != RW_OK)
    return status;
  aft_state s = {0};
  rw_aft *f = create(data->n, data->covariates);
  if (f == NULL || !aft_state_create(&s, data->covariates + 1)) {
    rw_aft_destroy(f);
    return no_memory(FIT, err);
  }
  f->kind = kind;
  take(data, f);
  rw_aft_trouble t = settle(f, &s);
  aft_state_destroy(&s);
  if (trouble != NULL)
    *trouble = t;
  if (t == RW_AFT_FINE) {
    *out = f;
    return RW_OK;
  }
  rw_aft_destroy(f);
  return rw_error_set(err, RW_ERR_NUMERIC, FIT, rw_aft_trouble_key(t), advice(t),
                      "the rows give no estimate: %s", rw_aft_trouble_text(t));
}

void rw_aft_summarise(const rw_aft *f, rw_aft_summary *out)
{
  size_t q = f->p + 1, m = q + 1;
  double spread = f->b[q] * f->scale;
  /* The search counted densities of ln T in units of the scale. */
  double log_likelihood = f->likelihood - f->weight[AFT_EXACT] * log(f->scale);
  *out = (rw_aft_summary){.covariates = f->p,
                          .spread = spread,
                          .spread_se = spread * sqrt(f->cov[q * m + q]),
                          .exact = f->weight[AFT_EXACT],
                          .after = f->weight[AFT_AFTER],
                          .before = f->weight[AFT_BEFORE],
                          .between = f->weight[AFT_BETWEEN],
                          .likelihood = log_likelihood - f->sum_log,
                          .log_likelihood = log_likelihood,
                          .steps = f->steps};
}

void aft_contrast(const rw_aft *f, const double *w, double *v)
{
  v[0] = w[0];
  for (size_t j = 0; j < f->p; j++)
    v[j + 1] = (w[j + 1] - w[0] * f->centre[j]) / f->width[j];
}

/* Weight of column k of the fit (p + 1: ln spread) in coefficient i as the caller counts. */
static double share(const rw_aft *f, size_t i, size_t k)
{
  size_t q = f->p + 1;
  if (i == q || k == q)
    return i == k;
  if (i > 0)
    return i == k ? f->scale / f->width[i - 1] : 0;
  return k == 0 ? f->scale : -f->scale * f->centre[k - 1] / f->width[k - 1];
}

double rw_aft_covariance(const rw_aft *f, size_t i, size_t j)
{
  size_t m = f->p + 2;
  if (i >= m || j >= m)
    return NAN;
  double sum = 0;
  for (size_t k = 0; k < m; k++)
    for (size_t l = 0; l < m; l++)
      sum += share(f, i, k) * f->cov[k * m + l] * share(f, j, l);
  return sum;
}

rw_value rw_aft_coefficient(const rw_aft *f, size_t i)
{
  size_t q = f->p + 1;
  if (i > q)
    return (rw_value){NAN, NAN};
  double value = i == q ? log(f->b[q] * f->scale) : 0;
  for (size_t k = 0; i < q && k < q; k++)
    value += share(f, i, k) * (f->b[k] + f->line[k] / f->scale);
  return (rw_value){value, sqrt(rw_aft_covariance(f, i, i))};
}

rw_status aft_check_quantile(const rw_aft *f, const double *x, double p, const char *function,
                             rw_error *err)
{
  if (x == NULL && f->p > 0)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "x", NULL, "the covariates are missing");
  for (size_t j = 0; j < f->p; j++)
    if (!isfinite(x[j]))
      return rw_error_set(err, RW_ERR_ARGUMENT, function, "x", NULL,
                          "covariate %zu is not a number", j + 1);
  if (!(p > 0 && p < 1))
    return rw_error_range(err, function, "p", p, 0, 1, "",
                          "0.5 asks for the time by which half have happened.");
  return RW_OK;
}

rw_status rw_aft_quantile(const rw_aft *f, const double *x, double p, rw_value *log_q, rw_value *q,
                          rw_error *err)
{
  rw_status status = aft_check_quantile(f, x, p, "rw_aft_quantile", err);
  if (status != RW_OK)
    return status;
  size_t m = f->p + 2, last = m - 1;
  double z = tail_quantile(f->kind, p), value = z * f->b[last], variance = 0;
  for (size_t i = 0; i < m; i++) {
    double vi = i == last ? z * f->b[last]
                : i == 0  ? 1
                          : (x[i - 1] - f->centre[i - 1]) / f->width[i - 1];
    value += i < last ? vi * (f->b[i] + f->line[i] / f->scale) : 0;
    for (size_t j = 0; j < m; j++) {
      double vj = j == last ? z * f->b[last]
                  : j == 0  ? 1
                            : (x[j - 1] - f->centre[j - 1]) / f->width[j - 1];
      variance += vi * vj * f->cov[i * m + j];
    }
  }
  *log_q = (rw_value){value * f->scale, sqrt(variance) * f->scale};
  if (q != NULL)
    *q = (rw_value){exp(log_q->value), exp(log_q->value) * log_q->sd};
  return RW_OK;
}
