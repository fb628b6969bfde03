/* SPDX-License-Identifier: GPL-3.0-or-later */
/* W6: 100,000 stacks of ten plies, strains under one load and the Tsai-Wu factor of each. */
#include "bench.h"
#include "widths.h"

#include <resinwright/laminate.h>

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PLIES = 10, KINDS = 3, ANGLES = 12, STACKS = 100000, QUICK_CHECKED = 2000, LOADS = 5 };
static const char WORK[] = "W6";
static const char PROBLEM_FILE[] = "layups_problem", STACKS_FILE[] = "layups_stacks";
static const double DEGREE = 3.14159265358979323846 / 180;

/* Invented: a plain cloth, a one-way cloth, a stiffer cloth; m and Pa. */
static const rw_sweep_ply kind[KINDS] = {{{.density = 1700,
                                           .E1 = 18e9,
                                           .E2 = 18e9,
                                           .nu12 = 0.13,
                                           .G12 = 3.5e9,
                                           .Xt = 300e6,
                                           .Xc = 250e6,
                                           .Yt = 300e6,
                                           .Yc = 250e6,
                                           .S = 50e6},
                                          .thickness = 0.30e-3,
                                          .resin = 0.2},
                                         {{.density = 1800,
                                           .E1 = 36e9,
                                           .E2 = 9e9,
                                           .nu12 = 0.28,
                                           .G12 = 3.6e9,
                                           .Xt = 800e6,
                                           .Xc = 500e6,
                                           .Yt = 35e6,
                                           .Yc = 120e6,
                                           .S = 55e6},
                                          .thickness = 0.45e-3,
                                          .resin = 0.3},
                                         {{.density = 1450,
                                           .E1 = 45e9,
                                           .E2 = 45e9,
                                           .nu12 = 0.05,
                                           .G12 = 4e9,
                                           .Xt = 550e6,
                                           .Xc = 400e6,
                                           .Yt = 550e6,
                                           .Yc = 400e6,
                                           .S = 60e6},
                                          .thickness = 0.25e-3,
                                          .resin = 0.15}};
static const double load[6] = {40e3, 10e3, 15e3, 20, 5, 3};

typedef struct problem {
  uint8_t code[STACKS][PLIES]; /* kind times ANGLES plus angle */
  double angle[ANGLES];
  uint64_t number[STACKS];
  rw_sweep *set, *all; /* the load alone; with all usual load cases */
  double factor[STACKS], plain[STACKS], measure[RW_MEASURES][STACKS];
} problem;

typedef struct our_context {
  problem *p;
  unsigned threads;
  bool all;
} our_context;

static void need(rw_status status, const rw_error *e)
{
  if (status >= 0)
    return;
  fprintf(stderr, "%s\n", e->message);
  exit(2);
}

/* SplitMix64 (Steele, Lea & Flood 2014) of a ply's serial number. */
static uint64_t mixed(uint64_t serial)
{
  uint64_t z = (serial + 1) * UINT64_C(0x9E3779B97F4A7C15);
  z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
  z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
  return z ^ (z >> 31);
}

/* Two faces of five layers, no core; the number counts from the middle outwards. */
static uint64_t number_of(const uint8_t code[PLIES])
{
  uint64_t outer = 0, inner = 0;
  for (size_t k = 0; k < PLIES / 2; k++) {
    outer = outer * KINDS * ANGLES + code[k];
    inner = inner * KINDS * ANGLES + code[PLIES - 1 - k];
  }
  uint64_t ways = 1;
  for (size_t k = 0; k < PLIES / 2; k++)
    ways *= KINDS * ANGLES;
  return outer + ways * inner;
}

static void problem_make(problem *p)
{
  for (size_t i = 0; i < STACKS; i++) {
    for (size_t k = 0; k < PLIES; k++) {
      uint64_t h = mixed(i * PLIES + k);
      p->code[i][k] = (uint8_t)(h % KINDS * ANGLES + (h >> 32) % ANGLES);
    }
    p->number[i] = number_of(p->code[i]);
  }
  for (int a = 0; a < ANGLES; a++)
    p->angle[a] = (15 * a - 75) * DEGREE;
  rw_sweep_face face = {kind, KINDS, p->angle, ANGLES, PLIES / 2, PLIES / 2};
  rw_sweep_set set = {.outer = face, .inner = face, .loads = 1};
  rw_error e;
  memcpy(set.load[0], load, sizeof load);
  need(rw_sweep_create(&set, &p->set, &e), &e);
  set.loads = LOADS;
  for (int c = 0; c < LOADS; c++)
    need(rw_sweep_load((rw_sweep_case)c, set.load[c], &e), &e);
  need(rw_sweep_create(&set, &p->all, &e), &e);
}

static void ours(void *context)
{
  const our_context *c = context;
  problem *p = c->p;
  double *value[RW_MEASURES] = {0};
  rw_sweep_plan plan = {.n = STACKS, .number = p->number, .threads = c->threads};
  rw_error e;
  value[RW_MEASURE_FACTOR] = p->factor;
  for (int m = 0; m < RW_MEASURE_FACTOR + LOADS && c->all; m++)
    value[m] = p->measure[m];
  need(rw_sweep_run(c->all ? p->all : p->set, &plan, value, NULL, &e), &e);
}

typedef struct width_context {
  problem *p;
  int width;
} width_context;

/* One width of register; the numbers are looked at as a run looks at them. */
static void by_width(void *context)
{
  const width_context *c = context;
  width_run(c->width, c->p->set, c->p->number, STACKS, c->p->plain);
}

/* The library's own functions for one stack. */
static void singly(void *context)
{
  problem *p = context;
  rw_error e;
  for (size_t i = 0; i < STACKS; i++) {
    rw_ply ply[RW_SWEEP_PLIES];
    rw_stack s;
    rw_first_failure f;
    size_t n;
    need(rw_sweep_stack(p->set, p->number[i], ply, NULL, &n, &e), &e);
    need(rw_stack_make(ply, n, &s, &e), &e);
    need(rw_stack_first_failure(ply, n, &s, load, RW_TSAI_WU, &f, &e), &e);
    p->plain[i] = f.factor;
  }
}

/* The same by the book, for any kind of number: everything anew for each stack, the matrix
 * inverted by eliminating column after column. */
#define BOOK(name, real, root, cosine, sine, least)                                               \
  static void name##_turned(const rw_lamina *m, real c, real s, real Q[3][3])                     \
  {                                                                                               \
    real nu = (real)m->nu12, whole = 1 - nu * nu * (real)m->E2 / (real)m->E1;                     \
    const real q[3][3] = {{(real)m->E1 / whole, nu * (real)m->E2 / whole, 0},                     \
                          {nu * (real)m->E2 / whole, (real)m->E2 / whole, 0},                     \
                          {0, 0, (real)m->G12}};                                                  \
    const real T[3][3] = {                                                                        \
        {c * c, s * s, c * s}, {s * s, c * c, -c * s}, {-2 * c * s, 2 * c * s, c * c - s * s}};   \
    for (int i = 0; i < 3; i++)                                                                   \
      for (int j = 0; j < 3; j++) {                                                               \
        Q[i][j] = 0;                                                                              \
        for (int k = 0; k < 3; k++)                                                               \
          for (int l = 0; l < 3; l++)                                                             \
            Q[i][j] += T[k][i] * q[k][l] * T[l][j];                                               \
      }                                                                                           \
  }                                                                                               \
  static void name##_invert(real M[6][12])                                                        \
  {                                                                                               \
    for (int i = 0; i < 6; i++)                                                                   \
      for (int j = 6; j < 12; j++)                                                                \
        M[i][j] = j == i + 6;                                                                     \
    for (int k = 0; k < 6; k++) {                                                                 \
      real by = 1 / M[k][k];                                                                      \
      for (int j = k; j < 12; j++)                                                                \
        M[k][j] *= by;                                                                            \
      for (int i = 0; i < 6; i++) {                                                               \
        real f = M[i][k];                                                                         \
        for (int j = k; j < 12 && i != k; j++)                                                    \
          M[i][j] -= f * M[k][j];                                                                 \
      }                                                                                           \
    }                                                                                             \
  }                                                                                               \
  static real name##_factor(const rw_lamina *m, real c, real s, real Q[3][3], const real e[3])    \
  {                                                                                               \
    real g[3] = {0};                                                                              \
    for (int i = 0; i < 3; i++)                                                                   \
      for (int j = 0; j < 3; j++)                                                                 \
        g[i] += Q[i][j] * e[j];                                                                   \
    real s1 = c * c * g[0] + s * s * g[1] + 2 * c * s * g[2];                                     \
    real s2 = s * s * g[0] + c * c * g[1] - 2 * c * s * g[2];                                     \
    real t = c * s * (g[1] - g[0]) + (c * c - s * s) * g[2];                                      \
    real f11 = 1 / ((real)m->Xt * (real)m->Xc), f22 = 1 / ((real)m->Yt * (real)m->Yc);            \
    real a = f11 * s1 * s1 + f22 * s2 * s2 + t * t / ((real)m->S * (real)m->S) -                  \
             root(f11 * f22) * s1 * s2;                                                           \
    real b = (1 / (real)m->Xt - 1 / (real)m->Xc) * s1 + (1 / (real)m->Yt - 1 / (real)m->Yc) * s2; \
    return (root(b * b + 4 * a) - b) / (2 * a);                                                   \
  }                                                                                               \
  static real name(const uint8_t code[PLIES])                                                     \
  {                                                                                               \
    real z[PLIES + 1], Q[PLIES][3][3], c[PLIES], s[PLIES], M[6][12] = {{0}}, e[6] = {0};          \
    real whole = 0, worst = 0;                                                                    \
    for (int k = 0; k < PLIES; k++)                                                               \
      whole += (real)kind[code[k] / ANGLES].thickness;                                            \
    z[0] = -whole / 2;                                                                            \
    for (int k = 0; k < PLIES; k++) {                                                             \
      const rw_sweep_ply *p = &kind[code[k] / ANGLES];                                            \
      real angle = (real)((15 * (code[k] % ANGLES) - 75) * DEGREE);                               \
      c[k] = cosine(angle);                                                                       \
      s[k] = sine(angle);                                                                         \
      name##_turned(&p->material, c[k], s[k], Q[k]);                                              \
      z[k + 1] = z[k] + (real)p->thickness;                                                       \
      real y = z[k], x = z[k + 1];                                                                \
      for (int i = 0; i < 3; i++)                                                                 \
        for (int j = 0; j < 3; j++) {                                                             \
          M[i][j] += Q[k][i][j] * (x - y);                                                        \
          M[i][j + 3] += Q[k][i][j] * (x * x - y * y) / 2;                                        \
          M[i + 3][j] = M[i][j + 3];                                                              \
          M[i + 3][j + 3] += Q[k][i][j] * (x * x * x - y * y * y) / 3;                            \
        }                                                                                         \
    }                                                                                             \
    name##_invert(M);                                                                             \
    for (int i = 0; i < 6; i++)                                                                   \
      for (int j = 0; j < 6; j++)                                                                 \
        e[i] += M[i][j + 6] * (real)load[j];                                                      \
    for (int k = 0; k < PLIES; k++)                                                               \
      for (int face = 0; face < 2; face++) {                                                      \
        const real at[3] = {e[0] + z[k + face] * e[3], e[1] + z[k + face] * e[4],                 \
                            e[2] + z[k + face] * e[5]};                                           \
        real f = name##_factor(&kind[code[k] / ANGLES].material, c[k], s[k], Q[k], at);           \
        worst = worst > 0 ? least(worst, f) : f;                                                  \
      }                                                                                           \
    return worst;                                                                                 \
  }

BOOK(by_the_book, double, sqrt, cos, sin, fmin)
BOOK(exactly, long double, sqrtl, cosl, sinl, fminl)

static void by_book(void *context)
{
  problem *p = context;
  for (size_t i = 0; i < STACKS; i++)
    p->plain[i] = by_the_book(p->code[i]);
}

typedef struct numpy_context {
  const char *python;
  int block;
  const problem *p;
  double error;
} numpy_context;

static void numpy_write(const problem *p)
{
  FILE *f = fopen(PROBLEM_FILE, "w"), *g = fopen(STACKS_FILE, "wb");
  if (f == NULL || g == NULL)
    exit(2);
  for (int i = 0; i < 6; i++)
    fprintf(f, "%.17g ", load[i]);
  fprintf(f, "\n%d %d\n", PLIES, ANGLES);
  for (int k = 0; k < KINDS; k++) {
    const rw_lamina *m = &kind[k].material;
    fprintf(f, "%.17g %.17g %.17g %.17g %.17g ", m->E1, m->E2, m->nu12, m->G12, kind[k].thickness);
    fprintf(f, "%.17g %.17g %.17g %.17g %.17g\n", m->Xt, m->Xc, m->Yt, m->Yc, m->S);
  }
  fwrite(p->code, sizeof p->code, 1, g);
  fclose(f);
  fclose(g);
}

/* Microseconds, or NaN; two means stand for all factors. */
static double numpy_work(void *context)
{
  numpy_context *c = context;
  char command[512];
  double took = NAN, mean = NAN, marked = NAN, our_mean = 0, our_marked = 0;
  snprintf(command, sizeof command, "%s %s/layups.py %s %s %d", c->python, BENCH_SOURCE,
           PROBLEM_FILE, STACKS_FILE, c->block);
  FILE *f = popen(command, "r");
  if (f == NULL)
    return NAN;
  if (fscanf(f, "%lf %lf %lf", &took, &mean, &marked) != 3)
    took = NAN;
  pclose(f);
  for (size_t i = 0; i < STACKS; i++) {
    our_mean += c->p->factor[i] / STACKS;
    our_marked += c->p->factor[i] * (double)(i % 7) / STACKS;
  }
  c->error = fmax(fabs(mean / our_mean - 1), fabs(marked / our_marked - 1));
  return took;
}

static double worst_of(const problem *p, const double *factor, size_t checked)
{
  double worst = 0;
  for (size_t i = 0; i < checked; i++) {
    double off = fabs((double)(factor[i] / exactly(p->code[i]) - 1));
    if (!(off <= worst))
      worst = isnan(off) ? HUGE_VAL : off;
  }
  return worst;
}

/* Another load case goes through the same factor array, so the answers are looked at first. */
static double check(problem *p, void (*work)(void *), void *context, const double *factor,
                    const char *who, size_t checked)
{
  work(context);
  double error = worst_of(p, factor, checked);
  bench_check(WORK, who, error, 1e-12);
  return error;
}

static void check_threads(problem *p, our_context *c)
{
  static double before[STACKS];
  c->threads = 2;
  ours(c);
  memcpy(before, p->factor, sizeof before);
  c->threads = 1;
  ours(c);
  bench_check(WORK, "the same bits by one thread and by two",
              memcmp(before, p->factor, sizeof before) == 0 ? 0 : 1, 0);
}

static bench_entry *add(bench_table *t, const char *who, void (*work)(void *), void *context,
                        double error)
{
  bench_entry *e = bench_add(t, who, 0, error);
  e->work = work;
  e->context = context;
  return e;
}

/* All widths the processor has; the one of four numbers, NULL where it is not there. */
static bench_entry *add_widths(bench_table *t, problem *p, width_context context[3],
                               size_t checked)
{
  static const char *const who[] = {"ours, 2 numbers in a register", "ours, 4 (AVX2)",
                                    "ours, 8 (AVX-512)"};
  bench_entry *four = NULL;
  for (int i = 0; i < 3; i++) {
    context[i] = (width_context){p, 2 << i};
    if (!width_there(context[i].width))
      continue;
    double error = check(p, by_width, &context[i], p->plain, who[i], checked);
    bench_check(WORK, "the same bits with every width",
                memcmp(p->plain, p->factor, sizeof p->plain) == 0 ? 0 : 1, 0);
    bench_entry *e = add(t, who[i], by_width, &context[i], error);
    if (context[i].width == 4)
      four = e;
  }
  return four;
}

static bench_entry *add_numpy(bench_table *t, numpy_context *c, const char *who)
{
  numpy_write(c->p);
  if (isnan(numpy_work(c)))
    return NULL;
  bench_check(WORK, "NumPy, means", c->error, 1e-12);
  bench_entry *e = bench_add(t, who, 0, c->error);
  e->measure = numpy_work;
  e->context = c;
  return e;
}

int main(int argc, char **argv)
{
  static problem p;
  bench_options o = bench_begin(argc, argv);
  bench_table t = {.name = WORK, .floor = BENCH_ENTRIES};
  size_t checked = o.quick ? QUICK_CHECKED : STACKS;
  problem_make(&p);
  our_context one = {&p, 1, false}, two = {&p, 2, false}, all = {&p, 1, true};
  numpy_context numpy = {o.python, 500, &p, NAN};
  check_threads(&p, &one);
  double error = check(&p, ours, &one, p.factor, "ours", checked);
  bench_entry *us = add(&t, "ours", ours, &one, error);
  add(&t, "ours, two threads, on the wall", ours, &two, error)->wall = true;
  width_context width[3];
  const bench_entry *four = add_widths(&t, &p, width, checked);
  error = check(&p, by_book, &p, p.plain, "plain C", checked);
  bench_entry *plain = add(&t, "plain C that inverts", by_book, &p, error);
  error = check(&p, singly, &p, p.plain, "stack by stack", checked);
  add(&t, "ours, stack by stack", singly, &p, error);
  bench_entry *blocks =
      o.python != NULL ? add_numpy(&t, &numpy, "NumPy, blocks of 500 stacks") : NULL;
  add(&t, "ours, 8 measures, 5 load cases", ours, &all, NAN);
  bench_run(&o, &t);
  const bench_entry *judged = four != NULL ? four : us;
  if (blocks != NULL)
    bench_target(WORK, blocks->ratio / judged->ratio, blocks->who, 50, false);
  bench_target(WORK, plain->ratio / judged->ratio, plain->who, 5, false);
  bench_target(WORK, judged->time / STACKS, "a microsecond for one stack", 0.4, true);
  rw_sweep_destroy(p.set);
  rw_sweep_destroy(p.all);
  return bench_end();
}
