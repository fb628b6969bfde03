/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "form.h"

#include <math.h>

static form common(const rw_cure_law *law)
{
  return (form){.k1 = law->k1,
                .c1 = law->E1 / RW_GAS_CONSTANT,
                .m = 1,
                .n = law->n,
                .limit = 2,
                .T_ref = law->T_ref,
                .C = law->C,
                .ac0 = law->ac0,
                .acT = law->acT,
                .stiff = law->stiffening.k > 0 ? &law->stiffening : NULL};
}

void forms_of(const rw_cure_law *law, forms *out)
{
  form f = common(law);
  *out = (forms){.split = 2, .top = 1};
  if (law->kind != RW_LAW_NTH_ORDER) {
    f.k2 = law->k2;
    f.c2 = law->E2 / RW_GAS_CONSTANT;
    f.m = law->m;
  }
  switch (law->kind) {
  case RW_LAW_NTH_ORDER:
  case RW_LAW_KAMAL:
    break;
  case RW_LAW_SESTAK_BERGGREN:
    f.k2 = f.k1;
    f.c2 = f.c1;
    f.k1 = 0;
    break;
  case RW_LAW_PLATEAU:
    f.n = law->n / 2;
    f.p = law->n / 2;
    f.limit = law->limit;
    out->top = fmin(1, law->limit);
    break;
  case RW_LAW_TWO_STAGE:
    f.m = f.n = f.p = 1;
    f.limit = law->limit;
    out->split = law->split;
    out->stage[1] = common(law);
    out->stage[1].k1 = law->k3;
    out->stage[1].c1 = law->E3 / RW_GAS_CONSTANT;
    out->stage[1].n = 1;
    break;
  }
  out->stage[0] = f;
}

double form_constant(double k, double c, double T, double T_ref)
{
  return k * exp(-c * (1 / T - 1 / T_ref));
}

int form_stalled(const form *f, double a, double T)
{
  if (!(f->k2 < 0))
    return 0;
  double k1 = form_constant(f->k1, f->c1, T, f->T_ref);
  return k1 + form_constant(f->k2, f->c2, T, f->T_ref) * pow(a, f->m) <= 1e-9 * k1;
}

double form_diffusion(const form *f, double a, double T)
{
  return f->C > 0 ? 1 / (1 + exp(fmin(f->C * (a - f->ac0 - f->acT * (T - f->T_ref)), 600))) : 1;
}

double form_stiffness(const rw_stiffening *s, double a, double T)
{
  double Tg = glass_at(&s->glass, a);
  return s->k * exp(s->c1 * (T - Tg) / (s->c2 + fabs(T - Tg)));
}

double form_rate(const form *f, double a, double T)
{
  double k = f->k1 > 0 ? form_constant(f->k1, f->c1, T, f->T_ref) : 0;
  if (f->k2 != 0)
    k += form_constant(f->k2, f->c2, T, f->T_ref) * pow(a, f->m);
  if (!(k > 0))
    return 0;
  if (f->stiff != NULL) {
    double kd = form_stiffness(f->stiff, a, T);
    k = k / (1 + k / kd);
  }
  double rate = k * pow(fmax(1 - a, 0), f->n) * form_diffusion(f, a, T);
  return f->p > 0 ? rate * pow(fmax(f->limit - a, 0), f->p) : rate;
}

double form_steepness(const form *f, double T)
{
  double value = fmax(f->c1, f->c2) / (T * T) + f->C * fabs(f->acT);
  return f->stiff == NULL ? value : value + f->stiff->c1 / f->stiff->c2;
}

int form_is_smooth(const form *f)
{
  return f->k2 == 0 || f->m == 0 || f->m == 1 || f->m == 2;
}

double form_order_at_top(const form *f)
{
  if (f->p == 0 || f->limit > 1)
    return f->n;
  return f->limit < 1 ? f->p : f->n + f->p;
}

double form_greatest(const form *f, double T)
{
  enum { PLACES = 10 };
  double top = f->p > 0 ? fmin(f->limit, 1) : 1, most = 0;
  for (int i = 0; i < PLACES; i++)
    most = fmax(most, form_rate(f, top * i / PLACES, T));
  return most;
}
