/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statuses, closed forms and readings of the room hull. */
#include "check.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double pi = 3.14159265358979323846;

static rw_hull *made(const double *x, const double *girth, size_t n)
{
  rw_error err;
  rw_hull *h = NULL;
  assert_ok(rw_hull_from_girths(x, girth, n, &h, &err), &err);
  assert_non_null(h);
  return h;
}

static rw_hull *shaped(const rw_offset *p, size_t n)
{
  rw_error err;
  rw_hull *h = NULL;
  assert_ok(rw_hull_from_offsets(p, n, &h, &err), &err);
  assert_non_null(h);
  return h;
}

static rw_value area_between(const rw_hull *h, double from, double to)
{
  rw_error err;
  rw_value a = {NAN, NAN};
  assert_ok(rw_hull_area(h, from, to, &a, &err), &err);
  return a;
}

static const double five_x[] = {0, 1, 2, 3, 4};
static const double five_girth[] = {0, 0.9, 1.2, 0.9, 0};

/* Stations evenly spaced and odd in count: Simpson's rule; 1/3 (0 + 4*0.9 + 2*1.2 + 4*0.9 + 0). */
static void even_stations_use_simpson(void **state)
{
  (void)state;
  rw_hull *h = made(five_x, five_girth, 5);
  assert_close_rel(area_between(h, 0, 4).value, 9.6 / 3, 1e-14);
  rw_hull_destroy(h);
}

/* Four stations, and five unevenly spaced: the spline, exact for a parabola 4x - x^2. */
static void other_stations_use_the_spline(void **state)
{
  (void)state;
  static const double x4[] = {0.5, 1.5, 2.5, 3.5}, x5[] = {0.5, 1, 2.1, 3, 3.5};
  double g4[4], g5[5];
  for (size_t i = 0; i < 4; i++)
    g4[i] = x4[i] * (4 - x4[i]);
  for (size_t i = 0; i < 5; i++)
    g5[i] = x5[i] * (4 - x5[i]);
  double exact = 2 * (3.5 * 3.5 - 0.25) - (3.5 * 3.5 * 3.5 - 0.125) / 3;
  rw_hull *a = made(x4, g4, 4), *b = made(x5, g5, 5);
  assert_close_rel(area_between(a, 0.5, 3.5).value, exact, 1e-13);
  assert_close_rel(area_between(b, 0.5, 3.5).value, exact, 1e-13);
  double part = 2 * (2.25 - 1) - (3.375 - 1) / 3;
  assert_close_rel(area_between(a, 1, 1.5).value, part, 1e-13);
  assert_close_rel(area_between(b, 1, 1.5).value, part, 1e-13);
  rw_hull_destroy(a);
  rw_hull_destroy(b);
}

/* Half of 1e-9 of the spacing is still even, ten times that is not. (Up to five stations the two
 * rules are the same.) */
static void evenness_has_a_limit(void **state)
{
  (void)state;
  double x[] = {0, 1, 2, 3, 4, 5, 6};
  static const double girth[] = {0.2, 0.9, 1.3, 0.7, 1.1, 0.9, 0.1};
  double simpson = (0.3 + 4 * 2.5 + 2 * 2.4) / 3;
  x[1] += 5e-10;
  rw_hull *even = made(x, girth, 7);
  x[1] += 1e-8;
  rw_hull *uneven = made(x, girth, 7);
  assert_close_rel(area_between(even, 0, 6).value, simpson, 1e-14);
  assert_true(fabs(area_between(uneven, 0, 6).value - simpson) > 1e-4);
  rw_hull_destroy(even);
  rw_hull_destroy(uneven);
}

/* Straight girths: no rule differs; tape 0.5 % and slope A (sqrt(1 + (g'/4)^2) - 1) remain. */
static void spread_of_a_tapering_hull(void **state)
{
  (void)state;
  static const double x[] = {0, 1, 2, 3, 4}, girth[] = {0.4, 0.8, 1.2, 1.6, 2.0};
  rw_hull *h = made(x, girth, 5);
  double slope = hypot(1, 0.1) - 1;
  rw_value whole = area_between(h, 0, 4), part = area_between(h, 1.3, 2.9);
  assert_close_rel(whole.value, 4.8, 1e-14);
  assert_close_rel(whole.sd, 4.8 * hypot(0.005, slope), 1e-12);
  double middle = 1.6 * (0.4 + 0.4 * 2.1);
  assert_close_rel(part.value, middle, 1e-13);
  assert_close_rel(part.sd, middle * hypot(0.005, slope), 1e-12);
  rw_hull_destroy(h);
}

/* The difference to the trapezoid rule, with the slope of a parabola integrated in closed form:
 * g = c (4 - (x-2)^2) through every station, g'/4 = s (x-2) with s = -c/2. */
static void spread_holds_the_trapezoid(void **state)
{
  (void)state;
  static const double c = 0.3;
  double girth[5];
  for (size_t i = 0; i < 5; i++)
    girth[i] = c * five_x[i] * (4 - five_x[i]);
  rw_hull *h = made(five_x, girth, 5);
  double simpson = c * 32 / 3, trapezoid = c * (3 + 4 + 3);
  double slope = 0; /* midpoint rule, fine enough for 1e-8 */
  enum { STEPS = 40000 };
  for (int i = 0; i < STEPS; i++) {
    double t = 4 * (i + 0.5) / STEPS;
    slope += 4.0 / STEPS * c * t * (4 - t) * (hypot(1, c * (4 - 2 * t) / 4) - 1);
  }
  rw_value a = area_between(h, 0, 4);
  assert_close_rel(a.value, simpson, 1e-14);
  double rule = (simpson - trapezoid) / 4;
  double expected = sqrt(rule * rule + pow(0.005 * simpson, 2) + slope * slope);
  assert_close_rel(a.sd, expected, 1e-7);
  rw_hull_destroy(h);
}

static void girth_is_read_back(void **state)
{
  (void)state;
  rw_error err;
  rw_hull *h = made(five_x, five_girth, 5);
  double g = -1;
  for (size_t i = 0; i < 5; i++) {
    assert_ok(rw_hull_girth(h, five_x[i], &g, &err), &err);
    assert_close(g, five_girth[i], 1e-15);
  }
  g = -1;
  static const double beyond[] = {-0.01, 4.01, NAN, HUGE_VAL};
  for (size_t i = 0; i < 4; i++) {
    assert_status(rw_hull_girth(h, beyond[i], &g, &err), RW_ERR_COVERAGE, &err);
    check_explained(&err, "x");
    assert_close(err.low, 0, 0);
    assert_close(err.high, 4, 0);
    assert_int_equal(err.code, RW_ERR_COVERAGE);
  }
  assert_close(g, -1, 0);
  assert_ok(rw_hull_girth(h, 4 + 1e-10, &g, &err), &err); /* added up in binary */
  assert_close(g, 0, 0);
  assert_status(rw_hull_girth(NULL, 1, &g, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_hull_girth(h, 1, NULL, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "girth");
  rw_hull_destroy(h);
}

/* A spline that dips below 0 beside a sudden widening: the girth stays at 0, no area is lost. */
static void girth_is_never_below_zero(void **state)
{
  (void)state;
  static const double x[] = {0, 1, 2, 3, 4, 5, 6}, girth[] = {0, 0.01, 0.01, 2, 2, 2, 2};
  rw_error err;
  rw_hull *h = NULL;
  assert_status(rw_hull_from_girths(x, girth, 7, &h, &err), RW_OUTSIDE_TESTED, &err);
  assert_non_null(h);
  double lowest = 1;
  for (double at = 0; at <= 6; at += 0.01) {
    double g;
    assert_ok(rw_hull_girth(h, at, &g, &err), &err);
    lowest = fmin(lowest, g);
  }
  assert_close(lowest, 0, 0);
  double before = 0;
  for (double at = 0.01; at <= 6; at += 0.01) {
    double here = area_between(h, 0, at).value;
    assert_true(here >= before);
    before = here;
  }
  rw_hull_destroy(h);
}

static void parts_are_within_the_hull(void **state)
{
  (void)state;
  rw_error err;
  rw_hull *h = made(five_x, five_girth, 5);
  rw_value a = {-1, -1};
  assert_status(rw_hull_area(h, -0.1, 2, &a, &err), RW_ERR_COVERAGE, &err);
  check_explained(&err, "from");
  assert_status(rw_hull_area(h, 0, 4.1, &a, &err), RW_ERR_COVERAGE, &err);
  check_explained(&err, "to");
  assert_status(rw_hull_area(h, NAN, 4, &a, &err), RW_ERR_COVERAGE, &err);
  assert_status(rw_hull_area(h, 0, NAN, &a, &err), RW_ERR_COVERAGE, &err);
  assert_status(rw_hull_area(h, 2, 2, &a, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "to");
  assert_status(rw_hull_area(h, 3, 2, &a, &err), RW_ERR_RANGE, &err);
  assert_status(rw_hull_area(h, 3, 2, &a, NULL), RW_ERR_RANGE, NULL);
  assert_status(rw_hull_area(NULL, 0, 4, &a, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_hull_area(h, 0, 4, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_close(a.value, -1, 0);
  assert_close(a.sd, -1, 0);
  rw_hull_destroy(h);
}

/* g = 1.5 - (x-2)^2/4 through five stations: widest 1.5 at 2; above L within 2 sqrt(1.5 - L). */
static void widest_and_wider_than(void **state)
{
  (void)state;
  static const double x[] = {0, 0.7, 1.5, 3.1, 4};
  double girth[5];
  for (size_t i = 0; i < 5; i++)
    girth[i] = 1.5 - (x[i] - 2) * (x[i] - 2) / 4;
  rw_hull *h = made(x, girth, 5);
  double at, most, from, to;
  rw_hull_widest(h, &at, &most);
  assert_close(at, 2, 1e-12);
  assert_close(most, 1.5, 1e-13);
  rw_hull_widest(h, NULL, NULL);
  for (double limit = 0.55; limit < 1.5; limit += 0.1) {
    double half = 2 * sqrt(1.5 - limit);
    assert_close(rw_hull_wider_than(h, limit, &from, &to), 2 * half, 1e-12);
    assert_close(from, 2 - half, 1e-12);
    assert_close(to, 2 + half, 1e-12);
  }
  assert_close(rw_hull_wider_than(h, 1.5001, &from, &to), 0, 0);
  assert_true(isnan(from) && isnan(to));
  assert_close(rw_hull_wider_than(h, NAN, NULL, NULL), 0, 0);
  assert_close(rw_hull_wider_than(h, 0.3, &from, &to), 4, 0);
  assert_close(from, 0, 0);
  assert_close(to, 4, 0);
  assert_close(rw_hull_wider_than(h, -1, NULL, NULL), 4, 0);
  rw_hull_destroy(h);
}

/* Two humps: one stretch from the first to the last, the waist counted in. */
static void wider_than_spans_a_waist(void **state)
{
  (void)state;
  static const double x[] = {0, 1, 2, 3, 4}, girth[] = {0.5, 1.2, 0.6, 1.2, 0.5};
  rw_hull *h = made(x, girth, 5);
  double from, to, g;
  double length = rw_hull_wider_than(h, 1, &from, &to);
  assert_close(length, to - from, 0);
  assert_true(from < 1 && to > 3);
  assert_close(from + to, 4, 1e-12);
  rw_error err;
  assert_ok(rw_hull_girth(h, from, &g, &err), &err);
  assert_close(g, 1, 1e-12);
  rw_hull_destroy(h);
}

static void stations_and_span(void **state)
{
  (void)state;
  rw_hull *h = made(five_x, five_girth, 5);
  const double *x, *girth;
  double from, to;
  assert_int_equal(rw_hull_stations(h, &x, &girth), 5);
  assert_int_equal(rw_hull_stations(h, NULL, NULL), 5);
  assert_memory_equal(x, five_x, sizeof five_x);
  assert_memory_equal(girth, five_girth, sizeof five_girth);
  rw_hull_span(h, &from, &to);
  rw_hull_span(h, NULL, NULL);
  assert_close(from, 0, 0);
  assert_close(to, 4, 0);
  rw_hull_destroy(h);
  rw_hull_destroy(NULL);
}

static void bands_are_equal(void **state)
{
  (void)state;
  rw_error err;
  rw_hull *h = made(five_x, five_girth, 5);
  double edge[201];
  static const size_t counts[] = {1, 2, 3, 7, 200};
  for (size_t c = 0; c < sizeof counts / sizeof counts[0]; c++) {
    size_t n = counts[c];
    assert_ok(rw_hull_bands(h, n, edge, &err), &err);
    assert_close(edge[0], 0, 0);
    assert_close(edge[n], 4, 0);
    double sum = 0;
    for (size_t k = 0; k < n; k++) {
      double band = area_between(h, edge[k], edge[k + 1]).value;
      assert_close(band, 3.2 / (double)n, 1e-12);
      sum += band;
    }
    assert_close_rel(sum, 3.2, 1e-13);
  }
  double untouched = -1;
  assert_status(rw_hull_bands(h, 0, &untouched, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "n");
  assert_status(rw_hull_bands(h, 201, &untouched, &err), RW_ERR_RANGE, &err);
  assert_status(rw_hull_bands(NULL, 2, edge, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_hull_bands(h, 2, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_close(untouched, -1, 0);
  rw_hull_destroy(h);
}

static void refuse_girths(const double *x, const double *girth, size_t n, rw_status wanted,
                          const char *word)
{
  rw_error err;
  rw_hull *h = NULL;
  assert_status(rw_hull_from_girths(x, girth, n, &h, &err), wanted, &err);
  assert_null(h);
  check_explained(&err, word);
  assert_string_equal(err.function, "rw_hull_from_girths");
  assert_status(rw_hull_from_girths(x, girth, n, &h, NULL), wanted, NULL);
}

static void bad_girths_are_refused(void **state)
{
  (void)state;
  static const double good_x[] = {0, 1, 2}, good[] = {0.5, 1, 0.5};
  refuse_girths(good_x, good, 2, RW_ERR_ARGUMENT, "three stations");
  refuse_girths(good_x, good, 0, RW_ERR_ARGUMENT, "three stations");
  refuse_girths(NULL, good, 3, RW_ERR_ARGUMENT, "x");
  refuse_girths(good_x, NULL, 3, RW_ERR_ARGUMENT, "girth");
  assert_status(rw_hull_from_girths(good_x, good, 3, NULL, NULL), RW_ERR_ARGUMENT, NULL);
  refuse_girths((double[]){0, NAN, 2}, good, 3, RW_ERR_ARGUMENT, "station 2");
  refuse_girths(good_x, (double[]){0.5, 1, HUGE_VAL}, 3, RW_ERR_ARGUMENT, "station 3");
  refuse_girths((double[]){0, 2, 1}, good, 3, RW_ERR_ORDER, "station 3");
  refuse_girths((double[]){0, 1, 1}, good, 3, RW_ERR_ORDER, "station 3");
  refuse_girths((double[]){0, 1, 1 + 1e-7}, good, 3, RW_ERR_ORDER, "station 3");
  refuse_girths((double[]){0, 2600, 5200}, good, 3, RW_ERR_RANGE, "x");
  refuse_girths(good_x, (double[]){520, 1300, 500}, 3, RW_ERR_RANGE, "girth");
  refuse_girths(good_x, (double[]){0.5, 0, 0.5}, 3, RW_ERR_RANGE, "girth");
  refuse_girths(good_x, (double[]){-0.1, 1, 0.5}, 3, RW_ERR_RANGE, "girth");
}

static void jumps_are_told(void **state)
{
  (void)state;
  static const double x[] = {0, 1, 2, 3, 4};
  rw_error err;
  rw_hull *h = NULL;
  assert_status(rw_hull_from_girths(x, (double[]){0.1, 0.2, 0.85, 0.8, 0.1}, 5, &h, &err),
                RW_OUTSIDE_TESTED, &err);
  rw_hull_destroy(h);
  assert_ok(rw_hull_from_girths(x, (double[]){0.1, 0.25, 0.9, 0.8, 0.1}, 5, &h, &err), &err);
  rw_hull_destroy(h);
}

static void refuse_offsets(const rw_offset *p, size_t n, rw_status wanted, const char *word)
{
  rw_error err;
  rw_hull *h = NULL;
  assert_status(rw_hull_from_offsets(p, n, &h, &err), wanted, &err);
  assert_null(h);
  check_explained(&err, word);
  assert_string_equal(err.function, "rw_hull_from_offsets");
  assert_status(rw_hull_from_offsets(p, n, &h, NULL), wanted, NULL);
}

enum { WEDGE = 9 };
static void wedge(rw_offset p[WEDGE])
{
  for (size_t i = 0; i < 3; i++) {
    double x = 1 + (double)i;
    p[3 * i] = (rw_offset){x, 0, 0, 0};
    p[3 * i + 1] = (rw_offset){x, 0.3, 0.1, 0};
    p[3 * i + 2] = (rw_offset){x, 0.5, 0.6, 0};
  }
}

static void bad_offsets_are_refused(void **state)
{
  (void)state;
  rw_offset p[WEDGE];
  wedge(p);
  rw_hull_destroy(shaped(p, WEDGE));
  refuse_offsets(NULL, WEDGE, RW_ERR_ARGUMENT, "point");
  assert_status(rw_hull_from_offsets(p, WEDGE, NULL, NULL), RW_ERR_ARGUMENT, NULL);
  refuse_offsets(p, 0, RW_ERR_ARGUMENT, "three stations");
  refuse_offsets(p, 6, RW_ERR_ARGUMENT, "three stations");
  p[4].half = NAN;
  refuse_offsets(p, WEDGE, RW_ERR_ARGUMENT, "point 5");
  wedge(p);
  p[4].half = -0.3;
  refuse_offsets(p, WEDGE, RW_ERR_RANGE, "half");
  p[4].half = 300;
  refuse_offsets(p, WEDGE, RW_ERR_RANGE, "half");
  wedge(p);
  p[4].height = 1200;
  refuse_offsets(p, WEDGE, RW_ERR_RANGE, "height");
  wedge(p);
  p[0].x = p[1].x = p[2].x = -1800;
  refuse_offsets(p, WEDGE, RW_ERR_RANGE, "x");
  wedge(p);
  p[6].x = p[7].x = p[8].x = 1.5;
  refuse_offsets(p, WEDGE, RW_ERR_ORDER, "point 7");
  p[6].x = p[7].x = p[8].x = 2 + 1e-8;
  refuse_offsets(p, WEDGE, RW_ERR_ORDER, "point 7");
  wedge(p);
  p[4] = p[3];
  refuse_offsets(p, WEDGE, RW_ERR_ORDER, "points 4 and 5");
  wedge(p);
  p[4].knuckle = 1;
  refuse_offsets(p, WEDGE, RW_ERR_ARGUMENT, "knuckle");
  wedge(p);
  p[3].knuckle = p[5].knuckle = 1; /* at keel and sheer: means nothing */
  rw_hull_destroy(shaped(p, WEDGE));
  wedge(p);
  p[3] = p[5];
  memmove(&p[4], &p[6], 3 * sizeof *p);
  refuse_offsets(p, 7, RW_ERR_ARGUMENT, "station 2");
}

/* A flat-bottomed boat with a chine: flat bottom 2b and two leaning sides, the same all along. */
static void prism_with_a_chine(void **state)
{
  (void)state;
  rw_offset p[12];
  for (size_t i = 0; i < 4; i++) {
    double x = 0.9 * (double)i;
    p[3 * i] = (rw_offset){x, 0, 0, 0};
    p[3 * i + 1] = (rw_offset){x, 0.4, 0, 1};
    p[3 * i + 2] = (rw_offset){x, 0.55, 0.36, 0};
  }
  rw_hull *h = shaped(p, 12);
  double girth = 2 * (0.4 + 0.39);
  assert_close_rel(area_between(h, 0, 2.7).value, 2.7 * girth, 1e-13);
  assert_close_rel(area_between(h, 0.2, 1.3).value, 1.1 * girth, 1e-12);
  assert_close_rel(area_between(h, 0, 2.7).sd, 0.005 * 2.7 * girth, 1e-9);
  const double *g;
  rw_hull_stations(h, NULL, &g);
  for (size_t i = 0; i < 4; i++)
    assert_close_rel(g[i], girth, 1e-14);
  rw_hull_destroy(h);
}

/* A pointed bow of two flat panels: keel rising from (L, -d) to (0, 0), sheer level. Half area
 * is L^2/2 sqrt(b^2 d^2 + d^2 + b^2) per unit taper; the girths alone would miss b^2 d^2. */
static void flat_bow_with_slope(void **state)
{
  (void)state;
  static const double b = 0.5, d = 0.7;
  rw_offset p[7];
  size_t n = 0;
  p[n++] = (rw_offset){0, 0, 0, 0};
  for (int i = 1; i < 4; i++) {
    p[n++] = (rw_offset){i, 0, -d * i, 0};
    p[n++] = (rw_offset){i, b * i, 0, 0};
  }
  rw_hull *h = shaped(p, n);
  double unit = sqrt(b * b * d * d + d * d + b * b);
  assert_close_rel(area_between(h, 0, 3).value, 9 * unit, 1e-13);
  assert_close_rel(area_between(h, 0.5, 2).value, (4 - 0.25) * unit, 1e-12);
  double g;
  rw_error err;
  assert_ok(rw_hull_girth(h, 1.7, &g, &err), &err);
  assert_close_rel(g, 2 * 1.7 * hypot(b, d), 1e-12);
  double edge[5];
  assert_ok(rw_hull_bands(h, 4, edge, &err), &err);
  for (size_t k = 0; k < 5; k++)
    assert_close(edge[k], 3 * sqrt((double)k / 4), 1e-12);
  rw_hull_destroy(h);
}

/* A half round of radius r: nine points leave little of the circle out. */
static void half_round(void **state)
{
  (void)state;
  static const double r = 0.45;
  rw_offset p[27];
  for (size_t i = 0; i < 3; i++)
    for (size_t j = 0; j < 9; j++) {
      double a = pi / 2 * (double)j / 8;
      p[9 * i + j] = (rw_offset){(double)i, r * sin(a), -r * cos(a), 0};
    }
  rw_hull *h = shaped(p, 27);
  assert_close_rel(area_between(h, 0, 2).value, 2 * pi * r, 1e-5); /* splines of 11 degrees */
  rw_hull_destroy(h);
}

/* A transom put in as one point and, a finger behind, a full station: the skin must not fold back
 * or swing out, and the area is that of a disc and a tube. */
static void transom_does_not_fold(void **state)
{
  (void)state;
  static const double r = 0.4, gap = 0.001;
  static const double x[] = {0.001, 0.5, 1, 1.5, 2};
  rw_offset p[1 + 5 * 17];
  size_t n = 0;
  p[n++] = (rw_offset){0, 0, 0, 0};
  for (size_t i = 0; i < 5; i++)
    for (size_t j = 0; j < 17; j++) {
      double a = pi * (double)j / 16;
      p[n++] = (rw_offset){x[i], j == 16 ? 0 : r * sin(a), -r * cos(a), 0};
    }
  rw_hull *h = shaped(p, n);
  double exact = pi * r * r + 2 * pi * r * (2 - gap);
  /* A spline swings out by up to a tenth of the 0.5 m gap beside the square edge. */
  assert_close(area_between(h, 0, 2).value, exact, 0.1 * 0.5 * 2 * pi * r);
  double before = -1;
  for (int k = 1; k <= 400; k++) {
    double here = area_between(h, 0, 2.0 * k / 400).value;
    assert_true(here > before);
    before = here;
  }
  double g, most;
  rw_error err;
  for (int k = 0; k <= 100; k++)
    assert_ok(rw_hull_girth(h, 2.0 * k / 100, &g, &err), &err);
  rw_hull_widest(h, NULL, &most);
  assert_true(most < 2 * pi * r * 1.1);
  rw_hull_destroy(h);
}

/* The same hull, the same bits. */
static void repeats_bit_for_bit(void **state)
{
  (void)state;
  rw_offset p[WEDGE];
  wedge(p);
  p[4].half = 0.37;
  rw_hull *a = shaped(p, WEDGE), *b = shaped(p, WEDGE);
  rw_value one = area_between(a, 1, 2.7), two = area_between(b, 1, 2.7);
  assert_memory_equal(&one, &two, sizeof one);
  rw_hull_destroy(a);
  rw_hull_destroy(b);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(even_stations_use_simpson),
      cmocka_unit_test(other_stations_use_the_spline),
      cmocka_unit_test(evenness_has_a_limit),
      cmocka_unit_test(spread_of_a_tapering_hull),
      cmocka_unit_test(spread_holds_the_trapezoid),
      cmocka_unit_test(girth_is_read_back),
      cmocka_unit_test(girth_is_never_below_zero),
      cmocka_unit_test(parts_are_within_the_hull),
      cmocka_unit_test(widest_and_wider_than),
      cmocka_unit_test(wider_than_spans_a_waist),
      cmocka_unit_test(stations_and_span),
      cmocka_unit_test(bands_are_equal),
      cmocka_unit_test(bad_girths_are_refused),
      cmocka_unit_test(jumps_are_told),
      cmocka_unit_test(bad_offsets_are_refused),
      cmocka_unit_test(prism_with_a_chine),
      cmocka_unit_test(flat_bow_with_slope),
      cmocka_unit_test(half_round),
      cmocka_unit_test(transom_does_not_fold),
      cmocka_unit_test(repeats_bit_for_bit),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
