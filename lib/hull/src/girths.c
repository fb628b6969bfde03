/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "hull_inside.h"

#include <math.h>
#include <string.h>

static const char *const ME = "rw_hull_from_girths";
static const double FARTHEST = 1000.0; /* m */
static const double WIDEST = 20.0;     /* m */
static const double NEAREST = 1e-6;    /* m between stations */
static const double EVEN = 1e-9;       /* of the spacing */
static const double JUMP = 4.0;        /* ratio of neighbouring girths */

static rw_status check_finite(const double *x, const double *girth, size_t n, rw_error *err)
{
  for (size_t i = 0; i < n; i++)
    if (!isfinite(x[i]) || !isfinite(girth[i]))
      return rw_error_set(err, RW_ERR_ARGUMENT, ME, isfinite(x[i]) ? "girth" : "x",
                          "leave a station out rather than give it no number",
                          "station %zu has no usable %s: it is not a finite number", i + 1,
                          isfinite(x[i]) ? "girth" : "position");
  return RW_OK;
}

static rw_status check_positions(const double *x, size_t n, rw_error *err)
{
  for (size_t i = 0; i < n; i++)
    if (fabs(x[i]) > FARTHEST)
      return rw_error_range(err, ME, "x", x[i], -FARTHEST, FARTHEST, "m",
                            "positions are in metres: 5200 mm is 5.2");
  for (size_t i = 1; i < n; i++)
    if (!(x[i] - x[i - 1] >= NEAREST))
      return rw_error_set(err, RW_ERR_ORDER, ME, "x",
                          "sort the stations from one end to the other, each position once",
                          "station %zu does not lie after station %zu: positions must rise", i + 1,
                          i);
  return RW_OK;
}

static rw_status check_girths(const double *girth, size_t n, rw_error *err)
{
  for (size_t i = 0; i < n; i++) {
    int end = i == 0 || i == n - 1;
    if (girth[i] < 0.0 || girth[i] > WIDEST || (girth[i] == 0.0 && !end))
      return rw_error_range(err, ME, "girth", girth[i], 0.0, WIDEST, "m",
                            "girths run from sheer to sheer in metres: 1260 mm is 1.26; only the "
                            "two ends may have none");
  }
  return RW_OK;
}

static rw_status check(const double *x, const double *girth, size_t n, rw_hull *const *out,
                       rw_error *err)
{
  if (x == NULL || girth == NULL || out == NULL)
    return hull_missing(ME, x == NULL ? "x" : girth == NULL ? "girth" : "out", err);
  if (n < 3)
    return rw_error_set(err, RW_ERR_ARGUMENT, ME, "n", "measure the girth at more stations",
                        "a hull needs three stations or more, found %zu", n);
  rw_status status = check_finite(x, girth, n, err);
  if (status == RW_OK)
    status = check_positions(x, n, err);
  if (status == RW_OK)
    status = check_girths(girth, n, err);
  return status;
}

static int evenly_spaced(const double *x, size_t n)
{
  double step = (x[n - 1] - x[0]) / (double)(n - 1);
  for (size_t i = 1; i < n; i++)
    if (fabs(x[i] - x[i - 1] - step) > EVEN * step)
      return 0;
  return 1;
}

static double simpson(const rw_hull *h)
{
  double sum = h->girth[0] + h->girth[h->n - 1];
  for (size_t i = 1; i + 1 < h->n; i++)
    sum += (i % 2 == 1 ? 4.0 : 2.0) * h->girth[i];
  return sum * (h->x[h->n - 1] - h->x[0]) / (3.0 * (double)(h->n - 1));
}

static rw_status jumps(const double *girth, size_t n)
{
  for (size_t i = 1; i + 2 < n; i++) {
    double a = girth[i], b = girth[i + 1];
    if (fmax(a, b) > JUMP * fmin(a, b))
      return RW_OUTSIDE_TESTED;
  }
  return RW_OK;
}

rw_status rw_hull_from_girths(const double *x, const double *girth, size_t n, rw_hull **out,
                              rw_error *err)
{
  rw_status status = check(x, girth, n, out, err);
  if (status != RW_OK)
    return status;
  rw_hull *h = hull_new(n);
  if (h == NULL)
    return hull_no_memory(ME, err);
  memcpy(h->x, x, n * sizeof *x);
  memcpy(h->u, x, n * sizeof *x);
  memcpy(h->girth, girth, n * sizeof *girth);
  for (size_t i = 0; i < n; i++)
    h->xu[i] = 1.0;
  status = hull_slopes(h->u, h->girth, n, h->gu, err);
  if (status != RW_OK) {
    rw_hull_destroy(h);
    return status == RW_ERR_MEMORY ? hull_no_memory(ME, err) : status;
  }
  hull_sum_up(h);
  if (n % 2 == 1 && evenly_spaced(x, n))
    h->scale = simpson(h) / h->sum[n - 1];
  *out = h;
  return jumps(girth, n);
}
