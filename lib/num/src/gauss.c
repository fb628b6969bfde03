/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <resinwright/num.h>

double rw_num_gauss5(int i, double *weight)
{
  static const double place[RW_NUM_GAUSS5] = {
      0.5 - 0.5 * 0.90617984593866399280, 0.5 - 0.5 * 0.53846931010568309104, 0.5,
      0.5 + 0.5 * 0.53846931010568309104, 0.5 + 0.5 * 0.90617984593866399280};
  static const double half[RW_NUM_GAUSS5] = {0.23692688505618908751, 0.47862867049936646804,
                                             0.56888888888888888889, 0.47862867049936646804,
                                             0.23692688505618908751};
  *weight = 0.5 * half[i];
  return place[i];
}
