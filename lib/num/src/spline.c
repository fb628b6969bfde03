/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A cubic spline of our own: GSL's allocates behind its abort handler and stops the process one
 * rounding step outside its range. */
#include <resinwright/num.h>

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

struct rw_spline {
  size_t n;
  double *x;      /* abscissae */
  double *y;      /* ordinates */
  double *second; /* second derivatives */
};

static rw_status check(const double *x, const double *y, size_t n, rw_error *err)
{
  if (n < 2 || n > SIZE_MAX / (8 * sizeof(double)))
    return rw_error_set(err, RW_ERR_ARGUMENT, "rw_spline_create", "n", NULL,
                        "a spline needs two points or more, found %zu", n);
  for (size_t i = 0; i < n; i++)
    if (!isfinite(x[i]) || !isfinite(y[i]))
      return rw_error_set(err, RW_ERR_ARGUMENT, "rw_spline_create", "y", NULL,
                          "point %zu of the spline is not a finite number", i + 1);
  for (size_t i = 1; i < n; i++)
    if (!(x[i] > x[i - 1]))
      return rw_error_set(err, RW_ERR_ORDER, "rw_spline_create", "x", NULL,
                          "point %zu of the spline does not lie after the one before it", i + 1);
  return RW_OK;
}

/* Second derivatives at the inner points by elimination (Thomas); `work` holds n numbers.
 * With not-a-knot ends the first and last are combinations of their two neighbours:
 * s0 = (1 + r) s1 - r s2 with r = h0/h1, and likewise at the other end. */
static void solve(rw_spline *s, rw_spline_end end, double *work)
{
  size_t n = s->n;
  double *x = s->x, *y = s->y, *m = s->second;
  if (n == 2)
    return;
  if (n == 3 && end == RW_SPLINE_NOT_A_KNOT) {
    double d = 2 * ((y[2] - y[1]) / (x[2] - x[1]) - (y[1] - y[0]) / (x[1] - x[0])) / (x[2] - x[0]);
    m[0] = m[1] = m[2] = d;
    return;
  }
  double r0 = (x[1] - x[0]) / (x[2] - x[1]);
  double r1 = (x[n - 1] - x[n - 2]) / (x[n - 2] - x[n - 3]);
  double upper = 0;
  for (size_t i = 1; i + 1 < n; i++) {
    double h0 = x[i] - x[i - 1], h1 = x[i + 1] - x[i];
    double low = h0, mid = 2 * (h0 + h1), high = h1;
    double right = 6 * ((y[i + 1] - y[i]) / h1 - (y[i] - y[i - 1]) / h0);
    if (end == RW_SPLINE_NOT_A_KNOT && i == 1) {
      mid += low * (1 + r0);
      high -= low * r0;
    }
    if (end == RW_SPLINE_NOT_A_KNOT && i + 2 == n) {
      mid += high * (1 + r1);
      low -= high * r1;
    }
    if (i == 1)
      low = 0;
    mid -= low * upper;
    upper = high / mid;
    work[i] = upper;
    m[i] = (right - low * m[i - 1]) / mid;
  }
  for (size_t i = n - 2; i-- > 1;)
    m[i] -= work[i] * m[i + 1];
  if (end == RW_SPLINE_NOT_A_KNOT) {
    m[0] = (1 + r0) * m[1] - r0 * m[2];
    m[n - 1] = (1 + r1) * m[n - 2] - r1 * m[n - 3];
  }
}

rw_status rw_spline_create(const double *x, const double *y, size_t n, rw_spline_end end,
                           rw_spline **out, rw_error *err)
{
  rw_status status = check(x, y, n, err);
  if (status != RW_OK)
    return status;
  rw_spline *s = malloc(sizeof *s);
  double *room = calloc(4 * n, sizeof *room);
  if (s == NULL || room == NULL) {
    free(s);
    free(room);
    return rw_error_set(err, RW_ERR_MEMORY, "rw_spline_create", NULL, NULL,
                        "not enough memory for a spline of %zu points", n);
  }
  *s = (rw_spline){.n = n, .x = room, .y = room + n, .second = room + 2 * n};
  memcpy(s->x, x, n * sizeof *x);
  memcpy(s->y, y, n * sizeof *y);
  solve(s, end, room + 3 * n);
  *out = s;
  return RW_OK;
}

void rw_spline_destroy(rw_spline *s)
{
  if (s == NULL)
    return;
  free(s->x);
  free(s);
}

/* The piece a place lies in; the end pieces reach on for ever. */
static size_t piece(const rw_spline *s, double x)
{
  size_t low = 0, high = s->n - 1;
  while (high - low > 1) {
    size_t mid = (low + high) / 2;
    if (x < s->x[mid])
      high = mid;
    else
      low = mid;
  }
  return low;
}

/* Cubic of a piece in t = x - x_i: y + b t + c t^2 + d t^3. */
static void cubic(const rw_spline *s, size_t i, double c[4])
{
  double h = s->x[i + 1] - s->x[i];
  double m0 = s->second[i], m1 = s->second[i + 1];
  c[0] = s->y[i];
  c[1] = (s->y[i + 1] - s->y[i]) / h - h * (2 * m0 + m1) / 6;
  c[2] = m0 / 2;
  c[3] = (m1 - m0) / (6 * h);
}

double rw_spline_value(const rw_spline *s, double x, double *slope)
{
  double c[4];
  size_t i = piece(s, x);
  cubic(s, i, c);
  double t = x - s->x[i];
  if (slope != NULL)
    *slope = c[1] + t * (2 * c[2] + t * 3 * c[3]);
  return c[0] + t * (c[1] + t * (c[2] + t * c[3]));
}

static double primitive(const rw_spline *s, size_t i, double x)
{
  double c[4];
  cubic(s, i, c);
  double t = x - s->x[i];
  return t * (c[0] + t * (c[1] / 2 + t * (c[2] / 3 + t * c[3] / 4)));
}

double rw_spline_integral(const rw_spline *s, double a, double b)
{
  if (b < a)
    return -rw_spline_integral(s, b, a);
  size_t first = piece(s, a), last = piece(s, b);
  double sum = -primitive(s, first, a);
  for (size_t i = first; i < last; i++)
    sum += primitive(s, i, s->x[i + 1]);
  return sum + primitive(s, last, b);
}
