/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cheapest packs: depth first over the kinds from the cheapest by the kilogram on, with what is
 * left to buy at the cheapest remaining price as the bound. */
#include "refuse.h"

#include <resinwright/plan.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Beyond any job; keeps sums finite. */
static const double MOST_MASS = 1e6, MOST_PRICE = 1e9;

enum { MOST_KINDS = 12, MOST_NODES = 20000000, MOST_PACKS = 2000 };

typedef struct search {
  size_t n;
  double mass[MOST_KINDS];
  double price[MOST_KINDS];
  size_t original[MOST_KINDS];
  unsigned count[MOST_KINDS];
  unsigned best[MOST_KINDS];
  double best_price;
  double best_mass;
  long nodes;
} search;

/* Rounding in the summed masses must not ask for another pack. */
static const double SLACK = 1e-9;

static void accept(search *s, double mass, double price)
{
  double tie = 1e-9 * (1 + price);
  if (price > s->best_price + tie || (price > s->best_price - tie && mass >= s->best_mass))
    return;
  s->best_price = price;
  s->best_mass = mass;
  memcpy(s->best, s->count, sizeof s->best);
}

static void visit(search *s, size_t i, double need, double mass, double price)
{
  if (s->nodes++ > MOST_NODES)
    return;
  double left = need - mass;
  if (left <= SLACK * need) {
    accept(s, mass, price);
    return;
  }
  if (i == s->n || price + left * (s->price[i] / s->mass[i]) > s->best_price * (1 + 1e-12))
    return;
  unsigned most = (unsigned)ceil(left / s->mass[i] - SLACK);
  for (unsigned k = most + 1; k-- > 0;) {
    s->count[i] = k;
    visit(s, i + 1, need, mass + k * s->mass[i], price + k * s->price[i]);
  }
  s->count[i] = 0;
}

static rw_status check(double need, const rw_pack *pack, size_t n, rw_error *err)
{
  const char *function = "rw_plan_packs";
  if (n < 1 || n > MOST_KINDS)
    return rw_error_set(err, RW_ERR_ARGUMENT, function, "pack",
                        "Name the packs on sale with their prices.",
                        "found %zu kinds of pack, allowed 1 to 12", n);
  if (!(need >= 0 && need <= MOST_MASS))
    return rw_error_range(err, function, "need", need, 0, MOST_MASS, "kg", NULL);
  for (size_t i = 0; i < n; i++) {
    char mass[32], price[32];
    snprintf(mass, sizeof mass, "pack[%zu].mass", i + 1);
    snprintf(price, sizeof price, "pack[%zu].price", i + 1);
    rw_status status =
        plan_above_zero(function, mass, pack[i].mass, MOST_MASS, "kg",
                        "Write what one pack holds, resin and hardener together.", err);
    if (status != RW_OK)
      return status;
    if (!(pack[i].price >= 0 && pack[i].price <= MOST_PRICE))
      return rw_error_range(err, function, price, pack[i].price, 0, MOST_PRICE, "money", NULL);
    if (need / pack[i].mass > MOST_PACKS)
      return rw_error_range(err, function, mass, pack[i].mass, need / MOST_PACKS, MOST_MASS, "kg",
                            "That many of so small a pack is surely a slip of the unit.");
  }
  return RW_OK;
}

static void sort_by_unit_price(search *s, const rw_pack *pack)
{
  for (size_t i = 0; i < s->n; i++) {
    size_t j = i;
    double unit = pack[i].price / pack[i].mass;
    for (; j > 0 && s->price[j - 1] / s->mass[j - 1] > unit; j--) {
      s->mass[j] = s->mass[j - 1];
      s->price[j] = s->price[j - 1];
      s->original[j] = s->original[j - 1];
    }
    s->mass[j] = pack[i].mass;
    s->price[j] = pack[i].price;
    s->original[j] = i;
  }
}

rw_status rw_plan_packs(double need, const rw_pack *pack, size_t n, unsigned *count, double *mass,
                        double *price, rw_error *err)
{
  rw_status status = check(need, pack, n, err);
  if (status != RW_OK)
    return status;
  search s = {.n = n, .best_price = HUGE_VAL, .best_mass = HUGE_VAL};
  sort_by_unit_price(&s, pack);
  visit(&s, 0, need, 0, 0);
  if (s.nodes > MOST_NODES)
    return rw_error_set(err, RW_ERR_NUMERIC, "rw_plan_packs", "pack",
                        "Leave out the packs that are too small to matter.",
                        "there are too many ways to combine the packs");
  for (size_t i = 0; i < n; i++)
    count[s.original[i]] = s.best[i];
  if (mass != NULL)
    *mass = s.best_mass;
  if (price != NULL)
    *price = s.best_price;
  return RW_OK;
}
