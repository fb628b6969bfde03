-- SPDX-License-Identifier: GPL-3.0-or-later
-- An invented strip canoe, sanded too far in places: what is left, and which cloth brings it back?
-- All numbers here are made up for the demonstration.
local rw = require "resinwright"

local wood, planned, limit = "western-redcedar", "6 mm", "80 %"
local glass = { cloth = rw.cloth { name = "glass-203-plain" } }

-- Thickness of the strips at four stations, from the sheer to the keel, as the gauge reads it.
local map = {
  { at = "station 2", unit = "mm", 5.9, 5.7, 5.4, 5.6 },
  { at = "station 4", unit = "mm", 5.8, 5.5, 4.9, 5.5 },
  { at = "station 6", unit = "mm", 5.8, 5.2, 4.4, 5.3 },
  { at = "station 8", unit = "mm", 5.9, 5.8, 5.5, 5.7 },
}
local heights = { "at the sheer", "on the side", "at the turn of the bilge", "beside the keel" }

local skin = rw.laminate { plies = { glass, { wood = wood, thickness = planned }, glass } }
local readings, places = {}, {}
for _, row in ipairs(map) do
  for i, reading in ipairs(row) do
    readings[#readings + 1] = rw.q(reading, row.unit)
    places[#places + 1] = row.at .. " " .. heights[i]
  end
end

local function per_cent(share)
  return ("%.0f %%"):format(100 * share)
end

local left = skin:faired { ply = 2, thickness = readings, limit = limit }
print(("%d readings, %d of them leave less than %s of the planned bending stiffness"):format(
  #readings, left.below, limit))
print(("worst: %s, %s left along and %s across"):format(places[left.worst], per_cent(left.along),
  per_cent(left.across)))
print(("the strips must keep %s for %s"):format(left.needed:text(3), limit))
for i, place in ipairs(places) do
  local one = skin:faired { ply = 2, thickness = { readings[i] }, limit = limit }
  if one.below > 0 then
    print(("  %s: %s, %s along, %s across"):format(place, readings[i]:text(2),
      per_cent(one.along), per_cent(one.across)))
  end
end

-- Cloth inside over the worst place; strips bend mostly across, where the wood is weak.
local thin = rw.laminate { plies = { glass, { wood = wood, thickness = readings[left.worst] },
  glass } }
for _, name in ipairs { "glass-136-plain", "glass-203-plain", "carbon-200-plain" } do
  local layer = rw.laminate { plies = { { cloth = rw.cloth { name = name } } } }
  local r = rw.patch { sound = skin, left = thin, face = "inner", share = 0.8, layer = layer }
  print(("%s inside: %s layers for %s of the stiffness, %s for that of the strength; each %s")
    :format(name, r.for_stiffness or "more than 12", limit, r.for_strength or "more than 12",
    layer.areal_mass:text(2)))
end
print "Comparison and shop planning only, not an approval: a thin place beside sound ones is a"
print "hard spot's neighbour; taper what is laid on. Scantling rules, survey and licensed practice"
print "decide. Mask and gloves when it is sanded again."
