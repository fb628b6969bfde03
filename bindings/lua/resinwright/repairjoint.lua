-- SPDX-License-Identifier: GPL-3.0-or-later
-- How a repair is joined to the sound skin: new wood by a scarf, cloth by a lap or a taper.
local rw = require "resinwright"
local sections = require "resinwright.sections"
local work = require "resinwright.repairwork"

local repairjoint = {}

-- Below this many in one, many wouldn't scarf wood.
local LEAST_SLOPE = 8

-- The pull that a ply brings to an edge, per area of it. Off its grain a ply alone tears early,
-- along the grain; held by others it brings what the grain carries over to the edge, cos^2 of it.
local function brings(ply, criterion)
  local angle = ply.angle and rw.q(ply.angle):to "rad" or 0
  local along = work.pull(work.laminate { work.with(ply, { angle = "0 deg" }) }, criterion)
  local alone = work.laminate { ply }
  local bears, carried = work.pull(alone, criterion), along * math.cos(angle) ^ 2
  return (bears > carried and bears or carried) / alone.thickness
end

-- The scarf of a stack, by the ply that bears most: one that tears early spares the others
-- nothing.
local function ask_scarf(o, used, way, share)
  local stress
  for _, ply in ipairs(way.plies) do
    local bears = brings(ply, o.criterion)
    stress = stress and stress > bears and stress or bears
  end
  return rw.scarf { stress = stress * share, strength = used, thickness = way.laminate.thickness,
    factor = o.factor }
end

-- Warns of a scarf through wood that is steeper than usual; slope 1 is an edge along the grain.
local function warn_steep(s, steep)
  if steep then
    sections.note(s, ("Steeper than 1 in %d is too steep for many (common practice, no source): "
      .. "take 1 in %d at least."):format(LEAST_SLOPE, LEAST_SLOPE))
  end
end

local function is_steep(scarf)
  return not work.is_blunt(scarf.slope) and scarf.slope < LEAST_SLOPE
end

-- New wood in place of what is gone, joined by a scarf all around.
local function add_new_wood(plan, o, used)
  if not o.let_in then
    return
  end
  local s = sections.add(plan, "new_wood", "New wood, let in to the old thickness")
  local grow, steep = {}, false
  for _, way in ipairs(work.ways(plan.d.wood)) do
    local scarf = ask_scarf(o, used, way, 1)
    steep = steep or is_steep(scarf)
    sections.row(s, "slope_" .. way.key, ("scarf at its %s"):format(way.key == "along" and "ends"
      or "sides"), work.slope(scarf.slope))
    grow[way.key] = rw.q "0 mm"
    if not work.is_blunt(scarf.slope) then
      grow[way.key] = scarf.length
      sections.row(s, "scarf_" .. way.key, "  over", scarf.length)
    end
  end
  sections.note(s, "Counted as sound wood of the same kind, its grain as that of the old. Many "
    .. "scarf at 1 in 12 (common practice, no source).")
  warn_steep(s, steep)
  plan.edge.scarf = grow
  local base = work.wider(o.hole, grow.along, grow.across)
  plan.base = { length = work.rounded(base.length, o.units),
    width = work.rounded(base.width, o.units) }
  sections.row(s, "opening", "new wood at the face", work.size_words(plan.base, o.units))
end

local function longer(a, b)
  return a > b and a or b
end

-- One layer on sound skin, both ways; the longer lap that is asked for.
local function ask_laps(plan, o, used)
  local skins, one = work.ways(o.plies), work.ways { o.cloth }
  local laps = {}
  for i, way in ipairs(one) do
    local skin = skins[i].laminate
    local force = work.pull(way.laminate, o.criterion) * o.carry
    local asked = rw.lap_for { force = force, first = way.laminate, second = skin, strength = used,
      factor = o.factor, glue = o.glue }
    local need = asked.by_peak or asked.by_average
    laps[i] = { key = way.key, force = force, asked = asked, need = need.length, skin = skin }
  end
  laps.need = longer(laps[1].need, laps[2].need)
  plan.laps = laps
  return laps.need
end

local function add_peaks(plan, o, s)
  if plan.n == 1 then
    return
  end
  local way = plan.laps[1]
  local bond = { strength = o.strength, glue = o.glue, second = way.skin }
  bond.force, bond.first, bond.length = way.force * plan.n,
    work.laminate(work.layers(o.cloth, plan.n)), plan.edge.rim
  sections.row(s, "peak_blunt", "peak, all layers ending in one edge", rw.lap(bond).peak)
  bond.force, bond.first, bond.length = way.force, plan.layer, plan.edge.lap
  sections.row(s, "peak_stepped", "peak, one layer at a time", rw.lap(bond).peak)
end

local function add_lap_rows(s, lap)
  local way = lap.key
  sections.row(s, "force_" .. way, ("one layer carries %s, per width"):format(way), lap.force)
  sections.row(s, "mean_" .. way, "  lap by mean shear", lap.asked.by_average.length)
  sections.row(s, "peak_" .. way, "  lap by peak shear", lap.asked.by_peak
    and lap.asked.by_peak.length
    or ("none will do: %s at its ends"):format(lap.asked.endless.peak:text(3)))
end

local function add_lap(plan, o, s, used)
  local need = ask_laps(plan, o, used)
  for _, lap in ipairs(plan.laps) do
    add_lap_rows(s, lap)
  end
  plan.edge.lap = work.rounded(longer(need, o.least_lap), o.units)
  plan.edge.step = work.rounded(longer(need, o.least_step), o.units)
  plan.edge.rim = plan.edge.lap + plan.edge.step * (plan.n - 1)
  sections.row(s, "least_lap", "least lap wanted of the smallest layer", o.least_lap)
  if plan.n > 1 then
    sections.row(s, "least_step", "least step wanted from layer to layer", o.least_step)
  end
  sections.row(s, "lap", "lap taken for the smallest layer", plan.edge.lap)
  if plan.n > 1 then
    sections.row(s, "step", "step taken from layer to layer", plan.edge.step)
  end
  sections.row(s, "rim", "sanded rim around the place", plan.edge.rim)
  add_peaks(plan, o, s)
  local endless = plan.laps[1].asked.endless or plan.laps[2].asked.endless
  if endless then
    sections.note(s, ("Taken by the mean. No lap, however long, keeps the peak at its ends down "
      .. "under what a layer carries: nearly all goes over in the first %s, where the glue must "
      .. "yield before it breaks. Stepping the layers, sanding each edge to nothing and thin "
      .. "cloth bring the peak down; a longer lap doesn't."):format(endless.length:text(2)))
  end
end

-- Rows of one taper, through the cloth or through the wood; its width both ways.
local function taper_through(plan, o, used, s, what, plies)
  local width, steep = {}, false
  for _, way in ipairs(work.ways(plies)) do
    local t = ask_scarf(o, used, way, o.carry)
    steep = steep or is_steep(t)
    sections.row(s, what .. "_" .. way.key,
      ("slope through the %s, %s"):format(what, way.key), work.slope(t.slope))
    width[way.key] = t.length
  end
  plan.edge.taper = plan.edge.taper or { along = rw.q "0 mm", across = rw.q "0 mm" }
  for key, more in pairs(width) do
    plan.edge.taper[key] = plan.edge.taper[key] + more
  end
  warn_steep(s, steep and what == "wood")
end

-- The taper through what is gone and not replaced by new wood: cloth and wood each by its own
-- strength, one beside the other.
local function add_taper(plan, o, used)
  local cloth, wood = plan.d.cloth, o.let_in and {} or plan.d.wood
  if #cloth + #wood == 0 then
    if o.joint == "taper" then
      work.refuse("joint", "cannot be a taper: no cloth is gone")
    end
    return
  end
  local s = sections.add(plan, "taper", "Tapered edge in place of the lap")
  if #cloth > 0 then
    taper_through(plan, o, used, s, "cloth", cloth)
  end
  if #wood > 0 then
    taper_through(plan, o, used, s, "wood", wood)
  end
  for _, key in ipairs { "along", "across" } do
    plan.edge.taper[key] = work.rounded(plan.edge.taper[key], o.units)
    sections.row(s, "width_" .. key, ("width to sand at the %s"):format(key == "along" and "ends"
      or "sides"), plan.edge.taper[key])
  end
  if plan.laps.need * plan.n > plan.edge.taper.along then
    sections.note(s, "Wide enough for what is gone. The patch bears more than that did; the taper "
      .. "does not carry all of it.")
  end
  if o.joint == "taper" then
    sections.note(s, "The largest layer ends where the taper does; many let it lap on beyond "
      .. "(common practice, no source).")
  else
    sections.note(s, "Sand this slope instead, and the patch lies nearly flush: --joint taper "
      .. "gives the sizes.")
  end
end

--- Adds the sections of the bond, of new wood, of the lap and of the taper; sets plan.base, the
-- place that the cloth covers, and plan.edge.
function repairjoint.add(plan, o)
  local s = sections.add(plan, "bond", "What the joint bears")
  local used = work.add_strength(s, o)
  add_new_wood(plan, o, used)
  local lap = sections.add(plan, "lap", "Lap onto sound skin")
  add_lap(plan, o, lap, used)
  add_taper(plan, o, used)
end

return repairjoint
