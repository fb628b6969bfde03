/* SPDX-License-Identifier: GPL-3.0-or-later */
/**
 * @file plan.h
 * @brief Top floor: amounts, packs, cloth to buy, batches, start hour, whole-skin window, sums.
 *
 * Threads: reentrant.
 */
#ifndef RESINWRIGHT_PLAN_H
#define RESINWRIGHT_PLAN_H

#include <resinwright/air.h>
#include <resinwright/base.h>
#include <resinwright/cloth.h>
#include <resinwright/cure.h>
#include <resinwright/history.h>
#include <resinwright/hull.h>
#include <resinwright/laminate.h>

#ifdef __cplusplus
extern "C" {
#endif

/**
 * Sum of independent uncertain items, and which of them holds most of the spread.
 * @param item     n items, any one unit
 * @param n        how many, >= 1
 * @param total    sum; sd is the root of the summed squares
 * @param because  index of the item with the largest sd, or NULL
 * @param err      error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT for none; RW_ERR_RANGE for a negative sd or numbers beyond 1e9
 */
RW_API rw_status rw_plan_sum(const rw_value *item, size_t n, rw_value *total, size_t *because,
                             rw_error *err);

/**
 * Quantile of a positive uncertain amount, taken as lognormal with that mean and sd.
 * @param amount  value > 0, sd at most 100 times that
 * @param p       probability, 0 < p < 1
 * @param q       amount not exceeded with that probability
 * @param err     error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_plan_quantile(rw_value amount, double p, double *q, rw_error *err);

/** The four terms of a resin need. */
typedef enum rw_term {
  RW_TERM_SOAK,  /**< into the wood */
  RW_TERM_CLOTH, /**< into the cloth */
  RW_TERM_FILL,  /**< weave and fill coats */
  RW_TERM_WASTE, /**< pots, tools, scrapings */
  RW_TERMS
} rw_term;

/**
 * What the layers on a face take per area: resin inside all the cloths, their spreads added as
 * they stand because the same hand lays them; the weave of the outermost one filled and covered.
 * @param layer          n cloths, the outermost first and the one on the wood last
 * @param n              how many; 0: a coat without cloth, where fill is the cover alone
 * @param layup          how all of them are laid: their fibre share by hand or bagged
 * @param resin_density  kg/m3 of the mix, 100 to 25000
 * @param soak           kg/m2 into the wood, >= 0
 * @param cover          m of clear resin over the crowns, all fill coats together, 0 to 0.1
 * @param waste          share of what is mixed, 0 to 0.9
 * @param out            the four terms, for rw_plan_need
 * @param err            error record, or NULL; of a cloth, the message begins with its place
 * @return RW_OK; RW_ERR_ARGUMENT for layers missing or a layup that is none; as rw_cloth_resin,
 *         rw_cloth_fill and rw_uptake_mixed
 */
RW_API rw_status rw_plan_uptake(const rw_cloth *layer, size_t n, rw_layup layup,
                                double resin_density, rw_value soak, rw_value cover,
                                rw_value waste, rw_uptake *out, rw_error *err);

/** Resin to mix for a face. Each sd holds the area's too. */
typedef struct rw_need {
  rw_value term[RW_TERMS]; /**< kg */
  rw_value on_hull;        /**< kg that stays on the hull: soak, cloth and fill */
  rw_value total;          /**< kg mixed */
  int because;             /**< the rw_term that adds most to the spread of the total; RW_TERMS:
                                the area */
} rw_need;
/**
 * Resin to mix for an area.
 * @param area    m2
 * @param uptake  per area, see rw_uptake
 * @param out     result
 * @param err     error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_plan_need(rw_value area, const rw_uptake *uptake, rw_need *out, rw_error *err);

/**
 * Time that spreading alone takes: area over rate, first-order sd.
 * @param area  m2
 * @param rate  m2/s, all hands together
 * @param time  s
 * @param err   error record, or NULL
 * @return RW_OK; RW_ERR_RANGE
 */
RW_API rw_status rw_plan_spreading(rw_value area, rw_value rate, rw_value *time, rw_error *err);

/** A pack on sale. */
typedef struct rw_pack {
  double mass;  /**< kg of resin and hardener together */
  double price; /**< money */
} rw_pack;
/**
 * Cheapest packs that hold at least an amount (exact search; fewer left over among equals).
 * @param need   kg, >= 0
 * @param pack   n packs on sale
 * @param n      1 to 12
 * @param count  n results
 * @param mass   kg bought, or NULL
 * @param price  money, or NULL
 * @param err    error record, or NULL
 * @return RW_OK; RW_ERR_ARGUMENT for no pack or too many; RW_ERR_RANGE for a mass <= 0, a negative
 *         price, more than 2000 of the smallest pack needed, or a mass above 1e6 kg;
 *         RW_ERR_NUMERIC where the search takes too long
 */
RW_API rw_status rw_plan_packs(double need, const rw_pack *pack, size_t n, unsigned *count,
                               double *mass, double *price, rw_error *err);

/** A roll of cloth on sale. */
typedef struct rw_roll {
  double width;     /**< m, printed on the roll */
  double shortfall; /**< m by which it is narrower in truth */
  double price;     /**< money per m */
} rw_roll;

/** How cloth is laid on a hull. */
typedef enum rw_layout_kind {
  RW_LENGTHWISE, /**< strips from stem to stern, lapped along the keel or between */
  RW_FILLED,     /**< strips from stem to stern and a filler where the hull is wider than these */
  RW_CROSSWISE   /**< pieces from sheer to sheer, side by side along the hull */
} rw_layout_kind;

/** Cloth to buy for one layer. */
typedef struct rw_layout {
  rw_layout_kind kind; /**< how it is laid */
  unsigned pieces;     /**< full strips or pieces */
  double length;       /**< m to buy off the roll */
  double cost;         /**< money */
  double reach;        /**< m of girth that the full strips cover, laps taken off (0 crosswise) */
  double filler;       /**< m, length of the filler piece; 0 where there is none */
  double filler_from;  /**< m along the hull; NaN where there is none */
  double filler_to;    /**< m along the hull */
  double lap_area;     /**< m2 lying double */
  double offcut;       /**< share of the cloth bought that is not on the hull */
} rw_layout;
/**
 * Girth that strips of a width cover side by side: n w - (n - 1) lap.
 * @param width  m, true
 * @param lap    m
 * @param n      strips, >= 1
 * @return m
 */
RW_API double rw_plan_reach(double width, double lap, unsigned n);
/**
 * Cloth to buy off one roll for one layer on a hull, in one way of laying.
 * @param hull      hull
 * @param roll      roll; true width = width - shortfall
 * @param overhang  m beyond each sheer and each end, >= 0
 * @param lap       m, >= 0, below a third of the true width
 * @param kind      way of laying
 * @param out       result
 * @param err       error record, or NULL
 * @return RW_OK; RW_NO_SOLUTION where RW_FILLED has no use (one strip reaches everywhere) or the
 *         gap is wider than the roll: message in err, out untouched; RW_ERR_RANGE
 */
RW_API rw_status rw_plan_cloth(const rw_hull *hull, const rw_roll *roll, double overhang,
                               double lap, rw_layout_kind kind, rw_layout *out, rw_error *err);

/** What a wet-out needs to know. */
typedef struct rw_wetout {
  const rw_resin *resin;  /**< resin */
  const rw_history *hull; /**< temperature of the hull, and of the shop for the pot */
  rw_vessel vessel;       /**< what the resin is mixed in */
  double start;           /**< s, first batch mixed */
  double chilled;         /**< K of the resin when mixed; NaN: as the shop */
  double area;            /**< m2 to wet out */
  double resin_per_area;  /**< kg/m2 mixed */
  rw_value rate;          /**< m2/s spread and worked, all hands together */
  double mixing;          /**< s from pouring together to the first on the hull */
  double share;           /**< share of the working time to plan with, 0.2 to 1; 0.7 is prudent */
  double most;            /**< kg, no batch larger than that; HUGE_VAL: no limit */
} rw_wetout;

/** One batch. */
typedef struct rw_batch {
  double mass;        /**< kg */
  double mixed;       /**< s, when */
  double spread;      /**< s, when it should be on the hull at the planned rate */
  double latest;      /**< s, when it is too thick or too hot in the pot */
  double from;        /**< m2 wetted before it */
  double to;          /**< m2 wetted after it */
  double temperature; /**< K of the shop then */
  double lost;        /**< chance that it thickens before it is spread */
} rw_batch;
/**
 * Plan the batches of a wet-out: each can be spread in the planned share of its own working time
 * in that vessel, found with the pot model, and of the film's working time. There are as few as
 * the largest such batch allows, and what is left to spread is shared out evenly among them, anew
 * at each batch, as the shop warms or cools.
 * @param w      what is to be done
 * @param batch  results
 * @param room   how many fit, 1 to 200
 * @param n      how many there are
 * @param err    error record, or NULL
 * @return RW_OK; RW_OUTSIDE_TESTED as rw_resin_check; RW_NO_SOLUTION where not even a batch of
 *         20 g can be spread in time, or more than `room` batches are needed (message in err;
 *         outputs untouched); RW_ERR_RANGE; RW_ERR_COVERAGE; RW_ERR_MEMORY; RW_ERR_NUMERIC
 */
RW_API rw_status rw_plan_batches(const rw_wetout *w, rw_batch *batch, size_t room, size_t *n,
                                 rw_error *err);

/** The window in which the next coat bonds everywhere without sanding. */
typedef struct rw_window {
  double open;       /**< s: the last section laid is firm */
  double open_low;   /**< s, 5 % quantile of it */
  double open_high;  /**< s, 95 % quantile of it */
  double close;      /**< s: the first section laid is hard */
  double close_low;  /**< s, 5 % quantile of it */
  double close_high; /**< s, 95 % quantile of it */
  int because_open;  /**< see rw_forecast_because */
  int because_close; /**< see rw_forecast_because */
} rw_window;
/**
 * Recoat window of a whole skin: from the last section's opening to the first one's closing.
 * @param r               resin
 * @param hull            temperature of the hull
 * @param first           s, first section laid
 * @param last            s, last section laid, >= first
 * @param to              s, look as far as that
 * @param temperature_sd  K
 * @param draws           as rw_cure_forecast
 * @param seed            of the draws
 * @param out             result; HUGE_VAL: not in the time looked at
 * @param err             error record, or NULL
 * @return RW_OK; RW_NO_SOLUTION where it closes before it opens (out holds both times, the
 *         opening HUGE_VAL where only the closing was seen; message in err); as rw_cure_forecast
 */
RW_API rw_status rw_plan_window(const rw_resin *r, const rw_history *hull, double first,
                                double last, double to, double temperature_sd, size_t draws,
                                unsigned long seed, rw_window *out, rw_error *err);
/**
 * Chance that the whole skin's window is open at a time: chance that the last section is firm
 * less chance that the first is hard, a lower bound where the one can come without the other.
 * @param r               resin
 * @param hull            temperature of the hull
 * @param first           s, first section laid
 * @param last            s, last section laid
 * @param at              s, > last
 * @param temperature_sd  K
 * @param draws           1 to 100000
 * @param seed            of the draws
 * @param chance          0 to 1
 * @param err             error record, or NULL
 * @return as rw_cure_chances
 */
RW_API rw_status rw_plan_window_chance(const rw_resin *r, const rw_history *hull, double first,
                                       double last, double at, double temperature_sd, size_t draws,
                                       unsigned long seed, double *chance, rw_error *err);

/** How good an hour is to begin. */
typedef struct rw_start {
  double time;    /**< s, first batch mixed */
  double gel;     /**< s, the last section gels */
  double safe;    /**< s, the last section is past blushing; HUGE_VAL: not in the time looked at */
  double rise;    /**< K, most that the wood warms between any two moments from start to gel */
  double margin;  /**< K, least height of the hull above the dew point from start to `safe`, or to
                       the end of the shorter history; NaN: humidity not known */
  double coldest; /**< K, coldest hull over the same time */
  int fine;       /**< 1 where rise and margin are both within the limits; where the humidity is
                       not known, by the rise alone */
} rw_start;
/**
 * Try starting hours.
 * @param r         resin
 * @param air       air with humidity
 * @param hull      hull (lagging behind the air)
 * @param from      s, first hour to try
 * @param step      s between hours, 60 to 864000
 * @param n         hours to try, 1 to 500
 * @param duration  s that the wet-out takes, 0 to 86400
 * @param most_rise K of warming allowed, 0 to 50; 1 is prudent
 * @param least_margin K above the dew point wanted, 0 to 50; 3 is usual (common practice, no
 *                  source)
 * @param out       n results; those whose gel lies beyond the history have gel = HUGE_VAL, and
 *                  rise, margin and coldest NaN
 * @param best      index of the best: fine and earliest; else least excess
 * @param err       error record, or NULL
 * @return RW_OK; RW_NO_SOLUTION where none is fine (best is the least bad; message in err);
 *         RW_OUTSIDE_TESTED as rw_resin_check; RW_ERR_RANGE; RW_ERR_COVERAGE; RW_ERR_NUMERIC
 */
RW_API rw_status rw_plan_start(const rw_resin *r, const rw_history *air, const rw_history *hull,
                               double from, double step, size_t n, double duration,
                               double most_rise, double least_margin, rw_start *out, size_t *best,
                               rw_error *err);

#ifdef __cplusplus
}
#endif
#endif
