-- SPDX-License-Identifier: GPL-3.0-or-later
-- A bottom patch, or any skin doubled in one place: what it adds, how the strain jumps at its
-- edge, how far to step the edges. As text, CSV, JSON and a page.
--
-- doublingplan.make { name, note, plies, face, size, layers, cloth, from, moment, strength,
-- factor, glue, least_step, first, waste, criterion, units } asks the library; the others print
-- what it gives. Fields as those of repairplan; size is { length, width } of the largest layer;
-- moment per width, or nil: what first harms the skin beside it. All numbers come from the
-- library.
local rw = require "resinwright"
local chart = require "resinwright.chart"
local patchdrawing = require "resinwright.patchdrawing"
local report = require "resinwright.report"
local sections = require "resinwright.sections"
local skinwords = require "resinwright.skinwords"
local text = require "resinwright.text"
local work = require "resinwright.repairwork"

local doublingplan = {}

local refuse = work.refuse

local MOST = 30

local function check(o)
  work.check(o, "size")
  if o.layers < 1 or o.layers > MOST then
    refuse("layers", ("is %d: a bottom patch has from 1 to %d"):format(o.layers, MOST))
  elseif o.moment and o.moment:si() <= 0 then
    refuse("moment", "must be above zero", "Which side pushes is told by --from.")
  end
end

local function describe(plan, o)
  local s = sections.add(plan, "skin", "Skin, from the outside to the inside")
  plan.skin_layers = {}
  for i, layer in ipairs(plan.sound.skins) do
    sections.row(s, "ply_" .. i, skinwords.layer(layer), layer.thickness)
    plan.skin_layers[i] = { name = layer.name, thickness = layer.thickness, ply = layer.ply,
      wood = o.plies[layer.ply].wood ~= nil }
  end
  sections.row(s, "thickness", "thickness", plan.sound.thickness)
  sections.row(s, "areal_mass", "mass", plan.sound.areal_mass)
end

-- What a jump of strain is called: beyond this hardly any strain is left below.
local FAR = 100

local function jump_of(jump)
  return jump > 0 and jump < FAR and rw.q(jump, "1")
    or "the strain below it is gone or turned round"
end

-- Strains are hundredths; other plain numbers with a point are not here.
local function say(value)
  if math.type(value) == "float" then
    return text.fixed(100 * value, 3) .. " %"
  end
  return (sections.say(value))
end

-- The greater jump of both faces, one of them turned round counting as the greatest.
local function greatest(jump)
  local most = 0
  for _, j in pairs(jump) do
    most = math.max(most, j > 0 and j or math.huge)
  end
  return most
end

-- Layer on layer: at each step one layer begins on all below it.
local function steps_of(o, ply, way_plies, load)
  local worst = { jump = 0, shear = rw.q "0 Pa", reach = rw.q "0 mm" }
  local below = way_plies
  for _ = 1, o.layers do
    local d = rw.doubling { plain = work.laminate(below), extra = work.laminate { ply },
      face = work.face(o.face), load = load, glue = o.glue }
    local shear = rw.q(math.abs(d.shear:to "MPa"), "MPa")
    worst.jump = math.max(worst.jump, greatest(d.jump))
    worst.shear = shear > worst.shear and shear or worst.shear
    worst.reach = d.reach > worst.reach and d.reach or worst.reach
    below = work.laid_on(below, { ply }, o.face)
  end
  return worst
end

-- Moment beside the edge: the one given, or what first harms the plain skin.
local function moment_of(o, plain)
  if o.moment then
    return o.moment
  end
  local sign = o.from == "inside" and "-1 N" or "1 N"
  return rw.q(plain:first_failure { Mx = sign, criterion = o.criterion }.factor, "N")
end

local function add_edge(plan, o, edge)
  local s = sections.add(plan, edge.key, edge.title)
  local plain = edge.laminate
  local moment = moment_of(o, plain)
  local load = { Mx = o.from == "inside" and moment * -1 or moment }
  local d = rw.doubling { plain = plain, extra = work.laminate(work.layers(edge.cloth, o.layers)),
    face = work.face(o.face), load = load, glue = o.glue }
  local steps = steps_of(o, edge.cloth, edge.plies, load)
  sections.row(s, "moment", o.moment and "bending moment beside it, per width"
    or "bending moment that first harms the plain skin", moment)
  for _, face in ipairs { "outer", "inner" } do
    sections.row(s, "beside_" .. face, face == "outer" and "strain outside, beside it"
      or "strain inside, beside it", d.beside[face])
    sections.row(s, "under_" .. face, "  of the same face under it", d.under[face])
    sections.row(s, "jump_" .. face, "  jump at a blunt edge, times", jump_of(d.jump[face]))
  end
  sections.row(s, "force", "force the patch takes over, per width",
    rw.q(math.abs(d.force:to "kN/m"), "kN/m"))
  sections.row(s, "shear", "shear of the glue at a blunt edge",
    rw.q(math.abs(d.shear:to "MPa"), "MPa"))
  sections.row(s, "reach", "reach over which it takes it over", d.reach)
  sections.row(s, "step_jump", "greatest jump, stepped layer by layer, times", jump_of(steps.jump))
  sections.row(s, "step_shear", "greatest shear, stepped", steps.shear)
  sections.row(s, "step_reach", "reach of one step", steps.reach)
  edge.doubling, edge.steps = d, steps
  plan.edges[#plan.edges + 1] = edge
  return d, steps
end

local function add_edges(plan, o, used)
  local reach = o.least_step
  local allowed = used * (1 / o.factor)
  sections.row(plan.bond, "allowed", "it may bear, with the factor", allowed)
  local skin = work.ways(o.plies)
  local edges = { { key = "ends", title = "Its ends, the hull bent along", cloth = o.cloth },
    { key = "sides", title = "Its sides, the hull bent across", cloth = work.turn(o.cloth) } }
  plan.edges = {}
  for i, edge in ipairs(edges) do
    edge.plies, edge.laminate = skin[i].plies, skin[i].laminate
    local d, steps = add_edge(plan, o, edge)
    reach = steps.reach > reach and steps.reach or reach
    local s = plan[edge.key]
    if steps.shear > allowed then
      sections.note(s, "Even stepped, the peak at each edge is more than the joint may bear with "
        .. "its factor: there it yields or lifts first under such a moment. Sand every edge to "
        .. "nothing, take thinner cloth, and look for white lines along the edges.")
    elseif rw.q(math.abs(d.shear:si()), "Pa") > allowed then
      sections.note(s, "A blunt edge asks more than the joint may bear; stepped it holds.")
    end
  end
  plan.edge.step = work.rounded(reach, o.units)
end

local function add_effect(plan, d)
  local s = sections.add(plan, "effect", "What it adds")
  sections.row(s, "stiffer_along", "bending stiffness along, over the plain skin's",
    rw.q(d.stiffer_along, "1"))
  sections.row(s, "stiffer_across", "bending stiffness across, likewise",
    rw.q(d.stiffer_across, "1"))
  sections.row(s, "added_mass", "mass, all layers", d.added_mass)
end

local function sizes(plan, o)
  local out = {}
  for i = 1, o.layers do
    out[i] = work.wider(o.size, plan.edge.step * (i - o.layers))
  end
  if not (out[1].width:si() > 0 and out[1].length:si() > 0) then
    refuse("size", ("leaves nothing of the smallest of %d layers, each %s smaller on every side")
      :format(o.layers, plan.edge.step:text(3)),
      "Take fewer layers, a larger patch or smaller steps.")
  end
  return out
end

-- The greatest jump of both edges, blunt and stepped.
local function add_short(plan)
  local blunt, stepped = 0, 0
  for _, edge in ipairs(plan.edges) do
    blunt = math.max(blunt, greatest(edge.doubling.jump))
    stepped = math.max(stepped, edge.steps.jump)
  end
  local steps = plan.n > 1
  work.add_short(plan, { steps and { "step", "step from layer to layer", plan.edge.step:text(3) }
    or nil }, { { "jump", "strain jumps at a blunt edge, at most times", jump_of(blunt) },
      steps and { "step_jump", "stepped layer by layer, at most times", jump_of(stepped) }
      or nil })
end

function doublingplan.make(asked)
  local o = work.with(asked, {})
  check(o)
  o.cloth = o.cloth or work.own_cloth(o)
  local plan = { name = o.name, note = o.note, o = o, sound = work.laminate(o.plies),
    layer = work.laminate { o.cloth }, n = o.layers, base = o.size, doubling = true,
    edge = {} }
  describe(plan, o)
  add_effect(plan, rw.doubling { plain = plan.sound, face = work.face(o.face),
    extra = work.laminate(work.layers(o.cloth, o.layers)), load = { Mx = "1 N" },
    glue = o.glue })
  local s = sections.add(plan, "bond", "What the joint bears")
  local used = work.add_strength(s, o)
  add_edges(plan, o, used)
  s = sections.add(plan, "steps", "Step the edges")
  if plan.n > 1 then
    sections.row(s, "least_step", "least step wanted", o.least_step)
    sections.row(s, "step", "step taken from layer to layer", plan.edge.step)
  end
  sections.note(s, "The skin beside a hard spot is strained as before and cracks there first: "
    .. "steps and edges sanded to nothing spread the jump. Don't end it where a frame or a floor "
    .. "ends.")
  work.add_cuts(plan, o, sizes(plan, o))
  local wood = not o.plies[o.face == "inside" and #o.plies or 1].cloth
    and work.nearest_wood(o.plies, o.face)
  work.add_amounts(plan, o, plan.layer, wood and plan.largest.length * plan.largest.width,
    wood and o.plies[wood].wood)
  add_short(plan)
  return plan
end

-- ---------------------------------------------------------------- forms

local function head(plan)
  return ("%s: a bottom patch on the %s of %s"):format(plan.name, plan.o.face,
    work.size_words(plan.o.size, plan.o.units))
end

function doublingplan.text(plan)
  return sections.sheet(plan, head(plan), work.cautions, say)
end

doublingplan.csv = sections.csv
doublingplan.json = work.json

doublingplan.picture = patchdrawing.draw

-- Shear at a blunt edge and at the worst step, of both edges.
function doublingplan.shear_picture(plan)
  local rows = {}
  for _, edge in ipairs(plan.edges) do
    rows[#rows + 1] = { label = edge.key .. ", blunt",
      value = math.abs(edge.doubling.shear:to "MPa") }
    rows[#rows + 1] = { label = edge.key .. ", stepped", value = edge.steps.shear:to "MPa",
      pattern = "dots" }
  end
  return chart.bars { id = "shear", rows = rows, unit = "MPa", title = "Shear of the glue" }
end

function doublingplan.page(plan)
  return work.page(plan, head(plan), {
    { heading = "The patch", body = report.figure(doublingplan.picture(plan),
      patchdrawing.caption) },
    { heading = "What its edges ask of the glue",
      body = report.figure(doublingplan.shear_picture(plan),
        "Shear of the glue at the ends and the sides, all layers ending in one edge and "
          .. "stepped.") } }, say)
end

return doublingplan
