-- SPDX-License-Identifier: GPL-3.0-or-later
-- What clothchoice.make found, in words and numbers: text, CSV, JSON.
local clothchoice = require "resinwright.clothchoice"
local json = require "resinwright.json"
local sections = require "resinwright.sections"

local clothtable = {}

local function number_words(x, digits)
  return ("%%.%dg"):format(digits or 3):format(x):gsub(",", ".")
end

local function cell(plan, row, column)
  local value = row[column.key]
  return value and number_words(value:to(clothchoice.unit(plan, column)), 4) or "none"
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
    line[#line + 1] = ("%14s"):format(read(c))
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

-- The rows shown, and after them what is planned.
function clothtable.all_rows(plan)
  local rows = table.move(plan.rows, 1, #plan.rows, 1, {})
  rows[#rows + 1] = plan.planned
  return rows
end

local function label_of(row)
  return row.place_of_wish and ("%d"):format(row.place_of_wish) or "planned"
end

-- What gives way first under a load: words and the layups of which they are true.
local function first_of(plan, key)
  local groups, by_words = {}, {}
  for _, row in ipairs(clothtable.all_rows(plan)) do
    local words = row.first[key] or "nothing gives way"
    if not by_words[words] then
      by_words[words] = { load = key:gsub("_", " "), words = words, labels = {} }
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

-- The strengths of a plan that stand in all of its tables, or that its wishes name.
local function strengths_where(plan, is_shown)
  local shown, wished = {}, {}
  for _, w in ipairs(plan.wishes) do
    wished[w.measure] = true
  end
  for _, c in ipairs(clothchoice.columns(plan, true)) do
    if wished[c.key] or is_shown(c.among) then
      shown[#shown + 1] = c
    end
  end
  return shown
end

-- Strengths in the tables: of anything, and by face.
function clothtable.strong(plan)
  return strengths_where(plan, function(among)
    return among ~= "cloth"
  end)
end

-- What gives way first: of anything.
function clothtable.first(plan)
  local list = {}
  for _, c in ipairs(strengths_where(plan, function(among)
    return among == "all"
  end)) do
    local groups = first_of(plan, c.key)
    table.move(groups, 1, #groups, #list + 1, list)
  end
  return list
end

function clothtable.explained(plan)
  return {
    ("Shown are %d of the %d that no other one beats, from light to heavy, each with its place")
      :format(#plan.rows, #plan.front),
    ("by the wish (%s). In a wish a tenth of the best of all counts as one, times its weight.")
      :format(wish_words(plan)),
    "hit: bent both ways by a hit from outside, the inside is stretched; heel: from inside.",
    "First damage is to anything, often a crack of the wood across its grain; a skin holds until",
    "a layer of its cloth gives way, by the quadratic criterion of all stresses; moments and",
    "pulls are per width. mass: wood and cloth in resin, without fill coats."
      .. (plan.priced and " cost: cloth and the resin in it." or ""),
    ("In %d trials the wood's moduli differ by %s and the resin in the cloth by %s (standard")
      :format(plan.trials, plan.wood_scatter, plan.resin_scatter),
    "deviations), alike for all: how often a layup comes first of those shown, and its places.",
  }
end

local function add_rows(lines, plan, shown)
  for _, key in ipairs { "title", "under", "unit" } do
    lines[#lines + 1] = line_of(key == "title" and "place" or "", function(c)
      return key == "unit" and clothchoice.unit(plan, c) or c[key] or ""
    end, shown)
  end
  for _, row in ipairs(clothtable.all_rows(plan)) do
    lines[#lines + 1] = line_of(("%3s"):format(label_of(row)), function(c)
      return cell(plan, row, c)
    end, shown)
  end
  lines[#lines + 1] = ""
end

function clothtable.text(plan)
  local lines = { head(plan) .. (plan.note and " (" .. plan.note .. ")" or ""), "" }
  add_rows(lines, plan, clothchoice.columns(plan, false))
  add_rows(lines, plan, clothtable.strong(plan))
  for _, row in ipairs(clothtable.all_rows(plan)) do
    lines[#lines + 1] = ("%3s  %s"):format(label_of(row), layup_words(row))
    lines[#lines + 1] = ("     %s%s"):format(stiffness_words(row),
      row.place and "; trials: " .. trial_words(row) or "")
  end
  lines[#lines + 1] = ""
  lines[#lines + 1] = "What gives way first"
  local groups, width = clothtable.first(plan), 0
  for _, g in ipairs(groups) do
    width = math.max(width, #g.load)
  end
  for _, g in ipairs(groups) do
    lines[#lines + 1] = ("  %s%s %s (%s)"):format(g.load, (" "):rep(width - #g.load), g.words,
      g.who)
  end
  lines[#lines + 1] = ""
  for _, words in ipairs(clothtable.explained(plan)) do
    lines[#lines + 1] = words
  end
  lines[#lines + 1] = ""
  lines[#lines + 1] = "Cautions"
  for _, c in ipairs(clothchoice.cautions) do
    lines[#lines + 1] = "  * " .. c
  end
  return table.concat(lines, "\n") .. "\n"
end

-- All that no other one beats, by their place, each as a row of numbers.
function clothtable.csv(plan)
  local shown = clothchoice.columns(plan)
  local names = { "place", "outside", "inside", plan.with_plank and "plank" or nil }
  for _, c in ipairs(shown) do
    names[#names + 1] = ("%s [%s]"):format(c.key, clothchoice.unit(plan, c))
  end
  local lines = { json.csv(names) }
  local function add(place, row)
    local line = { place, row.outside, row.inside, row.plank }
    for _, c in ipairs(shown) do
      line[#line + 1] = row[c.key] and row[c.key]:to(clothchoice.unit(plan, c)) or ""
    end
    lines[#lines + 1] = json.csv(line)
  end
  for place, r in ipairs(plan.set:rank { wishes = plan.wishes, numbers = plan.front,
    top = #plan.front }) do
    add(place, clothchoice.row(plan.set, r.number, plan.with_plank))
  end
  add("planned", plan.planned)
  return table.concat(lines, "\n") .. "\n"
end

local function plain(plan, row)
  local out = { outside = row.outside, inside = row.inside, plank = row.plank, first = row.first,
    place = row.place_of_wish }
  for _, c in ipairs(clothchoice.columns(plan)) do
    local unit = clothchoice.unit(plan, c)
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

function clothtable.json(plan)
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

clothtable.head, clothtable.cell, clothtable.label = head, cell, label_of
clothtable.layup, clothtable.trials = layup_words, trial_words

return clothtable
