/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Walks a rate law along a history, one series step at a time, from kink to kink. */
#ifndef RW_CURE_MARCH_H
#define RW_CURE_MARCH_H

#include "begin.h"
#include "lanes.h"
#include "phase.h"
#include "track.h"

/* Shares of the wanted tolerance. A long step leaves out terms below the last two, which it holds
 * to the first share. A quick step, and one of many lanes, leaves out what follows a last member
 * that is held to the others, some thirty times less on a log of usual density; the steps of a log
 * are many, hence the rest of the room. The tests on random laws and logs show that it is enough.
 */
static const double LONG_SHARE = 0.01, QUICK_SHARE = 0.25, LANES_SHARE = 0.1;

typedef struct march {
  forms law;
  phase phase;
  track track;
  double t;
  double end;
  double a;
  double tolerance; /* wanted in a over the whole walk */
  double care;      /* s: a step's tolerance is lessened by the rate times this, where below one */
  double steepness; /* 1/K, of the rate with temperature */
  double last;      /* length of the last step, 0 before the first */
  int quick;        /* a law without kinks of its own, which short steps may follow */
  one_law one;
  lanes_constants ahead; /* rate constants of the pieces from `ahead_first` on */
  size_t ahead_first;
  one_state carried; /* state and powers at the end of the last quick step */
  double T;          /* K, there; a history may jump */
  int age;           /* quick steps since they were computed afresh; -1: not there */
} march;

/* RW_ERR_ARGUMENT where a law cannot leave `start`, RW_ERR_RANGE where it lies above its top. */
rw_status march_can_start(const char *function, const rw_cure_law *law, double start,
                          rw_error *err);

/* Prepares a walk; the law must have been checked and must outlive it. RW_ERR_COVERAGE,
 * RW_ERR_RANGE, RW_ERR_ARGUMENT with the name of the public function that asks. */
rw_status march_start(march *m, const char *function, const rw_cure_law *law, const rw_history *h,
                      double from, double to, double a, double tolerance, rw_error *err);
/* The same on a track, without checks. */
void march_on_track(march *m, const rw_cure_law *law, const track *k, double span, double a,
                    double tolerance);
/* Prepares a walk at a steady temperature from a = 0; `store` keeps the two points. */
void march_steady(march *m, const rw_cure_law *law, double T, double span, double tolerance,
                  double store[4]);
/* Conversion at a steady temperature after a time, to 1e-8; -1 where it cannot be followed. */
double march_steady_cure(const rw_cure_law *law, double T, double span);
/* Next step: 1 a step, 0 the end is reached, -1 no step can be found. */
int march_next(march *m, series_step *step);

/* How much a step's tolerance is lessened per unit of rate: an error made at a rate f grows by
 * f_later/f, and must not count for more than a second either. */
double march_care(const forms *law, double T);

#endif
