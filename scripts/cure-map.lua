#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: GPL-3.0-or-later
-- A resin's cure in tables and as a map of time, temperature and transformation. All numbers come
-- from the library; this script chooses and prints.
local rw = require "resinwright"
local chart = require "resinwright.chart"
local curemap = require "resinwright.curemap"
local options = require "resinwright.options"
local report = require "resinwright.report"

local spec = {
  script = "cure-map",
  about = "Tabulates the cure of a resin: steady temperatures, steady heating, and the map of\n"
    .. "time, temperature and transformation.",
  arguments = { { name = "CLASS", doc = "resin class of the material tables, see --list" } },
  options = {
    { name = "pot-life", value = "time", doc = "the label's pot life, such as \"45 min\"" },
    { name = "pot-mass", value = "mass", doc = "what it is given for (100 g unless said)" },
    { name = "pot-temperature", value = "temperature",
      doc = "what it is given for (25 degC unless said)" },
    { name = "recoat-from", value = "time",
      doc = "the label's time until the next coat may go on" },
    { name = "recoat-to", value = "time", doc = "the label's time until it must be sanded first" },
    { name = "recoat-temperature", value = "temperature", doc = "what the recoat times hold for" },
    { name = "hardener", value = "ratio", doc = "hardener per resin by mass, such as \"44 %\"" },
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
    { name = "list", doc = "list the resin classes there are" },
  },
  more = "A thin film without heat of its own, for comparing and for planning a warm shop. The\n"
    .. "maker's data sheet comes before every number.",
}

local label_options = { "pot-life", "pot-mass", "pot-temperature", "recoat-from", "recoat-to",
  "recoat-temperature", "hardener" }

local function list_classes()
  for _, m in ipairs(rw.materials { kind = "resin" }) do
    if m.properties.k1 then
      print(("%-24s %s"):format(m.name, m.title))
    end
  end
end

-- What the label says; nil where it says nothing.
local function read_label(o)
  local label
  for _, name in ipairs(label_options) do
    if o[name] then
      label = label or {}
      label[name:gsub("-", "_")] = o[name]
    end
  end
  return label
end

local own_words = { temperature = "--at", heating = "--heating", within = "--within" }

-- Calls, and tells a refusal in the words of the command line.
local function asked(call, ...)
  local results = table.pack(pcall(call, ...))
  if results[1] then
    return table.unpack(results, 2, results.n)
  end
  local err = results[2]
  if type(err) ~= "table" or not err.message then
    error(err, 0)
  end
  local function said(words)
    return words and (words:gsub("label%.([%l_]+)", function(field)
      return "--" .. field:gsub("_", "-")
    end):gsub("^%l+", own_words))
  end
  error({ message = said(err.message), hint = said(err.hint) }, 0)
end

local function items(words)
  local out = {}
  for item in words:gmatch "[^,]+" do
    item = item:match "^%s*(.-)%s*$"
    if item ~= "" then
      out[#out + 1] = item
    end
  end
  return out
end

local function save(path, content, option)
  local fine, message = report.save(path, content)
  if not fine then
    error({ message = message, hint = ("Give another place with --%s FILE."):format(option) })
  end
end

options.run(spec.script, function()
  for _, word in ipairs(arg) do
    if word == "--list" then
      return list_classes()
    end
  end
  local o = options.read(spec)
  rw.reader(o.units)
  local label = read_label(o)
  local resin = asked(rw.resin, { class = o.CLASS, label = label })
  local name = o.CLASS .. (label and ", by its label" or "")
  local m = asked(curemap.make, { resin = resin, name = name, at = items(o.at),
    heating = items(o.heating), within = o.within, share = 0.95 })
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
