/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run_slopes.h"

#include "run_rate.h"

#include <math.h>
#include <stdlib.h>

/* A moment on the path. */
typedef struct node {
  double t;
  double a;
  double T;
  run_rate rate;
} node;

/* The variational equation ds/dt = (df/da) s + df/dq along a path. With s = f w exp(g) it falls
 * into dg/dt = -(d ln f/dT) dT/dt and dw/dt = (d ln f/dq) exp(-g), plain integrals both. */
typedef struct walk {
  const rw_cure_path *path;
  const rw_fit_parameter *parameter;
  size_t p;
  run_law law;
  int stage;
  double floor; /* s: a piece this short is not halved */
  double trace; /* a below which k1 alone counts: it need not be followed */
  double slope; /* K/s, of the piece */
  double g;
  double w[RW_FIT_PARAMETERS];
} walk;

static const double LEAST = 1e-7; /* of a and of what is left, below which neither is followed */

/* Where k2 a^m begins to count beside k1, if that is less. */
static double trace_of(const rw_cure_law *law)
{
  if (!(law->k1 > 0) || law->kind == RW_LAW_SESTAK_BERGGREN)
    return 0;
  if (law->kind == RW_LAW_NTH_ORDER || !(law->k2 > 0) || !(law->m > 0))
    return LEAST;
  return fmin(LEAST, pow(0.02 * law->k1 / law->k2, 1 / law->m));
}

static node node_at(walk *k, double t, double T)
{
  node n = {.t = t, .a = 0, .T = T};
  rw_cure_at(k->path, t, &n.a, NULL, NULL, NULL);
  run_rate_at(&k->law, n.a, T, k->stage, &n.rate);
  return n;
}

/* 1 where nothing reacts. */
static int still(const node *x)
{
  return !(x->rate.k > 0) || x->rate.rest == -HUGE_VAL;
}

/* How much happens between two moments: 1 is what four nodes follow to about 1e-8. */
static double events(const walk *k, const node *x, const node *y)
{
  const rw_cure_law *law = k->law.law;
  double top = law->kind == RW_LAW_PLATEAU ? fmin(1, law->limit) : 1, most = 0;
  if (still(x) && still(y))
    return 0;
  double grown = (y->a - x->a) / (x->a + k->trace) * fmax(law->m, 1) / 0.4;
  double left = (y->a - x->a) / fmax(top - y->a + LEAST, LEAST) / 0.3;
  most = fmax(grown, left);
  if (k->slope != 0)
    most = fmax(most, (fabs(x->T - y->T) * fmax(fabs(x->rate.T), fabs(y->rate.T))) / 0.2);
  if (law->C > 0)
    most = fmax(most, law->C * (y->a - x->a) / 0.4);
  if (law->stiffening.k > 0)
    most = fmax(most, fabs(y->rate.log_kd - x->rate.log_kd) / 0.4);
  return isnan(grown) ? HUGE_VAL : most;
}

/* Adds a short piece: Lobatto's rule of four nodes, with the inner values of g from the cubic
 * through the four of dg/dt. */
static void add(walk *k, const node *x, const node *y)
{
  const double root = sqrt(5), h = (y->t - x->t) / 2;
  const double part[3][4] = {{11.0 / 60 + root / 60, 5.0 / 12 - root / 60,
                              5.0 / 12 - 13 * root / 60, root / 60 - 1.0 / 60},
                             {11.0 / 60 - root / 60, 5.0 / 12 + 13 * root / 60,
                              5.0 / 12 + root / 60, -1.0 / 60 - root / 60},
                             {1.0 / 6, 5.0 / 6, 5.0 / 6, 1.0 / 6}};
  node inner[2];
  for (int i = 0; i < 2; i++) {
    double share = 0.5 + (i == 0 ? -0.5 : 0.5) / root;
    inner[i] = node_at(k, x->t + share * (y->t - x->t), x->T + share * (y->T - x->T));
  }
  const node *at[4] = {x, &inner[0], &inner[1], y};
  double factor[4] = {1, 1, 1, 1}, g = 0;
  for (int i = 0; k->slope != 0 && i < 4; i++) {
    g = 0;
    for (int j = 0; i > 0 && j < 4; j++)
      g -= h * part[i - 1][j] * at[j]->rate.T * k->slope;
    factor[i] = exp(-k->g - g);
  }
  if (k->slope == 0 && k->g != 0)
    factor[0] = factor[1] = factor[2] = factor[3] = exp(-k->g);
  for (size_t q = 0; q < k->p; q++)
    for (int i = 0; i < 4; i++)
      k->w[q] += h * part[2][i] * factor[i] * at[i]->rate.d[k->parameter[q]];
  k->g += g;
}

/* The same for a very short piece of steady temperature: Simpson's rule. */
static void add_plain(walk *k, const node *x, const node *y)
{
  const node middle = node_at(k, 0.5 * (x->t + y->t), x->T);
  double h = (y->t - x->t) / 6 * (k->g == 0 ? 1 : exp(-k->g));
  for (size_t q = 0; q < k->p; q++) {
    rw_fit_parameter at = k->parameter[q];
    k->w[q] += h * (x->rate.d[at] + 4 * middle.rate.d[at] + y->rate.d[at]);
  }
}

static void advance(walk *k, const node *x, const node *y, int depth)
{
  double much = events(k, x, y);
  if (much <= 0.2 && k->slope == 0) {
    add_plain(k, x, y);
    return;
  }
  if (depth == 0 || much <= 1 || y->t - x->t <= k->floor) {
    add(k, x, y);
    return;
  }
  node middle = node_at(k, 0.5 * (x->t + y->t), 0.5 * (x->T + y->T));
  advance(k, x, &middle, depth - 1);
  advance(k, &middle, y, depth - 1);
}

/* A straight piece of the history. */
typedef struct piece {
  const double *time, *T;
  size_t last; /* index of its beginning */
  size_t points;
} piece;

static double warmth(const piece *p, double t)
{
  double t0 = p->time[p->last], t1 = p->time[p->last + 1];
  double share = fmin(fmax((t - t0) / (t1 - t0), 0), 1);
  return p->T[p->last] + share * (p->T[p->last + 1] - p->T[p->last]);
}

static void enter(walk *k, const piece *p)
{
  k->slope = (p->T[p->last + 1] - p->T[p->last]) / (p->time[p->last + 1] - p->time[p->last]);
}

/* Goes on to the next piece that is not a step; a step keeps s, so it changes g. */
static void turn(walk *k, piece *p, node *x)
{
  p->last++;
  while (p->last + 2 < p->points && p->time[p->last + 1] <= p->time[p->last])
    p->last++;
  enter(k, p);
  node after = node_at(k, x->t, warmth(p, x->t));
  if (!still(x) && !still(&after))
    k->g += log(x->rate.k / after.rate.k) + x->rate.rest - after.rate.rest;
  *x = after;
}

static void stretch(walk *k, const piece *p, node *x, double to)
{
  enum { DEPTH = 48 };
  if (!(to > x->t))
    return;
  node y = node_at(k, to, warmth(p, to));
  advance(k, x, &y, DEPTH);
  *x = y;
}

/* To a time, stopping at readings and at the change of a law of two stages. */
static void go(walk *k, piece *p, node *x, double change, double to)
{
  while (x->t < to) {
    int turning = p->last + 2 < p->points && p->time[p->last + 1] < to;
    double next = turning ? p->time[p->last + 1] : to;
    if (k->stage == 0 && change < next) {
      stretch(k, p, x, change);
      k->stage = 1;
      *x = node_at(k, x->t, x->T);
    }
    stretch(k, p, x, next);
    if (turning)
      turn(k, p, x);
  }
}

static void slopes_now(const walk *k, const node *x, double *slope)
{
  double f = run_rate_value(&x->rate), grow = k->g == 0 ? 1 : exp(k->g);
  for (size_t q = 0; q < k->p; q++)
    slope[q] = f > 0 ? f * grow * k->w[q] : 0;
}

void run_slopes_along(const rw_cure_law *law, const rw_history *h, const rw_cure_path *path,
                      const rw_fit_parameter *parameter, size_t p, const double *time, size_t n,
                      double *slope)
{
  double from, to, change = HUGE_VAL;
  piece at = {0};
  rw_cure_path_span(path, &from, &to);
  at.points = rw_history_points(h, &at.time, &at.T, NULL);
  while (at.last + 2 < at.points &&
         (at.time[at.last + 1] <= from || at.time[at.last + 1] <= at.time[at.last]))
    at.last++;
  walk k = {.path = path,
            .parameter = parameter,
            .p = p,
            .law = {.law = law, .T = -1},
            .trace = trace_of(law),
            .floor = 1e-10 * (time[n - 1] - from)};
  enter(&k, &at);
  if (law->kind == RW_LAW_TWO_STAGE && rw_cure_when(path, law->split, &change, NULL) != RW_OK)
    change = HUGE_VAL;
  k.stage = change <= from;
  node x = node_at(&k, from, warmth(&at, from));
  for (size_t i = 0; i < n; i++) {
    go(&k, &at, &x, change, time[i]);
    slopes_now(&k, &x, slope + i * p);
  }
}

static rw_status check_times(const char *function, double from, const double *time, size_t n,
                             rw_error *err)
{
  if (n < 1 || n > 1000000)
    return rw_error_range(err, function, "n", (double)n, 1, 1e6, "", NULL);
  for (size_t i = 0; i < n; i++) {
    if (!isfinite(time[i]))
      return rw_error_set(err, RW_ERR_ARGUMENT, function, "time", NULL,
                          "time %zu is not a finite number", i + 1);
    if (time[i] < (i > 0 ? time[i - 1] : from))
      return rw_error_set(err, RW_ERR_ORDER, function, "time",
                          "Put the times in order; none may lie before the mixing.",
                          i > 0 ? "time %zu lies before the one above it"
                                : "time %zu lies before the mixing",
                          i + 1);
  }
  return RW_OK;
}

/* A steady temperature as a history. */
static rw_status steady(const char *function, const rw_course *c, double until, rw_history **out,
                        rw_error *err)
{
  if (!(c->T >= 200 && c->T <= 500))
    return rw_error_range(err, function, "T", c->T, 200, 500, "K", NULL);
  const double t[2] = {c->from, until + 1}, T[2] = {c->T, c->T};
  rw_status status = rw_history_create(t, T, NULL, 2, out, err);
  return status < 0 ? status : RW_OK;
}

rw_status run_course_open(const char *function, const rw_course *c, const double *time, size_t n,
                          rw_history **own, rw_error *err)
{
  *own = NULL;
  if (!isfinite(c->from))
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "from", NULL,
                        "the moment of mixing is not a finite number");
  rw_status status = check_times(function, c->from, time, n, err);
  if (status == RW_OK && c->history == NULL)
    status = steady(function, c, time[n - 1], own, err);
  return status;
}

rw_status run_cure_along(const rw_cure_law *law, const rw_history *h, const rw_course *c,
                         const double *time, size_t n, double tolerance, double *cure,
                         rw_cure_path **path, rw_error *err)
{
  *path = NULL;
  if (time[n - 1] == c->from) {
    rw_status status = rw_cure_law_check(law, err);
    if (status >= 0 && !(c->start >= 0 && c->start < 1))
      status = rw_error_range(err, "rw_cure_run", "start", c->start, 0, 1, "", NULL);
    for (size_t i = 0; status >= 0 && i < n; i++)
      cure[i] = c->start;
    return status;
  }
  rw_status status = rw_cure_run(law, h, c->from, time[n - 1], c->start, tolerance, path, err);
  for (size_t i = 0; status >= 0 && i < n; i++) {
    rw_status read = rw_cure_at(*path, time[i], &cure[i], NULL, NULL, err);
    status = read < 0 ? read : status;
  }
  return status;
}

rw_status run_parameters_check(const char *function, const rw_cure_law *law,
                               const rw_fit_parameter *parameter, size_t p, rw_error *err)
{
  if (p > RW_FIT_PARAMETERS)
    return rw_error_range(err, function, "p", (double)p, 0, RW_FIT_PARAMETERS, "", NULL);
  for (size_t j = 0; j < p; j++) {
    if ((unsigned)parameter[j] >= RW_FIT_PARAMETERS)
      return rw_error_set(err, RW_ERR_ARGUMENT, function, "parameter", NULL,
                          "parameter %zu is not a known one", j + 1);
    const char *key = rw_fit_parameter_key(parameter[j]);
    for (size_t i = 0; i < j; i++)
      if (parameter[i] == parameter[j])
        return rw_error_set(err, RW_ERR_ARGUMENT, function, key, NULL, "%s is named twice", key);
    if (!run_law_has(law, parameter[j]))
      return rw_error_set(err, RW_ERR_ARGUMENT, function, key,
                          "A rate constant or steepness that is to be fitted must start above "
                          "zero.",
                          "the law has no %s, or it does nothing there", key);
  }
  return RW_OK;
}

rw_status rw_fit_slopes(const rw_cure_law *law, const rw_course *course,
                        const rw_fit_parameter *parameter, size_t p, const double *time, size_t n,
                        double tolerance, double *cure, double *slope, rw_error *err)
{
  const char *function = "rw_fit_slopes";
  if (!(tolerance >= 1e-12 && tolerance <= 1e-4))
    return rw_error_range(err, function, "tolerance", tolerance, 1e-12, 1e-4, "", NULL);
  rw_status status = run_parameters_check(function, law, parameter, p, err);
  rw_history *own = NULL;
  if (status == RW_OK)
    status = run_course_open(function, course, time, n, &own, err);
  if (status != RW_OK)
    return status;
  double *found = malloc(n * sizeof *found);
  rw_cure_path *path = NULL;
  const rw_history *h = own != NULL ? own : course->history;
  status = found == NULL ? rw_error_set(err, RW_ERR_MEMORY, function, NULL, NULL,
                                        "not enough memory for the degrees of cure")
                         : run_cure_along(law, h, course, time, n, tolerance, found, &path, err);
  for (size_t i = 0; status >= 0 && i < n; i++)
    cure[i] = found[i];
  if (status >= 0 && slope != NULL && p > 0) {
    if (path != NULL)
      run_slopes_along(law, h, path, parameter, p, time, n, slope);
    else
      for (size_t i = 0; i < n * p; i++)
        slope[i] = 0;
  }
  rw_cure_path_destroy(path);
  rw_history_destroy(own);
  free(found);
  return status;
}
