-- SPDX-License-Identifier: GPL-3.0-or-later
-- Histories from readings, files and days; what is made from them; clock times.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused, refused_for = support.refused, support.refused_for

-- luacheck: globals TestHistory TestFile TestDays TestChange TestClock

-- An invented garage, the heater off at 18:00.
local function garage()
  return rw.history {
    readings = {
      { at = "2026-10-03 15:30", air = "19 degC", humidity = "60 %" },
      { at = "2026-10-03 18:00", air = "19 degC", humidity = 0.64 },
      { at = "2026-10-03 21:00", air = "52 degF" },
      { at = "2026-10-04 06:00", air = "5 degC" },
    },
  }
end

local function air(history, at) return history:at { at = at }.air:to "degC" end

-- A file that is gone when the test is over.
local function with_file(text, call)
  local path = os.tmpname()
  local file = assert(io.open(path, "w"))
  file:write(text)
  file:close()
  local ok, err = pcall(call, path)
  os.remove(path)
  if not ok then
    error(err, 0)
  end
end

TestHistory = {}

function TestHistory.test_straight_between_readings()
  local h = garage()
  lu.assertAlmostEquals(air(h, "2026-10-03 16:00"), 19, 1e-9)
  lu.assertAlmostEquals(air(h, "2026-10-03 21:00"), (52 - 32) / 1.8, 1e-9)
  lu.assertAlmostEquals(air(h, "2026-10-03 19:30"), (19 + (52 - 32) / 1.8) / 2, 1e-9)
  lu.assertAlmostEquals(h:at { at = "2026-10-03 16:45" }.humidity, 0.62, 1e-12)
  lu.assertNil(h:at { at = "2026-10-03 20:00" }.humidity)
  lu.assertEquals(h.warnings, {})
end

function TestHistory.test_a_time_twice_is_a_step()
  local h = rw.history {
    readings = {
      { at = "2026-10-03 08:00", air = "10 degC" }, { at = "2026-10-03 09:00", air = "10 degC" },
      { at = "2026-10-03 09:00", air = "20 degC" }, { at = "2026-10-03 10:00", air = "20 degC" },
    },
  }
  lu.assertAlmostEquals(air(h, "2026-10-03 08:59"), 10, 1e-9)
  lu.assertAlmostEquals(air(h, "2026-10-03 09:00"), 20, 1e-9)
end

function TestHistory.test_looks()
  local h = garage()
  local span = h:span()
  lu.assertEquals(span.from, "2026-10-03 15:30")
  lu.assertEquals(span.to, "2026-10-04 06:00")
  lu.assertEquals(span.seconds_to - span.seconds_from, 14.5 * 3600)
  local points = h:points()
  lu.assertEquals(points.seconds[1], span.seconds_from)
  lu.assertAlmostEquals(points.celsius[4], 5, 1e-9)
  lu.assertEquals(points.humidity, { 0.6, 0.64, false, false })
  local all, evening = h:extremes {}, h:extremes { from = "2026-10-03 19:30" }
  lu.assertAlmostEquals(all.low:to "degC", 5, 1e-9)
  lu.assertAlmostEquals(all.high:to "degC", 19, 1e-9)
  lu.assertAlmostEquals(evening.high:to "degC", (19 + (52 - 32) / 1.8) / 2, 1e-9)
  lu.assertEquals(rw.kind(h), "history")
  lu.assertEquals(tostring(h), "temperatures from 2026-10-03 15:30 to 2026-10-04 06:00")
end

function TestHistory.test_wave()
  local h = rw.wave { mean = "17 degC", swing = "4 K", warmest = "2026-10-03 15:00",
    from = "2026-10-03", to = "2026-10-05" }
  lu.assertAlmostEquals(h:at { at = "2026-10-04 15:00" }.air:to "degC", 21, 0.011)
  lu.assertAlmostEquals(h:at { at = "2026-10-04 03:00" }.air:to "degC", 13, 0.011)
  refused_for("swing", { "swing" }, rw.wave,
    { mean = "17 degC", swing = "-4 K", warmest = "2026-10-03 15:00", from = "2026-10-03",
      to = "2026-10-05" })
  local function no(argument, words, changes)
    local spec = { mean = "17 degC", swing = "4 K", warmest = "2026-10-03 15:00",
      from = "2026-10-03", to = "2026-10-05" }
    for key, value in pairs(changes) do
      spec[key] = value
    end
    refused_for(argument, words, rw.wave, spec)
  end
  no("swing", { "found 400 K", "0 K to 100 K" }, { swing = "400 K" })
  no("tolerance", { "found 5 K" }, { tolerance = "5 K" })
  no("mean", { "mean is 900 degC", "226.85 degC" }, { mean = "900 degC" })
  no("swing", { "swing makes a temperature of 240 degC" },
    { mean = "200 degC", swing = "40 K", warmest = "2026-10-03" })
  no("period", { "found 20 s", "1 min to 366 d" }, { period = "20 s" })
  refused_for("to", { "after" }, rw.wave,
    { mean = "17 degC", swing = "4 K", warmest = "2026-10-03 15:00", from = "2026-10-03",
      to = "2026-10-03" })
end

function TestHistory.test_steady()
  local h = rw.steady { air = "18 degC", humidity = 0.5, from = "2026-10-03", to = "2026-10-12" }
  lu.assertAlmostEquals(air(h, "2026-10-08 03:00"), 18, 1e-9)
  lu.assertEquals(h:at { at = "2026-10-08" }.humidity, 0.5)
  lu.assertNil(rw.steady { air = "18 degC", from = "2026-10-03", to = "2026-10-12" }
    :at { at = "2026-10-05" }.humidity)
end

-- In an oven the models of resin are no longer tested.
function TestHistory.test_hot_is_warned_of()
  local oven = rw.steady { air = "130 degC", from = "2026-10-03", to = "2026-10-04" }
  lu.assertEquals(#oven.warnings, 1)
  lu.assertStrContains(oven.warnings[1], "outside")
end

function TestHistory.test_fahrenheit_written_as_celsius()
  local function of(text, as_read)
    return {
      as_read = as_read,
      readings = {
        { at = "2026-10-03 08:00", air = "20 degC" }, { at = "2026-10-03 09:00", air = text },
      },
    }
  end
  refused_for("readings[2].air", { "72 degC", "degF", "as_read" }, rw.history, of "72 degC")
  lu.assertAlmostEquals(air(rw.history(of "72 degF"), "2026-10-03 09:00"), 40 / 1.8, 1e-9)
  lu.assertAlmostEquals(air(rw.history(of("72 degC", true)), "2026-10-03 09:00"), 72, 1e-9)
  lu.assertAlmostEquals(air(rw.history(of "45 degC"), "2026-10-03 09:00"), 45, 1e-9)
end

function TestHistory.test_refusals()
  local one = { at = "2026-10-03 08:00", air = "20 degC" }
  local function readings(second) return { readings = { one, second } } end
  refused_for("readings[2].at", { "goes back" }, rw.history,
    readings { at = "2026-10-03 07:00", air = "20 degC" })
  refused_for("readings[2].air", { "no unit", "20 degC" }, rw.history,
    readings { at = "2026-10-03 09:00", air = 20 })
  refused_for("readings[2].air", { "missing" }, rw.history, readings { at = "2026-10-03 09:00" })
  refused_for("readings[2].air", { "-150 degC" }, rw.history,
    readings { at = "2026-10-03 09:00", air = "-150 degC" })
  refused_for("readings[2].humidity", { "70 %" }, rw.history,
    readings { at = "2026-10-03 09:00", air = "20 degC", humidity = 70 })
  refused_for("readings[2].temperature", { "it knows: at, air" }, rw.history,
    readings { at = "2026-10-03 09:00", temperature = "20 degC" })
  refused_for("readings", { "two readings" }, rw.history, { readings = { one } })
  refused_for("to", { "after from" }, rw.steady,
    { air = "20 degC", from = "2026-10-03", to = "2026-10-03" })
  refused_for("air", { "degC" }, rw.steady,
    { air = "-100 degC", from = "2026-10-03", to = "2026-10-04" })
end

function TestHistory.test_what_it_does_not_reach()
  local h = garage()
  refused_for("at", { "2026-10-03 15:30", "2026-10-04 06:00", "2026-10-05 00:00" }, h.at, h,
    { at = "2026-10-05" })
  refused_for("to", { "2026-10-05" }, h.extremes, h, { to = "2026-10-05" })
  refused_for("from", { "2026-10-02" }, h.extremes, h, { from = "2026-10-02" })
  refused_for("to", { "after 2026-10-03 20:00" }, h.extremes, h,
    { from = "2026-10-03 20:00", to = "2026-10-03 19:00" })
end

function TestHistory.test_closed()
  local kept
  do
    local h <close> = garage()
    kept = h
  end
  refused_for("history", { "closed" }, kept.span, kept)
  refused_for("history", { "closed" }, tostring, kept)
  kept = nil -- luacheck: ignore
  collectgarbage()
end

TestFile = {}

function TestFile.test_readings()
  with_file("time,air [degF],humidity [%]\n2026-10-03 15:30,66.2,60\n2026-10-03 21:00,52,\n",
    function(path)
      local h = rw.history_file { path = path }
      lu.assertAlmostEquals(air(h, "2026-10-03 15:30"), 19, 1e-9)
      lu.assertAlmostEquals(h:at { at = "2026-10-03 15:30" }.humidity, 0.6, 1e-12)
    end)
end

function TestFile.test_refusals()
  with_file("time,air [degC]\n2026-10-03 15:30,19\n2026-10-03 21:00,72\n", function(path)
    local err = refused(rw.history_file, { path = path })
    lu.assertStrContains(err.message, "line 3")
    lu.assertEquals(err.line, 3)
    lu.assertAlmostEquals(
      air(rw.history_file { path = path, as_read = true }, "2026-10-03 21:00"), 72, 1e-9)
  end)
  lu.assertEquals(refused(rw.history_file, { path = "no/such/file" }).code, "RW_ERR_FILE")
end

TestDays = {}

function TestDays.test_low_at_half_past_five_high_at_three()
  local h = rw.days {
    days = {
      { day = "2026-10-03", low = "5 degC", high = "15 degC" },
      { day = "2026-10-04", low = "41 degF", high = "59 degF" },
    },
  }
  lu.assertAlmostEquals(air(h, "2026-10-03 05:30"), 5, 1e-9)
  lu.assertAlmostEquals(air(h, "2026-10-03 15:00"), 15, 1e-9)
  lu.assertAlmostEquals(air(h, "2026-10-03 10:15"), 10, 1e-9)
  lu.assertAlmostEquals(air(h, "2026-10-04 05:30"), 5, 1e-9)
end

function TestDays.test_refusals()
  refused_for("days[1].day", { "2026-10-03" }, rw.days,
    { days = { { day = "2026-10-03 12:00", low = "5 degC", high = "15 degC" } } })
  refused_for("days[1]", { "swapped" }, rw.days,
    { days = { { day = "2026-10-03", low = "15 degC", high = "5 degC" } } })
  refused_for("days[2]", { "after the day before" }, rw.days, {
    days = {
      { day = "2026-10-03", low = "5 degC", high = "15 degC" },
      { day = "2026-10-03", low = "5 degC", high = "15 degC" },
    },
  })
  refused_for("days", { "empty" }, rw.days, { days = {} })
end

TestChange = {}

-- After a step of the air the body has gone 1 - exp(-t/tau) of the way.
function TestChange.test_lag()
  local h = rw.steady { air = "20 degC", from = "2026-10-03 08:00", to = "2026-10-03 18:00" }
    :lag { time_constant = "40 min", start = "10 degC" }
  lu.assertAlmostEquals(air(h, "2026-10-03 08:00"), 10, 1e-9)
  lu.assertAlmostEquals(air(h, "2026-10-03 08:40"), 20 - 10 * math.exp(-1), 0.02)
  lu.assertAlmostEquals(air(h, "2026-10-03 10:00"), 20 - 10 * math.exp(-3), 0.02)
  local same = garage():lag { time_constant = "40 min" }
  lu.assertAlmostEquals(air(same, "2026-10-03 15:30"), 19, 1e-9)
end

function TestChange.test_extend()
  local held = garage():extend { to = "2026-10-06 06:00", how = "hold" }
  lu.assertAlmostEquals(air(held, "2026-10-05 22:00"), 5, 1e-9)
  local day = rw.days {
    days = {
      { day = "2026-10-03", low = "5 degC", high = "15 degC" },
      { day = "2026-10-04", low = "6 degC", high = "15 degC" },
    },
  }
  local repeated = day:extend { to = "2026-10-06 15:00", how = "repeat_day" }
  lu.assertAlmostEquals(air(repeated, "2026-10-05 05:30"), 6, 1e-9)
  lu.assertAlmostEquals(air(repeated, "2026-10-06 05:30"), 6, 1e-9)
end

function TestChange.test_warmer()
  lu.assertAlmostEquals(air(garage():warmer { by = "3 K" }, "2026-10-04 06:00"), 8, 1e-9)
  lu.assertAlmostEquals(air(garage():warmer { by = "-9 Fdeg" }, "2026-10-04 06:00"), 0, 1e-9)
end

function TestChange.test_leaves_the_first_as_it_was()
  local h = garage()
  h:warmer { by = "3 K" }
  lu.assertAlmostEquals(air(h, "2026-10-04 06:00"), 5, 1e-9)
end

function TestChange.test_refusals()
  local h = garage()
  refused_for("time_constant", { "found -5 min" }, h.lag, h, { time_constant = "-5 min" })
  refused_for("time_constant", { "no unit" }, h.lag, h, { time_constant = 40 })
  refused_for("start", { "degC" }, h.lag, h, { time_constant = "5 min", start = "-100 degC" })
  refused_for("to", { "after 2026-10-04 06:00" }, h.extend, h, { to = "2026-10-03", how = "hold" })
  refused_for("how", { "24 h" }, h.extend, h, { to = "2026-10-05", how = "repeat_day" })
  refused_for("how", { "did you mean \"repeat_day\"?" }, h.extend, h,
    { to = "2026-10-05", how = "repeatday" })
  refused_for("by", { "5 K" }, h.warmer, h, { by = "5 degC" })
  refused_for("by", { "degC" }, h.warmer, h, { by = "500 K" })
  refused_for("history", { "colon" }, h.span)
end

TestClock = {}

-- 2026-10-03 is 20729 days after 1970-01-01.
function TestClock.test_there_and_back()
  local seconds = rw.clock { at = "2026-10-03 15:30" }
  lu.assertEquals(seconds, 20729 * 86400 + 55800.0)
  lu.assertEquals(rw.clock_text { seconds = seconds }, "2026-10-03 15:30")
  refused_for("at", { "2026" }, rw.clock, { at = "half past three" })
  refused_for("at", {}, rw.clock, { at = "2026-02-30 10:00" })
end

os.exit(lu.LuaUnit.run())
