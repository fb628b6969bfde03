/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Values worked out by hand from invented round numbers, and refusals. */
#include "check.h"

#include <math.h>
#include <string.h>

static const double HOUR = 3600, DAY = 86400, ZERO = 273.15;

static rw_resin resin(const char *name)
{
  rw_resin r;
  rw_error err;
  assert_ok(rw_resin_find(name, &r, &err), &err);
  return r;
}

static rw_history *history(const double *t, const double *celsius, const double *humidity,
                           size_t n)
{
  enum { MOST = 16 };
  double T[MOST];
  rw_history *h = NULL;
  rw_error err;
  assert_true(n <= MOST);
  for (size_t i = 0; i < n; i++)
    T[i] = celsius[i] + ZERO;
  assert_ok(rw_history_create(t, T, humidity, n, &h, &err), &err);
  return h;
}

static rw_history *steady(double celsius, double span)
{
  double t[2] = {0, span}, T[2] = {celsius, celsius};
  return history(t, T, NULL, 2);
}

static rw_hull *prism(double length, double girth)
{
  double x[5], g[5];
  rw_hull *h = NULL;
  rw_error err;
  for (int i = 0; i < 5; i++) {
    x[i] = length * i / 4;
    g[i] = girth;
  }
  assert_ok(rw_hull_from_girths(x, g, 5, &h, &err), &err);
  return h;
}

static void sums(void **state)
{
  (void)state;
  rw_error err;
  rw_value item[3] = {{2, 0.3}, {3, 0.4}, {-1, 0}}, total = {7, 7};
  size_t because = 7;
  assert_ok(rw_plan_sum(item, 3, &total, &because, &err), &err);
  assert_close(total.value, 4, 1e-15);
  assert_close(total.sd, 0.5, 1e-15);
  assert_int_equal(because, 1);
  assert_ok(rw_plan_sum(item, 1, &total, NULL, &err), &err);
  assert_close(total.sd, 0.3, 1e-15);
  assert_status(rw_plan_sum(item, 0, &total, NULL, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "nothing");
  item[1].sd = -1;
  assert_status(rw_plan_sum(item, 3, &total, NULL, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "item[2]");
  item[1] = (rw_value){NAN, 0};
  assert_status(rw_plan_sum(item, 3, &total, NULL, &err), RW_ERR_RANGE, &err);
  assert_close(total.value, 2, 0);
}

static void quantiles(void **state)
{
  (void)state;
  rw_error err;
  double q = 7;
  assert_ok(rw_plan_quantile((rw_value){10, 0}, 0.99, &q, &err), &err);
  assert_close(q, 10, 1e-12);
  /* mean 10, sd 2: the logarithm has variance ln 1.04, and the median is 10/sqrt(1.04). */
  assert_ok(rw_plan_quantile((rw_value){10, 2}, 0.5, &q, &err), &err);
  assert_close(q, 10 / sqrt(1.04), 1e-12);
  assert_ok(rw_plan_quantile((rw_value){10, 2}, 0.95, &q, &err), &err);
  assert_close(log(q * sqrt(1.04) / 10) / sqrt(log(1.04)), 1.6448536269514722, 1e-12);
}

static void quantiles_refuse(void **state)
{
  (void)state;
  rw_error err;
  double q = 7;
  const rw_value ten = {10, 2};
  for (int i = 0; i < 2; i++) {
    assert_status(rw_plan_quantile(ten, i, &q, &err), RW_ERR_RANGE, &err);
    check_explained(&err, i == 0 ? "p is 0" : "p is 1");
    assert_non_null(strstr(err.hint, "0.95"));
  }
  assert_status(rw_plan_quantile(ten, 95, &q, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "found 95");
  assert_status(rw_plan_quantile(ten, NAN, &q, &err), RW_ERR_RANGE, &err);
  assert_status(rw_plan_quantile((rw_value){0, 0}, 0.5, &q, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "above 0");
  assert_status(rw_plan_quantile((rw_value){-1, 0}, 0.5, &q, &err), RW_ERR_RANGE, &err);
  assert_status(rw_plan_quantile((rw_value){1, 101}, 0.5, &q, &err), RW_ERR_RANGE, &err);
  assert_status(rw_plan_quantile((rw_value){1, INFINITY}, 0.5, &q, NULL), RW_ERR_RANGE, &err);
  assert_close(q, 7, 0);
}

static const rw_value AREA = {10, 0.5};
static const rw_uptake UPTAKE = {
    .soak = {0.06, 0.01}, .cloth = {0.2, 0.02}, .fill = {0.1, 0.03}, .waste = {0.2, 0.05}};

static void needs(void **state)
{
  (void)state;
  rw_error err;
  rw_need n;
  assert_ok(rw_plan_need(AREA, &UPTAKE, &n, &err), &err);
  assert_close(n.term[RW_TERM_SOAK].value, 0.6, 1e-14);
  assert_close(n.term[RW_TERM_SOAK].sd, hypot(0.1, 0.03), 1e-14);
  assert_close(n.term[RW_TERM_CLOTH].value, 2.0, 1e-14);
  assert_close(n.term[RW_TERM_CLOTH].sd, hypot(0.2, 0.1), 1e-14);
  assert_close(n.term[RW_TERM_FILL].value, 1.0, 1e-14);
  assert_close(n.term[RW_TERM_FILL].sd, hypot(0.3, 0.05), 1e-14);
  assert_close(n.on_hull.value, 3.6, 1e-14);
  assert_close(n.on_hull.sd, sqrt(0.01 + 0.04 + 0.09 + 0.18 * 0.18), 1e-14);
  assert_close(n.total.value, 4.5, 1e-14);
  assert_close(n.total.sd, hypot(n.on_hull.sd / 0.8, 3.6 / 0.64 * 0.05), 1e-14);
  assert_close(n.term[RW_TERM_WASTE].value, 0.9, 1e-14);
  assert_close(n.term[RW_TERM_WASTE].sd, hypot(n.on_hull.sd * 0.25, 0.28125), 1e-14);
  assert_int_equal(n.because, RW_TERM_FILL);
}

/* The total is the area times what rw_uptake_mixed says per area. */
static void need_agrees_per_area(void **state)
{
  (void)state;
  rw_error err;
  rw_need n;
  rw_value mixed;
  assert_ok(rw_uptake_mixed(&UPTAKE, &mixed, &err), &err);
  assert_ok(rw_plan_need((rw_value){10, 0}, &UPTAKE, &n, &err), &err);
  assert_close(n.total.value, 10 * mixed.value, 1e-13);
  assert_close(n.total.sd, 10 * mixed.sd, 1e-13);
}

static void need_names_the_largest(void **state)
{
  (void)state;
  rw_error err;
  rw_need n;
  rw_uptake u = UPTAKE;
  u.waste.sd = 0.08; /* 3.6/0.64 0.08 = 0.45 against 0.3/0.8 = 0.375 */
  assert_ok(rw_plan_need(AREA, &u, &n, &err), &err);
  assert_int_equal(n.because, RW_TERM_WASTE);
  assert_ok(rw_plan_need((rw_value){10, 1.1}, &u, &n, &err), &err); /* 1.1 0.45 = 0.495 */
  assert_int_equal(n.because, RW_TERMS);
  u.soak.sd = 0.05; /* 0.5/0.8 = 0.625 */
  assert_ok(rw_plan_need((rw_value){10, 1.1}, &u, &n, &err), &err);
  assert_int_equal(n.because, RW_TERM_SOAK);
  assert_status(rw_plan_need((rw_value){-1, 0}, &u, &n, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "area");
  u.waste.value = 0.95;
  assert_status(rw_plan_need(AREA, &u, &n, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "waste");
}

/* 200 g/m2 at half the density of resin times 2.5: all numbers round. */
static const rw_cloth CLOTH = {.areal_mass = 0.2,
                               .fibre_density = 2500,
                               .weave = RW_PLAIN,
                               .crown = 3e-4,
                               .hand = {0.4, 0.04},
                               .bagged = {0.5, 0.02}};
static const rw_value SOAK = {0.06, 0.01}, COVER = {2e-4, 5e-5}, WASTE = {0.2, 0.05};

static void uptakes(void **state)
{
  (void)state;
  rw_error err;
  rw_uptake u;
  rw_cloth layer[2] = {CLOTH, CLOTH};
  layer[1].crown = 9e-4; /* inside: its weave is not filled */
  assert_ok(rw_plan_uptake(layer, 2, RW_BY_HAND, 1000, SOAK, COVER, WASTE, &u, &err), &err);
  assert_close(u.cloth.value, 2 * 0.12, 1e-14);
  assert_close(u.cloth.sd, 2 * 0.02, 1e-14);
  assert_close(u.fill.value, 1000 * (1e-4 + 2e-4), 1e-14);
  assert_close(u.fill.sd, 1000 * sqrt(5e-5 * 5e-5 + 2.5e-5 * 2.5e-5 + 2e-5 * 2e-5), 1e-14);
  assert_close(u.soak.value, 0.06, 0);
  assert_close(u.waste.sd, 0.05, 0);
  assert_ok(rw_plan_uptake(layer, 2, RW_BAGGED, 1000, SOAK, COVER, WASTE, &u, &err), &err);
  assert_close(u.cloth.value, 2 * 0.08, 1e-14);
  assert_close(u.fill.value, 1000 * (3e-4 - 1.6e-4 + 2e-4), 1e-14);
  assert_ok(rw_plan_uptake(NULL, 0, RW_BY_HAND, 1000, SOAK, COVER, WASTE, &u, &err), &err);
  assert_close(u.cloth.value, 0, 0);
  assert_close(u.cloth.sd, 0, 0);
  assert_close(u.fill.value, 0.2, 1e-15);
  assert_close(u.fill.sd, 0.05, 1e-15);
}

static void uptakes_refuse(void **state)
{
  (void)state;
  rw_error err;
  rw_uptake u = {.soak = {7, 7}};
  rw_cloth layer[2] = {CLOTH, CLOTH};
  layer[1].hand.value = 0.9;
  assert_status(rw_plan_uptake(layer, 2, RW_BY_HAND, 1000, SOAK, COVER, WASTE, &u, &err),
                RW_ERR_RANGE, &err);
  check_explained(&err, "layer 2");
  assert_status(rw_plan_uptake(NULL, 1, RW_BY_HAND, 1000, SOAK, COVER, WASTE, &u, &err),
                RW_ERR_ARGUMENT, &err);
  check_explained(&err, "layer");
  assert_status(rw_plan_uptake(layer, 1, (rw_layup)7, 1000, SOAK, COVER, WASTE, &u, &err),
                RW_ERR_ARGUMENT, &err);
  check_explained(&err, "layup");
  assert_status(rw_plan_uptake(NULL, 0, RW_BY_HAND, 1.1, SOAK, COVER, WASTE, &u, &err),
                RW_ERR_RANGE, &err);
  check_explained(&err, "resin_density");
  assert_status(
      rw_plan_uptake(NULL, 0, RW_BY_HAND, 1000, SOAK, (rw_value){0.2, 0}, WASTE, &u, &err),
      RW_ERR_RANGE, &err);
  check_explained(&err, "cover");
  assert_status(
      rw_plan_uptake(NULL, 0, RW_BY_HAND, 1000, (rw_value){-1, 0}, COVER, WASTE, &u, &err),
      RW_ERR_RANGE, &err);
  check_explained(&err, "soak");
  assert_status(
      rw_plan_uptake(NULL, 0, RW_BY_HAND, 1000, SOAK, COVER, (rw_value){15, 0}, &u, NULL),
      RW_ERR_RANGE, &err);
  assert_close(u.soak.value, 7, 0);
}

/* 5 m2 at 0.04 m2/min: 125 min; 3 % of area and 4 % of rate make 5 %. */
static void spreading(void **state)
{
  (void)state;
  rw_error err;
  rw_value t = {7, 7};
  const rw_value area = {5, 0.15}, rate = {0.04 / 60, 0.0016 / 60};
  assert_ok(rw_plan_spreading(area, rate, &t, &err), &err);
  assert_close(t.value, 125 * 60, 1e-9);
  assert_close(t.sd, 0.05 * 125 * 60, 1e-9);
  assert_ok(rw_plan_spreading((rw_value){0, 0}, rate, &t, &err), &err);
  assert_close(t.value, 0, 0);
  assert_status(rw_plan_spreading(area, (rw_value){0, 0}, &t, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "rate is 0 and must be above 0");
  assert_status(rw_plan_spreading(area, (rw_value){1, -1}, &t, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "rate");
  assert_status(rw_plan_spreading((rw_value){-5, 0}, rate, &t, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "area");
  assert_status(rw_plan_spreading((rw_value){NAN, 0}, rate, &t, NULL), RW_ERR_RANGE, &err);
  assert_close(t.value, 0, 0);
}

static void packs(void **state)
{
  (void)state;
  rw_error err;
  const rw_pack pack[3] = {{1.5, 41}, {6, 138}, {30, 585}};
  unsigned count[3];
  double mass, price;
  /* 7 kg: 6 + 1.5 for 179; five small ones 205; two middle ones 276. */
  assert_ok(rw_plan_packs(7, pack, 3, count, &mass, &price, &err), &err);
  assert_int_equal(count[0], 1);
  assert_int_equal(count[1], 1);
  assert_int_equal(count[2], 0);
  assert_close(mass, 7.5, 1e-12);
  assert_close(price, 179, 1e-12);
  /* An exact fit is enough, also where thirds do not add up in binary. */
  assert_ok(rw_plan_packs(12, pack, 3, count, &mass, &price, &err), &err);
  assert_close(price, 276, 1e-12);
  const rw_pack tenth = {0.1, 1};
  assert_ok(rw_plan_packs(0.3, &tenth, 1, count, NULL, NULL, &err), &err);
  assert_int_equal(count[0], 3);
  assert_ok(rw_plan_packs(0, pack, 3, count, &mass, &price, &err), &err);
  assert_int_equal(count[0] + count[1] + count[2], 0);
  assert_close(price, 0, 0);
  /* Equal prices: the one that leaves less. */
  const rw_pack same[2] = {{3, 30}, {2, 30}};
  assert_ok(rw_plan_packs(1.5, same, 2, count, &mass, &price, &err), &err);
  assert_int_equal(count[1], 1);
  assert_close(mass, 2, 0);
  const rw_pack gift[2] = {{3, 30}, {2, 0}};
  assert_ok(rw_plan_packs(7, gift, 2, count, &mass, &price, &err), &err);
  assert_int_equal(count[1], 4);
  assert_close(price, 0, 0);
}

static void packs_refuse(void **state)
{
  (void)state;
  rw_error err;
  unsigned count[13] = {7};
  rw_pack pack[13] = {{1, 1}, {6, 5}};
  assert_status(rw_plan_packs(1, pack, 0, count, NULL, NULL, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "found 0");
  assert_status(rw_plan_packs(1, pack, 13, count, NULL, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_plan_packs(-1, pack, 2, count, NULL, NULL, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "need");
  assert_status(rw_plan_packs(NAN, pack, 2, count, NULL, NULL, &err), RW_ERR_RANGE, &err);
  assert_status(rw_plan_packs(2001, pack, 2, count, NULL, NULL, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "pack[1].mass");
  pack[1].mass = 0;
  assert_status(rw_plan_packs(1, pack, 2, count, NULL, NULL, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "pack[2].mass is 0 and must be above 0");
  pack[1] = (rw_pack){1, -1};
  assert_status(rw_plan_packs(1, pack, 2, count, NULL, NULL, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "pack[2].price");
  pack[1] = (rw_pack){1, INFINITY};
  assert_status(rw_plan_packs(1, pack, 2, count, NULL, NULL, NULL), RW_ERR_RANGE, &err);
  assert_int_equal(count[0], 7);
}

/* Many kinds that hardly differ: the search gives up rather than run for ever. */
static void packs_give_up(void **state)
{
  (void)state;
  rw_error err;
  unsigned count[12] = {7};
  rw_pack pack[12];
  for (int i = 0; i < 12; i++)
    pack[i] = (rw_pack){1 + 0.01 * i, 10 + 0.1 * i};
  rw_status status = rw_plan_packs(150, pack, 12, count, NULL, NULL, &err);
  assert_status(status, RW_ERR_NUMERIC, &err);
  check_explained(&err, "too many ways");
  assert_int_equal(count[0], 7);
}

static rw_status lay(const rw_hull *h, double width, double overhang, rw_layout_kind kind,
                     rw_layout *out, rw_error *err)
{
  const rw_roll roll = {.width = width, .shortfall = 0, .price = 10};
  return rw_plan_cloth(h, &roll, overhang, 0.05, kind, out, err);
}

/* A prism 4 m long with 1.50 m of girth; 50 mm over every edge, so 1.60 m by 4.10 m. */
static void layouts(void **state)
{
  (void)state;
  rw_error err;
  rw_layout l;
  rw_hull *h = prism(4, 1.5);
  assert_close(rw_plan_reach(1.5, 0.06, 1), 1.5, 0);
  assert_close(rw_plan_reach(1.5, 0.06, 3), 4.38, 1e-15);
  assert_ok(lay(h, 1, 0.05, RW_LENGTHWISE, &l, &err), &err);
  assert_int_equal(l.kind, RW_LENGTHWISE);
  assert_int_equal(l.pieces, 2);
  assert_close(l.length, 8.2, 1e-12);
  assert_close(l.cost, 82, 1e-11);
  assert_close(l.reach, 1.95, 1e-12);
  assert_close(l.lap_area, 0.2, 1e-12);
  assert_close(l.offcut, 1 - 6.2 / 8.2, 1e-12);
  assert_close(l.filler, 0, 0);
  assert_true(isnan(l.filler_from) && isnan(l.filler_to));
  assert_ok(lay(h, 1, 0.05, RW_CROSSWISE, &l, &err), &err);
  assert_int_equal(l.pieces, 5);
  assert_close(l.length, 8, 1e-9);
  assert_close(l.lap_area, 4 * 0.05 * 1.5, 1e-9);
  assert_close(l.reach, 0, 0);
  assert_close(l.offcut, 1 - 6.3 / 8, 1e-9);
  rw_hull_destroy(h);
}

static void fillers(void **state)
{
  (void)state;
  rw_error err;
  rw_layout l;
  rw_hull *h = prism(4, 1.5);
  /* One strip of 1 m is slit; the filler bridges 0.60 m and laps both sides. */
  assert_ok(lay(h, 1, 0.05, RW_FILLED, &l, &err), &err);
  assert_int_equal(l.pieces, 1);
  assert_close(l.reach, 1, 1e-12);
  assert_close(l.filler, 4.1, 1e-9);
  assert_close(l.filler_from, 0, 1e-9);
  assert_close(l.filler_to, 4, 1e-9);
  assert_close(l.length, 8.2, 1e-9);
  assert_close(l.lap_area, 2 * 0.05 * 4.1, 1e-9);
  /* Three strips of 0.5 m: one of their two seams parts, the other stays lapped. */
  assert_ok(lay(h, 0.5, 0.05, RW_FILLED, &l, &err), &err);
  assert_int_equal(l.pieces, 3);
  assert_close(l.lap_area, 0.05 * (4 + 2 * 4.1), 1e-9);
  assert_close(l.length, 3 * 4.1 + 4.1, 1e-9);
  memset(&l, 7, sizeof l);
  rw_layout before = l;
  assert_status(lay(h, 2, 0.05, RW_FILLED, &l, &err), RW_NO_SOLUTION, &err);
  check_explained(&err, "one strip reaches everywhere");
  assert_status(lay(h, 0.85, 0.07, RW_FILLED, &l, &err), RW_NO_SOLUTION, &err);
  check_explained(&err, "wider than the roll");
  assert_memory_equal(&l, &before, sizeof l);
  rw_hull_destroy(h);
}

static void layouts_refuse(void **state)
{
  (void)state;
  rw_error err;
  rw_layout l;
  rw_hull *h = prism(4, 1.5);
  const struct {
    rw_roll roll;
    double overhang, lap;
    const char *word;
  } bad[] = {
      {{0.01, 0, 10}, 0.05, 0.005, "width"},   {{1000, 0, 10}, 0.05, 0.05, "width"},
      {{1, 0.5, 10}, 0.05, 0.05, "shortfall"}, {{1, -0.01, 10}, 0.05, 0.05, "shortfall"},
      {{1, 0, -1}, 0.05, 0.05, "price"},       {{1, 0, NAN}, 0.05, 0.05, "price"},
      {{1, 0, 10}, 50, 0.05, "overhang"},      {{1, 0, 10}, 0.05, 0.34, "lap"},
      {{1, 0, 10}, 0.05, -0.01, "lap"},        {{1, 0, 10}, NAN, 0.05, "overhang"},
  };
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    assert_status(
        rw_plan_cloth(h, &bad[i].roll, bad[i].overhang, bad[i].lap, RW_LENGTHWISE, &l, &err),
        RW_ERR_RANGE, &err);
    check_explained(&err, bad[i].word);
  }
  rw_hull_destroy(h);
}

/* A wet-out of 2 m2 at 0.25 kg/m2: half a kilogram. */
static rw_wetout wetout(const rw_resin *r, const rw_history *h)
{
  rw_wetout w = {.resin = r,
                 .hull = h,
                 .start = 0,
                 .chilled = NAN,
                 .area = 2,
                 .resin_per_area = 0.25,
                 .rate = {0.05 / 60, 0},
                 .mixing = 180,
                 .share = 0.7,
                 .most = HUGE_VAL};
  rw_error err;
  assert_ok(rw_vessel_cup(0.07, &w.vessel, &err), &err);
  return w;
}

static void batches(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("slow-polyetheramine");
  rw_history *h = steady(20, 3 * DAY);
  rw_wetout w = wetout(&r, h);
  rw_batch b[50];
  size_t n = 0;
  w.most = 0.15; /* half a kilogram in four of 125 g */
  assert_ok(rw_plan_batches(&w, b, 50, &n, &err), &err);
  assert_int_equal(n, 4);
  for (size_t i = 0; i < n; i++) {
    double taken = 180 + 0.125 / 0.25 / (0.05 / 60); /* 3 min and 10 min */
    rw_pot pot;
    assert_close(b[i].mass, 0.125, 1e-12);
    assert_close(b[i].mixed, (double)i * taken, 1e-6);
    assert_close(b[i].spread - b[i].mixed, taken, 1e-6);
    assert_close(b[i].from, 0.5 * (double)i, 1e-12);
    assert_close(b[i].to, 0.5 * (double)i + 0.5, 1e-12);
    assert_close(b[i].temperature, 20 + ZERO, 1e-9);
    assert_ok(rw_pot_run(&r, &w.vessel, 0.125, 20 + ZERO, 20 + ZERO, &pot, &err), &err);
    assert_close(b[i].latest - b[i].mixed, fmin(pot.work_end, pot.hot), 1e-6);
    double z = log((b[i].spread - b[i].mixed) / fmin(pot.work_end, pot.hot)) / r.rate_sd;
    assert_close(b[i].lost, rw_num_normal_cdf(z), 1e-12);
  }
  rw_history_destroy(h);
}

/* A last bit lighter than the pot model takes is still a batch. */
static void small_batches(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("slow-polyetheramine");
  rw_history *h = steady(20, 3 * DAY);
  rw_wetout w = wetout(&r, h);
  rw_batch b[2];
  size_t n = 0;
  w.area = 1e-3;
  assert_ok(rw_plan_batches(&w, b, 2, &n, &err), &err);
  assert_int_equal(n, 1);
  assert_close(b[0].mass, 2.5e-4, 1e-15);
  assert_close(b[0].to, 1e-3, 1e-15);
  rw_history_destroy(h);
}

/* Chilled resin and a tray take larger batches. */
static void batch_vessels(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("fast-polyamine");
  rw_history *h = steady(30, 3 * DAY);
  rw_wetout w = wetout(&r, h);
  rw_batch b[200];
  size_t cup, chilled, tray;
  assert_ok(rw_plan_batches(&w, b, 200, &cup, &err), &err);
  w.chilled = 12 + ZERO;
  assert_ok(rw_plan_batches(&w, b, 200, &chilled, &err), &err);
  w.chilled = NAN;
  assert_ok(rw_vessel_tray(0.3, 0.2, &w.vessel, &err), &err);
  assert_ok(rw_plan_batches(&w, b, 200, &tray, &err), &err);
  assert_true(chilled < cup && tray < cup);
  rw_history_destroy(h);
}

static void batches_find_no_way(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("fast-polyamine");
  rw_history *h = steady(30, 3 * DAY);
  rw_wetout w = wetout(&r, h);
  rw_batch b[200];
  size_t n = 7;
  assert_status(rw_plan_batches(&w, b, 2, &n, &err), RW_NO_SOLUTION, &err);
  check_explained(&err, "more than 2 batches");
  w.rate.value = 0.005 / 60; /* 20 g take 16 min */
  assert_status(rw_plan_batches(&w, b, 200, &n, &err), RW_NO_SOLUTION, &err);
  check_explained(&err, "20 g");
  assert_non_null(strstr(err.hint, "slower hardener"));
  assert_int_equal(n, 7);
  rw_history_destroy(h);
}

static void batches_refuse(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("slow-polyetheramine");
  rw_history *h = steady(20, HOUR);
  rw_batch b[200];
  size_t n = 7;
  const rw_wetout good = wetout(&r, h);
  rw_wetout bad[9];
  for (int i = 0; i < 9; i++)
    bad[i] = good;
  bad[0].area = 0;
  bad[1].resin_per_area = 250;
  bad[2].rate.value = 0;
  bad[3].rate.sd = -1;
  bad[4].mixing = NAN;
  bad[5].share = 0.1;
  bad[6].most = 0.01;
  bad[7].chilled = 15;
  bad[8].resin_per_area = NAN;
  const char *const word[] = {"area",  "resin_per_area", "rate",    "rate",          "mixing",
                              "share", "most",           "chilled", "resin_per_area"};
  for (int i = 0; i < 9; i++) {
    assert_status(rw_plan_batches(&bad[i], b, 200, &n, &err), RW_ERR_RANGE, &err);
    check_explained(&err, word[i]);
  }
  assert_status(rw_plan_batches(&good, b, 0, &n, &err), RW_ERR_RANGE, &err);
  assert_status(rw_plan_batches(&good, b, 201, &n, &err), RW_ERR_RANGE, &err);
  bad[0] = good;
  bad[0].start = 2 * HOUR;
  assert_status(rw_plan_batches(&bad[0], b, 200, &n, &err), RW_ERR_COVERAGE, &err);
  check_explained(&err, "reach from");
  rw_resin broken = r;
  broken.density = 0;
  bad[0] = good;
  bad[0].resin = &broken;
  assert_status(rw_plan_batches(&bad[0], b, 200, &n, &err), RW_ERR_RANGE, &err);
  assert_int_equal(n, 7);
  rw_history_destroy(h);
}

/* A positive status of the resin is handed on. */
static void batches_outside_tested(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("slow-polyetheramine");
  r.law.E1 = 29e3;
  rw_history *h = steady(20, 3 * DAY);
  rw_wetout w = wetout(&r, h);
  rw_batch b[200];
  size_t n;
  assert_status(rw_plan_batches(&w, b, 200, &n, &err), RW_OUTSIDE_TESTED, &err);
  rw_history_destroy(h);
}

static void windows(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("slow-polyetheramine");
  rw_history *h = steady(20, 10 * DAY);
  rw_window w;
  rw_forecast early, late;
  assert_ok(rw_plan_window(&r, h, 0, 2 * HOUR, 8 * DAY, 1, 128, 5, &w, &err), &err);
  assert_ok(rw_cure_forecast(&r, h, 0, 8 * DAY, 1, 128, 5, &early, &err), &err);
  assert_ok(rw_cure_forecast(&r, h, 2 * HOUR, 8 * DAY, 1, 128, 5, &late, &err), &err);
  assert_close(w.open, late.time[RW_RECOAT_OPENS], 0);
  assert_close(w.open_low, late.low[RW_RECOAT_OPENS], 0);
  assert_close(w.open_high, late.high[RW_RECOAT_OPENS], 0);
  assert_int_equal(w.because_open, late.because[RW_RECOAT_OPENS]);
  assert_close(w.close, early.time[RW_RECOAT_CLOSES], 0);
  assert_close(w.close_low, early.low[RW_RECOAT_CLOSES], 0);
  assert_close(w.close_high, early.high[RW_RECOAT_CLOSES], 0);
  assert_int_equal(w.because_close, early.because[RW_RECOAT_CLOSES]);
  double chance, before[RW_MILESTONES], after[RW_MILESTONES];
  double middle = 0.5 * (w.open + w.close);
  assert_ok(rw_plan_window_chance(&r, h, 0, 2 * HOUR, middle, 1, 512, 5, &chance, &err), &err);
  assert_ok(rw_cure_chances(&r, h, 2 * HOUR, middle, 1, 512, 5, after, &err), &err);
  assert_ok(rw_cure_chances(&r, h, 0, middle, 1, 512, 5, before, &err), &err);
  assert_close(chance, after[RW_RECOAT_OPENS] - before[RW_RECOAT_CLOSES], 1e-15);
  assert_true(chance > 0.3);
  rw_history_destroy(h);
}

static void empty_windows(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("fast-polyamine");
  double t[] = {0, DAY, 2 * DAY, 9 * DAY}, T[] = {25, 25, 3, 3};
  rw_history *h = history(t, T, NULL, 4);
  rw_window w;
  assert_status(rw_plan_window(&r, h, 0, DAY, 5 * DAY, 0, 0, 1, &w, &err), RW_NO_SOLUTION, &err);
  check_explained(&err, "hard before");
  assert_true(w.close < w.open && w.open < HUGE_VAL);
  /* Looking only as far as the closing shows the same. */
  double to = fmax(w.close, DAY) + 600;
  assert_true(to < w.open);
  assert_status(rw_plan_window(&r, h, 0, DAY, to, 0, 0, 1, &w, &err), RW_NO_SOLUTION, &err);
  assert_true(w.close < HUGE_VAL && isinf(w.open));
  /* Neither seen: nothing is shown to be impossible. */
  assert_ok(rw_plan_window(&r, h, 4 * DAY, 4 * DAY + 60, 4 * DAY + 120, 0, 0, 1, &w, &err), &err);
  assert_true(isinf(w.close) && isinf(w.open));
  double chance = 7;
  assert_ok(rw_plan_window_chance(&r, h, 0, DAY, DAY + HOUR, 1, 64, 1, &chance, &err), &err);
  assert_close(chance, 0, 0);
  rw_history_destroy(h);
}

static void windows_refuse(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("slow-polyetheramine");
  rw_history *h = steady(20, DAY);
  rw_window w = {.open = 7};
  double chance = 7;
  assert_status(rw_plan_window(&r, h, 60, 0, DAY, 1, 8, 1, &w, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "last");
  assert_status(rw_plan_window(&r, h, 0, 60, 60, 1, 8, 1, &w, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "to");
  assert_status(rw_plan_window(&r, h, 0, 60, 2 * DAY, 1, 8, 1, &w, &err), RW_ERR_COVERAGE, &err);
  assert_status(rw_plan_window(&r, h, 0, NAN, DAY, 1, 8, 1, &w, &err), RW_ERR_RANGE, &err);
  assert_close(w.open, 7, 0);
  assert_status(rw_plan_window_chance(&r, h, 60, 0, HOUR, 1, 8, 1, &chance, &err), RW_ERR_RANGE,
                &err);
  assert_status(rw_plan_window_chance(&r, h, 0, 60, HOUR, 1, 0, 1, &chance, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "draws");
  assert_close(chance, 7, 0);
  rw_history_destroy(h);
}

/* Noon to noon: warm till 18:00, cooling to 06:00, warming again, two days. */
static void start_hours(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("medium-cycloaliphatic");
  double t[] = {0, 6 * HOUR, 18 * HOUR, 30 * HOUR, 42 * HOUR, 54 * HOUR, 96 * HOUR};
  double T[] = {24, 24, 14, 24, 14, 24, 24}, humid[] = {0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.5};
  rw_history *h = history(t, T, humid, 7);
  rw_start s[30];
  size_t best = 99;
  assert_ok(rw_plan_start(&r, h, h, 0, HOUR, 30, HOUR, 1, 3, s, &best, &err), &err);
  for (int i = 0; i < 30; i++) {
    rw_forecast f;
    double laid = (i + 1) * HOUR;
    assert_close(s[i].time, i * HOUR, 1e-9);
    assert_ok(rw_cure_forecast(&r, h, laid, 96 * HOUR, 0, 0, 0, &f, &err), &err);
    assert_close(s[i].gel, f.time[RW_GEL], 1e-6);
    assert_close(s[i].safe, f.time[RW_BLUSH_PAST], 1e-6);
    double low;
    assert_ok(rw_history_extremes(h, s[i].time, s[i].safe, &low, NULL, &err), &err);
    assert_close(s[i].coldest, low, 1e-12);
    assert_true(s[i].margin > 5 && s[i].margin < 12); /* half humid: some 10 K */
    assert_int_equal(s[i].fine, s[i].rise <= 1);
    if (s[i].gel < 18 * HOUR)
      assert_close(s[i].rise, 0, 0);
  }
  assert_true(s[best].fine);
  for (size_t i = 0; i < best; i++)
    assert_false(s[i].fine);
  assert_true(s[19].rise > 1); /* begun on the warming side */
  rw_history_destroy(h);
}

static void no_start_hour(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("slow-polyetheramine");
  double t[] = {0, 60 * HOUR}, T[] = {10, 30}, damp[] = {0.95, 0.95};
  rw_history *h = history(t, T, damp, 2);
  rw_start s[6];
  size_t best = 99;
  assert_status(rw_plan_start(&r, h, h, 0, HOUR, 6, HOUR, 1, 3, s, &best, &err), RW_NO_SOLUTION,
                &err);
  check_explained(&err, "none of the hours");
  double least = HUGE_VAL;
  size_t wanted = 99;
  for (size_t i = 0; i < 6; i++) {
    double e = fmax(s[i].rise - 1, 0) + fmax(3 - s[i].margin, 0);
    assert_false(s[i].fine);
    assert_close(s[i].rise, (s[i].gel - s[i].time) / 60 / HOUR * 20, 1e-9);
    if (e < least) {
      least = e;
      wanted = i;
    }
  }
  assert_int_equal(best, wanted);
  /* None gels within the history. */
  assert_status(rw_plan_start(&r, h, h, 58 * HOUR, HOUR, 2, HOUR, 1, 3, s, &best, &err),
                RW_NO_SOLUTION, &err);
  assert_true(isinf(s[0].gel) && isinf(s[0].safe) && isnan(s[0].rise) && isnan(s[0].margin));
  assert_true(isnan(s[0].coldest));
  rw_history_destroy(h);
}

static void start_without_humidity(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("medium-cycloaliphatic");
  rw_history *h = steady(20, 4 * DAY);
  rw_start s[2];
  size_t best = 99;
  assert_ok(rw_plan_start(&r, h, h, 0, HOUR, 2, HOUR, 1, 3, s, &best, &err), &err);
  assert_int_equal(best, 0);
  assert_true(s[0].fine && isnan(s[0].margin));
  assert_close(s[0].rise, 0, 0);
  rw_history_destroy(h);
}

static void starts_refuse(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("slow-polyetheramine");
  rw_history *h = steady(20, 4 * DAY);
  rw_start s[2] = {{.time = 7}};
  size_t best = 99;
  const struct {
    double from, step, duration, rise, margin;
    size_t n;
    rw_status status;
    const char *word;
  } bad[] = {
      {0, HOUR, HOUR, 1, 3, 0, RW_ERR_RANGE, "n is out"},
      {0, HOUR, HOUR, 1, 3, 501, RW_ERR_RANGE, "n is out"},
      {0, 59, HOUR, 1, 3, 2, RW_ERR_RANGE, "step"},
      {0, NAN, HOUR, 1, 3, 2, RW_ERR_RANGE, "step"},
      {0, HOUR, -1, 1, 3, 2, RW_ERR_RANGE, "duration"},
      {0, HOUR, 2 * DAY, 1, 3, 2, RW_ERR_RANGE, "duration"},
      {0, HOUR, HOUR, -1, 3, 2, RW_ERR_RANGE, "most_rise"},
      {0, HOUR, HOUR, 1, NAN, 2, RW_ERR_RANGE, "least_margin"},
      {-HOUR / 2, HOUR, HOUR, 1, 3, 2, RW_ERR_COVERAGE, "reach from"},
  };
  for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
    assert_status(rw_plan_start(&r, h, h, bad[i].from, bad[i].step, bad[i].n, bad[i].duration,
                                bad[i].rise, bad[i].margin, s, &best, &err),
                  bad[i].status, &err);
    check_explained(&err, bad[i].word);
  }
  rw_history_destroy(h);
  /* The second hour fails, in air too hot for a dew point, after the first came out well. */
  rw_resin quick = resin("fast-polyamine");
  double t[] = {0, 40 * HOUR, 48 * HOUR, 4 * DAY}, T[] = {20, 20, 97, 97},
         half[] = {.5, .5, .5, .5};
  h = history(t, T, half, 4);
  assert_ok(
      rw_plan_start(&quick, h, h, 0, 2 * DAY, 1, HOUR, 1, 3, &(rw_start){0}, &(size_t){0}, &err),
      &err);
  assert_status(rw_plan_start(&quick, h, h, 0, 2 * DAY, 2, HOUR, 1, 3, s, &best, &err),
                RW_ERR_RANGE, &err);
  assert_close(s[0].time, 7, 0);
  assert_int_equal(best, 99);
  rw_history_destroy(h);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(sums),
      cmocka_unit_test(quantiles),
      cmocka_unit_test(quantiles_refuse),
      cmocka_unit_test(needs),
      cmocka_unit_test(need_agrees_per_area),
      cmocka_unit_test(need_names_the_largest),
      cmocka_unit_test(uptakes),
      cmocka_unit_test(uptakes_refuse),
      cmocka_unit_test(spreading),
      cmocka_unit_test(packs),
      cmocka_unit_test(packs_refuse),
      cmocka_unit_test(packs_give_up),
      cmocka_unit_test(layouts),
      cmocka_unit_test(fillers),
      cmocka_unit_test(layouts_refuse),
      cmocka_unit_test(batches),
      cmocka_unit_test(small_batches),
      cmocka_unit_test(batch_vessels),
      cmocka_unit_test(batches_find_no_way),
      cmocka_unit_test(batches_refuse),
      cmocka_unit_test(batches_outside_tested),
      cmocka_unit_test(windows),
      cmocka_unit_test(empty_windows),
      cmocka_unit_test(windows_refuse),
      cmocka_unit_test(start_hours),
      cmocka_unit_test(no_start_hour),
      cmocka_unit_test(start_without_humidity),
      cmocka_unit_test(starts_refuse),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
