-- SPDX-License-Identifier: GPL-3.0-or-later
-- What plies may be made of, and what a laminate tells under loads, warmth and damp.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused_for = support.refused_for

-- luacheck: globals TestPlies TestConstants TestFailure TestLockedIn TestFaired

local glass = rw.cloth { fibre = "e-glass", areal_mass = "203 g/m2", weave = "plain", hand = 0.42 }
local cedar = { wood = "western-redcedar", thickness = "6 mm" }

local function laminate(...) return rw.laminate { plies = { ... } } end

local function with(ply, more)
  local new = {}
  for k, v in pairs(ply) do
    new[k] = v
  end
  for k, v in pairs(more) do
    new[k] = v
  end
  return new
end

TestPlies = {}

-- V = w/(rf t), and (w/rf)/(w/rf + resin/rr).
function TestPlies.test_share_by_thickness_and_resin()
  local solid = 0.203 / 2540
  local thick = laminate { cloth = glass, thickness = "0.2 mm" }
  lu.assertAlmostEquals(thick.skins[1].fibre_share, solid / 0.2e-3, 1e-9)
  lu.assertAlmostEquals(thick.thickness:to "mm", 0.2, 1e-12)
  local wet = laminate { cloth = glass, resin = "150 g/m2", resin_density = "1.1 g/cm3" }
  lu.assertAlmostEquals(wet.skins[1].fibre_share, solid / (solid + 0.150 / 1100), 1e-9)
  -- A spread of the resin is a spread of the stiffness.
  local spread = laminate { cloth = glass, resin = { low = "100 g/m2", high = "200 g/m2" },
    resin_density = "1.1 g/cm3" }
  lu.assertTrue(spread.bend_along.sd > 1.05 * wet.bend_along.sd)
end

-- Two fibres alike are that fibre; one of carbon stiffens it, and weighs by its density.
function TestPlies.test_hybrid()
  local function both(other)
    return laminate { weave = "plain", fibre_share = 0.42, fibres = {
      { fibre = "e-glass", areal_mass = "100 g/m2" },
      { fibre = other, areal_mass = "103 g/m2" } } }
  end
  local alone = laminate { cloth = glass, fibre_share = 0.42 }
  lu.assertAlmostEquals(both("e-glass").Ex:si() / alone.Ex:si(), 1, 1e-3)
  lu.assertTrue(both("carbon").Ex:si() > 1.5 * alone.Ex:si())
  lu.assertTrue(both("carbon").thickness > alone.thickness)
  lu.assertEquals(both("carbon").skins[1].name, "e-glass + carbon")
end

-- Warp and weft alike are the cloth; the stiffer yarns stiffen their own way.
function TestPlies.test_warp_and_weft()
  local function crossed(warp, weft, more)
    return laminate(with({ weave = "plain", warp = { fibre = warp[1], areal_mass = warp[2] },
      weft = { fibre = weft[1], areal_mass = weft[2] } }, more or {}))
  end
  local half = { "e-glass", "101.5 g/m2" }
  local alone = laminate { cloth = glass, fibre_share = 0.42 }
  local alike = crossed(half, half, { fibre_share = 0.42 })
  for _, name in ipairs { "Ex", "Ey", "Gxy", "thickness", "areal_mass" } do
    lu.assertAlmostEquals(alike[name]:si() / alone[name]:si(), 1, 1e-9)
  end
  lu.assertAlmostEquals(alike.bend_along.sd:si() / alone.bend_along.sd:si(), 1, 1e-6)
  local load = { Nx = "1 kN/m" }
  lu.assertAlmostEquals(alike:first_failure(load).factor / alone:first_failure(load).factor, 1,
    1e-9)
  local mixed = crossed({ "carbon", "120 g/m2" }, { "aramid", "80 g/m2" })
  local turned = crossed({ "aramid", "80 g/m2" }, { "carbon", "120 g/m2" }, { angle = "90 deg" })
  lu.assertTrue(mixed.Ex > 1.5 * mixed.Ey)
  lu.assertEquals(mixed.skins[1].name, "carbon + aramid")
  lu.assertAlmostEquals(mixed.Ex:si() / turned.Ex:si(), 1, 0.05)
  -- More yarn one way, of one fibre.
  local unequal = crossed({ "e-glass", "300 g/m2" }, { "e-glass", "100 g/m2" })
  lu.assertTrue(unequal.Ex > 1.5 * unequal.Ey)
  -- The same words for how much fibre there is.
  local solid = 0.12 / 1770 + 0.08 / 1450
  local thick = crossed({ "carbon", "120 g/m2" }, { "aramid", "80 g/m2" },
    { thickness = "0.3 mm" })
  lu.assertAlmostEquals(thick.skins[1].fibre_share, solid / 0.3e-3, 1e-9)
  local bagged = crossed({ "carbon", "120 g/m2" }, { "aramid", "80 g/m2" }, { layup = "bagged" })
  lu.assertTrue(bagged.skins[1].fibre_share > mixed.skins[1].fibre_share)
end

function TestPlies.test_numbers_that_cannot_be()
  local function no(argument, words, ply) refused_for(argument, words, laminate, ply) end
  no("plies[1].density", { "50", "1500" }, with(cedar, { density = "49 kg/m3" }))
  no("plies[1].density", { "50", "1500" }, with(cedar, { density = "1501 kg/m3" }))
  lu.assertAlmostEquals(laminate(with(cedar, { density = "50 kg/m3" })).areal_mass:si(), 0.3, 1e-9)
  no("plies[1].modulus", { "100 %", "90 %" },
    with(cedar, { modulus = { value = "8 GPa", sd = "8 GPa" } }))
  no("plies[1].resin", { "spread" },
    { cloth = glass, resin = { value = "150 g/m2", sd = "900 g/m2" } })
  no("plies[1].resin", { "spread" },
    { cloth = glass, resin = { value = "150 g/m2", sd = "400 g/m2" } })
  no("plies[1].weft.areal_mass", { "9.1 kg/m2", "together" }, { weave = "plain",
    warp = { fibre = "e-glass", areal_mass = "100 g/m2" },
    weft = { fibre = "e-glass", areal_mass = "9000 g/m2" } })
  -- One fibre alone is allowed, and told without "together".
  local one = laminate { weave = "plain", fibres = { { fibre = "e-glass",
    areal_mass = "203 g/m2" } }, fibre_share = 0.42 }
  lu.assertAlmostEquals(one.Ex:si() / laminate({ cloth = glass, fibre_share = 0.42 }).Ex:si(), 1,
    1e-3)
end

function TestPlies.test_little_fibre_and_air_warn()
  local function warned(ply) return laminate(ply).warnings end
  lu.assertStrContains(warned({ cloth = glass, thickness = "0.6 mm" })[1], "plies[1]")
  lu.assertStrContains(warned({ cloth = glass, resin = "800 g/m2" })[1], "many layers")
  lu.assertEquals(warned { cloth = glass, thickness = "0.5 mm" }, {})
  lu.assertEquals(warned { cloth = glass, fibre_share = 0.1 }, {})
  -- What the cloth said stays, and the air is told as well.
  local heavy = rw.cloth { fibre = "e-glass", areal_mass = "1500 g/m2", weave = "plain" }
  lu.assertEquals(#heavy.warnings, 1)
  local said = warned { cloth = heavy, thickness = "2.2 mm", resin = "1000 g/m2" }
  lu.assertStrContains(said[1], "of air")
  lu.assertStrContains(said[1], heavy.warnings[1])
end

function TestPlies.test_warp_and_weft_refusals()
  local function no(argument, words, more)
    local ply = with({ weave = "twill", warp = { fibre = "carbon", areal_mass = "120 g/m2" },
      weft = { fibre = "aramid", areal_mass = "80 g/m2" } }, more)
    for k, v in pairs(more) do
      ply[k] = v or nil
    end
    refused_for("plies[1]." .. argument, words, rw.laminate, { plies = { ply } })
  end
  no("weft", { "missing" }, { weft = false })
  no("warp", { "missing" }, { warp = false })
  no("weave", { "missing" }, { weave = false })
  no("weave", { "unidirectional", "no warp" }, { weave = "unidirectional" })
  no("weave", { "mat" }, { weave = "mat" })
  no("weft.fibre", { "perhaps \"aramid\"" }, { weft = { fibre = "aramd",
    areal_mass = "80 g/m2" } })
  no("weft.areal_mass", {}, { weft = { fibre = "aramid", areal_mass = "0 g/m2" } })
  no("warp.areal_mass", { "kg/m2" }, { warp = { fibre = "aramid", areal_mass = "100 kg/m2" } })
  no("warp.areal_mass", { "missing" }, { warp = { fibre = "aramid" } })
  no("moisture", { "warp and weft have none" }, { moisture = 0.1 })
  no("cloth", { "another material" }, { cloth = glass, weave = false })
  no("warp", { "another material" }, { wood = "okoume" })
  no("fibre_share", {}, { fibre_share = 0.8 })
end

-- v = 1 - (w/rf + resin/rr)/t; the mass is what was weighed, the fibre share falls with the air.
function TestPlies.test_voids()
  local function porous(thickness, more)
    return laminate(with({ cloth = glass, thickness = thickness, resin = "140 g/m2" }, more or {}))
  end
  local l = porous "0.21 mm"
  local solid, filled = 0.203 / 2540, 0.203 / 2540 + 0.140 / 1150
  lu.assertAlmostEquals(l.skins[1].void_share, 1 - filled / 0.21e-3, 1e-9)
  lu.assertAlmostEquals(l.skins[1].fibre_share, solid / 0.21e-3, 1e-9)
  lu.assertAlmostEquals(l.skins[1].areal_mass:to "g/m2", 343, 1e-9)
  lu.assertEquals(l.warnings, {})
  local full = laminate { cloth = glass, resin = "140 g/m2" }
  lu.assertNil(full.skins[1].void_share)
  lu.assertAlmostEquals(full.areal_mass:to "g/m2", 343, 1e-9)
  lu.assertTrue(l.Ex < full.Ex)
  lu.assertEquals(#porous("0.25 mm").warnings, 1)
  lu.assertStrContains(porous("0.25 mm").warnings[1], "plies[1]")
  -- A lighter resin fills more of it.
  lu.assertTrue(porous("0.21 mm", { resin_density = "1.1 g/cm3" }).skins[1].void_share
    < l.skins[1].void_share)
  refused_for("plies[1].thickness", { "0.19 mm" }, porous, "0.19 mm")
  refused_for("plies[1].thickness", { "air" }, porous, "1 mm")
end

function TestPlies.test_weaves()
  local function Ex(weave, angle)
    local c = rw.cloth { fibre = "e-glass", areal_mass = "300 g/m2", weave = weave, hand = 0.40 }
    local l = laminate { cloth = c, angle = angle }
    return l.Ex:si(), l.Ey:si()
  end
  local along, across = Ex "unidirectional"
  lu.assertTrue(along > 2.5 * across)
  along, across = Ex "mat"
  lu.assertAlmostEquals(along / across, 1, 1e-9)
  along, across = Ex "biaxial"
  lu.assertAlmostEquals(along / across, 1, 1e-9)
  lu.assertTrue(along > 1.2 * Ex("biaxial", "45 deg"))
end

-- Wet wood is softer, and rings on edge stiffen it across.
function TestPlies.test_cut_and_moisture()
  local dry, plain = laminate(with(cedar, { moisture = "8 %" })), laminate(cedar)
  local wet = laminate(with(cedar, { moisture = 0.20 }))
  lu.assertTrue(dry.Ex > plain.Ex and plain.Ex > wet.Ex)
  lu.assertTrue(wet.areal_mass > plain.areal_mass)
  lu.assertAlmostEquals(laminate(with(cedar, { moisture = "12 %" })).Ex:si() / plain.Ex:si(), 1,
    1e-12)
  local quarter = laminate(with(cedar, { cut = "quarter" }))
  lu.assertTrue(quarter.Ey > 1.2 * plain.Ey)
  lu.assertAlmostEquals(quarter.Ex:si() / plain.Ex:si(), 1, 1e-9)
end

-- A measured modulus takes all others along; its spread is the stiffness' own.
function TestPlies.test_measured_wood()
  local table_E = laminate(cedar).Ex:si()
  local mine = laminate(with(cedar, { density = "340 kg/m3",
    modulus = { value = rw.q(1.2 * table_E, "Pa"), sd = rw.q(0.06 * table_E, "Pa") } }))
  lu.assertAlmostEquals(mine.Ex:si() / table_E, 1.2, 1e-9)
  lu.assertAlmostEquals(mine.Gxy:si() / laminate(cedar).Gxy:si(), 1.2, 1e-9)
  lu.assertAlmostEquals(mine.areal_mass:si(), 0.006 * 340, 1e-9)
  lu.assertAlmostEquals(mine.bend_along.sd:si() / mine.bend_along.value:si(), 0.05, 1e-6)
  local exact = laminate(with(cedar, { modulus = rw.q(table_E, "Pa") }))
  lu.assertAlmostEquals(exact.bend_along.sd:si(), 0, 1e-9)
end

-- Veneer upon veneer, turned, is what a list of veneers gives.
function TestPlies.test_plywood()
  local sheet = laminate({ cloth = glass },
    { wood = "okoume", thickness = "4 mm", veneers = 3, face = "1 mm" })
  local list = laminate({ cloth = glass }, { wood = "okoume", thickness = "1 mm" },
    { wood = "okoume", thickness = "2 mm", angle = "90 deg" },
    { wood = "okoume", thickness = "1 mm" })
  lu.assertAlmostEquals(sheet.Ex:si() / list.Ex:si(), 1, 1e-9)
  lu.assertAlmostEquals(sheet.bend_across.value:si() / list.bend_across.value:si(), 1, 1e-9)
  lu.assertEquals(#sheet.skins, 4)
  lu.assertEquals(sheet.skins[1].veneer, nil)
  for i = 2, 4 do
    lu.assertEquals(sheet.skins[i].ply, 2)
    lu.assertEquals(sheet.skins[i].veneer, i - 1)
  end
  -- Bent across: the middle veneer has its grain that way.
  local first = sheet:first_failure { My = "1 N", among = "wood" }
  lu.assertEquals(first.ply, 2)
  lu.assertNotNil(first.veneer)
end

function TestPlies.test_refusals()
  local function no(argument, words, ply)
    refused_for("plies[2]." .. argument, words, rw.laminate,
      { plies = { { cloth = glass }, ply } })
  end
  local function okoume(more) return with({ wood = "okoume", thickness = "4 mm" }, more) end
  no("veneers", { "49" }, okoume { veneers = 60 })
  no("veneers", { "odd" }, okoume { veneers = 4 })
  no("face", { "veneers" }, okoume { face = "1 mm" })
  no("face", {}, okoume { veneers = 3, face = "2 mm" })
  no("moisture", {}, okoume { moisture = 2.5 })
  no("moisture", { "leave it away" }, { cloth = glass, moisture = 0.12 })
  no("layup", { "wood has none" }, okoume { layup = "hand" })
  no("modulus", { "GPa" }, okoume { modulus = "10 MPa" })
  no("density", {}, okoume { density = "0 kg/m3" })
  no("density", { "leave it away" }, { cloth = glass, density = "2 g/cm3" })
  no("weave", { "cloth says it" }, { cloth = glass, weave = "plain" })
  no("weave", { "missing" }, { fibres = { { fibre = "e-glass", areal_mass = "100 g/m2" } } })
  no("resin_density", { "resin" }, { cloth = glass, resin_density = "1.1 g/cm3" })
  no("thickness", { "fibre_share", "both" }, { cloth = glass, fibre_share = 0.4,
    thickness = "1 mm" })
  no("resin", { "fibre_share", "both" }, { cloth = glass, fibre_share = 0.4, thickness = "1 mm",
    resin = "150 g/m2" })
  no("resin", {}, { cloth = glass, resin = "1 g/m2" })
  no("thickness", {}, { cloth = glass, thickness = "0.01 mm" })
  no("fibres[2].fibre", { "e-glas", "perhaps \"e-glass\"" }, { weave = "plain", fibres = {
    { fibre = "carbon", areal_mass = "100 g/m2" }, { fibre = "e-glas", areal_mass = "1 g/m2" } } })
  no("fibres[1].areal_mass", {}, { weave = "plain", fibres = {
    { fibre = "carbon", areal_mass = "0 g/m2" }, { fibre = "e-glass", areal_mass = "1 g/m2" } } })
  local many = {}
  for i = 1, 9 do
    many[i] = { fibre = "e-glass", areal_mass = "20 g/m2" }
  end
  no("fibres", { "9" }, { weave = "plain", fibres = many })
  -- An error of the stack is about the ply as listed, not the veneer.
  refused_for("plies[2].angle", { "800 deg" }, rw.laminate, { plies = {
    { wood = "okoume", thickness = "4 mm", veneers = 5 }, with(cedar, { angle = "800 deg" }) } })
end

TestConstants = {}

-- One material bends as it is pulled, and is sheared as 5/6 G h.
function TestConstants.test_one_material()
  local l = laminate(cedar)
  local c = l:constants {}
  lu.assertAlmostEquals(c.bending_Ex:si() / c.Ex:si(), 1, 1e-9)
  lu.assertAlmostEquals(c.bending_Gxy:si() / c.Gxy:si(), 1, 1e-9)
  lu.assertAlmostEquals(c.nuxy, l.nuxy, 1e-12)
  lu.assertAlmostEquals(c.nuyx / c.Ey:si() * c.Ex:si() / c.nuxy, 1, 1e-9)
  lu.assertAlmostEquals(c.shear_both:si(), 0, 1e-3)
  lu.assertTrue(c.shear_xz > 5 * c.shear_yz) -- wood rolls across its grain
  local turned = laminate(with(cedar, { angle = "30 deg" })):constants {}
  lu.assertTrue(math.abs(turned.skew_x) > 0.1 and math.abs(c.skew_x) < 1e-9)
  lu.assertTrue(math.abs(turned.shear_both:si()) > 1e5)
end

-- Skins outside the middle count more bent than pulled.
function TestConstants.test_sandwich()
  local c = laminate({ cloth = glass }, cedar, { cloth = glass }):constants {}
  lu.assertTrue(c.bending_Ey > 1.2 * c.Ey)
end

TestFailure = {}

local sandwich = laminate({ cloth = glass }, cedar, { cloth = glass })

-- Under one stress alone all criteria agree; the load scales.
function TestFailure.test_criteria()
  local pulled = laminate(cedar):failure { load = { Nx = "1 kN/m" } }
  lu.assertEquals(#pulled, 4)
  for i, name in ipairs { "max_stress", "tsai_wu", "max_strain", "tsai_hill" } do
    lu.assertEquals(pulled[i].criterion, name)
    lu.assertAlmostEquals(pulled[i].factor / pulled[1].factor, 1, 1e-6)
    lu.assertEquals(#pulled[i].plies, 1)
  end
  local one = sandwich:failure { load = { My = "2 N" }, criterion = "tsai_hill" }
  lu.assertEquals(#one, 1)
  local first = sandwich:first_failure { My = "1 N", criterion = "tsai_hill" }
  lu.assertAlmostEquals(2 * one[1].factor, first.factor, 1e-6 * first.factor)
  lu.assertEquals({ one[1].ply, one[1].face, one[1].name, one[1].mode },
    { first.ply, first.face, first.name, first.mode })
  lu.assertEquals(#one[1].plies, 3)
  for _, ply in ipairs(one[1].plies) do
    lu.assertTrue(ply.factor >= one[1].factor)
  end
end

-- Drying pulls wood across its grain: less of a pull breaks it, more of a push bruises it.
function TestFailure.test_locked_in()
  local function factor(load, moisture)
    return sandwich:failure { load = { Ny = load }, criterion = "max_stress",
      locked_in = { moisture = moisture } }[1].factor
  end
  lu.assertTrue(factor("1 kN/m", 0.10) < 0.95 * factor("1 kN/m", 0.12))
  lu.assertTrue(factor("-1 kN/m", 0.10) > 1.05 * factor("-1 kN/m", 0.12))
  local without = sandwich:first_failure { Ny = "1 kN/m" }.factor
  lu.assertAlmostEquals(factor("1 kN/m", 0.12), without, 1e-6 * without)
end

-- 3/2 Q/h in one material: across the grain wood rolls.
function TestFailure.test_shear()
  local wood = laminate(cedar)
  local along, across = wood:shear_failure { Qx = "1 kN/m" }, wood:shear_failure { Qy = "1 kN/m" }
  lu.assertTrue(along.factor > 3 * across.factor)
  lu.assertStrContains(across.mode, "sheared through")
  lu.assertEquals(across.ply, 1)
  lu.assertNil(across.face)
  local stress
  for _, m in ipairs(rw.materials { kind = "wood" }) do
    if m.name == "western-redcedar" then
      stress = m.properties.shear_par.value:si()
    end
  end
  lu.assertAlmostEquals(along.factor, stress * 0.006 / 1.5 / 1000, 1e-6 * along.factor)
  refused_for("force", {}, wood.shear_failure, wood, {})
end

function TestFailure.test_wrinkling()
  local pushed = sandwich:wrinkling { core = 2, Nx = "-1 kN/m" }
  lu.assertTrue(pushed.factor > 1 and pushed.stress > rw.q "50 MPa")
  lu.assertAlmostEquals(pushed.direction:si() % math.pi, 0, 1e-6)
  local pulled = sandwich:wrinkling { core = 2, Nx = "1 kN/m", Ny = "1 kN/m" }
  lu.assertEquals(pulled, { factor = math.huge })
  -- A moment that stretches the inside pushes the outer skin.
  lu.assertEquals(sandwich:wrinkling { core = 2, Mx = "1 N" }.face, "outer")
  refused_for("core", { "3" }, sandwich.wrinkling, sandwich, { core = 4, Nx = "-1 N/m" })
  local sheet = laminate({ cloth = glass }, { wood = "okoume", thickness = "4 mm", veneers = 3 })
  refused_for("core", { "plywood" }, sheet.wrinkling, sheet, { core = 2, Nx = "-1 N/m" })
end

-- A unit moment at first failure; the index is stored energy, k/2 for twice the moment.
function TestFailure.test_hit()
  local hit = sandwich:hit {}
  local along = sandwich:first_failure { Mx = "1 N" }
  lu.assertAlmostEquals(hit.along.moment:to "N", along.factor, 1e-6 * along.factor)
  lu.assertEquals(hit.along.face, along.face)
  lu.assertTrue(hit.across.moment < hit.along.moment)
  local m = hit.both.moment:to "N"
  local e = sandwich:strain { Mx = hit.both.moment, My = hit.both.moment }
  lu.assertAlmostEquals(hit.index:to "J/m2", m * (e.kx + e.ky) / 2, 1e-6 * hit.index:si())
end

TestLockedIn = {}

-- Damp wood under cloth on one side bulges away from it; a glued stack is in balance.
function TestLockedIn.test_damp()
  local one = laminate({ cloth = glass }, cedar)
  local wet = one:locked_in { moisture = "18 %" }
  lu.assertTrue(wet.curvature.y:si() > 0.05)
  lu.assertTrue(wet.strain.y > 0 and wet.plies[2].outer.across:si() < 0)
  lu.assertTrue(one:locked_in { moisture = "8 %" }.curvature.y:si() < -0.05)
  lu.assertAlmostEquals(one:locked_in { moisture = 0.12 }.curvature.y:si(), 0, 1e-9)
  -- Wood alone moves freely, by its own swelling.
  local free = laminate(cedar):locked_in { moisture = 0.18 }
  lu.assertAlmostEquals(free.plies[1].outer.across:si(), 0, 1e-3)
  lu.assertTrue(free.strain.y > 0.005 and free.strain.y < 0.02)
end

-- Hot and cold are opposite; all of one stretch is no stress; cured resin pulls in its cloth.
function TestLockedIn.test_warmth_and_cure()
  local alike = { fibre = "2e-5 1/K", resin = "2e-5 1/K", wood = "2e-5 1/K",
    wood_across = "2e-5 1/K" }
  local even = sandwich:locked_in { warming = "30 K", expansion = alike }
  lu.assertAlmostEquals(even.strain.x, 6e-4, 1e-9)
  lu.assertAlmostEquals(even.plies[2].inner.along:si(), 0, 1)
  local known = { fibre = "5e-6 1/K", wood = "4e-6 1/K", wood_across = "3e-5 1/K" }
  local cold = sandwich:locked_in { warming = "-30 K", expansion = known }
  local hot = sandwich:locked_in { warming = "30 K", expansion = known }
  lu.assertAlmostEquals(cold.strain.y, -hot.strain.y, 1e-12)
  lu.assertTrue(hot.strain.y > 0)
  lu.assertTrue(sandwich:locked_in { cure_shrinkage = "0.5 %" }.plies[1].outer.along:si() > 0)
end

local function near(a, b) lu.assertAlmostEquals(a / b, 1, 1e-9) end

local function property(kind, material, name)
  for _, m in ipairs(rw.materials { kind = kind }) do
    if m.name == material then
      return m.properties[name].value
    end
  end
end

-- Left out, expansions are those of the tables; one given takes the place of its own alone.
function TestLockedIn.test_expansions_of_the_tables()
  local all = { fibre = property("fibre", "e-glass", "expansion"),
    resin = property("resin", "cured-epoxy", "expansion"),
    wood = property("wood", "western-redcedar", "expand_along"),
    wood_across = property("wood", "western-redcedar", "expand_tangential") }
  local function strain(expansion)
    return sandwich:locked_in { warming = "30 K", expansion = expansion }.strain
  end
  local plain, given = strain(nil), strain(all)
  near(given.x, plain.x)
  near(given.y, plain.y)
  lu.assertTrue(strain({ wood_across = "0 1/K" }).y < 0.7 * plain.y)
  lu.assertTrue(strain({ resin = "1e-4 1/K" }).x > 1.1 * plain.x)
  -- Rings on edge: radial across.
  local free = laminate(with(cedar, { cut = "quarter" })):locked_in { warming = "10 K" }
  near(free.strain.y, 10 * property("wood", "western-redcedar", "expand_radial"):si())
  near(free.strain.x, 10 * property("wood", "western-redcedar", "expand_along"):si())
  -- What is locked in takes from the strength.
  local function factor(locked_in)
    return sandwich:failure { load = { Ny = "-1 kN/m" }, criterion = "max_stress",
      locked_in = locked_in }[1].factor
  end
  near(factor { warming = "-30 K" }, factor { warming = "-30 K", expansion = all })
  lu.assertTrue(math.abs(factor { warming = "-30 K" } / factor(nil) - 1) > 1e-3)
end

-- A hybrid of one fibre and warp and weft of it move as its cloth; carbon holds its own way.
function TestLockedIn.test_expansion_of_mixed_yarns()
  local function moved(ply)
    return laminate(with(ply, { fibre_share = 0.42 })):locked_in { warming = "10 K" }.strain
  end
  local function yarns(warp, weft)
    return { weave = "plain", warp = { fibre = warp, areal_mass = "100 g/m2" },
      weft = { fibre = weft, areal_mass = "100 g/m2" } }
  end
  local plain = moved { cloth = glass }
  local alike, hybrid = moved(yarns("e-glass", "e-glass")), moved { weave = "plain", fibres = {
    { fibre = "e-glass", areal_mass = "50 g/m2" },
    { fibre = "e-glass", areal_mass = "153 g/m2" } } }
  for _, axis in ipairs { "x", "y" } do
    near(alike[axis], plain[axis])
    near(hybrid[axis], plain[axis])
  end
  local mixed = moved(yarns("carbon", "e-glass"))
  lu.assertTrue(mixed.x < 0.5 * mixed.y)
  local all = moved { weave = "plain", fibres = { { fibre = "carbon", areal_mass = "100 g/m2" },
    { fibre = "e-glass", areal_mass = "100 g/m2" } } }
  lu.assertTrue(all.x < plain.x and all.x > moved(yarns("carbon", "carbon")).x)
end

-- Wood that is warmed dries: a warning where moisture is left out.
function TestLockedIn.test_drying_is_told()
  local function warnings(l, conditions) return #l:locked_in(conditions).warnings end
  lu.assertEquals(warnings(sandwich, { warming = "20 K" }), 1)
  lu.assertEquals(warnings(sandwich, { warming = "20 K", moisture = "10 %" }), 0)
  lu.assertEquals(warnings(sandwich, { warming = "-20 K" }), 0)
  lu.assertEquals(warnings(laminate { cloth = glass }, { warming = "20 K" }), 0)
end

-- The tables have no expansion of flax.
function TestLockedIn.test_flax()
  local flax = { fibre = "flax", areal_mass = "100 g/m2" }
  local cloth = rw.cloth { fibre = "flax", areal_mass = "200 g/m2", weave = "plain" }
  local plies = { { cloth = cloth },
    { weave = "plain", fibres = { flax, { fibre = "e-glass", areal_mass = "100 g/m2" } } },
    { weave = "plain", warp = { fibre = "e-glass", areal_mass = "100 g/m2" }, weft = flax } }
  for _, ply in ipairs(plies) do
    local l = laminate(ply)
    refused_for("expansion.fibre", { "flax" }, l.locked_in, l, { warming = "10 K" })
    refused_for("locked_in.expansion.fibre", { "flax" }, l.failure, l,
      { load = { Nx = "1 N/m" }, locked_in = { warming = "10 K" } })
    lu.assertTrue(l:locked_in { cure_shrinkage = "0.5 %" }.strain.x < 0)
    lu.assertTrue(l:locked_in { warming = "10 K", expansion = { fibre = "-1e-6 1/K",
      fibre_across = "8e-5 1/K" } }.strain.y > 0)
  end
end

function TestLockedIn.test_refusals()
  local function no(argument, arguments)
    refused_for(argument, {}, sandwich.locked_in, sandwich, arguments)
  end
  no("warming", {})
  no("moisture", { moisture = 3 })
  no("warming", { warming = 20 })
  no("warming", { warming = "30000 K" })
  no("warming", { warming = "10 K", expansion = { wood_across = "5 1/K" } })
  no("cure_shrinkage", { cure_shrinkage = "60 %" })
  -- The fibre, not the resin, is what cannot be.
  no("warming", { warming = "20 K", cure_shrinkage = "1 %", expansion = { fibre = "0.05 1/K" } })
  no("expansion.fibre", { warming = "10 K", expansion = { fibre = "5e-6" } })
  refused_for("locked_in.warming", {}, sandwich.failure, sandwich,
    { load = { Nx = "1 N/m" }, locked_in = { warming = "30000 K" } })
  refused_for("locked_in.warming", {}, sandwich.failure, sandwich,
    { load = { Nx = "1 N/m" }, locked_in = {} })
  refused_for("load", { "zero" }, sandwich.failure, sandwich, { load = {} })
end

TestFaired = {}

-- Wood alone: stiffness goes with the cube of its thickness.
function TestFaired.test_wood()
  local l = laminate(cedar)
  local f = l:faired { ply = 1, thickness = { unit = "mm", 6, 5, 5.8 }, limit = 0.8 }
  lu.assertEquals(f.worst, 2)
  lu.assertEquals(f.below, 1)
  lu.assertAlmostEquals(f.along, (5 / 6) ^ 3, 1e-9)
  lu.assertAlmostEquals(f.needed:to "mm", 6 * 0.8 ^ (1 / 3), 1e-4)
  refused_for("ply", {}, l.faired, l, { ply = 2, thickness = { "5 mm" } })
  refused_for("thickness[2]", {}, l.faired, l, { ply = 1, thickness = { "5 mm", "0 mm" } })
  refused_for("limit", {}, l.faired, l, { ply = 1, thickness = { "5 mm" }, limit = 1 })
end

-- Sanded from outside plywood loses its outer veneers; from inside the others.
function TestFaired.test_plywood()
  local sheet = { wood = "okoume", thickness = "6 mm", veneers = 3 }
  local skin = rw.laminate { plies = { sheet } }
  local rest = rw.laminate { plies = { { wood = "okoume", thickness = "2 mm", angle = "90 deg" },
    { wood = "okoume", thickness = "2 mm" } } }
  for _, face in ipairs { "outer", "inner" } do
    local f = skin:faired { ply = 1, face = face, thickness = { "4 mm", "6 mm" } }
    lu.assertEquals(f.worst, 1)
    lu.assertAlmostEquals(f.along, rest.bend_along.value:si() / skin.bend_along.value:si(), 1e-9)
    lu.assertTrue(f.needed > rw.q "4 mm" and f.needed < rw.q "6 mm")
  end
  refused_for("face", { "outer", "inner" }, skin.faired, skin,
    { ply = 1, thickness = { "4 mm" }, face = "outside" })
end

os.exit(lu.LuaUnit.run())
