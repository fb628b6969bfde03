-- SPDX-License-Identifier: GPL-3.0-or-later
-- Resins, cures and pots: against arithmetic by hand and against one another; refusals in words.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused, refused_for = support.refused, support.refused_for

-- luacheck: globals TestResin TestForecast TestCure TestPot TestState TestChemistry

local HOUR = 3600
local laid = "2026-10-03 09:00"
local laid_seconds = rw.clock { at = laid }

local function slow() return rw.resin { class = "slow-polyetheramine" } end

local function steady(air, to)
  return rw.steady { air = air, from = "2026-10-03 08:00", to = to or "2026-10-13 08:00" }
end

-- The classes in the tables give what the tables say.
TestResin = {}

function TestResin.test_a_class()
  local r = slow()
  lu.assertEquals(rw.kind(r), "resin")
  lu.assertEquals(r.class, "slow-polyetheramine")
  lu.assertEquals(r.warnings, {})
  lu.assertEquals(r.density:to "g/cm3", 1.1)
  local listed
  for _, m in ipairs(rw.materials { kind = "resin" }) do
    if m.name == r.class then
      listed = m.properties
    end
  end
  lu.assertEquals(r.hardener, listed.hardener.value)
  lu.assertEquals(r.rate_sd, listed.rate_spread.value)
  lu.assertEquals(r.thresholds.gel, listed.gel_conversion.value)
  lu.assertEquals(r.thresholds.sand, listed.sand.value)
  lu.assertNil(r.thresholds.work_end)
  refused_for("resin", { "did you mean density?" }, function() return r.densty end)
  refused(function() r.class = "x" end)
end

function TestResin.test_an_unknown_class_is_told_the_nearest()
  local err = refused_for("class", { "slow-polyetheramine" }, rw.resin,
    { class = "slow-polyetheramin" })
  lu.assertEquals(err.code, "RW_ERR_NAME")
  refused_for("class", {}, rw.resin, { class = "" })
  refused_for("class", { "missing" }, rw.resin, {})
end

local function labelled(label)
  return rw.resin { class = "slow-polyetheramine", label = label }
end

function TestResin.test_a_label_comes_back()
  local r = labelled {
    pot_life = "45 min", recoat_from = "6 h", recoat_to = "14 h", recoat_temperature = "21 degC",
    hardener = 0.44, density = "1.15 g/cm3",
  }
  lu.assertEquals(r.hardener, 0.44)
  lu.assertAlmostEquals(r.density:to "kg/m3", 1150, 1e-9)
  lu.assertEquals(r.warnings, {})
  lu.assertTrue(r.rate_sd < slow().rate_sd)
  local f = r:forecast { hull = steady "21 degC", laid = laid, to = "2026-10-05 09:00" }
  lu.assertAlmostEquals(f.recoat_opens.seconds, laid_seconds + 6 * HOUR, 5)
  lu.assertAlmostEquals(f.recoat_closes.seconds, laid_seconds + 14 * HOUR, 5)
  local pot = labelled { pot_life = "45 min" }:pot { mass = "100 g", air = "25 degC" }
  lu.assertAlmostEquals(pot.usable:to "min", 45, 1e-3)
  lu.assertAlmostEquals(labelled { pot_life = "45 min", hardener = "44 %" }.hardener, 0.44, 1e-12)
end

function TestResin.test_a_label_at_odds_with_its_class_is_kept_with_a_warning()
  local r = labelled {
    pot_life = "45 min", recoat_from = "1 h", recoat_to = "2 h", recoat_temperature = "21 degC",
  }
  lu.assertEquals(#r.warnings, 1)
  lu.assertStrContains(r.warnings[1], "pot life")
end

function TestResin.test_labels_are_refused_by_their_fields()
  local err = refused_for("label", { "no time at all" }, labelled, {})
  lu.assertStrContains(err.hint, "pot life")
  refused_for("label", {}, labelled, { hardener = 0.44 })
  refused_for("label.recoat_temperature", { "label.recoat_temperature is missing" }, labelled,
    { recoat_from = "6 h" })
  refused_for("label.recoat_to", { "label.recoat_to is out of range" }, labelled,
    { recoat_from = "14 h", recoat_to = "6 h", recoat_temperature = "21 degC" })
  refused_for("label.pot_life", { "45", "has no unit" }, labelled, { pot_life = 45 })
  refused_for("label.pot_life", { "mass" }, labelled, { pot_life = "45 g" })
  refused_for("label.pot_life", { "minutes for the pot" }, labelled, { pot_life = "6 s" })
  refused_for("label.pot_temperature", { "Fahrenheit" }, labelled,
    { pot_life = "45 min", pot_temperature = "77 degC" })
  refused_for("label.hardener", { "100:44 is 0.44" }, labelled,
    { pot_life = "45 min", hardener = 44 })
  refused_for("label.density", { "1.1 g/cm3" }, labelled,
    { pot_life = "45 min", density = "1.1 kg/m3" })
  refused_for("label.potlife", { "did you mean pot_life?" }, labelled, { potlife = "45 min" })
end

TestForecast = {}

function TestForecast.test_milestones_in_their_order()
  local f = slow():forecast { hull = steady "18 degC", laid = laid, to = "2026-10-12 09:00" }
  lu.assertEquals(#f.order, 10)
  lu.assertEquals(f.order[1], "work_end")
  local before = laid_seconds
  for _, key in ipairs { "work_end", "gel", "recoat_opens", "recoat_closes", "sand" } do
    local r = f[key]
    lu.assertTrue(r.clock)
    lu.assertTrue(r.seconds > before, key)
    lu.assertTrue(r.low_seconds < r.seconds and r.seconds < r.high_seconds, key)
    lu.assertTrue(#r.because > 5)
    before = r.seconds
  end
  for _, key in ipairs(f.order) do
    lu.assertTrue(#f.meaning[key] > 5)
  end
  lu.assertTrue(f.reached > 0.5 and f.reached < 1)
  lu.assertEquals(f.warnings, {})
end

function TestForecast.test_repeats_by_its_seed()
  local r, hull = slow(), steady "18 degC"
  local function high(seed)
    return r:forecast {
      hull = hull, laid = laid, to = "2026-10-12 09:00", draws = 64, seed = seed,
    }.gel.high_seconds
  end
  lu.assertEquals(high(3), high(3))
  lu.assertNotEquals(high(3), high(4))
end

function TestForecast.test_what_is_not_seen_is_said_so()
  local f = slow():forecast { hull = steady "5 degC", laid = laid, to = "2026-10-03 12:00" }
  lu.assertEquals(f.sand.value, "not within the time looked at")
  lu.assertEquals(f.sand.seconds, math.huge)
end

-- A cold cure stops short; the warmth that is said to do it does it.
function TestForecast.test_what_is_never_reached_says_what_it_needs()
  local r = rw.resin { class = "medium-cycloaliphatic" }
  local to = "2026-10-12 09:00"
  local f = r:forecast { hull = steady "2 degC", laid = laid, to = to, draws = 0 }
  local never = {}
  for _, key in ipairs(f.never) do never[key] = true end
  lu.assertTrue(never.service and never.sand and not never.work_end)
  lu.assertNil(f.needs.work_end)
  local warm = f.needs.sand:to "degC"
  local function sands(celsius)
    local hull = steady(rw.q(celsius, "degC"))
    return r:forecast { hull = hull, laid = laid, to = to, draws = 0 }.sand.seconds < math.huge
  end
  lu.assertTrue(warm > 2 and sands(warm + 0.01) and not sands(warm - 0.05))
  local done = r:forecast { hull = steady "40 degC", laid = laid, to = to, draws = 0 }
  lu.assertEquals(done.never, {})
  lu.assertEquals(next(done.needs), nil)
end

function TestForecast.test_no_spread_where_nothing_is_uncertain_but_the_weather()
  local r, hull = slow(), steady "18 degC"
  local sharp = r:forecast { hull = hull, laid = laid, to = "2026-10-12 09:00",
    temperature_sd = "0 K" }
  local wide = r:forecast { hull = hull, laid = laid, to = "2026-10-12 09:00",
    temperature_sd = "6 K" }
  lu.assertEquals(sharp.gel.seconds, wide.gel.seconds)
  lu.assertTrue(wide.gel.high_seconds - wide.gel.low_seconds
    > sharp.gel.high_seconds - sharp.gel.low_seconds)
  lu.assertStrContains(wide.gel.because, "temperature")
end

function TestForecast.test_without_draws_there_is_no_interval()
  local f = slow():forecast {
    hull = steady "18 degC", laid = laid, to = "2026-10-12 09:00", draws = 0,
  }
  lu.assertEquals(f.gel.low_seconds, f.gel.seconds)
  lu.assertEquals(f.gel.high_seconds, f.gel.seconds)
  lu.assertNil(f.gel.because)
end

function TestForecast.test_chances_agree_with_the_interval()
  local r, hull = slow(), steady "18 degC"
  local f = r:forecast { hull = hull, laid = laid, to = "2026-10-12 09:00", draws = 512 }
  local early = r:chances { hull = hull, laid = laid, at = f.gel.low }
  local late = r:chances { hull = hull, laid = laid, at = f.gel.high }
  lu.assertAlmostEquals(early.gel, 0.05, 0.02)
  lu.assertAlmostEquals(late.gel, 0.95, 0.02)
  lu.assertEquals(early.service, 0)
  lu.assertEquals(late.warnings, {})
end

function TestForecast.test_refuses()
  local r, hull = slow(), steady "18 degC"
  refused_for("hull", { "reach from 2026-10-03 08:00" }, r.forecast, r,
    { hull = hull, laid = laid, to = "2026-11-12 09:00" })
  refused_for("to", { "after the beginning" }, r.forecast, r,
    { hull = hull, laid = laid, to = "2026-10-03 08:30" })
  refused_for("at", { "after the beginning" }, r.chances, r,
    { hull = hull, laid = laid, at = "2026-10-03 08:30" })
  refused_for("draws", { "found 0" }, r.chances, r,
    { hull = hull, laid = laid, at = "2026-10-04 09:00", draws = 0 })
  refused_for("draws", {}, r.forecast, r,
    { hull = hull, laid = laid, to = "2026-10-04 09:00", draws = -5 })
  refused_for("temperature_sd", { "difference" }, r.forecast, r,
    { hull = hull, laid = laid, to = "2026-10-04 09:00", temperature_sd = "1 degC" })
  refused_for("hull", {}, r.forecast, r, { hull = r, laid = laid, to = "2026-10-04 09:00" })
end

TestCure = {}

local function cure(to)
  return slow():cure { hull = steady "20 degC", from = laid, to = to or "2026-10-05 09:00" }
end

function TestCure.test_the_inverse_comes_back()
  local c = cure()
  lu.assertEquals(rw.kind(c), "cure")
  lu.assertEquals(c.warnings, {})
  local at = c:at { at = "2026-10-03 21:00" }
  lu.assertTrue(at.cure > 0.1 and at.cure < 0.9)
  lu.assertAlmostEquals(at.temperature:to "degC", 20, 1e-9)
  lu.assertEquals(at.glass:si(), slow():glass({ cure = at.cure }):si())
  lu.assertEquals(c:when { cure = at.cure }, "2026-10-03 21:00")
  local minute = c:at { at = "2026-10-03 21:01" }
  local mean = (at.rate + minute.rate):to "1/s" / 2
  lu.assertAlmostEquals((minute.cure - at.cure) / 60, mean, 1e-5 * mean)
  lu.assertNil(c:when { cure = 0.999999 })
  lu.assertEquals(c:when { cure = 0 }, laid)
end

function TestCure.test_points_for_a_chart()
  local c = cure()
  local p = c:points { count = 5 }
  lu.assertEquals(#p.seconds, 5)
  lu.assertEquals(p.seconds[1], laid_seconds)
  lu.assertEquals(p.seconds[5], laid_seconds + 48 * HOUR)
  lu.assertEquals(p.cure[1], 0)
  lu.assertAlmostEquals(p.celsius[3], 20, 1e-9)
  lu.assertAlmostEquals(p.glass_celsius[1], -22, 1e-9)
  for i = 2, 5 do
    lu.assertTrue(p.cure[i] > p.cure[i - 1])
  end
  lu.assertEquals(p.cure[3], c:at({ at = "2026-10-04 09:00" }).cure)
  lu.assertEquals(#c:points().cure, 200)
  refused_for("count", { "found 1" }, c.points, c, { count = 1 })
end

function TestCure.test_refuses()
  local c = cure()
  refused_for("at", { "not followed" }, c.at, c, { at = "2026-10-06 09:00" })
  refused_for("cure", { "cure is out of range", "0 is liquid" }, c.when, c, { cure = 1.5 })
  local r = slow()
  refused_for("start", {}, r.cure, r,
    { hull = steady "20 degC", from = laid, to = "2026-10-05 09:00", start = 1 })
  refused_for("hull", { "reach from" }, r.cure, r,
    { hull = steady "20 degC", from = laid, to = "2027-10-05 09:00" })
  refused_for("tolerance", {}, r.cure, r,
    { hull = steady "20 degC", from = laid, to = "2026-10-05 09:00", tolerance = 1 })
end

function TestCure.test_closed_is_closed()
  local kept
  do
    local c <close> = cure()
    kept = c
  end
  refused_for("cure", { "closed" }, kept.at, kept, { at = laid })
  refused_for("cure", { "closed" }, kept.points, kept, {})
end

TestPot = {}

function TestPot.test_a_tray_lasts_longer_than_a_cup()
  local r = rw.resin { class = "fast-polyamine" }
  local cup = r:pot { mass = "200 g", air = "22 degC" }
  local tray = r:pot {
    mass = "200 g", air = "22 degC", tray = { length = "300 mm", width = "200 mm" },
  }
  local chilled = r:pot { mass = "200 g", air = "22 degC", start = "10 degC" }
  lu.assertEquals(cup.usable:si(), r:pot({ mass = "200 g", air = "22 degC",
    cup = "70 mm" }).usable:si())
  lu.assertTrue(tray.usable > cup.usable)
  lu.assertTrue(chilled.usable > cup.usable)
  lu.assertTrue(cup.peak > rw.q "60 degC")
  lu.assertTrue(cup.hot < cup.peak_time)
  lu.assertEquals(cup.usable:si(), math.min(cup.work_end:si(), cup.hot:si()))
  lu.assertAlmostEquals(cup.balance, 0, 1e-3)
  lu.assertEquals(cup.warnings, {})
end

function TestPot.test_what_does_not_come_is_nil()
  local p = slow():pot {
    mass = "10 g", air = "2 degC", tray = { length = "300 mm", width = "200 mm" },
  }
  lu.assertNil(p.hot)
  lu.assertNil(p.gel)
  lu.assertEquals(p.usable:si(), p.work_end:si())
end

function TestPot.test_refuses()
  local r = slow()
  refused_for("tray", { "cup and tray" }, r.pot, r,
    { mass = "100 g", air = "20 degC", cup = "70 mm", tray = { length = "1 m", width = "1 m" } })
  refused_for("cup", { "cup is out of range" }, r.pot, r,
    { mass = "100 g", air = "20 degC", cup = "70 m" })
  refused_for("tray.width", { "tray.width is out of range" }, r.pot, r,
    { mass = "100 g", air = "20 degC", tray = { length = "300 mm", width = "200 m" } })
  refused_for("tray.width", { "missing" }, r.pot, r,
    { mass = "100 g", air = "20 degC", tray = { length = "300 mm" } })
  refused_for("mass", { "has no unit" }, r.pot, r, { mass = 100, air = "20 degC" })
  refused_for("mass", { "found" }, r.pot, r, { mass = "100 t", air = "20 degC" })
  refused_for("air", { "air is out of range" }, r.pot, r, { mass = "100 g", air = "120 degC" })
  refused_for("start", { "start is out of range" }, r.pot, r,
    { mass = "100 g", air = "20 degC", start = "120 degC" })
end

TestState = {}

function TestState.test_glass_transition()
  local r = slow()
  lu.assertAlmostEquals(r:glass({ cure = 0 }):to "degC", -22, 1e-9)
  lu.assertAlmostEquals(r:glass({ cure = 1 }):to "degC", 88, 1e-9)
  lu.assertAlmostEquals(r:glass({ cure = 0.5 }):to "degC", -22 + 110 * 0.175 / (1 - 0.325), 1e-9)
  refused_for("cure", { "0 is liquid" }, r.glass, r, { cure = 70 })
end

function TestState.test_viscosity()
  local r = slow()
  lu.assertAlmostEquals(r:viscosity({ cure = 0, temperature = "25 degC" }):to "Pa s", 0.8, 1e-12)
  lu.assertTrue(r:viscosity { cure = 0, temperature = "10 degC" }
    > r:viscosity { cure = 0, temperature = "25 degC" })
  lu.assertNil(r:viscosity { cure = r.thresholds.gel, temperature = "25 degC" })
  refused_for("temperature", {}, r.viscosity, r, { cure = 0, temperature = "300 degC" })
end

function TestState.test_warmth()
  local r = slow()
  local T = r:warmth { milestone = "recoat_opens", within = "12 h" }
  local f = r:forecast { hull = steady(T), laid = laid, to = "2026-10-04 21:00" }
  lu.assertAlmostEquals(f.recoat_opens.seconds, laid_seconds + 12 * HOUR, 60)
  lu.assertNil(r:warmth { milestone = "service", within = "1 min" })
  refused_for("milestone", { "work_end", "no warmth" }, r.warmth, r,
    { milestone = "work_end", within = "1 h" })
  refused_for("milestone", { "did you mean \"recoat_opens\"?" }, r.warmth, r,
    { milestone = "recoat_open", within = "1 h" })
  refused_for("within", {}, r.warmth, r, { milestone = "sand", within = "0 h" })
end

TestChemistry = {}

function TestChemistry.test_gel_and_ratio()
  lu.assertAlmostEquals(rw.gel_conversion { ratio = 1 }, 1 / math.sqrt(3), 1e-12)
  lu.assertAlmostEquals(rw.gel_conversion { ratio = 1, amine_hydrogens = 5 }, 0.5, 1e-12)
  lu.assertAlmostEquals(rw.gel_conversion { ratio = 0.5 }, 1 / math.sqrt(1.5), 1e-12)
  lu.assertNil(rw.gel_conversion { ratio = 0.3 })
  refused_for("ratio", { "1 is the right ratio" }, rw.gel_conversion, { ratio = 0 })
  refused_for("amine_hydrogens", {}, rw.gel_conversion, { ratio = 1, amine_hydrogens = 1 })
  lu.assertAlmostEquals(
    rw.hardener_needed { epoxide_equivalent = "190 g/mol", amine_equivalent = "57 g/mol" }, 0.3,
    1e-12)
  refused_for("epoxide_equivalent", { "190 g" }, rw.hardener_needed,
    { epoxide_equivalent = "190 kg/mol", amine_equivalent = "57 g/mol" })
end

-- At the reference temperature age is time; elsewhere the exponential of the one law.
function TestChemistry.test_equivalent_age()
  local function age(air)
    return rw.equivalent_age {
      energy = "56 kJ/mol", reference = "21 degC", history = steady(air),
      from = laid, to = "2026-10-03 19:00",
    }:to "h"
  end
  lu.assertAlmostEquals(age "21 degC", 10, 1e-9)
  local R = 8.31446261815324
  lu.assertAlmostEquals(age "11 degC", 10 * math.exp(-56e3 / R * (1 / 284.15 - 1 / 294.15)), 1e-9)
  refused_for("energy", {}, rw.equivalent_age, {
    energy = "560 kJ/mol", reference = "21 degC", history = steady "20 degC",
    from = laid, to = "2026-10-03 19:00",
  })
  refused_for("history", { "reach from" }, rw.equivalent_age, {
    energy = "56 kJ/mol", reference = "21 degC", history = steady "20 degC",
    from = laid, to = "2027-10-03 19:00",
  })
end

os.exit(lu.LuaUnit.run())
