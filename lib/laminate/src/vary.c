/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "vary.h"

#include <resinwright/num.h>

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LEAST_DRAWS = 100, MOST_DRAWS = 100000, STRENGTHS = 5 };

/* --- what is asked -------------------------------------------------------------------------- */

static void strengths_of(const rw_strength_spread *s, double out[STRENGTHS])
{
  const double all[STRENGTHS] = {s->Xt, s->Xc, s->Yt, s->Yc, s->S};
  memcpy(out, all, sizeof all);
}

static rw_status check_strength(const rw_scatter *scatter, const char *function, rw_error *err)
{
  static const char *const name[STRENGTHS] = {"Xt", "Xc", "Yt", "Yc", "S"};
  for (size_t g = 0; g < scatter->groups && scatter->strength != NULL; g++) {
    double sd[STRENGTHS];
    strengths_of(&scatter->strength[g], sd);
    for (size_t k = 0; k < STRENGTHS; k++) {
      char field[40];
      snprintf(field, sizeof field, "strength[%zu].%s", g + 1, name[k]);
      if (!(sd[k] >= 0 && sd[k] <= 0.9))
        return rw_error_range(err, function, field, sd[k], 0, 0.9, "",
                              "a relative standard deviation: 0.16 for clear wood in bending");
    }
  }
  return RW_OK;
}

rw_status rw_vary_check(const rw_ply *ply, size_t n, const rw_scatter *scatter,
                        rw_criterion criterion, const char *function, rw_error *err)
{
  if (scatter == NULL || scatter->group == NULL || scatter->relative == NULL)
    return rw_laminate_missing(function,
                               scatter == NULL          ? "scatter"
                               : scatter->group == NULL ? "group"
                                                        : "relative",
                               err);
  rw_status status = rw_laminate_plies(ply, n, function, err);
  if (status == RW_OK)
    status =
        rw_laminate_groups(n, scatter->group, scatter->relative, scatter->groups, function, err);
  if (status == RW_OK)
    status = check_strength(scatter, function, err);
  if (status != RW_OK)
    return status;
  if (!(scatter->level >= 0.5 && scatter->level <= 0.999))
    return rw_error_range(err, function, "level", scatter->level, 0.5, 0.999, "", "0.9 is usual");
  if (scatter->draws == 0)
    return RW_OK;
  if (scatter->draws < LEAST_DRAWS || scatter->draws > MOST_DRAWS)
    return rw_error_range(err, function, "draws", (double)scatter->draws, LEAST_DRAWS, MOST_DRAWS,
                          "", "500 is usual; 0 leaves the load factor out");
  return rw_laminate_strengths(ply, n, criterion, function, err);
}

/* --- stiffer and softer --------------------------------------------------------------------- */

/* Spread of the logarithm of a lognormal number with this relative sd. */
static double log_sd(double relative)
{
  return sqrt(log1p(relative * relative));
}

enum { SOFTER, STIFFER, AS_GIVEN };

/* How answers and loads move with each group: per standard deviation of the logarithm of its
 * moduli, and per square of it. */
typedef struct moves {
  double answer[RW_LAMINATE_GROUPS][VARY_ANSWERS];
  double straight[RW_LAMINATE_GROUPS][VARY_PLACES][6];
  double bent[RW_LAMINATE_GROUPS][VARY_PLACES][6];
  double load[3][VARY_PLACES][6]; /* softer, stiffer, as given */
} moves;

static rw_status solve(const vary *v, size_t group, double step, double *answer, double (*load)[6],
                       rw_error *err)
{
  rw_ply changed[RW_LAMINATE_PLIES];
  rw_stack s;
  memcpy(changed, v->ply, v->n * sizeof *changed);
  for (size_t i = 0; i < v->n; i++)
    if (v->scatter->group[i] == group)
      rw_laminate_stiffen(&changed[i].material, exp(step));
  rw_status status = rw_stack_make(changed, v->n, &s, err);
  return status < 0 ? status : v->solve(changed, v->n, &s, answer, load, v->context, err);
}

static rw_status move_group(const vary *v, size_t group, moves *m, rw_error *err)
{
  double step = log_sd(v->scatter->relative[group]), answer[2][VARY_ANSWERS];
  for (int side = 0; side < 2; side++) {
    rw_status status = solve(v, group, side == 0 ? -step : step, answer[side], m->load[side], err);
    if (status < 0)
      return status;
  }
  for (size_t k = 0; k < v->answers; k++) {
    m->answer[group][k] = log(fabs(answer[STIFFER][k] / answer[SOFTER][k])) / 2;
    if (!isfinite(m->answer[group][k]))
      return rw_error_set(
          err, RW_ERR_NUMERIC, v->function, "ply", "look at the load: it hardly bends anything",
          "an answer falls to nothing when group %zu is softer or stiffer", group + 1);
  }
  for (size_t i = 0; i < v->places; i++)
    for (size_t k = 0; k < 6; k++) {
      double soft = m->load[SOFTER][i][k], stiff = m->load[STIFFER][i][k];
      m->straight[group][i][k] = (stiff - soft) / 2;
      m->bent[group][i][k] = (stiff + soft) / 2 - m->load[AS_GIVEN][i][k];
    }
  return RW_OK;
}

static rw_panel_range range_of(double value, double log_sd, double level)
{
  double wide = exp(rw_num_normal_quantile((1 + level) / 2) * log_sd);
  double a = value / wide, b = value * wide;
  return (rw_panel_range){.value = value, .low = fmin(a, b), .high = fmax(a, b), .log_sd = log_sd};
}

static void sum_answers(const vary *v, const moves *m, rw_panel_range *range)
{
  for (size_t k = 0; k < v->answers; k++) {
    double sd = 0, largest = 0;
    size_t because = 0;
    for (size_t g = 0; g < v->scatter->groups; g++) {
      double part = fabs(m->answer[g][k]);
      sd = hypot(sd, part);
      if (part > largest) {
        largest = part;
        because = g;
      }
    }
    range[k] = range_of(v->answer[k], sd, v->scatter->level);
    range[k].because = because;
  }
}

/* --- draws of the load factor --------------------------------------------------------------- */

enum { SOURCES = 2 * RW_LAMINATE_GROUPS, FACES = 2, MODES = RW_MODE_SHEAR_THROUGH + 1 };

/* Sums over the draws; the numbers of each group: moduli, strengths. */
typedef struct tally {
  double *factor; /* of each draw */
  size_t *first;  /* how often each ply, face and mode is first */
  size_t finite;
  double sum, squares, z[SOURCES], product[SOURCES];
} tally;

static size_t place_in(const rw_first_failure *f)
{
  return (f->ply * FACES + (f->face > 0)) * MODES + (size_t)f->mode;
}

static rw_first_failure named(size_t place)
{
  rw_mode mode = (rw_mode)(place % MODES);
  int face = place / MODES % FACES == 0 ? -1 : 1;
  return (rw_first_failure){
      .ply = place / (FACES * MODES), .face = mode == RW_MODE_NONE ? 0 : face, .mode = mode};
}

static void change_ply(const rw_scatter *scatter, size_t group, const double *z, rw_lamina *m)
{
  double *const strength[STRENGTHS] = {&m->Xt, &m->Xc, &m->Yt, &m->Yc, &m->S};
  rw_laminate_stiffen(m, exp(log_sd(scatter->relative[group]) * z[2 * group]));
  if (scatter->strength == NULL)
    return;
  double sd[STRENGTHS];
  strengths_of(&scatter->strength[group], sd);
  for (size_t k = 0; k < STRENGTHS; k++)
    *strength[k] *= exp(log_sd(sd[k]) * z[2 * group + 1]);
}

/* What gives way first anywhere, of the plies given. */
static rw_first_failure first_of(const vary *v, const moves *m, const rw_ply *ply,
                                 const rw_stack *s, const double *z)
{
  rw_first_failure first = {HUGE_VAL, 0, 0, RW_MODE_NONE};
  for (size_t i = 0; i < v->places; i++) {
    double load[6];
    memcpy(load, v->load[i], sizeof load);
    for (size_t g = 0; g < v->scatter->groups && z != NULL; g++) {
      double t = z[2 * g];
      for (size_t k = 0; k < 6; k++)
        load[k] += t * (m->straight[g][i][k] + t * m->bent[g][i][k]);
    }
    rw_first_failure one = rw_laminate_first(ply, v->n, s, load, v->criterion);
    if (one.factor < first.factor)
      first = one;
  }
  return first;
}

static void note(tally *t, size_t draw, const rw_first_failure *f, const double *z, size_t sources)
{
  t->factor[draw] = f->factor;
  t->first[place_in(f)]++;
  if (!(f->factor < HUGE_VAL))
    return;
  double x = log(f->factor);
  t->finite++;
  t->sum += x;
  t->squares += x * x;
  for (size_t i = 0; i < sources; i++) {
    t->z[i] += z[i];
    t->product[i] += z[i] * x;
  }
}

static rw_status draw_all(const vary *v, const moves *m, rw_draws *draws, tally *t, rw_error *err)
{
  rw_ply changed[RW_LAMINATE_PLIES];
  rw_stack s;
  double z[SOURCES];
  for (size_t d = 0; d < v->scatter->draws; d++) {
    rw_draws_next(draws, z);
    memcpy(changed, v->ply, v->n * sizeof *changed);
    for (size_t i = 0; i < v->n; i++)
      change_ply(v->scatter, v->scatter->group[i], z, &changed[i].material);
    rw_status status = rw_stack_make(changed, v->n, &s, err);
    if (status < 0)
      return status;
    rw_first_failure first = first_of(v, m, changed, &s, z);
    note(t, d, &first, z, 2 * v->scatter->groups);
  }
  return RW_OK;
}

static void sum_factor(const rw_scatter *scatter, const tally *t, rw_panel_range *out)
{
  double n = (double)t->finite, largest = 0, outside = (1 - scatter->level) / 2;
  rw_num_sort(t->factor, scatter->draws);
  out->low = rw_num_quantile(t->factor, scatter->draws, outside);
  out->high = rw_num_quantile(t->factor, scatter->draws, 1 - outside);
  if (t->finite == 0)
    return;
  double variance = t->squares / n - t->sum / n * (t->sum / n);
  out->log_sd = sqrt(fmax(variance, 0));
  for (size_t i = 0; i < 2 * scatter->groups; i++) {
    double part = fabs(t->product[i] / n - t->z[i] / n * (t->sum / n));
    if (part > largest) {
      largest = part;
      out->because = i / 2;
      out->strength = i % 2 == 1;
    }
  }
}

static void sum_first(const vary *v, const tally *t, rw_failure_spread *out)
{
  size_t usual = place_in(&out->first), next = 0, most = 0;
  for (size_t i = 0; i < v->n * FACES * MODES; i++)
    if (i != usual && t->first[i] > most) {
      most = t->first[i];
      next = i;
    }
  double all = (double)v->scatter->draws;
  out->other = 1 - (double)t->first[usual] / all;
  out->next_share = (double)most / all;
  if (most > 0)
    out->next = named(next);
}

static rw_status no_memory(const vary *v, rw_error *err)
{
  return rw_error_set(err, RW_ERR_MEMORY, v->function, NULL, NULL,
                      "not enough memory for the spread of a panel");
}

static rw_status fail(const vary *v, const moves *m, rw_failure_spread *out, rw_error *err)
{
  rw_stack s;
  rw_draws *draws = NULL;
  tally t = {.factor = malloc(v->scatter->draws * sizeof *t.factor),
             .first = calloc(v->n * FACES * MODES, sizeof *t.first)};
  rw_status status =
      t.factor == NULL || t.first == NULL
          ? no_memory(v, err)
          : rw_draws_create(2 * (unsigned)v->scatter->groups, v->scatter->seed, &draws, err);
  if (status >= 0)
    status = rw_stack_make(v->ply, v->n, &s, err);
  if (status >= 0)
    status = draw_all(v, m, draws, &t, err);
  if (status >= 0) {
    out->first = first_of(v, m, v->ply, &s, NULL);
    out->factor.value = out->first.factor;
    sum_factor(v->scatter, &t, &out->factor);
    sum_first(v, &t, out);
  }
  rw_draws_destroy(draws);
  free(t.factor);
  free(t.first);
  return status;
}

rw_status rw_vary(const vary *v, rw_panel_range *range, rw_failure_spread *failure, rw_error *err)
{
  moves *m = calloc(1, sizeof *m);
  if (m == NULL)
    return no_memory(v, err);
  double answer[VARY_ANSWERS];
  rw_status status = solve(v, 0, 0, answer, m->load[AS_GIVEN], err);
  for (size_t g = 0; g < v->scatter->groups && status >= 0; g++)
    if (v->scatter->relative[g] > 0)
      status = move_group(v, g, m, err);
  if (status >= 0)
    sum_answers(v, m, range);
  *failure = (rw_failure_spread){.other = 0};
  if (status >= 0 && v->scatter->draws > 0)
    status = fail(v, m, failure, err);
  free(m);
  return rw_laminate_in_name_of(v->function, status < 0 ? status : RW_OK, err);
}
