/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "refuse.h"

#include <resinwright/num.h>
#include <resinwright/plan.h>

#include <math.h>
#include <string.h>

enum { MOST_BATCHES = 200 };

static const char FUNCTION[] = "rw_plan_batches";
static const char HELP[] = "Take a slower hardener, a cooler hour, a tray, chilled resin or a "
                           "helper.";
static const double LEAST = 0.02, MOST = 50; /* kg in a batch */
static const double DAY = 86400;

static rw_status check_bounds(const char *argument, double value, double low, double high,
                              const char *unit, const char *hint, rw_error *err)
{
  if (value >= low && value <= high)
    return RW_OK;
  return rw_error_range(err, FUNCTION, argument, value, low, high, unit, hint);
}

static rw_status check(const rw_wetout *w, size_t room, rw_error *err)
{
  rw_status resin = rw_resin_check(w->resin, err), status = resin;
  if (status >= 0)
    status = check_bounds("area", w->area, 1e-3, 1e3, "m2", NULL, err);
  if (status == RW_OK)
    status = check_bounds("resin_per_area", w->resin_per_area, 0.01, 10, "kg/m2", NULL, err);
  if (status == RW_OK)
    status = check_bounds("rate", w->rate.value, 1e-6, 1, "m2/s",
                          "One pair of hands wets out about 0.02 to 0.05 m2/min.", err);
  if (status == RW_OK)
    status = check_bounds("rate", w->rate.sd, 0, w->rate.value, "m2/s", NULL, err);
  if (status == RW_OK)
    status = check_bounds("mixing", w->mixing, 0, 3600, "s", NULL, err);
  if (status == RW_OK)
    status = check_bounds("share", w->share, 0.2, 1, "", NULL, err);
  if (status == RW_OK)
    status = check_bounds("most", w->most, LEAST, HUGE_VAL, "kg", NULL, err);
  if (status == RW_OK && !isnan(w->chilled))
    status = check_bounds("chilled", w->chilled, 268.15, 333.15, "K", NULL, err);
  if (status == RW_OK)
    status = check_bounds("room", (double)room, 1, MOST_BATCHES, "", NULL, err);
  return status == RW_OK ? resin : status;
}

/* Working time of a batch in its vessel: too thick or too hot. A gram behaves like less. */
static rw_status pot_time(const rw_wetout *w, double mass, double shop, double *time,
                          rw_error *err)
{
  rw_pot pot;
  double start = isnan(w->chilled) ? shop : w->chilled;
  rw_status status = rw_pot_run(w->resin, &w->vessel, fmax(mass, 1e-3), start, shop, &pot, err);
  if (status >= 0)
    *time = fmin(fmin(pot.work_end, pot.hot), DAY);
  return status;
}

/* Working time of a film at a steady temperature. */
static rw_status film_time(const rw_wetout *w, double shop, double *time, rw_error *err)
{
  double t[2] = {0, DAY}, T[2] = {shop, shop};
  rw_history *steady = NULL;
  rw_forecast f;
  rw_status status = rw_history_create(t, T, NULL, 2, &steady, err);
  if (status < 0)
    return status;
  status = rw_cure_forecast(w->resin, steady, 0, DAY, 0, 0, 0, &f, err);
  rw_history_destroy(steady);
  if (status >= 0)
    *time = fmin(f.time[RW_WORK_END], DAY);
  return status;
}

static double spreading(const rw_wetout *w, double mass)
{
  return w->mixing + mass / (w->resin_per_area * w->rate.value);
}

/* The largest batch at a shop temperature; the next one is likely mixed in the same shop. */
typedef struct limit {
  double shop;
  double mass;
} limit;

/* A larger batch takes longer to spread and thickens sooner, so halving finds the largest that is
 * spread within the planned share of its working time. */
static rw_status find_limit(const rw_wetout *w, double shop, limit *most, rw_error *err)
{
  if (shop == most->shop)
    return RW_OK;
  double film, pot;
  rw_status status = film_time(w, shop, &film, err);
  if (status < 0)
    return status;
  double spread_in_time = (w->share * film - w->mixing) * w->resin_per_area * w->rate.value;
  double low = 0, high = fmin(fmin(w->most, MOST), spread_in_time), trial = high;
  while (high - low > fmax(1e-4, 1e-3 * high)) {
    status = pot_time(w, trial, shop, &pot, err);
    if (status < 0)
      return status;
    if (spreading(w, trial) <= w->share * pot)
      low = trial;
    else
      high = trial;
    trial = 0.5 * (low + high);
  }
  *most = (limit){shop, low};
  return RW_OK;
}

/* Spreading time and working time both spread lognormally. */
static double chance_lost(const rw_wetout *w, double spread, double pot)
{
  double rate = w->rate.sd / w->rate.value;
  double sd = sqrt(log(1 + rate * rate) + w->resin->rate_sd * w->resin->rate_sd);
  return sd > 0 ? rw_num_normal_cdf(log(spread / pot) / sd) : spread > pot;
}

/* The next batch. Equal batches waste less nerve than full ones and a last small one: as many as
 * the rest of the skin would take of the largest now, at equal mass. */
static rw_status one_batch(const rw_wetout *w, double time, double done, limit *most, rw_batch *b,
                           rw_error *err)
{
  double shop, pot;
  rw_status status = rw_history_temperature(w->hull, time, &shop, err);
  if (status == RW_OK)
    status = find_limit(w, shop, most, err);
  if (status < 0)
    return status;
  double left = (w->area - done) * w->resin_per_area, mass = fmin(most->mass, left);
  if (mass < fmin(LEAST, left) * 0.999)
    return plan_no_choice(FUNCTION, "resin", "not even 20 g can be spread before it thickens",
                          HELP, err);
  mass = left / ceil(left / mass - 1e-6);
  status = pot_time(w, mass, shop, &pot, err);
  if (status < 0)
    return status;
  double spread = spreading(w, mass);
  *b = (rw_batch){.mass = mass,
                  .mixed = time,
                  .spread = time + spread,
                  .latest = time + pot,
                  .from = done,
                  .to = done + mass / w->resin_per_area,
                  .temperature = shop,
                  .lost = chance_lost(w, spread, pot)};
  return RW_OK;
}

rw_status rw_plan_batches(const rw_wetout *w, rw_batch *batch, size_t room, size_t *n,
                          rw_error *err)
{
  rw_status checked = check(w, room, err);
  if (checked < 0)
    return checked;
  rw_batch plan[MOST_BATCHES];
  limit most = {NAN, 0};
  double time = w->start, done = 0;
  size_t count = 0;
  while (w->area - done > 1e-9 * w->area) {
    if (count == room)
      return rw_error_set(err, RW_NO_SOLUTION, FUNCTION, "room", HELP,
                          "more than %zu batches would be needed", room);
    rw_status status = one_batch(w, time, done, &most, &plan[count], err);
    if (status != RW_OK)
      return status;
    time = plan[count].spread;
    done = plan[count].to;
    count++;
  }
  memcpy(batch, plan, count * sizeof *batch);
  *n = count;
  return checked;
}
