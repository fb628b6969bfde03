-- SPDX-License-Identifier: GPL-3.0-or-later
-- Stacks of wood and cloth, against beam formulas worked by hand.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused_for = support.refused_for

-- luacheck: globals TestWoodAlone TestSandwich TestLaminate

local function properties(kind, name)
  for _, material in ipairs(rw.materials { kind = kind }) do
    if material.name == name then
      return material.properties
    end
  end
end

local cedar = properties("wood", "western-redcedar")
local glass = rw.cloth { fibre = "e-glass", areal_mass = "203 g/m2", weave = "plain", hand = 0.42 }

local function wood(thickness, angle)
  return { wood = "western-redcedar", thickness = thickness, angle = angle }
end

TestWoodAlone = {}

-- E h^3/12, with E from the tables; two halves make the whole.
function TestWoodAlone.test_bending_stiffness()
  local E, h = cedar.EL.value:si(), 0.006
  local one = rw.laminate { plies = { wood "6 mm" } }
  local two = rw.laminate { plies = { wood "3 mm", wood "3 mm" } }
  lu.assertAlmostEquals(one.bend_along.value:to "N m", E * h ^ 3 / 12, 1e-9)
  lu.assertAlmostEquals(two.bend_along.value:to "N m", E * h ^ 3 / 12, 1e-9)
  lu.assertAlmostEquals(one.bend_across.value:to "N m", cedar.ET_EL.value * E * h ^ 3 / 12, 1e-9)
  lu.assertAlmostEquals(one.Ex:si() / E, 1, 1e-12)
  lu.assertAlmostEquals(one.nuxy, cedar.nuLT.value, 1e-12)
  local turned = rw.laminate { plies = { wood("6 mm", "90 deg") } }
  lu.assertAlmostEquals(turned.bend_across.value:to "N m", E * h ^ 3 / 12, 1e-6)
end

-- All of the spread is the wood's, in proportion.
function TestWoodAlone.test_spread()
  local bend = rw.laminate { plies = { wood "6 mm" } }.bend_along
  local share = cedar.EL.sd:si() / cedar.EL.value:si()
  lu.assertAlmostEquals(bend.sd:si() / bend.value:si(), share, 1e-9)
  lu.assertEquals(bend.because, "wood")
end

function TestWoodAlone.test_mass()
  local l = rw.laminate { plies = { wood "6 mm" } }
  lu.assertAlmostEquals(l.areal_mass:to "kg/m2", 370 * 0.006, 1e-9)
  lu.assertAlmostEquals(l.thickness:to "mm", 6, 1e-12)
end

-- A b h strip under a line load: P L^3/(48 E I), I = h^3/12 per width.
function TestWoodAlone.test_strip()
  local l = rw.laminate { plies = { wood "6 mm" } }
  local bent = l:strip { span = "500 mm", load = "100 N/m" }
  local stiffness = cedar.EL.value:si() * 0.006 ^ 3 / 12
  lu.assertAlmostEquals(bent.deflection:to "m", 100 * 0.5 ^ 3 / (48 * stiffness), 1e-12)
  lu.assertEquals(bent.warnings, {})
  local short = l:strip { span = "50 mm", load = "100 N/m" }
  lu.assertEquals(#short.warnings, 1)
  lu.assertStrContains(short.warnings[1], "shear")
end

-- Pull: strength times thickness. Bending: crushed before it tears, on the side that is pressed.
function TestWoodAlone.test_first_failure()
  local l = rw.laminate { plies = { wood "6 mm" } }
  local pulled = l:first_failure { Nx = "1000 N/m" }
  lu.assertAlmostEquals(pulled.factor, cedar.MOR.value:si() * 0.006 / 1000, 1e-9)
  lu.assertStrContains(pulled.mode, "pulled apart along its grain")
  local bent = l:first_failure { Mx = "10 N" }
  lu.assertAlmostEquals(bent.factor, cedar.comp_par.value:si() * 0.006 ^ 2 / 6 / 10, 1e-9)
  lu.assertEquals(bent.ply, 1)
  lu.assertEquals(bent.face, "outer")
  lu.assertEquals(bent.name, "western-redcedar")
  lu.assertEquals(bent.mode, "crushed along its grain")
  lu.assertEquals(l:first_failure { Mx = "-10 N" }.face, "inner")
  local quadratic = l:first_failure { Nx = "1000 N/m", criterion = "tsai_wu" }
  lu.assertAlmostEquals(quadratic.factor, pulled.factor, 1e-6 * pulled.factor)
end

-- The ways of a woven cloth are its yarns; of one that is not, its fibre.
function TestWoodAlone.test_modes_are_named_by_what_the_ply_is()
  local function mode(weave, load)
    local ply = { cloth = rw.cloth { fibre = "e-glass", areal_mass = "300 g/m2", weave = weave } }
    return rw.laminate { plies = { ply } }:first_failure(load).mode
  end
  lu.assertEquals(mode("twill", { Nx = "1 N/m" }), "pulled apart along its warp")
  lu.assertEquals(mode("plain", { Ny = "-1 N/m" }), "crushed along its weft")
  lu.assertEquals(mode("unidirectional", { Nx = "1 N/m" }), "pulled apart along its fibre")
  lu.assertEquals(mode("unidirectional", { Ny = "1 N/m" }), "pulled apart across its fibre")
  lu.assertEquals(mode("plain", { Nxy = "1 N/m" }), "sheared")
end

TestSandwich = {}

local function sandwich()
  return rw.laminate { plies = { { cloth = glass }, wood "6 mm", { cloth = glass } } }
end

-- Core E h^3/12, skins E t (((h + t)/2)^2 + t^2/12) each. The plates' different Poisson ratios
-- hold each other back by a thousandth here, which the beam formula leaves out.
function TestSandwich.test_bending_stiffness()
  local skin = rw.laminate { plies = { { cloth = glass } } }
  local Ew, Es = cedar.EL.value:si(), skin.Ex:si()
  local h, t = 0.006, 0.203 / 2540 / 0.42
  local beam = Ew * h ^ 3 / 12 + 2 * Es * t * (((h + t) / 2) ^ 2 + t ^ 2 / 12)
  lu.assertAlmostEquals(sandwich().bend_along.value:to "N m" / beam, 1, 0.002)
  lu.assertAlmostEquals(skin.thickness:si(), t, 1e-12)
end

-- Cloth and its resin: (2540 0.42 + density 0.58) times thickness.
function TestSandwich.test_mass_and_plies()
  local l = sandwich()
  local matrix = properties("resin", "cured-epoxy").density.value:si()
  local t = 0.203 / 2540 / 0.42
  local skin = (2540 * 0.42 + matrix * 0.58) * t
  lu.assertAlmostEquals(l.areal_mass:to "kg/m2", 370 * 0.006 + 2 * skin, 1e-9)
  lu.assertEquals(#l.skins, 3)
  lu.assertEquals(l.skins[1].name, "e-glass plain 203 g/m2")
  lu.assertEquals(l.skins[2].name, "western-redcedar")
  lu.assertAlmostEquals(l.skins[3].areal_mass:to "kg/m2", skin, 1e-9)
  lu.assertAlmostEquals(l.skins[2].thickness:to "mm", 6, 1e-12)
  lu.assertEquals(tostring(l), ("laminate of 3 plies, %s, %s"):format(l.thickness, l.areal_mass))
end

-- The same on both sides: no coupling, and strains as the beam has them.
function TestSandwich.test_matrices_and_strain()
  local l = sandwich()
  local m = l:matrices()
  lu.assertEquals(#m.A, 9)
  for i = 1, 9 do
    lu.assertAlmostEquals(m.B[i], 0, 1e-6 * m.A[1] * 0.006)
  end
  lu.assertAlmostEquals(m.D[2], m.D[4], 1e-9)
  local e = l:strain { Mx = "10 N" }
  lu.assertAlmostEquals(e.kx, 10 / l.bend_along.value:si(), 1e-12)
  lu.assertAlmostEquals(e.ex, 0, 1e-12)
  lu.assertAlmostEquals(l:strain { Nx = "1 kN/m" }.ex,
    1000 / (l.Ex:si() * l.thickness:si()), 1e-12)
end

-- A moment above zero stretches the inside: cloth on one side only is stronger pulled there.
function TestSandwich.test_outside_comes_first()
  local l = rw.laminate { plies = { { cloth = glass }, wood "6 mm" } }
  local e = l:strain { Mx = "10 N" }
  lu.assertTrue(e.ex > 0) -- the middle lies on the wood's side of the neutral plane
  lu.assertTrue(e.kx > 0)
  local failure = l:first_failure { Mx = "-10 N" }
  lu.assertEquals(failure.face, "inner")
  lu.assertEquals(failure.ply, 2)
end

function TestSandwich.test_because()
  lu.assertEquals(sandwich().bend_along.because, "wood")
  lu.assertEquals(rw.laminate { plies = { { cloth = glass } } }.bend_along.because, "cloth")
end

TestLaminate = {}

function TestLaminate.test_layup_and_share()
  local function thickness(ply)
    ply.cloth = rw.cloth { name = "glass-203-plain", hand = 0.42, bagged = 0.55 }
    return rw.laminate { plies = { ply } }.thickness:to "mm"
  end
  lu.assertAlmostEquals(thickness {}, 203 / 2540 / 0.42, 1e-12)
  lu.assertAlmostEquals(thickness { layup = "bagged" }, 203 / 2540 / 0.55, 1e-12)
  lu.assertAlmostEquals(thickness { fibre_share = "50 %" }, 203 / 2540 / 0.5, 1e-12)
end

-- Turning a plain weave by a right angle changes nothing; by half of one it softens it.
function TestLaminate.test_angle()
  local function Ex(angle)
    return rw.laminate { plies = { { cloth = glass, angle = angle } } }.Ex:si()
  end
  lu.assertAlmostEquals(Ex "90 deg" / Ex "0 deg", 1, 1e-9)
  lu.assertTrue(Ex "45 deg" < 0.8 * Ex "0 deg")
end

function TestLaminate.test_a_cloth_that_was_warned_of()
  local heavy = rw.cloth { fibre = "e-glass", areal_mass = "1.5 kg/m2", weave = "plain" }
  lu.assertEquals(#rw.laminate { plies = { { cloth = glass }, { cloth = heavy } } }.warnings, 1)
  lu.assertEquals(sandwich().warnings, {})
end

function TestLaminate.test_ply_refusals()
  local function plies(second) return { plies = { { cloth = glass }, second } } end
  refused_for("plies[2].cloth", { "core is missing" }, rw.laminate, plies {})
  refused_for("plies[2].cloth", { "both" }, rw.laminate,
    plies { cloth = glass, wood = "western-redcedar", thickness = "6 mm" })
  refused_for("plies[2].cloth", { "must be a cloth" }, rw.laminate, plies { cloth = "glass" })
  refused_for("plies[2].wood", { "western-redcedr", "perhaps \"western-redcedar\"" }, rw.laminate,
    plies { wood = "western-redcedr", thickness = "6 mm" })
  refused_for("plies[2].thickness", { "missing" }, rw.laminate, plies { wood = "okoume" })
  refused_for("plies[2].thickness", { "-0.006 m" }, rw.laminate, plies(wood "-6 mm"))
  refused_for("plies[2].thickness", { "no unit" }, rw.laminate, plies(wood(6)))
  refused_for("plies[2].thickness", { "fibre_share", "both" }, rw.laminate,
    plies { cloth = glass, thickness = "1 mm", fibre_share = 0.4 })
  refused_for("plies[2].fibre_share", { "wood has none" }, rw.laminate,
    plies { wood = "okoume", thickness = "4 mm", fibre_share = 0.4 })
  refused_for("plies[2].fibre_share", { "0.9" }, rw.laminate,
    plies { cloth = glass, fibre_share = 0.9 })
  refused_for("plies[2].angle", { "800 deg", "360 deg" }, rw.laminate,
    plies { cloth = glass, angle = "800 deg" })
  refused_for("plies[2].angle", { "no unit", "45 deg" }, rw.laminate,
    plies { cloth = glass, angle = 45 })
  refused_for("plies[2].thickne", { "did you mean thickness?" }, rw.laminate,
    plies { wood = "okoume", thickne = "4 mm" })
  refused_for("plies", { "empty" }, rw.laminate, { plies = {} })
  local many = {}
  for i = 1, 201 do
    many[i] = { cloth = glass }
  end
  refused_for("plies", { "201", "200" }, rw.laminate, { plies = many })
end

function TestLaminate.test_load_refusals()
  local l = sandwich()
  refused_for("load", { "zero" }, l.first_failure, l, {})
  refused_for("Nx", { "no unit" }, l.strain, l, { Nx = 100 })
  refused_for("Nx", { "force" }, l.strain, l, { Nx = "100 N" })
  refused_for("span", { "above zero" }, l.strip, l, { span = "0 m", load = "100 N/m" })
  refused_for("load", { "zero" }, l.strip, l, { span = "1 m" })
  refused_for("criterion", { "did you mean \"tsai_wu\"?" }, l.first_failure, l,
    { Nx = "1 N/m", criterion = "tsai-wu" })
end

os.exit(lu.LuaUnit.run())
