/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <resinwright/num.h>

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_qrng.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

enum { MOST = 40 };

struct rw_draws {
  gsl_qrng generator; /* its state is the block behind this struct */
  double shift[MOST];
  double point[MOST];
};

/* SplitMix64 (Steele, Lea & Flood 2014): spreads a seed over the shifts. */
static double next_shift(uint64_t *state)
{
  uint64_t z = (*state += UINT64_C(0x9E3779B97F4A7C15));
  z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
  z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
  z ^= z >> 31;
  return (double)(z >> 11) * 0x1p-53;
}

rw_status rw_draws_create(unsigned dimension, unsigned long seed, rw_draws **out, rw_error *err)
{
  if (dimension < 1 || dimension > MOST)
    return rw_error_range(err, "rw_draws_create", "dimension", dimension, 1, MOST, "", NULL);
  const gsl_qrng_type *sobol = gsl_qrng_sobol;
  size_t bytes = sobol->state_size(dimension);
  rw_draws *d = malloc(sizeof *d);
  void *state = malloc(bytes);
  if (d == NULL || state == NULL) {
    free(d);
    free(state);
    return rw_error_set(err, RW_ERR_MEMORY, "rw_draws_create", NULL, NULL,
                        "not enough memory for a stream of draws");
  }
  d->generator =
      (gsl_qrng){.type = sobol, .dimension = dimension, .state_size = bytes, .state = state};
  sobol->init_state(state, dimension);
  uint64_t mix = seed;
  for (unsigned i = 0; i < dimension; i++)
    d->shift[i] = next_shift(&mix);
  *out = d;
  return RW_OK;
}

void rw_draws_next(rw_draws *d, double *z)
{
  gsl_qrng_get(&d->generator, d->point);
  for (unsigned i = 0; i < d->generator.dimension; i++) {
    double u = d->point[i] + d->shift[i];
    u -= floor(u);
    z[i] = rw_num_normal_quantile(fmin(fmax(u, 0x1p-40), 1 - 0x1p-40));
  }
}

void rw_draws_destroy(rw_draws *d)
{
  if (d == NULL)
    return;
  free(d->generator.state);
  free(d);
}

double rw_num_normal_quantile(double p)
{
  return gsl_cdf_ugaussian_Pinv(p);
}

double rw_num_normal_cdf(double z)
{
  return gsl_cdf_ugaussian_P(z);
}

static int compare(const void *a, const void *b)
{
  double x = *(const double *)a, y = *(const double *)b;
  return (x > y) - (x < y);
}

void rw_num_sort(double *x, size_t n)
{
  qsort(x, n, sizeof *x, compare);
}

double rw_num_quantile(const double *sorted, size_t n, double p)
{
  double place = p * (double)(n - 1);
  size_t i = (size_t)place;
  if (i + 1 >= n)
    return sorted[n - 1];
  double f = place - (double)i;
  if (f == 0 || sorted[i] == sorted[i + 1])
    return sorted[i];
  return sorted[i] + f * (sorted[i + 1] - sorted[i]);
}

/* Squared correlation of two columns, of which the second is measured from `origin`. */
static double goes_with(size_t n, const double *x, size_t stride, const double *y, double origin)
{
  double sx = 0, sy = 0, sxx = 0, sxy = 0, syy = 0, count = 0;
  for (size_t i = 0; i < n; i++) {
    if (!isfinite(y[i]))
      continue;
    double a = x[i * stride], b = y[i] - origin;
    sx += a;
    sy += b;
    sxx += a * a;
    sxy += a * b;
    syy += b * b;
    count++;
  }
  double both = sxy * count - sx * sy;
  return both * both / ((sxx * count - sx * sx) * (syy * count - sy * sy));
}

int rw_num_closest(size_t n, const double *x, size_t k, const double *y)
{
  double best = 0, origin = n > 0 && isfinite(y[0]) ? y[0] : 0;
  int closest = -1;
  for (size_t j = 0; j < k; j++) {
    double share = goes_with(n, x + j, k, y, origin);
    if (share > best) {
      best = share;
      closest = (int)j;
    }
  }
  return closest;
}
