/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of the plans made to fail once: a clear refusal, outputs untouched, no leak. */
#include "each_fails.h"

#include <string.h>

enum { MOST_BATCHES = 20 };

static const double HOUR = 3600, DAY = 86400;

typedef struct scene scene;

/* One call with its results in a list of batches. */
typedef rw_status job(const scene *s, void *out, rw_error *err);

struct scene {
  rw_resin resin;
  rw_history *hull;
  job *call;
};

static void set_up(scene *s)
{
  needs_failing();
  static const double t[] = {0, 5 * 86400.0}, T[] = {293, 291}, humid[] = {0.5, 0.6};
  rw_error err;
  s->hull = NULL;
  assert_ok(rw_resin_find("medium-cycloaliphatic", &s->resin, &err), &err);
  assert_ok(rw_history_create(t, T, humid, 2, &s->hull, &err), &err);
}

static rw_status window(const scene *s, void *out, rw_error *err)
{
  return rw_plan_window(&s->resin, s->hull, 0, HOUR, 4 * DAY, 1, 16, 1, out, err);
}

static rw_status window_chance(const scene *s, void *out, rw_error *err)
{
  return rw_plan_window_chance(&s->resin, s->hull, 0, HOUR, 8 * HOUR, 1, 16, 1, out, err);
}

static rw_status batches(const scene *s, void *out, rw_error *err)
{
  rw_wetout w = {.resin = &s->resin,
                 .hull = s->hull,
                 .chilled = 288,
                 .area = 2,
                 .resin_per_area = 0.25,
                 .rate = {0.05 / 60, 0.01 / 60},
                 .mixing = 120,
                 .share = 0.7,
                 .most = 0.2};
  size_t n = 0;
  rw_status status = rw_vessel_cup(0.07, &w.vessel, err);
  return status == RW_OK ? rw_plan_batches(&w, out, MOST_BATCHES, &n, err) : status;
}

/* The call, which writes where it succeeds and only there. */
static rw_status written_or_not(void *given, rw_error *err)
{
  const scene *s = given;
  rw_batch out[MOST_BATCHES], before[MOST_BATCHES];
  memset(out, 7, sizeof out);
  memcpy(before, out, sizeof out);
  rw_status status = s->call(s, out, err);
  if (status < 0)
    assert_memory_equal(out, before, sizeof out);
  else
    assert_memory_not_equal(out, before, sizeof out);
  return status;
}

static void fails(job *call, long least)
{
  scene s;
  set_up(&s);
  s.call = call;
  each_fails_once(written_or_not, &s, least);
  rw_history_destroy(s.hull);
}

/* Two forecasts, each with its stream, normals and times. */
static void plan_window(void **state)
{
  (void)state;
  fails(window, 8);
}

static void plan_window_chance(void **state)
{
  (void)state;
  fails(window_chance, 4);
}

static void plan_batches(void **state)
{
  (void)state;
  fails(batches, 2);
}

/* Sums, packs, cloth and hours need none, so they work however little memory is left. */
static void the_rest_allocates_nothing(void **state)
{
  (void)state;
  static const double x[] = {0, 1, 2, 3, 4}, girth[] = {0.5, 0.9, 1.2, 0.9, 0.5};
  const rw_pack pack[2] = {{1.5, 41}, {6, 138}};
  const rw_roll roll = {1, 0.01, 6};
  const rw_value some = {3, 1}, none = {0, 0};
  scene s;
  set_up(&s);
  rw_error err;
  rw_hull *hull = NULL;
  assert_ok(rw_hull_from_girths(x, girth, 5, &hull, &err), &err);
  rw_value total;
  double q;
  rw_uptake u;
  rw_need need;
  unsigned count[2];
  rw_layout layout;
  rw_start start[3];
  size_t best;
  failing_arm(1);
  rw_status sum = rw_plan_sum(&some, 1, &total, NULL, &err);
  rw_status quantile = rw_plan_quantile(some, 0.9, &q, &err);
  rw_status uptake = rw_plan_uptake(NULL, 0, RW_BY_HAND, 1100, none, none, none, &u, &err);
  rw_status needed = rw_plan_need(some, &u, &need, &err);
  rw_status packs = rw_plan_packs(7, pack, 2, count, NULL, NULL, &err);
  rw_status cloth = rw_plan_cloth(hull, &roll, 0.05, 0.05, RW_CROSSWISE, &layout, &err);
  rw_status hours =
      rw_plan_start(&s.resin, s.hull, s.hull, 0, HOUR, 3, HOUR, 1, 3, start, &best, &err);
  long asked = failing_count();
  failing_disarm();
  assert_int_equal(sum, RW_OK);
  assert_int_equal(quantile, RW_OK);
  assert_int_equal(uptake, RW_OK);
  assert_int_equal(needed, RW_OK);
  assert_int_equal(packs, RW_OK);
  assert_int_equal(cloth, RW_OK);
  assert_int_equal(hours, RW_OK);
  assert_int_equal(asked, 0);
  rw_hull_destroy(hull);
  rw_history_destroy(s.hull);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(plan_window),
      cmocka_unit_test(plan_window_chance),
      cmocka_unit_test(plan_batches),
      cmocka_unit_test(the_rest_allocates_nothing),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
