-- SPDX-License-Identifier: GPL-3.0-or-later
-- A boat folder with one thing wrong is refused in a sentence that names the file, the field as
-- the boat file calls it, and what was found; nothing is printed and nothing is written.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"

-- luacheck: globals TestFolder TestTables TestBoatFile TestDay TestCommand

local script = "scripts/plan-day.lua"
local NO_SHEET = "--no-sheet"
local with_boat = support.with_boat

-- The sentence begins with the place in the folder and has the words.
local function refused(changes, place, words)
  with_boat(changes, function(folder)
    local said, printed = support.refused(words, script, folder, NO_SHEET)
    lu.assertStrContains(said, ("plan-day: %s/%s"):format(folder, place))
    lu.assertEquals(printed, "")
    lu.assertEquals(support.files(folder), { "air.csv", "boat.lua", "stations.csv" })
  end)
end

-- Every entry is { old, new, words ... }, a change of boat.lua.
local function each_refused(cases)
  for _, case in ipairs(cases) do
    refused({ boat = { { case[1], case[2] } } }, "boat.lua", { table.unpack(case, 3) })
  end
end

TestFolder = {}

-- Puts content, nothing or a folder in a file's place and expects a refusal.
local function replaced(name, content, words, place)
  with_boat(nil, function(folder)
    local path = folder .. "/" .. name
    assert(os.remove(path))
    if content == "folder" then
      support.make_folder(path)
    elseif content then
      support.write(path, content)
    end
    local said, printed = support.refused(words, script, folder, NO_SHEET)
    lu.assertStrContains(said, folder .. "/" .. (place or name))
    lu.assertEquals(printed, "")
  end)
end

local binary = "\0\1\2\255\254" .. ("\0"):rep(300)

function TestFolder.test_no_such_folder()
  with_boat(nil, function(folder)
    support.refused({ folder .. "/none/boat.lua", "no file" }, script, folder .. "/none", NO_SHEET)
    support.refused({ "boat.lua/boat.lua" }, script, folder .. "/boat.lua", NO_SHEET)
  end)
end

function TestFolder.test_boat_file()
  replaced("boat.lua", nil, { "there is no file" })
  replaced("boat.lua", "", { "returns nothing", "return {" })
  replaced("boat.lua", "\n\n", { "returns nothing" })
  replaced("boat.lua", binary, { "cannot be read" })
  replaced("boat.lua", string.dump(load "return {}"), { "compiled", "plain text" })
  replaced("boat.lua", "folder", { "is a folder, not a file" })
  replaced("boat.lua", "return 7", { "a table is wanted" })
  replaced("boat.lua", "return {}", { "name is missing" })
  replaced("boat.lua", "return { name = function() end }", { "function" })
end

function TestFolder.test_stations()
  replaced("stations.csv", nil, { "there is no file" })
  replaced("stations.csv", "", { "the table is empty", "line 1" })
  replaced("stations.csv", binary, { "no text", "line 1" })
  replaced("stations.csv", "folder", { "is a folder, not a file" })
  replaced("stations.csv", "x [m],girth [mm]\n", { "three stations or more", "found 0" })
  replaced("stations.csv", "x [m],girth [mm]\n0,500\n1,600\n", { "three stations", "found 2" })
  replaced("stations.csv", "caf\xe9 [m],girth [mm]\n0,500\n", { "no column" })
  replaced("stations.csv", "x [m],girth [mm]\n0,500\n1,600\n0.5,600\n", { "line 4", "rise" })
end

function TestFolder.test_log()
  replaced("air.csv", nil, { "there is no file" })
  replaced("air.csv", "", { "the table is empty", "line 1" })
  replaced("air.csv", binary, { "no text", "line 1" })
  replaced("air.csv", "folder", { "is a folder, not a file" })
  replaced("air.csv", "time,air [degC]\n", { "two readings or more", "found 0" })
  replaced("air.csv", "time,air [degC]\n2026-10-03 06:00,9\n", { "found 1" })
  replaced("air.csv", "time,air [degC]\n2026-10-03 06:00,9\n2026-10-03 20:00,9\n",
    { "must cover 24 h" }, "boat.lua")
end

TestTables = {}

function TestTables.test_stations()
  local function said(old, new, ...)
    refused({ stations = { { old, new } } }, "stations.csv", { ... })
  end
  said("girth [mm]", "gurth [mm]", '"girth"', '"gurth [mm]"')
  said("girth [mm]", "girth", '"girth"', "unit")
  said("girth [mm]", "girth [kg]", '"girth [kg]"', "length")
  said("1.8,1180", "1.8,wide", "line 6", '"girth [mm]"', '"wide"')
  said("1.8,1180", "1.8,-1180", "line 6", "girth", "-1.18 m")
  said("1.8,1180", "1.8,118000", "line 6", "girth", "118 m")
  said("1.8,1180", "1.8", "line 6")
end

function TestTables.test_log()
  local function said(old, new, ...)
    refused({ air = { { old, new } } }, "air.csv", { ... })
  end
  said("air [degC]", "air", '"air"', "unit", "[degC]")
  said("air [degC]", "air [m]", '"air [m]"')
  said("2026-10-03 14:00,20", "2026-10-03 14:00,68", "line 6", "68 degC", "degF")
  said("2026-10-03 14:00,20", "2026-10-03 14:00,warm", "line 6", '"warm"', "air [degC]")
  said("2026-10-03 12:00", "2026-10-03 08:00", "line 5", "goes back")
  said("2026-10-03 12:00", "noon", "line 5", '"noon"')
  said("2026-10-03 14:00,20,55", "2026-10-03 14:00,20,155", "line 6", "humidity")
end

TestBoatFile = {}

function TestBoatFile.test_wood()
  each_refused {
    { '"5.5 mm"', '"0 mm"', "wood.thickness", "above zero", "0 m" },
    { '"5.5 mm"', '"-5.5 mm"', "wood.thickness", "above zero", "-0.0055 m" },
    { '"5.5 mm"', '"5.5 m"', "wood.thickness", "5.5 m", "60 mm" },
    { '"5.5 mm"', "5.5", "wood.thickness", "5.5", "no unit" },
    { '"5.5 mm"', '"5.5"', "wood.thickness", "5.5", "no unit" },
    { '"5.5 mm"', '"5.5 g"', "wood.thickness", "5.5 g", "length" },
    { ', thickness = "5.5 mm"', "", "wood.thickness is missing" },
    { "western-redcedar", "western-redceder", '"western-redceder"', '"western-redcedar"' },
    { "western-redcedar", "brick", '"brick"', "western-redcedar" },
    { '"5.5 mm"', '"5.5 mm", veneers = 4', "wood.veneers", "odd" },
    { '"5.5 mm"', '"5.5 mm", cut = "rift"', "wood.cut", "flat, quarter" },
    { '"5.5 mm"', '"5.5 mm", modulus = "70 GPa"', "wood.modulus", "70" },
    { '"5.5 mm"', '"5.5 mm", veneer = 3', '"wood.veneer"', '"veneers"' },
    { '"5.5 mm"', '"5.5 mm", layers = { { thickness = "3 mm" } }',
      "wood.thickness stands beside wood.layers" },
  }
end

function TestBoatFile.test_wood_in_layers()
  local function layers(words)
    return { 'thickness = "5.5 mm"', "layers = { " .. words .. " }" }
  end
  local function said(words, ...)
    local change = layers(words)
    each_refused { { change[1], change[2], ... } }
  end
  said("", "wood.layers is empty")
  said('{ angle = "45 deg" }', "wood.layers[1].thickness is missing")
  said('{ thickness = "3 mm" }, { thickness = "-3 mm" }', "wood.layers[2].thickness",
    "above zero")
  said('{ thickness = "3 mm", name = "okume" }', '"okume"', '"okoume"')
  said('{ thickness = "3 mm", angle = 45 }', "wood.layers[1].angle", "45", "no unit")
  said('{ thickness = "40 mm" }, { thickness = "40 mm" }', "wood.layers", "80 mm", "60 mm")
  said('"3 mm"', "wood.layers[1]", "table")
end

local layer = '{ cloth = "glass-203-plain" }'

function TestBoatFile.test_layers()
  local function roll(areal_mass)
    return ('{ fibre = "e-glass", areal_mass = %s, weave = "plain" }'):format(areal_mass)
  end
  local place = "outside.layers[1]"
  each_refused {
    { layer, roll '"6 oz"', place, "areal_mass", '"6 oz"', "oz/yd2", "oz/ft2" },
    { layer, roll "203", place, "areal_mass", "203", "no unit" },
    { layer, roll '"203 g"', place, "areal_mass", '"203 g"', "mass per area" },
    { layer, roll '"-203 g/m2"', place, "areal_mass", "-0.203" },
    { "glass-203-plain", "glass-203-plane", place, '"glass-203-plane"', '"glass-203-plain"' },
    { layer, '{ cloth = "glass-203-plain", hand = "75 %" }', place, "hand", "0.75", "0.7" },
    { layer, '{ cloth = "glass-203-plain", angle = "45" }', place .. ".angle", "45", "no unit" },
    { layer, '"glass-203-plain"', place, "must be a table" },
    { "{ " .. layer .. " }", "{}", "outside.layers is empty" },
    { "{ " .. layer .. " }", layer, "outside.layers is a list", '"cloth"' },
  }
end

function TestBoatFile.test_ounces_that_are_clear()
  local change = { layer, '{ fibre = "e-glass", areal_mass = "6 oz/yd2", weave = "plain" }' }
  with_boat({ boat = { change } }, function(folder)
    lu.assertStrContains(support.runs(script, folder, NO_SHEET), "bending stiffness along")
  end)
end

function TestBoatFile.test_faces()
  local cover = 'cover = { low = "0.10 mm", high = "0.25 mm" }'
  each_refused {
    { cover, 'cover = "0.1"', "outside.cover", "no unit" },
    { cover, 'cover = { low = "0.3 mm", high = "0.1 mm" }', "outside.cover", "above high" },
    { cover, 'cover = { low = "0.1 mm", hihg = "0.3 mm" }', "outside.cover", "high" },
    { 'waste = { low = "8 %", high = "20 %" },        --', 'waste = "150 %", --',
      "outside.waste", "1.5" },
    { cover, cover .. ', layup = "vacuum"', "outside.layup", "vacuum", "bagged" },
  }
end

-- Test panels in place of what is known of wood, cloth and coats.
function TestBoatFile.test_panels()
  local cover = 'cover = { low = "0.10 mm", high = "0.25 mm" }'
  local one = '{ area = "500 cm2", bare = "1204 g", wet_out = "1227 g", filled = "1247 g" }'
  local function both(second) return ("panels = { %s, %s }"):format(one, second) end
  each_refused {
    { cover, both(one) .. "," .. cover, "outside.cover", "panels" },
    { cover, both(one) .. ', soak = "60 g/m2"', "outside.soak", "panels" },
    { cover, both(one) .. ', uptake = { wet_out = "1 kg/m2", filling = "1 kg/m2" }',
      "outside.uptake", "panels" },
    { cover, 'uptake = { wet_out = "1 kg/m2" }', "outside.uptake.filling", "missing" },
    { cover, 'uptake = { wet_out = "1 kg", filling = "1 kg/m2" }', "outside.uptake.wet_out",
      "mass per area" },
    { cover, "panels = { " .. one .. " }", "outside.panels", "one panel" },
    { cover, both((one:gsub("500 cm2", "500 m2"))), "outside.panels[2].area", "500 m2" },
    { cover, both((one:gsub("1227 g", "1227"))), "outside.panels[2].wet_out", "no unit" },
    { cover, both((one:gsub("1227 g", "1208 g"))), "outside.panels", "panel 2", "dry cloth" },
    { cover, both((one:gsub("filled", "fillde"))), '"outside.panels[2].fillde"', '"filled"' },
    { cover, "panels = " .. one, "outside.panels is a list" },
    { cover, "weighed_with_cloth = true", "outside.weighed_with_cloth", "panels" },
    { cover, both(one) .. ', weighed_with_cloth = "yes"', "outside.weighed_with_cloth",
      "true or false" },
  }
end

-- Fields that nobody knows, at each level, with the nearest that somebody does.
function TestBoatFile.test_unknown_fields()
  each_refused {
    { 'name = "Sandpiper"', 'nane = "Sandpiper"', '"nane"', '"name"' },
    { "stations =", "station =", '"hull.station"', '"stations"' },
    { "thickness =", "thicknes =", '"wood.thicknes"', '"thickness"' },
    { 'cover = { low = "0.10', 'cuver = { low = "0.10', '"outside.cuver"', '"cover"' },
    { layer, '{ clooth = "glass-203-plain" }', '"outside.layers[1].clooth"', '"cloth"' },
    { "class =", "clas =", "resin", "clas", "class" },
    { "pot_life =", "potlife =", "resin.label.potlife", "pot_life" },
    { "lag =", "lagg =", '"shop.lagg"', '"lag"' },
    { 'from = "2026', 'form = "2026', '"day.form"', "from, start, to" },
    { "rate =", "rat =", '"crew.rat"', '"rate"' },
    { '"1.00 m", shortfall', '"1.00 m", shortfal', '"rolls[1].shortfal"', '"shortfall"' },
    { '"1.4 kg", price', '"1.4 kg", prise', '"packs[1].prise"', '"price"' },
    { '"varnish", mass', '"varnish", mas', '"weights[3].mas"', '"mass"' },
    { "lap =", "lapp =", '"lapp"', '"lap"' },
  }
end

function TestBoatFile.test_resin()
  each_refused {
    { "slow-polyetheramine", "slow-polyetheramin", "resin", '"slow-polyetheramin"',
      '"slow-polyetheramine"' },
    { "hardener = 0.36", "hardener = 36", "resin.label.hardener", "36", "0.44" },
    { 'pot_life = "45 min"', "pot_life = 45", "resin.label.pot_life", "45", "no unit" },
    { 'pot_life = "45 min"', 'pot_life = "-45 min"', "resin.label", "-" },
    { 'pot_life = "45 min"', 'pot_life = "45 g"', "resin.label.pot_life", '"45 g"', "time" },
    { 'pot_temperature = "25 degC"', 'pot_temperature = "77 degC"', "resin.label", "77" },
    { 'recoat_to = "14 h"', 'recoat_to = "4 h"', "resin.label", "recoat" },
  }
  refused({ boat = { { 'pot_life = "45 min", ', "" },
    { '      recoat_from = "6 h", recoat_to = "14 h", recoat_temperature = "21 degC",\n', "" } } },
    "boat.lua", { "resin", "no time at all", "pot life" })
end

function TestBoatFile.test_shop()
  each_refused {
    { '"air.csv"', '"../air.csv"', "shop.log", "own folder" },
    { '"air.csv"', '"/etc/hostname"', "shop.log", "own folder" },
    { '"air.csv"', "7", "shop.log", "own folder" },
    { '"stations.csv"', '"sub/stations.csv"', "hull.stations", "own folder" },
    { '"stations.csv"', '".."', "hull.stations", "own folder" },
    { '"air.csv"', '"aer.csv"', "aer.csv", "no file" },
    { '"35 min"', '"-35 min"', "shop.lag" },
    { '"1.5 K"', '"1.5 degC"', "shop.temperature_sd", '"1.5 degC"', "difference" },
    { '"repeat_day"', '"repeat"', "shop.after", '"repeat"', "hold, repeat_day" },
  }
end

local rate = 'rate = { low = "0.03 m2/min", high = "0.06 m2/min" }'

function TestBoatFile.test_crew()
  each_refused {
    { rate, 'rate = "0 m2/min"', "crew.rate is 0" },
    { rate, 'rate = "0.03 m2"', "crew.rate", '"0.03 m2"', "area per time" },
    { rate, "rate = 0.03", "crew.rate", "0.03", "no unit" },
    { rate .. ",", "", "crew.rate is missing" },
    { 'cup = "90 mm"', 'cup = "90 mm", tray = { length = "0.3 m", width = "0.2 m" }',
      "crew.cup", "tray" },
    { '"400 g"', '"14 oz"', "crew.largest", '"14 oz"' },
    { '"400 g"', '"4 g"', "crew.largest", "found 4 g", "20 g or more" },
  }
end

function TestBoatFile.test_prices_and_weights()
  each_refused {
    { '"7.20 money/m"', '"-7.20 money/m"', "rolls[1].price", "-7.2 money/m" },
    { '"38 money"', '"-38 money"', "packs[1].price", "-38 money" },
    { '"38 money"', '"38 crowns"', "packs[1].price", '"38 crowns"', '"38 money"' },
    { '"38 money"', "38", "packs[1].price", "38", "no unit" },
    { ', price = "38 money"', "", "packs[1].price is missing" },
    { 'mass = "1.4 kg"', 'mass = "0 kg"', "packs[1].mass is 0", "above 0" },
    { 'mass = "1.4 kg", ', "", "packs[1].mass is missing" },
    { '{ width = "1.00 m", ', "{ ", "rolls[1].width is missing" },
    { '{ width = "1.00 m", ', '{ width = "-1.00 m", ', "rolls[1].width", "-1 m" },
    { '"60 mm"', '"-60 mm"', "overhang", "-0.06 m" },
    { 'lap = "50 mm"', 'lap = "2 m"', "lap", "2 m" },
    { '{ name = "varnish", mass = { low = "0.5 kg", high = "0.9 kg" } }', '{ name = "varnish" }',
      "weights[3].mass is missing" },
  }
end

function TestBoatFile.test_words()
  each_refused {
    { 'name = "Sandpiper"', "name = 7", "name must be words", "number" },
    { 'name = "Sandpiper",', "", "name is missing" },
    { 'note = "invented boat, shop, label and prices"', "note = {}", "note", "table" },
    { 'currency = "crowns"', "currency = true", "currency", "boolean" },
    { 'hull = { stations = "stations.csv" }', "hull = 5", "hull must be a table", "number" },
    { 'hull = { stations = "stations.csv" }', "hull = {}", "hull.girth is missing" },
    { 'currency = "crowns"', 'chance = "105 %"', "chance", '"105 %"' },
    { 'name = "Sandpiper",', 'name = "Sandpiper"', "line", "comma" },
  }
end

-- Nothing outside the folder can be reached, and nothing runs on for ever.
function TestBoatFile.test_a_file_from_a_stranger()
  local before = support.files "."
  for _, case in ipairs {
    { 'os.execute("touch caught")', '"os"' },
    { 'io.open("caught", "w")', '"io"' },
    { 'require "os"', '"require"' },
    { 'load("return 1")()', '"load"' },
    { 'dofile("scripts/demo/boat.lua")', '"dofile"' },
    { "while true do end", "never ends" },
    { "local function f() return f() end f()", "never ends" },
    { 'local s = "x" while true do s = s .. s end', "memory" },
    { "local t = {} for i = 1, 1e9 do t[i] = { i } end", "line" },
  } do
    refused({ boat = { { "return {", case[1] .. "\nreturn {" } } }, "boat.lua",
      { case[2], "line" })
  end
  refused({ boat = { { "return {", "local t = {" } } }, "boat.lua", { "returns nothing" })
  lu.assertEquals(support.files ".", before)
end

TestDay = {}

function TestDay.test_hours_that_cannot_be()
  each_refused {
    { 'to = "2026-10-03 20:00"', 'to = "2026-10-03 07:00"', "day.to lies before day.from" },
    { 'to = "2026-10-03 20:00"', 'to = "2026-10-09 20:00"', "longer than four days" },
    { '"2026-10-03 08:00"', '"Saturday"', "day.from", '"Saturday"', "2026-10-03 15:30" },
    { '"2026-10-03 08:00"', '"2026-13-03 08:00"', "day.from", "month", "13", "1 to 12" },
    { '"2026-10-03 08:00"', '"2025-10-03 08:00"', "day.from", "2025-10-03 08:00",
      "2026-10-03 06:00 to 2026-10-05 18:00" },
  }
end

function TestDay.test_no_days_work()
  each_refused { { rate, 'rate = { low = "0.1 m2/h", high = "0.2 m2/h" }', "crew.rate",
    "no day's work", "35 h" } }
end

function TestDay.test_not_even_a_small_batch()
  refused({ boat = { { "slow-polyetheramine", "fast-polyamine" },
    { 'pot_life = "45 min"', 'pot_life = "12 min"' }, { 'mixing = "3 min"', 'mixing = "50 min"' },
    { '      recoat_from = "6 h", recoat_to = "14 h", recoat_temperature = "21 degC",\n', "" } } },
    "boat.lua", { "crew", "not even 20 g", "slower hardener" })
end

TestCommand = {}

function TestCommand.test_refusals()
  local demo = "scripts/demo"
  local function said(words, ...)
    local _, printed = support.refused(words, script, ...)
    lu.assertEquals(printed, "")
  end
  said({ "FOLDER is missing" }, "")
  said({ "there is no option --shet", "--sheet" }, demo, "--shet", "x")
  said({ "--units needs a value", "metric or us" }, demo, "--units")
  said({ "--units", '"imperial"', "metric, us" }, demo, "--units", "imperial")
  said({ "--start", '"nonsense"', "2026-10-03 15:30" }, demo, NO_SHEET, "--start", "nonsense")
  said({ "--start", "2026-10-33 15:30", "day" }, demo, NO_SHEET, "--start", "2026-10-33 15:30")
  said({ "--start", "2027-10-03 15:30", "2026-10-05 18:00" }, demo, NO_SHEET,
    "--start=2027-10-03 15:30")
end

os.exit(lu.LuaUnit.run())
