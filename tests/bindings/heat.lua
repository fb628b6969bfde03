-- SPDX-License-Identifier: GPL-3.0-or-later
-- Heat in the Lua module: edges of runaway against published values, what is safe against the
-- edges, castings, softening and post-cure against the cure itself; refusals in words.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused_for = support.refused_for

-- luacheck: globals TestEdge TestBody TestSafe TestCasting TestSoftening TestPostCure

local R = 8.31446261815324
local names = { "medium-cycloaliphatic", "slow-polyetheramine", "fast-polyamine" }
local function medium() return rw.resin { class = names[1] } end

-- A property of a resin class, SI.
local function property(class, name)
  for _, m in ipairs(rw.materials { kind = "resin" }) do
    if m.name == class then
      return m.properties[name].value:si()
    end
  end
end

TestEdge = {}

-- Sources fk-exact (six figures, recomputed) and, for the stirred body, F. A. Williams, Combustion
-- Theory, 2nd ed. 1985, p. 519: 1/e at a rise of 1.
function TestEdge.test_published()
  local slab = rw.runaway_edge { shape = "slab" }
  lu.assertAlmostEquals(slab.delta, 0.8784577, 6e-8)
  lu.assertAlmostEquals(slab.theta, 1.1868422, 6e-8)
  lu.assertAlmostEquals(rw.runaway_edge({ shape = "cylinder" }).delta, 2, 1e-10)
  lu.assertAlmostEquals(rw.runaway_edge({ shape = "sphere" }).delta, 3.3219921, 6e-8)
  local stirred = rw.runaway_edge { shape = "stirred" }
  lu.assertAlmostEquals(stirred.delta, math.exp(-1), 1e-13)
  lu.assertAlmostEquals(stirred.theta, 1, 1e-6) -- a root where the slope is flat
end

-- A body that conducts well is as good as stirred: delta goes to (j + 1) biot/e.
function TestEdge.test_biot()
  for j, shape in ipairs { "slab", "cylinder", "sphere" } do
    local edge = rw.runaway_edge { shape = shape, biot = 1e-6 }
    lu.assertAlmostEquals(edge.delta / (j * 1e-6), math.exp(-1), 1e-6)
    lu.assertTrue(rw.runaway_edge({ shape = shape, biot = 3 }).delta
      < rw.runaway_edge({ shape = shape }).delta)
  end
end

function TestEdge.test_refuses()
  refused_for("biot", { "stirred" }, rw.runaway_edge, { shape = "stirred", biot = 1 })
  refused_for("biot", { "found -1" }, rw.runaway_edge, { shape = "slab", biot = -1 })
  refused_for("shape", { "did you mean \"sphere\"?" }, rw.runaway_edge, { shape = "spere" })
end

TestBody = {}

local function worked(changes)
  local body = { shape = "slab", size = "0.1 m", conductivity = "0.15 W/(m K)",
    density = "900 kg/m3", heat = "1.5e6 J/kg", factor = "5e11 1/s", energy = "110 kJ/mol" }
  for name, value in pairs(changes or {}) do
    body[name] = value
  end
  return body
end

-- Source fk-assessment: a fictional slab, printed to 0.1 degC.
function TestBody.test_published()
  for size, celsius in pairs { ["0.1 m"] = 31.4, ["0.2 m"] = 21.6, ["0.4 m"] = 12.4 } do
    local air = rw.runaway_air(worked { size = size })
    lu.assertAlmostEquals(air:to "degC", celsius, 0.05)
  end
  lu.assertAlmostEquals(rw.runaway_delta(worked { air = "31.438 degC" }), 0.878, 8e-5)
end

function TestBody.test_the_edge_is_met_there()
  local body = worked { shape = "sphere", surface = "5 W/(m2 K)", size = "300 mm" }
  body.air = rw.runaway_air(body)
  lu.assertAlmostEquals(rw.runaway_delta(body),
    rw.runaway_edge({ shape = "sphere", biot = 5 * 0.3 / 0.15 }).delta, 1e-8)
end

function TestBody.test_never()
  local air, why = rw.runaway_air(worked { heat = "1 J/kg", factor = "1e-6 1/s" })
  lu.assertNil(air)
  lu.assertStrContains(why, "does not run away")
end

function TestBody.test_refuses()
  refused_for("energy", { "0.11 kJ/mol", "kcal" }, rw.runaway_air, worked { energy = "110 J/mol" })
  refused_for("factor", { "1/s" }, rw.runaway_air, worked { factor = "0 1/s" })
  refused_for("heat", {}, rw.runaway_air, worked { heat = "5 kJ" })
  refused_for("air", { "900 degC" }, rw.runaway_delta, worked { air = "900 degC" })
end

TestSafe = {}

-- The bound of a resin written as a body: its edge must lie at the air asked for.
function TestSafe.test_thickness_is_at_the_edge()
  for _, class in ipairs(names) do
    local r, T = rw.resin { class = class }, 293.15
    local bound = r:fastest { temperature = "20 degC" }
    local energy = bound.energy:si()
    for form, body in pairs { on_wood = { "slab", 1 }, plate = { "slab", 2 },
      rod = { "cylinder", 2 }, ball = { "sphere", 2 } } do
      local safe = r:safe_thickness { air = "20 degC", form = form }
      lu.assertTrue(safe.low < safe.value and safe.value < safe.high)
      local air = rw.runaway_air { shape = body[1], size = safe.value / body[2],
        conductivity = "0.2 W/(m K)", surface = "8 W/(m2 K)", density = r.density,
        heat = rw.q(property(class, "heat"), "J/kg"), energy = bound.energy,
        factor = bound.rate * math.exp(energy / (R * T)) }
      lu.assertAlmostEquals(air:to "degC", 20, 1e-6)
    end
  end
end

-- Equation (44) put together by hand.
function TestSafe.test_mass()
  local r, T, surface = medium(), 298.15, 8
  local bound = r:fastest { temperature = "25 degC" }
  local gain = r.density:si() * property(names[1], "heat") * bound.rate:si() * bound.energy:si()
    / (R * T * T)
  local base, around = 0.3 * 0.2, 2 * (0.3 + 0.2)
  local volume = 2 * base * surface / math.exp(1)
    / (gain - around / base * surface / math.exp(1))
  local mass = r:safe_mass { air = "25 degC", tray = { length = "300 mm", width = "200 mm" } }
  lu.assertAlmostEquals(mass.value:si(), r.density:si() * volume, 1e-9)
  lu.assertEquals(mass.because, "how fast this resin really is")
  lu.assertTrue(r:safe_mass({ air = "30 degC" }).value < r:safe_mass({ air = "25 degC" }).value)
  local none, why = r:safe_mass { air = "-40 degC" }
  lu.assertNil(none)
  lu.assertStrContains(why, "any depth")
end

-- The spread of the rate is that of the class: its interval comes from a resin so much faster.
function TestSafe.test_low_end()
  local r = medium()
  local safe = r:safe_thickness { air = "25 degC", surface = "1e6 W/(m2 K)" }
  -- With the surface held the thickness goes by the root of the rate; T_ref is 25 degC, so that
  -- the energy adds nothing.
  lu.assertAlmostEquals(safe.value / safe.low, math.exp(1.645 * r.rate_sd / 2), 1e-4)
  lu.assertAlmostEquals(safe.high / safe.value, math.exp(1.645 * r.rate_sd / 2), 1e-4)
end

function TestSafe.test_refuses()
  local r = medium()
  refused_for("air", { "200 degC" }, r.safe_thickness, r, { air = "200 degC" })
  refused_for("surface", { "0 W/(m2 K)" }, r.safe_mass, r,
    { air = "20 degC", surface = "0 W/(m2 K)" })
  refused_for("conductivity", {}, r.safe_thickness, r,
    { air = "20 degC", conductivity = "0.2 W/m2" })
  refused_for("tray", { "cup" }, r.safe_mass, r,
    { air = "20 degC", cup = "70 mm", tray = { length = "300 mm", width = "200 mm" } })
  refused_for("temperature", { "500 degC" }, r.fastest, r, { temperature = "500 degC" })
end

TestCasting = {}

local day = { "2026-07-01 08:00", "2026-07-03 08:00" }
local function still(celsius)
  return rw.steady { air = rw.q(celsius, "degC"), from = day[1], to = day[2] }
end
local function cast(changes)
  local spec = { thickness = "12 mm", air = still(20), poured = "2026-07-01 09:00",
    to = "2026-07-02 09:00", wood = { thickness = "6 mm", density = "370 kg/m3" } }
  for name, value in pairs(changes or {}) do
    spec[name] = value or nil
  end
  return medium():casting(spec)
end

function TestCasting.test_heat_closes()
  local c = cast()
  lu.assertAlmostEquals(c.balance, 0, 1e-10)
  lu.assertAlmostEquals(c.released:si(), (c.stored + c.lost):si(), 1e-6 * c.released:si())
  local full = 0.012 * medium().density:si() * property(names[1], "heat")
  lu.assertTrue(c.released:si() >= full * c.cure_least * (1 - 1e-9))
  lu.assertTrue(c.released:si() <= full * c.cure_greatest * (1 + 1e-9))
  lu.assertEquals(c.warnings, {})
end

function TestCasting.test_profile()
  local c = cast { times = { "2026-07-01 09:00", "2026-07-02 09:00" } }
  lu.assertEquals(#c.millimetres, 64) -- 24 places in the wood, 40 in the resin
  lu.assertAlmostEquals(c.millimetres[1], 12 + 6 * 23.5 / 24, 1e-9)
  lu.assertAlmostEquals(c.millimetres[64], 0.15, 1e-9)
  lu.assertEquals(c.profile[1].at, "2026-07-01 09:00")
  local least, greatest = 1, 0
  for i = 1, 64 do
    lu.assertAlmostEquals(c.profile[1].celsius[i], 20, 1e-9)
    if i <= 24 then
      lu.assertFalse(c.profile[2].cure[i])
    else
      least, greatest = math.min(least, c.profile[2].cure[i]),
        math.max(greatest, c.profile[2].cure[i])
    end
  end
  lu.assertAlmostEquals(least, c.cure_least, 1e-12)
  lu.assertAlmostEquals(greatest, c.cure_greatest, 1e-12)
  lu.assertEquals(#cast().profile, 0)
end

-- A thin film is hardly warmer than the air, and cures as the cure itself says.
function TestCasting.test_film()
  local c = cast { thickness = "0.2 mm" }
  lu.assertTrue(c.peak:to "degC" < 20.5)
  local cured = medium():cure({ hull = still(20), from = "2026-07-01 09:00",
    to = "2026-07-02 09:00" }):at({ at = "2026-07-02 09:00" }).cure
  lu.assertTrue(c.cure_least >= cured - 1e-5 and c.cure_greatest < cured + 0.01)
  lu.assertTrue(c.gel_first <= c.gel_last and c.work_end_last < c.gel_first)
end

-- What is safe by the bound stays below the steady rise at the edge; ten times as thick does not.
function TestCasting.test_safe_is_safe()
  local r = medium()
  local safe = r:safe_thickness({ air = "20 degC", surface = "10 W/(m2 K)" }).value
  local biot, T = 10 * safe:si() / 0.2, 293.15
  local rise = rw.runaway_edge({ shape = "slab", biot = biot }).theta * R * T * T
    / r:fastest({ temperature = "20 degC" }).energy:si()
  local thin = cast { wood = false, back = "0 W/(m2 K)", thickness = safe }
  lu.assertTrue(thin.peak:si() < T + rise)
  lu.assertTrue(thin.peak:si() > T)
  local thick = cast { wood = false, back = "0 W/(m2 K)", thickness = 10 * safe }
  lu.assertTrue(thick.peak:si() > T + 5 * rise)
  lu.assertTrue(thick.peak_at < thin.gel_last)
end

function TestCasting.test_middle_of_a_plate()
  local half = cast { wood = false, back = "0 W/(m2 K)", thickness = "5 mm" }
  local plate = cast { wood = false, thickness = "10 mm" }
  lu.assertAlmostEquals(plate.peak:si(), half.peak:si(), 0.05)
  lu.assertAlmostEquals(plate.released:si(), 2 * half.released:si(), 1e-3 * plate.released:si())
end

function TestCasting.test_start_and_danger()
  local warming = rw.history { readings = { { at = day[1], air = "16 degC" },
    { at = day[2], air = "30 degC" } } }
  local now = warming:at({ at = "2026-07-01 09:00" }).air
  local c, same = cast { air = warming }, cast { air = warming, start = now }
  lu.assertEquals(c.peak:si(), same.peak:si())
  lu.assertTrue(cast({ air = warming, start = "30 degC" }).gel_first < c.gel_first)
  local hot = cast { wood = false, back = "0 W/(m2 K)", air = still(40), thickness = "60 mm" }
  lu.assertTrue(hot.peak:to "degC" > 227)
  lu.assertStrContains(hot.warnings[1], "smokes")
  local cold = cast { to = "2026-07-01 09:10", air = still(0) }
  lu.assertNil(cold.gel_first)
  lu.assertNil(cold.gel_last)
end

function TestCasting.test_refuses()
  local function no(argument, words, changes)
    refused_for(argument, words, cast, changes)
  end
  no("thickness", { "thickness is 0 mm", "to 1000 mm" }, { thickness = "0 mm" })
  no("thickness", { "12 g" }, { thickness = "12 g" })
  no("wood.thickness", { "Leave wood out" },
    { wood = { thickness = "0 mm", density = "370 kg/m3" } })
  no("wood.density", { "missing" }, { wood = { thickness = "6 mm" } })
  no("wood.density", { "found 5 kg/m3" }, { wood = { thickness = "6 mm", density = "5 kg/m3" } })
  no("wood.start", { "200 degC" },
    { wood = { thickness = "6 mm", density = "370 kg/m3", start = "200 degC" } })
  no("start", { "180 degC" }, { start = "180 degC" })
  no("cure", { "found 2" }, { cure = 2 })
  no("front", { "-1 W/(m2 K)" }, { front = "-1 W/(m2 K)" })
  no("to", { "after poured" }, { to = "2026-07-01 08:30" })
  no("to", { "400 days" }, { to = "2028-07-01 08:30" })
  no("air", { "2026-07-03" }, { to = "2026-07-05 08:30" })
  no("air", { "2026-07-01" }, { poured = "2026-06-30 08:30" })
  no("times[2]", { "between the pouring" }, { times = { "2026-07-01 10:00", "2026-07-03 10:00" } })
  no("times[2]", { "after the time before" },
    { times = { "2026-07-01 10:00", "2026-07-01 10:00" } })
end

TestSoftening = {}

local laid, mid, done = "2026-06-21 08:00", "2026-06-28 08:00", "2026-07-05 08:00"
local shop = rw.steady { air = "16 degC", from = laid, to = done }
local sun = rw.history { as_read = true, readings = { { at = done, air = "16 degC" },
  { at = "2026-07-05 12:00", air = "60 degC" }, { at = "2026-07-05 20:00", air = "20 degC" } } }
local cured = { hull = shop }

function TestSoftening.test_is_the_cure()
  local r = medium()
  local s = r:softening { hull = shop, draws = 0 }
  local c = r:cure { hull = shop, from = laid, to = done, tolerance = 1e-9 }
  lu.assertAlmostEquals(s.cure.value, c:at({ at = done }).cure, 1e-8)
  lu.assertAlmostEquals(s.glass.value:si(), c:at({ at = done }).glass:si(), 1e-5)
  -- Fresh resin is softest at the start, and soft until it turns to glass.
  lu.assertEquals(s.worst_at, laid)
  lu.assertAlmostEquals(s.worst.value:si(), 289.15 - property(names[1], "Tg0"), 1e-6)
  local mark = r:map { from = "16 degC", to = "17 degC", count = 2 }.glass_seconds[1]
  lu.assertAlmostEquals(s.soft_for.value:si(), mark, 1e-5 * mark)
  lu.assertNil(s.chance)
  for _, name in ipairs { "cure", "glass", "worst", "soft_for" } do
    lu.assertEquals(s[name].low, s[name].value)
    lu.assertEquals(s[name].high, s[name].value)
  end
  lu.assertEquals(s.warnings, {})
end

-- A period cut in two, or begun with the degree of cure of the one before, is the same.
function TestSoftening.test_goes_on()
  local r = medium()
  local whole = r:softening { hull = shop, draws = 0 }
  local first = r:softening { hull = shop, to = mid, draws = 0 }
  local cut = r:softening { hull = shop, from = mid, earlier = { { hull = shop, to = mid } },
    draws = 0 }
  local begun = r:softening { hull = shop, from = mid, start = first.cure.value, draws = 0 }
  lu.assertAlmostEquals(cut.cure.value, whole.cure.value, 1e-8)
  lu.assertEquals(begun.cure.value, cut.cure.value)
  lu.assertTrue(cut.worst.value < whole.worst.value)
end

function TestSoftening.test_worst_in_the_sun()
  local r = medium()
  local s = r:softening { hull = sun, earlier = { cured }, draws = 0 }
  local begin = r:softening({ hull = shop, draws = 0 }).cure.value
  local c = r:cure { hull = sun, from = done, to = "2026-07-05 20:00", start = begin,
    tolerance = 1e-9 }
  local p, worst = c:points { count = 20000 }, -math.huge
  for i = 1, #p.celsius do
    worst = math.max(worst, p.celsius[i] - p.glass_celsius[i])
  end
  lu.assertAlmostEquals(s.worst.value:si(), worst, 1e-3)
  lu.assertTrue(s.worst.value:si() >= worst - 1e-6)
end

function TestSoftening.test_spread()
  local r = medium()
  local function ask(hull, more)
    local spec = { hull = hull, earlier = { cured }, draws = 64 }
    for name, value in pairs(more or {}) do
      spec[name] = value
    end
    return r:softening(spec)
  end
  local s = ask(sun)
  for _, name in ipairs { "cure", "glass", "worst" } do
    lu.assertTrue(s[name].low < s[name].value and s[name].value < s[name].high, name)
    lu.assertEquals(type(s[name].because), "string")
  end
  lu.assertEquals(tostring(ask(sun).glass), tostring(s.glass))
  lu.assertNotEquals(ask(sun, { seed = 2 }).glass.low, s.glass.low)
  local hotter = ask(sun:warmer { by = "60 K" })
  lu.assertTrue(hotter.worst.value > s.worst.value and hotter.chance >= s.chance)
  lu.assertTrue(hotter.chance > 0.5)
  local frost = ask(rw.steady { air = "-30 degC", from = done, to = "2026-07-06 08:00" })
  lu.assertEquals(frost.chance, 0)
  lu.assertEquals(frost.soft_for.high:si(), 0)
  -- The hull's temperature is drawn as a whole: the spread of a fresh start is its own.
  local fresh = r:softening { hull = shop, draws = 512, temperature_sd = "2 K" }
  lu.assertAlmostEquals((fresh.worst.high - fresh.worst.low):si(), 2 * 1.645 * 2, 0.1)
  lu.assertEquals(fresh.worst.because, "the hull's temperature")
end

function TestSoftening.test_refuses()
  local r = medium()
  local function no(argument, words, spec)
    spec.hull = spec.hull or sun
    refused_for(argument, words, r.softening, r, spec)
  end
  no("to", { "after from" }, { from = "2026-07-05 12:00", to = "2026-07-05 10:00" })
  no("hull", { "2026-07-05 20:00" }, { to = "2026-07-06 10:00" })
  no("earlier[1].hull", { "2026-06-21" }, { earlier = { { hull = shop,
    from = "2026-06-20 10:00" } } })
  no("earlier[2].from", { "in order" }, { earlier = { cured, { hull = shop, from = mid } } })
  no("from", { "what went before" }, { hull = shop, from = mid, earlier = { cured } })
  no("earlier[1].hull", { "missing" }, { earlier = { {} } })
  no("start", { "share" }, { start = 1 })
  no("start", { "70" }, { start = 70 })
  no("temperature_sd", { "-1 K" }, { temperature_sd = "-1 K" })
  no("temperature_sd", { "difference" }, { temperature_sd = "1 degC" })
  no("draws", { "found -1" }, { draws = -1 })
  local closed = rw.steady { air = "16 degC", from = laid, to = done }
  do
    local _ <close> = closed
  end
  no("history", { "closed" }, { earlier = { { hull = closed } } })
end

TestPostCure = {}

local monday = "2026-07-06 08:00"
local function booth(changes)
  local place = { most = "80 degC", span = "24 h", rest = "16 degC" }
  for name, value in pairs(changes or {}) do
    place[name] = value
  end
  return place
end

-- Wanted: some kelvin more than there are.
local function wanted(more)
  return medium():softening({ hull = shop, draws = 0 }).glass.value + rw.q(more, "K")
end
local function plan(changes)
  local spec = { target = wanted(25), from = monday, earlier = { cured }, place = booth(),
    draws = 0 }
  for name, value in pairs(changes or {}) do
    spec[name] = value or nil
  end
  return medium():post_cure(spec)
end

function TestPostCure.test_keeps_its_word()
  local p = plan()
  lu.assertNotNil(p.reached_at)
  lu.assertNil(p.why)
  lu.assertTrue(p.glass.value >= wanted(25)) -- it still cures while it cools
  lu.assertTrue(p.worst.value:si() <= -5 or p.soft_start:si() > 0)
  lu.assertTrue(p.needed:si() <= 353.15)
  local points = p.history:points()
  lu.assertEquals(#points.seconds, #p.ramp)
  for i = 1, #p.ramp do
    lu.assertEquals(p.ramp[i].at, rw.clock_text { seconds = points.seconds[i] })
    lu.assertAlmostEquals(p.ramp[i].temperature:to "degC", points.celsius[i], 1e-9)
    lu.assertTrue(points.celsius[i] <= 80 + 1e-9)
    if i > 1 then
      local rise = (points.celsius[i] - points.celsius[i - 1])
        / (points.seconds[i] - points.seconds[i - 1])
      lu.assertTrue(math.abs(rise) <= 10 / 3600 * (1 + 1e-9), rise)
    end
  end
  lu.assertEquals(p.ramp[1].at, monday)
  lu.assertAlmostEquals(points.celsius[#p.ramp], 16, 1e-9)
end

-- The wanted glass transition is met at the time said, which is told to the minute.
function TestPostCure.test_is_reached_then()
  local p = plan()
  local function glass(seconds)
    return medium():softening({ hull = p.history, earlier = { cured }, draws = 0,
      to = rw.clock_text { seconds = rw.clock { at = p.reached_at } + seconds } }).glass.value
  end
  lu.assertTrue(glass(-60) < wanted(25) and glass(60) > wanted(25))
end

-- The ramp asked through softening answers the same.
function TestPostCure.test_agrees_with_softening()
  local p = plan { draws = 32 }
  local s = medium():softening { hull = p.history, earlier = { cured }, draws = 32 }
  for _, name in ipairs { "cure", "glass", "worst", "soft_for" } do
    lu.assertEquals(tostring(s[name]), tostring(p[name]))
  end
  lu.assertEquals(s.chance, p.chance)
  local begin = medium():softening({ hull = shop, draws = 0 }).cure.value
  local begun = plan { earlier = false, start = begin }
  lu.assertEquals(begun.reached_at, p.reached_at)
  lu.assertEquals(begun.glass.value:si(), p.glass.value:si())
end

function TestPostCure.test_farther_below_is_later_and_safer()
  local hot = booth { most = "110 degC", span = "10 d", heating = "300 K/h", step = "10 min" }
  local near = plan { target = wanted(45), below = "0 K", draws = 64, place = hot }
  local far = plan { target = wanted(45), below = "15 K", draws = 64, place = hot }
  lu.assertTrue(near.worst.value:si() <= 0 and far.worst.value:si() <= -15)
  lu.assertTrue(far.worst.value < near.worst.value)
  lu.assertTrue(far.chance < near.chance)
  lu.assertTrue(far.reached_at == nil or far.reached_at > near.reached_at)
end

function TestPostCure.test_not_reached()
  local p = plan { target = wanted(60),
    place = booth { most = "30 degC", span = "2 h", sessions = 2 } }
  lu.assertNil(p.reached_at)
  lu.assertStrMatches(p.why, "the glass transition gets to .+ degC, wanted were .+ degC%. .+%.")
  lu.assertTrue(p.glass.value < wanted(60))
  lu.assertTrue(#p.ramp > 3)
  lu.assertEquals(p.needed ~= nil, p.why:find "It takes a place of" ~= nil)
  lu.assertEquals(p.unbroken ~= nil, p.why:find "without a break" ~= nil)
  lu.assertTrue(p.month > p.glass.value)
  if p.needed then
    local enough = booth { most = p.needed + rw.q "0.1 K", span = "2 h", sessions = 2 }
    lu.assertNotNil(plan({ target = wanted(60), place = enough }).reached_at)
  end
end

function TestPostCure.test_nothing_to_do()
  local p = plan { target = wanted(-5) }
  lu.assertEquals(p.reached_at, monday)
  lu.assertEquals(p.hold:si(), 0)
end

function TestPostCure.test_refuses()
  local function no(argument, words, changes)
    refused_for(argument, words, plan, changes)
  end
  no("earlier", { "how far the hull is cured" }, { earlier = false })
  no("earlier", { "how far the hull is cured" }, { earlier = {} })
  no("target", { "300 degC" }, { target = "300 degC" })
  no("target", { "-213.15 degC" }, { target = "60 K" })
  no("from", { "what went before" }, { from = "2026-07-01 08:00" })
  no("start", { "share" }, { earlier = false, start = 1.5 })
  no("below", { "90 K", "5 K is usual" }, { below = "90 K" })
  no("below", { "difference" }, { below = "5 degC" })
  no("place.most", { "400 degC" }, { place = booth { most = "400 degC" } })
  no("place.rest", { "90 degC" }, { place = booth { rest = "90 degC" } })
  no("place.span", { "0.016667 h" }, { place = booth { span = "1 min" } })
  no("place.sessions", { "found 0" }, { place = booth { sessions = 0 } })
  no("place.sessions", { "found 61" }, { place = booth { sessions = 61 } })
  no("place.period", { "session" }, { place = booth { sessions = 2, period = "10 h" } })
  no("place.heating", { "is 0 K/h" }, { place = booth { heating = "0 K/h" } })
  no("place.heating", {}, { place = booth { heating = "10 K" } })
  no("place.step", { "48 h" }, { place = booth { step = "48 h" } })
  no("place.most", { "missing" }, { place = { span = "8 h", rest = "16 degC" } })
end

os.exit(lu.LuaUnit.run(), true)
