/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is read off a cure at a steady temperature. */
#include "even.h"

#include <math.h>

static const double PEAK_WIDTH = 1e-9; /* of the degree of cure */
enum { PARTS = 512 };

static rw_status check_steady(const char *function, const rw_steady *s, rw_error *err)
{
  rw_status status = even_bounds(function, "T", s->T, EVEN_COLDEST, EVEN_WARMEST, "K", err);
  return status == RW_OK ? even_span(function, s->span, err) : status;
}

/* Checks the cure and follows it. */
static rw_status run(const char *function, const rw_cure_law *law, const rw_steady *s,
                     even_cure *out, rw_error *err)
{
  rw_status status = check_steady(function, s, err);
  return status == RW_OK ? even_run(law, s->T, 0, s->span, s->start, out, err) : status;
}

rw_status rw_steady_times(const rw_cure_law *law, const rw_steady *s, const double *cure, size_t n,
                          double *time, rw_error *err)
{
  const char *function = "rw_steady_times";
  even_cure c;
  for (size_t i = 0; i < n; i++) {
    rw_status fine = even_bounds(function, "cure", cure[i], 0, 1, "", err);
    if (fine != RW_OK)
      return fine;
  }
  rw_status status = run(function, law, s, &c, err);
  if (status < 0)
    return status;
  for (size_t i = 0; i < n; i++)
    time[i] = even_when(&c, cure[i]);
  rw_cure_path_destroy(c.path);
  return status;
}

rw_status rw_steady_states(const rw_resin *r, const rw_steady *s, const double *time, size_t n,
                           rw_cure_state *state, rw_error *err)
{
  const char *function = "rw_steady_states";
  even_cure c;
  rw_status status = rw_resin_check(r, err);
  if (status < 0)
    return status;
  for (size_t i = 0; i < n; i++) {
    rw_status fine = even_bounds(function, "time", time[i], 0, s->span, "s", err);
    if (fine != RW_OK)
      return fine;
  }
  status = rw_status_graver(run(function, &r->law, s, &c, err), status);
  if (status < 0)
    return status;
  for (size_t i = 0; i < n; i++)
    state[i] = even_state(r, &c, time[i], s->T);
  rw_cure_path_destroy(c.path);
  return status;
}

typedef struct steady_law {
  const rw_cure_law *law;
  double T;
} steady_law;

static double rate_of(double cure, const void *context)
{
  const steady_law *s = context;
  return even_rate(s->law, cure, s->T);
}

/* Degree of cure from `start` to `top`, the places closer together at the beginning. */
static double place(double start, double top, int i)
{
  double share = (double)i / PARTS;
  return start + (top - start) * share * share;
}

static double peak_cure(const steady_law *s, double start, double top)
{
  int best = 0;
  double greatest = rate_of(start, s);
  for (int i = 1; i <= PARTS; i++) {
    double rate = rate_of(place(start, top, i), s);
    if (rate > greatest) {
      greatest = rate;
      best = i;
    }
  }
  return even_summit(rate_of, s, place(start, top, best > 0 ? best - 1 : 0),
                     place(start, top, best < PARTS ? best + 1 : PARTS), PEAK_WIDTH);
}

rw_status rw_steady_find(const rw_cure_law *law, const rw_steady *s, rw_steady_marks *marks,
                         rw_error *err)
{
  even_cure c;
  rw_status status = run("rw_steady_find", law, s, &c, err);
  if (status < 0)
    return status;
  double top = rw_cure_law_top(law);
  steady_law context = {law, s->T};
  double cure = s->start < top ? peak_cure(&context, s->start, top) : s->start;
  *marks = (rw_steady_marks){
      .peak = {rate_of(cure, &context), cure, even_when(&c, cure), s->T},
      .half_time = even_when(&c, 0.5 * top),
      .reached = c.top,
  };
  rw_cure_path_destroy(c.path);
  return status;
}
