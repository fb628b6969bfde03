/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stacks no other one beats. Sorted by their first goal, a stack can be beaten by earlier ones
 * only, in the goals from the second on: halves are done by themselves, then the first one strikes
 * out of the second (Kung, Luccio & Preparata 1975). */
#include "sweep.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { FEW = 24, DEEP = 64 };

typedef struct field {
  const double *key; /* goals numbers for each stack, the less the better */
  size_t goals;
  size_t *place;         /* different stacks, sorted */
  unsigned char *beaten; /* by place */
  size_t *room;          /* for places, twice as many */
} field;

static double key_of(const field *f, size_t place, size_t goal)
{
  return f->key[f->place[place] * f->goals + goal];
}

/* Strikes out of b what one of a beats, looking at goals from `goal` on, pair by pair. */
static void each_pair(const field *f, const size_t *a, size_t n, const size_t *b, size_t m,
                      size_t goal)
{
  for (size_t j = 0; j < m; j++) {
    const double *y = f->key + f->place[b[j]] * f->goals;
    for (size_t i = 0; i < n && !f->beaten[b[j]]; i++) {
      const double *x = f->key + f->place[a[i]] * f->goals;
      size_t k = goal;
      while (k < f->goals && x[k] <= y[k])
        k++;
      f->beaten[b[j]] = k == f->goals;
    }
  }
}

/* The same for the last goal: the best of a decides. */
static void last_goal(const field *f, const size_t *a, size_t n, const size_t *b, size_t m)
{
  double best = HUGE_VAL;
  for (size_t i = 0; i < n; i++)
    best = fmin(best, key_of(f, a[i], f->goals - 1));
  for (size_t j = 0; j < m; j++)
    f->beaten[b[j]] |= key_of(f, b[j], f->goals - 1) >= best;
}

/* A number of a and b near the middle of them all. */
static double middle(const field *f, const size_t *a, size_t n, const size_t *b, size_t m,
                     size_t goal)
{
  enum { SAMPLE = 31 };
  double v[SAMPLE];
  size_t taken = 0;
  for (; taken < SAMPLE; taken++) {
    size_t at = (2 * taken + 1) * (n + m) / (2 * SAMPLE), i = taken;
    double x = key_of(f, at < n ? a[at] : b[at - n], goal);
    for (; i > 0 && v[i - 1] > x; i--)
      v[i] = v[i - 1];
    v[i] = x;
  }
  return v[SAMPLE / 2];
}

/* Brings places with a number below `limit` (at most, with `equal`) to the front; how many. */
static size_t part(const field *f, size_t *a, size_t n, size_t goal, double limit, int equal)
{
  size_t low = 0;
  for (size_t i = 0; i < n; i++) {
    double x = key_of(f, a[i], goal);
    if (x < limit || (equal && x == limit)) {
      size_t swap = a[low];
      a[low++] = a[i];
      a[i] = swap;
    }
  }
  return low;
}

/* Takes those out of b that are beaten already; how many are left. */
static size_t standing(const field *f, size_t *b, size_t m)
{
  size_t left = 0;
  for (size_t j = 0; j < m; j++)
    if (!f->beaten[b[j]]) {
      size_t swap = b[left];
      b[left++] = b[j];
      b[j] = swap;
    }
  return left;
}

/* Strikes out of b what one of a beats in the goals from `goal` on. */
static void strike(const field *f, size_t *a, size_t n, size_t *b, size_t m, size_t goal,
                   int depth)
{
  m = standing(f, b, m);
  if (n == 0 || m == 0)
    return;
  if (goal + 1 == f->goals) {
    last_goal(f, a, n, b, m);
    return;
  }
  if (n <= FEW || m <= FEW || depth > DEEP) {
    each_pair(f, a, n, b, m, goal);
    return;
  }
  double limit = middle(f, a, n, b, m, goal);
  size_t below = part(f, a, n, goal, limit, 0);
  size_t until = below + part(f, a + below, n - below, goal, limit, 1);
  size_t under = part(f, b, m, goal, limit, 0);
  size_t reach = under + part(f, b + under, m - under, goal, limit, 1);
  /* What lies at the limit or below is at least as good in this goal as what lies at it or above;
   * the other way round nothing can be beaten. One of them lies at it, so that the rest is less.
   */
  strike(f, a, below, b, under, goal, depth + 1);
  strike(f, a + until, n - until, b + reach, m - reach, goal, depth + 1);
  strike(f, a, until, b + under, m - under, goal + 1, depth + 1);
}

/* Marks what is beaten among the places from `first` on. */
static void thin_out(const field *f, size_t first, size_t end)
{
  if (end - first < 2)
    return;
  size_t half = first + (end - first) / 2;
  thin_out(f, first, half);
  thin_out(f, half, end);
  size_t n = 0, m = 0, *a = f->room, *b = f->room + (half - first);
  for (size_t i = first; i < half; i++)
    if (!f->beaten[i])
      a[n++] = i;
  for (size_t i = half; i < end; i++)
    if (!f->beaten[i])
      b[m++] = i;
  strike(f, a, n, b, m, 1, 0);
}

/* Keeps one of equal stacks, and none that is not finite in a goal; how many. `order` is sorted.
 */
static size_t different(const field *f, const size_t *order, size_t n)
{
  size_t count = 0, width = f->goals * sizeof(double);
  for (size_t i = 0; i < n; i++) {
    const double *key = f->key + order[i] * f->goals;
    int known = 1;
    for (size_t g = 0; g < f->goals; g++)
      known = known && key[g] < HUGE_VAL;
    if (known && (count == 0 || memcmp(key, f->key + f->place[count - 1] * f->goals, width) != 0))
      f->place[count++] = order[i];
  }
  return count;
}

/* Writes what stands, and what is equal to it; how many. */
static size_t write_front(const field *f, const size_t *order, size_t n, size_t places,
                          size_t *front)
{
  size_t count = 0, width = f->goals * sizeof(double), at = 0;
  for (size_t i = 0; i < n && at < places; i++) {
    const double *key = f->key + order[i] * f->goals;
    if (memcmp(key, f->key + f->place[at] * f->goals, width) != 0) {
      if (at + 1 == places || f->place[at + 1] != order[i])
        continue; /* one that is not finite */
      at++;
    }
    if (!f->beaten[at])
      front[count++] = order[i];
  }
  return count;
}

/* Keys by stacks; a zero has no sign, so that equal numbers have equal bits. */
static void fill(double *key, const double *const *value, size_t n, const rw_goal *goal,
                 size_t goals)
{
  for (size_t i = 0; i < n; i++)
    for (size_t g = 0; g < goals; g++)
      key[i * goals + g] = rw_sweep_key(&goal[g], value, i) + 0.0;
}

rw_status rw_sweep_front(const double *const value[RW_MEASURES], size_t n, const rw_goal *goal,
                         size_t goals, size_t *front, size_t *count, rw_error *err)
{
  const char *me = "rw_sweep_front";
  if (value == NULL || front == NULL || count == NULL)
    return rw_laminate_missing(me,
                               value == NULL   ? "value"
                               : front == NULL ? "front"
                                               : "count",
                               err);
  if (n < 1)
    return rw_error_range(err, me, "n", 0, 1, HUGE_VAL, "", "compare at least one stack");
  rw_status status = rw_sweep_goals(goal, goals, value, 0, me, err);
  if (status != RW_OK)
    return status;
  double *key = malloc(n * goals * sizeof *key);
  size_t *room = malloc(4 * n * sizeof *room);
  unsigned char *beaten = calloc(n, 1);
  if (key != NULL && room != NULL && beaten != NULL) {
    size_t *order = room, *spare = room + n;
    field f = {key, goals, room + 3 * n, beaten, spare};
    fill(key, value, n, goal, goals);
    rw_sweep_sort(key, goals, n, order, spare);
    size_t places = different(&f, order, n);
    if (goals > 1)
      thin_out(&f, 0, places);
    else
      memset(beaten + (places > 0), 1, n - (places > 0));
    *count = write_front(&f, order, n, places, front);
  } else {
    status = rw_error_set(err, RW_ERR_MEMORY, me, NULL, NULL,
                          "not enough memory to compare %zu stacks", n);
  }
  free(key);
  free(room);
  free(beaten);
  return status;
}
