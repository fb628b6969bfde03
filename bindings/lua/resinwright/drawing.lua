-- SPDX-License-Identifier: GPL-3.0-or-later
-- What every picture of resinwright.chart is drawn with: the sheet and its lines, names that keep
-- apart, round ticks and a clock.
local text = require "resinwright.text"

local drawing = {}

local finite = text.finite
local FULL_WIDTH = 643
local DAY = 86400

-- ---------------------------------------------------------------- arguments

local common = " id width height title desc "

local function first_unknown(spec, known)
  local found
  for key in pairs(spec) do
    local word = tostring(key)
    if not known:find(" " .. word .. " ", 1, true) and (not found or word < found) then
      found = word
    end
  end
  return found
end

local function size_fault(spec, field, low, high)
  local value = spec[field]
  if value ~= nil and not (finite(value) and value >= low and value <= high) then
    return ("%s is a number of px from %d to %d"):format(field, low, high)
  end
end

local function rows_fault(spec, fields)
  for field in fields:gmatch("[^ ]+") do
    local rows = spec[field]
    if rows ~= nil and type(rows) ~= "table" then
      return ("%s is a list, found a %s"):format(field, type(rows))
    end
    for i, row in ipairs(rows or {}) do
      if type(row) ~= "table" then
        return ("%s[%d] is a table with named fields, found a %s"):format(field, i, type(row))
      end
    end
  end
end

local function numbers_fault(spec, fields)
  for field in fields:gmatch("[^ ]+") do
    if spec[field] ~= nil and type(spec[field]) ~= "table" then
      return ("%s is a list of numbers, found a %s"):format(field, type(spec[field]))
    end
  end
end

local function fault(spec, rows, numbers, others)
  if type(spec) ~= "table" then
    return "takes one table, found a " .. type(spec)
  end
  local known = common .. rows .. " " .. numbers .. " " .. others .. " "
  local unknown = first_unknown(spec, known)
  if unknown then
    return ("there is no field %s; known are%s"):format(unknown,
      (known:gsub(" +", " "):gsub(" $", "")))
  elseif type(spec.id) ~= "string" or not spec.id:find("^[A-Za-z][A-Za-z0-9_-]*$") then
    return "id is a word of letters, digits, - and _ that begins with a letter"
  end
  return size_fault(spec, "width", 240, 4000) or size_fault(spec, "height", 60, 4000)
    or rows_fault(spec, rows) or numbers_fault(spec, numbers)
end

--- Refuses a drawing whose table cannot be what was meant.
-- @param name  of the function of resinwright.chart
-- @param spec  what it was given
-- @param rows, numbers, others  its own fields, with blanks between: lists of tables, lists of
--   numbers, all else
function drawing.check(name, spec, rows, numbers, others)
  local why = fault(spec, rows, numbers, others)
  if why then
    error(("chart.%s: %s"):format(name, why), 3)
  end
end

--- A label as text, whatever it was given as.
function drawing.words(value)
  if value == nil then
    return ""
  end
  return type(value) == "number" and text.shortest(value) or text.clean(tostring(value))
end

--- Words in lines no wider than that, where they can be broken.
function drawing.split(words, size, width)
  local lines = {}
  for word in drawing.words(words):gmatch "%S+" do
    local longer = #lines > 0 and lines[#lines] .. " " .. word
    if longer and text.width(longer, size) <= width then
      lines[#lines] = longer
    else
      lines[#lines + 1] = word
    end
  end
  return lines
end

-- ---------------------------------------------------------------- canvas

local styles = {
  grid = 'stroke-width="0.5" stroke-dasharray="1 3"',
  day = 'stroke-width="0.7" stroke-dasharray="4 2"',
  thin = 'stroke-width="0.6"',
  line = 'stroke-width="1"',
  bold = 'stroke-width="1.8"',
  dashed = 'stroke-width="0.9" stroke-dasharray="6 3"',
  dash_dot = 'stroke-width="0.8" stroke-dasharray="12 3 2 3"',
  white = 'stroke="#fff" stroke-width="3"',
}

local patterns = {
  hatch = '<path d="M-1 1L1 -1M0 6L6 0M5 7L7 5" stroke="#000" stroke-width="0.7"/>',
  counter = '<path d="M-1 5L1 7M0 0L6 6M5 -1L7 1" stroke="#000" stroke-width="0.7"/>',
  dots = '<circle cx="1.5" cy="1.5" r="0.8"/><circle cx="4.5" cy="4.5" r="0.8"/>',
}
drawing.patterns = { "hatch", "counter", "dots" }

local Canvas = {}
Canvas.__index = Canvas

function drawing.canvas(spec)
  local width = spec.width or FULL_WIDTH
  local factor = math.max(1, width / FULL_WIDTH)
  return setmetatable({
    id = spec.id, width = width, size = 11 * factor, small = 9.5 * factor,
    parts = {}, used = {}, boxes = {}, segments = {}, leaders = {}, notes = {},
  }, Canvas)
end

local at = text.coordinate

function Canvas:add(pattern, ...)
  self.parts[#self.parts + 1] = pattern:format(...)
end

function Canvas:line(x1, y1, x2, y2, style)
  self:add('<path d="M%s %sL%s %s" fill="none" stroke="#000" %s/>', at(x1), at(y1), at(x2),
    at(y2), styles[style])
end

-- points: { {x, y}, ... }
local function path_data(points)
  local out = {}
  for i, p in ipairs(points) do
    out[i] = (i == 1 and "M" or "L") .. at(p[1]) .. " " .. at(p[2])
  end
  return table.concat(out)
end

function Canvas:path(points, style)
  self:add('<path d="%s" fill="none" stroke="#000" %s stroke-linejoin="round"/>',
    path_data(points), styles[style])
end

function Canvas:fill(pattern)
  if pattern == "solid" then
    return "#000"
  elseif patterns[pattern] then
    self.used[pattern] = true
    return ("url(#%s-%s)"):format(self.id, pattern)
  end
  return "#fff"
end

function Canvas:area(points, pattern)
  self:add('<path d="%sZ" fill="%s" stroke="none"/>', path_data(points), self:fill(pattern))
end

function Canvas:box(x1, y1, x2, y2, pattern)
  self:area({ { x1, y1 }, { x2, y1 }, { x2, y2 }, { x1, y2 } }, pattern)
end

function Canvas:dot(x, y, radius, filled)
  self:add('<circle cx="%s" cy="%s" r="%s" fill="%s" stroke="#000" stroke-width="1"/>', at(x),
    at(y), at(radius), filled and "#000" or "#fff")
end

-- Small grey marks, many of them.
function Canvas:specks(points)
  local parts = {}
  for i, p in ipairs(points) do
    parts[i] = ("M%s %sh.01"):format(at(p[1]), at(p[2]))
  end
  self:add('<path d="%s" fill="none" stroke="#999" stroke-width="1.6" stroke-linecap="round"/>',
    table.concat(parts))
end

-- look: anchor = start|middle|end, size, bold. The baseline stands at y.
function Canvas:text(x, y, label, look)
  look = look or {}
  self:add('<text x="%s" y="%s" text-anchor="%s" font-size="%s"%s stroke="#fff" stroke-width="3" '
    .. 'stroke-linejoin="round" paint-order="stroke">%s</text>', at(x), at(y),
    look.anchor or "start", at(look.size or self.size), look.bold and ' font-weight="bold"' or "",
    text.escape(label))
end

-- Ends of an interval joined by a line with small stops.
function Canvas:whisker(x1, y1, x2, y2)
  local dx, dy = 3, 3
  if y1 == y2 then
    dx = 0
  else
    dy = 0
  end
  for _, style in ipairs { "white", "line" } do
    local stroke = style == "white" and "" or ' stroke="#000"'
    self:add('<path d="M%s %sL%s %sM%s %sL%s %sM%s %sL%s %s" fill="none"%s %s/>', at(x1), at(y1),
      at(x2), at(y2), at(x1 - dx), at(y1 - dy), at(x1 + dx), at(y1 + dy), at(x2 - dx), at(y2 - dy),
      at(x2 + dx), at(y2 + dy), stroke, styles[style])
  end
end

function Canvas:note(...)
  self.notes[#self.notes + 1] = string.format(...)
end

-- Sentences below the drawing, each on a line of its own; returns the height of all.
function Canvas:write_notes(y)
  for _, note in ipairs(self.notes) do
    y = y + self.small * 1.4
    self:text(2, y - self.small * 0.3, text.shorten(note, self.small, self.width - 4),
      { size = self.small })
  end
  return y
end

function Canvas:definitions()
  local out = {}
  for _, name in ipairs(drawing.patterns) do
    if self.used[name] then
      out[#out + 1] = ('<pattern id="%s-%s" width="6" height="6" patternUnits="userSpaceOnUse">')
        :format(self.id, name) .. patterns[name] .. "</pattern>"
    end
  end
  return #out > 0 and "<defs>" .. table.concat(out) .. "</defs>\n" or ""
end

function Canvas:finish(spec, y, title, desc)
  local height = math.ceil(self:write_notes(y))
  local own_title = text.escape(drawing.words(spec.title or title))
  local own_desc = text.escape(drawing.words(spec.desc or desc))
  return ('<svg viewBox="0 0 %s %d" width="%s" height="%d" role="img" '
    .. 'aria-labelledby="%s-title %s-desc" font-family="sans-serif" fill="#000">\n'):format(
    at(self.width), height, at(self.width), height, self.id, self.id)
    .. ('<title id="%s-title">%s</title>\n'):format(self.id, own_title)
    .. ('<desc id="%s-desc">%s</desc>\n'):format(self.id, own_desc)
    .. self:definitions() .. table.concat(self.parts, "\n") .. "\n</svg>\n"
end

-- The picture that says why there is none.
function drawing.sentence(spec, title, why)
  local c = drawing.canvas(spec)
  local height = c.size * 5
  c:path({ { 1, 1 }, { c.width - 1, 1 }, { c.width - 1, height }, { 1, height }, { 1, 1 } },
    "dashed")
  c:text(c.width / 2, height / 2 + c.size * 0.35, text.shorten(why, c.size, c.width - 12),
    { anchor = "middle" })
  return c:finish(spec, height + 1, title, why)
end

-- ---------------------------------------------------------------- names that keep apart

local function overlaps(a, b)
  return a[1] < b[3] and b[1] < a[3] and a[2] < b[4] and b[2] < a[4]
end

-- Length of a segment {x1, y1, x2, y2} that lies inside a box {left, top, right, bottom}.
local function inside(box, s)
  local from, to = 0, 1
  local function clip(start, step, low, high)
    if step == 0 then
      return start > low and start < high
    end
    local a, b = (low - start) / step, (high - start) / step
    from, to = math.max(from, math.min(a, b)), math.min(to, math.max(a, b))
    return from < to
  end
  if math.max(s[1], s[3]) < box[1] or math.min(s[1], s[3]) > box[3]
    or math.max(s[2], s[4]) < box[2] or math.min(s[2], s[4]) > box[4] then
    return 0
  end
  local dx, dy = s[3] - s[1], s[4] - s[2]
  if clip(s[1], dx, box[1], box[3]) and clip(s[2], dy, box[2], box[4]) then
    return (to - from) * math.sqrt(dx * dx + dy * dy)
  end
  return 0
end

local function contains(box, x, y)
  return x > box[1] and x < box[3] and y > box[2] and y < box[4]
end

-- Directions in the order in which they are preferred; the second eight only further out.
local directions = {
  { 0.71, -0.71 }, { 1, 0 }, { 0.71, 0.71 }, { 0, -1 }, { -0.71, -0.71 }, { -1, 0 },
  { -0.71, 0.71 }, { 0, 1 }, { 0.92, -0.38 }, { 0.92, 0.38 }, { 0.38, -0.92 }, { 0.38, 0.92 },
  { -0.92, -0.38 }, { -0.92, 0.38 }, { -0.38, -0.92 }, { -0.38, 0.92 },
}
local distances = { 7, 13, 22, 34, 50, 70, 95, 130 }
-- A name this far off is tied to its point by a line; further out more directions are tried.
local LEADER_FROM, MORE_FROM = 10, 20

local function box_towards(x, y, width, height, direction, distance)
  local function side(d)
    return d > 0.3 and 1 or d < -0.3 and -1 or 0
  end
  local cx = x + direction[1] * distance + side(direction[1]) * width / 2
  local cy = y + direction[2] * distance + side(direction[2]) * height / 2
  return { cx - width / 2, cy - height / 2, cx + width / 2, cy + height / 2 }
end

local function leader_to(box, x, y)
  local ex = math.max(box[1], math.min(box[3], x))
  local ey = math.max(box[2], math.min(box[4], y))
  return { x, y, ex, ey }
end

-- Lines that a name would cover cost; names and points that it would cover rule it out (nil).
function Canvas:cost(box, leader, bounds, x, y)
  if box[1] < bounds[1] or box[2] < bounds[2] or box[3] > bounds[3] or box[4] > bounds[4] then
    return nil
  end
  for _, other in ipairs(self.boxes) do
    if overlaps(box, other) then
      return nil
    elseif leader and not contains(other, x, y) and inside(other, leader) > 0 then
      return nil
    end
  end
  for _, other in ipairs(self.leaders) do
    if inside(box, other) > 0 then
      return nil
    end
  end
  local sum = 0
  for _, segment in ipairs(self.segments) do
    sum = sum + inside(box, segment)
  end
  return sum
end

-- The cheapest place for a name near a point within so many steps of distance:
-- box, leader or nil, cost; nil where there is none.
function Canvas:seek(x, y, label, size, bounds, reach)
  local width, height = text.width(label, size) + 4, size * 1.15
  local best
  for i = 1, reach do
    local distance = distances[i]
    for k = 1, distance < MORE_FROM and 8 or 16 do
      local box = box_towards(x, y, width, height, directions[k], distance)
      local leader = distance > LEADER_FROM and leader_to(box, x, y) or nil
      local cost = self:cost(box, leader, bounds, x, y)
      cost = cost and cost + distance * 0.4
      if cost and (not best or cost < best.cost) then
        best = { box = box, leader = leader, cost = cost }
      end
    end
    if best and best.cost <= distance * 0.4 then
      break
    end
  end
  return best
end

function Canvas:set_name(place, label, size)
  local box, leader = place.box, place.leader
  if leader then
    self:line(leader[1], leader[2], leader[3], leader[4], "thin")
    self.leaders[#self.leaders + 1] = leader
  end
  self.boxes[#self.boxes + 1] = box
  self:text((box[1] + box[3]) / 2, (box[2] + box[4]) / 2 + size * 0.35, label,
    { anchor = "middle", size = size })
end

-- Names a point; false where there is no room.
function Canvas:name_point(x, y, label, bounds)
  label = text.shorten(label, self.small, math.max(60, (bounds[3] - bounds[1]) * 0.45))
  if label == "" then
    return true
  end
  local place = self:seek(x, y, label, self.small, bounds, #distances)
  if place then
    self:set_name(place, label, self.small)
  end
  return place ~= nil
end

-- Names a line at the best of some places along it.
function Canvas:name_line(points, label, bounds)
  local best
  for _, share in ipairs { 0.6, 0.45, 0.75, 0.3, 0.88, 0.15, 0.97, 0.04 } do
    local p = points[math.max(1, math.floor(share * #points + 0.5))]
    local place = p and self:seek(p[1], p[2], label, self.small, bounds, 2)
    if place and (not best or place.cost < best.cost - 1) then
      best = place
    end
  end
  if best then
    self:set_name(best, label, self.small)
  end
end

function Canvas:keep_off_point(x, y, radius)
  self.boxes[#self.boxes + 1] = { x - radius, y - radius, x + radius, y + radius }
end

-- Names are kept off a line; long lines are thinned out first.
function Canvas:keep_off_line(points)
  local step = math.max(1, #points // 120)
  local last
  for i = 1, #points, step do
    local p = points[math.min(#points, i)]
    if last then
      self.segments[#self.segments + 1] = { last[1], last[2], p[1], p[2] }
    end
    last = p
  end
end

local LEVEL = 7

-- The lowest place that is free from a start on; ends[place] tells until where each is taken.
local function first_free(ends, start)
  local place = 1
  while ends[place] and ends[place] > start do
    place = place + 1
  end
  return place
end

--- Finds places for names above brackets over stretches of a horizontal line so that none covers
-- another: sets short, x (centre), lane and level (1 is the lowest) of each item.
-- @param items  { { label, from, to }, ... } in px
-- @param size   of the type
-- @param left, right  where a name may stand
-- @return the height of it all
function drawing.set_lanes(items, size, left, right)
  local order = {}
  for i, item in ipairs(items) do
    item.short = text.shorten(item.label, size, (right - left) * 0.6)
    local half = text.width(item.short, size) / 2
    item.x = math.max(left + half, math.min(right - half, (item.from + item.to) / 2))
    item.half, item.number, order[i] = half, i, item
  end
  local levels, lanes = {}, {}
  table.sort(order, function(a, b)
    return a.from < b.from or (a.from == b.from and a.number < b.number)
  end)
  for _, item in ipairs(order) do
    item.level = first_free(levels, item.from + 0.5)
    levels[item.level] = item.to
  end
  table.sort(order, function(a, b)
    return a.x < b.x or (a.x == b.x and a.number < b.number)
  end)
  for _, item in ipairs(order) do
    item.lane = first_free(lanes, item.x - item.half)
    lanes[item.lane] = item.x + item.half + size
  end
  return #items == 0 and 0 or (#levels - 1) * LEVEL + 8 + #lanes * size * 1.3, #levels
end

--- Draws the names and brackets of set_lanes, all of them above y.
function Canvas:lane_names(items, y, size, levels)
  local base = y - 5 - ((levels or 1) - 1) * LEVEL
  for _, item in ipairs(items) do
    local line_y = y - (item.level - 1) * LEVEL
    self:line(item.from, line_y, item.to, line_y, "thin")
    self:line(item.from, line_y - 3, item.from, line_y + 3, "thin")
    self:line(item.to, line_y - 3, item.to, line_y + 3, "thin")
    local name_y = base - (item.lane - 1) * size * 1.3
    if name_y < line_y - 8 then
      local x = math.max(item.from, math.min(item.to, item.x))
      self:line(x, line_y, x, name_y + 1, "thin")
    end
  end
  for _, item in ipairs(items) do
    if item.short ~= "" then
      self:text(item.x, base - (item.lane - 1) * size * 1.3, item.short,
        { anchor = "middle", size = size })
    end
  end
end

-- ---------------------------------------------------------------- ticks and clocks

-- The step of 1, 2 or 5 times a power of ten that cuts a span into no more than so many parts.
function drawing.round_step(span, most)
  local raw = span / most
  local power = 10.0 ^ math.floor(math.log(raw, 10))
  for _, factor in ipairs { 1, 2, 5 } do
    if factor * power >= raw * (1 - 1e-9) then
      return factor * power
    end
  end
  return 10 * power
end

-- Widens a range that is nothing or next to nothing.
local function open_range(low, high)
  local size = math.max(math.abs(low), math.abs(high))
  if high - low <= size * 1e-9 then
    local room = size > 0 and size * 0.1 or 1
    return low - room, high + room
  end
  return low, high
end

-- { {value, label}, ... } from low to high
function drawing.round_ticks(low, high, most)
  local step = drawing.round_step(high - low, most)
  local decimals = math.max(0, math.min(12, -math.floor(math.log(step, 10) + 1e-9)))
  local out = {}
  for i = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9) do
    out[#out + 1] = { i * step, text.readable(i * step, decimals) }
  end
  return out
end

-- A range that begins and ends on a round tick.
function drawing.round_range(low, high, most)
  low, high = open_range(low, high)
  local step = drawing.round_step(high - low, most)
  return math.floor(low / step + 1e-9) * step, math.ceil(high / step - 1e-9) * step
end

local weekdays = { [0] = "Thu", "Fri", "Sat", "Sun", "Mon", "Tue", "Wed" }
local months = {
  { "Jan", 31 }, { "Feb", 28 }, { "Mar", 31 }, { "Apr", 30 }, { "May", 31 }, { "Jun", 30 },
  { "Jul", 31 }, { "Aug", 31 }, { "Sep", 30 }, { "Oct", 31 }, { "Nov", 30 }, { "Dec", 31 },
}

local function leap_days_until(year)
  return year // 4 - year // 100 + year // 400
end

-- Days from 1970-01-01 to the first day of a year.
local function year_start(year)
  return 365 * (year - 1970) + leap_days_until(year - 1) - leap_days_until(1969)
end

-- Day of the month and name of the month of a count of days since 1970-01-01.
local function calendar(days)
  local year = 1970 + days // 366
  while year_start(year) > days do
    year = year - 1
  end
  while year_start(year + 1) <= days do
    year = year + 1
  end
  local left = days - year_start(year)
  local leap = year_start(year + 1) - year_start(year) == 366
  for i, month in ipairs(months) do
    local length = month[2] + (i == 2 and leap and 1 or 0)
    if left < length then
      return left + 1, month[1]
    end
    left = left - length
  end
end

function drawing.day_of(seconds)
  return math.floor(seconds / DAY)
end

function drawing.weekday(days)
  return weekdays[days % 7]
end

function drawing.day_words(days)
  local day, month = calendar(days)
  return ("%s %d %s"):format(drawing.weekday(days), day, month)
end

function drawing.clock(seconds)
  local minutes = math.floor(seconds / 60 + 0.5) % 1440
  return ("%02d:%02d"):format(minutes // 60, minutes % 60)
end

--- A clock time with its day.
function drawing.day_clock(seconds)
  return drawing.weekday(drawing.day_of(seconds + 30)) .. " " .. drawing.clock(seconds)
end

--- Two times, with their days where these differ.
function drawing.clock_span(from, to)
  local a, b = drawing.day_of(from + 30), drawing.day_of(to + 30)
  if a == b then
    return drawing.clock(from) .. "–" .. drawing.clock(to)
  elseif math.abs(b - a) < 7 then
    return drawing.day_clock(from) .. "–" .. drawing.day_clock(to)
  end
  return drawing.day_words(a) .. "–" .. drawing.day_words(b)
end

-- Clock times beyond some ten thousand years are none.
function drawing.is_time(value)
  return finite(value) and math.abs(value) < 4e11
end

local steps = {
  60, 120, 300, 600, 900, 1800, 3600, 2 * 3600, 3 * 3600, 6 * 3600, 12 * 3600, DAY, 2 * DAY,
  7 * DAY,
}

local function time_step(span, most)
  for _, step in ipairs(steps) do
    if span / step <= most then
      return step
    end
  end
  local step = 14 * DAY
  while span / step > most do
    step = step * 2
  end
  return step
end

-- A clock along the bottom of a frame { left, top, right, bottom }; returns the y below it.
function Canvas:time_axis(frame, from, to, days)
  local left, top, right, bottom = table.unpack(frame)
  local function sx(t)
    return left + (t - from) / (to - from) * (right - left)
  end
  local step = time_step(to - from, math.max(1, (right - left) // (self.small * 4)))
  local whole_days = step >= DAY
  if whole_days then
    step = time_step(to - from, math.max(1, (right - left) // (self.small * 7)))
  end
  local y = bottom + self.small * 1.4
  -- 1970-01-05 was a Monday.
  local origin = step >= 7 * DAY and 4 * DAY or 0
  for i = math.ceil((from - origin) / step), math.floor((to - origin) / step) do
    local t = origin + i * step
    local label = whole_days and drawing.day_words(t // DAY) or drawing.clock(t)
    self:line(sx(t), top, sx(t), bottom, t % DAY == 0 and "day" or "grid")
    self:line(sx(t), bottom, sx(t), bottom + 3, "thin")
    self:text(sx(t), y, label, { anchor = "middle", size = self.small })
  end
  self:line(left, bottom, right, bottom, "line")
  if whole_days or not days then
    return y + self.small * 0.6
  end
  y = y + self.small * 1.4
  for day = drawing.day_of(from), drawing.day_of(to) do
    local a, b = math.max(left, sx(day * DAY)), math.min(right, sx((day + 1) * DAY))
    if a > left then
      self:line(a, y - self.small, a, y + 2, "thin")
    end
    for _, label in ipairs { drawing.day_words(day), drawing.weekday(day) } do
      if text.width(label, self.small) < b - a - 4 then
        self:text((a + b) / 2, y, label, { anchor = "middle", size = self.small, bold = true })
        break
      end
    end
  end
  return y + self.small * 0.6
end

-- The least and the largest of some numbers, those left out that are none.
function drawing.extent(values, is_fit)
  local low, high
  for _, value in ipairs(values) do
    if (is_fit or finite)(value) then
      low = math.min(low or value, value)
      high = math.max(high or value, value)
    end
  end
  return low, high
end

-- Ends of a time axis: those asked for, else those of the data with a little room.
function drawing.time_range(spec, times)
  local low, high = drawing.extent(times, drawing.is_time)
  local room = low and (high - low) * 0.03
  local from = drawing.is_time(spec.from) and spec.from or low and low - room
  local to = drawing.is_time(spec.to) and spec.to or high and high + room
  if from and to and to - from < 60 then
    from, to = from - 1800, to + 1800
  end
  return from, to
end

return drawing
