/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Censored regression from the inside: rows on the scale of a first straight line, and the
 * concave search in (b/spread, 1/spread). */
#ifndef RW_FIT_AFT_H
#define RW_FIT_AFT_H

#include "tail.h"

typedef enum aft_form { AFT_EXACT, AFT_AFTER, AFT_BEFORE, AFT_BETWEEN } aft_form;

/* A row in standard units: z = d (y - shift-free part) - x'g + offset, with d = 1/spread. */
typedef struct aft_row {
  aft_form form;
  double y;     /* the time, the bound, or the middle of both */
  double width; /* of an interval */
  double offset;
  double weight;
} aft_row;

/* A concave problem in q coefficients g and d = 1/spread. */
typedef struct aft_problem {
  rw_aft_kind kind;
  size_t n, q;
  const aft_row *row;
  const double *x; /* n*q by rows */
  double d;        /* 1/spread where it is held; 0: free */
  double least_spread;
} aft_problem;

/* What the search leaves behind. */
typedef struct aft_state {
  double *at;        /* q coefficients, then d; the start on entry */
  double *slope;     /* q + 1 */
  double *minus;     /* (q + 1)^2: minus the second derivatives at `at` */
  double *step;      /* q + 1 */
  double *from;      /* q + 1 */
  double *factor;    /* (q + 1)^2 */
  double likelihood; /* in ln T */
  unsigned steps;
} aft_state;

/* How the search ended. */
typedef enum aft_end {
  AFT_FOUND,
  AFT_FLAT,    /* it rises for ever, and hardly */
  AFT_CERTAIN, /* every row is as good as certain */
  AFT_POINT,   /* the spread vanishes */
  AFT_WIDE,    /* the spread grows for ever */
  AFT_LOST
} aft_end;

struct rw_aft {
  rw_aft_kind kind;
  size_t n, p;    /* rows that count; covariates */
  aft_row *row;   /* in units of `scale` about the first line */
  double *x;      /* n*(p + 1): 1, then (x - centre)/width */
  double *centre; /* p */
  double *width;  /* p */
  double *line;   /* p + 1: the first line in those columns */
  double scale;   /* of its residuals */
  double *b;      /* p + 1 coefficients in those columns, then the spread; in units of scale */
  double *cov;    /* (p + 2)^2, of b and ln spread */
  double least_spread;
  double sum_log;    /* of ln T, exact rows */
  double likelihood; /* in ln of T/scale */
  double weight[4];  /* by form */
  unsigned steps;
};

/* Room for the search over at most q coefficients; 0 where there is not enough memory. */
int aft_state_create(aft_state *s, size_t q);
void aft_state_destroy(aft_state *s);
aft_end aft_search(const aft_problem *p, aft_state *s);
/* b of the fit's columns for a sum of coefficients w0 b0 + w1 b1 + ... */
void aft_contrast(const rw_aft *f, const double *w, double *v);
/* Refuses covariates that are no numbers and a share outside 0 to 1. */
rw_status aft_check_quantile(const rw_aft *f, const double *x, double p, const char *function,
                             rw_error *err);

#endif
