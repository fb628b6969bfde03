/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared inside the room units. */
#ifndef RW_UNITS_PRIVATE_H
#define RW_UNITS_PRIVATE_H

#include <resinwright/text.h>
#include <resinwright/units.h>

/* How a name may be used. */
enum rwi_kind {
  RWI_ANYWHERE,
  RWI_SCALE, /* a temperature scale where it stands alone, a difference elsewhere */
  RWI_OUNCE  /* only per square yard, foot or inch */
};

/* One row of the table of names. */
struct rwi_name {
  const char *name;
  double factor;
  double offset;
  rw_dim dim;
  enum rwi_kind kind;
  const char *meaning;
};

extern const struct rwi_name rwi_names[];
extern const size_t rwi_names_count;

/* A unit that has been read. */
struct rwi_unit {
  double factor;
  double offset;
  rw_dim dim;
  const struct rwi_name *alone; /* the name where it is a single one to the power 1, or NULL */
};

/* The row of a name, or NULL. */
const struct rwi_name *rwi_find_name(const char *name, size_t n);

/* What to try instead of a name that is not known. */
void rwi_hint(const char *name, size_t n, char *hint, size_t size);
extern const char rwi_ounce_hint[];

/* Read the unit in text[from..to), columns counted from the start of text. */
rw_status rwi_unit_parse(const char *function, const char *text, size_t from, size_t to,
                         struct rwi_unit *out, rw_error *err);

/* A number in a unit, to SI and back. */
double rwi_to_si(double value, const struct rwi_unit *u);
double rwi_from_si(double si, const struct rwi_unit *u);

/* A usual unit, for sizes below a bound in SI. */
struct rwi_choice {
  double below;
  const char *unit;
};

enum { RWI_CHOICES = 5 };

/* A dimension that has a name, and the units people want to see it in; the last choice of a
 * system is bounded by infinity. Without US choices the metric ones hold. */
struct rwi_usage {
  rw_dim dim;
  const char *name;
  struct rwi_choice metric[RWI_CHOICES];
  struct rwi_choice us[RWI_CHOICES];
};

/* The row of a dimension, or NULL. */
const struct rwi_usage *rwi_find_usage(rw_dim dim);

/* The SI unit of a dimension, readable by rw_unit_read; returns its length. */
size_t rwi_si_unit(rw_dim dim, char *buffer, size_t size);

#endif
