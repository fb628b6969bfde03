/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How well the answers of a strip and of an arch are known. */
#include "vary.h"

#include <string.h>

enum { DEFLECTION, STRAIN, ANSWERS };

typedef struct bending {
  const rw_strip *strip;
  const rw_strip_load *load;
  size_t loads;
  const rw_arch *arch; /* where it is an arch */
  double pressure, crown;
} bending;

static rw_status bend_strip(const rw_ply *ply, size_t n, const rw_stack *s, const bending *b,
                            double *answer, double *load, rw_error *err)
{
  rw_strip strip = *b->strip;
  double shear[3];
  rw_strip_result r;
  rw_status status = RW_OK;
  if (strip.shear > 0) {
    status = rw_stack_shear(ply, n, s, shear, err);
    strip.shear = shear[0];
  }
  if (status >= 0)
    status = rw_strip_bend(s, &strip, b->load, b->loads, &r, err);
  if (status < 0)
    return status;
  answer[DEFLECTION] = r.deflection;
  answer[STRAIN] = r.surface_strain;
  memcpy(load, r.load, sizeof r.load);
  return RW_OK;
}

static rw_status bend_arch(const rw_stack *s, const bending *b, double *answer, double *load,
                           rw_error *err)
{
  rw_arch_result r;
  rw_status status = rw_arch_bend(s, b->arch, b->pressure, b->crown, &r, err);
  if (status < 0)
    return status;
  answer[DEFLECTION] = r.deflection;
  answer[STRAIN] = r.surface_strain;
  memcpy(load, r.load, sizeof r.load);
  return RW_OK;
}

static rw_status solve(const rw_ply *ply, size_t n, const rw_stack *s, double *answer,
                       double (*load)[6], void *context, rw_error *err)
{
  const bending *b = context;
  return b->arch != NULL ? bend_arch(s, b, answer, load[0], err)
                         : bend_strip(ply, n, s, b, answer, load[0], err);
}

/* What is asked of one strip or arch, in the name of a function. */
static rw_status spread(const char *me, const rw_ply *ply, size_t n, bending *of,
                        const rw_scatter *scatter, rw_criterion criterion, rw_strip_spread *out,
                        rw_error *err)
{
  vary v = {.function = me,
            .ply = ply,
            .n = n,
            .scatter = scatter,
            .criterion = criterion,
            .solve = solve,
            .context = of,
            .answers = ANSWERS,
            .places = 1};
  rw_status status = rw_vary_check(ply, n, scatter, criterion, me, err);
  rw_stack s;
  if (status == RW_OK)
    status = rw_stack_make(ply, n, &s, err);
  if (status == RW_OK)
    status = solve(ply, n, &s, v.answer, v.load, of, err);
  if (status != RW_OK)
    return rw_laminate_in_name_of(me, status, err);
  rw_panel_range range[ANSWERS];
  rw_failure_spread failure;
  status = rw_vary(&v, range, &failure, err);
  if (status == RW_OK)
    *out = (rw_strip_spread){range[DEFLECTION], range[STRAIN], failure};
  return status;
}

rw_status rw_strip_bend_spread(const rw_ply *ply, size_t n, const rw_strip *strip,
                               const rw_strip_load *load, size_t loads, const rw_scatter *scatter,
                               rw_criterion criterion, rw_strip_spread *out, rw_error *err)
{
  const char *me = "rw_strip_bend_spread";
  if (strip == NULL || load == NULL || out == NULL)
    return rw_laminate_missing(me, strip == NULL ? "strip" : load == NULL ? "load" : "out", err);
  bending b = {.strip = strip, .load = load, .loads = loads};
  return spread(me, ply, n, &b, scatter, criterion, out, err);
}

rw_status rw_arch_bend_spread(const rw_ply *ply, size_t n, const rw_arch *arch, double pressure,
                              double crown, const rw_scatter *scatter, rw_criterion criterion,
                              rw_strip_spread *out, rw_error *err)
{
  const char *me = "rw_arch_bend_spread";
  if (arch == NULL || out == NULL)
    return rw_laminate_missing(me, arch == NULL ? "arch" : "out", err);
  bending b = {.arch = arch, .pressure = pressure, .crown = crown};
  return spread(me, ply, n, &b, scatter, criterion, out, err);
}
