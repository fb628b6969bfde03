-- SPDX-License-Identifier: GPL-3.0-or-later
-- Rate laws that a chemist gives: against published constants and times, against the forms written
-- out by hand and against the classes; many draws with a progress function; refusals in words.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused_for = support.refused_for

-- luacheck: globals TestLaw TestOwnResin TestAge TestDraws

local R = 8.31446261815324
local laid = "2026-10-03 09:00"

local function hall(air)
  return rw.steady { air = air or "20 degC", from = "2026-10-03 08:00", to = "2026-10-13 08:00" }
end

local function close(found, wanted, share)
  lu.assertAlmostEquals(found, wanted, math.abs(wanted) * (share or 1e-12))
end

TestLaw = {}

-- Lee, Loos & Springer 1982, as reference-data/checks/points_cure_laws.csv has it: factors per
-- minute, the second one below zero.
local function two_stages(reference)
  return rw.law { kind = "two_stage", reference = reference, A1 = "2.101e9 1/min",
    E1 = "80.7 kJ/mol", A2 = "-2.014e9 1/min", E2 = "77.8 kJ/mol", A3 = "1.960e5 1/min",
    E3 = "56.6 kJ/mol", limit = 0.47, split = 0.3 }
end

function TestLaw.test_published_in_two_stages()
  local law = two_stages()
  local function rate(cure)
    return law:rate({ cure = cure, temperature = "100 degC" }):to "1/min"
  end
  lu.assertAlmostEquals(rate(0.2999999999), 3.3822e-4, 5e-9)
  lu.assertAlmostEquals(rate(0.3000000001), 1.6386e-3, 5e-8)
  lu.assertEquals(law.top, 1)
  lu.assertEquals(law.kind, "two_stage")
  for _, reference in ipairs { "25 degC", "120 degC" } do
    local r = rw.resin { class = "slow-polyetheramine", law = two_stages(reference) }
    local s = r:steady { temperature = "177 degC", cures = { 0.3, 0.5, 0.9 } }
    lu.assertAlmostEquals(s.cures[1].time:to "min", 2.400, 0.0005)
    lu.assertAlmostEquals(s.cures[2].time:to "min", 8.743, 0.0005)
    lu.assertAlmostEquals(s.cures[3].time:to "min", 39.086, 0.0005)
  end
end

-- Each kind at the reference temperature is its own formula.
function TestLaw.test_forms()
  local a, k1, k2, m, n, limit = 0.4, 0.002, 0.03, 0.8, 1.7, 0.9
  local forms = {
    nth_order = k1 * (1 - a) ^ n,
    kamal = (k1 + k2 * a ^ m) * (1 - a) ^ n,
    plateau = (k1 + k2 * a ^ m) * (1 - a) ^ (n / 2) * (limit - a) ^ (n / 2),
    sestak_berggren = k1 * a ^ m * (1 - a) ^ n,
  }
  for kind, wanted in pairs(forms) do
    local second = kind == "kamal" or kind == "plateau"
    local spec = { kind = kind, reference = "60 degC", k1 = "0.002 1/s", E1 = "55 kJ/mol", n = n,
      k2 = second and "1.8 1/min" or nil, E2 = second and "50 kJ/mol" or nil,
      m = kind ~= "nth_order" and m or nil, limit = kind == "plateau" and limit or nil }
    local law = rw.law(spec)
    close(law:rate({ cure = a, temperature = "60 degC" }):to "1/s", wanted, 1e-12)
    lu.assertEquals(law.warnings, {})
    spec.diffusion = { steepness = 20, conversion = 0.5, slope = "0.005 1/K" }
    close(rw.law(spec):rate({ cure = a, temperature = "60 degC" }):to "1/s",
      wanted / (1 + math.exp(20 * (a - 0.5))), 1e-12)
  end
end

function TestLaw.test_warmth_and_diffusion_slope()
  local law = rw.law { kind = "nth_order", k1 = "0.01 1/min", E1 = "55 kJ/mol", n = 2,
    diffusion = { steepness = 20, conversion = 0.5, slope = "0.005 1/K" } }
  local warm = math.exp(-55e3 / R * (1 / 318.15 - 1 / 298.15))
  close(law:rate({ cure = 0.4, temperature = "45 degC" }):to "1/min",
    0.01 * warm * 0.36 / (1 + math.exp(20 * (0.4 - 0.6))), 1e-12)
end

function TestLaw.test_stiffening()
  local g = { uncured = "-20 degC", cured = "90 degC", lambda = 0.35 }
  local function law(stiffening)
    return rw.law { kind = "nth_order", k1 = "0.01 1/s", E1 = "55 kJ/mol", n = 2,
      stiffening = stiffening }
  end
  local chemical = 0.01
  local Tg = -20 + 110 * 0.35 * 0.7 / (1 - 0.65 * 0.7)
  local slower = 1e-3 * math.exp(40.2 * (25 - Tg) / (51.6 + math.abs(25 - Tg)))
  close(law({ rate = "0.001 1/s", glass = g }):rate({ cure = 0.7, temperature = "25 degC" })
    :to "1/s", chemical * slower / (chemical + slower) * 0.09, 1e-9)
  refused_for("stiffening.glass.cured", { "above the uncured" }, law,
    { rate = "0.001 1/s", glass = { uncured = "90 degC", cured = "80 degC", lambda = 0.3 } })
  refused_for("stiffening.rate", {}, law, { rate = "-1 1/s", glass = g })
  refused_for("stiffening.c2", {}, law, { rate = "1 1/s", c2 = "1 K", glass = g })
  refused_for("stiffening.glass", { "missing" }, law, { rate = "1 1/s" })
end

function TestLaw.test_constant_and_factor_are_one()
  local by_k = rw.law { kind = "nth_order", reference = "21 degC", k1 = "0.01 1/min",
    E1 = "55 kJ/mol", n = 2 }
  local v = by_k:values()
  lu.assertEquals(v.kind, "nth_order")
  close(v.A1:to "1/min", 0.01 * math.exp(55e3 / R / 294.15), 1e-12)
  lu.assertNil(v.k2)
  lu.assertNil(v.m)
  local by_A = rw.law { kind = "nth_order", reference = "80 degC", A1 = v.A1, E1 = v.E1, n = v.n }
  close(by_A:rate({ cure = 0.3, temperature = "10 degC" }):si(),
    by_k:rate({ cure = 0.3, temperature = "10 degC" }):si(), 1e-12)
end

function TestLaw.test_off_ratio()
  local law = rw.law { kind = "kamal", k1 = "0.001 1/s", E1 = "55 kJ/mol", k2 = "0.01 1/s",
    E2 = "50 kJ/mol", m = 1, n = 2 }
  local off = law:off_ratio { ratio = 0.6 }
  lu.assertEquals(off.kind, "plateau")
  lu.assertEquals(off.top, 0.6)
  lu.assertEquals(law:off_ratio({ ratio = 1.5 }).top, 1)
  close(off:rate({ cure = 0.3, temperature = "25 degC" }):to "1/s",
    (0.001 + 0.01 * 0.3) * 0.7 * 0.3, 1e-12)
  refused_for("ratio", { "0.5 is half" }, law.off_ratio, law, { ratio = 60 })
  refused_for("law", { "right mix" }, off.off_ratio, off, { ratio = 0.6 })
end

function TestLaw.test_refuses()
  local function no(argument, words, more)
    local spec = { kind = "kamal", k1 = "0.001 1/s", E1 = "55 kJ/mol", k2 = "0.01 1/s",
      E2 = "50 kJ/mol", m = 1, n = 2 }
    for key, value in pairs(more) do
      spec[key] = value or nil
    end
    refused_for(argument, words, rw.law, spec)
  end
  no("kind", { "kamal" }, { kind = "kamall" })
  no("m", { "m is missing", "kamal" }, { m = false })
  no("n", { "n is missing" }, { n = false })
  no("n", {}, { n = 9 })
  no("k2", { "k2 is missing", "A2" }, { k2 = false })
  no("E2", { "E2 is missing", "55 kJ/mol" }, { E2 = false })
  no("A1", { "both given" }, { A1 = "1e6 1/s" })
  no("k1", { "rate" }, { k1 = "0.001 s" })
  no("k1", { "no unit" }, { k1 = 0.001 })
  no("k1", {}, { k1 = "-0.001 1/s" })
  no("E1", { "56 kJ/mol", "0.056" }, { E1 = "56 J/mol" })
  no("E1", { "kcal or kJ" }, { E1 = "13 J/mol", k1 = false, A1 = "1e6 1/s" })
  no("A1", {}, { k1 = false, A1 = "1e25 1/s" })
  no("k3", { "a law of the kind kamal has none" }, { k3 = "1 1/s" })
  no("limit", { "has none" }, { limit = 0.5 })
  no("k2", { "has none" }, { kind = "nth_order", m = false })
  no("reference", {}, { reference = "400 degC" })
  no("diffusion.steepness", {}, { diffusion = { steepness = 900, conversion = 0.5 } })
  no("diffusion.conversion", { "missing" }, { diffusion = { steepness = 20 } })
  no("diffusion.slope", {}, { diffusion = { steepness = 20, conversion = 0.5, slope = "0.1 K" } })
  refused_for("split", {}, rw.law, { kind = "two_stage", k1 = "1 1/s", E1 = "55 kJ/mol",
    k2 = "1 1/s", E2 = "55 kJ/mol", k3 = "1 1/s", E3 = "55 kJ/mol", limit = 0.5, split = 0.8 })
  local law = rw.law { kind = "nth_order", k1 = "1 1/h", E1 = "55 kJ/mol", n = 1 }
  refused_for("cure", { "0 is liquid" }, law.rate, law, { cure = 30, temperature = "20 degC" })
  refused_for("temperature", { "found 300 degC", "226.85 degC" }, law.rate, law,
    { cure = 0.3, temperature = "300 degC" })
  refused_for("temperature", { "found -150 degC" }, law.rate, law,
    { cure = 0.3, temperature = "-150 degC" })
  lu.assertStrContains(rw.law({ kind = "nth_order", k1 = "1 1/h", E1 = "25 kJ/mol", n = 1 })
    .warnings[1], "30 to 200 kJ/mol")
end

TestOwnResin = {}

-- The slow class written out by hand, from reference-data/materials/resins.csv.
local function slow_law()
  return rw.law { kind = "kamal", k1 = "2.13e-5 1/s", E1 = "60 kJ/mol", k2 = "0.000128 1/s",
    E2 = "56 kJ/mol", m = 0.85, n = 1.8,
    diffusion = { steepness = 25, conversion = 0.8, slope = "0.006 1/K" } }
end

function TestOwnResin.test_a_class_by_hand_is_the_class()
  local class = rw.resin { class = "slow-polyetheramine" }
  local own = rw.resin { class = "fast-polyamine", law = slow_law(),
    glass = { uncured = "-22 degC", cured = "88 degC", lambda = 0.35 },
    flow = { viscosity = "0.8 Pa s", energy = "48 kJ/mol", reference = "25 degC", gel = 0.577,
      C1 = 1.5, C2 = 1 } }
  local ask = { temperature = "15 degC", cures = { 0.2, 0.5, 0.7 }, times = { "2 h", "3 d" } }
  local a, b = class:steady(ask), own:steady(ask)
  for i = 1, 3 do
    close(b.cures[i].time:si(), a.cures[i].time:si(), 1e-9)
  end
  close(b.states[1].viscosity:si(), a.states[1].viscosity:si(), 1e-9)
  close(b.states[2].glass:si(), a.states[2].glass:si(), 1e-9)
  local function at_gel(resin) return resin:map({ count = 5 }).glass_at_gel:si() end
  close(at_gel(own), at_gel(class), 1e-12)
  lu.assertEquals(own.thresholds.gel, 0.577)
  lu.assertEquals(own.warnings, {})
end

function TestOwnResin.test_an_autocatalytic_law_needs_a_low_power()
  local function own(m)
    return rw.resin { class = "slow-polyetheramine", law = rw.law { kind = "kamal",
      k2 = "0.001 1/s", E2 = "55 kJ/mol", m = m, n = 2 } }
  end
  local s = own(0.5):steady { temperature = "25 degC", cures = { 0.5 } }
  lu.assertTrue(s.cures[1].time:si() > 0)
  refused_for("law", { "never cures" }, own, 1.2)
end

function TestOwnResin.test_a_label_scales_its_law()
  local r = rw.resin { class = "slow-polyetheramine", law = slow_law(),
    label = { pot_life = "30 min" } }
  close(r:pot({ mass = "100 g", air = "25 degC" }).usable:to "min", 30, 1e-3)
end

function TestOwnResin.test_spread()
  local r = rw.resin { class = "slow-polyetheramine", rate_sd = 0.1, energy_sd = "1 kJ/mol" }
  lu.assertEquals(r.rate_sd, 0.1)
  local wide = rw.resin { class = "slow-polyetheramine" }
  local spec = { hull = hall(), laid = laid, to = "2026-10-05 09:00" }
  local function width(resin)
    local gel = resin:forecast(spec).gel
    return rw.clock { at = gel.high } - rw.clock { at = gel.low }
  end
  lu.assertTrue(width(r) < width(wide))
end

function TestOwnResin.test_refuses()
  local function no(argument, words, more)
    more.class = "slow-polyetheramine"
    refused_for(argument, words, rw.resin, more)
  end
  no("law", { "law" }, { law = "kamal" })
  no("glass.cured", { "above the uncured" }, { glass = { cured = "-40 degC" } })
  no("glass.lambda", {}, { glass = { lambda = 0 } })
  no("flow.gel", { "0.58" }, { flow = { gel = 58 } })
  no("flow.viscosity", {}, { flow = { viscosity = "0 Pa s" } })
  no("flow.energy", { "48000 kJ/mol" }, { flow = { energy = "48 MJ/mol" } })
  no("flow.C2", { "must not fall" }, { flow = { C2 = -9 } })
  no("flow.work_viscosity", {}, { flow = { work_viscosity = "0 Pa s" } })
  no("rate_sd", { "0.4 is a class" }, { rate_sd = 40 })
  no("energy_sd", {}, { energy_sd = "500 kJ/mol" })
end

TestAge = {}

function TestAge.test_when_is_the_inverse()
  local spec = { energy = "56 kJ/mol", reference = "21 degC", history = hall "12 degC",
    from = laid, to = "2026-10-04 15:00" }
  spec.age, spec.to = rw.equivalent_age(spec), nil
  lu.assertEquals(rw.equivalent_age_when(spec), "2026-10-04 15:00")
  spec.age = "1000 d"
  lu.assertNil(rw.equivalent_age_when(spec))
  spec.age = "-1 h"
  refused_for("age", { "found -1 h", "0 s or more" }, rw.equivalent_age_when, spec)
  spec.age, spec.energy = "1 h", "560 kJ/mol"
  refused_for("energy", { "found 560 kJ/mol", "300 kJ/mol" }, rw.equivalent_age_when, spec)
  spec.energy, spec.reference = "56 kJ/mol", "-200 degC"
  refused_for("reference", { "found -200 degC", "-73.15 degC" }, rw.equivalent_age_when,
    spec)
end

TestDraws = {}

local function ask(more)
  local spec = { hull = hall(), laid = laid, to = "2026-10-06 09:00", levels = { 0.3, 0.6 } }
  for key, value in pairs(more or {}) do
    spec[key] = value or nil
  end
  return spec
end

local function slow() return rw.resin { class = "slow-polyetheramine" } end

-- The same draws as a forecast takes, so that the end of work is the same.
function TestDraws.test_as_a_forecast()
  local r = slow()
  local f = r:forecast { hull = hall(), laid = laid, to = "2026-10-06 09:00", draws = 512,
    seed = 7 }
  local d = r:draws(ask { draws = 512, seed = 7 })
  lu.assertAlmostEquals(d.thick.time.seconds, f.work_end.seconds, 1)
  for _, place in ipairs { "low", "high" } do
    lu.assertEquals(d.thick.time[place], f.work_end[place])
  end
  lu.assertEquals(d.levels[2].cure, 0.6)
  local steady = r:steady({ temperature = "20 degC", cures = { 0.6 } }).cures[1].time:si()
  lu.assertAlmostEquals(d.levels[2].time.seconds, rw.clock { at = laid } + steady, 1)
  lu.assertTrue(d.levels[1].time.seconds < d.levels[2].time.seconds)
  lu.assertTrue(d.reached.low < d.reached.value and d.reached.value < d.reached.high)
  lu.assertEquals(d.warnings, {})
end

function TestDraws.test_quantiles_and_chances()
  local r = slow()
  local d = r:draws(ask { quantiles = { 0, 0.05, 0.5, 0.95, 1 }, draws = 600 })
  local s = d.levels[1].seconds
  for i = 2, 5 do
    lu.assertTrue(s[i] > s[i - 1])
  end
  lu.assertEquals(rw.clock_text { seconds = s[2] }, d.levels[1].time.low)
  lu.assertAlmostEquals(s[3], d.levels[1].time.seconds, 600)
  lu.assertEquals(d.levels[1].chance, 1)
  local short = r:draws(ask { to = "2026-10-03 16:00", levels = { 0.3, 0.6, 1 },
    quantiles = { 1 } })
  lu.assertTrue(short.levels[2].chance > 0 and short.levels[2].chance < 0.9)
  lu.assertEquals(short.levels[3].chance, 0)
  lu.assertEquals(short.levels[3].seconds, { math.huge })
  local sure = rw.resin { class = "slow-polyetheramine", rate_sd = 0, energy_sd = "0 J/mol" }
    :draws(ask { temperature_sd = "0 K", draws = 32 })
  lu.assertEquals(sure.levels[1].time.low, sure.levels[1].time.high)
end

function TestDraws.test_progress()
  local told = {}
  local listening = slow():draws(ask { draws = 1000, progress = function(done, total)
    told[#told + 1] = done
    lu.assertEquals(total, 1000)
  end })
  lu.assertTrue(#told > 2)
  lu.assertEquals(told[#told], 1000)
  for i = 2, #told do
    lu.assertTrue(told[i] > told[i - 1])
  end
  lu.assertEquals(tostring(listening.levels[2].time),
    tostring(slow():draws(ask { draws = 1000 }).levels[2].time))
end

function TestDraws.test_stopped()
  local calls = 0
  local result, why = slow():draws(ask { draws = 5000, progress = function()
    calls = calls + 1
    return calls < 2
  end })
  lu.assertNil(result)
  lu.assertStrContains(why, "stopped when asked to")
  lu.assertEquals(calls, 2)
end

-- What the function raises comes out as it is, and the work ends there.
function TestDraws.test_an_error_in_progress_is_raised_again()
  local r, calls = slow(), 0
  local mark = { "mine" }
  local function raises(what)
    return pcall(r.draws, r, ask { draws = 5000, progress = function()
      calls = calls + 1
      error(what, 0)
    end })
  end
  local ok, err = raises(mark)
  lu.assertFalse(ok)
  lu.assertIs(err, mark)
  lu.assertEquals(calls, 1)
  lu.assertEquals(select(2, raises "words"), "words")
  local function yields() coroutine.yield(1) end
  local thread = coroutine.create(function() return r:draws(ask { progress = yields }) end)
  local resumed, told = coroutine.resume(thread)
  lu.assertFalse(resumed)
  lu.assertStrContains(tostring(told), "yield")
end

function TestDraws.test_progress_may_ask_for_more_draws()
  local r, inner = slow(), nil
  local outer = r:draws(ask { draws = 300, progress = function()
    inner = r:draws(ask { draws = 300 })
  end })
  lu.assertEquals(tostring(inner.levels[1].time), tostring(outer.levels[1].time))
end

function TestDraws.test_nothing_stays_behind()
  local r = slow()
  local function once(i)
    pcall(r.draws, r, ask { draws = 300, levels = { 0.3 }, progress = function()
      if i % 3 == 0 then
        error "stop"
      end
      return i % 3 == 1
    end })
  end
  for i = 1, 6 do
    once(i)
  end
  local before = support.memory()
  for i = 1, 60 do
    once(i)
  end
  lu.assertTrue(support.memory() - before < 4, "kilobytes stay behind")
end

function TestDraws.test_refuses()
  local r = slow()
  local function no(argument, words, more) refused_for(argument, words, r.draws, r, ask(more)) end
  no("levels", { "empty" }, { levels = {} })
  local many = {}
  for i = 1, 65 do
    many[i] = i / 100
  end
  no("levels", { "found 65" }, { levels = many })
  no("levels[2]", { "rising" }, { levels = { 0.5, 0.3 } })
  no("levels[1]", { "found 50" }, { levels = { 50 } })
  no("viscosity", { "8 Pa s" }, { viscosity = "0 Pa s" })
  no("draws", {}, { draws = 0 })
  no("draws", { "100000" }, { draws = 1000000 })
  no("progress", { "function" }, { progress = true })
  no("quantiles[1]", {}, { quantiles = { 5 } })
  no("hull", { "reach from" }, { to = "2027-10-06 09:00" })
  no("to", { "found " .. laid, "or later" }, { to = laid })
  no("temperature_sd", { "found 300 K", "0 K to 20 K" }, { temperature_sd = "300 K" })
end

os.exit(lu.LuaUnit.run())
