/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Laps and scarfs: length from the shear that glue bears. */
#include "laminate_common.h"

#include <resinwright/num.h>
#include <resinwright/panel.h>

#include <math.h>

static rw_status check_bond(const rw_bond *bond, const char *me, rw_error *err)
{
  const struct {
    const char *name, *unit, *hint;
    double value;
  } field[] = {
      {"force", "N/m",
       "what the lap carries per metre of width: strength times thickness of the "
       "weaker skin for a full joint",
       bond->force},
      {"EA1", "N/m", "modulus times thickness of the skin", bond->EA1},
      {"EA2", "N/m", "modulus times thickness of the skin", bond->EA2},
      {"G", "Pa", "cured epoxy has about 1 GPa", bond->G},
      {"thickness", "m", "of the glue line", bond->thickness},
      {"strength", "Pa", "shear strength of the glue line", bond->strength},
  };
  for (size_t i = 0; i < sizeof field / sizeof field[0]; i++) {
    rw_status status =
        rw_laminate_positive(field[i].value, me, field[i].name, field[i].unit, field[i].hint, err);
    if (status != RW_OK)
      return status;
  }
  return RW_OK;
}

static rw_status check_factor(double factor, const char *me, rw_error *err)
{
  if (factor >= 1 && factor <= 20)
    return RW_OK;
  return rw_error_range(err, me, "factor", factor, 1, 20, "",
                        "of safety: 1 uses the glue to its limit");
}

/* How fast shear dies away from an end, 1/m. */
static double decay(const rw_bond *b)
{
  return sqrt(b->G / b->thickness * (1 / b->EA1 + 1 / b->EA2));
}

/* tau'' = decay^2 tau, tau' = G/t (strain 2 - strain 1). */
static rw_lap lap_of(const rw_bond *b, double length)
{
  double k = decay(b), e = exp(-2 * k * length);
  double coth = (1 + e) / (1 - e), cosech = 2 * exp(-k * length) / (1 - e);
  double size = b->force * b->G / (b->thickness * k);
  rw_lap lap = {.length = length, .average = b->force / length};
  lap.end[0] = size * (coth / b->EA1 + cosech / b->EA2);
  lap.end[1] = size * (coth / b->EA2 + cosech / b->EA1);
  lap.peak = fmax(lap.end[0], lap.end[1]);
  return lap;
}

rw_status rw_lap_at(const rw_bond *bond, double length, rw_lap *out, rw_error *err)
{
  const char *me = "rw_lap_at";
  if (bond == NULL || out == NULL)
    return rw_laminate_missing(me, bond == NULL ? "bond" : "out", err);
  rw_status status = check_bond(bond, me, err);
  if (status == RW_OK)
    status = rw_laminate_positive(length, me, "length", "m", "of the overlap", err);
  if (status == RW_OK)
    *out = lap_of(bond, length);
  return status;
}

typedef struct search {
  const rw_bond *bond;
  double allowed;
} search;

static double too_much(double length, void *context)
{
  const search *s = context;
  return lap_of(s->bond, length).peak - s->allowed;
}

rw_status rw_lap_for(const rw_bond *bond, double factor, rw_lap *average, rw_lap *peak,
                     rw_error *err)
{
  const char *me = "rw_lap_for";
  if (bond == NULL || average == NULL || peak == NULL)
    return rw_laminate_missing(me,
                               bond == NULL      ? "bond"
                               : average == NULL ? "average"
                                                 : "peak",
                               err);
  rw_status status = check_bond(bond, me, err);
  if (status == RW_OK)
    status = check_factor(factor, me, err);
  if (status != RW_OK)
    return status;
  search s = {bond, bond->strength / factor};
  double shortest = bond->force / s.allowed, k = decay(bond);
  /* Beyond 18/k the exponentials are below rounding. */
  double longest = fmax(18 / k, 2 * shortest), length;
  if (!(too_much(longest, &s) < 0)) {
    *average = lap_of(bond, shortest);
    *peak = lap_of(bond, 5 / k);
    return rw_error_set(err, RW_NO_SOLUTION, me, "strength",
                        "step or taper the patch, take thinner layers or less load",
                        "even an endless lap has a peak of shear above what is allowed");
  }
  if (too_much(shortest, &s) <= 0)
    length = shortest;
  else
    status = rw_num_root(too_much, &s, shortest, longest, 1e-9 * shortest, &length, err);
  if (status != RW_OK)
    return rw_laminate_in_name_of(me, status, err);
  *average = lap_of(bond, shortest);
  *peak = lap_of(bond, length);
  return RW_OK;
}

rw_status rw_scarf_for(double stress, double strength, double thickness, double factor,
                       double *slope, double *length, rw_error *err)
{
  const char *me = "rw_scarf_for";
  if (slope == NULL || length == NULL)
    return rw_laminate_missing(me, slope == NULL ? "slope" : "length", err);
  rw_status status = rw_laminate_positive(stress, me, "stress", "Pa",
                                          "its tensile strength for a full joint", err);
  if (status == RW_OK)
    status = rw_laminate_positive(strength, me, "strength", "Pa",
                                  "shear strength of the glue line", err);
  if (status == RW_OK)
    status = rw_laminate_positive(thickness, me, "thickness", "m", "of what is joined", err);
  if (status == RW_OK)
    status = check_factor(factor, me, err);
  if (status != RW_OK)
    return status;
  /* n/(1 + n^2) is 1/2 at n = 1 and falls from there on. */
  double ratio = stress * factor / strength;
  *slope = ratio > 2 ? (ratio + sqrt(ratio * ratio - 4)) / 2 : 1;
  *length = *slope * thickness;
  return RW_OK;
}
