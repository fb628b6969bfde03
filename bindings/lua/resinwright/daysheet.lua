-- SPDX-License-Identifier: GPL-3.0-or-later
-- The sheet for the shop wall, drawn from a plan of resinwright.dayplan.
local rw = require "resinwright"
local chart = require "resinwright.chart"
local dayplan = require "resinwright.dayplan"
local report = require "resinwright.report"

local daysheet = {}

local HOUR = 3600

local NARROW = "\u{A0}" -- keeps a number and its unit on one line

local days = { [0] = "Thu", "Fri", "Sat", "Sun", "Mon", "Tue", "Wed" }

local function keep(text)
  return (text:gsub("(%d) (%a)", "%1" .. NARROW .. "%2"):gsub("(%d) (%%)", "%1" .. NARROW .. "%2"))
end

local function hour(text)
  return text:sub(12)
end

-- "Sun 02:10" for a clock time; any other text as it is.
local function day_hour(text)
  if not text:match "^%d%d%d%d%-%d%d%-%d%d %d%d:%d%d$" then
    return text
  end
  local day = rw.clock { at = text } // 86400
  return days[day % 7] .. NARROW .. text:sub(12)
end

local function say(plan, value)
  return keep(dayplan.say(value, plan.boat, true))
end

local function rows_of(plan, s, keys)
  local rows = {}
  for _, r in ipairs(s.rows) do
    if not keys or keys[r.key] then
      rows[#rows + 1] = { r.label, say(plan, r.value) }
    end
  end
  return rows
end

local function set(...)
  local keys = {}
  for _, key in ipairs { ... } do
    keys[key] = true
  end
  return keys
end

local function rows_table(plan, s, caption, keys)
  return report.table { caption = caption, columns = { "", { title = "", align = "right" } },
    rows = rows_of(plan, s, keys) }
end

local function right(title)
  return { title = title, align = "right" }
end

local function batch_table(plan)
  local rows = {}
  for i, b in ipairs(plan.batch_list) do
    rows[i] = { report.tick(("batch %d done"):format(i)), tostring(i), keep(b.mass:text(3)),
      keep(("%s to %s"):format(b.band.from:text(3), b.band.to:text(3))), hour(b.mixed),
      hour(b.spread),
      hour(b.latest), ("%.0f %%"):format(100 * b.lost), "" }
  end
  return report.table { caption = "Batches, outside",
    columns = { "", "no.", right "mix", right "hull from stern or bow, along the tape",
      right "mixed", right "spread by", right "too thick", right "chance lost",
      "scraped off, notes" },
    rows = rows }
end

local function window_band(label, from, to, pattern)
  local function ends(range)
    return range.seconds, range.low_seconds, range.high_seconds
  end
  local band = { label = label, pattern = pattern }
  band.from, band.low_from, band.high_from = ends(from)
  if to then
    band.to, band.low_to, band.high_to = ends(to)
  end
  return band
end

local function timeline(plan, to)
  local bands = {}
  for i, b in ipairs(plan.batch_list) do
    bands[i] = { label = "batches", from = b.seconds_mixed, to = b.seconds_spread,
      pattern = i % 2 == 1 and "solid" or "open" }
  end
  bands[#bands + 1] = window_band("trim", plan.late.trim_opens, plan.early.trim_closes, "dots")
  bands[#bands + 1] = window_band("next coat", plan.recoat.open, plan.recoat.close, "hatch")
  bands[#bands + 1] = window_band("turn over", plan.late.handle, nil, "open")
  bands[#bands + 1] = window_band("sand", plan.late.sand, nil, "counter")
  return chart.timeline { id = "times", from = plan.batch_list[1].seconds_mixed, to = to,
    bands = bands, title = "Batches and windows" }
end

local function cure_curve(plan, to)
  local points = plan.cure:points { count = 400 }
  local short = { seconds = {}, cure = {}, celsius = {} }
  for i, t in ipairs(points.seconds) do
    if t <= to then
      for key, list in pairs(short) do
        list[i] = points[key][i]
      end
    end
  end
  local marks = {}
  for _, m in ipairs { { "gel", "gel" }, { "handle", "turn over" }, { "sand", "sand" } } do
    local f = plan.late[m[1]]
    marks[#marks + 1] = { label = m[2], at = f.seconds, low = f.low_seconds,
      high = f.high_seconds }
  end
  return chart.cure { id = "cure", height = 170, seconds = short.seconds, cure = short.cure,
    celsius = short.celsius, to = to, marks = marks, title = "Cure of the last section",
    windows = { { label = "next coat", from = plan.recoat.open.seconds,
      to = plan.recoat.close.seconds } } }
end

-- Edges of the strips, keel in the middle; m.
local function strip_edges(plan)
  local l = plan.layout
  if not l or l.way == "crosswise" then
    return nil
  end
  local width = rw.q(l.roll.width):to "m" - (l.roll.shortfall and rw.q(l.roll.shortfall):to "m"
    or 0)
  local lap = rw.q(plan.boat.lap):to "m"
  local strips, from = {}, -l.reach:to "m" / 2
  for i = 1, l.pieces do
    strips[i] = { low_half = from, high_half = from + width }
    from = from + width - lap
  end
  return strips
end

local function skin(plan, us)
  local stations = plan.boat.hull:stations()
  local bands = {}
  for i, band in ipairs(plan.bands) do
    bands[i] = { from = band.from:to "m", to = band.to:to "m",
      label = ("%d: %s"):format(i, band.area.value:text(3)) }
  end
  return chart.girths { id = "skin", height = 110, x = stations.x, girth = stations.girth,
    bands = bands,
    strips = strip_edges(plan), unit = us and "ft" or "m", title = "Skin folded flat" }
end

local function weight_bars(plan)
  local unit = plan.budget.total.value:unit()
  local rows = {}
  for i, item in ipairs(plan.budget.items) do
    rows[i] = { label = item.name, value = item.mass.value:to(unit),
      low = item.mass.low:to(unit), high = item.mass.high:to(unit) }
  end
  return chart.bars { id = "weight", rows = rows, unit = unit, width = 330,
    title = "Where the weight goes" }
end

local function chance_table(plan)
  local columns, cells = { "" }, { "chance" }
  for _, r in ipairs(plan.chances.rows) do
    columns[#columns + 1] = right((day_hour(r.label):gsub(NARROW, " ")))
    cells[#cells + 1] = ("%.0f" .. NARROW .. "%%"):format(100 * r.value)
  end
  return report.table { caption = "May the next coat go on, unsanded, everywhere?",
    columns = columns, rows = { cells } }
end

local function range_cells(range)
  local low, high = day_hour(tostring(range.low)), day_hour(tostring(range.high))
  return day_hour(tostring(range.value)), low .. " to " .. high
end

local function windows_table(plan)
  local rows = {}
  for i, r in ipairs(plan.window.rows) do
    local best, between = range_cells(r.value)
    rows[i] = { r.label, best, between }
  end
  return report.table { columns = { "", "best guess", "nine times in ten between" }, rows = rows }
end

local function cloth_table(plan)
  local rows = {}
  for i, l in ipairs(plan.layouts) do
    local name = dayplan.roll_name(l) .. (l == plan.layout and ", cheapest" or "")
    rows[i] = { keep(name), dayplan.way(l), say(plan, l.length), say(plan, l.cost) }
  end
  return report.table { caption = "Cloth, each layer",
    columns = { "roll", "laid as", right "off the roll", right "cost" }, rows = rows }
end

local kinds = { { "soak", "into the wood" }, { "cloth", "into the cloth" },
  { "fill", "weave, fill coats" }, { "waste", "pots, tools" }, { "total", "mixed" } }

local function resin_table(plan)
  local columns, rows = { "" }, {}
  local faces = {}
  for _, face in ipairs { "outside", "inside" } do
    if plan.amounts[face] then
      faces[#faces + 1] = face
      columns[#columns + 1] = right(face)
    end
  end
  for i, kind in ipairs(kinds) do
    rows[i] = { kind[2] }
    for _, face in ipairs(faces) do
      local a = plan.amounts[face]
      local in_cloth = a.measured and kind[1] == "soak"
      table.insert(rows[i], in_cloth and "with the cloth" or say(plan, a[kind[1]]))
    end
  end
  return { report.table { caption = "Resin and hardener together", columns = columns,
    rows = rows }, rows_table(plan, plan.resin, nil,
    set("enough", "enough_resin", "enough_hardener", "packs", "packs_cost")) }
end

local steps = {
  "wood sanded, dry, dust off; hull and resin at the same warmth",
  "cloth cut, rolled, selvage away from the sheer; scales, cups, gloves, clock laid out",
  "resin and hardener weighed for batch 1; ratio written on the tin",
  "dew point and hull temperature read; heater plan for the night",
}

-- The whole sheet as HTML text.
function daysheet.page(plan)
  local us = rw.q("1 m"):unit() ~= "m"
  local to = math.min(plan.batch_list[1].seconds_mixed + 60 * HOUR, plan.horizon_seconds)
  local notes = {}
  for _, s in ipairs { plan.hour, plan.window, plan.resin } do
    table.move(s.notes, 1, #s.notes, #notes + 1, notes)
  end
  for _, w in ipairs(plan.warnings) do
    table.insert(notes, 1, w)
  end
  return report.page {
    title = plan.name,
    subtitle = ("Sheathing day %s, first batch %s"):format(plan.begin:sub(1, 10),
      hour(plan.begin)),
    note = plan.note,
    sections = {
      { heading = "Before the first cup", body = report.columns(report.list(steps, "ticks"),
        rows_table(plan, plan.hour, nil, set("chosen", "rise", "margin", "coldest"))) },
      { heading = "The day", body = { batch_table(plan), report.figure(timeline(plan, to)) } },
      { heading = "After it", body = { windows_table(plan), chance_table(plan),
        report.figure(cure_curve(plan, to)), report.list(notes) } },
      { heading = "Skin, cloth and resin", body = { report.figure(skin(plan, us)),
        report.columns(cloth_table(plan), resin_table(plan)) } },
      { heading = "Boat", body = report.columns(rows_table(plan, plan.layup, "Layup"),
        report.figure(weight_bars(plan))) },
      { heading = "Cautions", body = report.caution(dayplan.cautions,
        "Read before the first cup") },
    },
  }
end

return daysheet
