#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: GPL-3.0-or-later
-- A resin's cure in tables and as a map of time, temperature and transformation. All numbers come
-- from the library; this script chooses and prints.
local rw = require "resinwright"
local chart = require "resinwright.chart"
local curemap = require "resinwright.curemap"
local options = require "resinwright.options"
local resinchoice = require "resinwright.resinchoice"

local spec = {
  script = "cure-map",
  about = "Tabulates the cure of a resin: steady temperatures, steady heating, and the map of\n"
    .. "time, temperature and transformation.",
  arguments = { resinchoice.argument },
  options = resinchoice.options {
    { name = "at", value = "temperatures",
      fallback = "5 degC,10 degC,15 degC,20 degC,25 degC,30 degC,40 degC,60 degC",
      doc = "steady temperatures, with commas between" },
    { name = "heating", value = "rates", fallback = "1 K/min,2.5 K/min,5 K/min,10 K/min",
      doc = "heating rates, with commas between" },
    { name = "within", value = "time", fallback = "28 d", doc = "how far to look" },
    { name = "units", value = "metric|us", fallback = "metric", doc = "units to read" },
    { name = "svg", value = "file", doc = "draw the map into that file" },
    { name = "page", value = "file", doc = "write a page to print into that file" },
    { name = "json", doc = "print JSON instead" },
    { name = "csv", value = "map|steady|heating",
      doc = "print that table, comma-separated, instead" },
  },
  more = "A thin film without heat of its own, for comparing and for planning a warm shop. The\n"
    .. "maker's data sheet comes before every number.",
}

local own_words = { temperature = "--at", heating = "--heating", within = "--within" }

local items, save = options.items, options.save

options.run(spec.script, function()
  if resinchoice.listed(arg) then
    return
  end
  local o = options.read(spec)
  rw.reader(o.units)
  local resin, name = resinchoice.read(o)
  local m = resinchoice.asked(own_words, curemap.make, { resin = resin, name = name,
    at = items(o.at), heating = items(o.heating), within = o.within, share = 0.95 })
  if o.svg then
    save(o.svg, chart.standalone(curemap.picture(m)), "svg")
  end
  if o.page then
    save(o.page, curemap.page(m), "page")
  end
  if o.json then
    io.stdout:write(curemap.json(m), "\n")
  elseif o.csv then
    io.stdout:write(curemap.csv(m, o.csv))
  else
    io.stdout:write(curemap.text(m))
  end
end)
