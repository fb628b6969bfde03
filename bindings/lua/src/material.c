/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rw.materials: the tables that come with the library, for reading. */
#include "objects.h"

#include <string.h>

/* What is kept in kelvin are readings on a scale; its spread is a difference. */
static void set_reading(lua_State *L, const rw_property *p, const char *name, double si)
{
  if (strcmp(p->unit, "K") == 0)
    rwl_set_temperature(L, name, si);
  else
    rwl_set_quantity(L, name, p->unit, si);
}

static void push_property(lua_State *L, const rw_property *p)
{
  lua_createtable(L, 0, 6);
  set_reading(L, p, "value", p->value);
  rwl_set_quantity(L, "sd", p->unit, p->sd);
  set_reading(L, p, "low", p->low);
  set_reading(L, p, "high", p->high);
  rwl_set_text(L, "standing", p->standing);
  rwl_set_text(L, "source", p->source);
}

static void set_unless_empty(lua_State *L, const char *name, const char *text)
{
  if (text[0] != '\0')
    rwl_set_text(L, name, text);
}

static void push_material(lua_State *L, const rw_material *m)
{
  lua_createtable(L, 0, 5);
  rwl_set_text(L, "name", m->name);
  rwl_set_text(L, "title", m->title);
  set_unless_empty(L, "weave", m->weave);
  set_unless_empty(L, "fibre", m->fibre);
  lua_createtable(L, 0, (int)m->count);
  for (size_t i = 0; i < m->count; i++) {
    push_property(L, &m->property[i]);
    lua_setfield(L, -2, m->property[i].name);
  }
  lua_setfield(L, -2, "properties");
}

static int materials(lua_State *L)
{
  rw_material_kind kind = (rw_material_kind)rwl_get_choice(L, "kind", RW_FIBRE);
  lua_newtable(L);
  const rw_material *m;
  for (size_t i = 0; (m = rw_material_at(kind, i)) != NULL; i++) {
    push_material(L, m);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}

static const rwl_field materials_fields[] = {
    RWL_NEED("kind", RWL_CHOICE, "fibre|cloth|wood|resin", "which table to list"),
    RWL_END_FIELDS,
};

static const rwl_function functions[] = {
    {"materials", NULL, RWL_NAMED, materials_fields,
     "The materials of a kind, each with its properties: best value, standard deviation, least "
     "and "
     "greatest plausible value, how far the number is to be trusted (standing) and where it comes "
     "from (source, ids of the list of sources).",
     "{name: string, title: string, weave: string|nil, fibre: string|nil, properties: "
     "table<string, {value: quantity|number, sd: quantity|number, low: quantity|number, high: "
     "quantity|number, standing: string, source: string}>}[]",
     materials},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_material_set = {functions, NULL};
