/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"

#include <math.h>
#include <string.h>

static const double DAY = 86400, ZERO = 273.15;

static rw_resin resin(const char *name)
{
  rw_resin r;
  rw_error err;
  assert_ok(rw_resin_find(name, &r, &err), &err);
  return r;
}

static rw_ratio_state judged(const rw_resin *resin_, double r, double sd, double need)
{
  rw_ratio_state s;
  rw_error err;
  memset(&s, 0, sizeof s);
  assert_ok(rw_ratio_judge(resin_, (rw_value){r, sd}, 2, 4, need, &s, &err), &err);
  return s;
}

static void labels_and_pumps(void **state)
{
  (void)state;
  rw_error err;
  double needed = NAN, r = NAN;
  assert_ok(rw_needed_by_volume(2, 1, 1150, 1000, &needed, &err), &err);
  assert_close_rel(needed, 1 / 2.3, 1e-15);
  /* Heads that meter 2:1 already: one and one is right, two and one gives half. */
  rw_pumps metered = {20e-6, 10e-6, 1150, 1000};
  assert_ok(rw_ratio_pumped(&metered, 1, 1, needed, &r, &err), &err);
  assert_close_rel(r, 1, 1e-15);
  assert_ok(rw_ratio_pumped(&metered, 2, 1, needed, &r, &err), &err);
  assert_close_rel(r, 0.5, 1e-15);
  /* Equal heads: two and one is right, one and one gives twice. */
  rw_pumps equal = {10e-6, 10e-6, 1150, 1000};
  assert_ok(rw_ratio_pumped(&equal, 2, 1, needed, &r, &err), &err);
  assert_close_rel(r, 1, 1e-15);
  assert_ok(rw_ratio_pumped(&equal, 1, 1, needed, &r, &err), &err);
  assert_close_rel(r, 2, 1e-15);
  assert_ok(rw_ratio_pumped(&equal, 5, 0, needed, &r, &err), &err);
  assert_close(r, 0, 0);
}

static void inputs_are_refused(void **state)
{
  (void)state;
  rw_error err;
  double x = 7;
  rw_value v = {7, 7};
  rw_pumps p = {20e-6, 10e-6, 1150, 1000}, bad = p;
  assert_status(rw_needed_by_volume(0, 1, 1150, 1000, &x, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "resin");
  assert_status(rw_needed_by_volume(2, 1, 1.15, 1000, &x, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "resin_density");
  bad.resin_stroke = 20;
  assert_status(rw_ratio_pumped(&bad, 2, 1, 0.44, &x, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "resin_stroke");
  assert_status(rw_ratio_pumped(&p, 0, 1, 0.44, &x, &err), RW_ERR_RANGE, &err);
  assert_status(rw_ratio_pumped(&p, 2, -1, 0.44, &x, &err), RW_ERR_RANGE, &err);
  assert_status(rw_ratio_pumped(&p, 2, 1, 44, &x, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "needed");
  assert_close(x, 7, 0);
  assert_status(rw_tin_loss((rw_value){5, 0.02}, (rw_value){6, 0.02}, &v, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "after");
  assert_status(rw_tin_loss((rw_value){5, -1}, (rw_value){4, 0}, &v, &err), RW_ERR_RANGE, &err);
  assert_status(rw_ratio_used((rw_value){0, 0}, (rw_value){1, 0}, (rw_value){0.44, 0}, &v, &err),
                RW_ERR_RANGE, &err);
  assert_status(rw_ratio_used((rw_value){8, 0}, (rw_value){1, NAN}, (rw_value){0.44, 0}, &v, &err),
                RW_ERR_RANGE, &err);
  assert_close(v.value, 7, 0);
  rw_glass g = {251, 361, 0.35};
  assert_status(rw_ratio_glass(&g, 0.5, 0.6, &x, &err), RW_ERR_RANGE, &err);
  assert_status(rw_ratio_glass(&g, 0, 0, &x, &err), RW_ERR_RANGE, &err);
  assert_close(x, 7, 0);
}

static void tins(void **state)
{
  (void)state;
  rw_error err;
  rw_value loss, r;
  assert_ok(rw_tin_loss((rw_value){12.5, 0.02}, (rw_value){4.3, 0.02}, &loss, &err), &err);
  assert_close_rel(loss.value, 8.2, 1e-14);
  assert_close_rel(loss.sd, 0.02 * sqrt(2), 1e-14);
  /* Each error alone, then all. */
  rw_value resin_ = {8, 0.16}, hardener = {2, 0.06}, needed = {0.5, 0.02};
  assert_ok(rw_ratio_used(resin_, hardener, needed, &r, &err), &err);
  assert_close_rel(r.value, 0.5, 1e-15);
  assert_close_rel(r.sd, 0.5 * sqrt(0.02 * 0.02 + 0.03 * 0.03 + 0.04 * 0.04), 1e-14);
  assert_status(rw_ratio_used(resin_, (rw_value){0.05, 0.03}, needed, &r, &err), RW_OUTSIDE_TESTED,
                &err);
}

static void verdicts(void **state)
{
  (void)state;
  rw_resin slow = resin("slow-polyetheramine");
  double need = 55 + ZERO, a = NAN;
  rw_error err;
  assert_ok(rw_glass_conversion(&slow.glass, need, &a, &err), &err);
  const struct {
    double r;
    rw_ratio_verdict verdict;
  } rows[] = {
      {1, RW_RATIO_RIGHT},
      {0.96, RW_RATIO_RIGHT},
      {1.04, RW_RATIO_RIGHT},
      {a + 1e-6, RW_RATIO_USABLE},
      {1 / (a + 1e-6), RW_RATIO_USABLE},
      {a - 1e-6, RW_RATIO_DOUBTFUL},
      {a * a + 1e-6, RW_RATIO_DOUBTFUL},
      {1 / (a * a + 1e-6), RW_RATIO_DOUBTFUL},
      {a * a - 1e-6, RW_RATIO_SOFT},
      {1.0 / 3 + 1e-6, RW_RATIO_SOFT},
      {3 - 1e-8, RW_RATIO_SOFT},
      {1.0 / 3 - 1e-6, RW_RATIO_LIQUID},
      {3 + 1e-8, RW_RATIO_LIQUID},
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    rw_ratio_state s = judged(&slow, rows[i].r, 0, need);
    assert_int_equal(s.verdict, rows[i].verdict);
    assert_int_equal(s.warming_helps, s.verdict <= RW_RATIO_DOUBTFUL);
    assert_int_equal(isnan(s.gel), s.verdict == RW_RATIO_LIQUID);
    assert_close(s.chance[s.verdict], 1, 0);
    assert_int_equal(s.reach[RW_GEL], s.verdict != RW_RATIO_LIQUID);
    assert_true(s.Tg.low < s.Tg.value && s.Tg.value < s.Tg.high);
    assert_int_equal(s.Tg.value >= need, s.verdict <= RW_RATIO_DOUBTFUL);
    assert_true(strlen(rw_ratio_verdict_text(s.verdict)) > 10);
    assert_non_null(rw_ratio_verdict_key(s.verdict));
  }
  assert_null(rw_ratio_verdict_key(RW_RATIO_VERDICTS));
  assert_null(rw_ratio_verdict_text((rw_ratio_verdict)77));
  /* Nothing said of service: the resin's own. */
  rw_ratio_state s = judged(&slow, 1, 0.01, NAN);
  double own = NAN;
  assert_ok(rw_glass_temperature(&slow.glass, slow.threshold[RW_SERVICE].value, &own, &err), &err);
  assert_close(s.need, own, 1e-9);
}

static void judge_refuses(void **state)
{
  (void)state;
  rw_error err;
  rw_resin slow = resin("slow-polyetheramine");
  rw_ratio_state s;
  memset(&s, 7, sizeof s);
  rw_ratio_state before = s;
  assert_status(rw_ratio_judge(&slow, (rw_value){0, 0}, 2, 4, NAN, &s, &err), RW_ERR_RANGE, &err);
  assert_status(rw_ratio_judge(&slow, (rw_value){51, 1}, 2, 4, NAN, &s, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "r ");
  assert_status(rw_ratio_judge(&slow, (rw_value){0.5, -1}, 2, 4, NAN, &s, &err), RW_ERR_RANGE,
                &err);
  assert_status(rw_ratio_judge(&slow, (rw_value){0.5, 0}, 1, 4, NAN, &s, &err), RW_ERR_RANGE,
                &err);
  assert_status(rw_ratio_judge(&slow, (rw_value){0.5, 0}, 2, 2, NAN, &s, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "fa");
  assert_status(rw_ratio_judge(&slow, (rw_value){0.5, 0}, 2, 4, 500, &s, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "need");
  assert_status(rw_ratio_judge(&slow, (rw_value){0.5, 0}, 2, 4, 55, &s, &err), RW_ERR_RANGE, &err);
  assert_memory_equal(&s, &before, sizeof s);
  assert_status(rw_ratio_judge(&slow, (rw_value){0.5, 0.2}, 2, 4, NAN, &s, &err),
                RW_OUTSIDE_TESTED, &err);
}

/* The mix off its ratio: law, gel and heat. */
static void resin_off_its_ratio(void **state)
{
  (void)state;
  rw_error err;
  rw_resin right = resin("slow-polyetheramine"), same, half;
  assert_ok(rw_ratio_resin(&right, 1, &same, &err), &err);
  assert_ok(rw_ratio_resin(&right, 0.5, &half, &err), &err);
  assert_close_rel(same.heat, right.heat, 1e-15);
  assert_close_rel(half.hardener, right.hardener / 2, 1e-15);
  double n = right.hardener;
  assert_close_rel(half.heat * (1 + n / 2), right.heat * (1 + n), 1e-14);
  assert_close_rel(half.flow.a_gel, right.flow.a_gel * sqrt(0.5), 1e-14);
  assert_close_rel(half.threshold[RW_RECOAT_OPENS].value,
                   right.threshold[RW_RECOAT_OPENS].value * sqrt(0.5), 1e-14);
  assert_ok(rw_resin_check(&half, &err), &err);
  assert_close(rw_cure_law_top(&half.law), 0.5, 1e-15);
  double rate, whole;
  assert_ok(rw_cure_rate(&right.law, 0.2, 298, &whole, &err), &err);
  assert_ok(rw_cure_rate(&same.law, 0.2, 298, &rate, &err), &err);
  assert_close_rel(rate, whole, 1e-12);
  assert_ok(rw_cure_rate(&half.law, 0.2, 298, &rate, &err), &err);
  assert_true(rate < whole);
  rw_resin bad = right, out;
  memset(&out, 7, sizeof out);
  rw_resin before = out;
  assert_status(rw_ratio_resin(&right, 9, &out, &err), RW_ERR_RANGE, &err);
  bad.law.stiffening = (rw_stiffening){1e-3, 40.2, 51.6, right.glass};
  assert_status(rw_ratio_resin(&bad, 0.5, &out, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "stiffens");
  bad = right;
  bad.law.kind = RW_LAW_SESTAK_BERGGREN;
  assert_status(rw_ratio_resin(&bad, 0.5, &out, &err), RW_ERR_ARGUMENT, &err);
  bad = right;
  bad.hardener = 0;
  assert_status(rw_ratio_resin(&bad, 0.5, &out, &err), RW_ERR_RANGE, &err);
  assert_memory_equal(&out, &before, sizeof out);
}

static void forecast_off_its_ratio(void **state)
{
  (void)state;
  rw_error err;
  double t[2] = {0, 9 * DAY}, T[2] = {18 + ZERO, 18 + ZERO};
  rw_history *h = NULL;
  assert_ok(rw_history_create(t, T, NULL, 2, &h, &err), &err);
  rw_resin medium = resin("medium-cycloaliphatic");
  rw_forecast right, half, twice, same;
  assert_ok(rw_cure_forecast(&medium, h, 0, 9 * DAY, 0, 0, 1, &right, &err), &err);
  assert_ok(rw_ratio_forecast(&medium, 1, h, 0, 9 * DAY, 0, 0, 1, &same, &err), &err);
  assert_ok(rw_ratio_forecast(&medium, 0.5, h, 0, 9 * DAY, 0, 0, 1, &half, &err), &err);
  assert_ok(rw_ratio_forecast(&medium, 2.5, h, 0, 9 * DAY, 0, 0, 1, &twice, &err), &err);
  for (int i = 0; i < RW_MILESTONES; i++) {
    assert_close_rel(same.time[i], right.time[i], 1e-5);
    assert_true(half.time[i] > right.time[i]);
  }
  assert_true(half.time[RW_GEL] < DAY && half.reached <= 0.5);
  rw_ratio_state s = judged(&medium, 2.5, 0, NAN);
  for (int i = 0; i < RW_MILESTONES; i++)
    if (!s.reach[i])
      assert_true(twice.time[i] == HUGE_VAL && twice.low[i] == HUGE_VAL);
  assert_true(s.reach[RW_GEL] && twice.time[RW_GEL] < DAY && !s.reach[RW_SERVICE]);
  /* Below a third it stays liquid in nine days, and in any. */
  rw_forecast none;
  assert_ok(rw_ratio_forecast(&medium, 0.3, h, 0, 9 * DAY, 0, 0, 1, &none, &err), &err);
  assert_true(none.time[RW_GEL] == HUGE_VAL);
  none.reached = 7;
  assert_status(rw_ratio_forecast(&medium, 0.5, h, 0, 10 * DAY, 0, 0, 1, &none, &err),
                RW_ERR_COVERAGE, &err);
  assert_status(rw_ratio_forecast(&medium, 50, h, 0, DAY, 0, 0, 1, &none, &err), RW_ERR_RANGE,
                &err);
  assert_close(none.reached, 7, 0);
  rw_history_destroy(h);
}

/* Fourteen batches, the first nine noted alike. */
enum { HALL = 14 };

typedef struct hall {
  rw_batch_note batch[HALL];
  rw_ledger l;
} hall;

static void hall_books(hall *b, double noted, int alike)
{
  for (int i = 0; i < HALL; i++)
    b->batch[i] = (rw_batch_note){NAN, i < 9 ? noted : NAN, i < 9 ? alike : 0};
  b->l = (rw_ledger){.batch = b->batch,
                     .n = HALL,
                     .resin = {8.20, 0.028},
                     .hardener = {1.83, 0.028},
                     .needed = {0.44, 0},
                     .mass_sd = 0.2,
                     .ratio_sd = 0.05,
                     .note_sd = 0.1};
}

static void guesses_against_the_tins(void **state)
{
  (void)state;
  rw_error err;
  hall b;
  hall_books(&b, NAN, 0);
  double r[HALL];
  rw_ledger_fit f;
  for (int i = 0; i < HALL; i++)
    r[i] = 0.5;
  assert_ok(rw_ledger_test(&b.l, r, &f, &err), &err);
  assert_close_rel(f.hardener.value, 0.5 * 0.44 * 8.2, 1e-12);
  assert_true(f.chance > 0.3 && fabs(f.z) < 1.5);
  for (int i = 9; i < HALL; i++)
    r[i] = 1;
  assert_ok(rw_ledger_test(&b.l, r, &f, &err), &err);
  assert_true(f.chance < 1e-6 && f.z < 0);
  /* Without any scatter only the scale and the floor of 0.1 % are left. */
  b.l.mass_sd = b.l.ratio_sd = 0;
  for (int i = 0; i < HALL; i++)
    r[i] = 0.5;
  assert_ok(rw_ledger_test(&b.l, r, &f, &err), &err);
  assert_close_rel(f.hardener.sd, hypot(0.5 * 0.44 * 0.028, 1e-3 * 0.44 * 8.2), 1e-12);
  r[3] = -1;
  f.z = 7;
  assert_status(rw_ledger_test(&b.l, r, &f, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "ratio of a batch");
  assert_int_equal(err.line, 4);
  assert_close(f.z, 7, 0);
}

static void off_from_the_start(void **state)
{
  (void)state;
  rw_error err;
  hall b;
  rw_ledger_result o;
  double off[HALL];
  hall_books(&b, 0.5, 1);
  assert_ok(rw_ledger_compare(&b.l, &o, off, &err), &err);
  assert_int_equal(o.best, RW_LEDGER_START);
  assert_close(o.off[RW_LEDGER_START], 0.507, 0.01);
  /* Right at first is as good as excluded, and the noted ones were off whatever the end. */
  assert_true(o.weight[RW_LEDGER_RIGHT] < 1e-9 && o.weight[RW_LEDGER_TURNED] < 1e-9);
  for (int i = 0; i < 9; i++)
    assert_true(off[i] > 0.999);
  for (int i = 9; i < HALL; i++)
    assert_true(off[i] <= off[i - 1] && off[i] > 0.5);
  double sum = 0;
  for (int i = 0; i < RW_LEDGER_STORIES; i++)
    sum += o.weight[i];
  assert_close(sum, 1, 1e-12);
  /* Whether the very last was mended, neither tins nor notes can tell. */
  assert_int_equal(o.told, 0);
  assert_int_equal(o.turn[RW_LEDGER_MENDED], 13);
  /* A note for the last one settles it. */
  for (int i = 9; i < HALL; i++)
    b.batch[i] = (rw_batch_note){NAN, 0.5, 1};
  assert_ok(rw_ledger_compare(&b.l, &o, NULL, &err), &err);
  assert_int_equal(o.best, RW_LEDGER_START);
  assert_int_equal(o.told, 1);
  assert_true(o.log_likelihood[RW_LEDGER_TURNED] == -HUGE_VAL);
  assert_close(o.weight[RW_LEDGER_TURNED], 0, 0);
}

/* Tins alone, no batch sheet: a change part way may hide anywhere. */
static void tins_alone_cannot_tell(void **state)
{
  (void)state;
  rw_error err;
  hall b;
  rw_ledger_result o;
  double off[HALL];
  hall_books(&b, NAN, 0);
  assert_ok(rw_ledger_compare(&b.l, &o, off, &err), &err);
  assert_int_equal(o.told, 0);
  assert_true(o.weight[RW_LEDGER_RIGHT] < 1e-9);
  assert_true(o.weight[RW_LEDGER_START] > 0.05 && o.weight[RW_LEDGER_TURNED] > 0.05);
  /* Forwards and backwards are the same to a tin. */
  assert_close_rel(o.weight[RW_LEDGER_TURNED], o.weight[RW_LEDGER_MENDED], 1e-9);
  for (int i = 0; i < HALL; i++)
    assert_close_rel(off[i], off[HALL - 1 - i], 1e-9);
}

static void turned_part_way(void **state)
{
  (void)state;
  rw_error err;
  hall b;
  rw_ledger_result o;
  double off[HALL];
  hall_books(&b, 1, 1);
  for (int i = 9; i < HALL; i++)
    b.batch[i] = (rw_batch_note){NAN, 0.5, 2};
  b.l.hardener.value = 0.44 * 8.2 * (9 + 5 * 0.5) / 14;
  assert_ok(rw_ledger_compare(&b.l, &o, off, &err), &err);
  assert_int_equal(o.best, RW_LEDGER_TURNED);
  assert_int_equal(o.told, 1);
  assert_int_equal(o.turn[RW_LEDGER_TURNED], 9);
  assert_close(o.off[RW_LEDGER_TURNED], 0.5, 0.02);
  assert_true(off[0] < 0.05 && off[8] < 0.05 && off[9] > 0.95);
  b.l.hardener.value = 0.44 * 8.2;
  for (int i = 0; i < HALL; i++)
    b.batch[i] = (rw_batch_note){0.5 + 0.01 * i, 1, 1};
  assert_ok(rw_ledger_compare(&b.l, &o, off, &err), &err);
  assert_int_equal(o.best, RW_LEDGER_RIGHT);
  for (int i = 0; i < HALL; i++)
    assert_true(off[i] < 0.2);
}

static void ledgers_refuse(void **state)
{
  (void)state;
  rw_error err;
  hall b;
  rw_ledger_result o;
  memset(&o, 7, sizeof o);
  rw_ledger_result before = o;
  hall_books(&b, 0.5, 1);
  b.l.n = 0;
  assert_status(rw_ledger_compare(&b.l, &o, NULL, &err), RW_ERR_RANGE, &err);
  hall_books(&b, 0.5, 1);
  b.l.batch = NULL;
  assert_status(rw_ledger_compare(&b.l, &o, NULL, &err), RW_ERR_RANGE, &err);
  hall_books(&b, 50, 1);
  assert_status(rw_ledger_compare(&b.l, &o, NULL, &err), RW_ERR_RANGE, &err);
  assert_int_equal(err.line, 1);
  hall_books(&b, 0.5, 1);
  b.batch[6].resin = -0.2;
  assert_status(rw_ledger_compare(&b.l, &o, NULL, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "resin of a batch");
  assert_int_equal(err.line, 7);
  hall_books(&b, 0.5, 1);
  b.l.note_sd = 0;
  assert_status(rw_ledger_compare(&b.l, &o, NULL, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "note_sd");
  hall_books(&b, 0.5, 1);
  b.l.resin.value = 0;
  assert_status(rw_ledger_compare(&b.l, &o, NULL, NULL), RW_ERR_RANGE, NULL);
  assert_memory_equal(&o, &before, sizeof o);
  for (int s = 0; s < RW_LEDGER_STORIES; s++) {
    assert_non_null(rw_ledger_story_key((rw_ledger_story)s));
    assert_non_null(rw_ledger_story_text((rw_ledger_story)s));
  }
  assert_null(rw_ledger_story_key(RW_LEDGER_STORIES));
  assert_null(rw_ledger_story_text((rw_ledger_story)9));
  /* One batch cannot change part way. */
  hall_books(&b, NAN, 0);
  b.l.n = 1;
  double off;
  assert_ok(rw_ledger_compare(&b.l, &o, &off, &err), &err);
  assert_int_equal(o.best, RW_LEDGER_START);
  assert_true(o.told && off > 0.99);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(labels_and_pumps),
      cmocka_unit_test(inputs_are_refused),
      cmocka_unit_test(tins),
      cmocka_unit_test(verdicts),
      cmocka_unit_test(judge_refuses),
      cmocka_unit_test(resin_off_its_ratio),
      cmocka_unit_test(forecast_off_its_ratio),
      cmocka_unit_test(guesses_against_the_tins),
      cmocka_unit_test(off_from_the_start),
      cmocka_unit_test(tins_alone_cannot_tell),
      cmocka_unit_test(turned_part_way),
      cmocka_unit_test(ledgers_refuse),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
