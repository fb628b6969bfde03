/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "notes.h"

#include <resinwright/num.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char FIT[] = "rw_notes_fit";
static const double EXACTLY = 1e-6; /* least spread of the prior, so that it can be inverted */
static const double LITTLE = 0.5, NOTHING = 0.95; /* shares of the spread that are left */

const char *rw_told_key(rw_told t)
{
  static const char *const keys[] = {
#define RW_X(name, key, text) key,
      RW_TOLD_LIST(RW_X)
#undef RW_X
  };
  return (unsigned)t < RW_TOLDS ? keys[t] : NULL;
}

const char *rw_told_text(rw_told t)
{
  static const char *const texts[] = {
#define RW_X(name, key, text) text,
      RW_TOLD_LIST(RW_X)
#undef RW_X
  };
  return (unsigned)t < RW_TOLDS ? texts[t] : NULL;
}

void rw_notes_prior_of(const rw_resin *resin, rw_notes_prior *out)
{
  *out = (rw_notes_prior){.resin = *resin,
                          .together = 0.5,
                          .scatter = 0.15,
                          .scatter_sd = 0.5,
                          .observer_sd = 0.1,
                          .T_ref = NAN};
}

static rw_status bounds(const char *argument, double value, double low, double high,
                        const char *unit, rw_error *err)
{
  if (value >= low && value <= high)
    return RW_OK;
  return rw_error_range(err, FIT, argument, value, low, high, unit, NULL);
}

static rw_status check_prior(const rw_notes_prior *p, rw_error *err)
{
  rw_status checked = rw_resin_check(&p->resin, err);
  if (checked < 0)
    return checked;
  rw_status status = bounds("together", p->together, 0, 0.99, "", err);
  if (status == RW_OK)
    status = bounds("scatter", p->scatter, 0.01, 1, "", err);
  if (status == RW_OK)
    status = bounds("scatter_sd", p->scatter_sd, 0.01, 3, "", err);
  if (status == RW_OK)
    status = bounds("observer_sd", p->observer_sd, 0, 1, "", err);
  if (status == RW_OK && !isnan(p->T_ref))
    status = bounds("T_ref", p->T_ref, 250, 350, "K", err);
  return status == RW_OK ? checked : status;
}

static rw_status check_looks(const rw_notes_row *r, double mixed, rw_error *err)
{
  static const char hint[] = "Check the date, midnight, and whether the clocks were changed.";
  if (isnan(r->not_yet) && isnan(r->already))
    return rw_error_set(err, RW_ERR_ARGUMENT, FIT, "not_yet",
                        "Write when it had not yet happened, or when it had, or both.",
                        "a note holds no look at all");
  if (!isnan(r->not_yet) && !(r->not_yet >= mixed && r->not_yet < HUGE_VAL))
    return rw_error_range(err, FIT, "not_yet", r->not_yet, mixed, HUGE_VAL, "s", hint);
  if (!isnan(r->already) && !(r->already > mixed && r->already < HUGE_VAL))
    return rw_error_range(err, FIT, "already", r->already, mixed, HUGE_VAL, "s", hint);
  if (r->already < r->not_yet)
    return rw_error_set(err, RW_ERR_ORDER, FIT, "already", hint,
                        "\"%s\" is noted as having happened before it had not yet happened",
                        rw_milestone_key(r->event));
  return RW_OK;
}

static double last_look(const rw_notes_row *r)
{
  return isnan(r->already) ? r->not_yet : r->already;
}

static rw_status check_row(const rw_notes_data *d, const rw_notes_row *r, rw_error *err)
{
  if (r->batch >= d->batches)
    return rw_error_set(err, RW_ERR_ARGUMENT, FIT, "batch", NULL,
                        "a note is about batch %zu of %zu", r->batch + 1, d->batches);
  if ((unsigned)r->event >= RW_MILESTONES)
    return rw_error_set(err, RW_ERR_ARGUMENT, FIT, "event", NULL, "the event is not known");
  if (r->observer >= d->observers)
    return rw_error_set(err, RW_ERR_ARGUMENT, FIT, "observer", NULL,
                        "a note is by observer %zu of %zu", r->observer + 1, d->observers);
  if (!(r->weight >= 0 && r->weight <= 100))
    return rw_error_range(err, FIT, "weight", r->weight, 0, 100, "", NULL);
  const rw_notes_batch *b = &d->batch[r->batch];
  rw_status status = check_looks(r, b->mixed, err);
  return status == RW_OK ? rw_history_extremes(b->hull, b->mixed, last_look(r), NULL, NULL, err)
                         : status;
}

rw_status notes_check_data(const rw_notes_data *d, rw_error *err)
{
  if (d->observers < 1 || d->observers > NOTES_OBSERVERS)
    return rw_error_range(err, FIT, "observers", (double)d->observers, 1, NOTES_OBSERVERS, "",
                          NULL);
  for (size_t i = 0; i < d->rows; i++) {
    rw_status status = check_row(d, &d->row[i], err);
    if (status != RW_OK) {
      rw_error_place(err, (long)i + 1, 0);
      return status;
    }
  }
  return RW_OK;
}

/* The mean over the notes of the mean temperature until the last look; the law's own without. */
static double usual_temperature(const rw_notes_prior *p, const rw_notes_data *d)
{
  double sum = 0, all = 0;
  for (size_t i = 0; i < d->rows; i++) {
    const rw_notes_row *r = &d->row[i];
    const rw_notes_batch *b = &d->batch[r->batch];
    if (!(last_look(r) > b->mixed))
      continue;
    sum += r->weight * notes_mean_temperature(b->hull, b->mixed, last_look(r));
    all += r->weight;
  }
  double T = all > 0 ? sum / all : p->resin.law.T_ref;
  return fmin(fmax(T, 250), 350);
}

static notes_row row_of(const rw_notes_data *d, const rw_notes_row *r)
{
  const rw_notes_batch *b = &d->batch[r->batch];
  notes_row out = {.hull = b->hull,
                   .mixed = b->mixed,
                   .low = r->not_yet,
                   .high = r->already,
                   .event = r->event,
                   .batch = r->batch,
                   .observer = r->observer,
                   .weight = r->weight};
  if (r->not_yet == r->already)
    out.form = NOTES_EXACT;
  else if (isnan(r->already))
    out.form = NOTES_AFTER;
  else
    out.form = r->not_yet > b->mixed ? NOTES_BETWEEN : NOTES_BEFORE;
  return out;
}

/* A note that says "not yet" at the moment of mixing says nothing. */
static int counts(const rw_notes_data *d, const rw_notes_row *r)
{
  return r->weight > 0 && last_look(r) > d->batch[r->batch].mixed;
}

static void count(rw_notes *f, const notes_row *row)
{
  for (size_t i = 0; i < f->rows; i++) {
    f->not_yet[row[i].event] += row[i].form != NOTES_BEFORE;
    f->already[row[i].event] += row[i].form != NOTES_AFTER;
  }
}

static double square(double x)
{
  return x * x;
}

/* Mean and covariance before the notes. */
static void set_prior(rw_notes *f)
{
  const rw_resin *r = &f->prior.resin;
  size_t m = f->m;
  double *c = f->before;
  f->mean[NOTES_SCATTER] = log(f->prior.scatter);
  c[NOTES_RATE * m + NOTES_RATE] = square(fmax(r->rate_sd, EXACTLY));
  c[NOTES_ENERGY * m + NOTES_ENERGY] = square(fmax(1e-3 * r->energy_sd, EXACTLY));
  c[NOTES_SCATTER * m + NOTES_SCATTER] = square(f->prior.scatter_sd);
  for (int i = 0; i < RW_MILESTONES; i++)
    for (int j = 0; j < RW_MILESTONES; j++) {
      const notes_mark *a = &f->mark[i], *b = &f->mark[j];
      if (a->place >= 0 && b->place >= 0)
        c[(size_t)a->place * m + (size_t)b->place] =
            a->sd * b->sd * (i == j ? 1 : f->prior.together);
    }
  for (size_t i = m - f->observers; i < m; i++)
    c[i * m + i] = square(fmax(f->prior.observer_sd, EXACTLY));
}

/* The inverse of a covariance, by way of `room`, which then holds its factor. */
static int invert(size_t m, const double *covariance, double *room, double *inverse)
{
  memcpy(room, covariance, m * m * sizeof *room);
  if (!(rw_num_cholesky(m, room, 0) > 0))
    return 0;
  rw_num_cholesky_inverse(m, room, inverse);
  return 1;
}

void notes_taken_free(notes_taken *n)
{
  free(n->row);
  free(n->stays);
  *n = (notes_taken){0};
}

int notes_take(const rw_notes_data *d, notes_taken *out)
{
  *out = (notes_taken){malloc((d->rows + 1) * sizeof *out->row),
                       malloc((2 * d->rows + 1) * sizeof *out->stays), 0};
  if (out->row == NULL || out->stays == NULL) {
    notes_taken_free(out);
    return 0;
  }
  for (size_t i = 0; i < d->rows; i++)
    if (counts(d, &d->row[i]))
      out->row[out->rows++] = row_of(d, &d->row[i]);
  return 1;
}

notes_problem notes_problem_of(const rw_notes *f, const notes_taken *taken)
{
  notes_problem p = {.mark = f->mark,
                     .grid = &f->grid,
                     .T_ref = f->T_ref,
                     .lever = f->lever,
                     .energy = {-1e3, 1e3},
                     .row = taken->row,
                     .rows = taken->rows,
                     .stays = taken->stays,
                     .observers = f->observers,
                     .m = f->m,
                     .mean = f->mean,
                     .prior = f->precision};
  const rw_cure_law *law = &f->prior.resin.law;
  double E[] = {law->E1, law->E2, law->E3};
  size_t n = law->kind == RW_LAW_TWO_STAGE                                          ? 3
             : law->kind == RW_LAW_NTH_ORDER || law->kind == RW_LAW_SESTAK_BERGGREN ? 1
                                                                                    : 2;
  for (size_t i = 0; i < n; i++) {
    p.energy[0] = fmax(p.energy[0], 10 - 1e-3 * E[i] - 1e-6);
    p.energy[1] = fmin(p.energy[1], 300 - 1e-3 * E[i] + 1e-6);
  }
  return p;
}

static rw_notes_row_result look_at(const rw_notes *f, const notes_problem *p, const notes_row *r)
{
  double slope[NOTES_MOST] = {0}, low, high;
  notes_bounds(p, r, f->at, &low, &high);
  notes_add(p, r, f->at, slope, NULL);
  rw_notes_row_result out = {.low = rw_num_normal_cdf(low), .high = rw_num_normal_cdf(high)};
  out.chance = fmin(1, 2 * fmin(out.high, rw_num_normal_cdf(-low)));
  out.influence = sqrt(fmax(rw_num_quadratic(f->m, f->after, slope), 0));
  const notes_mark *mark = &p->mark[r->event];
  double scatter = exp(f->at[NOTES_SCATTER]);
  double middle =
      mark->log_age - f->at[NOTES_RATE] + p->lever * f->at[NOTES_ENERGY] + f->at[mark->place];
  out.age_low = exp(middle + scatter * low);
  out.age_high = exp(middle + scatter * high);
  return out;
}

/* Whether notes of one batch pull the same way more than chance has it: products of the pulls of
 * two notes are 0 on the average where all scatter independently. */
static double clumps(const rw_notes *f, const notes_problem *p)
{
  double sum = 0, variance = 0;
  for (size_t i = 0; i < f->rows; i++) {
    double bend, pull = notes_pull(p, &p->row[i], f->at, &bend);
    for (size_t j = 0; j < i; j++) {
      if (p->row[i].batch != p->row[j].batch)
        continue;
      double other, with = notes_pull(p, &p->row[j], f->at, &other);
      sum += pull * with;
      variance += bend * other;
    }
  }
  return variance > 0 ? sum / sqrt(variance) : 0;
}

static void judge_rows(rw_notes *f, const rw_notes_data *d, const notes_problem *p)
{
  size_t n = 0;
  for (size_t i = 0; i < d->rows; i++)
    f->result[i] = counts(d, &d->row[i]) ? look_at(f, p, &p->row[n++])
                                         : (rw_notes_row_result){0, 1, 1, 0, 0, HUGE_VAL};
  f->clumps = clumps(f, p);
}

rw_status notes_unsettled(const char *function, rw_error *err)
{
  return rw_error_set(err, RW_ERR_NUMERIC, function, NULL,
                      "Look for a note far from all others, and for times that were mixed up.",
                      "the search for the most probable resin did not settle");
}

/* Every note must be about a milestone that this class reaches at T_ref. */
static rw_status check_reach(const rw_notes *f, const rw_notes_data *d, rw_error *err)
{
  for (size_t i = 0; i < d->rows; i++)
    if (counts(d, &d->row[i]) && f->mark[d->row[i].event].place < 0) {
      rw_error_set(err, RW_ERR_ARGUMENT, FIT, "event",
                   "Another class of resin fits better, or the threshold of that milestone is too "
                   "high for such a cold cure.",
                   "a resin of this class does not reach \"%s\" at the usual temperature of the "
                   "notes",
                   rw_milestone_key(d->row[i].event));
      rw_error_place(err, (long)i + 1, 0);
      return RW_ERR_ARGUMENT;
    }
  return RW_OK;
}

/* The coldest and the warmest that the notes have met, T_ref among them. */
static void temperatures(const rw_notes_data *d, double T_ref, double *coldest, double *warmest)
{
  *coldest = *warmest = T_ref;
  for (size_t i = 0; i < d->rows; i++) {
    const rw_notes_batch *b = &d->batch[d->row[i].batch];
    double low, high;
    rw_history_extremes(b->hull, b->mixed, last_look(&d->row[i]), &low, &high, NULL);
    *coldest = fmin(*coldest, low);
    *warmest = fmax(*warmest, high);
  }
}

static rw_status prepare(rw_notes *f, const rw_notes_data *d, rw_error *err)
{
  f->T_ref = isnan(f->prior.T_ref) ? usual_temperature(&f->prior, d) : f->prior.T_ref;
  f->lever = 1e3 * (1 / f->T_ref - 1 / f->prior.resin.law.T_ref) / RW_GAS_CONSTANT;
  double coldest, warmest;
  temperatures(d, f->T_ref, &coldest, &warmest);
  rw_status status = notes_marks(f, coldest, warmest, err);
  if (status < 0)
    return status;
  f->observers = d->observers;
  f->batches = d->batches;
  f->data_rows = d->rows;
  f->m = NOTES_FIRST + d->observers;
  for (int i = 0; i < RW_MILESTONES; i++)
    f->m += f->mark[i].place >= 0;
  set_prior(f);
  return check_reach(f, d, err);
}

static rw_status solve(rw_notes *f, const rw_notes_data *d, const notes_taken *n, notes_state *s,
                       rw_error *err)
{
  f->rows = n->rows;
  count(f, n->row);
  if (!invert(f->m, f->before, s->factor, f->precision))
    return notes_unsettled(FIT, err);
  notes_problem p = notes_problem_of(f, n);
  notes_gather_stays(&p, n->stays);
  memcpy(s->at, f->mean, f->m * sizeof *s->at);
  if (!notes_search(&p, s))
    return notes_unsettled(FIT, err);
  memcpy(f->joint, s->at, f->m * sizeof *f->joint);
  f->posterior = s->posterior;
  f->steps = s->steps;
  rw_status status = notes_integrate(f, &p, s, err);
  if (status != RW_OK)
    return status;
  memcpy(f->at, s->at, f->m * sizeof *f->at);
  f->likelihood = s->likelihood;
  judge_rows(f, d, &p);
  return RW_OK;
}

rw_status notes_no_memory(const char *function, rw_error *err)
{
  return rw_error_set(err, RW_ERR_MEMORY, function, NULL, NULL, "not enough memory for the notes");
}

rw_status rw_notes_fit(const rw_notes_prior *prior, const rw_notes_data *data, rw_notes **out,
                       rw_error *err)
{
  rw_status checked = check_prior(prior, err);
  rw_status status = checked < 0 ? checked : notes_check_data(data, err);
  if (status < 0)
    return status;
  rw_notes *f = calloc(1, sizeof *f);
  notes_state *s = malloc(sizeof *s);
  notes_taken n;
  int all = notes_take(data, &n);
  if (f != NULL)
    f->result = malloc((data->rows + 1) * sizeof *f->result);
  if (f == NULL || f->result == NULL || s == NULL || !all) {
    rw_notes_destroy(f);
    free(s);
    notes_taken_free(&n);
    return notes_no_memory(FIT, err);
  }
  f->prior = *prior;
  status = prepare(f, data, err);
  if (status >= 0)
    status = solve(f, data, &n, s, err);
  free(s);
  notes_taken_free(&n);
  if (status < 0) {
    rw_notes_destroy(f);
    return status;
  }
  *out = f;
  return checked;
}

void rw_notes_destroy(rw_notes *f)
{
  if (f == NULL)
    return;
  rw_cure_path_destroy(f->path);
  free(f->grid.room);
  free(f->layer);
  free(f->result);
  free(f);
}

static rw_told verdict(const rw_notes_value *v, size_t all)
{
  double left = v->after_sd / v->before_sd;
  if (v->not_yet + v->already == 0)
    return all > 0 && left < NOTHING ? RW_TOLD_OTHERS : RW_TOLD_NOTHING;
  if (v->already == 0)
    return RW_TOLD_EARLIEST;
  if (v->not_yet == 0)
    return RW_TOLD_LATEST;
  if (left >= NOTHING)
    return RW_TOLD_NOTHING;
  return left > LITTLE ? RW_TOLD_LITTLE : RW_TOLD_WELL;
}

/* A sum of unknowns before and after. */
static rw_notes_value value_of(const rw_notes *f, double base, const double *v)
{
  rw_notes_value out = {.before = base, .after = base};
  for (size_t i = 0; i < f->m; i++) {
    out.before += v[i] * f->mean[i];
    out.after += v[i] * f->at[i];
  }
  out.before_sd = sqrt(rw_num_quadratic(f->m, f->before, v));
  out.after_sd = sqrt(fmax(rw_num_quadratic(f->m, f->after, v), 0));
  return out;
}

static void total(const rw_notes *f, rw_notes_value *v)
{
  for (int i = 0; i < RW_MILESTONES; i++) {
    v->not_yet += f->not_yet[i];
    v->already += f->already[i];
  }
  v->told = verdict(v, f->rows);
}

void rw_notes_summarise(const rw_notes *f, rw_notes_summary *out)
{
  rw_notes_summary s = {.T_ref = f->T_ref,
                        .rows = f->rows,
                        .log_likelihood = f->likelihood,
                        .clumps = f->clumps,
                        .chance = rw_num_normal_cdf(-f->clumps),
                        .steps = f->steps};
  double v[NOTES_MOST] = {[NOTES_RATE] = 1, [NOTES_ENERGY] = -f->lever};
  s.rate = value_of(f, 0, v);
  v[NOTES_RATE] = 0;
  v[NOTES_ENERGY] = 1e3;
  s.energy = value_of(f, 0, v);
  v[NOTES_ENERGY] = 0;
  v[NOTES_SCATTER] = 1;
  s.scatter = value_of(f, 0, v);
  v[NOTES_SCATTER] = 0;
  total(f, &s.rate);
  total(f, &s.energy);
  total(f, &s.scatter);
  v[NOTES_RATE] = -1;
  v[NOTES_ENERGY] = f->lever;
  for (int i = 0; i < RW_MILESTONES; i++) {
    const notes_mark *mark = &f->mark[i];
    if (mark->place < 0) {
      s.age[i] = (rw_notes_value){NAN, NAN, NAN, NAN, 0, 0, RW_TOLD_NOTHING};
      continue;
    }
    v[mark->place] = 1;
    s.age[i] = value_of(f, mark->log_age, v);
    v[mark->place] = 0;
    s.age[i].not_yet = f->not_yet[i];
    s.age[i].already = f->already[i];
    s.age[i].told = verdict(&s.age[i], f->rows);
  }
  *out = s;
}

rw_status rw_notes_observer(const rw_notes *f, size_t observer, rw_notes_value *out, rw_error *err)
{
  if (observer >= f->observers)
    return rw_error_range(err, "rw_notes_observer", "observer", (double)observer, 0,
                          (double)(f->observers - 1), "", NULL);
  double v[NOTES_MOST] = {0};
  v[f->m - f->observers + observer] = 1;
  rw_notes_value o = value_of(f, 0, v);
  total(f, &o);
  *out = o;
  return RW_OK;
}

size_t rw_notes_unknowns(const rw_notes *f)
{
  return f->m;
}

void rw_notes_posterior(const rw_notes *f, double *value, double *covariance)
{
  if (value != NULL)
    memcpy(value, f->at, f->m * sizeof *value);
  if (covariance != NULL)
    memcpy(covariance, f->after, f->m * f->m * sizeof *covariance);
}

rw_status notes_take_again(const char *function, const rw_notes *f, const rw_notes_data *d,
                           notes_taken *out, rw_error *err)
{
  int same = d->batches == f->batches && d->rows == f->data_rows && d->observers == f->observers;
  if (same) {
    rw_status status = notes_check_data(d, err);
    if (status != RW_OK)
      return status;
    if (!notes_take(d, out))
      return notes_no_memory(function, err);
    same = out->rows == f->rows;
  }
  if (!same) {
    notes_taken_free(out);
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "data", "Give the notes that were fitted.",
                        "these are not the notes of the fit");
  }
  notes_problem p = notes_problem_of(f, out);
  notes_gather_stays(&p, out->stays);
  return RW_OK;
}

rw_status rw_notes_row_look(const rw_notes *f, size_t row, rw_notes_row_result *out, rw_error *err)
{
  if (row >= f->data_rows)
    return rw_error_range(err, "rw_notes_row_look", "row", (double)row, 0,
                          (double)f->data_rows - 1, "", NULL);
  *out = f->result[row];
  return RW_OK;
}
