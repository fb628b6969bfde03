-- SPDX-License-Identifier: GPL-3.0-or-later
-- The pictures: sound markup, data where they belong, names that keep apart.
local lu = require "luaunit"
local chart = require "resinwright.chart"
local drawing = require "resinwright.drawing"
local text = require "resinwright.text"

-- luacheck: globals TestAll TestClock TestTicks TestTimeline TestCure TestGirths TestBars
-- luacheck: globals TestScatter

local DAY, HOUR = 86400, 3600
-- 2026-10-03 00:00, a Saturday.
local SATURDAY = 20729 * DAY

-- ---------------------------------------------------------------- reading a picture

local function unescape(words)
  return (words:gsub("&lt;", "<"):gsub("&gt;", ">"):gsub("&quot;", '"'):gsub("&#39;", "'")
    :gsub("&amp;", "&"))
end

-- { name, attributes, words } of each element; refuses what is not well-formed.
local function elements(svg)
  local out, open, at = {}, {}, 1
  while true do
    local from, to, close, name, rest = svg:find("<(/?)([A-Za-z]+)([^<>]*)>", at)
    local between = svg:sub(at, (from or #svg + 1) - 1)
    lu.assertNil(between:find "[<>]", between)
    lu.assertNil(between:gsub("&%w+;", ""):gsub("&#39;", ""):find "&", between)
    if not from then
      break
    end
    if close == "/" then
      lu.assertEquals(table.remove(open).name, name)
    else
      local e = { name = name, words = unescape(svg:match("^[^<]*", to + 1)) }
      local left = rest:gsub("/$", ""):gsub(' ([%a:-]+)="([^"]*)"', function(key, value)
        lu.assertNil(e[key])
        e[key] = value
        return ""
      end)
      lu.assertEquals(left, "", "a strange tag: " .. rest)
      out[#out + 1] = e
      if rest:sub(-1) ~= "/" then
        open[#open + 1] = e
      end
    end
    at = to + 1
  end
  lu.assertEquals(#open, 0)
  return out
end

local function number(words)
  lu.assertNotNil(words and words:find "^%-?%d+%.?%d*$", tostring(words))
  return tonumber(words)
end

local function texts(svg)
  local out = {}
  for _, e in ipairs(elements(svg)) do
    if e.name == "text" then
      local size, x, y = number(e["font-size"]), number(e.x), number(e.y)
      local width = text.width(e.words, size)
      local left = x - ({ start = 0, middle = width / 2, ["end"] = width })[e["text-anchor"]]
      out[#out + 1] = { words = e.words, size = size, x = x, y = y, left = left,
        right = left + width, top = y - size * 0.75, bottom = y + size * 0.2 }
    end
  end
  return out
end

local function find_text(svg, words)
  for _, t in ipairs(texts(svg)) do
    if t.words == words then
      return t
    end
  end
  lu.fail("there is no text " .. words)
end

local function has_text(svg, part)
  for _, t in ipairs(texts(svg)) do
    if t.words:find(part, 1, true) then
      return true
    end
  end
  return false
end

-- Corners of the paths that a condition picks out, as lists of numbers.
local function paths(svg, picks)
  local out = {}
  for _, e in ipairs(elements(svg)) do
    if e.name == "path" and picks(e) then
      local numbers = {}
      for n in e.d:gmatch "%-?[%d.]+" do
        numbers[#numbers + 1] = number(n)
      end
      out[#out + 1] = numbers
    end
  end
  return out
end

local function filled(pattern)
  return function(e)
    return e.fill == pattern
  end
end

local function stroked(width, dashes)
  return function(e)
    return e["stroke-width"] == width and e["stroke-dasharray"] == dashes
  end
end

local function circles(svg)
  local out = {}
  for _, e in ipairs(elements(svg)) do
    if e.name == "circle" and e.cx ~= "1.5" and e.cx ~= "4.5" then
      out[#out + 1] = { x = number(e.cx), y = number(e.cy), full = e.fill == "#000" }
    end
  end
  return out
end

-- ---------------------------------------------------------------- pictures to look at

local function evening(more)
  local bands = {}
  for i = 1, 6 do
    local start = SATURDAY + 17 * HOUR + i * 1560
    bands[i] = { label = "Batch " .. i .. ", 260 g", from = start, to = start + 1440,
      low_from = start - 120 * i, high_to = start + 1440 + 150 * i }
  end
  local spec = { id = "evening", bands = bands }
  for field, value in pairs(more or {}) do
    spec[field] = value
  end
  return spec
end

local function night(more)
  local spec = { id = "night", seconds = {}, cure = {}, celsius = {},
    windows = {
      { label = "first fill coat", from = SATURDAY + 23 * HOUR, to = SATURDAY + 28 * HOUR },
      { label = "second fill coat", from = SATURDAY + 29 * HOUR, to = SATURDAY + 34 * HOUR },
      { label = "trim the cloth at the sheer", from = SATURDAY + 33 * HOUR,
        to = SATURDAY + 37 * HOUR },
    },
    marks = {
      { label = "gel", at = SATURDAY + 22 * HOUR, low = SATURDAY + 21 * HOUR,
        high = SATURDAY + 23 * HOUR },
      { label = "free of tack", at = SATURDAY + 25 * HOUR },
      { label = "thumbnail leaves no mark", at = SATURDAY + 26 * HOUR },
      { label = "wet-out ends", at = SATURDAY + 20 * HOUR },
    } }
  for i = 0, 120 do
    local t = SATURDAY + 18 * HOUR + i * 1200
    spec.seconds[i + 1] = t
    spec.cure[i + 1] = 0.95 * (1 - math.exp(-(i / 50) ^ 1.5))
    spec.celsius[i + 1] = 12 + 7 * math.cos((t % DAY - 15 * HOUR) / DAY * 2 * math.pi)
  end
  for field, value in pairs(more or {}) do
    spec[field] = value
  end
  return spec
end

-- Girths of an invented 5.20 m canoe.
local function canoe(more)
  local spec = { id = "canoe", x = {}, bands = {},
    girth = { 0.520, 0.905, 1.130, 1.260, 1.300, 1.255, 1.120, 0.890, 0.500 },
    strips = { { low_half = -0.025, high_half = 0.7 }, { low_half = -0.7, high_half = 0.025 } } }
  for i = 1, 9 do
    spec.x[i] = (i - 1) * 0.65
  end
  for i = 1, 6 do
    spec.bands[i] = { from = (i - 1) * 5.2 / 6, to = i * 5.2 / 6,
      label = "batch " .. i .. ", 0.91 m²" }
  end
  for field, value in pairs(more or {}) do
    spec[field] = value
  end
  return spec
end

local function budget(more)
  local spec = { id = "budget", unit = "kg", rows = {
    { label = "Cloth outside", value = 1.12, low = 1.08, high = 1.17 },
    { label = "Resin in the cloth", value = 1.2, low = 1.0, high = 1.5 },
    { label = "Soaked into the wood", value = 0.4, low = 0.2, high = 0.8 },
    { label = "Varnish", value = 0.0353 },
    { label = "Trim", value = 0 / 0 },
  } }
  for field, value in pairs(more or {}) do
    spec[field] = value
  end
  return spec
end

local function choices(count, more)
  local spec = { id = "choices", points = {}, x_label = "mass added, kg/m²",
    y_label = "deflection, mm" }
  for i = 1, count do
    local x = 0.3 + (i * 37 % 23) * 0.04
    local y = 9 - x * 5 + (i * 53 % 17) * 0.15
    spec.points[i] = { label = "cloth number " .. i, x = x, y = y, x_low = x * 0.95,
      x_high = x * 1.05, y_low = y * 0.9, y_high = y * 1.1, frontier = i % 4 == 0 }
  end
  for field, value in pairs(more or {}) do
    spec[field] = value
  end
  return spec
end

local makers = {
  { chart.timeline, evening }, { chart.cure, night }, { chart.girths, canoe },
  { chart.bars, budget },
  { chart.scatter, function(more)
    return choices(12, more)
  end },
}

local function each_picture(call, ...)
  for _, maker in ipairs(makers) do
    call(maker[1](maker[2](...)), maker[1], maker[2])
  end
end

-- ---------------------------------------------------------------- what holds for all

TestAll = {}

local function check_names_apart(svg)
  local width, height = svg:match 'viewBox="0 0 ([%d.]+) (%d+)"'
  local all = texts(svg)
  for i, a in ipairs(all) do
    lu.assertTrue(a.left >= -1 and a.right <= number(width) + 1, a.words)
    lu.assertTrue(a.top >= -1 and a.bottom <= number(height) + 1, a.words)
    for k = i + 1, #all do
      local b = all[k]
      local apart = a.right <= b.left or b.right <= a.left or a.bottom <= b.top
        or b.bottom <= a.top
      lu.assertTrue(apart, a.words .. " covers " .. b.words)
    end
  end
end

function TestAll.test_no_name_covers_another_or_leaves_the_picture()
  each_picture(check_names_apart)
  each_picture(check_names_apart, { width = 330 })
  each_picture(check_names_apart, { width = 1286 })
  each_picture(check_names_apart, { width = 800, height = 500 })
end

function TestAll.test_letters_are_large_enough_on_paper()
  for _, width in ipairs { 240, 643, 1286, 3000 } do
    each_picture(function(svg)
      for _, t in ipairs(texts(svg)) do
        lu.assertTrue(t.size * math.min(1, 643 / width) >= 9, t.words)
      end
    end, { width = width })
  end
end

function TestAll.test_title_description_and_ids()
  each_picture(function(svg, _, make)
    local own = make().id
    local seen = {}
    for _, e in ipairs(elements(svg)) do
      if e.id then
        lu.assertEquals(e.id:sub(1, #own + 1), own .. "-")
        lu.assertNil(seen[e.id])
        seen[e.id] = e
      end
    end
    lu.assertTrue(#seen[own .. "-title"].words > 5)
    lu.assertTrue(#seen[own .. "-desc"].words > 20)
    lu.assertStrContains(svg, ('aria-labelledby="%s-title %s-desc"'):format(own, own))
    for id in svg:gmatch "url%(#([^)]*)%)" do
      lu.assertNotNil(seen[id], id)
    end
    lu.assertNotStrContains(svg, "xmlns")
    lu.assertNotStrContains(svg, "http")
  end)
end

function TestAll.test_own_title_and_description()
  each_picture(function(svg)
    lu.assertStrContains(svg, ">mine &lt;1&gt;</title>")
    lu.assertStrContains(svg, ">words &amp; more</desc>")
  end, { title = "mine <1>", desc = "words & more" })
end

function TestAll.test_no_colour()
  each_picture(function(svg)
    for _, e in ipairs(elements(svg)) do
      for _, paint in ipairs { e.fill or "none", e.stroke or "none" } do
        lu.assertTrue(paint == "none" or paint == "#000" or paint == "#fff"
          or paint:find "^url%(#" ~= nil, paint)
      end
    end
  end)
end

function TestAll.test_the_same_twice()
  each_picture(function(svg, draw, make)
    lu.assertEquals(draw(make()), svg)
  end)
end

function TestAll.test_numbers_never_hold_a_comma()
  each_picture(function(svg)
    lu.assertNil(svg:find "%d,%d")
  end)
end

function TestAll.test_arguments_are_left_alone()
  for _, maker in ipairs(makers) do
    local spec, kept = maker[2](), maker[2]()
    if spec.rows then
      -- A NaN is not equal to itself.
      spec.rows[5], kept.rows[5] = nil, nil
    end
    maker[1](spec)
    lu.assertEquals(spec, kept)
  end
end

function TestAll.test_nothing_to_draw_is_a_sentence()
  for name, draw in pairs {
    timeline = chart.timeline, cure = chart.cure, girths = chart.girths, bars = chart.bars,
    scatter = chart.scatter,
  } do
    local svg = draw { id = name, width = 330 }
    lu.assertEquals(#texts(svg), 1)
    lu.assertTrue(has_text(svg, "Nothing to draw: "), name)
    check_names_apart(svg)
  end
  lu.assertTrue(has_text(chart.girths { id = "a", x = { 1 }, girth = { 1 } }, "two girths"))
  local points = { { label = "p", x = 0 / 0, y = 1 } }
  lu.assertTrue(has_text(chart.scatter { id = "a", points = points }, "no point"))
end

function TestAll.test_refuses_what_cannot_be_meant()
  for name, draw in pairs {
    timeline = chart.timeline, cure = chart.cure, girths = chart.girths, bars = chart.bars,
    scatter = chart.scatter,
  } do
    local function refused(words, spec)
      lu.assertErrorMsgContains("chart." .. name .. ": ", draw, spec)
      lu.assertErrorMsgContains(words, draw, spec)
    end
    refused("takes one table", nil)
    refused("takes one table", "x")
    refused("id is a word", {})
    refused("id is a word", { id = "1a" })
    refused("id is a word", { id = 'a"b' })
    refused("no field colour", { id = "a", colour = "red" })
    refused("width is a number", { id = "a", width = 10 })
    refused("width is a number", { id = "a", width = 0 / 0 })
    refused("height is a number", { id = "a", height = "tall" })
  end
  lu.assertErrorMsgContains("bands is a list", chart.timeline, { id = "a", bands = "b" })
  lu.assertErrorMsgContains("rows[2] is a table", chart.bars, { id = "a", rows = { {}, 1 } })
  lu.assertErrorMsgContains("celsius is a list of numbers", chart.cure, { id = "a", celsius = 5 })
  lu.assertErrorMsgContains("unit is", chart.girths, { id = "a", unit = "in" })
end

function TestAll.test_labels_stay_words_and_are_shortened()
  local label = "<script>&\"'\xff " .. ("very long "):rep(40)
  local svgs = {
    chart.timeline { id = "a", bands = { { label = label, from = 0, to = 9000 } } },
    chart.cure(night { marks = { { label = label, at = SATURDAY + 24 * HOUR } },
      windows = { { label = label, from = SATURDAY + 23 * HOUR, to = SATURDAY + 24 * HOUR } } }),
    chart.girths(canoe { bands = { { label = label, from = 1, to = 2 } },
      strips = { { low_half = -0.5, high_half = 0.5, label = label } } }),
    chart.bars { id = "a", rows = { { label = label, value = 1 } }, unit = "kg" },
    chart.scatter { id = "a", points = { { label = label, x = 1, y = 1 } }, x_label = label,
      y_label = label },
  }
  for _, svg in ipairs(svgs) do
    check_names_apart(svg)
    lu.assertNotStrContains(svg, "<script")
    lu.assertTrue(has_text(svg, "…"))
    lu.assertNotNil(utf8.len(svg))
  end
end

function TestAll.test_a_file_of_its_own()
  local svg = chart.standalone(chart.bars(budget()))
  lu.assertStrContains(svg, '^<%?xml version="1.0" encoding="UTF%-8"%?>\n<svg xmlns="http', true)
  lu.assertErrorMsgContains("made by this module", chart.standalone, "<p>")
end

-- ---------------------------------------------------------------- clock and ticks

TestClock = {}

-- The calendar of the C library is the other opinion.
function TestClock.test_days_agree_with_the_calendar_of_the_system()
  local months = { "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov",
    "Dec" }
  local weekdays = { "Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat" }
  local days = { 0, -1, 364, 365, 11015, 11016, 11017, 47540, 47541, 47542, 20729, -25509,
    -719162 }
  for i = 1, 3000 do
    days[#days + 1] = i * 37 - 30000
  end
  for _, day in ipairs(days) do
    local date = os.date("!*t", day * DAY)
    lu.assertEquals(drawing.day_words(day), ("%s %d %s"):format(weekdays[date.wday], date.day,
      months[date.month]), day)
  end
end

function TestClock.test_clock_words()
  lu.assertEquals(drawing.clock(SATURDAY + 17.5 * HOUR), "17:30")
  lu.assertEquals(drawing.clock(SATURDAY - 60), "23:59")
  lu.assertEquals(drawing.clock(SATURDAY + DAY - 20), "00:00")
  lu.assertEquals(drawing.clock_span(SATURDAY + HOUR, SATURDAY + 2 * HOUR), "01:00–02:00")
  lu.assertEquals(drawing.clock_span(SATURDAY + 23 * HOUR, SATURDAY + 25 * HOUR),
    "Sat 23:00–Sun 01:00")
  lu.assertEquals(drawing.clock_span(SATURDAY, SATURDAY + 30 * DAY), "Sat 3 Oct–Mon 2 Nov")
end

TestTicks = {}

function TestTicks.test_round_and_not_too_many()
  for _, range in ipairs { { 0, 1 }, { -3.7, 12.1 }, { 0.001, 0.0042 }, { 1e6, 7e6 },
    { -5, -4.999 }, { 0, 3e-8 } } do
    for most = 1, 9 do
      local ticks = drawing.round_ticks(range[1], range[2], most)
      lu.assertTrue(#ticks <= most + 1)
      for i, tick in ipairs(ticks) do
        lu.assertTrue(tick[1] >= range[1] - 1e-9 and tick[1] <= range[2] + 1e-9)
        lu.assertAlmostEquals(tonumber((tick[2]:gsub("−", "-"))), tick[1],
          math.abs(range[2] - range[1]) * 1e-6)
        lu.assertNotEquals(tick[2], (ticks[i - 1] or {})[2])
      end
    end
  end
  local labels = {}
  for i, tick in ipairs(drawing.round_ticks(0, 1, 5)) do
    labels[i] = tick[2]
  end
  lu.assertEquals(labels, { "0.0", "0.2", "0.4", "0.6", "0.8", "1.0" })
end

function TestTicks.test_equal_values_get_room()
  for _, value in ipairs { 0, 3, -2.5, 1e-12, 1e9 } do
    local low, high = drawing.round_range(value, value, 5)
    lu.assertTrue(low < value and value < high)
  end
end

-- ---------------------------------------------------------------- each picture

TestTimeline = {}

function TestTimeline.test_bars_stand_at_their_hours()
  local svg = chart.timeline { id = "a", from = SATURDAY + 12 * HOUR, to = SATURDAY + 20 * HOUR,
    bands = { { label = "one", from = SATURDAY + 14 * HOUR, to = SATURDAY + 16.5 * HOUR,
      pattern = "solid" } } }
  local scale = (find_text(svg, "18:00").x - find_text(svg, "14:00").x) / 4
  local bar = paths(svg, filled "#000")[1]
  lu.assertAlmostEquals(bar[1], find_text(svg, "14:00").x, 0.02)
  lu.assertAlmostEquals(bar[3] - bar[1], 2.5 * scale, 0.02)
  find_text(svg, "14:00–16:30")
  find_text(svg, "Sat 3 Oct")
end

function TestTimeline.test_soft_ends()
  local hour = SATURDAY + 12 * HOUR
  local function whiskers(band)
    band.from, band.to, band.label = hour, hour + HOUR, "a"
    local svg = chart.timeline { id = "a", from = hour - HOUR, to = hour + 2 * HOUR,
      bands = { band } }
    local a, b = find_text(svg, "11:00").x, find_text(svg, "14:00").x
    local out = {}
    for _, p in ipairs(paths(svg, stroked "1")) do
      if #p == 12 then
        out[#out + 1] = (p[1] - a) / (b - a) * 3 - 1
        out[#out + 1] = (p[3] - a) / (b - a) * 3 - 1
      end
    end
    return out
  end
  lu.assertEquals(whiskers {}, {})
  local both = whiskers { low_from = hour - HOUR / 2, high_to = hour + 1.5 * HOUR }
  for i, expected in ipairs { -0.5, 0, 1, 1.5 } do
    lu.assertAlmostEquals(both[i], expected, 0.002)
  end
  local quarter = HOUR / 4
  local start = whiskers { low_from = hour - quarter, high_from = hour + quarter, low_to = 0 / 0 }
  lu.assertAlmostEquals(start[1], -0.25, 0.002)
  lu.assertAlmostEquals(start[2], 0.25, 0.002)
  lu.assertEquals(#start, 2)
end

function TestTimeline.test_bands_that_go_on_or_lie_outside()
  local from, to = SATURDAY + 12 * HOUR, SATURDAY + 20 * HOUR
  local function draw(a, b)
    return chart.timeline { id = "a", from = from, to = to, bands = { { label = "x", from = a,
      to = b } } }
  end
  find_text(draw(from + HOUR, math.huge), "from 13:00")
  find_text(draw(from + HOUR, nil), "from 13:00")
  find_text(draw(-math.huge, from + HOUR), "until 13:00")
  find_text(draw(from - HOUR, to + HOUR), "all the time")
  find_text(draw(from - 3 * HOUR, from - HOUR), "before this")
  find_text(draw(to + HOUR, to + 2 * HOUR), "later than this")
  find_text(draw(0 / 0, to), "not known")
  find_text(draw(to, from), "not known")
end

function TestTimeline.test_one_label_one_row()
  local hour = SATURDAY + 12 * HOUR
  local svg = chart.timeline { id = "a", bands = {
    { label = "night", from = hour, to = hour + HOUR, pattern = "dots" },
    { label = "night", from = hour + 3 * HOUR, to = hour + 4 * HOUR, pattern = "dots" },
    { label = "day", from = hour, to = hour + HOUR, pattern = "counter" },
  } }
  local nights = paths(svg, filled "url(#a-dots)")
  lu.assertEquals(#nights, 2)
  lu.assertEquals(nights[1][2], nights[2][2])
  lu.assertTrue(paths(svg, filled "url(#a-counter)")[1][2] > nights[1][2])
  find_text(svg, "night")
end

function TestTimeline.test_names_of_days_can_be_left_out()
  local two_days = { { label = "a", from = SATURDAY + 20 * HOUR, to = SATURDAY + 60 * HOUR } }
  local svg = chart.timeline { id = "a", bands = two_days }
  lu.assertTrue(has_text(svg, "Sun 4 Oct"))
  lu.assertFalse(has_text(chart.timeline { id = "a", bands = two_days, days = false }, "Oct"))
  local weeks = chart.timeline { id = "a", from = SATURDAY, to = SATURDAY + 40 * DAY,
    bands = { { label = "a", from = SATURDAY + DAY, to = SATURDAY + 4 * DAY },
      { label = "b", from = SATURDAY + 20 * DAY } } }
  for _, words in ipairs { "Mon 5 Oct", "Sun 4 Oct–Wed 7 Oct", "from Fri 23 Oct" } do
    find_text(weeks, words)
  end
  check_names_apart(weeks)
end

TestCure = {}

function TestCure.test_marks_lie_on_the_curve_and_at_their_hour()
  local svg = chart.cure(night())
  local middle = find_text(svg, "0 %").size * 0.35
  local top, bottom = find_text(svg, "100 %").y - middle, find_text(svg, "0 %").y - middle
  local hour = (find_text(svg, "21:00").x - find_text(svg, "18:00").x) / 3
  local dots = circles(svg)
  lu.assertEquals(#dots, 4)
  for i, at in ipairs { 22, 25, 26, 20 } do
    lu.assertAlmostEquals(dots[i].x, find_text(svg, "18:00").x + (at - 18) * hour, 0.05)
    local cure = 0.95 * (1 - math.exp(-((at - 18) * 3 / 50) ^ 1.5))
    lu.assertAlmostEquals((bottom - dots[i].y) / (bottom - top), cure, 1e-3)
  end
  local curve = paths(svg, stroked "1.8")[1]
  lu.assertEquals(#curve, 242)
  find_text(svg, "cure")
  find_text(svg, "temperature")
end

function TestCure.test_temperature_on_its_own_axis()
  local svg = chart.cure(night())
  local line = paths(svg, stroked("0.9", "6 3"))[1]
  local zero = find_text(svg, "0 °C")
  local ten = find_text(svg, "10 °C")
  -- 15:00 on Sunday, 21 h after the start, is the warmest: 19 degrees.
  local y = line[2 * (21 * 3 + 1)]
  lu.assertAlmostEquals((zero.y - 0.35 * zero.size - y) / (zero.y - ten.y) * 10, 19, 0.05)
  svg = chart.cure(night { celsius = {} })
  lu.assertEquals(#paths(svg, stroked("0.9", "6 3")), 0)
  lu.assertFalse(has_text(svg, "°C"))
  lu.assertFalse(has_text(svg, "temperature"))
end

function TestCure.test_windows_are_hatched_strips()
  local svg = chart.cure(night())
  local first = paths(svg, filled "url(#night-hatch)")[1]
  local hour = (find_text(svg, "21:00").x - find_text(svg, "18:00").x) / 3
  lu.assertAlmostEquals(first[1], find_text(svg, "18:00").x + 5 * hour, 0.05)
  lu.assertAlmostEquals(first[3] - first[1], 5 * hour, 0.05)
  lu.assertEquals(#paths(svg, filled "url(#night-counter)"), 1)
  lu.assertEquals(#paths(svg, filled "url(#night-dots)"), 1)
  for _, window in ipairs(night().windows) do
    lu.assertTrue(find_text(svg, window.label).bottom < first[2])
  end
end

function TestCure.test_what_lies_outside_is_said()
  local svg = chart.cure(night { marks = { { label = "too late", at = SATURDAY + 9 * DAY } },
    windows = { { label = "never", from = 0 / 0, to = 1 } } })
  find_text(svg, "Not within these hours: never, too late")
  lu.assertEquals(#circles(svg), 0)
end

function TestCure.test_part_of_the_data_and_gaps()
  local spec = night { from = SATURDAY + 20 * HOUR + 600, to = SATURDAY + 24 * HOUR + 600 }
  spec.cure[15] = 0 / 0
  spec.celsius[3] = math.huge
  local svg = chart.cure(spec)
  local curve = paths(svg, stroked "1.8")[1]
  -- Every 20 min between 20:10 and 00:10, the two ends, less the gap.
  lu.assertEquals(#curve / 2, 12 + 2 - 1)
  local left, right = curve[1], curve[#curve - 1]
  lu.assertAlmostEquals((find_text(svg, "22:00").x - left) / (right - left), 110 / 240, 0.002)
end

function TestCure.test_a_cure_beyond_all_or_nothing_stays_in_the_frame()
  local svg = chart.cure { id = "a", seconds = { 0, 3600, 7200 }, cure = { -0.2, 0.5, 1.4 } }
  local middle = find_text(svg, "0 %").size * 0.35
  local curve = paths(svg, stroked "1.8")[1]
  lu.assertAlmostEquals(curve[2], find_text(svg, "0 %").y - middle, 0.02)
  lu.assertAlmostEquals(curve[6], find_text(svg, "100 %").y - middle, 0.02)
end

function TestCure.test_one_point_and_equal_values()
  local svg = chart.cure { id = "a", seconds = { SATURDAY }, cure = { 0.4 }, celsius = { 15 } }
  lu.assertEquals(#circles(svg), 1)
  check_names_apart(svg)
  svg = chart.cure { id = "a", seconds = { 0, 3600 }, cure = { 0.5, 0.5 }, celsius = { 0, 0 } }
  check_names_apart(svg)
  lu.assertTrue(has_text(svg, "0 °C"))
end

TestGirths = {}

function TestGirths.test_drawn_to_scale()
  local svg = chart.girths(canoe())
  local metre = find_text(svg, "3.0").x - find_text(svg, "2.0").x
  local skin = paths(svg, filled "#fff")[1]
  local low, high, left, right = math.huge, -math.huge, math.huge, -math.huge
  for i = 1, #skin, 2 do
    left, right = math.min(left, skin[i]), math.max(right, skin[i])
    low, high = math.min(low, skin[i + 1]), math.max(high, skin[i + 1])
  end
  lu.assertAlmostEquals((right - left) / metre, 5.2, 1e-3)
  lu.assertAlmostEquals((high - low) / metre, 1.3, 1e-3)
  -- The stations lie on the outline: the fourth one is 3 x 12 steps from the first.
  lu.assertAlmostEquals(((low + high) / 2 - skin[2 * 37]) / metre, 0.63, 1e-3)
  find_text(svg, "widest 1.30 m")
  local bar = paths(svg, filled "#000")[1]
  lu.assertAlmostEquals((bar[3] - bar[1]) / metre, 0.5, 1e-3)
  find_text(svg, "1 m, the same along and across")
end

function TestGirths.test_nowhere_wider_than_its_stations()
  local girths = { 0, 0.2, 1.9, 2.0, 2.0, 0.1, 0 }
  local xs = { 0, 1, 1.2, 2, 3, 3.1, 5 }
  local svg = chart.girths { id = "a", x = xs, girth = girths }
  local skin = paths(svg, filled "#fff")[1]
  local metre = find_text(svg, "3.0").x - find_text(svg, "2.0").x
  local left, keel = skin[1], skin[2]
  for i = 1, #skin // 2, 2 do
    local x, girth = (skin[i] - left) / metre, (keel - skin[i + 1]) / metre * 2
    for k = 2, #xs do
      if x > xs[k - 1] + 0.01 and x < xs[k] - 0.01 then
        lu.assertTrue(girth <= math.max(girths[k], girths[k - 1]) + 0.01)
        lu.assertTrue(girth >= math.min(girths[k], girths[k - 1]) - 0.01)
      end
    end
  end
end

function TestGirths.test_strips_and_their_width()
  local svg = chart.girths(canoe())
  local metre = find_text(svg, "3.0").x - find_text(svg, "2.0").x
  local keel = paths(svg, stroked("0.8", "12 3 2 3"))[1][2]
  local edges = {}
  for i, p in ipairs(paths(svg, stroked("0.9", "6 3"))) do
    edges[i] = (keel - p[2]) / metre
  end
  for i, expected in ipairs { 0.7, -0.025, 0.025, -0.7 } do
    lu.assertAlmostEquals(edges[i], expected, 1e-3)
  end
  local count = 0
  for _, t in ipairs(texts(svg)) do
    count = count + (t.words == "0.72 m" and 1 or 0)
  end
  lu.assertEquals(count, 2)
end

function TestGirths.test_feet()
  local svg = chart.girths(canoe { unit = "ft",
    strips = { { low_half = -0.685, high_half = 0.685 },
      { low_half = 0.1, high_half = 0.2, label = "patch" } } })
  find_text(svg, "widest 4 ft 3 in")
  find_text(svg, "4 ft 6 in")
  find_text(svg, "patch")
  find_text(svg, "17 ft")
  local foot = find_text(svg, "4").x - find_text(svg, "3").x
  local skin = paths(svg, filled "#fff")[1]
  local right = 0
  for i = 1, #skin, 2 do
    right = math.max(right, skin[i])
  end
  lu.assertAlmostEquals((right - skin[1]) / foot, 5.2 / 0.3048, 0.02)
end

function TestGirths.test_bands_from_edge_to_edge()
  local svg = chart.girths(canoe { bands = {
    { from = -1, to = 2.6, label = "fore" }, { from = 2.6, to = 9, label = "aft" },
    { from = 7, to = 9, label = "none of it" }, { from = 0 / 0, to = 1, label = "unknown" },
  } })
  local metre = find_text(svg, "3.0").x - find_text(svg, "2.0").x
  lu.assertAlmostEquals(find_text(svg, "aft").x - find_text(svg, "fore").x, 2.6 * metre, 0.1)
  lu.assertFalse(has_text(svg, "none of it"))
  lu.assertFalse(has_text(svg, "unknown"))
end

function TestGirths.test_order_and_gaps_do_not_matter()
  local svg = chart.girths { id = "a", x = { 0, 1, 2, 3 }, girth = { 0.5, 1, 1.2, 0.4 } }
  lu.assertEquals(chart.girths { id = "a", x = { 3, 1, 0 / 0, 0, 2, 1 },
    girth = { 0.4, 1, 9, 0.5, 1.2, 7 } }, svg)
end

TestBars = {}

function TestBars.test_bars_and_whiskers_have_their_length()
  local svg = chart.bars(budget())
  local zero = find_text(svg, "0.0").x
  local kilo = find_text(svg, "1.0").x - zero
  local bars = paths(svg, filled "url(#budget-hatch)")
  for i, expected in ipairs { 1.12, 1.2, 0.4, 0.0353 } do
    lu.assertAlmostEquals((bars[i][3] - bars[i][1]) / kilo, expected, 1e-3)
    lu.assertAlmostEquals(bars[i][1], zero, 0.02)
  end
  local spans = {}
  for _, p in ipairs(paths(svg, stroked "1")) do
    if #p == 12 then
      spans[#spans + 1] = { (p[1] - zero) / kilo, (p[3] - zero) / kilo }
    end
  end
  lu.assertEquals(#spans, 3)
  for i, expected in ipairs { { 1.08, 1.17 }, { 1.0, 1.5 }, { 0.2, 0.8 } } do
    lu.assertAlmostEquals(spans[i][1], expected[1], 1e-3)
    lu.assertAlmostEquals(spans[i][2], expected[2], 1e-3)
  end
end

function TestBars.test_numbers_as_exact_as_they_are_known()
  local svg = chart.bars(budget())
  find_text(svg, "1.12 kg (1.08 to 1.17)")
  find_text(svg, "1.20 kg (1.00 to 1.50)")
  find_text(svg, "0.40 kg (0.20 to 0.80)")
  find_text(svg, "0.0353 kg")
  find_text(svg, "not known")
  find_text(chart.bars(budget { width = 330 }), "1.12 kg")
end

function TestBars.test_below_zero_and_nothing()
  local svg = chart.bars { id = "a", rows = { { label = "sanded off", value = -0.2 },
    { label = "nothing", value = 0 } } }
  find_text(svg, "−0.200")
  local bar = paths(svg, filled "url(#a-hatch)")[1]
  lu.assertAlmostEquals(bar[3], find_text(svg, "0.00").x, 0.02)
  lu.assertAlmostEquals(bar[1], find_text(svg, "−0.20").x, 0.02)
  svg = chart.bars { id = "a", rows = { { label = "nothing", value = 0, low = 0, high = 0 } } }
  check_names_apart(svg)
  find_text(svg, "0")
end

TestScatter = {}

function TestScatter.test_points_stand_at_their_numbers()
  local svg = chart.scatter { id = "a", x_label = "x", y_label = "y", points = {
    { label = "p", x = 2, y = 30 }, { label = "q", x = 4, y = 10, frontier = true },
    { label = "r", x = 3, y = 0 / 0 } } }
  local dots = circles(svg)
  lu.assertEquals(#dots, 2)
  lu.assertAlmostEquals(dots[1].x, find_text(svg, "2.0").x, 0.02)
  lu.assertAlmostEquals(dots[2].x, find_text(svg, "4.0").x, 0.02)
  lu.assertAlmostEquals(dots[1].y - dots[2].y, find_text(svg, "30").y - find_text(svg, "10").y,
    0.02)
  lu.assertEquals({ dots[1].full, dots[2].full }, { false, true })
  find_text(svg, "p")
  find_text(svg, "q")
  lu.assertFalse(has_text(svg, "r"))
end

function TestScatter.test_the_frontier_is_a_step_line()
  local svg = chart.scatter { id = "a", x_label = "", y_label = "", points = {
    { label = "c", x = 3, y = 1, frontier = true }, { label = "a", x = 1, y = 5, frontier = true },
    { label = "x", x = 2.5, y = 4 }, { label = "b", x = 2, y = 2, frontier = true } } }
  local dots = circles(svg)
  local c, a, b = dots[1], dots[2], dots[4]
  lu.assertEquals(paths(svg, stroked "1.8"),
    { { a.x, a.y, b.x, a.y, b.x, b.y, c.x, b.y, c.x, c.y } })
  svg = chart.scatter { id = "a", points = { { label = "c", x = 3, y = 1, frontier = true } } }
  lu.assertEquals(#paths(svg, stroked "1.8"), 0)
end

function TestScatter.test_many_names_keep_apart_and_off_the_points()
  for _, count in ipairs { 1, 5, 20, 45 } do
    local svg = chart.scatter(choices(count))
    check_names_apart(svg)
    local names = 0
    for _, t in ipairs(texts(svg)) do
      if t.words:find "^cloth number" then
        names = names + 1
        for _, dot in ipairs(circles(svg)) do
          lu.assertFalse(dot.x > t.left and dot.x < t.right and dot.y > t.top
            and dot.y < t.bottom, t.words)
        end
      end
    end
    if count <= 20 then
      lu.assertEquals(names, count)
    elseif names < count then
      find_text(svg, ("No room for %d of the names."):format(count - names))
    end
  end
end

-- Specks stand at their numbers and stretch the axes; lines of a legend stand below, broken where
-- they are long.
function TestScatter.test_cloud_and_legend()
  local long = ("many words "):rep(30)
  local svg = chart.scatter { id = "a", x_label = "x", y_label = "y",
    points = { { label = "p", x = 2, y = 30 } },
    cloud = { { 2, 30 }, { 8, 10 }, { 0 / 0, 3 }, { 4, math.huge } },
    legend = { "p: the best", long } }
  local dot = circles(svg)[1]
  local x, y, x2 = svg:match "M([%d.]+) ([%d.]+)h%.01M([%d.]+) "
  lu.assertAlmostEquals(tonumber(x), dot.x, 0.02)
  lu.assertAlmostEquals(tonumber(y), dot.y, 0.02)
  lu.assertAlmostEquals(tonumber(x2), find_text(svg, "8").x, 0.02)
  lu.assertEquals(select(2, svg:gsub("h%.01", "")), 2)
  lu.assertTrue(find_text(svg, "p: the best").y > dot.y)
  lu.assertFalse(has_text(svg, long:sub(1, -2)))
  local words = 0
  for _, t in ipairs(texts(svg)) do
    words = words + select(2, t.words:gsub("many", ""))
  end
  lu.assertEquals(words, 30)
end

function TestScatter.test_names_that_find_no_room_are_counted()
  local points = {}
  for i = 1, 60 do
    points[i] = { label = "the same place " .. i, x = 1, y = 1 }
  end
  local svg = chart.scatter { id = "a", points = points, width = 330, height = 150 }
  local names = 0
  for _, t in ipairs(texts(svg)) do
    names = names + (t.words:find "^the same place" and 1 or 0)
  end
  lu.assertTrue(names > 3 and names < 60)
  find_text(svg, ("No room for %d of the names."):format(60 - names))
  check_names_apart(svg)
end

os.exit(lu.LuaUnit.run())
