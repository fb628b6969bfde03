/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "laminate_common.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const char FUNCTION[] = "rw_stack_uncertain";
enum { MOST_GROUPS = RW_LAMINATE_GROUPS };

rw_status rw_laminate_groups(size_t n, const size_t *group, const double *relative, size_t groups,
                             const char *function, rw_error *err)
{
  if (groups < 1 || groups > MOST_GROUPS)
    return rw_error_range(err, function, "groups", (double)groups, 1, MOST_GROUPS, "", NULL);
  if (n < 1 || n > RW_LAMINATE_PLIES)
    return rw_error_range(err, function, "n", (double)n, 1, RW_LAMINATE_PLIES, "", NULL);
  char name[40];
  for (size_t i = 0; i < n; i++) {
    snprintf(name, sizeof name, "group[%zu]", i + 1);
    if (group[i] >= groups)
      return rw_error_range(err, function, name, (double)group[i], 0, (double)groups - 1, "",
                            NULL);
  }
  for (size_t g = 0; g < groups; g++) {
    snprintf(name, sizeof name, "relative[%zu]", g + 1);
    if (!(relative[g] >= 0 && relative[g] <= 0.9))
      return rw_error_range(err, function, name, relative[g], 0, 0.9, "", NULL);
  }
  return RW_OK;
}

void rw_laminate_stiffen(rw_lamina *m, double factor)
{
  double *const modulus[] = {&m->E1, &m->E2, &m->G12, &m->G13, &m->G23, &m->E3};
  for (size_t i = 0; i < sizeof modulus / sizeof modulus[0]; i++)
    *modulus[i] *= factor;
}

/* The stack with one group stiffer (or softer) by a factor. */
static rw_status scaled(const rw_ply *ply, size_t n, const size_t *group, size_t which,
                        double factor, rw_stack *out, rw_error *err)
{
  rw_ply changed[RW_LAMINATE_PLIES];
  memcpy(changed, ply, n * sizeof *ply);
  for (size_t i = 0; i < n; i++)
    if (group[i] == which)
      rw_laminate_stiffen(&changed[i].material, factor);
  return rw_stack_make(changed, n, out, err);
}

static void add(rw_value *sum, double half_difference, size_t group, double *largest,
                size_t *because)
{
  sum->sd = hypot(sum->sd, half_difference);
  if (half_difference > *largest) {
    *largest = half_difference;
    *because = group;
  }
}

rw_status rw_stack_uncertain(const rw_ply *ply, size_t n, const size_t *group,
                             const double *relative, size_t groups, rw_stack_spread *out,
                             rw_error *err)
{
  rw_status status = rw_laminate_groups(n, group, relative, groups, FUNCTION, err);
  rw_stack best, soft, stiff;
  if (status == RW_OK)
    status = rw_stack_make(ply, n, &best, err);
  if (status < 0)
    return status;
  rw_stack_spread spread = {.EIx = {best.EIx, 0}, .EIy = {best.EIy, 0}};
  double largest_x = 0, largest_y = 0;
  for (size_t g = 0; g < groups; g++) {
    rw_status one = scaled(ply, n, group, g, 1 - relative[g], &soft, err);
    if (one >= 0)
      one = scaled(ply, n, group, g, 1 + relative[g], &stiff, err);
    if (one < 0)
      return one;
    add(&spread.EIx, (stiff.EIx - soft.EIx) / 2, g, &largest_x, &spread.because_x);
    add(&spread.EIy, (stiff.EIy - soft.EIy) / 2, g, &largest_y, &spread.because_y);
  }
  *out = spread;
  return status;
}
