/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Several fibres in one cloth, and the spread of a cloth ply's stiffness. */
#include "laminate_common.h"

#include <math.h>
#include <stdio.h>

enum { MOST_FIBRES = 8 };

const double rw_laminate_less = 0.999;

/* Halpin-Tsai's eta, and the modulus that has it. */
static double part_of(double fibre, double matrix, double xi)
{
  return (fibre / matrix - 1) / (fibre / matrix + xi);
}

static double modulus_of(double eta, double matrix, double xi)
{
  return matrix * (1 + xi * eta) / (1 - eta);
}

static rw_fibre blend(const rw_fibre *f, const double *mass, size_t n, const rw_matrix *m)
{
  double shear = m->E / (2 * (1 + m->nu)), whole = 0, volume = 0;
  for (size_t i = 0; i < n; i++) {
    whole += mass[i];
    volume += mass[i] / f[i].density;
  }
  rw_fibre sum = {.density = whole / volume};
  double along = 0, turn = 0, stretch = HUGE_VAL, squeeze = HUGE_VAL;
  for (size_t i = 0; i < n; i++) {
    double part = mass[i] / f[i].density / volume;
    sum.E1 += part * f[i].E1;
    sum.nu12 += part * f[i].nu12;
    along += part * part_of(f[i].E2, m->E, 2);
    turn += part * part_of(f[i].G12, shear, 1);
    stretch = fmin(stretch, f[i].strength / f[i].E1);
    if (f[i].crush > 0)
      squeeze = fmin(squeeze, f[i].crush / f[i].E1);
  }
  sum.E2 = modulus_of(along, m->E, 2);
  sum.G12 = modulus_of(turn, shear, 1);
  sum.strength = sum.E1 * stretch;
  sum.crush = squeeze < HUGE_VAL ? sum.E1 * squeeze : 0;
  return sum;
}

rw_status rw_laminate_fibres(const rw_fibre *f, const char *name, const double *mass,
                             const char *mass_name, size_t n, const char *function, rw_error *err)
{
  char argument[40];
  rw_status status = RW_OK;
  for (size_t i = 0; i < n && status == RW_OK; i++) {
    snprintf(argument, sizeof argument, "%s[%zu].", name, i + 1);
    status = rw_laminate_fibre(&f[i], function, argument, err);
    snprintf(argument, sizeof argument, "%s[%zu]", mass_name, i + 1);
    if (status == RW_OK)
      status = rw_laminate_positive(mass[i], function, argument, "kg/m2",
                                    "leave out a fibre of no mass", err);
  }
  return status;
}

static rw_status check_count(size_t n, const char *function, rw_error *err)
{
  if (n >= 1 && n <= MOST_FIBRES)
    return RW_OK;
  return rw_error_range(err, function, "n", (double)n, 1, MOST_FIBRES, "",
                        "list each fibre of the cloth once");
}

rw_status rw_fibre_blend(const rw_fibre *f, const double *mass, size_t n, const rw_matrix *m,
                         rw_fibre *out, rw_error *err)
{
  const char *me = "rw_fibre_blend";
  if (f == NULL || mass == NULL || m == NULL || out == NULL)
    return rw_laminate_missing(me,
                               f == NULL      ? "f"
                               : mass == NULL ? "mass"
                               : m == NULL    ? "m"
                                              : "out",
                               err);
  rw_status status = check_count(n, me, err);
  if (status == RW_OK)
    status = rw_laminate_matrix(m, me, err);
  if (status == RW_OK)
    status = rw_laminate_fibres(f, "f", mass, "mass", n, me, err);
  if (status == RW_OK)
    *out = blend(f, mass, n, m);
  return status;
}

rw_status rw_fibre_blend_expansion(const rw_fibre *f, const double *mass, const double *own,
                                   size_t n, double one[2], rw_error *err)
{
  const char *me = "rw_fibre_blend_expansion";
  if (f == NULL || mass == NULL || own == NULL || one == NULL)
    return rw_laminate_missing(me,
                               f == NULL      ? "f"
                               : mass == NULL ? "mass"
                               : own == NULL  ? "own"
                                              : "one",
                               err);
  rw_status status = check_count(n, me, err);
  if (status == RW_OK)
    status = rw_laminate_fibres(f, "f", mass, "mass", n, me, err);
  for (size_t i = 0; i < 2 * n && status == RW_OK; i++) {
    char argument[40];
    snprintf(argument, sizeof argument, "own[%zu]", i + 1);
    status = rw_laminate_own(own[i], me, argument, err);
  }
  if (status != RW_OK)
    return status;
  double volume = 0, stiff = 0, turn = 0, pull = 0, swell = 0;
  for (size_t i = 0; i < n; i++)
    volume += mass[i] / f[i].density;
  for (size_t i = 0; i < n; i++) {
    double part = mass[i] / f[i].density / volume;
    stiff += part * f[i].E1;
    turn += part * f[i].nu12;
    pull += part * f[i].E1 * own[2 * i];
    swell += part * (own[2 * i + 1] + f[i].nu12 * own[2 * i]);
  }
  one[0] = pull / stiff;
  one[1] = swell - turn * one[0];
  return RW_OK;
}

static rw_status check_crossing(const rw_lamina *warp, const rw_lamina *weft, double warp_share,
                                double crimp, double crack, const char *function, rw_error *err)
{
  rw_status status = rw_laminate_lamina(warp, function, "warp.", err);
  if (status == RW_OK)
    status = rw_laminate_lamina(weft, function, "weft.", err);
  if (status != RW_OK)
    return status;
  if (!(warp_share > 0 && warp_share < 1))
    return rw_error_range(
        err, function, "warp_share", warp_share, 0, 1, "",
        "between the two, not on them: half along the roll is 0.5; cloth without "
        "weft is unidirectional");
  if (!(crimp >= 0 && crimp <= 0.5))
    return rw_error_range(err, function, "crimp", crimp, 0, 0.5, "",
                          "a woven cloth loses a few per cent to the waviness of its yarns");
  if (!(crack >= 0 && crack < HUGE_VAL))
    return rw_error_range(err, function, "crack", crack, 0, 1, "",
                          "the resin's strength over its modulus, or 0 to leave cracking out");
  return RW_OK;
}

/* The half that lies along a load bears it, up to the stretch at which the resin cracks. */
static double bears(double share, double strength, double crack, double modulus)
{
  return crack > 0 ? fmin(share * strength, crack * modulus) : share * strength;
}

rw_status rw_lamina_crossed(const rw_lamina *warp, const rw_lamina *weft, double warp_share,
                            double crimp, double crack, rw_lamina *out, rw_error *err)
{
  const char *me = "rw_lamina_crossed";
  if (warp == NULL || weft == NULL || out == NULL)
    return rw_laminate_missing(me, warp == NULL ? "warp" : weft == NULL ? "weft" : "out", err);
  rw_status status = check_crossing(warp, weft, warp_share, crimp, crack, me, err);
  if (status != RW_OK)
    return status;
  double a[9], b[9], s = warp_share, t = 1 - s, kept = 1 - crimp;
  rw_laminate_stiffness(warp, 0, a);
  rw_laminate_stiffness(weft, 0, b);
  double q11 = kept * (s * a[0] + t * b[4]), q22 = kept * (s * a[4] + t * b[0]);
  double q12 = kept * (s * a[1] + t * b[1]);
  rw_lamina ply = {.density = s * warp->density + t * weft->density,
                   .E1 = q11 - q12 * q12 / q22,
                   .E2 = q22 - q12 * q12 / q11,
                   .G12 = kept * (s * warp->G12 + t * weft->G12),
                   .nu12 = q12 / q22};
  double warp_13 = rw_laminate_known(warp->G13, warp->G12);
  double warp_23 = rw_laminate_known(warp->G23, warp->G12);
  double weft_13 = rw_laminate_known(weft->G13, weft->G12);
  double weft_23 = rw_laminate_known(weft->G23, weft->G12);
  ply.G13 = kept * (s * warp_13 + t * weft_23);
  ply.G23 = kept * (s * warp_23 + t * weft_13);
  ply.E3 = s * rw_laminate_known(warp->E3, warp->E2) + t * rw_laminate_known(weft->E3, weft->E2);
  if (warp->Xt > 0 && weft->Xt > 0) {
    ply.Xt = bears(kept * s, warp->Xt, crack, ply.E1);
    ply.Yt = bears(kept * t, weft->Xt, crack, ply.E2);
    ply.Xc = kept * s * warp->Xc;
    ply.Yc = kept * t * weft->Xc;
    ply.S = kept * fmin(warp->S, weft->S);
  }
  *out = ply;
  return RW_OK;
}

double rw_laminate_ply_spread(double model, double modulus, double poorer, rw_value volume_share)
{
  double slope = (1 - poorer / modulus) / ((1 - rw_laminate_less) * volume_share.value);
  return hypot(model, slope * volume_share.sd);
}

rw_status rw_lamina_cloth_uncertain(const rw_cloth *c, const rw_fibre *f, const rw_matrix *m,
                                    rw_value volume_share, rw_lamina *out, double *spread,
                                    rw_error *err)
{
  const char *me = "rw_lamina_cloth_uncertain";
  if (out == NULL || spread == NULL)
    return rw_laminate_missing(me, out == NULL ? "out" : "spread", err);
  if (!(volume_share.sd >= 0 && volume_share.sd < 1))
    return rw_error_range(err, me, "volume_share.sd", volume_share.sd, 0, 1, "",
                          "0.04 is usual for cloth laid by hand");
  rw_lamina ply, poorer;
  rw_status status = rw_lamina_cloth(c, f, m, volume_share.value, &ply, err);
  if (status == RW_OK)
    status = rw_lamina_cloth(c, f, m, rw_laminate_less * volume_share.value, &poorer, err);
  if (status != RW_OK)
    return rw_laminate_in_name_of(me, status, err);
  double model = c->weave == RW_UNIDIRECTIONAL ? 0.05 : rw_lamina_cloth_spread();
  *out = ply;
  *spread = rw_laminate_ply_spread(model, ply.E1, poorer.E1, volume_share);
  return RW_OK;
}
