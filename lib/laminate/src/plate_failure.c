/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plate_common.h"

#include <math.h>

static const char FUNCTION[] = "rw_bent_plate_failure";

typedef struct failing {
  const rw_stack *stack;
  const rw_ply *ply;
  size_t n;
  rw_criterion criterion;
} failing;

/* Places without any load, such as a corner, can't fail. */
static rw_status fail_at(const rw_plate_point *point, const failing *f, rw_first_failure *out,
                         rw_error *err)
{
  *out = (rw_first_failure){HUGE_VAL, 0, 0, RW_MODE_NONE};
  for (size_t i = 0; i < 6; i++)
    if (point->load[i] != 0)
      return rw_stack_first_failure(f->ply, f->n, f->stack, point->load, f->criterion, out, err);
  return RW_OK;
}

static double by_failure(const rw_plate_point *point, void *context)
{
  rw_first_failure found;
  if (fail_at(point, context, &found, NULL) != RW_OK)
    return -HUGE_VAL;
  return 1 / found.factor;
}

rw_status rw_plate_same_stack(const rw_bent_plate *p, const rw_ply *ply, size_t n,
                              const char *function, rw_error *err)
{
  rw_stack s;
  rw_status status = rw_laminate_in_name_of(function, rw_stack_make(ply, n, &s, err), err);
  const double *D = p->stack.D;
  for (size_t i = 0; i < 9 && status == RW_OK; i++)
    if (!(fabs(s.D[i] - D[i]) <= 1e-6 * sqrt(D[4 * (i / 3)] * D[4 * (i % 3)])))
      status = rw_error_set(err, RW_ERR_ARGUMENT, function, "ply",
                            "give the plies whose stack was bent",
                            "the plies make another stack than the panel's");
  return status;
}

rw_status rw_bent_plate_failure(const rw_bent_plate *p, const rw_ply *ply, size_t n,
                                rw_criterion criterion, rw_plate_failure *out, rw_error *err)
{
  if (p == NULL || out == NULL)
    return rw_laminate_missing(FUNCTION, p == NULL ? "p" : "out", err);
  rw_status status = rw_plate_same_stack(p, ply, n, FUNCTION, err);
  if (status != RW_OK)
    return status;
  failing f = {&p->stack, ply, n, criterion};
  rw_first_failure probe;
  status = fail_at(&p->result.stretched, &f, &probe, err);
  if (status != RW_OK)
    return rw_laminate_in_name_of(FUNCTION, status, err);
  rw_plate_point worst;
  status = rw_plate_search(p, by_failure, &f, FUNCTION, &worst, err);
  if (status == RW_OK)
    status = fail_at(&worst, &f, &probe, err);
  if (status == RW_OK)
    *out = (rw_plate_failure){probe, worst.x, worst.y};
  return status;
}
