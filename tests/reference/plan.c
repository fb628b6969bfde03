/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Anchors worked out beforehand from invented jobs. */
#include "check.h"

#include <math.h>

static const double HOUR = 3600, ZERO = 273.15;

static rw_hull *hull_of(double length, const double *millimetres)
{
  enum { STATIONS = 9 };
  double x[STATIONS], girth[STATIONS];
  rw_hull *h = NULL;
  rw_error err;
  for (int i = 0; i < STATIONS; i++) {
    x[i] = length * i / (STATIONS - 1);
    girth[i] = millimetres[i] / 1000;
  }
  assert_ok(rw_hull_from_girths(x, girth, STATIONS, &h, &err), &err);
  return h;
}

static rw_value area_of(const rw_hull *h)
{
  double from, to;
  rw_value area = {NAN, NAN};
  rw_error err;
  rw_hull_span(h, &from, &to);
  assert_ok(rw_hull_area(h, from, to, &area, &err), &err);
  return area;
}

static void strips(void **state)
{
  (void)state;
  check_point("plan", "reach-1.52", rw_plan_reach(1.52, 0.06, 2));
  check_point("plan", "reach-1.27", rw_plan_reach(1.27, 0.06, 3));
}

/* The widest girth of the day sailer, 3.05 m, is not reached by two strips of 1.52 m. */
static void day_sailer_strips(void **state)
{
  (void)state;
  static const double girth[] = {1100, 1950, 2550, 2900, 3050, 3000, 2800, 2500, 2200};
  rw_hull *h = hull_of(8 * 0.78, girth);
  const rw_roll roll = {1.52, 0, 9.9};
  rw_layout l;
  rw_error err;
  assert_ok(rw_plan_cloth(h, &roll, 0, 0.06, RW_LENGTHWISE, &l, &err), &err);
  check_point("plan", "sailer-strips", l.pieces);
  check_point("plan", "sailer-metres", l.length);
  check_point("plan", "sailer-cost", l.cost);
  assert_ok(rw_plan_cloth(h, &roll, 0, 0.06, RW_FILLED, &l, &err), &err);
  check_point("plan", "sailer-reach", l.reach);
  assert_true(l.filler_from < 4 * 0.78 && l.filler_to > 4 * 0.78);
  rw_hull_destroy(h);
}

static void glass_on_a_face(void **state)
{
  (void)state;
  static const double girth[] = {520, 905, 1130, 1260, 1300, 1255, 1120, 890, 500};
  rw_hull *h = hull_of(5.2, girth);
  rw_value area = area_of(h), total;
  rw_cloth glass;
  rw_error err;
  assert_ok(rw_cloth_find("glass-203-plain", &glass, &err), &err);
  rw_value item = {area.value * glass.areal_mass, area.sd * glass.areal_mass};
  assert_ok(rw_plan_sum(&item, 1, &total, NULL, &err), &err);
  check_point("plan", "canoe-glass", total.value);
  rw_hull_destroy(h);
}

/* Pure spreading of the double kayak at 33 degC, whatever the batches. */
static void spreading_time(void **state)
{
  (void)state;
  static const double girth[] = {300, 620, 860, 980, 1040, 990, 850, 600, 280};
  rw_hull *hull = hull_of(6.4, girth);
  double t[2] = {0, 48 * HOUR}, T[2] = {33 + ZERO, 33 + ZERO};
  rw_history *shop = NULL;
  rw_resin r;
  rw_error err;
  assert_ok(rw_history_create(t, T, NULL, 2, &shop, &err), &err);
  assert_ok(rw_resin_find("slow-polyetheramine", &r, &err), &err);
  rw_wetout w = {.resin = &r,
                 .hull = shop,
                 .chilled = NAN,
                 .area = area_of(hull).value,
                 .resin_per_area = 0.25,
                 .rate = {0.045 / 60, 0},
                 .mixing = 180,
                 .share = 0.7,
                 .most = HUGE_VAL};
  assert_ok(rw_vessel_tray(0.3, 0.2, &w.vessel, &err), &err);
  rw_batch b[200];
  size_t n = 0;
  assert_ok(rw_plan_batches(&w, b, 200, &n, &err), &err);
  check_point("plan", "kayak-spreading", (b[n - 1].spread - (double)n * w.mixing) / 60);
  rw_history_destroy(shop);
  rw_hull_destroy(hull);
}

/* Kits of the day sailer: every need up to 60 kg against all ways there are. */
static void kits(void **state)
{
  (void)state;
  const rw_pack pack[3] = {{1.5, 41}, {6, 138}, {30, 585}};
  for (double need = 0.1; need < 60; need += 0.7) {
    double best = HUGE_VAL, price;
    unsigned count[3];
    rw_error err;
    for (int a = 0; a <= 40; a++)
      for (int b = 0; b <= 10; b++)
        for (int c = 0; c <= 2; c++)
          if (1.5 * a + 6 * b + 30 * c >= need - 1e-9)
            best = fmin(best, 41.0 * a + 138.0 * b + 585.0 * c);
    assert_ok(rw_plan_packs(need, pack, 3, count, NULL, &price, &err), &err);
    assert_close(price, best, 1e-9);
  }
  unsigned count[3];
  double price, mass;
  rw_error err;
  assert_ok(rw_plan_packs(20, pack, 3, count, &mass, &price, &err), &err);
  check_point("plan", "kits-20kg", price);
  assert_ok(rw_plan_packs(29, pack, 3, count, &mass, &price, &err), &err);
  check_point("plan", "kits-29kg", price);
}

static void all_used(void **state)
{
  (void)state;
  check_all_points_used("plan");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(strips),
      cmocka_unit_test(day_sailer_strips),
      cmocka_unit_test(glass_on_a_face),
      cmocka_unit_test(spreading_time),
      cmocka_unit_test(kits),
      cmocka_unit_test(all_used),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
