-- SPDX-License-Identifier: GPL-3.0-or-later
-- The plan of a sheathing day row by row, and the same plan in every form.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"

-- luacheck: globals TestRows TestForms TestDay TestSheet

local script = "scripts/plan-day.lua"
local NO_SHEET = "--no-sheet"
local with_boat = support.with_boat

local function plan(changes, ...)
  local options, printed = { ... }, nil
  with_boat(changes, function(folder)
    printed = support.runs(script, folder, NO_SHEET, table.unpack(options))
  end)
  return printed
end

-- The section with that title, as its lines.
local function section(text, title)
  local body = ("\n" .. text):match("\n" .. title .. "\n(.-)\n\n")
  lu.assertNotNil(body, "no section " .. title .. " in\n" .. text)
  return body
end

-- The value beside a label, which must look like the pattern.
local function assert_row(body, label, pattern)
  for line in body:gmatch "[^\n]+" do
    local value = line:sub(1, 2 + #label) == "  " .. label and line:sub(3 + #label)
      :match "^%s+(.*)$"
    if value then
      lu.assertStrMatches(value, pattern, nil, nil, line)
      return value
    end
  end
  lu.fail("no row " .. label .. " in\n" .. body)
end

local NUMBER = "%-?[%d.]+"
local CLOCK = "%d%d%d%d%-%d%d%-%d%d %d%d:%d%d"

local function quantity(unit)
  return NUMBER .. " " .. unit
end

-- A number, its unit and an interval.
local function interval(unit)
  return ("%s %s %%(%s to %s.*%%)"):format(NUMBER, unit, NUMBER, NUMBER)
end

-- "(EARLY to LATE; ..." or "(EARLY or later than looked at; ..."
local clock_interval = CLOCK .. " %(.+ [to][or] .+; most of the spread: .+%)"

TestRows = {}

function TestRows.test_hull_and_cloth()
  local text = plan()
  lu.assertStrContains(text, "Sandpiper (invented")
  local hull = section(text, "Hull")
  assert_row(hull, "skin area, one face", interval "m2")
  assert_row(hull, "widest girth", quantity "m")
  local cloth = section(text, "Cloth to buy, each layer")
  for _, roll in ipairs { "roll 1.00 m", "roll 1.27 m", "roll 1.52 m" } do
    assert_row(cloth, roll, "one strip .*")
  end
  assert_row(cloth, "  off the roll", quantity "m")
  assert_row(cloth, "  cost", quantity "crowns")
  assert_row(cloth, "cheapest roll", "1%.%d%d m")
  assert_row(cloth, "2 layers off that roll", quantity "m")
  lu.assertNotStrContains(text, "money")
end

function TestRows.test_resin_in_four_terms_and_its_packs()
  local resin = section(plan(), "Resin to mix, resin and hardener together")
  for _, face in ipairs { "outside", "inside" } do
    for _, term in ipairs { "into the wood", "into the cloth", "weave and fill coats",
      "pots, tools and scrapings", "mixed" } do
      assert_row(resin, face .. ": " .. term, interval "k?g")
    end
  end
  local function kilograms(label, pattern)
    return rw.q(assert_row(resin, label, pattern):match "^[%d.]+ kg"):to "kg"
  end
  local enough = kilograms("enough with a chance of 95 %", quantity "kg")
  assert_row(resin, "  of that resin", quantity "kg")
  assert_row(resin, "  of that hardener", quantity "kg")
  assert_row(resin, "packs to buy", "%d of %d.%d kg.*")
  assert_row(resin, "cost", quantity "crowns")
  lu.assertTrue(enough > kilograms("all faces", interval "kg"))
  lu.assertTrue(kilograms("resin and hardener in them", quantity "kg") >= enough)
end

function TestRows.test_layup_and_weight()
  local text = plan()
  local layup = section(text, "Layup, outside to inside")
  for _, ply in ipairs { "glass-203-plain", "western-redcedar", "glass-136-plain", "thickness" } do
    assert_row(layup, ply, quantity "mm")
  end
  assert_row(layup, "bending stiffness along", interval "N m")
  assert_row(layup, "bending stiffness across", interval "N m")
  local weight = section(text, "Weight")
  for _, item in ipairs { "cloth glass-203-plain", "planking", "cloth glass-136-plain",
    "resin outside", "resin inside", "rails and decks", "seats and thwart", "varnish" } do
    assert_row(weight, item, interval "k?g")
  end
  lu.assertStrContains(assert_row(weight, "boat", interval "kg"), "most of the spread: planking")
end

function TestRows.test_hour_and_batches()
  local text = plan()
  local hour = section(text, "When to begin")
  assert_row(hour, "spreading alone takes", "%d+ h %d+ min %(.+ to .+%)")
  assert_row(hour, "best hour", CLOCK)
  assert_row(hour, "this plan begins", CLOCK)
  assert_row(hour, "wood warms before the last section gels by", quantity "K")
  assert_row(hour, "hull stays above the dew point by", quantity "K")
  assert_row(hour, "coldest hull until it is past blushing", quantity "degC")
  local batches = section(text, "Batches for the outside")
  local count = 0
  for line in batches:gmatch "  batch %d+[^\n]+" do
    count = count + 1
    local mixed, from, to, spread, latest = line:match("%d+ g mixed (%d%d:%d%d), "
      .. "hull (.-) to (.-), spread by (%d%d:%d%d), too thick (%d%d:%d%d), chance lost %d+ %%$")
    lu.assertNotNil(mixed, line)
    lu.assertTrue(mixed < spread and spread < latest, line)
    lu.assertTrue(rw.q(from) < rw.q(to), line)
  end
  lu.assertTrue(count >= 2, batches)
  assert_row(batches, "last batch spread", CLOCK)
end

function TestRows.test_windows_night_and_cautions()
  local text = plan()
  local window = section(text, "Next coat and later")
  for _, label in ipairs { "trim the cloth from", "trim until", "next coat from, whole skin",
    "next coat until, without sanding", "turn the hull from", "sand from",
    "varnish, load and launch from" } do
    assert_row(window, label, clock_interval)
  end
  lu.assertStrContains(window, "The thumbnail decides")
  local _, count = section(text, "Chance that the next coat may go on")
    :gsub(CLOCK .. " +%d+ %%", "")
  lu.assertEquals(count, 9)
  local night = section(text, "What the night does")
  assert_row(night, "hull when the last batch is on", quantity "degC")
  assert_row(night, "coldest hull until 09:00", quantity "degC")
  assert_row(night, "next coat comes later than in a shop kept as warm, by", "%d+ .*")
  assert_row(night, "cured by 09:00", "%d+ %%")
  assert_row(night, "softens at, after a week of this weather", quantity "degC")
  assert_row(night, "steady warmth for sanding in two days", quantity "degC")
  local cautions = text:match "\nCautions\n(.*)"
  for _, word in ipairs { "gloves", "mask", "smoke", "flame", "data sheet", "not an approval" } do
    lu.assertStrContains(cautions, word)
  end
end

function TestRows.test_united_states_units()
  local text = plan(nil, "--units", "us")
  assert_row(section(text, "Hull"), "skin area, one face", interval "ft2")
  local hour = section(text, "When to begin")
  assert_row(hour, "coldest hull until it is past blushing", quantity "degF")
  assert_row(hour, "hull stays above the dew point by", quantity "Fdeg")
  assert_row(section(text, "Weight"), "boat", interval "lb")
  for line in text:gmatch "[^\n]+" do -- but for rolls and packs, called as on their labels
    if not line:find "^  roll" and not line:find "^  cheapest" and not line:find "^  packs"
      and not line:find "^  %*" then
      for _, unit in ipairs { "m", "mm", "m2", "kg", "g", "degC", "K", "kg/m2" } do
        lu.assertNil((line .. " "):find("%d " .. unit .. "[ ,;)]"), line)
      end
    end
  end
end

TestForms = {}

-- Every row of the table stands in the JSON with the same numbers, and its text in the plan.
function TestForms.test_one_plan_in_three_forms()
  with_boat(nil, function(folder)
    local text = support.runs(script, folder, NO_SHEET)
    local tree = support.json(support.runs(script, folder, NO_SHEET, "--json"))
    local rows, head = support.csv(support.runs(script, folder, NO_SHEET, "--csv"))
    lu.assertEquals(head, { "section", "item", "label", "value", "low", "high", "unit",
      "because" })
    for _, row in ipairs(rows) do
      local found = tree[row.section][row.item]
      lu.assertEquals(found.label, row.label)
      for _, column in ipairs { "value", "low", "high", "unit", "because" } do
        local cell = row[column]
        if type(found[column]) == "number" then
          lu.assertEquals(tonumber(cell), found[column])
        else
          lu.assertEquals(cell, found[column] or "")
        end
      end
      lu.assertStrContains(text, row.label)
    end
    local held = 0
    for key, value in pairs(tree) do
      if key ~= "batch_list" and type(value) == "table" and value.title then
        lu.assertStrContains(text, value.title)
        for _, note in ipairs(value.notes) do
          lu.assertStrContains(text, note)
        end
        for _, row in pairs(value) do
          held = held + (type(row) == "table" and row.label and 1 or 0)
        end
      end
    end
    lu.assertEquals(#rows, held)
    lu.assertTrue(held > 80)
  end)
end

-- The number printed is that of the JSON, within the digits printed: three for a quantity, two
-- of its interval for a range.
function TestForms.test_printed_numbers_are_those_of_the_json()
  local text, tree = plan(), support.json(plan(nil, "--json"))
  local checked = 0
  local titles = { hull = "Hull", resin = "Resin to mix, resin and hardener together",
    layup = "Layup, outside to inside", weight = "Weight", hour = "When to begin",
    night = "What the night does" }
  local spoken = { money = true, s = true, min = true, h = true, d = true }
  for key, title in pairs(titles) do
    for line in section(text, title):gmatch "[^\n]+" do
      local label, printed = line:sub(3, 48):match "^%s*(.-)%s*$", line:sub(50):match "^[%d.]+"
      for _, row in pairs(tree[key]) do
        if printed and type(row) == "table" and row.label == label and row.unit
          and not spoken[row.unit] then
          local last_digit = 10 ^ -#(printed:match "%.(%d+)" or "")
          local tolerance = row.low and math.max(0.051 * (row.high - row.low), 0.5 * last_digit)
            or math.max(0.5 * last_digit, 5e-3 * math.abs(row.value))
          lu.assertAlmostEquals(tonumber(printed), row.value, tolerance, line)
          if row.low then
            local low, high = line:match "%(([%d.]+) to ([%d.]+)"
            lu.assertAlmostEquals(tonumber(low), row.low, tolerance, line)
            lu.assertAlmostEquals(tonumber(high), row.high, tolerance, line)
          end
          checked = checked + 1
        end
      end
    end
  end
  lu.assertTrue(checked > 30, checked)
end

-- Invented panels of 0.05 m2 in the outside's place; its cloth weighs 203 g/m2, 10.15 g on each.
local function with_panels(more)
  return { boat = { { 'cover = { low = "0.10 mm", high = "0.25 mm" }',
    'panels = { { area = "500 cm2", bare = "1204 g", wet_out = "1227 g", filled = "1247 g" },'
    .. ' { area = "500 cm2", bare = "1198 g", wet_out = "1220 g", filled = "1239 g" } }'
    .. more } } }
end

function TestForms.test_panels()
  local function outside(more)
    local tree = support.json(plan(with_panels(more), "--json"))
    lu.assertNil(tree.resin.outside_soak)
    lu.assertNotNil(tree.resin.inside_soak)
    lu.assertEquals(tree.hull.area.unit, "m2")
    local unit = { kg = 1, g = 1e-3 }
    local function per_area(row) return row.value * unit[row.unit] / tree.hull.area.value end
    return per_area(tree.resin.outside_cloth), per_area(tree.resin.outside_fill)
  end
  local cloth, fill = outside ""
  lu.assertAlmostEquals(cloth, 20 * (22.5 - 10.15) / 1000, 1e-9)
  lu.assertAlmostEquals(fill, 20 * 19.5 / 1000, 1e-9)
  lu.assertAlmostEquals(outside ", weighed_with_cloth = true", 20 * 22.5 / 1000, 1e-9)
end

function TestForms.test_panels_on_the_sheet()
  with_boat(with_panels "", function(folder)
    local sheet = folder .. "/sheet.html"
    support.runs(script, folder, "--sheet", sheet)
    lu.assertStrContains(support.read(sheet), "with the cloth</td>")
  end)
end

function TestForms.test_parts_make_the_whole()
  local tree = support.json(plan(nil, "--json"))
  local unit = { kg = 1, g = 1e-3 }
  local function kilograms(row)
    return row.value * unit[row.unit]
  end
  local all, resin = 0, tree.resin
  for _, face in ipairs { "outside", "inside" } do
    local sum = 0
    for _, term in ipairs { "soak", "cloth", "fill", "waste" } do
      sum = sum + kilograms(resin[face .. "_" .. term])
    end
    lu.assertAlmostEquals(sum, kilograms(resin[face .. "_total"]), 1e-9)
    all = all + sum
  end
  lu.assertAlmostEquals(kilograms(resin.total), all, 1e-9)
  lu.assertAlmostEquals(kilograms(resin.enough_resin) + kilograms(resin.enough_hardener),
    kilograms(resin.enough), 1e-9)
  lu.assertAlmostEquals(kilograms(resin.enough_hardener) / kilograms(resin.enough_resin), 0.36,
    1e-9) -- as the label says
  local weight, count = 0, 0
  while tree.weight["item_" .. count + 1] do
    count = count + 1
    weight = weight + kilograms(tree.weight["item_" .. count])
  end
  lu.assertEquals(count, 8)
  lu.assertAlmostEquals(weight, kilograms(tree.weight.total), 1e-9)
  local area = 0
  for _, batch in ipairs(tree.batch_list) do
    area = area + batch.area.value
  end
  lu.assertAlmostEquals(area, tree.hull.area.value, 1e-9)
end

function TestForms.test_the_same_again()
  lu.assertEquals(plan(), plan())
end

-- A shop without rolls, packs, other weights and an inside skin is still planned.
function TestForms.test_what_may_be_left_out()
  with_boat(nil, function(folder)
    local path = folder .. "/boat.lua"
    local content = support.read(path)
    for _, field in ipairs { "rolls", "packs", "weights", "inside" } do
      local from, to = content:find("\n  " .. field .. " = {.-\n  },\n")
      content = content:sub(1, from) .. content:sub(to + 1)
    end
    support.write(path, content)
    local text = support.runs(script, folder, NO_SHEET)
    lu.assertStrContains(text, "No rolls are named")
    lu.assertStrContains(text, "No packs are named")
    lu.assertNotStrContains(text, "inside: ")
  end)
end

TestDay = {}

-- Another hour than the best, with the warming of that hour.
function TestDay.test_start_is_obeyed()
  local best = section(plan(), "When to begin")
  local asked = plan(nil, "--start", "2026-10-03 09:00")
  local hour = section(asked, "When to begin")
  lu.assertEquals(assert_row(hour, "best hour", CLOCK), assert_row(best, "best hour", CLOCK))
  lu.assertEquals(assert_row(hour, "this plan begins", CLOCK), "2026-10-03 09:00")
  lu.assertStrContains(section(asked, "Batches for the outside"), "mixed 09:00")
  local function rise(body)
    return rw.q(assert_row(body, "wood warms before the last section gels by", quantity "K")):si()
  end
  lu.assertTrue(rise(hour) > rise(best) + 1)
  lu.assertStrContains(hour, "At the hour asked for")
end

function TestDay.test_start_in_the_boat_file()
  local text = plan { boat = { { "day = {", 'day = { start = "2026-10-03 15:00",' } } }
  lu.assertStrContains(section(text, "Batches for the outside"), "mixed 15:00")
end

-- The first section is past its window before the last one's opens: said, not refused.
function TestDay.test_empty_window()
  local text = plan { boat = {
    { 'rate = { low = "0.03 m2/min", high = "0.06 m2/min" }',
      'rate = { low = "0.0045 m2/min", high = "0.0055 m2/min" }' },
    { "slow-polyetheramine", "fast-polyamine" },
    { 'pot_life = "45 min"', 'pot_life = "12 min"' },
    { '      recoat_from = "6 h", recoat_to = "14 h", recoat_temperature = "21 degC",\n', "" },
  } }
  local window = section(text, "Next coat and later")
  lu.assertStrContains(window, "The first section is hard before the last is firm")
  local opens = assert_row(window, "next coat from, whole skin", clock_interval):match(CLOCK)
  local closes = assert_row(window, "next coat until, without sanding", clock_interval)
    :match(CLOCK)
  lu.assertTrue(closes < opens)
  lu.assertStrContains(section(text, "Batches for the outside"), "take a slower hardener")
end

TestSheet = {}

function TestSheet.test_where_it_goes()
  with_boat(nil, function(folder)
    local sheet = folder .. "/wall sheet.html"
    local text = support.runs(script, folder, "--sheet", sheet)
    lu.assertStrContains(text, "The sheet for the wall: " .. sheet)
    local page = support.read(sheet)
    lu.assertStrMatches(page, "<!DOCTYPE html>.*</html>%s*")
    for _, word in ipairs { "Sandpiper", "Batches", "gloves", "<svg" } do
      lu.assertStrContains(page, word)
    end
    lu.assertEquals(support.files(folder), { "air.csv", "boat.lua", "stations.csv",
      "wall sheet.html" })
    local tree = support.json(support.runs(script, folder, "--json", "--sheet=" .. sheet))
    lu.assertEquals(tree.boat, "Sandpiper")
    lu.assertEquals(support.read(sheet), page)
  end)
end

function TestSheet.test_none_of_a_plan_that_fails()
  local zero = { boat = { { 'rate = { low = "0.03 m2/min", high = "0.06 m2/min" }',
    'rate = "0 m2/min"' } } }
  with_boat(zero, function(folder)
    local sheet = folder .. "/sheet.html"
    support.refused({ "crew.rate is 0" }, script, folder, "--sheet", sheet)
    lu.assertEquals(support.files(folder), { "air.csv", "boat.lua", "stations.csv" })
    support.write(sheet, "yesterday's")
    support.refused({ "crew.rate is 0" }, script, folder, "--sheet", sheet)
    lu.assertEquals(support.read(sheet), "yesterday's")
  end)
end

function TestSheet.test_places_where_it_cannot_go()
  with_boat(nil, function(folder)
    local function said(words, sheet)
      local _, printed = support.refused(words, script, folder, "--sheet", sheet)
      lu.assertEquals(printed, "")
    end
    said({ "no/such/sheet.html", "folder does not exist", "--sheet FILE" },
      folder .. "/no/such/sheet.html")
    said({ "there is a folder of that name" }, folder)
    said({ "--sheet needs a value" }, "")
    local locked = folder .. "/locked"
    support.make_folder(locked)
    support.lock_folder(locked)
    if support.can_write(locked) then
      return -- the superuser may write anywhere
    end
    said({ "locked/sheet.html", "was not saved" }, locked .. "/sheet.html")
    lu.assertEquals(support.files(locked), {})
  end)
end

os.exit(lu.LuaUnit.run())
