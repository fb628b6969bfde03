/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Layups compared: by a wish, those that no other one beats, and how well a ranking holds. */
#include "layups.h"

#include "reading.h"

/* --- wishes --------------------------------------------------------------------------------- */

static _Noreturn void refuse_measure(lua_State *L, size_t i)
{
  const char *place = lua_pushfstring(L, "wishes[%d].measure", (int)i + 1);
  const rwl_refusal r = {.code = RW_ERR_ARGUMENT,
                         .argument = place,
                         .message =
                             lua_pushfstring(L, "%s is a strength that was not worked out", place),
                         .hint = "name it in rw.layups{strengths = {...}}"};
  rwl_refuse(L, &r);
}

/* The best number of a goal by size, for a step told as a share of it. */
static double best_of(const rwl_layups *s, const rw_goal *goal)
{
  const double *x = s->value[goal->measure];
  double best = goal->large ? -HUGE_VAL : HUGE_VAL;
  for (size_t i = 0; i < s->count; i++)
    if (isfinite(x[i]))
      best = goal->large ? fmax(best, x[i]) : fmin(best, x[i]);
  return fabs(best);
}

static void read_step(lua_State *L, const rwl_layups *s, size_t i, rw_goal *goal)
{
  if (!rwl_has(L, "step"))
    return;
  double share = rwl_get_quantity(L, "step", 0.0), best = best_of(s, goal);
  goal->scale = share * best;
  if (goal->scale > 0.0 && isfinite(goal->scale))
    return;
  const char *place = lua_pushfstring(L, "wishes[%d].step", (int)i + 1);
  const rwl_refusal r = {
      .code = RW_ERR_RANGE,
      .argument = place,
      .message = share > 0.0 ? lua_pushfstring(
                                   L, "%s is a share of the best, which has no size here", place)
                             : lua_pushfstring(L, "%s is 0, it must be above", place),
      .hint = "such as \"10 %\"; left out, the step is from the best to the worst"};
  rwl_refuse(L, &r);
}

/* Wishes; how many. */
static size_t read_wishes(lua_State *L, const rwl_layups *s, rw_goal goal[RW_GOALS])
{
  size_t n = rwl_get_count(L, "wishes");
  if (n < 1 || n > RW_GOALS) {
    rw_error err;
    rw_error_range(&err, "", "wishes", (double)n, 1, RW_GOALS, "", "name at least one measure");
    rwl_throw(L, &err);
  }
  for (size_t i = 0; i < n; i++) {
    rwl_open(L, "wishes", i);
    int choice = rwl_get_choice(L, "measure", 0), measure = rwl_layups_measure(s, choice);
    if (measure < 0)
      refuse_measure(L, i);
    enum { LARGE = 1 };
    int large = !(measure == RW_MEASURE_MASS || measure == RW_MEASURE_THICKNESS ||
                  measure == RW_MEASURE_RESIN || measure == RW_MEASURE_COST);
    goal[i] = (rw_goal){.measure = measure,
                        .large = rwl_get_choice(L, "want", large) == LARGE,
                        .weight = rwl_get_quantity(L, "weight", 1.0)};
    read_step(L, s, i, &goal[i]);
    rwl_close(L);
  }
  return n;
}

static const rwl_alias wish_alias[] = {
    {"goal", "wishes[]"}, {"number", "numbers"}, {"k", "numbers"}, {NULL, NULL}};

/* --- some of the layups --------------------------------------------------------------------- */

/* Those asked for, all where `numbers` is left out, and their measures. */
typedef struct choice {
  size_t n;
  const uint64_t *number; /* from 0; NULL: all */
  const double *value[RW_MEASURES];
} choice;

static const uint64_t *read_numbers(lua_State *L, const rwl_layups *s, size_t n)
{
  uint64_t *number = rwl_block(L, n, sizeof *number);
  for (size_t i = 0; i < n; i++) {
    lua_Integer k = rwl_get_integer_at(L, "numbers", i);
    if (k < 1 || (lua_Unsigned)k > s->count) {
      rw_error err;
      rw_error_range(&err, "", lua_pushfstring(L, "numbers[%d]", (int)i + 1), (double)k, 1,
                     (double)s->count, "", "layups count from 1");
      rwl_throw(L, &err);
    }
    number[i] = (uint64_t)k - 1;
  }
  return number;
}

static choice read_choice(lua_State *L, const rwl_layups *s, const rw_goal *goal, size_t goals)
{
  choice c = {.n = s->count};
  for (size_t m = 0; m < RW_MEASURES; m++)
    c.value[m] = s->value[m];
  if (!rwl_has(L, "numbers"))
    return c;
  c.n = rwl_get_count(L, "numbers");
  if (c.n == 0)
    rwl_refuse(L, &(rwl_refusal){.code = RW_ERR_ARGUMENT,
                                 .argument = "numbers",
                                 .message = "numbers is an empty list",
                                 .hint = "leave it away to compare all layups"});
  c.number = read_numbers(L, s, c.n);
  for (size_t g = 0; g < goals; g++) {
    double *x = rwl_block(L, c.n, sizeof *x);
    for (size_t i = 0; i < c.n; i++)
      x[i] = s->value[goal[g].measure][c.number[i]];
    c.value[goal[g].measure] = x;
  }
  return c;
}

static lua_Integer name_of(const choice *c, size_t i)
{
  return (lua_Integer)(c->number != NULL ? c->number[i] : i) + 1;
}

/* --- methods -------------------------------------------------------------------------------- */

int rwl_rank(lua_State *L)
{
  const rwl_layups *s = rwl_self(L);
  rw_goal goal[RW_GOALS];
  size_t goals = read_wishes(L, s, goal);
  choice c = read_choice(L, s, goal, goals);
  size_t *order = rwl_block(L, c.n, sizeof *order), top = rwl_get_size(L, "top", 1, INT32_MAX);
  double *behind = rwl_block(L, c.n, sizeof *behind);
  rw_error err = {0};
  rwl_check_as(L, rw_sweep_rank(c.value, c.n, goal, goals, order, behind, &err), &err, wish_alias);
  top = top < c.n ? top : c.n;
  lua_createtable(L, (int)top, 0);
  for (size_t i = 0; i < top; i++) {
    lua_createtable(L, 0, 2);
    lua_pushinteger(L, name_of(&c, order[i]));
    lua_setfield(L, -2, "number");
    rwl_set_number(L, "behind", behind[order[i]]);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}

int rwl_front(lua_State *L)
{
  const rwl_layups *s = rwl_self(L);
  rw_goal goal[RW_GOALS];
  size_t goals = read_wishes(L, s, goal), count = 0;
  choice c = read_choice(L, s, goal, goals);
  size_t *front = rwl_block(L, c.n, sizeof *front);
  rw_error err = {0};
  rwl_check_as(L, rw_sweep_front(c.value, c.n, goal, goals, front, &count, &err), &err,
               wish_alias);
  lua_createtable(L, (int)count, 0);
  for (size_t i = 0; i < count; i++) {
    lua_pushinteger(L, name_of(&c, front[i]));
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}

int rwl_stability(lua_State *L)
{
  const rwl_layups *s = rwl_self(L);
  rw_goal goal[RW_GOALS];
  rw_error err = {0};
  size_t goals = read_wishes(L, s, goal), k = rwl_get_count(L, "numbers");
  const uint64_t *number = read_numbers(L, s, k);
  rw_sweep_scatter scatter = {.wood = rwl_get_quantity(L, "wood", NAN),
                              .resin = rwl_get_quantity(L, "resin", NAN),
                              .draws = rwl_get_size(L, "draws", 1, 1000000),
                              .seed = (unsigned long)rwl_get_integer(L, "seed", 1)};
  rw_sweep_place *place = rwl_block(L, k, sizeof *place);
  rwl_check(L, rw_matrix_find(rwl_laminate_resin, &scatter.matrix, &err), &err);
  rwl_check_as(L, rw_sweep_stability(s->set, number, k, goal, goals, &scatter, place, &err), &err,
               wish_alias);
  lua_createtable(L, (int)k, 0);
  for (size_t i = 0; i < k; i++) {
    lua_createtable(L, 0, 5);
    lua_pushinteger(L, (lua_Integer)number[i] + 1);
    lua_setfield(L, -2, "number");
    rwl_set_number(L, "first", place[i].first);
    rwl_set_number(L, "rank", place[i].rank);
    rwl_set_number(L, "best", place[i].best);
    rwl_set_number(L, "worst", place[i].worst);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

static const rwl_field wish_fields[] = {
    RWL_NEED("measure", RWL_CHOICE, RWL_MEASURED, "what is wished for"),
    RWL_MAY("want", RWL_CHOICE, "small|large", NULL,
            "left out: small for mass, thickness, resin and cost, large for the rest"),
    RWL_MAY("weight", RWL_NUMBER, "", "1", "of this wish among the others, above 0"),
    RWL_MAY(
        "step", RWL_SHARE, "", NULL,
        "difference that counts as one, as a share of the best of all; left out, from the best "
        "to the worst of those compared"),
    RWL_END_FIELDS,
};
#define WISHES RWL_NEED_RECORDS("wishes", wish_fields, "1 to 8 measures")
#define NUMBERS                                                                                   \
  RWL_MAY_LIST("numbers", RWL_INTEGER, "", "layups to compare; left out, all of them")

const rwl_field rwl_rank_fields[] = {
    WISHES,
    NUMBERS,
    RWL_MAY("top", RWL_INTEGER, "", "10", "how many to give"),
    RWL_END_FIELDS,
};
const rwl_field rwl_front_fields[] = {
    RWL_NEED_RECORDS("wishes", wish_fields, "1 to 8 measures; weight and step don't matter"),
    NUMBERS,
    RWL_END_FIELDS,
};
const rwl_field rwl_stability_fields[] = {
    RWL_NEED_LIST("numbers", RWL_INTEGER, "", "1 to 1000 layups, such as the first of a ranking"),
    WISHES,
    RWL_MAY("wood", RWL_SHARE, "", "20 %",
            "standard deviation of the moduli of a core, each core by itself, up to 50 %"),
    RWL_MAY("resin", RWL_SHARE, "", "15 %",
            "standard deviation of the resin in the cloth, all layers alike, up to 50 %"),
    RWL_MAY("draws", RWL_INTEGER, "", "500", "random trials, up to 1000000"),
    RWL_MAY("seed", RWL_INTEGER, "", "1", "another number draws other trials"),
    RWL_END_FIELDS,
};
