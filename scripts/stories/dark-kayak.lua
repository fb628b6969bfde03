-- SPDX-License-Identifier: GPL-3.0-or-later
-- An invented dark kayak on a roof rack: did its deck soften in the sun, and how is it cured
-- further without harm? All numbers here are made up for the demonstration.
local rw = require "resinwright"

local resin = rw.resin { class = "medium-cycloaliphatic" }
local hottest = rw.q "63 degC" -- read on the deck at noon

-- The shop; the outside was laid three weeks before the drive, the inside ten days.
local drive_day = "2026-07-12 08:00"
local shop = rw.days { days = { { day = "2026-06-21", low = "15 degC", high = "18 degC" },
  { day = "2026-06-22", low = "15 degC", high = "18 degC" } } }
shop = shop:extend { to = drive_day, how = "repeat_day" }
local outside = { hull = shop, from = "2026-06-21 08:00", to = drive_day }
local inside = { hull = shop, from = "2026-07-02 08:00", to = drive_day }

-- The drive: only the noon reading is known, the rest is a guess. It is done twice, since a deck
-- that comes out of the shade warms faster than it cures.
local function drive(shade_until)
  return rw.history { as_read = true, readings = {
    { at = drive_day, air = "18 degC" }, { at = shade_until, air = "20 degC" },
    { at = "2026-07-12 12:00", air = hottest }, { at = "2026-07-12 15:00", air = "55 degC" },
    { at = "2026-07-12 20:00", air = "22 degC" } } }
end
local slow, sudden = drive "2026-07-12 08:30", drive "2026-07-12 11:30"

-- A day of heating: up by 10 K an hour or so, held, down again.
local function day(date, warm, up, down)
  return { at = date .. " 08:00", air = "20 degC" }, { at = date .. " " .. up, air = warm },
    { at = date .. " " .. down, air = warm }, { at = date .. " 23:00", air = "20 degC" }
end
local tent_days = {}
for _, date in ipairs { "2026-07-13", "2026-07-14", "2026-07-15" } do
  for _, reading in ipairs { day(date, "41 degC", "10:00", "15:00") } do
    tent_days[#tent_days + 1] = reading
  end
end
local tent = rw.history { as_read = true, readings = tent_days }
local booth = rw.history { as_read = true,
  readings = { day("2026-07-13", "50 degC", "11:00", "19:00") } }

local function after(hull, earlier)
  return resin:softening { hull = hull, earlier = earlier, draws = 128 }
end
local function in_shop(face)
  return resin:softening { hull = face.hull, from = face.from, to = face.to, draws = 128 }
end
local before, drove, driven = in_shop(outside), after(slow, { outside }), { hull = slow }
print(("Before the drive the glass transition of the outside was %s, of the inside %s.")
  :format(before.glass, in_shop(inside).glass))
print(("After the drive that of the deck was %s."):format(drove.glass))
print(("After three days in the tent it is %s.")
  :format(after(tent, { outside, driven }).glass))
print(("After one day in the booth instead it is %s.")
  :format(after(booth, { outside, driven }).glass))
local shaded_tent, shaded_booth = after(tent, { outside }), after(booth, { outside })
print(("Where the sun did not reach, the tent brings the outside to %s, the booth to %s.")
  :format(shaded_tent.glass, shaded_booth.glass))
print(("Put there as it is, it softens with a chance of %.0f %% in the tent, of %.0f %% in the "
  .. "booth."):format(100 * shaded_tent.chance, 100 * shaded_booth.chance))

-- What the deck did at noon.
local function say(what, s)
  local word = s.chance > 0.8 and "yes" or s.chance < 0.2 and "hardly" or "perhaps"
  print(("Did the deck soften, if it %s? %s, the chance is %.0f %%; at worst, at %s, the deck "
    .. "less its glass transition was %s, above 0 it is soft."):format(what, word,
    100 * s.chance, s.worst_at, s.worst))
end
say("warmed all morning", drove)
say("came out of the shade at 11:30", after(sudden, { outside }))
print(("Soft or not, the drive cured the deck from %.0f to %.0f %%, and resin that cures further "
  .. "shrinks: that too shows the weave."):format(100 * before.cure.value,
  100 * drove.cure.value))

-- The bottom on the cradles and the inside never saw the sun, so the ramp is for the inside as it
-- was before the drive: with the usual distance from the glass transition, and as far below as
-- covers the spread of the class.
local target = hottest + rw.q "10 K"
local function plan(place, kelvin)
  return resin:post_cure { target = target, from = "2026-07-13 08:00", earlier = { inside },
    below = rw.q(kelvin, "K"), place = place, draws = 128 }
end
-- One line a day: "2026-07-13: 20 degC at 08:00, 41 degC at 10:00".
local function print_ramp(ramp)
  local days, last = {}, nil
  for _, setting in ipairs(ramp) do
    local date, hour = setting.at:match "(%S+) (%S+)"
    if date ~= last then
      days[#days + 1], last = {}, date
    end
    table.insert(days[#days], ("%s at %s"):format(setting.temperature:text(3), hour))
    days[#days].date = date
  end
  for _, settings in ipairs(days) do
    print(("  %s: %s"):format(settings.date, table.concat(settings, ", ")))
  end
end
local function tell_ramp(where, p, kelvin, means)
  print(("In the %s, never warmer than %d K below its glass transition, %s, the hull softens on "
    .. "the cradles with a chance of %.0f %%:"):format(where, kelvin, means, 100 * p.chance))
  print_ramp(p.ramp)
  print(("  It ends with a glass transition of %s."):format(p.glass))
  print(p.reached_at
    and ("  It reaches the %s wanted at %s."):format(target:text(3), p.reached_at)
    or "  It does not get there: " .. p.why)
  if p.glass.low < hottest then
    print(("  But it may be as low as %s, less than the deck had at noon: go on for longer, or "
      .. "have it measured."):format(p.glass.low:text(2)))
  end
end
local function tell(where, place)
  local kelvin, p = 5, plan(place, 5)
  tell_ramp(where, p, kelvin, "as is usual")
  while p.chance > 0.05 and kelvin < 40 do
    kelvin = kelvin + 5
    p = plan(place, kelvin)
  end
  if kelvin > 5 then
    tell_ramp(where, p, kelvin, "as for a resin nobody has measured")
  end
end
tell("tent", { most = "41 degC", span = "5 h", sessions = 3, rest = "20 degC",
  heating = "10 K/h", step = "1 h" })
tell("booth", { most = "50 degC", span = "11 h", rest = "20 degC", heating = "10 K/h",
  step = "1 h" })

print("Varnish after it: warmth shrinks the resin and lifts the weave, which is then sanded and "
  .. "filled; varnish laid before would print too, and may blister.")
print("Not known: the glass transition of this very resin (a measured one overrules all of this), "
  .. "how fast the deck warmed, how warm the parts in the shade were. Where the chance is not "
  .. "small, carry the whole hull in a full-length bed, not on two cradles.")
print("Spread the load over wide, padded cradles, read the hull and not the air, and stay with "
  .. "the heat. Never a flame or a heat gun. The maker's data sheet comes before these numbers.")
