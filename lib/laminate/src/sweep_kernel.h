/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stacks worked out one per lane, for one kind of processor: to be included after wide.h. Only
 * + - * / and square roots, each lane by itself: the same bits in every width. */
#define QUICK_FUNCTION LANES_TARGET __attribute__((always_inline)) static inline
typedef double QUICK(many) __attribute__((vector_size(8 * WIDTH)));
typedef unsigned long long QUICK(bits) __attribute__((vector_size(8 * WIDTH)));

/* The stacks in hand. */
typedef struct QUICK(group) {
  const double *ply[RW_SWEEP_PLIES][WIDTH]; /* entries, a ply of no thickness where none is left */
  size_t plies;                             /* of the stack that has most */
  LANE t[RW_SWEEP_PLIES];
  LANE thickness;
  LANE core, inner; /* the first ply of the core and of the inner face, counted from 0 */
  LANE M[6][6];     /* lower triangle: [A B; B D], then its Cholesky factor with 1/diagonal */
} QUICK(group);

/* The number at the same place in the entry of each lane. */
QUICK_FUNCTION LANE QUICK(gather)(const double *const ply[WIDTH], size_t at)
{
  double a[WIDTH];
  LANE v;
  for (size_t i = 0; i < WIDTH; i++)
    a[i] = ply[i][at];
  memcpy(&v, a, sizeof v);
  return v;
}

/* Takes up stacks; a group that is not full repeats its last one. */
LANES_TARGET static void QUICK(take)(QUICK(group) * g, const sweep_job *j, size_t first,
                                     size_t end)
{
  const double *none = (const double *)&j->s->entry[0];
  size_t least = RW_SWEEP_PLIES, plies[WIDTH];
  double core[WIDTH], inner[WIDTH];
  g->plies = 0;
  for (size_t i = 0; i < WIDTH; i++) {
    size_t at = first + i < end ? first + i : end - 1;
    sweep_plies p;
    rw_sweep_entries(j->s, j->number != NULL ? j->number[at] : j->first + at, &p);
    plies[i] = p.n;
    core[i] = (double)p.core;
    inner[i] = (double)p.inner;
    for (size_t k = 0; k < plies[i]; k++)
      g->ply[k][i] = (const double *)&j->s->entry[p.entry[k]];
    g->plies = plies[i] > g->plies ? plies[i] : g->plies;
    least = plies[i] < least ? plies[i] : least;
  }
  for (size_t i = 0; i < WIDTH && least < g->plies; i++)
    for (size_t k = plies[i]; k < g->plies; k++)
      g->ply[k][i] = none;
  memcpy(&g->core, core, sizeof core);
  memcpy(&g->inner, inner, sizeof inner);
}

/* [A B; B D] (17). */
QUICK_FUNCTION void QUICK(assemble)(QUICK(group) * g)
{
  LANE zero = {0}, A[6], B[6], D[6], z = zero;
  for (size_t i = 0; i < 6; i++)
    A[i] = B[i] = D[i] = zero;
  for (size_t k = 0; k < g->plies; k++)
    z += g->t[k] = QUICK(gather)(g->ply[k], AT_T);
  g->thickness = z;
  z = -0.5 * z;
  for (size_t k = 0; k < g->plies; k++) {
    LANE t = g->t[k], middle = z + 0.5 * t, first = t * middle;
    LANE second = first * middle + (1.0 / 12) * t * t * t;
    z += t;
    for (size_t i = 0; i < 6; i++) {
      LANE Q = QUICK(gather)(g->ply[k], AT_Q + i);
      A[i] += t * Q;
      B[i] += first * Q;
      D[i] += second * Q;
    }
  }
  static const size_t of[3][3] = {{0, 1, 3}, {1, 2, 4}, {3, 4, 5}};
  for (size_t r = 0; r < 3; r++)
    for (size_t c = 0; c < 3; c++) {
      g->M[r][c] = A[of[r][c]];
      g->M[r + 3][c] = B[of[r][c]];
      g->M[r + 3][c + 3] = D[of[r][c]];
    }
}

/* Lanes that keep less than this of a number on the diagonal have lost their digits. */
QUICK_FUNCTION BITS QUICK(factor)(LANE M[6][6])
{
  const double least = 1e-12;
  BITS lost = {0};
  for (size_t j = 0; j < 6; j++) {
    LANE whole = M[j][j];
    for (size_t k = 0; k < j; k++)
      M[j][j] -= M[j][k] * M[j][k];
    lost |= ~LESS(least * whole, M[j][j]);
    M[j][j] = 1 / ROOT(M[j][j]);
    for (size_t i = j + 1; i < 6; i++) {
      for (size_t k = 0; k < j; k++)
        M[i][j] -= M[i][k] * M[j][k];
      M[i][j] *= M[j][j];
    }
  }
  return lost;
}

/* Strains and curvatures under a load. */
QUICK_FUNCTION void QUICK(solve)(LANE M[6][6], const double load[6], LANE e[6])
{
  LANE zero = {0};
  for (size_t i = 0; i < 6; i++) {
    e[i] = zero + load[i];
    for (size_t k = 0; k < i; k++)
      e[i] -= M[i][k] * e[k];
    e[i] *= M[i][i];
  }
  for (size_t i = 6; i-- > 0;) {
    for (size_t k = i + 1; k < 6; k++)
      e[i] -= M[k][i] * e[k];
    e[i] *= M[i][i];
  }
}

/* One over a number on the diagonal of the inverse: that is the square of a column of the factor's
 * own inverse. */
QUICK_FUNCTION LANE QUICK(stiffness)(LANE M[6][6], size_t j)
{
  LANE y[6], sum = {0};
  y[j] = M[j][j];
  sum = y[j] * y[j];
  for (size_t i = j + 1; i < 6; i++) {
    y[i] = -M[i][j] * y[j];
    for (size_t k = j + 1; k < i; k++)
      y[i] -= M[i][k] * y[k];
    y[i] *= M[i][i];
    sum += y[i] * y[i];
  }
  return 1 / sum;
}

/* Twice the inverse of the load factor of one face of a ply (182). */
QUICK_FUNCTION LANE QUICK(strained)(const LANE R[6], const LANE q[3], const LANE e[6], LANE z)
{
  LANE x = e[0] + z * e[3], y = e[1] + z * e[4], s = e[2] + z * e[5];
  LANE u = R[0] * x + R[1] * y + R[2] * s, v = R[3] * y + R[4] * s, w = R[5] * s;
  LANE b = q[0] * x + q[1] * y + q[2] * s, a = u * u + v * v + w * w;
  return b + ROOT(b * b + 4 * a);
}

/* Lanes whose ply k is one of those asked. */
QUICK_FUNCTION BITS QUICK(asked)(const QUICK(group) * g, size_t k, unsigned among)
{
  LANE at = {0};
  BITS none = {0}, outer, core;
  at += (double)k;
  outer = LESS(at, g->core);
  core = LESS(at, g->inner) & ~outer;
  return (outer & (none - (among & 1))) | (core & (none - (among >> 1 & 1))) |
         (~(outer | core) & (none - (among >> 2 & 1)));
}

/* Load factors of one load case. */
QUICK_FUNCTION LANE QUICK(failure)(const QUICK(group) * g, const LANE e[6], double size,
                                   unsigned among)
{
  LANE worst = {0}, z = -0.5 * g->thickness;
  for (size_t k = 0; k < g->plies; k++) {
    LANE R[6], q[3];
    for (size_t i = 0; i < 6; i++)
      R[i] = QUICK(gather)(g->ply[k], AT_R + i);
    for (size_t i = 0; i < 3; i++)
      q[i] = QUICK(gather)(g->ply[k], AT_G + i);
    LANE lower = QUICK(strained)(R, q, e, z);
    z += g->t[k];
    LANE upper = QUICK(strained)(R, q, e, z);
    lower = GREATER(lower, upper);
    if (among != RW_AMONG_ALL)
      lower = AS_LANE(AS_BITS(lower) & QUICK(asked)(g, k, among));
    worst = GREATER(worst, lower);
  }
  return 2 / size / worst;
}

/* Writes what is wanted of `count` lanes. */
QUICK_FUNCTION void QUICK(put)(double *to, LANE value, size_t first, size_t count)
{
  if (count == WIDTH) {
    memcpy(to + first, &value, sizeof value);
    return;
  }
  for (size_t i = 0; i < count; i++)
    to[first + i] = value[i];
}

/* Mass, resin and cost are sums over the plies. */
QUICK_FUNCTION void QUICK(sums)(const QUICK(group) * g, const sweep_job *j, size_t first,
                                size_t count)
{
  static const struct {
    int measure;
    size_t at;
  } of[] = {{RW_MEASURE_MASS, AT_MASS}, {RW_MEASURE_RESIN, AT_RESIN}, {RW_MEASURE_COST, AT_COST}};
  for (size_t m = 0; m < 3; m++) {
    if (j->value[of[m].measure] == NULL)
      continue;
    LANE sum = {0};
    for (size_t k = 0; k < g->plies; k++)
      sum += QUICK(gather)(g->ply[k], of[m].at);
    QUICK(put)(j->value[of[m].measure], sum, first, count);
  }
}

LANES_TARGET static int QUICK(stacks)(const sweep_job *j, size_t first, size_t end)
{
  static const struct {
    int measure;
    size_t at;
  } stiff[] = {{RW_MEASURE_EAX, 0}, {RW_MEASURE_EAY, 1}, {RW_MEASURE_EIX, 3}, {RW_MEASURE_EIY, 4}};
  QUICK(group) g;
  int fine = 1;
  for (; first < end; first += WIDTH) {
    size_t count = end - first < WIDTH ? end - first : WIDTH;
    QUICK(take)(&g, j, first, end);
    QUICK(assemble)(&g);
    BITS lost = QUICK(factor)(g.M);
    QUICK(sums)(&g, j, first, count);
    if (j->value[RW_MEASURE_THICKNESS] != NULL)
      QUICK(put)(j->value[RW_MEASURE_THICKNESS], g.thickness, first, count);
    for (size_t m = 0; m < 4; m++)
      if (j->value[stiff[m].measure] != NULL)
        QUICK(put)
    (j->value[stiff[m].measure], QUICK(stiffness)(g.M, stiff[m].at), first, count);
    LANE e[6];
    size_t solved = RW_SWEEP_LOADS; /* the load of e: cases may differ in their plies alone */
    for (size_t c = 0; c < j->s->loads; c++) {
      if (j->value[RW_MEASURE_FACTOR + c] == NULL)
        continue;
      if (j->s->alike[c] != solved)
        QUICK(solve)(g.M, j->s->load[c], e);
      solved = j->s->alike[c];
      QUICK(put)
      (j->value[RW_MEASURE_FACTOR + c], QUICK(failure)(&g, e, j->s->size[c], j->s->among[c]),
       first, count);
    }
    for (size_t i = 0; i < count; i++)
      if (lost[i] != 0)
        fine = unsolved(j, first + i);
  }
  return fine;
}

#undef QUICK_FUNCTION
