/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strips on supports: a beam with shear, integrated exactly. */
#include "laminate_common.h"

#include <resinwright/num.h>
#include <resinwright/panel.h>
#include <resinwright/text.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { MOST_LOADS = 32 };

/* A strip and what holds it: V0 and M0 are shear force and moment at the first support, turn its
 * rotation there. */
typedef struct beam {
  double span, EI, S; /* S 0: no shear */
  double widths[3];   /* Mx My Mxy per unit moment */
  const rw_strip_load *load;
  size_t loads;
  double V0, M0, turn;
} beam;

static double power(double x, int n)
{
  double p = 1;
  for (int i = 0; i < n; i++)
    p *= x;
  return x > 0 ? p : 0;
}

/* The n-fold integral of all loads from 0 to x, over the factorial that goes with it. */
static double integral(const beam *b, double x, int n)
{
  static const double factorial[] = {1, 1, 2, 6, 24};
  double sum = 0;
  for (size_t i = 0; i < b->loads; i++) {
    const rw_strip_load *one = &b->load[i];
    sum += one->pressure * power(x, n) / factorial[n];
    double half = one->along / 2;
    if (one->force != 0 && half > 0)
      sum += one->force / one->along *
             (power(x - one->x + half, n) - power(x - one->x - half, n)) / factorial[n];
    else if (one->force != 0)
      sum += one->force * (n > 1 ? power(x - one->x, n - 1) : x >= one->x) / factorial[n - 1];
  }
  return sum;
}

/* M'' = -q, turn' = M/EI, w' = -turn + V/S, with M above 0 where the last face is pulled
 * and w towards it. */
static double moment_at(const beam *b, double x)
{
  return b->M0 + b->V0 * x - integral(b, x, 2);
}

static double bending_at(const beam *b, double x)
{
  double curved = b->M0 * x * x / 2 + b->V0 * x * x * x / 6 - integral(b, x, 4);
  return -b->turn * x - curved / b->EI;
}

static double shear_at(const beam *b, double x)
{
  return b->S > 0 ? (b->V0 * x - integral(b, x, 2)) / b->S : 0;
}

static double deflection_at(const beam *b, double x)
{
  return bending_at(b, x) + shear_at(b, x);
}

/* Finds V0, M0 and the first rotation from what holds the ends. */
static void hold_ends(beam *b, rw_strip_ends ends)
{
  double L = b->span, q1 = integral(b, L, 1), q2 = integral(b, L, 2);
  double q3 = integral(b, L, 3), q4 = integral(b, L, 4), give = b->S > 0 ? b->EI / b->S : 0;
  switch (ends) {
  case RW_STRIP_SUPPORTED:
    b->V0 = q2 / L;
    b->turn = (q4 - b->V0 * L * L * L / 6) / (b->EI * L);
    break;
  case RW_STRIP_CLAMPED:
    /* No rotation: M0 L + V0 L^2/2 = q3; no deflection: M0 L^2/2 + V0 (L^3/6 - give L) = q4 - give
     * q2. */
    b->V0 = (q3 * L / 2 - q4 + give * q2) / (L * L * L / 12 + give * L);
    b->M0 = q3 / L - b->V0 * L / 2;
    break;
  case RW_STRIP_CANTILEVER:
    b->V0 = q1;
    b->M0 = q2 - q1 * L;
    break;
  }
}

static rw_status check_strip(const rw_stack *s, const rw_strip *strip, const char *me,
                             rw_error *err)
{
  rw_status status = rw_laminate_positive(s->EIx, me, "s.EIx", "N m",
                                          "make the stack with rw_stack_make first", err);
  if (status == RW_OK)
    status =
        rw_laminate_positive(strip->span, me, "span", "m", "the distance between supports", err);
  if (status == RW_OK && strip->shear != 0)
    status = rw_laminate_positive(strip->shear, me, "shear", "N/m", "0 leaves shear out", err);
  if (status != RW_OK)
    return status;
  if (strip->ends != RW_STRIP_SUPPORTED && strip->ends != RW_STRIP_CLAMPED &&
      strip->ends != RW_STRIP_CANTILEVER)
    return rw_error_set(err, RW_ERR_ARGUMENT, me, "ends",
                        "take RW_STRIP_SUPPORTED, RW_STRIP_CLAMPED or RW_STRIP_CANTILEVER",
                        "ends %d are not known", (int)strip->ends);
  return RW_OK;
}

static rw_status check_one_load(double span, const rw_strip_load *load, size_t number,
                                const char *me, rw_error *err)
{
  char name[40];
  snprintf(name, sizeof name, "load[%zu].pressure", number);
  const char *hint = "of either sign; above zero pushes towards the last ply";
  if (!(fabs(load->pressure) <= 1e9))
    return rw_error_range(err, me, name, load->pressure, -1e9, 1e9, "Pa", hint);
  snprintf(name, sizeof name, "load[%zu].force", number);
  if (!(fabs(load->force) <= 1e9))
    return rw_error_range(err, me, name, load->force, -1e9, 1e9, "N/m", hint);
  if (load->force == 0)
    return RW_OK;
  snprintf(name, sizeof name, "load[%zu].along", number);
  if (!(load->along >= 0 && load->along <= span * (1 + 1e-9)))
    return rw_error_range(err, me, name, load->along, 0, span, "m", "0 is a line load");
  snprintf(name, sizeof name, "load[%zu].x", number);
  double half = load->along / 2, slack = 1e-9 * span;
  if (!(load->x >= half - slack && load->x <= span - half + slack))
    return rw_error_range(err, me, name, load->x, half, span - half, "m",
                          "the whole patch must lie on the strip");
  return RW_OK;
}

static rw_status check_loads(double span, const rw_strip_load *load, size_t loads, const char *me,
                             rw_error *err)
{
  if (loads < 1 || loads > MOST_LOADS)
    return rw_error_range(err, me, "loads", (double)loads, 1, MOST_LOADS, "",
                          "join patches that lie side by side");
  int any = 0;
  for (size_t i = 0; i < loads; i++) {
    rw_status status = check_one_load(span, &load[i], i + 1, me, err);
    if (status != RW_OK)
      return status;
    any = any || load[i].pressure != 0 || load[i].force != 0;
  }
  if (!any)
    return rw_error_set(err, RW_ERR_ARGUMENT, me, "load", "give a pressure or a force",
                        "every load on the strip is zero: nothing bends");
  return RW_OK;
}

/* Stiffness and moments per unit of Mx. */
static rw_status stiffness(const rw_stack *s, int wide, const char *me, beam *b, rw_error *err)
{
  b->EI = s->EIx;
  memset(b->widths, 0, sizeof b->widths);
  b->widths[0] = 1;
  if (!wide)
    return RW_OK;
  double free_to_slide[9], bend[9];
  for (size_t i = 0; i < 9; i++)
    free_to_slide[i] = s->abd[6 * (i / 3 + 3) + i % 3 + 3];
  rw_status status = rw_num_inverse(3, free_to_slide, bend, err);
  if (status != RW_OK)
    return rw_laminate_in_name_of(me, status, err);
  b->EI = bend[0];
  b->widths[1] = bend[1] / bend[0];
  b->widths[2] = bend[2] / bend[0];
  return RW_OK;
}

static rw_status make_beam(const rw_stack *s, const rw_strip *strip, const rw_strip_load *load,
                           size_t loads, const char *me, beam *b, rw_error *err)
{
  rw_status status = check_strip(s, strip, me, err);
  if (status == RW_OK)
    status = check_loads(strip->span, load, loads, me, err);
  *b = (beam){.span = strip->span, .S = strip->shear, .load = load, .loads = loads};
  if (status == RW_OK)
    status = stiffness(s, strip->wide, me, b, err);
  if (status == RW_OK)
    hold_ends(b, strip->ends);
  return status;
}

/* Where a quantity is greatest by size: on a network with the edges and middles of the patches,
 * then by thirds around the best. */
static double greatest(const beam *b, double (*of)(const beam *, double))
{
  enum { LINES = 400 };
  double at = 0, step = b->span / LINES;
  for (size_t i = 0; i <= LINES; i++) {
    double x = b->span * (double)i / LINES;
    if (fabs(of(b, x)) > fabs(of(b, at)))
      at = x;
  }
  for (size_t i = 0; i < b->loads; i++) {
    const rw_strip_load *one = &b->load[i];
    if (one->force != 0 && fabs(of(b, one->x)) > fabs(of(b, at)))
      at = one->x;
  }
  double low = fmax(at - step, 0), high = fmin(at + step, b->span);
  for (int i = 0; i < 80; i++) {
    double u = low + (high - low) / 3, v = high - (high - low) / 3;
    if (fabs(of(b, u)) >= fabs(of(b, v)))
      high = v;
    else
      low = u;
  }
  double middle = (low + high) / 2;
  return fabs(of(b, middle)) > fabs(of(b, at)) ? middle : at;
}

static void sum_up(const rw_stack *s, const beam *b, rw_strip_result *r)
{
  r->at = greatest(b, deflection_at);
  r->deflection = deflection_at(b, r->at);
  r->shear_share = shear_at(b, r->at) / r->deflection;
  r->moment_at = greatest(b, moment_at);
  r->moment = moment_at(b, r->moment_at);
  memset(r->load, 0, sizeof r->load);
  for (size_t i = 0; i < 3; i++)
    r->load[i + 3] = r->moment * b->widths[i];
  rw_stack_strain(s, r->load, r->strain);
  double upper = r->strain[0] + r->strain[3] * s->thickness / 2;
  double lower = r->strain[0] - r->strain[3] * s->thickness / 2;
  r->surface_strain = fabs(upper) >= fabs(lower) ? upper : lower;
  r->reaction[0] = b->V0;
  r->reaction[1] = integral(b, b->span, 1) - b->V0;
}

static rw_status beyond(const char *argument, double value, const char *what, const char *why,
                        const char *hint, rw_error *err)
{
  char found[40];
  rw_text_round(value, 3, found);
  rw_error_set(err, RW_OUTSIDE_TESTED, "rw_strip_bend", argument, hint, "%s %s: %s", what, found,
               why);
  if (err != NULL)
    err->value = value;
  return RW_OUTSIDE_TESTED;
}

static rw_status warn(const rw_stack *s, const rw_strip *strip, const rw_strip_result *r,
                      rw_error *err)
{
  double slender = strip->span / s->thickness, depth = fabs(r->deflection) / s->thickness;
  if (strip->shear == 0 && slender < (strip->ends == RW_STRIP_CANTILEVER ? 10 : 20))
    return beyond("shear", slender, "span over thickness is",
                  "shear, left out here, counts below 20 (a cantilever: 10)",
                  "give the stack's shear stiffness", err);
  if (r->shear_share > 0.2)
    return beyond("shear", r->shear_share, "the part of shear in the deflection is",
                  "first-order shear was off by up to 17 per cent where it is above 0.2",
                  "take a longer strip or a stiffer core", err);
  if (fabs(r->deflection) > strip->span / 10)
    return beyond("deflection", r->deflection, "the deflection in m is",
                  "above a tenth of the span bending is no longer linear",
                  "take a shorter strip or less load", err);
  if (strip->ends == RW_STRIP_CLAMPED && depth > 0.5)
    return beyond("deflection", depth, "deflection over thickness is",
                  "above a half a strip whose ends are held also carries as a rope and gives less",
                  "take less load or a stiffer strip", err);
  return RW_OK;
}

rw_status rw_strip_bend(const rw_stack *s, const rw_strip *strip, const rw_strip_load *load,
                        size_t loads, rw_strip_result *out, rw_error *err)
{
  const char *me = "rw_strip_bend";
  if (s == NULL || strip == NULL || load == NULL || out == NULL)
    return rw_laminate_missing(me,
                               s == NULL       ? "s"
                               : strip == NULL ? "strip"
                               : load == NULL  ? "load"
                                               : "out",
                               err);
  beam b;
  rw_status status = make_beam(s, strip, load, loads, me, &b, err);
  if (status != RW_OK)
    return status;
  sum_up(s, &b, out);
  return warn(s, strip, out, err);
}

rw_status rw_strip_at(const rw_stack *s, const rw_strip *strip, const rw_strip_load *load,
                      size_t loads, double x, double *deflection, double *moment, rw_error *err)
{
  const char *me = "rw_strip_at";
  if (s == NULL || strip == NULL || load == NULL || deflection == NULL)
    return rw_laminate_missing(me,
                               s == NULL       ? "s"
                               : strip == NULL ? "strip"
                               : load == NULL  ? "load"
                                               : "deflection",
                               err);
  beam b;
  rw_status status = make_beam(s, strip, load, loads, me, &b, err);
  if (status != RW_OK)
    return status;
  if (!(x >= 0 && x <= b.span))
    return rw_error_range(err, me, "x", x, 0, b.span, "m", "x runs from the first support");
  int held = x == 0 || (x == b.span && strip->ends != RW_STRIP_CANTILEVER);
  *deflection = held ? 0 : deflection_at(&b, x);
  if (moment != NULL)
    *moment = moment_at(&b, x);
  return RW_OK;
}
