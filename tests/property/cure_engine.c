/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cure engine against a solver of another make: an embedded Runge-Kutta pair of order 8 from
 * GSL, restarted at every reading and at the kinks of a law, over random laws and logs. */
#include "check.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double HOUR = 3600, ZERO = 273.15;

/* Which variable the solver follows, so that it never meets a slope that is not bounded. */
typedef enum form {
  LEAVING, /* y = a^(1-m): out of zero without k1 */
  PLAIN,   /* y = a */
  ENDING   /* y = (top - a)^(1-p): into the top, which a power p < 1 reaches in a finite time */
} form;

typedef struct solver {
  const rw_cure_law *law;
  double t, T, slope; /* the straight piece: T + slope (time - t) */
  form form;
  int beyond; /* past the split of a law in two stages */
  int glassy; /* T < Tg of a stiffening */
} solver;

static double arrhenius(double k, double E, double T, double T_ref)
{
  return k == 0 ? 0 : k * exp(-E / RW_GAS_CONSTANT * (1 / T - 1 / T_ref));
}

static double glass_of(const rw_glass *g, double a)
{
  return g->Tg0 + (g->Tg_inf - g->Tg0) * g->lambda * a / (1 - (1 - g->lambda) * a);
}

/* The top of a law and the power of (top - a) that leads to it. */
static double top_of(const rw_cure_law *w, double *power)
{
  int plateau = w->kind == RW_LAW_PLATEAU;
  *power = plateau && w->limit != 1 ? w->n / 2 : w->kind == RW_LAW_TWO_STAGE ? 1 : w->n;
  return plateau ? fmin(1, w->limit) : 1;
}

/* The factor in which the law dies out; without the power at the top where the form has taken
 * it away. */
static double ends(const solver *s, double a)
{
  const rw_cure_law *w = s->law;
  double left = fmax(1 - a, 0), power;
  if (w->kind == RW_LAW_TWO_STAGE)
    return s->beyond ? left : left * fmax(w->limit - a, 0);
  double top = top_of(w, &power);
  double f = s->form == ENDING ? 1 : pow(fmax(top - a, 0), power);
  if (w->kind == RW_LAW_PLATEAU && w->limit != 1)
    f *= pow(fmax(fmax(1, w->limit) - a, 0), w->n / 2);
  return f;
}

/* k1 + k2 a^m and its like; over a^m where the form has taken that away. */
static double chemical(const solver *s, double a, double T, double *over)
{
  const rw_cure_law *w = s->law;
  double k1 = arrhenius(w->k1, w->E1, T, w->T_ref), k2 = arrhenius(w->k2, w->E2, T, w->T_ref);
  double am = w->m == 0 ? 1 : pow(a, w->m), k = k1, start = k1;
  switch (w->kind) {
  case RW_LAW_NTH_ORDER:
    break;
  case RW_LAW_KAMAL:
  case RW_LAW_PLATEAU:
    k = k1 + k2 * am;
    start = k2;
    break;
  case RW_LAW_SESTAK_BERGGREN:
    k = k1 * am;
    break;
  case RW_LAW_TWO_STAGE:
    k = s->beyond ? arrhenius(w->k3, w->E3, T, w->T_ref) : k1 + k2 * a;
    break;
  }
  *over = s->form == LEAVING ? start : k;
  return k;
}

static double slowed(const solver *s, double a, double T, double k)
{
  const rw_cure_law *w = s->law;
  double f = 1 / (1 + exp(w->C * (a - w->ac0 - w->acT * (T - w->T_ref))));
  if (w->C == 0)
    f = 1;
  if (w->stiffening.k > 0) {
    const rw_stiffening *d = &w->stiffening;
    double x = T - glass_of(&d->glass, a);
    double below = fmax(d->c2 + (s->glassy ? -x : x), 0.1 * d->c2);
    double kd = d->k * exp(d->c1 * x / below);
    f *= kd / (k + kd);
  }
  return f;
}

static double a_of(const solver *s, double y)
{
  double power, top = top_of(s->law, &power);
  switch (s->form) {
  case LEAVING:
    return pow(fmax(y, 0), 1 / (1 - s->law->m));
  case ENDING:
    return y <= 0 ? top : top - pow(y, 1 / (1 - power));
  case PLAIN:
    break;
  }
  return fmin(fmax(y, 0), top);
}

static double y_of(const solver *s, double a)
{
  double power, top = top_of(s->law, &power);
  return s->form == LEAVING  ? pow(a, 1 - s->law->m)
         : s->form == ENDING ? pow(fmax(top - a, 0), 1 - power)
                             : a;
}

static int slope_of(double t, const double y[], double dydt[], void *context)
{
  const solver *s = context;
  double a = a_of(s, y[0]), T = s->T + s->slope * (t - s->t), over, power;
  double k = chemical(s, a, T, &over);
  double rate = over * slowed(s, a, T, k) * ends(s, a);
  top_of(s->law, &power);
  dydt[0] = s->form == LEAVING  ? (1 - s->law->m) * rate
            : s->form == ENDING ? -(1 - power) * rate
                                : rate;
  return isfinite(rate) ? GSL_SUCCESS : GSL_EBADFUNC;
}

static double rate_of(const solver *s, double a, double T)
{
  solver plain = *s;
  plain.form = PLAIN;
  double over, k = chemical(&plain, a, T, &over);
  return k * slowed(&plain, a, T, k) * ends(&plain, a);
}

/* An event of a solution that is wrong by `off` in a. */
typedef struct watch {
  rw_event event;
  double off;
  double time; /* HUGE_VAL where it does not happen */
} watch;

/* How far above the level: in a, K, or the logarithm of a viscosity. */
static double above(const watch *w, double a, double T)
{
  a = fmin(fmax(a + w->off, 0), 1);
  const rw_event *e = &w->event;
  if (e->kind == RW_EVENT_CURE)
    return a - e->level;
  if (e->kind == RW_EVENT_GLASS)
    return glass_of(e->glass, a) - T - e->level;
  const rw_flow *f = e->flow;
  if (a >= f->a_gel)
    return HUGE_VAL;
  return log(f->mu / e->level) + f->E / RW_GAS_CONSTANT * (1 / T - 1 / f->T_ref) +
         (f->C1 + f->C2 * a) * log(f->a_gel / (f->a_gel - a));
}

static double above_slope(const watch *w, double a, double T, double rate, double warming)
{
  a = fmin(fmax(a + w->off, 0), 1);
  const rw_event *e = &w->event;
  if (e->kind == RW_EVENT_CURE)
    return rate;
  if (e->kind == RW_EVENT_GLASS) {
    const rw_glass *g = e->glass;
    double d = 1 - (1 - g->lambda) * a;
    return (g->Tg_inf - g->Tg0) * g->lambda / (d * d) * rate - warming;
  }
  const rw_flow *f = e->flow;
  double by_a = f->C2 * log(f->a_gel / (f->a_gel - a)) + (f->C1 + f->C2 * a) / (f->a_gel - a);
  return by_a * rate - f->E / (RW_GAS_CONSTANT * T * T) * warming;
}

typedef struct walk {
  solver s;
  gsl_odeiv2_system system;
  gsl_odeiv2_step *step;
  gsl_odeiv2_control *control;
  double t, y; /* beginning of the step */
  const double *ask;
  size_t asks, next;
  double *answer;
  watch *watched;
  size_t watches;
} walk;

/* The solution x after the beginning of the step. */
static double solution(walk *w, double x)
{
  double y = w->y, error;
  if (x > 0)
    assert_int_equal(gsl_odeiv2_step_apply(w->step, w->t, x, &y, &error, NULL, NULL, &w->system),
                     0);
  return y;
}

static double temperature(const walk *w, double x)
{
  return w->s.T + w->s.slope * (w->t + x - w->s.t);
}

/* What a place in the step is asked for. */
typedef double place(walk *w, double x, const watch *event);

static double event_place(walk *w, double x, const watch *event)
{
  return above(event, a_of(&w->s, solution(w, x)), temperature(w, x));
}

static double event_slope(walk *w, double x, const watch *event)
{
  double a = a_of(&w->s, solution(w, x)), T = temperature(w, x);
  return above_slope(event, a, T, rate_of(&w->s, a, T), w->s.slope);
}

static double split_place(walk *w, double x, const watch *event)
{
  (void)event;
  return w->s.beyond ? -1 : solution(w, x) - w->s.law->split;
}

static double glass_place(walk *w, double x, const watch *event)
{
  (void)event;
  if (w->s.law->stiffening.k == 0)
    return -1;
  double Tg = glass_of(&w->s.law->stiffening.glass, a_of(&w->s, solution(w, x)));
  return w->s.glassy ? temperature(w, x) - Tg : Tg - temperature(w, x);
}

static double top_place(walk *w, double x, const watch *event)
{
  (void)event;
  return w->s.form == ENDING ? -solution(w, x) : -1;
}

/* Where f, below zero at `low`, turns up at or before `high`, being above zero there. */
static double turn(walk *w, place *f, const watch *event, double low, double high)
{
  for (int i = 0; i < 60 && high - low > 1e-14 * high; i++) {
    double mid = 0.5 * (low + high);
    if (f(w, mid, event) < 0)
      low = mid;
    else
      high = mid;
  }
  return high;
}

static double peak(walk *w, const watch *event, double h)
{
  double low = 0, high = h;
  for (int i = 0; i < 50; i++) {
    double mid = 0.5 * (low + high);
    if (event_slope(w, mid, event) > 0)
      low = mid;
    else
      high = mid;
  }
  return low;
}

static void note_event(walk *w, watch *event, double h)
{
  if (event->time < HUGE_VAL)
    return;
  if (event_place(w, 0, event) >= 0) {
    event->time = w->t;
    return;
  }
  double until = h;
  if (event_place(w, h, event) < 0) {
    if (event->event.kind == RW_EVENT_CURE || event_slope(w, 0, event) <= 0 ||
        event_slope(w, h, event) >= 0)
      return;
    until = peak(w, event, h);
    if (event_place(w, until, event) < 0)
      return;
  }
  event->time = w->t + turn(w, event_place, event, 0, until);
}

/* Notes what was asked for in the step that is done, and moves on. */
static void move_on(walk *w, double h, double end)
{
  for (size_t i = 0; i < w->watches; i++)
    note_event(w, &w->watched[i], h);
  while (w->next < w->asks && w->ask[w->next] <= end) {
    w->answer[w->next] = a_of(&w->s, solution(w, fmin(fmax(w->ask[w->next] - w->t, 0), h)));
    w->next++;
  }
  w->y = solution(w, h);
  w->t = end;
}

/* At the top for good: nothing but the temperature changes from now on. */
static void stay(walk *w, double end)
{
  w->y = 0;
  w->s.form = ENDING;
  double a = a_of(&w->s, 0), h = end - w->t;
  for (size_t i = 0; i < w->watches; i++) {
    watch *e = &w->watched[i];
    double first = above(e, a, temperature(w, 0)), last = above(e, a, temperature(w, h));
    if (e->time < HUGE_VAL || (first < 0 && last < 0))
      continue;
    if (first >= 0) {
      e->time = w->t;
      continue;
    }
    double low = 0, high = h;
    for (int k = 0; k < 60; k++) {
      double mid = 0.5 * (low + high);
      if (above(e, a, temperature(w, mid)) < 0)
        low = mid;
      else
        high = mid;
    }
    e->time = w->t + high;
  }
  while (w->next < w->asks && w->ask[w->next] <= end)
    w->answer[w->next++] = a;
  w->t = end;
}

static void choose_form(walk *w)
{
  solver *s = &w->s;
  double a = a_of(s, w->y), power, top = top_of(s->law, &power);
  form was = s->form;
  if (was == LEAVING && a > 1e-3)
    s->form = PLAIN;
  if (s->form == PLAIN && power < 1 && a > 0.7 * top)
    s->form = ENDING;
  if (s->form != was)
    w->y = y_of(s, a);
}

/* Cuts a step at the first of the law's own kinks. */
static double cut(walk *w, double h, place **kink)
{
  static place *const places[] = {split_place, glass_place, top_place};
  *kink = NULL;
  for (size_t i = 0; i < sizeof places / sizeof *places; i++)
    if (places[i](w, h, NULL) >= 0 && places[i](w, 0, NULL) < 0) {
      h = turn(w, places[i], NULL, 0, h);
      *kink = places[i];
    }
  return h;
}

/* One straight piece, from w->t to `end`. */
static void piece(walk *w, double end, double *h)
{
  w->s.glassy = 0;
  w->s.glassy = glass_place(w, 0, NULL) >= 0 && w->s.law->stiffening.k > 0;
  while (w->t < end) {
    choose_form(w);
    double power, top = top_of(w->s.law, &power);
    if (w->s.form == ENDING && w->y <= 0) {
      stay(w, end);
      return;
    }
    assert_true(a_of(&w->s, w->y) <= top);
    double step = fmin(fmin(*h, 1800), end - w->t), y = w->y, error, slope = 0;
    int last = step == end - w->t;
    int status = gsl_odeiv2_step_apply(w->step, w->t, step, &y, &error, NULL, &slope, &w->system);
    double wanted = step;
    if (status != GSL_SUCCESS ||
        gsl_odeiv2_control_hadjust(w->control, w->step, &y, &error, &slope, &wanted) ==
            GSL_ODEIV_HADJ_DEC) {
      *h = status != GSL_SUCCESS ? step / 4 : wanted;
      assert_true(*h > 1e-30);
      continue;
    }
    place *kink;
    double done = cut(w, step, &kink);
    *h = kink != NULL ? done : fmax(wanted, last ? *h : 0);
    move_on(w, done, done == step && last ? end : w->t + done);
    if (kink == split_place)
      w->s.beyond = 1;
    if (kink == glass_place)
      w->s.glassy = !w->s.glassy;
    if (kink == top_place)
      w->y = 0;
  }
}

/* Degrees of cure at rising times, and events, all counted from `from`. */
static void solve(const rw_cure_law *law, const rw_history *history, double from, double to,
                  double start, const double *ask, size_t asks, double *answer, watch *watched,
                  size_t watches)
{
  walk w = {.s = {.law = law}, .ask = ask, .asks = asks, .answer = answer, .watched = watched};
  w.watches = watches;
  w.system = (gsl_odeiv2_system){slope_of, NULL, 1, &w.s};
  w.step = gsl_odeiv2_step_alloc(gsl_odeiv2_step_rk8pd, 1);
  w.control = gsl_odeiv2_control_standard_new(1e-14, 1e-13, 1, 0);
  assert_non_null(w.step);
  assert_non_null(w.control);
  int alone = law->kind == RW_LAW_SESTAK_BERGGREN ||
              (law->k1 == 0 && (law->kind == RW_LAW_KAMAL || law->kind == RW_LAW_PLATEAU));
  w.s.form = alone && start == 0 && law->m > 0 ? LEAVING : PLAIN;
  w.s.beyond = law->kind == RW_LAW_TWO_STAGE && start >= law->split;
  w.y = y_of(&w.s, start);
  for (size_t i = 0; i < watches; i++)
    watched[i].time = HUGE_VAL;
  const double *time, *T;
  size_t n = rw_history_points(history, &time, &T, NULL);
  double h = 1e-9; /* a law with a broken power has no second derivative at zero */
  for (size_t i = 0; i + 1 < n; i++) {
    double begin = fmax(time[i] - from, 0), end = fmin(time[i + 1], to) - from;
    if (end <= begin)
      continue;
    w.s.slope = (T[i + 1] - T[i]) / (time[i + 1] - time[i]);
    w.s.t = time[i] - from;
    w.s.T = T[i];
    w.t = begin;
    piece(&w, end, &h);
  }
  assert_int_equal(w.next, asks);
  gsl_odeiv2_step_free(w.step);
  gsl_odeiv2_control_free(w.control);
}

/* A source of repeatable numbers, even over [low, high). */
static uint64_t dice;
static double even(double low, double high)
{
  dice += 0x9e3779b97f4a7c15u;
  uint64_t z = dice;
  z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
  z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
  return low + (high - low) * (double)((z ^ (z >> 31)) >> 11) * 0x1p-53;
}

static double even_log(double low, double high)
{
  return exp(even(log(low), log(high)));
}

static int one_in(int n)
{
  return even(0, n) < 1;
}

/* Every second law stops by one or the other form of diffusion, or both. */
static rw_cure_law random_law(rw_law_kind kind, int number, double *start)
{
  rw_cure_law w = {.kind = kind,
                   .k1 = even_log(3e-7, 5e-5),
                   .E1 = even(40e3, 80e3),
                   .k2 = even_log(2e-5, 5e-4),
                   .E2 = even(40e3, 80e3),
                   .m = even(0.3, 2.5),
                   .n = even(0.5, 3),
                   .T_ref = one_in(2) ? 298.15 : even(280, 340),
                   .limit = even(0.2, 1.2)};
  *start = one_in(3) ? even_log(1e-6, 0.1) : 0;
  if (number % 4 == 3 && kind != RW_LAW_NTH_ORDER && kind != RW_LAW_TWO_STAGE) {
    w.k1 = 0; /* leaves zero by a power below one, or begins above */
    if (one_in(2))
      w.m = even(0.3, 0.95);
    else
      *start = even_log(1e-4, 0.1);
  }
  if (kind == RW_LAW_NTH_ORDER)
    w.k1 = w.k2;
  if (kind == RW_LAW_SESTAK_BERGGREN) {
    w.k1 = w.k2;
    if (w.m >= 0.95)
      *start = even_log(1e-4, 0.1);
  }
  if (kind == RW_LAW_PLATEAU && number % 8 == 5)
    w.limit = 1;
  if (kind == RW_LAW_TWO_STAGE) {
    w.k1 = even_log(1e-5, 1e-4);
    w.k3 = even_log(1e-5, 1e-4);
    w.E3 = even(40e3, 80e3);
    w.split = even(0.15, 0.9) * fmin(w.limit, 1);
    if (one_in(2)) {
      w.E2 = w.E1 - even(0, 2e3); /* stays above zero from 0 to 80 degC */
      w.k2 = -even(0.3, 0.6) * w.k1 / w.split;
    }
  }
  if (number % 2 == 1) {
    w.C = even(15, 60);
    w.ac0 = even(0.5, 0.95) * fmin(w.limit, 1);
    w.acT = even(0.002, 0.006);
  }
  if (number % 3 == 1) {
    double Tg0 = even(230, 265);
    w.stiffening = (rw_stiffening){.k = even_log(1e-6, 1e-3),
                                   .c1 = one_in(2) ? 40.2 : even(20, 60),
                                   .c2 = one_in(2) ? 51.6 : even(20, 100),
                                   .glass = {Tg0, Tg0 + even(90, 180), even(0.3, 0.7)}};
  }
  return w;
}

enum { MOST_READINGS = 1000, LOGS = 6 };

/* Readings between 0 and 80 degC, on a clock of their own. */
static rw_history *random_log(int kind, double *from, double *to)
{
  static double t[MOST_READINGS], T[MOST_READINGS];
  double origin = one_in(2) ? 0 : 1.79e9, now = origin;
  double mean = even(8, 70), swing = even(0, 8), noise = kind == 1 ? 1 : 0, phase = even(0, 6);
  size_t n = 0;
  for (int i = 0; i < (kind < 2 ? 577 : kind == 2 ? 15 : kind == 3 ? 8 : 289); i++) {
    double sine = swing * sin(7.27220521664304e-5 * (now - origin) + phase);
    double celsius = mean + sine + noise * (even(-1, 1) + even(-1, 1)) * 1.2247;
    if (kind == 2 || kind == 3)
      celsius = even(0, 80);
    t[n] = now;
    T[n++] = fmin(fmax(celsius, 0), 80) + ZERO;
    if (kind == 3 || (kind == 5 && i % 60 == 59)) { /* carried in or out: a step */
      t[n] = now;
      T[n++] = even(0, 80) + ZERO;
      mean = even(5, 75);
    }
    now += kind == 2 || kind == 3 ? even(600, 6 * HOUR) : kind == 4 ? 600 : 300;
  }
  *from = origin + even(0, 0.2) * (t[n - 1] - origin);
  *to = t[n - 1] - even(0, 0.1) * (t[n - 1] - origin);
  rw_history *h = NULL;
  rw_error err;
  assert_ok(rw_history_create(t, T, NULL, n, &h, &err), &err);
  return h;
}

/* A history with the same temperature all along. */
static rw_history *steady(double celsius, double span)
{
  double t[2] = {0, span}, T[2] = {celsius + ZERO, celsius + ZERO};
  rw_history *h = NULL;
  rw_error err;
  assert_ok(rw_history_create(t, T, NULL, 2, &h, &err), &err);
  return h;
}

/* The solver of this file itself, against closed forms at a steady temperature. */
static void solver_is_right(void **state)
{
  (void)state;
  double k = 2e-4, t[50], a[50];
  rw_history *h = steady(25, 20000);
  for (int i = 0; i < 50; i++)
    t[i] = 1 + i * 400;
  rw_cure_law w = {.kind = RW_LAW_NTH_ORDER, .k1 = k, .E1 = 5e4, .T_ref = 298.15, .n = 0.5};
  solve(&w, h, 0, 20000, 0, t, 50, a, NULL, 0);
  for (int i = 0; i < 50; i++) /* sqrt(1 - a) = 1 - k t/2 */
    assert_close(a[i], 1 - pow(fmax(1 - k * t[i] / 2, 0), 2), 1e-11);
  w.n = 3;
  solve(&w, h, 0, 20000, 0, t, 50, a, NULL, 0);
  for (int i = 0; i < 50; i++) /* (1 - a)^-2 = 1 + 2 k t */
    assert_close(a[i], 1 - 1 / sqrt(1 + 2 * k * t[i]), 1e-11);
  w = (rw_cure_law){RW_LAW_SESTAK_BERGGREN, k, 5e4, .m = 0.5, .n = 1, .T_ref = 298.15};
  solve(&w, h, 0, 20000, 0, t, 50, a, NULL, 0);
  for (int i = 0; i < 50; i++) /* artanh(sqrt(a)) = k t/2 */
    assert_close(a[i], pow(tanh(k * t[i] / 2), 2), 1e-11);
  w = (rw_cure_law){RW_LAW_KAMAL, k, 5e4, .k2 = 3 * k, .E2 = 5e4, .m = 1, .n = 1, .T_ref = 298.15};
  solve(&w, h, 0, 20000, 0, t, 50, a, NULL, 0);
  for (int i = 0; i < 50; i++) { /* (1 + 3a)/(1 - a) = exp(4 k t) */
    double x = exp(4 * k * t[i]);
    assert_close(a[i], (x - 1) / (x + 3), 1e-11);
  }
  w = (rw_cure_law){RW_LAW_PLATEAU, k, 5e4, .m = 1, .n = 2, .T_ref = 298.15, .limit = 0.6};
  solve(&w, h, 0, 20000, 0, t, 50, a, NULL, 0);
  for (int i = 0; i < 50; i++) { /* (0.6 - a)/(1 - a) = 0.6 exp(-0.4 k t) */
    double x = 0.6 * exp(-0.4 * k * t[i]);
    assert_close(a[i], (0.6 - x) / (1 - x), 1e-11);
  }
  w = (rw_cure_law){RW_LAW_TWO_STAGE, k,           5e4,       .T_ref = 298.15,
                    .limit = 1,       .k3 = k / 2, .E3 = 5e4, .split = 0.4};
  solve(&w, h, 0, 20000, 0, t, 50, a, NULL, 0);
  double turning = 0.4 / 0.6 / k; /* 1/(1 - a) = 1 + k t, then 0.6 exp(-k t/2) is left */
  for (int i = 0; i < 50; i++)
    assert_close(
        a[i], t[i] < turning ? 1 - 1 / (1 + k * t[i]) : 1 - 0.6 * exp(-k / 2 * (t[i] - turning)),
        1e-11);
  rw_history_destroy(h);
}

enum { TIMES = 200, LEVELS = 5, EVENTS = LEVELS + 4 };

typedef struct sample {
  rw_cure_law law;
  double start, from, to;
  rw_history *h;
  rw_glass glass;
  rw_flow flow;
  rw_event event[EVENTS];
} sample;

static void random_sample(sample *s, rw_law_kind kind, int number)
{
  dice = 1000003u * (unsigned)kind + 101u * (unsigned)number + 1;
  s->law = random_law(kind, number, &s->start);
  s->h = random_log((number + number / LOGS) % LOGS, &s->from, &s->to);
  double Tg0 = even(235, 265);
  s->glass = (rw_glass){Tg0, Tg0 + even(80, 160), even(0.3, 0.7)};
  s->flow =
      (rw_flow){even(0.3, 5), even(2e4, 6e4), 298.15, even(0.3, 0.7), even(1, 3), even(0, 2)};
  for (int i = 0; i < LEVELS; i++)
    s->event[i] = (rw_event){RW_EVENT_CURE, (i + even(0.2, 1)) * 0.2, NULL, NULL};
  for (int i = LEVELS; i < LEVELS + 2; i++)
    s->event[i] = (rw_event){RW_EVENT_GLASS, even(-60, 10), &s->glass, NULL};
  for (int i = LEVELS + 2; i < EVENTS; i++)
    s->event[i] = (rw_event){RW_EVENT_VISCOSITY, even_log(3, 300), NULL, &s->flow};
}

static void name_sample(const sample *s, int number)
{
  print_error("kind %d, number %d: k1 %.3g k2 %.3g m %.3f n %.3f C %.3g limit %.3f split %.3f "
              "stiffening %.3g start %.3g\n",
              (int)s->law.kind, number, s->law.k1, s->law.k2, s->law.m, s->law.n, s->law.C,
              s->law.limit, s->law.split, s->law.stiffening.k, s->start);
}

static rw_cure_path *run(const sample *s, int number, double tolerance)
{
  rw_cure_path *path = NULL;
  rw_error err;
  assert_true(s->start < rw_cure_law_top(&s->law));
  rw_status status = rw_cure_run(&s->law, s->h, s->from, s->to, s->start, tolerance, &path, &err);
  if (status != RW_OK)
    name_sample(s, number);
  assert_ok(status, &err);
  return path;
}

static double at(const rw_cure_path *p, double time)
{
  double a = NAN;
  rw_error err;
  assert_ok(rw_cure_at(p, time, &a, NULL, NULL, &err), &err);
  return a;
}

/* An event must lie where 1e-6 in a would put it, early or late, or within a second: where the
 * state creeps past the level, 1e-6 in a is worth more than that. */
static int compare_event(const sample *s, const rw_cure_path *path, int i, const watch w[3])
{
  double exact = w[0].time, early = w[1].time, late = w[2].time, time = HUGE_VAL;
  rw_error err;
  rw_status status = rw_cure_event(path, &s->event[i], &time, &err);
  assert_true(status == RW_OK || status == RW_NOT_REACHED);
  assert_true((status == RW_OK) == (time < HUGE_VAL));
  time -= s->from;
  double slack = 1e-5; /* the clock's own digits */
  if (!(time >= fmin(early, exact - 1) - slack && time <= fmax(late, exact + 1) + slack)) {
    print_error("event %d at %.3f, not within %.3f %.3f %.3f\n", i, time, early, exact, late);
    return 0;
  }
  return 1;
}

/* Compares one sample; counts the events that happened. */
static int compare(const sample *s, int number, double tolerance, int *happened)
{
  double ask[TIMES], wanted[TIMES];
  watch w[EVENTS * 3];
  for (int i = 0; i < TIMES; i++)
    ask[i] = (s->to - s->from) * (i < 40 ? pow(10, -8 + 0.15 * i) : (i - 39) / (TIMES - 39.0));
  for (int i = 1; i < TIMES; i++) /* rising */
    for (int k = i; k > 0 && ask[k] < ask[k - 1]; k--) {
      double swap = ask[k];
      ask[k] = ask[k - 1];
      ask[k - 1] = swap;
    }
  ask[TIMES - 1] = s->to - s->from;
  for (int i = 0; i < TIMES; i++)
    ask[i] = s->from + ask[i] - s->from; /* what is left of it on a clock since 1970 */
  for (int i = 0; i < EVENTS; i++) {
    w[3 * i] = (watch){s->event[i], 0, HUGE_VAL};
    w[3 * i + 1] = (watch){s->event[i], 1e-6, HUGE_VAL};
    w[3 * i + 2] = (watch){s->event[i], -1e-6, HUGE_VAL};
  }
  solve(&s->law, s->h, s->from, s->to, s->start, ask, TIMES, wanted, w, EVENTS * 3);
  rw_cure_path *path = run(s, number, tolerance);
  double worst = 0, where = 0;
  for (int i = 0; i < TIMES; i++) {
    double off = fabs(at(path, fmin(s->from + ask[i], s->to)) - wanted[i]);
    if (!(off <= worst)) {
      worst = off;
      where = ask[i];
    }
  }
  int fine = worst <= tolerance;
  for (int i = 0; i < EVENTS; i++) {
    fine = compare_event(s, path, i, w + 3 * i) && fine;
    *happened += w[3 * i].time < HUGE_VAL && w[3 * i].time > 0;
  }
  if (!fine) {
    print_error("off by %.3g at %.6g s; ", worst, where);
    name_sample(s, number);
  }
  rw_cure_path_destroy(path);
  return fine;
}

static int compare_random(rw_law_kind kind, int number, double tolerance, int *happened)
{
  sample s;
  random_sample(&s, kind, number);
  int fine = compare(&s, number, tolerance, happened);
  rw_history_destroy(s.h);
  return fine;
}

static void compare_kind(rw_law_kind kind, double tolerance)
{
  int wrong = 0, happened = 0;
  enum { N = 60 };
  for (int number = 0; number < N; number++)
    wrong += !compare_random(kind, number, tolerance, &happened);
  assert_int_equal(wrong, 0);
  assert_true(happened > N * EVENTS / 4);
}

static void nth_order(void **state)
{
  (void)state;
  compare_kind(RW_LAW_NTH_ORDER, 1e-6);
}

static void kamal(void **state)
{
  (void)state;
  compare_kind(RW_LAW_KAMAL, 1e-6);
}

static void plateau(void **state)
{
  (void)state;
  compare_kind(RW_LAW_PLATEAU, 1e-6);
}

static void sestak_berggren(void **state)
{
  (void)state;
  compare_kind(RW_LAW_SESTAK_BERGGREN, 1e-6);
}

static void two_stage(void **state)
{
  (void)state;
  compare_kind(RW_LAW_TWO_STAGE, 1e-6);
}

/* Without k1 and with m near one the cure stays next to nothing over many readings, and yet what
 * it is there decides when it sets in. */
static void slow_starts(void **state)
{
  (void)state;
  static const rw_law_kind kinds[] = {RW_LAW_KAMAL, RW_LAW_PLATEAU, RW_LAW_SESTAK_BERGGREN};
  int wrong = 0, happened = 0;
  for (int number = 0; number < 36; number++) {
    sample s;
    random_sample(&s, kinds[number % 3], number / 3);
    s.law.m = 0.76 + 0.02 * (number / 3); /* to 0.98 */
    *(s.law.kind == RW_LAW_SESTAK_BERGGREN ? &s.law.k1 : &s.law.k2) = even_log(2e-4, 2e-3);
    if (s.law.kind != RW_LAW_SESTAK_BERGGREN)
      s.law.k1 = 0;
    s.start = 0;
    wrong += !compare(&s, number, 1e-6, &happened);
    rw_history_destroy(s.h);
  }
  assert_int_equal(wrong, 0);
  assert_true(happened > 60);
}

/* Carried in and out of a warm room every two hours, with readings every 5 min: nothing of the
 * temperature before a step may be left after it. */
static void steps_of_temperature(void **state)
{
  (void)state;
  static double t[MOST_READINGS], T[MOST_READINGS];
  size_t n = 0;
  for (int i = 0; i < 577; i++) {
    t[n] = i * 300.0;
    T[n++] = ZERO + (i / 24 % 2 ? 38 : 12) + 0.01 * (i % 24);
    if (i % 24 != 23)
      continue;
    t[n] = i * 300.0;
    T[n++] = ZERO + (i / 24 % 2 ? 12 : 38);
  }
  int wrong = 0, happened = 0;
  for (int number = 0; number < 50; number++) {
    sample s;
    random_sample(&s, (rw_law_kind)(number % 5), 1 + 2 * (number / 5));
    rw_history_destroy(s.h);
    rw_error err;
    assert_ok(rw_history_create(t, T, NULL, n, &s.h, &err), &err);
    s.from = 1000;
    s.to = 172000;
    double slower = s.law.kind == RW_LAW_TWO_STAGE ? 0.3 : 0.15;
    s.law.k1 *= slower;
    s.law.k2 *= slower;
    s.law.k3 *= slower;
    wrong += !compare(&s, number, 1e-6, &happened);
    rw_history_destroy(s.h);
  }
  assert_int_equal(wrong, 0);
  assert_true(happened > 100);
}

/* Diffusion that is not felt at first and then stops the cure within minutes: what it does to
 * a step does not show in the step's first terms. */
static void sets_in_late(void **state)
{
  (void)state;
  int wrong = 0, happened = 0;
  for (int number = 0; number < 20; number++) {
    sample s;
    random_sample(&s, RW_LAW_NTH_ORDER, number);
    rw_history_destroy(s.h);
    s.law = (rw_cure_law){.kind = RW_LAW_NTH_ORDER,
                          .k1 = 3.32e-4,
                          .E1 = 71e3,
                          .n = 1 + 0.1 * number,
                          .T_ref = 298.15,
                          .stiffening = {3.6e-5, 60, 30, {249, 404, 0.565}}};
    s.start = 0;
    s.from = 0;
    s.to = 40000;
    if (number % 2 == 1) /* the other form of diffusion */
      s.law = (rw_cure_law){.kind = RW_LAW_NTH_ORDER,
                            .k1 = 3.23e-4,
                            .E1 = 76.2e3,
                            .n = 0.845,
                            .T_ref = 307.5,
                            .C = 57,
                            .ac0 = 0.8,
                            .acT = 0.0055};
    s.h = steady(number % 2 == 1 ? 40 + 2 * number : 30 + number, s.to);
    wrong += !compare(&s, number, 1e-6, &happened);
    rw_history_destroy(s.h);
  }
  assert_int_equal(wrong, 0);
  assert_true(happened > 60);
}

/* While the day warms, Tg - T rises to a summit and falls again, all within long steps: a level
 * just below the summit is met near it, one just above never. */
static void summits(void **state)
{
  (void)state;
  static const rw_glass glass = {245, 370, 0.4};
  rw_cure_law w = {RW_LAW_NTH_ORDER, 2e-5, 55e3, .n = 1, .T_ref = 298.15};
  for (int warming = 10; warming <= 60; warming++) {
    double t[2] = {0, 2e5}, T[2] = {293.15, 293.15 + warming}, most = -HUGE_VAL, summit = 0;
    rw_history *h = NULL;
    rw_cure_path *p = NULL;
    rw_error err;
    assert_ok(rw_history_create(t, T, NULL, 2, &h, &err), &err);
    assert_ok(rw_cure_run(&w, h, 0, 2e5, 0, 1e-6, &p, &err), &err);
    for (int i = 0; i <= 20000; i++) {
      double over = glass_of(&glass, at(p, i * 10.0)) - (293.15 + warming * i / 20000.0);
      if (over > most) {
        most = over;
        summit = i * 10.0;
      }
    }
    double time = NAN;
    rw_event e = {RW_EVENT_GLASS, most - 5e-4, &glass, NULL}; /* some 2e-6 in a */
    assert_ok(rw_cure_event(p, &e, &time, &err), &err);
    assert_true(time < summit + 10);
    assert_close(glass_of(&glass, at(p, time)) - (293.15 + warming * time / 2e5), e.level, 1e-6);
    e.level = most + 1e-5;
    if (summit < 2e5)
      assert_status(rw_cure_event(p, &e, &time, &err), RW_NOT_REACHED, &err);
    rw_cure_path_destroy(p);
    rw_history_destroy(h);
  }
}

/* A finer tolerance is kept as well. */
static void finer_tolerance(void **state)
{
  (void)state;
  int wrong = 0, happened = 0;
  for (int number = 0; number < 10; number++)
    for (int kind = RW_LAW_NTH_ORDER; kind <= RW_LAW_TWO_STAGE; kind++)
      wrong += !compare_random((rw_law_kind)kind, number + 60, 1e-9, &happened);
  assert_int_equal(wrong, 0);
}

/* The rate law itself, at random states. */
static void rates(void **state)
{
  (void)state;
  for (int kind = RW_LAW_NTH_ORDER; kind <= RW_LAW_TWO_STAGE; kind++)
    for (int number = 0; number < 24; number++) {
      double start, power;
      dice = 77u + 31u * (unsigned)number + 1009u * (unsigned)kind;
      rw_cure_law w = random_law((rw_law_kind)kind, number, &start);
      for (int i = 0; i < 50; i++) {
        double a = even(0, top_of(&w, &power)), T = even(0, 80) + ZERO, rate = NAN;
        solver s = {.law = &w, .form = PLAIN};
        s.beyond = kind == RW_LAW_TWO_STAGE && a > w.split;
        s.glassy = w.stiffening.k > 0 && T < glass_of(&w.stiffening.glass, a);
        rw_error err;
        assert_ok(rw_cure_rate(&w, a, T, &rate, &err), &err);
        assert_close_rel(rate, rate_of(&s, a, T), 1e-12);
      }
    }
}

/* A degree of cure is a share to the last digit, never goes back, and goes on as long as the law
 * has a rate. */
static void shares_that_rise(void **state)
{
  (void)state;
  enum { N = 6000 };
  for (int kind = RW_LAW_NTH_ORDER; kind <= RW_LAW_TWO_STAGE; kind++)
    for (int number = 0; number < 24; number++)
      for (int coarse = 0; coarse < 2; coarse++) {
        sample s;
        random_sample(&s, (rw_law_kind)kind, number);
        rw_cure_path *p = run(&s, number, coarse ? 1e-3 : 1e-6);
        double top = rw_cure_law_top(&s.law), before = at(p, s.from), far = before;
        assert_close(before, s.start, 0);
        for (int i = 1; i <= N; i++) {
          double a = at(p, s.from + (s.to - s.from) * i / N);
          if (!(a >= before && a <= top)) {
            print_error("a %.17g after %.17g, top %.17g\n", a, before, top);
            name_sample(&s, number);
            fail();
          }
          before = a;
          if (i % 100 != 0 || coarse)
            continue;
          double low, rate;
          rw_error err;
          assert_ok(rw_history_extremes(s.h, s.from + (s.to - s.from) * (i - 100) / N,
                                        s.from + (s.to - s.from) * i / N, &low, NULL, &err),
                    &err);
          assert_ok(rw_cure_rate(&s.law, a, low, &rate, &err), &err);
          if (a < top - 1e-6 && rate * (s.to - s.from) * 100 / N > 1e-5)
            assert_true(a > far);
          far = a;
        }
        rw_cure_path_destroy(p);
        rw_history_destroy(s.h);
      }
}

/* The same bits for the same question. */
static void repeats(void **state)
{
  (void)state;
  for (int kind = RW_LAW_NTH_ORDER; kind <= RW_LAW_TWO_STAGE; kind++)
    for (int number = 0; number < 12; number++) {
      sample s;
      random_sample(&s, (rw_law_kind)kind, number);
      rw_cure_path *p = run(&s, number, 1e-6), *q = run(&s, number, 1e-6);
      for (int i = 0; i <= 500; i++) {
        double time = s.from + (s.to - s.from) * i / 500, first = at(p, time);
        double second = at(q, time);
        assert_memory_equal(&first, &second, sizeof first);
      }
      for (int i = 0; i < EVENTS; i++) {
        double first = -1, second = -1;
        rw_error err;
        rw_cure_event(p, &s.event[i], &first, &err);
        rw_cure_event(q, &s.event[i], &second, &err);
        assert_memory_equal(&first, &second, sizeof first);
      }
      rw_cure_path_destroy(p);
      rw_cure_path_destroy(q);
      rw_history_destroy(s.h);
    }
}

/* What is asked of a path agrees with what is asked of it the other way. */
static void events_agree(void **state)
{
  (void)state;
  for (int kind = RW_LAW_NTH_ORDER; kind <= RW_LAW_TWO_STAGE; kind++)
    for (int number = 0; number < 12; number++) {
      sample s;
      random_sample(&s, (rw_law_kind)kind, number);
      rw_cure_path *p = run(&s, number, 1e-6);
      for (int i = 0; i < LEVELS; i++) {
        double when = -1, event = -1;
        rw_error err;
        rw_status one = rw_cure_when(p, s.event[i].level, &when, &err);
        assert_status(rw_cure_event(p, &s.event[i], &event, &err), one, &err);
        assert_close(event, when, 1e-6);
        if (one == RW_OK && when > s.from)
          assert_close(at(p, when), s.event[i].level, 1e-9);
      }
      rw_cure_path_destroy(p);
      rw_history_destroy(s.h);
    }
}

/* A first stage that the cold brings to rest: k1 + k2 a falls to zero below the split, there the
 * cure stops, and a warmer day takes it on. */
static void rests_in_the_cold(void **state)
{
  (void)state;
  double t[] = {0, 8e6, 8e6, 12e6}, T[] = {ZERO, ZERO, 40 + ZERO, 40 + ZERO};
  rw_cure_law w = {.kind = RW_LAW_TWO_STAGE,
                   .k1 = 1e-4,
                   .E1 = 80e3,
                   .k2 = -3e-4,
                   .E2 = 70e3,
                   .T_ref = 298.15,
                   .limit = 1,
                   .k3 = 1e-5,
                   .E3 = 60e3,
                   .split = 0.3};
  double rest = arrhenius(w.k1, w.E1, ZERO, w.T_ref) / -arrhenius(w.k2, w.E2, ZERO, w.T_ref);
  assert_true(rest < w.split);
  rw_history *h = NULL;
  rw_cure_path *p = NULL;
  rw_error err;
  assert_ok(rw_history_create(t, T, NULL, 4, &h, &err), &err);
  assert_ok(rw_cure_run(&w, h, 0, 12e6, 0, 1e-6, &p, &err), &err);
  assert_close(at(p, 7.9e6), rest, 1e-6);
  double before = 0;
  for (int i = 0; i <= 3000; i++) {
    double a = at(p, i * 4e3);
    assert_true(a >= before && a <= 1);
    before = a;
  }
  assert_true(before > w.split);
  rw_cure_path_destroy(p);
  rw_history_destroy(h);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(solver_is_right),
      cmocka_unit_test(rates),
      cmocka_unit_test(nth_order),
      cmocka_unit_test(kamal),
      cmocka_unit_test(plateau),
      cmocka_unit_test(sestak_berggren),
      cmocka_unit_test(two_stage),
      cmocka_unit_test(slow_starts),
      cmocka_unit_test(steps_of_temperature),
      cmocka_unit_test(sets_in_late),
      cmocka_unit_test(summits),
      cmocka_unit_test(finer_tolerance),
      cmocka_unit_test(shares_that_rise),
      cmocka_unit_test(repeats),
      cmocka_unit_test(events_agree),
      cmocka_unit_test(rests_in_the_cold),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
