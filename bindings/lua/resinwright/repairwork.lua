-- SPDX-License-Identifier: GPL-3.0-or-later
-- What a repair patch and a bottom patch have in common: laminates of plies and the same turned
-- by a right angle, what a glue line may bear, sizes to cut, cloth, resin and weight.
local rw = require "resinwright"
local json = require "resinwright.json"
local report = require "resinwright.report"
local sections = require "resinwright.sections"
local skinwords = require "resinwright.skinwords"
local text = require "resinwright.text"

local work = {}

work.cautions = {
  "Comparison and shop planning only, not an approval; scantling rules, survey and licensed "
    .. "practice decide; wood scatter is real, and strengths are good to a factor of two.",
  "Damage at a keel, stem, frame, bulkhead or fitting, and anything that opened a joint, is a "
    .. "surveyor's matter first. Sound the skin around it: what looks whole may have come loose.",
  "Sound, dry, clean wood and a sanded skin are taken for granted. Cut back to wood that is "
    .. "sound, wash off salt, wax and blush before sanding, and let wet wood dry first.",
  "Dust of cured epoxy, glass, carbon, aramid and wood harms the lungs: mask, goggles, "
    .. "extraction. Resin and hardener can make the skin allergic for life: gloves. A small "
    .. "batch may warm up as a large one does: don't leave it in the cup.",
  "The maker's data sheet decides on ratio, temperature and sanding between coats.",
}

--- Refuses a field of what was asked.
function work.refuse(field, message, hint)
  error({ message = ("%s %s"):format(field, message), hint = hint }, 0)
end

function work.laminate(plies)
  return rw.laminate { plies = plies }
end

--- A copy of a table with some fields changed.
function work.with(t, changes)
  local out = {}
  for _, from in ipairs { t, changes } do
    for k, v in pairs(from) do
      out[k] = v
    end
  end
  return out
end

local RIGHT = rw.q "90 deg"

--- A ply turned by a right angle: what lay across the hull lies along.
function work.turn(ply)
  local angle = ply.angle and rw.q(ply.angle) + RIGHT or RIGHT
  return work.with(ply, { angle = angle:to "deg" > 360 and angle - RIGHT * 4 or angle })
end

--- Plies seen along the hull and from its side.
function work.ways(plies)
  local across = {}
  for i, ply in ipairs(plies) do
    across[i] = work.turn(ply)
  end
  return { { key = "along", plies = plies, laminate = work.laminate(plies) },
    { key = "across", plies = across, laminate = work.laminate(across) } }
end

--- So many layers of one ply.
function work.layers(ply, n)
  local plies = {}
  for i = 1, n do
    plies[i] = ply
  end
  return plies
end

--- The plies with some laid on a face.
function work.laid_on(plies, extra, face)
  local out = {}
  local before, after = extra, plies
  if face == "inside" then
    before, after = plies, extra
  end
  table.move(before, 1, #before, 1, out)
  return table.move(after, 1, #after, #out + 1, out)
end

--- The face as the library calls it.
function work.face(face)
  return face == "inside" and "inner" or "outer"
end

--- The outermost cloth of the face, where no other is asked for.
function work.own_cloth(o)
  local ply = o.plies[o.face == "inside" and #o.plies or 1]
  if not ply.cloth then
    work.refuse("cloth", ("is missing: there is none on the %s to take it from"):format(o.face),
      "Name the cloth of the patch: --cloth glass-203-plain.")
  end
  return ply
end

--- Pull along, per width, at which something gives way.
function work.pull(laminate, criterion)
  return rw.q(laminate:first_failure { Nx = "1 N/m", criterion = criterion }.factor, "N/m")
end

--- Index of the wood nearest to a face, or nil.
function work.nearest_wood(plies, face)
  local from, to, step = 1, #plies, 1
  if face == "inside" then
    from, to, step = #plies, 1, -1
  end
  for i = from, to, step do
    if plies[i].wood then
      return i
    end
  end
end

local function properties(wood)
  for _, m in ipairs(rw.materials { kind = "wood" }) do
    if m.name == wood then
      return m.properties
    end
  end
end

--- Refuses a field that is not from low to high; `hint` may be left out.
function work.check_range(o, field, low, high, hint)
  if o[field] < rw.q(low) or o[field] > rw.q(high) then
    if o.units == "us" then
      low, high = rw.q(low):text(3), rw.q(high):text(3)
    end
    work.refuse(field, ("is %s, it must be from %s to %s"):format(o[field]:text(3), low, high),
      hint or "Is the unit right?")
  end
end

--- Rows on what the joint may bear: the glue, the wood below it, and the lesser of both.
function work.add_strength(s, o)
  work.check_range(o, "strength", "0.1 MPa", "100 MPa", "The maker's data sheet gives lap or bond "
    .. "shear strength, ten to some tens of MPa (common practice, no source).")
  if not (o.factor >= 1 and o.factor <= 20) then
    work.refuse("factor", "must be from 1 to 20", "1 uses the glue to its limit.")
  end
  local i = work.nearest_wood(o.plies, o.face)
  local shear = i and properties(o.plies[i].wood).shear_par
  sections.row(s, "glue_strength", "glue line, shear strength as given", o.strength)
  local used = o.strength
  if shear then
    sections.row(s, "wood_strength", ("%s, shear along its grain"):format(o.plies[i].wood),
      shear.value)
    used = shear.value < used and shear.value or used
  end
  sections.row(s, "strength", "taken, the lesser", used)
  sections.row(s, "factor", "factor of safety", rw.q(o.factor, "1"))
  if shear and used == shear.value then
    sections.note(s, "The wood below the cloth gives way to shear before the glue does.")
  end
  return used
end

--- Refuses what both jobs take.
function work.check(o, size)
  if o[size].length:si() <= 0 or o[size].width:si() <= 0 then
    work.refuse(size, ("is %s: both must be larger than zero"):format(
      work.size_words(o[size], o.units)))
  elseif not (o.waste >= 0 and o.waste <= 0.9) then
    work.refuse("waste", "must be from 0 % to 90 % of what is mixed")
  end
  work.check_range(o, "glue", "0.01 mm", "5 mm")
  for _, name in ipairs { "least_lap", "least_step" } do
    if o[name] and o[name]:si() <= 0 then
      work.refuse(name, "must be larger than zero")
    end
  end
end

--- A length to cut, up to the next 5 mm or quarter of an inch.
function work.rounded(q, units)
  if units == "us" then
    return rw.q(math.ceil(q:to "in" * 4 - 1e-9) / 4, "in")
  end
  return rw.q(math.ceil(q:to "mm" / 5 - 1e-9) * 5, "mm")
end

--- Whether a joint of this slope may be blunt; 1 is the least that the library gives.
function work.is_blunt(n)
  return n < 1.05
end

--- A slope for a reader.
function work.slope(n)
  if work.is_blunt(n) then
    return "no slope needed"
  end
  return "1 in " .. text.fixed(n, n < 3 and 1 or 0)
end

-- A length to cut: no feet where inches are read.
local function length_words(q, units)
  if units == "us" then
    return text.fixed(q:to "in", 2):gsub("%.?0+$", "") .. " in"
  end
  return q:text(4)
end

function work.size_words(size, units)
  return ("%s by %s"):format(length_words(size.length, units), length_words(size.width, units))
end

--- A size wider on every side.
function work.wider(size, along, across)
  return { length = size.length + along * 2, width = size.width + (across or along) * 2 }
end

local reasons = {
  small = "Smallest first: every layer has a rim of its own on sound skin and the last one covers "
    .. "all edges; but fairing the patch sands just that one.",
  large = "Largest first: it lies flat in one piece, and fairing sands only the edges of the "
    .. "smaller ones above; but these hang on the ones below and not on the skin.",
}

local function is_aramid(ply)
  return ply.cloth ~= nil and ply.cloth.fibre == "aramid"
end

--- Section of the sizes to cut, in the order of laying. `sizes` goes from the smallest up.
function work.add_cuts(plan, o, sizes)
  local s = sections.add(plan, "cuts", "Cut, in the order of laying")
  plan.cuts = {}
  for i = 1, #sizes do
    local size = sizes[o.first == "large" and #sizes + 1 - i or i]
    plan.cuts[i] = { length = work.rounded(size.length, o.units),
      width = work.rounded(size.width, o.units) }
    sections.row(s, "layer_" .. i, ("layer %d"):format(i),
      work.size_words(plan.cuts[i], o.units))
  end
  plan.largest = plan.cuts[o.first == "large" and 1 or #plan.cuts]
  if #sizes > 1 then
    sections.note(s, reasons[o.first] .. " Both orders are used (common practice, no source).")
  end
  if is_aramid(o.cloth) then
    sections.note(s, "Sanding aramid to nothing fuzzes: cover its edge with glass, and sand that "
      .. "(common practice, no source).")
  end
  sections.note(s, "Round the corners; sizes are those of the rectangles around them.")
end

local function area_of(size)
  return size.length * size.width
end

local function in_grams(q)
  return rw.q(q:to "g", "g")
end

-- Resin per area times an area, as an uncertain mass.
local function mass_over(per_area, area)
  return { low = in_grams(per_area.low * area), high = in_grams(per_area.high * area) }
end

-- Resin that lies between the crowns of the last layer, by the library's terms of a face.
local function weave_fill(cloth, area)
  local a = rw.amounts { area = area, layers = { cloth }, soak = "0 g/m2", cover = "0 mm",
    waste = 0, resin = rw.resin { class = "medium-cycloaliphatic" } }
  return { low = in_grams(a.fill.low), high = in_grams(a.fill.high) }
end

local function total(items)
  return rw.budget { items = items }.total
end

-- A range with a share of it lost on the way.
local function with_waste(range, waste)
  local more = 1 / (1 - waste)
  return total { { name = range.because or "resin",
    mass = { low = range.low * more, high = range.high * more } } }
end

--- Section of cloth, resin and weight for plan.cuts. `bare` is the area of bare wood, or nil;
-- `wood` is that wood.
function work.add_amounts(plan, o, layer, bare, wood)
  local s = sections.add(plan, "amounts", "Cloth, resin, weight")
  local area = area_of(plan.cuts[1])
  for i = 2, #plan.cuts do
    area = area + area_of(plan.cuts[i])
  end
  local cloth = o.cloth.cloth
  local dry = in_grams(cloth.areal_mass * area)
  local stays = { { name = "resin in the cloth",
    mass = mass_over(cloth:resin { layup = o.cloth.layup }, area) },
    { name = "filling the weave", mass = weave_fill(cloth, area_of(plan.largest)) } }
  if bare then
    stays[3] = { name = "what the wood drinks", mass = mass_over(properties(wood).soak, bare) }
  end
  local resin = total(stays)
  local mix = with_waste(resin, o.waste)
  stays[#stays + 1] = { name = "dry cloth", mass = dry }
  plan.amounts_of = { area = area, mix = mix, added = total(stays) }
  sections.row(s, "area", "cloth, all layers", area)
  sections.row(s, "dry", "cloth, dry", dry)
  sections.row(s, "resin", "resin and hardener that stay", resin)
  sections.row(s, "mix", ("resin and hardener to mix, %s wasted"):format(
    sections.say(o.waste)), mix)
  sections.row(s, "added", "added weight", plan.amounts_of.added)
  sections.row(s, "per_area", "weight of one layer, in resin", layer.areal_mass)
  if mix.high < rw.q "150 g" then
    sections.note(s, "So small a batch wants a scale that shows tenths of a gram, and the maker's "
      .. "ratio by weight.")
  end
  sections.note(s, "Resin fills the weave up to its crowns; coats above that, fairing and glue "
    .. "for new wood come on top.")
end

local function mass_words(range)
  return (tostring(range):gsub("; most of[^)]*", ""))
end

--- The section that stands first: what a builder wants to know before all else. `more` are rows
-- { key, label, value } before and after those on cloth and resin.
function work.add_short(plan, before, after)
  local s = sections.add(plan, "short", "In short")
  table.remove(plan.sections)
  table.insert(plan.sections, 1, s)
  local a = plan.amounts_of
  local rows = { { "layers", "lay", ("%d %s of %s"):format(plan.n,
    plan.n == 1 and "layer" or "layers", skinwords.layer(plan.layer.skins[1])) },
    { "largest", "largest layer", work.size_words(plan.largest, plan.o.units) } }
  table.move(before, 1, #before, #rows + 1, rows)
  table.move({ { "cloth", "cloth to cut from", a.area:text(3) },
    { "mix", "resin and hardener to mix", mass_words(a.mix) },
    { "added", "it adds", mass_words(a.added) } }, 1, 3, #rows + 1, rows)
  table.move(after, 1, #after, #rows + 1, rows)
  for _, r in ipairs(rows) do
    sections.row(s, r[1], r[2], r[3])
  end
end

-- ---------------------------------------------------------------- forms

--- The plan as JSON: its sections, and the sizes to cut as numbers.
function work.json(plan)
  local cuts, unit = {}, plan.o.units == "us" and "in" or "mm"
  for i, cut in ipairs(plan.cuts) do
    cuts[i] = { length = cut.length:to(unit), width = cut.width:to(unit), unit = unit }
  end
  return json.encode(sections.into({ name = plan.name, note = plan.note,
    sizes = json.array(cuts), cautions = json.array(work.cautions) }, plan), 2)
end

--- A page: the parts given, all sections, the cautions.
function work.page(plan, head, parts, say)
  for _, s in ipairs(plan.sections) do
    parts[#parts + 1] = { heading = s.title, body = sections.body(s, say) }
  end
  parts[#parts + 1] = { heading = "Cautions", body = report.caution(work.cautions) }
  return report.page { title = head, note = plan.note, sections = parts }
end

return work
