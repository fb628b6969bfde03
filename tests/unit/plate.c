/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Panels: what is refused and by which name, what is warned of, where the worst lies. */
#include "check.h"

#include <math.h>
#include <string.h>

/* Invented: 6 mm of a light wood between two layers of glass cloth, strips along x. */
enum { PLIES = 3 };
static void sheathed(rw_ply ply[PLIES])
{
  rw_lamina glass = {.density = 1700,
                     .E1 = 18e9,
                     .E2 = 18e9,
                     .G12 = 3e9,
                     .nu12 = 0.13,
                     .Xt = 300e6,
                     .Xc = 250e6,
                     .Yt = 300e6,
                     .Yc = 250e6,
                     .S = 40e6};
  rw_lamina wood = {.density = 350,
                    .E1 = 8e9,
                    .E2 = 0.5e9,
                    .G12 = 0.6e9,
                    .nu12 = 0.3,
                    .Xt = 50e6,
                    .Xc = 30e6,
                    .Yt = 2e6,
                    .Yc = 4e6,
                    .S = 6e6};
  ply[0] = (rw_ply){glass, 0.25e-3, 0};
  ply[1] = (rw_ply){wood, 6e-3, 0};
  ply[2] = (rw_ply){glass, 0.25e-3, 0};
}

static rw_stack stack_of(const rw_ply *ply, size_t n)
{
  rw_error err;
  rw_stack s;
  assert_ok(rw_stack_make(ply, n, &s, &err), &err);
  return s;
}

typedef struct scene {
  rw_stack s;
  rw_plate plate;
  rw_plate_load load;
} scene;

static scene floor_panel(void)
{
  rw_ply ply[PLIES];
  sheathed(ply);
  return (scene){stack_of(ply, PLIES),
                 {.a = 0.9, .b = 0.62},
                 {.force = 40, .x = 0.4, .y = 0.3, .along = 0.053, .across = 0.053}};
}

static void refused(scene c, rw_status wanted, const char *argument)
{
  rw_error err = {.code = RW_OK};
  rw_bent_plate *p = NULL;
  assert_status(rw_plate_bend(&c.s, &c.plate, &c.load, 1, &p, &err), wanted, &err);
  assert_string_equal(err.argument, argument);
  assert_string_equal(err.function, "rw_plate_bend");
  assert_true(err.hint[0] != '\0');
  assert_null(p);
  assert_status(rw_plate_bend(&c.s, &c.plate, &c.load, 1, &p, NULL), wanted, NULL);
}

static void bad_panels(void **state)
{
  (void)state;
  scene c = floor_panel();
  c.s = (rw_stack){.thickness = 0};
  refused(c, RW_ERR_RANGE, "s.thickness");
  c = floor_panel();
  c.plate.a = -1;
  refused(c, RW_ERR_RANGE, "a");
  c = floor_panel();
  c.plate.b = NAN;
  refused(c, RW_ERR_RANGE, "b");
  c.plate.b = 9.1;
  refused(c, RW_ERR_RANGE, "b");
  c.plate.b = 0.089;
  refused(c, RW_ERR_RANGE, "b");
  c = floor_panel();
  c.plate.edge_y = (rw_plate_edge)7;
  refused(c, RW_ERR_ARGUMENT, "edge_y");
  c = floor_panel();
  c.plate.shear[0] = 1e6;
  refused(c, RW_ERR_RANGE, "shear[1]");
  c.plate.shear[1] = 1e6;
  c.plate.shear[2] = -1e6;
  refused(c, RW_ERR_RANGE, "shear[2]");
}

static void bad_loads(void **state)
{
  (void)state;
  scene c = floor_panel();
  c.load = (rw_plate_load){.x = 0.1};
  refused(c, RW_ERR_ARGUMENT, "load");
  c.load.pressure = INFINITY;
  refused(c, RW_ERR_RANGE, "load[1].pressure");
  c = floor_panel();
  c.load.force = NAN;
  refused(c, RW_ERR_RANGE, "load[1].force");
  c = floor_panel();
  c.load.along = 0;
  refused(c, RW_ERR_RANGE, "load[1].along");
  c.load.along = 0.91;
  refused(c, RW_ERR_RANGE, "load[1].along");
  c = floor_panel();
  c.load.x = 0.02;
  refused(c, RW_ERR_RANGE, "load[1].x");
  c = floor_panel();
  c.load.y = 0.6;
  refused(c, RW_ERR_RANGE, "load[1].y");
  c = floor_panel();
  rw_error err;
  rw_bent_plate *p = NULL;
  assert_status(rw_plate_bend(&c.s, &c.plate, &c.load, 0, &p, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "loads");
  assert_status(rw_plate_bend(NULL, &c.plate, &c.load, 1, &p, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "s");
  assert_status(rw_plate_bend(&c.s, NULL, &c.load, 1, &p, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_plate_bend(&c.s, &c.plate, NULL, 1, &p, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_plate_bend(&c.s, &c.plate, &c.load, 1, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "out");
  assert_null(p);
}

static rw_bent_plate *bent(const scene *c, rw_status wanted, rw_error *err)
{
  rw_bent_plate *p = NULL;
  *err = (rw_error){.code = RW_OK};
  assert_status(rw_plate_bend(&c->s, &c->plate, &c->load, 1, &p, err), wanted, err);
  return p;
}

static void warnings(void **state)
{
  (void)state;
  rw_error err;
  scene c = floor_panel();
  rw_bent_plate_destroy(bent(&c, RW_OK, &err));
  c.load.force = 100;
  rw_bent_plate *p = bent(&c, RW_OUTSIDE_TESTED, &err);
  assert_string_equal(err.argument, "deflection");
  assert_close(err.value, rw_bent_plate_result(p).depth, 1e-12);
  rw_bent_plate_destroy(p);
  /* Short: without shear that is said, with shear only where it counts for much. */
  c = floor_panel();
  c.plate = (rw_plate){.a = 0.13, .b = 0.12};
  c.load = (rw_plate_load){.pressure = 100};
  p = bent(&c, RW_OUTSIDE_TESTED, &err);
  assert_string_equal(err.argument, "shear");
  assert_close_rel(err.value, 0.12 / 6.5e-3, 1e-9);
  rw_bent_plate_destroy(p);
  c.plate.shear[0] = c.plate.shear[1] = 3e6;
  p = bent(&c, RW_OK, &err);
  assert_true(rw_bent_plate_result(p).shear_share > 0.01);
  rw_bent_plate_destroy(p);
  c.plate.shear[0] = c.plate.shear[1] = 2e5;
  p = bent(&c, RW_OUTSIDE_TESTED, &err);
  assert_string_equal(err.argument, "shear");
  assert_close(err.value, rw_bent_plate_result(p).shear_share, 1e-12);
  rw_bent_plate_destroy(p);
}

static void where_it_is_worst(void **state)
{
  (void)state;
  rw_error err;
  scene c = floor_panel();
  rw_bent_plate *p = bent(&c, RW_OK, &err);
  rw_plate_result r = rw_bent_plate_result(p);
  assert_int_equal(r.method, RW_PLATE_SERIES);
  assert_int_equal(r.coupling, RW_COUPLING_NONE);
  assert_true(r.error < 1e-3 && r.strain_error < 0.02);
  assert_true(r.terms >= 64);
  assert_close(r.slenderness, 0.62 / 6.5e-3, 1e-9);
  assert_true(r.deepest.deflection > 0 && r.surface_strain != 0);
  /* Under the heel the face away from it is stretched; the worst lies within the patch. */
  assert_true(fabs(r.stretched.x - 0.4) < 0.0266 && fabs(r.stretched.y - 0.3) < 0.0266);
  assert_true(r.stretched.upper[1] > 0 && r.stretched.lower[1] < 0);
  assert_close(r.stretched.upper[1], r.stretched.strain[1] + 3.25e-3 * r.stretched.strain[4],
               1e-12);
  for (int i = -3; i <= 3; i++) {
    for (int j = -3; j <= 3; j++) {
      rw_plate_point q;
      assert_ok(rw_bent_plate_at(p, 0.45 + 0.14 * i, 0.31 + 0.1 * j, &q, &err), &err);
      assert_true(q.deflection <= r.deepest.deflection);
    }
  }
  for (int i = -8; i <= 8; i++) {
    for (int j = -8; j <= 8; j++) {
      rw_plate_point q;
      assert_ok(rw_bent_plate_at(p, r.deepest.x + 1e-3 * i, r.deepest.y + 1e-3 * j, &q, &err),
                &err);
      assert_true(q.deflection <= r.deepest.deflection * (1 + 1e-7));
    }
  }
  rw_bent_plate_destroy(p);
  /* Clamped: an even pressure strains the middle of the edges most. */
  c.plate.edge_x = c.plate.edge_y = RW_EDGE_CLAMPED;
  c.load = (rw_plate_load){.pressure = 100};
  p = bent(&c, RW_OK, &err);
  r = rw_bent_plate_result(p);
  assert_int_equal(r.method, RW_PLATE_RITZ);
  assert_true(r.stretched.x == 0 || r.stretched.x == 0.9 || r.stretched.y == 0 ||
              r.stretched.y == 0.62);
  rw_bent_plate_destroy(p);
}

/* D16 makes resting corners sharp: the greatest strain is not looked for there. */
static void sharp_corners(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina wood = {.density = 350, .E1 = 8e9, .E2 = 0.5e9, .G12 = 0.6e9, .nu12 = 0.3};
  rw_ply ply = {wood, 6.5e-3, 0.6};
  scene c = floor_panel();
  c.s = stack_of(&ply, 1);
  c.load = (rw_plate_load){.pressure = 20};
  rw_bent_plate *p = bent(&c, RW_OK, &err);
  rw_plate_result r = rw_bent_plate_result(p);
  double x = fmin(r.stretched.x, 0.9 - r.stretched.x);
  double y = fmin(r.stretched.y, 0.62 - r.stretched.y);
  assert_true(hypot(x, y) >= 0.031);
  rw_plate_point corner;
  assert_ok(rw_bent_plate_at(p, 0, 0, &corner, &err), &err);
  assert_true(fabs(corner.upper[2]) > 2 * fabs(r.surface_strain));
  rw_bent_plate_destroy(p);
}

/* A half wave of sine on a square with Poisson's ratio 0 has a closed form: f + 1.125 (w/h)^2 f^3
 * = 1 with w the linear deflection. */
static void edges_that_cannot_slide(void **state)
{
  (void)state;
  rw_error err;
  rw_ply ply = {{.density = 500, .E1 = 1e9, .E2 = 1e9, .G12 = 0.5e9, .nu12 = 0}, 0.01, 0};
  scene c = {stack_of(&ply, 1), {.a = 1, .b = 1}, {.wave = 1}};
  const double wave[] = {0.1, 100, 300, -1000};
  for (size_t i = 0; i < 4; i++) {
    c.load.wave = wave[i];
    rw_bent_plate *p = NULL;
    assert_true(rw_plate_bend(&c.s, &c.plate, &c.load, 1, &p, &err) >= 0);
    rw_plate_result r = rw_bent_plate_result(p);
    double w = r.deepest.deflection, f = r.held / w;
    assert_close(f + 1.125 * w * w / 1e-4 * f * f * f, 1, 1e-5);
    assert_true(i == 0 ? f > 0.99999 : f < 0.99);
    rw_bent_plate_destroy(p);
  }
}

/* Loads and strains of a place belong together, whatever becomes of B. */
static void loads_belong_to_strains(void **state)
{
  (void)state;
  rw_error err;
  rw_lamina m = {.density = 500, .E1 = 9e9, .E2 = 1e9, .G12 = 0.7e9, .nu12 = 0.3};
  rw_ply ply[] = {{m, 3e-3, 0.7}, {m, 3e-3, -0.7}, {m, 1e-3, 0}};
  const rw_plate_coupling wanted[] = {RW_COUPLING_ANGLE, RW_COUPLING_REDUCED};
  for (size_t i = 0; i < 2; i++) {
    scene c = floor_panel();
    c.s = stack_of(ply, 2 + i);
    c.load.force = 10;
    rw_bent_plate *p = bent(&c, RW_OK, &err);
    assert_int_equal(rw_bent_plate_result(p).coupling, wanted[i]);
    rw_plate_point q;
    double strain[6];
    assert_ok(rw_bent_plate_at(p, 0.3, 0.25, &q, &err), &err);
    rw_stack_strain(&c.s, q.load, strain);
    for (size_t k = 0; k < 6; k++)
      assert_close(strain[k], q.strain[k], 1e-9 * fabs(q.strain[k < 3 ? 2 : 3]));
    if (wanted[i] == RW_COUPLING_REDUCED)
      assert_close(q.load[0], 0, 0);
    else
      assert_true(fabs(q.load[2]) > 1);
    rw_bent_plate_destroy(p);
  }
}

static void places_are_checked(void **state)
{
  (void)state;
  rw_error err;
  scene c = floor_panel();
  rw_bent_plate *p = bent(&c, RW_OK, &err);
  rw_plate_point q;
  assert_status(rw_bent_plate_at(p, -0.01, 0.1, &q, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "x");
  assert_status(rw_bent_plate_at(p, 0.1, 0.63, &q, &err), RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "y");
  assert_status(rw_bent_plate_at(NULL, 0.1, 0.1, &q, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_bent_plate_at(p, 0.1, 0.1, NULL, &err), RW_ERR_ARGUMENT, &err);
  rw_bent_plate_destroy(p);
  rw_bent_plate_destroy(NULL);
}

static void first_failure(void **state)
{
  (void)state;
  rw_error err;
  rw_ply ply[PLIES];
  sheathed(ply);
  scene c = floor_panel();
  c.load.force = 20;
  rw_bent_plate *p = bent(&c, RW_OK, &err);
  rw_plate_failure f;
  assert_ok(rw_bent_plate_failure(p, ply, PLIES, RW_TSAI_WU, &f, &err), &err);
  /* That load brings its place to failure, and no other place before. */
  rw_plate_point q;
  rw_first_failure there;
  assert_ok(rw_bent_plate_at(p, f.x, f.y, &q, &err), &err);
  assert_ok(rw_stack_first_failure(ply, PLIES, &c.s, q.load, RW_TSAI_WU, &there, &err), &err);
  assert_close_rel(there.factor, f.failure.factor, 1e-9);
  assert_int_equal(there.ply, f.failure.ply);
  for (int i = 1; i < 30; i++) {
    for (int j = 1; j < 30; j++) {
      assert_ok(rw_bent_plate_at(p, 0.03 * i, 0.62 * j / 30, &q, &err), &err);
      assert_ok(rw_stack_first_failure(ply, PLIES, &c.s, q.load, RW_TSAI_WU, &there, &err), &err);
      assert_true(there.factor >= f.failure.factor * (1 - 1e-6));
    }
  }
  /* Twice the load, half the factor. */
  scene twice = c;
  twice.load.force *= 2;
  rw_bent_plate *hard = bent(&twice, RW_OK, &err);
  rw_plate_failure g;
  assert_ok(rw_bent_plate_failure(hard, ply, PLIES, RW_TSAI_WU, &g, &err), &err);
  assert_close_rel(2 * g.failure.factor, f.failure.factor, 1e-9);
  rw_bent_plate_destroy(hard);
  /* Refusals. */
  rw_plate_failure before = g;
  ply[1].thickness = 5e-3;
  assert_status(rw_bent_plate_failure(p, ply, PLIES, RW_TSAI_WU, &g, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "ply");
  sheathed(ply);
  assert_status(rw_bent_plate_failure(p, ply, 0, RW_TSAI_WU, &g, &err), RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "ply");
  assert_status(rw_bent_plate_failure(p, ply, PLIES, (rw_criterion)9, &g, &err), RW_ERR_ARGUMENT,
                &err);
  assert_string_equal(err.argument, "criterion");
  assert_string_equal(err.function, "rw_bent_plate_failure");
  for (size_t i = 0; i < PLIES; i++)
    ply[i].material.Xt = 0;
  assert_status(rw_bent_plate_failure(p, ply, PLIES, RW_TSAI_WU, &g, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_bent_plate_failure(NULL, ply, PLIES, RW_TSAI_WU, &g, &err), RW_ERR_ARGUMENT,
                &err);
  assert_memory_equal(&g, &before, sizeof g);
  rw_bent_plate_destroy(p);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(bad_panels),
      cmocka_unit_test(bad_loads),
      cmocka_unit_test(warnings),
      cmocka_unit_test(where_it_is_worst),
      cmocka_unit_test(places_are_checked),
      cmocka_unit_test(sharp_corners),
      cmocka_unit_test(loads_belong_to_strains),
      cmocka_unit_test(edges_that_cannot_slide),
      cmocka_unit_test(first_failure),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
