/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <resinwright/num.h>

#include <gsl/gsl_errno.h>
#include <gsl/gsl_roots.h>
#include <math.h>

enum { STATE_BYTES = 256, MAX_STEPS = 200 };

/* GSL's solvers stop the process at a value that is not finite; this one is told instead. */
typedef struct guarded {
  rw_num_function *f;
  void *context;
  int broken;
} guarded;

static double guard(double x, void *context)
{
  guarded *g = context;
  double y = g->f(x, g->context);
  if (isfinite(y))
    return y;
  g->broken = 1;
  return 0;
}

static rw_status refuse(rw_error *err, const char *message)
{
  return rw_error_set(err, RW_ERR_NUMERIC, "rw_num_root", "f", NULL, "%s", message);
}

rw_status rw_num_root(rw_num_function *f, void *context, double low, double high, double xtol,
                      double *x, rw_error *err)
{
  if (!(isfinite(low) && isfinite(high) && high > low))
    return rw_error_range(err, "rw_num_root", "high", high, low, HUGE_VAL, "", NULL);
  if (!(xtol > 0))
    return rw_error_range(err, "rw_num_root", "xtol", xtol, 0, HUGE_VAL, "", NULL);
  double at_low = f(low, context), at_high = f(high, context);
  if (!isfinite(at_low) || !isfinite(at_high))
    return refuse(err, "the function is not finite at the ends of the bracket");
  if (at_low == 0) {
    *x = low;
    return RW_OK;
  }
  if (at_high == 0) {
    *x = high;
    return RW_OK;
  }
  if ((at_low > 0) == (at_high > 0))
    return refuse(err, "the function has the same sign at both ends of the bracket");

  /* The solver's state lives here, so GSL has nothing to allocate and nothing to fail at. */
  _Alignas(max_align_t) unsigned char state[STATE_BYTES];
  const gsl_root_fsolver_type *brent = gsl_root_fsolver_brent;
  if (brent->size > sizeof state)
    return refuse(err, "the root finder of this GSL needs more room than is set aside");
  guarded inner = {.f = f, .context = context};
  gsl_function function = {.function = guard, .params = &inner};
  gsl_root_fsolver solver = {.type = brent, .state = state};
  if (gsl_root_fsolver_set(&solver, &function, low, high) != GSL_SUCCESS)
    return refuse(err, "the root finder could not start");
  for (int step = 0; step < MAX_STEPS; step++) {
    if (gsl_root_fsolver_iterate(&solver) != GSL_SUCCESS || inner.broken)
      return refuse(err, "the function is not finite inside the bracket");
    if (gsl_root_fsolver_x_upper(&solver) - gsl_root_fsolver_x_lower(&solver) <= xtol) {
      *x = gsl_root_fsolver_root(&solver);
      return RW_OK;
    }
  }
  /* Brent's bracket can stall on one side while the root itself has settled. */
  *x = gsl_root_fsolver_root(&solver);
  return RW_OK;
}
