/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every allocation of a censored regression and of a fit of notes made to fail once: a clear
 * refusal, nothing written, no leak. */
#include "each_fails.h"

#include <math.h>
#include <string.h>

enum { BATCHES = 3, ROWS = 6 };

static const double HOUR = 3600;

typedef struct scene {
  rw_history *hull;
  rw_notes_prior prior;
  rw_notes_batch batch[BATCHES];
  rw_notes_row row[ROWS];
  rw_notes_data data;
} scene;

static void set_up(scene *s)
{
  needs_failing();
  double t[] = {0, 10 * HOUR, 20 * HOUR, 200 * HOUR}, T[] = {293, 288, 295, 291};
  rw_resin resin;
  rw_error err;
  memset(s, 0, sizeof *s);
  assert_ok(rw_resin_find("slow-polyetheramine", &resin, &err), &err);
  assert_ok(rw_history_create(t, T, NULL, 4, &s->hull, &err), &err);
  rw_notes_prior_of(&resin, &s->prior);
  for (size_t i = 0; i < BATCHES; i++)
    s->batch[i] = (rw_notes_batch){s->hull, (double)i * HOUR};
  for (size_t i = 0; i < ROWS; i++)
    s->row[i] = (rw_notes_row){
        i % BATCHES, RW_GEL, (5 + (double)i) * HOUR, i == 2 ? NAN : (8 + (double)i) * HOUR, 0, 1};
  s->data = (rw_notes_data){s->batch, BATCHES, s->row, ROWS, 1};
}

static rw_status regression(void *given, rw_error *err)
{
  (void)given;
  double lower[] = {4, 5, 6, 0, 7}, upper[] = {6, 5, HUGE_VAL, 6, 9}, x[] = {1, 2, 3, 4, 1};
  rw_aft_data d = {5, 1, lower, upper, NULL, x};
  rw_aft *f = NULL;
  rw_status status = rw_aft_fit(&d, RW_AFT_LOGNORMAL, &f, NULL, err);
  if (status < 0) {
    assert_null(f);
    return status;
  }
  rw_aft_target t = {.coefficient = 1};
  double low = 7, high = 8;
  status = rw_aft_profile(f, &t, 0.9, &low, &high, err);
  if (status < 0)
    assert_true(low == 7 && high == 8);
  rw_aft_destroy(f);
  return status;
}

static rw_status forecast(const rw_notes *f, const scene *s, rw_error *err)
{
  rw_notes_question q = {.hull = s->hull,
                         .from = HOUR,
                         .to = 200 * HOUR,
                         .observer = RW_NOTES_ANYONE,
                         .scatter = 1,
                         .draws = 40};
  rw_forecast o, before;
  memset(&o, 7, sizeof o);
  before = o;
  rw_status status = rw_notes_forecast(f, &q, &o, err);
  if (status < 0)
    assert_memory_equal(&o, &before, sizeof o);
  return status;
}

static rw_status draws(const rw_notes *f, rw_error *err)
{
  rw_resin r[3], before[3];
  memset(r, 7, sizeof r);
  memcpy(before, r, sizeof r);
  rw_status status = rw_notes_draw(f, RW_NOTES_ANYONE, 0, 3, 1, r, err);
  if (status < 0)
    assert_memory_equal(r, before, sizeof r);
  return status;
}

static rw_status notes(void *given, rw_error *err)
{
  const scene *s = given;
  rw_notes *f = NULL;
  rw_notes_batch_result result[BATCHES], before[BATCHES];
  memset(result, 7, sizeof result);
  memcpy(before, result, sizeof result);
  rw_status status = rw_notes_fit(&s->prior, &s->data, &f, err);
  if (status < 0) {
    assert_null(f);
    return status;
  }
  status = rw_notes_batches(f, &s->data, result, err);
  if (status < 0)
    assert_memory_equal(result, before, sizeof result);
  rw_notes_drift_result drift = {.factor = 7};
  if (status >= 0)
    status = rw_notes_drift(f, &s->data, &drift, err);
  if (status < 0)
    assert_close(drift.factor, 7, 0);
  double low = 7, high = 8;
  if (status >= 0)
    status = rw_notes_limits(f, &s->data, RW_NOTES_RATE, 0, 0.9, &low, &high, err);
  if (status < 0)
    assert_true(low == 7 && high == 8);
  if (status >= 0)
    status = draws(f, err);
  if (status >= 0)
    status = forecast(f, s, err);
  rw_notes_destroy(f);
  return status;
}

static void regression_runs_out(void **state)
{
  (void)state;
  each_fails_once(regression, NULL, 5);
}

static void notes_run_out(void **state)
{
  (void)state;
  scene s;
  set_up(&s);
  each_fails_once(notes, &s, 15);
  rw_history_destroy(s.hull);
}

/* Notes of a log, with a hull that was read, one that lags, and hours without a temperature. */
static rw_status from_log(void *given, rw_error *err)
{
  rw_notes_log *n = NULL;
  rw_notes_choice c = {.lag = HOUR};
  rw_status status = rw_notes_log_create(given, &c, &n, err);
  assert_true((status == RW_OK) == (n != NULL));
  if (n != NULL)
    assert_int_equal(rw_notes_log_data(n)->rows, 2);
  rw_notes_log_destroy(n);
  return status;
}

static void log_notes(void **state)
{
  (void)state;
  static const char text[] =
      "row,batch,time,mass [g],found,not_yet,already,air [degC],hull [degC]\n"
      "reading,,2026-09-01 07:00,,,,,15,\n"
      "reading,,2026-09-01 18:00,,,,,18,\n"
      "batch,1,2026-09-01 08:00,200,,,,,\n"
      "event,1,,,gelled,2026-09-01 12:00,2026-09-01 14:00,,\n"
      "event,1,,,sands,2026-09-07 12:00,,,\n"
      "reading,,2026-09-05 07:00,,,,,,15\n"
      "reading,,2026-09-05 18:00,,,,,,18\n"
      "batch,2,2026-09-05 08:00,200,,,,,\n"
      "event,2,,,gelled,,2026-09-05 14:00,,\n";
  needs_failing();
  rw_log *log = NULL;
  rw_error err;
  assert_ok(rw_log_parse(text, strlen(text), NULL, NULL, &log, &err), &err);
  each_fails_once(from_log, log, 10);
  rw_log_destroy(log);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(regression_runs_out),
      cmocka_unit_test(notes_run_out),
      cmocka_unit_test(log_notes),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
