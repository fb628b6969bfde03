/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "plate_common.h"
#include "vary.h"

#include <math.h>
#include <string.h>

static const char FUNCTION[] = "rw_bent_plate_spread";

/* What is read off every panel. */
enum { DEFLECTION, HELD, LOWER, UPPER, ANSWERS };
enum { STRENGTHS = 5 };
/* Stresses below this part of the greatest, each over its strength, are taken never to be first:
 * that is seven standard deviations of strengths good to a factor of two. */
static const double hardly = 0.05;

typedef struct reading {
  const rw_bent_plate *p;
  rw_plate_point lower, upper;  /* where the faces are strained most */
  double place[VARY_PLACES][2]; /* where something may give way first */
  size_t places;
} reading;

static double by_lower(const rw_plate_point *point, void *context)
{
  (void)context;
  return fabs(rw_plate_principal(point->lower));
}

static double by_upper(const rw_plate_point *point, void *context)
{
  (void)context;
  return fabs(rw_plate_principal(point->upper));
}

/* The greatest stress over strength of each group and strength, and where. */
typedef struct worst {
  const rw_ply *ply;
  const size_t *group;
  size_t n;
  double ratio[RW_LAMINATE_GROUPS][STRENGTHS];
  double place[RW_LAMINATE_GROUPS][STRENGTHS][2];
} worst;

static double look_at_face(worst *w, size_t i, double z, const rw_plate_point *point)
{
  double global[3], local[3], most = 0;
  rw_laminate_stress(&w->ply[i], z, point->strain, global, local);
  for (size_t k = 0; k < 3; k++) {
    double ratio = fabs(local[k]) / rw_laminate_bears(&w->ply[i].material, k, local[k]);
    size_t g = w->group[i], strength = k < 2 ? 2 * k + (local[k] < 0) : 4;
    most = fmax(most, ratio);
    if (ratio > w->ratio[g][strength]) {
      w->ratio[g][strength] = ratio;
      w->place[g][strength][0] = point->x;
      w->place[g][strength][1] = point->y;
    }
  }
  return most;
}

static double by_stress(const rw_plate_point *point, void *context)
{
  worst *w = context;
  double most = 0;
  for (size_t i = 0; i < w->n; i++) {
    if (!(w->ply[i].material.Xt > 0))
      continue;
    double z = rw_laminate_height(w->ply, w->n, i), half = w->ply[i].thickness / 2;
    most = fmax(most, look_at_face(w, i, z - half, point));
    most = fmax(most, look_at_face(w, i, z + half, point));
  }
  return most;
}

static void add_place(reading *r, double x, double y)
{
  for (size_t i = 0; i < r->places; i++)
    if (r->place[i][0] == x && r->place[i][1] == y)
      return;
  r->place[r->places][0] = x;
  r->place[r->places++][1] = y;
}

static void add_places(reading *r, const worst *w, size_t groups)
{
  double most = 0;
  for (size_t i = 0; i < groups * STRENGTHS; i++)
    most = fmax(most, w->ratio[i / STRENGTHS][i % STRENGTHS]);
  for (size_t i = 0; i < groups * STRENGTHS; i++) {
    const double *place = w->place[i / STRENGTHS][i % STRENGTHS];
    if (w->ratio[i / STRENGTHS][i % STRENGTHS] > hardly * most)
      add_place(r, place[0], place[1]);
  }
}

static void read_panel(const reading *r, const rw_bent_plate *p, double held, double *answer,
                       double (*load)[6])
{
  rw_plate_point point;
  rw_plate_point_at(p, r->p->result.deepest.x, r->p->result.deepest.y, &point);
  answer[DEFLECTION] = point.deflection;
  answer[HELD] = held * point.deflection;
  rw_plate_point_at(p, r->lower.x, r->lower.y, &point);
  answer[LOWER] = rw_plate_principal(point.lower);
  rw_plate_point_at(p, r->upper.x, r->upper.y, &point);
  answer[UPPER] = rw_plate_principal(point.upper);
  for (size_t i = 0; i < r->places; i++) {
    rw_plate_point_at(p, r->place[i][0], r->place[i][1], &point);
    memcpy(load[i], point.load, sizeof point.load);
  }
}

static rw_status make_coarse(const rw_bent_plate *p, const rw_ply *ply, size_t n,
                             const rw_stack *s, rw_bent_plate **out, rw_error *err)
{
  rw_plate plate = p->plate;
  rw_status status = RW_OK;
  if (p->sheared)
    status = rw_stack_shear(ply, n, s, plate.shear, err);
  return status < 0 ? status : rw_plate_make(s, &plate, p->load, p->loads, 1, out, err);
}

static rw_status solve(const rw_ply *ply, size_t n, const rw_stack *s, double *answer,
                       double (*load)[6], void *context, rw_error *err)
{
  const reading *r = context;
  const rw_bent_plate *p = r->p;
  rw_bent_plate *other = NULL;
  double held = 0;
  rw_status status = make_coarse(p, ply, n, s, &other, err);
  if (status >= 0 && p->result.coupling == RW_COUPLING_ANGLE &&
      other->result.coupling != RW_COUPLING_ANGLE)
    status = rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, "group",
                          "put the plies of both angles into one group",
                          "the stack's antisymmetry is lost when one group is stiffer");
  if (status >= 0)
    status = rw_plate_hold(other, p->load, p->loads, &held, err);
  if (status >= 0)
    read_panel(r, other, held, answer, load);
  rw_bent_plate_destroy(other);
  return status;
}

/* Where faces are strained most, and where each strength is nearest to being reached: a coarse
 * panel is walked over, the panel itself climbed. */
static rw_status look(const vary *v, reading *r, rw_error *err)
{
  const rw_bent_plate *p = r->p;
  worst w = {.ply = v->ply, .group = v->scatter->group, .n = v->n};
  rw_bent_plate *coarse = NULL;
  rw_plate_point point;
  rw_status status = make_coarse(p, v->ply, v->n, &p->stack, &coarse, err);
  if (status >= 0)
    status = rw_plate_search(coarse, by_lower, NULL, FUNCTION, &r->lower, err);
  if (status >= 0)
    status = rw_plate_search(coarse, by_upper, NULL, FUNCTION, &r->upper, err);
  if (status >= 0 && v->scatter->draws > 0)
    status = rw_plate_search(coarse, by_stress, &w, FUNCTION, &point, err);
  rw_bent_plate_destroy(coarse);
  if (status < 0)
    return status;
  rw_plate_climb(p, by_lower, NULL, &r->lower);
  rw_plate_climb(p, by_upper, NULL, &r->upper);
  if (v->scatter->draws == 0)
    return RW_OK;
  rw_plate_failure first;
  status = rw_bent_plate_failure(p, v->ply, v->n, v->criterion, &first, err);
  if (status < 0)
    return status;
  add_place(r, first.x, first.y);
  add_places(r, &w, v->scatter->groups);
  return RW_OK;
}

rw_status rw_bent_plate_spread(const rw_bent_plate *p, const rw_ply *ply, size_t n,
                               const rw_scatter *scatter, rw_criterion criterion,
                               rw_plate_spread *out, rw_error *err)
{
  if (p == NULL || out == NULL)
    return rw_laminate_missing(FUNCTION, p == NULL ? "p" : "out", err);
  rw_status status = rw_vary_check(ply, n, scatter, criterion, FUNCTION, err);
  if (status == RW_OK)
    status = rw_plate_same_stack(p, ply, n, FUNCTION, err);
  if (status != RW_OK)
    return status;
  reading r = {.p = p};
  vary v = {.function = FUNCTION,
            .ply = ply,
            .n = n,
            .scatter = scatter,
            .criterion = criterion,
            .solve = solve,
            .context = &r,
            .answers = ANSWERS};
  status = look(&v, &r, err);
  if (status != RW_OK)
    return rw_laminate_in_name_of(FUNCTION, status, err);
  v.places = r.places;
  read_panel(&r, p, p->result.held / p->result.deepest.deflection, v.answer, v.load);
  rw_panel_range range[ANSWERS];
  rw_failure_spread failure;
  status = rw_vary(&v, range, &failure, err);
  if (status == RW_OK)
    *out = (rw_plate_spread){range[DEFLECTION], range[HELD], range[LOWER], range[UPPER], failure};
  return status;
}
