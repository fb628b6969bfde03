-- SPDX-License-Identifier: GPL-3.0-or-later
-- Planks sealed on one face, laps, scarfs, patches and doublings.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused_for = support.refused_for

-- luacheck: globals TestSealed TestLap TestPatch TestDoubling

local glass = { cloth = rw.cloth { fibre = "e-glass", areal_mass = "203 g/m2", weave = "plain",
  hand = 0.42 } }
local cedar = { wood = "western-redcedar", thickness = "6 mm" }

local function laminate(...) return rw.laminate { plies = { ... } } end

local skin, layer = laminate(glass, cedar, glass), laminate(glass)

TestSealed = {}

-- Wood alone under a straight gradient bends freely: swelling times change over thickness.
function TestSealed.test_plank()
  local plank = laminate(cedar)
  local r = rw.sealed_plank { laminate = plank, open = 0.02, profile = 1, girth = "60 mm" }
  local moves = plank:locked_in { moisture = 0.14 }.strain.y
  lu.assertAlmostEquals(r.curvature.y.value:si(), moves / 0.006, 1e-6)
  lu.assertAlmostEquals(r.bow.value:si(), r.curvature.y.value:si() * 0.06 ^ 2 / 8, 1e-9)
  lu.assertTrue(r.curvature.y.low < r.curvature.y.value)
  lu.assertTrue(r.curvature.y.high > r.curvature.y.value)
  lu.assertEquals(r.warnings, {})
  -- Open outside it bulges to the outside, and drying turns it round.
  local outside = rw.sealed_plank { laminate = plank, open = 0.02, profile = 1, girth = "60 mm",
    open_face = "outer" }
  lu.assertAlmostEquals(outside.curvature.y.value:si(), -r.curvature.y.value:si(), 1e-9)
  local dry = rw.sealed_plank { laminate = plank, open = -0.02, girth = "60 mm" }
  lu.assertTrue(dry.curvature.y.value:si() < 0)
end

-- Cloth on the sealed face holds it back; a spread of the moisture widens the interval.
function TestSealed.test_skin()
  local one = laminate(glass, cedar)
  local function curl(open)
    return rw.sealed_plank { laminate = one, open = open, girth = "0.2 m", radius = "0.5 m" }
  end
  local sure, unsure = curl(0.04), curl { value = 0.04, sd = 0.01 }
  lu.assertTrue(unsure.curvature.y.sd > 1.3 * sure.curvature.y.sd)
  lu.assertAlmostEquals(unsure.bow.value:si(), sure.bow.value:si(), 1e-12)
  lu.assertTrue(sure.opens.low < sure.opens.value and sure.opens.value < sure.opens.high)
  local wide = rw.sealed_plank { laminate = one, open = 0.06, girth = "1.2 m" }
  lu.assertEquals(#wide.warnings, 1)
end

function TestSealed.test_refusals()
  local function no(argument, more)
    more.laminate, more.girth = more.laminate or skin, more.girth or "1 m"
    refused_for(argument, {}, rw.sealed_plank, more)
  end
  no("laminate", { laminate = layer, open = 0.05 })
  local _, wrong = pcall(rw.sealed_plank, { laminate = skin, open = 6, girth = "1 m" })
  lu.assertEquals(wrong.argument, "open")
  lu.assertNil(tostring(wrong):find("0 open 2", 1, true))
  lu.assertStrContains(tostring(wrong), "found 6,")
  no("sealed", { open = 0, sealed = 6 })
  no("open", { open = 0.5 })
  no("open", { open = 0 })
  no("open", { open = -0.2 })
  no("profile", { open = 0.05, profile = 20 })
  no("girth", { open = 0.05, girth = "0 m" })
  no("radius", { open = 0.05, radius = "0.1 m" })
end

TestLap = {}

local function bond(more)
  local t = { force = "3 kN/m", first = layer, second = layer, strength = "20 MPa" }
  for k, v in pairs(more) do
    t[k] = v
  end
  return t
end

-- Volkersen for two alike: peak over mean is (k l/2) coth(k l/2), k^2 = 2 G/(t E A).
function TestLap.test_alike()
  local r = rw.lap(bond { length = "5 mm" })
  local EA = layer.Ex:si() * layer.thickness:si()
  local half = math.sqrt(2 * 1e9 / (0.2e-3 * EA)) * 0.005 / 2
  lu.assertAlmostEquals(r.average:si(), 3000 / 0.005, 1e-6)
  lu.assertAlmostEquals(r.peak:si() / r.average:si(),
    half * (math.exp(half) + math.exp(-half)) / (math.exp(half) - math.exp(-half)), 1e-9)
  lu.assertAlmostEquals(r.first_end:si(), r.second_end:si(), 1e-3)
end

function TestLap.test_length()
  local r = rw.lap_for(bond { factor = 2 })
  lu.assertAlmostEquals(r.by_average.average:to "MPa", 10, 1e-6)
  lu.assertAlmostEquals(r.by_peak.peak:to "MPa", 10, 1e-6)
  lu.assertTrue(r.by_peak.length >= r.by_average.length)
  lu.assertNil(r.why)
  local hopeless = rw.lap_for(bond { force = "30 kN/m", factor = 2 })
  lu.assertNil(hopeless.by_peak)
  lu.assertStrContains(hopeless.why, "taper")
  lu.assertTrue(hopeless.endless.peak > rw.q "10 MPa")
end

-- n/(1 + n^2) of the stress is what the glue may bear.
function TestLap.test_scarf()
  local s = rw.scarf { stress = "50 MPa", strength = "15 MPa", thickness = "6 mm", factor = 1.5 }
  lu.assertAlmostEquals(50 * s.slope / (1 + s.slope ^ 2), 10, 1e-9)
  lu.assertAlmostEquals(s.length:to "mm", 6 * s.slope, 1e-9)
  lu.assertEquals(rw.scarf { stress = "5 MPa", strength = "15 MPa", thickness = "6 mm",
    factor = 1 }.slope, 1)
end

function TestLap.test_refusals()
  refused_for("length", {}, rw.lap, bond { length = "0 mm" })
  refused_for("glue", {}, rw.lap, bond { length = "5 mm", glue = "0 mm" })
  refused_for("shear_modulus", {}, rw.lap, bond { length = "5 mm", shear_modulus = "0 GPa" })
  refused_for("force", {}, rw.lap, bond { length = "5 mm", force = "0 N/m" })
  refused_for("factor", {}, rw.lap_for, bond { factor = 0.5 })
  refused_for("strength", {}, rw.scarf,
    { stress = "50 MPa", strength = "0 MPa", thickness = "6 mm", factor = 1 })
end

TestPatch = {}

-- The outer cloth is gone: one layer of the same is what was there.
function TestPatch.test_same_layer()
  local r = rw.patch { sound = skin, left = laminate(cedar, glass), layer = layer }
  lu.assertEquals({ r.for_stiffness, r.for_strength }, { 1, 1 })
  for _, key in ipairs { "bend_along", "bend_across", "moment_along", "moment_across",
    "pull_along", "pull_across" } do
    lu.assertTrue(r.damaged[key] < 0.95, key)
    lu.assertAlmostEquals(r.mended[key], 1, 1e-6)
  end
  lu.assertAlmostEquals(r.added_mass:si(), layer.areal_mass:si(), 1e-9)
  local more = rw.patch { sound = skin, left = laminate(cedar, glass), layer = layer,
    share = 1.5, most = 1 }
  lu.assertNil(more.for_strength)
  lu.assertStrContains(more.why, "don't bring")
end

function TestPatch.test_refusals()
  local function no(argument, more)
    more.sound, more.left = skin, laminate(cedar, glass)
    more.layer = more.layer or layer
    refused_for(argument, {}, rw.patch, more)
  end
  no("layer", { layer = skin })
  no("share", { share = 5 })
  no("most", { most = 40 })
end

TestDoubling = {}

-- Stiffness and mass are those of the whole; the strain is lower under it than beside it.
function TestDoubling.test_outside()
  local extra = laminate(glass, cedar)
  local d = rw.doubling { plain = skin, extra = extra, load = { Mx = "20 N" } }
  local whole = laminate(glass, cedar, glass, cedar, glass)
  lu.assertAlmostEquals(d.stiffer_along,
    whole.bend_along.value:si() / skin.bend_along.value:si(), 1e-9)
  lu.assertAlmostEquals(d.added_mass:si(), extra.areal_mass:si(), 1e-9)
  local beside = skin:strain { Mx = "20 N" }
  local half = skin.thickness:si() / 2
  lu.assertAlmostEquals(d.beside.inner, beside.ex + half * beside.kx, 1e-12)
  lu.assertAlmostEquals(d.jump.inner, d.beside.inner / d.under.inner, 1e-9)
  lu.assertTrue(d.jump.inner > 1 and d.reach:si() > 0)
  -- Inside, the list is turned round by the listing itself.
  local inner = rw.doubling { plain = skin, extra = laminate(cedar, glass), face = "inner",
    load = { Mx = "-20 N" } }
  lu.assertAlmostEquals(inner.stiffer_along, d.stiffer_along, 1e-9)
  lu.assertAlmostEquals(inner.force:si(), d.force:si(), 1e-6)
end

function TestDoubling.test_refusals()
  refused_for("glue", {}, rw.doubling,
    { plain = skin, extra = layer, load = { Mx = "1 N" }, glue = "0 mm" })
  refused_for("load", { "zero" }, rw.doubling, { plain = skin, extra = layer, load = {} })
end

os.exit(lu.LuaUnit.run())
