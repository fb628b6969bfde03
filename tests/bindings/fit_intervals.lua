-- SPDX-License-Identifier: GPL-3.0-or-later
-- Censored times through Lua: against fits in 50-digit arithmetic at the tables' tolerances, rows
-- that allow no estimate, units and refusals in words.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused_for = support.refused_for

-- luacheck: globals TestReference TestTrouble TestShape TestRefuses TestMemory

local R = 8.314462618 -- as in the reference computation
local HOUR = math.log(3600)

local function close(found, wanted, share)
  lu.assertAlmostEquals(found, wanted, math.abs(wanted) * share)
end

-- How the covariate is made of degrees Celsius or of another column.
local plans = {
  bcos = { table = "bcos", column = "radchem" },
  turbine = { table = "turbine" },
  cracks = { table = "cracks" },
  ["device_x=11605/(C+273.15)"] = { table = "device",
    x = function(c) return 11605 / (c + 273.15) end },
  ["device_x=1/(R*K)"] = { table = "device", x = function(c) return 1 / (R * (c + 273.15)) end },
  ["cells_x=1/(8.617e-5*(C+273.16))"] = { table = "cells",
    x = function(c) return 1 / (8.617e-5 * (c + 273.16)) end },
  cells_cell85 = { table = "cells", low = 85, high = 85 },
  cells_cell105 = { table = "cells", low = 105, high = 105 },
  cells_cell125 = { table = "cells", low = 125, high = 125 },
  ["insulation_170up_x=1000/(C+273.2)"] = { table = "insulation", low = 170, high = 999,
    x = function(c) return 1000 / (c + 273.2) end },
  ["insulation_all_x=1000/(C+273.16)"] = { table = "insulation",
    x = function(c) return 1000 / (c + 273.16) end },
  ["insulation_all_x=celsius"] = { table = "insulation", x = function(c) return c end },
  ["logbook_x=1/(R*K)"] = { table = "logbook", x = function(c) return 1 / (R * (c + 273.15)) end },
  ["logbook_x=(1/K-1/293.15)/R"] = { table = "logbook",
    x = function(c) return (1 / (c + 273.15) - 1 / 293.15) / R end },
}

local function hours(text) return text ~= "" and rw.q(tonumber(text), "h") or nil end

-- A row of a table as rw.fit_intervals takes it; every table's times are taken for hours.
local function row_of(row, x)
  local moments = row.lower == row.upper and { exact = hours(row.lower) }
    or { not_yet = hours(row.lower), already = hours(row.upper) }
  moments.weight = tonumber(row.weight)
  moments.x = x and { x }
  return moments
end

local function fitted(name, scatter)
  local plan, rows = plans[name], {}
  lu.assertNotNil(plan, name)
  for _, row in ipairs(support.checks("table_aft_" .. plan.table)) do
    local c = tonumber(row.celsius)
    if not plan.low or (c >= plan.low and c <= plan.high) then
      rows[#rows + 1] = row_of(row, plan.x and plan.x(c) or tonumber(row[plan.column or ""]))
    end
  end
  return assert(rw.fit_intervals { rows = rows, scatter = scatter,
    covariates = (plan.x or plan.column) and { "beta1" } or nil })
end

TestReference = {}

-- Index of a coefficient by its name in the tables.
local function index_of(name, fit)
  return name:find "^beta0" and 1 or name:find "^beta1" and 2 or #fit.coefficients
end

local function compare(fit, quantity, wanted)
  local exact = fit.counts.exact
  if quantity == "loglik_time" then
    lu.assertAlmostEquals(fit.log_likelihood_of_time + exact * HOUR, wanted, 1e-8)
  elseif quantity == "loglik_logtime" then
    lu.assertAlmostEquals(fit.log_likelihood, wanted, 1e-8)
  elseif quantity == "est_sigma" then
    close(fit.spread, wanted, 1e-6)
  elseif quantity == "se_sigma" then
    close(fit.spread_se, wanted, 1e-5)
  elseif quantity:find "^est_" then
    local i = index_of(quantity:sub(5), fit)
    close(fit.coefficients[i].value - (i == 1 and HOUR or 0), wanted, 1e-6)
  elseif quantity:find "^se_" then
    close(fit.coefficients[index_of(quantity:sub(4), fit)].se, wanted, 1e-5)
  else
    local i = index_of(quantity:match "^cov_(.*)$", fit)
    close(fit.covariance[i][index_of(quantity:match ".*_(.-)$", fit)], wanted, 1e-5)
  end
end

function TestReference.test_estimates()
  local fit, before, fits, n = nil, nil, 0, 0
  for _, row in ipairs(support.checks "table_aft_reference") do
    local now = row.fit .. row.dist
    if now ~= before then
      fit, before, fits = fitted(row.fit, row.dist), now, fits + 1
    end
    compare(fit, row.quantity, tonumber(row.value))
    n = n + 1
  end
  lu.assertEquals(fits, 21)
  lu.assertTrue(n > 200)
end

local function asked(name, celsius)
  local plan = plans[name]
  return plan.x and { plan.x(celsius) } or nil
end

function TestReference.test_quantiles()
  local n, z = 0, 1.959963984540054
  for _, row in ipairs(support.checks "table_aft_quantiles") do
    local fit = fitted(row.fit, row.dist)
    local q = fit:quantile { share = tonumber(row.p), x = asked(row.fit, tonumber(row.celsius)) }
    close(q.log_seconds - HOUR, tonumber(row.logq), 1e-6)
    close(q.log_se, tonumber(row.se_logq), 1e-6)
    close(q.time.value:to "h", tonumber(row.q), 1e-6)
    close(math.exp(q.log_seconds - HOUR + z * q.log_se), tonumber(row.wald95_hi), 1e-6)
    close(q.time.high:to "s", math.exp(q.log_seconds + 1.645 * q.log_se), 1e-9)
    close(q.time.low:to "s", math.exp(q.log_seconds - 1.645 * q.log_se), 1e-9)
    n = n + 1
  end
  lu.assertTrue(n > 30)
end

-- "beta1", "log(sigma)", "logq_0.5@10" (at 10 degC) or "logq_0.5_radchem1".
local function limits_of(fit, row)
  local share, rest = row.psi:match "^logq_([%d.]+)(.*)$"
  if not share then
    local l = fit:limits { coefficient = fit.coefficients[index_of(row.psi, fit)].name,
      level = tonumber(row.level) }
    local shift = index_of(row.psi, fit) == 1 and HOUR or 0
    return l.low - shift, l.high - shift
  end
  local celsius = tonumber(rest:match "^@(.*)$")
  local l = fit:limits { share = tonumber(share), level = tonumber(row.level),
    x = celsius and asked(row.fit, celsius) or plans[row.fit].column and { 1 } or nil }
  return math.log(l.low:to "h"), math.log(l.high:to "h")
end

function TestReference.test_profiles()
  local n = 0
  for _, row in ipairs(support.checks "table_aft_profiles") do
    local low, high = limits_of(fitted(row.fit, row.dist), row)
    local from, to = tonumber(row.profile_lo), tonumber(row.profile_hi)
    lu.assertAlmostEquals(low, from, 1e-6 * (to - from))
    lu.assertAlmostEquals(high, to, 1e-6 * (to - from))
    n = n + 1
  end
  lu.assertTrue(n > 25)
end

TestTrouble = {}

-- Each case of the table names the trouble it must end in; it is told in words.
function TestTrouble.test_without_estimates()
  local cases = {}
  for _, row in ipairs(support.checks "table_aft_degenerate") do
    cases[row.case] = cases[row.case] or {}
    table.insert(cases[row.case], row_of(row, 1 / (R * (tonumber(row.celsius) + 273.15))))
  end
  local n = 0
  for key, rows in pairs(cases) do
    for _, scatter in ipairs { "lognormal", "weibull" } do
      local fit, why, trouble = rw.fit_intervals { rows = rows, scatter = scatter }
      lu.assertNil(fit)
      lu.assertEquals(trouble, key)
      lu.assertStrContains(why, "give no estimate: ")
      lu.assertTrue(#why > 60)
    end
    n = n + 1
  end
  lu.assertEquals(n, 5)
end

TestShape = {}

local function few(more)
  local spec = { rows = { { not_yet = "2 h", already = "3 h", x = { 1 } },
    { exact = "4 h", x = { 2 } }, { already = "2 h", x = { 1 } }, { not_yet = "3 h", x = { 2 } },
    { not_yet = "1 h", already = "6 h", x = { 2 }, weight = 2 }, { exact = "90 min", x = { 1 } },
    { exact = "99 h", x = { 9 }, weight = 0 } } }
  for key, value in pairs(more or {}) do
    spec[key] = value
  end
  return spec
end

function TestShape.test_names_and_counts()
  local fit = rw.fit_intervals(few())
  lu.assertEquals(rw.kind(fit), "intervals_fit")
  local names = {}
  for i, c in ipairs(fit.coefficients) do
    names[i] = c.name
    close(c.se, math.sqrt(fit.covariance[i][i]), 1e-12)
  end
  lu.assertEquals(names, { "constant", "x1", "ln spread" })
  close(fit.coefficients[3].value, math.log(fit.spread), 1e-12)
  lu.assertEquals(fit.counts, { exact = 2, after = 1, before = 1, between = 3 })
  lu.assertTrue(fit.steps >= 1)
  local named = rw.fit_intervals(few { covariates = { "warmth" } })
  lu.assertEquals(named.coefficients[2].name, "warmth")
  local l = named:limits { coefficient = "warmth" }
  lu.assertTrue(l.low < named.coefficients[2].value and named.coefficients[2].value < l.high)
  lu.assertEquals(l.warnings, {})
  lu.assertEquals(l.level, 0.95)
end

-- Minutes for hours are the same times.
function TestShape.test_units()
  local spec = few()
  for _, row in ipairs(spec.rows) do
    for _, name in ipairs { "exact", "not_yet", "already" } do
      row[name] = row[name] and rw.q(rw.q(row[name]):to "min", "min")
    end
  end
  lu.assertAlmostEquals(rw.fit_intervals(spec).spread, rw.fit_intervals(few()).spread, 1e-12)
end

-- One event and looks before and after it do not bound the spread.
function TestShape.test_no_limit()
  local fit = rw.fit_intervals { rows = { { already = "2 h" }, { not_yet = "3 h" },
    { not_yet = "1 h" } } }
  local l = fit:limits { coefficient = "ln spread" }
  lu.assertNil(l.high)
  lu.assertNotNil(l.low)
  lu.assertStrContains(l.warnings[1], "both sides")
  l = fit:limits { share = 0.5 }
  lu.assertNil(l.high)
  lu.assertStrContains(l.warnings[1], "both sides")
end

TestRefuses = {}

function TestRefuses.test_rows()
  local function no(field, words, change)
    local spec = few()
    for key, value in pairs(change) do
      spec.rows[2][key] = value or nil
    end
    refused_for("rows[2]." .. field, words, rw.fit_intervals, spec)
  end
  no("exact", { "beside" }, { already = "3 h" })
  no("exact", { "missing, and so are" }, { exact = false })
  no("exact", { "after the beginning" }, { exact = "0 h" })
  no("already", { "after the beginning" }, { exact = false, already = "-1 h" })
  no("already", { "found 1 h", "2 h or more" }, { exact = false, not_yet = "2 h",
    already = "1 h" })
  no("not_yet", { "found -2 h" }, { exact = false, not_yet = "-2 h", already = "1 h" })
  no("exact", { "no unit" }, { exact = 4 })
  no("weight", { "found -2" }, { weight = -2 })
  no("x", { "2 and 1" }, { x = { 1, 2 } })
  no("x", { "0 and 1" }, { x = false })
  no("x[1]", { "plain number" }, { x = { "9 degC" } })
  no("alreadyy", { "did you mean already?" }, { alreadyy = "3 h" })
end

function TestRefuses.test_the_rest()
  refused_for("rows", { "empty" }, rw.fit_intervals, { rows = {} })
  refused_for("rows", { "two rows or more" }, rw.fit_intervals, { rows = { { exact = "1 h" } } })
  refused_for("scatter", { "weibull" }, rw.fit_intervals, few { scatter = "weibul" })
  refused_for("rows[1].x", { "1 and 2" }, rw.fit_intervals, few { covariates = { "a", "b" } })
  local fit = rw.fit_intervals(few())
  local function no(argument, words, method, spec)
    refused_for(argument, words, fit[method], fit, spec)
  end
  no("share", { "missing" }, "quantile", { x = { 1 } })
  no("share", { "half have happened" }, "quantile", { share = 0, x = { 1 } })
  no("share", { "percent" }, "quantile", { share = 50, x = { 1 } })
  no("x", { "0 and 1" }, "quantile", { share = 0.5 })
  no("coefficient", { "and so is share" }, "limits", {})
  no("coefficient", { "both given" }, "limits", { coefficient = "x1", share = 0.5 })
  no("coefficient", { "did you mean constant?" }, "limits", { coefficient = "constnat" })
  no("share", { "half have happened" }, "limits", { share = 0, x = { 1 } })
  no("share", { "half have happened" }, "limits", { share = 1, x = { 1 } })
  no("x", { "0 and 1" }, "limits", { share = 0.5 })
  no("level", {}, "limits", { coefficient = "x1", level = "10 %" })
  refused_for("intervals_fit", { "did you mean spread?" }, function() return fit.spraed end)
end

TestMemory = {}

function TestMemory.test_closed()
  local kept
  do
    local fit <close> = rw.fit_intervals(few())
    kept = fit
    lu.assertTrue(fit.spread > 0)
  end
  refused_for("intervals_fit", { "closed" }, function() return kept.spread end)
  refused_for("intervals_fit", { "closed" }, kept.quantile, kept, { share = 0.5, x = { 1 } })
  refused_for("intervals_fit", { "closed" }, kept.limits, kept, { coefficient = "x1" })
  getmetatable(kept) -- a text, so that nobody calls what frees the fit
  lu.assertEquals(type(getmetatable(kept)), "string")
end

function TestMemory.test_nothing_stays_behind()
  local function once()
    local fit = rw.fit_intervals(few())
    fit:limits { coefficient = "x1" }
    fit:quantile { share = 0.5, x = { 1 } }
    lu.assertEquals(#fit.covariance, 3)
    pcall(rw.fit_intervals, few { covariates = { "a", "b" } })
    rw.fit_intervals { rows = { { not_yet = "1 h" }, { not_yet = "2 h" } } }
  end
  for _ = 1, 20 do
    once()
  end
  local before = support.memory()
  for _ = 1, 300 do
    once()
  end
  lu.assertTrue(support.memory() - before < 4, "kilobytes stay behind")
end

os.exit(lu.LuaUnit.run(), true)
