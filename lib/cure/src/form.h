/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one shape in which the engine sees every rate law:
 *   da/dt = (k1 + k2 a^m)(1-a)^n (limit-a)^p d, or with a stiffening k_chem k_diff/(k_chem +
 *   k_diff) in place of the sum. */
#ifndef RW_CURE_FORM_H
#define RW_CURE_FORM_H

#include <resinwright/cure.h>

typedef struct form {
  double k1, c1; /* 1/s at T_ref; E/R, K */
  double k2, c2;
  double m, n;
  double limit, p; /* p = 0: no such factor */
  double T_ref;
  double C, ac0, acT;
  const rw_stiffening *stiff; /* NULL: none */
} form;

/* A law's forms: the second one holds from a = split on, where there is one. */
typedef struct forms {
  form stage[2];
  double split; /* 2: one form only */
  double top;   /* highest degree of cure */
} forms;

/* The law must have been checked and must outlive the forms. */
void forms_of(const rw_cure_law *law, forms *out);

double form_constant(double k, double c, double T, double T_ref);
/* Rate, 1/s, for 0 <= a <= top; never negative. */
double form_rate(const form *f, double a, double T);
/* 1 where a negative k2 has brought the sum of the constants to nothing. */
int form_stalled(const form *f, double a, double T);
/* Diffusion factor of Chern & Poehlein. */
double form_diffusion(const form *f, double a, double T);
/* Glass transition, (5), without checks. */
static inline double glass_at(const rw_glass *g, double a)
{
  return g->Tg0 + (g->Tg_inf - g->Tg0) * g->lambda * a / (1 - (1 - g->lambda) * a);
}
/* Constant of diffusion, (24), 1/s. */
double form_stiffness(const rw_stiffening *s, double a, double T);
/* How fast a rate can grow with the temperature alone, 1/K: a bound of d ln rate/dT. */
double form_steepness(const form *f, double T);
/* 1 where a^m is a plain polynomial of a or does not occur. */
int form_is_smooth(const form *f);
/* Power of the distance to the top: below one the top is reached in a finite time. */
double form_order_at_top(const form *f);
/* Greatest rate at a temperature, to a few per cent. */
double form_greatest(const form *f, double T);

#endif
