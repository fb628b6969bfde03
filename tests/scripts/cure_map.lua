-- SPDX-License-Identifier: GPL-3.0-or-later
-- The tables and the map of a resin's cure.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"

-- luacheck: globals TestCureMap

local script, class = "scripts/cure-map.lua", "slow-polyetheramine"

TestCureMap = {}

local function json(...)
  return support.json(support.runs(script, class, "--json", ...))
end

function TestCureMap.test_numbers_are_the_library_s()
  local r = rw.resin { class = class }
  local found = json("--at", "10 degC, 25 degC", "--heating", "2 K/min")
  lu.assertEquals(#found.steady, 2)
  for i, at in ipairs { "10 degC", "25 degC" } do
    local s = r:steady { temperature = at, cures = { 0.1, 0.5 } }
    local row = found.steady[i]
    lu.assertAlmostEquals(row.at.value, rw.q(at):to "degC", 1e-9)
    lu.assertEquals(row.cure_10.unit, "s")
    lu.assertAlmostEquals(row.cure_10.value, s.cures[1].time:to "s", 1e-6)
    lu.assertAlmostEquals(row.cure_50.value, s.cures[2].time:to "s", 1e-6)
    lu.assertAlmostEquals(row.peak_rate.value, s.peak_rate:to "1/s", 1e-15)
    lu.assertAlmostEquals(row.reached, s.reached, 1e-12)
  end
  local peak = r:ramp({ from = "0 degC", to = "120 degC", heating = "2 K/min" }).peak
  lu.assertAlmostEquals(found.heating[1].peak.value, peak.temperature:to "degC", 1e-6)
  local m = r:map { count = 2 }
  lu.assertAlmostEquals(found.map.nose.temperature.value, m.nose.temperature:to "degC", 1e-9)
  lu.assertAlmostEquals(found.map.glass_at_gel.value, m.glass_at_gel:to "degC", 1e-9)
  lu.assertTrue(#found.cautions >= 3)
end

function TestCureMap.test_map_rises_and_tells_never()
  local map = json("--at", "20 degC", "--heating", "5 K/min").map
  lu.assertEquals(#map.celsius, #map.glass_seconds)
  lu.assertEquals(map.glass_seconds[1], 0)
  lu.assertEquals(map.glass_seconds[#map.celsius], support) -- null
  for i = 2, #map.celsius do
    lu.assertTrue(map.celsius[i] > map.celsius[i - 1])
  end
end

function TestCureMap.test_csv_and_json_agree()
  local found = json()
  local rows = support.csv(support.runs(script, class, "--csv", "steady"))
  lu.assertEquals(#rows, #found.steady)
  for i, row in ipairs(rows) do
    local want = found.steady[i]
    lu.assertAlmostEquals(tonumber(row["gel [s]"]), want.gel.value, 1e-6)
    lu.assertEquals(tonumber(row["cure_90 [s]"]), want.cure_90.value)
    lu.assertEquals(tonumber(row.reached), want.reached)
  end
  local heating = support.csv(support.runs(script, class, "--csv", "heating"))
  lu.assertEquals(#heating, 4)
  lu.assertEquals(tonumber(heating[3]["peak [degC]"]), found.heating[3].peak.value)
  local map = support.csv(support.runs(script, class, "--csv", "map"))
  lu.assertEquals(#map, #found.map.celsius)
  lu.assertEquals(map[#map]["glass [s]"], "")
  lu.assertEquals(tonumber(map[30]["gel [s]"]), found.map.gel_seconds[30])
end

function TestCureMap.test_a_label_is_heard()
  local label = { "--pot-life", "45 min", "--recoat-from", "6 h", "--recoat-to", "14 h",
    "--recoat-temperature", "21 degC" }
  local r = rw.resin { class = class, label = { pot_life = "45 min", recoat_from = "6 h",
    recoat_to = "14 h", recoat_temperature = "21 degC" } }
  local found = json("--at", "21 degC", table.unpack(label))
  local s = r:steady { temperature = "21 degC", cures = { 0.5 } }
  lu.assertAlmostEquals(found.steady[1].cure_50.value, s.cures[1].time:to "s", 1e-6)
  local without = json("--at", "21 degC").steady[1]
  lu.assertNotEquals(found.steady[1].cure_50.value, without.cure_50.value)
  lu.assertStrContains(support.runs(script, class, table.unpack(label)), "by its label")
end

function TestCureMap.test_text()
  local text = support.runs(script, class, "--at", "20 degC", "--within", "2 h")
  for _, words in ipairs { "20 degC", "never", "turns to glass soonest", "smoke and burn",
    "data sheet", "K/min" } do
    lu.assertStrContains(text, words)
  end
  lu.assertStrContains(support.runs(script, class, "--units", "us"), "degF")
  local bare = support.runs(script, class, "--at", ",", "--heating", ",")
  lu.assertNotStrContains(bare, "K/min")
end

function TestCureMap.test_picture_and_page()
  local folder = support.new_folder()
  local svg_path, page_path = folder .. "/map.svg", folder .. "/map.html"
  support.runs(script, class, "--svg", svg_path, "--page", page_path, "--units", "us")
  local svg, page = support.read(svg_path), support.read(page_path)
  lu.assertEquals(#support.files(folder), 2)
  support.remove_folder(folder)
  for _, words in ipairs { "turns to glass", "full cure", "gelled glass", "°F", "1 d" } do
    lu.assertStrContains(svg, words)
    lu.assertStrContains(page, words)
  end
  lu.assertStrContains(page, "Caution")
  lu.assertNotStrContains(page, "http")
end

function TestCureMap.test_list_and_help()
  local list = support.runs(script, "--list")
  lu.assertStrContains(list, class)
  lu.assertNotStrContains(list, "cured-epoxy")
  for name in list:gmatch "([%w-]+)  [^\n]+" do
    support.runs(script, name, "--at", "20 degC", "--heating", "5 K/min")
  end
  local help = support.runs(script, "--help")
  for _, words in ipairs { "--pot-life", "--csv map or steady or heating", "--page", "RESIN" } do
    lu.assertStrContains(help, words)
  end
end

function TestCureMap.test_refuses()
  local function said(words, ...)
    local _, printed = support.refused(words, script, ...)
    lu.assertEquals(printed, "")
  end
  said({ "RESIN is missing", "--list" })
  said({ "slow-polyetheramin", class }, "slow-polyetheramin")
  said({ "--pot-life", "5 min" }, class, "--pot-life", "5")
  said({ "--recoat-temperature is missing" }, class, "--recoat-from", "6 h")
  said({ "--at", "300 degC" }, class, "--at", "20 degC,300 degC")
  said({ "--heating", "K/min" }, class, "--heating", "5")
  said({ "--within" }, class, "--within", "1")
  said({ "--csv", "map, steady, heating" }, class, "--csv", "all")
  said({ "no-such-folder/x.svg", "--svg" }, class, "--svg", "no-such-folder/x.svg")
  said({ "no-such-folder/x.html", "--page" }, class, "--page", "no-such-folder/x.html")
end

os.exit(lu.LuaUnit.run())
