/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plate_common.h"

#include <resinwright/num.h>
#include <resinwright/text.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char FUNCTION[] = "rw_plate_bend";

static rw_status check_plate(const rw_stack *s, const rw_plate *plate, rw_error *err)
{
  const char *hint = "make the stack with rw_stack_make first";
  rw_status status = rw_laminate_positive(s->thickness, FUNCTION, "s.thickness", "m", hint, err);
  if (status == RW_OK)
    status = rw_laminate_positive(s->EIx, FUNCTION, "s.EIx", "N m", hint, err);
  hint = "the free length between what holds the panel";
  if (status == RW_OK)
    status = rw_laminate_positive(plate->a, FUNCTION, "a", "m", hint, err);
  if (status == RW_OK)
    status = rw_laminate_positive(plate->b, FUNCTION, "b", "m", hint, err);
  if (status != RW_OK)
    return status;
  if (!(plate->b >= plate->a / 10 && plate->b <= plate->a * 10))
    return rw_error_range(err, FUNCTION, "b", plate->b, plate->a / 10, plate->a * 10, "m",
                          "beyond 10 to 1 the far edges no longer count: take rw_strip_bend "
                          "across the short side");
  const rw_plate_edge edge[] = {plate->edge_x, plate->edge_y};
  for (size_t i = 0; i < 2; i++)
    if (edge[i] != RW_EDGE_SUPPORTED && edge[i] != RW_EDGE_CLAMPED)
      return rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, i == 0 ? "edge_x" : "edge_y",
                          "take RW_EDGE_SUPPORTED or RW_EDGE_CLAMPED", "edge %d is not known",
                          (int)edge[i]);
  const double *h = plate->shear;
  if (h[0] == 0 && h[1] == 0 && h[2] == 0)
    return RW_OK;
  for (size_t i = 0; i < 2 && status == RW_OK; i++)
    status = rw_laminate_positive(h[i], FUNCTION, i == 0 ? "shear[0]" : "shear[1]", "N/m",
                                  "give both, or three zeros to leave shear out", err);
  double limit = sqrt(h[0] * h[1]);
  if (status == RW_OK && !(fabs(h[2]) < limit))
    return rw_error_range(err, FUNCTION, "shear[2]", h[2], -limit, limit, "N/m",
                          "the coupling of both shears, 0 where every ply lies along x or y");
  return status;
}

static rw_status check_patch(const rw_plate *plate, const rw_plate_load *load, size_t number,
                             rw_error *err)
{
  const struct {
    const char *size, *middle;
    double width, place, side;
  } of[] = {{"along", "x", load->along, load->x, plate->a},
            {"across", "y", load->across, load->y, plate->b}};
  char name[40];
  for (size_t i = 0; i < 2; i++) {
    double side = of[i].side, half = of[i].width / 2, slack = 1e-9 * side;
    double least = fmin(plate->a, plate->b) / 100;
    snprintf(name, sizeof name, "load[%zu].%s", number, of[i].size);
    if (!(of[i].width >= least && of[i].width <= side + slack))
      return rw_error_range(err, FUNCTION, name, of[i].width, least, side, "m",
                            of[i].width > side
                                ? "the whole patch must lie on the panel"
                                : "strains under a point have no limit: give the patch its true "
                                  "size");
    snprintf(name, sizeof name, "load[%zu].%s", number, of[i].middle);
    if (!(of[i].place >= half - slack && of[i].place <= side - half + slack))
      return rw_error_range(err, FUNCTION, name, of[i].place, half, side - half, "m",
                            "the whole patch must lie on the panel: its middle keeps half its "
                            "size from the edges");
  }
  return RW_OK;
}

static rw_status check_loads(const rw_plate *plate, const rw_plate_load *load, size_t loads,
                             rw_error *err)
{
  if (loads < 1 || loads > PLATE_LOADS)
    return rw_error_range(err, FUNCTION, "loads", (double)loads, 1, PLATE_LOADS, "",
                          "join patches that lie side by side");
  int any = 0;
  for (size_t i = 0; i < loads; i++) {
    const struct {
      const char *name, *unit;
      double value;
    } part[] = {{"pressure", "Pa", load[i].pressure},
                {"wave", "Pa", load[i].wave},
                {"force", "N", load[i].force}};
    for (size_t k = 0; k < 3; k++) {
      char name[40];
      snprintf(name, sizeof name, "load[%zu].%s", i + 1, part[k].name);
      if (!(fabs(part[k].value) <= 1e9))
        return rw_error_range(err, FUNCTION, name, part[k].value, -1e9, 1e9, part[k].unit,
                              "of either sign; above zero pushes towards the last ply");
      any = any || part[k].value != 0;
    }
    rw_status status = load[i].force != 0 ? check_patch(plate, &load[i], i + 1, err) : RW_OK;
    if (status != RW_OK)
      return status;
  }
  if (!any)
    return rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, "load",
                        "give a pressure, or a force and its patch",
                        "every load on the panel is zero: nothing bends");
  return RW_OK;
}

/* Whether entry ij of A, B or D is nothing but rounding beside the diagonals. */
static int vanishes(const double *m, size_t i, size_t j, const double *rows, const double *columns)
{
  return fabs(m[3 * i + j]) <= 1e-12 * sqrt(rows[4 * i] * columns[4 * j]);
}

static rw_plate_coupling coupling_of(const rw_stack *s, int rests)
{
  int none = 1, angle = rests;
  for (size_t i = 0; i < 3; i++) {
    for (size_t j = 0; j < 3; j++) {
      int zero = vanishes(s->B, i, j, s->A, s->D), shears = (i == 2) != (j == 2);
      none = none && zero;
      if (shears)
        angle = angle && vanishes(s->A, i, j, s->A, s->A) && vanishes(s->D, i, j, s->D, s->D);
      else
        angle = angle && zero;
    }
  }
  return none ? RW_COUPLING_NONE : angle ? RW_COUPLING_ANGLE : RW_COUPLING_REDUCED;
}

/* Coupling, bending stiffness and method. */
static rw_status prepare(rw_bent_plate *p, rw_error *err)
{
  const rw_stack *s = &p->stack;
  double *h = p->plate.shear;
  if (fabs(h[2]) <= 1e-12 * sqrt(h[0] * h[1]))
    h[2] = 0;
  int rests = p->plate.edge_x == RW_EDGE_SUPPORTED && p->plate.edge_y == RW_EDGE_SUPPORTED;
  p->sheared = h[0] > 0;
  p->result.coupling = coupling_of(s, rests && h[2] == 0);
  memcpy(p->bend, s->D, sizeof p->bend);
  if (p->result.coupling == RW_COUPLING_REDUCED) {
    double free_to_slide[9];
    for (size_t i = 0; i < 9; i++)
      free_to_slide[i] = s->abd[6 * (i / 3 + 3) + i % 3 + 3];
    rw_status status = rw_num_inverse(3, free_to_slide, p->bend, err);
    if (status != RW_OK)
      return rw_laminate_in_name_of(FUNCTION, status, err);
  }
  p->straight =
      h[2] == 0 && vanishes(p->bend, 0, 2, s->D, s->D) && vanishes(p->bend, 1, 2, s->D, s->D);
  p->result.method = rests && p->straight ? RW_PLATE_SERIES : RW_PLATE_RITZ;
  return RW_OK;
}

static rw_status solve(rw_bent_plate *p, const rw_plate_load *load, size_t loads, rw_error *err)
{
  rw_status status = rw_plate_series(p, load, loads, err);
  return status != RW_OK || p->result.method == RW_PLATE_SERIES
             ? status
             : rw_plate_ritz(p, load, loads, err);
}

static double by_deflection(const rw_plate_point *point, void *context)
{
  (void)context;
  return fabs(point->deflection);
}

static double by_strain(const rw_plate_point *point, void *context)
{
  (void)context;
  return fabs(rw_plate_surface(point));
}

/* What a thin panel would deflect at the deepest place. */
static rw_status without_shear(const rw_bent_plate *p, const rw_plate_load *load, size_t loads,
                               double *deflection, rw_error *err)
{
  rw_bent_plate *thin = malloc(sizeof *thin);
  if (thin == NULL)
    return rw_plate_no_memory(FUNCTION, err);
  *thin = *p;
  memset(thin->sum, 0, sizeof thin->sum);
  thin->sheared = 0;
  rw_status status = solve(thin, load, loads, err);
  if (status == RW_OK) {
    rw_plate_point point;
    rw_plate_point_at(thin, p->result.deepest.x, p->result.deepest.y, &point);
    *deflection = point.deflection;
  }
  rw_plate_free_all(thin);
  free(thin);
  return status;
}

static rw_status sum_up(rw_bent_plate *p, const rw_plate_load *load, size_t loads, rw_error *err)
{
  rw_plate_result *r = &p->result;
  rw_status status = rw_plate_search(p, by_deflection, NULL, FUNCTION, &r->deepest, err);
  if (status == RW_OK)
    status = rw_plate_search(p, by_strain, NULL, FUNCTION, &r->stretched, err);
  double thin = r->deepest.deflection;
  if (status == RW_OK && p->sheared)
    status = without_shear(p, load, loads, &thin, err);
  if (status != RW_OK)
    return status;
  double w = r->deepest.deflection;
  r->surface_strain = rw_plate_surface(&r->stretched);
  r->error /= fabs(w);
  r->strain_error /= fabs(r->surface_strain);
  r->shear_share = p->sheared ? 1 - thin / w : 0;
  r->slenderness = fmin(p->plate.a, p->plate.b) / p->stack.thickness;
  r->depth = fabs(w) / p->stack.thickness;
  double held;
  status = rw_plate_hold(p, load, loads, &held, err);
  r->held = held * w;
  return status;
}

/* Appends a sentence of a remark with a number in it. */
static void remark(char *text, size_t size, const char *before, double value, const char *after)
{
  size_t used = strlen(text);
  char found[40];
  rw_text_round(value, 3, found);
  snprintf(text + used, size - used, "%s%s%s%s", used > 0 ? "; " : "", before, found, after);
}

static rw_status warn(const rw_bent_plate *p, rw_error *err)
{
  const rw_plate_result *r = &p->result;
  char text[300] = "";
  const char *argument = NULL;
  double value = 0;
  if (!p->sheared && r->slenderness < 20) {
    remark(text, sizeof text, "the short side is ", r->slenderness,
           " thicknesses, and below 20 shear, left out here, counts");
    argument = "shear";
    value = r->slenderness;
  }
  if (r->shear_share > 0.2) {
    remark(text, sizeof text, "shear makes ", 100 * r->shear_share,
           " % of the deflection, and first-order shear was off by up to 17 % there");
    argument = "shear";
    value = r->shear_share;
  }
  if (r->depth > 0.5) {
    remark(text, sizeof text, "it deflects ", r->depth,
           " thicknesses, and above a half it also carries as a membrane: it gives less, "
           "and is damaged later than told");
    argument = argument != NULL ? argument : "deflection";
    value = value > 0 ? value : r->depth;
  }
  double error = fmax(r->error, r->strain_error);
  if (error > 0.02) {
    remark(text, sizeof text, "the series is known to ", 100 * error, " % only");
    argument = argument != NULL ? argument : "error";
    value = value > 0 ? value : error;
  }
  if (argument == NULL)
    return RW_OK;
  rw_error_set(err, RW_OUTSIDE_TESTED, FUNCTION, argument,
               "give the stack's shear stiffness, less load or a stiffer panel", "%s", text);
  if (err != NULL)
    err->value = value;
  return RW_OUTSIDE_TESTED;
}

rw_status rw_plate_make(const rw_stack *s, const rw_plate *plate, const rw_plate_load *load,
                        size_t loads, int coarse, rw_bent_plate **out, rw_error *err)
{
  rw_bent_plate *p = calloc(1, sizeof *p);
  if (p == NULL)
    return rw_plate_no_memory(FUNCTION, err);
  p->stack = *s;
  p->plate = *plate;
  p->coarse = coarse;
  p->loads = loads;
  memcpy(p->load, load, loads * sizeof *load);
  for (size_t i = 0; i < loads; i++) {
    if (load[i].force != 0) {
      p->patch_x[p->patches] = load[i].x;
      p->patch_y[p->patches++] = load[i].y;
    }
  }
  rw_status status = prepare(p, err);
  if (status == RW_OK)
    status = solve(p, load, loads, err);
  if (status == RW_OK)
    *out = p;
  else
    rw_bent_plate_destroy(p);
  return status;
}

rw_status rw_plate_bend(const rw_stack *s, const rw_plate *plate, const rw_plate_load *load,
                        size_t loads, rw_bent_plate **out, rw_error *err)
{
  if (s == NULL || plate == NULL || load == NULL || out == NULL)
    return rw_laminate_missing(FUNCTION,
                               s == NULL       ? "s"
                               : plate == NULL ? "plate"
                               : load == NULL  ? "load"
                                               : "out",
                               err);
  rw_status status = check_plate(s, plate, err);
  if (status == RW_OK)
    status = check_loads(plate, load, loads, err);
  rw_bent_plate *p = NULL;
  if (status == RW_OK)
    status = rw_plate_make(s, plate, load, loads, 0, &p, err);
  if (status == RW_OK)
    status = sum_up(p, load, loads, err);
  if (status != RW_OK) {
    rw_bent_plate_destroy(p);
    return status;
  }
  *out = p;
  return warn(p, err);
}

rw_plate_result rw_bent_plate_result(const rw_bent_plate *p)
{
  return p->result;
}

rw_status rw_bent_plate_at(const rw_bent_plate *p, double x, double y, rw_plate_point *out,
                           rw_error *err)
{
  const char *me = "rw_bent_plate_at";
  if (p == NULL || out == NULL)
    return rw_laminate_missing(me, p == NULL ? "p" : "out", err);
  if (!(x >= 0 && x <= p->plate.a))
    return rw_error_range(err, me, "x", x, 0, p->plate.a, "m", "x runs along the side a");
  if (!(y >= 0 && y <= p->plate.b))
    return rw_error_range(err, me, "y", y, 0, p->plate.b, "m", "y runs along the side b");
  rw_plate_point_at(p, x, y, out);
  return RW_OK;
}

void rw_bent_plate_destroy(rw_bent_plate *p)
{
  if (p == NULL)
    return;
  rw_plate_free_all(p);
  free(p);
}
