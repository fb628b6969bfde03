/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rate.h"

#include <math.h>

static const double FLOOR = 1e-4;
static const double MOST_POWER = 0.99; /* as rw_cure_run has it */

rw_status heat_law_make(const char *function, const rw_cure_law *law, double a, heat_law *out,
                        rw_error *err)
{
  *out = (heat_law){.law = law, .share = 1};
  if (heat_rate(out, 0, law->T_ref) > 0)
    return RW_OK;
  out->floor = FLOOR;
  double m = law->kind == RW_LAW_TWO_STAGE ? 1 : law->m;
  out->share = fmax(1 - m, 0);
  if (a > 0) /* on its way already */
    out->floor = 0;
  if (a > 0 || m <= MOST_POWER)
    return RW_OK;
  return rw_error_set(err, RW_ERR_ARGUMENT, function, "start",
                      "Give a degree of cure above zero to begin with, or a law with k1 above 0.",
                      "with k1 = 0 and m above 0.99 the cure never starts from zero, or hardly");
}

double heat_rate(const heat_law *law, double a, double T)
{
  double rate = NAN, at = fmin(fmax(a, law->floor), 1);
  rw_status status = rw_cure_rate(law->law, at, fmin(fmax(T, 200), HEAT_HOTTEST), &rate, NULL);
  if (!(status >= 0 && isfinite(a) && isfinite(T)))
    return NAN;
  return a < law->floor ? law->share * rate : rate;
}

void heat_rate_slopes(const heat_law *law, double a, double T, double rate, double *by_a,
                      double *by_T)
{
  const double warmer = 1e-3;
  double aside = fmin(fmax(a, 0), 1), way = 1e-6 * fmax(1e-3, fmin(aside, 1 - aside));
  if (aside > 0.5)
    way = -way;
  *by_a = aside < law->floor ? 0 : (heat_rate(law, aside + way, T) - rate) / way;
  *by_T = (heat_rate(law, a, T + warmer) - rate) / warmer;
}

#define G SDIRK_DIAGONAL
const double sdirk_time[SDIRK_STAGES] = {1.0 / 4, 3.0 / 4, 11.0 / 20, 1.0 / 2, 1};
const double sdirk_weight[SDIRK_STAGES][SDIRK_STAGES] = {
    {G, 0, 0, 0, 0},
    {1.0 / 2, G, 0, 0, 0},
    {17.0 / 50, -1.0 / 25, G, 0, 0},
    {371.0 / 1360, -137.0 / 2720, 15.0 / 544, G, 0},
    {25.0 / 24, -49.0 / 48, 125.0 / 16, -85.0 / 12, G}};
const double sdirk_error[SDIRK_STAGES] = {25.0 / 24 - 59.0 / 48, -49.0 / 48 + 17.0 / 96,
                                          125.0 / 16 - 225.0 / 32, 0, G};

double sdirk_next(double h, double error)
{
  const double safety = 0.9, least = 0.2, most = 4;
  double factor = error > 0 ? safety * pow(error, -0.25) : most;
  return h * fmin(fmax(factor, least), most);
}

double heat_hermite(double y0, double slope0, double y1, double slope1, double h, double share)
{
  double rest = 1 - share;
  return y0 * rest * rest * (1 + 2 * share) + y1 * share * share * (3 - 2 * share) +
         h * share * rest * (slope0 * rest - slope1 * share);
}
