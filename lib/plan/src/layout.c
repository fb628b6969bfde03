/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "refuse.h"

#include <resinwright/plan.h>

#include <math.h>

static const char FUNCTION[] = "rw_plan_cloth";

double rw_plan_reach(double width, double lap, unsigned n)
{
  return n * width - (n - 1) * lap;
}

static rw_status check(const rw_roll *roll, double overhang, double lap, rw_error *err)
{
  if (!(roll->width >= 0.02 && roll->width <= 5))
    return rw_error_range(err, FUNCTION, "width", roll->width, 0.02, 5, "m",
                          "Rolls are about 1 m to 1.8 m wide, tapes from 50 mm.");
  if (!(roll->shortfall >= 0 && roll->shortfall < roll->width / 2))
    return rw_error_range(err, FUNCTION, "shortfall", roll->shortfall, 0, roll->width / 2, "m",
                          "Say by how much the roll is narrower than its label.");
  if (!(roll->price >= 0 && isfinite(roll->price)))
    return rw_error_range(err, FUNCTION, "price", roll->price, 0, HUGE_VAL, "money/m", NULL);
  if (!(overhang >= 0 && overhang <= 1))
    return rw_error_range(err, FUNCTION, "overhang", overhang, 0, 1, "m", NULL);
  double most = (roll->width - roll->shortfall) / 3;
  if (!(lap >= 0 && lap <= most))
    return rw_error_range(err, FUNCTION, "lap", lap, 0, most, "m",
                          "A lap of 25 to 80 mm is usual.");
  return RW_OK;
}

/* The hull as far as cloth is concerned. */
typedef struct shape {
  const rw_hull *hull;
  double from, to;
  double strip;  /* m, length of a strip from end to end with overhang */
  double widest; /* m, greatest girth with overhang */
  double area;   /* m2 */
  double width;  /* m, true width of the roll */
  double overhang;
  double lap;
} shape;

static rw_status measure(const rw_hull *hull, const rw_roll *roll, double overhang, double lap,
                         shape *s, rw_error *err)
{
  rw_value area;
  *s = (shape){
      .hull = hull, .width = roll->width - roll->shortfall, .overhang = overhang, .lap = lap};
  rw_hull_span(hull, &s->from, &s->to);
  rw_hull_widest(hull, NULL, &s->widest);
  s->widest += 2 * overhang;
  s->strip = s->to - s->from + 2 * overhang;
  rw_status status = rw_hull_area(hull, s->from, s->to, &area, err);
  s->area = area.value;
  return status;
}

static void finish(const shape *s, const rw_roll *roll, rw_layout *out)
{
  out->cost = out->length * roll->price;
  out->offcut = 1 - (s->area + out->lap_area) / (out->length * s->width);
}

static unsigned strips_for(const shape *s, double girth)
{
  return (unsigned)fmax(1, ceil((girth - s->lap) / (s->width - s->lap) - 1e-9));
}

static void lengthwise(const shape *s, rw_layout *out)
{
  out->pieces = strips_for(s, s->widest);
  out->reach = rw_plan_reach(s->width, s->lap, out->pieces);
  out->length = out->pieces * s->strip;
  out->lap_area = (out->pieces - 1) * s->lap * (s->to - s->from);
}

/* One strip fewer than lengthwise needs, and a filler along the keel over the stretch where the
 * hull is wider than those reach. */
static rw_status filled(const shape *s, rw_layout *out, rw_error *err)
{
  unsigned full = strips_for(s, s->widest);
  if (full < 2)
    return plan_no_choice(FUNCTION, "kind", "one strip reaches everywhere, so nothing is to fill",
                          "Lay it lengthwise.", err);
  out->pieces = full - 1;
  out->reach = rw_plan_reach(s->width, s->lap, out->pieces);
  /* The strips part at a seam, or one strip is slit: the filler laps both sides of the gap. */
  double covered = out->pieces > 1 ? out->reach + s->lap : out->reach;
  double gap = s->widest - covered + 2 * s->lap;
  if (gap > s->width)
    return plan_no_choice(FUNCTION, "kind",
                          "the gap that one strip fewer leaves is wider than the roll",
                          "Take a wider roll, or lay it lengthwise with one strip more.", err);
  double stretch = rw_hull_wider_than(s->hull, out->reach - 2 * s->overhang, &out->filler_from,
                                      &out->filler_to);
  out->filler = stretch + 2 * s->lap;
  out->length = out->pieces * s->strip + out->filler;
  double parted = out->pieces > 1 ? stretch : 0;
  out->lap_area = s->lap * ((out->pieces - 1) * (s->to - s->from) - parted + 2 * out->filler);
  return RW_OK;
}

static double widest_between(const rw_hull *hull, double from, double to)
{
  enum { PARTS = 20 };
  double widest = 0;
  for (int i = 0; i <= PARTS; i++) {
    double girth = 0;
    rw_hull_girth(hull, fmin(from + (to - from) * i / PARTS, to), &girth, NULL);
    widest = fmax(widest, girth);
  }
  return widest;
}

static void crosswise(const shape *s, rw_layout *out)
{
  double pitch = s->width - s->lap;
  out->pieces = (unsigned)fmax(1, ceil((s->strip - s->lap) / pitch - 1e-9));
  for (unsigned i = 0; i < out->pieces; i++) {
    double from = fmax(s->from - s->overhang + i * pitch, s->from);
    double to = fmin(s->from - s->overhang + i * pitch + s->width, s->to);
    out->length += widest_between(s->hull, fmin(from, s->to), to) + 2 * s->overhang;
    double girth = 0;
    if (i > 0 && rw_hull_girth(s->hull, fmin(from, s->to), &girth, NULL) == RW_OK)
      out->lap_area += s->lap * girth;
  }
}

rw_status rw_plan_cloth(const rw_hull *hull, const rw_roll *roll, double overhang, double lap,
                        rw_layout_kind kind, rw_layout *out, rw_error *err)
{
  shape s;
  rw_status status = check(roll, overhang, lap, err);
  if (status == RW_OK)
    status = measure(hull, roll, overhang, lap, &s, err);
  if (status < 0)
    return status;
  rw_layout layout = {.kind = kind, .filler_from = NAN, .filler_to = NAN};
  status = RW_OK;
  if (kind == RW_LENGTHWISE)
    lengthwise(&s, &layout);
  else if (kind == RW_FILLED)
    status = filled(&s, &layout, err);
  else
    crosswise(&s, &layout);
  if (status != RW_OK)
    return status;
  finish(&s, roll, &layout);
  *out = layout;
  return RW_OK;
}
