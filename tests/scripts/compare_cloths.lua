-- SPDX-License-Identifier: GPL-3.0-or-later
-- The comparison of cloths on the demonstration boat.
package.path = "tests/scripts/?.lua;" .. package.path
local lu = require "luaunit"
local support = require "support"

local script = "scripts/compare-cloths.lua"

TestCompare = {}

local function rows(...)
  local by_name = {}
  for _, r in ipairs(support.json(support.runs(script, "scripts/demo", "--json", ...))) do
    by_name[r.cloth] = r
  end
  return by_name
end

function TestCompare.test_orders_are_physical()
  local r = rows()
  local light, heavy = r["glass-136-plain"], r["glass-203-plain"]
  lu.assertTrue(heavy.areal_mass.value > light.areal_mass.value)
  lu.assertTrue(heavy.stiff_across.value > light.stiff_across.value)
  lu.assertTrue(heavy.strong_skin.value > light.strong_skin.value)
  lu.assertTrue(r["carbon-200-plain"].stiff_across.value > 2 * heavy.stiff_across.value)
end

function TestCompare.test_frontier()
  local r = rows()
  for name, a in pairs(r) do
    local beaten = false
    for other, b in pairs(r) do
      beaten = beaten or other ~= name and b.areal_mass.value <= a.areal_mass.value
        and b.strong_skin.value >= a.strong_skin.value
    end
    lu.assertEquals(a.frontier, not beaten, name)
  end
end

function TestCompare.test_face()
  local both, outside = rows(), rows("--face", "outside")
  lu.assertTrue(outside["carbon-200-plain"].stiff_across.value
    < both["carbon-200-plain"].stiff_across.value)
end

function TestCompare.test_table_csv_and_list()
  lu.assertStrContains(support.runs(script, "scripts/demo"), "not an approval")
  local table_rows = support.csv(support.runs(script, "scripts/demo", "--csv"))
  lu.assertTrue(#table_rows >= 5)
  lu.assertStrContains(support.runs(script, "--list"), "glass-203-plain")
end

function TestCompare.test_picture()
  local folder = support.new_folder()
  support.runs(script, "scripts/demo", "--svg", folder .. "/cloths.svg")
  local svg = support.read(folder .. "/cloths.svg")
  lu.assertStrContains(svg, "carbon-200-plain")
  lu.assertStrContains(svg, "</svg>")
  support.remove_folder(folder)
end

function TestCompare.test_refuses()
  support.refused({ "glass-230-plain" }, script, "scripts/demo", "--cloths", "glass-230-plain")
  support.refused({ "FOLDER" }, script)
  support.refused({ "svg" }, script, "scripts/demo", "--svg", "no-such-folder/x.svg")
end

os.exit(lu.LuaUnit.run())
