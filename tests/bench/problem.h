/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The work that is timed, all of it invented, and its exact answers in long double. */
#ifndef RW_BENCH_PROBLEM_H
#define RW_BENCH_PROBLEM_H

#include <resinwright/cure.h>

#include <stdbool.h>
#include <stdint.h>

/* Pseudo-random numbers. */
typedef struct dice {
  uint64_t state;
} dice;
double dice_uniform(dice *d);
double dice_normal(dice *d);

/* 48 h of temperatures, one reading each 5 min, rounded to 0.1 K. */
enum { LOG_POINTS = 577, LEVELS = 4 };
#define LOG_STEP 300.0
extern const double problem_level[LEVELS];
typedef struct temperature_log {
  double time[LOG_POINTS], T[LOG_POINTS];
} temperature_log;
/* Mean and noise (sd) in K; the day swings by 4 K. */
void log_make(double mean, double noise, uint64_t seed, temperature_log *out);

/* The law of all logs, and one scattered about it. */
rw_cure_law problem_law(void);
rw_cure_law problem_draw(uint64_t number);

/* A Kamal law with a diffusion factor, as a peer would write it down. */
typedef struct rate_law {
  double A1, c1, A2, c2, m, n, C, ac0, acT, T_ref;
} rate_law;
rate_law rate_law_of(const rw_cure_law *law);
double rate_at(const rate_law *law, double a, double T);
long double exact_rate(const rw_cure_law *law, long double a, long double T);

/* Differential equations of up to two unknowns, followed to about 1e-16. */
enum { EXACT_DIM = 2 };
typedef struct exact_system {
  void (*rhs)(long double t, const long double *y, long double *f, const void *context);
  int dim;
  const void *context;
} exact_system;
typedef struct exact_state {
  long double t, h, y[EXACT_DIM]; /* h: step to try next */
} exact_state;
void exact_advance(const exact_system *s, exact_state *at, long double to);
/* When a function of time and state first is at least 0 between a state and `to`, where it is. */
typedef long double exact_event(long double t, const long double *y, const void *context);
long double exact_when(const exact_system *s, const exact_state *from, long double to,
                       exact_event *event, const void *context);

/* A cure over a log. */
typedef struct trajectory {
  double a[LOG_POINTS], middle[LOG_POINTS - 1]; /* at the readings, half-way between them */
  double when[LEVELS];                          /* s, HUGE_VAL: not reached */
} trajectory;
void exact_trajectory(const rw_cure_law *law, const temperature_log *log, bool middles,
                      trajectory *out);
/* Largest differences. */
typedef struct trajectory_error {
  double a;       /* of the degree of cure */
  double seconds; /* of the event times, s; HUGE_VAL where only one reaches a level */
  double event;   /* likewise times the rate of cure there */
} trajectory_error;
trajectory_error trajectory_differ(const rw_cure_law *law, const temperature_log *log,
                                   const trajectory *exact, const trajectory *got, bool middles);
/* The differences of event times alone. */
trajectory_error times_differ(const rw_cure_law *law, const temperature_log *log,
                              const double *exact, const double *got);

#endif
