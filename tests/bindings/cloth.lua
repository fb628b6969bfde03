-- SPDX-License-Identifier: GPL-3.0-or-later
-- Cloth from the tables and from what its roll says; thickness, resin, shares.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused_for = support.refused_for

-- luacheck: globals TestCloth TestShares

local function glass(more)
  local fields = { fibre = "e-glass", areal_mass = "203 g/m2", weave = "plain" }
  for name, value in pairs(more or {}) do
    fields[name] = value
  end
  return fields
end

TestCloth = {}

function TestCloth.test_by_name()
  local c = rw.cloth { name = "Glass-203-Plain" }
  lu.assertEquals(c.name, "glass-203-plain")
  lu.assertEquals(c.fibre, "e-glass")
  lu.assertEquals(c.weave, "plain")
  lu.assertAlmostEquals(c.areal_mass:to "g/m2", 203, 1e-9)
  lu.assertAlmostEquals(c.fibre_density:to "g/cm3", 2.54, 1e-9)
  lu.assertTrue(c.hand.value > 0.3 and c.hand.value < 0.5)
  lu.assertTrue(c.bagged.value > c.hand.value)
  lu.assertTrue(c.hand.low < c.hand.value)
  lu.assertEquals(c.hand.because, "how much resin stays in the cloth")
  lu.assertTrue(c.crown > rw.q "0.1 mm" and c.crown < rw.q "1 mm")
  lu.assertEquals(c.warnings, {})
  lu.assertEquals(rw.kind(c), "cloth")
  lu.assertEquals(tostring(c), "cloth glass-203-plain")
end

function TestCloth.test_by_its_roll()
  local c = rw.cloth(glass())
  lu.assertEquals(c.name, "e-glass plain 203 g/m2")
  lu.assertEquals(c.fibre, "e-glass")
  local ounces = rw.cloth(glass { areal_mass = "6 oz/yd2" })
  lu.assertAlmostEquals(ounces.areal_mass:to "g/m2", 203.4, 0.05)
  for _, weave in ipairs { "plain", "twill", "satin", "unidirectional", "biaxial", "mat" } do
    lu.assertEquals(rw.cloth(glass { weave = weave }).weave, weave)
  end
end

-- 203 g/m2 over 2540 kg/m3 and 0.42: 0.1903 mm; with 1100 kg/m3 121.4 g/m2 of resin in it.
function TestCloth.test_by_hand()
  local c = rw.cloth(glass { hand = { value = 0.42, sd = 0.02 } })
  lu.assertAlmostEquals(c:thickness {}:to "mm", 203 / 2540 / 0.42, 1e-12)
  local resin = c:resin { resin_density = "1.1 g/cm3" }
  lu.assertAlmostEquals(resin.value:to "g/m2", 1100 * 0.58 * 203 / 2540 / 0.42, 1e-9)
  lu.assertAlmostEquals(resin.value:to "g/m2", 121.4, 0.05)
  -- First order in the share: 1100 thickness / 0.42 times 0.02, and 1.645 of that to the end.
  local spread = 1100 * 203 / 2540 / 0.42 ^ 2 * 0.02
  lu.assertAlmostEquals((resin.high - resin.value):to "g/m2", 1.645 * spread, 1e-9)
end

function TestCloth.test_layup_and_share()
  local c = rw.cloth(glass { hand = 0.42, bagged = "55 %" })
  lu.assertAlmostEquals(c:thickness { layup = "bagged" }:to "mm", 203 / 2540 / 0.55, 1e-12)
  lu.assertAlmostEquals(c:thickness { fibre_share = "50 %" }:to "mm", 203 / 2540 / 0.5, 1e-12)
  lu.assertTrue(c:resin { layup = "bagged" }.value < c:resin { layup = "hand" }.value)
end

function TestCloth.test_overruled()
  local c = rw.cloth { name = "glass-203-plain", hand = { low = 0.35, high = 0.45 },
    crown = "0.3 mm" }
  lu.assertAlmostEquals(c.hand.value, 0.4, 1e-12)
  lu.assertAlmostEquals(c.hand.low, 0.35, 1e-12)
  lu.assertAlmostEquals(c.crown:to "mm", 0.3, 1e-12)
end

function TestCloth.test_heavier_than_tested()
  local c = rw.cloth(glass { areal_mass = "1.5 kg/m2" })
  lu.assertEquals(#c.warnings, 1)
  lu.assertStrContains(c.warnings[1], "outside")
end

function TestCloth.test_name_or_roll()
  refused_for("name", { "fibre", "areal_mass", "weave" }, rw.cloth, {})
  refused_for("fibre", { "both" }, rw.cloth, { name = "glass-203-plain", fibre = "e-glass" })
  refused_for("weave", { "missing" }, rw.cloth, { fibre = "e-glass", areal_mass = "203 g/m2" })
  refused_for("fibre", { "missing" }, rw.cloth, { areal_mass = "203 g/m2", weave = "plain" })
  refused_for("name", { "glass-203-plan", "glass-203-plain" }, rw.cloth,
    { name = "glass-203-plan" })
  refused_for("fibre", { "e-glas", "perhaps \"e-glass\"" }, rw.cloth, glass { fibre = "e-glas" })
end

function TestCloth.test_mass()
  refused_for("areal_mass", { "no unit", "203 g/m2" }, rw.cloth, glass { areal_mass = 203 })
  refused_for("areal_mass", { "oz/yd2", "oz/ft2" }, rw.cloth, glass { areal_mass = "6 oz" })
  refused_for("areal_mass", { "mass per area", "length" }, rw.cloth, glass { areal_mass = "6 m" })
  refused_for("areal_mass", { "203 kg/m2" }, rw.cloth, glass { areal_mass = "203 kg/m2" })
end

function TestCloth.test_other_refusals()
  refused_for("weave", { "did you mean \"twill\"?" }, rw.cloth, glass { weave = "twil" })
  refused_for("hand", { "0.8", "plain" }, rw.cloth, glass { hand = 0.8 })
  refused_for("bagged", { "0" }, rw.cloth, glass { bagged = 0 })
  refused_for("crown", { "mm", "leave crown away" }, rw.cloth, glass { crown = "0.01 mm" })
  refused_for("area_mass", { "did you mean areal_mass?" }, rw.cloth, { area_mass = "203 g/m2" })
  local c = rw.cloth(glass())
  refused_for("fibre_share", { "0.9" }, c.thickness, c, { fibre_share = 0.9 })
  refused_for("fibre_share", { "42 %" }, c.thickness, c, { fibre_share = 42 })
  refused_for("resin_density", { "1.1 kg/m3" }, c.resin, c, { resin_density = "1.1 kg/m3" })
  refused_for("cloth", { "did you mean crown?" }, function() return c.crowns end)
end

TestShares = {}

-- Half and half by mass: (0.5/2540)/(0.5/2540 + 0.5/1100) = 1100/3640.
function TestShares.test_by_hand()
  local densities = { fibre_density = "2.54 g/cm3", resin_density = "1100 kg/m3" }
  local function with(name, value)
    return { [name] = value, fibre_density = densities.fibre_density,
      resin_density = densities.resin_density }
  end
  lu.assertAlmostEquals(rw.fibre_share(with("mass_share", "50 %")), 1100 / 3640, 1e-12)
  lu.assertAlmostEquals(rw.mass_share(with("volume_share", 1100 / 3640)), 0.5, 1e-12)
  lu.assertAlmostEquals(rw.laminate_density(with("mass_share", 0.5)):to "kg/m3",
    1 / (0.5 / 2540 + 0.5 / 1100), 1e-9)
end

function TestShares.test_refusals()
  refused_for("mass_share", { "50 %" }, rw.fibre_share,
    { mass_share = 50, fibre_density = "2.54 g/cm3", resin_density = "1.1 g/cm3" })
  refused_for("fibre_density", { "2.54 kg/m3" }, rw.fibre_share,
    { mass_share = 0.5, fibre_density = "2.54 kg/m3", resin_density = "1.1 g/cm3" })
  refused_for("resin_density", { "missing" }, rw.laminate_density,
    { mass_share = 0.5, fibre_density = "2.54 g/cm3" })
end

os.exit(lu.LuaUnit.run())
