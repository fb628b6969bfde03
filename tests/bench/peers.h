/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The same cures by solvers for any differential equation: GSL, and CVODE where it was found. */
#ifndef RW_BENCH_PEERS_H
#define RW_BENCH_PEERS_H

#include "problem.h"

#include <gsl/gsl_odeiv2.h>

/* A solver of GSL that stops at each reading of a log, where its slope jumps; crossings on the
 * cubic through values and rates at the two readings around. */
typedef struct gsl_peer gsl_peer;
gsl_peer *gsl_peer_create(const gsl_odeiv2_step_type *type, double tolerance);
void gsl_peer_destroy(gsl_peer *p);
/* `all`: to the end of the log, else no further than the last level. */
bool gsl_peer_solve(gsl_peer *p, const rate_law *law, const temperature_log *log, bool all,
                    trajectory *out);

/* CVODE on any system. Event functions are looked at as they rise through zero. */
typedef struct cvode_system {
  int dim, events;
  void (*rhs)(double t, const double *y, double *f, void *context);
  void (*event)(double t, const double *y, double *g, void *context);
  const double *scale; /* of each unknown */
  void *context;
} cvode_system;
typedef struct cvode_peer cvode_peer;
/* NULL where CVODE is not there. */
cvode_peer *cvode_peer_create(const cvode_system *s, bool stiff, double tolerance);
void cvode_peer_destroy(cvode_peer *p);
/* Steps from 0 to stop after stop. y: state at the stops; when, where: first time and state of
 * each event, HUGE_VAL where it is not met. */
bool cvode_peer_solve(cvode_peer *p, const double *start, const double *stop, size_t n, double *y,
                      double *when, double *where);

#endif
