/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Layers that bring a damaged place back, and skins doubled in places. */
#include "laminate_common.h"

#include <resinwright/num.h>
#include <resinwright/panel.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { MOST_LAYERS = 30 };

/* Plies of a stack with more of them on one of its faces. */
static size_t laid_on(const rw_ply *ply, size_t n, const rw_ply *extra, size_t extra_n, int face,
                      rw_ply *out)
{
  if (face > 0)
    memcpy(out, ply, n * sizeof *out);
  for (size_t i = 0; i < extra_n; i++)
    out[face > 0 ? n + i : extra_n - 1 - i] = extra[i];
  if (face < 0)
    memcpy(out + extra_n, ply, n * sizeof *out);
  return n + extra_n;
}

static rw_status check_face(int face, const char *me, rw_error *err)
{
  if (face == -1 || face == 1)
    return RW_OK;
  return rw_error_set(err, RW_ERR_ARGUMENT, me, "face",
                      "take -1 for the first ply's face, 1 for the last one's",
                      "face %d is not known", face);
}

/* A pull of 1 N/m, x or y, that leaves the stack flat: with the moment B A^-1 N that holds it so,
 * as the skin around a place does. */
static rw_status pull(const rw_stack *s, size_t which, double load[6], rw_error *err)
{
  double force[3] = {0}, strain[3];
  force[which] = 1;
  rw_status status = rw_num_solve(3, s->A, force, strain, err);
  for (size_t i = 0; i < 3 && status == RW_OK; i++) {
    load[i] = force[i];
    for (size_t j = 0; j < 3; j++)
      load[3 + i] += s->B[3 * i + j] * strain[j];
  }
  return status;
}

/* The factor of the first failure under a pull, or a moment of either sign. */
static rw_status bears(const rw_ply *ply, size_t n, const rw_stack *s, size_t which, int moment,
                       rw_criterion criterion, double *factor, rw_error *err)
{
  *factor = HUGE_VAL;
  for (int sign = 1; sign >= (moment ? -1 : 1); sign -= 2) {
    double load[6] = {0};
    rw_first_failure first;
    rw_status status = RW_OK;
    if (moment)
      load[3 + which] = sign;
    else
      status = pull(s, which, load, err);
    if (status == RW_OK)
      status = rw_stack_first_failure(ply, n, s, load, criterion, &first, err);
    if (status != RW_OK)
      return status;
    *factor = fmin(*factor, first.factor);
  }
  return RW_OK;
}

static rw_status measure(const rw_ply *ply, size_t n, rw_criterion criterion,
                         double value[RW_REPAIR_MEASURES], rw_error *err)
{
  rw_stack s;
  rw_status status = rw_stack_make(ply, n, &s, err);
  if (status != RW_OK)
    return status;
  value[RW_REPAIR_BEND_X] = s.EIx;
  value[RW_REPAIR_BEND_Y] = s.EIy;
  const struct {
    rw_repair_measure measure;
    size_t axis;
    int moment;
  } row[] = {{RW_REPAIR_MOMENT_X, 0, 1},
             {RW_REPAIR_MOMENT_Y, 1, 1},
             {RW_REPAIR_PULL_X, 0, 0},
             {RW_REPAIR_PULL_Y, 1, 0}};
  for (size_t i = 0; i < 4 && status == RW_OK; i++)
    status = bears(ply, n, &s, row[i].axis, row[i].moment, criterion, &value[row[i].measure], err);
  return status;
}

/* Plies that a caller knows by another name than "ply". */
static rw_status called(const char *name, const char *me, rw_status status, rw_error *err)
{
  if (status < 0 && err != NULL && strncmp(err->argument, "ply", 3) == 0) {
    char rest[sizeof err->argument];
    snprintf(rest, sizeof rest, "%s", err->argument + 3);
    snprintf(err->argument, sizeof err->argument, "%s%.50s", name, rest);
  }
  return rw_laminate_in_name_of(me, status, err);
}

static rw_status check_damage(const rw_damage *d, rw_error *err)
{
  const char *me = "rw_repair_layers";
  if (d->layer == NULL)
    return rw_laminate_missing(me, "layer", err);
  rw_status status = check_face(d->face, me, err);
  if (status != RW_OK)
    return status;
  if (!(d->share >= 0.1 && d->share <= 2))
    return rw_error_range(err, me, "share", d->share, 0.1, 2, "",
                          "of the sound stack's stiffness and strength; 1 is usual");
  if (d->most < 1 || d->most > MOST_LAYERS)
    return rw_error_range(err, me, "most", (double)d->most, 1, MOST_LAYERS, "",
                          "layers of the patch to try");
  status = called("sound", me, rw_laminate_plies(d->sound, d->sound_n, me, err), err);
  if (status == RW_OK)
    status = called("left", me, rw_laminate_plies(d->left, d->left_n, me, err), err);
  if (status == RW_OK)
    status = called("layer", me, rw_laminate_plies(d->layer, 1, me, err), err);
  if (status != RW_OK)
    return status;
  if (d->left_n > RW_LAMINATE_PLIES - MOST_LAYERS)
    return rw_error_range(err, me, "left_n", (double)d->left_n, 1, RW_LAMINATE_PLIES - MOST_LAYERS,
                          "", "join equal neighbouring plies into one thicker ply");
  return RW_OK;
}

/* Shares of the sound stack with some layers laid on. */
static rw_status shares(const rw_damage *d, size_t layers, const double sound[RW_REPAIR_MEASURES],
                        double share[RW_REPAIR_MEASURES], rw_error *err)
{
  rw_ply all[RW_LAMINATE_PLIES], extra[MOST_LAYERS] = {{.thickness = 0}};
  for (size_t i = 0; i < layers; i++)
    extra[i] = *d->layer;
  size_t n = laid_on(d->left, d->left_n, extra, layers, d->face, all);
  double value[RW_REPAIR_MEASURES];
  rw_status status = measure(all, n, d->criterion, value, err);
  for (size_t k = 0; k < RW_REPAIR_MEASURES && status == RW_OK; k++)
    share[k] = value[k] / sound[k];
  return status;
}

/* Whether a range of measures is back. */
static int is_back(const rw_damage *d, const double share[RW_REPAIR_MEASURES], size_t from,
                   size_t to)
{
  for (size_t k = from; k < to; k++)
    if (!(share[k] >= d->share * (1 - 1e-12)))
      return 0;
  return 1;
}

rw_status rw_repair_layers(const rw_damage *damage, rw_repair *out, rw_error *err)
{
  const char *me = "rw_repair_layers";
  if (damage == NULL || out == NULL)
    return rw_laminate_missing(me, damage == NULL ? "damage" : "out", err);
  double sound[RW_REPAIR_MEASURES], share[RW_REPAIR_MEASURES];
  rw_status status = check_damage(damage, err);
  if (status == RW_OK)
    status = called("sound", me,
                    measure(damage->sound, damage->sound_n, damage->criterion, sound, err), err);
  if (status != RW_OK)
    return status;
  size_t never = damage->most + 1;
  rw_repair r = {.for_stiffness = never, .for_strength = never};
  for (size_t layers = 0; layers <= damage->most; layers++) {
    status = shares(damage, layers, sound, share, err);
    if (status != RW_OK)
      return called(layers == 0 ? "left" : "layer", me, status, err);
    if (layers == 0)
      memcpy(r.damaged, share, sizeof share);
    if (r.for_stiffness == never && is_back(damage, share, 0, RW_REPAIR_MOMENT_X))
      r.for_stiffness = layers;
    if (r.for_strength == never && is_back(damage, share, RW_REPAIR_MOMENT_X, RW_REPAIR_MEASURES))
      r.for_strength = layers;
    memcpy(r.mended, share, sizeof share);
    r.added_mass = (double)layers * damage->layer->thickness * damage->layer->material.density;
    if (r.for_stiffness != never && r.for_strength != never)
      break;
  }
  *out = r;
  if (r.for_stiffness != never && r.for_strength != never)
    return RW_OK;
  return rw_error_set(err, RW_NO_SOLUTION, me, "most",
                      "put layers on both faces, replace what is gone, or take stronger cloth",
                      "%d layers on this face don't bring %s back", (int)damage->most,
                      r.for_stiffness == never ? "the stiffness" : "the strength");
}

static rw_status check_double(const rw_ply *ply, size_t n, const rw_ply *extra, size_t extra_n,
                              int face, const rw_bond *glue, rw_error *err)
{
  const char *me = "rw_stack_double";
  rw_status status = rw_laminate_plies(ply, n, me, err);
  if (status == RW_OK && (extra == NULL || extra_n == 0))
    status = rw_error_set(err, RW_ERR_ARGUMENT, me, "extra", "list at least one ply",
                          "nothing is laid on");
  if (status == RW_OK)
    status = called("extra", me, rw_laminate_plies(extra, extra_n, me, err), err);
  if (status == RW_OK && n + extra_n > RW_LAMINATE_PLIES)
    status =
        rw_error_range(err, me, "extra_n", (double)extra_n, 1, (double)(RW_LAMINATE_PLIES - n), "",
                       "join equal neighbouring plies into one thicker ply");
  if (status == RW_OK)
    status = check_face(face, me, err);
  if (status == RW_OK)
    status = rw_laminate_positive(glue->G, me, "glue.G", "Pa", "cured epoxy has about 1 GPa", err);
  if (status == RW_OK)
    status =
        rw_laminate_positive(glue->thickness, me, "glue.thickness", "m", "of the glue line", err);
  return status;
}

/* Strain along x at both faces of the plain stack, whose middle lies at a height. */
static void at_faces(const double strain[6], double middle, double thickness, double face[2])
{
  face[0] = strain[0] + strain[3] * (middle - thickness / 2);
  face[1] = strain[0] + strain[3] * (middle + thickness / 2);
}

/* The plies of a doubled place, and the stacks of plain, laid on and all. */
typedef struct doubled {
  rw_ply all[RW_LAMINATE_PLIES];
  size_t n, first, extra; /* of those laid on, the first and how many */
  rw_stack plain, more, both;
} doubled;

static rw_status make_doubled(const rw_ply *ply, size_t n, const rw_ply *extra, size_t extra_n,
                              int face, doubled *d, rw_error *err)
{
  d->n = laid_on(ply, n, extra, extra_n, face, d->all);
  d->first = face > 0 ? n : 0;
  d->extra = extra_n;
  rw_status status = rw_stack_make(extra, extra_n, &d->more, err);
  if (status == RW_OK)
    status = rw_stack_make(ply, n, &d->plain, err);
  if (status == RW_OK)
    status = rw_stack_make(d->all, d->n, &d->both, err);
  return status;
}

/* Strains on both sides of the edge, and the force in what is laid on: the sum of stresses at its
 * plies' middles, where they are those of the ply's mean. */
static rw_status across_the_edge(const doubled *d, int face, const double load[6], rw_doubling *r,
                                 rw_error *err)
{
  double outside[6], inside[6], moved[6], middle = -face * d->more.thickness / 2;
  for (size_t i = 0; i < 3; i++) {
    moved[i] = load[i];
    moved[i + 3] = load[i + 3] + load[i] * middle;
  }
  rw_stack_strain(&d->plain, load, outside);
  rw_stack_strain(&d->both, moved, inside);
  at_faces(outside, 0, d->plain.thickness, r->outside);
  at_faces(inside, middle, d->plain.thickness, r->inside);
  for (size_t i = 0; i < 2; i++)
    r->jump[i] = r->outside[i] / r->inside[i];
  for (size_t i = d->first; i < d->first + d->extra; i++) {
    double stress[3];
    rw_status status = rw_stack_stress(d->all, d->n, i, 0, inside, stress, NULL, err);
    if (status != RW_OK)
      return status;
    r->force += stress[0] * d->all[i].thickness;
  }
  return RW_OK;
}

rw_status rw_stack_double(const rw_ply *ply, size_t n, const rw_ply *extra, size_t extra_n,
                          int face, const double load[6], const rw_bond *glue, rw_doubling *out,
                          rw_error *err)
{
  const char *me = "rw_stack_double";
  if (load == NULL || glue == NULL || out == NULL)
    return rw_laminate_missing(me, load == NULL ? "load" : glue == NULL ? "glue" : "out", err);
  rw_status status = check_double(ply, n, extra, extra_n, face, glue, err);
  if (status == RW_OK)
    status = rw_laminate_load(load, me, err);
  if (status != RW_OK)
    return status;
  doubled d;
  rw_doubling r = {0};
  status = make_doubled(ply, n, extra, extra_n, face, &d, err);
  if (status == RW_OK)
    status = across_the_edge(&d, face, load, &r, err);
  if (status != RW_OK)
    return rw_laminate_in_name_of(me, status, err);
  r.stiffer_x = d.both.EIx / d.plain.EIx;
  r.stiffer_y = d.both.EIy / d.plain.EIy;
  r.added_mass = d.more.areal_mass;
  double soft = 1 / (d.plain.Ex * d.plain.thickness) + 1 / (d.more.Ex * d.more.thickness);
  double k = sqrt(glue->G / glue->thickness * soft);
  r.reach = 3 / k;
  r.shear = r.force * k;
  *out = r;
  return RW_OK;
}
