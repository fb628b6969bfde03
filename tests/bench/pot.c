/* SPDX-License-Identifier: GPL-3.0-or-later */
/* W8: heat and cure of mixed resin in six pots over 24 h, and when each gets thick, hot, gelled
 * and warmest. Times are those of one pot, the mean of the six. */
#include "bench.h"
#include "peers.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { POTS = 6 };
enum { THICK, HOT, GEL, PEAK, EVENTS };
static const double WANTED = 1e-6, DAY = 86400, HOT_K = 333.15;
static const char WORK[] = "W8";

/* dT/dt = rise da/dt - (T - air) cool. */
typedef struct pot {
  rw_resin resin;
  rw_vessel vessel;
  double mass, start, air;
  rate_law law;
  double rise, cool;
} pot;

typedef struct problem {
  pot pot[POTS];
  rw_pot exact[POTS], got[POTS];
  double rate[POTS][EVENTS]; /* 1/s, of the cure at the exact events; hot: of T, by the rise */
} problem;

static void need(rw_status status, const rw_error *e)
{
  if (status >= 0)
    return;
  fprintf(stderr, "%s\n", e->message);
  exit(2);
}

/* A surface coefficient of 10 at the open side, 4 below and 8 at the wall, W/(m2 K), each with the
 * conduction of the resin, 0.2 W/(m K), over a third of half the depth or of the half-width. */
static double lost_per_kelvin(const rw_vessel *v, double volume)
{
  const double conduction = 0.2;
  double depth = volume / v->footprint, width = 2 * v->footprint / v->perimeter;
  double up = depth / 6 / conduction, aside = width / 3 / conduction;
  return v->footprint / (1.0 / 10 + up) + v->footprint / (1.0 / 4 + up) +
         v->perimeter * depth / (1.0 / 8 + aside);
}

static void pot_make(const char *class_, const rw_vessel *vessel, double mass, double start,
                     double air, pot *p)
{
  rw_error e;
  need(rw_resin_find(class_, &p->resin, &e), &e);
  p->vessel = *vessel;
  p->mass = mass;
  p->start = 273.15 + start;
  p->air = 273.15 + air;
  p->law = rate_law_of(&p->resin.law);
  double store = mass * p->resin.heat_capacity + vessel->wall;
  p->rise = mass * p->resin.heat / store;
  p->cool = lost_per_kelvin(vessel, mass / p->resin.density) / store;
}

static rw_vessel cup(double diameter)
{
  rw_error e;
  rw_vessel v;
  need(rw_vessel_cup(diameter, &v, &e), &e);
  return v;
}

static void problem_make(problem *p)
{
  rw_error e;
  rw_vessel small = cup(0.07), middle = cup(0.09), large = cup(0.12), tray;
  need(rw_vessel_tray(0.3, 0.2, &tray, &e), &e);
  pot_make("slow-polyetheramine", &small, 0.1, 25, 25, &p->pot[0]);
  pot_make("medium-cycloaliphatic", &middle, 0.3, 20, 20, &p->pot[1]);
  pot_make("fast-polyamine", &small, 0.15, 25, 25, &p->pot[2]);
  pot_make("medium-cycloaliphatic", &large, 1, 25, 15, &p->pot[3]);
  pot_make("fast-polyamine", &large, 0.5, 15, 10, &p->pot[4]);
  pot_make("slow-polyetheramine", &tray, 0.5, 22, 18, &p->pot[5]);
}

static void ours(void *context)
{
  problem *p = context;
  rw_error e;
  for (int i = 0; i < POTS; i++) {
    const pot *q = &p->pot[i];
    need(rw_pot_run(&q->resin, &q->vessel, q->mass, q->start, q->air, &p->got[i], &e), &e);
  }
}

/* 1 - limit/viscosity: rises through 0 where it is too thick to work, 1 from gel on. */
static double thickness(const pot *p, double a, double T)
{
  const rw_flow *f = &p->resin.flow;
  if (a >= f->a_gel)
    return 1;
  double thin = f->mu * exp(f->E / RW_GAS_CONSTANT * (1 / T - 1 / f->T_ref));
  return 1 - p->resin.work_viscosity / thin * pow((f->a_gel - a) / f->a_gel, f->C1 + f->C2 * a);
}

static void slopes(const pot *p, const double *y, double *f)
{
  f[0] = rate_at(&p->law, y[0], y[1]);
  f[1] = p->rise * f[0] - p->cool * (y[1] - p->air);
}

/* Every event rises through zero: the last where the temperature begins to fall. */
static double event(const pot *p, int which, const double *y, const double *f)
{
  switch (which) {
  case THICK:
    return thickness(p, y[0], y[1]);
  case HOT:
    return y[1] - HOT_K;
  case GEL:
    return y[0] - p->resin.flow.a_gel;
  default:
    return -f[1];
  }
}

static void note_event(rw_pot *out, int which, double t, double T)
{
  double *first = which == THICK ? &out->work_end : which == HOT ? &out->hot : &out->gel;
  if (which == PEAK) {
    if (T > out->peak) {
      out->peak = T;
      out->peak_time = t;
    }
  } else if (!(*first < HUGE_VAL)) {
    *first = t;
  }
}

static rw_pot nothing_yet(const pot *p)
{
  return (rw_pot){.work_end = HUGE_VAL, .hot = HUGE_VAL, .gel = HUGE_VAL, .peak = p->start};
}

/* The exact answer: event functions as above, in long double. */

static void exact_slopes(long double t, const long double *y, long double *f, const void *context)
{
  const pot *p = context;
  (void)t;
  f[0] = exact_rate(&p->resin.law, y[0], y[1]);
  f[1] = p->rise * f[0] - p->cool * (y[1] - p->air);
}

static long double exact_thickness(const pot *p, long double a, long double T)
{
  const rw_flow *f = &p->resin.flow;
  if (a >= f->a_gel)
    return 1;
  long double warm = expl(f->E / RW_GAS_CONSTANT * (1 / T - 1 / (long double)f->T_ref));
  return 1 - p->resin.work_viscosity / (f->mu * warm) *
                 powl((f->a_gel - a) / f->a_gel, f->C1 + f->C2 * a);
}

typedef struct exact_context {
  const pot *p;
  int which;
} exact_context;

static long double exact_value(long double t, const long double *y, const void *context)
{
  const exact_context *c = context;
  long double f[2];
  switch (c->which) {
  case THICK:
    return exact_thickness(c->p, y[0], y[1]);
  case HOT:
    return y[1] - HOT_K;
  case GEL:
    return y[0] - c->p->resin.flow.a_gel;
  default:
    exact_slopes(t, y, f, c->p);
    return -f[1];
  }
}

static void exact_pot(const pot *p, rw_pot *out, double *rate)
{
  exact_system s = {exact_slopes, 2, p};
  exact_state at = {.h = 1, .y = {0, p->start}};
  *out = nothing_yet(p);
  while (at.t < DAY) {
    exact_state before = at;
    exact_advance(&s, &at, before.t + 60);
    for (int i = 0; i < EVENTS; i++) {
      exact_context c = {p, i};
      long double f[2];
      if (exact_value(before.t, before.y, &c) >= 0 || exact_value(at.t, at.y, &c) < 0)
        continue;
      exact_state there = before;
      exact_advance(&s, &there, exact_when(&s, &before, at.t, exact_value, &c));
      exact_slopes(there.t, there.y, f, p);
      rate[i] = (double)(i == HOT ? f[1] / p->rise : f[0]);
      note_event(out, i, (double)there.t, (double)there.y[1]);
    }
  }
}

/* GSL: free steps; an event inside a step is found by false position (halving the end that
 * stays) on steps that begin where that step began. */

typedef struct gsl_peer_context {
  problem *p;
  const gsl_odeiv2_step_type *type;
  double tolerance;
} gsl_peer_context;

static int pot_slopes_for_gsl(double t, const double *y, double *f, void *context)
{
  (void)t;
  slopes(context, y, f);
  return GSL_SUCCESS;
}

typedef struct step_taken {
  const pot *p;
  gsl_odeiv2_system system;
  gsl_odeiv2_step *stepper;
  double t0, y0[2], f0[2], t1, y1[2], f1[2];
} step_taken;

static void find_in_step(step_taken *s, int which, rw_pot *out)
{
  double low = 0, high = s->t1 - s->t0, none[2], f[2];
  double g0 = event(s->p, which, s->y0, s->f0), g1 = event(s->p, which, s->y1, s->f1);
  if (g0 >= 0 || g1 < 0)
    return;
  double at = high, T = s->y1[1];
  for (int i = 0, side = 0; i < 60; i++) {
    double y[2] = {s->y0[0], s->y0[1]}, was = at;
    at = low + (high - low) * g0 / (g0 - g1);
    gsl_odeiv2_step_apply(s->stepper, s->t0, at, y, none, s->f0, f, &s->system);
    double g = event(s->p, which, y, f);
    T = y[1];
    if (fabs(at - was) < 1e-6)
      break;
    if (g < 0) {
      low = at;
      g0 = g;
      g1 = side < 0 ? g1 / 2 : g1;
      side = -1;
    } else {
      high = at;
      g1 = g;
      g0 = side > 0 ? g0 / 2 : g0;
      side = 1;
    }
  }
  note_event(out, which, s->t0 + at, T);
}

static bool gsl_peer_pot(const pot *p, const gsl_odeiv2_step_type *type, double tolerance,
                         rw_pot *out)
{
  double scale[2] = {1, p->rise}, y[2] = {0, p->start}, t = 0, h = 10;
  pot copy = *p;
  step_taken s = {.p = p, .system = {pot_slopes_for_gsl, NULL, 2, &copy}};
  gsl_odeiv2_step *stepper = gsl_odeiv2_step_alloc(type, 2);
  gsl_odeiv2_control *control =
      gsl_odeiv2_control_scaled_new(tolerance, tolerance, 1, 0, scale, 2);
  gsl_odeiv2_evolve *evolve = gsl_odeiv2_evolve_alloc(2);
  int status = GSL_SUCCESS;
  s.stepper = gsl_odeiv2_step_alloc(type, 2);
  *out = nothing_yet(p);
  slopes(p, y, s.f1);
  while (t < DAY && status == GSL_SUCCESS) {
    s.t0 = t;
    memcpy(s.y0, y, sizeof y);
    memcpy(s.f0, s.f1, sizeof s.f1);
    status = gsl_odeiv2_evolve_apply(evolve, control, stepper, &s.system, &t, DAY, &h, y);
    s.t1 = t;
    memcpy(s.y1, y, sizeof y);
    memcpy(s.f1, evolve->dydt_out, sizeof s.f1);
    for (int i = 0; i < EVENTS; i++)
      find_in_step(&s, i, out);
  }
  gsl_odeiv2_step_free(s.stepper);
  gsl_odeiv2_evolve_free(evolve);
  gsl_odeiv2_control_free(control);
  gsl_odeiv2_step_free(stepper);
  return status == GSL_SUCCESS;
}

static void gsl_peer_work(void *context)
{
  const gsl_peer_context *c = context;
  for (int i = 0; i < POTS; i++)
    if (!gsl_peer_pot(&c->p->pot[i], c->type, c->tolerance, &c->p->got[i]))
      c->p->got[i].peak = NAN;
}

/* CVODE */

typedef struct cvode_context {
  problem *p;
  bool stiff;
  double scale[POTS][2];
  cvode_peer *peer[POTS];
} cvode_context;

static void cvode_slopes(double t, const double *y, double *f, void *context)
{
  (void)t;
  slopes(context, y, f);
}

static void cvode_events(double t, const double *y, double *g, void *context)
{
  double f[2];
  (void)t;
  slopes(context, y, f);
  for (int i = 0; i < EVENTS; i++)
    g[i] = event(context, i, y, f);
}

static void cvode_work(void *context)
{
  const cvode_context *c = context;
  for (int i = 0; i < POTS; i++) {
    const pot *p = &c->p->pot[i];
    double start[2] = {0, p->start}, end[2], when[EVENTS], where[EVENTS][2];
    rw_pot *out = &c->p->got[i];
    *out = nothing_yet(p);
    if (!cvode_peer_solve(c->peer[i], start, &DAY, 1, end, when, &where[0][0]))
      out->peak = NAN;
    for (int k = 0; k < EVENTS; k++)
      if (when[k] < HUGE_VAL)
        note_event(out, k, when[k], where[k][1]);
  }
}

static bool cvode_begin(cvode_context *c, double tolerance)
{
  for (int i = 0; i < POTS; i++) {
    c->scale[i][0] = 1;
    c->scale[i][1] = c->p->pot[i].rise;
    cvode_system s = {2, EVENTS, cvode_slopes, cvode_events, c->scale[i], &c->p->pot[i]};
    c->peer[i] = cvode_peer_create(&s, c->stiff, tolerance);
    if (c->peer[i] == NULL)
      return false;
  }
  return true;
}

static void cvode_end(cvode_context *c)
{
  for (int i = 0; i < POTS; i++) {
    cvode_peer_destroy(c->peer[i]);
    c->peer[i] = NULL;
  }
}

/* Errors */

typedef struct pot_error {
  double a;         /* times times the rate of cure there, the peak's temperature by the rise */
  double seconds;   /* of the times but the peak's, s */
  double peak;      /* K */
  double peak_time; /* s; the curve is flat there */
} pot_error;

static void time_error(double exact, double got, double rate, pot_error *e)
{
  if (exact == HUGE_VAL && got == HUGE_VAL)
    return;
  double off = fabs(got - exact);
  if (!isfinite(off))
    off = HUGE_VAL;
  e->seconds = fmax(e->seconds, off);
  e->a = fmax(e->a, off * rate);
}

static pot_error error_of(const problem *p)
{
  pot_error e = {0};
  for (int i = 0; i < POTS; i++) {
    const rw_pot *exact = &p->exact[i], *got = &p->got[i];
    const double *rate = p->rate[i];
    time_error(exact->work_end, got->work_end, rate[THICK], &e);
    time_error(exact->hot, got->hot, rate[HOT], &e);
    time_error(exact->gel, got->gel, rate[GEL], &e);
    double off = fabs(got->peak - exact->peak);
    if (isnan(off))
      off = HUGE_VAL;
    e.peak = fmax(e.peak, off);
    e.peak_time = fmax(e.peak_time, fabs(got->peak_time - exact->peak_time));
    e.a = fmax(e.a, off / p->pot[i].rise);
  }
  return e;
}

static double gsl_peer_error(double tolerance, void *context)
{
  gsl_peer_context *c = context;
  c->tolerance = tolerance;
  gsl_peer_work(c);
  return error_of(c->p).a;
}

static double cvode_error(double tolerance, void *context)
{
  cvode_context *c = context;
  double error = HUGE_VAL;
  if (cvode_begin(c, tolerance)) {
    cvode_work(c);
    error = error_of(c->p).a;
  }
  cvode_end(c);
  return error;
}

static void note(const char *what, const pot_error *e)
{
  char more[96];
  snprintf(more, sizeof more, "times off by %.2g s, warmest by %.2g K, its time by %.2g s",
           e->seconds, e->peak, e->peak_time);
  bench_note(WORK, what, e->a, more);
}

static void check_exact(problem *p)
{
  gsl_peer_context judge = {.p = p, .type = gsl_odeiv2_step_rk8pd};
  for (int i = 0; i < POTS; i++)
    exact_pot(&p->pot[i], &p->exact[i], p->rate[i]);
  gsl_peer_error(1e-12, &judge);
  pot_error e = error_of(p);
  note("the exact answer against GSL rk8pd at 1e-12", &e);
  bench_check(WORK, "the exact answer", e.a, 1e-7);
}

static void add_ours(bench_table *t, problem *p)
{
  ours(p);
  pot_error e = error_of(p);
  note("ours, worst of six pots", &e);
  bench_check(WORK, "ours", e.a, WANTED);
  bench_check(WORK, "ours, time of the warmest, s", e.peak_time, 1);
  bench_entry *entry = bench_add(t, "ours", 0, e.a);
  entry->work = ours;
  entry->context = p;
  entry->share = 1.0 / POTS;
}

static bench_entry *add_gsl(bench_table *t, const char *who, gsl_peer_context *c)
{
  double tolerance = bench_loosest(gsl_peer_error, c, WANTED),
         error = gsl_peer_error(tolerance, c);
  pot_error e = error_of(c->p);
  note(who, &e);
  bench_check(WORK, who, error, WANTED);
  bench_entry *entry = bench_add(t, who, tolerance, error);
  entry->work = gsl_peer_work;
  entry->context = c;
  entry->share = 1.0 / POTS;
  return entry;
}

static bench_entry *add_cvode(bench_table *t, const char *who, cvode_context *c)
{
  double tolerance = bench_loosest(cvode_error, c, WANTED);
  if (!(tolerance > 0))
    return NULL;
  bench_entry *entry = bench_add(t, who, tolerance, cvode_error(tolerance, c));
  cvode_begin(c, tolerance);
  entry->work = cvode_work;
  entry->context = c;
  entry->share = 1.0 / POTS;
  return entry;
}

int main(int argc, char **argv)
{
  static problem p;
  bench_options o = bench_begin(argc, argv);
  bench_table t = {.name = WORK, .floor = BENCH_ENTRIES};
  gsl_set_error_handler_off();
  problem_make(&p);
  check_exact(&p);

  gsl_peer_context gsl[] = {{.p = &p, .type = gsl_odeiv2_step_rkck},
                            {.p = &p, .type = gsl_odeiv2_step_rk8pd}};
  cvode_context cvode[] = {{.p = &p}, {.p = &p, .stiff = true}};
  add_ours(&t, &p);
  bench_entry *rkck = add_gsl(&t, "GSL rkck", &gsl[0]);
  add_gsl(&t, "GSL rk8pd", &gsl[1]);
  bench_entry *adams = add_cvode(&t, "CVODE Adams", &cvode[0]);
  bench_entry *bdf = add_cvode(&t, "CVODE BDF", &cvode[1]);

  bench_run(&o, &t);
  bench_target(WORK, rkck->ratio, rkck->who, 2, false);
  if (adams != NULL && bdf != NULL)
    bench_target(WORK, fmin(adams->ratio, bdf->ratio), "CVODE", 10, false);
  cvode_end(&cvode[0]);
  cvode_end(&cvode[1]);
  return bench_end();
}
