/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Event notes on one cure state: derivatives, limits, what is told and what is refused. All notes
 * and histories here are invented. */
#include "check.h"

#include "../../lib/fit/src/notes.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double HOUR = 3600, C = 273.15;

enum { MOST = 400 };

/* A log under construction. */
typedef struct diary {
  rw_history *hull[MOST];
  rw_notes_batch batch[MOST];
  rw_notes_row row[MOST];
  rw_notes_data data;
} diary;

static rw_history *steady(double T)
{
  double t[] = {0, 400 * HOUR}, temperature[] = {T, T};
  rw_history *h = NULL;
  rw_error err;
  assert_ok(rw_history_create(t, temperature, NULL, 2, &h, &err), &err);
  return h;
}

static rw_history *days(double mean, double swing)
{
  rw_wave w = {mean, swing, 86400, 15 * HOUR};
  rw_history *h = NULL;
  rw_error err;
  assert_ok(rw_history_from_wave(&w, 0, 400 * HOUR, 0.1, &h, &err), &err);
  return h;
}

static void start(diary *l, size_t observers)
{
  memset(l, 0, sizeof *l);
  l->data = (rw_notes_data){l->batch, 0, l->row, 0, observers};
}

static size_t add_batch(diary *l, rw_history *hull, double mixed)
{
  size_t i = l->data.batches++;
  assert_true(i < MOST);
  l->hull[i] = hull;
  l->batch[i] = (rw_notes_batch){hull, mixed};
  return i;
}

static void add_note(diary *l, size_t batch, rw_milestone event, double not_yet, double already)
{
  assert_true(l->data.rows < MOST);
  l->row[l->data.rows++] = (rw_notes_row){batch, event, not_yet, already, 0, 1};
}

static void finish(diary *l)
{
  for (size_t i = 0; i < l->data.batches; i++)
    rw_history_destroy(l->hull[i]);
}

static rw_resin slow(void)
{
  rw_resin r;
  rw_error err;
  assert_ok(rw_resin_find("slow-polyetheramine", &r, &err), &err);
  return r;
}

static rw_notes *fit(const rw_notes_prior *p, const diary *l)
{
  rw_notes *f = NULL;
  rw_error err;
  assert_ok(rw_notes_fit(p, &l->data, &f, &err), &err);
  return f;
}

static rw_notes_summary summary(const rw_notes *f)
{
  rw_notes_summary s;
  rw_notes_summarise(f, &s);
  return s;
}

/* When a resin reaches a milestone on a batch. */
static double when(const rw_resin *r, const rw_notes_batch *b, rw_milestone m)
{
  rw_cure_path *p = NULL;
  rw_error err;
  double t = NAN;
  assert_ok(rw_cure_run(&r->law, b->hull, b->mixed, 399 * HOUR, 0, 1e-9, &p, &err), &err);
  rw_event thick = {RW_EVENT_VISCOSITY, r->work_viscosity, NULL, &r->flow};
  if (m == RW_WORK_END)
    assert_ok(rw_cure_event(p, &thick, &t, &err), &err);
  else
    assert_ok(rw_cure_when(p, r->threshold[m].value, &t, &err), &err);
  rw_cure_path_destroy(p);
  return t;
}

/* A scatter with the normal distribution's quantiles, in an order that mixes them. */
static double even_z(size_t i, size_t n)
{
  return rw_num_normal_quantile(((double)(i * 7 % n) + 0.5) / (double)n);
}

/* Speeds of a law of one energy on a grid of two places. */
static notes_grid two_places(double T_ref, double E, double speed[2])
{
  notes_grid g = {2, (1 / 320.0 - 1 / T_ref) / RW_GAS_CONSTANT,
                  (1 / 260.0 - 1 / 320.0) / RW_GAS_CONSTANT, NULL};
  speed[0] = -E * g.first;
  speed[1] = -E * (g.first + g.step);
  return g;
}

static void age_and_its_slopes(void **state)
{
  (void)state;
  rw_history *h = days(290, 6);
  rw_error err;
  double step = 20, from = 3 * HOUR, to = 33.3 * HOUR, age, speed[2];
  notes_grid g = two_places(291, 55e3, speed);
  notes_age a = notes_age_of(h, from, to, &g, speed, 2e3, 291);
  notes_age up = notes_age_of(h, from, to, &g, speed, 2e3 + step, 291);
  notes_age down = notes_age_of(h, from, to, &g, speed, 2e3 - step, 291);
  assert_ok(rw_equivalent_age(57e3, 291, h, from, to, &age, &err), &err);
  assert_close_rel(exp(a.y), age, 1e-12);
  assert_close(a.first, (up.y - down.y) / (2e-3 * step), 1e-8);
  assert_close(a.second, (up.first - down.first) / (2e-3 * step), 1e-8);
  assert_close(notes_mean_temperature(h, 0, 240 * HOUR), 290, 0.01);
  rw_history_destroy(h);
}

/* A few stays age as the whole history does, whatever the energy; a steady one, too. */
static void stays_age_as_the_history(void **state)
{
  (void)state;
  static const double shift[] = {-30e3, -4e3, 0, 11e3, 30e3};
  rw_history *h[] = {days(290, 6), days(290, 30), steady(287)};
  double speed[2];
  notes_grid g = two_places(291, 55e3, speed);
  for (size_t i = 0; i < 3; i++) {
    notes_stays s;
    notes_stays_of(h[i], 3 * HOUR, 61.7 * HOUR, &g, speed, 291, &s);
    for (size_t k = 0; k < 5; k++) {
      notes_age got = notes_stays_age(&s, shift[k]);
      notes_age whole = notes_age_of(h[i], 3 * HOUR, 61.7 * HOUR, &g, speed, shift[k], 291);
      assert_close(got.y, whole.y, 1e-10);
      assert_close(got.first, whole.first, 1e-10);
      assert_close(got.second, whole.second, 1e-10);
    }
    rw_history_destroy(h[i]);
  }
}

/* Slopes and second derivatives of every form of note against differences. */
static void derivatives_of_a_note(void **state)
{
  (void)state;
  static const notes_form forms[] = {NOTES_EXACT, NOTES_AFTER, NOTES_BEFORE, NOTES_BETWEEN,
                                     NOTES_BETWEEN};
  static const double high[] = {9, 9, 9.5, 9.1, 14};
  rw_history *h = days(290, 6);
  notes_mark mark[RW_MILESTONES] = {{0}};
  double none[36] = {0}, speed[2];
  notes_grid g = two_places(291, 58e3, speed);
  mark[RW_GEL] = (notes_mark){NOTES_FIRST, 0.577, 10.2, speed, 0.1, 0.2};
  const double extra[] = {0.7};
  notes_problem p = {.mark = mark,
                     .grid = &g,
                     .T_ref = 291,
                     .lever = 0.009,
                     .observers = 1,
                     .m = 6,
                     .extra = extra,
                     .mean = none,
                     .prior = none};
  for (size_t k = 0; k < 5; k++) {
    notes_row r = {forms[k], h, 2 * HOUR, 9 * HOUR, high[k] * HOUR, RW_GEL, 0, 0, 1.5};
    double at[6] = {0.1, 2, -1.6, 0.05, -0.03, 0.2}, slope[6] = {0}, minus[36] = {0};
    notes_add(&p, &r, at, slope, minus);
    for (size_t i = 0; i < 6; i++) {
      double step = 1e-4, up[6] = {0}, down[6] = {0}, keep = at[i];
      at[i] = keep + step;
      double above = notes_add(&p, &r, at, up, NULL);
      at[i] = keep - step;
      double below = notes_add(&p, &r, at, down, NULL);
      at[i] = keep;
      assert_close(slope[i], (above - below) / (2 * step), 1e-5 * (1 + fabs(slope[i])));
      for (size_t j = 0; j < 6; j++)
        assert_close(minus[i * 6 + j], -(up[j] - down[j]) / (2 * step),
                     1e-5 * (1 + fabs(minus[i * 6 + j])));
    }
  }
  rw_history_destroy(h);
}

static void no_notes_leave_the_prior(void **state)
{
  (void)state;
  diary l;
  start(&l, 1);
  rw_resin r = slow(), got;
  rw_notes_prior p;
  rw_notes_prior_of(&r, &p);
  rw_notes *f = fit(&p, &l);
  rw_error err;
  assert_ok(rw_notes_resin(f, RW_NOTES_ANYONE, &got, &err), &err);
  assert_close_rel(got.law.k1, r.law.k1, 1e-14);
  assert_close_rel(got.law.E2, r.law.E2, 1e-14);
  assert_close_rel(got.law.T_ref, r.law.T_ref, 1e-14);
  assert_close_rel(got.rate_sd, r.rate_sd, 1e-10);
  assert_close_rel(got.energy_sd, r.energy_sd, 1e-10);
  for (int i = 0; i < RW_MILESTONES; i++) {
    assert_close(got.threshold[i].value, r.threshold[i].value, 1e-12);
    assert_close_rel(got.threshold[i].sd, r.threshold[i].sd, 1e-6);
  }
  rw_notes_summary s = summary(f);
  assert_int_equal(s.rows, 0);
  assert_int_equal(s.age[RW_SAND].told, RW_TOLD_NOTHING);
  assert_int_equal(s.energy.told, RW_TOLD_NOTHING);
  rw_notes_destroy(f);
}

static void one_note_sharpens(void **state)
{
  (void)state;
  diary l;
  start(&l, 1);
  rw_resin r = slow();
  rw_notes_prior p;
  rw_notes_prior_of(&r, &p);
  size_t b = add_batch(&l, days(291, 4), 8 * HOUR);
  double t = when(&r, &l.batch[b], RW_RECOAT_OPENS);
  double slower = 8 * HOUR + 1.6 * (t - 8 * HOUR);
  add_note(&l, b, RW_RECOAT_OPENS, slower - 0.5 * HOUR, slower + 0.5 * HOUR);
  rw_notes *f = fit(&p, &l);
  rw_notes_summary s = summary(f);
  const rw_notes_value *open = &s.age[RW_RECOAT_OPENS], *sand = &s.age[RW_SAND];
  assert_int_equal(open->told, RW_TOLD_WELL);
  assert_true(open->after > open->before + 0.25 && open->after < open->before + log(1.6));
  assert_true(open->after_sd < 0.5 * open->before_sd);
  assert_int_equal(sand->told, RW_TOLD_OTHERS);
  assert_true(sand->after > sand->before && sand->after_sd < sand->before_sd);
  assert_true(sand->after_sd > open->after_sd);
  assert_int_equal(s.energy.told, RW_TOLD_NOTHING);
  rw_notes_row_result look;
  rw_error err;
  assert_ok(rw_notes_row_look(f, 0, &look, &err), &err);
  assert_true(look.low < look.high && look.low > 0.2 && look.chance > 0.1);
  assert_true(look.influence > 0.5);
  rw_notes_destroy(f);
  finish(&l);
}

static void many_notes_overrule(void **state)
{
  (void)state;
  diary l;
  start(&l, 1);
  rw_resin r = slow(), truth = r;
  truth.law.k1 *= 0.45;
  truth.law.k2 *= 0.45;
  truth.law.E1 += 7e3;
  truth.law.E2 += 7e3;
  rw_notes_prior p;
  rw_notes_prior_of(&r, &p);
  for (size_t i = 0; i < 60; i++) {
    size_t b = add_batch(&l, days(282 + (double)(i % 15), 4), 8 * HOUR);
    rw_milestone m = i % 2 == 0 ? RW_GEL : RW_RECOAT_CLOSES;
    double span = (when(&truth, &l.batch[b], m) - 8 * HOUR) * exp(0.1 * even_z(i, 60));
    add_note(&l, b, m, 8 * HOUR + 0.95 * span, 8 * HOUR + 1.1 * span);
  }
  rw_notes *f = fit(&p, &l);
  rw_notes_summary s = summary(f);
  assert_close(s.energy.after, 7e3, 2 * s.energy.after_sd);
  assert_true(s.energy.after_sd < 2.5e3);
  double shift = -0.8 - log(0.45); /* at 25 degC the truth is slower by ln 0.45 */
  assert_close(s.rate.after + s.energy.after * (1 / s.T_ref - 1 / 298.15) / RW_GAS_CONSTANT,
               log(0.45), 0.3 + fabs(shift));
  assert_close(exp(s.scatter.after), 0.1, 0.03);
  rw_resin got;
  rw_error err;
  assert_ok(rw_notes_resin(f, RW_NOTES_ANYONE, &got, &err), &err);
  double worst = 0;
  for (size_t i = 0; i < 30; i++) {
    rw_milestone m = i % 2 == 0 ? RW_GEL : RW_RECOAT_CLOSES;
    double want = when(&truth, &l.batch[i], m) - 8 * HOUR;
    worst = fmax(worst, fabs(log((when(&got, &l.batch[i], m) - 8 * HOUR) / want)));
  }
  assert_true(worst < 0.1);
  assert_true(s.clumps == 0 && s.chance == 0.5); /* one note a batch */
  rw_notes_destroy(f);
  finish(&l);
}

/* At steady temperatures and hardly any prior it is the censored regression. */
static void it_is_the_regression(void **state)
{
  (void)state;
  diary l;
  start(&l, 1);
  rw_table *t = check_table("table_aft_logbook");
  size_t n = rw_table_rows(t);
  double lower[64], upper[64], x[64];
  rw_resin r = slow();
  for (size_t i = 0; i < n; i++) {
    double low = check_text(t, i, "lower")[0] == '\0' ? 0 : HOUR * check_cell(t, i, "lower");
    double high =
        check_text(t, i, "upper")[0] == '\0' ? HUGE_VAL : HOUR * check_cell(t, i, "upper");
    double T = C + check_cell(t, i, "celsius");
    size_t b = add_batch(&l, steady(T), 0);
    add_note(&l, b, RW_RECOAT_OPENS, low, high < HUGE_VAL ? high : NAN);
    lower[i] = low;
    upper[i] = high;
    x[i] = (1 / T - 1 / 293.15) / RW_GAS_CONSTANT;
  }
  rw_table_destroy(t);
  rw_aft_data d = {n, 1, lower, upper, NULL, x};
  rw_aft *a = NULL;
  rw_error err;
  assert_ok(rw_aft_fit(&d, RW_AFT_LOGNORMAL, &a, NULL, &err), &err);
  r.law.E1 = r.law.E2 = 56e3; /* one energy: its ages are equivalent ages */
  r.law.C = 0;
  r.rate_sd = 2;
  r.energy_sd = 2e5;
  for (int i = 0; i < RW_MILESTONES; i++)
    r.threshold[i].sd = 1e-9;
  rw_notes_prior p;
  rw_notes_prior_of(&r, &p);
  p.scatter = 0.112393527394542; /* the estimate, so that its prior does not pull */
  p.scatter_sd = 3;
  p.observer_sd = 0;
  p.T_ref = 293.15;
  rw_notes *f = fit(&p, &l);
  rw_notes_summary s = summary(f);
  double age =
      f->mark[RW_RECOAT_OPENS].log_age - f->joint[NOTES_RATE] + f->lever * f->joint[NOTES_ENERGY];
  double E = 56e3 + 1e3 * f->joint[NOTES_ENERGY];
  assert_close(age, rw_aft_coefficient(a, 0).value, 1e-3);
  assert_close_rel(E, rw_aft_coefficient(a, 1).value, 1e-3);
  rw_notes_row_result look;
  size_t seen = 0;
  while (isnan(l.row[seen].already))
    seen++;
  const rw_notes_batch *b = &l.batch[l.row[seen].batch];
  double upper_age;
  assert_ok(rw_notes_row_look(f, seen, &look, &err), &err);
  double fitted = 56e3 + 1e3 * f->at[NOTES_ENERGY];
  assert_ok(
      rw_equivalent_age(fitted, 293.15, b->hull, b->mixed, l.row[seen].already, &upper_age, &err),
      &err);
  assert_close_rel(look.age_high, upper_age, 1e-6);
  assert_close(f->joint[NOTES_SCATTER], rw_aft_coefficient(a, 2).value, 2e-3);
  /* The scatter integrated, two coefficients have taken their share of it. */
  rw_value likeliest = rw_aft_coefficient(a, 2);
  assert_true(s.scatter.after > likeliest.value + 0.02 && s.scatter.after < likeliest.value + 0.2);
  assert_close(s.age[RW_RECOAT_OPENS].after, rw_aft_coefficient(a, 0).value, 0.01);
  double ratio = s.age[RW_RECOAT_OPENS].after_sd / rw_aft_coefficient(a, 0).sd;
  assert_true(ratio > 1.02 && ratio < 1.25);
  ratio = s.energy.after_sd / rw_aft_coefficient(a, 1).sd;
  assert_true(ratio > 1.02 && ratio < 1.25);
  ratio = s.scatter.after_sd / likeliest.sd;
  assert_true(ratio > 0.9 && ratio < 1.25);
  /* Profile limits are those of the regression, but for the weak priors. */
  const rw_notes_quantity of[] = {RW_NOTES_AGE, RW_NOTES_ENERGY, RW_NOTES_SCATTER};
  const double start_at[] = {0, 56e3, 0};
  for (size_t i = 0; i < 3; i++) {
    double low, high, least, greatest;
    rw_aft_target target = {.coefficient = i};
    assert_ok(rw_notes_limits(f, &l.data, of[i], RW_RECOAT_OPENS, 0.9, &low, &high, &err), &err);
    assert_ok(rw_aft_profile(a, &target, 0.9, &least, &greatest, &err), &err);
    double width = greatest - least;
    assert_close(low + start_at[i], least, 0.01 * width);
    assert_close(high + start_at[i], greatest, 0.01 * width);
  }
  rw_aft_destroy(a);
  rw_notes_destroy(f);
  finish(&l);
}

/* Twenty batches, the ninth of which takes twice as long. */
static void twenty(diary *l, const rw_resin *r, double ninth)
{
  start(l, 2);
  for (size_t i = 0; i < 20; i++) {
    size_t b = add_batch(l, days(287 + (double)(i % 9), 3), 8 * HOUR);
    double factor = exp(0.08 * even_z(i, 20)) * (i == 8 ? ninth : 1);
    for (int k = 0; k < 2; k++) {
      rw_milestone m = k == 0 ? RW_GEL : RW_RECOAT_OPENS;
      double span = (when(r, &l->batch[b], m) - 8 * HOUR) * factor;
      l->row[l->data.rows] =
          (rw_notes_row){b, m, 8 * HOUR + 0.93 * span, 8 * HOUR + 1.08 * span, i % 2, 1};
      if (i % 2 == 1) { /* the second pupil calls everything a fifth later */
        l->row[l->data.rows].not_yet = 8 * HOUR + 1.2 * 0.93 * span;
        l->row[l->data.rows].already = 8 * HOUR + 1.2 * 1.08 * span;
      }
      l->data.rows++;
    }
  }
}

static void an_odd_batch_is_told(void **state)
{
  (void)state;
  diary l;
  rw_resin r = slow();
  rw_notes_prior p;
  rw_notes_prior_of(&r, &p);
  rw_notes_batch_result result[20];
  rw_error err;
  for (int k = 0; k < 2; k++) {
    twenty(&l, &r, k == 0 ? 2 : 1);
    rw_notes *f = fit(&p, &l);
    assert_ok(rw_notes_batches(f, &l.data, result, &err), &err);
    for (size_t i = 0; i < 20; i++) {
      assert_int_equal(result[i].odd, k == 0 && i == 8);
      assert_int_equal(result[i].rows, 2);
      assert_true(result[i].chance_any >= result[i].chance && result[i].chance_any <= 1);
    }
    if (k == 0) {
      assert_close(log(result[8].factor), log(2), 0.25);
      assert_true(result[8].chance < 1e-3 && summary(f).chance < 0.01);
    }
    l.data.rows--;
    assert_status(rw_notes_batches(f, &l.data, result, &err), RW_ERR_ARGUMENT, &err);
    check_explained(&err, "notes");
    rw_notes_destroy(f);
    finish(&l);
  }
}

/* A hardener that grows slower by the week is told from one that does not, and by how much. */
static void drift_is_told(void **state)
{
  (void)state;
  diary l;
  rw_resin r = slow();
  rw_notes_prior p;
  rw_notes_prior_of(&r, &p);
  for (int slower = 0; slower < 2; slower++) {
    start(&l, 1);
    for (size_t i = 0; i < 24; i++) {
      double share = (double)i / 23;
      size_t b = add_batch(&l, days(287 + (double)(i * 5 % 7), 3), (8 + 12 * (double)i) * HOUR);
      double mixed = l.batch[b].mixed;
      double factor = exp(0.1 * even_z(i, 24) + slower * log(1.6) * share);
      double span = (when(&r, &l.batch[b], RW_RECOAT_OPENS) - mixed) * factor;
      add_note(&l, b, RW_RECOAT_OPENS, mixed + 0.95 * span, mixed + 1.05 * span);
    }
    rw_notes *f = fit(&p, &l);
    rw_notes_drift_result d;
    rw_error err;
    assert_ok(rw_notes_drift(f, &l.data, &d, &err), &err);
    assert_close_rel(d.span, 23 * 12 * HOUR, 1e-12);
    assert_close(log(d.factor), slower * log(1.6), 0.15);
    assert_true(d.factor_sd > 0.03 && d.factor_sd < 0.12);
    assert_true(slower ? d.chance < 1e-3 : d.chance > 0.2);
    l.data.observers++;
    assert_status(rw_notes_drift(f, &l.data, &d, &err), RW_ERR_ARGUMENT, &err);
    assert_string_equal(err.argument, "data");
    l.data.observers--;
    rw_notes_destroy(f);
    l.data.rows = 1; /* one batch cannot drift */
    f = fit(&p, &l);
    assert_ok(rw_notes_drift(f, &l.data, &d, &err), &err);
    assert_close(d.factor, 1, 0);
    assert_close(d.chance, 1, 0);
    rw_notes_destroy(f);
    finish(&l);
  }
}

/* Without a note they are the prior's, with one that only says "not yet" they lean. */
static void limits_of_few_notes(void **state)
{
  (void)state;
  diary l;
  rw_resin r = slow();
  rw_notes_prior p;
  rw_error err;
  double low, high;
  rw_notes_prior_of(&r, &p);
  p.T_ref = r.law.T_ref;
  start(&l, 1);
  rw_notes *f = fit(&p, &l);
  const double z = rw_num_normal_quantile(0.975);
  assert_ok(rw_notes_limits(f, &l.data, RW_NOTES_RATE, 0, 0.95, &low, &high, &err), &err);
  assert_close(low, -z * r.rate_sd, 1e-6);
  assert_close(high, z * r.rate_sd, 1e-6);
  assert_ok(rw_notes_limits(f, &l.data, RW_NOTES_ENERGY, 0, 0.95, &low, &high, &err), &err);
  assert_close(low, -z * r.energy_sd, 1e-2);
  assert_status(rw_notes_limits(f, &l.data, RW_NOTES_RATE, 0, 0.2, &low, &high, &err),
                RW_ERR_RANGE, &err);
  assert_string_equal(err.argument, "level");
  assert_status(rw_notes_limits(f, &l.data, RW_NOTES_AGE, RW_MILESTONES, 0.9, &low, &high, &err),
                RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "milestone");
  assert_status(rw_notes_limits(f, &l.data, (rw_notes_quantity)9, 0, 0.9, &low, &high, &err),
                RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "of");
  l.data.observers = 2;
  assert_status(rw_notes_limits(f, &l.data, RW_NOTES_RATE, 0, 0.9, &low, &high, &err),
                RW_ERR_ARGUMENT, &err);
  assert_string_equal(err.argument, "data");
  l.data.observers = 1;
  rw_notes_destroy(f);
  size_t b = add_batch(&l, steady(r.law.T_ref), 0);
  add_note(&l, b, RW_GEL, 1.5 * when(&r, &l.batch[b], RW_GEL), NAN);
  f = fit(&p, &l);
  assert_ok(rw_notes_limits(f, &l.data, RW_NOTES_AGE, RW_GEL, 0.9, &low, &high, &err), &err);
  double best = f->mark[RW_GEL].log_age - f->joint[NOTES_RATE] +
                f->lever * f->joint[NOTES_ENERGY] + f->joint[f->mark[RW_GEL].place];
  assert_true(high - best > 1.1 * (best - low) && low < best);
  rw_notes_destroy(f);
  finish(&l);
}

/* Notes that hold together and notes one in three of which is far off; what cannot be told apart
 * without a second temperature. */
static void fitness_is_told(void **state)
{
  (void)state;
  diary l;
  rw_resin r = slow();
  rw_notes_prior p;
  rw_notes_prior_of(&r, &p);
  p.scatter_sd = 0.05; /* so that the scatter cannot swallow it */
  for (int wild = 0; wild < 2; wild++) {
    start(&l, 1);
    for (size_t i = 0; i < 30; i++) {
      size_t b = add_batch(&l, steady(wild ? 284 + (double)(i % 3) * 6 : 291), 0);
      double far = wild && i % 3 == 0 ? (i % 2 ? 0.8 : -0.8) : 0;
      double span = when(&r, &l.batch[b], RW_GEL) * exp(0.15 * even_z(i, 30) + far);
      add_note(&l, b, RW_GEL, 0.98 * span, 1.02 * span);
    }
    rw_notes *f = fit(&p, &l);
    rw_notes_fitness_result fitness;
    rw_notes_fitness(f, &fitness);
    assert_true(wild ? fitness.outside >= 8 : fitness.outside <= 4);
    assert_true(wild ? fitness.chance < 0.01 : fitness.chance > 0.1);
    assert_true(fitness.condition >= 1 && fitness.condition < 1e6);
    assert_true(fabs(fitness.correlation) <= 1 && fitness.first < fitness.second);
    assert_non_null(rw_notes_unknown_key(f, fitness.second));
    assert_string_equal(rw_notes_unknown_key(f, 0), "rate");
    assert_string_equal(rw_notes_unknown_key(f, rw_notes_unknowns(f) - 1), "observer");
    assert_null(rw_notes_unknown_key(f, rw_notes_unknowns(f)));
    rw_notes_destroy(f);
    finish(&l);
  }
}

/* Notes of one batch that go together are told from notes that scatter each for itself. */
static void batches_or_hands(void **state)
{
  (void)state;
  diary l;
  rw_resin r = slow();
  rw_notes_prior p;
  rw_notes_prior_of(&r, &p);
  for (int together = 0; together < 2; together++) {
    start(&l, 1);
    for (size_t i = 0; i < 36; i++) {
      size_t b = i / 3;
      if (i % 3 == 0)
        add_batch(&l, days(287 + (double)(b % 7), 3), 8 * HOUR);
      rw_milestone m = i % 3 == 0 ? RW_GEL : i % 3 == 1 ? RW_RECOAT_OPENS : RW_RECOAT_CLOSES;
      double z = together ? even_z(b, 12) : even_z(i, 36);
      double span = (when(&r, &l.batch[b], m) - 8 * HOUR) * exp(0.15 * z);
      add_note(&l, b, m, 8 * HOUR + 0.95 * span, 8 * HOUR + 1.05 * span);
    }
    rw_notes *f = fit(&p, &l);
    rw_notes_summary s = summary(f);
    assert_true(together ? s.clumps > 3 : fabs(s.clumps) < 2);
    assert_close(s.chance, rw_num_normal_cdf(-s.clumps), 1e-15);
    rw_notes_destroy(f);
    finish(&l);
  }
}

static void observers_differ(void **state)
{
  (void)state;
  diary l;
  rw_resin r = slow(), hers, his;
  rw_notes_prior p;
  rw_notes_prior_of(&r, &p);
  twenty(&l, &r, 1);
  rw_notes *f = fit(&p, &l);
  rw_notes_value a, b;
  rw_error err;
  assert_ok(rw_notes_observer(f, 0, &a, &err), &err);
  assert_ok(rw_notes_observer(f, 1, &b, &err), &err);
  assert_close(b.after - a.after, log(1.2), 0.06);
  assert_ok(rw_notes_resin(f, 0, &hers, &err), &err);
  assert_ok(rw_notes_resin(f, 1, &his, &err), &err);
  assert_true(his.threshold[RW_GEL].value > hers.threshold[RW_GEL].value);
  assert_true(his.work_viscosity > hers.work_viscosity);
  assert_status(rw_notes_observer(f, 2, &a, &err), RW_ERR_RANGE, &err);
  assert_status(rw_notes_resin(f, 2, &his, &err), RW_ERR_RANGE, &err);
  rw_notes_destroy(f);
  finish(&l);
}

static void weights_count_as_notes(void **state)
{
  (void)state;
  diary l;
  rw_resin r = slow();
  rw_notes_prior p;
  rw_notes_prior_of(&r, &p);
  twenty(&l, &r, 1);
  l.row[3].weight = 2;
  l.row[7].weight = 0;
  rw_notes *f = fit(&p, &l);
  l.row[7] = l.row[3];
  l.row[3].weight = l.row[7].weight = 1;
  rw_notes *g = fit(&p, &l);
  double x[64], y[64];
  assert_int_equal(rw_notes_unknowns(f), rw_notes_unknowns(g));
  rw_notes_posterior(f, x, NULL);
  rw_notes_posterior(g, y, NULL);
  /* T_ref is the mean over the notes of their temperatures, which the weights have kept. */
  for (size_t i = 0; i < rw_notes_unknowns(f); i++)
    assert_close(x[i], y[i], 1e-7);
  rw_notes_destroy(f);
  rw_notes_destroy(g);
  finish(&l);
}

static void one_sided_notes_are_told(void **state)
{
  (void)state;
  diary l;
  rw_resin r = slow();
  rw_notes_prior p;
  rw_notes_prior_of(&r, &p);
  twenty(&l, &r, 1);
  add_note(&l, 0, RW_SAND, 30 * HOUR, NAN);
  add_note(&l, 1, RW_WORK_END, NAN, 20 * HOUR);
  rw_notes *f = fit(&p, &l);
  rw_notes_summary s = summary(f);
  assert_int_equal(s.age[RW_SAND].told, RW_TOLD_EARLIEST);
  assert_int_equal(s.age[RW_WORK_END].told, RW_TOLD_LATEST);
  assert_int_equal(s.age[RW_SERVICE].told, RW_TOLD_OTHERS);
  assert_int_equal(s.age[RW_GEL].told, RW_TOLD_WELL);
  assert_int_equal(s.scatter.told, RW_TOLD_WELL);
  for (int i = 0; i < RW_TOLDS; i++)
    assert_true(strlen(rw_told_key((rw_told)i)) > 3 && strlen(rw_told_text((rw_told)i)) > 10);
  assert_null(rw_told_key(RW_TOLDS));
  assert_null(rw_told_text(RW_TOLDS));
  rw_notes_destroy(f);
  finish(&l);
}

static double spread(double *x, size_t n)
{
  double sum = 0, square = 0;
  for (size_t i = 0; i < n; i++)
    sum += x[i];
  for (size_t i = 0; i < n; i++)
    square += (x[i] - sum / (double)n) * (x[i] - sum / (double)n);
  return sqrt(square / (double)(n - 1));
}

/* Ages of drawn resins spread as the covariance says, and by the scatter where that is asked. */
static void draws_have_the_covariance(void **state)
{
  (void)state;
  enum { N = 2048 };
  static rw_resin drawn[N];
  static double age[2][N];
  diary l;
  rw_resin r = slow();
  rw_notes_prior p;
  rw_notes_prior_of(&r, &p);
  twenty(&l, &r, 1);
  rw_notes *f = fit(&p, &l);
  rw_notes_summary s = summary(f);
  rw_error err;
  for (int k = 0; k < 2; k++) {
    assert_ok(rw_notes_draw(f, RW_NOTES_ANYONE, k, N, 5, drawn, &err), &err);
    for (size_t i = 0; i < N; i++) {
      rw_steady at = {s.T_ref, 0, 1e8};
      assert_ok(rw_steady_times(&drawn[i].law, &at, &drawn[i].threshold[RW_GEL].value, 1,
                                &age[k][i], &err),
                &err);
      age[k][i] = log(age[k][i]);
    }
  }
  double sd = s.age[RW_GEL].after_sd, scatter = exp(s.scatter.after);
  assert_close_rel(spread(age[0], N), sd, 0.05);
  assert_close_rel(spread(age[1], N), sqrt(sd * sd + scatter * scatter), 0.08);
  assert_true(drawn[0].rate_sd == 0 && drawn[0].threshold[RW_GEL].sd == 0);
  rw_notes_destroy(f);
  finish(&l);
}

/* The resin with independent spreads forecasts nearly as the full covariance does. */
static void two_ways_to_forecast(void **state)
{
  (void)state;
  diary l;
  rw_resin r = slow(), fitted;
  rw_notes_prior p;
  rw_notes_prior_of(&r, &p);
  twenty(&l, &r, 1);
  rw_notes *f = fit(&p, &l);
  rw_history *hull = days(287, 2);
  rw_notes_question q = {.hull = hull,
                         .from = 9 * HOUR,
                         .to = 300 * HOUR,
                         .temperature_sd = 0.5,
                         .observer = RW_NOTES_ANYONE,
                         .draws = 1024,
                         .seed = 3};
  rw_forecast a, b, c;
  rw_error err;
  assert_ok(rw_notes_resin(f, RW_NOTES_ANYONE, &fitted, &err), &err);
  assert_ok(rw_notes_forecast(f, &q, &a, &err), &err);
  assert_ok(rw_cure_forecast(&fitted, hull, q.from, q.to, 0.5, 1024, 4, &b, &err), &err);
  for (int i = RW_GEL; i <= RW_RECOAT_OPENS; i++) {
    assert_close_rel(a.time[i], b.time[i], 1e-4);
    assert_close_rel(a.high[i] - a.low[i], b.high[i] - b.low[i], 0.2);
    assert_true(a.because[i] >= 0 && a.because[i] < 4);
  }
  q.scatter = 1;
  assert_ok(rw_notes_forecast(f, &q, &c, &err), &err);
  assert_true(c.high[RW_GEL] - c.low[RW_GEL] > a.high[RW_GEL] - a.low[RW_GEL]);
  q.draws = 0;
  assert_ok(rw_notes_forecast(f, &q, &c, &err), &err);
  assert_true(c.low[RW_GEL] == c.time[RW_GEL] && c.high[RW_GEL] == c.time[RW_GEL]);
  q.temperature_sd = 21;
  assert_status(rw_notes_forecast(f, &q, &c, &err), RW_ERR_RANGE, &err);
  q.temperature_sd = 1;
  q.to = 500 * HOUR;
  assert_status(rw_notes_forecast(f, &q, &c, &err), RW_ERR_COVERAGE, &err);
  rw_history_destroy(hull);
  rw_notes_destroy(f);
  finish(&l);
}

static void refused(const rw_notes_prior *p, const diary *l, rw_status wanted, const char *word,
                    long line)
{
  rw_notes *f = (rw_notes *)&refused;
  rw_error err = {.line = 0};
  assert_status(rw_notes_fit(p, &l->data, &f, &err), wanted, &err);
  assert_true(f == (rw_notes *)&refused);
  assert_int_equal(rw_notes_fit(p, &l->data, &f, NULL), wanted);
  check_explained(&err, word);
  assert_int_equal(err.line, line);
}

static void impossible_notes_are_refused(void **state)
{
  (void)state;
  diary l;
  rw_resin r = slow();
  rw_notes_prior p, bad;
  rw_notes_prior_of(&r, &p);
  start(&l, 1);
  add_batch(&l, days(290, 2), 8 * HOUR);
  add_note(&l, 0, RW_GEL, 12 * HOUR, 14 * HOUR);
  rw_notes_row good = {0, RW_GEL, 12 * HOUR, 14 * HOUR, 0, 1};
  l.data.rows = 2;
  l.row[1] = good;
  l.row[1].already = 11 * HOUR;
  refused(&p, &l, RW_ERR_ORDER, "gel", 2);
  l.row[1].already = l.row[1].not_yet = NAN;
  refused(&p, &l, RW_ERR_ARGUMENT, "no look", 2);
  l.row[1] = good;
  l.row[1].not_yet = 7 * HOUR;
  refused(&p, &l, RW_ERR_RANGE, "not_yet", 2);
  l.row[1] = good;
  l.row[1].not_yet = NAN;
  l.row[1].already = 8 * HOUR;
  refused(&p, &l, RW_ERR_RANGE, "already", 2);
  l.row[1] = good;
  l.row[1].already = 401 * HOUR;
  refused(&p, &l, RW_ERR_COVERAGE, "", 2);
  l.row[1] = good;
  l.row[1].batch = 1;
  refused(&p, &l, RW_ERR_ARGUMENT, "batch", 2);
  l.row[1] = good;
  l.row[1].observer = 1;
  refused(&p, &l, RW_ERR_ARGUMENT, "observer", 2);
  l.row[1] = good;
  l.row[1].weight = -1;
  refused(&p, &l, RW_ERR_RANGE, "weight", 2);
  l.row[1] = good;
  l.row[1].event = RW_MILESTONES;
  refused(&p, &l, RW_ERR_ARGUMENT, "event", 2);
  l.row[1] = good;
  l.data.observers = 0;
  refused(&p, &l, RW_ERR_RANGE, "observers", 0);
  l.data.observers = 1;
  bad = p;
  bad.together = 1;
  refused(&bad, &l, RW_ERR_RANGE, "together", 0);
  bad = p;
  bad.scatter = 0;
  refused(&bad, &l, RW_ERR_RANGE, "scatter", 0);
  bad = p;
  bad.scatter_sd = 0;
  refused(&bad, &l, RW_ERR_RANGE, "scatter_sd", 0);
  bad = p;
  bad.observer_sd = -1;
  refused(&bad, &l, RW_ERR_RANGE, "observer_sd", 0);
  bad = p;
  bad.T_ref = 20;
  refused(&bad, &l, RW_ERR_RANGE, "T_ref", 0);
  bad = p;
  bad.resin.law.n = 9;
  refused(&bad, &l, RW_ERR_RANGE, "n", 0);
  finish(&l);
}

/* A class that turns to glass in the cold never sands there, whatever a note says. */
static void out_of_reach(void **state)
{
  (void)state;
  diary l;
  rw_resin r;
  rw_notes_prior p;
  rw_error err;
  assert_ok(rw_resin_find("medium-cycloaliphatic", &r, &err), &err);
  r.threshold[RW_SERVICE].value = 0.8;
  rw_notes_prior_of(&r, &p);
  p.T_ref = 278;
  start(&l, 1);
  add_batch(&l, days(278, 2), 8 * HOUR);
  add_note(&l, 0, RW_SERVICE, 100 * HOUR, 300 * HOUR);
  refused(&p, &l, RW_ERR_ARGUMENT, "service", 1);
  l.row[0].event = RW_GEL;
  rw_notes *f = fit(&p, &l);
  rw_notes_summary s = summary(f);
  assert_true(isnan(s.age[RW_SERVICE].after) && s.age[RW_GEL].after > 0);
  rw_notes_destroy(f);
  finish(&l);
}

/* Notes as far apart as they can be still end in an answer that says so, or in none. */
static void contradictions_are_said(void **state)
{
  (void)state;
  diary l;
  rw_resin r = slow();
  rw_notes_prior p;
  rw_notes_prior_of(&r, &p);
  start(&l, 1);
  add_batch(&l, days(290, 2), 8 * HOUR);
  for (int i = 0; i < 6; i++) {
    add_note(&l, 0, RW_GEL, NAN, 8.1 * HOUR);
    add_note(&l, 0, RW_GEL, 300 * HOUR, NAN);
  }
  rw_notes *f = NULL;
  rw_error err;
  rw_status status = rw_notes_fit(&p, &l.data, &f, &err);
  if (status == RW_OK) {
    rw_notes_summary s = summary(f);
    assert_true(exp(s.scatter.after) > 0.5);
    rw_notes_row_result look;
    assert_ok(rw_notes_row_look(f, 0, &look, &err), &err);
    assert_status(rw_notes_row_look(f, 12, &look, &err), RW_ERR_RANGE, &err);
    rw_notes_destroy(f);
  } else {
    assert_status(status, RW_ERR_NUMERIC, &err);
    check_explained(&err, "settle");
  }
  finish(&l);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(age_and_its_slopes),
      cmocka_unit_test(stays_age_as_the_history),
      cmocka_unit_test(derivatives_of_a_note),
      cmocka_unit_test(no_notes_leave_the_prior),
      cmocka_unit_test(one_note_sharpens),
      cmocka_unit_test(many_notes_overrule),
      cmocka_unit_test(it_is_the_regression),
      cmocka_unit_test(an_odd_batch_is_told),
      cmocka_unit_test(drift_is_told),
      cmocka_unit_test(fitness_is_told),
      cmocka_unit_test(limits_of_few_notes),
      cmocka_unit_test(batches_or_hands),
      cmocka_unit_test(observers_differ),
      cmocka_unit_test(weights_count_as_notes),
      cmocka_unit_test(one_sided_notes_are_told),
      cmocka_unit_test(draws_have_the_covariance),
      cmocka_unit_test(two_ways_to_forecast),
      cmocka_unit_test(impossible_notes_are_refused),
      cmocka_unit_test(out_of_reach),
      cmocka_unit_test(contradictions_are_said),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
