/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "march.h"

#include <resinwright/num.h>

#include <math.h>
#include <string.h>

static const char FUNCTION[] = "rw_resin_from_label";
static const double CUP = 0.07;                     /* m */
static const double POT_SD = 0.25, RECOAT_SD = 0.3; /* of the logarithm of a labelled time */
static const double YEAR = 365 * 86400.0;
static const double DISAGREE = 0.69314718055994531; /* ln 2 */

static void scale(rw_resin *r, double log_rate)
{
  r->law = rw_cure_law_moved(&r->law, log_rate, 0);
}

/* Time to a conversion at a steady temperature; HUGE_VAL where a year does not do. */
static double steady_when(const rw_resin *r, double T, double a)
{
  march m;
  series_step step;
  double store[4];
  march_steady(&m, &r->law, T, YEAR, 1e-8, store);
  while (march_next(&m, &step) > 0)
    if (m.a >= a)
      return step.t + step_when(step.a, step.order, a) * step.h;
  return HUGE_VAL;
}

typedef struct pot_problem {
  const rw_resin *resin;
  rw_vessel cup;
  double mass;
  double temperature;
  double life;
} pot_problem;

/* Logarithm of the model's pot life over the label's, for a scaled rate. */
static double pot_misfit(double log_rate, void *context)
{
  const pot_problem *p = context;
  rw_resin r = *p->resin;
  rw_pot pot;
  scale(&r, log_rate);
  if (rw_pot_run(&r, &p->cup, p->mass, p->temperature, p->temperature, &pot, NULL) < 0)
    return NAN;
  return log(fmin(fmin(pot.work_end, pot.hot), 86400) / p->life);
}

/* What one labelled time says of the logarithm of the rate. */
typedef struct clue {
  const char *name;
  double log_rate;
  double sd;
} clue;

static rw_status pot_clue(const rw_resin *class_, const rw_label *label, clue *c, rw_error *err)
{
  pot_problem p = {.resin = class_,
                   .mass = isnan(label->pot_mass) ? 0.1 : label->pot_mass,
                   .temperature = label->pot_temperature,
                   .life = label->pot_life};
  rw_status status = rw_vessel_cup(CUP, &p.cup, err);
  if (status != RW_OK)
    return status;
  *c = (clue){.name = "pot life", .sd = POT_SD};
  status = rw_num_root(pot_misfit, &p, -5, 5, 1e-9, &c->log_rate, err);
  if (status == RW_OK)
    return status;
  return rw_error_set(err, RW_ERR_NUMERIC, FUNCTION, "pot_life",
                      "Check the time, the mass and the temperature on the label, and the class.",
                      "no rate within a factor of 150 of the class gives the pot life on the "
                      "label");
}

static rw_status film_clue(const rw_resin *class_, const rw_label *label, rw_milestone m,
                           double time, clue *c, rw_error *err)
{
  double t = steady_when(class_, label->recoat_temperature, class_->threshold[m].value);
  if (!(t < HUGE_VAL))
    return rw_error_set(err, RW_ERR_NUMERIC, FUNCTION, "recoat_temperature", NULL,
                        "a resin of this class does not reach \"%s\" at the label's recoat "
                        "temperature",
                        rw_milestone_key(m));
  *c = (clue){.name = m == RW_RECOAT_OPENS ? "recoat opening" : "recoat closing",
              .log_rate = log(t / time),
              .sd = RECOAT_SD};
  return RW_OK;
}

static rw_status check_time(const char *argument, double value, rw_error *err)
{
  if (isnan(value) || (value >= 60 && value <= 60 * 86400.0))
    return RW_OK;
  return rw_error_range(err, FUNCTION, argument, value, 60, 60 * 86400.0, "s",
                        "Labels say minutes for the pot and hours for recoating.");
}

static rw_status check_temperature(const char *argument, double value, int needed, rw_error *err)
{
  if (!needed && isnan(value))
    return RW_OK;
  if (isnan(value))
    return rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, argument,
                        "A time on a label holds at one temperature only; write that too.",
                        "%s is missing", argument);
  if (value >= 273.15 && value <= 323.15)
    return RW_OK;
  return rw_error_range(err, FUNCTION, argument, value, 273.15, 323.15, "K",
                        "Label temperatures lie between 0 and 50 degC; is it in Fahrenheit?");
}

static rw_status check(const rw_label *l, rw_error *err)
{
  rw_status status = check_time("pot_life", l->pot_life, err);
  if (status == RW_OK)
    status = check_time("recoat_from", l->recoat_from, err);
  if (status == RW_OK)
    status = check_time("recoat_until", l->recoat_until, err);
  int pot = !isnan(l->pot_life), recoat = !isnan(l->recoat_from) || !isnan(l->recoat_until);
  if (status == RW_OK && !pot && !recoat)
    return rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, "label",
                        "Give the pot life, or the recoat hours, or both.",
                        "the label says no time at all");
  if (status == RW_OK)
    status = check_temperature("pot_temperature", l->pot_temperature, pot, err);
  if (status == RW_OK)
    status = check_temperature("recoat_temperature", l->recoat_temperature, recoat, err);
  if (status == RW_OK && l->recoat_until <= l->recoat_from)
    return rw_error_range(err, FUNCTION, "recoat_until", l->recoat_until, l->recoat_from, HUGE_VAL,
                          "s", "The window closes after it opens.");
  if (status == RW_OK && !isnan(l->pot_mass) && !(l->pot_mass >= 0.01 && l->pot_mass <= 5))
    return rw_error_range(err, FUNCTION, "pot_mass", l->pot_mass, 0.01, 5, "kg", NULL);
  if (status == RW_OK && !isnan(l->hardener) && !(l->hardener >= 0.02 && l->hardener <= 2))
    return rw_error_range(err, FUNCTION, "hardener", l->hardener, 0.02, 2, "",
                          "Give kilograms of hardener per kilogram of resin: 100:44 is 0.44.");
  if (status == RW_OK && !isnan(l->density) && !(l->density >= 800 && l->density <= 1600))
    return rw_error_range(err, FUNCTION, "density", l->density, 800, 1600, "kg/m3",
                          "Mixed epoxy weighs about 1.1 g/cm3.");
  return status;
}

/* A class threshold on the scale where the two recoat thresholds have moved. */
static double moved(double c, double open, double close, double new_open, double new_close)
{
  if (c <= open)
    return c * new_open / open;
  if (c <= close)
    return new_open + (c - open) * (new_close - new_open) / (close - open);
  return 1 - (1 - c) * (1 - new_close) / (1 - close);
}

static rw_status move_thresholds(rw_resin *r, const rw_resin *class_, const rw_label *l,
                                 rw_error *err)
{
  double open = class_->threshold[RW_RECOAT_OPENS].value;
  double close = class_->threshold[RW_RECOAT_CLOSES].value;
  double T = l->recoat_temperature, new_open = open, new_close = close;
  if (!isnan(l->recoat_from))
    new_open = march_steady_cure(&r->law, T, l->recoat_from);
  if (!isnan(l->recoat_until))
    new_close = march_steady_cure(&r->law, T, l->recoat_until);
  if (!(new_open > 0 && new_close > new_open && new_close < 1))
    return rw_error_set(err, RW_ERR_NUMERIC, FUNCTION, "recoat_until",
                        "Check the recoat hours and their temperature against the label.",
                        "the label's recoat hours do not fit any cure of this class");
  for (int i = 0; i < RW_MILESTONES; i++)
    if (i != RW_WORK_END && i != RW_GEL)
      r->threshold[i].value = moved(class_->threshold[i].value, open, close, new_open, new_close);
  return RW_OK;
}

static rw_status disagreement(const clue *c, size_t n, rw_error *err)
{
  for (size_t i = 0; i < n; i++)
    for (size_t j = 0; j < i; j++)
      if (fabs(c[i].log_rate - c[j].log_rate) > DISAGREE) {
        int slower = c[i].log_rate < c[j].log_rate;
        rw_error_set(err, RW_OUTSIDE_TESTED, FUNCTION, "label",
                     "Take the class nearer to your hardener, and trust a test batch over both.",
                     "the %s on the label means a slower resin than its %s does, by more than a "
                     "factor of two for this class",
                     c[slower ? i : j].name, c[slower ? j : i].name);
        return RW_OUTSIDE_TESTED;
      }
  return RW_OK;
}

rw_status rw_resin_from_label(const rw_resin *class_, const rw_label *label, rw_resin *out,
                              rw_error *err)
{
  rw_status status = rw_resin_check(class_, err);
  rw_status checked = status < 0 ? status : check(label, err);
  if (checked != RW_OK)
    return checked;
  rw_resin r = *class_;
  if (!isnan(label->hardener))
    r.hardener = label->hardener;
  if (!isnan(label->density))
    r.density = label->density;

  clue clues[3];
  size_t n = 0;
  rw_status found = RW_OK;
  if (!isnan(label->pot_life))
    found = pot_clue(&r, label, &clues[n++], err);
  if (found == RW_OK && !isnan(label->recoat_from))
    found = film_clue(&r, label, RW_RECOAT_OPENS, label->recoat_from, &clues[n++], err);
  if (found == RW_OK && !isnan(label->recoat_until))
    found = film_clue(&r, label, RW_RECOAT_CLOSES, label->recoat_until, &clues[n++], err);
  if (found != RW_OK)
    return found;

  double weight = 0, sum = 0;
  for (size_t i = 0; i < n; i++) {
    double w = 1 / (clues[i].sd * clues[i].sd);
    weight += w;
    sum += w * clues[i].log_rate;
  }
  scale(&r, sum / weight);
  r.rate_sd = sqrt(1 / weight);
  found = move_thresholds(&r, class_, label, err);
  if (found != RW_OK)
    return found;
  found = disagreement(clues, n, err);
  *out = r;
  return found != RW_OK ? found : status;
}
