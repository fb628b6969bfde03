/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { ROUNDS = 15, QUICK_ROUNDS = 3, SAMPLES = 5 };
static const double SAMPLE = 4e-3; /* s, least length of a sample */
static const double LONG = 30e-3;  /* s, from which one sample will do */

static int wrong;

bench_options bench_begin(int argc, char **argv)
{
  bench_options o = {.rounds = ROUNDS};
  for (int i = 1; i < argc; i++) {
    if (strcmp(argv[i], "--quick") == 0) {
      o.quick = true;
      o.rounds = QUICK_ROUNDS;
    } else if (strcmp(argv[i], "--python") == 0 && i + 1 < argc) {
      o.python = argv[++i];
    } else {
      fprintf(stderr, "%s: %s is no option\n", argv[0], argv[i]);
      exit(2);
    }
  }
  return o;
}

static double now(bool wall)
{
  struct timespec t;
  clock_gettime(wall ? CLOCK_MONOTONIC : CLOCK_THREAD_CPUTIME_ID, &t);
  return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static double seconds(const bench_entry *e, long calls)
{
  double start = now(e->wall);
  for (long i = 0; i < calls; i++)
    e->work(e->context);
  return now(e->wall) - start;
}

/* Calls that fill a sample; warms up on the way. */
static long calls_of(const bench_entry *e)
{
  long calls = 1;
  double took;
  if (e->measure != NULL)
    return 1;
  while ((took = seconds(e, calls)) < SAMPLE && calls < 1L << 30)
    calls *= 2;
  return calls;
}

static int compare(const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

double bench_median(double *value, size_t n)
{
  qsort(value, n, sizeof *value, compare);
  return 0.5 * (value[(n - 1) / 2] + value[n / 2]);
}

/* Microseconds of one piece of work in this round. */
static double round_time(const bench_entry *e, long calls)
{
  double share = e->share > 0 ? e->share : 1, sample[SAMPLES];
  size_t n = 0;
  if (e->measure != NULL)
    return share * e->measure(e->context);
  do {
    sample[n++] = seconds(e, calls);
  } while (n < SAMPLES && sample[0] < LONG);
  return 1e6 * share * bench_median(sample, n) / (double)calls;
}

bench_entry *bench_add(bench_table *t, const char *who, double tolerance, double error)
{
  if (t->n == BENCH_ENTRIES)
    abort();
  bench_entry *e = &t->entry[t->n++];
  *e = (bench_entry){.who = who, .error = error};
  if (tolerance > 0)
    snprintf(e->setting, sizeof e->setting, "tolerance %.1e", tolerance);
  return e;
}

static void print_row(const char *name, const bench_entry *e)
{
  printf("row\t%s\t%s\t%s\t%.6g\t%.4g\t%.2g\t%.4g\n", name, e->who, e->setting, e->time, e->ratio,
         e->error, e->floor);
}

/* Median of the ratios to another entry, each taken inside one round. */
static double ratio(double took[][ROUNDS], size_t i, size_t to, size_t rounds)
{
  double value[ROUNDS];
  for (size_t r = 0; r < rounds; r++)
    value[r] = took[i][r] / took[to][r];
  return bench_median(value, rounds);
}

/* A program of its own takes long to start. */
static size_t rounds_of(const bench_entry *e, size_t rounds)
{
  return e->measure != NULL && rounds > QUICK_ROUNDS ? QUICK_ROUNDS : rounds;
}

void bench_run(const bench_options *o, bench_table *t)
{
  double took[BENCH_ENTRIES][ROUNDS], value[ROUNDS];
  long calls[BENCH_ENTRIES];
  size_t rounds = (size_t)o->rounds;
  for (size_t i = 0; i < t->n; i++)
    calls[i] = calls_of(&t->entry[i]);
  for (size_t r = 0; r < rounds; r++)
    for (size_t j = 0; j < t->n; j++) {
      size_t i = r % 2 == 0 ? j : t->n - 1 - j; /* there and back, so that a drift evens out */
      if (r < rounds_of(&t->entry[i], rounds))
        took[i][r] = round_time(&t->entry[i], calls[i]);
    }
  for (size_t i = 0; i < t->n; i++) {
    bench_entry *e = &t->entry[i];
    size_t own = rounds_of(e, rounds);
    e->ratio = ratio(took, i, 0, own);
    e->floor = t->floor < t->n ? ratio(took, i, t->floor, own) : NAN;
    memcpy(value, took[i], own * sizeof *value);
    e->time = bench_median(value, own);
    print_row(t->name, e);
  }
}

void bench_note(const char *work, const char *what, double error, const char *more)
{
  printf("note\t%s\t%s\t%.2g\t%s\n", work, what, error, more);
}

void bench_target(const char *work, double got, const char *of, double wanted, bool most)
{
  bool holds = most ? got <= wanted : got >= wanted;
  printf("target\t%s: %.3gx %s (wanted %s%.3g): %s\n", work, got, of, most ? "at most " : "",
         wanted, holds ? "holds" : "MISSED");
}

void bench_check(const char *work, const char *what, double error, double allowed)
{
  if (error <= allowed)
    return;
  wrong = 1;
  printf("wrong\t%s: %s: error %.2g, allowed %.2g\n", work, what, error, allowed);
}

int bench_end(void)
{
  return wrong;
}

double bench_loosest(double (*error)(double tolerance, void *context), void *context,
                     double allowed)
{
  double best = 0;
  for (int half = 24; half >= 4; half--) {
    double tolerance = pow(10, -0.5 * half);
    if (error(tolerance, context) <= allowed)
      best = tolerance;
    else if (best > 0)
      break;
  }
  return best;
}
