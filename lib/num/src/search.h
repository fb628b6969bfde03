/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The search for a least sum of squares, shared by squares.c, robust.c and profile.c. */
#ifndef RW_NUM_SEARCH_H
#define RW_NUM_SEARCH_H

#include "orthogonal.h"

/* Parameters with what the model makes of them. */
typedef struct place {
  double x[RW_NUM_PARAMETERS];
  double *r; /* n, not weighted */
  double *J; /* n*p by rows, not weighted */
  double ss; /* weighted */
} place;

typedef enum search_end {
  SEARCH_FOUND,
  SEARCH_NO_VALUE,     /* the model has no value at the start */
  SEARCH_LOST,         /* out of rounds, or no step leads down */
  SEARCH_UNDETERMINED, /* J lacks full rank */
} search_end;

typedef struct search {
  const rw_least_squares *problem;
  size_t n, p;
  size_t free;
  size_t column[RW_NUM_PARAMETERS]; /* of the free ones */
  double tolerance;
  int most;
  double *root; /* n roots of the weights in use */
  place here, next;
  double *a;      /* J's free columns, weighted and scaled, then factored */
  double *turned; /* Q'r */
  double *second; /* second derivative along a step */
  double tau[RW_NUM_PARAMETERS];
  double length[RW_NUM_PARAMETERS]; /* of J's columns */
  double scale[RW_NUM_PARAMETERS];  /* greatest length so far */
  singular values;                  /* of J with scaled columns, where they were asked for */
  int decomposed;                   /* 1 where they have been found */
  singular plain;                   /* of J with columns of length 1, once it has ended */
  double rounding;                  /* length of the residual that rounding alone makes */
  double radius;
  double offset;
  double condition;
  int worst; /* parameter that is determined least */
  int rounds;
  double *block;
} search;

/* Checks a problem and takes memory; `function` is the public one that asks. */
rw_status search_open(search *s, const char *function, const rw_least_squares *problem,
                      const double *start, rw_error *err);
/* The same, and at least one parameter must be free. */
rw_status search_begin(search *s, const char *function, const rw_least_squares *problem,
                       const double *start, rw_error *err);
void search_close(search *s);
/* Weights from the problem, times a factor for each point where given. */
void search_weigh(search *s, const double *factor);
/* Searches from here.x on. */
search_end search_run(search *s);
/* What the public functions say of an end other than SEARCH_FOUND. */
rw_status search_refuse(const search *s, const char *function, search_end end, rw_error *err);
/* Describes what was found. */
void search_report(const search *s, rw_least_squares_fit *out);
/* After other weights: sum of squares, condition and singular values at `here` as it stands. */
void search_settle(search *s);

#endif
