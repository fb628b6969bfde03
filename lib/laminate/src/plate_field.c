/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading a solved panel: one place, and the greatest of something over all places. */
#include "plate_common.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { OPERATORS = 16 };

size_t rw_plate_operators(int sheared, int plane, plate_operator list[16])
{
  static const plate_operator thin[] = {{0, PLATE_W, PLATE_F, PLATE_F, 1},
                                        {PLATE_KX, PLATE_W, PLATE_F2, PLATE_F, -1},
                                        {PLATE_KX + 1, PLATE_W, PLATE_F, PLATE_F2, -1},
                                        {PLATE_KX + 2, PLATE_W, PLATE_F1, PLATE_F1, -2}};
  static const plate_operator thick[] = {{0, PLATE_W, PLATE_F, PLATE_F, 1},
                                         {PLATE_KX, PLATE_TURN_X, PLATE_P1, PLATE_F, 1},
                                         {PLATE_KX + 1, PLATE_TURN_Y, PLATE_F, PLATE_P1, 1},
                                         {PLATE_KX + 2, PLATE_TURN_X, PLATE_P, PLATE_F1, 1},
                                         {PLATE_KX + 2, PLATE_TURN_Y, PLATE_F1, PLATE_P, 1},
                                         {PLATE_GX, PLATE_W, PLATE_F1, PLATE_F, 1},
                                         {PLATE_GX, PLATE_TURN_X, PLATE_P, PLATE_F, 1},
                                         {PLATE_GX + 1, PLATE_W, PLATE_F, PLATE_F1, 1},
                                         {PLATE_GX + 1, PLATE_TURN_Y, PLATE_F, PLATE_P, 1}};
  static const plate_operator stretch[] = {{PLATE_EX, PLATE_U, PLATE_F1, PLATE_P, 1},
                                           {PLATE_EX + 1, PLATE_V, PLATE_P, PLATE_F1, 1},
                                           {PLATE_EX + 2, PLATE_U, PLATE_F, PLATE_P1, 1},
                                           {PLATE_EX + 2, PLATE_V, PLATE_P1, PLATE_F, 1}};
  size_t n = sheared ? sizeof thick / sizeof thick[0] : sizeof thin / sizeof thin[0];
  memcpy(list, sheared ? thick : thin, n * sizeof list[0]);
  if (plane) {
    memcpy(list + n, stretch, sizeof stretch);
    n += sizeof stretch / sizeof stretch[0];
  }
  return n;
}

/* In four sums side by side, since each addition waits for the one before it. */
static double dot(const double *a, const double *b, size_t n)
{
  double first = 0, second = 0, third = 0, fourth = 0;
  size_t i = 0;
  for (; i + 4 <= n; i += 4) {
    first += a[i] * b[i];
    second += a[i + 1] * b[i + 1];
    third += a[i + 2] * b[i + 2];
    fourth += a[i + 3] * b[i + 3];
  }
  for (; i < n; i++)
    first += a[i] * b[i];
  return (first + second) + (third + fourth);
}

/* The sum over y of every operator, which leaves functions of x: one row of x.n for each. */
static void fix_y(const plate_sum *sum, const plate_operator *list, size_t many,
                  const double *y_values, double *rest)
{
  size_t nx = sum->x.n, ny = sum->y.n;
  for (size_t i = 0; i < many; i++) {
    const double *c = sum->c[list[i].field], *v = y_values + (size_t)list[i].y_table * ny;
    for (size_t k = 0; k < nx; k++)
      rest[i * nx + k] = dot(c + k * ny, v, ny);
  }
}

/* Strains, loads and faces from what the operators read. */
static void complete(const rw_bent_plate *p, const double output[PLATE_OUTPUTS],
                     rw_plate_point *out)
{
  const rw_stack *s = &p->stack;
  double strain[6];
  memcpy(strain + 3, output + PLATE_KX, 3 * sizeof *strain);
  memcpy(strain, output + PLATE_EX, 3 * sizeof *strain);
  double *load = out->load;
  if (p->result.coupling == RW_COUPLING_ANGLE) {
    for (size_t i = 0; i < 3; i++) {
      load[i] = load[i + 3] = 0;
      for (size_t j = 0; j < 3; j++) {
        load[i] += s->A[3 * i + j] * strain[j] + s->B[3 * i + j] * strain[j + 3];
        load[i + 3] += s->B[3 * i + j] * strain[j] + s->D[3 * i + j] * strain[j + 3];
      }
    }
  } else {
    for (size_t i = 0; i < 3; i++) {
      load[i] = load[i + 3] = 0;
      for (size_t j = 0; j < 3; j++)
        load[i + 3] += p->bend[3 * i + j] * strain[j + 3];
    }
    rw_stack_strain(s, load, strain);
  }
  memcpy(out->strain, strain, sizeof strain);
  out->deflection = output[0];
  const double *h = p->plate.shear;
  out->force[0] = h[0] * output[PLATE_GX] + h[2] * output[PLATE_GX + 1];
  out->force[1] = h[2] * output[PLATE_GX] + h[1] * output[PLATE_GX + 1];
  for (size_t i = 0; i < 3; i++) {
    out->lower[i] = strain[i] - strain[i + 3] * s->thickness / 2;
    out->upper[i] = strain[i] + strain[i + 3] * s->thickness / 2;
  }
}

static void read_off(const plate_sum *sum, const plate_operator *list, size_t many,
                     const double *x_values, const double *rest, double output[PLATE_OUTPUTS])
{
  size_t nx = sum->x.n;
  for (size_t i = 0; i < many; i++) {
    const double *v = x_values + (size_t)list[i].x_table * nx;
    output[list[i].output] += list[i].factor * dot(v, rest + i * nx, nx);
  }
}

void rw_plate_point_at(const rw_bent_plate *p, double x, double y, rw_plate_point *out)
{
  double output[PLATE_OUTPUTS] = {0}, values[PLATE_TABLES * PLATE_MOST_TERMS];
  double rest[OPERATORS * PLATE_MOST_TERMS];
  for (size_t i = 0; i < PLATE_SUMS; i++) {
    const plate_sum *sum = &p->sum[i];
    if (sum->x.n == 0)
      continue;
    plate_operator list[OPERATORS];
    size_t many = rw_plate_operators(p->sheared, sum->c[PLATE_U] != NULL, list);
    rw_plate_side_values(&sum->y, y, values);
    fix_y(sum, list, many, values, rest);
    rw_plate_side_values(&sum->x, x, values);
    read_off(sum, list, many, values, rest, output);
  }
  out->x = x;
  out->y = y;
  complete(p, output, out);
}

void rw_plate_slopes(const rw_bent_plate *p, const double *x, size_t n, double y, double (*out)[3])
{
  static const plate_operator list[] = {{0, PLATE_W, PLATE_F, PLATE_F, 1},
                                        {1, PLATE_W, PLATE_F1, PLATE_F, 1},
                                        {2, PLATE_W, PLATE_F, PLATE_F1, 1}};
  double values[PLATE_TABLES * PLATE_MOST_TERMS], rest[3 * PLATE_MOST_TERMS];
  memset(out, 0, n * sizeof *out);
  for (size_t s = 0; s < PLATE_SUMS; s++) {
    const plate_sum *sum = &p->sum[s];
    if (sum->x.n == 0)
      continue;
    rw_plate_side_values(&sum->y, y, values);
    fix_y(sum, list, 3, values, rest);
    for (size_t i = 0; i < n; i++) {
      double output[PLATE_OUTPUTS] = {0};
      rw_plate_side_values(&sum->x, x[i], values);
      read_off(sum, list, 3, values, rest, output);
      for (size_t k = 0; k < 3; k++)
        out[i][k] += output[k];
    }
  }
}

double rw_plate_principal(const double e[3])
{
  double mean = (e[0] + e[1]) / 2, radius = hypot((e[0] - e[1]) / 2, e[2] / 2);
  return mean >= 0 ? mean + radius : mean - radius;
}

double rw_plate_surface(const rw_plate_point *point)
{
  double low = rw_plate_principal(point->lower), high = rw_plate_principal(point->upper);
  return fabs(low) > fabs(high) * (1 + 1e-9) ? low : high;
}

enum { LINES = 49, MOST_LINES = LINES + PLATE_LOADS };

/* Even lines from edge to edge, and one through each patch. */
static size_t lines(double length, const double *patch, size_t patches, double place[MOST_LINES])
{
  for (size_t i = 0; i < LINES; i++)
    place[i] = length * (double)i / (LINES - 1);
  for (size_t i = 0; i < patches; i++)
    place[LINES + i] = patch[i];
  return LINES + patches;
}

typedef struct walk {
  const rw_bent_plate *p;
  rw_plate_measure *measure;
  void *context;
  rw_plate_point best;
  double most;
} walk;

/* Where two resting edges meet, D16 and D26 make the strains of a thin plate grow without limit
 * towards the corner: such corners are left out by a twentieth of the short side. */
static int in_sharp_corner(const rw_bent_plate *p, double x, double y)
{
  const rw_plate *plate = &p->plate;
  if (p->straight || plate->edge_x == RW_EDGE_CLAMPED || plate->edge_y == RW_EDGE_CLAMPED)
    return 0;
  return hypot(fmin(x, plate->a - x), fmin(y, plate->b - y)) < fmin(plate->a, plate->b) / 20;
}

static void look(walk *w, const rw_plate_point *point)
{
  if (in_sharp_corner(w->p, point->x, point->y))
    return;
  double found = w->measure(point, w->context);
  if (found > w->most) {
    w->most = found;
    w->best = *point;
  }
}

/* Steps of half the length wherever the four neighbours are no better. */
static void climb(walk *w)
{
  double a = w->p->plate.a, b = w->p->plate.b;
  double step = 0.5 / (LINES - 1);
  for (int i = 0; i < 60 && step > 1e-4; i++) {
    double before = w->most, x = w->best.x, y = w->best.y;
    const double way[4][2] = {{1, 0}, {-1, 0}, {0, 1}, {0, -1}};
    for (size_t j = 0; j < 4; j++) {
      rw_plate_point point;
      rw_plate_point_at(w->p, fmin(fmax(x + way[j][0] * step * a, 0), a),
                        fmin(fmax(y + way[j][1] * step * b, 0), b), &point);
      look(w, &point);
    }
    if (!(w->most > before))
      step /= 2;
  }
}

void rw_plate_climb(const rw_bent_plate *p, rw_plate_measure *measure, void *context,
                    rw_plate_point *best)
{
  walk w = {.p = p, .measure = measure, .context = context, .most = -HUGE_VAL};
  rw_plate_point_at(p, best->x, best->y, best);
  look(&w, best);
  climb(&w);
  *best = w.best;
}

/* What every line of constant x needs of every sum, and room for one of constant y. */
typedef struct network {
  double x[MOST_LINES], y[MOST_LINES];
  size_t across, along;
  plate_operator list[PLATE_SUMS][OPERATORS];
  size_t many[PLATE_SUMS];
  double *x_values[PLATE_SUMS], *y_values, *rest[PLATE_SUMS];
} network;

static void walk_lines(walk *w, const network *net)
{
  const rw_bent_plate *p = w->p;
  for (size_t j = 0; j < net->along; j++) {
    for (size_t s = 0; s < PLATE_SUMS; s++) {
      if (p->sum[s].x.n == 0)
        continue;
      rw_plate_side_values(&p->sum[s].y, net->y[j], net->y_values);
      fix_y(&p->sum[s], net->list[s], net->many[s], net->y_values, net->rest[s]);
    }
    for (size_t i = 0; i < net->across; i++) {
      double output[PLATE_OUTPUTS] = {0};
      for (size_t s = 0; s < PLATE_SUMS; s++)
        if (p->sum[s].x.n > 0)
          read_off(&p->sum[s], net->list[s], net->many[s],
                   net->x_values[s] + i * PLATE_TABLES * p->sum[s].x.n, net->rest[s], output);
      rw_plate_point point = {.x = net->x[i], .y = net->y[j]};
      complete(p, output, &point);
      look(w, &point);
    }
  }
}

static int make_network(const rw_bent_plate *p, network *net)
{
  net->across = lines(p->plate.a, p->patch_x, p->patches, net->x);
  net->along = lines(p->plate.b, p->patch_y, p->patches, net->y);
  net->y_values = malloc(PLATE_TABLES * PLATE_MOST_TERMS * sizeof *net->y_values);
  int done = net->y_values != NULL;
  for (size_t s = 0; s < PLATE_SUMS && done; s++) {
    const plate_sum *sum = &p->sum[s];
    size_t n = PLATE_TABLES * sum->x.n;
    if (n == 0)
      continue;
    net->many[s] = rw_plate_operators(p->sheared, sum->c[PLATE_U] != NULL, net->list[s]);
    net->x_values[s] = malloc(net->across * n * sizeof(double));
    net->rest[s] = malloc(OPERATORS * sum->x.n * sizeof(double));
    done = net->x_values[s] != NULL && net->rest[s] != NULL;
    for (size_t i = 0; i < net->across && done; i++)
      rw_plate_side_values(&sum->x, net->x[i], net->x_values[s] + i * n);
  }
  return done;
}

static void free_network(network *net)
{
  for (size_t s = 0; s < PLATE_SUMS; s++) {
    free(net->x_values[s]);
    free(net->rest[s]);
  }
  free(net->y_values);
  free(net);
}

rw_status rw_plate_search(const rw_bent_plate *p, rw_plate_measure *measure, void *context,
                          const char *function, rw_plate_point *best, rw_error *err)
{
  network *net = calloc(1, sizeof *net);
  if (net == NULL)
    return rw_plate_no_memory(function, err);
  int done = make_network(p, net);
  if (done) {
    walk w = {.p = p, .measure = measure, .context = context, .most = -HUGE_VAL};
    walk_lines(&w, net);
    climb(&w);
    *best = w.best;
  }
  free_network(net);
  return done ? RW_OK : rw_plate_no_memory(function, err);
}

size_t rw_plate_probe(const rw_bent_plate *p, double w[PLATE_PROBES], double strain[PLATE_PROBES])
{
  double a = p->plate.a, b = p->plate.b;
  double place[PLATE_PROBES][2] = {{a / 2, b / 2}, {0, b / 2}, {a, b / 2}, {a / 2, 0}, {a / 2, b}};
  size_t n = 5;
  for (size_t i = 0; i < p->patches; i++) {
    place[n][0] = p->patch_x[i];
    place[n++][1] = p->patch_y[i];
  }
  for (size_t i = 0; i < n; i++) {
    rw_plate_point point;
    rw_plate_point_at(p, place[i][0], place[i][1], &point);
    w[i] = point.deflection;
    strain[i] = fabs(rw_plate_surface(&point)); /* its sign may hang on rounding */
  }
  return n;
}
