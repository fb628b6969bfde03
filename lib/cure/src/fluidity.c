/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The integral of 1/viscosity, on which all flow of a coat hangs. */
#include <resinwright/cure.h>
#include <resinwright/num.h>

#include <math.h>

static const char FUNCTION[] = "rw_cure_fluidity";

enum { DEEPEST = 40, SHARES = 16 };

typedef struct problem {
  const rw_cure_path *path;
  const rw_flow *flow;
  double allowed; /* error per second */
} problem;

static double flows(const problem *q, double time)
{
  double a, T, mu;
  if (rw_cure_at(q->path, time, &a, NULL, &T, NULL) != RW_OK ||
      rw_viscosity(q->flow, a, T, &mu, NULL) != RW_OK)
    return NAN;
  return 1 / mu;
}

static double gauss(const problem *q, double from, double to)
{
  double sum = 0, weight;
  for (int i = 0; i < RW_NUM_GAUSS5; i++) {
    double place = rw_num_gauss5(i, &weight);
    sum += weight * flows(q, from + (to - from) * place);
  }
  return (to - from) * sum;
}

/* Halves an interval until both halves together agree with the whole. */
static double refine(const problem *q, double from, double to, double whole, int depth)
{
  double mid = from + 0.5 * (to - from);
  double left = gauss(q, from, mid), right = gauss(q, mid, to);
  double both = left + right;
  if (depth >= DEEPEST || !(fabs(both - whole) > q->allowed * (to - from)))
    return both;
  return refine(q, from, mid, left, depth + 1) + refine(q, mid, to, right, depth + 1);
}

/* The end of the smooth piece that begins at `t`: the next kink, or the next sixteenth. */
static double piece_end(const double *kink, size_t n, size_t *next, double t, double from,
                        double to)
{
  while (*next < n && kink[*next] <= t)
    ++*next;
  double share = (to - from) / SHARES, end = to;
  double step = from + (floor((t - from) / share + 1e-9) + 1) * share;
  if (step < to - 0.5 * share)
    end = step;
  return *next < n ? fmin(end, kink[*next]) : end;
}

static double over_pieces(const problem *q, const rw_history *h, double from, double to, int fine)
{
  const double *kink = NULL;
  size_t n = h != NULL ? rw_history_points(h, &kink, NULL, NULL) : 0, next = 0;
  double sum = 0, t = from;
  while (t < to) {
    double end = piece_end(kink, n, &next, t, from, to);
    double whole = gauss(q, t, end);
    sum += fine ? refine(q, t, end, whole, 0) : whole;
    t = end;
  }
  return sum;
}

static rw_status check_span(double from, double to, double first, double last, rw_error *err)
{
  static const char HINT[] = "Run the cure further, or ask within the time it was followed.";
  if (!(from >= first && from < last))
    return rw_error_set(err, RW_ERR_COVERAGE, FUNCTION, "from", HINT,
                        "from: the cure was not followed at that time");
  if (!(to == HUGE_VAL || to <= last))
    return rw_error_set(err, RW_ERR_COVERAGE, FUNCTION, "to", HINT,
                        "to: the cure was not followed that far");
  if (to > from)
    return RW_OK;
  return rw_error_range(err, FUNCTION, "to", to, from, last, "s",
                        "The end must come after the beginning.");
}

rw_status rw_cure_fluidity(const rw_cure_path *p, const rw_flow *flow, const rw_history *h,
                           double from, double to, double tolerance, double *fluidity,
                           rw_error *err)
{
  double first, last, gel;
  rw_cure_path_span(p, &first, &last);
  double unused;
  rw_status status = rw_viscosity(flow, 0, 298.15, &unused, err);
  if (status == RW_OK)
    status = check_span(from, to, first, last, err);
  if (status != RW_OK)
    return status;
  if (!(tolerance >= 1e-12 && tolerance <= 1e-2))
    return rw_error_range(err, FUNCTION, "tolerance", tolerance, 1e-12, 1e-2, "", NULL);
  status = rw_cure_when(p, flow->a_gel, &gel, err);
  if (status < 0)
    return status;
  double end = fmin(to, last);
  if (status == RW_OK)
    end = fmin(end, gel);
  else if (to < HUGE_VAL)
    status = RW_OK;
  if (end <= from) {
    *fluidity = 0;
    return status;
  }
  problem q = {p, flow, 0};
  q.allowed = tolerance * over_pieces(&q, h, from, end, 0) / (end - from);
  double sum = over_pieces(&q, h, from, end, 1);
  if (!isfinite(sum))
    return rw_error_set(err, RW_ERR_NUMERIC, FUNCTION, NULL, NULL,
                        "the flow of the resin could not be summed up");
  *fluidity = sum;
  return status;
}
