/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "refuse.h"

#include <resinwright/num.h>
#include <resinwright/plan.h>

#include <math.h>
#include <stdio.h>

/* Beyond any boat; keeps squares finite. */
static const double MOST = 1e9;

rw_status rw_plan_sum(const rw_value *item, size_t n, rw_value *total, size_t *because,
                      rw_error *err)
{
  if (n < 1)
    return rw_error_set(err, RW_ERR_ARGUMENT, "rw_plan_sum", "item", NULL,
                        "there is nothing to sum");
  rw_value sum = {0, 0};
  size_t largest = 0;
  for (size_t i = 0; i < n; i++) {
    char name[32];
    snprintf(name, sizeof name, "item[%zu]", i + 1);
    rw_status status = plan_amount("rw_plan_sum", name, item[i], -MOST, MOST, "", err);
    if (status != RW_OK)
      return status;
    sum.value += item[i].value;
    sum.sd += item[i].sd * item[i].sd;
    if (item[i].sd > item[largest].sd)
      largest = i;
  }
  sum.sd = sqrt(sum.sd);
  *total = sum;
  if (because != NULL)
    *because = largest;
  return RW_OK;
}

static rw_status check_chance(double p, rw_error *err)
{
  if (p > 0 && p < 1)
    return RW_OK;
  const char *function = "rw_plan_quantile", *hint = "A chance is a share: 95 % is 0.95.";
  if (p != 0 && p != 1)
    return rw_error_range(err, function, "p", p, 0, 1, "", hint);
  rw_error_set(err, RW_ERR_RANGE, function, "p", hint,
               "p is %d and must lie between 0 and 1 without the ends themselves", p == 1);
  if (err != NULL) {
    err->value = p;
    err->low = 0;
    err->high = 1;
  }
  return RW_ERR_RANGE;
}

rw_status rw_plan_quantile(rw_value amount, double p, double *q, rw_error *err)
{
  const char *function = "rw_plan_quantile";
  rw_status status = plan_amount(function, "amount", amount, 0, MOST, "", err);
  if (status == RW_OK)
    status = plan_above_zero(function, "amount", amount.value, MOST, "", NULL, err);
  if (status == RW_OK && amount.sd > 100 * amount.value)
    status = rw_error_range(err, function, "amount", amount.sd, 0, 100 * amount.value, "",
                            "With so wide a spread the amount is not known at all.");
  if (status == RW_OK)
    status = check_chance(p, err);
  if (status != RW_OK)
    return status;
  double relative = amount.sd / amount.value;
  double variance = log1p(relative * relative);
  *q = amount.value * exp(rw_num_normal_quantile(p) * sqrt(variance) - variance / 2);
  return RW_OK;
}

rw_status rw_plan_need(rw_value area, const rw_uptake *uptake, rw_need *out, rw_error *err)
{
  rw_status status = plan_amount("rw_plan_need", "area", area, 0, MOST, "m2", err);
  rw_value mixed;
  if (status == RW_OK)
    status = rw_uptake_mixed(uptake, &mixed, err);
  if (status < 0)
    return status;
  const rw_value per_area[] = {uptake->soak, uptake->cloth, uptake->fill};
  rw_need need = {.because = RW_TERMS};
  double kept = 1 - uptake->waste.value, sum = 0;
  double largest = area.sd * mixed.value;
  for (int i = 0; i < RW_TERM_WASTE; i++) {
    double own = area.value * per_area[i].sd;
    need.term[i].value = area.value * per_area[i].value;
    need.term[i].sd = hypot(own, area.sd * per_area[i].value);
    need.on_hull.value += need.term[i].value;
    sum += own * own;
    if (own / kept > largest) {
      largest = own / kept;
      need.because = i;
    }
  }
  need.on_hull.sd = hypot(sqrt(sum), area.sd * mixed.value * kept);
  double by_waste = need.on_hull.value / kept * uptake->waste.sd / kept;
  double thrown = uptake->waste.value / kept;
  need.term[RW_TERM_WASTE] =
      (rw_value){need.on_hull.value * thrown, hypot(by_waste, need.on_hull.sd * thrown)};
  if (by_waste > largest)
    need.because = RW_TERM_WASTE;
  need.total = (rw_value){need.on_hull.value / kept, hypot(need.on_hull.sd / kept, by_waste)};
  *out = need;
  return status;
}

rw_status rw_plan_spreading(rw_value area, rw_value rate, rw_value *time, rw_error *err)
{
  const char *function = "rw_plan_spreading";
  rw_status status = plan_amount(function, "area", area, 0, MOST, "m2", err);
  if (status == RW_OK)
    status = plan_above_zero(function, "rate", rate.value, MOST, "m2/s",
                             "One pair of hands wets out about 0.02 to 0.05 m2/min.", err);
  if (status == RW_OK)
    status = plan_amount(function, "rate", rate, 0, MOST, "m2/s", err);
  if (status != RW_OK)
    return status;
  double t = area.value / rate.value;
  *time = (rw_value){t, hypot(area.sd / rate.value, t * rate.sd / rate.value)};
  return RW_OK;
}
