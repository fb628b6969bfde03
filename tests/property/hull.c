/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold for any hull: tried on random stations from fixed seeds. */
#include "check.h"

#include <math.h>
#include <string.h>

static const double pi = 3.14159265358979323846;
enum { TRIALS = 200, MOST = 24 };

/* Numbers from 0 to 1, the same in every run (a linear congruence modulo 2^64). */
static double uniform(uint64_t *seed)
{
  *seed = *seed * 6364136223846793005u + 1442695040888963407u;
  return (double)(*seed >> 11) / 9007199254740992.0;
}

struct stations {
  size_t n;
  double x[MOST], girth[MOST];
};

static struct stations random_stations(uint64_t *seed, int even)
{
  struct stations s = {.n = 3 + (size_t)(uniform(seed) * (MOST - 3))};
  double step = 0.2 + uniform(seed);
  if (even)
    s.n |= 1;
  for (size_t i = 0; i < s.n; i++) {
    s.x[i] = i == 0 ? uniform(seed) : s.x[0] + step * (double)i;
    if (!even && i > 0)
      s.x[i] += 0.6 * step * (uniform(seed) - 0.5);
    double along = (double)i / (double)(s.n - 1);
    s.girth[i] = 0.3 + 0.9 * sin(pi * along) + 0.15 * uniform(seed);
  }
  return s;
}

static rw_hull *made(const struct stations *s)
{
  rw_error err;
  rw_hull *h = NULL;
  assert_ok(rw_hull_from_girths(s->x, s->girth, s->n, &h, &err), &err);
  return h;
}

static rw_value area_between(const rw_hull *h, double from, double to)
{
  rw_error err;
  rw_value a = {NAN, NAN};
  assert_ok(rw_hull_area(h, from, to, &a, &err), &err);
  return a;
}

static rw_value area_of(const struct stations *s)
{
  rw_hull *h = made(s);
  rw_value a = area_between(h, s->x[0], s->x[s->n - 1]);
  rw_hull_destroy(h);
  return a;
}

static void mirrored_along_is_the_same(void **state)
{
  (void)state;
  uint64_t seed = 1;
  for (int k = 0; k < TRIALS; k++) {
    struct stations s = random_stations(&seed, k % 2), m = {.n = s.n};
    for (size_t i = 0; i < s.n; i++) {
      m.x[i] = -s.x[s.n - 1 - i];
      m.girth[i] = s.girth[s.n - 1 - i];
    }
    rw_hull *a = made(&s), *b = made(&m);
    double first = s.x[0], last = s.x[s.n - 1];
    double from = first + 0.4 * uniform(&seed) * (last - first);
    double to = from + (0.1 + 0.5 * uniform(&seed)) * (last - from);
    rw_value one = area_between(a, from, to), two = area_between(b, -to, -from);
    assert_close_rel(two.value, one.value, 1e-11);
    assert_close_rel(two.sd, one.sd, 1e-11);
    double where, there, most, same;
    rw_hull_widest(a, &where, &most);
    rw_hull_widest(b, &there, &same);
    assert_close_rel(same, most, 1e-12);
    assert_close(rw_hull_wider_than(b, 0.9 * most, NULL, NULL),
                 rw_hull_wider_than(a, 0.9 * most, NULL, NULL), 1e-10);
    rw_hull_destroy(a);
    rw_hull_destroy(b);
  }
}

static void area_scales(void **state)
{
  (void)state;
  uint64_t seed = 2;
  for (int k = 0; k < TRIALS; k++) {
    struct stations s = random_stations(&seed, k % 2), longer = s, wider = s;
    double c = 0.3 + 2 * uniform(&seed);
    for (size_t i = 0; i < s.n; i++) {
      longer.x[i] *= c;
      wider.girth[i] *= c;
    }
    double area = area_of(&s).value;
    assert_close_rel(area_of(&longer).value, c * area, 1e-12);
    assert_close_rel(area_of(&wider).value, c * area, 1e-12);
  }
}

/* A strip of constant girth added all along adds exactly its own area. */
static void area_is_additive_in_girth(void **state)
{
  (void)state;
  uint64_t seed = 3;
  for (int k = 0; k < TRIALS; k++) {
    struct stations s = random_stations(&seed, k % 2), more = s;
    double c = 0.05 + 0.5 * uniform(&seed);
    for (size_t i = 0; i < s.n; i++)
      more.girth[i] += c;
    double added = c * (s.x[s.n - 1] - s.x[0]);
    assert_close_rel(area_of(&more).value, area_of(&s).value + added, 1e-12);
  }
}

/* Simpson's weights are all positive: one girth more, more area. */
static void more_girth_is_more_area(void **state)
{
  (void)state;
  uint64_t seed = 4;
  for (int k = 0; k < TRIALS; k++) {
    struct stations s = random_stations(&seed, 1);
    double before = area_of(&s).value;
    size_t i = (size_t)(uniform(&seed) * (double)s.n);
    s.girth[i] += 0.01;
    assert_true(area_of(&s).value > before);
  }
}

static void parts_add_up(const rw_hull *h, uint64_t *seed)
{
  double first, last;
  rw_hull_span(h, &first, &last);
  double whole = area_between(h, first, last).value;
  double cut[6] = {first};
  for (size_t i = 1; i < 5; i++)
    cut[i] = cut[i - 1] + (0.05 + 0.3 * uniform(seed)) * (last - cut[i - 1]);
  cut[5] = last;
  double sum = 0;
  for (size_t i = 0; i < 5; i++) {
    rw_value part = area_between(h, cut[i], cut[i + 1]);
    assert_true(part.value > 0 && part.sd > 0);
    sum += part.value;
  }
  assert_close_rel(sum, whole, 1e-13);
  rw_error err;
  double edge[8];
  assert_ok(rw_hull_bands(h, 7, edge, &err), &err);
  for (size_t i = 0; i < 7; i++)
    assert_close_rel(area_between(h, edge[i], edge[i + 1]).value, whole / 7, 1e-10);
}

static void girths_add_up(void **state)
{
  (void)state;
  uint64_t seed = 5;
  for (int k = 0; k < TRIALS; k++) {
    struct stations s = random_stations(&seed, k % 2);
    rw_hull *h = made(&s);
    parts_add_up(h, &seed);
    rw_hull_destroy(h);
  }
}

/* The girth reaches the widest and no more; the stretch above a limit begins and ends at it. */
static void readings_agree(void **state)
{
  (void)state;
  uint64_t seed = 6;
  for (int k = 0; k < TRIALS; k++) {
    struct stations s = random_stations(&seed, k % 2);
    rw_hull *h = made(&s);
    rw_error err;
    double where, most, g, from, to;
    rw_hull_widest(h, &where, &most);
    assert_ok(rw_hull_girth(h, where, &g, &err), &err);
    assert_close_rel(g, most, 1e-12);
    double limit = 0.8 * most, first = s.x[0], last = s.x[s.n - 1];
    rw_hull_wider_than(h, limit, &from, &to);
    for (int i = 0; i <= 100; i++) {
      double x = first + (last - first) * i / 100;
      assert_ok(rw_hull_girth(h, fmin(x, last), &g, &err), &err);
      assert_true(g <= most * (1 + 1e-12));
      assert_true(g <= limit * (1 + 1e-12) || (x >= from && x <= to));
    }
    assert_ok(rw_hull_girth(h, from, &g, &err), &err);
    assert_true(from <= first || fabs(g - limit) < 1e-10);
    rw_hull_destroy(h);
  }
}

/* A hull of offsets with a chine, each station 3 points below it and 3 above. */
enum { ACROSS = 5, LONGEST = 12 };
struct body {
  size_t n;
  rw_offset p[ACROSS * LONGEST];
};

static struct body random_body(uint64_t *seed)
{
  struct body b = {.n = 0};
  size_t stations = 4 + (size_t)(uniform(seed) * (LONGEST - 4));
  for (size_t i = 0; i < stations; i++) {
    double along = (double)i / (double)(stations - 1);
    double x = 4 * along + 0.1 * uniform(seed) / (double)stations;
    double beam = 0.15 + 0.35 * sin(pi * along) + 0.02 * uniform(seed);
    double depth = 0.2 + 0.1 * sin(pi * along) + 0.02 * uniform(seed);
    static const double half[ACROSS] = {0, 0.45, 0.8, 0.95, 1};
    static const double rise[ACROSS] = {-1, -0.93, -0.7, -0.4, 0};
    for (size_t j = 0; j < ACROSS; j++)
      b.p[b.n++] = (rw_offset){x, beam * half[j], depth * rise[j], j == 2};
  }
  return b;
}

static rw_hull *shaped(const struct body *b)
{
  rw_error err;
  rw_hull *h = NULL;
  assert_ok(rw_hull_from_offsets(b->p, b->n, &h, &err), &err);
  return h;
}

static double skin_of(const struct body *b)
{
  rw_hull *h = shaped(b);
  double from, to;
  rw_hull_span(h, &from, &to);
  double area = area_between(h, from, to).value;
  rw_hull_destroy(h);
  return area;
}

static void offsets_mirror_shift_and_scale(void **state)
{
  (void)state;
  uint64_t seed = 7;
  for (int k = 0; k < TRIALS / 4; k++) {
    struct body b = random_body(&seed), mirrored = b, moved = b, scaled = b;
    double area = skin_of(&b), c = 0.4 + uniform(&seed);
    size_t stations = b.n / ACROSS;
    for (size_t i = 0; i < b.n; i++) {
      size_t from = (stations - 1 - i / ACROSS) * ACROSS + i % ACROSS;
      mirrored.p[i] = b.p[from];
      mirrored.p[i].x = -b.p[from].x;
      moved.p[i].x += 1.25;
      moved.p[i].height += 0.75;
      scaled.p[i] = (rw_offset){c * b.p[i].x, c * b.p[i].half, c * b.p[i].height, b.p[i].knuckle};
    }
    assert_close_rel(skin_of(&mirrored), area, 1e-10);
    assert_close_rel(skin_of(&moved), area, 1e-10);
    assert_close_rel(skin_of(&scaled), c * c * area, 1e-10);
  }
}

/* Girths miss the slope along the hull, so the surface is never less than their integral. */
static void surface_is_not_below_its_girths(void **state)
{
  (void)state;
  uint64_t seed = 8;
  for (int k = 0; k < TRIALS / 4; k++) {
    struct body b = random_body(&seed);
    rw_hull *h = shaped(&b);
    double first, last, sum = 0;
    rw_hull_span(h, &first, &last);
    enum { STEPS = 2000 };
    for (int i = 0; i < STEPS; i++) {
      double g;
      rw_error err;
      assert_ok(rw_hull_girth(h, first + (last - first) * (i + 0.5) / STEPS, &g, &err), &err);
      sum += g * (last - first) / STEPS;
    }
    /* Rows at equal shares hold the girth between stations to about a thousandth. */
    assert_true(area_between(h, first, last).value > sum * (1 - 1e-3));
    parts_add_up(h, &seed);
    rw_hull_destroy(h);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(mirrored_along_is_the_same),
      cmocka_unit_test(area_scales),
      cmocka_unit_test(area_is_additive_in_girth),
      cmocka_unit_test(more_girth_is_more_area),
      cmocka_unit_test(girths_add_up),
      cmocka_unit_test(readings_agree),
      cmocka_unit_test(offsets_mirror_shift_and_scale),
      cmocka_unit_test(surface_is_not_below_its_girths),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
