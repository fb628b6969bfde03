#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: GPL-3.0-or-later
-- Compares cloths for strength against weight on the layup of a boat folder: the same wood, the
-- same faces, one cloth after the other. All numbers come from the library.
local rw = require "resinwright"
local boats = require "resinwright.boat"
local chart = require "resinwright.chart"
local json = require "resinwright.json"
local options = require "resinwright.options"

local spec = {
  script = "compare-cloths",
  about = "Compares cloths on a boat's own layup: weight, stiffness, strength by face, resin.",
  arguments = { { name = "FOLDER", doc = "boat folder, with boat.lua" } },
  options = {
    { name = "cloths", value = "names",
      fallback = "glass-110-plain-tight,glass-136-plain,glass-203-plain,glass-280-twill,"
        .. "s-glass-190-plain,carbon-200-plain,aramid-170-plain",
      doc = "cloths to compare, by name, with commas between" },
    { name = "face", value = "both|outside|inside", fallback = "both",
      doc = "face on which the cloth is exchanged" },
    { name = "units", value = "metric|us", fallback = "metric", doc = "units to read" },
    { name = "svg", value = "file", doc = "draw strength against weight into that file" },
    { name = "json", doc = "print JSON instead" },
    { name = "csv", doc = "print a comma-separated table instead" },
    { name = "list", doc = "list the cloths there are" },
  },
  more = "Strength: bending moment per width at which the first ply gives way when the boat is\n"
    .. "hit from outside (inner skin in tension), each stress against its own strength. For\n"
    .. "comparing only, not an approval: scantling rules, survey and licensed practice decide.",
}

local function list_cloths()
  for _, m in ipairs(rw.materials { kind = "cloth" }) do
    if not m.name:find "^default" then
      print(("%-24s %s"):format(m.name, m.title))
    end
  end
end

-- The boat's faces with one cloth in place of every layer of the faces exchanged.
local function exchanged(b, name, face)
  local new = setmetatable({}, { __index = b })
  for _, key in ipairs { "outside", "inside" } do
    if b[key] and (face == "both" or face == key) then
      local layers = {}
      for i = 1, #b[key].layers do
        layers[i] = rw.cloth { name = name }
      end
      new[key] = setmetatable({ layers = layers }, { __index = b[key] })
    end
  end
  return new
end

-- Moment per width at first failure for a bending moment of 1 N along or across.
local function strength(lam, axis, among)
  local f = lam:first_failure { [axis] = "1 N", criterion = "max_stress", among = among }
  return rw.q(f.factor, "N"), ("%s %s"):format(f.name, f.mode)
end

local function compare(b, name, face)
  local lam = boats.laminate(exchanged(b, name, face))
  local cloth = rw.cloth { name = name }
  local along, along_first = strength(lam, "Mx")
  local across, across_first = strength(lam, "My")
  local skin, skin_first = strength(lam, "My", "cloth")
  return { name = name, areal_mass = lam.areal_mass, thickness = lam.thickness,
    stiff_along = lam.bend_along, stiff_across = lam.bend_across,
    strong_along = along, strong_across = across,
    first_along = along_first, first_across = across_first,
    strong_skin = skin, first_skin = skin_first,
    resin = cloth:resin {}, per_mass = skin / lam.areal_mass }
end

-- Marks what no other cloth beats in both weight and strength.
local function mark_frontier(rows)
  for _, r in ipairs(rows) do
    r.frontier = true
    for _, other in ipairs(rows) do
      local lighter = other.areal_mass <= r.areal_mass
      local stronger = other.strong_skin >= r.strong_skin
      local better = other.areal_mass < r.areal_mass or other.strong_skin > r.strong_skin
      if lighter and stronger and better then
        r.frontier = false
      end
    end
  end
end

local columns = {
  { key = "areal_mass", title = "mass" },
  { key = "thickness", title = "thick" },
  { key = "resin", title = "resin" },
  { key = "stiff_along", title = "stiff", under = "along", unit = "N m" },
  { key = "stiff_across", title = "stiff", under = "across", unit = "N m" },
  { key = "strong_along", title = "strong", under = "along", unit = "N" },
  { key = "strong_across", title = "strong", under = "across", unit = "N" },
  { key = "strong_skin", title = "skin holds", under = "across", unit = "N" },
  { key = "per_mass", title = "skin holds", under = "per mass", unit = "N m2/kg" },
}

local function middle(value)
  return rw.kind(value) == "range" and value.value or value
end

local function cell(row, column)
  local value = middle(row[column.key])
  return column.unit and ("%.4g"):format(value:to(column.unit)):gsub(",", ".") or value:text(3)
end

local function print_row(name, read)
  local line = { ("%-24s"):format(name) }
  for _, c in ipairs(columns) do
    line[#line + 1] = ("%12s"):format(read(c))
  end
  print((table.concat(line):gsub("%s+$", "")))
end

local function print_table(rows)
  for _, key in ipairs { "title", "under", "unit" } do
    print_row(key == "title" and "cloth" or "", function(c)
      return c[key] or ""
    end)
  end
  for _, r in ipairs(rows) do
    print_row((r.frontier and "* " or "  ") .. r.name, function(c)
      return cell(r, c)
    end)
  end
  print("\n* no other cloth here is both lighter and has skins that hold more.")
  print("What gives way first, along, across, and of the skins alone:")
  for _, r in ipairs(rows) do
    print(("  %s\n    %s\n    %s\n    %s"):format(r.name, r.first_along, r.first_across,
      r.first_skin))
  end
  print("\nmass: wood and cloth in resin, without fill coats. resin: in one layer of the cloth.")
  print("strong: bending moment per width at the first damage to anything, skin holds: to a skin,")
  print("both with the inner skin in tension, as when the boat is hit from outside. For comparing")
  print("only, not an approval: scantling rules, survey and licensed practice decide.")
end

local function plain(rows)
  local out = {}
  for i, r in ipairs(rows) do
    local t = { cloth = r.name, frontier = r.frontier, first_along = r.first_along,
      first_across = r.first_across, first_skin = r.first_skin }
    for _, c in ipairs(columns) do
      local value = middle(r[c.key])
      local unit = c.unit or value:unit()
      t[c.key] = { value = value:to(unit), unit = unit }
    end
    out[i] = t
  end
  return out
end

local function print_csv(rows)
  local head = { "cloth" }
  for _, c in ipairs(columns) do
    head[#head + 1] = ("%s [%s]"):format(c.key, c.unit or middle(rows[1][c.key]):unit())
  end
  print(json.csv(head))
  for _, r in ipairs(rows) do
    local line = { r.name }
    for _, c in ipairs(columns) do
      local first = middle(rows[1][c.key])
      line[#line + 1] = middle(r[c.key]):to(c.unit or first:unit())
    end
    print(json.csv(line))
  end
end

local function draw(rows, b)
  local points = {}
  local unit = rows[1].areal_mass:unit()
  for i, r in ipairs(rows) do
    points[i] = { label = r.name, x = r.areal_mass:to(unit), y = r.strong_skin:to "N",
      frontier = r.frontier }
  end
  return chart.scatter { id = "cloths", points = points,
    title = ("%s: strength against weight"):format(b.name),
    x_label = ("wood and cloth, %s"):format(unit),
    y_label = "bending across that the skins hold, per width, N" }
end

options.run(spec.script, function()
  for _, word in ipairs(arg) do
    if word == "--list" then
      return list_cloths()
    end
  end
  local o = options.read(spec)
  rw.reader(o.units)
  local b = boats.read(o.FOLDER)
  if o.face == "inside" and not b.inside then
    error({ message = b.file .. ": there is no inside skin to exchange",
      hint = "Describe one: inside = { layers = { ... } }." })
  end
  local rows = {}
  for name in o.cloths:gmatch "[^,%s]+" do
    rows[#rows + 1] = compare(b, name, o.face)
  end
  if #rows == 0 then
    error({ message = "no cloths to compare", hint = "Name some: --cloths a,b or --list." })
  end
  table.sort(rows, function(x, y)
    return x.areal_mass < y.areal_mass
  end)
  mark_frontier(rows)
  if o.svg then
    options.save(o.svg, chart.standalone(draw(rows, b)), "svg")
  end
  if o.json then
    print(json.encode(json.array(plain(rows))))
  elseif o.csv then
    print_csv(rows)
  else
    print_table(rows)
  end
end)
