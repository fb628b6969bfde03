-- SPDX-License-Identifier: GPL-3.0-or-later
-- The comparison of layups on the demonstration boat.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local boats = require "resinwright.boat"

-- luacheck: globals TestCompare

local script, demo = "scripts/compare-cloths.lua", "scripts/demo"

TestCompare = {}

local function json(...)
  return support.json(support.runs(script, demo, "--json", ...))
end

-- The only layup of one layer of a cloth on each face.
local function only(cloth, ...)
  local found = json("--layers", "1", "--cloths", cloth, ...)
  lu.assertEquals(found.compared, 1)
  return found.layups[1]
end

local function csv(...)
  return support.csv(support.runs(script, demo, "--csv", ...))
end

-- A number of a row of the CSV, by the beginning of its column's name.
local function number(row, key)
  for name, value in pairs(row) do
    if type(name) == "string" and name:match "^[%w_]+" == key then
      return tonumber(value)
    end
  end
end

function TestCompare.test_orders_are_physical()
  local light, heavy = only "glass-136-plain", only "glass-203-plain"
  for _, key in ipairs { "mass", "thickness", "resin", "bend_along", "bend_across", "hit_skins",
    "heel_skins", "hit" } do
    lu.assertTrue(heavy[key].value > light[key].value, key)
  end
  lu.assertTrue(light.hit.value < light.hit_skins.value)
end

-- Carbon of the very same mass, so that only the fibre differs.
function TestCompare.test_carbon_of_the_same_mass()
  local glass, carbon = only "glass-200-plain", only "carbon-200-plain"
  lu.assertTrue(carbon.bend_across.value > 2 * glass.bend_across.value)
  lu.assertTrue(carbon.bend_along.value > glass.bend_along.value)
end

-- As rw.laminate says it of the same plies.
function TestCompare.test_numbers_are_the_library_s()
  local found = only "glass-203-plain"
  local cloth = { cloth = rw.cloth { name = "glass-203-plain" } }
  local lam = rw.laminate { plies = { cloth, { wood = "western-redcedar",
    thickness = "5.5 mm" }, cloth } }
  local hit = { Mx = "1 N", My = "1 N", criterion = "tsai_wu" }
  lu.assertAlmostEquals(found.mass.value, lam.areal_mass:to(found.mass.unit), 1e-9)
  lu.assertAlmostEquals(found.bend_along.value, lam.bend_along.value:to "N m", 1e-8)
  lu.assertAlmostEquals(found.bend_along.low, lam.bend_along.low:to "N m", 1e-8)
  lu.assertAlmostEquals(found.hit.value, lam:first_failure(hit).factor, 1e-8)
  hit.among = "cloth"
  lu.assertAlmostEquals(found.hit_skins.value, lam:first_failure(hit).factor, 1e-8)
  lu.assertStrContains(found.first.hit, "western-redcedar")
  lu.assertStrContains(found.first.hit_skins, "glass-203-plain")
end

-- The list holds what is not beaten and nothing else: all of 49 against each other.
function TestCompare.test_front()
  local names = { "glass-110-plain-tight", "glass-203-plain", "flax-200-twill",
    "carbon-200-plain", "aramid-170-plain" }
  local rows = csv("--layers", "1", "--cloths", table.concat(names, ","))
  local planned = table.remove(rows)
  lu.assertEquals(planned.place, "planned")
  local all = {}
  for _, outside in ipairs(names) do
    for _, inside in ipairs(names) do
      local lam = rw.laminate { plies = { { cloth = rw.cloth { name = outside } },
        { wood = "western-redcedar", thickness = "5.5 mm" },
        { cloth = rw.cloth { name = inside } } } }
      all[#all + 1] = { outside = outside, inside = inside, mass = lam.areal_mass:si(),
        hit = lam:first_failure { Mx = "1 N", My = "1 N", among = "cloth",
          criterion = "tsai_wu" }.factor }
    end
  end
  local listed = {}
  for i, row in ipairs(rows) do
    lu.assertEquals(row.place, ("%d"):format(i))
    listed[row.outside .. "/" .. row.inside] = true
  end
  for _, a in ipairs(all) do
    local beaten = false
    for _, b in ipairs(all) do
      beaten = beaten or b.mass <= a.mass and b.hit >= a.hit
        and (b.mass < a.mass or b.hit > a.hit)
    end
    lu.assertEquals(listed[a.outside .. "/" .. a.inside] or false, not beaten, a.outside)
  end
  lu.assertTrue(#rows > 2 and #rows < 25)
end

function TestCompare.test_count_faces_layers_and_angles()
  local function count(...)
    return json("--cloths", "glass-136-plain,glass-203-plain", ...).compared
  end
  lu.assertEquals(count("--layers", "1"), 4)
  lu.assertEquals(count("--layers", "1-2"), 36)
  lu.assertEquals(count("--layers", "0-1"), 9)
  lu.assertEquals(count("--layers", "1", "--angles", "0 deg, 45 deg"), 16)
  lu.assertEquals(count("--layers", "1-2", "--face", "inside"), 6)
  local outside = json("--face", "outside", "--layers", "1")
  for _, row in ipairs(outside.layups) do
    lu.assertEquals(row.inside, "glass-136-plain") -- as the demonstration boat has it
  end
  lu.assertStrContains(only("glass-203-plain", "--angles", "45 deg").outside, "at 45 deg")
end

-- Every plank with every way to lay the faces, each told with its plank.
function TestCompare.test_planks()
  local found = json("--cloths", "glass-203-plain", "--layers", "1", "--planks",
    "western-redcedar 5.5 mm, okoume 4 mm", "--wish", "thickness, bend_along")
  lu.assertEquals(found.compared, 2)
  lu.assertEquals({ found.layups[1].plank, found.layups[2].plank },
    { "okoume 4 mm", "western-redcedar 5.5 mm" })
  local alone = only "glass-203-plain"
  lu.assertAlmostEquals(found.layups[2].mass.value, alone.mass.value, 1e-9)
  lu.assertNil(alone.plank)
  lu.assertStrContains(support.runs(script, demo, "--planks", "okoume 4 mm"), "; okoume 4 mm\n")
  local rows, head = csv("--planks", "okoume 4 mm, light-cedar 6 mm")
  lu.assertEquals(head[4], "plank")
  lu.assertTrue(rows[1].plank == "okoume 4 mm" or rows[1].plank == "light-cedar 6 mm")
end

-- A face of unlike layers stays as it is, too, and counts as what it is.
function TestCompare.test_unlike_layers_stay()
  local prices = "glass-136-plain 5 money/m2, glass-203-plain 6 money/m2, "
    .. "carbon-200-plain 32 money/m2"
  local layers = [[layers = { { cloth = "glass-203-plain" } },]]
  support.with_boat({ boat = { { layers, [[layers = { { cloth = "glass-203-plain" },
    { cloth = "carbon-200-plain", angle = "45 deg" } },]] } } }, function(folder)
    local lam = boats.laminate(boats.read(folder))
    local found = support.json(support.runs(script, folder, "--json", "--face", "inside",
      "--layers", "1", "--cloths", "glass-136-plain", "--prices", prices, "--resin-price",
      "10 money/kg"))
    local among = { hit = "all", hit_outside = "outside", hit_inside = "inside",
      hit_skins = "cloth" }
    for _, row in ipairs { found.planned, found.layups[1] } do
      lu.assertAlmostEquals(row.mass.value, lam.areal_mass:to(row.mass.unit), 1e-9)
      lu.assertAlmostEquals(row.bend_across.value, lam.bend_across.value:to "N m", 1e-8)
      lu.assertEquals(row.outside, "carbon-200-plain at 45 deg, glass-203-plain")
      for key, who in pairs(among) do
        lu.assertAlmostEquals(row[key].value, lam:first_failure { Mx = "1 N", My = "1 N",
          criterion = "tsai_wu", among = who }.factor, 1e-7, key)
      end
      local resin = rw.q(row.resin.value, row.resin.unit):to "kg/m2"
      lu.assertAlmostEquals(row.cost.value, 5 + 6 + 32 + 10 * resin, 1e-9)
    end
    support.refused({ "carbon-200-plain", "stays on the other face" }, script, folder, "--face",
      "inside", "--cloths", "glass-136-plain", "--prices", "glass-136-plain 5 money/m2, "
      .. "glass-203-plain 6 money/m2")
  end)
end

-- What no row that is shown has is still told of the boat as planned.
function TestCompare.test_wood_alone_is_the_lightest()
  local found = json("--layers", "0-1", "--wish", "mass")
  lu.assertEquals({ found.layups[1].outside, found.layups[1].inside }, { "nothing", "nothing" })
  lu.assertNil(found.layups[1].hit_skins)
  lu.assertTrue(found.planned.hit_skins.value > 0)
  lu.assertEquals(found.planned.resin.unit, "kg/m2")
  lu.assertStrContains(support.runs(script, demo, "--layers", "0-1", "--wish", "mass"), "none")
end

function TestCompare.test_text_csv_and_json_agree()
  local text, found = support.runs(script, demo), json()
  local rows, head = csv()
  lu.assertStrContains(text, "not an approval")
  lu.assertEquals(found.compared, 56 * 56)
  lu.assertEquals(#rows, found.unbeaten + 1)
  lu.assertEquals(#found.layups, 12)
  lu.assertEquals(head[1], "place")
  local mass = 0
  for _, row in ipairs(found.layups) do
    local listed = rows[row.place]
    lu.assertEquals({ listed.outside, listed.inside }, { row.outside, row.inside })
    for _, key in ipairs { "mass", "thickness", "resin", "bend_along", "hit_skins", "heel" } do
      lu.assertAlmostEquals(number(listed, key), row[key].value, 1e-9, key)
    end
    lu.assertTrue(row.mass.value >= mass, "not from light to heavy")
    mass = row.mass.value
    local printed = text:match(("\n%3d +([%%d.]+)"):format(row.place))
    lu.assertAlmostEquals(tonumber(printed), row.mass.value, 0.0006)
    lu.assertStrContains(text, ("%3d  outside %s; inside %s"):format(row.place, row.outside,
      row.inside))
  end
  lu.assertStrContains(text, "planned")
end

function TestCompare.test_wishes_and_trials()
  local found = json("--wish", "bend_across 3, mass", "--draws", "100", "--show", "6")
  lu.assertEquals(found.wishes[1].weight, 3)
  lu.assertEquals(#found.layups, 6)
  local sum = 0
  for _, row in ipairs(found.layups) do
    sum = sum + row.trials.first
    lu.assertTrue(row.trials.best <= row.trials.worst and row.trials.worst <= 6)
  end
  lu.assertAlmostEquals(sum, 1, 1e-9)
  local stiff = json("--wish", "bend_across", "--show", "1").layups[1]
  local light = json("--wish", "mass", "--show", "1").layups[1]
  lu.assertTrue(stiff.bend_across.value > 2 * light.bend_across.value)
  lu.assertTrue(stiff.mass.value > light.mass.value)
end

-- Cloth by area, resin by mass; the demonstration boat's larger pack tells the resin's price.
function TestCompare.test_cost()
  local row = only("glass-203-plain", "--prices", "glass-203-plain 6 money/m2")
  local cost = 2 * 6 + 121 / 5.4 * rw.q(row.resin.value, row.resin.unit):to "kg/m2"
  lu.assertAlmostEquals(row.cost.value, cost, 1e-9)
  local free = only("glass-203-plain", "--prices", "glass-203-plain 6 money/m2",
    "--resin-price", "10 money/kg")
  lu.assertTrue(free.cost.value < row.cost.value)
  lu.assertNil(only "glass-203-plain".cost)
  lu.assertStrContains(support.runs(script, demo, "--wish", "cost, hit", "--cloths",
    "glass-203-plain", "--prices", "glass-203-plain 6 money/m2"), "money/m2")
end

function TestCompare.test_units_of_the_reader()
  local text = support.runs(script, demo, "--units", "us")
  for _, unit in ipairs { "oz/yd2", "lbf in" } do
    lu.assertStrContains(text, unit)
  end
end

function TestCompare.test_list_and_help()
  local list = support.runs(script, "--list")
  for _, name in ipairs { "glass-203-plain", "carbon-200-plain", "aramid-170-plain" } do
    lu.assertStrContains(list, name)
  end
  local help = support.runs(script, "--help")
  for _, word in ipairs { "--cloths", "--face both or outside or inside", "--layers", "--wish",
    "--svg", "--page", "--list" } do
    lu.assertStrContains(help, word)
  end
end

local function count(text, pattern)
  return select(2, text:gsub(pattern, ""))
end

function TestCompare.test_picture_and_page()
  local folder = support.new_folder()
  local svg_path, page_path = folder .. "/layups.svg", folder .. "/layups.html"
  local found = support.json(support.runs(script, demo, "--json", "--layers", "1", "--svg",
    svg_path, "--page", page_path))
  local svg, page = support.read(svg_path), support.read(page_path)
  lu.assertEquals(support.files(folder), { "layups.html", "layups.svg" })
  support.remove_folder(folder)
  support.check_tags(svg)
  support.check_tags(page)
  for _, row in ipairs(found.layups) do
    lu.assertStrContains(svg, (">%d: outside %s; inside %s<"):format(row.place, row.outside,
      row.inside))
    lu.assertStrContains(page, row.outside)
  end
  for _, words in ipairs { "Sandpiper", ">planned<", "Grey: 49 of the 49 layups compared" } do
    lu.assertStrContains(svg, words)
  end
  lu.assertEquals(count(svg, "h%.01"), 49)
  lu.assertEquals(count(svg, '<circle[^>]*fill="#000"'), found.unbeaten)
  for _, words in ipairs { "not an approval", "What gives way first", "<svg" } do
    lu.assertStrContains(page, words)
  end
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
  said({ "--layers", '"3-2"', "0-2" }, demo, "--layers", "3-2")
  said({ "--layers", '"two"' }, demo, "--layers", "two")
  said({ "layups", "a million", "fewer" }, demo, "--layers", "1-9")
  said({ "--angles", "45", "no unit", '"45 deg"' }, demo, "--angles", "45")
  said({ "--angles", "500 deg", "360 deg" }, demo, "--angles", "500 deg")
  said({ "--wish", '"mas"', '"mass"' }, demo, "--wish", "mas, hit")
  said({ "--wish", "hit", '"0"', "above 0" }, demo, "--wish", "hit 0")
  said({ "--wish", "cost", "--prices" }, demo, "--wish", "cost")
  said({ "--wish", "hit_skins", "Lay some cloth" }, demo, "--layers", "0")
  said({ "--prices", "glass-203-plain", "no price", "6 money/m2" }, demo, "--prices",
    "glass-203-plain")
  said({ "--prices", "glass-110-plain-tight", "every cloth" }, demo, "--prices",
    "glass-203-plain 6 money/m2")
  said({ "--prices", "6 kg", "money per area" }, demo, "--prices", "glass-203-plain 6 kg")
  said({ "--resin-price", "unit" }, demo, "--resin-price", "19")
  said({ "--resin-price", "19 money", "money per mass" }, demo, "--resin-price", "19 money")
  said({ "--planks", '"okoume"', "no thickness", "okoume 6 mm" }, demo, "--planks", "okoume")
  said({ "--planks", '"okume"', '"okoume"' }, demo, "--planks", "okume 4 mm")
  said({ "--planks", "thickness", "4", "no unit" }, demo, "--planks", "okoume 4")
  said({ "--planks", "angle", "45", "no unit" }, demo, "--planks", "okoume 4 mm @ 45")
  said({ "--wood-scatter", "0.8", "0.5" }, demo, "--wood-scatter", "80 %")
  said({ "--draws", "0", "1 to 1000000" }, demo, "--draws", "0")
  said({ "--show", "x", "whole number" }, demo, "--show", "x")
  said({ "FOLDER is missing" })
  said({ "no-such-folder/boat.lua", "no file" }, "no-such-folder")
  said({ "no-such-folder/x.svg", "folder does not exist", "--svg" }, demo, "--svg",
    "no-such-folder/x.svg")
  said({ "no-such-folder/x.html", "folder does not exist", "--page" }, demo, "--page",
    "no-such-folder/x.html")
end

os.exit(lu.LuaUnit.run())
