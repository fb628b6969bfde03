/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stacks of plies, for the files that read them: laminate_plies.c, laminate_cloths.c and
 * laminate_cores.c make them, laminate_loads.c, laminate_free.c, panel.c and strip.c hold methods
 * that laminate.c lists, repair.c joins and mends them.
 */
#ifndef RWL_LAMINATE_FILE_H
#define RWL_LAMINATE_FILE_H

#include "objects.h"

enum { RWL_WOOD, RWL_SKIN, RWL_GROUPS }; /* what is wrong together: wood and cores, cloth */

/* What a layer of the library's stack came from. */
typedef struct rwl_layer {
  size_t group;                /* RWL_WOOD or RWL_SKIN */
  size_t listed;               /* place in the list of plies, from 0 */
  size_t veneer;               /* of plywood, from 1 on; else 0 */
  double spread;               /* relative standard deviation of its moduli */
  rw_strength_spread strength; /* RWL_WOOD: of its strengths */
  char name[RWL_NAME];
  rw_cloth cloth; /* RWL_SKIN: cloth, fibre and fibre share */
  rw_fibre fibre;
  double share;
  double voids; /* share of air; NaN: not told */
  int crossed;  /* 1: warp and weft differ, yarns is used in place of fibre */
  rw_yarns yarns;
  double own[4]; /* 1/K by the tables: fibre (or warp) along and across, weft likewise; NaN:
                    the tables have none for `unknown` */
  char unknown[RWL_NAME];
  int core;   /* RWL_WOOD: 1 where it is a core by its data sheet, which has no cut */
  rw_cut cut; /* RWL_WOOD: cut and moisture */
  double moisture;
} rwl_layer;

typedef struct rwl_laminate {
  rw_stack stack;
  rw_stack_spread spread;
  double relative[RWL_GROUPS]; /* sd of the moduli of wood and of cloth */
  rw_strength_spread strength[RWL_GROUPS];
  double shear[3]; /* rw_stack_shear */
  rwl_warning warning;
  size_t n;
  rwl_layer *layer; /* of each ply; stands behind the plies */
  rw_ply ply[];
} rwl_laminate;

/* A solved panel, of panel.c; the laminate hangs on its user value. */
typedef struct rwl_bent {
  rw_bent_plate *bent;
  const rwl_laminate *of;
  rw_criterion criterion;
  rw_plate_failure failure;
  rwl_warning warning;
} rwl_bent;

#define RWL_CRITERIA "max_stress|tsai_wu|max_strain|tsai_hill"
#define RWL_WHY_NOT_APPROVAL                                                                      \
  " For comparing and shop planning only, not an approval: scantling rules, survey and licensed " \
  "practice decide, and strengths are good to a factor of two."
/* Fields of a load per width. */
#define RWL_LOAD_FIELDS                                                                           \
  RWL_MAY("Nx", RWL_QUANTITY, "N/m", "0 N/m", "pull along, per metre of width"),                  \
      RWL_MAY("Ny", RWL_QUANTITY, "N/m", "0 N/m", "pull across, per metre of length"),            \
      RWL_MAY("Nxy", RWL_QUANTITY, "N/m", "0 N/m", "shear in the plane, per metre"),              \
      RWL_MAY("Mx", RWL_QUANTITY, "N", "0 N",                                                     \
              "moment per metre of width (N m/m) that bends along; above 0 it stretches the "     \
              "inside"),                                                                          \
      RWL_MAY("My", RWL_QUANTITY, "N", "0 N", "moment that bends across, likewise"),              \
      RWL_MAY("Mxy", RWL_QUANTITY, "N", "0 N", "twisting moment, per metre")

extern const rwl_field rwl_load_fields[];
void rwl_get_load(lua_State *L, double load[6]);

extern const rwl_field rwl_laminate_fields[];
int rwl_laminate_make(lua_State *L);
/* Pushes a laminate with room for n plies; to be filled, and then finished. */
rwl_laminate *rwl_laminate_push(lua_State *L, size_t n);
void rwl_laminate_finish(lua_State *L, rwl_laminate *l);

/* What a listed ply is made of. */
enum {
  RWL_PLY_CLOTH = 1,
  RWL_PLY_FIBRES = 2,
  RWL_PLY_WOOD = 4,
  RWL_PLY_YARNS = 8,
  RWL_PLY_CORE = 16,
  RWL_PLY_WOVEN = RWL_PLY_CLOTH | RWL_PLY_FIBRES | RWL_PLY_YARNS
};

/* Bounds of a number of a ply, told in the unit a data sheet has. */
typedef struct rwl_bounds {
  const char *record, *field; /* "core." or "", and its field */
  const char *unit;
  double scale, low, high; /* SI per unit; bounds in the unit */
  const char *hint;
} rwl_bounds;
/* The field of ply i that stands open, in SI; `fallback` where it is not given. */
double rwl_get_bounded(lua_State *L, size_t i, const rwl_bounds *b, double fallback);
/* Throws where a number of ply i, in the unit of the bounds, is not within them. */
void rwl_check_bounds(lua_State *L, size_t i, const rwl_bounds *b, double x);

/* Ply i of the list, from 0: refuses its field; throws the library's error about it. */
int rwl_refuse_ply(lua_State *L, size_t i, const char *field, const char *wrong, const char *hint);
void rwl_throw_in_ply(lua_State *L, size_t i, rw_status status, rw_error *err);
/* From 0, of an argument such as "mass[2]"; `none` where there is no index. */
size_t rwl_index_in(const rw_error *err, size_t none);
/* A layer of a core, in laminate_cores.c. */
extern const rwl_field rwl_core_fields[];
void rwl_read_core(lua_State *L, size_t i, rwl_layer *layer, rw_ply *ply);
/* Refuses a core whose shear strength was not told. */
void rwl_need_core_strengths(lua_State *L, const rwl_laminate *l);
/* Which word names a group: the group, or RWL_GROUPS for cores alone and one more for wood and
 * cores together. */
enum { RWL_GROUP_WORDS = RWL_GROUPS + 2 };
size_t rwl_group_word(const rwl_laminate *l, size_t group);
/* A layer of cloth of any kind, in laminate_cloths.c. */
void rwl_read_cloth(lua_State *L, size_t i, int kind, rwl_layer *layer, rw_ply *ply,
                    rwl_warning *warning);

/* A cured resin of the tables, what all plies of cloth lie in. */
extern const char rwl_laminate_resin[];

/* Gives "ply[i]" of the library's stack the name of the listed ply it came from. */
void rwl_name_ply(const rwl_laminate *l, rw_error *err);

/* Sets factor, mode, ply, veneer, name and face of the table on the top of the stack; all but the
 * factor. */
void rwl_set_failure(lua_State *L, const rwl_laminate *l, const rw_first_failure *f);
void rwl_set_layer(lua_State *L, const rwl_laminate *l, const rw_first_failure *f);
void rwl_set_whole(lua_State *L, const char *name, size_t n);
/* Sets a table of three quantities by their names. */
void rwl_set_three(lua_State *L, const char *name, const char *const of[3], const char *unit,
                   const double x[3]);
const char *rwl_criterion_name(rw_criterion criterion);

/* Methods, in laminate_loads.c. */
extern const rwl_field rwl_first_failure_fields[];
extern const rwl_field rwl_shear_failure_fields[];
extern const rwl_field rwl_wrinkling_fields[];
extern const rwl_field rwl_hit_fields[];
extern const rwl_field rwl_faired_fields[];
int rwl_first_failure(lua_State *L);
int rwl_shear_failure(lua_State *L);
int rwl_wrinkling(lua_State *L);
int rwl_hit(lua_State *L);
int rwl_faired(lua_State *L);

/* Methods, in laminate_free.c. */
extern const rwl_field rwl_locked_in_fields[];
extern const rwl_field rwl_failure_fields[];
int rwl_locked_in(lua_State *L);
int rwl_failure(lua_State *L);

/* Sets a table of the strains x, y and xy. */
void rwl_set_strains(lua_State *L, const char *name, const double strain[3]);

/* Methods, in panel.c and strip.c. */
extern const rwl_field rwl_panel_fields[];
extern const rwl_field rwl_strip_fields[];
extern const rwl_field rwl_arch_fields[];
int rwl_panel(lua_State *L);
int rwl_strip(lua_State *L);
int rwl_arch(lua_State *L);

/* How well answers are known, in panel_spread.c: a method of a panel, and the field `spread` of
 * the table on the top of the stack. */
int rwl_panel_spread(lua_State *L);
void rwl_set_strip_spread(lua_State *L, const rwl_laminate *l, const rw_strip *strip,
                          const rw_strip_load *load, rw_criterion criterion);
void rwl_set_arch_spread(lua_State *L, const rwl_laminate *l, const rw_arch *arch, double pressure,
                         double crown, rw_criterion criterion);
#define RWL_OTHER                                                                                 \
  "{share: number, ply: integer, veneer: integer|nil, face: \"outer\"|\"inner\", name: string, "  \
  "mode: string}|nil"
#define RWL_STRIP_SPREAD "{deflection: range, strain: range, factor: range, other: " RWL_OTHER "}"

#endif
