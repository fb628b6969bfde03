-- SPDX-License-Identifier: GPL-3.0-or-later
-- A resin's cure as a chemist tabulates it: steady temperatures, steady heating, and the map of
-- time, temperature and transformation; as text, CSV, JSON, a picture and a page.
--
-- curemap.make { resin, name, at, heating, within, share } asks the library; the others print
-- what it gives. All numbers come from the library.
local rw = require "resinwright"
local json = require "resinwright.json"
local mapchart = require "resinwright.mapchart"
local report = require "resinwright.report"
local text = require "resinwright.text"

local curemap = {}

local CURES = { 0.1, 0.3, 0.5, 0.7, 0.9 }
local FROM, TO = "0 degC", "120 degC" -- of a heating, where the peak is looked for
local NARROW = "\u{A0}" -- keeps a number and its unit on one line
local FINE = 12 -- more temperatures where glass comes and goes

curemap.cautions = {
  "A thin film at a steady temperature: the resin's own heat is left out. A thick mass runs "
    .. "hotter and faster, can smoke and burn.",
  "Warm a hull slowly and never above what the maker of the resin, the glue and the wood allow; "
    .. "heaters under a tent are never left alone.",
  "Classes stand for many resins with a wide spread; a label narrows it, the maker's data sheet "
    .. "comes before every number here.",
}

local lists = { "celsius", "gel_seconds", "glass_seconds", "full_seconds", "plateau",
  "plateau_glass_celsius" }

-- The rows of several maps in the order of their temperatures, each temperature once.
local function merged(maps)
  local rows = {}
  for _, m in ipairs(maps) do
    for i = 1, #m.celsius do
      local row = {}
      for _, name in ipairs(lists) do
        row[name] = m[name][i]
      end
      rows[#rows + 1] = row
    end
  end
  table.sort(rows, function(a, b)
    return a.celsius < b.celsius
  end)
  local out = {}
  for _, name in ipairs(lists) do
    out[name] = {}
  end
  for i, row in ipairs(rows) do
    if i == 1 or row.celsius > rows[i - 1].celsius then
      for _, name in ipairs(lists) do
        table.insert(out[name], row[name])
      end
    end
  end
  return out
end

local function make_map(resin, choices)
  local function ask(from, to, count)
    return resin:map { from = from, to = to, count = count, within = choices.within,
      share = choices.share }
  end
  local whole = ask(nil, nil, 61)
  local step = rw.q(whole.celsius[2] - whole.celsius[1], "K")
  local cold, hot = whole.glass_uncured, whole.glass_cured
  local hair = rw.q(0.05, "K")
  local map = merged { whole, ask(cold + hair, cold + step, FINE),
    ask(hot - step, hot - hair, FINE) }
  map.glass_uncured, map.glass_at_gel, map.glass_cured = cold, whole.glass_at_gel, hot
  map.nose, map.warnings = whole.nose, whole.warnings
  return map
end

local function steady_row(resin, at, choices)
  local s = resin:steady { temperature = at, cures = CURES, within = choices.within }
  local hair = rw.q(0.01, "K")
  local temperature = rw.q(at)
  local m = resin:map { from = temperature, to = temperature + hair, count = 2,
    within = choices.within, share = choices.share }
  local function time(seconds)
    return seconds < math.huge and rw.q(seconds, "s") or nil
  end
  local row = { at = temperature, peak_rate = s.peak_rate, peak_cure = s.peak_cure,
    peak_time = s.peak_time, half_time = s.half_time, gel = time(m.gel_seconds[1]),
    glass = time(m.glass_seconds[1]), full = time(m.full_seconds[1]), reached = s.reached,
    reached_glass = rw.q(m.plateau_glass_celsius[1], "degC") }
  for i, c in ipairs(s.cures) do
    row[("cure_%g"):format(100 * CURES[i])] = c.time
  end
  return row, s.warnings
end

local function heating_row(resin, heating)
  local r = resin:ramp { from = FROM, to = TO, heating = heating, count = 2 }
  local row = { heating = rw.q(heating), reached = r.cure[2] }
  if r.peak then
    row.peak, row.peak_cure, row.peak_rate = r.peak.temperature, r.peak.cure, r.peak.rate
  end
  return row, r.warnings
end

local function note(warnings, list)
  for _, warning in ipairs(list) do
    if not warnings[warning] then
      warnings[warning] = true
      warnings[#warnings + 1] = warning
    end
  end
end

--- Ask the library for everything.
-- @param choices  resin; name = words for it; at = list of temperatures as text; heating = list
--   of heating rates as text; within = time to look as far as; share = what counts as full cure
function curemap.make(choices)
  local resin, warnings = choices.resin, {}
  note(warnings, resin.warnings)
  local out = { name = choices.name, class = resin.class, steady = {}, heating = {},
    warnings = warnings, share = choices.share }
  for i, at in ipairs(choices.at) do
    local row, said = steady_row(resin, at, choices)
    out.steady[i] = row
    note(warnings, said)
  end
  for i, heating in ipairs(choices.heating) do
    local row, said = heating_row(resin, heating)
    out.heating[i] = row
    note(warnings, said)
  end
  out.map = make_map(resin, choices)
  note(warnings, out.map.warnings)
  out.within = rw.q(choices.within)
  return out
end

-- ---------------------------------------------------------------- tables

local steady_columns = {
  { "at", "at" }, { "cure_10", "10 %" }, { "cure_30", "30 %" }, { "cure_50", "50 %" },
  { "cure_70", "70 %" }, { "cure_90", "90 %" }, { "half_time", "half" }, { "gel", "gel" },
  { "glass", "glass" }, { "full", "full" }, { "peak_rate", "top rate" },
  { "peak_cure", "at cure" }, { "peak_time", "after" }, { "reached", "reaches" },
  { "reached_glass", "Tg then" },
}
local heating_columns = {
  { "heating", "heating" }, { "peak", "peak at" }, { "peak_cure", "cure there" },
  { "peak_rate", "rate there" }, { "reached", "cure at " .. TO },
}
local units = { heating = "K/min", peak_rate = "1/h" }
local decimals = { peak_cure = 3, reached = 3 }

local function say(key, value)
  if value == nil then
    return "never"
  elseif type(value) == "number" then
    return text.fixed(value, decimals[key] or 3)
  elseif units[key] then
    local number = value:to(units[key])
    return text.readable(number, text.decimals(number, 3)) .. " " .. units[key]
  end
  return value:text(3)
end

local function grid(columns, rows)
  local cells, widths = { {} }, {}
  for i, column in ipairs(columns) do
    cells[1][i] = column[2]
    for k, row in ipairs(rows) do
      cells[k + 1] = cells[k + 1] or {}
      cells[k + 1][i] = say(column[1], row[column[1]])
    end
    widths[i] = 0
    for _, line in ipairs(cells) do
      widths[i] = math.max(widths[i], utf8.len(line[i]))
    end
  end
  local lines = {}
  for k, line in ipairs(cells) do
    for i, cell in ipairs(line) do
      line[i] = (" "):rep(widths[i] - utf8.len(cell)) .. cell
    end
    lines[k] = table.concat(line, "  ")
  end
  return table.concat(lines, "\n") .. "\n"
end

local function part(columns, from, to)
  local out = { columns[1] }
  table.move(columns, from, to, 2, out)
  return out
end

-- What stands out, as { label, value }.
local function marks(m)
  local map = m.map
  local out = {
    { "uncured, it is glass below", map.glass_uncured },
    { "gel and glass come at once at", map.glass_at_gel },
    { "cured, it is glass below", map.glass_cured },
  }
  if map.nose then
    out[4] = { "turns to glass soonest at", map.nose.temperature }
    out[5] = { "and then after", map.nose.time }
  end
  return out
end

local explained = {
  "10 % to 90 %: when that degree of cure is reached. half: half of what the resin can reach.",
  "gel: no longer flows. glass: the glass transition has come up to the temperature of the cure;",
  "from then on it cures very slowly. full: most of what it reaches, where it settles in time.",
}

--- The tables as text.
function curemap.text(m)
  local out = { m.name .. ": cure at a steady temperature, looked at for " .. m.within:text(3)
    .. ".\n\n" }
  local function add(words)
    out[#out + 1] = words
  end
  if #m.steady > 0 then
    add(grid(part(steady_columns, 2, 6), m.steady) .. "\n")
    add(grid(part(steady_columns, 7, 10), m.steady) .. "\n")
    add(grid(part(steady_columns, 11, 15), m.steady) .. "\n")
  end
  if #m.heating > 0 then
    add(("Heated at a steady rate from %s to %s: where the rate is greatest.\n\n")
      :format(FROM, TO))
    add(grid(heating_columns, m.heating) .. "\n")
  end
  add "Temperatures that stand out\n"
  for _, mark in ipairs(marks(m)) do
    add(("  %-32s %s\n"):format(mark[1], mark[2]:text(4)))
  end
  add("\n" .. table.concat(explained, "\n") .. "\n")
  for _, warning in ipairs(m.warnings) do
    add("Note: " .. warning .. ".\n")
  end
  add "\n"
  for _, caution in ipairs(curemap.cautions) do
    add("! " .. caution .. "\n")
  end
  return table.concat(out)
end

local plain_units = { at = "degC", peak = "degC", reached_glass = "degC", heating = "K/min",
  peak_rate = "1/s" }

-- Unit that a column is written in where it is to be read by programs; nil: a plain number.
local function plain_unit(key)
  if key == "peak_cure" or key == "reached" then
    return nil
  end
  return plain_units[key] or "s"
end

local function plain(key, value)
  local unit = plain_unit(key)
  return value and (unit and value:to(unit) or value)
end

local function csv_of(columns, rows)
  local head, out = {}, {}
  for i, column in ipairs(columns) do
    local unit = plain_unit(column[1])
    head[i] = unit and ("%s [%s]"):format(column[1], unit) or column[1]
  end
  out[1] = json.csv(head)
  for k, row in ipairs(rows) do
    local line = { n = #columns }
    for i, column in ipairs(columns) do
      line[i] = plain(column[1], row[column[1]])
    end
    out[k + 1] = json.csv(line)
  end
  return table.concat(out, "\n") .. "\n"
end

local map_head = { "at [degC]", "gel [s]", "glass [s]", "full [s]", "reached",
  "reached_glass [degC]" }

local function map_csv(map)
  local out = { json.csv(map_head) }
  for i = 1, #map.celsius do
    local line = { n = #lists }
    for k, name in ipairs(lists) do
      line[k] = map[name][i]
    end
    out[i + 1] = json.csv(line)
  end
  return table.concat(out, "\n") .. "\n"
end

--- One of the tables, comma-separated; an empty cell: never.
-- @param which  "steady", "heating" or "map"
function curemap.csv(m, which)
  if which == "map" then
    return map_csv(m.map)
  end
  return csv_of(which == "steady" and steady_columns or heating_columns, m[which])
end

local function plain_rows(columns, rows)
  local out = {}
  for k, row in ipairs(rows) do
    out[k] = {}
    for _, column in ipairs(columns) do
      local unit, value = plain_unit(column[1]), plain(column[1], row[column[1]])
      out[k][column[1]] = value and (unit and { value = value, unit = unit } or value) or json.null
    end
  end
  return json.array(out)
end

--- All of it as JSON; null: never.
function curemap.json(m)
  local map = {}
  for _, name in ipairs(lists) do
    map[name] = json.array(m.map[name])
  end
  for _, name in ipairs { "glass_uncured", "glass_at_gel", "glass_cured" } do
    map[name] = { value = m.map[name]:to "degC", unit = "degC" }
  end
  local nose = m.map.nose
  map.nose = nose and { temperature = { value = nose.temperature:to "degC", unit = "degC" },
    time = { value = nose.time:to "s", unit = "s" } } or json.null
  local warnings = {}
  table.move(m.warnings, 1, #m.warnings, 1, warnings)
  return json.encode({ name = m.name, class = m.class, map = map,
    within = { value = m.within:to "s", unit = "s" },
    steady = plain_rows(steady_columns, m.steady),
    heating = plain_rows(heating_columns, m.heating), warnings = json.array(warnings),
    cautions = json.array(curemap.cautions) }, 2)
end

-- ---------------------------------------------------------------- picture and page

--- The map as one <svg> element.
function curemap.picture(m)
  local map = m.map
  local unit = rw.q("20 degC"):unit()
  local function degrees(celsius)
    return unit == "degC" and celsius or celsius * 1.8 + 32
  end
  local scale = {}
  for i, celsius in ipairs(map.celsius) do
    scale[i] = degrees(celsius)
  end
  local lines = {}
  local sign = unit == "degC" and "°C" or "°F"
  for i, line in ipairs { { "glass transition, uncured", map.glass_uncured },
    { "gel and glass at once", map.glass_at_gel },
    { "glass transition, cured", map.glass_cured } } do
    local value = line[2]:to(unit)
    lines[i] = { label = ("%s: %s %s"):format(line[1], text.readable(value, 0), sign),
      degrees = value }
  end
  local function curve(label, kind)
    return { label = label, kind = kind, seconds = map[kind .. "_seconds"], degrees = scale }
  end
  local nose = map.nose
  return mapchart.draw { id = "map", title = m.name .. ": time, temperature and transformation",
    unit = sign, to = m.within:to "s", lines = lines,
    curves = { curve("gel", "gel"), curve("turns to glass", "glass"),
      curve("full cure", "full") },
    mark = nose and { label = "soonest glass", seconds = nose.time:to "s",
      degrees = nose.temperature:to(unit) } }
end

local function page_table(caption, columns, rows)
  local heads, lines = {}, {}
  for i, column in ipairs(columns) do
    heads[i] = { title = column[2], align = "right" }
  end
  for k, row in ipairs(rows) do
    lines[k] = {}
    for i, column in ipairs(columns) do
      lines[k][i] = say(column[1], row[column[1]]):gsub("(%d) (%a)", "%1" .. NARROW .. "%2")
    end
  end
  return report.table { caption = caption, columns = heads, rows = lines }
end

--- A page to print.
function curemap.page(m)
  local found = {}
  for i, mark in ipairs(marks(m)) do
    found[i] = { mark[1], mark[2]:text(4) }
  end
  local tables = {
    page_table("When a degree of cure is reached", part(steady_columns, 2, 6), m.steady),
    page_table("What it becomes", part(steady_columns, 7, 10), m.steady),
    page_table("How fast, and how far", part(steady_columns, 11, 15), m.steady),
    table.concat(explained, " "),
  }
  local notes = {}
  for i, warning in ipairs(m.warnings) do
    notes[i] = "Note: " .. warning .. "."
  end
  return report.page {
    title = m.name,
    subtitle = "Cure at a steady temperature, looked at for " .. m.within:text(3),
    sections = {
      { heading = "Map", body = { report.figure(curemap.picture(m)),
        report.table { columns = { "", { title = "", align = "right" } }, rows = found } } },
      { heading = "Steady temperatures", body = #m.steady > 0 and tables or "None asked for." },
      { heading = "Steady heating from " .. FROM .. " to " .. TO,
        body = #m.heating > 0 and page_table("Where the rate is greatest", heating_columns,
          m.heating) or "None asked for." },
      { heading = "Cautions", body = { notes, report.caution(curemap.cautions) } },
    },
  }
end

return curemap
