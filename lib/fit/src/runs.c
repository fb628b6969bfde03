/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run_slopes.h"
#include "run_steady.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char *const keys[] = {
#define RW_X(name, key, unit) key,
    RW_FIT_PARAMETER_LIST(RW_X)
#undef RW_X
};
static const char *const units[] = {
#define RW_X(name, key, unit) unit,
    RW_FIT_PARAMETER_LIST(RW_X)
#undef RW_X
};

const char *rw_fit_parameter_key(rw_fit_parameter q)
{
  return (unsigned)q < RW_FIT_PARAMETERS ? keys[q] : NULL;
}

const char *rw_fit_parameter_unit(rw_fit_parameter q)
{
  return (unsigned)q < RW_FIT_PARAMETERS ? units[q] : NULL;
}

/* Runs as a least-squares problem. */
typedef struct job {
  const rw_runs *runs;
  const char *function;
  double tolerance;
  const rw_history **course; /* of each run */
  rw_history **own;          /* those made here */
  size_t points;
  double *cure;   /* points */
  double *weight; /* points; NULL: all 1 */
  steady *steady; /* for runs at a steady temperature */
  int memory;     /* 1 once an allocation inside has failed */
} job;

static double *member(rw_cure_law *law, rw_fit_parameter q)
{
  switch (q) {
  case RW_FIT_K1:
    return &law->k1;
  case RW_FIT_E1:
    return &law->E1;
  case RW_FIT_K2:
    return &law->k2;
  case RW_FIT_E2:
    return &law->E2;
  case RW_FIT_K3:
    return &law->k3;
  case RW_FIT_E3:
    return &law->E3;
  case RW_FIT_M:
    return &law->m;
  case RW_FIT_N:
    return &law->n;
  case RW_FIT_LIMIT:
    return &law->limit;
  case RW_FIT_C:
    return &law->C;
  case RW_FIT_AC0:
    return &law->ac0;
  case RW_FIT_ACT:
    return &law->acT;
  case RW_FIT_STIFFENING:
    return &law->stiffening.k;
  case RW_FIT_PARAMETERS:
    break;
  }
  return NULL;
}

/* 1 where a parameter is a logarithm. */
static int logarithmic(const rw_cure_law *law, rw_fit_parameter q)
{
  return q == RW_FIT_K1 || q == RW_FIT_K3 || q == RW_FIT_STIFFENING ||
         (q == RW_FIT_K2 && law->kind != RW_LAW_TWO_STAGE);
}

/* Bounds of a parameter within which the search moves freely. */
static rw_num_bound bound_of(rw_fit_parameter q)
{
  switch (q) {
  case RW_FIT_E1:
  case RW_FIT_E2:
  case RW_FIT_E3:
    return (rw_num_bound){10e3, 300e3};
  case RW_FIT_M:
    return (rw_num_bound){0, 4};
  case RW_FIT_N:
    return (rw_num_bound){0.2, 4};
  case RW_FIT_LIMIT:
    return (rw_num_bound){0.05, 5};
  case RW_FIT_C:
    return (rw_num_bound){0, 200};
  default:
    return (rw_num_bound){-HUGE_VAL, HUGE_VAL};
  }
}

static double value_of(const rw_cure_law *law, rw_fit_parameter q)
{
  rw_cure_law copy = *law;
  double x = *member(&copy, q);
  return logarithmic(law, q) ? log(x) : x;
}

/* The law at a point u of the search; slope[j] = dvalue/du. */
static rw_cure_law law_of(const rw_runs *runs, const double *u, double *slope)
{
  rw_cure_law law = runs->law;
  for (size_t j = 0; j < runs->p; j++) {
    rw_fit_parameter q = runs->parameter[j];
    double x = rw_num_bound_out(bound_of(q), u[j], &slope[j]);
    *member(&law, q) = logarithmic(&law, q) ? exp(x) : x;
  }
  return law;
}

static rw_status start_of(const job *k, double *u, rw_error *err)
{
  for (size_t j = 0; j < k->runs->p; j++) {
    rw_fit_parameter q = k->runs->parameter[j];
    rw_num_bound b = bound_of(q);
    double x = value_of(&k->runs->law, q);
    u[j] = rw_num_bound_in(b, x);
    if (!isfinite(u[j]))
      return rw_error_range(err, k->function, keys[q], x, b.low, b.high, "",
                            "Start the fit strictly between what the law allows.");
  }
  return RW_OK;
}

/* 1 where a run is followed as one of steady temperature. */
static int is_steady(const job *k, const rw_cure_law *law, size_t i)
{
  const rw_course *c = &k->runs->run[i].course;
  return c->history == NULL && c->start >= 0 && c->start < 1 && steady_fits(law, k->tolerance);
}

/* A run along its history, and the slopes after the law's own parameters. */
static rw_status follow(const job *k, const rw_cure_law *law, size_t i, double *cure, double *J,
                        rw_error *err)
{
  const rw_run *run = &k->runs->run[i];
  size_t p = k->runs->p;
  rw_cure_path *path;
  rw_status status = run_cure_along(law, k->course[i], &run->course, run->time, run->n,
                                    k->tolerance, cure, &path, err);
  if (status >= 0 && J != NULL && path != NULL)
    run_slopes_along(law, k->course[i], path, k->runs->parameter, p, run->time, run->n, J);
  else if (status >= 0 && J != NULL)
    memset(J, 0, run->n * p * sizeof *J);
  rw_cure_path_destroy(path);
  return status;
}

/* One run's residuals and their slopes in u. */
static rw_status run_part(const job *k, const rw_cure_law *law, size_t i, const double *du,
                          double *r, double *J, rw_error *err)
{
  const rw_run *run = &k->runs->run[i];
  size_t p = k->runs->p;
  rw_status status = RW_OK;
  if (!is_steady(k, law, i) ||
      !steady_follow(k->steady, &run->course, run->time, run->n, k->runs->parameter, p, r, J))
    status = follow(k, law, i, r, J, err);
  for (size_t l = 0; status >= 0 && l < run->n; l++) {
    r[l] -= run->cure[l];
    for (size_t j = 0; J != NULL && j < p; j++)
      J[l * p + j] *= du[j];
  }
  return status;
}

static int residuals(const double *u, double *r, double *J, void *context)
{
  job *k = context;
  double du[RW_FIT_PARAMETERS];
  rw_cure_law law = law_of(k->runs, u, du);
  if (k->memory || rw_cure_law_check(&law, NULL) < 0)
    return 1;
  steady_law(k->steady, &law);
  size_t done = 0;
  for (size_t i = 0; i < k->runs->n; i++) {
    rw_status status =
        run_part(k, &law, i, du, r + done, J == NULL ? NULL : J + done * k->runs->p, NULL);
    k->memory |= status == RW_ERR_MEMORY;
    if (status < 0)
      return 1;
    done += k->runs->run[i].n;
  }
  return 0;
}

static rw_status check_points(const char *function, const rw_run *run, size_t i, rw_error *err)
{
  for (size_t l = 0; l < run->n; l++) {
    if (!(run->cure[l] >= -0.2 && run->cure[l] <= 1.2)) {
      rw_status status = rw_error_range(err, function, "cure", run->cure[l], -0.2, 1.2, "",
                                        "A degree of cure is a share: is it given in per cent?");
      rw_error_place(err, (long)l + 1, (long)i + 1);
      return status;
    }
    if (run->weight != NULL && !(run->weight[l] >= 0 && isfinite(run->weight[l])))
      return rw_error_range(err, function, "weight", run->weight[l], 0, HUGE_VAL, "", NULL);
  }
  return RW_OK;
}

static rw_status no_memory(const char *function, rw_error *err)
{
  return rw_error_set(err, RW_ERR_MEMORY, function, NULL, NULL,
                      "not enough memory for a fit of runs");
}

static void job_close(job *k)
{
  for (size_t i = 0; k->own != NULL && i < k->runs->n; i++)
    rw_history_destroy(k->own[i]);
  steady_destroy(k->steady);
  free(k->own);
  free(k->course);
  free(k->cure);
  free(k->weight);
}

static rw_status gather(job *k, rw_error *err)
{
  const rw_runs *runs = k->runs;
  int weighted = 0;
  for (size_t i = 0; i < runs->n; i++) {
    const rw_run *run = &runs->run[i];
    rw_status status =
        run_course_open(k->function, &run->course, run->time, run->n, &k->own[i], err);
    if (status == RW_OK)
      status = check_points(k->function, run, i, err);
    if (status != RW_OK)
      return status;
    k->course[i] = k->own[i] != NULL ? k->own[i] : run->course.history;
    weighted |= run->weight != NULL;
    k->points += run->n;
  }
  k->cure = malloc(k->points * sizeof *k->cure);
  if (weighted)
    k->weight = malloc(k->points * sizeof *k->weight);
  if (k->cure == NULL || (weighted && k->weight == NULL))
    return no_memory(k->function, err);
  size_t done = 0;
  for (size_t i = 0; weighted && i < runs->n; i++)
    for (size_t l = 0; l < runs->run[i].n; l++)
      k->weight[done++] = runs->run[i].weight != NULL ? runs->run[i].weight[l] : 1;
  return RW_OK;
}

/* Every run once with the law at the start, for what is said where one cannot be followed; at a
 * steady temperature there is nothing to say. */
static rw_status first_look(job *k, rw_error *err)
{
  size_t done = 0;
  for (size_t i = 0; i < k->runs->n; i++) {
    rw_status status = RW_OK;
    if (!is_steady(k, &k->runs->law, i))
      status = follow(k, &k->runs->law, i, k->cure + done, NULL, err);
    if (status < 0)
      return status;
    done += k->runs->run[i].n;
  }
  return RW_OK;
}

static rw_status job_open(job *k, const char *function, const rw_runs *runs, rw_error *err)
{
  *k = (job){.runs = runs, .function = function, .tolerance = runs->tolerance};
  if (runs->tolerance == 0)
    k->tolerance = 1e-9;
  if (!(k->tolerance >= 1e-12 && k->tolerance <= 1e-4))
    return rw_error_range(err, function, "tolerance", k->tolerance, 1e-12, 1e-4, "", NULL);
  if (runs->n < 1 || runs->n > 1000)
    return rw_error_range(err, function, "n", (double)runs->n, 1, 1000, "", NULL);
  rw_status status = rw_cure_law_check(&runs->law, err);
  if (status < 0)
    return status;
  if (runs->p < 1)
    return rw_error_range(err, function, "p", 0, 1, RW_FIT_PARAMETERS, "",
                          "Name at least one parameter that is to be fitted.");
  status = run_parameters_check(function, &runs->law, runs->parameter, runs->p, err);
  if (status != RW_OK)
    return status;
  k->own = calloc(runs->n, sizeof(rw_history *));
  k->course = calloc(runs->n, sizeof(rw_history *));
  k->steady = steady_create();
  int all = k->own != NULL && k->course != NULL && k->steady != NULL;
  status = all ? gather(k, err) : no_memory(function, err);
  if (status == RW_OK)
    status = first_look(k, err);
  if (status != RW_OK)
    job_close(k);
  return status;
}

static rw_least_squares problem_of(job *k)
{
  return (rw_least_squares){.f = residuals,
                            .context = k,
                            .n = k->points,
                            .p = k->runs->p,
                            .weight = k->weight,
                            .tolerance = 1e-8};
}

/* What the search said, in terms of a law. */
static rw_status explain(const job *k, rw_status status, rw_error *err)
{
  if (k->memory)
    return no_memory(k->function, err);
  if (err == NULL)
    return status;
  double reached = err->value;
  char at[8];
  for (size_t j = 0; j < k->runs->p; j++) {
    at[0] = 'x';
    at[1] = '[';
    at[2] = (char)(j >= 10 ? '1' : '0' + j);
    at[3] = j >= 10 ? (char)('0' + j % 10) : ']';
    at[4] = j >= 10 ? ']' : '\0';
    at[5] = '\0';
    if (status != RW_ERR_NUMERIC || strcmp(at, err->argument) != 0)
      continue;
    const char *key = keys[k->runs->parameter[j]];
    rw_error_set(err, status, k->function, key,
                 "Hold it at a likely value, or add runs at other temperatures or longer ones.",
                 "the runs do not determine %s of the law, or lead it to the end of its range",
                 key);
    err->value = reached;
  }
  strncpy(err->function, k->function, sizeof err->function - 1);
  return status;
}

static void report(const job *k, const rw_least_squares_fit *found, double scale, rw_runs_fit *out)
{
  size_t p = k->runs->p;
  double du[RW_FIT_PARAMETERS];
  rw_runs_fit fit = {.p = p,
                     .rss = found->rss,
                     .points = found->freedom + p,
                     .freedom = found->freedom,
                     .residual_sd =
                         k->runs->robust.loss == RW_LOSS_SQUARES ? found->residual_sd : scale,
                     .condition = found->condition,
                     .rounds = found->rounds};
  fit.law = law_of(k->runs, found->x, du);
  for (size_t i = 0; i < p; i++) {
    fit.parameter[i] = k->runs->parameter[i];
    fit.x[i] = value_of(&fit.law, fit.parameter[i]);
    fit.sd[i] = found->sd[i] * du[i];
    for (size_t j = 0; j < p; j++) {
      fit.covariance[i * p + j] = found->covariance[i * p + j] * du[i] * du[j];
      fit.correlation[i * p + j] = found->correlation[i * p + j];
    }
  }
  *out = fit;
}

rw_status rw_fit_runs(const rw_runs *runs, rw_runs_fit *out, double *residual, rw_error *err)
{
  job k;
  rw_status status = job_open(&k, "rw_fit_runs", runs, err);
  if (status != RW_OK)
    return status;
  double u[RW_FIT_PARAMETERS], scale = NAN;
  rw_least_squares_fit found;
  rw_least_squares problem = problem_of(&k);
  status = start_of(&k, u, err);
  if (status == RW_OK) {
    status = runs->robust.loss == RW_LOSS_SQUARES
                 ? rw_num_least_squares(&problem, u, &found, err)
                 : rw_num_robust(&problem, &runs->robust, u, &found, &scale, NULL, err);
    if (status < 0 || k.memory)
      status = explain(&k, status, err);
  }
  if (status >= 0 && residual != NULL && residuals(found.x, k.cure, NULL, &k) != 0)
    status = no_memory(k.function, err);
  if (status >= 0) {
    report(&k, &found, scale, out);
    if (residual != NULL)
      memcpy(residual, k.cure, k.points * sizeof *residual);
    status = rw_cure_law_check(&out->law, err);
  }
  job_close(&k);
  return status;
}

rw_status rw_fit_limits(const rw_runs *runs, const rw_runs_fit *fit, size_t j, double level,
                        double *low, double *high, rw_error *err)
{
  const char *function = "rw_fit_limits";
  if (runs->robust.loss != RW_LOSS_SQUARES)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "robust", "Fit by least squares first.",
                        "limits are found for least squares only");
  if (fit->p != runs->p || j >= runs->p)
    return rw_error_range(err, function, "j", (double)j, 0, (double)runs->p - 1, "", NULL);
  job k;
  rw_runs from = *runs;
  from.law = fit->law;
  rw_status status = job_open(&k, function, &from, err);
  if (status != RW_OK)
    return status;
  double u[RW_FIT_PARAMETERS], below, above;
  rw_least_squares_fit found;
  rw_least_squares problem = problem_of(&k);
  status = start_of(&k, u, err);
  if (status == RW_OK)
    status = rw_num_least_squares(&problem, u, &found, err);
  if (status == RW_OK)
    status = rw_num_profile(&problem, &found, j, level, &below, &above, err);
  if (status < 0 || k.memory) {
    status = explain(&k, status, err);
  } else {
    rw_num_bound b = bound_of(runs->parameter[j]);
    *low = below > -HUGE_VAL ? rw_num_bound_out(b, below, NULL) : b.low;
    *high = above < HUGE_VAL ? rw_num_bound_out(b, above, NULL) : b.high;
  }
  job_close(&k);
  return status;
}
