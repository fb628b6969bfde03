/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "run_rate.h"

#include <math.h>

/* Below this the logarithm of what is gone or left is not looked at. */
static const double NOTHING = 1e-300;

int run_law_has(const rw_cure_law *law, rw_fit_parameter q)
{
  int two = law->kind == RW_LAW_TWO_STAGE;
  int second = law->kind != RW_LAW_NTH_ORDER && law->kind != RW_LAW_SESTAK_BERGGREN;
  switch (q) {
  case RW_FIT_K1:
  case RW_FIT_E1:
    return law->k1 > 0;
  case RW_FIT_K2:
  case RW_FIT_E2:
    return second && (two || law->k2 > 0);
  case RW_FIT_K3:
  case RW_FIT_E3:
    return two;
  case RW_FIT_M:
    return !two && law->kind != RW_LAW_NTH_ORDER &&
           (law->kind == RW_LAW_SESTAK_BERGGREN || law->k2 > 0);
  case RW_FIT_N:
    return !two;
  case RW_FIT_LIMIT:
    return two || law->kind == RW_LAW_PLATEAU;
  case RW_FIT_C:
  case RW_FIT_AC0:
  case RW_FIT_ACT:
    return law->C > 0;
  case RW_FIT_STIFFENING:
    return law->stiffening.k > 0;
  case RW_FIT_PARAMETERS:
    break;
  }
  return 0;
}

/* (1/T - 1/T_ref)/R, mol/J */
static double coldness(const rw_cure_law *law, double T)
{
  return (1 / T - 1 / law->T_ref) / RW_GAS_CONSTANT;
}

static void constants(run_law *l, double T)
{
  const rw_cure_law *law = l->law;
  double u = coldness(law, T);
  int second = law->kind != RW_LAW_NTH_ORDER && law->kind != RW_LAW_SESTAK_BERGGREN;
  l->T = T;
  l->k1 = law->k1 * exp(-law->E1 * u);
  l->grow2 = second ? exp(-law->E2 * u) : 0;
  l->k2 = second ? law->k2 * l->grow2 : 0;
  l->k3 = law->kind == RW_LAW_TWO_STAGE ? law->k3 * exp(-law->E3 * u) : 0;
}

/* The chemical constant k1 + k2 a^m or its like. */
static double chemistry(const run_law *l, double a, int stage, run_rate *out)
{
  const rw_cure_law *law = l->law;
  double u = coldness(law, l->T), warm = 1 / (RW_GAS_CONSTANT * l->T * l->T);
  if (stage == 1) {
    out->d[RW_FIT_K3] = 1;
    out->d[RW_FIT_E3] = -u;
    out->T = law->E3 * warm;
    return l->k3;
  }
  double gone = log(fmax(a, NOTHING)), m = law->m, power = 1;
  if (law->kind == RW_LAW_TWO_STAGE)
    power = a;
  else if (law->kind != RW_LAW_NTH_ORDER && m != 0)
    power = m == 1 ? a : exp(m * gone);
  if (law->kind == RW_LAW_SESTAK_BERGGREN || law->kind == RW_LAW_NTH_ORDER) {
    out->d[RW_FIT_K1] = 1;
    out->d[RW_FIT_E1] = -u;
    out->d[RW_FIT_M] = law->kind == RW_LAW_NTH_ORDER ? 0 : gone;
    out->T = law->E1 * warm;
    return law->kind == RW_LAW_NTH_ORDER ? l->k1 : l->k1 * power;
  }
  double k = l->k1 + l->k2 * power;
  if (!(k > 0))
    return 0;
  double first = l->k1 / k, second = l->k2 * power / k;
  out->d[RW_FIT_K1] = first;
  out->d[RW_FIT_E1] = -first * u;
  out->d[RW_FIT_K2] = law->kind == RW_LAW_TWO_STAGE ? l->grow2 * power / k : second;
  out->d[RW_FIT_E2] = -second * u;
  out->d[RW_FIT_M] = law->kind == RW_LAW_TWO_STAGE ? 0 : second * gone;
  out->T = (first * law->E1 + second * law->E2) * warm;
  return k;
}

/* The constant of diffusion in series with that of chemistry. */
static double stiffen(const rw_stiffening *s, double a, double T, double k, run_rate *out)
{
  double Tg = s->glass.Tg0;
  rw_glass_temperature(&s->glass, a, &Tg, NULL);
  double x = T - Tg, below = s->c2 + fabs(x), kd = s->k * exp(s->c1 * x / below);
  out->log_kd = s->c1 * x / below;
  double share = 1 / (1 + k / kd); /* of chemistry in what moves the rate */
  for (int i = 0; i < RW_FIT_PARAMETERS; i++)
    out->d[i] *= share;
  out->d[RW_FIT_STIFFENING] = 1 - share;
  out->T = share * out->T + (1 - share) * s->c1 * s->c2 / (below * below);
  return k * share;
}

static double diffuse(const rw_cure_law *law, double a, double T, run_rate *out)
{
  double past = a - law->ac0 - law->acT * (T - law->T_ref), z = law->C * past;
  double slowed = 1 / (1 + exp(-fmax(fmin(z, 600), -600)));
  out->d[RW_FIT_C] = -slowed * past;
  out->d[RW_FIT_AC0] = slowed * law->C;
  out->d[RW_FIT_ACT] = slowed * law->C * (T - law->T_ref);
  out->T += slowed * law->C * law->acT;
  return 1 / (1 + exp(fmin(z, 600)));
}

/* Logarithm of what is left to react, to its power. */
static double rest(const rw_cure_law *law, double a, int stage, run_rate *out)
{
  double left = fmax(1 - a, 0), log_left = log(fmax(left, NOTHING));
  double open = 0, log_open = 0;
  if (law->kind == RW_LAW_PLATEAU || law->kind == RW_LAW_TWO_STAGE) {
    open = fmax(law->limit - a, 0);
    log_open = log(fmax(open, NOTHING));
  }
  switch (law->kind) {
  case RW_LAW_PLATEAU:
    out->d[RW_FIT_N] = (log_left + log_open) / 2;
    out->d[RW_FIT_LIMIT] = law->n / (2 * fmax(open, NOTHING));
    return left > 0 && open > 0 ? law->n * out->d[RW_FIT_N] : -HUGE_VAL;
  case RW_LAW_TWO_STAGE:
    if (stage == 1)
      return left > 0 ? log_left : -HUGE_VAL;
    out->d[RW_FIT_LIMIT] = 1 / fmax(open, NOTHING);
    return left > 0 && open > 0 ? log_left + log_open : -HUGE_VAL;
  case RW_LAW_NTH_ORDER:
  case RW_LAW_KAMAL:
  case RW_LAW_SESTAK_BERGGREN:
    break;
  }
  out->d[RW_FIT_N] = log_left;
  return left > 0 ? law->n * log_left : -HUGE_VAL;
}

void run_rate_at(run_law *l, double a, double T, int stage, run_rate *out)
{
  const rw_cure_law *law = l->law;
  *out = (run_rate){0};
  if (T != l->T)
    constants(l, T);
  double k = chemistry(l, a, stage, out);
  if (law->stiffening.k > 0 && k > 0)
    k = stiffen(&law->stiffening, a, T, k, out);
  if (law->C > 0)
    k *= diffuse(law, a, T, out);
  out->k = k;
  out->rest = rest(law, a, stage, out);
}

double run_rate_value(const run_rate *r)
{
  return r->k > 0 ? r->k * exp(r->rest) : 0;
}
