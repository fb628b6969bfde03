/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sets of stacks: order, loads, refusals. */
#include "shop.h"

static void order_of_stacks(void **state)
{
  (void)state;
  shop s;
  rw_error err;
  set_up(&s);
  rw_sweep *w = make(&s);
  assert_int_equal(rw_sweep_count(w), (4 + 16) * 2);
  rw_ply ply[RW_SWEEP_PLIES];
  size_t n;
  /* 4 + 9 is 1 + 4 x 2: the second kind's first angle outside, the first one's second beneath. */
  assert_ok(rw_sweep_stack(w, 20 + 4 + 9, ply, NULL, &n, &err), &err);
  assert_int_equal(n, 4);
  assert_true(ply[0].thickness == 3e-4 && ply[0].angle == 0);
  assert_true(ply[1].thickness == 2e-4 && ply[1].angle == pi / 4);
  assert_true(ply[2].thickness == 6e-3 && ply[2].material.E1 == wood.E1);
  assert_true(ply[3].thickness == 2e-4 && ply[3].angle == 0);
  rw_sweep_destroy(w);
  s.set.symmetric = 1;
  w = make(&s);
  assert_int_equal(rw_sweep_count(w), 4 + 16);
  assert_ok(rw_sweep_stack(w, 4 + 9, ply, NULL, &n, &err), &err);
  assert_int_equal(n, 5);
  assert_memory_equal(&ply[3], &ply[1], sizeof ply[1]);
  assert_memory_equal(&ply[4], &ply[0], sizeof ply[0]);
  rw_sweep_destroy(w);
  assert_int_equal(rw_sweep_count(NULL), 0);
  rw_sweep_destroy(NULL);
}

static void cloth_alone_and_wood_alone(void **state)
{
  (void)state;
  shop s;
  rw_error err;
  rw_ply ply[RW_SWEEP_PLIES];
  size_t n;
  set_up(&s);
  s.set.cores = 0;
  rw_sweep *w = make(&s);
  assert_ok(rw_sweep_stack(w, 0, ply, NULL, &n, &err), &err);
  assert_int_equal(n, 1);
  rw_sweep_destroy(w);
  set_up(&s);
  s.set.outer = s.set.inner = (rw_sweep_face){.most = 0};
  w = make(&s);
  assert_int_equal(rw_sweep_count(w), 1);
  assert_ok(rw_sweep_stack(w, 0, ply, NULL, &n, &err), &err);
  assert_true(n == 1 && ply[0].thickness == 6e-3);
  rw_sweep_destroy(w);
}

static void usual_loads(void **state)
{
  (void)state;
  rw_error err;
  double load[6];
  assert_ok(rw_sweep_load(RW_CASE_HIT, load, &err), &err);
  assert_true(load[3] == 1 && load[4] == 1 && load[5] == 0 && load[0] == 0);
  assert_ok(rw_sweep_load(RW_CASE_BENDING_ACROSS, load, &err), &err);
  assert_true(load[3] == 0 && load[4] == 1);
  assert_ok(rw_sweep_load(RW_CASE_TENSION_ALONG, load, &err), &err);
  assert_true(load[0] == 1 && load[3] == 0);
  assert_ok(rw_sweep_load(RW_CASE_HEEL, load, &err), &err);
  assert_true(load[3] == -1 && load[4] == -1 && load[0] == 0);
  assert_status(rw_sweep_load((rw_sweep_case)9, load, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "which");
  assert_status(rw_sweep_load(RW_CASE_HIT, NULL, &err), RW_ERR_ARGUMENT, &err);
}

/* The inner skin is pulled: where only it has a strength, and only in tension, it fails sooner the
 * weaker it is in tension. */
static void hit_pulls_the_inner_skin(void **state)
{
  (void)state;
  shop s;
  rw_error err;
  double factor[2];
  set_up(&s);
  s.plank.material.Xt = 0;
  rw_sweep_ply inner = s.cloth[0];
  s.cloth[0].material.Xt = s.cloth[1].material.Xt = 0;
  s.set.inner.ply = &inner;
  s.set.inner.least = 1;
  for (size_t i = 0; i < 2; i++) {
    double *value[RW_MEASURES] = {0};
    value[RW_MEASURE_FACTOR] = &factor[i];
    rw_sweep *w = make(&s);
    rw_sweep_plan p = {.n = 1};
    assert_ok(rw_sweep_run(w, &p, value, NULL, &err), &err);
    rw_sweep_destroy(w);
    inner.material.Xt /= 2;
    inner.material.Yt /= 2;
  }
  assert_true(factor[1] < 0.7 * factor[0]);
}

static void never_fails_without_strength(void **state)
{
  (void)state;
  shop s;
  rw_error err;
  double factor[10], *value[RW_MEASURES] = {0};
  set_up(&s);
  s.plank.material.Xt = 0;
  s.set.outer.least = 0;
  s.set.outer.most = 1;
  value[RW_MEASURE_FACTOR] = factor;
  rw_sweep *w = make(&s);
  rw_sweep_plan p = {.n = rw_sweep_count(w)};
  assert_int_equal(p.n, 10);
  assert_ok(rw_sweep_run(w, &p, value, NULL, &err), &err);
  assert_true(factor[0] == HUGE_VAL && factor[1] < HUGE_VAL);
  rw_sweep_destroy(w);
}

/* A skin as thin as smoke on one side of a wood as soft as air: it bends about itself, and hardly
 * a digit of that is left beside its distance from the middle. */
static void without_an_answer(void **state)
{
  (void)state;
  static const double thickness[] = {1e-10, 4e-9};
  for (size_t t = 0; t < 2; t++) {
    shop s;
    rw_error err;
    double factor[10], EIx[10], mass[10], *value[RW_MEASURES] = {0};
    set_up(&s);
    s.plank.material.E1 = s.plank.material.E2 = s.plank.material.G12 = 1e-25;
    s.cloth[0].thickness = s.cloth[1].thickness = thickness[t];
    s.cloth[0].resin = s.cloth[1].resin = 0;
    s.set.outer.least = 0;
    s.set.outer.most = 1;
    value[RW_MEASURE_FACTOR] = factor;
    value[RW_MEASURE_EIX] = EIx;
    value[RW_MEASURE_MASS] = mass;
    rw_sweep *w = make(&s);
    rw_sweep_plan p = {.n = 10};
    assert_int_equal(rw_sweep_count(w), p.n);
    size_t done = 0;
    assert_status(rw_sweep_run(w, &p, value, &done, &err), RW_ERR_NUMERIC, &err);
    assert_string_equal(err.argument, "number");
    assert_int_equal(done, p.n);
    assert_true(err.value == 1 && isnan(factor[1]) && isnan(EIx[1]) && mass[1] > 0);
    assert_true(EIx[0] > 0 && factor[0] > 0); /* the wood alone is soft, but sound */
    value[RW_MEASURE_FACTOR] = value[RW_MEASURE_EIX] = NULL;
    assert_ok(rw_sweep_run(w, &p, value, NULL, &err), &err); /* nobody asked for it */
    rw_sweep_destroy(w);
  }
}

static void refused(const shop *s, rw_status wanted, const char *argument)
{
  rw_error err = {0};
  rw_sweep *out = (rw_sweep *)&err; /* must stay */
  assert_status(rw_sweep_create(&s->set, &out, &err), wanted, &err);
  assert_string_equal(err.argument, argument);
  assert_string_equal(err.function, "rw_sweep_create");
  assert_true(err.hint[0] != '\0' && err.message[0] != '\0');
  assert_ptr_equal(out, &err);
  assert_status(rw_sweep_create(&s->set, &out, NULL), wanted, NULL);
}

#define REFUSED(change, status, argument)                                                         \
  do {                                                                                            \
    set_up(&s);                                                                                   \
    change;                                                                                       \
    refused(&s, status, argument);                                                                \
  } while (0)

static void wrong_sets(void **state)
{
  (void)state;
  shop s;
  REFUSED(s.cloth[1].thickness = 0, RW_ERR_RANGE, "outer.ply[2].thickness");
  REFUSED(s.plank.thickness = -1, RW_ERR_RANGE, "core[1].ply[1].thickness");
  REFUSED(s.cloth[0].material.E1 = NAN, RW_ERR_RANGE, "outer.ply[1].E1");
  REFUSED(s.cloth[0].material.Yc = 0, RW_ERR_RANGE, "outer.ply[1].Yc");
  REFUSED(s.cloth[0].areal_mass = -1, RW_ERR_RANGE, "outer.ply[1].areal_mass");
  REFUSED(s.cloth[0].resin = 0.33, RW_ERR_RANGE, "outer.ply[1].resin");
  REFUSED(s.cloth[0].cost = NAN, RW_ERR_RANGE, "outer.ply[1].cost");
  REFUSED(s.angle[1] = 45, RW_ERR_RANGE, "outer.angle[2]");
  REFUSED(s.grain = NAN, RW_ERR_RANGE, "core[1].angle[1]");
  REFUSED(s.set.outer.most = 17, RW_ERR_RANGE, "outer.most");
  REFUSED(s.set.inner.least = 2, RW_ERR_RANGE, "inner.least");
  REFUSED(s.set.outer.plies = 0, RW_ERR_RANGE, "outer.plies");
  REFUSED(s.set.inner.angles = 0, RW_ERR_RANGE, "inner.angles");
  REFUSED(s.set.outer.ply = NULL, RW_ERR_ARGUMENT, "outer.ply");
  REFUSED(s.set.inner.angle = NULL, RW_ERR_ARGUMENT, "inner.angle");
  REFUSED(s.core.plies = 0, RW_ERR_RANGE, "core[1].plies");
  REFUSED(s.core.angle = NULL, RW_ERR_ARGUMENT, "core[1].angle");
  REFUSED(s.set.core = NULL, RW_ERR_ARGUMENT, "core");
  REFUSED(s.set.cores = 33, RW_ERR_RANGE, "cores");
  REFUSED((s.set.cores = 0, s.set.outer.least = 0), RW_ERR_ARGUMENT, "cores");
  REFUSED(s.set.outer = s.set.inner = ((rw_sweep_face){s.cloth, 2, s.angle, 2, 0, 14}),
          RW_ERR_RANGE, "count");
  REFUSED(s.set.loads = 17, RW_ERR_RANGE, "loads");
  REFUSED(s.set.load[0][2] = NAN, RW_ERR_RANGE, "load Nxy");
  REFUSED(s.set.among[0] = 8, RW_ERR_RANGE, "among[1]");
  REFUSED(s.core.outer = 2, RW_ERR_RANGE, "core[1].outer");
  REFUSED((s.core.outer = 1, s.core.inner = 1), RW_ERR_RANGE, "core[1].inner");
  REFUSED(memset(s.set.load, 0, sizeof s.set.load), RW_ERR_ARGUMENT, "load");
  REFUSED((s.plank.material.Xt = s.cloth[0].material.Xt = s.cloth[1].material.Xt = 0),
          RW_ERR_ARGUMENT, "loads");
  rw_error err;
  rw_sweep *out;
  set_up(&s);
  assert_status(rw_sweep_create(NULL, &out, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_sweep_create(&s.set, NULL, &err), RW_ERR_ARGUMENT, &err);
}

/* 4^16 x 2^16 x 32 is 2^53 to the last one. */
static void as_many_as_can_be_counted(void **state)
{
  (void)state;
  shop s;
  rw_error err;
  rw_ply ply[RW_SWEEP_PLIES];
  rw_sweep_core core[32];
  size_t n;
  set_up(&s);
  for (size_t i = 0; i < 32; i++)
    core[i] = s.core;
  s.set.core = core;
  s.set.cores = 32;
  s.set.outer = (rw_sweep_face){s.cloth, 2, s.angle, 2, 16, 16};
  s.set.inner = (rw_sweep_face){s.cloth, 2, s.angle, 1, 16, 16};
  rw_sweep *w = make(&s);
  uint64_t count = rw_sweep_count(w);
  assert_true(count == (uint64_t)1 << 53);
  assert_ok(rw_sweep_stack(w, count - 1, ply, NULL, &n, &err), &err);
  assert_int_equal(n, 33);
  for (size_t i = 0; i < n; i++)
    assert_true(ply[i].thickness == (i == 16 ? 6e-3 : 3e-4));
  assert_status(rw_sweep_stack(w, count, ply, NULL, &n, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "number");
  rw_sweep_destroy(w);
  s.set.cores = 1;
  s.set.inner = (rw_sweep_face){s.cloth, 2, s.angle, 2, 11, 11};
  refused(&s, RW_ERR_RANGE, "count"); /* 2^54 */
}

/* One face of more ways than a short number holds. */
static void long_numbers(void **state)
{
  (void)state;
  shop s;
  rw_error err;
  rw_ply ply[RW_SWEEP_PLIES];
  const double angle[3] = {0, 0.5, 1};
  size_t n;
  set_up(&s);
  s.set.outer = (rw_sweep_face){s.cloth, 2, angle, 3, 16, 16};
  s.set.inner.most = 0;
  rw_sweep *w = make(&s);
  uint64_t number = 0;
  for (size_t i = 0; i < 16; i++) /* the outermost first */
    number = 6 * number + i * i % 6;
  assert_ok(rw_sweep_stack(w, number, ply, NULL, &n, &err), &err);
  assert_int_equal(n, 17);
  for (size_t i = 0; i < 16; i++) {
    assert_true(ply[i].angle == angle[i * i % 3]);
    assert_true(ply[i].thickness == s.cloth[i * i % 6 / 3].thickness);
  }
  rw_sweep_destroy(w);
}

static void wrong_runs(void **state)
{
  (void)state;
  shop s;
  rw_error err;
  double factor[40], *value[RW_MEASURES] = {0};
  const uint64_t number[2] = {0, 40};
  set_up(&s);
  rw_sweep *w = make(&s);
  value[RW_MEASURE_FACTOR] = factor;
  factor[0] = -7;
  const struct {
    rw_sweep_plan plan;
    const char *argument;
  } wrong[] = {{{.n = 0}, "n"},
               {{.n = 41}, "n"},
               {{.first = 39, .n = 2}, "n"},
               {{.first = 40, .n = 1}, "first"},
               {{.first = UINT64_MAX, .n = 1}, "first"},
               {{.n = 2, .number = number}, "number"},
               {{.n = 1, .threads = 65}, "threads"}};
  for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
    assert_status(rw_sweep_run(w, &wrong[i].plan, value, NULL, &err), RW_ERR_RANGE, &err);
    assert_string_equal(err.argument, wrong[i].argument);
    assert_true(factor[0] == -7);
  }
  rw_sweep_plan p = {.n = 1};
  value[RW_MEASURE_FACTOR + 1] = factor;
  assert_status(rw_sweep_run(w, &p, value, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "value");
  assert_status(rw_sweep_run(NULL, &p, value, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_sweep_run(w, NULL, value, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_sweep_run(w, &p, NULL, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_sweep_stack(NULL, 0, NULL, NULL, NULL, &err), RW_ERR_ARGUMENT, &err);
  rw_sweep_destroy(w);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(order_of_stacks),
      cmocka_unit_test(cloth_alone_and_wood_alone),
      cmocka_unit_test(usual_loads),
      cmocka_unit_test(hit_pulls_the_inner_skin),
      cmocka_unit_test(never_fails_without_strength),
      cmocka_unit_test(without_an_answer),
      cmocka_unit_test(wrong_sets),
      cmocka_unit_test(as_many_as_can_be_counted),
      cmocka_unit_test(long_numbers),
      cmocka_unit_test(wrong_runs),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
