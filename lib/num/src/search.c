/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "search.h"

#include <float.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

static const double HIGHEST_CONDITION = 1e12;

static rw_status bounds(const char *function, const char *argument, double value, double low,
                        double high, rw_error *err)
{
  if (value >= low && value <= high)
    return RW_OK;
  return rw_error_range(err, function, argument, value, low, high, "", NULL);
}

static rw_status check_sizes(const char *function, const rw_least_squares *q, rw_error *err)
{
  if (q->f == NULL)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "f", NULL,
                        "a fit needs a function that gives the residuals");
  rw_status status = bounds(function, "p", (double)q->p, 1, RW_NUM_PARAMETERS, err);
  if (status == RW_OK)
    status = bounds(function, "n", (double)q->n, 1, 1e6, err);
  if (status == RW_OK && q->tolerance != 0)
    status = bounds(function, "tolerance", q->tolerance, 1e-13, 1e-2, err);
  if (status == RW_OK && q->rounds != 0)
    status = bounds(function, "rounds", q->rounds, 1, 100000, err);
  return status;
}

static rw_status check_numbers(const char *function, const rw_least_squares *q,
                               const double *start, rw_error *err)
{
  size_t counted = q->n, free = 0;
  for (size_t j = 0; j < q->p; j++) {
    free += q->held == NULL || !q->held[j];
    if (!isfinite(start[j]))
      return rw_error_set(err, RW_ERR_ARGUMENT, function, "start", NULL,
                          "parameter %zu has no finite start", j + 1);
  }
  for (size_t i = 0; q->weight != NULL && i < q->n; i++) {
    if (!(q->weight[i] >= 0 && isfinite(q->weight[i])))
      return rw_error_range(err, function, "weight", q->weight[i], 0, HUGE_VAL, "",
                            "A weight of 0 leaves a point out.");
    counted -= q->weight[i] == 0;
  }
  if (counted < free)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "n",
                        "Give more points, or hold some parameters.",
                        "%zu points cannot determine %zu parameters", counted, free);
  return RW_OK;
}

static void share_out(search *s)
{
  size_t n = s->n, p = s->p;
  double *at = s->block;
  s->root = at;
  s->turned = at += n;
  s->second = at += n;
  s->here.r = at += n;
  s->next.r = at += n;
  s->here.J = at += n;
  s->next.J = at += n * p;
  s->a = at + n * p;
}

rw_status search_open(search *s, const char *function, const rw_least_squares *problem,
                      const double *start, rw_error *err)
{
  rw_status status = check_sizes(function, problem, err);
  if (status == RW_OK)
    status = check_numbers(function, problem, start, err);
  if (status != RW_OK)
    return status;
  *s = (search){.problem = problem, .n = problem->n, .p = problem->p, .worst = -1};
  s->tolerance = problem->tolerance > 0 ? problem->tolerance : 1e-10;
  s->most = problem->rounds > 0 ? problem->rounds : 1000;
  for (size_t j = 0; j < s->p; j++)
    if (problem->held == NULL || !problem->held[j])
      s->column[s->free++] = j;
  s->block = calloc(s->n * (5 + 2 * s->p + s->free), sizeof *s->block);
  if (s->block == NULL)
    return rw_error_set(err, RW_ERR_MEMORY, function, NULL, NULL, "not enough memory for a fit");
  share_out(s);
  memcpy(s->here.x, start, s->p * sizeof *start);
  search_weigh(s, NULL);
  return RW_OK;
}

rw_status search_begin(search *s, const char *function, const rw_least_squares *problem,
                       const double *start, rw_error *err)
{
  rw_status status = search_open(s, function, problem, start, err);
  if (status != RW_OK || s->free > 0)
    return status;
  search_close(s);
  return rw_error_set(err, RW_ERR_ARGUMENT, function, "held", NULL,
                      "every parameter is held, so there is nothing to fit");
}

void search_close(search *s)
{
  free(s->block);
  s->block = NULL;
}

void search_weigh(search *s, const double *factor)
{
  const double *w = s->problem->weight;
  for (size_t i = 0; i < s->n; i++)
    s->root[i] = sqrt((w != NULL ? w[i] : 1) * (factor != NULL ? factor[i] : 1));
}

static double weighted(const search *s, const double *r, size_t i)
{
  return s->root[i] > 0 ? s->root[i] * r[i] : 0;
}

static double sum_of_squares(const search *s, const double *r)
{
  double sum = 0;
  for (size_t i = 0; i < s->n; i++)
    sum += weighted(s, r, i) * weighted(s, r, i);
  return sum;
}

static int look(search *s, place *at)
{
  if (s->problem->f(at->x, at->r, at->J, s->problem->context) != 0)
    return 0;
  at->ss = sum_of_squares(s, at->r);
  if (!isfinite(at->ss))
    return 0;
  double sum = 0;
  for (size_t i = 0; i < s->n; i++)
    for (size_t k = 0; s->root[i] > 0 && k < s->free; k++)
      sum += fabs(at->J[i * s->p + s->column[k]]);
  return isfinite(sum);
}

/* J's free columns with their weights, their lengths, and what rounding makes of the model. */
static void gather(search *s)
{
  const place *at = &s->here;
  for (size_t k = 0; k < s->free; k++) {
    const double *J = at->J + s->column[k];
    double *a = s->a + k * s->n;
    for (size_t i = 0; i < s->n; i++)
      a[i] = s->root[i] > 0 ? s->root[i] * J[i * s->p] : 0;
    s->length[k] = orthogonal_length(a, s->n);
  }
  double sum = 0;
  for (size_t i = 0; i < s->n; i++) {
    double size = 0;
    for (size_t k = 0; k < s->free; k++)
      size += fabs(s->a[k * s->n + i] * at->x[s->column[k]]);
    sum += size * size;
  }
  s->rounding = 8 * DBL_EPSILON * sqrt(sum);
}

static void factor(search *s, const double *scale)
{
  for (size_t k = 0; k < s->free; k++)
    for (size_t i = 0; i < s->n; i++)
      s->a[k * s->n + i] /= scale[k];
  orthogonal_factor(s->a, s->n, s->free, s->tau);
}

static double one_if_zero(double x)
{
  return x > 0 ? x : 1;
}

/* Factors J at `here` and splits the residual along and across its columns. */
static void prepare(search *s)
{
  double scale[RW_NUM_PARAMETERS];
  gather(s);
  s->decomposed = 0;
  for (size_t k = 0; k < s->free; k++) {
    s->scale[k] = fmax(s->scale[k], s->length[k]);
    scale[k] = one_if_zero(s->scale[k]);
  }
  factor(s, scale);
  for (size_t i = 0; i < s->n; i++)
    s->turned[i] = weighted(s, s->here.r, i);
  orthogonal_turn(s->a, s->tau, s->n, s->free, s->turned);
  double along = orthogonal_length(s->turned, s->free) / sqrt((double)s->free);
  double across = s->n > s->free ? orthogonal_length(s->turned + s->free, s->n - s->free) /
                                       sqrt((double)(s->n - s->free))
                                 : 0;
  s->offset = along == 0 ? 0 : along / across;
}

/* Condition of J with columns of length 1, and the parameter that the least value leaves open. */
static void judge(search *s)
{
  double r[RW_NUM_PARAMETERS * RW_NUM_PARAMETERS], back[RW_NUM_PARAMETERS];
  singular *v = &s->plain;
  s->condition = HUGE_VAL;
  for (size_t k = 0; k < s->free; k++) {
    if (s->length[k] == 0) {
      s->worst = (int)s->column[k];
      return;
    }
    back[k] = s->scale[k] / s->length[k];
  }
  orthogonal_upper(s->a, s->n, s->free, back, r);
  orthogonal_values(r, s->free, v);
  const double *open = v->v + (s->free - 1) * s->free;
  size_t most = 0;
  for (size_t k = 1; k < s->free; k++)
    if (fabs(open[k]) > fabs(open[most]))
      most = k;
  s->worst = (int)s->column[most];
  if (v->s[s->free - 1] > 0)
    s->condition = v->s[0] / v->s[s->free - 1];
}

/* The step without damping and its length; infinite without full rank. */
static double undamped(const search *s, double *dx)
{
  double y[RW_NUM_PARAMETERS];
  for (size_t k = s->free; k-- > 0;) {
    y[k] = -s->turned[k];
    for (size_t j = k + 1; j < s->free; j++)
      y[k] -= s->a[j * s->n + k] * y[j];
    if (s->a[k * s->n + k] == 0)
      return HUGE_VAL;
    y[k] /= s->a[k * s->n + k];
    dx[k] = y[k] / one_if_zero(s->scale[k]);
  }
  return orthogonal_length(y, s->free);
}

/* The singular values of J with scaled columns, once at each place. */
static void decompose(search *s)
{
  if (s->decomposed)
    return;
  s->decomposed = 1;
  double one[RW_NUM_PARAMETERS], r[RW_NUM_PARAMETERS * RW_NUM_PARAMETERS];
  for (size_t k = 0; k < s->free; k++)
    one[k] = 1;
  orthogonal_upper(s->a, s->n, s->free, one, r);
  orthogonal_values(r, s->free, &s->values);
}

/* A step for a damping: along the singular directions in `y`, in parameters in `dx`. */
static double damped(const search *s, const double *b, double damping, double *dx)
{
  const singular *v = &s->values;
  size_t p = s->free;
  double y[RW_NUM_PARAMETERS];
  for (size_t i = 0; i < p; i++) {
    double t = v->s[i], below = t * t + damping;
    y[i] = below > 0 ? -t * b[i] / below : 0;
  }
  for (size_t k = 0; k < p; k++) {
    double sum = 0;
    for (size_t i = 0; i < p; i++)
      sum += v->v[i * p + k] * y[i];
    dx[k] = sum / one_if_zero(s->scale[k]);
  }
  return orthogonal_length(y, p);
}

/* The first members of a turned vector along the left singular directions. */
static void project(const search *s, const double *turned, double *b)
{
  size_t p = s->free;
  for (size_t i = 0; i < p; i++) {
    b[i] = 0;
    for (size_t k = 0; k < p; k++)
      b[i] += s->values.u[i * p + k] * turned[k];
  }
}

/* The damping whose step is as long as the radius, to a tenth; 0 where the full step is shorter.
 */
static double damping_for(const search *s, const double *b, double *dx, double *length)
{
  enum { TRIES = 80 };
  *length = damped(s, b, 0, dx);
  if (*length <= s->radius)
    return 0;
  double steep = 0;
  for (size_t i = 0; i < s->free; i++)
    steep = hypot(steep, s->values.s[i] * b[i]);
  double low = 0, high = steep / s->radius, damping = high / 16;
  for (int i = 0; i < TRIES; i++) {
    *length = damped(s, b, damping, dx);
    if (fabs(*length - s->radius) <= 0.1 * s->radius)
      break;
    if (*length > s->radius)
      low = damping;
    else
      high = damping;
    damping = low > 0 ? sqrt(low * high) : high * 1e-3;
  }
  return damping;
}

static double predicted(const search *s, const double *b, double damping)
{
  double sum = 0;
  for (size_t i = 0; i < s->free; i++) {
    double t = s->values.s[i], rest = damping > 0 ? damping / (t * t + damping) : 0;
    if (t > 0)
      sum += b[i] * b[i] * (1 - rest * rest);
  }
  return sum;
}

static void stepped(const search *s, const double *dx, double share, double *x)
{
  memcpy(x, s->here.x, s->p * sizeof *x);
  for (size_t k = 0; k < s->free; k++)
    x[s->column[k]] += share * dx[k];
}

/* Adds to a step half the acceleration along it (Transtrum & Sethna 2012); 0 where that is so
 * large that the step is too long. */
static int accelerate(search *s, double damping, double length, double *dx)
{
  static const double SHARE = 0.1, MOST = 0.75;
  stepped(s, dx, SHARE, s->next.x);
  if (s->problem->f(s->next.x, s->next.r, NULL, s->problem->context) != 0)
    return 0;
  for (size_t i = 0; i < s->n; i++) {
    double along = 0;
    for (size_t k = 0; k < s->free; k++)
      along += s->here.J[i * s->p + s->column[k]] * dx[k];
    double bend = 2 / SHARE * ((s->next.r[i] - s->here.r[i]) / SHARE - along);
    s->second[i] = s->root[i] > 0 ? s->root[i] * bend : 0;
    if (!isfinite(s->second[i]))
      return 0;
  }
  double b[RW_NUM_PARAMETERS], more[RW_NUM_PARAMETERS];
  orthogonal_turn(s->a, s->tau, s->n, s->free, s->second);
  project(s, s->second, b);
  if (damped(s, b, damping, more) > MOST * length)
    return 0;
  for (size_t k = 0; k < s->free; k++)
    dx[k] += 0.5 * more[k];
  return 1;
}

/* How far a full step would move a parameter, of itself; infinite without full rank. */
static double full_step(const search *s)
{
  double dx[RW_NUM_PARAMETERS], most = 0;
  if (!(undamped(s, dx) < HUGE_VAL))
    return HUGE_VAL;
  for (size_t k = 0; k < s->free; k++)
    if (dx[k] != 0)
      most = fmax(most, fabs(dx[k] / s->here.x[s->column[k]]));
  return most;
}

static int settled(const search *s)
{
  return s->offset <= s->tolerance || sqrt(s->here.ss) <= s->rounding ||
         full_step(s) <= s->tolerance;
}

static search_end ended(search *s)
{
  judge(s);
  return s->condition <= HIGHEST_CONDITION ? SEARCH_FOUND : SEARCH_UNDETERMINED;
}

static double scaled_length(const search *s)
{
  double y[RW_NUM_PARAMETERS];
  for (size_t k = 0; k < s->free; k++)
    y[k] = s->scale[k] * s->here.x[s->column[k]];
  return orthogonal_length(y, s->free);
}

/* Below this share of the sum of squares a gain drowns in rounding. */
static const double DROWNED = 1e-12;

/* One step: 1 downhill, 0 none within the radius, which is cut, 2 level to rounding. */
static int step(search *s)
{
  double dx[RW_NUM_PARAMETERS], length = undamped(s, dx), damping = 0;
  double along = orthogonal_length(s->turned, s->free), gain = along * along;
  if (!(length <= s->radius)) {
    double b[RW_NUM_PARAMETERS];
    decompose(s);
    project(s, s->turned, b);
    damping = damping_for(s, b, dx, &length);
    gain = predicted(s, b, damping);
  }
  int fine = damping == 0 || accelerate(s, damping, length, dx);
  if (fine) {
    stepped(s, dx, 1, s->next.x);
    fine = look(s, &s->next);
  }
  if (!fine) {
    s->radius = 0.25 * length;
    return 0;
  }
  double won = s->here.ss - s->next.ss;
  int level = gain <= DROWNED * s->here.ss && fabs(won) <= DROWNED * s->here.ss;
  double ratio = level ? 1 : won / gain;
  if (ratio < 0.25)
    s->radius = 0.25 * length;
  else if (ratio > 0.75)
    s->radius = fmax(s->radius, 2 * length);
  if (!(ratio > 1e-4))
    return 0;
  place other = s->here;
  s->here = s->next;
  s->next = other;
  return level ? 2 : 1;
}

search_end search_run(search *s)
{
  enum { LEVEL = 4 };
  s->rounds = 0;
  memset(s->scale, 0, sizeof s->scale);
  if (!look(s, &s->here))
    return SEARCH_NO_VALUE;
  if (s->free == 0)
    return SEARCH_FOUND;
  prepare(s);
  double size = scaled_length(s);
  s->radius = size > 0 ? size : 10 * sqrt(s->here.ss);
  double best = HUGE_VAL;
  for (int level = 0; !settled(s);) {
    if (s->rounds == s->most) {
      judge(s);
      return SEARCH_LOST;
    }
    s->rounds++;
    int went = step(s);
    if (went > 0)
      prepare(s);
    level = went == 2 && s->offset > 0.9 * best ? level + 1 : 0;
    best = fmin(best, s->offset);
    int stuck = s->radius <= DBL_EPSILON * scaled_length(s) || s->radius < 1e-300;
    if (level < LEVEL && !stuck)
      continue;
    /* Rounding in the model itself may keep the last digits moving. */
    if (s->offset <= 1e3 * s->tolerance)
      return ended(s);
    judge(s);
    return SEARCH_LOST;
  }
  return ended(s);
}

void search_settle(search *s)
{
  s->here.ss = sum_of_squares(s, s->here.r);
  memset(s->scale, 0, sizeof s->scale);
  prepare(s);
  judge(s);
}

rw_status search_refuse(const search *s, const char *function, search_end end, rw_error *err)
{
  char name[24] = "", *at = name;
  rw_status status = RW_ERR_NUMERIC;
  if (s->problem->reached != NULL)
    memcpy(s->problem->reached, s->here.x, s->p * sizeof *s->here.x);
  int open = end != SEARCH_NO_VALUE && s->worst >= 0 && !(s->condition <= HIGHEST_CONDITION);
  if (open) {
    *at++ = 'x';
    *at++ = '[';
    if (s->worst >= 10)
      *at++ = '1';
    *at++ = (char)('0' + s->worst % 10);
    *at++ = ']';
    *at = '\0';
  }
  if (end == SEARCH_NO_VALUE)
    rw_error_set(err, status, function, "start", "Start from other values.",
                 "the model has no finite value where the fit starts");
  else if (open)
    rw_error_set(err, status, function, name,
                 "Hold that parameter at a likely value, or add measurements it acts on.",
                 "the fit did not come to a result: the measurements do not determine parameter "
                 "%d where the search ended after %d steps",
                 s->worst + 1, s->rounds);
  else
    rw_error_set(err, status, function, NULL,
                 "Start nearer to likely values, or hold some parameters.",
                 "the fit did not converge: after %d steps the sum of squares was not yet the "
                 "least",
                 s->rounds);
  if (err != NULL && end != SEARCH_NO_VALUE)
    err->value = s->here.ss;
  return status;
}

/* (J'WJ)^-1 from the singular values. */
static void invert(const search *s, double *unscaled)
{
  const singular *v = &s->plain;
  size_t p = s->free;
  for (size_t i = 0; i < p; i++)
    for (size_t j = 0; j < p; j++) {
      double sum = 0;
      for (size_t k = 0; k < p; k++)
        sum += v->v[k * p + i] * v->v[k * p + j] / (v->s[k] * v->s[k]);
      unscaled[s->column[i] * s->p + s->column[j]] = sum / s->length[i] / s->length[j];
    }
}

void search_report(const search *s, rw_least_squares_fit *out)
{
  size_t p = s->p, counted = 0;
  for (size_t i = 0; i < s->n; i++)
    counted += s->problem->weight == NULL || s->problem->weight[i] > 0;
  rw_least_squares_fit fit = {.p = p,
                              .rss = s->here.ss,
                              .freedom = counted - s->free,
                              .condition = s->condition,
                              .offset = s->offset,
                              .rounds = s->rounds};
  fit.residual_sd = fit.freedom > 0 ? sqrt(fit.rss / (double)fit.freedom) : NAN;
  memcpy(fit.x, s->here.x, p * sizeof *fit.x);
  invert(s, fit.unscaled);
  for (size_t i = 0; i < p; i++)
    for (size_t j = 0; j < p; j++) {
      double c = fit.unscaled[i * p + j];
      double of = sqrt(fit.unscaled[i * p + i]) * sqrt(fit.unscaled[j * p + j]);
      fit.covariance[i * p + j] = c == 0 ? 0 : fit.residual_sd * fit.residual_sd * c;
      fit.correlation[i * p + j] = of == 0 ? 0 : i == j ? 1 : c / of;
    }
  for (size_t i = 0; i < p; i++)
    fit.sd[i] = fit.unscaled[i * p + i] == 0 ? 0 : fit.residual_sd * sqrt(fit.unscaled[i * p + i]);
  *out = fit;
}
