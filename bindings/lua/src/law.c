/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rate laws that a chemist gives: their kinds, constants and diffusion control. */
#include "law.h"

#include "reading.h"

#include <stdio.h>
#include <string.h>

enum { K1 = 1, K2 = 2, K3 = 4, M = 8, N = 16, LIMIT = 32, SPLIT = 64 };

/* The kinds by name, and the members that each has. */
static const struct {
  const char *name;
  unsigned has;
} kinds[] = {
    [RW_LAW_NTH_ORDER] = {"nth_order", K1 | N},
    [RW_LAW_KAMAL] = {"kamal", K1 | K2 | M | N},
    [RW_LAW_PLATEAU] = {"plateau", K1 | K2 | M | N | LIMIT},
    [RW_LAW_SESTAK_BERGGREN] = {"sestak_berggren", K1 | M | N},
    [RW_LAW_TWO_STAGE] = {"two_stage", K1 | K2 | K3 | LIMIT | SPLIT},
};
#define KINDS "nth_order|kamal|plateau|sestak_berggren|two_stage"

static double get(lua_State *L, const char *name)
{
  return rwl_get_quantity(L, name, NAN);
}

static int refuse(lua_State *L, const char *argument, const char *message, const char *hint)
{
  rwl_refusal r = {RW_ERR_ARGUMENT, argument, message, NULL, hint, 0, 0};
  return rwl_refuse(L, &r);
}

static int refuse_foreign(lua_State *L, const char *name, const char *kind)
{
  return refuse(L, name,
                lua_pushfstring(L, "%s is given, but a law of the kind %s has none", name, kind),
                "leave it out, or is the law of another kind?");
}

static int refuse_missing(lua_State *L, const char *name, const char *kind, const char *hint)
{
  return refuse(
      L, name, lua_pushfstring(L, "%s is missing, a law of the kind %s has it", name, kind), hint);
}

void rwl_within(lua_State *L, const char *argument, double value, double low, double high,
                const char *unit, const char *said, const char *hint)
{
  if (value >= low && value <= high)
    return;
  rw_error err;
  rw_error_range(&err, "", argument, value, low, high, unit, hint);
  if (said != NULL)
    rwl_in_unit(&err, lua_pushfstring(L, "%s is", argument), said, NULL);
  rwl_throw(L, &err);
}

static const char ENERGY_HINT[] =
    "Amine-cured epoxies lie near 55 kJ/mol; is it given in kcal or kJ?";

/* Names of one rate constant, its published factor and its activation energy. */
typedef struct names {
  const char *k, *A, *E;
} names;

static const names constants[] = {{"k1", "A1", "E1"}, {"k2", "A2", "E2"}, {"k3", "A3", "E3"}};

static int any_of(lua_State *L, const names *c)
{
  return rwl_has(L, c->k) || rwl_has(L, c->A) || rwl_has(L, c->E);
}

static void read_constant(lua_State *L, const names *c, const char *kind, double T_ref, double *k,
                          double *E)
{
  int has_k = rwl_has(L, c->k), has_A = rwl_has(L, c->A);
  if (has_k && has_A)
    refuse(L, c->A,
           lua_pushfstring(L, "%s and %s are both given, one follows from the other", c->A, c->k),
           "give the constant at the reference temperature, or the published factor");
  if (!has_k && !has_A)
    refuse_missing(L, c->k, kind,
                   lua_pushfstring(L,
                                   "write %s = \"0.002 1/min\" at the reference temperature, or "
                                   "the published factor as %s",
                                   c->k, c->A));
  if (!rwl_has(L, c->E))
    refuse_missing(L, c->E, kind, "give the activation energy, such as \"55 kJ/mol\"");
  *E = get(L, c->E);
  rwl_within(L, c->E, *E, 10e3, 300e3, "J/mol", "kJ/mol", ENERGY_HINT);
  *k = has_k ? get(L, c->k) : rw_rate_at(get(L, c->A), *E, T_ref);
}

static void read_constants(lua_State *L, unsigned has, const char *kind, rw_cure_law *law)
{
  double *k[] = {&law->k1, &law->k2, &law->k3}, *E[] = {&law->E1, &law->E2, &law->E3};
  for (int i = 0; i < 3; i++) {
    const names *c = &constants[i];
    if (!(has & (1U << i))) {
      const char *given = rwl_has(L, c->k) ? c->k : rwl_has(L, c->A) ? c->A : c->E;
      if (any_of(L, c))
        refuse_foreign(L, given, kind);
    } else if (i > 0 || !(has & M) || !(has & K2) || any_of(L, c)) {
      read_constant(L, c, kind, law->T_ref, k[i], E[i]);
    }
  }
  if (law->E1 == 0)
    law->E1 = law->E2; /* an autocatalytic law whose first constant is none */
}

static void read_members(lua_State *L, unsigned has, const char *kind, rw_cure_law *law)
{
  const struct {
    const char *name, *hint;
    unsigned bit;
    double *to;
  } members[] = {
      {"m", "give the power of the degree of cure", M, &law->m},
      {"n", "give the order, the power of what has not reacted", N, &law->n},
      {"limit", "give the degree of cure at which it ends", LIMIT, &law->limit},
      {"split", "give the degree of cure at which the second stage begins", SPLIT, &law->split}};
  for (size_t i = 0; i < sizeof members / sizeof *members; i++) {
    int given = rwl_has(L, members[i].name), wanted = (has & members[i].bit) != 0;
    if (given && !wanted)
      refuse_foreign(L, members[i].name, kind);
    if (wanted && !given)
      refuse_missing(L, members[i].name, kind, members[i].hint);
    if (given)
      *members[i].to = get(L, members[i].name);
  }
}

static void read_diffusion(lua_State *L, rw_cure_law *law)
{
  if (!rwl_has(L, "diffusion"))
    return;
  rwl_open(L, "diffusion", 0);
  law->C = get(L, "steepness");
  law->ac0 = get(L, "conversion");
  law->acT = get(L, "slope");
  rwl_close(L);
}

static void read_stiffening(lua_State *L, rw_stiffening *s)
{
  if (!rwl_has(L, "stiffening"))
    return;
  rwl_open(L, "stiffening", 0);
  s->k = get(L, "rate");
  s->c1 = get(L, "c1");
  s->c2 = get(L, "c2");
  rwl_open(L, "glass", 0);
  s->glass = (rw_glass){get(L, "uncured"), get(L, "cured"), get(L, "lambda")};
  rwl_close(L);
  rwl_close(L);
}

static const char OUTSIDE[] =
    "an activation energy lies outside 30 to 200 kJ/mol, where this was tested";

void rwl_keep_law(lua_State *L, rwl_warning *w, rw_status status, const rw_error *err)
{
  rwl_check(L, status, err);
  snprintf(w->text, sizeof w->text, "%s", status > 0 ? OUTSIDE : "");
}

static int make_law(lua_State *L)
{
  static const rwl_alias alias[] = {{"C", "diffusion.steepness"},
                                    {"ac0", "diffusion.conversion"},
                                    {"acT", "diffusion.slope"},
                                    {"stiffening.k", "stiffening.rate"},
                                    {"Tg0", "stiffening.glass.uncured"},
                                    {"Tg_inf", "stiffening.glass.cured"},
                                    {"lambda", "stiffening.glass.lambda"},
                                    {NULL, NULL}};
  rwl_law *l = rwl_push_object(L, RWL_LAW, sizeof *l);
  rw_cure_law *law = &l->law;
  law->kind = (rw_law_kind)rwl_get_choice(L, "kind", 0);
  law->T_ref = get(L, "reference");
  rwl_within(L, "reference", law->T_ref, 200, 500, "K", "degC", NULL);
  const char *kind = kinds[law->kind].name;
  read_constants(L, kinds[law->kind].has, kind, law);
  read_members(L, kinds[law->kind].has, kind, law);
  read_diffusion(L, law);
  read_stiffening(L, &law->stiffening);
  rw_error err = {0};
  rw_status status = rw_cure_law_check(law, &err);
  for (int i = 0; i < 3 && status < 0; i++)
    if (rwl_has(L, constants[i].A))
      rwl_rename(&err, constants[i].k, constants[i].A);
  rwl_check_as(L, status, &err, alias);
  rwl_keep_law(L, &l->warning, status, &err);
  return 1;
}

static const rw_cure_law *self_law(lua_State *L)
{
  return &((const rwl_law *)rwl_self(L))->law;
}

static int off_ratio(lua_State *L)
{
  static const rwl_alias alias[] = {{"r", "ratio"}, {NULL, NULL}};
  const rw_cure_law *right = self_law(L);
  rwl_law *l = rwl_push_object(L, RWL_LAW, sizeof *l);
  rw_error err = {0};
  rw_status status = rw_cure_law_off_ratio(right, get(L, "ratio"), &l->law, &err);
  rwl_check_as(L, status, &err, alias);
  rwl_keep_law(L, &l->warning, status, &err);
  return 1;
}

static int rate(lua_State *L)
{
  static const rwl_alias alias[] = {{"a", "cure"}, {"T", "temperature"}, {NULL, NULL}};
  double found = 0.0;
  rw_error err = {0};
  rw_status status =
      rw_cure_rate(self_law(L), get(L, "cure"), get(L, "temperature"), &found, &err);
  rwl_check_as(L, status, &err, alias);
  rwl_push_quantity(L, "1/s", found);
  return 1;
}

static void set_diffusion(lua_State *L, const rw_cure_law *law)
{
  if (law->C == 0)
    return;
  lua_newtable(L);
  rwl_set_number(L, "steepness", law->C);
  rwl_set_number(L, "conversion", law->ac0);
  rwl_set_quantity(L, "slope", "1/K", law->acT);
  lua_setfield(L, -2, "diffusion");
}

static void set_stiffening(lua_State *L, const rw_stiffening *s)
{
  if (s->k == 0)
    return;
  lua_newtable(L);
  rwl_set_quantity(L, "rate", "1/s", s->k);
  rwl_set_number(L, "c1", s->c1);
  rwl_set_quantity(L, "c2", "K", s->c2);
  rwl_set_glass(L, &s->glass);
  lua_setfield(L, -2, "stiffening");
}

void rwl_push_law_values(lua_State *L, const rw_cure_law *law)
{
  unsigned has = kinds[law->kind].has;
  const double k[] = {law->k1, law->k2, law->k3}, E[] = {law->E1, law->E2, law->E3};
  lua_newtable(L);
  rwl_set_text(L, "kind", kinds[law->kind].name);
  rwl_set_temperature(L, "reference", law->T_ref);
  for (int i = 0; i < 3; i++) {
    if (!(has & (1U << i)))
      continue;
    rwl_set_quantity(L, constants[i].k, "1/s", k[i]);
    rwl_set_quantity(L, constants[i].E, "J/mol", E[i]);
  }
  if (has & M)
    rwl_set_number(L, "m", law->m);
  if (has & N)
    rwl_set_number(L, "n", law->n);
  if (has & LIMIT)
    rwl_set_number(L, "limit", law->limit);
  if (has & SPLIT)
    rwl_set_number(L, "split", law->split);
  set_diffusion(L, law);
  set_stiffening(L, &law->stiffening);
}

static int values(lua_State *L)
{
  const rw_cure_law *law = self_law(L);
  const double k[] = {law->k1, law->k2, law->k3}, E[] = {law->E1, law->E2, law->E3};
  rwl_push_law_values(L, law);
  for (int i = 0; i < 3; i++)
    if (kinds[law->kind].has & (1U << i))
      rwl_set_quantity(L, constants[i].A, "1/s", rw_rate_factor(k[i], E[i], law->T_ref));
  return 1;
}

static int read_law(lua_State *L)
{
  const rwl_law *l = lua_touserdata(L, 1);
  const char *name = lua_tostring(L, 2);
  if (strcmp(name, "kind") == 0)
    lua_pushstring(L, kinds[l->law.kind].name);
  else if (strcmp(name, "top") == 0)
    lua_pushnumber(L, rw_cure_law_top(&l->law));
  else
    rwl_push_warnings(L, &l->warning);
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

#define LEFT(name, kind, detail, doc) RWL_MAY(name, kind, detail, NULL, doc)

static const rwl_field stiff_glass_fields[] = {RWL_GLASS_FIELDS(RWL_NEED), RWL_END_FIELDS};
static const rwl_field diffusion_fields[] = {
    RWL_NEED("steepness", RWL_NUMBER, "", "how sharply it sets in, 0 (not at all) to 200"),
    RWL_NEED("conversion", RWL_NUMBER, "",
             "degree of cure where it halves the rate at the reference temperature"),
    RWL_MAY("slope", RWL_QUANTITY, "1/K", "0 1/K", "how that rises with temperature"),
    RWL_END_FIELDS,
};
static const rwl_field stiffening_fields[] = {
    RWL_NEED("rate", RWL_QUANTITY, "1/s", "rate constant of diffusion where T is Tg"),
    RWL_MAY("c1", RWL_NUMBER, "", "40.2", "first constant, in the natural logarithm"),
    RWL_MAY("c2", RWL_DIFFERENCE, "", "51.6 K", "second constant"),
    RWL_NEED_RECORD("glass", stiff_glass_fields, "glass transition over the degree of cure"),
    RWL_END_FIELDS,
};

#define CONSTANT(i, what)                                                                         \
  LEFT("k" i, RWL_QUANTITY, "1/s",                                                                \
       what " at the reference temperature, such as \"0.002 1/min\""),                            \
      LEFT("A" i, RWL_QUANTITY, "1/s", "the published factor in place of k" i),                   \
      LEFT("E" i, RWL_QUANTITY, "J/mol", "activation energy that goes with it")

static const rwl_field law_fields[] = {
    RWL_NEED("kind", RWL_CHOICE, KINDS,
             "nth_order: k1 (1-a)^n; kamal: (k1 + k2 a^m)(1-a)^n; plateau: (k1 + k2 "
             "a^m)(1-a)^(n/2)(limit-a)^(n/2); sestak_berggren: k1 a^m (1-a)^n; two_stage: (k1 + "
             "k2 a)(1-a)(limit-a) up to a = split, k3 (1-a) beyond"),
    RWL_MAY("reference", RWL_TEMPERATURE, "", "25 degC", "temperature that the k are given for"),
    CONSTANT("1", "rate constant"),
    CONSTANT("2", "second rate constant"),
    CONSTANT("3", "rate constant of the second stage"),
    LEFT("m", RWL_NUMBER, "", "power of the degree of cure, 0 to 4"),
    LEFT("n", RWL_NUMBER, "", "order, 0.2 to 4"),
    LEFT("limit", RWL_NUMBER, "", "degree of cure at which it ends, 0.05 to 5"),
    LEFT("split", RWL_NUMBER, "", "degree of cure at which the second stage begins"),
    RWL_MAY_RECORD("diffusion", diffusion_fields,
                   "the rate divided by 1 + exp(steepness (a - ac)), ac rising with temperature"),
    RWL_MAY_RECORD("stiffening", stiffening_fields,
                   "the other form: slowed as its glass transition nears the temperature"),
    RWL_END_FIELDS,
};
static const rwl_field rate_fields[] = {
    RWL_NEED("cure", RWL_NUMBER, "", "degree of cure, 0 liquid to 1 fully cured"),
    RWL_NEED("temperature", RWL_TEMPERATURE, "", "temperature of the resin"),
    RWL_END_FIELDS,
};
static const rwl_field ratio_fields[] = {
    RWL_NEED("ratio", RWL_NUMBER, "", "amine hydrogens per epoxide group; 1 is the right ratio"),
    RWL_END_FIELDS,
};

static const rwl_function functions[] = {
    {"law", NULL, RWL_NAMED, law_fields,
     "A rate law as a chemist gives it. Each constant is given at the reference temperature or as "
     "the published factor; a value per minute says so in its unit. Members that the kind does "
     "not "
     "have are refused. In a kamal or plateau law k1 may be left out where it is zero.",
     "law", make_law},
    RWL_END_FUNCTIONS,
};
static const rwl_function law_methods[] = {
    {"rate", RWL_LAW, RWL_NAMED, rate_fields, "Rate of cure.", "quantity", rate},
    {"off_ratio", RWL_LAW, RWL_NAMED, ratio_fields,
     "The law of a mix off its ratio: the epoxide stops at the ratio, or at 1. resin:off_ratio "
     "moves the gel and the milestones along as well.",
     "law", off_ratio},
    {"values", RWL_LAW, RWL_NAMED, NULL,
     "What the law is made of, as rw.law takes it; each constant also as the published factor, "
     "which "
     "rw.law takes in its place.",
     "table", values},
    RWL_END_FUNCTIONS,
};
static const rwl_property law_properties[] = {
    {"kind", "string", "kind of the law"},
    {"top", "number", "highest degree of cure it can reach"},
    {"warnings", "string[]", "what to know about it; empty where nothing"},
    RWL_END_PROPERTIES,
};
static const rwl_type types[] = {
    {RWL_LAW, "A rate law.", law_properties, read_law, law_methods, NULL},
    RWL_END_TYPES,
};

const rwl_set rwl_law_set = {functions, types};
