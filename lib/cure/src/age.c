/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <resinwright/cure.h>

#include <math.h>

static const double MOST_RISE = 4; /* K on one piece */

/* 5-point Gauss over a straight piece from T0 to T1 of length `span`. */
static double piece_age(double E, double T_ref, double T0, double T1, double span)
{
  static const double x[] = {0.0, 0.53846931010568309104, 0.90617984593866399280};
  static const double w[] = {0.56888888888888888889, 0.47862867049936646804,
                             0.23692688505618908751};
  int parts = (int)ceil(fabs(T1 - T0) / MOST_RISE);
  if (parts < 1)
    parts = 1;
  double sum = 0;
  for (int i = 0; i < parts; i++)
    for (int j = -2; j <= 2; j++) {
      double place = (i + 0.5 + 0.5 * (j < 0 ? -x[-j] : x[j])) / parts;
      double T = T0 + (T1 - T0) * place;
      sum += w[j < 0 ? -j : j] * exp(-E / RW_GAS_CONSTANT * (1 / T - 1 / T_ref));
    }
  return sum * span / (2 * parts);
}

rw_status rw_equivalent_age(double E, double T_ref, const rw_history *h, double from, double to,
                            double *age, rw_error *err)
{
  if (!(E >= 0 && E <= 300e3))
    return rw_error_range(err, "rw_equivalent_age", "E", E, 0, 300e3, "J/mol", NULL);
  if (!(T_ref >= 200 && T_ref <= 500))
    return rw_error_range(err, "rw_equivalent_age", "T_ref", T_ref, 200, 500, "K", NULL);
  rw_status status = rw_history_extremes(h, from, to, NULL, NULL, err);
  if (status != RW_OK)
    return status;
  const double *time, *temperature;
  size_t n = rw_history_points(h, &time, &temperature, NULL);
  double sum = 0;
  for (size_t i = 0; i + 1 < n; i++) {
    double t0 = fmax(time[i], from), t1 = fmin(time[i + 1], to);
    if (t1 <= t0)
      continue;
    double slope = (temperature[i + 1] - temperature[i]) / (time[i + 1] - time[i]);
    double T0 = temperature[i] + slope * (t0 - time[i]);
    double T1 = temperature[i] + slope * (t1 - time[i]);
    sum += piece_age(E, T_ref, T0, T1, t1 - t0);
  }
  *age = sum;
  return RW_OK;
}
