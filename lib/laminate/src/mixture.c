/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "laminate_common.h"

#include <resinwright/num.h>

#include <math.h>
#include <stdio.h>

/* Hexagonal packing of equal round fibres, pi/(2 sqrt 3), rounded. */
static const double closest_packing = 0.907;
/* How far fibres lie out of line, rad (common practice, no source). */
static const double misalignment = 0.04;

static rw_status check_strength(double strength, const char *function, const char *argument,
                                rw_error *err)
{
  if (strength >= 0 && strength < HUGE_VAL)
    return RW_OK;
  return rw_error_range(err, function, argument, strength, 0, 1e12, "Pa",
                        "give 0 for a strength that is not known");
}

rw_status rw_laminate_fibre(const rw_fibre *f, const char *function, const char *prefix,
                            rw_error *err)
{
  rw_lamina as_sheet = {
      .density = f->density, .E1 = f->E1, .E2 = f->E2, .G12 = f->G12, .nu12 = f->nu12};
  rw_status status = rw_laminate_lamina(&as_sheet, function, prefix, err);
  if (status != RW_OK)
    return status;
  char name[64];
  snprintf(name, sizeof name, "%sstrength", prefix);
  status = check_strength(f->strength, function, name, err);
  snprintf(name, sizeof name, "%scrush", prefix);
  return status == RW_OK ? check_strength(f->crush, function, name, err) : status;
}

rw_status rw_laminate_matrix(const rw_matrix *m, const char *function, rw_error *err)
{
  const char *hint = "see the resin maker's data sheet for the cured resin";
  rw_status status = rw_laminate_positive(m->density, function, "m.density", "kg/m3", hint, err);
  if (status == RW_OK)
    status = rw_laminate_positive(m->E, function, "m.E", "Pa", hint, err);
  if (status != RW_OK)
    return status;
  if (!(m->nu > -1 && m->nu < 0.5))
    return rw_error_range(err, function, "m.nu", m->nu, -1, 0.5, "",
                          "between the two, not on them; cured epoxy is near 0.33");
  return check_strength(m->strength, function, "m.strength", err);
}

static rw_status check_share(double share, double most, const char *function, rw_error *err)
{
  const char *hint =
      "cloth laid by hand holds 0.35 to 0.45 of fibre by volume, bagged 0.5 to 0.58";
  rw_status status = rw_laminate_positive(share, function, "volume_share", "", hint, err);
  if (status == RW_OK && share > most)
    status = rw_error_range(err, function, "volume_share", share, 0, most, "", hint);
  return status;
}

/* Halpin and Kardos 1976. */
static double halpin_tsai(double fibre, double matrix, double xi, double share)
{
  double ratio = fibre / matrix;
  double eta = (ratio - 1) / (ratio + xi);
  return matrix * (1 + xi * eta * share) / (1 - eta * share);
}

/* Fibres under a stress of their own, and what the resin bears at their stretch. */
static double borne(const rw_fibre *f, const rw_matrix *m, double share, double stress)
{
  return share * stress + (1 - share) * fmin(m->E * stress / f->E1, m->strength);
}

static void strengths(const rw_fibre *f, const rw_matrix *m, double share, rw_lamina *ply)
{
  if (!(f->strength > 0 && m->strength > 0))
    return;
  ply->Xt = borne(f, m, share, f->strength);
  ply->S = m->strength / sqrt(3);
  ply->Xc = fmin(ply->S / (misalignment + ply->S / ply->G12), ply->Xt);
  if (f->crush > 0)
    ply->Xc = fmin(ply->Xc, borne(f, m, share, f->crush));
  ply->Yt = m->strength * (1 - (sqrt(share) - share) * (1 - m->E / f->E2));
  ply->Yc = 2 * m->strength;
}

static rw_lamina unidirectional(const rw_fibre *f, const rw_matrix *m, double share)
{
  double resin_shear = m->E / (2 * (1 + m->nu));
  double across = f->E2 / (2 * (1 + f->nu12)); /* a cross-section alike in all its directions */
  rw_lamina ply = {.density = share * f->density + (1 - share) * m->density,
                   .E1 = share * f->E1 + (1 - share) * m->E,
                   .E2 = halpin_tsai(f->E2, m->E, 2, share),
                   .G12 = halpin_tsai(f->G12, resin_shear, 1, share),
                   .nu12 = share * f->nu12 + (1 - share) * m->nu,
                   .G23 = halpin_tsai(across, resin_shear, 1 / (3 - 4 * m->nu), share)};
  ply.G13 = ply.G12;
  ply.E3 = ply.E2;
  strengths(f, m, share, &ply);
  return ply;
}

rw_status rw_lamina_unidirectional(const rw_fibre *f, const rw_matrix *m, double volume_share,
                                   rw_lamina *out, rw_error *err)
{
  const char *me = "rw_lamina_unidirectional";
  if (f == NULL || m == NULL || out == NULL)
    return rw_laminate_missing(me, f == NULL ? "f" : m == NULL ? "m" : "out", err);
  rw_status status = rw_laminate_fibre(f, me, "f.", err);
  if (status == RW_OK)
    status = rw_laminate_matrix(m, me, err);
  if (status == RW_OK)
    status = check_share(volume_share, closest_packing, me, err);
  if (status == RW_OK)
    *out = unidirectional(f, m, volume_share);
  return status;
}

/* A ply as stiff along 2 as along 1, from its reduced stiffness. */
static void balanced(rw_lamina *ply, double q11, double q12, double q66)
{
  ply->nu12 = q12 / q11;
  ply->E1 = ply->E2 = q11 - q12 * ply->nu12;
  ply->G12 = q66;
  ply->G13 = ply->G23 = (ply->G13 + ply->G23) / 2;
}

/* The fibres that lie along a load bear it, up to the stretch at which the resin cracks. */
static void balanced_strengths(rw_lamina *ply, double bearing, double cracking)
{
  ply->Xt = ply->Yt = fmin(bearing * ply->Xt, cracking * ply->E1);
  ply->Xc = ply->Yc = bearing * ply->Xc;
}

static void cross(rw_lamina *ply, const rw_matrix *m, double lost)
{
  double q[9], kept = 1 - lost;
  rw_laminate_stiffness(ply, 0, q);
  balanced(ply, kept * (q[0] + q[4]) / 2, kept * q[1], kept * q[8]);
  balanced_strengths(ply, kept / 2, m->strength / m->E);
  ply->S *= kept;
  ply->G13 *= kept;
  ply->G23 *= kept;
}

static void scatter(rw_lamina *ply, const rw_matrix *m)
{
  double q[9];
  rw_laminate_stiffness(ply, 0, q);
  double q11 = (3 * q[0] + 3 * q[4] + 2 * q[1] + 4 * q[8]) / 8;
  double q12 = (q[0] + q[4] + 6 * q[1] - 4 * q[8]) / 8;
  balanced(ply, q11, q12, (q11 - q12) / 2);
  balanced_strengths(ply, 3.0 / 8, m->strength / m->E);
  ply->S = ply->Xt / sqrt(3);
}

rw_status rw_lamina_cloth(const rw_cloth *c, const rw_fibre *f, const rw_matrix *m,
                          double volume_share, rw_lamina *out, rw_error *err)
{
  const char *me = "rw_lamina_cloth";
  if (c == NULL || f == NULL || m == NULL || out == NULL)
    return rw_laminate_missing(me,
                               c == NULL   ? "c"
                               : f == NULL ? "f"
                               : m == NULL ? "m"
                                           : "out",
                               err);
  rw_status status = rw_laminate_in_name_of(me, rw_cloth_check(c, err), err);
  if (status == RW_OK)
    status = rw_laminate_fibre(f, me, "f.", err);
  if (status == RW_OK)
    status = rw_laminate_matrix(m, me, err);
  if (status == RW_OK)
    status = check_share(volume_share, rw_weave_limit(c->weave), me, err);
  if (status != RW_OK)
    return status;
  rw_fibre fibre = *f;
  fibre.density = c->fibre_density;
  rw_lamina ply = unidirectional(&fibre, m, volume_share);
  if (c->weave == RW_MAT)
    scatter(&ply, m);
  else if (c->weave != RW_UNIDIRECTIONAL)
    cross(&ply, m, c->crimp);
  *out = ply;
  return RW_OK;
}

double rw_lamina_cloth_spread(void)
{
  return 0.20;
}

rw_strength_spread rw_lamina_cloth_strength_spread(void)
{
  /* Nine in ten strengths lie within this factor of what is said (common practice, no source). */
  static const double within = 2;
  double log_sd = log(within) / rw_num_normal_quantile(0.95), sd = sqrt(expm1(log_sd * log_sd));
  return (rw_strength_spread){sd, sd, sd, sd, sd};
}
