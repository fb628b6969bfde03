/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Edges of runaway and conduction against published values and exact solutions. */
#include "check.h"

#include <math.h>
#include <stdio.h>

static const double ZERO = 273.15, PI = 3.14159265358979323846;

static rw_critical held(rw_shape shape)
{
  rw_critical c = {0};
  rw_error err;
  assert_ok(rw_runaway_critical(shape, HUGE_VAL, &c, &err), &err);
  return c;
}

static void edges_of_runaway(void **state)
{
  (void)state;
  rw_critical slab = held(RW_SHAPE_SLAB), cylinder = held(RW_SHAPE_CYLINDER);
  rw_critical sphere = held(RW_SHAPE_SPHERE), uniform = {0};
  check_point("heat", "fk-slab", slab.delta);
  check_point("heat", "fk-slab-rise", slab.theta);
  check_point("heat", "fk-cylinder", cylinder.delta);
  check_point("heat", "fk-cylinder-rise", cylinder.theta);
  check_point("heat", "fk-sphere", sphere.delta);
  check_point("heat", "fk-sphere-rise", sphere.theta);
  check_point("heat", "fk-slab-read", slab.delta);
  check_point("heat", "fk-cylinder-read", cylinder.delta);
  check_point("heat", "fk-sphere-read", sphere.delta);
  check_point("heat", "fk-slab-abstract", slab.delta);
  rw_error err;
  assert_ok(rw_runaway_uniform(&uniform, &err), &err);
  check_point("heat", "semenov", uniform.delta);
  check_point("heat", "semenov-rise", uniform.theta);
}

static void worked_slab(void **state)
{
  (void)state;
  const double size[] = {0.1, 0.2, 0.4}, recomputed[] = {31.438, 21.585, 12.363};
  static const char *const point[] = {"worked-0.1", "worked-0.2", "worked-0.4"};
  static const char *const delta_point[] = {"worked-delta-0.1", "worked-delta-0.2",
                                            "worked-delta-0.4"};
  for (int i = 0; i < 3; i++) {
    rw_body body = {.shape = RW_SHAPE_SLAB,
                    .size = size[i],
                    .conductivity = 0.15,
                    .surface = HUGE_VAL,
                    .density = 900,
                    .heat = 1.5e6,
                    .A = 5e11,
                    .E = 110e3};
    rw_error err;
    double T = NAN, delta = NAN;
    assert_ok(rw_body_critical_air(&body, &T, &err), &err);
    check_point("heat", point[i], T - ZERO);
    assert_ok(rw_body_delta(&body, recomputed[i] + ZERO, &delta, &err), &err);
    check_point("heat", delta_point[i], delta);
    assert_ok(rw_body_delta(&body, T, &delta, &err), &err);
    assert_close(delta, held(RW_SHAPE_SLAB).delta, 1e-9);
  }
}

/* A cured slab of `half` thickness, tight at its back, in air that steps to another temperature.
 */
enum { CELLS = 200, TIMES = 5 };
static const double HALF = 0.01, CONDUCTIVITY = 0.2, START = 290, AIR = 340;

static void conduct(double surface, const double *fourier, double T[TIMES][CELLS],
                    double depth[CELLS])
{
  rw_error err;
  rw_resin r;
  assert_ok(rw_resin_find("slow-polyetheramine", &r, &err), &err);
  double diffusivity = CONDUCTIVITY / (r.density * r.heat_capacity), time[TIMES];
  for (int i = 0; i < TIMES; i++)
    time[i] = fourier[i] * HALF * HALF / diffusivity;
  double t[2] = {0, time[TIMES - 1]}, air[2] = {AIR, AIR};
  rw_history *h = NULL;
  assert_ok(rw_history_create(t, air, NULL, 2, &h, &err), &err);
  rw_slab s = {.resin = HALF,
               .resin_conductivity = CONDUCTIVITY,
               .resin_start = START,
               .cure_start = 1,
               .back = 0,
               .front = surface,
               .resin_cells = CELLS,
               .tolerance = 1e-6};
  assert_int_equal(rw_slab_places(&s), CELLS);
  rw_slab_depths(&s, depth);
  rw_slab_profile p = {.time = time, .n = TIMES, .temperature = T[0]};
  rw_slab_result out;
  assert_ok(rw_slab_run(&r, &s, h, 0, t[1], &p, &out, &err), &err);
  rw_history_destroy(h);
}

/* Carslaw & Jaeger's series; b: roots of b tan b = biot, or odd quarters of a turn where the
 * surface is held. x from the tight side, in units of the thickness. */
static double left_over(double biot, double fourier, double x)
{
  double sum = 0;
  for (int n = 0; n < 200; n++) {
    double low = n * PI, high = (n + 0.5) * PI, b = high;
    for (int i = 0; i < 100 && biot < HUGE_VAL; i++) {
      b = 0.5 * (low + high);
      if (b * sin(b) * (n % 2 ? -1 : 1) < biot * cos(b) * (n % 2 ? -1 : 1))
        low = b;
      else
        high = b;
    }
    double weight = 2 * sin(b) / (b + sin(b) * cos(b));
    sum += weight * cos(b * x) * exp(-b * b * fourier);
  }
  return sum;
}

/* Off by no more than a fine grid is: the error of the grid goes with the square of the cell, and
 * at 200 cells it is below 5e-5 of the step from a twentieth of the diffusion time on. */
static void conduction(void **state)
{
  (void)state;
  const double fourier[TIMES] = {0.05, 0.1, 0.3, 0.8, 2};
  const double surface[] = {HUGE_VAL, 10, 100, 2000};
  static double T[TIMES][CELLS], depth[CELLS];
  for (int k = 0; k < 4; k++) {
    conduct(surface[k], fourier, T, depth);
    double biot = surface[k] * HALF / CONDUCTIVITY;
    for (int i = 0; i < TIMES; i++)
      for (int c = 0; c < CELLS; c += 7) {
        double exact = AIR + (START - AIR) * left_over(biot, fourier[i], 1 - depth[c] / HALF);
        assert_close(T[i][c], exact, 5e-5 * (AIR - START));
      }
    /* The first cell's middle lies 1/400 of the thickness from the slab's. */
    double there = cos(0.5 * PI / 400);
    if (k == 0)
      check_point("heat", "slab-held-0.3", (AIR - T[2][0]) / (AIR - START) / there);
    if (k == 1)
      check_point("heat", "slab-surface-0.8", (AIR - T[3][0]) / (AIR - START));
  }
}

static void all_used(void **state)
{
  (void)state;
  check_all_points_used("heat");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(edges_of_runaway),
      cmocka_unit_test(worked_slab),
      cmocka_unit_test(conduction),
      cmocka_unit_test(all_used),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
