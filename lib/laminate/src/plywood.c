/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plywood by its veneers, and wood made thinner by fairing. */
#include "laminate_common.h"

#include <resinwright/num.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { MOST_VENEERS = 49 };
static const double quarter_turn = 3.14159265358979323846 / 2;

rw_status rw_plywood_make(const rw_lamina *veneer, double thickness, double face, size_t n,
                          double angle, rw_ply *ply, rw_error *err)
{
  const char *me = "rw_plywood_make";
  if (veneer == NULL || ply == NULL)
    return rw_laminate_missing(me, veneer == NULL ? "veneer" : "ply", err);
  if (n < 3 || n > MOST_VENEERS || n % 2 == 0)
    return rw_error_range(err, me, "n", (double)n, 3, MOST_VENEERS, "",
                          "plywood has an odd number of veneers, or it would warp");
  rw_status status = rw_laminate_lamina(veneer, me, "veneer.", err);
  if (status == RW_OK)
    status = rw_laminate_positive(thickness, me, "thickness", "m", "of the whole sheet", err);
  if (status == RW_OK)
    status = rw_laminate_angle(angle, me, "angle", err);
  if (status != RW_OK)
    return status;
  if (!(face >= 0 && 2 * face < thickness))
    return rw_error_range(err, me, "face", face, 0, thickness / 2, "m",
                          "each of the two outer veneers; 0 where all are equal");
  double inner = (thickness - 2 * face) / (double)(face > 0 ? n - 2 : n);
  double across = angle > 0 ? angle - quarter_turn : angle + quarter_turn;
  for (size_t i = 0; i < n; i++) {
    int outer = i == 0 || i == n - 1;
    ply[i] = (rw_ply){*veneer, outer && face > 0 ? face : inner, i % 2 == 0 ? angle : across};
  }
  return RW_OK;
}

typedef struct sanding {
  const rw_ply *ply;
  size_t n;
  const rw_fairing *fairing;
  rw_stack whole;
  rw_status status;
} sanding;

/* The plies with that much left of the wood; how many. */
static size_t sand(const sanding *s, double thickness, rw_ply *out)
{
  const rw_fairing *f = s->fairing;
  double left[RW_LAMINATE_PLIES] = {0};
  for (size_t i = 0; i < f->many; i++) { /* from the sound side on */
    size_t at = f->side < 0 ? f->which + f->many - 1 - i : f->which + i;
    left[at] = i + 1 == f->many ? thickness : fmin(thickness, s->ply[at].thickness);
    thickness -= left[at];
  }
  size_t n = 0;
  for (size_t i = 0; i < s->n; i++) {
    int faired = i >= f->which && i < f->which + f->many;
    if (faired && !(left[i] > 0))
      continue;
    out[n] = s->ply[i];
    if (faired)
      out[n].thickness = left[i];
    n++;
  }
  return n;
}

/* Bending stiffness left along and across with the wood that thick. */
static rw_status left_at(sanding *s, double thickness, double left[2], rw_error *err)
{
  rw_stack thinner;
  rw_ply ply[RW_LAMINATE_PLIES];
  size_t n = sand(s, thickness, ply);
  rw_status status = rw_stack_make(ply, n, &thinner, err);
  if (status == RW_OK) {
    left[0] = thinner.EIx / s->whole.EIx;
    left[1] = thinner.EIy / s->whole.EIy;
  }
  return status;
}

static double over_limit(double thickness, void *context)
{
  sanding *s = context;
  double left[2] = {0};
  s->status = rw_status_graver(s->status, left_at(s, thickness, left, NULL));
  return fmin(left[0], left[1]) - s->fairing->limit;
}

static rw_status check_fairing(const rw_ply *ply, size_t n, const rw_fairing *f,
                               const char *function, rw_error *err)
{
  rw_status status = rw_laminate_plies(ply, n, function, err);
  if (status != RW_OK)
    return status;
  if (f->which >= n)
    return rw_error_range(err, function, "which", (double)f->which, 0, (double)(n - 1), "",
                          "plies are counted from 0");
  if (f->many < 1 || f->many > n - f->which)
    return rw_error_range(err, function, "many", (double)f->many, 1, (double)(n - f->which), "",
                          "1 for a plank, the number of veneers for plywood");
  if (f->side != -1 && f->side != 1)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "side",
                        "take -1 for the first ply's side, 1 for the last one's",
                        "side %d is not known", f->side);
  if (f->thickness == NULL || f->readings == 0)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "thickness", "list at least one reading",
                        "there is no reading of the thickness");
  if (!(f->limit > 0 && f->limit < 1))
    return rw_error_range(err, function, "limit", f->limit, 0, 1, "",
                          "a share of the stiffness before fairing: 80 % is 0.8");
  for (size_t i = 0; i < f->readings; i++) {
    char name[40];
    snprintf(name, sizeof name, "thickness[%zu]", i + 1);
    status = rw_laminate_positive(f->thickness[i], function, name, "m",
                                  "a hole is no reading: mend it first", err);
    if (status != RW_OK)
      return status;
  }
  return RW_OK;
}

/* The thickness at which what is left meets the limit; 0 where the other plies alone meet it. */
static rw_status needed(sanding *s, double nominal, double *out, rw_error *err)
{
  double least = nominal * 1e-6;
  *out = 0;
  if (over_limit(least, s) >= 0)
    return s->status;
  rw_status status = rw_num_root(over_limit, s, least, nominal, nominal * 1e-12, out, err);
  return rw_status_graver(status, s->status);
}

rw_status rw_stack_faired(const rw_ply *ply, size_t n, const rw_fairing *fairing, rw_faired *out,
                          rw_error *err)
{
  const char *me = "rw_stack_faired";
  if (fairing == NULL || out == NULL)
    return rw_laminate_missing(me, fairing == NULL ? "fairing" : "out", err);
  rw_status status = check_fairing(ply, n, fairing, me, err);
  if (status != RW_OK)
    return status;
  sanding s = {.ply = ply, .n = n, .fairing = fairing, .status = RW_OK};
  status = rw_stack_make(ply, n, &s.whole, err);
  rw_faired found = {.along = HUGE_VAL, .across = HUGE_VAL};
  for (size_t i = 0; i < fairing->readings && status == RW_OK; i++) {
    double left[2];
    status = left_at(&s, fairing->thickness[i], left, err);
    if (status != RW_OK)
      break;
    double least = fmin(left[0], left[1]);
    found.below += least < fairing->limit;
    if (least < fmin(found.along, found.across)) {
      found.worst = i;
      found.along = left[0];
      found.across = left[1];
    }
  }
  double nominal = 0;
  for (size_t i = 0; i < fairing->many; i++)
    nominal += ply[fairing->which + i].thickness;
  if (status == RW_OK)
    status = needed(&s, nominal, &found.needed, err);
  if (status != RW_OK)
    return rw_laminate_in_name_of(me, status, err);
  *out = found;
  return RW_OK;
}
