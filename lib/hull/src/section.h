/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One half of a station between two knuckles: a spline by chord length, read by arc length. */
#ifndef RW_HULL_SECTION_H
#define RW_HULL_SECTION_H

#include "hull_inside.h"

typedef struct hull_section {
  size_t n;
  double *t;       /* chord length up to each point */
  double *y, *z;   /* half-breadth, height */
  double *yt, *zt; /* slopes in t */
  double *arc;     /* arc length up to each point */
} hull_section;

/* Room for up to n points; NULL members where there is no memory. Free with free(s.t). */
hull_section hull_section_new(size_t n);
/* Lay the spline through n points, at least 2. */
rw_status hull_section_set(hull_section *s, const rw_offset *point, size_t n, rw_error *err);
/* Arc length of the whole. */
double hull_section_length(const hull_section *s);
/* A point of the curve with its unit tangent. */
typedef struct hull_section_point {
  double y, z, along_y, along_z;
} hull_section_point;
/* The point `length` along from the start; `hint` is the piece to start looking in, kept up. */
hull_section_point hull_section_at(const hull_section *s, double length, size_t *hint);

#endif
