/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plies of a core (foam, balsa, honeycomb) by the numbers of its data sheet. */
#include "laminate.h"

#include "reading.h"

static const double usual_poisson = 0.3;

/* Alike in all directions, and without strengths but that against shear: it never is what gives
 * way in its plane. */
void rwl_read_core(lua_State *L, size_t i, rwl_layer *layer, rw_ply *ply)
{
  static const char sheet[] = "see the maker's data sheet for the core";
  static const rwl_bounds modulus = {"core.", "modulus", "MPa", 1e6, 1.0, 20e3, sheet},
                          shear = {"core.", "shear_modulus", "MPa", 1e6, 0.5, 10e3, sheet},
                          density = {"core.", "density", "kg/m3", 1.0, 20.0, 1500.0, sheet},
                          strength = {"core.", "shear_strength", "MPa", 1e6, 0.01, 100.0, sheet},
                          spread = {"core.",
                                    "spread",
                                    "%",
                                    0.01,
                                    0.0,
                                    90.0,
                                    "standard deviation over the modulus, such as \"10 %\""};
  rwl_open(L, "core", 0);
  const double E = rwl_get_bounded(L, i, &modulus, 0.0), G = rwl_get_bounded(L, i, &shear, 0.0),
               S = rwl_get_bounded(L, i, &strength, 0.0);
  ply->material = (rw_lamina){.density = rwl_get_bounded(L, i, &density, 0.0),
                              .E1 = E,
                              .E2 = E,
                              .E3 = E,
                              .G12 = G,
                              .G13 = G,
                              .G23 = G,
                              .nu12 = usual_poisson,
                              .S = S,
                              .S23 = S};
  layer->spread = rwl_get_bounded(L, i, &spread, 0.0);
  rwl_close(L);
  layer->core = 1;
  rwl_copy_name(layer->name, "core");
  ply->thickness = rwl_get_quantity(L, "thickness", NAN);
}

void rwl_need_core_strengths(lua_State *L, const rwl_laminate *l)
{
  for (size_t i = 0; i < l->n; i++)
    if (l->layer[i].core && l->ply[i].material.S == 0.0)
      rwl_refuse_ply(L, l->layer[i].listed, "core.shear_strength",
                     "is missing: a core is what gives way to shear first",
                     "take it from the maker's data sheet");
}

size_t rwl_group_word(const rwl_laminate *l, size_t group)
{
  int wood = 0, core = 0;
  for (size_t i = 0; i < l->n; i++) {
    core = core || l->layer[i].core;
    wood = wood || (l->layer[i].group == RWL_WOOD && !l->layer[i].core);
  }
  if (group != RWL_WOOD || !core)
    return group;
  return wood ? RWL_GROUPS + 1 : RWL_GROUPS;
}

const rwl_field rwl_core_fields[] = {
    RWL_NEED(
        "modulus", RWL_QUANTITY, "Pa",
        "1 MPa to 20 GPa, through the thickness (compression); taken in all directions, which "
        "says little where skins are stiffer by far"),
    RWL_NEED("shear_modulus", RWL_QUANTITY, "Pa",
             "0.5 MPa to 10 GPa; of a honeycomb the lesser of its two"),
    RWL_NEED("density", RWL_QUANTITY, "kg/m3",
             "20 to 1500 kg/m3, with the resin that it drinks or that fills its cuts"),
    RWL_MAY("shear_strength", RWL_QUANTITY, "Pa", NULL,
            "0.01 to 100 MPa; shear_failure needs it. Other strengths a core has none here: "
            "crushing under a heel or a fitting is another matter"),
    RWL_MAY("spread", RWL_SHARE, "", NULL,
            "relative standard deviation of its moduli, 90 % at most; left out, taken as known"),
    RWL_END_FIELDS,
};
