/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Uptake from test panels; all panels are invented. */
#include "check.h"

#include <math.h>
#include <string.h>

enum { N = 4 };
static const double CLOTH = 0.2; /* kg/m2 */

/* Whole grams on 0.05 m2: 20 g/m2 each. */
static const rw_panel panels[N] = {{0.05, 1.204, 1.227, 1.247, 1.243},
                                   {0.05, 1.198, 1.220, 1.239, 1.236},
                                   {0.05, 1.211, 1.236, 1.258, 1.253},
                                   {0.05, 1.207, 1.231, 1.250, 1.247}};

static rw_panel_terms terms_of(const rw_panel *p, size_t n, rw_status wanted)
{
  rw_panel_terms t;
  rw_error err;
  memset(&t, 0, sizeof t);
  assert_status(rw_panel_uptake(p, n, CLOTH, 0.95, &t, &err), wanted, &err);
  return t;
}

/* By hand: wet-out gains 23, 22, 25, 24 g less 10 g of cloth: mean 13.5 g, squares of the
 * deviations 0.25 + 2.25 + 2.25 + 0.25 = 5 g2. Fill 20, 19, 22, 19: mean 20, squares 6. Sanded off
 * 4, 3, 5, 3: mean 3.75, squares 2.75. Left 29, 28, 32, 30: mean 29.75, squares 8.75. */
static void means_and_spreads(void **state)
{
  (void)state;
  rw_panel_terms t = terms_of(panels, N, RW_OK);
  const struct {
    const rw_panel_mean *m;
    double grams, squares;
  } rows[] = {{&t.wet_out, 13.5, 5},
              {&t.filling, 20, 6},
              {&t.sanding, 3.75, 2.75},
              {&t.left, 29.75, 8.75}};
  for (int i = 0; i < 4; i++) {
    double sd = 0.02 * sqrt(rows[i].squares / 3);
    assert_int_equal(rows[i].m->n, N);
    assert_close(rows[i].m->mean, 0.02 * rows[i].grams, 1e-12);
    assert_close(rows[i].m->sd, sd, 1e-12);
    /* a printed table of Student's t: 3.182 for 3 degrees of freedom */
    assert_close(rows[i].m->high - rows[i].m->mean, 3.182 * sd / 2, 0.0005 * sd / 2);
    assert_close(rows[i].m->mean - rows[i].m->low, rows[i].m->high - rows[i].m->mean, 1e-12);
    assert_close(rows[i].m->next.value, rows[i].m->mean, 0);
    assert_close(1.960 * rows[i].m->next.sd, 3.182 * sd * sqrt(1.25), 0.001 * sd);
  }
  assert_close(t.left.mean, t.wet_out.mean + t.filling.mean - t.sanding.mean, 1e-12);
}

/* Weighed with the dry cloth on: the same. */
static void cloth_on_the_bare_panel(void **state)
{
  (void)state;
  rw_panel with[N];
  for (int i = 0; i < N; i++) {
    with[i] = panels[i];
    with[i].bare += CLOTH * with[i].area;
  }
  rw_panel_terms t = terms_of(panels, N, RW_OK), u;
  rw_error err;
  assert_ok(rw_panel_uptake(with, N, 0, 0.95, &u, &err), &err);
  assert_close(u.wet_out.mean, t.wet_out.mean, 1e-12);
  assert_close(u.left.sd, t.left.sd, 1e-12);
}

static void one_panel_shows_no_spread(void **state)
{
  (void)state;
  rw_panel_terms t;
  rw_uptake u = {.waste = {7, 7}};
  rw_error err;
  assert_status(rw_panel_uptake(panels, 1, CLOTH, 0.95, &t, &err), RW_OUTSIDE_TESTED, &err);
  check_explained(&err, "no interval");
  assert_true(strlen(err.hint) > 0);
  assert_close(t.wet_out.mean, 0.26, 1e-12);
  assert_true(isnan(t.wet_out.sd) && isnan(t.wet_out.low) && isnan(t.wet_out.high) &&
              isnan(t.wet_out.next.sd));
  assert_status(rw_panel_plan(&t, (rw_value){0.15, 0.05}, &u, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "one panel");
  assert_close(u.waste.value, 7, 0);
}

/* Stages left out. */
static void panels_weighed_in_part(void **state)
{
  (void)state;
  rw_panel p[N];
  memcpy(p, panels, sizeof p);
  p[0].sanded = p[1].sanded = NAN;
  p[2].filled = p[2].sanded = NAN;
  rw_panel_terms t = terms_of(p, N, RW_OUTSIDE_TESTED);
  assert_int_equal(t.wet_out.n, 4);
  assert_int_equal(t.filling.n, 3);
  assert_int_equal(t.sanding.n, 1);
  assert_int_equal(t.left.n, 1);
  assert_close(t.filling.mean, 0.02 * 58 / 3, 1e-12);
  assert_close(t.sanding.mean, 0.06, 1e-12);
  for (int i = 0; i < N; i++)
    p[i].filled = p[i].sanded = NAN;
  t = terms_of(p, N, RW_OK);
  assert_int_equal(t.filling.n, 0);
  assert_true(isnan(t.filling.mean) && isnan(t.left.mean));
  rw_uptake u;
  rw_error err;
  assert_status(rw_panel_plan(&t, (rw_value){0.15, 0.05}, &u, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "filling rests on no panel");
}

/* The plan's amounts take the terms as they are. */
static void into_the_plan(void **state)
{
  (void)state;
  rw_panel_terms t = terms_of(panels, N, RW_OK);
  rw_uptake u;
  rw_need need;
  rw_error err;
  assert_ok(rw_panel_plan(&t, (rw_value){0.2, 0}, &u, &err), &err);
  assert_close(u.soak.value, 0, 0);
  assert_ok(rw_plan_need((rw_value){10, 0}, &u, &need, &err), &err);
  assert_close(need.total.value, 10 * (0.27 + 0.4) / 0.8, 1e-9);
  assert_close(need.total.sd, 10 * hypot(t.wet_out.next.sd, t.filling.next.sd) / 0.8, 1e-9);
  assert_status(rw_panel_plan(&t, (rw_value){15, 0}, &u, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "waste");
  assert_status(rw_panel_plan(&t, (rw_value){0.1, NAN}, &u, &err), RW_ERR_RANGE, &err);
  assert_status(rw_panel_plan(NULL, (rw_value){0.1, 0}, &u, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_panel_plan(&t, (rw_value){0.1, 0}, NULL, &err), RW_ERR_ARGUMENT, &err);
}

/* One further panel of the same hand lies in the 95 % band 95 times of 100. */
static void next_panel_is_covered(void **state)
{
  (void)state;
  enum { TIMES = 4000 };
  rw_draws *draws = NULL;
  rw_error err;
  int held = 0;
  assert_ok(rw_draws_create(N + 1, 5, &draws, &err), &err);
  for (int k = 0; k < TIMES; k++) {
    double z[N + 1];
    rw_panel p[N];
    rw_draws_next(draws, z);
    for (int i = 0; i < N; i++)
      p[i] = (rw_panel){1, 1, 1 + CLOTH + 0.3 + 0.03 * z[i], NAN, NAN};
    rw_panel_terms t = terms_of(p, N, RW_OK);
    held += fabs(0.3 + 0.03 * z[N] - t.wet_out.next.value) <=
            rw_num_normal_quantile(0.975) * t.wet_out.next.sd;
  }
  rw_draws_destroy(draws);
  /* four standard deviations of a count of 4000 */
  assert_close(held, 0.95 * TIMES, 4 * sqrt(TIMES * 0.95 * 0.05));
}

static void refused(rw_panel changed, rw_status wanted, const char *word)
{
  rw_panel p[2] = {panels[0], changed};
  rw_panel_terms t, before;
  rw_error err;
  memset(&t, 7, sizeof t);
  before = t;
  assert_status(rw_panel_uptake(p, 2, CLOTH, 0.95, &t, &err), wanted, &err);
  check_explained(&err, word);
  check_explained(&err, "panel 2");
  assert_int_equal(err.line, 2);
  assert_true(strlen(err.hint) > 0);
  assert_status(rw_panel_uptake(p, 2, CLOTH, 0.95, &t, NULL), wanted, NULL);
  assert_memory_equal(&t, &before, sizeof t);
}

static void weighings_that_cannot_be(void **state)
{
  (void)state;
  rw_panel p = panels[1];
  p.area = 500; /* cm2 */
  refused(p, RW_ERR_RANGE, "area");
  p = (rw_panel){0.05, 1198, 1220, 1239, 1236}; /* grams */
  refused(p, RW_ERR_RANGE, "kg/m2");
  p = panels[1];
  p.wet_out = 1.205; /* 7 g, of which 10 g are cloth */
  refused(p, RW_ERR_ORDER, "dry cloth");
  p = panels[1];
  p.filled = 1.219;
  refused(p, RW_ERR_ORDER, "lighter by filling");
  p = panels[1];
  p.sanded = 1.240;
  refused(p, RW_ERR_ORDER, "heavier by sanding");
  p = panels[1];
  p.sanded = 1.205;
  refused(p, RW_ERR_ORDER, "more by sanding");
  p = panels[1];
  p.filled = NAN;
  refused(p, RW_ERR_RANGE, "after sanding and not before");
  p = panels[1];
  p.bare = NAN;
  refused(p, RW_ERR_RANGE, "bare");
  p.bare = -1;
  refused(p, RW_ERR_RANGE, "bare");
  p = panels[1];
  p.wet_out = HUGE_VAL;
  refused(p, RW_ERR_RANGE, "wet_out");
}

static void arguments(void **state)
{
  (void)state;
  rw_panel_terms t;
  rw_error err;
  assert_status(rw_panel_uptake(panels, 0, CLOTH, 0.95, &t, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_panel_uptake(panels, 1001, CLOTH, 0.95, &t, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_panel_uptake(NULL, 2, CLOTH, 0.95, &t, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_panel_uptake(panels, 2, CLOTH, 0.95, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_panel_uptake(panels, 2, 200, 0.95, &t, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "cloth");
  assert_status(rw_panel_uptake(panels, 2, CLOTH, 95, &t, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "level");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(means_and_spreads),
      cmocka_unit_test(cloth_on_the_bare_panel),
      cmocka_unit_test(one_panel_shows_no_spread),
      cmocka_unit_test(panels_weighed_in_part),
      cmocka_unit_test(into_the_plan),
      cmocka_unit_test(next_panel_is_covered),
      cmocka_unit_test(weighings_that_cannot_be),
      cmocka_unit_test(arguments),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
