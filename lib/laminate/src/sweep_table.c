/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One kind of ply at one angle, turned once for all stacks. */
#include "sweep.h"

#include <math.h>
#include <string.h>

/* Turns rows i and k of a 3 x 3 matrix so that column i of row k becomes zero. */
static void turn(double m[3][3], size_t i, size_t k)
{
  double length = hypot(m[i][i], m[k][i]);
  if (length == 0)
    return;
  double c = m[i][i] / length, s = m[k][i] / length;
  for (size_t j = 0; j < 3; j++) {
    double upper = m[i][j], lower = m[k][j];
    m[i][j] = c * upper + s * lower;
    m[k][j] = c * lower - s * upper;
  }
}

/* Stress in ply axes for a unit of each strain in laminate axes, columns. */
static void stresses(const rw_ply *p, double stress[3][3])
{
  for (size_t j = 0; j < 3; j++) {
    double strain[6] = {0}, global[3], local[3];
    strain[j] = 1;
    rw_laminate_stress(p, 0, strain, global, local);
    for (size_t i = 0; i < 3; i++)
      stress[i][j] = local[i];
  }
}

/* f11 s1^2 + f22 s2^2 - sqrt(f11 f22) s1 s2 + f66 t^2 is a sum of three squares, of
 * sqrt f11 s1 - sqrt f22 s2/2, sqrt(3 f22)/2 s2 and t/S; turned into triangular form it has six
 * numbers, and no difference of large ones can make it negative. */
static void tsai_wu(const rw_ply *p, sweep_entry *to)
{
  const rw_lamina *m = &p->material;
  if (!(m->Xt > 0))
    return;
  double s[3][3], square[3][3];
  stresses(p, s);
  double r1 = 1 / sqrt(m->Xt * m->Xc), r2 = 1 / sqrt(m->Yt * m->Yc);
  for (size_t j = 0; j < 3; j++) {
    square[0][j] = r1 * s[0][j] - r2 / 2 * s[1][j];
    square[1][j] = sqrt(3) / 2 * r2 * s[1][j];
    square[2][j] = s[2][j] / m->S;
    to->g[j] = (1 / m->Xt - 1 / m->Xc) * s[0][j] + (1 / m->Yt - 1 / m->Yc) * s[1][j];
  }
  turn(square, 0, 1);
  turn(square, 0, 2);
  turn(square, 1, 2);
  const double R[6] = {square[0][0], square[0][1], square[0][2],
                       square[1][1], square[1][2], square[2][2]};
  memcpy(to->R, R, sizeof R);
}

void rw_sweep_prepare(const sweep_source *from, sweep_entry *to)
{
  const rw_sweep_ply *k = &from->ply;
  rw_ply p = {k->material, k->thickness, from->angle};
  double q[9];
  rw_laminate_stiffness(&p.material, p.angle, q);
  *to =
      (sweep_entry){.Q = {q[0], q[1], q[4], q[2], q[5], q[8]},
                    .t = k->thickness,
                    .mass = k->areal_mass > 0 ? k->areal_mass : k->thickness * k->material.density,
                    .resin = k->resin,
                    .cost = k->cost};
  tsai_wu(&p, to);
}
