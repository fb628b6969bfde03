/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Many cures of one resin, each a little faster, warmer or thicker than the next: how the times
 * spread. Long work: it tells how far it is and can be stopped. */
#include "draws.h"

#include "reading.h"

/* What is drawn, in the order that forecasts draw it. */
enum { RATE, ENERGY, TEMPERATURE, VISCOSITY, UNKNOWNS };
enum { MOST_LEVELS = 64 };

/* What the draws need, all of it on the Lua stack. */
typedef struct room {
  rw_cure_draw *draw;
  double *level, *time, *thick, *reached;
} room;

static room make_room(lua_State *L, size_t draws, size_t levels)
{
  room r;
  r.draw = rwl_block(L, draws, sizeof *r.draw);
  r.level = rwl_block(L, draws * levels, sizeof(double));
  r.time = rwl_block(L, draws * levels, sizeof(double));
  r.thick = rwl_block(L, draws, sizeof(double));
  r.reached = rwl_block(L, draws, sizeof(double));
  return r;
}

static double allowed_energy(double E)
{
  return fmin(fmax(E, 10e3), 300e3);
}

static rw_cure_draw drawn(const rw_resin *r, const double z[UNKNOWNS], double temperature_sd,
                          double viscosity)
{
  rw_cure_draw d = {.law = r->law, .shift = z[TEMPERATURE] * temperature_sd, .flow = &r->flow};
  double faster = exp(z[RATE] * r->rate_sd), more = z[ENERGY] * r->energy_sd;
  d.law.k1 *= faster;
  d.law.k2 *= faster;
  d.law.k3 *= faster;
  d.law.E1 = allowed_energy(d.law.E1 + more);
  d.law.E2 = allowed_energy(d.law.E2 + more);
  d.law.E3 = allowed_energy(d.law.E3 + more);
  d.viscosity = viscosity * exp(z[VISCOSITY] * r->threshold[RW_WORK_END].sd);
  return d;
}

/* Raises unless the levels are degrees of cure that rise. */
static const double *read_levels(lua_State *L, size_t *n)
{
  const double *level = rwl_get_list(L, "levels", n);
  rw_error err = {0};
  rw_status status = RW_OK;
  if (*n < 1 || *n > MOST_LEVELS)
    status = rw_error_range(&err, "", "levels", (double)*n, 1, MOST_LEVELS, "",
                            "Ask for at least one degree of cure.");
  for (size_t i = 0; i < *n && status == RW_OK; i++) {
    const char *place = lua_pushfstring(L, "levels[%d]", (int)i + 1);
    double least = i == 0 ? 0 : level[i - 1];
    if (!(level[i] >= least && level[i] <= 1))
      status = rw_error_range(&err, "", place, level[i], least, 1, "",
                              "Levels are degrees of cure between 0 and 1, rising.");
  }
  rwl_check(L, status, &err);
  return level;
}

static rwl_draws read_asked(lua_State *L)
{
  rwl_draws asked = rwl_get_draws(L);
  asked.count = rwl_get_size(L, "draws", 1, 100000);
  return asked;
}

static double read_viscosity(lua_State *L, const rw_resin *r)
{
  double limit = rwl_get_quantity(L, "viscosity", r->work_viscosity);
  if (!(limit > 0 && limit <= 1e9)) {
    rw_error err;
    rw_error_range(&err, "", "viscosity", limit, 0, 1e9, "Pa s",
                   "Too thick to spread is near 8 Pa s.");
    rwl_throw(L, &err);
  }
  return limit;
}

static double quantile(lua_State *L, const double *x, size_t n, size_t stride, double p)
{
  double *column = rwl_block(L, n, sizeof *column);
  for (size_t i = 0; i < n; i++)
    column[i] = x[i * stride];
  rw_num_sort(column, n);
  double q = rw_num_quantile(column, n, p);
  lua_pop(L, 1);
  return q;
}

/* The share of draws that come to it at all. */
static double finite_share(const double *x, size_t n, size_t stride)
{
  size_t count = 0;
  for (size_t i = 0; i < n; i++)
    count += isfinite(x[i * stride]) ? 1 : 0;
  return (double)count / (double)n;
}

/* A table with the time as a range, the chance that it comes, and the quantiles asked for. */
static void push_times(lua_State *L, double best, const double *x, size_t n, size_t stride)
{
  size_t wanted;
  const double *p = rwl_get_list(L, "quantiles", &wanted);
  lua_newtable(L);
  rwl_push_clock_range(L, best, quantile(L, x, n, stride, 0.05), quantile(L, x, n, stride, 0.95),
                       NULL);
  lua_setfield(L, -2, "time");
  rwl_set_number(L, "chance", finite_share(x, n, stride));
  lua_newtable(L);
  for (size_t i = 0; i < wanted; i++) {
    lua_pushnumber(L, quantile(L, x, n, stride, p[i]));
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_setfield(L, -2, "seconds");
}

/* Runs the first so many draws of the room. */
static rw_status run(const room *r, rw_draw_plan plan, size_t n, const rw_history *hull,
                     rw_error *err)
{
  return rw_cure_draws(&plan, r->draw, n, hull, r->level, r->time, r->thick, r->reached, err);
}

static rw_status fill_draws(const rw_resin *r, const rwl_draws *q, double viscosity,
                            rw_cure_draw *draw, rw_error *err)
{
  rw_draws *stream = NULL;
  rw_status status = rw_draws_create(UNKNOWNS, q->seed, &stream, err);
  for (size_t i = 0; status == RW_OK && i < q->count; i++) {
    double z[UNKNOWNS];
    rw_draws_next(stream, z);
    draw[i] = drawn(r, z, q->temperature_sd, viscosity);
  }
  rw_draws_destroy(stream);
  return status;
}

/* The best estimate of each level's time, of the thickening, and of the cure at the end. */
typedef struct estimate {
  double time[MOST_LEVELS];
  double thick, reached;
} estimate;

static rw_status run_best(const room *r, const rw_resin *resin, double viscosity,
                          rw_draw_plan plan, const rw_history *hull, estimate *e, rw_error *err)
{
  static const double mean[UNKNOWNS] = {0};
  plan.progress = NULL;
  r->draw[0] = drawn(resin, mean, 0, viscosity);
  rw_status status = run(r, plan, 1, hull, err);
  for (size_t i = 0; status >= 0 && i < plan.levels; i++)
    e->time[i] = r->time[i];
  if (status < 0)
    return status;
  e->thick = r->thick[0];
  e->reached = r->reached[0];
  return status;
}

static void push_result(lua_State *L, const room *r, const estimate *e, size_t draws,
                        size_t levels)
{
  lua_newtable(L);
  lua_newtable(L);
  for (size_t i = 0; i < levels; i++) {
    push_times(L, e->time[i], r->time + i, draws, levels);
    rwl_set_number(L, "cure", r->level[i]);
    lua_rawseti(L, -2, (lua_Integer)i + 1);
  }
  lua_setfield(L, -2, "levels");
  push_times(L, e->thick, r->thick, draws, 1);
  lua_setfield(L, -2, "thick");
  rwl_push_range(L, "", e->reached, quantile(L, r->reached, draws, 1, 0.05),
                 quantile(L, r->reached, draws, 1, 0.95), NULL);
  lua_setfield(L, -2, "reached");
}

int rwl_run_draws(lua_State *L)
{
  static const rwl_alias alias[] = {{"time", "hull"}, {NULL, NULL}};
  const rw_resin *resin = rwl_self_resin(L);
  const rw_history *hull = rwl_history_in(L, rwl_get_object(L, "hull"));
  rwl_draws asked = read_asked(L);
  size_t levels;
  const double *level = read_levels(L, &levels);
  double viscosity = read_viscosity(L, resin);
  room r = make_room(L, asked.count, levels);
  for (size_t i = 0; i < asked.count * levels; i++)
    r.level[i] = level[i % levels];
  rwl_listener l = rwl_listen(L, "progress");
  const rw_draw_plan plan = {.from = rwl_get_quantity(L, "laid", 0.0),
                             .to = rwl_get_quantity(L, "to", 0.0),
                             .tolerance = 1e-6,
                             .levels = levels,
                             .progress = rwl_tell,
                             .context = &l};
  rw_error err = {0};
  rwl_warning warning;
  estimate e = {.thick = NAN, .reached = NAN};
  rw_status status = run_best(&r, resin, viscosity, plan, hull, &e, &err);
  if (status >= 0)
    status = fill_draws(resin, &asked, viscosity, r.draw, &err);
  if (status >= 0)
    status = run(&r, plan, asked.count, hull, &err);
  if (l.failed)
    return lua_error(L);
  if (status == RW_ERR_STOPPED)
    return rwl_push_reason(L, &err);
  rwl_check_as(L, status, &err, alias);
  rwl_keep(L, &warning, status, &err);
  push_result(L, &r, &e, asked.count, levels);
  rwl_set_warnings(L, &warning);
  return 1;
}

const rwl_field rwl_draws_fields[] = {
    RWL_NEED("hull", RWL_OBJECT, RWL_HISTORY, "temperature of the hull"),
    RWL_NEED("laid", RWL_CLOCK, "", "when the film is laid"),
    RWL_NEED("to", RWL_CLOCK, "", "how far to look"),
    RWL_NEED_LIST("levels", RWL_NUMBER, "", "degrees of cure whose times are wanted, rising"),
    RWL_MAY("viscosity", RWL_QUANTITY, "Pa s", NULL,
            "the thickness that `thick` waits for; left out, too thick to spread"),
    RWL_MAY_LIST("quantiles", RWL_SHARE, "", "which quantiles to give in `seconds`"),
    RWL_DRAW_FIELDS("1024"),
    RWL_MAY("progress", RWL_FUNCTION, "progress(done, total)", NULL,
            "called every few hundred trials with how many are done and how many there are; "
            "where it returns false the work is stopped"),
    RWL_END_FIELDS,
};
