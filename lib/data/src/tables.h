/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Between data.c and the tables that lib/cmake/embed_materials.lua writes at build time. */
#ifndef RW_DATA_TABLES_H
#define RW_DATA_TABLES_H

#include <resinwright/data.h>

/* The generator refuses tables that go beyond these, and a kind without materials. */
enum { RW_MATERIAL_KINDS = 4, RW_MOST_MATERIALS = 96, RW_MOST_PROPERTIES = 64 };

typedef struct rw_material_list {
  size_t count;
  const rw_material *material;
} rw_material_list;

/* By rw_material_kind. */
extern const rw_material_list rw_material_lists[RW_MATERIAL_KINDS];

#endif
