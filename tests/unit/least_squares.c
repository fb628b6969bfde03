/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "check.h"

#include <math.h>
#include <string.h>

enum { POINTS = 12 };

/* y = a (1 - exp(-b x)), with its parameters multiplied by `unit` before use. */
typedef struct curve {
  size_t n;
  double x[POINTS], y[POINTS];
  double unit[2];
  int calls;
  int breaks; /* no value at b > 2 */
} curve;

static int residuals(const double *p, double *r, double *J, void *context)
{
  curve *c = context;
  double a = p[0] * c->unit[0], b = p[1] * c->unit[1];
  c->calls++;
  if (c->breaks && b > 2)
    return 1;
  for (size_t i = 0; i < c->n; i++) {
    double e = exp(-b * c->x[i]);
    r[i] = a * (1 - e) - c->y[i];
    if (J != NULL) {
      J[2 * i] = (1 - e) * c->unit[0];
      J[2 * i + 1] = a * c->x[i] * e * c->unit[1];
    }
  }
  return 0;
}

static curve noisy(void)
{
  static const double noise[POINTS] = {1, -2, 0, 1, 2, -1, -1, 1, 0, -2, 1, 1};
  curve c = {.n = POINTS, .unit = {1, 1}};
  for (size_t i = 0; i < POINTS; i++) {
    c.x[i] = 0.5 * (double)(i + 1);
    c.y[i] = 3 * (1 - exp(-0.7 * c.x[i])) + 0.02 * noise[i];
  }
  return c;
}

static rw_least_squares problem_of(curve *c)
{
  return (rw_least_squares){.f = residuals, .context = c, .n = c->n, .p = 2};
}

static const double START[2] = {1, 0.2};

/* At the end the weighted residuals are at right angles to every column, and the matrices are
 * what they should be. */
static void stands_still_at_the_least(void **state)
{
  (void)state;
  curve c = noisy();
  double weight[POINTS], r[POINTS], J[2 * POINTS], a[4], inverse[4];
  rw_least_squares problem = problem_of(&c);
  rw_least_squares_fit fit;
  rw_error err;
  for (size_t i = 0; i < POINTS; i++)
    weight[i] = 1 + (double)(i % 3);
  problem.weight = weight;
  assert_ok(rw_num_least_squares(&problem, START, &fit, &err), &err);
  residuals(fit.x, r, J, &c);
  double ss = 0, slope[2] = {0, 0};
  memset(a, 0, sizeof a);
  for (size_t i = 0; i < POINTS; i++) {
    ss += weight[i] * r[i] * r[i];
    for (size_t j = 0; j < 2; j++) {
      slope[j] += weight[i] * r[i] * J[2 * i + j];
      for (size_t k = 0; k < 2; k++)
        a[2 * j + k] += weight[i] * J[2 * i + j] * J[2 * i + k];
    }
  }
  assert_close_rel(fit.rss, ss, 1e-13);
  for (size_t j = 0; j < 2; j++)
    assert_close(slope[j] / sqrt(a[3 * j] * ss), 0, 1e-9);
  assert_ok(rw_num_inverse(2, a, inverse, &err), &err);
  assert_int_equal(fit.freedom, POINTS - 2);
  assert_close_rel(fit.residual_sd, sqrt(ss / (POINTS - 2)), 1e-13);
  for (size_t j = 0; j < 4; j++) {
    assert_close_rel(fit.unscaled[j], inverse[j], 1e-11);
    assert_close_rel(fit.covariance[j], inverse[j] * ss / (POINTS - 2), 1e-11);
  }
  assert_close_rel(fit.sd[1], sqrt(fit.covariance[3]), 1e-14);
  assert_close(fit.correlation[0], 1, 0);
  assert_close_rel(fit.correlation[1], inverse[1] / sqrt(inverse[0] * inverse[3]), 1e-11);
  double rho = a[1] / sqrt(a[0] * a[3]);
  assert_close_rel(fit.condition, sqrt((1 + fabs(rho)) / (1 - fabs(rho))), 1e-9);
}

/* Other units for the parameters change nothing but the numbers, not even the way there. */
static void units_change_nothing(void **state)
{
  (void)state;
  curve plain = noisy(), scaled = noisy();
  scaled.unit[0] = 0x1p-40;
  scaled.unit[1] = 0x1p30;
  const double start[2] = {START[0] / scaled.unit[0], START[1] / scaled.unit[1]};
  rw_least_squares one = problem_of(&plain), other = problem_of(&scaled);
  rw_least_squares_fit a, b;
  rw_error err;
  assert_ok(rw_num_least_squares(&one, START, &a, &err), &err);
  assert_ok(rw_num_least_squares(&other, start, &b, &err), &err);
  assert_int_equal(a.rounds, b.rounds);
  for (size_t j = 0; j < 2; j++) {
    assert_close_rel(b.x[j] * scaled.unit[j], a.x[j], 1e-14);
    assert_close_rel(b.sd[j] * scaled.unit[j], a.sd[j], 1e-12);
  }
  assert_close_rel(b.condition, a.condition, 1e-12);
  assert_ok(rw_num_least_squares(&one, START, &b, &err), &err);
  assert_memory_equal(&a, &b, sizeof a);
}

static void exact_points(void **state)
{
  (void)state;
  curve c = noisy();
  rw_least_squares problem = problem_of(&c);
  rw_least_squares_fit fit;
  rw_error err;
  for (size_t i = 0; i < POINTS; i++)
    c.y[i] = 3 * (1 - exp(-0.7 * c.x[i]));
  assert_ok(rw_num_least_squares(&problem, START, &fit, &err), &err);
  assert_close_rel(fit.x[0], 3, 1e-13);
  assert_close_rel(fit.x[1], 0.7, 1e-13);
  /* As many points as parameters: no spread to be told. */
  c = noisy();
  problem.n = c.n = 2;
  assert_ok(rw_num_least_squares(&problem, START, &fit, &err), &err);
  assert_int_equal(fit.freedom, 0);
  assert_true(isnan(fit.residual_sd) && isnan(fit.sd[0]) && isnan(fit.covariance[1]));
  assert_true(isfinite(fit.unscaled[0]));
}

static void held_and_unweighted(void **state)
{
  (void)state;
  curve c = noisy();
  rw_least_squares problem = problem_of(&c);
  rw_least_squares_fit fit, less;
  rw_error err;
  const int held[2] = {0, 1}, both[2] = {1, 1};
  const double start[2] = {1, 0.7};
  problem.held = held;
  assert_ok(rw_num_least_squares(&problem, start, &fit, &err), &err);
  double over = 0, under = 0;
  for (size_t i = 0; i < POINTS; i++) {
    double g = 1 - exp(-0.7 * c.x[i]);
    over += g * c.y[i];
    under += g * g;
  }
  assert_close_rel(fit.x[0], over / under, 1e-12);
  assert_close(fit.x[1], 0.7, 0);
  assert_close(fit.sd[1], 0, 0);
  assert_close(fit.correlation[3], 0, 0);
  assert_int_equal(fit.freedom, POINTS - 1);
  problem.held = both;
  assert_status(rw_num_least_squares(&problem, start, &fit, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "held");

  /* A weight of 0 is as good as no point. */
  double weight[POINTS];
  problem = problem_of(&c);
  for (size_t i = 0; i < POINTS; i++)
    weight[i] = i < POINTS - 2;
  c.y[POINTS - 1] = NAN;
  problem.weight = weight;
  assert_ok(rw_num_least_squares(&problem, START, &fit, &err), &err);
  problem.weight = NULL;
  problem.n = c.n = POINTS - 2;
  assert_ok(rw_num_least_squares(&problem, START, &less, &err), &err);
  assert_close_rel(fit.x[1], less.x[1], 1e-11);
  assert_close_rel(fit.sd[1], less.sd[1], 1e-9);
  assert_int_equal(fit.freedom, less.freedom);
}

static int twins(const double *p, double *r, double *J, void *context)
{
  (void)context;
  for (size_t i = 0; i < 5; i++) {
    r[i] = p[0] + p[1] - (double)i + p[2] * (double)i;
    if (J != NULL) {
      J[3 * i] = J[3 * i + 1] = 1;
      J[3 * i + 2] = (double)i;
    }
  }
  return 0;
}

/* What points cannot tell is said, not guessed. */
static void not_determined(void **state)
{
  (void)state;
  const rw_least_squares problem = {.f = twins, .n = 5, .p = 3};
  const double start[3] = {3, -1, 0};
  double reached[3];
  rw_least_squares_fit fit = {.p = 77};
  rw_error err;
  rw_least_squares asked = problem;
  asked.reached = reached;
  assert_status(rw_num_least_squares(&asked, start, &fit, &err), RW_ERR_NUMERIC, &err);
  check_explained(&err, "do not determine");
  assert_true(strcmp(err.argument, "x[0]") == 0 || strcmp(err.argument, "x[1]") == 0);
  assert_close(reached[0] + reached[1], 0, 1e-9);
  assert_close(err.value, 0, 1e-15);
  assert_int_equal(fit.p, 77);
}

static void no_value(void **state)
{
  (void)state;
  curve c = noisy();
  c.breaks = 1;
  rw_least_squares problem = problem_of(&c);
  const double outside[2] = {1, 3}, edge[2] = {1, 1.99};
  rw_least_squares_fit fit;
  rw_error err;
  assert_status(rw_num_least_squares(&problem, outside, &fit, &err), RW_ERR_NUMERIC, &err);
  check_explained(&err, "no finite value");
  assert_ok(rw_num_least_squares(&problem, edge, &fit, &err), &err);
  assert_close(fit.x[1], 0.7, 0.1);
  problem.rounds = 1;
  assert_status(rw_num_least_squares(&problem, START, &fit, &err), RW_ERR_NUMERIC, &err);
  check_explained(&err, "did not converge");
}

static void refuses(void **state)
{
  (void)state;
  curve c = noisy();
  const rw_least_squares good = problem_of(&c);
  const double nowhere[2] = {1, NAN};
  double weight[POINTS] = {-1};
  rw_least_squares_fit fit = {.p = 77};
  rw_error err;
  rw_least_squares q = good;
  q.f = NULL;
  assert_status(rw_num_least_squares(&q, START, &fit, &err), RW_ERR_ARGUMENT, &err);
  q = good;
  q.p = 0;
  assert_status(rw_num_least_squares(&q, START, &fit, &err), RW_ERR_RANGE, &err);
  q.p = 17;
  assert_status(rw_num_least_squares(&q, START, &fit, &err), RW_ERR_RANGE, &err);
  q = good;
  q.n = 0;
  assert_status(rw_num_least_squares(&q, START, &fit, &err), RW_ERR_RANGE, &err);
  q.n = 1;
  assert_status(rw_num_least_squares(&q, START, &fit, &err), RW_ERR_ARGUMENT, &err);
  check_explained(&err, "cannot determine");
  q = good;
  q.tolerance = 1;
  assert_status(rw_num_least_squares(&q, START, &fit, &err), RW_ERR_RANGE, &err);
  q = good;
  q.rounds = -1;
  assert_status(rw_num_least_squares(&q, START, &fit, &err), RW_ERR_RANGE, &err);
  q = good;
  q.weight = weight;
  assert_status(rw_num_least_squares(&q, START, &fit, &err), RW_ERR_RANGE, &err);
  assert_status(rw_num_least_squares(&good, nowhere, &fit, &err), RW_ERR_ARGUMENT, &err);
  assert_int_equal(fit.p, 77);
}

static void robust(void **state)
{
  (void)state;
  curve c = noisy();
  rw_least_squares problem = problem_of(&c);
  rw_least_squares_fit plain, fit = {.p = 77};
  rw_error err;
  double scale = 7, weight[POINTS];
  rw_robust how = {.loss = RW_LOSS_SQUARES, .scale = RW_SCALE_MEDIAN};
  assert_ok(rw_num_least_squares(&problem, START, &plain, &err), &err);
  assert_ok(rw_num_robust(&problem, &how, START, &fit, NULL, weight, &err), &err);
  assert_close(fit.x[0], plain.x[0], 0);
  assert_close(weight[3], 1, 0);
  /* So wide a Huber loss that no point lies outside is least squares. */
  how = (rw_robust){.loss = RW_LOSS_HUBER, .scale = RW_SCALE_FIXED, .sd = 1, .tuning = 50};
  assert_ok(rw_num_robust(&problem, &how, START, &fit, &scale, weight, &err), &err);
  assert_close_rel(fit.x[1], plain.x[1], 1e-9);
  assert_close_rel(fit.sd[1], plain.sd[1], 1e-8);
  assert_close(scale, 1, 0);
  /* Given weights: sqrt(w) r is what the loss sees. */
  double four[POINTS];
  rw_least_squares_fit other;
  for (size_t i = 0; i < POINTS; i++)
    four[i] = 4;
  c.y[5] += 1;
  how = (rw_robust){.loss = RW_LOSS_HUBER, .scale = RW_SCALE_FIXED, .sd = 0.02};
  assert_ok(rw_num_robust(&problem, &how, START, &fit, NULL, NULL, &err), &err);
  problem.weight = four;
  how.sd = 0.04;
  assert_ok(rw_num_robust(&problem, &how, START, &other, NULL, NULL, &err), &err);
  assert_close_rel(other.x[1], fit.x[1], 1e-9);
  assert_close_rel(other.sd[1], fit.sd[1], 1e-8);
  problem.weight = NULL;

  fit.p = 77;
  how = (rw_robust){.loss = RW_LOSS_HUBER, .scale = RW_SCALE_FIXED};
  assert_status(rw_num_robust(&problem, &how, START, &fit, NULL, NULL, &err), RW_ERR_RANGE, &err);
  how.sd = 1;
  how.tuning = -1;
  assert_status(rw_num_robust(&problem, &how, START, &fit, NULL, NULL, &err), RW_ERR_RANGE, &err);
  how = (rw_robust){.loss = (rw_num_loss)9};
  assert_status(rw_num_robust(&problem, &how, START, &fit, NULL, NULL, &err), RW_ERR_ARGUMENT,
                &err);
  how = (rw_robust){.scale = (rw_num_scale)9};
  assert_status(rw_num_robust(&problem, &how, START, &fit, NULL, NULL, &err), RW_ERR_ARGUMENT,
                &err);
  how = (rw_robust){.loss = RW_LOSS_HUBER};
  problem.n = c.n = 2;
  assert_status(rw_num_robust(&problem, &how, START, &fit, NULL, NULL, &err), RW_ERR_ARGUMENT,
                &err);
  assert_int_equal(fit.p, 77);
}

static int level(const double *p, double *r, double *J, void *context)
{
  const double *y = context;
  for (size_t i = 0; i < 5; i++) {
    r[i] = p[0] - y[i];
    if (J != NULL)
      J[i] = 1;
  }
  return 0;
}

/* Most points on one value: the median leaves no scale. */
static void no_scale(void **state)
{
  (void)state;
  double y[5] = {2, 2, 2, 2, 9}, start = 2, x[2];
  const rw_least_squares problem = {.f = level, .context = y, .n = 5, .p = 1};
  rw_robust how = {.loss = RW_LOSS_BISQUARE, .scale = RW_SCALE_MEDIAN};
  rw_least_squares_fit fit;
  rw_error err;
  assert_status(rw_num_robust(&problem, &how, &start, &fit, NULL, NULL, &err), RW_ERR_NUMERIC,
                &err);
  check_explained(&err, "spread");
  /* With one parameter the limits have a closed form: the mean +- t s/sqrt(n). */
  assert_ok(rw_num_least_squares(&problem, &start, &fit, &err), &err);
  assert_ok(rw_num_profile(&problem, &fit, 0, 0.9, &x[0], &x[1], &err), &err);
  double t = rw_num_student_quantile(0.95, 4);
  assert_close(x[0], fit.x[0] - t * fit.sd[0], 1e-9);
  assert_close(x[1], fit.x[0] + t * fit.sd[0], 1e-9);
}

static void profile(void **state)
{
  (void)state;
  curve c = noisy();
  rw_least_squares problem = problem_of(&c);
  rw_least_squares_fit fit, at;
  rw_error err;
  double low, high;
  assert_ok(rw_num_least_squares(&problem, START, &fit, &err), &err);
  assert_ok(rw_num_profile(&problem, &fit, 1, 0.95, &low, &high, &err), &err);
  double t = rw_num_student_quantile(0.975, fit.freedom);
  const int held[2] = {0, 1};
  for (int i = 0; i < 2; i++) {
    double start[2] = {fit.x[0], i == 0 ? low : high};
    problem.held = held;
    assert_ok(rw_num_least_squares(&problem, start, &at, &err), &err);
    assert_close_rel(at.rss, fit.rss * (1 + t * t / (double)fit.freedom), 1e-9);
  }
  problem.held = NULL;
  assert_status(rw_num_profile(&problem, &fit, 2, 0.95, &low, &high, &err), RW_ERR_RANGE, &err);
  assert_status(rw_num_profile(&problem, &fit, 1, 1, &low, &high, &err), RW_ERR_RANGE, &err);
  fit.p = 1;
  assert_status(rw_num_profile(&problem, &fit, 0, 0.95, &low, &high, &err), RW_ERR_ARGUMENT, &err);
}

/* A rate so fast that the points hardly see it: no upper limit. */
static void an_open_limit(void **state)
{
  (void)state;
  static const double noise[POINTS] = {-1, -2, 2, 1, 2, -1, -3, 1, 0, -2, 1, 1};
  curve c = {.n = POINTS, .unit = {1, 1}};
  for (size_t i = 0; i < POINTS; i++) {
    c.x[i] = (double)(i + 1);
    c.y[i] = 3 * (1 - exp(-3.5 * c.x[i])) + 0.1 * noise[i];
  }
  rw_least_squares problem = problem_of(&c);
  rw_least_squares_fit fit;
  rw_error err;
  double low = 0, high = 0;
  const double start[2] = {3, 2};
  assert_ok(rw_num_least_squares(&problem, start, &fit, &err), &err);
  assert_status(rw_num_profile(&problem, &fit, 1, 0.95, &low, &high, &err), RW_NOT_REACHED, &err);
  assert_true(low > 1 && low < fit.x[1] && high == HUGE_VAL);
}

static void bounds_keep(void **state)
{
  (void)state;
  const rw_num_bound bound[] = {{-HUGE_VAL, HUGE_VAL}, {2, HUGE_VAL}, {-HUGE_VAL, 2}, {-1, 3}};
  const double x[] = {1.7, 2.0001, -5, 2.9};
  for (size_t i = 0; i < 4; i++) {
    double u = rw_num_bound_in(bound[i], x[i]), slope, unused;
    assert_close_rel(rw_num_bound_out(bound[i], u, &slope), x[i], 1e-14);
    double above = rw_num_bound_out(bound[i], u + 1e-5, &unused);
    double below = rw_num_bound_out(bound[i], u - 1e-5, NULL);
    assert_close_rel(slope, (above - below) / 2e-5, 1e-6);
    for (double far = -800; far <= 800; far += 1600) {
      double end = rw_num_bound_out(bound[i], far, NULL);
      assert_true(end >= bound[i].low && end <= bound[i].high);
    }
  }
  assert_true(isnan(rw_num_bound_in(bound[1], 2)));
  assert_true(isnan(rw_num_bound_in(bound[3], 3)));
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(stands_still_at_the_least),
      cmocka_unit_test(units_change_nothing),
      cmocka_unit_test(exact_points),
      cmocka_unit_test(held_and_unweighted),
      cmocka_unit_test(not_determined),
      cmocka_unit_test(no_value),
      cmocka_unit_test(refuses),
      cmocka_unit_test(robust),
      cmocka_unit_test(no_scale),
      cmocka_unit_test(profile),
      cmocka_unit_test(an_open_limit),
      cmocka_unit_test(bounds_keep),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
