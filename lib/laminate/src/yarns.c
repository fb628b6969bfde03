/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A cloth whose warp and weft differ, from its yarns. */
#include "laminate_common.h"

#include <math.h>
#include <stdio.h>

/* Both halves as unidirectional plies, and the warp's part of the thickness. */
typedef struct halves {
  rw_lamina ply[2];
  double warp;
} halves;

static rw_status check(const rw_cloth *c, const rw_yarns *y, const rw_matrix *m,
                       const char *function, rw_error *err)
{
  if (c == NULL || y == NULL || m == NULL)
    return rw_laminate_missing(function, c == NULL ? "c" : y == NULL ? "y" : "m", err);
  rw_status status = rw_laminate_fibres(y->fibre, "y.fibre", y->mass, "y.mass", 2, function, err);
  if (status == RW_OK && (c->weave == RW_UNIDIRECTIONAL || c->weave == RW_MAT))
    status = rw_error_set(err, RW_ERR_ARGUMENT, function, "c.weave",
                          "take a plain, twill, satin or biaxial cloth",
                          "weave %d has no warp and weft", (int)c->weave);
  return status;
}

static rw_status make_halves(const rw_yarns *y, const rw_matrix *m, double share, halves *h,
                             rw_error *err)
{
  double volume[2];
  rw_status status = RW_OK;
  for (size_t i = 0; i < 2 && status == RW_OK; i++) {
    volume[i] = y->mass[i] / y->fibre[i].density;
    status = rw_lamina_unidirectional(&y->fibre[i], m, share, &h->ply[i], err);
  }
  if (status == RW_OK)
    h->warp = volume[0] / (volume[0] + volume[1]);
  return status;
}

static rw_status cross(const rw_cloth *c, const rw_yarns *y, const rw_matrix *m, double share,
                       rw_lamina *out, rw_error *err)
{
  halves h;
  rw_status status = rw_lamina_cloth(c, &y->fibre[0], m, share, out, err); /* its checks */
  if (status == RW_OK)
    status = make_halves(y, m, share, &h, err);
  if (status == RW_OK)
    status =
        rw_lamina_crossed(&h.ply[0], &h.ply[1], h.warp, c->crimp, m->strength / m->E, out, err);
  if (status == RW_OK)
    out->density = share * c->fibre_density + (1 - share) * m->density;
  return status;
}

rw_status rw_lamina_yarns(const rw_cloth *c, const rw_yarns *y, const rw_matrix *m,
                          rw_value volume_share, rw_lamina *out, double *spread, rw_error *err)
{
  const char *me = "rw_lamina_yarns";
  if (out == NULL || spread == NULL)
    return rw_laminate_missing(me, out == NULL ? "out" : "spread", err);
  rw_status status = check(c, y, m, me, err);
  if (status != RW_OK)
    return status;
  if (!(volume_share.sd >= 0 && volume_share.sd < 1))
    return rw_error_range(err, me, "volume_share.sd", volume_share.sd, 0, 1, "",
                          "0.04 is usual for cloth laid by hand");
  rw_lamina ply, poorer;
  status = cross(c, y, m, volume_share.value, &ply, err);
  if (status == RW_OK)
    status = cross(c, y, m, rw_laminate_less * volume_share.value, &poorer, err);
  if (status != RW_OK)
    return rw_laminate_in_name_of(me, status, err);
  double model = rw_lamina_cloth_spread();
  *spread = fmax(rw_laminate_ply_spread(model, ply.E1, poorer.E1, volume_share),
                 rw_laminate_ply_spread(model, ply.E2, poorer.E2, volume_share));
  *out = ply;
  return RW_OK;
}

static rw_status check_own(const double own[4], double resin, const char *function, rw_error *err)
{
  rw_status status = rw_laminate_own(resin, function, "resin", err);
  for (size_t i = 0; i < 4 && status == RW_OK; i++) {
    char argument[40];
    snprintf(argument, sizeof argument, "own[%zu]", i + 1);
    status = rw_laminate_own(own[i], function, argument, err);
  }
  return status;
}

/* The strain at which the forces of both halves, held to it, cancel. */
static void shared(const halves *h, double e[2][2], double strain[3])
{
  double a[9], b[9], s = h->warp, t = 1 - s;
  rw_laminate_stiffness(&h->ply[0], 0, a);
  rw_laminate_stiffness(&h->ply[1], 0, b);
  double q11 = s * a[0] + t * b[4], q12 = s * a[1] + t * b[1], q22 = s * a[4] + t * b[0];
  double n1 = s * (a[0] * e[0][0] + a[1] * e[0][1]) + t * (b[4] * e[1][1] + b[1] * e[1][0]);
  double n2 = s * (a[1] * e[0][0] + a[4] * e[0][1]) + t * (b[1] * e[1][1] + b[0] * e[1][0]);
  double whole = q11 * q22 - q12 * q12;
  strain[0] = (q22 * n1 - q12 * n2) / whole;
  strain[1] = (q11 * n2 - q12 * n1) / whole;
  strain[2] = 0;
}

rw_status rw_lamina_yarns_expansion(const rw_cloth *c, const rw_yarns *y, const rw_matrix *m,
                                    double volume_share, const double own[4], double resin,
                                    double strain[3], rw_error *err)
{
  const char *me = "rw_lamina_yarns_expansion";
  if (own == NULL || strain == NULL)
    return rw_laminate_missing(me, own == NULL ? "own" : "strain", err);
  rw_status status = check(c, y, m, me, err);
  rw_lamina ply;
  if (status == RW_OK)
    status = cross(c, y, m, volume_share, &ply, err);
  if (status == RW_OK)
    status = check_own(own, resin, me, err);
  halves h;
  if (status == RW_OK)
    status = make_halves(y, m, volume_share, &h, err);
  if (status != RW_OK)
    return rw_laminate_in_name_of(me, status, err);
  double e[2][2];
  for (size_t i = 0; i < 2; i++)
    rw_laminate_schapery(&y->fibre[i], m, volume_share, own + 2 * i, resin, &h.ply[i], e[i]);
  shared(&h, e, strain);
  return RW_OK;
}
