/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strains that plies would take if they were free: warmth, cure, damp. */
#include "laminate_common.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double most = 0.5; /* a free strain beyond it is a coefficient or a per cent */

rw_status rw_laminate_own(double value, const char *function, const char *argument, rw_error *err)
{
  if (fabs(value) <= most)
    return RW_OK;
  return rw_error_range(err, function, argument, value, -most, most, "",
                        "a strain, not a coefficient and not a per cent: 2 % is 0.02");
}

void rw_laminate_schapery(const rw_fibre *f, const rw_matrix *m, double v, const double own[2],
                          double resin, const rw_lamina *ply, double free[2])
{
  double along = (v * f->E1 * own[0] + (1 - v) * m->E * resin) / ply->E1;
  double across = v * (own[1] + f->nu12 * own[0]) + (1 - v) * (1 + m->nu) * resin;
  free[0] = along;
  free[1] = across - ply->nu12 * along;
}

rw_status rw_lamina_cloth_expansion(const rw_cloth *c, const rw_fibre *f, const rw_matrix *m,
                                    double volume_share, const double fibre[2], double resin,
                                    double strain[3], rw_error *err)
{
  const char *me = "rw_lamina_cloth_expansion";
  if (fibre == NULL || strain == NULL)
    return rw_laminate_missing(me, fibre == NULL ? "fibre" : "strain", err);
  rw_lamina ply;
  rw_status status =
      rw_laminate_in_name_of(me, rw_lamina_cloth(c, f, m, volume_share, &ply, err), err);
  if (status == RW_OK)
    status = rw_laminate_own(fibre[0], me, "fibre[1]", err);
  if (status == RW_OK)
    status = rw_laminate_own(fibre[1], me, "fibre[2]", err);
  if (status == RW_OK)
    status = rw_laminate_own(resin, me, "resin", err);
  if (status == RW_OK)
    status = rw_lamina_unidirectional(f, m, volume_share, &ply, err);
  if (status != RW_OK)
    return rw_laminate_in_name_of(me, status, err);
  rw_laminate_schapery(f, m, volume_share, fibre, resin, &ply, strain);
  double along = strain[0], across = strain[1];
  strain[2] = 0;
  if (c->weave != RW_UNIDIRECTIONAL) {
    double q[9];
    rw_laminate_stiffness(&ply, 0, q);
    strain[0] = strain[1] =
        ((q[0] + q[1]) * along + (q[1] + q[4]) * across) / (q[0] + 2 * q[1] + q[4]);
  }
  return RW_OK;
}

rw_status rw_laminate_free(const double *free, size_t n, const char *function, rw_error *err)
{
  static const char *const name[] = {"e1", "e2", "g12"};
  if (free == NULL)
    return rw_laminate_missing(function, "free", err);
  for (size_t i = 0; i < 3 * n; i++) {
    char argument[40];
    snprintf(argument, sizeof argument, "free[%zu].%s", i / 3 + 1, name[i % 3]);
    rw_status status = rw_laminate_own(free[i], function, argument, err);
    if (status != RW_OK)
      return status;
  }
  return RW_OK;
}

/* Strain in laminate axes from that in ply axes. */
static void turned(const double local[3], double angle, double global[3])
{
  double c = cos(angle), s = sin(angle);
  global[0] = c * c * local[0] + s * s * local[1] - c * s * local[2];
  global[1] = s * s * local[0] + c * c * local[1] + c * s * local[2];
  global[2] = 2 * c * s * (local[0] - local[1]) + (c * c - s * s) * local[2];
}

void rw_laminate_held(const rw_ply *p, const double free[3], const double strain[6],
                      double held[6])
{
  double global[3];
  turned(free, p->angle, global);
  for (size_t k = 0; k < 3; k++) {
    held[k] = strain[k] - global[k];
    held[k + 3] = strain[k + 3];
  }
}

static void ply_load(const rw_ply *p, double z, const double free[3], double load[6])
{
  double q[9], strain[3];
  rw_laminate_stiffness(&p->material, p->angle, q);
  turned(free, p->angle, strain);
  for (size_t i = 0; i < 3; i++) {
    double stress = q[3 * i] * strain[0] + q[3 * i + 1] * strain[1] + q[3 * i + 2] * strain[2];
    load[i] = stress * p->thickness;
    load[i + 3] = load[i] * z;
  }
}

/* Plies are added in pairs from the outside inwards: a stack that is its own mirror image, with
 * strains that are, does not bend. */
rw_status rw_stack_free_load(const rw_ply *ply, size_t n, const double *free, double load[6],
                             rw_error *err)
{
  const char *me = "rw_stack_free_load";
  rw_status status = rw_laminate_plies(ply, n, me, err);
  if (status == RW_OK)
    status = rw_laminate_free(free, n, me, err);
  if (status != RW_OK)
    return status;
  if (load == NULL)
    return rw_laminate_missing(me, "load", err);
  double sum[6] = {0};
  for (size_t i = 0; i < n - i; i++) {
    size_t mirror = n - 1 - i;
    double first[6], second[6] = {0};
    ply_load(&ply[i], rw_laminate_height(ply, n, i), free + 3 * i, first);
    if (mirror != i)
      ply_load(&ply[mirror], rw_laminate_height(ply, n, mirror), free + 3 * mirror, second);
    for (size_t k = 0; k < 6; k++)
      sum[k] += first[k] + second[k];
  }
  memcpy(load, sum, sizeof sum);
  return RW_OK;
}

rw_status rw_stack_free_stress(const rw_ply *ply, size_t n, size_t index, double place,
                               const double strain[6], const double *free, double global[3],
                               double local[3], rw_error *err)
{
  const char *me = "rw_stack_free_stress";
  rw_status status = rw_laminate_plies(ply, n, me, err);
  if (status == RW_OK && strain == NULL)
    status = rw_laminate_missing(me, "strain", err);
  if (status == RW_OK)
    status = rw_laminate_place(n, index, place, me, err);
  if (status == RW_OK)
    status = rw_laminate_free(free, n, me, err);
  if (status != RW_OK)
    return status;
  double held[6];
  rw_laminate_held(&ply[index], free + 3 * index, strain, held);
  return rw_stack_stress(ply, n, index, place, held, global, local, err);
}
