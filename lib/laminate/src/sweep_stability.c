/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a ranking holds when wood and resin are not known exactly. */
#include "sweep.h"

#include <resinwright/num.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char FUNCTION[] = "rw_sweep_stability";
enum { MOST_STACKS = 1000, MOST_DRAWS = 1000000, RESIN = SWEEP_CORES };

/* Everything the draws need, in one block. */
typedef struct trial {
  rw_sweep set; /* the set with the plies of the draw in hand */
  const rw_sweep_scatter *scatter;
  const uint64_t *number;
  size_t k;
  const rw_goal *goal;
  size_t goals;
  double scale[RW_GOALS];
  double *value[RW_MEASURES]; /* k numbers of each goal */
  double *behind;
  size_t *order, *spare;
} trial;

static rw_status check_scatter(const rw_sweep_scatter *c, rw_error *err)
{
  const double most = 0.5;
  if (!(c->wood >= 0 && c->wood <= most))
    return rw_error_range(err, FUNCTION, "wood", c->wood, 0, most, "",
                          "0.2 is usual for the modulus of clear wood");
  if (!(c->resin >= 0 && c->resin <= most))
    return rw_error_range(err, FUNCTION, "resin", c->resin, 0, most, "",
                          "0.15 is usual for cloth laid by hand");
  if (c->draws < 1 || c->draws > MOST_DRAWS)
    return rw_error_range(err, FUNCTION, "draws", (double)c->draws, 1, MOST_DRAWS, "",
                          "500 is usual");
  return rw_laminate_matrix(&c->matrix, FUNCTION, err);
}

/* The cloth without its resin must still be there, in thickness and in stiffness. */
static rw_status check_resin(const rw_sweep *s, const rw_matrix *m, rw_error *err)
{
  for (size_t i = 1; i < s->entries; i++) {
    const rw_sweep_ply *p = &s->source[i].ply;
    double film = p->resin / m->density, shear = m->E / (2 * (1 + m->nu));
    double least = fmin(fmin(p->material.E1, p->material.E2) / m->E, p->material.G12 / shear);
    double most = p->thickness * fmin(1, least);
    if (s->source[i].group == RESIN && !(film < most))
      return rw_error_range(
          err, FUNCTION, "resin of a ply", p->resin, 0, most * m->density, "kg/m2",
          "thickness, moduli and resin of a cloth and the cured resin do not fit together");
  }
  return RW_OK;
}

static rw_status check(const rw_sweep *s, const uint64_t *number, size_t k, const rw_goal *goal,
                       size_t goals, const rw_sweep_scatter *scatter, const void *place,
                       rw_error *err)
{
  if (s == NULL || number == NULL || scatter == NULL || place == NULL)
    return rw_laminate_missing(FUNCTION,
                               s == NULL         ? "s"
                               : number == NULL  ? "number"
                               : scatter == NULL ? "scatter"
                                                 : "place",
                               err);
  if (k < 1 || k > MOST_STACKS)
    return rw_error_range(err, FUNCTION, "k", (double)k, 1, MOST_STACKS, "",
                          "take the first few of a ranking");
  rw_status status = rw_sweep_goals(goal, goals, NULL, 1, FUNCTION, err);
  for (size_t g = 0; g < goals && status == RW_OK; g++)
    if (goal[g].measure >= RW_MEASURE_FACTOR + (int)s->loads)
      status =
          rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, "goal", "give the set one more load case",
                       "the load case of goal %zu is not in the set", g + 1);
  for (size_t i = 0; i < k && status == RW_OK; i++)
    if (number[i] >= s->count)
      status = rw_error_range(err, FUNCTION, "number", (double)number[i], 0,
                              (double)(s->count - 1), "", "stacks are counted from 0");
  if (status == RW_OK)
    status = check_scatter(scatter, err);
  if (status == RW_OK && scatter->resin > 0)
    status = check_resin(s, &scatter->matrix, err);
  return status;
}

/* A factor with mean 1 and the given relative sd, lognormal. */
static double factor_of(double sd, double z)
{
  double v = log1p(sd * sd);
  return exp(sqrt(v) * z - v / 2);
}

/* A ply of cloth with `times` as much resin (185). */
static void soak(rw_sweep_ply *p, const rw_matrix *m, double times)
{
  rw_lamina *l = &p->material;
  double more = (times - 1) * p->resin, film = more / m->density, t = p->thickness;
  double all = t + film, shear = m->E / (2 * (1 + m->nu));
  double mass = p->areal_mass > 0 ? p->areal_mass : t * l->density;
  l->E1 = (l->E1 * t + m->E * film) / all;
  l->E2 = (l->E2 * t + m->E * film) / all;
  l->G12 = (l->G12 * t + shear * film) / all;
  double *strength[] = {&l->Xt, &l->Xc, &l->Yt, &l->Yc, &l->S};
  for (size_t i = 0; i < sizeof strength / sizeof strength[0]; i++)
    *strength[i] *= t / all;
  p->areal_mass = mass + more;
  p->resin += more;
  p->thickness = all;
}

/* The plies of one draw. */
static void change(trial *t, const rw_sweep *s, const double *z)
{
  const rw_sweep_scatter *c = t->scatter;
  double resin = factor_of(c->resin, z[0]);
  for (size_t i = 1; i < s->entries; i++) {
    sweep_source one = s->source[i];
    if (one.group == RESIN) {
      if (c->resin > 0)
        soak(&one.ply, &c->matrix, resin);
    } else {
      rw_laminate_stiffen(&one.ply.material, factor_of(c->wood, z[1 + one.group]));
    }
    rw_sweep_prepare(&one, &t->set.entry[i]);
  }
}

static int work_out(trial *t)
{
  sweep_job j = {.s = &t->set, .number = t->number};
  memcpy(j.value, t->value, sizeof j.value);
  return rw_sweep_lanes(&j, 0, t->k);
}

/* Ranks the stacks of a draw; equal ones share the mean of their places. */
static void note(trial *t, rw_sweep_place *place)
{
  const double *value[RW_MEASURES];
  for (size_t m = 0; m < RW_MEASURES; m++)
    value[m] = t->value[m];
  rw_sweep_behind(t->goal, t->goals, value, t->k, t->scale, t->behind);
  rw_sweep_sort(t->behind, 1, t->k, t->order, t->spare);
  for (size_t i = 0, end; i < t->k; i = end) {
    end = i + 1;
    while (end < t->k && !(t->behind[t->order[end]] > t->behind[t->order[i]]))
      end++;
    double rank = (double)(i + 1 + end) / 2;
    for (size_t j = i; j < end; j++) {
      rw_sweep_place *p = &place[t->order[j]];
      p->first += i == 0 ? 1 / (double)end : 0;
      p->rank += rank;
      p->best = fmin(p->best, rank);
      p->worst = fmax(p->worst, rank);
    }
  }
}

static rw_status run(trial *t, const rw_sweep *s, rw_draws *draws, rw_sweep_place *place,
                     rw_error *err)
{
  double z[1 + SWEEP_CORES];
  const double *value[RW_MEASURES];
  for (size_t m = 0; m < RW_MEASURES; m++)
    value[m] = t->value[m];
  int fine = work_out(t);
  rw_sweep_scales(t->goal, t->goals, value, t->k, t->scale);
  for (size_t d = 0; d < t->scatter->draws && fine; d++) {
    rw_draws_next(draws, z);
    change(t, s, z);
    fine = work_out(t);
    note(t, place);
  }
  if (!fine)
    return rw_error_set(err, RW_ERR_NUMERIC, FUNCTION, "number",
                        "look at the moduli and thicknesses of its plies",
                        "the plies of a stack lie too far apart to be worked out");
  double share = 1 / (double)t->scatter->draws;
  for (size_t i = 0; i < t->k; i++) {
    place[i].first *= share;
    place[i].rank *= share;
  }
  return RW_OK;
}

/* Room for the draws: the plies, the numbers of each goal, and the results. */
static void *set_up(trial *t, const rw_sweep *s, rw_sweep_place **place)
{
  size_t k = t->k, plies = s->entries * sizeof *s->entry;
  size_t numbers = (t->goals + 1) * k * sizeof(double), orders = 2 * k * sizeof(size_t);
  char *block = malloc(plies + numbers + k * sizeof **place + orders);
  if (block == NULL)
    return NULL;
  t->set = *s;
  t->set.entry = (sweep_entry *)block;
  memcpy(t->set.entry, s->entry, plies);
  double *number = (double *)(block + plies);
  for (size_t g = 0; g < t->goals; g++)
    t->value[t->goal[g].measure] = number + g * k;
  t->behind = number + t->goals * k;
  *place = (rw_sweep_place *)(block + plies + numbers);
  t->order = (size_t *)(*place + k);
  t->spare = t->order + k;
  for (size_t i = 0; i < k; i++)
    (*place)[i] = (rw_sweep_place){.best = HUGE_VAL};
  return block;
}

rw_status rw_sweep_stability(const rw_sweep *s, const uint64_t *number, size_t k,
                             const rw_goal *goal, size_t goals, const rw_sweep_scatter *scatter,
                             rw_sweep_place *place, rw_error *err)
{
  rw_status status = check(s, number, k, goal, goals, scatter, place, err);
  if (status != RW_OK)
    return status;
  trial t = {.scatter = scatter, .number = number, .k = k, .goal = goal, .goals = goals};
  rw_draws *draws = NULL;
  rw_sweep_place *sum = NULL;
  void *block = set_up(&t, s, &sum);
  if (block == NULL)
    return rw_error_set(err, RW_ERR_MEMORY, FUNCTION, NULL, NULL,
                        "not enough memory to rank %zu stacks", k);
  status = rw_draws_create(1 + SWEEP_CORES, scatter->seed, &draws, err);
  if (status == RW_OK)
    status = run(&t, s, draws, sum, err);
  if (status == RW_OK)
    memcpy(place, sum, k * sizeof *place);
  rw_draws_destroy(draws);
  free(block);
  return rw_laminate_in_name_of(FUNCTION, status, err);
}
