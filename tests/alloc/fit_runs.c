/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of a fit of runs, and of the least squares under it, made to fail once. */
#include "each_fails.h"

#include <string.h>

enum { TIMES = 6 };

static const double TIME[TIMES] = {1800, 7200, 14400, 28800, 57600, 90000};
static const double CURE[2][TIMES] = {{0.02, 0.07, 0.17, 0.42, 0.74, 0.86},
                                      {0.05, 0.27, 0.57, 0.84, 0.95, 0.97}};
static const double WEIGHT[TIMES] = {1, 1, 2, 2, 1, 1};
static const rw_fit_parameter FREE[] = {RW_FIT_K1, RW_FIT_K2, RW_FIT_E2};

static const rw_run RUN[2] = {
    {.course = {.T = 298}, .time = TIME, .cure = CURE[0], .n = TIMES},
    {.course = {.T = 313}, .time = TIME, .cure = CURE[1], .weight = WEIGHT, .n = TIMES}};

static rw_runs runs(void)
{
  return (rw_runs){.run = RUN,
                   .n = 2,
                   .law = {.kind = RW_LAW_KAMAL,
                           .k1 = 6e-6,
                           .E1 = 48e3,
                           .k2 = 4e-5,
                           .E2 = 55e3,
                           .m = 0.8,
                           .n = 1.6,
                           .T_ref = 298.15},
                   .parameter = FREE,
                   .p = 3,
                   .tolerance = 1e-8};
}

/* One call with its results in a block of bytes; `fit` is one made before. */
typedef rw_status job(const rw_runs_fit *fit, void *out, rw_error *err);

static rw_status fits(const rw_runs_fit *fit, void *out, rw_error *err)
{
  (void)fit;
  rw_runs q = runs();
  double residual[2 * TIMES];
  return rw_fit_runs(&q, out, residual, err);
}

static rw_status robust(const rw_runs_fit *fit, void *out, rw_error *err)
{
  (void)fit;
  rw_runs q = runs();
  q.p = 1;
  q.robust = (rw_robust){.loss = RW_LOSS_HUBER, .scale = RW_SCALE_FIXED, .sd = 0.02};
  return rw_fit_runs(&q, out, NULL, err);
}

static rw_status limits(const rw_runs_fit *fit, void *out, rw_error *err)
{
  rw_runs q = runs();
  double *limit = out;
  q.n = q.p = 1;
  rw_runs_fit one = *fit;
  one.p = 1;
  return rw_fit_limits(&q, &one, 0, 0.9, limit, limit + 1, err);
}

static rw_status slopes(const rw_runs_fit *fit, void *out, rw_error *err)
{
  double *cure = out;
  return rw_fit_slopes(&fit->law, &RUN[0].course, FREE, 3, TIME, 2, 1e-8, cure, cure + 2, err);
}

static rw_status ahead(const rw_runs_fit *fit, void *out, rw_error *err)
{
  return rw_fit_cure(fit, &RUN[1].course, TIME, 2, out, err);
}

static rw_status when(const rw_runs_fit *fit, void *out, rw_error *err)
{
  return rw_fit_when(fit, &RUN[1].course, 90000, 0.5, out, err);
}

typedef struct scene {
  rw_runs_fit fit;
  job *call;
} scene;

/* The call, which writes nothing where it fails. */
static rw_status untouched(void *given, rw_error *err)
{
  const scene *s = given;
  unsigned char out[sizeof(rw_runs_fit)], before[sizeof out];
  memset(out, 7, sizeof out);
  memcpy(before, out, sizeof out);
  rw_status status = s->call(&s->fit, out, err);
  if (status < 0)
    assert_memory_equal(out, before, sizeof out);
  return status;
}

static void fails(job *call)
{
  needs_failing();
  scene s = {.call = call};
  rw_error err;
  assert_ok(fits(NULL, &s.fit, &err), &err);
  each_fails_once(untouched, &s, 2);
}

#define FAILS(name)                                                                               \
  static void name##_fails(void **state)                                                          \
  {                                                                                               \
    (void)state;                                                                                  \
    fails(name);                                                                                  \
  }
FAILS(fits)
FAILS(robust)
FAILS(limits)
FAILS(slopes)
FAILS(ahead)
FAILS(when)

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(fits_fails),   cmocka_unit_test(robust_fails),
      cmocka_unit_test(limits_fails), cmocka_unit_test(slopes_fails),
      cmocka_unit_test(ahead_fails),  cmocka_unit_test(when_fails),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
