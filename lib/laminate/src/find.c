/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "laminate_common.h"

rw_status rw_laminate_look_up(const char *function, rw_material_kind kind, const char *name,
                              const rw_laminate_wanted *want, size_t n, rw_error *err)
{
  const rw_material *found;
  rw_status status = rw_material_find(kind, name, &found, err);
  for (size_t i = 0; i < n && status == RW_OK; i++) {
    const rw_property *property;
    status = rw_material_property(found, want[i].name, &property, err);
    if (status == RW_OK)
      *want[i].to = property->value;
  }
  return rw_laminate_in_name_of(function, status, err);
}

rw_status rw_fibre_find(const char *name, rw_fibre *out, rw_error *err)
{
  const char *me = "rw_fibre_find";
  if (name == NULL || out == NULL)
    return rw_laminate_missing(me, name == NULL ? "name" : "out", err);
  rw_fibre f = {0};
  const rw_laminate_wanted want[] = {{"density", &f.density}, {"E1", &f.E1},
                                     {"E2", &f.E2},           {"G12", &f.G12},
                                     {"nu12", &f.nu12},       {"strength", &f.strength}};
  rw_status status =
      rw_laminate_look_up(me, RW_FIBRE, name, want, sizeof want / sizeof want[0], err);
  if (status != RW_OK)
    return status;
  const rw_laminate_wanted crush = {"crush", &f.crush};
  (void)rw_laminate_look_up(me, RW_FIBRE, name, &crush, 1, NULL); /* few fibres have it */
  *out = f;
  return RW_OK;
}

rw_status rw_fibre_expansion(const char *name, double per_kelvin[2], rw_error *err)
{
  const char *me = "rw_fibre_expansion";
  if (name == NULL || per_kelvin == NULL)
    return rw_laminate_missing(me, name == NULL ? "name" : "per_kelvin", err);
  double along = 0, across = 0;
  const rw_laminate_wanted want[] = {{"expansion", &along}, {"expansion_across", &across}};
  rw_status status =
      rw_laminate_look_up(me, RW_FIBRE, name, want, sizeof want / sizeof want[0], err);
  if (status != RW_OK)
    return status;
  per_kelvin[0] = along;
  per_kelvin[1] = across;
  return RW_OK;
}

rw_status rw_matrix_find(const char *name, rw_matrix *out, rw_error *err)
{
  const char *me = "rw_matrix_find";
  if (name == NULL || out == NULL)
    return rw_laminate_missing(me, name == NULL ? "name" : "out", err);
  rw_matrix m = {0};
  const rw_laminate_wanted want[] = {
      {"density", &m.density}, {"E", &m.E}, {"nu", &m.nu}, {"strength", &m.strength}};
  rw_status status =
      rw_laminate_look_up(me, RW_RESIN, name, want, sizeof want / sizeof want[0], err);
  if (status == RW_OK)
    *out = m;
  return status;
}
