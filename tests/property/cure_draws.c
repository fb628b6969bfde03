/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Many cures at once against the same cures one by one. */
#include "check.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double ZERO = 273.15, TOLERANCE = 1e-6;

enum { LEVELS = 6, MOST = 1200 };

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

/* Laws of a power of one or more at their top, none in two stages or with a stiffening, so that
 * full groups of sixteen go together; or, with `any`, of all kinds. */
static rw_cure_law random_law(int any)
{
  rw_cure_law w = {.kind = (rw_law_kind)(int)even(0, 4),
                   .k1 = even_log(3e-7, 5e-5),
                   .E1 = even(40e3, 75e3),
                   .k2 = even_log(2e-5, 3e-4),
                   .E2 = even(40e3, 75e3),
                   .m = even(0.3, 2.5),
                   .n = even(0.5, 3),
                   .T_ref = 298.15,
                   .limit = even(0.3, 1.2)};
  if (!any)
    w.n = w.kind == RW_LAW_PLATEAU ? even(2, 4) : even(1, 3);
  if (w.kind == RW_LAW_NTH_ORDER)
    w.k1 = w.k2;
  if (w.kind == RW_LAW_SESTAK_BERGGREN) {
    w.k1 = w.k2;
    w.m = even(0.3, 0.97);
  }
  if (even(0, 1) < 0.5) {
    w.C = even(15, 60);
    w.ac0 = even(0.5, 0.95) * fmin(w.limit, 1);
    w.acT = even(0.002, 0.006);
  }
  if (any && even(0, 1) < 0.2) {
    w.kind = RW_LAW_TWO_STAGE;
    w.k3 = w.k2;
    w.E3 = w.E2;
    w.split = 0.5 * fmin(w.limit, 1);
  } else if (any && even(0, 1) < 0.2) {
    w.stiffening = (rw_stiffening){even_log(1e-6, 1e-3), 40.2, 51.6, {250, 380, 0.4}};
  }
  return w;
}

typedef struct batch {
  size_t n;
  rw_cure_draw draw[MOST];
  rw_flow flow[MOST];
  double level[MOST * LEVELS], time[MOST * LEVELS], thick[MOST], reached[MOST];
} batch;

/* Levels from nearly none to nearly all; two of three draws have a viscosity. */
static batch *random_batch(size_t n, unsigned seed, int any)
{
  batch *b = calloc(1, sizeof *b);
  assert_non_null(b);
  dice = seed;
  b->n = n;
  for (size_t i = 0; i < n; i++) {
    b->flow[i] = (rw_flow){even(0.3, 2), 4e4, 298.15, even(0.4, 0.7), even(1, 2), even(0, 2)};
    b->draw[i] = (rw_cure_draw){random_law(any), even(-3, 3), i % 3 == 2 ? NULL : &b->flow[i],
                                even_log(3, 100)};
    for (size_t k = 0; k < LEVELS; k++)
      b->level[i * LEVELS + k] = ((double)k + even(0.1, 0.99)) / LEVELS;
  }
  return b;
}

/* Two days between 10 and 60 degC; readings every 5 min with a noise of 1 K, or few. */
static rw_history *random_log(int few)
{
  static double t[600], T[600];
  size_t n = few ? 14 : 577;
  double mean = even(18, 45);
  for (size_t i = 0; i < n; i++) {
    t[i] = 1.79e9 + (double)i * 172800.0 / (double)(n - 1);
    T[i] = ZERO + (few ? even(10, 60)
                       : mean + 8 * sin(7.27220521664304e-5 * t[i]) +
                             1.2247 * (even(-1, 1) + even(-1, 1)));
  }
  if (few)
    t[7] = t[6]; /* a step */
  rw_history *h = NULL;
  rw_error err;
  assert_ok(rw_history_create(t, T, NULL, n, &h, &err), &err);
  return h;
}

static rw_draw_plan plan(unsigned threads)
{
  return (rw_draw_plan){.from = 1.79e9 + 1234,
                        .to = 1.79e9 + 171000,
                        .tolerance = TOLERANCE,
                        .levels = LEVELS,
                        .threads = threads};
}

static void run(batch *b, const rw_draw_plan *p, const rw_history *h)
{
  rw_error err;
  for (size_t i = 0; i < b->n * LEVELS; i++)
    b->time[i] = NAN;
  for (size_t i = 0; i < b->n; i++)
    b->thick[i] = b->reached[i] = NAN;
  assert_ok(rw_cure_draws(p, b->draw, b->n, h, b->level, b->time, b->thick, b->reached, &err),
            &err);
}

static double at(const rw_cure_path *p, double time)
{
  double a = NAN;
  rw_error err;
  assert_ok(rw_cure_at(p, time, &a, NULL, NULL, &err), &err);
  return a;
}

/* Both lie within the tolerance of the truth, hence within two of one another. A level reached at
 * the very end by one may not be by the other. */
static void compare_time(const rw_cure_path *p, const rw_draw_plan *plan_, double time,
                         rw_status status, double single)
{
  double from = plan_->from, to = plan_->to, within = 2 * plan_->tolerance;
  assert_true(status == RW_OK || status == RW_NOT_REACHED);
  if (status != RW_OK)
    single = to;
  assert_true(time == HUGE_VAL || (time >= from && time <= to));
  if (status == RW_OK && time < HUGE_VAL && fabs(time - single) < 1e-3)
    return;
  assert_close(at(p, fmin(time, to)), at(p, single), within);
}

static void compare(const batch *b, const rw_draw_plan *p, const rw_history *h)
{
  for (size_t i = 0; i < b->n; i++) {
    rw_history *shifted = NULL;
    rw_cure_path *path = NULL;
    rw_error err;
    const rw_cure_draw *d = &b->draw[i];
    assert_ok(rw_history_shift(h, d->shift, &shifted, &err), &err);
    assert_ok(rw_cure_run(&d->law, shifted, p->from, p->to, p->start, TOLERANCE, &path, &err),
              &err);
    for (size_t k = 0; k < p->levels; k++) {
      double single = HUGE_VAL;
      rw_status status = rw_cure_when(path, b->level[i * p->levels + k], &single, &err);
      compare_time(path, p, b->time[i * p->levels + k], status, single);
    }
    double single = HUGE_VAL;
    if (d->flow == NULL) {
      assert_true(b->thick[i] == HUGE_VAL);
    } else {
      rw_event e = {RW_EVENT_VISCOSITY, d->viscosity, NULL, d->flow};
      rw_status status = rw_cure_event(path, &e, &single, &err);
      compare_time(path, p, b->thick[i], status, single);
    }
    assert_close(b->reached[i], at(path, p->to), 2 * TOLERANCE);
    rw_cure_path_destroy(path);
    rw_history_destroy(shifted);
  }
}

static void as_one_by_one(void **state)
{
  (void)state;
  for (unsigned seed = 0; seed < 6; seed++) {
    batch *b = random_batch(96 + seed, 11 + seed, seed % 2 == 1);
    rw_history *h = random_log(seed % 3 == 0);
    rw_draw_plan p = plan(seed % 3);
    p.start = seed == 4 ? 0.02 : 0;
    run(b, &p, h);
    compare(b, &p, h);
    rw_history_destroy(h);
    free(b);
  }
}

/* Last groups that are not full. */
static void any_number(void **state)
{
  (void)state;
  for (size_t n = 1; n < 36; n++) {
    batch *b = random_batch(n, 500 + (unsigned)n, n % 2 == 0);
    rw_history *h = random_log(0);
    rw_draw_plan p = plan(n % 4);
    run(b, &p, h);
    compare(b, &p, h);
    rw_history_destroy(h);
    free(b);
  }
}

static void assert_same(const batch *a, const batch *b, size_t n)
{
  assert_memory_equal(a->time, b->time, n * LEVELS * sizeof *a->time);
  assert_memory_equal(a->thick, b->thick, n * sizeof *a->thick);
  assert_memory_equal(a->reached, b->reached, n * sizeof *a->reached);
}

static void same_bits_with_any_threads(void **state)
{
  (void)state;
  batch *one = random_batch(MOST - 3, 7, 1), *many = random_batch(MOST - 3, 7, 1);
  rw_history *h = random_log(0);
  rw_draw_plan p = plan(0);
  run(one, &p, h);
  static const unsigned threads[] = {0, 1, 2, 3, 7, 64};
  for (size_t i = 0; i < sizeof threads / sizeof *threads; i++) {
    p.threads = threads[i];
    run(many, &p, h);
    assert_same(one, many, one->n);
  }
  rw_history_destroy(h);
  free(one);
  free(many);
}

/* A full group of sixteen does not know what comes after it. */
static void groups_stand_alone(void **state)
{
  (void)state;
  static const size_t fewer[] = {16, 32, 48, 57, 80, 112, 800};
  batch *all = random_batch(MOST, 23, 0);
  rw_history *h = random_log(0);
  rw_draw_plan p = plan(2);
  run(all, &p, h);
  for (size_t i = 0; i < sizeof fewer / sizeof *fewer; i++) {
    batch *some = random_batch(MOST, 23, 0);
    some->n = fewer[i];
    run(some, &p, h);
    assert_same(all, some, fewer[i] / 16 * 16);
    free(some);
  }
  rw_history_destroy(h);
  free(all);
}

/* Without `reached` a draw may end at its last level, with the same times. */
static void no_further_than_asked(void **state)
{
  (void)state;
  batch *all = random_batch(100, 91, 1), *some = random_batch(100, 91, 1);
  rw_history *h = random_log(1);
  rw_draw_plan p = plan(1);
  rw_error err;
  run(all, &p, h);
  assert_ok(rw_cure_draws(&p, some->draw, some->n, h, some->level, some->time, NULL, NULL, &err),
            &err);
  for (size_t i = 0; i < 100 * LEVELS; i++)
    if (all->time[i] < HUGE_VAL)
      assert_close(some->time[i], all->time[i], 0);
    else
      assert_true(some->time[i] == HUGE_VAL);
  p.levels = 0;
  assert_ok(rw_cure_draws(&p, some->draw, some->n, h, NULL, NULL, some->thick, NULL, &err), &err);
  for (size_t i = 0; i < 100; i++)
    if (all->thick[i] < HUGE_VAL)
      assert_close(some->thick[i], all->thick[i], 0);
    else
      assert_true(some->thick[i] == HUGE_VAL);
  assert_ok(rw_cure_draws(&p, some->draw, some->n, h, NULL, NULL, NULL, some->reached, &err),
            &err);
  assert_memory_equal(some->reached, all->reached, 100 * sizeof(double));
  rw_history_destroy(h);
  free(all);
  free(some);
}

/* A start above a level, or thick already: at the beginning. */
static void passed_already(void **state)
{
  (void)state;
  batch *b = random_batch(20, 3, 1);
  rw_history *h = random_log(0);
  rw_draw_plan p = plan(1);
  p.start = 0.25;
  for (size_t i = 0; i < b->n; i++) {
    b->draw[i].viscosity = 1e-6;
    b->level[i * LEVELS] = 0.1;
    b->level[i * LEVELS + 1] = 0.2;
  }
  run(b, &p, h);
  for (size_t i = 0; i < b->n; i++) {
    assert_close(b->time[i * LEVELS], p.from, 0);
    assert_close(b->time[i * LEVELS + 1], p.from, 0);
    assert_true(b->time[i * LEVELS + 5] > p.from);
    if (b->draw[i].flow != NULL)
      assert_close(b->thick[i], p.from, 0);
  }
  rw_history_destroy(h);
  free(b);
}

typedef struct listener {
  size_t calls, last, total, stop_after;
  int backward;
} listener;

static int listen(size_t done, size_t total, void *context)
{
  listener *l = context;
  l->backward |= done < l->last || done > total;
  l->calls++;
  l->last = done;
  l->total = total;
  return l->stop_after > 0 && l->calls >= l->stop_after;
}

static void tells_how_far(void **state)
{
  (void)state;
  for (unsigned threads = 0; threads <= 3; threads++) {
    batch *b = random_batch(MOST, 5, 0);
    rw_history *h = random_log(1);
    rw_draw_plan p = plan(threads);
    listener l = {0};
    p.progress = listen;
    p.context = &l;
    run(b, &p, h);
    assert_true(l.calls >= 2 && l.calls <= MOST);
    assert_int_equal(l.backward, 0);
    assert_int_equal(l.last, MOST);
    assert_int_equal(l.total, MOST);
    size_t calls = l.calls;
    l = (listener){.stop_after = 1};
    rw_error err;
    assert_status(rw_cure_draws(&p, b->draw, b->n, h, b->level, b->time, b->thick, NULL, &err),
                  RW_ERR_STOPPED, &err);
    assert_int_equal(err.code, RW_ERR_STOPPED);
    check_explained(&err, "stopped");
    assert_true(l.calls < calls && l.last < MOST);
    rw_history_destroy(h);
    free(b);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(as_one_by_one),
      cmocka_unit_test(any_number),
      cmocka_unit_test(same_bits_with_any_threads),
      cmocka_unit_test(groups_stand_alone),
      cmocka_unit_test(no_further_than_asked),
      cmocka_unit_test(passed_already),
      cmocka_unit_test(tells_how_far),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
