/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared inside the room: refusals and the mechanics behind the checked entrances. */
#ifndef RW_LAMINATE_COMMON_H
#define RW_LAMINATE_COMMON_H

#include <resinwright/data.h>
#include <resinwright/laminate.h>

/* RW_OK for a finite number above zero. */
rw_status rw_laminate_positive(double value, const char *function, const char *argument,
                               const char *unit, const char *hint, rw_error *err);
/* RW_ERR_ARGUMENT for an argument that is NULL. */
rw_status rw_laminate_missing(const char *function, const char *argument, rw_error *err);
/* Passes on what a lower room returned; a refusal's record then names the function called here. */
rw_status rw_laminate_in_name_of(const char *function, rw_status status, rw_error *err);
/* rw_lamina_check in another function's name; prefix stands before the field, "" or "ply[2].". */
rw_status rw_laminate_lamina(const rw_lamina *m, const char *function, const char *prefix,
                             rw_error *err);
/* A fibre, with a prefix like that of rw_laminate_lamina, and a cured resin "m". */
rw_status rw_laminate_fibre(const rw_fibre *f, const char *function, const char *prefix,
                            rw_error *err);
rw_status rw_laminate_matrix(const rw_matrix *m, const char *function, rw_error *err);
/* n fibres "NAME[i]." and their masses "MASS[i]", from 1. */
rw_status rw_laminate_fibres(const rw_fibre *f, const char *name, const double *mass,
                             const char *mass_name, size_t n, const char *function, rw_error *err);
/* Sd of a ply's moduli from that of the model and what the fibre share's does to one modulus;
 * `poorer` is that modulus with rw_laminate_less of the fibre. */
double rw_laminate_ply_spread(double model, double modulus, double poorer, rw_value volume_share);
extern const double rw_laminate_less;
rw_status rw_laminate_angle(double angle, const char *function, const char *argument,
                            rw_error *err);
/* Every ply of a stack, and that there are 1 to 200. */
rw_status rw_laminate_plies(const rw_ply *ply, size_t n, const char *function, rw_error *err);
/* A ply's number and a height within it, -1 to 1. */
rw_status rw_laminate_place(size_t n, size_t index, double place, const char *function,
                            rw_error *err);
/* A property wanted from a material, and where it goes. */
typedef struct rw_laminate_wanted {
  const char *name;
  double *to;
} rw_laminate_wanted;
/* Reads n properties of a material of the tables. */
rw_status rw_laminate_look_up(const char *function, rw_material_kind kind, const char *name,
                              const rw_laminate_wanted *want, size_t n, rw_error *err);

/* A modulus of the thickness, or what stands for it where it is 0. */
double rw_laminate_known(double modulus, double other);
/* Reduced stiffness of a lamina that was checked. */
void rw_laminate_stiffness(const rw_lamina *m, double angle, double q[9]);
/* Height of the middle of ply `index` over the middle of the stack. */
double rw_laminate_height(const rw_ply *ply, size_t n, size_t index);
/* Stress at height z in a ply that was checked. */
void rw_laminate_stress(const rw_ply *p, double z, const double strain[6], double global[3],
                        double local[3]);
/* The strength that a stress of this sign meets: k 0 along, 1 across, 2 in shear. */
double rw_laminate_bears(const rw_lamina *m, size_t k, double sign);
/* The strengths of a lamina that has an Xt, with a prefix like that of rw_laminate_lamina. */
rw_status rw_laminate_strength(const rw_lamina *m, const char *function, const char *prefix,
                               rw_error *err);
/* A criterion, and strengths it can work with in every ply that has an Xt, at least one. */
rw_status rw_laminate_strengths(const rw_ply *ply, size_t n, rw_criterion criterion,
                                const char *function, rw_error *err);
/* A load that is finite and not zero. */
rw_status rw_laminate_load(const double load[6], const char *function, rw_error *err);
/* rw_stack_first_failure behind its checks. */
rw_first_failure rw_laminate_first(const rw_ply *ply, size_t n, const rw_stack *s,
                                   const double load[6], rw_criterion criterion);

/* A free strain, not a coefficient or a per cent in its place. */
rw_status rw_laminate_own(double value, const char *function, const char *argument, rw_error *err);
/* Free strain along and across a unidirectional ply of fibre share v that was checked. */
void rw_laminate_schapery(const rw_fibre *f, const rw_matrix *m, double v, const double own[2],
                          double resin, const rw_lamina *ply, double free[2]);
/* Most plies of a stack, and most groups of them that are wrong together. */
enum { RW_LAMINATE_PLIES = 200, RW_LAMINATE_GROUPS = 16 };
/* Groups of plies and the relative sd of their moduli. */
rw_status rw_laminate_groups(size_t n, const size_t *group, const double *relative, size_t groups,
                             const char *function, rw_error *err);
/* All moduli times a factor. */
void rw_laminate_stiffen(rw_lamina *m, double factor);

/* The free strains of n plies. */
rw_status rw_laminate_free(const double *free, size_t n, const char *function, rw_error *err);
/* What is left of mid-plane strains and curvatures when a ply's free strain is taken off. */
void rw_laminate_held(const rw_ply *p, const double free[3], const double strain[6],
                      double held[6]);

#endif
