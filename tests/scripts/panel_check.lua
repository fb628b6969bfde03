-- SPDX-License-Identifier: GPL-3.0-or-later
-- A panel under a heel, of the demonstration boat and of plies on the command line.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"

-- luacheck: globals TestPanelCheck

local script, demo = "scripts/panel-check.lua", "scripts/demo"
local size = { "--length", "0.9 m", "--width", "0.6 m" }
local plies = "glass-203-plain, western-redcedar 6 mm, glass-136-plain @ 45 deg"

TestPanelCheck = {}

local function options(...)
  return table.unpack(table.move({ ... }, 1, select("#", ...), #size + 1, { table.unpack(size) }))
end

-- The same question is asked once.
local asked = {}
local function json(...)
  local key = table.concat({ ... }, "|")
  asked[key] = asked[key] or support.json(support.runs(script, "--json", options(...)))
  return asked[key]
end

local cases = { "heel_resting", "heel_clamped", "spread_resting", "spread_clamped" }

function TestPanelCheck.test_numbers_are_the_library_s()
  local found = json("--plies", plies, "--load", "50 kg")
  local skin = rw.laminate { plies = { { cloth = rw.cloth { name = "glass-203-plain" } },
    { wood = "western-redcedar", thickness = "6 mm" },
    { cloth = rw.cloth { name = "glass-136-plain" }, angle = "45 deg" } } }
  local load = rw.q(50 * 9.80665, "N")
  for _, key in ipairs(cases) do
    local patch = key:find "^heel" and { load = -1 * load, diameter = "60 mm" }
      or { load = -1 * load, size = "300 mm" }
    local p = skin:panel { length = "0.9 m", width = "0.6 m", patch = patch,
      edges = key:match "_(.*)" }
    local got = found[key]
    lu.assertAlmostEquals(got.deflection.value, -p.deflection:to(got.deflection.unit), 1e-9)
    lu.assertTrue(got.deflection.value > got.held.value and got.held.value > 0)
    lu.assertAlmostEquals(got.held.value, -p.held:to(got.held.unit), 1e-9)
    lu.assertAlmostEquals(got.factor.value, p.failure.factor, 1e-9)
    local s = p:spread {}
    lu.assertAlmostEquals(got.deflection.low, -s.deflection.high:to(got.deflection.unit), 1e-9)
    lu.assertAlmostEquals(got.deflection.high, -s.deflection.low:to(got.deflection.unit), 1e-9)
    lu.assertEquals(got.deflection.because, s.deflection.because)
    for row, range in pairs { outer_strain = s.outer_strain, inner_strain = s.inner_strain,
      factor = s.factor } do
      lu.assertEquals({ got[row].value, got[row].low, got[row].high, got[row].because },
        { range.value, range.low, range.high, range.because })
    end
    lu.assertStrContains(got.why.value, s.factor.because)
    lu.assertStrContains(got.first.value, p.failure.face .. " face of ply " .. p.failure.ply)
    lu.assertStrContains(got.first.value, p.failure.mode)
    lu.assertEquals(#got.notes, #p.warnings)
    lu.assertAlmostEquals(got.moment_along.value, p.stretched.moment.x:si(), 1e-9)
  end
  lu.assertAlmostEquals(found.skin.areal_mass.value,
    skin.areal_mass:to(found.skin.areal_mass.unit), 1e-9)
end

-- A spread load bends less than a heel, held edges less than resting ones, and more load more.
function TestPanelCheck.test_orders_are_physical()
  local f = json("--plies", plies)
  for _, pair in ipairs { { "heel_clamped", "heel_resting" }, { "spread_clamped",
    "spread_resting" }, { "spread_resting", "heel_resting" }, { "spread_clamped",
    "heel_clamped" } } do
    lu.assertTrue(f[pair[1]].deflection.value < f[pair[2]].deflection.value, pair[1])
    -- Held edges may give way before the middle does.
    lu.assertTrue(pair[2] == "spread_resting"
      or f[pair[1]].factor.value > f[pair[2]].factor.value, pair[1])
  end
  -- From inside the outside is stretched in the middle, from outside the inside.
  lu.assertTrue(f.heel_resting.outer_strain.value > 0 and f.heel_resting.inner_strain.value < 0)
  local rock = json("--plies", plies, "--from", "outside").heel_resting
  lu.assertTrue(rock.outer_strain.value < 0 and rock.inner_strain.value > 0)
  lu.assertAlmostEquals(rock.deflection.value, f.heel_resting.deflection.value, 1e-9)
  local double = json("--plies", plies, "--load", "160 kg")
  lu.assertAlmostEquals(double.heel_resting.deflection.value / f.heel_resting.deflection.value, 2,
    1e-6)
  local force = json("--plies", plies, "--load", "784.532 N")
  lu.assertAlmostEquals(force.heel_resting.factor.value, f.heel_resting.factor.value, 1e-9)
end

-- Every interval holds its value and stays on its side of zero.
function TestPanelCheck.test_intervals()
  local f = json("--plies", plies)
  for _, key in ipairs(cases) do
    for _, row in ipairs { "deflection", "held", "outer_strain", "inner_strain", "factor" } do
      local r = f[key][row]
      lu.assertTrue(r.low < r.value and r.value < r.high and r.low * r.high > 0, key .. row)
    end
  end
  local text = support.runs(script, options("--plies", plies))
  lu.assertStrContains(text, "In brackets: where nine in ten")
  local said = text:match "greatest strain outside +([^\n]*)"
  lu.assertStrMatches(said, "%d%.%d%d %% %(%d%.%d%d to %d%.%d%d%)")
  lu.assertStrMatches(text:match "first damage at the load times +([^\n]*)",
    "%S+ %(%S+ to %S+%)")
  lu.assertStrMatches(text:match "deflection outwards +([^\n]*)", "%S+ mm %(%S+ to %S+%)")
end

-- Wood and cloth that are about as near to giving way change places from trial to trial.
function TestPanelCheck.test_something_else_gives_way()
  local found = support.json(support.runs(script, "--json", "--plies",
    "glass-203-plain, okoume 4 mm, glass-203-plain", "--length", "0.3 m", "--width", "0.3 m",
    "--load", "20 kg"))
  local other = found.spread_resting.other
  lu.assertStrContains(other.label, "of 100 trials something else")
  lu.assertStrContains(other.value, "most often glass-203-plain, outer face of ply 1")
  lu.assertNil(found.heel_resting.other)
end

function TestPanelCheck.test_boat_folder()
  local text = support.runs(script, demo, options())
  for _, words in ipairs { "Sandpiper", "invented", "glass-203-plain", "western-redcedar",
    "edges resting", "edges clamped", "what gives way first",
    "Comparison and shop planning only, not an approval; scantling rules, survey and licensed "
      .. "practice decide; wood scatter is real", "membrane" } do
    lu.assertStrContains(text, words)
  end
  lu.assertStrContains(support.runs(script, demo, options("--units", "us")), " in\n")
end

-- The skin's table tells how each layer lies; plywood is listed by its veneers, and what gives
-- way is one of them.
function TestPanelCheck.test_how_the_layers_lie()
  local function labels(words)
    local skin, list = json("--plies", words).skin, {}
    while skin["ply_" .. #list + 1] do
      list[#list + 1] = skin["ply_" .. #list + 1].label
    end
    return list
  end
  lu.assertEquals(labels(plies), { "glass-203-plain", "western-redcedar, grain along",
    "glass-136-plain at 45 deg" })
  lu.assertEquals(labels "okoume 6 mm in 3 veneers", { "okoume, veneer 1, grain along",
    "okoume, veneer 2, grain across", "okoume, veneer 3, grain along" })
  local skin = rw.laminate { plies = { { wood = "okoume", thickness = "6 mm", veneers = 3 } } }
  local p = skin:panel { length = "0.9 m", width = "0.6 m",
    patch = { load = rw.q(-80 * 9.80665, "N"), diameter = "60 mm" } }
  local sheet = json("--plies", "okoume 6 mm in 3 veneers")
  lu.assertStrContains(sheet.heel_resting.first.value, ("%s face of veneer %d of ply 1: "):format(
    p.failure.face, p.failure.veneer))
  lu.assertAlmostEquals(sheet.heel_resting.factor.value, p.failure.factor, 1e-9)
end

-- Inches are no veneers.
function TestPanelCheck.test_plywood_in_inches()
  local found = json("--plies", "okoume 1/4 in in 5 veneers @ 90 deg")
  lu.assertEquals(found.skin.ply_1.label, "okoume, veneer 1, grain across")
  lu.assertAlmostEquals(found.skin.thickness.value
    * rw.q(1, found.skin.thickness.unit):to "mm", 6.35, 1e-9)
  lu.assertNil(found.skin.ply_6)
end

-- A spread that nobody typed fits the panel and says so.
function TestPanelCheck.test_spread_fits_a_small_panel()
  local function told(...)
    return support.json(support.runs(script, "--json", "--plies", "okoume 6 mm", "--load", "20 kg",
      ...))
  end
  local small = told("--length", "0.9 m", "--width", "0.24 m")
  local typed = told("--length", "0.9 m", "--width", "0.24 m", "--spread", "160 mm")
  for _, key in ipairs { "spread_resting", "spread_clamped" } do
    lu.assertStrContains(small[key].title, "160 mm square")
    lu.assertStrContains(small[key].notes[1], "two thirds")
    lu.assertAlmostEquals(small[key].deflection.value, typed[key].deflection.value, 1e-9)
    lu.assertNotStrContains(table.concat(typed[key].notes), "two thirds")
  end
  lu.assertNotStrContains(table.concat(small.heel_resting.notes), "two thirds")
  local just = told("--length", "0.9 m", "--width", "0.3 m")
  lu.assertStrContains(just.spread_resting.title, "300 mm square")
  lu.assertNotStrContains(table.concat(just.spread_resting.notes), "two thirds")
end

function TestPanelCheck.test_beyond_half_a_thickness()
  local found = json("--plies", "okoume 3 mm")
  lu.assertStrContains(table.concat(found.heel_resting.notes), "damaged later than told")
  lu.assertEquals(json("--plies", "okoume 25 mm").heel_clamped.notes, {})
end

function TestPanelCheck.test_csv_and_json_agree()
  local found = json("--plies", plies)
  local rows = support.csv(support.runs(script, "--csv", options("--plies", plies)))
  lu.assertTrue(#rows > 30)
  support.check_rows(rows, found)
end

function TestPanelCheck.test_page()
  local folder = support.new_folder()
  local path = folder .. "/panel.html"
  support.runs(script, demo, options("--page", path))
  local page = support.read(path)
  lu.assertEquals(#support.files(folder), 1)
  support.remove_folder(folder)
  for _, words in ipairs { "Sandpiper", "Caution", "not an approval", "<svg", "heel, clamped",
    "nine in ten such panels", "greatest strain inside",
    "invented" } do
    lu.assertStrContains(page, words)
  end
  lu.assertNotStrContains(page, "http")
end

function TestPanelCheck.test_help()
  local help = support.runs(script, "--help")
  for _, words in ipairs { "--plies", "--heel", "[FOLDER]", "not an approval", "in 3 veneers",
    "300 mm unless said" } do
    lu.assertStrContains(help, words)
  end
end

function TestPanelCheck.test_refusals()
  local function no(words, ...)
    support.refused(words, script, options(...))
  end
  no({ "folder or --plies" })
  no({ "folder or --plies" }, demo, "--plies", plies)
  no({ "--plies", "okoume", "thickness" }, "--plies", "okoume")
  no({ "okoum", "okoume" }, "--plies", "okoum 6 mm")
  no({ "glas-203-plain", "glass-203-plain" }, "--plies", "glas-203-plain")
  no({ "ply 2", "unit" }, "--plies", "glass-203-plain, okoume 6")
  no({ "empty" }, "--plies", ",")
  no({ "--load", "unit" }, "--plies", plies, "--load", "80")
  no({ "--load", "a mass or a force" }, "--plies", plies, "--load", "3 m")
  no({ "--load is -80 kg", "--from" }, "--plies", plies, "--load", "-80 kg")
  no({ "--load is 0 N", "above zero" }, "--plies", plies, "--load=0 N")
  no({ "--plies", "600 mm", "60 mm", "unit" }, "--plies", "okoume 600 mm")
  no({ "--plies", "61 mm", "60 mm" }, "--plies", "okoume 30 mm, glass-203-plain, okoume 31 mm")
  no({ "--plies: ply 2, veneers", "odd" }, "--plies", "glass-203-plain, okoume 6 mm in 4 veneers")
  no({ "--plies", "in 3 veneers" }, "--plies", "okoume 6 mm in three veneers")
  no({ "--spread", "700 mm", "600 mm" }, "--plies", plies, "--spread", "700 mm")
  no({ "--heel", "mass", "length" }, "--plies", plies, "--heel", "1 kg")
  no({ "--heel", "2 m", "600 mm" }, "--plies", plies, "--heel", "2 m")
  no({ "--spread" }, "--plies", plies, "--spread", "0 m")
  no({ "--length", "mass" }, "--plies", plies, "--length", "1 kg")
  no({ "--width" }, "--plies", plies, "--width", "1 mm")
  no({ "no-such-folder" }, "no-such-folder")
  support.refused({ "okoum", "Did you mean \"okoume\"" }, script, "--plies", "okoum",
    "--length", "1 m", "--width", "0.6 m")
  support.refused({ "--length is missing" }, script, "--plies", plies)
  support.refused({ "--width is missing" }, script, "--plies", plies, "--length", "1 m")
end

os.exit(lu.LuaUnit.run())
