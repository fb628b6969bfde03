-- SPDX-License-Identifier: GPL-3.0-or-later
-- Panels, strips and arches against series and beam formulas worked out here.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused_for = support.refused_for

-- luacheck: globals TestPanel TestStrip TestArch

local glass = rw.cloth { fibre = "e-glass", areal_mass = "203 g/m2", weave = "plain", hand = 0.42 }
local cedar = { wood = "western-redcedar", thickness = "6 mm" }
local skin = rw.laminate { plies = { { cloth = glass }, cedar, { cloth = glass } } }
local plank = rw.laminate { plies = { cedar } }

TestPanel = {}

local a, b = 0.9, 0.62

local function panel(more)
  local arguments = { length = "900 mm", width = "620 mm", shear = false }
  for k, v in pairs(more) do
    arguments[k] = v
  end
  return skin:panel(arguments)
end

-- Deflection of a resting orthotropic plate: a sine series, load p over (x, y), sides u and v.
local function navier(p, x, y, u, v)
  local D, sum = skin:matrices().D, 0
  local pi, sin = math.pi, math.sin
  for m = 1, 99 do
    for n = 1, 99 do
      local fm, fn = m * pi / a, n * pi / b
      local q = 16 * p / (m * n * pi ^ 2) * sin(fm * x) * sin(fm * u / 2) * sin(fn * y)
        * sin(fn * v / 2)
      local k = D[1] * fm ^ 4 + 2 * (D[2] + 2 * D[9]) * fm ^ 2 * fn ^ 2 + D[5] * fn ^ 4
      sum = sum + q / k * sin(fm * a / 2) * sin(fn * b / 2)
    end
  end
  return sum
end

function TestPanel.test_pressure()
  local p = panel { pressure = "500 Pa" }
  lu.assertAlmostEquals(p.deflection:si() / navier(500, a / 2, b / 2, a, b), 1, 1e-5)
  lu.assertAlmostEquals(p.deepest.x:si(), a / 2, 1e-3)
  lu.assertAlmostEquals(p.deepest.y:si(), b / 2, 1e-3)
  lu.assertAlmostEquals(p.slenderness, b / skin.thickness:si(), 1e-9)
  lu.assertAlmostEquals(p.depth, p.deflection:si() / skin.thickness:si(), 1e-9)
  lu.assertEquals(p.method, "series")
  lu.assertTrue(p.held:si() > 0 and p.held < p.deflection) -- a membrane helps
  local little = panel { pressure = "5 Pa" }
  lu.assertAlmostEquals(little.held:si() / little.deflection:si(), 1, 1e-3)
  lu.assertEquals(p.shear_share, 0)
  lu.assertEquals(panel { pressure = "200 Pa" }.warnings, {})
  lu.assertStrContains(tostring(p), p.deflection:text(3):match "%S+":sub(1, 3))
  -- Pushed from outside the inside is stretched, and alike on both faces of a balanced skin.
  local s = p.stretched
  lu.assertTrue(s.inner.y > 0 and s.moment.y:si() > 0)
  lu.assertAlmostEquals(s.outer.y, -s.inner.y, 1e-9)
  lu.assertTrue(math.abs(p.surface_strain) >= math.abs(s.inner.y) * 0.999)
end

function TestPanel.test_patch()
  local heel = panel { patch = { load = "785 N", size = "100 mm" } }
  lu.assertAlmostEquals(heel.deflection:si() / navier(78500, a / 2, b / 2, 0.1, 0.1), 1, 1e-3)
  lu.assertEquals(#heel.warnings, 1) -- more than half its thickness
  local round = panel { patch = { load = "785 N", diameter = "112.8379 mm" } }
  lu.assertAlmostEquals(round.deflection:si() / heel.deflection:si(), 1, 1e-6)
  local sides = panel { patch = { load = "785 N", length = "100 mm", width = "100 mm",
    x = "450 mm", y = "310 mm" } }
  lu.assertAlmostEquals(sides.deflection:si() / heel.deflection:si(), 1, 1e-9)
  local aside = panel { patch = { load = "785 N", size = "100 mm", x = "200 mm" } }
  lu.assertTrue(aside.deflection < heel.deflection)
  lu.assertTrue(aside.deepest.x < heel.deepest.x)
  -- Both loads add up.
  local both = panel { patch = { load = "785 N", size = "100 mm" }, pressure = "500 Pa" }
  lu.assertAlmostEquals(both:at { x = "450 mm", y = "310 mm" }.deflection:si(),
    heel:at { x = "450 mm", y = "310 mm" }.deflection:si()
    + panel { pressure = "500 Pa" }:at { x = "450 mm", y = "310 mm" }.deflection:si(), 1e-8)
end

function TestPanel.test_edges()
  local function deflection(more)
    more.pressure = "500 Pa"
    return panel(more).deflection
  end
  local resting, clamped = deflection {}, deflection { edges = "clamped" }
  local sides, ends = deflection { sides = "clamped" }, deflection { ends = "clamped" }
  lu.assertTrue(clamped < ends and ends < resting)
  lu.assertTrue(clamped < sides and sides < resting)
  lu.assertTrue(resting > 3 * clamped)
  lu.assertAlmostEquals(deflection { edges = "clamped", ends = "resting" }:si() / sides:si(), 1,
    1e-9)
  local at = panel { edges = "clamped", pressure = "500 Pa" }:at { x = "450 mm", y = "0 m" }
  lu.assertAlmostEquals(at.deflection:si(), 0, 1e-12)
  lu.assertTrue(at.moment.y:si() < 0)
end

function TestPanel.test_shear()
  local with = panel { pressure = "500 Pa", shear = true }
  local without = panel { pressure = "500 Pa" }
  lu.assertTrue(with.shear_share > 0.005 and with.shear_share < 0.2)
  lu.assertTrue(with.deflection > without.deflection)
  lu.assertTrue(math.abs(with:at { x = "0 m", y = "310 mm" }.Qx:si()) > 10)
end

-- The factor is that of the moments there; wood across its grain goes first in a thin skin.
function TestPanel.test_failure()
  local p = panel { pressure = "500 Pa" }
  local f = p.failure
  local m = p:at { x = f.x, y = f.y }.moment
  local there = skin:first_failure { Mx = m.x, My = m.y, Mxy = m.xy }
  lu.assertAlmostEquals(f.factor, there.factor, 1e-3 * f.factor)
  lu.assertEquals({ f.ply, f.face, f.name, f.mode },
    { there.ply, there.face, there.name, there.mode })
  lu.assertTrue(panel { pressure = "1 kPa" }.failure.factor < 0.51 * f.factor)
  local hill = panel { pressure = "500 Pa", criterion = "tsai_hill" }.failure
  lu.assertTrue(hill.factor <= f.factor)
end

-- A panel of one material: what bends it is as uncertain as its modulus, and first damage as one
-- strength; the interval is that of a lognormal.
function TestPanel.test_spread_of_one_material()
  local wood = rw.laminate { plies = { { wood = "western-redcedar", thickness = "6 mm",
    modulus = { value = "8 GPa", sd = "1.2 GPa" } } } }
  local p = wood:panel { length = "900 mm", width = "620 mm", pressure = "200 Pa" }
  local s = p:spread {}
  local function wide(sd)
    return math.exp(1.6448536 * math.sqrt(math.log(1 + sd ^ 2)))
  end
  lu.assertAlmostEquals(s.deflection.value:si() / p.deflection:si(), 1, 1e-9)
  lu.assertAlmostEquals(s.deflection.high:si() / s.deflection.value:si(), wide(0.15), 1e-6)
  lu.assertAlmostEquals(s.deflection.value:si() / s.deflection.low:si(), wide(0.15), 1e-6)
  lu.assertEquals(s.deflection.because, "stiffness of the wood")
  lu.assertAlmostEquals(s.inner_strain.value, math.abs(p.surface_strain), 1e-6)
  lu.assertAlmostEquals(s.inner_strain.high / s.inner_strain.value, wide(0.15), 1e-6)
  lu.assertAlmostEquals(s.held.value:si(), p.held:si(), 1e-9)
  -- Pushed from outside it tears across the grain inside: 25 % of scatter, by 1000 trials.
  lu.assertEquals(p.failure.mode, "pulled apart across its grain")
  lu.assertEquals(s.factor.value, p.failure.factor)
  lu.assertAlmostEquals(s.factor.high / s.factor.value, wide(0.25), 0.02 * wide(0.25))
  lu.assertEquals(s.factor.because, "strength of the wood")
  lu.assertStrContains(tostring(s.factor), "most of the spread: strength of the wood")
  lu.assertTrue(s.other == nil or s.other.share < 0.01)
end

function TestPanel.test_spread_from_inside()
  local p = panel { patch = { load = "-785 N", diameter = "60 mm" }, criterion = "tsai_wu" }
  local s = p:spread {}
  for _, name in ipairs { "deflection", "inner_strain" } do
    local r = s[name]
    lu.assertTrue(r.low < r.value and r.value < r.high)
    local back = -r
    lu.assertTrue(back.low < back.value and back.value < back.high)
    lu.assertTrue(-back.low == r.high and -back.high == r.low and back.because == r.because)
  end
  lu.assertTrue(s.outer_strain.low > 0)
  lu.assertAlmostEquals(s.factor.value, p.failure.factor, 1e-9 * s.factor.value)
  lu.assertTrue(s.factor.low < s.factor.value)
  -- Cloth's strengths are good to a factor of two: what it gives way by is no surer than that.
  local cloth = rw.laminate { plies = { { cloth = glass }, { cloth = glass } } }
  local only = cloth:panel { length = "100 mm", width = "100 mm", pressure = "500 Pa" }:spread {}
  lu.assertAlmostEquals(only.factor.high / only.factor.value, 2, 0.05)
  lu.assertEquals(only.factor.because, "strength of the cloth")
end

-- Two woods scatter by the greater of their spreads; plywood's veneers are wrong together.
function TestPanel.test_spread_of_woods()
  local function factor(list)
    local p = rw.laminate { plies = list }:panel { length = "600 mm", width = "400 mm",
      pressure = "200 Pa" }
    return p:spread {}
  end
  local s = factor { { wood = "okoume", thickness = "6 mm", veneers = 3 } }
  lu.assertAlmostEquals(s.deflection.high:si() / s.deflection.value:si(),
    math.exp(1.6448536 * math.sqrt(math.log(1 + (1.4 / 8.679) ^ 2))), 1e-6)
  -- Two woods scatter as the wider one, in moduli as in each strength.
  local function widths(...)
    local two = factor { ... }
    return two.deflection.high:si() / two.deflection.value:si(), two.factor.high / two.factor.low
  end
  local okoume, paulownia = { wood = "okoume", thickness = "3 mm" },
    { wood = "paulownia", thickness = "3 mm" }
  local bends, breaks = widths(okoume, paulownia)
  local okoume_bends, okoume_breaks = widths(okoume, okoume)
  local paulownia_bends, paulownia_breaks = widths(paulownia, paulownia)
  lu.assertAlmostEquals(bends, math.max(okoume_bends, paulownia_bends), 1e-6)
  lu.assertTrue(breaks > 0.98 * math.max(okoume_breaks, paulownia_breaks))
end

function TestPanel.test_thin_theory_warns()
  local short = skin:panel { length = "100 mm", width = "100 mm", pressure = "500 Pa",
    shear = false }
  lu.assertEquals(#short.warnings, 1)
end

function TestPanel.test_refusals()
  local function no(argument, words, more)
    refused_for(argument, words, skin.panel, skin, more)
  end
  local function sized(more)
    more.length, more.width = more.length or "900 mm", more.width or "620 mm"
    return more
  end
  no("pressure", { "zero" }, sized {})
  no("length", { "above zero" }, sized { length = "0 mm", pressure = "1 Pa" })
  no("width", { "strip across" }, sized { width = "50 mm", pressure = "1 Pa" })
  no("patch.size", { "diameter" }, sized { patch = { load = "785 N" } })
  no("patch.size", {}, sized { patch = { load = "785 N", size = "60 mm", diameter = "60 mm" } })
  no("patch.size", {}, sized { patch = { load = "785 N", length = "60 mm" } })
  no("patch.size", { "1 mm" }, sized { patch = { load = "785 N", size = "1 mm" } })
  -- A round place is told as its diameter, and keeps half of it from the edges.
  local function round(diameter, x)
    return sized { patch = { load = "785 N", diameter = diameter, x = x } }
  end
  no("patch.diameter", { "2 m", "620 mm" }, round "2 m")
  no("patch.diameter", { "650 mm", "620 mm" }, round "650 mm") -- the square of its area fits
  no("patch.diameter", { "1 mm", "6.996 mm", "620 mm" }, round "1 mm")
  no("patch.x", { "28 mm", "30 mm" }, round("60 mm", "28 mm"))
  lu.assertNotNil(skin:panel(round("60 mm", "30 mm")))
  no("patch.size", { "700 mm", "620 mm" }, sized { patch = { load = "785 N", size = "700 mm" } })
  no("width", {}, sized { width = "-1 m", patch = { load = "785 N", diameter = "60 mm" } })
  no("patch.width", {}, sized { patch = { load = "785 N", length = "1 cm", width = "1 m" } })
  no("patch.x", {}, sized { patch = { load = "785 N", size = "60 mm", x = "1 cm" } })
  no("patch.load", { "force" }, sized { patch = { load = "80 kg", size = "60 mm" } })
  no("edges", { "clamped" }, sized { edges = "clampd", pressure = "1 Pa" })
  local p = panel { pressure = "1 Pa" }
  refused_for("x", {}, p.at, p, { x = "1 m", y = "0 m" })
end

TestStrip = {}

-- Beam formulas with E I of the plank: 5 p L^4/384, p L^4/384, P L^3/3, P L^3/192.
function TestStrip.test_beams()
  local EI, L = plank.bend_along.value:si(), 0.5
  local function deflection(more)
    more.span = "500 mm"
    return plank:strip(more).deflection:si()
  end
  lu.assertAlmostEquals(deflection { pressure = "100 Pa" } * EI / (5 * 100 * L ^ 4 / 384), 1, 1e-9)
  lu.assertAlmostEquals(deflection { pressure = "100 Pa", ends = "clamped" } * EI
    / (100 * L ^ 4 / 384), 1, 1e-9)
  lu.assertAlmostEquals(deflection { load = "5 N/m", ends = "cantilever" } * EI / (5 * L ^ 3 / 3),
    1, 1e-9)
  lu.assertAlmostEquals(deflection { load = "5 N/m", ends = "clamped" } * EI / (5 * L ^ 3 / 192),
    1, 1e-9)
  lu.assertTrue(deflection { load = "5 N/m", patch = "100 mm" } < deflection { load = "5 N/m" })
  lu.assertTrue(deflection { load = "5 N/m", x = "100 mm" } < deflection { load = "5 N/m" })
  lu.assertTrue(deflection { load = "5 N/m", wide = true } < deflection { load = "5 N/m" })
end

function TestStrip.test_what_it_tells()
  local s = plank:strip { span = "500 mm", load = "100 N/m" }
  lu.assertAlmostEquals(s.moment:si(), 100 * 0.5 / 4, 1e-9)
  lu.assertAlmostEquals(s.moment_at:si(), 0.25, 1e-9)
  lu.assertAlmostEquals(s.at:si(), 0.25, 1e-9)
  lu.assertAlmostEquals(s.first_reaction:si() + s.second_reaction:si(), 100, 1e-9)
  lu.assertAlmostEquals(s.inner.x, 12.5 * 0.003 / plank.bend_along.value:si(), 1e-9)
  lu.assertAlmostEquals(s.outer.x, -s.inner.x, 1e-12)
  lu.assertEquals(math.abs(s.surface_strain), math.abs(s.inner.x))
  local first = plank:first_failure { Mx = "12.5 N" }
  lu.assertAlmostEquals(s.failure.factor, first.factor, 1e-6 * first.factor)
  lu.assertEquals(s.failure.face, first.face)
  local sheared = plank:strip { span = "500 mm", load = "100 N/m", shear = true }
  lu.assertTrue(sheared.deflection > s.deflection and sheared.shear_share > 0)
end

function TestStrip.test_spread()
  local more = { span = "500 mm", load = "100 N/m" }
  lu.assertNil(plank:strip(more).spread)
  more.spread = true
  local s = plank:strip(more)
  local d = s.spread.deflection
  lu.assertEquals(d.value, s.deflection)
  lu.assertAlmostEquals(d.high:si() / d.value:si(), d.value:si() / d.low:si(), 1e-9)
  lu.assertAlmostEquals(s.spread.strain.value, s.surface_strain, 1e-12)
  lu.assertAlmostEquals(s.spread.factor.value, s.failure.factor, 1e-9 * s.failure.factor)
  lu.assertEquals(s.spread.factor.because, "strength of the wood")
  more.shear = true
  lu.assertTrue(plank:strip(more).spread.deflection.value > d.value)
end

function TestStrip.test_refusals()
  refused_for("patch", {}, plank.strip, plank,
    { span = "500 mm", load = "1 N/m", patch = "600 mm" })
  refused_for("x", {}, plank.strip, plank, { span = "500 mm", load = "1 N/m", x = "600 mm" })
end

-- Where it is asked for: the values of a beam, and those of the result at its own place.
function TestStrip.test_places()
  local strip = { span = "500 mm", load = "10 N/m", places = { "0 mm", "125 mm", "250 mm",
    "500 mm" } }
  local s = plank:strip(strip)
  lu.assertEquals(#s.places, 4)
  for i, x in ipairs { 0, 0.125, 0.25, 0.5 } do
    lu.assertAlmostEquals(s.places[i].x:si(), x, 1e-12)
  end
  lu.assertEquals(s.places[1].deflection:si(), 0)
  lu.assertEquals(s.places[4].deflection:si(), 0)
  lu.assertAlmostEquals(s.places[2].deflection / s.deflection, 11 / 16, 1e-9)
  lu.assertAlmostEquals(s.places[3].deflection / s.deflection, 1, 1e-9)
  lu.assertAlmostEquals(s.places[2].moment:si(), 10 * 0.125 / 2, 1e-9)
  lu.assertAlmostEquals(s.places[3].moment / s.moment, 1, 1e-9)
  local free = plank:strip { span = "500 mm", load = "1 N/m", ends = "cantilever",
    places = { "500 mm" } }
  lu.assertAlmostEquals(free.places[1].deflection / free.deflection, 1, 1e-9)
  lu.assertAlmostEquals(free.places[1].moment:si(), 0, 1e-9)
  lu.assertNil(plank:strip { span = "500 mm", load = "10 N/m" }.places)
  local function no(argument, words, places)
    refused_for(argument, words, plank.strip, plank,
      { span = "500 mm", load = "10 N/m", places = places })
  end
  no("places[2]", { "600 mm", "500 mm" }, { "100 mm", "600 mm" })
  no("places[1]", { "-1 mm" }, { "-1 mm" })
  no("places[1]", { "unit" }, { 0.1 })
  no("places[1]", { "length" }, { "1 kg" })
  no("places", {}, "100 mm")
end

TestArch = {}

-- Flat it is a strip that cannot curl; a little rise stiffens it many times, by its thrust.
function TestArch.test_rise()
  local flat = plank:strip { span = "500 mm", pressure = "300 Pa", wide = true }
  local arch = plank:arch { span = "500 mm", rise = "30 mm", pressure = "300 Pa" }
  lu.assertAlmostEquals(arch.flat:si() / flat.deflection:si(), 1, 1e-6)
  lu.assertTrue(arch.deflection < 0.05 * arch.flat)
  -- A parabola bears an even load by thrust alone: p L^2/(8 f).
  lu.assertAlmostEquals(arch.thrust:si() / (300 * 0.5 ^ 2 / (8 * 0.03)), 1, 0.02)
  lu.assertTrue(arch.snap > 1 and arch.failure.factor > 1)
  lu.assertEquals(arch.warnings, {})
  lu.assertEquals(arch.end_moment:si(), 0)
  local near = plank:arch { span = "500 mm", rise = "30 mm",
    pressure = rw.q(300 * arch.snap * 0.9, "Pa") }
  lu.assertEquals(#near.warnings, 1)
  lu.assertAlmostEquals(near.snap, 1 / 0.9, 1e-3)
  local fixed = plank:arch { span = "500 mm", rise = "30 mm", crown = "50 N/m", ends = "fixed" }
  lu.assertTrue(math.abs(fixed.end_moment:si()) > 0)
end

function TestArch.test_spread()
  local arch = plank:arch { span = "500 mm", rise = "30 mm", pressure = "300 Pa", spread = true }
  lu.assertEquals(arch.spread.deflection.value, arch.deflection)
  lu.assertTrue(arch.spread.deflection.low < arch.deflection)
  lu.assertTrue(arch.spread.deflection.low:si() > 0)
  lu.assertAlmostEquals(arch.spread.factor.value, arch.failure.factor, 1e-9 * arch.failure.factor)
end

function TestArch.test_refusals()
  refused_for("rise", {}, plank.arch, plank,
    { span = "500 mm", rise = "100 mm", pressure = "1 Pa" })
  refused_for("span", {}, plank.arch, plank, { span = "0 m", rise = "1 mm", pressure = "1 Pa" })
  refused_for("pressure", { "zero" }, plank.arch, plank, { span = "1 m", rise = "50 mm" })
end

os.exit(lu.LuaUnit.run())
