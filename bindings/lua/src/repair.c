/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Joining and mending: laps, scarfs, patches and doublings. */
#include "laminate.h"

#include <string.h>

#include "reading.h"

static int face_of(int choice)
{
  return choice == 0 ? -1 : 1;
}

/* --- laps and scarfs ------------------------------------------------------------------------ */

static rw_bond read_bond(lua_State *L)
{
  const rwl_laminate *first = rwl_get_object(L, "first"), *second = rwl_get_object(L, "second");
  return (rw_bond){.force = rwl_get_quantity(L, "force", NAN),
                   .EA1 = first->stack.Ex * first->stack.thickness,
                   .EA2 = second->stack.Ex * second->stack.thickness,
                   .G = rwl_get_quantity(L, "shear_modulus", NAN),
                   .thickness = rwl_get_quantity(L, "glue", NAN),
                   .strength = rwl_get_quantity(L, "strength", NAN)};
}

static const rwl_alias bond_alias[] = {
    {"G", "shear_modulus"}, {"thickness", "glue"}, {NULL, NULL}};

static void push_lap(lua_State *L, const rw_lap *lap)
{
  lua_createtable(L, 0, 5);
  rwl_set_quantity(L, "length", "m", lap->length);
  rwl_set_quantity(L, "average", "Pa", lap->average);
  rwl_set_quantity(L, "first_end", "Pa", lap->end[0]);
  rwl_set_quantity(L, "second_end", "Pa", lap->end[1]);
  rwl_set_quantity(L, "peak", "Pa", lap->peak);
}

static int lap(lua_State *L)
{
  const rw_bond bond = read_bond(L);
  rw_lap r;
  rw_error err = {0};
  rwl_check_as(L, rw_lap_at(&bond, rwl_get_quantity(L, "length", NAN), &r, &err), &err,
               bond_alias);
  push_lap(L, &r);
  return 1;
}

static int lap_for(lua_State *L)
{
  const rw_bond bond = read_bond(L);
  rw_lap average, peak;
  rw_error err = {0};
  rw_status status = rw_lap_for(&bond, rwl_get_quantity(L, "factor", NAN), &average, &peak, &err);
  rwl_check_as(L, status, &err, bond_alias);
  lua_createtable(L, 0, 3);
  push_lap(L, &average);
  lua_setfield(L, -2, "by_average");
  push_lap(L, &peak);
  lua_setfield(L, -2, status == RW_NO_SOLUTION ? "endless" : "by_peak");
  if (status == RW_NO_SOLUTION) {
    lua_pushfstring(L, "%s; %s", err.message, err.hint);
    lua_setfield(L, -2, "why");
  }
  return 1;
}

static int scarf(lua_State *L)
{
  static const rwl_alias alias[] = {{NULL, NULL}};
  double slope = NAN, length = NAN;
  rw_error err = {0};
  rwl_check_as(L,
               rw_scarf_for(rwl_get_quantity(L, "stress", NAN),
                            rwl_get_quantity(L, "strength", NAN),
                            rwl_get_quantity(L, "thickness", NAN),
                            rwl_get_quantity(L, "factor", NAN), &slope, &length, &err),
               &err, alias);
  lua_createtable(L, 0, 2);
  rwl_set_number(L, "slope", slope);
  rwl_set_quantity(L, "length", "m", length);
  return 1;
}

/* --- patches -------------------------------------------------------------------------------- */

static void set_measures(lua_State *L, const char *name, const double share[RW_REPAIR_MEASURES])
{
  static const char *const key[RW_REPAIR_MEASURES] = {
      [RW_REPAIR_BEND_X] = "bend_along",     [RW_REPAIR_BEND_Y] = "bend_across",
      [RW_REPAIR_MOMENT_X] = "moment_along", [RW_REPAIR_MOMENT_Y] = "moment_across",
      [RW_REPAIR_PULL_X] = "pull_along",     [RW_REPAIR_PULL_Y] = "pull_across"};
  lua_createtable(L, 0, RW_REPAIR_MEASURES);
  for (size_t i = 0; i < RW_REPAIR_MEASURES; i++)
    rwl_set_number(L, key[i], share[i]);
  lua_setfield(L, -2, name);
}

/* The single ply of a laminate. */
static const rw_ply *one_layer(lua_State *L, const char *field)
{
  const rwl_laminate *l = rwl_get_object(L, field);
  if (l->n == 1)
    return l->ply;
  const rwl_refusal r = {
      .code = RW_ERR_ARGUMENT,
      .argument = field,
      .message = lua_pushfstring(L, "%s has %d plies, it must be one layer", field, (int)l->n),
      .hint = "make a laminate of one ply: rw.laminate{plies = {{cloth = ...}}}"};
  rwl_refuse(L, &r);
  return NULL;
}

static int patch(lua_State *L)
{
  static const rwl_alias alias[] = {{"sound", "sound"}, {"left", "left"}, {"left_n", "left"},
                                    {"layer", "layer"}, {"most", "most"}, {NULL, NULL}};
  const rwl_laminate *sound = rwl_get_object(L, "sound"), *left = rwl_get_object(L, "left");
  const rw_damage damage = {.sound = sound->ply,
                            .sound_n = sound->n,
                            .left = left->ply,
                            .left_n = left->n,
                            .layer = one_layer(L, "layer"),
                            .face = face_of(rwl_get_choice(L, "face", 0)),
                            .share = rwl_get_quantity(L, "share", 1.0),
                            .criterion =
                                (rw_criterion)rwl_get_choice(L, "criterion", RW_MAX_STRESS),
                            .most = rwl_get_size(L, "most", 1, 30)};
  rw_repair r = {0};
  rw_error err = {0};
  rw_status status = rw_repair_layers(&damage, &r, &err);
  rwl_check_as(L, status, &err, alias);
  lua_createtable(L, 0, 6);
  if (r.for_stiffness <= damage.most)
    rwl_set_whole(L, "for_stiffness", r.for_stiffness);
  if (r.for_strength <= damage.most)
    rwl_set_whole(L, "for_strength", r.for_strength);
  set_measures(L, "damaged", r.damaged);
  set_measures(L, "mended", r.mended);
  rwl_set_quantity(L, "added_mass", "kg/m2", r.added_mass);
  if (status == RW_NO_SOLUTION) {
    lua_pushfstring(L, "%s; %s", err.message, err.hint);
    lua_setfield(L, -2, "why");
  }
  return 1;
}

/* --- doublings ------------------------------------------------------------------------------ */

/* The plies laid on, from the plain stack outwards. */
static const rw_ply *outwards(lua_State *L, const rwl_laminate *extra, int face)
{
  rw_ply *ply = rwl_block(L, extra->n, sizeof *ply);
  for (size_t i = 0; i < extra->n; i++)
    ply[i] = extra->ply[face > 0 ? i : extra->n - 1 - i];
  return ply;
}

static void set_pair(lua_State *L, const char *name, const double x[2])
{
  lua_createtable(L, 0, 2);
  rwl_set_number(L, "outer", x[0]);
  rwl_set_number(L, "inner", x[1]);
  lua_setfield(L, -2, name);
}

static int doubling(lua_State *L)
{
  static const rwl_alias alias[] = {
      {"glue.G", "shear_modulus"}, {"glue.thickness", "glue"}, {"extra_n", "extra"}, {NULL, NULL}};
  const rwl_laminate *plain = rwl_get_object(L, "plain"), *extra = rwl_get_object(L, "extra");
  const int face = face_of(rwl_get_choice(L, "face", 0));
  const rw_bond glue = {.G = rwl_get_quantity(L, "shear_modulus", NAN),
                        .thickness = rwl_get_quantity(L, "glue", NAN)};
  double load[6];
  rwl_open(L, "load", 0);
  rwl_get_load(L, load);
  rwl_close(L);
  rw_doubling d = {0};
  rw_error err = {0};
  rwl_check_as(L,
               rw_stack_double(plain->ply, plain->n, outwards(L, extra, face), extra->n, face,
                               load, &glue, &d, &err),
               &err, alias);
  lua_createtable(L, 0, 9);
  rwl_set_number(L, "stiffer_along", d.stiffer_x);
  rwl_set_number(L, "stiffer_across", d.stiffer_y);
  rwl_set_quantity(L, "added_mass", "kg/m2", d.added_mass);
  set_pair(L, "beside", d.outside);
  set_pair(L, "under", d.inside);
  set_pair(L, "jump", d.jump);
  rwl_set_quantity(L, "force", "N/m", d.force);
  rwl_set_quantity(L, "reach", "m", d.reach);
  rwl_set_quantity(L, "shear", "Pa", d.shear);
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

#define GLUE                                                                                      \
  RWL_MAY("shear_modulus", RWL_QUANTITY, "Pa", "1 GPa",                                           \
          "of the glue; cured epoxy has about 1 GPa (common practice, no source)"),               \
      RWL_MAY("glue", RWL_QUANTITY, "m", "0.2 mm",                                                \
              "thickness of the glue line (common practice, no source)")
#define BOND                                                                                      \
  RWL_NEED("force", RWL_QUANTITY, "N/m",                                                          \
           "that the lap carries along the hull, per metre of "                                   \
           "width; at most what the weaker side bears"),                                          \
      RWL_NEED("first", RWL_OBJECT, RWL_LAMINATE, "one side, pulled along the hull"),             \
      RWL_NEED("second", RWL_OBJECT, RWL_LAMINATE, "the other side"),                             \
      RWL_NEED("strength", RWL_QUANTITY, "Pa", "shear strength of the glue line"), GLUE

static const rwl_field lap_fields[] = {
    BOND,
    RWL_NEED("length", RWL_QUANTITY, "m", "of the lap"),
    RWL_END_FIELDS,
};
static const rwl_field lap_for_fields[] = {
    BOND,
    RWL_NEED("factor", RWL_NUMBER, "", "of safety, 1 to 20"),
    RWL_END_FIELDS,
};
static const rwl_field scarf_fields[] = {
    RWL_NEED("stress", RWL_QUANTITY, "Pa",
             "that the joined part shall bear; its tensile strength for a full joint"),
    RWL_NEED("strength", RWL_QUANTITY, "Pa", "shear strength of the glue line"),
    RWL_NEED("thickness", RWL_QUANTITY, "m", "of what is joined"),
    RWL_NEED("factor", RWL_NUMBER, "", "of safety, 1 to 20"),
    RWL_END_FIELDS,
};
static const rwl_field patch_fields[] = {
    RWL_NEED("sound", RWL_OBJECT, RWL_LAMINATE, "the plies as they were"),
    RWL_NEED("left", RWL_OBJECT, RWL_LAMINATE, "what is left of them there, in the same order"),
    RWL_NEED("layer", RWL_OBJECT, RWL_LAMINATE, "one layer of the patch, a laminate of one ply"),
    RWL_MAY("face", RWL_CHOICE, "outer|inner", "outer", "on which face it is laid"),
    RWL_MAY("share", RWL_NUMBER, "", "1", "of the sound stack that is wanted back, 0.1 to 2"),
    RWL_MAY("criterion", RWL_CHOICE, RWL_CRITERIA, "max_stress", "for strength"),
    RWL_MAY("most", RWL_INTEGER, "", "12", "layers to try, 1 to 30"),
    RWL_END_FIELDS,
};
static const rwl_field doubling_fields[] = {
    RWL_NEED("plain", RWL_OBJECT, RWL_LAMINATE, "the plain skin"),
    RWL_NEED("extra", RWL_OBJECT, RWL_LAMINATE,
             "what is laid on, itself listed from the outside to the inside"),
    RWL_MAY("face", RWL_CHOICE, "outer|inner", "outer", "on which face"),
    RWL_NEED_RECORD("load", rwl_load_fields, "on the plain skin beside it, per width"),
    GLUE,
    RWL_END_FIELDS,
};

#define LAP                                                                                       \
  "{length: quantity, average: quantity, first_end: quantity, second_end: quantity, peak: "       \
  "quantity}"
#define MEASURES                                                                                  \
  "{bend_along: number, bend_across: number, moment_along: number, moment_across: number, "       \
  "pull_along: number, pull_across: number}"
#define PAIR "{outer: number, inner: number}"
#define WHY RWL_WHY_NOT_APPROVAL

static const rwl_function functions[] = {
    {"lap", NULL, RWL_NAMED, lap_fields,
     "Shear stress along a lap: its mean, at the end where each side comes in, and the greater of "
     "the two. The sides don't bend: a single lap without support peels as well." WHY,
     LAP, lap},
    {"lap_for", NULL, RWL_NAMED, lap_for_fields,
     "Shortest lap: by its mean shear (glue that yields before it breaks) and by its peak, which "
     "is the safe one. Where no length keeps the peak down, why says so, and endless is the lap "
     "beyond which nothing is gained." WHY,
     "{by_average: " LAP ", by_peak: " LAP "|nil, endless: " LAP "|nil, why: string|nil}",
     lap_for},
    {"scarf", NULL, RWL_NAMED, scarf_fields,
     "Slope of a scarf, n of 1 in n, and its length, by shear of the glue line." WHY,
     "{slope: number, length: quantity}", scarf},
    {"patch", NULL, RWL_NAMED, patch_fields,
     "Layers that bring a damaged place back to its stiffness and to its strength (nil: not "
     "within those tried, and why says so), with what was and what is left as shares of the "
     "sound skin. What is left is taken as sound; the lap is another matter, see rw.lap_for." WHY,
     "{for_stiffness: integer|nil, for_strength: integer|nil, damaged: " MEASURES
     ", mended: " MEASURES ", added_mass: quantity, why: string|nil}",
     patch},
    {"doubling", NULL, RWL_NAMED, doubling_fields,
     "What a second skin in one place does, such as a bottom patch, and how the strain along the "
     "hull jumps at its edge: strains of the plain skin's faces beside it and under it, the force "
     "that it takes over, the reach over which it does (step or taper the edge at least that "
     "far) and the shear of the glue at a blunt edge." WHY,
     "{stiffer_along: number, stiffer_across: number, added_mass: quantity, beside: " PAIR
     ", under: " PAIR ", jump: " PAIR ", force: quantity, reach: quantity, shear: quantity}",
     doubling},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_repair_set = {functions, NULL};
