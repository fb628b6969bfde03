/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What gives way besides a ply's own stresses: skins that wrinkle, cores that shear; and a hit. */
#include "laminate_common.h"

#include <resinwright/num.h>

#include <math.h>
#include <stdio.h>

/* Mean stress of the plies from first up to before end, x y xy. */
static double mean_stress(const rw_ply *ply, size_t n, size_t first, size_t end,
                          const double strain[6], double mean[3])
{
  double whole = 0, sum[3] = {0};
  for (size_t i = first; i < end; i++) {
    double global[3], local[3];
    rw_laminate_stress(&ply[i], rw_laminate_height(ply, n, i), strain, global, local);
    whole += ply[i].thickness;
    for (size_t k = 0; k < 3; k++)
      sum[k] += global[k] * ply[i].thickness;
  }
  for (size_t k = 0; k < 3; k++)
    mean[k] = sum[k] / whole;
  return whole;
}

/* Modulus of some plies together in a direction, not counting that they would bend. */
static double modulus_along(const rw_ply *ply, size_t first, size_t end, double whole,
                            double direction)
{
  double sum[9] = {0}, inverse[9];
  for (size_t i = first; i < end; i++) {
    double q[9];
    rw_laminate_stiffness(&ply[i].material, ply[i].angle - direction, q);
    for (size_t k = 0; k < 9; k++)
      sum[k] += q[k] * ply[i].thickness / whole;
  }
  return rw_num_inverse(3, sum, inverse, NULL) == RW_OK ? 1 / inverse[0] : 0;
}

/* Half the cube root of skin, core and core's shear modulus, in the direction of a push. */
static double wrinkles_at(double skin, const rw_ply *core, double direction)
{
  const rw_lamina *m = &core->material;
  double c = cos(direction - core->angle), s = sin(direction - core->angle);
  double shear =
      rw_laminate_known(m->G13, m->G12) * c * c + rw_laminate_known(m->G23, m->G12) * s * s;
  return 0.5 * cbrt(skin) * cbrt(rw_laminate_known(m->E3, m->E2)) * cbrt(shear);
}

static rw_wrinkling look_at_skin(const rw_ply *ply, size_t n, size_t core, int face,
                                 const double strain[6])
{
  size_t first = face < 0 ? 0 : core + 1, end = face < 0 ? core : n;
  rw_wrinkling out = {HUGE_VAL, 0, 0, 0};
  if (first == end)
    return out;
  double mean[3], whole = mean_stress(ply, n, first, end, strain, mean);
  double middle = (mean[0] + mean[1]) / 2, apart = (mean[0] - mean[1]) / 2;
  double push = hypot(apart, mean[2]) - middle;
  if (!(push > 0))
    return out;
  double direction = atan2(-mean[2], -apart) / 2;
  double stress =
      wrinkles_at(modulus_along(ply, first, end, whole, direction), &ply[core], direction);
  return (rw_wrinkling){stress / push, face, stress, direction};
}

rw_status rw_stack_wrinkling(const rw_ply *ply, size_t n, const rw_stack *s, size_t core,
                             const double load[6], rw_wrinkling *out, rw_error *err)
{
  const char *me = "rw_stack_wrinkling";
  rw_status status = rw_laminate_plies(ply, n, me, err);
  if (status != RW_OK)
    return status;
  if (s == NULL || load == NULL || out == NULL)
    return rw_laminate_missing(me, s == NULL ? "s" : load == NULL ? "load" : "out", err);
  if (core >= n)
    return rw_error_range(err, me, "core", (double)core, 0, (double)(n - 1), "",
                          "plies are counted from 0");
  if (n == 1)
    return rw_error_set(err, RW_ERR_ARGUMENT, me, "ply", "list the core and at least one skin",
                        "a core alone has no skin that could wrinkle");
  status = rw_laminate_load(load, me, err);
  if (status != RW_OK)
    return status;
  double strain[6];
  rw_stack_strain(s, load, strain);
  rw_wrinkling lower = look_at_skin(ply, n, core, -1, strain);
  rw_wrinkling upper = look_at_skin(ply, n, core, 1, strain);
  *out = upper.factor < lower.factor ? upper : lower;
  return RW_OK;
}

/* The largest of a quadratic through its values at -1, 0 and 1, by size. */
static double summit(double low, double middle, double high)
{
  double slope = (high - low) / 2, bend = (high + low) / 2 - middle;
  double largest = fmax(fabs(low), fabs(high));
  double place = bend != 0 ? -slope / (2 * bend) : 2;
  if (fabs(place) < 1)
    largest = fmax(largest, fabs(middle + place * (slope + place * bend)));
  return largest;
}

static rw_status check_shear_strengths(const rw_ply *ply, size_t n, const char *function,
                                       rw_error *err)
{
  size_t known = 0;
  for (size_t i = 0; i < n; i++) {
    char name[64];
    snprintf(name, sizeof name, "ply[%zu].S", i + 1);
    if (ply[i].material.S == 0)
      continue;
    known++;
    rw_status status = rw_laminate_positive(ply[i].material.S, function, name, "Pa",
                                            "an S of 0 leaves the ply out", err);
    if (status != RW_OK)
      return status;
  }
  if (known == 0)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "ply",
                        "give at least one ply its shear strength",
                        "no ply of the stack has a shear strength: every S is 0");
  return RW_OK;
}

rw_status rw_stack_shear_failure(const rw_ply *ply, size_t n, const rw_stack *s,
                                 const double force[2], rw_first_failure *out, rw_error *err)
{
  const char *me = "rw_stack_shear_failure";
  double at[2];
  if (out == NULL)
    return rw_laminate_missing(me, "out", err);
  rw_status status = rw_stack_shear_stress(ply, n, s, 0, 0, force, at, NULL, err);
  if (status == RW_OK)
    status = check_shear_strengths(ply, n, me, err);
  if (status == RW_OK && force[0] == 0 && force[1] == 0)
    status = rw_error_set(err, RW_ERR_ARGUMENT, me, "force", "give at least one shear force",
                          "the force is zero: there is nothing to multiply until it breaks");
  if (status != RW_OK)
    return rw_laminate_in_name_of(me, status, err);
  rw_first_failure least = {HUGE_VAL, 0, 0, RW_MODE_NONE};
  for (size_t i = 0; i < n; i++) {
    const rw_lamina *m = &ply[i].material;
    if (m->S == 0)
      continue;
    double t[3][2];
    for (int place = -1; place <= 1; place++)
      rw_stack_shear_stress(ply, n, s, i, place, force, NULL, t[place + 1], NULL);
    double along = m->S / summit(t[0][0], t[1][0], t[2][0]);
    double across = rw_laminate_known(m->S23, m->S) / summit(t[0][1], t[1][1], t[2][1]);
    if (fmin(along, across) < least.factor)
      least = (rw_first_failure){fmin(along, across), i, 0, RW_MODE_SHEAR_THROUGH};
  }
  *out = least;
  return RW_OK;
}

rw_status rw_stack_hit(const rw_ply *ply, size_t n, const rw_stack *s, int outer,
                       rw_criterion criterion, rw_hit *out, rw_error *err)
{
  const char *me = "rw_stack_hit";
  rw_status status = rw_laminate_plies(ply, n, me, err);
  if (status != RW_OK)
    return status;
  if (s == NULL || out == NULL)
    return rw_laminate_missing(me, s == NULL ? "s" : "out", err);
  if (outer != -1 && outer != 1)
    return rw_error_set(err, RW_ERR_ARGUMENT, me, "outer",
                        "take -1 where the first ply is outside, 1 where the last one is",
                        "%d is neither face of the stack", outer);
  status = rw_laminate_strengths(ply, n, criterion, me, err);
  if (status != RW_OK)
    return status;
  double m = -outer; /* above 0 pulls at the last ply */
  const double along[6] = {0, 0, 0, m, 0, 0}, across[6] = {0, 0, 0, 0, m, 0};
  const double both[6] = {0, 0, 0, m, m, 0};
  double strain[6];
  rw_hit hit = {.along = rw_laminate_first(ply, n, s, along, criterion),
                .across = rw_laminate_first(ply, n, s, across, criterion),
                .both = rw_laminate_first(ply, n, s, both, criterion)};
  rw_stack_strain(s, both, strain);
  hit.energy = hit.both.factor * hit.both.factor * m * (strain[3] + strain[4]) / 2;
  *out = hit;
  return RW_OK;
}
