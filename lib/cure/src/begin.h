/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The first moments from a = 0, where a^m has no Taylor series. */
#ifndef RW_CURE_BEGIN_H
#define RW_CURE_BEGIN_H

#include "form.h"

/* A start on a straight piece of a history. */
typedef struct begin {
  const form *law;
  double T;         /* K, at the start */
  double slope;     /* K/s */
  double tolerance; /* wanted in a */
  double most;      /* greatest a to go to */
  double shape;     /* how far a cubic between the ends may be off */
} begin;

/* How long the start's own series is good, s, at most h. */
double begin_span(const begin *b, double h);
/* Degree of cure after a time within that span. */
double begin_value(const begin *b, double t);

#endif
