/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"

#include <math.h>
#include <string.h>

static const double HOUR = 3600, DAY = 86400, ZERO = 273.15;
static const char *const classes[] = {"slow-polyetheramine", "medium-cycloaliphatic",
                                      "fast-polyamine"};

static rw_resin resin(int i)
{
  rw_resin r;
  rw_error err;
  assert_ok(rw_resin_find(classes[i], &r, &err), &err);
  return r;
}

static void times_and_states_agree(void **state)
{
  (void)state;
  rw_error err;
  for (int i = 0; i < 3; i++) {
    rw_resin r = resin(i);
    rw_steady s = {20 + ZERO, 0, 60 * DAY};
    /* Out of order, with the beginning and a place above what can be reached. */
    const double cure[] = {0.6, 0.2, 0, 0.4, 1};
    double time[5];
    rw_cure_state at[4];
    assert_ok(rw_steady_times(&r.law, &s, cure, 5, time, &err), &err);
    assert_ok(rw_steady_states(&r, &s, time, 4, at, &err), &err);
    assert_close(time[2], 0, 0);
    assert_true(time[4] == HUGE_VAL);
    assert_true(time[1] > 0 && time[1] < time[3] && time[3] < time[0]);
    for (int k = 0; k < 4; k++) {
      double Tg, mu, rate;
      assert_close(at[k].cure, cure[k], 1e-9);
      assert_close(at[k].T, s.T, 0);
      assert_close(at[k].time, time[k], 0);
      assert_ok(rw_glass_temperature(&r.glass, at[k].cure, &Tg, &err), &err);
      assert_ok(rw_viscosity(&r.flow, at[k].cure, s.T, &mu, &err), &err);
      assert_ok(rw_cure_rate(&r.law, at[k].cure, s.T, &rate, &err), &err);
      assert_close(at[k].Tg, Tg, 0);
      assert_true(at[k].viscosity == mu);
      assert_close(at[k].rate, rate, 0);
    }
    assert_true(at[0].viscosity == HUGE_VAL);
  }
}

static void a_start_above_is_reached_at_once(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin(0);
  rw_steady s = {25 + ZERO, 0.5, 30 * DAY}, fresh = {25 + ZERO, 0, 30 * DAY};
  const double cure[] = {0.3, 0.5, 0.7};
  double time[3], all[3];
  assert_ok(rw_steady_times(&r.law, &s, cure, 3, time, &err), &err);
  assert_ok(rw_steady_times(&r.law, &fresh, cure, 3, all, &err), &err);
  assert_close(time[0], 0, 0);
  assert_close(time[1], 0, 0);
  assert_close_rel(time[2], all[2] - all[1], 1e-7);
  /* A law that cannot leave zero by itself. */
  rw_cure_law stuck = r.law;
  stuck.k1 = 0;
  stuck.m = 1.2;
  assert_status(rw_steady_times(&stuck, &fresh, cure, 3, time, &err), RW_ERR_ARGUMENT, &err);
  assert_ok(rw_steady_times(&stuck, &s, cure, 3, time, &err), &err);
}

static void summits_are_summits(void **state)
{
  (void)state;
  rw_error err;
  for (int i = 0; i < 3; i++)
    for (double celsius = 0; celsius < 121; celsius += 40) {
      rw_resin r = resin(i);
      rw_steady s = {celsius + ZERO, 0, 365 * DAY};
      rw_steady_marks m;
      assert_ok(rw_steady_find(&r.law, &s, &m, &err), &err);
      assert_true(m.peak.cure > 0.05 && m.peak.cure < 0.4);
      for (int k = -1; k <= 1; k++) {
        double rate;
        assert_ok(rw_cure_rate(&r.law, m.peak.cure + 0.001 * k, s.T, &rate, &err), &err);
        assert_true(k == 0 ? rate == m.peak.rate : rate < m.peak.rate);
      }
      double cure[] = {m.peak.cure, 0.5}, time[2];
      assert_ok(rw_steady_times(&r.law, &s, cure, 2, time, &err), &err);
      assert_close(time[0], m.peak.time, 0);
      assert_close(time[1], m.half_time, 0);
      assert_true(m.reached > r.flow.a_gel && m.reached <= 1);
      /* A span that ends before. */
      s.span = 0.5 * m.peak.time;
      assert_ok(rw_steady_find(&r.law, &s, &m, &err), &err);
      assert_true(m.peak.time == HUGE_VAL && m.half_time == HUGE_VAL);
      assert_true(m.reached < m.peak.cure);
    }
}

static void a_heated_cure(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin(1);
  rw_ramp ramp = {0 + ZERO, 120 + ZERO, 5.0 / 60, 0};
  const double T[] = {120 + ZERO, 0 + ZERO, 60 + ZERO};
  rw_cure_state at[3], peak_state[3];
  assert_ok(rw_ramp_states(&r, &ramp, T, 3, at, &err), &err);
  assert_close(at[1].cure, 0, 0);
  assert_close(at[1].time, 0, 0);
  assert_true(at[2].cure > 0 && at[2].cure < at[0].cure && at[0].cure < 1);
  assert_close_rel(at[0].time, 120 * 60 / 5.0, 1e-12);
  for (int k = 0; k < 3; k++)
    assert_close(at[k].T, T[k], 0);
  /* The same by the history and the path themselves. */
  double time[2] = {0, 1440}, ends[2] = {T[1], T[0]}, cure;
  rw_history *h = NULL;
  rw_cure_path *path = NULL;
  assert_ok(rw_history_create(time, ends, NULL, 2, &h, &err), &err);
  assert_ok(rw_cure_run(&r.law, h, 0, 1440, 0, 1e-10, &path, &err), &err);
  assert_ok(rw_cure_at(path, 720, &cure, NULL, NULL, &err), &err);
  assert_close(at[2].cure, cure, 1e-9);
  rw_cure_path_destroy(path);
  rw_history_destroy(h);
  rw_rate_peak peak;
  assert_ok(rw_ramp_find(&r.law, &ramp, &peak, &err), &err);
  const double near[] = {peak.T - 0.1, peak.T, peak.T + 0.1};
  assert_ok(rw_ramp_states(&r, &ramp, near, 3, peak_state, &err), &err);
  assert_close(peak_state[1].cure, peak.cure, 1e-9);
  assert_close_rel(peak_state[1].rate, peak.rate, 1e-9);
  assert_true(peak_state[0].rate < peak.rate && peak_state[2].rate < peak.rate);
  /* Faster heating moves the peak up. */
  ramp.heating *= 4;
  rw_rate_peak faster = peak;
  ramp.to = 126 + ZERO;
  assert_ok(rw_ramp_find(&r.law, &ramp, &faster, &err), &err);
  assert_true(faster.T > peak.T + 5 && faster.rate > peak.rate);
}

static void a_peak_that_is_not_seen(void **state)
{
  (void)state;
  rw_error err;
  rw_rate_peak peak = {1, 2, 3, 4}, before = peak;
  rw_resin r = resin(1);
  rw_ramp cold = {0 + ZERO, 30 + ZERO, 5.0 / 60, 0};
  assert_status(rw_ramp_find(&r.law, &cold, &peak, &err), RW_NOT_REACHED, &err);
  assert_memory_equal(&peak, &before, sizeof peak);
  /* n-th order, hot from the beginning: greatest at once. */
  rw_cure_law law = {.kind = RW_LAW_NTH_ORDER, .k1 = 1e-3, .E1 = 50e3, .n = 1.5, .T_ref = 298.15};
  rw_ramp hot = {100 + ZERO, 120 + ZERO, 0.1 / 60, 0};
  assert_status(rw_ramp_find(&law, &hot, &peak, &err), RW_NOT_REACHED, &err);
  assert_memory_equal(&peak, &before, sizeof peak);
}

static void long_spans_and_hot_cures_are_quick(void **state)
{
  (void)state;
  rw_error err;
  rw_cure_law law = {.kind = RW_LAW_NTH_ORDER, .k1 = 1e-4, .E1 = 90e3, .n = 1, .T_ref = 298.15};
  rw_steady s = {390, 0, 1e11};
  rw_steady_marks m;
  assert_ok(rw_steady_find(&law, &s, &m, &err), &err);
  assert_close(m.reached, 1, 1.0001e-9);
  const double cure[] = {1 - 1e-8, 1 - 1e-11};
  double time[2];
  assert_ok(rw_steady_times(&law, &s, cure, 2, time, &err), &err);
  assert_close_rel(time[0], -log(1e-8) / m.peak.rate, 1e-2);
  assert_true(time[1] == HUGE_VAL);
  rw_ramp ramp = {250, 390, 1e-5, 0};
  rw_rate_peak peak;
  assert_ok(rw_ramp_find(&law, &ramp, &peak, &err), &err);
  double k = rw_rate_factor(law.k1, law.E1, law.T_ref) * exp(-law.E1 / (RW_GAS_CONSTANT * peak.T));
  assert_close_rel(law.E1 * 1e-5 / (RW_GAS_CONSTANT * peak.T * peak.T), k, 1e-4);
}

static void rows_of_a_map(void **state)
{
  (void)state;
  rw_error err;
  const rw_map_plan plan = {28 * DAY, 0.95};
  for (int i = 0; i < 3; i++) {
    rw_resin r = resin(i);
    enum { N = 6 };
    const double T[N] = {-30 + ZERO, 5 + ZERO, 20 + ZERO, 40 + ZERO, 80 + ZERO, 126 + ZERO};
    rw_map_row row[N];
    assert_ok(rw_cure_map(&r, &plan, T, N, row, &err), &err);
    assert_close(row[0].glass, 0, 0);
    for (int k = 0; k < N; k++) {
      rw_steady s = {T[k], 0, plan.span};
      double cure[] = {r.flow.a_gel, plan.share * row[k].plateau}, time[2], Tg;
      assert_ok(rw_steady_times(&r.law, &s, cure, 2, time, &err), &err);
      assert_true(row[k].gel == time[0]);
      assert_true(row[k].full == (time[1] <= 14 * DAY ? time[1] : HUGE_VAL));
      assert_ok(rw_glass_temperature(&r.glass, row[k].plateau, &Tg, &err), &err);
      assert_close(row[k].plateau_Tg, Tg, 0);
      assert_true(k == 0 || row[k].gel <= row[k - 1].gel);
      assert_true(k == 0 || row[k].plateau >= row[k - 1].plateau);
    }
    /* A cure at -30 degC goes on for longer than a month. */
    assert_true(row[0].full == HUGE_VAL);
    assert_true(i == 1 || row[N - 1].glass == HUGE_VAL);
  }
}

/* The glass time of a map is the event of a path. */
static void glass_is_the_event(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin(0);
  const rw_map_plan plan = {28 * DAY, 0.95};
  double T = 25 + ZERO, time[2] = {0, 28 * DAY}, ends[2] = {T, T}, when;
  rw_map_row row;
  rw_history *h = NULL;
  rw_cure_path *path = NULL;
  assert_ok(rw_cure_map(&r, &plan, &T, 1, &row, &err), &err);
  assert_ok(rw_history_create(time, ends, NULL, 2, &h, &err), &err);
  assert_ok(rw_cure_run(&r.law, h, 0, 28 * DAY, 0, 1e-10, &path, &err), &err);
  rw_event glass = {.kind = RW_EVENT_GLASS, .level = 0, .glass = &r.glass};
  assert_ok(rw_cure_event(path, &glass, &when, &err), &err);
  assert_close_rel(row.glass, when, 1e-7);
  rw_cure_path_destroy(path);
  rw_history_destroy(h);
}

static void marks_of_a_map(void **state)
{
  (void)state;
  rw_error err;
  for (int i = 0; i < 3; i++) {
    rw_resin r = resin(i);
    rw_map_marks m;
    assert_true(rw_cure_map_find(&r, 365 * DAY, &m, &err) >= 0);
    assert_close(m.Tg0, r.glass.Tg0, 0);
    assert_close(m.Tg_inf, r.glass.Tg_inf, 1e-9);
    const rw_map_plan plan = {365 * DAY, 0.95};
    const double T[] = {m.gel_Tg, m.nose_T - 3, m.nose_T, m.nose_T + 3};
    rw_map_row row[4];
    assert_true(rw_cure_map(&r, &plan, T, 4, row, &err) >= 0);
    assert_close_rel(row[0].gel, row[0].glass, 1e-6);
    assert_true(row[1].glass > row[2].glass && row[3].glass > row[2].glass);
    assert_close_rel(row[2].glass, m.nose_time, 1e-9);
    assert_true(m.nose_T > m.gel_Tg && m.nose_T < m.Tg_inf);
    /* Within seconds nothing turns to glass up there. */
    assert_true(rw_cure_map_find(&r, 10, &m, &err) >= 0);
    assert_true(m.nose_T == HUGE_VAL && m.nose_time == HUGE_VAL);
  }
}

static void a_law_with_a_limit_ends_below(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin(0), right = r;
  rw_map_marks m, full;
  assert_ok(rw_cure_law_off_ratio(&right.law, 0.7, &r.law, &err), &err);
  assert_ok(rw_cure_map_find(&r, 365 * DAY, &m, &err), &err);
  assert_ok(rw_cure_map_find(&right, 365 * DAY, &full, &err), &err);
  double Tg;
  assert_ok(rw_glass_temperature(&r.glass, 0.7, &Tg, &err), &err);
  assert_close(m.Tg_inf, Tg, 1e-9);
  assert_true(m.nose_T < m.Tg_inf && m.nose_time > full.nose_time);
  rw_steady s = {60 + ZERO, 0, 365 * DAY};
  rw_steady_marks marks;
  assert_ok(rw_steady_find(&r.law, &s, &marks, &err), &err);
  double half = 0.35, time;
  assert_ok(rw_steady_times(&r.law, &s, &half, 1, &time, &err), &err);
  assert_close(marks.half_time, time, 0);
}

static void steady_refuses(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin(0);
  rw_steady good = {20 + ZERO, 0, DAY}, s = good;
  double cure = 0.5, time = 7;
  s.T = 20;
  assert_status(rw_steady_times(&r.law, &s, &cure, 1, &time, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "T");
  s = good;
  s.span = 0;
  assert_status(rw_steady_times(&r.law, &s, &cure, 1, &time, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "span");
  s = good;
  s.start = 1;
  assert_status(rw_steady_times(&r.law, &s, &cure, 1, &time, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "start");
  cure = 50;
  assert_status(rw_steady_times(&r.law, &good, &cure, 1, &time, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "cure");
  cure = NAN;
  assert_status(rw_steady_times(&r.law, &good, &cure, 1, &time, NULL), RW_ERR_RANGE, &err);
  rw_cure_law bad = r.law;
  bad.E2 = 56;
  cure = 0.5;
  assert_status(rw_steady_times(&bad, &good, &cure, 1, &time, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "E2");
  assert_close(time, 7, 0);
  rw_cure_state at = {.cure = 7};
  time = 2 * DAY;
  assert_status(rw_steady_states(&r, &good, &time, 1, &at, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "time");
  rw_resin bad_resin = r;
  bad_resin.glass.lambda = 0;
  time = HOUR;
  assert_status(rw_steady_states(&bad_resin, &good, &time, 1, &at, &err), RW_ERR_RANGE, &err);
  assert_close(at.cure, 7, 0);
  rw_steady_marks m = {.reached = 7};
  s = good;
  s.T = NAN;
  assert_status(rw_steady_find(&r.law, &s, &m, &err), RW_ERR_RANGE, &err);
  assert_close(m.reached, 7, 0);
  /* Hotter than the engine was tested at. */
  s.T = 420;
  assert_status(rw_steady_find(&r.law, &s, &m, &err), RW_OUTSIDE_TESTED, &err);
}

static void heating_refuses(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin(0);
  rw_ramp good = {0 + ZERO, 100 + ZERO, 1.0 / 60, 0}, ramp = good;
  rw_rate_peak peak = {.T = 7};
  rw_cure_state at = {.cure = 7};
  double T = 101 + ZERO;
  ramp.to = good.from;
  assert_status(rw_ramp_find(&r.law, &ramp, &peak, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "begins with");
  ramp.to = good.from - 10;
  assert_status(rw_ramp_find(&r.law, &ramp, &peak, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "to");
  ramp = good;
  ramp.from = 0;
  assert_status(rw_ramp_find(&r.law, &ramp, &peak, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "from");
  ramp = good;
  ramp.heating = -1;
  assert_status(rw_ramp_find(&r.law, &ramp, &peak, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "heating");
  assert_close(peak.T, 7, 0);
  assert_status(rw_ramp_states(&r, &good, &T, 1, &at, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "T");
  assert_close(at.cure, 7, 0);
}

static void maps_refuse(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin(0);
  rw_map_plan good = {DAY, 0.95}, plan = good;
  rw_map_row row = {.T = 7};
  rw_map_marks m = {.Tg0 = 7};
  double T = 20 + ZERO, cold = 20;
  plan.share = 0.3;
  assert_status(rw_cure_map(&r, &plan, &T, 1, &row, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "share");
  plan = good;
  plan.span = 1e12;
  assert_status(rw_cure_map(&r, &plan, &T, 1, &row, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "span");
  assert_status(rw_cure_map(&r, &good, &cold, 1, &row, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "T");
  assert_close(row.T, 7, 0);
  assert_ok(rw_cure_map(&r, &good, NULL, 0, NULL, &err), &err);
  assert_status(rw_cure_map_find(&r, 0.5, &m, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "span");
  r.law.k1 = NAN;
  assert_status(rw_cure_map_find(&r, DAY, &m, &err), RW_ERR_RANGE, &err);
  assert_status(rw_cure_map(&r, &good, &T, 1, &row, &err), RW_ERR_RANGE, &err);
  assert_close(m.Tg0, 7, 0);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(times_and_states_agree),
      cmocka_unit_test(a_start_above_is_reached_at_once),
      cmocka_unit_test(summits_are_summits),
      cmocka_unit_test(a_heated_cure),
      cmocka_unit_test(a_peak_that_is_not_seen),
      cmocka_unit_test(long_spans_and_hot_cures_are_quick),
      cmocka_unit_test(rows_of_a_map),
      cmocka_unit_test(glass_is_the_event),
      cmocka_unit_test(marks_of_a_map),
      cmocka_unit_test(a_law_with_a_limit_ends_below),
      cmocka_unit_test(steady_refuses),
      cmocka_unit_test(heating_refuses),
      cmocka_unit_test(maps_refuse),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
