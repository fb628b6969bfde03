/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Resin uptake from weighed test panels, as rw.amounts takes it. */
#include "fit_common.h"

#include "core.h"

#include <stdio.h>
#include <string.h>

static rw_panel read_panel(lua_State *L, size_t i)
{
  rwl_open(L, "panels", i);
  rw_panel p = {.area = rwl_get_quantity(L, "area", NAN),
                .bare = rwl_get_quantity(L, "bare", NAN),
                .wet_out = rwl_get_quantity(L, "wet_out", NAN),
                .filled = rwl_get_quantity(L, "filled", NAN),
                .sanded = rwl_get_quantity(L, "sanded", NAN)};
  rwl_close(L);
  return p;
}

static void refuse_panels(lua_State *L, rw_error *err)
{
  /* resin per area is no field: its sentence stays as it is */
  int of_resin = strstr(err->message, "kg/m2") != NULL;
  if (!rwl_place_element(L, err, "panels")) {
    if (err->line > 0)
      rwl_blame(err, lua_pushfstring(L, "panels[%d].%s", (int)err->line, err->argument));
    else if (strcmp(err->argument, "n") == 0)
      rwl_blame(err, "panels");
  } else if (of_resin) {
    snprintf(err->hint, sizeof err->hint, "%s", "look for a wrong area or masses mixed up");
    rwl_throw(L, err);
  }
  rwl_throw_usual(L, err);
}

/* A value with its 90 % interval; nothing where its spread is not known. */
static void set_next(lua_State *L, const char *name, rw_value v)
{
  if (isnan(v.sd))
    return;
  rwl_push_value(L, "kg/m2", v, "from panel to panel");
  lua_setfield(L, -2, name);
}

static void set_term(lua_State *L, const char *name, const rw_panel_mean *m)
{
  if (m->n == 0)
    return;
  lua_newtable(L);
  rwl_set_quantity(L, "mean", "kg/m2", m->mean);
  rwl_set_known_quantity(L, "sd", "kg/m2", m->sd);
  rwl_set_known_quantity(L, "low", "kg/m2", m->low);
  rwl_set_known_quantity(L, "high", "kg/m2", m->high);
  set_next(L, "next", m->next);
  lua_pushinteger(L, (lua_Integer)m->n);
  lua_setfield(L, -2, "panels");
  lua_setfield(L, -2, name);
}

/* Sets `uptake`, or `why` there is none. */
static void set_uptake(lua_State *L, const rw_panel_terms *terms)
{
  static const rw_value unknown = {0, 0}; /* panels don't show the waste */
  rw_uptake u;
  rw_error err = {0};
  rw_status status = rw_panel_plan(terms, unknown, &u, &err);
  if (status < 0) {
    lua_pushfstring(L, "%s; %s", err.message, err.hint);
    lua_setfield(L, -2, "why");
    return;
  }
  lua_newtable(L);
  set_next(L, "wet_out", u.cloth);
  set_next(L, "filling", u.fill);
  lua_setfield(L, -2, "uptake");
}

static int panels(lua_State *L)
{
  size_t n = rwl_get_count(L, "panels");
  rw_panel *panel = rwl_block(L, n, sizeof *panel);
  for (size_t i = 0; i < n; i++)
    panel[i] = read_panel(L, i);
  double level = rwl_get_quantity(L, "level", 0.0);
  rw_panel_terms terms;
  rw_error err = {0};
  rwl_warning warning;
  rw_status status =
      rw_panel_uptake(panel, n, rwl_get_quantity(L, "cloth", 0.0), level, &terms, &err);
  if (status < 0)
    refuse_panels(L, &err);
  rwl_keep(L, &warning, status, &err);
  lua_newtable(L);
  set_term(L, "wet_out", &terms.wet_out);
  set_term(L, "filling", &terms.filling);
  set_term(L, "sanding", &terms.sanding);
  set_term(L, "left", &terms.left);
  set_uptake(L, &terms);
  rwl_set_number(L, "level", level);
  rwl_set_warnings(L, &warning);
  return 1;
}

static const rwl_field panel_fields[] = {
    RWL_NEED("area", RWL_QUANTITY, "m2", "the face worked on, such as \"500 cm2\""),
    RWL_NEED("bare", RWL_QUANTITY, "kg", "mass before any resin"),
    RWL_NEED("wet_out", RWL_QUANTITY, "kg", "mass with the cloth wetted out, cured"),
    RWL_MAY("filled", RWL_QUANTITY, "kg", NULL, "mass with the weave filled and coated, cured"),
    RWL_MAY("sanded", RWL_QUANTITY, "kg", NULL, "mass after sanding, free of dust"),
    RWL_END_FIELDS,
};
static const rwl_field panels_fields[] = {
    RWL_NEED_RECORDS("panels", panel_fields,
                     "test panels, weighed after each stage, 1 to 1000; 3 or more for an interval "
                     "worth the name"),
    RWL_MAY(
        "cloth", RWL_QUANTITY, "kg/m2", "0 kg/m2",
        "dry cloth on them, all layers together; 0 where the bare panels were weighed with it"),
    RWL_LEVEL_FIELD("the interval of a mean"),
    RWL_END_FIELDS,
};

static const rwl_function functions[] = {
    {"panels", NULL, RWL_NAMED, panels_fields,
     "Resin uptake from test panels: `wet_out`, `filling`, `sanding` and `left` (what stays), "
     "each with `mean`, `sd` from panel to panel, the mean's t-interval `low` to `high`, `next` "
     "(a range: a hull taken as one more panel) and `panels`, how many; nil where none was "
     "weighed. `uptake` is what rw.amounts takes in place of soak, layers and cover; nil where a "
     "term rests on fewer than two panels, then `why`. `level`; `warnings`. Wear a mask when "
     "sanding: the dust harms the lungs.",
     "table", panels},
    RWL_END_FUNCTIONS,
};

const rwl_set rwl_fit_panels_set = {functions, NULL};
