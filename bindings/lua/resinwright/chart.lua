-- SPDX-License-Identifier: GPL-3.0-or-later
--- Pictures for a black-and-white print: plain tables in, one <svg> element as text out.
--
-- Lines differ by dash and weight, areas by hatch, and names stand on what they name. Each
-- picture has a title, a description in words and ids that begin with its own id, so that many
-- may stand in one page. Sizes are px; at the full width of 170 mm (643 px) no letter is smaller
-- than 9 px, and a wider drawing gets larger letters. Numbers that are not finite are skipped.
-- Times are seconds since 1970 read off the builder's own clock.
--
-- Fields that every picture knows:
--   id      letters, digits, - and _; begins with a letter, once per page (required)
--   width   px, 240 to 4000 (643)
--   height  px of the drawing; labels and axes may add to it
--   title, desc  words for a reader who cannot see the picture (made from the data)
local drawing = require "resinwright.drawing"
local text = require "resinwright.text"

local chart = {}

local finite = text.finite
local check, words = drawing.check, drawing.words
local canvas, sentence = drawing.canvas, drawing.sentence
local extent, is_time = drawing.extent, drawing.is_time

-- ---------------------------------------------------------------- timeline

-- Ends of a band as they can be drawn: nil where nothing is known, the edge where it goes on.
local function band_ends(band, from, to)
  local a = band.from == -math.huge and from or band.from
  local b = (band.to == nil or band.to == math.huge) and to or band.to
  if not (is_time(a) and is_time(b)) or b < a then
    return nil
  end
  return a, b, band.from == -math.huge or a < from,
    band.to == nil or band.to == math.huge or b > to
end

-- Bands that follow each other under the same label share a row.
local function timeline_rows(bands)
  local rows = {}
  for _, band in ipairs(bands) do
    local label = words(band.label)
    if not (rows[#rows] and rows[#rows].label == label) then
      rows[#rows + 1] = { label = label }
    end
    table.insert(rows[#rows], band)
  end
  return rows
end

local Timeline = {}
Timeline.__index = Timeline

function Timeline:sx(t)
  t = math.max(self.from, math.min(self.to, t))
  return self.left + (t - self.from) / (self.to - self.from) * (self.right - self.left)
end

local function day_date(seconds)
  return drawing.day_words(drawing.day_of(seconds))
end

-- As much of day and hour as the length of the picture asks for.
function Timeline:bar_label(from, to, before, after)
  local time, span = drawing.day_clock, drawing.clock_span(from, to)
  if self.to - self.from >= 7 * 86400 then
    time, span = day_date, day_date(from) .. "–" .. day_date(to)
  elseif drawing.day_of(self.from) == drawing.day_of(self.to) then
    time = drawing.clock
  end
  if before and after then
    return "all the time"
  elseif after then
    return "from " .. time(from)
  end
  return before and "until " .. time(to) or span
end

-- An end that goes on beyond the picture stays open and gets an arrow.
function Timeline:bar(band, y)
  local c = self.canvas
  local from, to, before, after = band_ends(band, self.from, self.to)
  if not from or from > self.to or to < self.from then
    return nil, from and (to < self.from and "before this" or "later than this") or "not known"
  end
  local x1, x2 = self:sx(from), self:sx(to)
  x2 = math.max(x2, x1 + 1.5)
  local top, bottom = y - c.size * 0.55, y + c.size * 0.55
  c:box(x1, top, x2, bottom, band.pattern or "hatch")
  c:line(x1, top, x2, top, "line")
  c:line(x1, bottom, x2, bottom, "line")
  if not before then
    c:line(x1, top, x1, bottom, "line")
  else
    c:path({ { x1 + 1, y - 4 }, { x1 - 5, y }, { x1 + 1, y + 4 } }, "line")
  end
  if not after then
    c:line(x2, top, x2, bottom, "line")
  else
    c:path({ { x2 - 1, y - 4 }, { x2 + 5, y }, { x2 - 1, y + 4 } }, "line")
  end
  local low, high = x1, x2
  local function soft(edge, hard, a, b)
    a, b = is_time(a) and a or edge, is_time(b) and b or edge
    if hard and (a < edge or b > edge) then
      c:whisker(self:sx(a), y, self:sx(b), y)
      low, high = math.min(low, self:sx(a)), math.max(high, self:sx(b))
    end
  end
  soft(from, not before, band.low_from, band.high_from)
  soft(to, not after, band.low_to, band.high_to)
  return { low, high, x1, x2, label = self:bar_label(from, to, before, after),
    open = band.pattern ~= "solid" }
end

-- The times of a bar stand after it, before it or on it, wherever the row is free.
function Timeline:bar_times(span, taken, y)
  local c = self.canvas
  local width = text.width(span.label, c.small) + 8
  local tries = { { span[2] + 3, span[2] + width + 3 }, { span[1] - width - 3, span[1] - 3 } }
  if span.open and span[4] - span[3] > width + 4 then
    local middle = (span[3] + span[4]) / 2
    tries[3] = { middle - width / 2, middle + width / 2, on_bar = true }
  end
  for _, try in ipairs(tries) do
    local free = try[1] >= self.left and try[2] <= self.right + 8
    for _, other in ipairs(taken) do
      local own = try.on_bar and other == span
      if not own and try[1] < other[2] and other[1] < try[2] then
        free = false
      end
    end
    if free then
      c:text((try[1] + try[2]) / 2, y + c.small * 0.35, span.label,
        { anchor = "middle", size = c.small })
      taken[#taken + 1] = try
      return
    end
  end
end

function Timeline:row(row, y)
  local c = self.canvas
  c:text(self.left - 8, y + c.size * 0.35, text.shorten(row.label, c.size, self.left - 12),
    { anchor = "end" })
  local spans, why = {}, nil
  for _, band in ipairs(row) do
    local span, absent = self:bar(band, y)
    if span then
      spans[#spans + 1] = span
    end
    why = why or absent
  end
  local taken = table.move(spans, 1, #spans, 1, {})
  for _, span in ipairs(spans) do
    self:bar_times(span, taken, y)
  end
  if #spans == 0 then
    c:text(self.left + 6, y + c.small * 0.35, why, { size = c.small })
  end
end

--- Rows of bars along a clock: batches, windows, nights.
-- @param spec  from, to = seconds (made from the bands); days = false leaves the names of days
--   out; bands = { { label, from, to, low_from?, high_from?, low_to?, high_to?,
--   pattern = "hatch|counter|dots|solid|open" }, ... }: low_ and high_ draw a soft end; to = nil
--   or infinite goes on beyond the picture; bands that follow each other under one label share
--   a row
-- @return SVG text
function chart.timeline(spec)
  check("timeline", spec, "bands", "", "from to days")
  local bands = spec.bands or {}
  local times = {}
  for _, band in ipairs(bands) do
    for _, field in ipairs { "from", "to", "low_from", "high_from", "low_to", "high_to" } do
      times[#times + 1] = band[field] or 0 / 0
    end
  end
  local from, to = drawing.time_range(spec, times)
  local title = "Times along the clock"
  if #bands == 0 or not from or not to then
    return sentence(spec, title, "Nothing to draw: there are no times.")
  end
  local c = canvas(spec)
  local rows = timeline_rows(bands)
  local widest = 0
  for _, row in ipairs(rows) do
    widest = math.max(widest, text.width(row.label, c.size))
  end
  local left = math.min(widest + 14, c.width * 0.36)
  local height = math.max(c.size * 1.5, math.min(c.size * 2.6, (spec.height or 0) / #rows))
  local bottom = 4 + #rows * height
  local t = setmetatable({ canvas = c, left = left, right = c.width - c.size * 1.9, from = from,
    to = to }, Timeline)
  local y = c:time_axis({ left, 4, t.right, bottom }, from, to, spec.days ~= false)
  c:line(left, 4, left, bottom, "thin")
  local said = {}
  for i, row in ipairs(rows) do
    t:row(row, 4 + (i - 0.5) * height)
    for _, band in ipairs(row) do
      local a, b, _, after = band_ends(band, from, to)
      said[#said + 1] = row.label .. " " .. (not a and "not known" or after and
        "from " .. drawing.clock(a) or drawing.clock_span(a, b))
    end
  end
  return c:finish(spec, y, title, ("%s: %s."):format(
    drawing.day_words(drawing.day_of(from)), table.concat(said, "; ")))
end

-- ---------------------------------------------------------------- cure

-- Points of a series that are numbers, in order, up to the ends of the picture.
local function clip_series(xs, ys, from, to)
  local out, last = {}, nil
  for i = 1, math.min(#xs, #ys) do
    local p = { xs[i], ys[i] }
    if is_time(p[1]) and finite(p[2]) then
      local function cross(x)
        if last and (last[1] - x) * (p[1] - x) < 0 then
          out[#out + 1] = { x, last[2] + (p[2] - last[2]) * (x - last[1]) / (p[1] - last[1]) }
        end
      end
      cross(from)
      cross(to)
      if p[1] >= from and p[1] <= to then
        out[#out + 1] = p
      end
      last = p
    end
  end
  return out
end

local function value_at(points, x)
  for i = 2, #points do
    local a, b = points[i - 1], points[i]
    if x >= a[1] and x <= b[1] then
      return b[1] > a[1] and a[2] + (b[2] - a[2]) * (x - a[1]) / (b[1] - a[1]) or b[2]
    end
  end
  return points[1] and points[1][1] == x and points[1][2] or nil
end

local function cure_windows(spec, from, to, sx)
  local items, outside = {}, {}
  for i, window in ipairs(spec.windows or {}) do
    local a, b = band_ends(window, from, to)
    if a and a <= to and b >= from then
      items[#items + 1] = { label = words(window.label), from = sx(math.max(a, from)),
        to = sx(math.min(b, to)), pattern = window.pattern or drawing.patterns[(i - 1) % 3 + 1] }
    else
      outside[#outside + 1] = words(window.label)
    end
  end
  return items, outside
end

local function draw_windows(c, items, top, bottom)
  for _, item in ipairs(items) do
    local right = math.max(item.to, item.from + 1)
    c:box(item.from, top, right, bottom, item.pattern)
    c:line(item.from, top, item.from, bottom, "thin")
    c:line(right, top, right, bottom, "thin")
  end
end

local function draw_percent(c, left, right, sy)
  for percent = 0, 100, 20 do
    local y = sy(percent / 100)
    c:line(left, y, right, y, percent == 0 and "line" or "grid")
    c:text(left - 5, y + c.small * 0.35, percent .. " %", { anchor = "end", size = c.small })
  end
  c:line(left, sy(0), left, sy(1), "line")
end

-- The axis of the temperature: low, high, ticks, width of the labels; nil without temperatures.
local function warm_axis(points, size)
  if #points == 0 then
    return nil
  end
  local values = {}
  for i, p in ipairs(points) do
    values[i] = p[2]
  end
  local low, high = extent(values)
  low, high = drawing.round_range(low - 1, high + 1, 5)
  local axis = { low = low, high = high, ticks = drawing.round_ticks(low, high, 5), width = 0 }
  for _, tick in ipairs(axis.ticks) do
    axis.width = math.max(axis.width, text.width(tick[2] .. " °C", size))
  end
  return axis
end

-- The second axis and its line; returns the line in px.
local function draw_temperature(c, axis, points, right, top, bottom, sx)
  local function sy(value)
    return bottom - (value - axis.low) / (axis.high - axis.low) * (bottom - top)
  end
  for _, tick in ipairs(axis.ticks) do
    c:line(right, sy(tick[1]), right + 3, sy(tick[1]), "thin")
    c:text(right + 5, sy(tick[1]) + c.small * 0.35, tick[2] .. " °C", { size = c.small })
  end
  c:line(right, top, right, bottom, "thin")
  local line = {}
  for i, p in ipairs(points) do
    line[i] = { sx(p[1]), sy(p[2]) }
  end
  c:path(line, "dashed")
  return line
end

local function mark_points(spec, curve, from, to, sx, sy)
  local inside_marks, outside = {}, {}
  for _, mark in ipairs(spec.marks or {}) do
    local t = mark.at
    local cure = finite(mark.cure) and mark.cure or is_time(t) and value_at(curve, t)
    if is_time(t) and cure and t >= from and t <= to then
      local function limit(value)
        return is_time(value) and sx(math.max(from, math.min(to, value))) or sx(t)
      end
      table.insert(inside_marks, { label = words(mark.label), x = sx(t), y = sy(cure),
        low = limit(mark.low), high = limit(mark.high) })
    else
      outside[#outside + 1] = words(mark.label)
    end
  end
  return inside_marks, outside
end

local function draw_marks(c, marks, bounds)
  for _, mark in ipairs(marks) do
    if mark.low < mark.x or mark.high > mark.x then
      c:whisker(mark.low, mark.y, mark.high, mark.y)
      c.segments[#c.segments + 1] = { mark.low, mark.y, mark.high, mark.y }
    end
    c:dot(mark.x, mark.y, 3, true)
    c:keep_off_point(mark.x, mark.y, 4)
  end
  local left_out = {}
  for _, mark in ipairs(marks) do
    if not c:name_point(mark.x, mark.y, mark.label, bounds) then
      left_out[#left_out + 1] = mark.label
    end
  end
  return left_out
end

local function note_names(c, before, names)
  if #names > 0 then
    c:note("%s: %s", before, table.concat(names, ", "))
  end
end

local function cure_words(curve, marks)
  local last = curve[#curve]
  local out = { ("The cure goes from %s %% at %s to %s %% at %s, %s."):format(
    text.fixed(curve[1][2] * 100, 0), drawing.clock(curve[1][1]), text.fixed(last[2] * 100, 0),
    drawing.clock(last[1]), drawing.day_words(drawing.day_of(last[1]))) }
  for _, mark in ipairs(marks or {}) do
    if is_time(mark.at) then
      out[#out + 1] = ("%s: %s."):format(words(mark.label), drawing.day_clock(mark.at))
    end
  end
  return table.concat(out, " ")
end

--- Cure over the clock, with the temperature as a thin dashed line on an axis of its own.
-- @param spec  seconds, cure (0 to 1), celsius (may be left out) = lists of equal length;
--   windows = { { label, from, to, pattern? }, ... }: hatched strips; marks = { { label, at,
--   cure?, low?, high? }, ... }: dots (on the curve where cure is left out) with a soft time;
--   from, to = seconds (those of the data); days = false leaves the names of days out
-- @return SVG text
function chart.cure(spec)
  check("cure", spec, "windows marks", "seconds cure celsius", "from to days")
  local title = "Cure over time"
  local seconds = spec.seconds or {}
  local first, last = extent(seconds, is_time)
  local from, to = drawing.time_range({ from = spec.from or first, to = spec.to or last }, seconds)
  local curve = from and to and clip_series(seconds, spec.cure or {}, from, to) or {}
  if #curve == 0 then
    return sentence(spec, title, "Nothing to draw: the cure is not known at these hours.")
  end
  local warmth = clip_series(seconds, spec.celsius or {}, from, to)
  local c = canvas(spec)
  local left = text.width("100 %", c.small) + 8
  local axis = warm_axis(warmth, c.small)
  local right = c.width - (axis and axis.width + 7 or c.small * 2)
  local function sx(t)
    return left + (t - from) / (to - from) * (right - left)
  end
  local windows, outside = cure_windows(spec, from, to, sx)
  local names, levels = drawing.set_lanes(windows, c.small, left - 20, right + 20)
  local top = names + c.small * 0.8
  local bottom = top + math.max(120, (spec.height or 260) - top - c.small * 3.4)
  local function sy(cure)
    return bottom - math.max(0, math.min(1, cure)) * (bottom - top)
  end
  draw_windows(c, windows, top, bottom)
  local y = c:time_axis({ left, top, right, bottom }, from, to, spec.days ~= false)
  draw_percent(c, left, right, sy)
  c:lane_names(windows, top - 5, c.small, levels)
  local warm_line = axis and draw_temperature(c, axis, warmth, right, top, bottom, sx) or {}
  local line = {}
  for i, p in ipairs(curve) do
    line[i] = { sx(p[1]), sy(p[2]) }
  end
  c:path(line, "bold")
  if #line == 1 then
    c:dot(line[1][1], line[1][2], 2.5, true)
  end
  c:keep_off_line(line)
  c:keep_off_line(warm_line)
  local bounds = { left + 2, top + 1, right - 2, bottom - 1 }
  local marks, marks_outside = mark_points(spec, curve, from, to, sx, sy)
  local left_out = draw_marks(c, marks, bounds)
  c:name_line(line, "cure", bounds)
  c:name_line(warm_line, "temperature", bounds)
  table.move(marks_outside, 1, #marks_outside, #outside + 1, outside)
  note_names(c, "Not within these hours", outside)
  note_names(c, "No room for the name of", left_out)
  return c:finish(spec, y, title, cure_words(curve, spec.marks))
end

-- ---------------------------------------------------------------- girths

-- Slopes for a smooth line through points that nowhere overshoots them.
local function smooth_slopes(xs, ys)
  local n = #xs
  local rise, slopes = {}, {}
  for i = 1, n - 1 do
    rise[i] = (ys[i + 1] - ys[i]) / (xs[i + 1] - xs[i])
  end
  slopes[1], slopes[n] = rise[1], rise[n - 1]
  for i = 2, n - 1 do
    local a, b = rise[i - 1], rise[i]
    slopes[i] = a * b > 0 and 2 * a * b / (a + b) or 0
  end
  return slopes
end

-- The girth at so many places between each two stations.
local function smooth_outline(xs, ys, parts)
  local slopes = smooth_slopes(xs, ys)
  local out = {}
  for i = 1, #xs - 1 do
    local h = xs[i + 1] - xs[i]
    for k = i == 1 and 0 or 1, parts do
      local s = k / parts
      local r = 1 - s
      out[#out + 1] = { xs[i] + s * h, math.max(0, ys[i] * r * r * (1 + 2 * s)
        + ys[i + 1] * s * s * (1 + 2 * r) + h * s * r * (slopes[i] * r - slopes[i + 1] * s)) }
    end
  end
  return out
end

-- A hull is not longer than a thousand kilometres.
local function is_length(value)
  return finite(value) and math.abs(value) < 1e6
end

-- Stations in order of their place, each place (to a hair) once.
local function stations(xs, girths)
  local points = {}
  for i = 1, math.min(#xs, #girths) do
    if is_length(xs[i]) and is_length(girths[i]) and girths[i] >= 0 then
      points[#points + 1] = { xs[i], girths[i], i }
    end
  end
  table.sort(points, function(a, b)
    return a[1] < b[1] or (a[1] == b[1] and a[3] < b[3])
  end)
  local out_x, out_girth = {}, {}
  for _, p in ipairs(points) do
    if p[1] - (out_x[#out_x] or -math.huge) > 1e-5 then
      out_x[#out_x + 1], out_girth[#out_girth + 1] = p[1], p[2]
    end
  end
  return out_x, out_girth
end

local units = { m = 1, ft = 0.3048 }

-- A length as a builder reads it off a rule.
local function length_words(metres, unit)
  if unit == "m" then
    return text.readable(metres, 2) .. " m"
  end
  local inches = math.floor(math.abs(metres) / 0.0254 + 0.5)
  local sign = metres < 0 and inches > 0 and "−" or ""
  if inches < 12 then
    return ("%s%d in"):format(sign, inches)
  elseif inches % 12 == 0 then
    return ("%s%d ft"):format(sign, inches // 12)
  end
  return ("%s%d ft %d in"):format(sign, inches // 12, inches % 12)
end

local Skin = {}
Skin.__index = Skin

function Skin:sx(x)
  return self.left + (x - self.x1) * self.scale
end

function Skin:sy(half)
  return self.keel - half * self.scale
end

local function strip_list(strips)
  local out = {}
  for _, strip in ipairs(strips or {}) do
    if is_length(strip.low_half) and is_length(strip.high_half) then
      out[#out + 1] = { math.min(strip.low_half, strip.high_half),
        math.max(strip.low_half, strip.high_half), label = strip.label }
    end
  end
  table.sort(out, function(a, b)
    return a[2] > b[2] or (a[2] == b[2] and a[1] > b[1])
  end)
  return out
end

function Skin:outline()
  local c, points, back = self.canvas, {}, {}
  for i, p in ipairs(self.shape) do
    points[i] = { self:sx(p[1]), self:sy(p[2] / 2) }
    back[i] = { self:sx(p[1]), self:sy(-p[2] / 2) }
  end
  for i = #back, 1, -1 do
    points[#points + 1] = back[i]
  end
  points[#points + 1] = points[1]
  c:area(points, "open")
  c:path(points, "line")
  c:keep_off_line(points)
end

-- The bands that lie on the skin, with the places of their names.
function Skin:place_bands(bands)
  local c, items = self.canvas, {}
  for _, band in ipairs(bands) do
    local a, b = band.from, band.to
    if finite(a) and finite(b) and a < self.x2 and b > self.x1 and a < b then
      a, b = math.max(a, self.x1), math.min(b, self.x2)
      items[#items + 1] = { label = words(band.label), from = self:sx(a), to = self:sx(b),
        edges = { a, b } }
    end
  end
  local height, levels = drawing.set_lanes(items, c.small, 2, c.width - 2)
  return items, height, levels
end

function Skin:bands(items, y, levels)
  local c = self.canvas
  c:lane_names(items, y, c.small, levels)
  for _, item in ipairs(items) do
    for _, edge in ipairs(item.edges) do
      local half = value_at(self.shape, edge) / 2
      local x = self:sx(edge)
      c:line(x, y + 3, x, self:sy(half), "grid")
      c:line(x, self:sy(half), x, self:sy(-half), "thin")
      c.segments[#c.segments + 1] = { x, self:sy(half), x, self:sy(-half) }
    end
  end
end

-- Edges of the cloth, and to the right of the skin how wide each strip is.
function Skin:strips(strips)
  local c = self.canvas
  local right = self:sx(self.x2)
  local previous
  for i, strip in ipairs(strips) do
    local top, bottom = self:sy(strip[2]), self:sy(strip[1])
    for _, y in ipairs { top, bottom } do
      c:line(self.left - 4, y, right + 4, y, "dashed")
      c.segments[#c.segments + 1] = { self.left, y, right, y }
    end
    local x = right + 9 + (i - 1) % 2 * 7
    c:line(x, top, x, bottom, "thin")
    c:line(x - 3, top, x + 3, top, "thin")
    c:line(x - 3, bottom, x + 3, bottom, "thin")
    local y = math.max((top + bottom) / 2 + c.small * 0.35, (previous or -1e9) + c.small * 1.2)
    c:text(right + 21, y, self.strip_words[i], { size = c.small })
    previous = y
  end
  return previous or 0
end

function Skin:widest()
  local c = self.canvas
  local at_x, girth = self.xs[1], self.girths[1]
  for i, value in ipairs(self.girths) do
    if value > girth then
      at_x, girth = self.xs[i], value
    end
  end
  local x = self:sx(at_x)
  c:whisker(x, self:sy(girth / 2), x, self:sy(-girth / 2))
  c:keep_off_line { { x, self:sy(girth / 2) }, { x, self:sy(-girth / 2) } }
  local label = "widest " .. length_words(girth, self.unit)
  local bounds = { self.left, self:sy(girth / 2) - c.small, self:sx(self.x2),
    self:sy(-girth / 2) + c.small }
  c:name_point(x, self.keel - girth * self.scale * 0.12, label, bounds)
  return girth, at_x
end

-- The length along the bottom, and a bar that also measures girths.
function Skin:rule(y)
  local c, unit = self.canvas, units[self.unit]
  local left, right = self:sx(self.x1), self:sx(self.x2)
  c:line(left, y, right, y, "line")
  local ticks = drawing.round_ticks(self.x1 / unit, self.x2 / unit,
    math.max(1, (right - left) // (c.small * 3)))
  for i, tick in ipairs(ticks) do
    local x = self:sx(tick[1] * unit)
    c:line(x, y, x, y + 4, "thin")
    c:text(x, y + 4 + c.small, tick[2] .. (i == #ticks and " " .. self.unit or ""),
      { anchor = "middle", size = c.small })
  end
  y = y + c.small * 2.6
  local long = drawing.round_step((self.x2 - self.x1) / unit, 8)
  local half = long * unit * self.scale / 2
  c:box(left, y, left + half, y + 4, "solid")
  c:path({ { left, y }, { left + 2 * half, y }, { left + 2 * half, y + 4 }, { left, y + 4 },
    { left, y } }, "thin")
  local label = text.readable(long, text.decimals(long, 1)) .. " " .. self.unit
    .. ", the same along and across"
  c:text(left + 2 * half + 6, y + 4 + c.small * 0.2, label, { size = c.small })
  return y + c.small * 1.3
end

--- The skin of a hull folded flat: half the girth to each side of the keel, drawn to scale.
-- @param spec  x, girth = lists in m; bands = { { from, to, label }, ... } in m along the hull;
--   strips = { { low_half, high_half, label? }, ... } in m across, 0 at the keel, negative on the
--   side drawn below it; unit = "m" (also when left out) or "ft"; height limits the skin itself
-- @return SVG text
function chart.girths(spec)
  check("girths", spec, "bands strips", "x girth", "unit")
  local unit = spec.unit or "m"
  if not units[unit] then
    error('chart.girths: unit is "m" or "ft"', 2)
  end
  local title = "The hull's skin laid flat"
  local xs, girths = stations(spec.x or {}, spec.girth or {})
  local _, largest = extent(girths)
  if #xs < 2 or largest <= 0 then
    return sentence(spec, title, "Nothing to draw: a skin needs two girths or more.")
  end
  local c = canvas(spec)
  local strips = strip_list(spec.strips)
  local low, high = -largest / 2, largest / 2
  local strip_words, strip_width = {}, 0
  for i, strip in ipairs(strips) do
    low, high = math.min(low, strip[1]), math.max(high, strip[2])
    strip_words[i] = text.shorten(words(strip.label or length_words(strip[2] - strip[1], unit)),
      c.small, c.width * 0.2)
    strip_width = math.max(strip_width, text.width(strip_words[i], c.small) + 24)
  end
  local left = text.width("keel", c.small) + 14
  local room = c.width - left - math.max(strip_width, c.small * 2.2)
  local long = xs[#xs] - xs[1]
  local scale = math.min(room / long, (spec.height or c.width * 0.5) / (high - low))
  local skin = setmetatable({ canvas = c, xs = xs, girths = girths, x1 = xs[1], x2 = xs[#xs],
    left = left, scale = scale, unit = unit, keel = 0, strip_words = strip_words,
    shape = smooth_outline(xs, girths, 12) }, Skin)
  local bands = spec.bands or {}
  local items, names, levels = skin:place_bands(bands)
  local top = names + c.small
  skin.keel = top + high * scale
  skin:outline()
  skin:bands(items, top - 9, levels)
  local last = skin:strips(strips)
  c:line(left - 8, skin.keel, skin:sx(skin.x2) + 6, skin.keel, "dash_dot")
  c.segments[#c.segments + 1] = { left, skin.keel, skin:sx(skin.x2), skin.keel }
  c:text(left - 11, skin.keel + c.small * 0.35, "keel", { anchor = "end", size = c.small })
  local girth, widest_at = skin:widest()
  local y = skin:rule(math.max(skin:sy(low), last) + c.small * 0.8)
  local desc = ("A skin %s long, widest %s at %s; %d bands, %d strips of cloth."):format(
    length_words(long, unit), length_words(girth, unit), length_words(widest_at, unit), #bands,
    #strips)
  return c:finish(spec, y, title, desc)
end

-- ---------------------------------------------------------------- bars

-- The number of a row, as exact as its soft ends allow.
local function bar_words(row, unit, briefly)
  if not finite(row.value) then
    return "not known"
  end
  local decimals = text.decimals(row.value, 3)
  local soft = finite(row.low) and finite(row.high) and row.high > row.low
  if soft then
    decimals = math.min(decimals, text.decimals(row.high - row.low, 2))
  end
  local out = text.readable(row.value, decimals) .. (unit ~= "" and " " .. unit or "")
  if soft and not briefly then
    out = ("%s (%s to %s)"):format(out, text.readable(row.low, decimals),
      text.readable(row.high, decimals))
  end
  return out
end

local function bar_row(c, row, y, sx, label_right, words_left)
  c:text(label_right, y + c.size * 0.35, text.shorten(words(row.label), c.size, label_right - 4),
    { anchor = "end" })
  c:text(words_left, y + c.small * 0.35, row.words, { size = c.small })
  if not finite(row.value) then
    return
  end
  local half = c.size * 0.5
  local x1, x2 = math.min(sx(0), sx(row.value)), math.max(sx(0), sx(row.value))
  c:box(x1, y - half, x2, y + half, row.pattern or "hatch")
  c:path({ { x1, y - half }, { x2, y - half }, { x2, y + half }, { x1, y + half },
    { x1, y - half } }, "line")
  if finite(row.low) and finite(row.high) and row.low < row.high then
    c:whisker(sx(row.low), y, sx(row.high), y)
  end
end

--- Lying bars with soft ends and their numbers, such as a weight budget.
-- @param spec  rows = { { label, value, low?, high?, pattern? }, ... }; unit = words
-- @return SVG text
function chart.bars(spec)
  check("bars", spec, "rows", "", "unit")
  local unit = words(spec.unit)
  local values, rows, said = { 0 }, {}, {}
  local c = canvas(spec)
  local label_width, words_width = 0, 0
  for i, row in ipairs(spec.rows or {}) do
    for _, field in ipairs { "value", "low", "high" } do
      values[#values + 1] = row[field] or 0 / 0
    end
    rows[i] = { label = row.label, value = row.value, low = row.low, high = row.high,
      pattern = row.pattern }
    rows[i].words = text.shorten(bar_words(row, unit, c.width < 480), c.small, c.width * 0.4)
    label_width = math.max(label_width, text.width(words(row.label), c.size))
    words_width = math.max(words_width, text.width(rows[i].words, c.small))
    said[i] = words(row.label) .. " " .. bar_words(row, unit)
  end
  local title = "Amounts" .. (unit ~= "" and " in " .. unit or "")
  if #rows == 0 then
    return sentence(spec, title, "Nothing to draw: the list is empty.")
  end
  local label_right = math.min(label_width + 4, c.width * 0.36)
  local words_left = c.width - words_width - 2
  local left, right = label_right + 8, math.max(label_right + 50, words_left - c.small * 2)
  local most = math.max(1, math.min(8, (right - left) // (c.small * 4)))
  local low, high = extent(values)
  low, high = drawing.round_range(low, high > low and high or 1, most)
  local function sx(value)
    return left + (value - low) / (high - low) * (right - left)
  end
  local step = math.max(c.size * 1.6, math.min(c.size * 3, (spec.height or 0) / #rows))
  local bottom = 4 + #rows * step
  for _, tick in ipairs(drawing.round_ticks(low, high, most)) do
    c:line(sx(tick[1]), 4, sx(tick[1]), bottom, "grid")
    c:text(sx(tick[1]), bottom + c.small * 1.3, tick[2], { anchor = "middle", size = c.small })
  end
  for i, row in ipairs(rows) do
    bar_row(c, row, 4 + (i - 0.5) * step, sx, label_right, words_left)
  end
  c:line(sx(0), 4, sx(0), bottom, "line")
  c:text(words_left, bottom + c.small * 1.3, unit, { size = c.small })
  return c:finish(spec, bottom + c.small * 1.8, title, table.concat(said, "; ") .. ".")
end

-- ---------------------------------------------------------------- scatter

local function scatter_points(points)
  local out, xs, ys = {}, {}, {}
  for i, p in ipairs(points) do
    if finite(p.x) and finite(p.y) then
      out[#out + 1] = { label = words(p.label), x = p.x, y = p.y, frontier = p.frontier,
        number = i }
      for _, field in ipairs { "x_low", "x_high", "y_low", "y_high" } do
        out[#out][field] = finite(p[field]) and p[field] or p[field:sub(1, 1)]
      end
      local last = out[#out]
      for _, value in ipairs { last.x, last.x_low, last.x_high } do
        xs[#xs + 1] = value
      end
      for _, value in ipairs { last.y, last.y_low, last.y_high } do
        ys[#ys + 1] = value
      end
    end
  end
  return out, xs, ys
end

-- From each point of the frontier along to the next one's x, then across to its y.
local function draw_frontier(c, points, sx, sy)
  local frontier = {}
  for _, p in ipairs(points) do
    if p.frontier then
      frontier[#frontier + 1] = p
    end
  end
  table.sort(frontier, function(a, b)
    return a.x < b.x or (a.x == b.x and a.number < b.number)
  end)
  local line = {}
  for i, p in ipairs(frontier) do
    if i > 1 then
      line[#line + 1] = { sx(p.x), sy(frontier[i - 1].y) }
    end
    line[#line + 1] = { sx(p.x), sy(p.y) }
  end
  if #line > 1 then
    c:path(line, "bold")
    c:keep_off_line(line)
  end
end

local function draw_points(c, points, sx, sy, bounds)
  for _, p in ipairs(points) do
    local x, y = sx(p.x), sy(p.y)
    if p.x_low < p.x_high then
      c:line(sx(p.x_low), y, sx(p.x_high), y, "thin")
      c:keep_off_line { { sx(p.x_low), y }, { sx(p.x_high), y } }
    end
    if p.y_low < p.y_high then
      c:line(x, sy(p.y_low), x, sy(p.y_high), "thin")
      c:keep_off_line { { x, sy(p.y_low) }, { x, sy(p.y_high) } }
    end
  end
  for _, p in ipairs(points) do
    c:dot(sx(p.x), sy(p.y), 3.2, p.frontier)
    c:keep_off_point(sx(p.x), sy(p.y), 4.5)
  end
  local left_out = 0
  for _, of_frontier in ipairs { true, false } do
    for _, p in ipairs(points) do
      if (p.frontier or false) == of_frontier
        and not c:name_point(sx(p.x), sy(p.y), p.label, bounds) then
        left_out = left_out + 1
      end
    end
  end
  return left_out
end

local function scatter_frame(c, spec, xs, ys)
  local x_low, x_high = extent(xs)
  local y_low, y_high = extent(ys)
  local height = spec.height or math.floor(c.width * 0.55)
  local top = c.small * 2.2
  local bottom = top + math.max(100, height - top - c.small * 3.2)
  local y_most = math.max(2, math.min(8, math.floor((bottom - top) / (c.small * 3))))
  y_low, y_high = drawing.round_range(y_low, y_high, y_most)
  local y_ticks = drawing.round_ticks(y_low, y_high, y_most)
  local left = 0
  for _, tick in ipairs(y_ticks) do
    left = math.max(left, text.width(tick[2], c.small) + 8)
  end
  local right = c.width - c.small * 2
  local x_most = math.max(2, math.min(8, (right - left) // (c.small * 6)))
  x_low, x_high = drawing.round_range(x_low, x_high, x_most)
  local function sx(x)
    return left + (x - x_low) / (x_high - x_low) * (right - left)
  end
  local function sy(y)
    return bottom - (y - y_low) / (y_high - y_low) * (bottom - top)
  end
  for _, tick in ipairs(y_ticks) do
    c:line(left, sy(tick[1]), right, sy(tick[1]), "grid")
    c:text(left - 5, sy(tick[1]) + c.small * 0.35, tick[2], { anchor = "end", size = c.small })
  end
  for _, tick in ipairs(drawing.round_ticks(x_low, x_high, x_most)) do
    c:line(sx(tick[1]), bottom, sx(tick[1]), bottom + 3, "thin")
    c:text(sx(tick[1]), bottom + c.small * 1.4, tick[2], { anchor = "middle", size = c.small })
  end
  c:line(left, top, left, bottom, "line")
  c:line(left, bottom, right, bottom, "line")
  c:text(2, c.small * 1.1, "↑ " .. text.shorten(words(spec.y_label), c.small, c.width - 30),
    { size = c.small, bold = true })
  c:text(right, bottom + c.small * 2.8,
    text.shorten(words(spec.x_label), c.small, c.width - 60) .. " →",
    { anchor = "end", size = c.small, bold = true })
  return { left, top, right, bottom }, sx, sy
end

-- Points that have no name, as specks.
local function draw_cloud(c, cloud, sx, sy)
  local specks = {}
  for _, p in ipairs(cloud) do
    if finite(p[1]) and finite(p[2]) then
      specks[#specks + 1] = { sx(p[1]), sy(p[2]) }
    end
  end
  if #specks > 0 then
    c:specks(specks)
  end
end

--- Points with names that keep apart, the best of them joined by a stepped line.
-- @param spec  points = { { label, x, y, x_low?, x_high?, y_low?, y_high?, frontier? }, ... };
--   frontier = true draws a full dot, others are rings; x_label, y_label = words with the unit;
--   cloud = { { x, y }, ... } are specks without a name; legend = lines below the picture
-- @return SVG text
function chart.scatter(spec)
  check("scatter", spec, "points cloud", "", "x_label y_label legend")
  local points, xs, ys = scatter_points(spec.points or {})
  for _, p in ipairs(spec.cloud or {}) do
    xs[#xs + 1], ys[#ys + 1] = p[1], p[2]
  end
  local title = ("%s against %s"):format(words(spec.y_label), words(spec.x_label))
  if #points == 0 then
    return sentence(spec, title, "Nothing to draw: there is no point with two numbers.")
  end
  local c = canvas(spec)
  local frame, sx, sy = scatter_frame(c, spec, xs, ys)
  draw_cloud(c, spec.cloud or {}, sx, sy)
  draw_frontier(c, points, sx, sy)
  local bounds = { frame[1] + 2, frame[2] - c.small, c.width - 2, frame[4] - 1 }
  local left_out = draw_points(c, points, sx, sy, bounds)
  if left_out > 0 then
    c:note("No room for %d of the names.", left_out)
  end
  for _, line in ipairs(spec.legend or {}) do
    for _, part in ipairs(drawing.split(line, c.small, c.width - 4)) do
      c:note("%s", part)
    end
  end
  local best = {}
  for _, p in ipairs(points) do
    if p.frontier then
      best[#best + 1] = p.label
    end
  end
  local desc = ("%d points. On the frontier: %s."):format(#points,
    #best > 0 and table.concat(best, ", ") or "none marked")
  return c:finish(spec, frame[4] + c.small * 3.2, title, desc)
end

--- The same picture for a file of its own.
-- @param svg  what one of the functions above returned
-- @return SVG text that a drawing program opens
function chart.standalone(svg)
  if type(svg) ~= "string" or not svg:find("^<svg ") then
    error("chart.standalone takes a picture made by this module", 2)
  end
  return '<?xml version="1.0" encoding="UTF-8"?>\n<svg xmlns="http://www.w3.org/2000/svg" '
    .. svg:sub(#"<svg " + 1)
end

return chart
