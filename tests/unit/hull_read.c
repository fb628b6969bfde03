/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hulls from table files; all files are invented. */
#include "tempfile.h"

#include <math.h>

static rw_hull *hull_of(const char *text)
{
  tempfile f = tempfile_with(text);
  rw_hull *h = NULL;
  rw_error err;
  assert_ok(rw_hull_read(f.path, &h, &err), &err);
  assert_non_null(h);
  tempfile_remove(&f);
  return h;
}

static double area_of(const rw_hull *h)
{
  double from, to;
  rw_value a = {NAN, NAN};
  rw_error err;
  rw_hull_span(h, &from, &to);
  assert_ok(rw_hull_area(h, from, to, &a, &err), &err);
  return a.value;
}

/* Refused with this status, told with the line (0: none) and these words; with and without a
 * record; nothing is made. */
static rw_error refused(const char *text, rw_status wanted, long line, const char *words)
{
  tempfile f = tempfile_with(text);
  rw_hull *h = NULL;
  rw_error err;
  assert_status(rw_hull_read(f.path, &h, &err), wanted, &err);
  check_explained(&err, words);
  assert_non_null(strstr(err.message, f.path));
  assert_int_equal(err.line, line);
  if (line > 0) {
    char place[32];
    snprintf(place, sizeof place, "line %ld", line);
    assert_non_null(strstr(err.message, place));
  }
  assert_true(err.hint[0] != '\0');
  assert_status(rw_hull_read(f.path, &h, NULL), wanted, NULL);
  assert_null(h);
  tempfile_remove(&f);
  return err;
}

/* Nine stations over 5.20 m: Simpson gives 0.65/3 25.360 m2. */
static void girths(void **state)
{
  (void)state;
  static const char *const texts[] = {
      "x [m],girth [mm]\n0,520\n0.65,905\n1.3,1130\n1.95,1260\n2.6,1300\n3.25,1255\n3.9,1120\n"
      "4.55,890\n5.2,500\n",
      "# invented\n\nGirth [ft];note;X [mm]\n"
      "1,706036745406824;stern;0\n2,96916010498688;;650\n3,7073490813648293;;1300\n"
      "4,133858267716535;;1950\n4,265091863517061;;2600\n4,117454068241469;;3250\n"
      "3,6745406824146984;;3900\n2,9199475065616798;;4550\n1,6404199475065617;bow;5200\n",
  };
  for (size_t i = 0; i < 2; i++) {
    rw_hull *h = hull_of(texts[i]);
    assert_close(area_of(h), 0.65 / 3 * 25.360, 1e-9);
    rw_hull_destroy(h);
  }
}

/* Flat panels, 1 m wide and 0.4 m deep with a chine: 3 m times 1.8 m. */
static void offsets_with_a_chine(void **state)
{
  (void)state;
  char text[800] = "x [m];half [cm];height [mm];knuckle\n";
  for (int i = 0; i < 4; i++) {
    size_t used = strlen(text);
    snprintf(text + used, sizeof text - used, "%d;0;0;0\n%d;50;0;1\n%d;50,0;400;0\n", i, i, i);
  }
  rw_hull *h = hull_of(text);
  assert_close(area_of(h), 5.4, 1e-9);
  rw_hull_destroy(h);
}

/* Without chines: half a cylinder of radius 0.5 m; and the same points given directly. */
static void offsets_without_chines(void **state)
{
  (void)state;
  enum { STATIONS = 4, ACROSS = 7 };
  char text[2000] = "x [m],half [m],height [m]\n";
  rw_offset point[STATIONS * ACROSS];
  for (int i = 0; i < STATIONS; i++)
    for (int k = 0; k < ACROSS; k++) {
      double angle = k * 3.14159265358979323846 / 2 / (ACROSS - 1);
      rw_offset *p = &point[i * ACROSS + k];
      *p = (rw_offset){i, 0.5 * sin(angle), -0.5 * cos(angle), 0};
      char half[32], height[32];
      rw_text_write(p->half, half);
      rw_text_write(p->height, height);
      size_t used = strlen(text);
      snprintf(text + used, sizeof text - used, "%d,%s,%s\n", i, half, height);
    }
  rw_error err;
  rw_hull *direct = NULL;
  assert_ok(rw_hull_from_offsets(point, STATIONS * ACROSS, &direct, &err), &err);
  rw_hull *h = hull_of(text);
  assert_close(area_of(h), area_of(direct), 0);
  assert_close(area_of(h), 1.5 * 3.14159265358979323846, 1e-2);
  rw_hull_destroy(h);
  rw_hull_destroy(direct);
}

/* A girth that jumps is computed, and said to be unusual. */
static void a_positive_status_comes_through(void **state)
{
  (void)state;
  tempfile f = tempfile_with("x [m],girth [m]\n0,0\n1,1\n2,0.2\n3,1\n4,0\n");
  rw_hull *h = NULL;
  rw_error err;
  assert_status(rw_hull_read(f.path, &h, &err), RW_OUTSIDE_TESTED, &err);
  assert_non_null(h);
  rw_hull_destroy(h);
  tempfile_remove(&f);
}

static void headers(void **state)
{
  (void)state;
  refused("x [m],girth\n0,520\n1,905\n2,500\n", RW_ERR_UNIT, 0, "does not say its unit");
  refused("x,girth [mm]\n0,520\n1,905\n2,500\n", RW_ERR_UNIT, 0, "does not say its unit");
  refused("x [m],girth [g]\n0,520\n1,905\n2,500\n", RW_ERR_UNIT, 0, "mass");
  refused("x [s],girth [mm]\n0,520\n1,905\n2,500\n", RW_ERR_UNIT, 0, "time");
  refused("x [m],girth [mmm]\n0,520\n1,905\n2,500\n", RW_ERR_UNIT, 0, "mmm");
  refused("girth [mm],station\n520,1\n", RW_ERR_NAME, 0, "\"x\"");
  refused("x [m],half [mm]\n0,0\n", RW_ERR_NAME, 0, "\"height\"");
  refused("x [m],half [mm],height [mm],knuckle [mm]\n0,0,0,0\n", RW_ERR_UNIT, 0, "length");
  rw_error err = refused("x [m],girt [mm]\n0,520\n", RW_ERR_NAME, 0, "girt [mm]");
  assert_non_null(strstr(err.hint, "girth [mm]"));
  assert_non_null(strstr(err.hint, "half [mm]"));
  refused("x [m],girth [mm],half [mm]\n0,520,0\n", RW_ERR_NAME, 0, "both");
}

static void cells(void **state)
{
  (void)state;
  rw_error err = refused("x [m],girth [mm]\n0,520\n1,wide\n2,500\n", RW_ERR_SYNTAX, 3, "wide");
  assert_int_equal(err.column, 3);
  err = refused("x [m];girth [mm]\n0;520\n\n1,5;\n2;500\n", RW_ERR_SYNTAX, 4, "empty");
  assert_int_equal(err.column, 5);
  refused("x [m],girth [mm]\n0,520\n1,905,7\n2,500\n", RW_ERR_SYNTAX, 3, "3");
  refused("x [m],half [mm],height [mm]\n0,0,0\n0,x,1\n", RW_ERR_SYNTAX, 3, "half [mm]");
  refused("x [m],half [mm],height [mm],knuckle\n0,0,0,\n", RW_ERR_SYNTAX, 2, "knuckle");
}

/* What the hull refuses is told with its line, in files with comments and empty lines, too. */
static void girths_that_cannot_be(void **state)
{
  (void)state;
  refused("# a\nx [m],girth [mm]\n0,520\n\n1,-905\n2,500\n", RW_ERR_RANGE, 5, "-0.905 m");
  refused("x [m],girth [mm]\n0,-1\n1,905\n2,500\n", RW_ERR_RANGE, 2, "girth");
  refused("x [m],girth [mm]\n0,0\n1,905\n2,0\n3,900\n", RW_ERR_RANGE, 4, "found 0 m");
  refused("x [m],girth [m]\n0,1\n1,2\n2,500\n", RW_ERR_RANGE, 4, "500 m");
  refused("x [mm],girth [mm]\n0,500\n1e9,700\n2,900\n", RW_ERR_RANGE, 3, "x");
  refused("x [m],girth [mm]\n0,500\n2,700\n1,900\n3,600\n2.5,600\n", RW_ERR_ORDER, 4, "station 3");
  refused("x [m],girth [mm]\n0,500\n1,700\n1.0000001,900\n3,600\n", RW_ERR_ORDER, 4, "station 3");
  refused("x [m],girth [mm]\n0,520\n1,905\n", RW_ERR_ARGUMENT, 0, "three stations");
  refused("x [m],girth [mm]\n", RW_ERR_ARGUMENT, 0, "three stations");
}

static void offsets_that_cannot_be(void **state)
{
  (void)state;
#define HEADER "x [m],half [mm],height [mm],knuckle\n"
  refused(HEADER "0,0,0,0\n0,-9,9,0\n1,0,0,0\n1,9,9,0\n2,0,0,0\n2,9,9,0\n", RW_ERR_RANGE, 3,
          "half");
  refused(HEADER "0,0,0,0\n0,9,9,0\n1,0,0,0\n1,9,9e9,0\n2,0,0,0\n2,9,9,0\n", RW_ERR_RANGE, 5,
          "height");
  refused(HEADER "0,0,0,0\n0,9,9,0\n2e3,0,0,0\n2e3,9,9,0\n", RW_ERR_RANGE, 4, "x");
  refused(HEADER "0,0,0,0\n0,9,9,0\n1,0,0,0\n1,9,9,0\n0.5,0,0,0\n2,9,9,0\n", RW_ERR_ORDER, 6,
          "point 5");
  refused(HEADER "0,0,0,0\n0,9,9,0\n1,0,0,0\n1,9,9,0\n1,9,9,0\n2,9,9,0\n", RW_ERR_ORDER, 6,
          "same place");
  refused(HEADER "0,0,0,0\n0,9,9,2\n", RW_ERR_RANGE, 3, "knuckle");
  refused(HEADER "0,0,0,0\n0,9,9,0\n1,0,0,0\n1,5,1,1\n1,9,9,0\n2,0,0,0\n2,9,9,0\n",
          RW_ERR_ARGUMENT, 0, "knuckles");
  refused(HEADER "0,0,0,0\n0,9,9,0\n1,0,0,0\n1,9,9,0\n", RW_ERR_ARGUMENT, 0, "three stations");
#undef HEADER
}

static void files(void **state)
{
  (void)state;
  rw_hull *h = NULL;
  rw_error err;
  assert_status(rw_hull_read("no/such/file.csv", &h, &err), RW_ERR_FILE, &err);
  check_explained(&err, "no/such/file.csv");
  assert_status(rw_hull_read(".", &h, &err), RW_ERR_FILE, &err);
  check_explained(&err, "folder");
  tempfile f = tempfile_with("");
  assert_status(rw_hull_read(f.path, &h, &err), RW_ERR_SYNTAX, &err);
  check_explained(&err, "empty");
  assert_status(rw_hull_read(f.path, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_hull_read(NULL, &h, &err), RW_ERR_ARGUMENT, &err);
  assert_null(h);
  tempfile_remove(&f);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(girths),
      cmocka_unit_test(offsets_with_a_chine),
      cmocka_unit_test(offsets_without_chines),
      cmocka_unit_test(a_positive_status_comes_through),
      cmocka_unit_test(headers),
      cmocka_unit_test(cells),
      cmocka_unit_test(girths_that_cannot_be),
      cmocka_unit_test(offsets_that_cannot_be),
      cmocka_unit_test(files),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
