-- SPDX-License-Identifier: GPL-3.0-or-later
-- Activation energies through Lua: every exact answer of the tables at their tolerances, printed
-- and measured series, whole runs; units and refusals in words.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused_for, point = support.refused_for, support.point

-- luacheck: globals TestExact TestPrinted TestCurves TestTimes TestRefuses

local ZERO = 273.15
local EXACT = 1e-8
local rates = { 2, 5, 10, 20 }

local function close(found, wanted, share)
  lu.assertAlmostEquals(found, wanted, math.abs(wanted) * share)
end

local function energy(method, points, more)
  local spec = { method = method, points = points }
  for key, value in pairs(more or {}) do
    spec[key] = value
  end
  return rw.activation_energy(spec)
end

TestExact = {}

-- Points of each law and conversion ("peak" for the peaks), from two tables.
local function exact_points()
  local found = {}
  local function add(row, alpha, T, rate)
    local key = row.model .. alpha
    found[key] = found[key] or {}
    table.insert(found[key], { heating = row.beta_K_per_min .. " K/min",
      temperature = rw.q(tonumber(T), "K"), rate = rate .. " 1/s", start = "0 degC" })
  end
  for _, row in ipairs(support.checks "table_isoconv_temperatures") do
    add(row, tonumber(row.alpha), row.T_K, row.dalpha_dt_per_s)
  end
  for _, row in ipairs(support.checks "table_isoconv_peaks") do
    add(row, "peak", row.Tp_K, row.rate_p_per_s)
  end
  return found
end

local methods = { kissinger = "kissinger", ozawa_peak = "ofw", starink_peak = "starink",
  friedman = "friedman", ofw = "ofw", kas = "kas", starink = "starink", vyazovkin = "vyazovkin",
  vyazovkin_from0 = "vyazovkin" }

function TestExact.test_every_row()
  local points, done = exact_points(), 0
  for _, row in ipairs(support.checks "table_isoconv_expected") do
    local alpha = tonumber(row.alpha) or "peak"
    local four = points[row.model .. alpha]
    lu.assertEquals(#four, 4)
    if row.method == "vyazovkin_from0" then
      for i, p in ipairs(four) do
        four[i] = { heating = p.heating, temperature = p.temperature }
      end
    end
    local e = energy(methods[row.method], four)
    close(e.energy.value:to "J/mol", tonumber(row.E_J_per_mol), EXACT)
    if row.aux ~= "" then
      local logs = row.method == "kissinger" or row.method == "friedman"
      close(logs and e.log_factor or e.objective, tonumber(row.aux), EXACT)
    end
    if row.method == "vyazovkin_from0" then
      points = exact_points()
    end
    done = done + 1
  end
  lu.assertTrue(done > 400)
end

TestPrinted = {}

local function printed_peaks()
  local four = {}
  for i, row in ipairs(support.checks "table_kissinger_peaks") do
    four[i] = { heating = row.beta_K_per_min .. " K/min", temperature = row.Tp_C .. " degC" }
  end
  return four
end

function TestPrinted.test_peaks()
  local four = printed_peaks()
  local k = energy("kissinger", four)
  local function value(e) return e.energy.value:to "kJ/mol" end
  point("fit_iso", "kissinger-E", value(k))
  point("fit_iso", "kissinger-A", math.exp(k.log_factor))
  point("fit_iso", "ozawa-E", value(energy("ofw", four)))
  point("fit_iso", "starink-E", value(energy("starink", four)))
  local e = energy("e698", four)
  point("fit_iso", "e698-E", value(e))
  lu.assertAlmostEquals(e.log_rate, k.log_rate, 1e-3)
  close(k.rate:to "1/s", math.exp(k.log_rate), 1e-12)
end

local function noisy()
  local four = {}
  for i, T in ipairs { 356.9, 372.1, 387.0, 400.6 } do
    four[i] = { heating = rw.q(rates[i], "K/min"), temperature = rw.q(T, "K") }
  end
  return four
end

function TestPrinted.test_scatter()
  local e = energy("kissinger", noisy())
  point("fit_iso", "noisy-E", e.energy.value:to "J/mol")
  point("fit_iso", "noisy-se", e.se:to "J/mol")
  point("fit_iso", "noisy-reach", (e.high - e.energy.value):to "J/mol")
  point("fit_iso", "noisy-reach", (e.energy.value - e.low):to "J/mol")
  point("fit_iso", "noisy-scatter", e.scatter)
  point("fit_iso", "noisy-lnA", e.log_factor)
  lu.assertEquals({ e.level, e.runs, e.freedom }, { 0.95, 4, 2 })
  lu.assertEquals(e.warnings, {})
  -- the range is that of nine times in ten, whatever level is asked for
  local nine = energy("kissinger", noisy(), { level = "90 %" })
  close(nine.high:to "J/mol", nine.energy.high:to "J/mol", 1e-12)
  close(e.energy.high:to "J/mol", nine.energy.high:to "J/mol", 1e-12)
  lu.assertTrue(e.energy.high < e.high)
end

-- Fahrenheit, kelvin, and a rate per second: the same run.
function TestPrinted.test_units()
  local e, other = energy("kas", noisy()), noisy()
  other[1].temperature, other[1].heating = "182.75 degF", rw.q(2 / 60, "K/s")
  other[2].temperature, other[2].heating = "98.95 degC", "9 Fdeg/min"
  close(energy("kas", other).energy.value:to "J/mol", e.energy.value:to "J/mol", 1e-9)
  lu.assertNil(e.rate)
  lu.assertNil(e.log_rate)
  lu.assertNil(e.objective)
end

function TestPrinted.test_two_runs()
  local four = noisy()
  local e = energy("kissinger", { four[1], four[4] })
  lu.assertStrContains(e.warnings[1], "no interval")
  lu.assertEquals(e.energy.warnings, e.warnings)
  lu.assertNil(e.low)
  lu.assertNil(e.high)
  lu.assertNil(e.se)
  lu.assertStrContains(tostring(e.energy), "unknown")
  refused_for("amount", {}, rw.quantile, { amount = e.energy, chance = 0.5 })
end

TestCurves = {}

local function curves(law, with_rate)
  local list, by_rate = {}, {}
  for _, row in ipairs(support.checks "table_isoconv_curves") do
    if row.model == law then
      local c = by_rate[row.beta_K_per_min]
      if not c then
        c = { heating = row.beta_K_per_min .. " K/min", start = "0 degC",
          temperature = { unit = "K" }, conversion = {}, rate = with_rate and { unit = "1/s" } }
        by_rate[row.beta_K_per_min], list[#list + 1] = c, c
      end
      table.insert(c.temperature, tonumber(row.T_K))
      table.insert(c.conversion, tonumber(row.alpha))
      if with_rate then
        table.insert(c.rate, tonumber(row.dalpha_dt_per_s))
      end
    end
  end
  lu.assertEquals(#list, 4)
  return list
end

function TestCurves.test_scan()
  local at = { 0.05, "20 %", 0.5, 0.8, 0.95 }
  for _, law in ipairs { "F1", "F1.5", "F2" } do
    for _, with_rate in ipairs { true, false } do
      local four = curves(law, with_rate or nil)
      for _, method in ipairs { "friedman", "vyazovkin" } do
        local list = rw.energy_scan { method = method, curves = four, conversions = at }
        lu.assertEquals(#list, 5)
        lu.assertEquals(list.warnings, {})
        lu.assertEquals(list[2].conversion, 0.2)
        for _, e in ipairs(list) do
          close(e.energy.value:to "J/mol", 55000, 1e-3)
          lu.assertTrue(e.low <= e.energy.value and e.energy.value <= e.high)
        end
      end
    end
  end
end

-- A peak found goes into the energy as it is.
function TestCurves.test_peaks()
  for _, law in ipairs { "F1", "F2" } do
    local found, exact = {}, {}
    for _, row in ipairs(support.checks "table_isoconv_peaks") do
      if row.model == law then
        exact[#exact + 1] = { heating = row.beta_K_per_min .. " K/min",
          temperature = rw.q(tonumber(row.Tp_K), "K"), rate = row.rate_p_per_s .. " 1/s" }
      end
    end
    for i, c in ipairs(curves(law)) do
      found[i] = rw.heating_peak(c)
      -- a thousandth of the span of the peaks, 45 K
      lu.assertAlmostEquals(found[i].temperature:to "K", exact[i].temperature:to "K", 0.045)
      close(found[i].rate:to "1/s", rw.q(exact[i].rate):to "1/s", 1e-3)
      close(found[i].start:to "K", ZERO, 1e-12)
    end
    close(energy("kissinger", found).energy.value:to "J/mol",
      energy("kissinger", exact).energy.value:to "J/mol", 1e-3)
  end
end

-- Rates that are given are taken, whatever the conversions say.
function TestCurves.test_rates()
  local c = curves("F2", true)[3]
  local plain = rw.heating_peak(c)
  for i, rate in ipairs(c.rate) do
    c.rate[i] = 2 * rate
  end
  local twice = rw.heating_peak(c)
  close(twice.rate:to "1/s", 2 * plain.rate:to "1/s", 1e-9)
  lu.assertAlmostEquals(twice.temperature:to "K", plain.temperature:to "K", 1e-6)
end

function TestCurves.test_pass()
  local wanted = {}
  for _, row in ipairs(support.checks "table_isoconv_temperatures") do
    if row.model == "F1" and tonumber(row.alpha) == 0.5 then
      wanted[#wanted + 1] = tonumber(row.T_K)
    end
  end
  local points = {}
  for i, c in ipairs(curves "F1") do
    c.at = "50 %"
    points[i] = rw.heating_pass(c)
    lu.assertAlmostEquals(points[i].temperature:to "K", wanted[i], 0.045)
  end
  for _, method in ipairs { "friedman", "vyazovkin" } do
    close(energy(method, points).energy.value:to "J/mol", 55000, 1e-3)
  end
end

TestTimes = {}

local function series(amine, celsius)
  local time, value = { unit = "min" }, {}
  for _, row in ipairs(support.checks "table_nmr_mobility") do
    if row.amine == amine and tonumber(row.temp_C) == celsius then
      table.insert(time, tonumber(row.time_min))
      table.insert(value, tonumber(row.index))
    end
  end
  return { time = time, value = value, from = 0.2, to = 0.8 }
end

function TestTimes.test_measured()
  local all = {}
  local function value(e) return e.energy.value:to "kJ/mol" end
  for _, amine in ipairs { "DAB", "DAP" } do
    local own = {}
    for i, celsius in ipairs { 25, 33, 40 } do
      local time = rw.time_of_change(series(amine, celsius))
      point("fit_iso", ("nmr-%s-%d"):format(amine:lower(), celsius), time:to "min")
      own[i] = { temperature = rw.q(celsius, "degC"), time = time, material = amine }
      all[#all + 1] = own[i]
    end
    local two = rw.energy_of_times { runs = { own[1], own[3] } }
    point("fit_iso", ("nmr-%s-two"):format(amine:lower()), value(two))
    lu.assertStrContains(two.warnings[1], "no interval")
    local three = rw.energy_of_times { runs = own, timing = "2 %" }
    lu.assertTrue(three.high - three.low > rw.q "20 kJ/mol")
    close(three.rate:to "1/s", math.exp(three.log_rate), 1e-12)
  end
  point("fit_iso", "nmr-eda-25", rw.time_of_change(series("EDA", 25)):to "min")
  local both = rw.energy_of_times { runs = all }
  point("fit_iso", "nmr-both-E", value(both))
  point("fit_iso", "nmr-both-se", both.se:to "kJ/mol")
  lu.assertNil(both.rate)
  lu.assertEquals(both.freedom, 3)
end

-- What is known of the timing widens the interval of a lucky line.
function TestTimes.test_timing()
  local runs = { { temperature = "15 degC", time = "20 h" }, { temperature = "25 degC",
    time = rw.q(20 * math.exp(6000 * (1 / 298.15 - 1 / 288.15)), "h") },
    { temperature = "35 degC",
      time = rw.q(20 * math.exp(6000 * (1 / 308.15 - 1 / 288.15)), "h") } }
  local lucky = rw.energy_of_times { runs = runs }
  close(lucky.energy.value:to "J/mol", 6000 * 8.31446261815324, 1e-9)
  lu.assertTrue(lucky.se:to "J/mol" < 1e-6)
  local known = rw.energy_of_times { runs = runs, timing = "5 %" }
  lu.assertTrue(known.se > rw.q "1 kJ/mol")
end

TestRefuses = {}

function TestRefuses.test_points()
  local function no(argument, words, change, method)
    local four = noisy()
    change(four)
    refused_for(argument, words, rw.activation_energy, { method = method or "kas", points = four })
  end
  no("method", { "did you mean \"starink\"?" }, function() end, "starinc")
  no("points[2].temperature", { "found 900 degC", "426.85 degC", "unit" },
    function(p) p[2].temperature = "900 degC" end)
  no("points[2].temperature", { "missing" }, function(p) p[2].temperature = nil end)
  no("points[2].temperature", { "no unit" }, function(p) p[2].temperature = 372 end)
  no("points[3].heating", { "found 1000 K/min", "102 K/min" },
    function(p) p[3].heating = "1000 K/min" end)
  no("points[3].heating", { "missing", "10 K/min" }, function(p) p[3].heating = nil end)
  no("points[3].heating", { "temperature" }, function(p) p[3].heating = "10 m/min" end)
  no("points[1].rate", { "missing", "1/s" }, function() end, "friedman")
  no("points[1].rate", { "found 0" }, function(p)
    for _, point_ in ipairs(p) do
      point_.rate = "0 1/s"
    end
  end, "friedman")
  no("points[1].start", {}, function(p) p[1].start = "200 degC" end, "vyazovkin")
  no("points[1].beta", {}, function(p) p[1].beta = 5 end)
  no("points", { "needs two runs" }, function(p) p[2], p[3], p[4] = nil, nil, nil end)
  no("points", { "one rate" }, function(p)
    for _, point_ in ipairs(p) do
      point_.heating = "5 K/min"
    end
  end)
  no("points", { "no activation energy above 0" }, function(p)
    p[1].temperature, p[2].temperature, p[3].temperature, p[4].temperature =
      p[4].temperature, p[3].temperature, p[2].temperature, p[1].temperature
  end)
  no("points", { "at most 32" }, function(p)
    for i = 5, 33 do
      p[i] = p[4]
    end
  end)
  refused_for("level", {}, rw.activation_energy, { method = "kas", points = noisy(),
    level = 0.2 })
end

function TestRefuses.test_curves()
  local good = curves "F1"
  local function changed(change)
    local c = { heating = good[2].heating, temperature = { unit = "K" }, conversion = {} }
    table.move(good[2].temperature, 1, #good[2].temperature, 1, c.temperature)
    table.move(good[2].conversion, 1, #good[2].conversion, 1, c.conversion)
    change(c)
    return c
  end
  local function no(argument, words, change)
    local c = changed(change)
    refused_for("curves[2]." .. argument, words, rw.energy_scan, { method = "kas",
      curves = { good[1], c }, conversions = { 0.3, 0.5 } })
    refused_for(argument, words, rw.heating_peak, c)
    c.at = 0.5
    refused_for(argument, words, rw.heating_pass, c)
  end
  no("temperature[9]", { "does not rise" }, function(c) c.temperature[9] = c.temperature[8] end)
  no("conversion[9]", { "falls" }, function(c) c.conversion[9] = 0 end)
  no("conversion[9]", { "found 35" }, function(c) c.conversion[9] = 35 end)
  no("temperature[9]", { "degC" }, function(c) c.temperature[9] = 900 end)
  no("conversion", { "length" }, function(c) table.remove(c.conversion) end)
  no("rate", { "length" }, function(c) c.rate = { "1 1/s" } end)
  no("heating", { "102 K/min" }, function(c) c.heating = "500 K/min" end)
  no("heating", { "missing" }, function(c) c.heating = nil end)
  no("temperature", { "5 readings" }, function(c)
    c.temperature, c.conversion = { "20 degC", "30 degC" }, { 0.1, 0.2 }
  end)
  local half = changed(function(c)
    for i = #c.temperature, 20, -1 do
      c.temperature[i], c.conversion[i] = nil, nil
    end
  end)
  refused_for("conversion", { "no peak" }, rw.heating_peak, half)
  half.at = 0.99
  refused_for("at", { "doesn't pass" }, rw.heating_pass, half)
  half.at = nil
  local function scan(change)
    local spec = { method = "kas", curves = { good[1], good[2] }, conversions = { 0.3, 0.5 } }
    for key, value in pairs(change) do
      spec[key] = value
    end
    return spec
  end
  refused_for("conversions[2]", { "doesn't pass 0.99" }, rw.energy_scan,
    scan { curves = { good[1], half }, conversions = { 0.01, 0.99 } })
  refused_for("conversions[1]", {}, rw.energy_scan, scan { conversions = { 0 } })
  refused_for("conversions[1]", {}, rw.energy_scan, scan { conversions = { "35 m" } })
  refused_for("curves", { "needs two runs" }, rw.energy_scan, scan { curves = { good[1] } })
  refused_for("curves", { "one rate" }, rw.energy_scan, scan { curves = { good[1], good[1] } })
  refused_for("method", {}, rw.energy_scan, scan { method = "kissinger" })
  refused_for("level", {}, rw.energy_scan, scan { level = "20 %" })
  local many = {}
  for i = 1, 1001 do
    many[i] = 0.5
  end
  refused_for("conversions", { "1000" }, rw.energy_scan, scan { conversions = many })
end

function TestRefuses.test_times()
  local function no(argument, words, change, more)
    local spec = { runs = { { temperature = "20 degC", time = "9 h" },
      { temperature = "30 degC", time = "4 h" } } }
    for key, value in pairs(change) do
      spec.runs[2][key] = value
    end
    for key, value in pairs(more or {}) do
      spec[key] = value
    end
    refused_for(argument, words, rw.energy_of_times, spec)
  end
  no("runs[2].time", { "found 0 s" }, { time = "0 s" })
  no("runs[2].time", { "time" }, { time = "4 kg" })
  no("runs[2].temperature", { "found 600 degC" }, { temperature = "600 degC" })
  no("runs[2].material", { "text" }, { material = 3 })
  no("runs[2].tme", { "did you mean time?" }, { tme = "1 h" })
  no("runs", { "no faster" }, { time = "19 h" })
  no("runs", { "no material" }, { material = "another" })
  no("runs", { "one" }, {}, { runs = { { temperature = "20 degC", time = "9 h" } } })
  no("timing", { "percent" }, {}, { timing = 5 })
  no("level", {}, {}, { level = "10 %" })
  local function change(argument, words, more)
    local spec = { time = { unit = "min", 1, 2, 3 }, value = { 0, 0.4, 0.9 }, from = 0.2,
      to = 0.8 }
    for key, value in pairs(more) do
      spec[key] = value
    end
    refused_for(argument, words, rw.time_of_change, spec)
  end
  change("time[3]", { "not later" }, { time = { unit = "min", 1, 2, 2 } })
  change("value", { "length" }, { value = { 1, 2 } })
  change("value", { "never reaches 0.95" }, { to = 0.95 })
  change("value", { "begins above" }, { from = -0.5 })
  change("to", { "found 0.1" }, { to = 0.1 })
  change("time", {}, { time = { "1 min" }, value = { 1 } })
  change("time[1]", { "no unit" }, { time = { 1, 2, 3 } })
end

os.exit(lu.LuaUnit.run(), true)
