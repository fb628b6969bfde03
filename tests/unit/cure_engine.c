/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the cure engine refuses, and how it says so. */
#include "check.h"

#include <math.h>
#include <string.h>

static const double HOUR = 3600, DAY = 86400, ZERO = 273.15;

static const rw_glass glass = {250, 360, 0.4};
static const rw_flow flow = {0.6, 45e3, 298.15, 0.58, 1.5, 1};

/* One law of each kind that nothing is wrong with. */
static rw_cure_law good(rw_law_kind kind)
{
  return (rw_cure_law){.kind = kind,
                       .k1 = 4e-6,
                       .E1 = 55e3,
                       .k2 = 1.2e-4,
                       .E2 = 52e3,
                       .m = 0.9,
                       .n = 1.7,
                       .T_ref = 298.15,
                       .C = 30,
                       .ac0 = 0.8,
                       .acT = 0.004,
                       .limit = 0.9,
                       .k3 = 3e-5,
                       .E3 = 50e3,
                       .split = 0.4,
                       .stiffening = {1e-4, 40.2, 51.6, glass}};
}

static rw_history *steady(double celsius, double from, double to)
{
  double t[2] = {from, to}, T[2] = {celsius + ZERO, celsius + ZERO};
  rw_history *h = NULL;
  rw_error err;
  assert_ok(rw_history_create(t, T, NULL, 2, &h, &err), &err);
  return h;
}

/* Refused with a sentence that names the argument, one that says more where it can. */
static void refused(const rw_cure_law *law, const char *argument)
{
  rw_error err;
  memset(&err, 0, sizeof err);
  rw_status status = rw_cure_law_check(law, &err);
  if (status >= 0)
    print_error("not refused: %s\n", argument);
  assert_true(status == RW_ERR_RANGE || status == RW_ERR_ARGUMENT);
  assert_int_equal(err.code, status);
  assert_non_null(strstr(err.argument, argument));
  check_explained(&err, argument);
  if (status == RW_ERR_RANGE)
    assert_false(err.value > err.low && err.value < err.high);
  /* Every function that takes a law refuses it as well, and leaves its output alone. */
  rw_history *h = steady(20, 0, DAY);
  rw_cure_path *path = NULL;
  double rate = 7, time = 7, level = 0.5;
  rw_cure_draw draw = {.law = *law};
  rw_draw_plan plan = {.to = DAY, .tolerance = 1e-6, .levels = 1};
  assert_status(rw_cure_run(law, h, 0, DAY, 0.01, 1e-6, &path, NULL), status, &err);
  assert_null(path);
  assert_status(rw_cure_rate(law, 0.5, 293, &rate, NULL), status, &err);
  assert_close(rate, 7, 0);
  assert_status(rw_cure_draws(&plan, &draw, 1, h, &level, &time, NULL, NULL, NULL), status, &err);
  assert_close(time, 7, 0);
  rw_history_destroy(h);
}

/* Values below, above and beyond all numbers, in one member at a time. */
static void members(rw_law_kind kind, const char *argument, size_t offset, double low, double high)
{
  const double wrong[] = {NAN, HUGE_VAL, -HUGE_VAL, low, high};
  for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
    rw_cure_law law = good(kind);
    memcpy((char *)&law + offset, &wrong[i], sizeof wrong[i]);
    refused(&law, argument);
  }
}

#define MEMBER(kind, name, low, high)                                                             \
  members(RW_LAW_##kind, #name, offsetof(rw_cure_law, name), low, high)

static void laws_refuse(void **state)
{
  (void)state;
  for (int kind = RW_LAW_NTH_ORDER; kind <= RW_LAW_TWO_STAGE; kind++) {
    rw_cure_law law = good((rw_law_kind)kind);
    rw_error err;
    assert_ok(rw_cure_law_check(&law, &err), &err);
  }
  rw_cure_law unknown = good((rw_law_kind)17);
  refused(&unknown, "kind");
  MEMBER(NTH_ORDER, k1, -1e-9, 1e300);
  MEMBER(NTH_ORDER, E1, 9.9e3, 301e3);
  MEMBER(NTH_ORDER, n, 0.1, 4.1);
  MEMBER(NTH_ORDER, T_ref, 25, 501);
  MEMBER(NTH_ORDER, C, -1, 201);
  MEMBER(NTH_ORDER, ac0, -1e9, 1e9);
  MEMBER(NTH_ORDER, acT, -1e9, 1e9);
  MEMBER(KAMAL, k1, -1e-9, 1e300);
  MEMBER(KAMAL, k2, -1e-9, 1e300);
  MEMBER(KAMAL, E1, 55, 301e3); /* kJ */
  MEMBER(KAMAL, E2, 52, 301e3);
  MEMBER(KAMAL, m, -0.1, 4.1);
  MEMBER(PLATEAU, k2, -1e-9, 1e300);
  MEMBER(PLATEAU, m, -0.1, 4.1);
  MEMBER(PLATEAU, n, 0.1, 4.1);
  MEMBER(PLATEAU, limit, 0.04, 5.1);
  MEMBER(SESTAK_BERGGREN, k1, -1e-9, 1e300);
  MEMBER(SESTAK_BERGGREN, m, -0.1, 4.1);
  MEMBER(SESTAK_BERGGREN, E1, 9.9e3, 301e3);
  MEMBER(TWO_STAGE, k1, -1e-9, 1e300);
  MEMBER(TWO_STAGE, k2, -1e300, 1e300);
  MEMBER(TWO_STAGE, k3, -1e-9, 1e300);
  MEMBER(TWO_STAGE, E3, 9.9e3, 301e3);
  MEMBER(TWO_STAGE, limit, 0.04, 5.1);
  MEMBER(TWO_STAGE, split, -0.1, 0.91);
}

static void stiffenings_refuse(void **state)
{
  (void)state;
#define STIFF(name, low, high)                                                                    \
  members(RW_LAW_KAMAL, #name, offsetof(rw_cure_law, stiffening) + offsetof(rw_stiffening, name), \
          low, high)
  STIFF(k, -1e-9, 1e300);
  STIFF(c1, -1, 101);
  STIFF(c2, 4, 501);
#define GLASS(name, low, high)                                                                    \
  members(RW_LAW_KAMAL, #name,                                                                    \
          offsetof(rw_cure_law, stiffening) + offsetof(rw_stiffening, glass) +                    \
              offsetof(rw_glass, name),                                                           \
          low, high)
  GLASS(Tg0, -20, 800);
  GLASS(Tg_inf, 240, 1e4);
  GLASS(lambda, 0, 1.1);
}

/* What a kind does not name is left alone. */
static void strangers_are_left_alone(void **state)
{
  (void)state;
  rw_error err;
  rw_cure_law law = good(RW_LAW_NTH_ORDER);
  law.k2 = law.E2 = law.m = law.limit = law.k3 = law.E3 = law.split = NAN;
  assert_ok(rw_cure_law_check(&law, &err), &err);
  law = good(RW_LAW_KAMAL);
  law.limit = law.k3 = law.E3 = law.split = NAN;
  law.stiffening = (rw_stiffening){0, NAN, NAN, {NAN, NAN, NAN}};
  assert_ok(rw_cure_law_check(&law, &err), &err);
  law = good(RW_LAW_PLATEAU);
  law.k3 = law.E3 = law.split = NAN;
  assert_ok(rw_cure_law_check(&law, &err), &err);
  law = good(RW_LAW_SESTAK_BERGGREN);
  law.k2 = law.E2 = law.limit = law.k3 = law.E3 = law.split = NAN;
  assert_ok(rw_cure_law_check(&law, &err), &err);
  law = good(RW_LAW_TWO_STAGE);
  law.m = law.n = NAN;
  law.k2 = -1e-6;
  assert_ok(rw_cure_law_check(&law, &err), &err);
  double rate = NAN;
  assert_ok(rw_cure_rate(&law, 0.2, 298.15, &rate, &err), &err);
  assert_true(rate > 0 && isfinite(rate));
}

/* An activation energy outside 30 to 200 kJ/mol is followed with a remark, one outside 10 to
 * 300 not at all. */
static void unusual_energies(void **state)
{
  (void)state;
  static const struct {
    double E;
    rw_status status;
  } rows[] = {{9.99e3, RW_ERR_RANGE},
              {10e3, RW_OUTSIDE_TESTED},
              {29.9e3, RW_OUTSIDE_TESTED},
              {30e3, RW_OK},
              {200e3, RW_OK},
              {200.1e3, RW_OUTSIDE_TESTED},
              {300e3, RW_OUTSIDE_TESTED},
              {300.1e3, RW_ERR_RANGE}};
  rw_history *h = steady(20, 0, DAY);
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    for (int which = 0; which < 2; which++) {
      rw_error err;
      rw_cure_law law = good(RW_LAW_KAMAL);
      *(which ? &law.E2 : &law.E1) = rows[i].E;
      assert_status(rw_cure_law_check(&law, &err), rows[i].status, &err);
      rw_cure_path *path = NULL;
      assert_status(rw_cure_run(&law, h, 0, DAY, 0, 1e-6, &path, &err), rows[i].status, &err);
      assert_true((path != NULL) == (rows[i].status >= 0));
      rw_cure_path_destroy(path);
      rw_cure_draw draw = {.law = law};
      rw_draw_plan plan = {.to = DAY, .tolerance = 1e-6};
      double reached = 7;
      assert_status(rw_cure_draws(&plan, &draw, 1, h, NULL, NULL, NULL, &reached, &err),
                    rows[i].status, &err);
      assert_true((reached < 1) == (rows[i].status >= 0));
    }
  rw_history_destroy(h);
}

/* Laws that have no rate, and one that cannot leave zero. */
static void laws_without_a_rate(void **state)
{
  (void)state;
  rw_error err;
  rw_history *h = steady(20, 0, DAY);
  rw_cure_path *path = NULL;
  rw_cure_law law = good(RW_LAW_NTH_ORDER);
  law.k1 = 0;
  assert_status(rw_cure_law_check(&law, &err), RW_ERR_ARGUMENT, &err);
  law = good(RW_LAW_KAMAL);
  law.k1 = law.k2 = 0;
  assert_status(rw_cure_law_check(&law, &err), RW_ERR_ARGUMENT, &err);
  law = good(RW_LAW_SESTAK_BERGGREN);
  law.k1 = 0;
  assert_status(rw_cure_law_check(&law, &err), RW_ERR_ARGUMENT, &err);
  for (int kind = RW_LAW_KAMAL; kind <= RW_LAW_SESTAK_BERGGREN; kind++) {
    law = good((rw_law_kind)kind);
    law.m = 1;
    if (kind != RW_LAW_SESTAK_BERGGREN)
      law.k1 = 0;
    assert_ok(rw_cure_law_check(&law, &err), &err);
    assert_status(rw_cure_run(&law, h, 0, DAY, 0, 1e-6, &path, &err), RW_ERR_ARGUMENT, &err);
    check_explained(&err, "never starts");
    assert_true(err.hint[0] != '\0');
    rw_cure_draw draw = {.law = law};
    rw_draw_plan plan = {.to = DAY, .tolerance = 1e-6};
    double reached = 7;
    assert_status(rw_cure_draws(&plan, &draw, 1, h, NULL, NULL, NULL, &reached, &err),
                  RW_ERR_ARGUMENT, &err);
    assert_close(reached, 7, 0);
    assert_ok(rw_cure_run(&law, h, 0, DAY, 1e-3, 1e-6, &path, &err), &err);
    rw_cure_path_destroy(path);
    path = NULL;
  }
  rw_history_destroy(h);
}

/* A history that does not cover the time says from when to when it reaches. */
static void histories_too_short(void **state)
{
  (void)state;
  rw_error err;
  rw_history *h = steady(20, 100 * HOUR, 130 * HOUR);
  rw_cure_law law = good(RW_LAW_KAMAL);
  static const double wrong[][2] = {{99, 110}, {100, 131}, {50, 60}, {140, 150}, {90, 140}};
  for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
    double from = wrong[i][0] * HOUR, to = wrong[i][1] * HOUR, age = 7, time = 7, reached = 7;
    rw_cure_path *path = NULL;
    assert_status(rw_cure_run(&law, h, from, to, 0, 1e-6, &path, &err), RW_ERR_COVERAGE, &err);
    assert_null(path);
    check_explained(&err, "from");
    assert_non_null(strstr(err.message, " to "));
    assert_close(err.low, 100 * HOUR, 0);
    assert_close(err.high, 130 * HOUR, 0);
    assert_status(rw_equivalent_age(55e3, 293.15, h, from, to, &age, &err), RW_ERR_COVERAGE, &err);
    assert_status(rw_equivalent_ages(55e3, 293.15, h, from, &to, 1, 1e-9, &age, &err),
                  RW_ERR_COVERAGE, &err);
    assert_close(age, 7, 0);
    rw_cure_draw draw = {.law = law};
    rw_draw_plan plan = {.from = from, .to = to, .tolerance = 1e-6};
    assert_status(rw_cure_draws(&plan, &draw, 1, h, NULL, NULL, NULL, &reached, &err),
                  RW_ERR_COVERAGE, &err);
    assert_close(reached, 7, 0);
    if (wrong[i][0] < 100 || wrong[i][0] > 130)
      assert_status(rw_equivalent_age_when(55e3, 293.15, h, from, 1, &time, &err), RW_ERR_COVERAGE,
                    &err);
    assert_close(time, 7, 0);
  }
  rw_history_destroy(h);
}

/* Times, starts and tolerances out of bounds, in a run and in draws. */
static void runs_and_draws_refuse(void **state)
{
  (void)state;
  static const struct {
    double from, to, start, tolerance;
    const char *argument;
  } wrong[] = {
      {5, 5, 0, 1e-6, "to"},
      {6, 5, 0, 1e-6, "to"},
      {NAN, 5, 0, 1e-6, ""},
      {0, NAN, 0, 1e-6, "to"},
      {0, HUGE_VAL, 0, 1e-6, ""},
      {-HUGE_VAL, 5, 0, 1e-6, ""},
      {0, DAY, -1e-9, 1e-6, "start"},
      {0, DAY, 1, 1e-6, "start"},
      {0, DAY, 1.5, 1e-6, "start"},
      {0, DAY, NAN, 1e-6, "start"},
      {0, DAY, 0, 0, "tolerance"},
      {0, DAY, 0, -1, "tolerance"},
      {0, DAY, 0, 0.5e-12, "tolerance"},
      {0, DAY, 0, 0.011, "tolerance"},
      {0, DAY, 0, NAN, "tolerance"},
      {0, DAY, 0, HUGE_VAL, "tolerance"},
  };
  rw_history *h = steady(20, 0, DAY);
  rw_cure_law law = good(RW_LAW_KAMAL);
  for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
    rw_error err;
    rw_cure_path *path = NULL;
    rw_status status = rw_cure_run(&law, h, wrong[i].from, wrong[i].to, wrong[i].start,
                                   wrong[i].tolerance, &path, &err);
    assert_true(status == RW_ERR_RANGE || (status == RW_ERR_COVERAGE && !*wrong[i].argument));
    assert_null(path);
    check_explained(&err, wrong[i].argument);
    double reached = 7;
    rw_cure_draw draw = {.law = law};
    rw_draw_plan plan = {.from = wrong[i].from,
                         .to = wrong[i].to,
                         .start = wrong[i].start,
                         .tolerance = wrong[i].tolerance};
    assert_status(rw_cure_draws(&plan, &draw, 1, h, NULL, NULL, NULL, &reached, &err), status,
                  &err);
    check_explained(&err, wrong[i].argument);
    assert_close(reached, 7, 0);
  }
  rw_history_destroy(h);
}

/* Levels that are no share or do not rise, too many of them, no draws, too many threads. */
static void draws_refuse(void **state)
{
  (void)state;
  rw_error err;
  rw_history *h = steady(20, 0, DAY);
  rw_cure_draw draw[2] = {{.law = good(RW_LAW_KAMAL)}, {.law = good(RW_LAW_TWO_STAGE)}};
  double time[130], reached[2] = {7, 7}, thick[2] = {7, 7};
  static const double wrong[][3] = {{0.1, 0.2, 1.01}, {-0.1, 0.2, 0.3}, {0.1, NAN, 0.3},
                                    {0.3, 0.2, 0.4},  {0.1, 0.4, 0.3},  {0.1, 0.2, HUGE_VAL}};
  rw_draw_plan plan = {.to = DAY, .tolerance = 1e-6, .levels = 3};
  for (int i = 0; i < 130; i++)
    time[i] = 7;
  for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++)
    for (int second = 0; second < 2; second++) {
      double level[6] = {0.1, 0.2, 0.3, 0.1, 0.2, 0.3};
      memcpy(level + 3 * second, wrong[i], sizeof wrong[i]);
      rw_status status = rw_cure_draws(&plan, draw, 2, h, level, time, thick, reached, &err);
      assert_true(status < 0);
      check_explained(&err, "level");
      for (int k = 0; k < 6; k++)
        assert_close(time[k], 7, 0);
      assert_close(thick[0] + thick[1] + reached[0] + reached[1], 28, 0);
    }
  double level[6] = {0.1, 0.2, 0.3, 0.1, 0.2, 0.3};
  assert_true(rw_cure_draws(&plan, draw, 0, h, level, time, thick, reached, &err) < 0);
  check_explained(&err, "n");
  plan.threads = 65;
  assert_status(rw_cure_draws(&plan, draw, 2, h, level, time, thick, reached, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "threads");
  plan.threads = 0;
  plan.levels = 65;
  assert_status(rw_cure_draws(&plan, draw, 2, h, level, time, thick, reached, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "levels");
  plan.levels = 3;
  draw[1].shift = 300; /* out of 200 to 500 K */
  assert_status(rw_cure_draws(&plan, draw, 2, h, level, time, thick, reached, &err), RW_ERR_RANGE,
                &err);
  draw[1].shift = NAN;
  assert_true(rw_cure_draws(&plan, draw, 2, h, level, time, thick, reached, &err) < 0);
  draw[1].shift = 0;
  rw_flow bad = flow;
  draw[1].flow = &bad;
  draw[1].viscosity = 0;
  assert_true(rw_cure_draws(&plan, draw, 2, h, level, time, thick, reached, &err) < 0);
  check_explained(&err, "viscosity");
  draw[1].viscosity = 10;
  bad.a_gel = 1.5;
  assert_true(rw_cure_draws(&plan, draw, 2, h, level, time, thick, reached, &err) < 0);
  check_explained(&err, "a_gel");
  assert_close(time[0] + time[5] + thick[0] + thick[1] + reached[0] + reached[1], 42, 0);
  draw[1].flow = &flow;
  assert_ok(rw_cure_draws(&plan, draw, 2, h, level, time, thick, reached, &err), &err);
  rw_history_destroy(h);
}

static void events_refuse(void **state)
{
  (void)state;
  rw_error err;
  rw_history *h = steady(20, 0, DAY);
  rw_cure_law law = good(RW_LAW_KAMAL);
  rw_cure_path *path = NULL;
  assert_ok(rw_cure_run(&law, h, 0, DAY, 0, 1e-6, &path, &err), &err);
  rw_flow bad_flow = flow;
  rw_glass bad_glass = glass;
  bad_flow.mu = -1;
  bad_glass.lambda = 2;
  const struct {
    rw_event event;
    rw_status status;
  } wrong[] = {
      {{RW_EVENT_CURE, -0.1, NULL, NULL}, RW_ERR_RANGE},
      {{RW_EVENT_CURE, 1.1, NULL, NULL}, RW_ERR_RANGE},
      {{RW_EVENT_CURE, NAN, NULL, NULL}, RW_ERR_RANGE},
      {{RW_EVENT_GLASS, 0, NULL, &flow}, RW_ERR_ARGUMENT},
      {{RW_EVENT_GLASS, NAN, &glass, NULL}, RW_ERR_RANGE},
      {{RW_EVENT_GLASS, 0, &bad_glass, NULL}, RW_ERR_RANGE},
      {{RW_EVENT_VISCOSITY, 10, &glass, NULL}, RW_ERR_ARGUMENT},
      {{RW_EVENT_VISCOSITY, 0, NULL, &flow}, RW_ERR_RANGE},
      {{RW_EVENT_VISCOSITY, -5, NULL, &flow}, RW_ERR_RANGE},
      {{RW_EVENT_VISCOSITY, NAN, NULL, &flow}, RW_ERR_RANGE},
      {{RW_EVENT_VISCOSITY, 10, NULL, &bad_flow}, RW_ERR_RANGE},
      {{(rw_event_kind)9, 0.5, &glass, &flow}, RW_ERR_ARGUMENT},
  };
  double time = 7;
  for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
    assert_status(rw_cure_event(path, &wrong[i].event, &time, &err), wrong[i].status, &err);
    check_explained(&err, "");
    assert_close(time, 7, 0);
  }
  rw_event never = {RW_EVENT_CURE, 0.999, NULL, NULL};
  assert_status(rw_cure_event(path, &never, &time, &err), RW_NOT_REACHED, &err);
  never = (rw_event){RW_EVENT_GLASS, 90, &glass, NULL};
  assert_status(rw_cure_event(path, &never, &time, &err), RW_NOT_REACHED, &err);
  assert_close(time, 7, 0);
  rw_event at_once = {RW_EVENT_VISCOSITY, 1e-3, NULL, &flow};
  assert_ok(rw_cure_event(path, &at_once, &time, &err), &err);
  assert_close(time, 0, 0);
  rw_cure_path_destroy(path);
  rw_history_destroy(h);
}

static void off_ratio_refuses(void **state)
{
  (void)state;
  rw_error err;
  rw_cure_law right = good(RW_LAW_KAMAL), made = good(RW_LAW_TWO_STAGE), before = made;
  static const double wrong[] = {0, -1, 0.049, 5.1, NAN, HUGE_VAL};
  for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
    assert_status(rw_cure_law_off_ratio(&right, wrong[i], &made, &err), RW_ERR_RANGE, &err);
    check_explained(&err, "r");
  }
  static const rw_law_kind kinds[] = {RW_LAW_PLATEAU, RW_LAW_SESTAK_BERGGREN, RW_LAW_TWO_STAGE};
  for (size_t i = 0; i < 3; i++) {
    right = good(kinds[i]);
    assert_status(rw_cure_law_off_ratio(&right, 0.9, &made, &err), RW_ERR_ARGUMENT, &err);
    check_explained(&err, "kind");
  }
  right = good(RW_LAW_KAMAL);
  right.n = NAN;
  assert_status(rw_cure_law_off_ratio(&right, 0.9, &made, &err), RW_ERR_RANGE, &err);
  assert_memory_equal(&made, &before, sizeof made);
  right = good(RW_LAW_NTH_ORDER);
  right.E1 = 210e3;
  assert_status(rw_cure_law_off_ratio(&right, 0.9, &made, &err), RW_OUTSIDE_TESTED, &err);
  assert_int_equal(made.kind, RW_LAW_PLATEAU);
  double rate = NAN, same = NAN;
  assert_status(rw_cure_rate(&made, 0, 298.15, &rate, &err), RW_OUTSIDE_TESTED, &err);
  right.n = 1.7;
  assert_status(rw_cure_rate(&right, 0, 298.15, &same, &err), RW_OUTSIDE_TESTED, &err);
  assert_close_rel(rate, same * pow(0.9, 0.85), 1e-12);
}

static void ages_refuse(void **state)
{
  (void)state;
  rw_error err;
  rw_history *h = steady(20, 0, DAY);
  double age[3] = {7, 7, 7}, time[3] = {10, 20, 30}, when = 7;
  static const double energies[] = {-1, 300.1e3, NAN, HUGE_VAL};
  for (size_t i = 0; i < 4; i++) {
    assert_status(rw_equivalent_ages(energies[i], 293, h, 0, time, 3, 1e-9, age, &err),
                  RW_ERR_RANGE, &err);
    check_explained(&err, "E");
    assert_status(rw_equivalent_age(energies[i], 293, h, 0, 9, age, &err), RW_ERR_RANGE, &err);
    assert_status(rw_equivalent_age_when(energies[i], 293, h, 0, 9, &when, &err), RW_ERR_RANGE,
                  &err);
  }
  static const double references[] = {20, 199, 501, NAN, HUGE_VAL};
  for (size_t i = 0; i < 5; i++) {
    assert_status(rw_equivalent_ages(55e3, references[i], h, 0, time, 3, 1e-9, age, &err),
                  RW_ERR_RANGE, &err);
    check_explained(&err, "T_ref");
    assert_status(rw_equivalent_age(55e3, references[i], h, 0, 9, age, &err), RW_ERR_RANGE, &err);
    assert_status(rw_equivalent_age_when(55e3, references[i], h, 0, 9, &when, &err), RW_ERR_RANGE,
                  &err);
  }
  static const double tolerances[] = {0, 0.5e-14, 2e-3, NAN};
  for (size_t i = 0; i < 4; i++) {
    assert_status(rw_equivalent_ages(55e3, 293, h, 0, time, 3, tolerances[i], age, &err),
                  RW_ERR_RANGE, &err);
    check_explained(&err, "tolerance");
  }
  static const double falling[][3] = {{10, 9, 30}, {10, NAN, 30}, {-5, 10, 20}, {10, 20, 15}};
  for (size_t i = 0; i < 4; i++)
    assert_true(rw_equivalent_ages(55e3, 293, h, 0, falling[i], 3, 1e-9, age, &err) < 0);
  assert_true(rw_equivalent_ages(55e3, 293, h, 0, time, 0, 1e-9, age, &err) < 0);
  assert_true(rw_equivalent_age_when(55e3, 293, h, 0, -1, &when, &err) < 0);
  assert_true(rw_equivalent_age_when(55e3, 293, h, 0, NAN, &when, &err) < 0);
  assert_status(rw_equivalent_age_when(55e3, 293, h, 0, 1e9, &when, &err), RW_NOT_REACHED, &err);
  for (int i = 0; i < 3; i++)
    assert_close(age[i], 7, 0);
  assert_close(when, 7, 0);
  rw_history_destroy(h);
}

/* A log the engine could not walk does not become a history. */
static void logs_refuse(void **state)
{
  (void)state;
  static const struct {
    double t[4], T[4];
    size_t n;
    rw_status status;
    const char *argument;
  } wrong[] = {
      {{0}, {293}, 1, RW_ERR_ARGUMENT, "n"},
      {{0, 2, 1, 3}, {293, 293, 293, 293}, 4, RW_ERR_ORDER, "time[3]"},
      {{0, 1, 1, 1}, {293, 293, 293, 293}, 4, RW_ERR_ORDER, "time[4]"},
      {{0, 1, NAN, 3}, {293, 293, 293, 293}, 4, RW_ERR_ARGUMENT, "time[3]"},
      {{0, 1, 2, HUGE_VAL}, {293, 293, 293, 293}, 4, RW_ERR_ARGUMENT, "time[4]"},
      {{0, 1, 2, 3}, {293, -5, 293, 293}, 4, RW_ERR_RANGE, "temperature[2]"},
      {{0, 1, 2, 3}, {293, 293, 0, 293}, 4, RW_ERR_RANGE, "temperature[3]"},
      {{0, 1, 2, 3}, {20, 21, 22, 23}, 4, RW_ERR_RANGE, "temperature[1]"},
      {{0, 1, 2, 3}, {293, 293, 293, 501}, 4, RW_ERR_RANGE, "temperature[4]"},
  };
  rw_error err;
  rw_history *h = NULL;
  for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
    assert_status(rw_history_create(wrong[i].t, wrong[i].T, NULL, wrong[i].n, &h, &err),
                  wrong[i].status, &err);
    assert_non_null(strstr(err.argument, wrong[i].argument));
    assert_null(h);
  }
}

/* Above 400 K the history is taken, with a remark, and the cure is followed there too. */
static void very_hot(void **state)
{
  (void)state;
  rw_error err;
  rw_history *h = NULL;
  rw_cure_path *path = NULL;
  rw_cure_law law = {.kind = RW_LAW_NTH_ORDER, .k1 = 1e-6, .E1 = 5e4, .n = 1, .T_ref = 298.15};
  double a = NAN;
  assert_ok(rw_history_create((double[]){0, 10}, (double[]){400, 400}, NULL, 2, &h, &err), &err);
  rw_history_destroy(h);
  assert_status(rw_history_create((double[]){0, 10}, (double[]){410, 410}, NULL, 2, &h, &err),
                RW_OUTSIDE_TESTED, &err);
  assert_ok(rw_cure_run(&law, h, 0, 10, 0, 1e-9, &path, &err), &err);
  assert_ok(rw_cure_at(path, 10, &a, NULL, NULL, &err), &err);
  double k = 1e-6 * exp(-5e4 / RW_GAS_CONSTANT * (1 / 410.0 - 1 / 298.15));
  assert_close(a, 1 - exp(-10 * k), 1e-9);
  rw_cure_path_destroy(path);
  rw_history_destroy(h);
}

/* The top of a law. */
static void tops(void **state)
{
  (void)state;
  for (int kind = RW_LAW_NTH_ORDER; kind <= RW_LAW_TWO_STAGE; kind++) {
    rw_cure_law law = good((rw_law_kind)kind);
    assert_close(rw_cure_law_top(&law), kind == RW_LAW_PLATEAU ? 0.9 : 1, 0);
    law.limit = 1.2;
    assert_close(rw_cure_law_top(&law), 1, 0);
  }
}

/* A start at or above a plateau stays where it is or is refused; it is never above 1 or below. */
static void starts_above_the_plateau(void **state)
{
  (void)state;
  rw_error err;
  double t[3] = {0, DAY / 2, DAY}, T[3] = {290, 295, 290}, time[1], reached = 7;
  rw_history *h = NULL;
  assert_ok(rw_history_create(t, T, NULL, 3, &h, &err), &err);
  rw_cure_law law = good(RW_LAW_PLATEAU);
  const double above[] = {law.limit + 1e-6, 0.95}, level = 0.97;
  for (size_t i = 0; i < 2; i++) {
    rw_cure_path *path = NULL;
    assert_status(rw_cure_run(&law, h, 0, DAY, above[i], 1e-6, &path, &err), RW_ERR_RANGE, &err);
    assert_string_equal(err.argument, "start");
    assert_null(path);
    rw_draw_plan plan = {.to = DAY, .start = above[i], .tolerance = 1e-6, .levels = 1};
    rw_cure_draw draw = {.law = law};
    assert_status(rw_cure_draws(&plan, &draw, 1, h, &level, time, NULL, &reached, &err),
                  RW_ERR_RANGE, &err);
    assert_string_equal(err.argument, "start");
  }
  assert_true(reached == 7);
  rw_history_destroy(h);
}

/* A law that is complete in a finite time gets there, and says when. */
static void the_top_is_reached(void **state)
{
  (void)state;
  rw_error err;
  rw_history *h = steady(40, 0, 30 * DAY);
  rw_cure_law law = {.kind = RW_LAW_NTH_ORDER, .k1 = 1e-4, .E1 = 5e4, .n = 0.5, .T_ref = 313.15};
  rw_cure_path *path = NULL;
  double time;
  assert_ok(rw_cure_run(&law, h, 0, 30 * DAY, 0, 1e-6, &path, &err), &err);
  assert_ok(rw_cure_when(path, 1, &time, &err), &err);
  /* (1-a)^(1/2) = 1 - k t/2; what is left below a hundredth of the tolerance is not followed. */
  assert_close_rel(time, 2 / 1e-4, 2e-4);
  rw_cure_path_destroy(path);
  rw_history_destroy(h);
}

/* Each member of a viscosity, made impossible, is refused by its name wherever one is taken. */
static void viscosities_refuse(void **state)
{
  (void)state;
  const rw_flow fine = {1, 45e3, 298.15, 0.58, 1.5, 1};
  const struct {
    const char *argument;
    rw_flow flow;
  } wrong[] = {
      {"mu", {INFINITY, 45e3, 298.15, 0.58, 1.5, 1}}, {"E", {1, NAN, 298.15, 0.58, 1.5, 1}},
      {"E", {1, 48, 298.15, 0.58, 1.5, 1}},           {"T_ref", {1, 45e3, NAN, 0.58, 1.5, 1}},
      {"a_gel", {1, 45e3, 298.15, 0, 1.5, 1}},        {"C1", {1, 45e3, 298.15, 0.58, NAN, 1}},
      {"C2", {1, 45e3, 298.15, 0.58, 1.5, INFINITY}}, {"C2", {1, 45e3, 298.15, 0.58, 1.5, -9}},
  };
  rw_error err;
  rw_history *h = steady(20, 0, DAY);
  rw_cure_law law = good(RW_LAW_KAMAL);
  rw_cure_path *path = NULL;
  double mu;
  assert_ok(rw_viscosity(&fine, 0.1, 298.15, &mu, &err), &err);
  assert_ok(rw_cure_run(&law, h, 0, DAY, 0, 1e-6, &path, &err), &err);
  for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
    const rw_flow *f = &wrong[i].flow;
    assert_status(rw_viscosity(f, 0.1, 298.15, &mu, &err), RW_ERR_RANGE, &err);
    assert_string_equal(err.argument, wrong[i].argument);
    double time = 7;
    rw_event e = {RW_EVENT_VISCOSITY, 8, NULL, f};
    assert_status(rw_cure_event(path, &e, &time, &err), RW_ERR_RANGE, &err);
    rw_draw_plan plan = {.to = DAY, .tolerance = 1e-6};
    rw_cure_draw draw = {.law = law, .flow = f, .viscosity = 8};
    assert_status(rw_cure_draws(&plan, &draw, 1, h, NULL, NULL, &time, NULL, &err), RW_ERR_RANGE,
                  &err);
    assert_true(time == 7);
  }
  rw_cure_path_destroy(path);
  rw_history_destroy(h);
}

/* A shift that takes a history out of the temperatures there are. */
static void shifts_refuse(void **state)
{
  (void)state;
  rw_error err;
  rw_history *h = steady(20, 0, DAY);
  rw_draw_plan plan = {.to = DAY, .tolerance = 1e-6};
  const double shift[] = {-99, 101, NAN, INFINITY};
  for (size_t i = 0; i < 4; i++) {
    rw_cure_draw draw = {.law = good(RW_LAW_KAMAL), .shift = shift[i]};
    double reached = 7;
    assert_status(rw_cure_draws(&plan, &draw, 1, h, NULL, NULL, NULL, &reached, &err),
                  RW_ERR_RANGE, &err);
    assert_string_equal(err.argument, "shift");
    assert_true(reached == 7);
  }
  rw_history_destroy(h);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(laws_refuse),
      cmocka_unit_test(stiffenings_refuse),
      cmocka_unit_test(strangers_are_left_alone),
      cmocka_unit_test(unusual_energies),
      cmocka_unit_test(laws_without_a_rate),
      cmocka_unit_test(histories_too_short),
      cmocka_unit_test(runs_and_draws_refuse),
      cmocka_unit_test(draws_refuse),
      cmocka_unit_test(events_refuse),
      cmocka_unit_test(off_ratio_refuses),
      cmocka_unit_test(ages_refuse),
      cmocka_unit_test(logs_refuse),
      cmocka_unit_test(very_hot),
      cmocka_unit_test(tops),
      cmocka_unit_test(starts_above_the_plateau),
      cmocka_unit_test(the_top_is_reached),
      cmocka_unit_test(viscosities_refuse),
      cmocka_unit_test(shifts_refuse),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
