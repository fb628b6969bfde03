-- SPDX-License-Identifier: GPL-3.0-or-later
-- Uptake from test panels, and into amounts; all panels are invented.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused_for = support.refused_for

-- luacheck: globals TestPanels TestAmounts TestRefuses

local function panels()
  local list = {}
  for i, grams in ipairs { { 1204, 1227, 1247, 1243 }, { 1198, 1220, 1239, 1236 },
    { 1211, 1236, 1258, 1253 }, { 1207, 1231, 1250, 1247 } } do
    list[i] = { area = "500 cm2", bare = rw.q(grams[1], "g"), wet_out = rw.q(grams[2], "g"),
      filled = rw.q(grams[3], "g"), sanded = rw.q(grams[4], "g") }
  end
  return list
end

local function close(found, wanted, share)
  lu.assertAlmostEquals(found, wanted, math.abs(wanted) * (share or 1e-12))
end

TestPanels = {}

-- Whole grams on 0.05 m2, 20 g/m2 each, counted by hand: means and squares of the deviations.
function TestPanels.test_by_hand()
  local p = rw.panels { panels = panels(), cloth = "200 g/m2" }
  for name, hand in pairs { wet_out = { 13.5, 5 }, filling = { 20, 6 }, sanding = { 3.75, 2.75 },
    left = { 29.75, 8.75 } } do
    local t, sd = p[name], 20 * math.sqrt(hand[2] / 3)
    close(t.mean:to "g/m2", 20 * hand[1], 1e-9)
    close(t.sd:to "g/m2", sd, 1e-9)
    lu.assertEquals(t.panels, 4)
    -- the printed table of Student's t, 3 degrees of freedom
    support.point("fit_iso", "t-975-3", (t.high - t.mean):to "g/m2" / (sd / 2))
    support.point("fit_iso", "t-975-3", (t.mean - t.low):to "g/m2" / (sd / 2))
    -- a further panel: 1.960 of its sd are 3.182 of the panels' with one more in the mean
    lu.assertAlmostEquals(1.960 * t.next.sd:to "g/m2", 3.182 * sd * math.sqrt(1.25), 0.001 * sd)
    lu.assertEquals(t.next.value, t.mean)
  end
  lu.assertEquals(p.warnings, {})
  lu.assertEquals(p.level, 0.95)
  lu.assertNil(p.why)
  lu.assertEquals(tostring(p.uptake.wet_out), tostring(p.wet_out.next))
  lu.assertEquals(tostring(p.uptake.filling), tostring(p.filling.next))
end

function TestPanels.test_weighed_with_the_cloth()
  local list = panels()
  for _, panel in ipairs(list) do
    panel.bare = panel.bare + rw.q "10 g"
  end
  local a = rw.panels { panels = panels(), cloth = "200 g/m2" }
  local b = rw.panels { panels = list }
  close(b.wet_out.mean:to "g/m2", a.wet_out.mean:to "g/m2", 1e-9)
end

function TestPanels.test_weighed_in_part()
  local list = panels()
  for i, panel in ipairs(list) do
    panel.sanded = nil
    panel.filled = i <= 2 and panel.filled or nil
  end
  local p = rw.panels { panels = list, cloth = "200 g/m2" }
  lu.assertEquals(p.filling.panels, 2)
  lu.assertNil(p.sanding)
  lu.assertNil(p.left)
  lu.assertNotNil(p.uptake)
  list[2].filled = nil
  p = rw.panels { panels = list, cloth = "200 g/m2" }
  lu.assertStrContains(p.warnings[1], "filling rests on one panel")
  lu.assertNil(p.uptake)
  lu.assertStrContains(p.why, "filling rests on one panel")
  lu.assertNil(p.filling.sd)
  lu.assertNil(p.filling.low)
  lu.assertNil(p.filling.next)
  list[1].filled = nil
  p = rw.panels { panels = list, cloth = "200 g/m2" }
  lu.assertNil(p.filling)
  lu.assertStrContains(p.why, "no panel")
end

function TestPanels.test_level()
  local wide = rw.panels({ panels = panels(), cloth = "200 g/m2", level = "99 %" }).wet_out
  support.point("fit_iso", "t-995-3", (wide.high - wide.mean):to "g/m2" / (wide.sd:to "g/m2" / 2))
end

TestAmounts = {}

local function amounts(more)
  local spec = { area = "10 m2", resin = rw.resin { class = "slow-polyetheramine" },
    waste = "20 %", uptake = rw.panels({ panels = panels(), cloth = "200 g/m2" }).uptake }
  for key, value in pairs(more or {}) do
    spec[key] = value or nil
  end
  return rw.amounts(spec)
end

function TestAmounts.test_as_measured()
  local p = rw.panels { panels = panels(), cloth = "200 g/m2" }
  local a = amounts()
  close(a.total.value:to "kg", 10 * (0.27 + 0.4) / 0.8, 1e-9)
  local sds = { p.wet_out.next.sd:to "kg/m2", p.filling.next.sd:to "kg/m2" }
  close(a.total.sd:to "kg", 10 * math.sqrt(sds[1] ^ 2 + sds[2] ^ 2) / 0.8, 1e-9)
  lu.assertEquals(a.total.because, "the fill coats from panel to panel")
  lu.assertEquals(a.soak.value, rw.q "0 kg")
  close(a.cloth.value:to "kg", 2.7, 1e-9)
  close(a.wetout_per_area:to "g/m2", 270 / 0.8, 1e-9)
  lu.assertTrue(a.enough > a.total.value)
end

-- Numbers of one's own, with a spread, do as well.
function TestAmounts.test_by_numbers()
  local a = amounts { uptake = { wet_out = { value = "270 g/m2", sd = "90 g/m2" },
    filling = "400 g/m2" } }
  close(a.total.sd:to "kg", 10 * 0.09 / 0.8, 1e-9)
  lu.assertEquals(a.total.because, "the wet-out from panel to panel")
end

function TestAmounts.test_refuses()
  local function no(argument, words, more) refused_for(argument, words, amounts, more) end
  no("soak", { "panels" }, { soak = "60 g/m2" })
  no("cover", { "panels" }, { cover = "0.1 mm" })
  no("layers", { "panels" }, { layers = { rw.cloth { name = "glass-203-plain" } } })
  no("soak", { "missing", "uptake" }, { uptake = false })
  no("cover", { "missing", "uptake" }, { uptake = false, soak = "60 g/m2" })
  no("uptake.filling", { "missing" }, { uptake = { wet_out = "270 g/m2" } })
  no("uptake.wet_out", { "mass per area" }, { uptake = { wet_out = "270 g",
    filling = "1 g/m2" } })
  no("uptake.wet_out", {}, { uptake = { wet_out = "-270 g/m2", filling = "1 g/m2" } })
  no("uptake.wetout", { "did you mean wet_out?" }, { uptake = { wetout = "270 g/m2" } })
  no("uptake", { "table" }, { uptake = "270 g/m2" })
end

TestRefuses = {}

function TestRefuses.test_panels()
  local function no(field, words, change)
    local list = panels()
    for key, value in pairs(change) do
      list[2][key] = value or nil
    end
    refused_for("panels[2]." .. field, words, rw.panels, { panels = list, cloth = "200 g/m2" })
  end
  no("area", { "found 500 m2", "unit" }, { area = "500 m2" })
  no("area", { "area" }, { area = "500 g" })
  no("area", { "missing" }, { area = false })
  no("bare", { "found 1198 t" }, { bare = "1198 t" })
  no("bare", { "no unit" }, { bare = 1198 })
  no("wet_out", { "missing" }, { wet_out = false })
  no("wet_out", { "kg/m2", "wrong area" }, { area = "2 cm2" })
  no("wet_out", { "panel 2", "dry cloth" }, { wet_out = "1205 g" })
  no("filled", { "lighter" }, { filled = "1219 g" })
  no("sanded", { "heavier" }, { sanded = "1240 g" })
  no("filled", { "not before" }, { filled = false })
  no("sandet", { "did you mean sanded?" }, { sandet = "1 g" })
end

function TestRefuses.test_the_rest()
  refused_for("panels", { "empty" }, rw.panels, { panels = {} })
  refused_for("cloth", { "found 200 kg/m2" }, rw.panels, { panels = panels(),
    cloth = "200 kg/m2" })
  refused_for("cloth", { "oz/yd2" }, rw.panels, { panels = panels(), cloth = "6 oz" })
  refused_for("level", {}, rw.panels, { panels = panels(), level = "40 %" })
  local many = {}
  for i = 1, 1001 do
    many[i] = panels()[1]
  end
  refused_for("panels", { "1001" }, rw.panels, { panels = many })
end

os.exit(lu.LuaUnit.run(), true)
