/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Questions of the clock: the whole skin's window, and the hour to start. */
#include <resinwright/plan.h>

#include <math.h>

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
  return out->close <= out->open && out->open < HUGE_VAL ? RW_NO_SOLUTION : status;
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

/* Least height of the hull above the dew point, looked at every ten minutes; NaN where the
 * humidity is not known throughout. */
static rw_status least_margin_over(const rw_history *air, const rw_history *hull, double from,
                                   double to, double *margin, rw_error *err)
{
  double least = HUGE_VAL;
  for (double t = from; t <= to; t += 600) {
    double T, humidity, surface, dew;
    rw_status status = rw_history_temperature(air, t, &T, err);
    if (status == RW_OK)
      status = rw_history_humidity(air, t, &humidity, err);
    if (status == RW_OK)
      status = rw_history_temperature(hull, t, &surface, err);
    if (status == RW_OK && isnan(humidity)) {
      *margin = NAN;
      return RW_OK;
    }
    if (status == RW_OK)
      status = rw_air_dew_point(T, fmax(humidity, 0.01), &dew, err);
    if (status < 0)
      return status;
    least = fmin(least, surface - dew);
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
  rw_status status = rw_cure_forecast(r, hull, laid, end, 0, 0, 0, &f, err);
  if (status < 0)
    return status;
  s->gel = f.time[RW_GEL];
  s->safe = f.time[RW_BLUSH_PAST];
  if (!(s->gel < HUGE_VAL))
    return RW_OK;
  double until = fmin(s->safe, end);
  status = greatest_rise(hull, s->time, s->gel, &s->rise, err);
  if (status == RW_OK)
    status = least_margin_over(air, hull, s->time, until, &s->margin, err);
  if (status == RW_OK)
    status = rw_history_extremes(hull, s->time, until, &s->coldest, NULL, err);
  return status;
}

/* How far an hour is beyond the limits; an hour that does not gel in the forecast comes last. */
static double excess(const rw_start *s, double most_rise, double least_margin)
{
  if (isnan(s->rise))
    return HUGE_VAL;
  double dew = isnan(s->margin) ? 0 : fmax(least_margin - s->margin, 0);
  return fmax(s->rise - most_rise, 0) + dew;
}

rw_status rw_plan_start(const rw_resin *r, const rw_history *air, const rw_history *hull,
                        double from, double step, size_t n, double duration, double most_rise,
                        double least_margin, rw_start *out, size_t *best, rw_error *err)
{
  const char *function = "rw_plan_start";
  if (!(n >= 1 && n <= 500))
    return rw_error_range(err, function, "n", (double)n, 1, 500, "", NULL);
  if (!(step >= 60))
    return rw_error_range(err, function, "step", step, 60, HUGE_VAL, "s", NULL);
  if (!(duration >= 0 && duration <= 86400))
    return rw_error_range(err, function, "duration", duration, 0, 86400, "s", NULL);
  if (!(most_rise >= 0))
    return rw_error_range(err, function, "most_rise", most_rise, 0, HUGE_VAL, "K", NULL);
  double end, hull_end;
  rw_history_span(air, NULL, &end);
  rw_history_span(hull, NULL, &hull_end);
  end = fmin(end, hull_end);
  size_t least_bad = 0;
  for (size_t i = 0; i < n; i++) {
    out[i] = (rw_start){.time = from + (double)i * step};
    rw_status status = look(r, air, hull, duration, end, &out[i], err);
    if (status < 0)
      return status;
    double e = excess(&out[i], most_rise, least_margin);
    out[i].fine = e == 0;
    if (e < excess(&out[least_bad], most_rise, least_margin))
      least_bad = i;
  }
  *best = least_bad;
  return out[least_bad].fine ? RW_OK : RW_NO_SOLUTION;
}
