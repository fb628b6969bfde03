/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shallow arches: force method, and snapping through by a series. */
#include "laminate_common.h"

#include <resinwright/num.h>
#include <resinwright/panel.h>
#include <resinwright/text.h>

#include <math.h>
#include <string.h>

static const char FUNCTION[] = "rw_arch_bend";
static const double pi = 3.14159265358979323846;

/* Stiffness about the height where a pull does not bend. */
typedef struct section {
  double EI, EA;
  double pull[6], bend[6]; /* Nx to Mxy for a unit pull at that height, and for a unit moment */
} section;

/* Free to curl: the inverse of [A B; B D] says it all. */
static void narrow(const rw_stack *s, section *out)
{
  double a = s->abd[0], b = s->abd[3], d = s->abd[21];
  *out = (section){.EI = 1 / d, .EA = 1 / (a - b * b / d)};
  out->pull[0] = 1;
  out->pull[3] = -b / d;
  out->bend[3] = 1;
}

/* No curvature but kx, forces in the plane along x only: M = B A^-1 N + (D - B A^-1 B) k. */
static rw_status wide(const rw_stack *s, section *out, rw_error *err)
{
  double inverse[9], bend[9], free_to_slide[9];
  for (size_t i = 0; i < 9; i++)
    free_to_slide[i] = s->abd[6 * (i / 3 + 3) + i % 3 + 3];
  rw_status status = rw_num_inverse(3, s->A, inverse, err);
  if (status == RW_OK)
    status = rw_num_inverse(3, free_to_slide, bend, err);
  if (status != RW_OK)
    return rw_laminate_in_name_of(FUNCTION, status, err);
  *out = (section){.EI = bend[0], .EA = 1 / inverse[0]};
  out->pull[0] = 1;
  for (size_t i = 0; i < 3; i++) {
    out->bend[i + 3] = bend[3 * i] / bend[0];
    for (size_t j = 0; j < 3; j++)
      out->pull[i + 3] += s->B[3 * i + j] * inverse[3 * j];
  }
  return RW_OK;
}

/* The arch and its loads; y = 4 rise x (L - x)/L^2. */
typedef struct frame {
  double L, f, q, P;
  double thrust, end;
} frame;

static double moment_at(const frame *a, double x)
{
  double nearer = fmin(x, a->L - x);
  return a->q * x * (a->L - x) / 2 + a->P * nearer / 2 -
         a->thrust * 4 * a->f * x * (a->L - x) / (a->L * a->L) + a->end;
}

/* Thrust and end moment: no spreading of the ends, and no turning where they are fixed. */
static void hold_ends(frame *a, int fixed, const section *s)
{
  double L = a->L, f = a->f;
  double area = a->q * L * L * L / 12 + a->P * L * L / 8;               /* of M0 */
  double lever = a->q * f * L * L * L / 15 + 5 * a->P * f * L * L / 48; /* M0 times y */
  double shortening = L * s->EI / s->EA;
  if (!fixed) {
    a->thrust = lever / (8 * f * f * L / 15 + shortening);
    return;
  }
  double left = a->q * f * L * L * L / 90 + a->P * f * L * L / 48;
  a->thrust = left / (4 * f * f * L / 45 + shortening);
  a->end = a->thrust * 2 * f / 3 - area / L;
}

/* By virtual work with a unit load at the crown of the arch on a roller. */
static double crown_deflection(const frame *a, double EI)
{
  double L = a->L;
  double simple = 5 * a->q * L * L * L * L / 384 + a->P * L * L * L / 48;
  return (simple - a->thrust * 5 * a->f * L * L / 48 + a->end * L * L / 8) / EI;
}

/* Greatest moment by size: at an end, the crown or between them, where the shear force vanishes.
 */
static double worst_place(const frame *a)
{
  double L = a->L, slope = 4 * a->thrust * a->f / (L * L) - a->q / 2;
  double place[3] = {0, L / 2, L / 2};
  if (slope != 0)
    place[2] = L / 2 - a->P / (4 * slope);
  if (!(place[2] > 0 && place[2] < L / 2))
    place[2] = L / 2;
  double worst = place[0];
  for (size_t i = 1; i < 3; i++)
    if (fabs(moment_at(a, place[i])) > fabs(moment_at(a, worst)))
      worst = place[i];
  return worst;
}

/* Snapping through. With span and stiffness 1 the deflection is a sum of c_k w_k, w_k = sin (k x)
 * or 1 - cos (k x), whose bending and stretching energies don't mix: c_k (K - H G) = load F - H g
 * for a thrust H. What the arch shortens by makes a quadratic equation for the load at each H. */
enum { SHAPES = 30, STEPS = 3001 };
typedef struct shapes {
  double K[SHAPES], G[SHAPES], F[SHAPES], g[SHAPES];
} shapes;

static void make_shapes(double rise, double q, double P, int fixed, shapes *s)
{
  for (size_t i = 0; i < SHAPES; i++) {
    double k = fixed ? 2 * pi * (double)(i + 1) : pi * (double)(2 * i + 1);
    double top = i % 2 == 0 ? 1 : -1;
    s->K[i] = k * k * k * k / 2;
    s->G[i] = k * k / 2;
    s->g[i] = fixed ? 8 * rise : 16 * rise / k;
    s->F[i] = fixed ? q + P * (1 + top) : 2 * q / k + P * top;
  }
}

/* Both loads that keep the arch in balance at thrust H; 0 where there are none. */
static int loads_at(const shapes *s, double H, double EA, double load[2])
{
  double a = 0, b = 0, c = -H / EA;
  for (size_t i = 0; i < SHAPES; i++) {
    double soft = 1 / (s->K[i] - H * s->G[i]);
    double u = s->F[i] * soft, v = -H * s->g[i] * soft;
    a -= u * u * s->G[i] / 2;
    b += s->g[i] * u - u * v * s->G[i];
    c += s->g[i] * v - v * v * s->G[i] / 2;
  }
  double root = b * b - 4 * a * c;
  if (!(root >= 0))
    return 0;
  root = sqrt(root);
  load[0] = (-b + root) / (2 * a);
  load[1] = (-b - root) / (2 * a);
  return 1;
}

/* Follows the load as the thrust grows: it snaps where the load falls, or at the thrust at which
 * the arch goes aside to one half, 4 pi^2 EI/L^2 pinned, 80.763 fixed. The two roots change places
 * at each k^2; the branch is the one that goes on straight. No step meets a k^2. */
static double snapping(double rise, double q, double P, double EA, int fixed)
{
  shapes s;
  make_shapes(rise, q, P, fixed, &s);
  double limit = fixed ? 80.763 : 4 * pi * pi, last = 0, before = 0;
  for (size_t i = 1; i <= STEPS; i++) {
    double load[2], H = limit * (double)i / STEPS;
    if (!loads_at(&s, H, EA, load))
      return HUGE_VAL;
    double ahead = 2 * last - before;
    double now = fabs(load[0] - ahead) < fabs(load[1] - ahead) ? load[0] : load[1];
    if (now < last)
      return last;
    before = last;
    last = now;
  }
  return last;
}

static rw_status check(const rw_stack *s, const rw_arch *arch, double pressure, double crown,
                       rw_error *err)
{
  rw_status status = rw_laminate_positive(s->EIx, FUNCTION, "s.EIx", "N m",
                                          "make the stack with rw_stack_make first", err);
  if (status == RW_OK)
    status = rw_laminate_positive(arch->span, FUNCTION, "span", "m", "along the chord", err);
  if (status != RW_OK)
    return status;
  if (!(arch->rise >= arch->span / 10000 && arch->rise <= arch->span / 8))
    return rw_error_range(err, FUNCTION, "rise", arch->rise, arch->span / 10000, arch->span / 8,
                          "m",
                          "the model holds for shallow arches; one without rise is a strip, and "
                          "a steep one can be cut into shallow pieces");
  if (arch->ends != RW_ARCH_PINNED && arch->ends != RW_ARCH_FIXED)
    return rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, "ends",
                        "take RW_ARCH_PINNED or RW_ARCH_FIXED", "ends %d are not known",
                        (int)arch->ends);
  const char *hint = "above zero it pushes the bulge in";
  if (!(fabs(pressure) <= 1e9))
    return rw_error_range(err, FUNCTION, "pressure", pressure, -1e9, 1e9, "Pa", hint);
  if (!(fabs(crown) <= 1e9))
    return rw_error_range(err, FUNCTION, "crown", crown, -1e9, 1e9, "N/m", hint);
  if (pressure == 0 && crown == 0)
    return rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, "pressure", "give one of the loads",
                        "pressure and crown are both zero: nothing bends");
  return RW_OK;
}

static rw_status beyond(const char *argument, double value, const char *what, const char *why,
                        rw_error *err)
{
  char found[40];
  rw_text_round(value, 3, found);
  rw_error_set(err, RW_OUTSIDE_TESTED, FUNCTION, argument, "take less load or a stiffer skin",
               "%s %s: %s", what, found, why);
  if (err != NULL)
    err->value = value;
  return RW_OUTSIDE_TESTED;
}

static rw_status warn(const rw_stack *s, const rw_arch *arch, const rw_arch_result *r,
                      rw_error *err)
{
  if (r->snap <= 1)
    return beyond("snap", r->snap,
                  "the load over which the arch snaps through, in parts of this one, is",
                  "it is past it", err);
  if (r->snap < 3)
    return beyond("snap", r->snap, "the arch snaps through at this load times",
                  "below 3 the deflection is more than linear, by 2 to 20 per cent at 3", err);
  if (arch->span < 20 * s->thickness)
    return beyond("span", arch->span / s->thickness, "span over thickness is",
                  "below 20 shear, left out here, counts", err);
  if (fabs(r->deflection) > arch->span / 10)
    return beyond("deflection", r->deflection, "the deflection in m is",
                  "above a tenth of the span bending is no longer linear", err);
  return RW_OK;
}

static void sum_up(const rw_stack *s, const section *of, const frame *a, rw_arch_result *r)
{
  r->deflection = crown_deflection(a, of->EI);
  r->thrust = a->thrust;
  r->moment_at = worst_place(a);
  r->moment = moment_at(a, r->moment_at);
  r->crown_moment = moment_at(a, a->L / 2);
  r->end_moment = a->end;
  for (size_t i = 0; i < 6; i++)
    r->load[i] = r->moment * of->bend[i] - a->thrust * of->pull[i];
  rw_stack_strain(s, r->load, r->strain);
  double upper = r->strain[0] + r->strain[3] * s->thickness / 2;
  double lower = r->strain[0] - r->strain[3] * s->thickness / 2;
  r->surface_strain = fabs(upper) >= fabs(lower) ? upper : lower;
}

rw_status rw_arch_bend(const rw_stack *s, const rw_arch *arch, double pressure, double crown,
                       rw_arch_result *out, rw_error *err)
{
  if (s == NULL || arch == NULL || out == NULL)
    return rw_laminate_missing(FUNCTION, s == NULL ? "s" : arch == NULL ? "arch" : "out", err);
  rw_status status = check(s, arch, pressure, crown, err);
  section of;
  if (status == RW_OK && arch->wide)
    status = wide(s, &of, err);
  if (status != RW_OK)
    return status;
  if (!arch->wide)
    narrow(s, &of);
  int fixed = arch->ends == RW_ARCH_FIXED;
  double L = arch->span;
  frame a = {.L = L, .f = arch->rise, .q = pressure, .P = crown};
  hold_ends(&a, fixed, &of);
  rw_arch_result r;
  sum_up(s, &of, &a, &r);
  double part = fixed ? 1.0 / 384 : 5.0 / 384, middle = fixed ? 1.0 / 192 : 1.0 / 48;
  r.flat = (part * pressure * L + middle * crown) * L * L * L / of.EI;
  r.snap = HUGE_VAL;
  if (a.thrust > 0)
    r.snap = snapping(arch->rise / L, pressure * L * L * L / of.EI, crown * L * L / of.EI,
                      of.EA * L * L / of.EI, fixed);
  *out = r;
  return warn(s, arch, out, err);
}
