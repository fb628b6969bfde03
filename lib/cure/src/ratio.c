/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A mix off its ratio: what was used, what it can become, and the resin it makes. */
#include <resinwright/cure.h>

#include <resinwright/num.h>

#include <math.h>

static const double NINETY = 1.6448536269514722; /* 5 % and 95 % of the normal */
static const double RIGHT_BAND = 0.05;
static const double GLASS_SD = 8; /* K, of the highest Tg of a class */

static rw_status within(const char *function, const char *argument, double value, double low,
                        double high, const char *unit, const char *hint, rw_error *err)
{
  if (value >= low && value <= high)
    return RW_OK;
  return rw_error_range(err, function, argument, value, low, high, unit, hint);
}

static rw_status density_in(const char *function, const char *argument, double value,
                            rw_error *err)
{
  return within(function, argument, value, 500, 3000, "kg/m3",
                "Resin weighs about 1150 and hardener about 1000 kg per cubic metre.", err);
}

static rw_status needed_in(const char *function, double needed, rw_error *err)
{
  return within(function, "needed", needed, 0.01, 10, "",
                "Give the mass of hardener over the mass of resin: 100:44 is 0.44.", err);
}

static rw_status ratio_in(const char *function, double r, rw_error *err)
{
  return within(function, "r", r, 0.05, 5, "",
                "1 is the right ratio; 0.5 is half the hardener that is needed.", err);
}

rw_status rw_needed_by_volume(double resin, double hardener, double resin_density,
                              double hardener_density, double *needed, rw_error *err)
{
  const char *function = "rw_needed_by_volume";
  static const char HINT[] = "Give the parts on the label: 2 and 1 for two to one by volume.";
  rw_status status = within(function, "resin", resin, 1e-3, 1000, "", HINT, err);
  if (status == RW_OK)
    status = within(function, "hardener", hardener, 1e-3, 1000, "", HINT, err);
  if (status == RW_OK)
    status = density_in(function, "resin_density", resin_density, err);
  if (status == RW_OK)
    status = density_in(function, "hardener_density", hardener_density, err);
  if (status == RW_OK)
    *needed = hardener * hardener_density / (resin * resin_density);
  return status;
}

static rw_status check_pumps(const char *function, const rw_pumps *p, rw_error *err)
{
  static const char HINT[] = "Pump ten strokes into a cup and weigh them: a stroke is 5 to 30 mL.";
  rw_status status =
      within(function, "resin_stroke", p->resin_stroke, 1e-8, 1e-2, "m3", HINT, err);
  if (status == RW_OK)
    status = within(function, "hardener_stroke", p->hardener_stroke, 1e-8, 1e-2, "m3", HINT, err);
  if (status == RW_OK)
    status = density_in(function, "resin_density", p->resin_density, err);
  if (status == RW_OK)
    status = density_in(function, "hardener_density", p->hardener_density, err);
  return status;
}

rw_status rw_ratio_pumped(const rw_pumps *p, double resin, double hardener, double needed,
                          double *r, rw_error *err)
{
  const char *function = "rw_ratio_pumped";
  rw_status status = check_pumps(function, p, err);
  if (status == RW_OK)
    status = within(function, "resin", resin, 1e-3, 1e4, "", "Count the strokes of resin.", err);
  if (status == RW_OK)
    status =
        within(function, "hardener", hardener, 0, 1e4, "", "Count the strokes of hardener.", err);
  if (status == RW_OK)
    status = needed_in(function, needed, err);
  if (status == RW_OK)
    *r = hardener * p->hardener_stroke * p->hardener_density /
         (resin * p->resin_stroke * p->resin_density * needed);
  return status;
}

/* A mass or ratio with its spread. */
static rw_status value_in(const char *function, const char *argument, rw_value v, double low,
                          double high, const char *unit, const char *hint, rw_error *err)
{
  rw_status status = within(function, argument, v.value, low, high, unit, hint, err);
  if (status != RW_OK || (v.sd >= 0 && isfinite(v.sd)))
    return status;
  return rw_error_range(err, function, argument, v.sd, 0, HUGE_VAL, unit,
                        "A standard deviation is zero or more.");
}

rw_status rw_tin_loss(rw_value before, rw_value after, rw_value *loss, rw_error *err)
{
  const char *function = "rw_tin_loss";
  rw_status status = value_in(function, "before", before, 0, 1e4, "kg", NULL, err);
  if (status == RW_OK)
    status =
        value_in(function, "after", after, 0, before.value, "kg",
                 "A tin does not gain: were the two weighings swapped, or was it topped up?", err);
  if (status == RW_OK)
    *loss = (rw_value){before.value - after.value, hypot(before.sd, after.sd)};
  return status;
}

rw_status rw_ratio_used(rw_value resin, rw_value hardener, rw_value needed, rw_value *r,
                        rw_error *err)
{
  const char *function = "rw_ratio_used";
  rw_status status = value_in(function, "resin", resin, 1e-6, 1e4, "kg",
                              "Give what has gone from the resin tin.", err);
  if (status == RW_OK)
    status = value_in(function, "hardener", hardener, 0, 1e4, "kg",
                      "Give what has gone from the hardener tin.", err);
  if (status == RW_OK)
    status = needed_in(function, needed.value, err);
  if (status == RW_OK)
    status = value_in(function, "needed", needed, 0.01, 10, "", NULL, err);
  if (status != RW_OK)
    return status;
  double per = 1 / (resin.value * needed.value), value = hardener.value * per;
  double share = hypot(resin.sd / resin.value, needed.sd / needed.value);
  rw_value used = {value, hypot(hardener.sd * per, value * share)};
  *r = used;
  return used.sd > 0.3 * value ? RW_OUTSIDE_TESTED : RW_OK;
}

const char *rw_ratio_verdict_key(rw_ratio_verdict v)
{
  switch (v) {
#define RW_X(name, key, text)                                                                     \
  case name:                                                                                      \
    return key;
    RW_RATIO_VERDICT_LIST(RW_X)
#undef RW_X
  case RW_RATIO_VERDICTS:
    break;
  }
  return NULL;
}

const char *rw_ratio_verdict_text(rw_ratio_verdict v)
{
  switch (v) {
#define RW_X(name, key, text)                                                                     \
  case name:                                                                                      \
    return text;
    RW_RATIO_VERDICT_LIST(RW_X)
#undef RW_X
  case RW_RATIO_VERDICTS:
    break;
  }
  return NULL;
}

rw_status rw_ratio_glass(const rw_glass *g, double r, double a, double *Tg, rw_error *err)
{
  const char *function = "rw_ratio_glass";
  rw_status status = ratio_in(function, r, err);
  if (status == RW_OK)
    status = within(function, "a", a, 0, fmin(1, r), "",
                    "The epoxide cannot react further than the hardener reaches.", err);
  if (status != RW_OK)
    return status;
  return rw_glass_temperature(g, fmin(a / sqrt(r), 1), Tg, err);
}

/* From which ratio on a mix gels, may harden enough, surely does; the upper bounds are their
 * inverses. */
typedef struct bounds {
  double gels, doubtful, usable;
} bounds;

static double least_of(double r)
{
  return fmin(r, 1 / r);
}

static rw_ratio_verdict verdict_of(double r, const bounds *b)
{
  double least = least_of(r);
  if (fabs(r - 1) <= RIGHT_BAND)
    return RW_RATIO_RIGHT;
  if (least < b->gels)
    return RW_RATIO_LIQUID;
  if (least < b->doubtful)
    return RW_RATIO_SOFT;
  return least < b->usable ? RW_RATIO_DOUBTFUL : RW_RATIO_USABLE;
}

/* Chance that ln r lies between two ratios. */
static double chance_between(rw_value r, double low, double high)
{
  if (low >= high)
    return 0;
  double s = r.sd / r.value;
  return rw_num_normal_cdf(log(high / r.value) / s) - rw_num_normal_cdf(log(low / r.value) / s);
}

/* Chance that r lies between two ratios below the right band, or between their inverses above. */
static double chance_beside(rw_value r, double low, double high)
{
  double below = 1 - RIGHT_BAND, above = 1 + RIGHT_BAND;
  return chance_between(r, fmin(low, below), fmin(high, below)) +
         chance_between(r, fmax(1 / high, above), fmax(1 / low, above));
}

static void chances_of(rw_value r, const bounds *b, double chance[RW_RATIO_VERDICTS])
{
  for (int i = 0; r.sd == 0 && i < RW_RATIO_VERDICTS; i++)
    chance[i] = i == (int)verdict_of(r.value, b);
  if (r.sd == 0)
    return;
  chance[RW_RATIO_RIGHT] = chance_between(r, 1 - RIGHT_BAND, 1 + RIGHT_BAND);
  chance[RW_RATIO_USABLE] = chance_beside(r, b->usable, 1);
  chance[RW_RATIO_DOUBTFUL] = chance_beside(r, b->doubtful, b->usable);
  chance[RW_RATIO_SOFT] = chance_beside(r, b->gels, b->doubtful);
  double sum = 0;
  for (int i = 0; i < RW_RATIO_LIQUID; i++)
    sum += chance[i];
  chance[RW_RATIO_LIQUID] = fmax(1 - sum, 0);
}

/* Tg of a glass that has been checked. */
static double highest(const rw_glass *g, double a)
{
  double Tg = NAN;
  rw_glass_temperature(g, a, &Tg, NULL);
  return Tg;
}

/* The smallest and greatest of min(r, 1/r) over an interval. */
static rw_interval least_span(const rw_interval *r)
{
  double low = fmin(least_of(r->low), least_of(r->high));
  double high = r->low <= 1 && r->high >= 1 ? 1 : fmax(least_of(r->low), least_of(r->high));
  return (rw_interval){least_of(r->value), low, high};
}

static rw_interval highest_span(const rw_glass *g, const rw_interval *r)
{
  rw_interval l = least_span(r), Tg = {.value = highest(g, sqrt(l.value))};
  Tg.low = highest(g, l.low) - NINETY * GLASS_SD;
  Tg.high = highest(g, sqrt(l.high)) + NINETY * GLASS_SD;
  return Tg;
}

static rw_status find_need(const rw_resin *resin, double *need, double *a, rw_error *err)
{
  const rw_glass *g = &resin->glass;
  if (isnan(*need)) {
    *a = resin->threshold[RW_SERVICE].value;
    return rw_glass_temperature(g, *a, need, err);
  }
  rw_status status =
      within("rw_ratio_judge", "need", *need, 200, g->Tg_inf, "K",
             "This resin does not reach it even at its right ratio: ask for less.", err);
  if (status != RW_OK)
    return status;
  *a = 0;
  return *need <= g->Tg0 ? RW_OK : rw_glass_conversion(g, *need, a, err);
}

rw_status rw_ratio_judge(const rw_resin *resin, rw_value r, double fe, double fa, double need,
                         rw_ratio_state *out, rw_error *err)
{
  const char *function = "rw_ratio_judge";
  double a, unused, product = (fe - 1) * (fa - 1);
  rw_status status = rw_resin_check(resin, err);
  if (status >= 0)
    status = ratio_in(function, r.value, err);
  if (status == RW_OK)
    status = value_in(function, "r", r, 0.05, 5, "", NULL, err);
  if (status == RW_OK)
    status = rw_gel_conversion(1, fe, fa, &unused, err);
  if (status >= 0 && product < 1.2)
    status = rw_error_range(err, function, "fa", fa, 2.2, 10, "",
                            "Two epoxides on two hydrogens make chains only, never a network.");
  if (status >= 0)
    status = find_need(resin, &need, &a, err);
  if (status < 0)
    return status;
  bounds b = {.gels = fmin(1 / product, 1)};
  b.doubtful = fmax(a * a, b.gels);
  b.usable = fmax(a, b.gels);
  double s = r.sd / r.value;
  rw_ratio_state o = {.r = {r.value, r.value * exp(-NINETY * s), r.value * exp(NINETY * s)},
                      .epoxide = fmin(1, r.value),
                      .amine = fmin(1, 1 / r.value),
                      .gel = least_of(r.value) < b.gels ? NAN : sqrt(r.value / product),
                      .gels_from = b.gels,
                      .gels_to = 1 / b.gels,
                      .doubtful_from = b.doubtful,
                      .doubtful_to = 1 / b.doubtful,
                      .usable_from = b.usable,
                      .usable_to = 1 / b.usable,
                      .need = need,
                      .verdict = verdict_of(r.value, &b)};
  o.Tg = highest_span(&resin->glass, &o.r);
  o.warming_helps = o.verdict != RW_RATIO_SOFT && o.verdict != RW_RATIO_LIQUID;
  chances_of(r, &b, o.chance);
  for (int i = 0; i < RW_MILESTONES; i++)
    o.reach[i] = sqrt(least_of(r.value)) >= resin->threshold[i].value;
  o.reach[RW_WORK_END] = o.reach[RW_GEL] = least_of(r.value) >= b.gels;
  *out = o;
  return s > 0.3 ? RW_OUTSIDE_TESTED : RW_OK;
}

rw_status rw_ratio_resin(const rw_resin *right, double r, rw_resin *out, rw_error *err)
{
  const char *function = "rw_ratio_resin";
  rw_status status = rw_resin_check(right, err);
  if (status < 0)
    return status;
  rw_status off = ratio_in(function, r, err);
  if (off != RW_OK)
    return off;
  if (right->law.stiffening.k != 0)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "law.stiffening",
                        "Give a law that stiffens by its limit of conversion (C, ac0, acT).",
                        "the ratio of a law that stiffens with its glass transition cannot be "
                        "changed");
  status = needed_in(function, right->hardener, err);
  if (status != RW_OK)
    return status;
  rw_resin o = *right;
  double root = sqrt(r);
  o.law.C /= root;
  o.law.ac0 *= root;
  o.law.acT *= root;
  status = rw_cure_law_off_ratio(&o.law, r, &o.law, err);
  if (status < 0)
    return status;
  o.flow.a_gel = fmin(o.flow.a_gel * root, 1);
  o.flow.C2 /= root;
  o.heat *= (1 + right->hardener) / (1 + right->hardener * r);
  o.hardener *= r;
  for (int i = 0; i < RW_MILESTONES; i++) {
    if (i == RW_WORK_END)
      continue;
    o.threshold[i].value = fmin(o.threshold[i].value * root, 1);
    o.threshold[i].sd *= root;
  }
  *out = o;
  return status;
}

rw_status rw_ratio_forecast(const rw_resin *right, double r, const rw_history *hull, double from,
                            double to, double temperature_sd, size_t draws, unsigned long seed,
                            rw_forecast *out, rw_error *err)
{
  rw_resin mix;
  rw_forecast f;
  rw_status made = rw_ratio_resin(right, r, &mix, err);
  if (made < 0)
    return made;
  rw_status status = rw_cure_forecast(&mix, hull, from, to, temperature_sd, draws, seed, &f, err);
  if (status < 0)
    return status;
  for (int i = 0; r > 1 && i < RW_MILESTONES; i++)
    if (i != RW_WORK_END && mix.threshold[i].value >= 1)
      f.time[i] = f.low[i] = f.high[i] = f.half_low[i] = f.half_high[i] = HUGE_VAL;
  *out = f;
  return status > made ? status : made;
}
