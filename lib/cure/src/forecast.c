/* SPDX-License-Identifier: GPL-3.0-or-later */

#include <resinwright/cure.h>
#include <resinwright/num.h>

#include <math.h>
#include <stdlib.h>

/* What is drawn. */
enum { RATE, ENERGY, TEMPERATURE, TOUCH, UNKNOWNS };

const char *rw_forecast_because(int because)
{
  static const char *const names[UNKNOWNS] = {
      [RATE] = "how fast this resin really is",
      [ENERGY] = "how much the cold slows it",
      [TEMPERATURE] = "the hull's temperature",
      [TOUCH] = "where the hand draws the line",
  };
  return because >= 0 && because < UNKNOWNS ? names[because] : "";
}

/* The resin as one draw has it. Thresholds move together on the logit scale, so that they keep
 * their order and stay between 0 and 1. */
static rw_resin drawn(const rw_resin *r, const double z[UNKNOWNS])
{
  rw_resin d = *r;
  d.law = rw_cure_law_moved(&r->law, z[RATE] * r->rate_sd, z[ENERGY] * r->energy_sd);
  d.work_viscosity *= exp(z[TOUCH] * r->threshold[RW_WORK_END].sd);
  for (int i = 0; i < RW_MILESTONES; i++) {
    double a = r->threshold[i].value;
    if (i == RW_WORK_END || !(a > 0 && a < 1))
      continue;
    double logit = log(a / (1 - a)) + z[TOUCH] * r->threshold[i].sd / (a * (1 - a));
    d.threshold[i].value = 1 / (1 + exp(-logit));
  }
  return d;
}

/* A block of draws on its way to the engine: at most so many at a time, whatever is asked. */
enum { BLOCK = 512, LEVELS = RW_MILESTONES - 1 };
typedef struct row {
  double level[LEVELS];
} row;
typedef struct block {
  rw_resin *resin;
  rw_cure_draw *draw;
  row *level, *time;
  double *thick;
} block;

static void block_destroy(block *b)
{
  free(b->resin);
  free(b->draw);
  free(b->level);
  free(b->time);
  free(b->thick);
}

/* 0 where there is not enough memory. */
static int block_create(block *b, size_t draws)
{
  size_t n = draws < BLOCK ? draws : BLOCK;
  *b = (block){.resin = malloc(n * sizeof *b->resin),
               .draw = malloc(n * sizeof *b->draw),
               .level = malloc(n * sizeof *b->level),
               .time = malloc(n * sizeof *b->time),
               .thick = malloc(n * sizeof *b->thick)};
  if (b->resin != NULL && b->draw != NULL && b->level != NULL && b->time != NULL &&
      b->thick != NULL)
    return 1;
  block_destroy(b);
  return 0;
}

/* The milestones but work_end in rising order of their thresholds, which all draws share. */
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

/* Times of the milestones of `count` resins, which stand in the block; row after row of `time`.
 * `reached` is NULL where it is not wanted. */
static rw_status follow(block *b, size_t count, const rw_history *hull, double from, double to,
                        double *time, double *reached, rw_error *err)
{
  rw_draw_plan plan = {.from = from, .to = to, .tolerance = 1e-6, .levels = LEVELS};
  for (size_t i = 0; i < count; i++) {
    rw_milestone order[LEVELS];
    const rw_resin *r = &b->resin[i];
    rising(r, order);
    b->draw[i].law = r->law;
    b->draw[i].flow = &r->flow;
    b->draw[i].viscosity = r->work_viscosity;
    for (size_t l = 0; l < LEVELS; l++)
      b->level[i].level[l] = r->threshold[order[l]].value;
  }
  rw_status status = rw_cure_draws(&plan, b->draw, count, hull, b->level[0].level,
                                   b->time[0].level, b->thick, reached, err);
  if (status < 0)
    return status;
  for (size_t i = 0; i < count; i++) {
    rw_milestone order[LEVELS];
    rising(&b->resin[i], order);
    time[i * RW_MILESTONES + RW_WORK_END] = b->thick[i];
    for (size_t l = 0; l < LEVELS; l++)
      time[i * RW_MILESTONES + order[l]] = b->time[i].level[l];
  }
  return status;
}

/* What all forecasts are asked with. */
typedef struct asked {
  const rw_resin *resin;
  const rw_history *hull;
  double from, to;
  double temperature_sd;
  size_t draws;
  unsigned long seed;
} asked;

/* Times of all draws, row after row; z keeps what was drawn, and is NULL where nobody asks. */
static rw_status draw_all(const asked *q, block *b, double *z, double *time, rw_error *err)
{
  rw_draws *stream = NULL;
  rw_status status = rw_draws_create(UNKNOWNS, q->seed, &stream, err);
  for (size_t first = 0; status >= 0 && first < q->draws; first += BLOCK) {
    size_t count = q->draws - first < BLOCK ? q->draws - first : BLOCK;
    for (size_t i = 0; i < count; i++) {
      double here[UNKNOWNS], *at = z == NULL ? here : z + (first + i) * UNKNOWNS;
      rw_draws_next(stream, at);
      b->resin[i] = drawn(q->resin, at);
      b->draw[i].shift = at[TEMPERATURE] * q->temperature_sd;
    }
    status = follow(b, count, q->hull, q->from, q->to, time + first * RW_MILESTONES, NULL, err);
  }
  rw_draws_destroy(stream);
  return status;
}

static void summarise(size_t n, const double *z, const double *time, double *column,
                      rw_forecast *f)
{
  for (size_t m = 0; m < RW_MILESTONES; m++) {
    for (size_t i = 0; i < n; i++)
      column[i] = time[i * RW_MILESTONES + m];
    int closest = rw_num_closest(n, z, UNKNOWNS, column);
    f->because[m] = closest >= 0 ? closest : RATE;
    rw_num_sort(column, n);
    f->low[m] = rw_num_quantile(column, n, 0.05);
    f->high[m] = rw_num_quantile(column, n, 0.95);
    f->half_low[m] = rw_num_quantile(column, n, 0.25);
    f->half_high[m] = rw_num_quantile(column, n, 0.75);
  }
}

static rw_status check(const char *function, const rw_resin *r, double temperature_sd,
                       size_t draws, rw_error *err)
{
  rw_status status = rw_resin_check(r, err);
  if (status < 0)
    return status;
  if (!(temperature_sd >= 0 && temperature_sd <= 20))
    return rw_error_range(err, function, "temperature_sd", temperature_sd, 0, 20, "K apart", NULL);
  if (draws > 100000)
    return rw_error_range(err, function, "draws", (double)draws, 0, 100000, "", NULL);
  return status;
}

static rw_status no_memory(const char *function, rw_error *err)
{
  return rw_error_set(err, RW_ERR_MEMORY, function, NULL, NULL, "not enough memory for draws");
}

rw_status rw_cure_chances(const rw_resin *r, const rw_history *hull, double from, double at,
                          double temperature_sd, size_t draws, unsigned long seed,
                          double chance[RW_MILESTONES], rw_error *err)
{
  const char *function = "rw_cure_chances";
  rw_status checked = check(function, r, temperature_sd, draws, err);
  if (checked < 0)
    return checked;
  if (draws < 1)
    return rw_error_range(err, function, "draws", 0, 1, 100000, "", NULL);
  asked q = {r, hull, from, at, temperature_sd, draws, seed};
  block b;
  double *time = malloc(draws * RW_MILESTONES * sizeof *time);
  if (time == NULL || !block_create(&b, draws)) {
    free(time);
    return no_memory(function, err);
  }
  rw_status status = draw_all(&q, &b, NULL, time, err);
  for (size_t m = 0; status >= 0 && m < RW_MILESTONES; m++) {
    size_t reached = 0;
    for (size_t i = 0; i < draws; i++)
      reached += time[i * RW_MILESTONES + m] <= at;
    chance[m] = (double)reached / (double)draws;
  }
  block_destroy(&b);
  free(time);
  return status < 0 ? status : checked;
}

/* The best estimate, which needs no memory. */
static rw_status estimate(const asked *q, rw_forecast *f, rw_error *err)
{
  rw_resin resin = *q->resin;
  rw_cure_draw draw = {.shift = 0};
  row level, time;
  double thick;
  block one = {&resin, &draw, &level, &time, &thick};
  rw_status status = follow(&one, 1, q->hull, q->from, q->to, f->time, &f->reached, err);
  for (int m = 0; m < RW_MILESTONES; m++)
    f->low[m] = f->high[m] = f->half_low[m] = f->half_high[m] = f->time[m];
  return status;
}

static rw_status spread(const char *function, const asked *q, rw_forecast *f, rw_error *err)
{
  block b;
  double *room = malloc(q->draws * (UNKNOWNS + RW_MILESTONES + 1) * sizeof *room);
  if (room == NULL || !block_create(&b, q->draws)) {
    free(room);
    return no_memory(function, err);
  }
  double *z = room, *time = z + q->draws * UNKNOWNS, *column = time + q->draws * RW_MILESTONES;
  rw_status status = draw_all(q, &b, z, time, err);
  if (status >= 0)
    summarise(q->draws, z, time, column, f);
  block_destroy(&b);
  free(room);
  return status;
}

rw_status rw_cure_forecast(const rw_resin *r, const rw_history *hull, double from, double to,
                           double temperature_sd, size_t draws, unsigned long seed,
                           rw_forecast *out, rw_error *err)
{
  const char *function = "rw_cure_forecast";
  rw_status checked = check(function, r, temperature_sd, draws, err);
  if (checked < 0)
    return checked;
  asked q = {r, hull, from, to, temperature_sd, draws, seed};
  rw_forecast f = {0};
  rw_status status = estimate(&q, &f, err);
  if (status >= 0 && draws > 0)
    status = spread(function, &q, &f, err);
  if (status < 0)
    return status;
  *out = f;
  return checked;
}
