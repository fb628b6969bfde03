-- SPDX-License-Identifier: GPL-3.0-or-later
-- Dew point, margin over it, moisture of wood.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused_for = support.refused_for

-- luacheck: globals TestDew TestWood

-- By hand, Magnus form as in the manual: ln(humidity) + 17.62 t/(243.12 + t), inverted.
local function dew(t, humidity)
  local v = math.log(humidity) + 17.62 * t / (243.12 + t)
  return 243.12 * v / (17.62 - v)
end

TestDew = {}

function TestDew.test_dew_point()
  local point = rw.dew_point { air = "33 degC", humidity = "70 %" }
  lu.assertAlmostEquals(point:to "degC", dew(33, 0.7), 1e-9)
  lu.assertAlmostEquals(point:to "degC", 26.8, 0.05)
  lu.assertAlmostEquals(rw.dew_point { air = "68 degF", humidity = 1 }:to "degC", 20, 1e-9)
end

-- Exact air and humidity leave the surface's own spread: 1.645 times 1 K to either side.
function TestDew.test_margin()
  local margin = rw.dew_margin {
    air = "20 degC", humidity = 0.6, surface = "15 degC", air_sd = "0 K", humidity_sd = 0,
    surface_sd = "1 K",
  }
  lu.assertAlmostEquals(margin.value:to "K", 15 - dew(20, 0.6), 1e-9)
  lu.assertAlmostEquals((margin.high - margin.value):to "K", 1.645, 1e-9)
  lu.assertAlmostEquals((margin.value - margin.low):to "K", 1.645, 1e-9)
  lu.assertEquals(margin.warnings, {})
end

function TestDew.test_instruments_are_not_exact_unless_said()
  local usual = rw.dew_margin { air = "20 degC", humidity = 0.6, surface = "15 degC" }
  local said = rw.dew_margin {
    air = "20 degC", humidity = 0.6, surface = "15 degC", air_sd = "0.5 K", humidity_sd = "5 %",
    surface_sd = "1 K",
  }
  lu.assertEquals(usual.sd:si(), said.sd:si())
  lu.assertTrue(usual.sd:to "K" > 1)
  lu.assertNotNil(usual.because)
end

function TestDew.test_outside_what_was_tested()
  local cold = rw.dew_margin { air = "2 degC", humidity = 0.5, surface = "2 degC" }
  lu.assertEquals(#cold.warnings, 1)
  lu.assertStrContains(cold.warnings[1], "outside")
end

function TestDew.test_refusals()
  local good = { air = "20 degC", humidity = 0.6, surface = "15 degC" }
  local function with(name, value)
    local fields = {}
    for k, v in pairs(good) do
      fields[k] = v
    end
    fields[name] = value
    return fields
  end
  refused_for("air", { "no unit", "20 degC" }, rw.dew_margin, with("air", 20))
  refused_for("air", { "133 degC", "-45" }, rw.dew_margin, with("air", "133 degC"))
  refused_for("air", { "133 degC" }, rw.dew_point, { air = "133 degC", humidity = 0.5 })
  refused_for("humidity", { "60 %" }, rw.dew_margin, with("humidity", 60))
  refused_for("humidity", { "found 0" }, rw.dew_margin, with("humidity", 0))
  refused_for("surface", { "missing" }, rw.dew_margin, { air = "20 degC", humidity = 0.6 })
  refused_for("air_sd", { "difference" }, rw.dew_margin, with("air_sd", "1 degC"))
  refused_for("air_sd", { "0 K or more" }, rw.dew_margin, with("air_sd", "-1 K"))
  refused_for("surfase", { "did you mean surface?" }, rw.dew_margin, with("surfase", "15 degC"))
end

TestWood = {}

-- About 12 % at 20 degC and 65 %: a habit of the trade, so it is held wide.
function TestWood.test_moisture()
  local moisture = rw.wood_moisture { temperature = "20 degC", humidity = 0.65 }
  lu.assertEquals(math.type(moisture), "float")
  lu.assertTrue(moisture > 0.11 and moisture < 0.13, moisture)
  lu.assertEquals(rw.wood_moisture { temperature = "20 degC", humidity = 0 }, 0.0)
end

function TestWood.test_there_and_back()
  for _, humidity in ipairs { 0.1, 0.5, 0.9 } do
    local moisture = rw.wood_moisture { temperature = "68 degF", humidity = humidity }
    lu.assertAlmostEquals(rw.wood_humidity { temperature = "20 degC", moisture = moisture },
      humidity, 1e-9)
  end
end

function TestWood.test_refusals()
  refused_for("moisture", { "found 0.9" }, rw.wood_humidity,
    { temperature = "20 degC", moisture = 0.9 })
  refused_for("moisture", { "12 %" }, rw.wood_humidity,
    { temperature = "20 degC", moisture = 12 })
  refused_for("temperature", { "degC" }, rw.wood_moisture,
    { temperature = "200 degC", humidity = 0.5 })
end

os.exit(lu.LuaUnit.run())
