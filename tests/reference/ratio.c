/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ratios against the theory of networks and ledgers worked out by hand. */
#include "check.h"

#include <math.h>

static rw_value used(double resin, double hardener, double needed)
{
  rw_value r = {NAN, NAN};
  rw_error err;
  assert_ok(rw_ratio_used((rw_value){resin, 0}, (rw_value){hardener, 0}, (rw_value){needed, 0}, &r,
                          &err),
            &err);
  return r;
}

static void ledgers(void **state)
{
  (void)state;
  double share = used(8.20, 1.83, 0.44).value;
  check_point("ratio", "hall-needed", 1.83 / share);
  check_point("ratio", "hall-share", 100 * share);
  check_point("ratio", "short-share", 100 * used(145, 63 - 13, 63.0 / 145).value);
}

static rw_ratio_state judged(double r, double fa)
{
  rw_resin resin;
  rw_ratio_state s = {.gel = NAN};
  rw_error err;
  assert_ok(rw_resin_find("slow-polyetheramine", &resin, &err), &err);
  assert_ok(rw_ratio_judge(&resin, (rw_value){r, 0}, 2, fa, NAN, &s, &err), &err);
  return s;
}

static void networks(void **state)
{
  (void)state;
  check_point("ratio", "least-4", judged(1, 4).gels_from);
  check_point("ratio", "least-5", judged(1, 5).gels_from);
  check_point("ratio", "least-6", judged(1, 6).gels_from);
  check_point("ratio", "gel-4", judged(1, 4).gel);
  check_point("ratio", "gel-6", judged(1, 6).gel);
}

static void volumes(void **state)
{
  (void)state;
  double needed = NAN;
  rw_error err;
  assert_ok(rw_needed_by_volume(2, 1, 1000, 870, &needed, &err), &err);
  check_point("ratio", "volume-2-1", needed);
}

static void peak(void **state)
{
  (void)state;
  double best = 0, at = NAN;
  for (int i = 400; i <= 2500; i++) {
    double Tg = judged(1e-3 * i, 4).Tg.value;
    if (Tg > best) {
      best = Tg;
      at = 1e-3 * i;
    }
  }
  check_point("ratio", "peak", at);
}

static void all_used(void **state)
{
  (void)state;
  check_all_points_used("ratio");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(ledgers), cmocka_unit_test(networks), cmocka_unit_test(volumes),
      cmocka_unit_test(peak),    cmocka_unit_test(all_used),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
