/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of making a hull made to fail once: a clear refusal, no leak. */
#include "each_fails.h"

#include <string.h>

enum { STATIONS = 4, ACROSS = 3 };

typedef rw_status make(rw_hull **out, rw_error *err);

static rw_status from_girths(rw_hull **out, rw_error *err)
{
  static const double x[] = {0, 1, 2, 3, 4}, girth[] = {0.5, 0.9, 1.2, 0.9, 0.5};
  return rw_hull_from_girths(x, girth, 5, out, err);
}

/* Two panels, a pointed bow. */
static rw_status from_offsets(rw_hull **out, rw_error *err)
{
  rw_offset p[1 + STATIONS * ACROSS];
  size_t n = 0;
  p[n++] = (rw_offset){0, 0, 0, 0};
  for (int i = 1; i <= STATIONS; i++)
    for (int j = 0; j < ACROSS; j++)
      p[n++] = (rw_offset){i, 0.1 * i * j, 0.2 * j * j - 0.1 * i, j == 1};
  return rw_hull_from_offsets(p, n, out, err);
}

static rw_status made_or_not(make *call, rw_error *err)
{
  rw_hull *h = NULL;
  rw_status status = call(&h, err);
  assert_true((status == RW_OK) == (h != NULL));
  if (status < 0 && err != NULL)
    assert_int_equal(strncmp(err->function, "rw_hull_from_", 13), 0);
  rw_hull_destroy(h);
  return status;
}

static rw_status girths(void *given, rw_error *err)
{
  (void)given;
  return made_or_not(from_girths, err);
}

static rw_status offsets(void *given, rw_error *err)
{
  (void)given;
  return made_or_not(from_offsets, err);
}

static void hull_from_girths(void **state)
{
  (void)state;
  each_fails_once(girths, NULL, 3);
}

static void hull_from_offsets(void **state)
{
  (void)state;
  each_fails_once(offsets, NULL, 3);
}

/* Asking a finished hull allocates nothing, so it works however little memory is left. */
static void asking_allocates_nothing(void **state)
{
  (void)state;
  needs_failing();
  make *const makers[] = {from_girths, from_offsets};
  for (int k = 0; k < 2; k++) {
    rw_error err;
    rw_hull *h = NULL;
    assert_ok(makers[k](&h, &err), &err);
    rw_value area;
    double g, x, edge[6];
    failing_arm(1);
    rw_status whole = rw_hull_area(h, 0.5, 3.5, &area, &err);
    rw_status girth = rw_hull_girth(h, 2.2, &g, &err);
    rw_status bands = rw_hull_bands(h, 5, edge, &err);
    rw_hull_widest(h, &x, &g);
    rw_hull_wider_than(h, 0.8 * g, NULL, NULL);
    long asked = failing_count();
    failing_disarm();
    assert_int_equal(whole, RW_OK);
    assert_int_equal(girth, RW_OK);
    assert_int_equal(bands, RW_OK);
    assert_int_equal(asked, 0);
    rw_hull_destroy(h);
  }
}

static void all_is_freed(void **state)
{
  (void)state;
  needs_failing();
  make *const makers[] = {from_girths, from_offsets};
  for (int k = 0; k < 2; k++) {
    rw_error err;
    rw_hull *h = NULL;
    long before = failing_live();
    rw_status status = makers[k](&h, &err);
    rw_hull_destroy(h);
    assert_int_equal(failing_live(), before);
    assert_int_equal(status, RW_OK);
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(hull_from_girths),
      cmocka_unit_test(hull_from_offsets),
      cmocka_unit_test(asking_allocates_nothing),
      cmocka_unit_test(all_is_freed),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
