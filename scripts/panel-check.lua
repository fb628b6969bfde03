#!/usr/bin/env lua5.4
-- SPDX-License-Identifier: GPL-3.0-or-later
-- Does a panel flex, and what gives way first under a heel? A panel of a boat folder's skin or of
-- plies on the command line. All numbers come from the library; this script chooses and prints.
local rw = require "resinwright"
local boats = require "resinwright.boat"
local options = require "resinwright.options"
local panelcheck = require "resinwright.panelcheck"
local refusal = require "resinwright.refusal"

local spec = {
  script = "panel-check",
  about = "Bends a flat panel under a heel and under the same load spread out: deflection,\n"
    .. "strain of both faces, what gives way first.",
  arguments = { { name = "FOLDER", optional = true,
    doc = "boat folder, with boat.lua; or --plies" } },
  options = {
    { name = "plies", value = "list",
      doc = "plies from outside to inside, with commas between: cloths, woods and\n"
        .. (" "):rep(25) .. "their thickness, @ an angle: \"okoume 6 mm, glass-136-plain\n"
        .. (" "):rep(25) .. "@ 45 deg\"" },
    { name = "length", value = "length", doc = "of the panel along the hull (needed)" },
    { name = "width", value = "length", doc = "of the panel across (needed)" },
    { name = "load", value = "mass or force", fallback = "80 kg", doc = "who steps on it" },
    { name = "from", value = "inside|outside", fallback = "inside",
      doc = "which side pushes: a heel inside, a rock or a trestle outside" },
    { name = "heel", value = "length", fallback = "60 mm", doc = "diameter of the heel" },
    { name = "spread", value = "length", fallback = "300 mm",
      doc = "side of the square over which the load is spread" },
    { name = "criterion", value = "max_stress|tsai_wu|max_strain|tsai_hill",
      fallback = "max_stress", doc = "of first damage" },
    { name = "units", value = "metric|us", fallback = "metric", doc = "units to read" },
    { name = "page", value = "file", doc = "write a page to print into that file" },
    { name = "json", doc = "print JSON instead" },
    { name = "csv", doc = "print a comma-separated table instead" },
  },
  more = "For comparison and shop planning only, not an approval; scantling rules, survey and\n"
    .. "licensed practice decide; wood scatter is real.",
}

local function names_of(kind, list)
  for _, m in ipairs(rw.materials { kind = kind }) do
    list[#list + 1] = m.name
  end
  return list
end

local function is_in(list, name)
  for _, known in ipairs(list) do
    if known == name then
      return true
    end
  end
  return false
end

-- "okoume 6 mm @ 90 deg": a wood where a thickness is said, else a cloth.
local function read_ply(words)
  local what, angle = words:match "^(.-)%s*@%s*(.+)$"
  what = what or words
  local name, thickness = what:match "^(%S+)%s+(%S.*)$"
  if name then
    return { wood = name, thickness = thickness, angle = angle }
  end
  local woods = names_of("wood", {})
  if is_in(woods, what) then
    error({ message = ("--plies: %s has no thickness"):format(what),
      hint = ("Write such as \"%s 6 mm\"."):format(what) })
  elseif not is_in(names_of("cloth", {}), what) then
    local near = rw.nearest { word = what, known = names_of("cloth", woods) }
    error({ message = ("--plies: no cloth is called \"%s\", and a wood needs its thickness")
      :format(what), hint = near and ("Did you mean \"%s\"?"):format(near)
      or "scripts/compare-cloths.lua --list names the cloths." })
  end
  return { cloth = rw.cloth { name = what }, angle = angle }
end

local function read_plies(words)
  local plies = {}
  for i, item in ipairs(options.items(words)) do
    plies[i] = read_ply(item)
  end
  if #plies == 0 then
    error({ message = "--plies is empty",
      hint = "Write such as --plies \"glass-203-plain, okoume 6 mm, glass-203-plain\"." })
  end
  return plies
end

local said = { ["^plies%[(%d+)%]%.?"] = "--plies: ply %1, ", ["^patch%.load"] = "--load",
  ["^patch%.diameter"] = "--heel", ["^patch%.size"] = "--spread", ["^length"] = "--length",
  ["^width"] = "--width", ["^name "] = "--plies " }

-- Calls, and tells a refusal in the words of the command line.
local function asked(call, ...)
  return refusal.reworded(function(message, hint)
    for pattern, words in pairs(said) do
      message = message:gsub(pattern, words)
    end
    return message, hint
  end, call, ...)
end

local function need(o, name, example)
  if not o[name] then
    error({ message = ("--%s is missing"):format(name),
      hint = ("Say how large the panel is: --%s \"%s\"."):format(name, example) })
  end
  return o[name]
end

-- A quantity of an option, told in its words where it is none.
local function quantity(o, name)
  local fine, q = pcall(rw.q, o[name])
  if not fine then
    error({ message = ("--%s: %s"):format(name, q.message), hint = q.hint }, 0)
  end
  return q
end

local function read_skin(o)
  if (o.FOLDER ~= nil) == (o.plies ~= nil) then
    error({ message = "give a boat folder or --plies, and not both",
      hint = "Write panel-check.lua FOLDER, or --plies \"glass-203-plain, okoume 6 mm\"." })
  end
  if o.FOLDER then
    local b = boats.read(o.FOLDER)
    return boats.laminate(b), b.name, b.note
  end
  return asked(function()
    return rw.laminate { plies = read_plies(o.plies) }
  end), "Plies of the command line"
end

options.run(spec.script, function()
  local o = options.read(spec)
  rw.reader(o.units)
  need(o, "length", "0.9 m")
  need(o, "width", "0.6 m")
  for _, name in ipairs { "length", "width", "load", "heel", "spread" } do
    quantity(o, name)
  end
  local skin, name, note = read_skin(o)
  local plan = asked(panelcheck.make, { name = name, note = note, laminate = skin,
    length = o.length, width = o.width, load = o.load, from = o.from, heel = o.heel,
    spread = o.spread, criterion = o.criterion })
  if o.page then
    options.save(o.page, panelcheck.page(plan), "page")
  end
  if o.json then
    io.stdout:write(panelcheck.json(plan), "\n")
  elseif o.csv then
    io.stdout:write(panelcheck.csv(plan))
  else
    io.stdout:write(panelcheck.text(plan))
  end
end)
