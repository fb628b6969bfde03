-- SPDX-License-Identifier: GPL-3.0-or-later
-- A wrong ratio: against arithmetic by hand, the theory of gelling (Flory 1953) and the right mix;
-- refusals in words.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused_for = support.refused_for

-- luacheck: globals TestUsed TestPumps TestJudge TestOffRatio TestLedger

local function slow() return rw.resin { class = "slow-polyetheramine" } end

local laid = "2026-10-03 09:00"
local function hall()
  return rw.steady { air = "20 degC", from = "2026-10-03 08:00", to = "2026-11-03 08:00" }
end

TestUsed = {}

function TestUsed.test_tins()
  local loss = rw.tin_loss { before = { value = "10.30 kg", sd = "30 g" },
    after = { value = "2.10 kg", sd = "40 g" } }
  lu.assertAlmostEquals(loss.value:to "kg", 8.2, 1e-12)
  lu.assertAlmostEquals(loss.high:to "g" - loss.value:to "g", 1.645 * 50, 1e-6)
  local used = rw.ratio_used { resin = loss, hardener = "1.83 kg", needed = 0.44 }
  lu.assertAlmostEquals(used.value, 1.83 / (8.2 * 0.44), 1e-12)
  lu.assertAlmostEquals(used.high - used.value, 1.645 * used.value * 50 / 8200, 1e-9)
  lu.assertEquals(used.because, "the resin tin")
  lu.assertEquals(used.warnings, {})
end

function TestUsed.test_what_spreads_it()
  local function because(resin, hardener, needed)
    return rw.ratio_used({ resin = { value = "8 kg", sd = resin },
      hardener = { value = "2 kg", sd = hardener },
      needed = { value = 0.44, sd = needed } }).because
  end
  lu.assertEquals(because("0 g", "20 g", 0), "the hardener tin")
  lu.assertEquals(because("200 g", "20 g", 0), "the resin tin")
  lu.assertEquals(because("20 g", "20 g", 0.1), "the ratio needed")
  lu.assertNil(because("0 g", "0 g", 0))
  local wide = rw.ratio_used { resin = "8 kg", hardener = { value = "0.1 kg", sd = "0.1 kg" },
    needed = 0.44 }
  lu.assertStrContains(wide.warnings[1], "weigh again")
end

function TestUsed.test_refuses()
  refused_for("after", { "does not gain" }, rw.tin_loss, { before = "2 kg", after = "3 kg" })
  refused_for("before", { "missing" }, rw.tin_loss, { after = "3 kg" })
  refused_for("before", { "volume" }, rw.tin_loss, { before = "2 L", after = "1 kg" })
  refused_for("needed", { "100:44 is 0.44" }, rw.ratio_used,
    { resin = "8 kg", hardener = "2 kg", needed = 44 })
  refused_for("resin", {}, rw.ratio_used, { resin = "0 kg", hardener = "2 kg", needed = 0.44 })
end

TestPumps = {}

-- 2:1 by volume at 1.15 and 1.0 g/cm3 is 100:43.5 by weight.
function TestPumps.test_parts_and_strokes()
  local needed = rw.needed_by_volume { resin = 2, hardener = 1, resin_density = "1.15 g/cm3",
    hardener_density = "1.0 g/cm3" }
  lu.assertAlmostEquals(needed, 1 / 2.3, 1e-12)
  local function pumped(strokes, stroke)
    return rw.ratio_pumped { resin_strokes = 2, hardener_strokes = strokes,
      resin_stroke = "20 mL", hardener_stroke = stroke, resin_density = "1.15 g/cm3",
      hardener_density = "1.0 g/cm3", needed = needed }
  end
  lu.assertAlmostEquals(pumped(1, "20 mL"), 1, 1e-12)
  lu.assertAlmostEquals(pumped(1, "10 mL"), 0.5, 1e-12)
  lu.assertAlmostEquals(pumped(2, "10 mL"), 1, 1e-12)
  lu.assertEquals(pumped(0, "10 mL"), 0)
end

function TestPumps.test_refuses()
  local function no(argument, words, more)
    local spec = { resin_strokes = 2, hardener_strokes = 1, resin_stroke = "20 mL",
      hardener_stroke = "20 mL", resin_density = "1.15 g/cm3", hardener_density = "1.0 g/cm3",
      needed = 0.44 }
    for key, value in pairs(more) do
      spec[key] = value or nil
    end
    refused_for(argument, words, rw.ratio_pumped, spec)
  end
  no("resin_strokes", { "Count the strokes" }, { resin_strokes = 0 })
  no("hardener_strokes", { "Count the strokes" }, { hardener_strokes = -1 })
  no("resin_stroke", { "20000 mL", "ten strokes" }, { resin_stroke = "20 L" })
  no("hardener_stroke", { "volume" }, { hardener_stroke = "20 g" })
  no("hardener_density", { "missing" }, { hardener_density = false })
  no("resin_density", { "1150" }, { resin_density = "1.15 kg/m3" })
  no("needed", { "100:44 is 0.44" }, { needed = 44 })
  refused_for("hardener", { "parts on the label" }, rw.needed_by_volume,
    { resin = 2, hardener = 0, resin_density = "1.15 g/cm3", hardener_density = "1.0 g/cm3" })
end

TestJudge = {}

-- With two epoxides on four hydrogens a third of the hardener is the least that gels.
function TestJudge.test_half_the_hardener()
  local r = slow()
  local s = r:judge_ratio { ratio = { value = 0.5, sd = 0.01 } }
  lu.assertAlmostEquals(s.gels_between.from, 1 / 3, 1e-12)
  lu.assertAlmostEquals(s.gels_between.to, 3, 1e-12)
  lu.assertTrue(s.gels)
  lu.assertAlmostEquals(s.gel, math.sqrt(0.5 / 3), 1e-12)
  lu.assertAlmostEquals(s.gel, 0.5 * rw.gel_conversion { ratio = 0.5 }, 1e-12)
  lu.assertEquals(s.epoxide, 0.5)
  lu.assertEquals(s.amine, 1)
  lu.assertEquals(s.verdict, "soft")
  lu.assertStrContains(s.meaning, "neither waiting nor warmth")
  lu.assertFalse(s.warming_helps)
  local most = r:glass { cure = math.sqrt(0.5) }
  lu.assertAlmostEquals(s.glass.value:to "degC", most:to "degC", 1e-9)
  lu.assertTrue(s.glass.low < s.glass.value and s.glass.value < s.glass.high)
  lu.assertAlmostEquals(s.need:to "degC", r:glass({ cure = r.thresholds.service }):to "degC", 1e-9)
  lu.assertTrue(s.reaches.gel)
  lu.assertFalse(s.reaches.service)
  lu.assertAlmostEquals(s.ratio.low, 0.5 * math.exp(-1.6448536 * 0.02), 1e-6)
  lu.assertEquals(s.warnings, {})
  local sum = 0
  for _, chance in pairs(s.chances) do
    sum = sum + chance
  end
  lu.assertAlmostEquals(sum, 1, 1e-12)
end

function TestJudge.test_verdicts_go_by_the_ratio()
  local r = slow()
  local function verdict(ratio, need)
    return r:judge_ratio({ ratio = ratio, need = need }).verdict
  end
  lu.assertEquals(verdict(1.03), "right")
  lu.assertEquals(verdict(0.9), "usable")
  lu.assertEquals(verdict(0.8), "doubtful")
  lu.assertEquals(verdict(1.25), "doubtful")
  lu.assertEquals(verdict(0.5), "soft")
  lu.assertEquals(verdict(0.5, "0 degC"), "usable")
  lu.assertEquals(verdict(0.3), "never_gels")
  lu.assertNil(r:judge_ratio({ ratio = 0.3 }).gel)
  lu.assertFalse(r:judge_ratio({ ratio = 0.3 }).gels)
  lu.assertTrue(r:judge_ratio({ ratio = 0.9 }).warming_helps)
  lu.assertEquals(#r:judge_ratio({ ratio = { value = 0.5, sd = 0.2 } }).warnings, 1)
end

function TestJudge.test_refuses()
  local r = slow()
  local function no(argument, words, spec) refused_for(argument, words, r.judge_ratio, r, spec) end
  no("ratio", { "0.5 is half" }, { ratio = 51 })
  no("ratio", { "missing" }, {})
  no("need", { "300 degC", "ask for less" }, { ratio = 0.5, need = "300 degC" })
  no("amine_hydrogens", {}, { ratio = 0.5, amine_hydrogens = 1 })
  no("amine_hydrogens", { "network" }, { ratio = 0.5, amine_hydrogens = 2 })
  no("epoxide_groups", {}, { ratio = 0.5, epoxide_groups = 1 })
end

TestOffRatio = {}

function TestOffRatio.test_milestones_move_with_the_root()
  local r = slow()
  local off = r:off_ratio { ratio = 0.64 }
  lu.assertEquals(rw.kind(off), "resin")
  lu.assertEquals(off.class, r.class)
  for _, key in ipairs { "gel", "recoat_opens", "sand" } do
    lu.assertAlmostEquals(off.thresholds[key], 0.8 * r.thresholds[key], 1e-12)
  end
  lu.assertAlmostEquals(off.hardener, 0.64 * r.hardener, 1e-12)
  lu.assertTrue(off:steady({ temperature = "60 degC" }).reached <= 0.64)
  lu.assertAlmostEquals(r:off_ratio({ ratio = 1 }).thresholds.gel, r.thresholds.gel, 1e-12)
  lu.assertAlmostEquals(r:ratio_glass({ ratio = 0.64, cure = 0.4 }):to "degC",
    r:glass({ cure = 0.5 }):to "degC", 1e-9)
end

function TestOffRatio.test_forecast()
  local r = slow()
  local spec = { hull = hall(), laid = laid, to = "2026-11-02 09:00", draws = 64 }
  local right = r:forecast(spec)
  spec.ratio = 1
  local same = r:ratio_forecast(spec)
  lu.assertAlmostEquals(same.gel.seconds, right.gel.seconds, 1)
  lu.assertEquals(same.order, right.order)
  spec.ratio = 0.6
  local half = r:ratio_forecast(spec)
  lu.assertTrue(half.gel.seconds > right.gel.seconds)
  lu.assertTrue(half.gel.low < half.gel.value)
  lu.assertEquals(half.service.seconds, math.huge)
  lu.assertTrue(half.reached <= 0.6)
end

function TestOffRatio.test_refuses()
  local r = slow()
  refused_for("ratio", { "0.5 is half" }, r.off_ratio, r, { ratio = 51 })
  refused_for("ratio", { "missing" }, r.off_ratio, r, {})
  refused_for("cure", { "hardener reaches" }, r.ratio_glass, r, { ratio = 0.5, cure = 0.7 })
  refused_for("hull", { "reach from" }, r.ratio_forecast, r,
    { ratio = 0.5, hull = hall(), laid = laid, to = "2027-10-09 09:00" })
  local two_off = r:off_ratio { ratio = 0.8 }
  refused_for("law", { "right mix" }, two_off.off_ratio, two_off, { ratio = 0.8 })
end

TestLedger = {}

local function sheet(noted, blank, ratio)
  local list = {}
  for i = 1, noted + blank do
    list[i] = i <= noted and { ratio = ratio, alike = 1 } or {}
  end
  return list
end

local function books(hardener, batches, more)
  local spec = { batches = batches, resin = { value = "8.20 kg", sd = "20 g" },
    hardener = { value = hardener, sd = "20 g" }, needed = 0.44 }
  for key, value in pairs(more or {}) do
    spec[key] = value
  end
  return spec
end

function TestLedger.test_stories()
  local l = rw.ledger(books("1.83 kg", sheet(9, 5, 0.5)))
  lu.assertEquals(l.best, "from_start")
  lu.assertStrContains(l.meaning, "from the start")
  lu.assertAlmostEquals(l.ratio.value, 1.83 / 3.608, 1e-12)
  lu.assertEquals(#l.off, 14)
  lu.assertTrue(l.off[1] > 0.99 and l.off[14] > 0.5 and l.off[14] < l.off[1])
  local sum, keys = 0, {}
  for i, story in ipairs(l.stories) do
    sum, keys[i] = sum + story.weight, story.key
  end
  lu.assertEquals(keys, { "right", "from_start", "part_way", "put_right" })
  lu.assertAlmostEquals(sum, 1, 1e-12)
  lu.assertNil(l.stories[1].ratio)
  lu.assertNil(l.stories[2].turn)
  lu.assertAlmostEquals(l.stories[2].ratio, 0.507, 0.02)
  lu.assertTrue(l.stories[4].turn >= 9)
end

function TestLedger.test_all_right_is_told()
  local l = rw.ledger(books("3.61 kg", sheet(14, 0, 1)))
  lu.assertEquals(l.best, "right")
  lu.assertTrue(l.off[1] < 0.5)
  lu.assertFalse(rw.ledger(books("2.9 kg", sheet(0, 14))).told)
end

-- Seven right batches of ten equal ones and three without hardener leave seven tenths.
function TestLedger.test_a_guess()
  local guess = { 1, 1, 1, 1, 1, 1, 1, 0, 0, 0 }
  local spec = books(rw.q(0.7 * 8.2 * 0.44, "kg"), sheet(0, 10), { guess = guess })
  local fit = rw.ledger_test(spec)
  lu.assertAlmostEquals(fit.hardener.value:to "kg", 0.7 * 3.608, 1e-9)
  lu.assertAlmostEquals(fit.z, 0, 1e-9)
  lu.assertAlmostEquals(fit.chance, 1, 1e-9)
  spec.hardener = { value = "3.61 kg", sd = "20 g" }
  lu.assertTrue(rw.ledger_test(spec).chance < 0.01)
  lu.assertTrue(rw.ledger_test(spec).log_likelihood < fit.log_likelihood)
  local same = {}
  for i = 1, 10 do
    same[i] = { resin = "820 g" }
  end
  spec.batches, spec.mass_sd = same, 0
  lu.assertTrue(rw.ledger_test(spec).z > 0)
end

function TestLedger.test_refuses()
  local function no(argument, words, batches, more)
    refused_for(argument, words, rw.ledger, books("1.83 kg", batches, more))
  end
  no("batches", {}, {})
  no("batches[2].ratio", { "found 17" }, { {}, { ratio = 17 } })
  no("batches[3].resin", { "kg" }, { {}, {}, { resin = "82 t" } })
  no("batches[1].alike", { "share a number" }, { { alike = -1 } })
  no("mass_sd", {}, { {} }, { mass_sd = 170 })
  no("note_sd", { "five per cent" }, { {} }, { note_sd = 0 })
  no("needed", { "100:44 is 0.44" }, { {} }, { needed = 44 })
  refused_for("guess", { "1 ratios for 2 batches" }, rw.ledger_test,
    books("1.83 kg", { {}, {} }, { guess = { 1 } }))
  refused_for("guess[2]", { "half the hardener" }, rw.ledger_test,
    books("1.83 kg", { {}, {} }, { guess = { 1, 17 } }))
end

os.exit(lu.LuaUnit.run())
