/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The declarations as Lua tables: what the manual, the editor stub and the tests are made from. */
#include "core.h"

#include <string.h>

static const char *const kind_names[] = {
#define RWL_X(constant, name) name,
    RWL_KIND_LIST(RWL_X)
#undef RWL_X
};

static void set_text(lua_State *L, const char *name, const char *text)
{
  if (text == NULL)
    return;
  lua_pushstring(L, text);
  lua_setfield(L, -2, name);
}

static void set_flag(lua_State *L, const char *name, unsigned yes)
{
  lua_pushboolean(L, yes != 0);
  lua_setfield(L, -2, name);
}

static void append(lua_State *L)
{
  lua_rawseti(L, -2, (lua_Integer)lua_rawlen(L, -2) + 1);
}

static void set_choices(lua_State *L, const char *detail)
{
  lua_newtable(L);
  for (const char *p = detail;;) {
    size_t n = strcspn(p, "|");
    lua_pushlstring(L, p, n);
    append(L);
    if (p[n] == '\0')
      break;
    p += n + 1;
  }
  lua_setfield(L, -2, "choices");
}

static void set_detail(lua_State *L, const rwl_field *f)
{
  switch (f->kind) {
  case RWL_QUANTITY:
  case RWL_VALUE:
    set_text(L, "unit", f->detail);
    return;
  case RWL_TEMPERATURE:
  case RWL_DIFFERENCE:
    set_text(L, "unit", "K");
    return;
  case RWL_CHOICE:
    set_choices(L, f->detail);
    return;
  case RWL_OBJECT:
    set_text(L, "type", f->detail);
    return;
  default:
    set_text(L, "detail", f->detail);
  }
}

static void set_fields(lua_State *L, const rwl_field *fields);

static void push_field(lua_State *L, const rwl_field *f)
{
  lua_newtable(L);
  set_text(L, "name", f->name);
  set_text(L, "kind", kind_names[f->kind]);
  set_text(L, "doc", f->doc);
  set_text(L, "default", f->fallback);
  set_flag(L, "required", f->flags & RWL_REQUIRED);
  set_flag(L, "list", f->flags & RWL_LIST);
  set_detail(L, f);
  if (f->kind == RWL_RECORD)
    set_fields(L, f->inner);
}

static void set_fields(lua_State *L, const rwl_field *fields)
{
  luaL_checkstack(L, RWL_STACK, NULL);
  lua_newtable(L);
  for (const rwl_field *f = fields; f != NULL && f->name != NULL; f++) {
    push_field(L, f);
    append(L);
  }
  lua_setfield(L, -2, "fields");
}

static void push_function(lua_State *L, const rwl_function *f)
{
  lua_newtable(L);
  set_text(L, "name", f->name);
  set_text(L, "self", f->self);
  set_text(L, "style", f->style == RWL_NAMED ? "named" : "plain");
  set_text(L, "doc", f->doc);
  set_text(L, "returns", f->returns);
  set_fields(L, f->fields);
}

static void append_functions(lua_State *L, const rwl_function *f)
{
  for (; f != NULL && f->name != NULL; f++) {
    push_function(L, f);
    append(L);
  }
}

static void set_properties(lua_State *L, const rwl_property *p)
{
  lua_newtable(L);
  for (; p != NULL && p->name != NULL; p++) {
    lua_newtable(L);
    set_text(L, "name", p->name);
    set_text(L, "type", p->type);
    set_text(L, "doc", p->doc);
    append(L);
  }
  lua_setfield(L, -2, "properties");
}

/* A type without a description serves inside only. */
static void append_types(lua_State *L, const rwl_type *t)
{
  for (; t != NULL && t->name != NULL; t++) {
    if (t->doc == NULL)
      continue;
    lua_newtable(L);
    set_text(L, "name", t->name);
    set_text(L, "doc", t->doc);
    set_properties(L, t->properties);
    append(L);
  }
}

static void append_methods(lua_State *L, const rwl_type *t)
{
  for (; t != NULL && t->name != NULL; t++)
    append_functions(L, t->methods);
}

void rwl_describe(lua_State *L, const rwl_set *const *set, size_t n)
{
  lua_newtable(L);
  lua_newtable(L);
  for (size_t i = 0; i < n; i++)
    append_functions(L, set[i]->functions);
  for (size_t i = 0; i < n; i++)
    append_methods(L, set[i]->types);
  lua_setfield(L, -2, "functions");
  lua_newtable(L);
  for (size_t i = 0; i < n; i++)
    append_types(L, set[i]->types);
  lua_setfield(L, -2, "types");
}
