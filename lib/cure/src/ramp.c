/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is read off a cure under a steady heating. */
#include "even.h"

#include <math.h>

static const double PEAK_WIDTH = 1e-5; /* K */
enum { PARTS = 400, PLACES = 2 * PARTS + 1 };

static rw_status run(const char *function, const rw_cure_law *law, const rw_ramp *ramp,
                     even_cure *out, rw_error *err)
{
  rw_status status =
      even_bounds(function, "from", ramp->from, EVEN_COLDEST, EVEN_WARMEST, "K", err);
  if (status == RW_OK)
    status = even_bounds(function, "to", ramp->to, ramp->from, EVEN_WARMEST, "K", err);
  if (status == RW_OK && !(ramp->to > ramp->from))
    status = rw_error_set(err, RW_ERR_RANGE, function, "to", "End warmer than it begins.",
                          "the heating ends at the temperature it begins with");
  if (status == RW_OK)
    status = even_bounds(function, "heating", ramp->heating, 1e-9, 1e3, "K/s", err);
  if (status != RW_OK)
    return status;
  return even_run(law, ramp->from, ramp->heating, (ramp->to - ramp->from) / ramp->heating,
                  ramp->start, out, err);
}

rw_status rw_ramp_states(const rw_resin *r, const rw_ramp *ramp, const double *T, size_t n,
                         rw_cure_state *state, rw_error *err)
{
  const char *function = "rw_ramp_states";
  even_cure c;
  rw_status status = rw_resin_check(r, err);
  if (status >= 0)
    status = rw_status_graver(run(function, &r->law, ramp, &c, err), status);
  if (status < 0)
    return status;
  for (size_t i = 0; i < n; i++)
    if (!(T[i] >= ramp->from && T[i] <= ramp->to)) {
      rw_cure_path_destroy(c.path);
      return even_bounds(function, "T", T[i], ramp->from, ramp->to, "K", err);
    }
  for (size_t i = 0; i < n; i++)
    state[i] = even_state(r, &c, (T[i] - ramp->from) / ramp->heating, T[i]);
  rw_cure_path_destroy(c.path);
  return status;
}

typedef struct heating {
  const rw_cure_law *law;
  const rw_ramp *ramp;
  const even_cure *cure;
} heating;

static double temperature_of(double time, const heating *h)
{
  return fmin(h->ramp->from + h->ramp->heating * time, h->ramp->to);
}

static double rate_of(double time, const void *context)
{
  const heating *h = context;
  return even_rate(h->law, even_at(h->cure, time), temperature_of(time, h));
}

/* Places in their order: evenly spread over the time, and as many over the degree of cure. */
static void spread(const heating *h, double time[PLACES])
{
  int by_time = 0, by_cure = 0;
  double start = h->ramp->start, span = h->cure->end, next = 0;
  for (int i = 0; i < PLACES; i++) {
    double even = span * by_time / PARTS;
    if (by_time <= PARTS && (by_cure == PARTS || even <= next)) {
      time[i] = even;
      by_time++;
    } else {
      time[i] = next;
      by_cure++;
    }
    double cure = start + (h->cure->top - start) * (by_cure + 0.5) / PARTS;
    next = fmin(even_when(h->cure, cure), span);
  }
}

/* Time of the greatest rate; an end of the span where there is no peak. */
static double peak_time(const heating *h)
{
  double time[PLACES];
  spread(h, time);
  int best = 0;
  double greatest = rate_of(time[0], h);
  for (int i = 1; i < PLACES; i++) {
    double rate = rate_of(time[i], h);
    if (rate > greatest) {
      greatest = rate;
      best = i;
    }
  }
  return even_summit(rate_of, h, time[best > 0 ? best - 1 : 0],
                     time[best + 1 < PLACES ? best + 1 : best], PEAK_WIDTH / h->ramp->heating);
}

rw_status rw_ramp_find(const rw_cure_law *law, const rw_ramp *ramp, rw_rate_peak *peak,
                       rw_error *err)
{
  even_cure c;
  rw_status status = run("rw_ramp_find", law, ramp, &c, err);
  if (status < 0)
    return status;
  heating h = {law, ramp, &c};
  double time = peak_time(&h);
  int seen = time > 0 && time < c.end;
  if (seen)
    *peak = (rw_rate_peak){rate_of(time, &h), even_at(&c, time), time, temperature_of(time, &h)};
  rw_cure_path_destroy(c.path);
  return seen ? status : RW_NOT_REACHED;
}
