-- SPDX-License-Identifier: GPL-3.0-or-later
-- Steady cures, heated cures and maps: against the cure itself and one another; the picture of a
-- map; refusals in words.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local mapchart = require "resinwright.mapchart"
local text = require "resinwright.text"
local refused_for = support.refused_for

-- luacheck: globals TestSteady TestRamp TestMap TestPicture

local function slow() return rw.resin { class = "slow-polyetheramine" } end

TestSteady = {}

function TestSteady.test_is_the_cure_over_a_steady_history()
  local r = slow()
  local s = r:steady { temperature = "20 degC", cures = { 0.3, 0.1, 1 },
    times = { "12 h", "2 h" } }
  local c = r:cure {
    hull = rw.steady { air = "20 degC", from = "2026-10-03 09:00", to = "2026-10-05 09:00" },
    from = "2026-10-03 09:00", to = "2026-10-05 09:00", tolerance = 1e-9,
  }
  lu.assertAlmostEquals(s.states[1].cure, c:at({ at = "2026-10-03 21:00" }).cure, 1e-8)
  lu.assertAlmostEquals(s.states[2].cure, c:at({ at = "2026-10-03 11:00" }).cure, 1e-8)
  lu.assertEquals(s.states[2].time:to "h", 2)
  lu.assertEquals(s.states[2].glass:si(), r:glass({ cure = s.states[2].cure }):si())
  lu.assertEquals(s.states[2].viscosity:si(),
    r:viscosity({ cure = s.states[2].cure, temperature = "20 degC" }):si())
  lu.assertNil(s.states[1].viscosity)
  lu.assertEquals(s.cures[1].cure, 0.3)
  lu.assertTrue(s.cures[1].time > s.cures[2].time)
  lu.assertNil(s.cures[3].time)
  local back = r:steady { temperature = "20 degC", times = { s.cures[1].time } }
  lu.assertAlmostEquals(back.states[1].cure, 0.3, 1e-9)
  lu.assertEquals(back.cures, {})
  lu.assertEquals(s.warnings, {})
end

function TestSteady.test_marks()
  local r = slow()
  local s = r:steady { temperature = "25 degC", cures = { 0.5 } }
  lu.assertEquals(s.half_time:si(), s.cures[1].time:si())
  local around = r:steady { temperature = "25 degC",
    times = { s.peak_time * 0.9, s.peak_time, s.peak_time * 1.1 } }.states
  lu.assertAlmostEquals(around[2].cure, s.peak_cure, 1e-8)
  lu.assertTrue(around[1].rate < s.peak_rate and around[3].rate < s.peak_rate)
  local short = r:steady { temperature = "25 degC", within = "10 min" }
  lu.assertNil(short.peak_time)
  lu.assertNil(short.half_time)
  lu.assertTrue(short.reached < s.peak_cure)
  local begun = r:steady { temperature = "25 degC", cures = { 0.2, 0.4 }, start = 0.3 }
  lu.assertEquals(begun.cures[1].time:si(), 0)
  lu.assertEquals(#r:steady({ temperature = "150 degC" }).warnings, 1)
end

function TestSteady.test_refuses()
  local r = slow()
  local function no(argument, words, spec)
    spec.temperature = spec.temperature or "20 degC"
    refused_for(argument, words, r.steady, r, spec)
  end
  no("temperature", { "found 300 degC" }, { temperature = "300 degC" })
  no("cures", { "found 50" }, { cures = { 0.5, 50 } })
  no("times", { "696 h", "within" }, { times = { "1 h", "29 d" } })
  no("within", {}, { within = "0 h" })
  no("start", { "0 is liquid" }, { start = 1 })
end

TestRamp = {}

function TestRamp.test_lists_and_peak()
  local r = slow()
  local m = r:ramp { from = "0 degC", to = "120 degC", heating = "5 K/min", count = 121 }
  lu.assertEquals(#m.celsius, 121)
  lu.assertAlmostEquals(m.celsius[61], 60, 1e-9)
  lu.assertAlmostEquals(m.seconds[61], 720, 1e-6)
  lu.assertEquals(m.cure[1], 0)
  lu.assertAlmostEquals(m.glass_celsius[1], -22, 1e-9)
  local best = 1
  for i = 2, 121 do
    lu.assertTrue(m.cure[i] > m.cure[i - 1])
    best = m.rate[i] > m.rate[best] and i or best
  end
  lu.assertAlmostEquals(m.peak.temperature:to "degC", m.celsius[best], 1)
  lu.assertTrue(m.peak.rate:to "1/s" >= m.rate[best])
  lu.assertTrue(m.peak.cure > m.cure[best - 1] and m.peak.cure < m.cure[best + 1])
  lu.assertAlmostEquals(m.peak.time:to "s", m.peak.temperature:to "degC" * 12, 1e-6)
  lu.assertEquals(m.warnings, {})
  lu.assertNil(r:ramp({ from = "0 degC", to = "20 degC", heating = "5 K/min" }).peak)
end

-- The line of Kissinger through four peaks lands between the two activation energies of the class
-- (60 and 56 kJ/mol), the greater part of the rate having the smaller one.
function TestRamp.test_peaks_lie_on_a_line_of_the_class()
  local r, x, y = slow(), {}, {}
  for i, rate in ipairs { 0.5, 1, 2, 4 } do
    local peak = r:ramp({ from = "-20 degC", to = "120 degC", count = 2,
      heating = rw.q(rate, "K/min") }).peak
    local T = peak.temperature:si()
    x[i], y[i] = 1 / T, math.log(rate / 60 / T ^ 2)
  end
  local slope = (y[4] - y[1]) / (x[4] - x[1])
  local energy = -slope * 8.31446261815324
  lu.assertTrue(energy > 55e3 and energy < 61e3, energy)
end

function TestRamp.test_refuses()
  local r = slow()
  refused_for("to", { "begins with" }, r.ramp, r,
    { from = "20 degC", to = "20 degC", heating = "1 K/min" })
  refused_for("heating", { "found -1 K/min", "60000 K/min" }, r.ramp, r,
    { from = "20 degC", to = "90 degC", heating = "-1 K/min" })
  refused_for("from", { "found -200 degC", "-73.15 degC to 226.85 degC" }, r.ramp, r,
    { from = "-200 degC", to = "90 degC", heating = "1 K/min" })
  refused_for("to", { "found 900 degC", "226.85 degC" }, r.ramp, r,
    { from = "20 degC", to = "900 degC", heating = "1 K/min" })
  refused_for("heating", {}, r.ramp, r, { from = "20 degC", to = "90 degC", heating = "5 K" })
  refused_for("count", { "found 1" }, r.ramp, r,
    { from = "20 degC", to = "90 degC", heating = "1 K/min", count = 1 })
end

TestMap = {}

function TestMap.test_rows_are_steady_cures()
  local r = slow()
  local m = r:map { from = "10 degC", to = "100 degC", count = 4, within = "60 d", share = 0.9 }
  lu.assertEquals(#m.celsius, 4)
  for i, celsius in ipairs { 10, 40, 70, 100 } do
    lu.assertAlmostEquals(m.celsius[i], celsius, 1e-9)
    local at = rw.q(celsius, "degC")
    local s = r:steady { temperature = at, within = "60 d",
      cures = { r.thresholds.gel, 0.9 * m.plateau[i] } }
    lu.assertAlmostEquals(s.cures[1].time:si(), m.gel_seconds[i], 1e-6 * m.gel_seconds[i])
    lu.assertAlmostEquals(s.cures[2].time:si(), m.full_seconds[i], 1e-6 * m.full_seconds[i])
    lu.assertAlmostEquals(s.reached, m.plateau[i], 1e-9)
    lu.assertAlmostEquals(r:glass({ cure = m.plateau[i] }):to "degC", m.plateau_glass_celsius[i],
      1e-9)
    if m.glass_seconds[i] < math.huge then
      local state = r:steady({ temperature = at, within = "60 d",
        times = { rw.q(m.glass_seconds[i], "s") } }).states[1]
      lu.assertAlmostEquals(state.glass:to "degC", celsius, 1e-4)
    end
  end
  lu.assertEquals(m.glass_seconds[4], math.huge)
end

function TestMap.test_what_stands_out()
  local r = slow()
  local m = r:map {}
  lu.assertEquals(#m.celsius, 60)
  lu.assertAlmostEquals(m.celsius[1], -32, 1e-9)
  lu.assertAlmostEquals(m.celsius[60], 108, 1e-9)
  lu.assertEquals(m.glass_seconds[1], 0)
  lu.assertAlmostEquals(m.glass_uncured:to "degC", -22, 1e-9)
  lu.assertAlmostEquals(m.glass_cured:to "degC", 88, 1e-9)
  lu.assertEquals(m.glass_at_gel:si(), r:glass({ cure = r.thresholds.gel }):si())
  lu.assertTrue(m.nose.temperature > m.glass_at_gel and m.nose.temperature < m.glass_cured)
  for i, celsius in ipairs(m.celsius) do
    if celsius > 20 then
      lu.assertTrue(m.glass_seconds[i] >= m.nose.time:to "s" * (1 - 1e-6))
    end
  end
  lu.assertNil(r:map({ within = "10 s", count = 2 }).nose)
end

function TestMap.test_refuses()
  local r = slow()
  refused_for("to", { "20 degC" }, r.map, r, { from = "90 degC", to = "20 degC" })
  refused_for("within", { "found 0.5 s", "1 s to" }, r.map, r, { within = "0.5 s" })
  refused_for("share", {}, r.map, r, { share = 0.2 })
  refused_for("to", { "found 300 degC" }, r.map, r, { from = "20 degC", to = "300 degC" })
  refused_for("from", { "found -100 degC" }, r.map, r, { from = "-100 degC", to = "30 degC" })
  refused_for("count", { "found 1" }, r.map, r, { count = 1 })
end

TestPicture = {}

-- Boxes of the words of a picture, a little smaller than the letters.
local function word_boxes(svg)
  local boxes = {}
  for x, y, anchor, size, words in svg:gmatch
    '<text x="([%d.-]+)" y="([%d.-]+)" text%-anchor="(%a+)" font%-size="([%d.]+)"[^>]*>([^<]*)<' do
    x, y, size = tonumber(x), tonumber(y), tonumber(size)
    local width = text.width(words, size)
    local left = x - (anchor == "middle" and width / 2 or anchor == "end" and width or 0)
    boxes[#boxes + 1] = { left, y - size * 0.7, left + width, y, words = words }
  end
  return boxes
end

local function assert_apart(svg)
  local boxes = word_boxes(svg)
  lu.assertTrue(#boxes > 10)
  for i, a in ipairs(boxes) do
    for k = i + 1, #boxes do
      local b = boxes[k]
      lu.assertFalse(a[1] < b[3] and b[1] < a[3] and a[2] < b[4] and b[2] < a[4],
        a.words .. " on " .. b.words)
    end
  end
  return boxes
end

local function drawn(class, more)
  local m = rw.resin({ class = class }):map { count = 40 }
  local function curve(label, kind)
    return { label = label, kind = kind, seconds = m[kind .. "_seconds"], degrees = m.celsius }
  end
  local spec = { id = "m", curves = { curve("gel", "gel"), curve("glass comes", "glass"),
    curve("full", "full") }, lines = { { label = "cured", degrees = m.glass_cured:to "degC" } },
    mark = { label = "soonest", seconds = m.nose.time:to "s",
      degrees = m.nose.temperature:to "degC" } }
  for key, value in pairs(more or {}) do
    spec[key] = value
  end
  return mapchart.draw(spec)
end

function TestPicture.test_names_stand_apart()
  for _, class in ipairs { "slow-polyetheramine", "medium-cycloaliphatic", "fast-polyamine" } do
    for _, width in ipairs { 330, 643, 1200 } do
      local svg = drawn(class, { width = width })
      local found = {}
      for _, box in ipairs(assert_apart(svg)) do
        found[box.words] = true
        lu.assertTrue(box[1] >= -0.5 and box[3] <= width + 0.5, box.words)
      end
      for _, words in ipairs { "gel", "glass comes", "full", "cured", "soonest", "liquid" } do
        lu.assertTrue(found[words], words .. " is missing at " .. width)
      end
    end
  end
end

function TestPicture.test_the_time_axis_goes_by_powers()
  local svg = drawn("slow-polyetheramine", { from = 60, to = 600 * 3600 })
  local at = {}
  for _, box in ipairs(word_boxes(svg)) do
    at[box.words] = (box[1] + box[3]) / 2
  end
  local function step(a, b)
    return at[b] - at[a]
  end
  lu.assertAlmostEquals(step("10 min", "1 h") / math.log(6), step("1 min", "10 min")
    / math.log(10), 0.05)
  lu.assertAlmostEquals(step("1 h", "1 d") / math.log(24), step("1 min", "10 min")
    / math.log(10), 0.05)
end

function TestPicture.test_nothing_to_draw()
  local never = { math.huge, math.huge }
  local svg = mapchart.draw { id = "m", curves = { { label = "gel", kind = "gel", seconds = never,
    degrees = { 10, 20 } } } }
  lu.assertStrContains(svg, "nothing happens")
  lu.assertStrContains(mapchart.draw { id = "m" }, "nothing happens")
  local fine, message = pcall(mapchart.draw, { id = "m", curvs = {} })
  lu.assertFalse(fine)
  lu.assertStrContains(message, "curvs")
end

os.exit(lu.LuaUnit.run())
