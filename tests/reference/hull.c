/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Published and recomputed skin areas, and how fast the surface comes to them. */
#include "check.h"

#include <math.h>
#include <stdlib.h>

static const double pi = 3.14159265358979323846;

static double whole_area(const rw_hull *h)
{
  rw_error err;
  rw_value area = {NAN, NAN};
  double from, to;
  rw_hull_span(h, &from, &to);
  assert_ok(rw_hull_area(h, from, to, &area, &err), &err);
  return area.value;
}

static double girth_area(double step, const double *girth, size_t n)
{
  rw_error err;
  rw_hull *h = NULL;
  double x[16];
  assert_true(n <= sizeof x / sizeof x[0]);
  for (size_t i = 0; i < n; i++)
    x[i] = step * (double)i;
  assert_ok(rw_hull_from_girths(x, girth, n, &h, &err), &err);
  double area = whole_area(h);
  rw_hull_destroy(h);
  return area;
}

/* Invented hulls: nine girths, arithmetic done by hand beforehand. */
static void invented_hulls(void **state)
{
  (void)state;
  static const double canoe[] = {0.520, 0.905, 1.130, 1.260, 1.300, 1.255, 1.120, 0.890, 0.500};
  static const double kayak[] = {0.300, 0.620, 0.860, 0.980, 1.040, 0.990, 0.850, 0.600, 0.280};
  static const double skiff[] = {0.620, 1.020, 1.290, 1.430, 1.480, 1.440, 1.330, 1.180, 1.020};
  static const double sailer[] = {1.10, 1.95, 2.55, 2.90, 3.05, 3.00, 2.80, 2.50, 2.20};
  check_point("hull", "job-1", girth_area(5.20 / 8, canoe, 9));
  check_point("hull", "job-3", girth_area(6.40 / 8, kayak, 9));
  check_point("hull", "job-4", girth_area(4.90 / 8, skiff, 9));
  check_point("hull", "job-5", girth_area(0.78, sailer, 9));
}

static void simpson_exercises(void **state)
{
  (void)state;
  static const double half[] = {0, 3.7, 5.9, 7.6, 7.5, 4.6, 0.1};
  double both[7], thousands[7];
  static const double waterplane[] = {5850, 5885, 5900, 5915, 5943, 5975, 5995};
  for (size_t i = 0; i < 7; i++) {
    both[i] = 2 * half[i];
    thousands[i] = waterplane[i] / 1000;
  }
  check_point("hull", "S1", girth_area(20, both, 7));
  check_point("hull", "S3", girth_area(1, thousands, 7));
}

/* The shape of a half section at each station: x, half-breadth and height of point j of m. */
typedef rw_offset shape(double along, double across, const double size[3]);

static rw_hull *hull_of(shape *f, const double size[3], size_t stations, size_t points, int cosine,
                        int pointed)
{
  rw_offset *p = calloc(stations * points, sizeof *p);
  assert_non_null(p);
  size_t n = 0;
  for (size_t i = 0; i < stations; i++) {
    double s = (double)i / (double)(stations - 1);
    double along = cosine ? -cos(pi * s) : 2 * s - 1;
    size_t here = pointed && (i == 0 || i + 1 == stations) ? 1 : points;
    for (size_t j = 0; j < here; j++)
      p[n++] = f(along, (double)j / (double)(points - 1), size);
  }
  rw_error err;
  rw_hull *h = NULL;
  assert_ok(rw_hull_from_offsets(p, n, &h, &err), &err);
  free(p);
  return h;
}

static double area_of(shape *f, const double size[3], size_t stations, size_t points, int cosine,
                      int pointed)
{
  rw_hull *h = hull_of(f, size, stations, points, cosine, pointed);
  double area = whole_area(h);
  rw_hull_destroy(h);
  return area;
}

/* Both halves, keel over the side to the top: the closed ellipsoid. */
static rw_offset ellipsoid(double along, double across, const double size[3])
{
  double r = fabs(along) < 1 ? sqrt(1 - along * along) : 0;
  return (rw_offset){.x = size[0] * along,
                     .half = across < 1 ? size[1] * r * sin(pi * across) : 0,
                     .height = -size[2] * r * cos(pi * across)};
}

static const double axes[3] = {4.7, 1.1, 1.2};
static const double ellipsoid_area = 54.6901240998;

static void ellipsoid_area_is_met(void **state)
{
  (void)state;
  check_point("hull", "E1", area_of(ellipsoid, axes, 129, 129, 1, 1));
}

/* Stations at cosine spacing: fourth order (16 for each halving; the two poles cost a little). */
static void blunt_ends_converge(void **state)
{
  (void)state;
  double coarse = fabs(area_of(ellipsoid, axes, 33, 129, 1, 1) - ellipsoid_area);
  double medium = fabs(area_of(ellipsoid, axes, 65, 129, 1, 1) - ellipsoid_area);
  double fine = fabs(area_of(ellipsoid, axes, 129, 129, 1, 1) - ellipsoid_area);
  print_message("ellipsoid, cosine spacing: rates %.2f %.2f\n", log2(coarse / medium),
                log2(medium / fine));
  assert_true(coarse > 12 * medium);
  assert_true(medium > 12 * fine);
}

/* Stations evenly spaced: the first gap holds the blunt end, where the second order is left. */
static void blunt_ends_converge_slowly_when_evenly_spaced(void **state)
{
  (void)state;
  double coarse = fabs(area_of(ellipsoid, axes, 17, 65, 0, 1) - ellipsoid_area);
  double medium = fabs(area_of(ellipsoid, axes, 33, 65, 0, 1) - ellipsoid_area);
  double fine = fabs(area_of(ellipsoid, axes, 65, 65, 0, 1) - ellipsoid_area);
  print_message("ellipsoid, even spacing: rates %.2f %.2f\n", log2(coarse / medium),
                log2(medium / fine));
  assert_true(coarse > 4 * medium);
  assert_true(medium > 4 * fine);
}

/* Points across, stations fine enough not to matter. */
static void points_across_converge(void **state)
{
  (void)state;
  double coarse = fabs(area_of(ellipsoid, axes, 129, 9, 1, 1) - ellipsoid_area);
  double medium = fabs(area_of(ellipsoid, axes, 129, 17, 1, 1) - ellipsoid_area);
  double fine = fabs(area_of(ellipsoid, axes, 129, 33, 1, 1) - ellipsoid_area);
  print_message("ellipsoid, points across: rates %.2f %.2f\n", log2(coarse / medium),
                log2(medium / fine));
  assert_true(coarse > 12 * medium);
  assert_true(medium > 12 * fine);
}

/* Length, breadth, draught: y = B/2 (1 - (2x/L)^2)(1 - (z/T)^2). */
static rw_offset parabolic(double along, double across, const double size[3])
{
  double depth = 1 - across;
  return (rw_offset){.x = size[0] / 2 * along,
                     .half = size[1] / 2 * (1 - along * along) * (1 - depth * depth),
                     .height = -size[2] * depth};
}

/* The same area by Simpson's rule on the closed form of its integrand. */
static double parabolic_area(const double size[3])
{
  enum { STEPS = 400 };
  double sum = 0;
  for (int i = 0; i <= STEPS; i++) {
    double along = (double)i / STEPS; /* half of the length, by symmetry */
    double wi = i == 0 || i == STEPS ? 1 : i % 2 == 1 ? 4 : 2;
    for (int j = 0; j <= STEPS; j++) {
      double depth = (double)j / STEPS;
      double wj = j == 0 || j == STEPS ? 1 : j % 2 == 1 ? 4 : 2;
      double by_x = -2 * size[1] / size[0] * along * (1 - depth * depth);
      double by_z = -size[1] / size[2] * depth * (1 - along * along);
      sum += wi * wj * sqrt(1 + by_x * by_x + by_z * by_z);
    }
  }
  return 2 * size[0] * size[2] * sum / (9.0 * STEPS * STEPS);
}

static void parabolic_hulls(void **state)
{
  (void)state;
  static const double one[3] = {4, 0.4, 0.25}, two[3] = {5, 1, 0.5}, three[3] = {3, 0.3, 0.1875};
  double area = area_of(parabolic, one, 65, 65, 0, 0);
  check_point("hull", "G1", area);
  check_point("hull", "G2", area / 16);
  check_point("hull", "G3", area / (4 * 0.9));
  check_point("hull", "G5", area_of(parabolic, two, 65, 65, 0, 0));
  check_point("hull", "G6", area_of(parabolic, three, 65, 65, 0, 0));
}

/* Fourth order (16 for each halving) counted from the coarsest: two errors of opposite sign cross
 * on the way, so neighbouring errors alone would not tell. */
static void parabolic_hull_converges(void **state)
{
  (void)state;
  static const double size[3] = {4, 0.4, 0.25};
  double exact = parabolic_area(size);
  double coarse = fabs(area_of(parabolic, size, 9, 9, 0, 0) - exact);
  double medium = fabs(area_of(parabolic, size, 17, 17, 0, 0) - exact);
  double fine = fabs(area_of(parabolic, size, 33, 33, 0, 0) - exact);
  double finest = fabs(area_of(parabolic, size, 65, 65, 0, 0) - exact);
  print_message("parabolic hull: rates %.2f %.2f %.2f\n", log2(coarse / medium),
                log2(medium / fine), log2(fine / finest));
  assert_true(coarse > 16 * medium);
  assert_true(coarse > 16 * 16 * fine);
  assert_true(coarse > 16 * 16 * 16 * finest);
  assert_close_rel(area_of(parabolic, size, 129, 129, 0, 0), exact, 1e-9);
}

enum { STATIONS = 15, POINTS = 5 };

static size_t read_canoe(rw_offset *p)
{
  static const double inch = 0.0254;
  rw_table *t = check_table("table_canoe1883");
  size_t n = rw_table_rows(t);
  assert_int_equal(n, 2 * 2 + 13 * POINTS);
  for (size_t row = 0; row < n; row++)
    p[row] = (rw_offset){.x = 12 * inch * check_cell(t, row, "station"),
                         .half = inch * check_cell(t, row, "half"),
                         .height = inch * check_cell(t, row, "height")};
  rw_table_destroy(t);
  return n;
}

/* Point j of station i, the two straight ends cut into as many pieces as the others have. */
static rw_offset canoe_point(const rw_offset *p, size_t i, size_t j)
{
  if (i > 0 && i + 1 < STATIONS)
    return p[2 + (i - 1) * POINTS + j];
  const rw_offset *a = i == 0 ? &p[0] : &p[2 + 13 * POINTS];
  double share = (double)j / (POINTS - 1);
  return (rw_offset){.x = a->x,
                     .half = a->half + share * (a[1].half - a->half),
                     .height = a->height + share * (a[1].height - a->height)};
}

static double triangle(rw_offset a, rw_offset b, rw_offset c)
{
  double u[3] = {b.x - a.x, b.half - a.half, b.height - a.height};
  double v[3] = {c.x - a.x, c.half - a.half, c.height - a.height};
  double nx = u[1] * v[2] - u[2] * v[1], ny = u[2] * v[0] - u[0] * v[2];
  return hypot(hypot(nx, ny), u[0] * v[1] - u[1] * v[0]) / 2;
}

/* Flat panels between the points given, the mean of both ways to cut each into triangles. */
static double panels(const rw_offset *p)
{
  double sum = 0;
  for (size_t i = 0; i + 1 < STATIONS; i++)
    for (size_t j = 0; j + 1 < POINTS; j++) {
      rw_offset a = canoe_point(p, i, j), b = canoe_point(p, i, j + 1);
      rw_offset c = canoe_point(p, i + 1, j + 1), d = canoe_point(p, i + 1, j);
      sum += triangle(a, b, c) + triangle(a, c, d) + triangle(a, b, d) + triangle(b, c, d);
    }
  return sum; /* two halves, halved for the two ways */
}

/* Girths as chains of straight lines, and their trapezoid sum. */
static double straight_girths(const rw_offset *p, double girth[STATIONS])
{
  double sum = 0;
  for (size_t i = 0; i < STATIONS; i++) {
    girth[i] = 0;
    for (size_t j = 0; j + 1 < POINTS; j++) {
      rw_offset a = canoe_point(p, i, j), b = canoe_point(p, i, j + 1);
      girth[i] += 2 * hypot(b.half - a.half, b.height - a.height);
    }
    if (i > 0)
      sum += (girth[i] + girth[i - 1]) / 2 * (p[2 + POINTS].x - p[2].x);
  }
  return sum;
}

static const double canoe_within = 0.01; /* see table_canoe1883.csv */

/* With a knuckle at every point the surface is straight across, as flat panels are. */
static void canoe_in_flat_panels(void **state)
{
  (void)state;
  rw_offset p[STATIONS * POINTS], chined[STATIONS * POINTS];
  read_canoe(p);
  double girth[STATIONS];
  straight_girths(p, girth);
  for (size_t i = 0; i < STATIONS; i++)
    for (size_t j = 0; j < POINTS; j++) {
      chined[i * POINTS + j] = canoe_point(p, i, j);
      chined[i * POINTS + j].knuckle = 1;
    }
  rw_error err;
  rw_hull *h = NULL;
  assert_ok(rw_hull_from_offsets(chined, STATIONS * POINTS, &h, &err), &err);
  double by_surface = whole_area(h), by_panels = panels(p);
  double by_simpson = girth_area(chined[POINTS].x - chined[0].x, girth, STATIONS);
  print_message("canoe, straight across: surface %.4f, Simpson %.4f, panels %.4f m2\n", by_surface,
                by_simpson, by_panels);
  assert_close_rel(by_surface, by_panels, canoe_within);
  assert_close_rel(by_simpson, by_panels, canoe_within);
  assert_true(by_surface > by_panels); /* flat panels cut the curve along the hull short */
  rw_hull_destroy(h);
}

/* Splined across: girths know nothing of the slope along the hull; flat panels tell its size. */
static void canoe_in_splines(void **state)
{
  (void)state;
  rw_offset p[STATIONS * POINTS];
  size_t n = read_canoe(p);
  rw_error err;
  rw_hull *surface = NULL, *tape = NULL;
  assert_ok(rw_hull_from_offsets(p, n, &surface, &err), &err);
  const double *x, *girth;
  double straight[STATIONS];
  assert_int_equal(rw_hull_stations(surface, &x, &girth), STATIONS);
  assert_ok(rw_hull_from_girths(x, girth, STATIONS, &tape, &err), &err);
  rw_value by_simpson;
  assert_ok(rw_hull_area(tape, x[0], x[STATIONS - 1], &by_simpson, &err), &err);
  double slope = panels(p) / straight_girths(p, straight);
  double by_surface = whole_area(surface);
  print_message("canoe, splined: surface %.4f, Simpson %.4f sd %.4f m2, slope %.4f\n", by_surface,
                by_simpson.value, by_simpson.sd, slope);
  assert_close_rel(by_surface, slope * by_simpson.value, canoe_within);
  assert_close(by_surface, by_simpson.value, 3 * by_simpson.sd);
  for (size_t i = 0; i < STATIONS; i++)
    assert_true(girth[i] >= straight[i] * (1 - 1e-12)); /* a curve is longer than its chords */
  rw_hull_destroy(surface);
  rw_hull_destroy(tape);
}

static void every_row_was_used(void **state)
{
  (void)state;
  check_all_points_used("hull");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(invented_hulls),
      cmocka_unit_test(simpson_exercises),
      cmocka_unit_test(ellipsoid_area_is_met),
      cmocka_unit_test(blunt_ends_converge),
      cmocka_unit_test(blunt_ends_converge_slowly_when_evenly_spaced),
      cmocka_unit_test(points_across_converge),
      cmocka_unit_test(parabolic_hulls),
      cmocka_unit_test(parabolic_hull_converges),
      cmocka_unit_test(canoe_in_flat_panels),
      cmocka_unit_test(canoe_in_splines),
      cmocka_unit_test(every_row_was_used),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
