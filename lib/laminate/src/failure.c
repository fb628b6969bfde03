/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "laminate_common.h"

#include <math.h>
#include <stdio.h>

rw_status rw_laminate_strength(const rw_lamina *m, const char *function, const char *prefix,
                               rw_error *err)
{
  const char *name[] = {"Xt", "Xc", "Yt", "Yc", "S"};
  const double strength[] = {m->Xt, m->Xc, m->Yt, m->Yc, m->S};
  rw_status status = RW_OK;
  for (size_t k = 0; k < 5 && m->Xt != 0 && status == RW_OK; k++) {
    char field[64];
    snprintf(field, sizeof field, "%s%s", prefix, name[k]);
    status = rw_laminate_positive(
        strength[k], function, field, "Pa",
        "strengths in compression are given above zero, too; an Xt of 0 leaves the ply out", err);
  }
  return status;
}

static rw_status check_strengths(const rw_ply *ply, size_t n, const char *function, rw_error *err)
{
  size_t known = 0;
  for (size_t i = 0; i < n; i++) {
    char prefix[32];
    snprintf(prefix, sizeof prefix, "ply[%zu].", i + 1);
    rw_status status = rw_laminate_strength(&ply[i].material, function, prefix, err);
    if (status != RW_OK)
      return status;
    known += ply[i].material.Xt != 0;
  }
  if (known == 0)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "ply",
                        "give at least one ply its strengths",
                        "no ply of the stack has a strength: every Xt is 0");
  return RW_OK;
}

rw_status rw_laminate_load(const double load[6], const char *function, rw_error *err)
{
  const char *name[] = {"load Nx", "load Ny", "load Nxy", "load Mx", "load My", "load Mxy"};
  int any = 0;
  for (size_t i = 0; i < 6; i++) {
    if (!isfinite(load[i]))
      return rw_error_range(err, function, name[i], load[i], -1e12, 1e12, i < 3 ? "N/m" : "N",
                            "loads are per metre of width");
    any = any || load[i] != 0;
  }
  if (!any)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "load", "give at least one load",
                        "the load is zero: there is nothing to multiply until it breaks");
  return RW_OK;
}

/* Beyond a strength across of twice that along, Tsai-Hill's surface is open: some stresses would
 * never break the ply. */
static rw_status check_hill(const rw_ply *ply, size_t n, const char *function, rw_error *err)
{
  for (size_t i = 0; i < n; i++) {
    const rw_lamina *m = &ply[i].material;
    double limit = 2 * fmin(m->Xt, m->Xc), across = fmax(m->Yt, m->Yc);
    if (m->Xt == 0 || across < limit)
      continue;
    char field[64];
    snprintf(field, sizeof field, "ply[%zu].%s", i + 1, m->Yt < m->Yc ? "Yc" : "Yt");
    return rw_error_range(err, function, field, across, 0, limit, "Pa",
                          "Tsai-Hill needs it below twice the strength along; take another "
                          "criterion, or see whether along and across were swapped");
  }
  return RW_OK;
}

/* Stress in ply axes: what is locked in, and what one load adds. */
typedef struct path {
  double base[3];
  double add[3];
} path;

double rw_laminate_bears(const rw_lamina *m, size_t k, double sign)
{
  switch (k) {
  case 0:
    return sign > 0 ? m->Xt : m->Xc;
  case 1:
    return sign > 0 ? m->Yt : m->Yc;
  default:
    return m->S;
  }
}

/* The largest stress-to-strength ratio and what it would break. */
static double worst_ratio(const rw_lamina *m, const double stress[3], rw_mode *mode)
{
  const rw_mode modes[] = {stress[0] > 0 ? RW_MODE_TENSION_ALONG : RW_MODE_CRUSH_ALONG,
                           stress[1] > 0 ? RW_MODE_TENSION_ACROSS : RW_MODE_CRUSH_ACROSS,
                           RW_MODE_SHEAR};
  double worst = 0;
  *mode = RW_MODE_NONE;
  for (size_t k = 0; k < 3; k++) {
    double ratio = fabs(stress[k]) / rw_laminate_bears(m, k, stress[k]);
    if (ratio > worst) {
      worst = ratio;
      *mode = modes[k];
    }
  }
  return worst;
}

/* Strains times their moduli, so that each has its strength as its limit. */
static void as_strain(const rw_lamina *m, const double stress[3], double out[3])
{
  out[0] = stress[0] - m->nu12 * stress[1];
  out[1] = stress[1] - m->nu12 * m->E2 / m->E1 * stress[0];
  out[2] = stress[2];
}

/* Each stress against its own strength: the least factor, 0 where what is locked in breaks it. */
static double linear(const rw_lamina *m, const path *p)
{
  double least = HUGE_VAL;
  for (size_t k = 0; k < 3; k++) {
    double now = p->base[k];
    if (fabs(now) >= rw_laminate_bears(m, k, now))
      return 0;
    if (p->add[k] != 0) {
      double sign = p->add[k] > 0 ? 1 : -1;
      least = fmin(least, (rw_laminate_bears(m, k, sign) - sign * now) / fabs(p->add[k]));
    }
  }
  return least;
}

/* The quadratic form s1^2 f11 + s2^2 f22 + 2 s1 s2 f12 + s12^2 f66. */
typedef struct form {
  double f11, f22, f12, f66;
} form;

static double product(const form *f, const double a[3], const double b[3])
{
  return f->f11 * a[0] * b[0] + f->f22 * a[1] * b[1] + f->f12 * (a[0] * b[1] + a[1] * b[0]) +
         f->f66 * a[2] * b[2];
}

/* The greater root of a x^2 + b x + c; HUGE_VAL where it has none or never rises. */
static double greater_root(double a, double b, double c)
{
  double inside = b * b - 4 * a * c;
  if (!(a > 0) || inside < 0)
    return HUGE_VAL;
  double root = sqrt(inside);
  return b > 0 ? -2 * c / (b + root) : (root - b) / (2 * a);
}

static double tsai_wu(const rw_lamina *m, const path *p)
{
  form f = {.f11 = 1 / (m->Xt * m->Xc), .f22 = 1 / (m->Yt * m->Yc), .f66 = 1 / (m->S * m->S)};
  f.f12 = -sqrt(f.f11 * f.f22) / 2;
  double along = 1 / m->Xt - 1 / m->Xc, across = 1 / m->Yt - 1 / m->Yc;
  double b = along * p->add[0] + across * p->add[1] + 2 * product(&f, p->base, p->add);
  double c = along * p->base[0] + across * p->base[1] + product(&f, p->base, p->base) - 1;
  return c >= 0 ? 0 : greater_root(product(&f, p->add, p->add), b, c);
}

static form hill(const rw_lamina *m, double sign_1, double sign_2)
{
  double X = rw_laminate_bears(m, 0, sign_1), Y = rw_laminate_bears(m, 1, sign_2);
  return (form){1 / (X * X), 1 / (Y * Y), -1 / (2 * X * X), 1 / (m->S * m->S)};
}

/* The strengths change where a stress changes its sign: at most twice on the way. */
static double tsai_hill(const rw_lamina *m, const path *p)
{
  form f = hill(m, p->base[0], p->base[1]);
  if (product(&f, p->base, p->base) >= 1)
    return 0;
  double turn[4] = {0, HUGE_VAL, HUGE_VAL, HUGE_VAL};
  for (size_t k = 0; k < 2; k++)
    if (p->base[k] * p->add[k] < 0)
      turn[k + 1] = -p->base[k] / p->add[k];
  if (turn[1] > turn[2]) {
    double late = turn[1];
    turn[1] = turn[2];
    turn[2] = late;
  }
  for (size_t i = 0; i < 3 && turn[i] < HUGE_VAL; i++) {
    double somewhere = turn[i + 1] < HUGE_VAL ? (turn[i] + turn[i + 1]) / 2 : turn[i] + 1;
    f = hill(m, p->base[0] + somewhere * p->add[0], p->base[1] + somewhere * p->add[1]);
    double c = product(&f, p->base, p->base) - 1;
    double root = greater_root(product(&f, p->add, p->add), 2 * product(&f, p->base, p->add), c);
    if (root <= turn[i + 1])
      return root;
  }
  return HUGE_VAL;
}

/* The load enters as parts of its worst ratio, so that no square can vanish by underflow. */
static double load_factor(const rw_lamina *m, const path *given, rw_criterion criterion,
                          rw_mode *mode)
{
  path p = *given;
  double unit = worst_ratio(m, given->add, mode), stress[3];
  for (size_t k = 0; k < 3; k++)
    p.add[k] = unit > 0 ? given->add[k] / unit : 0;
  double factor;
  if (criterion == RW_MAX_STRAIN) {
    path strained;
    as_strain(m, p.base, strained.base);
    as_strain(m, p.add, strained.add);
    factor = linear(m, &strained);
    p = strained;
  } else {
    factor = criterion == RW_TSAI_WU     ? tsai_wu(m, &p)
             : criterion == RW_TSAI_HILL ? tsai_hill(m, &p)
                                         : linear(m, &p);
  }
  if (!(factor < HUGE_VAL)) {
    *mode = RW_MODE_NONE;
    return HUGE_VAL;
  }
  for (size_t k = 0; k < 3; k++)
    stress[k] = p.base[k] + factor * p.add[k];
  worst_ratio(m, stress, mode);
  return unit > 0 ? factor / unit : factor;
}

static rw_first_failure look_at_ply(const rw_ply *ply, size_t n, size_t index,
                                    const double locked[6], const double strain[6],
                                    rw_criterion criterion)
{
  rw_first_failure least = {HUGE_VAL, index, 0, RW_MODE_NONE};
  double middle = rw_laminate_height(ply, n, index);
  for (int face = -1; face <= 1; face += 2) {
    double global[3], z = middle + face * ply[index].thickness / 2;
    path p = {{0}, {0}};
    rw_mode mode;
    if (locked != NULL)
      rw_laminate_stress(&ply[index], z, locked, global, p.base);
    rw_laminate_stress(&ply[index], z, strain, global, p.add);
    double factor = load_factor(&ply[index].material, &p, criterion, &mode);
    if (factor < least.factor)
      least = (rw_first_failure){factor, index, face, mode};
  }
  return least;
}

static rw_status check_criterion(rw_criterion criterion, const char *function, rw_error *err)
{
  if (criterion == RW_MAX_STRESS || criterion == RW_TSAI_WU || criterion == RW_MAX_STRAIN ||
      criterion == RW_TSAI_HILL)
    return RW_OK;
  return rw_error_set(err, RW_ERR_ARGUMENT, function, "criterion",
                      "take RW_MAX_STRESS, RW_MAX_STRAIN, RW_TSAI_HILL or RW_TSAI_WU",
                      "criterion %d is not known", (int)criterion);
}

rw_status rw_laminate_strengths(const rw_ply *ply, size_t n, rw_criterion criterion,
                                const char *function, rw_error *err)
{
  rw_status status = check_criterion(criterion, function, err);
  if (status == RW_OK)
    status = check_strengths(ply, n, function, err);
  if (status == RW_OK && criterion == RW_TSAI_HILL)
    status = check_hill(ply, n, function, err);
  return status;
}

static rw_status check(const rw_ply *ply, size_t n, const rw_stack *s, const double load[6],
                       rw_criterion criterion, const void *out, const char *function,
                       rw_error *err)
{
  rw_status status = rw_laminate_plies(ply, n, function, err);
  if (status != RW_OK)
    return status;
  if (s == NULL || load == NULL || out == NULL)
    return rw_laminate_missing(function, s == NULL ? "s" : load == NULL ? "load" : "out", err);
  status = rw_laminate_strengths(ply, n, criterion, function, err);
  return status == RW_OK ? rw_laminate_load(load, function, err) : status;
}

rw_first_failure rw_laminate_first(const rw_ply *ply, size_t n, const rw_stack *s,
                                   const double load[6], rw_criterion criterion)
{
  double strain[6];
  rw_stack_strain(s, load, strain);
  rw_first_failure least = {HUGE_VAL, 0, 0, RW_MODE_NONE};
  for (size_t i = 0; i < n; i++) {
    if (!(ply[i].material.Xt > 0))
      continue;
    rw_first_failure one = look_at_ply(ply, n, i, NULL, strain, criterion);
    if (one.factor < least.factor)
      least = one;
  }
  return least;
}

rw_status rw_stack_first_failure(const rw_ply *ply, size_t n, const rw_stack *s,
                                 const double load[6], rw_criterion criterion,
                                 rw_first_failure *out, rw_error *err)
{
  rw_status status = check(ply, n, s, load, criterion, out, "rw_stack_first_failure", err);
  if (status == RW_OK)
    *out = rw_laminate_first(ply, n, s, load, criterion);
  return status;
}

rw_status rw_stack_failures(const rw_ply *ply, size_t n, const rw_stack *s, const double load[6],
                            const double *free, rw_criterion criterion, rw_first_failure *each,
                            rw_error *err)
{
  const char *me = "rw_stack_failures";
  rw_status status = check(ply, n, s, load, criterion, each, me, err);
  if (status == RW_OK && free != NULL)
    status = rw_laminate_free(free, n, me, err);
  double strain[6], forced[6], locked[6] = {0};
  if (status == RW_OK && free != NULL)
    status = rw_stack_free_load(ply, n, free, forced, err);
  if (status != RW_OK)
    return rw_laminate_in_name_of(me, status, err);
  rw_stack_strain(s, load, strain);
  if (free != NULL)
    rw_stack_strain(s, forced, locked);
  for (size_t i = 0; i < n; i++) {
    double held[6];
    if (free != NULL)
      rw_laminate_held(&ply[i], free + 3 * i, locked, held);
    if (ply[i].material.Xt > 0)
      each[i] = look_at_ply(ply, n, i, free != NULL ? held : NULL, strain, criterion);
    else
      each[i] = (rw_first_failure){HUGE_VAL, i, 0, RW_MODE_NONE};
  }
  return RW_OK;
}
