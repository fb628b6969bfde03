/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of the isoconversional calls made to fail once: a clear refusal, outputs
 * untouched, no leak. */
#include "each_fails.h"

#include <math.h>
#include <string.h>

enum { RUNS = 3, READINGS = 24 };

typedef struct scene {
  double T[RUNS][READINGS], a[RUNS][READINGS];
  rw_iso_curve curve[RUNS];
} scene;

static void set_up(scene *s)
{
  for (int k = 0; k < RUNS; k++) {
    for (int i = 0; i < READINGS; i++) {
      s->T[k][i] = 340 + 4 * i + 12 * k;
      s->a[k][i] = 0.5 + 0.5 * tanh((i - 11.3) / 4);
    }
    s->curve[k] = (rw_iso_curve){.heating = 0.03 * pow(2.5, k),
                                 .temperature = s->T[k],
                                 .conversion = s->a[k],
                                 .n = READINGS};
  }
}

static rw_status scan(void *given, rw_error *err)
{
  const scene *s = given;
  static const double at[] = {0.2, 0.5, 0.8};
  rw_fit_energy e[3], before[3];
  memset(e, 7, sizeof e);
  memcpy(before, e, sizeof e);
  rw_status status = rw_iso_scan(RW_ISO_VYAZOVKIN, s->curve, RUNS, at, 3, 0.95, e, err);
  if (status < 0)
    assert_memory_equal(e, before, sizeof e);
  return status;
}

static rw_status peak(void *given, rw_error *err)
{
  const scene *s = given;
  rw_iso_point p = {.temperature = 7};
  rw_status status = rw_iso_peak(&s->curve[0], &p, err);
  assert_true((status < 0) == (p.temperature == 7));
  return status;
}

static rw_status pass(void *given, rw_error *err)
{
  const scene *s = given;
  rw_iso_point p = {.temperature = 7};
  rw_status status = rw_iso_pass(&s->curve[0], 0.3, &p, err);
  assert_true((status < 0) == (p.temperature == 7));
  return status;
}

static void scanning(void **state)
{
  (void)state;
  scene s;
  set_up(&s);
  each_fails_once(scan, &s, 2 + 3 * RUNS);
}

static void peaking(void **state)
{
  (void)state;
  scene s;
  set_up(&s);
  each_fails_once(peak, &s, 3);
}

static void passing(void **state)
{
  (void)state;
  scene s;
  set_up(&s);
  each_fails_once(pass, &s, 3);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(scanning),
      cmocka_unit_test(peaking),
      cmocka_unit_test(passing),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
