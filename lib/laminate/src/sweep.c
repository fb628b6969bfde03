/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A set of stacks: looked over, and made ready. */
#include "sweep.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char FUNCTION[] = "rw_sweep_create";

rw_status rw_sweep_load(rw_sweep_case which, double load[6], rw_error *err)
{
  static const double loads[][6] = {[RW_CASE_HIT] = {0, 0, 0, 1, 1, 0},
                                    [RW_CASE_BENDING_ALONG] = {0, 0, 0, 1, 0, 0},
                                    [RW_CASE_BENDING_ACROSS] = {0, 0, 0, 0, 1, 0},
                                    [RW_CASE_TENSION_ALONG] = {1, 0, 0, 0, 0, 0},
                                    [RW_CASE_TENSION_ACROSS] = {0, 1, 0, 0, 0, 0},
                                    [RW_CASE_HEEL] = {0, 0, 0, -1, -1, 0}};
  const char *me = "rw_sweep_load";
  if (load == NULL)
    return rw_laminate_missing(me, "load", err);
  if ((int)which < 0 || (size_t)which >= sizeof loads / sizeof loads[0])
    return rw_error_set(err, RW_ERR_ARGUMENT, me, "which", "take RW_CASE_HIT or another of them",
                        "load case %d is not known", (int)which);
  memcpy(load, loads[which], sizeof loads[which]);
  return RW_OK;
}

static rw_status check_number(double value, double low, double high, const char *prefix,
                              const char *field, const char *unit, const char *hint, rw_error *err)
{
  char name[64];
  snprintf(name, sizeof name, "%s%s", prefix, field);
  if (value >= low && value <= high)
    return RW_OK;
  return rw_error_range(err, FUNCTION, name, value, low, high, unit, hint);
}

static rw_status check_ply(const rw_sweep_ply *p, const char *prefix, rw_error *err)
{
  char name[64];
  rw_status status = rw_laminate_lamina(&p->material, FUNCTION, prefix, err);
  if (status == RW_OK)
    status = rw_laminate_strength(&p->material, FUNCTION, prefix, err);
  snprintf(name, sizeof name, "%sthickness", prefix);
  if (status == RW_OK)
    status = rw_laminate_positive(p->thickness, FUNCTION, name, "m",
                                  "a face without cloth has least 0", err);
  if (status == RW_OK)
    status = check_number(p->areal_mass, 0, 1e4, prefix, "areal_mass", "kg/m2",
                          "give 0 for thickness times density", err);
  double mass = p->areal_mass > 0 ? p->areal_mass : p->thickness * p->material.density;
  if (status == RW_OK)
    status = check_number(p->resin, 0, mass, prefix, "resin", "kg/m2",
                          "the areal mass holds the resin, too", err);
  if (status == RW_OK)
    status =
        check_number(p->cost, 0, 1e12, prefix, "cost", "", "give 0 where it is not known", err);
  return status;
}

static rw_status check_plies(const rw_sweep_ply *ply, size_t n, const char *where, rw_error *err)
{
  rw_status status = RW_OK;
  for (size_t i = 0; i < n && status == RW_OK; i++) {
    char prefix[48];
    snprintf(prefix, sizeof prefix, "%sply[%zu].", where, i + 1);
    status = check_ply(&ply[i], prefix, err);
  }
  return status;
}

static rw_status check_angles(const double *angle, size_t n, const char *where, rw_error *err)
{
  rw_status status = RW_OK;
  for (size_t i = 0; i < n && status == RW_OK; i++) {
    char name[64];
    snprintf(name, sizeof name, "%sangle[%zu]", where, i + 1);
    status = rw_laminate_angle(angle[i], FUNCTION, name, err);
  }
  return status;
}

static rw_status missing_in(const char *where, const char *field, rw_error *err)
{
  char name[64];
  snprintf(name, sizeof name, "%s%s", where, field);
  return rw_laminate_missing(FUNCTION, name, err);
}

static rw_status check_face(const rw_sweep_face *f, const char *where, rw_error *err)
{
  rw_status status = check_number((double)f->most, 0, SWEEP_LAYERS, where, "most", "",
                                  "join equal layers into one thicker ply", err);
  if (status == RW_OK)
    status = check_number((double)f->least, 0, (double)f->most, where, "least", "",
                          "no more than the most layers", err);
  if (status != RW_OK || f->most == 0)
    return status;
  status = check_number((double)f->plies, 1, SWEEP_KINDS, where, "plies", "",
                        "where layers are wanted there are kinds to choose from", err);
  if (status == RW_OK)
    status = check_number((double)f->angles, 1, SWEEP_KINDS, where, "angles", "",
                          "give at least one angle, such as 0", err);
  if (status != RW_OK)
    return status;
  if (f->ply == NULL || f->angle == NULL)
    return missing_in(where, f->ply == NULL ? "ply" : "angle", err);
  status = check_plies(f->ply, f->plies, where, err);
  return status == RW_OK ? check_angles(f->angle, f->angles, where, err) : status;
}

static rw_status check_cores(const rw_sweep_set *set, rw_error *err)
{
  rw_status status = check_number((double)set->cores, 0, SWEEP_CORES, "", "cores", "",
                                  "compare fewer cores at a time", err);
  if (status == RW_OK && set->cores > 0 && set->core == NULL)
    status = rw_laminate_missing(FUNCTION, "core", err);
  for (size_t i = 0; i < set->cores && status == RW_OK; i++) {
    const rw_sweep_core *c = &set->core[i];
    char where[32];
    snprintf(where, sizeof where, "core[%zu].", i + 1);
    status = check_number((double)c->plies, 1, SWEEP_CORE, where, "plies", "",
                          "a core has at least one ply", err);
    if (status == RW_OK)
      status = check_number((double)c->outer, 0, (double)c->plies, where, "outer", "",
                            "plies of the outer face that stay as they are", err);
    if (status == RW_OK)
      status = check_number((double)c->inner, 0, (double)(c->plies - c->outer), where, "inner", "",
                            "plies of the inner face that stay as they are", err);
    if (status == RW_OK && (c->ply == NULL || c->angle == NULL))
      status = missing_in(where, c->ply == NULL ? "ply" : "angle", err);
    if (status == RW_OK)
      status = check_plies(c->ply, c->plies, where, err);
    if (status == RW_OK)
      status = check_angles(c->angle, c->plies, where, err);
  }
  return status;
}

static int has_strength(const rw_sweep_ply *ply, size_t n)
{
  for (size_t i = 0; i < n; i++)
    if (ply[i].material.Xt > 0)
      return 1;
  return 0;
}

static rw_status check_loads(const rw_sweep_set *set, rw_error *err)
{
  rw_status status = check_number((double)set->loads, 0, RW_SWEEP_LOADS, "", "loads", "",
                                  "run the set again for further load cases", err);
  for (size_t i = 0; i < set->loads && status == RW_OK; i++) {
    status = rw_laminate_load(set->load[i], FUNCTION, err);
    char name[32];
    snprintf(name, sizeof name, "among[%zu]", i + 1);
    if (status == RW_OK && set->among[i] > RW_AMONG_ALL)
      status = rw_error_range(err, FUNCTION, name, set->among[i], 0, RW_AMONG_ALL, "",
                              "take RW_AMONG_OUTER and so on, added together");
  }
  if (status != RW_OK || set->loads == 0)
    return status;
  int known = set->outer.most > 0 && has_strength(set->outer.ply, set->outer.plies);
  if (!set->symmetric && set->inner.most > 0)
    known = known || has_strength(set->inner.ply, set->inner.plies);
  for (size_t i = 0; i < set->cores; i++)
    known = known || has_strength(set->core[i].ply, set->core[i].plies);
  if (known)
    return RW_OK;
  return rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, "loads",
                      "give at least one ply its strengths, or ask for no load case",
                      "no ply has a strength: every Xt is 0");
}

static rw_status check(const rw_sweep_set *set, rw_error *err)
{
  rw_status status = check_cores(set, err);
  if (status == RW_OK)
    status = check_face(&set->outer, "outer.", err);
  if (status == RW_OK && !set->symmetric)
    status = check_face(&set->inner, "inner.", err);
  if (status != RW_OK)
    return status;
  if (set->cores == 0 && set->outer.least == 0 && (set->symmetric || set->inner.least == 0))
    return rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, "cores",
                        "give a core, or at least one layer of a face",
                        "one of the stacks would have no ply");
  return check_loads(set, err);
}

/* What a face adds to the sources; its place among the entries. */
static sweep_side take_face(rw_sweep *s, const rw_sweep_face *f)
{
  sweep_side side = {.first = s->entries, .least = f->least, .most = f->most};
  if (f->most == 0)
    return side;
  side.choice = f->plies * f->angles;
  side.angles = f->angles;
  for (size_t k = 0; k < f->plies; k++)
    for (size_t a = 0; a < f->angles; a++)
      s->source[s->entries++] = (sweep_source){f->ply[k], f->angle[a], 0, SWEEP_CORES};
  return side;
}

static void take_cores(rw_sweep *s, const rw_sweep_set *set)
{
  s->cores = set->cores;
  for (size_t i = 0; i < set->cores; i++) {
    const rw_sweep_core *c = &set->core[i];
    s->core_first[i] = s->entries;
    s->core_plies[i] = c->plies;
    s->core_outer[i] = c->outer;
    s->core_inner[i] = c->inner;
    for (size_t k = 0; k < c->plies; k++) {
      int cloth = k < c->outer || k >= c->plies - c->inner;
      s->source[s->entries++] =
          (sweep_source){c->ply[k], c->angle[k], 1, cloth ? SWEEP_CORES : (unsigned)i};
    }
  }
}

/* The first load case whose load is that of case c. */
static size_t first_alike(const rw_sweep *s, size_t c)
{
  for (size_t k = 0; k < c; k++) {
    size_t i = 0;
    while (i < 6 && s->load[k][i] == s->load[c][i])
      i++;
    if (i == 6)
      return k;
  }
  return c;
}

static void take_loads(rw_sweep *s, const rw_sweep_set *set)
{
  s->loads = set->loads;
  for (size_t c = 0; c < set->loads; c++) {
    double size = 0;
    for (size_t i = 0; i < 6; i++)
      size = fmax(size, fabs(set->load[c][i]));
    s->size[c] = size;
    s->among[c] = set->among[c] != 0 ? set->among[c] : RW_AMONG_ALL;
    for (size_t i = 0; i < 6; i++)
      s->load[c][i] = set->load[c][i] / size;
    s->alike[c] = first_alike(s, c);
  }
}

static size_t entries_of(const rw_sweep_set *set)
{
  size_t n = 1;
  if (set->outer.most > 0)
    n += set->outer.plies * set->outer.angles;
  if (!set->symmetric && set->inner.most > 0)
    n += set->inner.plies * set->inner.angles;
  for (size_t i = 0; i < set->cores; i++)
    n += set->core[i].plies;
  return n;
}

rw_status rw_sweep_create(const rw_sweep_set *set, rw_sweep **out, rw_error *err)
{
  if (set == NULL || out == NULL)
    return rw_laminate_missing(FUNCTION, set == NULL ? "set" : "out", err);
  rw_status status = check(set, err);
  if (status != RW_OK)
    return status;
  size_t n = entries_of(set);
  rw_sweep *s = calloc(1, sizeof *s + n * (sizeof *s->entry + sizeof *s->source));
  if (s == NULL)
    return rw_error_set(err, RW_ERR_MEMORY, FUNCTION, NULL, NULL,
                        "not enough memory for the table of %zu plies", n);
  s->entry = (sweep_entry *)(s + 1);
  s->source = (sweep_source *)(s->entry + n);
  s->entries = 1;
  s->symmetric = set->symmetric != 0;
  s->outer = take_face(s, &set->outer);
  if (!s->symmetric)
    s->inner = take_face(s, &set->inner);
  take_cores(s, set);
  take_loads(s, set);
  for (size_t i = 1; i < n; i++)
    rw_sweep_prepare(&s->source[i], &s->entry[i]);
  double count = rw_sweep_tally(s);
  if (count > 0x1p53) {
    free(s);
    return rw_error_range(err, FUNCTION, "count", count, 1, 0x1p53, "",
                          "take fewer kinds, angles or layers");
  }
  *out = s;
  return RW_OK;
}

void rw_sweep_destroy(rw_sweep *s)
{
  free(s);
}
