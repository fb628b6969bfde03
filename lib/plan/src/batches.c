/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <resinwright/plan.h>

#include <resinwright/num.h>

#include <math.h>
#include <string.h>

static const char FUNCTION[] = "rw_plan_batches";
static const double LEAST = 0.02, DAY = 86400;

static rw_status check_bounds(const char *argument, double value, double low, double high,
                              const char *unit, const char *hint, rw_error *err)
{
  if (value >= low && value <= high)
    return RW_OK;
  return rw_error_range(err, FUNCTION, argument, value, low, high, unit, hint);
}

static rw_status check(const rw_wetout *w, size_t room, rw_error *err)
{
  rw_status status = rw_resin_check(w->resin, err);
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
    status = check_bounds("room", (double)room, 1, 200, "", NULL, err);
  return status;
}

/* Working time of a batch in its vessel: too thick or too hot. */
static rw_status pot_time(const rw_wetout *w, double mass, double shop, double *time,
                          rw_error *err)
{
  rw_pot pot;
  double start = isnan(w->chilled) ? shop : w->chilled;
  rw_status status = rw_pot_run(w->resin, &w->vessel, mass, start, shop, &pot, err);
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

/* The largest batch that is spread within the planned share of its working time: a larger one
 * takes longer to spread and thickens sooner, so halving finds it. */
static rw_status largest(const rw_wetout *w, double shop, double most, double *mass, rw_error *err)
{
  double film, pot;
  rw_status status = film_time(w, shop, &film, err);
  double low = 0, high = most;
  double trial = most;
  for (int i = 0; status >= 0 && i < 40; i++) {
    status = pot_time(w, trial, shop, &pot, err);
    if (status < 0)
      break;
    if (spreading(w, trial) <= w->share * fmin(pot, film)) {
      low = trial;
      if (trial == most)
        break;
    } else {
      high = trial;
    }
    trial = 0.5 * (low + high);
    if (high - low < 1e-3 || high < LEAST)
      break;
  }
  *mass = low;
  return status;
}

/* Spreading time and working time both spread lognormally. */
static double chance_lost(const rw_wetout *w, double spread, double pot)
{
  double rate = w->rate.sd / w->rate.value;
  double sd = sqrt(log(1 + rate * rate) + w->resin->rate_sd * w->resin->rate_sd);
  return sd > 0 ? rw_num_normal_cdf(log(spread / pot) / sd) : spread > pot;
}

static rw_status one_batch(const rw_wetout *w, double time, double done, rw_batch *b,
                           rw_error *err)
{
  double shop, pot;
  rw_status status = rw_history_temperature(w->hull, time, &shop, err);
  if (status < 0)
    return status;
  double left = (w->area - done) * w->resin_per_area;
  double mass;
  status = largest(w, shop, fmin(fmin(left, w->most), 50), &mass, err);
  if (status < 0)
    return status;
  if (mass < fmin(LEAST, left) * 0.999)
    return rw_error_set(
        err, RW_NO_SOLUTION, FUNCTION, "resin",
        "Take a slower hardener, a cooler hour, a tray, chilled resin or a helper.",
        "not even 20 g can be spread before it thickens");
  status = pot_time(w, fmax(mass, 1e-3), shop, &pot, err);
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

/* Equal batches waste less nerve than full ones and a last small one: where the shop is steady
 * enough, the same count at equal mass. */
static size_t count_batches(const rw_wetout *w, double mass)
{
  return (size_t)ceil(w->area * w->resin_per_area / mass - 1e-6);
}

rw_status rw_plan_batches(const rw_wetout *w, rw_batch *batch, size_t room, size_t *n,
                          rw_error *err)
{
  rw_status status = check(w, room, err);
  if (status < 0)
    return status;
  rw_batch plan[200];
  rw_wetout even = *w;
  double time = w->start, done = 0;
  size_t count = 0;
  while (w->area - done > 1e-6 * w->area) {
    if (count == room)
      return rw_error_set(err, RW_NO_SOLUTION, FUNCTION, "room",
                          "Take a slower hardener, a cooler hour, a tray, chilled resin or a "
                          "helper.",
                          "more than %zu batches would be needed", room);
    status = one_batch(&even, time, done, &plan[count], err);
    if (status != RW_OK)
      return status;
    if (count == 0) {
      size_t whole = count_batches(w, plan[0].mass);
      even.most = w->area * w->resin_per_area / (double)whole;
      if (even.most < plan[0].mass) {
        status = one_batch(&even, time, done, &plan[0], err);
        if (status != RW_OK)
          return status;
      }
    }
    time = plan[count].spread;
    done = plan[count].to;
    count++;
  }
  memcpy(batch, plan, count * sizeof *batch);
  *n = count;
  return RW_OK;
}
