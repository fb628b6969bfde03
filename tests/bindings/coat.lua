-- SPDX-License-Identifier: GPL-3.0-or-later
-- Coats: against the closed forms written out by hand (docs/theory.md, 60 to 72), against values
-- that were published (reference-data/checks/points_coat.csv has their sources) and against one
-- another.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused_for = support.refused_for

-- luacheck: globals TestAmounts TestFilms TestLevelling TestBubbles
-- luacheck: globals TestFluidity TestEvents TestCoat

local G = 9.80665
local laid = "2026-10-03 09:00"

local function slow() return rw.resin { class = "slow-polyetheramine" } end

local function hall(air)
  return rw.steady { air = air or "20 degC", from = "2026-10-03 08:00", to = "2026-10-13 08:00" }
end

local function close(found, wanted, share)
  lu.assertAlmostEquals(found, wanted, math.abs(wanted) * (share or 1e-12))
end

TestAmounts = {}

function TestAmounts.test_mass_thickness_area()
  close(rw.coat_thickness { mass = "220 g", area = "1 m2", density = "1.1 g/cm3" }:to "mm", 0.2)
  local film = { area = "5.5 m2", thickness = "0.2 mm", density = "1.1 g/cm3" }
  close(rw.coat_mass(film):to "kg", 1.21)
  film.area, film.mass = nil, "1.21 kg"
  close(rw.coat_area(film):to "m2", 5.5)
end

function TestAmounts.test_refuses()
  refused_for("thickness", { "2000 mm", "0.1 to 0.4 mm" }, rw.coat_mass,
    { area = "5 m2", thickness = "2 m", density = "1.1 g/cm3" })
  refused_for("density", { "1.1 g per mL" }, rw.coat_area,
    { mass = "1 kg", thickness = "0.2 mm", density = "1.1 kg/m3" })
  refused_for("mass", { "volume" }, rw.coat_thickness,
    { mass = "1 L", area = "1 m2", density = "1.1 g/cm3" })
  refused_for("area", { "missing" }, rw.coat_mass, { thickness = "0.2 mm", density = "1.1 g/cm3" })
end

TestFilms = {}

-- Bird, Stewart & Lightfoot, section 2.2: oil of 800 kg/m3, 2e-4 m2/s, 2.5 mm thick, upright.
function TestFilms.test_a_published_film()
  local f = rw.film_flow { density = "0.8 g/cm3", viscosity = "0.16 Pa s", thickness = "2.5 mm",
    slope = "90 deg" }
  lu.assertAlmostEquals(f.flux:to "kg/(m s)", 0.204, 0.001)
  lu.assertAlmostEquals(f.reynolds, 5.1, 0.05)
  close(f.surface:to "m/s" / f.mean:to "m/s", 1.5)
  lu.assertEquals(f.warnings, {})
  local back, word = rw.film_thickness { density = "0.8 g/cm3", viscosity = "0.16 Pa s",
    slope = "90 deg", flux = f.flux }
  close(back:to "mm", 2.5)
  lu.assertNil(word)
end

function TestFilms.test_ripples_are_told()
  local film = { density = "1 g/cm3", viscosity = "1 mPa s", slope = "90 deg" }
  film.thickness = "0.5 mm"
  lu.assertStrContains(rw.film_flow(film).warnings[1], "ripples")
  film.thickness, film.flux = nil, "0.5 kg/(m s)"
  local _, word = rw.film_thickness(film)
  lu.assertStrContains(word, "ripples")
end

function TestFilms.test_run_thickness_slope_are_one_law()
  local coat = { density = "1.1 g/cm3", slope = "60 deg", fluidity = "500 1/Pa" }
  coat.thickness = "0.1 mm"
  local run = rw.sag_run(coat)
  close(run:to "m", 1100 * G * math.sin(math.rad(60)) * 1e-4 ^ 2 * 500 / 2)
  coat.run, coat.thickness = run, nil
  close(rw.sag_thickness(coat):to "mm", 0.1)
  coat.thickness, coat.slope = "0.1 mm", nil
  close(rw.sag_slope(coat):to "deg", 60)
  coat.run = "1 m"
  lu.assertEquals(rw.sag_slope(coat):to "deg", 90)
  close(rw.sag_held({ density = "1.1 g/cm3", slope = "60 deg", below = "0.4 m",
    fluidity = "500 1/Pa" }):to "m", math.sqrt(0.4 / (1100 * G * math.sin(math.rad(60)) * 500)))
end

function TestFilms.test_nothing_runs_on_the_level()
  local level = { density = "1.1 g/cm3", slope = "0 deg", fluidity = "500 1/Pa" }
  level.run = "1 mm"
  lu.assertNil(rw.sag_thickness(level))
  level.run, level.thickness = nil, "5 mm"
  lu.assertEquals(rw.sag_run(level):to "m", 0)
end

function TestFilms.test_refuses()
  local coat = { density = "1.1 g/cm3", slope = "120 deg", fluidity = "500 1/Pa",
    thickness = "0.1 mm" }
  refused_for("slope", { "120 deg", "0 to 90 deg" }, rw.sag_run, coat)
  coat.slope, coat.fluidity = "30 deg", "-1 1/Pa"
  local err = refused_for("fluidity", { "cure:fluidity" }, rw.sag_run, coat)
  lu.assertNotStrContains(tostring(err), "rw_cure")
  coat.fluidity = "500 Pa"
  refused_for("fluidity", { "pressure" }, rw.sag_run, coat)
  refused_for("below", { "upper edge" }, rw.sag_held,
    { density = "1.1 g/cm3", slope = "30 deg", below = "0 m", fluidity = "500 1/Pa" })
  refused_for("run", { "creep" }, rw.sag_slope,
    { density = "1.1 g/cm3", thickness = "0.1 mm", run = "0 mm", fluidity = "500 1/Pa" })
  refused_for("slope", { "level" }, rw.film_thickness,
    { density = "1.1 g/cm3", viscosity = "1 Pa s", slope = "0 deg", flux = "1 g/(m s)" })
end

TestLevelling = {}

-- Orchard 1962: time to 1/e of marks 2 mm apart on 0.1 mm, 1 Pa s, 0.035 N/m.
function TestLevelling.test_time()
  local marks = { viscosity = "1 Pa s", brush_marks = "2 mm", tension = "0.035 N/m",
    thickness = "0.1 mm", share = math.exp(-1) }
  local time, word = rw.levelling_time(marks)
  close(time:to "s", 0.87994, 1e-4)
  lu.assertNil(word)
  marks.tension = nil
  close(rw.levelling_time(marks):to "s", time:to "s")
  marks.thickness = "0.5 mm"
  local _, thick = rw.levelling_time(marks)
  lu.assertStrContains(thick, "thicker")
end

function TestLevelling.test_left_and_marks_are_one_law()
  local film = { thickness = "0.1 mm", fluidity = "20 1/Pa", brush_marks = "5 mm" }
  local left = rw.levelling_left(film)
  close(left, math.exp(-0.035 * 1e-12 * (2 * math.pi / 5e-3) ^ 4 / 3 * 20))
  film.brush_marks, film.share = nil, left
  close(rw.levelling_marks(film):to "mm", 5, 1e-9)
end

function TestLevelling.test_refuses()
  refused_for("brush_marks", { "crest to crest", "2000 mm" }, rw.levelling_left,
    { thickness = "0.1 mm", fluidity = "20 1/Pa", brush_marks = "2 m" })
  refused_for("share", { "less of the marks" }, rw.levelling_marks,
    { thickness = "0.1 mm", fluidity = "20 1/Pa", share = 1 })
  refused_for("tension", { "0.035" }, rw.levelling_left,
    { thickness = "0.1 mm", fluidity = "20 1/Pa", brush_marks = "2 mm", tension = "35 N/m" })
end

TestBubbles = {}

function TestBubbles.test_speed()
  local bubble = { density = "1.1 g/cm3", viscosity = "1 Pa s", radius = "50 um" }
  local speed, word = rw.bubble_speed(bubble)
  close(speed:to "m/s", 2 * 5e-5 ^ 2 * 1100 * G / 9)
  lu.assertNil(word)
  bubble.surface = "clean"
  close(rw.bubble_speed(bubble):to "m/s", 1.5 * speed:to "m/s")
  local _, fast = rw.bubble_speed { density = "1 g/cm3", viscosity = "1 mPa s", radius = "2 mm" }
  lu.assertStrContains(fast, "bubble")
end

function TestBubbles.test_rise_and_radius_are_one_law()
  local film = { density = "1.1 g/cm3", slope = "30 deg", thickness = "0.3 mm",
    fluidity = "200 1/Pa" }
  local radius = rw.bubble_radius(film)
  film.thickness, film.radius = nil, radius
  close(rw.bubble_rise(film):to "mm", 0.3)
  lu.assertNil(rw.bubble_radius { density = "1.1 g/cm3", slope = "90 deg", thickness = "0.3 mm",
    fluidity = "200 1/Pa" })
end

function TestBubbles.test_refuses()
  local bubble = { density = "1.1 g/cm3", viscosity = "1 Pa s", radius = "50 mm" }
  refused_for("radius", { "50 mm" }, rw.bubble_speed, bubble)
  bubble.radius, bubble.surface = "50 um", "dirty"
  refused_for("surface", {}, rw.bubble_speed, bubble)
end

TestFluidity = {}

local function cured(air, to)
  return slow():cure { hull = hall(air), from = laid, to = to or "2026-10-05 09:00",
    tolerance = 1e-9 }
end

-- At first nothing has cured, so it is time over viscosity; pieces add up to the whole.
function TestFluidity.test_pieces()
  local r, c = slow(), cured()
  local function part(from, to) return c:fluidity { from = from, to = to, tolerance = 1e-9 } end
  local start = part(laid, "2026-10-03 09:01").fluidity:to "1/Pa"
  close(start, 60 / r:viscosity({ cure = 0, temperature = "20 degC" }):to "Pa s", 0.01)
  local whole = part(nil, nil)
  lu.assertTrue(whole.complete)
  close(part(laid, "2026-10-03 11:00").fluidity:to "1/Pa"
    + part("2026-10-03 11:00", nil).fluidity:to "1/Pa", whole.fluidity:to "1/Pa", 1e-7)
  local short = cured("20 degC", "2026-10-03 11:00"):fluidity {}
  lu.assertFalse(short.complete)
  close(short.fluidity:to "1/Pa", part(laid, "2026-10-03 11:00").fluidity:to "1/Pa", 1e-6)
  lu.assertTrue(cured("30 degC"):fluidity({}).fluidity < whole.fluidity)
end

function TestFluidity.test_the_history_may_be_closed_meanwhile()
  local readings = {}
  for i, air in ipairs { 12, 25, 14, 28, 18 } do
    readings[i] = { at = ("2026-10-03 %02d:00"):format(8 + 2 * i), air = air .. " degC" }
  end
  local function run(close_it)
    local h = rw.history { readings = readings }
    local c = slow():cure { hull = h, from = "2026-10-03 10:30", to = "2026-10-03 17:30" }
    if close_it then
      local closed <close> = h -- luacheck: ignore
    end
    return c:fluidity({ tolerance = 1e-8 }).fluidity:to "1/Pa"
  end
  close(run(true), run(false), 1e-5)
end

function TestFluidity.test_refuses()
  local c = cured()
  refused_for("from", { "not followed" }, c.fluidity, c, { from = "2026-10-01 09:00" })
  refused_for("to", { "not followed" }, c.fluidity, c, { to = "2026-10-09 09:00" })
  refused_for("to", { "after from" }, c.fluidity, c,
    { from = "2026-10-03 11:00", to = "2026-10-03 10:00" })
  refused_for("tolerance", {}, c.fluidity, c, { tolerance = 1 })
end

TestEvents = {}

function TestEvents.test_each_kind()
  local r, c = slow(), cured()
  local function seconds(event) return rw.clock { at = c:when(event) } end
  local thick = c:at { at = c:when { viscosity = "8 Pa s" } }
  lu.assertAlmostEquals(r:viscosity({ cure = thick.cure, temperature = "20 degC" }):to "Pa s", 8,
    0.05) -- the clock is told to the minute
  local stiff = c:at { at = c:when { glass_above = "0 K" } }
  lu.assertAlmostEquals(stiff.glass:to "degC", 20, 0.1)
  lu.assertTrue(seconds { glass_above = "-10 K" } < seconds { glass_above = "0 K" })
  lu.assertTrue(seconds { viscosity = "8 Pa s" } < seconds { cure = r.thresholds.gel })
  lu.assertNil(c:when { glass_above = "60 K" })
  lu.assertEquals(c:when { cure = 0 }, laid)
  lu.assertEquals(c:when { viscosity = "1 mPa s" }, laid)
end

function TestEvents.test_refuses()
  local c = cured()
  refused_for("cure", { "glass_above", "viscosity" }, c.when, c, {})
  refused_for("viscosity", { "both given" }, c.when, c, { cure = 0.5, viscosity = "8 Pa s" })
  refused_for("viscosity", {}, c.when, c, { viscosity = "0 Pa s" })
  refused_for("viscosity", { "8" }, c.when, c, { viscosity = 8 })
  refused_for("glass_above", { "found 900 K", "-300 K to 300 K" }, c.when, c,
    { glass_above = "900 K" })
  refused_for("glass_above", { "difference" }, c.when, c, { glass_above = "20 degC" })
  refused_for("cure", { "0 is liquid" }, c.when, c, { cure = 70 })
end

TestCoat = {}

local function coat(more)
  local spec = { hull = hall(), laid = laid, to = "2026-10-05 09:00", thickness = "0.2 mm",
    slope = "30 deg" }
  for key, value in pairs(more or {}) do
    spec[key] = value or nil
  end
  return spec
end

-- What it says is what the single laws say of its fluidity.
function TestCoat.test_is_made_of_its_laws()
  local r = slow()
  local o = r:coat(coat())
  local F = r:cure({ hull = hall(), from = laid, to = "2026-10-05 09:00" }):fluidity({}).fluidity
  close(o.fluidity.value:to "1/Pa", F:to "1/Pa", 1e-4)
  local one = { density = r.density, slope = "30 deg", fluidity = o.fluidity.value }
  local function with(more)
    for key, value in pairs(one) do
      more[key] = value
    end
    return more
  end
  close(o.run.value:to "m", rw.sag_run(with { thickness = "0.2 mm" }):to "m", 1e-9)
  close(o.thickness.value:to "m", rw.sag_thickness(with { run = "50 mm" }):to "m", 1e-9)
  close(o.spread.value:to "kg/m2", o.thickness.value:to "m" * r.density:to "kg/m3", 1e-9)
  close(o.held.value:to "m",
    math.min(rw.sag_held(with { below = "0.3 m" }):to "m", 2e-4), 1e-9)
  close(o.bubble.value:to "m", rw.bubble_radius(with { thickness = "0.2 mm" }):to "m", 1e-9)
  for _, name in ipairs { "fluidity", "run", "thickness", "spread", "slope", "bubble" } do
    lu.assertTrue(o[name].low < o[name].value and o[name].value < o[name].high, name)
    lu.assertStrContains(o[name].because, "how fast")
  end
  local c = r:cure { hull = hall(), from = laid, to = "2026-10-05 09:00" }
  lu.assertEquals(o.gel, c:when { cure = r.thresholds.gel })
  lu.assertEquals(o.warnings, {})
end

function TestCoat.test_spread_is_thickness()
  local r = slow()
  local spread = rw.q "0.2 mm" * r.density
  local by_spread = r:coat(coat { thickness = false, spread = spread })
  local by_thickness = r:coat(coat())
  close(by_spread.run.value:to "m", by_thickness.run.value:to "m", 1e-9)
end

function TestCoat.test_later_and_warmer_flow_less()
  local r = slow()
  local late = r:coat(coat { mixed = laid, laid = "2026-10-03 10:30" })
  lu.assertTrue(late.fluidity.value < r:coat(coat()).fluidity.value)
  lu.assertEquals(late.gel, r:coat(coat()).gel)
  lu.assertTrue(r:coat(coat { hull = hall "30 degC" }).run.value < r:coat(coat()).run.value)
end

function TestCoat.test_what_has_no_end_is_nil()
  local r = slow()
  local level = r:coat(coat { slope = "0 deg" })
  lu.assertNil(level.thickness)
  lu.assertNil(level.spread)
  lu.assertEquals(level.run.value:to "m", 0)
  lu.assertNil(r:coat(coat { slope = "90 deg" }).bubble)
end

function TestCoat.test_warnings()
  local r = slow()
  local o = r:coat(coat { to = "2026-10-03 10:00", thickness = "1 mm" })
  lu.assertNil(o.gel)
  lu.assertEquals(#o.warnings, 2)
  lu.assertStrContains(o.warnings[1], "not gelled")
  lu.assertStrContains(o.warnings[2], "levels more slowly")
end

function TestCoat.test_refuses()
  local r = slow()
  local function no(argument, words, more) refused_for(argument, words, r.coat, r, coat(more)) end
  no("thickness", { "spread" }, { thickness = false })
  no("spread", { "both given" }, { spread = "220 g/m2" })
  no("spread", {}, { thickness = false, spread = "0 g/m2" })
  no("spread", { "mass per area" }, { thickness = false, spread = "220 g" })
  no("thickness", { "20000 mm" }, { thickness = "20 m" })
  no("slope", { "-5 deg" }, { slope = "-5 deg" })
  no("brush_marks", { "5000 mm" }, { brush_marks = "5 m" })
  no("tension", {}, { tension = "1 N/m" })
  no("laid", { "mixed" }, { mixed = "2026-10-03 10:00" })
  no("laid", { "before to" }, { to = laid })
  no("laid", { "gelled" }, { mixed = laid, laid = "2026-10-04 09:00" })
  no("temperature_sd", { "found 30 K", "0 K to 20 K" }, { temperature_sd = "30 K" })
  no("hull", { "reach from" }, { to = "2027-10-05 09:00" })
end

os.exit(lu.LuaUnit.run())
