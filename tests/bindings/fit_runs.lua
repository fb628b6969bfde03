-- SPDX-License-Identifier: GPL-3.0-or-later
-- Rate laws fitted to runs: against a fit done elsewhere, against the law itself and against what
-- a limit must do; the law in a resin; refusals in words; nothing stays behind.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused_for, point = support.refused_for, support.point

-- luacheck: globals TestPublished TestFit TestAhead TestResin TestRefuses TestMemory

local HOUR = 3600

local function close(found, wanted, share)
  lu.assertAlmostEquals(found, wanted, math.abs(wanted) * (share or 1e-12))
end

-- The invented runs of the reference table, one per temperature.
local function runs(more)
  local list = {}
  for _, row in ipairs(support.checks "table_kamal_runs") do
    local last = list[#list]
    if not last or last.celsius ~= row.T_C then
      last = { celsius = row.T_C, temperature = row.T_C .. " degC", time = { unit = "h" },
        cure = {} }
      list[#list + 1] = last
    end
    table.insert(last.time, tonumber(row.t_h))
    table.insert(last.cure, tonumber(row.alpha))
  end
  for _, run in ipairs(list) do
    run.celsius = nil
    for key, value in pairs(more or {}) do
      run[key] = value
    end
  end
  return list
end

local function kamal(m, n)
  return rw.law { kind = "kamal", reference = "25 degC",
    k1 = rw.q(math.exp(-3.50655789732), "1/h"), E1 = "40 kJ/mol",
    k2 = rw.q(math.exp(-2.30258509299), "1/h"), E2 = "50 kJ/mol", m = m, n = n }
end

local four = { "ln k1", "E1", "ln k2", "E2" }
local six = { "ln k1", "E1", "ln k2", "E2", "m", "n" }

local function fitted(more)
  local spec = { law = kamal(0.8, 1.6), free = four, runs = runs() }
  for key, value in pairs(more or {}) do
    spec[key] = value
  end
  return rw.fit_runs(spec)
end

TestPublished = {}

local names = { ["ln k1"] = "ln-k1-25C", E1 = "E1-kJ", ["ln k2"] = "ln-k2-25C", E2 = "E2-kJ",
  m = "m", n = "n" }
local units = { E1 = 1e3, E2 = 1e3 }

local function compare(fit, prefix)
  point("fit_runs", prefix .. "-rss", fit.sum_of_squares)
  point("fit_runs", prefix .. "-resid-sd", fit.residual_sd)
  for i, p in ipairs(fit.parameters) do
    local per = units[p.name] or 1
    local shift = p.unit == "ln(1/s)" and math.log(HOUR) or 0
    point("fit_runs", ("%s-est-%s"):format(prefix, names[p.name]), p.value / per + shift)
    point("fit_runs", ("%s-se-%s"):format(prefix, names[p.name]), p.sd / per)
    for j = 1, i - 1 do
      local q = fit.parameters[j]
      local other = units[q.name] or 1
      point("fit_runs", ("%s-cov-%s-%s"):format(prefix, names[p.name], names[q.name]),
        fit.covariance[i][j] / (per * other))
      close(fit.correlation[i][j], fit.covariance[i][j] / (p.sd * q.sd), 1e-6)
    end
  end
  local ahead = fit:cure({ temperature = "20 degC", time = { "24 h" } })[1].cure
  point("fit_runs", prefix .. "-pred-alpha-20C-24h", ahead.value)
  point("fit_runs", prefix .. "-pred-se", ahead.sd)
end

function TestPublished.test_four_parameters()
  compare(fitted { tolerance = 1e-11 }, "fit4")
end

function TestPublished.test_six_parameters()
  compare(fitted { law = kamal(1, 1.5), free = six, tolerance = 1e-11 }, "fit6")
end

TestFit = {}

function TestFit.test_what_it_shows()
  local fit = fitted()
  lu.assertEquals(rw.kind(fit), "runs_fit")
  lu.assertEquals(fit.points, 30)
  lu.assertEquals(fit.freedom, 26)
  lu.assertTrue(fit.condition >= 1 and fit.rounds >= 1)
  lu.assertEquals(fit.warnings, {})
  lu.assertEquals(#fit.residuals, 3)
  local sum = 0
  for i, run in ipairs(runs()) do
    lu.assertEquals(#fit.residuals[i], #run.time)
    local model = fit:cure { temperature = run.temperature, time = run.time }
    for j, residual in ipairs(fit.residuals[i]) do
      lu.assertAlmostEquals(residual, model[j].cure.value - run.cure[j], 1e-8)
      sum = sum + residual ^ 2
    end
  end
  close(sum, fit.sum_of_squares, 1e-9)
  local k1, E1 = fit.parameters[1], fit.parameters[2]
  lu.assertEquals({ k1.name, k1.unit, E1.name, E1.unit }, { "ln k1", "ln(1/s)", "E1", "J/mol" })
  close(k1.range.value:to "1/s", math.exp(k1.value))
  close(k1.range.low:to "1/s", math.exp(k1.value - 1.645 * k1.sd), 1e-9)
  close(k1.range.high:to "1/s", math.exp(k1.value + 1.645 * k1.sd), 1e-9)
  close(E1.range.sd:to "J/mol", E1.sd, 1e-9)
  local v = fit.law:values()
  close(v.k1:to "1/s", math.exp(k1.value))
  close(v.E2:to "J/mol", fit.parameters[4].value)
  lu.assertEquals(v.m, 0.8)
end

-- Per cent, kelvin and a history say the same as shares, degrees and a steady temperature.
function TestFit.test_units_and_histories()
  local wanted = fitted()
  local others = runs()
  others[1].temperature = rw.q(288.15, "K")
  others[2].cure.unit = "%"
  for i, cure in ipairs(others[2].cure) do
    others[2].cure[i] = 100 * cure
  end
  for i, time in ipairs(others[2].time) do
    others[2].time[i] = 60 * time
  end
  others[2].time.unit = "min"
  others[3].temperature = nil
  others[3].history = rw.steady { air = "40 degC", from = "2026-10-03 08:00",
    to = "2026-10-06 08:00" }
  others[3].from = "2026-10-03 09:30"
  local fit = fitted { runs = others }
  for i, p in ipairs(fit.parameters) do
    lu.assertAlmostEquals(p.value, wanted.parameters[i].value, 1e-4 * p.sd)
  end
end

-- A point of no weight might as well be missing.
function TestFit.test_weights()
  local weighted, fewer = runs(), runs()
  for _, run in ipairs(weighted) do
    run.weight = {}
    for i = 1, #run.time do
      run.weight[i] = i % 2
    end
  end
  for _, run in ipairs(fewer) do
    for i = #run.time // 2 * 2, 2, -2 do
      table.remove(run.time, i)
      table.remove(run.cure, i)
    end
  end
  local a, b = fitted { runs = weighted }, fitted { runs = fewer }
  lu.assertEquals(a.points, 15)
  for i, p in ipairs(a.parameters) do
    lu.assertAlmostEquals(p.value, b.parameters[i].value, 1e-4 * p.sd)
    close(p.sd, b.parameters[i].sd, 1e-4)
  end
end

-- One reading far off moves least squares more than the others.
function TestFit.test_robust()
  local clean = fitted()
  local wrong = runs()
  wrong[2].cure[5] = wrong[2].cure[5] + 0.3
  local function off(fit)
    return math.abs(fit.parameters[3].value - clean.parameters[3].value)
  end
  local plain = off(fitted { runs = wrong })
  for _, how in ipairs { {}, { loss = "bisquare" }, { scale = "proposal" },
    { scale = "fixed", sd = 0.013 }, { scale = "leverage", loss = "bisquare", tuning = 5 } } do
    local fit = fitted { runs = wrong, robust = how }
    lu.assertTrue(off(fit) < plain / 2, how.loss)
    lu.assertTrue(fit.residual_sd < 0.03)
  end
end

-- The sum of squares with a parameter held at its limit has risen by t^2 variances; Student's t of
-- 10 degrees of freedom is printed in the table.
function TestFit.test_limits()
  local some = runs()
  for i, run in ipairs(some) do
    run.weight = {}
    for j = 1, #run.time do
      run.weight[j] = j % 2 == 1 and not (i == 3 and j == 9) and 1 or 0
    end
  end
  local fit = fitted { runs = some, tolerance = 1e-11 }
  lu.assertEquals(fit.freedom, 10)
  local l = fit:limits { parameter = "E1" }
  lu.assertEquals({ l.value, l.level, l.unit }, { fit.parameters[2].value, 0.95, "J/mol" })
  lu.assertEquals(l.warnings, {})
  for _, at in ipairs { l.low, l.high } do
    local v = fit.law:values()
    local held = rw.law { kind = "kamal", reference = "25 degC", k1 = v.k1, E1 = rw.q(at, "J/mol"),
      k2 = v.k2, E2 = v.E2, m = v.m, n = v.n }
    local rest = fitted { law = held, free = { "ln k1", "ln k2", "E2" }, runs = some,
      tolerance = 1e-11 }
    local t = math.sqrt(rest.sum_of_squares - fit.sum_of_squares) / fit.residual_sd
    point("fit_iso", "t-975-10", t)
  end
  local narrow = fit:limits { parameter = "E1", level = "50 %" }
  lu.assertTrue(narrow.low > l.low and narrow.high < l.high)
end

-- Constants of two stages: the second stands for itself, below zero as in its paper.
function TestFit.test_two_stages()
  local law = rw.law { kind = "two_stage", A1 = "2.101e9 1/min", E1 = "80.7 kJ/mol",
    A2 = "-2.014e9 1/min", E2 = "77.8 kJ/mol", A3 = "1.960e5 1/min", E3 = "56.6 kJ/mol",
    limit = 0.47, split = 0.3 }
  local times, cures, at = {}, {}, { 0.1, 0.15, 0.2, 0.25, 0.29 }
  local r = rw.resin { class = "slow-polyetheramine", law = law }
  for i, point_ in ipairs(r:steady({ temperature = "177 degC", cures = at }).cures) do
    times[i], cures[i] = point_.time, at[i] + (i % 2 == 0 and 1e-4 or -1e-4)
  end
  local fit = rw.fit_runs { law = law, free = { "ln k2" },
    runs = { { temperature = "177 degC", time = times, cure = cures } } }
  local p = fit.parameters[1]
  lu.assertEquals({ p.name, p.unit }, { "ln k2", "1/s" })
  lu.assertTrue(p.value < 0)
  close(p.range.value:to "1/s", p.value)
  close(p.value, law:values().k2:to "1/s", 0.01)
end

-- The example of the handbook prints what stands beside it.
function TestFit.test_handbook()
  local file = assert(io.open "docs/handbook.md")
  local code = file:read("a"):match "## For those with measured curves.-```lua\n(.-)```"
  file:close()
  local printed, wanted = {}, {}
  for text in code:gmatch "%-%-> ([^\n]+)" do
    wanted[#wanted + 1] = text
  end
  assert(load(code, "handbook", "t", { require = require, print = function(x)
    printed[#printed + 1] = tostring(x)
  end }))()
  lu.assertEquals(#wanted, 2)
  lu.assertEquals(printed, wanted)
end

TestAhead = {}

function TestAhead.test_when_is_the_inverse_of_cure()
  local fit = fitted()
  local steady = fit:when { temperature = "18 degC", cure = 0.6 }
  local back = fit:cure({ temperature = "18 degC", time = { steady.value } })[1]
  lu.assertAlmostEquals(back.cure.value, 0.6, 1e-8)
  lu.assertEquals(back.time, steady.value)
  -- to first order the two spreads differ by the rate
  local rate = fit.law:rate { cure = 0.6, temperature = "18 degC" }
  close(back.cure.sd, steady.sd:to "s" * rate:to "1/s", 1e-6)
  local shop = rw.steady { air = "18 degC", from = "2026-10-03 08:00", to = "2026-10-09 08:00" }
  local clock = fit:when { history = shop, from = "2026-10-03 09:00", cure = 0.6 }
  lu.assertTrue(clock.clock)
  lu.assertAlmostEquals(clock.seconds - rw.clock { at = "2026-10-03 09:00" },
    steady.value:to "s", 1)
  local along = fit:cure { history = shop, from = "2026-10-03 09:00", time = { steady.value } }
  lu.assertAlmostEquals(along[1].cure.value, 0.6, 1e-8)
  lu.assertEquals(along[1].time, steady.value)
  lu.assertNil(fit:when { temperature = "18 degC", cure = 0.6, within = "10 h" })
  lu.assertNil(fit:when { history = shop, from = "2026-10-09 07:00", cure = 0.6 })
  local later = fit:when { temperature = "18 degC", cure = 0.6, start = 0.3 }
  lu.assertTrue(later.value < steady.value)
end

TestResin = {}

function TestResin.test_the_law_goes_into_a_resin()
  local fit = fitted()
  local ask = { temperature = "20 degC", cures = { 0.5 } }
  local r = fit:resin { class = "slow-polyetheramine", rate_sd = 0.1 }
  lu.assertEquals(rw.kind(r), "resin")
  lu.assertEquals(r.rate_sd, 0.1)
  local same = rw.resin { class = "slow-polyetheramine", law = fit.law }
  local found = r:steady(ask).cures[1].time
  lu.assertEquals(found, same:steady(ask).cures[1].time)
  close(found:to "h", fit:when({ temperature = "20 degC", cure = 0.5 }).value:to "h", 1e-5)
  local labelled = fit:resin { class = "slow-polyetheramine", label = { pot_life = "30 min" } }
  close(labelled:pot({ mass = "100 g", air = "25 degC" }).usable:to "min", 30, 1e-3)
  refused_for("class", { "slow-polyetheramine" }, fit.resin, fit, { class = "slow-polyetheramin" })
  refused_for("law", { "not known here" }, fit.resin, fit,
    { class = "slow-polyetheramine", law = fit.law })
  refused_for("rate_sd", {}, fit.resin, fit, { class = "slow-polyetheramine", rate_sd = 40 })
end

-- An energy outside of what was tested warns, wherever the law goes.
function TestResin.test_warnings_go_along()
  local low = rw.law { kind = "nth_order", k1 = "0.01 1/min", E1 = "25 kJ/mol", n = 2 }
  local fit = rw.fit_runs { law = low, free = { "ln k1" }, runs = { { temperature = "25 degC",
    time = { unit = "min", 30, 60, 120 }, cure = { 0.24, 0.37, 0.56 } } } }
  lu.assertStrContains(fit.warnings[1], "30 to 200 kJ/mol")
  lu.assertEquals(fit.law.warnings, fit.warnings)
  lu.assertEquals(fit:resin({ class = "slow-polyetheramine" }).warnings, fit.warnings)
  lu.assertEquals(fit:when({ temperature = "20 degC", cure = 0.5 }).warnings, fit.warnings)
  lu.assertEquals(fit:cure({ temperature = "20 degC", time = { "1 h" } }).warnings, fit.warnings)
end

TestRefuses = {}

local function one(change)
  local run = { temperature = "20 degC", time = { "1 h", "9 h" }, cure = { 0.05, 0.4 } }
  for key, value in pairs(change) do
    run[key] = value or nil
  end
  return run
end

function TestRefuses.test_runs()
  local function no(field, words, change)
    refused_for("runs[2]." .. field, words, rw.fit_runs, { law = kamal(0.8, 1.6),
      free = { "ln k1" }, runs = { one {}, one(change) } })
  end
  local h = rw.steady { air = "19 degC", from = "2026-10-03 08:00", to = "2026-10-04 08:00" }
  local function log(change)
    change.temperature, change.history = false, h
    return change
  end
  no("temperature", { "and so is history" }, { temperature = false })
  no("history", { "both given" }, { history = h })
  no("from", { "missing" }, log {})
  no("from", { "count from the mixing" }, { from = "2026-10-03 08:00" })
  no("from", { "clock" }, log { from = "9 o'clock" })
  no("history", { "2026-10-04 08:00" }, log { from = "2026-10-04 07:00" })
  no("history", {}, log { from = "2026-10-03 07:00" })
  no("temperature", { "found 520 degC" }, { temperature = "520 degC" })
  no("temperature", { "no unit" }, { temperature = 20 })
  no("start", { "0 is liquid" }, { start = 2 })
  no("time", { "time 2" }, { time = { "9 h", "1 h" } })
  no("time", { "before the mixing" }, { time = { "-1 h", "1 h" } })
  no("time[2]", { "time" }, { time = { "1 h", "9 kg" } })
  no("time", { "missing" }, { time = false })
  no("cure", { "length", "1 and 2" }, { cure = { 0.1 } })
  no("cure[2]", { "per cent" }, { cure = { 0.1, 40 } })
  no("cure[1]", { "plain number" }, { cure = { "1 h", 0.4 } })
  no("weight", { "length" }, { weight = { 1 } })
  no("weight[2]", { "found -1" }, { weight = { 1, -1 } })
  no("temperatures", { "did you mean temperature?" }, { temperatures = "20 degC" })
end

function TestRefuses.test_the_fit()
  local function no(argument, words, change)
    local spec = { law = kamal(0.8, 1.6), free = { "ln k1" }, runs = { one {} } }
    for key, value in pairs(change) do
      spec[key] = value or nil
    end
    refused_for(argument, words, rw.fit_runs, spec)
  end
  no("law", { "law" }, { law = "kamal" })
  no("law", { "missing" }, { law = false })
  no("free", { "empty" }, { free = {} })
  no("free[1]", { "did you mean \"ln k1\"?" }, { free = { "lnk1" } })
  no("free", { "no E3" }, { free = { "E3" } })
  no("free", { "twice" }, { free = { "E1", "E1" } })
  no("free", { "do not determine" }, { free = { "ln k1", "E1" } })
  no("runs", { "empty" }, { runs = {} })
  no("runs", { "3 parameters" }, { free = { "ln k1", "ln k2", "n" } })
  no("tolerance", { "0.0001" }, { tolerance = 0.1 })
  no("robust.tuning", { "found 1000" }, { robust = { tuning = 1000 } })
  no("robust.sd", { "missing" }, { robust = { scale = "fixed" } })
  no("robust.sd", { "not fixed" }, { robust = { sd = 0.01 } })
  no("robust.sd", {}, { robust = { scale = "fixed", sd = 0 } })
  no("robust.loss", { "huber" }, { robust = { loss = "hubert" } })
  no("robusst", { "did you mean robust?" }, { robusst = {} })
end

function TestRefuses.test_methods()
  local fit = fitted()
  local function no(argument, words, method, spec)
    refused_for(argument, words, fit[method], fit, spec)
  end
  no("parameter", { "was held", "free" }, "limits", { parameter = "m" })
  no("parameter", { "one of" }, "limits", { parameter = "k1" })
  no("level", {}, "limits", { parameter = "E1", level = "10 %" })
  no("time", { "missing" }, "cure", { temperature = "20 degC" })
  no("time", { "time 2" }, "cure", { temperature = "20 degC", time = { "2 h", "1 h" } })
  no("temperature", { "and so is history" }, "cure", { time = { "2 h" } })
  no("temperature", { "226.85 degC" }, "cure", { temperature = "300 degC", time = { "2 h" } })
  no("cure", { "found 60" }, "when", { temperature = "20 degC", cure = 60 })
  no("cure", {}, "when", { temperature = "20 degC", cure = 0.2, start = 0.3 })
  no("within", {}, "when", { temperature = "20 degC", cure = 0.2, within = "0 h" })
  local h = rw.steady { air = "19 degC", from = "2026-10-03 08:00", to = "2026-10-04 08:00" }
  no("from", {}, "when", { history = h, from = "2026-10-05 08:00", cure = 0.2 })
  no("history", { "reach" }, "when", { history = h, from = "2026-10-03 09:00", cure = 0.2,
    within = "3 d" })
  local robust = fitted { robust = {} }
  refused_for("robust", { "least squares" }, robust.limits, robust, { parameter = "E1" })
  refused_for("runs_fit", { "did you mean residuals?" }, function() return fit.residual end)
  refused_for(nil, { "cannot be changed" }, function() fit.rounds = 3 end)
end

TestMemory = {}

-- The fit keeps what it needs; a history closed by hand is told.
function TestMemory.test_runs_stay()
  local spec = { law = kamal(0.8, 1.6), free = { "ln k1" }, runs = { { history = rw.steady {
    air = "20 degC", from = "2026-10-03 08:00", to = "2026-10-05 08:00" },
    from = "2026-10-03 09:00", time = { unit = "h", 4, 8, 16 }, cure = { 0.1, 0.2, 0.5 } } } }
  local fit = rw.fit_runs(spec)
  local low = fit:limits({ parameter = "ln k1" }).low
  spec = nil -- luacheck: ignore
  support.memory()
  lu.assertEquals(fit:limits({ parameter = "ln k1" }).low, low)
  lu.assertEquals(#fit.residuals[1], 3)
  local short
  do
    local h <close> = rw.steady { air = "20 degC", from = "2026-10-03 08:00",
      to = "2026-10-05 08:00" }
    short = rw.fit_runs { law = kamal(0.8, 1.6), free = { "ln k1" }, runs = { { history = h,
      from = "2026-10-03 09:00", time = { unit = "h", 4, 8, 16 }, cure = { 0.1, 0.2, 0.5 } } } }
  end
  lu.assertEquals(short.points, 3)
  refused_for("history", { "closed" }, short.limits, short, { parameter = "ln k1" })
end

function TestMemory.test_nothing_stays_behind()
  local law = rw.law { kind = "nth_order", k1 = "0.01 1/min", E1 = "55 kJ/mol", n = 2 }
  local function once()
    local run = { temperature = "25 degC", time = { unit = "min", 30, 60, 120 },
      cure = { 0.24, 0.37, 0.56 } }
    local fit = rw.fit_runs { law = law, free = { "ln k1" }, runs = { run } }
    fit:limits { parameter = "ln k1" }
    fit:cure { temperature = "20 degC", time = { "1 h" } }
    lu.assertEquals(#fit.parameters, 1)
    run.cure[2] = 37
    pcall(rw.fit_runs, { law = law, free = { "ln k1" }, runs = { run } })
    run.cure[2], run.time[3] = 0.37, 1
    pcall(rw.fit_runs, { law = law, free = { "ln k1" }, runs = { run } })
  end
  for _ = 1, 20 do
    once()
  end
  local before = support.memory()
  for _ = 1, 200 do
    once()
  end
  lu.assertTrue(support.memory() - before < 4, "kilobytes stay behind")
end

os.exit(lu.LuaUnit.run(), true)
