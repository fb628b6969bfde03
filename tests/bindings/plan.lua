-- SPDX-License-Identifier: GPL-3.0-or-later
-- Plans: against arithmetic by hand on invented jobs; refusals in words.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused, refused_for = support.refused, support.refused_for

-- luacheck: globals TestAmounts TestPacks TestLayout TestBatches TestWindow TestStart TestBudget

local laid = "2026-10-03 09:00"
local laid_seconds = rw.clock { at = laid }

local function resin(class) return rw.resin { class = class or "slow-polyetheramine" } end

local function steady(air, humidity)
  return rw.steady {
    air = air, humidity = humidity, from = "2026-10-03 08:00", to = "2026-10-13 08:00",
  }
end

TestAmounts = {}

-- 200 g/m2 of E-glass at 2540 kg/m3, 40 % fibre by volume, resin at 1100 kg/m3.
local function cloth(crown)
  return rw.cloth {
    fibre = "e-glass", areal_mass = "200 g/m2", weave = "plain", crown = crown or "0.3 mm",
    hand = { value = 0.4, sd = 0.04 }, bagged = { value = 0.5, sd = 0.02 },
  }
end

local thick = 0.2 / (2540 * 0.4)
local inside = 1100 * 0.6 * thick
local weave = 1100 * (0.3e-3 - thick)

local function amounts(change)
  local fields = {
    area = { value = "5 m2", sd = "0.1 m2" }, layers = { cloth(), cloth "0.5 mm" },
    resin = resin(), soak = { value = "60 g/m2", sd = "10 g/m2" }, cover = "0.2 mm", waste = 0.2,
  }
  for name, value in pairs(change or {}) do
    fields[name] = value
  end
  return rw.amounts(fields)
end

function TestAmounts.test_four_terms()
  local a = amounts()
  lu.assertAlmostEquals(a.soak.value:to "kg", 0.3, 1e-12)
  lu.assertAlmostEquals(a.cloth.value:to "kg", 5 * 2 * inside, 1e-12)
  lu.assertAlmostEquals(a.fill.value:to "kg", 5 * (weave + 0.22), 1e-12)
  local on_hull = a.soak.value + a.cloth.value + a.fill.value
  lu.assertAlmostEquals(a.on_hull.value:to "kg", on_hull:to "kg", 1e-12)
  lu.assertAlmostEquals(a.total.value:to "kg", on_hull:to "kg" / 0.8, 1e-12)
  lu.assertAlmostEquals(a.waste.value:to "kg", on_hull:to "kg" / 4, 1e-12)
  lu.assertAlmostEquals(a.per_area:to "kg/m2", a.total.value:to "kg" / 5, 1e-12)
  lu.assertAlmostEquals(a.wetout_per_area:to "kg/m2", (0.06 + 2 * inside) / 0.8, 1e-12)
  -- Both cloths are laid by the same hand: their spreads add, not their squares.
  local by_hand = 2 * 1100 * thick / 0.4 * 0.04
  lu.assertAlmostEquals(a.cloth.sd:to "kg",
    math.sqrt((5 * by_hand) ^ 2 + (0.1 * 2 * inside) ^ 2), 1e-12)
  lu.assertNil(a.cloth.because)
  lu.assertEquals(a.total.because, "the resin in the cloth")
end

function TestAmounts.test_enough_is_split_by_the_ratio()
  local a = amounts()
  lu.assertTrue(a.enough > a.total.value)
  lu.assertTrue(a.enough < amounts({ chance = 0.99 }).enough)
  lu.assertAlmostEquals((a.resin + a.hardener):to "kg", a.enough:to "kg", 1e-12)
  lu.assertAlmostEquals(a.hardener / a.resin, resin().hardener, 1e-12)
  lu.assertEquals(a.enough:to "kg",
    rw.quantile({ amount = a.total, chance = 0.95 }):to "kg")
end

function TestAmounts.test_the_first_layer_is_the_outermost()
  local thin = amounts { layers = { cloth "0.3 mm", cloth "0.9 mm" } }
  local coarse = amounts { layers = { cloth "0.9 mm", cloth "0.3 mm" } }
  lu.assertAlmostEquals((coarse.fill.value - thin.fill.value):to "kg", 5 * 1100 * 0.6e-3, 1e-9)
  lu.assertAlmostEquals(coarse.cloth.value:to "kg", thin.cloth.value:to "kg", 1e-12)
end

function TestAmounts.test_bagged_takes_less_resin_inside()
  lu.assertTrue(amounts({ layup = "bagged" }).cloth.value < amounts().cloth.value)
end

function TestAmounts.test_a_coat_without_cloth()
  for _, none in ipairs { {}, false } do
    local a = rw.amounts {
      area = "5 m2", layers = none or nil, resin = resin(), soak = "100 g/m2", cover = "0 mm",
      waste = "20 %",
    }
    lu.assertEquals(a.cloth.value:si(), 0)
    lu.assertAlmostEquals(a.total.value:to "kg", 5 * 0.1 / 0.8, 1e-12)
    lu.assertNil(a.total.because)
    lu.assertAlmostEquals(a.enough:to "kg", 0.625, 1e-12)
  end
end

function TestAmounts.test_names_what_spreads_most()
  lu.assertEquals(amounts({ area = { value = "5 m2", sd = "2 m2" } }).total.because, "the area")
  lu.assertEquals(amounts({ waste = { value = 0.2, sd = 0.1 } }).total.because, "the waste")
  lu.assertEquals(amounts({ cover = { value = "0.2 mm", sd = "0.2 mm" } }).total.because,
    "the fill coats")
  lu.assertEquals(amounts({ soak = { value = "60 g/m2", sd = "90 g/m2" } }).total.because,
    "what the wood soaks up")
end

function TestAmounts.test_refuses()
  refused_for("cover", { "\"0.2 m\"" }, amounts, { cover = 0.2 })
  refused_for("cover", { "allowed" }, amounts, { cover = "0.2 m" })
  refused_for("waste", { "15 % is 0.15" }, amounts, { waste = 15 })
  refused_for("soak", { "mass per area", "\"60 g\"" }, amounts, { soak = "60 g" })
  refused_for("area", { "area is out of range" }, amounts, { area = "-5 m2" })
  refused_for("layers[2]", { "cloth" }, amounts, { layers = { cloth(), resin() } })
  refused_for("resin", { "resin" }, amounts, { resin = cloth() })
  refused_for("layup", { "did you mean \"bagged\"?" }, amounts, { layup = "baged" })
  refused_for("chance", { "chance is 1" }, amounts, { chance = 1 })
  refused_for("chance", { "95 %" }, amounts, { chance = 95 })
end

TestPacks = {}

local kits = {
  { mass = "1.5 kg", price = "41 money" }, { mass = "6 kg", price = "138 money" },
  { mass = "30 kg", price = "585 money" },
}

function TestPacks.test_cheapest()
  local p = rw.packs { need = "7 kg", packs = kits }
  lu.assertEquals(p.counts, { 1, 1, 0 })
  lu.assertEquals(math.type(p.counts[1]), "integer")
  lu.assertEquals(p.mass:to "kg", 7.5)
  lu.assertEquals(p.price:to "money", 179)
  lu.assertAlmostEquals(p.leftover:to "kg", 0.5, 1e-12)
  lu.assertEquals(rw.packs({ need = "29 kg", packs = kits }).counts, { 0, 0, 1 })
  lu.assertEquals(rw.packs({ need = "0 kg", packs = kits }).price:to "money", 0)
end

function TestPacks.test_refuses()
  refused_for("packs[1].price", { "packs[1].price is missing" }, rw.packs,
    { need = "7 kg", packs = { { mass = "6 kg" } } })
  refused_for("packs[2].mass", { "packs[2].mass is 0 and must be above 0" }, rw.packs,
    { need = "7 kg", packs = { kits[1], { mass = "0 kg", price = "1 money" } } })
  refused_for("packs[1].mass", { "packs[1].mass is out of range" }, rw.packs,
    { need = "7 t", packs = kits })
  refused_for("packs[1].price", { "price" }, rw.packs,
    { need = "7 kg", packs = { { mass = "6 kg", price = "-1 money" } } })
  refused_for("packs[1].price", { "has no unit" }, rw.packs,
    { need = "7 kg", packs = { { mass = "6 kg", price = 138 } } })
  refused_for("need", { "need = 7 has no unit" }, rw.packs, { need = 7, packs = kits })
  refused_for("need", {}, rw.packs, { need = "-7 kg", packs = kits })
  refused_for("packs", {}, rw.packs, { need = "7 kg", packs = {} })
  local many = {}
  for i = 1, 13 do
    many[i] = kits[1]
  end
  refused_for("packs", { "found 13" }, rw.packs, { need = "7 kg", packs = many })
end

TestLayout = {}

-- A box 4 m long with 1.50 m of girth; 50 mm over every edge.
local function layout(change)
  local fields = {
    hull = rw.hull { girth = { unit = "m", 1.5, 1.5, 1.5, 1.5, 1.5 }, length = "4 m" },
    width = "1 m", price = "10 money/m", way = "lengthwise",
  }
  for name, value in pairs(change or {}) do
    fields[name] = value
  end
  return rw.cloth_layout(fields)
end

function TestLayout.test_lengthwise()
  local l = layout()
  lu.assertEquals(l.way, "lengthwise")
  lu.assertEquals(l.pieces, 2)
  lu.assertAlmostEquals(l.length:to "m", 8.2, 1e-9)
  lu.assertAlmostEquals(l.cost:to "money", 82, 1e-9)
  lu.assertAlmostEquals(l.reach:to "m", 1.95, 1e-9)
  lu.assertAlmostEquals(l.lap_area:to "m2", 0.2, 1e-9)
  lu.assertAlmostEquals(l.offcut, 1 - 6.2 / 8.2, 1e-9)
  lu.assertNil(l.filler)
  lu.assertNil(l.filler_from)
  lu.assertEquals(layout({ width = "1.6 m", shortfall = "15 mm" }).pieces, 2)
  lu.assertEquals(layout({ width = "1.6 m" }).pieces, 1)
end

function TestLayout.test_other_ways()
  local across = layout { way = "crosswise" }
  lu.assertEquals(across.way, "crosswise")
  lu.assertEquals(across.pieces, 5)
  lu.assertAlmostEquals(across.length:to "m", 8, 1e-9)
  local filled = layout { way = "filled" }
  lu.assertEquals(filled.pieces, 1)
  lu.assertAlmostEquals(filled.filler:to "m", 4.1, 1e-9)
  lu.assertAlmostEquals(filled.filler_from:to "m", 0, 1e-9)
  lu.assertAlmostEquals(filled.filler_to:to "m", 4, 1e-9)
end

function TestLayout.test_no_use_for_a_filler()
  local l, why = layout { way = "filled", width = "2 m" }
  lu.assertNil(l)
  lu.assertStrContains(why, "one strip reaches everywhere")
  lu.assertStrContains(why, "lengthwise")
  l, why = layout { way = "filled", width = "0.85 m", overhang = "70 mm" }
  lu.assertNil(l)
  lu.assertStrContains(why, "wider than the roll")
end

function TestLayout.test_refuses()
  refused_for("lap", { "25 to 80 mm" }, layout, { lap = "0.5 m" })
  refused_for("width", { "\"1.52 m\"" }, layout, { width = 1.52 })
  refused_for("width", { "width is out of range" }, layout, { width = "1520 m" })
  refused_for("price", { "money/m" }, layout, { price = 10 })
  refused_for("price", { "price" }, layout, { price = "10 money" })
  refused_for("overhang", {}, layout, { overhang = "50 m" })
  refused_for("shortfall", { "narrower than its label" }, layout, { shortfall = "0.9 m" })
  refused_for("way", { "did you mean \"crosswise\"?" }, layout, { way = "crosswis" })
  refused_for("hull", { "a hull" }, layout, { hull = resin() })
end

function TestLayout.test_reach()
  lu.assertAlmostEquals(rw.reach({ width = "1.52 m", lap = "60 mm", pieces = 2 }):to "m", 2.98,
    1e-12)
  lu.assertAlmostEquals(rw.reach({ width = "1 m", lap = "1 mm", pieces = 1 }):to "m", 1, 1e-12)
  refused_for("pieces", { "found 0" }, rw.reach, { width = "1 m", lap = "60 mm", pieces = 0 })
  refused_for("lap", { "narrower than its strip" }, rw.reach,
    { width = "1 m", lap = "1 m", pieces = 2 })
end

TestBatches = {}

-- 2 m2 at 250 g/m2 and 0.05 m2/min: half a kilogram.
local function batches(change)
  local fields = {
    resin = resin(), hull = steady "20 degC", start = laid, area = "2 m2",
    resin_per_area = "250 g/m2", rate = "0.05 m2/min", most = "150 g",
  }
  for name, value in pairs(change or {}) do
    fields[name] = value
  end
  return rw.batches(fields)
end

function TestBatches.test_by_hand()
  local list = batches()
  lu.assertEquals(#list, 4)
  lu.assertEquals(list.warnings, {})
  for i, b in ipairs(list) do
    lu.assertAlmostEquals(b.mass:to "g", 125, 1e-9)
    lu.assertAlmostEquals(b.from:to "m2", 0.5 * (i - 1), 1e-9)
    lu.assertAlmostEquals(b.to:to "m2", 0.5 * i, 1e-9)
    -- 3 minutes of mixing and 10 of spreading
    lu.assertAlmostEquals(b.seconds_mixed, laid_seconds + (i - 1) * 780, 1e-3)
    lu.assertAlmostEquals(b.seconds_spread, laid_seconds + i * 780, 1e-3)
    lu.assertTrue(b.seconds_latest > b.seconds_spread)
    lu.assertAlmostEquals(b.temperature:to "degC", 20, 1e-9)
    lu.assertTrue(b.lost >= 0 and b.lost < 0.5)
  end
  lu.assertEquals(list[1].mixed, laid)
  lu.assertEquals(list[1].spread, "2026-10-03 09:13")
  local pot = resin():pot { mass = "125 g", air = "20 degC" }
  lu.assertAlmostEquals(list[1].seconds_latest - laid_seconds, pot.usable:si(), 1e-3)
end

function TestBatches.test_a_spread_of_the_rate_raises_the_chance_of_loss()
  local sure = batches()
  local unsure = batches { rate = { low = "0.02 m2/min", high = "0.08 m2/min" } }
  lu.assertTrue(unsure[1].lost > sure[1].lost)
end

function TestBatches.test_vessels_and_cold_resin()
  local change = { resin = resin "fast-polyamine", hull = steady "30 degC", most = "1 kg" }
  local cup = batches(change)
  change.chilled = "12 degC"
  lu.assertTrue(#batches(change) < #cup)
  change.chilled, change.tray = nil, { length = "300 mm", width = "200 mm" }
  lu.assertTrue(#batches(change) < #cup)
  change.cup = "70 mm"
  refused_for("tray", { "cup and tray" }, batches, change)
end

function TestBatches.test_no_way_is_told_in_words()
  local list, why = batches {
    resin = resin "fast-polyamine", hull = steady "30 degC", rate = "0.005 m2/min",
  }
  lu.assertNil(list)
  lu.assertStrContains(why, "20 g")
  lu.assertStrContains(why, "slower hardener")
end

function TestBatches.test_refuses()
  refused_for("rate", { "has no unit" }, batches, { rate = 0.05 })
  refused_for("rate", { "0.02 to 0.05 m2/min" }, batches, { rate = "0 m2/min" })
  refused_for("rate.sd", { "negative" }, batches,
    { rate = { value = "0.05 m2/min", sd = "-0.01 m2/min" } })
  refused_for("most", { "most is out of range" }, batches, { most = "10 g" })
  refused_for("share", { "share is out of range" }, batches, { share = 0.1 })
  refused_for("area", {}, batches, { area = "0 m2" })
  refused_for("resin_per_area", {}, batches, { resin_per_area = "250 kg/m2" })
  refused_for("chilled", {}, batches, { chilled = "90 degC" })
  refused_for("hull", { "reach from" }, batches, { start = "2026-11-03 09:00" })
  refused_for("start", { "2026-10-03 15:30" }, batches, { start = "nine" })
end

-- 5 m2 at 0.04 m2/min: 125 min; 3 % of area and 4 % of rate make 5 %.
function TestBatches.test_spreading_alone()
  local t = rw.spreading_time {
    area = { value = "5 m2", sd = "0.15 m2" },
    rate = { value = "0.04 m2/min", sd = "0.0016 m2/min" },
  }
  lu.assertAlmostEquals(t.value:to "min", 125, 1e-9)
  lu.assertAlmostEquals(t.sd:to "min", 6.25, 1e-9)
  lu.assertEquals(t.because, "the rate")
  t = rw.spreading_time { area = { value = "5 m2", sd = "0.5 m2" }, rate = "0.04 m2/min" }
  lu.assertEquals(t.because, "the area")
  lu.assertNil(rw.spreading_time({ area = "5 m2", rate = "0.04 m2/min" }).because)
  refused_for("rate", { "rate is 0 and must be above 0" }, rw.spreading_time,
    { area = "5 m2", rate = "0 m2/min" })
end

TestWindow = {}

local function window(change)
  local fields = {
    resin = resin(), hull = steady "18 degC", first = laid, last = "2026-10-03 11:00",
    to = "2026-10-12 09:00", draws = 64,
  }
  for name, value in pairs(change or {}) do
    fields[name] = value
  end
  return rw.window(fields)
end

function TestWindow.test_from_the_last_to_the_first()
  local w = window()
  local function forecast(at)
    return resin():forecast {
      hull = steady "18 degC", laid = at, to = "2026-10-12 09:00", draws = 64,
    }
  end
  lu.assertFalse(w.empty)
  lu.assertEquals(w.warnings, {})
  lu.assertEquals(w.open.seconds, forecast("2026-10-03 11:00").recoat_opens.seconds)
  lu.assertEquals(w.open.because, forecast("2026-10-03 11:00").recoat_opens.because)
  lu.assertEquals(w.close.seconds, forecast(laid).recoat_closes.seconds)
  lu.assertEquals(w.close.high_seconds, forecast(laid).recoat_closes.high_seconds)
  lu.assertTrue(w.open.seconds < w.close.seconds)
end

local function cooling()
  return rw.history { readings = {
    { at = "2026-10-03 08:00", air = "25 degC" }, { at = "2026-10-04 09:00", air = "25 degC" },
    { at = "2026-10-05 09:00", air = "3 degC" }, { at = "2026-10-13 08:00", air = "3 degC" },
  } }
end

function TestWindow.test_an_empty_one()
  local w = window {
    resin = resin "fast-polyamine", hull = cooling(), last = "2026-10-04 09:00",
  }
  lu.assertTrue(w.empty)
  lu.assertTrue(w.close.seconds < w.open.seconds)
  lu.assertEquals(#w.warnings, 1)
  lu.assertStrContains(w.warnings[1], "hard before")
end

function TestWindow.test_chance()
  local w = window()
  local function chance(at)
    return rw.window_chance {
      resin = resin(), hull = steady "18 degC", first = laid, last = "2026-10-03 11:00", at = at,
    }
  end
  local middle = rw.clock_text { seconds = (w.open.seconds + w.close.seconds) / 2 }
  lu.assertEquals(chance "2026-10-03 11:30", 0)
  lu.assertTrue(chance(middle) > 0.3)
  lu.assertTrue(chance "2026-10-12 09:00" < chance(middle))
  refused_for("at", { "after the beginning" }, chance, "2026-10-03 10:30")
end

function TestWindow.test_refuses()
  refused_for("last", { "laid after the first" }, window, { last = "2026-10-03 08:30" })
  refused_for("to", {}, window, { to = "2026-10-03 10:00" })
  refused_for("hull", { "reach from" }, window, { to = "2027-10-03 10:00" })
  refused_for("draws", {}, window, { draws = 1000000 })
  refused_for("hull", { "a history" }, window, { hull = resin() })
end

TestStart = {}

local function falling(humidity)
  return rw.history { readings = {
    { at = "2026-10-03 08:00", air = "26 degC", humidity = humidity },
    { at = "2026-10-08 08:00", air = "14 degC", humidity = humidity },
  } }
end

local function start(change)
  local air = falling(0.5)
  local fields = {
    resin = resin "medium-cycloaliphatic", air = air, hull = air, from = laid, count = 6,
    duration = "2 h",
  }
  for name, value in pairs(change or {}) do
    fields[name] = value
  end
  return rw.start_hours(fields)
end

function TestStart.test_falling_air_is_fine()
  local s = start()
  lu.assertEquals(s.best, 1)
  lu.assertTrue(s.fine)
  lu.assertEquals(#s.hours, 6)
  lu.assertEquals(s.warnings, {})
  for i, hour in ipairs(s.hours) do
    lu.assertEquals(hour.seconds, laid_seconds + 3600 * (i - 1))
    lu.assertEquals(hour.at, rw.clock_text { seconds = hour.seconds })
    lu.assertEquals(hour.rise:si(), 0)
    lu.assertTrue(hour.margin:to "K" > 5)
    lu.assertTrue(hour.coldest < rw.q "26 degC")
    lu.assertTrue(rw.clock { at = hour.gel } > hour.seconds + 7200)
    lu.assertTrue(rw.clock { at = hour.safe } > rw.clock { at = hour.gel })
    lu.assertTrue(hour.fine)
  end
  lu.assertEquals(#start({ count = nil, step = "30 min" }).hours, 6)
end

function TestStart.test_warming_or_damp_air_is_not()
  local rising = rw.history { readings = {
    { at = "2026-10-03 08:00", air = "10 degC", humidity = 0.95 },
    { at = "2026-10-08 08:00", air = "34 degC", humidity = 0.95 },
  } }
  local s = start { air = rising, hull = rising }
  lu.assertFalse(s.fine)
  lu.assertEquals(#s.warnings, 1)
  lu.assertStrContains(s.warnings[1], "none of the hours")
  lu.assertTrue(s.hours[1].margin < rw.q "3 K")
  lu.assertTrue(s.hours[1].rise > rw.q "0 K")
  lu.assertFalse(s.hours[s.best].fine)
  local lax = start { air = rising, hull = rising, most_rise = "20 K", least_margin = "0 K" }
  lu.assertTrue(lax.fine)
end

function TestStart.test_humidity_not_known()
  local air = falling()
  local s = start { air = air, hull = air }
  lu.assertNil(s.hours[1].margin)
  lu.assertEquals(#s.warnings, 1)
  lu.assertStrContains(s.warnings[1], "humidity")
end

function TestStart.test_beyond_the_forecast()
  local s = start { from = "2026-10-08 06:00", count = 2 }
  lu.assertFalse(s.fine)
  lu.assertNil(s.hours[1].gel)
  lu.assertNil(s.hours[1].rise)
  lu.assertNil(s.hours[1].coldest)
  lu.assertEquals(s.hours[1].at, "2026-10-08 06:00")
end

function TestStart.test_refuses()
  refused_for("count", { "found 0" }, start, { count = 0 })
  refused_for("step", { "step is out of range" }, start, { step = "5 s" })
  refused_for("duration", { "duration is out of range" }, start, { duration = "3 d" })
  refused_for("duration", { "has no unit" }, start, { duration = 2 })
  refused_for("most_rise", { "difference" }, start, { most_rise = "1 degC" })
  refused_for("hull", { "reach from" }, start, { from = "2026-10-03 04:00" })
end

TestBudget = {}

function TestBudget.test_sum()
  local b = rw.budget { items = {
    { name = "cloth", mass = { value = "3 kg", sd = "0.3 kg" } },
    { name = "resin", mass = { value = "4 kg", sd = "0.4 kg" } },
    { name = "bolts", mass = "200 g" },
  } }
  lu.assertAlmostEquals(b.total.value:to "kg", 7.2, 1e-12)
  lu.assertAlmostEquals(b.total.sd:to "kg", 0.5, 1e-12)
  lu.assertEquals(b.total.because, "resin")
  lu.assertEquals(#b.items, 3)
  lu.assertEquals(b.items[3].name, "bolts")
  lu.assertAlmostEquals(b.items[3].mass.value:to "g", 200, 1e-9)
  local inner = rw.budget { items = { { name = "skin", mass = b.total } } }
  lu.assertAlmostEquals(inner.total.sd:to "kg", 0.5, 1e-12)
  lu.assertNil(rw.budget({ items = { { name = "bolts", mass = "200 g" } } }).total.because)
  refused_for("items[2].name", { "missing" }, rw.budget,
    { items = { { name = "a", mass = "1 kg" }, { mass = "1 kg" } } })
  refused_for("items[1].mass", { "has no unit" }, rw.budget,
    { items = { { name = "a", mass = 1 } } })
  refused_for("items", {}, rw.budget, { items = {} })
end

-- Mean 10, sd 2: the median is 10/sqrt(1.04).
function TestBudget.test_quantile()
  local amount = { value = "10 kg", sd = "2 kg" }
  lu.assertAlmostEquals(rw.quantile({ amount = amount, chance = 0.5 }):to "kg",
    10 / math.sqrt(1.04), 1e-9)
  lu.assertTrue(rw.quantile { amount = amount, chance = "95 %" }
    > rw.quantile { amount = amount, chance = "90 %" })
  refused_for("chance", { "chance is 0" }, rw.quantile, { amount = amount, chance = 0 })
  refused_for("amount", { "amount is 0" }, rw.quantile, { amount = "0 kg", chance = 0.5 })
  refused(rw.quantile, { amount = "10 m", chance = 0.5 })
end

os.exit(lu.LuaUnit.run())
