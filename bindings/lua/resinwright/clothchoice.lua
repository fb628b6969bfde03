-- SPDX-License-Identifier: GPL-3.0-or-later
-- Which cloth, on which face, how many layers? Every way to lay a boat's faces with some cloths,
-- worked out and ranked by a wish. clothtable tells it in words and numbers, clothpage draws it.
--
-- clothchoice.make { boat, cloths, face, layers, angles, planks, wishes, ... } asks the library.
-- All numbers come from the library.
local rw = require "resinwright"
local boats = require "resinwright.boat"

local clothchoice = {}

clothchoice.cautions = {
  "Comparison and shop planning only, not an approval; scantling rules, survey and licensed "
    .. "practice decide; wood scatter is real.",
  "Strengths are good to a factor of two. Knots, slope of grain, glue lines and bad wetting are "
    .. "left out. Wood may crack across its grain long before a skin gives way.",
}

-- --- measures --------------------------------------------------------------------------------

local plain = {
  { key = "mass", base = "kg/m2", title = "mass", words = "mass of wood and cloth in resin" },
  { key = "thickness", base = "m", title = "thickness", words = "thickness" },
  { key = "resin", base = "kg/m2", title = "resin", words = "resin in all layers" },
  { key = "cost", title = "cost", unit = "money/m2", words = "cost of cloth and resin" },
  { key = "bend_along", base = "N m", title = "stiff", under = "along",
    words = "bending stiffness along, per width" },
  { key = "bend_across", base = "N m", title = "stiff", under = "across",
    words = "bending stiffness across, per width" },
}

-- Loads as rw.layups names them and as a laminate takes them.
local pushes = {
  { key = "hit", title = "hit", words = "hit from outside", load = { Mx = "1 N", My = "1 N" } },
  { key = "heel", title = "heel", words = "pushed from inside",
    load = { Mx = "-1 N", My = "-1 N" } },
  { key = "bending_along", title = "bent along", words = "bent along from outside",
    load = { Mx = "1 N" } },
  { key = "bending_across", title = "bent across", words = "bent across from outside",
    load = { My = "1 N" } },
  { key = "tension_along", title = "pulled along", words = "pulled along", pull = true,
    load = { Nx = "1 N/m" } },
  { key = "tension_across", title = "pulled across", words = "pulled across", pull = true,
    load = { Ny = "1 N/m" } },
}
local places = {
  { key = "", title = "first damage", words = "at first damage", among = "all" },
  { key = "_skins", title = "skins hold", words = "that both skins hold", among = "cloth" },
  { key = "_outside", title = "outside holds", words = "that the outer skin holds",
    among = "outside" },
  { key = "_inside", title = "inside holds", words = "that the inner skin holds",
    among = "inside" },
  { key = "_core", title = "wood holds", words = "that the wood holds", among = "wood" },
}

-- Strengths that are always worked out; those of a wish are added.
local usual = { "hit", "hit_skins", "hit_outside", "hit_inside", "heel", "heel_skins",
  "heel_outside", "heel_inside" }

-- What a wish may name, and all about each by its name.
clothchoice.measures, clothchoice.measure = {}, {}

local function add_measure(m)
  clothchoice.measures[#clothchoice.measures + 1] = m.key
  clothchoice.measure[m.key] = m
end

for _, m in ipairs(plain) do
  add_measure(m)
end
for _, push in ipairs(pushes) do
  for _, place in ipairs(places) do
    add_measure { key = push.key .. place.key, strong = true, title = push.title,
      under = place.title, base = push.pull and "N/m" or "N", load = push.load,
      among = place.among,
      words = ("%s per width %s, %s"):format(push.pull and "pull" or "moment", place.words,
        push.words) }
  end
end

-- The strengths of a plan: the usual ones and those of its wishes.
local function strengths_of(wishes)
  local list, seen = {}, {}
  local function add(key)
    if clothchoice.measure[key].strong and not seen[key] then
      list[#list + 1], seen[key] = key, true
    end
  end
  for _, key in ipairs(usual) do
    add(key)
  end
  for _, w in ipairs(wishes) do
    add(w.measure)
  end
  return list
end

-- The measures of a plan, in order; of_strength: only strengths, or only the others.
function clothchoice.columns(plan, of_strength)
  local shown = {}
  for _, m in ipairs(plain) do
    if of_strength ~= true and (m.key ~= "cost" or plan.priced) then
      shown[#shown + 1] = m
    end
  end
  for _, key in ipairs(of_strength ~= false and plan.strengths or {}) do
    shown[#shown + 1] = clothchoice.measure[key]
  end
  return shown
end

-- The unit of a measure all through a plan: in which the first that has some of it is read.
function clothchoice.unit(plan, m)
  for _, row in ipairs(plan.rows) do
    if row[m.key] and row[m.key]:si() ~= 0 then
      return m.unit or row[m.key]:unit()
    end
  end
  return m.unit or rw.q(1, m.base):unit()
end

-- --- asking ----------------------------------------------------------------------------------

local function one_layer(cloth, layup)
  return rw.laminate { plies = { { cloth = cloth, layup = layup } } }
end

-- Prices by the name of the cloth.
local function kinds_of(cloths, layup, prices)
  local kinds = {}
  for i, name in ipairs(cloths) do
    kinds[i] = { layer = one_layer(rw.cloth { name = name }, layup), price = prices[name] }
  end
  return kinds
end

-- A plank, or nil for the boat's own wood, with the layers of a face that stays as it is; what
-- these layers cost.
local function core_of(b, stays, plank, prices)
  local core, face, price = {}, "outside", rw.q "0 money/m2"
  for _, ply in ipairs((boats.plies(b))) do
    if ply.wood then
      core[#core + 1] = not plank and ply or face == "outside" and plank or nil
      face = "inside"
    elseif stays[face] then
      core[#core + 1] = ply
      price = price + rw.q(prices[ply.cloth.name] or "0 money/m2")
    end
  end
  return { laminate = rw.laminate { plies = core }, price = price }
end

local function layups(o, exchanged, planks)
  local b = o.boat
  local stays = { outside = not exchanged.outside, inside = not exchanged.inside }
  local set = { resin_price = o.resin_price, strengths = strengths_of(o.wishes),
    progress = o.progress }
  for _, face in ipairs { "outside", "inside" } do
    if exchanged[face] then
      set[face] = { kinds = kinds_of(o.cloths, b[face].layup, o.prices), angles = o.angles,
        least = o.layers.least, most = o.layers.most }
    end
  end
  set.cores = {}
  for i = 1, math.max(1, #planks) do
    set.cores[i] = core_of(b, stays, planks[i], o.prices)
  end
  local made, why = rw.layups(set)
  return made or error({ message = why }, 0)
end

-- --- telling ---------------------------------------------------------------------------------

local function angle_words(angle)
  local degrees = angle:to "deg"
  return degrees == 0 and "" or (" at %.3g deg"):format(degrees):gsub(",", ".")
end

-- "2 glass-136-plain" for equal neighbours.
local function face_words(skins)
  local parts, last = {}, nil
  for _, s in ipairs(skins) do
    local words = s.name .. angle_words(s.angle)
    if last and last.words == words then
      last.count = last.count + 1
    else
      last = { words = words, count = 1 }
      parts[#parts + 1] = last
    end
  end
  for i, p in ipairs(parts) do
    parts[i] = p.count > 1 and ("%d times %s"):format(p.count, p.words) or p.words
  end
  return #parts > 0 and table.concat(parts, ", ") or "nothing"
end

-- Cloth before the first wood, and after the last one, and the wood.
local function faces_of(lam)
  local skins, wood, first, last = lam.skins, rw.q "0 mm", nil, nil
  for i, s in ipairs(skins) do
    if not s.fibre_share then
      first, last, wood = first or i, i, wood + s.thickness
    end
  end
  return face_words(table.move(skins, 1, first - 1, 1, {})),
    face_words(table.move(skins, last + 1, #skins, 1, {})),
    ("%s %s"):format(skins[first].name, wood:text(3))
end

-- On which side of the wood a ply lies, counted from the outside; nil for the wood.
local function side_of(lam, ply)
  local side = "outside"
  for _, s in ipairs(lam.skins) do
    if s.ply == ply then
      return s.fibre_share and side or nil
    end
    side = s.fibre_share and side or "inside"
  end
end

local function failure_words(lam, m)
  local asked = { criterion = "tsai_wu", among = m.among }
  for field, value in pairs(m.load) do
    asked[field] = value
  end
  local f = lam:first_failure(asked)
  if not f.ply then
    return nil
  end
  local side = side_of(lam, f.ply)
  return ("%s%s: %s"):format(f.name, side and " " .. side or ", " .. f.face .. " face", f.mode)
end

function clothchoice.row(set, number, with_plank)
  local row, lam = set:at { number = number }, set:laminate { number = number }
  row.outside, row.inside, row.plank = faces_of(lam)
  row.plank = with_plank and row.plank or nil
  row.bend_along_range, row.bend_across_range = lam.bend_along, lam.bend_across
  row.first = {}
  for _, key in ipairs(set.strengths) do
    row.first[key] = row[key] and failure_words(lam, clothchoice.measure[key])
  end
  return row
end

-- The measure on the picture's other axis: the first wish that is not the mass.
local function against_mass(wishes)
  for _, w in ipairs(wishes) do
    if w.measure ~= "mass" then
      return w.measure
    end
  end
  return "hit_skins"
end

-- Trials with other wood and other resin, for the rows shown.
local function hold(plan, o)
  local numbers = {}
  for i, row in ipairs(plan.rows) do
    numbers[i] = row.number
  end
  plan.trials = o.draws
  for i, p in ipairs(plan.set:stability { numbers = numbers, wishes = plan.wishes,
    wood = o.wood_scatter, resin = o.resin_scatter, draws = o.draws }) do
    plan.rows[i].place = p
  end
end

-- The first cloth without a price on the faces of a boat that are asked for.
function clothchoice.unpriced(b, prices, faces)
  for _, face in ipairs { "outside", "inside" } do
    for _, cloth in ipairs(faces[face] and b[face] and b[face].layers or {}) do
      if not prices[cloth.name] then
        return cloth.name
      end
    end
  end
end

-- Of those that no other one beats the best by the wish, and of the rest some from the lightest
-- to the heaviest, so that the whole choice is seen.
local function chosen(plan, count)
  local ranked = plan.set:rank { wishes = plan.wishes, numbers = plan.front, top = #plan.front }
  local best = #ranked <= count and #ranked or math.ceil(count / 2)
  local rest = {}
  for place, r in ipairs(ranked) do
    r.place = place
    if place > best then
      r.mass = plan.set:at { number = r.number }.mass
      rest[#rest + 1] = r
    end
  end
  table.sort(rest, function(x, y)
    return x.mass < y.mass or x.mass == y.mass and x.place < y.place
  end)
  local list, more = table.move(ranked, 1, best, 1, {}), math.min(count - best, #rest)
  for i = 1, more do
    list[#list + 1] = rest[more > 1 and 1 + (i - 1) * (#rest - 1) // (more - 1) or 1]
  end
  return list
end

function clothchoice.make(o)
  local exchanged = { outside = o.face ~= "inside",
    inside = o.face ~= "outside" and o.boat.inside ~= nil }
  local set = layups(o, exchanged, o.planks)
  local plan = { set = set, name = o.boat.name, note = o.boat.note, wishes = o.wishes, rows = {},
    faces = exchanged, priced = next(o.prices) ~= nil,
    wood_scatter = o.wood_scatter, resin_scatter = o.resin_scatter }
  plan.with_plank = #o.planks > 0
  plan.strengths = set.strengths
  plan.against = against_mass(o.wishes)
  plan.front = set:front { wishes = o.wishes }
  plan.line = set:front { wishes = { { measure = "mass" }, { measure = plan.against } } }
  for _, r in ipairs(chosen(plan, o.show)) do
    local row = clothchoice.row(set, r.number, #o.planks > 0)
    row.place_of_wish = r.place
    plan.rows[#plan.rows + 1] = row
  end
  table.sort(plan.rows, function(x, y)
    return x.mass < y.mass or x.mass == y.mass and x.place_of_wish < y.place_of_wish
  end)
  hold(plan, o)
  plan.planned = clothchoice.row(layups(o, {}, {}), 1, #o.planks > 0)
  if clothchoice.unpriced(o.boat, o.prices, { outside = true, inside = true }) then
    plan.planned.cost = nil
  end
  return plan
end

return clothchoice
