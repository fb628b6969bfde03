/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The module table: what every set declares, and what concerns the module itself. */
#include "core.h"
#include "sets.h"

RW_API int luaopen_resinwright(lua_State *L);

#define RWL_X(set) extern const rwl_set set;
RWL_SET_LIST(RWL_X)
#undef RWL_X

static const rwl_set *const own_sets[] = {
#define RWL_X(set) &(set),
    RWL_SET_LIST(RWL_X)
#undef RWL_X
};

enum { SETS = sizeof own_sets / sizeof own_sets[0] };

static int units(lua_State *L)
{
  const char *name, *meaning;
  lua_newtable(L);
  for (size_t i = 0; rw_unit_at(i, &name, &meaning); i++) {
    lua_createtable(L, 0, 2);
    lua_pushstring(L, name);
    lua_setfield(L, -2, "name");
    lua_pushstring(L, meaning);
    lua_setfield(L, -2, "meaning");
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  return 1;
}

static int describe(lua_State *L)
{
  rwl_describe(L, own_sets, SETS);
  return 1;
}

/* The words hang on the converted arguments, the array of pointers on the stack. */
static int nearest(lua_State *L)
{
  size_t n = rwl_get_count(L, "known");
  const char **known = lua_newuserdatauv(L, (n + 1) * sizeof *known, 0);
  for (size_t i = 0; i < n; i++)
    known[i] = rwl_get_string_at(L, "known", i);
  int found = rw_nearest_name(rwl_get_string(L, "word", "", NULL), known, n);
  if (found < 0)
    return 0;
  lua_pushstring(L, known[found]);
  return 1;
}

static const rwl_field nearest_fields[] = {
    RWL_NEED("word", RWL_STRING, "", "a word that may be misspelt"),
    RWL_NEED_LIST("known", RWL_STRING, "", "the words there are"),
    RWL_END_FIELDS,
};

static const rwl_field kind_fields[] = {
    RWL_MAY("x", RWL_QUANTITY, "any", NULL, "anything"),
    RWL_END_FIELDS,
};

static const rwl_function functions[] = {
    {"units", NULL, RWL_NAMED, NULL, "The names of units and what they mean.",
     "{name: string, meaning: string}[]", units},
    {"nearest", NULL, RWL_NAMED, nearest_fields,
     "The known word nearest to a misspelt one, or nil where none is near.", "string|nil",
     nearest},
    {"describe", NULL, RWL_NAMED, NULL,
     "All functions and types with their fields, kinds, units and descriptions.", "table",
     describe},
    {"kind", NULL, RWL_PLAIN, kind_fields,
     "What an object of this module is: \"quantity\", \"range\", \"error\" or the name of its "
     "type; nil for anything else.",
     "string|nil", rwl_kind_of},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_module_set = {functions, NULL};

static void add_functions(lua_State *L, const rwl_function *f)
{
  for (; f != NULL && f->name != NULL; f++) {
    lua_pushlightuserdata(L, (void *)f);
    lua_pushcclosure(L, rwl_call, 1);
    lua_setfield(L, -2, f->name);
  }
}

void rwl_push_module(lua_State *L, const rwl_set *const *set, size_t n)
{
  rwl_register_error(L);
  lua_newtable(L);
  for (size_t i = 0; i < n; i++) {
    for (const rwl_type *t = set[i]->types; t != NULL && t->name != NULL; t++)
      rwl_register_type(L, t);
    add_functions(L, set[i]->functions);
  }
}

int luaopen_resinwright(lua_State *L)
{
  rwl_push_module(L, own_sets, SETS);
  lua_pushstring(L, rw_version());
  lua_setfield(L, -2, "version");
  return 1;
}
