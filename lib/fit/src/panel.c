/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Resin uptake from weighed test panels. */
#include "iso_common.h"

#include <math.h>
#include <stdio.h>

static const double LIGHTEST = 1e-6, HEAVIEST = 1e4; /* kg */
static const double MOST_RESIN = 20;                 /* kg/m2, beyond any coat */
enum { MOST_PANELS = 1000 };

/* What is looked at of a panel, kg/m2; NaN where it wasn't weighed. */
typedef double panel_term(const rw_panel *p, double cloth);

static double wet_out(const rw_panel *p, double cloth)
{
  return (p->wet_out - p->bare) / p->area - cloth;
}

static double filling(const rw_panel *p, double cloth)
{
  (void)cloth;
  return (p->filled - p->wet_out) / p->area;
}

static double sanding(const rw_panel *p, double cloth)
{
  (void)cloth;
  return (p->filled - p->sanded) / p->area;
}

static double left(const rw_panel *p, double cloth)
{
  return (p->sanded - p->bare) / p->area - cloth;
}

static rw_status mass(const char *function, size_t i, const char *field, double value,
                      int may_be_missing, rw_error *err)
{
  if (may_be_missing && isnan(value))
    return RW_OK;
  return iso_field(function, "panel", i, field, value, LIGHTEST, HEAVIEST, "kg",
                   "masses are in kilograms: 850 g is 0.85", err);
}

static rw_status disorder(const char *function, size_t i, const char *field, const char *what,
                          rw_error *err)
{
  return rw_error_set(err, RW_ERR_ORDER, function, field,
                      "look for masses swapped, a panel mixed up or a wrong area", "panel %zu %s",
                      i + 1, what);
}

static rw_status resin(const char *function, size_t i, const char *field, double amount,
                       const char *lighter, rw_error *err)
{
  if (amount < 0)
    return disorder(function, i, field, lighter, err);
  if (isnan(amount))
    return RW_OK;
  return iso_field(function, "panel", i, field, amount, 0, MOST_RESIN, "kg/m2",
                   "masses are in kilograms and the area in square metres", err);
}

static rw_status check_panel(const char *function, const rw_panel *p, size_t i, double cloth,
                             rw_error *err)
{
  rw_status status = iso_field(function, "panel", i, "area", p->area, 1e-4, 100, "m2",
                               "the area is in square metres: 20 cm by 30 cm is 0.06", err);
  if (status == RW_OK)
    status = mass(function, i, "bare", p->bare, 0, err);
  if (status == RW_OK)
    status = mass(function, i, "wet_out", p->wet_out, 0, err);
  if (status == RW_OK)
    status = mass(function, i, "filled", p->filled, 1, err);
  if (status == RW_OK)
    status = mass(function, i, "sanded", p->sanded, 1, err);
  if (status == RW_OK && isnan(p->filled) && !isnan(p->sanded))
    return rw_error_set(err, RW_ERR_RANGE, function, "filled",
                        "give the mass before sanding too, or leave the mass after it away",
                        "panel %zu was weighed after sanding and not before", i + 1);
  if (status == RW_OK)
    status = resin(function, i, "wet_out", wet_out(p, cloth),
                   "gained less by the wet-out than its dry cloth alone weighs", err);
  if (status == RW_OK)
    status = resin(function, i, "filled", filling(p, cloth), "got lighter by filling", err);
  if (status == RW_OK)
    status = resin(function, i, "sanded", sanding(p, cloth), "got heavier by sanding", err);
  if (status == RW_OK && left(p, cloth) < 0)
    status = disorder(function, i, "sanded", "lost more by sanding than all its resin", err);
  return status;
}

static rw_panel_mean mean_of(panel_term *term, const rw_panel *panel, size_t n, double cloth,
                             double level)
{
  rw_panel_mean m = {NAN, NAN, NAN, NAN, {NAN, NAN}, 0};
  double sum = 0, rest = 0;
  for (size_t i = 0; i < n; i++) {
    double x = term(&panel[i], cloth);
    if (isnan(x))
      continue;
    sum += x;
    m.n++;
  }
  if (m.n == 0)
    return m;
  double count = (double)m.n;
  m.mean = m.next.value = sum / count;
  if (m.n == 1)
    return m;
  for (size_t i = 0; i < n; i++) {
    double x = term(&panel[i], cloth);
    if (!isnan(x))
      rest += (x - m.mean) * (x - m.mean);
  }
  m.sd = sqrt(rest / (count - 1));
  double reach = rw_num_student_quantile(0.5 + level / 2, m.n - 1) * m.sd / sqrt(count);
  m.low = m.mean - reach;
  m.high = m.mean + reach;
  double wider = rw_num_student_quantile(0.975, m.n - 1) / rw_num_normal_quantile(0.975);
  m.next.sd = wider * m.sd * sqrt(1 + 1 / count);
  return m;
}

static rw_status one_panel(const char *function, const rw_panel_terms *t, rw_error *err)
{
  const char *what = t->wet_out.n == 1   ? "wet_out"
                     : t->filling.n == 1 ? "filling"
                     : t->sanding.n == 1 ? "sanding"
                                         : NULL;
  if (what == NULL)
    return RW_OK;
  return rw_error_set(err, RW_OUTSIDE_TESTED, function, what,
                      "weigh a second panel, better three or more, laid by the same hand",
                      "%s rests on one panel: it shows no spread, so there is no interval", what);
}

rw_status rw_panel_uptake(const rw_panel *panel, size_t n, double cloth, double level,
                          rw_panel_terms *out, rw_error *err)
{
  static const char *const me = "rw_panel_uptake";
  if (panel == NULL)
    return iso_missing(me, "panel", err);
  if (out == NULL)
    return iso_missing(me, "out", err);
  if (n < 1 || n > MOST_PANELS)
    return rw_error_set(err, RW_ERR_ARGUMENT, me, "n", "weigh one panel at least",
                        "there are %zu panels; 1 to %d are allowed", n, (int)MOST_PANELS);
  rw_status status = iso_between(me, "cloth", cloth, 0, MOST_RESIN, "kg/m2",
                                 "all layers of dry cloth: 200 g/m2 is 0.2", err);
  if (status == RW_OK)
    status = iso_level(me, level, err);
  for (size_t i = 0; status == RW_OK && i < n; i++) {
    status = check_panel(me, &panel[i], i, cloth, err);
    if (status != RW_OK)
      rw_error_place(err, (long)i + 1, 0);
  }
  if (status != RW_OK)
    return status;
  *out = (rw_panel_terms){.wet_out = mean_of(wet_out, panel, n, cloth, level),
                          .filling = mean_of(filling, panel, n, cloth, level),
                          .sanding = mean_of(sanding, panel, n, cloth, level),
                          .left = mean_of(left, panel, n, cloth, level)};
  return one_panel(me, out, err);
}

static rw_status spread_known(const char *function, const char *term, const rw_panel_mean *m,
                              rw_error *err)
{
  if (m->n >= 2)
    return RW_OK;
  return rw_error_set(err, RW_ERR_ARGUMENT, function, term,
                      "weigh a second panel through this stage, better three or more",
                      "%s rests on %s, so its spread is not known", term,
                      m->n == 1 ? "one panel" : "no panel");
}

rw_status rw_panel_plan(const rw_panel_terms *terms, rw_value waste, rw_uptake *out, rw_error *err)
{
  static const char *const me = "rw_panel_plan";
  if (terms == NULL)
    return iso_missing(me, "terms", err);
  if (out == NULL)
    return iso_missing(me, "out", err);
  rw_status status = spread_known(me, "wet_out", &terms->wet_out, err);
  if (status == RW_OK)
    status = spread_known(me, "filling", &terms->filling, err);
  if (status == RW_OK)
    status = iso_between(me, "waste", waste.value, 0, 0.9, "",
                         "waste is a share of what is mixed: 15 % is 0.15", err);
  if (status == RW_OK)
    status = iso_between(me, "waste.sd", waste.sd, 0, 0.9, "", NULL, err);
  if (status != RW_OK)
    return status;
  *out = (rw_uptake){
      .soak = {0, 0}, .cloth = terms->wet_out.next, .fill = terms->filling.next, .waste = waste};
  return RW_OK;
}
