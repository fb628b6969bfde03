-- SPDX-License-Identifier: GPL-3.0-or-later
-- Which cloth, on which face, how many layers? Every way to lay a boat's faces with some cloths,
-- worked out and ranked: as text, CSV, JSON, a picture and a page.
--
-- clothchoice.make { boat, cloths, face, layers, angles, wishes, ... } asks the library; the
-- others print what it gives. All numbers come from the library.
local rw = require "resinwright"
local boats = require "resinwright.boat"
local chart = require "resinwright.chart"
local json = require "resinwright.json"
local report = require "resinwright.report"
local sections = require "resinwright.sections"

local clothchoice = {}

clothchoice.cautions = {
  "Comparison and shop planning only, not an approval; scantling rules, survey and licensed "
    .. "practice decide; wood scatter is real.",
  "Strengths are good to a factor of two. Knots, slope of grain, glue lines and bad wetting are "
    .. "left out. Wood may crack across its grain long before a skin gives way.",
}

-- Loads as rw.layups names them, and as a laminate takes them.
local PUSHES = { hit = { Mx = "1 N", My = "1 N" }, heel = { Mx = "-1 N", My = "-1 N" } }

local columns = {
  { key = "mass", title = "mass", words = "mass of wood and cloth in resin" },
  { key = "thickness", title = "thick", words = "thickness" },
  { key = "resin", title = "resin", words = "resin in all layers" },
  { key = "cost", title = "cost", unit = "money/m2", words = "cost of cloth and resin" },
  { key = "bend_along", title = "stiff", under = "along",
    words = "bending stiffness along, per width" },
  { key = "bend_across", title = "stiff", under = "across",
    words = "bending stiffness across, per width" },
  { key = "hit", title = "hit: first", under = "damage", strong = true,
    words = "moment per width at first damage, hit from outside" },
  { key = "hit_skins", title = "hit: skins", under = "hold", strong = true,
    words = "moment per width that the skins hold, hit from outside" },
  { key = "heel", title = "heel: first", under = "damage", strong = true,
    words = "moment per width at first damage, pushed from inside" },
  { key = "heel_skins", title = "heel: skins", under = "hold", strong = true,
    words = "moment per width that the skins hold, pushed from inside" },
}
local strengths = { "hit", "hit_skins", "heel", "heel_skins" }

-- What a wish may name.
clothchoice.measures = {}
for i, c in ipairs(columns) do
  clothchoice.measures[i] = c.key
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

-- Whether a face has the same cloth at the same angle all through: then it is one way to lay it.
local function is_alike(f)
  for i, cloth in ipairs(f.layers) do
    if cloth.name ~= f.layers[1].name or cloth.areal_mass ~= f.layers[1].areal_mass
      or f.angles[i] ~= f.angles[1] then
      return false
    end
  end
  return true
end

-- A plank, or nil for the boat's own wood, with the layers of a face that stays as it is where
-- these are unlike: they count with the wood.
local function core_of(b, stays, plank)
  local core, face = {}, "outside"
  for _, ply in ipairs((boats.plies(b))) do
    if ply.wood then
      core[#core + 1] = not plank and ply or face == "outside" and plank or nil
      face = "inside"
    elseif stays[face] and not is_alike(b[face]) then
      core[#core + 1] = ply
    end
  end
  return rw.laminate { plies = core }
end

-- A face that stays as it is; nil where it counts with the wood.
local function same_face(f, prices)
  if not f or not is_alike(f) then
    return nil
  end
  local cloth = f.layers[1]
  return { kinds = { { layer = one_layer(cloth, f.layup), price = prices[cloth.name] } },
    angles = { f.angles[1] or "0 deg" }, least = #f.layers, most = #f.layers }
end

local function layups(o, exchanged, planks)
  local b, stays = o.boat, {}
  local set = { resin_price = o.resin_price, strengths = strengths, progress = o.progress }
  for _, face in ipairs { "outside", "inside" } do
    if exchanged[face] then
      set[face] = { kinds = kinds_of(o.cloths, b[face].layup, o.prices), angles = o.angles,
        least = o.layers.least, most = o.layers.most }
    else
      stays[face] = true
      set[face] = same_face(b[face], o.prices)
    end
  end
  set.cores = {}
  for i = 1, math.max(1, #planks) do
    set.cores[i] = { laminate = core_of(b, stays, planks[i]) }
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

-- Cloth before the first wood, and after the last one, and the first wood.
local function faces_of(lam)
  local skins, first, last = lam.skins, nil, nil
  for i, s in ipairs(skins) do
    if not s.fibre_share then
      first, last = first or i, i
    end
  end
  return face_words(table.move(skins, 1, first - 1, 1, {})),
    face_words(table.move(skins, last + 1, #skins, 1, {})),
    ("%s %s"):format(skins[first].name, skins[first].thickness:text(3))
end

local function failure_words(lam, push, among)
  local load = { criterion = "tsai_wu", among = among, Mx = PUSHES[push].Mx, My = PUSHES[push].My }
  local f = lam:first_failure(load)
  if not f.ply then
    return nil
  end
  return ("%s, %s face: %s"):format(f.name, f.face, f.mode)
end

local function row_of(set, number, with_plank)
  local row, lam = set:at { number = number }, set:laminate { number = number }
  row.outside, row.inside, row.plank = faces_of(lam)
  row.plank = with_plank and row.plank or nil
  row.bend_along_range, row.bend_across_range = lam.bend_along, lam.bend_across
  row.first = {}
  for push in pairs(PUSHES) do
    row.first[push] = failure_words(lam, push, "all")
    row.first[push .. "_skins"] = failure_words(lam, push, "cloth")
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

local function has(list, number)
  for _, n in ipairs(list) do
    if n == number then
      return true
    end
  end
  return false
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

-- Whether the price of all cloth that is planned is known.
local function is_priced(o)
  for _, face in ipairs { "outside", "inside" } do
    for _, cloth in ipairs(o.boat[face] and o.boat[face].layers or {}) do
      if not o.prices[cloth.name] then
        return false
      end
    end
  end
  return true
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
  plan.against = against_mass(o.wishes)
  plan.front = set:front { wishes = o.wishes }
  plan.line = set:front { wishes = { { measure = "mass" }, { measure = plan.against } } }
  for _, r in ipairs(chosen(plan, o.show)) do
    local row = row_of(set, r.number, #o.planks > 0)
    row.place_of_wish = r.place
    plan.rows[#plan.rows + 1] = row
  end
  table.sort(plan.rows, function(x, y)
    return x.mass < y.mass or x.mass == y.mass and x.place_of_wish < y.place_of_wish
  end)
  hold(plan, o)
  plan.planned = row_of(layups(o, {}, {}), 1, #o.planks > 0)
  plan.planned.cost = is_priced(o) and plan.planned.cost or nil
  return plan
end

-- --- text ------------------------------------------------------------------------------------

local function columns_of(plan)
  local shown = {}
  for _, c in ipairs(columns) do
    if c.key ~= "cost" or plan.priced then
      shown[#shown + 1] = c
    end
  end
  return shown
end

-- The unit of a column all through.
local function unit_of(plan, column)
  for _, row in ipairs(plan.rows) do
    if row[column.key] then
      return column.unit or row[column.key]:unit()
    end
  end
  return column.unit or "-"
end

local function number_words(x, digits)
  return ("%%.%dg"):format(digits or 3):format(x):gsub(",", ".")
end

local function cell(plan, row, column)
  local value = row[column.key]
  return value and number_words(value:to(unit_of(plan, column)), 4) or "none"
end

local function wish_words(plan)
  local parts = {}
  for i, w in ipairs(plan.wishes) do
    parts[i] = w.measure .. (w.weight ~= 1 and (" times %g"):format(w.weight):gsub(",", ".") or "")
  end
  return table.concat(parts, ", ")
end

local function faces_words(plan)
  return plan.faces.outside and plan.faces.inside and "both faces"
    or plan.faces.outside and "the outside" or "the inside"
end

local function head(plan)
  return ("%s: %d layups of %s compared"):format(plan.name, plan.set.count, faces_words(plan))
end

local function line_of(first, read, shown)
  local line = { ("%-8s"):format(first) }
  for _, c in ipairs(shown) do
    line[#line + 1] = ("%12s"):format(read(c))
  end
  return (table.concat(line):gsub("%s+$", ""))
end

local function layup_words(row)
  return ("outside %s; inside %s%s"):format(row.outside, row.inside,
    row.plank and "; " .. row.plank or "")
end

local function trial_words(row)
  local p = row.place
  local places = p.best < p.worst and " to " .. number_words(p.worst) or ""
  return ("first in %.0f %%, place %s%s"):format(100 * p.first, number_words(p.best), places)
end

local function stiffness_words(row)
  local along, across = row.bend_along_range, row.bend_across_range
  return ("stiff along %s to %s, across %s to %s"):format(along.low:text(3), along.high:text(3),
    across.low:text(3), across.high:text(3))
end

local function label_of(row)
  return row.place_of_wish and ("%d"):format(row.place_of_wish) or "planned"
end

-- What gives way first under a load: words and the layups of which they are true.
local function first_of(plan, key)
  local groups, by_words = {}, {}
  for i = 1, #plan.rows + 1 do
    local row = plan.rows[i] or plan.planned
    local words = row.first[key] or "nothing gives way"
    if not by_words[words] then
      by_words[words] = { words = words, labels = {} }
      groups[#groups + 1] = by_words[words]
    end
    local labels = by_words[words].labels
    labels[#labels + 1] = label_of(row)
  end
  for _, g in ipairs(groups) do
    g.who = #groups == 1 and "all" or table.concat(g.labels, ", ")
  end
  return groups
end

local function explained(plan)
  return {
    ("Shown are %d of the %d that no other one beats, from light to heavy, each with its place")
      :format(#plan.rows, #plan.front),
    ("by the wish (%s). In a wish a tenth of the best of all counts as one, times its weight.")
      :format(wish_words(plan)),
    "hit: bent both ways by a hit from outside, the inside is stretched; heel: from inside.",
    "First damage is to anything, often a crack of the wood across its grain; skins hold until a",
    "layer of cloth gives way; both as moment per width (N m/m). mass: wood and cloth in resin,",
    "without fill coats." .. (plan.priced and " cost: cloth and the resin in it." or ""),
    ("In %d trials the wood's moduli differ by %s and the resin in the cloth by %s (standard")
      :format(plan.trials, plan.wood_scatter, plan.resin_scatter),
    "deviations), alike for all: how often a layup comes first of those shown, and its places.",
  }
end

local function add_rows(lines, plan)
  local shown = {}
  for _, c in ipairs(columns_of(plan)) do
    shown[#shown + 1] = c.key ~= "thickness" and c or nil
  end
  for _, key in ipairs { "title", "under", "unit" } do
    lines[#lines + 1] = line_of(key == "title" and "place" or "", function(c)
      return key == "unit" and unit_of(plan, c) or c[key] or ""
    end, shown)
  end
  for i = 1, #plan.rows + 1 do
    local row = plan.rows[i] or plan.planned
    lines[#lines + 1] = line_of(("%3s"):format(label_of(row)), function(c)
      return cell(plan, row, c)
    end, shown)
  end
end

function clothchoice.text(plan)
  local lines = { head(plan) .. (plan.note and " (" .. plan.note .. ")" or ""), "" }
  add_rows(lines, plan)
  lines[#lines + 1] = ""
  for i = 1, #plan.rows + 1 do
    local row = plan.rows[i] or plan.planned
    lines[#lines + 1] = ("%3s  %s"):format(label_of(row), layup_words(row))
    lines[#lines + 1] = ("     %s%s"):format(stiffness_words(row),
      row.place and "; trials: " .. trial_words(row) or "")
  end
  lines[#lines + 1] = ""
  lines[#lines + 1] = "What gives way first"
  for _, key in ipairs(strengths) do
    for _, g in ipairs(first_of(plan, key)) do
      lines[#lines + 1] = ("  %-11s %s (%s)"):format(key:gsub("_", " "), g.words, g.who)
    end
  end
  lines[#lines + 1] = ""
  for _, words in ipairs(explained(plan)) do
    lines[#lines + 1] = words
  end
  lines[#lines + 1] = ""
  lines[#lines + 1] = "Cautions"
  for _, c in ipairs(clothchoice.cautions) do
    lines[#lines + 1] = "  * " .. c
  end
  return table.concat(lines, "\n") .. "\n"
end

-- --- data ------------------------------------------------------------------------------------

-- All that no other one beats, by their place, each as a row of numbers.
function clothchoice.csv(plan)
  local shown = columns_of(plan)
  local names = { "place", "outside", "inside", plan.with_plank and "plank" or nil }
  for _, c in ipairs(shown) do
    names[#names + 1] = ("%s [%s]"):format(c.key, unit_of(plan, c))
  end
  local lines = { json.csv(names) }
  local function add(place, row)
    local line = { place, row.outside, row.inside, row.plank }
    for _, c in ipairs(shown) do
      line[#line + 1] = row[c.key] and row[c.key]:to(unit_of(plan, c)) or ""
    end
    lines[#lines + 1] = json.csv(line)
  end
  for place, r in ipairs(plan.set:rank { wishes = plan.wishes, numbers = plan.front,
    top = #plan.front }) do
    add(place, row_of(plan.set, r.number, plan.with_plank))
  end
  add("planned", plan.planned)
  return table.concat(lines, "\n") .. "\n"
end

local function plain(plan, row)
  local out = { outside = row.outside, inside = row.inside, plank = row.plank, first = row.first,
    place = row.place_of_wish }
  for _, c in ipairs(columns_of(plan)) do
    local unit = unit_of(plan, c)
    out[c.key] = row[c.key] and { value = row[c.key]:to(unit), unit = unit }
  end
  for _, key in ipairs { "bend_along", "bend_across" } do
    out[key] = sections.parts(row[key .. "_range"])
  end
  if row.place then
    out.trials = { first = row.place.first, rank = row.place.rank, best = row.place.best,
      worst = row.place.worst }
  end
  return out
end

function clothchoice.json(plan)
  local rows, wishes = {}, {}
  for i, row in ipairs(plan.rows) do
    rows[i] = plain(plan, row)
  end
  for i, w in ipairs(plan.wishes) do
    wishes[i] = { measure = w.measure, weight = w.weight }
  end
  return json.encode({ name = plan.name, note = plan.note, compared = plan.set.count,
    unbeaten = #plan.front, trials = plan.trials, wishes = json.array(wishes),
    layups = json.array(rows), planned = plain(plan, plan.planned),
    cautions = json.array(clothchoice.cautions) }, 2)
end

-- --- picture and page ------------------------------------------------------------------------

local function column_named(key)
  for _, c in ipairs(columns) do
    if c.key == key then
      return c
    end
  end
end

-- Mass and the other measure of a row as numbers.
local function point_of(plan, row)
  local c = column_named(plan.against)
  local y = row[plan.against]
  return row.mass:to(unit_of(plan, columns[1])), y and y:to(unit_of(plan, c))
end

local CLOUD = 4000 -- marks are not told apart beyond

local function cloud_of(plan)
  local cloud, every = {}, math.max(1, math.ceil(plan.set.count / CLOUD))
  for number = 1, plan.set.count, every do
    local x, y = point_of(plan, plan.set:at { number = number })
    cloud[#cloud + 1] = y and { x, y }
  end
  return cloud
end

-- What no other layup beats in these two measures is joined; the rows shown have their place.
function clothchoice.picture(plan)
  local points, shown, cloud = {}, {}, cloud_of(plan)
  local legend = { ("Grey: %d of the %d layups compared."):format(#cloud, plan.set.count) }
  for _, row in ipairs(plan.rows) do
    local x, y = point_of(plan, row)
    points[#points + 1] = { label = label_of(row), x = x, y = y,
      frontier = has(plan.line, row.number) }
    legend[#legend + 1] = ("%s: %s"):format(label_of(row), layup_words(row))
    shown[row.number] = true
  end
  for _, number in ipairs(plan.line) do
    if not shown[number] then
      local x, y = point_of(plan, plan.set:at { number = number })
      points[#points + 1] = { label = "", x = x, y = y, frontier = true }
    end
  end
  local x, y = point_of(plan, plan.planned)
  points[#points + 1] = { label = "planned", x = x, y = y }
  legend[#legend + 1] = "planned: " .. layup_words(plan.planned)
  local c = column_named(plan.against)
  return chart.scatter { id = "layups", points = points, cloud = cloud, legend = legend,
    title = head(plan),
    x_label = ("mass of wood and cloth in resin, %s"):format(unit_of(plan, columns[1])),
    y_label = ("%s, %s"):format(c.words, unit_of(plan, c)) }
end

local function layups_node(plan)
  local rows = {}
  for i = 1, #plan.rows + 1 do
    local row = plan.rows[i] or plan.planned
    rows[i] = { label_of(row), row.outside, row.inside, row.place and trial_words(row) or "",
      row.plank }
  end
  return report.table { columns = { "place", "outside", "inside", "with other wood and resin",
    plan.with_plank and "plank" or nil }, rows = rows }
end

-- Columns of strength, or the others.
local function numbers_node(plan, of_strength)
  local shown, titles, rows = {}, { "place" }, {}
  for _, c in ipairs(columns_of(plan)) do
    shown[#shown + 1] = (c.strong or false) == of_strength and c or nil
  end
  for _, c in ipairs(shown) do
    titles[#titles + 1] = ("%s%s, %s"):format(c.title, c.under and " " .. c.under or "",
      unit_of(plan, c))
  end
  for i = 1, #plan.rows + 1 do
    local row = plan.rows[i] or plan.planned
    rows[i] = { label_of(row) }
    for k, c in ipairs(shown) do
      rows[i][k + 1] = cell(plan, row, c)
    end
  end
  return report.table { columns = titles, rows = rows }
end

local function first_node(plan)
  local rows = {}
  for _, key in ipairs(strengths) do
    for _, g in ipairs(first_of(plan, key)) do
      rows[#rows + 1] = { (key:gsub("_", " ")), g.words, g.who }
    end
  end
  return report.table { columns = { "load", "what gives way first", "in the layups" },
    rows = rows }
end

function clothchoice.page(plan)
  local caption = "Joined: those that no other one beats in these two measures."
  return report.page { title = head(plan), note = plan.note, sections = {
    { heading = "Strength against weight", body = report.figure(clothchoice.picture(plan),
      caption) },
    { heading = "What no other layup beats", body = { layups_node(plan),
      table.concat(explained(plan), " ") } },
    { heading = "Weight and stiffness", body = numbers_node(plan, false) },
    { heading = "Strength: moment per width", body = numbers_node(plan, true) },
    { heading = "What gives way first", body = first_node(plan) },
    { heading = "Cautions", body = report.caution(clothchoice.cautions) },
  } }
end

return clothchoice
