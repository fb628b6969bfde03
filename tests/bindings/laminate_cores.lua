-- SPDX-License-Identifier: GPL-3.0-or-later
-- Plies of a core by its data sheet, against sandwich formulas worked by hand.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused_for = support.refused_for

-- luacheck: globals TestCores

local glass = rw.cloth { fibre = "e-glass", areal_mass = "203 g/m2", weave = "plain", hand = 0.42 }

-- Invented numbers of a foam.
local function core(more)
  local sheet = { modulus = "50 MPa", shear_modulus = "19 MPa", density = "60 kg/m3",
    shear_strength = "0.7 MPa" }
  for k, v in pairs(more or {}) do
    sheet[k] = v or nil
  end
  return { core = sheet, thickness = "20 mm" }
end

local function laminate(...) return rw.laminate { plies = { ... } } end

local function sandwich(more) return laminate({ cloth = glass }, core(more), { cloth = glass }) end

TestCores = {}

-- Thin faces, and a core that only holds them apart: E t d^2/2 beside E c^3/12.
function TestCores.test_bending_stiffness()
  local face, soft = laminate { cloth = glass }, sandwich { modulus = "1 MPa" }
  local t, c = face.thickness:si(), 0.020
  local faces = face.Ex:si() * t * (c + t) ^ 2 / 2
  lu.assertAlmostEquals(soft.bend_along.value:si() / (faces + 1e6 * c ^ 3 / 12), 1, 1e-3)
  lu.assertAlmostEquals(soft.bend_across.value:si() / soft.bend_along.value:si(), 1, 1e-9)
  lu.assertTrue(sandwich().bend_along.value:si() > faces + 0.9 * 50e6 * c ^ 3 / 12)
  lu.assertAlmostEquals(soft.areal_mass:si(), 2 * face.areal_mass:si() + 60 * c, 1e-9)
  lu.assertEquals(soft.skins[2].name, "core")
  lu.assertNil(soft.skins[2].fibre_share)
end

-- G d^2/c, and the core's strength times d.
function TestCores.test_shear()
  local soft = sandwich { modulus = "1 MPa" }
  local d = 0.020 + laminate({ cloth = glass }).thickness:si()
  lu.assertAlmostEquals(soft:constants().shear_xz:si() / (19e6 * d ^ 2 / 0.020), 1, 5e-3)
  local first = soft:shear_failure { Qx = "1 kN/m" }
  lu.assertAlmostEquals(first.factor / (0.7e6 * d / 1000), 1, 5e-3)
  lu.assertEquals(first.name, "core")
  lu.assertEquals(first.ply, 2)
  lu.assertAlmostEquals(soft:shear_failure { Qy = "1 kN/m" }.factor / first.factor, 1, 1e-9)
  local untold = sandwich { shear_strength = false }
  refused_for("plies[2].core.shear_strength", { "data sheet" }, untold.shear_failure, untold,
    { Qx = "1 N/m" })
end

-- Half the cube root of skin, core and the core's shear modulus, over the skin's mean stress.
function TestCores.test_wrinkling()
  local s, face = sandwich(), laminate { cloth = glass }
  local w = s:wrinkling { core = 2, Nx = "-1 kN/m" }
  lu.assertAlmostEquals(w.stress:si() / (0.5 * (face.Ex:si() * 50e6 * 19e6) ^ (1 / 3)), 1, 1e-6)
  refused_for("core", { "outside" }, s.wrinkling, s, { core = 1, Nx = "-1 N/m" })
  refused_for("core", { "outside" }, s.wrinkling, s, { core = 3, Nx = "-1 N/m" })
  local double = laminate({ cloth = glass }, { cloth = glass }, core(), { cloth = glass })
  refused_for("core", { "cloth" }, double.wrinkling, double, { core = 2, Nx = "-1 N/m" })
  refused_for("core", { "outside" }, laminate(core()).wrinkling, laminate(core()),
    { core = 1, Nx = "-1 N/m" })
end

-- A core has no strength in its plane, and is no wood.
function TestCores.test_what_it_is_not()
  local s = sandwich()
  lu.assertTrue(s:first_failure({ Mx = "1 N" }).name ~= "core")
  lu.assertEquals(s:first_failure { Mx = "1 N", among = "outside" }.ply, 1)
  local warm = s:locked_in { warming = "20 K", moisture = "18 %" }
  lu.assertEquals(warm.warnings, {})
  lu.assertAlmostEquals(s:locked_in({ moisture = "18 %" }).strain.y, 0, 1e-15)
  refused_for("laminate", { "swells" }, rw.sealed_plank, { laminate = s, open = 0.06,
    girth = "1 m" })
  local alone = laminate(core())
  refused_for("ply", {}, alone.first_failure, alone, { Mx = "1 N" })
end

-- It is wrong with the wood, by its own spread.
function TestCores.test_spread()
  local alone = laminate(core { spread = "30 %" })
  lu.assertAlmostEquals(alone.bend_along.sd:si() / alone.bend_along.value:si(), 0.3, 1e-9)
  lu.assertEquals(alone.bend_along.because, "core")
  lu.assertEquals(laminate(core()).bend_along.sd:si(), 0)
  local cedar = { wood = "western-redcedar", thickness = "6 mm" }
  lu.assertEquals(laminate(cedar, core { spread = "5 %" }).bend_along.because, "wood and core")
  local panel = sandwich({ spread = "60 %" }):panel { length = "300 mm", width = "200 mm",
    pressure = "200 Pa" }
  lu.assertEquals(panel:spread({}).deflection.because, "stiffness of the core")
end

function TestCores.test_refusals()
  local function no(field, more)
    refused_for("plies[2].core." .. field, {}, rw.laminate, { plies = { { cloth = glass },
      core(more) } })
  end
  no("modulus", { modulus = "0.9 MPa" })
  no("modulus", { modulus = "21 GPa" })
  no("modulus", { modulus = false })
  no("shear_modulus", { shear_modulus = "0.4 MPa" })
  no("shear_modulus", { shear_modulus = "11 GPa" })
  no("density", { density = "19 kg/m3" })
  no("density", { density = "1501 kg/m3" })
  no("shear_strength", { shear_strength = "0 MPa" })
  no("shear_strength", { shear_strength = "101 MPa" })
  no("spread", { spread = "91 %" })
  local function mixed(argument, more)
    local ply = core()
    for k, v in pairs(more) do
      ply[k] = v or nil
    end
    refused_for("plies[1]." .. argument, {}, rw.laminate, { plies = { ply } })
  end
  mixed("wood", { wood = "okoume" })
  mixed("cloth", { cloth = glass })
  mixed("cut", { cut = "flat" })
  mixed("density", { density = "60 kg/m3" })
  mixed("resin", { resin = "100 g/m2" })
  mixed("thickness", { thickness = false })
end

os.exit(lu.LuaUnit.run())
