/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sets of stacks against the same stacks one by one, and against counting by hand. */
#include "sweeps.h"

enum { SETS = 50, EACH = 20, MANY = 6000 };
static const double within = 1e-10;

/* Every measure as the functions for one stack tell it. */
static void compare(const scene *c, const rw_sweep *s, uint64_t number,
                    double *const value[RW_MEASURES], size_t at)
{
  rw_error err;
  rw_ply ply[RW_SWEEP_PLIES];
  size_t n = 0, known = 0;
  assert_ok(rw_sweep_stack(s, number, ply, NULL, &n, &err), &err);
  rw_stack k = stack_of(ply, n);
  assert_close_rel(value[RW_MEASURE_THICKNESS][at], k.thickness, within);
  assert_close_rel(value[RW_MEASURE_EIX][at], k.EIx, within);
  assert_close_rel(value[RW_MEASURE_EIY][at], k.EIy, within);
  assert_close_rel(value[RW_MEASURE_EAX][at], k.Ex * k.thickness, within);
  assert_close_rel(value[RW_MEASURE_EAY][at], k.Ey * k.thickness, within);
  for (size_t i = 0; i < n; i++)
    known += ply[i].material.Xt > 0;
  assert_true(known > 0);
  for (size_t l = 0; l < c->set.loads; l++) {
    rw_first_failure f;
    assert_ok(rw_stack_first_failure(ply, n, &k, c->set.load[l], RW_TSAI_WU, &f, &err), &err);
    assert_close_rel(value[RW_MEASURE_FACTOR + l][at], f.factor, within);
  }
}

static void as_one_by_one(void **state)
{
  (void)state;
  stream r = {17};
  for (int set = 0; set < SETS; set++) {
    scene c;
    rw_error err;
    uint64_t number[EACH];
    double *value[RW_MEASURES];
    size_t done = 0;
    some_set(&r, &c);
    rw_sweep *s = sweep_of(&c);
    make_room(value, EACH);
    for (size_t i = 0; i < EACH; i++)
      number[i] = (uint64_t)(draw(&r) * (double)rw_sweep_count(s));
    rw_sweep_plan p = {.n = EACH, .number = number};
    assert_ok(rw_sweep_run(s, &p, value, &done, &err), &err);
    assert_int_equal(done, EACH);
    for (size_t i = 0; i < EACH; i++)
      compare(&c, s, number[i], value, i);
    free_room(value);
    rw_sweep_destroy(s);
  }
}

/* A hit is what rw_stack_hit says of the first ply outside. */
static void hit_from_outside(void **state)
{
  (void)state;
  stream r = {29};
  for (int round = 0; round < 20; round++) {
    scene c;
    rw_error err;
    rw_ply ply[RW_SWEEP_PLIES];
    size_t n;
    rw_hit hit;
    double *value[RW_MEASURES];
    some_set(&r, &c);
    rw_sweep *s = sweep_of(&c);
    make_room(value, 1);
    rw_sweep_plan p = {.first = rw_sweep_count(s) - 1, .n = 1};
    assert_ok(rw_sweep_run(s, &p, value, NULL, &err), &err);
    assert_ok(rw_sweep_stack(s, p.first, ply, NULL, &n, &err), &err);
    rw_stack k = stack_of(ply, n);
    assert_ok(rw_stack_hit(ply, n, &k, -1, RW_TSAI_WU, &hit, &err), &err);
    assert_close_rel(value[RW_MEASURE_FACTOR + RW_CASE_HIT][0], hit.both.factor, within);
    assert_close_rel(value[RW_MEASURE_FACTOR + RW_CASE_BENDING_ALONG][0], hit.along.factor,
                     within);
    assert_close_rel(value[RW_MEASURE_FACTOR + RW_CASE_BENDING_ACROSS][0], hit.across.factor,
                     within);
    free_room(value);
    rw_sweep_destroy(s);
  }
}

/* Where its layer says a ply comes from. */
static const rw_sweep_ply *source_of(const scene *c, const rw_sweep_layer *layer, double *angle)
{
  if (layer->of_core) {
    const rw_sweep_core *core = &c->core[layer->choice];
    unsigned place = layer->ply < core->outer                  ? RW_AMONG_OUTER
                     : layer->ply >= core->plies - core->inner ? RW_AMONG_INNER
                                                               : RW_AMONG_CORE;
    assert_int_equal(layer->place, place);
    *angle = c->core[layer->choice].angle[layer->ply];
    return &c->core[layer->choice].ply[layer->ply];
  }
  const rw_sweep_face *f =
      layer->place == RW_AMONG_OUTER || c->set.symmetric ? &c->set.outer : &c->set.inner;
  *angle = f->angle[layer->choice];
  return &f->ply[layer->ply];
}

/* Only the plies asked may give way: as if the others had no strength that is known. */
static void only_those_asked(void **state)
{
  (void)state;
  stream r = {71};
  size_t some = 0, never = 0;
  for (int round = 0; round < 40; round++) {
    scene c;
    rw_error err;
    double *value[RW_MEASURES];
    some_set(&r, &c);
    for (unsigned l = 0; l < c.set.loads; l++)
      c.set.among[l] = l % 8;
    rw_sweep *s = sweep_of(&c);
    size_t n = rw_sweep_count(s) < EACH ? (size_t)rw_sweep_count(s) : EACH;
    make_room(value, n);
    rw_sweep_plan p = {.n = n};
    assert_ok(rw_sweep_run(s, &p, value, NULL, &err), &err);
    for (size_t i = 0; i < n; i++) {
      rw_ply ply[RW_SWEEP_PLIES], asked[RW_SWEEP_PLIES];
      rw_sweep_layer layer[RW_SWEEP_PLIES];
      size_t plies;
      assert_ok(rw_sweep_stack(s, i, ply, layer, &plies, &err), &err);
      rw_stack k = stack_of(ply, plies);
      for (size_t l = 0; l < c.set.loads; l++) {
        size_t known = 0;
        for (size_t j = 0; j < plies; j++) {
          double angle;
          assert_memory_equal(&ply[j].material, &source_of(&c, &layer[j], &angle)->material,
                              sizeof ply[j].material);
          assert_true(ply[j].angle == angle);
          asked[j] = ply[j];
          if (c.set.among[l] != 0 && (layer[j].place & c.set.among[l]) == 0)
            asked[j].material.Xt = 0;
          known += asked[j].material.Xt > 0;
        }
        double factor = value[RW_MEASURE_FACTOR + l][i];
        rw_first_failure f = {.factor = HUGE_VAL};
        if (known > 0)
          assert_ok(rw_stack_first_failure(asked, plies, &k, c.set.load[l], RW_TSAI_WU, &f, &err),
                    &err);
        if (known > 0)
          assert_close_rel(factor, f.factor, within);
        else
          assert_true(factor == HUGE_VAL);
        some += known > 0;
        never += known == 0;
      }
    }
    free_room(value);
    rw_sweep_destroy(s);
  }
  assert_true(some > 1000 && never > 100);
}

/* Kind and angle of a ply as a digit; they were given densities and angles of their own. */
static int digit_of(const rw_sweep_face *f, const rw_ply *p)
{
  for (size_t i = 0; i < f->plies; i++)
    for (size_t a = 0; a < f->angles; a++)
      if (f->ply[i].material.density == p->material.density && f->angle[a] == p->angle)
        return (int)(i * f->angles + a);
  return -1;
}

static size_t power(size_t base, size_t exponent)
{
  size_t x = 1;
  for (size_t i = 0; i < exponent; i++)
    x *= base;
  return x;
}

/* Ways to lay a face with fewer than n layers. */
static size_t fewer(const rw_sweep_face *f, size_t n)
{
  size_t sum = 0;
  for (size_t l = f->least; l < n; l++)
    sum += power(f->plies * f->angles, l);
  return sum;
}

/* A number of a face's own, one for each way to lay it: -1 where it is none of them. */
static long way_of(const rw_sweep_face *f, const rw_ply *p, size_t n)
{
  if (n < f->least || n > f->most)
    return -1;
  size_t way = 0;
  for (size_t i = 0; i < n; i++) {
    int digit = digit_of(f, &p[i]);
    if (digit < 0)
      return -1;
    way = way * f->plies * f->angles + (size_t)digit;
  }
  return (long)(way + fewer(f, n));
}

/* Where the core stands: it is the first ply that is one of its own. */
static size_t core_at(const scene *c, const rw_ply *ply, size_t n, size_t *core)
{
  for (size_t i = 0; i < n; i++)
    for (size_t k = 0; k < c->set.cores; k++)
      if (ply[i].material.density == c->wood[k][0].material.density) {
        *core = k;
        return i;
      }
  fail();
  return n;
}

static void numbers_are_stacks(void **state)
{
  (void)state;
  stream r = {43};
  int tried = 0;
  while (tried < 25) {
    scene c;
    some_set(&r, &c);
    rw_sweep_face *in = c.set.symmetric ? &c.set.outer : &c.set.inner;
    size_t outer = fewer(&c.set.outer, c.set.outer.most + 1), inner = fewer(in, in->most + 1);
    size_t count = c.set.cores * outer * (c.set.symmetric ? 1 : inner);
    if (count > 200000)
      continue;
    tried++;
    rw_sweep *s = sweep_of(&c);
    assert_int_equal(rw_sweep_count(s), count);
    unsigned char *seen = calloc(c.set.cores * outer * inner, 1);
    assert_non_null(seen);
    for (uint64_t i = 0; i < count; i++) {
      rw_ply ply[RW_SWEEP_PLIES];
      size_t n, core = 0;
      rw_error err;
      assert_ok(rw_sweep_stack(s, i, ply, NULL, &n, &err), &err);
      size_t at = core_at(&c, ply, n, &core), end = at + c.core[core].plies;
      assert_true(end <= n);
      for (size_t k = at; k < end; k++) {
        assert_true(ply[k].material.density == c.wood[core][k - at].material.density);
        assert_true(ply[k].angle == c.grain[core][k - at]);
      }
      long a = way_of(&c.set.outer, ply, at), b = way_of(in, ply + end, n - end);
      assert_true(a >= 0 && b >= 0);
      for (size_t k = 0; c.set.symmetric && k < at; k++)
        assert_memory_equal(&ply[k], &ply[n - 1 - k], sizeof ply[k]);
      size_t mark = ((size_t)a * inner + (size_t)b) * c.set.cores + core;
      assert_int_equal(seen[mark]++, 0);
    }
    free(seen);
    rw_sweep_destroy(s);
  }
}

static void sums_over_plies(void **state)
{
  (void)state;
  stream r = {57};
  scene c;
  some_set(&r, &c);
  for (size_t i = 0; i < KINDS; i++) { /* found again by their thickness */
    c.outer[i].thickness = 1e-4 * (double)(i + 1);
    c.inner[i].thickness = 1.03e-4 * (double)(i + 1);
  }
  c.set.symmetric = 0;
  rw_sweep *s = sweep_of(&c);
  double *value[RW_MEASURES];
  size_t n = rw_sweep_count(s) < MANY ? (size_t)rw_sweep_count(s) : MANY;
  make_room(value, n);
  rw_sweep_plan p = {.n = n};
  rw_error err;
  assert_ok(rw_sweep_run(s, &p, value, NULL, &err), &err);
  for (size_t i = 0; i < n; i += 7) {
    rw_ply ply[RW_SWEEP_PLIES];
    size_t plies;
    double mass = 0, resin = 0, cost = 0;
    assert_ok(rw_sweep_stack(s, i, ply, NULL, &plies, &err), &err);
    const rw_sweep_ply *all[] = {c.outer, c.inner, c.wood[0], c.wood[1], c.wood[2]};
    for (size_t k = 0; k < plies; k++)
      for (size_t a = 0; a < 5; a++)
        for (size_t b = 0; b < (a < 2 ? (size_t)KINDS : (size_t)CORE_PLIES); b++)
          if (all[a][b].thickness == ply[k].thickness) {
            const rw_sweep_ply *q = &all[a][b];
            mass += q->areal_mass > 0 ? q->areal_mass : q->thickness * q->material.density;
            resin += q->resin;
            cost += q->cost;
          }
    assert_close_rel(value[RW_MEASURE_MASS][i], mass, 1e-13);
    assert_close(value[RW_MEASURE_RESIN][i], resin, 1e-13 * mass);
    assert_close(value[RW_MEASURE_COST][i], cost, 1e-10);
  }
  free_room(value);
  rw_sweep_destroy(s);
}

typedef struct listener {
  size_t calls, last, stop_after;
  int backward;
} listener;

static int listen(size_t done, size_t total, void *context)
{
  listener *l = context;
  l->backward |= done < l->last || done > total;
  l->calls++;
  l->last = done;
  return l->stop_after > 0 && l->calls >= l->stop_after;
}

/* A set of more stacks than are asked for. */
static rw_sweep *large_set(stream *r, scene *c)
{
  do
    some_set(r, c);
  while (c->set.symmetric || c->set.outer.plies * c->set.outer.angles < 6 ||
         c->set.inner.plies * c->set.inner.angles < 6 || c->set.outer.most < 3 ||
         c->set.inner.most < 3);
  rw_sweep *s = sweep_of(c);
  assert_true(rw_sweep_count(s) > MANY);
  return s;
}

static void stopped_and_shared_out(void **state)
{
  (void)state;
  stream r = {71};
  scene c;
  rw_sweep *s = large_set(&r, &c);
  double *whole[RW_MEASURES], *some[RW_MEASURES];
  rw_error err;
  rw_sweep_plan p = {.first = 5, .n = MANY};
  make_room(whole, MANY);
  assert_ok(rw_sweep_run(s, &p, whole, NULL, &err), &err);
  for (unsigned threads = 0; threads <= 5; threads++) {
    listener l = {0};
    size_t done = 0;
    p.threads = threads;
    p.progress = listen;
    p.context = &l;
    make_room(some, MANY);
    assert_ok(rw_sweep_run(s, &p, some, &done, &err), &err);
    assert_int_equal(done, MANY);
    assert_int_equal(l.last, MANY);
    assert_int_equal(l.backward, 0);
    for (size_t m = 0; m < RW_MEASURES; m++)
      assert_memory_equal(whole[m], some[m], MANY * sizeof(double));
    free_room(some);
    make_room(some, MANY);
    l = (listener){.stop_after = 2};
    assert_status(rw_sweep_run(s, &p, some, &done, &err), RW_ERR_STOPPED, &err);
    check_explained(&err, "stopped");
    assert_true(done > 0 && done >= l.last && (threads > 1 || done < MANY));
    for (size_t m = 0; m < RW_MEASURES; m++) {
      assert_memory_equal(whole[m], some[m], done * sizeof(double));
      for (size_t i = done; i < MANY; i++)
        assert_true(some[m][i] == -7);
    }
    free_room(some);
  }
  free_room(whole);
  rw_sweep_destroy(s);
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(as_one_by_one),    cmocka_unit_test(hit_from_outside),
      cmocka_unit_test(only_those_asked), cmocka_unit_test(numbers_are_stacks),
      cmocka_unit_test(sums_over_plies),  cmocka_unit_test(stopped_and_shared_out),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
