/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Panels made of a laminate. */
#include "laminate.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "reading.h"

static const char *const axes[3] = {"x", "y", "xy"};

void rwl_set_strains(lua_State *L, const char *name, const double strain[3])
{
  lua_createtable(L, 0, 3);
  for (size_t i = 0; i < 3; i++)
    rwl_set_number(L, axes[i], strain[i]);
  lua_setfield(L, -2, name);
}

/* Middle of the patch where x or y is left out. */
static double middle(lua_State *L, const char *name, double side)
{
  return rwl_get_quantity(L, name, 0.5 * side);
}

static int refuse_patch(lua_State *L)
{
  const rwl_refusal r = {.code = RW_ERR_ARGUMENT,
                         .argument = "patch.size",
                         .message = "patch.size is missing, or diameter, or length and width",
                         .hint = "say how large the loaded place is: size of a square, diameter "
                                 "of a round one, or length and width"};
  return rwl_refuse(L, &r);
}

/* Diameter of a round place over the side of the square of its area, 2/sqrt(pi). */
static const double across_square = 1.1283791670955126;

/* The square of a round place may lie on a panel that the round place leaves. */
static void check_round(lua_State *L, const rw_plate *plate, const rw_plate_load *load)
{
  static const rwl_alias alias[] = {{NULL, NULL}};
  double diameter = rwl_get_quantity(L, "diameter", NAN), half = 0.5 * diameter;
  double most = fmin(plate->a, plate->b);
  const struct {
    const char *name;
    double at, side;
  } of[] = {{"patch.x", load->x, plate->a}, {"patch.y", load->y, plate->b}};
  rw_error err = {0};
  rw_status status = RW_OK;
  if (diameter > most)
    status = rw_error_range(&err, "", "patch.diameter", diameter, -HUGE_VAL, most, "m",
                            "the whole place must lie on the panel");
  for (size_t i = 0; i < 2 && status == RW_OK; i++) {
    double slack = 1e-9 * of[i].side;
    if (diameter > 0.0 && !(of[i].at >= half - slack && of[i].at <= of[i].side - half + slack))
      status = rw_error_range(&err, "", of[i].name, of[i].at, half, of[i].side - half, "m",
                              "the whole place must lie on the panel: its middle keeps half its "
                              "diameter from the edges");
  }
  rwl_check_as(L, status, &err, alias);
}

/* A refused side of a square or round place, told as what was given: the short side bounds it. */
static void tell_size(const rw_plate *plate, const char *told, rw_error *err)
{
  double over = strcmp(told, "patch.diameter") == 0 ? across_square : 1.0;
  if (err->code != RW_ERR_RANGE || strncmp(err->argument, "load[1].a", 9) != 0)
    return;
  err->value *= over;
  err->low *= over;
  err->high = fmin(plate->a, plate->b);
}

static void read_patch(lua_State *L, const rw_plate *plate, rw_plate_load *load)
{
  int square = rwl_has(L, "size"), round = rwl_has(L, "diameter"),
      sides = rwl_has(L, "length") && rwl_has(L, "width"),
      one = rwl_has(L, "length") || rwl_has(L, "width");
  if (square + round + sides != 1 || (one && !sides))
    refuse_patch(L);
  load->force = rwl_get_quantity(L, "load", NAN);
  load->x = middle(L, "x", plate->a);
  load->y = middle(L, "y", plate->b);
  load->along = load->across = round ? rwl_get_quantity(L, "diameter", NAN) / across_square
                                     : rwl_get_quantity(L, "size", NAN);
  load->along = rwl_get_quantity(L, "length", load->along);
  load->across = rwl_get_quantity(L, "width", load->across);
}

static rw_plate read_plate(lua_State *L, const rwl_laminate *l)
{
  rw_plate plate = {.a = rwl_get_quantity(L, "length", NAN),
                    .b = rwl_get_quantity(L, "width", NAN)};
  int edges = rwl_get_choice(L, "edges", RW_EDGE_SUPPORTED);
  plate.edge_x = (rw_plate_edge)rwl_get_choice(L, "ends", edges);
  plate.edge_y = (rw_plate_edge)rwl_get_choice(L, "sides", edges);
  if (rwl_get_boolean(L, "shear", 1))
    memcpy(plate.shear, l->shear, sizeof plate.shear);
  return plate;
}

enum { LAMINATE = 1 }; /* user value */

static int release(lua_State *L)
{
  rwl_bent *p = luaL_testudata(L, 1, "resinwright." RWL_PANEL);
  if (p == NULL)
    return 0;
  rw_bent_plate_destroy(p->bent);
  p->bent = NULL;
  return 0;
}

/* Field that told the patch's length and width. */
static const char *side_of(lua_State *L, const char *field)
{
  rwl_open(L, "patch", 0);
  const char *said = rwl_has(L, "size")       ? "patch.size"
                     : rwl_has(L, "diameter") ? "patch.diameter"
                                              : field;
  rwl_close(L);
  return said;
}

/* The side a is told as the length; its name is a word of every sentence, too. */
static void call_length(rw_error *err)
{
  char rest[sizeof err->message];
  snprintf(err->argument, sizeof err->argument, "length");
  if (strncmp(err->message, "a ", 2) != 0)
    return;
  snprintf(rest, sizeof rest, "%s", err->message + 1);
  snprintf(err->message, sizeof err->message, "length%.*s", (int)(sizeof rest - 8), rest);
}

static rw_status bend(lua_State *L, const rwl_laminate *l, rw_bent_plate **bent, rw_error *err)
{
  const rw_plate plate = read_plate(L, l);
  rw_plate_load load = {.pressure = rwl_get_quantity(L, "pressure", 0.0)};
  const char *along = "patch", *across = "patch";
  if (rwl_has(L, "patch")) {
    rwl_open(L, "patch", 0);
    read_patch(L, &plate, &load);
    rwl_close(L);
    along = side_of(L, "patch.length");
    across = side_of(L, "patch.width");
  }
  const rwl_alias alias[] = {{"b", "width"},
                             {"load[1].pressure", "pressure"},
                             {"load[1].force", "patch.load"},
                             {"load[1].x", "patch.x"},
                             {"load[1].y", "patch.y"},
                             {"load[1].along", along},
                             {"load[1].across", across},
                             {NULL, NULL}};
  rw_status status = rw_plate_bend(&l->stack, &plate, &load, 1, bent, err);
  if (strcmp(along, "patch.diameter") == 0 &&
      (status >= 0 || strncmp(err->argument, "load[1].", 8) == 0)) {
    rwl_open(L, "patch", 0);
    check_round(L, &plate, &load);
    rwl_close(L);
  }
  if (strcmp(along, across) == 0)
    tell_size(&plate, along, err);
  if (strcmp(err->argument, "a") == 0)
    call_length(err);
  if (strcmp(err->argument, "load") == 0)
    snprintf(err->argument, sizeof err->argument, "pressure");
  if (status == RW_ERR_RANGE && strstr(err->hint, "rw_strip_bend") != NULL)
    snprintf(err->hint, sizeof err->hint, "%s",
             "beyond 10 to 1 the far edges no longer count: it is a strip across the short side");
  return rwl_check_as(L, status, err, alias);
}

int rwl_panel(lua_State *L)
{
  const rwl_laminate *l = rwl_self(L);
  rwl_bent *p = rwl_push_object(L, RWL_PANEL, sizeof *p);
  lua_pushvalue(L, 2);
  lua_setiuservalue(L, -2, LAMINATE);
  p->of = l;
  rw_error err = {0};
  rwl_keep(L, &p->warning, bend(L, l, &p->bent, &err), &err);
  p->criterion = (rw_criterion)rwl_get_choice(L, "criterion", RW_MAX_STRESS);
  rw_status status = rw_bent_plate_failure(p->bent, l->ply, l->n, p->criterion, &p->failure, &err);
  rwl_name_ply(l, &err);
  rwl_check(L, status, &err);
  return 1;
}

static void push_point(lua_State *L, const rw_plate_point *p)
{
  lua_createtable(L, 0, 7);
  rwl_set_quantity(L, "x", "m", p->x);
  rwl_set_quantity(L, "y", "m", p->y);
  rwl_set_quantity(L, "deflection", "m", p->deflection);
  rwl_set_strains(L, "outer", p->lower);
  rwl_set_strains(L, "inner", p->upper);
  rwl_set_three(L, "moment", axes, "N", p->load + 3);
  rwl_set_quantity(L, "Qx", "N/m", p->force[0]);
  rwl_set_quantity(L, "Qy", "N/m", p->force[1]);
}

static int at(lua_State *L)
{
  const rwl_bent *p = rwl_self(L);
  rw_plate_point point;
  rw_error err = {0};
  static const rwl_alias alias[] = {{NULL, NULL}};
  rw_status status = rw_bent_plate_at(p->bent, rwl_get_quantity(L, "x", NAN),
                                      rwl_get_quantity(L, "y", NAN), &point, &err);
  rwl_check_as(L, status, &err, alias);
  push_point(L, &point);
  return 1;
}

static void push_panel_failure(lua_State *L, const rwl_bent *p)
{
  const rw_plate_failure *f = &p->failure;
  lua_createtable(L, 0, 8);
  rwl_set_failure(L, p->of, &f->failure);
  if (f->failure.mode == RW_MODE_NONE)
    return;
  rwl_set_quantity(L, "x", "m", f->x);
  rwl_set_quantity(L, "y", "m", f->y);
}

static int read(lua_State *L)
{
  const rwl_bent *p = lua_touserdata(L, 1);
  const rw_plate_result r = rw_bent_plate_result(p->bent);
  const struct {
    const char *name;
    double value;
  } plain[] = {{"surface_strain", r.surface_strain},
               {"shear_share", r.shear_share},
               {"slenderness", r.slenderness},
               {"depth", r.depth},
               {"error", r.error},
               {"strain_error", r.strain_error}};
  const char *name = lua_tostring(L, 2);
  for (size_t i = 0; i < sizeof plain / sizeof plain[0]; i++)
    if (strcmp(name, plain[i].name) == 0) {
      lua_pushnumber(L, plain[i].value);
      return 1;
    }
  if (strcmp(name, "deflection") == 0)
    rwl_push_quantity(L, "m", r.deepest.deflection);
  else if (strcmp(name, "held") == 0)
    rwl_push_quantity(L, "m", r.held);
  else if (strcmp(name, "deepest") == 0)
    push_point(L, &r.deepest);
  else if (strcmp(name, "stretched") == 0)
    push_point(L, &r.stretched);
  else if (strcmp(name, "failure") == 0)
    push_panel_failure(L, p);
  else if (strcmp(name, "method") == 0)
    lua_pushstring(L, r.method == RW_PLATE_SERIES ? "series" : "least energy");
  else
    rwl_push_warnings(L, &p->warning);
  return 1;
}

static int say(lua_State *L)
{
  const rwl_bent *p = luaL_checkudata(L, 1, "resinwright." RWL_PANEL);
  rwl_push_quantity(L, "m", rw_bent_plate_result(p->bent).deepest.deflection);
  lua_pushfstring(L, "panel that deflects %s", luaL_tolstring(L, -1, NULL));
  return 1;
}

/* --- declarations --------------------------------------------------------------------------- */

#define CRITERION RWL_MAY("criterion", RWL_CHOICE, RWL_CRITERIA, "max_stress", "of first failure")

static const rwl_field patch_fields[] = {
    RWL_NEED("load", RWL_QUANTITY, "N",
             "whole force on the place, from outside above 0: a rock; from inside below 0: "
             "a heel; 80 kg weigh 785 N"),
    RWL_MAY("size", RWL_QUANTITY, "m", NULL, "side of a square place"),
    RWL_MAY("diameter", RWL_QUANTITY, "m", NULL,
            "of a round place, such as a heel, the panel's short side at most; bent as under the "
            "square of its area"),
    RWL_MAY("length", RWL_QUANTITY, "m", NULL, "of an oblong place, along the panel's length"),
    RWL_MAY("width", RWL_QUANTITY, "m", NULL, "of an oblong place, across"),
    RWL_MAY("x", RWL_QUANTITY, "m", NULL, "its middle from one end; left out, half the length"),
    RWL_MAY("y", RWL_QUANTITY, "m", NULL, "its middle from one side; left out, half the width"),
    RWL_END_FIELDS,
};
static const rwl_field at_fields[] = {
    RWL_NEED("x", RWL_QUANTITY, "m", "from one end"),
    RWL_NEED("y", RWL_QUANTITY, "m", "from one side"),
    RWL_END_FIELDS,
};
const rwl_field rwl_panel_fields[] = {
    RWL_NEED("length", RWL_QUANTITY, "m", "of the panel along the hull"),
    RWL_NEED("width", RWL_QUANTITY, "m", "across; a tenth to ten times the length"),
    RWL_MAY("edges", RWL_CHOICE, "resting|clamped", "resting",
            "how all four are held: resting and free to turn, or bonded into something stiff; a "
            "real one lies between, so ask for both"),
    RWL_MAY("ends", RWL_CHOICE, "resting|clamped", NULL,
            "the two edges that end its length, where held otherwise"),
    RWL_MAY("sides", RWL_CHOICE, "resting|clamped", NULL, "the two along it, likewise"),
    RWL_MAY("pressure", RWL_QUANTITY, "Pa", "0 Pa", "even load from outside over all of it"),
    RWL_MAY_RECORD("patch", patch_fields, "a load on one place of it, beside the pressure"),
    RWL_MAY("shear", RWL_BOOLEAN, "", "true", "false: shear through the thickness is left out"),
    CRITERION,
    RWL_END_FIELDS,
};
#define STRAINS "{x: number, y: number, xy: number}"
#define POINT                                                                                     \
  "{x: quantity, y: quantity, deflection: quantity, outer: " STRAINS ", inner: " STRAINS          \
  ", moment: {x: quantity, y: quantity, xy: quantity}, Qx: quantity, Qy: quantity}"

static const rwl_function methods[] = {
    {"at", RWL_PANEL, RWL_NAMED, at_fields,
     "One place of the panel: deflection, strains of the outer and the inner face, moments and "
     "shear forces per width (N, N/m; shear forces are 0 where shear was left out).",
     POINT, at},
    {"spread", RWL_PANEL, RWL_NAMED, NULL,
     "How well the answers are known, from the scatter of wood and of cloth: each is stiffer or "
     "softer, and stronger or weaker, as a whole. The greatest strain of each face (of any "
     "direction, above 0 stretched) and the factor of the load at first failure come with their "
     "ranges; other is what else gives way first in some of a thousand trials, the share of all "
     "such trials, and what it is most often (nil: nothing else ever). Left out: knots and bad "
     "wetting, the weakest strip of many, edges, and theory itself." RWL_WHY_NOT_APPROVAL,
     "{deflection: range, held: range, outer_strain: range, inner_strain: range, factor: range, "
     "other: " RWL_OTHER "}",
     rwl_panel_spread},
    RWL_END_FUNCTIONS,
};
static const rwl_property properties[] = {
    {"deflection", "quantity", "greatest, to the inside above 0, where the edges may slide in"},
    {"held", "quantity",
     "an estimate of it where they cannot, and the panel carries as a membrane as well; a real "
     "one lies between the two. Strains and failure stay those of the first"},
    {"deepest", POINT, "the place where it deflects most"},
    {"stretched", POINT, "the place where a face is strained most"},
    {"surface_strain", "number", "that strain, above 0 stretched"},
    {"failure",
     "{factor: number, ply: integer|nil, veneer: integer|nil, face: \"outer\"|\"inner\"|nil, "
     "name: string|nil, mode: string, x: quantity|nil, y: quantity|nil}",
     "what gives way first, where, and by what the load must be multiplied for it; what crushes "
     "under a heel and what the edges do is not looked at." RWL_WHY_NOT_APPROVAL},
    {"shear_share", "number", "part of the deflection that is due to shear"},
    {"slenderness", "number", "short side over thickness"},
    {"depth", "number", "deflection over thickness"},
    {"error", "number", "of the deflection by the sums being cut off, as a share"},
    {"strain_error", "number", "of the strain, likewise"},
    {"method", "string", "how it was solved: series, least energy"},
    {"warnings", "string[]", "what to know about it; empty where nothing"},
    RWL_END_PROPERTIES,
};
static const luaL_Reg events[] = {{"__gc", release}, {"__tostring", say}, {NULL, NULL}};
static const rwl_type types[] = {
    {RWL_PANEL, "A flat panel of a laminate under load, solved.", properties, read, methods,
     events},
    RWL_END_TYPES,
};

const rwl_set rwl_panel_set = {NULL, types};
