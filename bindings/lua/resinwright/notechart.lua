-- SPDX-License-Identifier: GPL-3.0-or-later
--- Picture of a resin fitted to notes: the degree of cure over its age with its bands, and below
-- it, on the same axis, every note as a bar from the last look that found it not yet to the first
-- that found it so. For a black-and-white print, like all pictures of resinwright.chart.
local drawing = require "resinwright.drawing"
local text = require "resinwright.text"

local notechart = {}

local finite = text.finite

local HOUR, DAY = 3600, 86400

local ticks = {
  { 600, "10 min" }, { 1800, "30 min" }, { HOUR, "1 h" }, { 2 * HOUR, "2 h" }, { 4 * HOUR, "4 h" },
  { 8 * HOUR, "8 h" }, { 16 * HOUR, "16 h" }, { DAY, "1 d" }, { 2 * DAY, "2 d" },
  { 4 * DAY, "4 d" }, { 8 * DAY, "8 d" }, { 16 * DAY, "16 d" },
  { 32 * DAY, "32 d" }, { 64 * DAY, "64 d" },
}

local UPPER = 190 -- px, of the curve
local ROW = 6     -- px from note to note

local Plot = {}
Plot.__index = Plot

function Plot:sx(seconds)
  local share = math.log(seconds / self.from) / math.log(self.to / self.from)
  return self.left + math.max(0, math.min(1, share)) * (self.right - self.left)
end

function Plot:sy(cure)
  return self.bottom - cure * (self.bottom - self.top)
end

-- Ends of the axis: all that is drawn, with a little room.
local function extent(spec)
  local all = {}
  local function add(value)
    if value and finite(value) and value > 0 then
      all[#all + 1] = value
    end
  end
  for _, group in ipairs(spec.groups) do
    add(group.low)
    add(group.high)
    for _, note in ipairs(group.notes) do
      add(note.from)
      add(note.to)
    end
  end
  local low, high = drawing.extent(all)
  return low and low / 3, high and high * 2
end

local function draw_axis(p, bottom)
  local c, last = p.canvas, -math.huge
  for _, tick in ipairs(ticks) do
    if tick[1] >= p.from and tick[1] <= p.to then
      local x, half = p:sx(tick[1]), text.width(tick[2], c.small) / 2
      c:line(x, p.top, x, bottom, "grid")
      if x - half > last + 4 then
        c:text(x, bottom + c.small * 1.4, tick[2], { anchor = "middle", size = c.small })
        last = x + half
      end
    end
  end
  c:line(p.left, bottom, p.right, bottom, "line")
end

-- The outline between two times of each degree of cure.
local function band(p, levels, low, high)
  local points = {}
  for i = 1, #levels do
    points[#points + 1] = { p:sx(low[i]), p:sy(levels[i]) }
  end
  for i = #levels, 1, -1 do
    points[#points + 1] = { p:sx(math.min(high[i], 1e12)), p:sy(levels[i]) }
  end
  return points
end

local function draw_curve(p, curve)
  local c = p.canvas
  for share = 0, 4 do
    local y = p:sy(share / 4)
    c:line(p.left, y, p.right, y, share == 0 and "thin" or "grid")
    c:text(p.left - 5, y + c.small * 0.35, ("%d %%"):format(share * 25),
      { anchor = "end", size = c.small })
  end
  for _, b in ipairs(curve.bands) do
    c:area(band(p, curve.levels, b.low, b.high), b.pattern)
  end
  local points = {}
  for i, seconds in ipairs(curve.seconds) do
    if seconds >= p.from and seconds <= p.to then
      points[#points + 1] = { p:sx(seconds), p:sy(curve.cure[i]) }
    end
  end
  if #points > 1 then
    c:path(points, "bold")
  end
  c:line(p.left, p.top, p.left, p.bottom, "line")
  c:text(2, c.small * 1.1, "↑ degree of cure", { size = c.small, bold = true })
end

-- One note: a bar, an arrow where it has no end, a dot where the moment was watched.
local function draw_note(p, note, y)
  local c = p.canvas
  local from, to = note.from or p.from, note.to or p.to
  local x1, x2 = p:sx(from), p:sx(to)
  if note.from and note.to and x2 - x1 < 2 then
    c:dot((x1 + x2) / 2, y, 1.8, true)
  else
    c:line(x1, y, x2, y, "line")
    if note.from then
      c:line(x1, y - 2, x1, y + 2, "line")
    else
      c:path({ { x1 + 4, y - 2 }, { x1, y }, { x1 + 4, y + 2 } }, "line")
    end
    if note.to then
      c:line(x2, y - 2, x2, y + 2, "line")
    else
      c:path({ { x2 - 4, y - 2 }, { x2, y }, { x2 - 4, y + 2 } }, "line")
    end
  end
  if note.label then
    local width = text.width(note.label, c.small)
    local x = x2 + 4 + width > p.right and x1 - 4 - width or x2 + 4
    c:text(math.max(p.left + 2, x), y + c.small * 0.35, note.label,
      { size = c.small, bold = true })
  end
end

local function by_age(a, b)
  return (a.from or a.to or 0) + (a.to or a.from or 0) < (b.from or b.to or 0)
    + (b.to or b.from or 0)
end

-- The notes of one milestone, behind them where it lies; returns the y below.
local function draw_group(p, group, y)
  local c = p.canvas
  local height = math.max(c.small * 2.6, (#group.notes + 1) * ROW)
  if group.low and group.low > 0 then
    c:box(p:sx(group.low), y, p:sx(group.high), y + height, "dots")
    c:line(p:sx(group.value), y, p:sx(group.value), y + height, "bold")
  end
  for i, word in ipairs(drawing.split(group.label, c.small, p.left - 10)) do
    if i <= 2 then
      c:text(2, y + c.small * (0.1 + 1.15 * i), word, { size = c.small })
    end
  end
  table.sort(group.notes, by_age)
  for i, note in ipairs(group.notes) do
    draw_note(p, note, y + i * ROW)
  end
  c:line(2, y + height, p.right, y + height, "thin")
  return y + height
end

--- The curve of a fitted resin over its age at one temperature, and its notes.
-- @param spec  id, width, title, desc as every picture of resinwright.chart; curve = { seconds,
--   cure: the curve; levels: degrees of cure of the bands; bands = { { low, high: seconds at each
--   level, pattern = "hatch|counter|dots" }, ... } }; groups = { { label, value, low, high:
--   seconds or nil, notes = { { from, to: seconds or nil where there is no such look, label },
--   ... } }, ... }; axis = words of the time axis
-- @return SVG text
function notechart.draw(spec)
  drawing.check("notes", spec, "groups", "", "curve axis")
  local title = "Degree of cure, and the notes"
  local from, to = extent(spec)
  if not from then
    return drawing.sentence(spec, title, "Nothing to draw: there are no notes.")
  end
  local c = drawing.canvas(spec)
  local top = c.small * 2
  local p = setmetatable({ canvas = c, left = c.small * 13, right = c.width - c.small * 1.5,
    top = top, bottom = top + UPPER, from = from, to = to }, Plot)
  draw_curve(p, spec.curve)
  local y, count = p.bottom, 0
  for _, group in ipairs(spec.groups) do
    y = draw_group(p, group, y)
    count = count + #group.notes
  end
  draw_axis(p, y)
  c:text(p.right, y + c.small * 2.8, spec.axis .. " →",
    { anchor = "end", size = c.small, bold = true })
  return c:finish(spec, y + c.small * 3.4, title,
    ("The degree of cure over its age, and %d notes as bars below it."):format(count))
end

return notechart
