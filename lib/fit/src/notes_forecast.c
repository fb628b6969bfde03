/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "notes.h"

#include <resinwright/num.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char RESIN[] = "rw_notes_resin", DRAW[] = "rw_notes_draw",
                  FORECAST[] = "rw_notes_forecast";

static rw_status check_observer(const rw_notes *f, const char *function, size_t observer,
                                rw_error *err)
{
  if (observer == RW_NOTES_ANYONE || observer < f->observers)
    return RW_OK;
  return rw_error_range(err, function, "observer", (double)observer, 0, (double)f->observers - 1,
                        "", NULL);
}

static double offset_of(const rw_notes *f, const double *at, size_t observer)
{
  return observer == RW_NOTES_ANYONE ? 0 : at[f->m - f->observers + observer];
}

/* The reciprocal temperature, against the law's, where the ages that were noted do not vary with
 * the energy: its lever in mol/kJ. */
static double pivot(const rw_notes *f)
{
  double v[NOTES_MOST] = {[NOTES_RATE] = -1}, all = 0, covariance = 0;
  for (int i = 0; i < RW_MILESTONES; i++)
    all += (double)(f->not_yet[i] + f->already[i]);
  for (int i = 0; i < RW_MILESTONES && all > 0; i++)
    if (f->mark[i].place >= 0)
      v[f->mark[i].place] = (double)(f->not_yet[i] + f->already[i]) / all;
  for (size_t i = 0; i < f->m; i++)
    covariance += v[i] * f->after[i * f->m + NOTES_ENERGY];
  return -covariance / f->after[NOTES_ENERGY * f->m + NOTES_ENERGY];
}

/* Moves T_ref of a law; its rates stay what they are. */
static void rebase(rw_cure_law *law, double lever)
{
  double inverse = 1 / law->T_ref + lever * RW_GAS_CONSTANT / 1e3;
  double T = fmin(fmax(1 / inverse, 250), 350);
  if (!(inverse > 0) || lever == 0)
    return;
  double u = (1 / T - 1 / law->T_ref) / RW_GAS_CONSTANT;
  law->k1 *= exp(-law->E1 * u);
  law->k2 *= exp(-law->E2 * u);
  law->k3 *= exp(-law->E3 * u);
  law->ac0 += law->acT * (T - law->T_ref);
  law->T_ref = T;
}

/* Variance of a milestone's ln age at the resin's T_ref, or of the rate alone for mark NULL. */
static double variance_of(const rw_notes *f, const notes_mark *mark, double lever, size_t observer)
{
  double v[NOTES_MOST] = {[NOTES_RATE] = -1, [NOTES_ENERGY] = lever};
  if (mark != NULL) {
    v[mark->place] = 1;
    if (observer != RW_NOTES_ANYONE)
      v[f->m - f->observers + observer] = 1;
  }
  return fmax(rw_num_quadratic(f->m, f->after, v), 0);
}

/* Spread of a threshold from that of its ln age. */
static double threshold_sd(const rw_notes *f, rw_milestone m, double later, double sd)
{
  const notes_mark *mark = &f->mark[m];
  const rw_resin *r = &f->prior.resin;
  double moved = f->at[mark->place] + later, a = notes_cure_at(f, m, moved), rate = 0;
  rw_cure_rate(&r->law, a, f->T_ref, &rate, NULL);
  double spread = sd * rate * exp(mark->log_age + moved);
  return m == RW_WORK_END ? spread * notes_thickening(&r->flow, a) : spread;
}

rw_status rw_notes_resin(const rw_notes *f, size_t observer, rw_resin *out, rw_error *err)
{
  rw_status status = check_observer(f, RESIN, observer, err);
  if (status != RW_OK)
    return status;
  rw_resin r;
  double later = offset_of(f, f->at, observer), law_T = f->prior.resin.law.T_ref;
  notes_resin_at(f, f->at, later, &r);
  rebase(&r.law, pivot(f));
  double lever = 1e3 * (1 / r.law.T_ref - 1 / law_T) / RW_GAS_CONSTANT;
  double common = variance_of(f, NULL, lever, observer);
  for (int i = 0; i < RW_MILESTONES; i++)
    if (f->mark[i].place >= 0)
      common = fmin(common, variance_of(f, &f->mark[i], lever, observer));
  r.rate_sd = sqrt(common);
  r.energy_sd = 1e3 * sqrt(f->after[NOTES_ENERGY * f->m + NOTES_ENERGY]);
  for (int i = 0; i < RW_MILESTONES; i++)
    if (f->mark[i].place >= 0) {
      double own = variance_of(f, &f->mark[i], lever, observer) - common;
      r.threshold[i].sd = threshold_sd(f, (rw_milestone)i, later, sqrt(fmax(own, 0)));
    }
  *out = r;
  return RW_OK;
}

/* A stream of unknowns: a layer of the scatter, the layer's covariance among those that matter,
 * the next batch's scatter, and the temperature. */
typedef struct stream {
  const rw_notes *fit;
  rw_draws *draws;
  size_t observer, n; /* n unknowns are drawn */
  size_t place[NOTES_MOST];
  double *factor; /* n*n for each layer */
  int scatter;
} stream;

static void stream_destroy(stream *s)
{
  rw_draws_destroy(s->draws);
  free(s->factor);
}

/* Factor of one layer's covariance; 0 where it has none. */
static int take_layer(const stream *s, const notes_layer *l, double *factor)
{
  size_t m = s->fit->m;
  for (size_t i = 0; i < s->n; i++)
    for (size_t j = 0; j < s->n; j++)
      factor[i * s->n + j] = l->covariance[s->place[i] * m + s->place[j]];
  return rw_num_cholesky(s->n, factor, 0) > 0;
}

static rw_status stream_create(const rw_notes *f, size_t observer, int scatter, unsigned long seed,
                               stream *s, rw_error *err)
{
  *s = (stream){.fit = f, .observer = observer, .scatter = scatter};
  for (size_t i = 0; i < f->m - f->observers; i++)
    if (i != NOTES_SCATTER)
      s->place[s->n++] = i;
  if (observer != RW_NOTES_ANYONE)
    s->place[s->n++] = f->m - f->observers + observer;
  s->factor = malloc(f->layers * s->n * s->n * sizeof *s->factor);
  if (s->factor == NULL)
    return rw_error_set(err, RW_ERR_MEMORY, DRAW, NULL, NULL, "not enough memory for draws");
  rw_status status = RW_OK;
  for (size_t k = 0; k < f->layers && status == RW_OK; k++)
    if (!take_layer(s, &f->layer[k], s->factor + k * s->n * s->n))
      status = rw_error_set(err, RW_ERR_NUMERIC, DRAW, NULL, NULL,
                            "the covariance of the fit cannot be drawn from");
  if (status == RW_OK)
    status = rw_draws_create((unsigned)s->n + 3, seed, &s->draws, err);
  if (status != RW_OK)
    stream_destroy(s);
  return status;
}

static size_t layer_of(const rw_notes *f, double z)
{
  double p = rw_num_normal_cdf(z);
  size_t k = 0;
  while (k + 1 < f->layers && p > f->layer[k].weight)
    p -= f->layer[k++].weight;
  return k;
}

/* Next unknowns; `later` is what the hand adds to ln ages, `warm` standard normal. */
static void stream_next(stream *s, double *at, double *later, double *warm)
{
  double z[NOTES_MOST + 3];
  const rw_notes *f = s->fit;
  rw_draws_next(s->draws, z);
  size_t k = layer_of(f, z[s->n + 2]);
  const double *factor = s->factor + k * s->n * s->n;
  memcpy(at, f->layer[k].at, f->m * sizeof *at);
  for (size_t i = 0; i < s->n; i++)
    for (size_t j = 0; j <= i; j++)
      at[s->place[i]] += factor[i * s->n + j] * z[j];
  *later = offset_of(f, at, s->observer);
  *warm = z[s->n + 1];
  if (s->scatter)
    at[NOTES_RATE] -= exp(at[NOTES_SCATTER]) * z[s->n];
}

static void without_spread(rw_resin *r)
{
  r->rate_sd = r->energy_sd = 0;
  for (int i = 0; i < RW_MILESTONES; i++)
    r->threshold[i].sd = 0;
}

rw_status rw_notes_draw(const rw_notes *f, size_t observer, int scatter, size_t n,
                        unsigned long seed, rw_resin *out, rw_error *err)
{
  rw_status status = check_observer(f, DRAW, observer, err);
  if (status != RW_OK)
    return status;
  if (n < 1 || n > 100000)
    return rw_error_range(err, DRAW, "n", (double)n, 1, 100000, "", NULL);
  stream s;
  status = stream_create(f, observer, scatter, seed, &s, err);
  if (status != RW_OK)
    return status;
  for (size_t i = 0; i < n; i++) {
    double at[NOTES_MOST], later, warm;
    stream_next(&s, at, &later, &warm);
    notes_resin_at(f, at, later, &out[i]);
    without_spread(&out[i]);
  }
  stream_destroy(&s);
  return RW_OK;
}

enum { BLOCK = 512, LEVELS = RW_MILESTONES - 1 };
/* What a milestone's time may hang on, in the order of rw_forecast_because. */
enum { RATE, ENERGY, TEMPERATURE, TOUCH, CAUSES };

/* One draw on its way. */
typedef struct drawn {
  rw_milestone order[LEVELS];
  double cause[TOUCH]; /* but for the touch, which differs by milestone */
  double touch[RW_MILESTONES];
} drawn;

typedef struct block {
  rw_cure_draw *draw;
  drawn *drawn;
  double *level, *time, *thick;
} block;

static void block_destroy(block *b)
{
  free(b->draw);
  free(b->drawn);
  free(b->level);
}

static int block_create(block *b, size_t n)
{
  *b = (block){.draw = calloc(n, sizeof *b->draw),
               .drawn = calloc(n, sizeof *b->drawn),
               .level = calloc(n * (2 * LEVELS + 1), sizeof *b->level)};
  if (b->draw == NULL || b->drawn == NULL || b->level == NULL) {
    block_destroy(b);
    return 0;
  }
  b->time = b->level + n * LEVELS;
  b->thick = b->time + n * LEVELS;
  return 1;
}

static void rising(const rw_resin *r, rw_milestone order[LEVELS])
{
  size_t n = 0;
  for (int i = 0; i < RW_MILESTONES; i++) {
    if (i == RW_WORK_END)
      continue;
    size_t at = n++;
    for (; at > 0 && r->threshold[order[at - 1]].value > r->threshold[i].value; at--)
      order[at] = order[at - 1];
    order[at] = (rw_milestone)i;
  }
}

static void lay(const rw_notes *f, const rw_resin *r, size_t i, block *b)
{
  rising(r, b->drawn[i].order);
  b->draw[i].law = r->law;
  b->draw[i].flow = &f->prior.resin.flow;
  b->draw[i].viscosity = r->work_viscosity;
  for (size_t l = 0; l < LEVELS; l++)
    b->level[i * LEVELS + l] = r->threshold[b->drawn[i].order[l]].value;
}

/* What is drawn apart from the scatter of the ages about their common speed. */
static void causes(const rw_notes *f, const double *at, double warm, drawn *d)
{
  double sum = 0, n = 0;
  for (int i = 0; i < RW_MILESTONES; i++)
    if (f->mark[i].place >= 0) {
      sum += at[f->mark[i].place];
      n++;
    }
  double common = n > 0 ? sum / n : 0;
  d->cause[RATE] = at[NOTES_RATE] - f->lever * at[NOTES_ENERGY] - common;
  d->cause[ENERGY] = at[NOTES_ENERGY];
  d->cause[TEMPERATURE] = warm;
  for (int i = 0; i < RW_MILESTONES; i++)
    d->touch[i] = f->mark[i].place >= 0 ? at[f->mark[i].place] - common : 0;
}

static rw_status follow(const rw_notes_question *q, block *b, size_t n, double *time,
                        double *reached, rw_error *err)
{
  rw_draw_plan plan = {.from = q->from, .to = q->to, .tolerance = 1e-6, .levels = LEVELS};
  rw_status status =
      rw_cure_draws(&plan, b->draw, n, q->hull, b->level, b->time, b->thick, reached, err);
  for (size_t i = 0; i < n && status >= 0; i++) {
    time[i * RW_MILESTONES + RW_WORK_END] = b->thick[i];
    for (size_t l = 0; l < LEVELS; l++)
      time[i * RW_MILESTONES + b->drawn[i].order[l]] = b->time[i * LEVELS + l];
  }
  return status;
}

/* Squared correlation of what was drawn with ln time since it was laid. */
typedef struct sums {
  double n, x, t, xx, xt, tt;
} sums;

static void add(sums *s, double x, double t)
{
  s->n++;
  s->x += x;
  s->t += t;
  s->xx += x * x;
  s->xt += x * t;
  s->tt += t * t;
}

static double share(const sums *s)
{
  double xt = s->n * s->xt - s->x * s->t, xx = s->n * s->xx - s->x * s->x;
  double tt = s->n * s->tt - s->t * s->t;
  return xx > 0 && tt > 0 ? xt * xt / (xx * tt) : 0;
}

typedef struct tally {
  sums cause[RW_MILESTONES][CAUSES];
} tally;

static void count(const rw_notes_question *q, const block *b, size_t n, const double *time,
                  tally *t)
{
  for (size_t i = 0; i < n; i++)
    for (int m = 0; m < RW_MILESTONES; m++) {
      double at = time[i * RW_MILESTONES + (size_t)m];
      if (!(at < HUGE_VAL && at > q->from))
        continue;
      for (int c = 0; c < CAUSES; c++)
        add(&t->cause[m][c], c == TOUCH ? b->drawn[i].touch[m] : b->drawn[i].cause[c],
            log(at - q->from));
    }
}

static void summarise(size_t n, const double *time, const tally *t, double *column, rw_forecast *f)
{
  for (size_t m = 0; m < RW_MILESTONES; m++) {
    for (size_t i = 0; i < n; i++)
      column[i] = time[i * RW_MILESTONES + m];
    rw_num_sort(column, n);
    f->low[m] = rw_num_quantile(column, n, 0.05);
    f->high[m] = rw_num_quantile(column, n, 0.95);
    f->half_low[m] = rw_num_quantile(column, n, 0.25);
    f->half_high[m] = rw_num_quantile(column, n, 0.75);
    for (int c = 0; c < CAUSES; c++)
      if (share(&t->cause[m][c]) > share(&t->cause[m][f->because[m]]))
        f->because[m] = c;
  }
}

static rw_status draw_all(const rw_notes *f, const rw_notes_question *q, block *b, double *time,
                          tally *t, rw_error *err)
{
  stream s;
  rw_status status = stream_create(f, q->observer, q->scatter, q->seed, &s, err);
  if (status < 0)
    return status;
  for (size_t first = 0; status >= 0 && first < q->draws; first += BLOCK) {
    size_t n = q->draws - first < BLOCK ? q->draws - first : BLOCK;
    double *here = time + first * RW_MILESTONES;
    for (size_t i = 0; i < n; i++) {
      double at[NOTES_MOST], later, warm;
      rw_resin r;
      stream_next(&s, at, &later, &warm);
      notes_resin_at(f, at, later, &r);
      lay(f, &r, i, b);
      causes(f, at, warm, &b->drawn[i]);
      b->draw[i].shift = warm * q->temperature_sd;
    }
    status = follow(q, b, n, here, NULL, err);
    if (status >= 0)
      count(q, b, n, here, t);
  }
  stream_destroy(&s);
  return status;
}

static rw_status estimate(const rw_notes *f, const rw_notes_question *q, block *b,
                          rw_forecast *out, rw_error *err)
{
  rw_resin r;
  notes_resin_at(f, f->at, offset_of(f, f->at, q->observer), &r);
  lay(f, &r, 0, b);
  b->draw[0].shift = 0;
  rw_status status = follow(q, b, 1, out->time, &out->reached, err);
  for (int m = 0; m < RW_MILESTONES; m++)
    out->low[m] = out->high[m] = out->half_low[m] = out->half_high[m] = out->time[m];
  return status;
}

static rw_status check(const rw_notes *f, const rw_notes_question *q, rw_error *err)
{
  if (!(q->temperature_sd >= 0 && q->temperature_sd <= 20))
    return rw_error_range(err, FORECAST, "temperature_sd", q->temperature_sd, 0, 20, "K apart",
                          NULL);
  if (q->draws > 100000)
    return rw_error_range(err, FORECAST, "draws", (double)q->draws, 0, 100000, "", NULL);
  return check_observer(f, FORECAST, q->observer, err);
}

rw_status rw_notes_forecast(const rw_notes *f, const rw_notes_question *q, rw_forecast *out,
                            rw_error *err)
{
  rw_status status = check(f, q, err);
  if (status != RW_OK)
    return status;
  size_t n = q->draws > 0 ? q->draws : 1;
  block b;
  tally t = {0};
  rw_forecast forecast = {0};
  double *time = malloc(n * (RW_MILESTONES + 1) * sizeof *time);
  if (time == NULL || !block_create(&b, n < BLOCK ? n : BLOCK)) {
    free(time);
    return rw_error_set(err, RW_ERR_MEMORY, FORECAST, NULL, NULL, "not enough memory for draws");
  }
  status = estimate(f, q, &b, &forecast, err);
  if (status >= 0 && q->draws > 0) {
    rw_status drawn_status = draw_all(f, q, &b, time, &t, err);
    status = drawn_status < 0 || drawn_status > status ? drawn_status : status;
  }
  if (status >= 0 && q->draws > 0)
    summarise(n, time, &t, time + n * RW_MILESTONES, &forecast);
  block_destroy(&b);
  free(time);
  if (status >= 0)
    *out = forecast;
  return status;
}
