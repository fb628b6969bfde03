/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Times several ways of doing the same work side by side, and prints what scripts/bench reads:
 * lines of fields with tabs between, the first field saying what the line is. */
#ifndef RW_BENCH_H
#define RW_BENCH_H

#include <stdbool.h>
#include <stddef.h>

/* How a program was called. */
typedef struct bench_options {
  int rounds;
  bool quick;
  const char *python; /* an interpreter that has what is asked of it, or NULL */
} bench_options;

/* One way of doing the work. The first of a list is ours, all ratios are to it. */
typedef struct bench_entry {
  const char *who;
  char setting[48];
  void (*work)(void *context);      /* does the work once */
  double (*measure)(void *context); /* or: tells the microseconds itself, in 3 rounds */
  void *context;
  bool wall;    /* time on the wall instead of the thread's own */
  double share; /* what a call's time is multiplied with, 0: 1 */
  double error; /* NaN: none to tell */

  double time;  /* microseconds, median of the rounds */
  double ratio; /* to ours, median of the ratios inside each round */
  double floor; /* to the floor, likewise */
} bench_entry;

/* The ways one piece of work is done. */
enum { BENCH_ENTRIES = 16 };
typedef struct bench_table {
  const char *name; /* of the work */
  bench_entry entry[BENCH_ENTRIES];
  size_t n, floor; /* floor: index of the entry that is the floor; n or more for none */
} bench_table;

/* Reads --quick and --python PYTHON. */
bench_options bench_begin(int argc, char **argv);
/* One more way; a tolerance of 0 is not told. Fill work and context of what it returns. */
bench_entry *bench_add(bench_table *t, const char *who, double tolerance, double error);
/* Times all entries and prints the rows. */
void bench_run(const bench_options *o, bench_table *t);
/* A figure that is no time. */
void bench_note(const char *work, const char *what, double error, const char *more);
/* Wanted: got >= wanted, or with `most` got <= wanted. */
void bench_target(const char *work, double got, const char *of, double wanted, bool most);
/* The answers are wrong unless error <= allowed; a NaN is wrong too. */
void bench_check(const char *work, const char *what, double error, double allowed);
/* Exit status: 1 where an answer was wrong. */
int bench_end(void);

/* The loosest tolerance, in half decades from 1e-12 on, at which and below which error(tolerance)
 * stays within allowed; 0 where there is none. */
double bench_loosest(double (*error)(double tolerance, void *context), void *context,
                     double allowed);
/* Median of n values, which are sorted by it. */
double bench_median(double *value, size_t n);

#endif
