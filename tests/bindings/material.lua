-- SPDX-License-Identifier: GPL-3.0-or-later
-- rw.materials: every table can be read, and values carry their units.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused_for = support.refused_for

-- luacheck: globals TestMaterial

TestMaterial = {}

local function named(kind, name)
  for _, material in ipairs(rw.materials { kind = kind }) do
    if material.name == name then
      return material
    end
  end
  lu.fail("no " .. kind .. " " .. name)
end

function TestMaterial.test_fibre()
  local glass = named("fibre", "e-glass")
  local density = glass.properties.density
  lu.assertAlmostEquals(density.value:to "g/cm3", 2.54, 1e-12)
  lu.assertEquals(density.value:dimension(), density.sd:dimension())
  lu.assertTrue(density.low <= density.value and density.value <= density.high)
  lu.assertAlmostEquals(glass.properties.E1.value:to "GPa", 72.4, 1e-9)
  lu.assertEquals(math.type(glass.properties.nu12.value), "float")
  lu.assertTrue(#glass.title > 0)
  lu.assertNil(glass.weave)
  lu.assertNil(glass.fibre)
end

function TestMaterial.test_cloth()
  local cloth = named("cloth", "glass-203-plain")
  lu.assertEquals(cloth.weave, "plain")
  lu.assertEquals(cloth.fibre, "e-glass")
  lu.assertAlmostEquals(cloth.properties.areal_mass.value:to "g/m2", 203, 1e-9)
end

-- A reading on a scale, and its spread as a difference.
function TestMaterial.test_temperatures()
  local glass = named("resin", "slow-polyetheramine").properties.Tg0
  lu.assertAlmostEquals(glass.value:to "degC", -22, 1e-9)
  lu.assertAlmostEquals(glass.sd:to "K", 5, 1e-9)
  refused_for("unit", {}, glass.sd.to, glass.sd, "degC")
end

function TestMaterial.test_every_number_has_its_ground()
  for _, kind in ipairs { "fibre", "cloth", "wood", "resin" } do
    local list = rw.materials { kind = kind }
    lu.assertTrue(#list > 2, kind)
    for _, material in ipairs(list) do
      for name, p in pairs(material.properties) do
        local what = kind .. " " .. material.name .. " " .. name
        lu.assertTrue(#p.standing > 0 and #p.source > 0, what)
        lu.assertTrue(p.low <= p.high, what)
        lu.assertNotNil(p.sd, what)
      end
    end
  end
end

function TestMaterial.test_refusals()
  refused_for("kind", { "missing" }, rw.materials, {})
  refused_for("kind", { "did you mean \"cloth\"?" }, rw.materials, { kind = "clotth" })
  refused_for("kinds", { "did you mean kind?" }, rw.materials, { kinds = "cloth" })
end

os.exit(lu.LuaUnit.run())
