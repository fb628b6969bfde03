-- SPDX-License-Identifier: GPL-3.0-or-later
-- A layer of a skin, and what gives way in it, in words for a reader.
local text = require "resinwright.text"

local skinwords = {}

local function degrees(angle)
  return (text.fixed(angle, 1):gsub("%.0$", "")) .. " deg"
end

-- How a layer lies; cloth as it comes off the roll says nothing.
local function lies(layer)
  local angle = layer.angle:to "deg"
  if layer.fibre_share then
    return math.abs(angle) < 0.05 and "" or " at " .. degrees(angle)
  end
  local off_across = math.abs(math.abs(angle) % 180 - 90)
  return off_across > 89.95 and ", grain along" or off_across < 0.05 and ", grain across"
    or ", grain at " .. degrees(angle)
end

--- A layer as rw.laminate's `skins` lists it. `veneer` is its number where the list does not hold
-- it: one sheet of plywood given as plies.
function skinwords.layer(layer, veneer)
  veneer = veneer or layer.veneer
  return layer.name .. (veneer and ", veneer " .. veneer or "") .. lies(layer)
end

--- What gives way, of a failure.
function skinwords.gives_way(f)
  local ply = f.veneer and ("veneer %d of ply %d"):format(f.veneer, f.ply)
    or ("ply %d"):format(f.ply)
  return ("%s, %s face of %s: %s"):format(f.name, f.face, ply, f.mode)
end

return skinwords
