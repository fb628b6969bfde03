/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Questions of the clock: the whole skin's window, and the hour to start. */
#include "refuse.h"

#include <resinwright/plan.h>

#include <math.h>
#include <string.h>

enum { MOST_HOURS = 500 };

static const double LOOK = 600; /* s between looks at the dew point */

rw_status rw_plan_window(const rw_resin *r, const rw_history *hull, double first, double last,
                         double to, double temperature_sd, size_t draws, unsigned long seed,
                         rw_window *out, rw_error *err)
{
  if (!(last >= first))
    return rw_error_range(err, "rw_plan_window", "last", last, first, HUGE_VAL, "s",
                          "The last section is laid after the first.");
  rw_forecast early, late;
  rw_status status =
      rw_cure_forecast(r, hull, first, to, temperature_sd, draws, seed, &early, err);
  if (status >= 0)
    status = rw_cure_forecast(r, hull, last, to, temperature_sd, draws, seed, &late, err);
  if (status < 0)
    return status;
  *out = (rw_window){.open = late.time[RW_RECOAT_OPENS],
                     .open_low = late.low[RW_RECOAT_OPENS],
                     .open_high = late.high[RW_RECOAT_OPENS],
                     .close = early.time[RW_RECOAT_CLOSES],
                     .close_low = early.low[RW_RECOAT_CLOSES],
                     .close_high = early.high[RW_RECOAT_CLOSES],
                     .because_open = late.because[RW_RECOAT_OPENS],
                     .because_close = early.because[RW_RECOAT_CLOSES]};
  if (!(out->close < HUGE_VAL && out->close <= out->open))
    return status;
  return plan_no_choice("rw_plan_window", "last",
                        "the section laid first is hard before the one laid last is firm",
                        "Split the job, take a slower hardener or keep the shop more even; else "
                        "let it harden and sand everywhere.",
                        err);
}

rw_status rw_plan_window_chance(const rw_resin *r, const rw_history *hull, double first,
                                double last, double at, double temperature_sd, size_t draws,
                                unsigned long seed, double *chance, rw_error *err)
{
  if (!(last >= first))
    return rw_error_range(err, "rw_plan_window_chance", "last", last, first, HUGE_VAL, "s", NULL);
  double early[RW_MILESTONES], late[RW_MILESTONES];
  rw_status status = rw_cure_chances(r, hull, first, at, temperature_sd, draws, seed, early, err);
  if (status >= 0)
    status = rw_cure_chances(r, hull, last, at, temperature_sd, draws, seed, late, err);
  if (status < 0)
    return status;
  *chance = fmax(late[RW_RECOAT_OPENS] - early[RW_RECOAT_CLOSES], 0);
  return status;
}

/* Most that a history rises between any two moments in order. */
static rw_status greatest_rise(const rw_history *h, double from, double to, double *rise,
                               rw_error *err)
{
  double T0, T1;
  rw_status status = rw_history_temperature(h, from, &T0, err);
  if (status == RW_OK)
    status = rw_history_temperature(h, to, &T1, err);
  if (status != RW_OK)
    return status;
  const double *time, *temperature;
  size_t n = rw_history_points(h, &time, &temperature, NULL);
  double lowest = T0, most = 0;
  for (size_t i = 0; i < n; i++) {
    if (time[i] <= from || time[i] >= to)
      continue;
    lowest = fmin(lowest, temperature[i]);
    most = fmax(most, temperature[i] - lowest);
  }
  *rise = fmax(most, T1 - lowest);
  return RW_OK;
}

/* Height of the hull above the dew point; NaN where the humidity is not known. */
static rw_status margin_at(const rw_history *air, const rw_history *hull, double t, double *margin,
                           rw_error *err)
{
  double T, humidity, surface, dew;
  rw_status status = rw_history_temperature(air, t, &T, err);
  if (status == RW_OK)
    status = rw_history_humidity(air, t, &humidity, err);
  if (status == RW_OK)
    status = rw_history_temperature(hull, t, &surface, err);
  if (status != RW_OK)
    return status;
  *margin = NAN;
  if (isnan(humidity))
    return RW_OK;
  status = rw_air_dew_point(T, fmax(humidity, 0.01), &dew, err);
  if (status < 0)
    return status;
  *margin = surface - dew;
  return RW_OK;
}

/* Least of it, looked at every ten minutes and at the end; NaN where the humidity is not known
 * throughout. */
static rw_status least_margin_over(const rw_history *air, const rw_history *hull, double from,
                                   double to, double *margin, rw_error *err)
{
  double least = HUGE_VAL;
  size_t looks = (size_t)ceil((to - from) / LOOK);
  for (size_t i = 0; i <= looks && !isnan(least); i++) {
    double here = NAN;
    rw_status status = margin_at(air, hull, fmin(from + (double)i * LOOK, to), &here, err);
    if (status < 0)
      return status;
    least = here < least || isnan(here) ? here : least;
  }
  *margin = least;
  return RW_OK;
}

static rw_status look(const rw_resin *r, const rw_history *air, const rw_history *hull,
                      double duration, double end, rw_start *s, rw_error *err)
{
  rw_forecast f;
  s->gel = s->safe = HUGE_VAL;
  s->rise = s->margin = s->coldest = NAN;
  double laid = s->time + duration;
  if (laid >= end)
    return RW_OK;
  rw_status forecast = rw_cure_forecast(r, hull, laid, end, 0, 0, 0, &f, err);
  if (forecast < 0)
    return forecast;
  s->gel = f.time[RW_GEL];
  s->safe = f.time[RW_BLUSH_PAST];
  if (!(s->gel < HUGE_VAL))
    return forecast;
  double until = fmin(s->safe, end);
  rw_status status = greatest_rise(hull, s->time, s->gel, &s->rise, err);
  if (status == RW_OK)
    status = least_margin_over(air, hull, s->time, until, &s->margin, err);
  if (status == RW_OK)
    status = rw_history_extremes(hull, s->time, until, &s->coldest, NULL, err);
  return status < 0 ? status : forecast;
}

/* How far an hour is beyond the limits; an hour that does not gel in the forecast comes last. */
static double excess(const rw_start *s, double most_rise, double least_margin)
{
  if (isnan(s->rise))
    return HUGE_VAL;
  double dew = isnan(s->margin) ? 0 : fmax(least_margin - s->margin, 0);
  return fmax(s->rise - most_rise, 0) + dew;
}

static rw_status check_start(double step, size_t n, double duration, double most_rise,
                             double least_margin, rw_error *err)
{
  const char *function = "rw_plan_start";
  if (!(n >= 1 && n <= MOST_HOURS))
    return rw_error_range(err, function, "n", (double)n, 1, MOST_HOURS, "", NULL);
  if (!(step >= 60 && step <= 10 * 86400))
    return rw_error_range(err, function, "step", step, 60, 10 * 86400, "s", NULL);
  if (!(duration >= 0 && duration <= 86400))
    return rw_error_range(err, function, "duration", duration, 0, 86400, "s",
                          "Say how long the wet-out takes from the first batch to the last.");
  if (!(most_rise >= 0 && most_rise <= 50))
    return rw_error_range(err, function, "most_rise", most_rise, 0, 50, "K apart", NULL);
  if (!(least_margin >= 0 && least_margin <= 50))
    return rw_error_range(err, function, "least_margin", least_margin, 0, 50, "K apart", NULL);
  return RW_OK;
}

rw_status rw_plan_start(const rw_resin *r, const rw_history *air, const rw_history *hull,
                        double from, double step, size_t n, double duration, double most_rise,
                        double least_margin, rw_start *out, size_t *best, rw_error *err)
{
  rw_status result = check_start(step, n, duration, most_rise, least_margin, err);
  if (result != RW_OK)
    return result;
  double end, hull_end;
  rw_history_span(air, NULL, &end);
  rw_history_span(hull, NULL, &hull_end);
  end = fmin(end, hull_end);
  rw_start hour[MOST_HOURS];
  size_t least_bad = 0;
  for (size_t i = 0; i < n; i++) {
    hour[i] = (rw_start){.time = from + (double)i * step};
    rw_status status = look(r, air, hull, duration, end, &hour[i], err);
    if (status < 0)
      return status;
    if (status > 0)
      result = status;
    double e = excess(&hour[i], most_rise, least_margin);
    hour[i].fine = e == 0;
    if (e < excess(&hour[least_bad], most_rise, least_margin))
      least_bad = i;
  }
  memcpy(out, hour, n * sizeof *out);
  *best = least_bad;
  if (out[least_bad].fine)
    return result;
  return plan_no_choice("rw_plan_start", "from", "none of the hours tried meets every limit",
                        "Try other days, a faster hardener, warmth through the night, or a seal "
                        "coat first.",
                        err);
}
