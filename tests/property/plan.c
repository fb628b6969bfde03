/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold of any plan: exact packs against trying all, sums, cloth that reaches, batches
 * that add up, hours in order. */
#include "check.h"

#include <math.h>
#include <string.h>

static const double HOUR = 3600, DAY = 86400, ZERO = 273.15;

/* xorshift64 (Marsaglia 2003): the same numbers in every run. */
static uint64_t next(uint64_t *seed)
{
  *seed ^= *seed << 13;
  *seed ^= *seed >> 7;
  *seed ^= *seed << 17;
  return *seed;
}

static double between(uint64_t *seed, double low, double high)
{
  return low + (high - low) * (double)(next(seed) >> 11) / 9007199254740992.0;
}

static unsigned whole(uint64_t *seed, unsigned low, unsigned high)
{
  return low + (unsigned)(next(seed) % (high - low + 1));
}

/* Price and mass of some packs. */
typedef struct bought {
  double price, mass;
} bought;

/* Cheapest price, and least mass at that price, of all combinations there are. */
static void try_all(const rw_pack *pack, size_t n, double need, bought sum, bought *found)
{
  if (n == 0) {
    if (sum.mass < need * (1 - 1e-9))
      return;
    int cheaper = sum.price < found->price - 1e-9, same = sum.price < found->price + 1e-9;
    if (cheaper || (same && sum.mass < found->mass))
      *found = sum;
    return;
  }
  unsigned most = (unsigned)ceil(need / pack[n - 1].mass);
  for (unsigned k = 0; k <= most; k++)
    try_all(pack, n - 1, need,
            (bought){sum.price + k * pack[n - 1].price, sum.mass + k * pack[n - 1].mass}, found);
}

static void packs_are_cheapest(void **state)
{
  (void)state;
  uint64_t seed = 20261003;
  for (int trial = 0; trial < 600; trial++) {
    rw_pack pack[4];
    size_t n = whole(&seed, 1, 4);
    for (size_t i = 0; i < n; i++) {
      int round = trial % 2; /* whole numbers make many ties */
      pack[i].mass = round ? whole(&seed, 1, 6) : between(&seed, 0.4, 5);
      pack[i].price = round ? whole(&seed, 0, 40) : between(&seed, 1, 60);
    }
    double need = trial % 2 ? whole(&seed, 0, 20) : between(&seed, 0, 20), mass, price;
    unsigned count[4];
    rw_error err;
    assert_ok(rw_plan_packs(need, pack, n, count, &mass, &price, &err), &err);
    bought sum = {0, 0}, found = {HUGE_VAL, HUGE_VAL};
    for (size_t i = 0; i < n; i++) {
      sum.price += count[i] * pack[i].price;
      sum.mass += count[i] * pack[i].mass;
    }
    try_all(pack, n, need, (bought){0, 0}, &found);
    assert_close(price, sum.price, 1e-9);
    assert_close(mass, sum.mass, 1e-9);
    assert_true(mass >= need * (1 - 1e-9));
    assert_close(price, found.price, 1e-8);
    assert_close(mass, found.mass, 1e-8);
  }
}

static void more_needed_costs_more(void **state)
{
  (void)state;
  const rw_pack pack[3] = {{1.5, 41}, {6, 138}, {30, 585}};
  double before = 0;
  for (double need = 0; need < 70; need += 0.37) {
    unsigned count[3];
    double mass, price;
    rw_error err;
    assert_ok(rw_plan_packs(need, pack, 3, count, &mass, &price, &err), &err);
    assert_true(price >= before - 1e-9);
    before = price;
  }
}

static void quantiles_rise(void **state)
{
  (void)state;
  uint64_t seed = 7;
  for (int trial = 0; trial < 500; trial++) {
    rw_value amount = {between(&seed, 1e-3, 1e3), 0};
    amount.sd = amount.value * between(&seed, 0, 1.5);
    double before = 0, median, q;
    rw_error err;
    for (int i = 1; i < 100; i++) {
      assert_ok(rw_plan_quantile(amount, i / 100.0, &q, &err), &err);
      assert_true(q > before * (1 - 1e-12) && q > 0);
      before = q;
    }
    assert_ok(rw_plan_quantile(amount, 0.5, &median, &err), &err);
    assert_true(median <= amount.value * (1 + 1e-12));
    /* The mean square of the quantiles over all p is that of the distribution: 1 + (sd/mean)^2. */
    double square = 0;
    enum { PARTS = 20000 };
    if (trial % 50 == 0 && amount.sd < amount.value) {
      for (int i = 0; i < PARTS; i++) {
        assert_ok(rw_plan_quantile(amount, (i + 0.5) / PARTS, &q, &err), &err);
        square += q * q / PARTS;
      }
      double relative = amount.sd / amount.value;
      assert_close_rel(square, amount.value * amount.value * (1 + relative * relative), 0.02);
    }
  }
}

/* Sums do not hang on the order, and parts summed first come to the same. */
static void sums_add_up(void **state)
{
  (void)state;
  uint64_t seed = 11;
  for (int trial = 0; trial < 500; trial++) {
    rw_value item[8], back[8], half[2], total, other;
    rw_error err;
    for (int i = 0; i < 8; i++)
      back[7 - i] = item[i] = (rw_value){between(&seed, -5, 5), between(&seed, 0, 2)};
    size_t because, last;
    assert_ok(rw_plan_sum(item, 8, &total, &because, &err), &err);
    assert_ok(rw_plan_sum(back, 8, &other, &last, &err), &err);
    assert_close(other.value, total.value, 1e-12);
    assert_close(other.sd, total.sd, 1e-12);
    assert_int_equal(because, 7 - last);
    for (int i = 0; i < 8; i++)
      assert_true(item[i].sd <= item[because].sd && total.sd >= item[i].sd);
    assert_ok(rw_plan_sum(item, 3, &half[0], NULL, &err), &err);
    assert_ok(rw_plan_sum(item + 3, 5, &half[1], NULL, &err), &err);
    assert_ok(rw_plan_sum(half, 2, &other, NULL, &err), &err);
    assert_close(other.value, total.value, 1e-12);
    assert_close(other.sd, total.sd, 1e-12);
  }
}

static void needs_add_up(void **state)
{
  (void)state;
  uint64_t seed = 13;
  for (int trial = 0; trial < 500; trial++) {
    rw_value area = {between(&seed, 0.1, 40), between(&seed, 0, 1)};
    rw_uptake u = {.soak = {between(&seed, 0, 0.2), between(&seed, 0, 0.05)},
                   .cloth = {between(&seed, 0, 0.5), between(&seed, 0, 0.05)},
                   .fill = {between(&seed, 0, 0.5), between(&seed, 0, 0.1)},
                   .waste = {between(&seed, 0, 0.9), between(&seed, 0, 0.1)}};
    rw_need n;
    rw_error err;
    assert_ok(rw_plan_need(area, &u, &n, &err), &err);
    double terms = 0;
    for (int i = 0; i < RW_TERMS; i++)
      terms += n.term[i].value;
    assert_close_rel(n.total.value, terms, 1e-12);
    assert_close_rel(n.total.value, n.on_hull.value + n.term[RW_TERM_WASTE].value, 1e-12);
    assert_true(n.total.sd * (1 + 1e-12) >= n.on_hull.sd);
    /* Without the spread of what it names there is less of it than without any other. */
    rw_value *part[] = {&u.soak, &u.cloth, &u.fill, &u.waste, &area};
    double left[5];
    for (int i = 0; i <= RW_TERMS; i++) {
      double kept = part[i]->sd;
      rw_need less;
      part[i]->sd = 0;
      assert_ok(rw_plan_need(area, &u, &less, &err), &err);
      left[i] = less.total.sd;
      part[i]->sd = kept;
    }
    for (int i = 0; i <= RW_TERMS; i++)
      assert_true(left[n.because] <= left[i] * (1 + 1e-9));
  }
}

/* More layers take more; the inner ones change the cloth alone. */
static void layers_add_up(void **state)
{
  (void)state;
  uint64_t seed = 17;
  const rw_value soak = {0.06, 0.02}, cover = {3e-4, 1e-4}, waste = {0.15, 0.05};
  for (int trial = 0; trial < 300; trial++) {
    rw_cloth layer[5];
    rw_uptake one, all;
    rw_error err;
    double value = 0, sd = 0;
    for (int i = 0; i < 5; i++) {
      double mass = between(&seed, 0.08, 0.4);
      assert_true(rw_cloth_make("e-glass", mass, (rw_weave)whole(&seed, 0, 2), &layer[i], &err) >=
                  0);
      assert_ok(rw_plan_uptake(&layer[i], 1, RW_BY_HAND, 1100, soak, cover, waste, &one, &err),
                &err);
      value += one.cloth.value;
      sd += one.cloth.sd;
    }
    assert_ok(rw_plan_uptake(layer, 5, RW_BY_HAND, 1100, soak, cover, waste, &all, &err), &err);
    assert_close_rel(all.cloth.value, value, 1e-12);
    assert_close_rel(all.cloth.sd, sd, 1e-12);
    assert_ok(rw_plan_uptake(layer, 1, RW_BY_HAND, 1100, soak, cover, waste, &one, &err), &err);
    assert_close(all.fill.value, one.fill.value, 1e-15);
    assert_close(all.fill.sd, one.fill.sd, 1e-15);
    rw_uptake bagged;
    assert_ok(rw_plan_uptake(layer, 5, RW_BAGGED, 1100, soak, cover, waste, &bagged, &err), &err);
    assert_true(bagged.cloth.value < all.cloth.value);
  }
}

static rw_hull *some_hull(uint64_t *seed)
{
  enum { STATIONS = 9 };
  double x[STATIONS], girth[STATIONS];
  double length = between(seed, 2, 9), beam = between(seed, 0.6, 3.2),
         full = between(seed, 1.2, 3);
  rw_hull *h = NULL;
  rw_error err;
  for (int i = 0; i < STATIONS; i++) {
    double u = 2.0 * i / (STATIONS - 1) - 1;
    x[i] = length * i / (STATIONS - 1);
    girth[i] = beam * (0.3 + 0.7 * (1 - pow(fabs(u), full)));
  }
  assert_true(rw_hull_from_girths(x, girth, STATIONS, &h, &err) >= 0);
  return h;
}

static void reaches_hull(const rw_hull *h, double width, double overhang, double lap,
                         const rw_layout *l)
{
  double from, to, widest;
  rw_hull_span(h, &from, &to);
  rw_hull_widest(h, NULL, &widest);
  if (l->kind == RW_LENGTHWISE) {
    assert_true(l->reach >= widest + 2 * overhang - 1e-9);
    assert_true(l->pieces == 1 ||
                rw_plan_reach(width, lap, l->pieces - 1) < widest + 2 * overhang);
  } else if (l->kind == RW_CROSSWISE) {
    assert_true(rw_plan_reach(width, lap, l->pieces) >= to - from + 2 * overhang - 1e-9);
  } else {
    /* Beyond the filler the strips reach; at the widest the filler laps both sides of the gap. */
    double covered = l->reach + (l->pieces > 1 ? lap : 0);
    assert_true(covered + width - 2 * lap >= widest + 2 * overhang - 1e-9);
    for (int i = 0; i <= 200; i++) {
      double x = fmin(from + (to - from) * i / 200, to), girth;
      rw_error err;
      assert_ok(rw_hull_girth(h, x, &girth, &err), &err);
      if (x < l->filler_from || x > l->filler_to)
        assert_true(girth + 2 * overhang <= l->reach + 1e-6);
    }
    assert_close(l->filler, l->filler_to - l->filler_from + 2 * lap, 1e-9);
  }
}

static void cloth_reaches(void **state)
{
  (void)state;
  uint64_t seed = 19;
  int filled = 0;
  for (int trial = 0; trial < 400; trial++) {
    rw_hull *h = some_hull(&seed);
    rw_roll roll = {between(&seed, 0.6, 1.8), between(&seed, 0, 0.02), between(&seed, 3, 20)};
    double width = roll.width - roll.shortfall;
    double overhang = between(&seed, 0, 0.15), lap = between(&seed, 0, 0.1), from, to;
    rw_value area;
    rw_error err;
    rw_hull_span(h, &from, &to);
    assert_ok(rw_hull_area(h, from, to, &area, &err), &err);
    for (int kind = RW_LENGTHWISE; kind <= RW_CROSSWISE; kind++) {
      rw_layout l;
      rw_status status = rw_plan_cloth(h, &roll, overhang, lap, (rw_layout_kind)kind, &l, &err);
      if (kind == RW_FILLED && status == RW_NO_SOLUTION)
        continue;
      assert_status(status, RW_OK, &err);
      assert_int_equal(l.kind, kind);
      assert_true(l.length * width >= area.value * (1 - 1e-9));
      assert_close(l.cost, l.length * roll.price, 1e-9);
      assert_true(l.lap_area >= 0 && l.offcut < 1);
      assert_true(l.offcut >= -1e-6);
      reaches_hull(h, width, overhang, lap, &l);
      filled += kind == RW_FILLED;
    }
    rw_hull_destroy(h);
  }
  assert_true(filled > 50);
}

/* Of a box, either way takes the cloth that the box is, cut to whole strips. */
static void both_ways_cover_a_box(void **state)
{
  (void)state;
  uint64_t seed = 23;
  for (int trial = 0; trial < 200; trial++) {
    unsigned along = whole(&seed, 1, 4), across = whole(&seed, 2, 9);
    double width = between(&seed, 0.4, 1.5), girth = along * width, length = across * width;
    double x[5], g[5];
    rw_hull *h = NULL;
    rw_error err;
    for (int i = 0; i < 5; i++) {
      x[i] = length * i / 4;
      g[i] = girth;
    }
    assert_ok(rw_hull_from_girths(x, g, 5, &h, &err), &err);
    const rw_roll roll = {width, 0, 1};
    rw_layout strips, pieces;
    assert_ok(rw_plan_cloth(h, &roll, 0, 0, RW_LENGTHWISE, &strips, &err), &err);
    assert_ok(rw_plan_cloth(h, &roll, 0, 0, RW_CROSSWISE, &pieces, &err), &err);
    assert_int_equal(strips.pieces, along);
    assert_int_equal(pieces.pieces, across);
    assert_close(strips.length, pieces.length, 1e-6);
    assert_close(strips.offcut, 0, 1e-6);
    rw_hull_destroy(h);
  }
}

static rw_resin resin(const char *name)
{
  rw_resin r;
  rw_error err;
  assert_ok(rw_resin_find(name, &r, &err), &err);
  return r;
}

static const char *const classes[] = {"slow-polyetheramine", "medium-cycloaliphatic",
                                      "fast-polyamine"};

static rw_history *shop(double first, double last, double span)
{
  double t[2] = {0, span}, T[2] = {first + ZERO, last + ZERO};
  rw_history *h = NULL;
  rw_error err;
  assert_ok(rw_history_create(t, T, NULL, 2, &h, &err), &err);
  return h;
}

static rw_wetout some_wetout(uint64_t *seed, const rw_resin *r, const rw_history *h)
{
  rw_wetout w = {.resin = r,
                 .hull = h,
                 .start = between(seed, 0, DAY),
                 .chilled = NAN,
                 .area = between(seed, 0.3, 5),
                 .resin_per_area = between(seed, 0.15, 0.5),
                 .rate = {between(seed, 0.03, 0.1) / 60, 0},
                 .mixing = between(seed, 60, 240),
                 .share = between(seed, 0.4, 1),
                 .most = next(seed) % 3 == 0 ? HUGE_VAL : between(seed, 0.05, 1)};
  rw_error err;
  w.rate.sd = w.rate.value * between(seed, 0, 0.4);
  if (next(seed) % 2)
    assert_ok(rw_vessel_cup(between(seed, 0.06, 0.12), &w.vessel, &err), &err);
  else
    assert_ok(rw_vessel_tray(0.3, 0.2, &w.vessel, &err), &err);
  return w;
}

static void batch_fits(const rw_wetout *w, const rw_batch *b)
{
  double taken = b->spread - b->mixed, pot = b->latest - b->mixed;
  rw_error err;
  double T;
  assert_true(b->mass > 0 && b->mass <= fmin(w->most, 50) * (1 + 1e-9));
  assert_close_rel(b->mass, (b->to - b->from) * w->resin_per_area, 1e-9);
  assert_close_rel(taken, w->mixing + (b->to - b->from) / w->rate.value, 1e-6);
  assert_true(taken <= w->share * pot * (1 + 1e-6) + 1e-3);
  assert_ok(rw_history_temperature(w->hull, b->mixed, &T, &err), &err);
  assert_close(b->temperature, T, 1e-9);
  assert_true(b->lost >= 0 && b->lost <= 0.5);
}

static void batches_add_up(void **state)
{
  (void)state;
  uint64_t seed = 29;
  int planned = 0;
  for (int trial = 0; trial < 60; trial++) {
    rw_resin r = resin(classes[trial % 3]);
    rw_history *h = shop(between(&seed, 8, 32), between(&seed, 8, 32), 4 * DAY);
    rw_wetout w = some_wetout(&seed, &r, h);
    rw_batch b[200];
    size_t n;
    rw_error err;
    rw_status status = rw_plan_batches(&w, b, 200, &n, &err);
    if (status == RW_NO_SOLUTION) {
      rw_history_destroy(h);
      continue;
    }
    assert_status(status, RW_OK, &err);
    planned++;
    assert_close(b[0].mixed, w.start, 0);
    assert_close(b[0].from, 0, 0);
    assert_close(b[n - 1].to, w.area, 1e-9 * w.area);
    for (size_t i = 0; i < n; i++) {
      batch_fits(&w, &b[i]);
      if (i > 0) {
        assert_close(b[i].from, b[i - 1].to, 0);
        assert_close(b[i].mixed, b[i - 1].spread, 0);
      }
    }
    rw_history_destroy(h);
  }
  assert_true(planned > 40);
}

/* In a steady shop: equal batches; more hands need no more of them, and the colder the larger the
 * largest can be. */
static void batch_trends(void **state)
{
  (void)state;
  uint64_t seed = 31;
  for (int trial = 0; trial < 21; trial++) {
    rw_resin r = resin(classes[trial % 3]);
    size_t by_hands = 201, by_warmth = 0;
    rw_batch b[200];
    size_t n;
    rw_error err;
    rw_history *h = shop(21, 21, 4 * DAY);
    rw_wetout w = some_wetout(&seed, &r, h);
    w.most = HUGE_VAL;
    w.area = 5;
    double alone = w.rate.value;
    for (int hands = 1; hands <= 4; hands++) {
      w.rate.value = alone * hands;
      rw_status status = rw_plan_batches(&w, b, 200, &n, &err);
      if (status == RW_NO_SOLUTION)
        continue;
      assert_status(status, RW_OK, &err);
      assert_true(n <= by_hands);
      for (size_t i = 1; i < n; i++)
        assert_close_rel(b[i].mass, b[0].mass, 1e-6);
      by_hands = n;
    }
    rw_history_destroy(h);
    w.rate.value = alone;
    for (double celsius = 6; celsius <= 34; celsius += 7) {
      h = shop(celsius, celsius, 4 * DAY);
      w.hull = h;
      rw_status status = rw_plan_batches(&w, b, 200, &n, &err);
      if (status == RW_OK) {
        assert_true(n >= by_warmth);
        by_warmth = n;
      }
      rw_history_destroy(h);
    }
  }
}

static rw_history *weather(uint64_t *seed, double from, double fall, int falling)
{
  enum { POINTS = 121 };
  double t[POINTS], T[POINTS], humid[POINTS];
  rw_history *h = NULL;
  rw_error err;
  for (int i = 0; i < POINTS; i++) {
    t[i] = i * HOUR;
    T[i] = falling ? from - fall * i / POINTS - 0.02 * i + between(seed, 0, 0.019)
                   : from + fall / 2 * sin(0.2618 * i) + between(seed, -1, 1);
    T[i] += ZERO;
    humid[i] = between(seed, 0.4, 0.9);
  }
  assert_ok(rw_history_create(t, T, humid, POINTS, &h, &err), &err);
  return h;
}

/* The skin opens after its last section is laid and, laid at once, closes after it opens; laid
 * over a longer time it opens later, and the chance of being open follows. */
static void windows_are_ordered(void **state)
{
  (void)state;
  uint64_t seed = 37;
  for (int trial = 0; trial < 24; trial++) {
    rw_resin r = resin(classes[trial % 3]);
    rw_history *h = weather(&seed, between(&seed, 14, 28), between(&seed, 0, 8), 0);
    double first = between(&seed, 0, 20) * HOUR, last = first, end = 120 * HOUR, open = 0;
    for (int i = 0; i < 3; i++, last += between(&seed, 0.5, 4) * HOUR) {
      rw_window w;
      rw_error err;
      rw_status status = rw_plan_window(&r, h, first, last, end, 1, 32, 1, &w, &err);
      assert_true(status == RW_OK || status == RW_NO_SOLUTION);
      assert_true(w.open > last && w.open >= open && w.close > first);
      open = w.open;
      assert_int_equal(status == RW_NO_SOLUTION, w.close < HUGE_VAL && w.close <= w.open);
      if (i == 0)
        assert_int_equal(status, RW_OK);
      assert_true(w.open_low <= w.open_high && w.close_low <= w.close_high);
      double before, within, after;
      if (!(w.close < end) || status != RW_OK)
        continue;
      assert_ok(rw_plan_window_chance(&r, h, first, last, last + 600, 1, 32, 1, &before, &err),
                &err);
      assert_ok(rw_plan_window_chance(&r, h, first, last, 0.5 * (w.open + w.close), 1, 64, 1,
                                      &within, &err),
                &err);
      assert_ok(rw_plan_window_chance(&r, h, first, last, end, 1, 32, 1, &after, &err), &err);
      assert_true(before >= 0 && within <= 1 && within >= before && within >= after);
    }
    rw_history_destroy(h);
  }
}

static void starts_are_ordered(void **state)
{
  (void)state;
  uint64_t seed = 41;
  for (int trial = 0; trial < 40; trial++) {
    int falling = trial % 2;
    rw_resin r = resin(classes[trial % 3]);
    rw_history *h = weather(&seed, between(&seed, 20, 28), between(&seed, 1, 8), falling);
    double duration = between(&seed, 0, 4) * HOUR;
    rw_start s[48];
    size_t best;
    rw_error err;
    rw_status status = rw_plan_start(&r, h, h, 0, HOUR, 48, duration, 1, 3, s, &best, &err);
    assert_true(status == RW_OK || status == RW_NO_SOLUTION);
    assert_int_equal(status == RW_OK, s[best].fine);
    for (size_t i = 0; i < 48; i++) {
      assert_close(s[i].time, (double)i * HOUR, 1e-6);
      assert_true(s[i].gel > s[i].time + duration);
      if (!(s[i].gel < HUGE_VAL))
        continue;
      double low, high;
      assert_ok(rw_history_extremes(h, s[i].time, s[i].gel, &low, &high, &err), &err);
      assert_true(s[i].rise >= 0 && s[i].rise <= high - low + 1e-9);
      assert_true(s[i].coldest <= low + 1e-9);
      assert_int_equal(s[i].fine, s[i].rise <= 1 && s[i].margin >= 3);
      assert_false(i < best && s[i].fine);
      if (falling)
        assert_close(s[i].rise, 0, 0);
    }
    rw_history_destroy(h);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(packs_are_cheapest),  cmocka_unit_test(more_needed_costs_more),
      cmocka_unit_test(quantiles_rise),      cmocka_unit_test(sums_add_up),
      cmocka_unit_test(needs_add_up),        cmocka_unit_test(layers_add_up),
      cmocka_unit_test(cloth_reaches),       cmocka_unit_test(both_ways_cover_a_box),
      cmocka_unit_test(batches_add_up),      cmocka_unit_test(batch_trends),
      cmocka_unit_test(windows_are_ordered), cmocka_unit_test(starts_are_ordered),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
