/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Temperature integrals by exponential integrals, and the method that makes them agree. */
#include "iso_common.h"

#include <math.h>

static const double LEAST_E = 2000, MOST_E = 500000; /* J/mol, searched */

/* exp(x) E_n(x), x > 0, by the continued fraction (Abramowitz & Stegun 1964, 5.1.22, contracted),
 * from the far end: its error falls as exp(-4 sqrt(k x)). */
static double scaled_exponential(int n, double x)
{
  size_t far = (size_t)ceil(100 / x) + 10;
  double f = x + n + 2 * (double)far;
  for (size_t step = far; step >= 1; step--) {
    double k = (double)step;
    f = x + n + 2 * (k - 1) - k * (n + k - 1) / f;
  }
  return 1 / f;
}

static double exponential(int n, double x)
{
  return exp(-x) * scaled_exponential(n, x);
}

/* int exp(-E/(R T)) dT, K. */
static double integral(double E, double from, double to)
{
  double c = E / RW_GAS_CONSTANT;
  double up = to * exponential(2, c / to);
  return from > 0 ? up - from * exponential(2, c / from) : up;
}

/* The same of exp(-E/(R T))/T, a plain number. */
static double integral_over_T(double E, double from, double to)
{
  double c = E / RW_GAS_CONSTANT;
  double up = exponential(1, c / to);
  return from > 0 ? up - exponential(1, c / from) : up;
}

rw_status rw_iso_integral(double E, double from, double to, double *out, rw_error *err)
{
  static const char *const me = "rw_iso_integral";
  if (out == NULL)
    return iso_missing(me, "out", err);
  rw_status status = iso_between(me, "E", E, 1000, 500000, "J/mol",
                                 "energies are in joule per mole: 55 kJ/mol is 55000", err);
  if (status == RW_OK)
    status = iso_between(me, "from", from, 0, 1000, "K", NULL, err);
  if (status == RW_OK)
    status = iso_between(me, "to", to, fmax(from + 1e-6, 100), 1000, "K",
                         "the end stands above the beginning, in kelvin", err);
  if (status == RW_OK)
    *out = integral(E, from, to);
  return status;
}

typedef struct runs {
  const rw_iso_point *run;
  size_t n;
} runs;

/* Of each run the logarithm of its integral over time, and that one's derivative by E. */
static void logarithms(const runs *r, double E, double *u, double *slope)
{
  for (size_t i = 0; i < r->n; i++) {
    const rw_iso_point *p = &r->run[i];
    double whole = integral(E, p->start, p->temperature);
    u[i] = log(whole / p->heating);
    slope[i] = -integral_over_T(E, p->start, p->temperature) / (RW_GAS_CONSTANT * whole);
  }
}

/* The sum of the ratios, all pairs both ways. */
static double objective(size_t n, const double *u)
{
  double sum = 0;
  for (size_t i = 0; i < n; i++)
    for (size_t j = 0; j < i; j++)
      sum += 2 * cosh(u[i] - u[j]);
  return sum;
}

/* Half its derivative by E. */
static double objective_slope(double E, void *context)
{
  const runs *r = context;
  double u[RW_FIT_RUNS], slope[RW_FIT_RUNS], sum = 0;
  logarithms(r, E, u, slope);
  for (size_t i = 0; i < r->n; i++)
    for (size_t j = 0; j < i; j++)
      sum += sinh(u[i] - u[j]) * (slope[i] - slope[j]);
  return sum;
}

/* Standard error from the linearised logarithms, and the rate constant at the temperature where
 * it doesn't depend on E. */
static void spread(const runs *r, rw_fit_energy *out)
{
  double u[RW_FIT_RUNS], slope[RW_FIT_RUNS], rest = 0, lever = 0, u_mid = 0, slope_mid = 0;
  double n = (double)r->n;
  logarithms(r, out->E, u, slope);
  for (size_t i = 0; i < r->n; i++) {
    u_mid += u[i] / n;
    slope_mid += slope[i] / n;
  }
  for (size_t i = 0; i < r->n; i++) {
    rest += (u[i] - u_mid) * (u[i] - u_mid);
    lever += (slope[i] - slope_mid) * (slope[i] - slope_mid);
  }
  out->n = r->n;
  out->freedom = r->n - 2;
  out->scatter = out->freedom > 0 ? sqrt(rest / (double)out->freedom) : NAN;
  out->E_se = out->scatter / sqrt(lever);
  out->objective = objective(r->n, u);
  out->T_mid = -1 / (RW_GAS_CONSTANT * slope_mid);
  out->log_A = -u_mid;
  out->log_k = -u_mid - out->E / (RW_GAS_CONSTANT * out->T_mid);
  out->log_k_se = out->scatter / sqrt(n);
}

rw_status iso_vyazovkin(const char *function, const rw_iso_point *run, size_t n,
                        rw_fit_energy *out, rw_error *err)
{
  runs r = {.run = run, .n = n};
  rw_fit_energy found = {.E = NAN};
  if (!(objective_slope(LEAST_E, &r) < 0 && objective_slope(MOST_E, &r) > 0))
    return rw_error_set(err, RW_ERR_NUMERIC, function, "run",
                        "look whether temperatures rise with the heating rate, and whether "
                        "columns or units are mixed up",
                        "no activation energy from 2 to 500 kJ/mol fits these runs");
  rw_status status = rw_num_root(objective_slope, &r, LEAST_E, MOST_E, 1e-6, &found.E, err);
  if (status != RW_OK)
    return status;
  spread(&r, &found);
  *out = found;
  return RW_OK;
}
