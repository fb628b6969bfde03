/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tins and batch sheet: since when was the ratio off? */
#include <resinwright/cure.h>

#include <resinwright/num.h>

#include <math.h>

enum { MOST = 200, MOST_NODES = 100000, LEAST_NODES = 400 };

static const double OFF_LOW = 0.05, OFF_HIGH = 5; /* ratios looked at */
static const double FLOOR = 1e-3;                 /* no tin tells r more closely */
static const double TOLD = 0.95;
static const double LOG_TWO_PI = 1.83787706640934548356;

const char *rw_ledger_story_key(rw_ledger_story s)
{
  switch (s) {
#define RW_X(name, key, text)                                                                     \
  case name:                                                                                      \
    return key;
    RW_LEDGER_STORY_LIST(RW_X)
#undef RW_X
  case RW_LEDGER_STORIES:
    break;
  }
  return NULL;
}

const char *rw_ledger_story_text(rw_ledger_story s)
{
  switch (s) {
#define RW_X(name, key, text)                                                                     \
  case name:                                                                                      \
    return text;
    RW_LEDGER_STORY_LIST(RW_X)
#undef RW_X
  case RW_LEDGER_STORIES:
    break;
  }
  return NULL;
}

/* A ledger made ready: each batch's share of the resin, and its note's weight. */
typedef struct books {
  const rw_ledger *l;
  double share[MOST];
  double note[MOST]; /* 0 where no ratio is noted; batches noted alike count as one */
  rw_value r;
} books;

static rw_status bad_batch(const char *function, size_t i, const char *what, double value,
                           double low, double high, const char *unit, rw_error *err)
{
  rw_status status =
      rw_error_range(err, function, what, value, low, high, unit, "Leave out what was not noted.");
  rw_error_place(err, (long)i + 1, 0);
  return status;
}

static rw_status check_batches(const char *function, const rw_ledger *l, rw_error *err)
{
  for (size_t i = 0; i < l->n; i++) {
    const rw_batch_note *b = &l->batch[i];
    if (!isnan(b->resin) && !(b->resin >= 1e-4 && b->resin <= 1e3))
      return bad_batch(function, i, "resin of a batch", b->resin, 1e-4, 1e3, "kg", err);
    if (!isnan(b->r) && !(b->r >= OFF_LOW && b->r <= OFF_HIGH))
      return bad_batch(function, i, "ratio of a batch", b->r, OFF_LOW, OFF_HIGH, "", err);
  }
  return RW_OK;
}

static rw_status check_spreads(const char *function, const rw_ledger *l, rw_error *err)
{
  const struct {
    const char *name;
    double value, low;
  } spreads[] = {
      {"mass_sd", l->mass_sd, 0}, {"ratio_sd", l->ratio_sd, 0}, {"note_sd", l->note_sd, 0.02}};
  for (int i = 0; i < 3; i++)
    if (!(spreads[i].value >= spreads[i].low && spreads[i].value <= 1))
      return rw_error_range(err, function, spreads[i].name, spreads[i].value, spreads[i].low, 1,
                            "", "Give a share: 0.05 is five per cent.");
  return RW_OK;
}

static void fill_shares(books *b)
{
  const rw_ledger *l = b->l;
  double noted = 0, sum = 0;
  size_t count = 0;
  for (size_t i = 0; i < l->n; i++)
    if (!isnan(l->batch[i].resin)) {
      noted += l->batch[i].resin;
      count++;
    }
  double mean = count > 0 ? noted / (double)count : 1;
  for (size_t i = 0; i < l->n; i++) {
    b->share[i] = isnan(l->batch[i].resin) ? mean : l->batch[i].resin;
    sum += b->share[i];
  }
  for (size_t i = 0; i < l->n; i++)
    b->share[i] /= sum;
}

static void fill_notes(books *b)
{
  const rw_ledger *l = b->l;
  for (size_t i = 0; i < l->n; i++) {
    int alike = l->batch[i].alike, same = 0;
    for (size_t j = 0; j < l->n; j++)
      same += !isnan(l->batch[j].r) && (j == i || (alike > 0 && l->batch[j].alike == alike));
    b->note[i] = isnan(l->batch[i].r) ? 0 : 1.0 / same;
  }
}

static rw_status open_books(const char *function, const rw_ledger *l, books *b, rw_error *err)
{
  if (l->n < 1 || l->n > MOST || l->batch == NULL)
    return rw_error_range(err, function, "n", l->batch == NULL ? 0 : (double)l->n, 1, MOST, "",
                          "Give the batches in the order they were mixed.");
  rw_status status = check_batches(function, l, err);
  if (status == RW_OK)
    status = check_spreads(function, l, err);
  if (status == RW_OK)
    status = rw_ratio_used(l->resin, l->hardener, l->needed, &b->r, err);
  if (status < 0)
    return status;
  b->l = l;
  fill_shares(b);
  fill_notes(b);
  return status;
}

/* Sums over the batches of one side of a change. */
typedef struct side {
  double w, ww;     /* shares, shares squared */
  double c, s1, s2; /* notes: count, sum of ln r, of its square */
} side;

static void put(side *s, const books *b, size_t i, double sign)
{
  double w = b->share[i], c = b->note[i];
  double x = c > 0 ? log(b->l->batch[i].r) : 0;
  s->w += sign * w;
  s->ww += sign * w * w;
  s->c += sign * c;
  s->s1 += sign * c * x;
  s->s2 += sign * c * x * x;
}

/* Hardener expected to be gone, from the mean ratio and the sum over batches of share^2 (r -
 * mean)^2 and of share^2 r^2. */
static rw_value expected(const books *b, double mean, double apart, double squares)
{
  const rw_ledger *l = b->l;
  double whole = l->resin.value * l->needed.value;
  double tins = mean * hypot(l->resin.sd * l->needed.value, l->resin.value * l->needed.sd);
  double mixing = whole * sqrt(l->mass_sd * l->mass_sd * apart +
                               l->ratio_sd * l->ratio_sd * squares + FLOOR * FLOOR);
  double sd = hypot(tins, mixing);
  return (rw_value){whole * mean, sd};
}

static double log_normal_density(double x, double sd)
{
  return -0.5 * (x / sd) * (x / sd) - log(sd) - 0.5 * LOG_TWO_PI;
}

static double tins_say(const books *b, double mean, double apart, double squares)
{
  rw_value e = expected(b, mean, apart, squares);
  return log_normal_density(b->l->hardener.value - e.value, hypot(e.sd, b->l->hardener.sd));
}

static double notes_say(const side *s, double log_r, double sd)
{
  return -0.5 * (s->s2 - 2 * log_r * s->s1 + log_r * log_r * s->c) / (sd * sd);
}

/* Likelihood where one side has ratio x and the other is right. */
static double both_say(const books *b, const side *off, const side *right, double log_x)
{
  double x = exp(log_x), mean = off->w * x + right->w;
  double apart = off->ww * (x - mean) * (x - mean) + right->ww * (1 - mean) * (1 - mean);
  return tins_say(b, mean, apart, off->ww * x * x + right->ww) +
         notes_say(off, log_x, b->l->note_sd) + notes_say(right, 0, b->l->note_sd);
}

/* A sum of exponentials, kept as its logarithm. */
typedef struct log_sum {
  double most, sum;
} log_sum;

static void add(log_sum *s, double x)
{
  if (x == -HUGE_VAL)
    return;
  if (x > s->most) {
    s->sum = s->sum * exp(s->most - x) + 1;
    s->most = x;
  } else {
    s->sum += exp(x - s->most);
  }
}

static double total(const log_sum *s)
{
  return s->sum > 0 ? s->most + log(s->sum) : -HUGE_VAL;
}

/* The mean likelihood over the ratio of the batches that are off, and its likeliest. */
static double average(const books *b, const side *off, const side *right, double *best_x,
                      double *best)
{
  const rw_ledger *l = b->l;
  double range = log(OFF_HIGH / OFF_LOW);
  double fine = hypot(FLOOR, l->hardener.sd / (l->resin.value * l->needed.value)) / OFF_HIGH;
  double wanted = ceil(4 * range / fine);
  int nodes = (int)fmin(fmax(wanted, LEAST_NODES), MOST_NODES);
  log_sum sum = {-HUGE_VAL, 0};
  *best = -HUGE_VAL;
  for (int i = 0; i < nodes; i++) {
    double log_x = log(OFF_LOW) + range * (i + 0.5) / nodes;
    double say = both_say(b, off, right, log_x);
    add(&sum, say);
    if (say > *best) {
      *best = say;
      *best_x = exp(log_x);
    }
  }
  return total(&sum) - log(nodes);
}

/* Batches noted alike must stay on one side. */
static int may_change(const rw_ledger *l, size_t after)
{
  for (size_t i = 0; i < after; i++)
    for (size_t j = after; l->batch[i].alike > 0 && j < l->n; j++)
      if (l->batch[j].alike == l->batch[i].alike)
        return 0;
  return 1;
}

/* What each place of the change says, for a side that is off. */
typedef struct changes {
  double say[MOST]; /* by the count of batches before it, from 1 */
  size_t count;
} changes;

static void try_changes(const books *b, const side *all, rw_ledger_story story, changes *c,
                        rw_ledger_result *o)
{
  side first = {0}, rest = *all;
  log_sum sum = {-HUGE_VAL, 0};
  double top = -HUGE_VAL;
  c->count = 0;
  for (size_t k = 1; k < b->l->n; k++) {
    put(&first, b, k - 1, 1);
    put(&rest, b, k - 1, -1);
    c->say[k] = -HUGE_VAL;
    if (!may_change(b->l, k))
      continue;
    int mended = story == RW_LEDGER_MENDED;
    double x = NAN, best;
    c->say[k] = average(b, mended ? &first : &rest, mended ? &rest : &first, &x, &best);
    add(&sum, c->say[k]);
    c->count++;
    if (best > top) {
      top = best;
      o->turn[story] = k;
      o->off[story] = x;
    }
  }
  o->log_likelihood[story] = c->count > 0 ? total(&sum) - log((double)c->count) : -HUGE_VAL;
}

static void weigh(rw_ledger_result *o)
{
  log_sum sum = {-HUGE_VAL, 0};
  for (int s = 0; s < RW_LEDGER_STORIES; s++)
    add(&sum, o->log_likelihood[s]);
  o->best = RW_LEDGER_RIGHT;
  for (int s = 0; s < RW_LEDGER_STORIES; s++) {
    o->weight[s] = exp(o->log_likelihood[s] - total(&sum));
    if (o->weight[s] > o->weight[o->best])
      o->best = (rw_ledger_story)s;
  }
  o->told = o->weight[o->best] >= TOLD;
}

/* Chance that each batch was off, by all stories and places of the change. */
static void blame(const rw_ledger_result *o, const changes *turned, const changes *mended,
                  size_t n, double *off)
{
  for (size_t i = 0; i < n; i++)
    off[i] = o->weight[RW_LEDGER_START];
  for (size_t k = 1; k < n; k++) {
    double t = 0, m = 0;
    if (turned->count > 0)
      t = o->weight[RW_LEDGER_TURNED] * exp(turned->say[k] - o->log_likelihood[RW_LEDGER_TURNED]) /
          (double)turned->count;
    if (mended->count > 0)
      m = o->weight[RW_LEDGER_MENDED] * exp(mended->say[k] - o->log_likelihood[RW_LEDGER_MENDED]) /
          (double)mended->count;
    for (size_t i = 0; i < n; i++)
      off[i] += i < k ? m : t;
  }
  for (size_t i = 0; i < n; i++)
    off[i] = fmin(off[i], 1);
}

rw_status rw_ledger_test(const rw_ledger *l, const double *r, rw_ledger_fit *out, rw_error *err)
{
  const char *function = "rw_ledger_test";
  books b;
  rw_status status = open_books(function, l, &b, err);
  if (status < 0)
    return status;
  double mean = 0, apart = 0, squares = 0;
  for (size_t i = 0; i < l->n; i++) {
    if (!(r[i] >= 0 && r[i] <= OFF_HIGH))
      return bad_batch(function, i, "guessed ratio of a batch", r[i], 0, OFF_HIGH, "", err);
    mean += b.share[i] * r[i];
  }
  for (size_t i = 0; i < l->n; i++) {
    double w = b.share[i];
    apart += w * w * (r[i] - mean) * (r[i] - mean);
    squares += w * w * r[i] * r[i];
  }
  rw_ledger_fit o = {.hardener = expected(&b, mean, apart, squares)};
  o.z = (l->hardener.value - o.hardener.value) / hypot(o.hardener.sd, l->hardener.sd);
  o.chance = 2 * rw_num_normal_cdf(-fabs(o.z));
  o.log_likelihood = tins_say(&b, mean, apart, squares);
  *out = o;
  return status;
}

rw_status rw_ledger_compare(const rw_ledger *l, rw_ledger_result *out, double *off, rw_error *err)
{
  books b;
  rw_status status = open_books("rw_ledger_compare", l, &b, err);
  if (status < 0)
    return status;
  rw_ledger_result o = {.r = b.r};
  side all = {0}, none = {0};
  for (size_t i = 0; i < l->n; i++)
    put(&all, &b, i, 1);
  double best;
  o.off[RW_LEDGER_RIGHT] = 1;
  o.log_likelihood[RW_LEDGER_RIGHT] = both_say(&b, &none, &all, 0);
  o.log_likelihood[RW_LEDGER_START] = average(&b, &all, &none, &o.off[RW_LEDGER_START], &best);
  changes turned, mended;
  o.off[RW_LEDGER_TURNED] = o.off[RW_LEDGER_MENDED] = NAN;
  try_changes(&b, &all, RW_LEDGER_TURNED, &turned, &o);
  try_changes(&b, &all, RW_LEDGER_MENDED, &mended, &o);
  weigh(&o);
  if (off != NULL)
    blame(&o, &turned, &mended, l->n, off);
  *out = o;
  return status;
}
