/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How much to mix, to buy and to cut, and what it weighs. */
#include "fit_common.h"

static const char *const causes[] = {
    [RW_TERM_SOAK] = "what the wood soaks up",
    [RW_TERM_CLOTH] = "the resin in the cloth",
    [RW_TERM_FILL] = "the fill coats",
    [RW_TERM_WASTE] = "the waste",
    [RW_TERMS] = "the area",
};
/* The same where the uptake was measured on panels. */
static const char *const measured_causes[] = {
    [RW_TERM_SOAK] = "what the wood soaks up",
    [RW_TERM_CLOTH] = "the wet-out from panel to panel",
    [RW_TERM_FILL] = "the fill coats from panel to panel",
    [RW_TERM_WASTE] = "the waste",
    [RW_TERMS] = "the area",
};

static void set_range(lua_State *L, const char *name, rw_value v, const char *because)
{
  rwl_push_value(L, "kg", v, because);
  lua_setfield(L, -2, name);
}

/* The cloths of the layers one after the other, on the Lua stack. */
static const rw_cloth *read_layers(lua_State *L, size_t *n)
{
  *n = rwl_get_count(L, "layers");
  rw_cloth *layer = lua_newuserdatauv(L, (*n + 1) * sizeof *layer, 0);
  for (size_t i = 0; i < *n; i++)
    layer[i] = ((const rwl_cloth *)rwl_get_object_at(L, "layers", i))->cloth;
  return layer;
}

static double mixed(lua_State *L, const rw_uptake *u)
{
  rw_value m = {0, 0};
  rw_error err = {0};
  rwl_check(L, rw_uptake_mixed(u, &m, &err), &err);
  return m.value;
}

static double quantile(lua_State *L, rw_value amount, double chance)
{
  static const rwl_alias alias[] = {{"p", "chance"}, {NULL, NULL}};
  double q = 0.0;
  rw_error err = {0};
  rwl_check_as(L, rw_plan_quantile(amount, chance, &q, &err), &err, alias);
  return q;
}

/* From what wood, cloths and coats are known to take. */
static rw_uptake estimated_uptake(lua_State *L, rw_value waste)
{
  const rw_value none = {0, 0};
  const rw_resin *r = &((const rwl_resin *)rwl_get_object(L, "resin"))->resin;
  size_t n;
  const rw_cloth *layer = read_layers(L, &n);
  rw_uptake u;
  rw_error err = {0};
  if (!rwl_has(L, "soak"))
    rwl_refuse_absent(L, "soak", "give what soaks into the wood, or the uptake of test panels");
  if (!rwl_has(L, "cover"))
    rwl_refuse_absent(L, "cover", "give the resin over the crowns, or the uptake of test panels");
  rwl_check(L,
            rw_plan_uptake(layer, n, (rw_layup)rwl_get_choice(L, "layup", RW_BY_HAND), r->density,
                           rwl_get_value(L, "soak", none), rwl_get_value(L, "cover", none), waste,
                           &u, &err),
            &err);
  return u;
}

/* As panels showed it; they cannot tell wood from cloth. */
static rw_uptake measured_uptake(lua_State *L, rw_value waste)
{
  static const char *const others[] = {"layers", "soak", "cover"};
  const rw_value none = {0, 0};
  for (int i = 0; i < 3; i++)
    if (rwl_has(L, others[i]))
      rwl_refuse_field(
          L, others[i],
          lua_pushfstring(L, "%s is given, but the uptake measured on panels holds it already",
                          others[i]),
          "leave it out, or leave uptake out");
  rwl_open(L, "uptake", 0);
  rw_uptake u = {.soak = none,
                 .cloth = rwl_get_value(L, "wet_out", none),
                 .fill = rwl_get_value(L, "filling", none),
                 .waste = waste};
  rwl_close(L);
  return u;
}

static int amounts(lua_State *L)
{
  static const rwl_alias as_estimated[] = {{NULL, NULL}};
  static const rwl_alias as_measured[] = {
      {"cloth", "uptake.wet_out"}, {"fill", "uptake.filling"}, {NULL, NULL}};
  const rw_value none = {0, 0};
  const rw_resin *r = &((const rwl_resin *)rwl_get_object(L, "resin"))->resin;
  int measured = rwl_has(L, "uptake");
  rw_value waste = rwl_get_value(L, "waste", none);
  rw_uptake u = measured ? measured_uptake(L, waste) : estimated_uptake(L, waste);
  rw_need need;
  rw_error err = {0};
  rwl_check_as(L, rw_plan_need(rwl_get_value(L, "area", none), &u, &need, &err), &err,
               measured ? as_measured : as_estimated);
  double enough = quantile(L, need.total, rwl_get_quantity(L, "chance", 0.0));
  rw_uptake wetout = u;
  wetout.fill = none;
  lua_newtable(L);
  set_range(L, "soak", need.term[RW_TERM_SOAK], NULL);
  set_range(L, "cloth", need.term[RW_TERM_CLOTH], NULL);
  set_range(L, "fill", need.term[RW_TERM_FILL], NULL);
  set_range(L, "waste", need.term[RW_TERM_WASTE], NULL);
  set_range(L, "on_hull", need.on_hull, NULL);
  set_range(L, "total", need.total,
            need.total.sd > 0 ? (measured ? measured_causes : causes)[need.because] : NULL);
  rwl_set_quantity(L, "per_area", "kg/m2", mixed(L, &u));
  rwl_set_quantity(L, "wetout_per_area", "kg/m2", mixed(L, &wetout));
  rwl_set_quantity(L, "enough", "kg", enough);
  rwl_set_quantity(L, "resin", "kg", enough / (1 + r->hardener));
  rwl_set_quantity(L, "hardener", "kg", enough - enough / (1 + r->hardener));
  return 1;
}

/* The packs on sale one after the other, on the Lua stack. */
static const rw_pack *read_packs(lua_State *L, size_t n)
{
  rw_pack *pack = lua_newuserdatauv(L, n * sizeof *pack, 0);
  for (size_t i = 0; i < n; i++) {
    rwl_open(L, "packs", i);
    pack[i] = (rw_pack){rwl_get_quantity(L, "mass", 0.0), rwl_get_quantity(L, "price", 0.0)};
    rwl_close(L);
  }
  return pack;
}

static int packs(lua_State *L)
{
  static const rwl_alias alias[] = {{"pack", "packs[]"}, {NULL, NULL}};
  size_t n = rwl_get_count(L, "packs");
  const rw_pack *pack = read_packs(L, n);
  unsigned *count = lua_newuserdatauv(L, n * sizeof *count, 0);
  double need = rwl_get_quantity(L, "need", 0.0), mass = 0.0, price = 0.0;
  rw_error err = {0};
  rwl_check_as(L, rw_plan_packs(need, pack, n, count, &mass, &price, &err), &err, alias);
  lua_newtable(L);
  lua_newtable(L);
  for (size_t i = 0; i < n; i++) {
    lua_pushinteger(L, (lua_Integer)count[i]);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_setfield(L, -2, "counts");
  rwl_set_quantity(L, "mass", "kg", mass);
  rwl_set_quantity(L, "price", "money", price);
  rwl_set_quantity(L, "leftover", "kg", fmax(mass - need, 0.0));
  return 1;
}

static const char *const ways[] = {"lengthwise", "filled", "crosswise"};

static void push_layout(lua_State *L, const rw_layout *layout)
{
  lua_newtable(L);
  rwl_set_text(L, "way", ways[layout->kind]);
  lua_pushinteger(L, (lua_Integer)layout->pieces);
  lua_setfield(L, -2, "pieces");
  rwl_set_quantity(L, "length", "m", layout->length);
  rwl_set_quantity(L, "cost", "money", layout->cost);
  rwl_set_quantity(L, "reach", "m", layout->reach);
  if (layout->filler > 0) {
    rwl_set_quantity(L, "filler", "m", layout->filler);
    rwl_set_quantity(L, "filler_from", "m", layout->filler_from);
    rwl_set_quantity(L, "filler_to", "m", layout->filler_to);
  }
  rwl_set_quantity(L, "lap_area", "m2", layout->lap_area);
  rwl_set_number(L, "offcut", layout->offcut);
}

static int cloth_layout(lua_State *L)
{
  const rw_hull *hull = rwl_hull_in(L, rwl_get_object(L, "hull"));
  rw_roll roll = {.width = rwl_get_quantity(L, "width", 0.0),
                  .shortfall = rwl_get_quantity(L, "shortfall", 0.0),
                  .price = rwl_get_quantity(L, "price", 0.0)};
  rw_layout layout;
  rw_error err = {0};
  rw_status status = rw_plan_cloth(hull, &roll, rwl_get_quantity(L, "overhang", 0.0),
                                   rwl_get_quantity(L, "lap", 0.0),
                                   (rw_layout_kind)rwl_get_choice(L, "way", 0), &layout, &err);
  rwl_check(L, status, &err);
  if (status == RW_NO_SOLUTION)
    return rwl_push_reason(L, &err);
  push_layout(L, &layout);
  return 1;
}

static int reach(lua_State *L)
{
  double width = rwl_get_quantity(L, "width", 0.0), lap = rwl_get_quantity(L, "lap", 0.0);
  size_t pieces = rwl_get_size(L, "pieces", 1, 1000);
  rw_error err = {0};
  if (!(lap >= 0 && lap < width)) {
    rw_error_range(&err, "", "lap", lap, 0, width, "m", "A lap is narrower than its strip.");
    rwl_throw(L, &err);
  }
  rwl_push_quantity(L, "m", rw_plan_reach(width, lap, (unsigned)pieces));
  return 1;
}

/* Pushes a list of the items' names and ranges. */
static void push_items(lua_State *L, const rw_value *mass, size_t n)
{
  lua_newtable(L);
  for (size_t i = 0; i < n; i++) {
    lua_newtable(L);
    rwl_open(L, "items", i);
    rwl_set_text(L, "name", rwl_get_string(L, "name", "", NULL));
    rwl_close(L);
    set_range(L, "mass", mass[i], NULL);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
}

static int budget(lua_State *L)
{
  static const rwl_alias alias[] = {{"item", "items[].mass"}, {NULL, NULL}};
  const rw_value none = {0, 0};
  size_t n = rwl_get_count(L, "items"), because = 0;
  rw_value *mass = lua_newuserdatauv(L, n * sizeof *mass, 0);
  for (size_t i = 0; i < n; i++) {
    rwl_open(L, "items", i);
    mass[i] = rwl_get_value(L, "mass", none);
    rwl_close(L);
  }
  rw_value total = none;
  rw_error err = {0};
  rwl_check_as(L, rw_plan_sum(mass, n, &total, &because, &err), &err, alias);
  lua_newtable(L);
  rwl_open(L, "items", because);
  const char *name = rwl_get_string(L, "name", "", NULL);
  rwl_close(L);
  set_range(L, "total", total, total.sd > 0 ? name : NULL);
  push_items(L, mass, n);
  lua_setfield(L, -2, "items");
  return 1;
}

static int enough(lua_State *L)
{
  const rw_value none = {0, 0};
  double chance = rwl_get_quantity(L, "chance", 0.0);
  rwl_push_quantity(L, "kg", quantile(L, rwl_get_value(L, "amount", none), chance));
  return 1;
}

static int spreading_time(lua_State *L)
{
  rw_error err = {0};
  rw_value time, none = {NAN, 0};
  rw_value area = rwl_get_value(L, "area", none), rate = rwl_get_value(L, "rate", none);
  rwl_check(L, rw_plan_spreading(area, rate, &time, &err), &err);
  int area_leads = area.sd / area.value > rate.sd / rate.value;
  const char *because = area_leads ? "the area" : "the rate";
  rwl_push_value(L, "s", time, time.sd > 0 ? because : NULL);
  return 1;
}

static const rwl_field uptake_fields[] = {
    RWL_NEED("wet_out", RWL_VALUE, "kg/m2", "resin into wood and cloth at wet-out"),
    RWL_NEED("filling", RWL_VALUE, "kg/m2", "resin of the fill coats, before sanding"),
    RWL_END_FIELDS,
};
static const rwl_field amounts_fields[] = {
    RWL_NEED("area", RWL_VALUE, "m2", "skin area of the face"),
    RWL_MAY_LIST("layers", RWL_OBJECT, RWL_CLOTH,
                 "cloths on it, the outermost first; left out or empty: a coat without cloth"),
    RWL_NEED("resin", RWL_OBJECT, RWL_RESIN, "the resin"),
    RWL_MAY("layup", RWL_CHOICE, "hand|bagged", "hand", "how the cloth is laid"),
    RWL_MAY("soak", RWL_VALUE, "kg/m2", NULL, "what soaks into the wood; needed without `uptake`"),
    RWL_MAY("cover", RWL_VALUE, "m", NULL,
            "clear resin over the crowns of the outermost cloth, all fill coats together; needed "
            "without `uptake`"),
    RWL_MAY_RECORD("uptake", uptake_fields,
                   "what test panels took, see rw.panels; in place of layers, soak and cover"),
    RWL_NEED("waste", RWL_VALUE, "", "share of what is mixed that ends in pots and tools"),
    RWL_MAY("chance", RWL_SHARE, "", "95 %", "chance that `enough` really is"),
    RWL_END_FIELDS,
};
static const rwl_field pack_fields[] = {
    RWL_NEED("mass", RWL_QUANTITY, "kg", "what one pack holds, resin and hardener together"),
    RWL_NEED("price", RWL_QUANTITY, "money", "price of one pack, such as \"138 money\""),
    RWL_END_FIELDS,
};
static const rwl_field packs_fields[] = {
    RWL_NEED("need", RWL_QUANTITY, "kg", "mass that is needed at least"),
    RWL_NEED_RECORDS("packs", pack_fields, "the packs on sale, at most 12 kinds"),
    RWL_END_FIELDS,
};
static const rwl_field spreading_fields[] = {
    RWL_NEED("area", RWL_VALUE, "m2", "what is to be wet out"),
    RWL_NEED("rate", RWL_VALUE, "m2/s", "spread and worked, all hands together"),
    RWL_END_FIELDS,
};
static const rwl_field layout_fields[] = {
    RWL_NEED("hull", RWL_OBJECT, RWL_HULL, "the hull"),
    RWL_NEED("width", RWL_QUANTITY, "m", "width printed on the roll"),
    RWL_MAY("shortfall", RWL_QUANTITY, "m", "0 mm", "by how much the roll is narrower in truth"),
    RWL_MAY("price", RWL_QUANTITY, "money/m", "0 money/m", "price of a running metre"),
    RWL_MAY("overhang", RWL_QUANTITY, "m", "50 mm", "cloth beyond each sheer and each end"),
    RWL_MAY("lap", RWL_QUANTITY, "m", "50 mm", "where two pieces lie double"),
    RWL_NEED("way", RWL_CHOICE, "lengthwise|filled|crosswise",
             "strips from end to end; one strip fewer and a filler where the hull is wider; or "
             "pieces from sheer to sheer"),
    RWL_END_FIELDS,
};
static const rwl_field reach_fields[] = {
    RWL_NEED("width", RWL_QUANTITY, "m", "true width of a strip"),
    RWL_NEED("lap", RWL_QUANTITY, "m", "where two strips lie double"),
    RWL_NEED("pieces", RWL_INTEGER, "", "strips side by side, 1 to 1000"),
    RWL_END_FIELDS,
};
static const rwl_field item_fields[] = {
    RWL_NEED("name", RWL_STRING, "", "what it is"),
    {"mass", RWL_VALUE, "kg", RWL_REQUIRED | RWL_SIGNED, NULL,
     "what it weighs; below zero for what is taken off again", NULL},
    RWL_END_FIELDS,
};
static const rwl_field budget_fields[] = {
    RWL_NEED_RECORDS("items", item_fields, "what adds to the weight"),
    RWL_END_FIELDS,
};
static const rwl_field quantile_fields[] = {
    RWL_NEED("amount", RWL_VALUE, "kg", "an uncertain mass, taken as lognormal"),
    RWL_NEED("chance", RWL_SHARE, "", "chance that the mass is not exceeded"),
    RWL_END_FIELDS,
};

static const rwl_function functions[] = {
    {"amounts", NULL, RWL_NAMED, amounts_fields,
     "Resin for a face: ranges `soak`, `cloth`, `fill`, `waste`, `on_hull` (the first three) and "
     "`total`; mixed per area `per_area`, and `wetout_per_area` without fill coats; mixed mass "
     "`enough` at the chance asked for, split into `resin` and `hardener`.",
     "table", amounts},
    {"packs", NULL, RWL_NAMED, packs_fields,
     "The cheapest packs that hold at least what is needed: `counts` in the order of the packs, "
     "`mass`, `price`, `leftover`.",
     "table", packs},
    {"cloth_layout", NULL, RWL_NAMED, layout_fields,
     "Cloth to buy off a roll for one layer: `way`, `pieces`, `length`, `cost`, `reach`, `filler` "
     "with `filler_from` and `filler_to`, `lap_area`, `offcut` (share not on the hull). Where "
     "that way has no use: nil and why.",
     "table|nil, string|nil", cloth_layout},
    {"spreading_time", NULL, RWL_NAMED, spreading_fields,
     "Time that spreading alone takes, without mixing and breaks.", "range", spreading_time},
    {"reach", NULL, RWL_NAMED, reach_fields, "Girth that strips cover side by side.", "quantity",
     reach},
    {"budget", NULL, RWL_NAMED, budget_fields,
     "Sum of what is added: `total` as a range that names the item with the largest spread, "
     "`items` with a `name` and a `mass` each.",
     "table", budget},
    {"quantile", NULL, RWL_NAMED, quantile_fields, "The mass that is not exceeded with a chance.",
     "quantity", enough},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_plan_amounts_set = {functions, NULL};
