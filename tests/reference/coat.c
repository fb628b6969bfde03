/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Running, levelling, bubbles and coverage against values computed elsewhere. */
#include "check.h"

#include <math.h>

static const double UPRIGHT = 1.57079632679489661923, INCH = 0.0254, FOOT = 0.3048;
static const double GALLON = 3.785411784e-3, MIL = 25.4e-6, EPOXY = 1100,
                    PART_E = 0.36787944117144233;

static rw_film_flow film(double density, double viscosity, double thickness)
{
  rw_film_flow f = {NAN, NAN, NAN, NAN};
  rw_error err;
  assert_ok(rw_film_flow_of(density, viscosity, thickness, UPRIGHT, &f, &err), &err);
  return f;
}

static void falling_films(void **state)
{
  (void)state;
  rw_film_flow oil = film(800, 2e-4 * 800, 2.5e-3);
  check_point("coat", "F1", oil.flux);
  check_point("coat", "F2", oil.reynolds);
  check_point("coat", "F5", oil.surface / oil.mean);
  double water = 998.2, mu = 1.0019e-3, flux = 10 * mu / 4, h = NAN;
  rw_error err;
  assert_ok(rw_film_thickness(water, mu, UPRIGHT, flux, &h, &err), &err);
  check_point("coat", "F3", h / INCH);
  check_point("coat", "F4", film(water, mu, h).flux / water * 3600 * FOOT / GALLON);
  check_point("coat", "F6", film(EPOXY, 1, 300e-6).surface);
  check_point("coat", "F7", film(EPOXY, 1, 100e-6).surface);
  check_point("coat", "N1", film(EPOXY, 1, 600e-6).flux / film(EPOXY, 1, 300e-6).flux);
}

static double fading(double wavelength, double thickness, double share)
{
  double t = NAN;
  rw_error err;
  assert_ok(rw_levelling_time(1, wavelength, 0.035, thickness, share, &t, &err), &err);
  return t;
}

static void levelling(void **state)
{
  (void)state;
  double base = fading(2e-3, 100e-6, PART_E);
  check_point("coat", "O1", base);
  check_point("coat", "O1-half", fading(2e-3, 100e-6, 0.5));
  check_point("coat", "O2", fading(2e-3, 200e-6, PART_E) / base);
  check_point("coat", "O3", fading(4e-3, 100e-6, PART_E) / base);
}

static double rising(double density, double viscosity, double radius, rw_bubble_surface surface)
{
  double v = NAN;
  rw_error err;
  rw_status status = rw_bubble_speed(density, viscosity, radius, surface, &v, &err);
  assert_ok(status, &err);
  return v;
}

static void bubbles(void **state)
{
  (void)state;
  /* Speed goes as 1/viscosity. */
  check_point("coat", "B1", rising(1000, 1, 1e-4, RW_BUBBLE_RIGID) / 0.35e-2);
  double v = rising(EPOXY, 1, 50e-6, RW_BUBBLE_RIGID);
  check_point("coat", "B2", v);
  check_point("coat", "B2-through", 0.3e-3 / v);
  check_point("coat", "B3", rising(EPOXY, 1, 50e-6, RW_BUBBLE_CLEAN) / v);
}

static void coverage(void **state)
{
  (void)state;
  rw_error err;
  double area = NAN, thickness = NAN, mass = NAN;
  assert_ok(rw_coat_area(GALLON * EPOXY, MIL, EPOXY, &area, &err), &err);
  check_point("coat", "W1", area / (FOOT * FOOT));
  assert_ok(rw_coat_thickness(GALLON * EPOXY, 180 * FOOT * FOOT, EPOXY, &thickness, &err), &err);
  check_point("coat", "W2", thickness / MIL);
  assert_ok(rw_coat_mass(1, MIL, EPOXY, &mass, &err), &err);
  check_point("coat", "W3", 1000 * mass);
}

static void all_used(void **state)
{
  (void)state;
  check_all_points_used("coat");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(falling_films), cmocka_unit_test(levelling), cmocka_unit_test(bubbles),
      cmocka_unit_test(coverage),      cmocka_unit_test(all_used),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
