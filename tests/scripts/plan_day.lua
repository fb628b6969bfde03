-- SPDX-License-Identifier: GPL-3.0-or-later
-- The day plan on the demonstration boat, whole and with one thing wrong at a time.
package.path = "tests/scripts/?.lua;" .. package.path
local lu = require "luaunit"
local support = require "support"

local script = "scripts/plan-day.lua"

TestPlan = {}

function TestPlan.test_says_everything()
  local text = support.runs(script, "scripts/demo", "--no-sheet")
  for _, words in ipairs { "skin area", "roll 1.27 m", "outside: into the wood",
    "inside: weave and fill coats", "packs to buy", "crowns", "boat  ", "most of the spread",
    "bending stiffness across", "best hour", "above the dew point", "batch 1", "too thick",
    "next coat from, whole skin", "trim the cloth from", "sand from", "turn the hull from",
    "What the night does", "Cautions", "data sheet" } do
    lu.assertStrContains(text, words)
  end
  lu.assertStrMatches(text:match "skin area[^\n]*", ".*5%.3%d? m2 %(.* to .*%).*")
end

function TestPlan.test_json_and_csv_hold_the_same()
  local plan = support.json(support.runs(script, "scripts/demo", "--json", "--no-sheet"))
  local rows = support.csv(support.runs(script, "scripts/demo", "--csv", "--no-sheet"))
  lu.assertAlmostEquals(plan.hull.area.value, 5.31, 0.02)
  lu.assertTrue(plan.hull.area.low < plan.hull.area.value)
  lu.assertTrue(plan.weight.total.low < plan.weight.total.value)
  lu.assertEquals(plan.weight.total.because, "planking")
  lu.assertTrue(#plan.batch_list >= 2)
  local seen = 0
  for _, r in ipairs(rows) do
    local item = plan[r.section] and plan[r.section][r.item]
    if item and type(item.value) == "number" then
      lu.assertAlmostEquals(tonumber(r.value), item.value, 1e-9)
      seen = seen + 1
    end
  end
  lu.assertTrue(seen > 40, "compared " .. seen)
end

-- As heavy as plank of the same thickness, and stiffer across it.
function TestPlan.test_plywood_and_moulded_veneers()
  local function with_wood(fields)
    local plan
    support.with_boat({ boat = { { 'thickness = "5.5 mm"', fields } } }, function(folder)
      plan = support.json(support.runs(script, folder, "--json", "--no-sheet"))
    end)
    return plan
  end
  local plank = with_wood 'thickness = "6 mm"'
  local plywood = with_wood 'thickness = "6 mm", veneers = 3'
  local moulded = with_wood [[layers = { { thickness = "3 mm", angle = "45 deg" },
    { thickness = "3 mm", angle = "-45 deg" } }]]
  for _, plan in ipairs { plywood, moulded } do
    lu.assertAlmostEquals(plan.weight.total.value, plank.weight.total.value, 1e-9)
    lu.assertTrue(plan.layup.bend_across.value > plank.layup.bend_across.value)
    lu.assertTrue(plan.layup.bend_along.value < plank.layup.bend_along.value)
  end
end

function TestPlan.test_us_units()
  local text = support.runs(script, "scripts/demo", "--units", "us", "--no-sheet")
  lu.assertStrContains(text, "ft2")
  lu.assertStrContains(text, "degF")
  lu.assertStrContains(text, " lb")
end

function TestPlan.test_sheet_is_whole()
  local folder = support.new_folder()
  support.runs(script, "scripts/demo", "--sheet", folder .. "/sheet.html")
  lu.assertEquals(support.files(folder), { "sheet.html" })
  local page = support.read(folder .. "/sheet.html")
  for _, words in ipairs { "<!DOCTYPE html>", "Sandpiper", "<svg", "Batches, outside",
    "Invented", "</html>" } do
    lu.assertStrContains(page, words)
  end
  lu.assertNil(page:find "https?://")
  support.remove_folder(folder)
end

function TestPlan.test_start_may_be_chosen()
  local text = support.runs(script, "scripts/demo", "--start", "2026-10-03 10:30", "--no-sheet")
  lu.assertStrContains(text, "mixed 10:30")
end

-- A boat folder with one thing changed must be refused in words, and leave no sheet behind.
local function refuse(changes, words)
  local folder = support.boat(changes)
  local sheet = folder .. "/sheet.html"
  support.refused(words, script, folder, "--sheet", sheet)
  lu.assertEquals(#support.files(folder), 3, "something was left behind")
  support.remove_folder(folder)
end

TestBoatFile = {}

local boat_faults = {
  bare_number = { 'thickness = "5.5 mm"', "thickness = 5.5", { "thickness", "5.5" } },
  bare_ounce = { 'largest = "400 g"', 'largest = "14 oz"', { "oz" } },
  ounces_of_cloth = { '{ cloth = "glass-203-plain" }',
    '{ fibre = "e-glass", areal_mass = "6 oz", weave = "plain" }', { "oz/yd2", "oz/ft2" } },
  zero_thickness = { 'thickness = "5.5 mm"', 'thickness = "0 mm"', { "thickness" } },
  negative_thickness = { 'thickness = "5.5 mm"', 'thickness = "-5 mm"', { "thickness" } },
  too_much_fibre = { '{ cloth = "glass-203-plain" }',
    '{ cloth = "glass-203-plain", hand = { value = "85 %", sd = "2 %" } }', { "hand" } },
  word_without_quotes = { 'name = "Sandpiper"', "name = Sandpiper",
    { "Sandpiper", "quotes" } },
  fibre_end_above_all = { '{ cloth = "glass-203-plain" }',
    '{ cloth = "glass-203-plain", hand = { low = "20 %", high = "120 %" } }',
    { "hand", "100 %" } },
  cover_below_nothing = { 'cover = { low = "0.10 mm", high = "0.25 mm" }',
    'cover = { low = "-0.10 mm", high = "0.25 mm" }', { "cover", "below zero" } },
  misspelt_top = { 'overhang = "60 mm"', 'overhamg = "60 mm"', { "overhamg", "overhang" } },
  misspelt_inner = { 'lag = "35 min"', 'lagg = "35 min"', { "lagg", "lag" } },
  misspelt_label = { 'pot_life = "45 min"', 'potlife = "45 min"', { "potlife", "pot_life" } },
  unknown_cloth = { "glass-203-plain", "glass-230-plain", { "glass-230-plain" } },
  unknown_wood = { "western-redcedar", "western-redceder", { "western-redcedar" } },
  unknown_class = { "slow-polyetheramine", "slow-polyethramine", { "slow-polyetheramine" } },
  pot_in_fahrenheit = { 'pot_temperature = "25 degC"', 'pot_temperature = "77 degC"', { "77" } },
  window_backwards = { 'recoat_to = "14 h"', 'recoat_to = "4 h"', { "recoat" } },
  negative_price = { 'price = "38 money"', 'price = "-38 money"', { "price" } },
  weightless_pack = { 'mass = "1.4 kg"', 'mass = "0 kg"', { "mass" } },
  file_elsewhere = { '"stations.csv"', '"../stations.csv"', { "hull.stations" } },
  hours_backwards = { 'to = "2026-10-03 20:00"', 'to = "2026-10-03 07:00"', { "day.to" } },
  loops = { "return {", "while true do end return {", { "boat.lua" } },
  executes = { "return {", "os.execute('true') return {", { "os" } },
  opens = { "return {", "io.open('x') return {", { "io" } },
  requires = { "return {", "require('os') return {", { "require" } },
  loads = { "return {", "load('x') return {", { "load" } },
  eats_memory = { "return {", "local s = 'x' while true do s = s .. s end return {",
    { "memory" } },
  no_table = { "return {", "return 5, {", { "table" } },
  wrong_syntax = { "return {", "return {{", { "boat.lua" } },
}

for name, fault in pairs(boat_faults) do
  TestBoatFile["test_" .. name] = function()
    refuse({ boat = { { fault[1], fault[2] } } }, fault[3])
  end
end

TestTables = {}

local table_faults = {
  wrong_header = { "stations", "x [m],girth [mm]", "x [m],round [mm]", { "girth" } },
  no_unit = { "stations", "girth [mm]", "girth", { "girth", "unit" } },
  wrong_unit = { "stations", "girth [mm]", "girth [kg]", { "kg" } },
  words_for_number = { "stations", "1.2,1045", "1.2,wide", { "stations.csv", "5", "wide" } },
  negative_girth = { "stations", "1.2,1045", "1.2,-1045", { "stations.csv" } },
  order = { "stations", "1.2,1045", "0.2,1045", { "stations.csv" } },
  fahrenheit = { "air", "12:00,18,60\n2026-10-03 14:00", "12:00,64,60\n2026-10-03 14:00",
    { "air.csv", "64", "degF" } },
  back_in_time = { "air", "2026-10-03 12:00,18", "2026-10-03 08:00,18", { "air.csv", "time" } },
  no_such_day = { "air", "2026-10-03 12:00,18", "2026-13-03 12:00,18", { "air.csv" } },
  humidity = { "air", "18,60\n2026-10-03 14:00", "18,160\n2026-10-03 14:00", { "humidity" } },
}

for name, fault in pairs(table_faults) do
  TestTables["test_" .. name] = function()
    refuse({ [fault[1]] = { { fault[2], fault[3] } } }, fault[4])
  end
end

-- Whole files that are not what they should be.
local function replaced(file, content, words)
  local folder = support.boat()
  support.write(folder .. "/" .. file, content)
  support.refused(words, script, folder, "--sheet", folder .. "/sheet.html")
  lu.assertFalse(support.exists(folder .. "/sheet.html"))
  support.remove_folder(folder)
end

function TestTables.test_files_that_are_none()
  for _, file in ipairs { "boat.lua", "stations.csv", "air.csv" } do
    replaced(file, "", { file })
    replaced(file, "\0\1\2binary\0", { file })
    local folder = support.boat()
    os.remove(folder .. "/" .. file)
    support.refused({ file }, script, folder, "--no-sheet")
    support.make_folder(folder .. "/" .. file)
    support.refused({ file }, script, folder, "--no-sheet")
    support.remove_folder(folder)
  end
  replaced("boat.lua", string.dump(function() return {} end), { "boat.lua" })
  replaced("stations.csv", "x [m],girth [mm]\n0,400\n1,500\n", { "stations.csv", "three" })
end

TestCommand = {}

function TestCommand.test_refuses()
  support.refused({ "FOLDER" }, script)
  support.refused({ "nowhere" }, script, "nowhere")
  support.refused({ "--unit", "--units" }, script, "scripts/demo", "--unit", "us")
  support.refused({ "units" }, script, "scripts/demo", "--units", "imperial")
  support.refused({ "--units" }, script, "scripts/demo", "--units")
  support.refused({ "one argument too many" }, script, "scripts/demo", "two")
  support.refused({ "tea" }, script, "scripts/demo", "--no-sheet", "--start", "tea time")
end

function TestCommand.test_sheet_that_cannot_be_written()
  support.refused({ "--sheet" }, script, "scripts/demo", "--sheet", "no-such-folder/sheet.html")
end

function TestCommand.test_help()
  local text = support.runs(script, "--help")
  for _, words in ipairs { "--sheet", "--units", "--json", "--csv", "scripts/demo" } do
    lu.assertStrContains(text, words)
  end
end

TestLimits = {}

function TestLimits.test_no_days_work()
  refuse({ boat = { { 'low = "0.03 m2/min", high = "0.06 m2/min"',
    'low = "0.0003 m2/min", high = "0.0006 m2/min"' } } }, { "crew.rate" })
end

function TestLimits.test_empty_window_is_said()
  local folder = support.boat { boat = {
    { "slow-polyetheramine", "fast-polyamine" },
    { 'pot_life = "45 min", pot_mass = "100 g", pot_temperature = "25 degC"',
      'pot_life = "20 min", pot_mass = "100 g", pot_temperature = "25 degC"' },
    { 'recoat_from = "6 h", recoat_to = "14 h"', 'recoat_from = "3 h", recoat_to = "4 h"' },
    { 'low = "0.03 m2/min", high = "0.06 m2/min"',
      'low = "0.008 m2/min", high = "0.012 m2/min"' } } }
  local text = support.runs(script, folder, "--no-sheet")
  lu.assertStrContains(text, "split the job")
  support.remove_folder(folder)
end

os.exit(lu.LuaUnit.run())
