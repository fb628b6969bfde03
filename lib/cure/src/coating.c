/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What becomes of a coat, with its interval: the fluidity and its spread, then closed forms. */
#include <resinwright/cure.h>

#include <math.h>

static const char FUNCTION[] = "rw_coat_forecast";
static const double NINETY = 1.6448536269514722; /* 5 % and 95 % of the normal */

/* What is uncertain. */
enum { RATE, ENERGY, TEMPERATURE, VISCOSITY, UNKNOWNS };

const char *rw_coat_because(int because)
{
  static const char *const names[UNKNOWNS] = {
      [RATE] = "how fast this resin really is",
      [ENERGY] = "how much the cold slows it",
      [TEMPERATURE] = "the hull's temperature",
      [VISCOSITY] = "how thick this resin is when mixed",
  };
  return because >= 0 && because < UNKNOWNS ? names[because] : "";
}

typedef struct scene {
  const rw_resin *resin;
  const rw_history *hull;
  const rw_coat_times *when;
  double gel; /* s, where reached */
} scene;

/* The fluidity of one resin on one hull. */
static rw_status flow_once(scene *s, const rw_resin *r, const rw_history *hull, double *fluidity,
                           rw_error *err)
{
  rw_cure_path *path = NULL;
  const rw_coat_times *w = s->when;
  rw_status status = rw_cure_run(&r->law, hull, w->mixed, w->until, 0, 1e-7, &path, err);
  if (status < 0)
    return status;
  status = rw_cure_fluidity(path, &r->flow, hull, w->laid, HUGE_VAL, 1e-6, fluidity, err);
  s->gel = HUGE_VAL;
  if (status == RW_OK)
    rw_cure_when(path, r->flow.a_gel, &s->gel, NULL);
  rw_cure_path_destroy(path);
  return status;
}

/* The same with one unknown moved by `z` standard deviations. */
static rw_status flow_moved(scene *s, int unknown, double z, double *fluidity, rw_error *err)
{
  rw_resin r = *s->resin;
  if (unknown == TEMPERATURE) {
    rw_history *moved = NULL;
    rw_status status = rw_history_shift(s->hull, z * s->when->temperature_sd, &moved, err);
    if (status < 0)
      return status;
    status = flow_once(s, &r, moved, fluidity, err);
    rw_history_destroy(moved);
    return status;
  }
  int rate = unknown == RATE;
  r.law = rw_cure_law_moved(&r.law, rate ? z * r.rate_sd : 0, rate ? 0 : z * r.energy_sd);
  return flow_once(s, &r, s->hull, fluidity, err);
}

/* Standard deviation of ln F, and what gives most of it. */
static rw_status log_spread(scene *s, double best, double *sd, int *because, rw_error *err)
{
  double part[UNKNOWNS] = {[VISCOSITY] = s->resin->threshold[RW_WORK_END].sd};
  const double spread[UNKNOWNS] = {s->resin->rate_sd, s->resin->energy_sd, s->when->temperature_sd,
                                   0};
  for (int k = 0; k < VISCOSITY; k++) {
    double less, more;
    if (spread[k] == 0)
      continue;
    rw_status status = flow_moved(s, k, -1, &less, err);
    if (status >= 0)
      status = flow_moved(s, k, 1, &more, err);
    if (status < 0)
      return status;
    part[k] = 0.5 * fabs(log(fmax(more, 1e-6 * best) / fmax(less, 1e-6 * best)));
  }
  double sum = 0;
  *because = RATE;
  for (int k = 0; k < UNKNOWNS; k++) {
    sum += part[k] * part[k];
    if (part[k] > part[*because])
      *because = k;
  }
  *sd = sqrt(sum);
  return RW_OK;
}

/* All that follows from one fluidity. */
typedef struct fate {
  double run, thickness, held, slope, left, bubble;
} fate;

static rw_status fate_of(const rw_coat *c, double density, double fluidity, fate *out,
                         rw_error *err)
{
  fate f = {0};
  rw_status status = rw_sag_run(density, c->slope, c->thickness, fluidity, &f.run, err);
  if (status == RW_OK)
    status = rw_sag_thickness(density, c->slope, c->run, fluidity, &f.thickness, err);
  if (status == RW_OK)
    status = rw_sag_held(density, c->slope, c->below, fluidity, &f.held, err);
  f.held = fmin(f.held, c->thickness);
  if (status == RW_OK)
    status = rw_sag_slope(density, c->thickness, c->run, fluidity, &f.slope, err);
  if (status == RW_OK)
    status =
        rw_bubble_radius(density, c->slope, c->thickness, c->surface, fluidity, &f.bubble, err);
  if (status == RW_OK)
    status = rw_levelling_left(c->mark, c->tension, c->thickness, fluidity, &f.left, err);
  if (status >= 0)
    *out = f;
  return status;
}

static rw_interval ordered(double value, double a, double b)
{
  return (rw_interval){value, fmin(a, b), fmax(a, b)};
}

static rw_status check_times(const rw_coat_times *w, rw_error *err)
{
  if (!(w->laid >= w->mixed && w->laid < w->until))
    return rw_error_range(err, FUNCTION, "laid", w->laid, w->mixed, w->until, "s",
                          "The coat is laid after it is mixed and before the end looked at.");
  if (!(w->temperature_sd >= 0 && w->temperature_sd <= 20))
    return rw_error_range(err, FUNCTION, "temperature_sd", w->temperature_sd, 0, 20, "K apart",
                          NULL);
  return RW_OK;
}

rw_status rw_coat_forecast(const rw_resin *r, const rw_history *hull, const rw_coat_times *when,
                           const rw_coat *coat, rw_coat_outcome *out, rw_error *err)
{
  scene s = {r, hull, when, HUGE_VAL};
  double best, sd;
  rw_status status = rw_resin_check(r, err), flowed = RW_OK;
  if (status >= 0)
    status = rw_status_graver(status, check_times(when, err));
  if (status >= 0)
    flowed = flow_once(&s, r, hull, &best, err);
  status = rw_status_graver(status, flowed);
  if (status < 0)
    return status;
  if (best <= 0)
    return rw_error_set(err, RW_ERR_ARGUMENT, FUNCTION, "laid",
                        "Lay it sooner after mixing, or mix a fresh batch.",
                        "the resin has gelled before it is laid");
  rw_coat_outcome o = {.gel = s.gel};
  rw_status spread = log_spread(&s, best, &sd, &o.because, err);
  if (spread < 0)
    return spread;
  o.fluidity = ordered(best, best * exp(-NINETY * sd), best * exp(NINETY * sd));
  fate f, low, high;
  rw_status formed = fate_of(coat, r->density, best, &f, err);
  status = rw_status_graver(status, formed);
  status = rw_status_graver(status, fate_of(coat, r->density, o.fluidity.low, &low, err));
  status = rw_status_graver(status, fate_of(coat, r->density, o.fluidity.high, &high, err));
  if (status < 0)
    return status;
  o.run = ordered(f.run, low.run, high.run);
  o.thickness = ordered(f.thickness, low.thickness, high.thickness);
  o.mass =
      ordered(f.thickness * r->density, low.thickness * r->density, high.thickness * r->density);
  o.held = ordered(f.held, low.held, high.held);
  o.slope = ordered(f.slope, low.slope, high.slope);
  o.left = ordered(f.left, low.left, high.left);
  o.bubble = ordered(f.bubble, low.bubble, high.bubble);
  *out = o;
  return status;
}
