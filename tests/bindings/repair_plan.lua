-- SPDX-License-Identifier: GPL-3.0-or-later
-- Plans of repairs and bottom patches, from Lua: fields refused by name, pictures, notes.
package.path = arg[0]:gsub("[^/]*$", "?.lua;") .. package.path
local lu = require "luaunit"
local rw = require "resinwright"
local doublingplan = require "resinwright.doublingplan"
local repairplan = require "resinwright.repairplan"
local sections = require "resinwright.sections"
local skinwords = require "resinwright.skinwords"
local work = require "resinwright.repairwork"

-- luacheck: globals TestWork TestRepairPlan TestDoublingPlan

local q = rw.q

local function cloth(name, angle)
  return { cloth = rw.cloth { name = name }, angle = angle }
end

local function plies()
  return { cloth "glass-203-plain", { wood = "sitka-spruce", thickness = "5 mm" },
    cloth("glass-136-plain", "30 deg"), cloth "glass-110-plain-tight" }
end

local function with(more)
  local o = { name = "Trial", plies = plies(), face = "outside", layers_gone = 1, share = 1,
    hole = { length = q "80 mm", width = q "50 mm" }, aim = "both", most = 12, factor = 2,
    strength = q "15 MPa", carry = 1, glue = q "0.2 mm", least_lap = q "40 mm",
    least_step = q "20 mm", joint = "lap", first = "small", waste = 0.2, units = "metric",
    criterion = "max_stress", size = { length = q "1.2 m", width = q "140 mm" }, layers = 2,
    from = "outside" }
  return work.with(o, more or {})
end

-- The message begins with the field's name.
local function refused(field, make, more)
  local fine, err = pcall(make, with(more))
  lu.assertFalse(fine, field)
  lu.assertEquals(type(err), "table", tostring(err))
  lu.assertEquals(err.message:match "^[%l_]+", field)
end

TestWork = {}

function TestWork.test_turned_is_the_other_direction()
  local ways = work.ways(plies())
  lu.assertAlmostEquals(ways[2].laminate.Ex:si(), ways[1].laminate.Ey:si(), 1)
  lu.assertAlmostEquals(ways[2].laminate.Ey:si(), ways[1].laminate.Ex:si(), 1)
  lu.assertEquals(plies()[3].angle, "30 deg")
  lu.assertAlmostEquals(work.turn(cloth("glass-136-plain", "350 deg")).angle:to "deg", 80, 1e-9)
end

function TestWork.test_sizes_are_rounded_up()
  for mm, want in pairs { [40] = 40, [40.1] = 45, [44.9999] = 45, [0.2] = 5 } do
    lu.assertEquals(work.rounded(q(mm, "mm")):to "mm", want)
  end
  lu.assertAlmostEquals(work.rounded(q(26, "mm"), "us"):to "in", 1.25, 1e-9)
  lu.assertEquals(work.size_words({ length = q(14.5, "in"), width = q(10, "in") }, "us"),
    "14.5 in by 10 in")
  lu.assertEquals(work.slope(12.3), "1 in 12")
  lu.assertEquals(work.slope(2.04), "1 in 2.0")
  lu.assertEquals(work.slope(1), "no slope needed")
end

function TestWork.test_plies_laid_on_a_face()
  local a, b = cloth "glass-203-plain", cloth "glass-136-plain"
  lu.assertEquals(work.laid_on({ a }, { b, b }, "outside"), { b, b, a })
  lu.assertEquals(work.laid_on({ a }, { b, b }, "inside"), { a, b, b })
end

function TestWork.test_how_a_layer_lies()
  local skins = rw.laminate { plies = { cloth("glass-203-plain", "90 deg"),
    { wood = "okoume", thickness = "2 mm", angle = "30 deg" },
    { wood = "okoume", thickness = "2 mm", angle = "-22.5 deg" },
    { wood = "okoume", thickness = "3 mm", veneers = 3, angle = "90 deg" },
    { wood = "okoume", thickness = "3 mm", angle = "180 deg" } } }.skins
  local words = {}
  for i, layer in ipairs(skins) do
    words[i] = skinwords.layer(layer)
  end
  lu.assertEquals(words, { "glass-203-plain at 90 deg", "okoume, grain at 30 deg",
    "okoume, grain at -22.5 deg", "okoume, veneer 1, grain across",
    "okoume, veneer 2, grain along", "okoume, veneer 3, grain across",
    "okoume, grain along" })
  lu.assertEquals(skinwords.layer(skins[2], 4), "okoume, veneer 4, grain at 30 deg")
  local f = { name = "okoume", face = "outer", ply = 2, veneer = 5, mode = "crushed" }
  lu.assertEquals(skinwords.gives_way(f), "okoume, outer face of veneer 5 of ply 2: crushed")
  f.veneer = nil
  lu.assertEquals(skinwords.gives_way(f), "okoume, outer face of ply 2: crushed")
end

TestRepairPlan = {}

-- A gouge takes plywood's outer veneers, it does not thin all of them.
function TestRepairPlan.test_plywood_loses_its_outer_veneers()
  local inner = cloth "glass-136-plain"
  local plan = repairplan.make(with { wood_left = q "4 mm", plies = { cloth "glass-203-plain",
    { wood = "okoume", thickness = "6 mm", veneers = 5 }, inner } })
  local function veneer(thickness, angle)
    return { wood = "okoume", thickness = thickness, angle = angle }
  end
  local left = rw.laminate { plies = { veneer("0.4 mm", "90 deg"), veneer("1.2 mm", "0 deg"),
    veneer("1.2 mm", "90 deg"), veneer("1.2 mm", "0 deg"), inner } }
  lu.assertAlmostEquals(plan.left.bend_along.value:si(), left.bend_along.value:si(), 1e-8)
  lu.assertAlmostEquals(plan.left.bend_across.value:si(), left.bend_across.value:si(), 1e-8)
end

-- What is left is listed as the library takes it; the plies asked for stay as they were.
function TestRepairPlan.test_what_is_left()
  local o = with { wood_left = q "3 mm" }
  local plan = repairplan.make(o)
  lu.assertEquals(#plan.left.skins, 3)
  lu.assertAlmostEquals(plan.left.skins[1].thickness:to "mm", 3, 1e-9)
  lu.assertEquals(o.plies[2].thickness, "5 mm")
  lu.assertNil(o.cloth)
  local inside = repairplan.make(with { face = "inside", layers_gone = 2 })
  lu.assertEquals(#inside.left.skins, 2)
  lu.assertEquals(inside.layer.skins[1].name, "glass-110-plain-tight")
  -- The outermost layer alone.
  lu.assertEquals(#repairplan.make(with { face = "inside" }).left.skins, 3)
  -- Where wood is gone all cloth above it is.
  local deep = repairplan.make(with { face = "inside", layers_gone = false,
    wood_left = q "4 mm", let_in = true })
  lu.assertEquals(deep.damage.rows[2].value, 2)
  lu.assertEquals(#deep.left.skins, 2)
  lu.assertAlmostEquals(deep.left.skins[2].thickness:to "mm", 5, 1e-9)
end

-- Wood in several plies goes from the face on.
function TestRepairPlan.test_wood_in_plies()
  local okoume = { wood = "okoume", thickness = "2 mm" }
  local plan = repairplan.make(with { plies = { cloth "glass-203-plain", okoume,
    { wood = "okoume", thickness = "2 mm", angle = "90 deg" }, okoume }, wood_left = q "3 mm" })
  lu.assertEquals(#plan.left.skins, 2)
  lu.assertAlmostEquals(plan.left.skins[1].thickness:to "mm", 1, 1e-9)
  lu.assertAlmostEquals(plan.left.skins[1].angle:to "deg", 90, 1e-9)
  lu.assertAlmostEquals(plan.left.thickness:to "mm", 3, 1e-9)
  lu.assertAlmostEquals(plan.damage.rows[3].value:to "mm", 3, 1e-9)
end

-- A mended share that is not reached is named, and nothing where all are.
function TestRepairPlan.test_weaker()
  local plan = repairplan.make(with { share = 1.5, most = 1 })
  lu.assertTrue(#plan.weaker > 0)
  local all = {}
  for _, m in ipairs(repairplan.measures) do
    all[m[2]] = true
  end
  for _, words in ipairs(plan.weaker) do
    lu.assertTrue(all[words:match "^(.*) %("])
  end
  lu.assertEquals(repairplan.make(with()).weaker, {})
end

function TestRepairPlan.test_picture()
  for _, more in ipairs { {}, { wood_left = q "3 mm", let_in = true },
    { joint = "taper", face = "inside", layers_gone = 2, share = 1.5 },
    { wood_left = q "0 mm" }, { hole = { length = q "2 m", width = q "1 m" } } } do
    local plan = repairplan.make(with(more))
    local svg = repairplan.picture(plan)
    lu.assertStrContains(svg, '<svg viewBox="0 0 643 ')
    -- The last layer laid and each layer of the skin are named.
    lu.assertStrContains(svg, (">%d: %s<"):format(plan.n, work.size_words(plan.cuts[plan.n])))
    lu.assertStrContains(svg, ">sitka-spruce, 5 mm<")
    for x in svg:gmatch '[ML](%-?[%d.]+) ' do
      x = tonumber(x)
      lu.assertTrue(x >= -1 and x <= 643)
    end
  end
end

-- A bracket that is narrower than its own ends is told below the picture.
function TestRepairPlan.test_narrow_brackets()
  local function picture(angle)
    return repairplan.picture(repairplan.make(with { let_in = true, share = 1.7,
      wood_left = q "4 mm", plies = { cloth "glass-203-plain",
        { wood = "sitka-spruce", thickness = "5 mm", angle = angle } } }))
  end
  local narrow = picture "64 deg"
  lu.assertStrMatches(narrow, ".*>Too narrow to be marked: scarf [%d.]+ mm%.<.*")
  lu.assertNil(narrow:find ">scarf ")
  local wide = picture "0 deg"
  lu.assertStrContains(wide, ">scarf ")
  lu.assertNotStrContains(wide, "Too narrow")
end

function TestRepairPlan.test_refusals()
  local make = repairplan.make
  refused("layers_gone", make, { layers_gone = 2 })
  refused("layers_gone", make, { layers_gone = 0 })
  refused("layers_gone", make, { layers_gone = false })
  refused("wood_left", make, { wood_left = q "6 mm" })
  refused("wood_left", make, { wood_left = q "3 mm", layers_gone = 0 })
  refused("let_in", make, { let_in = true })
  refused("hole", make, { hole = { length = q "0 mm", width = q "1 mm" } })
  refused("cloth", make, { plies = { { wood = "okoume", thickness = "6 mm" } },
    layers_gone = false, wood_left = q "2 mm" })
  refused("strength", make, { strength = q "0 MPa" })
  refused("factor", make, { factor = 21 })
  refused("carry", make, { carry = 0 })
  refused("waste", make, { waste = 1 })
  refused("share", make, { share = 3 })
  refused("most", make, { most = 0 })
  refused("glue", make, { glue = q "0 mm" })
  refused("least_lap", make, { least_lap = q "0 mm" })
  refused("least_step", make, { least_step = q "-1 mm" })
end

TestDoublingPlan = {}

function TestDoublingPlan.test_steps()
  local plan = doublingplan.make(with { moment = q "40 N" })
  for _, edge in ipairs(plan.edges) do
    local d = edge.doubling
    lu.assertTrue(edge.steps.shear:si() < math.abs(d.shear:si()))
    lu.assertTrue(edge.steps.reach < d.reach)
    -- The last layer stands on a stiffer skin than the first one.
    local first = rw.doubling { plain = edge.laminate, extra = work.laminate { edge.cloth },
      load = { Mx = "40 N" } }
    lu.assertTrue(edge.steps.reach > first.reach)
  end
  -- One layer has no more than its blunt edge.
  local one = doublingplan.make(with { moment = q "40 N", layers = 1 })
  for _, edge in ipairs(one.edges) do
    lu.assertAlmostEquals(edge.steps.shear:si(), math.abs(edge.doubling.shear:si()), 1e-3)
    lu.assertAlmostEquals(edge.steps.jump, math.max(edge.doubling.jump.outer,
      edge.doubling.jump.inner), 1e-9)
  end
end

-- Glue that bears enough says nothing; a blunt edge or even a stepped one too much does.
function TestDoublingPlan.test_what_the_glue_bears()
  local seen = {}
  for moment = 10, 120, 10 do
    local plan = doublingplan.make(with { moment = q(moment, "N"), layers = 3 })
    local allowed = plan.bond.rows[#plan.bond.rows].value:si()
    local edge, said = plan.edges[1], plan.ends.notes[1] or "nothing"
    local want = edge.steps.shear:si() > allowed and "Even stepped"
      or math.abs(edge.doubling.shear:si()) > allowed and "A blunt edge" or "nothing"
    lu.assertEquals(said:sub(1, #want), want)
    seen[want] = true
  end
  lu.assertEquals(seen, { ["Even stepped"] = true, ["A blunt edge"] = true, nothing = true })
end

-- A stiff layer on a thin skin turns the strain below it round.
function TestDoublingPlan.test_strain_turned_round()
  local plan = doublingplan.make(with { plies = { cloth "glass-110-plain-tight" }, layers = 20,
    cloth = cloth "carbon-200-plain", moment = q "1 N", size = { length = q "3 m",
      width = q "2 m" } })
  local words
  for _, r in ipairs(plan.ends.rows) do
    words = r.key == "jump_outer" and r.value or words
  end
  lu.assertEquals(words, "the strain below it is gone or turned round")
  lu.assertStrContains(doublingplan.picture(plan), "glass-110-plain-tight")
  lu.assertEquals(#sections.csv(plan) > 0, true)
end

function TestDoublingPlan.test_refusals()
  local make = doublingplan.make
  refused("size", make, { size = { length = q "1 m", width = q "0 mm" } })
  refused("size", make, { size = { length = q "1 m", width = q "30 mm" } })
  refused("layers", make, { layers = 0 })
  refused("layers", make, { layers = 31 })
  refused("moment", make, { moment = q "0 N" })
  refused("waste", make, { waste = -0.1 })
  refused("glue", make, { glue = q "0 mm" })
  refused("factor", make, { factor = 0 })
  refused("cloth", make, { plies = { { wood = "okoume", thickness = "6 mm" } } })
end

os.exit(lu.LuaUnit.run())
