-- SPDX-License-Identifier: GPL-3.0-or-later
-- An invented strip hull, sheathed outside in a dry shop in winter, off its moulds and bare inside
-- when the thaw comes: how far does it open, and how fast must the inside be sealed? All numbers
-- here are made up for the demonstration.
local rw = require "resinwright"

local shop = { temperature = "18 degC", humidity = "50 %" }
local thaw = { temperature = "12 degC", humidity = "65 %" }
local girth, radius = "1.20 m", "0.38 m"
local thickness = "6 mm"

local glass = { cloth = rw.cloth { name = "glass-203-plain" } }
local dry, wet = rw.wood_moisture(shop), rw.wood_moisture(thaw)
print((("the wood stood at %.1f %% and goes to %.1f %% in the end"):format(100 * dry, 100 * wet)
  :gsub(",", ".")))

local function opening(plies, when, rise, profile)
  local d = rw.sealed_plank { laminate = rw.laminate { plies = plies }, open = rise,
    girth = girth, radius = radius, profile = profile }
  print(("%s: the sheers move by %s; a flat plank of that width bows by %s"):format(when,
    d.opens, d.bow))
  for _, w in ipairs(d.warnings) do
    print("  " .. w)
  end
  return d
end

local rise = wet - dry
local strips = { wood = "western-redcedar", thickness = thickness }
opening({ glass, strips }, "the first damp day, only the face of the wood", rise / 3, 6)
opening({ glass, strips }, "after some days, a parabola", rise, 2)
opening({ glass, { wood = "western-redcedar", thickness = thickness, cut = "quarter" } },
  "the same with strips sawn on the quarter", rise, 2)

-- Both faces sheathed: little gets through, and through both.
local both = rw.sealed_plank { laminate = rw.laminate { plies = { glass, strips, glass } },
  open = rise / 10, sealed = rise / 20, girth = girth, radius = radius }
print(("sheathed on both faces, a tenth of it through the inside, a twentieth through the "
  .. "outside: %s"):format(both.opens))
print "Forces of moulds, thwarts and gunwales are left out, and what wood creeps over weeks: real"
print "openings are rather smaller. Keep it on its moulds, or seal the inside the same week."
