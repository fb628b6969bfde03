-- SPDX-License-Identifier: GPL-3.0-or-later
-- A logbook in, a resin file and a page out.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local resinfile = require "resinwright.resinfile"

-- luacheck: globals TestLogbook

local script, class = "scripts/logbook.lua", "slow-polyetheramine"
local school = "scripts/stories/school-logbook.csv"
local lag = { "--lag", "40 min", "--keep-good" }
local week = { "--low", "12 degC", "--high", "16 degC", "--from", "2026-11-09" }

local function words(...)
  local all = {}
  for _, list in ipairs { ... } do
    table.move(list, 1, #list, #all + 1, all)
  end
  return table.unpack(all)
end

-- In a folder that is gone afterwards.
local function in_folder(body)
  local folder = support.new_folder()
  local fine, err = pcall(body, folder)
  support.remove_folder(folder)
  assert(fine, err)
end

TestLogbook = {}

function TestLogbook.test_numbers_are_the_library_s()
  local found = support.json(support.runs(script, school, class, "--json", words(lag, week)))
  local log = rw.log { path = school, keep_good = true }
  local fit = log:fit { resin = rw.resin { class = class }, lag = "40 min" }
  lu.assertAlmostEquals(found.resin.rate.value, fit.rate.value.value, 1e-12)
  lu.assertAlmostEquals(found.resin.rate.low, fit.rate.value.low, 1e-12)
  lu.assertEquals(found.fitness.notes.value, fit.fitness.notes)
  lu.assertEquals(#found.notes, #fit.notes)
  lu.assertEquals(found.log.left_out.value, log.left_out)
  lu.assertEquals(found.omitted.count.value, #fit.omitted)
  lu.assertEquals(#found.windows, 3)
  lu.assertEquals(found.windows[1].laid, "2026-11-09 08:00")
  lu.assertTrue(found.windows[1].opens.low <= found.windows[1].opens.half_low)
  lu.assertTrue(#found.cautions >= 3)
end

function TestLogbook.test_the_resin_file_serves_the_other_scripts()
  in_folder(function(folder)
    local file = folder .. "/fitted.lua"
    support.runs(script, school, class, "--out", file, words(lag))
    local fit = rw.log({ path = school, keep_good = true })
      :fit { resin = rw.resin { class = class }, lag = "40 min" }
    local about = { name = "school-logbook: " .. class, from = "school-logbook.csv, 50 notes" }
    lu.assertEquals(support.read(file), resinfile.text(fit:resin {}, about))
    -- The chemist's tables take it, ...
    local rows = support.csv(support.runs("scripts/cure-map.lua", file, "--csv", "steady", "--at",
      "15 degC"))
    local s = fit:resin {}:steady { temperature = "15 degC", cures = { 0.5 } }
    lu.assertAlmostEquals(tonumber(rows[1]["cure_50 [s]"]), s.cures[1].time:to "s", 1e-6)
    support.refused({ "resin file", "label" }, "scripts/cure-map.lua", file, "--pot-life",
      "45 min")
    -- ... a further log, with what is known by then, ...
    local again = support.json(support.runs(script, school, file, "--json", words(lag)))
    lu.assertTrue(again.resin.rate_before.high < 1.4)
  end)
  -- ... and a boat, which has it in its folder.
  local text = resinfile.text(rw.resin { class = class, label = { pot_life = "60 min" } }, {})
  local script_of_day = "scripts/plan-day.lua"
  support.with_boat({}, function(folder)
    local boat = support.read(folder .. "/boat.lua")
    local function plans(resin)
      local changed, count = boat:gsub("\n  resin = {.-\n  },\n", "\n  resin = " .. resin .. ",\n")
      lu.assertEquals(count, 1)
      support.write(folder .. "/boat.lua", changed)
      return folder, "--no-sheet"
    end
    support.write(folder .. "/mine.lua", text)
    support.runs(script_of_day, plans '{ file = "mine.lua" }')
    support.refused({ "resin.class", "resin.file" }, script_of_day,
      plans '{ file = "mine.lua", class = "x" }')
    support.refused({ "resin.file", "folder" }, script_of_day, plans '{ file = "../mine.lua" }')
    support.refused({ "none.lua" }, script_of_day, plans '{ file = "none.lua" }')
  end)
end

function TestLogbook.test_page_and_picture()
  in_folder(function(folder)
    local page, svg = folder .. "/page.html", folder .. "/notes.svg"
    local text = support.runs(script, school, class, "--page", page, "--svg", svg, "--note",
      "made up", words(lag, week))
    local html = support.read(page)
    for _, said in ipairs { "Next hours for a coat", "Batches against the others", "Invented",
      "batch 9: its times over", "gloves" } do
      lu.assertStrContains(html, said)
    end
    lu.assertStrContains(text, "gelled")
    local picture = support.read(svg)
    lu.assertStrMatches(picture:sub(1, 200), ".*<svg .*")
    lu.assertNil(picture:find "%f[%w]nan%f[%W]")
    lu.assertNil(picture:find "%f[%w]inf%f[%W]")
  end)
end

function TestLogbook.test_tables()
  local notes = support.csv(support.runs(script, school, class, "--csv", "notes", words(lag)))
  lu.assertEquals(#notes, 50)
  lu.assertEquals(notes[1].found, "tacky")
  local windows = support.csv(support.runs(script, school, class, "--csv", "windows", words(lag,
    week)))
  lu.assertEquals(#windows, 3)
  lu.assertTrue(windows[1].opens_5 < windows[1].opens_25)
  local sections = support.csv(support.runs(script, school, class, "--csv", "sections",
    words(lag)))
  lu.assertEquals(sections[1].section, "log")
end

-- A log of nothing leaves the class as it was; one of a single note says so.
function TestLogbook.test_little_logs()
  in_folder(function(folder)
    local path = folder .. "/log.csv"
    support.write(path, "row,batch,time,mass [g],found,not_yet,already,low [degC],high [degC]\n")
    local text = support.runs(script, path, class)
    lu.assertStrContains(text, "fitted to 0 notes")
    support.write(path, support.read(path) .. "batch,1,2026-10-03 14:00,300,,,,,\n"
      .. "event,1,,,gelled,2026-10-03 19:00,,,\n"
      .. "reading,,2026-10-03,,,,,12,18\nreading,,2026-10-04,,,,,12,18\n")
    text = support.runs(script, path, class, "--svg", folder .. "/x.svg")
    lu.assertStrContains(text, "fitted to 1 note\n")
    lu.assertStrContains(text, "only noted as not yet there")
  end)
end

-- A thousand rows with decimal commas: told once each, and read where ; parts the cells.
function TestLogbook.test_decimal_commas()
  in_folder(function(folder)
    local path, rows = folder .. "/log.csv", {}
    for i = 0, 999 do
      rows[i + 1] = ("reading;;2026-09-%02d %02d:%02d;;;;;18,%d"):format(1 + i // 48, i % 48 // 2,
        i % 2 * 30, i % 10)
    end
    local text = "row;batch;time;mass [g];found;not_yet;already;air [degC]\n"
      .. table.concat(rows, "\n") .. "\nbatch;1;2026-09-03 09:00;412,5;;;;\n"
      .. "event;1;;;gelled;2026-09-03 12:00;2026-09-03 16:00;\n"
    support.write(path, text)
    local found = support.json(support.runs(script, path, class, "--json"))
    lu.assertEquals(found.log.readings.value, 1000)
    lu.assertEquals(found.fitness.notes.value, 1)
    support.write(path, (text:gsub(";", ",")))
    support.refused({ "line 2", "1001 more such rows", "Decimal commas" }, script, path, class)
    local printed = support.runs(script, path, class, "--keep-good")
    lu.assertStrContains(printed, "lines 2, 3, 4 and 998 more, left out")
    lu.assertTrue(#printed < 6000)
  end)
end

function TestLogbook.test_refusals()
  support.refused({ "RESIN is missing" }, script, school)
  support.refused({ "line 51" }, script, school, class)
  support.refused({ "no batch", "88" }, script, school, class, "--without", "88", words(lag))
  support.refused({ "--lag" }, script, school, class, "--keep-good", "--lag", "-3 h")
  support.refused({ "--low", "--high" }, script, school, class, "--low", "12 degC", words(lag))
  support.refused({ "--low", "12 degC" }, script, school, class, "--low", "12", "--high",
    "16 degC", words(lag))
  support.refused({ "--low", "swapped" }, script, school, class, "--low", "16 degC", "--high",
    "12 degC", words(lag))
  support.refused({ "--air", "--low" }, script, school, class, "--air", "x", words(lag, week))
  support.refused({ "--lay", "25:00" }, script, school, class, "--lay", "25:00", words(lag, week))
  support.refused({ "--draws" }, script, school, class, "--draws", "many", words(lag, week))
  support.refused({ "no observer", "pupil A" }, script, school, class, "--observer", "pupil C",
    words(lag, week))
  support.refused({ ".lua" }, script, school, class, "--out", "fitted.txt", words(lag))
  support.refused({ "no-such.csv" }, script, "no-such.csv", class)
  support.refused({ "slow-polyetheramine" }, script, school, "slow-polyetheramin", words(lag))
  support.refused({ "--hardener" }, script, school, class, "--hardener", "44", words(lag))
end

os.exit(lu.LuaUnit.run())
