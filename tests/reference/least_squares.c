/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Least squares against certified problems, robust fits and limits computed elsewhere. */
#include "check.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double PI = 3.14159265358979323846;

enum { MOST_POINTS = 260, MOST_PARAMETERS = 9 };

/* Value of a model and its derivatives after the parameters b. */
typedef double model_function(const double *b, double x, double x2, double *d);

static double misra1a(const double *b, double x, double x2, double *d)
{
  (void)x2;
  double e = exp(-b[1] * x);
  d[0] = 1 - e;
  d[1] = b[0] * x * e;
  return b[0] * (1 - e);
}

static double misra1b(const double *b, double x, double x2, double *d)
{
  (void)x2;
  double u = 1 + b[1] * x / 2;
  d[0] = 1 - 1 / (u * u);
  d[1] = b[0] * x / (u * u * u);
  return b[0] * d[0];
}

static double misra1c(const double *b, double x, double x2, double *d)
{
  (void)x2;
  double u = 1 + 2 * b[1] * x;
  d[0] = 1 - 1 / sqrt(u);
  d[1] = b[0] * x / (u * sqrt(u));
  return b[0] * d[0];
}

static double misra1d(const double *b, double x, double x2, double *d)
{
  (void)x2;
  double u = 1 + b[1] * x;
  d[0] = b[1] * x / u;
  d[1] = b[0] * x / (u * u);
  return b[0] * d[0];
}

static double chwirut(const double *b, double x, double x2, double *d)
{
  (void)x2;
  double u = b[1] + b[2] * x, y = exp(-b[0] * x) / u;
  d[0] = -x * y;
  d[1] = -y / u;
  d[2] = -x * y / u;
  return y;
}

static double lanczos(const double *b, double x, double x2, double *d)
{
  (void)x2;
  double y = 0;
  for (int i = 0; i < 6; i += 2) {
    double e = exp(-b[i + 1] * x);
    d[i] = e;
    d[i + 1] = -b[i] * x * e;
    y += b[i] * e;
  }
  return y;
}

static double gauss(const double *b, double x, double x2, double *d)
{
  (void)x2;
  d[0] = exp(-b[1] * x);
  d[1] = -b[0] * x * d[0];
  double y = b[0] * d[0];
  for (int i = 2; i < 8; i += 3) {
    double u = (x - b[i + 1]) / b[i + 2], e = exp(-u * u);
    d[i] = e;
    d[i + 1] = b[i] * e * 2 * u / b[i + 2];
    d[i + 2] = d[i + 1] * u;
    y += b[i] * e;
  }
  return y;
}

static double danwood(const double *b, double x, double x2, double *d)
{
  (void)x2;
  d[0] = pow(x, b[1]);
  d[1] = b[0] * d[0] * log(x);
  return b[0] * d[0];
}

/* Polynomials of the degrees over and under: b over, then b under without its 1. */
static double ratio(const double *b, int over, int under, double x, double *d)
{
  double p = 0, q = 1, power = 1;
  for (int i = 0; i <= over; i++, power *= x)
    p += b[i] * power;
  power = x;
  for (int i = 1; i <= under; i++, power *= x)
    q += b[over + i] * power;
  power = 1;
  for (int i = 0; i <= over; i++, power *= x)
    d[i] = power / q;
  power = x;
  for (int i = 1; i <= under; i++, power *= x)
    d[over + i] = -p * power / (q * q);
  return p / q;
}

static double kirby2(const double *b, double x, double x2, double *d)
{
  (void)x2;
  return ratio(b, 2, 2, x, d);
}

static double hahn1(const double *b, double x, double x2, double *d)
{
  (void)x2;
  return ratio(b, 3, 3, x, d);
}

static double nelson(const double *b, double x, double x2, double *d)
{
  double e = exp(-b[2] * x2);
  d[0] = 1;
  d[1] = -x * e;
  d[2] = b[1] * x * x2 * e;
  return b[0] - b[1] * x * e;
}

static double mgh17(const double *b, double x, double x2, double *d)
{
  (void)x2;
  d[0] = 1;
  d[1] = exp(-b[3] * x);
  d[2] = exp(-b[4] * x);
  d[3] = -b[1] * x * d[1];
  d[4] = -b[2] * x * d[2];
  return b[0] + b[1] * d[1] + b[2] * d[2];
}

static double roszman1(const double *b, double x, double x2, double *d)
{
  (void)x2;
  double u = b[2] / (x - b[3]), slope = -1 / (PI * (1 + u * u));
  d[0] = 1;
  d[1] = -x;
  d[2] = slope / (x - b[3]);
  d[3] = slope * u / (x - b[3]);
  return b[0] - b[1] * x - atan(u) / PI;
}

static double enso(const double *b, double x, double x2, double *d)
{
  (void)x2;
  double year = 2 * PI * x / 12, y;
  d[0] = 1;
  d[1] = cos(year);
  d[2] = sin(year);
  y = b[0] + b[1] * d[1] + b[2] * d[2];
  for (int i = 3; i < 9; i += 3) {
    double u = 2 * PI * x / b[i], c = cos(u), s = sin(u);
    d[i] = (b[i + 1] * s - b[i + 2] * c) * u / b[i];
    d[i + 1] = c;
    d[i + 2] = s;
    y += b[i + 1] * c + b[i + 2] * s;
  }
  return y;
}

static double mgh09(const double *b, double x, double x2, double *d)
{
  (void)x2;
  double p = x * x + b[1] * x, q = x * x + b[2] * x + b[3];
  d[0] = p / q;
  d[1] = b[0] * x / q;
  d[3] = -b[0] * p / (q * q);
  d[2] = d[3] * x;
  return b[0] * p / q;
}

static double mgh10(const double *b, double x, double x2, double *d)
{
  (void)x2;
  double u = x + b[2];
  d[0] = exp(b[1] / u);
  d[1] = b[0] * d[0] / u;
  d[2] = -d[1] * b[1] / u;
  return b[0] * d[0];
}

static double rat42(const double *b, double x, double x2, double *d)
{
  (void)x2;
  double e = exp(b[1] - b[2] * x), u = 1 + e;
  d[0] = 1 / u;
  d[1] = -b[0] * e / (u * u);
  d[2] = -d[1] * x;
  return b[0] / u;
}

static double rat43(const double *b, double x, double x2, double *d)
{
  (void)x2;
  double e = exp(b[1] - b[2] * x), u = 1 + e, y = pow(u, -1 / b[3]);
  d[0] = y;
  d[1] = -b[0] * y * e / (u * b[3]);
  d[2] = -d[1] * x;
  d[3] = b[0] * y * log(u) / (b[3] * b[3]);
  return b[0] * y;
}

static double eckerle4(const double *b, double x, double x2, double *d)
{
  (void)x2;
  double u = (x - b[2]) / b[1], e = exp(-u * u / 2), y = b[0] / b[1] * e;
  d[0] = e / b[1];
  d[1] = y * (u * u - 1) / b[1];
  d[2] = y * u / b[1];
  return y;
}

static double bennett5(const double *b, double x, double x2, double *d)
{
  (void)x2;
  double u = b[1] + x, y = pow(u, -1 / b[2]);
  d[0] = y;
  d[1] = -b[0] * y / (u * b[2]);
  d[2] = b[0] * y * log(u) / (b[2] * b[2]);
  return b[0] * y;
}

static double thurber(const double *b, double x, double x2, double *d)
{
  (void)x2;
  return ratio(b, 3, 3, x, d);
}

static const struct {
  const char *name;
  model_function *f;
  int logarithm; /* of y */
} models[] = {
    {"Bennett5", bennett5, 0}, {"BoxBOD", misra1a, 0},    {"Chwirut1", chwirut, 0},
    {"Chwirut2", chwirut, 0},  {"DanWood", danwood, 0},   {"ENSO", enso, 0},
    {"Eckerle4", eckerle4, 0}, {"Gauss1", gauss, 0},      {"Gauss2", gauss, 0},
    {"Gauss3", gauss, 0},      {"Hahn1", hahn1, 0},       {"Kirby2", kirby2, 0},
    {"Lanczos1", lanczos, 0},  {"Lanczos2", lanczos, 0},  {"Lanczos3", lanczos, 0},
    {"MGH09", mgh09, 0},       {"MGH10", mgh10, 0},       {"MGH17", mgh17, 0},
    {"Misra1a", misra1a, 0},   {"Misra1b", misra1b, 0},   {"Misra1c", misra1c, 0},
    {"Misra1d", misra1d, 0},   {"Nelson", nelson, 1},     {"Rat42", rat42, 0},
    {"Rat43", rat43, 0},       {"Roszman1", roszman1, 0}, {"Thurber", thurber, 0},
};
enum { MODELS = sizeof models / sizeof *models };

typedef struct set {
  const char *name;
  model_function *f;
  size_t n, p;
  double y[MOST_POINTS], x[MOST_POINTS], x2[MOST_POINTS];
  double start[2][MOST_PARAMETERS], value[MOST_PARAMETERS], sd[MOST_PARAMETERS];
  double rss, freedom;
} set;

static int residuals(const double *b, double *r, double *J, void *context)
{
  const set *q = context;
  for (size_t i = 0; i < q->n; i++) {
    double d[MOST_PARAMETERS];
    r[i] = q->f(b, q->x[i], q->x2[i], d) - q->y[i];
    for (size_t j = 0; J != NULL && j < q->p; j++)
      J[i * q->p + j] = d[j];
  }
  return 0;
}

/* The sets as they stand in the two tables. */
static set sets[MODELS];

static set *named(const char *name)
{
  for (size_t i = 0; i < MODELS; i++)
    if (strcmp(models[i].name, name) == 0)
      return &sets[i];
  fail_msg("no model is written for the set %s", name);
  return NULL;
}

static int read_sets(void **state)
{
  (void)state;
  for (size_t i = 0; i < MODELS; i++)
    sets[i] = (set){.name = models[i].name, .f = models[i].f};
  rw_table *t = check_table("table_nist_data");
  for (size_t i = 0; i < rw_table_rows(t); i++) {
    set *q = named(check_text(t, i, "problem"));
    assert_true(q->n < MOST_POINTS);
    double y = check_cell(t, i, "y");
    q->y[q->n] = models[q - sets].logarithm ? log(y) : y;
    q->x[q->n] = check_cell(t, i, "x1");
    q->x2[q->n++] = check_cell(t, i, "x2");
  }
  rw_table_destroy(t);
  t = check_table("table_nist_certified");
  for (size_t i = 0; i < rw_table_rows(t); i++) {
    set *q = named(check_text(t, i, "problem"));
    assert_true(q->p < MOST_PARAMETERS);
    q->start[0][q->p] = check_cell(t, i, "start1");
    q->start[1][q->p] = check_cell(t, i, "start2");
    q->value[q->p] = check_cell(t, i, "value");
    q->sd[q->p++] = check_cell(t, i, "sd");
    q->rss = check_cell(t, i, "rss");
    q->freedom = check_cell(t, i, "freedom");
  }
  rw_table_destroy(t);
  return 0;
}

static rw_least_squares problem_of(set *q)
{
  return (rw_least_squares){.f = residuals, .context = q, .n = q->n, .p = q->p};
}

static void is_certified(const set *q, const rw_least_squares_fit *fit)
{
  int exact = strcmp(q->name, "Lanczos1") == 0;
  for (size_t j = 0; j < q->p; j++) {
    assert_close_rel(fit->x[j], q->value[j], 1e-6);
    if (!exact)
      assert_close_rel(fit->sd[j], q->sd[j], 1e-5);
  }
  if (!exact)
    assert_close_rel(fit->rss, q->rss, 1e-9);
  assert_close((double)fit->freedom, q->freedom, 0);
}

/* Every derivative against a central difference. */
static void derivatives(void **state)
{
  (void)state;
  for (size_t m = 0; m < MODELS; m++) {
    set *q = &sets[m];
    for (size_t i = 0; i < q->n; i += q->n / 5) {
      double d[MOST_PARAMETERS], unused[MOST_PARAMETERS], b[MOST_PARAMETERS];
      memcpy(b, q->start[1], sizeof b);
      double y = q->f(b, q->x[i], q->x2[i], d);
      for (size_t j = 0; j < q->p; j++) {
        double h = 1e-6 * fabs(b[j]), keep = b[j];
        b[j] = keep + h;
        double above = q->f(b, q->x[i], q->x2[i], unused);
        b[j] = keep - h;
        double below = q->f(b, q->x[i], q->x2[i], unused);
        b[j] = keep;
        assert_close(d[j] * fabs(keep), (above - below) / 2e-6,
                     1e-6 * (fabs(y) + fabs(d[j] * keep)) + 1e-9);
      }
    }
  }
}

static void from_the_second_start(void **state)
{
  (void)state;
  for (size_t m = 0; m < MODELS; m++) {
    set *q = &sets[m];
    rw_least_squares problem = problem_of(q);
    rw_least_squares_fit fit;
    rw_error err;
    if (rw_num_least_squares(&problem, q->start[1], &fit, &err) != RW_OK)
      fail_msg("%s: %s", q->name, err.message);
    is_certified(q, &fit);
  }
}

/* From far away a fit may fail, but must say so. */
static void from_the_first_start(void **state)
{
  (void)state;
  int found = 0;
  for (size_t m = 0; m < MODELS; m++) {
    set *q = &sets[m];
    double reached[MOST_PARAMETERS];
    rw_least_squares problem = problem_of(q);
    problem.reached = reached;
    rw_least_squares_fit fit;
    rw_error err;
    rw_status status = rw_num_least_squares(&problem, q->start[0], &fit, &err);
    if (status == RW_OK) {
      is_certified(q, &fit);
      found++;
    } else {
      assert_int_equal(status, RW_ERR_NUMERIC);
      check_explained(&err, "not");
      assert_true(err.value > q->rss * (1 - 1e-9));
    }
  }
  assert_true(found >= 24);
}

/* Plant data: loss against three causes, a straight plane. */
typedef struct plant {
  size_t n;
  double x[32][4], y[32];
} plant;

static int plane(const double *b, double *r, double *J, void *context)
{
  const plant *q = context;
  for (size_t i = 0; i < q->n; i++) {
    r[i] = -q->y[i];
    for (size_t j = 0; j < 4; j++) {
      r[i] += b[j] * q->x[i][j];
      if (J != NULL)
        J[4 * i + j] = q->x[i][j];
    }
  }
  return 0;
}

static plant read_plant(void)
{
  static const char *const column[] = {"air_flow", "water_temp", "acid_conc"};
  plant q = {0};
  rw_table *t = check_table("table_stackloss");
  for (size_t i = 0; i < rw_table_rows(t); i++) {
    q.x[i][0] = 1;
    for (size_t j = 0; j < 3; j++)
      q.x[i][j + 1] = check_cell(t, i, column[j]);
    q.y[i] = check_cell(t, i, "stack_loss");
    q.n++;
  }
  rw_table_destroy(t);
  assert_int_equal(q.n, 21);
  return q;
}

static void point(const char *name, const char *what, double actual)
{
  /* check_point keeps the id itself. */
  static char id[64][80];
  static size_t used;
  assert_true(used < 64);
  snprintf(id[used], sizeof id[used], "%s-%s", name, what);
  check_point("least_squares", id[used++], actual);
}

static void robust_plane(void **state)
{
  (void)state;
  static const char *const coef[] = {"coef-intercept", "coef-air-flow", "coef-water-temp",
                                     "coef-acid-conc"};
  static const char *const se[] = {"se-intercept", "se-air-flow", "se-water-temp", "se-acid-conc"};
  static const struct {
    const char *name;
    rw_robust how;
    int plain;
  } fits[] = {
      {"huber", {.loss = RW_LOSS_HUBER, .scale = RW_SCALE_MEDIAN}, 1},
      {"bisquare", {.loss = RW_LOSS_BISQUARE, .scale = RW_SCALE_MEDIAN}, 1},
      {"huber-proposal2", {.loss = RW_LOSS_HUBER, .scale = RW_SCALE_PROPOSAL}, 1},
      {"leverage-huber", {.loss = RW_LOSS_HUBER, .scale = RW_SCALE_LEVERAGE}, 0},
      {"leverage-bisquare", {.loss = RW_LOSS_BISQUARE, .scale = RW_SCALE_LEVERAGE}, 0},
  };
  plant q = read_plant();
  const rw_least_squares problem = {.f = plane, .context = &q, .n = q.n, .p = 4};
  for (size_t i = 0; i < sizeof fits / sizeof *fits; i++) {
    const double start[4] = {0, 0, 0, 0};
    double scale, weight[32];
    rw_least_squares_fit fit;
    rw_error err;
    assert_ok(rw_num_robust(&problem, &fits[i].how, start, &fit, &scale, weight, &err), &err);
    for (size_t j = 0; j < 4; j++)
      point(fits[i].name, coef[j], fit.x[j]);
    point(fits[i].name, "weight-4", weight[3]);
    point(fits[i].name, "weight-21", weight[20]);
    if (!fits[i].plain)
      continue;
    point(fits[i].name, "weight-3", weight[2]);
    point(fits[i].name, "scale", scale);
    for (size_t j = 0; j < 4; j++)
      point(fits[i].name, se[j], fit.sd[j]);
  }
}

/* A curve with two gross errors, its scale known. */
static void robust_curve(void **state)
{
  (void)state;
  static const struct {
    const char *name;
    rw_num_loss loss;
  } fits[] = {{"outliers-ols", RW_LOSS_SQUARES},
              {"outliers-huber", RW_LOSS_HUBER},
              {"outliers-bisquare", RW_LOSS_BISQUARE}};
  set q = {.name = "outliers", .f = misra1a, .p = 2};
  rw_table *t = check_table("table_outliers");
  for (size_t i = 0; i < rw_table_rows(t); i++) {
    q.x[q.n] = check_cell(t, i, "t_h");
    q.y[q.n++] = check_cell(t, i, "alpha");
  }
  rw_table_destroy(t);
  rw_least_squares problem = problem_of(&q);
  for (size_t i = 0; i < 3; i++) {
    const rw_robust how = {.loss = fits[i].loss, .scale = RW_SCALE_FIXED, .sd = 0.01};
    const double start[2] = {1, 0.1};
    double weight[MOST_POINTS];
    rw_least_squares_fit fit;
    rw_error err;
    assert_ok(rw_num_robust(&problem, &how, start, &fit, NULL, weight, &err), &err);
    point(fits[i].name, "a", fit.x[0]);
    point(fits[i].name, "k", fit.x[1]);
    if (fits[i].loss == RW_LOSS_HUBER) {
      point(fits[i].name, "weight-5h", weight[6]);
      point(fits[i].name, "weight-12h", weight[10]);
    } else if (fits[i].loss == RW_LOSS_BISQUARE) {
      assert_close(weight[6], 0, 0);
      assert_close(weight[10], 0, 0);
    }
  }
}

static void profile_limits(void **state)
{
  (void)state;
  rw_table *t = check_table("table_profile_limits");
  assert_true(rw_table_rows(t) >= 22);
  for (size_t i = 0; i < rw_table_rows(t); i++) {
    set *q = named(check_text(t, i, "problem"));
    size_t j = (size_t)(check_text(t, i, "parameter")[1] - '1');
    rw_least_squares problem = problem_of(q);
    rw_least_squares_fit fit;
    double low, high;
    rw_error err;
    assert_ok(rw_num_least_squares(&problem, q->start[1], &fit, &err), &err);
    double level = check_cell(t, i, "level");
    if (rw_num_profile(&problem, &fit, j, level, &low, &high, &err) != RW_OK)
      fail_msg("%s: %s", q->name, err.message);
    double below = check_cell(t, i, "low"), above = check_cell(t, i, "high");
    assert_close(low, below, 1e-6 * (above - below));
    assert_close(high, above, 1e-6 * (above - below));
    assert_close(rw_num_student_quantile(0.5 + level / 2, fit.freedom),
                 check_cell(t, i, "t_quantile"), 1e-11);
  }
  rw_table_destroy(t);
}

static void every_point_used(void **state)
{
  (void)state;
  check_all_points_used("least_squares");
}

int main(void)
{
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(derivatives),          cmocka_unit_test(from_the_second_start),
      cmocka_unit_test(from_the_first_start), cmocka_unit_test(robust_plane),
      cmocka_unit_test(robust_curve),         cmocka_unit_test(profile_limits),
      cmocka_unit_test(every_point_used),
  };
  return cmocka_run_group_tests(tests, read_sets, NULL);
}
