/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "series.h"

#include <math.h>

static rw_status check_energy(const char *argument, double E, rw_error *err)
{
  if (!(E >= 10e3 && E <= 300e3))
    return rw_error_range(err, "rw_cure_law_check", argument, E, 10e3, 300e3, "J/mol",
                          "Amine-cured epoxies lie near 55 kJ/mol; is it given in kcal or kJ?");
  return E >= 30e3 && E <= 200e3 ? RW_OK : RW_OUTSIDE_TESTED;
}

static rw_status check_bounds(const char *argument, double value, double low, double high,
                              const char *unit, rw_error *err)
{
  if (value >= low && value <= high)
    return RW_OK;
  return rw_error_range(err, "rw_cure_law_check", argument, value, low, high, unit, NULL);
}

static rw_status worse(rw_status a, rw_status b)
{
  if (a < 0 || b < 0)
    return a < 0 ? a : b;
  return a > b ? a : b;
}

rw_status rw_cure_law_check(const rw_cure_law *law, rw_error *err)
{
  const struct {
    const char *name;
    double value, low, high;
    const char *unit;
  } bounds[] = {
      {"k1", law->k1, 0, 1e12, "1/s"},      {"n", law->n, 0.2, 4, ""},
      {"T_ref", law->T_ref, 200, 500, "K"}, {"C", law->C, 0, 200, ""},
      {"ac0", law->ac0, -1e3, 1e3, ""},     {"acT", law->acT, -1, 1, "1/K"},
      {"k2", law->k2, 0, 1e12, "1/s"},      {"m", law->m, 0, 4, ""},
  };
  int kamal = law->kind == RW_LAW_KAMAL;
  if (!kamal && law->kind != RW_LAW_NTH_ORDER)
    return rw_error_set(err, RW_ERR_ARGUMENT, "rw_cure_law_check", "kind", NULL,
                        "the kind of rate law is not known");
  size_t n = sizeof bounds / sizeof *bounds - (kamal ? 0 : 2);
  for (size_t i = 0; i < n; i++) {
    rw_status status = check_bounds(bounds[i].name, bounds[i].value, bounds[i].low, bounds[i].high,
                                    bounds[i].unit, err);
    if (status != RW_OK)
      return status;
  }
  if (law->k1 == 0 && (!kamal || law->k2 == 0))
    return rw_error_set(err, RW_ERR_ARGUMENT, "rw_cure_law_check", "k1",
                        "Give a rate constant above zero.", "the rate law has no rate");
  rw_status status = law->k1 > 0 || kamal ? check_energy("E1", law->E1, err) : RW_OK;
  if (status >= 0 && kamal)
    status = worse(status, check_energy("E2", law->E2, err));
  return status;
}

double rw_rate_at(double A, double E, double T_ref)
{
  return A * exp(-E / (RW_GAS_CONSTANT * T_ref));
}

double rw_rate_factor(double k, double E, double T_ref)
{
  return k * exp(E / (RW_GAS_CONSTANT * T_ref));
}

rw_status rw_cure_rate(const rw_cure_law *law, double a, double T, double *rate, rw_error *err)
{
  rw_status status = rw_cure_law_check(law, err);
  if (status < 0)
    return status;
  if (!(a >= 0 && a <= 1))
    return rw_error_range(err, "rw_cure_rate", "a", a, 0, 1, "",
                          "A degree of cure is a share: 0 is liquid, 1 fully cured.");
  if (!(T >= 200 && T <= 500))
    return rw_error_range(err, "rw_cure_rate", "T", T, 200, 500, "K", NULL);
  double k = law_constant(law->k1, law->E1, T, law->T_ref);
  if (law->kind == RW_LAW_KAMAL)
    k += law_constant(law->k2, law->E2, T, law->T_ref) * pow(a, law->m);
  *rate = k * pow(1 - a, law->n) * law_diffusion(law, a, T);
  return status;
}
