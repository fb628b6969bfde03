/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shear through the thickness, from the balance of the stresses along the plies. */
#include "laminate_common.h"

#include <resinwright/num.h>

#include <math.h>
#include <string.h>

/* How the shear stresses grow with height in one ply, per unit Qx (row 0) and Qy (row 1): xz and
 * yz fall by even z + bent z^2/2. */
typedef struct growth {
  double even[4];
  double bent[4];
} growth;

/* Strains and curvatures that grow along x with a unit Qx, or along y with a unit Qy, in a plate
 * held flat across: the force and the moment across are those that keep it flat. */
static void rates(const rw_stack *s, size_t side, double rate[6])
{
  size_t bend = 3 + side, flat = 1 - side, curl = 4 - side;
  const double *c = s->abd;
  double a = c[7 * flat], b = c[6 * flat + curl], d = c[7 * curl];
  double one = c[6 * flat + bend], two = c[6 * curl + bend], det = a * d - b * b;
  double force = (b * two - d * one) / det, moment = (b * one - a * two) / det;
  for (size_t j = 0; j < 6; j++)
    rate[j] = c[6 * j + bend] + c[6 * j + flat] * force + c[6 * j + curl] * moment;
}

/* What balances sigma_x and tau_xy where the moment grows along x, tau_xy and sigma_y where it
 * grows along y. */
static growth growth_in(const rw_ply *p, const double rate[12])
{
  static const size_t row[2][2] = {{0, 2}, {2, 1}};
  growth g;
  double q[9];
  rw_laminate_stiffness(&p->material, p->angle, q);
  for (size_t side = 0; side < 2; side++) {
    for (size_t k = 0; k < 2; k++) {
      double even = 0, bent = 0;
      for (size_t j = 0; j < 3; j++) {
        double stiff = q[3 * row[side][k] + j];
        even += stiff * rate[6 * side + j];
        bent += stiff * rate[6 * side + 3 + j];
      }
      g.even[2 * side + k] = even;
      g.bent[2 * side + k] = bent;
    }
  }
  return g;
}

/* From height z0 up by t. */
static void climb(const growth *g, double z0, double t, const double from[4], double to[4])
{
  for (size_t k = 0; k < 4; k++)
    to[k] = from[k] - t * (g->even[k] + g->bent[k] * (z0 + t / 2));
}

/* Stresses 13 and 23 from xz and yz. */
static void along_ply(double angle, const double global[2], double local[2])
{
  double c = cos(angle), s = sin(angle);
  local[0] = c * global[0] + s * global[1];
  local[1] = c * global[1] - s * global[0];
}

/* Adds the energy of one ply: compliances xz, yz and their coupling. Quartic in z, so five points
 * are exact. */
static void add_energy(const rw_ply *p, const growth *g, double z0, const double from[4],
                       double energy[3])
{
  double G13 = rw_laminate_known(p->material.G13, p->material.G12);
  double G23 = rw_laminate_known(p->material.G23, p->material.G12);
  for (int i = 0; i < RW_NUM_GAUSS5; i++) {
    double weight, at[4], x[2], y[2];
    double place = rw_num_gauss5(i, &weight);
    climb(g, z0, place * p->thickness, from, at);
    along_ply(p->angle, at, x);
    along_ply(p->angle, at + 2, y);
    weight *= p->thickness;
    energy[0] += weight * (x[0] * x[0] / G13 + x[1] * x[1] / G23);
    energy[1] += weight * (y[0] * y[0] / G13 + y[1] * y[1] / G23);
    energy[2] += weight * (x[0] * y[0] / G13 + x[1] * y[1] / G23);
  }
}

static rw_status check(const rw_ply *ply, size_t n, const rw_stack *s, const char *function,
                       rw_error *err)
{
  rw_status status = rw_laminate_plies(ply, n, function, err);
  return status == RW_OK && s == NULL ? rw_laminate_missing(function, "s", err) : status;
}

rw_status rw_stack_shear(const rw_ply *ply, size_t n, const rw_stack *s, double h[3],
                         rw_error *err)
{
  const char *me = "rw_stack_shear";
  rw_status status = check(ply, n, s, me, err);
  if (status != RW_OK)
    return status;
  if (h == NULL)
    return rw_laminate_missing(me, "h", err);
  double at[4] = {0}, energy[3] = {0}, rate[12];
  rates(s, 0, rate);
  rates(s, 1, rate + 6);
  for (size_t i = 0; i < n; i++) {
    growth g = growth_in(&ply[i], rate);
    double bottom = rw_laminate_height(ply, n, i) - ply[i].thickness / 2, next[4];
    add_energy(&ply[i], &g, bottom, at, energy);
    climb(&g, bottom, ply[i].thickness, at, next);
    memcpy(at, next, sizeof at);
  }
  double scale = sqrt(energy[0]) * sqrt(energy[1]), tie = energy[2] / scale;
  double share = 1 - tie * tie;
  if (!(share > 0 && scale > 0 && scale < HUGE_VAL))
    return rw_error_set(err, RW_ERR_NUMERIC, me, "s", "give the stack that belongs to these plies",
                        "the shear stiffness cannot be found from this stack");
  h[0] = 1 / (energy[0] * share);
  h[1] = 1 / (energy[1] * share);
  h[2] = -tie / (scale * share);
  return RW_OK;
}

/* Counted from whichever face is nearer, so that both faces are free of stress to the bit. */
static void stress_at(const rw_ply *ply, size_t n, const rw_stack *s, size_t index, double place,
                      double at[4])
{
  int down = 2 * index + 1 > n || (2 * index + 1 == n && place > 0);
  double sign = down ? -1 : 1, next[4], rate[12];
  rates(s, 0, rate);
  rates(s, 1, rate + 6);
  memset(at, 0, 4 * sizeof *at);
  for (size_t k = 0; k <= (down ? n - 1 - index : index); k++) {
    size_t i = down ? n - 1 - k : k;
    double share = i == index ? (1 + sign * place) / 2 : 1;
    double outer = rw_laminate_height(ply, n, i) - sign * ply[i].thickness / 2;
    growth g = growth_in(&ply[i], rate);
    climb(&g, outer, sign * share * ply[i].thickness, at, next);
    memcpy(at, next, sizeof next);
  }
}

rw_status rw_stack_shear_stress(const rw_ply *ply, size_t n, const rw_stack *s, size_t index,
                                double place, const double force[2], double global[2],
                                double local[2], rw_error *err)
{
  const char *me = "rw_stack_shear_stress";
  rw_status status = check(ply, n, s, me, err);
  if (status != RW_OK)
    return status;
  if (force == NULL)
    return rw_laminate_missing(me, "force", err);
  status = rw_laminate_place(n, index, place, me, err);
  for (size_t k = 0; k < 2 && status == RW_OK; k++)
    if (!isfinite(force[k]))
      status = rw_error_range(err, me, k == 0 ? "force Qx" : "force Qy", force[k], -1e12, 1e12,
                              "N/m", "shear forces are per metre of width");
  if (status != RW_OK)
    return status;
  double at[4], sum[2], turned[2];
  stress_at(ply, n, s, index, place, at);
  for (size_t k = 0; k < 2; k++)
    sum[k] = force[0] * at[k] + force[1] * at[2 + k];
  along_ply(ply[index].angle, sum, turned);
  if (global != NULL)
    memcpy(global, sum, sizeof sum);
  if (local != NULL)
    memcpy(local, turned, sizeof turned);
  return RW_OK;
}
