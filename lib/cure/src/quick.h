/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One step of the cure as a Taylor series of order 5 with carried powers, for one law (LANE is
 * double) or for one law in each lane of a vector. To be included after
 *   LANE, BITS   the number and the integer of the same size,
 *   AS_BITS, AS_LANE  their reinterpretation, LESS(a, b) all bits set where a < b, else none,
 *   ANY(mask)    whether a mask has a bit set,
 *   SMALLER(a, b), GREATER(a, b)  lane by lane, b where they do not compare,
 *   QUICK(name)  the name a function gets, QUICK_FUNCTION its qualifiers.
 * Only + - * / and integer operations are used, so that a lane has the same bits whatever the
 * width of the registers is. */

/* exp(x) to about one unit in the last place; x is held within -700 to 700. */
QUICK_FUNCTION LANE QUICK(exp)(LANE x)
{
  const double magic = 0x1.8p52;
  const double ln2_high = 0x1.62e42fefa3800p-1, ln2_low = 0x1.ef35793c76730p-45;
  LANE most = 700 + 0 * x;
  x = SMALLER(GREATER(x, -most), most);
  LANE shifted = x * 0x1.71547652b82fep0 + magic;
  LANE n = shifted - magic;
  LANE r = (x - n * ln2_high) - n * ln2_low;
  LANE r2 = r * r, r4 = r2 * r2;
  /* 1/k! up to k = 13, in pairs */
  LANE low = (1.0 / 2 + r * (1.0 / 6)) + r2 * (1.0 / 24 + r * (1.0 / 120));
  LANE mid = (1.0 / 720 + r * (1.0 / 5040)) + r2 * (1.0 / 40320 + r * (1.0 / 362880));
  LANE top =
      (1.0 / 3628800 + r * (1.0 / 39916800)) + r2 * (1.0 / 479001600 + r * (1.0 / 6227020800));
  LANE value = 1 + (r + r2 * (low + r4 * (mid + r4 * top)));
  return AS_LANE(AS_BITS(value) + (AS_BITS(shifted) << 52));
}

/* ln(x) to about one unit in the last place; x normal and above zero. */
QUICK_FUNCTION LANE QUICK(log)(LANE x)
{
  const double ln2_high = 0x1.62e42fefa3800p-1, ln2_low = 0x1.ef35793c76730p-45;
  /* x = 2^k z with z in [1/sqrt 2, sqrt 2): the constant brings sqrt(1/2) to a whole power. */
  BITS bits = AS_BITS(x) + (0x3ff0000000000000LL - 0x3fe6a09e667f3bcdLL);
  LANE k = AS_LANE(((bits >> 52) & 0x7ffLL) | 0x4330000000000000LL) - (0x1p52 + 1023);
  LANE z = AS_LANE((bits & 0x000fffffffffffffLL) + 0x3fe6a09e667f3bcdLL);
  LANE f = z - 1, s = f / (2 + f), s2 = s * s, s4 = s2 * s2;
  /* 2/(2i + 1) for i = 1 to 10 */
  LANE fourths =
      s4 * (2.0 / 5 + s4 * (2.0 / 9 + s4 * (2.0 / 13 + s4 * (2.0 / 17 + s4 * (2.0 / 21)))));
  LANE seconds =
      s2 * (2.0 / 3 + s4 * (2.0 / 7 + s4 * (2.0 / 11 + s4 * (2.0 / 15 + s4 * (2.0 / 19)))));
  LANE half = 0.5 * f * f;
  return k * ln2_high - ((half - (s * (half + (fourths + seconds)) + k * ln2_low)) - f);
}

/* x^y for x > 0. */
QUICK_FUNCTION LANE QUICK(pow)(LANE x, LANE y)
{
  return QUICK(exp)(y * QUICK(log)(x));
}

enum { QUICK(LAST) = 5, QUICK(PAIRS) = 15 };

/* What does not change along a walk. Where a law has no such factor, limit is 2 with p = 0, and
 * damped is 0 with C = 0. The tables hold (s + 1) k/j - 1 for each power s, j from 1 to 5 and k
 * from 1 to j. */
typedef struct QUICK(law) {
  LANE k1, c1, k2, c2, m, n, limit, p, T_ref, C, ac0, acT, damped;
  int powered, limited, diffuse; /* whether any lane has k2, p, C */
  LANE of_m[QUICK(PAIRS)], of_n[QUICK(PAIRS)], of_p[QUICK(PAIRS)];
} QUICK(law);

/* Fills the tables. */
QUICK_FUNCTION void QUICK(prepare)(QUICK(law) * l)
{
  for (int j = 1, i = 0; j <= QUICK(LAST); j++)
    for (int k = 1; k <= j; k++, i++) {
      double share = (double)k / j;
      l->of_m[i] = (l->m + 1) * share - 1;
      l->of_n[i] = (l->n + 1) * share - 1;
      l->of_p[i] = (l->p + 1) * share - 1;
    }
}

/* State and the powers carried along with it: a^m, (1-a)^n, (limit-a)^p, damped exp(C(a-ac)). */
typedef struct QUICK(state) {
  LANE a, p, w, x, e;
} QUICK(state);

/* The powers afresh. */
QUICK_FUNCTION void QUICK(refresh)(const QUICK(law) * l, LANE T, QUICK(state) * y)
{
  if (l->powered)
    y->p = QUICK(pow)(y->a, l->m);
  y->w = QUICK(pow)(1 - y->a, l->n);
  if (l->limited)
    y->x = QUICK(pow)(l->limit - y->a, l->p);
  if (l->diffuse)
    y->e = l->damped * QUICK(exp)(l->C * (y->a - l->ac0 - l->acT * (T - l->T_ref)));
}

/* h k exp(-c(1/T - 1/T_ref)) over a step on which T = T0 (1 + rise tau), to the fourth power. */
QUICK_FUNCTION void QUICK(arrhenius)(LANE k0, LANE c_over_T, LANE rise, LANE out[5])
{
  LANE g0 = c_over_T * rise, g1 = -2 * rise * g0, g2 = -1.5 * rise * g1;
  LANE g3 = -(4.0 / 3) * rise * g2;
  out[0] = k0;
  out[1] = g0 * k0;
  out[2] = (g0 * out[1] + g1 * k0) * 0.5;
  out[3] = (g0 * out[2] + g1 * out[1] + g2 * k0) * (1.0 / 3);
  out[4] = (g0 * out[3] + g1 * out[2] + g2 * out[1] + g3 * k0) * 0.25;
}

/* h k1 and h k2 over a step. */
typedef struct QUICK(constants) {
  LANE K1[5], K2[5];
} QUICK(constants);

/* The constants of a step of length h from T0, on which the temperature rises by `warming`. */
QUICK_FUNCTION void QUICK(ahead)(const QUICK(law) * l, LANE h, LANE T0, LANE warming,
                                 QUICK(constants) * out)
{
  LANE inverse = 1 / T0, reference = 1 / l->T_ref - inverse, rise = warming * inverse;
  QUICK(arrhenius)(h * l->k1 * QUICK(exp)(l->c1 * reference), l->c1 * inverse, rise, out->K1);
  if (l->powered)
    QUICK(arrhenius)(h * l->k2 * QUICK(exp)(l->c2 * reference), l->c2 * inverse, rise, out->K2);
  for (int j = 0; j < 5 && !l->powered; j++)
    out->K2[j] = 0 * h;
}

/* The series of one step. Coefficient j of everything is one part that holds without c[j], and a
 * slope, the same for all j, times c[j]: so the next coefficient of a waits for c[j] through one
 * product and one sum only. */
typedef struct QUICK(terms) {
  LANE c[6];                         /* of a */
  LANE s[5], v[5], y[5];             /* sum of the constants, times w, times x */
  LANE p[6], w[6], x[6], e[6], d[5]; /* as in the state; 1/(1 + e) */
  LANE part_p[6], part_w[6], part_x[6], part_e[6];
  LANE qa[6], qb[6], qx[6]; /* c over a, over a - 1, over a - limit */
  LANE qe[6];               /* j times coefficient j of a - ac */
  LANE per_a, per_b, per_x;
  LANE eased; /* rise of ac */
  LANE slope_p, slope_w, slope_x, slope_e, slope_s, slope_v, slope_y, slope_d, slope_r;
} QUICK(terms);

/* Coefficient j of a power without its part in c[j]: the base is base0 + sum of c_i tau^i, q holds
 * c/base0. */
QUICK_FUNCTION LANE QUICK(power_part)(const LANE *table, const LANE q[6], const LANE y[6], int j)
{
  table += j * (j - 1) / 2 - 1;
  LANE sum = table[1] * (q[1] * y[j - 1]);
  for (int k = 2; k < j; k++)
    sum += table[k] * (q[k] * y[j - k]);
  return sum;
}

/* Sum of x_i y_{j-i} for i from 1 to j - 1, added to `more`. */
QUICK_FUNCTION LANE QUICK(middle)(LANE more, const LANE *x, const LANE *y, int j)
{
  for (int i = 1; i < j; i++)
    more += x[i] * y[j - i];
  return more;
}

/* What everything begins with, and the slopes. */
QUICK_FUNCTION void QUICK(first)(const QUICK(law) * l, const QUICK(constants) * k,
                                 const QUICK(state) * y, LANE warming, QUICK(terms) * q)
{
  q->c[0] = y->a;
  q->p[0] = y->p;
  q->w[0] = y->w;
  q->x[0] = y->x;
  q->e[0] = y->e;
  q->s[0] = k->K1[0];
  q->slope_s = 0 * y->a;
  if (l->powered) {
    q->per_a = 1 / y->a;
    q->slope_p = l->m * q->per_a * y->p;
    q->slope_s = k->K2[0] * q->slope_p;
    q->s[0] += k->K2[0] * y->p;
  }
  q->per_b = 1 / (y->a - 1);
  q->slope_w = l->n * q->per_b * y->w;
  q->v[0] = q->s[0] * y->w;
  q->slope_v = q->slope_s * y->w + q->s[0] * q->slope_w;
  LANE rate = q->v[0];
  q->slope_r = q->slope_v;
  if (l->limited) {
    q->per_x = 1 / (y->a - l->limit);
    q->slope_x = l->p * q->per_x * y->x;
    q->y[0] = rate = q->v[0] * y->x;
    q->slope_y = q->slope_r = q->slope_v * y->x + q->v[0] * q->slope_x;
  }
  if (l->diffuse) {
    q->d[0] = 1 / (1 + y->e);
    q->eased = l->acT * warming;
    q->slope_e = l->C * y->e;
    q->slope_d = -q->d[0] * q->d[0] * q->slope_e;
    q->slope_r = q->slope_r * q->d[0] + rate * q->slope_d;
    rate = rate * q->d[0];
  }
  q->c[1] = rate;
}

/* Coefficient j >= 1 of what is carried. */
QUICK_FUNCTION void QUICK(powers)(const QUICK(law) * l, QUICK(terms) * q, int j)
{
  LANE c = q->c[j], zero = 0 * c;
  if (l->powered) {
    q->qa[j] = c * q->per_a;
    q->part_p[j] = j > 1 ? QUICK(power_part)(l->of_m, q->qa, q->p, j) : zero;
    q->p[j] = q->part_p[j] + q->slope_p * c;
  }
  q->qb[j] = c * q->per_b;
  q->part_w[j] = j > 1 ? QUICK(power_part)(l->of_n, q->qb, q->w, j) : zero;
  q->w[j] = q->part_w[j] + q->slope_w * c;
  if (l->limited) {
    q->qx[j] = c * q->per_x;
    q->part_x[j] = j > 1 ? QUICK(power_part)(l->of_p, q->qx, q->x, j) : zero;
    q->x[j] = q->part_x[j] + q->slope_x * c;
  }
  if (l->diffuse) {
    q->qe[j] = j > 1 ? (double)j * c : c - q->eased;
    q->part_e[j] =
        j > 1 ? l->C * QUICK(middle)(zero, q->qe, q->e, j) * (1.0 / j) : -q->eased * q->slope_e;
    q->e[j] = q->part_e[j] + q->slope_e * c;
  }
}

/* Coefficient j + 1 of a. */
QUICK_FUNCTION void QUICK(term)(const QUICK(law) * l, const QUICK(constants) * k, QUICK(terms) * q,
                                int j)
{
  LANE c = q->c[j], s = k->K1[j];
  if (l->powered)
    s = QUICK(middle)(s + k->K2[j] * q->p[0] + k->K2[0] * q->part_p[j], k->K2, q->p, j);
  LANE part = QUICK(middle)(s * q->w[0] + q->s[0] * q->part_w[j], q->s, q->w, j);
  q->s[j] = s + q->slope_s * c;
  q->v[j] = part + q->slope_v * c;
  if (l->limited) {
    part = QUICK(middle)(part * q->x[0] + q->v[0] * q->part_x[j], q->v, q->x, j);
    q->y[j] = part + q->slope_y * c;
  }
  if (l->diffuse) {
    const LANE *undamped = l->limited ? q->y : q->v;
    LANE less = -q->d[0] * QUICK(middle)(q->part_e[j] * q->d[0], q->e, q->d, j);
    part = QUICK(middle)(part * q->d[0] + undamped[0] * less, undamped, q->d, j);
    q->d[j] = less + q->slope_d * c;
  }
  q->c[j + 1] = (part + q->slope_r * c) * (1.0 / (j + 1));
}

QUICK_FUNCTION LANE QUICK(sum)(const LANE *c, int order)
{
  LANE sum = c[0];
  for (int i = 1; i <= order; i++)
    sum += c[i];
  return sum;
}

/* What a step is held to: a member of the series may be `tolerance`, lessened by the rate times
 * care where that is below one. */
typedef struct QUICK(demand) {
  double tolerance;
  LANE care;
} QUICK(demand);

/* Whether members i - 1 and i of a series are small enough for i to be the last. */
QUICK_FUNCTION int QUICK(enough)(const LANE *c, int i, LANE allowed)
{
  LANE before = 0.03 * c[i - 1];
  return !ANY(LESS(allowed, c[i]) | LESS(allowed, -c[i]) | LESS(allowed, before) |
              LESS(allowed, -before));
}

/* The state at the end of a step of a given order. */
QUICK_FUNCTION int QUICK(arrive)(const QUICK(law) * l, const QUICK(terms) * q, int order,
                                 QUICK(state) * next)
{
  next->a = QUICK(sum)(q->c, order);
  next->w = QUICK(sum)(q->w, order);
  if (l->powered)
    next->p = QUICK(sum)(q->p, order);
  if (l->limited)
    next->x = QUICK(sum)(q->x, order);
  if (l->diffuse)
    next->e = QUICK(sum)(q->e, order);
  return order;
}

/* Coefficients c of a over a step of length h with its constants, on which the temperature rises
 * by `warming`; `next` is the state at its end. Answers the order that was enough, or 0. */
QUICK_FUNCTION int QUICK(step)(const QUICK(law) * l, const QUICK(constants) * k,
                               const QUICK(state) * y, const QUICK(demand) * d, double h,
                               LANE warming, LANE *c, QUICK(state) * next)
{
  QUICK(terms) q;
  LANE zero = 0 * warming;
  *next = *y;
  QUICK(first)(l, k, y, warming, &q);
  LANE share = q.c[1] * (1 / h) * d->care;
  LANE allowed = GREATER(d->tolerance * SMALLER(share, zero + 1), 1e-16 * y->a);
  QUICK(powers)(l, &q, 1);
  QUICK(term)(l, k, &q, 1);
  QUICK(powers)(l, &q, 2);
  QUICK(term)(l, k, &q, 2);
  QUICK(powers)(l, &q, 3);
  int order = 0;
  if (QUICK(enough)(q.c, 3, allowed)) {
    order = QUICK(arrive)(l, &q, 3, next);
  } else {
    QUICK(term)(l, k, &q, 3);
    QUICK(powers)(l, &q, 4);
    if (QUICK(enough)(q.c, 4, allowed)) {
      order = QUICK(arrive)(l, &q, 4, next);
    } else {
      QUICK(term)(l, k, &q, 4);
      QUICK(powers)(l, &q, 5);
      if (QUICK(enough)(q.c, 5, allowed))
        order = QUICK(arrive)(l, &q, 5, next);
    }
  }
  for (int i = 0; i <= QUICK(LAST); i++)
    c[i] = i <= order ? q.c[i] : zero;
  return order;
}

/* Whether a step was so long that the powers at its end are to be computed afresh, their series
 * being cut too early for them. */
QUICK_FUNCTION int QUICK(strained)(const QUICK(law) * l, const QUICK(state) * y,
                                   const QUICK(state) * end, const LANE *c, LANE warming)
{
  LANE gone = GREATER(c[1], end->a - y->a);
  BITS far = LESS(0.05 - 0.05 * y->a, gone);
  if (l->powered)
    far |= LESS(0.05 * y->a, gone);
  if (l->limited)
    far |= LESS(0.05 * (l->limit - y->a), gone);
  if (l->diffuse) {
    LANE eased = l->C * l->acT * warming;
    far |= LESS(0.1 + 0 * gone, l->C * gone + GREATER(eased, -eased));
  }
  return ANY(far);
}
