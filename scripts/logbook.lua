#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: GPL-3.0-or-later
-- A logbook in, this builder's resin out: fits the notes, says what they do not tell, writes a
-- resin file for the other scripts and a page with the curve, the notes and the coming hours. All
-- numbers come from the library; this script chooses and prints.
local rw = require "resinwright"
local chart = require "resinwright.chart"
local logfit = require "resinwright.logfit"
local options = require "resinwright.options"
local refusal = require "resinwright.refusal"
local resinchoice = require "resinwright.resinchoice"
local resinfile = require "resinwright.resinfile"

local spec = {
  script = "logbook",
  about = "Fits a resin to a logbook of what was found when, and forecasts its hours.",
  arguments = { { name = "LOGBOOK", doc = "table of batches, looks and temperatures, see\n"
    .. (" "):rep(25) .. "docs/logbook.md" }, resinchoice.argument },
  options = resinchoice.options {
    { name = "keep-good", doc = "leave out rows that cannot be right, and list them" },
    { name = "as-read", doc = "take temperatures as they stand, also above 45 degC" },
    { name = "lag", value = "time", fallback = "0 min",
      doc = "how far the hull stays behind the air, \"40 min\"" },
    { name = "bridge", value = "time", fallback = "12 h",
      doc = "longest time between two readings to be joined" },
    { name = "suspects", doc = "take batches whose ratio is in doubt too" },
    { name = "without", value = "batches", doc = "leave these out, commas between" },
    { name = "observer", value = "name", doc = "forecast for this hand" },
    { name = "air", value = "file", doc = "table with the temperatures to come" },
    { name = "low", value = "temperature", doc = "or the coldest of each day to come, all alike" },
    { name = "high", value = "temperature", doc = "and the warmest" },
    { name = "from", value = "date", doc = "first of them (the day after the log unless said)" },
    { name = "lay", value = "hours", fallback = "08:00,13:00,18:00",
      doc = "when a coat is laid, with commas between" },
    { name = "off-by", value = "temperature difference", fallback = "1.5 K",
      doc = "how far off the temperatures to come may be" },
    { name = "draws", value = "count", fallback = "1000",
      doc = "random trials behind the spread" },
    { name = "name", value = "words", doc = "what to call the resin" },
    { name = "note", value = "words", doc = "what is invented about it, for the page's head" },
    { name = "units", value = "metric|us", fallback = "metric", doc = "units to read" },
    { name = "out", value = "file", doc = "write the fitted resin into that file (.lua)" },
    { name = "svg", value = "file", doc = "draw the curve and the notes into that file" },
    { name = "page", value = "file", doc = "write a page to print into that file" },
    { name = "json", doc = "print JSON instead" },
    { name = "csv", value = "notes|windows|sections",
      doc = "print that table, comma-separated, instead" },
  },
  more = "Without --keep-good the first row that cannot be right ends it. A fitted resin goes\n"
    .. "where a class goes: scripts/cure-map.lua FILE.lua, or resin = { file = \"FILE.lua\" } in\n"
    .. "a boat's boat.lua.",
}

local DAY = 86400
local items, save = options.items, options.save

-- Words of the command line for the names that the library uses.
local own_words = { without = "--without", lag = "--lag", bridge = "--bridge", draws = "--draws",
  observer = "--observer", temperature_sd = "--off-by", suspects = "--suspects",
  keep_good = "--keep-good", ratio = "--hardener" }

local function asked(call, ...)
  return resinchoice.asked(own_words, call, ...)
end

local function stop(message, hint)
  error({ message = message, hint = hint }, 0)
end

local function count(o, name, least, most)
  local n = math.tointeger(tonumber(o[name]))
  if not n or n < least or n > most then
    stop(("--%s must be a whole number from %d to %d, found \"%s\""):format(name, least, most,
      o[name]))
  end
  return n
end

-- "08:00" as seconds after midnight.
local function hours(words)
  local out = {}
  for i, item in ipairs(items(words)) do
    local h, m = item:match "^(%d%d?):(%d%d)$"
    h, m = tonumber(h), tonumber(m)
    if not h or h > 23 or m > 59 then
      stop(("--lay: \"%s\" is no time of day"):format(item), "Write --lay 08:00,13:30,18:00.")
    end
    out[i] = h * 3600 + m * 60
  end
  table.sort(out)
  return out
end

-- The day after the last line of a log that has a time, in days since 1970.
local function day_after(log)
  local last = 0
  for _, list in ipairs { log.batches, log.events, log.readings } do
    for _, row in ipairs(list) do
      last = math.max(last, row.mixed_seconds or row.already_seconds or row.not_yet_seconds
        or row.time_seconds)
    end
  end
  return last // DAY + 1
end

-- The temperatures to come, a table or the low and high of days all alike; nil where none are
-- given. Of such days one is looked at: the others are the same.
local function coming(o, log)
  if o.air then
    if o.low or o.high or o.from then
      stop("--air and --low, --high, --from are both given", "Give the table, or low and high.")
    end
    return { air = rw.history_file { path = o.air, as_read = o["as-read"] } }
  elseif not (o.low or o.high or o.from) then
    return {}
  elseif not (o.low and o.high) then
    stop("--low and --high belong together", "Write --low \"12 degC\" --high \"16 degC\".")
  end
  local first = o.from and asked(rw.clock, { at = o.from }) // DAY or day_after(log)
  local days = {}
  for i = 1, 4 do
    days[i] = { day = rw.clock_text { seconds = (first - 2 + i) * DAY }:sub(1, 10),
      low = o.low, high = o.high }
  end
  local air = refusal.reworded(function(message, hint)
    return message:gsub("^days%[%d+%]%.?", "--"):gsub("^%-%- ", "--low "), hint
  end, rw.days, { days = days })
  return { air = air, from = first * DAY, to = (first + 1) * DAY }
end

local function name_of(o, prior)
  return o.name or o.LOGBOOK:match "([^/]+)$":gsub("%.%w+$", "") .. ": " .. prior
end

options.run(spec.script, function()
  if resinchoice.listed(arg) then
    return
  end
  local o = options.read(spec)
  rw.reader(o.units)
  local resin, prior = resinchoice.read(o)
  local log = asked(rw.log, { path = o.LOGBOOK, keep_good = o["keep-good"],
    as_read = o["as-read"], ratio = o.hardener })
  local ahead = coming(o, log)
  local plan = asked(logfit.make, { log = log, resin = resin, name = name_of(o, prior),
    note = o.note, lag = o.lag, bridge = o.bridge, suspects = o.suspects,
    without = items(o.without), air = ahead.air,
    from_seconds = ahead.from, until_seconds = ahead.to, lay = hours(o.lay),
    temperature_sd = o["off-by"],
    draws = count(o, "draws", 1, 100000), observer = o.observer })
  if o.out then
    if not o.out:find "%.lua$" then
      stop(("--out %s: a resin file ends with .lua"):format(o.out))
    end
    save(o.out, resinfile.text(plan.fit:resin { observer = o.observer }, { name = plan.name,
      note = o.note, from = ("%s, %d notes"):format(o.LOGBOOK:match "([^/]+)$",
        plan.fit.fitness.notes) }), "out")
  end
  if o.svg then
    save(o.svg, chart.standalone(logfit.picture(plan)), "svg")
  end
  if o.page then
    save(o.page, logfit.page(plan), "page")
  end
  if o.json then
    io.stdout:write(logfit.json(plan), "\n")
  elseif o.csv then
    io.stdout:write(logfit.csv(plan, o.csv))
  else
    io.stdout:write(logfit.text(plan))
  end
end)
