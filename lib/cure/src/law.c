/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "form.h"

#include <math.h>

static const double LEAST_ENERGY = 10e3, MOST_ENERGY = 300e3; /* J/mol */

static rw_status check_energy(const char *argument, double E, rw_error *err)
{
  if (!(E >= LEAST_ENERGY && E <= MOST_ENERGY))
    return rw_error_range(err, "rw_cure_law_check", argument, E, LEAST_ENERGY, MOST_ENERGY,
                          "J/mol",
                          "Amine-cured epoxies lie near 55 kJ/mol; is it given in kcal or kJ?");
  if (E >= 30e3 && E <= 200e3)
    return RW_OK;
  return rw_error_set(err, RW_OUTSIDE_TESTED, "rw_cure_law_check", argument, NULL,
                      "an activation energy outside 30 to 200 kJ/mol has not been tested");
}

static rw_status check_bounds(const char *argument, double value, double low, double high,
                              const char *unit, rw_error *err)
{
  if (value >= low && value <= high)
    return RW_OK;
  return rw_error_range(err, "rw_cure_law_check", argument, value, low, high, unit, NULL);
}

/* The members a kind uses, by name, with what they may be. */
typedef struct bound {
  const char *name;
  double value, low, high;
  const char *unit;
  unsigned kinds; /* a bit for each kind that uses it */
} bound;

enum {
  NTH = 1 << RW_LAW_NTH_ORDER,
  KAMAL = 1 << RW_LAW_KAMAL,
  PLATEAU = 1 << RW_LAW_PLATEAU,
  SESTAK = 1 << RW_LAW_SESTAK_BERGGREN,
  TWO = 1 << RW_LAW_TWO_STAGE,
  ALL = NTH | KAMAL | PLATEAU | SESTAK | TWO
};

static rw_status check_members(const rw_cure_law *law, rw_error *err)
{
  const rw_stiffening *s = &law->stiffening;
  unsigned kind = 1U << law->kind, stiff = s->k == 0 ? 0 : ALL;
  const bound bounds[] = {
      {"k1", law->k1, 0, 1e12, "1/s", ALL},
      {"n", law->n, 0.2, 4, "", ALL & ~(unsigned)TWO},
      {"T_ref", law->T_ref, 200, 500, "K", ALL},
      {"C", law->C, 0, 200, "", ALL},
      {"ac0", law->ac0, -1e3, 1e3, "", ALL},
      {"acT", law->acT, -1, 1, "1/K", ALL},
      {"k2", law->k2, 0, 1e12, "1/s", KAMAL | PLATEAU},
      {"k2", law->k2, -1e12, 1e12, "1/s", TWO},
      {"m", law->m, 0, 4, "", KAMAL | PLATEAU | SESTAK},
      {"limit", law->limit, 0.05, 5, "", PLATEAU | TWO},
      {"k3", law->k3, 0, 1e12, "1/s", TWO},
      {"split", law->split, 0, fmin(law->limit, 1), "", TWO},
      {"stiffening.k", s->k, 0, 1e12, "1/s", ALL},
      {"stiffening.c1", s->c1, 0, 100, "", stiff},
      {"stiffening.c2", s->c2, 5, 500, "K apart", stiff},
  };
  for (size_t i = 0; i < sizeof bounds / sizeof *bounds; i++) {
    const bound *b = &bounds[i];
    rw_status status =
        b->kinds & kind ? check_bounds(b->name, b->value, b->low, b->high, b->unit, err) : RW_OK;
    if (status != RW_OK)
      return status;
  }
  double unused;
  return stiff ? rw_glass_temperature(&s->glass, 0, &unused, err) : RW_OK;
}

static rw_status no_rate(const char *argument, rw_error *err)
{
  return rw_error_set(err, RW_ERR_ARGUMENT, "rw_cure_law_check", argument,
                      "Give a rate constant above zero.", "the rate law has no rate");
}

rw_status rw_cure_law_check(const rw_cure_law *law, rw_error *err)
{
  if ((unsigned)law->kind > RW_LAW_TWO_STAGE)
    return rw_error_set(err, RW_ERR_ARGUMENT, "rw_cure_law_check", "kind", NULL,
                        "the kind of rate law is not known");
  rw_status status = check_members(law, err);
  if (status != RW_OK)
    return status;
  int second = law->kind != RW_LAW_NTH_ORDER && law->kind != RW_LAW_SESTAK_BERGGREN;
  if (law->k1 == 0 && (!second || law->k2 <= 0))
    return no_rate("k1", err);
  if (law->kind == RW_LAW_TWO_STAGE && law->k3 == 0)
    return no_rate("k3", err);
  status = check_energy("E1", law->E1, err);
  if (status >= 0 && second)
    status = rw_status_graver(status, check_energy("E2", law->E2, err));
  if (status >= 0 && law->kind == RW_LAW_TWO_STAGE)
    status = rw_status_graver(status, check_energy("E3", law->E3, err));
  return status;
}

static double allowed_energy(double E)
{
  return fmin(fmax(E, LEAST_ENERGY), MOST_ENERGY);
}

rw_cure_law rw_cure_law_moved(const rw_cure_law *law, double log_rate, double dE)
{
  rw_cure_law l = *law;
  double factor = exp(log_rate);
  l.k1 *= factor;
  l.k2 *= factor;
  l.k3 *= factor;
  l.E1 = allowed_energy(l.E1 + dE);
  l.E2 = allowed_energy(l.E2 + dE);
  l.E3 = allowed_energy(l.E3 + dE);
  return l;
}

double rw_cure_law_top(const rw_cure_law *law)
{
  forms f;
  forms_of(law, &f);
  return f.top;
}

rw_status rw_cure_law_off_ratio(const rw_cure_law *law, double r, rw_cure_law *out, rw_error *err)
{
  rw_status status = rw_cure_law_check(law, err);
  if (status < 0)
    return status;
  if (law->kind != RW_LAW_KAMAL && law->kind != RW_LAW_NTH_ORDER)
    return rw_error_set(err, RW_ERR_ARGUMENT, "rw_cure_law_off_ratio", "law",
                        "Give the n-th order or Kamal law of the right mix.",
                        "the ratio of this kind of law cannot be changed");
  if (!(r >= 0.05 && r <= 5))
    return rw_error_range(err, "rw_cure_law_off_ratio", "r", r, 0.05, 5, "",
                          "1 is the right ratio; 0.5 is half the hardener that is needed.");
  rw_cure_law l = *law;
  if (law->kind == RW_LAW_NTH_ORDER) {
    l.k2 = 0;
    l.E2 = l.E1;
    l.m = 1;
  }
  l.kind = RW_LAW_PLATEAU;
  l.limit = r;
  *out = l;
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
  forms f;
  forms_of(law, &f);
  *rate = form_rate(&f.stage[a >= f.split], a, T);
  return status;
}
