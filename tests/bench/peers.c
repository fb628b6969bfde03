/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "peers.h"

#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdlib.h>

struct gsl_peer {
  gsl_odeiv2_system system;
  gsl_odeiv2_driver *driver;
  const rate_law *law;
  double t, T, slope; /* of the piece it is in */
};

static int log_rate(double t, const double *y, double *f, void *context)
{
  const gsl_peer *p = context;
  f[0] = rate_at(p->law, y[0], p->T + p->slope * (t - p->t));
  return GSL_SUCCESS;
}

gsl_peer *gsl_peer_create(const gsl_odeiv2_step_type *type, double tolerance)
{
  gsl_peer *p = calloc(1, sizeof *p);
  if (p == NULL)
    abort();
  p->system = (gsl_odeiv2_system){log_rate, NULL, 1, p};
  p->driver = gsl_odeiv2_driver_alloc_y_new(&p->system, type, 30, tolerance, tolerance);
  return p;
}

void gsl_peer_destroy(gsl_peer *p)
{
  gsl_odeiv2_driver_free(p->driver);
  free(p);
}

/* Share of a piece at which the cubic with these ends and slopes per piece passes a level. */
static double cubic_crossing(double a0, double r0, double a1, double r1, double level)
{
  double rise = a1 - a0, c = 3 * rise - 2 * r0 - r1, d = r0 + r1 - 2 * rise;
  double u = (level - a0) / rise;
  for (int i = 0; i < 8; i++) {
    double off = a0 + u * (r0 + u * (c + u * d)) - level;
    double step = off / (r0 + u * (2 * c + 3 * u * d));
    u -= step;
    if (fabs(step) < 1e-13)
      break;
  }
  return u;
}

bool gsl_peer_solve(gsl_peer *p, const rate_law *law, const temperature_log *log, bool all,
                    trajectory *out)
{
  double t = 0, y = 0;
  int next = 0;
  p->law = law;
  gsl_odeiv2_driver_reset_hstart(p->driver, 30);
  out->a[0] = 0;
  for (int i = 0; i < LEVELS; i++)
    out->when[i] = HUGE_VAL;
  for (int i = 0; i + 1 < LOG_POINTS && (all || next < LEVELS); i++) {
    p->t = log->time[i];
    p->T = log->T[i];
    p->slope = (log->T[i + 1] - log->T[i]) / LOG_STEP;
    if (gsl_odeiv2_driver_apply(p->driver, &t, log->time[i + 1], &y) != GSL_SUCCESS)
      return false;
    out->a[i + 1] = y;
    for (; next < LEVELS && y >= problem_level[next]; next++) {
      double r0 = LOG_STEP * rate_at(law, out->a[i], log->T[i]);
      double r1 = LOG_STEP * rate_at(law, y, log->T[i + 1]);
      out->when[next] =
          p->t + LOG_STEP * cubic_crossing(out->a[i], r0, y, r1, problem_level[next]);
    }
  }
  return true;
}

#ifdef BENCH_CVODE

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <string.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sunnonlinsol/sunnonlinsol_fixedpoint.h>

#if SUNDIALS_VERSION_MAJOR >= 7
#define NO_COMMUNICATOR SUN_COMM_NULL
#else
#define NO_COMMUNICATOR NULL
#endif

enum { MOST_EVENTS = 8 };

struct cvode_peer {
  cvode_system system;
  SUNContext context;
  void *memory;
  N_Vector y, absolute;
  SUNMatrix matrix;
  SUNLinearSolver linear;
  SUNNonlinearSolver fixed_point;
};

static int cvode_rhs(double t, N_Vector y, N_Vector f, void *context)
{
  const cvode_peer *p = context;
  p->system.rhs(t, NV_DATA_S(y), NV_DATA_S(f), p->system.context);
  return 0;
}

static int cvode_events(double t, N_Vector y, double *g, void *context)
{
  const cvode_peer *p = context;
  p->system.event(t, NV_DATA_S(y), g, p->system.context);
  return 0;
}

static void wanted(int status)
{
  if (status < 0)
    abort();
}

cvode_peer *cvode_peer_create(const cvode_system *s, bool stiff, double tolerance)
{
  int rising[MOST_EVENTS] = {1, 1, 1, 1, 1, 1, 1, 1};
  cvode_peer *p = calloc(1, sizeof *p);
  if (p == NULL)
    abort();
  p->system = *s;
  wanted(SUNContext_Create(NO_COMMUNICATOR, &p->context));
  p->y = N_VNew_Serial(s->dim, p->context);
  p->absolute = N_VNew_Serial(s->dim, p->context);
  N_VConst(0, p->y);
  for (int i = 0; i < s->dim; i++)
    NV_Ith_S(p->absolute, i) = tolerance * s->scale[i];
  p->memory = CVodeCreate(stiff ? CV_BDF : CV_ADAMS, p->context);
  wanted(CVodeInit(p->memory, cvode_rhs, 0, p->y));
  wanted(CVodeSVtolerances(p->memory, tolerance, p->absolute));
  wanted(CVodeSetUserData(p->memory, p));
  wanted(CVodeSetMaxNumSteps(p->memory, 100000));
  wanted(CVodeRootInit(p->memory, s->events, cvode_events));
  wanted(CVodeSetRootDirection(p->memory, rising));
  if (stiff) {
    p->matrix = SUNDenseMatrix(s->dim, s->dim, p->context);
    p->linear = SUNLinSol_Dense(p->y, p->matrix, p->context);
    wanted(CVodeSetLinearSolver(p->memory, p->linear, p->matrix));
  } else {
    p->fixed_point = SUNNonlinSol_FixedPoint(p->y, 0, p->context);
    wanted(CVodeSetNonlinearSolver(p->memory, p->fixed_point));
  }
  return p;
}

void cvode_peer_destroy(cvode_peer *p)
{
  if (p == NULL)
    return;
  CVodeFree(&p->memory);
  if (p->linear != NULL)
    SUNLinSolFree(p->linear);
  if (p->matrix != NULL)
    SUNMatDestroy(p->matrix);
  if (p->fixed_point != NULL)
    SUNNonlinSolFree(p->fixed_point);
  N_VDestroy(p->absolute);
  N_VDestroy(p->y);
  SUNContext_Free(&p->context);
  free(p);
}

static void note_events(const cvode_peer *p, double t, double *when, double *where)
{
  int met[MOST_EVENTS], dim = p->system.dim;
  wanted(CVodeGetRootInfo(p->memory, met));
  for (int i = 0; i < p->system.events; i++)
    if (met[i] > 0 && !(when[i] < HUGE_VAL)) {
      when[i] = t;
      memcpy(where + i * dim, NV_DATA_S(p->y), sizeof *where * (size_t)dim);
    }
}

bool cvode_peer_solve(cvode_peer *p, const double *start, const double *stop, size_t n, double *y,
                      double *when, double *where)
{
  size_t dim = (size_t)p->system.dim;
  double t;
  for (int i = 0; i < p->system.events; i++)
    when[i] = HUGE_VAL;
  memcpy(NV_DATA_S(p->y), start, sizeof *start * dim);
  wanted(CVodeReInit(p->memory, 0, p->y));
  for (size_t i = 0; i < n; i++) {
    int status;
    wanted(CVodeSetStopTime(p->memory, stop[i]));
    while ((status = CVode(p->memory, stop[i], p->y, &t, CV_NORMAL)) == CV_ROOT_RETURN)
      note_events(p, t, when, where);
    if (status < 0)
      return false;
    memcpy(y + i * dim, NV_DATA_S(p->y), sizeof *y * dim);
  }
  return true;
}

#else

cvode_peer *cvode_peer_create(const cvode_system *s, bool stiff, double tolerance)
{
  (void)s;
  (void)stiff;
  (void)tolerance;
  return NULL;
}

void cvode_peer_destroy(cvode_peer *p)
{
  (void)p;
}

bool cvode_peer_solve(cvode_peer *p, const double *start, const double *stop, size_t n, double *y,
                      double *when, double *where)
{
  (void)p;
  (void)start;
  (void)stop;
  (void)n;
  (void)y;
  (void)when;
  (void)where;
  return false;
}

#endif
