/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Works out the stacks that laminate.py hands over. Numbers go both ways as the 16 hexadecimal
 * digits of their bits, so that no digit is lost and no locale matters.
 *
 * In, for each stack: how many plies, 18 numbers for each, 8 of load and shear force. Out, one
 * number a line: A, B, D, their inverse, shear stiffness, strain under the load, stresses of both
 * faces in ply axes with free strains, factors of failure, shear stresses in the middle. */
#include <resinwright.h>

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = 16, FIELDS = 18 };

static int take(double *x)
{
  uint64_t bits;
  if (scanf("%" SCNx64, &bits) != 1)
    return 0;
  memcpy(x, &bits, sizeof bits);
  return 1;
}

static void give(const double *x, size_t n)
{
  for (size_t i = 0; i < n; i++) {
    uint64_t bits;
    memcpy(&bits, &x[i], sizeof bits);
    printf("%016" PRIx64 "\n", bits);
  }
}

static void must(rw_status status, const rw_error *err)
{
  if (status == RW_OK)
    return;
  fprintf(stderr, "%s: %s\n", err->function, err->message);
  exit(1);
}

static int take_ply(rw_ply *p, double free[3])
{
  double x[FIELDS];
  for (size_t i = 0; i < FIELDS; i++)
    if (!take(&x[i]))
      return 0;
  p->material = (rw_lamina){.E1 = x[0],
                            .E2 = x[1],
                            .G12 = x[2],
                            .nu12 = x[3],
                            .G13 = x[4],
                            .G23 = x[5],
                            .density = x[6],
                            .Xt = x[9],
                            .Xc = x[10],
                            .Yt = x[11],
                            .Yc = x[12],
                            .S = x[13]};
  p->thickness = x[7];
  p->angle = x[8];
  memcpy(free, x + 14, 3 * sizeof *free);
  return 1;
}

static void work(const rw_ply *ply, size_t n, const double *free, const double *load,
                 const double *force)
{
  const rw_criterion all[] = {RW_MAX_STRESS, RW_TSAI_WU, RW_MAX_STRAIN, RW_TSAI_HILL};
  rw_error err;
  rw_stack s;
  double h[3], whole[6], strain[6], stress[3], middle[2];
  must(rw_stack_make(ply, n, &s, &err), &err);
  give(s.A, 9);
  give(s.B, 9);
  give(s.D, 9);
  give(s.abd, 36);
  must(rw_stack_shear(ply, n, &s, h, &err), &err);
  give(h, 3);
  must(rw_stack_free_load(ply, n, free, whole, &err), &err);
  for (size_t k = 0; k < 6; k++)
    whole[k] += load[k];
  rw_stack_strain(&s, whole, strain);
  give(strain, 6);
  for (size_t i = 0; i < n; i++) {
    for (int face = -1; face <= 1; face += 2) {
      must(rw_stack_free_stress(ply, n, i, face, strain, free, NULL, stress, &err), &err);
      give(stress, 3);
    }
  }
  for (size_t c = 0; c < 4; c++) {
    rw_first_failure each[MOST];
    must(rw_stack_failures(ply, n, &s, load, all[c] == RW_TSAI_HILL ? NULL : free, all[c], each,
                           &err),
         &err);
    for (size_t i = 0; i < n; i++)
      give(&each[i].factor, 1);
  }
  for (size_t i = 0; i < n; i++) {
    must(rw_stack_shear_stress(ply, n, &s, i, 0, force, middle, NULL, &err), &err);
    give(middle, 2);
  }
}

int main(void)
{
  int n;
  while (scanf("%d", &n) == 1) {
    rw_ply ply[MOST];
    double free[3 * MOST], load[8];
    if (n < 1 || n > MOST)
      return 2;
    for (int i = 0; i < n; i++)
      if (!take_ply(&ply[i], free + 3 * i))
        return 2;
    for (int i = 0; i < 8; i++)
      if (!take(&load[i]))
        return 2;
    work(ply, (size_t)n, free, load, load + 6);
  }
  return 0;
}
