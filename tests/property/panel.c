/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold for every panel, tried on invented random ones (fixed seed). */
#include "check.h"

#include <math.h>
#include <string.h>

static const double pi = 3.14159265358979323846;

typedef struct stream {
  uint64_t state;
} stream;

/* xorshift64*, to [low, high). */
static double between(stream *r, double low, double high)
{
  r->state ^= r->state >> 12;
  r->state ^= r->state << 25;
  r->state ^= r->state >> 27;
  double share = (double)((r->state * 2685821657736338717ull) >> 11) / 9007199254740992.0;
  return low + (high - low) * share;
}

enum { PLIES = 4 };
static void some_plies(stream *r, int straight, rw_ply ply[PLIES])
{
  for (size_t i = 0; i < PLIES; i++) {
    rw_lamina m = {.density = 1000, .E1 = between(r, 5e9, 40e9)};
    m.E2 = m.E1 * between(r, 0.1, 1);
    m.G12 = m.E1 * between(r, 0.05, 0.4);
    m.nu12 = between(r, 0.1, 0.3);
    double angle = straight ? (between(r, 0, 1) < 0.5 ? 0 : pi / 2) : between(r, -1.5, 1.5);
    ply[i] = (rw_ply){m, between(r, 1e-3, 3e-3), angle};
  }
}

static rw_stack stack_of(const rw_ply *ply, size_t n)
{
  rw_error err;
  rw_stack s;
  assert_ok(rw_stack_make(ply, n, &s, &err), &err);
  return s;
}

static rw_bent_plate *bend(const rw_stack *s, const rw_plate *plate, const rw_plate_load *load,
                           size_t loads)
{
  rw_error err = {.code = RW_OK};
  rw_bent_plate *p = NULL;
  rw_status status = rw_plate_bend(s, plate, load, loads, &p, &err);
  assert_true(status >= 0);
  return p;
}

static rw_plate_point place(const rw_bent_plate *p, double x, double y)
{
  rw_error err;
  rw_plate_point out;
  assert_ok(rw_bent_plate_at(p, x, y, &out, &err), &err);
  return out;
}

static rw_plate some_plate(stream *r)
{
  rw_plate plate = {.a = between(r, 0.4, 1), .b = between(r, 0.4, 1)};
  plate.edge_x = between(r, 0, 1) < 0.5 ? RW_EDGE_CLAMPED : RW_EDGE_SUPPORTED;
  plate.edge_y = between(r, 0, 1) < 0.5 ? RW_EDGE_CLAMPED : RW_EDGE_SUPPORTED;
  return plate;
}

static rw_plate_load some_patch(stream *r, const rw_plate *plate)
{
  rw_plate_load load = {.force = between(r, 10, 100)};
  load.along = plate->a * between(r, 0.1, 0.4);
  load.across = plate->b * between(r, 0.1, 0.4);
  load.x = between(r, load.along / 2, plate->a - load.along / 2);
  load.y = between(r, load.across / 2, plate->b - load.across / 2);
  return load;
}

static void some_shear(stream *r, rw_plate *plate)
{
  plate->shear[0] = between(r, 3e6, 3e7);
  plate->shear[1] = between(r, 3e6, 3e7);
}

static void loads_add_up(void **state)
{
  (void)state;
  stream r = {77};
  for (int round = 0; round < 4; round++) {
    rw_ply ply[PLIES];
    some_plies(&r, round % 2, ply);
    rw_stack s = stack_of(ply, PLIES);
    rw_plate plate = some_plate(&r);
    if (round >= 4)
      some_shear(&r, &plate);
    rw_plate_load load[2] = {some_patch(&r, &plate), {.pressure = -300, .wave = 200}};
    rw_bent_plate *both = bend(&s, &plate, load, 2);
    rw_bent_plate *first = bend(&s, &plate, &load[0], 1);
    rw_bent_plate *second = bend(&s, &plate, &load[1], 1);
    rw_plate_result of = rw_bent_plate_result(first), with = rw_bent_plate_result(second);
    double size = fabs(of.deepest.deflection) + fabs(with.deepest.deflection);
    double strain = fabs(of.surface_strain) + fabs(with.surface_strain);
    for (int i = 1; i < 6; i++) {
      double x = plate.a * i / 6, y = plate.b * (6 - i) / 6.5;
      rw_plate_point b = place(both, x, y), f = place(first, x, y), g = place(second, x, y);
      assert_close(b.deflection, f.deflection + g.deflection, 1e-3 * size);
      for (size_t k = 0; k < 3; k++)
        assert_close(b.upper[k], f.upper[k] + g.upper[k], 0.03 * strain);
    }
    rw_bent_plate_destroy(both);
    rw_bent_plate_destroy(first);
    rw_bent_plate_destroy(second);
  }
}

/* The panel turned by a right angle. */
static void sides_change_places(void **state)
{
  (void)state;
  stream r = {5};
  for (int round = 0; round < 8; round++) {
    rw_ply ply[PLIES];
    some_plies(&r, round % 2, ply);
    rw_stack s = stack_of(ply, PLIES);
    rw_plate plate = some_plate(&r);
    if (round >= 4)
      some_shear(&r, &plate);
    rw_plate_load load = some_patch(&r, &plate);
    for (size_t i = 0; i < PLIES; i++)
      ply[i].angle = pi / 2 - ply[i].angle;
    rw_stack t = stack_of(ply, PLIES);
    rw_plate turned = {
        plate.b, plate.a, plate.edge_y, plate.edge_x, {plate.shear[1], plate.shear[0], 0}};
    rw_plate_load load2 = {
        .force = load.force, .x = load.y, .y = load.x, .along = load.across, .across = load.along};
    rw_bent_plate *p = bend(&s, &plate, &load, 1), *q = bend(&t, &turned, &load2, 1);
    rw_plate_result of = rw_bent_plate_result(p), with = rw_bent_plate_result(q);
    assert_close_rel(of.deepest.deflection, with.deepest.deflection, 1e-6);
    assert_close_rel(of.surface_strain, with.surface_strain, 1e-3);
    assert_close_rel(of.held, with.held, 1e-6);
    rw_plate_point f = place(p, 0.3 * plate.a, 0.4 * plate.b);
    rw_plate_point g = place(q, 0.4 * plate.b, 0.3 * plate.a);
    for (size_t k = 0; k < 2; k++)
      assert_close(f.force[k], g.force[1 - k], 1e-5 * load.force / plate.a);
    assert_true((round >= 4) == (f.force[0] != 0 && f.force[1] != 0));
    assert_true(of.held > 0 && of.held < of.deepest.deflection);
    rw_plate_point u = place(p, load.x, load.y), v = place(q, load.y, load.x);
    assert_close(u.load[3], v.load[4], 1e-6 * load.force);
    assert_close(u.load[5], v.load[5], 1e-6 * load.force);
    rw_bent_plate_destroy(p);
    rw_bent_plate_destroy(q);
  }
}

static void whole_patch_is_pressure(void **state)
{
  (void)state;
  stream r = {6};
  for (int round = 0; round < 6; round++) {
    rw_ply ply[PLIES];
    some_plies(&r, round % 2, ply);
    rw_stack s = stack_of(ply, PLIES);
    rw_plate plate = some_plate(&r);
    rw_plate_load even = {.pressure = 100};
    rw_plate_load patch = {.force = 100 * plate.a * plate.b,
                           .x = plate.a / 2,
                           .y = plate.b / 2,
                           .along = plate.a,
                           .across = plate.b};
    rw_bent_plate *p = bend(&s, &plate, &even, 1), *q = bend(&s, &plate, &patch, 1);
    for (int i = 1; i < 6; i++) {
      double x = plate.a * i / 7, y = plate.b * i / 6;
      assert_close_rel(place(q, x, y).deflection, place(p, x, y).deflection, 1e-4);
    }
    rw_bent_plate_destroy(p);
    rw_bent_plate_destroy(q);
  }
}

/* Mean deflection of a patch. */
static double mean_over(const rw_bent_plate *p, const rw_plate_load *patch)
{
  double sum = 0;
  for (int i = 0; i < RW_NUM_GAUSS5; i++) {
    for (int j = 0; j < RW_NUM_GAUSS5; j++) {
      double u, v;
      double x = patch->x + patch->along * (rw_num_gauss5(i, &u) - 0.5);
      double y = patch->y + patch->across * (rw_num_gauss5(j, &v) - 0.5);
      sum += u * v * place(p, x, y).deflection;
    }
  }
  return sum;
}

/* Maxwell: what a load here does there, it would do here from there. */
static void reciprocity(void **state)
{
  (void)state;
  stream r = {8};
  for (int round = 0; round < 4; round++) {
    rw_ply ply[PLIES];
    some_plies(&r, round % 2, ply);
    rw_stack s = stack_of(ply, PLIES);
    rw_plate plate = some_plate(&r);
    if (round >= 4)
      some_shear(&r, &plate);
    rw_plate_load here = some_patch(&r, &plate), there = some_patch(&r, &plate);
    rw_bent_plate *p = bend(&s, &plate, &here, 1), *q = bend(&s, &plate, &there, 1);
    assert_close_rel(mean_over(p, &there) / here.force, mean_over(q, &here) / there.force, 1e-4);
    rw_bent_plate_destroy(p);
    rw_bent_plate_destroy(q);
  }
}

/* v = x^2 (a - x)^3 by derivatives: lopsided, so that D16 and D26 count. */
static double bump(double x, double a, int derivative)
{
  double c[6] = {0, 0, a * a * a, -3 * a * a, 3 * a, -1}, sum = 0;
  for (int i = 5; i >= derivative; i--) {
    double factor = c[i];
    for (int k = 0; k < derivative; k++)
      factor *= i - k;
    sum = sum * x + factor;
  }
  return sum;
}

/* Virtual work with a displacement that clamped edges allow: the integral of w times what would
 * bend the panel into v is the work of the true load on v. Nothing of the method is in it. */
static void virtual_work(void **state)
{
  (void)state;
  stream r = {9};
  for (int round = 0; round < 4; round++) {
    rw_ply ply[PLIES];
    some_plies(&r, 0, ply);
    for (size_t i = 0; i < PLIES / 2; i++)
      ply[PLIES - 1 - i] = ply[i]; /* no B */
    rw_stack s = stack_of(ply, PLIES);
    rw_plate plate = {
        between(&r, 0.4, 1), between(&r, 0.4, 1), RW_EDGE_CLAMPED, RW_EDGE_CLAMPED, {0}};
    rw_plate_load load = some_patch(&r, &plate);
    load.wave = between(&r, 300, 2000);
    rw_bent_plate *p = bend(&s, &plate, &load, 1);
    double a = plate.a, b = plate.b, inner = 0, outer = 0, waved = 0;
    enum { PIECES = 8, POINTS = PIECES * RW_NUM_GAUSS5 };
    for (int i = 0; i < POINTS; i++) {
      for (int j = 0; j < POINTS; j++) {
        double u, v, place_u = rw_num_gauss5(i % RW_NUM_GAUSS5, &u),
                     place_v = rw_num_gauss5(j % RW_NUM_GAUSS5, &v);
        double sx = (i / RW_NUM_GAUSS5 + place_u) / PIECES;
        double sy = (j / RW_NUM_GAUSS5 + place_v) / PIECES;
        double x = a * sx, y = b * sy;
        double f[5], g[5];
        for (int k = 0; k < 5; k++) {
          f[k] = bump(x, a, k);
          g[k] = bump(y, b, k);
        }
        const double *D = s.D;
        double pressure = D[0] * f[4] * g[0] + 4 * D[2] * f[3] * g[1] +
                          2 * (D[1] + 2 * D[8]) * f[2] * g[2] + 4 * D[5] * f[1] * g[3] +
                          D[4] * f[0] * g[4];
        inner += u * v * a * b / PIECES / PIECES * pressure * place(p, x, y).deflection;
        waved += u * v * a * b / PIECES / PIECES * load.wave * sin(pi * sx) * sin(pi * sy) * f[0] *
                 g[0];
        outer += u * v / PIECES / PIECES * bump(load.x + load.along * (sx - 0.5), a, 0) *
                 bump(load.y + load.across * (sy - 0.5), b, 0);
      }
    }
    assert_true(fabs(s.D[2]) > 1e-3 * s.D[0]);
    assert_true(waved > 0.1 * load.force * outer);
    assert_close_rel(inner, load.force * outer + waved, 1e-4);
    rw_bent_plate_destroy(p);
  }
}

/* The method for D16 and D26 runs into the series as they vanish. */
static void both_methods_agree(void **state)
{
  (void)state;
  stream r = {10};
  for (int round = 0; round < 4; round++) {
    rw_ply ply[PLIES];
    some_plies(&r, 1, ply);
    rw_stack s = stack_of(ply, PLIES), t = s;
    rw_plate plate = {.a = between(&r, 0.4, 1), .b = between(&r, 0.4, 1)};
    if (round >= 2)
      some_shear(&r, &plate);
    rw_plate_load load[2] = {{.pressure = 50}, some_patch(&r, &plate)};
    rw_bent_plate *p = bend(&s, &plate, load, 2);
    ply[0].angle += 1e-7;
    t = stack_of(ply, PLIES);
    rw_bent_plate *q = bend(&t, &plate, load, 2);
    assert_int_equal(rw_bent_plate_result(p).method, RW_PLATE_SERIES);
    assert_int_equal(rw_bent_plate_result(q).method, RW_PLATE_RITZ);
    assert_close_rel(rw_bent_plate_result(q).deepest.deflection,
                     rw_bent_plate_result(p).deepest.deflection, 1e-5);
    rw_bent_plate_destroy(p);
    rw_bent_plate_destroy(q);
  }
}

static void clamping_stiffens(void **state)
{
  (void)state;
  stream r = {11};
  for (int round = 0; round < 6; round++) {
    rw_ply ply[PLIES];
    some_plies(&r, round % 2, ply);
    rw_stack s = stack_of(ply, PLIES);
    rw_plate plate = {.a = between(&r, 0.4, 1), .b = between(&r, 0.4, 1)};
    rw_plate_load load = {.pressure = 10};
    double w[4];
    for (int i = 0; i < 4; i++) {
      plate.edge_x = i & 1 ? RW_EDGE_CLAMPED : RW_EDGE_SUPPORTED;
      plate.edge_y = i & 2 ? RW_EDGE_CLAMPED : RW_EDGE_SUPPORTED;
      rw_bent_plate *p = bend(&s, &plate, &load, 1);
      w[i] = rw_bent_plate_result(p).deepest.deflection;
      rw_bent_plate_destroy(p);
    }
    assert_true(w[0] > w[1] && w[0] > w[2] && w[1] > w[3] && w[2] > w[3] && w[3] > 0);
  }
}

/* Deflection of a resting isotropic panel in its middle by single series (Levy): the error given
 * covers what is left of the difference, and is not much too large. */
static void error_is_honest(void **state)
{
  (void)state;
  stream r = {14};
  for (int round = 0; round < 6; round++) {
    rw_ply ply = {{.density = 1, .E1 = 1e9, .E2 = 1e9, .G12 = 1e9 / 2.6, .nu12 = 0.3}, 0.01, 0};
    rw_stack s = stack_of(&ply, 1);
    double a = between(&r, 0.5, 1), b = a * between(&r, 1, 3), exact = 5.0 / 384;
    for (int i = 0; i < 40; i++) {
      double m = 2 * i + 1, u = m * pi * b / (2 * a), sign = i % 2 == 0 ? 1 : -1;
      exact -= sign * 4 / pow(m * pi, 5) * (u * tanh(u) + 2) / (2 * cosh(u));
    }
    exact *= 10 * a * a * a * a / s.D[0];
    rw_plate plate = {.a = a, .b = b};
    rw_plate_load load = {.pressure = 10};
    rw_bent_plate *p = bend(&s, &plate, &load, 1);
    rw_plate_result of = rw_bent_plate_result(p);
    double off = fabs(place(p, a / 2, b / 2).deflection / exact - 1);
    assert_true(off <= of.error + 1e-12 && of.error < 1e-4);
    rw_bent_plate_destroy(p);
  }
}

/* The coupling of both shears leans the panel to one side; mirrored it leans to the other. */
static void coupled_shears(void **state)
{
  (void)state;
  stream r = {13};
  rw_ply ply[PLIES];
  some_plies(&r, 1, ply);
  rw_stack s = stack_of(ply, PLIES);
  double w[4];
  for (int i = 0; i < 4; i++) {
    rw_plate plate = {.a = 0.3, .b = 0.25, .shear = {2e5, 3e5, i & 1 ? 1e5 : -1e5}};
    rw_plate_load load = {.force = 10, .x = 0.1, .along = 0.1, .across = 0.1};
    load.y = i & 2 ? 0.09 : 0.16;
    rw_bent_plate *p = bend(&s, &plate, &load, 1);
    w[i] = place(p, 0.2, load.y).deflection;
    /* Shear forces are what the moments change by. */
    double x = 0.22, y = load.y, d = 1e-4;
    rw_plate_point e = place(p, x + d, y), v = place(p, x - d, y);
    rw_plate_point n = place(p, x, y + d), u = place(p, x, y - d), at = place(p, x, y);
    double Qx = (e.load[3] - v.load[3] + n.load[5] - u.load[5]) / (2 * d);
    double Qy = (e.load[5] - v.load[5] + n.load[4] - u.load[4]) / (2 * d);
    assert_close(at.force[0], Qx, 0.03 * fabs(Qx));
    assert_close(at.force[1], Qy, 0.03 * fabs(Qx));
    rw_bent_plate_destroy(p);
  }
  assert_close_rel(w[0], w[3], 1e-6);
  assert_close_rel(w[1], w[2], 1e-6);
  assert_true(fabs(w[0] - w[1]) > 1e-3 * w[0]);
}

/* A panel ten times as long as wide is a wide strip across it. */
static void long_panel_is_a_strip(void **state)
{
  (void)state;
  stream r = {12};
  for (int round = 0; round < 4; round++) {
    rw_ply ply[PLIES];
    some_plies(&r, 1, ply);
    rw_stack s = stack_of(ply, PLIES);
    int clamped = round % 2;
    rw_plate plate = {.a = 0.2, .b = 2};
    rw_strip strip = {.span = 0.2, .wide = 1, .ends = RW_STRIP_SUPPORTED};
    if (clamped) {
      plate.edge_x = RW_EDGE_CLAMPED;
      strip.ends = RW_STRIP_CLAMPED;
    }
    if (round >= 2) {
      some_shear(&r, &plate);
      strip.shear = plate.shear[0];
    }
    rw_plate_load load = {.pressure = 10};
    rw_strip_load on_strip = {.pressure = 10};
    rw_bent_plate *p = bend(&s, &plate, &load, 1);
    rw_error err = {.code = RW_OK};
    rw_strip_result of;
    assert_true(rw_strip_bend(&s, &strip, &on_strip, 1, &of, &err) >= 0);
    rw_plate_point middle = place(p, 0.1, 1), edge = place(p, 0, 1);
    assert_close_rel(middle.deflection, of.deflection, 2e-3);
    assert_close_rel(clamped ? edge.load[3] : middle.load[3], of.moment, 2e-3);
    if (round >= 2)
      assert_close_rel(place(p, 0.05, 1).force[0], 10 * (0.1 - 0.05), 1e-2);
    rw_bent_plate_destroy(p);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(loads_add_up),
      cmocka_unit_test(sides_change_places),
      cmocka_unit_test(whole_patch_is_pressure),
      cmocka_unit_test(reciprocity),
      cmocka_unit_test(virtual_work),
      cmocka_unit_test(both_methods_agree),
      cmocka_unit_test(clamping_stiffens),
      cmocka_unit_test(long_panel_is_a_strip),
      cmocka_unit_test(coupled_shears),
      cmocka_unit_test(error_is_honest),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
