/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "laminate_common.h"

#include <resinwright/num.h>
#include <resinwright/text.h>

#include <math.h>
#include <string.h>

void rw_laminate_stiffness(const rw_lamina *m, double angle, double q[9])
{
  double share = 1 - m->nu12 * m->nu12 * m->E2 / m->E1;
  double q11 = m->E1 / share, q22 = m->E2 / share, q12 = m->nu12 * q22, q66 = m->G12;
  double c = cos(angle), s = sin(angle);
  double cc = c * c, ss = s * s, cs = c * s;
  double mixed = q12 + 2 * q66;
  double along = q11 - mixed, across = mixed - q22;
  q[0] = q11 * cc * cc + 2 * mixed * cc * ss + q22 * ss * ss;
  q[4] = q11 * ss * ss + 2 * mixed * cc * ss + q22 * cc * cc;
  q[1] = q[3] = (q11 + q22 - 4 * q66) * cc * ss + q12 * (cc * cc + ss * ss);
  q[8] = (q11 + q22 - 2 * q12) * cc * ss + q66 * (cc - ss) * (cc - ss);
  q[2] = q[6] = cs * (along * cc + across * ss);
  q[5] = q[7] = cs * (along * ss + across * cc);
}

rw_status rw_lamina_stiffness(const rw_lamina *m, double angle, double q[9], rw_error *err)
{
  const char *me = "rw_lamina_stiffness";
  if (m == NULL || q == NULL)
    return rw_laminate_missing(me, m == NULL ? "m" : "q", err);
  rw_status status = rw_laminate_lamina(m, me, "", err);
  if (status == RW_OK)
    status = rw_laminate_angle(angle, me, "angle", err);
  if (status == RW_OK)
    rw_laminate_stiffness(m, angle, q);
  return status;
}

/* Half of what lies below less half of what lies above, both summed from the outside inwards: the
 * heights of a stack and of its mirror image are the same bits but for the sign. */
double rw_laminate_height(const rw_ply *ply, size_t n, size_t index)
{
  double below = 0, above = 0;
  for (size_t i = 0; i < index; i++)
    below += ply[i].thickness;
  for (size_t i = n - 1; i > index; i--)
    above += ply[i].thickness;
  return (below - above) / 2;
}

/* What one ply adds to A, B and D, 9 numbers each. */
static void ply_share(const rw_ply *p, double z, double share[27])
{
  double q[9], t = p->thickness;
  rw_laminate_stiffness(&p->material, p->angle, q);
  for (size_t i = 0; i < 9; i++) {
    share[i] = q[i] * t;
    share[9 + i] = q[i] * t * z;
    share[18 + i] = q[i] * (t * z * z + t * t * t / 12);
  }
}

/* Plies are added in pairs from the outside inwards, so that a stack that is its own mirror image
 * has a B of exact zeros. */
static void add_plies(const rw_ply *ply, size_t n, rw_stack *s)
{
  double sum[27] = {0};
  for (size_t i = 0; i < n - i; i++) {
    size_t mirror = n - 1 - i;
    double first[27], second[27] = {0};
    ply_share(&ply[i], rw_laminate_height(ply, n, i), first);
    if (mirror != i)
      ply_share(&ply[mirror], rw_laminate_height(ply, n, mirror), second);
    for (size_t k = 0; k < 27; k++)
      sum[k] += first[k] + second[k];
  }
  memcpy(s->A, sum, sizeof s->A);
  memcpy(s->B, sum + 9, sizeof s->B);
  memcpy(s->D, sum + 18, sizeof s->D);
  for (size_t i = 0; i < n; i++) {
    s->thickness += ply[i].thickness;
    s->areal_mass += ply[i].thickness * ply[i].material.density;
  }
}

/* Inverts [A B; B D] with a diagonal scaled to ones, so that a thin stack is as well conditioned
 * as a thick one, and makes the result symmetric to the bit. */
static rw_status invert(rw_stack *s)
{
  double full[36], inverse[36], scale[6];
  for (size_t i = 0; i < 3; i++) {
    scale[i] = sqrt(s->A[4 * i]);
    scale[i + 3] = sqrt(s->D[4 * i]);
  }
  for (size_t i = 0; i < 3; i++) {
    for (size_t j = 0; j < 3; j++) {
      size_t k = 3 * i + j;
      full[6 * i + j] = s->A[k] / scale[i] / scale[j];
      full[6 * i + j + 3] = full[6 * (j + 3) + i] = s->B[k] / scale[i] / scale[j + 3];
      full[6 * (i + 3) + j + 3] = s->D[k] / scale[i + 3] / scale[j + 3];
    }
  }
  if (rw_num_inverse(6, full, inverse, NULL) != RW_OK)
    return RW_ERR_NUMERIC;
  for (size_t i = 0; i < 6; i++) {
    for (size_t j = 0; j < 6; j++) {
      double value = (inverse[6 * i + j] + inverse[6 * j + i]) / 2 / (scale[i] * scale[j]);
      if (!isfinite(value) || (i == j && !(value > 0)))
        return RW_ERR_NUMERIC;
      s->abd[6 * i + j] = value;
    }
  }
  return RW_OK;
}

static void constants(rw_stack *s)
{
  double h = s->thickness;
  const double *c = s->abd;
  s->Ex = 1 / (h * c[0]);
  s->Ey = 1 / (h * c[7]);
  s->Gxy = 1 / (h * c[14]);
  s->nuxy = -c[1] / c[0];
  s->EIx = 1 / c[21];
  s->EIy = 1 / c[28];
}

rw_status rw_stack_make(const rw_ply *ply, size_t n, rw_stack *out, rw_error *err)
{
  const char *me = "rw_stack_make";
  rw_status status = rw_laminate_plies(ply, n, me, err);
  if (status != RW_OK)
    return status;
  if (out == NULL)
    return rw_laminate_missing(me, "out", err);
  rw_stack s = {0};
  add_plies(ply, n, &s);
  if (invert(&s) != RW_OK)
    return rw_error_set(err, RW_ERR_NUMERIC, me, "ply",
                        "see whether a modulus or a thickness is in the wrong unit",
                        "the stack's stiffness cannot be inverted: moduli or thicknesses of its "
                        "plies lie too far apart");
  constants(&s);
  *out = s;
  return RW_OK;
}

rw_status rw_stack_moduli_of(const rw_stack *s, rw_stack_moduli *out, rw_error *err)
{
  const char *me = "rw_stack_moduli_of";
  if (s == NULL || out == NULL)
    return rw_laminate_missing(me, s == NULL ? "s" : "out", err);
  rw_status status = rw_laminate_positive(s->thickness, me, "s.thickness", "m",
                                          "make the stack with rw_stack_make first", err);
  if (status == RW_OK)
    status = rw_laminate_positive(s->EIx, me, "s.EIx", "N m",
                                  "make the stack with rw_stack_make first", err);
  if (status != RW_OK)
    return status;
  const double *c = s->abd, h = s->thickness, bent = 12 / (h * h * h);
  *out = (rw_stack_moduli){.Ex = s->Ex,
                           .Ey = s->Ey,
                           .Gxy = s->Gxy,
                           .nuxy = s->nuxy,
                           .nuyx = -c[1] / c[7],
                           .skew_x = c[2] / c[0],
                           .skew_y = c[8] / c[7],
                           .bending_Ex = bent / c[21],
                           .bending_Ey = bent / c[28],
                           .bending_Gxy = bent / c[35],
                           .bending_nuxy = -c[22] / c[21],
                           .bending_nuyx = -c[22] / c[28]};
  return RW_OK;
}

void rw_stack_strain(const rw_stack *s, const double load[6], double strain[6])
{
  double sum[6] = {0};
  for (size_t i = 0; i < 6; i++)
    for (size_t j = 0; j < 6; j++)
      sum[i] += s->abd[6 * i + j] * load[j];
  memcpy(strain, sum, sizeof sum);
}

void rw_laminate_stress(const rw_ply *p, double z, const double strain[6], double global[3],
                        double local[3])
{
  double q[9];
  rw_laminate_stiffness(&p->material, p->angle, q);
  for (size_t i = 0; i < 3; i++) {
    global[i] = 0;
    for (size_t j = 0; j < 3; j++)
      global[i] += q[3 * i + j] * (strain[j] + z * strain[3 + j]);
  }
  double c = cos(p->angle), s = sin(p->angle);
  local[0] = global[0] * c * c + global[1] * s * s + 2 * global[2] * c * s;
  local[1] = global[0] * s * s + global[1] * c * c - 2 * global[2] * c * s;
  local[2] = (global[1] - global[0]) * c * s + global[2] * (c * c - s * s);
}

rw_status rw_stack_stress(const rw_ply *ply, size_t n, size_t index, double place,
                          const double strain[6], double global[3], double local[3], rw_error *err)
{
  const char *me = "rw_stack_stress";
  rw_status status = rw_laminate_plies(ply, n, me, err);
  if (status != RW_OK)
    return status;
  if (strain == NULL)
    return rw_laminate_missing(me, "strain", err);
  status = rw_laminate_place(n, index, place, me, err);
  if (status != RW_OK)
    return status;
  double z = rw_laminate_height(ply, n, index) + place * ply[index].thickness / 2;
  double in_laminate[3], in_ply[3];
  rw_laminate_stress(&ply[index], z, strain, in_laminate, in_ply);
  if (global != NULL)
    memcpy(global, in_laminate, sizeof in_laminate);
  if (local != NULL)
    memcpy(local, in_ply, sizeof in_ply);
  return RW_OK;
}

static rw_status beyond(const char *argument, double value, const char *unit, const char *why,
                        const char *hint, rw_error *err)
{
  char found[40];
  rw_text_round(value, 6, found);
  rw_error_set(err, RW_OUTSIDE_TESTED, "rw_stack_strip", argument, hint, "%s is %s %s: %s",
               argument, found, unit, why);
  if (err != NULL)
    err->value = value;
  return RW_OUTSIDE_TESTED;
}

rw_status rw_stack_strip(const rw_stack *s, double span, double load_per_width, double *deflection,
                         rw_error *err)
{
  const char *me = "rw_stack_strip";
  if (s == NULL || deflection == NULL)
    return rw_laminate_missing(me, s == NULL ? "s" : "deflection", err);
  rw_status status = rw_laminate_positive(s->EIx, me, "s.EIx", "N m",
                                          "make the stack with rw_stack_make first", err);
  if (status == RW_OK)
    status = rw_laminate_positive(span, me, "span", "m", "the distance between supports", err);
  if (status != RW_OK)
    return status;
  if (!isfinite(load_per_width))
    return rw_error_range(err, me, "load_per_width", load_per_width, -1e9, 1e9, "N/m",
                          "the load over the strip's width");
  double w = load_per_width * span * span * span / (48 * s->EIx);
  *deflection = w;
  if (span < 20 * s->thickness)
    return beyond("span", span, "m", "below 20 thicknesses shear, left out here, counts",
                  "take a longer strip", err);
  if (fabs(w) > span / 10)
    return beyond("deflection", w, "m", "above a tenth of the span bending is no longer linear",
                  "take a shorter strip or less load", err);
  return RW_OK;
}
