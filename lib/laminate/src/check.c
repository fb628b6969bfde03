/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "laminate_common.h"

#include <resinwright/text.h>

#include <math.h>
#include <stdio.h>

rw_status rw_laminate_positive(double value, const char *function, const char *argument,
                               const char *unit, const char *hint, rw_error *err)
{
  if (value > 0 && value < HUGE_VAL)
    return RW_OK;
  char found[40];
  rw_text_round(value, 6, found);
  rw_error_set(err, RW_ERR_RANGE, function, argument, hint,
               "%s must be a number above zero: found %s%s%s", argument, found,
               unit[0] != '\0' ? " " : "", unit);
  if (err != NULL) {
    err->value = value;
    err->low = 0;
    err->high = HUGE_VAL;
  }
  return RW_ERR_RANGE;
}

double rw_laminate_known(double modulus, double other)
{
  return modulus > 0 ? modulus : other;
}

rw_status rw_laminate_missing(const char *function, const char *argument, rw_error *err)
{
  return rw_error_set(err, RW_ERR_ARGUMENT, function, argument, "give every argument",
                      "%s is missing", argument);
}

rw_status rw_laminate_in_name_of(const char *function, rw_status status, rw_error *err)
{
  if (status < 0 && err != NULL)
    snprintf(err->function, sizeof err->function, "%s", function);
  return status;
}

rw_status rw_laminate_lamina(const rw_lamina *m, const char *function, const char *prefix,
                             rw_error *err)
{
  const struct {
    const char *name, *unit;
    double value;
  } field[] = {{"density", "kg/m3", m->density},
               {"E1", "Pa", m->E1},
               {"E2", "Pa", m->E2},
               {"G12", "Pa", m->G12}};
  char name[64];
  for (size_t i = 0; i < sizeof field / sizeof field[0]; i++) {
    snprintf(name, sizeof name, "%s%s", prefix, field[i].name);
    rw_status status = rw_laminate_positive(
        field[i].value, function, name, field[i].unit,
        "every sheet material has some mass and some stiffness in each direction", err);
    if (status != RW_OK)
      return status;
  }
  const struct {
    const char *name;
    double value;
  } through[] = {{"G13", m->G13}, {"G23", m->G23}, {"E3", m->E3}, {"S23", m->S23}};
  for (size_t i = 0; i < sizeof through / sizeof through[0]; i++) {
    if (through[i].value == 0)
      continue;
    snprintf(name, sizeof name, "%s%s", prefix, through[i].name);
    rw_status status = rw_laminate_positive(through[i].value, function, name, "Pa",
                                            "give 0 where it is not known", err);
    if (status != RW_OK)
      return status;
  }
  double limit = sqrt(m->E1 / m->E2);
  if (fabs(m->nu12) < limit)
    return RW_OK;
  snprintf(name, sizeof name, "%snu12", prefix);
  return rw_error_range(err, function, name, m->nu12, -limit, limit, "",
                        "nu12 belongs to a pull along E1, and its square stays below E1/E2; see "
                        "whether E1 and E2 were swapped");
}

rw_status rw_laminate_place(size_t n, size_t index, double place, const char *function,
                            rw_error *err)
{
  if (index >= n)
    return rw_error_range(err, function, "index", (double)index, 0, (double)(n - 1), "",
                          "plies are counted from 0");
  if (!(fabs(place) <= 1))
    return rw_error_range(err, function, "place", place, -1, 1, "",
                          "-1 is the ply's lower face, 0 its middle, 1 its upper face");
  return RW_OK;
}

rw_status rw_lamina_check(const rw_lamina *m, rw_error *err)
{
  if (m == NULL)
    return rw_laminate_missing("rw_lamina_check", "m", err);
  return rw_laminate_lamina(m, "rw_lamina_check", "", err);
}

rw_status rw_laminate_angle(double angle, const char *function, const char *argument,
                            rw_error *err)
{
  const double turn = 2 * 3.14159265358979323846;
  if (fabs(angle) <= turn)
    return RW_OK;
  return rw_error_range(err, function, argument, angle, -turn, turn, "rad",
                        "angles are in radians here: 45 degrees is 0.785398");
}

static rw_status check_ply(const rw_ply *p, size_t number, const char *function, rw_error *err)
{
  char prefix[32], name[64];
  snprintf(prefix, sizeof prefix, "ply[%zu].", number);
  rw_status status = rw_laminate_lamina(&p->material, function, prefix, err);
  if (status != RW_OK)
    return status;
  snprintf(name, sizeof name, "%sthickness", prefix);
  status = rw_laminate_positive(p->thickness, function, name, "m",
                                "leave out a ply that is not there", err);
  if (status != RW_OK)
    return status;
  snprintf(name, sizeof name, "%sangle", prefix);
  return rw_laminate_angle(p->angle, function, name, err);
}

rw_status rw_laminate_plies(const rw_ply *ply, size_t n, const char *function, rw_error *err)
{
  if (ply == NULL || n == 0)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "ply", "list at least one ply",
                        "the stack is empty: it needs 1 to %d plies", RW_LAMINATE_PLIES);
  if (n > RW_LAMINATE_PLIES)
    return rw_error_range(err, function, "n", (double)n, 1, RW_LAMINATE_PLIES, "",
                          "join equal neighbouring plies into one thicker ply");
  for (size_t i = 0; i < n; i++) {
    rw_status status = check_ply(&ply[i], i + 1, function, err);
    if (status != RW_OK)
      return status;
  }
  return RW_OK;
}
