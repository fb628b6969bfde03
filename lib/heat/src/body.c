/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The edge of runaway of bodies, of masses of resin and of pots. */
#include "refuse.h"

#include <resinwright/heat.h>
#include <resinwright/num.h>

#include <math.h>

static const double COLDEST = 150, HOTTEST = 600;      /* K, bodies */
static const double LEAST_SIZE = 1e-5, MOST_SIZE = 10; /* m, resin */

static rw_status check_shape(const char *function, rw_shape shape, rw_error *err)
{
  if ((unsigned)shape <= RW_SHAPE_SPHERE)
    return RW_OK;
  return rw_error_set(err, RW_ERR_ARGUMENT, function, "shape",
                      "Take slab, cylinder or sphere, whichever is nearest.",
                      "the shape is not known");
}

static rw_status check_body(const char *function, const rw_body *b, rw_error *err)
{
  rw_status status = heat_given(function, "body", b, err);
  if (status == RW_OK)
    status = check_shape(function, b->shape, err);
  if (status != RW_OK)
    return status;
  const heat_bound bounds[] = {
      {"size", b->size, 1e-5, 100, "m", "Half the thickness of a slab, else the radius."},
      {"conductivity", b->conductivity, 1e-3, 1e3, "W/(m K)", NULL},
      {"surface", b->surface, 1e-3, HUGE_VAL, "W/(m2 K)", NULL},
      {"density", b->density, 1, 3e4, "kg/m3", NULL},
      {"heat", b->heat, 1, 1e10, "J/kg", NULL},
      {"A", b->A, 1e-12, 1e40, "1/s", "Divide a factor per minute by 60."},
      {"E", b->E, 10e3, 300e3, "J/mol", "Is it given in kcal or kJ?"},
  };
  return heat_bounds(function, bounds, sizeof bounds / sizeof *bounds, err);
}

static double log_delta(const rw_body *b, double T)
{
  double warm = b->E / (RW_GAS_CONSTANT * T);
  return log(b->density * b->heat * b->A * b->size * b->size / (b->conductivity * T)) + log(warm) -
         warm;
}

rw_status rw_body_delta(const rw_body *body, double T, double *delta, rw_error *err)
{
  static const char function[] = "rw_body_delta";
  rw_status status = check_body(function, body, err);
  if (status == RW_OK)
    status = heat_given(function, "delta", delta, err);
  if (status == RW_OK)
    status = heat_between(function, "T", T, COLDEST, HOTTEST, "K",
                          "Temperatures are absolute: 20 degC is 293.15 K.", err);
  if (status == RW_OK)
    *delta = exp(log_delta(body, T));
  return status;
}

/* A body and the logarithm of its critical delta. */
typedef struct edge {
  const rw_body *body;
  double critical;
} edge;

static double beyond_edge(double T, void *context)
{
  const edge *e = context;
  return log_delta(e->body, T) - e->critical;
}

rw_status rw_body_critical_air(const rw_body *body, double *T, rw_error *err)
{
  static const char function[] = "rw_body_critical_air";
  rw_status status = check_body(function, body, err);
  if (status == RW_OK)
    status = heat_given(function, "T", T, err);
  rw_critical critical;
  if (status == RW_OK)
    status = rw_runaway_critical(
        body->shape, fmax(body->surface * body->size / body->conductivity, 1e-9), &critical, err);
  if (status != RW_OK)
    return status;
  edge e = {body, log(critical.delta)};
  if (beyond_edge(COLDEST, &e) > 0)
    return rw_error_set(err, RW_NOT_REACHED, function, "body",
                        "Make it thinner, or look whether A and E belong together.",
                        "the body runs away however cold the air");
  if (beyond_edge(HOTTEST, &e) < 0)
    return rw_error_set(err, RW_NOT_REACHED, function, "body",
                        "Look whether A and E belong together.",
                        "the body does not run away below 326 degC");
  return rw_num_root(beyond_edge, &e, COLDEST, HOTTEST, 1e-9, T, err);
}

/* The law without what slows it. */
static rw_cure_law unslowed(const rw_cure_law *law)
{
  rw_cure_law bare = *law;
  bare.C = 0;
  bare.stiffening.k = 0;
  if (bare.kind != RW_LAW_NTH_ORDER)
    bare.k2 = fmax(bare.k2, 0);
  return bare;
}

/* Greatest rate over the degree of cure: the best of a grid, then its neighbourhood by golden
 * section. */
static double greatest_rate(const rw_cure_law *law, double T)
{
  enum { GRID = 256, CUTS = 40 };
  const double golden = 0.61803398874989485;
  double best = 0, at = 0, rate = 0;
  for (int i = 0; i <= GRID; i++) {
    double a = (double)i / GRID;
    if (rw_cure_rate(law, a, T, &rate, NULL) >= 0 && rate > best) {
      best = rate;
      at = a;
    }
  }
  double low = fmax(at - 1.0 / GRID, 0), high = fmin(at + 1.0 / GRID, 1);
  for (int i = 0; i < CUTS; i++) {
    double left = high - golden * (high - low), right = low + golden * (high - low);
    double at_left = 0, at_right = 0;
    rw_cure_rate(law, left, T, &at_left, NULL);
    rw_cure_rate(law, right, T, &at_right, NULL);
    best = fmax(best, fmax(at_left, at_right));
    if (at_left > at_right)
      high = right;
    else
      low = left;
  }
  return best;
}

static double greatest_energy(const rw_cure_law *law)
{
  double E = law->k1 > 0 ? law->E1 : 0;
  int second =
      law->kind == RW_LAW_KAMAL || law->kind == RW_LAW_PLATEAU || law->kind == RW_LAW_TWO_STAGE;
  if (second && law->k2 > 0)
    E = fmax(E, law->E2);
  if (law->kind == RW_LAW_TWO_STAGE && law->k3 > 0)
    E = fmax(E, law->E3);
  return E;
}

static rw_status check_air(const char *function, const char *argument, double air, rw_error *err)
{
  return heat_between(function, argument, air, 230, 400, "K",
                      "Temperatures are absolute: 20 degC is 293.15 K.", err);
}

rw_status rw_cure_law_bound(const rw_cure_law *law, double T, double *rate, double *E,
                            rw_error *err)
{
  static const char function[] = "rw_cure_law_bound";
  rw_status status = heat_given(function, "law", law, err);
  if (status == RW_OK)
    status = heat_given(function, "rate", rate, err);
  if (status == RW_OK)
    status = heat_given(function, "E", E, err);
  if (status == RW_OK)
    status = check_air(function, "T", T, err);
  if (status != RW_OK)
    return status;
  rw_status checked = rw_cure_law_check(law, err);
  if (checked < 0)
    return checked;
  rw_cure_law bare = unslowed(law);
  status = rw_cure_law_check(&bare, err);
  if (status < 0)
    return status;
  *rate = greatest_rate(&bare, T);
  *E = greatest_energy(&bare);
  return checked;
}

static rw_status check_resin(const char *function, const rw_resin *r, rw_error *err)
{
  rw_status status = heat_given(function, "r", r, err);
  return status == RW_OK ? rw_resin_check(r, err) : status;
}

/* Heat set free per volume at T times E/(R T^2): what (40) and (43) have in common. */
static rw_status heating(const rw_resin *r, double T, double *out, rw_error *err)
{
  double rate, E;
  rw_status status = rw_cure_law_bound(&r->law, T, &rate, &E, err);
  if (status >= 0)
    *out = r->density * r->heat * rate * E / (RW_GAS_CONSTANT * T * T);
  return status;
}

/* A mass of resin whose size is sought. */
typedef struct unsized {
  rw_shape shape;
  double heating, conductivity, surface;
} unsized;

static double too_large(double log_size, void *context)
{
  const unsized *m = context;
  double size = exp(log_size);
  rw_critical critical;
  if (rw_runaway_critical(m->shape, m->surface * size / m->conductivity, &critical, NULL) != RW_OK)
    return NAN;
  return log(m->heating * size * size / (m->conductivity * critical.delta));
}

rw_status rw_resin_safe_size(const rw_resin *r, rw_shape shape, double conductivity,
                             double surface, double air, double *size, rw_error *err)
{
  static const char function[] = "rw_resin_safe_size";
  rw_status checked = check_resin(function, r, err);
  if (checked < 0)
    return checked;
  rw_status status = check_shape(function, shape, err);
  if (status == RW_OK)
    status = heat_between(function, "conductivity", conductivity, 0.02, 10, "W/(m K)",
                          "Unfilled epoxy has about 0.2.", err);
  if (status == RW_OK)
    status = heat_between(function, "surface", surface, 0.1, HUGE_VAL, "W/(m2 K)",
                          "Still air takes about 10.", err);
  if (status == RW_OK)
    status = check_air(function, "air", air, err);
  if (status == RW_OK)
    status = heat_given(function, "size", size, err);
  if (status != RW_OK)
    return status;
  unsized m = {.shape = shape, .conductivity = conductivity, .surface = surface};
  status = heating(r, air, &m.heating, err);
  if (status < 0)
    return status;
  if (too_large(log(MOST_SIZE), &m) < 0)
    return rw_error_set(err, RW_NOT_REACHED, function, "size", NULL,
                        "a mass of 10 m still loses its heat");
  if (too_large(log(LEAST_SIZE), &m) > 0)
    return rw_error_set(err, RW_ERR_NUMERIC, function, "size",
                        "Look at the rate constants and the heat.",
                        "this resin runs away at a hundredth of a millimetre");
  double found;
  status = rw_num_root(too_large, &m, log(LEAST_SIZE), log(MOST_SIZE), 1e-12, &found, err);
  if (status != RW_OK)
    return status;
  *size = exp(found);
  return checked;
}

rw_status rw_vessel_safe_mass(const rw_resin *r, const rw_vessel *v, double surface, double air,
                              double *mass, rw_error *err)
{
  static const char function[] = "rw_vessel_safe_mass";
  rw_status checked = check_resin(function, r, err);
  if (checked < 0)
    return checked;
  rw_status status = heat_given(function, "v", v, err);
  if (status != RW_OK)
    return status;
  const heat_bound bounds[] = {
      {"footprint", v->footprint, 1e-6, 10, "m2", NULL},
      {"perimeter", v->perimeter, 1e-3, 100, "m", NULL},
      {"surface", surface, 0.1, 1e4, "W/(m2 K)", "Still air takes about 8 to 10."},
  };
  status = heat_bounds(function, bounds, sizeof bounds / sizeof *bounds, err);
  if (status == RW_OK)
    status = check_air(function, "air", air, err);
  if (status == RW_OK)
    status = heat_given(function, "mass", mass, err);
  double source = 0;
  if (status == RW_OK)
    status = heating(r, air, &source, err);
  rw_critical critical;
  if (status >= 0)
    status = rw_runaway_uniform(&critical, err);
  if (status < 0)
    return status;
  /* source V = critical surface (2 footprint + perimeter V/footprint) */
  double per_volume = source - critical.delta * surface * v->perimeter / v->footprint;
  if (!(per_volume > 0))
    return rw_error_set(err, RW_NOT_REACHED, function, "mass", NULL,
                        "the side of this vessel loses enough heat at any depth");
  *mass = r->density * 2 * critical.delta * surface * v->footprint / per_volume;
  return checked;
}
