/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A stack sealed on one face: a gradient of moisture, swelling strains, curl. */
#include "laminate_common.h"

#include <resinwright/num.h>
#include <resinwright/panel.h>
#include <resinwright/text.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

static const char FUNCTION[] = "rw_stack_damp";

static rw_status check_swelling(const rw_swelling *swelling, size_t n, rw_error *err)
{
  int any = 0;
  for (size_t i = 0; i < n; i++) {
    const rw_value value[] = {swelling[i].along, swelling[i].across};
    for (size_t k = 0; k < 2; k++) {
      char name[48];
      snprintf(name, sizeof name, "swelling[%zu].%s", i + 1, k == 0 ? "along" : "across");
      if (!(value[k].value >= 0 && value[k].value <= 1))
        return rw_error_range(err, FUNCTION, name, value[k].value, 0, 1, "",
                              "strain per change of moisture: wood has some 0.1 to 0.4 across "
                              "its grain");
      if (!(value[k].sd >= 0 && value[k].sd <= 1))
        return rw_error_range(err, FUNCTION, name, value[k].sd, 0, 1, "",
                              "this is its standard deviation");
      any = any || value[k].value > 0;
    }
  }
  if (!any)
    return rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, "swelling",
                        "give the wood's free strain per change of moisture",
                        "no ply of the stack swells");
  return RW_OK;
}

static rw_status check_moisture(const rw_value *m, const char *argument, rw_error *err)
{
  if (!(fabs(m->value) <= 0.3))
    return rw_error_range(err, FUNCTION, argument, m->value, -0.3, 0.3, "",
                          "a change of moisture, mass of water over mass of dry wood; above some "
                          "0.3 in all wood no longer swells");
  if (!(m->sd >= 0 && m->sd <= 0.3))
    return rw_error_range(err, FUNCTION, argument, m->sd, 0, 0.3, "",
                          "this is its standard deviation");
  return RW_OK;
}

static rw_status check_damp(const rw_damp *d, rw_error *err)
{
  if (d->open_face != -1 && d->open_face != 1)
    return rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, "open_face",
                        "take -1 for the first ply's face, 1 for the last one's",
                        "open_face %d is not known", d->open_face);
  rw_status status = check_moisture(&d->open, "open", err);
  if (status == RW_OK)
    status = check_moisture(&d->sealed, "sealed", err);
  if (status != RW_OK)
    return status;
  if (d->open.value == 0 && d->sealed.value == 0)
    return rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, "open", "give a change of moisture",
                        "the moisture changes at neither face: nothing curls");
  if (!(d->profile >= 1 && d->profile <= 8))
    return rw_error_range(err, FUNCTION, "profile", d->profile, 1, 8, "",
                          "1 is a straight gradient, 2 a parabola");
  status = rw_laminate_positive(d->girth, FUNCTION, "girth", "m",
                                "measured over the skin, edge to edge", err);
  if (status != RW_OK)
    return status;
  if (!(d->radius == 0 || (d->radius >= d->girth / 4.7 && d->radius < HUGE_VAL)))
    return rw_error_range(err, FUNCTION, "radius", d->radius, d->girth / 4.7, HUGE_VAL, "m",
                          "of a section's arc that doesn't close on itself; 0 where it is flat");
  if (d->radius > 0 && d->bulge != -1 && d->bulge != 1)
    return rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, "bulge",
                        "-1 where the section bulges towards the first ply, 1 the last",
                        "bulge %d is not known", d->bulge);
  if (!(d->level >= 0.5 && d->level <= 0.999))
    return rw_error_range(err, FUNCTION, "level", d->level, 0.5, 0.999, "", "0.9 is usual");
  return RW_OK;
}

/* Heights between which the plies that swell lie. */
static void wood_between(const rw_ply *ply, const rw_swelling *swelling, size_t n, double *low,
                         double *high)
{
  *low = HUGE_VAL;
  *high = -HUGE_VAL;
  for (size_t i = 0; i < n; i++) {
    if (!(swelling[i].along.value > 0 || swelling[i].across.value > 0))
      continue;
    double z = rw_laminate_height(ply, n, i), half = ply[i].thickness / 2;
    *low = fmin(*low, z - half);
    *high = fmax(*high, z + half);
  }
}

/* What a ply is strained by, and how moisture runs through it: at the sealed side of the wood 1 -
 * s^p of the sealed change, at the open one s^p of the open change. */
typedef struct gradient {
  double low, high, profile;
  int open_face, open; /* open: the part of the open change, else that of the sealed one */
} gradient;

static double share_at(const gradient *g, double z)
{
  double s = (z - g->low) / (g->high - g->low);
  if (g->open_face < 0)
    s = 1 - s;
  double rise = pow(fmin(fmax(s, 0), 1), g->profile);
  return g->open ? rise : 1 - rise;
}

/* Load of one ply with a free strain of `local` per unit of the gradient, added up. The five
 * points of Gauss are exact for whole p. */
static void add_ply(const rw_ply *p, double middle, const double local[3], const gradient *g,
                    double load[6])
{
  const double none[6] = {0};
  double held[6], q[9];
  rw_laminate_held(p, local, none, held);
  rw_laminate_stiffness(&p->material, p->angle, q);
  double force = 0, lever = 0;
  for (int i = 0; i < RW_NUM_GAUSS5; i++) {
    double weight, place = rw_num_gauss5(i, &weight);
    double z = middle + (place - 0.5) * p->thickness;
    double part = weight * p->thickness * share_at(g, z);
    force += part;
    lever += part * z;
  }
  for (size_t i = 0; i < 3; i++) {
    double stress = -(q[3 * i] * held[0] + q[3 * i + 1] * held[1] + q[3 * i + 2] * held[2]);
    load[i] += stress * force;
    load[i + 3] += stress * lever;
  }
}

/* Strains of the stack for a unit of the gradient: swelling along or across alone, of its value or
 * of its standard deviation. */
static void respond(const rw_ply *ply, const rw_swelling *swelling, size_t n, const rw_stack *s,
                    const gradient *g, int across, int deviation, double strain[6])
{
  double load[6] = {0};
  for (size_t i = 0; i < n; i++) {
    rw_value v = across ? swelling[i].across : swelling[i].along;
    double local[3] = {0};
    local[across] = deviation ? v.sd : v.value;
    if (local[across] > 0)
      add_ply(&ply[i], rw_laminate_height(ply, n, i), local, g, load);
  }
  rw_stack_strain(s, load, strain);
}

/* Strains, and the variances of the curvatures. */
static void spread_of(const rw_ply *ply, const rw_swelling *swelling, size_t n, const rw_stack *s,
                      const rw_damp *d, double strain[6], double variance[3])
{
  const rw_value moisture[2] = {d->sealed, d->open};
  double by_swelling[2][3] = {{0}};
  gradient g = {.profile = d->profile, .open_face = d->open_face};
  wood_between(ply, swelling, n, &g.low, &g.high);
  memset(strain, 0, 6 * sizeof *strain);
  memset(variance, 0, 3 * sizeof *variance);
  for (g.open = 0; g.open < 2; g.open++) {
    double m = moisture[g.open].value, unit[6] = {0};
    for (int across = 0; across < 2; across++) {
      double value[6], deviation[6];
      respond(ply, swelling, n, s, &g, across, 0, value);
      respond(ply, swelling, n, s, &g, across, 1, deviation);
      for (size_t k = 0; k < 6; k++)
        unit[k] += value[k];
      for (size_t k = 0; k < 3; k++)
        by_swelling[across][k] += m * deviation[k + 3];
    }
    for (size_t k = 0; k < 6; k++)
      strain[k] += m * unit[k];
    for (size_t k = 0; k < 3; k++)
      variance[k] += unit[k + 3] * unit[k + 3] * moisture[g.open].sd * moisture[g.open].sd;
  }
  for (size_t k = 0; k < 3; k++)
    for (size_t across = 0; across < 2; across++)
      variance[k] += by_swelling[across][k] * by_swelling[across][k];
}

/* Edge to edge of an arc, straight across. */
static double chord(double girth, double curvature)
{
  double half = girth * curvature / 2;
  return fabs(half) < 1e-4 ? girth * (1 - half * half / 6) : girth * sin(half) / half;
}

/* How far the edges of the section move apart where its curvature grows towards the last ply. */
static double spread_for(const rw_damp *d, double curvature)
{
  double before = d->radius > 0 ? d->bulge / d->radius : 0;
  return chord(d->girth, before + curvature) - chord(d->girth, before);
}

static void sum_up(const rw_damp *d, const double strain[6], const double variance[3],
                   rw_damp_result *r)
{
  double z = rw_num_normal_quantile(0.5 + d->level / 2);
  memcpy(r->strain, strain, sizeof r->strain);
  for (size_t k = 0; k < 3; k++) {
    r->curvature[k] = (rw_value){strain[k + 3], sqrt(variance[k])};
    r->low[k] = strain[k + 3] - z * r->curvature[k].sd;
    r->high[k] = strain[k + 3] + z * r->curvature[k].sd;
  }
  double lever = d->girth * d->girth / 8;
  r->bow = lever * strain[4];
  r->bow_low = lever * r->low[1];
  r->bow_high = lever * r->high[1];
  double u = spread_for(d, r->low[1]), v = spread_for(d, r->high[1]);
  r->spread = spread_for(d, strain[4]);
  r->spread_low = fmin(fmin(u, v), r->spread);
  r->spread_high = fmax(fmax(u, v), r->spread);
  if (d->radius == 0 && r->low[1] < 0 && r->high[1] > 0)
    r->spread_high = 0; /* flat is widest */
}

rw_status rw_stack_damp(const rw_ply *ply, const rw_swelling *swelling, size_t n,
                        const rw_damp *damp, rw_damp_result *out, rw_error *err)
{
  rw_stack s;
  rw_status status = rw_laminate_in_name_of(FUNCTION, rw_stack_make(ply, n, &s, err), err);
  if (status < 0)
    return status;
  if (swelling == NULL || damp == NULL || out == NULL)
    return rw_laminate_missing(FUNCTION,
                               swelling == NULL ? "swelling"
                               : damp == NULL   ? "damp"
                                                : "out",
                               err);
  status = check_swelling(swelling, n, err);
  if (status == RW_OK)
    status = check_damp(damp, err);
  if (status != RW_OK)
    return status;
  double strain[6], variance[3];
  spread_of(ply, swelling, n, &s, damp, strain, variance);
  sum_up(damp, strain, variance, out);
  double turn = fabs(strain[4]) * damp->girth;
  if (turn <= 0.5)
    return RW_OK;
  char found[40];
  rw_text_round(turn, 3, found);
  rw_error_set(
      err, RW_OUTSIDE_TESTED, FUNCTION, "girth",
      "look at a narrower piece, or hold the skin while it dries",
      "the curl turns edge against edge by %s rad: above 0.5 wood creeps and cracks first", found);
  if (err != NULL)
    err->value = turn;
  return RW_OUTSIDE_TESTED;
}
