/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Notes taken from a logbook: what is taken, what is left out and why, and the temperatures. */
#include "check.h"

#include <resinwright.h>

#include <math.h>
#include <string.h>

static const double HOUR = 3600;

/* Invented. Batch 3 has an odd ratio, batch 4 no temperatures after its first morning, batch 5
 * lies on a hull that was read itself. */
static const char LOGBOOK[] =
    "row,batch,time,resin [g],hardener [g],form,found,not_yet,already,observer,air [degC],hull "
    "[degC]\n"
    "reading,,2026-09-01 00:00,,,,,,,,20,\n"
    "reading,,2026-09-01 06:00,,,,,,,,14,\n"
    "reading,,2026-09-01 12:00,,,,,,,,20,\n"
    "reading,,2026-09-01 20:00,,,,,,,,16,\n"
    "reading,,2026-09-02 06:00,,,,,,,,12,\n"
    "batch,1,2026-09-01 08:00,200,72,,,,,,,\n"
    "event,1,,,,,gelled,2026-09-01 12:00,2026-09-01 14:00,Ann,,\n"
    "event,1,,,,,hard,2026-09-01 20:00,2026-09-02 07:00,Bo,,\n"
    "batch,2,2026-09-01 09:00,200,72,,,,,,,\n"
    "event,2,,,,cup,thick,2026-09-01 09:20,2026-09-01 09:40,Ann,,\n"
    "event,2,,,,,tack_free,,2026-09-01 18:00,Ann,,\n"
    "batch,3,2026-09-01 09:00,200,36,,,,,,,\n"
    "event,3,,,,,firm,2026-09-01 12:00,,Ann,,\n"
    "batch,4,2026-09-02 05:00,200,72,,,,,,,\n"
    "event,4,,,,,gelled,2026-09-02 11:00,2026-09-02 11:00,Bo,,\n"
    "event,4,,,,,sands,2026-09-03 09:00,2026-09-04 09:00,Bo,,\n"
    "reading,,2026-09-05 08:00,,,,,,,,,15\n"
    "reading,,2026-09-05 19:00,,,,,,,,,18\n"
    "batch,5,2026-09-05 08:00,200,72,,,,,,,\n"
    "event,5,,,,,firm,2026-09-05 12:00,2026-09-05 18:00,Ann,,\n";

static rw_log *logbook(void)
{
  rw_log *log = NULL;
  rw_error err;
  assert_ok(rw_log_parse(LOGBOOK, sizeof LOGBOOK - 1, "book", NULL, &log, &err), &err);
  return log;
}

static rw_notes_log *take(const rw_log *log, const rw_notes_choice *choice)
{
  rw_notes_log *n = NULL;
  rw_error err;
  assert_ok(rw_notes_log_create(log, choice, &n, &err), &err);
  return n;
}

/* Every word of the log has its milestone, and later stages have no earlier milestones. */
static void words_tell(void **state)
{
  (void)state;
  for (int i = 0; i < RW_FOUND_WORDS; i++)
    assert_in_range(rw_notes_event((rw_log_found)i), 0, RW_MILESTONES - 1);
  assert_int_equal(rw_notes_event(RW_FOUND_FIRM), RW_RECOAT_OPENS);
  assert_int_equal(rw_notes_event(RW_FOUND_THUMBNAIL_NONE), RW_RECOAT_CLOSES);
  assert_int_equal(rw_notes_event((rw_log_found)99), RW_MILESTONES);
  rw_resin r;
  rw_error err;
  assert_ok(rw_resin_find("slow-polyetheramine", &r, &err), &err);
  for (int i = 1; i < RW_FOUND_WORDS; i++)
    for (int j = 1; j < RW_FOUND_WORDS; j++)
      if (rw_log_found_stage((rw_log_found)i) + 1 < rw_log_found_stage((rw_log_found)j))
        assert_true(r.threshold[rw_notes_event((rw_log_found)i)].value <
                    r.threshold[rw_notes_event((rw_log_found)j)].value);
}

static void good_rows_are_taken(void **state)
{
  (void)state;
  rw_log *log = logbook();
  rw_notes_log *n = take(log, NULL);
  const rw_notes_data *d = rw_notes_log_data(n);
  assert_int_equal(d->batches, 4);
  assert_int_equal(d->rows, 5);
  assert_int_equal(d->observers, 2);
  const char *const names[] = {"1", "2", "4", "5"};
  for (size_t b = 0; b < d->batches; b++)
    assert_string_equal(rw_log_batch_at(log, rw_notes_log_batch(n, b))->name, names[b]);
  for (size_t i = 0; i < d->rows; i++) {
    const rw_log_event *e = rw_log_event_at(log, rw_notes_log_event(n, i));
    const rw_notes_row *r = &d->row[i];
    assert_int_equal(r->event, rw_notes_event(e->found));
    assert_int_equal(rw_notes_log_batch(n, r->batch), e->batch);
    assert_int_equal(r->observer, e->who);
    assert_close(d->batch[r->batch].mixed, rw_log_batch_at(log, e->batch)->mixed, 0);
    assert_true(r->not_yet == e->not_yet || (isnan(r->not_yet) && isnan(e->not_yet)));
    assert_true(r->already == e->already || (isnan(r->already) && isnan(e->already)));
    assert_close(r->weight, 1, 0);
  }
  /* In the cup, in doubt, and two days without a thermometer. */
  const char *const words[] = {"thick", "firm", "sands"};
  assert_int_equal(rw_notes_log_omitted(n), 3);
  for (size_t i = 0; i < 3; i++) {
    const rw_notes_omitted *o = rw_notes_log_omitted_at(n, i);
    assert_string_equal(rw_log_found_key(rw_log_event_at(log, o->event)->found), words[i]);
    assert_true(o->text[0] != '\0');
  }
  assert_non_null(strstr(rw_notes_log_omitted_at(n, 2)->text, "2026-09-02 12:00"));
  assert_null(rw_notes_log_omitted_at(n, 3));
  rw_notes_log_destroy(n);
  rw_log_destroy(log);
}

static void a_choice_is_kept(void **state)
{
  (void)state;
  rw_log *log = logbook();
  const size_t first = 0;
  rw_notes_choice c = {.suspects = 1, .without = &first, .withouts = 1};
  rw_notes_log *n = take(log, &c);
  const rw_notes_data *d = rw_notes_log_data(n);
  assert_int_equal(d->batches, 4);
  assert_int_equal(d->rows, 4);
  assert_string_equal(rw_log_batch_at(log, rw_notes_log_batch(n, 0))->name, "2");
  assert_string_equal(rw_log_batch_at(log, rw_notes_log_batch(n, 1))->name, "3");
  assert_int_equal(rw_notes_log_omitted_at(n, 0)->event, 0);
  rw_notes_log_destroy(n);
  /* Two days may be bridged where that is wanted. */
  n = take(log, &(rw_notes_choice){.bridge = 110 * HOUR});
  assert_int_equal(rw_notes_log_data(n)->rows, 6);
  rw_notes_log_destroy(n);
  rw_log_destroy(log);
}

/* The hull's own readings come first; else it lags behind the air, from before mixing on. */
static void the_hull_of_a_batch(void **state)
{
  (void)state;
  rw_log *log = logbook();
  rw_notes_log *n = take(log, &(rw_notes_choice){.lag = HOUR});
  const rw_notes_data *d = rw_notes_log_data(n);
  rw_error err;
  double T;
  assert_ok(rw_history_temperature(d->batch[3].hull, d->batch[3].mixed, &T, &err), &err);
  assert_close(T, 288.15, 1e-9);
  /* 6 h of falling air by 1 K/h, then rising: an hour behind is a kelvin behind, bar the bend. */
  assert_ok(rw_history_temperature(d->batch[0].hull, d->batch[0].mixed, &T, &err), &err);
  double bend = 2 * exp(-2.0);
  assert_close(T, 273.15 + 16 - 1 + bend, 0.05);
  rw_notes_log_destroy(n);
  rw_log_destroy(log);
}

/* A log fits as its rows do. */
static void a_log_is_fitted(void **state)
{
  (void)state;
  rw_log *log = logbook();
  rw_notes_log *n = take(log, NULL);
  rw_resin r;
  rw_notes_prior p;
  rw_notes *f = NULL;
  rw_error err;
  assert_ok(rw_resin_find("slow-polyetheramine", &r, &err), &err);
  rw_notes_prior_of(&r, &p);
  assert_ok(rw_notes_fit(&p, rw_notes_log_data(n), &f, &err), &err);
  rw_notes_summary s;
  rw_notes_summarise(f, &s);
  assert_int_equal(s.rows, 5);
  assert_int_equal(s.age[RW_GEL].not_yet, 2);
  assert_true(s.rate.after_sd < s.rate.before_sd);
  rw_notes_destroy(f);
  rw_notes_log_destroy(n);
  rw_log_destroy(log);
}

static void an_empty_log_tells_nothing(void **state)
{
  (void)state;
  static const char text[] = "row,batch,time,mass [g],found,not_yet,already\n";
  rw_log *log = NULL;
  rw_error err;
  assert_ok(rw_log_parse(text, sizeof text - 1, NULL, NULL, &log, &err), &err);
  rw_notes_log *n = take(log, NULL);
  assert_int_equal(rw_notes_log_data(n)->rows, 0);
  assert_int_equal(rw_notes_log_data(n)->observers, 1);
  assert_int_equal(rw_notes_log_omitted(n), 0);
  rw_notes_log_destroy(n);
  rw_log_destroy(log);
}

static void choices_refuse(void **state)
{
  (void)state;
  rw_log *log = logbook();
  rw_notes_log *n = NULL;
  rw_error err;
  const size_t none = 5;
  const struct {
    const char *argument;
    rw_notes_choice choice;
  } wrong[] = {{"bridge", {.bridge = 10}},
               {"bridge", {.bridge = NAN}},
               {"lag", {.lag = -1}},
               {"lag", {.lag = NAN}},
               {"without", {.without = &none, .withouts = 1}}};
  for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
    assert_status(rw_notes_log_create(log, &wrong[i].choice, &n, &err), RW_ERR_RANGE, &err);
    assert_string_equal(err.argument, wrong[i].argument);
    assert_null(n);
  }
  rw_notes_log_destroy(NULL);
  rw_log_destroy(log);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(words_tell),       cmocka_unit_test(good_rows_are_taken),
      cmocka_unit_test(a_choice_is_kept), cmocka_unit_test(the_hull_of_a_batch),
      cmocka_unit_test(a_log_is_fitted),  cmocka_unit_test(an_empty_log_tells_nothing),
      cmocka_unit_test(choices_refuse),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
