/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wood as a sheet: species, cut and moisture. */
#include "laminate_common.h"

#include <math.h>

/* Moisture the tables' woods were tested at. */
static const double tested = 0.12;
/* Of the shear modulus along the grain where the tables have none across: the least of the woods
 * that have one, 0.049, rounded. */
static const double least_rolling = 0.05;
/* Rolling shear strength over that along the grain, 0.18 to 0.28 (memory): its low end. */
static const double rolling_strength = 0.18;

typedef struct wood {
  rw_lamina flat; /* strengths and density; moduli below */
  double EL, ET, ER, GLT, GLR, GRT, nuLT, nuLR;
} wood;

static rw_status find(const char *function, const char *name, wood *w, rw_error *err)
{
  rw_lamina *f = &w->flat;
  const rw_laminate_wanted want[] = {
      {"density", &f->density}, {"EL", &w->EL},       {"ET_EL", &w->ET},     {"ER_EL", &w->ER},
      {"GLT_EL", &w->GLT},      {"GLR_EL", &w->GLR},  {"nuLT", &w->nuLT},    {"nuLR", &w->nuLR},
      {"MOR", &f->Xt},          {"comp_par", &f->Xc}, {"tens_perp", &f->Yt}, {"comp_perp", &f->Yc},
      {"shear_par", &f->S}};
  const rw_laminate_wanted rolling = {"GRT_EL", &w->GRT};
  rw_status status =
      rw_laminate_look_up(function, RW_WOOD, name, want, sizeof want / sizeof want[0], err);
  if (status != RW_OK)
    return status;
  if (rw_laminate_look_up(function, RW_WOOD, name, &rolling, 1, NULL) != RW_OK)
    w->GRT = least_rolling * w->GLT;
  double *ratio[] = {&w->ET, &w->ER, &w->GLT, &w->GLR, &w->GRT};
  for (size_t i = 0; i < sizeof ratio / sizeof ratio[0]; i++)
    *ratio[i] *= w->EL;
  return RW_OK;
}

static void cut_from(const wood *w, rw_cut cut, rw_lamina *out)
{
  int flat = cut == RW_FLAT_SAWN;
  *out = w->flat;
  out->E1 = w->EL;
  out->E2 = flat ? w->ET : w->ER;
  out->E3 = flat ? w->ER : w->ET;
  out->G12 = flat ? w->GLT : w->GLR;
  out->G13 = flat ? w->GLR : w->GLT;
  out->G23 = w->GRT;
  out->nu12 = flat ? w->nuLT : w->nuLR;
  out->S23 = rolling_strength * out->S;
}

static double moved(double at_12, double gain, double moisture, double green)
{
  return at_12 * pow(gain, (tested - fmin(moisture, green)) / (green - tested));
}

rw_status rw_lamina_wood_property(double at_12, double when_green, double moisture, double green,
                                  double *value, rw_error *err)
{
  const char *me = "rw_lamina_wood_property";
  if (value == NULL)
    return rw_laminate_missing(me, "value", err);
  rw_status status = rw_laminate_positive(at_12, me, "at_12", "", "the value at 12 %", err);
  if (status == RW_OK)
    status = rw_laminate_positive(when_green, me, "when_green", "", "the value when green", err);
  if (status != RW_OK)
    return status;
  if (!(moisture >= 0 && moisture <= 2))
    return rw_error_range(err, me, "moisture", moisture, 0, 2, "",
                          "a share of the dry mass: 15 % is 0.15");
  if (!(green >= 0.15 && green <= 0.4))
    return rw_error_range(err, me, "green", green, 0.15, 0.4, "",
                          "a share of the dry mass: 0.25 where no other is known");
  *value = moved(at_12, at_12 / when_green, moisture, green);
  return RW_OK;
}

static rw_status wet(const char *function, const char *name, double moisture, rw_lamina *m,
                     rw_error *err)
{
  double stiff, bend, along, across, shear, green;
  const rw_laminate_wanted want[] = {{"dry_MOE", &stiff},       {"dry_MOR", &bend},
                                     {"dry_comp_par", &along},  {"dry_comp_perp", &across},
                                     {"dry_shear_par", &shear}, {"green_moisture", &green}};
  rw_status status =
      rw_laminate_look_up(function, RW_WOOD, name, want, sizeof want / sizeof want[0], err);
  if (status != RW_OK)
    return status;
  double *modulus[] = {&m->E1, &m->E2, &m->E3, &m->G12, &m->G13, &m->G23};
  for (size_t i = 0; i < sizeof modulus / sizeof modulus[0]; i++)
    *modulus[i] = moved(*modulus[i], stiff, moisture, green);
  m->Xt = moved(m->Xt, bend, moisture, green);
  m->Xc = moved(m->Xc, along, moisture, green);
  m->Yc = moved(m->Yc, across, moisture, green);
  m->S = moved(m->S, shear, moisture, green);
  m->S23 = moved(m->S23, shear, moisture, green);
  m->density *= (1 + moisture) / (1 + tested);
  return RW_OK;
}

/* Standard deviations over values of n properties. */
static rw_status spreads_of(const char *function, const char *name, const rw_laminate_wanted *want,
                            size_t n, rw_error *err)
{
  const rw_material *found;
  const rw_property *one;
  rw_status status = rw_material_find(RW_WOOD, name, &found, err);
  for (size_t i = 0; i < n && status == RW_OK; i++) {
    status = rw_material_property(found, want[i].name, &one, err);
    if (status == RW_OK)
      *want[i].to = one->sd / one->value;
  }
  return rw_laminate_in_name_of(function, status, err);
}

static rw_status make(const char *function, const char *name, rw_cut cut, double moisture,
                      rw_lamina *out, double *spread, rw_error *err)
{
  if (name == NULL || out == NULL)
    return rw_laminate_missing(function, name == NULL ? "name" : "out", err);
  wood w = {.flat = {.density = 0}};
  rw_lamina sheet;
  double sd = 0;
  rw_status status = find(function, name, &w, err);
  if (status == RW_OK)
    status = spreads_of(function, name, &(rw_laminate_wanted){"EL", &sd}, 1, err);
  if (status != RW_OK)
    return status;
  cut_from(&w, cut, &sheet);
  if (moisture != tested)
    status = wet(function, name, moisture, &sheet, err);
  if (status != RW_OK)
    return status;
  *out = sheet;
  if (spread != NULL)
    *spread = sd;
  return RW_OK;
}

rw_status rw_lamina_wood_strength_spread(const char *name, rw_strength_spread *out, rw_error *err)
{
  const char *me = "rw_lamina_wood_strength_spread";
  if (name == NULL || out == NULL)
    return rw_laminate_missing(me, name == NULL ? "name" : "out", err);
  rw_strength_spread s;
  const rw_laminate_wanted want[] = {{"MOR", &s.Xt},
                                     {"comp_par", &s.Xc},
                                     {"tens_perp", &s.Yt},
                                     {"comp_perp", &s.Yc},
                                     {"shear_par", &s.S}};
  rw_status status = spreads_of(me, name, want, sizeof want / sizeof want[0], err);
  if (status == RW_OK)
    *out = s;
  return status;
}

rw_status rw_lamina_wood(const char *name, rw_lamina *out, double *spread, rw_error *err)
{
  return make("rw_lamina_wood", name, RW_FLAT_SAWN, tested, out, spread, err);
}

static rw_status check_cut(const char *function, rw_cut cut, rw_error *err)
{
  if (cut == RW_FLAT_SAWN || cut == RW_QUARTER_SAWN)
    return RW_OK;
  return rw_error_set(err, RW_ERR_ARGUMENT, function, "cut",
                      "take RW_FLAT_SAWN or RW_QUARTER_SAWN", "cut %d is not known", (int)cut);
}

rw_status rw_lamina_wood_cut(const char *name, rw_cut cut, double moisture, rw_lamina *out,
                             double *spread, rw_error *err)
{
  const char *me = "rw_lamina_wood_cut";
  rw_status status = check_cut(me, cut, err);
  if (status != RW_OK)
    return status;
  if (!(moisture >= 0 && moisture <= 2))
    return rw_error_range(err, me, "moisture", moisture, 0, 2, "",
                          "a share of the dry mass: 12 % is 0.12");
  return make(me, name, cut, moisture, out, spread, err);
}

rw_status rw_lamina_wood_swelling(const char *name, rw_cut cut, double from, double to,
                                  double strain[3], rw_error *err)
{
  const char *me = "rw_lamina_wood_swelling";
  if (name == NULL || strain == NULL)
    return rw_laminate_missing(me, name == NULL ? "name" : "strain", err);
  rw_status status = check_cut(me, cut, err);
  if (status != RW_OK)
    return status;
  const char *side[] = {"from", "to"};
  const double moisture[] = {from, to}, full = 0.30;
  for (size_t i = 0; i < 2; i++)
    if (!(moisture[i] >= 0 && moisture[i] <= 2))
      return rw_error_range(err, me, side[i], moisture[i], 0, 2, "",
                            "a share of the dry mass: 12 % is 0.12");
  double shrink;
  const rw_laminate_wanted want = {cut == RW_FLAT_SAWN ? "shrink_tangential" : "shrink_radial",
                                   &shrink};
  status = rw_laminate_look_up(me, RW_WOOD, name, &want, 1, err);
  if (status != RW_OK)
    return status;
  double was = 1 - shrink * (1 - fmin(from, full) / full);
  double is = 1 - shrink * (1 - fmin(to, full) / full);
  strain[0] = strain[2] = 0;
  strain[1] = is / was - 1;
  return RW_OK;
}

rw_status rw_lamina_wood_expansion(const char *name, rw_cut cut, double per_kelvin[3],
                                   rw_error *err)
{
  const char *me = "rw_lamina_wood_expansion";
  if (name == NULL || per_kelvin == NULL)
    return rw_laminate_missing(me, name == NULL ? "name" : "per_kelvin", err);
  rw_status status = check_cut(me, cut, err);
  if (status != RW_OK)
    return status;
  double along = 0, across = 0;
  const rw_laminate_wanted want[] = {
      {"expand_along", &along},
      {cut == RW_FLAT_SAWN ? "expand_tangential" : "expand_radial", &across}};
  status = rw_laminate_look_up(me, RW_WOOD, name, want, sizeof want / sizeof want[0], err);
  if (status != RW_OK)
    return status;
  per_kelvin[0] = along;
  per_kelvin[1] = across;
  per_kelvin[2] = 0;
  return RW_OK;
}
