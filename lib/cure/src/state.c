/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Functions of the state alone: glass transition, viscosity, gel, stoichiometry. */
#include "form.h"

#include <math.h>

static const char SHARE_HINT[] = "A degree of cure is a share: 0 is liquid, 1 fully cured.";

static rw_status check_glass(const char *function, const rw_glass *g, rw_error *err)
{
  if (!(g->Tg0 >= 100 && g->Tg0 <= 500))
    return rw_error_range(err, function, "Tg0", g->Tg0, 100, 500, "K", NULL);
  if (!(g->Tg_inf > g->Tg0 && g->Tg_inf <= 700))
    return rw_error_range(err, function, "Tg_inf", g->Tg_inf, g->Tg0, 700, "K",
                          "The cured resin's glass transition lies above the uncured one's.");
  if (!(g->lambda > 0 && g->lambda <= 1))
    return rw_error_range(err, function, "lambda", g->lambda, 0, 1, "", NULL);
  return RW_OK;
}

rw_status rw_glass_temperature(const rw_glass *g, double a, double *Tg, rw_error *err)
{
  rw_status status = check_glass("rw_glass_temperature", g, err);
  if (status != RW_OK)
    return status;
  if (!(a >= 0 && a <= 1))
    return rw_error_range(err, "rw_glass_temperature", "a", a, 0, 1, "", SHARE_HINT);
  *Tg = glass_at(g, a);
  return RW_OK;
}

rw_status rw_glass_conversion(const rw_glass *g, double Tg, double *a, rw_error *err)
{
  rw_status status = check_glass("rw_glass_conversion", g, err);
  if (status != RW_OK)
    return status;
  if (!(Tg >= g->Tg0 && Tg <= g->Tg_inf))
    return rw_error_range(err, "rw_glass_conversion", "Tg", Tg, g->Tg0, g->Tg_inf, "K", NULL);
  double x = (Tg - g->Tg0) / (g->Tg_inf - g->Tg0);
  *a = x / (g->lambda + (1 - g->lambda) * x);
  return RW_OK;
}

static rw_status check_flow(const char *function, const rw_flow *f, rw_error *err)
{
  if (!(f->mu > 0 && f->mu <= 1e6))
    return rw_error_range(err, function, "mu", f->mu, 0, 1e6, "Pa s", NULL);
  if (!(f->a_gel > 0 && f->a_gel <= 1))
    return rw_error_range(err, function, "a_gel", f->a_gel, 0, 1, "", NULL);
  if (!(f->C1 >= 0 && f->C1 <= 50))
    return rw_error_range(err, function, "C1", f->C1, 0, 50, "", NULL);
  if (!(f->C1 + f->C2 * f->a_gel >= 0 && f->C2 <= 50))
    return rw_error_range(err, function, "C2", f->C2, -f->C1 / f->a_gel, 50, "",
                          "The viscosity must not fall as the resin nears its gel.");
  /* Nothing, or what a liquid has: a thousand times less is a slip of kJ. */
  if (!(f->E == 0 || (f->E >= 1e3 && f->E <= 200e3)))
    return rw_error_range(err, function, "E", f->E, 1e3, 200e3, "J/mol",
                          "Liquid epoxies lie near 50 kJ/mol; is it given in kJ?");
  if (!(f->T_ref >= 200 && f->T_ref <= 500))
    return rw_error_range(err, function, "T_ref", f->T_ref, 200, 500, "K", NULL);
  return RW_OK;
}

rw_status rw_viscosity(const rw_flow *f, double a, double T, double *mu, rw_error *err)
{
  const char *function = "rw_viscosity";
  if (!(a >= 0 && a <= 1))
    return rw_error_range(err, function, "a", a, 0, 1, "", SHARE_HINT);
  if (!(T >= 200 && T <= 500))
    return rw_error_range(err, function, "T", T, 200, 500, "K", NULL);
  rw_status status = check_flow(function, f, err);
  if (status != RW_OK)
    return status;
  if (a >= f->a_gel) {
    *mu = HUGE_VAL;
    return RW_OK;
  }
  double warm = exp(f->E / RW_GAS_CONSTANT * (1 / T - 1 / f->T_ref));
  *mu = f->mu * warm * pow(f->a_gel / (f->a_gel - a), f->C1 + f->C2 * a);
  return RW_OK;
}

rw_status rw_gel_conversion(double r, double fe, double fa, double *gel, rw_error *err)
{
  const char *function = "rw_gel_conversion";
  if (!(r > 0 && isfinite(r)))
    return rw_error_range(err, function, "r", r, 0, HUGE_VAL, "",
                          "Give amine hydrogens per epoxide group: 1 is the right ratio.");
  if (!(fe >= 2 && fe <= 10))
    return rw_error_range(err, function, "fe", fe, 2, 10, "", NULL);
  if (!(fa >= 2 && fa <= 10))
    return rw_error_range(err, function, "fa", fa, 2, 10, "", NULL);
  double least = fmin(r, 1 / r);
  double conversion = 1 / sqrt((fe - 1) * (fa - 1) * least);
  if (conversion > 1)
    return RW_NOT_REACHED;
  *gel = conversion;
  return RW_OK;
}

rw_status rw_hardener_needed(double eew, double ahew, double *ratio, rw_error *err)
{
  const char *function = "rw_hardener_needed";
  if (!(eew >= 0.05 && eew <= 5))
    return rw_error_range(err, function, "eew", eew, 0.05, 5, "kg/mol",
                          "A liquid epoxy has about 0.19 kg (190 g) per mole of epoxide.");
  if (!(ahew >= 0.005 && ahew <= 2))
    return rw_error_range(err, function, "ahew", ahew, 0.005, 2, "kg/mol", NULL);
  *ratio = ahew / eew;
  return RW_OK;
}

const char *rw_milestone_key(rw_milestone m)
{
  switch (m) {
#define RW_X(name, key, text)                                                                     \
  case name:                                                                                      \
    return key;
    RW_MILESTONE_LIST(RW_X)
#undef RW_X
  case RW_MILESTONES:
    break;
  }
  return NULL;
}

const char *rw_milestone_text(rw_milestone m)
{
  switch (m) {
#define RW_X(name, key, text)                                                                     \
  case name:                                                                                      \
    return text;
    RW_MILESTONE_LIST(RW_X)
#undef RW_X
  case RW_MILESTONES:
    break;
  }
  return NULL;
}
