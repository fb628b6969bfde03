-- SPDX-License-Identifier: GPL-3.0-or-later
-- A repair and a bottom patch, of the demonstration boat and of plies on the command line.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local support = require "support"
local rw = require "resinwright"

-- luacheck: globals TestRepair TestDoubling TestForms TestRefusals

local script, demo = "scripts/repair-patch.lua", "scripts/demo"
local plies = "glass-203-plain, western-redcedar 6 mm, glass-136-plain @ 45 deg"

local function arguments(first, ...)
  return table.unpack(table.move({ ... }, 1, select("#", ...), #first + 1,
    { table.unpack(first) }))
end

local glue = { "--plies", plies, "--strength", "12 MPa" }
local hole = { "--plies", plies, "--strength", "12 MPa", "--hole", "120 mm by 90 mm" }
local bottom = { "--plies", plies, "--strength", "12 MPa", "--doubling", "--size",
  "1.8 m by 160 mm" }

local function json(first, ...)
  return support.json(support.runs(script, "--json", arguments(first, ...)))
end

local glass = { cloth = rw.cloth { name = "glass-203-plain" } }
local inner = { cloth = rw.cloth { name = "glass-136-plain" }, angle = "45 deg" }

local function cedar(thickness)
  return { wood = "western-redcedar", thickness = thickness }
end

local function skin(...)
  return rw.laminate { plies = { ... } }
end

local sound, layer = skin(glass, cedar "6 mm", inner), skin(glass)

local measures = { "bend_along", "bend_across", "moment_along", "moment_across", "pull_along",
  "pull_across" }

TestRepair = {}

function TestRepair.test_layers_are_the_library_s()
  local found = json(hole, "--wood-left", "4.5 mm", "--share", "90 %")
  local asked = rw.patch { sound = sound, left = skin(cedar "4.5 mm", inner), layer = layer,
    share = 0.9 }
  lu.assertEquals(found.layers.for_stiffness.value, asked.for_stiffness)
  lu.assertEquals(found.layers.for_strength.value, asked.for_strength)
  lu.assertEquals(found.layers.taken.value, math.max(asked.for_stiffness, asked.for_strength))
  lu.assertEquals(#found.sizes, found.layers.taken.value)
  for _, m in ipairs(measures) do
    lu.assertAlmostEquals(found.damaged[m].value, asked.damaged[m], 1e-9)
    lu.assertAlmostEquals(found.mended[m].value, asked.mended[m], 1e-9)
    lu.assertTrue(found.mended[m].value >= 0.9 - 1e-9, m)
  end
  -- The lesser count alone leaves some of the others short, and says so.
  local stiff = json(hole, "--wood-left", "4.5 mm", "--share", "90 %", "--aim", "stiffness")
  lu.assertEquals(stiff.layers.taken.value, asked.for_stiffness)
  lu.assertTrue(asked.for_stiffness < asked.for_strength)
  lu.assertStrContains(stiff.short.weaker.value, "strength")
end

function TestRepair.test_inside_and_other_cloth()
  local found = json(hole, "--layers-gone", "1", "--face", "inside", "--cloth",
    "glass-203-plain @ 30 deg")
  local asked = rw.patch { sound = sound, left = skin(glass, cedar "6 mm"), face = "inner",
    layer = skin { cloth = glass.cloth, angle = "30 deg" } }
  lu.assertEquals(found.layers.for_strength.value, asked.for_strength)
  for _, m in ipairs(measures) do
    lu.assertAlmostEquals(found.damaged[m].value, asked.damaged[m], 1e-9)
  end
end

function TestRepair.test_lap_is_the_library_s()
  local found = json(hole, "--layers-gone", "1", "--factor", "1.5", "--glue", "0.3 mm")
  local pull = layer:first_failure { Nx = "1 N/m" }.factor
  -- The wood of the tables shears before this glue does.
  local wood
  for _, m in ipairs(rw.materials { kind = "wood" }) do
    wood = m.name == "western-redcedar" and m.properties.shear_par.value or wood
  end
  lu.assertAlmostEquals(found.bond.strength.value, wood:to(found.bond.strength.unit), 1e-9)
  local asked = rw.lap_for { force = rw.q(pull, "N/m"), first = layer, second = sound,
    strength = wood, factor = 1.5, glue = "0.3 mm" }
  local mean = found.lap.mean_along
  lu.assertAlmostEquals(mean.value, asked.by_average.length:to(mean.unit), 1e-9)
  lu.assertNil(asked.by_peak)
  lu.assertStrContains(found.lap.peak_along.value, "none will do")
  lu.assertStrContains(found.lap.notes[1], "Stepping")
  local soft = json(hole, "--layers-gone", "1", "--strength", "3 MPa")
  lu.assertEquals(soft.bond.strength.value, 3)
end

-- A small share of its strength is carried within the peak; the longer lap of both is taken.
function TestRepair.test_lap_by_peak()
  local found = json(hole, "--layers-gone", "1", "--carry", "2 %", "--least-lap", "1 mm")
  lu.assertEquals(found.lap.peak_along.unit, "mm")
  lu.assertTrue(found.lap.peak_along.value >= found.lap.mean_along.value)
  lu.assertEquals(#found.lap.notes, 0)
  lu.assertEquals(found.lap.lap.value, 5)
  -- Thick glue spreads the peak over more than the mean asks for.
  local thick = json(hole, "--layers-gone", "1", "--carry", "18 %", "--least-lap", "1 mm",
    "--glue", "5 mm").lap
  lu.assertTrue(thick.mean_along.value < 5 and thick.peak_along.value > 10)
  lu.assertEquals(thick.lap.value, 5 * math.ceil(thick.peak_along.value / 5))
  local least = json(hole, "--layers-gone", "1", "--carry", "2 %", "--least-lap", "41 mm")
  lu.assertEquals(least.lap.lap.value, 45)
end

-- Each size: the damage, the lap on both sides, and so many steps.
function TestRepair.test_sizes()
  local found = json(hole, "--layers-gone", "1", "--share", "150 %")
  local n, lap, step = found.layers.taken.value, found.lap.lap.value, found.lap.step.value
  lu.assertTrue(n > 1)
  local area = 0
  for i, size in ipairs(found.sizes) do
    lu.assertEquals(size.length, 120 + 2 * (lap + (i - 1) * step))
    lu.assertEquals(size.width, 90 + 2 * (lap + (i - 1) * step))
    area = area + size.length * size.width * 1e-6
  end
  lu.assertAlmostEquals(found.amounts.area.value
    * rw.q(1, found.amounts.area.unit):si(), area, 1e-9)
  lu.assertTrue(found.lap.peak_stepped.value < found.lap.peak_blunt.value)
  local turned = json(hole, "--layers-gone", "1", "--share", "150 %", "--first", "large")
  for i, size in ipairs(turned.sizes) do
    lu.assertEquals(size.length, found.sizes[n + 1 - i].length)
  end
  lu.assertStrContains(turned.cuts.notes[1], "common practice, no source")
  lu.assertStrContains(turned.cuts.notes[1], "Largest first")
end

-- The last of the bending costs many layers of a light cloth.
function TestRepair.test_a_little_less()
  local light = { "--strength", "12 MPa", "--hole", "80 mm", "--wood-left", "4 mm", "--cloth",
    "glass-110-plain-tight", "--most", "30", "--plies",
    "carbon-200-plain, paulownia 6 mm, carbon-200-plain" }
  local found, less = json(light), json(light, "--share", "95 %")
  lu.assertEquals(found.layers.for_less.value, less.layers.taken.value)
  lu.assertTrue(less.layers.taken.value + 2 < found.layers.taken.value)
  lu.assertStrContains(table.concat(found.layers.notes), '--share "95 %"')
  lu.assertNil(json(hole, "--layers-gone", "1").layers.for_less)
end

function TestRepair.test_new_wood()
  local found = json(hole, "--wood-left", "4 mm", "--let-in")
  lu.assertEquals(found.layers.taken.value, 1)
  local plank = skin(cedar "2 mm")
  local asked = rw.scarf { stress = rw.q(plank:first_failure { Nx = "1 N/m" }.factor, "N/m")
    / plank.thickness, strength = rw.q(found.bond.strength.value, found.bond.strength.unit),
    thickness = "2 mm", factor = 2 }
  lu.assertAlmostEquals(found.new_wood.scarf_along.value,
    asked.length:to(found.new_wood.scarf_along.unit), 1e-9)
  lu.assertTrue(found.sizes[1].length >= 120 + 2 * (asked.length:to "mm" + 50))
  -- Without it the cloth has to stand in for the wood.
  lu.assertTrue(json(hole, "--wood-left", "4 mm", "--most", "20").layers.taken.value > 3)
end

function TestRepair.test_taper()
  local found = json(hole, "--layers-gone", "1", "--joint", "taper")
  lu.assertEquals(found.sizes[1].length, 120 + 2 * found.taper.width_along.value)
  local deeper = json(hole, "--wood-left", "5 mm", "--share", "80 %", "--joint", "taper")
  lu.assertTrue(deeper.taper.width_along.value > found.taper.width_along.value)
  for i = 2, #deeper.sizes do
    lu.assertTrue(deeper.sizes[i].length >= deeper.sizes[i - 1].length)
  end
  local last = deeper.sizes[#deeper.sizes]
  lu.assertEquals(last.length, 120 + 2 * deeper.taper.width_along.value)
  lu.assertEquals(last.width, 90 + 2 * deeper.taper.width_across.value)
  lu.assertTrue(last.length - 120 > last.width - 90)
end

-- In plies that lie across each other the scarf is that of the ply along.
function TestRepair.test_scarf_of_crossed_wood()
  local crossed = json({ "--strength", "12 MPa", "--hole", "60 mm", "--let-in", "--wood-left",
    "1.5 mm", "--plies", "glass-203-plain, okoume 1.5 mm, okoume 1.5 mm @ 90 deg, okoume 1.5 mm" })
  local plain = json({ "--strength", "12 MPa", "--hole", "60 mm", "--let-in", "--wood-left",
    "1.5 mm", "--plies", "glass-203-plain, okoume 4.5 mm" })
  lu.assertAlmostEquals(crossed.new_wood.scarf_along.value, plain.new_wood.scarf_along.value, 1e-6)
  lu.assertAlmostEquals(crossed.new_wood.scarf_across.value, crossed.new_wood.scarf_along.value,
    1e-6)
end

-- Slopes of new wood let into a skin: 1 in how many at its ends and its sides, and the notes.
local function scarf_of(woods, ...)
  local found = json({ "--strength", "12 MPa", "--hole", "60 mm", "--let-in", "--wood-left",
    "0.5 mm", "--plies", "glass-203-plain, " .. woods }, ...)
  local wood = found.new_wood
  local function slope(key)
    return tonumber(wood["slope_" .. key].value:match "^1 in (%S+)$") or 0
  end
  return { along = slope "along", across = slope "across", over = wood.scarf_along,
    notes = table.concat(wood.notes, " "), found = found }
end

-- Beside others a ply off its edge's normal brings what its grain carries over, and not the
-- little at which it alone tears: tens of degrees take a slope down by cos^2 and not to nothing.
function TestRepair.test_scarf_of_diagonal_veneers()
  local okoume = rw.laminate { plies = { { wood = "okoume", thickness = "6 mm" } } }
  local stress = rw.q(okoume:first_failure { Nx = "1 N/m" }.factor / 0.006, "Pa")
  local turned = { ["okoume 6 mm"] = 1, ["okoume 6 mm @ 45 deg"] = 0.5,
    ["okoume 6 mm @ 30 deg"] = 0.75, ["okoume 6 mm @ 330 deg"] = 0.75,
    ["okoume 2 mm @ 45 deg, okoume 2 mm @ -45 deg, okoume 2 mm"] = 1,
    ["okoume 2 mm @ 45 deg, okoume 2 mm @ 135 deg, okoume 2 mm @ 45 deg"] = 0.5 }
  for woods, share in pairs(turned) do
    local got = scarf_of(woods)
    local n = rw.scarf { stress = stress * share, thickness = "5.5 mm", factor = 2,
      strength = rw.q(got.found.bond.strength.value, got.found.bond.strength.unit) }
    lu.assertAlmostEquals(got.over.value, n.length:to(got.over.unit), 1e-6, woods)
    lu.assertTrue(got.along >= 8, woods)
    lu.assertEquals(got.notes:find "Steeper than" ~= nil, got.across > 0 and got.across < 8)
  end
  local veneers = scarf_of "okoume 2 mm @ 45 deg, okoume 2 mm @ -45 deg, okoume 2 mm"
  local diagonal = scarf_of "okoume 6 mm @ 45 deg"
  lu.assertEquals(veneers.across, diagonal.across)
  lu.assertEquals(diagonal.across, diagonal.along)
end

-- Steep slopes are warned of; an edge along the grain takes none and is no scarf.
function TestRepair.test_scarf_that_is_steep()
  local steep = scarf_of("okoume 6 mm @ 60 deg")
  lu.assertTrue(steep.along > 1 and steep.along < 8 and steep.across > 8)
  lu.assertStrContains(steep.notes, "Steeper than 1 in 8")
  local plain = scarf_of "okoume 6 mm"
  lu.assertEquals(plain.found.new_wood.slope_across.value, "no slope needed")
  lu.assertNil(plain.found.new_wood.scarf_across)
  lu.assertNotStrContains(plain.notes, "Steeper")
  lu.assertEquals(plain.found.new_wood.opening.value:match "by (.*)$", "60 mm")
  local taper = json({ "--strength", "12 MPa", "--hole", "60 mm", "--wood-left", "2 mm",
    "--plies", "glass-203-plain, okoume 6 mm @ 60 deg" }).taper
  lu.assertStrContains(table.concat(taper.notes), "Steeper than 1 in 8")
end

function TestRepair.test_what_stays_weaker()
  local found = json(hole, "--wood-left", "1 mm", "--most", "2")
  lu.assertEquals(found.layers.for_strength.value, "more than 2")
  lu.assertEquals(found.layers.taken.value, 2)
  lu.assertStrContains(found.short.weaker.value, "bending")
  lu.assertEquals(#found.sizes, 2)
  local little = json(hole, "--wood-left", "5.9 mm", "--share", "20 %")
  lu.assertEquals(little.layers.for_stiffness.value, 0)
  lu.assertEquals(little.layers.taken.value, 1)
end

-- Intervals around their values, waste on top of what stays.
function TestRepair.test_amounts()
  local found = json(hole, "--layers-gone", "1", "--waste", "50 %").amounts
  for _, key in ipairs { "resin", "mix", "added" } do
    lu.assertTrue(found[key].low < found[key].value and found[key].value < found[key].high, key)
  end
  lu.assertAlmostEquals(found.mix.value, 2 * found.resin.value, 1e-6)
  lu.assertAlmostEquals(found.dry.value, found.area.value
    * rw.q(1, found.area.unit):si() * glass.cloth.areal_mass:to "g/m2", 1e-6)
  lu.assertAlmostEquals(found.added.value, found.dry.value + found.resin.value, 1e-6)
end

-- Two patches of one size over holes that are not: bare wood drinks, cloth that is left does not.
function TestRepair.test_soak()
  local function resin(layers, size, lap)
    local found = json({ "--strength", "12 MPa", "--carry", "2 %", "--layers-gone", "1",
      "--plies", layers, "--hole", size, "--least-lap", lap })
    lu.assertEquals(found.sizes, { { length = 220, width = 190, unit = "mm" } })
    return found.amounts.resin.value
  end
  local function more(layers)
    return resin(layers, "200 mm by 170 mm", "10 mm") - resin(layers, "120 mm by 90 mm", "50 mm")
  end
  local soak
  for _, m in ipairs(rw.materials { kind = "wood" }) do
    soak = m.name == "western-redcedar" and m.properties.soak or soak
  end
  local area = 0.2 * 0.17 - 0.12 * 0.09
  lu.assertTrue(more(plies) > soak.low:to "g/m2" * area)
  lu.assertTrue(more(plies) < soak.high:to "g/m2" * area)
  lu.assertAlmostEquals(more("glass-203-plain, " .. plies), 0, 1e-9)
end

-- What new wood would spare stands first, and is what a plan with it takes.
function TestRepair.test_what_new_wood_would_take()
  local plain = json(hole, "--wood-left", "3 mm").short
  local let_in = json(hole, "--wood-left", "3 mm", "--let-in")
  lu.assertEquals(plain.let_in.value, "1 layer")
  lu.assertEquals(let_in.layers.taken.value, 1)
  lu.assertNil(let_in.short.let_in)
  lu.assertNil(json(hole, "--layers-gone", "1").short.let_in)
  local light = { "--wood-left", "3 mm", "--cloth", "glass-110-plain-tight" }
  local n = json(hole, "--let-in", table.unpack(light)).layers.taken.value
  lu.assertTrue(n > 1)
  lu.assertEquals(json(hole, table.unpack(light)).short.let_in.value, n .. " layers")
  light[#light + 1] = "--most=1"
  lu.assertEquals(json(hole, table.unpack(light)).short.let_in.value, "more than 1 layer")
end

-- One layer has no step.
function TestRepair.test_one_layer_has_no_step()
  local one, two = json(hole, "--layers-gone", "1"), json(hole, "--layers-gone", "1", "--share",
    "150 %")
  for _, key in ipairs { "step", "least_step" } do
    lu.assertNil(one.lap[key])
    lu.assertNotNil(two.lap[key])
  end
  lu.assertEquals(one.short.weaker.value, "nothing among stiffness, bending and pull")
  local single, double = json(bottom), json(bottom, "--layers", "2")
  lu.assertNil(single.short.step or single.steps.step or single.short.step_jump)
  lu.assertNotNil(double.short.step and double.steps.step and double.short.step_jump)
end

-- Plywood is listed by its veneers, each with how it lies and what is left of it.
function TestRepair.test_how_the_layers_lie()
  local found = json({ "--strength", "12 MPa", "--hole", "60 mm", "--wood-left", "4 mm", "--plies",
    "glass-136-plain @ 45 deg, okoume 6 mm in 5 veneers, glass-203-plain" })
  lu.assertEquals(found.skin.ply_1.label, "glass-136-plain at 45 deg, gone")
  lu.assertEquals(found.skin.ply_2.label, "okoume, veneer 1, grain along, gone")
  lu.assertEquals(found.skin.ply_3.label, "okoume, veneer 2, grain across, 0.4 mm left")
  lu.assertEquals(found.skin.ply_6.label, "okoume, veneer 5, grain along")
  lu.assertStrContains(found.short.layers.value, "of glass-136-plain at 45 deg")
end

function TestRepair.test_aramid()
  local function notes(cloth)
    local found = json(hole, "--layers-gone", "1", "--cloth", cloth)
    lu.assertStrContains(table.concat(found.cautions), "aramid")
    return table.concat(found.cuts.notes)
  end
  lu.assertStrContains(notes "aramid-170-plain", "cover its edge with glass")
  lu.assertNotStrContains(notes "glass-203-plain", "fuzzes")
end

TestDoubling = {}

function TestDoubling.test_edges_are_the_library_s()
  local found = json(bottom, "--layers", "2", "--moment", "60 N")
  local asked = rw.doubling { plain = sound, extra = skin(glass, glass), load = { Mx = "60 N" } }
  local ends = found.ends
  lu.assertAlmostEquals(found.effect.stiffer_along.value, asked.stiffer_along, 1e-9)
  lu.assertAlmostEquals(ends.beside_outer.value, asked.beside.outer, 1e-12)
  lu.assertAlmostEquals(ends.under_inner.value, asked.under.inner, 1e-12)
  lu.assertAlmostEquals(ends.jump_inner.value, asked.jump.inner, 1e-9)
  lu.assertAlmostEquals(ends.shear.value, math.abs(asked.shear:to(ends.shear.unit)), 1e-9)
  lu.assertAlmostEquals(ends.reach.value, asked.reach:to(ends.reach.unit), 1e-9)
  local first = rw.doubling { plain = sound, extra = layer, load = { Mx = "60 N" } }
  lu.assertTrue(ends.step_jump.value >= math.max(first.jump.outer, first.jump.inner) - 1e-9)
  lu.assertTrue(ends.step_jump.value < math.max(asked.jump.outer, asked.jump.inner))
  lu.assertTrue(ends.step_shear.value < ends.shear.value)
  -- The hull's side seen as its length.
  local across = rw.doubling { load = { Mx = "60 N" },
    plain = skin({ cloth = glass.cloth, angle = "90 deg" }, { wood = "western-redcedar",
      thickness = "6 mm", angle = "90 deg" }, { cloth = inner.cloth, angle = "135 deg" }),
    extra = skin({ cloth = glass.cloth, angle = "90 deg" },
      { cloth = glass.cloth, angle = "90 deg" }) }
  lu.assertAlmostEquals(found.sides.jump_outer.value, across.jump.outer, 1e-9)
end

-- The other side of the push turns the strains round and leaves the jumps.
function TestDoubling.test_from_inside()
  local out, back = json(bottom, "--moment", "60 N"), json(bottom, "--moment", "60 N", "--from",
    "inside")
  lu.assertAlmostEquals(out.ends.beside_inner.value, -back.ends.beside_inner.value, 1e-12)
  lu.assertAlmostEquals(out.ends.jump_inner.value, back.ends.jump_inner.value, 1e-9)
  lu.assertTrue(out.ends.beside_inner.value > 0)
  local own = json(bottom, "--from", "inside").ends.moment
  lu.assertAlmostEquals(own.value, sound:first_failure { Mx = "-1 N" }.factor, 1e-9)
end

function TestDoubling.test_sizes()
  local found = json(bottom, "--layers", "3", "--least-step", "20 mm")
  lu.assertEquals(found.sizes[3], { length = 1800, width = 160, unit = "mm" })
  lu.assertEquals(found.sizes[1], { length = 1720, width = 80, unit = "mm" })
  lu.assertEquals(json(bottom, "--layers", "3", "--first", "large").sizes[1].width, 160)
end

TestForms = {}

local jobs = { { hole, "--wood-left", "5 mm", "--share", "80 %" },
  { hole, "--layers-gone", "1" }, { bottom, "--layers", "2" } }

function TestForms.test_csv_and_json_agree()
  for _, job in ipairs(jobs) do
    local found = json(table.unpack(job))
    local rows = support.csv(support.runs(script, "--csv", arguments(table.unpack(job))))
    lu.assertTrue(#rows > 35)
    support.check_rows(rows, found)
  end
end

function TestForms.test_text()
  local text = support.runs(script, demo, "--strength", "12 MPa", "--hole", "120 mm by 90 mm",
    "--wood-left", "3.5 mm", "--let-in")
  for _, words in ipairs { "Sandpiper", "invented", "In short", "1 layer of glass-203-plain",
    "new wood", "rim", "resin and hardener to mix", "stays weaker", "not an approval", "mask",
    "gloves", "surveyor", "dry", "common practice, no source" } do
    lu.assertStrContains(text, words)
  end
  lu.assertStrContains(support.runs(script, demo, "--strength", "1700 psi", "--hole",
    "5 in by 3 1/2 in", "--layers-gone", "1", "--units", "us"), " in\n")
  local doubled = support.runs(script, arguments(bottom))
  for _, words in ipairs { "jump", "reach", "not an approval" } do
    lu.assertStrContains(doubled, words)
  end
end

function TestForms.test_page_and_picture()
  local folder = support.new_folder()
  local page, svg = folder .. "/patch.html", folder .. "/patch.svg"
  local all = { table.unpack(jobs) }
  all[#all + 1] = { hole, "--wood-left", "4 mm", "--let-in", "--joint", "taper" }
  all[#all + 1] = { hole, "--wood-left", "0.5 mm", "--most", "30" }
  for _, job in ipairs(all) do
    support.runs(script, "--page", page, "--svg", svg, arguments(table.unpack(job)))
    local html, picture = support.read(page), support.read(svg)
    support.check_tags(html)
    support.check_tags(picture)
    lu.assertStrContains(html, "not an approval")
    lu.assertStrContains(html, "In short")
    lu.assertNotStrContains(html, "http")
    lu.assertStrContains(picture, "western-redcedar")
    lu.assertNil(picture:find "%f[%w]nan%f[%W]" or picture:find "%f[%w]inf%f[%W]")
  end
  lu.assertEquals(#support.files(folder), 2)
  support.remove_folder(folder)
end

function TestForms.test_help()
  local help = support.runs(script, "--help")
  for _, words in ipairs { "--plies", "--hole", "--doubling", "[FOLDER]", "not an approval",
    "common practice, no source" } do
    lu.assertStrContains((help:gsub("%s+", " ")), words)
  end
end

TestRefusals = {}

function TestRefusals.test_of_a_repair()
  local function no(words, ...)
    support.refused(words, script, arguments(hole, ...))
  end
  no({ "--layers-gone", "--wood-left" })
  no({ "--layers-gone", "1 layer", "outside" }, "--layers-gone", "2")
  no({ "--layers-gone", "whole number" }, "--layers-gone", "half")
  no({ "--layers-gone", "nothing is gone" }, "--layers-gone", "0")
  no({ "--wood-left", "7 mm", "6 mm" }, "--wood-left", "7 mm")
  no({ "--wood-left", "-1 mm" }, "--wood-left=-1 mm")
  no({ "--wood-left", "mass" }, "--wood-left", "3 kg")
  no({ "--wood-left", "unit" }, "--wood-left", "3")
  no({ "--wood-left", "--layers-gone 1" }, "--wood-left", "3 mm", "--layers-gone", "0")
  no({ "--let-in", "--wood-left" }, "--layers-gone", "1", "--let-in")
  no({ "--cloth", "glas-136-plain", "glass-136-plain" }, "--layers-gone", "1", "--cloth",
    "glas-136-plain")
  no({ "--cloth", "angle", "unit" }, "--layers-gone", "1", "--cloth", "glass-136-plain @ 45")
  no({ "--share is 300 %", "10 % to 200 %" }, "--layers-gone", "1", "--share", "300 %")
  no({ "--share is 9 %", "10 % to 200 %" }, "--layers-gone", "1", "--share", "9 %")
  no({ "--share", "90 %" }, "--layers-gone", "1", "--share", "0.9")
  no({ "--carry" }, "--layers-gone", "1", "--carry", "0 %")
  no({ "--waste" }, "--layers-gone", "1", "--waste", "95 %")
  no({ "--most", "30" }, "--layers-gone", "1", "--most", "31")
  no({ "--factor", "20" }, "--layers-gone", "1", "--factor", "0.5")
  no({ "--factor", "plain number" }, "--layers-gone", "1", "--factor", "two")
  no({ "--glue", "0.01 mm to 5 mm" }, "--layers-gone", "1", "--glue", "0 mm")
  no({ "--glue", "0.01 mm to 5 mm" }, "--layers-gone", "1", "--glue", "2 cm")
  no({ "--least-lap" }, "--layers-gone", "1", "--least-lap", "0 mm")
  no({ "--least-step", "mass" }, "--layers-gone", "1", "--least-step", "1 g")
  no({ "--joint", "taper" }, "--layers-gone", "1", "--joint", "butt")
  no({ "--size", "--doubling" }, "--layers-gone", "1", "--size", "1 m")
  no({ "--plies", "both" }, demo, "--layers-gone", "1")
end

function TestRefusals.test_of_the_size_and_the_glue()
  local function no(words, ...)
    support.refused(words, script, arguments({ "--plies", plies, "--layers-gone", "1" }, ...))
  end
  no({ "--strength is missing", "data sheet" }, "--hole", "60 mm")
  no({ "--strength", "length", "pressure" }, "--hole", "60 mm", "--strength", "12 mm")
  for _, slip in ipairs { "0 MPa", "12 kPa", "12 GPa", "-12 MPa" } do
    no({ "--strength is", "0.1 MPa to 100 MPa", "data sheet gives" }, "--hole", "60 mm",
      "--strength", slip)
  end
  no({ "--hole is 6 m", "1 mm to 5 m" }, "--strength", "12 MPa", "--hole", "60 mm by 6 m")
  no({ "--hole is 0.6 mm", "1 mm to 5 m" }, "--strength", "12 MPa", "--hole", "0.6 mm by 6 mm")
  support.refused({ "--hole is missing" }, script, arguments(glue, "--layers-gone", "1"))
  no({ "--hole", "zero" }, "--strength", "12 MPa", "--hole", "0 mm")
  no({ "--hole", "zero" }, "--strength", "12 MPa", "--hole", "60 mm by 0 mm")
  no({ "--hole", "unit" }, "--strength", "12 MPa", "--hole", "60 by 40 mm")
  no({ "--hole", "mass" }, "--strength", "12 MPa", "--hole", "60 mm by 4 kg")
end

function TestRefusals.test_of_the_skin()
  local function no(words, ...)
    support.refused(words, script, arguments({ "--strength", "12 MPa", "--hole", "60 mm" }, ...))
  end
  no({ "folder or --plies", "repair-patch.lua" }, "--layers-gone", "1")
  no({ "no-such-folder" }, "no-such-folder", "--layers-gone", "1")
  no({ "--cloth is missing" }, "--plies", "okoume 6 mm", "--wood-left", "3 mm")
  no({ "--wood-left", "--let-in" }, "--plies", "okoume 6 mm", "--wood-left", "0 mm", "--cloth",
    "glass-203-plain")
  no({ "--wood-left", "no wood" }, "--plies", "glass-203-plain", "--wood-left", "1 mm")
  no({ "--layers-gone leaves nothing" }, "--plies", "glass-203-plain, glass-136-plain",
    "--layers-gone", "2")
  no({ "--plies", "60 mm" }, "--plies", "glass-203-plain, okoume 6 m", "--layers-gone", "1")
  no({ "--joint", "taper" }, "--plies", "okoume 6 mm", "--wood-left", "3 mm", "--let-in",
    "--joint", "taper", "--cloth", "glass-203-plain")
end

function TestRefusals.test_of_a_bottom_patch()
  local function no(words, ...)
    support.refused(words, script, arguments(bottom, ...))
  end
  support.refused({ "--size is missing" }, script, arguments(glue, "--doubling"))
  no({ "--size", "smallest of 5 layers" }, "--layers", "5")
  no({ "--layers", "from 1 to 30" }, "--layers", "0")
  no({ "--layers", "from 1 to 30" }, "--layers", "31")
  no({ "--strength is", "data sheet" }, "--strength", "12 kPa")
  no({ "--glue is", "5 mm" }, "--glue", "6 mm")
  no({ "--moment", "length" }, "--moment", "3 m")
  no({ "--moment", "above zero", "--from" }, "--moment", "0 N")
  no({ "--hole", "--doubling" }, "--hole", "60 mm")
  no({ "--wood-left", "--doubling" }, "--wood-left", "3 mm")
  no({ "--factor", "20" }, "--factor", "0")
  no({ "--least-step" }, "--least-step", "0 mm")
  no({ "--waste" }, "--waste", "100 %")
end

os.exit(lu.LuaUnit.run())
