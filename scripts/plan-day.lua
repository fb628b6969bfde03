#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: GPL-3.0-or-later
-- The plan for one sheathing day: reads a boat folder, prints the plan, writes the sheet for the
-- shop wall. All numbers come from the library; this script chooses and prints.
local rw = require "resinwright"
local boat = require "resinwright.boat"
local options = require "resinwright.options"
local dayplan = require "resinwright.dayplan"
local daysheet = require "resinwright.daysheet"

local spec = {
  script = "plan-day",
  about = "Plans the day on which a boat is sheathed: cloth, resin, batches, hours, weight.",
  arguments = { { name = "FOLDER", doc = "boat folder, with boat.lua and the tables it names" } },
  options = {
    { name = "sheet", value = "file", fallback = "day-sheet.html",
      doc = "where the printable A4 sheet goes" },
    { name = "no-sheet", doc = "write no sheet" },
    { name = "units", value = "metric|us", fallback = "metric", doc = "units to read" },
    { name = "start", value = "time", doc = "begin then, such as \"2026-10-03 14:00\"" },
    { name = "json", doc = "print the plan as JSON instead" },
    { name = "csv", doc = "print the plan as a table instead" },
  },
  more = "A boat folder to copy stands in scripts/demo. Times are the shop's own clock.",
}

options.run(spec.script, function()
  local o = options.read(spec)
  rw.reader(o.units)
  local plan = dayplan.make(boat.read(o.FOLDER), { start = o.start })
  if not o["no-sheet"] then
    options.save(o.sheet, daysheet.page(plan), "sheet", "or --no-sheet")
  end
  if o.json then
    io.stdout:write(dayplan.json(plan), "\n")
  elseif o.csv then
    io.stdout:write(dayplan.csv(plan))
  else
    io.stdout:write(dayplan.text(plan))
    if not o["no-sheet"] then
      print("\nThe sheet for the wall: " .. o.sheet)
    end
  end
end)
