/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "laminate_common.h"

#include <math.h>
#include <stdio.h>

static rw_status check_strengths(const rw_ply *ply, size_t n, const char *function, rw_error *err)
{
  size_t known = 0;
  for (size_t i = 0; i < n; i++) {
    const rw_lamina *m = &ply[i].material;
    if (m->Xt == 0)
      continue;
    known++;
    const char *name[] = {"Xt", "Xc", "Yt", "Yc", "S"};
    const double strength[] = {m->Xt, m->Xc, m->Yt, m->Yc, m->S};
    for (size_t k = 0; k < 5; k++) {
      char field[64];
      snprintf(field, sizeof field, "ply[%zu].%s", i + 1, name[k]);
      rw_status status = rw_laminate_positive(
          strength[k], function, field, "Pa",
          "strengths in compression are given above zero, too; an Xt of 0 leaves the ply out",
          err);
      if (status != RW_OK)
        return status;
    }
  }
  if (known == 0)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "ply",
                        "give at least one ply its strengths",
                        "no ply of the stack has a strength: every Xt is 0");
  return RW_OK;
}

static rw_status check_load(const double load[6], const char *function, rw_error *err)
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

/* The largest stress-to-strength ratio and what it would break. */
static double worst_ratio(const rw_lamina *m, const double stress[3], rw_mode *mode)
{
  const rw_mode modes[] = {stress[0] > 0 ? RW_MODE_TENSION_ALONG : RW_MODE_CRUSH_ALONG,
                           stress[1] > 0 ? RW_MODE_TENSION_ACROSS : RW_MODE_CRUSH_ACROSS,
                           RW_MODE_SHEAR};
  const double ratio[] = {fabs(stress[0]) / (stress[0] > 0 ? m->Xt : m->Xc),
                          fabs(stress[1]) / (stress[1] > 0 ? m->Yt : m->Yc),
                          fabs(stress[2]) / m->S};
  double worst = 0;
  *mode = RW_MODE_NONE;
  for (size_t i = 0; i < 3; i++) {
    if (ratio[i] > worst) {
      worst = ratio[i];
      *mode = modes[i];
    }
  }
  return worst;
}

/* The positive root of quadratic x^2 + linear x = 1. Stresses enter as parts of the worst ratio,
 * so that neither term can vanish by underflow. */
static double tsai_wu(const rw_lamina *m, const double stress[3], double worst)
{
  double s1 = stress[0] / worst, s2 = stress[1] / worst, s12 = stress[2] / worst;
  double f11 = 1 / (m->Xt * m->Xc), f22 = 1 / (m->Yt * m->Yc);
  double quadratic =
      f11 * s1 * s1 + f22 * s2 * s2 - sqrt(f11 * f22) * s1 * s2 + s12 * s12 / (m->S * m->S);
  double linear = (1 / m->Xt - 1 / m->Xc) * s1 + (1 / m->Yt - 1 / m->Yc) * s2;
  double root = sqrt(linear * linear + 4 * quadratic);
  double factor = linear > 0 ? 2 / (linear + root) : (root - linear) / (2 * quadratic);
  return factor / worst;
}

static double load_factor(const rw_lamina *m, const double stress[3], rw_criterion criterion,
                          rw_mode *mode)
{
  double worst = worst_ratio(m, stress, mode);
  if (!(worst > 0))
    return HUGE_VAL;
  return criterion == RW_TSAI_WU ? tsai_wu(m, stress, worst) : 1 / worst;
}

static void look_at_ply(const rw_ply *ply, size_t n, size_t index, const double strain[6],
                        rw_criterion criterion, rw_first_failure *least)
{
  double middle = rw_laminate_height(ply, n, index);
  for (int face = -1; face <= 1; face += 2) {
    double global[3], local[3];
    rw_mode mode;
    rw_laminate_stress(&ply[index], middle + face * ply[index].thickness / 2, strain, global,
                       local);
    double factor = load_factor(&ply[index].material, local, criterion, &mode);
    if (factor < least->factor)
      *least = (rw_first_failure){factor, index, face, mode};
  }
}

rw_status rw_stack_first_failure(const rw_ply *ply, size_t n, const rw_stack *s,
                                 const double load[6], rw_criterion criterion,
                                 rw_first_failure *out, rw_error *err)
{
  const char *me = "rw_stack_first_failure";
  rw_status status = rw_laminate_plies(ply, n, me, err);
  if (status != RW_OK)
    return status;
  if (s == NULL || load == NULL || out == NULL)
    return rw_laminate_missing(me, s == NULL ? "s" : load == NULL ? "load" : "out", err);
  if (criterion != RW_MAX_STRESS && criterion != RW_TSAI_WU)
    return rw_error_set(err, RW_ERR_ARGUMENT, me, "criterion", "take RW_MAX_STRESS or RW_TSAI_WU",
                        "criterion %d is not known", (int)criterion);
  status = check_strengths(ply, n, me, err);
  if (status == RW_OK)
    status = check_load(load, me, err);
  if (status != RW_OK)
    return status;
  double strain[6];
  rw_stack_strain(s, load, strain);
  rw_first_failure least = {HUGE_VAL, 0, 0, RW_MODE_NONE};
  for (size_t i = 0; i < n; i++)
    if (ply[i].material.Xt > 0)
      look_at_ply(ply, n, i, strain, criterion, &least);
  *out = least;
  return RW_OK;
}
