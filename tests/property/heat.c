/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What must hold of heat in any resin: balances, orders, bounds, limits. */
#include "check.h"

#include <math.h>

static const double HOUR = 3600, DAY = 86400;

/* xorshift64 (Marsaglia 2003): the same numbers in every run. */
static uint64_t next(uint64_t *seed)
{
  *seed ^= *seed << 13;
  *seed ^= *seed >> 7;
  *seed ^= *seed << 17;
  return *seed;
}

static double between(uint64_t *seed, double low, double high)
{
  return low + (high - low) * (double)(next(seed) >> 11) / 9007199254740992.0;
}

static double stretched(uint64_t *seed, double low, double high)
{
  return exp(between(seed, log(low), log(high)));
}

/* An invented resin: the numbers of a class with other kinetics. */
static rw_resin invented(uint64_t *seed)
{
  rw_resin r;
  rw_error err;
  assert_ok(rw_resin_find("medium-cycloaliphatic", &r, &err), &err);
  r.law = (rw_cure_law){.kind = next(seed) % 3 == 0 ? RW_LAW_NTH_ORDER : RW_LAW_KAMAL,
                        .k1 = stretched(seed, 2e-6, 2e-4),
                        .E1 = between(seed, 45e3, 75e3),
                        .k2 = stretched(seed, 2e-5, 8e-4),
                        .E2 = between(seed, 45e3, 75e3),
                        .m = between(seed, 0.3, 1.5),
                        .n = between(seed, 1, 2.5),
                        .T_ref = 298.15,
                        .C = between(seed, 0, 50),
                        .ac0 = between(seed, 0.5, 0.9),
                        .acT = 0.005};
  r.heat = between(seed, 3.8e5, 5.4e5);
  return r;
}

static rw_history *steady(double T, double span)
{
  double t[2] = {0, span}, y[2] = {T, T};
  rw_history *h = NULL;
  rw_error err;
  assert_ok(rw_history_create(t, y, NULL, 2, &h, &err), &err);
  return h;
}

static rw_slab casting(double thickness, double T)
{
  return (rw_slab){.resin = thickness,
                   .resin_conductivity = 0.2,
                   .resin_start = T,
                   .back = 0,
                   .front = 10,
                   .tolerance = 1e-3};
}

static rw_slab on_wood(double wood, double thickness, double T)
{
  rw_slab s = casting(thickness, T);
  s.wood = wood;
  s.wood_conductivity = 0.12;
  s.wood_density = 400;
  s.wood_heat_capacity = 1700;
  s.wood_start = T;
  s.back = 10;
  return s;
}

/* A slab held cold has s tanh s = 1; a body that hardly conducts to the air is of one temperature;
 * the better the air cools, the more a body bears. */
static void edges_are_consistent(void **state)
{
  (void)state;
  rw_error err;
  rw_critical c, one;
  assert_ok(rw_runaway_critical(RW_SHAPE_SLAB, HUGE_VAL, &c, &err), &err);
  double low = 1, high = 2;
  for (int i = 0; i < 60; i++) {
    double mid = 0.5 * (low + high);
    if (mid * tanh(mid) < 1)
      low = mid;
    else
      high = mid;
  }
  assert_close(c.delta, 2 * low * low / (cosh(low) * cosh(low)), 1e-12);
  assert_close(c.theta, 2 * log(cosh(low)), 1e-12);
  assert_ok(rw_runaway_uniform(&one, &err), &err);
  assert_close(one.delta, exp(-1), 1e-15);
  for (int shape = 0; shape < 3; shape++) {
    assert_ok(rw_runaway_critical((rw_shape)shape, 1e-7, &c, &err), &err);
    assert_close_rel(c.delta / ((shape + 1) * 1e-7), one.delta, 1e-6);
    assert_close_rel(c.theta, one.theta, 1e-6);
    double before = 0;
    for (double biot = 1e-3; biot < 1e6; biot *= 3) {
      assert_ok(rw_runaway_critical((rw_shape)shape, biot, &c, &err), &err);
      assert_true(c.delta > before);
      before = c.delta;
    }
  }
}

/* No steady state lies above the edge: theta'' + (j/x) theta' = -delta exp(theta) integrated here
 * by plain steps from any middle needs a delta no greater. */
static double delta_of(int j, double biot, double theta)
{
  /* phi'' + j/y phi' = -exp(phi) until -phi - y phi'/biot = theta. */
  const double h = 2e-4;
  double y = 0, phi = 0, slope = 0;
  while (-phi - y * slope / biot < theta) {
    double k[2][4], p = phi, s = slope;
    for (int i = 0; i < 4; i++) {
      double at = y + (i == 0 ? 0 : i == 3 ? h : h / 2);
      k[0][i] = s;
      k[1][i] = at > 0 ? -exp(p) - j * s / at : -exp(p) / (j + 1);
      double on = i == 2 ? h : h / 2;
      p = phi + on * k[0][i];
      s = slope + on * k[1][i];
    }
    phi += h / 6 * (k[0][0] + 2 * k[0][1] + 2 * k[0][2] + k[0][3]);
    slope += h / 6 * (k[1][0] + 2 * k[1][1] + 2 * k[1][2] + k[1][3]);
    y += h;
  }
  return y * y * exp(phi + y * slope / biot);
}

static void edge_is_the_greatest(void **state)
{
  (void)state;
  const double biot[] = {0.3, 2, 30, HUGE_VAL};
  for (int j = 0; j < 3; j++)
    for (int b = 0; b < 4; b++) {
      rw_critical c;
      rw_error err;
      assert_ok(rw_runaway_critical((rw_shape)j, biot[b], &c, &err), &err);
      assert_close_rel(delta_of(j, biot[b], c.theta), c.delta, 1e-6);
      for (double theta = 0.25; theta < 3; theta += 0.25)
        assert_true(delta_of(j, biot[b], theta) < c.delta * (1 + 1e-6));
    }
}

/* Errors of a grid fall with the square of the cell: halved cells, a quarter. */
static void grid_order(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r;
  assert_ok(rw_resin_find("medium-cycloaliphatic", &r, &err), &err);
  rw_history *h = steady(295, 3 * HOUR);
  double mean[5], cure[5], time = 2.5 * HOUR;
  for (int k = 0; k < 5; k++) {
    size_t cells = (size_t)8 << k;
    double T[256], a[256];
    rw_slab s = on_wood(0.01, 0.008, 295);
    s.wood_cells = s.resin_cells = cells;
    s.wood_start = 291;
    s.tolerance = 1e-7;
    rw_slab_profile p = {.time = &time, .n = 1, .temperature = T, .cure = a};
    rw_slab_result out;
    assert_ok(rw_slab_run(&r, &s, h, 0, 3 * HOUR, &p, &out, &err), &err);
    mean[k] = cure[k] = 0;
    for (size_t i = 0; i < cells; i++) {
      assert_true(isnan(a[i]) && !isnan(a[cells + i]));
      mean[k] += (T[i] + T[cells + i]) / (double)(2 * cells);
      cure[k] += a[cells + i] / (double)cells;
    }
  }
  for (int k = 0; k < 3; k++) {
    double T_order = log2((mean[k] - mean[k + 1]) / (mean[k + 1] - mean[k + 2]));
    double a_order = log2((cure[k] - cure[k + 1]) / (cure[k + 1] - cure[k + 2]));
    assert_close(T_order, 2, 0.1);
    assert_close(a_order, 2, 0.1);
  }
  rw_history_destroy(h);
}

/* Nothing gets out: the rise is heat over heat capacity times the cure, whatever the kinetics. */
static void adiabatic_rise(void **state)
{
  (void)state;
  uint64_t seed = 11;
  for (int k = 0; k < 40; k++) {
    rw_error err;
    rw_resin r = invented(&seed);
    double T = between(&seed, 283, 308), y[40];
    rw_history *h = steady(280, 10 * DAY);
    rw_slab s = casting(stretched(&seed, 1e-3, 0.1), T);
    s.front = 0;
    double time = 10 * DAY;
    rw_slab_profile p = {.time = &time, .n = 1, .temperature = y};
    rw_slab_result out;
    rw_status status = rw_slab_run(&r, &s, h, 0, 10 * DAY, &p, &out, &err);
    assert_true(status >= 0);
    double rise = r.heat / r.heat_capacity * out.cure_least;
    assert_close_rel(y[7] - T, rise, 1e-6);
    assert_close_rel(out.peak - T, rise, 1e-6);
    assert_close(out.lost, 0, 0);
    assert_true((out.peak > 500) == (status == RW_OUTSIDE_TESTED));
    rw_history_destroy(h);
  }
}

/* Heat in is heat kept plus heat lost, at any tolerance, for the method loses none; the places lie
 * in order. */
static void energy_closes(void **state)
{
  (void)state;
  uint64_t seed = 5;
  for (int k = 0; k < 24; k++) {
    rw_error err;
    rw_resin r = invented(&seed);
    double t[6], T[6];
    for (int i = 0; i < 6; i++) {
      t[i] = (i == 3 ? 2 : i) * 4 * HOUR; /* a step at the fourth */
      T[i] = between(&seed, 278, 306);
    }
    rw_history *h = NULL;
    assert_ok(rw_history_create(t, T, NULL, 6, &h, &err), &err);
    rw_slab s = on_wood(stretched(&seed, 3e-3, 0.05), stretched(&seed, 2e-4, 0.05), 295);
    if (next(&seed) % 4 == 0)
      s.wood = 0;
    s.wood_start = between(&seed, 280, 300);
    s.front = next(&seed) % 5 == 0 ? HUGE_VAL : stretched(&seed, 1, 100);
    s.back = next(&seed) % 5 == 0 ? 0 : stretched(&seed, 1, 100);
    rw_slab_result out, fine;
    assert_true(rw_slab_run(&r, &s, h, 0, 20 * HOUR, NULL, &out, &err) >= 0);
    assert_close(out.balance, 0, 1e-9);
    s.tolerance = 1e-5;
    assert_true(rw_slab_run(&r, &s, h, 0, 20 * HOUR, NULL, &fine, &err) >= 0);
    assert_close(fine.balance, 0, 1e-9);
    assert_close(fine.peak, out.peak, 0.05);
    assert_close(fine.cure_least, out.cure_least, 1e-4);
    assert_true(fine.gel_first <= fine.gel_last && fine.work_end_first <= fine.work_end_last);
    assert_true(fine.cure_least <= fine.cure_greatest);
    assert_true(fine.peak_depth > 0 && fine.peak_depth < s.resin);
    double depth[64];
    rw_slab_depths(&s, depth);
    for (size_t i = 1; i < rw_slab_places(&s); i++)
      assert_true(depth[i] < depth[i - 1]);
    assert_close(depth[rw_slab_places(&s) - 1], s.resin / 80, 1e-15);
    rw_history_destroy(h);
  }
}

/* Held at the edges, with so much heat that hardly any is used up: below the edge it stays tame,
 * above it runs away (zero-order limit of Frank-Kamenetskii). */
static void edge_of_the_slab(void **state)
{
  (void)state;
  rw_error err;
  const double T = 300, E = 60e3, kelvin = RW_GAS_CONSTANT * 300 * 300 / 60e3;
  rw_critical c;
  assert_ok(rw_runaway_critical(RW_SHAPE_SLAB, HUGE_VAL, &c, &err), &err);
  rw_resin r;
  assert_ok(rw_resin_find("slow-polyetheramine", &r, &err), &err);
  r.law = (rw_cure_law){.kind = RW_LAW_NTH_ORDER, .k1 = 1e-7, .E1 = E, .n = 1, .T_ref = T};
  rw_history *h = steady(T, 200 * DAY);
  const double share[] = {0.5, 0.8, 0.95, 1.1, 1.2, 2};
  double half = 0.01;
  for (int i = 0; i < 6; i++) {
    r.heat = share[i] * c.delta * 0.2 * kelvin / (r.density * r.law.k1 * half * half);
    /* Heat for thousands of rises to the edge: what is used up until then does not count. */
    assert_true(r.heat / r.heat_capacity > 3e3 * kelvin);
    rw_slab s = casting(half, T);
    s.front = HUGE_VAL;
    double span = 400 * half * half * r.density * r.heat_capacity / 0.2;
    rw_slab_result out;
    rw_status status = rw_slab_run(&r, &s, h, 0, span, NULL, &out, &err);
    assert_true(status >= 0);
    if (share[i] < 1)
      assert_true((out.peak - T) / kelvin < c.theta);
    else
      assert_true(status == RW_OUTSIDE_TESTED && out.peak > 500);
  }
  rw_history_destroy(h);
}

/* A resin that is used up runs away at the edge or above, never below: at the safe size no resin
 * gets warmer than the edge's own steady state. A mass many times as thick does run away. */
static void safe_size_is_safe(void **state)
{
  (void)state;
  uint64_t seed = 3;
  int ran_away = 0, runs = 30;
  for (int k = 0; k < runs; k++) {
    rw_error err;
    rw_resin r = invented(&seed);
    double air = between(&seed, 278, 308), surface = stretched(&seed, 3, 1000);
    double size = NAN, rate, E;
    if (next(&seed) % 4 == 0)
      surface = HUGE_VAL;
    assert_ok(rw_resin_safe_size(&r, RW_SHAPE_SLAB, 0.2, surface, air, &size, &err), &err);
    assert_ok(rw_cure_law_bound(&r.law, air, &rate, &E, &err), &err);
    rw_critical c;
    assert_ok(rw_runaway_critical(RW_SHAPE_SLAB, surface * size / 0.2, &c, &err), &err);
    double kelvin = RW_GAS_CONSTANT * air * air / E;
    rw_history *h = steady(air, 3 * DAY);
    rw_slab s = casting(size, air);
    s.front = surface;
    rw_slab_result out;
    assert_true(rw_slab_run(&r, &s, h, 0, 3 * DAY, NULL, &out, &err) >= 0);
    assert_true(out.peak - air <= c.theta * kelvin);
    s.resin = fmin(30 * size, 1);
    assert_true(rw_slab_run(&r, &s, h, 0, 3 * DAY, NULL, &out, &err) >= 0);
    ran_away += out.peak - air > 6 * kelvin;
    rw_history_destroy(h);
  }
  assert_true(ran_away > runs * 2 / 3);
}

/* A law of any kind, with either form of slowing. */
static rw_cure_law any_law(uint64_t *seed)
{
  rw_cure_law law = invented(seed).law;
  law.kind = (rw_law_kind)(next(seed) % (RW_LAW_TWO_STAGE + 1));
  law.limit = between(seed, 0.5, 1.4);
  law.k3 = stretched(seed, 1e-6, 1e-4);
  law.E3 = between(seed, 45e3, 75e3);
  law.split = between(seed, 0.2, 0.5);
  if (law.kind == RW_LAW_TWO_STAGE && next(seed) % 2)
    law.k2 = -law.k1 * between(seed, 0.1, 1.5);
  if (next(seed) % 3 == 0)
    law.stiffening = (rw_stiffening){stretched(seed, 1e-7, 1e-4), 40.2, 51.6, {251, 400, 0.4}};
  return law;
}

/* The bound lies above the law everywhere, and touches the unslowed law at its own temperature. */
static void bound_is_a_bound(void **state)
{
  (void)state;
  uint64_t seed = 17;
  for (int k = 0; k < 70; k++) {
    rw_error err;
    rw_resin r = {.law = any_law(&seed)};
    double T = between(&seed, 270, 320), rate, E, warm = T + between(&seed, 0, 80), now;
    assert_ok(rw_cure_law_bound(&r.law, T, &rate, &E, &err), &err);
    double greatest = 0, limit = rate * exp(E / RW_GAS_CONSTANT * (1 / T - 1 / warm));
    rw_cure_law bare = r.law;
    bare.C = 0;
    bare.stiffening.k = 0;
    bare.k2 = fmax(bare.k2, 0);
    for (int i = 0; i <= 16384; i++) {
      double a = i / 16384.0;
      assert_ok(rw_cure_rate(&bare, a, T, &now, &err), &err);
      greatest = fmax(greatest, now);
      if (i % 32 != 0)
        continue;
      assert_ok(rw_cure_rate(&r.law, a, warm, &now, &err), &err);
      assert_true(now <= limit * (1 + 1e-9));
    }
    assert_close_rel(greatest, rate, 1e-4);
  }
}

/* A thin film on wood follows the air as the plain cure engine has it. */
static void thin_film_is_isothermal(void **state)
{
  (void)state;
  uint64_t seed = 23;
  for (int k = 0; k < 12; k++) {
    rw_error err;
    rw_resin r = invented(&seed);
    double t[12], T[12];
    for (int i = 0; i < 12; i++) {
      t[i] = 1.7e9 + i * 2 * HOUR;
      T[i] = between(&seed, 283, 303);
    }
    rw_history *h = NULL;
    assert_ok(rw_history_create(t, T, NULL, 12, &h, &err), &err);
    rw_slab s = casting(2e-5, T[0]);
    s.front = s.back = HUGE_VAL;
    s.tolerance = 1e-5;
    rw_slab_result out;
    assert_ok(rw_slab_run(&r, &s, h, t[0], t[11], NULL, &out, &err), &err);
    rw_cure_path *path = NULL;
    double a = NAN, gel = HUGE_VAL;
    assert_ok(rw_cure_run(&r.law, h, t[0], t[11], 0, 1e-10, &path, &err), &err);
    assert_ok(rw_cure_at(path, t[11], &a, NULL, NULL, &err), &err);
    assert_close(out.cure_least, a, 1e-5);
    if (rw_cure_when(path, r.flow.a_gel, &gel, &err) == RW_OK)
      assert_close(out.gel_first, gel, 5);
    else
      assert_true(out.gel_first == HUGE_VAL);
    rw_cure_path_destroy(path);
    rw_history_destroy(h);
  }
}

/* A law that has no rate at zero starts all the same, as the cure engine has it, to the promised
 * tolerance/(200 K). */
static void starts_from_nothing(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r;
  assert_ok(rw_resin_find("fast-polyamine", &r, &err), &err);
  rw_history *h = steady(298.15, 4 * HOUR);
  for (int k = 0; k < 12; k++) {
    r.law = (rw_cure_law){.kind = k % 2 ? RW_LAW_KAMAL : RW_LAW_SESTAK_BERGGREN,
                          .k1 = k % 2 ? 0 : 2e-4,
                          .E1 = 6e4,
                          .k2 = 2e-4,
                          .E2 = 6e4,
                          .m = 0.2 + 0.05 * k,
                          .n = 1.3,
                          .T_ref = 298.15};
    rw_slab s = casting(1e-5, 298.15);
    s.front = s.back = HUGE_VAL;
    s.tolerance = 1e-2;
    rw_slab_result out;
    assert_ok(rw_slab_run(&r, &s, h, 0, 4 * HOUR, NULL, &out, &err), &err);
    rw_cure_path *path = NULL;
    double a = NAN;
    assert_ok(rw_cure_run(&r.law, h, 0, 4 * HOUR, 0, 1e-9, &path, &err), &err);
    assert_ok(rw_cure_at(path, 4 * HOUR, &a, NULL, NULL, &err), &err);
    assert_close(out.cure_least, a, 5e-5);
    rw_cure_path_destroy(path);
  }
  rw_history_destroy(h);
}

/* A resin whose ambient cure stops some 20 K above the temperature of the cure. */
static rw_resin ambient(uint64_t *seed)
{
  rw_resin r = invented(seed);
  r.law.C = between(seed, 40, 80);
  r.law.ac0 = between(seed, 0.55, 0.7);
  r.law.acT = between(seed, 0.004, 0.007);
  r.glass.lambda = 0.35;
  return r;
}

static rw_place some_place(uint64_t *seed)
{
  rw_place p = {.most = between(seed, 305, 345),
                .span = between(seed, 3, 10) * HOUR,
                .sessions = 1 + (size_t)(next(seed) % 4),
                .period = DAY,
                .rest = between(seed, 285, 296),
                .heating = between(seed, 4, 30) / HOUR,
                .cooling = between(seed, 4, 30) / HOUR,
                .step = between(seed, 300, 3600)};
  return p;
}

static void check_ramp(const rw_place *p, const rw_history *ramp)
{
  const double *t, *T;
  size_t n = rw_history_points(ramp, &t, &T, NULL);
  assert_close(T[0], p->rest, 0);
  assert_close(T[n - 1], p->rest, 1e-6);
  for (size_t i = 1; i < n; i++) {
    double rate = (T[i] - T[i - 1]) / (t[i] - t[i - 1]);
    assert_true(rate <= p->heating * (1 + 1e-6) && rate >= -p->cooling * (1 + 1e-6));
    assert_true(T[i] <= p->most && T[i] >= p->rest - 1e-9);
  }
}

/* The hull never softens, the rates are kept, a reached target is one that the cure engine finds
 * too; a place as warm as is said to be needed does it, a little less does not. */
static void ramps_keep_their_promises(void **state)
{
  (void)state;
  uint64_t seed = 29;
  int reached = 0, missed = 0;
  for (int k = 0; k < 60; k++) {
    rw_error err;
    rw_resin r = ambient(&seed);
    rw_place place = some_place(&seed);
    double margin = between(&seed, -10, 2), from = next(&seed) % 2 ? 0 : 1.7e9;
    rw_history *past = steady(place.rest, 14 * DAY), *ramp = NULL;
    rw_softening now;
    assert_ok(rw_softening_along(&r, past, 0, 14 * DAY, 0, &now, &err), &err);
    rw_history_destroy(past);
    if (now.Tg + margin < place.rest)
      continue;
    double target = now.Tg + between(&seed, 3, 25);
    rw_postcure plan;
    rw_status status =
        rw_postcure_plan(&r, &place, now.cure, margin, target, from, &plan, &ramp, &err);
    assert_true(status == RW_OK || status == RW_NO_SOLUTION);
    check_ramp(&place, ramp);
    assert_close(plan.soft_start, 0, 0);
    assert_true(plan.worst <= margin + 1e-6);
    rw_softening after;
    double end;
    rw_history_span(ramp, NULL, &end);
    assert_ok(rw_softening_along(&r, ramp, from, end, now.cure, &after, &err), &err);
    assert_true(after.worst <= margin + 1e-6);
    assert_close(after.Tg, plan.Tg, 1e-6);
    if (status == RW_OK) {
      reached++;
      assert_ok(rw_softening_along(&r, ramp, from, plan.time, now.cure, &after, &err), &err);
      assert_close(after.Tg, target, 1e-2);
      assert_true(plan.Tg >= target - 1e-6);
      assert_true(plan.needed <= place.most);
      assert_true(plan.unbroken <= plan.time - from + 1);
    } else {
      missed++;
      assert_true(plan.Tg < target && plan.time == HUGE_VAL);
      assert_true(plan.needed > place.most);
      check_explained(&err, "glass transition");
      assert_true(err.hint[0] != '\0');
    }
    rw_history_destroy(ramp);
    if (plan.needed < HUGE_VAL) {
      rw_postcure other;
      place.most = plan.needed;
      assert_ok(rw_postcure_plan(&r, &place, now.cure, margin, target, 0, &other, &ramp, &err),
                &err);
      rw_history_destroy(ramp);
      place.most = fmax(plan.needed - 0.1, place.rest);
      rw_status less =
          rw_postcure_plan(&r, &place, now.cure, margin, target, 0, &other, &ramp, &err);
      assert_int_equal(less, RW_NO_SOLUTION);
      rw_history_destroy(ramp);
    }
  }
  assert_true(reached > 8 && missed > 8);
}

/* The ramp is as warm as can be: each setting is at the limit, at the place's most, or as far up
 * as the heating goes. */
static void ramps_are_the_warmest(void **state)
{
  (void)state;
  rw_error err;
  uint64_t seed = 31;
  int seen = 0;
  for (int k = 0; k < 20; k++) {
    rw_resin r = ambient(&seed);
    rw_place place = some_place(&seed);
    place.sessions = 1;
    place.most = 390;
    place.step = 450;
    rw_history *past = steady(place.rest, 14 * DAY), *ramp = NULL;
    rw_softening now, at;
    rw_postcure plan;
    assert_ok(rw_softening_along(&r, past, 0, 14 * DAY, 0, &now, &err), &err);
    rw_history_destroy(past);
    if (now.Tg - 5 < place.rest)
      continue;
    rw_status status = rw_postcure_plan(&r, &place, now.cure, RW_POSTCURE_MARGIN, r.glass.Tg_inf,
                                        0, &plan, &ramp, &err);
    assert_true(status == RW_NO_SOLUTION);
    const double *t, *T;
    size_t n = rw_history_points(ramp, &t, &T, NULL);
    for (size_t i = 1; i < n && t[i] <= place.span; i++) {
      double rate = (T[i] - T[i - 1]) / (t[i] - t[i - 1]);
      assert_ok(rw_softening_along(&r, ramp, 0, t[i], now.cure, &at, &err), &err);
      int full = rate > place.heating * (1 - 1e-6);
      int near = T[i] - at.Tg > RW_POSTCURE_MARGIN - 0.05;
      assert_true(full || near || T[i] >= place.most);
      seen += near;
    }
    rw_history_destroy(ramp);
  }
  assert_true(seen > 40);
}

/* More heat, more margin, more sessions: never later. */
static void better_places_are_no_slower(void **state)
{
  (void)state;
  uint64_t seed = 37;
  for (int k = 0; k < 20; k++) {
    rw_error err;
    rw_resin r = ambient(&seed);
    rw_place place = some_place(&seed), better;
    double cure = 0.7, target = 0;
    rw_postcure plan[4];
    assert_ok(rw_glass_temperature(&r.glass, 0.76, &target, &err), &err);
    for (int i = 0; i < 4; i++) {
      better = place;
      better.most += i == 1 ? 8 : 0;
      better.sessions += i == 2 ? 3 : 0;
      rw_history *ramp = NULL;
      rw_status status =
          rw_postcure_plan(&r, &better, cure, i == 3 ? 0 : -8, target, 0, &plan[i], &ramp, &err);
      assert_true(status >= 0);
      rw_history_destroy(ramp);
    }
    for (int i = 1; i < 4; i++) {
      assert_true(plan[i].time <= plan[0].time + 1);
      assert_true(plan[i].Tg >= plan[0].Tg - 1e-3 || plan[i].time < HUGE_VAL);
    }
  }
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(edges_are_consistent),
      cmocka_unit_test(edge_is_the_greatest),
      cmocka_unit_test(grid_order),
      cmocka_unit_test(adiabatic_rise),
      cmocka_unit_test(energy_closes),
      cmocka_unit_test(edge_of_the_slab),
      cmocka_unit_test(safe_size_is_safe),
      cmocka_unit_test(bound_is_a_bound),
      cmocka_unit_test(thin_film_is_isothermal),
      cmocka_unit_test(starts_from_nothing),
      cmocka_unit_test(ramps_keep_their_promises),
      cmocka_unit_test(ramps_are_the_warmest),
      cmocka_unit_test(better_places_are_no_slower),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
