-- SPDX-License-Identifier: GPL-3.0-or-later
-- An invented double sea kayak in an open shed on a hot coast: which hardener, in what, how often?
local rw = require "resinwright"
local fixed = require "resinwright.text".fixed

local hull = rw.hull { length = "6.40 m",
  girth = { unit = "mm", 300, 620, 860, 980, 1040, 990, 850, 600, 280 } }
local air, humidity = rw.q "33 degC", 0.70
local shed = rw.steady { air = air, humidity = humidity,
  from = "2026-06-01 06:00", to = "2026-06-03 06:00" }
local start = "2026-06-01 07:00"

-- A cup of the fast one that went to smoke is a label too, and a better one: its time was read in
-- this shed, of this tin. The slow one was never tried; all there is of it is what the label says.
local hardeners = {
  fast = rw.resin { class = "fast-polyamine", label = {
    pot_life = "11 min", pot_mass = "100 g", pot_temperature = "31 degC" } },
  slow = rw.resin { class = "slow-polyetheramine", label = {
    pot_life = "60 min", pot_mass = "100 g", pot_temperature = "25 degC" } },
}
-- How fast a crew wets out: measured, and not the same every day (a tenth more or less, invented).
local function crew(rate)
  rate = rw.q(rate)
  return { value = rate, sd = 0.1 * rate }
end
local alone, helped = crew "0.045 m2/min", crew "0.08 m2/min"
local cold = rw.q "15 degC"
local tray = { length = "300 mm", width = "200 mm" }
-- A cup is filled no higher than it is wide.
local vessels = {
  { name = "cup", words = "a cup of 70 mm", cup = "70 mm", most = "300 g" },
  { name = "chilled cup", words = "a cup of 70 mm, resin chilled", cup = "70 mm", most = "300 g",
    chilled = cold },
  { name = "tray", words = "the roller tray", tray = tray },
  { name = "chilled tray", words = "the roller tray, resin chilled", tray = tray, chilled = cold },
}

local area = hull:area {}
local dew = rw.dew_point { air = air, humidity = humidity }
local cloth = rw.cloth { fibre = "e-glass", areal_mass = "200 g/m2", weave = "plain" }
local per_area = rw.amounts { area = area, resin = hardeners.slow, layers = { cloth },
  soak = { low = "60 g/m2", high = "180 g/m2" }, cover = { low = "0 mm", high = "0.05 mm" },
  waste = { low = "8 %", high = "20 %" } }.wetout_per_area
local mixing = rw.q "3 min"

local function minutes(t)
  return ("%.0f min"):format(t:to "min")
end

-- The batches of one way of working. The losses hang together, as it is one resin and one crew: a
-- bad day spoils more than one. So the chance that any is lost lies between the worst batch's and
-- what it would be if each were a toss of its own.
local function plan(hardener, vessel, rate)
  local batches, why = rw.batches { resin = hardeners[hardener], hull = shed, start = start,
    area = area.value, resin_per_area = per_area, rate = rate, cup = vessel.cup,
    tray = vessel.tray, chilled = vessel.chilled, most = vessel.most, mixing = mixing,
    share = "60 %" }
  if not batches then
    return nil, why
  end
  local none, worst, heaviest = 1, 0, batches[1].mass
  for _, batch in ipairs(batches) do
    none, worst = none * (1 - batch.lost), math.max(worst, batch.lost)
    heaviest = math.max(batch.mass, heaviest)
  end
  local first = batches[1]
  return { count = #batches, mass = heaviest, least = worst, most = 1 - none,
    seconds = batches[#batches].seconds_spread - first.seconds_mixed,
    good_for = rw.q((first.seconds_latest - first.seconds_mixed) / 60, "min") }
end

local function chance(p)
  if p.most < 0.001 then
    return "below 0.1 %"
  end
  return ("%s to %s %%"):format(fixed(100 * p.least, 1), fixed(100 * p.most, 1))
end

local spread_alone = rw.spreading_time { area = area, rate = alone }
local spread_helped = rw.spreading_time { area = area, rate = helped }
print("All of this is invented: boat, shed and resins.")
print(("One face of the hull is %s; spreading alone takes %s by yourself and %s with a helper.")
  :format(area.value:text(3), minutes(spread_alone.value), minutes(spread_helped.value)))
print(("In air of %s at %.0f %% humidity water condenses on anything colder than %s.")
  :format(air, 100 * humidity, dew:text(3)))

-- Every way for one person; of those that lose a batch in less than one day out of twenty, the
-- one with the fewest batches. Resin colder than the dew point draws water while it is poured.
local best
for _, hardener in ipairs { "fast", "slow" } do
  for _, vessel in ipairs(vessels) do
    local p, why = plan(hardener, vessel, alone)
    if not p then
      print(("The %s hardener in %s cannot be planned: %s."):format(hardener, vessel.words, why))
    else
      local wet = vessel.chilled and vessel.chilled < dew
      print(("The %s hardener in %s: %d batches of up to %s, each good for %s; chance that one is "
        .. "lost %s%s."):format(hardener, vessel.words, p.count, p.mass:text(2),
        minutes(p.good_for), chance(p), wet and "; water condenses on it" or ""))
      if p.most < 0.05 and not wet and (not best or p.count < best.count) then
        best = p
        best.hardener, best.vessel = hardener, vessel
      end
    end
  end
end
-- The interval of the hours is that of the spreading; mixing comes on top.
local function hours(p, spread)
  local extra = p.count * mixing
  return ("%s h (%s to %s)"):format(fixed(p.seconds / 3600, 1),
    fixed((spread.low + extra):to "h", 1), fixed((spread.high + extra):to "h", 1))
end
if best then
  local two = assert(plan(best.hardener, best.vessel, helped))
  print(("Take the %s hardener in %s."):format(best.hardener, best.vessel.words))
  print(("Alone: %d batches of %s, %s; chance that a batch is lost %s.")
    :format(best.count, best.mass:text(2), hours(best, spread_alone), chance(best)))
  print(("With a helper: %d batches of %s, %s; chance that a batch is lost %s.")
    :format(two.count, two.mass:text(2), hours(two, spread_helped), chance(two)))
  print(("Have each batch on the hull %s after mixing; at %s it is too thick or too hot.")
    :format(minutes(0.6 * best.good_for), minutes(best.good_for)))
else
  print "No way is safe enough: wait for a cooler hour, or find a helper."
end
print("The slow one is known from its label only: make a trial cup of 100 g first, outdoors on "
  .. "bare ground, with a long thermometer standing in it and nobody holding it. Trust that more "
  .. "than any of this.")
print("Spread a fresh cup at once. One that grows warm in the hand is no longer for pouring: set "
  .. "it outside on bare ground, well away from people and wood, put no water in it and stay out "
  .. "of its fumes; it can boil, smoke and burn. Gloves on and doors open from first to last.")
print("The maker's data sheet comes before these numbers.")
