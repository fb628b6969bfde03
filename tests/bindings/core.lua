-- SPDX-License-Identifier: GPL-3.0-or-later
-- Quantities, ranges, errors, and what each kind of field understands.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"
local probe = require "rw_probe"
local refused, refused_for = support.refused, support.refused_for

-- luacheck: globals TestQuantity TestPoints TestRange TestKinds TestLists TestRecords TestErrors
-- luacheck: globals TestModule

TestQuantity = {}

function TestQuantity.test_made_from_text_and_from_number()
  lu.assertEquals(rw.q("203 g/m2"):si(), 0.203)
  lu.assertEquals(rw.q(203, "g/m2"):si(), 0.203)
  lu.assertEquals(rw.q(21, "degC"):si(), 294.15)
  lu.assertEquals(rw.q("4 h 30 min"):si(), 16200)
  local q = rw.q "520 mm"
  lu.assertTrue(rawequal(rw.q(q), q))
  lu.assertEquals(rw.kind(q), "quantity")
end

function TestQuantity.test_refuses_what_is_no_quantity()
  refused_for("value", { "has no unit", "rw.q(21," }, rw.q, 21)
  refused_for("value", { "found true" }, rw.q, true)
  refused_for("value", { "finite" }, rw.q, 0 / 0, "m")
  refused_for("value", { "finite" }, rw.q, "5", "m")
  refused_for("unit", { "found 5" }, rw.q, 5, 5)
  lu.assertEquals(refused(rw.q, "520").code, "RW_ERR_UNIT")
  lu.assertEquals(refused(rw.q, "6 oz").code, "RW_ERR_UNIT")
  lu.assertEquals(refused(rw.q, 6, "oz").code, "RW_ERR_UNIT")
  refused(rw.q)
  refused(rw.q, {})
end

function TestQuantity.test_arithmetic_keeps_dimensions()
  local w = rw.q "520 mm"
  lu.assertEquals((w + "1 m"):si(), 1.52)
  lu.assertEquals(("1 m" + w):si(), 1.52)
  lu.assertEquals(("1 m" - w):si(), 0.48)
  lu.assertEquals((w * 2):si(), 1.04)
  lu.assertEquals((2 * w):si(), 1.04)
  lu.assertEquals((w / 2):si(), 0.26)
  lu.assertEquals((-w):si(), -0.52)
  lu.assertEquals((w ^ 2):dimension(), (w * w):dimension())
  lu.assertEquals((w ^ -1 * w), 1.0)
  lu.assertEquals(w ^ 0, 1.0)
  lu.assertEquals(math.type(w / w), "float")
  lu.assertEquals((rw.q "203 g/m2" * "5.49 m2"):to "g", 0.203 * 5.49 * 1000)
end

function TestQuantity.test_names_both_dimensions()
  local w, m = rw.q "520 mm", rw.q "5 kg"
  for _, call in ipairs {
    function() return w + m end, function() return w - m end, function() return w < m end,
    function() return w <= m end, function() return w == m end, function() return w > m end,
    function() return w + "5 kg" end,
  } do
    local text = tostring(refused(call))
    lu.assertStrContains(text, "length")
    lu.assertStrContains(text, "mass")
  end
  local text = tostring(refused(function() return w:to "kg" end))
  lu.assertStrContains(text, "length")
  lu.assertStrContains(text, "mass")
  refused(function() return w + 1 end)
  refused(function() return w + {} end)
  refused(function() return w / 0 end)
  refused(function() return w ^ 0.5 end)
  refused(function() return w ^ 10 end)
  refused(function() return 2 ^ w end)
  refused(function() return (w ^ 9) * w end)
end

function TestQuantity.test_compares_within_a_dimension()
  local w = rw.q "520 mm"
  lu.assertTrue(w < rw.q "1 m")
  lu.assertTrue(w <= rw.q "520 mm")
  lu.assertTrue(w == rw.q "520 mm")
  lu.assertFalse(w == rw.q "521 mm")
  lu.assertTrue(rw.q "1 ft" > rw.q "30 cm")
  lu.assertTrue(w < "1 m")
end

function TestQuantity.test_prints_for_the_reader()
  local w = rw.q "203 g/m2"
  lu.assertEquals(rw.reader(), "metric")
  lu.assertEquals(tostring(w), "203 g/m2")
  lu.assertEquals("cloth of " .. w, "cloth of 203 g/m2")
  lu.assertEquals(w .. " cloth", "203 g/m2 cloth")
  lu.assertEquals(rw.q("1234.5678 mm"):text(3), "1.23 m")
  lu.assertEquals(w:unit(), "g/m2")
  rw.reader "us"
  lu.assertEquals(rw.reader(), "us")
  local us = tostring(w)
  rw.reader "metric"
  lu.assertEquals(us, "5.987 oz/yd2")
  refused_for("system", { "metric" }, rw.reader, "imperial")
  refused_for("system", {}, rw.reader, 5)
  refused_for("digits", {}, w.text, w, 0)
  refused_for("digits", {}, w.text, w, 2.5)
  refused_for("digits", {}, w.text, w, "many")
end

function TestQuantity.test_has_only_its_own_members()
  local w = rw.q "520 mm"
  refused_for("quantity", { "did you mean to?" }, function() return w.tu end)
  refused(function() return w[1] end)
  refused(function() return w[{}] end)
  refused(function() w.x = 1 end)
  refused(function() return w.si() end)
  refused(function() return w.si {} end)
  lu.assertEquals(type(getmetatable(w)), "string")
end

TestPoints = {}

function TestPoints.test_readings_move_by_differences()
  local warm, cold, step = rw.q "21 degC", rw.q "11 degC", rw.q "5 K"
  lu.assertEquals(tostring(warm - cold), "10 K")
  lu.assertEquals((warm + step):to "degC", 26)
  lu.assertEquals((step + warm):to "degC", 26)
  lu.assertEquals((warm - step):to "degC", 16)
  lu.assertTrue(cold < warm)
end

function TestPoints.test_readings_do_nothing_else()
  local warm, step = rw.q "21 degC", rw.q "5 K"
  for _, call in ipairs {
    function() return warm + warm end, function() return step - warm end,
    function() return warm * 2 end, function() return 2 * warm end,
    function() return warm / 2 end, function() return -warm end, function() return warm ^ 2 end,
    function() return warm < step end, function() return warm == step end,
  } do
    lu.assertStrContains(tostring(refused(call)), "temperature")
  end
end

TestRange = {}

local function range(value, low, high, kind, because)
  return probe.range { value = value, low = low, high = high, kind = kind, because = because }
end

function TestRange.test_prints_its_interval()
  lu.assertEquals(tostring(range(5.49, 5.4, 5.58, "area", "tape reading")),
    "5.49 m2 (5.40 to 5.58; most of the spread: tape reading)")
  lu.assertEquals(tostring(range(0.5, 0.25, 0.75, "number")), "0.50 (0.25 to 0.75)")
  lu.assertEquals(tostring(range(3, 3, 3, "area")), "3 m2 (3 to 3)")
  lu.assertEquals(tostring(range(16200, 14400, 19800, "time", "label")),
    "4 h 30 min (4 h to 5 h 30 min; most of the spread: label)")
  lu.assertEquals(tostring(range(294.15, 292.15, 296.15, "temperature")),
    "21.0 degC (19.0 to 23.0)")
  lu.assertEquals(tostring(range(1, -0.001, 1, "number")), "1.0 (0.0 to 1.0)")
end

function TestRange.test_open_ends()
  lu.assertEquals(tostring(probe.unbounded()), "1 m2 (0 to no upper limit)")
end

function TestRange.test_gives_its_parts()
  local r = range(5.49, 5.4, 5.58, "area", "tape reading")
  lu.assertEquals(rw.kind(r), "range")
  lu.assertEquals(r.value:si(), 5.49)
  lu.assertEquals(r.low:si(), 5.4)
  lu.assertEquals(r.high:si(), 5.58)
  lu.assertAlmostEquals(r.sd:si(), (5.58 - 5.4) / 3.29, 1e-15)
  lu.assertEquals(r.because, "tape reading")
  lu.assertEquals(r.level, 0.9)
  lu.assertEquals(r.warnings, {})
  lu.assertNil(r.seconds)
  lu.assertFalse(r.clock)
  lu.assertEquals(math.type(range(0.5, 0.25, 0.75, "number").value), "float")
  lu.assertNil(range(1, 0, 2, "number").because)
  refused_for("range", { "did you mean low?" }, function() return r.lo end)
  refused(function() r.value = 1 end)
end

function TestRange.test_other_sign()
  local r = -range(5.49, 5.4, 5.58, "area", "tape reading")
  lu.assertEquals({ r.value:si(), r.low:si(), r.high:si() }, { -5.49, -5.58, -5.4 })
  lu.assertEquals(r.because, "tape reading")
  lu.assertEquals(r.warnings, {})
  lu.assertEquals((-range(0.5, 0.25, 0.75, "number")).low, -0.75)
  local day = 20729 * 86400
  refused(function() return -range(day, day, day + 1, "clock") end)
  refused(function() return -range(294.15, 292.15, 296.15, "temperature") end)
end

function TestRange.test_clock_times()
  local day = 20729 * 86400 -- 2026-10-03: 20729 days after 1970-01-01
  local r = range(day + 55800, day + 53400, day + 86400 + 3600, "clock", "wood temperature")
  lu.assertEquals(r.value, "2026-10-03 15:30")
  lu.assertEquals(r.seconds, day + 55800)
  lu.assertEquals(r.low_seconds, day + 53400)
  lu.assertEquals(r.high_seconds, day + 90000)
  lu.assertTrue(r.clock)
  lu.assertEquals(tostring(r),
    "2026-10-03 15:30 (14:50 to 2026-10-04 01:00; most of the spread: wood temperature)")
end

function TestRange.test_clock_times_that_do_not_come()
  local r = probe.open_range { value = "2026-10-03 15:30", low = "2026-10-03 14:50" }
  lu.assertEquals(r.high, "not within the time looked at")
  lu.assertEquals(r.high_seconds, math.huge)
  lu.assertEquals(tostring(r), "2026-10-03 15:30 (14:50 or later than looked at)")
  lu.assertEquals(probe.open_range().low, "never")
  lu.assertStrContains(tostring(probe.open_range()), "not within the time looked at")
  lu.assertEquals(tostring(range(1, 0, 2, "area") .. ""), "1.0 m2 (0.0 to 2.0)")
end

function TestRange.test_carries_warnings()
  local r = probe.stack { ply = { { thickness = "1 mm" } }, core = { thickness = "6 mm" } }
  lu.assertEquals(#r.warnings, 1)
  lu.assertStrContains(r.warnings[1], "tested")
end

TestKinds = {}

local function echo(fields)
  fields.length = fields.length or "1 m"
  return probe.echo(fields)
end

function TestKinds.test_quantities_and_temperatures()
  lu.assertEquals(echo({ length = "520 mm" }).length, 0.52)
  lu.assertEquals(echo({ length = rw.q "520 mm" }).length, 0.52)
  lu.assertEquals(echo({ warmth = "19 degC" }).warmth, 292.15)
  lu.assertEquals(echo({ warmth = "292 K" }).warmth, 292)
  lu.assertEquals(echo({ rise = "5 K" }).rise, 5)
  lu.assertEquals(echo({ rise = rw.q "21 degC" - "11 degC" }).rise, 10)
  refused_for("rise", { "5 K", "difference" }, echo, { rise = "5 degC" })
  refused_for("rise", { "5 K" }, echo, { rise = rw.q "5 degC" })
  refused_for("length", { "length", "mass", "\"5 kg\"" }, echo, { length = "5 kg" })
  refused_for("length", { "length", "mass" }, echo, { length = rw.q "5 kg" })
end

function TestKinds.test_bare_numbers_are_told_how_to_be_written()
  refused_for("length", { "520", "\"520 mm\"" }, echo, { length = 520 })
  refused_for("length", { "\"5.2 mm\"", "\"5.2 m\"" }, echo, { length = 5.2 })
  refused_for("share", { "\"20 %\"" }, echo, { share = "20" })
  refused_for("share", { "0.4 without quotes", "\"0.4 %\"" }, echo, { share = "0.4" })
  refused_for("length", { "\"520 mm\"" }, echo, { length = "520" })
  refused_for("cloth", { "\"203 g/m2\"" }, echo, { cloth = 203 })
  refused_for("cloth", { "\"6 oz/yd2\"" }, echo, { cloth = 6 })
  refused_for("cloth", { "oz/yd2", "oz/ft2" }, echo, { cloth = "6 oz" })
  refused_for("warmth", { "\"21 degC\"" }, echo, { warmth = 21 })
  refused_for("rise", { "\"5 K\"" }, echo, { rise = 5 })
end

function TestKinds.test_shares_and_clock_times()
  lu.assertEquals(echo({ share = 0.7 }).share, 0.7)
  lu.assertEquals(echo({ share = 1 }).share, 1)
  lu.assertAlmostEquals(echo({ share = "70 %" }).share, 0.7, 1e-15)
  refused_for("share", { "\"70 %\"" }, echo, { share = 70 })
  lu.assertEquals(echo({ start = "1970-01-02 00:00" }).start, 86400)
  refused_for("start", { "2026-10-03 15:30" }, echo, { start = 86400 })
end

function TestKinds.test_defaults()
  local e = echo {}
  lu.assertEquals(e.warmth, 294.15)
  lu.assertEquals(e.count, 2.5)
  lu.assertEquals(e.plies, 3)
  lu.assertEquals(e.weave, 1)
  lu.assertTrue(e.wet)
  lu.assertEquals(e.title, "none")
  lu.assertNil(e.start)
  lu.assertEquals(e.crate, -1)
  lu.assertFalse(e.stopped)
end

function TestKinds.test_the_rest()
  local extra = {}
  local seen
  local e = echo { count = 3, plies = 4.0, title = "a\0b", wet = false, weave = "satin",
    extra = extra, crate = probe.crate { weight = "3 kg" },
    progress = function(done, total) seen = { done, total } return false end }
  lu.assertEquals(e.count, 3)
  lu.assertEquals(e.plies, 4)
  lu.assertEquals(e.wet, false)
  lu.assertEquals(e.weave, 2)
  lu.assertTrue(rawequal(e.extra, extra))
  lu.assertEquals(e.crate, 3)
  lu.assertEquals(seen, { 1, 2 })
  lu.assertTrue(e.stopped)
  local ok, err = pcall(echo, { progress = function() error("mine", 0) end })
  lu.assertFalse(ok)
  lu.assertEquals(err, "mine")
end

function TestKinds.test_uncertain_quantities()
  local e = echo { area = "5 m2" }
  lu.assertEquals({ e.value, e.sd }, { 5, 0 })
  e = echo { area = { value = "5 m2", sd = rw.q "0.5 m2" } }
  lu.assertEquals({ e.value, e.sd }, { 5, 0.5 })
  e = echo { area = { low = "4 m2", high = "6 m2" } }
  lu.assertEquals(e.value, 5)
  lu.assertAlmostEquals(e.sd, 2 / 3.29, 1e-15)
  e = echo { area = range(5, 4, 6, "area") }
  lu.assertEquals(e.value, 5)
  lu.assertAlmostEquals(e.sd, 2 / 3.29, 1e-15)
  lu.assertEquals(echo({ heat = { value = "20 degC", sd = "2 K" } }).heat, 293.15)
  refused_for("heat.sd", { "5 K" }, echo, { heat = { value = "20 degC", sd = "2 degC" } })
  refused_for("area.sd", { "negative" }, echo, { area = { value = "5 m2", sd = "-1 m2" } })
  refused_for("area.low", { "above high" }, echo, { area = { low = "5 m2", high = "4 m2" } })
  refused_for("area.value", { "m2" }, echo, { area = { value = 5, sd = 1 } })
  refused_for("area", { "range" }, echo, { area = range(5, 4, 6, "length") })
  refused_for("area", {}, echo, { area = { low = "1 m2", high = "2 m2", value = "1 m2" } })
  refused_for("area", { "finite" }, echo, { area = probe.unbounded() })
end

function TestKinds.test_a_range_is_not_one_number()
  refused_for("length", { ".value" }, echo, { length = range(5, 4, 6, "length") })
  lu.assertEquals(echo({ length = range(5, 4, 6, "length").value }).length, 5)
  lu.assertStrContains(tostring(refused(function()
    return rw.q "1 m" + range(5, 4, 6, "length")
  end)), ".value")
end

TestLists = {}

local function lists(fields)
  fields.girth = fields.girth or { "1 m" }
  return probe.echo_lists(fields)
end

function TestLists.test_each_kind()
  lu.assertEquals(lists({ girth = { "520 mm", rw.q "905 mm" } }).girth, { 0.52, 0.905 })
  lu.assertEquals(lists({ girth = { unit = "mm", 520, 905 } }).girth, { 0.52, 0.905 })
  lu.assertEquals(lists({ girth = { unit = "m", 1, "905 mm" } }).girth, { 1, 0.905 })
  lu.assertEquals(lists({ warmth = { unit = "degC", 19, 5 } }).warmth, { 292.15, 278.15 })
  lu.assertEquals(lists({ rise = { unit = "K", 5 } }).rise, { 5 })
  lu.assertEquals(lists({ share = { 0.5, "25 %" } }).share, { 0.5, 0.25 })
  lu.assertEquals(lists({ start = { "1970-01-01", "1970-01-02" } }).start, { 0, 86400 })
  lu.assertEquals(lists({ area = { unit = "m2", 5, { value = "6 m2", sd = "1 m2" } } }).sum, 11)
  lu.assertEquals(lists({ crates = { probe.crate { weight = "3 kg" },
    probe.crate { weight = "4 kg" } } }).weight, 7)
  lu.assertEquals(lists({ names = { "a", "b" } }).last, "b")
  lu.assertEquals(lists({ weaves = { "plain", "satin" } }).weave, 2)
  lu.assertEquals(lists({ names = {} }).last, "none")
end

function TestLists.test_elements_are_named()
  refused_for("girth[3]", { "520", "\"520 mm\"" }, lists, { girth = { "1 m", "1 m", 520 } })
  refused_for("girth[2]", { "missing" }, lists, { girth = { "1 m", nil, "1 m" } })
  refused_for("girth", { "empty" }, lists, { girth = {} })
  refused_for("girth", { "list" }, lists, { girth = "1 m" })
  refused_for("girth", { "\"units\"" }, lists, { girth = { units = "mm", 1 } })
  refused_for("girth", { "0" }, lists, { girth = { [0] = "1 m" } })
  refused_for("girth.unit", { "mass" }, lists, { girth = { unit = "kg", 1 } })
  refused_for("girth.unit", { "nonsense" }, lists, { girth = { unit = "nonsense", 1 } })
  refused_for("girth.unit", { "5" }, lists, { girth = { unit = 5, 1 } })
  refused_for("rise.unit", { "difference" }, lists, { rise = { unit = "degC", 5 } })
  refused_for("names", { "unit" }, lists, { names = { unit = "mm", "x" } })
  refused_for("area[2].sd", {}, lists, { area = { "1 m2", { value = "1 m2", sd = 3 } } })
  refused_for("crates[2]", { "crate" }, lists, { crates = { probe.crate { weight = "1 kg" }, 5 } })
  refused_for("girth[1]", { "finite" }, lists, { girth = { unit = "mm", 0 / 0 } })
end

TestRecords = {}

function TestRecords.test_inner_fields()
  local r = probe.stack { ply = { { thickness = "1 mm", layers = 3 }, { thickness = "2 mm" } } }
  lu.assertAlmostEquals(r.value:si(), 0.005, 1e-15)
  refused_for("ply[2].thickness", { "missing" }, probe.stack,
    { ply = { { thickness = "1 mm" }, {} } })
  refused_for("ply[2].thicknes", { "did you mean thickness?" }, probe.stack,
    { ply = { { thickness = "1 mm" }, { thicknes = "1 mm" } } })
  refused_for("core.layers", { "whole" }, probe.stack,
    { ply = { { thickness = "1 mm" } }, core = { thickness = "1 mm", layers = 1.5 } })
  refused_for("ply[1]", { "name" }, probe.stack, { ply = { { "1 mm" } } })
end

TestErrors = {}

function TestErrors.test_fields_of_a_binding_error()
  local err = refused(probe.echo, { length = 520 })
  lu.assertEquals(err.code, "RW_ERR_UNIT")
  lu.assertEquals(err.func, "rw.echo")
  lu.assertEquals(err.argument, "length")
  lu.assertEquals(err.value, 520)
  lu.assertStrContains(err.allowed, "length")
  lu.assertStrContains(err.hint, "520 mm")
  lu.assertEquals(rw.kind(err), "error")
  lu.assertStrContains("x: " .. err, "x: rw.echo")
end

function TestErrors.test_fields_of_a_library_error()
  local err = refused(probe.crate, { weight = "3 kg", fail = true })
  lu.assertEquals(err.code, "RW_ERR_RANGE")
  lu.assertEquals(err.func, "rw.crate")
  lu.assertEquals(err.argument, "weight")
  lu.assertEquals(err.value, 3)
  lu.assertEquals(err.allowed, "0 to 1")
  lu.assertStrContains(err.message, "3 kg")
  lu.assertEquals(err.hint, "take a smaller crate")
  err = refused(probe.refuse)
  lu.assertEquals(err.code, "RW_ERR_UNIT")
  lu.assertNotNil(err.column)
end

function TestErrors.test_says_where_in_the_script()
  local chunk = load("local rw = ...\n\nreturn (rw.echo{length = 5})", "=shop.lua")
  local err = refused(chunk, probe)
  lu.assertStrContains(tostring(err), "shop.lua:3: ")
end

function TestErrors.test_hostile_names_stay_one_line()
  local long = ("x"):rep(100000)
  refused(probe.echo, { [long] = 1 })
  refused(probe.echo, { ["a\nb\0c\27"] = 1 })
  refused(probe.echo, { length = long })
  refused(probe.echo, { length = "5 \n\0\27" })
  refused(probe.echo, { weave = long })
  refused(probe.echo, { start = long })
  refused(probe.echo, { length = ("\u{1F6F6}"):rep(60) })
  refused(rw.q, long)
  refused(rw.q, 5, long)
  refused(function() return rw.q("1 m")[long] end)
end

function TestErrors.test_is_the_same_each_time()
  local function message()
    return refused(probe.echo, { zeta = 1, alpha = 2, omega = 3, length = 5 }).argument
  end
  for _ = 1, 20 do
    lu.assertEquals(message(), "alpha")
  end
end

function TestErrors.test_arguments_may_be_hostile_tables()
  local trap = setmetatable({}, { __index = function() error "looked" end,
    __len = function() error "counted" end, __pairs = function() error "walked" end })
  refused_for("length", { "missing" }, probe.echo, trap)
  refused_for("girth", { "empty" }, probe.echo_lists, { girth = trap })
end

TestModule = {}

function TestModule.test_version_and_units()
  lu.assertStrMatches(rw.version, "%d+%.%d+%.%d+")
  local units = rw.units()
  lu.assertTrue(#units > 40)
  for _, unit in ipairs(units) do
    lu.assertTrue(#unit.name > 0 and #unit.meaning > 0)
  end
end

function TestModule.test_kind()
  lu.assertNil(rw.kind(nil))
  lu.assertNil(rw.kind())
  lu.assertNil(rw.kind(5))
  lu.assertNil(rw.kind {})
  lu.assertNil(rw.kind(io.stdout))
  lu.assertEquals(rw.kind(probe.crate { weight = "1 kg" }), "crate")
end

function TestModule.test_objects()
  local crate = probe.crate { weight = "2 kg" }
  lu.assertEquals(crate:weigh():si(), 2)
  lu.assertEquals(crate:weigh({ times = 3 }):si(), 6)
  lu.assertEquals(crate.weight:si(), 2)
  refused_for("crate", { "did you mean weigh" }, function() return crate.weihg end)
  do
    local closed <close> = probe.crate { weight = "1 kg" }
    lu.assertEquals(closed.weight:si(), 1)
  end
end

-- Every described thing says what it is.
function TestModule.test_description_is_complete()
  for _, f in ipairs(rw.describe().functions) do
    lu.assertTrue(f.doc ~= nil and #f.doc > 5, f.name)
    lu.assertTrue(f.returns ~= nil and #f.returns > 2, f.name)
    if not f.self then
      lu.assertEquals(type(rw[f.name]), "function", f.name)
    end
    for _, field in ipairs(f.fields) do
      lu.assertTrue(field.doc ~= nil and #field.doc > 2, f.name .. "." .. field.name)
    end
  end
  for _, name in ipairs { "q", "reader", "units", "describe", "kind", "read_datafile" } do
    lu.assertEquals(type(rw[name]), "function", name)
  end
end

os.exit(lu.LuaUnit.run(), true)
