/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double HOUR = 3600, DAY = 86400, ZERO = 273.15;

static rw_resin resin(const char *name)
{
  rw_resin r;
  rw_error err;
  assert_ok(rw_resin_find(name, &r, &err), &err);
  return r;
}

/* An invented resin whose cold cure stops some 20 K above the temperature of the cure. */
static rw_resin stalling(void)
{
  rw_resin r = resin("medium-cycloaliphatic");
  r.law.C = 60;
  r.law.ac0 = 0.55;
  r.law.acT = 0.0065;
  r.glass.lambda = 0.35;
  return r;
}

static rw_history *history(const double *t, const double *T, size_t n)
{
  rw_history *h = NULL;
  rw_error err;
  assert_ok(rw_history_create(t, T, NULL, n, &h, &err), &err);
  return h;
}

static rw_history *steady(double celsius, double span)
{
  double t[2] = {0, span}, T[2] = {celsius + ZERO, celsius + ZERO};
  return history(t, T, 2);
}

static rw_slab fillet(double thickness)
{
  return (rw_slab){.wood = 0.012,
                   .wood_conductivity = 0.12,
                   .wood_density = 400,
                   .wood_heat_capacity = 1700,
                   .wood_start = 22 + ZERO,
                   .resin = thickness,
                   .resin_conductivity = 0.2,
                   .resin_start = 22 + ZERO,
                   .back = 10,
                   .front = 10,
                   .tolerance = 1e-3};
}

static void edges_refuse(void **state)
{
  (void)state;
  rw_error err;
  rw_critical c = {7, 7};
  assert_status(rw_runaway_critical(RW_SHAPE_SLAB, 0, &c, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "biot");
  assert_status(rw_runaway_critical(RW_SHAPE_SLAB, NAN, &c, &err), RW_ERR_RANGE, &err);
  assert_status(rw_runaway_critical((rw_shape)3, 1, &c, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "shape");
  assert_status(rw_runaway_critical(RW_SHAPE_SLAB, 1, NULL, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "out");
  assert_status(rw_runaway_uniform(NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_int_equal(rw_runaway_critical(RW_SHAPE_SLAB, -1, &c, NULL), RW_ERR_RANGE);
  assert_close(c.delta, 7, 0);
}

static const rw_body haystack = {.shape = RW_SHAPE_CYLINDER,
                                 .size = 0.3,
                                 .conductivity = 0.15,
                                 .surface = 10,
                                 .density = 900,
                                 .heat = 1.5e6,
                                 .A = 5e11,
                                 .E = 110e3};

static void bodies_refuse(void **state)
{
  (void)state;
  static const struct {
    const char *name;
    size_t offset;
    double bad;
  } member[] = {
      {"size", offsetof(rw_body, size), 0},
      {"size", offsetof(rw_body, size), INFINITY},
      {"conductivity", offsetof(rw_body, conductivity), -1},
      {"surface", offsetof(rw_body, surface), 0},
      {"density", offsetof(rw_body, density), 0},
      {"heat", offsetof(rw_body, heat), NAN},
      {"A", offsetof(rw_body, A), 0},
      {"E", offsetof(rw_body, E), 110},
  };
  rw_error err;
  double T = 7;
  for (size_t i = 0; i < sizeof member / sizeof *member; i++) {
    rw_body b = haystack;
    *(double *)(void *)((char *)&b + member[i].offset) = member[i].bad;
    assert_status(rw_body_critical_air(&b, &T, &err), RW_ERR_RANGE, &err);
    check_explained(&err, member[i].name);
    assert_status(rw_body_delta(&b, 300, &T, &err), RW_ERR_RANGE, &err);
  }
  assert_status(rw_body_delta(&haystack, 20, &T, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "T");
  assert_status(rw_body_critical_air(NULL, &T, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_body_critical_air(&haystack, NULL, &err), RW_ERR_ARGUMENT, &err);
  rw_body b = haystack;
  b.A = 1e-12;
  assert_status(rw_body_critical_air(&b, &T, &err), RW_NOT_REACHED, &err);
  check_explained(&err, "326 degC");
  b.A = 1e40;
  assert_status(rw_body_critical_air(&b, &T, &err), RW_NOT_REACHED, &err);
  check_explained(&err, "however cold");
  assert_close(T, 7, 0);
}

/* Still air cools less than a held surface, a sphere better than a cylinder. */
static void bodies_are_ordered(void **state)
{
  (void)state;
  rw_error err;
  rw_body b = haystack;
  double air, held, sphere;
  assert_ok(rw_body_critical_air(&b, &air, &err), &err);
  b.surface = HUGE_VAL;
  assert_ok(rw_body_critical_air(&b, &held, &err), &err);
  b.shape = RW_SHAPE_SPHERE;
  assert_ok(rw_body_critical_air(&b, &sphere, &err), &err);
  assert_true(air < held && held < sphere);
}

static void safe_sizes(void **state)
{
  (void)state;
  rw_error err;
  double cold, warm, fast, size = 7, mass = 7, chilled, rate = 7, E;
  rw_resin slow = resin("slow-polyetheramine"), quick = resin("fast-polyamine");
  assert_ok(rw_resin_safe_size(&slow, RW_SHAPE_SLAB, 0.2, 10, 288, &cold, &err), &err);
  assert_ok(rw_resin_safe_size(&slow, RW_SHAPE_SLAB, 0.2, 10, 303, &warm, &err), &err);
  assert_ok(rw_resin_safe_size(&quick, RW_SHAPE_SLAB, 0.2, 10, 288, &fast, &err), &err);
  assert_true(cold > warm && cold > fast && fast > 1e-4 && cold < 0.1);
  rw_vessel cup;
  assert_ok(rw_vessel_cup(0.07, &cup, &err), &err);
  assert_ok(rw_vessel_safe_mass(&quick, &cup, 8, 298, &warm, &err), &err);
  assert_ok(rw_vessel_safe_mass(&quick, &cup, 8, 278, &chilled, &err), &err);
  assert_true(chilled > 2 * warm && warm > 1e-4);
  /* source x volume = psi x loss at the edge */
  rw_critical edge;
  assert_ok(rw_runaway_uniform(&edge, &err), &err);
  assert_ok(rw_cure_law_bound(&quick.law, 298, &rate, &E, &err), &err);
  double source = warm * quick.heat * rate * E / (RW_GAS_CONSTANT * 298 * 298);
  double depth = warm / quick.density / cup.footprint;
  double lost = 8 * (2 * cup.footprint + cup.perimeter * depth);
  assert_close_rel(source / lost, edge.delta, 1e-9);
  assert_status(rw_vessel_safe_mass(&slow, &cup, 500, 278, &mass, &err), RW_NOT_REACHED, &err);
  check_explained(&err, "any depth");

  assert_status(rw_resin_safe_size(&slow, RW_SHAPE_SLAB, 0, 10, 288, &size, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "conductivity");
  assert_status(rw_resin_safe_size(&slow, RW_SHAPE_SLAB, 0.2, NAN, 288, &size, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "surface");
  assert_status(rw_resin_safe_size(&slow, RW_SHAPE_SLAB, 0.2, 10, 20, &size, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "air");
  assert_status(rw_resin_safe_size(&slow, (rw_shape)-1, 0.2, 10, 288, &size, &err),
                RW_ERR_ARGUMENT, &err);
  assert_status(rw_resin_safe_size(NULL, RW_SHAPE_SLAB, 0.2, 10, 288, &size, &err),
                RW_ERR_ARGUMENT, &err);
  slow.law.k1 = slow.law.k2 = 1e-14;
  assert_status(rw_resin_safe_size(&slow, RW_SHAPE_SLAB, 0.2, 10, 288, &size, &err),
                RW_NOT_REACHED, &err);
  slow.law.k1 = 1e11;
  assert_status(rw_resin_safe_size(&slow, RW_SHAPE_SLAB, 0.2, 10, 288, &size, &err),
                RW_ERR_NUMERIC, &err);
  slow.heat = -1;
  assert_status(rw_resin_safe_size(&slow, RW_SHAPE_SLAB, 0.2, 10, 288, &size, &err), RW_ERR_RANGE,
                &err);
  cup.footprint = 0;
  assert_status(rw_vessel_safe_mass(&quick, &cup, 8, 288, &mass, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "footprint");
  assert_status(rw_vessel_safe_mass(&quick, NULL, 8, 288, &mass, &err), RW_ERR_ARGUMENT, &err);
  double unchanged = 7;
  assert_status(rw_cure_law_bound(&quick.law, 800, &unchanged, &E, &err), RW_ERR_RANGE, &err);
  assert_status(rw_cure_law_bound(NULL, 300, &unchanged, &E, &err), RW_ERR_ARGUMENT, &err);
  assert_close(size + mass + unchanged, 21, 0);
}

static rw_status try_slab(const rw_slab *s, const rw_history *h, rw_error *err)
{
  rw_resin r = resin("fast-polyamine");
  rw_slab_result out, before;
  memset(&out, 7, sizeof out);
  before = out;
  rw_status status = rw_slab_run(&r, s, h, 0, HOUR, NULL, &out, err);
  if (status < 0)
    assert_memory_equal(&out, &before, sizeof out);
  return status;
}

static void slabs_refuse(void **state)
{
  (void)state;
  static const struct {
    const char *name;
    size_t offset;
    double bad[3];
  } member[] = {
      {"wood", offsetof(rw_slab, wood), {-0.01, 12, NAN}},
      {"wood_conductivity", offsetof(rw_slab, wood_conductivity), {0, 1e9, NAN}},
      {"wood_density", offsetof(rw_slab, wood_density), {0, 1e9, NAN}},
      {"wood_heat_capacity", offsetof(rw_slab, wood_heat_capacity), {0, INFINITY, NAN}},
      {"wood_start", offsetof(rw_slab, wood_start), {20, 1000, NAN}},
      {"resin", offsetof(rw_slab, resin), {0, 12, NAN}},
      {"resin_conductivity", offsetof(rw_slab, resin_conductivity), {0, 1e3, NAN}},
      {"resin_start", offsetof(rw_slab, resin_start), {20, 1000, NAN}},
      {"cure_start", offsetof(rw_slab, cure_start), {-0.1, 1.1, NAN}},
      {"back", offsetof(rw_slab, back), {-1, -INFINITY, NAN}},
      {"front", offsetof(rw_slab, front), {-1, -INFINITY, NAN}},
      {"tolerance", offsetof(rw_slab, tolerance), {0, 10, NAN}},
  };
  rw_history *h = steady(22, HOUR);
  rw_error err;
  for (size_t i = 0; i < sizeof member / sizeof *member; i++)
    for (int k = 0; k < 3; k++) {
      rw_slab s = fillet(0.012);
      *(double *)(void *)((char *)&s + member[i].offset) = member[i].bad[k];
      assert_status(try_slab(&s, h, &err), RW_ERR_RANGE, &err);
      assert_string_equal(err.argument, member[i].name);
      assert_string_equal(err.function, "rw_slab_run");
      check_explained(&err, member[i].name);
    }
  rw_slab s = fillet(0.012);
  s.resin_cells = 1;
  assert_status(try_slab(&s, h, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "resin_cells");
  s.resin_cells = 0;
  s.wood_cells = 1000000;
  assert_status(try_slab(&s, h, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "wood_cells");
  rw_history_destroy(h);
}

static void runs_refuse(void **state)
{
  (void)state;
  rw_resin r = resin("fast-polyamine");
  rw_history *h = steady(22, HOUR);
  rw_slab s = fillet(0.012);
  rw_slab_result out;
  rw_error err;
  assert_status(rw_slab_run(NULL, &s, h, 0, HOUR, NULL, &out, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "r is missing");
  assert_status(rw_slab_run(&r, NULL, h, 0, HOUR, NULL, &out, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_slab_run(&r, &s, NULL, 0, HOUR, NULL, &out, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "air");
  assert_status(rw_slab_run(&r, &s, h, 0, HOUR, NULL, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_slab_run(&r, &s, h, 0, 2 * HOUR, NULL, &out, &err), RW_ERR_COVERAGE, &err);
  assert_status(rw_slab_run(&r, &s, h, HOUR, HOUR, NULL, &out, &err), RW_ERR_RANGE, &err);
  assert_status(rw_slab_run(&r, &s, h, NAN, HOUR, NULL, &out, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_slab_run(&r, &s, h, 0, 1e9, NULL, &out, &err), RW_ERR_RANGE, &err);
  double time[3] = {0, HOUR / 2, HOUR}, T[3 * 64];
  T[0] = 7;
  rw_slab_profile p = {.time = time, .n = 0, .temperature = T};
  assert_status(rw_slab_run(&r, &s, h, 0, HOUR, &p, &out, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "profile.n");
  p.n = 3;
  time[1] = 0;
  assert_status(rw_slab_run(&r, &s, h, 0, HOUR, &p, &out, &err), RW_ERR_ORDER, &err);
  time[1] = 2 * HOUR;
  assert_status(rw_slab_run(&r, &s, h, 0, HOUR, &p, &out, &err), RW_ERR_RANGE, &err);
  time[1] = NAN;
  assert_status(rw_slab_run(&r, &s, h, 0, HOUR, &p, &out, &err), RW_ERR_RANGE, &err);
  p.time = NULL;
  assert_status(rw_slab_run(&r, &s, h, 0, HOUR, &p, &out, &err), RW_ERR_ARGUMENT, &err);
  p = (rw_slab_profile){.time = time, .n = 1, .temperature = NULL};
  assert_status(rw_slab_run(&r, &s, h, 0, HOUR, &p, &out, &err), RW_ERR_ARGUMENT, &err);
  r.law = (rw_cure_law){
      .kind = RW_LAW_SESTAK_BERGGREN, .k1 = 1e-4, .E1 = 6e4, .m = 1, .n = 1, .T_ref = 298.15};
  assert_status(rw_slab_run(&r, &s, h, 0, HOUR, NULL, &out, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "never starts");
  s.cure_start = 0.01;
  assert_ok(rw_slab_run(&r, &s, h, 0, HOUR, NULL, &out, &err), &err);
  r.law.m = 0.5;
  s.cure_start = 0;
  assert_ok(rw_slab_run(&r, &s, h, 0, HOUR, NULL, &out, &err), &err);
  assert_true(out.cure_least > 0.01);
  r.density = 0;
  assert_status(rw_slab_run(&r, &s, h, 0, HOUR, NULL, &out, &err), RW_ERR_RANGE, &err);
  assert_close(T[0], 7, 0);
  rw_history_destroy(h);
}

/* Thicker: hotter. Tight at the back: hotter, and hottest there. */
static void thick_is_hot(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("medium-cycloaliphatic");
  rw_history *h = steady(22, 2 * DAY);
  double before = 22 + ZERO;
  for (double thickness = 1e-3; thickness < 0.05; thickness *= 2) {
    rw_slab s = fillet(thickness);
    rw_slab_result out, tight, twice;
    assert_true(rw_slab_run(&r, &s, h, 0, 2 * DAY, NULL, &out, &err) >= 0);
    assert_true(out.peak > before && out.peak_time > 0 && out.peak_time < DAY);
    assert_true(out.peak_depth > 0 && out.peak_depth < thickness);
    before = out.peak;
    s.wood = 0;
    s.back = 0;
    assert_true(rw_slab_run(&r, &s, h, 0, 2 * DAY, NULL, &tight, &err) >= 0);
    assert_true(tight.peak > out.peak);
    int mild = tight.peak < 60 + ZERO; /* else all of it is as hot */
    if (mild)
      assert_true(tight.peak_depth > thickness * 0.98);
    /* Half a slab with a tight back is a whole one open on both sides. */
    s.resin = 2 * thickness;
    s.back = s.front;
    s.resin_cells = 80;
    assert_true(rw_slab_run(&r, &s, h, 0, 2 * DAY, NULL, &twice, &err) >= 0);
    assert_close(twice.peak, tight.peak, 0.02);
    if (mild)
      assert_close(twice.peak_depth, thickness, thickness / 60);
    assert_close(twice.gel_last, tight.gel_last, 2);
  }
  rw_history_destroy(h);
}

/* Wood of the resin's own stuff is part of the slab. */
static void like_wood_is_no_border(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("slow-polyetheramine");
  rw_history *h = steady(40, HOUR);
  rw_slab s = fillet(0.006), whole;
  s.wood = 0.006;
  s.wood_conductivity = s.resin_conductivity;
  s.wood_density = r.density;
  s.wood_heat_capacity = r.heat_capacity;
  s.cure_start = 1;
  s.wood_cells = s.resin_cells = 30;
  s.back = 25;
  whole = s;
  whole.wood = 0;
  whole.resin = 0.012;
  whole.resin_cells = 60;
  double time[3] = {60, 600, HOUR}, T[3 * 60], W[3 * 60];
  rw_slab_profile p = {.time = time, .n = 3, .temperature = T};
  rw_slab_result out;
  assert_ok(rw_slab_run(&r, &s, h, 0, HOUR, &p, &out, &err), &err);
  assert_close(out.balance, 0, 1e-9);
  assert_close(out.gel_first, 0, 0);
  p.temperature = W;
  assert_ok(rw_slab_run(&r, &whole, h, 0, HOUR, &p, &out, &err), &err);
  for (int i = 0; i < 180; i++)
    assert_close(T[i], W[i], 1e-9);
  rw_history_destroy(h);
}

/* Events agree with the profile just before and just after. */
static void events_and_profile_agree(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("medium-cycloaliphatic");
  double t[2] = {1.7e9, 1.7e9 + DAY}, air[2] = {295, 290};
  rw_history *h = history(t, air, 2);
  rw_slab s = fillet(0.01);
  rw_slab_result out, again;
  assert_ok(rw_slab_run(&r, &s, h, t[0], t[1], NULL, &out, &err), &err);
  assert_true(out.work_end_first > t[0] && out.work_end_first < out.gel_first);
  assert_true(out.gel_first < out.gel_last && out.gel_last < t[1]);
  double time[4] = {out.gel_first - 2, out.gel_first + 2, out.gel_last - 2, out.gel_last + 2};
  double T[4 * 64], a[4 * 64];
  rw_slab_profile p = {.time = time, .n = 4, .temperature = T, .cure = a};
  assert_ok(rw_slab_run(&r, &s, h, t[0], t[1], &p, &again, &err), &err);
  size_t n = rw_slab_places(&s), gelled[4] = {0};
  assert_int_equal(n, 64);
  for (size_t k = 0; k < 4; k++)
    for (size_t i = 24; i < n; i++)
      gelled[k] += a[k * n + i] >= r.flow.a_gel;
  assert_int_equal(gelled[0], 0);
  assert_true(gelled[1] > 0 && gelled[2] < 40);
  assert_int_equal(gelled[3], 40);
  assert_close(again.peak, out.peak, 0.01);
  assert_true(isnan(a[0]) && T[0] > 290);
  rw_history_destroy(h);
}

/* Fresh resin in a steady shop is soft until it turns to glass; a step in temperature counts from
 * the moment it comes. */
static void softening(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = stalling();
  rw_history *h = steady(17, 21 * DAY);
  rw_softening now, later;
  rw_cure_path *path = NULL;
  rw_event glass = {.kind = RW_EVENT_GLASS, .level = 0, .glass = &r.glass};
  double when = NAN, a = NAN, Tg = NAN;
  assert_ok(rw_softening_along(&r, h, 0, 21 * DAY, 0, &now, &err), &err);
  assert_ok(rw_cure_run(&r.law, h, 0, 21 * DAY, 0, 1e-9, &path, &err), &err);
  assert_ok(rw_cure_event(path, &glass, &when, &err), &err);
  assert_close(now.soft, when, 1);
  assert_close(now.worst, 17 + ZERO - r.glass.Tg0, 1e-6);
  assert_close(now.worst_time, 0, 0);
  assert_ok(rw_cure_at(path, 21 * DAY, &a, NULL, NULL, &err), &err);
  assert_close(now.cure, a, 1e-9);
  rw_cure_path_destroy(path);
  rw_history_destroy(h);

  double t[4] = {0, HOUR, HOUR, 3 * HOUR}, T[4] = {290, 290, now.Tg + 12, now.Tg + 12};
  h = history(t, T, 4);
  assert_ok(rw_softening_along(&r, h, 0, HOUR / 2, now.cure, &later, &err), &err);
  assert_true(later.worst < 0 && later.soft == 0);
  assert_ok(rw_softening_along(&r, h, 0, HOUR, now.cure, &later, &err), &err);
  assert_ok(rw_glass_temperature(&r.glass, later.cure, &Tg, &err), &err);
  assert_close(later.Tg, Tg, 1e-9);
  assert_true(later.worst < 0);
  assert_ok(rw_softening_along(&r, h, 0, 3 * HOUR, now.cure, &later, &err), &err);
  assert_close(later.worst, now.Tg + 12 - Tg, 1e-6);
  assert_close(later.worst_time, HOUR, 1);
  assert_true(later.soft > 0 && later.soft < 2 * HOUR);
  rw_history_destroy(h);
}

/* On a ramp the worst moment lies inside, where the cure gains on the heating. */
static void worst_is_found_inside(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("medium-cycloaliphatic");
  double t[2] = {0, 8 * HOUR}, T[2] = {293, 333};
  rw_history *h = history(t, T, 2);
  rw_softening s;
  assert_ok(rw_softening_along(&r, h, 0, 8 * HOUR, 0.7, &s, &err), &err);
  rw_cure_path *path = NULL;
  assert_ok(rw_cure_run(&r.law, h, 0, 8 * HOUR, 0.7, 1e-9, &path, &err), &err);
  double worst = -HUGE_VAL;
  for (double x = 0; x <= 8 * HOUR; x += 5) {
    double a, now, Tg;
    assert_ok(rw_cure_at(path, x, &a, NULL, &now, &err), &err);
    assert_ok(rw_glass_temperature(&r.glass, a, &Tg, &err), &err);
    worst = fmax(worst, now - Tg);
  }
  assert_close(s.worst, worst, 1e-4);
  rw_cure_path_destroy(path);
  rw_history_destroy(h);
}

static void softening_refuses(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = stalling();
  rw_history *h = steady(17, DAY);
  rw_softening s = {.Tg = 7};
  assert_status(rw_softening_along(NULL, h, 0, DAY, 0, &s, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_softening_along(&r, NULL, 0, DAY, 0, &s, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "hull");
  assert_status(rw_softening_along(&r, h, 0, DAY, 0, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_softening_along(&r, h, 0, 2 * DAY, 0, &s, &err), RW_ERR_COVERAGE, &err);
  assert_status(rw_softening_along(&r, h, 0, DAY, 1, &s, &err), RW_ERR_RANGE, &err);
  assert_status(rw_softening_along(&r, h, DAY, DAY, 0, &s, &err), RW_ERR_RANGE, &err);
  r.glass.lambda = 0;
  assert_status(rw_softening_along(&r, h, 0, DAY, 0, &s, &err), RW_ERR_RANGE, &err);
  assert_close(s.Tg, 7, 0);
  rw_history_destroy(h);
}

/* What the forecasts below are asked of: three weeks in the shop, a night outside, a day in the
 * sun, with the spread of the class. */
typedef struct past {
  rw_history *shop, *sun;
  rw_period period[3];
  rw_softening_spread spread;
} past;

static past kayak(void)
{
  double t[4] = {22 * DAY, 22 * DAY + 4 * HOUR, 22 * DAY + 9 * HOUR, 23 * DAY};
  double T[4] = {291, 338, 330, 295};
  rw_error err;
  past p = {.shop = steady(17, 22 * DAY), .sun = history(t, T, 4)};
  p.period[0] = (rw_period){p.shop, 0, 10 * DAY};
  p.period[1] = (rw_period){p.shop, 10 * DAY, 21 * DAY};
  p.period[2] = (rw_period){p.sun, 22 * DAY, 23 * DAY};
  assert_ok(rw_softening_spread_of("medium-cycloaliphatic", 1, &p.spread, &err), &err);
  return p;
}

static void past_over(past *p)
{
  rw_history_destroy(p->shop);
  rw_history_destroy(p->sun);
}

/* One after the other, by hand. */
static void periods_go_on(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("medium-cycloaliphatic");
  past p = kayak();
  double first = NAN, both = NAN, none = NAN;
  rw_softening shop, sun;
  rw_softening_outlook o;
  assert_ok(rw_softening_along(&r, p.shop, 0, 10 * DAY, 0, &shop, &err), &err);
  assert_ok(rw_cure_through(&r, p.period, 1, 0, &first, &err), &err);
  assert_close(first, shop.cure, 0);
  assert_ok(rw_cure_through(&r, p.period + 1, 1, first, &none, &err), &err);
  assert_ok(rw_cure_through(&r, p.period, 2, 0, &both, &err), &err);
  assert_close(both, none, 0);
  assert_ok(rw_softening_along(&r, p.sun, 22 * DAY, 23 * DAY, both, &sun, &err), &err);
  assert_ok(rw_softening_forecast(&r, p.period, 3, 0, &p.spread, 0, 1, &o, &err), &err);
  const rw_heat_range range[] = {o.cure, o.Tg, o.worst, o.worst_time, o.soft};
  const double value[] = {sun.cure, sun.Tg, sun.worst, sun.worst_time, sun.soft};
  for (size_t i = 0; i < sizeof value / sizeof *value; i++) {
    assert_close(range[i].value, value[i], 0);
    assert_close(range[i].low, value[i], 0);
    assert_close(range[i].high, value[i], 0);
    assert_int_equal(range[i].because, -1);
  }
  assert_true(isnan(o.chance));
  assert_ok(rw_cure_through(&r, NULL, 0, 0.25, &none, &err), &err);
  assert_close(none, 0.25, 0);
  /* All that is left to follow is followed, and goes on. */
  rw_period hot[2] = {{p.sun, 22 * DAY, 22 * DAY + 5 * HOUR},
                      {p.sun, 22 * DAY + 6 * HOUR, 23 * DAY}};
  r.law.C = 0;
  r.law.k1 = 1;
  assert_ok(rw_cure_through(&r, hot, 2, 0, &none, &err), &err);
  assert_true(none > 0.999 && none < 1);
  past_over(&p);
}

/* Where a single number is not known the ranges are those of its quantiles. */
static void one_unknown_alone(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("medium-cycloaliphatic"), moved;
  past p = kayak();
  rw_softening s;
  rw_softening_outlook o;
  const double z = rw_num_normal_quantile(0.95);
  r.rate_sd = r.energy_sd = 0;
  p.spread = (rw_softening_spread){.glass_sd = 8};
  assert_ok(rw_softening_forecast(&r, p.period, 3, 0, &p.spread, 2048, 5, &o, &err), &err);
  for (int up = 0; up < 2; up++) {
    moved = r;
    moved.glass.Tg_inf += (up ? z : -z) * 8;
    double cure = NAN;
    assert_ok(rw_cure_through(&r, p.period, 2, 0, &cure, &err), &err);
    assert_ok(rw_softening_along(&moved, p.sun, 22 * DAY, 23 * DAY, cure, &s, &err), &err);
    assert_close(up ? o.Tg.high : o.Tg.low, s.Tg, 0.1);
    assert_close(up ? o.worst.low : o.worst.high, s.worst, 0.1);
  }
  assert_int_equal(o.Tg.because, RW_HEAT_GLASS);
  assert_int_equal(o.worst.because, RW_HEAT_GLASS);
  assert_int_equal(o.cure.because, -1); /* it does not hang on the glass transition */
  assert_close(o.cure.high, o.cure.low, 0);

  /* Fresh resin is softest at once: the range is that of the hull's temperature. */
  p.spread = (rw_softening_spread){.temperature_sd = 2};
  assert_ok(rw_softening_forecast(&r, p.period, 1, 0, &p.spread, 2048, 5, &o, &err), &err);
  assert_close(o.worst.high - o.worst.value, 2 * z, 0.02);
  assert_close(o.worst.low - o.worst.value, -2 * z, 0.02);
  assert_int_equal(o.worst.because, RW_HEAT_TEMPERATURE);
  assert_close(o.chance, 1, 0);

  r.energy_sd = 0;
  r.rate_sd = 0.3;
  p.spread = (rw_softening_spread){0};
  assert_ok(rw_softening_forecast(&r, p.period, 1, 0, &p.spread, 2048, 5, &o, &err), &err);
  for (int up = 0; up < 2; up++) {
    moved = r;
    moved.law = rw_cure_law_moved(&r.law, (up ? z : -z) * 0.3, 0);
    assert_ok(rw_softening_along(&moved, p.shop, 0, 10 * DAY, 0, &s, &err), &err);
    assert_close(up ? o.cure.high : o.cure.low, s.cure, 1e-3);
    assert_close_rel(up ? o.soft.low : o.soft.high, s.soft, 5e-3);
  }
  assert_int_equal(o.soft.because, RW_HEAT_RATE);
  past_over(&p);
}

/* The chance is the share of the worst above zero, so it lies where the quantiles say. */
static void chance_and_quantiles_agree(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("medium-cycloaliphatic");
  past p = kayak();
  rw_softening_outlook o, again, other;
  assert_ok(rw_softening_forecast(&r, p.period, 3, 0, &p.spread, 256, 1, &o, &err), &err);
  assert_ok(rw_softening_forecast(&r, p.period, 3, 0, &p.spread, 256, 1, &again, &err), &err);
  const rw_heat_range first[] = {o.cure, o.Tg, o.worst, o.worst_time, o.soft};
  const rw_heat_range second[] = {again.cure, again.Tg, again.worst, again.worst_time, again.soft};
  for (size_t i = 0; i < sizeof first / sizeof *first; i++) {
    assert_close(first[i].low, second[i].low, 0);
    assert_close(first[i].high, second[i].high, 0);
    assert_int_equal(first[i].because, second[i].because);
  }
  assert_close(o.chance, again.chance, 0);
  assert_ok(rw_softening_forecast(&r, p.period, 3, 0, &p.spread, 256, 2, &other, &err), &err);
  assert_true(other.Tg.low != o.Tg.low);
  assert_close(other.Tg.low, o.Tg.low, 2);
  assert_true(o.cure.low < o.cure.value && o.cure.value < o.cure.high);
  assert_true(o.Tg.low < o.Tg.value && o.Tg.value < o.Tg.high);
  assert_true(o.worst_time.low >= 22 * DAY && o.worst_time.high <= 23 * DAY);
  assert_true(o.worst.low < 0);
  assert_true((o.chance >= 0.05) == (o.worst.high > 0));
  rw_history *warmer = NULL;
  assert_ok(rw_history_shift(p.sun, 20, &warmer, &err), &err);
  p.period[2].hull = warmer;
  assert_ok(rw_softening_forecast(&r, p.period, 3, 0, &p.spread, 256, 1, &again, &err), &err);
  assert_true(again.chance > o.chance && again.worst.high > o.worst.high);
  rw_history_destroy(warmer);
  for (int i = 0; i < RW_HEAT_UNKNOWNS; i++) {
    assert_true(rw_heat_because(i)[0] != '\0');
    for (int k = 0; k < i; k++)
      assert_string_not_equal(rw_heat_because(i), rw_heat_because(k));
  }
  assert_string_equal(rw_heat_because(-1), "");
  assert_string_equal(rw_heat_because(RW_HEAT_UNKNOWNS), "");
  past_over(&p);
}

static void forecasts_refuse(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("medium-cycloaliphatic");
  past p = kayak();
  rw_softening_outlook o, before;
  memset(&o, 7, sizeof o);
  before = o;
  double cure = 7;
  static const struct {
    rw_status status;
    size_t period;
    double from, to;
    const char *name;
  } bad[] = {
      {RW_ERR_ORDER, 1, 9 * DAY, 21 * DAY, "period[2].from"},
      {RW_ERR_ORDER, 1, NAN, 21 * DAY, "period[2].from"},
      {RW_ERR_ORDER, 0, 10 * DAY, 10 * DAY, "period[1].to"},
      {RW_ERR_ORDER, 0, 0, NAN, "period[1].to"},
      {RW_ERR_COVERAGE, 0, -HOUR, 10 * DAY, "period[1].hull"},
      {RW_ERR_COVERAGE, 2, 22 * DAY, 24 * DAY, "period[3].hull"},
  };
  for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
    rw_period period[3] = {p.period[0], p.period[1], p.period[2]};
    period[bad[i].period].from = bad[i].from;
    period[bad[i].period].to = bad[i].to;
    assert_status(rw_softening_forecast(&r, period, 3, 0, &p.spread, 4, 1, &o, &err),
                  bad[i].status, &err);
    check_explained(&err, bad[i].name);
    assert_string_equal(err.argument, bad[i].name);
    assert_string_equal(err.function, "rw_softening_forecast");
    assert_status(rw_cure_through(&r, period, 3, 0, &cure, &err), bad[i].status, &err);
    assert_string_equal(err.argument, bad[i].name);
    assert_string_equal(err.function, "rw_cure_through");
    assert_int_equal(rw_cure_through(&r, period, 3, 0, &cure, NULL), bad[i].status);
  }
  static const struct {
    const char *name;
    size_t offset;
    double bad[3];
  } sd[] = {
      {"spread.temperature_sd", offsetof(rw_softening_spread, temperature_sd), {-1, 21, NAN}},
      {"spread.plateau_sd", offsetof(rw_softening_spread, plateau_sd), {-1, 2, NAN}},
      {"spread.glass_sd", offsetof(rw_softening_spread, glass_sd), {-1, INFINITY, NAN}},
  };
  for (size_t i = 0; i < sizeof sd / sizeof *sd; i++)
    for (int k = 0; k < 3; k++) {
      rw_softening_spread s = p.spread;
      *(double *)(void *)((char *)&s + sd[i].offset) = sd[i].bad[k];
      assert_status(rw_softening_forecast(&r, p.period, 3, 0, &s, 4, 1, &o, &err), RW_ERR_RANGE,
                    &err);
      check_explained(&err, sd[i].name);
    }
  const rw_softening_spread *s = &p.spread;
  assert_status(rw_softening_forecast(&r, p.period, 0, 0, s, 4, 1, &o, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "n");
  assert_status(rw_softening_forecast(&r, p.period, 3, 0, s, 100001, 1, &o, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "draws");
  assert_status(rw_softening_forecast(&r, p.period, 3, 1, s, 4, 1, &o, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "start");
  assert_status(rw_softening_forecast(NULL, p.period, 3, 0, s, 4, 1, &o, &err), RW_ERR_ARGUMENT,
                &err);
  assert_status(rw_softening_forecast(&r, NULL, 3, 0, s, 4, 1, &o, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_softening_forecast(&r, p.period, 3, 0, NULL, 4, 1, &o, &err), RW_ERR_ARGUMENT,
                &err);
  assert_status(rw_softening_forecast(&r, p.period, 3, 0, s, 4, 1, NULL, &err), RW_ERR_ARGUMENT,
                &err);
  assert_status(rw_cure_through(&r, p.period, 2, 0, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_cure_through(&r, NULL, 0, -0.1, &cure, &err), RW_ERR_RANGE, &err);
  rw_period gone[2] = {p.period[0], {NULL, 10 * DAY, 11 * DAY}};
  assert_status(rw_softening_forecast(&r, gone, 2, 0, s, 4, 1, &o, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "period[2].hull");
  /* A hull near the limit of what is allowed is taken beyond it by a draw. */
  double t[2] = {0, DAY}, T[2] = {225 + ZERO, 225 + ZERO};
  rw_history *kiln = NULL;
  assert_status(rw_history_create(t, T, NULL, 2, &kiln, &err), RW_OUTSIDE_TESTED, &err);
  rw_period hot = {kiln, 0, DAY};
  rw_softening_spread wide = {.temperature_sd = 5};
  assert_status(rw_softening_forecast(&r, &hot, 1, 0, &wide, 64, 1, &o, &err), RW_ERR_RANGE, &err);
  check_explained(&err, "spread.temperature_sd");
  rw_history_destroy(kiln);
  r.density = 0;
  assert_status(rw_softening_forecast(&r, p.period, 3, 0, s, 4, 1, &o, &err), RW_ERR_RANGE, &err);
  assert_memory_equal(&o, &before, sizeof o);
  rw_softening_spread unknown = {7, 7, 7};
  assert_status(rw_softening_spread_of("medium-cycloalifatic", 1, &unknown, &err), RW_ERR_NAME,
                &err);
  assert_status(rw_softening_spread_of(NULL, 1, &unknown, &err), RW_ERR_ARGUMENT, &err);
  assert_status(rw_softening_spread_of("fast-polyamine", 1, NULL, &err), RW_ERR_ARGUMENT, &err);
  assert_close(unknown.temperature_sd + unknown.plateau_sd + unknown.glass_sd + cure, 28, 0);
  past_over(&p);
}

/* Each end is what a resin so much faster or slower has. */
static void safe_ranges(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("medium-cycloaliphatic");
  rw_vessel cup;
  assert_ok(rw_vessel_cup(0.07, &cup, &err), &err);
  for (double air = 278; air < 310; air += 10) {
    double sd = hypot(r.rate_sd, r.energy_sd / RW_GAS_CONSTANT * (1 / r.law.T_ref - 1 / air));
    rw_heat_range size, mass;
    assert_ok(rw_resin_safe_size_range(&r, RW_SHAPE_SLAB, 0.2, 8, air, &size, &err), &err);
    assert_ok(rw_vessel_safe_mass_range(&r, &cup, 8, air, &mass, &err), &err);
    const double got[3] = {size.low, size.value, size.high};
    const double held[3] = {mass.low, mass.value, mass.high};
    for (int i = 0; i < 3; i++) {
      rw_resin other = r;
      other.law = rw_cure_law_moved(&r.law, (1 - i) * 1.645 * sd, 0);
      double wanted = NAN, heavy = HUGE_VAL;
      assert_ok(rw_resin_safe_size(&other, RW_SHAPE_SLAB, 0.2, 8, air, &wanted, &err), &err);
      assert_true(rw_vessel_safe_mass(&other, &cup, 8, air, &heavy, &err) >= 0);
      assert_close_rel(got[i], wanted, 1e-12);
      assert_true(heavy < HUGE_VAL ? fabs(held[i] / heavy - 1) < 1e-12 : held[i] == heavy);
    }
    assert_true(size.low < size.value && size.value < size.high);
    assert_int_equal(size.because, RW_HEAT_RATE);
    assert_int_equal(mass.because, RW_HEAT_RATE);
  }
  /* In the cold first the slow resin is safe at any depth, then the best estimate, then all. */
  int open = 0;
  rw_heat_range mass = {7, 7, 7, 7};
  rw_status status = RW_OK;
  for (double air = 290; air > 231 && status == RW_OK; air -= 1) {
    status = rw_vessel_safe_mass_range(&r, &cup, 8, air, &mass, &err);
    int now = (mass.high == HUGE_VAL) + (mass.value == HUGE_VAL);
    assert_true(now >= open && mass.low < HUGE_VAL);
    open = now;
  }
  assert_int_equal(open, 2);
  assert_int_equal(status, RW_NOT_REACHED);
  check_explained(&err, "any depth");

  rw_heat_range size = {7, 7, 7, 7};
  mass = size;
  assert_status(rw_resin_safe_size_range(&r, RW_SHAPE_SLAB, 0.2, 8, 0, &size, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "air");
  assert_int_equal(rw_resin_safe_size_range(&r, RW_SHAPE_SLAB, 0.2, 8, 0, &size, NULL),
                   RW_ERR_RANGE);
  assert_status(rw_resin_safe_size_range(NULL, RW_SHAPE_SLAB, 0.2, 8, 290, &size, &err),
                RW_ERR_ARGUMENT, &err);
  assert_status(rw_resin_safe_size_range(&r, RW_SHAPE_SLAB, 0.2, 8, 290, NULL, &err),
                RW_ERR_ARGUMENT, &err);
  assert_status(rw_vessel_safe_mass_range(&r, NULL, 8, 290, &mass, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "v is missing");
  assert_status(rw_vessel_safe_mass_range(&r, &cup, 8, 290, NULL, &err), RW_ERR_ARGUMENT, &err);
  r.law.k1 = r.law.k2 = 1e-14;
  assert_status(rw_resin_safe_size_range(&r, RW_SHAPE_SLAB, 0.2, 8, 290, &size, &err),
                RW_NOT_REACHED, &err);
  check_explained(&err, "10 m");
  r.law.k1 = 1e11;
  assert_status(rw_resin_safe_size_range(&r, RW_SHAPE_SLAB, 0.2, 8, 290, &size, &err),
                RW_ERR_NUMERIC, &err);
  check_explained(&err, "runs away");
  assert_close(size.value + size.low + size.high + mass.value + mass.low + mass.high, 42, 0);
}

/* A slab starts where a film does. */
static void slabs_start_as_films_do(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = resin("medium-cycloaliphatic");
  rw_history *h = steady(22, HOUR);
  rw_slab s = fillet(0.002);
  static const rw_law_kind kind[] = {RW_LAW_SESTAK_BERGGREN, RW_LAW_KAMAL};
  static const double power[] = {0, 0.5, 0.99, 0.995, 1, 2};
  for (size_t k = 0; k < 2; k++)
    for (size_t i = 0; i < sizeof power / sizeof *power; i++) {
      r.law = (rw_cure_law){
          .kind = kind[k], .E1 = 6e4, .E2 = 6e4, .m = power[i], .n = 1, .T_ref = 298.15};
      *(k == 0 ? &r.law.k1 : &r.law.k2) = 1e-4;
      rw_cure_path *path = NULL;
      rw_slab_result out;
      rw_status film = rw_cure_run(&r.law, h, 0, HOUR, 0, 1e-6, &path, &err);
      assert_int_equal(film, power[i] <= 0.99 ? RW_OK : RW_ERR_ARGUMENT);
      assert_status(rw_slab_run(&r, &s, h, 0, HOUR, NULL, &out, &err), film, &err);
      rw_cure_path_destroy(path);
    }
  rw_history_destroy(h);
}

static const rw_place tent = {.most = 41 + 273.15,
                              .span = 5 * 3600,
                              .sessions = 3,
                              .period = 86400,
                              .rest = 17 + 273.15,
                              .heating = 12.0 / 3600,
                              .cooling = 12.0 / 3600,
                              .step = 1800};
static const rw_place booth = {.most = 50 + 273.15,
                               .span = 8 * 3600,
                               .sessions = 1,
                               .rest = 17 + 273.15,
                               .heating = 12.0 / 3600,
                               .cooling = 12.0 / 3600,
                               .step = 1800};

static rw_softening three_weeks(const rw_resin *r)
{
  rw_history *h = steady(17, 21 * DAY);
  rw_softening s = {0};
  rw_error err;
  assert_ok(rw_softening_along(r, h, 0, 21 * DAY, 0, &s, &err), &err);
  rw_history_destroy(h);
  return s;
}

/* A dark deck: three weeks at 17 degC, then a drive in the sun at 63 degC softens it; a tent and a
 * booth raise its glass transition without. */
static void dark_deck(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = stalling();
  rw_softening deck = three_weeks(&r), drive;
  assert_true(deck.Tg > 17 + ZERO + 10 && deck.Tg < 63 + ZERO);
  double t[4] = {0, HOUR / 2, 5 * HOUR, 7 * HOUR}, T[4] = {290, 63 + ZERO, 63 + ZERO, 295};
  rw_history *h = history(t, T, 4), *tent_ramp = NULL, *booth_ramp = NULL;
  assert_ok(rw_softening_along(&r, h, 0, 7 * HOUR, deck.cure, &drive, &err), &err);
  assert_true(drive.worst > 0 && drive.soft > 60 && drive.Tg > deck.Tg);
  rw_history_destroy(h);
  rw_postcure in_tent, in_booth;
  double wanted = 100 + ZERO;
  assert_status(rw_postcure_plan(&r, &tent, deck.cure, RW_POSTCURE_MARGIN, wanted, 0, &in_tent,
                                 &tent_ramp, &err),
                RW_NO_SOLUTION, &err);
  check_explained(&err, "degC");
  assert_non_null(strstr(err.hint, "place of"));
  assert_status(rw_postcure_plan(&r, &booth, deck.cure, RW_POSTCURE_MARGIN, wanted, 0, &in_booth,
                                 &booth_ramp, &err),
                RW_NO_SOLUTION, &err);
  assert_true(in_tent.Tg > deck.Tg + 1 && in_booth.Tg > in_tent.Tg);
  assert_true(in_tent.worst <= RW_POSTCURE_MARGIN && in_booth.worst <= RW_POSTCURE_MARGIN);
  assert_true(in_booth.needed > booth.most && in_tent.needed > in_booth.needed - 20);
  assert_true(in_tent.first_most < HUGE_VAL && in_tent.hold > 3 * HOUR);
  assert_true(in_tent.hold < 15 * HOUR);
  rw_history_destroy(tent_ramp);
  rw_history_destroy(booth_ramp);
  /* What the booth reaches may be asked of it, and comes within its hours. */
  rw_postcure again;
  assert_ok(rw_postcure_plan(&r, &booth, deck.cure, RW_POSTCURE_MARGIN, in_booth.Tg - 2, 1.7e9,
                             &again, &booth_ramp, &err),
            &err);
  assert_true(again.time > 1.7e9 && again.time < 1.7e9 + booth.span);
  assert_true(again.needed <= booth.most && again.hold < in_booth.hold);
  rw_history_destroy(booth_ramp);
}

/* A green hull is soft already: it waits at rest until it isn't, then warms. */
static void green_hull_waits(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = stalling();
  rw_postcure plan;
  rw_history *ramp = NULL;
  rw_place place = booth;
  place.span = 5 * DAY;
  place.rest = 22 + ZERO;
  assert_status(
      rw_postcure_plan(&r, &place, 0.3, RW_POSTCURE_MARGIN, 110 + ZERO, 0, &plan, &ramp, &err),
      RW_NO_SOLUTION, &err);
  assert_true(plan.soft_start > HOUR && plan.soft_start < 2 * DAY);
  assert_close(plan.worst_time, 0, 0);
  assert_true(plan.worst > 0);
  const double *t, *T;
  size_t n = rw_history_points(ramp, &t, &T, NULL);
  assert_true(n > 3);
  assert_close(T[1], T[0], 0);
  assert_close(t[1], plan.soft_start, 1);
  rw_softening late;
  double a = NAN, end;
  rw_cure_path *path = NULL;
  rw_history_span(ramp, NULL, &end);
  assert_ok(rw_cure_run(&r.law, ramp, 0, end, 0.3, 1e-9, &path, &err), &err);
  assert_ok(rw_cure_at(path, t[1], &a, NULL, NULL, &err), &err);
  assert_ok(rw_softening_along(&r, ramp, t[1], end, a, &late, &err), &err);
  assert_true(late.worst <= RW_POSTCURE_MARGIN + 1e-6);
  rw_cure_path_destroy(path);
  rw_history_destroy(ramp);
}

static void nothing_left_to_do(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = stalling();
  rw_softening deck = three_weeks(&r);
  rw_postcure plan;
  rw_history *ramp = NULL;
  assert_ok(rw_postcure_plan(&r, &booth, deck.cure, RW_POSTCURE_MARGIN, deck.Tg - 1, 1e6, &plan,
                             &ramp, &err),
            &err);
  assert_close(plan.time, 1e6, 0);
  assert_close(plan.hold, 0, 0);
  assert_close(plan.unbroken, 0, 0);
  const double *T;
  assert_int_equal(rw_history_points(ramp, NULL, &T, NULL), 2);
  assert_close(T[1], booth.rest, 0);
  rw_history_destroy(ramp);
}

static void plans_refuse(void **state)
{
  (void)state;
  static const struct {
    const char *name;
    size_t offset;
    double bad[3];
  } member[] = {
      {"most", offsetof(rw_place, most), {50, 500, NAN}},
      {"rest", offsetof(rw_place, rest), {20, 330, NAN}},
      {"span", offsetof(rw_place, span), {8, 1e9, NAN}},
      {"heating", offsetof(rw_place, heating), {0, 10, NAN}},
      {"cooling", offsetof(rw_place, cooling), {0, 10, NAN}},
      {"step", offsetof(rw_place, step), {1, 1e6, NAN}},
      {"period", offsetof(rw_place, period), {3600, 1e9, NAN}},
  };
  rw_error err;
  rw_resin r = stalling();
  rw_postcure plan, before;
  rw_history *ramp = NULL;
  memset(&plan, 7, sizeof plan);
  before = plan;
  double target = 70 + ZERO;
  for (size_t i = 0; i < sizeof member / sizeof *member; i++)
    for (int k = 0; k < 3; k++) {
      rw_place p = tent;
      *(double *)(void *)((char *)&p + member[i].offset) = member[i].bad[k];
      assert_status(rw_postcure_plan(&r, &p, 0.6, -5, target, 0, &plan, &ramp, &err), RW_ERR_RANGE,
                    &err);
      assert_string_equal(err.argument, member[i].name);
    }
  rw_place p = tent;
  p.sessions = 0;
  assert_status(rw_postcure_plan(&r, &p, 0.6, -5, target, 0, &plan, &ramp, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "sessions");
  p = tent;
  p.span = 50 * DAY;
  p.period = 50 * DAY;
  p.step = 60;
  assert_status(rw_postcure_plan(&r, &p, 0.6, -5, target, 0, &plan, &ramp, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "step");
  assert_status(rw_postcure_plan(&r, &tent, 1, -5, target, 0, &plan, &ramp, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "cure");
  assert_status(rw_postcure_plan(&r, &tent, 0.6, NAN, target, 0, &plan, &ramp, &err), RW_ERR_RANGE,
                &err);
  check_explained(&err, "margin");
  assert_status(rw_postcure_plan(&r, &tent, 0.6, -5, 200 + ZERO, 0, &plan, &ramp, &err),
                RW_ERR_RANGE, &err);
  check_explained(&err, "target");
  assert_status(rw_postcure_plan(&r, &tent, 0.6, -5, target, INFINITY, &plan, &ramp, &err),
                RW_ERR_RANGE, &err);
  assert_status(rw_postcure_plan(NULL, &tent, 0.6, -5, target, 0, &plan, &ramp, &err),
                RW_ERR_ARGUMENT, &err);
  assert_status(rw_postcure_plan(&r, NULL, 0.6, -5, target, 0, &plan, &ramp, &err),
                RW_ERR_ARGUMENT, &err);
  assert_status(rw_postcure_plan(&r, &tent, 0.6, -5, target, 0, NULL, &ramp, &err),
                RW_ERR_ARGUMENT, &err);
  assert_status(rw_postcure_plan(&r, &tent, 0.6, -5, target, 0, &plan, NULL, &err),
                RW_ERR_ARGUMENT, &err);
  check_explained(&err, "ramp");
  assert_int_equal(rw_postcure_plan(&r, &tent, -1, -5, target, 0, &plan, &ramp, NULL),
                   RW_ERR_RANGE);
  assert_null(ramp);
  assert_memory_equal(&plan, &before, sizeof plan);
}

/* What would do is said: a warmer place, more time, or neither. */
static void never_is_said(void **state)
{
  (void)state;
  rw_error err;
  rw_resin r = stalling();
  rw_softening deck = three_weeks(&r);
  rw_postcure plan;
  rw_history *ramp = NULL;
  rw_place cool = booth;
  cool.most = 25 + ZERO;
  assert_status(rw_postcure_plan(&r, &cool, deck.cure, -5, r.glass.Tg_inf, 0, &plan, &ramp, &err),
                RW_NO_SOLUTION, &err);
  assert_true(plan.needed == HUGE_VAL && plan.unbroken == HUGE_VAL);
  assert_non_null(strstr(err.hint, "120 degC"));
  rw_history_destroy(ramp);
  assert_status(rw_postcure_plan(&r, &booth, deck.cure, -5, 120 + ZERO, 0, &plan, &ramp, &err),
                RW_NO_SOLUTION, &err);
  assert_true(plan.needed < HUGE_VAL && plan.month < 120 + ZERO && plan.month > plan.Tg);
  assert_non_null(strstr(err.hint, "time alone"));
  rw_history_destroy(ramp);
  rw_place month = booth;
  rw_postcure long_plan;
  month.span = 30 * DAY;
  assert_status(
      rw_postcure_plan(&r, &month, deck.cure, -5, r.glass.Tg_inf, 0, &long_plan, &ramp, &err),
      RW_NO_SOLUTION, &err);
  rw_softening held;
  assert_ok(rw_softening_along(&r, ramp, 0, 30 * DAY, deck.cure, &held, &err), &err);
  assert_close(held.Tg, plan.month, 1e-6);
  rw_history_destroy(ramp);
  double further = plan.Tg + 0.9 * (plan.month - plan.Tg);
  assert_status(rw_postcure_plan(&r, &booth, deck.cure, -5, further, 0, &plan, &ramp, &err),
                RW_NO_SOLUTION, &err);
  assert_true(plan.unbroken > 3 * DAY && plan.unbroken < 30 * DAY);
  assert_non_null(strstr(err.hint, "without a break"));
  rw_history_destroy(ramp);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(edges_refuse),
      cmocka_unit_test(bodies_refuse),
      cmocka_unit_test(bodies_are_ordered),
      cmocka_unit_test(safe_sizes),
      cmocka_unit_test(slabs_refuse),
      cmocka_unit_test(runs_refuse),
      cmocka_unit_test(thick_is_hot),
      cmocka_unit_test(like_wood_is_no_border),
      cmocka_unit_test(events_and_profile_agree),
      cmocka_unit_test(softening),
      cmocka_unit_test(worst_is_found_inside),
      cmocka_unit_test(softening_refuses),
      cmocka_unit_test(periods_go_on),
      cmocka_unit_test(one_unknown_alone),
      cmocka_unit_test(chance_and_quantiles_agree),
      cmocka_unit_test(forecasts_refuse),
      cmocka_unit_test(safe_ranges),
      cmocka_unit_test(slabs_start_as_films_do),
      cmocka_unit_test(dark_deck),
      cmocka_unit_test(green_hull_waits),
      cmocka_unit_test(nothing_left_to_do),
      cmocka_unit_test(plans_refuse),
      cmocka_unit_test(never_is_said),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
