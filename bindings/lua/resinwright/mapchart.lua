-- SPDX-License-Identifier: GPL-3.0-or-later
--- Picture of a map of time, temperature and transformation: a time axis in powers, a temperature
-- axis, curves with their names on them, and words in the fields between. For a black-and-white
-- print, like all pictures of resinwright.chart.
local drawing = require "resinwright.drawing"
local text = require "resinwright.text"

local mapchart = {}

local finite = text.finite

local ticks = {
  { 1, "1 s" }, { 10, "10 s" }, { 60, "1 min" }, { 600, "10 min" }, { 3600, "1 h" },
  { 6 * 3600, "6 h" }, { 86400, "1 d" }, { 7 * 86400, "7 d" }, { 28 * 86400, "28 d" },
  { 365 * 86400, "1 yr" }, { 3650 * 86400, "10 yr" }, { 36500 * 86400, "100 yr" },
}

local styles = { gel = "bold", glass = "dashed", full = "dash_dot" }

local Map = {}
Map.__index = Map

function Map:sx(seconds)
  return self.left + math.log(seconds / self.from) / math.log(self.to / self.from)
    * (self.right - self.left)
end

function Map:sy(degrees)
  return self.bottom - (degrees - self.low) / (self.high - self.low) * (self.bottom - self.top)
end

-- Pieces of a curve inside the frame, cut where it leaves the time axis.
local function pieces(map, curve)
  local out, piece, last = {}, nil, nil
  local function add(seconds, degrees)
    if not piece then
      piece = {}
      out[#out + 1] = piece
    end
    piece[#piece + 1] = { map:sx(seconds), map:sy(degrees) }
  end
  -- Where the line between two points meets an end of the axis.
  local function cut(a, b, seconds)
    local share = math.log(seconds / a[1]) / math.log(b[1] / a[1])
    add(seconds, a[2] + share * (b[2] - a[2]))
  end
  for i, seconds in ipairs(curve.seconds) do
    local p = finite(seconds) and seconds > 0 and { seconds, curve.degrees[i] } or nil
    if p then
      for _, edge in ipairs(last and last[1] > p[1] and { map.to, map.from }
        or { map.from, map.to }) do
        if last and (last[1] - edge) * (p[1] - edge) < 0 then
          cut(last, p, edge)
        end
      end
      if p[1] >= map.from and p[1] <= map.to then
        add(p[1], p[2])
      else
        piece = nil
      end
    else
      piece = nil
    end
    last = p
  end
  return out
end

-- The time of a curve at a temperature; infinite where it never comes there.
local function time_at(curve, degrees)
  for i = 2, #curve.degrees do
    local a, b = curve.degrees[i - 1], curve.degrees[i]
    if degrees >= a and degrees <= b and b > a then
      local p, q = curve.seconds[i - 1], curve.seconds[i]
      if p <= 0 or q <= 0 then
        return math.min(p, q)
      end
      return math.exp(math.log(p) + (math.log(q) - math.log(p)) * (degrees - a) / (b - a))
    end
  end
  return math.huge
end

-- Points of a field on a grid, and their middle.
local function field_places(map, belongs)
  local places, x_sum, y_sum = {}, 0, 0
  for i = 1, 60 do
    for k = 1, 50 do
      local x = map.left + (map.right - map.left) * (i - 0.5) / 60
      local y = map.top + (map.bottom - map.top) * (k - 0.5) / 50
      if belongs(x, y) then
        places[#places + 1] = { x, y }
        x_sum, y_sum = x_sum + x, y_sum + y
      end
    end
  end
  return places, x_sum / #places, y_sum / #places
end

-- Words for a field where they cover nothing, as near as can be to its middle; the letters are
-- smaller where it is narrow.
local function name_field(map, label, belongs)
  local c = map.canvas
  local bounds = { map.left + 2, map.top + 2, map.right - 2, map.bottom - 2 }
  local places, x_middle, y_middle = field_places(map, belongs)
  for _, size in ipairs { c.size, c.small } do
    local half_width, half_height = text.width(label, size) / 2 + 3, size * 0.7
    local best, best_cost
    for _, p in ipairs(places) do
      local box = { p[1] - half_width, p[2] - half_height, p[1] + half_width, p[2] + half_height }
      local dx, dy = p[1] - x_middle, p[2] - y_middle
      local cost = dx * dx + dy * dy
      if (not best or cost < best_cost) and c:cost(box, nil, bounds, p[1], p[2]) == 0 then
        best, best_cost = box, cost
      end
    end
    if best then
      c.boxes[#c.boxes + 1] = best
      c:text((best[1] + best[3]) / 2, (best[2] + best[4]) / 2 + size * 0.35, label,
        { anchor = "middle", size = size, bold = true })
      return
    end
  end
end

local fields = {
  { "liquid", false, false }, { "gelled, rubbery", true, false },
  { "gelled glass", true, true }, { "glass, not gelled", false, true },
}

local function name_fields(map, curves)
  local gel, glass
  for _, curve in ipairs(curves) do
    gel = curve.kind == "gel" and curve or gel
    glass = curve.kind == "glass" and curve or glass
  end
  if not (gel and glass) then
    return
  end
  local function passed(curve, x, y)
    local degrees = map.low + (map.bottom - y) / (map.bottom - map.top) * (map.high - map.low)
    local seconds = map.from * (map.to / map.from) ^ ((x - map.left) / (map.right - map.left))
    return seconds >= time_at(curve, degrees)
  end
  for _, field in ipairs(fields) do
    name_field(map, field[1], function(x, y)
      return passed(gel, x, y) == field[2] and passed(glass, x, y) == field[3]
    end)
  end
end

local function draw_axes(map, unit, lines)
  local c = map.canvas
  for _, tick in ipairs(drawing.round_ticks(map.low, map.high, 10)) do
    local y = map:sy(tick[1])
    c:line(map.left, y, map.right, y, "grid")
    c:text(map.left - 5, y + c.small * 0.35, tick[2], { anchor = "end", size = c.small })
  end
  local last = -math.huge
  for _, tick in ipairs(ticks) do
    if tick[1] >= map.from * 0.999 and tick[1] <= map.to * 1.001 then
      local x, half = map:sx(tick[1]), text.width(tick[2], c.small) / 2
      c:line(x, map.top, x, map.bottom, "grid")
      if x - half > last + 4 then
        c:text(x, map.bottom + c.small * 1.4, tick[2], { anchor = "middle", size = c.small })
        last = x + half
      end
    end
  end
  for _, line in ipairs(lines) do
    if line.degrees > map.low and line.degrees < map.high then
      local y = map:sy(line.degrees)
      c:line(map.left, y, map.right, y, "thin")
      c.segments[#c.segments + 1] = { map.left, y, map.right, y }
    end
  end
  c:line(map.left, map.top, map.left, map.bottom, "line")
  c:line(map.left, map.bottom, map.right, map.bottom, "line")
  c:text(2, c.small * 1.1, "↑ " .. unit, { size = c.small, bold = true })
  c:text(map.right, map.bottom + c.small * 2.8, "time at a steady temperature →",
    { anchor = "end", size = c.small, bold = true })
end

-- Names of the level lines stand at their right ends, above the line or below it.
local function name_lines(map, lines)
  local c = map.canvas
  for _, line in ipairs(lines) do
    if line.degrees > map.low and line.degrees < map.high then
      local label = text.shorten(line.label, c.small, (map.right - map.left) * 0.6)
      local width, y = text.width(label, c.small) + 4, map:sy(line.degrees)
      local best, best_cost
      for _, share in ipairs { 1, 0, 0.75, 0.5, 0.25 } do
        for _, side in ipairs { -1, 1 } do
          local x = map.left + 3 + share * (map.right - map.left - width - 6)
          local middle = y + side * c.small * 0.75
          local box = { x, middle - c.small * 0.55, x + width, middle + c.small * 0.55 }
          local cost = c:cost(box, nil, { map.left, map.top, map.right, map.bottom }, x, y)
          if cost and (not best or cost < best_cost) then
            best, best_cost = box, cost
          end
        end
      end
      if best then
        c.boxes[#c.boxes + 1] = best
        c:text((best[1] + best[3]) / 2, (best[2] + best[4]) / 2 + c.small * 0.35, label,
          { anchor = "middle", size = c.small })
      end
    end
  end
end

local function draw_curves(map, curves)
  local c = map.canvas
  local longest = {}
  for i, curve in ipairs(curves) do
    for _, piece in ipairs(pieces(map, curve)) do
      c:path(piece, styles[curve.kind] or "line")
      c:keep_off_line(piece)
      if not longest[i] or #piece > #longest[i] then
        longest[i] = piece
      end
    end
  end
  return longest
end

local function frame(spec, c)
  local degrees, seconds = {}, {}
  for _, curve in ipairs(spec.curves or {}) do
    for i, d in ipairs(curve.degrees) do
      degrees[#degrees + 1] = d
      if curve.kind ~= "glass" then
        seconds[#seconds + 1] = curve.seconds[i]
      end
    end
  end
  local low, high = drawing.extent(degrees)
  local from, to = drawing.extent(seconds, function(s)
    return finite(s) and s > 0
  end)
  if not from or low >= high then
    return nil
  end
  from = math.max(0.1, spec.from or 0.5 * from)
  to = math.max(from * 10, spec.to or 2 * to)
  local widest = 0
  for _, tick in ipairs(drawing.round_ticks(low, high, 10)) do
    widest = math.max(widest, text.width(tick[2], c.small))
  end
  local top = c.small * 2
  return setmetatable({ canvas = c, from = from, to = to, low = low, high = high,
    left = widest + 9, right = c.width - c.small * 2.2, top = top,
    bottom = top + math.max(160, (spec.height or math.floor(c.width * 0.62)) - top
      - c.small * 3.2),
  }, Map)
end

--- Curves over a time axis in powers.
-- @param spec  id, width, height, title, desc as every picture of resinwright.chart; curves =
--   { { label, kind = "gel|glass|full", seconds, degrees }, ... } with degrees rising and
--   math.huge for never; lines = { { label, degrees }, ... }: levels with a name; mark = { label,
--   seconds, degrees } or nil; unit = words of the temperature axis; from, to = seconds
-- @return SVG text
function mapchart.draw(spec)
  drawing.check("map", spec, "curves lines", "", "mark unit from to")
  local title = "Time, temperature and transformation"
  local c = drawing.canvas(spec)
  local map = frame(spec, c)
  if not map then
    return drawing.sentence(spec, title, "Nothing to draw: nothing happens in the time looked at.")
  end
  local lines = spec.lines or {}
  draw_axes(map, spec.unit or "°C", lines)
  local longest = draw_curves(map, spec.curves)
  local bounds = { map.left + 2, map.top + 1, map.right - 2, map.bottom - 1 }
  local mark = spec.mark
  if mark and mark.seconds >= map.from and mark.seconds <= map.to then
    local x, y = map:sx(mark.seconds), map:sy(mark.degrees)
    c:dot(x, y, 3, true)
    c:keep_off_point(x, y, 4)
    c:name_point(x, y, mark.label, bounds)
    c:keep_off_point(x, y, c.small * 2.5)
  end
  name_lines(map, lines)
  local said = {}
  for i, curve in ipairs(spec.curves) do
    if longest[i] then
      c:name_line(longest[i], curve.label, bounds)
    end
    said[i] = curve.label
  end
  name_fields(map, spec.curves)
  for _, line in ipairs(lines) do
    said[#said + 1] = line.label
  end
  return c:finish(spec, map.bottom + c.small * 3.2, title,
    "Curves and levels: " .. table.concat(said, "; ") .. ".")
end

return mapchart
