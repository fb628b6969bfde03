/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A declared set of layups: every core with every way to lay its faces, all worked out. */
#include "layups.h"

#include "reading.h"

#include <string.h>

enum { RWL_NUMBERS = 1, RWL_LAMINATES = 2 }; /* user values */
enum { MOST_COUNT = 1000000 };

/* Pushes the name of a strength. */
static const char *push_name(lua_State *L, int choice)
{
  const char *word = RWL_STRENGTHS;
  for (; choice > 0; choice--)
    word = strchr(word, '|') + 1;
  return lua_pushlstring(L, word, strcspn(word, "|"));
}

static const char *unit_of_strength(int choice)
{
  int load = choice / RWL_PLACES;
  return load == RW_CASE_TENSION_ALONG || load == RW_CASE_TENSION_ACROSS ? "N/m" : "N";
}

int rwl_layups_measure(const rwl_layups *s, int choice)
{
  if (choice < RW_MEASURE_FACTOR)
    return choice;
  for (size_t i = 0; i < s->loads; i++)
    if (s->strength[i] == choice - RW_MEASURE_FACTOR)
      return RW_MEASURE_FACTOR + (int)i;
  return -1;
}

/* --- making --------------------------------------------------------------------------------- */

static int release(lua_State *L)
{
  rwl_layups *s = luaL_testudata(L, 1, "resinwright." RWL_LAYUPS);
  if (s == NULL)
    return 0;
  rw_sweep_destroy(s->set);
  s->set = NULL;
  return 0;
}

/* Room for the numbers, as a user value of the object at that index. */
static void make_room(lua_State *L, rwl_layups *s, int object)
{
  size_t measures = RW_MEASURE_FACTOR + s->loads;
  double *x = lua_newuserdatauv(L, measures * s->count * sizeof *x, 0);
  for (size_t m = 0; m < measures; m++)
    s->value[m] = x + m * s->count;
  lua_setiuservalue(L, object, RWL_NUMBERS);
}

static const rwl_alias set_alias[] = {{"outer.least", "outside.least"},
                                      {"outer.most", "outside.most"},
                                      {"outer.plies", "outside.kinds"},
                                      {"outer.angles", "outside.angles"},
                                      {"inner.least", "inside.least"},
                                      {"inner.most", "inside.most"},
                                      {"inner.plies", "inside.kinds"},
                                      {"inner.angles", "inside.angles"},
                                      {"outer.angle", "outside.angles[]"},
                                      {"inner.angle", "inside.angles[]"},
                                      {"loads", "strengths"},
                                      {"core", "cores[].laminate"},
                                      {NULL, NULL}};

static void create(lua_State *L, rwl_layups *s, const rwl_layups_reading *r)
{
  rw_error err = {0};
  rw_status status = rw_sweep_create(&r->set, &s->set, &err);
  if (strstr(err.argument, "angle[") != NULL)
    rwl_in_unit(&err, lua_pushfstring(L, "%s is", err.argument), "deg", "");
  rwl_check_as(L, status, &err, set_alias);
  uint64_t count = rw_sweep_count(s->set);
  if (count > MOST_COUNT) {
    rw_error_range(&err, "", "count", (double)count, 1, MOST_COUNT, "",
                   "so many layups; take fewer kinds, angles or layers, or compare in parts");
    rwl_throw(L, &err);
  }
  s->count = (size_t)count;
}

static int layups(lua_State *L)
{
  rwl_layups *s = rwl_push_object(L, RWL_LAYUPS, sizeof *s);
  int object = lua_gettop(L);
  rwl_layups_reading *r = rwl_block(L, 1, sizeof *r);
  rw_error err = {0};
  memset(r, 0, sizeof *r);
  rwl_read_layups(L, s, r);
  lua_setiuservalue(L, object, RWL_LAMINATES);
  create(L, s, r);
  make_room(L, s, object);
  rwl_listener l = rwl_listen(L, "progress");
  const rw_sweep_plan plan = {.n = s->count, .progress = rwl_tell, .context = &l};
  rw_status status = rw_sweep_run(s->set, &plan, s->value, NULL, &err);
  if (l.failed)
    return lua_error(L);
  if (status == RW_ERR_STOPPED)
    return rwl_push_reason(L, &err);
  if (status != RW_ERR_NUMERIC) /* such layups have no numbers and come last */
    rwl_check(L, status, &err);
  lua_settop(L, object);
  return 1;
}

/* --- one by one ----------------------------------------------------------------------------- */

static size_t number_of(lua_State *L, const rwl_layups *s)
{
  return rwl_get_size(L, "number", 1, (lua_Integer)s->count) - 1;
}

static void set_known(lua_State *L, const char *name, const char *unit, double x)
{
  if (isfinite(x))
    rwl_set_quantity(L, name, unit, x);
}

static int at(lua_State *L)
{
  static const struct {
    const char *name, *unit;
  } plain[RW_MEASURE_FACTOR] = {
      {"mass", "kg/m2"},     {"thickness", "m"},     {"bend_along", "N m"}, {"bend_across", "N m"},
      {"pull_along", "N/m"}, {"pull_across", "N/m"}, {"resin", "kg/m2"},    {"cost", "money/m2"}};
  const rwl_layups *s = rwl_self(L);
  size_t number = number_of(L, s);
  lua_createtable(L, 0, RW_MEASURES + 1);
  rwl_set_whole(L, "number", number + 1);
  for (size_t m = 0; m < RW_MEASURE_FACTOR; m++)
    set_known(L, plain[m].name, plain[m].unit, s->value[m][number]);
  for (size_t i = 0; i < s->loads; i++) {
    const char *name = push_name(L, s->strength[i]);
    lua_insert(L, -2);
    set_known(L, name, unit_of_strength(s->strength[i]), s->value[RW_MEASURE_FACTOR + i][number]);
  }
  return 1;
}

/* The laminate a layer was read from. */
static const rwl_laminate *laminate_of(const rwl_layups *s, const rw_sweep_layer *from)
{
  if (from->of_core)
    return s->core[from->choice];
  const int outside = from->place == RW_AMONG_OUTER || s->inside[0] == NULL;
  return (outside ? s->outside : s->inside)[from->ply];
}

static int laminate(lua_State *L)
{
  const rwl_layups *s = rwl_self(L);
  rw_ply ply[RW_SWEEP_PLIES];
  rw_sweep_layer from[RW_SWEEP_PLIES];
  size_t n = 0;
  rw_error err = {0};
  rwl_check(L, rw_sweep_stack(s->set, number_of(L, s), ply, from, &n, &err), &err);
  rwl_laminate *l = rwl_laminate_push(L, n);
  for (size_t i = 0, listed = 0; i < n; i++) {
    const rwl_laminate *of = laminate_of(s, &from[i]);
    const rwl_layer *layer = &of->layer[from[i].of_core ? from[i].ply : 0];
    listed += i > 0 && layer->veneer < 2; /* further veneers are the same ply */
    l->ply[i] = ply[i];
    l->layer[i] = *layer;
    l->layer[i].listed = listed;
    if (l->warning.text[0] == '\0')
      l->warning = of->warning;
  }
  rwl_laminate_finish(L, l);
  return 1;
}

static int read(lua_State *L)
{
  const rwl_layups *s = lua_touserdata(L, 1);
  if (strcmp(lua_tostring(L, 2), "count") == 0) {
    lua_pushinteger(L, (lua_Integer)s->count);
    return 1;
  }
  lua_createtable(L, (int)s->loads, 0);
  for (size_t i = 0; i < s->loads; i++) {
    push_name(L, s->strength[i]);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}

static int say(lua_State *L)
{
  const rwl_layups *s = luaL_checkudata(L, 1, "resinwright." RWL_LAYUPS);
  lua_pushfstring(L, "%I layups", (LUAI_UACINT)s->count);
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

static const rwl_field kind_fields[] = {
    RWL_NEED("layer", RWL_OBJECT, RWL_LAMINATE,
             "one layer, a laminate of one ply without an angle"),
    RWL_MAY("price", RWL_QUANTITY, "money/m2", "0 money/m2", "of its cloth, without resin"),
    RWL_END_FIELDS,
};
static const rwl_field face_fields[] = {
    RWL_NEED_RECORDS("kinds", kind_fields, "1 to 64 layers to choose from for each place"),
    RWL_MAY_LIST("angles", RWL_QUANTITY, "rad",
                 "angles to choose from for each; left out, along the hull only"),
    RWL_MAY("least", RWL_INTEGER, "", "0", "layers at least"),
    RWL_MAY("most", RWL_INTEGER, "", "1", "layers at most, up to 16"),
    RWL_END_FIELDS,
};
static const rwl_field core_fields[] = {
    RWL_NEED("laminate", RWL_OBJECT, RWL_LAMINATE,
             "plank, veneers or plywood, from the outside to the inside; cloth on its faces "
             "counts with the faces"),
    RWL_MAY("price", RWL_QUANTITY, "money/m2", "0 money/m2",
            "of its wood, and of the cloth in it, without resin"),
    RWL_END_FIELDS,
};
static const rwl_field number_fields[] = {
    RWL_NEED("number", RWL_INTEGER, "", "which layup, from 1 to count"),
    RWL_END_FIELDS,
};
static const rwl_field layups_fields[] = {
    RWL_MAY_RECORD("outside", face_fields, "what may be laid outside; left out, nothing"),
    RWL_MAY_RECORD("inside", face_fields, "what may be laid inside; left out, nothing"),
    RWL_MAY("symmetric", RWL_BOOLEAN, "", NULL,
            "true: the inside mirrors the outside, whatever that is"),
    RWL_MAY_RECORDS("cores", core_fields, "1 to 32 cores to choose from; left out, cloth alone"),
    RWL_MAY("resin_price", RWL_QUANTITY, "money/kg", "0 money/kg", "of the mixed resin"),
    RWL_MAY_LIST(
        "strengths", RWL_CHOICE, RWL_STRENGTHS,
        "strengths to work out, 16 at most: the load, and after it the plies that may give "
        "way (all where none are said). hit: from outside, bent both ways, the inside is "
        "stretched; heel: from inside; left out, hit and heel"),
    RWL_MAY("progress", RWL_FUNCTION, "progress(done, total)", NULL,
            "called every thousand layups or so with how many are done and how many there are; "
            "where it returns false the work is stopped"),
    RWL_END_FIELDS,
};

#define WHY RWL_WHY_NOT_APPROVAL
#define NUMBER "number: integer"

static const rwl_function methods[] = {
    {"at", RWL_LAYUPS, RWL_NAMED, number_fields,
     "Mass, thickness, bending stiffness (N m) and stiffness in the plane (N/m), resin and cost "
     "of "
     "one layup, and its strengths by their names: moment (N) or pull (N/m) per width at first "
     "failure by the quadratic criterion of all stresses; a strength is nil where nothing asked "
     "can give way." WHY,
     "{" NUMBER ", mass: quantity, thickness: quantity, bend_along: quantity, bend_across: "
     "quantity, pull_along: quantity, pull_across: quantity, resin: quantity, cost: quantity, "
     "[string]: quantity}",
     at},
    {"laminate", RWL_LAYUPS, RWL_NAMED, number_fields,
     "One layup as a laminate, to ask it for more: its layers, a panel, what gives way first.",
     "laminate", laminate},
    {"rank", RWL_LAYUPS, RWL_NAMED, rwl_rank_fields,
     "Layups by a wish, the best first: behind is the weighted sum of how far each falls behind "
     "the best of all in each measure, in steps (0: best in all).",
     "{" NUMBER ", behind: number}[]", rwl_rank},
    {"front", RWL_LAYUPS, RWL_NAMED, rwl_front_fields,
     "The layups that no other one beats: none is as good in every measure and better in one. "
     "From the best in the first measure on.",
     "integer[]", rwl_front},
    {"stability", RWL_LAYUPS, RWL_NAMED, rwl_stability_fields,
     "How well a ranking holds where wood and resin are not known exactly: for each layup the "
     "share of the trials in which it comes first, its mean place, its best and its worst. Every "
     "trial changes all alike, so that only their difference counts.",
     "{" NUMBER ", first: number, rank: number, best: number, worst: number}[]", rwl_stability},
    RWL_END_FUNCTIONS,
};

static const rwl_property properties[] = {
    {"count", "integer", "how many layups there are"},
    {"strengths", "string[]", "names of the strengths that were worked out"},
    RWL_END_PROPERTIES,
};

static const luaL_Reg events[] = {{"__tostring", say}, {"__gc", release}, {NULL, NULL}};

static const rwl_type types[] = {
    {RWL_LAYUPS, "A declared set of layups, all worked out.", properties, read, methods, events},
    RWL_END_TYPES,
};

static const rwl_function functions[] = {
    {"layups", NULL, RWL_NAMED, layups_fields,
     "Every core with every way to lay its faces, up to a million layups, worked out at once. "
     "Costs are those of the wood, the cloth and the resin in it. Where progress stops the work, "
     "nil and a sentence come back." WHY,
     "layups|nil, string|nil", layups},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_layups_set = {functions, types};
