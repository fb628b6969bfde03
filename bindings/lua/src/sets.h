/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every file that declares functions or types has one line here: X(name of its rwl_set). */
#ifndef RWL_SETS_H
#define RWL_SETS_H

#define RWL_SET_LIST(X)                                                                           \
  X(rwl_quantity_set)                                                                             \
  X(rwl_range_set)                                                                                \
  X(rwl_boatfile_set)                                                                             \
  X(rwl_material_set)                                                                             \
  X(rwl_air_set)                                                                                  \
  X(rwl_history_set)                                                                              \
  X(rwl_hull_set)                                                                                 \
  X(rwl_cloth_set)                                                                                \
  X(rwl_laminate_set)                                                                             \
  X(rwl_layups_set)                                                                               \
  X(rwl_panel_set)                                                                                \
  X(rwl_sealed_set)                                                                               \
  X(rwl_repair_set)                                                                               \
  X(rwl_law_set)                                                                                  \
  X(rwl_resin_set)                                                                                \
  X(rwl_cure_set)                                                                                 \
  X(rwl_coat_set)                                                                                 \
  X(rwl_ratio_set)                                                                                \
  X(rwl_log_set)                                                                                  \
  X(rwl_log_add_set)                                                                              \
  X(rwl_notes_set)                                                                                \
  X(rwl_heat_set)                                                                                 \
  X(rwl_plan_set)                                                                                 \
  X(rwl_plan_amounts_set)                                                                         \
  X(rwl_fit_runs_set)                                                                             \
  X(rwl_fit_energy_set)                                                                           \
  X(rwl_fit_panels_set)                                                                           \
  X(rwl_fit_intervals_set)                                                                        \
  X(rwl_module_set)

#endif
