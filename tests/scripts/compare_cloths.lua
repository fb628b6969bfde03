-- SPDX-License-Identifier: GPL-3.0-or-later
-- The comparison of cloths on the demonstration boat.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"

-- luacheck: globals TestCompare

local script, demo = "scripts/compare-cloths.lua", "scripts/demo"

local cloths = { "glass-110-plain-tight", "glass-136-plain", "glass-203-plain", "glass-280-twill",
  "s-glass-190-plain", "carbon-200-plain", "aramid-170-plain" }

TestCompare = {}

local function rows(...)
  local by_name = {}
  for _, r in ipairs(support.json(support.runs(script, demo, "--json", ...))) do
    by_name[r.cloth] = r
  end
  return by_name
end

function TestCompare.test_orders_are_physical()
  local r = rows()
  local light, heavy = r["glass-136-plain"], r["glass-203-plain"]
  for _, key in ipairs { "areal_mass", "thickness", "resin", "stiff_along", "stiff_across",
    "strong_skin" } do
    lu.assertTrue(heavy[key].value > light[key].value, key)
  end
end

-- Carbon of the very same mass, so that only the fibre differs.
function TestCompare.test_carbon_of_the_same_mass()
  local r = rows("--cloths", "glass-200-plain,carbon-200-plain")
  local glass, carbon = r["glass-200-plain"], r["carbon-200-plain"]
  lu.assertTrue(carbon.stiff_across.value > 2 * glass.stiff_across.value)
  lu.assertTrue(carbon.stiff_along.value > glass.stiff_along.value)
end

-- Flax is heavier than the carbon here, and its skins hold less.
function TestCompare.test_frontier()
  local names = "glass-110-plain-tight,flax-200-twill,glass-203-plain,carbon-200-plain"
  local r, text = rows("--cloths", names), support.runs(script, demo, "--cloths", names)
  for name, a in pairs(r) do
    local beaten = false
    for other, b in pairs(r) do
      beaten = beaten or other ~= name and b.areal_mass.value <= a.areal_mass.value
        and b.strong_skin.value >= a.strong_skin.value
    end
    lu.assertEquals(a.frontier, not beaten, name)
    lu.assertEquals(text:match("\n([* ]) " .. name:gsub("%-", "%%-") .. " +%d"),
      beaten and " " or "*", name)
  end
  lu.assertFalse(r["flax-200-twill"].frontier)
  lu.assertTrue(r["carbon-200-plain"].frontier)
end

function TestCompare.test_face()
  local both = rows()
  for _, face in ipairs { "outside", "inside" } do
    local one = rows("--face", face)
    lu.assertTrue(one["carbon-200-plain"].stiff_across.value
      < both["carbon-200-plain"].stiff_across.value)
  end
  -- The demonstration boat has this cloth outside, that one inside.
  lu.assertEquals(rows("--face", "outside")["glass-203-plain"].areal_mass.value,
    rows("--face", "inside")["glass-136-plain"].areal_mass.value)
end

function TestCompare.test_table_csv_and_json_agree()
  local text = support.runs(script, demo)
  lu.assertStrContains(text, "not an approval")
  local r = rows()
  local listed, head = support.csv(support.runs(script, demo, "--csv"))
  lu.assertEquals(#listed, #cloths)
  lu.assertEquals(head[1], "cloth")
  local before = 0
  for _, line in ipairs(listed) do
    for i = 2, #head do
      local key, unit = head[i]:match "^([%w_]+) %[(.+)%]$"
      lu.assertEquals(unit, r[line.cloth][key].unit)
      lu.assertAlmostEquals(tonumber(line[head[i]]), r[line.cloth][key].value, 1e-9)
    end
    local mass = r[line.cloth].areal_mass
    lu.assertTrue(mass.value >= before, "not by mass")
    before = mass.value
    local printed = text:match("[* ] " .. line.cloth:gsub("%-", "%%-") .. " +([%d.]+ kg/m2)")
    lu.assertAlmostEquals(rw.q(printed):to(mass.unit), mass.value, 0.006)
  end
end

function TestCompare.test_units_of_the_reader()
  lu.assertStrContains(support.runs(script, demo, "--units", "us"), "oz/yd2")
end

function TestCompare.test_list_and_help()
  local list = support.runs(script, "--list")
  for _, name in ipairs(cloths) do
    lu.assertStrContains(list, name)
  end
  local help = support.runs(script, "--help")
  for _, word in ipairs { "--cloths", "--face both or outside or inside", "--svg", "--list" } do
    lu.assertStrContains(help, word)
  end
end

-- Every element opened is closed again, in order.
local function assert_well_formed(markup)
  local open = {}
  for close, name, rest in markup:gmatch "<(/?)([%w:]+)([^>]*)>" do
    if close == "/" then
      lu.assertEquals(table.remove(open), name)
    elseif rest:sub(-1) ~= "/" then
      open[#open + 1] = name
    end
  end
  lu.assertEquals(open, {})
end

function TestCompare.test_picture()
  local folder = support.new_folder()
  local path = folder .. "/cloths.svg"
  support.runs(script, demo, "--svg", path)
  local svg = support.read(path)
  lu.assertEquals(support.files(folder), { "cloths.svg" })
  support.remove_folder(folder)
  lu.assertStrContains(svg, "</svg>")
  assert_well_formed(svg)
  for _, name in ipairs(cloths) do
    lu.assertStrContains(svg, name)
  end
  lu.assertStrContains(svg, "Sandpiper")
end

function TestCompare.test_refuses()
  local function said(words, ...)
    local _, printed = support.refused(words, script, ...)
    lu.assertEquals(printed, "")
  end
  said({ '"glass-203-plane"', '"glass-203-plain"' }, demo, "--cloths", "glass-203-plane")
  said({ "no cloths to compare", "--list" }, demo, "--cloths", ",")
  said({ "--cloths needs a value" }, demo, "--cloths")
  said({ "--face", '"top"', "both, outside, inside" }, demo, "--face", "top")
  said({ "FOLDER is missing" })
  said({ "no-such-folder/boat.lua", "no file" }, "no-such-folder")
  said({ "no-such-folder/x.svg", "folder does not exist", "--svg" }, demo, "--svg",
    "no-such-folder/x.svg")
end

function TestCompare.test_no_inside_skin()
  local folder = support.boat()
  local path = folder .. "/boat.lua"
  local content = support.read(path)
  local from, to = content:find "\n  inside = {.-\n  },\n"
  support.write(path, content:sub(1, from) .. content:sub(to + 1))
  local printed = support.runs(script, folder, "--face", "outside")
  support.refused({ "boat.lua", "no inside skin" }, script, folder, "--face", "inside")
  support.remove_folder(folder)
  lu.assertStrContains(printed, "carbon-200-plain")
end

os.exit(lu.LuaUnit.run())
