/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a fitted law says of other courses, with the standard errors of the fit. */
#include "run_slopes.h"

#include <math.h>
#include <stdlib.h>

/* sqrt(s'Vs) */
static double spread(const rw_runs_fit *fit, const double *s)
{
  double sum = 0;
  for (size_t i = 0; i < fit->p; i++)
    for (size_t j = 0; j < fit->p; j++)
      sum += s[i] * s[j] * fit->covariance[i * fit->p + j];
  return sqrt(fmax(sum, 0));
}

static rw_status check(const char *function, const rw_runs_fit *fit, rw_error *err)
{
  if (fit->p < 1 || fit->p > RW_FIT_PARAMETERS)
    return rw_error_range(err, function, "p", (double)fit->p, 1, RW_FIT_PARAMETERS, "", NULL);
  return run_parameters_check(function, &fit->law, fit->parameter, fit->p, err);
}

rw_status rw_fit_cure(const rw_runs_fit *fit, const rw_course *course, const double *time,
                      size_t n, rw_value *cure, rw_error *err)
{
  const char *function = "rw_fit_cure";
  rw_history *own = NULL;
  rw_cure_path *path = NULL;
  rw_status status = check(function, fit, err);
  if (status == RW_OK)
    status = run_course_open(function, course, time, n, &own, err);
  if (status != RW_OK)
    return status;
  const rw_history *h = own != NULL ? own : course->history;
  double *a = malloc(n * sizeof *a), *s = calloc(n * fit->p, sizeof *s);
  if (a == NULL || s == NULL)
    status = rw_error_set(err, RW_ERR_MEMORY, function, NULL, NULL,
                          "not enough memory for the degrees of cure");
  else
    status = run_cure_along(&fit->law, h, course, time, n, 1e-9, a, &path, err);
  if (status >= 0 && path != NULL)
    run_slopes_along(&fit->law, h, path, fit->parameter, fit->p, time, n, s);
  for (size_t i = 0; status >= 0 && i < n; i++)
    cure[i] = (rw_value){a[i], spread(fit, s + i * fit->p)};
  rw_cure_path_destroy(path);
  rw_history_destroy(own);
  free(a);
  free(s);
  return status;
}

rw_status rw_fit_when(const rw_runs_fit *fit, const rw_course *course, double until, double cure,
                      rw_value *time, rw_error *err)
{
  const char *function = "rw_fit_when";
  rw_history *own = NULL;
  rw_cure_path *path = NULL;
  double unused, t = 0, s[RW_FIT_PARAMETERS], rate = 0, T, a;
  rw_status status = check(function, fit, err);
  if (status == RW_OK && !(cure > course->start && cure < 1))
    status = rw_error_range(err, function, "cure", cure, course->start, 1, "",
                            "A degree of cure is a share: 0 is liquid, 1 fully cured.");
  if (status == RW_OK && !(until > course->from))
    status = rw_error_range(err, function, "until", until, course->from, HUGE_VAL, "s", NULL);
  if (status == RW_OK)
    status = run_course_open(function, course, &until, 1, &own, err);
  if (status != RW_OK)
    return status;
  const rw_history *h = own != NULL ? own : course->history;
  status = run_cure_along(&fit->law, h, course, &until, 1, 1e-9, &unused, &path, err);
  if (status >= 0) {
    rw_status when = rw_cure_when(path, cure, &t, err);
    status = when != RW_OK ? when : status;
  }
  if (status >= 0 && status != RW_NOT_REACHED) {
    run_slopes_along(&fit->law, h, path, fit->parameter, fit->p, &t, 1, s);
    rw_cure_at(path, t, &a, NULL, &T, NULL);
    rw_status known = rw_cure_rate(&fit->law, a, T, &rate, err);
    if (known < 0)
      status = known;
    else if (rate > 0)
      *time = (rw_value){t, spread(fit, s) / rate};
    else
      status = RW_NOT_REACHED;
  }
  rw_cure_path_destroy(path);
  rw_history_destroy(own);
  return status;
}
