/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "march.h"
#include "resin.h"

#include <resinwright/num.h>

#include <math.h>
#include <stdlib.h>

static const char FUNCTION[] = "rw_cure_forecast";

/* What is drawn. */
enum { RATE, ENERGY, TEMPERATURE, TOUCH, UNKNOWNS };

const char *rw_forecast_because(int because)
{
  static const char *const names[UNKNOWNS] = {
      [RATE] = "how fast this resin really is",
      [ENERGY] = "how much the cold slows it",
      [TEMPERATURE] = "the hull's temperature",
      [TOUCH] = "where the hand draws the line",
  };
  return because >= 0 && because < UNKNOWNS ? names[because] : "";
}

/* Times of all milestones along one walk; HUGE_VAL where not reached. Without `reached` the walk
 * ends at the last milestone. */
static rw_status follow(const rw_resin *r, const rw_history *hull, double from, double to,
                        double shift, double time[RW_MILESTONES], double *reached, rw_error *err)
{
  march m;
  series_step step;
  rw_status status = march_start(&m, FUNCTION, &r->law, hull, from, to, 0, 1e-6, err);
  if (status != RW_OK)
    return status;
  m.shift = shift;
  for (int i = 0; i < RW_MILESTONES; i++)
    time[i] = HUGE_VAL;
  int more = 0, left = RW_MILESTONES;
  while ((left > 0 || reached != NULL) && (more = march_next(&m, &step)) > 0) {
    for (int i = 0; i < RW_MILESTONES; i++) {
      if (time[i] < HUGE_VAL)
        continue;
      double tau = 2;
      if (i == RW_WORK_END)
        tau = resin_crossing(r, &step, CROSS_THICK);
      else if (m.a >= r->threshold[i].value)
        tau = step_when(&step, r->threshold[i].value);
      if (tau > 1)
        continue;
      time[i] = m.origin + step.t + tau * step.h;
      left--;
    }
  }
  if (more < 0)
    return rw_error_set(err, RW_ERR_NUMERIC, FUNCTION, NULL, NULL,
                        "the cure could not be followed to the end");
  if (reached != NULL)
    *reached = m.a;
  return RW_OK;
}

/* The resin as one draw has it. Thresholds move together on the logit scale, so that they keep
 * their order and stay between 0 and 1. */
static rw_resin drawn(const rw_resin *r, const double z[UNKNOWNS])
{
  rw_resin d = *r;
  double rate = exp(z[RATE] * r->rate_sd);
  d.law.k1 *= rate;
  d.law.k2 *= rate;
  d.law.E1 = fmax(d.law.E1 + z[ENERGY] * r->energy_sd, 10e3);
  d.law.E2 = fmax(d.law.E2 + z[ENERGY] * r->energy_sd, 10e3);
  d.work_viscosity *= exp(z[TOUCH] * r->threshold[RW_WORK_END].sd);
  for (int i = 0; i < RW_MILESTONES; i++) {
    double a = r->threshold[i].value;
    if (i == RW_WORK_END || !(a > 0 && a < 1))
      continue;
    double logit = log(a / (1 - a)) + z[TOUCH] * r->threshold[i].sd / (a * (1 - a));
    d.threshold[i].value = 1 / (1 + exp(-logit));
  }
  return d;
}

/* Which unknown goes most closely with a milestone's time; ranks of infinity are left out. */
static int largest(const double *z, const double *time, size_t n)
{
  double best = 0;
  int because = RATE;
  for (int k = 0; k < UNKNOWNS; k++) {
    double sz = 0, st = 0, szz = 0, szt = 0, stt = 0, count = 0;
    for (size_t i = 0; i < n; i++) {
      double t = time[i];
      if (!(t < HUGE_VAL))
        continue;
      t -= time[0] < HUGE_VAL ? time[0] : 0;
      double x = z[i * UNKNOWNS + (size_t)k];
      sz += x;
      st += t;
      szz += x * x;
      szt += x * t;
      stt += t * t;
      count++;
    }
    double cov = szt * count - sz * st;
    double share = cov * cov / ((szz * count - sz * sz) * (stt * count - st * st));
    if (share > best) {
      best = share;
      because = k;
    }
  }
  return because;
}

static rw_status intervals(const rw_resin *r, const rw_history *hull, double from, double to,
                           double temperature_sd, size_t n, rw_draws *draws, double *z,
                           double *times, rw_forecast *f, rw_error *err)
{
  for (size_t i = 0; i < n; i++) {
    double time[RW_MILESTONES];
    rw_draws_next(draws, z + i * UNKNOWNS);
    rw_resin d = drawn(r, z + i * UNKNOWNS);
    double shift = z[i * UNKNOWNS + TEMPERATURE] * temperature_sd;
    rw_status status = follow(&d, hull, from, to, shift, time, NULL, err);
    if (status != RW_OK)
      return status;
    for (size_t m = 0; m < RW_MILESTONES; m++)
      times[m * n + i] = time[m];
  }
  for (size_t m = 0; m < RW_MILESTONES; m++) {
    f->because[m] = largest(z, times + m * n, n);
    rw_num_sort(times + m * n, n);
    f->low[m] = rw_num_quantile(times + m * n, n, 0.05);
    f->high[m] = rw_num_quantile(times + m * n, n, 0.95);
  }
  return RW_OK;
}

static rw_status with_draws(const rw_resin *r, const rw_history *hull, double from, double to,
                            double temperature_sd, size_t n, unsigned long seed, rw_forecast *f,
                            rw_error *err)
{
  rw_draws *draws = NULL;
  rw_status status = rw_draws_create(UNKNOWNS, seed, &draws, err);
  if (status != RW_OK)
    return status;
  double *z = malloc(n * UNKNOWNS * sizeof *z);
  double *times = malloc(n * RW_MILESTONES * sizeof *times);
  if (z == NULL || times == NULL)
    status = rw_error_set(err, RW_ERR_MEMORY, FUNCTION, NULL, NULL, "not enough memory for draws");
  else
    status = intervals(r, hull, from, to, temperature_sd, n, draws, z, times, f, err);
  free(z);
  free(times);
  rw_draws_destroy(draws);
  return status;
}

static rw_status check(const rw_resin *r, double temperature_sd, size_t draws, rw_error *err)
{
  rw_status status = rw_resin_check(r, err);
  if (status < 0)
    return status;
  if (!(temperature_sd >= 0 && temperature_sd <= 20))
    return rw_error_range(err, FUNCTION, "temperature_sd", temperature_sd, 0, 20, "K", NULL);
  if (draws > 100000)
    return rw_error_range(err, FUNCTION, "draws", (double)draws, 0, 100000, "", NULL);
  return status;
}

rw_status rw_cure_chances(const rw_resin *r, const rw_history *hull, double from, double at,
                          double temperature_sd, size_t draws, unsigned long seed,
                          double chance[RW_MILESTONES], rw_error *err)
{
  rw_status checked = check(r, temperature_sd, draws, err);
  if (checked < 0)
    return checked;
  if (draws < 1)
    return rw_error_range(err, "rw_cure_chances", "draws", 0, 1, 100000, "", NULL);
  rw_draws *stream = NULL;
  rw_status status = rw_draws_create(UNKNOWNS, seed, &stream, err);
  size_t reached[RW_MILESTONES] = {0};
  for (size_t i = 0; status == RW_OK && i < draws; i++) {
    double z[UNKNOWNS], time[RW_MILESTONES];
    rw_draws_next(stream, z);
    rw_resin d = drawn(r, z);
    status = follow(&d, hull, from, at, z[TEMPERATURE] * temperature_sd, time, NULL, err);
    for (int m = 0; status == RW_OK && m < RW_MILESTONES; m++)
      reached[m] += time[m] <= at;
  }
  rw_draws_destroy(stream);
  if (status != RW_OK)
    return status;
  for (int m = 0; m < RW_MILESTONES; m++)
    chance[m] = (double)reached[m] / (double)draws;
  return checked;
}

rw_status rw_cure_forecast(const rw_resin *r, const rw_history *hull, double from, double to,
                           double temperature_sd, size_t draws, unsigned long seed,
                           rw_forecast *out, rw_error *err)
{
  rw_status checked = check(r, temperature_sd, draws, err);
  if (checked < 0)
    return checked;
  rw_forecast f = {0};
  rw_status status = follow(r, hull, from, to, 0, f.time, &f.reached, err);
  if (status != RW_OK)
    return status;
  for (int m = 0; m < RW_MILESTONES; m++)
    f.low[m] = f.high[m] = f.time[m];
  if (draws > 0)
    status = with_draws(r, hull, from, to, temperature_sd, draws, seed, &f, err);
  if (status != RW_OK)
    return status;
  *out = f;
  return checked;
}
