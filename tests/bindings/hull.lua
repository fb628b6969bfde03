-- SPDX-License-Identifier: GPL-3.0-or-later
-- Hulls from girths, offsets and files: area, bands, girths.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local refused, refused_for = support.refused, support.refused_for

-- luacheck: globals TestHull TestOffsets TestHullFile

-- An invented canoe: nine evenly spaced stations over 5.20 m.
local girths = { unit = "mm", 520, 905, 1130, 1260, 1300, 1255, 1120, 890, 500 }

local function canoe() return rw.hull { girth = girths, length = "5.20 m" } end

TestHull = {}

-- Simpson: 0.65/3 (520 + 4 (905 + 1260 + 1255 + 890) + 2 (1130 + 1300 + 1120) + 500) mm.
function TestHull.test_area_by_hand()
  local area = canoe():area {}
  lu.assertAlmostEquals(area.value:to "m2", 0.65 / 3 * 25.360, 1e-12)
  lu.assertAlmostEquals(area.value:to "m2", 5.49, 0.005)
  lu.assertTrue(area.low < area.value and area.value < area.high)
  lu.assertEquals(area.value - area.low, area.high - area.value)
  lu.assertStrContains(area.because, "girths")
end

-- The same stations said in three ways, in three units.
function TestHull.test_three_ways_to_say_where()
  local area = canoe():area {}.value:si()
  local positions = { unit = "mm" }
  for i = 0, 8 do
    positions[i + 1] = 650 * i
  end
  local spaced = rw.hull { girth = girths, spacing = "65 cm" }
  local placed = rw.hull { girth = girths, x = positions }
  lu.assertAlmostEquals(spaced:area {}.value:si(), area, 1e-12)
  lu.assertAlmostEquals(placed:area {}.value:si(), area, 1e-12)
  lu.assertEquals(placed:stations().x[9], 5.2)
  lu.assertAlmostEquals(spaced:length():to "mm", 5200, 1e-9)
end

function TestHull.test_parts_make_the_whole()
  local hull = canoe()
  local whole = hull:area {}.value:si()
  local fore = hull:area { to = "2 m" }.value:si()
  local aft = hull:area { from = "2 m" }.value:si()
  lu.assertAlmostEquals(fore + aft, whole, 1e-12)
  local bands, sum = hull:bands { count = 7 }, 0
  lu.assertEquals(#bands, 7)
  for i, band in ipairs(bands) do
    lu.assertAlmostEquals(band.area.value:si(), whole / 7, 1e-9)
    lu.assertEquals(band.from:si(), i == 1 and 0 or bands[i - 1].to:si())
    sum = sum + band.area.value:si()
  end
  lu.assertEquals(bands[7].to:si(), 5.2)
  lu.assertAlmostEquals(sum, whole, 1e-9)
end

function TestHull.test_girths()
  local hull = canoe()
  lu.assertAlmostEquals(hull:girth { at = "2.60 m" }:to "mm", 1300, 1e-9)
  lu.assertAlmostEquals(hull:girth { at = "0 m" }:to "mm", 520, 1e-9)
  local widest = hull:widest()
  lu.assertTrue(widest.girth >= rw.q "1300 mm" and widest.girth < rw.q "1301 mm")
  lu.assertAlmostEquals(widest.at:to "m", 2.6, 0.05)
  local stations = hull:stations()
  lu.assertEquals(#stations.x, 9)
  lu.assertAlmostEquals(stations.girth[4], 1.26, 1e-12)
  lu.assertEquals(rw.kind(hull), "hull")
  lu.assertEquals(tostring(hull), "hull of 5.2 m with 9 stations")
end

function TestHull.test_wider_than()
  local hull = canoe()
  local middle = hull:wider_than { girth = "1.20 m" }
  lu.assertAlmostEquals(hull:girth { at = middle.from }:to "m", 1.2, 1e-9)
  lu.assertAlmostEquals(hull:girth { at = middle.to }:to "m", 1.2, 1e-9)
  lu.assertAlmostEquals(middle.length:si(), (middle.to - middle.from):si(), 1e-12)
  local none = hull:wider_than { girth = "2 m" }
  lu.assertEquals(none.length:si(), 0)
  lu.assertNil(none.from)
  lu.assertNil(none.to)
  lu.assertEquals(hull:wider_than { girth = "100 mm" }.length:si(), 5.2)
end

function TestHull.test_a_jump_is_warned_of()
  local odd = rw.hull { girth = { unit = "mm", 0, 1000, 200, 1000, 0 }, length = "4 m" }
  lu.assertEquals(#odd.warnings, 1)
  lu.assertEquals(canoe().warnings, {})
end

function TestHull.test_refusals()
  refused_for("girth[1]", { "520", "no unit" }, rw.hull, { girth = { 520, 905, 1130 },
    length = "1 m" })
  refused_for("girth[2]", { "mass" }, rw.hull, { girth = { "520 mm", "905 g", "1130 mm" },
    length = "1 m" })
  refused_for("girth.unit", { "area" }, rw.hull, { girth = { unit = "m2", 1, 2, 3 },
    length = "1 m" })
  refused_for("girth", { "three stations" }, rw.hull, { girth = { unit = "mm", 520, 905 },
    length = "1 m" })
  refused_for("girth", { "-0.905 m" }, rw.hull, { girth = { unit = "mm", 520, -905, 500 },
    length = "1 m" })
  refused_for("girth", { "520 m" }, rw.hull, { girth = { unit = "m", 520, 905, 500 },
    length = "1 m" })
  refused_for("girth", { "missing" }, rw.hull, { length = "1 m" })
  refused_for("lenght", { "did you mean length?" }, rw.hull, { girth = girths, lenght = "1 m" })
  refused_for("length", { "no unit", "5200 mm" }, rw.hull, { girth = girths, length = 5200 })
end

function TestHull.test_where_the_stations_stand_is_said_once()
  refused_for("length", { "missing", "spacing" }, rw.hull, { girth = girths })
  refused_for("spacing", { "twice" }, rw.hull,
    { girth = girths, length = "5.2 m", spacing = "65 cm" })
  refused_for("x", { "twice" }, rw.hull,
    { girth = girths, length = "5.2 m", x = { unit = "m", 0, 1, 2 } })
  refused_for("x", { "2 positions", "9 girths" }, rw.hull,
    { girth = girths, x = { unit = "m", 0, 1 } })
  refused_for("x", { "station 3" }, rw.hull,
    { girth = { unit = "mm", 520, 905, 500 }, x = { unit = "m", 0, 2, 1 } })
  refused_for("length", { "above zero" }, rw.hull, { girth = girths, length = "0 m" })
  refused_for("spacing", { "above zero" }, rw.hull, { girth = girths, spacing = "-65 cm" })
end

function TestHull.test_beyond_the_ends()
  local hull = canoe()
  refused_for("at", { "6 m", "5.2 m" }, hull.girth, hull, { at = "6 m" })
  refused_for("from", { "-1 m" }, hull.area, hull, { from = "-1 m" })
  refused_for("to", { "2 m" }, hull.area, hull, { from = "3 m", to = "2 m" })
  refused_for("count", { "found 0" }, hull.bands, hull, { count = 0 })
  refused_for("count", { "found 201" }, hull.bands, hull, { count = 201 })
  refused_for("hull", { "did you mean area?" }, function() return hull.aria end)
end

function TestHull.test_closed()
  local kept
  do
    local hull <close> = canoe()
    kept = hull
  end
  refused_for("hull", { "closed" }, kept.area, kept)
end

TestOffsets = {}

-- Half of a cylinder of radius 0.5 m, 4 m long: 2 pi square metres.
local function cylinder(more)
  local points = {}
  for station = 0, 4 do
    for k = 0, 12 do
      local angle = math.pi / 2 * k / 12
      points[#points + 1] = {
        x = rw.q(station, "m"), half = rw.q(500 * math.sin(angle), "mm"),
        height = rw.q(-500 * math.cos(angle), "mm"),
      }
    end
  end
  if more then
    more(points)
  end
  return { points = points }
end

function TestOffsets.test_half_cylinder()
  local hull = rw.hull_offsets(cylinder())
  lu.assertAlmostEquals(hull:area {}.value:to "m2", 2 * math.pi, 1e-3)
  lu.assertAlmostEquals(hull:girth { at = "1.5 m" }:to "m", math.pi / 2, 1e-3)
end

-- A box 1 m wide and 0.4 m deep with a chine: flat panels, so exact.
function TestOffsets.test_chine()
  local points = {}
  for station = 0, 3 do
    for k, at in ipairs { { 0, 0 }, { 500, 0 }, { 500, 400 } } do
      points[#points + 1] = {
        x = rw.q(station, "m"), half = rw.q(at[1], "mm"), height = rw.q(at[2], "mm"),
        knuckle = k == 2,
      }
    end
  end
  local hull = rw.hull_offsets { points = points }
  lu.assertAlmostEquals(hull:area {}.value:to "m2", 3 * 1.8, 1e-9)
end

function TestOffsets.test_refusals()
  refused_for("points.half", { "-0.1 m" }, rw.hull_offsets,
    cylinder(function(points) points[3].half = "-100 mm" end))
  refused_for("points[3].half", { "no unit" }, rw.hull_offsets,
    cylinder(function(points) points[3].half = 100 end))
  refused_for("points[3].knuckle", { "true or false" }, rw.hull_offsets,
    cylinder(function(points) points[3].knuckle = 1 end))
  refused_for("points.knuckle", { "knuckles" }, rw.hull_offsets,
    cylinder(function(points) points[3].knuckle = true end))
  refused_for("points.x", { "point 14" }, rw.hull_offsets,
    cylinder(function(points) points[14].x = "-1 m" end))
  refused_for("points", { "three stations" }, rw.hull_offsets,
    { points = { { x = "0 m", half = "0 m", height = "0 m" } } })
end

TestHullFile = {}

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

function TestHullFile.test_girths()
  local text = { "# invented\nx [m];girth [mm]\n" }
  for i = 0, 8 do
    text[#text + 1] = ("%d,%02d;%d\n"):format(65 * i // 100, 65 * i % 100, girths[i + 1])
  end
  with_file(table.concat(text), function(path)
    lu.assertAlmostEquals(rw.hull_file { path = path }:area {}.value:si(),
      canoe():area {}.value:si(), 1e-12)
  end)
end

function TestHullFile.test_refusals()
  with_file("x [m],girth [mm]\n0,520\n1,-905\n2,500\n", function(path)
    local err = refused(rw.hull_file, { path = path })
    lu.assertEquals(err.line, 3)
    lu.assertStrContains(err.message, "line 3")
  end)
  with_file("x [m],girth\n0,520\n1,905\n2,500\n", function(path)
    refused_for("girth", { "unit" }, rw.hull_file, { path = path })
  end)
  lu.assertEquals(refused(rw.hull_file, { path = "no/such/file" }).code, "RW_ERR_FILE")
end

os.exit(lu.LuaUnit.run())
